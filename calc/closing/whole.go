package closing

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// ofVehicle is what closes what no single wheel answers, "" for nothing.
func (in In) ofVehicle(f finding.Finding, wheels map[layout.Position]wheelLeft) finding.Closed {
	switch finding.KindOf(f.Code).Left {
	case finding.LeftAllRead:
		if in.Visit.LampLeft == inflation.LampOff && in.allRead(wheels) {
			return finding.ClosedLampOut
		}
	case finding.LeftSeen:
		if in.seen(f) {
			return finding.ClosedSeen
		}
	case finding.LeftSealantKnown:
		if in.sealantKnown(f) {
			return finding.ClosedSealantKnown
		}
	}
	return ""
}

// wheelAt is the report of a wheel.
func (in In) wheelAt(p layout.Position) (visit.Wheel, bool) {
	i := slices.IndexFunc(in.Visit.Wheels, func(w visit.Wheel) bool { return w.Position == p })
	if i < 0 {
		return visit.Wheel{}, false
	}
	return in.Visit.Wheels[i], true
}

// allRead: the pressure of every tire on the road is known, of one that was not read as
// found by what it left with. A lamp that went out says nothing of what nobody read.
func (in In) allRead(wheels map[layout.Position]wheelLeft) bool {
	return !slices.ContainsFunc(in.Visit.Vehicle.Positions(), func(p layout.Position) bool {
		w, reported := in.wheelAt(p)
		return !reported || w.Pressure.Read == unit.None && !wheels[p].atLabel
	})
}

// seen: every tire that a complaint is about was seen wherever it wants it.
func (in In) seen(f finding.Finding) bool {
	for _, c := range in.Visit.Complaints {
		if k := finding.ComplaintOf(c.Kind); k.Code == f.Code && slices.Equal(c.About(), f.Positions) {
			return len(visit.Unseen(in.Visit.Vehicle, in.Visit.Wheels, k, c.At)) == 0
		}
	}
	return false
}

// sealantKnown: one that does not burn leaves nothing to ask. One that may is out of the
// tire, where the inside is told, or another tire is there.
func (in In) sealantKnown(f finding.Finding) bool {
	told := false
	for _, c := range in.Visit.Complaints {
		if finding.ComplaintOf(c.Kind).Code != f.Code || !slices.Equal(c.About(), f.Positions) {
			continue
		}
		switch c.Sealant {
		case visit.SealantNotAsked:
			continue
		case visit.SealantMayBurn:
			w, reported := in.wheelAt(c.At)
			if !reported || w.Mended.Inside == nil && !w.Mended.Fitted {
				return false
			}
		}
		told = true
	}
	return told
}

// weighed: the axle was weighed again as left, and each tire is rated for what stands on it
// now. What pressure was too low for supports it provably; what weight was too much for
// does not provably fail to: nobody was asked to read that again.
func (in In) weighed(f finding.Finding) bool {
	proved, on := finding.KindOf(f.Code).Left == finding.LeftLoad, in.Visit.ScaleLeft()
	return in.every(f, func(w visit.Wheel) bool {
		read := w.Last()
		if read.Read == unit.None || !rated(w, on) {
			return false
		}
		supports := in.supports(w, in.Visit.AirLeft(w, read), on)
		return supports == measure.Above || !proved && supports == measure.CannotTell
	})
}

// rated: the tire is rated for what the scale says that it carries.
func rated(w visit.Wheel, on visit.Scale) bool {
	rating, known := w.Tire.Rating()
	c, weighed := on.Carried(w.Position)
	rated, told := rating.Rated(w.Position.Dual != layout.Single)
	return known && told && weighed && measure.AtMost(measure.Exact(c.Share), rated).Outcome != measure.Above
}

// supports tells whether the pressure of a tire, cold, supports what the scale says that it
// carries. Without a table of its kind the rated load in proportion to the pressure bounds
// it from below; under the lowest pressure of its table there is none but the label.
func (in In) supports(w visit.Wheel, left inflation.Wheel, on visit.Scale) measure.Outcome {
	rating, _ := w.Tire.Rating()
	c, _ := on.Carried(w.Position)
	dual := w.Position.Dual != layout.Single
	v, figure := inflation.Supports(rating.Least(), left.Cold().Value, dual)
	if !figure {
		v, figure = inflation.InProportion(rating, left.Cold().Value, dual)
	}
	switch {
	case figure:
		return measure.AtLeast(v, c.Share).Outcome
	case atLabel(left) || in.asTold(w, left):
		return measure.Above
	case left.Label == 0:
		return measure.Below
	}
	return measure.AtLeast(left.Cold().Value, lowOf(left.Label)).Outcome
}

// within: the depths of the two tires of an axle as left differ by no more than a law
// allows, that of one that was fitted told.
func (in In) within(f finding.Finding) bool {
	const both = 2
	if len(f.Positions) != both {
		return false
	}
	var results [both]tread.Result
	changed := false
	for i, p := range f.Positions {
		w, reported := in.wheelAt(p)
		depths := w.Depths
		if w.Mended.Fitted {
			depths, changed = w.DepthsLeft, true
		}
		left := w.Tread(depths, in.Visit.DepthGauge)
		left.BarsFlush, left.New = false, nil
		r, read := tread.Judge(in.Tread, left)
		if !reported || !read {
			return false
		}
		results[i] = r
	}
	apart := tread.Pair(in.Tread, results[0], results[1], [both]layout.Position(f.Positions))
	return changed && !slices.ContainsFunc(apart, func(g finding.Finding) bool { return g.ID() == f.ID() })
}

// every tells that something holds of each wheel of a finding, all of them reported.
func (in In) every(f finding.Finding, does func(visit.Wheel) bool) bool {
	return !slices.ContainsFunc(f.Positions, func(p layout.Position) bool {
		i := slices.IndexFunc(in.Visit.Wheels, func(w visit.Wheel) bool { return w.Position == p })
		return i < 0 || !does(in.Visit.Wheels[i])
	})
}
