package verdict

import (
	"cmp"
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

// trends is how long each tire has left, and what its readings over time say of it.
func (j *judging) trends() {
	out := map[layout.Position]trend.Crossing{}
	for _, w := range j.v.Wheels {
		r := j.tread[w.Position]
		if w.Position.Spare || len(r.Summary.Cells) == 0 {
			continue
		}
		grooves := j.follow(w)
		j.grew(w, grooves)
		for i, l := range j.lifeLimits(w, r) {
			c, first, ok := j.reaches(w, r, grooves, l)
			if ok && i == 0 {
				out[w.Position] = c
				for _, f := range j.shownIn().doubts(first, true) {
					f.Positions = []layout.Position{w.Position}
					j.find(f)
				}
			}
		}
	}
	j.setOut(out)
	j.losses()
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
func (j *judging) lifeLimits(w visit.Wheel, r tread.Result) []lifeLimit {
	advice := rulebook.Must("advice")
	ends := lifeLimit{depth: r.BarLimit.Depth(), value: r.BarLimit.Value, rule: advice.RuleOf(r.BarLimit)}
	var beside []lifeLimit
	for _, b := range j.books {
		for _, l := range b.About(rulebook.TreadDepth) {
			if l.Authority != finding.LawInUse || !l.AppliesTo(j.v.Vehicle, w.Position) {
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
	if w.Tire.ThreePeaks == finding.Yes && light(j.v.Vehicle) {
		winter := advice.Limit("winter")
		if rulebook.Metric(j.books) {
			winter = advice.Limit("snow-4mm")
		}
		limits = append(limits, lifeLimit{depth: winter.Depth(), value: winter.Value, rule: advice.RuleOf(winter)})
	}
	return limits
}

// reaches tells when a tire reaches a limit that it keeps today, and the trend of
// the groove that comes first. ok is false where that is not in sight.
func (j *judging) reaches(w visit.Wheel, r tread.Result, grooves map[int]trend.Trend, l lifeLimit) (c trend.Crossing, first trend.Trend, ok bool) {
	var all []trend.Crossing
	column := 0
	for _, col := range slices.Sorted(keys(grooves)) {
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
	if c.At == nil || *c.At <= 0 || measure.AtLeast(r.Summary.Reading, l.depth).Outcome != measure.Above {
		return c, first, false
	}
	f := finding.Finding{
		Code: finding.TrendReachesLimit, Urgency: finding.Note, Positions: []layout.Position{w.Position},
		Measured: j.shownIn().far(*c.At, math.Round), Limit: l.value, Rule: l.rule, Candidate: l.candidate,
		Place: columnPlace(column, byGroove(r.Summary)), Evidence: j.shownIn().lifeEvidence(c, first, j.v.Day),
	}
	if *c.At <= trend.Due() {
		f.Urgency = finding.Plan
	}
	j.find(f)
	return c, first, true
}

func columnPlace(column int, groove bool) finding.Place {
	switch {
	case column <= 0:
		return finding.Place{}
	case groove:
		return finding.Place{Groove: column}
	}
	return finding.Place{Across: layout.Across(column)}
}

// lifeEvidence is what an estimate rests on; today is when it is made.
func (u shownIn) lifeEvidence(c trend.Crossing, t trend.Trend, today unit.Date) []finding.Evidence {
	es := []finding.Evidence{{Code: finding.FactTrendMayBeNow}}
	if c.Earliest != nil && *c.Earliest > 0 {
		es[0] = finding.Evidence{Code: finding.FactTrendEarliest, Amount: u.far(*c.Earliest, math.Floor)}
	}
	latest := finding.Evidence{Code: finding.FactTrendNoLatest}
	if c.Latest != nil {
		latest = finding.Evidence{Code: finding.FactTrendLatest, Amount: u.far(*c.Latest, math.Ceil)}
	}
	rate := t.Line.Rate()
	es = append(es, latest,
		finding.Evidence{Code: finding.FactTrendRate, Amount: rate.Of.Amount(u.wear()).Rounded(), Uncertainty: unit.WearRate(rate.Std).Amount(u.wear()).Rounded()},
		finding.Evidence{Code: finding.FactTrendReadings, Amount: unit.Amount{Number: float64(measured(t.Used)), Unit: unit.Count}})
	if pace, ok := trend.PaceOf(t.Used); ok {
		days := pace.Dates(c)
		for _, d := range []finding.Evidence{{Code: finding.FactTrendDay, Day: days.At}, {Code: finding.FactTrendEarliestDay, Day: days.Earliest}, {Code: finding.FactTrendLatestDay, Day: days.Latest}} {
			if !d.Day.IsZero() && today.Compare(d.Day) < 0 {
				es = append(es, d)
			}
		}
	}
	for _, p := range t.Used {
		if p.Assumed {
			es = append(es, finding.Evidence{Code: finding.FactTrendNewDepthAssumed, Amount: u.deep(p.Depth.Of), Uncertainty: u.deep(unit.Depth(p.Depth.Std)), Against: true})
		}
	}
	for _, a := range t.Aside {
		if a.Why == trend.Odd {
			es = append(es, finding.Evidence{Code: finding.FactTrendSetAside, Amount: u.deep(a.Depth.Of), Against: true})
		}
	}
	if t.Linear == trend.NotLinear {
		es = append(es, finding.Evidence{Code: finding.FactTrendNotLinear, Amount: t.Line.RSquared().Amount().Rounded(), Against: true})
	}
	return es
}

func measured(points []trend.Point) (n int) {
	for _, p := range points {
		if !p.Assumed {
			n++
		}
	}
	return n
}

// grew asks about tread that is deeper than at the visit before.
func (j *judging) grew(w visit.Wheel, grooves map[int]trend.Trend) {
	var rises []trend.Rise
	var columns []int
	for _, col := range slices.Sorted(keys(grooves)) {
		for _, r := range grooves[col].Rises {
			rises, columns = append(rises, r), append(columns, col)
		}
	}
	most, ok := lastRise(rises)
	if !ok {
		return
	}
	column := columns[slices.Index(rises, most)]
	f := j.shownIn().grew(most)
	f.Positions, f.Place = []layout.Position{w.Position}, columnPlace(column, byGroove(j.tread[w.Position].Summary))
	if most.To.Run < 0 {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactTrendAgo, Amount: j.shownIn().far(-most.To.Run, math.Round)})
	} else { // today's reading is one of the two
		f.Urgency = finding.ThisVisit
		j.do(finding.WorkMeasureAgain, w.Position)
	}
	j.find(f)
}

// lastRise is the latest rise, of several at once the greatest.
func lastRise(rs []trend.Rise) (trend.Rise, bool) {
	if len(rs) == 0 {
		return trend.Rise{}, false
	}
	return slices.MaxFunc(rs, func(a, b trend.Rise) int {
		return cmp.Or(cmp.Compare(a.To.Run, b.To.Run), cmp.Compare(a.By(), b.By()))
	}), true
}

// grew is what is said of a rise.
func (u shownIn) grew(r trend.Rise) finding.Finding {
	was := finding.FactTrendWas
	if r.From.Assumed {
		was = finding.FactTrendWasNew
	}
	book := rulebook.Must("trend")
	return finding.Finding{
		Code: finding.TrendGrew, Urgency: finding.Note, Measured: u.deep(r.By()), Limit: book.Limit("growth").Value, Rule: book.RuleOf(book.Limit("growth")),
		ToSettle: finding.SettleMovedOrMisread,
		Evidence: []finding.Evidence{{Code: was, Amount: u.deep(r.From.Depth.Of)}, {Code: finding.FactTrendIs, Amount: u.deep(r.To.Depth.Of)}},
	}
}

// setOut is when the tires of the vehicle are out: the first, the first axle of
// which none is left, and all.
func (j *judging) setOut(out map[layout.Position]trend.Crossing) {
	var all, pairs []trend.Crossing
	at := j.v.Vehicle.Positions()
	for axle := range j.v.Vehicle.Axles {
		var pair []trend.Crossing
		for _, p := range at {
			if c, ok := out[p]; ok && p.Axle == axle+1 {
				pair = append(pair, c)
			}
		}
		all, pairs = append(all, pair...), append(pairs, trend.Last(pair...))
	}
	if len(all) < 2 || len(all) < len(at) {
		return
	}
	first, set, u := trend.First(all...), trend.Last(all...), j.shownIn()
	j.find(finding.Finding{
		Code: finding.TrendSetOut, Urgency: finding.Note, Positions: at, Measured: u.far(*first.At, math.Round),
		Evidence: []finding.Evidence{
			{Code: finding.FactTrendPairOut, Amount: u.far(*trend.First(pairs...).At, math.Round)},
			{Code: finding.FactTrendWholeSet, Amount: u.far(*set.At, math.Round)},
		},
	})
}

// shownIn is the units that depths and distances of a trend are shown in.
type shownIn struct{ depth, distance unit.Unit }

// shownIn are the units of the visit: as depths and odometer were read.
func (j *judging) shownIn() shownIn {
	u := shownIn{unit.ThirtySecondsInch, unit.Miles}
	if j.v.Odometer.Unit == unit.Kilometers {
		u.distance = unit.Kilometers
	}
	for _, w := range j.v.Wheels {
		if r := j.tread[w.Position]; r.Summary.Governing.At.AsRead.Unit == unit.Millimeters {
			u.depth = unit.Millimeters
		}
	}
	return u
}

// far gives a distance to a hundred miles or kilometers: what lies ahead is not
// known finer.
func (u shownIn) far(d unit.Distance, round func(float64) float64) unit.Amount {
	// Whole ones first, so that the last bit decides no hundred.
	return unit.Amount{Number: 100 * round(math.Round(d.In(u.distance))/100), Unit: u.distance}
}

func (u shownIn) deep(d unit.Depth) unit.Amount { return d.Amount(u.depth).Rounded() }

// wear is the unit of a rate.
func (u shownIn) wear() unit.Unit {
	if u.depth == unit.ThirtySecondsInch && u.distance == unit.Miles {
		return unit.ThirtySecondsPer1000Miles
	}
	return unit.MillimetersPer1000Kilometer
}
