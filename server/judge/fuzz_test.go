package judge_test

import (
	"bytes"
	"testing"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
)

// FuzzVisit: whatever check lets pass is judged without panic, the same each
// time, and the answer can be sent.
func FuzzVisit(f *testing.F) {
	for _, l := range readJSONL(f, visitsFile) {
		f.Add(wire(visitOf(f, l)))
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
