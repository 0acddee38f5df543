package translate

import (
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/layout"

	"gaugebook.dev/server/words"
)

// Places gives where tires of a vehicle are, to be told. Positions are as the contract writes them; none gives the zero value.
func Places(vehicleOf *pb.Vehicle, positions []string) words.Value {
	var at []layout.Position
	for _, s := range positions {
		if p, err := layout.Parse(s); err == nil {
			at = append(at, p)
		}
	}
	v := vehicle(vehicleOf)
	return words.At(&v, at...)
}
