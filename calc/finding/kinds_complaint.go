package finding

import "slices"

// Findings of what the customer notices.
const (
	ComplaintHitSomething           Code = "complaint.hit-something"
	ComplaintHumRisingWithSpeed     Code = "complaint.hum-rising-with-speed"
	ComplaintLampColdMorningsOnly   Code = "complaint.lamp-cold-mornings-only"
	ComplaintLampFlashing           Code = "complaint.lamp-flashing"
	ComplaintLampSteady             Code = "complaint.lamp-steady"
	ComplaintPullsLeft              Code = "complaint.pulls-left"
	ComplaintPullsRight             Code = "complaint.pulls-right"
	ComplaintSealantUsed            Code = "complaint.sealant-used"
	ComplaintSlowLeak               Code = "complaint.slow-leak"
	ComplaintSteeringWheelOffCenter Code = "complaint.steering-wheel-off-center"
	ComplaintThump                  Code = "complaint.thump"
	ComplaintVibration              Code = "complaint.vibration"
)

// What the customer notices: the contract's kinds.
const (
	NoticedPullsLeft              Complaint = "pulls-left"
	NoticedPullsRight             Complaint = "pulls-right"
	NoticedSteeringWheelOffCenter Complaint = "steering-wheel-off-center"
	NoticedVibration              Complaint = "vibration"
	NoticedHumRisingWithSpeed     Complaint = "hum-rising-with-speed"
	NoticedThump                  Complaint = "thump"
	NoticedSlowLeak               Complaint = "slow-leak"
	NoticedHitSomething           Complaint = "hit-something"
	NoticedLampSteady             Complaint = "lamp-steady"
	NoticedLampFlashing           Complaint = "lamp-flashing"
	NoticedLampColdMorningsOnly   Complaint = "lamp-cold-mornings-only"
	NoticedSealantUsed            Complaint = "sealant-used"
	NoticedOther                  Complaint = "other"
)

// Evidence about what the customer notices.
const (
	FactComplaintOneEdgeWorn          Fact = "complaint.one-edge-worn"
	FactComplaintAxleNotSquare        Fact = "complaint.axle-not-square"
	FactComplaintBentPart             Fact = "complaint.bent-part"
	FactComplaintLoosePart            Fact = "complaint.loose-part"
	FactComplaintComingApart          Fact = "complaint.coming-apart"
	FactComplaintFlatSpot             Fact = "complaint.flat-spot"
	FactComplaintNotRound             Fact = "complaint.not-round"
	FactComplaintScalloped            Fact = "complaint.scalloped"
	FactComplaintBentWheel            Fact = "complaint.bent-wheel"
	FactComplaintLooseFastener        Fact = "complaint.loose-fastener"
	FactComplaintAirShort             Fact = "complaint.air-short"
	FactComplaintBrakeDrags           Fact = "complaint.brake-drags"
	FactComplaintTiresDiffer          Fact = "complaint.tires-differ"
	FactComplaintHeelAndToe           Fact = "complaint.heel-and-toe"
	FactComplaintLeakFound            Fact = "complaint.leak-found"
	FactComplaintStruck               Fact = "complaint.struck"
	FactComplaintSensorSilent         Fact = "complaint.sensor-silent"
	FactComplaintFeathered            Fact = "complaint.feathered"
	FactComplaintAiredOften           Fact = "complaint.aired-often"
	FactComplaintLookedAtNothingFound Fact = "complaint.looked-at-nothing-found"
	FactComplaintSofterSide           Fact = "complaint.softer-side"
	FactToldHitSomething              Fact = "told.hit-something"
	FactToldHumRisingWithSpeed        Fact = "told.hum-rising-with-speed"
	FactToldPullsLeft                 Fact = "told.pulls-left"
	FactToldPullsRight                Fact = "told.pulls-right"
	FactToldSteeringWheelOffCenter    Fact = "told.steering-wheel-off-center"
	FactToldThump                     Fact = "told.thump"
	FactToldVibration                 Fact = "told.vibration"
)

