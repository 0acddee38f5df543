package finding

// What is seen, felt, probed or heard: the contract's kinds.
const (
	ObservedFeathered                     Observation = "feathered"
	ObservedFeatheredSharpTowardVehicle   Observation = "feathered-sharp-toward-vehicle"
	ObservedFeatheredSharpAway            Observation = "feathered-sharp-away"
	ObservedObjectInTread                 Observation = "object-in-tread"
	ObservedObjectRemoved                 Observation = "object-removed"
	ObservedInjury                        Observation = "injury"
	ObservedCordShowing                   Observation = "cord-showing"
	ObservedSeparation                    Observation = "separation"
	ObservedBulge                         Observation = "bulge"
	ObservedCutToCord                     Observation = "cut-to-cord"
	ObservedCut                           Observation = "cut"
	ObservedChunking                      Observation = "chunking"
	ObservedTornLug                       Observation = "torn-lug"
	ObservedEdgeWornSmooth                Observation = "edge-worn-smooth"
	ObservedRetreadEdgeLifting            Observation = "retread-edge-lifting"
	ObservedStoneDrilling                 Observation = "stone-drilling"
	ObservedInwardDent                    Observation = "inward-dent"
	ObservedCurbScuff                     Observation = "curb-scuff"
	ObservedCracksFine                    Observation = "cracks-fine"
	ObservedCracksOpen                    Observation = "cracks-open"
	ObservedCracksJoined                  Observation = "cracks-joined"
	ObservedCracksToCord                  Observation = "cracks-to-cord"
	ObservedRubbingOnVehicle              Observation = "rubbing-on-vehicle"
	ObservedRubbingOnMate                 Observation = "rubbing-on-mate"
	ObservedRadialRipple                  Observation = "radial-ripple"
	ObservedBlisteringOrSwelling          Observation = "blistering-or-swelling"
	ObservedBeadTornOrKinked              Observation = "bead-torn-or-kinked"
	ObservedLinerSplit                    Observation = "liner-split"
	ObservedWheelCrack                    Observation = "wheel-crack"
	ObservedWheelHolesElongated           Observation = "wheel-holes-elongated"
	ObservedWheelWelded                   Observation = "wheel-welded"
	ObservedWheelBentOuterLip             Observation = "wheel-bent-outer-lip"
	ObservedWheelBentInnerLip             Observation = "wheel-bent-inner-lip"
	ObservedWheelBeadSeatCorrosion        Observation = "wheel-bead-seat-corrosion"
	ObservedWheelLeaking                  Observation = "wheel-leaking"
	ObservedWheelWrongWidth               Observation = "wheel-wrong-width"
	ObservedFastenerMissing               Observation = "fastener-missing"
	ObservedFastenerLoose                 Observation = "fastener-loose"
	ObservedStudBroken                    Observation = "stud-broken"
	ObservedStudStretched                 Observation = "stud-stretched"
	ObservedFastenerRustStreaks           Observation = "fastener-rust-streaks"
	ObservedFastenerWrongSeat             Observation = "fastener-wrong-seat"
	ObservedCappedNutSwollen              Observation = "capped-nut-swollen"
	ObservedSpacerOrAdapter               Observation = "spacer-or-adapter"
	ObservedGreaseOnInnerSide             Observation = "grease-on-inner-side"
	ObservedDualsTouching                 Observation = "duals-touching"
	ObservedDualsTooClose                 Observation = "duals-too-close"
	ObservedObjectBetweenDuals            Observation = "object-between-duals"
	ObservedDualValveBlocked              Observation = "dual-valve-blocked"
	ObservedValveCracked                  Observation = "valve-cracked"
	ObservedValveBent                     Observation = "valve-bent"
	ObservedValveCoreLeaking              Observation = "valve-core-leaking"
	ObservedValveSeatLeaking              Observation = "valve-seat-leaking"
	ObservedValveCorroded                 Observation = "valve-corroded"
	ObservedValveUnderRated               Observation = "valve-under-rated"
	ObservedValveCapMissing               Observation = "valve-cap-missing"
	ObservedValveExtension                Observation = "valve-extension"
	ObservedSensorNotAnswering            Observation = "sensor-not-answering"
	ObservedBearingPlay                   Observation = "bearing-play"
	ObservedSteeringPlay                  Observation = "steering-play"
	ObservedSuspensionPlay                Observation = "suspension-play"
	ObservedPartBent                      Observation = "part-bent"
	ObservedDamperWeak                    Observation = "damper-weak"
	ObservedBrakeDragging                 Observation = "brake-dragging"
	ObservedRunLowLinerRing               Observation = "run-low-liner-ring"
	ObservedRunLowDust                    Observation = "run-low-dust"
	ObservedRunLowSmell                   Observation = "run-low-smell"
	ObservedRunLowScuffRing               Observation = "run-low-scuff-ring"
	ObservedSealantInside                 Observation = "sealant-inside"
	ObservedEarlierRepair                 Observation = "earlier-repair"
	ObservedEarlierRepairStringPlug       Observation = "earlier-repair-string-plug"
	ObservedEarlierRepairPatchWithoutStem Observation = "earlier-repair-patch-without-stem"
	ObservedEarlierRepairCombination      Observation = "earlier-repair-combination"
	ObservedEarlierRepairSection          Observation = "earlier-repair-section"
	ObservedEarlierRepairReinforcement    Observation = "earlier-repair-reinforcement"
	ObservedEarlierRepairFailing          Observation = "earlier-repair-failing"
	ObservedFoamInside                    Observation = "foam-inside"
	ObservedFlat                          Observation = "flat"
	ObservedScalloped                     Observation = "scalloped"
	ObservedEdgeRounded                   Observation = "edge-rounded"
	ObservedHeelAndToe                    Observation = "heel-and-toe"
	ObservedDiagonalDips                  Observation = "diagonal-dips"
	ObservedAtWearBars                    Observation = "at-wear-bars"
	ObservedClearOfWearBars               Observation = "clear-of-wear-bars"
	ObservedFlatSpot                      Observation = "flat-spot"
	ObservedAirLeak                       Observation = "air-leak"
	ObservedFeltSmooth                    Observation = "felt-smooth"
	ObservedSlantScuffs                   Observation = "slant-scuffs"
	ObservedFeltRough                     Observation = "felt-rough"
	ObservedGrooveEdgeErosion             Observation = "groove-edge-erosion"
)

