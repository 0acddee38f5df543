package tell

import (
	"cmp"
	"slices"
	"strings"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/unit"

	"gaugebook.dev/server/words"
)

// Assessment tells what a visit means, of a vehicle on which places are written by
// its ends (frontRear) or by its axles.
func (t *Teller) Assessment(a *pb.Assessment, frontRear bool) {
	if a == nil {
		return
	}
	g := t.on(frontRear)
	defer g.end()
	units := readIn(a)
	found, work := t.reading(ofLaw(units)), t.reading(units)
	g.Teller = found
	g.headline(a.GetHeadline(), false)
	g.held = a.GetHeadline().GetUrgency() == pb.Urgency_URGENCY_BEFORE_DRIVING
	g.answers(a)
	g.behindHeadline(a.GetHeadline())
	if t.glance() {
		h, n := a.GetHeadline(), a.GetTotals()
		proto.Reset(a)
		a.Headline, a.Totals = h, n
		return
	}
	if !t.full() {
		leaveOut(a)
	}
	for _, f := range a.GetFindings() {
		if !t.full() && asked(f, a.GetWork()) {
			f.ToSettle = nil
		}
		if g.Teller = found; found != t && finding.FamilyOf(finding.Code(f.GetCode())) == "doubt" {
			g.Teller = t // which asks about a number as it was noted
		}
		g.finding(f)
	}
	g.Teller = work
	for _, w := range a.GetWork() {
		g.work(w)
	}
	g.Teller = found
	g.cautions(a)
	for _, q := range a.GetQuestions() {
		g.question(q)
	}
	for _, r := range a.GetRepairs() {
		if !t.full() { // the order of work says what to do
			r.FindingIds, r.LookFor, r.Missing = nil, nil, nil
		}
		t.Repair(r)
	}
	if !t.full() {
		a.Wheels, a.NotLookedAt, a.NothingFound, a.NotJudged, a.Basis = nil, nil, nil, nil, ofShop(a.GetBasis())
		return
	}
	g.lists(a)
}

// ofShop is what of a basis is told where not all is: that the shop's place stood in.
func ofShop(b *pb.Basis) *pb.Basis {
	if b.GetPlaceOfShop() == nil {
		return nil
	}
	return &pb.Basis{PlaceOfShop: b.GetPlaceOfShop()}
}

// cautions tells each; in brief without those to whom all of them defer, whom WORK tells once.
func (g *rendering) cautions(a *pb.Assessment) {
	if !g.full() && len(a.GetCautions()) > 0 {
		a.Cautions = append(a.Cautions, &pb.Said{Code: string(finding.CautionDefer)})
	}
	var brief words.Condition
	if g.short || !g.full() {
		brief = words.Brief
	}
	for _, c := range a.GetCautions() {
		g.arguments = g.arguments[:0]
		c.Words = cmp.Or(g.say(g.technician, words.Said{Section: words.Cautions, Code: c.GetCode(), When: brief}), c.GetCode())
	}
}

// over tells that the day of a headline is over.
func (t *Teller) over(h *pb.Headline) bool {
	return t.today != (unit.Date{}) && h.GetAsOf() != nil && dayOf(h.GetAsOf()).DaysUntil(t.today) > 0
}

func (g *rendering) finding(f *pb.Finding) {
	g.places(f.GetPositions(), f.GetSubject().GetKind() == pb.SubjectKind_SUBJECT_KIND_PAIR_MATE)
	g.argue("measured", shown(f.GetMeasured()))
	g.argue("limit", shown(f.GetLimit()))
	g.argue("margin", words.Derived(magnitude(Amount(f.GetMargin()))))
	g.argue("uncertainty", words.Expanded(Amount(f.GetUncertainty())))
	if decided := f.GetComparison() == pb.Comparison_COMPARISON_BELOW || f.GetComparison() == pb.Comparison_COMPARISON_ABOVE; !g.short || !decided {
		g.argue("place", words.OnTire(place(f.GetPlace()))) // of what is not decided it is where to measure again
	}
	said := words.Said{Section: words.Findings, Code: f.GetCode()}
	if f.GetComparison() == pb.Comparison_COMPARISON_CANNOT_TELL {
		said.When |= words.CannotTell
	}
	if rules := f.GetRules(); len(rules) > 0 {
		g.argue("rule", citation(rules[0].GetCitation()))
		if rules[0].GetCandidate() {
			said.When |= words.Candidate
		}
	}
	for _, e := range f.GetEvidence() {
		g.argue(e.GetCode(), fact(e))
	}
	if g.short {
		said.When |= words.Brief
	}
	g.lawful(f, said)
	if s := f.GetToSettle(); s != nil {
		s.Words = g.text(words.Settle, s.GetCode())
	}
	g.said(words.Labels, f.GetAsLeft().GetPutRight())
	g.behind(f)
}

