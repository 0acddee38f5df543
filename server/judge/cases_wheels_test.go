package judge_test

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"go.yaml.in/yaml/v3"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/types/known/durationpb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/layout"
)

// readingKeys are what was read and seen of the wheels, at this visit or before.
var readingKeys = []string{"psi", "bar", "kpa", "psi_left", "bar_left", "kpa_left", "depth", "depth_mm", "stations", "stations_mm", "depth_left",
	"observed", "felt", "looked", "tin", "tire", "driven_low", "injuries", "marks", "valve", "high_low"}

func (b *builder) layout() layout.Vehicle {
	v := layout.Vehicle{Class: layout.Class(b.vehicle.GetVehicleClass())}
	for _, a := range b.vehicle.GetAxles().GetAxles() {
		v.Axles = append(v.Axles, layout.Axle{Dual: a.GetWheels() == pb.AxleWheels_AXLE_WHEELS_DUAL})
	}
	return v
}

// places are the positions that a text names: one in any notation, or a group.
func (b *builder) places(text string) []string { return placesOf(b.layout(), text) }

// placesOf reads all, front and rear, on a truck also steer and drive, and any
// notation of one position. Nothing: no such place on the vehicle.
func placesOf(v layout.Vehicle, text string) []string {
	var ps []string
	for _, p := range v.Positions() {
		switch strings.ToLower(text) {
		case "all":
		case "front", "steer":
			if p.Axle != 1 {
				continue
			}
		case "rear", "drive":
			if p.Axle == 1 {
				continue
			}
		default:
			continue
		}
		ps = append(ps, p.String())
	}
	if len(ps) > 0 {
		return ps
	}
	if s := layout.Suggest(text, len(v.Axles)); s != "" && v.Has(layout.MustParse(s)) == nil {
		return []string{s}
	}
	return nil
}

// position reads one position.
func (b *builder) position(n node, text string) string {
	ps := b.places(text)
	if len(ps) == 1 {
		return ps[0]
	}
	n.faultf("%q is no one wheel of this vehicle; its wheels are %v and S", text, b.layout().Positions())
	return ""
}

// placeWord tells a way to write a place, whatever the vehicle, so that a key
// that names a wheel it does not have is called that.
func placeWord(s string) bool {
	switch strings.ToLower(s) {
	case "all", "front", "rear", "steer", "drive":
		return true
	}
	_, err := layout.Parse(strings.ToUpper(s))
	return err == nil || layout.Suggest(s, 2) != ""
}

// positional tells keys that name wheels from keys of one value.
func (b *builder) positional(n node) bool {
	if !n.isKind(yaml.MappingNode) {
		return false
	}
	return slices.ContainsFunc(n.entries(), func(e entry) bool { return placeWord(e.key) })
}

// at is a value of a wheel.
type at struct {
	position string
	value    node
}

// byWheel gives a value's share of each wheel: keys name wheels or groups of
// them, the narrower before the wider; a value without keys is that of every
// wheel, or of the one tire. values tells that the value itself may have keys.
func (b *builder) byWheel(n node, values bool) []at {
	if !n.there() {
		return nil
	}
	share := map[string]node{}
	switch {
	case n.isKind(yaml.MappingNode) && (!values || b.positional(n)):
		es := n.entries()
		slices.SortStableFunc(es, func(x, y entry) int { return cmp.Compare(len(b.places(y.key)), len(b.places(x.key))) })
		for _, e := range es {
			ps := b.places(e.key)
			if len(ps) == 0 {
				e.value.faultf("no such wheel; the wheels are %v and S, all, front and rear", b.layout().Positions())
			}
			for _, p := range ps {
				share[p] = e.value
			}
		}
	case b.oneTire != "":
		share[b.oneTire] = n
	default:
		for _, p := range b.layout().Positions() {
			share[p.String()] = n
		}
	}
	var out []at
	for p, v := range share {
		out = append(out, at{p, v})
	}
	slices.SortFunc(out, func(x, y at) int { return cmp.Compare(x.position, y.position) })
	return out
}

