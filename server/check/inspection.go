package check

import (
	"fmt"
	"strings"

	"google.golang.org/protobuf/reflect/protoreflect"

	gaugebookv1 "gaugebook.dev/proto/gaugebook/v1"
)

func (w walker) inspection(v *gaugebookv1.Inspection) {
	if !w.past && len(v.GetWheels()) == 0 && v.GetSpare() == nil && len(v.GetWorkDone()) == 0 &&
		v.GetChangeover() == nil && len(v.GetAxleWeights()) == 0 {
		w.add("", "there is nothing to judge", "wheels, the spare or work done")
	}
	w.fits(func(w walker) {
		if id := w.vehicle.GetId(); id != "" && v.GetVehicleId() != "" && v.GetVehicleId() != id {
			w.to("vehicle_id").add(quote(v.GetVehicleId()), "not the vehicle that is given", quote(id))
		}
	})
	if c := v.GetCorrects().GetInspectionId(); c != "" && c == v.GetId() {
		w.to("corrects").to("inspection_id").add(quote(c), "a visit does not correct itself", "the id of the visit that was wrong")
	}
	w.wheels(v.GetWheels())
	w.gauges(v.GetGauges())
	repeated(v.GetAxleWeights(), axleOf, func(i, first int) {
		w.entry("axle_weights", i).to("axle").add(fmt.Sprint(v.GetAxleWeights()[i].GetAxle()), fmt.Sprintf("weighed twice: axleWeights[%d] is this axle too", first), "")
	})
}

// weighing is what tells two weighings of a visit apart.
type weighing struct {
	axle  int32
	phase gaugebookv1.Phase
}

func axleOf(a *gaugebookv1.AxleWeight) (weighing, bool) { return weighing{a.GetAxle(), phase(a)}, true }

// wheels checks what the wheels of a visit say together.
func (w walker) wheels(wheels []*gaugebookv1.WheelReport) {
	if n := len(wheels); n > maxWheels {
		w.to("wheels").add(fmt.Sprintf("%d wheels", n), fmt.Sprintf("at most %d wheels", maxWheels), "")
	}
	readings := 0
	var positions, tires []string
	for _, r := range wheels {
		readings += len(r.GetTread()) + len(r.GetPressures())
		positions = append(positions, r.GetPosition())
		tires = append(tires, r.GetTireId())
	}
	if readings > maxReadings {
		w.to("wheels").add(fmt.Sprintf("%d readings", readings), fmt.Sprintf("at most %d readings of tread and pressure", maxReadings), "")
	}
	w.once("wheels", "position", positions)
	w.once("wheels", "tire_id", tires)
}

// gauges: a reading names its gauge by kind, so a visit has one of a kind;
// where no kind is told, one for each thing that is measured.
func (w walker) gauges(gauges []*gaugebookv1.Gauge) {
	type kind struct {
		kind gaugebookv1.GaugeKind
		of   string
	}
	repeated(gauges, func(g *gaugebookv1.Gauge) (kind, bool) {
		if g.GetKind() != gaugebookv1.GaugeKind_GAUGE_KIND_UNSPECIFIED {
			return kind{kind: g.GetKind()}, true
		}
		of := string(oneof(g, "resolution"))
		return kind{of: of}, of != ""
	}, func(i, first int) {
		w.entry("gauges", i).add(gauges[i].GetKind().String(), fmt.Sprintf("gauges[%d] is of this kind too", first), "one gauge of a kind")
	})
}

func (w walker) correction(c *gaugebookv1.Correction) {
	w.required(c.GetInspectionId() != "", "inspection_id", "the id of the visit that was wrong")
	w.required(strings.TrimSpace(c.GetReason()) != "", "reason", "what was wrong with it")
}

func (w walker) complaint(c *gaugebookv1.Complaint) {
	from, ok := size(c.GetSpeedFrom())
	to, known := size(c.GetSpeedTo())
	if ok && known && from > to+slack(to) {
		w.to("speed_to").add(shown(c.GetSpeedTo()), "the highest speed is below the lowest, "+shown(c.GetSpeedFrom()), "")
	}
	if d := c.GetAiredEvery(); d != nil && d.AsDuration() == 0 {
		w.to("aired_every").add("0 s", "time between airings is above zero", "")
	}
}

