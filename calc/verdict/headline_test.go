package verdict

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/order"
	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// seenWhole is a two-axle car every road wheel of which was read and seen from outside.
func seenWhole() (visit.Visit, Verdict) {
	v := seenOn(layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)})
	return v, spokenOf(v)
}

// spokenOf is an answer that speaks of every wheel of a visit.
func spokenOf(v visit.Visit) (out Verdict) {
	for _, w := range v.Wheels {
		out.Wheels = append(out.Wheels, Summary{Position: w.Position})
	}
	return out
}

func seenOn(vehicle layout.Vehicle) visit.Visit {
	v := visit.Visit{Vehicle: vehicle}
	for _, p := range vehicle.Positions() {
		w := visit.Wheel{Position: p, Depths: make([]tread.Reading, 1), Pressure: visit.Pressure{Read: unit.PSI}}
		if p.Dual != layout.Inner {
			w.Looked = []visit.Looked{{What: finding.LookedOuterSidewall}}
		}
		v.Wheels = append(v.Wheels, w)
	}
	return v
}

// What is proved holds a vehicle, what is in doubt leaves it open, and what was not
// read or seen counts as nothing found nowhere (our own decision).
func TestHeadline(t *testing.T) {
	at := func(code finding.Code, u finding.Urgency, places ...string) finding.Finding {
		f := finding.Finding{Code: code, Urgency: u}
		for _, p := range places {
			f.Positions = append(f.Positions, layout.MustParse(p))
		}
		return f
	}
	doubtful := func(f finding.Finding) finding.Finding { f.Outcome = measure.CannotTell; return f }
	candidate := func(f finding.Finding) finding.Finding { f.Candidate = true; return f }
	for name, c := range map[string]struct {
		findings []finding.Finding
		closed   int // of the findings, from the first on
		change   func(*visit.Visit, *Verdict)
		hold     Hold
		urgency  finding.Urgency
		at       string
	}{
		"nothing found":               {hold: NoHoldFound},
		"to plan":                     {findings: []finding.Finding{at("tread.wet-advice", finding.Plan, "1L")}, hold: NoHoldFound, urgency: finding.Plan},
		"loose":                       {findings: []finding.Finding{at("fastener.loose", finding.BeforeDriving, "2R")}, hold: DoNotMove, urgency: finding.BeforeDriving, at: "2R"},
		"worse than another":          {findings: []finding.Finding{at("damage.bulge", finding.BeforeDriving, "1L"), at("wheel.crack", finding.BeforeDriving, "2R")}, hold: DoNotMove, urgency: finding.BeforeDriving, at: "2R"},
		"cord that pops":              {findings: []finding.Finding{at("damage.radial-ripple", finding.BeforeDriving, "1L")}, hold: DoNotMove, urgency: finding.BeforeDriving, at: "1L"},
		"fasteners that can wait":     {findings: []finding.Finding{at("fastener.too-few-renewed", finding.ThisVisit, "1L")}, hold: NoHoldFound, urgency: finding.ThisVisit},
		"two bulges":                  {findings: []finding.Finding{at("damage.bulge", finding.BeforeDriving, "2R"), at("damage.bulge", finding.BeforeDriving, "1L")}, hold: OffTheRoad, urgency: finding.BeforeDriving, at: "1L 2R"},
		"about the vehicle":           {findings: []finding.Finding{at("damage.bulge", finding.BeforeDriving)}, hold: OffTheRoad, urgency: finding.BeforeDriving},
		"put right":                   {findings: []finding.Finding{at("fastener.loose", finding.BeforeDriving, "2R")}, closed: 1, hold: NoHoldFound},
		"one of two put right":        {findings: []finding.Finding{at("fastener.loose", finding.BeforeDriving, "2R"), at("tread.wet-advice", finding.Plan, "1L")}, closed: 1, hold: NoHoldFound, urgency: finding.Plan},
		"cannot tell":                 {findings: []finding.Finding{doubtful(at("tread.legal-limit", finding.BeforeDriving, "1L"))}, hold: CannotTell, urgency: finding.BeforeDriving, at: "1L"},
		"a law that may apply":        {findings: []finding.Finding{candidate(at("tread.legal-limit", finding.BeforeDriving, "1R"))}, hold: CannotTell, urgency: finding.BeforeDriving, at: "1R"},
		"one proved among the others": {findings: []finding.Finding{doubtful(at("tread.legal-limit", finding.BeforeDriving, "1L")), at("inflation.flat", finding.BeforeDriving, "2L")}, hold: OffTheRoad, urgency: finding.BeforeDriving, at: "2L"},
		"tread not read":              {change: func(v *visit.Visit, _ *Verdict) { v.Wheels[1].Depths = nil }, hold: CannotTell, at: "1R"},
		"pressure not read":           {change: func(v *visit.Visit, _ *Verdict) { v.Wheels[0].Pressure.Read = unit.None }, hold: CannotTell, at: "1L"},
		"outer sidewall not seen":     {change: func(v *visit.Visit, _ *Verdict) { v.Wheels[3].Looked = nil }, hold: CannotTell, at: "2R"},
		"a wheel not reported":        {change: func(v *visit.Visit, _ *Verdict) { v.Wheels = v.Wheels[:3] }, hold: CannotTell, at: "2R"},
		"spare not reported": {change: func(_ *visit.Visit, out *Verdict) {
			out.NotLooked = []questions.NotLooked{{What: finding.LookedWheel, Positions: []layout.Position{layout.MustParse("S")}}}
		}, hold: NoHoldFound},
		"wheels nobody knows":    {change: func(v *visit.Visit, _ *Verdict) { v.Vehicle.Axles = nil }, hold: CannotTell},
		"a tire without a place": {change: func(v *visit.Visit, _ *Verdict) { v.Wheels = []visit.Wheel{{}} }, hold: CannotTell, at: "1L 1R 2L 2R"},
		"not judged here":        {change: func(v *visit.Visit, _ *Verdict) { v.Vehicle.Class = layout.Race }, hold: CannotTell},
	} {
		v, out := seenWhole()
		out.Findings, out.Closed = c.findings, map[string]unit.Amount{}
		for _, f := range c.findings[:c.closed] {
			out.Closed[f.ID()] = unit.Amount{}
		}
		if c.change != nil {
			c.change(&v, &out)
		}
		h := HeadlineOf(v, out)
		var places string
		for _, p := range h.Positions {
			places += " " + p.String()
		}
		if h.Hold != c.hold || h.Urgency != c.urgency || places != "" && places[1:] != c.at || places == "" && c.at != "" {
			t.Errorf("%s: %+v at%s", name, h, places)
		}
		if !slices.IsSortedFunc(h.Positions, layout.Position.Compare) {
			t.Errorf("%s: positions out of order", name)
		}
	}
}

