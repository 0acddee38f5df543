package book

import (
	"slices"
	"strings"
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/memory"
)

// resurrecting puts rows that were deleted among those that are loaded, as a damaged store
// does that lost what deleted them.
type resurrecting struct {
	history.Loader
	rows []history.Row
}

func (r *resurrecting) Rows(rows []history.Row) error {
	for _, row := range rows {
		for len(r.rows) > 0 && r.rows[0].Key < row.Key {
			if err := r.Loader.Rows(r.rows[:1]); err != nil {
				return err
			}
			r.rows = r.rows[1:]
		}
		if err := r.Loader.Rows([]history.Row{row}); err != nil {
			return err
		}
	}
	return nil
}

// What was erased does not come back with what is salvaged, though its deletion is lost;
// the customer of another vehicle stays.
func TestWhatWasErasedIsNotSalvaged(t *testing.T) {
	d := newDesk(t, memory.New(), nil)
	v, other := car(), car()
	v.CustomerData = &pb.CustomerData{Plate: "INV-123", Customer: "Erased Owner"}
	other.CustomerData = &pb.CustomerData{Plate: "INV-456", Customer: "Other Owner"}
	d.keepVehicle(v)
	d.keepVehicle(other)
	var deleted []history.Row
	for _, r := range rowsOf(t, d.Book) {
		if slices.Contains([]byte{personMark, wordMark, plateMark}, r.Key[0]) && strings.Contains(string(r.Key), v.GetId()) {
			deleted = append(deleted, r)
		}
	}
	if len(deleted) < 3 {
		t.Fatalf("%d rows of the customer", len(deleted))
	}
	if _, err := d.EraseCustomer(t.Context(), shop, &pb.EraseCustomerRequest{Id: newID(), VehicleId: v.GetId(), RequestedBy: "customer, by letter"}); err != nil {
		t.Fatal(err)
	}
	erased := &Erasures{}
	if err := history.Copy(t.Context(), d.store, erased, nil); err != nil {
		t.Fatal(err)
	}
	to := memory.Load()
	if err := history.Copy(t.Context(), d.store, &resurrecting{erased.Without(to), deleted}, nil); err != nil {
		t.Fatal(err)
	}
	b := New(to.Store(), d.judge, d.now)
	all := ""
	for _, r := range rowsOf(t, b) {
		all += string(r.Key) + string(r.Value)
	}
	for _, text := range []string{"Erased", "erased", "INV-123", "inv123"} {
		if strings.Contains(all, text) {
			t.Errorf("%q is back", text)
		}
	}
	if !strings.Contains(all, "Other Owner") || !strings.Contains(all, "INV-456") {
		t.Error("another customer is gone")
	}
	if failures, _ := verified(t, b, true); len(failures) > 0 {
		t.Logf("%q", failures) // words of the tag that the customer's name had, too
	}
	if failures, _ := verified(t, b, false); len(failures) > 0 {
		t.Errorf("%q", failures)
	}
}
