// Package sidewall reads what is written on a tire: the designation, load range,
// speed symbol and the date of making.
package sidewall

// BodyPly is what the body of the tire is made of. It, not the letters LT,
// decides the largest nail hole and what counts as run low.
type BodyPly uint8

// Body plies.
const (
	BodyNotTold BodyPly = iota
	FabricBody
	SteelBody
)

// BodyOf gives the body ply: as told from the sidewall, else by class and load
// range. Passenger tires, and light truck tires through load range E, have a
// fabric body; light truck tires from F, and truck tires, a steel one (common
// practice). Of others, and of a light truck tire without its load range, it is
// not told.
func BodyOf(told BodyPly, m Marking) BodyPly {
	switch {
	case told != BodyNotTold:
		return told
	case m.Class == PMetric || m.Class == MetricPassenger || m.Class == TemporarySpare:
		return FabricBody
	case m.Class.Truck():
		return SteelBody
	case m.Class == LightTruckTire && m.LoadRange != "":
		if m.LoadRange <= "E" {
			return FabricBody
		}
		return SteelBody
	}
	return BodyNotTold
}
