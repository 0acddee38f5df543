package fitment

import (
	"cmp"
	"math"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
)

// TapeGauge is how well a tape or caliper measures a tire when nothing finer was
// told (common practice).
func TapeGauge() measure.Gauge[unit.Length] {
	return measure.Gauge[unit.Length]{
		Resolution:    book.Limit("tape-graduation").Length(),
		Repeatability: book.Limit("tape-repeatability").Length(),
	}
}

// TapedRound is a circumference as taped.
func TapedRound(l unit.Length) measure.Value[unit.Length] { return TapeGauge().Read(l) }

// TapedAcross is the circumference of a diameter as measured.
func TapedAcross(l unit.Length) measure.Value[unit.Length] {
	return times(TapeGauge().Read(l), math.Pi)
}

func times(v measure.Value[unit.Length], by float64) measure.Value[unit.Length] {
	return measure.Value[unit.Length]{Of: unit.Length(math.Round(float64(v.Of) * by)), Std: v.Std * by}
}

// pair is two tires that have to roll alike, with the larger or deeper one last.
type pair struct{ small, large Wheel }

// difference is by how much the larger of two tires is larger, by one method.
type difference[Q measure.Quantity] struct {
	pair
	by measure.Value[Q]
}

// over tells that a difference is more than a practice allows, and provably one
// at all: one step of a gauge between two tires is noise.
func over[Q measure.Quantity](by measure.Value[Q], limit Q) (measure.Comparison, bool) {
	c := measure.AtMost(by, limit)
	return c, c.Margin > 0 && float64(by.Of) > measure.Coverage*by.Std
}

func depths(a, b Wheel) (difference[unit.Depth], bool) {
	if a.Depth == nil || b.Depth == nil {
		return difference[unit.Depth]{}, false
	}
	if a.Depth.Of > b.Depth.Of {
		a, b = b, a
	}
	return difference[unit.Depth]{pair{a, b}, b.Depth.Minus(*a.Depth)}, true
}

func tapes(a, b Wheel) (difference[unit.Length], bool) {
	if a.Taped == nil || b.Taped == nil {
		return difference[unit.Length]{}, false
	}
	if a.Taped.Circumference.Of > b.Taped.Circumference.Of {
		a, b = b, a
	}
	return difference[unit.Length]{pair{a, b}, b.Taped.Circumference.Minus(a.Taped.Circumference)}, true
}

// asTaped is whether two tires were taped so that the tape decides: at equal
// pressure, a day after they were inflated.
func (p pair) asTaped() finding.Answer {
	right := finding.Yes
	for _, w := range []Wheel{p.small, p.large} {
		for _, a := range []finding.Answer{w.Taped.SamePressure, w.Taped.DayBefore} {
			switch {
			case a == finding.No:
				return finding.No
			case a != finding.Yes:
				right = finding.NotKnown
			}
		}
	}
	return right
}

// tapeWorth writes into a finding by a tape how far the tape decides it.
func (d difference[Q]) tapeWorth(f *finding.Finding) {
	switch d.asTaped() {
	case finding.No:
		f.Outcome, f.ToSettle = measure.CannotTell, finding.SettleTapeAgain
	case finding.NotKnown:
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactMatchTapeConditionsNotTold, Against: true})
		if f.Outcome == measure.CannotTell {
			f.ToSettle = finding.SettleTapeAgain
		}
	default:
		if f.Outcome == measure.CannotTell {
			f.ToSettle = finding.SettleTapeAgain
		}
	}
}

// treadWorth writes into a finding by depth how far depth decides it: only
// within one design and size.
func (p pair) treadWorth(f *finding.Finding) {
	if sameDesign(p.small.Tire, p.large.Tire) != finding.Yes {
		f.Outcome = measure.CannotTell
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactMatchDesignNotKnown, Against: true})
	}
	if f.Outcome == measure.CannotTell {
		f.ToSettle = finding.SettleTapeCircumference
	}
}

