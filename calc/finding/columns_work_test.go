package finding

import "testing"

// The stage of the work on one wheel that a line is done in (common practice).
func TestWhenALineIsDone(t *testing.T) {
	column(t, works.rows, func(k WorkKind) Work { return k.Code }, func(k WorkKind) Stage { return k.Stage }, StageNotTold, map[Stage][]Work{
		StageMakeSafe: {WorkVehicleHold, WorkVehicleChock, WorkAirNone, WorkObjectLeaveIn, WorkLoadReduce, WorkSealantAskFirst},
		StageAsFound:  {WorkMeasureAgain, WorkMeasureToSettle, WorkAirReadCold},
		StageOKToLook: {WorkConsentLook},
		StageNuts:     {WorkFastenersFindKey, WorkFastenersLook},
		StageAirOut:   {WorkAxleStand, WorkAirDeflateFirst},
		StageWheelOff: {WorkWheelTakeOff},
		StageWheelEnd: {WorkWheelLookWhileOff, WorkFastenersPutRight, WorkFastenersRenewWithNeighbors, WorkFastenersRenewAll, WorkWheelClearSpace},
		StageLook:     {WorkTireLookAllRound, WorkTireLookClosely, WorkAirFindLeak},
		StageInside:   {WorkTireDemountInspect, WorkObjectRemoveAndSoap},
		StageDecide:   {WorkRepairFindOut, WorkTireReplaceIfBelow, WorkTiresOneOrTwo, WorkTiresOneOrTwoToRear},
		StageRefer:    {WorkReferSteeringSuspension, WorkReferBrakesHub},
		StageOKToMend: {WorkConsentMend},
		StageMend: {
			WorkRepairAfterInspection, WorkRepairCombination, WorkRepairTwoPiece, WorkRepairReferSection, WorkTireReplace, WorkTiresReplacePair,
			WorkTiresFitWinter, WorkTiresFitRight, WorkTiresMatchAxle, WorkTiresMatchSet, WorkWheelReplace, WorkWheelCleanBeadSeat, WorkTireRemount,
		},
		StageParts:   {WorkValveRenew, WorkSensorRenew},
		StageNewTire: {WorkTireSteerAxleRules, WorkTireCheckNew},
		StagePlace: {
			WorkTiresDeeperPairToRear, WorkWheelsSwapSides, WorkSpareMendCarrier, WorkSpareSet, WorkSpareRenew, WorkSparePutBack, WorkTireReuseElsewhere,
			WorkTiresRotate,
		},
		StageMount:     {WorkTireMount},
		StageDevice:    {WorkTireRestrainingDevice, WorkTireFillInDevice, WorkTireFillGuarded, WorkTireFillByShop},
		StageInflate:   {WorkAirSet, WorkAirSetForSize, WorkRotationSetPressures, WorkAirMatchMates, WorkAirLowerCold, WorkDualMatch},
		StageSoap:      {WorkTireSoap},
		StageBalance:   {WorkWheelBalance},
		StageFaces:     {WorkWheelMatingFaces},
		StageHang:      {WorkWheelHang},
		StageTorque:    {WorkWheelTorque, WorkWheelTorqueCheck},
		StageMate:      {WorkAirCompareMate},
		StageSensors:   {WorkSensorRelearn, WorkSensorReset, WorkSensorCheck},
		StageLamp:      {WorkLampCheck},
		StageAlignment: {WorkAlignmentCheck},
		StageRoadTest:  {WorkRoadTest},
		StageRecord:    {WorkRotationCheckArrows, WorkSpeedLabel, WorkRecordAsLeft, WorkRecordRegistration, WorkRecordScrap},
		StageTell:      {WorkCustomerTell},
		StageLater:     {WorkOwedTorqueRecheck, WorkOwedTorqueRecheckTrailer, WorkOwedColdPressure},
	})
}

