package finding

import (
	"slices"
	"testing"
)

// A spare in use, too few or barred is a tire; its carrier is a place; what lies beside it is
// the vehicle's.
func TestWhatOfASpareAFindingIsOf(t *testing.T) {
	of := map[Code]Of{
		SpareNotReachable:      OfPlace,
		SpareHoistFails:        OfPlace,
		SpareJackMissing:       OfVehicle,
		SpareKeyMissing:        OfVehicle,
		SpareKitMissing:        OfVehicle,
		SpareInService:         OfTire,
		SpareTwoInService:      OfTire,
		SpareTowing:            OfTire,
		SpareBarred:            OfTire,
		SpareMatchingInService: OfTire,
	}
	for _, k := range kinds.rows {
		if k.Again == AgainSpare && k.Of != of[k.Code] {
			t.Errorf("%s stays open on %d", k.Code, k.Of)
		}
	}
}

// What of a later visit judges a finding again.
func TestWhatSeesAFindingAgain(t *testing.T) {
	column(t, kinds.rows, func(k Kind) Code { return k.Code }, func(k Kind) Again { return k.Again }, AgainNotTold, map[Again][]Code{
		AgainNever: {
			ChassisPartBent, ChassisSteeringPlay, ChassisSuspensionPlay, ChassisBearingPlay, ChassisDamperWeak, ChassisBrakeDragging, WheelMultiPiece,
			WheelOnePiece, MatchDualLargerInside,
		},
		AgainAlways: {SpareKitPastItsDay, DoubtOdometerFell, DoubtOdometerUnit, DoubtOdometerFar},
		AgainDepth: {
			TreadOddReading, TreadWornToBars, TreadLegalLimit, TreadModelLimit, TreadFittingLimit, TreadCommonMinimum, TreadShopLimit, TreadRoadsideLimit,
			TreadMajorDefect, TreadWetAdvice, TreadSnowAdvice, TreadWinterAdvice, TreadUnlikelyDepth, TreadAxleDifference, TreadAxleDifferenceLimit,
			TreadWinterMark, TreadWinterMinimum, TreadWinterTireAdvice, TrendOddReading, TrendBrokeIn, TrendUneven, TrendUnsteady, TrendReachesLimit, TrendGrew,
			TrendSetOut, TrendFirstOut, TrendNewestInDoubt, TrendWearsOtherwise, RotationUnrecorded, RotationRefused, DoubtBarsWithTread, DoubtDepthUnit,
			DoubtAsBefore,
		},
		AgainAcross: {
			WearLookAgain, WearUndecided, WearAxleNotSquare, WearToeIn, WearCamberPositive, WearOneCorner, WearCornering, WearToeOut, WearCamberNegative,
			WearUnderinflatedLong, WearOverloaded, WearLightLoadAtLabelPressure, WearDriveTorque, WearOverinflatedLong, WearEdgeBeyondGrooves, WearHeelAndToe,
			WearDiagonalDips, WearMadeAtFormerPosition, WearNoPatternNew, WearRotationMissed, WearDifferentTire, WearOneTireFaster, WearScalloped, WearNotRound,
			WearFlatSpot, WearFlatSpotLockedWheel,
		},
		AgainPressure: {
			InflationLow, InflationBelowLabel, InflationLabelWhileWarm, InflationShortWhereUsed, InflationHeatAllowance, InflationFindLeak,
			InflationNoAirOnVehicle, InflationRunLowUndecided, InflationRunLow, InflationFlat, InflationAudibleLeak, InflationAboveLabel,
			InflationWarmAboveLabel, InflationCheckCold, InflationLabelAboveSidewall, InflationAboveSidewallMaximum, InflationWarmAboveSidewall,
			InflationAtLampThreshold, InflationAllAlike, InflationDualMateCarriedLoad, InflationDualSpread, InflationTandemMateCarriedLoad,
			InflationLampOnLowTire, TrendLosesFaster, TrendLosesAlike, SpareLow, SpareNotRead, DoubtFlatWithAir, DoubtPressureUnit, DoubtLabelUnit, DoubtThumped,
		},
		AgainHole: {
			PunctureRunLowDamage, PunctureStructure, PunctureCord, PunctureBead, PunctureCracks, PunctureZipper, PunctureScuffRing, PunctureEarlierRepair,
			PunctureWorn, PunctureMakerPolicy, PunctureTooMany, PunctureTooManyForMaker, PunctureSpeedSymbolLost, PunctureOverlap, PunctureSize, PuncturePlace,
			PunctureRepairersRule, PunctureNoInjury, PunctureRepairable, PunctureInspectInside, PunctureNotDecided, PunctureRanSpecial, PunctureNotAsNailHole,
			PunctureNotRepairable, PunctureAngle, PunctureAskSealant, PunctureAge, PunctureSeveralInjuries, PunctureSpeedSymbol, PunctureSelfSupporting,
			PunctureSteerNailHole, PunctureSectionOnSteer, PunctureNotOnSteer, PunctureAngleNotTold, PunctureDoNotPull, RepairImproperEarlier,
		},
		AgainWhole: {
			DamageBulge, DamageSeparation, DamageRadialRipple, DamageRetreadEdgeLifting, DamageCut, DamageCutToCord, DamageCurbScuff, DamageRubbing,
			DamageCordShowing, DamageChunking, DamageTornLug, DamageEdgeWornSmooth, DamageStoneDrilling, DamageInwardDent, DamageCracksFine, DamageCracksOpen,
			DamageCracksJoined, DamageCracksToCord, DamageDualsRubbing, DamageBlistering, DamageBead, DamageLinerSplit, DamageCutLimit, DualTouching,
			DualTooClose, DualObjectBetween, DualValveBlocked,
		},
		AgainAllSeen: {ComplaintHitSomething, ComplaintThump},
		AgainWheel: {
			WheelBent, WheelCrack, WheelLeaking, WheelBeadSeatCorroded, WheelGreaseInside, WheelHolesElongated, WheelWelded, WheelWrongWidth, WheelSpacer,
		},
		AgainFasteners: {
			FastenerCountDiffers, FastenerDamaged, FastenerTooFewRenewed, FastenerFacesNotCleaned, FastenerNotStaged, FastenerLoose, FastenerMissing,
			FastenerBroken, FastenerStretched, FastenerRustStreaks, FastenerWrongSeat, FastenerCappedNutSwollen,
		},
		AgainTorque:    {TorqueNoRecord, TorqueDiffers, TorqueFastenerMoved, TorqueRecheckIncomplete, TorqueRecheckLate, TorqueRecheckOwed},
		AgainValve:     {ValveCoreSeizes, ValveUnderRated, ValveLeaking, ValveCracked, ValveBent, ValveCorroded, ValveCapMissing, ValveExtension},
		AgainSensor:    {SensorNotLearned, SensorNotAnswering, SensorBatteryLow, SensorDiffers, SensorAllDifferAlike},
		AgainRelearned: {SensorRelearnOwed},
		AgainLamp:      {InflationLampOnPressuresRight, InflationLampOnNotAllRead, InflationLampFlashing, InflationLampBulbNotSeen, SensorLampAsLeft},
		AgainWeighed:   {LoadAboveRating, LoadPressureTooLow, LoadUnderRatedPressure, LoadPassengerOnTruck},
		AgainMade: {
			AgeCheckYearly, AgeReplaceAdvised, AgeApartOnAxle, AgeAsOldAsCracked, AgeLegalLimit, DoubtSameTire, DoubtMadeLater, DoubtNoSuchWeek, DoubtSymbol,
		},
		AgainArrow:   {MountArrowOpposes, MountDateInboard},
		AgainOutside: {MountOutsideIn},
		AgainMarking: {
			TreadStudsBarred, FitmentWinterSpeed, FitmentSpeedByLaw, FitmentSubstituteSize, FitmentSizesMixed, FitmentLoadMixed, FitmentDesignsMixed,
			FitmentConstructionMixed, FitmentConstructionByAxle, FitmentRadialAhead, FitmentSeasonMixed, FitmentSeasonOneAxle, FitmentLoadBelowAxle,
			FitmentNotForHighway, FitmentRetreadOnFront, FitmentRegroovedOnFront, FitmentRegroovedBarred, DoubtRim,
		},
		AgainGood: {
			InflationTowing, MatchDualDesign, MatchDual, MatchDualModelLimit, MatchDualLegalLimit, MatchAxleLegalLimit, MatchDualTread, MatchAllWheelDriveDesign,
			MatchAllWheelDriveTape, MatchAllWheelDrive, FitmentBuildNotLabel, FitmentLoadBelowLabel, FitmentSpeedBelowLabel, FitmentSpeedNotShown,
			FitmentSizeNotLabel, FitmentClassNotLabel, FitmentPressureForSize,
		},
		AgainSpare: {
			SpareNotReachable, SpareHoistFails, SpareJackMissing, SpareKeyMissing, SpareKitMissing, SpareInService, SpareTwoInService, SpareTowing, SpareBarred,
			SpareMatchingInService,
		},
		AgainAsked: {
			ComplaintHumRisingWithSpeed, ComplaintLampColdMorningsOnly, ComplaintLampFlashing, ComplaintLampSteady, ComplaintPullsLeft, ComplaintPullsRight,
			ComplaintSealantUsed, ComplaintSlowLeak, ComplaintSteeringWheelOffCenter, ComplaintVibration,
		},
	})
}

