package verdict

import (
	"math"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
)

// Findings about wear over time.
const (
	ReachesLimit finding.Code = "trend.reaches-limit"
	SetOut       finding.Code = "trend.set-out"
	Grew         finding.Code = "trend.grew"
)

// Evidence about wear over time.
const (
	trendEarliest    finding.Code = "trend.earliest"
	trendLatest      finding.Code = "trend.latest"
	trendNoEarliest  finding.Code = "trend.may-be-now"
	trendNoLatest    finding.Code = "trend.no-latest"
	trendDay         finding.Code = "trend.day"
	trendEarliestDay finding.Code = "trend.earliest-day"
	trendLatestDay   finding.Code = "trend.latest-day"
	trendRate        finding.Code = "trend.rate"
	trendReadings    finding.Code = "trend.readings"
	trendAssumed     finding.Code = "trend.new-depth-assumed"
	trendAside       finding.Code = "trend.set-aside"
	trendNotLinear   finding.Code = "trend.not-linear"
	trendWas         finding.Code = "trend.was"
	trendWasNew      finding.Code = "trend.was-new"
	trendIs          finding.Code = "trend.is"
	trendAgo         finding.Code = "trend.ago"
	trendPairOut     finding.Code = "trend.pair-out"
	trendWholeSet    finding.Code = "trend.whole-set"
)

