package strictjson

import (
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/encoding/prototext"
	"google.golang.org/protobuf/reflect/protodesc"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/reflect/protoregistry"
	"google.golang.org/protobuf/types/descriptorpb"
	"google.golang.org/protobuf/types/dynamicpb"
	_ "google.golang.org/protobuf/types/known/wrapperspb"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// fixture is a message of kinds of field that the contract does not use at all,
// or does not use yet.
func fixture(t *testing.T) *dynamicpb.Message {
	t.Helper()
	var file descriptorpb.FileDescriptorProto
	err := prototext.Unmarshal([]byte(`
		name: "fixture.proto" package: "fixture" syntax: "proto3"
		dependency: "google/protobuf/wrappers.proto"
		message_type {
			name: "Fixture"
			field { name: "photo" number: 1 type: TYPE_BYTES label: LABEL_OPTIONAL }
			field { name: "inner" number: 2 type: TYPE_MESSAGE type_name: ".fixture.Fixture" label: LABEL_OPTIONAL }
			field { name: "odometer" number: 3 type: TYPE_INT64 label: LABEL_OPTIONAL }
			field { name: "ratio" number: 4 type: TYPE_FLOAT label: LABEL_OPTIONAL }
			field { name: "count" number: 5 type: TYPE_UINT32 label: LABEL_OPTIONAL }
			field { name: "boxed" number: 6 type: TYPE_MESSAGE type_name: ".google.protobuf.DoubleValue" label: LABEL_OPTIONAL }
			field { name: "labels" number: 7 type: TYPE_MESSAGE type_name: ".fixture.Fixture.LabelsEntry" label: LABEL_REPEATED }
			field { name: "nothing" number: 8 type: TYPE_MESSAGE type_name: ".fixture.Fixture.Nothing" label: LABEL_OPTIONAL }
			nested_type { name: "Nothing" }
			nested_type {
				name: "LabelsEntry" options { map_entry: true }
				field { name: "key" number: 1 type: TYPE_STRING label: LABEL_OPTIONAL }
				field { name: "value" number: 2 type: TYPE_STRING label: LABEL_OPTIONAL }
			}
		}`), &file)
	if err != nil {
		t.Fatal(err)
	}
	fd, err := protodesc.NewFile(&file, protoregistry.GlobalFiles)
	if err != nil {
		t.Fatal(err)
	}
	return dynamicpb.NewMessage(fd.Messages().ByName("Fixture"))
}

func TestBytes(t *testing.T) {
	const want = `base64 text in double quotes, such as "3q2+7w=="`
	for _, test := range []struct {
		source string
		doc    string
		photo  string
		want   []Problem
	}{
		// RFC 4648, section 10, and the same in the URL alphabet of section 5.
		{"RFC 4648, 10", `{"photo": "Zm9vYg=="}`, "foob", nil},
		{"RFC 4648, 3.2: padding left out", `{"photo": "Zm9vYg"}`, "foob", nil},
		{"RFC 4648, 5", `{"photo": "-_8="}`, "\xfb\xff", nil},
		{"RFC 4648, 3.3: not in the alphabet", `{"photo": "Zm9v!"}`, "", []Problem{{"photo", 1, 11, `"Zm9v!"`, "not base64 text", want}}},
		{"ProtoJSON, bytes", `{"photo": 7}`, "", []Problem{{"photo", 1, 11, `7`, "a number instead of base64 text", want}}},
	} {
		msg := fixture(t)
		got := Read([]byte(test.doc), msg)
		photo := msg.Get(msg.Descriptor().Fields().ByName("photo")).Bytes()
		if !slices.Equal(got, test.want) || string(photo) != test.photo {
			t.Errorf("%s: %s: %v, %q", test.source, test.doc, got, photo)
		}
	}
}

func TestKindsOutsideTheContractAreReported(t *testing.T) {
	msg := fixture(t)
	got := Read([]byte(`{"odometer": 7, "ratio": 7, "count": 7, "boxed": 7, "labels": {"a": "b"}, "photo": "Zm8="}`), msg)
	var paths []string
	for _, p := range got {
		paths = append(paths, p.Path)
		if p.Problem != unreadable.problem {
			t.Errorf("%v", p)
		}
	}
	if want := "odometer ratio count boxed labels"; strings.Join(paths, " ") != want {
		t.Errorf("reported %v, want %s", paths, want)
	}
	photo := msg.Descriptor().Fields().ByName("photo")
	msg.Range(func(fd protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		if fd != photo {
			t.Errorf("kept %s: %v", fd.Name(), v)
		}
		return true
	})
	if got := string(msg.Get(photo).Bytes()); got != "fo" {
		t.Errorf("the field beside them: %q", got)
	}
}

func TestObjectWithoutFields(t *testing.T) {
	got := Read([]byte(`{"nothing": 7}`), fixture(t))
	want := []Problem{{"nothing", 1, 13, `7`, "a number instead of an object", "an empty object: {}"}}
	if !slices.Equal(got, want) {
		t.Errorf("%v", got)
	}
}

func TestNestedMessagesAreLimited(t *testing.T) {
	nested := func(n int) string {
		return strings.Repeat(`{"inner":`, n-1) + "{}" + strings.Repeat("}", n-1)
	}
	if got := Read([]byte(nested(MaxNesting)), fixture(t)); len(got) > 0 {
		t.Errorf("%d levels: %v", MaxNesting, got)
	}
	got := Read([]byte(nested(MaxNesting+1)), fixture(t))
	if len(got) != 1 || got[0].Problem != "nested deeper than 64 levels" || got[0].Path != "inner"+strings.Repeat(".inner", MaxNesting-1) {
		t.Errorf("%d levels: %v", MaxNesting+1, got)
	}
}

// contract calls f for every message of the contract.
func contract(f func(protoreflect.MessageDescriptor)) {
	pkg := pb.File_gaugebook_v1_calculator_service_proto.Package()
	protoregistry.GlobalFiles.RangeFilesByPackage(pkg, func(file protoreflect.FileDescriptor) bool {
		for i := range file.Messages().Len() {
			f(file.Messages().Get(i))
		}
		return true
	})
}

// What this package takes for granted about the contract.
func TestContractIsReadable(t *testing.T) {
	const deepest = 20 // as the comment at MaxNesting says
	var depth func(md protoreflect.MessageDescriptor) int
	depth = func(md protoreflect.MessageDescriptor) int {
		most := 0
		for i := range md.Fields().Len() {
			fd := md.Fields().Get(i)
			if fd.IsMap() || formOf(fd).kind == nothing {
				t.Errorf("%s cannot be read from JSON", fd.FullName())
			}
			if ed := fd.Enum(); ed != nil && !strings.HasSuffix(string(ed.Values().Get(0).Name()), "_UNSPECIFIED") {
				t.Errorf("%s does not begin with UNSPECIFIED", ed.FullName())
			}
			d := 0
			if formOf(fd).kind == object {
				d = depth(fd.Message())
			}
			if fd.IsList() {
				d++
			}
			most = max(most, d)
		}
		return most + 1
	}
	messages := 0
	contract(func(md protoreflect.MessageDescriptor) {
		messages++
		if d := depth(md); d >= deepest {
			t.Errorf("%s is %d levels deep", md.FullName(), d)
		}
	})
	if messages < 30 {
		t.Errorf("only %d messages seen", messages)
	}
}