// readings makes the wheel reports of a visit before so many moves.
func (b *builder) readings(kv map[string]node, moves int) []*pb.WheelReport {
	wheels := map[string]*pb.WheelReport{}
	wheel := func(p string) *pb.WheelReport {
		if wheels[p] == nil {
			wheels[p] = &pb.WheelReport{Position: p, TireId: b.tireAt(p, moves)}
		}
		return wheels[p]
	}
	for _, k := range []string{"psi", "bar", "kpa", "psi_left", "bar_left", "kpa_left"} {
		unit, left, _ := strings.Cut(k, "_")
		for _, a := range b.byWheel(kv[k], false) {
			for i, r := range a.value.items() {
				p := &pb.PressureReading{Phase: phase(left), Repeat: int32(i), Gauge: b.pressureGauge()}
				p.Pressure = quantity(r, &pb.Pressure{}, pressureUnits[unit])
				wheel(a.position).Pressures = append(wheel(a.position).Pressures, p)
			}
		}
	}
	for k, unit := range map[string]protoreflect.Name{"depth": "thirty_seconds_inch", "depth_mm": "millimeters"} {
		for _, a := range b.byWheel(kv[k], false) {
			wheel(a.position).Tread = append(wheel(a.position).Tread, across(a.value, 0, unit, pb.Phase_PHASE_AS_FOUND)...)
		}
	}
	for _, a := range b.byWheel(kv["depth_left"], false) {
		wheel(a.position).Tread = append(wheel(a.position).Tread, across(a.value, 0, "thirty_seconds_inch", pb.Phase_PHASE_AS_LEFT)...)
	}
	for k, unit := range map[string]protoreflect.Name{"stations": "thirty_seconds_inch", "stations_mm": "millimeters"} {
		for _, a := range b.byWheel(kv[k], false) {
			for i, s := range a.value.items() {
				wheel(a.position).Tread = append(wheel(a.position).Tread, across(s, i+1, unit, pb.Phase_PHASE_AS_FOUND)...)
			}
		}
	}
	for _, a := range b.byWheel(kv["observed"], false) {
		wheel(a.position).Observations = append(wheel(a.position).Observations, observations(a.value, pb.HowKnown_HOW_KNOWN_SEEN)...)
	}
	for _, a := range b.byWheel(kv["felt"], false) {
		wheel(a.position).Observations = append(wheel(a.position).Observations, observations(a.value, pb.HowKnown_HOW_KNOWN_FELT)...)
	}
	for _, a := range b.byWheel(kv["looked"], false) {
		wheel(a.position).Looked = looked(a.value)
	}
	for _, a := range b.byWheel(kv["injuries"], true) {
		w := wheel(a.position)
		inside := slices.ContainsFunc(w.Looked, func(l *pb.Looked) bool {
			return l.What == pb.LookedAt_LOOKED_AT_INSIDE_OF_TIRE && l.GetSeen()
		})
		for _, i := range a.value.items() {
			w.Observations = append(w.Observations, injury(i, inside))
		}
	}
	for _, a := range b.byWheel(kv["tire"], true) {
		wheel(a.position).Sidewall = sidewall(a.value)
	}
	for _, a := range b.byWheel(kv["tin"], false) {
		w := wheel(a.position)
		if w.Sidewall == nil {
			w.Sidewall = &pb.Sidewall{}
		}
		w.Sidewall.Identification = a.value.text()
	}
	for _, a := range b.byWheel(kv["driven_low"], true) {
		wheel(a.position).DrivenLow = drivenLow(a.value)
	}
	for _, a := range b.byWheel(kv["marks"], true) {
		wheel(a.position).Marks = append(wheel(a.position).Marks, marks(a.value))
	}
	for _, a := range b.byWheel(kv["valve"], false) {
		wheel(a.position).Valve = &pb.Valve{Kind: pb.ValveKind(a.value.enum(pb.ValveKind(0).Descriptor(), nil))}
	}
	for _, a := range b.byWheel(kv["high_low"], true) {
		for _, i := range a.value.items() {
			wheel(a.position).HighLowPairs = append(wheel(a.position).HighLowPairs, highLow(i))
		}
	}
	var out []*pb.WheelReport
	for _, w := range wheels {
		out = append(out, w)
	}
	slices.SortFunc(out, func(x, y *pb.WheelReport) int { return cmp.Compare(x.Position, y.Position) })
	return out
}

func phase(left string) pb.Phase {
	if left == "left" {
		return pb.Phase_PHASE_AS_LEFT
	}
	return pb.Phase_PHASE_AS_FOUND
}

