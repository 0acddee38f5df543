package sidewall

import "gaugebook.dev/calc/unit"

// Class is the kind of tire a designation names.
type Class uint8

// Classes of tires.
const (
	UnknownClass     Class = iota // nothing written, or not understood
	PMetric                       // P225/60R16
	MetricPassenger               // 225/60R17, HL245/40R19
	LightTruckTire                // LT245/75R16, 31x10.50R15LT, 9.50R16.5LT
	CommercialMetric              // 195/75R16C, 7.50R16C: vans
	NumericHeavy                  // 11R22.5, 10.00-20
	MetricHeavy                   // 315/70R22.5
	TemporarySpare                // T125/70D15
	SpecialTrailer                // ST205/75R15
)

// Truck tells whether the class is of medium and heavy truck tires.
func (c Class) Truck() bool { return c == NumericHeavy || c == MetricHeavy }

// Passenger tells whether the class is of passenger tires, the temporary spare aside.
func (c Class) Passenger() bool { return c == PMetric || c == MetricPassenger }

// Construction is how the plies of the body lie.
type Construction uint8

// Constructions. A hyphen in a metric size tells none, as it is also the
// everyday separator ("225-60-17"); in a numeric size it is the mark of a bias
// tire ("10.00-20").
const (
	ConstructionNotTold Construction = iota
	Radial
	Bias
	BeltedBias
)

// Marking is what a designation and service description say. A zero field was
// not written or not understood; nothing is supplied.
type Marking struct {
	Class          Class
	SectionWidth   unit.Length // nominal, of metric and flotation sizes
	Aspect         unit.Ratio  // section height as a share of section width; 0 where it is not written
	Overall        unit.Length // nominal overall diameter, of flotation sizes
	Numeric        string      // section width of a numeric size as its code is written, in inches: "11", "10.00"
	Construction   Construction
	SelfSupporting bool        // F after the construction letter: 245/45RF18
	Rim            unit.Length // nominal rim diameter
	LoadRange      string      // "C", "D", "E" ...; a ply rating is read as its load range
	LoadMark       string      // "SL", "XL", "LL", "HL"
	LoadIndex      int         // single mounting
	DualIndex      int         // dual mounting, 0 when one index is written
	SpeedAbove     bool        // Z in the size: made for more than 240 km/h
	Speed          SpeedSymbol // "ZR" where only the size tells of speed
}

// Parse reads a designation with its service description as people write it:
// "P215/60R16 94T", "lt 245/75 r16 120/116s e", "11R22.5". Upper and lower case
// are one, and so is any spacing between letters and digits. What it does not
// understand it leaves at zero; a text that is no tire gives UnknownClass.
func Parse(text string) Marking {
	r := &reader{tokens: tokensOf(text)}
	m, ok := r.size()
	if !ok {
		return Marking{}
	}
	r.description(&m)
	return m
}
