package finding

// Findings of the shape of wear and its causes.
const (
	WearLookAgain                Code = "wear.look-again"
	WearUndecided                Code = "wear.undecided"
	WearAxleNotSquare            Code = "wear.axle-not-square"
	WearToeIn                    Code = "wear.toe-in"
	WearCamberPositive           Code = "wear.camber-positive"
	WearOneCorner                Code = "wear.one-corner"
	WearCornering                Code = "wear.cornering"
	WearToeOut                   Code = "wear.toe-out"
	WearCamberNegative           Code = "wear.camber-negative"
	WearUnderinflatedLong        Code = "wear.underinflated-long"
	WearOverloaded               Code = "wear.overloaded"
	WearLightLoadAtLabelPressure Code = "wear.light-load-at-label-pressure"
	WearDriveTorque              Code = "wear.drive-torque"
	WearOverinflatedLong         Code = "wear.overinflated-long"
	WearEdgeBeyondGrooves        Code = "wear.edge-beyond-grooves"
	WearHeelAndToe               Code = "wear.heel-and-toe"
	WearDiagonalDips             Code = "wear.diagonal-dips"
	WearMadeAtFormerPosition     Code = "wear.made-at-former-position"
	WearNoPatternNew             Code = "wear.no-pattern-new"
	WearRotationMissed           Code = "wear.rotation-missed"
	WearDifferentTire            Code = "wear.different-tire"
	WearOneTireFaster            Code = "wear.one-tire-faster"
	WearScalloped                Code = "wear.scalloped"
	WearNotRound                 Code = "wear.not-round"
	WearFlatSpot                 Code = "wear.flat-spot"
	WearFlatSpotLockedWheel      Code = "wear.flat-spot-locked-wheel"
)

// Found good, of the shape of wear and its causes.
const (
	CheckedWearEven Checked = "wear.even"
)

// Evidence about the shape of wear and its causes.
const (
	FactWearMadeBeforeItCameHere      Fact = "wear.made-before-it-came-here"
	FactWearFeltSharpToOneSide        Fact = "wear.felt-sharp-to-one-side"
	FactWearFeltSharpAway             Fact = "wear.felt-sharp-away"
	FactWearFeltSharpToward           Fact = "wear.felt-sharp-toward"
	FactWearFeltSharpOtherWay         Fact = "wear.felt-sharp-other-way"
	FactWearFeltFeathered             Fact = "wear.felt-feathered"
	FactWearFeltSmooth                Fact = "wear.felt-smooth"
	FactWearEdgeRounded               Fact = "wear.edge-rounded"
	FactWearSlantScuffs               Fact = "wear.slant-scuffs"
	FactWearNoRoundedEdge             Fact = "wear.no-rounded-edge"
	FactWearNotASteeredAxle           Fact = "wear.not-a-steered-axle"
	FactWearAlignmentInRange          Fact = "wear.alignment-in-range"
	FactWearAlignmentInRangeLongAgo   Fact = "wear.alignment-in-range-long-ago"
	FactWearAlignmentOutOfRange       Fact = "wear.alignment-out-of-range"
	FactWearSteeringPartNoAlignment   Fact = "wear.steering-part-no-alignment"
	FactWearSuspensionPartNoAlignment Fact = "wear.suspension-part-no-alignment"
	FactWearRideHeightChanged         Fact = "wear.ride-height-changed"
	FactWearFoundLowEarlier           Fact = "wear.found-low-earlier"
	FactWearFoundLowMoreThanOnce      Fact = "wear.found-low-more-than-once"
	FactWearFoundRightEarlier         Fact = "wear.found-right-earlier"
	FactWearOtherAxleTheSame          Fact = "wear.other-axle-the-same"
	FactWearOtherAxleEven             Fact = "wear.other-axle-even"
	FactWearOneTireOnly               Fact = "wear.one-tire-only"
	FactWearRunsLoaded                Fact = "wear.runs-loaded"
	FactWearDoesNotRunLoaded          Fact = "wear.does-not-run-loaded"
	FactWearRearAxleOnly              Fact = "wear.rear-axle-only"
	FactWearFoundHighEarlier          Fact = "wear.found-high-earlier"
	FactWearOnlyTheDrivenAxle         Fact = "wear.only-the-driven-axle"
	FactWearLabelForALoad             Fact = "wear.label-for-a-load"
	FactWearNotADrivenAxle            Fact = "wear.not-a-driven-axle"
	FactWearMilesHere                 Fact = "wear.miles-here"
	FactWearFormerPositionNotRecorded Fact = "wear.former-position-not-recorded"
	FactWearMadeOrFittedApart         Fact = "wear.made-or-fitted-apart"
	FactWearMadeAndFittedTogether     Fact = "wear.made-and-fitted-together"
	FactWearTooFewMilesHere           Fact = "wear.too-few-miles-here"
	FactWearEvenAcross                Fact = "wear.even-across"
)

