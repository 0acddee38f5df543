package questions

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// AgeIn is when the tires were made, and the day that they are judged by.
type AgeIn struct {
	Laws   Laws
	AsOf   unit.Date // zero: not judged by date
	Wheels []visit.Wheel
}

// Age holds tires against the laws on their age. Age alone keeps a vehicle from
// driving only where such a law binds it.
func Age(in AgeIn) (out Answer) {
	if in.AsOf.IsZero() {
		return out
	}
	for _, b := range in.Laws.Books {
		for _, l := range b.About(rulebook.TireAge) {
			b := b.For(l)
			bySeats := l.Applies.SeatsOver > 0 && in.Laws.Vehicle.Seats == 0
			b.Candidate = b.Candidate || bySeats
			for _, w := range in.Wheels {
				if !l.AppliesTo(in.Laws.Vehicle, w.Position) {
					continue
				}
				if bySeats {
					out.ask(finding.AskSeats)
				}
				if w.Tire.Made == (sidewall.Made{}) {
					out.ask(finding.AskWeekOfMaking, w.Position)
					continue
				}
				out.age(b, l, w, in.AsOf)
			}
		}
	}
	return out
}

func (a *Answer) age(b rulebook.Applied, l rulebook.Limit, w visit.Wheel, asOf unit.Date) {
	age := w.Tire.Made.Age(asOf).Rounded()
	f := finding.Finding{
		Code: finding.AgeLegalLimit, Urgency: finding.BeforeDriving, Positions: []layout.Position{w.Position}, Outcome: overYears(w.Tire.Made, asOf, int(l.Value.Number)),
		Measured: age, Limit: l.Value, Rule: b.RuleOf(l), Candidate: b.Candidate,
	}
	if b.Candidate {
		f.Urgency = finding.ThisVisit
	}
	switch f.Outcome {
	case measure.Below:
		a.addMet(Checked{finding.CheckedAgeLegalLimit, f.Positions, f.Measured, f.Limit, f.Rule, f.Candidate})
		return
	case measure.CannotTell:
		f.ToSettle = finding.SettleDayOfMaking
	}
	a.find(f)
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
