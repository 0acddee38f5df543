package words

import (
	"testing"

	"gaugebook.dev/calc/unit"
)

func TestSentence(t *testing.T) {
	for text, want := range map[string]string{"": "", "the tire": "The tire", "The tire": "The tire", "última": "Última", "1L": "1L", "ⱥ": "Ⱥ"} {
		if got := Sentence(text); got != want {
			t.Errorf("Sentence(%q) = %q, want %q", text, got, want)
		}
		if got := string(capitalized([]byte("é "+text), len("é "))); got != "é "+want {
			t.Errorf("%q within a text is %q", text, got)
		}
	}
}

func TestKebab(t *testing.T) {
	for _, c := range []struct{ name, want string }{
		{"THIS_VISIT", "this-visit"},
		{"COVERED", "covered"},
		{"", ""},
	} {
		if got := Kebab(c.name); got != c.want {
			t.Errorf("Kebab(%q) = %q, want %q", c.name, got, c.want)
		}
	}
}

func TestAmount(t *testing.T) {
	for _, c := range []struct {
		number float64
		in     unit.Unit
		want   string
	}{
		{0, unit.None, ""},
		{4, unit.ThirtySecondsInch, "4/32 in"},
		{3.5, unit.ThirtySecondsInch, "3.5/32 in"},
		{2.83, unit.ThirtySecondsInch, "2.8/32 in"},
		{1.6, unit.Millimeters, "1.6 mm"},
		{1.666, unit.Millimeters, "1.67 mm"},
		{33, unit.PSI, "33 psi"},
		{30.4, unit.PSI, "30.4 psi"},
		{-0.001, unit.PSI, "0 psi"},
		{-3, unit.PSI, "-3 psi"},
		{2.5, unit.Bar, "2.5 bar"},
		{2, unit.Bar, "2.0 bar"},
		{1.85, unit.Bar, "1.85 bar"},
		{25, unit.Degrees, "25°"},
		{50, unit.Percent, "50%"},
		{2, unit.Count, "2"},
		{9.5, unit.Years, "9.5"},
		{999, unit.Miles, "999 mi"},
		{48210, unit.Miles, "48,210 mi"},
		{1234567, unit.Kilometers, "1,234,567 km"},
		{-1234, unit.Feet, "-1,234 ft"},
		{-123, unit.Feet, "-123 ft"},
		// A ruler graduated to 1/32 in shows these as fractions, and no others.
		{0.25, unit.Inches, "1/4 in"},
		{0.375, unit.Inches, "3/8 in"},
		{0.03125, unit.Inches, "1/32 in"},
		{0.96875, unit.Inches, "31/32 in"},
		{1, unit.Inches, "1 in"},
		{1.5, unit.Inches, "1.5 in"},
		{0.3, unit.Inches, "0.3 in"},
		{-0.25, unit.Inches, "-0.25 in"},
		{0, unit.Inches, "0 in"},
	} {
		teller, _ := Reader{}.Tellers()
		if got := teller.Value(Exact(unit.Amount{Number: c.number, Unit: c.in})); got != c.want {
			t.Errorf("Amount(%v %v) = %q, want %q", c.number, c.in, got, c.want)
		}
	}
}

// Expanded is U = 2u (JCGM 100:2008, 6.2, with k = 2).
func TestExpanded(t *testing.T) {
	for _, c := range []struct {
		std  unit.Amount
		want string
	}{
		{unit.Amount{}, ""},
		{unit.Amount{Unit: unit.PSI}, ""},
		{unit.Amount{Number: 0.5, Unit: unit.PSI}, "1.00 psi"},
		{unit.Amount{Number: 0.495, Unit: unit.ThirtySecondsInch}, "0.99/32 in"},
	} {
		teller, _ := Reader{}.Tellers()
		if got := teller.Value(Expanded(c.std)); got != c.want {
			t.Errorf("Expanded(%v) = %q, want %q", c.std, got, c.want)
		}
	}
}

// What a caller told of his source is not translated; what stands before it is.
func TestSourceAsTold(t *testing.T) {
	for cited, want := range map[string]string{
		"vehicle maker's figure":                   "cifra del fabricante del vehículo",
		"vehicle maker's figure, owner's handbook": "cifra del fabricante del vehículo, owner's handbook",
		"49 CFR 570.9(a), 2024 edition":            "49 CFR 570.9(a), 2024 edition", // no words of ours
		"49 CFR 570.9(a), as reported":             "49 CFR 570.9(a), según referencias",
	} {
		teller, _ := Reader{Language: "es"}.Tellers()
		if got := teller.Value(Cited(cited)); got != want {
			t.Errorf("%q: %q, want %q", cited, got, want)
		}
	}
}
