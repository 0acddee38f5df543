package tread

import (
	"cmp"
	"maps"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
)

// status compares the readings with one depth limit by that limit's own pattern.
type status struct {
	cell    Cell // the place that decides
	compare measure.Comparison
	settle  finding.Settle
	counted bool // readings without a told distance were counted as main grooves
}

// pattern is what the readings say of a rule that asks for more than one place.
type pattern struct {
	read     bool            // the rule's own pattern was read
	cell     Cell            // the place that decides it
	excuses  func(Cell) bool // a low cell that the pattern, when met, has an answer for
	toSettle finding.Settle  // the readings that would complete it
}

// against applies the pattern: few readings may prove that a limit is met, but
// not met is said only when the pattern of the rule was read, and one pattern
// that is met does not excuse a low reading it says nothing of. ok is false
// when nothing was read where the rule looks.
func against(s Summary, w Wheel, limit unit.Depth, where rulebook.Where) (st status, ok bool) {
	cells := s.Cells
	if where == rulebook.CentralThreeQuarters {
		if cells, st.counted = central(w); len(cells) == 0 {
			return status{}, false
		}
	}
	compare := func(c Cell) measure.Comparison { return measure.AtLeast(w.Gauge.Read(c.Lowest), limit) }
	st.cell, st.settle = lowest(cells), finding.SettleFinerGauge
	st.compare = compare(st.cell)
	if st.compare.Outcome == measure.Above {
		return st, true
	}
	var p pattern
	switch where {
	case rulebook.TwoAdjacentThreePlaces:
		p = neighbors(cells, 3, finding.SettleTwoGroovesThreePlaces)
	case rulebook.TwoAdjacentGrooves:
		p = neighbors(cells, 1, finding.SettleTwoAdjacentGrooves)
	case rulebook.TwoAdjacentTwoPlaces:
		p = neighbors(cells, 2, finding.SettleTwoGroovesTwoPlaces)
	case rulebook.AnyTwoThreePlaces:
		p = anyTwo(cells, 3)
	case rulebook.CenterThreePlaces:
		p = center(cells, 3)
	case rulebook.FourPointsOneMayFail:
		p = fourPoints(cells)
	case rulebook.AnyThreeQuarters:
		p = bestBand(cells)
	default:
		return st, true // one point is enough
	}
	if !p.read {
		st.compare.Outcome, st.settle = measure.CannotTell, p.toSettle
		return st, true
	}
	met := compare(p.cell).Outcome == measure.Above
	for _, c := range cells {
		if met && compare(c).Outcome != measure.Above && !p.excuses(c) {
			st.compare.Outcome, st.settle = measure.CannotTell, p.toSettle
			return st, true
		}
	}
	st.cell, st.compare = p.cell, compare(p.cell)
	if where == rulebook.TwoAdjacentThreePlaces && limit == barDepth && !w.BarsFlush && !w.BarsClear {
		st.settle = finding.SettleLookAtBars // they stand at this limit, and the rule looks at them first
	}
	return st, true
}

// barDepth is where the bars of a tire read in thirty-seconds show.
var barDepth = rulebook.Must("advice").Limit("wear-bars").Depth()

// central keeps the readings inside the central three-quarters of the breadth,
// from B/8 to 7B/8. A reading without a distance counts as a main groove.
func central(w Wheel) (in []Cell, counted bool) {
	var readings []Reading
	for _, r := range w.Readings {
		if r.FromCenterLine == nil || w.Breadth == 0 {
			counted = true
		} else if d := *r.FromCenterLine; 8*max(d, -d) > 3*w.Breadth {
			continue
		}
		readings = append(readings, r)
	}
	return cellsOf(readings), counted
}

// neighbors decides "any two adjacent grooves" at so many places round the tire:
// both grooves of some neighboring pair are at or under the deciding depth at
// each of them. Inboard, center and outboard count as neighbors. One place need
// not be told; several must be told apart.
func neighbors(cells []Cell, places int, toSettle finding.Settle) pattern {
	paired := map[int]bool{}
	p := pattern{toSettle: toSettle, excuses: func(c Cell) bool { return paired[c.Column] }}
	deeper := map[int][]Cell{} // by the first column of a pair: the deeper groove at each place
	for _, c := range cells {
		for _, d := range cells {
			if c.Column > 0 && (c.Station > 0 || places == 1) && d.Column == c.Column+1 && d.Station == c.Station {
				if d.Lowest < c.Lowest {
					d = c
				}
				deeper[c.Column] = append(deeper[c.Column], d)
			}
		}
	}
	for _, first := range slices.Sorted(maps.Keys(deeper)) {
		at := deeper[first]
		if len(at) < places {
			continue
		}
		paired[first], paired[first+1] = true, true
		slices.SortStableFunc(at, byDepth)
		if !p.read || at[places-1].Lowest < p.cell.Lowest {
			p.read, p.cell = true, at[places-1]
		}
	}
	return p
}