// What of the vehicle as left closes a finding at the same visit. What is not listed stays
// open, or is closed by work.
func TestWhatIsLeftRight(t *testing.T) {
	column(t, kinds.rows, func(k Kind) Code { return k.Code }, func(k Kind) Left { return k.Left }, LeftNothing, map[Left][]Code{
		LeftPressure:  {InflationLow, InflationBelowLabel, InflationLabelWhileWarm, InflationAboveSidewallMaximum, SpareLow},
		LeftWhereUsed: {InflationShortWhereUsed},
		LeftDepth: {
			TreadWornToBars, TreadLegalLimit, TreadModelLimit, TreadCommonMinimum, TreadShopLimit, TreadRoadsideLimit, TreadMajorDefect, TreadWetAdvice,
			TreadSnowAdvice, TreadWinterAdvice, TreadWinterMinimum, TreadWinterTireAdvice,
		},
		LeftLoad:     {LoadPressureTooLow, LoadUnderRatedPressure},
		LeftArrow:    {MountArrowOpposes},
		LeftOutside:  {MountOutsideIn},
		LeftValve:    {ValveUnderRated},
		LeftFastened: {FastenerLoose, FastenerMissing, FastenerBroken, FastenerStretched, FastenerRustStreaks},
		LeftSensor:   {SensorNotAnswering, SensorBatteryLow},
		LeftAgreeing: {SensorDiffers, SensorAllDifferAlike},
		LeftLearned:  {SensorNotLearned},
		LeftLamp:     {InflationLampOnLowTire, InflationLampOnPressuresRight, InflationLampFlashing, ComplaintLampFlashing, ComplaintLampSteady},
		LeftCleared:  {InflationRunLowUndecided, InflationRunLow, InflationDualMateCarriedLoad, InflationTandemMateCarriedLoad},
		LeftTight:    {InflationFindLeak, InflationFlat, InflationAudibleLeak},
		LeftRepaired: {
			PunctureRunLowDamage, PunctureStructure, PunctureCord, PunctureBead, PunctureCracks, PunctureZipper, PunctureScuffRing, PunctureEarlierRepair,
			PunctureWorn, PunctureMakerPolicy, PunctureTooMany, PunctureOverlap, PunctureSize, PuncturePlace, PunctureRepairersRule, PunctureRepairable,
			PunctureInspectInside, PunctureNotDecided, PunctureAngle, PunctureAskSealant, PunctureAge, PunctureSeveralInjuries, PunctureSpeedSymbol,
			PunctureSelfSupporting, PunctureSteerNailHole, PunctureSectionOnSteer, PunctureNotOnSteer, PunctureAngleNotTold, PunctureDoNotPull,
		},
		LeftObjectOut:    {PunctureNoInjury},
		LeftRenewed:      {FastenerWrongSeat},
		LeftAired:        {InflationNoAirOnVehicle},
		LeftSpread:       {InflationDualSpread},
		LeftForSize:      {FitmentPressureForSize},
		LeftSeen:         {ComplaintHitSomething},
		LeftAllRead:      {InflationLampOnNotAllRead},
		LeftWeighed:      {LoadAboveRating},
		LeftSealantKnown: {ComplaintSealantUsed},
		LeftAxle:         {TreadAxleDifferenceLimit},
	})
}

