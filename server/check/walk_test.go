package check

import (
	"maps"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/reflect/protoregistry"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// spot is one field that a request can hold, reached by the fields before it;
// of lists, by their first entry.
type spot []protoreflect.FieldDescriptor

func (s spot) field() protoreflect.FieldDescriptor { return s[len(s)-1] }

func (s spot) path() string {
	var parts []string
	for _, fd := range s {
		name := fd.JSONName()
		if fd.IsList() {
			name += "[0]"
		}
		parts = append(parts, name)
	}
	return strings.Join(parts, ".")
}

// holding makes a request that holds nothing but a value at the spot.
func (s spot) holding(v protoreflect.Value) *pb.AssessVisitRequest {
	req := &pb.AssessVisitRequest{}
	m := req.ProtoReflect()
	for i, fd := range s {
		last := i == len(s)-1
		switch {
		case fd.IsList() && last && !v.IsValid():
			m.Mutable(fd).List().AppendMutable()
		case fd.IsList() && last:
			m.Mutable(fd).List().Append(v)
		case fd.IsList():
			m = m.Mutable(fd).List().AppendMutable().Message()
		case last && !v.IsValid():
			m.Mutable(fd)
		case last:
			m.Set(fd, v)
		default:
			m = m.Mutable(fd).Message()
		}
	}
	return req
}

// spots lists every field below a message, each as often as it can be reached.
func spots(md protoreflect.MessageDescriptor, before spot) []spot {
	var all []spot
	for i := range md.Fields().Len() {
		s := append(slices.Clone(before), md.Fields().Get(i))
		all = append(all, s)
		if s.field().Message() != nil {
			all = append(all, spots(s.field().Message(), s)...)
		}
	}
	return all
}

func ofVisit() []spot { return spots((&pb.AssessVisitRequest{}).ProtoReflect().Descriptor(), nil) }

// refused demands a problem with a path, and one of its texts when one is given.
func refused(t *testing.T, req *pb.AssessVisitRequest, path, problem string) {
	t.Helper()
	ps := AssessVisit(req)
	for _, p := range ps {
		if p.Path == path && strings.HasPrefix(p.Problem, problem) {
			return
		}
	}
	t.Errorf("%s: want %q, got %v", path, problem, ps)
}

func isQuantity(fd protoreflect.FieldDescriptor) bool {
	return fd.Message() != nil && fd.Message().Oneofs().ByName(asRead) != nil
}

func TestEveryQuantityIsCheckedWhereverItStands(t *testing.T) {
	seen := 0
	for _, s := range ofVisit() {
		if !isQuantity(s.field()) {
			continue
		}
		seen++
		refused(t, s.holding(protoreflect.Value{}), s.path(), "no number is given")
		members := s.field().Message().Oneofs().ByName(asRead).Fields()
		for i := range members.Len() {
			for _, n := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
				number := append(slices.Clone(s), members.Get(i))
				refused(t, number.holding(protoreflect.ValueOfFloat64(n)), s.path(), notFinite)
			}
			// No quantity of a visit can be this large or this small.
			number := append(slices.Clone(s), members.Get(i))
			if !inSpread(s) {
				refused(t, number.holding(protoreflect.ValueOfFloat64(1e15)), s.path(), "")
				refused(t, number.holding(protoreflect.ValueOfFloat64(-1e15)), s.path(), "")
			}
		}
	}
	if seen < 100 {
		t.Errorf("%d quantities seen", seen)
	}
}

// inSpread tells whether a quantity is an uncertainty, whose kind is that of its
// gauge; one of another kind is refused for that.
func inSpread(s spot) bool {
	return slices.ContainsFunc(s, func(fd protoreflect.FieldDescriptor) bool {
		return fd.Message() != nil && fd.Message().FullName() == "gaugebook.v1.Quantity"
	})
}

func TestEveryQuantityHasItsLimitsAndUnits(t *testing.T) {
	for _, s := range ofVisit() {
		fd := s.field()
		if !isQuantity(fd) || inSpread(s) {
			continue
		}
		if scales[fd.Message().FullName()].in == nil {
			t.Errorf("%s has no limits", fd.Message().FullName())
		}
		members := fd.Message().Oneofs().ByName(asRead).Fields()
		for i := range members.Len() {
			if symbol(members.Get(i).Name()) == "" {
				t.Errorf("%s has no unit", members.Get(i).FullName())
			}
		}
	}
}

func TestEveryNumberIsFinite(t *testing.T) {
	for _, s := range ofVisit() {
		if s.field().Kind() == protoreflect.DoubleKind && !isQuantity(s[len(s)-2]) {
			refused(t, s.holding(protoreflect.ValueOfFloat64(math.NaN())), s.path(), notFinite)
		}
	}
}

func TestEveryDayIsOfTheCalendar(t *testing.T) {
	for _, s := range ofVisit() {
		if fd := s.field(); fd.Message() != nil && fd.Message().FullName() == "gaugebook.v1.CalendarDate" {
			refused(t, s.holding(protoreflect.ValueOfMessage(day(2026, 6, 31).ProtoReflect())), s.path(), "no day of the calendar")
		}
	}
}