// SettleGrowth asks how tread can have grown.
const SettleGrowth finding.Code = "settle.moved-or-misread"

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
			c, ok := j.reaches(w, r, grooves, l)
			if ok && i == 0 {
				out[w.Position] = c
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
func (j *judging) lifeLimits(w Wheel, r tread.Result) []lifeLimit {
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
	if winter := advice.Limit("winter"); w.Tire.Winter && light(j.v.Vehicle) {
		limits = append(limits, lifeLimit{depth: winter.Depth(), value: winter.Value, rule: advice.RuleOf(winter)})
	}
	return limits
}

// reaches tells when a tire reaches a limit that it keeps today: with its first
// groove. ok is false where that is not in sight.
func (j *judging) reaches(w Wheel, r tread.Result, grooves map[int]trend.Trend, l lifeLimit) (trend.Crossing, bool) {
	var all []trend.Crossing
	var first trend.Trend
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
	c := trend.First(all...)
	if c.At == nil || *c.At <= 0 || measure.AtLeast(r.Summary.Reading, l.depth).Outcome != measure.Above {
		return c, false
	}
	f := finding.Finding{
		Code: ReachesLimit, Urgency: finding.Note, Positions: []layout.Position{w.Position},
		Measured: j.far(*c.At, math.Round), Limit: l.value, Rule: l.rule, Candidate: l.candidate,
		Place: columnPlace(column, byGroove(r.Summary)), Evidence: j.lifeEvidence(c, first),
	}
	if *c.At <= trend.Due() {
		f.Urgency = finding.Plan
	}
	j.find(f)
	return c, true
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

func (j *judging) lifeEvidence(c trend.Crossing, t trend.Trend) []finding.Evidence {
	es := []finding.Evidence{{Code: trendNoEarliest}}
	if c.Earliest != nil && *c.Earliest > 0 {
		es[0] = finding.Evidence{Code: trendEarliest, Amount: j.far(*c.Earliest, math.Floor)}
	}
	latest := finding.Evidence{Code: trendNoLatest}
	if c.Latest != nil {
		latest = finding.Evidence{Code: trendLatest, Amount: j.far(*c.Latest, math.Ceil)}
	}
	rate, per := t.Line.Rate(), j.wearUnit()
	es = append(es, latest,
		finding.Evidence{Code: trendRate, Amount: rate.Of.Amount(per).Rounded(), Uncertainty: unit.WearRate(rate.Std).Amount(per).Rounded()},
		finding.Evidence{Code: trendReadings, Amount: unit.Amount{Number: float64(measured(t.Used)), Unit: unit.Count}})
	if pace, ok := trend.PaceOf(t.Used); ok {
		days := pace.Dates(c)
		for _, d := range []finding.Evidence{{Code: trendDay, Day: days.At}, {Code: trendEarliestDay, Day: days.Earliest}, {Code: trendLatestDay, Day: days.Latest}} {
			if !d.Day.IsZero() && j.v.Day.Compare(d.Day) < 0 {
				es = append(es, d)
			}
		}
	}
	for _, p := range t.Used {
		if p.Assumed {
			es = append(es, finding.Evidence{Code: trendAssumed, Amount: j.deep(p.Depth.Of), Uncertainty: j.deep(unit.Depth(p.Depth.Std)), Against: true})
		}
	}
	for _, a := range t.Aside {
		if a.Why == trend.Odd {
			es = append(es, finding.Evidence{Code: trendAside, Amount: j.deep(a.Depth.Of), Against: true})
		}
	}
	if t.Linear == trend.NotLinear {
		es = append(es, finding.Evidence{Code: trendNotLinear, Amount: t.Line.RSquared().Amount().Rounded(), Against: true})
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
func (j *judging) grew(w Wheel, grooves map[int]trend.Trend) {
	var most *trend.Rise
	column := 0
	for _, col := range slices.Sorted(keys(grooves)) {
		for _, r := range grooves[col].Rises {
			if most == nil || r.To.Run > most.To.Run || r.To.Run == most.To.Run && r.By() > most.By() {
				most, column = &r, col
			}
		}
	}
	if most == nil {
		return
	}
	was := trendWas
	if most.From.Assumed {
		was = trendWasNew
	}
	book := rulebook.Must("trend")
	f := finding.Finding{
		Code: Grew, Urgency: finding.Note, Positions: []layout.Position{w.Position}, Measured: j.deep(most.By()),
		Limit: book.Limit("growth").Value, Rule: book.RuleOf(book.Limit("growth")), ToSettle: SettleGrowth,
		Place:    columnPlace(column, byGroove(j.tread[w.Position].Summary)),
		Evidence: []finding.Evidence{{Code: was, Amount: j.deep(most.From.Depth.Of)}, {Code: trendIs, Amount: j.deep(most.To.Depth.Of)}},
	}
	if most.To.Run < 0 {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: trendAgo, Amount: j.far(-most.To.Run, math.Round)})
	} else { // today's reading is one of the two
		f.Urgency = finding.ThisVisit
		j.do(measureAgain, w.Position)
	}
	j.find(f)
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
	first, set := trend.First(all...), trend.Last(all...)
	j.find(finding.Finding{
		Code: SetOut, Urgency: finding.Note, Positions: at, Measured: j.far(*first.At, math.Round),
		Evidence: []finding.Evidence{
			{Code: trendPairOut, Amount: j.far(*trend.First(pairs...).At, math.Round)},
			{Code: trendWholeSet, Amount: j.far(*set.At, math.Round)},
		},
	})
}

// far gives a distance to a hundred miles or kilometers, as the odometer was read:
// what lies ahead is not known finer.
func (j *judging) far(d unit.Distance, round func(float64) float64) unit.Amount {
	u := unit.Miles
	if j.v.Odometer.Unit == unit.Kilometers {
		u = unit.Kilometers
	}
	// Whole ones first, so that the last bit decides no hundred.
	return unit.Amount{Number: 100 * round(math.Round(d.In(u))/100), Unit: u}
}

// deep gives a depth in the unit that depths were read in.
func (j *judging) deep(d unit.Depth) unit.Amount { return d.Amount(j.depthUnit()).Rounded() }

func (j *judging) depthUnit() unit.Unit {
	for _, w := range j.v.Wheels {
		if r, ok := j.tread[w.Position]; ok && r.Summary.Governing.At.AsRead.Unit == unit.Millimeters {
			return unit.Millimeters
		}
	}
	return unit.ThirtySecondsInch
}

func (j *judging) wearUnit() unit.Unit {
	if j.depthUnit() == unit.Millimeters || j.v.Odometer.Unit == unit.Kilometers {
		return unit.MillimetersPer1000Kilometer
	}
	return unit.ThirtySecondsPer1000Miles
}