func (w walker) axleWeight(a *gaugebookv1.AxleWeight) {
	w.required(a.GetWeight() != nil, "weight", "what the scale showed")
	w.fits(func(w walker) {
		if n := len(w.layout().Axles); n > 0 && int(a.GetAxle()) > n {
			w.to("axle").add(fmt.Sprint(a.GetAxle()), fmt.Sprintf("the vehicle has %d axles", n), "")
		}
	})
}

func (w walker) wheel(r *gaugebookv1.WheelReport) {
	w.required(r.GetPosition() != "", "position", positionForm)
	w.fits(func(w walker) {
		if kind := w.vehicle.GetSpare().GetKind(); r.GetPosition() == "S" && !w.past && noSpare[kind] {
			w.to("position").add(`"S"`, "the vehicle has no spare: "+kind.String(), "another kind of spare, or no report of it")
		}
	})
	w.treadPlaces(r.GetTread())
	repeated(r.GetPressures(), func(p *gaugebookv1.PressureReading) (reading, bool) {
		return reading{phase: phase(p), repeat: p.GetRepeat()}, true
	}, func(i, first int) {
		p := r.GetPressures()[i]
		w.entry("pressures", i).add(reading{phase: phase(p), repeat: p.GetRepeat()}.String(),
			fmt.Sprintf("read twice: pressures[%d] is the same phase and repeat", first), secondReading)
	})
	repeated(r.GetMarks(), phased[*gaugebookv1.MountingMarks], func(i, first int) {
		w.entry("marks", i).add(phaseName(phase(r.GetMarks()[i])), fmt.Sprintf("marks[%d] is of this phase too", first), "")
	})
	repeated(r.GetSensorReadings(), phased[*gaugebookv1.SensorReading], func(i, first int) {
		w.entry("sensor_readings", i).add(phaseName(phase(r.GetSensorReadings()[i])), fmt.Sprintf("sensorReadings[%d] is of this phase too", first), "")
	})
	w.lookedAt(r.GetLooked())
}

// noSpare are the kinds of spare that are none.
var noSpare = map[gaugebookv1.SpareKind]bool{
	gaugebookv1.SpareKind_SPARE_KIND_NONE:                 true,
	gaugebookv1.SpareKind_SPARE_KIND_NONE_SEALANT_KIT:     true,
	gaugebookv1.SpareKind_SPARE_KIND_NONE_SELF_SUPPORTING: true,
}

const secondReading = "a repeat number for a second reading"

// reading is what tells two readings of one tire apart.
type reading struct {
	place   string // across the tread; "" for a pressure
	station int32
	phase   gaugebookv1.Phase
	repeat  int32
}

func (r reading) String() string {
	s := fmt.Sprintf("%s, repeat %d", phaseName(r.phase), r.repeat)
	if r.place != "" {
		s = fmt.Sprintf("%s, station %d, %s", r.place, r.station, s)
	}
	return s
}

// readingOf tells a reading apart from others; ok is false when its place was
// not told: then two readings may be of two spots.
func readingOf(t *gaugebookv1.TreadReading) (reading, bool) {
	p := t.GetPlace()
	r := reading{station: p.GetStation(), phase: phase(t), repeat: t.GetRepeat()}
	switch acrossBy(p) {
	case "across":
		r.place = p.GetAcross().String()
	case "groove":
		r.place = fmt.Sprintf("groove %d", p.GetGroove())
	}
	return r, r.place != ""
}

// phase is that of a reading; one that is not told is taken as found.
func phase(m interface{ GetPhase() gaugebookv1.Phase }) gaugebookv1.Phase {
	if p := m.GetPhase(); p != gaugebookv1.Phase_PHASE_UNSPECIFIED {
		return p
	}
	return gaugebookv1.Phase_PHASE_AS_FOUND
}

func phased[M interface{ GetPhase() gaugebookv1.Phase }](m M) (gaugebookv1.Phase, bool) {
	return phase(m), true
}

