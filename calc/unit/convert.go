package unit

var kilometersPerHour = map[Unit]float64{MilesPerHour: 1.609344, KilometersPerHour: 1}

// linear are the quantities whose units differ by a factor alone.
var linear = []map[Unit]float64{tenthNanometers, kilopascals, meters, kilograms, newtonMeters, kilometersPerHour, wearPer, lossPer}

// To gives the amount in another unit of its quantity, unrounded: psi in bar,
// miles in kilometers, a rate by its own distance or month, a temperature on the
// other scale. False where u is no unit
// of that quantity. It serves display alone; a rule is compared in its own unit.
func (a Amount) To(u Unit) (Amount, bool) {
	if a.Unit == u {
		return a, u != None
	}
	for _, factors := range linear {
		from, known := factors[a.Unit]
		if to, wanted := factors[u]; known && wanted {
			b := amount(a.Number*from/to, u)
			if a.Tread || a.Unit == ThirtySecondsInch {
				b = b.OfTread()
			}
			return b, true
		}
	}
	if t, err := TemperatureOf(a.Number, a.Unit); err == nil && (u == Fahrenheit || u == Celsius) {
		return t.Amount(u), true
	}
	return Amount{}, false
}
