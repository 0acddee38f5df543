package judge_test

import (
	"os"
	"testing"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/verdict"

	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/translate"
)

// fourTires is a car with four tires of which one has a nail in it.
func fourTires(b *testing.B) *pb.AssessVisitRequest {
	b.Helper()
	data, err := os.ReadFile(root + "/testdata/demo/sedan-nail.json")
	if err != nil {
		b.Fatal(err)
	}
	req := &pb.AssessVisitRequest{}
	if err := protojson.Unmarshal(data, req); err != nil {
		b.Fatal(err)
	}
	if n := len(req.GetInspection().GetWheels()); n != 4 {
		b.Fatalf("%d wheels", n)
	}
	return req
}

// BenchmarkVisitFourTires is the judgement alone, beside what it costs to read
// the visit and to write the answer.
func BenchmarkVisitFourTires(b *testing.B) {
	v := translate.Visit(fourTires(b))
	b.ReportAllocs()
	for b.Loop() {
		verdict.Judge(v)
	}
}

// BenchmarkAnswerFourTires is the judgement with its translation and sentences.
func BenchmarkAnswerFourTires(b *testing.B) {
	req := fourTires(b)
	b.ReportAllocs()
	for b.Loop() {
		judge.Visit(req)
	}
}

func BenchmarkUnmarshalRequest(b *testing.B) {
	data := wire(fourTires(b))
	unmarshal(b, data, func(req *pb.AssessVisitRequest) error { return proto.Unmarshal(data, req) })
}

func BenchmarkUnmarshalRequestJSON(b *testing.B) {
	data := compact(fourTires(b), protojson.MarshalOptions{})
	unmarshal(b, data, func(req *pb.AssessVisitRequest) error { return protojson.Unmarshal(data, req) })
}

func BenchmarkMarshalAnswer(b *testing.B) { marshal(b, proto.Marshal) }

func BenchmarkMarshalAnswerJSON(b *testing.B) { marshal(b, protojson.Marshal) }

func unmarshal(b *testing.B, data []byte, into func(*pb.AssessVisitRequest) error) {
	b.Helper()
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if err := into(&pb.AssessVisitRequest{}); err != nil {
			b.Fatal(err)
		}
	}
}

func marshal(b *testing.B, how func(proto.Message) ([]byte, error)) {
	b.Helper()
	answer := judge.Visit(fourTires(b))
	data, err := how(answer)
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := how(answer); err != nil {
			b.Fatal(err)
		}
	}
}
