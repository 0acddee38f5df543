package sidewall

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"gaugebook.dev/calc/unit"
)

var pressureUnits = map[string]unit.Unit{"psi": unit.PSI, "kPa": unit.Kilopascals, "bar": unit.Bar}
var massUnits = map[string]unit.Unit{"lb": unit.Pounds, "kg": unit.Kilograms}

func lb(n float64) unit.Mass { return unit.MustMass(n, unit.Pounds) }
func kg(n float64) unit.Mass { return unit.MustMass(n, unit.Kilograms) }

// otherStandard is a second published passenger table, of another standard. No
// marking tells a tire of it from a metric one, so that only the arithmetic is
// checked by it.
var otherStandard = Law{ID: "other", Exponent: 0.65, Reference: kPa(240)}

// TestPublishedLoadTables: the two published tables of passenger loads by index
// and pressure, every value at the table's rounding (5 kg and 1 kg), without
// exception.
func TestPublishedLoadTables(t *testing.T) {
	checked := map[string]int{}
	for _, r := range table(t, "load_inflation.csv") {
		law, ok := map[string]Law{"metric": metricPassenger, "other": otherStandard}[r["law"]]
		step := r.number(t, "rounded_to")
		if !ok || step < 1 || strings.Contains(r["marking"], "/") {
			continue
		}
		rated, ok := IndexLoad(int(r.number(t, "marking")))
		cold := unit.MustPressure(r.number(t, "pressure"), pressureUnits[r["unit"]])
		got := float64(law.Share(cold)) * rated.In(unit.Kilograms)
		if got < float64(rated) { // at the reference the index's own load is printed
			got = math.Round(got/step) * step
		}
		if want := r.number(t, "load"); !ok || got != want {
			t.Errorf("%s: %g kg, %s prints %g", r["id"], got, r["source"], want)
		}
		checked[law.ID]++
	}
	if checked["metric"] < 150 || checked["other"] < 150 {
		t.Errorf("only %v rows were checked", checked)
	}
}

// TestPublishedLoads: single published loads of tires by their markings, within
// what the row says of it, and within what the law says of itself. Rows from
// memory test only what this package decides.
func TestPublishedLoads(t *testing.T) {
	laws := map[string]int{}
	for _, r := range table(t, "load_inflation.csv") {
		if !strings.ContainsAny(r["marking"], "/R") {
			continue
		}
		rating, ok := RatingOf(Parse(r["marking"]), printedIn(t, r))
		if !ok || rating.Law.ID != r["law"] {
			t.Errorf("%s: the law is %q, want %s", r["id"], rating.Law.ID, r["law"])
			continue
		}
		cold := unit.MustPressure(r.number(t, "pressure"), pressureUnits[r["unit"]])
		dual := r["mounting"] == "dual"
		load, ok := rating.Load(cold, dual)
		want, got := r.number(t, "load"), float64(load/rating.Single)
		if u, mass := massUnits[r["load_unit"]]; mass {
			got = load.In(u)
		}
		off := math.Abs(got/want - 1)
		switch step := r.number(t, "rounded_to"); {
		case !ok:
			t.Errorf("%s: no load", r["id"])
		case step > 0 && math.Round(got/step)*step != want:
			t.Errorf("%s: %g %s, %s prints %g", r["id"], got, r["load_unit"], r["source"], want)
		case step == 0 && off > r.number(t, "within_percent")/100:
			t.Errorf("%s: %g %s is %.2f percent off %g (%s)", r["id"], got, r["load_unit"], 100*off, want, r["source"])
		case off > float64(rating.Law.Within):
			t.Errorf("%s: %.2f percent off, the law says it is within %v", r["id"], 100*off, rating.Law.Within.Amount())
		}
		if r["known"] == "read" {
			laws[rating.Law.ID]++
		}
	}
	for _, id := range []string{"p-metric", "metric", "light-truck", "heavy"} {
		if laws[id] < 2 {
			t.Errorf("law %s: %d published rows", id, laws[id])
		}
	}
}

