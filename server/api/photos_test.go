package api

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"image"
	"image/color"
	"image/jpeg"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/memory"
	"gaugebook.dev/server/photos"
)

// aPlace are EXIF data that tell where a picture was taken (CIPA DC-008): one entry, the
// directory of a position.
const aPlace = "\xff\xe1\x00\x22Exif\x00\x00MM\x00*\x00\x00\x00\x08\x00\x01\x88\x25\x00\x04\x00\x00\x00\x01\x00\x00\x00\x1a\x00\x00\x00\x00"

// aPhoto is an invented photo as a phone sends it, with where it was taken; of a seed, so
// that no two are alike.
func aPhoto(t *testing.T, seed uint8) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 500, 400))
	for i := range img.Pix {
		img.Pix[i] = uint8(i*i>>3) ^ seed
	}
	img.SetGray(0, 0, color.Gray{seed})
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	return append(append(bytes.Clone(b.Bytes()[:2]), aPlace...), b.Bytes()[2:]...)
}

func nameOf(photo []byte) string {
	sum := sha256.Sum256(photo)
	return hex.EncodeToString(sum[:])
}

func (h *house) put(name string, total, offset int, data []byte) (*pb.PutPhotoResponse, error) {
	return pb.NewPhotoServiceClient(h.conn).PutPhoto(h.bench(), &pb.PutPhotoRequest{
		ShopId: shop, Sha256: name, TotalBytes: int32(total), OffsetBytes: int32(offset), Data: data,
	})
}

// sends sends a photo as a phone does: each piece begins where the answer says.
func (h *house) sends(photo []byte, piece int) *pb.PutPhotoResponse {
	h.t.Helper()
	for at := 0; ; {
		out, err := h.put(nameOf(photo), len(photo), at, photo[at:min(len(photo), at+piece)])
		if err != nil {
			h.t.Fatal(err)
		}
		if out.GetComplete() {
			return out
		}
		at = int(out.GetReceivedBytes())
	}
}

// gets reads a photo in pieces; nil where it is not there.
func (h *house) gets(name string) (photo []byte, last *pb.GetPhotoResponse) {
	h.t.Helper()
	for {
		out, err := pb.NewPhotoServiceClient(h.conn).GetPhoto(h.counter(), &pb.GetPhotoRequest{ShopId: shop, Sha256: name, OffsetBytes: int32(len(photo))})
		if err != nil {
			if r := read(h.t, err); r.reason != "NOT_FOUND" {
				h.t.Fatal(err)
			}
			return nil, nil
		}
		if len(out.GetData()) == 0 {
			return photo, last
		}
		photo, last = append(photo, out.GetData()...), out
	}
}

// A photo in pieces, again and resumed: kept once, without where it was taken, and said so;
// the feed tells it once.
func TestPhotoInPieces(t *testing.T) {
	h, photo := inMemory(t), aPhoto(t, 1)
	name := nameOf(photo)
	if got, _ := h.gets(name); got != nil {
		t.Fatal("it is there before it came")
	}
	for _, row := range []struct{ from, to, want int }{{0, 0, 0}, {0, 1000, 1000}, {0, 1000, 1000}, {500, 1500, 1500}, {9000, 9500, 1500}, {0, 0, 1500}} {
		out, err := h.put(name, len(photo), row.from, photo[row.from:row.to])
		if err != nil || int(out.GetReceivedBytes()) != row.want || out.GetComplete() || out.GetKept() != nil {
			t.Fatalf("%v: %v, %v", row, out, err)
		}
	}
	first := h.sends(photo, 5000)
	kept := first.GetKept()
	if !kept.GetLocationRemoved() || !kept.GetMetadataRemoved() || kept.GetMediaType() != "image/jpeg" || int(first.GetReceivedBytes()) != len(photo) {
		t.Errorf("%v", first)
	}
	clean, _, err := photos.Clean(photo)
	if err != nil {
		t.Fatal(err)
	}
	got, told := h.gets(name)
	if !bytes.Equal(got, clean) || nameOf(got) != kept.GetSha256() || told.GetKeptSha256() != kept.GetSha256() || told.GetMediaType() != "image/jpeg" || int(told.GetTotalBytes()) != len(clean) {
		t.Errorf("%d bytes, %v", len(got), kept)
	}
	if bytes.Contains(got, []byte("Exif")) {
		t.Error("where it was taken is kept")
	}
	for _, data := range [][]byte{nil, photo[:100], photo} {
		again, err := h.put(name, len(photo), 0, data)
		if err != nil || again.GetKept().GetSha256() != kept.GetSha256() || !again.GetComplete() {
			t.Errorf("again: %v, %v", again, err)
		}
	}
	pulled, err := pb.NewCounterServiceClient(h.conn).PullChanges(h.counter(), &pb.PullChangesRequest{ShopId: shop})
	if err != nil || len(pulled.GetChanges()) != 1 || pulled.GetChanges()[0].GetPhoto().GetSha256() != name {
		t.Errorf("%v, %v", pulled, err)
	}
}

