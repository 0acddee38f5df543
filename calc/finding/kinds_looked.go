package finding

// Places that are looked at: the contract's.
const (
	LookedTreadFullTurn Looked = "tread-full-turn"
	LookedOuterSidewall Looked = "outer-sidewall"
	LookedInnerSidewall Looked = "inner-sidewall"
	LookedWheelFace     Looked = "wheel-face"
	LookedWheelBarrel   Looked = "wheel-barrel"
	LookedFasteners     Looked = "fasteners"
	LookedInsideOfTire  Looked = "inside-of-tire"
	LookedValve         Looked = "valve"
	LookedTreadPart     Looked = "tread-part"
	LookedWheel         Looked = "wheel"
	LookedBeads         Looked = "beads"
)

// Why a place was not looked at: the contract's reasons.
const (
	NotLookedPartOnly           NotLooked = "part-only"
	NotLookedNoKey              NotLooked = "no-key"
	NotLookedNotReachable       NotLooked = "not-reachable"
	NotLookedNotRemoved         NotLooked = "not-removed"
	NotLookedCustomerAskedNotTo NotLooked = "customer-asked-not-to"
	NotLookedCovered            NotLooked = "covered"
	NotLookedNotFitted          NotLooked = "not-fitted"
)

// Parts of a tire: the contract's.
const (
	PartCrown    Part = "crown"
	PartShoulder Part = "shoulder"
	PartSidewall Part = "sidewall"
	PartBead     Part = "bead"
	PartInside   Part = "inside"
)

// Sides of a wheel: the contract's.
const (
	SideOuter WheelSide = "outer"
	SideInner WheelSide = "inner"
)

// Looked at, and nothing found.
const (
	CheckedBeads         Checked = "looked.beads"
	CheckedFasteners     Checked = "looked.fasteners"
	CheckedInnerSidewall Checked = "looked.inner-sidewall"
	CheckedInsideOfTire  Checked = "looked.inside-of-tire"
	CheckedOuterSidewall Checked = "looked.outer-sidewall"
	CheckedTreadFullTurn Checked = "looked.tread-full-turn"
	CheckedTreadPart     Checked = "looked.tread-part"
	CheckedValve         Checked = "looked.valve"
	CheckedWheelBarrel   Checked = "looked.wheel-barrel"
	CheckedWheelFace     Checked = "looked.wheel-face"
)

// lookedChecked are what is found good of a look at a place.
var lookedChecked = []CheckedKind{
	{Code: CheckedBeads, Measured: Nothing, Limit: Nothing, Place: LookedBeads},
	{Code: CheckedFasteners, Measured: Nothing, Limit: Nothing, Place: LookedFasteners},
	{Code: CheckedInnerSidewall, Measured: Nothing, Limit: Nothing, Place: LookedInnerSidewall},
	{Code: CheckedInsideOfTire, Measured: Nothing, Limit: Nothing, Place: LookedInsideOfTire},
	{Code: CheckedOuterSidewall, Measured: Nothing, Limit: Nothing, Place: LookedOuterSidewall},
	{Code: CheckedTreadFullTurn, Measured: Nothing, Limit: Nothing, Place: LookedTreadFullTurn},
	{Code: CheckedTreadPart, Measured: Nothing, Limit: Nothing, Place: LookedTreadPart},
	{Code: CheckedValve, Measured: Nothing, Limit: Nothing, Place: LookedValve},
	{Code: CheckedWheelBarrel, Measured: Nothing, Limit: Nothing, Place: LookedWheelBarrel},
	{Code: CheckedWheelFace, Measured: Nothing, Limit: Nothing, Place: LookedWheelFace},
}

// lookedKinds are the places that are looked at.
var lookedKinds = []LookedKind{
	{Kind: LookedTreadFullTurn, Good: CheckedTreadFullTurn, Whole: true},
	{Kind: LookedOuterSidewall, Good: CheckedOuterSidewall, Whole: true, Side: SideOuter},
	{Kind: LookedInnerSidewall, Good: CheckedInnerSidewall, Whole: true, Side: SideInner},
	{Kind: LookedWheelFace, Good: CheckedWheelFace, Whole: true, OuterOnly: true},
	{Kind: LookedWheelBarrel, Good: CheckedWheelBarrel, Whole: true},
	{Kind: LookedFasteners, Good: CheckedFasteners, Whole: true, OuterOnly: true},
	{Kind: LookedValve, Good: CheckedValve, Whole: true},
	{Kind: LookedInsideOfTire, Good: CheckedInsideOfTire},
	{Kind: LookedTreadPart, Good: CheckedTreadPart},
	{Kind: LookedWheel},
	{Kind: LookedBeads, Good: CheckedBeads},
}
