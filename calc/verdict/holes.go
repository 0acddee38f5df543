package verdict

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// marks are the observations that speak for or against a repair.
var marks = map[finding.Observation]puncture.Mark{
	finding.ObservedRunLowLinerRing:  puncture.LinerRing,
	finding.ObservedRunLowDust:       puncture.RubberDust,
	finding.ObservedRunLowSmell:      puncture.RubberDust,
	finding.ObservedRunLowScuffRing:  puncture.ScuffRing,
	finding.ObservedSeparation:       puncture.Separation,
	finding.ObservedBulge:            puncture.Separation,
	finding.ObservedCordShowing:      puncture.CordShowing,
	finding.ObservedCutToCord:        puncture.CordShowing,
	finding.ObservedBeadTornOrKinked: puncture.BeadDamage,
	finding.ObservedLinerSplit:       puncture.LinerSplit,
	finding.ObservedCracksFine:       puncture.FineCracks,
	finding.ObservedCracksOpen:       puncture.JoinedCracks,
	finding.ObservedCracksJoined:     puncture.JoinedCracks,
	finding.ObservedCracksToCord:     puncture.CracksToCord,
	finding.ObservedRadialRipple:     puncture.Zipper,
	finding.ObservedSealantInside:    puncture.SealantInside,
}

// earlierRepairs are the kinds of repair that may be found in a tire.
var earlierRepairs = map[finding.Observation]puncture.Method{
	finding.ObservedEarlierRepair:                 puncture.MethodNotTold,
	finding.ObservedEarlierRepairStringPlug:       puncture.PlugOnly,
	finding.ObservedEarlierRepairPatchWithoutStem: puncture.PatchOnly,
	finding.ObservedEarlierRepairCombination:      puncture.Combination,
	finding.ObservedEarlierRepairSection:          puncture.Section,
	finding.ObservedEarlierRepairReinforcement:    puncture.Boot,
	finding.ObservedEarlierRepairFailing:          puncture.PlugOnly, // whatever its kind, it has to be taken for improper
}

// holes judges the injuries of one tire.
func (j *judging) holes(w visit.Wheel) {
	in := puncture.Input{
		Tire: puncture.Tire{
			Marking: w.Tire.Marking, Body: w.Tire.Body, Age: w.Tire.Age,
			SelfSupporting: w.Tire.SelfSupporting, FoamLined: w.Tire.FoamLined, SealantLined: w.Tire.SealantLined, Policy: w.Tire.Policy,
		},
		Vehicle: j.v.Vehicle.Class, InsideSeen: w.LookedAt(finding.LookedInsideOfTire), Earlier: slices.Clone(w.Tire.Repairs),
	}
	if a, ok := j.v.Vehicle.AxleOf(w.Position); ok {
		in.Steer = a.Steered || j.v.Vehicle.Front(w.Position)
	}
	if w.Has(finding.ObservedFoamInside) {
		in.Tire.FoamLined = finding.Yes
	}
	for _, o := range w.Observations {
		switch o.Kind {
		case finding.ObservedInjury, finding.ObservedObjectInTread, finding.ObservedObjectRemoved:
			in.Injuries = append(in.Injuries, injury(o))
		}
		if m, ok := marks[o.Kind]; ok {
			in.Seen = append(in.Seen, m)
		}
		if m, ok := earlierRepairs[o.Kind]; ok {
			in.Earlier = append(in.Earlier, m)
		}
	}
	improper := slices.ContainsFunc(in.Earlier, func(m puncture.Method) bool { return m == puncture.PlugOnly || m == puncture.PatchOnly })
	if len(in.Injuries) == 0 {
		if improper {
			j.find(finding.Finding{
				Code: finding.RepairImproperEarlier, Urgency: finding.ThisVisit, Positions: []layout.Position{w.Position},
				Rule: finding.Rule{Authority: finding.CommonPractice, Citation: "common practice", Known: finding.Reported},
			})
			j.do(finding.WorkTireReplace, w.Position)
		}
		return
	}
	if r, ok := j.tread[w.Position]; ok && len(r.Summary.Cells) > 0 {
		in.Tire.Tread = &r.Summary.Reading
	}
	in.Pressure = j.airFacts(w)
	in.Books = j.repairBooks()
	slices.SortFunc(in.Seen, func(a, b puncture.Mark) int { return int(a) - int(b) })
	r := puncture.Judge(in)
	j.repair[w.Position] = r
	j.out.Repairs = append(j.out.Repairs, Repair{w.Position, r})
	at := func(fs ...finding.Finding) {
		for _, f := range fs {
			f.Positions = []layout.Position{w.Position}
			j.find(f)
		}
	}
	at(r.Main)
	at(r.Failing...)
	at(r.Open...)
	at(r.Notes...)
}

func injury(o visit.Observation) puncture.Injury {
	if o.Injury != nil {
		i := *o.Injury
		if o.Kind == finding.ObservedObjectInTread && i.ObjectInPlace == finding.NotAsked {
			i.ObjectInPlace = finding.Yes
		}
		return i
	}
	i := puncture.Injury{}
	if o.Kind == finding.ObservedObjectInTread {
		i.ObjectInPlace = finding.Yes
	}
	return i
}

// airFacts are what the pressure says about running low.
func (j *judging) airFacts(w visit.Wheel) puncture.Pressure {
	r := j.air[w.Position]
	p := puncture.Pressure{}
	if w.Pressure.Read == unit.None && !w.Has(finding.ObservedFlat) {
		return p
	}
	p.Flat, p.RunLow = finding.No, finding.No
	if r.Has(finding.InflationFlat) {
		p.Flat = finding.Yes
	}
	switch {
	case r.Has(finding.InflationRunLow):
		p.RunLow = finding.Yes
	case r.Has(finding.InflationRunLowUndecided):
		p.RunLow = finding.NotKnown
	}
	return p
}

// repairBooks are those that go with the law books. Where no repair rules of a
// country were read, none is named, and puncture tries all.
func (j *judging) repairBooks() []string {
	var ids []string
	for _, b := range j.books {
		if b.Repair == "" {
			return nil
		}
		if !slices.Contains(ids, b.Repair) {
			ids = append(ids, b.Repair)
		}
	}
	slices.Sort(ids)
	return ids
}
