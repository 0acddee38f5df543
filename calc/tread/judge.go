package tread

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
)

// Checked is one limit that was looked at and is met.
type Checked struct {
	Code      finding.Checked
	Position  layout.Position
	Measured  unit.Amount
	Limit     unit.Amount
	Rule      finding.Rule
	Candidate bool
}

// Result is what the depth of one tire comes to.
type Result struct {
	Summary    Summary
	Findings   []finding.Finding
	Met        []Checked
	WornOut    bool           // at or below the wear bars, or may be
	BelowLaw   bool           // a law in use is not met, or that is open
	Usable     unit.Ratio     // left between UsableOf and UsableTo, 0 to 1 and more
	UsableOf   unit.Depth     // the new depth of the governing column
	UsableTo   rulebook.Limit // the depth that ends the tire's use at its place
	UsableBy   finding.Rule   // of that depth
	UsableKnow bool
	BarLimit   rulebook.Limit
	belowOf    string             // the book whose least depth was found last to be not met, or open
	Missing    []finding.Question // questions whose answers would tell which depth holds today
}

// Context is what the judgement of every tire of a visit shares.
type Context struct {
	Vehicle layout.Vehicle
	Books   []rulebook.Applied
	AsOf    unit.Date      // decides whether winter is near; zero: not judged by date
	Wintry  finding.Answer // snow, slush or ice on the roads
}

// Judge answers for one tire; ok is false when no depth was read.
func Judge(c Context, w Wheel) (Result, bool) {
	s, ok := Summarize(w)
	if !ok {
		return Result{}, false
	}
	r := Result{Summary: s}
	r.condition(c, w)
	if !w.Position.Spare { // a law on tires in use speaks of those on the road
		for _, b := range c.Books {
			r.byBook(c, w, b)
		}
	}
	r.advise(c, w)
	r.plausible(c, w)
	if s.Odd != nil {
		r.Findings = append(r.Findings, r.at(w, finding.Finding{
			Code: finding.TreadOddReading, Urgency: finding.ThisVisit, ToSettle: finding.SettleMeasureAgain,
			Measured: s.Odd.Lowest.Amount(s.Odd.At.AsRead.Unit).Rounded(),
			Place:    placeOf(*s.Odd),
			Evidence: []finding.Evidence{{Code: finding.FactTreadAsRead, Amount: s.Odd.At.AsRead}},
		}))
	}
	return r, true
}

// byBook holds a tire against the least depths of one book, those of a season when it holds.
func (r *Result) byBook(c Context, w Wheel, b rulebook.Applied) {
	for _, l := range b.Limits {
		switch {
		case l.Subject != rulebook.TreadDepth && l.Subject != rulebook.EditionDepth && l.Subject != rulebook.MajorDefect || !l.AppliesTo(c.Vehicle, w.Position):
		case l.Winter == nil:
			r.legal(w, b.For(l), l)
		default:
			r.seasonal(c, w, b.For(l), l)
		}
	}
}

// seasonal holds any tire, whatever its mark, against a least depth of the winter. Where it
// is open whether that holds today, the law is one that may bind.
func (r *Result) seasonal(c Context, w Wheel, b rulebook.Applied, l rulebook.Limit) {
	if l.Winter.SparesSpare && w.SpareRuns {
		return
	}
	h := c.holds(b.Book, *l.Winter)
	if h.by == finding.UrgencyNotTold || h.why == finding.FactTreadWinterRoadClear {
		return
	}
	b.Candidate = b.Candidate || h.by != finding.ThisVisit || h.ask != ""
	if !r.legal(w, b, l) {
		return
	}
	f := &r.Findings[len(r.Findings)-1]
	f.Evidence = append(f.Evidence, finding.Evidence{Code: h.why})
	if h.ask != "" {
		r.Missing = append(r.Missing, h.ask)
	}
}