func phaseName(p gaugebookv1.Phase) string {
	switch p {
	case gaugebookv1.Phase_PHASE_AS_FOUND:
		return "as found"
	case gaugebookv1.Phase_PHASE_AS_LEFT:
		return "as left"
	}
	return "phase " + p.String()
}

// treadPlaces checks the places of a tire's depths: named in one way, and each
// spot read once.
func (w walker) treadPlaces(tread []*gaugebookv1.TreadReading) {
	var named protoreflect.Name
	for i, t := range tread {
		way := acrossBy(t.GetPlace())
		if named == "" || way == "" {
			named += way
		} else if way != named {
			w.entry("tread", i).to("place").to(way).add("", "places across and groove numbers are mixed on one tire", "only "+string(named)+", as in the first reading")
			break
		}
	}
	repeated(tread, readingOf, func(i, first int) {
		r, _ := readingOf(tread[i])
		w.entry("tread", i).add(r.String(), fmt.Sprintf("read twice: tread[%d] is the same spot, phase and repeat", first), secondReading)
	})
}

func (w walker) treadReading(t *gaugebookv1.TreadReading) {
	w.required(t.GetDepth() != nil, "depth", "a depth; leave the reading out when none was taken")
	w.takenWith(t.GetGauge(), "depth")
	w.placeTells(t.GetPlace(), "across", "groove", "station", "from_center_line")
}

func (w walker) highLowPair(p *gaugebookv1.HighLowPair) {
	w.required(p.GetHigh() != nil, "high", "the deeper reading")
	w.required(p.GetLow() != nil, "low", "the shallower reading")
	w.placeTells(p.GetPlace(), "across", "groove")
	high, ok := size(p.GetHigh())
	low, known := size(p.GetLow())
	if ok && known && low > high {
		w.to("low").add(shown(p.GetLow()), "the shallower reading is deeper than the other, "+shown(p.GetHigh()), "the two the other way round")
	}
}

func (w walker) pressureReading(p *gaugebookv1.PressureReading) {
	w.required(p.GetPressure() != nil, "pressure", "a pressure; leave the reading out when none was taken")
	w.takenWith(p.GetGauge(), "pressure")
}

// looked: a place was seen, or it was not and there is a reason. Silence is
// neither.
func (w walker) looked(l *gaugebookv1.Looked) {
	const neither = "neither seen nor told why not"
	want := "seen: true, or notBecause with the reason"
	switch was := l.GetLooked().(type) {
	case nil:
		w.add("", neither, want)
	case *gaugebookv1.Looked_Seen:
		if !was.Seen {
			w.to("seen").add("false", neither, want)
		}
	case *gaugebookv1.Looked_NotBecause:
		if was.NotBecause == gaugebookv1.NotLookedReason_NOT_LOOKED_REASON_UNSPECIFIED {
			w.to("not_because").add(was.NotBecause.String(), neither, want)
		}
	}
}

// lookedAt: a place was looked at or it was not.
func (w walker) lookedAt(looked []*gaugebookv1.Looked) {
	type answer struct {
		was   bool
		first int
	}
	answers := map[gaugebookv1.LookedAt]answer{}
	for i, l := range looked {
		was := l.GetSeen()
		a, seen := answers[l.GetWhat()]
		switch {
		case l.GetWhat() == gaugebookv1.LookedAt_LOOKED_AT_UNSPECIFIED:
		case !seen:
			answers[l.GetWhat()] = answer{was, i}
		case a.was != was:
			w.entry("looked", i).add(l.GetWhat().String(), fmt.Sprintf("both looked at and not: looked[%d] says otherwise", a.first), "one of the two")
		}
	}
}

func (w walker) fastenerWork(f *gaugebookv1.FastenerWork) {
	if f == nil || f.Counted == nil {
		return
	}
	of := fmt.Sprintf("more than the %d that were counted", f.GetCounted())
	if f.GetDamaged() > f.GetCounted() {
		w.to("damaged").add(fmt.Sprint(f.GetDamaged()), of, "")
	}
	if f.GetReplaced() > f.GetCounted() {
		w.to("replaced").add(fmt.Sprint(f.GetReplaced()), of, "")
	}
}
