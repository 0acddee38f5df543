package sensor

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

func psi(n float64) unit.Pressure { return unit.MustPressure(n, unit.PSI) }

// Gauges of common practice (from memory): digital ±1 psi, sensor ±1.5 psi, both
// in steps of 1 psi.
var (
	digital = measure.Gauge[unit.Pressure]{Resolution: psi(1), Accuracy: psi(1)}
	inWheel = measure.Gauge[unit.Pressure]{Resolution: psi(1), Accuracy: psi(1.5)}
)

// read is a wheel with its sensor and a digital gauge, in psi.
func read(at string, sensor, gauge float64) Wheel {
	return Wheel{
		At: layout.MustParse(at), Gauge: digital.Read(psi(gauge)), In: unit.PSI,
		Sensor: &Reading{Answering: finding.Yes, Pressure: inWheel.Read(psi(sensor)), In: unit.PSI},
	}
}

func says(r Result) (all []string) {
	for _, f := range r.Findings {
		all = append(all, f.String())
	}
	return all
}

// JCGM 100:2008, 4.3.7 and 6.2.1: a rectangular distribution of half-width a has
// the standard uncertainty a/√3; what both can be off is 2 √(2 (1/12) + 1/3 +
// 1.5²/3) = 2.24 psi. Worked out by hand.
func TestWhatBothCanBeOff(t *testing.T) {
	u := 2 * math.Sqrt(2.0/12+1.0/3+1.5*1.5/3)
	if math.Abs(u-2.236) > 0.001 {
		t.Fatalf("%v", u)
	}
	for _, c := range []struct {
		sensor, gauge float64
		apart         bool
	}{
		{33, 33, false}, {35, 33, false}, {33 + u - 0.001, 33, false}, {33 + u + 0.001, 33, true}, {30, 33, true}, {31, 33, false},
	} {
		r := Judge(Direct, []Wheel{read("1L", c.sensor, c.gauge)})
		if got := slices.Contains(says(r), "sensor.differs:1L"); got != c.apart || len(r.Agree) == 1 == got {
			t.Errorf("sensor %v, gauge %v: %v, agree %v", c.sensor, c.gauge, says(r), r.Agree)
		}
	}
}

// At the very border two readings may agree: whole psi of a stick gauge (±2 psi)
// and a sensor give exactly 3 psi there, and kilopascals must say the same.
func TestTheBorderDoesNotDependOnTheUnit(t *testing.T) {
	stick := measure.Gauge[unit.Pressure]{Resolution: psi(1), Accuracy: psi(2)}
	for n := 20.0; n < 60; n++ {
		for _, u := range []unit.Unit{unit.PSI, unit.Kilopascals, unit.Bar} {
			for _, v := range []unit.Unit{unit.PSI, unit.Kilopascals, unit.Bar} {
				a, b := unit.MustPressure(psi(n).In(u), u), unit.MustPressure(psi(n+3).In(v), v)
				if Apart(inWheel.Read(a), stick.Read(b)) || Apart(stick.Read(b), inWheel.Read(a)) {
					t.Errorf("%v and %v psi, in %v and %v, are apart", n, n+3, u, v)
				}
			}
		}
	}
}

