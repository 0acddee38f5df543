package judge_test

import (
	"bytes"
	"log/slog"
	"strings"
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/verdict"
	"gaugebook.dev/calc/visit"

	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/translate"
)

// loggedFaults gives the log from here to the end of the test. What cannot be told as
// it was meant stands in it: a text without a value that it needs, a code without a
// text.
func loggedFaults(t *testing.T) *bytes.Buffer {
	t.Helper()
	log, before := &bytes.Buffer{}, slog.Default()
	slog.SetDefault(slog.New(slog.NewTextHandler(log, nil)))
	t.Cleanup(func() { slog.SetDefault(before) })
	return log
}

// noFaults fails the test at its end when anything could not be told.
func noFaults(t *testing.T) {
	t.Helper()
	log := loggedFaults(t)
	t.Cleanup(func() {
		lines := map[string]bool{}
		for line := range strings.Lines(log.String()) {
			if _, fault, ok := strings.Cut(line, "fault="); ok && !lines[fault] {
				lines[fault] = true
				t.Errorf("not told: %s", strings.TrimSpace(fault))
			}
		}
	})
}

// A text that cannot be told whole says which value it wants, and so does the log; a
// finding without a text is told by its code.
func TestFaultsAreSeen(t *testing.T) {
	log := loggedFaults(t)
	a := translate.Assessment(&pb.AssessVisitRequest{}, visit.Visit{Vehicle: layout.Vehicle{Axles: make([]layout.Axle, 2)}}, verdict.Verdict{Findings: []finding.Finding{
		{Code: "tread.legal-limit", Positions: []layout.Position{layout.MustParse("1L")}, Measured: unit.Amount{Number: 1, Unit: unit.ThirtySecondsInch}},
		{Code: "tread.no-such"},
	}})
	tell.For(nil, tell.Shop{}).Assessment(a, true)
	if said := a.GetFindings()[0].GetForTechnician(); !strings.Contains(said, "{limit}") || !strings.Contains(said, "1/32 in") {
		t.Errorf("told %q", said)
	}
	if f := a.GetFindings()[1]; f.GetCode() != "tread.no-such" || f.GetForTechnician() != "tread.no-such" {
		t.Errorf("told %v", f)
	}
	for _, fault := range []string{"findings: tread.legal-limit: no value for {limit}", "findings: no text tread.no-such"} {
		if !strings.Contains(log.String(), fault) {
			t.Errorf("the log does not say %q: %s", fault, log)
		}
	}
}
