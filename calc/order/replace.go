package order

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/visit"
)

// wanting are the tires whose depth was found wanting by something other than a law that
// only may apply.
type wanting struct {
	worn   map[layout.Position]bool // false: it may be
	spent  map[layout.Position]bool // read at a limit that binds, or below it, whatever the gauge can prove
	winter map[layout.Position]bool // by a law on winter tires, which are of one kind at both ends
}

func (in In) wanting() wanting {
	out := wanting{map[layout.Position]bool{}, map[layout.Position]bool{}, map[layout.Position]bool{}}
	for _, f := range in.Findings {
		if !endsByDepth(f.Code) || f.Certainty() == finding.MayApply || in.wheelAt(f.Positions[0]).Temporary {
			continue
		}
		for _, p := range f.Positions {
			out.worn[p] = out.worn[p] || wornOut(f)
			out.spent[p] = out.spent[p] || wornOut(f) || f.Certainty() == finding.Undecided && f.Margin.Number <= 0
			out.winter[p] = out.winter[p] || wornOut(f) && f.Code == finding.TreadWinterMinimum
		}
	}
	return out
}

// replaceWorn: what is worn out is replaced, both ends of an axle together where both
// are. Where a law leaves the answer open, the replacement waits for the reading.
func (in In) replaceWorn(l *lines) {
	for _, f := range in.Findings {
		switch {
		case f.Code == finding.AgeLegalLimit:
			l.from(f, do(finding.WorkTireReplace, f.Positions...)...)
		case f.Code == finding.TreadWinterMark && f.Urgency == finding.ThisVisit:
			l.from(f, do(finding.WorkTiresFitWinter, f.Positions...)...)
		}
	}
	of := in.wanting()
	for _, f := range in.Findings {
		if decides(f) && !of.worn[f.Positions[0]] && !of.worn[f.Positions[0].Mirror()] {
			l.add(Work{Code: finding.WorkTireReplaceIfBelow, Positions: f.Positions, Condition: finding.WhenBelowOnceSettled})
		}
	}
	for _, p := range sorted(of.worn) {
		if of.worn[p] {
			l.add(in.replace(p, of)...)
		}
	}
	both := l.at(finding.WorkTiresReplacePair)
	l.without(func(k finding.WorkKind) bool { return k.Code == finding.WorkTireReplace }, func(_ finding.Work, p layout.Position) bool { return both[p] })
	l.add(in.reuse(sorted(of.worn))...)
}

// replace replaces one worn tire. Its mate on the axle goes with it at its own limit, or
// where a law that binds asks for it. A mate that was not read waits for its reading; a
// sound one is a choice.
func (in In) replace(p layout.Position, of wanting) []Work {
	mate := p.Mirror()
	if p.Spare || p.Dual != layout.Single {
		return proved(do(finding.WorkTireReplace, p))
	}
	r, read := in.Facts.Treads[mate]
	read = read && len(r.Summary.Cells) > 0
	if of.spent[mate] || of.winter[p] && read || in.apart(p, mate) {
		return proved(do(finding.WorkTiresReplacePair, p, mate))
	}
	one := proved(do(finding.WorkTireReplace, p))
	if !read || in.Facts.Scrapped[mate] {
		return one
	}
	left := r.Summary.Governing.Lowest.Amount(r.BarLimit.Value.Unit).Rounded()
	choice := Work{Code: finding.WorkTiresOneOrTwo, Urgency: finding.Plan, Positions: []layout.Position{mate}, Target: left}
	if in.endsAlike() {
		choice.Code = finding.WorkTiresOneOrTwoToRear
	}
	return append(one, choice)
}

// apart tells that a new tire at one end of an axle and the mate that stays would differ
// by more than a law allows that binds the vehicle.
func (in In) apart(p, mate layout.Position) bool {
	r, read := in.Facts.Treads[mate]
	i := slices.IndexFunc(in.Visit.Wheels, func(w visit.Wheel) bool { return w.Position == p })
	if !read || i < 0 || len(r.Summary.Cells) == 0 {
		return false
	}
	whenNew, known := tread.Wheel{New: in.Visit.Wheels[i].Tire.New}.NewAt(r.Summary.Governing.Column)
	if !known {
		return false
	}
	for _, b := range in.Books {
		for _, limit := range b.About(rulebook.DepthDifference) {
			if b.ID != "advice" && !b.For(limit).Candidate && limit.AppliesTo(in.Visit.Vehicle, p) &&
				measure.AtMost(measure.Exact(whenNew-r.Summary.Governing.Lowest), limit.Depth()).Outcome == measure.Above {
				return true
			}
		}
	}
	return false
}

