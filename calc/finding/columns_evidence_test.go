package finding

import (
	"slices"
	"strings"
	"testing"
)

// What amount a piece of evidence tells; the others say something without one.
func TestWhatEvidenceTells(t *testing.T) {
	column(t, facts.rows, func(k FactKind) Fact { return k.Code }, func(k FactKind) Quantity { return k.Amount }, Nothing, map[Quantity][]Fact{
		TreadDepth: {
			FactTreadAsRead, FactTreadNewDepth, FactPunctureTreadLeft, FactPunctureWorn, FactMatchOtherPractice, FactMatchWidestPractice, FactTrendSetAside,
			FactTrendNewDepthAssumed, FactTrendWas, FactTrendWasNew, FactTrendIs, FactTrendExpected, FactDoubtMeantDepth,
		},
		Length: {
			FactPunctureSizeAfterPreparing, FactPunctureSizeAsFound, FactPunctureOverlap, FactPuncturePlace, FactPunctureSize, FactDamageSize,
			FactMatchAsCircumference, FactDoubtRim, FactDoubtMeantRim,
		},
		Pressure: {
			FactInflationColdEquivalent, FactInflationRead, FactInflationColdLow, FactInflationColdHigh, FactInflationLabel, FactInflationLeastLabel,
			FactInflationTwinRead, FactInflationMateRead, FactInflationAllowance, FactInflationTowingAdded, FactLoadFloor, FactLoadNeeds, FactSensorReports,
			FactSensorGaugeRead, FactSensorDifference, FactFitmentCarriesLabelLoadFrom, FactComplaintSofterSide, FactDoubtMeantPressure,
		},
		PressureLoss: {FactTrendLoss},
		Load:         {FactLoadAxleWeight},
		Share:        {FactTreadUsableLeft, FactFitmentLabelDivided, FactFitmentPassengerDivided, FactFitmentDiameterChange, FactTrendNotLinear},
		Number: {
			FactPunctureTooMany, FactAgeMadeWeek, FactAgeMadeYear, FactTrendDays, FactTrendReadings, FactRotationOdds, FactDoubtWeek, FactDoubtYear,
			FactDoubtSymbolAt,
		},
		Age: {FactAgeCommonlyReplacedBy, FactAgeYearsSinceFitted},
		Distance: {
			FactWearMilesHere, FactInflationDrivenLowDistance, FactTrendOddAt, FactTrendAgo, FactTrendEarliest, FactTrendLatest, FactTrendPairOut,
			FactTrendWholeSet, FactTrendLookAgain, FactSpareDistanceLimit, FactDoubtBefore, FactDoubtOtherUnitFits, FactDoubtRun,
		},
		Speed:       {FactFitmentShownSpeed, FactFitmentTrueSpeed, FactSpareSpeedLimit},
		Temperature: {FactInflationBasisSensor, FactInflationBasisInfrared, FactInflationBasisDrive, FactInflationColdestMorning},
		WearRate:    {FactTrendRate},
		Day:         {FactTrendDay, FactTrendEarliestDay, FactTrendLatestDay, FactDoubtLaterDay, FactDoubtEarlierDay},
	})
}

// What was seen, and what is short whatever the gauge, is proved; what nobody read again is in
// doubt.
func TestWhatEvidenceLeavesSure(t *testing.T) {
	column(t, facts.rows, func(k FactKind) Fact { return k.Code }, func(k FactKind) Certainty { return k.Leaves }, CertaintyNotTold, map[Certainty][]Fact{
		Proved:   {FactTreadBarsSeenFlush, FactInflationShortForCertain},
		Doubtful: {FactTreadUnconfirmed},
	})
}

// What a question is about: on which rim and whether a spare is in use somebody may be hurt.
func TestWhatAQuestionIsAbout(t *testing.T) {
	column(t, questions.rows, func(k QuestionKind) Question { return k.Code }, func(k QuestionKind) About { return k.About }, AboutOther, map[About][]Question{
		AboutPressure: {AskReading, AskLabel, AskDriven, AskOutsideTemperature},
		AboutDepth:    {AskDepth, AskFittedDepth},
		AboutShape:    {AskAcross},
		AboutPlace:    {AskCountry, AskState, AskProvince},
		AboutHarm:     {AskRim, AskSpareInUse},
	})
}

