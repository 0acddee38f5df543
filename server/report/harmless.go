package report

import (
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	"gaugebook.dev/server/words"
)

// harmless is a message whose every text can be shown: a caller's own words can forge
// no line of a report and steer no terminal.
func harmless[M proto.Message](m M) M {
	m = proto.CloneOf(m)
	makeHarmless(m.ProtoReflect())
	return m
}

func makeHarmless(m protoreflect.Message) {
	m.Range(func(field protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		switch {
		case field.IsList() && field.Kind() == protoreflect.StringKind:
			for i := range v.List().Len() {
				v.List().Set(i, protoreflect.ValueOfString(words.Harmless(v.List().Get(i).String())))
			}
		case field.IsList() && field.Message() != nil:
			for i := range v.List().Len() {
				makeHarmless(v.List().Get(i).Message())
			}
		case field.Kind() == protoreflect.StringKind:
			m.Set(field, protoreflect.ValueOfString(words.Harmless(v.String())))
		case field.Message() != nil && !field.IsMap():
			makeHarmless(v.Message())
		}
		return true
	})
}