// wearKinds are the findings of the shape of wear and its causes.
var wearKinds = []Kind{
	{Code: WearLookAgain, Urgency: Note, Of: OfPlace, Measured: TreadDepth, Limit: TreadDepth, Again: AgainAcross, Left: LeftNothing},
	{Code: WearUndecided, Urgency: Plan, Of: OfPlace, Measured: TreadDepth, Limit: TreadDepth, Work: WorkMeasureToSettle, Again: AgainAcross, Left: LeftNothing},
	{Code: WearAxleNotSquare, Urgency: Plan, Of: OfPlace, Measured: TreadDepth, Limit: TreadDepth, Again: AgainAcross, Left: LeftNothing},
	{Code: WearToeIn, Urgency: Plan, Of: OfPlace, Measured: TreadDepth, Limit: TreadDepth, Again: AgainAcross, Left: LeftNothing},
	{Code: WearCamberPositive, Urgency: Plan, Of: OfPlace, Measured: TreadDepth, Limit: TreadDepth, Again: AgainAcross, Left: LeftNothing},
	{Code: WearOneCorner, Urgency: Plan, Of: OfPlace, Measured: TreadDepth, Limit: TreadDepth, Again: AgainAcross, Left: LeftNothing},
	{Code: WearCornering, Urgency: Note, Of: OfPlace, Measured: TreadDepth, Limit: TreadDepth, Again: AgainAcross, Left: LeftNothing},
	{Code: WearToeOut, Urgency: Plan, Of: OfPlace, Measured: TreadDepth, Limit: TreadDepth, Again: AgainAcross, Left: LeftNothing},
	{Code: WearCamberNegative, Urgency: Plan, Of: OfPlace, Measured: TreadDepth, Limit: TreadDepth, Again: AgainAcross, Left: LeftNothing},
	{Code: WearUnderinflatedLong, Urgency: Plan, Of: OfPlace, Measured: TreadDepth, Limit: TreadDepth, Again: AgainAcross, Left: LeftNothing},
	{Code: WearOverloaded, Urgency: Note, Of: OfPlace, Measured: TreadDepth, Limit: TreadDepth, Again: AgainAcross, Left: LeftNothing},
	{Code: WearLightLoadAtLabelPressure, Urgency: Plan, Of: OfPlace, Measured: TreadDepth, Limit: TreadDepth, Again: AgainAcross, Left: LeftNothing},
	{Code: WearDriveTorque, Urgency: Plan, Of: OfPlace, Measured: TreadDepth, Limit: TreadDepth, Again: AgainAcross, Left: LeftNothing},
	{Code: WearOverinflatedLong, Urgency: Note, Of: OfPlace, Measured: TreadDepth, Limit: TreadDepth, Again: AgainAcross, Left: LeftNothing},
	{Code: WearEdgeBeyondGrooves, Urgency: Plan, Of: OfPlace, Measured: Nothing, Limit: Nothing, Again: AgainAcross, Left: LeftNothing},
	{Code: WearHeelAndToe, Urgency: Note, Of: OfPlace, Measured: Nothing, Limit: Nothing, Again: AgainAcross, Left: LeftNothing},
	{Code: WearDiagonalDips, Urgency: Plan, Of: OfPlace, Measured: Nothing, Limit: Nothing, Again: AgainAcross, Left: LeftNothing},
	{Code: WearMadeAtFormerPosition, Urgency: Note, Of: OfPlace, Measured: Nothing, Limit: Nothing, Again: AgainAcross, Left: LeftNothing},
	{Code: WearNoPatternNew, Urgency: Note, Of: OfPlace, Measured: Nothing, Limit: Nothing, Again: AgainAcross, Left: LeftNothing},
	{Code: WearRotationMissed, Urgency: Plan, Of: OfPlace, Measured: Distance, Limit: Distance, Again: AgainAcross, Left: LeftNothing},
	{Code: WearDifferentTire, Urgency: Plan, Of: OfPlace, Measured: TreadDepth, Limit: TreadDepth, Again: AgainAcross, Left: LeftNothing},
	{Code: WearOneTireFaster, Urgency: Note, Of: OfPlace, Measured: TreadDepth, Limit: TreadDepth, Again: AgainAcross, Left: LeftNothing},
	{Code: WearScalloped, Urgency: Plan, Of: OfPlace, Measured: TreadDepth, Limit: TreadDepth, Again: AgainAcross, Left: LeftNothing},
	{Code: WearNotRound, Urgency: Plan, Of: OfPlace, Measured: TreadDepth, Limit: TreadDepth, Again: AgainAcross, Left: LeftNothing},
	{Code: WearFlatSpot, Urgency: Plan, Of: OfPlace, Measured: TreadDepth, Limit: TreadDepth, Again: AgainAcross, Left: LeftNothing},
	{Code: WearFlatSpotLockedWheel, Urgency: Plan, Of: OfPlace, Measured: TreadDepth, Limit: TreadDepth, Again: AgainAcross, Left: LeftNothing},
}

