package judge_test

import (
	"bytes"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/layout"
)

// unitOf is what a number of the contract means by the name of its field.
type unitOf struct {
	of     string  // the kind of quantity
	factor float64 // to the base unit: mm, kPa, K, m, kg
	zero   float64 // where the scale of a temperature begins, in its own degrees
	finest float64 // the resolution to which it leaves calc, in its own unit
}

// Factors of NIST Special Publication 811, Appendix B. The finest steps are
// those that unit.Amount.Rounded documents.
var unitsOfFields = map[protoreflect.Name]unitOf{
	"thirty_seconds_inch":                {"length", 25.4 / 32, 0, 0.01},
	"millimeters":                        {"length", 1, 0, 0.001},
	"inches":                             {"length", 25.4, 0, 0.0001},
	"psi":                                {"pressure", 0.45359237 * 9.80665 / (0.0254 * 0.0254) / 1000, 0, 0.1},
	"kilopascals":                        {"pressure", 1, 0, 0.1},
	"bar":                                {"pressure", 100, 0, 0.01},
	"hectopascals":                       {"air pressure", 0.1, 0, 0.1},
	"inches_mercury":                     {"air pressure", 3.386389, 0, 0.01},
	"fahrenheit":                         {"temperature", 5.0 / 9, -459.67, 0.1},
	"celsius":                            {"temperature", 1, -273.15, 0.1},
	"miles":                              {"distance", 1609.344, 0, 1},
	"kilometers":                         {"distance", 1000, 0, 1},
	"feet":                               {"height", 0.3048, 0, 1},
	"meters":                             {"height", 1, 0, 1},
	"pounds":                             {"mass", 0.45359237, 0, 1},
	"kilograms":                          {"mass", 1, 0, 1},
	"newton_meters":                      {"torque", 1, 0, 1},
	"pound_feet":                         {"torque", 0.45359237 * 9.80665 * 0.3048, 0, 1},
	"thirty_seconds_inch_per_1000_miles": {"wear rate", 25.4 / 32 / 1.609344, 0, 0.001},
	"millimeters_per_1000_kilometers":    {"wear rate", 1, 0, 0.001},
	"psi_per_month":                      {"pressure loss", 0.45359237 * 9.80665 / (0.0254 * 0.0254) / 1000, 0, 0.1},
	"kilopascals_per_month":              {"pressure loss", 1, 0, 0.1},
	"bar_per_month":                      {"pressure loss", 100, 0, 0.01},
	"degrees":                            {"angle", 1, 0, 0.1},
	"percent":                            {"share", 1, 0, 0.1},
	"count":                              {"count", 1, 0, 1},
	"years":                              {"years", 1, 0, 0.1},
}

// asRead gives the field that a quantity holds its number in.
func asRead(m protoreflect.Message) protoreflect.FieldDescriptor {
	return m.WhichOneof(m.Descriptor().Oneofs().ByName("as_read"))
}

// inBase is the number of a quantity in the base unit of its kind.
func inBase(m protoreflect.Message) float64 {
	fd := asRead(m)
	u := unitsOfFields[fd.Name()]
	return (m.Get(fd).Float() - u.zero) * u.factor
}

// eachMessage calls visit with every message in m, m first. Where visit gives
// false it goes no deeper.
func eachMessage(m protoreflect.Message, visit func(protoreflect.Message) bool) {
	if !visit(m) {
		return
	}
	m.Range(func(fd protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		switch {
		case fd.Message() == nil:
		case fd.IsList():
			for i := range v.List().Len() {
				eachMessage(v.List().Get(i).Message(), visit)
			}
		default:
			eachMessage(v.Message(), visit)
		}
		return true
	})
}

// inOtherUnits is the visit with every reading and label in another unit, as far
// as there is one. Gauges stay: how fine a gauge is is no reading.
func inOtherUnits(req *pb.AssessVisitRequest, r *rand.Rand) *pb.AssessVisitRequest {
	out := proto.Clone(req).(*pb.AssessVisitRequest)
	eachMessage(out.ProtoReflect(), func(m protoreflect.Message) bool {
		if m.Descriptor().FullName() == "gaugebook.v1.Gauge" {
			return false
		}
		one := m.Descriptor().Oneofs().ByName("as_read")
		if one == nil || asRead(m) == nil {
			return true
		}
		base, from := inBase(m), asRead(m)
		to := one.Fields().Get(r.IntN(one.Fields().Len()))
		if u, known := unitsOfFields[to.Name()]; known && to != from {
			m.Clear(from)
			m.Set(to, protoreflect.ValueOfFloat64(base/u.factor+u.zero))
		}
		return false
	})
	return out
}