// What may make one low reading of depth real: rubber that is gone in one place, or stands out.
func TestWhatMakesOneLowReadingReal(t *testing.T) {
	column(t, observations.rows, func(k ObservationKind) Observation { return k.Kind }, func(k ObservationKind) bool { return k.OneLow }, false, map[bool][]Observation{
		true: {
			ObservedCordShowing, ObservedSeparation, ObservedBulge, ObservedCutToCord, ObservedCut, ObservedChunking, ObservedTornLug, ObservedScalloped,
			ObservedDiagonalDips, ObservedFlatSpot,
		},
	})
}

// What is warned of because somebody does it: fastening, filling, letting off, driving on.
func TestCautionsOfAnAct(t *testing.T) {
	column(t, cautions.rows, func(k CautionKind) Caution { return k.Code }, func(k CautionKind) bool { return k.OfAct }, false, map[bool][]Caution{
		true: {CautionWheelFastening, CautionAddingAir, CautionNeverBleed, CautionDefer},
	})
}

// The graver of several cautions says all that the milder says: demounting a car tire, one
// that ran low, one of a truck, one that has to be let down first.
func TestWhichCautionIsTheGraver(t *testing.T) {
	grave := []Caution{CautionPunctureDemount, CautionRunLow, CautionPunctureDemountTruck, CautionDeflate}
	for _, k := range cautions.rows {
		want := 0
		for i, c := range grave {
			if c == k.Code {
				want = i + 1
			}
		}
		if k.Gravity != want {
			t.Errorf("%s: %d, want %d", k.Code, k.Gravity, want)
		}
	}
}

// What is said where the law of a place is not known here.
func TestWhatIsNotKnownOfALaw(t *testing.T) {
	column(t, recorded.rows, func(k RecordedKind) Recorded { return k.Code }, func(k RecordedKind) bool { return k.LawNotKnown }, false, map[bool][]Recorded{
		true: {RecordedLawCountryNotKnown, RecordedLawDepthNotRead, RecordedLawCommonMinimum},
	})
}

// A whole look at a fitted wheel: all that is seen without taking the tire off its rim.
func TestWhatAWholeLookIs(t *testing.T) {
	column(t, places.rows, func(k LookedKind) Looked { return k.Kind }, func(k LookedKind) bool { return k.Whole }, false, map[bool][]Looked{
		true: {LookedTreadFullTurn, LookedOuterSidewall, LookedInnerSidewall, LookedWheelFace, LookedWheelBarrel, LookedFasteners, LookedValve},
	})
}

// Of a pair the outer wheel covers the inner one.
func TestWhatOnlyTheOuterDualShows(t *testing.T) {
	column(t, places.rows, func(k LookedKind) Looked { return k.Kind }, func(k LookedKind) bool { return k.OuterOnly }, false, map[bool][]Looked{
		true: {LookedWheelFace, LookedFasteners},
	})
}

// The side of a tire that a look is at.
func TestSidesOfATire(t *testing.T) {
	column(t, places.rows, func(k LookedKind) Looked { return k.Kind }, func(k LookedKind) WheelSide { return k.Side }, "", map[WheelSide][]Looked{
		SideOuter: {LookedOuterSidewall},
		SideInner: {LookedInnerSidewall},
	})
}

// What has to be found out before a complaint is answered.
func TestWhatSettlesAComplaint(t *testing.T) {
	column(t, complaints.rows, func(k ComplaintKind) Complaint { return k.Kind }, func(k ComplaintKind) Settle { return k.Settle }, "", map[Settle][]Complaint{
		SettlePull:         {NoticedPullsLeft, NoticedPullsRight},
		SettleOffCenter:    {NoticedSteeringWheelOffCenter},
		SettleVibration:    {NoticedVibration},
		SettleHum:          {NoticedHumRisingWithSpeed},
		SettleThump:        {NoticedThump},
		SettleLeak:         {NoticedSlowLeak},
		SettleHit:          {NoticedHitSomething},
		SettleLampTold:     {NoticedLampSteady, NoticedLampFlashing},
		SettleColdMornings: {NoticedLampColdMorningsOnly},
		SettleWhichSealant: {NoticedSealantUsed},
	})
}

