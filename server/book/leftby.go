package book

import (
	"slices"
	"sync"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
)

// putRight tells what of the open this visit put right by what it did and left, though it
// found none of it again. It is kept with the visit, for what was open then may be found
// otherwise later.
func (r *recording) putRight(s view) (err error) {
	if r.visit.imported() {
		return nil
	}
	r.visit.putRight, err = r.settled(s, r.asked, r.visit.assessment, r.before)
	return err
}

// putRightBehind tells what a visit behind this one, that was there first, put right of
// what this one found.
func (r *recording) putRightBehind(s view, behind *step) error {
	of := behind.before
	of.open = slices.DeleteFunc(slices.Clone(of.open), func(f openFinding) bool {
		return f.visitID != r.id() || f.laterID != "" || behind.putsRight(f) != nil
	})
	if behind.imported() || len(of.open) == 0 || !leaves(behind.inspection.ProtoReflect()) {
		return nil
	}
	asked, err := s.request(r.shop, r.vehicle.record, behind.inspection, course{before: of, earlier: r.earlier, root: behind.root, known: r.visit.time}, behind.arrivals)
	if err != nil {
		return err
	}
	all, err := r.settled(s, asked, behind.assessment, of)
	for _, c := range all {
		c.foundBy = r.id()
		behind.putRight = append(behind.putRight, c)
		behind.late = true
	}
	return err
}

// settled tells what of the open a visit put right that did not find it again: each is
// judged as if the visit that found it had ended so.
func (r *recording) settled(s view, asked *pb.AssessVisitRequest, of *pb.Assessment, before state) (all []settled, err error) {
	in, found := asked.GetInspection(), map[string]bool{}
	for _, f := range of.GetFindings() {
		found[f.GetId()] = true
	}
	open := map[string][]openFinding{}
	for _, f := range before.open {
		if !found[f.findingID] && f.laterID == "" { // else it was found at another wheel than its tire is on
			open[f.visitID] = append(open[f.visitID], f)
		}
	}
	if len(open) == 0 || !leaves(in.ProtoReflect()) {
		return nil, nil
	}
	for id, fs := range open {
		v := &r.visit
		if id != r.id() {
			if v, err = s.visit(id); err != nil {
				return nil, err
			}
		}
		if v == nil {
			continue
		}
		then := proto.CloneOf(v.inspection)
		for _, w := range then.GetWheels() { // the tires on it since
			w.TireId = tireAt(before.tires, w.GetPosition()).GetId()
		}
		ended := r.book.judge(r.shop, endedSo(asked, in, then)).GetFindings()
		unseen := sync.OnceValue(func() []*pb.Finding {
			return r.book.judge(r.shop, endedSo(asked, ofVisit(in), then)).GetFindings()
		})
		for _, f := range fs {
			if by := settles(f, ended, unseen); by != nil {
				all = append(all, settled{findingID: f.findingID, by: by})
			}
		}
	}
	slices.SortFunc(all, settled.compare)
	return all, nil
}

// settles says what put a finding right, of what is found where the visit that found it
// ended so; nil for nothing. What is found no more, for what was seen or done made
// something else of it that is no less urgent, is put right where that is: before is what is found where nothing
// was seen or done.
func settles(f openFinding, ended []*pb.Finding, before func() []*pb.Finding) *pb.Said {
	same := func(fs []*pb.Finding, id string) bool {
		return slices.ContainsFunc(fs, func(g *pb.Finding) bool { return g.GetId() == id })
	}
	by := &pb.Said{Code: string(finding.ClosedFoundGood)}
	if same(ended, f.findingID) {
		by = nil
	} else if !same(before(), f.findingID) {
		return nil
	}
	for _, g := range ended {
		about := slices.ContainsFunc(g.GetPositions(), func(p string) bool { return slices.Contains(f.positions, p) })
		switch {
		case g.GetId() == f.findingID && g.GetAsLeft() != nil:
			return closedAs(g)
		case by == nil || !about || same(before(), g.GetId()):
		case asks(g) && g.GetUrgency() <= f.urgency:
			return nil
		case g.GetAsLeft() != nil:
			by = closedAs(g)
		}
	}
	return by
}

