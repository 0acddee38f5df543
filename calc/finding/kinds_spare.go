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
	SpareLow               Code = "spare.low"      // a temporary spare on the road, against its own figure
	SpareNotRead           Code = "spare.not-read" // its pressure, or the figure on it
	SpareTwoInService      Code = "spare.two-in-service"
	SpareTowing            Code = "spare.towing"
	SpareBarred            Code = "spare.barred" // by a law of inspections
)

// Found good, of the spare and what goes with it.
const (
	CheckedSpareReachable  Checked = "spare.reachable"
	CheckedSpareHoistWorks Checked = "spare.hoist-works"
	CheckedSpareJackThere  Checked = "spare.jack-there"
	CheckedSpareKeyThere   Checked = "spare.key-there"
	CheckedSpareKitThere   Checked = "spare.kit-there"
	CheckedSpareTwo        Checked = "spare.two-allowed"    // by the vehicle's handbook, as told
	CheckedSpareTowing     Checked = "spare.towing-allowed" // the same
)

// Evidence about the spare and what goes with it.
const (
	FactSpareSpeedLimit     Fact = "spare.speed-limit"
	FactSpareDistanceLimit  Fact = "spare.distance-limit"
	FactSpareAllAxlesDriven Fact = "spare.all-axles-driven"
	FactSpareOnDrivenAxle   Fact = "spare.on-driven-axle"
	FactSpareLampExpected   Fact = "spare.lamp-expected" // it has no sensor
)

// spareKinds are the findings of the spare and what goes with it.
var spareKinds = []Kind{
	{Code: SpareKitPastItsDay, Urgency: Plan, Of: OfVehicle, Measured: Nothing, Limit: Nothing, Again: AgainAlways, Left: LeftNothing},
	{Code: SpareNotReachable, Urgency: Plan, Of: OfPlace, Measured: Nothing, Limit: Nothing, Again: AgainSpare, Left: LeftNothing},
	{Code: SpareHoistFails, Urgency: ThisVisit, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkSpareMendCarrier, Again: AgainSpare, Left: LeftNothing, Cured: []Done{DoneSpareCarrierMended}},
	{Code: SpareJackMissing, Urgency: Plan, Of: OfVehicle, Measured: Nothing, Limit: Nothing, Again: AgainSpare, Left: LeftNothing},
	{Code: SpareKeyMissing, Urgency: Plan, Of: OfVehicle, Measured: Nothing, Limit: Nothing, Again: AgainSpare, Left: LeftNothing},
	{Code: SpareKitMissing, Urgency: Plan, Of: OfVehicle, Measured: Nothing, Limit: Nothing, Again: AgainSpare, Left: LeftNothing},
	{Code: SpareInService, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkSparePutBack, Again: AgainSpare, Left: LeftNothing},
	{Code: SpareLow, Urgency: ThisVisit, Of: OfTire, Measured: Pressure, Limit: Pressure, Work: WorkSpareSet, Caution: CautionAddingAir, Again: AgainPressure, Left: LeftPressure},
	{Code: SpareNotRead, Urgency: ThisVisit, LeavesOpen: true, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkMeasureToSettle, Again: AgainPressure, Left: LeftNothing},
	{Code: SpareTwoInService, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkSparePutBack, Again: AgainSpare, Left: LeftNothing},
	{Code: SpareTowing, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkSparePutBack, Again: AgainSpare, Left: LeftNothing},
	{Code: SpareBarred, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkSparePutBack, Again: AgainSpare, Left: LeftNothing},
	{Code: SpareMatchingInService, Urgency: Plan, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainSpare, Left: LeftNothing},
}

// spareFacts are the evidence about the spare and what goes with it.
var spareFacts = []FactKind{
	{Code: FactSpareSpeedLimit, Amount: Speed},
	{Code: FactSpareDistanceLimit, Amount: Distance},
	{Code: FactSpareAllAxlesDriven, Amount: Nothing},
	{Code: FactSpareOnDrivenAxle, Amount: Nothing},
	{Code: FactSpareLampExpected, Amount: Nothing},
}

// spareChecked are what is found good of the spare and what goes with it.
var spareChecked = []CheckedKind{
	{Code: CheckedSpareReachable, Measured: Nothing, Limit: Nothing},
	{Code: CheckedSpareHoistWorks, Measured: Nothing, Limit: Nothing},
	{Code: CheckedSpareJackThere, Measured: Nothing, Limit: Nothing},
	{Code: CheckedSpareKeyThere, Measured: Nothing, Limit: Nothing},
	{Code: CheckedSpareKitThere, Measured: Nothing, Limit: Nothing},
	{Code: CheckedSpareTwo, Measured: Nothing, Limit: Nothing},
	{Code: CheckedSpareTowing, Measured: Nothing, Limit: Nothing},
}
