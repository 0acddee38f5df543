package questions

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// A tire that is told as flat and was read at half of its label or more, or at 20 psi where
// no label is known, is asked about, and judged by its pressure (common practice).
func TestFlatWithAir(t *testing.T) {
	flat := []visit.Observation{{Kind: finding.ObservedFlat}}
	labeled := layout.Vehicle{Class: layout.PassengerCar, Axles: []layout.Axle{{ColdNormal: psi(34), LabelUnit: unit.PSI}}}
	bare := layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 1)}
	coarse := measure.Gauge[unit.Pressure]{Accuracy: psi(3)}
	for _, c := range []struct {
		name  string
		v     layout.Vehicle
		found float64
		gauge measure.Gauge[unit.Pressure]
		seen  []visit.Observation
		want  bool
	}{
		{"half of the label", labeled, 17, measure.Gauge[unit.Pressure]{}, flat, true},
		{"less", labeled, 16.9, measure.Gauge[unit.Pressure]{}, flat, false},
		{"not surely as much", labeled, 17, coarse, flat, false},
		{"no label, 20 psi", bare, 20, measure.Gauge[unit.Pressure]{}, flat, true},
		{"no label, less", bare, 19.9, measure.Gauge[unit.Pressure]{}, flat, false},
		{"not seen flat", labeled, 30, measure.Gauge[unit.Pressure]{}, nil, false},
	} {
		w := visit.Wheel{Position: layout.MustParse("1L"), Pressure: visit.Pressure{Of: psi(c.found), Read: unit.PSI, Gauge: c.gauge}, Observations: c.seen}
		out := Doubts(DoubtsIn{Labels: visit.Labels{Vehicle: c.v}, Wheels: []visit.Wheel{w}})
		asked := slices.ContainsFunc(out.Findings, func(f finding.Finding) bool { return f.Code == finding.DoubtFlatWithAir })
		if asked != c.want || out.Wheels[0].Has(finding.ObservedFlat) != (c.seen != nil && !c.want) || len(w.Observations) != len(c.seen) {
			t.Errorf("%s: asked %v, judged by %v", c.name, asked, out.Wheels[0].Observations)
		}
	}
	unread := visit.Wheel{Position: layout.MustParse("1L"), Observations: flat}
	if out := Doubts(DoubtsIn{Labels: visit.Labels{Vehicle: labeled}, Wheels: []visit.Wheel{unread}}); len(out.Findings) != 0 {
		t.Errorf("not read: %v", out.Findings)
	}
}

// Bars seen flush where the tread was read well above them are asked about: not where the
// part that was seen was not read, or less than all of the tread was.
func TestBarsWithTread(t *testing.T) {
	in32 := func(across layout.Across, n float64) tread.Reading {
		return tread.Reading{Across: across, Depth: unit.MustDepth(n, unit.ThirtySecondsInch), AsRead: unit.Amount{Number: n, Unit: unit.ThirtySecondsInch}}
	}
	row := func(in, mid, out float64) []tread.Reading {
		return []tread.Reading{in32(layout.Inboard, in), in32(layout.Center, mid), in32(layout.Outboard, out)}
	}
	bars := func(at ...layout.Across) (all []visit.Observation) {
		for _, a := range at {
			all = append(all, visit.Observation{Kind: finding.ObservedAtWearBars, Across: a})
		}
		return all
	}
	for _, c := range []struct {
		name   string
		depths []tread.Reading
		seen   []visit.Observation
		want   float64 // the depth that contradicts, 0: none
	}{
		{"seven thirty-seconds everywhere", row(7, 7, 7), bars(layout.AcrossNotTold), 7},
		{"two at one edge", row(7, 7, 2), bars(layout.AcrossNotTold), 0},
		{"seen at the outboard edge, which was read deep", row(2, 7, 7), bars(layout.Outboard), 7},
		{"seen at the inboard edge, which was read low", row(2, 7, 7), bars(layout.Inboard), 0},
		{"seen at both, and one is low", row(2, 7, 7), bars(layout.Outboard, layout.Inboard), 0},
		{"the lowest contradicts", row(8, 6, 7), bars(layout.AcrossNotTold), 6},
		{"less than all of the tread was read", row(7, 7, 7)[:2], bars(layout.AcrossNotTold), 0},
		{"seen where nothing was read", row(7, 7, 7)[:2], bars(layout.Outboard), 0},
		{"seen where it was read, and no more", row(7, 7, 7)[:2], bars(layout.Inboard), 7},
		{"not seen flush", row(7, 7, 7), nil, 0},
		{"not read", nil, bars(layout.AcrossNotTold), 0},
	} {
		w := visit.Wheel{Position: layout.MustParse("1L"), Depths: c.depths, Observations: c.seen}
		out := Doubts(DoubtsIn{Labels: visit.Labels{Vehicle: layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 1)}}, Wheels: []visit.Wheel{w}})
		got := 0.0
		for _, f := range out.Findings {
			if f.Code == finding.DoubtBarsWithTread {
				got = f.Measured.Number
			}
		}
		if got != c.want || out.Wheels[0].Has(finding.ObservedAtWearBars) != (c.seen != nil && c.want == 0) {
			t.Errorf("%s: by %v/32, judged by %v", c.name, got, out.Wheels[0].Observations)
		}
	}
}