// printedIn reads "80 psi 3042 2778 lb": maximum, loads alone and in a pair.
func printedIn(t *testing.T, r row) Printed {
	t.Helper()
	f := strings.Fields(r["maximum"])
	if len(f) == 0 {
		return Printed{}
	}
	n := func(i int) float64 { return row{"n": f[i]}.number(t, "n") }
	u := massUnits[f[4]]
	return Printed{unit.MustPressure(n(0), pressureUnits[f[1]]), unit.MustMass(n(2), u), unit.MustMass(n(3), u)}
}

// TestRatingOf: what decides the law, its reference and the loads. References
// and load ranges: load-mark explainer page and trade forum, as reported; 240 and
// 280 kPa whatever higher maximum is printed: 49 CFR 575.104, Tables 1 and 2;
// maxima of standard and extra load: 49 CFR 571.138, Table 1.
func TestRatingOf(t *testing.T) {
	for _, c := range []struct {
		marking   string
		printed   Printed
		law       string // "": not known
		single    unit.Mass
		dual      unit.Mass
		reference unit.Pressure
		maximum   unit.Pressure
		assumed   bool
	}{
		{"P225/60R16 97T", Printed{}, "p-metric", kg(730), 0, kPa(240), kPa(240), true},
		{"P225/60R16 97T SL", Printed{}, "p-metric", kg(730), 0, kPa(240), kPa(240), false},
		{"P225/60R16 97T", Printed{Maximum: psi(44)}, "p-metric", kg(730), 0, kPa(240), psi(44), false},
		{"P225/60R16 97T", Printed{Maximum: psi(51)}, "p-metric", kg(730), 0, kPa(240), psi(51), false},
		{"P235/75R15 108T", Printed{Maximum: psi(41)}, "p-metric", kg(1000), 0, kPa(280), psi(41), false},
		{"P235/75R15 108T", Printed{Maximum: psi(50)}, "p-metric", kg(1000), 0, kPa(280), psi(50), false},
		{"P235/75R15 108T", Printed{Maximum: psi(49)}, "p-metric", kg(1000), 0, kPa(280), psi(49), false},
		{"P235/75R15 XL 108T", Printed{Maximum: psi(44)}, "p-metric", kg(1000), 0, kPa(280), psi(44), false}, // the mark wins
		{"P225/60R16 97T", Printed{Maximum: psi(60)}, "p-metric", kg(730), 0, kPa(240), psi(60), true},
		{"P235/75R15", Printed{Maximum: psi(35), Single: lb(2028)}, "p-metric", lb(2028), 0, kPa(240), psi(35), false},
		{"225/60R16 98H", Printed{}, "metric", kg(750), 0, kPa(250), kPa(250), true},
		{"225/60R16 98H", Printed{Maximum: psi(44)}, "metric", kg(750), 0, kPa(250), psi(44), false},
		{"225/60R16 98H", Printed{Maximum: kPa(240)}, "metric", kg(750), 0, kPa(240), kPa(240), false}, // none is rated above its maximum
		{"245/40R19 98Y XL", Printed{}, "metric", kg(750), 0, kPa(290), kPa(290), false},
		{"HL 245/40R19 101Y", Printed{}, "metric", kg(825), 0, kPa(290), kPa(290), false},
		{"LT235/85R16 C", Printed{Single: lb(2205)}, "light-truck", lb(2205), 0, psi(50), psi(50), false},
		{"LT265/75R16 112/109Q D", Printed{}, "light-truck", kg(1120), kg(1030), psi(65), psi(65), false},
		{"LT245/75R16 120/116S E", Printed{}, "light-truck", kg(1400), kg(1250), psi(80), psi(80), false},
		{"LT245/75R16 120/116S E", Printed{Single: lb(3042), Dual: lb(2778)}, "light-truck", lb(3042), lb(2778), psi(80), psi(80), false},
		{"LT315/70R17 121/118Q E", Printed{Maximum: psi(65)}, "light-truck", kg(1450), kg(1320), psi(65), psi(65), false}, // as printed
		{"LT245/75R16 120/116S E", Printed{Maximum: psi(85)}, "light-truck", kg(1400), kg(1250), psi(85), psi(85), false}, // as printed
		{"295/75R22.5 144/141L G", Printed{Maximum: psi(110)}, "heavy", kg(2800), kg(2575), psi(110), psi(110), false},
		{"ST205/75R15 107M D", Printed{Maximum: psi(65)}, "rated-only", kg(975), 0, psi(65), psi(65), false},
		{"195/75R16C 107/105R", Printed{Maximum: kPa(475)}, "rated-only", kg(975), kg(925), kPa(475), kPa(475), false},
		{"T125/70D15 95M", Printed{Maximum: psi(60)}, "rated-only", kg(690), 0, psi(60), psi(60), false},

		{"P225/60R16", Printed{}, "", 0, 0, 0, 0, false},
		{"LT245/75R16 120/116S", Printed{}, "", 0, 0, 0, 0, false},
		{"LT275/70R18 125/122S F", Printed{}, "", 0, 0, 0, 0, false},
		{"31x10.50R15LT 109Q C", Printed{}, "", 0, 0, 0, 0, false}, // its range has another pressure in some sizes
		{"295/75R22.5 144/141L G", Printed{}, "", 0, 0, 0, 0, false},
		{"ST205/75R15 107M D", Printed{}, "", 0, 0, 0, 0, false},
		{"same as front", Printed{Maximum: psi(44), Single: lb(1609)}, "", 0, 0, 0, 0, false},
	} {
		r, ok := RatingOf(Parse(c.marking), c.printed)
		if ok != (c.law != "") {
			t.Errorf("%s %v: known %v", c.marking, c.printed, ok)
			continue
		}
		if ok && (r.Law.ID != c.law || r.Single != c.single || r.Dual != c.dual || r.Law.Reference != c.reference || r.Maximum != c.maximum || r.MarkAssumed != c.assumed) {
			t.Errorf("%s %v: %+v, want %+v", c.marking, c.printed, r, c)
		}
	}
}

