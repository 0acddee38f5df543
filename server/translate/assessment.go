package translate

import (
	"log/slog"
	"slices"
	"strings"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/order"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/verdict"
	"gaugebook.dev/calc/visit"

	"gaugebook.dev/server/words"
)

// Assessment gives a verdict as the contract carries it, with its sentences in
// the language of the request.
func Assessment(req *pb.AssessVisitRequest, v visit.Visit, out verdict.Verdict) *pb.Assessment {
	t := newTelling(req, v)
	a := &pb.Assessment{Basis: &pb.Basis{Engine: verdict.Engine, AsOf: dateMessage(v.AsOf), Language: t.technician.Tag(), Units: req.GetUnits()}}
	for _, b := range out.Books {
		a.Basis.Rulebooks = append(a.Basis.Rulebooks, b.Name())
	}
	slices.Sort(a.GetBasis().GetRulebooks())
	a.Basis.Rulebooks = slices.Compact(a.GetBasis().GetRulebooks())
	for _, f := range out.Findings {
		m := t.finding(f)
		if left, ok := out.Closed[f.ID()]; ok {
			m.AsLeft = &pb.AsLeft{Measured: quantity(left), Words: t.technician.Value(words.Shown(left))}
			if left.IsZero() {
				m.AsLeft.Words = t.label("report.put-right")
			}
		} else if done, ok := out.Done[f.ID()]; ok {
			m.AsLeft = &pb.AsLeft{Words: t.label(string(done))}
		}
		a.Findings = append(a.Findings, m)
	}
	for _, w := range out.Work {
		a.Work = append(a.Work, t.work(w))
	}
	for _, s := range out.Wheels {
		a.Wheels = append(a.Wheels, t.summary(s))
	}
	for _, r := range out.Repairs {
		a.Repairs = append(a.Repairs, t.repair(r))
	}
	t.rest(a, out)
	return a
}

// telling holds what sentences are made with.
type telling struct {
	technician, customer *words.Teller
	vehicle              layout.Vehicle
	tireIDs              map[layout.Position]string
	arguments            []words.Argument  // of what is said now
	amount               [1]words.Argument // of a piece of evidence
}

// newTelling speaks the language of the request, with numbers in its reader's units.
func newTelling(req *pb.AssessVisitRequest, v visit.Visit) *telling {
	t := &telling{vehicle: v.Vehicle, tireIDs: map[layout.Position]string{}}
	t.technician, t.customer = words.Reader{Language: req.GetLanguage(), Units: Units(req.GetUnits())}.Tellers()
	for _, w := range req.GetInspection().GetWheels() {
		if p, err := layout.Parse(w.GetPosition()); err == nil {
			t.tireIDs[p] = w.GetTireId()
		}
	}
	return t
}

func positionStrings(ps []layout.Position) []string {
	var out []string
	for _, p := range ps {
		if p != Beside {
			out = append(out, p.String())
		}
	}
	return out
}

// shownAt is where one tire is, as the trade writes it.
func (t *telling) shownAt(p layout.Position) string {
	return t.technician.Value(words.At(&t.vehicle, p))
}

// Beside is the other tire of a pair of which nobody said where it is.
var Beside = words.Beside

func (t *telling) label(code string) string { return t.technician.Text(words.Labels, code) }

// tell tells both audiences what is said with the arguments that were gathered.
func (t *telling) tell(s words.Said) (technician, customer string) {
	s.Arguments = t.arguments
	return tell(t.technician, s), tell(t.customer, s)
}

// tell tells what is said. What could not be told as it was meant is seen in the
// text, and told in the log.
func tell(teller *words.Teller, s words.Said) string {
	told, err := teller.Tell(s)
	if err != nil {
		slog.Error("untold", "fault", err)
	}
	return told
}

var outcomes = map[measure.Outcome]pb.Comparison{
	measure.Below: pb.Comparison_COMPARISON_BELOW, measure.Above: pb.Comparison_COMPARISON_ABOVE, measure.CannotTell: pb.Comparison_COMPARISON_CANNOT_TELL,
}

