package verdict

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/fitment"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// A cut through the visit: too long and to the cord is not allowed, too long and
// not probed is open, short is looked at closely and no more.
func TestCut(t *testing.T) {
	for _, c := range []struct {
		kind    finding.Observation
		mm      float64
		outcome measure.Outcome
	}{
		{"cut-to-cord", 40, measure.Above},
		{"cut", 40, measure.CannotTell},
		{"cut", 10, measure.NotCompared},
		{"cut-to-cord", 10, measure.NotCompared},
	} {
		size := unit.MustLength(c.mm, unit.Millimeters)
		v := car(33)
		v.Use.Places, v.Vehicle.GrossRating = []rulebook.Place{{Country: "GB"}}, unit.MustMass(1900, unit.Kilograms)
		v.Wheels[0].Observations = []visit.Observation{{Kind: c.kind, Size: &size, SizeUnit: unit.Millimeters}}
		f, _ := find(Judge(v), finding.DamageCutLimit)
		if f.Outcome != c.outcome {
			t.Errorf("%s of %v mm: %v, want %v", c.kind, c.mm, f.Outcome, c.outcome)
		}
	}
}

// car is a visit of an invented car: one wheel read at so many psi, cold.
func car(psi float64) visit.Visit {
	label := unit.MustPressure(33, unit.PSI)
	axle := layout.Axle{ColdNormal: label, LabelUnit: unit.PSI, Size: "225/60R17"}
	front := axle
	front.Steered, front.Driven = true, true
	return visit.Visit{
		Vehicle:    layout.Vehicle{Class: layout.PassengerCar, Drive: layout.FrontDrive, Axles: []layout.Axle{front, axle}},
		Use:        rulebook.Use{Places: []rulebook.Place{{Country: "US", State: "OH"}}, Interstate: finding.No, Tows: finding.No},
		AsOf:       unit.Date{Year: 2026, Month: 4, Day: 14},
		Conditions: inflation.Conditions{DrivenHere: finding.No},
		DepthGauge: measure.Gauge[unit.Depth]{Resolution: unit.MustDepth(1, unit.ThirtySecondsInch), Repeatability: unit.MustDepth(0.4, unit.ThirtySecondsInch)},
		Wheels: []visit.Wheel{{
			Position: layout.MustParse("2R"),
			Depths:   depths(7, 7, 7),
			Pressure: visit.Pressure{Of: unit.MustPressure(psi, unit.PSI), Read: unit.PSI, Gauge: inflation.GaugeOf(inflation.Digital, measure.Gauge[unit.Pressure]{})},
			Tire:     visit.Tire{Marking: sidewall.Parse("225/60R17 99T")},
		}},
	}
}

func depths(inboard, center, outboard float64) []tread.Reading {
	var rs []tread.Reading
	for i, n := range []float64{inboard, center, outboard} {
		d := unit.MustDepth(n, unit.ThirtySecondsInch)
		rs = append(rs, tread.Reading{Depth: d, AsRead: d.Amount(unit.ThirtySecondsInch), Across: layout.Across(i + 1)})
	}
	return rs
}

func find(v Verdict, code finding.Code) (finding.Finding, bool) {
	i := slices.IndexFunc(v.Findings, func(f finding.Finding) bool { return f.Code == code })
	if i < 0 {
		return finding.Finding{}, false
	}
	return v.Findings[i], true
}

// What one question found is handed to the next: a tire that ran low is so for
// the repair question, whatever nobody told of it there (common practice).
func TestRunLowReachesTheRepairQuestion(t *testing.T) {
	crown := true
	for _, c := range []struct {
		psi    float64
		driven finding.Answer
		ranLow bool
	}{
		{6, finding.Yes, true},
		{32, finding.Yes, false},
	} {
		v := car(c.psi)
		v.Wheels[0].DrivenLow.Driven = c.driven
		v.Wheels[0].Observations = []visit.Observation{{Kind: "object-in-tread", Injury: &puncture.Injury{Part: puncture.Crown, BetweenOuterGrooves: &crown, HoldsAir: finding.Yes}}}
		f, ok := find(Judge(v), finding.PunctureInspectInside)
		said := slices.ContainsFunc(f.Evidence, func(e finding.Evidence) bool { return e.Code == finding.FactPunctureFoundRunLow })
		if !ok || said != c.ranLow {
			t.Errorf("%v psi, driven: %+v, want run low %v", c.psi, f, c.ranLow)
		}
	}
}

