package questions

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// TowingIn is what was read of the pressures of a vehicle that may tow.
type TowingIn struct {
	Laws   Laws
	Labels visit.Labels
	Tows   finding.Answer // the vehicle pulls a trailer
	Wheels []visit.Wheel
	Airs   Airs
}

// Towing holds the pressures of a vehicle that tows against a law that asks for more than
// the label's for normal load then. It is to be met before a trailer is pulled: the
// label stays what the tires are set to. Nothing is said against a sidewall
// that allows less.
func Towing(in TowingIn) (out Answer) {
	if in.Tows != finding.Yes {
		return out
	}
	for _, b := range in.Laws.Books {
		for _, l := range b.About(rulebook.TowingPressure) {
			for _, w := range in.Wheels {
				in.wheel(&out, b.For(l), l, w)
			}
		}
	}
	return out
}

func (in TowingIn) wheel(out *Answer, b rulebook.Applied, l rulebook.Limit, w visit.Wheel) {
	normal, shown := in.Labels.ColdWhen(w.Position, finding.No)
	air, was := in.Airs.Wheels[w.Position], in.Airs.Results[w.Position]
	least := normal + l.Pressure()
	if w.Position.Spare || normal == 0 || air.Read == unit.None || was.NoAir || !l.AppliesTo(in.Laws.Vehicle, w.Position) || w.Tire.Sidewall > 0 && w.Tire.Sidewall < least {
		return
	}
	cold := was.Cold.Value
	c := measure.AtLeast(cold, least)
	f := finding.Finding{Code: finding.InflationTowing, Urgency: finding.Plan, Caution: finding.CautionAddingAir, Positions: []layout.Position{w.Position}, Rule: b.RuleOf(l), Candidate: b.Candidate}
	f = finding.Compared(f, cold, least, shown, c)
	if c.Outcome == measure.Above {
		out.addMet(Checked{Code: finding.CheckedInflationTowing, Positions: f.Positions, Measured: f.Measured, Limit: f.Limit, Rule: f.Rule, Candidate: f.Candidate})
		return
	}
	if c.Outcome == measure.CannotTell {
		if f.ToSettle = finding.SettleReadBetterGauge; was.Cold.About {
			f.ToSettle = finding.SettleReadCold
		}
	}
	f.Evidence = []finding.Evidence{{Code: finding.FactInflationLabel, Amount: air.Shown(normal)}, {Code: finding.FactInflationTowingAdded, Amount: air.Shown(l.Pressure())}}
	out.find(f)
}
