package verdict

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// winter holds every tire against the rules on winter tires.
func (j *judging) winter() {
	for _, w := range j.v.Wheels {
		r := tread.Winter(j.context(), w.Tread(w.Depths, j.v.DepthGauge))
		j.find(r.Findings...)
		for _, k := range r.Kept {
			j.kept(Checked{k.Code, []layout.Position{k.Position}, k.Measured, k.Limit, k.Rule})
		}
		for _, q := range r.Missing {
			j.ask(q, w.Position)
		}
	}
}

// ages holds tires against the laws on their age. Age alone keeps a vehicle from
// driving only where such a law binds it.
func (j *judging) ages() {
	if j.v.AsOf.IsZero() {
		return
	}
	for _, b := range j.books {
		for _, l := range b.About(rulebook.TireAge) {
			b := b
			bySeats := l.Applies.SeatsOver > 0 && j.v.Vehicle.Seats == 0
			b.Candidate = b.Candidate || bySeats
			for _, w := range j.v.Wheels {
				if !l.AppliesTo(j.v.Vehicle, w.Position) {
					continue
				}
				if bySeats {
					j.ask(finding.AskSeats)
				}
				if w.Tire.Made == (sidewall.Made{}) {
					j.ask(finding.AskWeekOfMaking, w.Position)
					continue
				}
				j.age(b, l, w)
			}
		}
	}
}

func (j *judging) age(b rulebook.Applied, l rulebook.Limit, w visit.Wheel) {
	age := w.Tire.Made.Age(j.v.AsOf).Rounded()
	f := finding.Finding{
		Code: finding.AgeLegalLimit, Urgency: finding.BeforeDriving, Positions: []layout.Position{w.Position}, Outcome: overYears(w.Tire.Made, j.v.AsOf, int(l.Value.Number)),
		Measured: age, Limit: l.Value, Rule: b.RuleOf(l), Candidate: b.Candidate,
	}
	if b.Candidate {
		f.Urgency = finding.ThisVisit
	}
	switch f.Outcome {
	case measure.Below:
		j.kept(Checked{finding.CheckedAgeLegalLimit, f.Positions, f.Measured, f.Limit, f.Rule})
		return
	case measure.CannotTell:
		f.ToSettle = finding.SettleDayOfMaking
	}
	j.find(f)
}

// overYears tells whether a tire is more than so many years old, by birthdays:
// above from the day after that of its last possible day of making, open in the
// week of its making, else below. Exactly so many years is not more.
func overYears(m sidewall.Made, asOf unit.Date, years int) measure.Outcome {
	first, last := m.Days()
	first.Year, last.Year = first.Year+years, last.Year+years
	switch {
	case last.DaysUntil(asOf) > 0:
		return measure.Above
	case first.DaysUntil(asOf) > 0:
		return measure.CannotTell
	}
	return measure.Below
}
