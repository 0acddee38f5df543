package fitment

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// barred holds each tire on the road against the laws that bar a kind of tire from its
// place: retreads and regrooved tires, and those that their maker marked as not for
// highway use. Such a mark bars a tire without a law.
func (j *fitting) barred() {
	for _, w := range j.road {
		regrooved := w.Tire.Regrooved == finding.Yes
		if w.Tire.NotForHighway == finding.Yes {
			f := practice(finding.FitmentNotForHighway, finding.BeforeDriving, w.At)
			f.Rule = finding.Rule{Authority: finding.Maker, Citation: "tire maker's sidewall marking", Known: finding.Reported}
			if law := f; j.underLaw(&law, rulebook.NotForHighway) && !law.Candidate {
				f = law // the mark bars the tire by itself: a law that only may bind adds nothing
			}
			j.find(f)
		}
		if w.Tire.Retread == finding.Yes || regrooved {
			j.byKind(w, finding.FitmentRetreadOnFront, rulebook.RetreadOnFront)
		}
		if regrooved {
			j.byKind(w, finding.FitmentRegroovedBarred, rulebook.Regrooved)
		}
	}
}

// byKind finds the first law that bars a tire from its place; one that certainly
// binds goes before one that may. A law may spare tires of less than a load. Laws of
// further places that say the same are named beside it.
func (j *fitting) byKind(w Wheel, code finding.Code, s rulebook.Subject) {
	for _, candidate := range []bool{false, true} {
		var found []finding.Finding
		for _, b := range j.Books {
			for _, l := range b.About(s) {
				if b.For(l).Candidate != candidate || !l.AppliesTo(j.Layout, w.At) || len(found) > 0 && !b.Named {
					continue
				}
				f := finding.Finding{Code: code, Urgency: finding.BeforeDriving, Positions: []layout.Position{w.At}, Rule: b.RuleOf(l), Candidate: candidate}
				if candidate {
					f.Urgency = finding.ThisVisit
				}
				if !l.Value.IsZero() && !j.carriesAsMuch(w, &f, l) {
					continue
				}
				same := slices.IndexFunc(found, func(o finding.Finding) bool { return o.Code == f.Code && o.Outcome == f.Outcome })
				switch {
				case same < 0:
					found = append(found, f)
				case same >= 0 && !candidate:
					found[same] = found[same].Also(f.Rule)
				}
			}
		}
		if len(found) > 0 {
			j.find(found...)
			return
		}
	}
}

// carriesAsMuch tells whether a tire is made for the load of a law, or more. Where
// nobody read it, it cannot be told, and is asked.
func (j *fitting) carriesAsMuch(w Wheel, f *finding.Finding, l rulebook.Limit) bool {
	if w.Tire.Regrooved != finding.Yes {
		return false // a law by load speaks of regrooved tires alone
	}
	rated, told := w.Tire.Printed.Single, w.Tire.Printed.Single > 0
	if r, _ := sidewall.RatingOf(w.Tire.Marking, w.Tire.Printed); r.Single > 0 && !told {
		rated, told = r.Single, true
	}
	f.Code = finding.FitmentRegroovedOnFront
	least := l.Mass()
	if !told {
		f.Outcome, f.Limit, f.ToSettle = measure.CannotTell, l.Value, finding.SettleReadMaximumLoad
		j.ask(finding.AskLoadRating, w.At)
		return true
	}
	c := measure.AtLeast(measure.Exact(rated), least)
	*f = finding.Compared(*f, measure.Exact(rated), least, l.Value.Unit, c)
	return c.Outcome != measure.Below
}

// belowAxle holds what the tires of an axle are made for against the axle's rating,
// where every one of them was read.
func (j *fitting) belowAxle() {
	book := rulebook.Must("load")
	reserve := book.Limit("passenger-on-truck")
	for i, a := range j.Layout.Axles {
		ws := j.ends(i + 1)
		if a.Rating == 0 || len(ws) == 0 || len(ws) != len(slices.DeleteFunc(j.Layout.Positions(), func(p layout.Position) bool { return p.Axle != i+1 })) {
			continue
		}
		var sum unit.Mass
		divided := false
		for _, w := range ws {
			r, known := sidewall.RatingOf(w.Tire.Marking, w.Tire.Printed)
			rated, told := r.Rated(w.At.Dual != layout.Single)
			if !known || !told || j.temporary(w) {
				sum = a.Rating // not all were read, or a spare stands in: nothing is said
				break
			}
			if w.Tire.Marking.Class.Passenger() && j.Layout.Class != layout.ClassNotTold && reserve.AppliesTo(j.Layout, w.At) {
				rated, divided = rated/unit.Mass(reserve.Ratio()), true
			}
			sum += rated
		}
		c := measure.AtLeast(measure.Exact(sum), a.Rating)
		if c.Outcome != measure.Below {
			continue
		}
		f := finding.Finding{Code: finding.FitmentLoadBelowAxle, Urgency: finding.ThisVisit, Positions: places(ws), Rule: book.RuleOf(book.Limit("axle-rating"))}
		if divided {
			f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactFitmentPassengerDivided, Amount: reserve.Value})
		}
		shown := unit.Pounds
		if rulebook.Metric(j.Books) {
			shown = unit.Kilograms
		}
		j.find(finding.Compared(f, measure.Exact(sum), a.Rating, shown, c))
	}
}