// Most lines are done at a wheel; these are of the vehicle, and what is in a tire is asked of
// it.
func TestWhatALineIsOf(t *testing.T) {
	column(t, works.rows, func(k WorkKind) Work { return k.Code }, func(k WorkKind) Of { return k.Of }, OfPlace, map[Of][]Work{
		OfTire:    {WorkSealantAskFirst},
		OfVehicle: {WorkVehicleChock, WorkSensorRelearn, WorkSensorReset, WorkLampCheck, WorkRoadTest, WorkRecordAsLeft, WorkCustomerTell},
	})
}

// How sure what calls for a line has to be. From doubt come only a hold, no air, a look, a
// measurement, a question and what is seen to after the visit; what is fitted, moved, filled
// or let off needs proof; what is done along with other work needs that work.
func TestHowSureALineHasToBe(t *testing.T) {
	column(t, works.rows, func(k WorkKind) Work { return k.Code }, func(k WorkKind) Needs { return k.Needs }, NeedsNotTold, map[Needs][]Work{
		NeedsNothing: {
			WorkVehicleHold, WorkVehicleChock, WorkAirNone, WorkObjectLeaveIn, WorkLoadReduce, WorkSealantAskFirst, WorkMeasureAgain, WorkMeasureToSettle,
			WorkAirReadCold, WorkConsentLook, WorkFastenersFindKey, WorkFastenersLook, WorkAirDeflateFirst, WorkWheelClearSpace, WorkTireLookAllRound,
			WorkTireLookClosely, WorkAirFindLeak, WorkTireDemountInspect, WorkObjectRemoveAndSoap, WorkRepairFindOut, WorkTireReplaceIfBelow, WorkTiresOneOrTwo,
			WorkTiresOneOrTwoToRear, WorkReferSteeringSuspension, WorkReferBrakesHub, WorkRepairAfterInspection, WorkSpareSet, WorkSpareRenew,
			WorkWheelTorqueCheck, WorkSensorCheck, WorkLampCheck, WorkAlignmentCheck, WorkRoadTest, WorkSpeedLabel, WorkRecordAsLeft, WorkCustomerTell,
			WorkOwedTorqueRecheck, WorkOwedTorqueRecheckTrailer, WorkOwedColdPressure,
		},
		NeedsProof: {
			WorkFastenersPutRight, WorkFastenersRenewWithNeighbors, WorkFastenersRenewAll, WorkRepairCombination, WorkRepairTwoPiece, WorkRepairReferSection,
			WorkTireReplace, WorkTiresReplacePair, WorkTiresFitWinter, WorkTiresFitRight, WorkTiresMatchAxle, WorkTiresMatchSet, WorkWheelReplace,
			WorkWheelCleanBeadSeat, WorkValveRenew, WorkSensorRenew, WorkTiresDeeperPairToRear, WorkWheelsSwapSides, WorkSpareMendCarrier, WorkSparePutBack,
			WorkTireReuseElsewhere, WorkTiresRotate, WorkAirSet, WorkAirSetForSize, WorkAirMatchMates, WorkAirLowerCold, WorkDualMatch,
		},
		NeedsWork: {
			WorkAxleStand, WorkWheelTakeOff, WorkWheelLookWhileOff, WorkConsentMend, WorkTireRemount, WorkTireSteerAxleRules, WorkTireCheckNew, WorkTireMount,
			WorkTireRestrainingDevice, WorkTireFillInDevice, WorkTireFillGuarded, WorkTireFillByShop, WorkRotationSetPressures, WorkTireSoap, WorkWheelBalance,
			WorkWheelMatingFaces, WorkWheelHang, WorkWheelTorque, WorkAirCompareMate, WorkSensorRelearn, WorkSensorReset, WorkRotationCheckArrows,
			WorkRecordRegistration, WorkRecordScrap,
		},
	})
}