// lawful tells a finding with whose law it is, where several places' are told, and that
// the law was not read, where it was not. What names the rule whole has both in it.
func (g *rendering) lawful(f *pb.Finding, said words.Said) {
	var standing words.Value
	if rules := f.GetRules(); len(rules) > 0 && rules[0].GetAuthority() == pb.Authority_AUTHORITY_LAW_IN_USE {
		known := ""
		if k := rules[0].GetHowKnown(); k != pb.SourceReading_SOURCE_READING_READ {
			known = "known." + words.Kebab(strings.TrimPrefix(k.String(), "SOURCE_READING_"))
		}
		standing = words.Standing(titles(rules), known)
	}
	if g.short {
		g.argue("standing", standing)
	}
	f.ForTechnician, f.ForCustomer = g.pair(said, false)
	if g.customer == nil || !g.concerns(f) {
		return
	}
	if !g.short {
		g.argue("standing", standing)
	}
	if !g.held || f.GetUrgency() != pb.Urgency_URGENCY_BEFORE_DRIVING {
		said.When &^= words.Brief // what goes in brief is what the headline says
	}
	f.ForCustomer = g.say(g.customer, said)
}

// titles are those of the books of the places whose laws say the same, each once; none
// where there is but one place.
func titles(rules []*pb.Rule) (all []string) {
	for _, r := range rules {
		if title := titleOf(r.GetCitation()); title != "" && !slices.Contains(all, title) {
			all = append(all, title)
		}
	}
	return all
}

// behind tells what a finding rests on, or leaves it out.
func (g *rendering) behind(f *pb.Finding) {
	if !g.full() {
		leaveOutOfFinding(f)
		return
	}
	for _, r := range f.GetRules() {
		g.cite(r.GetCitation())
	}
	for _, e := range f.GetEvidence() {
		g.arguments = append(g.arguments[:0], words.Argument{Name: "amount", Value: fact(e)})
		e.Words = cmp.Or(g.say(g.technician, words.Said{Section: words.Evidence, Code: e.GetCode()}), e.GetCode())
	}
}

// fact is the amount of a piece of evidence. A day is not known finer than its month.
func fact(e *pb.Evidence) words.Value {
	if d := e.GetAmount().GetDate(); d != nil {
		return words.Month(dayOf(d))
	}
	return shown(e.GetAmount())
}

func magnitude(a unit.Amount) unit.Amount {
	if a.Number < 0 {
		a.Number = -a.Number
	}
	return a
}

func (g *rendering) work(w *pb.WorkItem) {
	g.places(w.GetPositions(), w.GetSubject() == pb.SubjectKind_SUBJECT_KIND_PAIR_MATE)
	g.argue("target", shown(w.GetTarget()))
	from, by := read(w.GetDueFromDistance().GetAsRead()), read(w.GetDueByDistance().GetAsRead())
	g.argue("due_from", words.SpanStart(from))
	g.argue("due_by", words.SpanEnd(from, by))
	var when words.Condition
	if s := w.GetToSettle(); s != nil {
		s.Words = g.text(words.Settle, s.GetCode())
		g.argue("settle", words.Text(words.Settle, s.GetCode()))
		when |= words.CannotTell
	}
	if w.GetMapId() != "" {
		g.argue("map", words.Text(words.Labels, mapLabel+w.GetMapId()))
		g.argue("changes", words.Moves(g.vehicle, moves(w.GetChanges())))
	}
	said := words.Said{Section: words.Work, Code: w.GetCode(), When: when}
	if w.GetFinishCold() {
		said.When |= words.FinishCold
	}
	if g.short || !g.full() {
		said.When |= words.Brief
	}
	w.ForTechnician, w.ForCustomer = g.pair(said, g.full() || !finding.WorkOf(finding.Work(w.GetCode())).InHouse)
	g.said(words.Labels, w.GetCondition())
	if !g.full() {
		leaveOutOfWork(w)
	}
}

