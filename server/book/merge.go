package book

import (
	"google.golang.org/protobuf/encoding/protowire"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
)

// merged is a kept record with what a caller sent: a field that is absent stays as
// it is, one that is present is replaced whole, and those named by their JSON names
// are emptied. Fields that this program does not know count like the others.
func merged[M proto.Message](kept, sent M, empty []string) M {
	out := proto.CloneOf(kept)
	to := out.ProtoReflect()
	for _, name := range empty {
		if field := to.Descriptor().Fields().ByJSONName(name); field != nil {
			to.Clear(field)
		}
	}
	from := proto.CloneOf(sent).ProtoReflect()
	from.Range(func(field protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		to.Set(field, v)
		return true
	})
	to.SetUnknown(replaced(to.GetUnknown(), from.GetUnknown()))
	return out
}

// replaced are the unknown fields of two messages: of the first those that the
// second does not have.
func replaced(kept, sent protoreflect.RawFields) protoreflect.RawFields {
	if len(sent) == 0 {
		return kept
	}
	in := map[protowire.Number]bool{}
	eachUnknown(sent, func(n protowire.Number, _ []byte) { in[n] = true })
	var out protoreflect.RawFields
	eachUnknown(kept, func(n protowire.Number, field []byte) {
		if !in[n] {
			out = append(out, field...)
		}
	})
	return append(out, sent...)
}

func eachUnknown(raw protoreflect.RawFields, do func(protowire.Number, []byte)) {
	for len(raw) > 0 {
		n, _, size := protowire.ConsumeField(raw)
		if size < 0 {
			return
		}
		do(n, raw[:size])
		raw = raw[size:]
	}
}
