package tell

import (
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/unit"

	"gaugebook.dev/server/words"
)

// readIn are the metric units that a visit was read in, as far as its answer shows: who
// chose no units reads work in them too, whose practice is told in psi and miles. Of
// distance it is kilometers where one was told, or where nothing was told in miles and
// pressure and depth are both metric.
func readIn(a *pb.Assessment) words.Units {
	var seen words.Units
	metricDepth, miles := false, false
	for _, w := range a.GetWheels() {
		for _, p := range []*pb.Pressure{w.GetLabelCold(), w.GetFound()} {
			if u := read(p.GetAsRead()).Unit; u == unit.Bar || u == unit.Kilopascals {
				seen.Pressure = u
			}
		}
		metricDepth = metricDepth || read(w.GetGoverningDepth().GetAsRead()).Unit == unit.Millimeters
	}
	distance := func(q *pb.Quantity) {
		switch Amount(q).Unit {
		case unit.Kilometers, unit.MillimetersPer1000Kilometer:
			seen.Distance = unit.Kilometers
		case unit.Miles, unit.ThirtySecondsPer1000Miles:
			miles = true
		}
	}
	for _, f := range a.GetFindings() {
		distance(f.GetMeasured())
		for _, e := range f.GetEvidence() {
			distance(e.GetAmount())
		}
	}
	if !miles && metricDepth && seen.Pressure != unit.None {
		seen.Distance = unit.Kilometers
	}
	return seen
}
