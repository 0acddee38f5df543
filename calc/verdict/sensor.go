package verdict

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/sensor"
	"gaugebook.dev/calc/unit"
)

// Reset is what was done by the end so that the vehicle knows its sensors and
// pressures again.
type Reset uint8

// Resets.
const (
	ResetNotTold Reset = iota
	Relearned          // sensors learned to their places
	ResetOnly          // system reset, no places learned
	ResetNotNeeded
	ResetNotDone // needed, and not done
)

// Sensed is what the sensor in a wheel said, and what a hand gauge read with it.
type Sensed struct {
	Sensor *sensor.Reading // nil: not read
	Hand   Pressure        // by another gauge than the sensor; None as its unit: not read
}

func (s Sensed) at(p layout.Position) sensor.Wheel {
	w := sensor.Wheel{At: p, Sensor: s.Sensor}
	if s.Hand.Read != unit.None {
		w.Gauge, w.In = s.Hand.Gauge.Read(s.Hand.Of), s.Hand.Read
	}
	return w
}

const (
	relearnOwed finding.Code = "sensor.relearn-owed"
	lampAsLeft  finding.Code = "sensor.lamp-as-left"
	resetSystem finding.Code = "sensor.reset"
	renewSensor finding.Code = "sensor.renew"
)

// watched tells that something in the vehicle watches its pressures, or may. A
// lamp that is lit tells that something does.
func (j *judging) watched() bool { return j.v.Monitoring != sensor.None || lit(j.v.Lamp) }

// sensors judges what the sensors say, and what was done about them by the end.
func (j *judging) sensors() {
	var found []sensor.Wheel
	for _, w := range j.v.Wheels {
		found = append(found, w.Sensed.at(w.Position))
	}
	r := sensor.Judge(j.v.Monitoring, found)
	for _, f := range r.Findings {
		if slices.ContainsFunc(j.out.Findings, func(g finding.Finding) bool { return g.ID() == f.ID() }) {
			continue // observed too
		}
		j.find(f)
		switch f.Code {
		case sensor.NotAnswering:
			j.do(answerSensor, f.Positions...)
		case sensor.BatteryLow:
			j.work.add(Work{Code: renewSensor, Positions: f.Positions, Condition: "when.tire-comes-off"})
		case sensor.Differs, sensor.AllDiffer, sensor.NotLearned:
			j.work.add(Work{Code: measureToSettle, Positions: f.Positions, Settle: f.ToSettle})
		}
	}
	for _, p := range r.Agree {
		j.kept(Checked{Code: sensor.Agrees, Positions: []layout.Position{p}})
	}
	if r.Ask {
		j.ask(sensor.AskKind)
	}
	if j.v.Reset == ResetNotDone {
		j.find(finding.Finding{Code: relearnOwed, Urgency: finding.ThisVisit, Rule: practice})
	}
	if lit(j.v.LampLeft) && j.v.LampLeft != j.v.Lamp {
		j.find(finding.Finding{Code: lampAsLeft, Urgency: finding.ThisVisit, Rule: practice})
	}
	j.lampSpeaks()
}

func lit(l inflation.Lamp) bool { return l == inflation.LampOn || l == inflation.LampFlashing }

// lampSpeaks puts beside a lamp that no pressure explains what of this visit may:
// a full-size spare may carry a sensor of its own, and a sensor may be wrong.
func (j *judging) lampSpeaks() {
	var es []finding.Evidence
	say := func(code finding.Code, holds bool) {
		if holds {
			es = append(es, finding.Evidence{Code: code})
		}
	}
	has := func(code finding.Code) bool {
		return slices.ContainsFunc(j.out.Findings, func(f finding.Finding) bool { return f.Code == code })
	}
	spare := layout.Position{Spare: true}
	short := j.air[spare].Has(inflation.Low) || j.air[spare].Has(inflation.BelowLabel) || j.air[spare].Has(inflation.Flat) || j.air[spare].Has(inflation.FindLeak)
	say("sensor.spare-short", j.v.Spare.FullSize && short)
	say("sensor.spare-not-read", j.v.Spare.FullSize && j.airIn[spare].Read == unit.None)
	say("sensor.reports-low", slices.ContainsFunc(j.v.Wheels, j.sensedLow))
	say("sensor.one-silent", has(sensor.NotAnswering))
	say("sensor.one-battery-low", has(sensor.BatteryLow))
	say("sensor.places-mixed", has(sensor.NotLearned))
	for i := range j.out.Findings {
		if f := &j.out.Findings[i]; f.Code == inflation.LampOnPressuresRight || f.Code == inflation.LampFlashes {
			f.Evidence = slices.Concat(f.Evidence, es)
		}
	}
}