// What leaves open whether a vehicle is held (common practice): each alone, on a vehicle
// of which all else was read and seen.
func TestHeadlineCannotTell(t *testing.T) {
	found := func(code finding.Code, u finding.Urgency, o measure.Outcome) func(*visit.Visit, *Verdict) {
		return func(_ *visit.Visit, out *Verdict) {
			out.Findings = []finding.Finding{{Code: code, Urgency: u, Outcome: o, Positions: []layout.Position{layout.MustParse("1L")}}}
		}
	}
	wheel := func(change func(*visit.Wheel)) func(*visit.Visit, *Verdict) {
		return func(v *visit.Visit, _ *Verdict) { change(&v.Wheels[0]) }
	}
	observed := func(kind finding.Observation) func(*visit.Visit, *Verdict) {
		return wheel(func(w *visit.Wheel) { w.Observations = []visit.Observation{{Kind: kind}} })
	}
	for name, change := range map[string]func(*visit.Visit, *Verdict){
		"an inner dual not gauged": func(v *visit.Visit, _ *Verdict) {
			*v = seenOn(layout.Vehicle{Class: layout.Heavy, Axles: []layout.Axle{{}, {Dual: true}}})
			i := slices.IndexFunc(v.Wheels, func(w visit.Wheel) bool { return w.Position.Dual == layout.Inner })
			v.Wheels[i].Pressure.Read = unit.None
		},
		"pressures alone": func(v *visit.Visit, _ *Verdict) {
			for i := range v.Wheels {
				v.Wheels[i].Depths, v.Wheels[i].Looked = nil, nil
			}
		},
		"an object, and not known whether through":  found(finding.PunctureInspectInside, finding.ThisVisit, measure.NotCompared),
		"half to 80 % of the label":                 found(finding.InflationFindLeak, finding.ThisVisit, measure.Below),
		"driven low, not known":                     found(finding.InflationRunLowUndecided, finding.ThisVisit, measure.CannotTell),
		"at a limit in use, within its uncertainty": found(finding.TreadLegalLimit, finding.BeforeDriving, measure.CannotTell),
		"a reading in doubt":                        found(finding.TreadOddReading, finding.ThisVisit, measure.NotCompared),
		"a cut not probed":                          found(finding.DamageCut, finding.ThisVisit, measure.NotCompared),
		"a repair of a kind nobody knows":           observed(finding.ObservedEarlierRepair),
		"sealant in it":                             observed(finding.ObservedSealantInside),
		"off elsewhere, without a torque record":    found(finding.TorqueNoRecord, finding.ThisVisit, measure.NotCompared),
		"may be coming loose, fasteners not seen": func(_ *visit.Visit, out *Verdict) {
			out.Work = []order.Work{{Code: finding.WorkFastenersLook, Positions: []layout.Position{layout.MustParse("1L")}}}
		},
		"a temporary spare on the road, its limits not read": func(v *visit.Visit, _ *Verdict) {
			v.SpareReport = &visit.SpareReport{InService: layout.MustParse("1L")}
		},
		"loaded, and nothing known of its loads": func(v *visit.Visit, _ *Verdict) { v.Loaded = finding.Yes },
		"a law that may bind it": func(_ *visit.Visit, out *Verdict) {
			out.Findings = []finding.Finding{{Code: finding.TreadLegalLimit, Urgency: finding.ThisVisit, Outcome: measure.Below, Candidate: true}}
		},
		"tread under mud": wheel(func(w *visit.Wheel) {
			w.Looked = append(w.Looked, visit.Looked{What: finding.LookedTreadFullTurn, NotBecause: finding.NotLookedCovered})
		}),
		"a class not judged here": func(v *visit.Visit, _ *Verdict) { v.Vehicle.Class = layout.Motorcycle },
	} {
		v, out := seenWhole()
		if change(&v, &out); HeadlineOf(v, out).Hold != CannotTell {
			t.Errorf("%s: %+v", name, HeadlineOf(v, out))
		}
	}
	worn, out := seenWhole()
	if found(finding.TreadWornToBars, finding.ThisVisit, measure.CannotTell)(&worn, &out); HeadlineOf(worn, out).Hold != NoHoldFound {
		t.Error("worn to the bars is a condition, and holds nothing by itself")
	}
	truck := seenOn(layout.Vehicle{Class: layout.Heavy, Axles: []layout.Axle{{}, {Dual: true}}})
	if h := HeadlineOf(truck, spokenOf(truck)); h.Hold != NoHoldFound || len(h.Positions) != 2 {
		t.Errorf("between the duals nobody saw: %+v", h)
	}
}
