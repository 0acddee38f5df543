package visit

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// Labels are the pressures that a vehicle asks for, and the load that it carries.
type Labels struct {
	Vehicle layout.Vehicle
	Loaded  finding.Answer // loaded or towing: the label for full load counts
	Spare   Spare
	Bound   finding.Answer // whether the rule on servicing wheels of large vehicles is law here
}

// Labels are the pressures that the vehicle asks for.
func (v Visit) Labels() Labels {
	bound := finding.No
	switch doubted := v.Vehicle.Class == layout.ClassNotTold; {
	case v.Use.Country == "", v.Use.Country == "US" && doubted:
		bound = finding.NotAsked
	case v.Use.Country == "US":
		bound = finding.Yes
	}
	return Labels{v.Vehicle, v.Loaded, v.Spare, bound}
}

// Cold is the label's pressure at a position for the load carried, and the unit it is
// printed in; 0 when it is not told.
func (l Labels) Cold(p layout.Position) (unit.Pressure, unit.Unit) { return l.ColdWhen(p, l.Loaded) }

// ColdWhen is the label's pressure for another load.
func (l Labels) ColdWhen(p layout.Position, loaded finding.Answer) (unit.Pressure, unit.Unit) {
	if p.Spare {
		return l.Spare.Label, l.Spare.LabelUnit
	}
	a, ok := l.Vehicle.AxleOf(p)
	if !ok {
		return 0, unit.None
	}
	if loaded == finding.Yes && a.ColdFull > 0 || a.ColdNormal == 0 {
		return a.ColdFull, a.LabelUnit
	}
	return a.ColdNormal, a.LabelUnit
}

// Own is the pressure of a temporary spare: as printed on it, else as told of the
// vehicle's spare; 0 when nobody read it.
func (l Labels) Own(w Wheel) unit.Pressure {
	if w.Tire.Sidewall > 0 {
		return w.Tire.Sidewall
	}
	return l.Spare.Label
}

// Most is the highest pressure that the label asks for at a position, whatever the load.
func (l Labels) Most(p layout.Position) unit.Pressure {
	normal, _ := l.ColdWhen(p, finding.No)
	full, _ := l.ColdWhen(p, finding.Yes)
	return max(normal, full)
}

// Air gives a reading of a wheel's pressure as package inflation judges it.
func (l Labels) Air(w Wheel, p Pressure, on inflation.Conditions) inflation.Wheel {
	label, shown := l.Cold(w.Position)
	marking := w.Tire.Marking
	fits := marking.Class
	if a, ok := l.Vehicle.AxleOf(w.Position); ok && fits == sidewall.UnknownClass {
		fits = sidewall.Parse(a.Size).Class
	}
	kind := l.Vehicle.Class
	if l.Vehicle.MayBeLarge() && fits == sidewall.UnknownClass {
		kind = layout.Heavy
	}
	in := inflation.Wheel{
		At: w.Position, Class: l.Vehicle.Class, On: kind, Body: sidewall.BodyOf(w.Tire.Body, marking), Load: loadClass(marking, w.Tire.Sidewall),
		Found: p.Of, Read: p.Read, Gauge: p.Gauge, Label: label, LabelUnit: shown, Sidewall: w.Tire.Sidewall,
		Temperature: p.Temperature, Source: p.Source, Conditions: on, DrivenLow: w.DrivenLow, Tire: fits, Rim: w.Rim, Bound: l.Bound,
		Seen: inflation.Seen{
			Flat: w.Has(finding.ObservedFlat), AudibleLeak: w.Has(finding.ObservedAirLeak), ScuffRing: w.Has(finding.ObservedRunLowScuffRing),
			RubberDust: w.Has(finding.ObservedRunLowDust), WrinkledLiner: w.Has(finding.ObservedRunLowLinerRing), BurntSmell: w.Has(finding.ObservedRunLowSmell),
		},
	}
	if w.Temporary {
		// Its own figure counts, which stands on it, and no label of the place that it runs at.
		in.Label, in.LabelUnit, in.Body, in.Class, in.Sidewall = l.Own(w), l.Spare.LabelUnit, sidewall.FabricBody, layout.PassengerCar, 0
	}
	if w.Position.Spare {
		// It hangs in its place and carries nothing: it was not driven on.
		in.DrivenLow.Driven, in.Body, in.Class = finding.No, sidewall.FabricBody, layout.PassengerCar
		in.Conditions.DrivenHere = finding.No
	}
	return in
}

// AirLeft is the air in a wheel's tire at a pressure read when it was done. Off its rim a
// tire takes the air of the bay, and so does one let down to come off a large vehicle,
// which comes off empty (common practice).
func (v Visit) AirLeft(w Wheel, read Pressure) inflation.Wheel {
	left := v.Labels().Air(w, read, v.Conditions)
	if w.Mended.Fresh() || left.Large() && w.Fastening != nil {
		return left.Fresh()
	}
	return left
}

// Air is one wheel, by its index, as package inflation judges its pressure as found.
func (v Visit) Air(wheel int) inflation.Wheel {
	w := v.Wheels[wheel]
	return v.Labels().Air(w, w.Pressure, v.Conditions)
}

// loadClass is the row of the warning lamp's table that a tire is under: by its
// load range or load mark, else by the pressure on its sidewall.
func loadClass(m sidewall.Marking, maximum unit.Pressure) inflation.LoadClass {
	light := m.Class == sidewall.LightTruckTire
	byRange := map[string]inflation.LoadClass{"C": inflation.LoadRangeC, "D": inflation.LoadRangeD, "E": inflation.LoadRangeE}
	switch {
	case light && m.LoadRange != "":
		return byRange[m.LoadRange]
	case !light && m.LoadMark == "XL":
		return inflation.ExtraLoad
	case !light && m.LoadMark == "SL":
		return inflation.StandardLoad
	}
	return inflation.LoadClassOf(light, maximum)
}

// Carried is what the scale says of one tire.
type Carried struct {
	Share  unit.Mass
	Weight unit.Amount // of the axle
	Unit   unit.Unit
}

// Scale is what a vehicle's axles were weighed at.
type Scale struct {
	Vehicle layout.Vehicle
	Axles   []AxleWeight
}

// Scale is what the vehicle's axles were weighed at as found.
func (v Visit) Scale() Scale { return Scale{v.Vehicle, v.AxleWeights} }

// ScaleLeft is what they weigh as left, those that were weighed again.
func (v Visit) ScaleLeft() Scale { return Scale{v.Vehicle, v.AxleWeightsLeft} }

// Carried gives what the wheel at a position carries, where its axle was weighed.
// The wheels are taken to share it evenly. The heavier side carries at least that,
// so that what is found holds for one of them at any rate.
func (s Scale) Carried(p layout.Position) (Carried, bool) {
	i := slices.IndexFunc(s.Axles, func(a AxleWeight) bool { return a.Axle == p.Axle })
	if i < 0 || p.Spare {
		return Carried{}, false
	}
	a := s.Axles[i]
	wheels := 0
	for _, q := range s.Vehicle.Positions() {
		if q.Axle == p.Axle {
			wheels++
		}
	}
	return Carried{Share: a.Weight / unit.Mass(wheels), Weight: a.Weight.Amount(a.ReadIn).Rounded(), Unit: a.ReadIn}, true
}
