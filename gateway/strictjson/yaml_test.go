package strictjson_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"go.yaml.in/yaml/v3"
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/gateway/strictjson"
)

const yamlVisit = `
# as a technician may write it
vehicle:
  axles: {axles: [{}, {}]}
inspection:
  localDate: {year: 2026, month: 4, day: 14}
  odometer: {miles: 48210}
  wheels:
    - position: 1L
      tread:
        - place: {across: ACROSS_CENTER}
          depth: {thirtySecondsInch: 3}
      pressures: [{pressure: {psi: 32.5}}]
reader:
  language: 'es-MX'
`

func TestYAMLIsReadAsJSONIs(t *testing.T) {
	var got, want pb.AssessVisitRequest
	if problems := strictjson.ReadYAML([]byte(yamlVisit), &got); len(problems) > 0 {
		t.Fatal(problems)
	}
	if problems := strictjson.Read([]byte(`{"vehicle": {"axles": {"axles": [{}, {}]}}, "inspection": {"localDate": {"year": 2026, "month": 4, "day": 14},
		"odometer": {"miles": 48210}, "wheels": [{"position": "1L", "tread": [{"place": {"across": "ACROSS_CENTER"}, "depth": {"thirtySecondsInch": 3}}],
		"pressures": [{"pressure": {"psi": 32.5}}]}]}, "reader": {"language": "es-MX"}}`), &want); len(problems) > 0 {
		t.Fatal(problems)
	}
	if !proto.Equal(&got, &want) {
		t.Errorf("read as\n%v\nwant\n%v", &got, &want)
	}
}

// Each visit of the demo is the same as YAML, written by the library and flow by flow:
// JSON is YAML too (YAML 1.2.2, section 1.1).
func TestDemoAsYAML(t *testing.T) {
	files, _ := filepath.Glob("../../testdata/demo/*.json")
	if len(files) < 5 {
		t.Fatalf("demo files: %v", files)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var want, flow, block pb.AssessVisitRequest
		if problems := strictjson.Read(data, &want); len(problems) > 0 {
			t.Fatal(problems)
		}
		var value any
		if err := yaml.Unmarshal(data, &value); err != nil {
			t.Fatal(err)
		}
		written, err := yaml.Marshal(value)
		if err != nil {
			t.Fatal(err)
		}
		for form, of := range map[string]struct {
			data []byte
			msg  *pb.AssessVisitRequest
		}{"flow": {data, &flow}, "block": {written, &block}} {
			if problems := strictjson.ReadYAML(of.data, of.msg); len(problems) > 0 || !proto.Equal(of.msg, &want) {
				t.Errorf("%s as %s: %v", file, form, problems)
			}
		}
	}
}

func TestYAMLProblems(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []string
	}{
		{"a misspelled field", "inspection:\n  wheels:\n    - position: 1L\n      tread:\n        - depth: {thirtySecondInch: 3}\n",
			[]string{`line 5, column 19: inspection.wheels[0].tread[0].depth.thirtySecondInch: unknown field; given thirtySecondInch; did you mean "thirtySecondsInch"?`}},
		{"two at once", "inspection:\n  wheels:\n    - postion: 1L\n  odometer: {mile: 5}\n",
			[]string{`line 3, column 7: inspection.wheels[0].postion: unknown field; given postion; did you mean "position"?`, `line 4, column 14: inspection.odometer.mile: unknown field`}},
		{"a number as text", `inspection: {odometer: {miles: "48210"}}`, []string{`line 1, column 32: inspection.odometer.miles: text instead of a number; given "48210"; a number without quotes: 48210`}},
		{"text as a number", "vehicle:\n  tag: 12\n", []string{`line 2, column 8: vehicle.tag: a number instead of text; given 12; text in double quotes: "12"`}},
		{"a fraction", "inspection: {odometer: {miles: 4/32}}", []string{"text instead of a number; given 4/32"}},
		{"no value", "vehicle:\n  tag:\n", []string{"line 2, column 7: vehicle.tag: null is not accepted"}},
		{"a key twice", "vehicle:\n  tag: a\n  tag: b\n", []string{"line 3, column 3: vehicle.tag: the field is given twice"}},
		{"two units", "inspection:\n  odometer:\n    miles: 4\n    kilometers: 5\n", []string{`line 4, column 5: inspection.odometer.kilometers: given beside "miles"`}},
		{"an alias", "vehicle: &v {tag: a}\ninspection: *v\n", []string{"line 2, column 13: inspection: an alias; given *v; write it out"}},
		{"a tag", "vehicle: {tag: !!binary aGk=}", []string{"line 1, column 16: vehicle.tag: a tag; given !!binary; leave the tag out"}},
		{"hexadecimal", "inspection: {odometer: {miles: 0x10}}", []string{"inspection.odometer.miles: a number written as 0x10 instead of a number; given 0x10; a number without quotes"}},
		{"infinite", "inspection: {odometer: {miles: -.inf}}", []string{"inspection.odometer.miles: not a finite number; given -.inf"}},
		{"an unknown value", "inspection: {wheels: [{tread: [{place: {across: CENTRE}}]}]}", []string{`line 1, column 49: inspection.wheels[0].tread[0].place.across: unknown value; given CENTRE; did you mean "ACROSS_CENTER"?`}},
		{"two documents", "vehicle: {}\n---\nvehicle: {}\n", []string{"line 2, column 1: text after the end of the document"}},
		{"nothing", "# nothing\n", []string{"line 1, column 1: the document is empty"}},
		{"a list", "- 1\n", []string{"line 1, column 1: the document is not an object"}},
		{"no object", "LF is flat", []string{"line 1, column 1: the document is not an object; given LF is flat"}},
		{"not YAML", "vehicle:\n  tag: a: b\n", []string{"line 2, column 1: not YAML: mapping values are not allowed in this context"}},
		{"not closed", "vehicle: {tag: a\n", []string{"not YAML: "}},
		{"a key that is no text", "? [a]\n: 1\n", []string{"unknown field"}},
		{"a key by a number", "vehicle: {1: 2}", []string{`vehicle["1"]: unknown field; given 1`}},
	} {
		var msg pb.AssessVisitRequest
		problems := strictjson.ReadYAML([]byte(c.text), &msg)
		if len(problems) != len(c.want) {
			t.Errorf("%s: %v, want %q", c.name, problems, c.want)
			continue
		}
		for i, p := range problems {
			if !strings.Contains(p.String(), c.want[i]) {
				t.Errorf("%s: %s, want %s", c.name, p, c.want[i])
			}
		}
	}
}

// What is deep or long is refused as JSON is, and in no more time.
func TestYAMLBounds(t *testing.T) {
	for name, text := range map[string]string{
		"deep":   strings.Repeat("[", 5000) + strings.Repeat("]", 5000),
		"long":   strings.Repeat("#", strictjson.MaxBytes+1),
		"deeper": "a: " + strings.Repeat("{a: ", 100) + strings.Repeat("}", 100),
	} {
		if problems := strictjson.ReadYAML([]byte(text), &pb.AssessVisitRequest{}); len(problems) == 0 {
			t.Errorf("%s is taken", name)
		}
	}
}

func FuzzYAML(f *testing.F) {
	f.Add([]byte(yamlVisit))
	f.Add([]byte("vehicle: &v {tag: !!str a}\ninspection: *v\n? [x]\n: {1: ~}\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, p := range strictjson.ReadYAML(data, &pb.AssessVisitRequest{}) {
			if strings.Contains(p.String(), "\n") {
				t.Errorf("%q", p)
			}
		}
	})
}
