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

// Readings that are those of the visit before are asked about after 3,000 miles where the
// pressures are the same too, after 8,000 by the depths alone, and of trucks after 25,000
// (common practice, from memory): of two tires at least, and six readings.
func TestReadingsOfTheVisitBefore(t *testing.T) {
	in32 := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.ThirtySecondsInch} }
	was := func(at string, ago, psiFound float64, n ...float64) visit.Wheel {
		depths := []unit.Amount{in32(n[0]), in32(n[1]), in32(n[2])}
		w := reading(at, 30, unit.PSI, depths...)
		b := visit.Before{Ago: unit.MustDistance(ago, unit.Miles), At: w.Position, Depths: slices.Clone(w.Depths)}
		if psiFound > 0 {
			b.Found = visit.Pressure{Of: psi(psiFound), Read: unit.PSI}
		}
		w.Before = []visit.Before{b}
		return w
	}
	change := func(w visit.Wheel, do func(*visit.Wheel)) visit.Wheel { do(&w); return w }
	both := func(ago, left, right float64) []visit.Wheel {
		return []visit.Wheel{was("1L", ago, left, 7, 8, 7), was("1R", ago, right, 6, 7, 6)}
	}
	earlier := func(ago, n float64) visit.Before {
		return visit.Before{Ago: unit.MustDistance(ago, unit.Miles), At: layout.MustParse("1L"), Depths: reading("1L", 0, unit.None, in32(n), in32(n), in32(n)).Depths}
	}
	for _, c := range []struct {
		name   string
		class  layout.Class
		wheels []visit.Wheel
		want   bool
	}{
		{"8,000 miles ago", layout.PassengerCar, both(8_000, 0, 0), true},
		{"less, by the depths alone", layout.PassengerCar, both(7_999, 0, 0), false},
		{"of a light truck", layout.LightTruck, both(8_000, 0, 0), true},
		{"of a truck", layout.Heavy, both(24_999, 0, 0), false},
		{"of a truck, 25,000", layout.Heavy, both(25_000, 0, 0), true},
		{"3,000 with the pressures", layout.PassengerCar, both(3_000, 30, 30), true},
		{"of a truck, with the pressures", layout.Heavy, both(3_000, 30, 30), true},
		{"less", layout.PassengerCar, both(2_999, 30, 30), false},
		{"one pressure is another", layout.PassengerCar, both(3_000, 30, 31), false},
		{"the other is", layout.PassengerCar, both(3_000, 31, 30), false},
		{"one pressure was read", layout.PassengerCar, both(3_000, 30, 0), false},
		{"pressures differ, and it is far", layout.PassengerCar, both(8_000, 31, 31), true},
		{"one tire alone", layout.PassengerCar, both(8_000, 0, 0)[:1], false},
		{"five readings", layout.PassengerCar, []visit.Wheel{was("1L", 8_000, 0, 7, 8, 7), change(was("1R", 8_000, 0, 6, 7, 6), func(w *visit.Wheel) {
			w.Depths, w.Before[0].Depths = w.Depths[:2], w.Before[0].Depths[:2]
		})}, false},
		{"one depth is another", layout.PassengerCar, []visit.Wheel{was("1L", 8_000, 0, 7, 8, 7), change(was("1R", 8_000, 0, 6, 7, 6), func(w *visit.Wheel) {
			w.Before[0].Depths[1] = tread.Reading{Across: layout.Center, Depth: unit.MustDepth(8, unit.ThirtySecondsInch)}
		})}, false},
		{"one tire stood elsewhere", layout.PassengerCar, []visit.Wheel{was("1L", 8_000, 0, 7, 8, 7), change(was("1R", 8_000, 0, 6, 7, 6), func(w *visit.Wheel) { w.Before[0].At = layout.MustParse("2R") })}, false},
		{"the visits before are two", layout.PassengerCar, []visit.Wheel{was("1L", 8_000, 0, 7, 8, 7), was("1R", 9_000, 0, 6, 7, 6)}, false},
		{"one has none before", layout.PassengerCar, []visit.Wheel{was("1L", 8_000, 0, 7, 8, 7), was("1R", 8_000, 0, 6, 7, 6), change(was("2L", 8_000, 0, 6, 7, 6), func(w *visit.Wheel) { w.Before = nil })}, false},
		{"one was not read today", layout.PassengerCar, append(both(8_000, 0, 0), change(was("2L", 8_000, 0, 6, 7, 6), func(w *visit.Wheel) { w.Depths = nil })), true},
		{"the spare is another", layout.PassengerCar, append(both(8_000, 0, 0), reading("S", 0, unit.None, in32(9))), true},
		{"the last of several", layout.PassengerCar, []visit.Wheel{change(was("1L", 8_000, 0, 7, 8, 7), func(w *visit.Wheel) {
			w.Before = append([]visit.Before{earlier(20_000, 9)}, append(w.Before, earlier(30_000, 10))...)
		}), was("1R", 8_000, 0, 6, 7, 6)}, true},
		{"a later one is not so", layout.PassengerCar, []visit.Wheel{change(was("1L", 8_000, 0, 7, 8, 7), func(w *visit.Wheel) { w.Before = append(w.Before, earlier(4_000, 8)) }), was("1R", 8_000, 0, 6, 7, 6)}, false},
		{"run since is not known", layout.PassengerCar, both(0, 30, 30), false},
	} {
		in := DoubtsIn{
			Labels: visit.Labels{Vehicle: layout.Vehicle{Class: c.class, Axles: make([]layout.Axle, 2)}}, Wheels: c.wheels,
			Odometers: []visit.Odometer{{Read: unit.Amount{Number: 60_000, Unit: unit.Miles}}, {Read: unit.Amount{Number: 80_000, Unit: unit.Kilometers}, Today: true}},
		}
		a := DoubtsAnswer{Wheels: c.wheels}
		a.copied(in)
		asked := slices.Equal(doubtsOf(a.Findings), []string{"doubt.readings-as-before 1L 1R"})
		if asked != c.want || a.Copied != c.want || len(a.Findings) > 0 != c.want {
			t.Errorf("%s: asked %v: %+v", c.name, asked, a.Findings)
		}
		if !asked {
			continue
		}
		f := a.Findings[0]
		if e := f.Evidence; f.ToSettle != finding.SettleReadTwice || len(e) != 1 || e[0].Code != finding.FactDoubtRun || e[0].Amount != c.wheels[1].Before[0].Ago.Amount(unit.Kilometers).Rounded() {
			t.Errorf("%s: %+v", c.name, f)
		}
	}
}

