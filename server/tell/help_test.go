package tell_test

import (
	"os"
	"testing"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/tell"
)

// demo is an invented visit.
func demo(t testing.TB, name string) *pb.AssessVisitRequest {
	t.Helper()
	data, err := os.ReadFile("../../testdata/demo/" + name + ".json")
	if err != nil {
		t.Fatal(err)
	}
	req := &pb.AssessVisitRequest{}
	if err := protojson.Unmarshal(data, req); err != nil {
		t.Fatal(err)
	}
	return req
}

// sedan is a car with a nail in a tire, judged and without words.
func sedan(t testing.TB) *pb.Assessment { return judge.Visit(demo(t, "sedan-nail")) }

// told is the sedan as a reader is told of it.
func told(t testing.TB, r *pb.Reader) *pb.Assessment {
	a := sedan(t)
	tell.For(r, tell.Shop{}).Assessment(a, true)
	return a
}

// eachText goes through every text that a message carries, by the name of its field.
func eachText(m protoreflect.Message, do func(path string, of protoreflect.Message, text string)) {
	m.Range(func(fd protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		switch {
		case fd.Kind() == protoreflect.StringKind && !fd.IsList():
			do(string(fd.Name()), m, v.String())
		case fd.Message() == nil:
		case fd.IsList():
			for i := range v.List().Len() {
				eachText(v.List().Get(i).Message(), do)
			}
		default:
			eachText(v.Message(), do)
		}
		return true
	})
}

func equal(a, b proto.Message) bool { return proto.Equal(a, b) }
