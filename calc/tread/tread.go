// Package tread answers whether a tire's tread is fit for the road: how deep it
// is, where it is lowest, whether it is worn to its bars, and which depth limits
// it meets, does not meet, or leaves open.
//
// Two answers are always given apart. Condition: at the wear bars a tire is worn
// out, whatever the gauge can prove. Legal status: below, above, or cannot tell,
// by the rule's own pattern of readings.
package tread

import (
	"cmp"
	"math"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// Shape is the least difference that is called a fault, however fine the gauge:
// inner and outer grooves of sound tires differ in wear by 10 to 50 percent
// (groove wear in controlled tests, 1985 report), so provable is not enough.
var Shape = unit.MustDepth(2, unit.ThirtySecondsInch)

// Reading is one depth as read, before anything was touched.
type Reading struct {
	Depth          unit.Depth
	AsRead         unit.Amount
	Across         layout.Across // or
	Groove         int           // counted from the vehicle's side; 0 when not told
	Station        int           // round the tire from the valve; 0 when not told
	FromCenterLine *unit.Length  // distance from the tread's center line, when told
}

// Wheel is what was read of one tire's tread.
type Wheel struct {
	Position   layout.Position
	Readings   []Reading // as found, repeats among them
	Gauge      measure.Gauge[unit.Depth]
	New        map[int]unit.Depth // new depth by column (see Column), 0 for all grooves alike
	Breadth    unit.Length        // breadth of tread, 0 when not told
	BarsFlush  bool               // wear bars seen flush with the tread
	BarsClear  bool               // wear bars seen clear of the tread
	Damaged    bool               // damage seen on the tread: an odd reading may be real
	SpareRuns  bool               // a spare, put on after a puncture
	ThreePeaks finding.Answer     // marked with the three-peak mountain and snowflake
	MudAndSnow finding.Answer     // marked M+S
	Studded    finding.Answer
	CrossPly   bool // told to be; radial else
}

// Column is a reading's place across the tread as a number: the groove, or 1-3
// for inboard to outboard, or 0 when not told.
func (r Reading) Column() int {
	if r.Groove > 0 {
		return r.Groove
	}
	return int(r.Across)
}

// Cell is what was read at one place across and round the tire.
type Cell struct {
	Column, Station int
	Lowest          unit.Depth // of the repeats: judges limits
	Highest         unit.Depth // of the repeats
	Median          unit.Depth // of the repeats: judges shapes
	Repeats         int
	At              Reading // the lowest reading
}

// Summary is what the readings of one tire come to.
type Summary struct {
	Cells     []Cell // by column, then station
	Columns   []int
	Governing Cell // the lowest reading
	Reading   measure.Value[unit.Depth]
	Means     map[int]measure.Value[unit.Depth] // mean round the tire by column, odd reading set aside
	Mean      measure.Value[unit.Depth]         // of the means
	Least     measure.Value[unit.Depth]         // the mean of the lowest repeats, odd reading and all: with Most it judges limits on a difference
	Most      measure.Value[unit.Depth]         // the mean of the highest repeats
	Odd       *Cell                             // the one reading that no tire could wear, if there is one
}

// Summarize puts the readings of one tire together; ok is false without any.
// The order of the readings does not matter.
func Summarize(w Wheel) (s Summary, ok bool) {
	if len(w.Readings) == 0 {
		return Summary{}, false
	}
	s.Cells = cellsOf(w.Readings)
	s.Governing = lowest(s.Cells)
	s.Reading = w.Gauge.Read(s.Governing.Lowest)
	for _, c := range s.Cells {
		if !slices.Contains(s.Columns, c.Column) {
			s.Columns = append(s.Columns, c.Column)
		}
	}
	if !w.Damaged {
		s.Odd = oddOne(s.Cells, s.Columns, w.Gauge)
	}
	s.means(w.Gauge)
	return s, true
}

// cellsOf groups readings by place, ordered by column, then station, whatever
// order they came in.
func cellsOf(readings []Reading) (cells []Cell) {
	place := func(a, b Reading) int {
		return cmp.Or(cmp.Compare(a.Column(), b.Column()), cmp.Compare(a.Station, b.Station))
	}
	all := slices.Clone(readings)
	slices.SortFunc(all, func(a, b Reading) int {
		return cmp.Or(place(a, b), cmp.Compare(a.Depth, b.Depth), cmp.Compare(a.AsRead.Unit, b.AsRead.Unit),
			cmp.Compare(a.AsRead.Number, b.AsRead.Number), cmp.Compare(distance(a), distance(b)))
	})
	cells = make([]Cell, 0, len(all))
	for len(all) > 0 {
		n := slices.IndexFunc(all, func(r Reading) bool { return place(r, all[0]) != 0 })
		if n < 0 {
			n = len(all)
		}
		rs := all[:n]
		all = all[n:]
		cells = append(cells, Cell{rs[0].Column(), rs[0].Station, rs[0].Depth, rs[len(rs)-1].Depth, medianOf(rs), len(rs), rs[0]})
	}
	return cells
}

// distance orders readings; those without a distance come first.
func distance(r Reading) unit.Length {
	if r.FromCenterLine == nil {
		return math.MinInt64
	}
	return *r.FromCenterLine
}

// lowest is the first of the lowest cells.
func lowest(cells []Cell) Cell {
	return slices.MinFunc(cells, func(a, b Cell) int { return cmp.Compare(a.Lowest, b.Lowest) })
}

// same tells whether two cells are the same place.
func (c Cell) same(d Cell) bool { return c.Column == d.Column && c.Station == d.Station }

// means are over the stations of a column. Their uncertainty stays that of one
// reading: the zero of a gauge errs alike at every station.
func (s *Summary) means(g measure.Gauge[unit.Depth]) {
	s.Means = map[int]measure.Value[unit.Depth]{}
	var all, least, most float64
	for _, col := range s.Columns {
		var sum, n, low, high, places float64
		for _, c := range s.Cells {
			if c.Column != col {
				continue
			}
			low, high, places = low+float64(c.Lowest), high+float64(c.Highest), places+1
			if s.Odd == nil || !s.Odd.same(c) {
				sum, n = sum+float64(c.Median), n+1
			}
		}
		least, most = least+low/places, most+high/places
		if n == 0 {
			continue
		}
		s.Means[col] = g.Read(unit.Depth(sum / n))
		all += sum / n
	}
	columns := float64(len(s.Columns))
	s.Mean = g.Read(unit.Depth(all / float64(len(s.Means))))
	s.Least, s.Most = g.Read(unit.Depth(least/columns)), g.Read(unit.Depth(most/columns))
}

// ReadTwice tells that what is known of a column rests on places that were each read
// again alike; of a column below 1, on the lowest place.
func (s *Summary) ReadTwice(column int) bool {
	again := func(c Cell) bool { return c.Repeats > 1 && c.Highest-c.Lowest < Shape }
	if column < 1 {
		return again(s.Governing)
	}
	return !slices.ContainsFunc(s.Cells, func(c Cell) bool { return c.Column == column && !again(c) })
}

func medianOf(sorted []Reading) unit.Depth {
	n := len(sorted)
	if n%2 == 1 {
		return sorted[n/2].Depth
	}
	return (sorted[n/2-1].Depth + sorted[n/2].Depth) / 2
}

// Edges gives the means at the inboard edge, the center and the outboard edge;
// ok is false when they were not all read.
func (s *Summary) Edges() (inboard, center, outboard measure.Value[unit.Depth], ok bool) {
	n := len(s.Columns)
	if n < 3 || s.Columns[0] == 0 {
		return
	}
	var middle []measure.Value[unit.Depth]
	for _, col := range s.Columns[1 : n-1] {
		middle = append(middle, s.Means[col])
	}
	center = measure.Mean(middle...)
	center.Std = middle[0].Std
	return s.Means[s.Columns[0]], center, s.Means[s.Columns[n-1]], true
}

// Beside gives the edges and the center, and the mean of all, as uncertain as they are
// beside others read at the same visit: all readings of a place count, and the accuracy of
// the gauge, common to them, does not. across is nil when they were not all read.
func (s *Summary) Beside(g measure.Gauge[unit.Depth]) (across *[3]measure.Value[unit.Depth], mean measure.Value[unit.Depth]) {
	all := make([]measure.Value[unit.Depth], 0, len(s.Columns))
	for _, col := range s.Columns {
		if v, ok := s.Means[col]; ok {
			all = append(all, measure.Value[unit.Depth]{Of: v.Of, Std: g.Scatter(s.readings(col))})
		}
	}
	mean = measure.Value[unit.Depth]{Of: s.Mean.Of, Std: measure.Mean(all...).Std}
	in, mid, out, ok := s.Edges()
	if n := len(all); ok && n == len(s.Columns) {
		in.Std, mid.Std, out.Std = all[0].Std, measure.Mean(all[1:n-1]...).Std, all[n-1].Std
		across = &[3]measure.Value[unit.Depth]{in, mid, out}
	}
	return across, mean
}

// readings counts those of a column, but for the odd one.
func (s *Summary) readings(column int) (n int) {
	for _, c := range s.Cells {
		if c.Column == column && (s.Odd == nil || !s.Odd.same(c)) {
			n += c.Repeats
		}
	}
	return max(1, n)
}

// Read tells at how many places round the tire every column was read, and of how many
// readings the column has that has the fewest.
func (s *Summary) Read() (places, readings int) {
	across, of := map[int]int{}, map[int]int{}
	for _, c := range s.Cells {
		across[c.Station]++
		of[c.Column] += c.Repeats
	}
	for _, n := range across {
		if n == len(s.Columns) {
			places++
		}
	}
	for _, n := range of {
		if readings == 0 || n < readings {
			readings = n
		}
	}
	return places, readings
}

// oddOne finds the one reading that stands alone: its neighbors across and
// round the tire are both normal. Three stations and two columns are needed to
// know; repeats that all agree confirm the reading, one that does not leaves it
// in doubt.
func oddOne(cells []Cell, columns []int, g measure.Gauge[unit.Depth]) *Cell {
	if len(columns) < 2 || columns[0] == 0 {
		return nil
	}
	provable := unit.Depth(measure.Coverage * g.Read(0).Minus(g.Read(0)).Std)
	step := max(Shape, provable)
	var odd []Cell
	for _, col := range columns {
		var column []Cell
		for _, c := range cells {
			if c.Column == col {
				column = append(column, c)
			}
		}
		if len(column) < 3 {
			return nil
		}
		depths := make([]unit.Depth, len(column))
		for i, c := range column {
			depths[i] = c.Median
		}
		slices.Sort(depths)
		middle := depths[len(depths)/2]
		for _, c := range column {
			if c.Highest-middle >= step || middle-c.Lowest >= step {
				odd = append(odd, c)
			}
		}
	}
	if len(odd) != 1 || (odd[0].Repeats > 1 && odd[0].Highest-odd[0].Lowest < step) {
		return nil
	}
	return &odd[0]
}

// UsableLeft is the share of the usable tread that is left: the lowest depth
// less limit, of the new depth less limit; never under zero. ok is false when
// the new depth is not known.
func UsableLeft(lowest, whenNew, limit unit.Depth) (unit.Ratio, bool) {
	if whenNew <= limit {
		return 0, false
	}
	return max(0, unit.Ratio(float64(lowest-limit)/float64(whenNew-limit))), true
}

// NewAt is the new depth of a column, when known.
func (w Wheel) NewAt(column int) (unit.Depth, bool) {
	if d, ok := w.New[column]; ok {
		return d, true
	}
	d, ok := w.New[0]
	return d, ok
}
