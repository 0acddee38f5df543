package words

import (
	"testing"

	"gaugebook.dev/calc/unit"
)

func miles(n float64) unit.Amount   { return unit.Amount{Number: n, Unit: unit.Miles} }
func bar(n float64) unit.Amount     { return unit.Amount{Number: n, Unit: unit.Bar} }
func percent(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.Percent} }

var (
	metric = Units{
		Depth: unit.Millimeters, Length: unit.Millimeters, Pressure: unit.Bar, Distance: unit.Kilometers, Mass: unit.Kilograms,
		Speed: unit.KilometersPerHour, Torque: unit.NewtonMeters, Temperature: unit.Celsius,
	}
	inch = Units{
		Depth: unit.ThirtySecondsInch, Length: unit.Inches, Pressure: unit.PSI, Distance: unit.Miles, Mass: unit.Pounds,
		Speed: unit.MilesPerHour, Torque: unit.PoundFeet, Temperature: unit.Fahrenheit,
	}
)

// Conversions by the factors of NIST Special Publication 811, Appendix B, worked
// out by hand.
func TestShown(t *testing.T) {
	for _, c := range []struct {
		name     string
		language string
		units    Units
		number   float64
		in       unit.Unit
		depth    bool
		want     string
	}{
		{"as read, nothing asked", "en", Units{}, 4, unit.ThirtySecondsInch, true, "4/32 in"},
		{"as read, in the reader's unit", "en", inch, 33, unit.PSI, false, "33 psi"},
		{"depth", "en", metric, 4, unit.ThirtySecondsInch, true, "3.2 mm (4/32 in)"},
		{"depth in Spain", "es", metric, 4, unit.ThirtySecondsInch, true, "3,2 mm (4/32 in)"},
		{"depth the other way", "en", inch, 1.6, unit.Millimeters, true, "2/32 in (1.6 mm)"},
		{"length, not depth", "en", inch, 6, unit.Millimeters, false, "0.24 in (6 mm)"},
		{"a cutter of a quarter inch", "en", metric, 0.25, unit.Inches, false, "6.4 mm (1/4 in)"},
		{"depth alone was asked", "en", Units{Depth: unit.ThirtySecondsInch}, 6, unit.Millimeters, false, "6 mm"},
		{"length alone was asked", "en", Units{Length: unit.Inches}, 6, unit.Millimeters, true, "6 mm"},
		{"pressure", "en", metric, 33, unit.PSI, false, "2.28 bar (33 psi)"},
		{"pressure in kPa", "en", Units{Pressure: unit.Kilopascals}, 33, unit.PSI, false, "228 kPa (33 psi)"},
		{"pressure in psi", "en", inch, 2.3, unit.Bar, false, "33.4 psi (2.3 bar)"},
		{"distance", "en", metric, 48210, unit.Miles, false, "77,590 km (48,210 mi)"},
		{"distance in Spain", "es", metric, 1000, unit.Miles, false, "1.600 km (1.000 mi)"},
		{"mass", "en", inch, 1000, unit.Kilograms, false, "2,205 lb (1,000 kg)"},
		{"torque", "en", metric, 475, unit.PoundFeet, false, "644 N·m (475 lb·ft)"},
		{"speed", "en", inch, 240, unit.KilometersPerHour, false, "149 mph (240 km/h)"},
		{"temperature", "en", metric, 50, unit.Fahrenheit, false, "10 °C (50 °F)"},
		{"no unit to choose", "es", metric, 50, unit.Percent, false, "50 %"},
		{"nothing", "en", metric, 0, unit.None, false, ""},
	} {
		teller, _ := Reader{Language: c.language, Units: c.units}.Tellers()
		a := unit.Amount{Number: c.number, Unit: c.in}
		if c.depth {
			a = a.OfTread()
		}
		if got := teller.Value(Shown(a)); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// Two who read other units leave each other alone.
func TestUnitsAreOfTheReader(t *testing.T) {
	kilometers, _ := Reader{Units: metric}.Tellers()
	asRead, _ := Reader{}.Tellers()
	hundred := Derived(miles(100))
	if kilometers.Value(hundred) != "160 km" || asRead.Value(hundred) != "100 mi" {
		t.Errorf("%q for the one, %q for the other", kilometers.Value(hundred), asRead.Value(hundred))
	}
}

// A span of distance is told whole as its rule has it, beside the reader's unit.
func TestSpan(t *testing.T) {
	for _, c := range []struct {
		units      Units
		from, by   float64
		start, end string
	}{
		{Units{}, 50, 100, "50", "100 mi"},
		{inch, 50, 100, "50", "100 mi"},
		{metric, 50, 100, "80", "160 km (50-100 mi)"},
		{metric, 100, 100, "160", "160 km (100 mi)"},
	} {
		teller, _ := Reader{Units: c.units}.Tellers()
		start, end := teller.Value(SpanStart(miles(c.from))), teller.Value(SpanEnd(miles(c.from), miles(c.by)))
		if start != c.start || end != c.end {
			t.Errorf("%v to %v: %q and %q, want %q and %q", c.from, c.by, start, end, c.start, c.end)
		}
	}
}

// U = 2u, converted after it is doubled: 2 x 0.495/32 in is 0.79 mm.
func TestExpandedInTheReadersUnit(t *testing.T) {
	std := unit.Amount{Number: 0.495, Unit: unit.ThirtySecondsInch}
	millimeters, _ := Reader{Units: metric}.Tellers()
	if got := millimeters.Value(Expanded(std)); got != "0.8 mm" {
		t.Errorf("in millimeters %q", got)
	}
	asRead, _ := Reader{Language: "es", Units: inch}.Tellers()
	if got := asRead.Value(Expanded(std)); got != "0,99/32 in" {
		t.Errorf("as read %q", got)
	}
}

// Thousands stand apart from four digits on in each tongue, so that a page has one style
// (the Unicode CLDR leaves four together in Spain).
func TestThousands(t *testing.T) {
	teller, _ := Reader{Language: "es"}.Tellers()
	for number, want := range map[float64]string{999: "999", 1000: "1.000", 9999: "9.999", 10000: "10.000", -1234567: "-1.234.567", -123: "-123"} {
		if got := teller.Value(Number(miles(number))); got != want {
			t.Errorf("%v is %q, want %q", number, got, want)
		}
	}
}
