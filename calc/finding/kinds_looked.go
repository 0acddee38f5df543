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
