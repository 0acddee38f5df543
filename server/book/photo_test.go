package book

import (
	"context"
	"slices"
	"strings"
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/memory"
)

// photoNamed is an invented photo's name.
func photoNamed(letter string) string { return strings.Repeat(letter, 64) }

func ofPhotos(in *pb.Inspection, letters ...string) *pb.Inspection {
	for _, l := range letters {
		in.PhotoSha256 = append(in.PhotoSha256, photoNamed(l))
	}
	return in
}

// arrives records that photos are kept.
func (d *desk) arrives(letters ...string) {
	d.t.Helper()
	for _, l := range letters {
		erased, err := d.RecordPhoto(context.Background(), shop, photoNamed(l), 1000, &pb.KeptPhoto{Sha256: photoNamed("0"), TotalBytes: 900, MediaType: "image/png", LocationRemoved: true})
		if err != nil || erased {
			d.t.Fatalf("%v, %v", erased, err)
		}
	}
}

// kept are the letters of the photos that are kept.
func (d *desk) kept() (letters string) {
	d.t.Helper()
	err := d.EachPhoto(context.Background(), shop, func(name string, p Photo) error {
		if p.Kept.GetTotalBytes() != 900 || !p.Kept.GetLocationRemoved() || p.Sent != 1000 {
			d.t.Errorf("%s: %+v", name, p)
		}
		letters += name[:1]
		return nil
	})
	if err != nil {
		d.t.Fatal(err)
	}
	return letters
}

func (d *desk) erase(v *pb.Vehicle) Erased {
	d.t.Helper()
	out, err := d.EraseCustomer(context.Background(), shop, &pb.EraseCustomerRequest{Id: newID(), VehicleId: v.GetId(), RequestedBy: "customer"})
	if err != nil {
		d.t.Fatal(err)
	}
	return out
}

// The photos of a customer's vehicle go with what identifies the customer, of both records
// where two vehicles were found to be one, but not one that a third names. What is left is a
// book that is as it should be.
func TestPhotosOfACustomer(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		a, b, c := d.keepVehicle(tagged("a")), d.keepVehicle(tagged("b")), d.keepVehicle(tagged("c"))
		d.arrives("1", "2")
		old := ofPhotos(newVisit(a), "1", "2")
		d.keep(old)
		d.keep(ofPhotos(correcting(old, newVisit(a)), "2", "3"))
		d.keep(ofPhotos(newVisit(b), "4"))
		d.keep(ofPhotos(newVisit(c), "3", "5"))
		d.arrives("3", "4", "5", "1", "9")
		if _, err := d.MergeVehicles(t.Context(), shop, merge(a, b)); err != nil {
			t.Fatal(err)
		}
		if kept := d.kept(); kept != "123459" {
			t.Errorf("kept %s", kept)
		}
		out := d.erase(b)
		if want := []string{photoNamed("1"), photoNamed("2"), photoNamed("4")}; !slices.Equal(out.Files, want) || out.Photos != 3 {
			t.Errorf("%+v", out)
		}
		if again := d.erase(a); again.Photos != 0 || len(again.Files) != 0 {
			t.Errorf("%+v", again)
		}
		if kept := d.kept(); kept != "359" {
			t.Errorf("kept %s", kept)
		}
		if erased, err := d.RecordPhoto(t.Context(), shop, photoNamed("1"), 1, &pb.KeptPhoto{}); err != nil || !erased {
			t.Errorf("%v, %v", erased, err)
		}
		d.keep(ofPhotos(newVisit(c), "1"))
		d.arrives("1")
		if is, err := d.Photo(t.Context(), shop, photoNamed("1")); err != nil || is.Kept == nil {
			t.Errorf("%+v, %v", is, err)
		}
		if failures, _ := verified(t, d.Book, false); len(failures) > 0 {
			t.Errorf("%q", failures)
		}
	})
}

// meanwhile is a store that does something else before the next commit.
type meanwhile struct {
	history.Store
	first func()
}

func (m *meanwhile) Commit(ctx context.Context, d history.Draft) (history.Number, error) {
	if first := m.first; first != nil {
		m.first = nil
		first()
	}
	return m.Store.Commit(ctx, d)
}

// A visit that names a photo while its customer is erased: whichever is stored first, a
// photo that another vehicle's visit names stays, and one that is named after it was erased
// may come again.
func TestAPhotoIsNamedWhileItIsErased(t *testing.T) {
	store := &meanwhile{Store: memory.New()}
	d := newDesk(t, store, nil)
	a, b := d.keepVehicle(tagged("a")), d.keepVehicle(tagged("b"))
	d.keep(ofPhotos(newVisit(a), "1", "2"))
	d.arrives("1", "2")
	store.first = func() { d.keep(ofPhotos(newVisit(b), "1")) }
	if out := d.erase(a); !slices.Equal(out.Files, []string{photoNamed("2")}) {
		t.Errorf("%+v", out)
	}
	if kept := d.kept(); kept != "1" {
		t.Errorf("kept %s", kept)
	}
	store.first = func() { d.erase(a) }
	d.keep(ofPhotos(newVisit(b), "2"))
	d.arrives("2")
	if kept := d.kept(); kept != "12" {
		t.Errorf("kept %s", kept)
	}
	store.first = func() { d.arrives("3") }
	d.arrives("3")
	if kept := d.kept(); kept != "123" {
		t.Errorf("kept %s", kept)
	}
}