func (b *builder) pressureGauge() pb.GaugeKind {
	if n := b.kv["pressure_gauge"]; n.there() {
		return pb.GaugeKind(n.enum(pb.GaugeKind(0).Descriptor(), map[string]string{"sensor": "tpms-tool"}))
	}
	return 0
}

// across reads inboard, center and outboard; one number is all three, and more
// than three are grooves from the vehicle outward.
func across(n node, station int, unit protoreflect.Name, p pb.Phase) []*pb.TreadReading {
	items := n.items()
	var rs []*pb.TreadReading
	add := func(i int, of node, groove bool) {
		r := &pb.TreadReading{Place: &pb.Place{Station: int32(station)}, Phase: p, Depth: quantity(of, &pb.Depth{}, unit)}
		if groove {
			r.Place.Groove = int32(i + 1)
		} else {
			r.Place.Across = pb.Across(i + 1)
		}
		rs = append(rs, r)
	}
	switch len(items) {
	case 1:
		for i := range 3 {
			add(i, items[0], false)
		}
	case 0, 2:
		n.faultf("one depth, three (inboard, center, outboard) or one for each groove are wanted, not %d", len(items))
	default:
		for i, d := range items {
			add(i, d, len(items) > 3)
		}
	}
	return rs
}

// feelings are the words a hand has, beside the names of the contract.
var feelings = map[string]string{
	"smooth": "felt-smooth", "rough": "felt-rough",
	"feathered-sharp-away-from-vehicle": "feathered-sharp-away", "feathered-away": "feathered-sharp-away",
	"feathered-sharp-toward": "feathered-sharp-toward-vehicle", "feathered-toward": "feathered-sharp-toward-vehicle",
}

func observations(n node, how pb.HowKnown) []*pb.Observation {
	var os []*pb.Observation
	for _, i := range n.items() {
		o := &pb.Observation{How: how}
		if i.isKind(yaml.MappingNode) {
			kv := i.keys("kind", "across", "zone", "side", "size", "count", "words")
			o.Kind = kind(kv["kind"], "")
			o.Words = kv["words"].text()
			o.Place = placeOf(kv)
			if s := kv["size"]; s.there() {
				o.Size = quantity(s, &pb.Length{}, "")
			}
			if c := kv["count"]; c.there() {
				if v, err := strconv.ParseInt(c.text(), 10, 32); err != nil {
					c.faultf("a count is wanted")
				} else {
					count := int32(v)
					o.Count = &count
				}
			}
		} else {
			what, where, found := strings.Cut(i.text(), "@")
			o.Kind = kind(i, what)
			if found {
				place := i
				place.y = &yaml.Node{Kind: yaml.ScalarNode, Value: where, Line: i.y.Line}
				o.Place = &pb.Place{Across: pb.Across(place.enum(pb.Across(0).Descriptor(), nil))}
			}
		}
		os = append(os, o)
	}
	return os
}

// placeOf is where something was seen, nil where that is not told.
func placeOf(kv map[string]node) *pb.Place {
	p := &pb.Place{}
	if a := kv["across"]; a.there() {
		p.Across = pb.Across(a.enum(p.Across.Descriptor(), nil))
	}
	if z := kv["zone"]; z.there() {
		p.Part = pb.TirePart(z.enum(p.Part.Descriptor(), nil))
	}
	if s := kv["side"]; s.there() {
		p.Side = pb.WheelSide(s.enum(p.Side.Descriptor(), nil))
	}
	return orNil(p)
}

// orNil is a message, nil where nothing is told in it.
func orNil[M proto.Message](m M) (none M) {
	if proto.Size(m) == 0 {
		return none
	}
	return m
}

func kind(n node, what string) pb.ObservationKind {
	if what != "" {
		n.y = &yaml.Node{Kind: yaml.ScalarNode, Value: what, Line: n.y.Line}
	}
	return pb.ObservationKind(n.enum(pb.ObservationKind(0).Descriptor(), feelings))
}

