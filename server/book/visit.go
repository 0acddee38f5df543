package book

import (
	"context"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// visit is a visit as the book holds it.
type visit struct {
	entry
	place
	by         string // who sent it
	inspection *pb.Inspection
	assessment *pb.Assessment
	frontRear  bool   // how its positions are told
	replacedBy string // the visit that corrects it; "" for one that stands
}

// Kept is a kept visit, without words.
type Kept struct {
	*pb.KeptInspection
	FrontRear bool // how its positions are told
}

// key is that of its covering row.
func (v *visit) key() history.Key {
	return v.place.key(v.inspection.GetVehicleId(), v.time, v.inspection.GetId())
}

// message is the visit as callers see it.
func (v *visit) message(repeated bool) Kept {
	return Kept{&pb.KeptInspection{
		Inspection: v.inspection, Recorded: v.recorded(repeated, history.Absent), RecordedBy: v.by, ReplacedBy: v.replacedBy, Assessment: v.assessment,
	}, v.frontRear}
}

// visit puts a visit.
func (d *drafting) visit(v *visit) {
	texts := rows.NewStrings(nil)
	row := &rows.Visit{
		Inspection: d.sent(v.inspection), RecordedTime: v.time, RecordedBy: v.by, FrontRear: v.frontRear, Assessment: &rows.Assessment{},
		CountedTime: v.counted, Root: v.root, RootTime: v.rootTime,
	}
	texts.Keep(row.GetAssessment(), v.assessment)
	row.Strings = texts.Texts()
	d.put(visitKey(v.inspection.GetId()), row)
}

// visit reads a kept visit whole; nil when there is none.
func (v view) visit(id string) (*visit, error) {
	row := &rows.Visit{}
	number, found, err := v.get(visitKey(id), row)
	if err != nil || !found {
		return nil, err
	}
	out := &visit{
		entry: entry{number, row.GetRecordedTime()}, place: place{counted: row.GetCountedTime(), root: row.GetRoot(), rootTime: row.GetRootTime()}, by: row.GetRecordedBy(), frontRear: row.GetFrontRear(),
		inspection: &pb.Inspection{}, assessment: &pb.Assessment{},
	}
	if err := proto.Unmarshal(row.GetInspection(), out.inspection); err != nil {
		return nil, err
	}
	if out.root == "" {
		if out.place, err = v.formerPlace(out.inspection, out.time); err != nil {
			return nil, err
		}
	}
	rows.NewStrings(row.GetStrings()).Give(out.assessment, row.GetAssessment())
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
	read map[string]*visit
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
	out := &pb.VehicleState{VehicleId: id, Tag: tag, Headline: s.headline, LastInspectionId: s.lastID, LastSeenTime: s.lastSeen}
	for _, f := range s.open {
		v, err := from.get(f.visitID)
		if err != nil {
			return nil, err
		}
		out.Open = append(out.Open, &pb.OpenFinding{
			OpenId: f.openID, VehicleId: id, InspectionId: f.visitID, Finding: f.asFound(v),
			SinceInspectionId: f.sinceID, SinceTime: f.sinceTime, VisitsOpen: f.visits,
		})
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
