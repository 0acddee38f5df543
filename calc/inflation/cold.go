package inflation

import (
	"math"
	"time"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// What a cold equivalent rests on. The codes are also evidence.
const (
	BasisNone = "" // no reading

)

// Cold is what the tire would read cold, at the temperature of the air outside.
type Cold struct {
	// Value is the best figure with its standard uncertainty: the gauge's, and
	// the temperature's as a rectangular distribution of half-width (High-Low)/2
	// (JCGM 100:2008, 4.3.7).
	Value     measure.Value[unit.Pressure]
	Low, High unit.Pressure // what the temperature alone leaves open
	About     bool          // to be said "about": neither cold nor measured by a sensor
	Warm      bool          // the tire is known to be warmer than the air outside
	Basis     finding.Fact
}

// Cold gives the cold equivalent of the reading as found. Without a reading
// its Basis is BasisNone.
func (w Wheel) Cold() Cold {
	if w.Read == unit.None {
		return Cold{}
	}
	c, state := w.Conditions, w.Conditions.state()
	reference := c.cold()
	measured := w.Source != NoTemperature && w.Temperature != 0 && reference != 0
	exact := (state == standing || w.Source == AirAround) && !c.inWarmBay()
	switch {
	// A sensor outranks what was told, unless it only repeats it.
	case measured && w.Source == Sensor && !(exact && w.repeats(reference)):
		return w.converted(w.Temperature, halfWidth("temperature-sensor"), finding.FactInflationBasisSensor)
	case exact:
		return Cold{Value: w.found(), Low: w.Found, High: w.Found, Basis: finding.FactInflationBasisCold}
	case state == standing && c.soaked(), w.Source == AirAround:
		return w.converted(c.Here, halfWidth("temperature-bay"), finding.FactInflationBasisBay)
	case state == standing: // somewhere between outside and the bay
		least := AtTemperature(w.Found, c.Here, reference, c.Air)
		return w.between(least, w.Found, finding.FactInflationBasisBay, true)
	case measured && w.Source == Infrared:
		return w.converted(w.Temperature, halfWidth("temperature-infrared"), finding.FactInflationBasisInfrared)
	case measured && w.Source == FromDrive:
		return w.converted(w.Temperature, halfWidth("temperature-drive"), finding.FactInflationBasisDrive)
	}
	from, to := w.rise()
	least := w.Found - to
	if state == driven {
		return w.between(least, w.Found-from, finding.FactInflationBasisWarm, true)
	}
	if c.inWarmBay() {
		least = min(least, AtTemperature(w.Found, c.Here, reference, c.Air))
	}
	if state == sunlit {
		return w.between(least, w.Found, finding.FactInflationBasisSun, false)
	}
	return w.between(least, w.Found, finding.FactInflationBasisNotTold, false)
}

// repeats tells that the sensor's temperature is, as far as the sensor can tell,
// the one that was told.
func (w Wheel) repeats(told unit.Temperature) bool {
	off := math.Abs(float64(w.Temperature - told))
	return measure.AtMost(measure.Exact(off), halfWidth("temperature-sensor")).Outcome == measure.Below
}

// converted brings the reading from the tire's temperature, known to ± half
// kelvin, to the air outside.
func (w Wheel) converted(tire unit.Temperature, half float64, basis finding.Fact) Cold {
	to, air := w.Conditions.cold(), w.Conditions.Air
	c := Cold{
		Low:   AtTemperature(w.Found, tire+unit.Temperature(half), to, air),
		High:  AtTemperature(w.Found, tire-unit.Temperature(half), to, air),
		About: basis != finding.FactInflationBasisSensor,
		Warm:  measure.AtMost(measure.Exact(tire), to).Outcome == measure.Above,
		Basis: basis,
	}
	gauge := w.Gauge.Std() * float64(to) / float64(tire)
	c.Value = measure.Value[unit.Pressure]{
		Of:  AtTemperature(w.Found, tire, to, air),
		Std: math.Hypot(gauge, rectangular(c.Low, c.High)),
	}
	return c
}

// between takes the middle of an interval.
func (w Wheel) between(low, high unit.Pressure, basis finding.Fact, warm bool) Cold {
	return Cold{
		Value: measure.Value[unit.Pressure]{
			Of:  (low + high) / 2,
			Std: math.Hypot(w.Gauge.Std(), rectangular(low, high)),
		},
		Low: low, High: high, About: true, Warm: warm, Basis: basis,
	}
}

func rectangular(low, high unit.Pressure) float64 { return float64(high-low) / 2 / math.Sqrt(3) }

// rise is by how much driving has raised the pressure, least and most; never
// more than the tire holds.
func (w Wheel) rise() (from, to unit.Pressure) {
	if w.heavy() {
		from, to = limit("warm-heavy-from").Pressure(), limit("warm-heavy-to").Pressure()
	} else {
		air := float64(orStandard(w.Conditions.Air))
		factor := max(1, (float64(w.Found)+air)/(float64(limit("warm-light-at").Pressure())+air))
		from = unit.Pressure(factor * float64(limit("warm-light-from").Pressure()))
		to = unit.Pressure(factor * float64(limit("warm-light-to").Pressure()))
	}
	holds := max(w.Found, 0)
	return min(from, holds), min(to, holds)
}

// state is whether a tire has been warmed.
type state uint8

const (
	notTold state = iota
	standing
	driven
	sunlit
)

func (c Conditions) state() state {
	s := notTold
	switch {
	case c.Parked >= coldParked(), c.DrivenHere == finding.No:
		s = standing
	case c.Distance > 0 && measure.AtLeast(measure.Exact(c.Distance), coldDistance()).Outcome == measure.Below:
		s = standing
	case c.Distance > 0, c.DrivenHere == finding.Yes:
		return driven
	}
	if s == standing && c.Sun == finding.Yes {
		return sunlit
	}
	return s
}

// soaked tells that the tire has stood in the bay long enough to have its
// temperature.
func (c Conditions) soaked() bool {
	return c.Parked >= coldParked() || c.Parked == 0 && c.DrivenHere == finding.No
}

func coldParked() time.Duration {
	return time.Duration(limit("cold-parked").Value.Number * float64(time.Hour))
}

func coldDistance() unit.Distance {
	l := limit("cold-distance")
	return unit.MustDistance(l.Value.Number, l.Value.Unit)
}

func halfWidth(id string) float64 { return limit(id).Value.Number }
