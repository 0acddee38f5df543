package questions

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// SpareIn is what the vehicle carries against a flat, and what was seen of it.
type SpareIn struct {
	Vehicle    layout.Vehicle
	Spare      visit.Spare
	Report     *visit.SpareReport // nil when nobody looked
	LockingKey finding.Answer     // one of the fasteners is a lock that needs a key
	AsOf       unit.Date
	Wheels     []visit.Wheel
}

// Spare judges what was seen of the spare beside its tire: whether it can be used
// at the roadside, and whether it is in use.
func Spare(in SpareIn) (out Answer) {
	s := in.Spare
	if s.Kit && !s.KitLast.IsZero() && !in.AsOf.IsZero() && s.KitLast.DaysUntil(in.AsOf) > 0 {
		out.find(finding.Finding{Code: finding.SpareKitPastItsDay, Urgency: finding.Plan, Rule: finding.Rule{
			Authority: finding.Maker, Citation: "last day printed on the sealant kit", Known: finding.Reported}})
	}
	out.find(in.inService()...)
	r := in.Report
	if r == nil {
		return out
	}
	at := []layout.Position{{Spare: true}}
	asked := false
	seen := func(a finding.Answer, relevant bool, good finding.Checked, missing finding.Code, urgency finding.Urgency, at ...layout.Position) {
		switch {
		case !relevant:
		case a == finding.Yes:
			out.good(good, at...)
		case a == finding.No:
			out.find(finding.Finding{Code: missing, Urgency: urgency, Positions: at, Rule: practice})
		default:
			asked = true
		}
	}
	seen(r.Reachable, !s.Kit, finding.CheckedSpareReachable, finding.SpareNotReachable, finding.Plan, at...)
	seen(r.Hoist, !s.Kit, finding.CheckedSpareHoistWorks, finding.SpareHoistFails, finding.ThisVisit, at...)
	seen(r.Jack, !s.Kit, finding.CheckedSpareJackThere, finding.SpareJackMissing, finding.Plan)
	seen(r.Key, !s.Kit && in.LockingKey != finding.No, finding.CheckedSpareKeyThere, finding.SpareKeyMissing, finding.Plan)
	seen(r.Kit, s.Kit, finding.CheckedSpareKitThere, finding.SpareKitMissing, finding.Plan)
	if asked {
		out.ask(finding.AskSpareEquipment)
	}
	return out
}

// inService: where the spare was said to run, and where a tire marked as a
// temporary spare is on the road, whatever was said of it.
func (in SpareIn) inService() (fs []finding.Finding) {
	temporary := map[layout.Position]bool{}
	for _, w := range in.Wheels {
		if w.Tire.Size != "" && w.Tire.Marking.Class == sidewall.TemporarySpare && !w.Position.Spare {
			temporary[w.Position] = true
			fs = append(fs, in.runsAt(w.Position, false))
		}
	}
	if r := in.Report; r != nil && r.InService != (layout.Position{}) && !r.InService.Spare && !temporary[r.InService] {
		fs = append(fs, in.runsAt(r.InService, in.Spare.Matching))
	}
	return fs
}

// runsAt: a temporary spare goes back as soon as can be, and until then
// keeps to the limits printed on it or in the vehicle's handbook, which are not
// supplied here. One that matches the tires on the road only leaves none.
func (in SpareIn) runsAt(p layout.Position, matching bool) finding.Finding {
	s := in.Spare
	f := finding.Finding{Code: finding.SpareInService, Urgency: finding.ThisVisit, Positions: []layout.Position{p}, Rule: practice, Outcome: measure.NotCompared}
	if matching {
		f.Code, f.Urgency = finding.SpareMatchingInService, finding.Plan
		return f
	}
	if !s.Speed.IsZero() {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactSpareSpeedLimit, Amount: s.Speed.Rounded()})
	}
	if !s.Distance.IsZero() {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactSpareDistanceLimit, Amount: s.Distance.Rounded()})
	}
	driven := slices.ContainsFunc(in.Vehicle.Axles, func(a layout.Axle) bool { return a.Driven })
	switch a, ok := in.Vehicle.AxleOf(p); {
	case in.Vehicle.Drive == layout.AllDrive:
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactSpareAllAxlesDriven})
	case ok && driven && a.Driven:
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactSpareOnDrivenAxle})
	}
	return f
}
