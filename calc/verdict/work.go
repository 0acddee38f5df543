package verdict

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
)

// Work is one line of the order of work.
type Work struct {
	Code       finding.Code
	Step       int // of the fixed order, 0-13
	Urgency    finding.Urgency
	Positions  []layout.Position
	Findings   []string    // ids of the findings it answers
	Target     unit.Amount // what to set, zero when nothing or not told
	Condition  finding.Code
	Settle     finding.Code // the measurement to make, for measureToSettle
	Caution    finding.Code
	DueFrom    unit.Amount
	DueBy      unit.Amount
	About      bool         // the target rests on an estimate
	FinishCold bool         // the target is finished when cold
	Map        rotation.Map // of a rotation
}

// ID names the line within its visit, as finding.Finding.ID names a finding: by what
// tells it from every other line.
func (w Work) ID() string {
	return finding.ID(w.Positions, string(w.Code), string(w.Condition), string(w.Settle), w.DueBy.String(), w.Map.ID)
}

// Lines of the order of work, with their steps below.
const (
	holdVehicle       finding.Code = "vehicle.hold"
	chock             finding.Code = "vehicle.chock"
	noAir             finding.Code = "air.none"
	leaveObject       finding.Code = "object.leave-in"
	measureAgain      finding.Code = "measure.again"
	measureToSettle   finding.Code = "measure.to-settle"
	readCold          finding.Code = "air.read-cold"
	findLeak          finding.Code = "air.find-leak"
	deflateFirst      finding.Code = "air.deflate-first"
	removeObject      finding.Code = "object.remove-and-soap"
	repairAfterSeen   finding.Code = "repair.after-inspection"
	repairCombination finding.Code = "repair.combination"
	repairTwoPiece    finding.Code = "repair.two-piece"
	repairSection     finding.Code = "repair.refer-section"
	repairFindOut     finding.Code = "repair.find-out"
	replacePair       finding.Code = "tires.replace-pair"
	replaceIfBelow    finding.Code = "tire.replace-if-below"
	fitWinter         finding.Code = "tires.fit-winter"
	restrained        finding.Code = "tire.restraining-device"
	matchDuals        finding.Code = "dual.match"
	findKey           finding.Code = "fasteners.find-key"
	steerRules        finding.Code = "tire.steer-axle-rules"
	mountTire         finding.Code = "tire.mount"
	matingFaces       finding.Code = "wheel.mating-faces"
	deeperToRear      finding.Code = "tires.deeper-pair-to-rear"
	reuseElsewhere    finding.Code = "tire.reuse-elsewhere"
	rotateTires       finding.Code = "tires.rotate"
	setAir            finding.Code = "air.set"
	matchMates        finding.Code = "air.match-mates"
	lowerAir          finding.Code = "air.lower-cold"
	torqueWheel       finding.Code = "wheel.torque"
	relearnSensors    finding.Code = "sensor.relearn"
	checkLamp         finding.Code = "lamp.check"
	checkAlignment    finding.Code = "alignment.check"
	recordLeft        finding.Code = "record.as-left"
	registerTires     finding.Code = "record.registration"
	scrapTires        finding.Code = "record.scrap"
	recheckTorque     finding.Code = "owed.torque-recheck"
	recheckTrailer    finding.Code = "owed.torque-recheck-trailer"
	recheckCold       finding.Code = "owed.cold-pressure"
)