// complaintFindings are the findings of what the customer notices.
var complaintFindings = []Kind{
	{Code: ComplaintHitSomething, Urgency: ThisVisit, LeavesOpen: true, Of: OfVehicle, Measured: Nothing, Limit: Nothing, Caution: CautionLookBeforeAir, Again: AgainAllSeen, Left: LeftSeen},
	{Code: ComplaintHumRisingWithSpeed, Urgency: Plan, Of: OfVehicle, Measured: Nothing, Limit: Nothing, Again: AgainAsked, Left: LeftNothing, Cured: []Done{DoneRoadTest}, Felt: true},
	{Code: ComplaintLampColdMorningsOnly, Urgency: Plan, Of: OfVehicle, Measured: Nothing, Limit: Nothing, Again: AgainAsked, Left: LeftNothing},
	{Code: ComplaintLampFlashing, Urgency: ThisVisit, Of: OfVehicle, Measured: Nothing, Limit: Nothing, Again: AgainAsked, Left: LeftLamp},
	{Code: ComplaintLampSteady, Urgency: ThisVisit, Of: OfVehicle, Measured: Nothing, Limit: Nothing, Again: AgainAsked, Left: LeftLamp},
	{Code: ComplaintPullsLeft, Urgency: Plan, Of: OfVehicle, Measured: Nothing, Limit: Nothing, Again: AgainAsked, Left: LeftNothing, Cured: []Done{DoneRoadTest}, Felt: true},
	{Code: ComplaintPullsRight, Urgency: Plan, Of: OfVehicle, Measured: Nothing, Limit: Nothing, Again: AgainAsked, Left: LeftNothing, Cured: []Done{DoneRoadTest}, Felt: true},
	{Code: ComplaintSealantUsed, Urgency: ThisVisit, Of: OfVehicle, Measured: Nothing, Limit: Nothing, Work: WorkSealantAskFirst, Caution: CautionPunctureSealantFlammable, Again: AgainAsked, Left: LeftSealantKnown},
	{Code: ComplaintSlowLeak, Urgency: Plan, Of: OfVehicle, Measured: Nothing, Limit: Nothing, Again: AgainAsked, Left: LeftNothing},
	{Code: ComplaintSteeringWheelOffCenter, Urgency: Plan, Of: OfVehicle, Measured: Nothing, Limit: Nothing, Again: AgainAsked, Left: LeftNothing, Cured: []Done{DoneRoadTest}, Felt: true},
	{Code: ComplaintThump, Urgency: ThisVisit, LeavesOpen: true, Of: OfVehicle, Measured: Nothing, Limit: Nothing, Caution: CautionLookBeforeAir, Again: AgainAllSeen, Left: LeftNothing, Cured: []Done{DoneRoadTest}, Felt: true},
	{Code: ComplaintVibration, Urgency: ThisVisit, Of: OfVehicle, Measured: Nothing, Limit: Nothing, Again: AgainAsked, Left: LeftNothing, Cured: []Done{DoneRoadTest}, Felt: true},
}

// complaintFacts are the evidence about what the customer notices.
var complaintFacts = []FactKind{
	{Code: FactComplaintOneEdgeWorn, Amount: Nothing},
	{Code: FactComplaintAxleNotSquare, Amount: Nothing},
	{Code: FactComplaintBentPart, Amount: Nothing},
	{Code: FactComplaintLoosePart, Amount: Nothing},
	{Code: FactComplaintComingApart, Amount: Nothing},
	{Code: FactComplaintFlatSpot, Amount: Nothing},
	{Code: FactComplaintNotRound, Amount: Nothing},
	{Code: FactComplaintScalloped, Amount: Nothing},
	{Code: FactComplaintBentWheel, Amount: Nothing},
	{Code: FactComplaintLooseFastener, Amount: Nothing},
	{Code: FactComplaintAirShort, Amount: Nothing},
	{Code: FactComplaintBrakeDrags, Amount: Nothing},
	{Code: FactComplaintTiresDiffer, Amount: Nothing},
	{Code: FactComplaintHeelAndToe, Amount: Nothing},
	{Code: FactComplaintLeakFound, Amount: Nothing},
	{Code: FactComplaintStruck, Amount: Nothing},
	{Code: FactComplaintSensorSilent, Amount: Nothing},
	{Code: FactComplaintFeathered, Amount: Nothing},
	{Code: FactComplaintAiredOften, Amount: Nothing},
	{Code: FactComplaintLookedAtNothingFound, Amount: Nothing},
	{Code: FactComplaintSofterSide, Amount: Pressure},
	{Code: FactToldHitSomething, Amount: Nothing},
	{Code: FactToldHumRisingWithSpeed, Amount: Nothing},
	{Code: FactToldPullsLeft, Amount: Nothing},
	{Code: FactToldPullsRight, Amount: Nothing},
	{Code: FactToldSteeringWheelOffCenter, Amount: Nothing},
	{Code: FactToldThump, Amount: Nothing},
	{Code: FactToldVibration, Amount: Nothing},
}

