package questions

import (
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// What a complaint may stand on is cleared where all of it was read and seen: at the wheel
// that it is about, at the front, or at every one; never where a visit records nothing
// that shows it.
func TestAComplaintIsCleared(t *testing.T) {
	car := layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}
	seven := unit.Amount{Number: 7, Unit: unit.ThirtySecondsInch}
	air, depth, both := reading("1L", 33, unit.PSI), reading("1L", 0, unit.None, seven), reading("1L", 33, unit.PSI, seven)
	seen := func(w visit.Wheel) visit.Wheel {
		w.Looked = []visit.Looked{{What: finding.LookedTreadFullTurn}}
		return w
	}
	at := func(w visit.Wheel, names ...string) (all []visit.Wheel) {
		for _, n := range names {
			w.Position = layout.MustParse(n)
			all = append(all, w)
		}
		return all
	}
	four := []string{"1L", "1R", "2L", "2R"}
	left := layout.MustParse("1L")
	needs := func(air, tread bool, looked ...finding.Looked) finding.ComplaintKind {
		return finding.ComplaintKind{Clears: finding.Clears{Air: air, Tread: tread, Looked: looked}}
	}
	front := needs(true, false)
	front.Front = true
	for _, c := range []struct {
		name   string
		kind   finding.ComplaintKind
		about  layout.Position
		wheels []visit.Wheel
		want   bool
	}{
		{"nothing shows it", needs(false, false), layout.Position{}, at(both, four...), false},
		{"by air, all read", needs(true, false), layout.Position{}, at(air, four...), true},
		{"by air, and depths read", needs(true, false), layout.Position{}, at(depth, four...), false},
		{"by tread, all read", needs(false, true), layout.Position{}, at(depth, four...), true},
		{"by tread, and pressures read", needs(false, true), layout.Position{}, at(air, four...), false},
		{"by both, both read", needs(true, true), layout.Position{}, at(both, four...), true},
		{"by both, one read", needs(true, true), layout.Position{}, at(air, four...), false},
		{"one not reported", needs(true, false), layout.Position{}, at(air, four[:3]...), false},
		{"about one wheel", needs(true, false), left, at(air, "1L"), true},
		{"about another", needs(true, false), left, at(air, "1R"), false},
		{"of the front", front, layout.Position{}, at(air, "1L", "1R"), true},
		{"of the front, the rear read", front, layout.Position{}, at(air, "2L", "2R"), false},
		{"seen", needs(false, false, finding.LookedTreadFullTurn), layout.Position{}, at(seen(air), four...), true},
		{"not seen", needs(false, false, finding.LookedTreadFullTurn), layout.Position{}, at(air, four...), false},
		{"wants a look, and nothing is unseen", finding.ComplaintKind{Looks: []finding.Looked{finding.LookedFasteners}}, layout.Position{}, nil, true},
	} {
		got := complaint{visit.Complaint{At: c.about}, c.kind}.cleared(ComplaintIn{Vehicle: car, Wheels: c.wheels})
		if got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
	if (complaint{visit.Complaint{}, needs(true, false)}).cleared(ComplaintIn{}) {
		t.Error("a vehicle without a wheel is cleared")
	}
}
