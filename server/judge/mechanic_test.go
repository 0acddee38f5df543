package judge_test

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
)

// mechanic carries out an order of work as it reads, and writes down what it asks for
// as left. It knows codes and the contract, and nothing of what closes what.
type mechanic struct {
	req  *pb.AssessVisitRequest
	skip string // a fact that is not written down: see piece
	did  map[string]bool
	fine bool // depths were read by a finer gauge

	better map[string]bool // wheels whose pressure was read by a better gauge

	found  []*pb.Finding          // what was judged last
	before *pb.AssessVisitRequest // its work
}

// piece tells whether a fact of a wheel is written down.
func (m *mechanic) piece(at, what string) bool {
	name := what + ":" + at
	m.did[name] = true
	return name != m.skip
}

func (m *mechanic) wheel(at string) *pb.WheelReport {
	in := m.req.GetInspection()
	for _, w := range in.GetWheels() {
		if w.GetPosition() == at {
			return w
		}
	}
	w := &pb.WheelReport{Position: at}
	in.Wheels = append(in.Wheels, w)
	return w
}

func (m *mechanic) done(kind pb.WorkKind, at ...string) {
	if !m.piece(strings.Join(at, ","), kind.String()) {
		return
	}
	in := m.req.GetInspection()
	in.WorkDone = append(in.WorkDone, &pb.WorkDone{Kind: kind, Positions: at, InRange: yes, DoneBy: "invented"})
}

const (
	yes = pb.Answer_ANSWER_YES
	no  = pb.Answer_ANSWER_NO
)

func (m *mechanic) conditions() *pb.Conditions {
	in := m.req.GetInspection()
	if in.Conditions == nil {
		in.Conditions = &pb.Conditions{}
	}
	return in.Conditions
}

func (m *mechanic) see(w *pb.WheelReport, places ...pb.LookedAt) {
	for _, place := range places {
		w.Looked = slices.DeleteFunc(w.Looked, func(l *pb.Looked) bool { return l.GetWhat() == place })
		w.Looked = append(w.Looked, &pb.Looked{What: place, Looked: &pb.Looked_Seen{Seen: true}})
	}
}

func (m *mechanic) air(w *pb.WheelReport, p *pb.Pressure) {
	if p == nil || !m.piece(w.GetPosition(), "pressure as left") {
		return
	}
	w.Pressures = slices.DeleteFunc(w.Pressures, func(r *pb.PressureReading) bool { return r.GetPhase() == pb.Phase_PHASE_AS_LEFT })
	w.Pressures = append(w.Pressures, &pb.PressureReading{Phase: pb.Phase_PHASE_AS_LEFT, Pressure: p, Gauge: m.ownGauge()})
}

// ownGauge is one that the visit says nothing worse of.
func (m *mechanic) ownGauge() pb.GaugeKind {
	told := func(k pb.GaugeKind) bool {
		return slices.ContainsFunc(m.req.GetInspection().GetGauges(), func(g *pb.Gauge) bool { return g.GetKind() == k || g.GetKind() == 0 })
	}
	if told(pb.GaugeKind_GAUGE_KIND_DIGITAL) && !told(pb.GaugeKind_GAUGE_KIND_DIAL) {
		return pb.GaugeKind_GAUGE_KIND_DIAL
	}
	return pb.GaugeKind_GAUGE_KIND_DIGITAL
}

func (m *mechanic) fasten(w *pb.WheelReport, torque *pb.Torque) {
	if !m.piece(w.GetPosition(), "torque") {
		return
	}
	if torque == nil {
		torque = &pb.Torque{AsRead: &pb.Torque_PoundFeet{PoundFeet: 100}}
	}
	n := int32(5)
	if each := m.req.GetVehicle().GetFasteners().GetEachWheel(); each > 0 {
		n = each
	}
	w.FastenerWork = &pb.FastenerWork{Counted: new(n), Damaged: new(int32(0)), Replaced: new(n), FacesCleaned: yes, Torque: torque,
		Tool: pb.TorqueTool_TORQUE_TOOL_HAND_TORQUE_WRENCH, Pattern: pb.TorquePattern_TORQUE_PATTERN_STAR, Staged: yes, DoneBy: "invented"}
	w.TorqueRecheck = nil
}

