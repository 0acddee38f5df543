package questions

import (
	"time"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// HeatIn is what was read of the pressures, and what laws there are.
type HeatIn struct {
	Laws   Laws
	Wheels []visit.Wheel
	Airs   Airs
}

// heatWithin is how long before a reading a drive still counts (49 CFR 393.75(i)(2)).
const heatWithin = time.Hour

// Heat holds warm readings of tires that nothing else is said of against the law's own
// test: an allowance for heat comes off them. It counts for a drive at 41 to 55 mph,
// which nobody tells, so that it is a note that asks for a cold reading. A law that
// only may bind says nothing here.
func Heat(in HeatIn) (out Answer) {
	for _, b := range in.Laws.Books {
		limits := b.About(rulebook.HeatAllowance)
		if b.Candidate || len(limits) == 0 {
			continue
		}
		for _, w := range in.Wheels {
			air, was := in.Airs.Wheels[w.Position], in.Airs.Results[w.Position]
			if w.Position.Spare || air.Read == unit.None || air.Label == 0 || was.NoAir || !air.Warmed(heatWithin) || was.Wanting() {
				continue
			}
			l, told := allowance(b, w)
			if !told {
				continue // a note is worth no question
			}
			v := air.Gauge.Read(air.Found)
			v.Of -= l.Pressure()
			if measure.AtLeast(measure.Exact(v.Of), air.Label).Outcome != measure.Below {
				continue
			}
			f := finding.Finding{
				Code: finding.InflationHeatAllowance, Urgency: finding.Note, Rule: b.RuleOf(l), ToSettle: finding.SettleReadCold,
				Evidence: []finding.Evidence{
					{Code: finding.FactInflationRead, Amount: air.Shown(air.Found)},
					{Code: finding.FactInflationAllowance, Amount: air.Shown(l.Pressure())},
				},
			}
			f.Positions = append(f.Positions, w.Position)
			f = finding.Compared(f, v, air.Label, air.ShownIn(), measure.AtLeast(v, air.Label))
			f.Outcome = measure.CannotTell
			out.find(f)
		}
	}
	return out
}

// allowance is the row of the law's table by the load that a tire is made for.
func allowance(b rulebook.Applied, w visit.Wheel) (rulebook.Limit, bool) {
	rating, _ := w.Tire.Rating()
	rated := max(rating.Single, w.Tire.LoadSingle)
	if rated == 0 {
		return rulebook.Limit{}, false
	}
	if measure.AtMost(measure.Exact(rated), b.Limit("heat-rating").Mass()).Outcome == measure.Above {
		return b.Limit("heat-over"), true
	}
	return b.Limit("heat-up-to"), true
}