// What sets a finding right, or decides it. What is not listed asks for nothing by itself.
func TestWhatSetsAFindingRight(t *testing.T) {
	column(t, kinds.rows, func(k Kind) Code { return k.Code }, func(k Kind) Work { return k.Work }, "", map[Work][]Code{
		WorkMeasureAgain:   {TreadOddReading, TreadUnlikelyDepth, TrendNewestInDoubt, DoubtFlatWithAir, DoubtBarsWithTread, DoubtDepthUnit, DoubtAsBefore},
		WorkTiresMatchAxle: {TreadAxleDifferenceLimit, MatchAxleLegalLimit},
		WorkTiresFitRight: {
			TreadStudsBarred, FitmentBuildNotLabel, FitmentLoadBelowLabel, FitmentSpeedBelowLabel, FitmentSpeedByLaw, FitmentSizeNotLabel, FitmentClassNotLabel,
			FitmentSizesMixed, FitmentConstructionMixed, FitmentConstructionByAxle, FitmentRadialAhead, FitmentSeasonMixed, FitmentSeasonOneAxle,
			FitmentLoadBelowAxle, FitmentNotForHighway, FitmentRetreadOnFront, FitmentRegroovedOnFront, FitmentRegroovedBarred,
		},
		WorkMeasureToSettle: {
			WearUndecided, InflationLabelAboveSidewall, InflationDualSpread, InflationLampOnNotAllRead, LoadPressureTooLow, LoadUnderRatedPressure,
			SensorNotLearned, SensorDiffers, SensorAllDifferAlike, SpareNotRead, DoubtPressureUnit, DoubtLabelUnit, DoubtThumped,
		},
		WorkTireReplace: {
			RepairImproperEarlier, DamageBulge, DamageSeparation, DamageRadialRipple, DamageRetreadEdgeLifting, DamageCutToCord, DamageCordShowing,
			DamageCracksJoined, DamageCracksToCord, DamageBlistering, DamageBead, DamageLinerSplit, AgeAsOldAsCracked,
		},
		WorkTireLookClosely:         {DamageCut, DamageChunking, DamageTornLug, DamageEdgeWornSmooth, DamageCracksOpen},
		WorkReferSteeringSuspension: {DamageRubbing, ChassisPartBent, ChassisSteeringPlay, ChassisSuspensionPlay, ChassisDamperWeak},
		WorkWheelClearSpace:         {DamageDualsRubbing, DualTouching, DualTooClose, DualObjectBetween, DualValveBlocked},
		WorkFastenersPutRight: {
			FastenerCountDiffers, FastenerDamaged, FastenerTooFewRenewed, FastenerLoose, FastenerMissing, FastenerBroken, FastenerStretched, FastenerRustStreaks,
			FastenerWrongSeat, TorqueFastenerMoved,
		},
		WorkWheelMatingFaces:   {FastenerFacesNotCleaned},
		WorkWheelTorque:        {TorqueNoRecord, TorqueDiffers},
		WorkWheelTorqueCheck:   {TorqueRecheckIncomplete, TorqueRecheckOwed},
		WorkValveRenew:         {ValveUnderRated, ValveLeaking, ValveCracked, ValveBent, ValveCorroded},
		WorkSensorCheck:        {SensorNotAnswering},
		WorkSensorRenew:        {SensorBatteryLow},
		WorkReferBrakesHub:     {ChassisBearingPlay, ChassisBrakeDragging, WheelGreaseInside},
		WorkWheelReplace:       {WheelBent, WheelCrack, WheelLeaking, WheelHolesElongated, WheelWelded, WheelWrongWidth},
		WorkWheelCleanBeadSeat: {WheelBeadSeatCorroded},
		WorkDualMatch:          {MatchDualDesign, MatchDual, MatchDualModelLimit, MatchDualLegalLimit, MatchDualTread},
		WorkTiresMatchSet:      {MatchAllWheelDriveDesign, MatchAllWheelDriveTape, MatchAllWheelDrive},
		WorkSpeedLabel:         {FitmentSpeedNotShown},
		WorkAirSetForSize:      {FitmentPressureForSize},
		WorkTireRemount:        {MountArrowOpposes, MountOutsideIn},
		WorkSealantAskFirst:    {ComplaintSealantUsed},
		WorkSpareMendCarrier:   {SpareHoistFails},
		WorkSparePutBack:       {SpareInService, SpareTwoInService, SpareTowing, SpareBarred},
		WorkSpareSet:           {SpareLow},
	})
}