// condition: at the bars is worn out, whatever the gauge can prove, and exactly
// at them too; bars seen flush outrank the gauge.
func (r *Result) condition(c Context, w Wheel) {
	r.BarLimit = rulebook.Must("advice").Limit(barLimit(c.Books))
	limit := r.BarLimit.Depth()
	low := r.Summary.Governing
	compare := measure.AtLeast(r.Summary.Reading, limit)
	r.UsableTo, r.UsableBy = c.ends(w, r.BarLimit)
	if whenNew, ok := w.NewAt(low.Column); ok {
		r.Usable, r.UsableKnow = UsableLeft(low.Lowest, whenNew, r.UsableTo.Depth())
		r.UsableOf = whenNew
	}
	r.WornOut = w.BarsFlush || compare.Outcome != measure.Above || compare.Margin <= 0
	rule := rulebook.Must("advice").RuleOf(r.BarLimit)
	if !r.WornOut {
		r.Met = append(r.Met, Checked{finding.CheckedTreadWornToBars, w.Position, low.Lowest.Amount(r.BarLimit.Value.Unit).Rounded(), r.BarLimit.Value, rule, false})
		return
	}
	f := finding.Compared(finding.Finding{Code: finding.TreadWornToBars, Urgency: finding.ThisVisit, Rule: rule, Place: placeOf(low)},
		r.Summary.Reading, limit, r.BarLimit.Value.Unit, compare)
	f.Evidence = r.evidence(low)
	if w.BarsFlush {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactTreadBarsSeenFlush})
	}
	if w.BarsClear {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactTreadBarsSeenClear, Against: true})
	}
	r.Findings = append(r.Findings, r.at(w, f))
}

// ends is the depth that ends a tire's use at its place, and its rule: the wear bars, or
// what a law in use that binds asks for on every day where that is more.
func (c Context) ends(w Wheel, bars rulebook.Limit) (rulebook.Limit, finding.Rule) {
	limit, rule := bars, rulebook.Must("advice").RuleOf(bars)
	for _, b := range c.Books {
		for _, l := range b.Limits {
			if l.Subject == rulebook.TreadDepth && l.Authority == finding.LawInUse && l.Winter == nil && !b.For(l).Candidate &&
				!w.Position.Spare && l.AppliesTo(c.Vehicle, w.Position) && l.Depth() > limit.Depth() {
				limit, rule = l, b.RuleOf(l)
			}
		}
	}
	return limit, rule
}

// BarsOnly answers for a tire whose depth was not read and whose wear bars were
// seen flush with the tread: worn out.
func BarsOnly(c Context, p layout.Position) Result {
	r := Result{WornOut: true, BarLimit: rulebook.Must("advice").Limit(barLimit(c.Books))}
	r.Findings = append(r.Findings, finding.Finding{
		Code: finding.TreadWornToBars, Urgency: finding.ThisVisit, Positions: []layout.Position{p}, Limit: r.BarLimit.Value,
		Rule: rulebook.Must("advice").RuleOf(r.BarLimit), Evidence: []finding.Evidence{{Code: finding.FactTreadBarsSeenFlush}},
	})
	return r
}

func barLimit(books []rulebook.Applied) string {
	if rulebook.Metric(books) {
		return "wear-bars-metric"
	}
	return "wear-bars"
}