// makerRule is a figure of the vehicle maker.
func (j *fitting) makerRule(id string) finding.Rule {
	r := finding.Rule{ID: "maker." + id, Authority: finding.Maker, Citation: "vehicle maker's figure", Known: finding.Reported}
	if j.Maker.Source != "" {
		r.Citation += ", " + j.Maker.Source
	}
	return r
}

// allWheelDrive compares all tires on the road: by the tape where both of a pair
// were taped, by depth where not. The vehicle maker's figure comes first, else
// common practice.
func (j *fitting) allWheelDrive() {
	if j.Layout.Drive != layout.AllDrive {
		return
	}
	var ws []Wheel
	for _, w := range j.road {
		if !j.temporary(w) {
			ws = append(ws, w)
		}
	}
	m := allWheel{fitting: j, matched: len(ws) > 1 && len(ws) == len(j.Layout.Positions())}
	for i, a := range ws {
		for _, b := range ws[i+1:] {
			if j.labelApart(a, b) {
				continue
			}
			m.compare(a, b)
		}
	}
	m.tell()
}

// labelApart tells that the label itself asks for two sizes on two axles.
func (j *fitting) labelApart(a, b Wheel) bool {
	return a.At.Axle != b.At.Axle && sameSize(j.labelOf(a.At), j.labelOf(b.At)) == finding.No
}

// allWheel gathers the comparisons of an all-wheel drive.
type allWheel struct {
	*fitting
	tread   []difference[unit.Depth]
	tape    []difference[unit.Length]
	designs []Wheel // of provably different designs, not taped
	open    []Wheel // whose design is not known, not taped
	matched bool    // every pair so far was compared and found good
}

func (m *allWheel) compare(a, b Wheel) {
	if d, ok := tapes(a, b); ok {
		m.tape = append(m.tape, d)
		m.matched = m.matched && d.asTaped() == finding.Yes
		if d.asTaped() == finding.NotKnown {
			m.ask(finding.AskTapedHow, a.At, b.At)
		}
		return
	}
	switch sameDesign(a.Tire, b.Tire) {
	case finding.No:
		m.designs, m.matched = append(m.designs, a, b), false
		return
	case finding.Yes:
	default:
		m.open, m.matched = append(m.open, a, b), false
	}
	if d, ok := depths(a, b); ok {
		m.tread = append(m.tread, d)
	} else {
		m.matched = false
	}
}

func (m *allWheel) tell() {
	f := m.byTape()
	g := m.byTread()
	if len(m.designs) > 0 {
		d := practice(finding.MatchAllWheelDriveDesign, finding.ThisVisit, distinct(m.designs)...)
		d.Outcome, d.ToSettle = measure.CannotTell, finding.SettleTapeCircumference
		m.find(d)
	}
	if len(m.open) > 0 {
		m.ask(finding.AskSameDesign, distinct(m.open)...)
	}
	if !m.matched {
		return
	}
	k := Met{Code: finding.CheckedMatchAllWheelDrive, Positions: places(m.road), Measured: g.Measured, Limit: g.Limit, Rule: g.Rule}
	if len(m.tape) > 0 {
		k = Met{Code: finding.CheckedMatchAllWheelDriveTape, Positions: places(m.road), Measured: f.Measured, Limit: f.Limit, Rule: f.Rule}
	}
	m.Met = append(m.Met, k)
}

// byTape judges the largest difference of circumference and names the tires
// that are too small for the largest.
func (m *allWheel) byTape() finding.Finding {
	l := book.Limit("awd-circumference")
	limit, shown, rule := l.Length(), l.Value.Unit, book.RuleOf(l)
	if m.Maker.Circumference != nil {
		limit, shown, rule = *m.Maker.Circumference, m.Maker.LengthUnit, m.makerRule("circumference-difference")
	}
	return judgeAll(m, m.tape, limit, shown, finding.Finding{Code: finding.MatchAllWheelDriveTape, Rule: rule}, difference[unit.Length].tapeWorth)
}

