package check

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/types/known/durationpb"
	"google.golang.org/protobuf/types/known/timestamppb"

	gaugebookv1 "gaugebook.dev/proto/gaugebook/v1"
)

// walker stands at one field or message and knows what the checks there need.
// Going on makes a new one, so what it learns on the way holds below that place.
type walker struct {
	found   *faults
	place   *place
	vehicle *gaugebookv1.Vehicle // whose visit it is; nil: not told
	past    bool                 // in an earlier visit: the vehicle may have had other axles
	spread  bool                 // in an uncertainty: quantities are differences
	latest  int                  // which of the visits of a list is the latest

	onVehicle *[]vehicleCheck // where checks are kept that depend on the vehicle; nil: nowhere
}

// place is one step of a path.
type place struct {
	up    *place
	desc  protoreflect.MessageDescriptor // of the message here; nil: no message
	name  string                         // JSON name; at the root the path that the caller gave
	order int                            // of the field in its message
	index int                            // in its list; -1: no list, or the list itself
}

func run(path string, m proto.Message, vehicle *gaugebookv1.Vehicle) []Problem {
	w := root(path, m, vehicle)
	w.message(m.ProtoReflect())
	return w.found.inOrder()
}

func root(path string, m proto.Message, vehicle *gaugebookv1.Vehicle) walker {
	start := &struct {
		found faults
		place place
	}{place: place{desc: m.ProtoReflect().Descriptor(), name: path, index: -1}}
	return walker{found: &start.found, place: &start.place, vehicle: vehicle}
}

// to goes on to a field of the message here.
func (w walker) to(field protoreflect.Name) walker { return w.entry(field, -1) }

// entry goes on to one entry of a list.
func (w walker) entry(list protoreflect.Name, index int) walker {
	return w.into(w.place.desc.Fields().ByName(list), index)
}

func (w walker) into(fd protoreflect.FieldDescriptor, index int) walker {
	w.place = &place{up: w.place, desc: fd.Message(), name: fd.JSONName(), order: fd.Index(), index: index}
	switch fd.FullName() {
	case "gaugebook.v1.AssessVisitRequest.earlier":
		w.past = true
	case "gaugebook.v1.PlanRotationRequest.visits":
		w.past = index != w.latest
	case "gaugebook.v1.Gauge.repeatability", "gaugebook.v1.Gauge.accuracy":
		w.spread = true
	}
	return w
}

// message checks a message and everything in it. Past MaxProblems it does not:
// a request of nothing but problems must not cost more than others.
func (w walker) message(m protoreflect.Message) {
	if w.found.more {
		return
	}
	w.crossFields(m.Interface())
	fields := m.Descriptor().Fields()
	for i := range fields.Len() {
		fd := fields.Get(i)
		switch {
		case fd.IsList() && !m.Has(fd): // most are: an empty list is looked into at a cost
		case fd.IsList():
			list := m.Get(fd).List()
			for j := 0; j < list.Len() && !w.found.more; j++ {
				w.into(fd, j).value(fd, list.Get(j))
			}
		case m.Has(fd), fd.Kind() == protoreflect.Int32Kind && !fd.HasPresence():
			w.into(fd, -1).value(fd, m.Get(fd))
		}
	}
}

// value checks what one field, or one entry of a list, says by itself.
func (w walker) value(fd protoreflect.FieldDescriptor, v protoreflect.Value) {
	switch fd.Kind() {
	case protoreflect.MessageKind:
		if s, ok := w.scaleOf(fd); ok {
			w.quantity(v.Message(), s)
			return
		}
		w.message(v.Message())
	case protoreflect.DoubleKind:
		w.number(fd, v.Float())
	case protoreflect.Int32Kind:
		w.number(fd, float64(v.Int()))
	case protoreflect.StringKind:
		w.text(fd, v.String())
	}
}

func (w walker) number(fd protoreflect.FieldDescriptor, n float64) {
	b, ok := numbers[fd.FullName()]
	switch {
	case math.IsNaN(n) || math.IsInf(n, 0):
		w.add(fmt.Sprint(n), notFinite, "")
	case ok && (n < b.low || n > b.high || b.below && n == b.high):
		w.add(fmt.Sprint(n), b.rule, "")
	}
}

