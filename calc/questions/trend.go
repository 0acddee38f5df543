package questions

import (
	"maps"
	"math"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// TrendIn are the depths of the tires over time.
type TrendIn struct {
	Laws     Laws
	Day      unit.Date // of the visit
	Odometer unit.Unit // that the odometer was read in
	Wheels   []visit.Wheel
	Treads   Treads
	InDoubt  bool           // how far the vehicle ran between visits
	Moved    finding.Answer // asked today: tires changed places since the visit before, or were turned on their rims
	Depths   []Cause        // what rests on the depths of today
}

// Trend is how long each tire has left, and what its readings over time say of it.
func Trend(in TrendIn) Answer {
	t := trending{TrendIn: in, unit: in.shownIn()}
	if in.InDoubt {
		return t.Answer
	}
	lives := map[layout.Position]life{}
	open := false
	for _, w := range in.Wheels {
		r, read := in.Treads.read(w.Position)
		if w.Position.Spare || !read {
			continue
		}
		grooves := in.follow(w)
		limits := in.lifeLimits(w, r)
		t.grew(w, grooves)
		if t.unforeseen(w, r, grooves, limits[0].depth) {
			open = true
			continue
		}
		for i, l := range limits {
			c, first, ok := t.reaches(w, r, grooves, l)
			if ok && i == 0 {
				lives[w.Position] = life{c, first, l}
				for _, f := range t.unit.doubts(first, true) {
					f.Positions = []layout.Position{w.Position}
					t.find(f)
				}
			}
		}
	}
	if !open {
		t.firstOut(lives)
		t.setOut(lives)
	}
	return t.Answer
}

type trending struct {
	TrendIn
	Answer
	unit shownIn
}

// shownIn are the units of the visit: as depths and odometer were read.
func (in TrendIn) shownIn() shownIn {
	u := shownIn{unit.ThirtySecondsInch, unit.Miles}
	if in.Odometer == unit.Kilometers {
		u.distance = unit.Kilometers
	}
	for _, w := range in.Wheels {
		if r := in.Treads[w.Position]; r.Summary.Governing.At.AsRead.Unit == unit.Millimeters {
			u.depth = unit.Millimeters
		}
	}
	return u
}

// lifeLimit is a depth that ends a tire's use, or its use in winter.
type lifeLimit struct {
	depth     unit.Depth
	value     unit.Amount
	rule      finding.Rule
	candidate bool
}

// lifeLimits are those to look ahead to: the wear bars or, where a law in use asks
// for as much or more, that; what may bind beside it; the advice for winter tires.
func (in TrendIn) lifeLimits(w visit.Wheel, r tread.Result) []lifeLimit {
	advice := rulebook.Must("advice")
	ends := lifeLimit{depth: r.BarLimit.Depth(), value: r.BarLimit.Value, rule: advice.RuleOf(r.BarLimit)}
	var beside []lifeLimit
	for _, b := range in.Laws.Books {
		for _, l := range b.About(rulebook.TreadDepth) {
			if l.Authority != finding.LawInUse || !l.AppliesTo(in.Laws.Vehicle, w.Position) {
				continue
			}
			law := lifeLimit{l.Depth(), l.Value, b.RuleOf(l), b.Candidate}
			switch {
			case law.candidate && law.depth > ends.depth:
				beside = append(beside, law)
			case !law.candidate && law.depth >= ends.depth:
				ends = law
			}
		}
	}
	limits := append([]lifeLimit{ends}, beside...)
	if w.Tire.ThreePeaks == finding.Yes && in.Laws.Vehicle.Light() {
		winter := advice.Limit("winter")
		if rulebook.Metric(in.Laws.Books) {
			winter = advice.Limit("snow-4mm")
		}
		limits = append(limits, lifeLimit{depth: winter.Depth(), value: winter.Value, rule: advice.RuleOf(winter)})
	}
	return limits
}

// reaches tells when a tire reaches a limit that it meets today, and the trend of
// the groove that comes first. ok is false where that is not in sight.
func (t *trending) reaches(w visit.Wheel, r tread.Result, grooves map[int]trend.Trend, l lifeLimit) (c trend.Crossing, first trend.Trend, ok bool) {
	var all []trend.Crossing
	column := 0
	for _, col := range slices.Sorted(maps.Keys(grooves)) {
		c := grooves[col].Line.Crossing(l.depth)
		if !grooves[col].Known || c.At == nil {
			continue
		}
		if len(all) == 0 || *c.At < *trend.First(all...).At {
			first, column = grooves[col], col
		}
		all = append(all, c)
	}
	c = trend.First(all...)
	if c.At == nil || *c.At <= 0 || measure.AtLeast(r.Summary.Reading, l.depth).Outcome != measure.Above || t.outlived(w, first, c) {
		return c, first, false
	}
	t.find(finding.Finding{
		Code: finding.TrendReachesLimit, Urgency: finding.Note, Positions: []layout.Position{w.Position},
		Measured: t.unit.about(*c.At, c), Limit: l.value, Rule: l.rule, Candidate: l.candidate,
		Place: columnPlace(column, byGroove(r.Summary)), Evidence: t.unit.lifeEvidence(c, first, t.Day),
	})
	return c, first, true
}

// grew asks about tread that is deeper than at the visit before.
func (t *trending) grew(w visit.Wheel, grooves map[int]trend.Trend) {
	var rises []trend.Rise
	var columns []int
	for _, col := range slices.Sorted(maps.Keys(grooves)) {
		for _, r := range grooves[col].Rises {
			rises, columns = append(rises, r), append(columns, col)
		}
	}
	most, ok := lastRise(rises)
	if !ok {
		return
	}
	column := columns[slices.Index(rises, most)]
	f := t.unit.grew(most)
	f.Positions, f.Place = []layout.Position{w.Position}, columnPlace(column, byGroove(t.Treads[w.Position].Summary))
	if most.To.Run < 0 {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactTrendAgo, Amount: t.unit.far(-most.To.Run, math.Round)})
	} else { // today's reading is one of the two
		read := t.Treads[w.Position].Summary
		t.grewToday(&f, w.Position, read.ReadTwice(column))
	}
	t.find(f)
}