// looked reads what was looked at; a key with a reason was not.
func looked(n node) []*pb.Looked {
	d := pb.LookedAt(0).Descriptor()
	var ls []*pb.Looked
	add := func(what pb.LookedAt, because pb.NotLookedReason) {
		l := &pb.Looked{What: what, Looked: &pb.Looked_Seen{Seen: true}}
		if because != 0 {
			l.Looked = &pb.Looked_NotBecause{NotBecause: because}
		}
		ls = append(ls, l)
	}
	for _, i := range n.items() {
		if i.isKind(yaml.MappingNode) {
			for _, e := range i.entries() {
				named := e.value
				named.y = &yaml.Node{Kind: yaml.ScalarNode, Value: e.key, Line: i.y.Line}
				add(pb.LookedAt(named.enum(d, places)), pb.NotLookedReason(e.value.enum(pb.NotLookedReason(0).Descriptor(), nil)))
			}
			continue
		}
		switch group := kebab(i.text()); group {
		case "all", "all-but-inside":
			for v := pb.LookedAt_LOOKED_AT_TREAD_FULL_TURN; v <= pb.LookedAt_LOOKED_AT_VALVE; v++ {
				off := v == pb.LookedAt_LOOKED_AT_BEADS || v == pb.LookedAt_LOOKED_AT_INSIDE_OF_TIRE
				if v != pb.LookedAt_LOOKED_AT_TREAD_PART && (group == "all" || !off) {
					add(v, 0)
				}
			}
		default:
			add(pb.LookedAt(i.enum(d, places)), 0)
		}
	}
	return ls
}

var places = map[string]string{"inside": "inside-of-tire", "tread": "tread-full-turn"}

var injuryKeys = []string{"part", "size", "prepared", "angle", "from_edge", "from_center", "between_outer_grooves", "through",
	"object_in_place", "holds_air", "overlaps", "nearest", "unit_width", "words"}

// injury reads one hole. Where the inside was seen, a size that says nothing
// else is that after preparing.
func injury(n node, inside bool) *pb.Observation {
	kv := n.keys(injuryKeys...)
	i, at := &pb.Injury{}, &pb.Place{}
	if p := kv["part"]; p.there() {
		at.Part = pb.TirePart(p.enum(at.Part.Descriptor(), nil))
	}
	length := func(key string) *pb.Length {
		if !kv[key].there() {
			return nil
		}
		return quantity(kv[key], &pb.Length{}, "")
	}
	answer := func(key string) pb.Answer {
		if !kv[key].there() {
			return pb.Answer_ANSWER_UNSPECIFIED
		}
		return kv[key].answer()
	}
	i.Size, i.SizeAfterPreparing = length("size"), length("prepared")
	if inside && i.SizeAfterPreparing == nil {
		i.Size, i.SizeAfterPreparing = nil, i.Size
	}
	at.FromShoulderEdge, at.FromCenterLine = length("from_edge"), length("from_center")
	if at.GetFromShoulderEdge() != nil && at.GetFromCenterLine() != nil {
		kv["from_center"].faultf("from_edge or from_center, not both")
	}
	i.NearestOther, i.UnitWidth = length("nearest"), length("unit_width")
	i.Place = orNil(at)
	if a := kv["angle"]; a.there() {
		v, unit, _ := a.measured()
		if unit != "" && unit != "deg" && unit != "degrees" && unit != "°" {
			a.faultf("an angle is in degrees")
		}
		i.AngleDegrees = &v
	}
	i.BetweenOuterGrooves, i.ObjectInPlace, i.OverlapsEarlierRepair = answer("between_outer_grooves"), answer("object_in_place"), answer("overlaps")
	i.ReachesThrough, i.HoldsAir = answer("through"), answer("holds_air")
	o := &pb.Observation{Kind: pb.ObservationKind_OBSERVATION_KIND_INJURY, How: pb.HowKnown_HOW_KNOWN_SEEN, Injury: i, Words: kv["words"].text()}
	if i.GetObjectInPlace() == pb.Answer_ANSWER_YES {
		o.Kind = pb.ObservationKind_OBSERVATION_KIND_OBJECT_IN_TREAD
	}
	return o
}

// sidewallFlags are the keys of tire that are told by yes and no, with their
// fields in the contract.
var sidewallFlags = map[string]protoreflect.Name{
	"foam": "foam_lined", "self_supporting": "self_supporting", "sealant_lined": "sealant_lined", "directional": "directional",
	"asymmetric": "asymmetric", "three_peak": "three_peak_snowflake", "mud_and_snow": "mud_and_snow", "studded": "studded",
	"retread": "retread", "regrooved": "regrooved",
}

