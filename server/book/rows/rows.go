// Package rows converts between the contract's messages and the rows that keep them;
// the rows themselves are generated from rows.proto.
package rows

import (
	"sync"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
)

// Strings are the texts of one row, each once. A number counts them from 1; 0 is
// the empty text.
type Strings struct {
	texts   []string
	numbers map[string]uint32
}

// NewStrings begins with the texts of a row; none for a row to be made.
func NewStrings(texts []string) *Strings { return &Strings{texts: texts} }

// Texts are what the row keeps.
func (s *Strings) Texts() []string { return s.texts }

// Number gives the number of a text, which is taken in where it is new.
func (s *Strings) Number(text string) uint32 {
	if text == "" {
		return 0
	}
	if s.numbers == nil {
		s.numbers = make(map[string]uint32, len(s.texts))
		for i, t := range s.texts {
			s.numbers[t] = uint32(i + 1)
		}
	}
	n, known := s.numbers[text]
	if !known {
		s.texts = append(s.texts, text)
		n = uint32(len(s.texts))
		s.numbers[text] = n
	}
	return n
}

// Numbers gives the numbers of several texts.
func (s *Strings) Numbers(texts []string) []uint32 {
	var out []uint32
	for _, t := range texts {
		out = append(out, s.Number(t))
	}
	return out
}

// Text gives the text of a number; the empty one for a number that the row has not.
func (s *Strings) Text(number uint32) string {
	if number == 0 || int(number) > len(s.texts) {
		return ""
	}
	return s.texts[number-1]
}

// TextsOf gives the texts of several numbers.
func (s *Strings) TextsOf(numbers []uint32) []string {
	var out []string
	for _, n := range numbers {
		out = append(out, s.Text(n))
	}
	return out
}

// Keep fills a row from a message of the contract, field by field of the same
// name. What the row has no field for, the words, is left out. Messages of one
// kind on both sides are shared.
func (s *Strings) Keep(row, from proto.Message) {
	s.keep(row.ProtoReflect(), from.ProtoReflect())
}

// Give fills a message of the contract from its row: what Keep has left out is
// absent.
func (s *Strings) Give(to, row proto.Message) {
	s.give(to.ProtoReflect(), row.ProtoReflect())
}

func (s *Strings) keep(row, from protoreflect.Message) {
	for _, p := range pairsOf(row.Descriptor(), from.Descriptor()) {
		copyField(row, p.row, from, p.contract, func(v protoreflect.Value, fresh func() protoreflect.Value) protoreflect.Value {
			switch {
			case p.text:
				return protoreflect.ValueOfUint32(s.Number(v.String()))
			case p.within:
				out := fresh()
				s.keep(out.Message(), v.Message())
				return out
			}
			return v
		})
	}
}

func (s *Strings) give(to, row protoreflect.Message) {
	for _, p := range pairsOf(row.Descriptor(), to.Descriptor()) {
		copyField(to, p.contract, row, p.row, func(v protoreflect.Value, fresh func() protoreflect.Value) protoreflect.Value {
			switch {
			case p.text:
				return protoreflect.ValueOfString(s.Text(uint32(v.Uint())))
			case p.within:
				out := fresh()
				s.give(out.Message(), v.Message())
				return out
			}
			return v
		})
	}
}

// copyField sets a field to what another holds, each value converted. fresh makes
// an empty message of the field's kind.
func copyField(to protoreflect.Message, field protoreflect.FieldDescriptor, from protoreflect.Message, source protoreflect.FieldDescriptor,
	convert func(v protoreflect.Value, fresh func() protoreflect.Value) protoreflect.Value,
) {
	if !from.Has(source) {
		return
	}
	if !source.IsList() {
		to.Set(field, convert(from.Get(source), func() protoreflect.Value { return to.NewField(field) }))
		return
	}
	in, out := from.Get(source).List(), to.Mutable(field).List()
	for i := range in.Len() {
		out.Append(convert(in.Get(i), out.NewElement))
	}
}

// pair is a field of a row with the field of the contract that it keeps.
type pair struct {
	row, contract protoreflect.FieldDescriptor
	text          bool // a number of a text stands for it
	within        bool // a message with a row of its own kind
}

type kinds struct{ row, contract protoreflect.FullName }

var pairs sync.Map // kinds → []pair

// pairsOf finds which fields of a row keep which of the contract.
func pairsOf(row, contract protoreflect.MessageDescriptor) []pair {
	k := kinds{row.FullName(), contract.FullName()}
	if known, ok := pairs.Load(k); ok {
		return known.([]pair) //nolint:forcetypeassert // nothing else is stored
	}
	var out []pair
	for i := range row.Fields().Len() {
		field := row.Fields().Get(i)
		kept := contract.Fields().ByName(field.Name())
		if kept == nil {
			continue
		}
		out = append(out, pair{
			row: field, contract: kept,
			text:   kept.Kind() == protoreflect.StringKind,
			within: kept.Message() != nil && kept.Message() != field.Message(),
		})
	}
	pairs.Store(k, out)
	return out
}
