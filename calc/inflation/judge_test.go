package inflation_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"gaugebook.dev/calc/finding"
	. "gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

var (
	digital = GaugeOf(Digital, measure.Gauge[unit.Pressure]{})
	cold    = Conditions{DrivenHere: finding.No}
	drove   = Conditions{DrivenHere: finding.Yes, Distance: unit.MustDistance(12, unit.Miles)}
	parked  = DrivenLow{Driven: finding.No}
)

func carAt(n float64, c Conditions) Wheel {
	return Wheel{
		At: layout.MustParse("1L"), Class: layout.PassengerCar, Found: psi(n), Read: unit.PSI,
		Gauge: digital, Label: psi(33), Sidewall: psi(44), Conditions: c,
	}
}

func truckAt(n float64, c Conditions) Wheel {
	return Wheel{
		At: layout.MustParse("2RO"), Class: layout.Heavy, Body: sidewall.SteelBody, Found: psi(n), Read: unit.PSI,
		Gauge: digital, Label: psi(100), Sidewall: psi(120), Conditions: c,
	}
}

func exact(w Wheel) Wheel { w.Gauge = measure.Gauge[unit.Pressure]{}; return w }

func change(w Wheel, f func(*Wheel)) Wheel { f(&w); return w }

func codes(fs []finding.Finding) []finding.Code {
	var cs []finding.Code
	for _, f := range fs {
		cs = append(cs, f.Code)
	}
	return cs
}

func find(fs []finding.Finding, code finding.Code) finding.Finding {
	for _, f := range fs {
		if f.Code == code {
			return f
		}
	}
	return finding.Finding{}
}

// flags are the instructions of a result in short: N no air, D demount, F
// deflate first, R restraining device, L find the leak.
func flags(r Result) string {
	s := ""
	for _, f := range []struct {
		on   bool
		name string
	}{{r.NoAir, "N"}, {r.Demount, "D"}, {r.Deflate, "F"}, {r.RestrainingDevice, "R"}, {r.FindLeak, "L"}} {
		if f.on {
			s += f.name
		}
	}
	return s
}

type says []finding.Code

