package verdict

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/sidewall"
)

// spare judges what was seen of the spare beside its tire: whether it can be used
// at the roadside, and whether it is in use.
func (j *judging) spare() {
	s := j.v.Spare
	if s.Kit && !s.KitLast.IsZero() && !j.v.AsOf.IsZero() && s.KitLast.DaysUntil(j.v.AsOf) > 0 {
		j.find(finding.Finding{Code: finding.SpareKitPastItsDay, Urgency: finding.Plan, Rule: finding.Rule{
			Authority: finding.Maker, Citation: "last day printed on the sealant kit", Known: finding.Reported}})
	}
	j.sparesInService()
	r := j.v.SpareReport
	if r == nil {
		return
	}
	at := []layout.Position{{Spare: true}}
	asked := false
	seen := func(a finding.Answer, relevant bool, good finding.Checked, missing finding.Code, urgency finding.Urgency, at ...layout.Position) {
		switch {
		case !relevant:
		case a == finding.Yes:
			j.kept(Checked{Code: good, Positions: at})
		case a == finding.No:
			j.find(finding.Finding{Code: missing, Urgency: urgency, Positions: at, Rule: practice})
		default:
			asked = true
		}
	}
	seen(r.Reachable, !s.Kit, finding.CheckedSpareReachable, finding.SpareNotReachable, finding.Plan, at...)
	seen(r.Hoist, !s.Kit, finding.CheckedSpareHoistWorks, finding.SpareHoistFails, finding.ThisVisit, at...)
	seen(r.Jack, !s.Kit, finding.CheckedSpareJackThere, finding.SpareJackMissing, finding.Plan)
	seen(r.Key, !s.Kit && j.v.LockingKey != finding.No, finding.CheckedSpareKeyThere, finding.SpareKeyMissing, finding.Plan)
	seen(r.Kit, s.Kit, finding.CheckedSpareKitThere, finding.SpareKitMissing, finding.Plan)
	if asked {
		j.ask(finding.AskSpareEquipment)
	}
}

// sparesInService: where the spare was said to run, and where a tire marked as a
// temporary spare is on the road, whatever was said of it.
func (j *judging) sparesInService() {
	temporary := map[layout.Position]bool{}
	for _, w := range j.v.Wheels {
		if w.Tire.Size != "" && w.Tire.Marking.Class == sidewall.TemporarySpare && !w.Position.Spare {
			temporary[w.Position] = true
			j.spareInService(w.Position, false)
		}
	}
	if r := j.v.SpareReport; r != nil && r.InService != (layout.Position{}) && !r.InService.Spare && !temporary[r.InService] {
		j.spareInService(r.InService, j.v.Spare.Matching)
	}
}

// spareInService: a temporary spare goes back as soon as can be, and until then
// keeps to the limits printed on it or in the vehicle's handbook, which are not
// supplied here. One that matches the tires on the road only leaves none.
func (j *judging) spareInService(p layout.Position, matching bool) {
	s := j.v.Spare
	f := finding.Finding{Code: finding.SpareInService, Urgency: finding.ThisVisit, Positions: []layout.Position{p}, Rule: practice, Outcome: measure.NotCompared}
	if matching {
		f.Code, f.Urgency = finding.SpareMatchingInService, finding.Plan
		j.find(f)
		return
	}
	if !s.Speed.IsZero() {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactSpareSpeedLimit, Amount: s.Speed.Rounded()})
	}
	if !s.Distance.IsZero() {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactSpareDistanceLimit, Amount: s.Distance.Rounded()})
	}
	driven := slices.ContainsFunc(j.v.Vehicle.Axles, func(a layout.Axle) bool { return a.Driven })
	switch a, ok := j.v.Vehicle.AxleOf(p); {
	case j.v.Vehicle.Drive == layout.AllDrive:
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactSpareAllAxlesDriven})
	case ok && driven && a.Driven:
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactSpareOnDrivenAxle})
	}
	j.find(f)
	j.do(finding.WorkSparePutBack, p)
}
