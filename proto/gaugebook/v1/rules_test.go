package gaugebookv1_test

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protodesc"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/types/descriptorpb"
)

// What buf lint holds already is not held again here: names, packages, comments
// on everything, and enums that begin with UNSPECIFIED. That every request of a
// shop names it in field 1 is held in server/access.

// reserved lists the words that cannot be names: of Java the keywords and literals
// of The Java Language Specification, Java SE 17, section 3.9; of Kotlin the hard
// keywords of the Kotlin language specification; of TypeScript the reserved words
// of ECMA-262, section 12.7.2, with those of strict mode.
var reserved = map[string][]string{
	"Java": strings.Fields(`abstract assert boolean break byte case catch char class const continue default
		do double else enum extends final finally float for goto if implements import instanceof int interface
		long native new package private protected public return short static strictfp super switch synchronized
		this throw throws transient try void volatile while _ true false null`),
	"Kotlin": strings.Fields(`as break class continue do else false for fun if in interface is null object
		package return super this throw true try typealias typeof val var when while`),
	"TypeScript": strings.Fields(`await break case catch class const continue debugger default delete do else
		enum export extends false finally for function if import in instanceof new null return super switch this
		throw true try typeof var void while with yield
		arguments eval implements interface let package private protected public static`),
}

// taken lists the names that generated code, or what it stands on, uses itself.
var taken = map[string][]string{
	"the accessors of every Java message": {
		"allFields", "cachedSize", "class", "defaultInstanceForType", "descriptorForType",
		"initializationErrorString", "parserForType", "serializedSize", "unknownFields",
	},
	"the methods of every Go message":    {"descriptor", "protoMessage", "protoReflect", "reset", "string"},
	"the members of every Java object":   {"clone", "equals", "finalize", "getClass", "hashCode", "notify", "notifyAll", "toString"},
	"the members of every script object": {"constructor", "toJSON", "toString", "valueOf"},
}

// camel writes a name as accessors and JSON do: "as_read" is asRead.
func camel(name protoreflect.Name) string {
	words := strings.Split(string(name), "_")
	for i, w := range words[1:] {
		if w != "" {
			words[i+1] = strings.ToUpper(w[:1]) + w[1:]
		}
	}
	return strings.ToLower(words[0][:1]) + strings.Join(words, "")[1:]
}

// forbidden says why a name of the contract cannot be used, or nothing.
func forbidden(name protoreflect.Name) string {
	for language, words := range reserved {
		if slices.Contains(words, string(name)) || slices.Contains(words, camel(name)) {
			return "reserved in " + language
		}
	}
	for by, words := range taken {
		if slices.Contains(words, camel(name)) {
			return "taken by " + by
		}
	}
	return ""
}

// names gives every name of the contract that becomes one in generated code, as
// the generators use it: TypeScript cuts the enum's name off its values.
func names() map[protoreflect.FullName]protoreflect.Name {
	all := map[protoreflect.FullName]protoreflect.Name{}
	for _, m := range messages() {
		all[m.FullName()] = m.Name()
		for i := range m.Fields().Len() {
			all[m.Fields().Get(i).FullName()] = m.Fields().Get(i).Name()
		}
		for i := range m.Oneofs().Len() {
			if !m.Oneofs().Get(i).IsSynthetic() {
				all[m.Oneofs().Get(i).FullName()] = m.Oneofs().Get(i).Name()
			}
		}
	}
	for _, f := range files() {
		for i := range f.Enums().Len() {
			e := f.Enums().Get(i)
			all[e.FullName()] = e.Name()
			prefix := strings.ToUpper(word.ReplaceAllString(string(e.Name()), "${1}_${2}")) + "_"
			for j := range e.Values().Len() {
				name := e.Values().Get(j).Name()
				all[e.Values().Get(j).FullName()] = protoreflect.Name(strings.TrimPrefix(string(name), prefix))
			}
		}
		for i := range f.Services().Len() {
			s := f.Services().Get(i)
			all[s.FullName()] = s.Name()
			for j := range s.Methods().Len() {
				all[s.Methods().Get(j).FullName()] = s.Methods().Get(j).Name()
			}
		}
	}
	return all
}