// text checks a text's length and, where it has one, its form. An empty one is
// not told, but in a list.
func (w walker) text(fd protoreflect.FieldDescriptor, s string) {
	if n := utf8.RuneCountInString(s); n > maxText {
		w.add(fmt.Sprintf("%d characters", n), fmt.Sprintf("a text is at most %d characters", maxText), "")
		return
	}
	switch fd.FullName() {
	case "gaugebook.v1.Vehicle.id",
		"gaugebook.v1.Inspection.id", "gaugebook.v1.Inspection.vehicle_id", "gaugebook.v1.Correction.inspection_id",
		"gaugebook.v1.WheelReport.tire_id", "gaugebook.v1.TireFitted.tire_id",
		"gaugebook.v1.Tire.id", "gaugebook.v1.MountedPlace.vehicle_id", "gaugebook.v1.StoredPlace.set_id",
		"gaugebook.v1.TireMoves.id", "gaugebook.v1.TireMove.tire_id",
		"gaugebook.v1.TireSet.id", "gaugebook.v1.TireSet.vehicle_id", "gaugebook.v1.TireOfSet.tire_id",
		"gaugebook.v1.Repair.id", "gaugebook.v1.Repair.tire_id",
		"gaugebook.v1.ProposedRotation.inspection_id", "gaugebook.v1.VehicleEvent.id", "gaugebook.v1.VehicleEvent.vehicle_id":
		w.id(s)
	case "gaugebook.v1.WheelReport.position",
		"gaugebook.v1.Complaint.position",
		"gaugebook.v1.SpareReport.in_service_position",
		"gaugebook.v1.SensorReading.shown_position":
		w.fits(func(w walker) { w.position(s) })
	case "gaugebook.v1.WorkDone.positions",
		"gaugebook.v1.MountedPlace.position",
		"gaugebook.v1.TireOfSet.came_off_position", "gaugebook.v1.TireOfSet.next_position":
		w.positionOfAny(s)
	case "gaugebook.v1.Inspection.photo_sha256", "gaugebook.v1.Observation.photo_sha256":
		w.sha256(s)
	case "gaugebook.v1.Jurisdiction.country":
		w.country(s)
	case "gaugebook.v1.Jurisdiction.state":
		w.state(s)
	case "gaugebook.v1.JudgeBy.rulebook_ids":
		w.rulebookID(s)
	}
}

// crossFields checks what the fields of one message say together.
func (w walker) crossFields(m proto.Message) {
	switch m := m.(type) {
	case *gaugebookv1.AssessVisitRequest:
		w.visitRequest(m)
	case *gaugebookv1.PlanRotationRequest:
		w.rotation(m)
	case *gaugebookv1.EstimateLifeRequest, *gaugebookv1.MeasuredDepth:
		w.life(m)
	case *gaugebookv1.JudgeBy:
		w.judgeBy(m)
	case *gaugebookv1.Axles:
		w.axles(m)
	case *gaugebookv1.VehicleUse:
		w.use(m)
	case *gaugebookv1.Jurisdiction:
		w.jurisdiction(m)
	case *gaugebookv1.ListVehiclesRequest:
		w.listBy(m)
	case *gaugebookv1.Shop:
		w.shop(m)
	case *gaugebookv1.ShopGauges:
		w.required(len(m.GetGauges()) > 0, "gauges", "the gauges of the shop; to have none, clear them")
		w.gauges(m.GetGauges())
	case *gaugebookv1.TireMoves:
		w.tireMoves(m)
	case *gaugebookv1.TireMove:
		w.tireMove(m)
	case *gaugebookv1.TirePlace:
		w.tirePlace(m)
	case *gaugebookv1.MountedPlace:
		w.required(m.GetPosition() != "", "position", positionForm)
	case *gaugebookv1.TireSet:
		w.tireSet(m)
	case *gaugebookv1.VehicleEvent:
		w.vehicleEvent(m)
	default:
		w.crossReport(m)
	}
}

// crossReport checks what the fields of one message of a visit, or of a quantity, say
// together.
func (w walker) crossReport(m proto.Message) {
	switch m := m.(type) {
	case *gaugebookv1.Inspection:
		w.inspection(m)
	case *gaugebookv1.Correction:
		w.correction(m)
	case *gaugebookv1.Complaint:
		w.complaint(m)
	case *gaugebookv1.AxleWeight:
		w.axleWeight(m)
	case *gaugebookv1.WheelReport:
		w.wheel(m)
	case *gaugebookv1.TreadReading:
		w.treadReading(m)
	case *gaugebookv1.HighLowPair:
		w.highLowPair(m)
	case *gaugebookv1.PressureReading:
		w.pressureReading(m)
	case *gaugebookv1.TapedSize:
		w.tapedSize(m)
	case *gaugebookv1.FastenerWork:
		w.fastenerWork(m)
	case *gaugebookv1.Looked:
		w.looked(m)
	case *gaugebookv1.Place:
		w.placed(m)
	case *gaugebookv1.NewDepths:
		w.required(len(m.GetGrooves()) > 0, "grooves", "one depth for every groove, or one for each that is known")
	case *gaugebookv1.GrooveDepth:
		w.grooveDepth(m)
	case *gaugebookv1.Gauge:
		w.gauge(m)
	case *gaugebookv1.Quantity:
		w.amount(m)
	case *gaugebookv1.CalendarDate:
		w.calendarDate(m)
	case *timestamppb.Timestamp, *durationpb.Duration:
		w.time(m)
	}
}