// What a finding warns of.
func TestWhatAFindingWarnsOf(t *testing.T) {
	column(t, kinds.rows, func(k Kind) Code { return k.Code }, func(k Kind) Caution { return k.Caution }, "", map[Caution][]Code{
		CautionAddingAir: {
			InflationLow, InflationBelowLabel, InflationLabelWhileWarm, InflationShortWhereUsed, InflationTowing, InflationDualSpread, SpareLow,
		},
		CautionDeflate:                  {InflationNoAirOnVehicle, InflationDualMateCarriedLoad, InflationTandemMateCarriedLoad, WheelMultiPiece},
		CautionLeakOrFlat:               {InflationFlat, InflationAudibleLeak},
		CautionNeverBleed:               {InflationAboveLabel, InflationWarmAboveLabel, InflationCheckCold, InflationAboveSidewallMaximum, InflationWarmAboveSidewall},
		CautionOverload:                 {LoadAboveRating, LoadPressureTooLow, LoadUnderRatedPressure, LoadPassengerOnTruck},
		CautionPunctureNoAir:            {PunctureRunLowDamage, PunctureStructure, PunctureBead, PunctureScuffRing, PunctureRanSpecial},
		CautionPunctureZipper:           {PunctureZipper},
		CautionPunctureTrainedRepairer:  {PunctureRepairable, PunctureNotAsNailHole},
		CautionPunctureSealantFlammable: {PunctureAskSealant, ComplaintSealantUsed},
		CautionBulge:                    {DamageBulge, DamageSeparation},
		CautionZipper:                   {DamageRadialRipple},
		CautionDamagedTire: {
			DamageRetreadEdgeLifting, DamageCutToCord, DamageCordShowing, DamageCracksJoined, DamageCracksToCord, DamageBlistering, DamageBead, DamageLinerSplit,
			DamageCutLimit,
		},
		CautionLifting: {
			DamageRubbing, DamageDualsRubbing, ChassisPartBent, ChassisSteeringPlay, ChassisSuspensionPlay, ChassisBearingPlay, DualTouching, DualObjectBetween,
		},
		CautionWheelFastening: {
			FastenerCountDiffers, FastenerDamaged, FastenerTooFewRenewed, FastenerFacesNotCleaned, FastenerLoose, FastenerMissing, FastenerBroken,
			FastenerStretched, FastenerRustStreaks, FastenerWrongSeat, TorqueNoRecord, TorqueDiffers, TorqueFastenerMoved, TorqueRecheckIncomplete,
			TorqueRecheckOwed, WheelCrack, WheelHolesElongated, WheelWelded,
		},
		CautionLookBeforeAir: {ComplaintHitSomething, ComplaintThump},
		CautionRunLow:        {DoubtFlatWithAir, DoubtPressureUnit},
	})
}

