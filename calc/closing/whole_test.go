package closing

import (
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

var twoAxles = layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}

// four are the wheels of a car, with what was told of the one at 2R.
func four(at2R func(*visit.Wheel)) (ws []visit.Wheel) {
	for _, p := range twoAxles.Positions() {
		w := visit.Wheel{Position: p, Pressure: visit.Pressure{Of: unit.MustPressure(33, unit.PSI), Read: unit.PSI}}
		if p == layout.MustParse("2R") && at2R != nil {
			at2R(&w)
		}
		ws = append(ws, w)
	}
	return ws
}

// A lamp of which nobody knew which tire it meant is closed by a lamp that is out and by
// every tire on the road read, as found or by what it left with (common practice).
func TestALampIsClosedByAllRead(t *testing.T) {
	f := finding.Finding{Code: finding.InflationLampOnNotAllRead}
	unread := func(w *visit.Wheel) { w.Pressure = visit.Pressure{} }
	p := layout.MustParse("2R")
	for _, c := range []struct {
		name   string
		wheels []visit.Wheel
		lamp   inflation.Lamp
		left   map[layout.Position]wheelLeft
		want   finding.Closed
	}{
		{"all read, the lamp out", four(nil), inflation.LampOff, nil, finding.ClosedLampOut},
		{"the lamp on", four(nil), inflation.LampOn, nil, ""},
		{"the lamp not told", four(nil), inflation.LampNotTold, nil, ""},
		{"one not read", four(unread), inflation.LampOff, nil, ""},
		{"not read, and left at its label", four(unread), inflation.LampOff, map[layout.Position]wheelLeft{p: {atLabel: true}}, finding.ClosedLampOut},
		{"not read, and left short", four(unread), inflation.LampOff, map[layout.Position]wheelLeft{p: {labeled: true}}, ""},
		{"one not reported", four(nil)[:3], inflation.LampOff, map[layout.Position]wheelLeft{p: {atLabel: true}}, ""},
	} {
		in := In{Visit: visit.Visit{Vehicle: twoAxles, Wheels: c.wheels, LampLeft: c.lamp}}
		if got := in.ofVehicle(f, c.left); got != c.want {
			t.Errorf("%s: %q", c.name, got)
		}
	}
	if got := (In{Visit: visit.Visit{Vehicle: twoAxles, Wheels: four(nil), LampLeft: inflation.LampOff}}).ofVehicle(finding.Finding{Code: finding.WearToeIn}, nil); got != "" {
		t.Errorf("a cause of wear is closed by a lamp: %q", got)
	}
}

// Sealant that was used is closed where it does not burn, or is out of the tire: seen
// inside, or another tire fitted (common practice).
func TestSealantIsClosedByWhatIsKnown(t *testing.T) {
	p := layout.MustParse("2R")
	about := func(s visit.Sealant, at layout.Position) visit.Complaint {
		return visit.Complaint{Kind: finding.NoticedSealantUsed, Sealant: s, At: at}
	}
	seen := func(w *visit.Wheel) { w.Mended.Inside = new(visit.Inside) }
	fitted := func(w *visit.Wheel) { w.Mended.Fitted = true }
	nowhere := layout.Position{}
	for _, c := range []struct {
		name  string
		told  []visit.Complaint
		wheel func(*visit.Wheel)
		at    []layout.Position
		want  finding.Closed
	}{
		{"not asked", []visit.Complaint{about(visit.SealantNotAsked, p)}, seen, []layout.Position{p}, ""},
		{"burns not", []visit.Complaint{about(visit.SealantBurnsNot, p)}, nil, []layout.Position{p}, finding.ClosedSealantKnown},
		{"may burn", []visit.Complaint{about(visit.SealantMayBurn, p)}, nil, []layout.Position{p}, ""},
		{"may burn, seen inside", []visit.Complaint{about(visit.SealantMayBurn, p)}, seen, []layout.Position{p}, finding.ClosedSealantKnown},
		{"may burn, another fitted", []visit.Complaint{about(visit.SealantMayBurn, p)}, fitted, []layout.Position{p}, finding.ClosedSealantKnown},
		{"may burn, nobody knows where", []visit.Complaint{about(visit.SealantMayBurn, nowhere)}, seen, nil, ""},
		{"burns not, told of another wheel", []visit.Complaint{about(visit.SealantBurnsNot, layout.MustParse("1L"))}, nil, []layout.Position{p}, ""},
		{"told twice, and once not asked", []visit.Complaint{about(visit.SealantNotAsked, p), about(visit.SealantBurnsNot, p)}, nil, []layout.Position{p}, finding.ClosedSealantKnown},
		{"told twice, and once it may burn", []visit.Complaint{about(visit.SealantBurnsNot, p), about(visit.SealantMayBurn, p)}, nil, []layout.Position{p}, ""},
		{"another complaint", []visit.Complaint{{Kind: finding.NoticedHitSomething, Sealant: visit.SealantBurnsNot, At: p}}, nil, []layout.Position{p}, ""},
	} {
		in := In{Visit: visit.Visit{Vehicle: twoAxles, Wheels: four(c.wheel), Complaints: c.told}}
		if got := in.ofVehicle(finding.Finding{Code: finding.ComplaintSealantUsed, Positions: c.at}, nil); got != c.want {
			t.Errorf("%s: %q", c.name, got)
		}
	}
}

