package finding

// Findings of changing the tires' places.
const (
	RotationUnrecorded Code = "rotation.unrecorded"
)

// Evidence about changing the tires' places.
const (
	FactRotationOdds                 Fact = "rotation.odds"
	FactRotationOtherMapExplainsToo  Fact = "rotation.other-map-explains-too"
	FactMapForwardCross              Fact = "map.forward-cross"
	FactMapRearwardCross             Fact = "map.rearward-cross"
	FactMapXPattern                  Fact = "map.x-pattern"
	FactMapFrontRearSameSide         Fact = "map.front-rear-same-side"
	FactMapSideToSide                Fact = "map.side-to-side"
	FactMapFiveTireForwardCross      Fact = "map.five-tire-forward-cross"
	FactMapFiveTireForwardCrossLeft  Fact = "map.five-tire-forward-cross-left"
	FactMapFiveTireRearwardCross     Fact = "map.five-tire-rearward-cross"
	FactMapFiveTireRearwardCrossLeft Fact = "map.five-tire-rearward-cross-left"
	FactMapSixTireSameSide           Fact = "map.six-tire-same-side"
)

// What stands against a change of places, and what is to be known of one.
const (
	ReasonDriveNotTold         Reason = "rotation.drive-not-told"
	ReasonOtherDrive           Reason = "rotation.other-drive"
	ReasonSizesDiffer          Reason = "rotation.sizes-differ"
	ReasonConstructionsDiffer  Reason = "rotation.constructions-differ"
	ReasonDualsDiffer          Reason = "rotation.duals-differ"
	ReasonDualsNotToldAlike    Reason = "rotation.duals-not-told-alike"
	ReasonAgainstTheArrow      Reason = "rotation.against-the-arrow"
	ReasonStuddedChangesSide   Reason = "rotation.studded-changes-side"
	ReasonOutsideMarkIn        Reason = "rotation.outside-mark-in"
	ReasonCauseFirst           Reason = "rotation.cause-first"
	ReasonSpareDoesNotMatch    Reason = "rotation.spare-does-not-match"
	ReasonSpareAgeNotTold      Reason = "rotation.spare-age-not-told"
	ReasonSpareOlder           Reason = "rotation.spare-older"
	ReasonMakesPairUneven      Reason = "rotation.makes-pair-uneven"
	ReasonReplaceFirst         Reason = "rotation.replace-first"
	ReasonDepthNotRead         Reason = "rotation.depth-not-read"
	ReasonShallowPairToRear    Reason = "rotation.shallow-pair-to-rear"
	ReasonRearTooFarBelowFront Reason = "rotation.rear-too-far-below-front"
	ReasonStaysNoisy           Reason = "rotation.stays-noisy"
	ReasonRearPairShallower    Reason = "rotation.rear-pair-shallower"
)

// rotationKinds are the findings of changing the tires' places.
var rotationKinds = []Kind{
	{Code: RotationUnrecorded, Urgency: Note, Of: OfPlace, Measured: Nothing, Limit: Nothing, Again: AgainDepth, Left: LeftNothing},
}

// rotationFacts are the evidence about changing the tires' places.
var rotationFacts = []FactKind{
	{Code: FactRotationOdds, Amount: Number},
	{Code: FactRotationOtherMapExplainsToo, Amount: Nothing},
	{Code: FactMapForwardCross, Amount: Nothing},
	{Code: FactMapRearwardCross, Amount: Nothing},
	{Code: FactMapXPattern, Amount: Nothing},
	{Code: FactMapFrontRearSameSide, Amount: Nothing},
	{Code: FactMapSideToSide, Amount: Nothing},
	{Code: FactMapFiveTireForwardCross, Amount: Nothing},
	{Code: FactMapFiveTireForwardCrossLeft, Amount: Nothing},
	{Code: FactMapFiveTireRearwardCross, Amount: Nothing},
	{Code: FactMapFiveTireRearwardCrossLeft, Amount: Nothing},
	{Code: FactMapSixTireSameSide, Amount: Nothing},
}
