package tell

import (
	"cmp"
	"slices"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/words"
)

// Finding tells one finding by itself.
func (t *Teller) Finding(f *pb.Finding, frontRear bool) {
	if f == nil {
		return
	}
	g := t.on(frontRear)
	defer g.end()
	g.part(f)
}

// part tells a finding as a part of an answer: at a glance it is there without words.
func (g *rendering) part(f *pb.Finding) {
	if !g.glance() {
		g.finding(f)
		return
	}
	g.behind(f)
	f.ToSettle, f.Caution, f.AsLeft, f.Subject = nil, "", nil, nil
}

// Headline tells what comes before all else, of a vehicle or a visit in a list.
func (t *Teller) Headline(h *pb.Headline, frontRear bool) {
	g := t.on(frontRear)
	defer g.end()
	g.Teller = t.reading(readInHeadline(h, nil))
	g.headline(h, t.over(h))
	g.line(h, t.over(h))
}

// Open tells a finding that is open.
func (t *Teller) Open(f *pb.OpenFinding, frontRear bool) { t.Finding(f.GetFinding(), frontRear) }

// Cautions tells the cautions of findings that are open, each once.
func (t *Teller) Cautions(open ...*pb.OpenFinding) []*pb.Said {
	var all []*pb.Said
	for _, f := range open {
		code := f.GetFinding().GetCaution()
		if code != "" && !slices.ContainsFunc(all, func(c *pb.Said) bool { return c.GetCode() == code }) {
			all = append(all, &pb.Said{Code: code, Words: t.text(words.Cautions, code)})
		}
	}
	return all
}

// State tells what is open on a vehicle, and gathers its cautions.
func (t *Teller) State(s *pb.VehicleState, frontRear bool) {
	if s == nil {
		return
	}
	g := t.on(frontRear)
	defer g.end()
	g.Teller = t.reading(readInHeadline(s.GetHeadline(), s.GetOpen()))
	over := t.over(s.GetHeadline())
	g.headline(s.GetHeadline(), over)
	g.line(s.GetHeadline(), over)
	if !t.glance() {
		s.Cautions = t.Cautions(s.GetOpen()...)
	}
	for _, f := range s.GetOpen() {
		if f.GetFinding() != nil {
			g.part(f.GetFinding())
		}
	}
}

// Change tells a change of the book. frontRear tells how places are written on each
// of its vehicles.
func (t *Teller) Change(c *pb.Change, frontRear func(vehicleID string) bool) {
	if in := c.GetInspection(); in != nil {
		t.Assessment(in.GetAssessment(), frontRear(in.GetVehicleId()))
		g := t.on(false)
		defer g.end()
		for _, closed := range in.GetClosed() {
			g.said(words.Labels, closed.GetClosedBy())
		}
	}
	if len(c.GetClosed()) > 0 {
		g := t.on(false)
		defer g.end()
		for _, closed := range c.GetClosed() {
			g.said(words.Labels, closed.GetClosedBy())
		}
	}
	for _, s := range c.GetVehicles() {
		t.State(s, frontRear(s.GetVehicleId()))
	}
}

// Rotation tells a comparison of rotations. At a glance its plans have no words.
func (t *Teller) Rotation(r *pb.PlanRotationResponse, frontRear bool) {
	t.Assessment(r.GetAssessment(), frontRear)
	t.Finding(r.GetUnrecordedRotation(), frontRear)
	g := t.on(frontRear)
	defer g.end()
	for _, p := range r.GetPlans() {
		g.plan(p)
	}
}

func (g *rendering) plan(p *pb.RotationPlan) {
	if g.glance() {
		p.Work = nil
		return
	}
	said := g.label(mapLabel + p.GetMapId())
	if len(p.GetChanges()) > 0 {
		said += ": " + g.technician.Value(words.Moves(g.vehicle, moves(p.GetChanges())))
	}
	p.Words = words.Sentence(said) + "."
	for _, s := range p.GetWhyNot() {
		g.said(words.Labels, s)
	}
	for _, s := range p.GetWarnings() {
		g.said(words.Labels, s)
	}
	for _, w := range p.GetWork() {
		g.work(w)
	}
}

// Sidewall tells what is doubtful in what is printed on a tire.
func (t *Teller) Sidewall(r *pb.ReadSidewallResponse) {
	g := t.on(false)
	defer g.end()
	for _, s := range r.GetNotes() {
		g.said(words.Notes, s)
	}
	g.notJudged(r.GetNotJudged())
}

// Rulebook tells a rulebook.
func (t *Teller) Rulebook(b *pb.Rulebook) {
	g := t.on(false)
	defer g.end()
	g.cite(b.GetTitle())
	for _, l := range b.GetLimits() {
		if s := l.GetSubject(); s != nil {
			s.Words = cmp.Or(t.technician.Text(words.Labels, "limit."+s.GetCode()), s.GetCode())
		}
		g.cite(l.GetRule().GetCitation())
	}
}