func (m *mechanic) inside(w *pb.WheelReport) {
	if m.piece(w.GetPosition(), "inside") {
		w.Inside = &pb.InsideSeen{LinerRing: no, RubberDust: no, Wrinkles: no, LinerDamage: no, BadRepair: no, DoneBy: "invented"}
	}
}

func (m *mechanic) fit(w *pb.WheelReport) {
	if m.piece(w.GetPosition(), "tire fitted") {
		w.Fitted = &pb.TireFitted{Sidewall: &pb.Sidewall{Identification: "DOT 1AB CDEF 0126", Marking: "P215/60R16 94T"}, DoneBy: "invented"}
	}
}

// line carries out one line at one wheel.
func (m *mechanic) line(l *pb.WorkItem, at string) {
	w := m.wheel(at)
	switch l.GetCode() {
	case "air.set", "air.match-mates", "air.set-for-size", "air.lower-cold", "rotation.set-pressures":
		m.air(w, l.GetTarget().GetPressure())
	case "tire.replace", "tires.fit-right", "tires.replace-pair", "tires.fit-winter", "tire.replace-if-below", "repair.refer-section", "tires.match-set", "dual.match", "spare.put-back":
		m.fit(w)
	case "tires.match-axle":
		m.fitAlike(w)
	case "tire.look-all-round", "fasteners.look":
		if m.piece(at, "seen") {
			m.see(w, pb.LookedAt_LOOKED_AT_TREAD_FULL_TURN, pb.LookedAt_LOOKED_AT_OUTER_SIDEWALL, pb.LookedAt_LOOKED_AT_INNER_SIDEWALL,
				pb.LookedAt_LOOKED_AT_WHEEL_FACE, pb.LookedAt_LOOKED_AT_WHEEL_BARREL, pb.LookedAt_LOOKED_AT_FASTENERS)
		}
	case "air.read-cold":
		m.readCold(w)
	case "load.reduce":
		m.weigh(at)
	case "spare.mend-carrier":
		m.done(pb.WorkKind_WORK_KIND_SPARE_CARRIER_MENDED, at)
	case "speed.label":
		m.done(pb.WorkKind_WORK_KIND_SPEED_LABEL_PLACED, at)
	case "tire.demount-inspect":
		m.inside(w)
		m.see(w, pb.LookedAt_LOOKED_AT_INSIDE_OF_TIRE, pb.LookedAt_LOOKED_AT_INNER_SIDEWALL, pb.LookedAt_LOOKED_AT_OUTER_SIDEWALL)
	case "tire.restraining-device":
		if m.piece(at, "under air") {
			w.UnderAir = &pb.UnderAir{AtTwentyPsi: yes, AtWorkingPressure: yes, RippleOrPopping: no, DoneBy: "invented"}
		}
	case "repair.find-out":
		m.findOut(w)
	case "measure.again":
		m.again(w)
	case "vehicle.hold":
		m.settle(w, l.GetToSettle().GetCode())
	case "repair.after-inspection", "repair.combination", "repair.two-piece":
		method := pb.RepairMethod_REPAIR_METHOD_COMBINATION
		if l.GetCode() == "repair.two-piece" {
			method = pb.RepairMethod_REPAIR_METHOD_TWO_PIECE
		}
		m.repair(w, method)
	case "object.remove-and-soap":
		if m.piece(at, "object out") {
			w.ObjectOut = &pb.ObjectOut{Dry: yes, DryFilled: yes, DoneBy: "invented"}
		}
	case "valve.renew", "air.find-leak":
		m.done(pb.WorkKind_WORK_KIND_VALVE_RENEWED, at)
		w.ValveWork = &pb.ValveWork{Renewed: []pb.ValvePart{pb.ValvePart_VALVE_PART_WHOLE}, ValveNow: &pb.Valve{Kind: pb.ValveKind_VALVE_KIND_CLAMP_IN, Rating: &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: 200}}}}
	case "wheel.replace":
		m.done(pb.WorkKind_WORK_KIND_WHEEL_REPLACED, at)
	case "wheel.clean-bead-seat":
		m.done(pb.WorkKind_WORK_KIND_BEAD_SEAT_CLEANED, at)
	case "tire.look-closely":
		m.done(pb.WorkKind_WORK_KIND_PROBED, at)
	case "refer.steering-suspension":
		m.done(pb.WorkKind_WORK_KIND_STEERING_PART_RENEWED, at)
		m.done(pb.WorkKind_WORK_KIND_SUSPENSION_PART_RENEWED, at)
	case "refer.brakes-hub":
		m.done(pb.WorkKind_WORK_KIND_BEARING_WORK, at)
		m.done(pb.WorkKind_WORK_KIND_BRAKE_WORK, at)
	default:
		m.lookOrFasten(l, w, at)
	}
}

