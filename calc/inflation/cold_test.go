package inflation_test

import (
	"math"
	"testing"
	"time"

	"gaugebook.dev/calc/finding"
	. "gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

func miles(n float64) unit.Distance { return unit.MustDistance(n, unit.Miles) }

// TestGaugeOf: accuracies by kind of gauge, common practice, from memory.
func TestGaugeOf(t *testing.T) {
	var none measure.Gauge[unit.Pressure]
	for kind, accuracy := range map[GaugeKind]float64{Digital: 1, Dial: 1, Stick: 2, Inflator: 3, TPMS: 1.5, GaugeNotTold: 2, 200: 2} {
		g := GaugeOf(kind, none)
		if g.Accuracy != psi(accuracy) || g.Resolution != psi(1) || g.Repeatability != 0 {
			t.Errorf("kind %d: %+v", kind, g)
		}
	}
	told := measure.Gauge[unit.Pressure]{Resolution: psi(0.1), Accuracy: psi(0.5), Repeatability: psi(0.2)}
	if g := GaugeOf(Inflator, told); g != told {
		t.Errorf("what was told is changed: %+v", g)
	}
	told.Accuracy = 0
	if g := GaugeOf(Digital, told); g.Accuracy != psi(1) || g.Resolution != psi(0.1) {
		t.Errorf("a finer display made a better gauge: %+v", g)
	}
}

// TestCold: what counts as cold is owner's information on cold pressure (3
// hours, 1 mile); the rise by driving and the temperature sources are common
// practice; conversions are the gas law at sea level.
func TestCold(t *testing.T) {
	car := Wheel{Class: layout.PassengerCar, Found: psi(33), Read: unit.PSI}
	heavy := Wheel{Class: layout.Heavy, Body: sidewall.SteelBody, Found: psi(110), Read: unit.PSI}
	with := func(w Wheel, c Conditions) Wheel { w.Conditions = c; return w }
	at := func(w Wheel, degrees float64, s Source) Wheel {
		w.Temperature, w.Source = fahrenheit(degrees), s
		return w
	}
	drove := Conditions{DrivenHere: finding.Yes, Distance: miles(12)}
	drove60 := drove
	drove60.Here = fahrenheit(60)
	law := func(p, from, to float64) float64 {
		return (p+14.6959488)*(to+459.67)/(from+459.67) - 14.6959488
	}
	celsius := 9.0 / 5 // °F
	for _, c := range []struct {
		name      string
		w         Wheel
		basis     finding.Fact
		low, high float64 // psi
		center    float64 // psi
		about     bool
	}{
		{"stood 3 hours", with(car, Conditions{DrivenHere: finding.Yes, Parked: 3 * time.Hour}), finding.FactInflationBasisCold, 33, 33, 33, false},
		{"stood not quite 3 hours", with(car, Conditions{DrivenHere: finding.Yes, Parked: 179 * time.Minute}), finding.FactInflationBasisWarm, 27, 31, 29, true},
		{"not driven here", with(car, Conditions{DrivenHere: finding.No}), finding.FactInflationBasisCold, 33, 33, 33, false},
		{"driven 0.9 mi", with(car, Conditions{DrivenHere: finding.Yes, Distance: miles(0.9)}), finding.FactInflationBasisCold, 33, 33, 33, false},
		{"driven 1 mi", with(car, Conditions{DrivenHere: finding.Yes, Distance: miles(1)}), finding.FactInflationBasisWarm, 27, 31, 29, true},
		{"driven, distance not told", with(car, Conditions{DrivenHere: finding.Yes}), finding.FactInflationBasisWarm, 27, 31, 29, true},
		{"nothing told", car, finding.FactInflationBasisNotTold, 27, 33, 30, true},
		{"asked, nobody knows", with(car, Conditions{DrivenHere: finding.NotKnown}), finding.FactInflationBasisNotTold, 27, 33, 30, true},
		{"not driven, in the sun", with(car, Conditions{DrivenHere: finding.No, Sun: finding.Yes}), finding.FactInflationBasisSun, 27, 33, 30, true},
		{"truck, driven", with(heavy, drove), finding.FactInflationBasisWarm, 95, 100, 97.5, true},
		{"truck, nothing told", heavy, finding.FactInflationBasisNotTold, 95, 110, 102.5, true},
		{"sensor", at(with(car, drove60), 95, Sensor), finding.FactInflationBasisSensor, law(33, 95+3*celsius, 60), law(33, 95-3*celsius, 60), law(33, 95, 60), false},
		{"infrared", at(with(car, drove60), 95, Infrared), finding.FactInflationBasisInfrared, law(33, 95+10*celsius, 60), law(33, 95-10*celsius, 60), law(33, 95, 60), true},
		{"from the drive", at(with(car, drove60), 95, FromDrive), finding.FactInflationBasisDrive, law(33, 95+15*celsius, 60), law(33, 95-15*celsius, 60), law(33, 95, 60), true},
		{"temperature, but not how warm it is outside", at(with(car, drove), 95, Sensor), finding.FactInflationBasisWarm, 27, 31, 29, true},
		{"sensor against cold as told", at(with(car, Conditions{DrivenHere: finding.No, Here: fahrenheit(60)}), 95, Sensor), finding.FactInflationBasisSensor, law(33, 95+3*celsius, 60), law(33, 95-3*celsius, 60), law(33, 95, 60), false},
		{"sensor agrees that it is cold", at(with(car, Conditions{DrivenHere: finding.No, Here: fahrenheit(60)}), 64, Sensor), finding.FactInflationBasisCold, 33, 33, 33, false},
		{"infrared does not outrank cold", at(with(car, Conditions{DrivenHere: finding.No, Here: fahrenheit(60)}), 70, Infrared), finding.FactInflationBasisCold, 33, 33, 33, false},
		{"overnight in a heated bay", with(car, Conditions{DrivenHere: finding.No, Here: fahrenheit(70), Outside: fahrenheit(20)}), finding.FactInflationBasisBay, law(33, 70+3*celsius, 20), law(33, 70-3*celsius, 20), law(33, 70, 20), true},
		{"an hour in a heated bay", with(car, Conditions{DrivenHere: finding.No, Parked: time.Hour, Here: fahrenheit(70), Outside: fahrenheit(20)}), finding.FactInflationBasisBay, law(33, 70, 20), 33, (law(33, 70, 20) + 33) / 2, true},
		{"a bay cooler than outside is not credited", with(car, Conditions{DrivenHere: finding.No, Here: fahrenheit(70), Outside: fahrenheit(95)}), finding.FactInflationBasisCold, 33, 33, 33, false},
		{"nothing told, in a heated bay", with(car, Conditions{Here: fahrenheit(70), Outside: fahrenheit(-20)}), finding.FactInflationBasisNotTold, law(33, 70, -20), 33, (law(33, 70, -20) + 33) / 2, true},
		{"driven into a heated bay", with(car, Conditions{DrivenHere: finding.Yes, Here: fahrenheit(70), Outside: fahrenheit(20)}), finding.FactInflationBasisWarm, 27, 31, 29, true},
	} {
		got := c.w.Cold()
		if got.Basis != c.basis || got.About != c.about {
			t.Errorf("%s: %s, about %v; want %s, %v", c.name, got.Basis, got.About, c.basis, c.about)
		}
		for _, n := range []struct {
			what      string
			got, want float64
		}{
			{"low", got.Low.In(unit.PSI), c.low}, {"high", got.High.In(unit.PSI), c.high}, {"center", got.Value.Of.In(unit.PSI), c.center},
		} {
			if math.Abs(n.got-n.want) > 1e-4 {
				t.Errorf("%s: %s %.4f psi, want %.4f", c.name, n.what, n.got, n.want)
			}
		}
		// JCGM 100:2008, 4.3.7: a rectangular distribution of half-width a has a/√3.
		half := (c.high - c.low) / 2 / math.Sqrt(3)
		if std := unit.Pressure(got.Value.Std).In(unit.PSI); math.Abs(std-half) > 1e-4 {
			t.Errorf("%s: standard uncertainty %.4f psi, want %.4f", c.name, std, half)
		}
	}
	if got := (Wheel{}).Cold(); got != (Cold{}) {
		t.Errorf("no reading: %+v", got)
	}

	// The gauge's part adds in squares.
	car.Gauge = GaugeOf(Digital, measure.Gauge[unit.Pressure]{})
	car.Conditions = drove
	want := math.Sqrt(1.0/12 + 1.0/3 + 4.0/3)
	if std := unit.Pressure(car.Cold().Value.Std).In(unit.PSI); math.Abs(std-want) > 1e-9 {
		t.Errorf("driven, digital gauge: %.4f psi, want %.4f", std, want)
	}

	// At higher pressures the light figures grow with the absolute pressure.
	light := Wheel{Class: layout.LightTruck, Body: sidewall.FabricBody, Found: psi(80), Read: unit.PSI, Conditions: drove}
	factor := (80 + 14.6959488) / (33 + 14.6959488)
	if got := (light.Found - light.Cold().Low).In(unit.PSI); math.Abs(got-6*factor) > 1e-6 {
		t.Errorf("at 80 psi the rise is at most %.3f psi, want %.3f", got, 6*factor)
	}
	light.Found = psi(10)
	if got := (light.Found - light.Cold().High).In(unit.PSI); math.Abs(got-2) > 1e-9 {
		t.Errorf("at 10 psi the rise is at least %.3f psi, want 2", got)
	}
	light.Found = psi(1)
	if got := light.Cold(); got.Low != 0 {
		t.Errorf("more taken off than it holds: %v", got.Low.In(unit.PSI))
	}
}

// TestSetNow: the label is a cold figure; a warm tire has to show more.
func TestSetNow(t *testing.T) {
	law := func(p, from, to float64) float64 {
		return (p+14.6959488)*(to+459.67)/(from+459.67) - 14.6959488
	}
	drove := Conditions{DrivenHere: finding.Yes, Distance: miles(12), Here: fahrenheit(60)}
	car := Wheel{Class: layout.PassengerCar, Found: psi(28), Read: unit.PSI, Label: psi(33), Conditions: drove}
	van := Wheel{Class: layout.LightTruck, Body: sidewall.FabricBody, Found: psi(70), Read: unit.PSI, Label: psi(80), Sidewall: psi(80), Conditions: drove}
	with := func(w Wheel, f func(*Wheel)) Wheel { f(&w); return w }
	hot := func(s Source) func(*Wheel) {
		return func(w *Wheel) { w.Temperature, w.Source = fahrenheit(110), s }
	}
	for _, c := range []struct {
		name   string
		w      Wheel
		show   float64 // psi, 0: none
		why    finding.Target
		finish bool
	}{
		{"cold: the label", with(car, func(w *Wheel) { w.Conditions = Conditions{DrivenHere: finding.No} }), 33, finding.TargetLabel, false},
		{"warm by sensor: the gas law", with(car, hot(Sensor)), law(33, 60, 110), finding.TargetConverted, false},
		{"warm by infrared: the gas law, finished cold", with(car, hot(Infrared)), law(33, 60, 110), finding.TargetConverted, true},
		{"driven, no temperature: the middle of 2 to 6 psi (common practice)", car, 37, finding.TargetWarm, true},
		{"nothing told: the label, checked cold", with(car, func(w *Wheel) { w.Conditions = Conditions{} }), 33, finding.TargetLabel, true},
		{"heated bay for a cold morning", with(car, func(w *Wheel) {
			w.Conditions = Conditions{DrivenHere: finding.No, Here: fahrenheit(70), Outside: fahrenheit(20)}
		}), law(33, 20, 70), finding.TargetConverted, true},
		{"cool bay for a hot day: upward only", with(car, func(w *Wheel) {
			w.Conditions = Conditions{DrivenHere: finding.No, Here: fahrenheit(70), Outside: fahrenheit(100)}
		}), 33, finding.TargetLabel, false},
		{"tire colder than outside by sensor: never under the label", with(car, func(w *Wheel) {
			w.Temperature, w.Source = fahrenheit(30), Sensor
		}), 33, finding.TargetLabel, false},
		{"80 on the sidewall, warm, no sensor: stops there", van, 80, finding.TargetSidewall, true},
		{"80 on the sidewall, infrared: stops there", with(van, hot(Infrared)), 80, finding.TargetSidewall, true},
		{"80 on the sidewall, by sensor: 89 at 110 °F", with(van, hot(Sensor)), law(80, 60, 110), finding.TargetConverted, false},
		{"no label: none", with(car, func(w *Wheel) { w.Label = 0 }), 0, finding.TargetNoLabel, false},
	} {
		got := c.w.SetNow()
		if math.Abs(got.Show.In(unit.PSI)-c.show) > 1e-4 || got.Why != c.why || got.FinishCold != c.finish {
			t.Errorf("%s: %.3f psi, %s, finish cold %v; want %.3f, %s, %v", c.name, got.Show.In(unit.PSI), got.Why, got.FinishCold, c.show, c.why, c.finish)
		}
	}
}