// TestLoadLimits: no figure below the floor (26 psi common practice; 35 psi where
// the light truck table of a motorhome specification starts), the rated load and
// no more above the reference, nothing supplied for a pair.
func TestLoadLimits(t *testing.T) {
	car := known(t, "P225/60R16 97T", Printed{Maximum: psi(51)})
	truck := known(t, "LT245/75R16 120/116S E", Printed{Single: lb(3042)})
	flotation := known(t, "31x10.50R15LT 109Q C", Printed{Maximum: psi(30)})
	trailer := known(t, "ST205/75R15 107M D", Printed{Maximum: psi(65)})
	for _, c := range []struct {
		name string
		r    Rating
		cold unit.Pressure
		dual bool
		want unit.Mass // 0: no figure
	}{
		{"car at its floor", car, psi(26), false, kg(730 * math.Sqrt(26*6.894757293168361/240))},
		{"car under its floor", car, psi(25.9), false, 0},
		{"car at 35 psi", car, psi(35), false, kg(730)},
		{"car at its sidewall maximum", car, psi(51), false, kg(730)},
		{"car in a pair", car, psi(35), true, 0},
		{"truck under its floor", truck, psi(34.9), false, 0},
		{"truck at 80 psi", truck, psi(80), false, lb(3042)},
		{"truck in a pair, by its index", truck, psi(80), true, kg(1250)},
		{"rated under the floor", flotation, psi(30), false, kg(1030)},
		{"trailer at its sidewall pressure", trailer, psi(65), false, kg(975)},
		{"trailer above it", trailer, psi(70), false, kg(975)},
		{"trailer below it: no table", trailer, psi(64), false, 0},
		{"no air", truck, 0, false, 0},
		{"less than none", car, psi(-3), false, 0},
	} {
		got, ok := c.r.Load(c.cold, c.dual)
		if ok != (c.want > 0) || math.Abs(float64(got-c.want)) > 1e-6 {
			t.Errorf("%s: %v kg, %v, want %v", c.name, got, ok, c.want)
		}
	}
	for _, c := range []struct {
		name string
		r    Rating
		load unit.Mass
		dual bool
		want unit.Pressure // 0: none
	}{
		{"next to nothing still needs the floor", car, kg(10), false, psi(26)},
		{"nothing", car, 0, false, psi(26)},
		{"the rated load needs the reference, not the maximum", car, kg(730), false, kPa(240)},
		{"more than rated", car, kg(731), false, 0},
		{"a pair of unknown load", car, kg(100), true, 0},
		{"a trailer tire has one pressure", trailer, kg(200), false, psi(65)},
		{"a trailer tire overloaded", trailer, kg(976), false, 0},
	} {
		got, ok := c.r.PressureFor(c.load, c.dual)
		if ok != (c.want > 0) || math.Abs(float64(got-c.want)) > 1e-9 {
			t.Errorf("%s: %v kPa, %v, want %v", c.name, got, ok, c.want)
		}
	}
}

