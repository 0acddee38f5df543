package unit_test

import (
	"encoding/csv"
	"errors"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	. "gaugebook.dev/calc/unit"
)

var symbols = func() map[string]Unit {
	m := map[string]Unit{}
	for u := ThirtySecondsInch; u <= Hours; u++ {
		if u.String() != "" {
			m[u.String()] = u
		}
	}
	return m
}()

// published reads a table of check rows as maps by column.
func published(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("../../testdata/published/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%s: %d rows, %v", name, len(rows), err)
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, column := range rows[0] {
			m[column] = r[i]
		}
		if m["source"] == "" || m["known"] == "" {
			t.Errorf("%s %s: no source", name, r[0])
		}
		out = append(out, m)
	}
	return out
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	f, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// TestPublishedConversions: factors and conversions as NIST SP 811, the units
// definitions and open textbooks print them; each row names its source.
func TestPublishedConversions(t *testing.T) {
	for _, r := range published(t, "units.csv") {
		n, want := number(t, r["number"]), number(t, r["want"])
		from, to := symbols[r["unit"]], symbols[r["want_unit"]]
		var got float64
		var err error
		switch r["quantity"] {
		case "length":
			var l Length
			l, err = LengthOf(n, from)
			got = l.In(to)
			if d, derr := DepthOf(n, from); derr != nil || d.In(to) != got {
				t.Errorf("%s: as a depth %v, %v; as a length %v", r["id"], d.In(to), derr, got)
			}
		case "pressure":
			var p Pressure
			p, err = PressureOf(n, from)
			got = p.In(to)
		case "air":
			var p AirPressure
			p, err = AirPressureOf(n, from)
			got = p.In(to)
		case "absolute":
			var p Pressure
			p, err = PressureOf(n, from)
			got = (AirPressure(p) + StandardAtmosphere).In(to)
		case "mass":
			var m Mass
			m, err = MassOf(n, from)
			got = m.In(to)
		case "distance":
			var d Distance
			d, err = DistanceOf(n, from)
			got = d.In(to)
		case "temperature":
			var k Temperature
			k, err = TemperatureOf(n, from)
			got = float64(k)
			if r["want_unit"] != "K" {
				got = k.In(to)
			}
		default:
			t.Fatalf("%s: what is %s?", r["id"], r["quantity"])
		}
		if err != nil || math.Abs(got-want) > number(t, r["tolerance"]) {
			t.Errorf("%s: %s %s is %.15g %s, %v; want %s (%s)", r["id"], r["number"], r["unit"], got, r["want_unit"], err, r["want"], r["source"])
		}
	}
}

// TestDepthIsExact: the inch is 25.4 mm by definition (NIST SP 811, Appendix B),
// so all steps of a depth gauge are whole counts of 0.1 nm.
func TestDepthIsExact(t *testing.T) {
	for _, c := range []struct {
		n    float64
		u    Unit
		want Depth // 0.1 nm
	}{
		{1, ThirtySecondsInch, 7_937_500},
		{2, ThirtySecondsInch, 15_875_000},
		{0.5, ThirtySecondsInch, 3_968_750},
		{2.5, ThirtySecondsInch, 19_843_750},
		{0.1, ThirtySecondsInch, 793_750},
		{3.3, ThirtySecondsInch, 26_193_750},
		{11.7, ThirtySecondsInch, 92_868_750},
		{0.001, Inches, 254_000}, // one mil
		{0.0625, Inches, 15_875_000},
		{0.0005, Inches, 127_000},
		{1.6, Millimeters, 16_000_000},
		{0.1, Millimeters, 1_000_000},
		{0.01, Millimeters, 100_000},
		{1.59, Millimeters, 15_900_000},
		{1.5875, Millimeters, 15_875_000},
		{-0.5, Millimeters, -5_000_000},
	} {
		if got, err := DepthOf(c.n, c.u); err != nil || got != c.want {
			t.Errorf("%v%v: %d, %v; want %d", c.n, c.u, got, err, c.want)
		}
	}
	for tenths := range 400 {
		n := float64(tenths) / 10
		if d, err := DepthOf(n, ThirtySecondsInch); err != nil || d != Depth(tenths)*793_750 {
			t.Errorf("%v/32: %d, %v", n, d, err)
		}
	}
	for hundredths := range 4000 {
		n := float64(hundredths) / 100
		if d, err := DepthOf(n, Millimeters); err != nil || d != Depth(hundredths)*100_000 {
			t.Errorf("%v mm: %d, %v", n, d, err)
		}
	}
	if two, metric := MustDepth(2, ThirtySecondsInch), MustDepth(1.6, Millimeters); two >= metric {
		t.Errorf("2/32 in = %d is less than 1.6 mm = %d", two, metric)
	}
}

