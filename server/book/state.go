package book

import (
	"maps"
	"slices"
	"strings"

	"github.com/google/uuid"
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/closing"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/past"

	"gaugebook.dev/server/translate"
)

// step gives what a visit makes of a vehicle: which tires are on it afterwards,
// what is open, and that this was its last visit. root names the tires that
// nobody named, see tiresOf; strangers are tires that it names and that were not
// on the vehicle, as far as the book knows them.
func step(before *pb.GetVehicleResponse, root string, kept *pb.KeptInspection, strangers map[string]*pb.Tire) *pb.GetVehicleResponse {
	visit := kept.GetInspection()
	next := &pb.GetVehicleResponse{
		Tires:            mount(before.GetTires(), visit, tiresOf(before.GetTires(), root, visit.GetWheels()), strangers),
		LastInspectionId: visit.GetId(), LastSeen: kept.GetRecordedAt(),
	}
	next.OpenFindings = open(before, next, kept)
	return next
}

// tireNames is the name space from which a tire that nobody named gets its id,
// so that the same visit repeated names the same tire.
var tireNames = uuid.NewSHA1(uuid.NameSpaceOID, []byte("gaugebook tire of a visit"))

// tiresOf gives the tire of each wheel: the one on record there as past.Seat tells, else
// a new one whose id follows from the position and the visit, or the first that this one
// corrects.
func tiresOf(mounted []*pb.Tire, root string, wheels []*pb.WheelReport) []string {
	there := map[layout.Position]string{}
	for _, t := range mounted {
		there[translate.Position(position(t))] = t.GetId()
	}
	reported := make([]past.Wheel, len(wheels))
	for i, w := range wheels {
		reported[i] = past.Wheel{At: translate.Position(w.GetPosition()), Tire: w.GetTireId()}
	}
	ids := past.Seat(there, reported)
	for i, w := range wheels {
		if ids[i] == "" {
			ids[i] = uuid.NewSHA1(tireNames, []byte(root+" "+w.GetPosition())).String()
		}
	}
	return ids
}

func position(t *pb.Tire) string { return t.GetPlace().GetMounted().GetPosition() }

// mount puts a visit's tires on its wheels, in order of position. One whose
// place was taken, and which is on no other wheel, is on the vehicle no more.
func mount(on []*pb.Tire, visit *pb.Inspection, ids []string, strangers map[string]*pb.Tire) []*pb.Tire {
	known, taken := map[string]*pb.Tire{}, map[string]bool{}
	maps.Copy(known, strangers)
	for _, t := range on {
		known[t.GetId()] = t
	}
	for _, w := range visit.GetWheels() {
		taken[w.GetPosition()] = true
	}
	var after []*pb.Tire
	for _, t := range on {
		if !taken[position(t)] && !slices.Contains(ids, t.GetId()) {
			after = append(after, t)
		}
	}
	for i, w := range visit.GetWheels() {
		tire := &pb.Tire{Id: ids[i]}
		if t := known[ids[i]]; t != nil {
			tire = proto.CloneOf(t)
		}
		if w.GetSidewall() != nil {
			if tire.GetSidewall() == nil {
				tire.Sidewall = &pb.Sidewall{}
			}
			proto.Merge(tire.GetSidewall(), w.GetSidewall())
		}
		tire.Place = &pb.TirePlace{At: &pb.TirePlace_Mounted{Mounted: &pb.MountedAt{VehicleId: visit.GetVehicleId(), Position: w.GetPosition()}}}
		after = append(after, tire)
	}
	slices.SortFunc(after, func(a, b *pb.Tire) int { return strings.Compare(position(a), position(b)) })
	return after
}

// open are the findings that are open after a visit, the most urgent first: its
// own that ask for something and were not closed as left, and of those open
// before the ones that it did not close.
func open(before, after *pb.GetVehicleResponse, kept *pb.KeptInspection) []*pb.Finding {
	var open []*pb.Finding
	for _, f := range kept.GetAssessment().GetFindings() {
		if asks(f) {
			open = append(open, f)
		}
	}
	visit := later(kept, before.GetTires(), after.GetTires())
	for _, f := range before.GetOpenFindings() {
		if closing.After(opened(f), visit) == (closing.Fate{}) {
			open = append(open, f)
		}
	}
	slices.SortStableFunc(open, func(a, b *pb.Finding) int { return int(a.GetUrgency()) - int(b.GetUrgency()) })
	return open
}

// asks tells whether a finding asks for something that was not done by the end
// of its own visit.
func asks(f *pb.Finding) bool {
	return f.GetUrgency() != pb.Urgency_URGENCY_NOTE && f.GetAsLeft() == nil
}

func has(fs []*pb.Finding, f *pb.Finding) bool {
	return slices.ContainsFunc(fs, func(o *pb.Finding) bool { return o.GetId() == f.GetId() })
}

// gone lists the ids of findings that were open and are not any more.
func gone(before, after []*pb.Finding) []string {
	var ids []string
	for _, f := range before {
		if !has(after, f) {
			ids = append(ids, f.GetId())
		}
	}
	return ids
}
