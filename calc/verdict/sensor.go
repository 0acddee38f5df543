package verdict

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/sensor"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// sensors judges what the sensors say, and what was done about them by the end.
func (j *judging) sensors() {
	var found []sensor.Wheel
	for _, w := range j.v.Wheels {
		found = append(found, w.Sensed.At(w.Position))
	}
	r := sensor.Judge(j.v.Monitoring, found)
	for _, f := range r.Findings {
		if slices.ContainsFunc(j.out.Findings, func(g finding.Finding) bool { return g.ID() == f.ID() }) {
			continue // observed too
		}
		j.find(f)
		switch k := finding.KindOf(f.Code); k.Work {
		case finding.WorkSensorRenew:
			j.work.add(Work{Code: k.Work, Positions: f.Positions, Condition: finding.WhenTireComesOff})
		case finding.WorkMeasureToSettle:
			j.work.add(Work{Code: k.Work, Positions: f.Positions, Settle: f.ToSettle})
		default:
			j.do(k.Work, f.Positions...)
		}
	}
	for _, p := range r.Agree {
		j.kept(Checked{Code: finding.CheckedSensorAgrees, Positions: []layout.Position{p}})
	}
	if r.Ask {
		j.ask(finding.AskTpmsKind)
	}
	if j.v.Reset == visit.ResetNotDone {
		j.find(finding.Finding{Code: finding.SensorRelearnOwed, Urgency: finding.ThisVisit, Rule: practice})
	}
	if j.v.LampLeft.Lit() && j.v.LampLeft != j.v.Lamp {
		j.find(finding.Finding{Code: finding.SensorLampAsLeft, Urgency: finding.ThisVisit, Rule: practice})
	}
	j.lampSpeaks()
}

// lampSpeaks puts beside a lamp that no pressure explains what of this visit may:
// a full-size spare may carry a sensor of its own, and a sensor may be wrong.
func (j *judging) lampSpeaks() {
	var es []finding.Evidence
	say := func(code finding.Fact, holds bool) {
		if holds {
			es = append(es, finding.Evidence{Code: code})
		}
	}
	has := func(code finding.Code) bool {
		return slices.ContainsFunc(j.out.Findings, func(f finding.Finding) bool { return f.Code == code })
	}
	spare := layout.Position{Spare: true}
	short := j.air[spare].Has(finding.InflationLow) || j.air[spare].Has(finding.InflationBelowLabel) || j.air[spare].Has(finding.InflationFlat) || j.air[spare].Has(finding.InflationFindLeak)
	say(finding.FactSensorSpareShort, j.v.Spare.FullSize && short)
	say(finding.FactSensorSpareNotRead, j.v.Spare.FullSize && j.airIn[spare].Read == unit.None)
	say(finding.FactSensorReportsLow, slices.ContainsFunc(j.v.Wheels, j.sensedLow))
	say(finding.FactSensorOneSilent, has(finding.SensorNotAnswering))
	say(finding.FactSensorOneBatteryLow, has(finding.SensorBatteryLow))
	say(finding.FactSensorPlacesMixed, has(finding.SensorNotLearned))
	for i := range j.out.Findings {
		if f := &j.out.Findings[i]; f.Code == finding.InflationLampOnPressuresRight || f.Code == finding.InflationLampFlashing {
			f.Evidence = slices.Concat(f.Evidence, es)
		}
	}
}

// sensedLow: the sensor reports, provably, less than the label.
func (j *judging) sensedLow(w visit.Wheel) bool {
	label, _ := j.v.Labels().Cold(w.Position)
	s := w.Sensed.Sensor
	return s != nil && s.In != unit.None && label != 0 && measure.AtLeast(s.Pressure, label).Outcome == measure.Below
}

// sensorsLeft closes what was found of sensors and lamp by what they say at the end.
func (j *judging) sensorsLeft() {
	left := map[layout.Position]sensor.Wheel{}
	for _, w := range j.v.Wheels {
		left[w.Position] = w.SensedLeft.At(w.Position)
	}
	for _, f := range j.out.Findings {
		switch finding.KindOf(f.Code).Left {
		case finding.LeftSensor:
			if s := left[f.Positions[0]].Sensor; s != nil && s.Answers() && !s.BatteryLow {
				j.out.Done[f.ID()] = finding.ClosedSensorAnswers
			}
		case finding.LeftAgreeing:
			if w := left[f.Positions[0]]; w.Agree() {
				j.out.Closed[f.ID()] = w.Sensor.Pressure.Of.Amount(w.In).Rounded()
			}
		case finding.LeftLearned:
			if j.placesKnown(f.Positions, left) {
				j.out.Done[f.ID()] = finding.ClosedSensorRelearned
			}
		case finding.LeftLamp:
			// Where not every tire was read, a lamp that went out says nothing.
			if j.v.LampLeft == inflation.LampOff {
				j.out.Done[f.ID()] = finding.ClosedLampOut
			}
		}
	}
}

// placesKnown: the vehicle shows each sensor where it is, or they were learned
// and nothing shown speaks against it. A reset alone learns no places.
func (j *judging) placesKnown(at []layout.Position, left map[layout.Position]sensor.Wheel) bool {
	learned := j.v.Reset == visit.Relearned || slices.ContainsFunc(j.v.Done, func(d visit.Done) bool { return d.Kind == finding.DoneSensorRelearned })
	for _, p := range at {
		s := left[p].Sensor
		shown := s != nil && s.ShownAt != (layout.Position{})
		if shown && s.ShownAt != p || !shown && !learned {
			return false
		}
	}
	return j.v.Reset != visit.ResetNotDone
}

// sensorWork is what sensors and lamp need after the work: places learned where
// wheels changed them, a reset where an indirect system watches new pressures.
func (j *judging) sensorWork(off []layout.Position) {
	if !j.v.Watched() {
		return
	}
	changed := len(j.work.at(finding.WorkTiresDeeperPairToRear)) > 0 || slices.ContainsFunc(j.v.Done, func(d visit.Done) bool { return d.Kind == finding.DoneTiresRotated })
	asked := slices.ContainsFunc(j.out.Findings, func(f finding.Finding) bool {
		return (f.Code == finding.SensorNotLearned || f.Code == finding.SensorRelearnOwed) && !j.closed(f)
	})
	item := Work{Code: finding.WorkSensorRelearn}
	if j.v.Monitoring == sensor.Indirect {
		item.Code = finding.WorkSensorReset
		changed = changed || len(off) > 0 || len(j.work.at(finding.WorkAirSet, finding.WorkAirMatchMates, finding.WorkAirLowerCold)) > 0
	}
	switch {
	case !asked && (j.v.Reset == visit.Relearned || j.v.Reset == visit.ResetNotNeeded || j.v.Reset == visit.ResetOnly && j.v.Monitoring == sensor.Indirect):
	case changed || asked:
		j.work.add(item)
	case len(off) > 0:
		item.Condition = finding.WhenWheelsChangedPlace
		j.work.add(item)
	}
	known := j.v.Monitoring == sensor.Direct || j.v.Monitoring == sensor.Indirect
	if j.v.LampLeft == inflation.LampNotTold && (j.v.Lamp.Lit() || len(off) > 0 && known) || j.v.LampLeft.Lit() {
		j.do(finding.WorkLampCheck)
	}
}
