package fitment

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
)

// mixes looks at the tires of each axle, then at the axles.
func (j *fitting) mixes() {
	var axles [][]Wheel
	for i := range j.Layout.Axles {
		ws := slices.DeleteFunc(j.ends(i+1), j.temporary)
		axles = append(axles, ws)
		j.mixOnAxle(ws)
	}
	j.radialAhead(axles)
	j.wholeVehicle(axles)
	j.seasons(axles)
}

// differ tells that any two wheels are answered No by same.
func differ(ws []Wheel, same func(a, b Wheel) finding.Answer) bool {
	for i, a := range ws {
		for _, b := range ws[i+1:] {
			if same(a, b) == finding.No {
				return true
			}
		}
	}
	return false
}

func (j *fitting) mixOnAxle(ws []Wheel) {
	at := places(ws)
	switch {
	case differ(ws, func(a, b Wheel) finding.Answer { return sameSize(a.Tire.Marking, b.Tire.Marking) }):
		j.find(practice(finding.FitmentSizesMixed, finding.ThisVisit, at...))
	case differ(ws, sameLoadClass):
		j.find(practice(finding.FitmentLoadMixed, finding.Plan, at...))
	case differ(ws, func(a, b Wheel) finding.Answer { return sameDesign(a.Tire, b.Tire) }) && !differ(ws, sameSeason) && !differ(ws, sameConstruction):
		j.find(practice(finding.FitmentDesignsMixed, finding.Plan, at...))
	}
	if differ(ws, sameConstruction) {
		f := practice(finding.FitmentConstructionMixed, finding.ThisVisit, at...)
		j.underLaw(&f, rulebook.ConstructionMix)
		j.find(f)
	}
}

// wholeVehicle: axles that are each of one construction, and not all of the same, where a
// law asks for one on the whole vehicle.
func (j *fitting) wholeVehicle(axles [][]Wheel) {
	var all []Wheel
	for _, ws := range axles {
		if differ(ws, sameConstruction) {
			return // said of the axle
		}
		all = append(all, ws...)
	}
	if !differ(all, sameConstruction) {
		return
	}
	f := practice(finding.FitmentConstructionByAxle, finding.ThisVisit, places(all)...)
	if j.underLaw(&f, rulebook.WholeVehicle) {
		j.find(f)
	}
}

// underLaw cites the first law on a condition that was seen; one that certainly
// binds goes before one that may. Those of further places are cited beside it.
func (j *fitting) underLaw(f *finding.Finding, s rulebook.Subject) (found bool) {
	var certain []finding.Rule
	for _, candidate := range []bool{true, false} {
		for _, b := range j.Books {
			for _, l := range b.About(s) {
				if b.For(l).Candidate == candidate && l.AppliesTo(j.Layout, f.Positions[0]) {
					f.Rule, f.Candidate, found = b.RuleOf(l), candidate, true
					if !candidate {
						certain = append(certain, f.Rule)
					}
				}
			}
		}
	}
	for _, r := range certain {
		*f = f.Also(r)
	}
	return found
}

func sameConstruction(a, b Wheel) finding.Answer {
	kind := func(c sidewall.Construction) int {
		return map[sidewall.Construction]int{sidewall.Radial: 1, sidewall.Bias: 2, sidewall.BeltedBias: 2}[c]
	}
	switch x, y := kind(a.Tire.Marking.Construction), kind(b.Tire.Marking.Construction); {
	case x == 0 || y == 0:
		return finding.NotKnown
	case x == y:
		return finding.Yes
	}
	return finding.No
}

// sameLoadClass: a passenger tire beside one of a truck class, or another load
// range or mark. A mark that is not written is standard load, or was not read.
func sameLoadClass(a, b Wheel) finding.Answer {
	m, n := a.Tire.Marking, b.Tire.Marking
	switch {
	case m.Class == sidewall.UnknownClass || n.Class == sidewall.UnknownClass:
		return finding.NotKnown
	case m.Class.Passenger() != n.Class.Passenger(), m.Class != n.Class && !m.Class.Passenger(),
		m.LoadRange != "" && n.LoadRange != "" && m.LoadRange != n.LoadRange,
		m.LoadMark != "" && n.LoadMark != "" && m.LoadMark != n.LoadMark:
		return finding.No
	}
	return finding.NotKnown
}

// sameSeason compares what makes a winter tire: the three-peak mark, and studs.
func sameSeason(a, b Wheel) finding.Answer {
	if apart(a.Tire.ThreePeaks, b.Tire.ThreePeaks) || apart(a.Tire.Studded, b.Tire.Studded) {
		return finding.No
	}
	return finding.NotKnown
}

// radialAhead: on two axles with single rear wheels no radial tires in front of
// bias tires, where that is law.
func (j *fitting) radialAhead(axles [][]Wheel) {
	if len(axles) != 2 || j.Layout.Axles[1].Dual {
		return
	}
	of := func(ws []Wheel, cs ...sidewall.Construction) bool {
		return slices.ContainsFunc(ws, func(w Wheel) bool { return slices.Contains(cs, w.Tire.Marking.Construction) })
	}
	if !of(axles[0], sidewall.Radial) || !of(axles[1], sidewall.Bias, sidewall.BeltedBias) {
		return
	}
	f := practice(finding.FitmentRadialAhead, finding.ThisVisit, append(places(axles[0]), places(axles[1])...)...)
	if j.underLaw(&f, rulebook.RadialAhead) {
		j.find(f)
	}
}

// seasons: winter tires on all wheels of a light vehicle or on none. On heavy
// ones winter treads on the driving axles alone are usual.
func (j *fitting) seasons(axles [][]Wheel) {
	switch j.Layout.Class {
	case layout.PassengerCar, layout.LightTruck, layout.Motorhome, layout.ClassNotTold:
	default:
		return
	}
	mixed := false
	all := make([]Wheel, 0, len(j.road))
	for _, ws := range axles {
		all = append(all, ws...)
		if differ(ws, sameSeason) {
			mixed = true
			j.find(practice(finding.FitmentSeasonMixed, finding.ThisVisit, places(ws)...))
		}
	}
	if !mixed && differ(all, sameSeason) {
		j.find(practice(finding.FitmentSeasonOneAxle, finding.ThisVisit, places(all)...))
	}
	if !slices.ContainsFunc(all, func(w Wheel) bool { return w.Tire.Winter() }) {
		return
	}
	for _, w := range all {
		if w.Tire.ThreePeaks == finding.NotAsked && w.Tire.Studded != finding.Yes {
			j.ask(finding.AskSeasonMarks, w.At)
		}
	}
}