// steps is the fixed order of work (common practice): 0 make safe, 1 record and
// measure as found, 2 fasteners and wheels, 3 demount and inspect, 4 decide, 5
// steering, suspension, hubs, brakes, 6 mount, 7 place, 8 pressure, 9 torque, 10
// sensors, 11 alignment, 12 record as left, 13 what is owed. Within a step lines
// keep the order of this list.
var steps = []struct {
	code finding.Code
	step int
}{
	{holdVehicle, 0}, {chock, 0}, {noAir, 0}, {leaveObject, 0}, {reduceLoad, 0}, {askSealant, 0},
	{measureAgain, 1}, {measureToSettle, 1}, {readCold, 1},
	{findKey, 2}, {lookFasteners, 2}, {fastenersRight, 2}, {renewNeighbors, 2}, {renewAll, 2}, {replaceWheel, 2}, {clearObstacle, 2}, {cleanBeadSeat, 2},
	{deflateFirst, 3}, {lookAround, 3}, {lookClosely, 3}, {findLeak, 3}, {demountInspect, 3}, {removeObject, 3},
	{repairAfterSeen, 4}, {repairFindOut, 4}, {repairCombination, 4}, {repairTwoPiece, 4}, {repairSection, 4},
	{replaceTire, 4}, {replacePair, 4}, {replaceIfBelow, 4}, {fitWinter, 4}, {restrained, 4}, {matchDuals, 4}, {matchSet, 4}, {rightTires, 4},
	{referSteering, 5}, {referBrakes, 5},
	{steerRules, 6}, {renewValve, 6}, {renewSensor, 6}, {remountTire, 6}, {mountTire, 6}, {matingFaces, 6},
	{deeperToRear, 7}, {swapSides, 7}, {spareBack, 7}, {reuseElsewhere, 7}, {rotateTires, 7},
	{setAir, 8}, {setForSize, 8}, {setNewPlace, 8}, {matchMates, 8}, {lowerAir, 8},
	{torqueWheel, 9}, {checkTorque, 9},
	{relearnSensors, 10}, {resetSystem, 10}, {answerSensor, 10}, {checkLamp, 10},
	{checkAlignment, 11},
	{checkArrows, 12}, {recordLeft, 12}, {registerTires, 12}, {scrapTires, 12},
	{recheckTorque, 13}, {recheckTrailer, 13}, {recheckCold, 13},
}

// rank is where a line stands in the fixed order.
var rank = func() map[finding.Code]int {
	m := map[finding.Code]int{}
	for i, s := range steps {
		m[s.code] = i
	}
	return m
}()

// workList gathers lines; the same line for several wheels becomes one.
type workList []Work

func (l *workList) add(w Work) {
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

// byGravity are the cautions of which a line for several wheels may have to
// choose: a graver one says all that a milder one says.
var byGravity = []finding.Code{inflation.CautionDeflate, puncture.CautionDemountTruck, inflation.CautionRunLow, puncture.CautionDemount}

func graver(a, b finding.Code) finding.Code {
	for _, c := range byGravity {
		if a == c || b == c {
			return c
		}
	}
	return cmp.Or(a, b)
}

func (l *workList) at(codes ...finding.Code) map[layout.Position]bool {
	m := map[layout.Position]bool{}
	for _, w := range *l {
		if slices.Contains(codes, w.Code) {
			for _, p := range w.Positions {
				m[p] = true
			}
		}
	}
	return m
}

func (j *judging) do(code finding.Code, at ...layout.Position) {
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
		j.work.add(Work{Code: holdVehicle, Urgency: finding.BeforeDriving, Positions: hold})
	}
	for _, w := range j.v.Wheels {
		r := j.air[w.Position]
		if r.NoAir {
			c := inflation.CautionRunLow
			if r.Deflate {
				c, heavyRunLow = inflation.CautionDeflate, true
			}
			j.work.add(Work{Code: noAir, Positions: []layout.Position{w.Position}, Caution: c})
		}
		for _, o := range w.Observations {
			if o.Kind == "object-in-tread" {
				j.do(leaveObject, w.Position)
			}
		}
	}
	if heavyRunLow {
		j.do(chock)
	}
}

// measureFirst: a reading that decides something is made before work starts.
func (j *judging) measureFirst() {
	for _, f := range j.out.Findings {
		switch {
		case f.Code == tread.OddReading || f.Code == tread.Unlikely:
			j.work.add(Work{Code: measureAgain, Positions: f.Positions})
		case decides(f) && !j.tread[f.Positions[0]].WornOut, f.Code == cutCode && f.Outcome == measure.CannotTell:
			j.work.add(Work{Code: measureToSettle, Positions: f.Positions, Settle: f.ToSettle})
		case f.Code == inflation.RunLowUndecided && f.ToSettle == inflation.ReadCold && !j.hasHole(f.Positions):
			j.work.add(Work{Code: readCold, Positions: f.Positions})
		}
	}
}