var tireKeys = []string{"marking", "body", "load_range", "max_psi", "max_bar", "max_kpa", "tread_breadth", "tin", "foam", "self_supporting",
	"sealant_lined", "directional", "asymmetric", "three_peak", "mud_and_snow", "studded", "retread", "regrooved", "maker_policy"}

func sidewall(n node) *pb.Sidewall {
	kv := n.keys(tireKeys...)
	s := &pb.Sidewall{Marking: kv["marking"].text(), LoadRange: kv["load_range"].text(), Identification: kv["tin"].text()}
	if b := kv["body"]; b.there() {
		s.BodyPly = pb.BodyPly(b.enum(s.BodyPly.Descriptor(), nil))
	}
	s.MaximumPressure = firstPressure(0, kv["max_psi"], kv["max_bar"], kv["max_kpa"])
	if t := kv["tread_breadth"]; t.there() {
		s.TreadBreadth = quantity(t, &pb.Length{}, "")
	}
	for key, field := range sidewallFlags {
		if f := kv[key]; f.there() && f.answer() != pb.Answer_ANSWER_UNKNOWN {
			r := s.ProtoReflect()
			r.Set(r.Descriptor().Fields().ByName(field), protoreflect.ValueOfEnum(f.answer().Number()))
		}
	}
	return s
}

func drivenLow(n node) *pb.DrivenLow {
	if n.isKind(yaml.ScalarNode) {
		return &pb.DrivenLow{Driven: n.answer()}
	}
	kv := n.keys("driven", "miles", "km", "mph", "loaded")
	d := &pb.DrivenLow{Driven: pb.Answer_ANSWER_YES}
	if k := kv["driven"]; k.there() {
		d.Driven = k.answer()
	}
	if k := kv["miles"]; k.there() {
		d.Distance = quantity(k, &pb.Distance{}, "miles")
	}
	if k := kv["km"]; k.there() {
		d.Distance = quantity(k, &pb.Distance{}, "kilometers")
	}
	if k := kv["mph"]; k.there() {
		d.Speed = quantity(k, &pb.Speed{}, "miles_per_hour")
	}
	if k := kv["loaded"]; k.there() {
		d.Loaded = k.answer()
	}
	return d
}

func marks(n node) *pb.MountingMarks {
	kv := n.keys("arrow", "outside", "date_side")
	m := &pb.MountingMarks{}
	if a := kv["arrow"]; a.there() {
		m.Arrow = pb.DirectionArrow(a.enum(m.Arrow.Descriptor(), nil))
	}
	if o := kv["outside"]; o.there() {
		m.OutsideMark = pb.MarkFaces(o.enum(m.OutsideMark.Descriptor(), nil))
	}
	if d := kv["date_side"]; d.there() {
		m.FullIdentification = pb.MarkFaces(d.enum(m.FullIdentification.Descriptor(), nil))
	}
	return m
}

// highLow is the highest and the lowest depth close together along one groove.
func highLow(n node) *pb.HighLowPair {
	kv := n.keys("across", "high", "low")
	p := &pb.HighLowPair{}
	if a := kv["across"]; a.there() {
		p.Place = &pb.Place{Across: pb.Across(a.enum(pb.Across(0).Descriptor(), nil))}
	}
	for _, end := range []string{"high", "low"} {
		if !kv[end].there() {
			n.faultf("high and low are wanted")
			return p
		}
	}
	p.High, p.Low = quantity(kv["high"], &pb.Depth{}, "thirty_seconds_inch"), quantity(kv["low"], &pb.Depth{}, "thirty_seconds_inch")
	return p
}

func readParked(d *pb.DrivenBefore, kv map[string]node) {
	for key, span := range map[string]time.Duration{"parked_h": time.Hour, "parked_min": time.Minute} {
		if p := kv[key]; p.there() {
			v, unit, _ := p.measured()
			if unit != "" && unit != "h" && unit != "min" {
				p.faultf("a number is wanted; the key tells its unit")
			}
			d.Parked = durationpb.New(time.Duration(v * float64(span)))
		}
	}
}

// uuid makes the nth id.
func uuid(group, n int) string { return fmt.Sprintf("%08d-0000-4000-8000-%012d", group, n) }
