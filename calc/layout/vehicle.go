package layout

import (
	"fmt"
	"slices"

	"gaugebook.dev/calc/unit"
)

// Class is the kind of vehicle a law speaks of.
type Class uint8

// Classes. From Motorcycle on they are recorded and answered "not judged here".
const (
	ClassNotTold Class = iota
	PassengerCar
	LightTruck
	Heavy
	Bus
	Trailer
	Motorhome
	Motorcycle
	Farm
	Earthmover
	Military
	Race
	UnknownClass // sent by a newer phone
)

// Judged tells whether this product judges tires of the class at all.
func (c Class) Judged() bool { return c <= Motorhome }

// Axle is one axle of a vehicle.
type Axle struct {
	Dual       bool
	Steered    bool
	Driven     bool
	Rating     unit.Mass     // gross axle weight rating, 0 when not told
	Size       string        // designation on the door label, as printed
	ColdNormal unit.Pressure // label pressure, 0 when not told
	ColdFull   unit.Pressure // label pressure for full load, 0 when not told
	LabelUnit  unit.Unit     // the unit the label is printed in
}

// Vehicle is what the judgement needs to know of a vehicle.
type Vehicle struct {
	Class       Class
	Drive       Drive
	GrossRating unit.Mass  // gross vehicle weight rating, 0 when not told
	Fastest     unit.Speed // highest speed that it is built for, 0 when not told
	Seats       int        // the driver's included, 0 when not told
	Doubted     bool       // class and rating contradicted each other, and neither is kept
	Axles       []Axle     // from the front
}

// Positions lists every wheel of the vehicle in order, without the spare.
func (v Vehicle) Positions() []Position {
	var ps []Position
	for i, a := range v.Axles {
		duals := []Dual{Single}
		if a.Dual {
			duals = []Dual{Inner, Outer}
		}
		for _, side := range []Side{Left, Right} {
			for _, d := range duals {
				ps = append(ps, Position{Axle: i + 1, Side: side, Dual: d})
			}
		}
	}
	return ps
}

// Has tells whether the vehicle has the position; the error names those it has.
func (v Vehicle) Has(p Position) error {
	if p.Spare {
		return nil
	}
	all := v.Positions()
	if slices.Contains(all, p) {
		return nil
	}
	if p.Axle > len(v.Axles) {
		return fmt.Errorf("the vehicle has %d axles: its positions are %v", len(v.Axles), all)
	}
	var here []Position
	for _, q := range all {
		if q.Axle == p.Axle {
			here = append(here, q)
		}
	}
	return fmt.Errorf("axle %d has the positions %v", p.Axle, here)
}

// AxleOf gives the axle of a position; ok is false for the spare and for a
// position the vehicle does not have.
func (v Vehicle) AxleOf(p Position) (a Axle, ok bool) {
	if p.Spare || p.Axle < 1 || p.Axle > len(v.Axles) {
		return Axle{}, false
	}
	a = v.Axles[p.Axle-1]
	if a.Dual != (p.Dual != Single) {
		return Axle{}, false
	}
	return a, true
}

// Light tells that it is a passenger car or a light truck, or may be.
func (v Vehicle) Light() bool {
	return v.Class == PassengerCar || v.Class == LightTruck || v.Class == ClassNotTold
}

// MayBeLarge tells of a vehicle whose class is not known that it may be a truck: more axles
// than a pickup has, a rating over 10,000 lb, or a class that contradicted its rating.
func (v Vehicle) MayBeLarge() bool {
	return v.Class == ClassNotTold && (v.Doubted || len(v.Axles) > 2 || v.GrossRating > tenThousandPounds)
}

var tenThousandPounds = unit.MustMass(10_000, unit.Pounds)

// Front tells whether the position is on the front axle. A trailer has none.
func (v Vehicle) Front(p Position) bool {
	return p.Axle == 1 && !p.Spare && v.Class != Trailer
}
