package tell_test

import (
	"testing"

	"google.golang.org/protobuf/reflect/protoreflect"

	"gaugebook.dev/calc/unit"
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/translate"
)

// Every unit of every quantity of the contract is told as translate reads it, which
// goes by the names of the contract's fields.
func TestEveryQuantityIsRead(t *testing.T) {
	const number = 12.5
	n := 0
	quantity := (&pb.Quantity{}).ProtoReflect()
	for i := range quantity.Descriptor().Fields().Len() {
		fd := quantity.Descriptor().Fields().Get(i)
		if fd.Name() == "date" {
			continue
		}
		var all []*pb.Quantity
		if fd.Message() == nil {
			q := &pb.Quantity{}
			q.ProtoReflect().Set(fd, protoreflect.ValueOfFloat64(number))
			all = append(all, q)
		} else {
			for k := range fd.Message().Fields().Len() {
				q := &pb.Quantity{}
				q.ProtoReflect().Mutable(fd).Message().Set(fd.Message().Fields().Get(k), protoreflect.ValueOfFloat64(number))
				all = append(all, q)
			}
		}
		for _, q := range all {
			n++
			want, known := translate.Amount(q)
			got := tell.Amount(q)
			if !known || got != want || got.Number != number {
				t.Errorf("%v is read as %v, want %v", q, got, want)
			}
			if tread := fd.Name() == "depth" && got.Unit == unit.Millimeters; got.Tread != tread {
				t.Errorf("%v: of tread %v", q, got.Tread)
			}
		}
	}
	if n < 30 {
		t.Errorf("%d units", n)
	}
}

// Every unit that a reader can ask for is told in.
func TestEveryUnitOfAReader(t *testing.T) {
	units := (&pb.ReaderUnits{}).ProtoReflect()
	for i := range units.Descriptor().Fields().Len() {
		fd := units.Descriptor().Fields().Get(i)
		for k := 1; k < fd.Enum().Values().Len(); k++ {
			u := &pb.ReaderUnits{}
			u.ProtoReflect().Set(fd, protoreflect.ValueOfEnum(protoreflect.EnumNumber(k)))
			if tell.Units(u) == tell.Units(nil) {
				t.Errorf("%v is told as read", u)
			}
		}
	}
	if tell.Units(&pb.ReaderUnits{Depth: 99}) != tell.Units(nil) {
		t.Error("a unit that has come since is not told as read")
	}
}
