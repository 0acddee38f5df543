package app

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"google.golang.org/protobuf/encoding/protojson"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// judged gives what assess answers to a document on standard input, or what it says.
func judged(t *testing.T, document string) (positions []string, said string) {
	t.Helper()
	var out, errs bytes.Buffer
	if Main(t.Context(), []string{"assess", "--json", "-"}, nil, strings.NewReader(document), &out, &errs) != exitDone {
		return nil, errs.String()
	}
	answer := &pb.AssessVisitResponse{}
	if err := protojson.Unmarshal(out.Bytes(), answer); err != nil {
		t.Fatal(err)
	}
	for _, w := range answer.GetAssessment().GetWheels() {
		positions = append(positions, w.GetPosition())
	}
	return positions, errs.String()
}

// A position is taken as a report on the vehicle prints it, in any language, where that
// is one place of this vehicle. Where it is none or several, it is refused as ever.
func TestPositionsAsReportsPrintThem(t *testing.T) {
	const car, dually, tractor = `{axles: {axles: [{}, {}]}}`, `{axles: {axles: [{}, {wheels: AXLE_WHEELS_DUAL}]}}`, `{axles: {axles: [{}, {wheels: AXLE_WHEELS_DUAL}, {wheels: AXLE_WHEELS_DUAL}]}}`
	for _, c := range []struct{ vehicle, given, stored string }{
		{car, "LF", "1L"}, {car, "RF", "1R"}, {car, "LR", "2L"}, {car, "RR", "2R"}, {car, "2R", "2R"},
		{car, "DI", "1L"}, {car, "TD", "2R"}, // Spanish
		{car, "SP", "S"}, {car, "S", "S"},
		{dually, "LRI", "2LI"}, {dually, "RRO", "2RO"}, {dually, "LF", "1L"}, {dually, "TIE", "2LO"},
		{tractor, "2LO", "2LO"}, {tractor, "3RI", "3RI"}, {tractor, "2IE", "2LO"}, {tractor, "1D", "1R"},
		{dually, "LR", ""}, // which of the two
		{dually, "RR", ""}, {tractor, "LF", ""}, {tractor, "LRI", ""},
		{car, "LRI", ""}, {car, "lf", ""}, {car, "FL", ""},
		{`{}`, "LF", ""}, {`{}`, "RR", ""},
		{`{vehicleClass: VEHICLE_CLASS_TRAILER, axles: {axles: [{}, {}]}}`, "LF", ""}, // reports print 1L
	} {
		document := "vehicle: " + c.vehicle + "\ninspection: {wheels: [{position: " + c.given + ", tread: [{place: {across: ACROSS_CENTER}, depth: {thirtySecondsInch: 7}}]}]}\n"
		got, said := judged(t, document)
		if c.stored == "" {
			if !strings.Contains(said, `inspection.wheels[0].position: "`+c.given+`": no position`) {
				t.Errorf("%s of %s: %v, %q", c.given, c.vehicle, got, said)
			}
		} else if len(got) != 1 || got[0] != c.stored {
			t.Errorf("%s of %s: %v, %q, want %s", c.given, c.vehicle, got, said, c.stored)
		}
	}
	if _, said := judged(t, "vehicle: "+car+"\ninspection: {wheels: [{position: LF, tread: [{place: {across: ACROSS_CENTER}, depth: {thirtySecondsInch: 7}}]}, {position: 1L}]}\n"); !strings.Contains(said, "wheels[1].position") {
		t.Errorf("one wheel by two names: %q", said)
	}
}

// A document is read as what its name says, and without a name as what it begins with.
func TestYAMLOrJSON(t *testing.T) {
	const yaml, json = "inspection:\n  wheels: [{position: 1L, pressures: [{pressure: {psi: 30}}]}]\n", `{"inspection": {"wheels": [{"position": "1L", "pressures": [{"pressure": {"psi": 30}}]}]}}`
	dir := t.TempDir()
	for _, c := range []struct {
		name, text string
		code       int
		says       string
	}{
		{"visit.yaml", yaml, 0, ""},
		{"visit.YML", yaml, 0, ""},
		{"visit.yaml", json, 0, ""},
		{"visit.json", json, 0, ""},
		{"visit.json", yaml, 2, "line 1, column 1: the document is not an object"},
		{"visit", yaml, 0, ""},
		{"visit", "\n " + json, 0, ""},
		{"visit.yaml", strings.Replace(yaml, "psi: 30", "psi: 30, bar: 2", 1), 2, `line 2, column 60: inspection.wheels[0].pressures[0].pressure.bar: given beside "psi"`},
		{"visit.yaml", strings.Replace(yaml, "1L", "9Z", 1), 2, `inspection.wheels[0].position: "9Z": no position`},
		{"visit.yaml", strings.Repeat("#", 5<<20), 2, "the document is longer than"},
	} {
		file := filepath.Join(dir, c.name)
		if err := os.WriteFile(file, []byte(c.text), 0o600); err != nil {
			t.Fatal(err)
		}
		var out, errs bytes.Buffer
		if code := Main(t.Context(), []string{"assess", file}, nil, strings.NewReader(""), &out, &errs); code != c.code || !strings.Contains(errs.String(), c.says) {
			t.Errorf("%s %.40q: exit %d, %q", c.name, c.text, code, errs.String())
		}
	}
	if _, said := judged(t, "- 1"); !strings.Contains(said, "standard input cannot be judged") {
		t.Error(said)
	}
}