func (t *telling) finding(f finding.Finding) *pb.Finding {
	m := &pb.Finding{
		Id: f.ID(), Code: string(f.Code), Urgency: pb.Urgency(f.Urgency), Positions: positionStrings(f.Positions),
		Comparison: outcomes[f.Outcome], Measured: quantity(f.Measured), Limit: quantity(f.Limit),
		Margin: quantity(f.Margin), Uncertainty: quantity(f.Uncertainty), Candidate: f.Candidate,
		Rule: t.rule(f.Rule), Place: place(f.Place), Subject: t.subject(f.Positions), Caution: t.technician.Text(words.Cautions, string(f.Caution)),
	}
	t.arguments = append(t.arguments[:0],
		words.At(&t.vehicle, f.Positions...).As("at"),
		words.Shown(f.Measured).As("measured"),
		words.Shown(f.Limit).As("limit"),
		words.Derived(magnitude(f.Margin)).As("margin"),
		words.Expanded(f.Uncertainty).As("uncertainty"),
		words.Cited(f.Rule.Citation).As("rule"),
		words.OnTire(f.Place).As("place"),
	)
	for _, e := range f.Evidence {
		m.Evidence = append(m.Evidence, t.evidence(e))
	}
	if f.Rank > 0 {
		m.CauseRank = new(int32(f.Rank))
	}
	if f.ToSettle != "" {
		m.ToSettle = t.technician.Text(words.Settle, string(f.ToSettle))
	}
	said := words.Said{Section: words.Findings, Code: string(f.Code)}
	if f.Outcome == measure.CannotTell {
		said.When |= words.CannotTell
	}
	if f.Candidate {
		said.When |= words.Candidate
	}
	m.ForTechnician, m.ForCustomer = t.tell(said)
	return m
}

// evidence is a fact of a finding, which its sentence may tell too.
func (t *telling) evidence(e finding.Evidence) *pb.Evidence {
	amount, value := quantity(e.Amount), words.Shown(e.Amount)
	if !e.Day.IsZero() {
		amount, value = &pb.Quantity{Amount: &pb.Quantity_Date{Date: dateMessage(e.Day)}}, words.Month(e.Day)
	}
	t.arguments, t.amount[0] = append(t.arguments, value.As(string(e.Code))), value.As("amount")
	return &pb.Evidence{
		Code: string(e.Code), Amount: amount, Uncertainty: quantity(e.Uncertainty), Against: e.Against,
		Words: tell(t.technician, words.Said{Section: words.Evidence, Code: string(e.Code), Arguments: t.amount[:]}),
	}
}

func magnitude(a unit.Amount) unit.Amount {
	if a.Number < 0 {
		a.Number = -a.Number
	}
	return a
}

// subject is what a finding stays open on from visit to visit: the tire where
// one is named, the place on the vehicle else.
func (t *telling) subject(at []layout.Position) string {
	if len(at) == 1 {
		if id := t.tireIDs[at[0]]; id != "" {
			return "tire/" + id
		}
	}
	return "vehicle"
}

func (t *telling) rule(r finding.Rule) *pb.Rule {
	if r == (finding.Rule{}) {
		return nil
	}
	return &pb.Rule{Id: r.ID, Authority: pb.Authority(r.Authority), Citation: t.technician.Value(words.Cited(r.Citation)), HowKnown: pb.SourceReading(r.Known)}
}

func place(p finding.Place) *pb.Place {
	if p == (finding.Place{}) {
		return nil
	}
	return &pb.Place{
		Part: pb.TirePart(pb.TirePart_value[enumName(p.Part, "TIRE_PART_")]), Side: pb.WheelSide(pb.WheelSide_value[enumName(p.Side, "WHEEL_SIDE_")]),
		Across: pb.Across(p.Across), Groove: int32(p.Groove), Station: int32(p.Station),
	}
}

