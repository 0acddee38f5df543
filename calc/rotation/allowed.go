package rotation

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
)

// limit is a depth of common practice: on where the shallower pair may run, and on
// the two tires of an axle.
func limit(id string) unit.Depth { return rulebook.Must("advice").Limit(id).Depth() }

// shallow tells that a rear pair is too shallow to stay behind a deeper front pair.
func shallow(front, rear, least unit.Depth) (wet, below bool) {
	return rear < front && least <= limit("wet"), front-rear > limit("rear-at-most-below")
}

// tooSoon is the distance before which tires change places no more: what they wear at
// their places does not show before (common practice).
func tooSoon() unit.Distance {
	l := rulebook.Must("advice").Limit("pattern-needs")
	return unit.MustDistance(l.Value.Number, l.Value.Unit)
}

// spareMayBeOlder is how much earlier the spare of a set may have been made, in years
// (common practice): tires bought together may be some months apart.
const spareMayBeOlder = 1.0

// vehicle is a Vehicle with its tires by position, and how far it ran by each map.
type vehicle struct {
	Vehicle
	at  map[layout.Position]Tire
	ran map[string]runs
}

func byPosition(v Vehicle) vehicle {
	w := vehicle{v, map[layout.Position]Tire{}, map[string]runs{}}
	for _, t := range v.Tires {
		w.at[t.At] = t
	}
	return w
}

// against lists every reason against a map.
func (v vehicle) against(m Map) (why []finding.Reason) {
	if m.ID == Leave {
		return nil
	}
	say := func(code finding.Reason, holds bool) {
		if holds && !slices.Contains(why, code) {
			why = append(why, code)
		}
	}
	say(finding.ReasonDriveNotTold, len(m.drives) > 0 && v.Layout.Drive == layout.DriveNotTold)
	say(finding.ReasonOtherDrive, len(m.drives) > 0 && v.Layout.Drive != layout.DriveNotTold && !slices.Contains(m.drives, v.Layout.Drive))
	if m.changesAxle() {
		say(finding.ReasonSizesDiffer, v.twoSizes())
		say(finding.ReasonConstructionsDiffer, v.differ(func(t Tire) string { return t.Construction }))
	}
	if m.duals {
		say(finding.ReasonDualsDiffer, v.Alike == finding.No)
		say(finding.ReasonDualsNotToldAlike, v.Alike != finding.No && v.Alike != finding.Yes)
	}
	for _, move := range m.Moves {
		t := v.at[move.From]
		say(finding.ReasonAgainstTheArrow, t.Directional == finding.Yes && move.reverses())
		say(finding.ReasonStuddedChangesSide, t.Studded == finding.Yes && move.reverses())
		say(finding.ReasonOutsideMarkIn, t.OutsideMark == finding.Yes && move.Turned)
	}
	if m.spare {
		v.spare(say)
	}
	for _, move := range m.Moves {
		for _, reason := range v.at[move.From].Against {
			say(reason, true)
		}
	}
	say(finding.ReasonNoKey, v.NoKey)
	say(finding.ReasonTooSoon, v.Last != nil && *v.Last < tooSoon())
	v.pairs(m, say)
	v.depths(m, say)
	say(finding.ReasonCauseFirst, len(v.Causes) > 0)
	slices.Sort(why) // whichever tire brought a reason up first
	return why
}

// differ tells that two tires on the road are told to differ.
func (v vehicle) differ(by func(Tire) string) bool {
	first := ""
	for _, p := range v.Layout.Positions() {
		told := by(v.at[p])
		if told == "" {
			continue
		}
		if first != "" && told != first {
			return true
		}
		first = told
	}
	return false
}

// twoSizes tells that the tires on the road are of two sizes, or that the door label
// asks for another one on each axle where the tires' own are not all told.
func (v vehicle) twoSizes() bool {
	if v.differ(func(t Tire) string { return t.Size }) {
		return true
	}
	for _, p := range v.Layout.Positions() {
		if v.at[p].Size == "" && len(v.Layout.Axles) == 2 {
			return v.Layout.Axles[0].Size != v.Layout.Axles[1].Size
		}
	}
	return false
}

// spare: one that does not match or is older stays out of the cycle. Of a tire that hung unused its age decides, so it has to be told.
func (v vehicle) spare(say func(finding.Reason, bool)) {
	s := v.at[layout.Position{Spare: true}]
	say(finding.ReasonSpareDoesNotMatch, v.Spare != finding.Yes)
	oldest, told := 0.0, s.Made > 0
	for _, p := range v.Layout.Positions() {
		told = told && v.at[p].Made > 0
		oldest = max(oldest, v.at[p].Made)
	}
	say(finding.ReasonSpareAgeNotTold, !told)
	say(finding.ReasonSpareOlder, told && s.Made-oldest > spareMayBeOlder)
}

