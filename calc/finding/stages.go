package finding

import "slices"

// Stage is a stage of the work on one wheel. What comes after what is in the table of
// stages; the order of work is one order that keeps it.
type Stage uint8

// Stages of the work on one wheel.
const (
	StageNotTold   Stage = iota
	StageMakeSafe        // chocked, supported, held, no air
	StageAsFound         // read and measured before anything is touched
	StageOKToLook        // the customer's OK to take off and look
	StageNuts            // the fasteners with the wheel on, and the key to them
	StageAirOut          // before the first nut is cracked loose
	StageWheelOff        //
	StageWheelEnd        // studs, holes, faces, hub, seen while it is off
	StageLook            // at the tire
	StageInside          // demounted and seen inside
	StageDecide          //
	StageRefer           // loose steering, bearing and brake parts
	StageOKToMend        // the customer's OK to repair or replace
	StageMend            // repair, replace, clean
	StageParts           // valve and sensor parts
	StageNewTire         // against the label
	StagePlace           // that it goes to
	StageMount           // and seat
	StageDevice          // all air beyond seating the beads
	StageInflate         //
	StageSoap            //
	StageBalance         //
	StageFaces           // clean and bare
	StageHang            // inner dual first
	StageTorque          //
	StageMate            // pressure against the mate
	StageSensors         //
	StageLamp            //
	StageAlignment       // on the tires that stay
	StageRoadTest        // where something was felt
	StageRecord          //
	StageTell            //
	StageLater           // due after the visit
)

// StageKind is what is known of one stage: the step of the contract it is shown under,
// and the stages it comes after (common practice; air out before the wheel comes off
// after 29 CFR 1910.177).
type StageKind struct {
	Stage Stage
	Step  Step
	After []Stage
}

// stageKinds are the stages. Of two that need not wait for each other the first row
// comes first.
var stageKinds = []StageKind{
	{StageMakeSafe, StepMakeSafe, nil},
	{StageAsFound, StepRecord, []Stage{StageMakeSafe}},
	{StageOKToLook, StepRecord, []Stage{StageAsFound}},
	{StageNuts, StepFasteners, []Stage{StageAsFound, StageOKToLook}},
	{StageAirOut, StepFasteners, []Stage{StageAsFound, StageOKToLook, StageNuts}},
	{StageWheelOff, StepFasteners, []Stage{StageOKToLook, StageNuts, StageAirOut}},
	{StageWheelEnd, StepFasteners, []Stage{StageWheelOff}},
	{StageLook, StepDemount, []Stage{StageOKToLook, StageWheelEnd}},
	{StageInside, StepDemount, []Stage{StageWheelOff, StageLook}},
	{StageDecide, StepDecide, []Stage{StageWheelEnd, StageLook, StageInside}},
	{StageRefer, StepChassis, []Stage{StageWheelEnd, StageDecide}},
	{StageOKToMend, StepMount, []Stage{StageDecide, StageRefer}},
	{StageMend, StepMount, []Stage{StageRefer, StageOKToMend}},
	{StageParts, StepMount, []Stage{StageMend}},
	{StageNewTire, StepMount, []Stage{StageMend, StageParts}},
	{StagePlace, StepMount, []Stage{StageNewTire}},
	{StageMount, StepMount, []Stage{StageParts, StageNewTire, StagePlace}},
	{StageDevice, StepMount, []Stage{StageMount}},
	{StageInflate, StepSetPressure, []Stage{StagePlace, StageMount, StageDevice}},
	{StageSoap, StepSetPressure, []Stage{StageInflate}},
	{StageBalance, StepSetPressure, []Stage{StageSoap}},
	{StageFaces, StepTorque, []Stage{StageWheelEnd, StageBalance}},
	{StageHang, StepTorque, []Stage{StageFaces}},
	{StageTorque, StepTorque, []Stage{StageHang}},
	{StageMate, StepTorque, []Stage{StageInflate, StageTorque}},
	{StageSensors, StepSensors, []Stage{StagePlace, StageTorque, StageMate}},
	{StageLamp, StepSensors, []Stage{StageSensors}},
	{StageAlignment, StepAlignment, []Stage{StageRefer, StagePlace, StageInflate, StageTorque, StageLamp}},
	{StageRoadTest, StepAlignment, []Stage{StageTorque, StageAlignment}},
	{StageRecord, StepAsLeft, []Stage{StageMate, StageLamp, StageAlignment, StageRoadTest}},
	{StageTell, StepAsLeft, []Stage{StageRecord}},
	{StageLater, StepOwed, []Stage{StageTell}},
}

// stageRanks are the stages in the one order that is used of those the table allows; a
// stage that stands in no order, because it comes after itself, has none.
var stageRanks = func() map[Stage]int {
	ranks := map[Stage]int{}
	ready := func(k StageKind) bool {
		_, placed := ranks[k.Stage]
		return !placed && !slices.ContainsFunc(k.After, func(s Stage) bool { _, before := ranks[s]; return !before })
	}
	for {
		next := slices.IndexFunc(stageKinds, ready)
		if next < 0 {
			return ranks
		}
		ranks[stageKinds[next].Stage] = len(ranks)
	}
}()

// StageOf gives the row of a stage, the zero row for one that is not told.
func StageOf(s Stage) StageKind {
	i := slices.IndexFunc(stageKinds, func(k StageKind) bool { return k.Stage == s })
	if i < 0 {
		return StageKind{}
	}
	return stageKinds[i]
}