// What is for the shop's own safety or records, or a step of other work.
func TestWhatTheCustomerIsNotAsked(t *testing.T) {
	column(t, works.rows, func(k WorkKind) Work { return k.Code }, func(k WorkKind) bool { return k.InHouse }, false, map[bool][]Work{
		true: {
			WorkVehicleHold, WorkVehicleChock, WorkAirNone, WorkObjectLeaveIn, WorkAxleStand, WorkAirDeflateFirst, WorkWheelTakeOff, WorkWheelLookWhileOff,
			WorkTireSteerAxleRules, WorkTireCheckNew, WorkTireMount, WorkTireRestrainingDevice, WorkTireFillInDevice, WorkTireFillGuarded, WorkTireFillByShop,
			WorkTireSoap, WorkWheelMatingFaces, WorkWheelHang, WorkWheelTorque, WorkAirCompareMate, WorkSensorRelearn, WorkSensorReset, WorkLampCheck,
			WorkRotationCheckArrows, WorkRecordAsLeft, WorkRecordScrap, WorkCustomerTell,
		},
	})
}

// What the customer agrees to, has, chooses or comes back for.
func TestWhatTheCustomerIsAsked(t *testing.T) {
	column(t, works.rows, func(k WorkKind) Work { return k.Code }, func(k WorkKind) bool { return k.ForThem }, false, map[bool][]Work{
		true: {
			WorkConsentLook, WorkFastenersFindKey, WorkTiresOneOrTwo, WorkTiresOneOrTwoToRear, WorkConsentMend, WorkOwedTorqueRecheck,
			WorkOwedTorqueRecheckTrailer, WorkOwedColdPressure,
		},
	})
}

// What everybody who does the other work knows, and that forbids nothing.
func TestStepsOfTheCraft(t *testing.T) {
	column(t, works.rows, func(k WorkKind) Work { return k.Code }, func(k WorkKind) bool { return k.Craft }, false, map[bool][]Work{
		true: {
			WorkTireCheckNew, WorkTireSoap, WorkWheelBalance, WorkWheelMatingFaces, WorkWheelHang, WorkAirCompareMate, WorkSensorRelearn, WorkSensorReset,
			WorkRotationCheckArrows, WorkRecordRegistration, WorkRecordScrap,
		},
	})
}

// All work ends with what is recorded and told.
func TestWhatAllWorkEndsWith(t *testing.T) {
	column(t, works.rows, func(k WorkKind) Work { return k.Code }, func(k WorkKind) bool { return k.Routine }, false, map[bool][]Work{
		true: {WorkRecordAsLeft, WorkCustomerTell},
	})
}

// All work begins with a vehicle that cannot roll, or is not driven.
func TestWhatAllWorkBeginsWith(t *testing.T) {
	column(t, works.rows, func(k WorkKind) Work { return k.Code }, func(k WorkKind) bool { return k.Opening }, false, map[bool][]Work{
		true: {WorkVehicleHold, WorkVehicleChock},
	})
}

// What is not asked for again where all that was observed was put right.
func TestWhatIsDroppedOncePutRight(t *testing.T) {
	column(t, works.rows, func(k WorkKind) Work { return k.Code }, func(k WorkKind) bool { return k.Dropped }, false, map[bool][]Work{
		true: {WorkFastenersPutRight, WorkReferSteeringSuspension, WorkReferBrakesHub, WorkValveRenew, WorkSensorCheck},
	})
}

// What is done to a wheel warns of its fastening; what is filled, of the filling; in the
// device, of a tire that may burst.
func TestWhatALineWarnsOf(t *testing.T) {
	column(t, works.rows, func(k WorkKind) Work { return k.Code }, func(k WorkKind) Caution { return k.Caution }, "", map[Caution][]Work{
		CautionPunctureSealantFlammable: {WorkSealantAskFirst},
		CautionWheelFastening: {
			WorkFastenersRenewWithNeighbors, WorkFastenersRenewAll, WorkWheelTorque, WorkWheelTorqueCheck, WorkOwedTorqueRecheck, WorkOwedTorqueRecheckTrailer,
		},
		CautionAddingAir:  {WorkSpareSet, WorkTireMount, WorkTireFillGuarded, WorkTireFillByShop, WorkAirSet, WorkRotationSetPressures, WorkAirMatchMates},
		CautionDeflate:    {WorkTireRestrainingDevice, WorkTireFillInDevice},
		CautionNeverBleed: {WorkAirLowerCold},
	})
}
