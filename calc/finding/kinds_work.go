package finding

// Lines of the order of work.
const (
	WorkSealantAskFirst             Work = "sealant.ask-first"
	WorkSensorCheck                 Work = "sensor.check"
	WorkTireLookAllRound            Work = "tire.look-all-round"
	WorkFastenersLook               Work = "fasteners.look"
	WorkAirFindLeak                 Work = "air.find-leak"
	WorkReferSteeringSuspension     Work = "refer.steering-suspension"
	WorkReferBrakesHub              Work = "refer.brakes-hub"
	WorkValveRenew                  Work = "valve.renew"
	WorkFastenersPutRight           Work = "fasteners.put-right"
	WorkTireReplace                 Work = "tire.replace"
	WorkTireLookClosely             Work = "tire.look-closely"
	WorkWheelClearSpace             Work = "wheel.clear-space"
	WorkWheelReplace                Work = "wheel.replace"
	WorkWheelCleanBeadSeat          Work = "wheel.clean-bead-seat"
	WorkWheelMatingFaces            Work = "wheel.mating-faces"
	WorkWheelTorque                 Work = "wheel.torque"
	WorkWheelTorqueCheck            Work = "wheel.torque-check"
	WorkFastenersRenewWithNeighbors Work = "fasteners.renew-with-neighbors"
	WorkFastenersRenewAll           Work = "fasteners.renew-all"
	WorkOwedTorqueRecheck           Work = "owed.torque-recheck"
	WorkOwedTorqueRecheckTrailer    Work = "owed.torque-recheck-trailer"
	WorkWheelsSwapSides             Work = "wheels.swap-sides"
	WorkTireDemountInspect          Work = "tire.demount-inspect"
	WorkTireRemount                 Work = "tire.remount"
	WorkTiresFitRight               Work = "tires.fit-right"
	WorkAirSetForSize               Work = "air.set-for-size"
	WorkTiresMatchSet               Work = "tires.match-set"
	WorkDualMatch                   Work = "dual.match"
	WorkMeasureToSettle             Work = "measure.to-settle"
	WorkTiresReplacePair            Work = "tires.replace-pair"
	WorkAirSet                      Work = "air.set"
	WorkAirMatchMates               Work = "air.match-mates"
	WorkAirLowerCold                Work = "air.lower-cold"
	WorkLoadReduce                  Work = "load.reduce"
	WorkRotationSetPressures        Work = "rotation.set-pressures"
	WorkSensorReset                 Work = "sensor.reset"
	WorkSensorRelearn               Work = "sensor.relearn"
	WorkRotationCheckArrows         Work = "rotation.check-arrows"
	WorkTiresRotate                 Work = "tires.rotate"
	WorkSensorRenew                 Work = "sensor.renew"
	WorkTiresDeeperPairToRear       Work = "tires.deeper-pair-to-rear"
	WorkLampCheck                   Work = "lamp.check"
	WorkSparePutBack                Work = "spare.put-back"
	WorkMeasureAgain                Work = "measure.again"
	WorkAlignmentCheck              Work = "alignment.check"
	WorkVehicleHold                 Work = "vehicle.hold"
	WorkVehicleChock                Work = "vehicle.chock"
	WorkAirNone                     Work = "air.none"
	WorkObjectLeaveIn               Work = "object.leave-in"
	WorkAirReadCold                 Work = "air.read-cold"
	WorkFastenersFindKey            Work = "fasteners.find-key"
	WorkAirDeflateFirst             Work = "air.deflate-first"
	WorkObjectRemoveAndSoap         Work = "object.remove-and-soap"
	WorkRepairAfterInspection       Work = "repair.after-inspection"
	WorkRepairFindOut               Work = "repair.find-out"
	WorkRepairCombination           Work = "repair.combination"
	WorkRepairTwoPiece              Work = "repair.two-piece"
	WorkRepairReferSection          Work = "repair.refer-section"
	WorkTireReplaceIfBelow          Work = "tire.replace-if-below"
	WorkTiresFitWinter              Work = "tires.fit-winter"
	WorkTireRestrainingDevice       Work = "tire.restraining-device"
	WorkTireSteerAxleRules          Work = "tire.steer-axle-rules"
	WorkTireMount                   Work = "tire.mount"
	WorkTireReuseElsewhere          Work = "tire.reuse-elsewhere"
	WorkRecordAsLeft                Work = "record.as-left"
	WorkRecordRegistration          Work = "record.registration"
	WorkRecordScrap                 Work = "record.scrap"
	WorkOwedColdPressure            Work = "owed.cold-pressure"
)

