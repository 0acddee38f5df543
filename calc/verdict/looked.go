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
		said := map[finding.Code]bool{}
		for _, l := range w.Looked {
			said[l.What] = true
			switch {
			case l.NotBecause != "":
				j.notLooked(l.What, l.NotBecause, w.Position)
			case l.What == "tread-part":
				j.notLooked("tread-full-turn", "part-only", w.Position)
				said["tread-full-turn"] = true
			case !w.hurtAt(l.What) && (l.What != "valve" || !j.valveWrong(w.Position)):
				j.kept(Checked{Code: "looked." + l.What, Positions: []layout.Position{w.Position}})
			}
		}
		for _, what := range outside {
			if w.Position.Dual == layout.Inner && (what == "fasteners" || what == "wheel-face") {
				continue // they are the outer wheel's, or behind it
			}
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
	for i := range j.out.NotLooked {
		if n := &j.out.NotLooked[i]; n.What == what && n.Reason == reason {
			if !slices.Contains(n.Positions, at) { // told, and seen to be so besides
				n.Positions = append(n.Positions, at)
			}
			return
		}
	}
	j.out.NotLooked = append(j.out.NotLooked, NotLooked{what, []layout.Position{at}, reason})
}

// placesOf are the looked-at places that a kind of damage lies in. A kind that is
// not listed lies in the tread.
var placesOf = map[finding.Code][]finding.Code{
	"inward-dent": sidewalls, "curb-scuff": sidewalls, "cracks-fine": sidewalls, "cracks-open": sidewalls, "cracks-joined": sidewalls,
	"cracks-to-cord": sidewalls, "radial-ripple": sidewalls, "blistering-or-swelling": sidewalls, "run-low-scuff-ring": sidewalls,
	"rubbing-on-vehicle": sidewalls, "rubbing-on-mate": sidewalls, "duals-touching": sidewalls, "duals-too-close": sidewalls, "object-between-duals": sidewalls,
	"bulge": anywhere, "separation": anywhere, "cord-showing": anywhere, "cut": anywhere, "cut-to-cord": anywhere,
	"bead-torn-or-kinked": {"beads"}, "liner-split": {"inside-of-tire"}, "run-low-dust": {"inside-of-tire"}, "run-low-liner-ring": {"inside-of-tire"},
	"wheel-crack": wheelPlaces, "wheel-bent-outer-lip": {"wheel-face"}, "wheel-bent-inner-lip": {"wheel-barrel"}, "wheel-bead-seat-corrosion": wheelPlaces,
	"wheel-welded": wheelPlaces, "wheel-leaking": wheelPlaces, "wheel-wrong-width": wheelPlaces, "spacer-or-adapter": wheelPlaces, "grease-on-inner-side": {"wheel-barrel"},
	"wheel-holes-elongated": {"wheel-face", "fasteners"}, "fastener-missing": {"fasteners"}, "fastener-loose": {"fasteners"}, "stud-broken": {"fasteners"},
	"stud-stretched": {"fasteners"}, "fastener-rust-streaks": {"fasteners"}, "fastener-wrong-seat": {"fasteners"}, "capped-nut-swollen": {"fasteners"},
	"valve-cracked": {"valve"}, "valve-bent": {"valve"}, "valve-core-leaking": {"valve"}, "valve-seat-leaking": {"valve"}, "valve-corroded": {"valve"},
	"valve-under-rated": {"valve"}, "valve-cap-missing": {"valve"}, "valve-extension": {"valve"}, "dual-valve-blocked": {"valve"},
	"sensor-not-answering": {}, "bearing-play": {}, "steering-play": {}, "suspension-play": {}, "part-bent": {}, "damper-weak": {}, "brake-dragging": {},
	"injury": anywhere, "object-in-tread": {"tread-full-turn"}, "object-removed": {"tread-full-turn"},
}

var (
	sidewalls   = []finding.Code{"outer-sidewall", "inner-sidewall"}
	anywhere    = []finding.Code{"tread-full-turn", "outer-sidewall", "inner-sidewall"}
	wheelPlaces = []finding.Code{"wheel-face", "wheel-barrel"}
)

// hurtAt tells whether something was seen at a place of the wheel, which is then
// not listed as having nothing found. A sidewall is told apart by its side, and
// what lies in the tread by its part.
func (w Wheel) hurtAt(place finding.Code) bool {
	for _, o := range w.Observations {
		_, judged := damages[o.Kind]
		where, listed := placesOf[o.Kind]
		if !listed {
			if !judged {
				continue
			}
			where = []finding.Code{"tread-full-turn"}
		}
		if o.Side != "" && slices.Contains(sidewalls, place) && place != o.Side+"-sidewall" {
			continue
		}
		if onTread := o.Part == "crown" || o.Part == "shoulder"; onTread && slices.Contains(sidewalls, place) || o.Part == "sidewall" && place == "tread-full-turn" {
			continue
		}
		if slices.Contains(where, place) {
			return true
		}
	}
	return false
}

// asLeft closes a finding only when what was left is provably good; the finding
// itself stays.
func (j *judging) asLeft() {
	j.out.Closed, j.out.Done = map[string]unit.Amount{}, map[string]finding.Code{}
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
	for _, f := range append(r.Findings, tread.Winter(j.context(), left).Findings...) {
		open[f.ID()] = true
	}
	for _, f := range j.out.Findings {
		switch f.Code {
		case tread.WornToBars, tread.LegalLimit, tread.ModelLimit, tread.RoadsideLimit, tread.WetAdvice, tread.SnowAdvice, tread.WinterAdvice,
			tread.WinterMinimum, tread.WinterTireLow, tread.ShopLimit:
			if f.Positions[0] == w.Position && !open[f.ID()] {
				j.out.Closed[f.ID()] = r.Summary.Governing.Lowest.Amount(f.Limit.Unit).Rounded()
			}
		}
	}
}