func (t *telling) work(w order.Work) *pb.WorkItem {
	m := &pb.WorkItem{
		Code: string(w.Code), Step: int32(w.Step), Urgency: pb.Urgency(w.Urgency), Positions: positionStrings(w.Positions),
		FindingIds: w.Findings, Caution: t.technician.Text(words.Cautions, string(w.Caution)), OnlyIf: w.Condition != "",
		OnCondition: t.label(string(w.Condition)),
	}
	m.Target = quantity(w.Target)
	if !w.DueFrom.IsZero() {
		m.DueFrom, m.DueBy = fill(&pb.Distance{}, w.DueFrom), fill(&pb.Distance{}, w.DueBy)
	}
	t.arguments = append(t.arguments[:0],
		words.At(&t.vehicle, w.Positions...).As("at"),
		words.Shown(w.Target).As("target"),
		words.Text(words.Settle, string(w.Settle)).As("settle"),
		words.SpanStart(w.DueFrom).As("due_from"),
		words.SpanEnd(w.DueFrom, w.DueBy).As("due_by"),
		words.Moves(&t.vehicle, w.Map.Moves).As("changes"),
	)
	if w.Map.ID != "" {
		t.arguments = append(t.arguments, words.Text(words.Labels, "map."+w.Map.ID).As("map"))
	}
	said := words.Said{Section: words.Work, Code: string(w.Code)}
	if w.FinishCold {
		said.When = words.FinishCold
	}
	m.ForTechnician, m.ForCustomer = t.tell(said)
	return m
}

func (t *telling) summary(s verdict.Summary) *pb.WheelSummary {
	m := &pb.WheelSummary{Position: s.Position.String(), ShownPosition: t.shownAt(s.Position), FullyLookedAt: s.Full}
	if !s.Full {
		m.Coverage = t.label("report.depth-only")
	}
	if s.Tread != nil {
		low := s.Tread.Summary.Governing
		m.GoverningDepth = depthMessage(low.Lowest, s.ReadIn)
		m.GoverningPlace = place(finding.Place{Across: low.At.Across, Groove: low.At.Groove, Station: low.At.Station})
		m.MeanDepths = meanDepths(s)
		if s.Tread.UsableKnow {
			m.UsableTread = &pb.UsableTread{
				Percent: s.Tread.Usable.Amount().Rounded().Number, DepthWhenNew: depthMessage(s.New, s.ReadIn),
				Limit: fill(&pb.Depth{}, s.Tread.BarLimit.Value), RuleId: "advice." + s.Tread.BarLimit.ID,
			}
		}
	}
	if s.Pressure.Read != unit.None {
		m.Found = pressureMessage(s.Pressure.Of, s.Pressure.Read)
		m.ColdEquivalent = pressureMessage(s.Cold.Value.Of, s.Shown)
		m.ColdLow, m.ColdHigh = pressureMessage(s.Cold.Low, s.Shown), pressureMessage(s.Cold.High, s.Shown)
	}
	if s.Label != 0 {
		m.LabelCold = pressureMessage(s.Label, s.Shown)
	}
	return m
}

// meanDepths are the means round the tire, from the vehicle outward.
func meanDepths(s verdict.Summary) []*pb.MeanDepth {
	var ms []*pb.MeanDepth
	byGroove := s.Tread.Summary.Governing.At.Groove > 0
	for _, col := range s.Tread.Summary.Columns {
		mean, ok := s.Tread.Summary.Means[col]
		if !ok {
			continue
		}
		d := &pb.MeanDepth{Depth: depthMessage(mean.Of, s.ReadIn), Uncertainty: depthMessage(unit.Depth(mean.Std), s.ReadIn)}
		switch {
		case byGroove:
			d.Place = &pb.MeanDepth_Groove{Groove: int32(col)}
		case col > 0:
			d.Place = &pb.MeanDepth_Across{Across: pb.Across(col)}
		}
		ms = append(ms, d)
	}
	return ms
}

var repairabilities = map[puncture.Answer]pb.Repairability{
	puncture.NotRepairable:               pb.Repairability_REPAIRABILITY_NOT_REPAIRABLE,
	puncture.NotDecidedDemountAndInspect: pb.Repairability_REPAIRABILITY_NOT_DECIDED_DEMOUNT_AND_INSPECT,
	puncture.Repairable:                  pb.Repairability_REPAIRABILITY_REPAIRABLE,
	puncture.NotAsNailHole:               pb.Repairability_REPAIRABILITY_NOT_AS_NAIL_HOLE,
	puncture.NoInjury:                    pb.Repairability_REPAIRABILITY_NO_INJURY,
}