// decides tells whether a reading that is still open decides about replacing.
func decides(f finding.Finding) bool {
	return f.Outcome == measure.CannotTell && (f.Code == tread.LegalLimit || f.Code == tread.WinterMinimum && f.Urgency == finding.ThisVisit)
}

func (j *judging) hasHole(at []layout.Position) bool {
	return slices.ContainsFunc(at, func(p layout.Position) bool { _, ok := j.repair[p]; return ok })
}

// inspect is what one tire needs to be seen or repaired.
func (j *judging) inspect(w Wheel) {
	p := w.Position
	air := j.air[p]
	if air.Deflate {
		j.do(deflateFirst, p)
	}
	if w.has("sealant-inside") && j.watched() {
		j.do(answerSensor, p) // sealant may have closed its port
	}
	if j.finished[p] {
		return // it is replaced, not inspected and inflated again
	}
	r, hurt := j.repair[p]
	leak := air.FindLeak && !air.Demount || air.Has(inflation.RunLow) || air.Has(inflation.Low) && !j.allAlike
	if leak && !hurt && !air.Deflate {
		j.do(findLeak, p) // where a hole is known, it is the leak; without air it is found inside
	}
	if air.Demount {
		j.do(demountInspect, p)
	}
	if air.RestrainingDevice {
		j.work.add(Work{Code: restrained, Positions: []layout.Position{p}, Condition: "when.passed-inside", Caution: inflation.CautionDeflate})
	}
	if p.Dual != layout.Single && (air.Demount || air.Deflate) {
		j.work.add(Work{Code: matchDuals, Positions: []layout.Position{p, p.Mate()}, Condition: "when.one-is-replaced"})
	}
	if !hurt {
		return
	}
	switch r.Answer {
	case puncture.NotRepairable:
		j.do(replaceTire, p)
	case puncture.NotAsNailHole:
		j.do(repairSection, p)
	case puncture.Repairable:
		code := repairCombination
		if r.Method == puncture.TwoPiece {
			code = repairTwoPiece
		}
		j.work.add(Work{Code: code, Positions: []layout.Position{p}, Caution: r.Main.Caution})
	case puncture.NoInjury:
		j.do(removeObject, p)
	default:
		if !w.lookedAt("inside-of-tire") {
			j.work.add(Work{Code: demountInspect, Positions: []layout.Position{p}, Caution: r.Main.Caution})
			j.work.add(Work{Code: repairAfterSeen, Positions: []layout.Position{p}, Condition: "when.inside-clean"})
		} else {
			j.do(repairFindOut, p)
		}
	}
}

