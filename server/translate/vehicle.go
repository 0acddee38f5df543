package translate

import (
	"slices"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/past"
	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/sensor"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// vehicleRecords fills in what a visit records beside tread and pressure: monitoring,
// fasteners, spare, complaints, and the work done.
func vehicleRecords(req *pb.AssessVisitRequest, r record, v *visit.Visit) {
	in := req.GetInspection()
	c, f := in.GetConditions(), req.GetVehicle().GetFasteners()
	v.Monitoring = monitoring(req.GetVehicle())
	v.LampLeft, v.Reset = lamp(c.GetLampAsLeft()), resets[c.GetSensorsAsLeft()]
	v.EachWheel, v.LockingKey = int(f.GetEachWheel()), answers[f.GetLocking()]
	v.SpareReport = spareReport(in.GetSpare())
	for _, m := range c.GetComplaints() {
		if !inWordsOnly(m) {
			v.Complaints = append(v.Complaints, complaint(m))
		}
	}
	for _, d := range r.Done() {
		v.Done = append(v.Done, visit.Done{Kind: d.Kind, At: d.At, Result: d.InRange})
	}
}

// monitoring: nobody assumes that a trailer watches its pressures.
func monitoring(v *pb.Vehicle) sensor.Kind {
	kind := map[pb.TpmsKind]sensor.Kind{
		pb.TpmsKind_TPMS_KIND_NONE: sensor.None, pb.TpmsKind_TPMS_KIND_DIRECT: sensor.Direct,
		pb.TpmsKind_TPMS_KIND_INDIRECT: sensor.Indirect, pb.TpmsKind_TPMS_KIND_UNKNOWN: sensor.KindNotKnown,
	}[v.GetTpms()]
	if kind == sensor.KindNotTold && v.GetVehicleClass() == pb.VehicleClass_VEHICLE_CLASS_TRAILER {
		return sensor.None
	}
	return kind
}

var resets = map[pb.SensorReset]visit.Reset{
	pb.SensorReset_SENSOR_RESET_RELEARNED: visit.Relearned, pb.SensorReset_SENSOR_RESET_RESET: visit.ResetOnly,
	pb.SensorReset_SENSOR_RESET_NOT_NEEDED: visit.ResetNotNeeded, pb.SensorReset_SENSOR_RESET_NOT_DONE: visit.ResetNotDone,
}

// sensed fills in what the sensor of a wheel says beside a gauge. Its temperature
// is that of the air in the tire, where the reading told none.
func sensed(m *pb.WheelReport, gauges []*pb.Gauge, w *visit.Wheel) {
	found, left := pressures(handRead(m.GetPressures(), gauges), gauges)
	w.Sensed.Hand, w.SensedLeft.Hand = found, left
	for _, s := range m.GetSensorReadings() {
		into, reading := &w.Sensed, &w.Pressure
		if s.GetPhase() == pb.Phase_PHASE_AS_LEFT {
			into, reading = &w.SensedLeft, &w.PressureLeft
		}
		into.Sensor = sensorReading(s, gauges)
		if t, _, ok := of(unit.TemperatureOf, s.GetTemperature()); ok && reading.Read != unit.None && reading.Source == inflation.NoTemperature {
			reading.Temperature, reading.Source = t, inflation.Sensor
		}
	}
}

func sensorReading(m *pb.SensorReading, gauges []*pb.Gauge) *sensor.Reading {
	r := &sensor.Reading{Answering: answers[m.GetAnswering()], BatteryLow: m.GetBattery() == pb.SensorBattery_SENSOR_BATTERY_LOW}
	if p, u, ok := of(unit.PressureOf, m.GetPressure()); ok {
		r.Pressure, r.In = measure.Value[unit.Pressure]{Of: p, Std: sensorGauge(gauges).Std()}, u
	}
	if p, err := layout.Parse(m.GetShownPosition()); err == nil {
		r.ShownAt = p
	}
	return r
}

// sensorGauge is the sensor as a gauge: as told of the tool that reads it, and of
// no other gauge.
func sensorGauge(gauges []*pb.Gauge) measure.Gauge[unit.Pressure] {
	var tool []*pb.Gauge
	for _, g := range gauges {
		if g.GetKind() == pb.GaugeKind_GAUGE_KIND_TPMS_TOOL {
			tool = append(tool, g)
		}
	}
	return pressureGauge(pb.GaugeKind_GAUGE_KIND_TPMS_TOOL, tool)
}

// handRead leaves out readings that were taken by the sensor itself: it always
// agrees with itself.
func handRead(ms []*pb.PressureReading, gauges []*pb.Gauge) (out []*pb.PressureReading) {
	only := pb.GaugeKind_GAUGE_KIND_UNSPECIFIED
	if i := slices.IndexFunc(gauges, func(g *pb.Gauge) bool { return g.GetPressure() != nil }); i >= 0 {
		only = gauges[i].GetKind()
	}
	for _, m := range ms {
		kind := m.GetGauge()
		if kind == pb.GaugeKind_GAUGE_KIND_UNSPECIFIED {
			kind = only
		}
		if kind != pb.GaugeKind_GAUGE_KIND_TPMS_TOOL {
			out = append(out, m)
		}
	}
	return out
}

func spare(m *pb.Spare) visit.Spare {
	s := visit.Spare{KitLast: Date(m.GetKitExpiresDate())}
	switch m.GetKind() {
	case pb.SpareKind_SPARE_KIND_FULL_SIZE_MATCHING:
		s.Fitted, s.FullSize, s.Matching = true, true, true
	case pb.SpareKind_SPARE_KIND_FULL_SIZE_OTHER:
		s.Fitted, s.FullSize = true, true
	case pb.SpareKind_SPARE_KIND_COMPACT, pb.SpareKind_SPARE_KIND_COLLAPSIBLE:
		s.Fitted = true
	case pb.SpareKind_SPARE_KIND_NONE_SEALANT_KIT:
		s.Kit = true
	}
	s.Label, s.LabelUnit, _ = of(unit.PressureOf, m.GetColdPressure())
	s.Speed, _ = Amount(m.GetSpeedLimit())
	s.Distance, _ = Amount(m.GetDistanceLimit())
	s.AllowsTwo, s.AllowsTowing = answers[m.GetHandbookAllowsTwo()], answers[m.GetHandbookAllowsTowing()]
	return s
}

func spareReport(m *pb.SpareReport) *visit.SpareReport {
	if m == nil {
		return nil
	}
	r := &visit.SpareReport{
		Reachable: answers[m.GetReachable()], Hoist: answers[m.GetHoistWorks()], Jack: answers[m.GetJackPresent()],
		Key: answers[m.GetKeyPresent()], Kit: answers[m.GetKitPresent()],
	}
	if p, err := layout.Parse(m.GetInServicePosition()); err == nil {
		r.InService = p
	}
	return r
}

// inWordsOnly tells of a complaint that has no kind known here: only a person can
// read it.
func inWordsOnly(m *pb.Complaint) bool {
	_, known := pb.ComplaintKind_name[int32(m.GetKind())]
	return !known || m.GetKind() == pb.ComplaintKind_COMPLAINT_KIND_UNSPECIFIED || m.GetKind() == pb.ComplaintKind_COMPLAINT_KIND_OTHER
}

func complaint(m *pb.Complaint) visit.Complaint {
	c := visit.Complaint{Kind: complaintKinds.code(m.GetKind()), Sealant: sealant(m.GetSealant())}
	c.At, _ = layout.Parse(m.GetPosition()) // empty: not told
	c.From, _ = Amount(m.GetSpeedFrom())
	switch m.GetFeltAt() {
	case pb.FeltAt_FELT_AT_STEERING_WHEEL, pb.FeltAt_FELT_AT_FRONT:
		c.Front = true
	case pb.FeltAt_FELT_AT_SEAT, pb.FeltAt_FELT_AT_REAR:
		c.Rear = true
	}
	if every := m.GetAiredEvery(); every != nil {
		c.AiredOften = questions.AiredOften(every.AsDuration())
	}
	return c
}

// sealant: one that a newer client knows is taken as one that burns.
func sealant(s pb.Sealant) visit.Sealant {
	switch s {
	case pb.Sealant_SEALANT_UNSPECIFIED:
		return visit.SealantNotAsked
	case pb.Sealant_SEALANT_NOT_FLAMMABLE:
		return visit.SealantBurnsNot
	}
	return visit.SealantMayBurn
}

// DoneAt is the work that was done at a visit itself.
func DoneAt(in *pb.Inspection) []visit.Done {
	var out []visit.Done
	today := past.Visit{Odometer: meters(in.GetOdometer()), Day: Date(in.GetLocalDate())}
	for _, w := range pastWork(in.GetWorkDone()) {
		if today.Did(w) {
			out = append(out, visit.Done{Kind: w.Kind, At: w.At, Result: w.InRange})
		}
	}
	return out
}