var repairMethods = map[puncture.Method]pb.RepairMethod{
	puncture.Combination: pb.RepairMethod_REPAIR_METHOD_COMBINATION, puncture.TwoPiece: pb.RepairMethod_REPAIR_METHOD_TWO_PIECE,
	puncture.Section: pb.RepairMethod_REPAIR_METHOD_SECTION,
}

func (t *telling) repair(r questions.Repair) *pb.RepairAnswer {
	m := &pb.RepairAnswer{
		Position: r.Position.String(), Repairability: repairabilities[r.Result.Answer], Method: repairMethods[r.Result.Method],
	}
	for _, fs := range [][]finding.Finding{{r.Result.Main}, r.Result.Failing, r.Result.Open} {
		for _, f := range fs {
			if r.Position != (layout.Position{}) {
				f.Positions = []layout.Position{r.Position}
			}
			m.FindingIds = append(m.FindingIds, f.ID())
		}
	}
	for _, l := range r.Result.LookFor {
		m.LookFor = append(m.LookFor, t.technician.Text(words.LookFor, string(l)))
	}
	var missing []string
	for _, c := range r.Result.Missing {
		missing = append(missing, t.technician.Text(words.Settle, string(c)))
	}
	m.Words = strings.Join(missing, " ")
	return m
}

// rest fills the lists of what was looked at, what was not, and what is open.
func (t *telling) rest(a *pb.Assessment, out verdict.Verdict) {
	for _, c := range out.Checked {
		t.arguments = append(t.arguments[:0],
			words.At(&t.vehicle, c.Positions...).As("at"), words.Shown(c.Measured).As("measured"),
			words.Shown(c.Limit).As("limit"), words.Cited(c.Rule.Citation).As("rule"),
		)
		a.NothingFound = append(a.NothingFound, &pb.Checked{
			Code: string(c.Code), Positions: positionStrings(c.Positions),
			Words:    tell(t.technician, words.Said{Section: words.Checked, Code: string(c.Code), Arguments: t.arguments}),
			Measured: quantity(c.Measured), Limit: quantity(c.Limit),
		})
	}
	for _, n := range out.NotLooked {
		m := &pb.NotLookedAt{
			Positions: positionStrings(n.Positions), What: lookedAt(n.What), NotSaid: n.Reason == "",
			Reason: notLookedReason(n.Reason), Words: t.label("looked." + string(n.What)),
		}
		reason := "not-said"
		if n.Reason != "" {
			reason = string(n.Reason)
		}
		if n.What != finding.LookedWheel {
			m.Words += ": " + t.label("not-looked."+reason)
		}
		a.NotLookedAt = append(a.NotLookedAt, m)
	}
	for _, n := range out.NotJudged {
		a.NotJudged = append(a.NotJudged, &pb.NotJudged{Code: string(n.Code), Positions: positionStrings(n.Positions), Words: t.technician.Text(words.NotJudged, string(n.Code))})
	}
	for _, u := range out.Unanswered {
		m := t.unanswered(u.Code)
		m.Positions = positionStrings(u.Positions)
		a.Unanswered = append(a.Unanswered, m)
	}
}

func (t *telling) unanswered(code finding.Question) *pb.Unanswered {
	return &pb.Unanswered{
		Code: string(code), Question: t.technician.Text(words.Questions, string(code)), WouldAllow: t.technician.Text(words.WouldAllow, string(code)),
	}
}

func enumName[C ~string](code C, prefix string) string {
	return prefix + strings.ToUpper(strings.ReplaceAll(string(code), "-", "_"))
}

func lookedAt(what finding.Looked) pb.LookedAt {
	return pb.LookedAt(pb.LookedAt_value[enumName(what, "LOOKED_AT_")])
}

func notLookedReason(reason finding.NotLooked) pb.NotLookedReason {
	return pb.NotLookedReason(pb.NotLookedReason_value[enumName(reason, "NOT_LOOKED_REASON_")])
}
