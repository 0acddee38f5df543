package verdict

import (
	"cmp"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
)

// Places that a whole look at a fitted wheel takes in. The beads and the inside
// are seen only with the tire off, and are asked for where a hole or a tire run
// low makes them count.
var outside = []finding.Code{"tread-full-turn", "outer-sidewall", "inner-sidewall", "wheel-face", "wheel-barrel", "fasteners", "valve"}

func (w Wheel) lookedAt(what finding.Code) bool {
	return slices.ContainsFunc(w.Looked, func(l Looked) bool { return l.What == what && l.NotBecause == "" })
}

// full: only a full turn of the tread and both sidewalls make more than a depth
// reading.
func (w Wheel) full() bool {
	return w.lookedAt("tread-full-turn") && w.lookedAt("outer-sidewall") && w.lookedAt("inner-sidewall")
}

// looked fills the lists of what was looked at with nothing found, and of what
// was not looked at: silence never reads as good.
func (j *judging) looked() {
	reported := map[layout.Position]bool{}
	for _, w := range j.v.Wheels {
		reported[w.Position] = true
		hurt := j.hurt(w.Position)
		said := map[finding.Code]bool{}
		for _, l := range w.Looked {
			said[l.What] = true
			switch {
			case l.NotBecause != "":
				j.notLooked(l.What, l.NotBecause, w.Position)
			case l.What == "tread-part":
				j.notLooked("tread-full-turn", "part-only", w.Position)
				said["tread-full-turn"] = true
			case !hurt:
				j.kept(Checked{Code: "looked." + l.What, Positions: []layout.Position{w.Position}})
			}
		}
		for _, what := range outside {
			if !said[what] {
				j.notLooked(what, "", w.Position)
			}
		}
		if j.air[w.Position].Demount || len(j.repair[w.Position].LookFor) > 0 {
			if !said["inside-of-tire"] {
				j.notLooked("inside-of-tire", "", w.Position)
			}
		}
	}
	for _, p := range j.v.Vehicle.Positions() {
		if !reported[p] {
			j.notLooked("wheel", "", p)
		}
	}
	if spare := (layout.Position{Spare: true}); j.v.Spare.Fitted && !reported[spare] {
		j.notLooked("wheel", "", spare)
	}
	for i := range j.out.NotLooked {
		slices.SortFunc(j.out.NotLooked[i].Positions, layout.Position.Compare)
	}
	slices.SortFunc(j.out.NotLooked, func(a, b NotLooked) int {
		return cmp.Or(cmp.Compare(a.What, b.What), cmp.Compare(a.Reason, b.Reason))
	})
}

func (j *judging) notLooked(what, reason finding.Code, at layout.Position) {
	for i, n := range j.out.NotLooked {
		if n.What == what && n.Reason == reason {
			j.out.NotLooked[i].Positions = append(n.Positions, at)
			return
		}
	}
	j.out.NotLooked = append(j.out.NotLooked, NotLooked{what, []layout.Position{at}, reason})
}

// hurt tells whether anything was seen on the wheel or its tire: then no place
// of it is listed as having nothing found.
func (j *judging) hurt(p layout.Position) bool {
	if _, ok := j.repair[p]; ok {
		return true
	}
	for _, w := range j.v.Wheels {
		if w.Position != p {
			continue
		}
		for _, o := range w.Observations {
			if _, ok := damages[o.Kind]; ok {
				return true
			}
		}
	}
	return false
}

// asLeft closes a finding only when what was left is provably good; the finding
// itself stays.
func (j *judging) asLeft() {
	j.out.Closed = map[string]unit.Amount{}
	for _, w := range j.v.Wheels {
		j.airLeft(w)
		j.depthLeft(w)
	}
}

// airLeft: the cold equivalent as left is at or above the label, and provably
// above the share of it under which a tire counts as low.
func (j *judging) airLeft(w Wheel) {
	if w.PressureLeft.Read == unit.None {
		return
	}
	in := j.airWheel(w, w.PressureLeft)
	if in.Label == 0 {
		return
	}
	left := in.Cold().Value
	low := unit.Pressure(float64(rulebook.Must("pressure").Limit("low").Ratio()) * float64(in.Label))
	if measure.AtLeast(left, low).Outcome != measure.Above || measure.AtLeast(measure.Exact(left.Of), in.Label).Outcome != measure.Above {
		return
	}
	for _, f := range j.out.Findings {
		switch f.Code {
		case inflation.Low, inflation.BelowLabel, inflation.LabelWhileWarm:
			if len(f.Positions) == 1 && f.Positions[0] == w.Position {
				j.out.Closed[f.ID()] = w.PressureLeft.Of.Amount(j.unitOf(w.Position)).Rounded()
			}
		}
	}
}

// depthLeft: the tire as left keeps, provably, every limit that was open or not
// kept as found.
func (j *judging) depthLeft(w Wheel) {
	left := j.treadWheel(w, w.DepthsLeft)
	left.BarsFlush, left.New = false, nil
	r, ok := tread.Judge(j.context(), left)
	if !ok {
		return
	}
	open := map[string]bool{}
	for _, f := range r.Findings {
		open[f.ID()] = true
	}
	for _, f := range j.out.Findings {
		switch f.Code {
		case tread.WornToBars, tread.LegalLimit, tread.ModelLimit, tread.RoadsideLimit, tread.WetAdvice, tread.SnowAdvice, tread.WinterAdvice:
			if f.Positions[0] == w.Position && !open[f.ID()] {
				j.out.Closed[f.ID()] = r.Summary.Governing.Lowest.Amount(f.Limit.Unit).Rounded()
			}
		}
	}
}
