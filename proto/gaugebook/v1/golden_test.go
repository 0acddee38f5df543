package gaugebookv1_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/reflect/protoregistry"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// update rewrites the golden bytes:
//
//	go test ./proto/... -run Golden -update
var update = flag.Bool("update", false, "rewrite testdata/contract/golden")

const (
	contract = "../../../testdata/contract"
	golden   = contract + "/golden"
	suffix   = ".binpb"
)

// files gives every file of the contract.
func files() []protoreflect.FileDescriptor {
	var all []protoreflect.FileDescriptor
	protoregistry.GlobalFiles.RangeFilesByPackage(pb.File_gaugebook_v1_shop_service_proto.Package(), func(f protoreflect.FileDescriptor) bool {
		all = append(all, f)
		return true
	})
	return all
}

// messages gives every message of the contract. None lies within another; see
// TestNothingIsNested.
func messages() []protoreflect.MessageDescriptor {
	var all []protoreflect.MessageDescriptor
	for _, f := range files() {
		for i := range f.Messages().Len() {
			all = append(all, f.Messages().Get(i))
		}
	}
	return all
}

// newOf makes an empty message of the Go type that stands for a descriptor.
func newOf(t *testing.T, d protoreflect.MessageDescriptor) protoreflect.Message {
	t.Helper()
	mt, err := protoregistry.GlobalTypes.FindMessageByName(d.FullName())
	if err != nil {
		t.Fatal(err)
	}
	return mt.New()
}

// goldens gives every golden message by the name of its file: each message with
// the first of the fields that exclude one another, then with each of them.
func goldens(t *testing.T) map[string]protoreflect.Message {
	t.Helper()
	all := map[string]protoreflect.Message{}
	for _, d := range messages() {
		whole := newOf(t, d)
		newFiller(nil).fill(whole)
		all[string(d.Name())] = whole
		for i := range d.Oneofs().Len() {
			if d.Oneofs().Get(i).IsSynthetic() {
				continue
			}
			arms := d.Oneofs().Get(i).Fields()
			for j := range arms.Len() {
				m := newOf(t, d)
				newFiller(arms.Get(j)).fill(m)
				all[string(d.Name())+"."+string(arms.Get(j).Name())] = m
			}
		}
	}
	return all
}

