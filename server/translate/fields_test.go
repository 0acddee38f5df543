package translate

import (
	"bytes"
	"encoding/json"
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

// untold are fields that tell calc nothing.
var untold = regexp.MustCompile(`^(` + strings.Join([]string{
	`(Vehicle|Repair|TireMoves|TireSet)\.id|Vehicle\.tag|(Inspection|MountedPlace)\.vehicle_id|TireSet\.name`,                                      // what a record is called by
	`(Inspection|WorkDone)\.done_by|(Complaint|Repair|StoredPlace)\.words|Correction\.reason|Fasteners\.torque_source|Inspection\.order_reference`, // who, why and where it was read, in words
	`.*\.repeat|Place\.clock_degrees|HighLowPair\.place|Looked\.seen`,                                                                              // tells readings, places and looks apart
	`(Changeover|TireSet|TireOfSet|TireSale)\..*|Scrap\.(done_by|reason|rendered_unusable|scrapped_date)`,                                          // what is only recorded, of tires that are not on the vehicle
	`MountedPlace\.faces_out|Repair\.(inside_seen|local_date)|DrivenBefore\.pressures_last_set_date`,                                               // only recorded
}, "|") + `)(: another value)?$`)

// Each field that a visit tells reaches what calc judges: without it, and with another
// value in it, something else is judged in one of many visits at the least.
func TestAllFieldsAreTranslated(t *testing.T) {
	counts := map[string]bool{}
	for _, req := range visitsTold(t) {
		base := Visit(proto.CloneOf(req))
		differs := func() bool { return !reflect.DeepEqual(base, Visit(req)) }
		each(req.ProtoReflect(), func(m protoreflect.Message, fd protoreflect.FieldDescriptor) {
			if fd.IsList() { // the fields of its entries count
				return
			}
			name := strings.TrimPrefix(string(fd.FullName()), "gaugebook.v1.")
			was, other := m.Get(fd), name+": another value"
			for _, value := range others(fd, was) {
				if !counts[other] {
					m.Set(fd, value)
					counts[other] = differs()
				}
			}
			if !counts[name] {
				m.Clear(fd)
				counts[name] = differs()
			}
			m.Set(fd, was)
		})
		if differs() {
			t.Fatal("the same visit is translated otherwise")
		}
	}
	for _, name := range slices.Sorted(maps.Keys(counts)) {
		if counts[name] == untold.MatchString(name) {
			t.Errorf("%s: counts %v", name, counts[name])
		}
	}
}
