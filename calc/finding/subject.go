package finding

import "strings"

// Subject is what a finding stays open on from visit to visit.
type Subject uint8

// Subjects.
const (
	OfVehicle Subject = iota // the vehicle, or several of its wheels together
	OfPlace                  // a place on the vehicle, whatever tire is mounted there
	OfTire                   // the tire, wherever it is mounted
)

// ofTire are the families of findings that another tire in the same place has none
// of, by what stands before the dot of their code. The cause of a wear shape stays
// with the vehicle, and so do places, wheels and what lies on an axle.
var ofTire = map[string]bool{
	"tread": true, "trend": true, "inflation": true, "puncture": true, "repair": true, "damage": true, "dual": true,
	"age": true, "mount": true, "fitment": true, "match": true,
}

// tireInService are findings of a spare that is used as a road wheel.
var tireInService = map[Code]bool{"spare.in-service": true, "spare.matching-in-service": true}

// OfTire tells whether what a code says is of the tire itself: another tire in its
// place has none of it.
func (c Code) OfTire() bool {
	family, _, _ := strings.Cut(string(c), ".")
	return ofTire[family] || tireInService[c]
}

// Subject is what the finding is of.
func (f Finding) Subject() Subject {
	switch {
	case len(f.Positions) != 1:
		return OfVehicle
	case f.Code.OfTire():
		return OfTire
	}
	return OfPlace
}
