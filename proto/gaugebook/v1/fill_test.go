package gaugebookv1_test

import (
	"fmt"
	"math"

	"google.golang.org/protobuf/encoding/protowire"
	"google.golang.org/protobuf/reflect/protoreflect"
)

// A filler sets every field of a message, each to another value, the same
// whenever it is asked. Lists get two elements. A kind of message is filled whole
// where it comes first, and where it comes again only with what holds no further
// kind: so golden messages stay small, and recursion ends.
type filler struct {
	n     int32 // values given so far
	whole map[protoreflect.FullName]bool
	arm   protoreflect.FieldDescriptor // in the outermost message, set this one of its oneof
	turns map[protoreflect.FullName]int
}

func newFiller(arm protoreflect.FieldDescriptor) *filler {
	return &filler{whole: map[protoreflect.FullName]bool{}, arm: arm, turns: map[protoreflect.FullName]int{}}
}

func (f *filler) fill(m protoreflect.Message) {
	d := m.Descriptor()
	outermost := len(f.whole) == 0
	first := !f.whole[d.FullName()]
	f.whole[d.FullName()] = true
	for i := range d.Fields().Len() {
		field := d.Fields().Get(i)
		oneof := field.ContainingOneof()
		switch {
		case field.Message() != nil && !first && !plain(field.Message()):
		case oneof == nil || oneof.IsSynthetic():
			f.set(m, field)
		case outermost && f.arm != nil && f.arm.ContainingOneof() == oneof:
			if field == f.arm {
				f.set(m, field)
			}
		case outermost:
			if field == oneof.Fields().Get(0) {
				f.set(m, field)
			}
		case field == oneof.Fields().Get(f.turns[oneof.FullName()]%oneof.Fields().Len()):
			f.set(m, field)
		}
	}
	// The next of this kind within the message gets the next of each oneof's fields.
	for i := range d.Oneofs().Len() {
		f.turns[d.Oneofs().Get(i).FullName()]++
	}
}

// plain says whether a message holds no message.
func plain(d protoreflect.MessageDescriptor) bool {
	for i := range d.Fields().Len() {
		if d.Fields().Get(i).Message() != nil {
			return false
		}
	}
	return true
}

func (f *filler) set(m protoreflect.Message, field protoreflect.FieldDescriptor) {
	switch {
	case field.IsList() && field.Message() != nil:
		for range 2 {
			f.fill(m.Mutable(field).List().AppendMutable().Message())
		}
	case field.IsList():
		for range 2 {
			m.Mutable(field).List().Append(f.value(field))
		}
	case field.Message() != nil:
		f.fill(m.Mutable(field).Message())
	default:
		m.Set(field, f.value(field))
	}
}

// value gives the next value that fits a field. Doubles are fractions of two;
// whole numbers are negative by turns, but for those of well-known types, which
// then would be no time; a string has a letter of two bytes.
func (f *filler) value(field protoreflect.FieldDescriptor) protoreflect.Value {
	f.n++
	switch field.FullName() {
	case "google.protobuf.Timestamp.seconds":
		return protoreflect.ValueOfInt64(1767323045 + int64(f.n)) // 2026-01-02T03:04:05Z and n seconds
	case "google.protobuf.Duration.seconds":
		return protoreflect.ValueOfInt64(int64(f.n))
	case "google.protobuf.Timestamp.nanos", "google.protobuf.Duration.nanos":
		return protoreflect.ValueOfInt32(f.n * 1_000_000)
	}
	switch field.Kind() {
	case protoreflect.BoolKind:
		return protoreflect.ValueOfBool(true)
	case protoreflect.EnumKind:
		values := field.Enum().Values()
		return protoreflect.ValueOfEnum(values.Get(values.Len() - 1).Number())
	case protoreflect.Int32Kind:
		if f.n%2 == 0 {
			return protoreflect.ValueOfInt32(-f.n)
		}
		return protoreflect.ValueOfInt32(f.n)
	case protoreflect.DoubleKind:
		return protoreflect.ValueOfFloat64(float64(f.n) + 0.375)
	case protoreflect.StringKind:
		return protoreflect.ValueOfString(fmt.Sprintf("%s · %d", field.Name(), f.n))
	case protoreflect.BytesKind:
		return protoreflect.ValueOfBytes(append([]byte{0, 0xff, 0x80}, fmt.Sprint(f.n)...))
	default:
		panic("no value of kind " + field.Kind().String())
	}
}

// encoded writes a message by the rules of the protobuf encoding, fields in the
// order of their numbers.
func encoded(m protoreflect.Message) []byte {
	var b []byte
	for number := range maxNumber(m.Descriptor()) + 1 {
		field := m.Descriptor().Fields().ByNumber(number)
		if field == nil || !m.Has(field) {
			continue
		}
		values := each(field, m.Get(field))
		if field.IsPacked() {
			var packed []byte
			for _, v := range values {
				packed = appendValue(packed, field, v)
			}
			b = protowire.AppendTag(b, number, protowire.BytesType)
			b = protowire.AppendBytes(b, packed)
			continue
		}
		for _, v := range values {
			b = protowire.AppendTag(b, number, wireType(field))
			b = appendValue(b, field, v)
		}
	}
	return b
}

func maxNumber(d protoreflect.MessageDescriptor) (number protowire.Number) {
	for i := range d.Fields().Len() {
		number = max(number, d.Fields().Get(i).Number())
	}
	return number
}

func wireType(field protoreflect.FieldDescriptor) protowire.Type {
	switch field.Kind() {
	case protoreflect.DoubleKind:
		return protowire.Fixed64Type
	case protoreflect.StringKind, protoreflect.BytesKind, protoreflect.MessageKind:
		return protowire.BytesType
	default:
		return protowire.VarintType
	}
}

func appendValue(b []byte, field protoreflect.FieldDescriptor, v protoreflect.Value) []byte {
	switch field.Kind() {
	case protoreflect.BoolKind:
		return protowire.AppendVarint(b, protowire.EncodeBool(v.Bool()))
	case protoreflect.EnumKind:
		return protowire.AppendVarint(b, uint64(v.Enum()))
	case protoreflect.Int32Kind, protoreflect.Int64Kind:
		return protowire.AppendVarint(b, uint64(v.Int()))
	case protoreflect.DoubleKind:
		return protowire.AppendFixed64(b, math.Float64bits(v.Float()))
	case protoreflect.StringKind:
		return protowire.AppendString(b, v.String())
	case protoreflect.BytesKind:
		return protowire.AppendBytes(b, v.Bytes())
	case protoreflect.MessageKind:
		return protowire.AppendBytes(b, encoded(v.Message()))
	default:
		panic("no encoding of kind " + field.Kind().String())
	}
}
