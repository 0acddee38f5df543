package translate

import (
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/layout"
)

// FrontRear tells how the trade writes where a tire of a vehicle is: by its end, LF
// or LRI, on two axles but a trailer's; by its axle's number, 1L or 2LI, on all others.
func FrontRear(v *pb.Vehicle) bool {
	return len(v.GetAxles().GetAxles()) == 2 && class(v.GetVehicleClass()) != layout.Trailer
}
