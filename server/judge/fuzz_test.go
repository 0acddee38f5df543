package judge_test

import (
	"bytes"
	"maps"
	"slices"
	"testing"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
)

// FuzzVisit: whatever check lets pass is judged without panic, the same each
// time, and the answer can be sent.
func FuzzVisit(f *testing.F) {
	for i, l := range readJSONL(f, visitsFile) {
		if i%8 == 0 { // all of them would take the seconds of a short run before the first new one
			f.Add(wire(visitOf(f, l)))
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		req := &pb.AssessVisitRequest{}
		if proto.Unmarshal(data, req) != nil || len(check.AssessVisit(req)) > 0 {
			return
		}
		answer, err := proto.Marshal(judge.Visit(req))
		if err != nil {
			t.Fatalf("the answer cannot be sent: %v\n%s", err, shownJSON(req))
		}
		back := &pb.Assessment{}
		if err := proto.Unmarshal(answer, back); err != nil {
			t.Fatalf("the answer cannot be read: %v", err)
		}
		if !bytes.Equal(wire(back), wire(judge.Visit(req))) {
			t.Fatalf("judged twice, two answers\n%s", shownJSON(req))
		}
	})
}

// takenAsNotTold are the enums whose unknown numbers say no more than none. The
// others say that something is there which is not judged: a class of vehicle, a
// thing seen, a reason not to look.
var takenAsNotTold = []protoreflect.FullName{
	"gaugebook.v1.TreadReading.across", "gaugebook.v1.GrooveDepth.across", "gaugebook.v1.Observation.across",
	"gaugebook.v1.Observation.zone", "gaugebook.v1.Observation.side", "gaugebook.v1.Vehicle.drive",
}

// TestUnknownEnumNumbers: what a newer client says by a number that is not known
// here is judged without panic, and never taken for something else.
func TestUnknownEnumNumbers(t *testing.T) {
	for i, v := range corpus(t) {
		if i%8 != 0 { // 40 visits of all kinds
			continue
		}
		for _, field := range enumsOf(v.visit) {
			for _, n := range []protoreflect.EnumNumber{257, -1} { // as a byte 1 and 255
				got, p := judgedOrPanic(withEnum(v.visit, field, n))
				if p != nil {
					t.Errorf("%s: %s as %d: %v", v.name, field, n, p)
					continue
				}
				if want := judge.Visit(withEnum(v.visit, field, 0)); slices.Contains(takenAsNotTold, field) && !proto.Equal(got, want) {
					t.Errorf("%s: %s as %d is taken for something: %s", v.name, field, n, firstDifference(want, got))
				}
			}
		}
	}
}

func judgedOrPanic(req *pb.AssessVisitRequest) (a *pb.Assessment, panicked any) {
	defer func() { panicked = recover() }()
	return judge.Visit(req), nil
}

// enumsOf are the fields of enums that a visit tells.
func enumsOf(v *pb.AssessVisitRequest) []protoreflect.FullName {
	all := map[protoreflect.FullName]bool{}
	eachMessage(v.ProtoReflect(), func(m protoreflect.Message) bool {
		m.Range(func(fd protoreflect.FieldDescriptor, _ protoreflect.Value) bool {
			if fd.Enum() != nil {
				all[fd.FullName()] = true
			}
			return true
		})
		return true
	})
	return slices.Sorted(maps.Keys(all))
}

// withEnum is the visit with another number wherever it tells a field.
func withEnum(v *pb.AssessVisitRequest, field protoreflect.FullName, n protoreflect.EnumNumber) *pb.AssessVisitRequest {
	out := proto.CloneOf(v)
	eachMessage(out.ProtoReflect(), func(m protoreflect.Message) bool {
		m.Range(func(fd protoreflect.FieldDescriptor, was protoreflect.Value) bool {
			switch {
			case fd.FullName() != field:
			case fd.IsList():
				for i := range was.List().Len() {
					was.List().Set(i, protoreflect.ValueOfEnum(n))
				}
			default:
				m.Set(fd, protoreflect.ValueOfEnum(n))
			}
			return true
		})
		return true
	})
	return out
}
