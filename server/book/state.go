package book

import (
	"cmp"
	"crypto/sha256"
	"encoding/base32"
	"maps"
	"slices"
	"strings"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"
	"gaugebook.dev/server/translate"

	"gaugebook.dev/calc/closing"
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/verdict"
)

// state is what visits have made of a vehicle.
type state struct {
	tires    []*pb.Tire    // on it, by position
	open     []openFinding // that nothing has closed, the most urgent first
	headline *pb.Headline  // of what is open; nil before the first visit
	lastID   string        // its last visit
	lastSeen *timestamppb.Timestamp
	counted  *timestamppb.Timestamp // when its last visit counts as taken
	left     bool                   // it was told that the vehicle has left since
	off      wheelsOff              // wheels without torque on record since they were off, and what was torqued beside
	roots    *timestamppb.Timestamp // when the last of the visits in it was recorded, of corrections what they correct
	recorded *timestamppb.Timestamp // when the last record of the vehicle was recorded

	visits uint32 // that stand in it

	closedBy map[string]*pb.Said      // by openID, what closed what was open on the way here; not kept
	came     map[string][]openFinding // by tire, what comes with it in the next step; not kept
	went     map[string][]openFinding // by tire that left in the last step, what was open of it; not kept
}

// openFinding is a finding that nothing has closed: what decides how long it stays
// open. The rest of it stands with the visit that found it last.
type openFinding struct {
	openID             string
	visitID, findingID string // as found last
	sinceID            string // the visit that first found it
	sinceTime          *timestamppb.Timestamp
	visits             int32 // that it has been open for, from 1
	code               string
	urgency            pb.Urgency
	positions          []string
	comparison         pb.Comparison
	candidate          bool     // all that it was judged by only may apply
	protects           bool     // nobody's word closes it
	outcomes           []string // what became of it so far, by their ids
	until              *pb.CalendarDate
	rule               string   // that it was judged by
	laterID            string   // of a tire that has moved since: by which a later visit finds it
	also               []string // what else it was called by visits that found it
}

// after gives what a visit makes of a vehicle: which tires are on it afterwards,
// what is open, and that this was its last visit. root is the visit, or the first
// that it corrects; arrivals are tires that it names and that were not on the
// vehicle, as far as the book knows them.
func (s state) after(root string, v *visit, arrivals map[string]*pb.Tire) state {
	if v.imported() {
		return s.afterImported(root, v, arrivals)
	}
	next := state{
		tires:  mount(s.tires, v.vehicle, v.inspection, tiresOf(s.tires, root, v.inspection.GetWheels()), arrivals),
		lastID: v.inspection.GetId(), lastSeen: v.entry.time, counted: v.counted, off: s.off.seen(v), roots: s.roots, recorded: s.recorded, visits: s.visits + 1, closedBy: map[string]*pb.Said{}, went: map[string][]openFinding{},
	}
	maps.Copy(next.closedBy, s.closedBy)
	if nanos(v.rootTime) > nanos(next.roots) {
		next.roots = v.rootTime
	}
	later := laterVisit(v, s.tires, next.tires)
	again := map[string]openFinding{}
	var staying []openFinding
	for _, f := range next.follow(s, nowhere) {
		f.visits++
		at := later
		if f.ofTire() {
			at.OtherTire = nil // it has followed its tire
		}
		switch fate := closing.After(f.closing(), at); {
		case fate.Again:
			again[f.nowID()] = f
		case v.putsRight(f) != nil:
			next.closedBy[f.openID] = v.putsRight(f)
		case fate.ClosedBy == "":
			staying = append(staying, f)
		default:
			next.closedBy[f.openID] = closedBy(v, f.findingID, fate.ClosedBy)
		}
	}
	for _, f := range v.assessment.GetFindings() {
		if asks(f) {
			next.open = append(next.open, opened(f, root, v, again[f.GetId()]))
		}
	}
	next.open = append(next.open, staying...)
	slices.SortStableFunc(next.open, func(a, b openFinding) int { return cmp.Compare(a.urgency, b.urgency) })
	next.headline = headline(next.open, v.assessment.GetHeadline(), s.headline.GetFacts())
	return next
}

