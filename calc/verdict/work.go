package verdict

import (
	"cmp"
	"slices"
	"time"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// Work is one line of the order of work.
type Work struct {
	Code       finding.Work
	Step       finding.Step
	Urgency    finding.Urgency
	Positions  []layout.Position
	Findings   []string    // ids of the findings it answers
	Target     unit.Amount // what to set, zero when nothing or not told
	Condition  finding.Condition
	Settle     finding.Settle // the measurement to make, for measureToSettle
	Caution    finding.Caution
	DueFrom    unit.Amount
	DueBy      unit.Amount
	About      bool         // the target rests on an estimate
	FinishCold bool         // the target is finished when cold
	Map        rotation.Map // of a rotation
}

// workList gathers lines; the same line for several wheels becomes one.
type workList []Work

func (l *workList) add(w Work) {
	w.Caution = cmp.Or(w.Caution, finding.WorkOf(w.Code).Caution)
	for i, o := range *l {
		if o.Code == w.Code && o.Target == w.Target && o.Condition == w.Condition && o.Settle == w.Settle && o.DueBy == w.DueBy && o.FinishCold == w.FinishCold {
			for _, p := range w.Positions {
				if !slices.Contains(o.Positions, p) {
					(*l)[i].Positions = append((*l)[i].Positions, p)
				}
			}
			if w.Urgency != 0 && (o.Urgency == 0 || w.Urgency < o.Urgency) {
				(*l)[i].Urgency = w.Urgency
			}
			(*l)[i].Caution = graver(o.Caution, w.Caution)
			return
		}
	}
	w.Positions = slices.Clone(w.Positions)
	*l = append(*l, w)
}

// graver is the caution of a line for several wheels: a graver one says all that a
// milder one says.
func graver(a, b finding.Caution) finding.Caution {
	if finding.CautionOf(b).Gravity > finding.CautionOf(a).Gravity {
		return b
	}
	return cmp.Or(a, b)
}

func (l *workList) at(codes ...finding.Work) map[layout.Position]bool {
	return l.where(func(k finding.WorkKind) bool { return slices.Contains(codes, k.Code) })
}

// where are the wheels of the lines of some kinds.
func (l *workList) where(is func(finding.WorkKind) bool) map[layout.Position]bool {
	m := map[layout.Position]bool{}
	for _, w := range *l {
		if is(finding.WorkOf(w.Code)) {
			for _, p := range w.Positions {
				m[p] = true
			}
		}
	}
	return m
}

func (j *judging) do(code finding.Work, at ...layout.Position) {
	if code != "" {
		j.work.add(Work{Code: code, Positions: at})
	}
}

// order makes the order of work from all that was found.
func (j *judging) order() {
	j.dropDone()
	j.makeSafe()
	j.measureFirst()
	for _, w := range j.v.Wheels {
		j.inspect(w)
	}
	j.inspectMates()
	j.replaceWorn()
	j.wearWork()
	j.matchRest()
	j.mountAndPlace()
	j.setPressures()
	j.keepForSize()
	j.close()
	j.sortWork()
}

func (j *judging) makeSafe() {
	var hold []layout.Position
	heavyRunLow := false
	for _, f := range j.out.Findings {
		if f.Urgency == finding.BeforeDriving && !j.closed(f) {
			hold = append(hold, f.Positions...)
		}
	}
	if len(hold) > 0 {
		j.work.add(Work{Code: finding.WorkVehicleHold, Urgency: finding.BeforeDriving, Positions: hold})
	}
	for _, w := range j.v.Wheels {
		r := j.air[w.Position]
		if r.NoAir {
			c := finding.CautionRunLow
			if r.Deflate {
				c, heavyRunLow = finding.CautionDeflate, true
			}
			j.work.add(Work{Code: finding.WorkAirNone, Positions: []layout.Position{w.Position}, Caution: c})
		}
		for _, o := range w.Observations {
			if o.Kind == finding.ObservedObjectInTread {
				j.do(finding.WorkObjectLeaveIn, w.Position)
			}
		}
	}
	if heavyRunLow {
		j.do(finding.WorkVehicleChock)
	}
}

// measureFirst: a reading that decides something is made before work starts.
func (j *judging) measureFirst() {
	for _, f := range j.out.Findings {
		switch {
		case f.Code == finding.TreadOddReading || f.Code == finding.TreadUnlikelyDepth:
			j.work.add(Work{Code: finding.WorkMeasureAgain, Positions: f.Positions})
		case decides(f) && !j.tread[f.Positions[0]].WornOut, f.Code == finding.DamageCutLimit && f.Outcome == measure.CannotTell:
			j.work.add(Work{Code: finding.WorkMeasureToSettle, Positions: f.Positions, Settle: f.ToSettle})
		case f.Code == finding.InflationRunLowUndecided && f.ToSettle == finding.SettleReadCold && !j.hasHole(f.Positions):
			j.work.add(Work{Code: finding.WorkAirReadCold, Positions: f.Positions})
		}
	}
}

// decides tells whether a reading that is still open decides about replacing.
func decides(f finding.Finding) bool {
	return f.Outcome == measure.CannotTell && (f.Code == finding.TreadLegalLimit || f.Code == finding.TreadWinterMinimum && f.Urgency == finding.ThisVisit)
}

func (j *judging) hasHole(at []layout.Position) bool {
	return slices.ContainsFunc(at, func(p layout.Position) bool { _, ok := j.repair[p]; return ok })
}

// inspect is what one tire needs to be seen or repaired.
func (j *judging) inspect(w visit.Wheel) {
	p := w.Position
	air := j.air[p]
	if air.Deflate {
		j.do(finding.WorkAirDeflateFirst, p)
	}
	if w.Has(finding.ObservedSealantInside) && j.v.Watched() {
		j.do(finding.WorkSensorCheck, p) // sealant may have closed its port
	}
	if j.finished[p] {
		return // it is replaced, not inspected and inflated again
	}
	r, hurt := j.repair[p]
	leak := air.FindLeak && !air.Demount || air.Has(finding.InflationRunLow) || air.Has(finding.InflationLow) && !j.allAlike
	if leak && !hurt && !air.Deflate {
		j.do(finding.WorkAirFindLeak, p) // where a hole is known, it is the leak; without air it is found inside
	}
	if air.Demount {
		j.do(finding.WorkTireDemountInspect, p)
	}
	if air.RestrainingDevice {
		j.work.add(Work{Code: finding.WorkTireRestrainingDevice, Positions: []layout.Position{p}, Condition: finding.WhenPassedInside})
	}
	if p.Dual != layout.Single && (air.Demount || air.Deflate) {
		j.work.add(Work{Code: finding.WorkDualMatch, Positions: []layout.Position{p, p.Mate()}, Condition: finding.WhenOneIsReplaced})
	}
	if !hurt {
		return
	}
	switch r.Answer {
	case puncture.NotRepairable:
		j.do(finding.WorkTireReplace, p)
	case puncture.NotAsNailHole:
		j.do(finding.WorkRepairReferSection, p)
	case puncture.Repairable:
		code := finding.WorkRepairCombination
		if r.Method == puncture.TwoPiece {
			code = finding.WorkRepairTwoPiece
		}
		j.work.add(Work{Code: code, Positions: []layout.Position{p}, Caution: r.Main.Caution})
	case puncture.NoInjury:
		j.do(finding.WorkObjectRemoveAndSoap, p)
	default:
		if !w.LookedAt(finding.LookedInsideOfTire) {
			j.work.add(Work{Code: finding.WorkTireDemountInspect, Positions: []layout.Position{p}, Caution: r.Main.Caution})
			j.work.add(Work{Code: finding.WorkRepairAfterInspection, Positions: []layout.Position{p}, Condition: finding.WhenInsideClean})
		} else {
			j.do(finding.WorkRepairFindOut, p)
		}
	}
}

// inspectMates: the tire that carried the load of its low neighbor comes off
// too, also when nobody reported anything of it.
func (j *judging) inspectMates() {
	for _, f := range j.out.Findings {
		if f.Code == finding.InflationDualMateCarriedLoad || f.Code == finding.InflationTandemMateCarriedLoad {
			j.work.add(Work{Code: finding.WorkAirNone, Positions: f.Positions, Caution: finding.CautionDeflate})
			j.do(finding.WorkAirDeflateFirst, f.Positions...)
			j.do(finding.WorkTireDemountInspect, f.Positions...)
			j.work.add(Work{Code: finding.WorkTireRestrainingDevice, Positions: f.Positions, Condition: finding.WhenPassedInside})
		}
	}
}

// replaceWorn: worn tires are replaced by axle, so that the two ends match.
// Where a law leaves the answer open, the replacement waits for the reading.
func (j *judging) replaceWorn() {
	worn := map[layout.Position]bool{}
	for _, f := range j.out.Findings {
		for _, p := range f.Positions {
			switch f.Code {
			case finding.TreadWornToBars, finding.TreadModelLimit:
				worn[p] = worn[p] || f.Code == finding.TreadWornToBars || f.Outcome == measure.Below
			case finding.AgeLegalLimit:
				if f.Outcome == measure.Above {
					j.do(finding.WorkTireReplace, p)
				}
			case finding.TreadWinterMark:
				if f.Urgency == finding.ThisVisit {
					j.do(finding.WorkTiresFitWinter, p)
				}
			case finding.TreadWinterMinimum:
				worn[p] = worn[p] || f.Urgency == finding.ThisVisit && f.Outcome == measure.Below
			case finding.TreadLegalLimit:
				worn[p] = worn[p] || f.Outcome == measure.Below
			}
		}
	}
	for _, f := range j.out.Findings {
		if decides(f) && !worn[f.Positions[0]] && !worn[f.Positions[0].Mirror()] {
			j.work.add(Work{Code: finding.WorkTireReplaceIfBelow, Positions: f.Positions, Condition: finding.WhenBelowOnceSettled})
		}
	}
	for _, p := range slices.SortedFunc(keys(worn), layout.Position.Compare) {
		switch {
		case !worn[p]:
		case p.Spare || p.Dual != layout.Single:
			j.do(finding.WorkTireReplace, p)
		default:
			j.work.add(Work{Code: finding.WorkTiresReplacePair, Positions: []layout.Position{p, p.Mirror()}})
		}
	}
	both := j.work.at(finding.WorkTiresReplacePair)
	for i := range j.work {
		if j.work[i].Code == finding.WorkTireReplace {
			j.work[i].Positions = slices.DeleteFunc(j.work[i].Positions, func(p layout.Position) bool { return both[p] })
		}
	}
	j.work = slices.DeleteFunc(j.work, func(w Work) bool { return w.Code == finding.WorkTireReplace && len(w.Positions) == 0 })
	j.reuse(worn)
}

// reuse: a tire taken off a commercial front axle for its depth may serve where
// a lower limit applies, if it is sound and matches there.
func (j *judging) reuse(worn map[layout.Position]bool) {
	for p := range worn {
		if !j.v.Vehicle.Front(p) || j.finished[p] || j.tread[p].WornOut {
			continue
		}
		for _, b := range j.books {
			if b.ID != "us-commercial" && b.ID != "us-heavy-model" {
				continue
			}
			other := b.Limit("other-depth")
			if r := j.tread[p]; len(r.Summary.Cells) > 0 && measure.AtLeast(r.Summary.Reading, other.Depth()).Outcome == measure.Above {
				j.work.add(Work{Code: finding.WorkTireReuseElsewhere, Positions: []layout.Position{p}, Condition: finding.WhenSoundAndMatching})
			}
		}
	}
}

func keys[K comparable, V any](m map[K]V) func(func(K) bool) {
	return func(yield func(K) bool) {
		for k := range m {
			if !yield(k) {
				return
			}
		}
	}
}

// mountAndPlace is what follows from tires that come off their wheels.
func (j *judging) mountAndPlace() {
	advice := rulebook.Must("advice")
	replaced := j.work.at(finding.WorkTireReplace, finding.WorkTiresReplacePair)
	dismounted := j.work.where(func(k finding.WorkKind) bool { return k.Dismounts })
	for _, p := range sorted(dismounted) {
		j.do(finding.WorkValveRenew, p)
		j.work.add(Work{Code: finding.WorkTireMount, Positions: []layout.Position{p}, Target: advice.Limit("bead-seat").Value})
	}
	pair := j.work.at(finding.WorkTiresReplacePair)
	v := j.v.Vehicle
	if len(v.Axles) == 2 && v.Axles[0].Size == v.Axles[1].Size && !v.Axles[1].Dual && v.Class != layout.Trailer && light(v) {
		front, rear := layout.Position{Axle: 1, Side: layout.Left}, layout.Position{Axle: 2, Side: layout.Left}
		if pair[front] && !pair[rear] {
			j.do(finding.WorkTiresDeeperPairToRear, v.Positions()...)
		}
	}
	for _, p := range sorted(replaced) {
		if v.Front(p) && slices.ContainsFunc(j.books, func(b rulebook.Applied) bool { return b.ID == "us-commercial" }) {
			j.do(finding.WorkTireSteerAxleRules, p)
		}
	}
	for _, p := range sorted(j.wheelsOff()) {
		if a, ok := v.AxleOf(p); ok && (a.Dual || v.Class == layout.Heavy || v.Class == layout.Bus) {
			j.do(finding.WorkWheelMatingFaces, p)
		}
	}
}

func light(v layout.Vehicle) bool {
	return v.Class == layout.PassengerCar || v.Class == layout.LightTruck || v.Class == layout.ClassNotTold
}

func sorted(m map[layout.Position]bool) []layout.Position {
	return slices.SortedFunc(keys(m), layout.Position.Compare)
}

// wheelsOff are the wheels that come off the vehicle for the work.
func (j *judging) wheelsOff() map[layout.Position]bool {
	off := j.work.where(func(k finding.WorkKind) bool { return k.WheelOff })
	delete(off, layout.Position{Spare: true})
	return off
}

// setPressures sets every tire that was found short or is mounted or moved. No
// warm tire is ever let down.
func (j *judging) setPressures() {
	filled, moved := j.work.at(finding.WorkTireMount), j.work.at(finding.WorkTiresDeeperPairToRear)
	for _, w := range j.v.Wheels {
		p := w.Position
		r := j.air[p]
		t := r.Target
		if j.airClosed(p) {
			continue
		}
		switch {
		case filled[p] && r.MatchMates > 0 && p.Dual == layout.Single:
			t.Show, t.Amount, t.Why, t.About = r.MatchMates, j.airIn[p].Shown(r.MatchMates), finding.TargetMates, true
			t.FinishCold = true
		case filled[p]:
			t = setFresh(j.airIn[p])
		case moved[p] && (t.Show == 0 || t.Why == finding.TargetLetDown):
			t = j.airIn[p].SetNow()
		}
		item := Work{Code: finding.WorkAirSet, Positions: []layout.Position{p}, Target: t.Amount, About: t.About, FinishCold: t.FinishCold}
		switch {
		case t.Why == finding.TargetNoLabel && (filled[p] || moved[p]):
			item.Condition = finding.WhenLabelIsRead
			j.work.add(item)
		case t.Show == 0:
		case t.Why == finding.TargetMates:
			item.Code = finding.WorkAirMatchMates
			j.work.add(item)
		case t.Why == finding.TargetLetDown:
			item.Code = finding.WorkAirLowerCold
			j.work.add(item)
		default:
			j.work.add(item)
		}
	}
}

// setFresh is the figure for a tire that was off its rim: the air in it is that
// of the bay, whatever the drive had warmed before.
func setFresh(w inflation.Wheel) inflation.Target {
	w.Temperature, w.Source = 0, inflation.NoTemperature
	w.Conditions.DrivenHere, w.Conditions.Distance, w.Conditions.Sun = finding.No, 0, finding.No
	w.Conditions.Parked = 24 * time.Hour
	return w.SetNow()
}

// airClosed tells that the tire was set already, as its as-left reading proves.
func (j *judging) airClosed(p layout.Position) bool {
	return slices.ContainsFunc(j.out.Findings, func(f finding.Finding) bool {
		_, closed := j.out.Closed[f.ID()]
		return closed && slices.Equal(f.Positions, []layout.Position{p}) && finding.KindOf(f.Code).Left == finding.LeftPressure
	})
}

// close is torque, sensors, records and what is owed afterwards.
func (j *judging) close() {
	off := sorted(j.wheelsOff())
	if len(off) > 0 {
		j.fasten(off)
	}
	for _, w := range j.v.Wheels {
		if w.Fastening != nil && !slices.Contains(off, w.Position) {
			j.recheckTorque([]layout.Position{w.Position})
		}
	}
	j.sensorWork(off)
	if replaced := sorted(j.work.at(finding.WorkTireReplace, finding.WorkTiresReplacePair)); len(replaced) > 0 {
		j.work.add(Work{Code: finding.WorkRecordRegistration, Positions: replaced})
		j.work.add(Work{Code: finding.WorkRecordScrap, Positions: replaced})
	}
	var cold []layout.Position
	for _, w := range j.v.Wheels {
		if j.air[w.Position].CheckCold || j.work.at(finding.WorkAirSet, finding.WorkAirMatchMates)[w.Position] && j.finishCold(w.Position) {
			cold = append(cold, w.Position)
		}
	}
	if len(cold) > 0 {
		j.work.add(Work{Code: finding.WorkOwedColdPressure, Positions: cold})
	}
	if slices.ContainsFunc(j.work, func(w Work) bool { return w.Code != finding.WorkOwedColdPressure }) {
		j.do(finding.WorkRecordAsLeft)
	}
}

// fasten is what follows from wheels that come off: torque now and again later.
func (j *judging) fasten(off []layout.Position) {
	j.work.add(Work{Code: finding.WorkWheelTorque, Positions: off, Target: j.v.Torque})
	j.recheckTorque(off)
	for _, w := range j.v.Wheels {
		if slices.Contains(off, w.Position) && slices.ContainsFunc(w.Looked, func(l visit.Looked) bool { return l.NotBecause == finding.NotLookedNoKey }) {
			j.do(finding.WorkFastenersFindKey, w.Position)
		}
	}
}

// recheckTorque is owed for every wheel that was off.
func (j *judging) recheckTorque(at []layout.Position) {
	advice := rulebook.Must("advice")
	if j.v.Vehicle.Class != layout.Trailer {
		j.work.add(Work{Code: finding.WorkOwedTorqueRecheck, Positions: at, Target: j.v.Torque,
			DueFrom: advice.Limit("torque-recheck-from").Value, DueBy: advice.Limit("torque-recheck-by").Value})
		return
	}
	for _, id := range []string{"first", "second", "third"} {
		due := advice.Limit("torque-recheck-trailer-" + id).Value
		j.work.add(Work{Code: finding.WorkOwedTorqueRecheckTrailer, Positions: at, Target: j.v.Torque, DueFrom: due, DueBy: due})
	}
}

func (j *judging) finishCold(p layout.Position) bool {
	return slices.ContainsFunc(j.work, func(w Work) bool { return w.FinishCold && slices.Contains(w.Positions, p) })
}

// sortWork puts the lines in the fixed order and ties each to its findings.
func (j *judging) sortWork() {
	for i := range j.work {
		w := &j.work[i]
		w.Step = finding.WorkOf(w.Code).Step
		slices.SortFunc(w.Positions, layout.Position.Compare)
		w.Positions = slices.Compact(w.Positions)
		ids, urgency := j.answeredBy(*w)
		if w.Findings = ids; w.Urgency == finding.UrgencyNotTold {
			w.Urgency = urgency
		}
	}
	slices.SortStableFunc(j.work, func(a, b Work) int {
		return cmp.Or(
			finding.WorkOf(a.Code).Compare(finding.WorkOf(b.Code)),
			slices.CompareFunc(a.Positions, b.Positions, layout.Position.Compare),
			cmp.Compare(a.Settle, b.Settle),
			cmp.Compare(a.DueBy.Number, b.DueBy.Number),
			cmp.Compare(a.Target.Number, b.Target.Number),
		)
	})
	j.out.Work = j.work
}

// answeredBy lists the findings, other than notes, at the places of a line, and gives
// the urgency of the gravest; a line without places answers those of the vehicle.
func (j *judging) answeredBy(w Work) (ids []string, gravest finding.Urgency) {
	gravest = finding.Plan
	for _, f := range j.out.Findings {
		if f.Urgency == finding.Note {
			continue
		}
		if len(w.Positions) == 0 && len(f.Positions) == 0 ||
			slices.ContainsFunc(f.Positions, func(p layout.Position) bool { return slices.Contains(w.Positions, p) }) {
			ids, gravest = append(ids, f.ID()), min(gravest, f.Urgency)
		}
	}
	slices.Sort(ids)
	return ids, gravest
}