// lookOrFasten carries out the lines at a wheel that mend no tire.
func (m *mechanic) lookOrFasten(l *pb.WorkItem, w *pb.WheelReport, at string) {
	switch l.GetCode() {
	case "wheel.torque", "fasteners.put-right", "wheel.mating-faces":
		if at != "S" || l.GetCode() == "fasteners.put-right" {
			m.fasten(w, l.GetTarget().GetTorque())
		}
	case "wheel.torque-check":
		w.TorqueRecheck = &pb.TorqueRecheck{Torque: l.GetTarget().GetTorque(), Odometer: m.req.GetInspection().GetOdometer(), WheelCool: yes, AnyMoved: no, DoneBy: "invented",
			Towed: &pb.Distance{AsRead: &pb.Distance_Miles{Miles: 60}}}
		if w.TorqueRecheck.Torque == nil {
			w.TorqueRecheck.Torque = &pb.Torque{AsRead: &pb.Torque_PoundFeet{PoundFeet: 100}}
		}
	case "tire.remount", "wheels.swap-sides":
		w.Marks = slices.DeleteFunc(w.Marks, func(k *pb.MountingMarks) bool { return k.GetPhase() == pb.Phase_PHASE_AS_LEFT })
		if m.piece(at, "marks as left") {
			w.Marks = append(w.Marks, &pb.MountingMarks{Phase: pb.Phase_PHASE_AS_LEFT, Arrow: pb.DirectionArrow_DIRECTION_ARROW_AGREES, OutsideMark: pb.MarkFaces_MARK_FACES_OUT})
		}
	case "measure.to-settle":
		m.settle(w, l.GetToSettle().GetCode())
	case "air.compare-mate":
		m.same(w)
	case "wheel.take-off":
		m.done(pb.WorkKind_WORK_KIND_WHEELS_OFF, at)
	case "sensor.check", "sensor.renew":
		m.learned(w)
	}
}

// repair repairs a hole from inside.
func (m *mechanic) repair(w *pb.WheelReport, method pb.RepairMethod) {
	m.inside(w)
	if m.piece(w.GetPosition(), "repair") {
		w.RepairMade = &pb.RepairMade{Cutter: &pb.Length{AsRead: &pb.Length_Inches{Inches: 0.125}}, Method: method, SoapedDry: yes, DoneBy: "invented"}
	}
}

// findOut finds out what a hole still waits for. Where one of the rules that may apply
// forbids its repair, nobody repairs it: another tire is fitted.
func (m *mechanic) findOut(w *pb.WheelReport) {
	forbidden := slices.ContainsFunc(m.found, func(f *pb.Finding) bool {
		return slices.Contains(f.GetPositions(), w.GetPosition()) && (f.GetCode() == "puncture.not-repairable" || f.GetCode() == "puncture.not-as-nail-hole")
	})
	if forbidden {
		m.fit(w)
		return
	}
	m.repair(w, pb.RepairMethod_REPAIR_METHOD_COMBINATION)
}