// mirrored is the visit, or its assessment, of the same vehicle seen in a mirror.
func mirrored[M proto.Message](m M) M {
	out := proto.Clone(m).(M)
	eachMessage(out.ProtoReflect(), func(m protoreflect.Message) bool {
		mirroredKind(m.Interface())
		m.Range(func(fd protoreflect.FieldDescriptor, v protoreflect.Value) bool {
			switch {
			case fd.Kind() != protoreflect.StringKind:
			case fd.IsList():
				for i := range v.List().Len() {
					v.List().Set(i, protoreflect.ValueOfString(mirroredText(v.List().Get(i).String())))
				}
			default:
				m.Set(fd, protoreflect.ValueOfString(mirroredText(v.String())))
			}
			return true
		})
		return true
	})
	return out
}

// mirroredText mirrors a position, the positions of a finding's id, and the
// evidence that names a side.
func mirroredText(s string) string {
	s = sides.Replace(s)
	switch s {
	case "tread.left-is-lower":
		return "tread.right-is-lower"
	case "tread.right-is-lower":
		return "tread.left-is-lower"
	}
	before, list := "", s
	if i := strings.LastIndexByte(s, ':'); i >= 0 {
		before, list = s[:i+1], s[i+1:]
	}
	var at []layout.Position
	for name := range strings.SplitSeq(list, ",") {
		p, err := layout.Parse(name)
		if err != nil {
			return s
		}
		at = append(at, p.Mirror())
	}
	slices.SortFunc(at, layout.Position.Compare)
	names := make([]string, len(at))
	for i, p := range at {
		names[i] = p.String()
	}
	return before + strings.Join(names, ",")
}

// shuffled is the visit told in another order. The order of gauges and of
// rulebooks asked for means something, as does that of axles and of places.
func shuffled(req *pb.AssessVisitRequest, r *rand.Rand) *pb.AssessVisitRequest {
	out := proto.Clone(req).(*pb.AssessVisitRequest)
	eachMessage(out.ProtoReflect(), func(m protoreflect.Message) bool {
		m.Range(func(fd protoreflect.FieldDescriptor, v protoreflect.Value) bool {
			switch fd.Name() {
			case "gauges", "rulebook_ids", "axles", "driven_in":
				return true
			}
			if fd.IsList() {
				l := v.List()
				r.Shuffle(l.Len(), func(i, k int) {
					a, b := l.Get(i), l.Get(k)
					l.Set(i, b)
					l.Set(k, a)
				})
			}
			return true
		})
		return true
	})
	return out
}

// readable is an assessment whose findings have ids that can be read and mirrored:
// code, rule and wheels. Lines of work have none.
func readable(a *pb.Assessment) *pb.Assessment {
	out := proto.CloneOf(a)
	ids := map[string]string{}
	for _, f := range out.GetFindings() {
		ids[f.GetId()] = idOf(f)
		f.Id = idOf(f)
	}
	for _, w := range out.GetWork() {
		w.Id = ""
		for i, id := range w.GetFindingIds() {
			w.FindingIds[i] = ids[id]
		}
	}
	for _, r := range out.GetRepairs() {
		for i, id := range r.GetFindingIds() {
			r.FindingIds[i] = ids[id]
		}
	}
	return out
}

// idOf is a finding's code, its rule and its wheels.
func idOf(f *pb.Finding) string {
	id := f.GetCode()
	if r := ruleOf(f).GetId(); r != "" {
		id += "/" + r
	}
	return id + ":" + strings.Join(f.GetPositions(), ",")
}

// withoutOrder sorts every list, so that two assessments can be compared that
// list the same in another order.
func withoutOrder(a *pb.Assessment) *pb.Assessment {
	var inside func(m protoreflect.Message)
	inside = func(m protoreflect.Message) {
		m.Range(func(fd protoreflect.FieldDescriptor, v protoreflect.Value) bool {
			switch {
			case fd.IsList() && fd.Message() != nil:
				l := v.List()
				ms := make([]protoreflect.Message, l.Len())
				for i := range ms {
					ms[i] = l.Get(i).Message()
					inside(ms[i])
				}
				slices.SortFunc(ms, func(a, b protoreflect.Message) int { return bytes.Compare(wire(a.Interface()), wire(b.Interface())) })
				for i := range ms {
					l.Set(i, protoreflect.ValueOfMessage(ms[i]))
				}
			case fd.IsList() && fd.Kind() == protoreflect.StringKind:
				l := v.List()
				ss := make([]string, l.Len())
				for i := range ss {
					ss[i] = l.Get(i).String()
				}
				slices.Sort(ss)
				for i := range ss {
					l.Set(i, protoreflect.ValueOfString(ss[i]))
				}
			case fd.Message() != nil:
				inside(v.Message())
			}
			return true
		})
	}
	out := proto.Clone(a).(*pb.Assessment)
	inside(out.ProtoReflect())
	return out
}

