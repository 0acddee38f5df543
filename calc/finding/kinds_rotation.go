package finding

// Findings of changing the tires' places.
const (
	RotationUnrecorded Code = "rotation.unrecorded"
	RotationRefused    Code = "rotation.refused" // due, and no map may be taken
)

// Evidence about changing the tires' places.
const (
	FactRotationOdds                 Fact = "rotation.odds"
	FactRotationOtherMapExplainsToo  Fact = "rotation.other-map-explains-too"
	FactRotationUnread               Fact = "rotation.unread"
	FactRotationHurt                 Fact = "rotation.hurt"
	FactRotationCause                Fact = "rotation.cause"
	FactRotationWornToRear           Fact = "rotation.worn-to-rear"
	FactRotationWheels               Fact = "rotation.wheels"
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
	ReasonTireHurt             Reason = "rotation.tire-hurt"
	ReasonMayHaveRunLow        Reason = "rotation.may-have-run-low"
	ReasonRepairOpen           Reason = "rotation.repair-open"
	ReasonTemporarySpare       Reason = "rotation.temporary-spare"
	ReasonWheelFirst           Reason = "rotation.wheel-first"
	ReasonNoKey                Reason = "rotation.no-key"
	ReasonTooSoon              Reason = "rotation.too-soon"
	ReasonStaysNoisy           Reason = "rotation.stays-noisy"
	ReasonRearPairShallower    Reason = "rotation.rear-pair-shallower"
)

// Refused is what is said in a visit of what stands against every map that its drive
// knows: what has to be done or read first. Where sizes, arrows or studs bar a map there
// is another, or none is due.
var Refused = map[Reason]Fact{
	ReasonDepthNotRead: FactRotationUnread, ReasonCauseFirst: FactRotationCause,
	ReasonTireHurt: FactRotationHurt, ReasonMayHaveRunLow: FactRotationHurt, ReasonRepairOpen: FactRotationHurt,
	ReasonReplaceFirst: FactRotationWornToRear, ReasonShallowPairToRear: FactRotationWornToRear, ReasonRearTooFarBelowFront: FactRotationWornToRear, ReasonMakesPairUneven: FactRotationWornToRear,
	ReasonWheelFirst: FactRotationWheels, ReasonNoKey: FactRotationWheels,
}

// rotationKinds are the findings of changing the tires' places.
var rotationKinds = []Kind{
	{Code: RotationUnrecorded, Urgency: Note, Of: OfPlace, Measured: Nothing, Limit: Nothing, Again: AgainDepth, Left: LeftNothing},
	{Code: RotationRefused, Urgency: Note, Of: OfPlace, Measured: Nothing, Limit: Nothing, Again: AgainDepth, Left: LeftNothing},
}

// rotationFacts are the evidence about changing the tires' places.
var rotationFacts = []FactKind{
	{Code: FactRotationOdds, Amount: Number},
	{Code: FactRotationOtherMapExplainsToo, Amount: Nothing},
	{Code: FactRotationUnread, Amount: Nothing},
	{Code: FactRotationHurt, Amount: Nothing},
	{Code: FactRotationCause, Amount: Nothing},
	{Code: FactRotationWornToRear, Amount: Nothing},
	{Code: FactRotationWheels, Amount: Nothing},
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