// Places that observations lie in.
var (
	nowhere     = []Looked{} // that is looked at
	inTread     = []Looked{LookedTreadFullTurn}
	onSidewalls = []Looked{LookedOuterSidewall, LookedInnerSidewall}
	anywhere    = []Looked{LookedTreadFullTurn, LookedOuterSidewall, LookedInnerSidewall}
	onWheel     = []Looked{LookedWheelFace, LookedWheelBarrel}
)

// observationKinds are what is seen, felt, probed or heard.
var observationKinds = []ObservationKind{
	{Kind: ObservedFeathered, Places: nowhere},
	{Kind: ObservedFeatheredSharpTowardVehicle, Places: nowhere},
	{Kind: ObservedFeatheredSharpAway, Places: nowhere},
	{Kind: ObservedObjectInTread, Places: inTread},
	{Kind: ObservedObjectRemoved, Places: inTread},
	{Kind: ObservedInjury, Places: anywhere},
	{Kind: ObservedCordShowing, Means: DamageCordShowing, Places: anywhere, OneLow: true},
	{Kind: ObservedSeparation, Means: DamageSeparation, Places: anywhere, OneLow: true},
	{Kind: ObservedBulge, Means: DamageBulge, Places: anywhere, OneLow: true},
	{Kind: ObservedCutToCord, Means: DamageCutToCord, Places: anywhere, OneLow: true},
	{Kind: ObservedCut, Means: DamageCut, Places: anywhere, OneLow: true},
	{Kind: ObservedChunking, Means: DamageChunking, Places: inTread, OneLow: true},
	{Kind: ObservedTornLug, Means: DamageTornLug, Places: inTread, OneLow: true},
	{Kind: ObservedEdgeWornSmooth, Means: DamageEdgeWornSmooth, Places: inTread},
	{Kind: ObservedRetreadEdgeLifting, Means: DamageRetreadEdgeLifting, Places: inTread},
	{Kind: ObservedStoneDrilling, Means: DamageStoneDrilling, Places: inTread},
	{Kind: ObservedInwardDent, Means: DamageInwardDent, Places: onSidewalls},
	{Kind: ObservedCurbScuff, Means: DamageCurbScuff, Places: onSidewalls},
	{Kind: ObservedCracksFine, Means: DamageCracksFine, Places: onSidewalls},
	{Kind: ObservedCracksOpen, Means: DamageCracksOpen, Places: onSidewalls},
	{Kind: ObservedCracksJoined, Means: DamageCracksJoined, Places: onSidewalls},
	{Kind: ObservedCracksToCord, Means: DamageCracksToCord, Places: onSidewalls},
	{Kind: ObservedRubbingOnVehicle, Means: DamageRubbing, Places: onSidewalls},
	{Kind: ObservedRubbingOnMate, Means: DamageDualsRubbing, Places: onSidewalls},
	{Kind: ObservedRadialRipple, Means: DamageRadialRipple, Places: onSidewalls},
	{Kind: ObservedBlisteringOrSwelling, Means: DamageBlistering, Places: onSidewalls},
	{Kind: ObservedBeadTornOrKinked, Means: DamageBead, Places: []Looked{LookedBeads}},
	{Kind: ObservedLinerSplit, Means: DamageLinerSplit, Places: []Looked{LookedInsideOfTire}},
	{Kind: ObservedWheelCrack, Means: WheelCrack, Places: onWheel},
	{Kind: ObservedWheelHolesElongated, Means: WheelHolesElongated, Places: []Looked{LookedWheelFace, LookedFasteners}},
	{Kind: ObservedWheelWelded, Means: WheelWelded, Places: onWheel},
	{Kind: ObservedWheelBentOuterLip, Means: WheelBent, Places: []Looked{LookedWheelFace}},
	{Kind: ObservedWheelBentInnerLip, Means: WheelBent, Places: []Looked{LookedWheelBarrel}},
	{Kind: ObservedWheelBeadSeatCorrosion, Means: WheelBeadSeatCorroded, Places: onWheel},
	{Kind: ObservedWheelLeaking, Means: WheelLeaking, Places: onWheel},
	{Kind: ObservedWheelWrongWidth, Means: WheelWrongWidth, Places: onWheel},
	{Kind: ObservedFastenerMissing, Means: FastenerMissing, Places: []Looked{LookedFasteners}},
	{Kind: ObservedFastenerLoose, Means: FastenerLoose, Places: []Looked{LookedFasteners}},
	{Kind: ObservedStudBroken, Means: FastenerBroken, Places: []Looked{LookedFasteners}},
	{Kind: ObservedStudStretched, Means: FastenerStretched, Places: []Looked{LookedFasteners}},
	{Kind: ObservedFastenerRustStreaks, Means: FastenerRustStreaks, Places: []Looked{LookedFasteners}},
	{Kind: ObservedFastenerWrongSeat, Means: FastenerWrongSeat, Places: []Looked{LookedFasteners}},
	{Kind: ObservedCappedNutSwollen, Means: FastenerCappedNutSwollen, Places: []Looked{LookedFasteners}},
	{Kind: ObservedSpacerOrAdapter, Means: WheelSpacer, Places: onWheel},
	{Kind: ObservedGreaseOnInnerSide, Means: WheelGreaseInside, Places: []Looked{LookedWheelBarrel}},
	{Kind: ObservedDualsTouching, Means: DualTouching, Places: onSidewalls},
	{Kind: ObservedDualsTooClose, Means: DualTooClose, Places: onSidewalls},
	{Kind: ObservedObjectBetweenDuals, Means: DualObjectBetween, Places: onSidewalls},
	{Kind: ObservedDualValveBlocked, Means: DualValveBlocked, Places: []Looked{LookedValve}},
	{Kind: ObservedValveCracked, Means: ValveCracked, Places: []Looked{LookedValve}},
	{Kind: ObservedValveBent, Means: ValveBent, Places: []Looked{LookedValve}},
	{Kind: ObservedValveCoreLeaking, Means: ValveLeaking, Places: []Looked{LookedValve}},
	{Kind: ObservedValveSeatLeaking, Means: ValveLeaking, Places: []Looked{LookedValve}},
	{Kind: ObservedValveCorroded, Means: ValveCorroded, Places: []Looked{LookedValve}},
	{Kind: ObservedValveUnderRated, Means: ValveUnderRated, Places: []Looked{LookedValve}},
	{Kind: ObservedValveCapMissing, Means: ValveCapMissing, Places: []Looked{LookedValve}},
	{Kind: ObservedValveExtension, Means: ValveExtension, Places: []Looked{LookedValve}},
	{Kind: ObservedSensorNotAnswering, Means: SensorNotAnswering, Places: nowhere},
	{Kind: ObservedBearingPlay, Means: ChassisBearingPlay, Places: nowhere},
	{Kind: ObservedSteeringPlay, Means: ChassisSteeringPlay, Places: nowhere},
	{Kind: ObservedSuspensionPlay, Means: ChassisSuspensionPlay, Places: nowhere},
	{Kind: ObservedPartBent, Means: ChassisPartBent, Places: nowhere},
	{Kind: ObservedDamperWeak, Means: ChassisDamperWeak, Places: nowhere},
	{Kind: ObservedBrakeDragging, Means: ChassisBrakeDragging, Places: nowhere},
	{Kind: ObservedRunLowLinerRing, Places: []Looked{LookedInsideOfTire}},
	{Kind: ObservedRunLowDust, Places: []Looked{LookedInsideOfTire}},
	{Kind: ObservedRunLowSmell, Places: nowhere},
	{Kind: ObservedRunLowScuffRing, Places: onSidewalls},
	{Kind: ObservedSealantInside, Places: nowhere},
	{Kind: ObservedEarlierRepair, Places: nowhere},
	{Kind: ObservedEarlierRepairStringPlug, Places: nowhere},
	{Kind: ObservedEarlierRepairPatchWithoutStem, Places: nowhere},
	{Kind: ObservedEarlierRepairCombination, Places: nowhere},
	{Kind: ObservedEarlierRepairSection, Places: nowhere},
	{Kind: ObservedEarlierRepairReinforcement, Places: nowhere},
	{Kind: ObservedEarlierRepairFailing, Places: nowhere},
	{Kind: ObservedFoamInside, Places: nowhere},
	{Kind: ObservedFlat, Places: nowhere},
	{Kind: ObservedScalloped, Places: nowhere, OneLow: true},
	{Kind: ObservedEdgeRounded, Places: nowhere},
	{Kind: ObservedHeelAndToe, Places: nowhere},
	{Kind: ObservedDiagonalDips, Places: nowhere, OneLow: true},
	{Kind: ObservedAtWearBars, Places: nowhere},
	{Kind: ObservedClearOfWearBars, Places: nowhere},
	{Kind: ObservedFlatSpot, Places: nowhere, OneLow: true},
	{Kind: ObservedAirLeak, Places: nowhere},
	{Kind: ObservedFeltSmooth, Places: nowhere},
	{Kind: ObservedSlantScuffs, Places: nowhere},
	{Kind: ObservedFeltRough, Places: nowhere},
	{Kind: ObservedGrooveEdgeErosion, Places: nowhere},
}
