package translate

import (
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/layout"

	"gaugebook.dev/server/words"
)

// Places writes where tires of a vehicle are in a customer's words: "the right
// rear". Positions are as the contract writes them; none gives "".
func Places(vehicleOf *pb.Vehicle, positions []string, texts *words.Catalogue) string {
	var at []layout.Position
	for _, s := range positions {
		if p, err := layout.Parse(s); err == nil {
			at = append(at, p)
		}
	}
	return texts.Places(vehicle(vehicleOf), at)
}
