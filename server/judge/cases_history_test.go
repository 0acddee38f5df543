package judge_test

import (
	"cmp"
	"maps"
	"slices"
	"strings"
	"time"

	"go.yaml.in/yaml/v3"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// Groups of ids.
const (
	tireGroup = iota + 1
	moveGroup
	repairGroup
)

// move is a change of places so many miles ago: from where to where.
type move struct {
	ago float64
	kv  map[string]node
	to  map[string]string
}

// patterns are rotations by name, as maps from where a tire was to where it
// went (common practice; the forward cross also 49 CFR 575.104(e)(2)(viii)).
var patterns = map[string]map[string]string{
	"forward-cross":  {"1L": "2L", "1R": "2R", "2L": "1R", "2R": "1L"},
	"rearward-cross": {"2L": "1L", "2R": "1R", "1L": "2R", "1R": "2L"},
	"x":              {"1L": "2R", "1R": "2L", "2L": "1R", "2R": "1L"},
	"front-rear":     {"1L": "2L", "1R": "2R", "2L": "1L", "2R": "1R"},
	"side-to-side":   {"1L": "1R", "1R": "1L", "2L": "2R", "2R": "2L"},
}

// agoKeys say when something was: any of them.
var agoKeys = []string{"miles_ago", "days_ago", "months_ago", "date"}

func (b *builder) readMoves(n node) {
	for _, i := range n.items() {
		kv := i.keys(append([]string{"map"}, agoKeys...)...)
		m := move{kv: kv, to: map[string]string{}}
		if !kv["miles_ago"].there() {
			i.faultf("a move says miles_ago, so that tires can be followed")
			continue
		}
		m.ago = b.milesAgo(kv)
		switch to := kv["map"]; {
		case to.isKind(yaml.MappingNode):
			for _, e := range to.entries() {
				m.to[b.position(e.value, e.key)] = b.position(e.value, e.value.text())
			}
		case to.there():
			name := to.one(slices.Sorted(maps.Keys(patterns))...)
			for from, where := range patterns[name] {
				m.to[b.position(to, from)] = b.position(to, where)
			}
		default:
			i.faultf("a move needs a map")
		}
		if left, gone := slices.Sorted(maps.Values(m.to)), slices.Sorted(maps.Keys(m.to)); !slices.Equal(left, gone) {
			i.faultf("tires leave %v and arrive at %v: every place needs one", gone, left)
		}
		b.moves = append(b.moves, m)
	}
	slices.SortStableFunc(b.moves, func(x, y move) int { return cmp.Compare(x.ago, y.ago) }) // the latest first
}

func (b *builder) milesAgo(kv map[string]node) float64 {
	if n := kv["miles_ago"]; n.there() {
		return quantity(n, &pb.Distance{}, "miles").GetMiles()
	}
	return 0
}

// dayOf is the day that days_ago, months_ago or date tells, nil when none does.
func (b *builder) dayOf(kv map[string]node) *pb.CalendarDate {
	count := func(n node) int {
		v, _, ok := n.measured()
		if !ok || v != float64(int(v)) {
			n.faultf("a whole number is wanted")
		}
		return int(v)
	}
	var t time.Time
	switch {
	case kv["date"].there():
		t = readDay(kv["date"], "")
	case kv["days_ago"].there():
		t = b.day.AddDate(0, 0, -count(kv["days_ago"]))
	case kv["months_ago"].there():
		t = b.day.AddDate(0, -count(kv["months_ago"]), 0)
	default:
		return nil
	}
	return calendar(t)
}

func (b *builder) odometerAt(kv map[string]node) *pb.Distance {
	if !kv["miles_ago"].there() {
		return nil
	}
	return miles(b.miles - b.milesAgo(kv))
}

// makeTires gives every wheel its tire where tires have to be told apart or
// have something of their own.
func (b *builder) makeTires() {
	needed := false
	for _, k := range []string{"new", "new_mm", "miles", "fitted", "moves", "earlier", "repairs", "tire"} {
		needed = needed || b.kv[k].there()
	}
	if !needed {
		return
	}
	b.tires = map[string]*pb.Tire{}
	positions := []string{"S"}
	for _, p := range b.layout().Positions() {
		positions = append(positions, p.String())
	}
	for i, p := range positions {
		b.tires[p] = &pb.Tire{Id: uuid(tireGroup, i+1), Place: &pb.TirePlace{Where: &pb.TirePlace_Mounted{Mounted: &pb.MountedPlace{Position: p}}}}
	}
	for k, unit := range map[string]protoreflect.Name{"new": "thirty_seconds_inch", "new_mm": "millimeters"} {
		for _, a := range b.byWheel(b.kv[k], false) {
			if a.value.isKind(yaml.ScalarNode) && a.value.text() == "unknown" {
				continue
			}
			b.tires[a.position].NewDepths = newDepths(a.value, unit)
		}
	}
	for _, a := range b.byWheel(b.kv["miles"], false) {
		b.tires[a.position].FittedOdometer = miles(b.miles - quantity(a.value, &pb.Distance{}, "miles").GetMiles())
	}
	for _, a := range b.byWheel(b.kv["fitted"], false) {
		b.tires[a.position].FittedDate = calendar(readDay(a.value, ""))
	}
	for _, a := range b.byWheel(b.kv["tire"], true) {
		if a.value.isKind(yaml.MappingNode) {
			for _, e := range a.value.entries() {
				if e.key == "maker_policy" {
					b.tires[a.position].MakerPolicy = policy(e.value)
				}
			}
		}
	}
}

// policy is what the tire's maker says of repairs.
func policy(n node) *pb.TireMakerPolicy {
	said := map[string]pb.Answer{"allows": pb.Answer_ANSWER_YES, "forbids": pb.Answer_ANSWER_NO, "unknown": pb.Answer_ANSWER_UNKNOWN}
	return &pb.TireMakerPolicy{RepairPermitted: said[n.one("allows", "forbids", "unknown")]}
}

func newDepths(n node, unit protoreflect.Name) *pb.NewDepths {
	items := n.items()
	if len(items) == 1 {
		return &pb.NewDepths{Grooves: []*pb.GrooveDepth{{Depth: quantity(items[0], &pb.Depth{}, unit)}}}
	}
	ds := &pb.NewDepths{}
	for _, r := range across(n, 0, unit, 0) {
		ds.Grooves = append(ds.Grooves, &pb.GrooveDepth{Place: r.GetPlace(), Depth: r.GetDepth()})
	}
	return ds
}

// before is where the tire that is at a position now was before the latest so
// many moves.
func (b *builder) before(now string, moves int) string {
	for _, m := range b.moves[:moves] {
		for from, to := range m.to {
			if to == now {
				now = from
				break
			}
		}
	}
	return now
}

// movesSince counts the moves at an earlier time or after it: a visit at the
// time of a move saw the tires before it.
func (b *builder) movesSince(ago float64) int {
	n := 0
	for n < len(b.moves) && b.moves[n].ago <= ago {
		n++
	}
	return n
}

// tireAt is the id of the tire that was at a position before so many moves.
func (b *builder) tireAt(position string, moves int) string {
	for now, t := range b.tires {
		if b.before(now, moves) == position {
			return t.Id
		}
	}
	return ""
}

// history adds the tires, earlier visits, moves, repairs and work.
func (b *builder) history(req *pb.AssessVisitRequest) {
	for _, p := range slices.Sorted(maps.Keys(b.tires)) {
		if p == "S" && !slices.ContainsFunc(req.Inspection.Wheels, func(w *pb.WheelReport) bool { return w.Position == "S" }) {
			continue
		}
		req.Tires = append(req.Tires, b.tires[p])
	}
	b.addMoves(req)
	for _, i := range b.kv["earlier"].items() {
		kv := i.keys(slices.Concat(agoKeys, readingKeys, []string{"conditions"})...)
		e := &pb.Inspection{LocalDate: b.dayOf(kv), Odometer: b.odometerAt(kv), Conditions: readConditions(kv["conditions"]), Gauges: b.gauges()}
		switch {
		case e.LocalDate == nil && e.Odometer == nil:
			i.faultf("an earlier visit says when it was: one of %s", strings.Join(agoKeys, ", "))
		case e.Odometer == nil && len(b.moves) > 0:
			i.faultf("tires were moved: the visit says miles_ago, so that they can be followed")
		}
		e.Wheels = b.readings(kv, b.movesSince(b.milesAgo(kv)))
		req.Earlier = append(req.Earlier, e)
	}
	for _, i := range b.kv["work"].items() {
		kv := i.keys(append([]string{"kind", "positions", "in_range", "words"}, agoKeys...)...)
		w := &pb.WorkDone{Date: b.dayOf(kv), Odometer: b.odometerAt(kv), Words: kv["words"].text()}
		w.Kind = pb.WorkKind(kv["kind"].enum(w.Kind.Descriptor(), nil))
		for _, p := range kv["positions"].items() {
			ps := b.places(p.text())
			if len(ps) == 0 {
				p.faultf("no such wheel; the wheels are %v", b.layout().Positions())
			}
			w.Positions = append(w.Positions, ps...)
		}
		if r := kv["in_range"]; r.there() {
			w.InRange = r.answer()
		}
		if w.Date == nil && w.Odometer == nil {
			w.Date, w.Odometer = req.Inspection.LocalDate, req.Inspection.Odometer
		}
		req.WorkDone = append(req.WorkDone, w)
	}
	n := 0
	for _, a := range b.byWheel(b.kv["repairs"], false) {
		for _, m := range a.value.items() {
			n++
			method := pb.RepairMethod(m.enum(pb.RepairMethod(0).Descriptor(), map[string]string{"string-plug": "plug-only", "plug": "plug-only", "patch": "patch-only"}))
			req.Repairs = append(req.Repairs, &pb.Repair{Id: uuid(repairGroup, n), TireId: b.tires[a.position].Id, Method: method})
		}
	}
}

// addMoves writes where each tire was first mounted, when that is told, and
// every move since, the earliest first.
func (b *builder) addMoves(req *pb.AssessVisitRequest) {
	record := func(odometer *pb.Distance, day *pb.CalendarDate, undone int, moved func(to string) bool) {
		ms := &pb.TireMoves{Id: uuid(moveGroup, len(req.Moves)+1), Odometer: odometer, LocalDate: day}
		for _, now := range slices.Sorted(maps.Keys(b.tires)) {
			if to := b.before(now, undone); now != "S" && moved(to) {
				ms.Moves = append(ms.Moves, &pb.TireMove{TireId: b.tires[now].Id,
					To: &pb.TirePlace{Where: &pb.TirePlace_Mounted{Mounted: &pb.MountedPlace{Position: to}}}})
			}
		}
		req.Moves = append(req.Moves, ms)
	}
	if n := len(b.moves); n > 0 && b.tires["1L"].GetFittedOdometer() != nil {
		record(b.tires["1L"].FittedOdometer, nil, n, func(string) bool { return true })
	}
	for i, m := range slices.Backward(b.moves) {
		record(b.odometerAt(m.kv), b.dayOf(m.kv), i, func(to string) bool {
			return slices.Contains(slices.Collect(maps.Values(m.to)), to)
		})
	}
}