// One round pressure on all wheels of a vehicle with duals, which nobody says was read with
// a gauge, is asked about: a multiple of 5 psi, 50 kPa or half a bar, at four fifths of the
// label at least (common practice: an inner dual is thumped).
func TestOneRoundPressureOnDuals(t *testing.T) {
	all := []string{"1L", "1R", "2LO", "2LI", "2RI", "2RO"}
	dual := layout.Vehicle{Class: layout.Heavy, Axles: []layout.Axle{{ColdNormal: psi(110), LabelUnit: unit.PSI}, {ColdNormal: psi(110), LabelUnit: unit.PSI, Dual: true}}}
	labeled := func(n float64) layout.Vehicle {
		v := dual
		v.Axles = slices.Clone(dual.Axles)
		for i := range v.Axles {
			v.Axles[i].ColdNormal = psi(n)
		}
		return v
	}
	single := layout.Vehicle{Class: layout.Heavy, Axles: []layout.Axle{{ColdNormal: psi(110), LabelUnit: unit.PSI}, {ColdNormal: psi(110), LabelUnit: unit.PSI}}}
	read := func(n float64, u unit.Unit, names ...string) (ws []visit.Wheel) {
		for _, name := range names {
			ws = append(ws, reading(name, n, u))
		}
		return ws
	}
	with := func(ws []visit.Wheel, i int, do func(*visit.Wheel)) []visit.Wheel { do(&ws[i]); return ws }
	for _, c := range []struct {
		name   string
		v      layout.Vehicle
		wheels []visit.Wheel
		want   bool
	}{
		{"100 psi", dual, read(100, unit.PSI, all...), true},
		{"105 psi", dual, read(105, unit.PSI, all...), true},
		{"104 psi", dual, read(104, unit.PSI, all...), false},
		{"102 psi", dual, read(102, unit.PSI, all...), false},
		{"700 kPa", dual, read(700, unit.Kilopascals, all...), true},
		{"750 kPa", dual, read(750, unit.Kilopascals, all...), true},
		{"720 kPa", dual, read(720, unit.Kilopascals, all...), false},
		{"7 bar", dual, read(7, unit.Bar, all...), true},
		{"7.5 bar", dual, read(7.5, unit.Bar, all...), true},
		{"7.2 bar", dual, read(7.2, unit.Bar, all...), false},
		{"four fifths of the label", labeled(125), read(100, unit.PSI, all...), true},
		{"less: it is low, and was read", labeled(126), read(100, unit.PSI, all...), false},
		{"no label", labeled(0), read(100, unit.PSI, all...), true},
		{"no duals", single, read(100, unit.PSI, "1L", "1R", "2L", "2R"), false},
		{"one not reported", dual, read(100, unit.PSI, all[1:]...), false},
		{"one not read", dual, with(read(100, unit.PSI, all...), 3, func(w *visit.Wheel) { w.Pressure = visit.Pressure{} }), false},
		{"the first not read", dual, with(read(100, unit.PSI, all...), 0, func(w *visit.Wheel) { w.Pressure = visit.Pressure{} }), false},
		{"one is another", dual, with(read(100, unit.PSI, all...), 3, func(w *visit.Wheel) { w.Pressure.Of = psi(105) }), false},
		{"one in another unit", dual, with(read(100, unit.PSI, all...), 3, func(w *visit.Wheel) { w.Pressure.Read = unit.Bar }), false},
		{"of one the gauge is told", dual, with(read(100, unit.PSI, all...), 3, func(w *visit.Wheel) { w.Pressure.GaugeTold = true }), false},
		{"one seen flat", dual, with(read(100, unit.PSI, all...), 3, func(w *visit.Wheel) { w.Observations = []visit.Observation{{Kind: finding.ObservedFlat}} }), false},
		{"the spare is another", dual, append([]visit.Wheel{reading("S", 90, unit.PSI)}, read(100, unit.PSI, all...)...), true},
		{"nobody read", dual, nil, false},
	} {
		a := DoubtsAnswer{Wheels: c.wheels}
		a.thumped(visit.Labels{Vehicle: c.v})
		if asked := slices.Equal(doubtsOf(a.Findings), []string{"doubt.read-or-thumped 1L 1R 2LI 2LO 2RI 2RO"}); asked != c.want || len(a.Findings) > 0 != c.want {
			t.Errorf("%s: %q", c.name, doubtsOf(a.Findings))
		}
		if !c.want {
			continue
		}
		if f := a.Findings[0]; f.ToSettle != finding.SettleWithGauge || f.Measured != c.wheels[len(c.wheels)-1].Pressure.Of.Amount(c.wheels[len(c.wheels)-1].Pressure.Read).Rounded() {
			t.Errorf("%s: %+v", c.name, f)
		}
		for i, w := range a.Wheels {
			if w.Position.Spare == (w.Pressure.Read == unit.None) || c.wheels[i].Pressure.Read == unit.None {
				t.Errorf("%s: %v is judged by %+v", c.name, w.Position, w.Pressure)
			}
		}
	}
}

