package questions

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// reading is a wheel that was read at so much, and has so deep a tread.
func reading(at string, n float64, u unit.Unit, depths ...unit.Amount) visit.Wheel {
	w := visit.Wheel{Position: layout.MustParse(at)}
	if u != unit.None {
		w.Pressure = visit.Pressure{Of: unit.MustPressure(n, u), Read: u}
	}
	for i, d := range depths {
		w.Depths = append(w.Depths, tread.Reading{Depth: unit.MustDepth(d.Number, d.Unit), AsRead: d, Across: layout.Inboard + layout.Across(i)})
	}
	return w
}

func doubtsOf(fs []finding.Finding) (all []string) {
	for _, f := range fs {
		s := string(f.Code)
		for _, p := range f.Positions {
			s += " " + p.String()
		}
		all = append(all, s)
	}
	slices.Sort(all)
	return all
}

// A pressure is asked about where it is under half or over 1.6 of the label's 33 psi, and
// another unit makes of it 0.75 to 1.35 of that; not where another wheel shows that the
// gauge reads in its unit, or something speaks for a flat tire (common practice).
func TestPressuresThatAreNone(t *testing.T) {
	car := layout.Vehicle{Class: layout.PassengerCar, Axles: []layout.Axle{
		{ColdNormal: psi(33), LabelUnit: unit.PSI}, {ColdNormal: psi(33), LabelUnit: unit.PSI},
	}}
	asked := []string{"doubt.pressure-unit 1L"}
	none := visit.Wheel{Position: layout.MustParse("1R")}
	driven := func(w visit.Wheel) visit.Wheel { w.DrivenLow.Driven = finding.Yes; return w }
	seen := func(w visit.Wheel, o finding.Observation) visit.Wheel {
		w.Observations = []visit.Observation{{Kind: o}}
		return w
	}
	for _, c := range []struct {
		name  string
		wheel visit.Wheel
		other visit.Wheel
		want  []string
	}{
		{"33 psi", reading("1L", 33, unit.PSI), none, nil},
		{"not read", reading("1L", 0, unit.None), none, nil},
		{"230 psi: of kPa", reading("1L", 230, unit.PSI), none, asked},
		{"33 kPa: of psi", reading("1L", 33, unit.Kilopascals), none, asked},
		{"2.3 psi: of bar", reading("1L", 2.3, unit.PSI), none, asked},
		{"171 psi: 24.8 psi by kPa, 0.75 of the label", reading("1L", 171, unit.PSI), none, asked},
		{"170 psi: less", reading("1L", 170, unit.PSI), none, nil},
		{"307 psi: 44.5 psi by kPa, 1.35 of the label", reading("1L", 307, unit.PSI), none, asked},
		{"445 psi: its point lost", reading("1L", 445, unit.PSI), none, asked},
		{"446 psi: more", reading("1L", 446, unit.PSI), none, nil},
		{"12 psi is low", reading("1L", 12, unit.PSI), none, nil},
		{"another wheel reads 30 psi", reading("1L", 230, unit.PSI), reading("1R", 30, unit.PSI), nil},
		{"another reads 52.8 psi, 1.6 of the label", reading("1L", 230, unit.PSI), reading("1R", 52.8, unit.PSI), nil},
		{"another reads 53 psi", reading("1L", 230, unit.PSI), reading("1R", 53, unit.PSI), asked},
		{"another reads 16.5 psi, half the label", reading("1L", 230, unit.PSI), reading("1R", 16.5, unit.PSI), nil},
		{"another reads 16 psi", reading("1L", 230, unit.PSI), reading("1R", 16, unit.PSI), asked},
		{"another reads in another unit", reading("1L", 230, unit.PSI), reading("1R", 230, unit.Kilopascals), asked},
		{"the spare alone reads so", reading("1L", 230, unit.PSI), reading("S", 33, unit.PSI), asked},
		{"driven low", driven(reading("1L", 33, unit.Kilopascals)), none, nil},
		{"seen flat", seen(reading("1L", 33, unit.Kilopascals), finding.ObservedFlat), none, nil},
		{"a nail in it", seen(reading("1L", 33, unit.Kilopascals), finding.ObservedObjectInTread), none, nil},
		{"something else seen", seen(reading("1L", 33, unit.Kilopascals), finding.ObservedScalloped), none, asked},
	} {
		in := DoubtsIn{Labels: visit.Labels{Vehicle: car}, Wheels: []visit.Wheel{c.wheel, c.other}}
		out := Doubts(in)
		if got := doubtsOf(out.Findings); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
		if left := out.Wheels[0].Pressure.Read != unit.None; left != (c.want == nil && c.wheel.Pressure.Read != unit.None) {
			t.Errorf("%s: judged %v", c.name, left)
		}
		if in.Wheels[0].Pressure != c.wheel.Pressure {
			t.Errorf("%s: the visit has changed", c.name)
		}
		c.wheel.Pressure, c.wheel.PressureLeft = visit.Pressure{}, c.wheel.Pressure
		out = Doubts(DoubtsIn{Labels: visit.Labels{Vehicle: car}, Wheels: []visit.Wheel{c.wheel}})
		if left := out.Wheels[0].PressureLeft.Read == unit.None; left != (len(out.Findings) > 0 || c.wheel.PressureLeft.Read == unit.None) {
			t.Errorf("%s, as left: judged %v, asked %v", c.name, !left, out.Findings)
		}
	}
}

