package verdict

import (
	"fmt"
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/order"
	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

func placesOf(names ...string) (ps []layout.Position) {
	for _, n := range names {
		ps = append(ps, place(n))
	}
	return ps
}

// What is judged at a place that a wheel may have is told of the place that was said: of
// another axle, or of none.
func TestToldWhereItWasSaid(t *testing.T) {
	for _, c := range []struct {
		said, judged string
		at, want     []layout.Position
	}{
		{"1L", "1L", placesOf("1L", "1R"), placesOf("1L", "1R")},
		{"2L", "3L", placesOf("3L", "3R", "1L"), placesOf("2L", "2R", "1L")},
		{"2LO", "3LO", placesOf("3LI", "3LO"), placesOf("2LI", "2LO")},
		{"2L", "3L", placesOf("3L", "2L"), placesOf("2L")},
		{"", "1L", placesOf("1L"), nil},
		{"", "1L", placesOf("1L", "1R"), nil},
		{"", "2LO", placesOf("2LO", "2LI"), []layout.Position{layout.Beside}},
		{"", "2LO", placesOf("2LI", "2RI"), []layout.Position{layout.Beside}},
		{"1L", "1L", nil, nil},
	} {
		s := relabel{place: place(c.judged)}
		if c.said != "" {
			s.said = place(c.said)
		}
		if got := s.at(c.at); !slices.Equal(got, c.want) {
			t.Errorf("said %q, judged at %s: %v is %v, want %v", c.said, c.judged, c.at, got, c.want)
		}
	}
}

// Every part of the answer is told of where it was said, and what stands by a finding's id
// goes with it.
func TestRenamedInEveryPart(t *testing.T) {
	was, now := placesOf("3L"), placesOf("2L")
	f := finding.Finding{Code: finding.TreadWornToBars, Positions: was}
	left := unit.Amount{Number: 7, Unit: unit.ThirtySecondsInch}
	v := Verdict{
		Findings: []finding.Finding{f}, Closed: map[string]unit.Amount{f.ID(): left},
		Work:   []order.Work{{Code: finding.WorkTireReplace, Positions: slices.Clone(was), Findings: []string{f.ID()}}},
		Wheels: []Summary{{Position: was[0]}}, Repairs: []questions.Repair{{Position: was[0]}}, Checked: []questions.Checked{{Positions: was}},
		NotLooked:  []questions.NotLooked{{What: finding.LookedWheel, Positions: was}, {What: finding.LookedValve, Positions: was}},
		NotJudged:  []visit.NotJudged{{Positions: was}},
		Unanswered: []questions.Asked{{Positions: was}},
	}
	relabel{said: now[0], place: was[0]}.rename(&v)
	id := v.Findings[0].ID()
	if id == f.ID() || v.Closed[id] != left || len(v.Closed) != 1 || !slices.Equal(v.Work[0].Findings, []string{id}) {
		t.Errorf("known by %q: closed %v, work %v", id, v.Closed, v.Work)
	}
	for i, at := range [][]layout.Position{
		v.Findings[0].Positions, v.Work[0].Positions, {v.Wheels[0].Position}, {v.Repairs[0].Position}, v.Checked[0].Positions,
		v.NotLooked[0].Positions, v.NotJudged[0].Positions, v.Unanswered[0].Positions,
	} {
		if !slices.Equal(at, now) {
			t.Errorf("part %d is told of %v", i, at)
		}
	}
	if len(v.NotLooked) != 1 || v.NotLooked[0].What != finding.LookedValve {
		t.Errorf("not looked at: %v", v.NotLooked) // the vehicle's other wheels are not asked about
	}
}

// What is found at a later place alone is a candidate and no more urgent than this visit;
// notes and what is known already add nothing.
func TestFoundAtAnotherPlace(t *testing.T) {
	of := func(code finding.Code, u finding.Urgency) finding.Finding {
		return finding.Finding{Code: code, Urgency: u, Positions: placesOf("1L")}
	}
	known := of(finding.TreadWornToBars, finding.ThisVisit)
	v := Verdict{Findings: []finding.Finding{known}}
	addCandidates(&v, []finding.Finding{
		known, of(finding.TreadLegalLimit, finding.BeforeDriving), of(finding.WearToeIn, finding.Plan), of(finding.WearScalloped, finding.Note),
	})
	var got []string
	for _, f := range v.Findings {
		got = append(got, fmt.Sprintf("%s %d %v", f.Code, f.Urgency, f.Candidate))
	}
	slices.Sort(got)
	want := []string{
		fmt.Sprintf("tread.legal-limit %d true", finding.ThisVisit), fmt.Sprintf("tread.worn-to-bars %d false", finding.ThisVisit), fmt.Sprintf("wear.toe-in %d true", finding.Plan),
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// A finding that comes to be known by another id takes along what closed it, what was done
// and the lines that answer it.
func TestKnownByAnotherID(t *testing.T) {
	left := unit.Amount{Number: 7, Unit: unit.ThirtySecondsInch}
	v := Verdict{
		Closed: map[string]unit.Amount{"a": left}, Done: map[string]finding.Closed{"a": finding.Closed("mended")},
		Work: []order.Work{{Findings: []string{"b", "a"}}, {Findings: []string{"b"}}},
	}
	renamed(&v, "a", "a")
	renamed(&v, "a", "z")
	renamed(&v, "c", "y")
	if v.Closed["z"] != left || v.Done["z"] != finding.Closed("mended") || !slices.Equal(v.Work[0].Findings, []string{"b", "z"}) || !slices.Equal(v.Work[1].Findings, []string{"b"}) {
		t.Errorf("%+v", v)
	}
	if _, ok := v.Closed["y"]; ok {
		t.Error("closed what was not")
	}
	if _, ok := v.Done["y"]; ok {
		t.Error("done what was not")
	}
}

// A tire that is asked about by itself is judged as the vehicle's wheel at its place is,
// and its visit is left as it was.
func TestTireByItself(t *testing.T) {
	v := whole(20)
	v.Wheels = v.Wheels[:1]
	one := JudgeTire(OneTire{Visit: v, Said: place("1L"), Places: placesOf("1L")})
	if want := Judge(v); len(want.Findings) == 0 || fmt.Sprint(one.Findings) != fmt.Sprint(want.Findings) {
		t.Errorf("%v, want %v", one.Findings, want.Findings)
	}
	v.Wheels[0].Position = place("2R")
	nowhere := JudgeTire(OneTire{Visit: v, Places: placesOf("1L", "2L")})
	for _, f := range nowhere.Findings {
		if len(f.Positions) > 0 {
			t.Errorf("%s is told of %v", f.Code, f.Positions)
		}
	}
	if len(nowhere.Findings) != len(one.Findings) || v.Wheels[0].Position != place("2R") {
		t.Errorf("%v of %v", nowhere.Findings, v.Wheels[0].Position)
	}
}
