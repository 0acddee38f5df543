package api

import (
	"fmt"
	"slices"
	"testing"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/tell"
)

// What is told is larger than what is kept: an answer stays below what clients take
// all the same, and its token stands behind what it holds.
func TestAPullOfChangesIsBoundedInBytes(t *testing.T) {
	large := func(number int) book.Change {
		return book.Change{Token: fmt.Sprint("token ", number), Change: &pb.Change{
			Number: fmt.Sprint(number), What: &pb.Change_Inspection{Inspection: &pb.InspectionChange{
				Assessment: &pb.Assessment{Findings: slices.Repeat([]*pb.Finding{{Id: "id", Code: "tread.wear-bars", Positions: []string{"1L"}}}, 30_000)},
			}},
		}}
	}
	for _, row := range []struct {
		changes int
		more    bool
	}{{0, false}, {1, false}, {1, true}, {12, false}, {12, true}} {
		pulled := book.Pulled{Token: "last token", More: row.more}
		for i := range row.changes {
			pulled.Changes = append(pulled.Changes, large(i))
		}
		out := toldChanges(tell.For(whole, tell.Shop{}), pulled)
		got := len(out.GetChanges())
		if got < min(row.changes, 1) || got > 1 && proto.Size(out) > largestPull+1000 {
			t.Fatalf("%d of %d changes, %d bytes", got, row.changes, proto.Size(out))
		}
		if all := got == row.changes; all && (out.GetResumeToken() != "last token" || out.GetMore() != row.more) ||
			!all && (out.GetResumeToken() != fmt.Sprint("token ", got-1) || !out.GetMore()) {
			t.Errorf("%d of %d changes, the token is %q, more %v", got, row.changes, out.GetResumeToken(), out.GetMore())
		}
		if row.changes == 12 && got == 12 {
			t.Error("not large enough to be cut")
		}
	}
}
