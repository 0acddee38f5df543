package inflation

import (
	"time"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// GaugeKind is the kind of pressure gauge in the hand.
type GaugeKind uint8

// Kinds of gauges.
const (
	GaugeNotTold GaugeKind = iota
	Digital
	Dial
	Stick
	Inflator
	TPMS // the sensor in the wheel, read by a tool or by the dash
)

// GaugeOf fills what is not told (zero) of a gauge with what is common for its
// kind: one step of 1 psi, an accuracy of ±1 psi (digital, dial), ±1.5 (TPMS),
// ±2 (stick, not told) or ±3 (inflator), in whatever unit it was read.
func GaugeOf(kind GaugeKind, told measure.Gauge[unit.Pressure]) measure.Gauge[unit.Pressure] {
	ids := [...]string{"gauge-not-told", "gauge-digital", "gauge-dial", "gauge-stick", "gauge-inflator", "gauge-tpms"}
	if int(kind) >= len(ids) {
		kind = GaugeNotTold
	}
	if told.Accuracy == 0 {
		told.Accuracy = limit(ids[kind]).Pressure()
	}
	if told.Resolution == 0 {
		told.Resolution = limit("gauge-resolution").Pressure()
	}
	return told
}

// Source is where a tire's temperature comes from.
type Source uint8

// Sources.
const (
	NoTemperature Source = iota
	Sensor               // in the wheel: the contained air, ±3 °C
	Infrared             // on the sidewall: the surface, ±10 °C
	FromDrive            // estimated from the drive, ±15 °C
	AirAround            // cold: that of the air around it
)

// Conditions are what is known around the reading. They are mostly the same
// for all wheels of a visit.
type Conditions struct {
	Here    unit.Temperature // air where the tire was read, 0 when not told
	Outside unit.Temperature // outside, when the tire was read in a bay; 0 when read outside or not told
	Air     unit.AirPressure // 0: the standard atmosphere at sea level

	Coldest unit.Temperature // of the mornings to set for, 0 when not told
	There   unit.AirPressure // where it will be driven, 0 when that is here or not told

	DrivenHere finding.Answer // did the vehicle drive here
	Distance   unit.Distance  // how far, 0 when not told
	Parked     time.Duration  // since then, 0 when not told
	Sun        finding.Answer // does the sun stand on this side
}

// cold is the temperature at which the label's figure is meant.
func (c Conditions) cold() unit.Temperature {
	if c.Outside != 0 {
		return c.Outside
	}
	return c.Here
}

// inWarmBay tells that the tire stands in air warmer than outside. A bay
// cooler than outside is not credited: compensation goes upward only.
func (c Conditions) inWarmBay() bool {
	return c.Outside != 0 && measure.AtMost(measure.Exact(c.Here), c.Outside).Outcome == measure.Above
}

// DrivenLow is what is known of driving on the tire while it was low.
type DrivenLow struct {
	Driven   finding.Answer // anything but No counts as driven
	Distance unit.Distance  // 0 when not told
	Loaded   finding.Answer
}

// Seen is what was seen, felt or heard of this tire that speaks of pressure.
type Seen struct {
	Flat          bool
	AudibleLeak   bool
	ScuffRing     bool // all round a sidewall
	RubberDust    bool // inside
	WrinkledLiner bool // or a discolored ring in it
	BurntSmell    bool
}

// ranLow lists the marks that say a tire ran low.
func (s Seen) ranLow() []finding.Evidence {
	var es []finding.Evidence
	for _, m := range []struct {
		seen bool
		code finding.Fact
	}{
		{s.ScuffRing, finding.FactInflationScuffRing},
		{s.RubberDust, finding.FactInflationRubberDust},
		{s.WrinkledLiner, finding.FactInflationWrinkledLiner},
		{s.BurntSmell, finding.FactInflationBurntSmell},
	} {
		if m.seen {
			es = append(es, finding.Evidence{Code: m.code})
		}
	}
	return es
}

// Wheel is one tire with all that judging its pressure can use. Everything but
// the class may be missing; what is missing narrows the answer and is named in it.
type Wheel struct {
	At    layout.Position // the zero position when there is none
	Class layout.Class
	Body  sidewall.BodyPly
	Load  LoadClass // for the threshold of the warning lamp

	Found unit.Pressure                // as found, before anything was touched
	Read  unit.Unit                    // the unit it was read in; None: no reading
	Gauge measure.Gauge[unit.Pressure] // see GaugeOf; a zero gauge makes the reading exact

	Label     unit.Pressure // cold, for the load carried; 0 when not told
	LabelUnit unit.Unit     // None: as read
	Sidewall  unit.Pressure // maximum on the sidewall, a cold figure; 0 when not told

	Temperature unit.Temperature // of the tire, with its source
	Source      Source

	Conditions Conditions
	DrivenLow  DrivenLow
	Seen       Seen
}

// ShownIn is the unit that the wheel's figures are shown in.
func (w Wheel) ShownIn() unit.Unit { return w.unit() }

func (w Wheel) unit() unit.Unit {
	switch {
	case w.LabelUnit != unit.None:
		return w.LabelUnit
	case w.Read != unit.None:
		return w.Read
	}
	return unit.PSI
}

// Shown gives a pressure as the wheel's figures are shown: in the label's unit, else as
// read, else in psi.
func (w Wheel) Shown(p unit.Pressure) unit.Amount { return p.Amount(w.unit()).Rounded() }

// found is the reading as found with its uncertainty.
func (w Wheel) found() measure.Value[unit.Pressure] { return w.Gauge.Read(w.Found) }

// construction is which rule of running low a tire is under.
type construction uint8

const (
	fabric construction = iota
	steel
	bodyNotTold // a light truck, or no class: fabric or steel, nobody said
)

// construction goes by the body where it is told. Trucks, buses and trailers
// are under the steel rule whatever is told; a car is under the fabric rule
// unless its tires say steel.
func (w Wheel) construction() construction {
	switch w.Class {
	case layout.Heavy, layout.Bus, layout.Trailer:
		return steel
	}
	switch w.Body {
	case sidewall.SteelBody:
		return steel
	case sidewall.FabricBody:
		return fabric
	}
	switch w.Class {
	case layout.PassengerCar:
		return fabric
	case layout.Motorhome:
		return steel
	}
	return bodyNotTold
}

// heavy tells whether the tire warms as heavy truck tires do.
func (w Wheel) heavy() bool {
	switch w.Class {
	case layout.Heavy, layout.Bus:
		return true
	case layout.Trailer, layout.Motorhome:
		return w.Body == sidewall.SteelBody
	}
	return false
}

var book = rulebook.Must("pressure")

func limit(id string) rulebook.Limit { return book.Limit(id) }

func rule(id string) finding.Rule { return book.RuleOf(limit(id)) }

// share is the limit's percentage of a pressure.
func share(id string, of unit.Pressure) unit.Pressure {
	return unit.Pressure(float64(limit(id).Ratio()) * float64(of))
}

// Fresh is the tire after it was off its rim: the air in it is that of the bay, whatever
// the drive had warmed before.
func (w Wheel) Fresh() Wheel {
	w.Temperature, w.Source = 0, NoTemperature
	w.Conditions.DrivenHere, w.Conditions.Distance, w.Conditions.Sun = finding.No, 0, finding.No
	w.Conditions.Parked = 24 * time.Hour
	return w
}
