package sidewall

import "gaugebook.dev/calc/unit"

// SpeedSymbol is the letter of the service description: "T", "A8", "(Y)"; "ZR"
// where only the construction letter tells of speed. "" is not told.
type SpeedSymbol string

// kmh is the speed of each symbol. ZR and (Y) are above theirs, without an end.
var kmh = map[SpeedSymbol]float64{
	"A1": 5, "A2": 10, "A3": 15, "A4": 20, "A5": 25, "A6": 30, "A7": 35, "A8": 40,
	"B": 50, "C": 60, "D": 65, "E": 70, "F": 80, "G": 90,
	"J": 100, "K": 110, "L": 120, "M": 130, "N": 140, "P": 150, "Q": 160, "R": 170, "S": 180, "T": 190,
	"U": 200, "H": 210, "V": 240, "W": 270, "Y": 300, "(Y)": 300, "ZR": 240,
}

// Speed gives the symbol's speed in kilometers per hour; false for a symbol
// that the table does not have. Source: the European tire label register,
// owner's manuals and a textbook, as testdata/published/sidewall.csv names them.
func (s SpeedSymbol) Speed() (unit.Amount, bool) {
	v, ok := kmh[s]
	if !ok {
		return unit.Amount{}, false
	}
	return unit.Amount{Number: v, Unit: unit.KilometersPerHour}, true
}