// settle makes the look or the reading that ends a doubt.
func (m *mechanic) settle(w *pb.WheelReport, by string) {
	switch by {
	case "settle.second-gauge":
		m.agree(w)
	case "settle.probe-cut":
		m.done(pb.WorkKind_WORK_KIND_PROBED, w.GetPosition())
	case "settle.flat-or-air":
		m.strike(w, pb.ObservationKind_OBSERVATION_KIND_FLAT)
	case "settle.bars-or-tread":
		m.strike(w, pb.ObservationKind_OBSERVATION_KIND_AT_WEAR_BARS)
	case "puncture.need.maker-policy": // the maker forbids it
		m.fit(w)
	case "puncture.need.holds-air":
		for _, o := range w.GetObservations() {
			if o.GetInjury() != nil {
				o.Injury.HoldsAir = pb.Answer_ANSWER_YES
			}
		}
	case "settle.pressure-unit":
		for _, r := range w.GetPressures() {
			r.Pressure = m.label(w.GetPosition())
		}
	case "settle.label-again":
		a := m.req.GetVehicle().GetAxles().GetAxles()[w.GetPosition()[0]-'1']
		a.ColdNormalLoad, a.ColdFullLoad = &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: 60}}, nil
	case "settle.depth-unit":
		for _, r := range w.GetTread() {
			r.Depth = &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: 7}}
		}
	case "settle.with-gauge":
		for _, r := range w.GetPressures() {
			r.Gauge = pb.GaugeKind_GAUGE_KIND_DIGITAL
		}
	case "settle.same-tire":
		w.Sidewall.Identification = "DOT 1AB CDEF 0126"
	case "inflation.read-cold":
		m.readCold(w)
	case "inflation.read-all-wheels":
		if len(w.GetPressures()) == 0 {
			w.Pressures = []*pb.PressureReading{{Pressure: m.label(w.GetPosition()), Gauge: pb.GaugeKind_GAUGE_KIND_DIGITAL}}
		}
	case "inflation.label-or-sidewall":
		sidewallOf(w).MaximumPressure = m.label(w.GetPosition())
	case "inflation.read-better-gauge":
		m.betterGauge(w)
	case "inflation.read-body-ply":
		sidewallOf(w).BodyPly = pb.BodyPly_BODY_PLY_FABRIC
	case "settle.trigger-each-sensor":
		m.learned(w)
	case "settle.two-grooves-three-places", "settle.two-grooves-two-places", "settle.center-three-places", "settle.two-adjacent-grooves", "settle.four-points", "settle.band-of-three-quarters":
		m.everywhere(w)
	case "settle.finer-gauge":
		m.finerGauge()
	case "load.read-mark":
		w.Sidewall.LoadRange = "XL"
	case "load.read-table":
		m.weigh(w.GetPosition())
	case "load.read-maximum":
		if sidewallOf(w).GetMarking() == "" {
			w.Sidewall.Marking = "11R22.5 144/142L"
		}
	}
}

// sidewallOf is the sidewall of a wheel, to be read.
func sidewallOf(w *pb.WheelReport) *pb.Sidewall {
	if w.GetSidewall() == nil {
		w.Sidewall = &pb.Sidewall{}
	}
	return w.GetSidewall()
}

// readCold reads a tire when it is cold: a little less than warm.
func (m *mechanic) readCold(w *pb.WheelReport) {
	const less, fine = 0.9, 10
	for _, r := range w.GetPressures() {
		if r.GetSource() == pb.TemperatureSource_TEMPERATURE_SOURCE_AIR_AROUND {
			return
		}
	}
	for _, r := range w.GetPressures() {
		if r.GetPhase() != pb.Phase_PHASE_AS_LEFT && m.piece(w.GetPosition(), "cold reading") {
			if c := m.conditions(); c.GetOutside() != nil { // where it stands then
				c.Air, c.Outside = c.GetOutside(), nil
			}
			cold := &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: math.Round(psiOf(r.GetPressure())*less*fine) / fine}}
			w.Pressures = append(w.Pressures, &pb.PressureReading{Phase: pb.Phase_PHASE_AS_FOUND, Repeat: 7, Pressure: cold, Gauge: r.GetGauge(),
				Source: pb.TemperatureSource_TEMPERATURE_SOURCE_AIR_AROUND})
			return
		}
	}
}

func psiOf(p *pb.Pressure) float64 {
	const kilopascals, bars = 6.894757, 0.06894757 // of one psi
	switch p := p.GetAsRead().(type) {
	case *pb.Pressure_Kilopascals:
		return p.Kilopascals / kilopascals
	case *pb.Pressure_Bar:
		return p.Bar / bars
	}
	return p.GetPsi()
}

// label is what the label asks for at a wheel, the most of it.
func (m *mechanic) label(at string) *pb.Pressure {
	if at == "S" {
		return m.req.GetVehicle().GetSpare().GetColdPressure()
	}
	a := m.req.GetVehicle().GetAxles().GetAxles()[at[0]-'1']
	if full := a.GetColdFullLoad(); full != nil && (a.GetColdNormalLoad() == nil || psiOf(full) > psiOf(a.GetColdNormalLoad())) {
		return full
	}
	return a.GetColdNormalLoad()
}