// inspectMates: the tire that carried the load of its low neighbor comes off
// too, also when nobody reported anything of it.
func (j *judging) inspectMates() {
	for _, f := range j.out.Findings {
		if f.Code == inflation.DualMateCarriedLoad || f.Code == inflation.TandemMateCarriedLoad {
			j.work.add(Work{Code: noAir, Positions: f.Positions, Caution: inflation.CautionDeflate})
			j.do(deflateFirst, f.Positions...)
			j.do(demountInspect, f.Positions...)
			j.work.add(Work{Code: restrained, Positions: f.Positions, Condition: "when.passed-inside", Caution: inflation.CautionDeflate})
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
			case tread.WornToBars, tread.ModelLimit:
				worn[p] = worn[p] || f.Code == tread.WornToBars || f.Outcome == measure.Below
			case AgeLimit:
				if f.Outcome == measure.Above {
					j.do(replaceTire, p)
				}
			case tread.WinterMark:
				if f.Urgency == finding.ThisVisit {
					j.do(fitWinter, p)
				}
			case tread.WinterMinimum:
				worn[p] = worn[p] || f.Urgency == finding.ThisVisit && f.Outcome == measure.Below
			case tread.LegalLimit:
				worn[p] = worn[p] || f.Outcome == measure.Below
			}
		}
	}
	for _, f := range j.out.Findings {
		if decides(f) && !worn[f.Positions[0]] && !worn[f.Positions[0].Mirror()] {
			j.work.add(Work{Code: replaceIfBelow, Positions: f.Positions, Condition: "when.below-once-settled"})
		}
	}
	for _, p := range slices.SortedFunc(keys(worn), layout.Position.Compare) {
		switch {
		case !worn[p]:
		case p.Spare || p.Dual != layout.Single:
			j.do(replaceTire, p)
		default:
			j.work.add(Work{Code: replacePair, Positions: []layout.Position{p, p.Mirror()}})
		}
	}
	both := j.work.at(replacePair)
	for i := range j.work {
		if j.work[i].Code == replaceTire {
			j.work[i].Positions = slices.DeleteFunc(j.work[i].Positions, func(p layout.Position) bool { return both[p] })
		}
	}
	j.work = slices.DeleteFunc(j.work, func(w Work) bool { return w.Code == replaceTire && len(w.Positions) == 0 })
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
				j.work.add(Work{Code: reuseElsewhere, Positions: []layout.Position{p}, Condition: "when.sound-and-matching"})
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
	replaced := j.work.at(replaceTire, replacePair)
	dismounted := j.work.at(replaceTire, replacePair, demountInspect, repairCombination, repairTwoPiece, repairSection)
	for _, p := range sorted(dismounted) {
		j.do(renewValve, p)
		j.work.add(Work{Code: mountTire, Positions: []layout.Position{p}, Target: advice.Limit("bead-seat").Value, Caution: inflation.CautionAddingAir})
	}
	pair := j.work.at(replacePair)
	v := j.v.Vehicle
	if len(v.Axles) == 2 && v.Axles[0].Size == v.Axles[1].Size && !v.Axles[1].Dual && v.Class != layout.Trailer && light(v) {
		front, rear := layout.Position{Axle: 1, Side: layout.Left}, layout.Position{Axle: 2, Side: layout.Left}
		if pair[front] && !pair[rear] {
			j.do(deeperToRear, v.Positions()...)
		}
	}
	for _, p := range sorted(replaced) {
		if v.Front(p) && slices.ContainsFunc(j.books, func(b rulebook.Applied) bool { return b.ID == "us-commercial" }) {
			j.do(steerRules, p)
		}
	}
	for _, p := range sorted(j.wheelsOff()) {
		if a, ok := v.AxleOf(p); ok && (a.Dual || v.Class == layout.Heavy || v.Class == layout.Bus) {
			j.do(matingFaces, p)
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
	off := j.work.at(replaceTire, replacePair, demountInspect, repairCombination, repairTwoPiece, repairSection,
		replaceWheel, cleanBeadSeat, renewValve, deeperToRear, referBrakes, swapSides, spareBack)
	for p := range j.work.at(fastenersRight) {
		off[p] = true
	}
	delete(off, layout.Position{Spare: true})
	return off
}

// setPressures sets every tire that was found short or is mounted or moved. No
// warm tire is ever let down.
func (j *judging) setPressures() {
	filled, moved := j.work.at(mountTire), j.work.at(deeperToRear)
	for _, w := range j.v.Wheels {
		p := w.Position
		r := j.air[p]
		t := r.Target
		if j.airClosed(p) {
			continue
		}
		switch {
		case filled[p] && r.MatchMates > 0 && p.Dual == layout.Single:
			t.Show, t.Amount, t.Why, t.About = r.MatchMates, r.MatchMates.Amount(j.unitOf(p)).Rounded(), inflation.WhyMates, true
			t.FinishCold = true
		case filled[p]:
			t = setFresh(j.airIn[p])
		case moved[p] && (t.Show == 0 || t.Why == inflation.WhyLetDown):
			t = j.airIn[p].SetNow()
		}
		item := Work{Code: setAir, Positions: []layout.Position{p}, Target: t.Amount, About: t.About, FinishCold: t.FinishCold, Caution: inflation.CautionAddingAir}
		switch {
		case t.Why == inflation.WhyNoLabel && (filled[p] || moved[p]):
			item.Condition = "when.label-is-read"
			j.work.add(item)
		case t.Show == 0:
		case t.Why == inflation.WhyMates:
			item.Code = matchMates
			j.work.add(item)
		case t.Why == inflation.WhyLetDown:
			item.Code, item.Caution = lowerAir, inflation.CautionNeverBleed
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
		return closed && slices.Equal(f.Positions, []layout.Position{p}) && strings.HasPrefix(string(f.Code), "inflation.")
	})
}

func (j *judging) unitOf(p layout.Position) unit.Unit {
	in := j.airIn[p]
	switch {
	case in.LabelUnit != unit.None:
		return in.LabelUnit
	case in.Read != unit.None:
		return in.Read
	}
	return unit.PSI
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
	if replaced := sorted(j.work.at(replaceTire, replacePair)); len(replaced) > 0 {
		j.work.add(Work{Code: registerTires, Positions: replaced})
		j.work.add(Work{Code: scrapTires, Positions: replaced})
	}
	var cold []layout.Position
	for _, w := range j.v.Wheels {
		if j.air[w.Position].CheckCold || j.work.at(setAir, matchMates)[w.Position] && j.finishCold(w.Position) {
			cold = append(cold, w.Position)
		}
	}
	if len(cold) > 0 {
		j.work.add(Work{Code: recheckCold, Positions: cold})
	}
	if slices.ContainsFunc(j.work, func(w Work) bool { return w.Code != recheckCold }) {
		j.do(recordLeft)
	}
}

// fasten is what follows from wheels that come off: torque now and again later.
func (j *judging) fasten(off []layout.Position) {
	j.work.add(Work{Code: torqueWheel, Positions: off, Target: j.v.Torque, Caution: cautionWheel})
	j.recheckTorque(off)
	for _, w := range j.v.Wheels {
		if slices.Contains(off, w.Position) && slices.ContainsFunc(w.Looked, func(l Looked) bool { return l.NotBecause == "no-key" }) {
			j.do(findKey, w.Position)
		}
	}
}

// recheckTorque is owed for every wheel that was off.
func (j *judging) recheckTorque(at []layout.Position) {
	advice := rulebook.Must("advice")
	if j.v.Vehicle.Class != layout.Trailer {
		j.work.add(Work{Code: recheckTorque, Positions: at, Target: j.v.Torque, Caution: cautionWheel,
			DueFrom: advice.Limit("torque-recheck-from").Value, DueBy: advice.Limit("torque-recheck-by").Value})
		return
	}
	for _, id := range []string{"first", "second", "third"} {
		due := advice.Limit("torque-recheck-trailer-" + id).Value
		j.work.add(Work{Code: recheckTrailer, Positions: at, Target: j.v.Torque, DueFrom: due, DueBy: due, Caution: cautionWheel})
	}
}

func (j *judging) finishCold(p layout.Position) bool {
	return slices.ContainsFunc(j.work, func(w Work) bool { return w.FinishCold && slices.Contains(w.Positions, p) })
}

// sortWork puts the lines in the fixed order and ties each to its findings.
func (j *judging) sortWork() {
	for i := range j.work {
		w := &j.work[i]
		w.Step = steps[rank[w.Code]].step
		slices.SortFunc(w.Positions, layout.Position.Compare)
		w.Positions = slices.Compact(w.Positions)
		ids, urgency := j.answeredBy(*w)
		if w.Findings = ids; w.Urgency == finding.UrgencyNotTold {
			w.Urgency = urgency
		}
	}
	slices.SortStableFunc(j.work, func(a, b Work) int {
		return cmp.Or(
			cmp.Compare(rank[a.Code], rank[b.Code]),
			slices.CompareFunc(a.Positions, b.Positions, layout.Position.Compare),
			cmp.Compare(a.Settle, b.Settle),
			cmp.Compare(a.DueBy.Number, b.DueBy.Number),
			cmp.Compare(a.Target.Number, b.Target.Number),
		)
	})
	j.out.Work = j.work
}

// orderAnswered puts the findings of each line in the order of the findings.
func (j *judging) orderAnswered() {
	order := map[string]int{}
	for i, f := range j.out.Findings {
		order[f.ID()] = i
	}
	for _, w := range j.out.Work {
		slices.SortFunc(w.Findings, func(a, b string) int { return cmp.Compare(order[a], order[b]) })
	}
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
	return ids, gravest
}
