package questions

import (
	"slices"

	"gaugebook.dev/calc/fitment"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// CarryingIn is what is known of the tires, and of what they carry.
type CarryingIn struct {
	Scale  visit.Scale
	Wheels []visit.Wheel
	Airs   Airs
	Fits   []fitment.Fit
}

// CarryingAnswer is what tires and axles support. Nothing is found by it.
type CarryingAnswer struct {
	Answer
	Fits  []Fit      // in order of position
	Axles []AxleLoad // each axle of which enough is known, from the front
}

// Fit is one tire against the label, with what it supports at the pressure found.
type Fit struct {
	fitment.Fit
	Supported unit.Mass // at the lowest cold pressure that the one found leaves open; 0 when not known
}

// AxleLoad is what the tires of one axle support. It does not make them fit to run.
type AxleLoad struct {
	Axle      int
	Supported unit.Mass     // all its tires together, at the pressures found; 0 when not known
	Needed    unit.Pressure // cold, for the axle as weighed, else for its rating; 0 when not known or when these tires cannot carry it
	Unit      unit.Unit
}

// Carrying works out what tires and axles support.
func Carrying(in CarryingIn) (out CarryingAnswer) {
	for _, f := range in.Fits {
		fit := Fit{Fit: f}
		if r, ok := in.ratingAt(f.At); ok {
			fit.Supported = in.supported(f.At, r)
		}
		out.Fits = append(out.Fits, fit)
	}
	for i, a := range in.Scale.Vehicle.Axles {
		l := AxleLoad{Axle: i + 1, Unit: a.LabelUnit}
		l.Supported, l.Needed = in.axle(i+1, a.Rating)
		if l.Supported > 0 || l.Needed > 0 {
			out.Axles = append(out.Axles, l)
		}
	}
	return out
}

func (in CarryingIn) ratingAt(p layout.Position) (sidewall.Rating, bool) {
	i := slices.IndexFunc(in.Wheels, func(w visit.Wheel) bool { return w.Position == p })
	if i < 0 {
		return sidewall.Rating{}, false
	}
	r, ok := in.Wheels[i].Tire.Rating()
	return r.Least(), ok
}

func (in CarryingIn) supported(p layout.Position, r sidewall.Rating) unit.Mass {
	if in.Airs.Wheels[p].Read == unit.None {
		return 0
	}
	load, _ := r.Load(in.Airs.Results[p].Cold.Low, p.Dual != layout.Single)
	return load
}

// axle sums what the tires of an axle support, and finds the pressure at
// which each carries its share of the axle as weighed, else of its rating.
func (in CarryingIn) axle(axle int, rating unit.Mass) (supported unit.Mass, needed unit.Pressure) {
	var ps []layout.Position
	for _, p := range in.Scale.Vehicle.Positions() {
		if p.Axle == axle {
			ps = append(ps, p)
		}
	}
	carries, knows := true, true
	for _, p := range ps {
		r, ok := in.ratingAt(p)
		share := rating / unit.Mass(len(ps))
		if c, weighed := in.Scale.Carried(p); weighed {
			share = c.Share
		}
		s := in.supported(p, r)
		supported, knows = supported+s, knows && ok && s > 0
		pressure, can := r.PressureFor(share, p.Dual != layout.Single)
		needed, carries = max(needed, pressure), carries && ok && can && share > 0
	}
	if !knows {
		supported = 0
	}
	if !carries {
		needed = 0
	}
	return supported, needed
}