// A complaint that wants a look is closed once every tire that it is about was seen
// wherever it wants it.
func TestAComplaintIsClosedByTheLook(t *testing.T) {
	kind := finding.NoticedHitSomething
	looks := finding.ComplaintOf(kind).Looks
	if len(looks) == 0 {
		t.Fatal("wants no look")
	}
	look := func(places ...finding.Looked) func(*visit.Wheel) {
		return func(w *visit.Wheel) {
			for _, p := range places {
				w.Looked = append(w.Looked, visit.Looked{What: p})
			}
		}
	}
	p := layout.MustParse("2R")
	every := four(nil)
	for i := range every {
		look(looks...)(&every[i])
	}
	for _, c := range []struct {
		name   string
		about  layout.Position
		wheels []visit.Wheel
		want   finding.Closed
	}{
		{"of one wheel, seen", p, four(look(looks...)), finding.ClosedSeen},
		{"of one wheel, seen but for one place", p, four(look(looks[1:]...)), ""},
		{"of one wheel, not seen", p, four(nil), ""},
		{"of another wheel", layout.MustParse("1L"), four(look(looks...)), ""},
		{"of the vehicle, one seen", layout.Position{}, four(look(looks...)), ""},
		{"of the vehicle, all seen", layout.Position{}, every, finding.ClosedSeen},
	} {
		complaint := visit.Complaint{Kind: kind, At: c.about}
		in := In{Visit: visit.Visit{Vehicle: twoAxles, Wheels: c.wheels, Complaints: []visit.Complaint{complaint}}}
		if got := in.ofVehicle(finding.Finding{Code: finding.ComplaintHitSomething, Positions: complaint.About()}, nil); got != c.want {
			t.Errorf("%s: %q", c.name, got)
		}
	}
	in := In{Visit: visit.Visit{Vehicle: twoAxles, Wheels: every}}
	if got := in.ofVehicle(finding.Finding{Code: finding.ComplaintHitSomething}, nil); got != "" {
		t.Errorf("nobody complained: %q", got)
	}
}

// A tire is rated for what stands on it where it is known and its axle was weighed as
// left; whether its pressure supports that is told by the table of its kind.
func TestSupportsWhatStandsOnIt(t *testing.T) {
	p := layout.MustParse("1L")
	weighed := func(axle int, kilograms float64) visit.Scale {
		return visit.Scale{Vehicle: twoAxles, Axles: []visit.AxleWeight{{Axle: axle, Weight: unit.MustMass(kilograms, unit.Kilograms), ReadIn: unit.Kilograms}}}
	}
	const size = "P215/60R16 94T" // 670 kg at 240 kPa (ETRTO: load index 94)
	for _, c := range []struct {
		name     string
		size     string
		psi      float64
		on       visit.Scale
		rated    bool
		supports measure.Outcome
	}{
		{"500 kg at its pressure", size, 35, weighed(1, 1000), true, measure.Above},
		{"its axle not weighed", size, 35, weighed(2, 1000), false, measure.Above},
		{"nothing weighed", size, 35, visit.Scale{Vehicle: twoAxles}, false, measure.Above},
		{"not read, and no label", "", 35, weighed(1, 1000), false, measure.CannotTell},
		{"more than it is rated for", size, 35, weighed(1, 1400), false, measure.Below},
		{"too little air for 650 kg", size, 28, weighed(1, 1300), true, measure.Below},
		{"enough for 500 kg", size, 30, weighed(1, 1000), true, measure.Above},
	} {
		w := visit.Wheel{Position: p, Tire: visit.Tire{Size: c.size, Marking: sidewall.Parse(c.size)}}
		in := In{Visit: visit.Visit{Vehicle: twoAxles, Wheels: []visit.Wheel{w}}}
		left := in.Visit.AirLeft(w, visit.Pressure{Of: unit.MustPressure(c.psi, unit.PSI), Read: unit.PSI})
		left.Conditions.DrivenHere = finding.No
		if got := rated(w, c.on); got != c.rated {
			t.Errorf("%s: rated %v", c.name, got)
		}
		if got := in.supports(w, left, c.on); got != c.supports {
			t.Errorf("%s: supports %v", c.name, got)
		}
	}
}
