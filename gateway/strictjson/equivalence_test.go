package strictjson

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/reflect/protoregistry"
	"google.golang.org/protobuf/types/known/durationpb"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// The general-purpose reference in this file is protojson, the reader and
// writer of google.golang.org/protobuf.

// random fills a message with values from the whole range of every kind.
func random(rnd *rand.Rand, m protoreflect.Message, depth int) {
	switch msg := m.Interface().(type) {
	case *timestamppb.Timestamp:
		// Years 1 to 9999, the range the format allows.
		msg.Seconds, msg.Nanos = rnd.Int64N(253402300799+62135596800)-62135596800, rnd.Int32N(1e9)
		return
	case *durationpb.Duration:
		proto.Merge(msg, durationpb.New(time.Duration(rnd.Uint64())))
		return
	}
	fields := m.Descriptor().Fields()
	for i := range fields.Len() {
		fd := fields.Get(i)
		if rnd.IntN(2) == 0 || depth == 0 && fd.Message() != nil {
			continue
		}
		if !fd.IsList() {
			m.Set(fd, randomValue(rnd, fd, m.NewField(fd), depth))
			continue
		}
		list := m.Mutable(fd).List()
		for range rnd.IntN(4) {
			list.Append(randomValue(rnd, fd, list.NewElement(), depth))
		}
	}
}

func randomValue(rnd *rand.Rand, fd protoreflect.FieldDescriptor, empty protoreflect.Value, depth int) protoreflect.Value {
	switch fd.Kind() {
	case protoreflect.BoolKind:
		return protoreflect.ValueOfBool(rnd.IntN(2) == 0)
	case protoreflect.Int32Kind:
		return protoreflect.ValueOfInt32(int32(rnd.Uint32()))
	case protoreflect.DoubleKind:
		x := math.Float64frombits(rnd.Uint64())
		if math.IsNaN(x) || math.IsInf(x, 0) {
			x = math.MaxFloat64
		}
		return protoreflect.ValueOfFloat64(x)
	case protoreflect.StringKind:
		var s []rune
		for range rnd.IntN(8) {
			s = append(s, []rune("a7\" \\/\x00\t\n\u2028é輪🚗{}[]:,'")[rnd.IntN(20)])
		}
		return protoreflect.ValueOfString(string(s))
	case protoreflect.BytesKind:
		b := make([]byte, rnd.IntN(8))
		for i := range b {
			b[i] = byte(rnd.Uint32())
		}
		return protoreflect.ValueOfBytes(b)
	case protoreflect.EnumKind:
		return protoreflect.ValueOfEnum(fd.Enum().Values().Get(rnd.IntN(fd.Enum().Values().Len())).Number())
	case protoreflect.MessageKind:
		random(rnd, empty.Message(), depth-1)
		return empty
	}
	panic("no random value for " + fd.Kind().String())
}

func TestWhatProtojsonWritesIsReadBack(t *testing.T) {
	writers := []protojson.MarshalOptions{
		{},
		{Multiline: true},
		{UseProtoNames: true},
		{UseEnumNumbers: true},
		{EmitDefaultValues: true},
	}
	rnd := rand.New(rand.NewPCG(1, 2))
	contract(func(md protoreflect.MessageDescriptor) {
		mt, err := protoregistry.GlobalTypes.FindMessageByName(md.FullName())
		if err != nil {
			t.Fatal(err)
		}
		for range 20 {
			sent := mt.New()
			random(rnd, sent, 5)
			for _, w := range writers {
				doc, err := w.Marshal(sent.Interface())
				if err != nil {
					t.Fatal(err)
				}
				got := mt.New().Interface()
				if problems := Read(doc, got); len(problems) > 0 {
					t.Fatalf("%s\n%v", doc, problems)
				}
				if !proto.Equal(got, sent.Interface()) {
					t.Fatalf("%s\nread as %v", doc, got)
				}
			}
		}
	})
}

// spot is one value inside a generic JSON document.
type spot struct {
	path   string
	set    func(any)
	remove func() // nil for an element of a list
}

// spots lists the values of a document, containers before their contents.
func spots(path string, v any) (all []spot) {
	switch v := v.(type) {
	case map[string]any:
		for name, inner := range v {
			p := strings.TrimPrefix(path+"."+name, ".")
			all = append(all, spot{p, func(x any) { v[name] = x }, func() { delete(v, name) }})
			all = append(all, spots(p, inner)...)
		}
	case []any:
		for i, inner := range v {
			p := fmt.Sprintf("%s[%d]", path, i)
			all = append(all, spot{p, func(x any) { v[i] = x }, nil})
			all = append(all, spots(p, inner)...)
		}
	}
	return all
}