// A large photo goes in pieces of a megabyte, both ways.
func TestLargePhoto(t *testing.T) {
	h := inMemory(t)
	photo := aPhoto(t, 2)
	frame := bytes.Index(photo, []byte("\xff\xdb"))
	profile := append([]byte("\xff\xe2\xff\xffICC_PROFILE\x00"), bytes.Repeat([]byte{7}, 0xffff-2-12)...)
	big := bytes.Clone(photo[:frame])
	for range 50 {
		big = append(big, profile...)
	}
	big = append(big, photo[frame:]...)
	out := h.sends(big, photos.MaxPiece)
	if got, _ := h.gets(nameOf(big)); len(got) < 3<<20 || nameOf(got) != out.GetKept().GetSha256() {
		t.Errorf("%d bytes, %v", len(got), out)
	}
}

// What is no photo, or not the one that was named, is refused with what is wrong, and
// leaves nothing.
func TestPhotosRefused(t *testing.T) {
	h, photo := inMemory(t), aPhoto(t, 3)
	name, other := nameOf(photo), aPhoto(t, 4)
	bomb := bytes.Clone(photo)
	copy(bomb[bytes.Index(bomb, []byte("\xff\xc0"))+5:], "\xff\xff\xff\xff")
	page := []byte("<!doctype html><script>alert(1)</script>")
	for _, row := range []struct {
		what          string
		name          string
		total, offset int
		data          []byte
		paths         string
	}{
		{"no name", "", 10, 0, nil, "sha256"},
		{"a name in capitals", strings.ToUpper(name), 10, 0, nil, "sha256"},
		{"a way out of the folder", "../../../../etc/passwd", 10, 0, nil, "sha256"},
		{"100 MB", name, 100_000_000, 0, photo[:1000], "totalBytes"},
		{"one byte too large", name, photos.MaxBytes + 1, 0, photo[:1000], "totalBytes"},
		{"no size", name, 0, 0, nil, "totalBytes"},
		{"less than nothing", name, -1, -1, nil, "totalBytes"},
		{"before its beginning", name, len(photo), -1, nil, "offsetBytes"},
		{"behind its end", name, 1000, 1001, nil, "offsetBytes"},
		{"over its end", name, 1000, 500, photo[:501], "data"},
		{"a piece too large", name, photos.MaxBytes, 0, make([]byte, photos.MaxPiece+1), "data"},
		{"nothing of it right", "x", 1000, -5, make([]byte, photos.MaxPiece+1), "sha256 offsetBytes data"},
		{"a wrong hash", name, len(other), 0, other, "sha256"},
		{"a page", nameOf(page), len(page), 0, page, "data"},
		{"the beginning of a page", name, len(photo), 0, page, "data"},
		{"cut short", nameOf(photo[:5000]), 5000, 0, photo[:5000], "data"},
		{"cut short and named as whole", name, 5000, 0, photo[:5000], "sha256"},
		{"65,535 by 65,535 pixels", nameOf(bomb), len(bomb), 0, bomb, "data"},
	} {
		_, err := h.put(row.name, row.total, row.offset, row.data)
		if r := read(t, err); r.reason != "FIELD_INVALID" || strings.Join(r.paths, " ") != row.paths || r.metadata["remedy"] != "MEND_FIRST" {
			t.Errorf("%s: %v at %v: %v", row.what, r.reason, r.paths, err)
		}
		if out, err := h.put(name, len(photo), 0, nil); err != nil || out.GetReceivedBytes() != 0 {
			t.Errorf("%s: left %v, %v", row.what, out, err)
		}
	}
	if h.drafts() != 0 {
		t.Errorf("%d drafts", h.drafts())
	}
	h.sends(photo, 1<<20)
	_, err := pb.NewPhotoServiceClient(h.conn).GetPhoto(h.bench(), &pb.GetPhotoRequest{ShopId: shop, Sha256: name[1:], OffsetBytes: -1})
	refused(t, err, "sha256", "offsetBytes")
}

