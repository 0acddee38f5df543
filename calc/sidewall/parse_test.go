package sidewall

import (
	"strings"
	"testing"

	"gaugebook.dev/calc/unit"
)

// TestParseWhole: every field of one marking of each form (common practice).
func TestParseWhole(t *testing.T) {
	mm := func(n float64) unit.Length { return unit.MustLength(n, unit.Millimeters) }
	in := func(n float64) unit.Length { return unit.MustLength(n, unit.Inches) }
	for _, c := range []struct {
		text, canonical string
		want            Marking
	}{
		{"225/45ZR17 94Y XL", "225/45ZR17 94Y XL", Marking{Class: MetricPassenger, SectionWidth: mm(225), Aspect: 0.45, Construction: Radial, SpeedAbove: true, Rim: in(17), LoadIndex: 94, Speed: "Y", LoadMark: "XL"}},
		{"225/45 zr 17 (94y) extra load", "225/45ZR17 (94Y) XL", Marking{Class: MetricPassenger, SectionWidth: mm(225), Aspect: 0.45, Construction: Radial, SpeedAbove: true, Rim: in(17), LoadIndex: 94, Speed: "(Y)", LoadMark: "XL"}},
		{"225/45R17 94(Y)", "225/45R17 (94Y)", Marking{Class: MetricPassenger, SectionWidth: mm(225), Aspect: 0.45, Construction: Radial, Rim: in(17), LoadIndex: 94, Speed: "(Y)"}},
		{"225/45R17 (94W)", "225/45R17 94W", Marking{Class: MetricPassenger, SectionWidth: mm(225), Aspect: 0.45, Construction: Radial, Rim: in(17), LoadIndex: 94, Speed: "W"}},
		{"225/45ZRF17", "225/45ZRF17", Marking{Class: MetricPassenger, SectionWidth: mm(225), Aspect: 0.45, Construction: Radial, SpeedAbove: true, SelfSupporting: true, Rim: in(17), Speed: "ZR"}},
		{"245/45RF18 100Y", "245/45RF18 100Y", Marking{Class: MetricPassenger, SectionWidth: mm(245), Aspect: 0.45, Construction: Radial, SelfSupporting: true, Rim: in(18), LoadIndex: 100, Speed: "Y"}},
		{"165SR13", "165SR13", Marking{Class: MetricPassenger, SectionWidth: mm(165), Construction: Radial, Rim: in(13), Speed: "S"}},
		{"225-60-17", "225/60-17", Marking{Class: MetricPassenger, SectionWidth: mm(225), Aspect: 0.6, Rim: in(17)}},
		{"205/60b15 ll", "205/60B15 LL", Marking{Class: MetricPassenger, SectionWidth: mm(205), Aspect: 0.6, Construction: BeltedBias, Rim: in(15), LoadMark: "LL"}},
		{"T125/70D15 95M", "T125/70D15 95M", Marking{Class: TemporarySpare, SectionWidth: mm(125), Aspect: 0.7, Construction: Bias, Rim: in(15), LoadIndex: 95, Speed: "M"}},
		{"HL 245/40R19 101Y XL", "HL245/40R19 101Y", Marking{Class: MetricPassenger, SectionWidth: mm(245), Aspect: 0.4, Construction: Radial, Rim: in(19), LoadIndex: 101, Speed: "Y", LoadMark: "HL"}},
		{"265/75R16LT 123/120R (E)", "LT265/75R16 123/120R LRE", Marking{Class: LightTruckTire, SectionWidth: mm(265), Aspect: 0.75, Construction: Radial, Rim: in(16), LoadIndex: 123, DualIndex: 120, Speed: "R", LoadRange: "E"}},
		{"205/75R15ST LRC", "ST205/75R15 LRC", Marking{Class: SpecialTrailer, SectionWidth: mm(205), Aspect: 0.75, Construction: Radial, Rim: in(15), LoadRange: "C"}},
		{"31x10,5R15LT 109q", "31x10.50R15LT 109Q", Marking{Class: LightTruckTire, SectionWidth: in(10.5), Overall: in(31), Construction: Radial, Rim: in(15), LoadIndex: 109, Speed: "Q"}},
		{"33X12.50-15LT", "33x12.50-15LT", Marking{Class: LightTruckTire, SectionWidth: in(12.5), Overall: in(33), Rim: in(15)}},
		{"7.50R16 C 112/110N", "7.50R16C 112/110N", Marking{Class: CommercialMetric, Numeric: "7.50", Construction: Radial, Rim: in(16), LoadIndex: 112, DualIndex: 110, Speed: "N"}},
		{"9.5R16.5LT E", "9.50R16.5LT LRE", Marking{Class: LightTruckTire, Numeric: "9.50", Construction: Radial, Rim: in(16.5), LoadRange: "E"}},
		{"10,00-20 16PR", "10.00-20 LRH", Marking{Class: NumericHeavy, Numeric: "10.00", Construction: Bias, Rim: in(20), LoadRange: "H"}},
		{"11 r 22,5 h", "11R22.5 LRH", Marking{Class: NumericHeavy, Numeric: "11", Construction: Radial, Rim: in(22.5), LoadRange: "H"}},
		{"295/80R22.5 152/148M (154/150L)", "295/80R22.5 152/148M", Marking{Class: MetricHeavy, SectionWidth: mm(295), Aspect: 0.8, Construction: Radial, Rim: in(22.5), LoadIndex: 152, DualIndex: 148, Speed: "M"}},
		{"225/75R17 122/120R", "225/75R17 122/120R", Marking{Class: MetricHeavy, SectionWidth: mm(225), Aspect: 0.75, Construction: Radial, Rim: in(17), LoadIndex: 122, DualIndex: 120, Speed: "R"}},
		{"HL245/40R19 101/99Y", "HL245/40R19 101/99Y", Marking{Class: MetricPassenger, SectionWidth: mm(245), Aspect: 0.4, Construction: Radial, Rim: in(19), LoadIndex: 101, DualIndex: 99, Speed: "Y", LoadMark: "HL"}},
		{"225/65R17,102H", "225/65R17 102H", Marking{Class: MetricPassenger, SectionWidth: mm(225), Aspect: 0.65, Construction: Radial, Rim: in(17), LoadIndex: 102, Speed: "H"}},
		{"ST7.00-14.5", "ST7.00-14.5", Marking{Class: SpecialTrailer, Numeric: "7.00", Construction: Bias, Rim: in(14.5)}},

		// A description that no tire has is left out, the size is not.
		{"225/60R17 999H", "225/60R17", Marking{Class: MetricPassenger, SectionWidth: mm(225), Aspect: 0.6, Construction: Radial, Rim: in(17)}},
		{"225/60R17 10H", "225/60R17", Marking{Class: MetricPassenger, SectionWidth: mm(225), Aspect: 0.6, Construction: Radial, Rim: in(17)}},
		{"LT245/75R16 116/120S", "LT245/75R16", Marking{Class: LightTruckTire, SectionWidth: mm(245), Aspect: 0.75, Construction: Radial, Rim: in(16)}}, // swapped
		{"225/60R17 99O", "225/60R17", Marking{Class: MetricPassenger, SectionWidth: mm(225), Aspect: 0.6, Construction: Radial, Rim: in(17)}},
	} {
		got := Parse(c.text)
		if got != c.want {
			t.Errorf("%q: %#v, want %#v", c.text, got, c.want)
		}
		if s := got.String(); s != c.canonical {
			t.Errorf("%q is printed %q, want %q", c.text, s, c.canonical)
		}
		if again := Parse(c.canonical); again != c.want {
			t.Errorf("%q is read as %#v", c.canonical, again)
		}
	}
}