// wearFacts are the evidence about the shape of wear and its causes.
var wearFacts = []FactKind{
	{Code: FactWearMadeBeforeItCameHere, Amount: Nothing},
	{Code: FactWearFeltSharpToOneSide, Amount: Nothing},
	{Code: FactWearFeltSharpAway, Amount: Nothing},
	{Code: FactWearFeltSharpToward, Amount: Nothing},
	{Code: FactWearFeltSharpOtherWay, Amount: Nothing},
	{Code: FactWearFeltFeathered, Amount: Nothing},
	{Code: FactWearFeltSmooth, Amount: Nothing},
	{Code: FactWearEdgeRounded, Amount: Nothing},
	{Code: FactWearSlantScuffs, Amount: Nothing},
	{Code: FactWearNoRoundedEdge, Amount: Nothing},
	{Code: FactWearNotASteeredAxle, Amount: Nothing},
	{Code: FactWearAlignmentInRange, Amount: Nothing},
	{Code: FactWearAlignmentInRangeLongAgo, Amount: Nothing},
	{Code: FactWearAlignmentOutOfRange, Amount: Nothing},
	{Code: FactWearSteeringPartNoAlignment, Amount: Nothing},
	{Code: FactWearSuspensionPartNoAlignment, Amount: Nothing},
	{Code: FactWearRideHeightChanged, Amount: Nothing},
	{Code: FactWearFoundLowEarlier, Amount: Nothing},
	{Code: FactWearFoundLowMoreThanOnce, Amount: Nothing},
	{Code: FactWearFoundRightEarlier, Amount: Nothing},
	{Code: FactWearOtherAxleTheSame, Amount: Nothing},
	{Code: FactWearOtherAxleEven, Amount: Nothing},
	{Code: FactWearOneTireOnly, Amount: Nothing},
	{Code: FactWearRunsLoaded, Amount: Nothing},
	{Code: FactWearDoesNotRunLoaded, Amount: Nothing},
	{Code: FactWearRearAxleOnly, Amount: Nothing},
	{Code: FactWearFoundHighEarlier, Amount: Nothing},
	{Code: FactWearOnlyTheDrivenAxle, Amount: Nothing},
	{Code: FactWearLabelForALoad, Amount: Nothing},
	{Code: FactWearNotADrivenAxle, Amount: Nothing},
	{Code: FactWearMilesHere, Amount: Distance},
	{Code: FactWearFormerPositionNotRecorded, Amount: Nothing},
	{Code: FactWearMadeOrFittedApart, Amount: Nothing},
	{Code: FactWearMadeAndFittedTogether, Amount: Nothing},
	{Code: FactWearTooFewMilesHere, Amount: Nothing},
	{Code: FactWearEvenAcross, Amount: Nothing},
}

// wearChecked are what is found good of the shape of wear and its causes.
var wearChecked = []CheckedKind{
	{Code: CheckedWearEven, Measured: Nothing, Limit: Nothing},
}
