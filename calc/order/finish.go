package order

import (
	"slices"
	"time"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sensor"
	"gaugebook.dev/calc/visit"
)

// setPressures sets every tire that was found short or is mounted or moved. No
// warm tire is ever let down.
func (in In) setPressures(l lines) (all []Work) {
	filled, moved := l.at(finding.WorkTireMount), l.at(finding.WorkTiresDeeperPairToRear)
	for _, w := range in.Visit.Wheels {
		if p := w.Position; !in.setAlready(p) {
			all = append(all, in.setPressure(p, filled[p], moved[p])...)
		}
	}
	return all
}

func (in In) setPressure(p layout.Position, filled, moved bool) []Work {
	air, r := in.Facts.Air.Airs.Wheels[p], in.Facts.Air.Airs.Results[p]
	t := r.Target
	switch {
	case filled && r.MatchMates > 0 && p.Dual == layout.Single:
		t.Show, t.Amount, t.Why, t.About = r.MatchMates, air.Shown(r.MatchMates), finding.TargetMates, true
		t.FinishCold = true
	case filled:
		t = setFresh(air)
	case moved && (t.Show == 0 || t.Why == finding.TargetLetDown):
		t = air.SetNow()
	}
	line := Work{Code: finding.WorkAirSet, Positions: []layout.Position{p}, Target: t.Amount.ToSet(), About: t.About, FinishCold: t.FinishCold}
	switch {
	case t.Why == finding.TargetNoLabel && (filled || moved):
		line.Condition = finding.WhenLabelIsRead
	case t.Show == 0:
		return nil
	case t.Why == finding.TargetMates:
		line.Code = finding.WorkAirMatchMates
	case t.Why == finding.TargetLetDown:
		line.Code = finding.WorkAirLowerCold
	}
	return []Work{line}
}

// setFresh is the figure for a tire that was off its rim: the air in it is that
// of the bay, whatever the drive had warmed before.
func setFresh(w inflation.Wheel) inflation.Target {
	w.Temperature, w.Source = 0, inflation.NoTemperature
	w.Conditions.DrivenHere, w.Conditions.Distance, w.Conditions.Sun = finding.No, 0, finding.No
	w.Conditions.Parked = 24 * time.Hour
	return w.SetNow()
}

// setAlready tells that the tire was set already, as its as-left reading proves.
func (in In) setAlready(p layout.Position) bool {
	return slices.ContainsFunc(in.Findings, func(f finding.Finding) bool {
		return finding.KindOf(f.Code).Left == finding.LeftPressure && in.Left.ByReading(f) && slices.Equal(f.Positions, []layout.Position{p})
	})
}

// setsAir tells that a line sets pressures to what the label asks for.
func setsAir(k finding.WorkKind) bool {
	return k.Code == finding.WorkAirSet || k.Code == finding.WorkAirMatchMates || k.Code == finding.WorkAirLowerCold
}

// setForSize tells of a wheel that its tire needs more than those lines set it to.
func setForSize(l lines) func(finding.Work, layout.Position) bool {
	forSize := l.at(finding.WorkAirSetForSize)
	return func(_ finding.Work, p layout.Position) bool { return forSize[p] }
}

// torque is set on every wheel that comes off or was off, now and again later.
func (in In) torque(l lines) (all []Work) {
	off := l.off()
	if len(off) > 0 {
		all = append(all, Work{Code: finding.WorkWheelTorque, Positions: off, Target: in.Visit.Torque})
		all = append(all, in.recheck(off)...)
	}
	for _, w := range in.Visit.Wheels {
		comesOff := slices.Contains(off, w.Position)
		if comesOff && slices.ContainsFunc(w.Looked, func(l visit.Looked) bool { return l.NotBecause == finding.NotLookedNoKey }) {
			all = append(all, do(finding.WorkFastenersFindKey, w.Position)...)
		}
		if w.Fastening != nil && !comesOff {
			all = append(all, in.recheck([]layout.Position{w.Position})...)
		}
	}
	return all
}

// recheck is owed for every wheel that was off.
func (in In) recheck(at []layout.Position) (all []Work) {
	advice := rulebook.Must("advice")
	if in.Visit.Vehicle.Class != layout.Trailer {
		return []Work{{Code: finding.WorkOwedTorqueRecheck, Positions: at, Target: in.Visit.Torque,
			DueFrom: advice.Limit("torque-recheck-from").Value, DueBy: advice.Limit("torque-recheck-by").Value}}
	}
	for _, id := range []string{"first", "second", "third"} {
		due := advice.Limit("torque-recheck-trailer-" + id).Value
		all = append(all, Work{Code: finding.WorkOwedTorqueRecheckTrailer, Positions: at, Target: in.Visit.Torque, DueFrom: due, DueBy: due})
	}
	return all
}

// sensors is what sensors and lamp need after the work: places learned where
// wheels changed them, a reset where an indirect system watches new pressures.
func (in In) sensors(l lines) (all []Work) {
	v, off := in.Visit, len(l.off()) > 0
	if !v.Watched() {
		return nil
	}
	changed := len(l.at(finding.WorkTiresDeeperPairToRear)) > 0 || v.Did(finding.DoneTiresRotated)
	asked := slices.ContainsFunc(in.Findings, func(f finding.Finding) bool {
		return (f.Code == finding.SensorNotLearned || f.Code == finding.SensorRelearnOwed) && !in.Left.Closed(f)
	})
	line := Work{Code: finding.WorkSensorRelearn}
	if v.Monitoring == sensor.Indirect {
		line.Code = finding.WorkSensorReset
		changed = changed || off || len(l.where(setsAir)) > 0
	}
	switch {
	case !asked && (v.Reset == visit.Relearned || v.Reset == visit.ResetNotNeeded || v.Reset == visit.ResetOnly && v.Monitoring == sensor.Indirect):
	case changed || asked:
		all = append(all, line)
	case off:
		line.Condition = finding.WhenWheelsChangedPlace
		all = append(all, line)
	}
	known := v.Monitoring == sensor.Direct || v.Monitoring == sensor.Indirect
	if v.LampLeft == inflation.LampNotTold && (v.Lamp.Lit() || off && known) || v.LampLeft.Lit() {
		all = append(all, do(finding.WorkLampCheck)...)
	}
	return all
}

// records are what is written down, and the cold reading that is owed.
func (in In) records(l lines) (all []Work) {
	if replaced := sorted(l.replaced()); len(replaced) > 0 {
		all = append(all, do(finding.WorkRecordRegistration, replaced...)...)
		all = append(all, do(finding.WorkRecordScrap, replaced...)...)
	}
	if len(l) > 0 {
		all = append(all, do(finding.WorkRecordAsLeft)...)
	}
	var cold []layout.Position
	set := l.at(finding.WorkAirSet, finding.WorkAirMatchMates)
	for _, w := range in.Visit.Wheels {
		if in.Facts.Air.Airs.Results[w.Position].CheckCold || set[w.Position] && l.finishCold(w.Position) {
			cold = append(cold, w.Position)
		}
	}
	if len(cold) > 0 {
		all = append(all, do(finding.WorkOwedColdPressure, cold...)...)
	}
	return all
}

// finishCold tells that a target of a wheel is finished when cold.
func (l *lines) finishCold(p layout.Position) bool {
	return slices.ContainsFunc(*l, func(w Work) bool { return w.FinishCold && slices.Contains(w.Positions, p) })
}
