package fitment

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// graduated is the usual gauge of 1/32 in in the usual hand (common practice).
var graduated = measure.Gauge[unit.Depth]{Resolution: unit.MustDepth(1, unit.ThirtySecondsInch), Repeatability: unit.MustDepth(0.4, unit.ThirtySecondsInch)}

// fineGauge reads 0.1 mm at a zeroed gauge.
var fineGauge = measure.Gauge[unit.Depth]{Resolution: unit.MustDepth(0.1, unit.Millimeters), Repeatability: unit.MustDepth(0.15, unit.Millimeters)}

func read(g measure.Gauge[unit.Depth], thirtySeconds float64) *measure.Value[unit.Depth] {
	v := g.Read(unit.MustDepth(thirtySeconds, unit.ThirtySecondsInch))
	return &v
}

// taped is a circumference taped as it should be.
func taped(inches float64) *Taped {
	return &Taped{Circumference: TapedRound(unit.MustLength(inches, unit.Inches)), SamePressure: finding.Yes, DayBefore: finding.Yes}
}

// across is a diameter measured as it should be.
func across(inches float64) *Taped {
	return &Taped{Circumference: TapedAcross(unit.MustLength(inches, unit.Inches)), SamePressure: finding.Yes, DayBefore: finding.Yes}
}

// oneDesign is a tire whose identification number was read whole.
var oneDesign = Tire{Marking: sidewall.Parse("P215/60R16 94T"), Codes: "ABC123XYZ"}

func car(drive layout.Drive) layout.Vehicle {
	return layout.Vehicle{Class: layout.PassengerCar, Drive: drive, Axles: []layout.Axle{
		{Steered: true, Driven: drive != layout.RearDrive}, {Driven: drive != layout.FrontDrive},
	}}
}

func truck() layout.Vehicle {
	return layout.Vehicle{Class: layout.Heavy, Axles: []layout.Axle{{Steered: true}, {Dual: true, Driven: true}}}
}

// four are the wheels of a car, with what make says of each.
func four(set func(w *Wheel, i int)) []Wheel {
	var ws []Wheel
	for i, p := range []string{"1L", "1R", "2L", "2R"} {
		w := Wheel{At: layout.MustParse(p)}
		set(&w, i)
		ws = append(ws, w)
	}
	return ws
}

// found lists the findings of a code.
func found(r Result, code finding.Code) (fs []finding.Finding) {
	for _, f := range r.Findings {
		if f.Code == code {
			fs = append(fs, f)
		}
	}
	return fs
}

func met(r Result, code finding.Checked) bool {
	return slices.ContainsFunc(r.Met, func(k Met) bool { return k.Code == code })
}

func asked(r Result, code finding.Question) bool {
	return slices.ContainsFunc(r.Asked, func(a Asked) bool { return a.Code == code })
}

func evidence(f finding.Finding, code finding.Fact) (unit.Amount, bool) {
	for _, e := range f.Evidence {
		if e.Code == code {
			return e.Amount, true
		}
	}
	return unit.Amount{}, false
}

func at(f finding.Finding) string {
	s := ""
	for _, p := range f.Positions {
		s += p.String() + " "
	}
	return s
}

func withLabel(v layout.Vehicle, sizes ...string) layout.Vehicle {
	v.Axles = slices.Clone(v.Axles)
	for i := range v.Axles {
		v.Axles[i].Size = sizes[min(i, len(sizes)-1)]
	}
	return v
}
