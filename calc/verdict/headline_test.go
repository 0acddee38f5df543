package verdict

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// seenWhole is a two-axle car every road wheel of which was read and seen whole.
func seenWhole() (visit.Visit, Verdict) {
	v := visit.Visit{Vehicle: layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}}
	var out Verdict
	for _, p := range v.Vehicle.Positions() {
		out.Wheels = append(out.Wheels, Summary{Position: p, Tread: &tread.Result{}, Pressure: visit.Pressure{Read: unit.PSI}, Full: true})
	}
	return v, out
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
		"tread not read":              {change: func(_ *visit.Visit, out *Verdict) { out.Wheels[1].Tread = nil }, hold: CannotTell, at: "1R"},
		"pressure not read":           {change: func(_ *visit.Visit, out *Verdict) { out.Wheels[0].Pressure.Read = unit.None }, hold: CannotTell, at: "1L"},
		"not seen whole":              {change: func(_ *visit.Visit, out *Verdict) { out.Wheels[3].Full = false }, hold: CannotTell, at: "2R"},
		"a wheel not reported": {change: func(_ *visit.Visit, out *Verdict) {
			out.Wheels = out.Wheels[:3]
			out.NotLooked = []questions.NotLooked{{What: finding.LookedWheel, Positions: []layout.Position{layout.MustParse("2R"), layout.MustParse("S")}}}
		}, hold: CannotTell, at: "2R"},
		"spare not reported": {change: func(_ *visit.Visit, out *Verdict) {
			out.NotLooked = []questions.NotLooked{{What: finding.LookedWheel, Positions: []layout.Position{layout.MustParse("S")}}}
		}, hold: NoHoldFound},
		"wheels nobody knows":    {change: func(v *visit.Visit, _ *Verdict) { v.Vehicle.Axles = nil }, hold: CannotTell},
		"a tire without a place": {change: func(v *visit.Visit, out *Verdict) { out.Wheels = []Summary{{Full: true}} }, hold: CannotTell},
		"not judged here":        {change: func(v *visit.Visit, _ *Verdict) { v.Vehicle.Class = layout.Race }},
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
