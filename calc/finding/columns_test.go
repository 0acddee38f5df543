package finding

import (
	"slices"
	"testing"
)

// column holds a column of a table against what the trade says of its rows: of each value
// the rows that have it, and of all that are not listed the usual one.
func column[R any, C ~string, V comparable](t *testing.T, rows []R, code func(R) C, value func(R) V, usual V, listed map[V][]C) {
	t.Helper()
	known := map[C]bool{}
	for _, r := range rows {
		c, want := code(r), usual
		known[c] = true
		for v, codes := range listed {
			if slices.Contains(codes, c) {
				want = v
			}
		}
		if got := value(r); got != want {
			t.Errorf("%s: %v, want %v", c, got, want)
		}
	}
	for v, codes := range listed {
		for i, c := range codes {
			if !known[c] || slices.Contains(codes[:i], c) {
				t.Errorf("%v: %s has no row, or is listed twice", v, c)
			}
		}
	}
}

// What a look, a reading or a work shows of a finding (common practice; where a law is
// named, it is its own row of a rulebook that says so).

// How long a finding may wait. What is not listed is a note: it is told, and asks for nothing.
func TestHowUrgentFindingsAre(t *testing.T) {
	column(t, kinds.rows, func(k Kind) Code { return k.Code }, func(k Kind) Urgency { return k.Urgency }, Note, map[Urgency][]Code{
		// somebody may be hurt within the next miles, or a law forbids to drive so
		BeforeDriving: {
			TreadLegalLimit, TreadFittingLimit, TreadMajorDefect, TreadAxleDifferenceLimit, InflationRunLow, InflationFlat, InflationAudibleLeak,
			InflationDualMateCarriedLoad, InflationTandemMateCarriedLoad, LoadAboveRating, LoadPressureTooLow, LoadUnderRatedPressure, PunctureRunLowDamage,
			PunctureStructure, PunctureCord, PunctureBead, PunctureZipper, PunctureScuffRing, PunctureOverlap, PunctureRepairersRule, PunctureRanSpecial,
			PunctureSectionOnSteer, DamageBulge, DamageSeparation, DamageRadialRipple, DamageRetreadEdgeLifting, DamageCutToCord, DamageRubbing,
			DamageCordShowing, DamageCracksToCord, DamageDualsRubbing, DamageBlistering, DamageBead, DamageLinerSplit, DamageCutLimit, FastenerCountDiffers,
			FastenerDamaged, FastenerLoose, FastenerMissing, FastenerBroken, FastenerStretched, FastenerWrongSeat, ChassisPartBent, ChassisSteeringPlay,
			ChassisBearingPlay, WheelCrack, WheelHolesElongated, WheelWelded, DualTouching, DualObjectBetween, AgeLegalLimit, MatchDualLegalLimit,
			MatchAxleLegalLimit, FitmentNotForHighway, FitmentRetreadOnFront, FitmentRegroovedOnFront, FitmentRegroovedBarred, SpareTwoInService, SpareTowing,
			DoubtFlatWithAir, DoubtPressureUnit,
		},
		// it grows worse, cannot be told without the shop, or its work is unfinished
		ThisVisit: {
			TreadOddReading, TreadWornToBars, TreadModelLimit, TreadCommonMinimum, TreadWinterMark, TreadWinterMinimum, TreadStudsBarred, InflationLow,
			InflationLabelWhileWarm, InflationFindLeak, InflationNoAirOnVehicle, InflationRunLowUndecided, InflationLabelAboveSidewall,
			InflationAboveSidewallMaximum, InflationDualSpread, InflationLampOnLowTire, InflationLampOnPressuresRight, InflationLampOnNotAllRead,
			InflationLampFlashing, PunctureCracks, PunctureEarlierRepair, PunctureWorn, PunctureMakerPolicy, PunctureTooMany, PunctureTooManyForMaker,
			PunctureSize, PuncturePlace, PunctureNoInjury, PunctureRepairable, PunctureInspectInside, PunctureNotDecided, PunctureNotAsNailHole,
			PunctureNotRepairable, RepairImproperEarlier, DamageCut, DamageChunking, DamageTornLug, DamageEdgeWornSmooth, DamageCracksOpen, DamageCracksJoined,
			FastenerTooFewRenewed, FastenerFacesNotCleaned, FastenerRustStreaks, TorqueNoRecord, TorqueDiffers, TorqueFastenerMoved, TorqueRecheckIncomplete,
			TorqueRecheckOwed, ValveUnderRated, ValveLeaking, ValveCracked, ValveBent, ValveCorroded, SensorNotLearned, SensorDiffers, SensorAllDifferAlike,
			SensorRelearnOwed, SensorLampAsLeft, ChassisSuspensionPlay, ChassisBrakeDragging, WheelBent, WheelLeaking, WheelBeadSeatCorroded, WheelGreaseInside,
			WheelWrongWidth, DualTooClose, DualValveBlocked, AgeAsOldAsCracked, MatchDualDesign, MatchDual, MatchDualModelLimit, MatchDualTread,
			MatchAllWheelDriveDesign, MatchAllWheelDriveTape, MatchAllWheelDrive, FitmentBuildNotLabel, FitmentLoadBelowLabel, FitmentSpeedBelowLabel,
			FitmentSpeedByLaw, FitmentSpeedNotShown, FitmentSizeNotLabel, FitmentClassNotLabel, FitmentPressureForSize, FitmentSizesMixed,
			FitmentConstructionMixed, FitmentConstructionByAxle, FitmentRadialAhead, FitmentSeasonMixed, FitmentSeasonOneAxle, FitmentLoadBelowAxle,
			MountArrowOpposes, MountOutsideIn, TrendNewestInDoubt, ComplaintHitSomething, ComplaintLampFlashing, ComplaintLampSteady, ComplaintSealantUsed,
			ComplaintThump, ComplaintVibration, SpareHoistFails, SpareInService, SpareLow, SpareNotRead, SpareBarred, DoubtBarsWithTread, DoubtSameTire,
			DoubtLabelUnit, DoubtDepthUnit, DoubtThumped, DoubtAsBefore,
		},
		// it is due, and the vehicle may be driven till then
		Plan: {
			TreadShopLimit, TreadWetAdvice, TreadSnowAdvice, TreadWinterAdvice, TreadAxleDifference, TreadWinterTireAdvice, WearUndecided, WearAxleNotSquare,
			WearToeIn, WearCamberPositive, WearOneCorner, WearToeOut, WearCamberNegative, WearUnderinflatedLong, WearLightLoadAtLabelPressure, WearDriveTorque,
			WearEdgeBeyondGrooves, WearDiagonalDips, WearRotationMissed, WearDifferentTire, WearScalloped, WearNotRound, WearFlatSpot, WearFlatSpotLockedWheel,
			InflationBelowLabel, InflationShortWhereUsed, InflationTowing, LoadPassengerOnTruck, SensorNotAnswering, SensorBatteryLow, ChassisDamperWeak,
			AgeReplaceAdvised, FitmentLoadMixed, FitmentDesignsMixed, TrendUneven, TrendLosesFaster, TrendWearsOtherwise, ComplaintHumRisingWithSpeed,
			ComplaintLampColdMorningsOnly, ComplaintPullsLeft, ComplaintPullsRight, ComplaintSlowLeak, ComplaintSteeringWheelOffCenter, SpareKitPastItsDay,
			SpareNotReachable, SpareJackMissing, SpareKeyMissing, SpareKitMissing, SpareMatchingInService,
		},
	})
}