// A file that is a photo and an archive, a page or a script as well is kept as a photo
// alone.
func TestPolyglot(t *testing.T) {
	h, photo := inMemory(t), aPhoto(t, 5)
	comment := "\xff\xfe\x00\x1b<script>alert(1)</script>"
	both := append(append(bytes.Clone(photo[:2]), comment...), photo[2:]...)
	both = append(both, "PK\x03\x04 an archive PK\x05\x06"...)
	kept := h.sends(both, 4096).GetKept()
	got, _ := h.gets(nameOf(both))
	if bytes.Contains(got, []byte("script")) || bytes.Contains(got, []byte("an archive")) || !kept.GetMetadataRemoved() {
		t.Errorf("%v", kept)
	}
	if plain := h.sends(photo, 4096).GetKept(); plain.GetSha256() != kept.GetSha256() {
		t.Error("the picture is another")
	}
}

// Two phones send the same photo at the same time, whatever the pieces.
func TestTwoAtOnce(t *testing.T) {
	h, photo := inMemory(t), aPhoto(t, 6)
	var phones sync.WaitGroup
	for i := range 4 {
		phones.Go(func() {
			for at := 0; ; {
				out, err := h.put(nameOf(photo), len(photo), at, photo[at:min(len(photo), at+3000+1000*i)])
				if err != nil {
					t.Error(err)
					return
				}
				if out.GetComplete() {
					return
				}
				at = int(out.GetReceivedBytes())
			}
		})
	}
	phones.Wait()
	if got, last := h.gets(nameOf(photo)); nameOf(got) != last.GetKeptSha256() || h.drafts() != 1 {
		t.Errorf("%d bytes, %d drafts", len(got), h.drafts())
	}
}

// photographed is a visit that names photos: of the vehicle, and of what was observed.
func photographed(of *pb.Vehicle, ofVehicle, ofWheel []byte) *pb.Inspection {
	in := visit(of)
	in.Id = uuid.NewString()
	in.PhotoSha256 = []string{nameOf(ofVehicle)}
	in.Wheels[0].Observations = append(in.Wheels[0].Observations, &pb.Observation{Kind: pb.ObservationKind_OBSERVATION_KIND_BULGE, PhotoSha256: []string{nameOf(ofWheel)}})
	return in
}

func (h *house) erases(of *pb.Vehicle, id string) *pb.EraseCustomerResponse {
	h.t.Helper()
	out, err := pb.NewShopServiceClient(h.conn).EraseCustomer(h.counter(), &pb.EraseCustomerRequest{ShopId: shop, Id: id, VehicleId: of.GetId(), RequestedBy: "customer, by letter"})
	if err != nil {
		h.t.Fatal(err)
	}
	return out
}

// files are the names of all files of photos.
func (h *house) files() (all []string) {
	h.t.Helper()
	err := h.album.Each(h.t.Context(), func(_, name string) error { all = append(all, name); return nil })
	if err != nil {
		h.t.Fatal(err)
	}
	return all
}