// TestGolden holds the committed bytes against the messages that they stand for.
// The bytes are not written by the protobuf library but by encoded, so that each
// client and the library are held to the same third party.
func TestGolden(t *testing.T) {
	all := goldens(t)
	for name, want := range all {
		path := filepath.Join(golden, name+suffix)
		if *update {
			if err := os.WriteFile(path, encoded(want), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		data, err := os.ReadFile(path)
		if err != nil {
			t.Error(err)
			continue
		}
		if !bytes.Equal(data, encoded(want)) {
			t.Errorf("%s: the contract now gives other bytes; if that is meant, -update", path)
		}
		got := want.New()
		if err := proto.Unmarshal(data, got.Interface()); err != nil {
			t.Errorf("%s: %v", path, err)
			continue
		}
		if !proto.Equal(got.Interface(), want.Interface()) {
			t.Errorf("%s: read as %v, want %v", path, got.Interface(), want.Interface())
		}
		if unknown := unknownIn(got); unknown != "" {
			t.Errorf("%s: %s has fields that the contract does not know", path, unknown)
		}
		// The library writes fields that exclude one another last, so only the size is the same.
		if size := proto.Size(got.Interface()); size != len(data) {
			t.Errorf("%s: %d bytes, written anew %d", path, len(data), size)
		}
	}

	found, err := os.ReadDir(golden)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range found {
		name, ok := strings.CutSuffix(f.Name(), suffix)
		if ok && all[name] != nil {
			continue
		}
		path := filepath.Join(golden, f.Name())
		if !*update {
			t.Errorf("%s stands for nothing in the contract", path)
		} else if err := os.Remove(path); err != nil {
			t.Fatal(err)
		}
	}
}

// TestGoldenJSON holds the same messages as JSON, one a line: the bytes alone do
// not show a client that takes one field for another.
func TestGoldenJSON(t *testing.T) {
	var lines bytes.Buffer
	all := goldens(t)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		text, err := protojson.Marshal(all[name].Interface())
		if err != nil {
			t.Fatal(err)
		}
		// The library puts in spaces by chance.
		fmt.Fprintf(&lines, `{"name":%q,"message":`, name)
		if err := json.Compact(&lines, text); err != nil {
			t.Fatal(err)
		}
		lines.WriteString("}\n")
	}
	path := contract + "/golden.jsonl"
	if *update {
		if err := os.WriteFile(path, lines.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(lines.Bytes(), want) {
		t.Errorf("%s: the contract now gives other JSON; if that is meant, -update", path)
	}
}

// TestGoldenIsWhole holds that in each golden message every field is set that can
// be, there and in some message of each kind within it, and that all values of a
// kind differ.
func TestGoldenIsWhole(t *testing.T) {
	for name, m := range goldens(t) {
		wholeOnce, kinds := map[protoreflect.FullName]bool{}, map[protoreflect.FullName]bool{}
		seen := map[string]protoreflect.FullName{}
		walk(m, func(m protoreflect.Message) {
			d := m.Descriptor()
			kinds[d.FullName()] = true
			if emptyFieldOf(m) == "" {
				wholeOnce[d.FullName()] = true
			}
			m.Range(func(field protoreflect.FieldDescriptor, v protoreflect.Value) bool {
				if field.Message() != nil || field.Enum() != nil || field.Kind() == protoreflect.BoolKind {
					return true
				}
				for _, v := range each(field, v) {
					value := fmt.Sprint(v.Interface())
					if other, ok := seen[value]; ok {
						t.Errorf("%s: %s and %s are both %s", name, other, field.FullName(), value)
					}
					seen[value] = field.FullName()
				}
				return true
			})
		})
		if empty := emptyFieldOf(m); empty != "" {
			t.Errorf("%s: %s is not set", name, empty)
		}
		for kind := range kinds {
			if !wholeOnce[kind] {
				t.Errorf("%s: no %s within it is whole", name, kind)
			}
		}
	}
}

// emptyFieldOf names a field, or fields that exclude one another, of which
// nothing is set.
func emptyFieldOf(m protoreflect.Message) protoreflect.Name {
	for i := range m.Descriptor().Fields().Len() {
		field := m.Descriptor().Fields().Get(i)
		oneof := field.ContainingOneof()
		switch {
		case oneof != nil && !oneof.IsSynthetic():
			if m.WhichOneof(oneof) == nil {
				return oneof.Name()
			}
		case !m.Has(field):
			return field.Name()
		case field.IsList() && m.Get(field).List().Len() != 2:
			return field.Name()
		}
	}
	return ""
}

// unknownIn names a message that holds bytes which its kind does not know.
func unknownIn(m protoreflect.Message) (name protoreflect.Name) {
	walk(m, func(m protoreflect.Message) {
		if len(m.GetUnknown()) > 0 {
			name = m.Descriptor().Name()
		}
	})
	return name
}

// walk visits a message and every message within it.
func walk(m protoreflect.Message, visit func(protoreflect.Message)) {
	visit(m)
	m.Range(func(field protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		if field.Message() != nil {
			for _, v := range each(field, v) {
				walk(v.Message(), visit)
			}
		}
		return true
	})
}

// each gives the values of a list, or the one value of another field.
func each(field protoreflect.FieldDescriptor, v protoreflect.Value) []protoreflect.Value {
	if !field.IsList() {
		return []protoreflect.Value{v}
	}
	var all []protoreflect.Value
	for i := range v.List().Len() {
		all = append(all, v.List().Get(i))
	}
	return all
}