func known(t *testing.T, marking string, printed Printed) Rating {
	t.Helper()
	r, ok := RatingOf(Parse(marking), printed)
	if !ok {
		t.Fatalf("%s: its rating is not known", marking)
	}
	return r
}

// TestSteerAxleExample: the trade press' example of choosing a pressure. A steer
// axle of 12,000 lb: 105 psi carries 11,960 lb, too little; 110 psi 12,350 lb.
func TestSteerAxleExample(t *testing.T) {
	r := known(t, "295/75R22.5 144", Printed{Maximum: psi(110), Single: lb(6175)})
	at := func(p float64) unit.Mass {
		m, _ := r.Load(psi(p), false)
		return 2 * m
	}
	if at(105) >= lb(12000) || at(110) < lb(12000) {
		t.Errorf("105 psi carries %v lb, 110 psi %v lb", at(105).In(unit.Pounds), at(110).In(unit.Pounds))
	}
	if p, ok := r.PressureFor(lb(6000), false); !ok || p <= psi(105) || p > psi(110) {
		t.Errorf("6,000 lb need %v psi", p.In(unit.PSI))
	}
}

// TestOneIndexThreeVersions: at one pressure and one index, standard load carries
// at least as much as extra load, whose reference is higher; of one size, at 290
// kPa, HL carries 10 percent more than XL (public page on load versions).
func TestOneIndexThreeVersions(t *testing.T) {
	standard := known(t, "245/40R19 98Y SL", Printed{})
	extra := known(t, "245/40R19 98Y XL", Printed{})
	hl := known(t, "HL 245/40R19 101Y", Printed{})
	for p := 180.0; p < 400; p += 5 {
		s, _ := standard.Load(kPa(p), false)
		x, _ := extra.Load(kPa(p), false)
		h, _ := hl.Load(kPa(p), false)
		if s < x || math.Abs(float64(h/x)-1.1) > 1e-9 {
			t.Errorf("at %v kPa: SL %v, XL %v, HL %v kg", p, s, x, h)
		}
	}
}

func anyRating(t *rapid.T) Rating {
	marking := rapid.SampledFrom([]string{
		"P225/60R16 97T", "P235/75R15 108T XL", "225/60R16 98H", "HL 245/40R19 101Y", "LT265/75R16 112/109Q D", "LT245/75R16 120/116S E",
		"31x10.50R15LT 109Q C", "295/75R22.5 144/141L", "11R22.5 146/143L", "ST205/75R15 107M D", "195/75R16C 107/105R",
	}).Draw(t, "marking")
	printed := Printed{
		Maximum: psi(float64(rapid.SampledFrom([]int{35, 41, 44, 50, 51, 65, 80, 110}).Draw(t, "maximum"))),
		Single:  lb(float64(rapid.SampledFrom([]int{0, 0, 1609, 3042, 6175}).Draw(t, "single"))),
	}
	r, ok := RatingOf(Parse(marking), printed)
	if !ok {
		t.Fatalf("%s %v: not known", marking, printed)
	}
	return r
}