// What a line of work depends on.
const (
	WhenTapeShowsIt              Condition = "when.tape-shows-it"
	WhenRestDiffer               Condition = "when.rest-differ"
	WhenCauseUnderstoodAndAgreed Condition = "when.cause-understood-and-agreed"
	WhenTireComesOff             Condition = "when.tire-comes-off"
	WhenWheelsChangedPlace       Condition = "when.wheels-changed-place"
	WhenPassedInside             Condition = "when.passed-inside"
	WhenOneIsReplaced            Condition = "when.one-is-replaced"
	WhenInsideClean              Condition = "when.inside-clean"
	WhenBelowOnceSettled         Condition = "when.below-once-settled"
	WhenSoundAndMatching         Condition = "when.sound-and-matching"
	WhenLabelIsRead              Condition = "when.label-is-read"
)

// workKinds are the lines of the order of work, in their order.
var workKinds = []WorkKind{
	{Code: WorkVehicleHold, Step: StepMakeSafe, Of: OfPlace, InHouse: true},
	{Code: WorkVehicleChock, Step: StepMakeSafe, Of: OfVehicle, InHouse: true},
	{Code: WorkAirNone, Step: StepMakeSafe, Of: OfPlace, InHouse: true},
	{Code: WorkObjectLeaveIn, Step: StepMakeSafe, Of: OfPlace, InHouse: true},
	{Code: WorkLoadReduce, Step: StepMakeSafe, Of: OfPlace},
	{Code: WorkSealantAskFirst, Step: StepMakeSafe, Of: OfPlace, Caution: CautionPunctureSealantFlammable},
	{Code: WorkMeasureAgain, Step: StepRecord, Of: OfPlace},
	{Code: WorkMeasureToSettle, Step: StepRecord, Of: OfPlace},
	{Code: WorkAirReadCold, Step: StepRecord, Of: OfPlace, Settles: []Settle{SettleReadCold}},
	{Code: WorkFastenersFindKey, Step: StepFasteners, Of: OfPlace},
	{Code: WorkFastenersLook, Step: StepFasteners, Of: OfPlace},
	{Code: WorkFastenersPutRight, Step: StepFasteners, Of: OfPlace, WheelOff: true, Dropped: true},
	{Code: WorkFastenersRenewWithNeighbors, Step: StepFasteners, Of: OfPlace, Caution: CautionWheelFastening},
	{Code: WorkFastenersRenewAll, Step: StepFasteners, Of: OfPlace, Caution: CautionWheelFastening},
	{Code: WorkWheelReplace, Step: StepFasteners, Of: OfPlace, WheelOff: true},
	{Code: WorkWheelClearSpace, Step: StepFasteners, Of: OfPlace},
	{Code: WorkWheelCleanBeadSeat, Step: StepFasteners, Of: OfPlace, WheelOff: true},
	{Code: WorkAirDeflateFirst, Step: StepDemount, Of: OfPlace},
	{Code: WorkTireLookAllRound, Step: StepDemount, Of: OfPlace},
	{Code: WorkTireLookClosely, Step: StepDemount, Of: OfPlace},
	{Code: WorkAirFindLeak, Step: StepDemount, Of: OfPlace},
	{Code: WorkTireDemountInspect, Step: StepDemount, Of: OfPlace, WheelOff: true, Dismounts: true, Settles: []Settle{SettleLookInside, SettlePunctureInside}},
	{Code: WorkObjectRemoveAndSoap, Step: StepDemount, Of: OfPlace},
	{Code: WorkRepairAfterInspection, Step: StepDecide, Of: OfPlace},
	{Code: WorkRepairFindOut, Step: StepDecide, Of: OfPlace},
	{Code: WorkRepairCombination, Step: StepDecide, Of: OfPlace, WheelOff: true, Dismounts: true},
	{Code: WorkRepairTwoPiece, Step: StepDecide, Of: OfPlace, WheelOff: true, Dismounts: true},
	{Code: WorkRepairReferSection, Step: StepDecide, Of: OfPlace, WheelOff: true, Dismounts: true},
	{Code: WorkTireReplace, Step: StepDecide, Of: OfPlace, WheelOff: true, Dismounts: true},
	{Code: WorkTiresReplacePair, Step: StepDecide, Of: OfPlace, WheelOff: true, Dismounts: true},
	{Code: WorkTireReplaceIfBelow, Step: StepDecide, Of: OfPlace},
	{Code: WorkTiresFitWinter, Step: StepDecide, Of: OfPlace},
	{Code: WorkTireRestrainingDevice, Step: StepDecide, Of: OfPlace, Caution: CautionDeflate},
	{Code: WorkDualMatch, Step: StepDecide, Of: OfPlace},
	{Code: WorkTiresMatchSet, Step: StepDecide, Of: OfPlace},
	{Code: WorkTiresFitRight, Step: StepDecide, Of: OfPlace},
	{Code: WorkReferSteeringSuspension, Step: StepChassis, Of: OfPlace, Dropped: true},
	{Code: WorkReferBrakesHub, Step: StepChassis, Of: OfPlace, WheelOff: true, Dropped: true},
	{Code: WorkTireSteerAxleRules, Step: StepMount, Of: OfPlace},
	{Code: WorkValveRenew, Step: StepMount, Of: OfPlace, WheelOff: true, Dropped: true},
	{Code: WorkSensorRenew, Step: StepMount, Of: OfPlace},
	{Code: WorkTireRemount, Step: StepMount, Of: OfPlace},
	{Code: WorkTireMount, Step: StepMount, Of: OfPlace, Caution: CautionAddingAir},
	{Code: WorkWheelMatingFaces, Step: StepMount, Of: OfPlace},
	{Code: WorkTiresDeeperPairToRear, Step: StepPlace, Of: OfPlace, WheelOff: true},
	{Code: WorkWheelsSwapSides, Step: StepPlace, Of: OfPlace, WheelOff: true},
	{Code: WorkSparePutBack, Step: StepPlace, Of: OfPlace, WheelOff: true},
	{Code: WorkTireReuseElsewhere, Step: StepPlace, Of: OfPlace},
	{Code: WorkTiresRotate, Step: StepPlace, Of: OfPlace},
	{Code: WorkAirSet, Step: StepSetPressure, Of: OfPlace, Caution: CautionAddingAir},
	{Code: WorkAirSetForSize, Step: StepSetPressure, Of: OfPlace},
	{Code: WorkRotationSetPressures, Step: StepSetPressure, Of: OfPlace, Caution: CautionAddingAir},
	{Code: WorkAirMatchMates, Step: StepSetPressure, Of: OfPlace, Caution: CautionAddingAir},
	{Code: WorkAirLowerCold, Step: StepSetPressure, Of: OfPlace, Caution: CautionNeverBleed},
	{Code: WorkWheelTorque, Step: StepTorque, Of: OfPlace, Caution: CautionWheelFastening},
	{Code: WorkWheelTorqueCheck, Step: StepTorque, Of: OfPlace, Caution: CautionWheelFastening},
	{Code: WorkSensorRelearn, Step: StepSensors, Of: OfVehicle},
	{Code: WorkSensorReset, Step: StepSensors, Of: OfVehicle},
	{Code: WorkSensorCheck, Step: StepSensors, Of: OfPlace, Dropped: true},
	{Code: WorkLampCheck, Step: StepSensors, Of: OfVehicle},
	{Code: WorkAlignmentCheck, Step: StepAlignment, Of: OfPlace},
	{Code: WorkRotationCheckArrows, Step: StepAsLeft, Of: OfPlace},
	{Code: WorkRecordAsLeft, Step: StepAsLeft, Of: OfVehicle, InHouse: true},
	{Code: WorkRecordRegistration, Step: StepAsLeft, Of: OfPlace},
	{Code: WorkRecordScrap, Step: StepAsLeft, Of: OfPlace},
	{Code: WorkOwedTorqueRecheck, Step: StepOwed, Of: OfPlace, Caution: CautionWheelFastening},
	{Code: WorkOwedTorqueRecheckTrailer, Step: StepOwed, Of: OfPlace, Caution: CautionWheelFastening},
	{Code: WorkOwedColdPressure, Step: StepOwed, Of: OfPlace},
}
