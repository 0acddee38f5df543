package translate

import (
	"cmp"
	"slices"
	"sync"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/reflect/protoregistry"

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

// unasked are the fields of the calls about one question that tell of others, by the
// call's request. Its answer names each that is set.
var unasked = func() map[protoreflect.FullName]map[protoreflect.FullName]bool {
	all := map[protoreflect.FullName]map[protoreflect.FullName]bool{}
	for call, fields := range map[protoreflect.FullName][]protoreflect.FullName{
		"AssessTreadRequest": {
			"WheelReport.tire_id", "Sidewall.directional", "Sidewall.asymmetric", "Sidewall.load_range", "Sidewall.maximum_load_dual", "PressureReading.tire_temperature",
			"PressureReading.source", "SensorReading.temperature", "Valve.kind", "Valve.rating", "TapedSize.circumference", "TapedSize.diameter",
			"TapedSize.same_pressure", "TapedSize.inflated_a_day_before", "UnderAir.at_twenty_psi", "UnderAir.at_working_pressure",
			"UnderAir.ripple_or_popping", "UnderAir.done_by", "RepairMade.method", "RepairMade.soaped_dry", "Looked.seen",
		},
		"CalculatePressureRequest": {
			"DrivenBefore.loaded_or_towing", "Conditions.snow_slush_or_ice", "Conditions.tires_moved", "Conditions.tire_speed_shown", "Sidewall.directional", "Sidewall.three_peak_snowflake",
			"Sidewall.mud_and_snow", "Sidewall.asymmetric", "Sidewall.self_supporting", "Sidewall.sealant_lined", "Sidewall.foam_lined",
			"Sidewall.tread_breadth", "Gauge.depth", "VehicleUse.tows",
		},
		"AssessRepairRequest": {
			"Place.groove", "Place.station", "Sidewall.directional", "Sidewall.asymmetric", "Sidewall.tread_breadth", "Sidewall.maximum_load",
			"Sidewall.maximum_load_dual", "Repair.tire_id",
		},
		"ReadSidewallRequest": {
			"Sidewall.directional", "Sidewall.three_peak_snowflake", "Sidewall.mud_and_snow", "Sidewall.body_ply", "Sidewall.asymmetric", "Sidewall.studded",
			"Sidewall.self_supporting", "Sidewall.sealant_lined", "Sidewall.foam_lined", "Sidewall.retread", "Sidewall.regrooved", "Sidewall.not_for_highway",
			"Sidewall.tread_breadth",
		},
		"CheckFitmentRequest": {
			"Spare.kind", "Spare.kit_expires_date", "Fasteners.locking", "VehicleMakerFigures.rotation_interval", "WheelReport.tire_id",
			"PressureReading.tire_temperature", "PressureReading.source", "SensorReading.temperature",
		},
		"EstimateLifeRequest": {"Gauge.pressure", "Gauge.temperature", "Gauge.length"},
	} {
		of := map[protoreflect.FullName]bool{}
		for _, f := range fields {
			of["gaugebook.v1."+f] = true
		}
		all["gaugebook.v1."+call] = of
	}
	return all
}()

// Unasked are the fields of a call's request that tell of other questions than the
// call's; none for a call that judges a visit whole.
func Unasked(call protoreflect.FullName) map[protoreflect.FullName]bool { return unasked[call] }

// heldUnasked is where such fields are, by the request.
var heldUnasked = sync.OnceValue(func() map[protoreflect.FullName]*holds {
	all := map[protoreflect.FullName]*holds{}
	for call, fields := range unasked {
		d, err := protoregistry.GlobalFiles.FindDescriptorByName(call)
		request, ok := d.(protoreflect.MessageDescriptor)
		if err != nil || !ok {
			panic(call)
		}
		all[call] = holdsOf(request, func(fd protoreflect.FieldDescriptor) (finding.Recorded, bool) {
			return finding.RecordedNotAsked, fields[fd.FullName()]
		})
	}
	return all
})

// NameUnasked names in an answer each field of its request that tells of other questions.
func NameUnasked(all []*pb.NotJudged, req proto.Message) []*pb.NotJudged {
	var paths []string
	h := heldUnasked()[req.ProtoReflect().Descriptor().FullName()]
	h.paths(req.ProtoReflect(), "", func(path string) { paths = append(paths, path) })
	if len(paths) == 0 {
		return all
	}
	slices.Sort(paths)
	all = append(all, &pb.NotJudged{Code: string(finding.RecordedNotAsked), Fields: slices.Compact(paths)})
	slices.SortStableFunc(all, func(a, b *pb.NotJudged) int { return cmp.Compare(a.GetCode(), b.GetCode()) })
	return all
}

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
var held = holdsOf((*pb.AssessVisitRequest)(nil).ProtoReflect().Descriptor(), func(fd protoreflect.FieldDescriptor) (finding.Recorded, bool) {
	code, only := recorded[fd.FullName()]
	return code, only
})

// holdsOf is where in messages of a type the fields are that have a code.
func holdsOf(d protoreflect.MessageDescriptor, coded func(protoreflect.FieldDescriptor) (finding.Recorded, bool)) *holds {
	h := &holds{wheel: d == (*pb.WheelReport)(nil).ProtoReflect().Descriptor()}
	for i := range d.Fields().Len() {
		fd := d.Fields().Get(i)
		switch code, only := coded(fd); {
		case only:
			h.fields = append(h.fields, heldField{field: fd, code: code})
		case fd.Message() == nil || fd.FullName() == "gaugebook.v1.AssessVisitRequest.earlier":
		default:
			if in := holdsOf(fd.Message(), coded); len(in.fields) > 0 {
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

// paths gives the path of each field that is set, in JSON names and without places in
// lists.
func (h *holds) paths(m protoreflect.Message, under string, add func(path string)) {
	for _, f := range h.fields {
		path := under + f.field.JSONName()
		switch {
		case !m.Has(f.field):
		case f.in == nil:
			add(path)
		case f.field.IsList():
			list := m.Get(f.field).List()
			for i := range list.Len() {
				f.in.paths(list.Get(i).Message(), path+".", add)
			}
		default:
			f.in.paths(m.Get(f.field).Message(), path+".", add)
		}
	}
}
