package inflation_test

import (
	"math"
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	. "gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/unit"
)

// TestWhereUsed: what a cold tire has to show here to have its label where and when it is
// used, and whether one at its label is short there. By the gas law, absolute pressure
// and the air of the US Standard Atmosphere 1976 (at 5280 ft 12.1008 psi, at sea level
// 14.6959 psi); a warmer morning and a higher place are not credited (common practice).
func TestWhereUsed(t *testing.T) {
	const mileHigh, sea = 12.1008, 14.6959
	air := func(n float64) unit.AirPressure { return unit.AirPressure(psi(n)) }
	show := func(here, there, from, to float64) float64 {
		return (33+there)*(to+459.67)/(from+459.67) - here
	}
	morning, lower := finding.FactInflationColdestMorning, finding.FactInflationDrivenLower
	for _, c := range []struct {
		name     string
		c        Conditions
		sidewall float64
		show     float64
		short    []finding.Fact // by what; nil: not short
	}{
		{"here and today", Conditions{Here: fahrenheit(60)}, 44, 33, nil},
		{"a morning as cold as today", Conditions{Here: fahrenheit(60), Coldest: fahrenheit(60)}, 44, 33, nil},
		{"a colder morning", Conditions{Here: fahrenheit(60), Coldest: fahrenheit(20)}, 44, show(sea, sea, 20, 60), []finding.Fact{morning}},
		{"a warmer morning", Conditions{Here: fahrenheit(60), Coldest: fahrenheit(80)}, 44, 33, nil},
		{"a morning, and today not told", Conditions{Coldest: fahrenheit(20)}, 44, 33, nil},
		{"driven as high", Conditions{Air: air(mileHigh), There: air(mileHigh)}, 44, 33, nil},
		{"driven lower", Conditions{Air: air(mileHigh), There: air(sea)}, 44, 33 + sea - mileHigh, []finding.Fact{lower}},
		{"driven higher", Conditions{There: air(mileHigh)}, 44, 33, nil},
		{"driven lower on a colder morning", Conditions{Here: fahrenheit(60), Coldest: fahrenheit(20), Air: air(mileHigh), There: air(sea)}, 44,
			show(mileHigh, sea, 20, 60), []finding.Fact{morning, lower}},
		{"driven as high on a colder morning", Conditions{Here: fahrenheit(60), Coldest: fahrenheit(20), Air: air(mileHigh), There: air(mileHigh)}, 44,
			show(mileHigh, mileHigh, 20, 60), []finding.Fact{morning}},
		{"driven lower on a morning as cold as today", Conditions{Here: fahrenheit(60), Coldest: fahrenheit(60), Air: air(mileHigh), There: air(sea)}, 44,
			33 + sea - mileHigh, []finding.Fact{lower}},
		{"driven higher on a colder morning", Conditions{Here: fahrenheit(60), Coldest: fahrenheit(20), There: air(mileHigh)}, 44, show(sea, sea, 20, 60), []finding.Fact{morning}},
		{"no more than the sidewall says", Conditions{Here: fahrenheit(60), Coldest: fahrenheit(20)}, 35, 35, []finding.Fact{morning}},
		{"a label at the sidewall's figure", Conditions{Here: fahrenheit(60), Coldest: fahrenheit(20)}, 33, 33, []finding.Fact{morning}},
		{"no sidewall told", Conditions{Air: air(mileHigh), There: air(sea)}, 0, 33 + sea - mileHigh, []finding.Fact{lower}},
	} {
		c.c.DrivenHere = finding.No
		w := exact(carAt(33, c.c))
		w.Sidewall = psi(c.sidewall)
		if got := w.SetNow().Show.In(unit.PSI); math.Abs(got-c.show) > 1e-3 {
			t.Errorf("%s: set to %.3f psi, want %.3f", c.name, got, c.show)
		}
		r := Judge(w)
		var by []finding.Fact
		for _, e := range find(r.Findings, finding.InflationShortWhereUsed).Evidence {
			if e.Code == morning || e.Code == lower {
				by = append(by, e.Code)
			}
		}
		if !slices.Equal(by, c.short) {
			t.Errorf("%s: short by %v, want %v", c.name, by, c.short)
		}
		w.Found = w.SetNow().Show
		if slices.Contains(codes(Judge(w).Findings), finding.InflationShortWhereUsed) && w.Found != w.Sidewall {
			t.Errorf("%s: still short once set", c.name)
		}
	}
}
