package app

import (
	"bytes"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/gateway/strictjson"

	"gaugebook.dev/server/check"
)

// What is tried on a terminal: a line that looks like the report's own, escape and C1
// sequences of ECMA-48, a turn of direction of UAX #9.
const forged = "x\n\nBefore driving\n  RR        Fine.\r\x1b[2J\u009b31m\u202eenif\u2028end"

// forge puts the forged text in place of each text of a message in turn, also of those
// that nobody told.
func forge(m protoreflect.Message, try func(field string)) {
	fields := m.Descriptor().Fields()
	for i := range fields.Len() {
		field := fields.Get(i)
		switch {
		case field.Message() != nil && field.IsList():
			for i := range m.Get(field).List().Len() {
				forge(m.Mutable(field).List().Get(i).Message(), try)
			}
		case field.Message() != nil && m.Has(field):
			forge(m.Mutable(field).Message(), try)
		case field.Kind() == protoreflect.StringKind && field.IsList():
			for i := range m.Get(field).List().Len() {
				was := m.Get(field).List().Get(i)
				m.Mutable(field).List().Set(i, protoreflect.ValueOfString(forged))
				try(string(field.FullName()))
				m.Mutable(field).List().Set(i, was)
			}
		case field.Kind() == protoreflect.StringKind:
			was, had := m.Get(field), m.Has(field)
			m.Set(field, protoreflect.ValueOfString(forged))
			try(string(field.FullName()))
			if m.Clear(field); had {
				m.Set(field, was)
			}
		}
	}
}

// Whatever text of a visit a caller filled, nothing that is printed of it steers the
// terminal or has a line that the program did not write.
func TestTextsForgeNothing(t *testing.T) {
	file := filepath.Join(t.TempDir(), "visit.json")
	tried, refused := map[string]bool{}, map[string]bool{}
	for _, demo := range []string{"sedan-nail", "tandem-trailer"} {
		data, err := os.ReadFile("../../testdata/demo/" + demo + ".json")
		if err != nil {
			t.Fatal(err)
		}
		req := &pb.AssessVisitRequest{}
		if problems := strictjson.Read(data, req); len(problems) > 0 {
			t.Fatal(problems)
		}
		forge(req.ProtoReflect(), func(field string) {
			if tried[field] && refused[field] {
				return
			}
			tried[field], refused[field] = true, len(check.AssessVisit(proto.CloneOf(req))) > 0
			data, err := protojson.Marshal(req)
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(file, data, 0o600); err != nil {
				t.Fatal(err)
			}
			for _, args := range [][]string{{"assess", file}, {"assess", "--json", file}} {
				var out, errs bytes.Buffer
				Main(t.Context(), args, nil, strings.NewReader(""), &out, &errs)
				for line := range strings.Lines(out.String() + errs.String()) {
					if line = strings.TrimSuffix(line, "\n"); strings.TrimSpace(line) == "RR        Fine." || strings.ContainsFunc(line, steers) {
						t.Errorf("%s: %q prints the line %q", field, args[:len(args)-1], line)
					}
				}
			}
		})
	}
	free := slices.DeleteFunc(slices.Sorted(maps.Keys(tried)), func(f string) bool { return refused[f] })
	if len(free) < 15 {
		t.Errorf("only %d texts are free: %v", len(free), free)
	}
}

// steers tells whether a character is no part of a line.
func steers(r rune) bool { return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp) }