// pairs: no map may put two tires together, on an axle or as duals, that differ by
// more than the two of one axle may (common practice).
func (v vehicle) pairs(m Map, say func(finding.Reason, bool)) {
	for _, p := range v.Layout.Positions() {
		other := p.Mate()
		if p.Dual == layout.Single {
			other = p.Mirror()
		}
		a, b := v.after(m, p), v.after(m, other)
		before := a.At.Mate() == b.At || a.At.Mirror() == b.At // they ran as a pair already
		if a.Depth != nil && b.Depth != nil && !before {
			say(finding.ReasonMakesPairUneven, a.Mean-b.Mean > limit("axle-pair"))
		}
	}
}

// after is the tire that a map brings to a position.
func (v vehicle) after(m Map, p layout.Position) Tire {
	for _, move := range m.Moves {
		if move.To == p {
			return v.at[move.From]
		}
	}
	return v.at[p]
}

// depths: no map may leave the shallower pair on the rear with any of its tires
// at or under 4/32 in, or more than 3/32 in under the front pair (common
// practice). Then the worn pair is replaced, the deeper pair goes to the rear.
func (v vehicle) depths(m Map, say func(finding.Reason, bool)) {
	read := true
	for _, move := range m.Moves {
		t := v.at[move.From]
		read = read && t.Depth != nil
		say(finding.ReasonReplaceFirst, v.worn(t))
	}
	if !read {
		say(finding.ReasonDepthNotRead, m.changesAxle())
		return
	}
	if !m.changesAxle() {
		return
	}
	front, _ := v.axle(m, 1)
	rear, least := v.axle(m, 2)
	wet, below := shallow(front, rear, least)
	say(finding.ReasonShallowPairToRear, wet)
	say(finding.ReasonRearTooFarBelowFront, below)
}

// worn tells that a tire is out where it is.
func (v vehicle) worn(t Tire) bool { return t.Finished || t.Depth != nil && t.Depth.Of <= v.Out }

// axle gives the mean depth of an axle's tires once a map is carried out, and
// their lowest reading.
func (v vehicle) axle(m Map, n int) (mean, least unit.Depth) {
	var count unit.Depth
	for _, p := range v.Layout.Positions() {
		if p.Axle != n {
			continue
		}
		t := v.after(m, p)
		if count == 0 || t.Depth.Of < least {
			least = t.Depth.Of
		}
		mean += t.Mean
		count++
	}
	return mean / count, least
}

// warnings are what to know of a map that nothing stands against.
func (v vehicle) warnings(m Map) (out []Warning) {
	var noisy []layout.Position
	for _, move := range m.Moves {
		if v.at[move.From].Noisy && v.Layout.Front(move.From) && move.To.Axle == 2 {
			noisy = append(noisy, move.From)
		}
	}
	if len(noisy) > 0 {
		out = append(out, Warning{finding.ReasonStaysNoisy, noisy})
	}
	if m.changesAxle() || !v.allRead() || len(v.Layout.Axles) != 2 || v.Layout.Class == layout.Trailer {
		return out
	}
	front, _ := v.axle(m, 1)
	rear, least := v.axle(m, 2)
	if wet, below := shallow(front, rear, least); wet || below {
		var at []layout.Position
		for _, p := range v.Layout.Positions() {
			if p.Axle == 2 {
				at = append(at, p)
			}
		}
		out = append(out, Warning{finding.ReasonRearPairShallower, at})
	}
	return out
}

func (v vehicle) allRead() bool {
	return !slices.ContainsFunc(v.Layout.Positions(), func(p layout.Position) bool { return v.at[p].Depth == nil })
}

// open lists the questions whose answer decides between maps that nothing else stands
// against.
func (v vehicle) open(plans []Plan) (ask []finding.Question) {
	for _, p := range plans {
		if slices.Equal(p.WhyNot, []finding.Reason{finding.ReasonDriveNotTold}) {
			ask = append(ask, finding.AskRotationDrive)
		}
		if !p.Allowed() {
			continue
		}
		for _, move := range p.Map.Moves {
			if move.reverses() && v.at[move.From].Directional == finding.NotAsked {
				ask = append(ask, finding.AskRotationArrow)
			}
			if move.reverses() && v.at[move.From].Studded == finding.NotAsked {
				ask = append(ask, finding.AskRotationStudded)
			}
		}
	}
	slices.Sort(ask)
	return slices.Compact(ask)
}