// TestJudge: the trade's rules. Sources beside the rows; CP is common practice,
// IG the industry guideline on steel-cord tires as reported by the trade press.
func TestJudge(t *testing.T) {
	lt := func(body sidewall.BodyPly, n float64) Wheel {
		return Wheel{Class: layout.LightTruck, Body: body, Found: psi(n), Read: unit.PSI, Gauge: digital, Label: psi(80), Sidewall: psi(80), Conditions: cold}
	}
	const (
		before = finding.BeforeDriving
		visit  = finding.ThisVisit
		plan   = finding.Plan
		note   = finding.Note
	)
	for _, c := range []struct {
		name   string // with the source
		w      Wheel
		says   says
		worst  finding.Urgency
		flags  string
		target float64 // psi, 0: nothing is set
	}{
		{"right, cold", carAt(33, cold), nil, 0, "", 0},
		{"a 1 psi spread is nothing (CP)", carAt(32, cold), nil, 0, "", 0},
		{"provably below, above 90 % (CP)", carAt(31, cold), says{finding.InflationBelowLabel}, plan, "", 33},
		{"10 % and more below (CP)", carAt(28, cold), says{finding.InflationLow}, visit, "", 33},
		{"center at 90 %, cannot tell (CP)", change(carAt(27, cold), func(w *Wheel) { w.Label = psi(30) }), says{finding.InflationLow}, visit, "", 30},
		{"exactly 90 %, exact (CP)", exact(change(carAt(27, cold), func(w *Wheel) { w.Label = psi(30) })), says{finding.InflationLow}, visit, "", 30},
		{"just over 90 %, exact (CP)", exact(change(carAt(27.1, cold), func(w *Wheel) { w.Label = psi(30) })), says{finding.InflationBelowLabel}, plan, "", 30},
		{"half to 80 % on a car: find the leak, and the lamp is due (CP; 49 CFR 571.138 S4.2(a))", carAt(20, cold), says{finding.InflationFindLeak, finding.InflationAtLampThreshold}, visit, "L", 33},
		{"under half, driven or not known: ran low (CP)", carAt(14, cold), says{finding.InflationRunLow, finding.InflationAtLampThreshold}, before, "ND", 0},
		{"under half, not driven: find the leak (CP)", change(carAt(14, cold), func(w *Wheel) { w.DrivenLow = parked }), says{finding.InflationFindLeak, finding.InflationAtLampThreshold}, visit, "L", 33},
		{"flat, not known whether driven (CP)", carAt(0, cold), says{finding.InflationFlat, finding.InflationRunLow, finding.InflationAtLampThreshold}, before, "NDL", 0},
		{"flat, not driven (CP)", change(carAt(0, cold), func(w *Wheel) { w.DrivenLow = parked }), says{finding.InflationFlat, finding.InflationFindLeak, finding.InflationAtLampThreshold}, before, "L", 33},
		{"1 psi is flat: the gauge cannot tell it from none", carAt(1, cold), says{finding.InflationFlat, finding.InflationRunLow, finding.InflationAtLampThreshold}, before, "NDL", 0},
		{"seen flat, not read (CP)", Wheel{Class: layout.PassengerCar, Seen: Seen{Flat: true}}, says{finding.InflationFlat, finding.InflationRunLow}, before, "NDL", 0},
		{"leaks audibly (CP)", change(carAt(33, cold), func(w *Wheel) { w.Seen.AudibleLeak = true }), says{finding.InflationAudibleLeak}, before, "L", 0},
		{"scuff ring at full pressure (CP)", change(carAt(33, cold), func(w *Wheel) { w.Seen.ScuffRing = true }), says{finding.InflationRunLow}, before, "ND", 0},
		{"marks outrank the answer that nobody drove on it (CP)", change(carAt(33, cold), func(w *Wheel) { w.Seen.RubberDust = true; w.DrivenLow = parked }), says{finding.InflationRunLow}, before, "ND", 0},
		{"wrinkled liner, no label, no reading (CP)", Wheel{Class: layout.LightTruck, Body: sidewall.SteelBody, Seen: Seen{WrinkledLiner: true}}, says{finding.InflationRunLow}, before, "NDFR", 0},
		{"burnt smell (CP)", change(carAt(33, cold), func(w *Wheel) { w.Seen.BurntSmell = true }), says{finding.InflationRunLow}, before, "ND", 0},

		{"exactly the label while warm is low (CP)", carAt(33, drove), says{finding.InflationLabelWhileWarm}, visit, "", 37},
		{"under the label while warm, not provably 10 % (CP)", carAt(32, drove), says{finding.InflationLabelWhileWarm}, visit, "", 37},
		{"provably 10 % low cold, by the usual rise (CP)", carAt(31, drove), says{finding.InflationLow}, visit, "", 37},
		{"35 warm against 33: leave it (CP)", carAt(35, drove), says{finding.InflationWarmAboveLabel}, note, "", 0},
		{"34 warm against 33: 28 to 32 cold (CP)", carAt(34, drove), says{finding.InflationBelowLabel}, plan, "", 37},
		{"the same by a stick gauge: check cold (CP)", change(carAt(34, drove), func(w *Wheel) { w.Gauge = GaugeOf(Stick, measure.Gauge[unit.Pressure]{}) }), says{finding.InflationCheckCold}, note, "", 0},
		{"34, nothing told: check cold (CP)", carAt(34, Conditions{}), says{finding.InflationCheckCold}, note, "", 0},
		{"42 warm against 33: above, may be on purpose (CP)", carAt(42, drove), says{finding.InflationAboveLabel}, note, "", 0},
		{"38 cold against 33: may be on purpose (CP)", carAt(38, cold), says{finding.InflationAboveLabel}, note, "", 0},
		{"46 warm over 44 on the sidewall: leave it (CP)", carAt(46, drove), says{finding.InflationAboveLabel, finding.InflationWarmAboveSidewall}, note, "", 0},
		{"50 cold over 44 on the sidewall: let down to the label (CP)", carAt(50, cold), says{finding.InflationAboveLabel, finding.InflationAboveSidewallMaximum}, visit, "", 33},
		{"60 warm, provably over 44 cold: nothing let out now (CP)", carAt(60, drove), says{finding.InflationAboveLabel, finding.InflationAboveSidewallMaximum}, visit, "", 0},
		{"45 cold over 44: not provable", carAt(45, cold), says{finding.InflationAboveLabel}, note, "", 0},
		{"read 20 warm of 33: cold center under half (CP)", carAt(20, drove), says{finding.InflationRunLowUndecided, finding.InflationAtLampThreshold}, visit, "N", 0},

		{"80 on the sidewall and label, 89 at 110 °F after 60 °F (gas law; CP)", change(lt(sidewall.FabricBody, 89), func(w *Wheel) {
			w.Conditions = Conditions{DrivenHere: finding.Yes, Here: fahrenheit(60)}
			w.Temperature, w.Source = fahrenheit(110), Sensor
		}), says{finding.InflationWarmAboveLabel, finding.InflationWarmAboveSidewall}, note, "", 0},

		{"steel, 79.9 of 100, exact (IG)", exact(truckAt(79.9, cold)), says{finding.InflationRunLow}, before, "NDFR", 0},
		{"steel, exactly 80 of 100, exact (IG)", exact(truckAt(80, cold)), says{finding.InflationNoAirOnVehicle, finding.InflationLow}, visit, "NFR", 0},
		{"steel, 80.1 of 100, exact (IG)", exact(truckAt(80.1, cold)), says{finding.InflationLow}, visit, "", 100},
		{"steel, 78 of 100 (IG)", truckAt(78, cold), says{finding.InflationRunLow}, before, "NDFR", 0},
		{"steel, 79 of 100 by a ±1 psi gauge: not provable (IG)", truckAt(79, cold), says{finding.InflationRunLowUndecided}, visit, "NFR", 0},
		{"steel, 81 of 100 by a ±1 psi gauge: not provably more (IG)", truckAt(81, cold), says{finding.InflationNoAirOnVehicle, finding.InflationLow}, visit, "NFR", 0},
		{"steel, 84 warm of 100: cold center under 80 (CP)", truckAt(84, drove), says{finding.InflationRunLowUndecided}, visit, "N", 0},
		{"steel, 70, leaked down while parked (CP)", change(truckAt(70, cold), func(w *Wheel) { w.DrivenLow = parked }), says{finding.InflationFindLeak, finding.InflationNoAirOnVehicle}, visit, "NFRL", 0},
		{"steel, seen flat, not read, not driven (IG)", Wheel{Class: layout.Heavy, Label: psi(100), Seen: Seen{Flat: true}, DrivenLow: parked}, says{finding.InflationFlat, finding.InflationNoAirOnVehicle}, before, "NFRL", 0},
		{"steel, reads nothing, no label, not driven (IG)", change(truckAt(0, cold), func(w *Wheel) { w.Label = 0; w.DrivenLow = parked }), says{finding.InflationFlat, finding.InflationNoAirOnVehicle}, before, "NFRL", 0},
		{"steel, 101 of 100, cold", truckAt(101, cold), nil, 0, "", 0},
		{"steel, 88 of 100, cold", truckAt(88, cold), says{finding.InflationLow}, visit, "", 100},

		{"steel light truck, 63 of 80 (IG)", lt(sidewall.SteelBody, 62), says{finding.InflationRunLow}, before, "NDFR", 0},
		{"fabric light truck, 62 of 80 (CP)", lt(sidewall.FabricBody, 62), says{finding.InflationFindLeak}, visit, "L", 80},
		{"light truck, body not told, 62 of 80: read the ply line", lt(sidewall.BodyNotTold, 62), says{finding.InflationRunLowUndecided}, visit, "NFR", 0},
		{"light truck, body not told, 30 of 80: low by either rule", lt(sidewall.BodyNotTold, 30), says{finding.InflationRunLow, finding.InflationAtLampThreshold}, before, "NDFR", 0},
		{"light truck, body not told, 64 of 80", lt(sidewall.BodyNotTold, 64), says{finding.InflationNoAirOnVehicle, finding.InflationLow}, visit, "NFR", 0},
		{"trailer, body not told, 48 of 80 (IG)", change(lt(sidewall.BodyNotTold, 48), func(w *Wheel) { w.Class = layout.Trailer }), says{finding.InflationRunLow}, before, "NDFR", 0},
		{"trailer, fabric told, 48 of 80 (IG, taken for every trailer)", change(lt(sidewall.FabricBody, 48), func(w *Wheel) { w.Class = layout.Trailer }), says{finding.InflationRunLow}, before, "NDFR", 0},
		{"motorhome, body not told, 60 of 80 (IG)", change(lt(sidewall.BodyNotTold, 60), func(w *Wheel) { w.Class = layout.Motorhome }), says{finding.InflationRunLow}, before, "NDFR", 0},
		{"car on steel-bodied tires, 62 of 80 (IG)", change(lt(sidewall.SteelBody, 62), func(w *Wheel) { w.Class = layout.PassengerCar }), says{finding.InflationRunLow}, before, "NDFR", 0},

		{"no label: over the sidewall can still be told", change(carAt(50, cold), func(w *Wheel) { w.Label = 0 }), says{finding.InflationAboveSidewallMaximum}, visit, "", 44},
		{"no label, 6 psi on a car: under half of any label (CP)", change(carAt(6, cold), func(w *Wheel) { w.Label = 0 }), says{finding.InflationRunLow}, before, "ND", 0},
		{"no label, 9.5 psi on a car by a ±1 psi gauge: not provably so", change(carAt(9.5, cold), func(w *Wheel) { w.Label = 0 }), says{finding.InflationRunLowUndecided}, visit, "N", 0},
		{"no label, 12 psi on a car: may be any label's half", change(carAt(12, cold), func(w *Wheel) { w.Label = 0 }), nil, 0, "", 0},
		{"no label, 6 psi on a car, not driven: the leak first (CP)", change(carAt(6, cold), func(w *Wheel) { w.Label = 0; w.DrivenLow = parked }), says{finding.InflationFindLeak}, visit, "L", 0},
		{"no label, steel, 40 psi on a truck: under 80 % of any label (IG)", change(truckAt(40, cold), func(w *Wheel) { w.Label = 0 }), says{finding.InflationRunLow}, before, "NDFR", 0},
		{"no label, steel, 70 psi on a truck: nothing can be told", change(truckAt(70, cold), func(w *Wheel) { w.Label = 0 }), nil, 0, "", 0},
		{"no label: nothing else", change(carAt(28, cold), func(w *Wheel) { w.Label = 0 }), nil, 0, "", 0},
		{"label above the sidewall figure", change(carAt(28, cold), func(w *Wheel) { w.Sidewall = psi(30) }), says{finding.InflationLow, finding.InflationLabelAboveSidewall}, visit, "", 0},
		{"motorcycle: not judged", change(carAt(0, cold), func(w *Wheel) { w.Class = layout.Motorcycle }), nil, 0, "", 0},
	} {
		r := Judge(c.w)
		if got := codes(r.Findings); !slices.Equal(got, c.says) {
			t.Errorf("%s: says %v, want %v", c.name, got, c.says)
			continue
		}
		if got := worst(r); got != c.worst {
			t.Errorf("%s: urgency %d, want %d", c.name, got, c.worst)
		}
		if got := flags(r); got != c.flags {
			t.Errorf("%s: instructions %q, want %q", c.name, got, c.flags)
		}
		if got := r.Target.Show.In(unit.PSI); math.Abs(got-c.target) > 1e-9 {
			t.Errorf("%s: to set %.2f psi (%s), want %v", c.name, got, r.Target.Why, c.target)
		}
		for _, f := range r.Findings {
			if f.Rule.Authority == finding.AuthorityNotTold && f.Code != finding.InflationFlat && f.Code != finding.InflationAudibleLeak {
				t.Errorf("%s: %s names no rule", c.name, f.Code)
			}
			if f.Outcome == measure.CannotTell && f.ToSettle == "" && f.Urgency != finding.Note {
				t.Errorf("%s: %s does not say what would decide", c.name, f.Code)
			}
			if f.Urgency == finding.BeforeDriving && f.Caution == "" {
				t.Errorf("%s: %s carries no caution", c.name, f.Code)
			}
			if (len(f.Positions) == 1) != (c.w.At != layout.Position{}) {
				t.Errorf("%s: %s at %v", c.name, f.Code, f.Positions)
			}
		}
	}
}