func (g *rendering) question(q *pb.Question) {
	q.Words, q.WouldAllow = g.text(words.Questions, q.GetCode()), ""
	if g.full() {
		q.WouldAllow = g.text(words.WouldAllow, q.GetCode())
	}
}

const mapLabel = "map."

func moves(changes []*pb.PositionChange) []rotation.Move {
	var all []rotation.Move
	for _, c := range changes {
		from, _ := layout.Parse(c.GetFromPosition())
		to, _ := layout.Parse(c.GetToPosition())
		all = append(all, rotation.Move{From: from, To: to, Turned: c.GetTurned()})
	}
	return all
}

// lists tells what FULL holds beside findings and work.
func (g *rendering) lists(a *pb.Assessment) {
	for _, w := range a.GetWheels() {
		w.ShownPosition = cmp.Or(g.shownPosition(w.GetPosition()), w.GetPosition())
		g.said(words.Labels, w.GetCoverage())
	}
	for _, n := range a.GetNotLookedAt() {
		n.Words = g.notLooked(n)
	}
	for _, c := range a.GetNothingFound() {
		g.places(c.GetPositions(), false)
		g.argue("measured", shown(c.GetMeasured()))
		g.argue("limit", shown(c.GetLimit()))
		g.argue("rule", citation(c.GetRule().GetCitation()))
		c.Words = cmp.Or(g.say(g.technician, words.Said{Section: words.Checked, Code: c.GetCode()}), c.GetCode())
		g.cite(c.GetRule().GetCitation())
	}
	g.notJudged(a.GetNotJudged())
}

// notJudged tells what was told and is not judged, with the fields that tell it.
func (g *rendering) notJudged(all []*pb.NotJudged) {
	for _, n := range all {
		n.Words = g.text(words.NotJudged, n.GetCode())
		if len(n.GetFields()) > 0 {
			n.Words += ": " + strings.Join(n.GetFields(), ", ")
		}
	}
}

// shownPosition is a position as the trade writes it.
func (g *rendering) shownPosition(position string) string {
	g.places([]string{position}, false)
	return g.technician.Value(words.At(g.vehicle, g.at...))
}

// notLooked names a place that was not looked at, and why it was not.
func (g *rendering) notLooked(n *pb.NotLookedAt) string {
	if n.GetWhat() == pb.LookedAt_LOOKED_AT_UNSPECIFIED {
		return g.label("looked.wheel")
	}
	reason := "not-said"
	if n.GetReason() != pb.NotLookedReason_NOT_LOOKED_REASON_UNSPECIFIED {
		reason = words.Kebab(strings.TrimPrefix(n.GetReason().String(), "NOT_LOOKED_REASON_"))
	}
	return g.label("looked."+words.Kebab(strings.TrimPrefix(n.GetWhat().String(), "LOOKED_AT_"))) + ": " + g.label("not-looked."+reason)
}

// Repair tells what is looked for and what is missing for an answer about repair.
func (t *Teller) Repair(r *pb.RepairAnswer) {
	for _, s := range r.GetLookFor() {
		s.Words = t.text(words.LookFor, s.GetCode())
	}
	for _, s := range r.GetMissing() {
		s.Words = t.text(words.Settle, s.GetCode())
	}
}

// place is a place of the contract as calc names it.
func place(p *pb.Place) finding.Place {
	if p == nil {
		return finding.Place{}
	}
	return finding.Place{Part: parts[p.GetPart()], Side: sides[p.GetSide()], Across: layout.Across(p.GetAcross()), Groove: int(p.GetGroove()), Station: int(p.GetStation())}
}

var (
	parts = codes[pb.TirePart, finding.Part](pb.TirePart_name, "TIRE_PART_")
	sides = codes[pb.WheelSide, finding.WheelSide](pb.WheelSide_name, "WHEEL_SIDE_")
)

// codes are the values of an enum as codes of calc; the first, which tells nothing,
// is none.
func codes[E ~int32, C ~string](names map[int32]string, prefix string) map[E]C {
	all := map[E]C{}
	for n, name := range names {
		if n > 0 {
			all[E(n)] = C(words.Kebab(strings.TrimPrefix(name, prefix)))
		}
	}
	return all
}
