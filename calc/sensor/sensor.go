// Package sensor judges what the pressure sensors in the wheels say beside what
// a hand gauge says: whether they answer, agree, and are known to the vehicle at
// the place where they are. Sensor and gauge read the same air at the same time,
// so no temperature enters. What the warning lamp means beside the pressures is
// package inflation's to say.
package sensor

import (
	"math"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// Kind is how a vehicle watches its tire pressures.
type Kind uint8

// Kinds. An indirect system has no sensors, only a reset.
const (
	KindNotTold Kind = iota
	None
	Direct
	Indirect
	KindNotKnown // looked for, and not known
)

// Reading is what the sensor in one wheel says.
type Reading struct {
	Answering  finding.Answer
	Pressure   measure.Value[unit.Pressure]
	In         unit.Unit // of the pressure; None: it reports none
	BatteryLow bool
	ShownAt    layout.Position // where the vehicle shows it; the zero position when not seen
}

// Answers tells that the sensor is there and was heard.
func (r Reading) Answers() bool { return r.Answering == finding.Yes || r.In != unit.None }

// Wheel is one wheel with its sensor and what a hand gauge read at the same time.
type Wheel struct {
	At     layout.Position
	Sensor *Reading                     // nil: not read
	Gauge  measure.Value[unit.Pressure] // by another gauge than the sensor itself
	In     unit.Unit                    // of the gauge; None: not read
}

// both tells that sensor and gauge were read.
func (w Wheel) both() bool { return w.Sensor != nil && w.Sensor.In != unit.None && w.In != unit.None }

// Agree tells that sensor and gauge were read and agree within what both can be off.
func (w Wheel) Agree() bool { return w.both() && !Apart(w.Sensor.Pressure, w.Gauge) }

// off is by how much the sensor reads above the gauge.
func (w Wheel) off() measure.Value[unit.Pressure] { return w.Sensor.Pressure.Minus(w.Gauge) }

// Apart tells that two readings differ by more than both can explain. Whole psi of common
// gauges can lie exactly at that border, and a change of unit must not move them
// across it.
func Apart(a, b measure.Value[unit.Pressure]) bool {
	d := a.Minus(b)
	const closeness = 1e-9
	return math.Abs(float64(d.Of)) > measure.Coverage*d.Std*(1+closeness)
}

// Result is what is said about the sensors of a vehicle.
type Result struct {
	Findings []finding.Finding
	Agree    []layout.Position // sensor and gauge agree within what both can be off
	Ask      bool              // sensors were read on a vehicle that is said to have none
}
