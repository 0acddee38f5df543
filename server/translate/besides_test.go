package translate

import (
	"math"
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/sensor"
	"gaugebook.dev/calc/unit"
)

func pounds(n float64) *pb.Pressure { return &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: n}} }

func miles(n float64) *pb.Distance { return &pb.Distance{AsRead: &pb.Distance_Miles{Miles: n}} }

// A reading taken by the sensor is not held against the sensor, whether the
// reading or the list of gauges says so.
func TestASensorIsNotHeldAgainstItself(t *testing.T) {
	tool := []*pb.Gauge{{Kind: pb.GaugeKind_GAUGE_KIND_TPMS_TOOL, Resolution: &pb.Gauge_Pressure{Pressure: pounds(1)}}}
	for _, c := range []struct {
		name   string
		kind   pb.GaugeKind
		gauges []*pb.Gauge
		read   bool
	}{
		{"a gauge not told", 0, nil, true},
		{"digital", pb.GaugeKind_GAUGE_KIND_DIGITAL, nil, true},
		{"the sensor's tool", pb.GaugeKind_GAUGE_KIND_TPMS_TOOL, nil, false},
		{"the visit's only gauge is the tool", 0, tool, false},
		{"digital beside the tool", pb.GaugeKind_GAUGE_KIND_DIGITAL, tool, true},
	} {
		w := &pb.WheelReport{Position: "1L", Pressures: []*pb.PressureReading{{Pressure: pounds(33), Gauge: c.kind}},
			SensorReadings: []*pb.SensorReading{{Pressure: pounds(27)}}}
		v := Visit(&pb.AssessVisitRequest{Inspection: &pb.Inspection{Wheels: []*pb.WheelReport{w}, Gauges: c.gauges}})
		if got := v.Wheels[0].Sensed.Hand.Read != unit.None; got != c.read {
			t.Errorf("%s: read by hand %v", c.name, got)
		}
	}
}

// Nobody assumes that a trailer watches its pressures (common practice).
func TestMonitoring(t *testing.T) {
	for _, c := range []struct {
		class pb.VehicleClass
		tpms  pb.TpmsKind
		want  sensor.Kind
	}{
		{pb.VehicleClass_VEHICLE_CLASS_TRAILER, pb.TpmsKind_TPMS_KIND_UNSPECIFIED, sensor.None},
		{pb.VehicleClass_VEHICLE_CLASS_TRAILER, pb.TpmsKind_TPMS_KIND_DIRECT, sensor.Direct},
		{pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR, pb.TpmsKind_TPMS_KIND_UNSPECIFIED, sensor.KindNotTold},
		{pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR, pb.TpmsKind_TPMS_KIND_INDIRECT, sensor.Indirect},
		{pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR, 99, sensor.KindNotTold},
	} {
		if got := monitoring(&pb.Vehicle{VehicleClass: c.class, Tpms: c.tpms}); got != c.want {
			t.Errorf("%v, %v: %d", c.class, c.tpms, got)
		}
	}
}

// Work of earlier times comes with its own day or odometer and is none of today.
func TestWorkOfThisVisit(t *testing.T) {
	today, before := &pb.CalendarDate{Year: 2026, Month: 6, Day: 15}, &pb.CalendarDate{Year: 2026, Month: 6, Day: 14}
	in := &pb.Inspection{LocalDate: today, Odometer: miles(1000)}
	for i, c := range []struct {
		done *pb.WorkDone
		want bool
	}{
		{&pb.WorkDone{}, true},
		{&pb.WorkDone{Date: today, Odometer: miles(1000)}, true},
		{&pb.WorkDone{Date: before}, false},
		{&pb.WorkDone{Odometer: miles(900)}, false},
	} {
		in.WorkDone = []*pb.WorkDone{c.done}
		v := Visit(&pb.AssessVisitRequest{Inspection: in})
		if got := len(v.Done) == 1; got != c.want {
			t.Errorf("%d: of this visit %v", i, got)
		}
	}
	if in.Odometer = nil; ofThisVisit(&pb.WorkDone{Odometer: miles(900)}, in) {
		t.Error("at an odometer that this visit does not know")
	}
}

// The last time that a wheel was off counts, whatever the order of the visits,
// and the checks since then.
func TestLastTimeOff(t *testing.T) {
	wheel := func(off, check bool) []*pb.WheelReport {
		w := &pb.WheelReport{Position: "1L"}
		if off {
			w.FastenerWork = &pb.FastenerWork{}
		}
		if check {
			w.TorqueRecheck = &pb.TorqueRecheck{DoneBy: "invented"}
		}
		return []*pb.WheelReport{w}
	}
	off := &pb.Inspection{Odometer: miles(1000), Wheels: wheel(true, true)}
	checked := &pb.Inspection{Odometer: miles(1070), Wheels: wheel(false, true)}
	again := &pb.Inspection{Odometer: miles(1500), WorkDone: []*pb.WorkDone{{Kind: pb.WorkKind_WORK_KIND_WHEELS_OFF, Positions: []string{"1L"}}}}
	other := &pb.Inspection{Odometer: miles(1600), WorkDone: []*pb.WorkDone{{Kind: pb.WorkKind_WORK_KIND_WHEELS_OFF, Positions: []string{"1R"}}}}
	for _, c := range []struct {
		name   string
		early  []*pb.Inspection
		ago    float64
		checks int
		after  float64
	}{
		{"off and checked", []*pb.Inspection{off, checked}, 1000, 1, 70},
		{"told the other way round", []*pb.Inspection{checked, off}, 1000, 1, 70},
		{"off again", []*pb.Inspection{off, checked, again}, 500, 0, 0},
		{"off again, told first", []*pb.Inspection{again, other, off, checked}, 500, 0, 0},
		{"a check at the visit itself was of the torque before", []*pb.Inspection{off}, 1000, 0, 0},
	} {
		req := &pb.AssessVisitRequest{Earlier: c.early, Inspection: &pb.Inspection{Odometer: miles(2000), Wheels: []*pb.WheelReport{{Position: "1L"}}}}
		w := Visit(req).Wheels[0]
		if w.OffBefore == nil || *w.OffBefore.Ago != unit.MustDistance(c.ago, unit.Miles) || len(w.TorqueChecks) != c.checks {
			t.Errorf("%s: %+v, %v", c.name, w.OffBefore, w.TorqueChecks)
			continue
		}
		if c.checks > 0 && math.Abs(w.TorqueChecks[0].After.In(unit.Miles)-c.after) > 1e-6 {
			t.Errorf("%s: checked after %v", c.name, *w.TorqueChecks[0].After)
		}
	}
}