// weigh takes load off the axle of a wheel, and weighs it again.
func (m *mechanic) weigh(at string) {
	in := m.req.GetInspection()
	axle := int32(at[0] - '0')
	again := func(w *pb.AxleWeight) bool {
		return w.GetAxle() == axle && w.GetPhase() == pb.Phase_PHASE_AS_LEFT
	}
	if in.AxleWeights = slices.DeleteFunc(in.AxleWeights, again); m.piece(at[:1]+"L", "weighed") { // an axle as a whole
		in.AxleWeights = append(in.AxleWeights, &pb.AxleWeight{Axle: axle, Weight: &pb.Mass{AsRead: &pb.Mass_Pounds{Pounds: 500}}, Phase: pb.Phase_PHASE_AS_LEFT})
	}
}

// askSealant asks which sealant was used.
func (m *mechanic) askSealant() {
	for _, c := range m.conditions().GetComplaints() {
		if c.GetKind() == pb.ComplaintKind_COMPLAINT_KIND_SEALANT_USED && m.piece("", "sealant") {
			c.Sealant = pb.Sealant_SEALANT_NOT_FLAMMABLE
		}
	}
}

// learned reads a sensor as left, at the place where the vehicle shows it.
func (m *mechanic) learned(w *pb.WheelReport) {
	for _, s := range w.GetSensorReadings() {
		if s.GetPhase() == pb.Phase_PHASE_AS_LEFT && s.GetPressure() != nil {
			s.Answering, s.Battery, s.ShownPosition = yes, pb.SensorBattery_SENSOR_BATTERY_GOOD, w.GetPosition()
			return
		}
	}
	w.SensorReadings = slices.DeleteFunc(w.SensorReadings, func(s *pb.SensorReading) bool { return s.GetPhase() == pb.Phase_PHASE_AS_LEFT })
	w.SensorReadings = append(w.SensorReadings, &pb.SensorReading{Phase: pb.Phase_PHASE_AS_LEFT, Answering: yes, Battery: pb.SensorBattery_SENSOR_BATTERY_GOOD, ShownPosition: w.GetPosition()})
}

// everywhere reads each groove at four stations round the tire, as it reads at the one.
func (m *mechanic) everywhere(w *pb.WheelReport) {
	m.finerGauge()
	const stations = 4
	read := map[string]*pb.TreadReading{}
	var left []*pb.TreadReading
	for _, r := range w.GetTread() {
		key := fmt.Sprint(r.GetPlace().GetAcross(), r.GetPlace().GetGroove())
		switch was := read[key]; {
		case r.GetPhase() == pb.Phase_PHASE_AS_LEFT:
			left = append(left, r)
		case was == nil || readAs(r) < readAs(was):
			read[key] = r
		}
	}
	if len(read) == 1 { // and the one beside it
		for _, r := range read {
			for key, at := range nextGroove(r.GetPlace()) {
				next := proto.CloneOf(r)
				next.Place = at
				read[key] = next
			}
			break
		}
	}
	all := left
	for _, key := range slices.Sorted(maps.Keys(read)) {
		for n := range int32(stations) {
			r := proto.CloneOf(read[key])
			if r.Place == nil {
				r.Place = &pb.Place{}
			}
			r.Place.Station, r.Repeat = n+1, 0
			all = append(all, r)
		}
	}
	w.Tread = all
}

// nextGroove are the grooves of a place where one alone was read, by how everywhere keys them.
func nextGroove(p *pb.Place) map[string]*pb.Place {
	switch {
	case p.GetGroove() > 0:
		return map[string]*pb.Place{"next": {Groove: max(p.GetGroove()-1, 3-p.GetGroove())}}
	case p.GetAcross() == pb.Across_ACROSS_CENTER:
		return map[string]*pb.Place{"next": {Across: pb.Across_ACROSS_INBOARD}}
	case p.GetAcross() != pb.Across_ACROSS_UNSPECIFIED:
		return map[string]*pb.Place{"next": {Across: pb.Across_ACROSS_CENTER}}
	}
	return map[string]*pb.Place{fmt.Sprint(pb.Across_ACROSS_UNSPECIFIED, 0): {Groove: 1}, "next": {Groove: 2}}
}

