package strictjson

import (
	"fmt"
	"strings"

	"github.com/agnivade/levenshtein"
	"google.golang.org/protobuf/reflect/protoreflect"
)

const (
	// few is the number of names up to which they are all listed.
	few = 8
	// maxGuess is the length in bytes of the longest name worth guessing at.
	maxGuess = 80
)

// form is how the value of a field is written.
type form struct {
	kind kind   // nothing if it cannot be read at all
	noun string // what it is; empty for an enum, whose name it takes
	want string // what to write; empty if it takes a look at the descriptor
}

// unreadable is what is wrong with a field of a kind the contract does not use.
var unreadable = fault{"a field of this kind is not read from JSON", "leave the field out"}

// formOf gives the form of a field's single value, or of one element of its list.
func formOf(fd protoreflect.FieldDescriptor) form {
	switch fd.Kind() {
	case protoreflect.BoolKind:
		return form{truth, "true or false", "true or false without quotes"}
	case protoreflect.DoubleKind:
		return form{number, "a number", "a number without quotes, such as 7.5"}
	case protoreflect.Int32Kind:
		return form{number, "a whole number", "a whole number without quotes, such as 7"}
	case protoreflect.StringKind:
		return form{text, "text", "text in double quotes"}
	case protoreflect.BytesKind:
		return form{text, "base64 text", `base64 text in double quotes, such as "3q2+7w=="`}
	case protoreflect.EnumKind:
		return form{kind: text}
	case protoreflect.MessageKind:
		return formOfMessage(fd.Message())
	}
	return form{}
}

// formOfMessage is formOf for a message. Of the messages that have a JSON form
// of their own the contract uses two.
func formOfMessage(md protoreflect.MessageDescriptor) form {
	switch {
	case md.FullName() == "google.protobuf.Timestamp":
		return form{text, "a time with its offset from UTC", `a time such as "2026-03-14T09:30:00Z" or "2026-03-14T10:30:00+01:00"`}
	case md.FullName() == "google.protobuf.Duration":
		return form{text, "a number of seconds", `seconds and the letter s in double quotes, such as "5400s"`}
	case md.ParentFile().Package() == "google.protobuf":
		return form{}
	}
	return form{object, "an object", ""}
}

// wantMessage says how a message is written.
func wantMessage(md protoreflect.MessageDescriptor) string {
	fields := md.Fields()
	switch {
	case fields.Len() == 0:
		return "an empty object: {}"
	case fields.Len() > few:
		return "an object: { ... }"
	case md.Oneofs().Len() == 1 && md.Oneofs().Get(0).Fields().Len() == fields.Len():
		return "an object with one of " + names(fields)
	}
	return "an object with " + names(fields)
}

// wantField says which field may have been meant by a name that the message has
// no field of.
func (r *reader) wantField(md protoreflect.MessageDescriptor, given string) string {
	if r.full() {
		return ""
	}
	fields := md.Fields()
	var best guess
	for i := range fields.Len() {
		best.try(folded(given), folded(fields.Get(i).JSONName()), fields.Get(i).JSONName())
	}
	switch {
	case best.name != "":
		return fmt.Sprintf("did you mean %q?", best.name)
	case fields.Len() == 0:
		return string(md.Name()) + " has no fields"
	case fields.Len() > few:
		return "a field of " + string(md.Name())
	}
	return "one of " + names(fields)
}

// wantEnum says which value may have been meant by a name that the enum has no
// value of. The contract's names begin with the name of the enum; a name without
// it is understood too.
func (r *reader) wantEnum(ed protoreflect.EnumDescriptor, given string) string {
	if r.full() {
		return ""
	}
	prefix := strings.TrimSuffix(string(ed.Values().Get(0).Name()), "UNSPECIFIED")
	given = folded(given)
	stem := strings.TrimPrefix(given, folded(prefix))
	var best guess
	var all []string
	for i := 1; i < ed.Values().Len(); i++ {
		name := string(ed.Values().Get(i).Name())
		all = append(all, fmt.Sprintf("%q", name))
		best.try(stem, folded(strings.TrimPrefix(name, prefix)), name)
		if stem == given { // the prefix is missing, or it is what is misspelled
			best.try(given, folded(name), name)
		}
	}
	switch {
	case best.name != "":
		return fmt.Sprintf("did you mean %q?", best.name)
	case len(all) > few:
		return fmt.Sprintf("a name from the list of %s, such as %s", ed.Name(), all[0])
	}
	return "one of " + strings.Join(all, ", ")
}

// guess is the name nearest to what was given, among those near enough that a
// slip of the finger may explain the difference. Of equals the first is kept.
type guess struct {
	name     string
	distance int
}

// try considers a name by its folded form. A third of what was given may differ,
// and of four letters two, since swapping neighbors counts as two.
func (g *guess) try(given, form, name string) {
	if len(given) > maxGuess {
		return
	}
	d := levenshtein.ComputeDistance(given, form)
	if d <= (len(given)+2)/3 && (g.name == "" || d < g.distance) {
		*g = guess{name, d}
	}
}

// folded is a name without what its spelling style adds: capitals, underscores,
// hyphens and spaces.
func folded(name string) string {
	return strings.ToLower(strings.NewReplacer("_", "", "-", "", " ", "").Replace(name))
}

// names lists the JSON names of fields, quoted.
func names(fields protoreflect.FieldDescriptors) string {
	var all []string
	for i := range fields.Len() {
		all = append(all, fmt.Sprintf("%q", fields.Get(i).JSONName()))
	}
	return strings.Join(all, ", ")
}