// sensedLow: the sensor reports, provably, less than the label.
func (j *judging) sensedLow(w Wheel) bool {
	label, _ := j.label(w.Position)
	s := w.Sensed.Sensor
	return s != nil && s.In != unit.None && label != 0 && measure.AtLeast(s.Pressure, label).Outcome == measure.Below
}

// sensorsLeft closes what was found of sensors and lamp by what they say at the end.
func (j *judging) sensorsLeft() {
	left := map[layout.Position]sensor.Wheel{}
	for _, w := range j.v.Wheels {
		left[w.Position] = w.SensedLeft.at(w.Position)
	}
	for _, f := range j.out.Findings {
		switch f.Code {
		case sensor.NotAnswering, sensor.BatteryLow:
			if s := left[f.Positions[0]].Sensor; s != nil && s.Answers() && !s.BatteryLow {
				j.out.Done[f.ID()] = "closed.sensor-answers"
			}
		case sensor.Differs:
			if w := left[f.Positions[0]]; w.Agree() {
				j.out.Closed[f.ID()] = w.Sensor.Pressure.Of.Amount(w.In).Rounded()
			}
		case sensor.NotLearned:
			if j.placesKnown(f.Positions, left) {
				j.out.Done[f.ID()] = "closed.sensor-relearned"
			}
		case inflation.LampOnLowTire, inflation.LampOnPressuresRight, inflation.LampFlashes:
			// Where not every tire was read, a lamp that went out says nothing.
			if j.v.LampLeft == inflation.LampOff {
				j.out.Done[f.ID()] = "closed.lamp-out"
			}
		}
	}
}

// placesKnown: the vehicle shows each sensor where it is, or they were learned
// and nothing shown speaks against it. A reset alone learns no places.
func (j *judging) placesKnown(at []layout.Position, left map[layout.Position]sensor.Wheel) bool {
	learned := j.v.Reset == Relearned || slices.ContainsFunc(j.v.Done, func(d Done) bool { return d.Kind == "sensor-relearned" })
	for _, p := range at {
		s := left[p].Sensor
		shown := s != nil && s.ShownAt != (layout.Position{})
		if shown && s.ShownAt != p || !shown && !learned {
			return false
		}
	}
	return j.v.Reset != ResetNotDone
}

// sensorWork is what sensors and lamp need after the work: places learned where
// wheels changed them, a reset where an indirect system watches new pressures.
func (j *judging) sensorWork(off []layout.Position) {
	if !j.watched() {
		return
	}
	changed := len(j.work.at(deeperToRear)) > 0 || slices.ContainsFunc(j.v.Done, func(d Done) bool { return d.Kind == "tires-rotated" })
	asked := slices.ContainsFunc(j.out.Findings, func(f finding.Finding) bool {
		return (f.Code == sensor.NotLearned || f.Code == relearnOwed) && !j.closed(f)
	})
	item := Work{Code: relearnSensors}
	if j.v.Monitoring == sensor.Indirect {
		item.Code = resetSystem
		changed = changed || len(off) > 0 || len(j.work.at(setAir, matchMates, lowerAir)) > 0
	}
	switch {
	case !asked && (j.v.Reset == Relearned || j.v.Reset == ResetNotNeeded || j.v.Reset == ResetOnly && j.v.Monitoring == sensor.Indirect):
	case changed || asked:
		j.work.add(item)
	case len(off) > 0:
		item.Condition = "when.wheels-changed-place"
		j.work.add(item)
	}
	known := j.v.Monitoring == sensor.Direct || j.v.Monitoring == sensor.Indirect
	if j.v.LampLeft == inflation.LampNotTold && (lit(j.v.Lamp) || len(off) > 0 && known) || lit(j.v.LampLeft) {
		j.do(checkLamp)
	}
}
