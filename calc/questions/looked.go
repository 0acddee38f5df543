package questions

import (
	"cmp"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/visit"
)

// LookedIn is what was looked at, and what asks for a look inside.
type LookedIn struct {
	Vehicle    layout.Vehicle
	Spare      visit.Spare
	Wheels     []visit.Wheel
	Airs       Airs
	Repairs    []Repair
	ValveWrong []layout.Position
}

// LookedAnswer is what was not looked at: silence never reads as good.
type LookedAnswer struct {
	Answer
	NotLooked []NotLooked
}

// NotLooked is a place that was not looked at. An empty Reason: nobody said
// whether it was.
type NotLooked struct {
	What      finding.Looked // LookedWheel for a position without any report
	Positions []layout.Position
	Reason    finding.NotLooked
}

// Looked tells what was looked at with nothing found, and what was not looked at.
func Looked(in LookedIn) (out LookedAnswer) {
	reported := map[layout.Position]bool{}
	for _, w := range in.Wheels {
		reported[w.Position] = true
		said := out.wheel(w, slices.Contains(in.ValveWrong, w.Position))
		for place := range finding.LookedKinds() {
			if !place.Whole || place.OuterOnly && w.Position.Dual == layout.Inner || said[place.Kind] {
				continue
			}
			out.not(place.Kind, "", w.Position)
		}
		if in.inside(w.Position) && !said[finding.LookedInsideOfTire] {
			out.not(finding.LookedInsideOfTire, "", w.Position)
		}
	}
	all := in.Vehicle.Positions()
	if in.Spare.Fitted {
		all = append(all, layout.Position{Spare: true})
	}
	for _, p := range all {
		if !reported[p] {
			out.not(finding.LookedWheel, "", p)
		}
	}
	for i := range out.NotLooked {
		slices.SortFunc(out.NotLooked[i].Positions, layout.Position.Compare)
	}
	slices.SortFunc(out.NotLooked, func(a, b NotLooked) int {
		return cmp.Or(cmp.Compare(a.What, b.What), cmp.Compare(a.Reason, b.Reason))
	})
	return out
}

// inside tells that the inside of a tire has to be seen.
func (in LookedIn) inside(p layout.Position) bool {
	return in.Airs.Results[p].Demount ||
		slices.ContainsFunc(in.Repairs, func(r Repair) bool { return r.Position == p && len(r.Result.LookFor) > 0 })
}

// wheel goes through what was said of the places of a wheel.
func (a *LookedAnswer) wheel(w visit.Wheel, valveWrong bool) (said map[finding.Looked]bool) {
	said = map[finding.Looked]bool{}
	for _, l := range w.Looked {
		said[l.What] = true
		switch {
		case l.NotBecause != "":
			a.not(l.What, l.NotBecause, w.Position)
		case l.What == finding.LookedTreadPart:
			a.not(finding.LookedTreadFullTurn, finding.NotLookedPartOnly, w.Position)
			said[finding.LookedTreadFullTurn] = true
		case !hurtAt(w, l.What) && (l.What != finding.LookedValve || !valveWrong):
			a.good(finding.LookedOf(l.What).Good, w.Position)
		}
	}
	return said
}

func (a *LookedAnswer) not(what finding.Looked, reason finding.NotLooked, at layout.Position) {
	for i := range a.NotLooked {
		if n := &a.NotLooked[i]; n.What == what && n.Reason == reason {
			if !slices.Contains(n.Positions, at) { // told, and also seen to be so
				n.Positions = append(n.Positions, at)
			}
			return
		}
	}
	a.NotLooked = append(a.NotLooked, NotLooked{what, []layout.Position{at}, reason})
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