// A label that no vehicle of the class has is asked about once for its axle, and judged by
// nobody (common practice: a car's stand between 20 and 65 psi).
func TestLabelsThatAreNone(t *testing.T) {
	for _, c := range []struct {
		name         string
		normal, full float64
		u            unit.Unit
		want         []string
	}{
		{"33 psi", 33, 0, unit.PSI, nil},
		{"65 psi", 33, 65, unit.PSI, nil},
		{"230 psi", 230, 0, unit.PSI, []string{"doubt.label-unit 2L 2R"}},
		{"230 psi, and 250 for full load", 230, 250, unit.PSI, []string{"doubt.label-unit 2L 2R"}},
		{"33 psi, and 250 for full load", 33, 250, unit.PSI, []string{"doubt.label-unit 2L 2R"}},
		{"33 kPa", 33, 0, unit.Kilopascals, []string{"doubt.label-unit 2L 2R"}},
		{"none", 0, 0, unit.PSI, nil},
	} {
		axle := layout.Axle{LabelUnit: c.u}
		if c.normal > 0 {
			axle.ColdNormal = unit.MustPressure(c.normal, c.u)
		}
		if c.full > 0 {
			axle.ColdFull = unit.MustPressure(c.full, c.u)
		}
		axles := []layout.Axle{{ColdNormal: psi(33), LabelUnit: unit.PSI}, axle}
		out := Doubts(DoubtsIn{Labels: visit.Labels{Vehicle: layout.Vehicle{Class: layout.PassengerCar, Axles: axles}}})
		if got := doubtsOf(out.Findings); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
		if out.Axles[0] != axles[0] || (out.Axles[1] == axle) != (c.want == nil) || axles[1] != axle {
			t.Errorf("%s: judged by %+v", c.name, out.Axles)
		}
	}
}