var word = regexp.MustCompile(`([a-z0-9])([A-Z])`)

func TestNoNameIsReserved(t *testing.T) {
	all := names()
	if len(all) < 500 {
		t.Errorf("%d names: looked in the wrong place?", len(all))
	}
	for full, name := range all {
		if why := forbidden(name); why != "" {
			t.Errorf("%s: %q is %s", full, name, why)
		}
		if c := name[0]; c >= '0' && c <= '9' {
			t.Errorf("%s: %q begins with a digit", full, name)
		}
	}
}

func TestForbiddenNames(t *testing.T) {
	for name, want := range map[protoreflect.Name]bool{
		"class": true, "object": true, "in": true, "await": true, "let": true, "synchronized": true, "true": true,
		"Class": true, "serialized_size": true, "descriptor_for_type": true, "value_of": true, "Notify": true, "reset": true,
		"wheel_class": false, "object_in_place": false, "wait": false, "record": false, "at": false, "open": false,
	} {
		if why := forbidden(name); (why != "") != want {
			t.Errorf("%s: %q, want it forbidden: %v", name, why, want)
		}
	}
}

// TestAccessorsDiffer holds that no two fields of a message give one accessor in
// Java, where a field has several: lists have getXCount and getXList, strings
// getXBytes, enums getXValue, fields that exclude one another getXCase.
func TestAccessorsDiffer(t *testing.T) {
	for _, m := range messages() {
		seen := map[string]protoreflect.Name{}
		claim := func(name protoreflect.Name, endings ...string) {
			for _, ending := range endings {
				accessor := camel(name) + ending
				if other, ok := seen[accessor]; ok {
					t.Errorf("%s: %s and %s both give get%s", m.Name(), other, name, strings.ToUpper(accessor[:1])+accessor[1:])
				}
				seen[accessor] = name
			}
		}
		for i := range m.Fields().Len() {
			field := m.Fields().Get(i)
			endings := []string{""}
			if field.IsList() {
				endings = append(endings, "Count", "List")
			}
			switch field.Kind() {
			case protoreflect.StringKind:
				endings = append(endings, "Bytes")
			case protoreflect.EnumKind:
				endings = append(endings, "Value")
			case protoreflect.MessageKind:
				endings = append(endings, "Builder", "OrBuilder")
			}
			claim(field.Name(), endings...)
		}
		for i := range m.Oneofs().Len() {
			if !m.Oneofs().Get(i).IsSynthetic() {
				claim(m.Oneofs().Get(i).Name(), "Case")
			}
		}
	}
}

// TestFiles holds each file to what a phone can compile: proto3, nothing imported
// but the two well-known types of time, no options but those that name packages.
func TestFiles(t *testing.T) {
	allowed := []string{"google/protobuf/duration.proto", "google/protobuf/timestamp.proto"}
	for _, f := range files() {
		if f.Syntax() != protoreflect.Proto3 || f.Package() != "gaugebook.v1" {
			t.Errorf("%s: %v, package %s", f.Path(), f.Syntax(), f.Package())
		}
		for i := range f.Imports().Len() {
			if path := f.Imports().Get(i).Path(); !strings.HasPrefix(path, "gaugebook/v1/") && !slices.Contains(allowed, path) {
				t.Errorf("%s imports %s", f.Path(), path)
			}
			if f.Imports().Get(i).IsPublic {
				t.Errorf("%s: %s is imported for others too", f.Path(), f.Imports().Get(i).Path())
			}
		}
		base := strings.TrimSuffix(strings.TrimPrefix(f.Path(), "gaugebook/v1/"), ".proto")
		outer := camel(protoreflect.Name(base)) + "Proto"
		want := &descriptorpb.FileOptions{
			GoPackage:          new("gaugebook.dev/proto/gaugebook/v1;gaugebookv1"),
			JavaPackage:        new("dev.gaugebook.v1"),
			JavaMultipleFiles:  new(true),
			JavaOuterClassname: new(strings.ToUpper(outer[:1]) + outer[1:]),
		}
		if got := protodesc.ToFileDescriptorProto(f).GetOptions(); !proto.Equal(got, want) {
			t.Errorf("%s: options %v, want %v", f.Path(), got, want)
		}
		for _, m := range messages() {
			if string(m.Name()) == want.GetJavaOuterClassname() {
				t.Errorf("%s: its outer class is named as the message %s", f.Path(), m.FullName())
			}
		}
		if f.Extensions().Len() > 0 {
			t.Errorf("%s extends messages", f.Path())
		}
	}
}

