package translate

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// visitsTold are invented visits that tell of everything that the contract has.
func visitsTold(t *testing.T) (all []*pb.AssessVisitRequest) {
	t.Helper()
	for _, file := range []string{"made.jsonl", "visits.jsonl"} {
		text, err := os.ReadFile("../../testdata/corpus/" + file)
		if err != nil {
			t.Fatal(err)
		}
		for line := range bytes.Lines(text) {
			var row struct {
				Visit json.RawMessage `json:"visit"`
			}
			req := &pb.AssessVisitRequest{}
			if err := json.Unmarshal(line, &row); err != nil {
				t.Fatal(err)
			}
			if err := protojson.Unmarshal(row.Visit, req); err != nil {
				t.Fatal(err)
			}
			all = append(all, req)
		}
	}
	return all
}

// each calls for every field that a message tells, and those of the messages in it.
func each(m protoreflect.Message, do func(protoreflect.Message, protoreflect.FieldDescriptor)) {
	m.Range(func(fd protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		do(m, fd)
		switch {
		case fd.IsList() && fd.Message() != nil:
			for i := range v.List().Len() {
				each(v.List().Get(i).Message(), do)
			}
		case fd.Message() != nil && !fd.IsMap():
			each(v.Message(), do)
		}
		return true
	})
}

// others are further values of a field; none of words, which are read as what they mean.
func others(fd protoreflect.FieldDescriptor, v protoreflect.Value) (all []protoreflect.Value) {
	switch {
	case fd.IsList(), fd.IsMap():
	case fd.Kind() == protoreflect.DoubleKind:
		all = append(all, protoreflect.ValueOfFloat64(v.Float()+1))
	case fd.Kind() == protoreflect.Int32Kind:
		all = append(all, protoreflect.ValueOfInt32(int32(v.Int())+1))
	case fd.Kind() == protoreflect.EnumKind:
		for i := range fd.Enum().Values().Len() {
			if n := fd.Enum().Values().Get(i).Number(); n != v.Enum() {
				all = append(all, protoreflect.ValueOfEnum(n))
			}
		}
	}
	return all
}

// untold are fields that tell calc nothing, and values that tell it the same.
var untold = regexp.MustCompile(`^(Vehicle\.(id|tag)|Fasteners\.torque_source|StoredPlace\.words|Scrap\..*|TireSale\..*` + // of a record, and of no visit
	`|Fasteners\.kind: [1-4] for [1-4]` + // which kind is recorded
	`|Axle\.kind: [234] for 1|Spare\.kind: (3 for 4|4 for 3)|Gauge\.kind: 9 for 7|WheelReport\.wheel_kind: 2 for 4` + // judged alike
	`|FastenerWork\.pattern: [01] for 2|MountingMarks\.outside_mark: 0 for 4)$`) // not told, and not what is asked for

// Each field that a visit tells reaches what calc judges, and each value that it may have
// is another there: without the field, or with another value, something else is judged in
// one of many visits at the least.
func TestAllFieldsAreTranslated(t *testing.T) {
	told, counts := map[string]int{}, map[string]bool{}
	const enough = 60
	for _, req := range visitsTold(t) {
		base := Visit(req)
		if !reflect.DeepEqual(base, Visit(proto.CloneOf(req))) {
			t.Fatal("the same visit is translated otherwise")
		}
		differs := func() bool { return !reflect.DeepEqual(base, Visit(req)) }
		each(req.ProtoReflect(), func(m protoreflect.Message, fd protoreflect.FieldDescriptor) {
			name := strings.TrimPrefix(string(fd.FullName()), "gaugebook.v1.")
			if told[name]++; told[name] > enough && counts[name] {
				return
			}
			was := m.Get(fd)
			for _, other := range others(fd, was) {
				value := fmt.Sprintf("%s: %v for %v", name, other, was)
				if fd.Kind() != protoreflect.EnumKind {
					value = name + ": another number"
				}
				m.Set(fd, other)
				counts[value] = counts[value] || differs()
			}
			m.Clear(fd)
			counts[name] = counts[name] || differs()
			m.Set(fd, was)
		})
	}
	for _, name := range slices.Sorted(maps.Keys(counts)) {
		if counts[name] == untold.MatchString(name) {
			t.Errorf("%s: counts %v", name, counts[name])
		}
	}
}
