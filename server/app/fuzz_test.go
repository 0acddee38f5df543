package app

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/gateway/strictjson"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/report"
	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/translate"
)

// FuzzAssess takes a document the way that assess does: it is refused with its
// problems, or judged and printed, and never breaks anything.
func FuzzAssess(f *testing.F) {
	files, err := filepath.Glob("../../testdata/demo/*.json")
	if err != nil || len(files) == 0 {
		f.Fatalf("no demo files: %v", err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add([]byte(`{"inspection": {"wheels": [{"position": "1L", "tread": [{"place": {"across": "ACROSS_CENTER"}, "depth": {"thirtySecondsInch": 3}}]}]}}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		req := &pb.AssessVisitRequest{}
		if lines := problemLines(strictjson.Read(data, req), check.AssessVisit(req)); len(lines) > 0 {
			return
		}
		answer, teller := judge.Visit(req), tell.For(ofReport(req.GetReader(), tell.Shop{}), tell.Shop{})
		teller.Assessment(answer, translate.FrontRear(req.GetVehicle()))
		if err := report.Write(io.Discard, req, answer, teller.Told()); err != nil {
			t.Fatalf("cannot be printed: %v", err)
		}
		var out bytes.Buffer
		if err := writeJSON(&out, &pb.AssessVisitResponse{Assessment: answer, Told: teller.Told()}); err != nil {
			t.Fatalf("cannot be written: %v", err)
		}
	})
}

// FuzzDay: a day is the one that is written, or it is refused.
func FuzzDay(f *testing.F) {
	for _, s := range []string{"2026-11-24", "2024-02-29", "2023-02-29", "1899-12-31", "2026-1-2", "0000-00-00", "2026-11-24T00:00:00Z", ""} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		d, err := parseDay(s)
		if err != nil {
			if d != nil {
				t.Fatalf("%q is refused and still is %v", s, d)
			}
			return
		}
		if back := fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day); back != s {
			t.Fatalf("%q is read as %s", s, back)
		}
	})
}
