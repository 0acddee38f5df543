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
	WorkSpeedLabel                  Work = "speed.label"
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
	WorkTiresOneOrTwoToRear         Work = "tires.one-or-two-to-rear"
	WorkTiresFitWinter              Work = "tires.fit-winter"
	WorkTireRestrainingDevice       Work = "tire.restraining-device"
	WorkTireSteerAxleRules          Work = "tire.steer-axle-rules"
	WorkTireMount                   Work = "tire.mount"
	WorkTireReuseElsewhere          Work = "tire.reuse-elsewhere"
	WorkRecordAsLeft                Work = "record.as-left"
	WorkRecordRegistration          Work = "record.registration"
	WorkRecordScrap                 Work = "record.scrap"
	WorkConsentLook                 Work = "consent.look"
	WorkConsentMend                 Work = "consent.mend"
	WorkWheelTakeOff                Work = "wheel.take-off"
	WorkWheelLookWhileOff           Work = "wheel.look-while-off"
	WorkTireCheckNew                Work = "tire.check-new"
	WorkTireSoap                    Work = "tire.soap"
	WorkWheelBalance                Work = "wheel.balance"
	WorkWheelHang                   Work = "wheel.hang"
	WorkAirCompareMate              Work = "air.compare-mate"
	WorkRoadTest                    Work = "road.test"
	WorkCustomerTell                Work = "customer.tell"
	WorkOwedColdPressure            Work = "owed.cold-pressure"
	WorkSpareMendCarrier            Work = "spare.mend-carrier"
	WorkTiresMatchAxle              Work = "tires.match-axle"
	WorkSpareSet                    Work = "spare.set"
	WorkSpareRenew                  Work = "spare.renew"
	WorkAxleStand                   Work = "axle.stand"
	WorkTireFillInDevice            Work = "tire.fill-in-device"
	WorkTireFillGuarded             Work = "tire.fill-guarded"
	WorkTireFillByShop              Work = "tire.fill-by-shop"
)

// What a line of work depends on.
const (
	WhenTapeShowsIt              Condition = "when.tape-shows-it"
	WhenRestDiffer               Condition = "when.rest-differ"
	WhenCauseUnderstoodAndAgreed Condition = "when.cause-understood-and-agreed"
	WhenWheelComesOff            Condition = "when.wheel-comes-off"
	WhenTireComesOff             Condition = "when.tire-comes-off"
	WhenWheelsChangedPlace       Condition = "when.wheels-changed-place"
	WhenPassedInside             Condition = "when.passed-inside"
	WhenOneIsReplaced            Condition = "when.one-is-replaced"
	WhenInsideClean              Condition = "when.inside-clean"
	WhenBelowOnceSettled         Condition = "when.below-once-settled"
	WhenSoundAndMatching         Condition = "when.sound-and-matching"
	WhenLabelIsRead              Condition = "when.label-is-read"
)

