package tread_test

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
)

// A tire at its bars is told with the reading that says so, and with what was seen of the bars;
// one whose bars alone were seen, by that.
func TestWhatABarIsToldBy(t *testing.T) {
	u := unit.ThirtySecondsInch
	advice := rulebook.Must("advice").Limit("wear-bars")
	codes := func(fs []finding.Finding) (all []finding.Fact) {
		for _, f := range fs {
			if f.Code != finding.TreadWornToBars {
				continue
			}
			for _, e := range f.Evidence {
				all = append(all, e.Code)
			}
		}
		return all
	}
	for _, c := range []struct {
		name         string
		depth        float64
		flush, clear bool
		want         []finding.Fact
	}{
		{"read at the bars", 2, false, false, []finding.Fact{finding.FactTreadAsRead}},
		{"and seen flush", 2, true, false, []finding.Fact{finding.FactTreadAsRead, finding.FactTreadBarsSeenFlush}},
		{"and seen clear", 2, false, true, []finding.Fact{finding.FactTreadAsRead, finding.FactTreadBarsSeenClear}},
		{"seen flush, and read above", 4, true, false, []finding.Fact{finding.FactTreadAsRead, finding.FactTreadBarsSeenFlush}},
		{"read above", 4, false, false, nil},
	} {
		w := at("1L", exact, all(c.depth, u))
		w.BarsFlush, w.BarsClear = c.flush, c.clear
		r, _ := tread.Judge(tread.Context{Vehicle: car}, w)
		if got := codes(r.Findings); !slices.Equal(got, c.want) || r.WornOut != (c.want != nil) {
			t.Errorf("%s: %v, worn out %v", c.name, got, r.WornOut)
		}
		if met := slices.ContainsFunc(r.Met, func(k tread.Checked) bool { return k.Code == finding.CheckedTreadWornToBars }); met != (c.want == nil) {
			t.Errorf("%s: met %v", c.name, met)
		}
	}
	p := layout.MustParse("2R")
	r := tread.BarsOnly(tread.Context{Vehicle: car}, p)
	if !r.WornOut || len(r.Findings) != 1 || r.Findings[0].Urgency != finding.ThisVisit || r.Findings[0].Positions[0] != p || r.Findings[0].Limit != advice.Value || r.BarLimit.ID != advice.ID {
		t.Errorf("bars alone: %+v", r)
	}
	if got := codes(r.Findings); !slices.Equal(got, []finding.Fact{finding.FactTreadBarsSeenFlush}) {
		t.Errorf("bars alone: %v", got)
	}
}
