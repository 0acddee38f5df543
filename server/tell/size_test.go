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
		view               pb.View
		language, customer string
		most               int // bytes
	}{
		{pb.View_VIEW_GLANCE, "en", "", 300},
		{pb.View_VIEW_GLANCE, "en", "en", 300},
		{pb.View_VIEW_GLANCE, "en", "es", 300},
		{pb.View_VIEW_WORK, "en", "", 3500},
		{pb.View_VIEW_WORK, "en", "en", 4500},
		{pb.View_VIEW_WORK, "en", "es", 4500},
		{pb.View_VIEW_WORK, "es", "", 3500},
		{pb.View_VIEW_WORK, "es-MX", "", 3500},
	} {
		r := &pb.Reader{Language: c.language, CustomerLanguage: c.customer, View: c.view}
		n := proto.Size(&pb.AssessVisitResponse{Assessment: told(t, r), Told: tell.For(r, tell.Shop{}).Told()})
		t.Logf("%v, %s, customer %q: %d bytes", c.view, c.language, c.customer, n)
		if n > c.most {
			t.Errorf("%v, %s, customer %q: %d bytes, more than %d", c.view, c.language, c.customer, n, c.most)
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