// Erasing a customer erases the photos of the vehicle's visits, whichever came first, a
// corrected visit's among them, but not one that another vehicle's visit names. One that
// comes late from a phone is not taken; one that is named anew is.
func TestPhotosErased(t *testing.T) {
	h := inMemory(t)
	a, b := car(), car()
	before, shared, behind, corrected, late, others := aPhoto(t, 11), aPhoto(t, 12), aPhoto(t, 13), aPhoto(t, 14), aPhoto(t, 15), aPhoto(t, 16)
	h.sends(before, 1<<20)
	wrong := photographed(a, corrected, late)
	right := photographed(a, before, shared)
	right.Corrects = &pb.Correction{InspectionId: wrong.GetId(), Reason: "wrong car"}
	third := photographed(a, behind, behind)
	h.keep(a, wrong, right, third)
	h.keep(b, photographed(b, shared, others))
	for _, photo := range [][]byte{shared, behind, corrected, others} {
		h.sends(photo, 1<<20)
	}
	id := uuid.NewString()
	for range 2 {
		if out := h.erases(a, id); out.GetPhotos() != 3 {
			t.Errorf("%v", out)
		}
	}
	for name, row := range map[string]struct {
		photo []byte
		there bool
	}{"that came before": {before, false}, "that came behind": {behind, false}, "of a visit that was corrected": {corrected, false}, "that is shared": {shared, true}, "of another": {others, true}} {
		if got, _ := h.gets(nameOf(row.photo)); (got != nil) != row.there {
			t.Errorf("the photo %s is there: %v", name, got != nil)
		}
	}
	if files := h.files(); len(files) != 2 {
		t.Errorf("%d files are left", len(files))
	}
	for _, photo := range [][]byte{late, before} {
		out := h.sends(photo, 3000)
		if got, _ := h.gets(nameOf(photo)); out.GetKept() != nil || got != nil || len(h.files()) != 2 {
			t.Errorf("an erased photo is taken again: %v", out)
		}
	}
	again := photographed(a, before, behind)
	if err := h.record(again); err != nil {
		t.Fatal(err)
	}
	if h.sends(before, 3000).GetKept() == nil || len(h.files()) != 3 {
		t.Error("a photo that is named anew is not taken")
	}
}

// A copy that is lost is taken again; what is told of it stays.
func TestLostCopy(t *testing.T) {
	h, photo := inMemory(t), aPhoto(t, 21)
	kept := h.sends(photo, 1<<20).GetKept()
	if _, err := h.album.Remove(shop, nameOf(photo), func() (bool, error) { return true, nil }); err != nil {
		t.Fatal(err)
	}
	if got, _ := h.gets(nameOf(photo)); got != nil || !strings.Contains(h.said.String(), "not in its place") {
		t.Errorf("%d bytes; log %q", len(got), h.said.String())
	}
	if again := h.sends(photo, 3000).GetKept(); again.GetSha256() != kept.GetSha256() || h.drafts() != 1 {
		t.Errorf("%v, %d drafts", again, h.drafts())
	}
	if got, _ := h.gets(nameOf(photo)); nameOf(got) != kept.GetSha256() {
		t.Errorf("%d bytes", len(got))
	}
}

// A book that cannot be written takes no photo, and a photo whose record failed is taken
// with the next call.
func TestPhotoAndABookThatCannotBeWritten(t *testing.T) {
	h, photo := newHouse(t, &breaking{Store: memory.New()}), aPhoto(t, 22)
	h.store.(*breaking).err = &history.DiskNearlyFullError{Free: 1, Needed: 2}
	_, err := h.put(nameOf(photo), len(photo), 0, photo)
	if r := read(t, err); r.reason != "DISK_NEARLY_FULL" || r.wait < time.Minute {
		t.Errorf("%v", err)
	}
	h.store.(*breaking).err = nil
	if out, err := h.put(nameOf(photo), len(photo), 0, nil); err != nil || !out.GetComplete() {
		t.Errorf("%v, %v", out, err)
	}
}

// Photos of one shop are not those of another.
func TestPhotosOfShops(t *testing.T) {
	h, photo := inMemory(t), aPhoto(t, 23)
	h.sends(photo, 1<<20)
	for of, there := range map[string]bool{shop: true, "south": false} {
		is, err := h.book.Photo(t.Context(), of, nameOf(photo))
		if err != nil || (is.Kept != nil) != there || h.album.Has(of, nameOf(photo), int(is.Kept.GetTotalBytes())) != there {
			t.Errorf("%s: %+v, %v", of, is, err)
		}
	}
}