// spread puts a blank where a letter meets a digit, and doubles the others: they
// say nothing.
func spread(s string) string {
	var b strings.Builder
	for i := range len(s) {
		if i > 0 && (s[i] == ' ' || digit(s[i-1]) && letter(s[i]) || letter(s[i-1]) && digit(s[i])) {
			b.WriteByte(' ')
		}
		b.WriteByte(s[i])
	}
	return b.String()
}

// FuzzParse: no text breaks the parser; what it does not understand is all zero,
// what it understands is a possible tire, is printed short and read again as it
// was, and neither case nor spacing changes it.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"P215/60R16 94T", "LT245/75R16 120/116S E", "11R22.5 14PR", "31x10.50R15LT LRC", "T125/70D15", "225/45ZR17 (94Y) XL", "195/75R16C 107/105R",
		"10,00-20", "165SR13", "HL245/40ZRF19 101(Y)", "225-60-17 99A8", "155-13", "7.50R16 C 112/110N", "ST205/75B15 SL M+S", "225-25-\x15F-60-89A8", "", "225/60R", "\xff/\x00R", "999/99R99.5"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		m := Parse(s)
		for _, same := range []string{strings.Map(lower, s), strings.Map(upper, s), spread(s)} {
			if got := Parse(same); got != m {
				t.Fatalf("%q is read as %v, %q as %v", s, m, same, got)
			}
		}
		printed := m.String()
		if again := Parse(printed); again != m || again.String() != printed || len(printed) > 40 {
			t.Fatalf("%q is read as %#v, printed %q and read again as %#v", s, m, printed, again)
		}
		if m.Class == UnknownClass {
			return
		}
		width, rim := m.SectionWidth.In(unit.Millimeters), m.Rim.In(unit.Inches)
		if rim < 8 || rim > 32 || (width == 0) != (m.Numeric != "") || width != 0 && (width < 105 || width > 495) {
			t.Fatalf("%q: no such tire %#v", s, m)
		}
		if _, ok := m.Speed.Speed(); m.Speed != "" && !ok {
			t.Fatalf("%q: no such speed symbol %q", s, m.Speed)
		}
		if m.DualIndex > m.LoadIndex || m.LoadIndex > mostIndex {
			t.Fatalf("%q: no such load index %d/%d", s, m.LoadIndex, m.DualIndex)
		}
		if g, ok := m.Geometry(); ok && (g.Diameter <= m.Rim || g.Circumference < 3*g.Diameter || m.Numeric != "") {
			t.Fatalf("%q: no such geometry %v", s, g)
		}
	})
}

// lower and upper change ASCII letters alone: the parser knows no others.
func lower(r rune) rune {
	if r >= 'A' && r <= 'Z' {
		return r + 'a' - 'A'
	}
	return r
}

func upper(r rune) rune {
	if r >= 'a' && r <= 'z' {
		return r + 'A' - 'a'
	}
	return r
}