// fitAlike fits a tire that has as much tread as the other of its axle.
func (m *mechanic) fitAlike(w *pb.WheelReport) {
	m.fit(w)
	at := w.GetPosition()
	mate := m.wheel(at[:1] + map[byte]string{'L': "R", 'R': "L"}[at[1]])
	w.Tread = slices.DeleteFunc(w.Tread, func(r *pb.TreadReading) bool { return r.GetPhase() == pb.Phase_PHASE_AS_LEFT })
	sum, n := 0.0, 0.0
	for _, r := range mate.GetTread() {
		if r.GetPhase() != pb.Phase_PHASE_AS_LEFT {
			sum, n = sum+readAs(r), n+1
		}
	}
	for _, r := range slices.Clone(w.GetTread()) {
		if m.piece(at, "depth as left") {
			like := proto.CloneOf(r)
			like.Phase, like.Depth = pb.Phase_PHASE_AS_LEFT, &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: math.Round(sum / n)}}
			w.Tread = append(w.Tread, like)
		}
	}
}

// betterGauge reads a tire again by a gauge that is good to a tenth of a psi.
func (m *mechanic) betterGauge(w *pb.WheelReport) {
	in := m.req.GetInspection()
	in.Gauges = slices.DeleteFunc(in.Gauges, func(g *pb.Gauge) bool { return g.GetKind() == pb.GaugeKind_GAUGE_KIND_DIGITAL })
	tenth := &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: 0.1}}
	in.Gauges = append(in.Gauges, &pb.Gauge{Kind: pb.GaugeKind_GAUGE_KIND_DIGITAL, Resolution: &pb.Gauge_Pressure{Pressure: tenth},
		Accuracy: &pb.Quantity{Amount: &pb.Quantity_Pressure{Pressure: tenth}}})
	for _, r := range w.GetPressures() {
		if r.GetGauge() != pb.GaugeKind_GAUGE_KIND_TPMS_TOOL {
			r.Gauge = pb.GaugeKind_GAUGE_KIND_DIGITAL
			const more = 0.3 // what it shows beyond the coarse one
			if strings.HasSuffix(w.GetPosition(), "O") && r.GetPhase() != pb.Phase_PHASE_AS_LEFT && !m.better[w.GetPosition()] {
				r.Pressure = &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: math.Round((psiOf(r.GetPressure())+more)*10) / 10}}
			}
		}
	}
	m.better[w.GetPosition()] = true
}

// finerGauge reads all depths again by a gauge that is good to a hundredth of a millimeter.
func (m *mechanic) finerGauge() {
	if m.fine {
		return
	}
	m.fine = true
	in := m.req.GetInspection()
	in.Gauges = slices.DeleteFunc(in.Gauges, func(g *pb.Gauge) bool {
		return g.GetDepth() != nil || g.GetKind() == pb.GaugeKind_GAUGE_KIND_DEPTH_ELECTRONIC
	})
	fine := &pb.Depth{AsRead: &pb.Depth_Millimeters{Millimeters: 0.01}}
	in.Gauges = append(in.Gauges, &pb.Gauge{Kind: pb.GaugeKind_GAUGE_KIND_DEPTH_ELECTRONIC, Resolution: &pb.Gauge_Depth{Depth: fine},
		Accuracy: &pb.Quantity{Amount: &pb.Quantity_Depth{Depth: fine}}, Repeatability: &pb.Quantity{Amount: &pb.Quantity_Depth{Depth: fine}}})
	for _, w := range in.GetWheels() {
		for _, r := range w.GetTread() {
			if r.GetGauge() != 0 {
				r.Gauge = pb.GaugeKind_GAUGE_KIND_DEPTH_ELECTRONIC
			}
			more := 0.1 // what it shows beyond the coarse one, which no limit asks for
			if strings.Contains(w.GetPosition(), "R") {
				more = 0.24
			}
			r.Depth = &pb.Depth{AsRead: &pb.Depth_Millimeters{Millimeters: math.Round((readAs(r)*25.4/32+more)*100) / 100}}
		}
	}
}