func TestEveryTextIsLimited(t *testing.T) {
	long := protoreflect.ValueOfString(strings.Repeat("é", maxText+1))
	for _, s := range ofVisit() {
		if s.field().Kind() == protoreflect.StringKind {
			refused(t, s.holding(long), s.path(), "a text is at most 2000 characters")
		}
	}
}

// Fields are told by their names, so that a new one cannot be forgotten.
func TestEveryIDAndPositionHasItsForm(t *testing.T) {
	for _, s := range ofVisit() {
		fd := s.field()
		if fd.Kind() != protoreflect.StringKind {
			continue
		}
		name := string(fd.Name())
		switch {
		case name == "sensor_id": // as the sensor's tool shows it
		case name == "id", strings.HasSuffix(name, "_id"):
			refused(t, s.holding(protoreflect.ValueOfString("7")), s.path(), "no UUID")
		case strings.Contains(name, "position"):
			refused(t, s.holding(protoreflect.ValueOfString("LF")), s.path(), "no position")
		case strings.HasSuffix(name, "sha256"):
			refused(t, s.holding(protoreflect.ValueOfString("7")), s.path(), "no SHA-256")
		}
	}
}

func TestTablesNameWhatTheContractHas(t *testing.T) {
	names := slices.Concat(slices.Collect(maps.Keys(scales)), slices.Collect(maps.Keys(spreads)),
		slices.Collect(maps.Keys(narrower)), slices.Collect(maps.Keys(numbers)))
	for _, name := range names {
		if _, err := protoregistry.GlobalFiles.FindDescriptorByName(name); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	resolution := (&pb.Gauge{}).ProtoReflect().Descriptor().Oneofs().ByName("resolution").Fields()
	for number := range pb.GaugeKind_name {
		measures, known := gaugesOf[pb.GaugeKind(number)]
		if known != (number != 0) {
			t.Errorf("what %v measures is not told", pb.GaugeKind(number))
		}
		for _, of := range measures {
			if resolution.ByName(of) == nil {
				t.Errorf("%v measures %s", pb.GaugeKind(number), of)
			}
		}
	}
}

func TestNothingMissingPanics(t *testing.T) {
	same(t, AssessVisit(nil), []string{"inspection: there is no visit to judge; an inspection"})
	same(t, Vehicle("vehicle", nil), nil)
	same(t, Inspection("inspection", nil, nil), []string{"inspection: there is nothing to judge; wheels, the spare, work done, a photo, or what the customer notices or asks"})
	for _, depth := range []int{0, 1, 2, 3, 4, 5, 6} {
		req := &pb.AssessVisitRequest{}
		hollow(reflect.ValueOf(req).Elem(), depth)
		AssessVisit(req)
	}
	for _, s := range ofVisit() {
		if s.field().Message() != nil {
			AssessVisit(s.holding(protoreflect.Value{}))
		}
	}
	for _, req := range []*pb.AssessVisitRequest{
		{Inspection: &pb.Inspection{Conditions: &pb.Conditions{Atmosphere: &pb.Conditions_Barometer{}}}},
		{Inspection: &pb.Inspection{Gauges: []*pb.Gauge{{Resolution: &pb.Gauge_Pressure{}, Accuracy: &pb.Quantity{Amount: &pb.Quantity_Date{}}}}}},
		{Moves: []*pb.TireMoves{{Moves: []*pb.TireMove{{To: &pb.TirePlace{Where: &pb.TirePlace_Mounted{}}}}}}},
		{Inspection: &pb.Inspection{Wheels: []*pb.WheelReport{{Taped: &pb.TapedSize{Taped: &pb.TapedSize_Diameter{}}}}}},
	} {
		if AssessVisit(req) == nil {
			t.Errorf("%v: nothing refused", req)
		}
	}
}

// hollow fills a message with empty messages to a depth, and its lists with one
// such entry and one that is nil.
func hollow(m reflect.Value, depth int) {
	for i := range m.NumField() {
		f := m.Field(i)
		switch {
		case !m.Type().Field(i).IsExported():
		case f.Kind() == reflect.Pointer && f.Type().Elem().Kind() == reflect.Struct && depth > 0:
			f.Set(reflect.New(f.Type().Elem()))
			hollow(f.Elem(), depth-1)
		case f.Kind() == reflect.Slice && f.Type().Elem().Kind() == reflect.Pointer:
			f.Set(reflect.MakeSlice(f.Type(), 2, 2))
			if depth > 0 {
				f.Index(0).Set(reflect.New(f.Type().Elem().Elem()))
				hollow(f.Index(0).Elem(), depth-1)
			}
		}
	}
}

// sound demands what holds for every answer, whatever was asked.
func sound(t *testing.T, req *pb.AssessVisitRequest) {
	t.Helper()
	before := proto.Clone(req)
	ps := AssessVisit(req)
	if !proto.Equal(req, before) {
		t.Fatal("the request was changed")
	}
	if again := AssessVisit(req); !slices.Equal(ps, again) {
		t.Fatalf("two answers:\n%v\n%v", ps, again)
	}
	var last []int
	for i, p := range ps {
		if i == MaxProblems {
			break // says that there are more
		}
		if p.Problem == "" {
			t.Fatalf("%s: no problem is told", p)
		}
		order, ok := find(req.ProtoReflect(), p.Path)
		if !ok {
			t.Fatalf("%s: no such field in the request", p)
		}
		if slices.Compare(last, order) > 0 {
			t.Fatalf("%s comes too late", p)
		}
		last = order
	}
}

// find tells where in the order of the document a path is; ok is false when the
// contract has no such field or the request no such entry.
func find(m protoreflect.Message, path string) (order []int, ok bool) {
	if path == "" {
		return nil, true
	}
	step, rest, _ := strings.Cut(path, ".")
	name, bracket, isEntry := strings.Cut(strings.TrimSuffix(step, "]"), "[")
	fd := m.Descriptor().Fields().ByJSONName(name)
	if fd == nil || isEntry && !fd.IsList() {
		return nil, false
	}
	index := -1
	if isEntry {
		n, err := strconv.Atoi(bracket)
		if err != nil || n >= m.Get(fd).List().Len() {
			return nil, false
		}
		index = n
	}
	here := []int{fd.Index(), index}
	if rest == "" {
		return here, true
	}
	if fd.Message() == nil || fd.IsList() && !isEntry {
		return nil, false
	}
	next := m.Get(fd)
	if isEntry {
		next = next.List().Get(index)
	}
	below, ok := find(next.Message(), rest)
	return append(here, below...), ok
}

// random fills a message at random; the texts and numbers are those that are
// near some limit.
func random(r *rand.Rand, m protoreflect.Message, often float64) {
	fields := m.Descriptor().Fields()
	for i := range fields.Len() {
		fd := fields.Get(i)
		if r.Float64() > often {
			continue
		}
		switch {
		case fd.IsList():
			list := m.Mutable(fd).List()
			for range r.IntN(4) {
				if fd.Message() != nil {
					random(r, list.AppendMutable().Message(), often)
				} else {
					list.Append(randomValue(r, fd))
				}
			}
		case fd.Message() != nil:
			random(r, m.Mutable(fd).Message(), often)
		default:
			m.Set(fd, randomValue(r, fd))
		}
	}
}

func randomValue(r *rand.Rand, fd protoreflect.FieldDescriptor) protoreflect.Value {
	doubles := []float64{0, math.Copysign(0, -1), -1, 1, 3.2, 40, 40.0000001, 90, 360, 1e9, -1e300, 1e300, math.MaxFloat64,
		math.SmallestNonzeroFloat64, math.NaN(), math.Inf(1), math.Inf(-1), r.NormFloat64() * 100}
	integers := []int32{0, 1, 2, 9, 10, 36, 37, 1900, 2026, 2200, -1, math.MaxInt32, math.MinInt32}
	strings := []string{"", "1L", "2RO", "S", "LF", "LR", "9LO", "US", "UK", "us-light", "us-lite", vehicleID, "{" + tireID + "}",
		"\xff\x00", strings.Repeat("y", 2001), "Ω", "-", "urn:uuid:"}
	switch fd.Kind() {
	case protoreflect.BoolKind:
		return protoreflect.ValueOfBool(r.IntN(2) == 0)
	case protoreflect.DoubleKind:
		return protoreflect.ValueOfFloat64(doubles[r.IntN(len(doubles))])
	case protoreflect.Int32Kind:
		return protoreflect.ValueOfInt32(integers[r.IntN(len(integers))])
	case protoreflect.Int64Kind:
		return protoreflect.ValueOfInt64(r.Int64() >> r.IntN(64) * int64(1-2*r.IntN(2)))
	case protoreflect.EnumKind:
		return protoreflect.ValueOfEnum(protoreflect.EnumNumber(r.IntN(9) - 1))
	case protoreflect.StringKind:
		return protoreflect.ValueOfString(strings[r.IntN(len(strings))])
	}
	panic("a visit has no field of kind " + fd.Kind().String())
}

func TestRandomRequests(t *testing.T) {
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 1))
		req := &pb.AssessVisitRequest{}
		random(r, req.ProtoReflect(), 0.1+0.8*r.Float64()*r.Float64())
		sound(t, req)
	}
}

func FuzzAssessVisit(f *testing.F) {
	for _, row := range rows {
		req := visit()
		row.spoil(req)
		if data, err := protojson.Marshal(req); err == nil && len(data) < 10_000 {
			f.Add(data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		req := &pb.AssessVisitRequest{}
		if protojson.Unmarshal(data, req) == nil {
			sound(t, req)
		}
	})
}