// TestRefused: what no gauge can show is refused with the number as given.
func TestRefused(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	second := func(_ any, err error) error { return err }
	depth := func(n float64, u Unit) error { d, err := DepthOf(n, u); return second(d, err) }
	length := func(n float64, u Unit) error { d, err := LengthOf(n, u); return second(d, err) }
	pressure := func(n float64, u Unit) error { p, err := PressureOf(n, u); return second(p, err) }
	air := func(n float64, u Unit) error { p, err := AirPressureOf(n, u); return second(p, err) }
	temperature := func(n float64, u Unit) error { k, err := TemperatureOf(n, u); return second(k, err) }
	distance := func(n float64, u Unit) error { d, err := DistanceOf(n, u); return second(d, err) }
	height := func(n float64, u Unit) error { h, err := HeightOf(n, u); return second(h, err) }
	mass := func(n float64, u Unit) error { m, err := MassOf(n, u); return second(m, err) }
	for _, c := range []struct {
		name string
		make func(float64, Unit) error
		n    float64
		u    Unit
		ok   bool
	}{
		{"0.1 nm", depth, 1e-7, Millimeters, true},
		{"finer than 0.1 nm", depth, 1.23e-8, Millimeters, false},
		{"a third of a thirty-second", depth, 1.0 / 3, ThirtySecondsInch, false},
		{"a hundredth of a thirty-second, 79,375 counts", depth, 0.01, ThirtySecondsInch, true},
		{"a thousandth of a thirty-second, 7,937.5 counts", depth, 0.001, ThirtySecondsInch, false},
		{"depth NaN", depth, nan, Millimeters, false},
		{"depth infinite", depth, inf, Millimeters, false},
		{"depth minus infinite", depth, -inf, ThirtySecondsInch, false},
		{"depth in psi", depth, 3, PSI, false},
		{"depth without unit", depth, 3, None, false},
		{"longer than 100 m", length, 100_001, Millimeters, false},
		{"length in degrees", length, 3, Degrees, false},
		{"below a vacuum", pressure, -14.7, PSI, false},
		{"a little less than a vacuum", pressure, -14.6, PSI, true},
		{"below a vacuum in kPa", pressure, -101.326, Kilopascals, false},
		{"pressure NaN", pressure, nan, PSI, false},
		{"pressure infinite", pressure, inf, Bar, false},
		{"pressure in mm", pressure, 33, Millimeters, false},
		{"no air at all", air, 0, Hectopascals, false},
		{"air NaN", air, nan, InchesMercury, false},
		{"colder than absolute zero", temperature, -459.68, Fahrenheit, false},
		{"absolute zero", temperature, -459.67, Fahrenheit, true},
		{"colder than absolute zero in Celsius", temperature, -273.16, Celsius, false},
		{"temperature NaN", temperature, nan, Celsius, false},
		{"temperature in psi", temperature, 20, PSI, false},
		{"distance infinite", distance, inf, Miles, false},
		{"height in miles per hour", height, 1, MilesPerHour, false},
		{"negative mass", mass, -1, Pounds, false},
		{"mass NaN", mass, nan, Kilograms, false},
	} {
		err := c.make(c.n, c.u)
		if (err == nil) != c.ok {
			t.Errorf("%s: error %v, want none: %v", c.name, err, c.ok)
		}
		var given *Error
		if err != nil && !errors.As(err, &given) {
			t.Errorf("%s: %T does not say what was given", c.name, err)
		}
	}
}