// strike takes out what was noted and turned out wrong at a second look.
func (m *mechanic) strike(w *pb.WheelReport, kind pb.ObservationKind) {
	w.Observations = slices.DeleteFunc(w.Observations, func(o *pb.Observation) bool { return o.GetKind() == kind })
}

// again measures every place of the tread again, and finds the lowest that was read
// there: the reading that differed was misread. It ends what else is in doubt there.
func (m *mechanic) again(w *pb.WheelReport) {
	spot := func(r *pb.TreadReading) string {
		return fmt.Sprint(r.GetPhase() == pb.Phase_PHASE_AS_LEFT, r.GetPlace().GetAcross(), r.GetPlace().GetGroove(), r.GetPlace().GetStation())
	}
	for _, f := range m.found {
		if slices.Contains(f.GetPositions(), w.GetPosition()) {
			m.settle(w, f.GetToSettle().GetCode())
		}
	}
	lowest := map[string]*pb.TreadReading{}
	for _, r := range w.GetTread() {
		if was := lowest[spot(r)]; was == nil || readAs(r) < readAs(was) {
			lowest[spot(r)] = r
		}
	}
	var all []*pb.TreadReading
	for _, key := range slices.Sorted(maps.Keys(lowest)) {
		for n := range int32(2) {
			r := proto.CloneOf(lowest[key])
			r.Repeat = n
			all = append(all, r)
		}
	}
	w.Tread = all
}

func readAs(r *pb.TreadReading) float64 {
	if mm, ok := r.GetDepth().GetAsRead().(*pb.Depth_Millimeters); ok {
		return mm.Millimeters * 32 / 25.4
	}
	return r.GetDepth().GetThirtySecondsInch()
}

// same writes down what a wheel reads that needed no air.
func (m *mechanic) same(w *pb.WheelReport) {
	for _, r := range w.GetPressures() {
		if r.GetPhase() == pb.Phase_PHASE_AS_LEFT {
			return
		}
	}
	if n := len(w.GetPressures()); n > 0 {
		m.air(w, w.GetPressures()[n-1].GetPressure())
	}
}

// agree reads sensor and gauge as left, with a gauge that is right.
func (m *mechanic) agree(w *pb.WheelReport) {
	var p *pb.Pressure
	for _, r := range w.GetPressures() {
		if r.GetGauge() != pb.GaugeKind_GAUGE_KIND_TPMS_TOOL && (p == nil || r.GetPhase() == pb.Phase_PHASE_AS_LEFT) {
			p = r.GetPressure()
		}
	}
	if p == nil {
		return
	}
	m.air(w, p)
	w.SensorReadings = slices.DeleteFunc(w.SensorReadings, func(s *pb.SensorReading) bool { return s.GetPhase() == pb.Phase_PHASE_AS_LEFT })
	w.SensorReadings = append(w.SensorReadings, &pb.SensorReading{Phase: pb.Phase_PHASE_AS_LEFT, Answering: yes, Pressure: p, ShownPosition: w.GetPosition()})
}

// work carries out all lines. Where a reading or a look changes what is known, no more is
// done before it is judged.
func (m *mechanic) work(a *pb.Assessment) {
	was := proto.CloneOf(m.req)
	for _, l := range a.GetWork() {
		if l.GetStep() == pb.WorkStep_WORK_STEP_AS_FOUND {
			for _, at := range l.GetPositions() {
				m.line(l, at)
			}
		}
	}
	if !proto.Equal(was, m.req) {
		return
	}
	pairs := map[string][]string{}
	for _, l := range a.GetWork() {
		for _, at := range l.GetPositions() {
			m.line(l, at)
		}
		switch l.GetCode() {
		case "wheel.clear-space":
			for _, at := range l.GetPositions() {
				pairs[strings.TrimRight(at, "IO")] = append(pairs[strings.TrimRight(at, "IO")], at)
			}
		case "sensor.relearn", "sensor.reset":
			m.conditions().SensorsAsLeft = pb.SensorReset_SENSOR_RESET_RELEARNED
		case "sealant.ask-first":
			m.askSealant()
		case "lamp.check":
			if m.piece("", "lamp as left") {
				m.conditions().LampAsLeft = pb.Lamp_LAMP_OFF
			}
		case "alignment.check":
			m.done(pb.WorkKind_WORK_KIND_ALIGNMENT_SET, l.GetPositions()...)
		case "road.test":
			m.done(pb.WorkKind_WORK_KIND_ROAD_TEST)
		}
	}
	for _, key := range slices.Sorted(maps.Keys(pairs)) {
		m.done(pb.WorkKind_WORK_KIND_DUALS_CLEARED, pairs[key]...)
	}
}

