package book

import (
	"cmp"
	"context"
	"slices"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
)

// course is a vehicle's record up to the place of one visit, and what followed.
type course struct {
	before  *pb.GetVehicleResponse // what the visits before it have made of the vehicle
	earlier []*pb.Inspection       // these visits as evidence, oldest first
	root    string                 // the visit itself, or the first that it corrects
	later   []*pb.KeptInspection   // the visits after that place that stand
	roots   []string               // of these
}

// goOn gives what the visit and those after its place make of the vehicle.
func (c course) goOn(kept *pb.KeptInspection, brought map[string]*pb.Tire) *pb.GetVehicleResponse {
	next := step(c.before, c.root, kept, brought)
	for i, later := range c.later {
		next = step(next, c.roots[i], later, brought)
	}
	return next
}

// lastVisits reads a vehicle's last visits as evidence, oldest first, without
// those that were corrected.
func (v view) lastVisits(vehicle string) ([]*pb.Inspection, error) {
	rows, err := v.s.Scan(v.ctx, history.Range{Prefix: historyOf(vehicle), Limit: earlierVisits, Reverse: true})
	if err != nil {
		return nil, err
	}
	var out []*pb.Inspection
	for _, row := range slices.Backward(rows.Rows) {
		k := &pb.KeptInspection{}
		if err := decode(row.Value, k); err != nil {
			return nil, err
		}
		by, err := v.replacedBy(k.GetInspection().GetId())
		if err != nil {
			return nil, err
		}
		if by == "" {
			out = append(out, k.GetInspection())
		}
	}
	return out, nil
}

// chapter is one visit in the order of a vehicle's record, where a correction
// stands in the place of what it corrects.
type chapter struct {
	id    string
	root  string // the first visit that it corrects, itself where it corrects none
	place uint64 // number in the book of the root
}

// course goes through a vehicle's record anew, as if a visit were not in it, and
// gives what was before its place and what followed. That visit may have been
// corrected: then its correction is left out.
func (v view) course(vehicle, of string) (course, error) {
	all, err := v.chapters(vehicle)
	if err != nil {
		return course{}, err
	}
	here := all[slices.IndexFunc(all, func(c chapter) bool { return c.id == of })]
	c := course{before: &pb.GetVehicleResponse{}, root: here.root}
	standing, err := v.standing(all)
	for _, e := range standing {
		switch {
		case e.root == here.root:
		case e.place > here.place:
			c.later, c.roots = append(c.later, e.kept), append(c.roots, e.root)
		default:
			c = c.past(e, nil)
		}
	}
	return c, err
}

// past is the course behind an entry that stands before the place.
func (c course) past(e entry, brought map[string]*pb.Tire) course {
	tires := tiresOf(c.before.GetTires(), e.root, e.kept.GetInspection().GetWheels())
	c.earlier = append(slices.Clip(c.earlier), bearing(e.kept.GetInspection(), tires))
	c.before = step(c.before, e.root, e.kept, brought)
	return c
}

// entry is a visit that stands, at its place in the vehicle's record.
type entry struct {
	kept *pb.KeptInspection
	chapter
}

// standing reads the visits of a record that were not corrected, whole.
func (v view) standing(all []chapter) ([]entry, error) {
	var out []entry
	for i, ch := range all {
		if i < len(all)-1 && all[i+1].root == ch.root {
			continue
		}
		kept, err := v.inspection(ch.id)
		if err != nil {
			return nil, err
		}
		out = append(out, entry{kept, ch})
	}
	return out, nil
}

// chapters lists all visits of a vehicle by place, those that correct each other
// side by side, the one that stands last.
func (v view) chapters(vehicle string) ([]chapter, error) {
	var all []chapter
	numbers, corrects := map[string]uint64{}, map[string]string{}
	for after, more := history.Key(""), true; more; {
		rows, err := v.s.Scan(v.ctx, history.Range{Prefix: historyOf(vehicle), After: after})
		if err != nil {
			return nil, err
		}
		for _, row := range rows.Rows {
			k := &pb.KeptInspection{}
			if err := decode(row.Value, k); err != nil {
				return nil, err
			}
			id := k.GetInspection().GetId()
			numbers[id], corrects[id] = uint64(row.Version), k.GetInspection().GetCorrects().GetInspectionId()
			all, after = append(all, chapter{id: id}), row.Key
		}
		more = rows.More
	}
	for i, c := range all {
		all[i].root = c.id
		for corrects[all[i].root] != "" {
			all[i].root = corrects[all[i].root]
		}
		all[i].place = numbers[all[i].root]
	}
	slices.SortFunc(all, func(a, b chapter) int {
		return cmp.Or(cmp.Compare(a.place, b.place), cmp.Compare(numbers[a.id], numbers[b.id]))
	})
	return all, nil
}

// Reassess judges a kept visit anew as it would be judged now, with the visits
// before it, and says which findings differ. Nothing is stored.
func (b *Book) Reassess(ctx context.Context, shop, id, rulebook, language string) (*pb.ReassessInspectionResponse, error) {
	var out *pb.ReassessInspectionResponse
	err := b.read(ctx, shop, func(s view) error {
		kept, err := s.inspection(id)
		if err != nil {
			return err
		}
		if kept == nil {
			return noVisit(id)
		}
		is, err := s.vehicle(kept.GetInspection().GetVehicleId())
		if err != nil {
			return err
		}
		at, err := s.course(kept.GetInspection().GetVehicleId(), id)
		if err != nil {
			return err
		}
		brought, _, err := s.strangers(kept.GetInspection(), at.before.GetTires())
		if err != nil {
			return err
		}
		req, err := s.request(shop, is.record, kept.GetInspection(), at, brought)
		if err != nil {
			return err
		}
		if rulebook != "" {
			req.RulebookIds = []string{rulebook}
		}
		if language != "" {
			req.Language = language
		}
		now, err := s.judged(b.judge, shop, req)
		if err == nil {
			out = difference(kept.GetAssessment(), now)
		}
		return err
	})
	return out, err
}

// difference names the findings that appeared, disappeared or say another thing,
// whatever the words and the language.
func difference(old, now *pb.Assessment) *pb.ReassessInspectionResponse {
	out := &pb.ReassessInspectionResponse{Assessment: now}
	before := map[string]*pb.Finding{}
	for _, f := range old.GetFindings() {
		before[f.GetId()] = f
	}
	for _, f := range now.GetFindings() {
		was, there := before[f.GetId()]
		switch {
		case !there:
			out.Appeared = append(out.Appeared, f.GetId())
		case !proto.Equal(wordless(was), wordless(f)):
			out.Changed = append(out.Changed, f.GetId())
		}
		delete(before, f.GetId())
	}
	for _, f := range old.GetFindings() {
		if before[f.GetId()] != nil {
			out.Disappeared = append(out.Disappeared, f.GetId())
		}
	}
	return out
}

// wordless is a finding without its sentences and the words its rule is cited in;
// the rule itself stays.
func wordless(f *pb.Finding) *pb.Finding {
	f = proto.CloneOf(f)
	f.ToSettle, f.ForTechnician, f.ForCustomer, f.Caution = "", "", "", ""
	for _, e := range f.GetEvidence() {
		e.Words = ""
	}
	if f.GetAsLeft() != nil {
		f.AsLeft.Words = ""
	}
	if f.GetRule() != nil {
		f.Rule.Citation = ""
	}
	return f
}