// An odometer that fell, that fits only in the other unit, or ran farther than any vehicle
// does in its days is asked about, the gravest alone (common practice).
func TestOdometersThatAreNone(t *testing.T) {
	on := func(day int, miles float64) visit.Odometer {
		d := unit.MustDistance(miles, unit.Miles)
		return visit.Odometer{Of: d, Read: d.Amount(unit.Miles).Rounded(), Day: unit.Date{Year: 2026, Month: 1, Day: day}}
	}
	undated := on(5, 10)
	undated.Day = unit.Date{}
	fell, far, other := finding.DoubtOdometerFell, finding.DoubtOdometerFar, finding.DoubtOdometerUnit
	for _, c := range []struct {
		name string
		read []visit.Odometer
		want finding.Code
		of   float64 // the reading that is asked about
	}{
		{"one", []visit.Odometer{on(1, 10_000)}, "", 0},
		{"as it goes", []visit.Odometer{on(1, 10_000), on(11, 10_300), on(21, 10_600)}, "", 0},
		{"stood still", []visit.Odometer{on(1, 10_000), on(11, 10_000)}, "", 0},
		{"fell", []visit.Odometer{on(1, 10_000), on(11, 9_999)}, fell, 9_999},
		{"fell, told in another order", []visit.Odometer{on(11, 9_999), on(1, 10_000)}, fell, 9_999},
		{"fell, and nobody knows when", []visit.Odometer{on(1, 10_000), undated}, "", 0},
		{"fell twice: the last", []visit.Odometer{on(1, 10_000), on(5, 9_000), on(9, 11_000), on(11, 10_500)}, fell, 10_500},
		{"two of one day", []visit.Odometer{on(5, 10_100), on(5, 10_000)}, "", 0},
		{"as far as two drivers go", []visit.Odometer{on(1, 10_000), on(2, 14_000)}, "", 0},
		{"farther", []visit.Odometer{on(1, 10_000), on(2, 14_001)}, far, 14_001},
		{"kilometers for miles", []visit.Odometer{on(1, 10_000), on(11, 10_500), on(21, 11_000*1.609344)}, other, 17_703},
		{"far, in neither unit", []visit.Odometer{on(1, 10_000), on(11, 10_500), on(21, 14_000)}, "", 0},
		{"a pace 2.4 times as fast", []visit.Odometer{on(1, 1_000), on(11, 1_500), on(21, 2_700)}, "", 0},
	} {
		out := Doubts(DoubtsIn{Odometers: c.read})
		switch {
		case c.want == "" && len(out.Findings) == 0 && !out.Distance && len(out.Asked) == 0:
		case c.want == "" || len(out.Findings) != 1 || out.Findings[0].Code != c.want || !out.Distance || len(out.Asked) != 1 || out.Asked[0].Code != finding.AskOdometer:
			t.Errorf("%s: %+v, asked %v", c.name, out.Findings, out.Asked)
		case out.Findings[0].Measured.Number < c.of-1 || out.Findings[0].Measured.Number > c.of+1:
			t.Errorf("%s: asked about %v", c.name, out.Findings[0].Measured)
		}
	}
}
