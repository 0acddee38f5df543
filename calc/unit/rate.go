package unit

// WearRate is tread depth lost over distance driven, in 0.1 nm a meter.
// Negative is growth, which no tire does.
type WearRate float64

// LossRate is pressure lost with time, in kilopascals a day. Negative is a gain.
type LossRate float64

// Month is the days of a month where a rate is told by the month.
const Month = 30

var (
	wearPer = map[Unit]float64{
		ThirtySecondsPer1000Miles:   perThirtySecond / 1_609_344.0,
		MillimetersPer1000Kilometer: perMillimeter / 1_000_000.0,
	}
	lossPer = map[Unit]float64{PSIPerMonth: kiloPerPSI / Month, KilopascalsPerMonth: 1.0 / Month, BarPerMonth: 100.0 / Month}
)

// WearRateOf makes a wear rate from ThirtySecondsPer1000Miles,
// or MillimetersPer1000Kilometer.
func WearRateOf(n float64, u Unit) (WearRate, error) {
	r, err := scaled(n, u, wearPer, "thirty-seconds per 1,000 miles or mm per 1,000 km are wanted")
	return WearRate(r), err
}

// MustWearRate is WearRateOf for constants.
func MustWearRate(n float64, u Unit) WearRate { return must(WearRateOf(n, u)) }

// In gives the rate in ThirtySecondsPer1000Miles or MillimetersPer1000Kilometer.
func (r WearRate) In(u Unit) float64 { return float64(r) / wearPer[u] }

// Amount gives the rate in the unit u, unrounded.
func (r WearRate) Amount(u Unit) Amount { return amount(r.In(u), u) }

// LossRateOf makes a loss rate from PSIPerMonth, KilopascalsPerMonth or BarPerMonth.
func LossRateOf(n float64, u Unit) (LossRate, error) {
	r, err := scaled(n, u, lossPer, "psi, kPa or bar per month are wanted")
	return LossRate(r), err
}

// MustLossRate is LossRateOf for constants.
func MustLossRate(n float64, u Unit) LossRate { return must(LossRateOf(n, u)) }

// In gives the rate in PSIPerMonth, KilopascalsPerMonth or BarPerMonth.
func (r LossRate) In(u Unit) float64 { return float64(r) / lossPer[u] }

// Amount gives the rate in the unit u, unrounded.
func (r LossRate) Amount(u Unit) Amount { return amount(r.In(u), u) }