// legal holds a tire against one limit, and tells whether it is found to be not met or open.
func (r *Result) legal(w Wheel, b rulebook.Applied, l rulebook.Limit) bool {
	st, ok := against(r.Summary, w, l.Depth(), l.Where)
	if !ok {
		return false
	}
	f := finding.Compared(finding.Finding{Rule: b.RuleOf(l), Candidate: b.Candidate, Place: placeOf(st.cell)},
		w.Gauge.Read(st.cell.Lowest), l.Depth(), l.Value.Unit, st.compare)
	switch {
	case b.Floor:
		f.Code, f.Urgency = finding.TreadCommonMinimum, finding.ThisVisit
	case l.Authority == finding.LawInUse:
		f.Code, f.Urgency = finding.TreadLegalLimit, finding.BeforeDriving
		if l.Subject == rulebook.MajorDefect {
			f.Code = finding.TreadMajorDefect
		}
		if b.Candidate {
			f.Urgency = finding.ThisVisit
		}
	case l.Authority == finding.ModelStandard:
		f.Code, f.Urgency = finding.TreadModelLimit, finding.ThisVisit
	case l.Authority == finding.Shop:
		f.Code, f.Urgency = finding.TreadShopLimit, finding.Plan
	case l.Subject == rulebook.EditionDepth:
		f.Code, f.Urgency = finding.TreadRoadsideLimit, finding.Note
	default:
		return false // practice is no law: advise tells it
	}
	if st.compare.Outcome == measure.Above {
		if f.Code != finding.TreadRoadsideLimit && f.Code != finding.TreadMajorDefect || r.BelowLaw && (b.ID == r.belowOf || f.Code == finding.TreadRoadsideLimit) {
			r.Met = append(r.Met, Checked{finding.KindOf(f.Code).Met, w.Position, f.Measured, f.Limit, f.Rule, b.Candidate})
		}
		return false
	}
	if f.Code == finding.TreadRoadsideLimit && st.compare.Outcome != measure.Below {
		return false // a figure below the law is worth a line beside it
	}
	if f.Code == finding.TreadLegalLimit {
		r.BelowLaw, r.belowOf = true, b.ID
	}
	f.Evidence = r.evidence(st.cell)
	if st.counted {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactTreadCountedAsMainGrooves})
	}
	if st.compare.Outcome == measure.CannotTell {
		f.ToSettle = st.settle
	}
	r.Findings = append(r.Findings, r.at(w, f))
	return true
}

// advise names the lowest rung of the advice ladder that the depth has reached.
func (r *Result) advise(c Context, w Wheel) {
	switch c.Vehicle.Class {
	case layout.Heavy, layout.Bus, layout.Trailer:
		return
	}
	if r.WornOut || w.Position.Spare {
		return
	}
	book := rulebook.Must("advice")
	type rung struct {
		limit  string
		code   finding.Code
		winter bool
	}
	rungs := []rung{{"wet", finding.TreadWetAdvice, false}, {"snow", finding.TreadSnowAdvice, true}, {"winter", finding.TreadWinterAdvice, true}}
	if rulebook.Metric(c.Books) {
		rungs = []rung{{"wet-3mm", finding.TreadWetAdvice, false}, {"snow-4mm", finding.TreadSnowAdvice, true}}
	}
	for _, g := range rungs {
		if g.winter && !c.winterNear() {
			continue
		}
		l := book.Limit(g.limit)
		compare := measure.AtLeast(r.Summary.Reading, l.Depth())
		if compare.Outcome == measure.Above {
			continue
		}
		f := finding.Compared(finding.Finding{Code: g.code, Urgency: finding.Plan, Rule: book.RuleOf(l), Place: placeOf(r.Summary.Governing)},
			r.Summary.Reading, l.Depth(), l.Value.Unit, compare)
		f.Evidence = r.evidence(r.Summary.Governing)
		r.Findings = append(r.Findings, r.at(w, f))
		return
	}
}

// winterNear: time to plan before or in the season of one of the places whose law binds,
// or of the one that counts most where it is open which does.
func (c Context) winterNear() bool {
	law := slices.DeleteFunc(slices.Clone(c.Books), func(b rulebook.Applied) bool { return b.Country == "" })
	if len(law) == 0 {
		return (&rulebook.Book{}).WinterNear(c.AsOf)
	}
	return law[0].WinterNear(c.AsOf) ||
		slices.ContainsFunc(law, func(b rulebook.Applied) bool { return !b.Candidate && b.WinterNear(c.AsOf) })
}

// plausible asks about a depth that no new tire of the class has.
func (r *Result) plausible(c Context, w Wheel) {
	book := rulebook.Must("advice")
	for _, l := range book.About(rulebook.LikelyDepth) {
		if c.Vehicle.Class == layout.ClassNotTold || !slices.Contains(l.Applies.Classes, c.Vehicle.Class) {
			continue
		}
		for _, cell := range r.Summary.Cells {
			deepest := measure.AtMost(measure.Exact(cell.Highest), l.Depth())
			if deepest.Outcome != measure.Above {
				continue
			}
			f := finding.Compared(finding.Finding{Code: finding.TreadUnlikelyDepth, Urgency: finding.Note, Rule: book.RuleOf(l), Place: placeOf(cell), ToSettle: finding.SettleMeasureAgain},
				measure.Exact(cell.Highest), l.Depth(), l.Value.Unit, deepest)
			r.Findings = append(r.Findings, r.at(w, f))
			return
		}
	}
}