// What may come off or burst while the vehicle is only moved about the lot: a wheel that is
// not held, is broken or lost its seat, a cord that pops.
func TestWhatMayNotEvenBeMoved(t *testing.T) {
	column(t, kinds.rows, func(k Kind) Code { return k.Code }, func(k Kind) bool { return k.Still }, false, map[bool][]Code{
		true: {
			PunctureZipper, DamageRadialRipple, FastenerCountDiffers, FastenerDamaged, FastenerTooFewRenewed, FastenerFacesNotCleaned, FastenerLoose,
			FastenerMissing, FastenerBroken, FastenerStretched, FastenerRustStreaks, FastenerWrongSeat, TorqueNoRecord, TorqueDiffers, TorqueFastenerMoved,
			TorqueRecheckIncomplete, TorqueRecheckOwed, WheelBent, WheelCrack, WheelLeaking, WheelBeadSeatCorroded, WheelGreaseInside, WheelHolesElongated,
			WheelWelded, WheelWrongWidth,
		},
	})
}

// What nobody can tell while it is open: whether something holds the vehicle.
func TestWhatLeavesAnotherQuestionOpen(t *testing.T) {
	column(t, kinds.rows, func(k Kind) Code { return k.Code }, func(k Kind) bool { return k.LeavesOpen }, false, map[bool][]Code{
		true: {
			TreadOddReading, InflationFindLeak, InflationNoAirOnVehicle, InflationRunLowUndecided, PunctureEarlierRepair, PunctureInspectInside,
			PunctureNotDecided, RepairImproperEarlier, DamageCut, DamageChunking, DamageTornLug, DamageEdgeWornSmooth, DamageCracksOpen, FastenerRustStreaks,
			TorqueNoRecord, TorqueFastenerMoved, TorqueRecheckIncomplete, SensorDiffers, ComplaintHitSomething, ComplaintThump, SpareNotRead, DoubtLabelUnit,
			DoubtDepthUnit, DoubtThumped, DoubtAsBefore,
		},
	})
}

