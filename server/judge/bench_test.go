package judge_test

import (
	"os"
	"testing"
	"time"

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

// BenchmarkAnswerFourTires is the judgement with its translation, without a word.
func BenchmarkAnswerFourTires(b *testing.B) {
	req := fourTires(b)
	b.ReportAllocs()
	for b.Loop() {
		judge.Visit(req)
	}
}

// BenchmarkTellFourTires is the sentences and the rest of the answer, once it is
// judged.
func BenchmarkTellFourTires(b *testing.B) {
	req := fourTires(b)
	v := translate.Visit(req)
	out := verdict.Judge(v)
	b.ReportAllocs()
	for b.Loop() {
		translate.Assessment(req, v, out)
	}
}

// fiveYears is the car with twenty visits before this one, a quarter of a year and
// 3,000 miles apart, three grooves of each tire read every time; at every second one
// its tires changed places by the forward cross.
func fiveYears(b *testing.B) *pb.AssessVisitRequest {
	b.Helper()
	req := fourTires(b)
	at := []string{"1L", "1R", "2L", "2R"}
	forward := map[string]string{"1L": "2L", "1R": "2R", "2L": "1R", "2R": "1L"}
	ids := map[string]string{}
	for i, p := range at {
		ids[p] = []string{"a", "b", "c", "d"}[i]
	}
	var visits []*pb.Inspection
	for k := range 21 {
		day := time.Date(2021, 1, 5, 0, 0, 0, 0, time.UTC).AddDate(0, 3*k, 0)
		in := proto.CloneOf(req.GetInspection())
		in.Id, in.Odometer, in.LocalDate = string(rune('A'+k)), miles(float64(3000*k+3000)), &pb.CalendarDate{Year: int32(day.Year()), Month: int32(day.Month()), Day: int32(day.Day())}
		for _, w := range in.GetWheels() {
			w.TireId, w.Tread = ids[w.GetPosition()], nil
			for across := range pb.Across(3) {
				w.Tread = append(w.Tread, &pb.TreadReading{Place: &pb.Place{Across: across + 1}, Depth: thirtySeconds(float64(11 - k/3 - (k+int(across))%2))})
			}
		}
		if k%2 == 1 && k < 20 {
			moves := &pb.TireMoves{Odometer: in.GetOdometer(), LocalDate: in.GetLocalDate()}
			next := map[string]string{}
			for from, to := range forward {
				next[to] = ids[from]
			}
			for _, p := range at {
				moves.Moves = append(moves.Moves, &pb.TireMove{TireId: next[p], To: &pb.TirePlace{Where: &pb.TirePlace_Mounted{Mounted: &pb.MountedPlace{Position: p}}}})
			}
			ids = next
			req.Moves = append(req.Moves, moves)
		}
		visits = append(visits, in)
	}
	req.Inspection, req.Earlier = visits[20], visits[:20]
	return req
}

// BenchmarkFiveYears is the judgement of a vehicle's whole history.
func BenchmarkFiveYears(b *testing.B) {
	v := translate.Visit(fiveYears(b))
	b.ReportAllocs()
	for b.Loop() {
		verdict.Judge(v)
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
