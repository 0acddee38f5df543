package translate

import (
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/unit"
)

// Pressure gives a pressure in one of the units of pressure, rounded as every
// number that leaves calc.
func Pressure(p unit.Pressure, in unit.Unit) *pb.Pressure { return pressureMessage(p, in) }