// endsByDepth tells that a finding may end a tire's use by its depth.
func endsByDepth(code finding.Code) bool {
	switch code {
	case finding.TreadWornToBars, finding.TreadModelLimit, finding.TreadCommonMinimum, finding.TreadFittingLimit, finding.TreadLegalLimit, finding.TreadMajorDefect, finding.TreadWinterMinimum:
		return true
	}
	return false
}

// wornOut tells that a finding that may end a tire's use by its depth does.
func wornOut(f finding.Finding) bool {
	return f.Certainty() == finding.Proved && (f.Code != finding.TreadWinterMinimum || f.Urgency == finding.ThisVisit)
}

// reuse: a tire taken off a commercial front axle for its depth may serve where
// a lower limit applies, if it is sound and matches there.
func (in In) reuse(wanting []layout.Position) (all []Work) {
	for _, p := range wanting {
		r := in.Facts.Treads[p]
		if !in.Visit.Vehicle.Front(p) || in.Facts.Scrapped[p] || r.WornOut || len(r.Summary.Cells) == 0 {
			continue
		}
		for _, b := range in.Books {
			if b.Reuse == "" {
				continue
			}
			if measure.AtLeast(r.Summary.Reading, b.Limit(b.Reuse).Depth()).Outcome == measure.Above {
				all = append(all, Work{Code: finding.WorkTireReuseElsewhere, Positions: []layout.Position{p}, Condition: finding.WhenSoundAndMatching})
			}
		}
	}
	return all
}

// matchRest: on an all-wheel drive, tires that are replaced have to match those
// that stay.
func (in In) matchRest(l lines) []Work {
	replaced := l.replaced()
	delete(replaced, layout.Position{Spare: true})
	if all := len(in.Visit.Vehicle.Positions()); in.Visit.Vehicle.Drive != layout.AllDrive || len(replaced) == 0 || len(replaced) >= all {
		return nil
	}
	return []Work{{Code: finding.WorkTiresMatchSet, Positions: sorted(replaced), Condition: finding.WhenRestDiffer}}
}

// place is where new tires go, and what holds on a steered axle.
func (in In) place(l lines) (all []Work) {
	pair, v := l.at(finding.WorkTiresReplacePair), in.Visit.Vehicle
	if in.endsAlike() {
		front, rear := layout.Position{Axle: 1, Side: layout.Left}, layout.Position{Axle: 2, Side: layout.Left}
		if pair[front] && in.stays(l, rear) && in.stays(l, rear.Mirror()) {
			all = append(all, proved(do(finding.WorkTiresDeeperPairToRear, v.Positions()...))...)
		}
	}
	if slices.ContainsFunc(in.Books, func(b rulebook.Applied) bool { return b.Binds.CommercialFrom > 0 }) {
		steered := slices.DeleteFunc(sorted(l.replaced()), func(p layout.Position) bool { return !v.Front(p) })
		if len(steered) > 0 {
			all = append(all, do(finding.WorkTireSteerAxleRules, steered...)...)
		}
	}
	return all
}

// endsAlike tells of a light vehicle that the tires of its two axles may change places:
// the deeper pair goes to the rear of no other.
func (in In) endsAlike() bool {
	v := in.Visit.Vehicle
	return len(v.Axles) == 2 && v.Axles[0].Size == v.Axles[1].Size && !v.Axles[1].Dual && v.Light()
}

// stays tells that a tire was read and is not replaced: what nobody read is not moved.
func (in In) stays(l lines, p layout.Position) bool {
	r, read := in.Facts.Treads[p]
	return read && len(r.Summary.Cells) > 0 && !in.Facts.Scrapped[p] && !l.replaced()[p]
}