// What sensors and gauge say together (common practice).
func TestPlaces(t *testing.T) {
	shown := func(at, shown string, sensor, gauge float64) Wheel {
		w := read(at, sensor, gauge)
		w.Sensor.ShownAt = layout.MustParse(shown)
		return w
	}
	for _, c := range []struct {
		name   string
		wheels []Wheel
		want   []string
	}{
		{"all agree", []Wheel{read("1L", 33, 33), read("1R", 34, 33), read("2L", 33, 32), read("2R", 33, 33)}, nil},
		{"the sensor says left front is low, the gauge says right rear is",
			[]Wheel{read("1L", 24, 33), read("1R", 33, 33), read("2L", 33, 33), read("2R", 33, 24)}, []string{"sensor.not-learned:1L,2R"}},
		{"four dealt round",
			[]Wheel{read("1L", 40, 32), read("1R", 36, 40), read("2L", 44, 36), read("2R", 32, 44)}, []string{"sensor.not-learned:1L,1R,2L,2R"}},
		{"two mixed and a third off by itself",
			[]Wheel{read("1L", 24, 33), read("1R", 33, 24), read("2L", 50, 33), read("2R", 33, 33)}, []string{"sensor.not-learned:1L,1R", "sensor.differs:2L"}},
		{"one off", []Wheel{read("1L", 24, 33), read("1R", 33, 33)}, []string{"sensor.differs:1L"}},
		{"shown elsewhere at equal pressures", []Wheel{shown("1L", "2R", 33, 33), shown("2R", "1L", 33, 33), shown("1R", "1R", 33, 33)}, []string{"sensor.not-learned:1L,2R"}},
		{"shown where it is", []Wheel{shown("1L", "1L", 33, 33)}, nil},
		{"all off alike: the gauge", []Wheel{read("1L", 38, 33), read("1R", 38, 33), read("2L", 40, 35), read("2R", 39, 35)}, []string{"sensor.all-differ-alike:1L,1R,2L,2R"}},
		{"two off alike are two", []Wheel{read("1L", 38, 33), read("1R", 38, 33)}, []string{"sensor.differs:1L", "sensor.differs:1R"}},
		{"all off, not alike", []Wheel{read("1L", 38, 33), read("1R", 48, 33), read("2L", 60, 35)}, []string{"sensor.differs:1L", "sensor.differs:1R", "sensor.differs:2L"}},
		{"all off, to both sides", []Wheel{read("1L", 38, 33), read("1R", 28, 33), read("2L", 38, 33)}, []string{"sensor.differs:1L", "sensor.differs:1R", "sensor.differs:2L"}},
		{"three off alike and one right are no gauge", []Wheel{read("1L", 38, 33), read("1R", 38, 33), read("2L", 38, 33), read("2R", 33, 33)},
			[]string{"sensor.differs:1L", "sensor.differs:1R", "sensor.differs:2L"}},
	} {
		if got := says(Judge(Direct, c.wheels)); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// A sensor by itself, on each kind of system (common practice). An indirect one
// has none to be silent.
func TestAnswers(t *testing.T) {
	for _, c := range []struct {
		kind   Kind
		sensor Reading
		want   []string
		ask    bool
	}{
		{Direct, Reading{Answering: finding.No}, []string{"sensor.not-answering:1L"}, false},
		{KindNotTold, Reading{Answering: finding.No}, []string{"sensor.not-answering:1L"}, false},
		{Direct, Reading{Answering: finding.NotKnown}, nil, false},
		{Direct, Reading{}, nil, false},
		{Direct, Reading{Answering: finding.Yes, BatteryLow: true}, []string{"sensor.battery-low:1L"}, false},
		{Indirect, Reading{Answering: finding.No}, nil, false},
		{None, Reading{Answering: finding.Yes}, nil, true},
		{Indirect, Reading{Pressure: inWheel.Read(psi(33)), In: unit.PSI}, nil, true},
		{Direct, Reading{Answering: finding.No, Pressure: inWheel.Read(psi(33)), In: unit.PSI}, nil, false},
	} {
		r := Judge(c.kind, []Wheel{{At: layout.MustParse("1L"), Sensor: &c.sensor}})
		if got := says(r); !slices.Equal(got, c.want) || r.Ask != c.ask {
			t.Errorf("kind %d, %+v: %v, asks %v", c.kind, c.sensor, got, r.Ask)
		}
		for _, f := range r.Findings {
			if f.Urgency != finding.Plan {
				t.Errorf("%s: urgency %d", f, f.Urgency)
			}
		}
	}
}

func TestDifferenceIsTold(t *testing.T) {
	f := Judge(Direct, []Wheel{read("1L", 27, 33)}).Findings[0]
	if f.Measured != (unit.Amount{Number: 6, Unit: unit.PSI}) || f.Limit != (unit.Amount{Number: 2.2, Unit: unit.PSI}) ||
		f.Margin != (unit.Amount{Number: 3.8, Unit: unit.PSI}) || f.Outcome != measure.Above || f.Urgency != finding.ThisVisit || f.ToSettle != finding.SettleSecondGauge {
		t.Errorf("%+v", f)
	}
	if f.Evidence[0].Amount.Number != 27 || f.Evidence[1].Amount.Number != 33 {
		t.Errorf("%+v", f.Evidence)
	}
	all := Judge(Direct, []Wheel{read("1L", 38, 33), read("1R", 38, 33), read("2L", 38, 33)}).Findings[0]
	if all.Evidence[0].Amount != (unit.Amount{Number: 5, Unit: unit.PSI}) {
		t.Errorf("%+v", all.Evidence)
	}
}

// Order changes nothing, and the mirrored vehicle has the mirrored findings.
func TestOrderAndMirror(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var ws []Wheel
		for _, at := range []string{"1L", "1R", "2L", "2R"} {
			n := rapid.SampledFrom([]float64{24, 28, 33, 33, 33, 40})
			w := read(at, n.Draw(t, "sensor"), n.Draw(t, "gauge"))
			if rapid.IntRange(0, 3).Draw(t, "shown") == 0 {
				w.Sensor.ShownAt = layout.MustParse(rapid.SampledFrom([]string{"1L", "1R", "2L", "2R"}).Draw(t, "at"))
			}
			ws = append(ws, w)
		}
		r := Judge(Direct, ws)
		want := says(r)
		other, mirrored := slices.Clone(ws), slices.Clone(ws)
		rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "order"), 1)).Shuffle(len(other), func(i, k int) { other[i], other[k] = other[k], other[i] })
		if got := says(Judge(Direct, other)); !slices.Equal(got, want) {
			t.Fatalf("in another order %v, not %v", got, want)
		}
		for i := range mirrored {
			s := *mirrored[i].Sensor
			mirrored[i].At, s.ShownAt = mirrored[i].At.Mirror(), s.ShownAt.Mirror()
			mirrored[i].Sensor = &s
		}
		var back []string
		for _, f := range Judge(Direct, mirrored).Findings {
			for i := range f.Positions {
				f.Positions[i] = f.Positions[i].Mirror()
			}
			slices.SortFunc(f.Positions, layout.Position.Compare)
			back = append(back, f.String())
		}
		slices.Sort(back)
		slices.Sort(want)
		if !slices.Equal(back, want) {
			t.Fatalf("mirrored %v, not %v", back, want)
		}
	})
}
