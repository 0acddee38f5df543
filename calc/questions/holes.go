package questions

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// HolesIn is what is known of holes in the tires.
type HolesIn struct {
	Laws   Laws
	Wheels []visit.Wheel
	Treads Treads
	Airs   Airs
}

// HolesAnswer is whether the tires with a hole may be repaired.
type HolesAnswer struct {
	Answer
	Repairs []Repair
}

// Repair is the answer whether one tire may be repaired.
type Repair struct {
	Position layout.Position
	Result   puncture.Result
}

// Of gives the answer of one tire; false where it has no hole.
func (a HolesAnswer) Of(p layout.Position) (puncture.Result, bool) {
	i := slices.IndexFunc(a.Repairs, func(r Repair) bool { return r.Position == p })
	if i < 0 {
		return puncture.Result{}, false
	}
	return a.Repairs[i].Result, true
}

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

// Holes judges the injuries of each tire.
func Holes(in HolesIn) (out HolesAnswer) {
	for _, w := range in.Wheels {
		hole := in.hole(w)
		if len(hole.Injuries) == 0 {
			if slices.ContainsFunc(hole.Earlier, improper) {
				out.find(finding.Finding{
					Code: finding.RepairImproperEarlier, Urgency: finding.ThisVisit, Positions: []layout.Position{w.Position},
					Rule: finding.Rule{Authority: finding.CommonPractice, Citation: "common practice", Known: finding.Reported},
				})
			}
			continue
		}
		r := puncture.Judge(hole)
		out.Repairs = append(out.Repairs, Repair{w.Position, r})
		for _, f := range slices.Concat([]finding.Finding{r.Main}, r.Failing, r.Open, r.Notes) {
			f.Positions = []layout.Position{w.Position}
			out.find(f)
		}
	}
	return out
}

func improper(m puncture.Method) bool { return m == puncture.PlugOnly || m == puncture.PatchOnly }

// hole gives a tire as package puncture judges it.
func (in HolesIn) hole(w visit.Wheel) puncture.Input {
	out := puncture.Input{
		Tire: puncture.Tire{
			Marking: w.Tire.Marking, Body: w.Tire.Body, Age: w.Tire.Age,
			SelfSupporting: w.Tire.SelfSupporting, FoamLined: w.Tire.FoamLined, SealantLined: w.Tire.SealantLined, Policy: w.Tire.Policy,
			MostRepairs: w.Tire.MostRepairs, KeepsSpeed: w.Tire.KeepsSpeed,
		},
		Vehicle: in.Laws.Vehicle.Class, InsideSeen: w.LookedAt(finding.LookedInsideOfTire) || w.Mended.Inside.Clean(), Earlier: slices.Clone(w.Tire.Repairs),
		Pressure: in.ranLow(w), Books: in.Laws.ofRepair(),
	}
	if a, ok := in.Laws.Vehicle.AxleOf(w.Position); ok {
		out.Steer = a.Steered || in.Laws.Vehicle.Front(w.Position)
	}
	if w.Has(finding.ObservedFoamInside) {
		out.Tire.FoamLined = finding.Yes
	}
	if r, ok := in.Treads.read(w.Position); ok {
		reading := r.Summary.Reading
		out.Tire.Tread = &reading
	}
	out.Seen = append(out.Seen, inside(w.Mended.Inside)...)
	if i := w.Mended.Inside; i != nil && i.BadRepair == finding.Yes {
		out.Earlier = append(out.Earlier, puncture.PlugOnly)
	}
	for _, o := range w.Observations {
		switch o.Kind {
		case finding.ObservedInjury, finding.ObservedObjectInTread, finding.ObservedObjectRemoved:
			out.Injuries = append(out.Injuries, injury(o))
		}
		if m, ok := marks[o.Kind]; ok {
			out.Seen = append(out.Seen, m)
		}
		if m, ok := earlierRepairs[o.Kind]; ok {
			out.Earlier = append(out.Earlier, m)
		}
	}
	for i := range out.Injuries { // prepared with the cutter
		if len(out.Injuries) == 1 && out.Injuries[i].Prepared == nil && w.Mended.Repair.Cutter != nil {
			out.Injuries[i].Prepared = w.Mended.Repair.Cutter
		}
	}
	slices.Sort(out.Seen)
	out.Seen = slices.Compact(out.Seen)
	return out
}

// inside are the marks that a look inside found.
func inside(i *visit.Inside) (all []puncture.Mark) {
	if i == nil {
		return nil
	}
	for _, m := range []struct {
		there finding.Answer
		mark  puncture.Mark
	}{{i.Ring, puncture.LinerRing}, {i.Wrinkles, puncture.LinerRing}, {i.Dust, puncture.RubberDust}, {i.Liner, puncture.LinerSplit}} {
		if m.there == finding.Yes {
			all = append(all, m.mark)
		}
	}
	return all
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

// ranLow is what the pressure says about running low.
func (in HolesIn) ranLow(w visit.Wheel) puncture.Pressure {
	if w.Pressure.Read == unit.None && !w.Has(finding.ObservedFlat) {
		return puncture.Pressure{}
	}
	r := in.Airs.Results[w.Position]
	p := puncture.Pressure{Flat: finding.No, RunLow: finding.No}
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

// ofRepair are the repair books that go with the law books. Where no repair rules of a
// country were read, none is named, and puncture tries all.
func (s Laws) ofRepair() []string {
	var ids []string
	for _, b := range s.Books {
		if b.ID == rulebook.Own {
			continue // the shop's own limits come beside the law's books and say nothing of repair
		}
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