func closedAs(f *pb.Finding) *pb.Said {
	if said := f.GetAsLeft().GetPutRight(); said != nil {
		return said
	}
	return &pb.Said{Code: string(putRight(f))}
}

// endedSo is a visit as if it had found what an earlier one found, and done and left what
// a later one did.
func endedSo(of *pb.AssessVisitRequest, later, earlier *pb.Inspection) *pb.AssessVisitRequest {
	req := proto.CloneOf(of)
	if i := slices.IndexFunc(req.GetEarlier(), func(e *pb.Inspection) bool { return e.GetId() == earlier.GetId() }); i >= 0 {
		req.Earlier = req.GetEarlier()[:i]
	}
	in := proto.CloneOf(later)
	left := in.GetWheels()
	in.Wheels = nil
	join(in.ProtoReflect(), earlier.ProtoReflect())
	for _, w := range earlier.GetWheels() {
		at := slices.IndexFunc(left, func(l *pb.WheelReport) bool { return l.GetPosition() == w.GetPosition() })
		if at < 0 {
			in.Wheels = append(in.Wheels, proto.CloneOf(w))
			continue
		}
		join(left[at].ProtoReflect(), w.ProtoReflect())
	}
	in.Wheels = append(in.Wheels, left...)
	req.Inspection = in
	return req
}

// ofVisit is who, when and where of a visit, without what was found, done or left.
func ofVisit(in *pb.Inspection) *pb.Inspection {
	out := proto.CloneOf(in)
	strip(out.ProtoReflect())
	out.Wheels = nil
	return out
}

func strip(m protoreflect.Message) {
	of := factsOf[m.Descriptor().Name()]
	m.Range(func(f protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		switch of[f.Name()] {
		case toldAsFound, toldAsLeft:
			m.Clear(f)
		case toldWithin:
			strip(v.Message())
		}
		return true
	})
}

// told is what a field of a visit tells.
type told uint8

const (
	toldOfVisit told = iota // who, when and where: each visit's own
	toldAsFound             // as found; in a list with phases as found or as left
	toldAsLeft              // done or seen at the visit
	toldWithin              // some of either
)

// factsOf is what each field of a visit tells.
var factsOf = map[protoreflect.Name]map[protoreflect.Name]told{
	"Inspection": {
		"id": toldOfVisit, "vehicle_id": toldOfVisit, "taken_time": toldOfVisit, "local_date": toldOfVisit, "done_by": toldOfVisit,
		"odometer": toldOfVisit, "corrects": toldOfVisit, "photo_sha256": toldOfVisit, "order_reference": toldOfVisit, "wheels": toldOfVisit,
		"conditions": toldWithin, "gauges": toldAsLeft, "work_done": toldAsLeft, "spare": toldAsFound, "changeover": toldAsFound, "axle_weights": toldAsFound,
	},
	"WheelReport": {
		"position": toldOfVisit, "tire_id": toldAsFound, "torque_recheck": toldOfVisit,
		"sidewall": toldAsFound, "tread": toldAsFound, "pressures": toldAsFound, "high_low_pairs": toldAsFound, "observations": toldAsFound,
		"marks": toldAsFound, "sensor_readings": toldAsFound, "valve": toldAsFound, "wheel_kind": toldAsFound, "rim": toldAsFound,
		"driven_low": toldAsFound, "taped": toldAsFound,
		"looked": toldAsLeft, "fastener_work": toldAsLeft, "valve_work": toldAsLeft, "inside": toldAsLeft, "under_air": toldAsLeft,
		"repair_made": toldAsLeft, "object_out": toldAsLeft, "fitted": toldAsLeft, "taken_back": toldAsLeft,
	},
	"Conditions": {
		"air": toldOfVisit, "outside": toldOfVisit, "barometer": toldOfVisit, "altitude": toldOfVisit, "driven": toldOfVisit,
		"snow_slush_or_ice": toldOfVisit, "altitude_where_driven": toldOfVisit, "coldest_expected": toldOfVisit,
		"complaints": toldAsFound, "lamp_as_found": toldAsFound, "tires_moved": toldAsFound, "tire_speed_shown": toldAsFound,
		"lamp_as_left": toldAsLeft, "sensors_as_left": toldAsLeft,
	},
}