// What a doubt is asked by, and what it rests on: the number that came, what it was
// probably meant as, and what was said beside it.
func TestWhatADoubtRestsOn(t *testing.T) {
	in32 := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.ThirtySecondsInch} }
	mm := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.Millimeters} }
	count := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.Count} }
	inch := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.Inches} }
	miles := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.Miles} }
	day := func(m, d int) unit.Date { return unit.Date{Year: 2026, Month: m, Day: d} }
	axles := func(front, rear float64) []layout.Axle {
		return []layout.Axle{{ColdNormal: psi(front), LabelUnit: unit.PSI}, {ColdNormal: psi(rear), LabelUnit: unit.PSI}}
	}
	seen := func(w visit.Wheel, o finding.Observation) visit.Wheel {
		w.Observations = []visit.Observation{{Kind: o}}
		return w
	}
	marked := func(p ...sidewall.Problem) visit.Wheel {
		return visit.Wheel{Position: layout.MustParse("1L"), Tire: visit.Tire{Misread: p}}
	}
	same := visit.Wheel{Position: layout.MustParse("1L"), SameTire: true}
	rest := []visit.Wheel{reading("1L", 0, unit.None, mm(7), mm(7), mm(7))}
	for _, at := range []string{"1R", "2L", "2R"} {
		rest = append(rest, reading(at, 0, unit.None, in32(7), in32(7), in32(7)))
	}
	odometer := func(d unit.Date, n float64) visit.Odometer {
		return visit.Odometer{Of: unit.MustDistance(n, unit.Miles), Read: miles(n), Day: d}
	}
	for _, c := range []struct {
		name     string
		axles    []layout.Axle
		wheels   []visit.Wheel
		read     []visit.Odometer
		code     finding.Code
		measured unit.Amount
		settle   finding.Settle
		evidence []finding.Evidence
	}{
		{"230 psi", axles(33, 33), []visit.Wheel{reading("1L", 230, unit.PSI)}, nil, finding.DoubtPressureUnit,
			unit.Amount{Number: 230, Unit: unit.PSI}, finding.SettlePressureUnit, []finding.Evidence{{Code: finding.FactDoubtMeantPressure, Amount: unit.Amount{Number: 230, Unit: unit.Kilopascals}}}},
		{"a label of 230 psi", axles(230, 33), nil, nil, finding.DoubtLabelUnit,
			unit.Amount{Number: 230, Unit: unit.PSI}, finding.SettleLabelAgain, []finding.Evidence{{Code: finding.FactDoubtMeantPressure, Amount: unit.Amount{Number: 230, Unit: unit.Kilopascals}}}},
		{"7 mm among 7/32", axles(33, 33), rest, nil, finding.DoubtDepthUnit, mm(7), finding.SettleDepthUnit, []finding.Evidence{{Code: finding.FactDoubtMeantDepth, Amount: in32(7)}}},
		{"flat, and 30 psi", axles(33, 33), []visit.Wheel{seen(reading("1L", 30, unit.PSI), finding.ObservedFlat)}, nil, finding.DoubtFlatWithAir,
			unit.Amount{Number: 30, Unit: unit.PSI}, finding.SettleFlatOrAir, []finding.Evidence{{Code: finding.FactDoubtSeenFlat}}},
		{"at the bars, and 7/32", axles(33, 33), []visit.Wheel{seen(reading("1L", 0, unit.None, in32(7), in32(7), in32(7)), finding.ObservedAtWearBars)}, nil, finding.DoubtBarsWithTread,
			in32(7), finding.SettleBarsOrTread, []finding.Evidence{{Code: finding.FactDoubtSeenFlush}}},
		{"replaced, by the same tire", axles(33, 33), []visit.Wheel{same}, nil, finding.DoubtSameTire, unit.Amount{}, finding.SettleSameTire, []finding.Evidence{{Code: finding.FactDoubtToldReplaced}}},
		{"made in the future", axles(33, 33), []visit.Wheel{marked(sidewall.Problem{Code: sidewall.InFuture, Made: sidewall.Made{Year: 2031, Week: 5}})}, nil, finding.DoubtMadeLater,
			unit.Amount{}, finding.SettleSidewallAgain, []finding.Evidence{{Code: finding.FactDoubtWeek, Amount: count(5)}, {Code: finding.FactDoubtYear, Amount: count(2031)}}},
		{"week 61", axles(33, 33), []visit.Wheel{marked(sidewall.Problem{Code: sidewall.NoSuchWeek, Number: 61})}, nil, finding.DoubtNoSuchWeek,
			unit.Amount{}, finding.SettleSidewallAgain, []finding.Evidence{{Code: finding.FactDoubtWeek, Amount: count(61)}}},
		{"a letter O", axles(33, 33), []visit.Wheel{marked(sidewall.Problem{Code: sidewall.NotInDate, At: 3})}, nil, finding.DoubtSymbol,
			unit.Amount{}, finding.SettleSidewallAgain, []finding.Evidence{{Code: finding.FactDoubtSymbolAt, Amount: count(3)}}},
		{"a rim of 61 inches", axles(33, 33), []visit.Wheel{{Position: layout.MustParse("1L"), Tire: visit.Tire{Size: "225/60R61 98H"}}}, nil, finding.DoubtRim,
			unit.Amount{}, finding.SettleSidewallAgain, []finding.Evidence{{Code: finding.FactDoubtRim, Amount: inch(61)}, {Code: finding.FactDoubtMeantRim, Amount: inch(16)}}},
		{"an odometer that fell", axles(33, 33), nil, []visit.Odometer{odometer(day(1, 1), 10_000), odometer(day(2, 1), 9_000)}, finding.DoubtOdometerFell,
			miles(9_000), finding.SettleOdometer, []finding.Evidence{{Code: finding.FactDoubtBefore, Amount: miles(10_000)}, {Code: finding.FactDoubtEarlierDay, Day: day(1, 1)}, {Code: finding.FactDoubtLaterDay, Day: day(2, 1)}}},
		{"one that ran too far", axles(33, 33), nil, []visit.Odometer{odometer(day(1, 1), 10_000), odometer(day(1, 3), 90_000)}, finding.DoubtOdometerFar,
			miles(90_000), finding.SettleOdometer, []finding.Evidence{{Code: finding.FactDoubtBefore, Amount: miles(10_000)}, {Code: finding.FactDoubtEarlierDay, Day: day(1, 1)}, {Code: finding.FactDoubtLaterDay, Day: day(1, 3)}}},
		{"one in kilometers", axles(33, 33), nil, []visit.Odometer{odometer(day(1, 1), 10_000), odometer(day(1, 11), 10_500), odometer(day(1, 21), 17_703)}, finding.DoubtOdometerUnit,
			miles(17_703), finding.SettleOdometer, []finding.Evidence{{Code: finding.FactDoubtOtherUnitFits, Amount: miles(11_000)}, {Code: finding.FactDoubtLaterDay, Day: day(1, 21)}}},
	} {
		out := Doubts(DoubtsIn{Labels: visit.Labels{Vehicle: layout.Vehicle{Class: layout.PassengerCar, Axles: c.axles}}, Wheels: c.wheels, Odometers: c.read})
		if len(out.Findings) != 1 {
			t.Errorf("%s: %q", c.name, doubtsOf(out.Findings))
			continue
		}
		f := out.Findings[0]
		if f.Code != c.code || f.Measured != c.measured || f.ToSettle != c.settle || !slices.Equal(f.Evidence, c.evidence) {
			t.Errorf("%s: %+v", c.name, f)
		}
	}
}