// TestErrorRepeatsWhatWasTyped, unrounded.
func TestErrorRepeatsWhatWasTyped(t *testing.T) {
	_, err := PressureOf(-14.7001, PSI)
	if want := "-14.7001 psi is not possible: no gauge can show less than a vacuum, -14.7 psi"; err == nil || err.Error() != want {
		t.Errorf("%v", err)
	}
	defer func() {
		if recover() == nil {
			t.Error("a constant that is none does not panic")
		}
	}()
	MustDepth(1, PSI)
}

// TestThereAndBack: a number read in any unit is the number shown in it.
func TestThereAndBack(t *testing.T) {
	for _, n := range []float64{0, 0.1, 1, 26.5, 33, 101.325} {
		for _, u := range []Unit{PSI, Kilopascals, Bar} {
			if got := MustPressure(n, u).In(u); math.Abs(got-n) > 1e-12*max(1, n) {
				t.Errorf("%v %v comes back as %v", n, u, got)
			}
		}
		for _, u := range []Unit{Fahrenheit, Celsius} {
			if got := MustTemperature(n, u).In(u); math.Abs(got-n) > 1e-10 {
				t.Errorf("%v %v comes back as %v", n, u, got)
			}
		}
	}
}

func TestAmountShown(t *testing.T) {
	for _, c := range []struct {
		a    Amount
		want string
	}{
		{Amount{Number: 3, Unit: ThirtySecondsInch}, "3/32 in"},
		{Amount{Number: 1.2598425, Unit: ThirtySecondsInch}, "1.26/32 in"},
		{Amount{Number: 32.95, Unit: PSI}, "33 psi"},
		{Amount{Number: 30.4049, Unit: PSI}, "30.4 psi"},
		{Amount{Number: -0.0001, Unit: PSI}, "0 psi"},
		{Amount{Number: 2.403, Unit: Bar}, "2.4 bar"},
		{Amount{Number: 1.5875, Unit: Millimeters}, "1.588 mm"},
		{Amount{Number: 48210.4, Unit: Miles}, "48210 mi"},
		{Amount{Number: 3, Unit: Hours}, "3 h"},
		{Amount{Number: 110, Unit: Fahrenheit}, "110°F"},
		{Amount{Number: 79.9, Unit: Percent}, "79.9%"},
		{Amount{Number: 4, Unit: Count}, "4"},
	} {
		if got := c.a.String(); got != c.want {
			t.Errorf("%v %v is shown as %q, want %q", c.a.Number, c.a.Unit, got, c.want)
		}
		if once := c.a.Rounded(); once.Rounded() != once {
			t.Errorf("rounding %v twice changes it", c.a)
		}
	}
	for u := None; u <= Hours; u++ {
		if strings.TrimSpace(u.String()) != u.String() {
			t.Errorf("symbol %q", u)
		}
	}
}

// TestDates by the Gregorian calendar (ISO 8601).
func TestDates(t *testing.T) {
	for _, c := range []struct {
		y, m, d int
		ok      bool
	}{
		{2024, 2, 29, true}, {2023, 2, 29, false}, {2000, 2, 29, true}, {1900, 2, 29, false},
		{2023, 4, 31, false}, {2023, 13, 1, false}, {2023, 0, 1, false}, {2023, 1, 0, false}, {0, 1, 1, false},
	} {
		if _, err := DateOf(c.y, c.m, c.d); (err == nil) != c.ok {
			t.Errorf("%d-%d-%d: %v", c.y, c.m, c.d, err)
		}
	}
	a, b := Date{2024, 2, 28}, Date{2024, 3, 1}
	if got := a.DaysUntil(b); got != 2 {
		t.Errorf("from %v to %v: %d days", a, b, got)
	}
	if got := b.DaysUntil(a); got != -2 {
		t.Errorf("back: %d days", got)
	}
}
