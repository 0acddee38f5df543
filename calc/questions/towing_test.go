package questions

import (
	"math"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// Rear tires of a car that tows hold 20 kPa more than the label asks for at normal load:
// the Slovak decree, section 17, as read.
func TestPressureForTowing(t *testing.T) {
	kPa := func(n float64) unit.Pressure { return unit.MustPressure(n, unit.Kilopascals) }
	car := layout.Vehicle{Class: layout.PassengerCar, Axles: []layout.Axle{{Steered: true, ColdNormal: kPa(220), LabelUnit: unit.Kilopascals}, {ColdNormal: kPa(220), ColdFull: kPa(260), LabelUnit: unit.Kilopascals}}}
	coarse := measure.Gauge[unit.Pressure]{Accuracy: kPa(10)}
	type state struct {
		at       string
		found    float64 // 0: not read
		gauge    measure.Gauge[unit.Pressure]
		sidewall float64
		driven   finding.Answer
		tows     finding.Answer
		loaded   finding.Answer
		may      bool
	}
	base := state{at: "2L", found: 230, driven: finding.No, tows: finding.Yes, loaded: finding.No}
	with := func(change func(*state)) state { s := base; change(&s); return s }
	for _, c := range []struct {
		name    string
		s       state
		want    measure.Outcome // of the finding; not compared: none
		urgency finding.Urgency
		met     bool
		settle  finding.Settle
	}{
		{"230 of 240 kPa", base, measure.Below, finding.Plan, false, ""},
		{"and it came loaded: the label stays", with(func(s *state) { s.loaded = finding.Yes }), measure.Below, finding.Plan, false, ""},
		{"a law that may bind", with(func(s *state) { s.may = true }), measure.Below, finding.Plan, false, ""},
		{"240 of 240", with(func(s *state) { s.found = 240 }), measure.NotCompared, 0, true, ""},
		{"239 of 240", with(func(s *state) { s.found = 239 }), measure.Below, finding.Plan, false, ""},
		{"by a gauge that cannot tell", with(func(s *state) { s.found, s.gauge = 240, coarse }), measure.CannotTell, finding.Plan, false, finding.SettleReadBetterGauge},
		{"driven here", with(func(s *state) { s.found, s.driven = 260, finding.Yes }), measure.CannotTell, finding.Plan, false, finding.SettleReadCold},
		{"it does not tow", with(func(s *state) { s.tows = finding.No }), measure.NotCompared, 0, false, ""},
		{"nobody said so", with(func(s *state) { s.tows = finding.NotAsked }), measure.NotCompared, 0, false, ""},
		{"not read", with(func(s *state) { s.found = 0 }), measure.NotCompared, 0, false, ""},
		{"a front tire", with(func(s *state) { s.at = "1L" }), measure.NotCompared, 0, false, ""},
		{"a spare", with(func(s *state) { s.at = "S" }), measure.NotCompared, 0, false, ""},
		{"a sidewall that allows less", with(func(s *state) { s.sidewall = 239 }), measure.NotCompared, 0, false, ""},
		{"a sidewall that allows as much", with(func(s *state) { s.sidewall = 240 }), measure.Below, finding.Plan, false, ""},
		{"no air before it is seen inside", with(func(s *state) { s.found = 20 }), measure.NotCompared, 0, false, ""},
	} {
		p := layout.MustParse(c.s.at)
		w := visit.Wheel{Position: p}
		w.Tire.Sidewall = kPa(c.s.sidewall)
		if c.s.found > 0 {
			w.Pressure = visit.Pressure{Of: kPa(c.s.found), Read: unit.Kilopascals, Gauge: c.s.gauge}
		}
		labels := visit.Labels{Vehicle: car, Loaded: c.s.loaded}
		air := labels.Air(w, w.Pressure, inflation.Conditions{DrivenHere: c.s.driven})
		out := Towing(TowingIn{
			Laws: Laws{Vehicle: car, Books: []rulebook.Applied{{Book: rulebook.Must("eu-sk"), Candidate: c.s.may}}}, Labels: labels, Tows: c.s.tows, Wheels: []visit.Wheel{w},
			Airs: Airs{Wheels: map[layout.Position]inflation.Wheel{p: air}, Results: map[layout.Position]inflation.Result{p: inflation.Judge(air)}},
		})
		if (len(out.Findings) == 1) != (c.want != measure.NotCompared) || (len(out.Checked) == 1) != c.met {
			t.Errorf("%s: found %+v, good %+v", c.name, out.Findings, out.Checked)
			continue
		}
		if c.met && (out.Checked[0].Code != finding.CheckedInflationTowing || out.Checked[0].Positions[0] != p) {
			t.Errorf("%s: %+v", c.name, out.Checked)
		}
		if c.want == measure.NotCompared {
			continue
		}
		f := out.Findings[0]
		if f.Code != finding.InflationTowing || f.Outcome != c.want || f.Urgency != c.urgency || f.ToSettle != c.settle || f.Candidate != c.s.may || f.Positions[0] != p {
			t.Errorf("%s: %+v", c.name, f)
		}
		if label, added := f.Told(finding.FactInflationLabel), f.Told(finding.FactInflationTowingAdded); math.Abs(label.Number-220) > 0.01 || math.Abs(added.Number-20) > 0.01 || math.Abs(f.Limit.Number-240) > 0.01 {
			t.Errorf("%s: %v and %v are %v", c.name, label, added, f.Limit)
		}
	}
}
