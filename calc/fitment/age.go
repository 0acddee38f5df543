package fitment

import (
	"cmp"
	"math"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// ages: no age by itself keeps a vehicle from driving. At the tire maker's
// limit, or where none was told at the years that makers commonly name,
// replacement is planned; before that it is a note.
func (j *fitting) ages() {
	if j.AsOf.IsZero() {
		return
	}
	for _, w := range j.Wheels {
		j.age(w)
	}
	j.apartOnAxle()
	j.asOldAsCracked()
}

func known(m sidewall.Made) bool { return m.Week > 0 }

func (j *fitting) age(w Wheel) {
	if !known(w.Tire.Made) || j.lawOfAge(w.At) {
		return
	}
	age := w.Tire.Made.Age(j.AsOf)
	code, l, urgency := finding.AgeCheckYearly, book.Limit("age-check"), finding.Note
	limit, rule := l.Value, book.RuleOf(l)
	replace := book.Limit("age-replace")
	switch after := float64(w.Tire.ReplaceAfter); {
	case after > 0 && age.Number >= after:
		code, urgency, limit = finding.AgeReplaceAdvised, finding.Plan, unit.Amount{Number: after, Unit: unit.Years}
		rule = finding.Rule{ID: "maker.replace-after", Authority: finding.Maker, Citation: "tire maker's figure", Known: finding.Reported}
	case after == 0 && age.Number >= replace.Value.Number:
		code, urgency, limit, rule = finding.AgeReplaceAdvised, finding.Plan, replace.Value, book.RuleOf(replace)
	case age.Number < limit.Number:
		return
	}
	f := finding.Finding{Code: code, Urgency: urgency, Positions: []layout.Position{w.At}, Outcome: measure.Above,
		Measured: wholeYears(age), Limit: limit, Rule: rule}
	f.Evidence = append(f.Evidence,
		finding.Evidence{Code: finding.FactAgeMadeWeek, Amount: unit.Amount{Number: float64(w.Tire.Made.Week), Unit: unit.Count}},
		finding.Evidence{Code: finding.FactAgeMadeYear, Amount: unit.Amount{Number: float64(w.Tire.Made.Year), Unit: unit.Count}})
	if code == finding.AgeCheckYearly && w.Tire.ReplaceAfter == 0 {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactAgeCommonlyReplacedBy, Amount: replace.Value})
	}
	if w.Tire.Fitted != (unit.Date{}) && w.Tire.Fitted.DaysUntil(j.AsOf) >= 0 {
		since := unit.Amount{Number: float64(w.Tire.Fitted.DaysUntil(j.AsOf)) / 365.2425, Unit: unit.Years}
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactAgeYearsSinceFitted, Amount: since.Rounded()})
	}
	if j.byAge(w.At) {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactAgeGovernsBeforeTread})
	}
	j.find(f)
}

// lawOfAge tells where a law has its own say on age, and is judged by itself.
func (j *fitting) lawOfAge(p layout.Position) bool {
	return slices.ContainsFunc(j.Books, func(b rulebook.Applied) bool {
		return slices.ContainsFunc(b.About(rulebook.TireAge), func(l rulebook.Limit) bool { return l.AppliesTo(j.Layout, p) })
	})
}

// wholeYears is an age as people say it: nine years until the tenth is full.
func wholeYears(a unit.Amount) unit.Amount {
	return unit.Amount{Number: math.Floor(a.Number), Unit: unit.Years}
}

// byAge tells where age ends a tire's life before tread does.
func (j *fitting) byAge(p layout.Position) bool {
	return p.Spare || j.Layout.Class == layout.Trailer || j.Layout.Class == layout.Motorhome
}

// apartOnAxle: tires of one axle that were made years apart were not bought as a
// pair.
func (j *fitting) apartOnAxle() {
	l := book.Limit("age-apart")
	for axle := range j.Layout.Axles {
		var told []Wheel
		for _, w := range j.ends(axle + 1) {
			if known(w.Tire.Made) && !j.temporary(w) {
				told = append(told, w)
			}
		}
		if len(told) < 2 {
			continue
		}
		later := func(a, b Wheel) int { return cmp.Compare(yearsBetween(b.Tire.Made, a.Tire.Made), 0) }
		oldest, newest := slices.MinFunc(told, later).Tire.Made, slices.MaxFunc(told, later).Tire.Made
		apart := unit.Amount{Number: yearsBetween(oldest, newest), Unit: unit.Years}
		if apart.Number < l.Value.Number {
			continue
		}
		old := slices.DeleteFunc(told, func(w Wheel) bool { return w.Tire.Made != oldest })
		j.find(finding.Finding{Code: finding.AgeApartOnAxle, Urgency: finding.Note, Positions: places(old), Outcome: measure.Above,
			Measured: apart.Rounded(), Limit: l.Value, Rule: book.RuleOf(l)})
	}
}

// yearsBetween is how much later b was made than a.
func yearsBetween(a, b sidewall.Made) float64 {
	day := unit.Date{Year: 2000, Month: 1, Day: 1}
	return a.Age(day).Number - b.Age(day).Number
}

// asOldAsCracked: where joined cracks finish a tire of a trailer, those as old,
// the spare among them, are replaced with it (common practice).
func (j *fitting) asOldAsCracked() {
	if j.Layout.Class != layout.Trailer {
		return
	}
	l := book.Limit("age-together")
	for _, w := range j.Wheels {
		if w.Tire.Cracked || !known(w.Tire.Made) || w.Tire.Made.Age(j.AsOf).Number < book.Limit("age-check").Value.Number {
			continue
		}
		for _, o := range j.Wheels {
			if !o.Tire.Cracked || !known(o.Tire.Made) || yearsBetween(o.Tire.Made, w.Tire.Made) > l.Value.Number {
				continue
			}
			j.find(finding.Finding{Code: finding.AgeAsOldAsCracked, Urgency: finding.ThisVisit, Positions: []layout.Position{w.At},
				Measured: wholeYears(w.Tire.Made.Age(j.AsOf)), Rule: book.RuleOf(l)})
			break
		}
	}
}