func worst(r Result) finding.Urgency {
	var u finding.Urgency
	for _, f := range r.Findings {
		if u == 0 || f.Urgency < u {
			u = f.Urgency
		}
	}
	return u
}

// TestRunLowNumbers: the finding carries the reading as found, the limit, the
// margin and the rule it was judged by.
func TestRunLowNumbers(t *testing.T) {
	r := Judge(exact(truckAt(79.9, cold)))
	f := find(r.Findings, finding.InflationRunLow)
	if f.Outcome != measure.Below || f.Measured.String() != "79.9 psi" || f.Limit.String() != "80 psi" || f.Margin.String() != "-0.1 psi" || f.Rule.ID != "pressure.run-low-steel" {
		t.Errorf("%+v", f)
	}
	// What is no law speaks of tires marked LT.
	lt := exact(truckAt(80, cold))
	lt.Class = layout.LightTruck
	if f := find(Judge(lt).Findings, finding.InflationNoAirOnVehicle); f.Rule.Authority != finding.CommonPractice {
		t.Errorf("light truck: %+v", f.Rule)
	}
	// What was said about driving on it is evidence.
	w := truckAt(60, cold)
	w.DrivenLow = DrivenLow{Driven: finding.Yes, Distance: miles(40), Loaded: finding.Yes}
	f = find(Judge(w).Findings, finding.InflationRunLow)
	for _, code := range []finding.Fact{"inflation.driven-low", "inflation.driven-low-distance", "inflation.driven-low-loaded", "inflation.label", "inflation.read", finding.FactInflationBasisCold} {
		if !slices.ContainsFunc(f.Evidence, func(e finding.Evidence) bool { return e.Code == code }) {
			t.Errorf("no evidence %s", code)
		}
	}
}

