//go:build !race

package tell_test

import (
	"testing"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/tell"
)

// Telling costs little beside judging: a text is one allocation or none. Not told under
// the race detector, whose sync.Pool drops at random.
func TestAllocations(t *testing.T) {
	const most = 150
	whole, r := sedan(t), &pb.Reader{CustomerLanguage: "es"}
	copying := testing.AllocsPerRun(20, func() { proto.CloneOf(whole) })
	both := testing.AllocsPerRun(20, func() { tell.For(r, tell.Shop{}).Assessment(proto.CloneOf(whole), true) })
	if n := both - copying; n > most {
		t.Errorf("%v allocations", n)
	}
}
