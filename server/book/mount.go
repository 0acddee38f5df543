package book

import (
	"maps"
	"slices"
	"strings"

	"github.com/google/uuid"
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// tireNames is the name space from which a tire that nobody named gets its id,
// so that the same visit repeated names the same tire.
var tireNames = uuid.NewSHA1(uuid.NameSpaceOID, []byte("gaugebook tire of a visit"))

// tiresOf gives the tire of each wheel: the one that is named, else the one last
// mounted there unless this visit names it elsewhere, else a new one whose id
// follows from the position and the visit, or the first that this one corrects.
func tiresOf(mounted []*pb.Tire, root string, wheels []*pb.WheelReport) []string {
	there, named := map[string]string{}, map[string]bool{}
	for _, t := range mounted {
		there[position(t)] = t.GetId()
	}
	for _, w := range wheels {
		named[w.GetTireId()] = true
	}
	ids := make([]string, len(wheels))
	for i, w := range wheels {
		on := there[w.GetPosition()]
		switch {
		case w.GetTireId() != "":
			ids[i] = w.GetTireId()
		case on != "" && !named[on]:
			ids[i] = on
		default:
			for n := 0; ids[i] == "" || named[ids[i]] || among(mounted, ids[i]); n++ {
				ids[i] = unnamedTire(root, w.GetPosition(), n)
			}
		}
	}
	return ids
}

// unnamedTire is a tire that a visit sees first, at a wheel. n counts from 0 those that were
// told to be at another by a correction.
func unnamedTire(root, position string, n int) string {
	return uuid.NewSHA1(tireNames, []byte(root+" "+position+strings.Repeat(" other", n))).String()
}

// mostUnnamed is how many tires one visit may have seen first at one wheel.
const mostUnnamed = 4

func isSeenFirst(root string, w *pb.WheelReport) bool {
	for n := range mostUnnamed {
		if w.GetTireId() == unnamedTire(root, w.GetPosition(), n) {
			return true
		}
	}
	return false
}

// seenFirst are the tires of a visit, as its covering row has them, that it saw first.
func seenFirst(root string, in *pb.Inspection) (ids []string) {
	for _, w := range in.GetWheels() {
		if isSeenFirst(root, w) {
			ids = append(ids, w.GetTireId())
		}
	}
	return ids
}

func position(t *pb.Tire) string { return t.GetPlace().GetMounted().GetPosition() }

// mount puts a visit's tires on its wheels, in order of position. One whose
// place was taken, and which is on no other wheel, is on the vehicle no more.
func mount(on []*pb.Tire, vehicle string, visit *pb.Inspection, ids []string, arrivals map[string]*pb.Tire) []*pb.Tire {
	known, taken := map[string]*pb.Tire{}, map[string]bool{}
	maps.Copy(known, arrivals)
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
		tire.Place = &pb.TirePlace{Where: &pb.TirePlace_Mounted{Mounted: &pb.MountedPlace{VehicleId: vehicle, Position: w.GetPosition()}}}
		after = append(after, tire)
	}
	slices.SortFunc(after, func(a, b *pb.Tire) int { return strings.Compare(position(a), position(b)) })
	return after
}

// tireAt is the tire at a position, nil where none is known.
func tireAt(on []*pb.Tire, at string) *pb.Tire {
	for _, t := range on {
		if position(t) == at {
			return t
		}
	}
	return nil
}

func among(tires []*pb.Tire, id string) bool {
	return slices.ContainsFunc(tires, func(t *pb.Tire) bool { return t.GetId() == id })
}