// What a tire is not repaired of.
func TestWhatFinishesATire(t *testing.T) {
	column(t, kinds.rows, func(k Kind) Code { return k.Code }, func(k Kind) bool { return k.Scrap }, false, map[bool][]Code{
		true: {
			DamageBulge, DamageSeparation, DamageRadialRipple, DamageRetreadEdgeLifting, DamageCutToCord, DamageCordShowing, DamageCracksJoined,
			DamageCracksToCord, DamageBlistering, DamageBead, DamageLinerSplit, AgeAsOldAsCracked,
		},
	})
}

// A tire at its wear bars is worn out whatever the gauge says: the bars are seen.
func TestWhichFindingsAreConditions(t *testing.T) {
	column(t, kinds.rows, func(k Kind) Code { return k.Code }, func(k Kind) bool { return k.Condition }, false, map[bool][]Code{
		true: {TreadWornToBars, PunctureWorn},
	})
}

// What lies between two duals is of both.
func TestWhatLiesBetweenDualsIsOfBoth(t *testing.T) {
	column(t, kinds.rows, func(k Kind) Code { return k.Code }, func(k Kind) bool { return k.Pair }, false, map[bool][]Code{
		true: {DamageDualsRubbing, DualTouching, DualTooClose, DualObjectBetween, DualValveBlocked},
	})
}

// What is felt at the wheel: a road test shows that it is gone. A leak, a lamp and a blow are
// not felt away.
func TestWhatADriveShows(t *testing.T) {
	column(t, kinds.rows, func(k Kind) Code { return k.Code }, func(k Kind) bool { return k.Felt }, false, map[bool][]Code{
		true: {
			ComplaintHumRisingWithSpeed, ComplaintPullsLeft, ComplaintPullsRight, ComplaintSteeringWheelOffCenter, ComplaintThump, ComplaintVibration,
		},
	})
}

// A life and a distance are figures beside what is found.
func TestFiguresBesideAFinding(t *testing.T) {
	column(t, kinds.rows, func(k Kind) Code { return k.Code }, func(k Kind) bool { return k.Beside }, false, map[bool][]Code{
		true: {TrendReachesLimit, TrendSetOut},
	})
}

// All tires alike is weather and time, and no fault.
func TestWhatCalms(t *testing.T) {
	column(t, kinds.rows, func(k Kind) Code { return k.Code }, func(k Kind) bool { return k.Calms }, false, map[bool][]Code{
		true: {InflationAllAlike, TrendLosesAlike},
	})
}

// What is let down before the first nut of its wheel is loosened: on a large vehicle whatever
// is damaged, rubbed, leaks or may have run low, and any damaged wheel (29 CFR 1910.177 (f));
// on any vehicle what may burst.
func TestLetDownBeforeTheFirstNut(t *testing.T) {
	column(t, kinds.rows, func(k Kind) Code { return k.Code }, func(k Kind) LetDown { return k.LetDown }, LetDownNever, map[LetDown][]Code{
		LetDownLarge: {
			InflationRunLowUndecided, InflationRunLow, InflationFlat, InflationAudibleLeak, InflationDualMateCarriedLoad, InflationTandemMateCarriedLoad,
			DamageRetreadEdgeLifting, DamageCut, DamageRubbing, DamageChunking, DamageTornLug, DamageCracksOpen, DamageCracksJoined, DamageDualsRubbing,
			DamageBead, DamageLinerSplit, DamageCutLimit, WheelBent, WheelCrack, WheelLeaking, WheelHolesElongated, WheelWelded, WheelWrongWidth, DualTouching,
			DualTooClose, DualObjectBetween,
		},
		LetDownAlways: {DamageBulge, DamageSeparation, DamageRadialRipple, DamageCutToCord, DamageCordShowing, DamageCracksToCord, DamageBlistering},
	})
}