// One damaged value anywhere in a document is one problem at its path, and
// everything else is kept.
func TestOneDamageIsOneProblem(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	damages := 0
	for range 200 {
		var sent pb.AssessVisitRequest
		random(rnd, sent.ProtoReflect(), 5)
		doc, err := protojson.Marshal(&sent)
		if err != nil {
			t.Fatal(err)
		}
		var tree any
		if err := json.Unmarshal(doc, &tree); err != nil {
			t.Fatal(err)
		}
		var fields []spot
		for _, s := range spots("", tree) {
			if s.remove != nil {
				fields = append(fields, s)
			}
		}
		if len(fields) == 0 {
			continue
		}
		slices.SortFunc(fields, func(a, b spot) int { return strings.Compare(a.path, b.path) })
		victim := fields[rnd.IntN(len(fields))]
		damages++

		victim.set(nil)
		damaged, err := json.Marshal(tree)
		if err != nil {
			t.Fatal(err)
		}
		victim.remove()
		rest, err := json.Marshal(tree)
		if err != nil {
			t.Fatal(err)
		}

		var got, want pb.AssessVisitRequest
		problems := Read(damaged, &got)
		if len(problems) != 1 || problems[0].Path != victim.path {
			t.Errorf("%s\ndamaged at %s: %v", damaged, victim.path, problems)
		}
		if err := protojson.Unmarshal(rest, &want); err != nil {
			t.Fatal(err)
		}
		if !proto.Equal(&got, &want) {
			t.Errorf("%s\ndamaged at %s, kept\n%v\nwant\n%v", damaged, victim.path, &got, &want)
		}
	}
	if damages < 100 {
		t.Errorf("only %d documents were damaged", damages)
	}
}

// FuzzRead asserts of any text at all: it is read without panic, the same each
// time; the problems are in order, bounded and printable; without problems
// protojson makes the same message of it; and what is kept is itself readable.
func FuzzRead(f *testing.F) {
	for _, doc := range []string{
		``, `{}`, `[]`, `{"a":1}{`, "\uFEFF{}", `{"vehicle": {"tag": "\ud83d\ude97", "tag": "\ud83d"}}`,
		`{"vehicle": {"drive": 2, "tpms": "DIRECT", "axles": {"axles": [{"wheels": 2, "rating": {"pounds": 1e3, "kilograms": "7"}},]}}}`,
		`{"judgeBy": {"asOf": {"year": 2.026e3, "month": 30e-1, "day": 99999999999}, "rulebookIds": ["us-light", null, 7]}}`,
		`{"inspection": {"takenTime": "2026-03-14T09:30:00Z", "conditions": {"driven": {"parked": "1.5s"}}, "wheels": [{"tread": [{"place": {"across": "ACROSS_CENTER", "groove": 1}, "depth": {"thirty_seconds_inch": 4/32}}]}]}}`,
		`{"inspection": {"odometer": {"miles": 1e999}, "conditions": {"air": {"celsius": -0}, "barometer": {"hectopascals": NaN}}}}`,
		`{"x": [[[{"y": "\q"}]]], "moves": {}, "tires": [[], 7, {"sidewall": {"directional": true}}]}`,
	} {
		f.Add([]byte(doc))
	}
	f.Fuzz(func(t *testing.T, doc []byte) {
		var got, again, want pb.AssessVisitRequest
		problems := Read(doc, &got)
		if !slices.Equal(problems, Read(doc, &again)) || !proto.Equal(&got, &again) {
			t.Fatal("a second reading differs")
		}
		if len(problems) > MaxProblems+1 {
			t.Fatalf("%d problems", len(problems))
		}
		line, column := 0, 0
		for _, p := range problems[:min(len(problems), MaxProblems)] {
			if p.Line < line || p.Line == line && p.Column < column || p.Column < 1 || p.Line > 1+bytes.Count(doc, []byte("\n")) {
				t.Fatalf("out of order: %v", problems)
			}
			line, column = p.Line, p.Column
			if utf8.RuneCountInString(p.Given) > maxShown || !utf8.ValidString(p.String()) || strings.ContainsAny(p.String(), "\n\r\x1b") {
				t.Fatalf("not fit to print: %q", p)
			}
			if p.Problem == "" {
				t.Fatalf("nothing said: %v", p)
			}
		}
		if len(problems) == 0 {
			if err := (protojson.UnmarshalOptions{DiscardUnknown: false}).Unmarshal(doc, &want); err != nil {
				t.Fatalf("accepted, but protojson says: %v", err)
			}
			if !proto.Equal(&got, &want) {
				t.Fatalf("read as %v, by protojson as %v", &got, &want)
			}
		}
		kept, err := protojson.Marshal(&got)
		if err != nil {
			t.Fatal(err)
		}
		if problems := Read(kept, &again); len(problems) > 0 || !proto.Equal(&got, &again) {
			t.Fatalf("what was kept cannot be read: %s: %v", kept, problems)
		}
	})
}
