package questions

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// AirIn is what was read of the pressures.
type AirIn struct {
	Laws       Laws
	Labels     visit.Labels
	Conditions inflation.Conditions
	Lamp       inflation.Lamp // as found
	Wheels     []visit.Wheel
}

// Airs are the pressures of the tires: as they were judged, and what came of it.
type Airs struct {
	Wheels  map[layout.Position]inflation.Wheel
	Results map[layout.Position]inflation.Result
}

// AirAnswer is whether each tire holds what it should.
type AirAnswer struct {
	Answer
	Airs     Airs
	AllAlike bool     // all tires are down alike: weather and time, no leaks
	Lamp     []string // ids of the findings of a lamp that no pressure explains
}

// Air judges the pressure of every wheel, and what only shows between them.
func Air(in AirIn) AirAnswer {
	of := inflation.Vehicle{Layout: in.Laws.Vehicle, Lamp: in.Lamp, Wheels: make([]inflation.Wheel, 0, len(in.Wheels))}
	out := AirAnswer{Airs: Airs{map[layout.Position]inflation.Wheel{}, map[layout.Position]inflation.Result{}}}
	road := make([]visit.Wheel, 0, len(in.Wheels))
	for _, w := range in.Wheels {
		air := in.Labels.Air(w, w.Pressure, in.Conditions)
		if w.Temporary {
			temporary(&out, in.Laws, air)
			continue
		}
		of.Wheels, road = append(of.Wheels, air), append(road, w)
	}
	r := inflation.JudgeVehicle(of)
	out.AllAlike = r.AllAlike
	for i, w := range road {
		p, read, result := w.Position, of.Wheels[i], r.Wheels[i]
		out.Airs.Wheels[p], out.Airs.Results[p] = read, result
		for _, f := range result.Findings {
			if f.Code == finding.InflationAtLampThreshold && (p.Spare || in.Lamp == inflation.LampOn) {
				continue // it watches no spare, and says so itself when it is on
			}
			in.Laws.cite(&f, p)
			if f.Code == finding.InflationRunLowUndecided && w.Has(finding.ObservedInjury, finding.ObservedObjectInTread, finding.ObservedObjectRemoved) {
				f.ToSettle = finding.SettleLookInside // it comes off for its hole
			}
			out.find(f)
		}
		for _, need := range result.Missing {
			out.ask(need, p)
		}
		if read.Read != unit.None && read.Label != 0 && !result.Cold.About && !slices.ContainsFunc(result.Findings, wantsSomething) {
			out.good(finding.CheckedInflationAtLabel, p)
		}
	}
	expected := len(road) < len(in.Wheels) // a temporary spare on the road has no sensor
	r.Findings = slices.DeleteFunc(r.Findings, func(f finding.Finding) bool {
		return expected && (f.Code == finding.InflationLampOnPressuresRight || f.Code == finding.InflationLampOnNotAllRead)
	})
	for _, f := range r.Findings {
		if f.Code == finding.InflationLampOnPressuresRight || f.Code == finding.InflationLampFlashing {
			out.Lamp = append(out.Lamp, f.ID())
		}
	}
	out.find(r.Findings...)
	return out
}

// temporary judges the pressure of a temporary spare on the road by its own figure: what
// else is said of pressures speaks of a label that is not its own.
// It comes off for a road tire, and is not worked on where it runs.
func temporary(a *AirAnswer, laws Laws, w inflation.Wheel) {
	said := inflation.Judge(w)
	r := inflation.Result{At: w.At, Cold: said.Cold}
	for _, f := range said.Findings {
		switch f.Code {
		case finding.InflationLow, finding.InflationBelowLabel, finding.InflationLabelWhileWarm, finding.InflationFindLeak:
			f.Code, f.Urgency, f.Rule, f.ToSettle = finding.SpareLow, finding.ThisVisit, spareFigure, ""
			f = finding.Compared(f, said.Cold.Value, w.Label, w.ShownIn(), measure.AtLeast(said.Cold.Value, w.Label))
		case finding.InflationFlat, finding.InflationAudibleLeak, finding.InflationRunLow, finding.InflationRunLowUndecided:
		default:
			continue
		}
		laws.cite(&f, w.At)
		r.Findings = append(r.Findings, f)
	}
	a.Airs.Wheels[w.At], a.Airs.Results[w.At] = w, r
	a.find(r.Findings...)
}

// spareFigure is the rule of what a temporary spare is filled to.
var spareFigure = finding.Rule{Authority: finding.Maker, Citation: "pressure printed on the temporary spare", Known: finding.Reported}

func wantsSomething(f finding.Finding) bool {
	return f.Urgency != finding.Note || f.Code == finding.InflationAtLampThreshold
}

// NoAir are the tires that get no air before their inside was seen.
func (a AirAnswer) NoAir() []layout.Position {
	return a.at(func(r inflation.Result) bool { return r.NoAir || r.Demount })
}

// Device are the tires of steel cord that ran low, or carried the load of one.
func (a AirAnswer) Device() []layout.Position {
	return a.at(func(r inflation.Result) bool { return r.RestrainingDevice })
}

func (a AirAnswer) at(is func(inflation.Result) bool) (all []layout.Position) {
	for p, r := range a.Airs.Results {
		if is(r) {
			all = append(all, p)
		}
	}
	for _, f := range a.Findings {
		if f.Code == finding.InflationDualMateCarriedLoad || f.Code == finding.InflationTandemMateCarriedLoad {
			all = append(all, f.Positions...)
		}
	}
	return all
}

// ToSet is the figure to set each tire to now.
func (a AirAnswer) ToSet() map[layout.Position]inflation.Target {
	all := map[layout.Position]inflation.Target{}
	for p, r := range a.Airs.Results {
		all[p] = r.Target
	}
	return all
}
