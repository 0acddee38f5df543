package questions

import (
	"gaugebook.dev/calc/fastener"
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// FastenerIn is what holds the wheels on, and what was done about it.
type FastenerIn struct {
	Vehicle layout.Vehicle
	Each    int         // fasteners of one wheel, 0 when not told
	Torque  unit.Amount // the vehicle maker's figure, zero when not told
	Wheels  []visit.Wheel
}

// FastenerAnswer is what is said about the fasteners of a vehicle.
type FastenerAnswer struct {
	Answer
	Renew    []fastener.Renewal
	Due      []fastener.Due
	Recorded []layout.Position // torque recorded, and not against the vehicle maker's figure
	PutRight []layout.Position // wheel off, counted, renewed, clean, torque recorded
}

// Fasteners judges the fasteners of wheels that were off, today or before.
func Fasteners(in FastenerIn) FastenerAnswer {
	v := fastener.Vehicle{Layout: in.Vehicle, Each: in.Each, Torque: in.Torque}
	for _, w := range in.Wheels {
		if !w.Position.Spare { // it hangs in its place
			v.Wheels = append(v.Wheels, fastener.Wheel{At: w.Position, Broken: w.Count(finding.ObservedStudBroken), Work: w.Fastening, Before: w.OffBefore, Checks: w.TorqueChecks})
		}
	}
	r := fastener.Judge(v)
	out := FastenerAnswer{Renew: r.Renew, Due: r.Due, Recorded: r.Recorded, PutRight: r.PutRight}
	out.find(r.Findings...)
	for _, p := range r.Asked {
		out.ask(finding.AskFastenerWork, p)
	}
	for _, p := range r.Recorded {
		out.good(finding.CheckedTorqueRecorded, p)
	}
	for _, p := range r.Held {
		out.good(finding.CheckedTorqueRechecked, p)
	}
	return out
}
