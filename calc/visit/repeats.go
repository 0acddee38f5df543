package visit

import "gaugebook.dev/calc/inflation"

// LowestOf is the pressure that counts of repeated readings as found: the lowest. It is
// taken for as sure as the best gauge of the repeats made it: reading again with a
// coarser one makes nothing less sure. The zero Pressure where there is none.
func LowestOf(repeats []Pressure) (found Pressure) {
	for i, r := range repeats {
		if i == 0 {
			found = r
			continue
		}
		best := found.Gauge
		if r.Gauge.Std() < best.Std() {
			best = r.Gauge
		}
		// Of two that read alike the one that was read cold needs no estimate.
		if r.Of < found.Of || r.Of == found.Of && r.Source == inflation.AirAround {
			found = r
		}
		found.Gauge = best
	}
	return found
}

// LastOf is the pressure that counts of repeated readings as left: the last. The zero
// Pressure where there is none.
func LastOf(repeats []Pressure) Pressure {
	if len(repeats) == 0 {
		return Pressure{}
	}
	return repeats[len(repeats)-1]
}