// workKinds are the lines of the order of work: those of one stage in their order.
var workKinds = []WorkKind{
	{Code: WorkVehicleHold, Stage: StageMakeSafe, Of: OfPlace, Needs: NeedsNothing, InHouse: true, Opening: true},
	{Code: WorkVehicleChock, Stage: StageMakeSafe, Of: OfVehicle, Needs: NeedsNothing, InHouse: true, Opening: true},
	{Code: WorkAirNone, Stage: StageMakeSafe, Of: OfPlace, Needs: NeedsNothing, InHouse: true},
	{Code: WorkObjectLeaveIn, Stage: StageMakeSafe, Of: OfPlace, Needs: NeedsNothing, InHouse: true},
	{Code: WorkLoadReduce, Stage: StageMakeSafe, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkSealantAskFirst, Stage: StageMakeSafe, Of: OfTire, Needs: NeedsNothing, Caution: CautionPunctureSealantFlammable},
	{Code: WorkMeasureAgain, Stage: StageAsFound, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkMeasureToSettle, Stage: StageAsFound, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkAirReadCold, Stage: StageAsFound, Of: OfPlace, Needs: NeedsNothing, Settles: []Settle{SettleReadCold}},
	{Code: WorkConsentLook, Stage: StageOKToLook, Of: OfPlace, Needs: NeedsNothing, ForThem: true},
	{Code: WorkFastenersFindKey, Stage: StageNuts, Of: OfPlace, Needs: NeedsNothing, ForThem: true},
	{Code: WorkFastenersLook, Stage: StageNuts, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkAxleStand, Stage: StageAirOut, Of: OfPlace, Needs: NeedsWork, InHouse: true},
	{Code: WorkAirDeflateFirst, Stage: StageAirOut, Of: OfPlace, Needs: NeedsNothing, InHouse: true},
	{Code: WorkWheelTakeOff, Stage: StageWheelOff, Of: OfPlace, Needs: NeedsWork, InHouse: true},
	{Code: WorkWheelLookWhileOff, Stage: StageWheelEnd, Of: OfPlace, Needs: NeedsWork, InHouse: true},
	{Code: WorkFastenersPutRight, Stage: StageWheelEnd, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Dropped: true},
	{Code: WorkFastenersRenewWithNeighbors, Stage: StageWheelEnd, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Caution: CautionWheelFastening},
	{Code: WorkFastenersRenewAll, Stage: StageWheelEnd, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Caution: CautionWheelFastening},
	{Code: WorkWheelClearSpace, Stage: StageWheelEnd, Of: OfPlace, Needs: NeedsNothing, WheelOff: true},
	{Code: WorkTireLookAllRound, Stage: StageLook, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkTireLookClosely, Stage: StageLook, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkAirFindLeak, Stage: StageLook, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkTireDemountInspect, Stage: StageInside, Of: OfPlace, Needs: NeedsNothing, WheelOff: true, Dismounts: true, Settles: []Settle{SettleLookInside, SettlePunctureInside}},
	{Code: WorkObjectRemoveAndSoap, Stage: StageInside, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkRepairFindOut, Stage: StageDecide, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkTireReplaceIfBelow, Stage: StageDecide, Of: OfPlace, Needs: NeedsNothing, WheelOff: true, Dismounts: true, Fits: true},
	{Code: WorkTiresOneOrTwo, Stage: StageDecide, Of: OfPlace, Needs: NeedsNothing, ForThem: true},
	{Code: WorkTiresOneOrTwoToRear, Stage: StageDecide, Of: OfPlace, Needs: NeedsNothing, ForThem: true},
	{Code: WorkReferSteeringSuspension, Stage: StageRefer, Of: OfPlace, Needs: NeedsNothing, Dropped: true},
	{Code: WorkReferBrakesHub, Stage: StageRefer, Of: OfPlace, Needs: NeedsNothing, WheelOff: true, Dropped: true},
	{Code: WorkConsentMend, Stage: StageOKToMend, Of: OfPlace, Needs: NeedsWork, ForThem: true},
	{Code: WorkRepairAfterInspection, Stage: StageMend, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkRepairCombination, Stage: StageMend, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Dismounts: true},
	{Code: WorkRepairTwoPiece, Stage: StageMend, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Dismounts: true},
	{Code: WorkRepairReferSection, Stage: StageMend, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Dismounts: true},
	{Code: WorkTireReplace, Stage: StageMend, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Dismounts: true, Fits: true},
	{Code: WorkTiresReplacePair, Stage: StageMend, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Dismounts: true, Fits: true},
	{Code: WorkTiresFitWinter, Stage: StageMend, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Dismounts: true, Fits: true},
	{Code: WorkTiresFitRight, Stage: StageMend, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Dismounts: true, Fits: true},
	{Code: WorkTiresMatchAxle, Stage: StageMend, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Dismounts: true, Fits: true},
	{Code: WorkTiresMatchSet, Stage: StageMend, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Dismounts: true, Fits: true},
	{Code: WorkWheelReplace, Stage: StageMend, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Dismounts: true},
	{Code: WorkWheelCleanBeadSeat, Stage: StageMend, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Dismounts: true},
	{Code: WorkTireRemount, Stage: StageMend, Of: OfPlace, Needs: NeedsWork, WheelOff: true, Dismounts: true},
	{Code: WorkValveRenew, Stage: StageParts, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Dismounts: true, Dropped: true},
	{Code: WorkSensorRenew, Stage: StageParts, Of: OfPlace, Needs: NeedsProof},
	{Code: WorkTireSteerAxleRules, Stage: StageNewTire, Of: OfPlace, Needs: NeedsWork, InHouse: true},
	{Code: WorkTireCheckNew, Stage: StageNewTire, Of: OfPlace, Needs: NeedsWork, InHouse: true, Craft: true},
	{Code: WorkTiresDeeperPairToRear, Stage: StagePlace, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Moves: true},
	{Code: WorkWheelsSwapSides, Stage: StagePlace, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Moves: true},
	{Code: WorkSpareMendCarrier, Stage: StagePlace, Of: OfPlace, Needs: NeedsProof},
	{Code: WorkSpareSet, Stage: StagePlace, Of: OfPlace, Needs: NeedsNothing, Caution: CautionAddingAir},
	{Code: WorkSpareRenew, Stage: StagePlace, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkSparePutBack, Stage: StagePlace, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Fits: true, Moves: true},
	{Code: WorkTireReuseElsewhere, Stage: StagePlace, Of: OfPlace, Needs: NeedsProof},
	{Code: WorkTiresRotate, Stage: StagePlace, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Moves: true},
	{Code: WorkTireMount, Stage: StageMount, Of: OfPlace, Needs: NeedsWork, Caution: CautionAddingAir, InHouse: true},
	{Code: WorkTireRestrainingDevice, Stage: StageDevice, Of: OfPlace, Needs: NeedsWork, WheelOff: true, Caution: CautionDeflate, InHouse: true},
	{Code: WorkTireFillInDevice, Stage: StageDevice, Of: OfPlace, Needs: NeedsWork, WheelOff: true, Caution: CautionDeflate, InHouse: true},
	{Code: WorkTireFillGuarded, Stage: StageDevice, Of: OfPlace, Needs: NeedsWork, Caution: CautionAddingAir, InHouse: true},
	{Code: WorkTireFillByShop, Stage: StageDevice, Of: OfPlace, Needs: NeedsWork, Caution: CautionAddingAir, InHouse: true},
	{Code: WorkAirSet, Stage: StageInflate, Of: OfPlace, Needs: NeedsProof, Caution: CautionAddingAir},
	{Code: WorkAirSetForSize, Stage: StageInflate, Of: OfPlace, Needs: NeedsProof},
	{Code: WorkRotationSetPressures, Stage: StageInflate, Of: OfPlace, Needs: NeedsWork, Caution: CautionAddingAir},
	{Code: WorkAirMatchMates, Stage: StageInflate, Of: OfPlace, Needs: NeedsProof, Caution: CautionAddingAir},
	{Code: WorkAirLowerCold, Stage: StageInflate, Of: OfPlace, Needs: NeedsProof, Caution: CautionNeverBleed},
	{Code: WorkDualMatch, Stage: StageInflate, Of: OfPlace, Needs: NeedsProof, WheelOff: true, Dismounts: true, Fits: true},
	{Code: WorkTireSoap, Stage: StageSoap, Of: OfPlace, Needs: NeedsWork, InHouse: true, Craft: true},
	{Code: WorkWheelBalance, Stage: StageBalance, Of: OfPlace, Needs: NeedsWork, Craft: true},
	{Code: WorkWheelMatingFaces, Stage: StageFaces, Of: OfPlace, Needs: NeedsWork, InHouse: true, Craft: true},
	{Code: WorkWheelHang, Stage: StageHang, Of: OfPlace, Needs: NeedsWork, InHouse: true, Craft: true},
	{Code: WorkWheelTorque, Stage: StageTorque, Of: OfPlace, Needs: NeedsWork, Caution: CautionWheelFastening, InHouse: true},
	{Code: WorkWheelTorqueCheck, Stage: StageTorque, Of: OfPlace, Needs: NeedsNothing, Caution: CautionWheelFastening},
	{Code: WorkAirCompareMate, Stage: StageMate, Of: OfPlace, Needs: NeedsWork, InHouse: true, Craft: true},
	{Code: WorkSensorRelearn, Stage: StageSensors, Of: OfVehicle, Needs: NeedsWork, InHouse: true, Craft: true},
	{Code: WorkSensorReset, Stage: StageSensors, Of: OfVehicle, Needs: NeedsWork, InHouse: true, Craft: true},
	{Code: WorkSensorCheck, Stage: StageSensors, Of: OfPlace, Needs: NeedsNothing, Dropped: true},
	{Code: WorkLampCheck, Stage: StageLamp, Of: OfVehicle, Needs: NeedsNothing, InHouse: true},
	{Code: WorkAlignmentCheck, Stage: StageAlignment, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkRoadTest, Stage: StageRoadTest, Of: OfVehicle, Needs: NeedsNothing},
	{Code: WorkRotationCheckArrows, Stage: StageRecord, Of: OfPlace, Needs: NeedsWork, InHouse: true, Craft: true},
	{Code: WorkSpeedLabel, Stage: StageRecord, Of: OfPlace, Needs: NeedsNothing},
	{Code: WorkRecordAsLeft, Stage: StageRecord, Of: OfVehicle, Needs: NeedsNothing, InHouse: true, Routine: true},
	{Code: WorkRecordRegistration, Stage: StageRecord, Of: OfPlace, Needs: NeedsWork, Craft: true},
	{Code: WorkRecordScrap, Stage: StageRecord, Of: OfPlace, Needs: NeedsWork, InHouse: true, Craft: true},
	{Code: WorkCustomerTell, Stage: StageTell, Of: OfVehicle, Needs: NeedsNothing, InHouse: true, Routine: true},
	{Code: WorkOwedTorqueRecheck, Stage: StageLater, Of: OfPlace, Needs: NeedsNothing, Caution: CautionWheelFastening, ForThem: true},
	{Code: WorkOwedTorqueRecheckTrailer, Stage: StageLater, Of: OfPlace, Needs: NeedsNothing, Caution: CautionWheelFastening, ForThem: true},
	{Code: WorkOwedColdPressure, Stage: StageLater, Of: OfPlace, Needs: NeedsNothing, ForThem: true},
}
