package finding

// Findings of the spare and what goes with it.
const (
	SpareKitPastItsDay     Code = "spare.kit-past-its-day"
	SpareNotReachable      Code = "spare.not-reachable"
	SpareHoistFails        Code = "spare.hoist-fails"
	SpareJackMissing       Code = "spare.jack-missing"
	SpareKeyMissing        Code = "spare.key-missing"
	SpareKitMissing        Code = "spare.kit-missing"
	SpareInService         Code = "spare.in-service"
	SpareMatchingInService Code = "spare.matching-in-service"
)

// Found good, of the spare and what goes with it.
const (
	CheckedSpareReachable  Checked = "spare.reachable"
	CheckedSpareHoistWorks Checked = "spare.hoist-works"
	CheckedSpareJackThere  Checked = "spare.jack-there"
	CheckedSpareKeyThere   Checked = "spare.key-there"
	CheckedSpareKitThere   Checked = "spare.kit-there"
)

// Evidence about the spare and what goes with it.
const (
	FactSpareSpeedLimit     Fact = "spare.speed-limit"
	FactSpareDistanceLimit  Fact = "spare.distance-limit"
	FactSpareAllAxlesDriven Fact = "spare.all-axles-driven"
	FactSpareOnDrivenAxle   Fact = "spare.on-driven-axle"
)
