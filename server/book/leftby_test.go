package book

import (
	"testing"

	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// Every field of a visit is told as found, or done or left, or is the visit's own: one that
// is added is not passed over where what was left closes what was found before.
func TestEveryFactIsFoundOrLeft(t *testing.T) {
	for _, m := range []protoreflect.ProtoMessage{&pb.Inspection{}, &pb.WheelReport{}, &pb.Conditions{}} {
		d := m.ProtoReflect().Descriptor()
		for i := range d.Fields().Len() {
			name := d.Fields().Get(i).Name()
			if _, known := factsOf[d.Name()][name]; !known {
				t.Errorf("%s.%s: is it found or left?", d.Name(), name)
			}
		}
		for name := range factsOf[d.Name()] {
			if d.Fields().ByName(name) == nil {
				t.Errorf("%s.%s is no field", d.Name(), name)
			}
		}
	}
}