// The urgency of what is seen is the trade's, not taste (common practice).
func TestUrgencyOfDamage(t *testing.T) {
	for urgency, kinds := range map[finding.Urgency][]finding.Observation{
		finding.BeforeDriving: {
			"cord-showing", "bulge", "separation", "cut-to-cord", "fastener-loose", "fastener-missing", "stud-broken",
			"wheel-crack", "wheel-holes-elongated", "rubbing-on-vehicle", "rubbing-on-mate", "radial-ripple", "cracks-to-cord",
		},
		finding.ThisVisit: {"valve-cracked", "valve-under-rated", "cracks-joined", "cut"},
		finding.Note:      {"inward-dent", "curb-scuff"},
	} {
		for _, kind := range kinds {
			if got := finding.KindOf(finding.ObservationOf(kind).Means).Urgency; got != urgency {
				t.Errorf("%s: %v, want %v", kind, got, urgency)
			}
		}
	}
	for k := range finding.Kinds() {
		if k.Observed() && k.Urgency == finding.BeforeDriving && k.Caution == "" {
			t.Errorf("%s must not be driven on and carries no caution", k.Code)
		}
		if k.Scrap && k.Work != finding.WorkTireReplace {
			t.Errorf("%s finishes the tire and does not replace it", k.Code)
		}
	}
}

// A class that is not judged here gets no findings, and is told so by name.
func TestNotJudgedHere(t *testing.T) {
	for _, class := range []layout.Class{layout.Motorcycle, layout.Farm, layout.Earthmover, layout.Military, layout.Race, layout.UnknownClass} {
		v := car(10)
		v.Vehicle.Class = class
		got := Judge(v)
		if len(got.Findings)+len(got.Work) > 0 || len(got.NotJudged) == 0 {
			t.Errorf("class %d: %+v", class, got)
		}
	}
}

// Nothing reads as good in silence: a position without a report and a place not
// looked at are named, and tread depth alone is no full look.
func TestSilenceIsNamed(t *testing.T) {
	v := car(33)
	v.Wheels[0].Looked = []visit.Looked{{What: "tread-full-turn"}, {What: "outer-sidewall"}, {What: "inner-sidewall", NotBecause: "not-reachable"}}
	got := Judge(v)
	for what, reason := range map[finding.Looked]finding.NotLooked{"wheel": "", "inner-sidewall": "not-reachable", "valve": ""} {
		if !slices.ContainsFunc(got.NotLooked, func(n questions.NotLooked) bool { return n.What == what && n.Reason == reason }) {
			t.Errorf("%s is not named: %+v", what, got.NotLooked)
		}
	}
	if got.Wheels[0].Full {
		t.Error("an unseen sidewall counts as a full look")
	}
	v.Wheels[0].Looked[2].NotBecause = ""
	if !Judge(v).Wheels[0].Full {
		t.Error("a full look does not count")
	}
}

// As left closes a finding only when it is provably good, and never removes it.
func TestAsLeftCloses(t *testing.T) {
	for _, c := range []struct {
		left   float64
		closed bool
	}{{33, true}, {33.5, true}, {32, false}, {28, false}} {
		v := car(28)
		v.Wheels[0].PressureLeft = v.Wheels[0].Pressure
		v.Wheels[0].PressureLeft.Of = unit.MustPressure(c.left, unit.PSI)
		got := Judge(v)
		f, ok := find(got, finding.InflationLow)
		if !ok {
			t.Fatalf("28 of 33 psi is not found low: %+v", got.Findings)
		}
		if _, closed := got.Closed[f.ID()]; closed != c.closed {
			t.Errorf("left at %v psi: closed %v, want %v", c.left, closed, c.closed)
		}
	}
}

// What lies wrong and was turned round before the vehicle left is closed without a
// number; what was not looked at again stays (our own decision).
func TestMarksAsLeftClose(t *testing.T) {
	for _, c := range []struct {
		found, left fitment.Marks
		code        finding.Code
		closed      bool
	}{
		{fitment.Marks{Arrow: fitment.ArrowOpposes}, fitment.Marks{Arrow: fitment.ArrowAgrees}, finding.MountArrowOpposes, true},
		{fitment.Marks{Arrow: fitment.ArrowOpposes}, fitment.Marks{Arrow: fitment.ArrowOpposes}, finding.MountArrowOpposes, false},
		{fitment.Marks{Arrow: fitment.ArrowOpposes}, fitment.Marks{}, finding.MountArrowOpposes, false},
		{fitment.Marks{Outside: fitment.FacesIn}, fitment.Marks{Outside: fitment.FacesOut}, finding.MountOutsideIn, true},
		{fitment.Marks{Outside: fitment.FacesIn}, fitment.Marks{Arrow: fitment.ArrowAgrees}, finding.MountOutsideIn, false},
	} {
		v := car(33)
		v.Wheels[0].Fitment.Marks, v.Wheels[0].FitmentLeft.Marks = c.found, c.left
		got := Judge(v)
		f, ok := find(got, c.code)
		if !ok {
			t.Fatalf("%+v: no %s: %+v", c.found, c.code, got.Findings)
		}
		if by, closed := got.Closed[f.ID()]; closed != c.closed || !by.IsZero() {
			t.Errorf("%+v, left %+v: closed %v by %v, want %v", c.found, c.left, closed, by, c.closed)
		}
	}
}
