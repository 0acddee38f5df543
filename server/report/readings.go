package report

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"text/tabwriter"
	"unicode/utf8"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"

	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/translate"
	"gaugebook.dev/server/words"
)

func (p *printer) heading(req *pb.AssessVisitRequest, a *pb.Assessment) {
	visit := req.GetInspection()
	parts := []string{p.label("report.visit")}
	if d := visit.GetLocalDate(); d != nil {
		parts = append(parts, fmt.Sprintf("%04d-%02d-%02d", d.GetYear(), d.GetMonth(), d.GetDay()))
	}
	if tag := req.GetVehicle().GetTag(); tag != "" {
		parts = append(parts, tag)
	}
	if o := p.chosen.Value(shown(visit.GetOdometer())); o != "" {
		parts = append(parts, o)
	}
	p.hang("", 0, strings.Join(parts, ", "))
	for _, name := range a.GetBasis().GetRulebooks() {
		id, _, _ := strings.Cut(name, "@")
		if book, ok := rulebook.Get(id); ok {
			name += ": " + p.technician.Value(words.Cited(book.Title))
		}
		p.hang("  "+p.label("report.judged-by"), 14, name)
	}
	if d := a.GetBasis().GetAsOf(); d != nil {
		p.hang("  "+p.label("report.as-of"), 14, fmt.Sprintf("%04d-%02d-%02d, %s %s", d.GetYear(), d.GetMonth(), d.GetDay(), p.label("report.engine"), a.GetBasis().GetEngine()))
	}
	for _, answer := range tell.Answers(p.technician, a) {
		p.hang("  "+p.label("report.told"), 14, answer)
	}
}

func (p *printer) readings(wheels []*pb.WheelSummary) {
	if len(wheels) == 0 {
		return
	}
	p.section("readings")
	table := p.table(wheels, 2)
	if slices.ContainsFunc(strings.Split(table, "\n"), func(line string) bool { return utf8.RuneCountInString(line) > Width }) {
		table = p.table(wheels, 1)
	}
	p.out.WriteString(table)
	p.usable(wheels)
}

// table has one row for each wheel, with what was read in other units under it.
func (p *printer) table(wheels []*pb.WheelSummary, apart int) string {
	var out strings.Builder
	t := tabwriter.NewWriter(&out, 0, 0, apart, ' ', 0)
	row := func(cells ...string) { _, _ = io.WriteString(t, "  "+strings.Join(cells, "\t")+"\n") } // into memory
	row("", p.label("report.across"), p.label("report.lowest"), p.label("report.usable"),
		p.label("report.pressure"), p.label("report.cold"), p.label("report.label"))
	for _, s := range wheels {
		row(s.GetShownPosition(), p.means(s), dash(p.wanted(s.GetGoverningDepth())), p.left(s),
			dash(p.wanted(s.GetFound())), p.between(s), dash(p.wanted(s.GetLabelCold())))
		beside := []string{p.beside(s.GetGoverningDepth()), p.beside(s.GetFound()), p.beside(s.GetLabelCold())}
		if strings.Join(beside, "") != "" {
			row("", "", beside[0], "", beside[1], "", beside[2])
		}
	}
	_ = t.Flush() // into memory
	return out.String()
}

// usable says once for each new depth and limit what the percentages are of.
func (p *printer) usable(wheels []*pb.WheelSummary) {
	var order []string
	positions := map[string][]string{}
	for _, s := range wheels {
		u := s.GetUsableTread()
		if u == nil {
			continue
		}
		of := tellLabel(p.technician, "report.left-of",
			shown(u.GetDepthWhenNew()).As("new"), shown(u.GetLimit()).As("limit"))
		if positions[of] == nil {
			order = append(order, of)
		}
		positions[of] = append(positions[of], s.GetPosition())
	}
	for _, of := range order {
		if len(order) > 1 {
			of = p.places(positions[of]) + ": " + of
		}
		p.hang("", 2, of)
	}
}

// shown is any quantity message, to be told in the reader's unit with what was read
// beside it; no value when it is absent.
func shown(q proto.Message) words.Value {
	a, _ := translate.Amount(q)
	return words.Shown(a)
}

// show writes any quantity message; "" when it is absent.
func (p *printer) show(q proto.Message) string { return p.technician.Value(shown(q)) }

// in gives a quantity message in the reader's unit.
func (p *printer) in(q proto.Message) unit.Amount {
	a, _ := translate.Amount(q)
	return p.technician.In(a)
}

// exact writes an amount as it stands.
func (p *printer) exact(a unit.Amount) string { return p.technician.Value(words.Exact(a)) }

// wanted writes a quantity message in the reader's unit alone.
func (p *printer) wanted(q proto.Message) string { return p.exact(p.in(q)) }

// beside is what stands under a cell of the table that was read in another unit.
func (p *printer) beside(q proto.Message) string {
	a, _ := translate.Amount(q)
	if p.in(q) == a {
		return ""
	}
	return "(" + p.exact(a) + ")"
}

func (p *printer) expanded(q proto.Message) string {
	a, _ := translate.Amount(q)
	return p.technician.Value(words.Expanded(a))
}

func dash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

// means are the mean depths across the tread, from the vehicle outward, to a
// tenth: no gauge reads finer.
func (p *printer) means(s *pb.WheelSummary) string {
	var ns []string
	for _, m := range s.GetMeanDepths() {
		a := p.in(m.GetDepth())
		a.Number = math.Round(10*a.Number) / 10
		ns = append(ns, p.technician.Value(words.Number(a)))
	}
	return dash(strings.Join(ns, " "))
}

func (p *printer) left(s *pb.WheelSummary) string {
	u := s.GetUsableTread()
	if u == nil {
		return "-"
	}
	return p.exact(unit.Amount{Number: math.RoundToEven(u.GetPercent()), Unit: unit.Percent})
}

// between is the cold equivalent, as an interval when it is not known to a psi.
func (p *printer) between(s *pb.WheelSummary) string {
	low, high := p.in(s.GetColdLow()), p.in(s.GetColdHigh())
	if low.IsZero() || low == high {
		return dash(p.wanted(s.GetColdEquivalent()))
	}
	return p.technician.Value(words.Number(low)) + "-" + p.exact(high)
}
