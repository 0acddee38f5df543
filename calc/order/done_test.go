package order

import (
	"testing"

	"gaugebook.dev/calc/closing"
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/visit"
)

// What was put right is asked for no more: the inside of a tire is not seen again once
// each finding there that keeps air out is closed, nor a hole that is; a tire that was
// fitted is neither done for nor worn. What stays open, and another wheel's, is asked for.
func TestNothingIsAskedForTwice(t *testing.T) {
	p := layout.MustParse("1L")
	low, hole, worn := of(finding.InflationRunLow, finding.BeforeDriving, "1L"), of(finding.PunctureCracks, finding.ThisVisit, "1L"), of(finding.TreadWornToBars, finding.ThisVisit, "1L")
	if !looksInside(low.Code) || finding.KindOf(hole.Code).Again != finding.AgainHole || looksInside(worn.Code) {
		t.Fatal("the findings are of other kinds")
	}
	elsewhere := of(finding.InflationRunLow, finding.BeforeDriving, "1R")
	note := of(finding.InflationRunLowUndecided, finding.Note, "1L")
	for _, c := range []struct {
		name   string
		found  []finding.Finding
		closed []finding.Finding
		fitted bool
		air    bool // no air may go in yet
		holed  bool
		done   bool // done for
	}{
		{"nothing closed", []finding.Finding{low, hole, worn}, nil, false, true, true, true},
		{"the inside seen", []finding.Finding{low, hole, worn}, []finding.Finding{low}, false, false, true, true},
		{"the hole repaired", []finding.Finding{low, hole, worn}, []finding.Finding{hole}, false, true, false, true},
		{"both", []finding.Finding{low, hole}, []finding.Finding{low, hole}, false, false, false, true},
		{"another wheel's", []finding.Finding{low, elsewhere}, []finding.Finding{elsewhere}, false, true, true, true},
		{"another wheel's stays open", []finding.Finding{low, elsewhere}, []finding.Finding{low}, false, false, true, true},
		{"a note stays", []finding.Finding{low, note}, []finding.Finding{low}, false, false, true, true},
		{"a note alone", []finding.Finding{note, worn}, []finding.Finding{worn}, false, true, true, true},
		{"nothing of the kind was found", []finding.Finding{worn}, []finding.Finding{worn}, false, true, true, true},
		{"a tire fitted", []finding.Finding{low, hole}, nil, true, true, true, false},
	} {
		in := In{Findings: c.found, Left: closing.Left{Done: map[string]finding.Closed{}}, Visit: visit.Visit{Wheels: []visit.Wheel{{Position: p}}}}
		in.Visit.Wheels[0].Mended.Fitted = c.fitted
		for _, f := range c.closed {
			in.Left.Done[f.ID()] = finding.Closed("invented")
		}
		results := map[layout.Position]inflation.Result{p: {NoAir: true, Demount: true, Deflate: true, RestrainingDevice: true, FindLeak: true}}
		in.Facts = Facts{Scrapped: map[layout.Position]bool{p: true}, Treads: questions.Treads{p: tread.Result{WornOut: true}}, Holes: questions.HolesAnswer{Repairs: []questions.Repair{{Position: p}}}}
		in.Facts.Air.Airs.Results = results
		out := in.undone()
		r := out.Facts.Air.Airs.Results[p]
		for _, asked := range []bool{r.NoAir, r.Demount, r.Deflate, r.RestrainingDevice, r.FindLeak} {
			if asked != c.air {
				t.Errorf("%s: %+v", c.name, r)
			}
		}
		if holed := len(out.Facts.Holes.Repairs) > 0; holed != c.holed {
			t.Errorf("%s: a hole %v", c.name, holed)
		}
		if out.Facts.Scrapped[p] != c.done || out.Facts.Treads[p].WornOut != c.done {
			t.Errorf("%s: done for %v, worn %v", c.name, out.Facts.Scrapped[p], out.Facts.Treads[p].WornOut)
		}
		if len(out.Findings) != len(c.found)-len(c.closed) || len(out.found) != len(c.found) {
			t.Errorf("%s: %d of %d left", c.name, len(out.Findings), len(out.found))
		}
		if !results[p].NoAir || !in.Facts.Scrapped[p] || len(in.Facts.Holes.Repairs) != 1 || len(in.Findings) != len(c.found) {
			t.Errorf("%s: what was given has changed", c.name)
		}
	}
}

// A line of which all that was observed at a wheel and calls for it was put right goes;
// what was read calls for it still, and so does what was observed elsewhere.
func TestWhatWasPutRight(t *testing.T) {
	worn, chunked, ripple := of(finding.DamageCut, finding.ThisVisit, "1L", "1R"), of(finding.DamageChunking, finding.ThisVisit, "1L"), of(finding.DamageRadialRipple, finding.BeforeDriving, "2L")
	read := of(finding.TreadOddReading, finding.ThisVisit, "1L")
	work := finding.KindOf(worn.Code).Work
	if !finding.KindOf(worn.Code).Observed() || finding.KindOf(chunked.Code).Work != work || finding.KindOf(ripple.Code).Work == work || finding.KindOf(read.Code).Observed() {
		t.Fatal("the findings are of other kinds")
	}
	for _, c := range []struct {
		name   string
		found  []finding.Finding
		closed []finding.Finding
		work   finding.Work
		at     string
		want   bool
	}{
		{"nothing closed", []finding.Finding{worn}, nil, work, "1L", false},
		{"closed", []finding.Finding{worn}, []finding.Finding{worn}, work, "1L", true},
		{"closed, at its other wheel", []finding.Finding{worn}, []finding.Finding{worn}, work, "1R", true},
		{"at a wheel where it was not", []finding.Finding{worn}, []finding.Finding{worn}, work, "2L", false},
		{"one of two closed", []finding.Finding{worn, chunked}, []finding.Finding{worn}, work, "1L", false},
		{"and the other wheel's", []finding.Finding{worn, chunked}, []finding.Finding{worn}, work, "1R", true},
		{"both closed", []finding.Finding{worn, chunked}, []finding.Finding{worn, chunked}, work, "1L", true},
		{"another line", []finding.Finding{worn, ripple}, []finding.Finding{worn}, finding.KindOf(ripple.Code).Work, "2L", false},
		{"never called for", []finding.Finding{worn}, []finding.Finding{worn}, finding.WorkAirSet, "1L", false},
		{"what was read is not observed", []finding.Finding{read}, []finding.Finding{read}, finding.KindOf(read.Code).Work, "1L", false},
	} {
		in := In{found: c.found, Left: closing.Left{Done: map[string]finding.Closed{}}}
		for _, f := range c.closed {
			in.Left.Done[f.ID()] = finding.Closed("invented")
		}
		if got := in.putRight()(c.work, layout.MustParse(c.at)); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}