// TestMissing: what was not told is asked for by name.
func TestMissing(t *testing.T) {
	for _, c := range []struct {
		name string
		w    Wheel
		want []finding.Question
	}{
		{"all told", carAt(33, cold), nil},
		{"no reading", Wheel{Class: layout.PassengerCar, Label: psi(33)}, []finding.Question{finding.AskReading}},
		{"no label", change(carAt(33, cold), func(w *Wheel) { w.Label = 0 }), []finding.Question{finding.AskLabel}},
		{"nothing of the drive", carAt(33, Conditions{}), []finding.Question{finding.AskDriven}},
		{"a tire temperature alone", change(carAt(33, drove), func(w *Wheel) { w.Temperature, w.Source = fahrenheit(95), Sensor }), []finding.Question{finding.AskOutsideTemperature}},
	} {
		if got := Judge(c.w).Missing; !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	if why := Judge(Wheel{Class: layout.PassengerCar, Label: psi(33)}).Target.Why; why != finding.TargetNoReading {
		t.Errorf("not read: %s", why)
	}
}

// random makes a wheel with a sidewall figure at or above its label, and any of
// the circumstances.
func random(r *rand.Rand) Wheel {
	w := Wheel{
		Class: layout.Class(r.IntN(int(layout.Motorhome) + 1)),
		Body:  sidewall.BodyPly(r.IntN(3)),
		Load:  LoadClass(r.IntN(6)),
		Read:  unit.PSI,
		Gauge: GaugeOf(GaugeKind(r.IntN(6)), measure.Gauge[unit.Pressure]{}),
		Label: psi(float64(24 + r.IntN(90))),
		Conditions: Conditions{
			DrivenHere: finding.Answer(r.IntN(4)),
			Sun:        finding.Answer(r.IntN(4)),
			Distance:   miles(float64(r.IntN(4) * 5)),
			Parked:     []time.Duration{0, time.Hour, 5 * time.Hour}[r.IntN(3)],
		},
		DrivenLow: DrivenLow{Driven: finding.Answer(r.IntN(4))},
	}
	w.Sidewall = w.Label + psi(float64(r.IntN(20)))
	if r.IntN(5) == 0 {
		w.Gauge = measure.Gauge[unit.Pressure]{}
	}
	if r.IntN(2) == 0 {
		w.Conditions.Here = fahrenheit(float64(r.IntN(120) - 20))
		if r.IntN(2) == 0 {
			w.Conditions.Outside = fahrenheit(float64(r.IntN(120) - 20))
		}
	}
	if r.IntN(2) == 0 {
		w.Source = Source(1 + r.IntN(3))
		w.Temperature = fahrenheit(float64(20 + r.IntN(120)))
	}
	w.Found = psi(float64(r.IntN(150)))
	return w
}

// TestLowerIsNeverBetter: of two pressures at or below the label, as read and
// cold, the lower is never judged less urgent, nor given air where the higher is
// not.
func TestLowerIsNeverBetter(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	rank := func(x Result) int {
		if u := worst(x); u != 0 {
			return int(finding.Note) - int(u)
		}
		return -1
	}
	for range 60_000 {
		high := random(r)
		high.Found = min(high.Found, high.Label)
		low := high
		low.Found -= psi(float64(1+r.IntN(60)) / 4)
		low.Found = max(low.Found, 0)
		a, b := Judge(high), Judge(low)
		if a.Cold.Value.Of > high.Label {
			continue
		}
		if rank(b) < rank(a) {
			t.Fatalf("%v\nat %.2f psi: %v\nat %.2f psi: %v", high, high.Found.In(unit.PSI), codes(a.Findings), low.Found.In(unit.PSI), codes(b.Findings))
		}
		for _, f := range []struct{ a, b bool }{{a.NoAir, b.NoAir}, {a.Demount, b.Demount}, {a.Deflate, b.Deflate}, {a.RestrainingDevice, b.RestrainingDevice}} {
			if f.a && !f.b {
				t.Fatalf("%v\nat %.2f psi: %s\nat %.2f psi: %s", high, high.Found.In(unit.PSI), flags(a), low.Found.In(unit.PSI), flags(b))
			}
		}
	}
}

// TestNobodyBleedsAWarmTire: unless it was read cold, nothing is ever set below
// what the tire reads; and nothing is set below the label.
func TestNobodyBleedsAWarmTire(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	set := 0
	for range 60_000 {
		w := random(r)
		j := Judge(w)
		if j.Target.Show == 0 {
			continue
		}
		set++
		if j.Cold.Basis != finding.FactInflationBasisCold && j.Target.Show < w.Found {
			t.Fatalf("%v\nreads %.2f psi, not cold, set to %.2f", w, w.Found.In(unit.PSI), j.Target.Show.In(unit.PSI))
		}
		if j.Target.Show < w.Label {
			t.Fatalf("%v\nset to %.2f psi", w, j.Target.Show.In(unit.PSI))
		}
		if j.Target.Show > w.Sidewall && j.Cold.Basis != finding.FactInflationBasisSensor {
			t.Fatalf("%v\nset to %.2f psi, over the sidewall figure, without a sensor", w, j.Target.Show.In(unit.PSI))
		}
		if j.NoAir {
			t.Fatalf("%v\ngets air though it must not", w)
		}
	}
	if set < 1000 {
		t.Errorf("only %d targets tried", set)
	}
}

// TestUnitsChangeNothing: the same wheel read in kPa or bar gets the same answer.
func TestUnitsChangeNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 17))
	for range 20_000 {
		w := random(r)
		u := []unit.Unit{unit.Kilopascals, unit.Bar}[r.IntN(2)]
		again := func(p unit.Pressure) unit.Pressure { return unit.MustPressure(p.In(u), u) }
		m := w
		m.Found, m.Label, m.Sidewall, m.Read = again(w.Found), again(w.Label), again(w.Sidewall), u
		if w.Temperature != 0 {
			m.Temperature = unit.MustTemperature(w.Temperature.In(unit.Celsius), unit.Celsius)
		}
		a, b := Judge(w), Judge(m)
		if !slices.Equal(codes(a.Findings), codes(b.Findings)) || flags(a) != flags(b) || a.Target.Why != b.Target.Why {
			t.Fatalf("%v\nin psi: %v %s %s\nin %v: %v %s %s", w, codes(a.Findings), flags(a), a.Target.Why, u, codes(b.Findings), flags(b), b.Target.Why)
		}
		for i := range a.Findings {
			if a.Findings[i].Outcome != b.Findings[i].Outcome || a.Findings[i].Urgency != b.Findings[i].Urgency {
				t.Fatalf("%v\n%+v\n%+v", w, a.Findings[i], b.Findings[i])
			}
		}
	}
}
