package questions

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// lowestColumn stands for the lowest reading of a tire, wherever it was.
const lowestColumn = -1

// courses are the depths of one tire over its life, counted from today: by the
// column across the tread that today's reading has, and its lowest reading.
func (in TrendIn) courses(w visit.Wheel) map[int][]trend.Point {
	today := in.Treads[w.Position].Summary
	out := map[int][]trend.Point{}
	add := func(s tread.Summary, b visit.Before, column func(int) int) {
		point := func(v measure.Value[unit.Depth]) trend.Point {
			p := trend.Read(b.DepthGauge, v.Of)
			p.Run, p.Day = -b.Ago, b.Day
			return p
		}
		for col, mean := range s.Means {
			if c := column(col); slices.Contains(today.Columns, c) {
				out[c] = append(out[c], point(mean))
			}
		}
		out[lowestColumn] = append(out[lowestColumn], point(s.Reading))
	}
	add(today, visit.Before{Day: in.Day, DepthGauge: in.Gauge}, func(col int) int { return col })
	for _, b := range w.Before {
		s, ok := tread.Summarize(tread.Wheel{Position: b.At, Readings: b.Depths, Gauge: b.DepthGauge})
		if !ok {
			continue
		}
		nowhere := func(int) int { return lowestColumn - 1 }
		switch {
		case byGroove(today) != byGroove(s):
			add(s, b, nowhere)
		case b.Turned:
			sides := int(layout.Inboard) + int(layout.Outboard)
			if byGroove(s) {
				sides = 1 + slices.Max(slices.Concat(today.Columns, s.Columns))
			}
			add(s, b, func(col int) int { return sides - col })
		default:
			add(s, b, func(col int) int { return col })
		}
	}
	addNew(w, out)
	return out
}

// byGroove tells that places across are numbered grooves.
func byGroove(s tread.Summary) bool { return s.Governing.At.Groove > 0 }

// addNew adds the depth when new, where it is told and how far the tire ran since.
func addNew(w visit.Wheel, out map[int][]trend.Point) {
	if w.History.OnTire == nil {
		return
	}
	for col := range out {
		d, ofGroove := w.Tire.New[col]
		if !ofGroove {
			d = w.Tire.New[0]
		}
		if d > 0 {
			out[col] = append(out[col], trend.Point{Run: -*w.History.OnTire, Depth: trend.NewDepth(d, ofGroove && col > 0), Day: w.History.Fitted, Assumed: true})
		}
	}
}

// follow gives the trend of each column. The lowest reading stands in where no
// column was read twice.
func (in TrendIn) follow(w visit.Wheel) map[int]trend.Trend {
	var isNew *unit.Distance
	if w.History.OnTire != nil {
		fitted := -*w.History.OnTire
		isNew = &fitted
	}
	out := map[int]trend.Trend{}
	told := false
	courses := in.courses(w)
	for col, points := range courses {
		if col != lowestColumn && len(points) > 1 {
			out[col] = trend.Follow(points, isNew)
			told = true
		}
	}
	if points := courses[lowestColumn]; !told && len(points) > 1 {
		out[lowestColumn] = trend.Follow(points, isNew)
	}
	return out
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
