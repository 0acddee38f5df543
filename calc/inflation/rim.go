package inflation

import (
	"cmp"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// Rim is what a wheel is, as far as it bears on how its tire is let down and filled.
type Rim uint8

// Rims. Steel alone does not tell how many pieces a wheel has.
const (
	RimNotTold  Rim = iota
	OnePiece        // a disc wheel of one piece
	MultiPiece      // with side or lock rings
	Demountable     // of one piece, clamped on a spoke wheel
)

// Servicing is whether a wheel is one of those that 29 CFR 1910.177(a)(1) speaks of:
// rim wheels of trucks, tractors, trailers and buses, and not those of cars, nor of
// pickups and vans on car tires or tires marked LT. It binds employers.
type Servicing uint8

// Servicing of wheels.
const (
	OutsideRule Servicing = iota
	LargeWheel            // the rule speaks of it
	ShopsRule             // a trailer on car, LT or ST tires: the shop says whether it keeps the rule
)

// Fill is where all air goes in beyond what seats the beads.
type Fill uint8

// Ways to fill.
const (
	FillClear   Fill = iota // clip-on chuck, remote gauge, nobody beside it
	FillGuarded             // in a restraining device, behind a barrier, or bolted on with every nut tight
	FillByShop              // by the shop's own rule
	FillDevice              // in a restraining device, every time, new tires too
)

// lightTires are those on which pickups, vans and what is built on them are no large
// vehicles.
var lightTires = []sidewall.Class{sidewall.PMetric, sidewall.MetricPassenger, sidewall.LightTruckTire, sidewall.CommercialMetric}

// Servicing tells whether the wheel is one of those that the rule speaks of. Of a
// vehicle that may be a pickup or a van its tires decide, where they are known.
func (w Wheel) Servicing() Servicing {
	light := slices.Contains(lightTires, w.Tire)
	switch cmp.Or(w.On, w.Class) {
	case layout.Heavy, layout.Bus:
		return LargeWheel
	case layout.Motorhome:
		if !light {
			return LargeWheel
		}
	case layout.Trailer:
		if light || w.Tire == sidewall.SpecialTrailer {
			return ShopsRule
		}
		return LargeWheel
	case layout.LightTruck, layout.ClassNotTold:
		if w.Tire.Truck() {
			return LargeWheel
		}
	}
	return OutsideRule
}

// handling is how a rim is handled.
type handling struct {
	rim     Rim
	large   Fill         // on a vehicle of the rule
	shop    Fill         // on a trailer of which the shop says whether it keeps the rule
	emptied bool         // on a vehicle of the rule, before the first nut is loosened, whatever is in it; of two duals both
	note    finding.Code // what the rule says of it; "" for a rim that nobody told
	by      string       // the paragraph of the rule
}

// handlings are the rims. One that nobody told is taken for one with rings, and no law is
// cited for it (29 CFR 1910.177(d), (f), (g); spoke and demountable rims: common practice).
var handlings = []handling{
	{rim: RimNotTold, large: FillDevice, shop: FillByShop, emptied: true},
	{rim: OnePiece, large: FillGuarded, shop: FillByShop, note: finding.WheelOnePiece, by: "one-piece"},
	{rim: MultiPiece, large: FillDevice, shop: FillDevice, emptied: true, note: finding.WheelMultiPiece, by: "deflate-damaged"},
	{rim: Demountable, large: FillGuarded, shop: FillByShop, emptied: true, note: finding.WheelOnePiece, by: "one-piece"},
}

func handlingOf(r Rim) handling {
	i := slices.IndexFunc(handlings, func(h handling) bool { return h.rim == r })
	return handlings[max(i, 0)]
}

// Fill is where all air goes in beyond what seats the beads.
func (w Wheel) Fill() Fill {
	switch w.Servicing() {
	case LargeWheel:
		return handlingOf(w.Rim).large
	case ShopsRule:
		return handlingOf(w.Rim).shop
	}
	return FillClear
}

// Emptied tells that the air comes out before the first nut is loosened, and of two duals
// out of both: of a large wheel that is not a disc of one piece whatever is in it, of any
// that is not provably above the share of the recommended pressure at which it may be
// filled on the vehicle. A sound tire on a disc of one piece keeps its air.
func (w Wheel) Emptied() bool {
	if w.Servicing() != LargeWheel {
		return false
	}
	low := w.Read != unit.None && w.Label != 0 && measure.AtMost(w.found(), share("air-on-vehicle-steel", w.Label)).Outcome != measure.Above
	return handlingOf(w.Rim).emptied || low || w.Seen.Flat
}

// Large tells that the wheel is one of those that the rule speaks of.
func (w Wheel) Large() bool { return w.Servicing() == LargeWheel }

// AskRim tells that nobody told of how many pieces the wheel is, and that it matters.
func (w Wheel) AskRim() bool { return w.Servicing() != OutsideRule && w.Rim == RimNotTold }

// RimRule notes what the rule that binds here says of how the wheel is handled.
func (w Wheel) RimRule() (f finding.Finding, says bool) {
	h := handlingOf(w.Rim)
	if w.Servicing() != LargeWheel || h.note == "" || w.Bound != finding.Yes {
		return f, false
	}
	return finding.Finding{Code: h.note, Urgency: finding.Note, Positions: []layout.Position{w.At}, Rule: rule(h.by)}, true
}
