package tread

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
)

// WinterResult is what the rules on winter tires come to for one tire.
type WinterResult struct {
	Findings []finding.Finding
	Met      []Checked
	Missing  []finding.Question // questions whose answers would allow more
}

// Winter holds one tire against the rules on winter tires, by season, road, mark
// and depth. A rule of the road is told with its condition when nobody said what
// the road is like; a tire whose mark nobody read is judged as if it carried it,
// and asked about.
func Winter(c Context, w Wheel) (r WinterResult) {
	if w.Position.Spare {
		return r
	}
	s, read := Summarize(w)
	for _, b := range c.Books {
		for _, l := range b.Limits {
			if !l.AppliesTo(c.Vehicle, w.Position) || !ofConstruction(b.Book, l, w) {
				continue
			}
			switch l.Subject {
			case rulebook.Studs:
				r.studs(c, w, b.For(l), l)
				continue
			case rulebook.WinterAdvised:
				if b.For(l).Candidate {
					continue // advice of a place in which nobody said that it is driven
				}
			case rulebook.WinterTire:
				if l.Winter.SparesSpare && w.SpareRuns {
					continue
				}
			default:
				continue
			}
			if h := c.holds(b.Book, *l.Winter); h.by != finding.UrgencyNotTold {
				r.judge(c, w, b.For(l), l, h, s, read)
			}
		}
	}
	return r
}

// studs holds a studded tire against a law that bars studs, or bars them out of a season.
// The day not told, it is not judged, and is asked anyway; on which road, as far as the law
// goes by it.
func (r *WinterResult) studs(c Context, w Wheel, b rulebook.Applied, l rulebook.Limit) {
	if w.Studded != finding.Yes {
		return
	}
	if s := l.Winter; s != nil {
		byRoad := s.Trigger == rulebook.InSeasonOrConditions
		switch {
		case s.Covers(c.AsOf) != finding.No, byRoad && c.Wintry == finding.Yes:
			return
		case byRoad && c.Wintry != finding.No:
			r.miss(finding.AskSnowSlushOrIce)
			b.Candidate = true
		}
	}
	r.Findings = append(r.Findings, finding.Finding{Code: finding.TreadStudsBarred, Urgency: finding.ThisVisit, Rule: b.RuleOf(l), Candidate: b.Candidate, Positions: []layout.Position{w.Position}})
}

// ofConstruction leaves a cross-ply tire to the limit for those, where the book
// has one. A tire is taken as radial unless it is told to be cross-ply.
func ofConstruction(b *rulebook.Book, l rulebook.Limit, w Wheel) bool {
	if l.Applies.CrossPly || !w.CrossPly {
		return l.Applies.CrossPly == w.CrossPly
	}
	for _, o := range b.Limits {
		if o.Winter != nil && o.Applies.CrossPly && o.Applies.RatingOver == l.Applies.RatingOver {
			return false
		}
	}
	return true
}

// holding tells by when a rule on winter tires has to be met, and why.
type holding struct {
	by  finding.Urgency // not told: it does not hold
	why finding.Fact
	ask finding.Question
}

// holds: in its season, or on the road it speaks of, a rule is met at this visit;
// on a clear road, or where a sign may call for winter tires, it is planned for.
func (c Context) holds(b *rulebook.Book, w rulebook.Winter) holding {
	season := w.Covers(c.AsOf)
	if w.Trigger == rulebook.InSeasonOrConditions && season != finding.Yes {
		switch {
		case c.Wintry == finding.Yes:
			return holding{by: finding.ThisVisit, why: finding.FactTreadWinterRoadWintry}
		case c.Wintry != finding.No && season == finding.No && b.WinterNear(c.AsOf):
			return holding{by: finding.ThisVisit, why: finding.FactTreadWinterRoadNotAsked, ask: finding.AskSnowSlushOrIce}
		}
	}
	switch {
	case season == finding.No:
		return holding{}
	case w.Trigger == rulebook.WheneverFitted:
		return holding{by: finding.ThisVisit, why: finding.FactTreadWinterWheneverFitted}
	case w.Trigger == rulebook.OnSignedRoads && w.Required:
		return holding{by: finding.Plan, why: finding.FactTreadWinterSignedRoads}
	case w.Trigger == rulebook.OnSignedRoads:
		return holding{by: finding.Note, why: finding.FactTreadWinterSignedRoads}
	case (w.Trigger == rulebook.InSeason || w.Trigger == rulebook.InSeasonOrConditions) && season == finding.NotKnown:
		return holding{by: finding.Plan, why: finding.FactTreadWinterDayNotTold}
	case w.Trigger == rulebook.InSeason, w.Trigger == rulebook.InSeasonOrConditions:
		return holding{by: finding.ThisVisit, why: finding.FactTreadWinterInSeason}
	case c.Wintry == finding.Yes:
		return holding{by: finding.ThisVisit, why: finding.FactTreadWinterRoadWintry}
	case !w.HasSeason() && !c.AsOf.IsZero() && !b.WinterNear(c.AsOf):
		return holding{} // nobody plans for snow in June
	case c.Wintry == finding.No:
		return holding{by: finding.Plan, why: finding.FactTreadWinterRoadClear}
	}
	return holding{by: finding.ThisVisit, why: finding.FactTreadWinterRoadNotAsked, ask: finding.AskSnowSlushOrIce}
}

