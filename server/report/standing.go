package report

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"

	"gaugebook.dev/server/words"
)

// standing are the readings as the wheels stand, seen from behind: the left side left,
// of duals the outer ones outside.
func (p *printer) standing(wheels []*pb.WheelSummary) {
	if len(wheels) == 0 {
		return
	}
	label, perAxle := p.labels(wheels)
	p.hang("", 0, p.legend(wheels, label))
	for _, d := range []cellDetail{{cold: true, across: true}, {across: true}, {}, {apart: true}} {
		d.label = !perAxle
		if rows, fits := p.rows(wheels, d); fits || d.apart {
			p.out.WriteString(rows)
			return
		}
	}
}

// cellDetail is how much of a wheel its cell tells, and whether the two sides of an axle
// stand apart, one below the other.
type cellDetail struct{ cold, across, label, apart bool }

// labels are the pressures of the label from axle to axle, or the one of all; ok tells that
// the wheels of each axle have one.
func (p *printer) labels(wheels []*pb.WheelSummary) (text string, ok bool) {
	var all []string
	for _, axle := range axlesOf(wheels) {
		for i, w := range axle {
			switch l := dash(p.numberOf(w.GetLabelCold())); {
			case i == 0:
				all = append(all, l)
			case l != all[len(all)-1]:
				return "", false
			}
		}
	}
	if one := slices.Compact(slices.Clone(all)); len(one) == 1 {
		all = one
	}
	return strings.Join(all, ", "), true
}

// legend says what the numbers are, and in which unit.
func (p *printer) legend(wheels []*pb.WheelSummary, label string) string {
	depth, pressure := "", ""
	for _, w := range wheels {
		if a := p.in(w.GetGoverningDepth()); !a.IsZero() && depth == "" {
			depth = p.unitOf(w.GetGoverningDepth())
		}
		if w.GetFound() != nil && pressure == "" {
			pressure = p.unitOf(w.GetFound())
		}
	}
	var parts []string
	if depth != "" {
		parts = append(parts, tellLabel(p.technician, "glance.depths", words.Plain(depth).As("unit")))
	}
	if pressure != "" {
		parts = append(parts, tellLabel(p.technician, "glance.pressures", words.Plain(pressure).As("unit")))
	}
	if label != "" && label != "-" {
		parts = append(parts, lower(p.label("report.label"))+" "+label)
	}
	return strings.Join(parts, "; ")
}

// rows are the wheels of each axle side by side; fits tells that no row is too wide.
func (p *printer) rows(wheels []*pb.WheelSummary, d cellDetail) (text string, fits bool) {
	var table []sides
	var spare []string
	width := 0
	for _, axle := range axlesOf(wheels) {
		var row sides
		for _, w := range axle {
			cell := p.cell(w, d)
			switch at, _ := layout.Parse(w.GetPosition()); {
			case at.Spare:
				spare = append(spare, cell)
				continue
			case at.Side == layout.Right:
				row.right = append(row.right, cell)
			default:
				row.left = append(row.left, cell)
			}
			width = max(width, utf8.RuneCountInString(cell))
		}
		switch n := len(row.left) + len(row.right); {
		case n == 0:
		case d.apart && n > 2:
			table = append(table, sides{left: row.left}, sides{left: row.right})
		default:
			table = append(table, row)
		}
	}
	most := 1 // cells of a left side, where a wheel that nobody reported leaves its place
	for _, row := range table {
		most = max(most, len(row.left))
	}
	var out strings.Builder
	fits = true
	for _, row := range table {
		line := "  " + row.across(most, width)
		fits = fits && utf8.RuneCountInString(line) <= Width
		fmt.Fprintln(&out, strings.TrimRight(line, " "))
	}
	for _, cell := range spare {
		fmt.Fprintln(&out, "  "+cell)
	}
	return out.String(), fits
}

// sides are the cells of an axle's wheels on each side, from left to right.
type sides struct{ left, right []string }

// across puts the right side right of the middle, whatever stands left of it.
func (s sides) across(most, width int) string {
	var b strings.Builder
	for _, c := range s.left {
		b.WriteString(pad(c, width) + "  ")
	}
	if len(s.left) == 0 && len(s.right) > 0 {
		b.WriteString(strings.Repeat(pad("", width)+"  ", most))
	}
	for _, c := range s.right {
		b.WriteString("  " + pad(c, width))
	}
	return b.String()
}

// axlesOf are the wheels of each axle from left to right, the spare last.
func axlesOf(wheels []*pb.WheelSummary) (axles [][]*pb.WheelSummary) {
	all := slices.Clone(wheels)
	place := func(w *pb.WheelSummary) layout.Position { at, _ := layout.Parse(w.GetPosition()); return at }
	across := func(p layout.Position) int {
		i := map[layout.Dual]int{layout.Outer: 0, layout.Single: 1, layout.Inner: 2}[p.Dual]
		if p.Side == layout.Right {
			return 9 - i
		}
		return i
	}
	row := func(p layout.Position) int {
		if p.Spare {
			return 1 << 16
		}
		return p.Axle
	}
	slices.SortStableFunc(all, func(a, b *pb.WheelSummary) int {
		x, y := place(a), place(b)
		if row(x) != row(y) {
			return row(x) - row(y)
		}
		return across(x) - across(y)
	})
	for _, w := range all {
		last := len(axles) - 1
		if last >= 0 && row(place(axles[last][0])) == row(place(w)) {
			axles[last] = append(axles[last], w)
			continue
		}
		axles = append(axles, []*pb.WheelSummary{w})
	}
	return axles
}

// cell is one wheel: its name, depths, pressure as found and about cold.
func (p *printer) cell(w *pb.WheelSummary, d cellDetail) string {
	depth := p.numberOf(w.GetGoverningDepth())
	if d.across && len(w.GetMeanDepths()) > 1 {
		depth = p.means(w)
	}
	parts := []string{w.GetShownPosition(), dash(depth), dash(p.numberOf(w.GetFound()))}
	if d.cold && w.GetFound() != nil {
		if cold := p.betweenNumbers(w); cold != "" {
			parts = append(parts, "("+cold+")")
		}
	}
	if d.label {
		parts = append(parts, "/ "+dash(p.numberOf(w.GetLabelCold())))
	}
	return strings.Join(parts, "  ")
}

// unitOf is the unit that a quantity is shown in.
func (p *printer) unitOf(q proto.Message) string {
	a := p.in(q)
	if a.Unit == unit.ThirtySecondsInch {
		return "1/32 in" // of which the number counts how many
	}
	return a.Unit.String()
}

// numberOf is a quantity without its unit, which the legend tells; "" when it is absent.
func (p *printer) numberOf(q proto.Message) string {
	a := p.in(q)
	if a.IsZero() {
		return ""
	}
	return p.technician.Value(words.Number(a))
}

// betweenNumbers is the cold equivalent in whole psi or kPa or half tenths of a bar, as an
// interval when it is not known so finely.
func (p *printer) betweenNumbers(w *pb.WheelSummary) string {
	low, high := p.coarse(w.GetColdLow()), p.coarse(w.GetColdHigh())
	if low == "" || low == high {
		return p.coarse(w.GetColdEquivalent())
	}
	return low + "-" + high
}

// coarse is a pressure without its unit, no finer than a gauge of the lot reads.
func (p *printer) coarse(q proto.Message) string {
	a := p.in(q)
	if a.IsZero() {
		return ""
	}
	per := 1.0
	if a.Unit == unit.Bar {
		per = 20 // whole psi in bar end so
	}
	a.Number = math.Round(a.Number*per) / per
	return p.technician.Value(words.Number(a))
}
