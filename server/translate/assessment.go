package translate

import (
	"cmp"
	"regexp"
	"slices"
	"strconv"
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
	a := &pb.Assessment{Basis: &pb.Basis{Engine: verdict.Engine, AsOf: dateMessage(v.AsOf), Language: t.texts.Tag(), Units: req.GetUnits()}}
	for _, b := range out.Books {
		a.Basis.Rulebooks = append(a.Basis.Rulebooks, b.Name())
	}
	slices.Sort(a.GetBasis().GetRulebooks())
	a.Basis.Rulebooks = slices.Compact(a.GetBasis().GetRulebooks())
	for _, f := range out.Findings {
		m := t.finding(f)
		if left, ok := out.Closed[f.ID()]; ok {
			of := depth(finding.KindOf(f.Code).Measured)
			m.AsLeft = &pb.AsLeft{Measured: quantity(left, of), Words: cmp.Or(t.texts.Shown(left, of), t.texts.Labels["report.put-right"])}
		} else if done, ok := out.Done[f.ID()]; ok {
			m.AsLeft = &pb.AsLeft{Words: t.texts.Labels[string(done)]}
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
	texts   *words.Catalogue
	vehicle layout.Vehicle
	tireIDs map[layout.Position]string
}

// newTelling speaks the language of the request, with numbers in its reader's units.
func newTelling(req *pb.AssessVisitRequest, v visit.Visit) *telling {
	texts := words.In(req.GetLanguage()).For(Units(req.GetUnits()))
	t := &telling{texts: texts, vehicle: v.Vehicle, tireIDs: map[layout.Position]string{}}
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

func (t *telling) shown(ps []layout.Position) string {
	names := make([]string, len(ps))
	for i, p := range ps {
		names[i] = t.shownAt(p)
	}
	return strings.Join(names, " ")
}

func (t *telling) shownAt(p layout.Position) string {
	switch p {
	case layout.Position{}:
		return ""
	case Beside:
		return t.texts.Labels["place.beside"]
	}
	return t.texts.Short(t.vehicle, p)
}

// Beside is the other tire of a pair of which nobody said where it is.
var Beside = verdict.Beside

// depth tells millimeters of tread from millimeters of anything else.
func depth(q finding.Quantity) bool { return q == finding.TreadDepth }

var outcomes = map[measure.Outcome]pb.Comparison{
	measure.Below: pb.Comparison_COMPARISON_BELOW, measure.Above: pb.Comparison_COMPARISON_ABOVE, measure.CannotTell: pb.Comparison_COMPARISON_CANNOT_TELL,
}

func (t *telling) finding(f finding.Finding) *pb.Finding {
	kind := finding.KindOf(f.Code)
	measured, limit := depth(kind.Measured), depth(kind.Limit)
	m := &pb.Finding{
		Id: f.ID(), Code: string(f.Code), Urgency: pb.Urgency(f.Urgency), Positions: positionStrings(f.Positions),
		Comparison: outcomes[f.Outcome], Measured: quantity(f.Measured, measured), Limit: quantity(f.Limit, limit),
		Margin: quantity(f.Margin, measured), Uncertainty: quantity(f.Uncertainty, measured), Candidate: f.Candidate,
		Rule: t.rule(f.Rule), Place: place(f.Place), Subject: t.subject(f.Positions), Caution: t.texts.Cautions[string(f.Caution)],
	}
	values := map[string]string{
		"at": t.shown(f.Positions), "measured": t.texts.Shown(f.Measured, measured), "limit": t.texts.Shown(f.Limit, limit),
		"margin": t.texts.Derived(magnitude(f.Margin), measured), "uncertainty": t.texts.Expanded(f.Uncertainty, measured), "rule": t.texts.Source(f.Rule.Citation),
		"place": t.placeWords(f.Place),
	}
	for _, e := range f.Evidence {
		said := t.texts.Evidence[string(e.Code)]
		ed := depth(finding.FactOf(e.Code).Amount)
		n, amount := t.texts.Shown(e.Amount, ed), quantity(e.Amount, ed)
		if !e.Day.IsZero() {
			n, amount = words.Month(e.Day), &pb.Quantity{Amount: &pb.Quantity_Date{Date: dateMessage(e.Day)}}
		}
		if n != "" {
			values["evidence."+string(e.Code)] = n
			said = strings.TrimSpace(said + " " + n)
		}
		m.Evidence = append(m.Evidence, &pb.Evidence{
			Code: string(e.Code), Amount: amount, Uncertainty: quantity(e.Uncertainty, ed), Against: e.Against, Words: said,
		})
	}
	if f.Rank > 0 {
		m.CauseRank = new(int32(f.Rank))
	}
	if f.ToSettle != "" {
		m.ToSettle = t.texts.Settle[string(f.ToSettle)]
	}
	m.ForTechnician, m.ForCustomer = t.fill(t.texts.Finding(string(f.Code), f.Outcome == measure.CannotTell, f.Candidate), values, f.Positions)
	return m
}

// fill makes both sentences. The customer reads where a tire is in words, the
// technician in the trade's letters.
func (t *telling) fill(said words.Pair, values map[string]string, at []layout.Position) (technician, customer string) {
	if len(at) == 0 {
		said = t.unplaced(said)
	}
	technician = words.Fill(said.Technician, values)
	if slices.Contains(at, Beside) {
		technician, values["at"] = words.Sentence(technician), t.texts.Labels["place.beside"]
	} else {
		values["at"] = t.texts.Places(t.vehicle, at)
	}
	return technician, words.Sentence(words.Fill(said.Customer, values))
}

// unplaced rewords sentences for a tire of which nobody said where it is.
func (t *telling) unplaced(said words.Pair) words.Pair {
	if rest, ok := strings.CutPrefix(said.Technician, "{at}: "); ok {
		said.Technician = words.Sentence(rest)
	}
	said.Customer = whereAtAll.ReplaceAllString(said.Customer, "")
	tire := strings.NewReplacer("{at}", t.texts.Labels["place.this"])
	return words.Pair{Technician: tire.Replace(said.Technician), Customer: tire.Replace(said.Customer)}
}

// whereAtAll is a part of a text that is dropped when nobody said where.
var whereAtAll = regexp.MustCompile(`\[[^\[\]]*\{at\}[^\[\]]*\]`)

// dueBy is the end of a span of distance; where the reader wants another unit, the
// whole span stands beside it as its rule has it.
func (t *telling) dueBy(w order.Work) string {
	by := t.texts.Wanted(w.DueBy, false)
	switch {
	case by == w.DueBy:
		return t.texts.Amount(by)
	case w.DueFrom == w.DueBy:
		return t.texts.Shown(w.DueBy, false)
	}
	return t.texts.Amount(by) + " (" + t.texts.Number(w.DueFrom) + "-" + t.texts.Amount(w.DueBy) + ")"
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
	return &pb.Rule{Id: r.ID, Authority: pb.Authority(r.Authority), Citation: t.texts.Source(r.Citation), HowKnown: pb.SourceReading(r.Known)}
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

func (t *telling) placeWords(p finding.Place) string {
	var parts []string
	add := func(code string, n int) {
		values := map[string]string{"n": strconv.Itoa(n)}
		parts = append(parts, words.Fill(t.texts.Labels[code], values))
	}
	if p.Side != "" {
		add("place.side."+string(p.Side), 0)
	}
	if p.Part != "" {
		add("place.part."+string(p.Part), 0)
	}
	if p.Across != layout.AcrossNotTold {
		add("place."+p.Across.String(), 0)
	}
	if p.Groove > 0 {
		add("place.groove", p.Groove)
	}
	if p.Station > 0 {
		add("place.station", p.Station)
	}
	return strings.Join(parts, ", ")
}

func (t *telling) work(w order.Work) *pb.WorkItem {
	m := &pb.WorkItem{
		Code: string(w.Code), Step: int32(w.Step), Urgency: pb.Urgency(w.Urgency), Positions: positionStrings(w.Positions),
		FindingIds: w.Findings, Caution: t.texts.Cautions[string(w.Caution)], OnlyIf: w.Condition != "",
		OnCondition: t.texts.Labels[string(w.Condition)],
	}
	m.Target = quantity(w.Target, false)
	if !w.DueFrom.IsZero() {
		m.DueFrom, m.DueBy = fill(&pb.Distance{}, w.DueFrom), fill(&pb.Distance{}, w.DueBy)
	}
	values := map[string]string{
		"at": t.shown(w.Positions), "target": t.texts.Shown(w.Target, false), "settle": t.texts.Settle[string(w.Settle)],
		"due_from": t.texts.Number(t.texts.Wanted(w.DueFrom, false)), "due_by": t.dueBy(w),
		"map": t.texts.Labels["map."+w.Map.ID], "changes": t.changes(w.Map),
	}
	m.ForTechnician, m.ForCustomer = t.fill(t.texts.WorkLine(string(w.Code), w.Target.IsZero(), w.FinishCold), values, w.Positions)
	return m
}

func (t *telling) summary(s verdict.Summary) *pb.WheelSummary {
	m := &pb.WheelSummary{Position: s.Position.String(), ShownPosition: t.shownAt(s.Position), FullyLookedAt: s.Full}
	if !s.Full {
		m.Coverage = t.texts.Labels["report.depth-only"]
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
		m.LookFor = append(m.LookFor, t.texts.LookFor[string(l)])
	}
	var missing []string
	for _, c := range r.Result.Missing {
		missing = append(missing, t.texts.Settle[string(c)])
	}
	m.Words = strings.Join(missing, " ")
	return m
}

// rest fills the lists of what was looked at, what was not, and what is open.
func (t *telling) rest(a *pb.Assessment, out verdict.Verdict) {
	for _, c := range out.Checked {
		kind := finding.CheckedOf(c.Code)
		measured, limit := depth(kind.Measured), depth(kind.Limit)
		values := map[string]string{"at": t.shown(c.Positions), "measured": t.texts.Shown(c.Measured, measured), "limit": t.texts.Shown(c.Limit, limit), "rule": t.texts.Source(c.Rule.Citation)}
		a.NothingFound = append(a.NothingFound, &pb.Checked{
			Code: string(c.Code), Positions: positionStrings(c.Positions), Words: words.Fill(t.texts.Checked[string(c.Code)], values),
			Measured: quantity(c.Measured, measured), Limit: quantity(c.Limit, limit),
		})
	}
	for _, n := range out.NotLooked {
		m := &pb.NotLookedAt{
			Positions: positionStrings(n.Positions), What: lookedAt(n.What), NotSaid: n.Reason == "",
			Reason: notLookedReason(n.Reason), Words: t.texts.Labels["looked."+string(n.What)],
		}
		reason := "not-said"
		if n.Reason != "" {
			reason = string(n.Reason)
		}
		if n.What != finding.LookedWheel {
			m.Words += ": " + t.texts.Labels["not-looked."+reason]
		}
		a.NotLookedAt = append(a.NotLookedAt, m)
	}
	for _, n := range out.NotJudged {
		a.NotJudged = append(a.NotJudged, &pb.NotJudged{Code: string(n.Code), Positions: positionStrings(n.Positions), Words: t.texts.NotJudged[string(n.Code)]})
	}
	for _, u := range out.Unanswered {
		said := t.texts.Questions[string(u.Code)]
		a.Unanswered = append(a.Unanswered, &pb.Unanswered{Code: string(u.Code), Positions: positionStrings(u.Positions), Question: said.Technician, WouldAllow: said.Customer})
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