func (r *Result) evidence(c Cell) []finding.Evidence {
	es := []finding.Evidence{{Code: finding.FactTreadAsRead, Amount: c.At.AsRead}}
	if c.Column == 0 {
		es = append(es, finding.Evidence{Code: finding.FactTreadPlaceNotTold})
	}
	if r.UsableKnow {
		es = append(es, finding.Evidence{Code: finding.FactTreadUsableLeft, Amount: r.Usable.Amount().Rounded()},
			finding.Evidence{Code: finding.FactTreadNewDepth, Amount: r.UsableOf.Amount(r.BarLimit.Value.Unit).Rounded()})
	}
	if r.Summary.Odd != nil && r.Summary.Odd.same(c) {
		es = append(es, finding.Evidence{Code: finding.FactTreadUnconfirmed, Against: true})
	}
	return es
}

func (r *Result) at(w Wheel, f finding.Finding) finding.Finding {
	f.Positions = []layout.Position{w.Position}
	return f
}

func placeOf(c Cell) finding.Place {
	return finding.Place{Station: c.Station, Groove: c.At.Groove, Across: c.At.Across}
}

// Pair compares the mean depths of the two tires of one axle. Advice is given
// only for a difference above its limit that the gauge can prove to be one; a
// limit of law is open already when it lies within the uncertainty, and takes of
// repeats those that differ most.
func Pair(c Context, left, right Result, at [2]layout.Position) []finding.Finding {
	var fs []finding.Finding
	judge := func(b rulebook.Applied, l rulebook.Limit, leftLower, rightLower measure.Value[unit.Depth], f finding.Finding) {
		diff, lower := rightLower, at[1]
		if leftLower.Of > rightLower.Of {
			diff, lower = leftLower, at[0]
		}
		compare := measure.AtMost(diff, l.Depth())
		if compare.Outcome == measure.Below {
			return
		}
		if f.Code == finding.TreadAxleDifference && (compare.Margin <= 0 || float64(diff.Of) <= measure.Coverage*diff.Std) {
			return // 1/32 in between two tires is noise
		}
		if compare.Outcome == measure.CannotTell {
			f.ToSettle = finding.SettleFinerGauge
		}
		f.Rule, f.Positions = b.RuleOf(l), []layout.Position{at[0], at[1]}
		f = finding.Compared(f, diff, l.Depth(), l.Value.Unit, compare)
		f.Evidence = []finding.Evidence{{Code: LowerTire(lower)}}
		fs = append(fs, f)
	}
	a, b := left.Summary, right.Summary
	book := rulebook.Must("advice")
	judge(rulebook.Applied{Book: book}, book.Limit("axle-pair"), b.Mean.Minus(a.Mean), a.Mean.Minus(b.Mean), finding.Finding{Code: finding.TreadAxleDifference, Urgency: finding.Plan})
	for _, applied := range c.Books {
		for _, l := range applied.About(rulebook.DepthDifference) {
			if applied.ID == "advice" || !l.AppliesTo(c.Vehicle, at[0]) {
				continue
			}
			f := finding.Finding{Code: finding.TreadAxleDifferenceLimit, Urgency: finding.BeforeDriving, Candidate: applied.For(l).Candidate}
			if f.Candidate {
				f.Urgency = finding.ThisVisit
			}
			judge(applied, l, b.Most.Minus(a.Least), a.Most.Minus(b.Least), f)
		}
	}
	return fs
}

// LowerTire is evidence that names the lower tire of a comparison by its side.
func LowerTire(p layout.Position) finding.Fact {
	if p.Side == layout.Left {
		return finding.FactTreadLeftIsLower
	}
	return finding.FactTreadRightIsLower
}
