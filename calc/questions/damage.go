package questions

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// DamageIn is what was observed at the wheels.
type DamageIn struct {
	Laws   Laws
	Wheels []visit.Wheel
}

// DamageAnswer is what the observations mean by themselves.
type DamageAnswer struct {
	Answer
	Scrapped   map[layout.Position]bool // the tire is done for, whatever its depth
	Silent     []layout.Position        // a sensor was seen not to answer
	ValveWrong []layout.Position
}

// Damage judges what was observed at each wheel by itself, whatever the readings say.
// What is seen as the vehicle leaves is there, too.
func Damage(in DamageIn) DamageAnswer {
	out := DamageAnswer{Scrapped: map[layout.Position]bool{}}
	known := map[string]bool{}
	for _, w := range in.Wheels {
		seen := map[finding.Code]bool{}
		for _, o := range slices.Concat(w.Observations, w.ObservationsLeft) {
			k := finding.KindOf(finding.ObservationOf(o.Kind).Means)
			if k.Code == "" || seen[k.Code] {
				continue
			}
			seen[k.Code] = true
			f := observed(k, w.Position, o)
			in.Laws.cite(&f, w.Position)
			if known[f.ID()] {
				continue // seen on the other tire of the pair too
			}
			known[f.ID()] = true
			out.find(f)
			out.note(k, w.Position)
			if o.Kind == finding.ObservedCut || o.Kind == finding.ObservedCutToCord {
				out.find(in.cuts(w, o)...)
			}
		}
	}
	return out
}

// observed is the finding that an observation means by itself.
func observed(k finding.Kind, at layout.Position, o visit.Observation) finding.Finding {
	f := finding.Finding{
		Code: k.Code, Urgency: k.Urgency, Positions: lies(k, at), Caution: k.Caution, Rule: practice,
		Place: finding.Place{Across: o.Across, Part: o.Part, Side: o.Side},
	}
	if o.Size != nil {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactDamageSize, Amount: o.Size.Amount(o.SizeUnit).Rounded()})
	}
	return f
}

// lies is where a kind of finding lies that was seen at a wheel: what is between two
// duals is of both.
func lies(k finding.Kind, p layout.Position) []layout.Position {
	if !k.Pair || p.Dual == layout.Single {
		return []layout.Position{p}
	}
	both := []layout.Position{p, p.Mate()}
	slices.SortFunc(both, layout.Position.Compare)
	return both
}

// note keeps what other questions need of a finding at a wheel.
func (a *DamageAnswer) note(k finding.Kind, at layout.Position) {
	if k.Scrap {
		a.Scrapped[at] = true
	}
	if k.Code == finding.SensorNotAnswering {
		a.Silent = append(a.Silent, at)
	}
	if k.Again == finding.AgainValve {
		a.ValveWrong = append(a.ValveWrong, at)
	}
}

// cuts applies the laws that allow a cut up to a length: longer than 25 mm or, where the
// law has a share too, 10 percent of the section width, whichever is greater, and deep
// enough to reach ply or cord (reg. 27(1)(c)).
func (in DamageIn) cuts(w visit.Wheel, o visit.Observation) (fs []finding.Finding) {
	if o.Size == nil {
		return nil
	}
	for _, b := range in.Laws.Books {
		limits := b.About(finding.LawCut)
		i := slices.IndexFunc(limits, func(l rulebook.Limit) bool { return l.Value.Unit == unit.Millimeters || l.Value.Unit == unit.Inches })
		share := slices.IndexFunc(limits, func(l rulebook.Limit) bool { return l.Value.Unit == unit.Percent })
		if i < 0 {
			continue
		}
		longest := limits[i].Length()
		if share >= 0 {
			longest = cutLimit(longest, limits[share].Ratio(), w.Tire.Marking.SectionWidth)
		}
		v := lengthGauge().Read(*o.Size)
		c := measure.AtMost(v, longest)
		if c.Outcome == measure.Below {
			continue
		}
		b = b.For(limits[i])
		f := finding.Finding{Code: finding.DamageCutLimit, Urgency: finding.BeforeDriving, Positions: []layout.Position{w.Position},
			Rule: b.RuleOf(limits[i]), Candidate: b.Candidate, Caution: finding.CautionDamagedTire}
		if b.Candidate {
			f.Urgency = finding.ThisVisit
		}
		f = finding.Compared(f, v, longest, unit.Millimeters, c)
		if o.Kind != finding.ObservedCutToCord {
			// Long enough, but whether it reaches ply or cord is not told.
			f.Outcome, f.ToSettle = measure.CannotTell, finding.SettleProbeCut
		}
		fs = append(fs, f)
	}
	return fs
}

// cutLimit is the longest cut that the rule allows: the fixed length or the
// share of the section width, whichever is greater. A width of zero is not known.
func cutLimit(fixed unit.Length, share unit.Ratio, width unit.Length) unit.Length {
	return max(fixed, unit.Length(float64(share)*float64(width)))
}

// lengthGauge is how well a cut or a distance on a tire is measured by hand.
func lengthGauge() measure.Gauge[unit.Length] {
	book := rulebook.Must("gauges")
	return measure.Gauge[unit.Length]{Resolution: book.Limit("length-graduation").Length(), Repeatability: book.Limit("length-repeatability").Length()}
}
