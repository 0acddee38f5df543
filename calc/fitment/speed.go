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

// madeFor is the speed that a tire's symbol stands for; open for one that is made for more
// than its figure, by how much only its maker tells.
func madeFor(m sidewall.Marking) (s unit.Speed, open, ok bool) {
	v, ok := m.Speed.Speed()
	if !ok {
		return 0, false, false
	}
	return unit.MustSpeed(v.Number, v.Unit), m.Speed == "ZR" || m.Speed == "(Y)", true
}

// slower holds the speed that each tire on the road is made for against the laws that let
// one be slower than the vehicle, or ask for a least speed of every tire.
func (j *fitting) slower() {
	for _, w := range j.road {
		if _, open, ok := madeFor(w.Tire.Marking); !ok || open || j.temporary(w) {
			continue
		}
		for _, b := range j.Books {
			for _, l := range b.About(rulebook.SlowerTire) {
				if l.AppliesTo(j.Layout, w.At) {
					j.slowerBy(w, b.For(l), l)
				}
			}
		}
	}
}

// slowerBy holds one tire against one law. How fast the vehicle is decides, and is asked
// for where the tire may be slower: one that is below the label's symbol, or below what
// the law asks of every tire.
func (j *fitting) slowerBy(w Wheel, b rulebook.Applied, l rulebook.Limit) {
	have, _, _ := madeFor(w.Tire.Marking)
	least, top := l.Speed(), j.Layout.Fastest
	if l.Winter != nil {
		if mark := w.counts(l.Winter.MarkOn(j.AsOf)); mark != finding.Yes {
			if mark == finding.NotKnown && top > 0 && have < top {
				j.ask(finding.AskWinterMark, w.At)
			}
			return
		}
	}
	may := top == 0 && (l.Winter != nil && j.belowLabel(w) || l.Winter == nil && have < least)
	season := allowedOn(l.Winter, j.AsOf)
	switch {
	case may:
		j.ask(finding.AskMaximumSpeed)
		return
	case top == 0 && l.Winter != nil:
		return
	case season == finding.NotKnown && have < top:
		return // the day is asked for anyway
	case season == finding.No, least == 0 && !l.Shown, top > 0 && top < least:
		least = top
	}
	f := finding.Finding{Code: finding.FitmentSpeedByLaw, Urgency: finding.ThisVisit, Positions: []layout.Position{w.At}, Rule: b.RuleOf(l), Candidate: b.Candidate}
	if b.Candidate { // whether it binds a car off the road too is asked of nobody
		f.Urgency = finding.Plan
	}
	f = finding.Compared(f, measure.Exact(have), least, unit.KilometersPerHour, measure.AtLeast(measure.Exact(have), least))
	switch {
	case have < least && b.Candidate && j.has(f.Code, w.At): // another law says so for certain
	case have < least:
		j.find(f)
	case l.Shown && have < top:
		j.shownToDriver(f)
	case least > 0:
		j.Met = append(j.Met, Met{finding.CheckedFitmentSpeedByLaw, f.Positions, f.Measured, f.Limit, f.Rule})
	}
}

// has tells that something is found at a wheel already.
func (j *fitting) has(code finding.Code, at layout.Position) bool {
	return slices.ContainsFunc(j.Findings, func(f finding.Finding) bool { return f.Code == code && slices.Contains(f.Positions, at) })
}

// shownToDriver: a tire slower than the vehicle, where the law asks that its highest speed
// is shown in the driver's view.
func (j *fitting) shownToDriver(f finding.Finding) {
	f.Code, f.Limit, f.Margin, f.Uncertainty, f.Outcome = finding.FitmentSpeedNotShown, unit.Amount{}, unit.Amount{}, unit.Amount{}, measure.NotCompared
	switch j.Shown {
	case finding.Yes:
		j.Met = append(j.Met, Met{finding.CheckedFitmentSpeedShown, f.Positions, unit.Amount{}, unit.Amount{}, f.Rule})
	case finding.No:
		j.find(f)
	default:
		j.ask(finding.AskSpeedShown)
	}
}

// allowedOn tells whether a law lets a tire be slower on a day: of winter tires some do so
// in a season alone.
func allowedOn(w *rulebook.Winter, d unit.Date) finding.Answer {
	if w == nil {
		return finding.Yes
	}
	return w.Covers(d)
}

// counts tells whether a tire carries the mark by which a law knows a winter tire.
func (w Wheel) counts(m rulebook.Mark) finding.Answer {
	return m.On(w.Tire.ThreePeaks, w.Tire.MudAndSnow, w.Tire.Studded)
}

// belowLabel tells that a tire is made for less than the label's.
func (j *fitting) belowLabel(w Wheel) bool {
	have, open, ok := madeFor(w.Tire.Marking)
	want, beyond, asked := madeFor(j.labelOf(w.At))
	if !ok || !asked || open {
		return false
	}
	return have < want || beyond && have <= want
}

// mayBeSlower tells that a law of the place, which holds today, lets this winter tire be
// slower than the vehicle.
func (j *fitting) mayBeSlower(w Wheel) bool {
	for _, b := range j.Books {
		for _, l := range b.About(rulebook.SlowerTire) {
			if l.Winter != nil && l.AppliesTo(j.Layout, w.At) && w.counts(l.Winter.MarkOn(j.AsOf)) == finding.Yes && l.Winter.Covers(j.AsOf) != finding.No {
				return true
			}
		}
	}
	return false
}
