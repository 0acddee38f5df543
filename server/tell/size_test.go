package tell_test

import (
	"testing"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/tell"
)

// An answer goes over a phone's network: what it may weigh is our own decision, of
// the car with a nail, as protobuf.
func TestSizes(t *testing.T) {
	for _, c := range []struct {
		view     pb.View
		customer string
		most     int // bytes
	}{
		{pb.View_VIEW_GLANCE, "", 300},
		{pb.View_VIEW_GLANCE, "en", 300},
		{pb.View_VIEW_GLANCE, "es", 300},
		{pb.View_VIEW_WORK, "", 4500},
		{pb.View_VIEW_WORK, "en", 6000},
		{pb.View_VIEW_WORK, "es", 6000},
	} {
		r := &pb.Reader{Language: "en", CustomerLanguage: c.customer, View: c.view}
		n := proto.Size(&pb.AssessVisitResponse{Assessment: told(t, r), Told: tell.For(r, tell.Shop{}).Told()})
		t.Logf("%v, customer %q: %d bytes", c.view, c.customer, n)
		if n > c.most {
			t.Errorf("%v, customer %q: %d bytes, more than %d", c.view, c.customer, n, c.most)
		}
	}
}

// BenchmarkTell tells the car with a nail, beside what it costs to copy it.
func BenchmarkTell(b *testing.B) {
	whole := sedan(b)
	for name, r := range map[string]*pb.Reader{
		"glance":        {View: pb.View_VIEW_GLANCE},
		"work":          {View: pb.View_VIEW_WORK},
		"work customer": {View: pb.View_VIEW_WORK, CustomerLanguage: "es"},
		"full customer": {View: pb.View_VIEW_FULL, CustomerLanguage: "es"},
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				b.StopTimer()
				a := proto.CloneOf(whole)
				b.StartTimer()
				tell.For(r, tell.Shop{}).Assessment(a, true)
			}
		})
	}
}
