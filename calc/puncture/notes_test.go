package puncture

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/unit"
)

// What is told beside a repair: the tire's age from ten years on (common practice), the symbol
// from the speed at which the maker is asked, several holes from two on.
func TestWhatIsToldBesideARepair(t *testing.T) {
	aged := func(years float64) func(*Input) {
		return func(in *Input) { in.Tire.Age = unit.Amount{Number: years, Unit: unit.Years} }
	}
	for _, c := range []struct {
		name   string
		mark   string
		change func(*Input)
		code   finding.Code
		want   bool
	}{
		{"of ten years", car, aged(10), finding.PunctureAge, true},
		{"a little younger", car, aged(9.99), finding.PunctureAge, false},
		{"older", car, aged(12), finding.PunctureAge, true},
		{"of no known age", car, nil, finding.PunctureAge, false},
		{"made for V", vRated, nil, finding.PunctureSpeedSymbol, true},
		{"made for V, and it keeps that", vRated, func(in *Input) { in.Tire.KeepsSpeed = finding.Yes }, finding.PunctureSpeedSymbol, false},
		{"made for T", narrow, nil, finding.PunctureSpeedSymbol, false},
		{"made for V, which it loses", vRated, func(in *Input) { in.Tire.KeepsSpeed = finding.No }, finding.PunctureSpeedSymbolLost, true},
		{"one hole", car, nil, finding.PunctureSeveralInjuries, false},
		{"sealant inside", car, func(in *Input) { in.Seen = append(in.Seen, SealantInside) }, finding.PunctureAskSealant, true},
		{"no sealant", car, nil, finding.PunctureAskSealant, false},
	} {
		r := Judge(from(bookUS, c.mark, c.change))
		if got := slices.ContainsFunc(r.Notes, func(f finding.Finding) bool { return f.Code == c.code }); got != c.want || r.Answer != Repairable {
			t.Errorf("%s: %s told %v, answer %v", c.name, c.code, got, r.Answer)
		}
	}
}

// Of notes that say the same of several injuries the one farthest over its limit is kept.
func TestOneNoteOfSeveralInjuries(t *testing.T) {
	note := func(code finding.Code, margin float64) finding.Finding {
		return finding.Finding{Code: code, Margin: unit.Amount{Number: margin, Unit: unit.Degrees}}
	}
	for _, in := range [][]finding.Finding{
		{note(finding.PunctureAngle, 5), note(finding.PunctureAge, 0), note(finding.PunctureAngle, 10)},
		{note(finding.PunctureAngle, 10), note(finding.PunctureAge, 0), note(finding.PunctureAngle, 5)},
	} {
		got := once(in)
		if len(got) != 2 || got[0].Code != finding.PunctureAngle || got[0].Margin.Number != 10 || got[1].Code != finding.PunctureAge {
			t.Errorf("%+v", got)
		}
	}
}
