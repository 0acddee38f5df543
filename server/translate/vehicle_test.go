package translate

import (
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
