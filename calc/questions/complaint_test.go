package questions

import (
	"slices"
	"testing"
	"time"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/tread"
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

// A tire that is aired more often than once a month takes more than a sound one (common
// practice, from memory).
func TestAiredOften(t *testing.T) {
	const day = 24 * time.Hour
	for every, want := range map[time.Duration]bool{7 * day: true, 29 * day: true, 30 * day: false, 60 * day: false} {
		if got := AiredOften(every); got != want {
			t.Errorf("every %v: %v", every, got)
		}
	}
}

// A wheel that nobody reported was not looked at; of those reported, each place that a
// look at the whole takes in and nobody told of. A spare counts where there is one.
func TestWhatNobodyLookedAt(t *testing.T) {
	car := layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}
	reported := func(names ...string) (ws []visit.Wheel) {
		for _, n := range names {
			ws = append(ws, visit.Wheel{Position: layout.MustParse(n)})
		}
		return ws
	}
	for _, c := range []struct {
		name   string
		wheels []visit.Wheel
		spare  bool
		want   string
	}{
		{"all reported", reported("1L", "1R", "2L", "2R"), false, ""},
		{"and the spare", reported("1L", "1R", "2L", "2R", "S"), true, ""},
		{"but the spare", reported("1L", "1R", "2L", "2R"), true, "S "},
		{"but two", reported("2R", "1L"), false, "1R 2L "},
		{"but three", reported("1L", "2R"), true, "1R 2L S "},
	} {
		out := Looked(LookedIn{Vehicle: car, Spare: visit.Spare{Fitted: c.spare}, Wheels: c.wheels})
		got := ""
		for _, n := range out.NotLooked {
			if n.What == finding.LookedWheel {
				for _, p := range n.Positions {
					got += p.String() + " "
				}
			}
			if n.What == finding.LookedOuterSidewall && len(n.Positions) != len(c.wheels) {
				t.Errorf("%s: outer sidewalls of %v", c.name, n.Positions)
			}
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// Why no rotation is offered: the reasons of every map that the drive knows, each once and
// in order; none where there is none.
func TestWhyARotationIsRefused(t *testing.T) {
	car := layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}
	plans := func(why ...[]finding.Reason) (all []rotation.Plan) {
		for _, w := range why {
			all = append(all, rotation.Plan{WhyNot: w})
		}
		return all
	}
	type reasons = []finding.Reason
	for _, c := range []struct {
		name  string
		plans []rotation.Plan
		want  []finding.Fact
	}{
		{"nothing stands against it", plans(reasons{}), nil},
		{"of another drive", plans(reasons{finding.ReasonOtherDrive, finding.ReasonTireHurt}), nil},
		{"two reasons, in order", plans(reasons{finding.ReasonWheelFirst, finding.ReasonDepthNotRead}, reasons{finding.ReasonTireHurt}), []finding.Fact{finding.FactRotationHurt, finding.FactRotationUnread, finding.FactRotationWheels}},
		{"one reason by two names", plans(reasons{finding.ReasonTireHurt, finding.ReasonRepairOpen}, reasons{finding.ReasonTireHurt}), []finding.Fact{finding.FactRotationHurt}},
	} {
		a := RotationAnswer{Result: rotation.Result{Plans: c.plans}}
		a.refuse(car)
		var got []finding.Fact
		for _, f := range a.Findings {
			for _, e := range f.Evidence {
				got = append(got, e.Code)
			}
		}
		if !slices.Equal(got, c.want) || len(a.Findings) > 1 {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// The same depths are those of the same places, each once, in whatever order they were read.
func TestTheSameDepths(t *testing.T) {
	at := func(a layout.Across, groove, station int, n float64) tread.Reading {
		return tread.Reading{Across: a, Groove: groove, Station: station, Depth: unit.MustDepth(n, unit.ThirtySecondsInch)}
	}
	in, out := layout.Inboard, layout.Outboard
	for _, c := range []struct {
		name     string
		now, was []tread.Reading
		want     bool
	}{
		{"none", nil, nil, true},
		{"alike", []tread.Reading{at(in, 0, 0, 7), at(out, 0, 0, 6)}, []tread.Reading{at(out, 0, 0, 6), at(in, 0, 0, 7)}, true},
		{"another depth", []tread.Reading{at(in, 0, 0, 7)}, []tread.Reading{at(in, 0, 0, 6)}, false},
		{"another part", []tread.Reading{at(in, 0, 0, 7)}, []tread.Reading{at(out, 0, 0, 7)}, false},
		{"another groove", []tread.Reading{at(0, 1, 0, 7)}, []tread.Reading{at(0, 2, 0, 7)}, false},
		{"another station", []tread.Reading{at(in, 0, 1, 7)}, []tread.Reading{at(in, 0, 2, 7)}, false},
		{"one read twice", []tread.Reading{at(in, 0, 0, 7), at(in, 0, 0, 7)}, []tread.Reading{at(in, 0, 0, 7)}, false},
		{"by a groove and by a part", []tread.Reading{at(in, 0, 0, 7)}, []tread.Reading{at(0, 1, 0, 7)}, false},
	} {
		if got := sameDepths(c.now, c.was); got != c.want || sameDepths(c.was, c.now) != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}
