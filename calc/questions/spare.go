package questions

import (
	"maps"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// SpareIn is what the vehicle carries against a flat, and what was seen of it.
type SpareIn struct {
	Labels     visit.Labels
	Report     *visit.SpareReport // nil when nobody looked
	LockingKey finding.Answer     // one of the fasteners is a lock that needs a key
	AsOf       unit.Date
	Wheels     []visit.Wheel
	Tread      tread.Context
	Gauge      measure.Gauge[unit.Depth]
	Tows       finding.Answer // the vehicle pulls a trailer
	Watched    bool           // something watches its pressures, or may
	Lamp       inflation.Lamp // as found
}

// SpareAnswer is what is said of the spare, and the tread of one that runs.
type SpareAnswer struct {
	Answer
	treads Treads
}

// With are the treads of the road tires with those of temporary spares among them.
func (a SpareAnswer) With(road Treads) Treads {
	if len(a.treads) == 0 {
		return road
	}
	all := maps.Clone(road)
	maps.Copy(all, a.treads)
	return all
}

// Spare judges what was seen of the spare beside its tire: whether it can be used
// at the roadside, and whether it is in use.
func Spare(in SpareIn) (out SpareAnswer) {
	s := in.Labels.Spare
	if s.Kit && !s.KitLast.IsZero() && !in.AsOf.IsZero() && s.KitLast.DaysUntil(in.AsOf) > 0 {
		out.find(finding.Finding{Code: finding.SpareKitPastItsDay, Urgency: finding.Plan, Rule: finding.Rule{
			Authority: finding.Maker, Citation: "last day printed on the sealant kit", Known: finding.Reported}})
	}
	out.find(in.inService()...)
	out.treads = Treads{}
	in.running(&out)
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

// inService: where the spare was said to run, and where a temporary spare is on the road,
// whatever was said of it.
func (in SpareIn) inService() (fs []finding.Finding) {
	temporary := in.temporary()
	for _, p := range temporary {
		fs = append(fs, in.runsAt(p, false))
	}
	if r := in.Report; r != nil && r.InService != (layout.Position{}) && !r.InService.Spare && !slices.Contains(temporary, r.InService) {
		fs = append(fs, in.runsAt(r.InService, in.Labels.Spare.Matching))
	}
	return fs
}

// temporary are the wheels on which a temporary spare runs.
func (in SpareIn) temporary() (at []layout.Position) {
	for _, w := range in.Wheels {
		if w.Temporary {
			at = append(at, w.Position)
		}
	}
	return at
}

// running judges temporary spares on the road by what stands on them: their own bars, and
// whether their pressure is known. Two of them, or one on a vehicle that tows, keep it
// from the road unless its handbook allows it. The work goes to the road tire, which is
// asked for where nobody reported it.
func (in SpareIn) running(out *SpareAnswer) {
	at := in.temporary()
	if len(at) == 0 {
		return
	}
	for _, w := range in.Wheels {
		if !w.Temporary {
			continue
		}
		if in.Labels.Own(w) == 0 || w.Pressure.Read == unit.None && !w.Has(finding.ObservedFlat) {
			out.ask(finding.AskSpareInUse, w.Position)
			out.find(finding.Finding{Code: finding.SpareNotRead, Urgency: finding.ThisVisit, Positions: []layout.Position{w.Position}, Rule: practice, ToSettle: finding.SettleSpareFigure, Outcome: measure.CannotTell})
		}
		in.bars(out, w)
	}
	spare := in.Labels.Spare
	if len(at) > 1 {
		unlessAllowed(out, spare.AllowsTwo, finding.SpareTwoInService, finding.CheckedSpareTwo, at)
	}
	if in.Tows == finding.Yes {
		unlessAllowed(out, spare.AllowsTowing, finding.SpareTowing, finding.CheckedSpareTowing, at)
	}
	in.barred(out, at)
	if !slices.ContainsFunc(in.Wheels, func(w visit.Wheel) bool { return w.Position.Spare }) {
		out.ask(finding.AskRoadTire, at...)
	}
}

// barred holds temporary spares on the road against the laws under which a vehicle fails
// its inspection with one.
func (in SpareIn) barred(out *SpareAnswer, at []layout.Position) {
	for _, b := range in.Tread.Books {
		for _, l := range b.About(rulebook.SpareOnRoad) {
			for _, p := range at {
				if l.AppliesTo(in.Labels.Vehicle, p) {
					out.find(finding.Finding{Code: finding.SpareBarred, Urgency: finding.ThisVisit, Positions: []layout.Position{p}, Rule: b.RuleOf(l), Candidate: b.For(l).Candidate})
				}
			}
		}
	}
}

// handbook is the rule of what the vehicle's handbook was told to say.
var handbook = finding.Rule{Authority: finding.Maker, Citation: "vehicle's handbook", Known: finding.Reported}

// unlessAllowed keeps a vehicle from the road for what only its handbook may allow, which
// is asked where nobody told it.
func unlessAllowed(a *SpareAnswer, allowed finding.Answer, code finding.Code, good finding.Checked, at []layout.Position) {
	f := finding.Finding{Code: code, Urgency: finding.BeforeDriving, Positions: at, Rule: practice}
	switch allowed {
	case finding.Yes:
		a.addMet(Checked{Code: good, Positions: at, Rule: handbook})
		return
	case finding.No:
		f.Rule = handbook
	default:
		if !slices.ContainsFunc(a.Asked, func(q Asked) bool { return q.Code == finding.AskSpareHandbook }) {
			a.ask(finding.AskSpareHandbook, at...)
		}
	}
	a.find(f)
}

// bars holds the depths of a temporary spare against its own wear bars and nothing else.
func (in SpareIn) bars(out *SpareAnswer, w visit.Wheel) {
	r, read := tread.Judge(in.Tread, w.Tread(w.Depths, in.Gauge))
	switch {
	case !read && w.Has(finding.ObservedAtWearBars):
		r = tread.BarsOnly(in.Tread, w.Position)
	case !read:
		out.ask(finding.AskDepth, w.Position)
		return
	}
	out.treads[w.Position] = r
	for _, f := range r.Findings {
		if f.Code == finding.TreadWornToBars {
			out.find(f)
		}
	}
	for _, k := range r.Met {
		if k.Code == finding.CheckedTreadWornToBars {
			out.keepDepth(k)
		}
	}
}

// runsAt: a temporary spare goes back as soon as can be, and until then
// keeps to the limits printed on it or in the vehicle's handbook, which are not
// supplied here. One that matches the tires on the road only leaves none.
func (in SpareIn) runsAt(p layout.Position, matching bool) finding.Finding {
	s := in.Labels.Spare
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
	if in.Watched && in.Lamp.Lit() {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactSpareLampExpected})
	}
	driven := slices.ContainsFunc(in.Labels.Vehicle.Axles, func(a layout.Axle) bool { return a.Driven })
	switch a, ok := in.Labels.Vehicle.AxleOf(p); {
	case in.Labels.Vehicle.Drive == layout.AllDrive:
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactSpareAllAxlesDriven})
	case ok && driven && a.Driven:
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactSpareOnDrivenAxle})
	}
	return f
}
