package translate

import (
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// mended is what was done at a wheel by the end.
func mended(m *pb.WheelReport) visit.Mended {
	out := visit.Mended{Fitted: fittedTold(m), FittedMarking: m.GetFitted().GetSidewall().GetMarking() != ""}
	if in := m.GetInside(); in != nil {
		out.Inside = &visit.Inside{
			Ring: answers[in.GetLinerRing()], Dust: answers[in.GetRubberDust()], Wrinkles: answers[in.GetWrinkles()],
			Liner: answers[in.GetLinerDamage()], BadRepair: answers[in.GetBadRepair()],
		}
	}
	u := m.GetUnderAir()
	out.UnderAir = visit.UnderAir{
		Twenty: answers[u.GetAtTwentyPsi()], Working: answers[u.GetAtWorkingPressure()], Popped: answers[u.GetRippleOrPopping()], Named: u.GetDoneBy() != "",
	}
	r := m.GetRepairMade()
	out.Repair = visit.Repair{Method: methods[r.GetMethod()], SoapedDry: answers[r.GetSoapedDry()]}
	if l, u, ok := of(unit.LengthOf, r.GetCutter()); ok {
		out.Repair.Cutter, out.Repair.CutterUnit = &l, u
	}
	out.ObjectOut = visit.ObjectOut{Dry: answers[m.GetObjectOut().GetDry()], DryFilled: answers[m.GetObjectOut().GetDryFilled()]}
	for _, b := range m.GetTakenBack() {
		felt := b.GetHow() == pb.HowKnown_HOW_KNOWN_FELT || b.GetHow() == pb.HowKnown_HOW_KNOWN_PROBED || b.GetHow() == pb.HowKnown_HOW_KNOWN_MEASURED
		out.TakenBack = append(out.TakenBack, visit.TakenBack{
			Kind: observationKinds.code(b.GetKind()), Was: observationKinds.code(b.GetWas()),
			Felt: felt, Named: b.GetDoneBy() != "",
		})
	}
	return out
}

// fittedTold: another tire is told there as left, by an id or a number of its own.
func fittedTold(m *pb.WheelReport) bool {
	f := m.GetFitted()
	byID := f.GetTireId() != "" && f.GetTireId() != m.GetTireId()
	number := f.GetSidewall().GetIdentification()
	return byID || number != "" && number != m.GetSidewall().GetIdentification()
}

// tookOff: what was done tells that the wheel was off, whether or not its fasteners are
// told.
func tookOff(m *pb.WheelReport) bool {
	return m.GetPosition() != "S" && (m.GetInside() != nil || m.GetUnderAir() != nil || m.GetRepairMade() != nil || m.GetFitted() != nil)
}
