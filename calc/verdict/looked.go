package verdict

import (
	"cmp"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// looked fills the lists of what was looked at with nothing found, and of what
// was not looked at: silence never reads as good.
func (j *judging) looked() {
	reported := map[layout.Position]bool{}
	for _, w := range j.v.Wheels {
		reported[w.Position] = true
		said := map[finding.Looked]bool{}
		for _, l := range w.Looked {
			said[l.What] = true
			switch {
			case l.NotBecause != "":
				j.notLooked(l.What, l.NotBecause, w.Position)
			case l.What == finding.LookedTreadPart:
				j.notLooked(finding.LookedTreadFullTurn, finding.NotLookedPartOnly, w.Position)
				said[finding.LookedTreadFullTurn] = true
			case !hurtAt(w, l.What) && (l.What != finding.LookedValve || !j.valveWrong(w.Position)):
				j.kept(Checked{Code: finding.LookedOf(l.What).Good, Positions: []layout.Position{w.Position}})
			}
		}
		for place := range finding.LookedKinds() {
			if !place.Whole || place.OuterOnly && w.Position.Dual == layout.Inner {
				continue
			}
			if !said[place.Kind] {
				j.notLooked(place.Kind, "", w.Position)
			}
		}
		if j.air[w.Position].Demount || len(j.repair[w.Position].LookFor) > 0 {
			if !said[finding.LookedInsideOfTire] {
				j.notLooked(finding.LookedInsideOfTire, "", w.Position)
			}
		}
	}
	for _, p := range j.v.Vehicle.Positions() {
		if !reported[p] {
			j.notLooked(finding.LookedWheel, "", p)
		}
	}
	if spare := (layout.Position{Spare: true}); j.v.Spare.Fitted && !reported[spare] {
		j.notLooked(finding.LookedWheel, "", spare)
	}
	for i := range j.out.NotLooked {
		slices.SortFunc(j.out.NotLooked[i].Positions, layout.Position.Compare)
	}
	slices.SortFunc(j.out.NotLooked, func(a, b NotLooked) int {
		return cmp.Or(cmp.Compare(a.What, b.What), cmp.Compare(a.Reason, b.Reason))
	})
}

func (j *judging) notLooked(what finding.Looked, reason finding.NotLooked, at layout.Position) {
	for i := range j.out.NotLooked {
		if n := &j.out.NotLooked[i]; n.What == what && n.Reason == reason {
			n.Positions = append(n.Positions, at)
			return
		}
	}
	j.out.NotLooked = append(j.out.NotLooked, NotLooked{what, []layout.Position{at}, reason})
}

// hurtAt tells whether something was seen at a place of the wheel, which is then
// not listed as having nothing found. A sidewall is told apart by its side, and
// what lies in the tread by its part.
func hurtAt(w visit.Wheel, place finding.Looked) bool {
	side := finding.LookedOf(place).Side
	for _, o := range w.Observations {
		if o.Side != "" && side != "" && side != o.Side {
			continue
		}
		if onTread := o.Part == finding.PartCrown || o.Part == finding.PartShoulder; onTread && side != "" || o.Part == finding.PartSidewall && place == finding.LookedTreadFullTurn {
			continue
		}
		if slices.Contains(finding.ObservationOf(o.Kind).Places, place) {
			return true
		}
	}
	return false
}

// asLeft closes a finding only when what was left is provably good; the finding
// itself stays.
func (j *judging) asLeft() {
	j.out.Closed, j.out.Done = map[string]unit.Amount{}, map[string]finding.Closed{}
	for _, w := range j.v.Wheels {
		j.airLeft(w)
		j.loadLeft(w)
		j.depthLeft(w)
		j.fitmentLeft(w)
	}
	j.sensorsLeft()
	j.fastenedAgain()
	j.cured()
}

// airLeft: the cold equivalent as left is at or above the label, and provably
// above the share of it under which a tire counts as low.
func (j *judging) airLeft(w visit.Wheel) {
	if w.PressureLeft.Read == unit.None {
		return
	}
	in := j.v.Labels().Air(w, w.PressureLeft, j.v.Conditions)
	if in.Label == 0 {
		return
	}
	left := in.Cold().Value
	low := unit.Pressure(float64(rulebook.Must("pressure").Limit("low").Ratio()) * float64(in.Label))
	if measure.AtLeast(left, low).Outcome != measure.Above || measure.AtLeast(measure.Exact(left.Of), in.Label).Outcome != measure.Above {
		return
	}
	for _, f := range j.out.Findings {
		if finding.KindOf(f.Code).Left == finding.LeftPressure && len(f.Positions) == 1 && f.Positions[0] == w.Position {
			j.out.Closed[f.ID()] = j.airIn[w.Position].Shown(w.PressureLeft.Of)
		}
	}
}

// depthLeft: the tire as left keeps, provably, every limit that was open or not
// kept as found.
func (j *judging) depthLeft(w visit.Wheel) {
	left := w.Tread(w.DepthsLeft, j.v.DepthGauge)
	left.BarsFlush, left.New = false, nil
	r, ok := tread.Judge(j.context(), left)
	if !ok {
		return
	}
	open := map[string]bool{}
	for _, f := range append(r.Findings, tread.Winter(j.context(), left).Findings...) {
		open[f.ID()] = true
	}
	for _, f := range j.out.Findings {
		if finding.KindOf(f.Code).Left == finding.LeftDepth && f.Positions[0] == w.Position && !open[f.ID()] {
			j.out.Closed[f.ID()] = r.Summary.Governing.Lowest.Amount(f.Limit.Unit).Rounded()
		}
	}
}
