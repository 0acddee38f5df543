package questions

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/fitment"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// FitmentIn is what was read on the tires beside the label and the maker's figures.
type FitmentIn struct {
	Laws   Laws
	AsOf   unit.Date
	Labels visit.Labels
	Maker  fitment.MakerFigures
	Report *visit.SpareReport // nil when nobody looked
	Shown  finding.Answer     // the highest speed of the tires is shown to the driver
	Wheels []visit.Wheel
	Treads Treads
}

// FitmentAnswer is whether the tires are right for the vehicle and for each other.
type FitmentAnswer struct {
	Answer
	Fits       []fitment.Fit
	AsLabel    map[layout.Position]bool // the tire is what the label asks for
	Scrapped   map[layout.Position]bool // the tire is done for, whatever its depth
	ValveWrong []layout.Position
}

// Fitment judges whether the tires are right for the vehicle and for each other.
func Fitment(in FitmentIn) FitmentAnswer {
	r := fitment.Judge(in.vehicle())
	out := FitmentAnswer{Fits: r.Fits, AsLabel: map[layout.Position]bool{}, Scrapped: map[layout.Position]bool{}}
	for _, f := range r.Findings {
		out.find(f)
		k := finding.KindOf(f.Code)
		if k.Scrap {
			out.Scrapped[f.Positions[0]] = true
		}
		if k.Again == finding.AgainValve {
			out.ValveWrong = append(out.ValveWrong, f.Positions...)
		}
	}
	for _, k := range r.Met {
		out.addMet(Checked{Code: k.Code, Positions: k.Positions, Measured: k.Measured, Limit: k.Limit, Rule: k.Rule})
		for _, p := range k.Positions {
			out.AsLabel[p] = out.AsLabel[p] || k.Code == finding.CheckedFitmentAsLabel
		}
	}
	for _, a := range r.Asked {
		out.ask(a.Code, a.Positions...)
	}
	return out
}

// vehicle puts the vehicle together as package fitment judges it: what was
// read on the tires, the mean depths, and the label.
func (in FitmentIn) vehicle() fitment.Vehicle {
	out := fitment.Vehicle{Layout: in.Laws.Vehicle, Books: in.Laws.Books, AsOf: in.AsOf, Maker: in.Maker, Shown: in.Shown, Wheels: make([]fitment.Wheel, 0, len(in.Wheels))}
	if r := in.Report; r != nil {
		out.Spare = fitment.Spare{Matching: in.Labels.Spare.Matching, InService: r.InService}
	}
	for _, w := range in.Wheels {
		f := w.Fitment
		f.At = w.Position
		if w.Tire.Size != "" { // else it is the label's, which tells nothing of the tire
			f.Tire.Marking = w.Tire.Marking
		}
		f.Tire.Made, f.Tire.ThreePeaks, f.Tire.MudAndSnow, f.Tire.Studded = w.Tire.Made, w.Tire.ThreePeaks, w.Tire.MudAndSnow, w.Tire.Studded
		f.Tire.Printed = w.Tire.Printed()
		f.Tire.Cracked = w.Has(finding.ObservedCracksJoined, finding.ObservedCracksToCord)
		if r, ok := in.Treads.read(w.Position); ok {
			f.Depth = &r.Summary.Mean
		}
		_, f.LabelUnit = in.Labels.ColdWhen(w.Position, finding.No)
		f.Label = in.Labels.Most(w.Position)
		if w.Has(finding.ObservedValveUnderRated) {
			f.Valve.RubberSnapIn, f.Valve.Rating = false, 0 // seen and said already
		}
		out.Wheels = append(out.Wheels, f)
	}
	return out
}