// byTread judges the largest difference of depth. That it is so much of a
// circumference is evidence only: 1/4 in of circumference is 1.27/32 in of
// tread, which no gauge of 1/32 in can tell.
func (m *allWheel) byTread() finding.Finding {
	l := book.Limit("awd-depth")
	limit, shown, rule := l.Depth(), l.Value.Unit, book.RuleOf(l)
	if m.Maker.Depth != nil {
		limit, shown, rule = *m.Maker.Depth, m.Maker.DepthUnit, m.makerRule("depth-difference")
	}
	return judgeAll(m, m.tread, limit, shown, finding.Finding{Code: finding.MatchAllWheelDrive, Rule: rule}, func(d difference[unit.Depth], f *finding.Finding) {
		d.treadWorth(f)
		round := unit.Amount{Number: unit.Length(2 * math.Pi * float64(d.by.Of)).In(unit.Inches), Unit: unit.Inches}.Rounded()
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactMatchAsCircumference, Amount: round})
		if rule.Authority == finding.CommonPractice {
			f.Evidence = append(f.Evidence,
				finding.Evidence{Code: finding.FactMatchOtherPractice, Amount: book.Limit("awd-depth-other").Value},
				finding.Evidence{Code: finding.FactMatchWidestPractice, Amount: book.Limit("awd-depth-most").Value})
		}
	})
}

// judgeAll compares every pair with one limit and makes one finding of the
// largest difference, at the tires that lack too much. A maker's figure that the
// gauge cannot decide is a note with what settles it. The comparison of the
// largest is given back in any case.
func judgeAll[Q finding.Shown](m *allWheel, ds []difference[Q], limit Q, shown unit.Unit, f finding.Finding, worth func(difference[Q], *finding.Finding)) finding.Finding {
	var lacking, open []Wheel
	for _, d := range ds {
		c, tooMuch := over(d.by, limit)
		if tooMuch {
			lacking = append(lacking, d.small)
		}
		if c.Outcome != measure.Below {
			open = append(open, d.small, d.large)
		}
	}
	m.matched = m.matched && len(open) == 0
	if len(ds) == 0 {
		return f
	}
	f = largest(ds, limit, shown, f, worth)
	switch {
	case len(lacking) > 0:
		f.Urgency, f.Positions = finding.ThisVisit, distinct(lacking)
		m.find(f)
	case len(open) > 0 && f.Rule.Authority == finding.Maker:
		f.Urgency, f.Positions, f.Outcome = finding.Note, distinct(open), measure.CannotTell
		f.ToSettle = cmp.Or(f.ToSettle, finding.SettleTapeCircumference)
		m.find(f)
	}
	return f
}

// largest is the comparison of the largest difference; of equal ones, the one
// that decides most.
func largest[Q finding.Shown](ds []difference[Q], limit Q, shown unit.Unit, f finding.Finding, worth func(difference[Q], *finding.Finding)) finding.Finding {
	by := func(d difference[Q]) Q { return d.by.Of }
	most := by(slices.MaxFunc(ds, func(a, b difference[Q]) int { return cmp.Compare(by(a), by(b)) }))
	var of []finding.Finding
	for _, d := range ds {
		if by(d) == most {
			g := finding.Compared(f, d.by, limit, shown, measure.AtMost(d.by, limit))
			worth(d, &g)
			of = append(of, g)
		}
	}
	return slices.MinFunc(of, func(a, b finding.Finding) int {
		return cmp.Or(cmp.Compare(a.Outcome, b.Outcome), cmp.Compare(len(a.Evidence), len(b.Evidence)), cmp.Compare(a.Uncertainty.Number, b.Uncertainty.Number))
	})
}

func distinct(ws []Wheel) (ps []layout.Position) {
	seen := map[layout.Position]bool{}
	for _, w := range ws {
		if !seen[w.At] {
			seen[w.At] = true
			ps = append(ps, w.At)
		}
	}
	return ps
}

// pairLimit is the largest difference of diameter in a dual pair of tires so
// tall: the stricter of the trade's figure by size class and the army's by
// diameter.
func pairLimit(diameter unit.Length) rulebook.Limit {
	switch {
	case diameter <= book.Limit("dual-class-up-to").Length():
		return book.Limit("dual-small")
	case diameter < book.Limit("dual-army-up-to").Length():
		return book.Limit("dual-army-middle")
	}
	return book.Limit("dual-large")
}