// A depth of one wheel in another unit than the rest is asked about where its number is
// near theirs in their unit, and it is not near as it was read.
func TestDepthsThatAreNone(t *testing.T) {
	in32 := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.ThirtySecondsInch} }
	mm := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.Millimeters} }
	rest := func(n float64) []visit.Wheel {
		return []visit.Wheel{reading("1R", 0, unit.None, in32(n), in32(n), in32(n)), reading("2L", 0, unit.None, in32(n), in32(n), in32(n)), reading("2R", 0, unit.None, in32(n), in32(n), in32(n))}
	}
	for _, c := range []struct {
		name   string
		depths []unit.Amount
		of     float64
		want   []string
	}{
		{"7 mm among 7/32", []unit.Amount{mm(7), mm(7), mm(7)}, 7, []string{"doubt.depth-unit 1L"}},
		{"7/32 among 7/32", []unit.Amount{in32(7), in32(7), in32(7)}, 7, nil},
		{"5.5 mm is 7/32", []unit.Amount{mm(5.5), mm(5.5), mm(5.5)}, 7, nil},
		{"6.5 mm among 7/32, as a half", []unit.Amount{mm(6.5), mm(6.5), mm(6.5)}, 7, []string{"doubt.depth-unit 1L"}},
		{"6.7 mm: no gauge of thirty-seconds shows it", []unit.Amount{mm(6.7), mm(6.7), mm(6.7)}, 7, nil},
		{"6 mm among 7/32: a whole thirty-second off", []unit.Amount{mm(6), mm(6), mm(6)}, 7, nil},
		{"4 mm among 7/32", []unit.Amount{mm(4), mm(4), mm(4)}, 7, nil},
		{"1 mm among 1/32: near as it was read", []unit.Amount{mm(1), mm(1), mm(1)}, 1, nil},
		{"32 mm: no tire of a car has it", []unit.Amount{mm(32), mm(32), mm(32)}, 7, []string{"doubt.depth-unit 1L"}},
	} {
		wheels := append([]visit.Wheel{reading("1L", 0, unit.None, c.depths...)}, rest(c.of)...)
		out := Doubts(DoubtsIn{Labels: visit.Labels{Vehicle: layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}}, Wheels: wheels})
		if got := doubtsOf(out.Findings); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
		if judged := len(out.Wheels[0].Depths) > 0; judged != (c.want == nil) || len(wheels[0].Depths) != 3 || len(out.Wheels[1].Depths) != 3 {
			t.Errorf("%s: judged %v", c.name, judged)
		}
	}
}

// What a tire's markings cannot be as they are written is asked about: a date to come, a
// week that no year has, symbols that no number has, once, and a rim of no size.
func TestMarkingsThatCannotBe(t *testing.T) {
	for _, c := range []struct {
		name string
		tire visit.Tire
		want []string
	}{
		{"as it should be", visit.Tire{Size: "225/60R16 98H", Made: sidewall.Made{Year: 2020, Week: 10}}, nil},
		{"a date to come", visit.Tire{Misread: []sidewall.Problem{{Code: sidewall.InFuture, Made: sidewall.Made{Year: 2031, Week: 5}}}}, []string{"doubt.made-later 1L"}},
		{"week 61", visit.Tire{Misread: []sidewall.Problem{{Code: sidewall.NoSuchWeek, Number: 61}}}, []string{"doubt.no-such-week 1L"}},
		{"two symbols", visit.Tire{Misread: []sidewall.Problem{{Code: sidewall.NotInDate, At: 2}, {Code: sidewall.NotInDate, At: 3}}}, []string{"doubt.symbol 1L"}},
		{"week 53 of a year without one", visit.Tire{Made: sidewall.Made{Year: 2022, Week: 53}}, []string{"doubt.no-such-week 1L"}},
		{"week 53 of a year with one", visit.Tire{Made: sidewall.Made{Year: 2023, Week: 53}}, nil},
		{"a rim of 61 inches", visit.Tire{Size: "225/60R61 98H"}, []string{"doubt.rim 1L"}},
	} {
		w := visit.Wheel{Position: layout.MustParse("1L"), Tire: c.tire}
		out := Doubts(DoubtsIn{Labels: visit.Labels{Vehicle: layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 1)}}, Wheels: []visit.Wheel{w}})
		if got := doubtsOf(out.Findings); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
		for _, f := range out.Findings {
			if f.ToSettle != finding.SettleSidewallAgain || len(f.Evidence) == 0 || f.Evidence[0].Amount.Number == 0 {
				t.Errorf("%s: %+v", c.name, f)
			}
		}
	}
}