// What of a visit a complaint may stand on (common practice).
var (
	alignments = []Speaks{
		{WearToeIn, FactComplaintOneEdgeWorn}, {WearToeOut, FactComplaintOneEdgeWorn}, {WearCamberNegative, FactComplaintOneEdgeWorn},
		{WearCamberPositive, FactComplaintOneEdgeWorn}, {WearOneCorner, FactComplaintOneEdgeWorn}, {WearEdgeBeyondGrooves, FactComplaintOneEdgeWorn},
		{WearAxleNotSquare, FactComplaintAxleNotSquare}, {ChassisPartBent, FactComplaintBentPart},
		{ChassisSteeringPlay, FactComplaintLoosePart}, {ChassisSuspensionPlay, FactComplaintLoosePart},
	}
	pulls = slices.Concat(alignments, []Speaks{
		{ChassisBrakeDragging, FactComplaintBrakeDrags}, {WearDifferentTire, FactComplaintTiresDiffer}, {TreadAxleDifference, FactComplaintTiresDiffer},
	})
	separations = []Speaks{
		{DamageBulge, FactComplaintComingApart}, {DamageSeparation, FactComplaintComingApart}, {DamageRadialRipple, FactComplaintComingApart},
		{DamageRetreadEdgeLifting, FactComplaintComingApart}, {WearFlatSpot, FactComplaintFlatSpot}, {WearFlatSpotLockedWheel, FactComplaintFlatSpot},
		{WearNotRound, FactComplaintNotRound},
	}
	roughRunning = []Speaks{
		{WearScalloped, FactComplaintScalloped}, {WearDiagonalDips, FactComplaintScalloped}, {WheelBent, FactComplaintBentWheel},
		{WheelCrack, FactComplaintBentWheel}, {ChassisPartBent, FactComplaintBentPart}, {ChassisBearingPlay, FactComplaintLoosePart},
		{ChassisSteeringPlay, FactComplaintLoosePart}, {ChassisSuspensionPlay, FactComplaintLoosePart}, {ChassisDamperWeak, FactComplaintLoosePart},
		{FastenerLoose, FactComplaintLooseFastener}, {FastenerMissing, FactComplaintLooseFastener}, {FastenerBroken, FactComplaintLooseFastener},
		{FastenerStretched, FactComplaintLooseFastener},
	}
	hums = []Speaks{
		{WearScalloped, FactComplaintScalloped}, {WearDiagonalDips, FactComplaintScalloped}, {WearHeelAndToe, FactComplaintHeelAndToe},
		{ChassisBearingPlay, FactComplaintLoosePart},
	}
	shortOfAir = []Speaks{
		{InflationLow, FactComplaintAirShort}, {InflationBelowLabel, FactComplaintAirShort}, {InflationLabelWhileWarm, FactComplaintAirShort},
		{InflationFindLeak, FactComplaintAirShort}, {InflationFlat, FactComplaintAirShort}, {InflationRunLow, FactComplaintAirShort},
		{InflationRunLowUndecided, FactComplaintAirShort}, {InflationAtLampThreshold, FactComplaintAirShort},
	}
	leaks = slices.Concat(shortOfAir, []Speaks{
		{InflationAudibleLeak, FactComplaintLeakFound}, {ValveLeaking, FactComplaintLeakFound}, {WheelLeaking, FactComplaintLeakFound},
		{WheelBeadSeatCorroded, FactComplaintLeakFound},
	})
	blows = []Speaks{
		{DamageBulge, FactComplaintComingApart}, {DamageSeparation, FactComplaintComingApart}, {DamageCut, FactComplaintStruck},
		{DamageCutToCord, FactComplaintStruck}, {DamageCurbScuff, FactComplaintStruck}, {DamageRubbing, FactComplaintStruck},
		{WheelBent, FactComplaintBentWheel}, {WheelCrack, FactComplaintBentWheel}, {ChassisPartBent, FactComplaintBentPart},
	}
	faults = []Speaks{{SensorNotAnswering, FactComplaintSensorSilent}, {SensorBatteryLow, FactComplaintSensorSilent}}
)