// TestLoadProperties: more pressure never carries less, and never more than
// rated; less load never needs more pressure; the pressure for a load carries it
// and, above the floor, hardly more; no pressure asked for is above the sidewall's
// or below the floor; the unit in which a pressure was read changes nothing.
func TestLoadProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRating(t)
		dual := rapid.Bool().Draw(t, "dual") && r.Dual > 0
		rated, _ := r.Rated(dual)
		p := rapid.Float64Range(0, 130).Draw(t, "psi")
		more := p + rapid.Float64Range(0, 60).Draw(t, "more")
		low, okLow := r.Load(psi(p), dual)
		high, okHigh := r.Load(psi(more), dual)
		if okLow && !okHigh || high < low || high > rated {
			t.Fatalf("%v psi: %v %v; %v psi: %v %v; rated %v", p, low, okLow, more, high, okHigh, rated)
		}
		if again, ok := r.Load(unit.MustPressure(psi(p).In(unit.Bar), unit.Bar), dual); ok != okLow || math.Abs(float64(again-low)) > 1e-9*float64(rated) {
			t.Fatalf("%v psi: %v, in bar %v", p, low, again)
		}

		load := unit.Mass(rapid.Float64Range(0, 1.2).Draw(t, "share")) * rated
		needed, ok := r.PressureFor(load, dual)
		if ok != (load <= rated) {
			t.Fatalf("%v of %v kg: %v", load, rated, ok)
		}
		if !ok {
			return
		}
		if needed > r.Maximum*(1+closeness) || needed < r.Law.Floor {
			t.Fatalf("%v kPa for %v kg, maximum %v, floor %v", needed, load, r.Maximum, r.Law.Floor)
		}
		carried, ok := r.Load(needed, dual)
		if !ok || carried < load*(1-closeness) {
			t.Fatalf("%v kPa for %v kg carries %v, %v", needed, load, carried, ok)
		}
		if r.Law.Exponent > 0 && needed > r.Law.Floor && carried > load*(1+1e-6) {
			t.Fatalf("%v kPa for %v kg carries %v", needed, load, carried)
		}
		less, ok := r.PressureFor(load*unit.Mass(rapid.Float64Range(0, 1).Draw(t, "less")), dual)
		if !ok || less > needed {
			t.Fatalf("less than %v kg needs %v kPa, more than %v", load, less, needed)
		}
	})
}

// TestLeast: a mark that is not told is taken for extra load where that carries
// less, never at a pressure above the sidewall's; and nothing else changes.
func TestLeast(t *testing.T) {
	r := known(t, "P225/60R16 97T", Printed{Maximum: psi(38)}).Least()
	if r.Law.Reference != kPa(280) || r.Maximum != psi(38) {
		t.Errorf("reference %v, maximum %v kPa", r.Law.Reference, r.Maximum)
	}
	if p, ok := r.PressureFor(kg(725), false); ok {
		t.Errorf("%v kPa asked for, above the sidewall's 38 psi", p)
	}
	for _, marking := range []string{"P225/60R16 97T SL", "P225/60R16 97T XL", "LT245/75R16 120/116S E"} {
		if r := known(t, marking, Printed{}); r.Least() != r {
			t.Errorf("%s: %+v is made %+v", marking, r, r.Least())
		}
	}
}

// TestDividedBy: 49 CFR 571.110 S4.2.2.2, 2403 lb / 1.10.
func TestDividedBy(t *testing.T) {
	r := known(t, "P265/70R16 111T", Printed{Dual: kg(990)}).DividedBy(1.10)
	if math.Abs(r.Single.In(unit.Pounds)-2403/1.1) > 0.3 || math.Abs(float64(r.Dual)-900) > 1e-9 {
		t.Errorf("%v kg alone, %v kg in a pair", r.Single, r.Dual)
	}
}