// afterImported gives what a visit that was imported makes of a vehicle: tires are where it
// saw them, and that is all. Nothing opens, nothing is closed, and the vehicle is not here.
func (s state) afterImported(root string, v *visit, arrivals map[string]*pb.Tire) state {
	next := s.remounted(mount(s.tires, v.vehicle, v.inspection, tiresOf(s.tires, root, v.inspection.GetWheels()), arrivals), nowhere)
	next.lastID, next.counted = v.inspection.GetId(), v.counted
	next.visits++
	if nanos(v.counted) > nanos(next.lastSeen) {
		next.lastSeen = v.counted
	}
	if s.lastSeen == nil {
		next.left = true
	}
	if nanos(v.rootTime) > nanos(next.roots) {
		next.roots = v.rootTime
	}
	return next
}

// clone is the state, to be changed.
func (s state) clone() state {
	s.tires, s.open = slices.Clone(s.tires), slices.Clone(s.open)
	s.closedBy, s.came, s.went = maps.Clone(s.closedBy), nil, map[string][]openFinding{}
	if s.closedBy == nil {
		s.closedBy = map[string]*pb.Said{}
	}
	return s
}

// putsRight says what of a visit puts right a finding that it did not find again, nil for
// nothing.
func (v *visit) putsRight(f openFinding) *pb.Said {
	for _, c := range v.putRight {
		if c.findingID == f.findingID && f.laterID == "" && (c.foundBy == "" || c.foundBy == f.visitID) {
			return c.by
		}
	}
	return nil
}

// asks tells whether a finding asks for something that was not done by the end
// of its own visit.
func asks(f *pb.Finding) bool {
	return f.GetUrgency() != pb.Urgency_URGENCY_NOTE && f.GetAsLeft() == nil
}

// putRight is the code of what put a finding right at its own visit.
func putRight(f *pb.Finding) finding.Closed {
	if f.GetAsLeft() == nil {
		return ""
	}
	return finding.Closed(cmp.Or(f.GetAsLeft().GetPutRight().GetCode(), string(finding.ClosedAsLeft)))
}

// opened is a finding as a visit found it: one that was open before goes on.
func opened(f *pb.Finding, root string, v *visit, before openFinding) openFinding {
	out := openFinding{
		openID: openID(root, f), sinceID: v.inspection.GetId(), sinceTime: v.entry.time, visits: 1,
		visitID: v.inspection.GetId(), findingID: f.GetId(), code: f.GetCode(), urgency: f.GetUrgency(),
		positions: f.GetPositions(), comparison: f.GetComparison(), candidate: candidate(f), protects: protects(f), rule: ruleOf(f),
	}
	if before.openID != "" {
		out.openID, out.sinceID, out.sinceTime, out.visits = before.openID, before.sinceID, before.sinceTime, before.visits
		out.outcomes, out.until, out.also = before.outcomes, before.until, before.also
	}
	if told := f.GetOpenId(); told != "" && told != out.openID && !slices.Contains(out.also, told) {
		out.also = append(slices.Clip(out.also), told)
	}
	return out
}

// candidate tells that all that a finding was judged by only may apply.
func candidate(f *pb.Finding) bool {
	return len(f.GetRules()) > 0 && !slices.ContainsFunc(f.GetRules(), func(r *pb.Rule) bool { return !r.GetCandidate() })
}

// openID names what is open from the visit that opens it on: a correction of that
// visit opens the same. The id in its visit stands for code and subject.
func openID(root string, f *pb.Finding) string {
	sum := sha256.Sum256([]byte(root + " " + f.GetId()))
	return strings.ToLower(base32.StdEncoding.EncodeToString(sum[:])[:12])
}

