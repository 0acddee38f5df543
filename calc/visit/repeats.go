package visit

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
		if r.Of < found.Of {
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