// What a law forbids by name, in whichever words: cord showing, a bulge, a flat, a cut to the
// cord, wheel and fasteners, an overload (49 CFR 393.75, 393.205).
func TestWhatALawForbids(t *testing.T) {
	column(t, kinds.rows, func(k Kind) Code { return k.Code }, func(k Kind) Subject { return k.Law }, "", map[Subject][]Code{
		LawFlatOrLeaking:   {InflationFlat, InflationAudibleLeak},
		LawLoad:            {LoadAboveRating},
		LawPressureForLoad: {LoadPressureTooLow},
		LawSeparation:      {DamageBulge, DamageSeparation, DamageRadialRipple, DamageRetreadEdgeLifting, DamageBlistering},
		LawCut:             {DamageCutToCord},
		LawCordExposed:     {DamageCordShowing, DamageCracksToCord},
		LawFasteners:       {FastenerLoose, FastenerMissing, FastenerBroken, FastenerStretched},
		LawWheelCondition:  {WheelCrack, WheelHolesElongated, WheelWelded},
	})
}

// A depth is held against its own limit, and what is met has the name of what is not.
func TestWhatIsMetHasTheNameOfWhatIsNot(t *testing.T) {
	limits := []Code{TreadLegalLimit, TreadModelLimit, TreadFittingLimit, TreadCommonMinimum, TreadShopLimit, TreadRoadsideLimit, TreadMajorDefect}
	for _, k := range kinds.rows {
		want := Checked("")
		if slices.Contains(limits, k.Code) {
			want = Checked(k.Code)
		}
		if k.Met != want {
			t.Errorf("%s is met as %q", k.Code, k.Met)
		}
	}
}

// What speaks against a repair is evidence of its name: two are the maker's own no.
func TestAHoleIsEvidenceByItsName(t *testing.T) {
	named := []Code{
		PunctureRunLowDamage, PunctureStructure, PunctureCord, PunctureBead, PunctureCracks, PunctureZipper, PunctureEarlierRepair, PunctureWorn, PunctureMakerPolicy,
		PunctureTooMany, PunctureOverlap, PunctureSize, PuncturePlace,
	}
	makers := map[Code]Fact{PunctureRanSpecial: FactPunctureMakerPolicy, PunctureTooManyForMaker: FactPunctureTooMany}
	for _, k := range kinds.rows {
		want := makers[k.Code]
		if slices.Contains(named, k.Code) {
			want = Fact(k.Code)
		}
		if k.Fact != want {
			t.Errorf("%s is evidence as %q", k.Code, k.Fact)
		}
	}
}

// A line of work says all that a note of it says of what to do.
func TestNotesThatALineSays(t *testing.T) {
	for _, k := range kinds.rows {
		want := map[Code]Work{InflationWarmAboveLabel: WorkOwedColdPressure, PunctureDoNotPull: WorkObjectLeaveIn}[k.Code]
		if k.SaidBy != want {
			t.Errorf("%s is said by %q", k.Code, k.SaidBy)
		}
	}
}