// closedBy says what closed a finding; as the visit itself says it, where that put
// it right.
func closedBy(v *visit, findingID string, code finding.Closed) *pb.Said {
	for _, f := range v.assessment.GetFindings() {
		if said := f.GetAsLeft().GetPutRight(); f.GetId() == findingID && said.GetCode() == string(code) {
			return said
		}
	}
	return &pb.Said{Code: string(code)}
}

// closing is what of an open finding bears on what closes it.
func (f openFinding) closing() closing.Open {
	return closing.Open{ID: f.nowID(), Code: finding.Code(f.code), Urgency: finding.Urgency(f.urgency), Positions: translate.Positions(f.positions)}
}

// found is an open finding as far as a headline goes by it.
func (f openFinding) found() finding.Finding {
	of := finding.Finding{Code: finding.Code(f.code), Urgency: finding.Urgency(f.urgency), Candidate: f.candidate}
	if f.comparison == pb.Comparison_COMPARISON_CANNOT_TELL {
		of.Outcome = measure.CannotTell
	}
	for _, at := range f.positions {
		if p, err := layout.Parse(at); err == nil {
			of.Positions = append(of.Positions, p)
		}
	}
	return of
}

// headline is that of what is open. Where nothing open keeps the vehicle from the
// road, the last visit says how much was looked at; it says what is to be done, too. What
// was measured stands in its facts, and in those before it.
func headline(open []openFinding, last *pb.Headline, before []*pb.Said) *pb.Headline {
	var found []finding.Finding
	for _, f := range open {
		found = append(found, f.found())
	}
	h := verdict.Holding(found)
	out := &pb.Headline{}
	proto.Merge(out, last)
	out.Hold, out.Urgency, out.Positions = pb.Hold(h.Hold), pb.Urgency(h.Urgency), nil
	for _, p := range h.Positions {
		out.Positions = append(out.Positions, p.String())
	}
	if h.Hold == verdict.HoldNotTold {
		out.Hold, out.Positions = last.GetHold(), last.GetPositions()
		h.Hold, h.Positions = verdict.Hold(out.GetHold()), translate.Positions(out.GetPositions())
	}
	out.Facts = translate.Facts(verdict.FactsOf(found, h))
	for i, f := range out.GetFacts() {
		for _, known := range slices.Concat(last.GetFacts(), before) {
			if translate.SameFact(f, known) {
				out.Facts[i] = known
				break
			}
		}
	}
	return out
}

// name puts the open ids of a visit's findings into its assessment: of those that
// it leaves open, and of those that were open and that it put right.
func (s state) name(v *visit, next state) {
	ids := map[string]string{}
	for _, f := range s.open {
		if next.closedBy[f.openID] != nil {
			ids[f.nowID()] = f.openID
		}
	}
	for _, open := range s.came {
		for _, f := range open {
			if next.closedBy[f.openID] != nil {
				ids[f.nowID()] = f.openID
			}
		}
	}
	for _, f := range next.open {
		if f.visitID == v.inspection.GetId() {
			ids[f.findingID] = f.openID
		}
	}
	for _, f := range v.assessment.GetFindings() {
		f.OpenId = ids[f.GetId()]
	}
}

// has tells whether something is open.
func (s state) has(openID string) bool {
	return slices.ContainsFunc(s.open, func(f openFinding) bool { return f.openID == openID })
}

// opened lists what is open and was not before.
func (s state) opened(before state) []string {
	var ids []string
	for _, f := range s.open {
		if !before.has(f.openID) {
			ids = append(ids, f.openID)
		}
	}
	return ids
}

// closed lists what was open before and is not any more.
func (s state) closed(before state) []*pb.ClosedFinding {
	var out []*pb.ClosedFinding
	for _, f := range before.open {
		if s.has(f.openID) {
			continue
		}
		by := s.closedBy[f.openID]
		if by == nil {
			by = &pb.Said{Code: string(finding.ClosedCorrected)} // open by the visit that was corrected, and not by its correction
		}
		out = append(out, &pb.ClosedFinding{OpenId: f.openID, Code: f.code, ClosedBy: by})
	}
	return out
}
