package finding

// Findings of load.
const (
	LoadAboveRating        Code = "load.above-rating"         // more than the tire's rated load
	LoadPressureTooLow     Code = "load.pressure-too-low"     // more than the pressure found supports
	LoadUnderRatedPressure Code = "load.under-rated-pressure" // of a tire without a table: cannot tell
	LoadPassengerOnTruck   Code = "load.passenger-on-truck"   // less reserve than new trucks on passenger tires must have
)

// Found good, of load.
const (
	CheckedLoadCarried Checked = "load.carried" // checked: the pressure found supports it
)

// Evidence about load.
const (
	FactLoadFloor      Fact = "load.floor"
	FactLoadNeeds      Fact = "load.needs"
	FactLoadAxleWeight Fact = "load.axle-weight"
)

// loadKinds are the findings of load.
var loadKinds = []Kind{
	{Code: LoadAboveRating, Urgency: BeforeDriving, Of: OfPlace, Measured: Load, Limit: Load, Law: LawLoad, Caution: CautionOverload, Again: AgainWeighed, Left: LeftWeighed},
	{Code: LoadPressureTooLow, Urgency: BeforeDriving, Of: OfPlace, Measured: Load, Limit: Load, Law: LawPressureForLoad, Work: WorkMeasureToSettle, Caution: CautionOverload, Again: AgainWeighed, Left: LeftLoad},
	{Code: LoadUnderRatedPressure, Urgency: BeforeDriving, Of: OfPlace, Measured: Load, Limit: Load, Work: WorkMeasureToSettle, Caution: CautionOverload, Again: AgainWeighed, Left: LeftLoad},
	{Code: LoadPassengerOnTruck, Urgency: Plan, Of: OfPlace, Measured: Load, Limit: Load, Caution: CautionOverload, Again: AgainWeighed, Left: LeftNothing},
}

// loadFacts are the evidence about load.
var loadFacts = []FactKind{
	{Code: FactLoadFloor, Amount: Pressure},
	{Code: FactLoadNeeds, Amount: Pressure},
	{Code: FactLoadAxleWeight, Amount: Load},
}

// loadChecked are what is found good of load.
var loadChecked = []CheckedKind{
	{Code: CheckedLoadCarried, Measured: Load, Limit: Load},
}
