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