// Two tires whose markings are misread are each asked about, and one tire once.
func TestEachMisreadTireIsAskedAboutOnce(t *testing.T) {
	misread := visit.Tire{Misread: []sidewall.Problem{{Code: sidewall.NoSuchWeek, Number: 61}, {Code: sidewall.NotInDate, At: 2}, {Code: sidewall.NotInDate, At: 3}}}
	out := Doubts(DoubtsIn{Labels: visit.Labels{Vehicle: layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}},
		Wheels: []visit.Wheel{{Position: layout.MustParse("1L"), Tire: misread}, {Position: layout.MustParse("1R"), Tire: misread}}})
	if got, want := doubtsOf(out.Findings), []string{"doubt.no-such-week 1L", "doubt.no-such-week 1R", "doubt.symbol 1L", "doubt.symbol 1R"}; !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}

// What a depth is held against is the mean of the wheel itself, else of the tire across, else
// of all on the road, in one unit.
func TestTheDepthBeside(t *testing.T) {
	in32 := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.ThirtySecondsInch} }
	mm := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.Millimeters} }
	a := DoubtsAnswer{Wheels: []visit.Wheel{
		reading("1L", 0, unit.None, mm(7), in32(4), in32(6)), reading("1R", 0, unit.None, in32(8)), reading("2L", 0, unit.None, mm(5)),
		reading("2R", 0, unit.None, in32(9)), reading("3L", 0, unit.None, mm(5)), reading("S", 0, unit.None, in32(30)),
	}}
	for i, want := range map[int]float64{0: 5, 1: 8, 2: 9, 3: 9, 4: (4.0 + 6 + 8 + 9) / 4, 5: 30} {
		got, ok := a.besides(i, unit.ThirtySecondsInch)
		if d := got - unit.MustDepth(want, unit.ThirtySecondsInch); !ok || d > 10 || d < -10 {
			t.Errorf("%v: %v/32 (%v), want %v", a.Wheels[i].Position, got.In(unit.ThirtySecondsInch), ok, want)
		}
	}
	lone := DoubtsAnswer{Wheels: []visit.Wheel{reading("1L", 0, unit.None, mm(5)), reading("S", 0, unit.None, in32(9))}}
	if got, ok := lone.besides(0, unit.ThirtySecondsInch); ok {
		t.Errorf("beside the spare alone: %v", got)
	}
	if got, ok := a.besides(5, unit.ThirtySecondsInch); !ok || got != unit.MustDepth(30, unit.ThirtySecondsInch) {
		t.Errorf("the spare: %v", got)
	}
}
