package sidewall

import (
	"encoding/csv"
	"os"
	"strconv"
	"strings"
	"testing"

	"gaugebook.dev/calc/unit"
)

var classNames = map[string]Class{"p-metric": PMetric, "metric": MetricPassenger, "light-truck": LightTruckTire, "commercial": CommercialMetric,
	"numeric-heavy": NumericHeavy, "metric-heavy": MetricHeavy, "spare": TemporarySpare, "trailer": SpecialTrailer, "": UnknownClass}

var bodyNames = map[string]BodyPly{"": BodyNotTold, "fabric": FabricBody, "steel": SteelBody}

// TestPublishedMarkings reads every marking of the published table, as printed,
// in lower case, and with odd spacing; the source stands in the row.
func TestPublishedMarkings(t *testing.T) {
	f, err := os.Open("../../testdata/published/sidewall.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	number := func(s string) float64 {
		if s == "" {
			return 0
		}
		n, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	told := func(m Marking) Marking { // what the table tells; tire_size.csv has the rest
		m.Aspect, m.Overall, m.Numeric, m.Construction, m.SpeedAbove = 0, 0, "", 0, false
		return m
	}
	symbols := map[SpeedSymbol]bool{}
	for _, row := range rows[1:] {
		c := map[string]string{}
		for i, name := range rows[0] {
			c[name] = row[i]
		}
		want := Marking{
			Class: classNames[c["class"]], SectionWidth: unit.MustLength(number(c["width_mm"]), unit.Millimeters),
			Rim: unit.MustLength(number(c["rim_in"]), unit.Inches), LoadRange: c["load_range"], LoadMark: c["load_mark"],
			LoadIndex: int(number(c["load_index"])), DualIndex: int(number(c["dual_index"])), Speed: SpeedSymbol(c["speed"]),
		}
		for _, text := range []string{c["marking"], strings.ToLower(c["marking"]), "  " + strings.ReplaceAll(c["marking"], " ", "   ") + "\t"} {
			if got := told(Parse(text)); got != want {
				t.Errorf("%s %q: %#v, want %#v", c["id"], text, got, want)
			}
		}
		if got := BodyOf(BodyNotTold, want); got != bodyNames[c["body"]] {
			t.Errorf("%s %q: body %v, want %s", c["id"], c["marking"], got, c["body"])
		}
		if got := BodyOf(SteelBody, want); got != SteelBody {
			t.Errorf("%s: a body that is told wins", c["id"])
		}
		kmh, ok := want.Speed.Speed()
		if ok != (c["kmh"] != "") || kmh.Number != number(c["kmh"]) {
			t.Errorf("%s: symbol %q is %v, want %s km/h", c["id"], want.Speed, kmh, c["kmh"])
		}
		symbols[want.Speed] = true
	}
	for s := range kmh {
		if !symbols[s] {
			t.Errorf("symbol %q has no published row", s)
		}
	}
}

// TestAsPeopleWriteIt: spellings of the shop floor (common practice), and texts
// that name no tire or not which.
func TestAsPeopleWriteIt(t *testing.T) {
	for _, c := range []struct {
		text      string
		class     Class
		widthMM   float64
		loadRange string
	}{
		{"225 60 17", MetricPassenger, 225, ""},
		{"225/60/17", MetricPassenger, 225, ""},
		{"225_60_17", MetricPassenger, 225, ""},
		{"225\u00a060\u00a017", MetricPassenger, 225, ""},
		{"225*60*17", MetricPassenger, 225, ""},
		{"225×60–17", UnknownClass, 0, ""}, // a flotation size has inches
		{"225-60-17", MetricPassenger, 225, ""},
		{"225/60 R 17 99 H", MetricPassenger, 225, ""},
		{"225/60-R17", MetricPassenger, 225, ""},
		{"155R13", MetricPassenger, 155, ""},
		{"195 R 14 C 106/104R 8PR", CommercialMetric, 195, "D"},
		{"245/45RF18 100Y", MetricPassenger, 245, ""},
		{"lt 245/75 r16 10 ply", LightTruckTire, 245, "E"},
		{"LT245/75R16 E/10PR", LightTruckTire, 245, "E"},
		{"LT245/75R16 LR: E", LightTruckTire, 245, "E"},
		{"LT245/75R16 E 8PR", LightTruckTire, 245, ""},           // one of them is misread
		{"LT245/75R16 120/116S H/T E", LightTruckTire, 245, "E"}, // H/T: a road tread, not load range H
		{"LT245/75R16 A T", LightTruckTire, 245, ""},
		{"LT245/75R16 120/116Q M+S", LightTruckTire, 245, ""},
		{"LT245/75R16 M/S", LightTruckTire, 245, ""},
		{"LT245/75R16 K", LightTruckTire, 245, ""}, // no load range K
		{"295/80R22.5 152/148M (154/150L)", MetricHeavy, 295, ""},
		{"LT245/75R16 Load Range E", LightTruckTire, 245, "E"},
		{"LT275/70R18 LRF", LightTruckTire, 275, "F"},
		{"LT245/75R16/E", LightTruckTire, 245, "E"},
		{"265/75R16LT 123/120R (E)", LightTruckTire, 265, "E"},
		{"ST205/75R15 D", SpecialTrailer, 205, "D"},
		{"225/70R19.5 128/126M G", MetricHeavy, 225, "G"},
		{"385/65R22.5 160K", MetricHeavy, 385, ""},
		{"225/75R16 121/120R", CommercialMetric, 225, ""},
		{"315/80R22 156/150L", MetricHeavy, 315, ""},
		{"11 r 22.5 h", NumericHeavy, 0, "H"},
		{"11-22.5 14PR", NumericHeavy, 0, "G"},
		{"LT245/75R16 10-PR", LightTruckTire, 245, "E"},
		{"LT245/75R16 10-PLY", LightTruckTire, 245, "E"},
		{"195R14C 8-PR", CommercialMetric, 195, "D"},
		{"10.00-20 16 - PR", NumericHeavy, 0, "H"},
		{"10.00-20", NumericHeavy, 0, ""},
		{"10.00R20 146/143K", NumericHeavy, 0, ""},
		{"7.50R16LT E", LightTruckTire, 0, "E"},
		{"35×12.50 R20 LT F", LightTruckTire, 317.5, "F"},
		{"285/45R22 H", MetricPassenger, 285, ""}, // a lone letter on a passenger tire is no load range
		{"225/60R17 C9", MetricPassenger, 225, ""},

		{"", UnknownClass, 0, ""},
		{"same as front", UnknownClass, 0, ""},
		{"7.00R20", NumericHeavy, 0, ""},
		{"6.50R20", UnknownClass, 0, ""}, // narrower than tires of heavy vehicles
		{"7.50R16", UnknownClass, 0, ""}, // light truck or not: the marking does not tell
		{"25x8-12", UnknownClass, 0, ""}, // off the road
		{"25x8.00-12", UnknownClass, 0, ""},
		{"223/60R17", UnknownClass, 0, ""}, // no such width
		{"225/60R47", UnknownClass, 0, ""}, // no such rim
		{"225/60R175", UnknownClass, 0, ""},
		{"225/60R17.2", UnknownClass, 0, ""},
		{"195-12-20", UnknownClass, 0, ""}, // a date
		{"22560", UnknownClass, 0, ""},
		{"tire 225", UnknownClass, 0, ""},
		{"11R", UnknownClass, 0, ""},
		{"225/62R17", UnknownClass, 0, ""}, // no such aspect
		{"225/15R17", UnknownClass, 0, ""},
		{"225/60R18.5", UnknownClass, 0, ""},
		{"31x10.50R15", UnknownClass, 0, ""},
		{"10x31.50R15LT", UnknownClass, 0, ""}, // swapped
		{"20x8.50R10LT", UnknownClass, 0, ""},  // off the road
		{"24x8.50R24LT", UnknownClass, 0, ""},  // no tire left
		{"HL245/70R19.5", UnknownClass, 0, ""},
		{"5.00R20", UnknownClass, 0, ""},
		{"P11R22.5", UnknownClass, 0, ""},
		{"HLLT245/75R16", UnknownClass, 0, ""},
		{"5/60R17", UnknownClass, 0, ""},
		{"155-13", UnknownClass, 0, ""}, // an aspect of 13 or a rim: not told
		{"11/22.5", UnknownClass, 0, ""},
	} {
		m := Parse(c.text)
		if m.Class != c.class || m.SectionWidth.In(unit.Millimeters) != c.widthMM || m.LoadRange != c.loadRange {
			t.Errorf("%q: %+v, want class %v, %g mm, load range %q", c.text, m, c.class, c.widthMM, c.loadRange)
		}
	}
}

// TestBodyOf: fabric through E, steel from F and on trucks (common practice).
func TestBodyOf(t *testing.T) {
	for _, c := range []struct {
		told BodyPly
		text string
		want BodyPly
	}{
		{BodyNotTold, "LT245/75R16 C", FabricBody},
		{BodyNotTold, "LT245/75R16 E", FabricBody},
		{BodyNotTold, "LT275/70R18 F", SteelBody},
		{BodyNotTold, "LT245/75R16", BodyNotTold},
		{SteelBody, "LT245/75R16 E", SteelBody},
		{FabricBody, "11R22.5", FabricBody},
		{BodyNotTold, "11R22.5", SteelBody},
		{BodyNotTold, "225/60R17", FabricBody},
		{BodyNotTold, "195/75R16C", BodyNotTold},
		{BodyNotTold, "ST205/75R15 E", BodyNotTold},
		{BodyNotTold, "", BodyNotTold},
	} {
		if got := BodyOf(c.told, Parse(c.text)); got != c.want {
			t.Errorf("BodyOf(%v, %q) = %v, want %v", c.told, c.text, got, c.want)
		}
	}
}

// A load index has two digits or three (ISO 4000-1): a figure alone, a word or a symbol
// without one is no service description.
func TestNoServiceDescription(t *testing.T) {
	for _, text := range []string{"225/60R17 9H", "225/60R17 9", "225/60R17 AB H", "225/60R17 MS", "225/60R17 H"} {
		if m := Parse(text); m.LoadIndex != 0 || m.Class != MetricPassenger {
			t.Errorf("%q: %+v", text, m)
		}
	}
	if m := Parse("225/60R17 XL T"); m.LoadMark != "XL" {
		t.Errorf("XL before a speed symbol: %+v", m)
	}
	for _, text := range []string{"225/60R17 99H", "225/60R17 (99H)", "225/60R17 101H"} {
		if m := Parse(text); m.LoadIndex == 0 || m.Speed == "" {
			t.Errorf("%q: %+v", text, m)
		}
	}
}

// TestDateCode: 49 CFR 574.5(b)(3); 0301 is the third week of 2001 (a vehicle
// maker's manual); weeks 01 to 53 (from memory).
func TestDateCode(t *testing.T) {
	today := unit.Date{Year: 2025, Month: 6, Day: 15}
	for _, c := range []struct {
		text    string
		want    Made
		because string // what the refusal says
	}{
		{"0301", Made{2001, 3}, ""},
		{"1816", Made{2016, 18}, ""},
		{"DOT A1B2 C3D4 1816", Made{2016, 18}, ""},
		{"A1B2C3D4E 1816", Made{2016, 18}, ""},
		{"A1B-2C3D4E-5320", Made{2020, 53}, ""},
		{"2325", Made{2025, 23}, ""}, // begins 2025-06-08
		{"0025", Made{}, "week 00"},
		{"5419", Made{}, "week 54"},
		{"2425", Made{2025, 24}, ""}, // begins on the day itself
		{"2525", Made{}, "after 2025-06-15"},
		{"2230", Made{}, "after 2025-06-15"},
		{"031", Made{}, "decade"},
		{"DOT A1B2 031", Made{}, "decade"},
		{"A1B2", Made{}, "four digits"},
		{"", Made{}, "four digits"},
		{"18I6", Made{}, "four digits"},
	} {
		got, err := DateCode(c.text, today)
		if got != c.want || (err == nil) != (c.because == "") || err != nil && !strings.Contains(err.Error(), c.because) {
			t.Errorf("DateCode(%q) = %v, %v; want %v, %q", c.text, got, err, c.want, c.because)
		}
	}
	if _, err := DateCode("2230", unit.Date{}); err != nil {
		t.Errorf("without a day nothing lies in the future: %v", err)
	}
}

// TestAge counts from the Sunday on which the week begins.
func TestAge(t *testing.T) {
	age := Made{2016, 18}.Age(unit.Date{Year: 2025, Month: 5, Day: 1}) // week 1 of 2016 began on January 3
	if got := age.Rounded().String(); got != "9 years" {
		t.Errorf("%s", got)
	}
	if b := (Made{2016, 1}).begins(); b != (unit.Date{Year: 2016, Month: 1, Day: 3}) {
		t.Errorf("week 1 of 2016 begins %s", b)
	}
	if b := (Made{2023, 1}).begins(); b != (unit.Date{Year: 2023, Month: 1, Day: 1}) {
		t.Errorf("week 1 of 2023 begins %s: January 1 was a Sunday", b)
	}
}