// A look where nothing was found is told by the name of its place, but for a wheel told as
// one: each of its parts is.
func TestALookIsToldByItsPlace(t *testing.T) {
	for _, k := range places.rows {
		if want := Checked("looked." + k.Kind); k.Good != want && k.Kind != LookedWheel || k.Kind == LookedWheel && k.Good != "" {
			t.Errorf("%s: %q", k.Kind, k.Good)
		}
	}
	for _, k := range checks.rows {
		place, looked := strings.CutPrefix(string(k.Code), "looked.")
		if looked && k.Place != Looked(place) || !looked && k.Place != "" {
			t.Errorf("%s: looked at %q", k.Code, k.Place)
		}
	}
}

// Work that sets something right is told by its own name, at the wheel where it was done; a
// drive and a label of the speed are of the vehicle. Other work is told by what it left.
func TestWorkIsToldByItsName(t *testing.T) {
	told := []Done{
		DoneBearingWork, DoneSteeringPartRenewed, DoneSuspensionPartRenewed, DoneBrakeWork, DoneValveRenewed, DoneWheelReplaced, DoneBeadSeatCleaned, DoneDualsCleared,
		DoneProbed, DoneRoadTest, DoneSpareCarrierMended, DoneSpeedLabelPlaced,
	}
	named := map[Done]Closed{}
	for _, d := range told {
		named[d] = Closed("closed." + d)
	}
	for _, k := range dones.rows {
		if k.Closed != named[k.Kind] || k.Whole != (k.Kind == DoneRoadTest || k.Kind == DoneSpeedLabelPlaced) {
			t.Errorf("%s: %q, whole %v", k.Kind, k.Closed, k.Whole)
		}
	}
}

// What the customer tells, in which way it stands by itself.
func TestWhatAComplaintStandsOn(t *testing.T) {
	for _, k := range complaints.rows {
		pulls := k.Kind == NoticedPullsLeft || k.Kind == NoticedPullsRight
		lamp := k.Kind == NoticedLampSteady || k.Kind == NoticedLampFlashing
		told := !lamp && k.Kind != NoticedOther && k.Kind != NoticedSealantUsed && k.Kind != NoticedSlowLeak && k.Kind != NoticedLampColdMorningsOnly
		if k.Front != pulls || k.UnlessLit != lamp || (k.Lit != "") != lamp || (k.Told != "") != told || (k.Code == "") != (k.Kind == NoticedOther) {
			t.Errorf("%s: %+v", k.Kind, k)
		}
	}
}

// A thing that was felt or hit is looked for all round; a shake, at the fasteners first.
func TestWhereAComplaintIsLookedFor(t *testing.T) {
	looks := map[Complaint]Work{NoticedThump: WorkTireLookAllRound, NoticedHitSomething: WorkTireLookAllRound, NoticedVibration: WorkFastenersLook}
	seen := map[Complaint]Fact{NoticedHumRisingWithSpeed: FactComplaintFeathered, NoticedSlowLeak: FactComplaintLeakFound}
	air := []Complaint{NoticedPullsLeft, NoticedPullsRight, NoticedSteeringWheelOffCenter, NoticedSlowLeak, NoticedLampSteady, NoticedLampColdMorningsOnly}
	tread := []Complaint{NoticedPullsLeft, NoticedPullsRight, NoticedSteeringWheelOffCenter, NoticedHumRisingWithSpeed}
	for _, k := range complaints.rows {
		if k.Look != looks[k.Kind] || k.SeenAs != seen[k.Kind] {
			t.Errorf("%s is looked for by %q, seen as %q", k.Kind, k.Look, k.SeenAs)
		}
		if k.Clears.Air != slices.Contains(air, k.Kind) || k.Clears.Tread != slices.Contains(tread, k.Kind) {
			t.Errorf("%s is cleared by %+v", k.Kind, k.Clears)
		}
	}
}