// wire is the one form that equal messages have.
func wire(m proto.Message) []byte {
	b, err := proto.MarshalOptions{Deterministic: true}.Marshal(m)
	if err != nil {
		panic(err)
	}
	return b
}

// number is a quantity of an assessment with where it stands.
type number struct {
	path        string
	shown, step float64 // in its unit
	base        float64 // in the base unit of its kind
	finest      float64 // the step in the base unit
}

// withoutNumbers takes the quantities out of an assessment and lists them.
func withoutNumbers(a *pb.Assessment) (bare *pb.Assessment, numbers []number) {
	bare = proto.Clone(a).(*pb.Assessment)
	var path []string
	var inside func(m protoreflect.Message)
	inside = func(m protoreflect.Message) {
		fields := m.Descriptor().Fields()
		for i := range fields.Len() {
			fd := fields.Get(i)
			if !m.Has(fd) {
				continue
			}
			path = append(path, string(fd.Name()))
			v := m.Get(fd)
			u, known := unitsOfFields[fd.Name()]
			switch {
			case fd.Kind() == protoreflect.DoubleKind && known:
				path[len(path)-1] = u.of
				step := u.finest
				if isAhead(path) {
					step = max(step, coarseness(v.Float()))
				}
				numbers = append(numbers, number{strings.Join(path, "."), v.Float(), u.finest, (v.Float() - u.zero) * u.factor, step * u.factor})
				m.Clear(fd)
			case fd.Message() == nil:
			case fd.IsList():
				for k := range v.List().Len() {
					inside(v.List().Get(k).Message())
				}
			default:
				inside(v.Message())
			}
			path = path[:len(path)-1]
		}
	}
	inside(bare.ProtoReflect())
	return bare, numbers
}

// isAhead tells of a number about what lies ahead, which is told no finer than it is
// known: how fine that is in a unit, its figures show.
func isAhead(path []string) bool {
	last := path[len(path)-1]
	return path[0] == "findings" && (last == "distance" || last == "wear rate")
}

// coarseness is five of the last figure of a number that is no zero: what is rounded to
// five hundred may end with a full thousand.
func coarseness(n float64) float64 {
	if n == 0 {
		return 0
	}
	step := 1e6
	for steps := n / step; math.Abs(steps-math.Round(steps)) > 1e-6; steps = n / step {
		step /= 10
	}
	return 5 * step
}

// alike compares the numbers of two assessments within their rounding. A margin
// is the difference of two, each rounded.
func alike(a, b []number) (string, bool) {
	if len(a) != len(b) {
		return "more numbers", false
	}
	for i := range a {
		if a[i].path != b[i].path || math.Abs(a[i].base-b[i].base) > (a[i].finest+b[i].finest)*1.01 {
			return a[i].path, false
		}
	}
	return "", true
}

// shownJSON is a message as people can read it in a failed test's log.
func shownJSON(m proto.Message) string {
	data, err := protojson.MarshalOptions{Multiline: true, Indent: " "}.Marshal(m)
	if err != nil {
		return err.Error()
	}
	return string(data)
}

// The changes themselves are checked, or a property over them could not fail.
func TestChangesOfAVisit(t *testing.T) {
	for _, row := range [][2]string{
		{"1L", "1R"}, {"2RO", "2LO"}, {"S", "S"}, {"", ""}, {"P215/60R16 94T", "P215/60R16 94T"},
		{"tread.worn-to-bars/advice.wear-bars:1L", "tread.worn-to-bars/advice.wear-bars:1R"},
		{"wear.toe-in/advice.shape:1L,1R", "wear.toe-in/advice.shape:1L,1R"}, {"wear.x:1L,2R", "wear.x:1R,2L"},
		{"tread.left-is-lower", "tread.right-is-lower"},
	} {
		if got := mirroredText(row[0]); got != row[1] {
			t.Errorf("%q is mirrored to %q, want %q", row[0], got, row[1])
		}
	}
	differ := map[string]int{}
	const examples = 100
	for seed := range examples {
		req := anyVisit.Example(seed)
		r := rand.New(rand.NewPCG(uint64(seed), 2))
		if m := mirrored(req); !proto.Equal(m, req) {
			differ["mirrored"]++
			if back := mirrored(m); !proto.Equal(back, req) {
				t.Fatal("mirrored twice is another visit")
			}
		}
		if !proto.Equal(shuffled(req, r), req) {
			differ["shuffled"]++
		}
		if !proto.Equal(inOtherUnits(req, r), req) {
			differ["in other units"]++
		}
	}
	for _, how := range []string{"mirrored", "shuffled", "in other units"} {
		if differ[how] < examples*8/10 {
			t.Errorf("of %d visits only %d are changed when %s", examples, differ[how], how)
		}
	}
}
