package translate

import (
	"strings"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// Mass gives a mass in one of its units, rounded as every number that leaves calc.
func Mass(m unit.Mass, in unit.Unit) *pb.Mass {
	a := m.Amount(in).Rounded()
	if a.Unit == unit.Kilograms {
		return &pb.Mass{AsRead: &pb.Mass_Kilograms{Kilograms: a.Number}}
	}
	return &pb.Mass{AsRead: &pb.Mass_Pounds{Pounds: a.Number}}
}

// axleWeights are what the axles weighed as found and as left.
func axleWeights(ms []*pb.AxleWeight) (found, left []visit.AxleWeight) {
	for _, m := range ms {
		weight, u, ok := of(unit.MassOf, m.GetWeight())
		if !ok {
			continue
		}
		w := visit.AxleWeight{Axle: int(m.GetAxle()), Weight: weight, ReadIn: u}
		if m.GetPhase() == pb.Phase_PHASE_AS_LEFT {
			left = append(left, w)
		} else {
			found = append(found, w)
		}
	}
	return found, left
}

// loadRange takes what was read as load range or load mark, whichever it is.
func loadRange(m *sidewall.Marking, read string) {
	switch read = strings.ToUpper(strings.TrimSpace(read)); read {
	case "":
	case "SL", "XL", "HL":
		m.LoadMark = read
	default:
		m.LoadRange = read
	}
}
