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
	WorkTiresOneOrTwo               Work = "tires.one-or-two"
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
	{Code: WorkVehicleHold, Step: StepMakeSafe, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkVehicleChock, Step: StepMakeSafe, Of: OfVehicle, Needs: NeedsNothing},
	{Code: WorkAirNone, Step: StepMakeSafe, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkObjectLeaveIn, Step: StepMakeSafe, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkLoadReduce, Step: StepMakeSafe, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkSealantAskFirst, Step: StepMakeSafe, Of: OfPlace, Needs: NeedsNothing, Caution: CautionPunctureSealantFlammable},
	{Code: WorkMeasureAgain, Step: StepRecord, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkMeasureToSettle, Step: StepRecord, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkAirReadCold, Step: StepRecord, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkFastenersFindKey, Step: StepFasteners, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkFastenersLook, Step: StepFasteners, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkFastenersPutRight, Step: StepFasteners, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Dropped: true},
	{Code: WorkFastenersRenewWithNeighbors, Step: StepFasteners, Of: OfPlace, Needs: NeedsProof, Caution: CautionWheelFastening},
	{Code: WorkFastenersRenewAll, Step: StepFasteners, Of: OfPlace, Needs: NeedsProof, Caution: CautionWheelFastening},
	{Code: WorkWheelReplace, Step: StepFasteners, Of: OfPlace, Needs: NeedsProof, WheelOff: true},
	{Code: WorkWheelClearSpace, Step: StepFasteners, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkWheelCleanBeadSeat, Step: StepFasteners, Of: OfPlace, Needs: NeedsProof, WheelOff: true},
	{Code: WorkAirDeflateFirst, Step: StepDemount, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkTireLookAllRound, Step: StepDemount, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkTireLookClosely, Step: StepDemount, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkAirFindLeak, Step: StepDemount, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkTireDemountInspect, Step: StepDemount, Of: OfPlace, Needs: NeedsNothing, WheelOff: true, Dismounts: true},
	{Code: WorkObjectRemoveAndSoap, Step: StepDemount, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkRepairAfterInspection, Step: StepDecide, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkRepairFindOut, Step: StepDecide, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkRepairCombination, Step: StepDecide, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Dismounts: true},
	{Code: WorkRepairTwoPiece, Step: StepDecide, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Dismounts: true},
	{Code: WorkRepairReferSection, Step: StepDecide, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Dismounts: true},
	{Code: WorkTireReplace, Step: StepDecide, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Dismounts: true},
	{Code: WorkTiresReplacePair, Step: StepDecide, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Dismounts: true},
	{Code: WorkTireReplaceIfBelow, Step: StepDecide, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkTiresOneOrTwo, Step: StepDecide, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkTiresFitWinter, Step: StepDecide, Of: OfPlace, Needs: NeedsProof},
	{Code: WorkTireRestrainingDevice, Step: StepDecide, Of: OfPlace, Needs: NeedsWork, Caution: CautionDeflate},
	{Code: WorkDualMatch, Step: StepDecide, Of: OfPlace, Needs: NeedsProof},
	{Code: WorkTiresMatchSet, Step: StepDecide, Of: OfPlace, Needs: NeedsProof},
	{Code: WorkTiresFitRight, Step: StepDecide, Of: OfPlace, Needs: NeedsProof},
	{Code: WorkReferSteeringSuspension, Step: StepChassis, Of: OfPlace, Needs: NeedsNothing, Dropped: true},
	{Code: WorkReferBrakesHub, Step: StepChassis, Of: OfPlace, Needs: NeedsNothing, WheelOff: true, Dropped: true},
	{Code: WorkTireSteerAxleRules, Step: StepMount, Of: OfPlace, Needs: NeedsWork},
	{Code: WorkValveRenew, Step: StepMount, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Dropped: true},
	{Code: WorkSensorRenew, Step: StepMount, Of: OfPlace, Needs: NeedsProof},
	{Code: WorkTireRemount, Step: StepMount, Of: OfPlace, Needs: NeedsWork},
	{Code: WorkTireMount, Step: StepMount, Of: OfPlace, Needs: NeedsWork, Caution: CautionAddingAir},
	{Code: WorkWheelMatingFaces, Step: StepMount, Of: OfPlace, Needs: NeedsWork},
	{Code: WorkTiresDeeperPairToRear, Step: StepPlace, Of: OfPlace, Needs: NeedsProof, WheelOff: true},
	{Code: WorkWheelsSwapSides, Step: StepPlace, Of: OfPlace, Needs: NeedsProof, WheelOff: true},
	{Code: WorkSparePutBack, Step: StepPlace, Of: OfPlace, Needs: NeedsProof, WheelOff: true},
	{Code: WorkTireReuseElsewhere, Step: StepPlace, Of: OfPlace, Needs: NeedsProof},
	{Code: WorkTiresRotate, Step: StepPlace, Of: OfPlace, Needs: NeedsProof},
	{Code: WorkAirSet, Step: StepSetPressure, Of: OfPlace, Needs: NeedsProof, Caution: CautionAddingAir},
	{Code: WorkAirSetForSize, Step: StepSetPressure, Of: OfPlace, Needs: NeedsProof},
	{Code: WorkRotationSetPressures, Step: StepSetPressure, Of: OfPlace, Needs: NeedsWork, Caution: CautionAddingAir},
	{Code: WorkAirMatchMates, Step: StepSetPressure, Of: OfPlace, Needs: NeedsProof, Caution: CautionAddingAir},
	{Code: WorkAirLowerCold, Step: StepSetPressure, Of: OfPlace, Needs: NeedsProof, Caution: CautionNeverBleed},
	{Code: WorkWheelTorque, Step: StepTorque, Of: OfPlace, Needs: NeedsWork, Caution: CautionWheelFastening},
	{Code: WorkWheelTorqueCheck, Step: StepTorque, Of: OfPlace, Needs: NeedsNothing, Caution: CautionWheelFastening},
	{Code: WorkSensorRelearn, Step: StepSensors, Of: OfVehicle, Needs: NeedsWork},
	{Code: WorkSensorReset, Step: StepSensors, Of: OfVehicle, Needs: NeedsWork},
	{Code: WorkSensorCheck, Step: StepSensors, Of: OfPlace, Needs: NeedsNothing, Dropped: true},
	{Code: WorkLampCheck, Step: StepSensors, Of: OfVehicle, Needs: NeedsNothing},
	{Code: WorkAlignmentCheck, Step: StepAlignment, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkRotationCheckArrows, Step: StepAsLeft, Of: OfPlace, Needs: NeedsWork},
	{Code: WorkRecordAsLeft, Step: StepAsLeft, Of: OfVehicle, Needs: NeedsNothing},
	{Code: WorkRecordRegistration, Step: StepAsLeft, Of: OfPlace, Needs: NeedsWork},
	{Code: WorkRecordScrap, Step: StepAsLeft, Of: OfPlace, Needs: NeedsWork},
	{Code: WorkOwedTorqueRecheck, Step: StepOwed, Of: OfPlace, Needs: NeedsNothing, Caution: CautionWheelFastening},
	{Code: WorkOwedTorqueRecheckTrailer, Step: StepOwed, Of: OfPlace, Needs: NeedsNothing, Caution: CautionWheelFastening},
	{Code: WorkOwedColdPressure, Step: StepOwed, Of: OfPlace, Needs: NeedsNothing},
}