// What a finding measures; the others are seen, or told.
func TestWhatIsMeasured(t *testing.T) {
	column(t, kinds.rows, func(k Kind) Code { return k.Code }, func(k Kind) Quantity { return k.Measured }, Nothing, map[Quantity][]Code{
		TreadDepth: {
			TreadOddReading, TreadWornToBars, TreadLegalLimit, TreadModelLimit, TreadFittingLimit, TreadCommonMinimum, TreadRoadsideLimit, TreadMajorDefect,
			TreadWetAdvice, TreadSnowAdvice, TreadWinterAdvice, TreadUnlikelyDepth, TreadAxleDifference, TreadAxleDifferenceLimit, TreadWinterMinimum,
			TreadWinterTireAdvice, WearLookAgain, WearUndecided, WearAxleNotSquare, WearToeIn, WearCamberPositive, WearOneCorner, WearCornering, WearToeOut,
			WearCamberNegative, WearUnderinflatedLong, WearOverloaded, WearLightLoadAtLabelPressure, WearDriveTorque, WearOverinflatedLong, WearDifferentTire,
			WearOneTireFaster, WearScalloped, WearNotRound, WearFlatSpot, WearFlatSpotLockedWheel, PunctureWorn, MatchDualTread, MatchAllWheelDrive,
			TrendOddReading, TrendBrokeIn, TrendGrew, TrendNewestInDoubt, TrendWearsOtherwise, DoubtBarsWithTread, DoubtDepthUnit,
		},
		Length: {
			PunctureOverlap, PunctureSize, PuncturePlace, PunctureRepairersRule, DamageCutLimit, MatchDual, MatchDualModelLimit, MatchDualLegalLimit,
			MatchAxleLegalLimit, MatchAllWheelDriveTape,
		},
		Pressure: {
			InflationLow, InflationBelowLabel, InflationLabelWhileWarm, InflationShortWhereUsed, InflationHeatAllowance, InflationTowing, InflationFindLeak,
			InflationNoAirOnVehicle, InflationRunLowUndecided, InflationRunLow, InflationFlat, InflationAboveLabel, InflationWarmAboveLabel, InflationCheckCold,
			InflationLabelAboveSidewall, InflationAboveSidewallMaximum, InflationWarmAboveSidewall, InflationAtLampThreshold, InflationAllAlike,
			InflationDualSpread, ValveUnderRated, SensorDiffers, FitmentPressureForSize, SpareLow, DoubtFlatWithAir, DoubtPressureUnit, DoubtLabelUnit,
			DoubtThumped,
		},
		PressureLoss: {TrendLosesFaster, TrendLosesAlike},
		Load: {
			LoadAboveRating, LoadPressureTooLow, LoadUnderRatedPressure, LoadPassengerOnTruck, FitmentLoadBelowLabel, FitmentLoadBelowAxle,
			FitmentRegroovedOnFront,
		},
		Share:  {TrendUneven, TrendUnsteady},
		Number: {PunctureTooMany, PunctureTooManyForMaker, FastenerCountDiffers, FastenerDamaged, FastenerTooFewRenewed},
		Age:    {PunctureAge, AgeCheckYearly, AgeReplaceAdvised, AgeApartOnAxle, AgeAsOldAsCracked, AgeLegalLimit},
		Distance: {
			WearRotationMissed, TorqueRecheckLate, TorqueRecheckOwed, TrendReachesLimit, TrendSetOut, TrendFirstOut, DoubtOdometerFell, DoubtOdometerUnit,
			DoubtOdometerFar,
		},
		Speed:  {FitmentSpeedBelowLabel, FitmentWinterSpeed, FitmentSpeedByLaw, FitmentSpeedNotShown},
		Torque: {TorqueDiffers},
		Angle:  {PunctureAngle},
	})
}

// withoutLimit are findings that measure something and hold it against no limit: a reading
// that is in doubt, one that differs from an earlier one, a distance that is only told.
var withoutLimit = []Code{
	TreadOddReading, TrendOddReading, TrendNewestInDoubt, TrendWearsOtherwise, DoubtDepthUnit, TrendSetOut, DoubtOdometerFell, DoubtOdometerUnit,
	DoubtOdometerFar, InflationFlat, DoubtFlatWithAir, DoubtPressureUnit, DoubtLabelUnit, DoubtThumped, AgeAsOldAsCracked, FitmentSpeedNotShown,
}

func TestWhatIsHeldAgainstALimit(t *testing.T) {
	for _, k := range kinds.rows {
		want := k.Measured
		if other, listed := limitElse[k.Code]; listed {
			want = other
		} else if slices.Contains(withoutLimit, k.Code) {
			want = Nothing
		}
		if k.Limit != want {
			t.Errorf("%s measures %d against %d, want %d", k.Code, k.Measured, k.Limit, want)
		}
	}
}
