package sidewall

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"gaugebook.dev/calc/unit"
)

func kmhOf(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.KilometersPerHour} }

// TestSpeedSymbols: every symbol against published tables, which also print the
// speed in whole miles per hour.
func TestSpeedSymbols(t *testing.T) {
	rows := table(t, "speed_symbol.csv")
	for _, r := range rows {
		got, ok := SpeedSymbol(r["symbol"]).Speed()
		if !ok || got != kmhOf(r.number(t, "kmh")) {
			t.Errorf("%s: %v, %s has %s km/h", r["symbol"], got, r["source"], r["kmh"])
		}
		if mph := math.Round(unit.MustDistance(got.Number, unit.Kilometers).In(unit.Miles)); mph != r.number(t, "mph") {
			t.Errorf("%s: %g mph, want %s", r["symbol"], mph, r["mph"])
		}
	}
	if len(rows) != len(kmh) {
		t.Errorf("%d symbols, %d published", len(kmh), len(rows))
	}
}

// TestSpeedLoads: published shares of the load, at the points and between them.
func TestSpeedLoads(t *testing.T) {
	for _, r := range table(t, "speed_load.csv") {
		got, ok := SpeedSymbol(r["symbol"]).LoadShare(kmhOf(r.number(t, "kmh")))
		if want := r.number(t, "percent") / 100; !ok || math.Abs(float64(got)-want) > 1e-9 {
			t.Errorf("%s at %s km/h: %v, %s has %s percent", r["symbol"], r["kmh"], got, r["source"], r["percent"])
		}
	}
	for _, c := range []struct {
		symbol SpeedSymbol
		speed  unit.Amount
		want   unit.Ratio // 0: not known
	}{
		{"T", kmhOf(190), 1},
		{"T", kmhOf(191), 0},
		{"H", kmhOf(130), 1},
		{"(Y)", kmhOf(300), 0.85}, // as Y up to 300 km/h, this table's own decision
		{"(Y)", kmhOf(301), 0},    // the tire's maker
		{"ZR", kmhOf(240), 0.91},  // as V, this table's own decision
		{"ZR", kmhOf(241), 0},
		{"V", unit.Amount{Number: 149.129, Unit: unit.MilesPerHour}, 0.91},
		{"V", unit.Amount{Number: 150, Unit: unit.MilesPerHour}, 0},
		{"V", unit.Amount{Number: 100, Unit: unit.None}, 0},
		{"V", kmhOf(math.NaN()), 0},
		{"", kmhOf(100), 0},
		{"X", kmhOf(100), 0},
	} {
		got, ok := c.symbol.LoadShare(c.speed)
		if ok != (c.want > 0) || math.Abs(float64(got-c.want)) > 1e-5 {
			t.Errorf("%s at %v: %v, %v, want %v", c.symbol, c.speed, got, ok, c.want)
		}
	}
}

// TestFasterNeverCarriesMore, whatever the symbol.
func TestFasterNeverCarriesMore(t *testing.T) {
	symbols := []SpeedSymbol{"L", "Q", "S", "T", "H", "V", "W", "Y", "(Y)", "ZR"}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(symbols).Draw(t, "symbol")
		v := rapid.Float64Range(0, 320).Draw(t, "speed")
		slow, okSlow := s.LoadShare(kmhOf(v))
		fast, okFast := s.LoadShare(kmhOf(v + rapid.Float64Range(0, 50).Draw(t, "more")))
		if fast > slow || okFast && !okSlow || slow > 1 {
			t.Fatalf("%s at %v km/h: %v, faster %v", s, v, slow, fast)
		}
	})
}

// What a passenger sidewall's maximum tells of its load class: as 49 CFR 571.138, Table 1
// has them, within 1.5 percent of it, for they are printed in whole psi.
func TestExtraLoadByItsMaximum(t *testing.T) {
	for _, c := range []struct {
		kPa         float64
		extra, told bool
	}{
		{236.5, false, true}, {236.3, false, false}, {240, false, true}, {250, false, true}, {253.7, false, true}, {253.8, false, false},
		{275.9, true, true}, {275.6, false, false}, {280, true, true}, {284.1, true, true}, {284.9, false, false}, {285.7, true, true}, {285.6, false, false}, {290, true, true}, {294.3, true, true}, {295, false, false},
		{295.6, false, true}, {300, false, true}, {303.4, false, true}, {304.5, false, true}, {304.6, false, false}, {335, true, true}, {340, true, true}, {345.1, false, true}, {350, false, true}, {355.2, false, true}, {355.3, false, false}, {0, false, false},
	} {
		if extra, told := extraLoad(unit.MustPressure(c.kPa, unit.Kilopascals)); extra != c.extra || told != c.told {
			t.Errorf("%v kPa: extra load %v, told %v", c.kPa, extra, told)
		}
	}
}
