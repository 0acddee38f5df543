package book

import (
	"context"
	"slices"
	"strings"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// visit is a visit as the book holds it.
type visit struct {
	entry
	place
	by         string // who sent it
	vehicle    string // whose it is now
	inspection *pb.Inspection
	assessment *pb.Assessment
	frontRear  bool      // how its positions are told
	replacedBy string    // the visit that corrects it; "" for one that stands
	putRight   []settled // what was open before it, and that it put right without finding it again
}

// settled is what put right a finding.
type settled struct {
	findingID string
	foundBy   string // the visit that found it; "": any
	by        *pb.Said
}

func (c settled) compare(d settled) int { return strings.Compare(c.findingID, d.findingID) }

// Kept is a kept visit, without words.
type Kept struct {
	*pb.KeptInspection
	FrontRear bool // how its positions are told
}

// key is that of its covering row.
func (v *visit) key() history.Key {
	return v.place.key(v.vehicle, v.time, v.inspection.GetId())
}

// told is when it counts as taken as callers see it.
func (v *visit) told() *timestamppb.Timestamp {
	if v.former {
		return nil
	}
	return v.counted
}

// message is the visit as callers see it.
func (v *visit) message(repeated bool) Kept {
	return Kept{&pb.KeptInspection{
		CountedTime: v.told(),
		Inspection:  v.inspection, Recorded: v.recorded(repeated, history.Absent), RecordedBy: v.by, ReplacedBy: v.replacedBy, Assessment: v.assessment,
	}, v.frontRear}
}

// visit puts a visit.
func (d *drafting) visit(v *visit) {
	texts := rows.NewStrings(nil)
	row := &rows.Visit{
		Inspection: d.sent(v.inspection), RecordedTime: v.time, RecordedBy: v.by, FrontRear: v.frontRear, Assessment: &rows.Assessment{},
		CountedTime: v.counted, Root: v.root, RootTime: v.rootTime, Imported: v.imported(),
	}
	texts.Keep(row.GetAssessment(), v.assessment)
	row.PutRight = settledRows(texts, v.putRight)
	row.Strings = texts.Texts()
	d.put(visitKey(v.inspection.GetId()), row)
}

// putRight puts what a visit put right of what was found by visits that arrived later.
func (d *drafting) putRight(v *visit) {
	texts, row := rows.NewStrings(nil), &rows.PutRights{}
	row.PutRight = settledRows(texts, slices.DeleteFunc(slices.Clone(v.putRight), func(c settled) bool { return c.foundBy == "" }))
	row.Strings = texts.Texts()
	d.put(mendedKey(v.inspection.GetId()), row)
}

func settledRows(texts *rows.Strings, all []settled) (out []*rows.PutRight) {
	for _, c := range all {
		said := &rows.Said{}
		texts.Keep(said, c.by)
		out = append(out, &rows.PutRight{FindingId: texts.Number(c.findingID), FoundBy: texts.Number(c.foundBy), By: said})
	}
	return out
}

func settledRead(texts *rows.Strings, all []*rows.PutRight) (out []settled) {
	for _, c := range all {
		said := &pb.Said{}
		texts.Give(said, c.GetBy())
		out = append(out, settled{findingID: texts.Text(c.GetFindingId()), foundBy: texts.Text(c.GetFoundBy()), by: said})
	}
	return out
}

// visit reads a kept visit whole; nil when there is none.
func (v view) visit(id string) (*visit, error) {
	row := &rows.Visit{}
	number, found, err := v.get(visitKey(id), row)
	if err != nil || !found {
		return nil, err
	}
	out := &visit{
		entry: entry{number: number, time: row.GetRecordedTime()}, place: place{counted: row.GetCountedTime(), root: row.GetRoot(), rootTime: row.GetRootTime()}, by: row.GetRecordedBy(), frontRear: row.GetFrontRear(),
		inspection: &pb.Inspection{}, assessment: &pb.Assessment{},
	}
	if row.GetImported() {
		out.stood = row.GetCountedTime()
	}
	if err := proto.Unmarshal(row.GetInspection(), out.inspection); err != nil {
		return nil, err
	}
	if out.vehicle, err = v.resolved(out.inspection.GetVehicleId()); err != nil {
		return nil, err
	}
	if out.root == "" {
		if out.place, err = v.formerPlace(out.inspection, out.time); err != nil {
			return nil, err
		}
	}
	texts := rows.NewStrings(row.GetStrings())
	texts.Give(out.assessment, row.GetAssessment())
	out.putRight = settledRead(texts, row.GetPutRight())
	out.replacedBy, err = v.replacedBy(id)
	return out, err
}

func (v view) replacedBy(id string) (string, error) {
	row := &rows.Replaced{}
	_, _, err := v.get(replacedKey(id), row)
	return row.GetBy(), err
}

// GetInspection gives a visit as kept and as judged then.
func (b *Book) GetInspection(ctx context.Context, shop, id string) (Kept, error) {
	var out Kept
	err := b.read(ctx, shop, func(s view) error {
		v, err := s.visit(id)
		switch {
		case err != nil:
			return err
		case v == nil:
			return noVisit(id)
		}
		out = v.message(false)
		return nil
	})
	return out, err
}

func noVisit(id string) error {
	return refuse(pb.ErrorReason_ERROR_REASON_NOT_FOUND, "inspection_id", "no visit %s in this shop", id).with("id", id)
}

// visits are the visits that one answer needs, each read once.
type visits struct {
	view
	nameless bool // nothing that identifies a person
	read     map[string]*visit
}

func (r *visits) get(id string) (*visit, error) {
	if v, ok := r.read[id]; ok {
		return v, nil
	}
	v, err := r.visit(id)
	if err == nil {
		if r.read == nil {
			r.read = map[string]*visit{}
		}
		r.read[id] = v
	}
	return v, err
}

// message is a vehicle's state as callers see it: what is open, each as the visit
// that found it last has it.
func (s state) message(id, tag string, from *visits) (*pb.VehicleState, error) {
	out := &pb.VehicleState{VehicleId: id, Tag: tag, Headline: s.headline, LastInspectionId: s.lastID, LastSeenTime: s.lastSeen, WheelsOff: s.off.message(), Left: s.left}
	for _, f := range s.open {
		v, err := from.get(f.visitID)
		if err != nil {
			return nil, err
		}
		open, err := from.openFinding(f, id, v)
		if err != nil {
			return nil, err
		}
		out.Open = append(out.Open, open)
	}
	return out, nil
}

// openFinding is what is open as callers see it, with what became of it so far.
func (r *visits) openFinding(f openFinding, vehicle string, v *visit) (*pb.OpenFinding, error) {
	out := &pb.OpenFinding{
		OpenId: f.openID, VehicleId: vehicle, InspectionId: f.visitID, Finding: f.asFound(v),
		SinceInspectionId: f.sinceID, SinceTime: f.sinceTime, VisitsOpen: f.visits,
	}
	if f.laterID != "" {
		out.MovedTo = f.positions
	}
	for _, id := range f.outcomes {
		o, err := r.outcome(id)
		if err != nil {
			return nil, err
		}
		if o == nil {
			continue
		}
		if !r.nameless {
			if err := r.persons(o.said); err != nil {
				return nil, err
			}
		}
		out.Outcomes = append(out.Outcomes, o.said)
	}
	return out, nil
}

// asFound is the finding as its visit has it, which is nil where that is lost.
func (f openFinding) asFound(v *visit) *pb.Finding {
	out := &pb.Finding{Id: f.findingID, Code: f.code, Urgency: f.urgency, Positions: f.positions, Comparison: f.comparison}
	if v != nil {
		for _, of := range v.assessment.GetFindings() {
			if of.GetId() == f.findingID {
				out = proto.CloneOf(of)
			}
		}
	}
	out.OpenId = f.openID
	return out
}
