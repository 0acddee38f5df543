package sidewall

import "gaugebook.dev/calc/unit"

// SpeedSymbol is the letter of the service description: "T", "A8", "(Y)"; "ZR"
// where only the construction letter tells of speed. "" is not told.
type SpeedSymbol string

// kmh is the speed of each symbol. ZR and (Y) are above theirs, without an end:
// how far, only the tire's maker tells.
var kmh = map[SpeedSymbol]float64{
	"A1": 5, "A2": 10, "A3": 15, "A4": 20, "A5": 25, "A6": 30, "A7": 35, "A8": 40,
	"B": 50, "C": 60, "D": 65, "E": 70, "F": 80, "G": 90,
	"J": 100, "K": 110, "L": 120, "M": 130, "N": 140, "P": 150, "Q": 160, "R": 170, "S": 180, "T": 190,
	"U": 200, "H": 210, "V": 240, "W": 270, "Y": 300, "(Y)": 300, "ZR": 240,
}

// Speed gives the symbol's speed in kilometers per hour; false for a symbol
// that the table does not have. Source: the European tire label register,
// owner's manuals and a textbook, as testdata/published/speed_symbol.csv names them.
func (s SpeedSymbol) Speed() (unit.Amount, bool) {
	v, ok := kmh[s]
	if !ok {
		return unit.Amount{}, false
	}
	return unit.Amount{Number: v, Unit: unit.KilometersPerHour}, true
}

// speedLoads are the shares of the rated load that a fast tire carries, by speed
// in kilometers per hour; linear between the points, all of it below the first
// ("Automotive Engineering: Powertrain, Chassis System and Vehicle Body", p. 291).
// For (Y) the row of Y and for ZR the row of V is taken up to their speeds, as
// the least that they are (this table's own decision).
var speedLoads = map[SpeedSymbol][]struct{ kmh, share float64 }{
	"V":   {{210, 1}, {220, 0.97}, {230, 0.94}, {240, 0.91}},
	"ZR":  {{210, 1}, {220, 0.97}, {230, 0.94}, {240, 0.91}},
	"W":   {{240, 1}, {250, 0.95}, {260, 0.90}, {270, 0.85}},
	"Y":   {{270, 1}, {280, 0.95}, {290, 0.90}, {300, 0.85}},
	"(Y)": {{270, 1}, {280, 0.95}, {290, 0.90}, {300, 0.85}},
}

// LoadShare gives the share of its rated load that a tire may carry at a speed
// in KilometersPerHour or MilesPerHour: all of it up to 210 km/h (W 240, Y 270),
// less above. False for a symbol or unit that is not known, and above the
// symbol's speed; what (Y) and ZR carry above theirs only the tire's maker tells.
func (s SpeedSymbol) LoadShare(speed unit.Amount) (unit.Ratio, bool) {
	v := speed.Number
	switch speed.Unit {
	case unit.KilometersPerHour:
	case unit.MilesPerHour:
		v *= 1.609344
	default:
		return 0, false
	}
	most, ok := kmh[s]
	if !ok || !(v <= most*(1+closeness)) {
		return 0, false
	}
	points := speedLoads[s]
	for i := 1; i < len(points); i++ {
		from, to := points[i-1], points[i]
		if v > from.kmh && v <= to.kmh*(1+closeness) {
			return unit.Ratio(from.share + (to.share-from.share)*(v-from.kmh)/(to.kmh-from.kmh)), true
		}
	}
	return 1, true
}