// grewToday: the reading is made again first. Read twice alike it stands, and what changed
// since the visit before is asked; whatever the answer is, it ends the doubt.
func (t *trending) grewToday(f *finding.Finding, at layout.Position, twice bool) {
	switch {
	case !twice:
		f.Urgency = finding.ThisVisit
		t.restsOnDoubt(at)
		return
	case t.Moved == finding.NotAsked:
		f.Urgency, f.ToSettle = finding.ThisVisit, finding.SettleAskMovedUnrecorded
		t.ask(finding.AskMovedUnrecorded, at)
	case t.Moved == finding.NotKnown:
		f.Urgency, f.ToSettle = finding.Plan, finding.SettleReadAgainNextVisit
	default:
		f.ToSettle = ""
	}
	f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactTrendReadTwice})
}

// setOut is when all tires of the vehicle are out, and the first axle of which none is
// left.
func (t *trending) setOut(lives map[layout.Position]life) {
	var all, pairs []trend.Crossing
	at := t.Laws.Vehicle.Positions()
	for axle := range t.Laws.Vehicle.Axles {
		var pair []trend.Crossing
		for _, p := range at {
			if l, ok := lives[p]; ok && p.Axle == axle+1 {
				pair = append(pair, l.out)
			}
		}
		all, pairs = append(all, pair...), append(pairs, trend.Last(pair...))
	}
	if len(all) < 2 || len(all) < len(at) {
		return
	}
	first, set, pair, u := trend.First(all...), trend.Last(all...), trend.First(pairs...), t.unit
	t.find(finding.Finding{
		Code: finding.TrendSetOut, Urgency: finding.Note, Positions: at, Measured: u.about(*first.At, first),
		Evidence: []finding.Evidence{
			{Code: finding.FactTrendPairOut, Amount: u.about(*pair.At, pair)},
			{Code: finding.FactTrendWholeSet, Amount: u.about(*set.At, set)},
		},
	})
}