// counts tells whether the tire carries a mark by which the rule knows a winter tire.
func (w Wheel) counts(m rulebook.Mark) finding.Answer {
	return m.On(w.ThreePeaks, w.MudAndSnow, w.Studded)
}

// byMark tells that a mark, or that there is none, decides what a rule asks for, whatever
// the depth.
func (r *WinterResult) byMark(w Wheel, b rulebook.Applied, l rulebook.Limit, mark finding.Answer, nothing bool) bool {
	deep := l.Winter.DepthWillDo
	switch {
	case deep && mark == finding.Yes:
		r.Met = append(r.Met, Checked{Code: finding.CheckedTreadWinterMark, Position: w.Position, Rule: b.RuleOf(l), Candidate: b.Candidate})
		return true
	case deep && nothing: // the depth is asked for anyway
		return true
	case mark == finding.No && !l.Winter.Required: // no winter tire, and none is asked for
		return true
	case mark != finding.Yes && !l.Winter.Required && l.Winter.Trigger == rulebook.OnSignedRoads:
		return true // what may be used there is asked when it is to be used there
	case mark == finding.NotKnown && l.Winter.Required && !deep:
		r.miss(finding.AskWinterMark)
	}
	return mark == finding.NotKnown && nothing
}

func (r *WinterResult) judge(c Context, w Wheel, b rulebook.Applied, l rulebook.Limit, h holding, s Summary, read bool) {
	mark := w.counts(l.Winter.MarkOn(c.AsOf))
	nothing := l.Value.IsZero() || !read // to compare
	deep := l.Winter.DepthWillDo         // without a mark
	if r.byMark(w, b, l, mark, nothing) {
		return
	}
	f := finding.Finding{Urgency: h.by, Rule: b.RuleOf(l), Candidate: b.Candidate, Positions: []layout.Position{w.Position}}
	why := finding.Evidence{Code: h.why}
	switch {
	case mark == finding.No && !deep:
		f.Code, f.Evidence = finding.TreadWinterMark, []finding.Evidence{why}
		r.find(f, h)
		return
	case nothing:
		if l.Value.IsZero() && mark == finding.Yes {
			r.Met = append(r.Met, Checked{Code: finding.CheckedTreadWinterMark, Position: w.Position, Rule: f.Rule, Candidate: b.Candidate})
		}
		return
	}
	compare := measure.AtLeast(s.Reading, l.Depth())
	f.Code = finding.TreadWinterMinimum
	if l.Subject == rulebook.WinterAdvised || l.Authority == finding.Shop {
		f.Code, f.Urgency = finding.TreadWinterTireAdvice, max(f.Urgency, finding.Plan)
	}
	f.Place = placeOf(s.Governing)
	f = finding.Compared(f, s.Reading, l.Depth(), l.Value.Unit, compare)
	if compare.Outcome == measure.Above {
		if (mark == finding.Yes || deep) && l.Authority == finding.LawInUse {
			r.Met = append(r.Met, Checked{finding.CheckedTreadWinterMinimum, w.Position, f.Measured, f.Limit, f.Rule, b.Candidate})
		}
		return
	}
	if mark != finding.Yes && l.Winter.Trigger == rulebook.WheneverFitted {
		r.miss(finding.AskWinterMark)
		return
	}
	f.Evidence = []finding.Evidence{{Code: finding.FactTreadAsRead, Amount: s.Governing.At.AsRead}, why}
	if s.Odd != nil && s.Odd.same(s.Governing) {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactTreadUnconfirmed, Against: true})
	}
	if mark == finding.NotKnown {
		r.miss(finding.AskWinterMark)
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactTreadWinterMarkNotRead})
	}
	if compare.Outcome == measure.CannotTell {
		f.ToSettle = finding.SettleFinerGauge
	}
	r.find(f, h)
}

func (r *WinterResult) find(f finding.Finding, h holding) {
	if h.ask != "" {
		r.miss(h.ask)
	}
	r.Findings = append(r.Findings, f)
}

func (r *WinterResult) miss(c finding.Question) { r.Missing = append(r.Missing, c) }