// time checks a moment or a span of time.
func (w walker) time(m proto.Message) {
	switch m := m.(type) {
	case *timestamppb.Timestamp:
		if err := m.CheckValid(); err != nil {
			w.add(fmt.Sprintf("%d s and %d ns", m.GetSeconds(), m.GetNanos()), "no such time", "a time of the years 1 to 9999")
		}
	case *durationpb.Duration:
		if m.CheckValid() != nil || m.AsDuration() < 0 {
			w.add(fmt.Sprintf("%d s and %d ns", m.GetSeconds(), m.GetNanos()), "a span of time is zero or more", "")
		}
	}
}

// required reports a field that is not there.
func (w walker) required(there bool, field protoreflect.Name, want string) {
	if !there {
		w.to(field).add("", "missing", want)
	}
}

// add reports a problem at the walker's place.
func (w walker) add(given, problem, want string) {
	if w.found.full() {
		w.found.more = true
		return
	}
	w.found.list = append(w.found.list, fault{w.place.key(), Problem{w.place.String(), given, problem, want}})
}

// key sorts places in the order of the document.
func (p *place) key() []int {
	if p.up == nil {
		return nil
	}
	return append(p.up.key(), p.order, p.index)
}

// String is the path by JSON names.
func (p *place) String() string {
	s := p.name
	if p.index >= 0 {
		s += "[" + strconv.Itoa(p.index) + "]"
	}
	if p.up == nil {
		return s
	}
	if up := p.up.String(); up != "" {
		return up + "." + s
	}
	return s
}

// faults gathers problems, up to MaxProblems.
type faults struct {
	list []fault
	more bool // there was a further problem
}

type fault struct {
	key []int
	Problem
}

// full tells that a further problem would not be listed.
func (f *faults) full() bool { return len(f.list) == MaxProblems }

func (f *faults) inOrder() []Problem {
	slices.SortStableFunc(f.list, func(a, b fault) int { return slices.Compare(a.key, b.key) })
	var ps []Problem
	for _, x := range f.list {
		ps = append(ps, x.Problem)
	}
	if f.more {
		ps = append(ps, Problem{Problem: "and more"})
	}
	return ps
}

// repeated calls again for each entry that an earlier one equals by its key,
// with both indexes. An entry whose key is not ok equals none.
func repeated[T any, K comparable](list []T, key func(T) (k K, ok bool), again func(i, first int)) {
	firsts := map[K]int{}
	for i, e := range list {
		k, ok := key(e)
		if !ok {
			continue
		}
		if first, seen := firsts[k]; seen {
			again(i, first)
		} else {
			firsts[k] = i
		}
	}
}

// text is the key of entries that are texts; an empty one equals none.
func text(s string) (string, bool) { return s, s != "" }

// ids lists the ids of records.
func ids[T interface{ GetId() string }](list []T) []string {
	var all []string
	for _, r := range list {
		all = append(all, r.GetId())
	}
	return all
}

// onceByID reports records of a list that have the id of an earlier one.
func (w walker) onceByID(list protoreflect.Name, all []string) {
	w.once(list, "id", all)
}

// once reports entries of a list whose field has the text of an earlier one's.
func (w walker) once(list, field protoreflect.Name, all []string) {
	repeated(all, text, func(i, first int) {
		l := w.to(list).place.name
		w.entry(list, i).to(field).add(quote(all[i]), fmt.Sprintf("given twice: %s[%d] has it too", l, first), "")
	})
}

// maxShown is how many characters of a text are repeated to its sender.
const maxShown = 60

// quote repeats a text as given, cut when long.
func quote(s string) string {
	if r := []rune(s); len(r) > maxShown {
		s = string(r[:maxShown]) + "…"
	}
	return strconv.Quote(s)
}

// joinOr joins alternatives: "a", "a or b", "a, b or c".
func joinOr(all []string) string {
	last := len(all) - 1
	if last < 1 {
		return strings.Join(all, "")
	}
	return strings.Join(all[:last], ", ") + " or " + all[last]
}
