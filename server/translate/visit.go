package translate

import (
	"cmp"
	"slices"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

var answers = map[pb.Answer]finding.Answer{
	pb.Answer_ANSWER_YES: finding.Yes, pb.Answer_ANSWER_NO: finding.No, pb.Answer_ANSWER_UNKNOWN: finding.NotKnown,
}

// seen is what was looked at: where nobody could tell, it is as if nobody had
// looked, and is asked.
func seen(a pb.Answer) finding.Answer {
	if a == pb.Answer_ANSWER_UNKNOWN {
		return finding.NotAsked
	}
	return answers[a]
}

// Visit gives a request as calc judges it.
func Visit(req *pb.AssessVisitRequest) visit.Visit {
	in := req.GetInspection()
	v := visit.Visit{
		Vehicle: vehicle(req.GetVehicle()),
		Use:     use(req.GetVehicle().GetUse()),
		Books:   req.GetJudgeBy().GetRulebookIds(),
		AsOf:    Date(req.GetJudgeBy().GetAsOf()),
		Lamp:    lamp(in.GetConditions().GetLampAsFound()),
		Loaded:  answers[in.GetConditions().GetDriven().GetLoadedOrTowing()],
		Spare:   spare(req.GetVehicle().GetSpare()),
	}
	if v.AsOf.IsZero() {
		v.AsOf = Date(in.GetLocalDate())
	}
	v.Day, v.Odometer = Date(in.GetLocalDate()), mustAmount(in.GetOdometer())
	v.Wintry = answers[in.GetConditions().GetSnowSlushOrIce()]
	v.SpeedShown = answers[in.GetConditions().GetTireSpeedShown()]
	v.Vehicle.Seats = int(req.GetVehicle().GetUse().GetSeats())
	v.Conditions = conditions(in.GetConditions())
	v.DepthGauge, v.GaugeTold = depthGauge(in.GetGauges())
	v.Torque = torque(req.GetVehicle().GetFasteners().GetTorque())
	tires := tiresByID(req)
	r := recordOf(req)
	for i := range in.GetWheels() {
		v.Wheels = append(v.Wheels, wheel(i, r, tires, req.GetRepairs(), v))
	}
	v.Earlier, v.Work, v.Odometers = r.earlier(), r.workDone(), r.odometers()
	v.Maker = makerFigures(req.GetVehicle().GetMakerFigures())
	v.Rotating = rotating(req, r, tires)
	v.AxleWeights, v.AxleWeightsLeft = axleWeights(in.GetAxleWeights())
	vehicleRecords(req, r, &v)
	v.Recorded = notJudged(req)
	return v
}

// Layout is where things are on a vehicle, as far as it is told.
func Layout(v *pb.Vehicle) layout.Vehicle { return vehicle(v) }

func vehicle(m *pb.Vehicle) layout.Vehicle {
	v := layout.Vehicle{Class: class(m.GetVehicleClass()), Drive: layout.Drive(known(m.GetDrive()))}
	v.GrossRating, _, _ = of(unit.MassOf, m.GetGrossRating())
	v.Fastest, _, _ = of(unit.SpeedOf, m.GetMaximumSpeed())
	axles := m.GetAxles().GetAxles()
	for i, a := range axles {
		axle := layout.Axle{
			Dual: a.GetWheels() == pb.AxleWheels_AXLE_WHEELS_DUAL, Size: a.GetSize(),
			Steered: told(a.GetSteered(), i == 0 && v.Class != layout.Trailer), Driven: told(a.GetDriven(), driven(v.Drive, i, len(axles))),
		}
		axle.Rating, _, _ = of(unit.MassOf, a.GetRating())
		axle.ColdNormal, axle.LabelUnit, _ = of(unit.PressureOf, a.GetColdNormalLoad())
		full, u, ok := of(unit.PressureOf, a.GetColdFullLoad())
		if axle.ColdFull = full; ok && axle.LabelUnit == unit.None {
			axle.LabelUnit = u
		}
		v.Axles = append(v.Axles, axle)
	}
	return v
}

// told is a yes or no, or what holds where neither was told.
func told(a pb.Answer, otherwise bool) bool {
	switch answers[a] {
	case finding.Yes:
		return true
	case finding.No:
		return false
	}
	return otherwise
}

// driven is which axles the drive turns, where an axle does not say it itself.
func driven(d layout.Drive, axle, axles int) bool {
	switch d {
	case layout.FrontDrive:
		return axle == 0
	case layout.RearDrive:
		return axle > 0 || axles == 1
	case layout.AllDrive:
		return true
	}
	return false
}

// told is an enum's value; not told, where a newer client knows one more.
func known[E interface {
	~int32
	protoreflect.Enum
}](e E) E {
	if e.Descriptor().Values().ByNumber(e.Number()) == nil {
		return 0
	}
	return e
}

func class(c pb.VehicleClass) layout.Class {
	if _, known := pb.VehicleClass_name[int32(c)]; !known {
		return layout.UnknownClass
	}
	return layout.Class(c)
}

func use(m *pb.VehicleUse) rulebook.Use {
	u := rulebook.Use{
		Interstate: answers[m.GetBusinessAcrossStateLines()], Tows: answers[m.GetTows()],
		ForHire: answers[m.GetForHire()], Hazardous: answers[m.GetHazardousGoods()],
	}
	for _, j := range append(slices.Clone(m.GetDrivenIn()), m.GetRegisteredIn()) {
		p := rulebook.Place{Country: j.GetCountry(), State: j.GetState()}
		if p.Country != "" && !slices.Contains(u.Places, p) {
			u.Places = append(u.Places, p)
		}
	}
	u.CombinedRating, _, _ = of(unit.MassOf, m.GetCombinedRating())
	return u
}

func lamp(l pb.Lamp) inflation.Lamp {
	return map[pb.Lamp]inflation.Lamp{
		pb.Lamp_LAMP_OFF: inflation.LampOff, pb.Lamp_LAMP_ON_STEADY: inflation.LampOn,
		pb.Lamp_LAMP_FLASHING_THEN_STEADY: inflation.LampFlashing, pb.Lamp_LAMP_BULB_NOT_SEEN: inflation.LampDead,
	}[l]
}

func torque(m *pb.Torque) unit.Amount {
	a, _ := Amount(m)
	return a
}

// conditions of the day. Altitude counts as the air the gauge reads against;
// without it or a barometer the standard atmosphere at sea level does.
func conditions(m *pb.Conditions) inflation.Conditions {
	c := inflation.Conditions{DrivenHere: answers[m.GetDriven().GetDrivenHere()], Sun: answers[m.GetDriven().GetInSun()]}
	c.Here, _, _ = of(unit.TemperatureOf, m.GetAir())
	c.Outside, _, _ = of(unit.TemperatureOf, m.GetOutside())
	c.Distance, _, _ = of(unit.DistanceOf, m.GetDriven().GetDistance())
	if p := m.GetDriven().GetParked(); p != nil {
		c.Parked = p.AsDuration()
	}
	c.Coldest, _, _ = of(unit.TemperatureOf, m.GetColdestExpected())
	if h, _, ok := of(unit.HeightOf, m.GetAltitudeWhereDriven()); ok {
		if air, err := inflation.Air(h); err == nil {
			c.There = air
		}
	}
	if p, _, ok := of(unit.AirPressureOf, m.GetBarometer()); ok {
		c.Air = p
	} else if h, _, ok := of(unit.HeightOf, m.GetAltitude()); ok {
		if air, err := inflation.Air(h); err == nil {
			c.Air = air
		}
	}
	return c
}

// depthGauge is the visit's depth gauge, and whether one was told.
func depthGauge(gs []*pb.Gauge) (measure.Gauge[unit.Depth], bool) {
	for _, g := range gs {
		step, u, ok := of(unit.DepthOf, g.GetDepth())
		if !ok {
			continue
		}
		told := tread.Told{
			Step: step, In: u,
			Electronic: g.GetKind() == pb.GaugeKind_GAUGE_KIND_DEPTH_ELECTRONIC || g.GetKind() == pb.GaugeKind_GAUGE_KIND_DEPTH_SCANNER,
		}
		if r, _, ok := of(unit.DepthOf, g.GetRepeatability()); ok {
			told.Repeatability = &r
		}
		told.Accuracy, _, _ = of(unit.DepthOf, g.GetAccuracy())
		return tread.GaugeOf(told), true
	}
	return tread.GaugeOf(tread.Told{}), false
}

var gaugeKinds = map[pb.GaugeKind]inflation.GaugeKind{
	pb.GaugeKind_GAUGE_KIND_STICK: inflation.Stick, pb.GaugeKind_GAUGE_KIND_DIAL: inflation.Dial,
	pb.GaugeKind_GAUGE_KIND_DIGITAL: inflation.Digital, pb.GaugeKind_GAUGE_KIND_INFLATOR: inflation.Inflator,
	pb.GaugeKind_GAUGE_KIND_TPMS_TOOL: inflation.TPMS,
}

// pressureGauge is the gauge of a reading: of its kind when the reading tells
// one, with what the visit's list says of that kind.
func pressureGauge(kind pb.GaugeKind, gs []*pb.Gauge) measure.Gauge[unit.Pressure] {
	told := measure.Gauge[unit.Pressure]{}
	for _, g := range gs {
		step, _, ok := of(unit.PressureOf, g.GetPressure())
		if !ok || kind != 0 && g.GetKind() != 0 && g.GetKind() != kind {
			continue
		}
		told.Resolution = step
		told.Repeatability, _, _ = of(unit.PressureOf, g.GetRepeatability())
		told.Accuracy, _, _ = of(unit.PressureOf, g.GetAccuracy())
		if kind == 0 {
			kind = g.GetKind()
		}
		break
	}
	return inflation.GaugeOf(gaugeKinds[kind], told)
}

// rims are the kinds of wheels that tell of how many pieces one is.
var rims = map[pb.WheelKind]inflation.Rim{
	pb.WheelKind_WHEEL_KIND_ALLOY: inflation.OnePiece, pb.WheelKind_WHEEL_KIND_SINGLE_PIECE: inflation.OnePiece,
	pb.WheelKind_WHEEL_KIND_MULTI_PIECE: inflation.MultiPiece, pb.WheelKind_WHEEL_KIND_DEMOUNTABLE: inflation.Demountable,
}

func tiresByID(req *pb.AssessVisitRequest) map[string]*pb.Tire {
	m := map[string]*pb.Tire{}
	for _, t := range req.GetTires() {
		m[t.GetId()] = t
		if mounted := t.GetPlace().GetMounted(); mounted != nil {
			m["@"+mounted.GetPosition()] = t
		}
	}
	return m
}

func wheel(i int, r record, tires map[string]*pb.Tire, repairs []*pb.Repair, v visit.Visit) visit.Wheel {
	m, gauges := r.today.GetWheels()[i], r.today.GetGauges()
	p := Position(m.GetPosition())
	w := visit.Wheel{Position: p, Rim: rims[m.GetWheelKind()]}
	t := tires[cmp.Or(m.GetTireId(), r.MovedTo(p))]
	if t == nil && m.GetTireId() == "" {
		t = tires["@"+m.GetPosition()]
	}
	w.History, w.Before, w.Rested = r.history(i, t), r.before(i, t), r.rested(i, t)
	w.Fastening = fastening(m.GetFastenerWork(), r.Off(i) || tookOff(m))
	w.Mended = mended(m)
	w.OffBefore, w.TorqueChecks = r.torques(i)
	w.SameTire = r.SameTire(i)
	w.HighLow = highLow(m.GetHighLowPairs(), v.DepthGauge)
	size := ""
	if a, ok := v.Vehicle.AxleOf(p); ok {
		size = a.Size
	}
	w.Tire = tire(m, t, size, v.AsOf)
	w.Fitment, w.FitmentLeft = fitmentWheel(m, t, v.AsOf)
	for _, done := range repairs {
		if t != nil && done.GetTireId() == t.GetId() {
			w.Tire.Repairs = append(w.Tire.Repairs, methods[done.GetMethod()])
		}
	}
	w.Depths, w.DepthsLeft = treadReadings(m)
	w.Pressure, w.PressureLeft = pressures(m.GetPressures(), gauges)
	if w.Pressure.Source == inflation.AirAround && w.PressureLeft.Source == inflation.NoTemperature {
		w.PressureLeft.Source = inflation.AirAround // it was cold, and was not driven since
	}
	sensed(m, gauges, &w)
	for _, o := range m.GetObservations() {
		if o.GetPhase() == pb.Phase_PHASE_AS_LEFT {
			w.ObservationsLeft = append(w.ObservationsLeft, observation(o))
		} else {
			w.Observations = append(w.Observations, observation(o))
		}
	}
	for _, l := range m.GetLooked() {
		w.Looked = append(w.Looked, visit.Looked{
			What: lookedAt.code(l.GetWhat()), NotBecause: notLookedReasons.code(l.GetNotBecause()),
		})
	}
	low := m.GetDrivenLow()
	w.DrivenLow = inflation.DrivenLow{Driven: answers[low.GetDriven()], Loaded: answers[low.GetLoaded()]}
	w.DrivenLow.Distance, _, _ = of(unit.DistanceOf, low.GetDistance())
	return w
}

// treadReadings are the depths of a wheel as found and as left.
func treadReadings(m *pb.WheelReport) (found, left []tread.Reading) {
	for _, r := range m.GetTread() {
		d, _, ok := of(unit.DepthOf, r.GetDepth())
		if !ok {
			continue
		}
		reading := tread.Reading{Depth: d, AsRead: mustAmount(r.GetDepth()),
			Across: layout.Across(known(r.GetPlace().GetAcross())), Groove: int(r.GetPlace().GetGroove()), Station: int(r.GetPlace().GetStation())}
		if l, _, ok := of(unit.LengthOf, r.GetPlace().GetFromCenterLine()); ok {
			reading.FromCenterLine = &l
		}
		if r.GetPhase() == pb.Phase_PHASE_AS_LEFT {
			left = append(left, reading)
		} else {
			found = append(found, reading)
		}
	}
	return found, left
}

func mustAmount(m proto.Message) unit.Amount {
	a, _ := Amount(m)
	return a
}

// pressures are the readings of a gauge as found and as left.
func pressures(ms []*pb.PressureReading, gauges []*pb.Gauge) (found, left visit.Pressure) {
	byRepeat := func(a, b *pb.PressureReading) int { return cmp.Compare(a.GetRepeat(), b.GetRepeat()) }
	if !slices.IsSortedFunc(ms, byRepeat) {
		ms = slices.Clone(ms)
		slices.SortStableFunc(ms, byRepeat)
	}
	var repeats, after []visit.Pressure
	for _, m := range ms {
		r := Reading(m, gauges)
		switch {
		case r.Read == unit.None:
		case m.GetPhase() == pb.Phase_PHASE_AS_LEFT:
			after = append(after, r)
		default:
			repeats = append(repeats, r)
		}
	}
	return visit.LowestOf(repeats), visit.LastOf(after)
}

// Reading is one reading of a gauge among those of its visit; the zero value where
// nothing was read.
func Reading(m *pb.PressureReading, gauges []*pb.Gauge) visit.Pressure {
	p, u, ok := of(unit.PressureOf, m.GetPressure())
	if !ok {
		return visit.Pressure{}
	}
	told := m.GetGauge() != 0 || slices.ContainsFunc(gauges, func(g *pb.Gauge) bool { return g.GetPressure() != nil })
	r := visit.Pressure{Of: p, Read: u, Gauge: pressureGauge(m.GetGauge(), gauges), GaugeTold: told, Source: sources[m.GetSource()]}
	if t, _, ok := of(unit.TemperatureOf, m.GetTireTemperature()); ok {
		r.Temperature = t
		if r.Source == inflation.NoTemperature {
			r.Source = inflation.FromDrive // nobody said where it comes from: the least sure
		}
	}
	return r
}

var sources = map[pb.TemperatureSource]inflation.Source{
	pb.TemperatureSource_TEMPERATURE_SOURCE_TPMS_SENSOR: inflation.Sensor,
	pb.TemperatureSource_TEMPERATURE_SOURCE_INFRARED:    inflation.Infrared,
	pb.TemperatureSource_TEMPERATURE_SOURCE_ESTIMATED:   inflation.FromDrive,
	pb.TemperatureSource_TEMPERATURE_SOURCE_AIR_AROUND:  inflation.AirAround,
}

var methods = map[pb.RepairMethod]puncture.Method{
	pb.RepairMethod_REPAIR_METHOD_COMBINATION: puncture.Combination, pb.RepairMethod_REPAIR_METHOD_TWO_PIECE: puncture.TwoPiece,
	pb.RepairMethod_REPAIR_METHOD_SECTION: puncture.Section, pb.RepairMethod_REPAIR_METHOD_PLUG_ONLY: puncture.PlugOnly,
	pb.RepairMethod_REPAIR_METHOD_PATCH_ONLY: puncture.PatchOnly,
}

// tire is what sidewallOf knows of a tire, with what else its record holds.
func tire(m *pb.WheelReport, t *pb.Tire, labelSize string, asOf unit.Date) visit.Tire {
	s := sidewallOf(m, t)
	out := visit.Tire{
		Marking: sidewall.Parse(s.GetMarking()), Size: s.GetMarking(),
		SelfSupporting: answers[s.GetSelfSupporting()], FoamLined: answers[s.GetFoamLined()], SealantLined: answers[s.GetSealantLined()],
		ThreePeaks: seen(s.GetThreePeakSnowflake()), MudAndSnow: seen(s.GetMudAndSnow()), Studded: seen(s.GetStudded()),
	}
	if s.GetMarking() == "" {
		// The label tells the kind of tire, not what is fitted: no size is taken from it.
		label := sidewall.Parse(labelSize)
		out.Marking = sidewall.Marking{Class: label.Class, LoadRange: label.LoadRange, LoadMark: label.LoadMark}
	}
	loadRange(&out.Marking, s.GetLoadRange())
	out.Body = map[pb.BodyPly]sidewall.BodyPly{pb.BodyPly_BODY_PLY_FABRIC: sidewall.FabricBody, pb.BodyPly_BODY_PLY_STEEL: sidewall.SteelBody}[s.GetBodyPly()]
	out.Sidewall, _, _ = of(unit.PressureOf, s.GetMaximumPressure())
	out.LoadSingle, _, _ = of(unit.MassOf, s.GetMaximumLoad())
	out.LoadDual, _, _ = of(unit.MassOf, s.GetMaximumLoadDual())
	out.Breadth, _, _ = of(unit.LengthOf, s.GetTreadBreadth())
	if made, err := sidewall.DateCode(s.GetIdentification(), asOf); err == nil && !asOf.IsZero() {
		out.Age, out.Made = made.Age(asOf), made
	}
	out.Misread = misread(s.GetIdentification(), asOf)
	out.MostRepairs, out.KeepsSpeed = repairsAtMost(t.GetMakerPolicy()), answers[t.GetMakerPolicy().GetKeepsSpeedSymbol()]
	switch answers[t.GetMakerPolicy().GetRepairPermitted()] {
	case finding.Yes:
		out.Policy = puncture.PolicyAllows
	case finding.No:
		out.Policy = puncture.PolicyForbids
	}
	for _, g := range t.GetNewDepths().GetGrooves() {
		d, _, ok := of(unit.DepthOf, g.GetDepth())
		if !ok {
			continue
		}
		if out.New == nil {
			out.New = map[int]unit.Depth{}
		}
		out.New[max(int(g.GetPlace().GetGroove()), int(known(g.GetPlace().GetAcross())))] = d
	}
	return out
}

// misread is what an identification cannot be as it is written. A number that is told
// without its date, or whose decade is open, may be so on the tire.
func misread(identification string, asOf unit.Date) []sidewall.Problem {
	if identification == "" {
		return nil
	}
	_, problems := sidewall.Identify(identification, asOf)
	return slices.DeleteFunc(problems, func(p sidewall.Problem) bool {
		return p.Code == sidewall.NoDate || p.Code == sidewall.DecadeOpen || p.Code == sidewall.EightOrB
	})
}

func repairsAtMost(m *pb.TireMakerPolicy) *int {
	if m == nil || m.RepairsAtMost == nil {
		return nil
	}
	return new(int(m.GetRepairsAtMost()))
}

func observation(m *pb.Observation) visit.Observation {
	where := m.GetPlace()
	o := visit.Observation{
		Kind: observationKinds.code(m.GetKind()), Part: parts.code(known(where.GetPart())), Side: sides.code(known(where.GetSide())),
		Across: layout.Across(known(where.GetAcross())), Count: int(m.GetCount()),
	}
	if l, u, ok := of(unit.LengthOf, m.GetSize()); ok {
		o.Size, o.SizeUnit = &l, u
	}
	if m.GetInjury() != nil {
		i := injury(m.GetInjury())
		o.Injury = &i
	}
	return o
}

func injury(m *pb.Injury) puncture.Injury {
	i := puncture.Injury{
		Part: map[pb.TirePart]puncture.Part{
			pb.TirePart_TIRE_PART_CROWN: puncture.Crown, pb.TirePart_TIRE_PART_SHOULDER: puncture.Shoulder,
			pb.TirePart_TIRE_PART_SIDEWALL: puncture.Sidewall, pb.TirePart_TIRE_PART_BEAD: puncture.Bead,
		}[m.GetPlace().GetPart()],
		Through:       answers[m.GetReachesThrough()],
		ObjectInPlace: seen(m.GetObjectInPlace()),
		Overlaps:      seen(m.GetOverlapsEarlierRepair()),
		HoldsAir:      answers[m.GetHoldsAir()],
	}
	if between := seen(m.GetBetweenOuterGrooves()); between != finding.NotAsked {
		i.BetweenOuterGrooves = new(between == finding.Yes)
	}
	length := func(q *pb.Length) *measure.Value[unit.Length] {
		l, _, ok := of(unit.LengthOf, q)
		if !ok {
			return nil
		}
		return &measure.Value[unit.Length]{Of: l}
	}
	i.Nearest = length(m.GetNearestOther())
	if l, _, ok := of(unit.LengthOf, m.GetUnitWidth()); ok {
		i.UnitWidth = &l
	}
	i.Size, i.FromEdge, i.FromCenter = length(m.GetSize()), length(m.GetPlace().GetFromShoulderEdge()), length(m.GetPlace().GetFromCenterLine())
	if l, _, ok := of(unit.LengthOf, m.GetSizeAfterPreparing()); ok {
		i.Prepared = &l
	}
	if m.AngleDegrees != nil {
		i.Angle = &measure.Value[unit.Angle]{Of: unit.Angle(m.GetAngleDegrees())}
	}
	return i
}

// notJudged lists what the visit recorded and this version does not judge, so
// that nothing written down is passed over in silence.
func notJudged(req *pb.AssessVisitRequest) []visit.NotJudged {
	in := req.GetInspection()
	var out []visit.NotJudged
	add := func(recorded bool, code finding.Recorded, at ...layout.Position) {
		if !recorded {
			return
		}
		for i := range out {
			if out[i].Code == code {
				out[i].Positions = append(out[i].Positions, at...)
				return
			}
		}
		out = append(out, visit.NotJudged{Code: code, Positions: at})
	}
	add(slices.ContainsFunc(in.GetConditions().GetComplaints(), inWordsOnly), finding.RecordedComplaints)
	add(in.GetChangeover() != nil, finding.RecordedChangeover)
	onlyRecorded(req, add)
	for _, w := range in.GetWheels() {
		p, _ := layout.Parse(w.GetPosition())
		for _, o := range w.GetObservations() {
			if _, known := pb.ObservationKind_name[int32(o.GetKind())]; !known || o.GetKind() == 0 {
				add(true, finding.RecordedUnknownObservation, p)
			}
		}
	}
	return out
}
