package wear

import (
	"cmp"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

// Result is what is said about the wear of a vehicle.
type Result struct {
	Findings []finding.Finding
	Even     []layout.Position // read across, and no shape called
	Unread   []layout.Position // not read across: no shape can be told
}

// Judge finds the wear shapes of a vehicle's tires and ranks their causes. The
// order of tires and of work changes nothing.
func Judge(v Vehicle) Result {
	j := &judge{Vehicle: v, spots: map[layout.Position]depth{}}
	j.Tires = slices.DeleteFunc(slices.Clone(v.Tires), func(t Tire) bool { return t.At.Spare })
	slices.SortFunc(j.Tires, func(a, b Tire) int { return a.At.Compare(b.At) })
	for i := range j.Tires {
		j.prepare(&j.Tires[i])
	}
	j.prove()
	for _, t := range j.Tires {
		j.round(t)
		j.edges(t)
		j.marks(t)
		j.former(t)
	}
	j.flatSpots()
	for i := range j.Layout.Axles {
		j.axle(i + 1)
	}
	j.undecided()
	j.newPattern()
	j.oddTires()
	j.driven()
	j.rotation()
	j.tally()
	j.once()
	return j.Result
}

// judge gathers the result.
type judge struct {
	Vehicle
	Result
	spots map[layout.Position]depth // flat spots with their drop, zero when only seen or felt
}

func (j *judge) add(fs ...finding.Finding) { j.Findings = append(j.Findings, fs...) }

func (j *judge) spotted(t Tire) bool { _, ok := j.spots[t.At]; return ok }

// prepare sets a flat spot apart, leaves a shape without a position where the
// tire has not run long enough or could not wear, and turns a tire round as it
// was when its shape was made.
func (j *judge) prepare(t *Tire) {
	if station, drop, ok := t.lowRing(j.Gauge); ok {
		j.spots[t.At] = drop
		setApart(t, station, j.Gauge)
	} else if t.Felt.FlatSpot {
		j.spots[t.At] = depth{}
	}
	if t.recent() && t.Wore == t.At || t.Wore.Spare || j.Layout.Has(t.Wore) != nil {
		t.Wore = layout.Position{}
	}
	if t.Turned = t.Turned && t.Wore != t.At; !t.Turned {
		return
	}
	if t.Across != nil {
		t.Across = &[3]depth{t.Across[2], t.Across[1], t.Across[0]}
	}
	if t.New != nil {
		t.New = &[3]unit.Depth{t.New[2], t.New[1], t.New[0]}
	}
	t.Felt.SharpToward, t.Felt.SharpAway = t.Felt.SharpAway, t.Felt.SharpToward
}

// axle judges the tires whose wear was made on one axle.
func (j *judge) axle(n int) {
	var tires []Tire
	for _, t := range j.Tires {
		if t.Wore.Axle == n {
			tires = append(tires, t)
		}
	}
	j.oneEdge(n, tires)
	j.feathered(n, tires)
	j.crowns(n, tires)
}

// mate is the tire that wore at the other end of the axle: on duals the inner
// one's is the other inner one. nil when there is none.
func (j *judge) mate(t Tire) *Tire {
	if own := j.woreAt(t.Wore); own == nil || own.At != t.At {
		return nil
	}
	return j.woreAt(t.Wore.Mirror())
}

// woreAt is the tire that wore at a position. Of several, which only a record
// with a gap can tell, it is the one that is still there; else nobody knows.
func (j *judge) woreAt(p layout.Position) (wore *Tire) {
	several := false
	for i := range j.Tires {
		switch t := &j.Tires[i]; {
		case t.Wore != p:
		case t.At == p:
			return t
		default:
			several = several || wore != nil
			wore = t
		}
	}
	if several {
		return nil
	}
	return wore
}

// edges: grooves end before the edge of the tread does, so an edge may be gone
// while every groove is deep.
func (j *judge) edges(t Tire) {
	f := seen(finding.WearEdgeBeyondGrooves, finding.SettleAlignmentRack, finding.Plan, t.At)
	switch t.EdgeGone {
	case [2]bool{}:
		return
	case [2]bool{true, false}:
		f.Place.Across = layout.Inboard
	case [2]bool{false, true}:
		f.Place.Across = layout.Outboard
	}
	j.add(f)
}

// once: what causes two shapes of the same tires is said once, by the shape of which it
// is likelier, with what speaks for and against it by either.
func (j *judge) once() {
	var all []finding.Finding
	for _, f := range j.Findings {
		i := slices.IndexFunc(all, func(g finding.Finding) bool { return g.ID() == f.ID() })
		if i < 0 {
			all = append(all, f)
			continue
		}
		likelier, other := all[i], f
		if cmp.Or(cmp.Compare(other.Urgency, likelier.Urgency), cmp.Compare(other.Rank, likelier.Rank), cmp.Compare(likelier.Measured.Number, other.Measured.Number)) < 0 {
			likelier, other = other, likelier
		}
		likelier.Evidence = slices.Clone(likelier.Evidence)
		for _, e := range other.Evidence {
			if !slices.ContainsFunc(likelier.Evidence, func(o finding.Evidence) bool { return o.Code == e.Code }) {
				likelier.Evidence = append(likelier.Evidence, e)
			}
		}
		all[i] = likelier
	}
	j.Findings = all
}

func (j *judge) marks(t Tire) {
	if t.Felt.HeelAndToe {
		j.add(seen(finding.WearHeelAndToe, "", finding.Note, t.At))
	}
	if t.Felt.Diagonal {
		j.add(seen(finding.WearDiagonalDips, finding.SettleAlignmentRack, finding.Plan, t.At))
	}
}

// former tells that a shape came with the tire from another position: of an
// unknown one, the shape is named and blamed on no axle.
func (j *judge) former(t Tire) {
	felt := t.Felt.Scalloped || t.Felt.Diagonal || t.Felt.HeelAndToe || t.Felt.SharpToward || t.Felt.SharpAway || t.Felt.Feathered
	if t.Wore == t.At || !felt && !t.tilted() && (!t.crowned() || j.molded(t)) {
		return
	}
	f := seen(finding.WearMadeAtFormerPosition, "", finding.Note, t.At)
	if t.Here != nil {
		f.Evidence = append(f.Evidence, miles(finding.FactWearMilesHere, *t.Here))
	}
	if t.Wore == (layout.Position{}) {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactWearFormerPositionNotRecorded})
	}
	j.add(f)
}

// newPattern: center and edges differ on tires that have hardly worn: that is
// the mold's.
func (j *judge) newPattern() {
	var at []layout.Position
	for _, t := range j.Tires {
		if t.center != none && j.molded(t) {
			at = append(at, t.At)
		}
	}
	if len(at) > 0 {
		j.add(seen(finding.WearNoPatternNew, "", finding.Note, at...))
	}
}

func (j *judge) tally() {
	for _, t := range j.Tires {
		switch {
		case t.Across == nil:
			j.Unread = append(j.Unread, t.At)
		case t.even() && !j.spotted(t) && !slices.ContainsFunc(j.Findings, func(f finding.Finding) bool {
			return slices.Contains(f.Positions, t.At) && f.Urgency != finding.Note && f.Code != finding.WearRotationMissed
		}):
			j.Even = append(j.Even, t.At)
		}
	}
}