// anyTwo decides "any two grooves" at so many places round the tire, side by side or not.
// Two grooves that each are at or under the deciding depth at those places decide it.
func anyTwo(cells []Cell, places int) pattern {
	read := map[int]bool{}
	p := pattern{toSettle: finding.SettleTwoGroovesThreePlaces, excuses: func(c Cell) bool { return read[c.Column] }}
	at := map[int][]Cell{} // by column
	for _, c := range cells {
		if c.Column > 0 && c.Station > 0 {
			at[c.Column] = append(at[c.Column], c)
		}
	}
	var deepest []Cell // of the lowest places of each groove
	for _, column := range slices.Sorted(maps.Keys(at)) {
		of := at[column]
		if len(of) < places {
			continue
		}
		read[column] = true
		slices.SortStableFunc(of, byDepth)
		deepest = append(deepest, of[places-1])
	}
	if len(deepest) < 2 {
		return p
	}
	slices.SortStableFunc(deepest, byDepth)
	p.read, p.cell = true, deepest[1]
	return p
}

// center decides a rule of the groove nearest the center at so many places round the tire.
// Of a tire read by inboard, center and outboard that is the center; of grooves that are
// counted, it is the middle one where their number is odd, else either of the two.
func center(cells []Cell, places int) pattern {
	p := pattern{toSettle: finding.SettleCenterThreePlaces}
	first, last := 0, 0
	for _, c := range cells {
		if c.Column > 0 && (first == 0 || c.Column < first) {
			first = c.Column
		}
		last = max(last, c.Column)
	}
	middle := func(c Cell) bool {
		d := 2*c.Column - first - last
		return c.Column > 0 && last-first > 1 && -1 <= d && d <= 1
	}
	p.excuses = func(c Cell) bool { return !middle(c) && c.Column > 0 }
	at := map[int][]Cell{}
	for _, c := range cells {
		if middle(c) && c.Station > 0 {
			at[c.Column] = append(at[c.Column], c)
		}
	}
	for _, column := range slices.Sorted(maps.Keys(at)) {
		of := at[column]
		if len(of) < places {
			continue
		}
		slices.SortStableFunc(of, byDepth)
		if !p.read || of[places-1].Lowest < p.cell.Lowest {
			p.read, p.cell = true, of[places-1]
		}
	}
	return p
}

// fourPoints decides a rule that lets one of four points round the tire fail:
// by the second lowest of them.
func fourPoints(cells []Cell) pattern {
	p := pattern{toSettle: finding.SettleFourPoints, excuses: func(c Cell) bool { return c.Station > 0 }}
	low := map[int]Cell{}
	for _, c := range cells {
		if d, ok := low[c.Station]; c.Station > 0 && (!ok || c.Lowest < d.Lowest) {
			low[c.Station] = c
		}
	}
	if len(low) < 4 {
		return p
	}
	points := make([]Cell, 0, len(low))
	for _, station := range slices.Sorted(maps.Keys(low)) {
		points = append(points, low[station])
	}
	slices.SortStableFunc(points, byDepth)
	p.read, p.cell = true, points[1]
	return p
}

// bestBand decides a rule about some band of three-quarters of the breadth: by
// the lowest place inside the most favorable band. With columns spread evenly,
// a band can leave out those whose centers lie in one outer quarter; where the
// quarter ends is known only roughly from grooves, so a low place left out of
// the band stays open.
func bestBand(cells []Cell) pattern {
	p := pattern{toSettle: finding.SettleBandOfThreeQuarters, excuses: func(Cell) bool { return false }}
	var columns []Cell // the lowest of each
	for _, c := range cells {
		n := len(columns)
		switch {
		case c.Column == 0:
		case n == 0 || columns[n-1].Column != c.Column:
			columns = append(columns, c)
		case c.Lowest < columns[n-1].Lowest:
			columns[n-1] = c
		}
	}
	n := len(columns)
	if n < 3 {
		return p
	}
	leftOut := (n + 2) / 4
	for i := 0; i <= leftOut; i++ {
		if band := lowest(columns[i : n-leftOut+i]); !p.read || band.Lowest > p.cell.Lowest {
			p.read, p.cell = true, band
		}
	}
	return p
}

func byDepth(a, b Cell) int { return cmp.Compare(a.Lowest, b.Lowest) }
