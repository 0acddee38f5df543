package report

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/rulebook"

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
	if o := show(visit.GetOdometer()); o != "" {
		parts = append(parts, o)
	}
	p.hang("", 0, strings.Join(parts, ", "))
	for _, name := range a.GetBasis().GetRulebooks() {
		id, _, _ := strings.Cut(name, "@")
		if book, ok := rulebook.Get(id); ok {
			name += ": " + book.Title
		}
		p.hang("  "+p.label("report.judged-by"), 14, name)
	}
	if d := a.GetBasis().GetAsOf(); d != nil {
		p.hang("  "+p.label("report.as-of"), 14, fmt.Sprintf("%04d-%02d-%02d, %s %s", d.GetYear(), d.GetMonth(), d.GetDay(), p.label("report.engine"), a.GetBasis().GetEngine()))
	}
}

func (p *printer) readings(wheels []*pb.WheelSummary) {
	if len(wheels) == 0 {
		return
	}
	p.section("readings")
	t := tabwriter.NewWriter(&p.out, 0, 0, 2, ' ', 0)
	row := func(cells ...string) { _, _ = io.WriteString(t, "  "+strings.Join(cells, "\t")+"\n") } // into memory
	row("", p.label("report.across"), p.label("report.lowest"), p.label("report.usable"),
		p.label("report.pressure"), p.label("report.cold"), p.label("report.label"))
	for _, s := range wheels {
		row(s.GetShownPosition(), means(s), dash(show(s.GetGoverningDepth())), left(s),
			dash(show(s.GetFound())), between(s), dash(show(s.GetLabelCold())))
	}
	_ = t.Flush() // into memory
	p.usable(wheels)
}

// usable says once for each new depth and limit what the percentages are of.
func (p *printer) usable(wheels []*pb.WheelSummary) {
	var order []string
	at := map[string][]string{}
	for _, s := range wheels {
		u := s.GetUsableTread()
		if u == nil {
			continue
		}
		of := fmt.Sprintf(p.label("report.left-of"), show(u.GetDepthWhenNew()), show(u.GetLimit()))
		if at[of] == nil {
			order = append(order, of)
		}
		at[of] = append(at[of], s.GetPosition())
	}
	for _, of := range order {
		if len(order) > 1 {
			of = p.places(at[of]) + ": " + of
		}
		p.hang("", 2, of)
	}
}

// show writes any quantity message, "" when it is absent.
func show(q proto.Message) string { a, _ := translate.Amount(q); return words.Amount(a) }

func number(q proto.Message) string { a, _ := translate.Amount(q); return words.Number(a) }

// tenths is a mean depth: no gauge reads finer.
func tenths(q proto.Message) string {
	a, _ := translate.Amount(q)
	a.Number = math.Round(10*a.Number) / 10
	return words.Number(a)
}

func expanded(q proto.Message) string { a, _ := translate.Amount(q); return words.Expanded(a) }

func dash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

// means are the mean depths across the tread, from the vehicle outward.
func means(s *pb.WheelSummary) string {
	var ns []string
	for _, m := range s.GetMeanDepths() {
		ns = append(ns, tenths(m.GetDepth()))
	}
	return dash(strings.Join(ns, " "))
}

func left(s *pb.WheelSummary) string {
	u := s.GetUsableTread()
	if u == nil {
		return "-"
	}
	return fmt.Sprintf("%.0f%%", u.GetPercent())
}

// between is the cold equivalent, as an interval when it is not known to a psi.
func between(s *pb.WheelSummary) string {
	low, high := show(s.GetColdLow()), show(s.GetColdHigh())
	if low == "" || low == high {
		return dash(show(s.GetColdEquivalent()))
	}
	return number(s.GetColdLow()) + "-" + high
}
