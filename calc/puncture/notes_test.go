package puncture

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/measure"
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

// Two repair units may not touch: each takes half of its width, so that as far apart as one is
// wide is enough by an exact measure. Where nobody measured it is asked for, if there is another.
func TestHowNearTwoRepairsMayBe(t *testing.T) {
	mm := func(n float64) *measure.Value[unit.Length] {
		return &measure.Value[unit.Length]{Of: unit.MustLength(n, unit.Millimeters), Std: float64(unit.MustLength(0.5, unit.Millimeters))}
	}
	width := unit.MustLength(60, unit.Millimeters)
	for _, c := range []struct {
		name    string
		nearest *measure.Value[unit.Length]
		told    finding.Answer
		another bool
		fails   bool
		asks    bool
	}{
		{"far apart", mm(100), finding.NotAsked, true, false, false},
		{"too near", mm(40), finding.NotAsked, true, true, false},
		{"about as far as it is wide", mm(60), finding.NotAsked, true, false, true},
		{"told to overlap", nil, finding.Yes, true, true, false},
		{"told not to", nil, finding.No, true, false, false},
		{"not told, and there is another", nil, finding.NotAsked, true, false, true},
		{"not told, and there is none", nil, finding.NotAsked, false, false, false},
	} {
		in := from(bookUS, car, func(in *Input) {
			i := &in.Injuries[0]
			i.Overlaps, i.Nearest, i.UnitWidth = c.told, c.nearest, &width
			if c.another {
				in.Earlier = []Method{Combination}
			}
		})
		r := Judge(in)
		fails := slices.ContainsFunc(r.Failing, func(f finding.Finding) bool { return f.Code == finding.PunctureOverlap })
		asks := slices.Contains(r.Missing, finding.SettlePunctureOverlap) || slices.ContainsFunc(r.Open, func(f finding.Finding) bool { return f.Code == finding.PunctureOverlap })
		if fails != c.fails || asks != c.asks {
			t.Errorf("%s: fails %v, asks %v: %v %v %v", c.name, fails, asks, r.Failing, r.Open, r.Missing)
		}
	}
}
