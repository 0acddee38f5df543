package questions

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// FiguresIn is the pressure of one tire, wherever its wheel is.
type FiguresIn struct {
	Air  inflation.Wheel
	Tire visit.Tire
	Read bool // else the pressure is the label's, and only what to set is asked
}

// FiguresAnswer are the figures of one tire's pressure; 0 for one that is not told.
type FiguresAnswer struct {
	Answer
	SetNow   unit.Pressure // on the gauge now, so that the tire has the label's pressure cold
	LampOn   unit.Pressure // at or under which the warning lamp has to be on
	Supports unit.Mass     // the load, at the lowest cold pressure that fits what is known
}

// Figures work out what the pressure of one tire comes to.
func Figures(in FiguresIn) FiguresAnswer {
	found := inflation.Judge(in.Air)
	return FiguresAnswer{SetNow: in.setNow(found), LampOn: in.lampOn(), Supports: in.supports(found)}
}

// setNow is 0 where the label is not told, where the tire holds as much already, as air is
// never let out of a warm tire, and where no air may go in: the inside has to be seen
// first, or the label asks for more than the sidewall allows.
func (in FiguresIn) setNow(found inflation.Result) unit.Pressure {
	set := in.Air.SetNow()
	if in.Air.Label == 0 || found.NoAir || found.Has(finding.InflationLabelAboveSidewall) || in.Read && set.Show <= in.Air.Found {
		return 0
	}
	return set.Show
}

// lampOn is the pressure at which the warning lamp of a new light vehicle has to be on
// (49 CFR 571.138 S4.2(a)); 0 where the rule does not speak of the wheel.
func (in FiguresIn) lampOn() unit.Pressure {
	light := in.Air.Class == layout.PassengerCar || in.Air.Class == layout.LightTruck
	if !light || in.Air.At.Dual != layout.Single || in.Air.Label == 0 {
		return 0
	}
	threshold, _ := inflation.LampThreshold(in.Air.Label, in.Air.Load)
	return threshold
}

// supports is 0 without a reading, where the tire's own marking does not tell what it
// carries, below the lowest published figure of its class, and where the tire has to be
// seen inside first. Where the load mark is not told, it is the lesser of standard and
// extra load. It does not make the tire fit to run.
func (in FiguresIn) supports(found inflation.Result) unit.Mass {
	rating, known := in.Tire.Rating()
	if !in.Read || !known || !in.Air.Class.Judged() || found.NoAir || found.Cold.Basis == inflation.BasisNone {
		return 0
	}
	load, ok := rating.Least().Load(found.Cold.Low, in.Air.At.Dual != layout.Single)
	if !ok {
		return 0
	}
	return load
}