// TestNothingIsNested holds that messages and enums stand on their own, so that
// every client has them by the same name.
func TestNothingIsNested(t *testing.T) {
	for _, m := range messages() {
		if m.Enums().Len()+m.Messages().Len()+m.Extensions().Len() > 0 {
			t.Errorf("%s holds definitions of its own", m.FullName())
		}
	}
}

// TestFieldKinds holds each field to the kinds that every client has as they are:
// no 64-bit or unsigned numbers, no maps, nothing of any kind.
func TestFieldKinds(t *testing.T) {
	kinds := []protoreflect.Kind{
		protoreflect.BoolKind, protoreflect.Int32Kind, protoreflect.DoubleKind, protoreflect.StringKind,
		protoreflect.BytesKind, protoreflect.EnumKind, protoreflect.MessageKind,
	}
	for _, m := range messages() {
		for i := range m.Fields().Len() {
			field := m.Fields().Get(i)
			if field.IsMap() || !slices.Contains(kinds, field.Kind()) {
				t.Errorf("%s is of kind %v, a map: %v", field.FullName(), field.Kind(), field.IsMap())
			}
			if of := field.Message(); of != nil && of.FullName().Parent() != m.ParentFile().Package() &&
				of.FullName() != "google.protobuf.Timestamp" && of.FullName() != "google.protobuf.Duration" {
				t.Errorf("%s is a %s", field.FullName(), of.FullName())
			}
			if proto.Size(field.Options()) > 0 {
				t.Errorf("%s has options %v", field.FullName(), field.Options())
			}
		}
	}
}

// TestUnitsAreInNames holds that a number with a fraction is a quantity with its
// unit, or says in its own name what it is counted in.
func TestUnitsAreInNames(t *testing.T) {
	unit := regexp.MustCompile(`(percent|degrees|_per_mile|_per_kilometer)$`)
	quantities := "gaugebook/v1/quantities.proto"
	for _, m := range messages() {
		for i := range m.Fields().Len() {
			field := m.Fields().Get(i)
			if field.Kind() != protoreflect.DoubleKind || m.ParentFile().Path() == quantities {
				continue
			}
			if !unit.MatchString(string(field.Name())) {
				t.Errorf("%s has no unit in its name", field.FullName())
			}
		}
	}
}

var enum = regexp.MustCompile(`(?m)((?:^// .*\n)+)^enum (\w+) \{`)

// TestEnumsGrowOrAreFrozen holds that the comment of each enum says what a client
// may count on.
func TestEnumsGrowOrAreFrozen(t *testing.T) {
	for _, f := range files() {
		text, err := os.ReadFile("../../" + f.Path())
		if err != nil {
			t.Fatal(err)
		}
		says := map[string]bool{}
		for _, found := range enum.FindAllStringSubmatch(string(text), -1) {
			grows, frozen := strings.Contains(found[1], "Grows"), strings.Contains(found[1], "Frozen")
			says[found[2]] = grows != frozen
		}
		for i := range f.Enums().Len() {
			if e := f.Enums().Get(i); !says[string(e.Name())] {
				t.Errorf("%s: its comment says neither Grows nor Frozen, or both", e.FullName())
			}
		}
	}
}
