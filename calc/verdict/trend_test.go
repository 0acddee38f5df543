package verdict

import (
	"math"
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/order"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

func mi(n float64) unit.Distance { return unit.MustDistance(n, unit.Miles) }

// followed is the invented car with its right rear read before, 5,000 miles and
// 150 days apart: each entry the depths inboard to outboard, the latest first.
func followed(today [3]float64, before ...[3]float64) visit.Visit {
	v := car(33)
	v.Day, v.Odometer = v.AsOf, unit.Amount{Number: 60_000, Unit: unit.Miles}
	w := &v.Wheels[0]
	w.Depths = depths(today[0], today[1], today[2])
	for i, d := range before {
		w.Before = append(w.Before, visit.Before{
			Ago: mi(5000 * float64(i+1)), Day: v.Day.After(-150 * (i + 1)), At: w.Position, Stayed: true,
			Depths: depths(d[0], d[1], d[2]), DepthGauge: v.DepthGauge, Conditions: inflation.Conditions{DrivenHere: finding.No},
		})
	}
	return v
}

func evidence(f finding.Finding, code finding.Fact) (finding.Evidence, bool) {
	i := slices.IndexFunc(f.Evidence, func(e finding.Evidence) bool { return e.Code == code })
	if i < 0 {
		return finding.Evidence{}, false
	}
	return f.Evidence[i], true
}

// TestReachesLimit: the tire is out with its first groove. Outboard loses 1/32 in
// in each 5,000 miles and has 3/32 in left to the bars: 15,000 miles.
func TestReachesLimit(t *testing.T) {
	v := followed([3]float64{7, 7, 5}, [3]float64{7.5, 7.5, 6}, [3]float64{8, 8, 7}, [3]float64{8.5, 8.5, 8})
	f, ok := find(Judge(v), finding.TrendReachesLimit)
	if !ok || f.Measured != (unit.Amount{Number: 15_000, Unit: unit.Miles}) || f.Urgency != finding.Note {
		t.Fatalf("%+v %v", f, f.Measured)
	}
	if f.Limit != (unit.Amount{Number: 2, Unit: unit.ThirtySecondsInch}) || f.Place.Across != layout.Outboard {
		t.Errorf("limit %v, place %+v", f.Limit, f.Place)
	}
	if e, _ := evidence(f, finding.FactTrendRate); e.Amount != (unit.Amount{Number: 0.2, Unit: unit.ThirtySecondsPer1000Miles}) {
		t.Errorf("rate %v", e.Amount)
	}
	if e, _ := evidence(f, finding.FactTrendReadings); e.Amount.Number != 4 {
		t.Errorf("readings %v", e.Amount)
	}
	if e, _ := evidence(f, finding.FactTrendDay); e.Day != v.Day.After(450) { // 33.3 mi a day
		t.Errorf("day %v", e.Day)
	}
	early, okE := evidence(f, finding.FactTrendEarliest)
	late, okL := evidence(f, finding.FactTrendLatest)
	if !okE || !okL || early.Amount.Number >= 15_000 || late.Amount.Number <= 15_000 {
		t.Errorf("%v to %v", early.Amount, late.Amount)
	}
	v.Wheels[0].Depths = depths(7, 7, 3.75) // wears faster of late
	if f, _ := find(Judge(v), finding.TrendFirstOut); f.Urgency != finding.Plan {
		t.Errorf("under 8,000 miles left are not planned for: %+v", f)
	}
}

// TestReachesNothing: nothing is said ahead of what is reached, of one visit, or of
// tread that does not wear.
func TestReachesNothing(t *testing.T) {
	for name, v := range map[string]visit.Visit{
		"one visit":                              followed([3]float64{7, 7, 7}),
		"at the bars today":                      followed([3]float64{2, 2, 2}, [3]float64{4, 4, 4}, [3]float64{6, 6, 6}),
		"at the bars as near as the gauge reads": followed([3]float64{2.5, 2.5, 2.5}, [3]float64{5, 5, 5}),
		"no wear":                                followed([3]float64{7, 7, 7}, [3]float64{7, 7, 7}),
		"nothing read today": func() visit.Visit {
			v := followed([3]float64{}, [3]float64{7, 7, 7})
			v.Wheels[0].Depths = nil
			return v
		}(),
	} {
		if f, ok := find(Judge(v), finding.TrendReachesLimit); ok {
			t.Errorf("%s: %+v", name, f)
		}
	}
}

// TestLimitsAhead: the wear bars, a law that asks for as much or more in their place,
// one that may bind beside them, and the advice for winter tires.
func TestLimitsAhead(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*visit.Visit)
		want   []string
	}{
		{"a US car", func(*visit.Visit) {}, []string{"advice.wear-bars"}},
		{"reg. 27(4)(f) asks for as much as the bars", func(v *visit.Visit) {
			v.Use, v.Vehicle.GrossRating = rulebook.Use{Places: []rulebook.Place{{Country: "GB"}}}, unit.MustMass(1900, unit.Kilograms)
		}, []string{"uk-light.depth"}},
		{"a bus for hire, on the front: 49 CFR 393.75(b)", func(v *visit.Visit) {
			v.Vehicle.Class, v.Vehicle.GrossRating, v.Use.Interstate = layout.Bus, unit.MustMass(26_000, unit.Pounds), finding.Yes
			v.Wheels[0].Position = layout.MustParse("1R")
		}, []string{"us-commercial.front-depth"}},
		{"nobody said whether 49 CFR 393.75(b) binds it", func(v *visit.Visit) {
			v.Vehicle.Class, v.Use.Interstate, v.Use.Tows = layout.LightTruck, finding.NotAsked, finding.NotAsked
			v.Wheels[0].Position = layout.MustParse("1R")
		}, []string{"advice.wear-bars", "us-commercial.front-depth candidate"}},
		{"393.75(c) asks for no more than the bars", func(v *visit.Visit) {
			v.Vehicle.Class, v.Use.Interstate, v.Use.Tows = layout.LightTruck, finding.NotAsked, finding.NotAsked
		}, []string{"advice.wear-bars"}},
		{"a winter tire", func(v *visit.Visit) { v.Wheels[0].Tire.ThreePeaks = finding.Yes }, []string{"advice.wear-bars", "advice.winter"}},
	} {
		v := followed([3]float64{8, 8, 8}, [3]float64{10, 10, 10})
		c.change(&v)
		v.Wheels[0].Before[0].At = v.Wheels[0].Position
		var got []string
		for _, f := range Judge(v).Findings {
			if f.Code != finding.TrendReachesLimit {
				continue
			}
			id := f.Rule.ID
			if f.Candidate {
				id += " candidate"
			}
			got = append(got, id)
		}
		slices.Sort(got)
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// TestNewDepthTells: one visit and the depth when new, with the assumption stated;
// without the distance run since new it tells nothing.
func TestNewDepthTells(t *testing.T) {
	v := followed([3]float64{6, 6, 6})
	v.Wheels[0].Tire.New = map[int]unit.Depth{0: unit.MustDepth(10, unit.ThirtySecondsInch)}
	if f, ok := find(Judge(v), finding.TrendReachesLimit); ok {
		t.Errorf("how far it ran is not known: %+v", f)
	}
	ran := mi(20_000)
	v.Wheels[0].History.OnTire = &ran
	f, ok := find(Judge(v), finding.TrendReachesLimit)
	if !ok || f.Measured.Number != 20_000 {
		t.Fatalf("%+v %v", f, f.Measured)
	}
	e, ok := evidence(f, finding.FactTrendNewDepthAssumed)
	if !ok || !e.Against || e.Uncertainty.Number != 1.15 { // 2/32 in over √3
		t.Errorf("%+v", e)
	}
}

// TestTurned: what was inboard is outboard when the other sidewall faces out, also
// where grooves are counted.
func TestTurned(t *testing.T) {
	byGroove := func(rs []tread.Reading) {
		for i := range rs {
			rs[i].Groove, rs[i].Across = i+1, layout.AcrossNotTold
		}
	}
	for _, grooves := range []bool{false, true} {
		v := followed([3]float64{4, 6, 8}, [3]float64{8.5, 7, 5})
		v.Wheels[0].Before[0].Turned = true
		if grooves {
			byGroove(v.Wheels[0].Depths)
			byGroove(v.Wheels[0].Before[0].Depths)
		}
		out := Judge(v)
		f, ok := find(out, finding.TrendReachesLimit)
		if !ok || f.Measured.Number != 10_000 || max(f.Place.Groove, int(f.Place.Across)) != 1 {
			t.Errorf("grooves %v: %+v", grooves, f)
		}
		if g, ok := find(out, finding.TrendGrew); ok {
			t.Errorf("grooves %v: %+v", grooves, g)
		}
	}
}

// TestPlacesThatDoNotCompare: grooves then and thirds of the tread today are not
// the same places; the lowest readings still tell.
func TestPlacesThatDoNotCompare(t *testing.T) {
	v := followed([3]float64{6, 5, 4}, [3]float64{9, 9, 9})
	for i := range v.Wheels[0].Before[0].Depths {
		r := &v.Wheels[0].Before[0].Depths[i]
		r.Groove, r.Across = i+1, layout.AcrossNotTold
	}
	f, ok := find(Judge(v), finding.TrendReachesLimit)
	if !ok || f.Measured.Number != 2000 || f.Place != (finding.Place{}) {
		t.Errorf("%+v", f)
	}
}

// TestGrew: two steps up are asked about (common practice), one is noise. With
// today's reading one of the two it is measured again first.
func TestGrew(t *testing.T) {
	for _, c := range []struct {
		name    string
		given   visit.Visit
		urgency finding.Urgency // not told: no finding
		again   bool
	}{
		{"one step", followed([3]float64{7, 7, 7}, [3]float64{6, 6, 6}), finding.UrgencyNotTold, false},
		{"two steps today", followed([3]float64{8, 7, 7}, [3]float64{6, 7, 7}), finding.ThisVisit, true},
		{"two steps, earlier", followed([3]float64{7, 7, 7}, [3]float64{8, 8, 8}, [3]float64{4, 4, 4}), finding.Note, false},
	} {
		out := Judge(c.given)
		f, _ := find(out, finding.TrendGrew)
		again := slices.ContainsFunc(out.Work, func(w order.Work) bool { return w.Code == finding.WorkMeasureAgain })
		if f.Urgency != c.urgency || again != c.again {
			t.Errorf("%s: %+v, measured again %v", c.name, f, again)
		}
	}
	f, _ := find(Judge(followed([3]float64{7, 7, 7}, [3]float64{8, 8, 8}, [3]float64{4, 4, 4})), finding.TrendGrew)
	ago, _ := evidence(f, finding.FactTrendAgo)
	if f.Measured.Number != 4 || ago.Amount.Number != 5000 {
		t.Errorf("%+v", f)
	}
}

// four gives the car four tires read alike, each lost so many psi since it was set
// 90 days ago.
func four(lost ...float64) visit.Visit {
	v := followed([3]float64{7, 7, 7}, [3]float64{8, 8, 8})
	one := v.Wheels[0]
	v.Wheels = nil
	v.Conditions.Here = unit.MustTemperature(50, unit.Fahrenheit)
	for i, at := range []string{"1L", "1R", "2L", "2R"} {
		w := one
		w.Position = layout.MustParse(at)
		b := one.Before[0]
		b.At, b.Day = w.Position, v.Day.After(-90)
		b.Left, b.Conditions.Here = one.Pressure, v.Conditions.Here
		b.Left.Of = unit.MustPressure(33, unit.PSI)
		w.Pressure.Of = unit.MustPressure(33-lost[i], unit.PSI)
		w.Before = []visit.Before{b}
		v.Wheels = append(v.Wheels, w)
	}
	return v
}

// TestLosses: one tire over 3 psi a month faster than its mates is a leak (common
// practice); all alike is weather and time, and at one temperature over 1 psi a
// month is worth a word (vehicle owner's information, as reported).
func TestLosses(t *testing.T) {
	for _, c := range []struct {
		name  string
		given visit.Visit
		leak  string // the position, "" for none
		want  measure.Outcome
		alike bool
		find  bool // the leak is looked for
	}{
		{"3 psi in 90 days", four(3, 3, 3, 3), "", 0, false, false},
		{"8 psi in 90 days, alike", four(8, 8, 8, 8), "", 0, true, false},
		{"one lost 20", four(3, 20, 3, 3), "1R", measure.Above, false, true},
		{"two lost 20: the middle of the others is sound", four(3, 20, 20, 3), "1R", measure.Above, false, true},
		{"one lost 10: under, not provably", four(3, 3, 3, 10), "", 0, false, false},
		{"one lost 13: over, not provably", four(3, 3, 3, 13), "2R", measure.CannotTell, false, false},
	} {
		out := Judge(c.given)
		f, ok := find(out, finding.TrendLosesFaster)
		if ok != (c.leak != "") || ok && (f.Positions[0].String() != c.leak || f.Outcome != c.want) {
			t.Errorf("%s: %+v", c.name, f)
		}
		if _, ok := find(out, finding.TrendLosesAlike); ok != c.alike {
			t.Errorf("%s: alike %v", c.name, ok)
		}
		looked := slices.ContainsFunc(out.Work, func(w order.Work) bool {
			return w.Code == finding.WorkAirFindLeak && c.leak != "" && slices.Contains(w.Positions, layout.MustParse(c.leak))
		})
		if c.find && !looked {
			t.Errorf("%s: the leak is not looked for", c.name)
		}
	}
	f, _ := find(Judge(four(3, 21, 3, 3)), finding.TrendLosesFaster)
	if math.Abs(f.Measured.Number-6) > 0.05 || f.Limit.Number != 3 || f.Measured.Unit != unit.PSIPerMonth {
		t.Errorf("18 psi more in 90 days: %v against %v", f.Measured, f.Limit)
	}
}

// TestLossesNeedTheirReadings: how a tire was left, that it stayed where it was, and
// both days. The cold morning alone is no leak and no loss.
func TestLossesNeedTheirReadings(t *testing.T) {
	spoil := func(change func(*visit.Visit, *visit.Before)) visit.Visit {
		v := four(3, 20, 3, 3)
		for i := range v.Wheels {
			change(&v, &v.Wheels[i].Before[0])
		}
		return v
	}
	for name, v := range map[string]visit.Visit{
		"not left":       spoil(func(_ *visit.Visit, b *visit.Before) { b.Found, b.Left = b.Left, visit.Pressure{} }),
		"moved since":    spoil(func(_ *visit.Visit, b *visit.Before) { b.Stayed = false }),
		"day not told":   spoil(func(_ *visit.Visit, b *visit.Before) { b.Day = unit.Date{} }),
		"today not told": spoil(func(v *visit.Visit, _ *visit.Before) { v.Day = unit.Date{} }),
		"the same day":   spoil(func(v *visit.Visit, b *visit.Before) { b.Day = v.Day }),
	} {
		if f, ok := find(Judge(v), finding.TrendLosesFaster); ok {
			t.Errorf("%s: %+v", name, f)
		}
	}
	cold := four(6, 6, 6, 6) // set at 90 °F, read at 50 °F: 33 psi shows 29.5, so 2.5 psi are lost
	for i := range cold.Wheels {
		cold.Wheels[i].Before[0].Conditions.Here = unit.MustTemperature(90, unit.Fahrenheit)
	}
	if f, ok := find(Judge(cold), finding.TrendLosesAlike); ok {
		t.Errorf("the weather is taken for a loss: %+v", f)
	}
}

// TestSetOut: a set is out with its last tire, an axle likewise.
func TestSetOut(t *testing.T) {
	v := four(0, 0, 0, 0)
	for i, was := range []float64{8, 8.25, 9, 8} { // 5, 4, 2.5, 5 times 5,000 miles
		v.Wheels[i].Before[0].Depths = depths(was, was, was)
	}
	f, ok := find(Judge(v), finding.TrendSetOut)
	pair, _ := evidence(f, finding.FactTrendPairOut)
	set, _ := evidence(f, finding.FactTrendWholeSet)
	if !ok || f.Measured.Number != 10_000 || pair.Amount.Number != 25_000 || set.Amount.Number != 25_000 {
		t.Errorf("first %v, pair %v, set %v", f.Measured, pair.Amount, set.Amount)
	}
	v.Wheels[2].Before = nil
	if f, ok := find(Judge(v), finding.TrendSetOut); ok {
		t.Errorf("one tire is not known: %+v", f)
	}
}

// BenchmarkFiveYears judges a car with twenty visits on record.
func BenchmarkFiveYears(b *testing.B) {
	v := four(1, 1, 1, 1)
	for i := range v.Wheels {
		w := &v.Wheels[i]
		first := w.Before[0]
		w.Before = nil
		for k := range 20 {
			d := first
			d.Ago, d.Day = mi(3000*float64(k+1)), v.Day.After(-90*(k+1))
			n := 7 + 0.25*float64(k+1)
			d.Depths = depths(n, n+0.5*float64(k%2), n)
			w.Before = append(w.Before, d)
		}
	}
	b.ReportAllocs()
	for b.Loop() {
		Judge(v)
	}
}
