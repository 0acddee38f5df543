package book

import (
	"slices"
	"testing"
	"time"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// A vehicle is found by what is open on it, by a tire's size, and by the words of its tag,
// plate and customer; each once, page by page, and no more where that is gone.
func TestVehiclesAreFound(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		d.clock = time.Date(2026, 12, 1, 12, 0, 0, 0, time.UTC)
		blue := tagged("blue van, bay 3")
		blue.CustomerData = &pb.CustomerData{Plate: "INV-1234", Customer: "Invented Owner"}
		blue = d.keepVehicle(blue)
		red := d.keepVehicle(tagged("Red Sedan red"))
		f := found("tread.wet-advice", "1L")
		in := on("2026-06-01", newVisit(blue, wheel("1L", depth, size("P215/60 R16 95H")), wheel("1R", depth, size("215/60R16 99V"))))
		d.keep(d.find(in, f, comesDue("1L", "2027-02-01"), comesDue("1R", "2026-01-01")))
		d.keep(d.find(on("2026-06-02", newVisit(red, wheel("1L", depth, size("LT245/75R16")))), found("wear.toe-in", "1L"), comesDue("1L", "2027-01-01")))

		read := func(list func(token string) (Page[*pb.VehicleRow], string, error)) (tags []string) {
			t.Helper()
			for token, more := "", true; more; more = token != "" {
				page, resume, err := list(token)
				if err != nil || (token == "") != (resume != "") {
					t.Fatalf("%q: %v", resume, err)
				}
				for _, row := range page.Rows {
					tags = append(tags, row.GetTag())
				}
				token = page.Next
			}
			return tags
		}
		text := func(s string) []string {
			return read(func(token string) (Page[*pb.VehicleRow], string, error) {
				return d.FindByText(t.Context(), shop, s, 1, token)
			})
		}
		code := func(s string) []string {
			return read(func(token string) (Page[*pb.VehicleRow], string, error) {
				return d.FindByCode(t.Context(), shop, s, 1, token)
			})
		}
		bySize := func(s string) []string {
			return read(func(token string) (Page[*pb.VehicleRow], string, error) {
				return d.FindBySize(t.Context(), shop, s, 1, token)
			})
		}
		due := func() []string {
			return read(func(token string) (Page[*pb.VehicleRow], string, error) {
				return d.ListVehicles(t.Context(), shop, pb.VehicleOrder_VEHICLE_ORDER_DUE, 1, token)
			})
		}
		same := func(what string, got []string, want ...string) {
			t.Helper()
			if !slices.Equal(got, want) {
				t.Errorf("%s: %q, want %q", what, got, want)
			}
		}
		b, r := blue.GetTag(), red.GetTag()
		same("a word", text("van"), b)
		same("the beginning of one", text("VA"), b)
		same("a word that stands twice", text("red"), r)
		same("a plate as it is written", text("inv-1234"), b)
		same("without its hyphen", text("INV1234"), b)
		same("a name", text("owner"), b)
		same("the beginning of plate and name", text("inv"), b)
		same("not the middle of a word", text("edan"))
		same("a code", code("tread.wet-advice"), b)
		page, _, err := d.FindByCode(t.Context(), shop, "tread.wet-advice", 1, "")
		if err != nil || !slices.Contains(page.Rows[0].GetFindingCodes(), "tread.wet-advice") {
			t.Errorf("found by a code its row does not have: %v, %v", page.Rows, err)
		}
		same("a code that nothing has", code("tread.worn"))
		same("a size", bySize("215/60R16"), b)
		same("as it is printed", bySize("P215/60R16"), b)
		same("another", bySize("lt245/75r16"), r)
		same("due from today", due(), r)

		d.mustDecide(decided(in, f, pb.Decision_DECISION_DONE))
		same("a code that was closed", code("tread.wet-advice"))
		if _, err := d.EraseCustomer(t.Context(), shop, &pb.EraseCustomerRequest{Id: newID(), VehicleId: blue.GetId()}); err != nil {
			t.Fatal(err)
		}
		same("an erased plate", text("inv"))
		for _, row := range d.rows() {
			if row.Key[0] == wordMark && slices.ContainsFunc([]string{"inv", "1234", "owner"}, func(w string) bool { return len(row.Key) > 1+len(w) && string(row.Key[1:1+len(w)]) == w }) {
				t.Errorf("an erased word lies in %q", row.Key)
			}
		}
		same("a tag that stays", text("van"), b)
		now := d.vehicle(blue).GetVehicle()
		if _, err := d.recordVehicle(&pb.Vehicle{Id: blue.GetId(), Revision: now.GetRevision(), Tag: "green bus"}); err != nil {
			t.Fatal(err)
		}
		same("a former tag", text("van"))
		same("the new one", text("bus"), "green bus")
		d.keep(newVisit(red, wheel("1L", tire(newID()), size("225/65R17"))))
		same("a tire that went", bySize("LT245/75R16"))
		same("and came", bySize("225/65R17"), r)
	})
}
