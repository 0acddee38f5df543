package translate

import (
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

// recorded are the fields that this version keeps and does not judge, by the message
// they stand in. An answer names each that is set.
var recorded = func() map[protoreflect.FullName]finding.Recorded {
	all := map[protoreflect.FullName]finding.Recorded{}
	for code, fields := range map[finding.Recorded][]protoreflect.FullName{
		finding.RecordedAxleKind:         {"Axle.kind"},
		finding.RecordedRim:              {"Axle.rim", "WheelReport.rim"},
		finding.RecordedSparePrinted:     {"Spare.size", "Spare.speed_limit", "Spare.distance_limit"},
		finding.RecordedFastenerKind:     {"Fasteners.kind"},
		finding.RecordedKeyKept:          {"Fasteners.key_kept"},
		finding.RecordedRegistration:     {"TireSale.sold_here", "TireSale.sold_date", "TireSale.registration_sent_date"},
		finding.RecordedScrap:            {"Scrap.reason", "Scrap.done_by", "Scrap.rendered_unusable", "Scrap.scrapped_date"},
		finding.RecordedStored:           {"StoredPlace.set_id"},
		finding.RecordedMove:             {"MountedPlace.faces_out", "TireMoves.local_date"},
		finding.RecordedPressuresSet:     {"DrivenBefore.pressures_last_set_by", "DrivenBefore.pressures_last_set_date"},
		finding.RecordedComplaintDetails: {"Complaint.speed_to", "Complaint.since_date", "Complaint.aired_every"},
		finding.RecordedLengthGauge:      {"Gauge.length"},
		finding.RecordedReadingGauge:     {"TreadReading.gauge"},
		finding.RecordedHowKnown:         {"Observation.how"},
		finding.RecordedDamageDepth:      {"Observation.depth"},
		finding.RecordedDrivenLow:        {"DrivenLow.distance", "DrivenLow.speed", "DrivenLow.loaded"},
		finding.RecordedSecondCheck:      {"FastenerWork.second_check_done_by"},
		finding.RecordedRecheckWhen:      {"TorqueRecheck.odometer", "TorqueRecheck.date"},
		finding.RecordedValveWork:        {"ValveWork.renewed"},
		finding.RecordedMendedBy:         {"InsideSeen.done_by", "RepairMade.done_by", "ObjectOut.done_by", "TireFitted.done_by"},
		finding.RecordedRepairDetails:    {"Repair.local_date", "Repair.inside_seen"},
		finding.RecordedPhotos:           {"Inspection.photo_sha256", "Observation.photo_sha256"},
		finding.RecordedWords: {
			"Complaint.words", "Observation.words", "Looked.words", "WorkDone.words", "Repair.words", "Scrap.words", "StoredPlace.words",
		},
		finding.RecordedChangeover: {
			"TireSet.id", "TireSet.vehicle_id", "TireSet.name", "TireSet.season", "TireSet.storage_place", "TireSet.came_off_date", "TireSet.came_off_odometer",
			"TireOfSet.tire_id", "TireOfSet.came_off_position", "TireOfSet.next_position", "TireOfSet.lowest_depth", "TireOfSet.pressure",
			"TireOfSet.on_wheel", "TireOfSet.sensor_id",
		},
	} {
		for _, f := range fields {
			all["gaugebook.v1."+f] = code
		}
	}
	return all
}()

// Recorded are the fields that are kept and not judged, with the code that an answer
// names each by.
func Recorded() map[protoreflect.FullName]finding.Recorded { return recorded }

// holds is where in messages of one type fields are that are kept and not judged.
type holds struct {
	wheel  bool // it is the report of a wheel
	fields []heldField
}

type heldField struct {
	field protoreflect.FieldDescriptor
	code  finding.Recorded // of one that is only recorded, else
	in    *holds           // where it is in the messages of the field
}

// held is where such fields are in a visit that is to be judged. Earlier visits named
// theirs.
var held = holdsOf((*pb.AssessVisitRequest)(nil).ProtoReflect().Descriptor())

func holdsOf(d protoreflect.MessageDescriptor) *holds {
	h := &holds{wheel: d == (*pb.WheelReport)(nil).ProtoReflect().Descriptor()}
	for i := range d.Fields().Len() {
		fd := d.Fields().Get(i)
		switch code, only := recorded[fd.FullName()]; {
		case only:
			h.fields = append(h.fields, heldField{field: fd, code: code})
		case fd.Message() == nil || fd.FullName() == "gaugebook.v1.AssessVisitRequest.earlier":
		default:
			if in := holdsOf(fd.Message()); len(in.fields) > 0 {
				h.fields = append(h.fields, heldField{field: fd, in: in})
			}
		}
	}
	return h
}

// onlyRecorded names each field of the visit, its vehicle and its tires that is set and
// not judged, with the wheel it is of.
func onlyRecorded(req *pb.AssessVisitRequest, add func(recorded bool, code finding.Recorded, at ...layout.Position)) {
	held.walk(req.ProtoReflect(), nil, add)
}

func (h *holds) walk(m protoreflect.Message, at []layout.Position, add func(recorded bool, code finding.Recorded, at ...layout.Position)) {
	if w, is := m.Interface().(*pb.WheelReport); is && h.wheel {
		at = nil
		if p := Position(w.GetPosition()); p != (layout.Position{}) {
			at = []layout.Position{p}
		}
	}
	for _, f := range h.fields {
		switch {
		case !m.Has(f.field):
		case f.in == nil:
			add(true, f.code, at...)
		case f.field.IsList():
			list := m.Get(f.field).List()
			for i := range list.Len() {
				f.in.walk(list.Get(i).Message(), at, add)
			}
		default:
			f.in.walk(m.Get(f.field).Message(), at, add)
		}
	}
}