// join gives a later message what an earlier one tells as found, and of what was done or
// left what it does not tell itself.
func join(later, earlier protoreflect.Message) {
	of := factsOf[later.Descriptor().Name()]
	earlier.Range(func(f protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		switch of[f.Name()] {
		case toldAsFound:
			if f.IsList() && phaseOf(f) != nil {
				v = phases(f, v.List(), later.Get(f).List(), later.NewField(f))
			}
			if f.Name() == "complaints" {
				v = answered(v.List(), later.Get(f).List(), later.NewField(f))
			}
			later.Set(f, v)
		case toldAsLeft:
			switch {
			case f.Name() == "looked" || f.Name() == "work_done": // what was seen or done stays so
				all := later.Mutable(f).List()
				for i := range v.List().Len() {
					all.Append(v.List().Get(i))
				}
			case !later.Has(f):
				later.Set(f, v)
			}
		case toldWithin:
			join(later.Mutable(f).Message(), v.Message())
		}
		return true
	})
}

// phaseOf is the field of a list's messages that tells found from left, nil where there is
// none.
func phaseOf(f protoreflect.FieldDescriptor) protoreflect.FieldDescriptor {
	if f.Message() == nil {
		return nil
	}
	return f.Message().Fields().ByName("phase")
}

// phases are the entries as found of an earlier list, and as left those of the later one.
func phases(f protoreflect.FieldDescriptor, earlier, later protoreflect.List, into protoreflect.Value) protoreflect.Value {
	phase := phaseOf(f)
	add := func(from protoreflect.List, left bool) (added bool) {
		for i := range from.Len() {
			m := from.Get(i).Message()
			if (m.Get(phase).Enum() == pb.Phase_PHASE_AS_LEFT.Number()) == left {
				into.List().Append(from.Get(i))
				added = true
			}
		}
		return added
	}
	_ = add(earlier, false) || add(later, false)
	_ = add(later, true) || add(earlier, true)
	return into
}

// complaintAt is one of a list of complaints.
func complaintAt(all protoreflect.List, i int) *pb.Complaint {
	c, _ := all.Get(i).Message().Interface().(*pb.Complaint)
	return c
}

// answered are the complaints of an earlier visit with what was answered to them later.
func answered(earlier, later protoreflect.List, into protoreflect.Value) protoreflect.Value {
	for i := range earlier.Len() {
		c := proto.CloneOf(complaintAt(earlier, i))
		for k := range later.Len() {
			l := complaintAt(later, k)
			if l.GetKind() == c.GetKind() && l.GetPosition() == c.GetPosition() && l.GetSealant() != 0 {
				c.Sealant = l.GetSealant()
			}
		}
		into.List().Append(protoreflect.ValueOfMessage(c.ProtoReflect()))
	}
	return into
}

// leaves tells that a visit says something that was done or left.
func leaves(m protoreflect.Message) (told bool) {
	of := factsOf[m.Descriptor().Name()]
	m.Range(func(f protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		switch kind := of[f.Name()]; {
		case f.Name() == "wheels":
			for i := range v.List().Len() {
				told = told || leaves(v.List().Get(i).Message())
			}
		case f.Name() == "complaints":
			told = true
		case f.Name() == "looked" || f.Name() == "gauges":
		case kind == toldAsLeft:
			told = true
		case kind == toldWithin:
			told = told || leaves(v.Message())
		case f.IsList() && phaseOf(f) != nil:
			for i := range v.List().Len() {
				told = told || v.List().Get(i).Message().Get(phaseOf(f)).Enum() == pb.Phase_PHASE_AS_LEFT.Number()
			}
		}
		return !told
	})
	return told
}
