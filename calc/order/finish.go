package order

import (
	"cmp"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sensor"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// with are the wheels with one more, that depends on nothing.
func (w when) with(p layout.Position) when {
	if w == nil {
		w = when{}
	}
	w[p] = ""
	return w
}

// setPressures sets every tire that was found short or is mounted or moved. No
// warm tire is ever let down.
func (in In) setPressures(l lines) (all []Work) {
	filled, moved := l.under(filledAnew), l.moved()
	leaks := l.at(finding.WorkAirFindLeak)
	for _, w := range in.Visit.Wheels { // off its rim, or leaking unread, and not told to have left with what belongs in it
		switch set := w.PressureLeft.Read != unit.None && !in.Left.Short(w.Position); {
		case set:
		case w.Mended.Fresh():
			filled = filled.with(w.Position)
		case in.Facts.Air.Airs.Results[w.Position].NoAir: // a leak of it is found without
		case leaks[w.Position] && (w.Pressure.Read == unit.None || in.Left.Short(w.Position) || w.Has(finding.ObservedAirLeak)):
			moved = moved.with(w.Position)
		}
	}
	places := when{}
	for _, of := range []when{filled, moved} {
		for p := range of {
			places[p] = ""
		}
	}
	for _, w := range in.Visit.Wheels {
		places[w.Position] = ""
	}
	for _, p := range places.sorted() {
		all = append(all, in.setPressure(p, filled, moved)...)
	}
	return in.readAgain(in.evenDuals(all), filled)
}

// readAgain: what reads as left what it is to, by a gauge that cannot tell, is not set again
// but read by one that can; a tire that is to come off its rim is filled anew, and read so
// too.
func (in In) readAgain(all []Work, filled when) []Work {
	for _, w := range in.Visit.Wheels {
		p := w.Position
		waits := func(f finding.Finding) bool {
			return slices.Contains(f.Positions, p) && f.Urgency != finding.Note && airCloses[finding.KindOf(f.Code).Left]
		}
		if !in.Left.Unsure(p) || !slices.ContainsFunc(in.Findings, waits) {
			continue
		}
		if on, fills := filled[p]; !fills || on != "" {
			all = slices.DeleteFunc(all, func(w Work) bool {
				return w.Condition == "" && setsAir(finding.WorkOf(w.Code)) && slices.Equal(w.Positions, []layout.Position{p})
			})
		}
		all = append(all, Work{Code: finding.WorkMeasureToSettle, Positions: []layout.Position{p}, Settle: finding.SettleReadBetterGauge})
	}
	return all
}

// airCloses are the ways to close that ask for the right pressure as left.
var airCloses = map[finding.Left]bool{
	finding.LeftPressure: true, finding.LeftWhereUsed: true, finding.LeftCleared: true,
	finding.LeftTight: true, finding.LeftRepaired: true, finding.LeftAired: true,
}

// evenDuals: the tires of a pair leave alike. Of two that were found provably apart, or of
// which one is set further from the other than they may be, the lower comes up to the
// higher, for a warm tire is never let down. What holds more than warmth explains, or than
// the other's sidewall allows, comes down instead, once it is cold.
func (in In) evenDuals(all []Work) []Work {
	for _, p := range in.Visit.Vehicle.Positions() {
		if p.Dual != layout.Inner {
			continue
		}
		low, high := in.leaves(all, p), in.leaves(all, p.Mate())
		if low.to.Of > high.to.Of {
			low, high = high, low
		}
		if low.to.Of == 0 || high.to.Of == 0 || !in.uneven(low, high) {
			continue
		}
		line, sets := in.together(low, high)
		if !sets {
			continue
		}
		all = slices.DeleteFunc(all, func(w Work) bool { return slices.Equal(w.Positions, line.Positions) })
		all = append(all, proved([]Work{line})...)
	}
	return all
}

// leaving is what a tire leaves with.
type leaving struct {
	wheel visit.Wheel
	to    measure.Value[unit.Pressure]
	set   bool // by a line
	on    finding.Condition
}

// leaves is what a tire is set to, else what it reads.
func (in In) leaves(all []Work, p layout.Position) leaving {
	out := leaving{wheel: in.wheelAt(p)}
	last := out.wheel.Last()
	out.to = last.Gauge.Read(last.Of)
	for _, w := range all {
		if !slices.Contains(w.Positions, p) {
			continue
		}
		to := w.to
		if to == 0 {
			var err error
			if to, err = unit.PressureOf(w.Target.Number, w.Target.Unit); err != nil {
				return leaving{wheel: out.wheel} // set to what is not known yet
			}
		}
		out.to, out.set, out.on = measure.Exact(to), true, w.Condition
	}
	return out
}

// uneven: a pair that was found apart is until it is set alike, whatever reads it; of
// another that a line sets the gauge has to tell.
func (in In) uneven(low, high leaving) bool {
	found := slices.ContainsFunc(in.Findings, func(f finding.Finding) bool {
		return f.Code == finding.InflationDualSpread && f.Certainty() == finding.Proved && slices.Contains(f.Positions, low.wheel.Position)
	})
	if found {
		return inflation.DualsApart(measure.Exact(low.to.Of), measure.Exact(high.to.Of))
	}
	return (low.set || high.set) && inflation.DualsApart(low.to, high.to)
}

// together is the line that brings the tires of a pair together; none for one that gets no
// air.
func (in In) together(low, high leaving) (line Work, sets bool) {
	airs, at := in.Facts.Air.Airs, high.wheel.Position
	lower, higher := airs.Wheels[low.wheel.Position], airs.Wheels[at]
	if low.wheel.Mended.Fitted {
		lower.Sidewall = 0 // that of the tire that went
	}
	higher.Found = high.to.Of
	switch cold := airs.Results[at].Cold.Basis == finding.FactInflationBasisCold; {
	case airs.Results[low.wheel.Position].NoAir && !low.set:
		return line, false
	case lower.ComesUpTo(higher):
		return Work{Code: finding.WorkAirMatchMates, Positions: []layout.Position{low.wheel.Position}, Condition: cmp.Or(low.on, high.on),
			Target: lower.Shown(high.to.Of).ToSet(), FinishCold: true}, true
	case high.set:
		return line, false
	case cold:
		return Work{Code: finding.WorkAirLowerCold, Positions: []layout.Position{at}, Condition: low.on, Target: higher.Shown(max(low.to.Of, higher.Label)).ToSet()}, true
	}
	return Work{Code: finding.WorkAirReadCold, Positions: []layout.Position{at}}, true
}

func (in In) setPressure(p layout.Position, filled, moved when) []Work {
	fill, fills := filled[p]
	move, moves := moved[p]
	surely := fills && fill == "" || moves && move == ""
	switch {
	case !surely && moves:
		return append(in.air(p, false, false), in.newPlace(p, move))
	case !surely && fills:
		now := in.air(p, false, false)
		if len(now) > 0 {
			return now // set in any case
		}
		now = in.air(p, true, false)
		for i := range now {
			now[i].Condition = fill
		}
		return now
	}
	return in.air(p, fills && fill == "", moves && move == "")
}

// newPlace sets a tire to the label of a place that it may come to.
func (in In) newPlace(p layout.Position, on finding.Condition) Work {
	line := Work{Code: finding.WorkRotationSetPressures, Positions: []layout.Position{p}, Condition: on}
	if label, u := in.Visit.Labels().Cold(p); label > 0 {
		line.Target = label.Amount(u).Rounded()
	}
	return line
}

// air is what a tire is set to now: as found, freshly filled, or moved here.
func (in In) air(p layout.Position, filled, moved bool) []Work {
	if !filled && !moved && in.setAlready(p) {
		return nil
	}
	air, read := in.Facts.Air.Airs.Wheels[p]
	switch w := in.wheelAt(p); {
	case w.Temporary: // the tire that comes back
		air = in.Visit.Labels().Air(visit.Wheel{Position: p}, visit.Pressure{}, in.Visit.Conditions).Fresh()
	case !read:
		air = in.Visit.Labels().Air(in.wheelAt(p), visit.Pressure{}, in.Visit.Conditions)
	}
	r := in.Facts.Air.Airs.Results[p]
	t := r.Target
	switch {
	case filled && r.MatchMates > 0 && p.Dual == layout.Single && air.Fresh().SetNow().Show <= r.MatchMates:
		t.Show, t.Amount, t.Why, t.About = r.MatchMates, air.Shown(r.MatchMates), finding.TargetMates, true
		t.FinishCold = true
	case filled:
		t = air.Fresh().SetNow()
	case moved && (t.Show == 0 || t.Why == finding.TargetLetDown):
		t = air.SetNow()
	}
	line := Work{Code: finding.WorkAirSet, Positions: []layout.Position{p}, Target: t.Amount.ToSet(), to: t.Show, About: t.About, FinishCold: t.FinishCold}
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
	return proved([]Work{line}) // a shortfall that is not proved has no target
}

// setAlready tells that the tire was set already, as its as-left reading proves.
func (in In) setAlready(p layout.Position) bool {
	wants := func(f finding.Finding) bool {
		left := finding.KindOf(f.Code).Left
		return slices.Contains(f.Positions, p) && (left == finding.LeftWhereUsed || left == finding.LeftPressure)
	}
	if in.Left.Right(p) && !slices.ContainsFunc(in.Findings, wants) {
		return true
	}
	return slices.ContainsFunc(in.found, func(f finding.Finding) bool {
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
	off, tightened := l.comesOff(), l.comesOff()
	for p := range l.at(finding.WorkWheelTorque) {
		if off[p] != "" {
			delete(tightened, p) // in any case
		}
	}
	all = append(all, tightened.do(Work{Code: finding.WorkWheelTorque, Target: in.Visit.Torque})...)
	all = append(all, off.each(in.recheck())...)
	for _, w := range in.Visit.Wheels {
		on, comesOff := off[w.Position]
		if comesOff && on == "" && slices.ContainsFunc(w.Looked, func(l visit.Looked) bool { return l.NotBecause == finding.NotLookedNoKey }) {
			all = append(all, do(finding.WorkFastenersFindKey, w.Position)...)
		}
		if w.Fastening != nil && !comesOff && w.PressureLeft.Read == unit.None {
			all = append(all, do(finding.WorkAirCompareMate, w.Position)...)
		}
		if w.Fastening != nil && !comesOff {
			all = append(all, when{w.Position: ""}.each(in.recheck())...)
		}
	}
	return all
}

func rechecks(k finding.WorkKind) bool {
	return k.Code == finding.WorkOwedTorqueRecheck || k.Code == finding.WorkOwedTorqueRecheckTrailer
}

// startAnew tells of wheels that come off now: what was owed from before is no more.
func (l *lines) startAnew() func(finding.Work, layout.Position) bool {
	off := l.comesOff()
	return func(_ finding.Work, p layout.Position) bool {
		on, comesOff := off[p]
		return comesOff && on == ""
	}
}

// each are some lines at each of the wheels.
func (w when) each(lines []Work) (all []Work) {
	for _, line := range lines {
		all = append(all, w.do(line)...)
	}
	return all
}

// recheck is owed for every wheel that was off.
func (in In) recheck() (all []Work) {
	advice := rulebook.Must("advice")
	if in.Visit.Vehicle.Class != layout.Trailer {
		return []Work{{Code: finding.WorkOwedTorqueRecheck, Target: in.Visit.Torque,
			DueFrom: advice.Limit("torque-recheck-from").Value, DueBy: advice.Limit("torque-recheck-by").Value}}
	}
	for _, id := range []string{"first", "second", "third"} {
		due := advice.Limit("torque-recheck-trailer-" + id).Value
		all = append(all, Work{Code: finding.WorkOwedTorqueRecheckTrailer, Target: in.Visit.Torque, DueFrom: due, DueBy: due})
	}
	return all
}

// roadTest: what is felt on the road is cured where it is felt no more.
func (in In) roadTest() []Work {
	felt := func(f finding.Finding) bool { return finding.KindOf(f.Code).Felt && !in.Left.Closed(f) }
	if !slices.ContainsFunc(in.Findings, felt) {
		return nil
	}
	return do(finding.WorkRoadTest)
}

// sensors is what sensors and lamp need after the work: places learned where
// wheels changed them, a reset where an indirect system watches new pressures.
func (in In) sensors(l lines) (all []Work) {
	v, off := in.Visit, len(l.comesOff().sure()) > 0
	told := slices.ContainsFunc(in.Findings, func(f finding.Finding) bool { return finding.KindOf(f.Code).Left == finding.LeftLamp })
	changed := len(l.moved().sure()) > 0 || v.Did(finding.DoneTiresRotated)
	asked := slices.ContainsFunc(in.Findings, func(f finding.Finding) bool {
		return (f.Code == finding.SensorNotLearned || f.Code == finding.SensorRelearnOwed) && !in.Left.Closed(f)
	})
	switch {
	case v.Watched(), asked:
	case told, v.LampLeft.Lit():
		return do(finding.WorkLampCheck)
	default:
		return nil
	}
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
	// A lamp that was lit is seen to go out: one whose bulb was not seen says nothing.
	if told || v.LampLeft != inflation.LampOff && v.Lamp.Lit() || v.LampLeft == inflation.LampNotTold && off && known || v.LampLeft.Lit() {
		all = append(all, do(finding.WorkLampCheck)...)
	}
	return all
}

// records are what is written down, and the cold reading that is owed.
func (in In) records(l lines) (all []Work) {
	fitted := l.under(func(k finding.WorkKind) bool { return k.Fits && !k.Moves })
	all = append(all, fitted.do(Work{Code: finding.WorkRecordRegistration})...)
	if replaced := sorted(l.replaced()); len(replaced) > 0 {
		pair, of := l.at(finding.WorkTiresReplacePair), in.wanting()
		all = append(all, do(finding.WorkRecordScrap, slices.DeleteFunc(slices.Clone(replaced), func(p layout.Position) bool {
			return pair[p] && !of.worn[p] && !in.Facts.Scrapped[p] // it goes with its mate, and may serve yet
		})...)...)
	}
	if len(l) > 0 {
		all = append(all, do(finding.WorkRecordAsLeft)...)
		all = append(all, do(finding.WorkCustomerTell)...)
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