// Places to be looked at all round before a complaint is let go.
var (
	wholeTire  = []Looked{LookedTreadFullTurn, LookedOuterSidewall, LookedInnerSidewall}
	wholeWheel = slices.Concat(wholeTire, []Looked{LookedWheelFace, LookedWheelBarrel})
)

// complaintKinds are what the customer notices.
var complaintKinds = []ComplaintKind{
	{Kind: NoticedPullsLeft, Code: ComplaintPullsLeft, Settle: SettlePull, Causes: pulls, Front: true, Told: FactToldPullsLeft},
	{Kind: NoticedPullsRight, Code: ComplaintPullsRight, Settle: SettlePull, Causes: pulls, Front: true, Told: FactToldPullsRight},
	{Kind: NoticedSteeringWheelOffCenter, Code: ComplaintSteeringWheelOffCenter, Settle: SettleOffCenter, Causes: alignments, Told: FactToldSteeringWheelOffCenter},
	{Kind: NoticedVibration, Code: ComplaintVibration, Settle: SettleVibration, Causes: slices.Concat(separations, roughRunning), Looks: []Looked{LookedFasteners}, Look: WorkFastenersLook, Told: FactToldVibration},
	{Kind: NoticedHumRisingWithSpeed, Code: ComplaintHumRisingWithSpeed, Settle: SettleHum, Causes: hums, Told: FactToldHumRisingWithSpeed,
		Seen: []Observation{ObservedFeathered, ObservedFeatheredSharpTowardVehicle, ObservedFeatheredSharpAway}, SeenAs: FactComplaintFeathered},
	{Kind: NoticedThump, Code: ComplaintThump, Settle: SettleThump, Causes: separations, Looks: wholeTire, Look: WorkTireLookAllRound, Told: FactToldThump},
	{Kind: NoticedSlowLeak, Code: ComplaintSlowLeak, Settle: SettleLeak, Causes: leaks,
		Seen: []Observation{ObservedObjectInTread, ObservedObjectRemoved, ObservedInjury}, SeenAs: FactComplaintLeakFound},
	{Kind: NoticedHitSomething, Code: ComplaintHitSomething, Settle: SettleHit, Causes: blows, Looks: wholeWheel, Look: WorkTireLookAllRound, Told: FactToldHitSomething},
	{Kind: NoticedLampSteady, Code: ComplaintLampSteady, Settle: SettleLampTold, Causes: shortOfAir, UnlessLit: true},
	{Kind: NoticedLampFlashing, Code: ComplaintLampFlashing, Settle: SettleLampTold, Causes: faults, UnlessLit: true},
	{Kind: NoticedLampColdMorningsOnly, Code: ComplaintLampColdMorningsOnly, Settle: SettleColdMornings, Causes: shortOfAir},
	{Kind: NoticedSealantUsed, Code: ComplaintSealantUsed, Settle: SettleWhichSealant},
	{Kind: NoticedOther}, // in the customer's words alone
}