// answer answers what is asked before any work: what the labels say, and which laws
// bind the vehicle.
func (m *mechanic) answer() {
	for told := true; told; { // an answer may bring the next question
		was := proto.CloneOf(m.req)
		for _, q := range judge.Visit(m.req).GetQuestions() {
			m.tell(q.GetCode())
		}
		told = !proto.Equal(was, m.req)
	}
	for _, a := range m.req.GetVehicle().GetAxles().GetAxles() {
		if a.ColdNormalLoad == nil && a.ColdFullLoad == nil {
			a.ColdNormalLoad = &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: 35}}
		}
	}
	if s := m.req.GetVehicle().GetSpare(); s != nil && s.ColdPressure == nil {
		s.ColdPressure = &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: 60}}
	}
}

// tell answers one question about the use of a vehicle, so that the law that asks binds.
func (m *mechanic) tell(question string) {
	if m.req.GetVehicle().GetUse() == nil {
		m.req.Vehicle.Use = &pb.VehicleUse{}
	}
	use := m.req.GetVehicle().GetUse()
	switch question {
	case "ask.country":
		use.DrivenIn = []*pb.Jurisdiction{{Country: "US", State: "OH"}}
	case "ask.state", "ask.province":
		for _, j := range use.GetDrivenIn() {
			if in := map[string]string{"US": "OH", "CA": "ON", "AU": "WA"}; j.GetState() == "" {
				j.State = in[j.GetCountry()]
			}
		}
	case "ask.business-across-state-lines":
		use.BusinessAcrossStateLines = yes
	case "ask.combined-rating":
		use.CombinedRating = &pb.Mass{AsRead: &pb.Mass_Kilograms{Kilograms: 12000}}
	case "ask.gross-rating", "ask.class-or-rating":
		rating := 3400.0
		if c := m.req.GetVehicle().GetVehicleClass(); c == pb.VehicleClass_VEHICLE_CLASS_HEAVY || c == pb.VehicleClass_VEHICLE_CLASS_BUS {
			rating = 12000
		}
		m.req.Vehicle.GrossRating = &pb.Mass{AsRead: &pb.Mass_Kilograms{Kilograms: rating}}
	case "ask.moved-unrecorded":
		m.conditions().TiresMoved = no
	case "ask.seats":
		use.Seats = new(int32(17))
	case "ask.date":
		if m.req.JudgeBy == nil {
			m.req.JudgeBy = &pb.JudgeBy{}
		}
		m.req.JudgeBy.AsOf = &pb.CalendarDate{Year: 2027, Month: 1, Day: 15}
	case "ask.snow-slush-or-ice":
		m.conditions().SnowSlushOrIce = yes
	}
}

// doItAll carries out the order of a visit and of what is judged after it, and gives what
// is still open before driving or at this visit.
func doItAll(req *pb.AssessVisitRequest, skip string) (open []*pb.Finding, after *pb.Assessment, m *mechanic) {
	m = &mechanic{req: proto.CloneOf(req), skip: skip, did: map[string]bool{}, better: map[string]bool{}}
	m.answer()
	m.before = proto.CloneOf(m.req)
	const rounds = 8 // a look inside or a reading again may bring out more
	for range rounds {
		m.answer()
		if p := check.AssessVisit(m.req); len(p) > 0 {
			panic(fmt.Sprint(p, shownJSON(m.req)))
		}
		after = judge.Visit(m.req)
		open = nil
		for _, f := range after.GetFindings() {
			if f.GetUrgency() <= thisVisit && f.GetAsLeft() == nil {
				open = append(open, f)
			}
		}
		if len(open) == 0 {
			return nil, after, m
		}
		m.found = after.GetFindings()
		for _, f := range open {
			if f.GetToSettle().GetCode() == "settle.same-tire" { // asked, without a line
				m.settle(m.wheel(f.GetPositions()[0]), "settle.same-tire")
			}
		}
		m.work(after)
	}
	return open, after, m
}
