package check

import (
	"math/rand/v2"
	"slices"
	"testing"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// vehicles are some that a visit may turn out to be of.
func vehicles() []*pb.Vehicle {
	all := []*pb.Vehicle{nil, {}, visit().GetVehicle(), {Id: otherID}, {Id: vehicleID, Axles: axles(make([]*pb.Axle, maxAxles+1)...)}}
	for kind := range noSpare {
		all = append(all, &pb.Vehicle{Axles: axles(&pb.Axle{}, &pb.Axle{}), Spare: &pb.Spare{Kind: kind}})
	}
	for _, dual := range [][]bool{{false}, {false, false}, {true, true}, {false, true, true}} {
		v := &pb.Vehicle{Id: vehicleID, Axles: &pb.Axles{}}
		for _, d := range dual {
			wheels := pb.AxleWheels_AXLE_WHEELS_SINGLE
			if d {
				wheels = pb.AxleWheels_AXLE_WHEELS_DUAL
			}
			v.Axles.Axles = append(v.Axles.Axles, &pb.Axle{Wheels: wheels})
		}
		all = append(all, v)
	}
	return all
}

// recorded are visits that may be recorded: those of the table of problems, and
// some made at random of places and positions.
func recorded() []*pb.Inspection {
	var all []*pb.Inspection
	for _, row := range rows {
		r := visit()
		row.spoil(r)
		all = append(all, r.GetInspection())
	}
	positions := []string{"1L", "1R", "2L", "2RO", "2LI", "3R", "1LO", "S"}
	r := rand.New(rand.NewPCG(1, 1))
	for range 400 {
		v := &pb.Inspection{VehicleId: vehicleID, Spare: &pb.SpareReport{InServicePosition: positions[r.IntN(len(positions))]}}
		for range r.IntN(4) {
			position := positions[r.IntN(len(positions))]
			v.Wheels = append(v.Wheels, &pb.WheelReport{Position: position, SensorReadings: []*pb.SensorReading{{ShownPosition: positions[r.IntN(len(positions))]}}})
			v.AxleWeights = append(v.AxleWeights, &pb.AxleWeight{Axle: 1 + r.Int32N(4), Weight: pounds(3000)})
			v.Conditions = &pb.Conditions{Complaints: []*pb.Complaint{{Position: position}}}
			v.WorkDone = append(v.WorkDone, &pb.WorkDone{Positions: []string{position}})
		}
		all = append(all, v)
	}
	for _, v := range all {
		if v != nil && v.GetId() == "" {
			v.Id = otherID
		}
	}
	return all
}

// A visit that was checked without its vehicle has, on any vehicle, the problems
// that it would have had, checked whole beside it.
func TestACheckedVisitNeedsItsVehicleOnly(t *testing.T) {
	checked, misfits := 0, 0
	for _, v := range recorded() {
		visit, problems := NewVisit("inspection", v)
		if len(problems) > 0 {
			if visit.Inspection() != nil {
				t.Errorf("%v is a visit with problems: %v", v, problems)
			}
			continue
		}
		checked++
		for _, vehicle := range vehicles() {
			got, want := visit.On(vehicle), Inspection("inspection", v, vehicle)
			if !slices.Equal(got, want) {
				t.Errorf("%v on %v:\n got %v\nwant %v", v, vehicle, got, want)
			}
			if len(want) > 0 {
				misfits++
			}
		}
	}
	if checked < 200 || misfits < 1000 {
		t.Errorf("%d visits passed, %d did not fit: too few to tell", checked, misfits)
	}
}

// What is wrong with a visit by itself is found without its vehicle.
func TestAVisitWithProblemsIsNone(t *testing.T) {
	whole := visit().GetInspection()
	tests := []struct {
		name  string
		spoil func(*pb.Inspection)
		want  []string
	}{
		{"nothing", func(v *pb.Inspection) { proto.Reset(v) }, []string{
			"inspection: there is nothing to judge; wheels, the spare, work done, a photo, or what the customer notices or asks",
			"inspection.id: missing; a UUID made once by the client",
			"inspection.vehicleId: missing; a UUID made once by the client",
		}},
		{"no id", func(v *pb.Inspection) { v.Id = "" }, []string{"inspection.id: missing; a UUID made once by the client"}},
		{"no vehicle", func(v *pb.Inspection) { v.VehicleId = "" }, []string{"inspection.vehicleId: missing; a UUID made once by the client"}},
		{"no position", func(v *pb.Inspection) { v.Wheels[0].Position = "LF" }, []string{position + `"LF": no position; did you mean 1L?`}},
		{"of any vehicle", func(v *pb.Inspection) { v.Wheels[0].Position = "7RO" }, nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			v := proto.CloneOf(whole)
			test.spoil(v)
			_, problems := NewVisit("inspection", v)
			same(t, problems, test.want)
		})
	}
	_, problems := NewVisit("inspection", nil)
	if len(problems) != 3 {
		t.Errorf("of no visit: %v", problems)
	}
}
