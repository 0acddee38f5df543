package rows_test

import (
	"fmt"
	"slices"
	"testing"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
)

// words are the fields of the contract that a reader is told, and no row keeps.
var words = map[protoreflect.Name][]protoreflect.Name{
	"Headline": {"for_technician", "for_customer", "line"}, "Finding": {"for_technician", "for_customer"}, "WorkItem": {"for_technician", "for_customer"},
	"Said": {"words"}, "Evidence": {"words"}, "NotLookedAt": {"words"}, "Checked": {"words"}, "NotJudged": {"words"},
	"Question": {"words", "would_allow"}, "WheelSummary": {"shown_position"},
}

// kept are the messages of the contract with rows of their own kind.
var kept = []struct{ contract, row proto.Message }{
	{&pb.Assessment{}, &rows.Assessment{}}, {&pb.Headline{}, &rows.Headline{}}, {&pb.Said{}, &rows.Said{}},
}

// Every field of an answer is kept, or is told in words when it is read; and no
// row has a field that keeps nothing, or another kind of thing.
func TestEveryFieldHasARowOrIsWords(t *testing.T) {
	seen := map[protoreflect.FullName]bool{}
	var compare func(contract, row protoreflect.MessageDescriptor)
	compare = func(contract, row protoreflect.MessageDescriptor) {
		if seen[row.FullName()] {
			return
		}
		seen[row.FullName()] = true
		for i := range contract.Fields().Len() {
			field := contract.Fields().Get(i)
			keeps := row.Fields().ByName(field.Name())
			told := slices.Contains(words[contract.Name()], field.Name())
			switch {
			case told && keeps != nil:
				t.Errorf("%s are words, and a row keeps them", field.FullName())
			case told:
			case keeps == nil:
				t.Errorf("%s has no row", field.FullName())
			case keeps.Cardinality() != field.Cardinality() || keeps.HasPresence() != field.HasPresence():
				t.Errorf("%s is kept as another kind of field", field.FullName())
			case field.Kind() == protoreflect.StringKind && keeps.Kind() == protoreflect.Uint32Kind:
			case field.Kind() != keeps.Kind() || field.Enum() != keeps.Enum():
				t.Errorf("%s is kept as %s", field.FullName(), keeps.Kind())
			case field.Message() != nil && field.Message() != keeps.Message():
				compare(field.Message(), keeps.Message())
			}
		}
		for i := range row.Fields().Len() {
			if contract.Fields().ByName(row.Fields().Get(i).Name()) == nil {
				t.Errorf("%s keeps nothing", row.Fields().Get(i).FullName())
			}
		}
	}
	for _, k := range kept {
		compare(k.contract.ProtoReflect().Descriptor(), k.row.ProtoReflect().Descriptor())
	}
}

// A message comes back from its row as it was, but for the words.
func TestWhatIsKeptIsGivenBack(t *testing.T) {
	for _, k := range kept {
		n := 0
		whole := fill(k.contract.ProtoReflect(), &n, true).Interface()
		n = 0
		want := fill(k.contract.ProtoReflect(), &n, false).Interface()

		texts := rows.NewStrings(nil)
		row := k.row.ProtoReflect().New().Interface()
		texts.Keep(row, whole)
		data, err := proto.Marshal(row)
		if err != nil {
			t.Fatal(err)
		}
		read := k.row.ProtoReflect().New().Interface()
		if err := proto.Unmarshal(data, read); err != nil {
			t.Fatal(err)
		}
		got := k.contract.ProtoReflect().New().Interface()
		rows.NewStrings(texts.Texts()).Give(got, read)
		if !proto.Equal(got, want) {
			t.Errorf("%s comes back otherwise: TestEveryFieldHasARowOrIsWords may say why", want.ProtoReflect().Descriptor().Name())
		}
	}
}

// fill sets every field of a new message of a kind, each to another value, lists to
// two, of a oneof the next field each time; words only when they are wanted.
func fill(kind protoreflect.Message, n *int, withWords bool) protoreflect.Message {
	m := kind.New()
	d := m.Descriptor()
	value := func(field protoreflect.FieldDescriptor) protoreflect.Value {
		*n++
		switch field.Kind() {
		case protoreflect.StringKind:
			return protoreflect.ValueOfString(fmt.Sprint("text ", *n%7))
		case protoreflect.BoolKind:
			return protoreflect.ValueOfBool(true)
		case protoreflect.Int32Kind:
			return protoreflect.ValueOfInt32(int32(*n))
		case protoreflect.DoubleKind:
			return protoreflect.ValueOfFloat64(float64(*n) / 8)
		case protoreflect.EnumKind:
			return protoreflect.ValueOfEnum(protoreflect.EnumNumber(1 + *n%2))
		case protoreflect.MessageKind:
			return protoreflect.ValueOfMessage(fill(m.NewField(field).Message(), n, withWords))
		}
		panic("no value of " + field.Kind().String())
	}
	for i := range d.Fields().Len() {
		field := d.Fields().Get(i)
		of := field.ContainingOneof()
		chosen := of == nil || of.IsSynthetic() || of.Fields().Get(*n%of.Fields().Len()) == field
		told := slices.Contains(words[d.Name()], field.Name())
		switch {
		case !chosen:
		case told:
			*n++
			if withWords {
				m.Set(field, protoreflect.ValueOfString("told"))
			}
		case field.IsList():
			list := m.Mutable(field).List()
			for range 2 {
				if field.Message() != nil {
					list.Append(protoreflect.ValueOfMessage(fill(list.NewElement().Message(), n, withWords)))
				} else {
					list.Append(value(field))
				}
			}
		default:
			m.Set(field, value(field))
		}
	}
	return m
}

// Each text stands once, and the numbers of a row that was read go on from its own.
func TestStrings(t *testing.T) {
	s := rows.NewStrings(nil)
	if got := s.Numbers([]string{"1L", "", "1R", "1L"}); !slices.Equal(got, []uint32{1, 0, 2, 1}) {
		t.Error(got)
	}
	read := rows.NewStrings(s.Texts())
	if got := read.Numbers([]string{"1R", "2L"}); !slices.Equal(got, []uint32{2, 3}) {
		t.Error(got)
	}
	if got := read.TextsOf([]uint32{3, 0, 1, 4}); !slices.Equal(got, []string{"2L", "", "1L", ""}) {
		t.Error(got)
	}
}
