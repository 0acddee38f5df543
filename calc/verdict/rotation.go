package verdict

import (
	"regexp"
	"slices"
	"strings"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sensor"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/wear"
)

// Rotating is what bears on changing the tires' places beside what the visit read.
type Rotating struct {
	Tires   map[layout.Position]Turning
	Spare   finding.Answer   // Yes: one is carried, of the size and design of the others; No: one that does not match
	Alike   finding.Answer   // of a dual rear: all six tires are of one design, and their wheels interchange
	Every   unit.Amount      // distance between rotations by the vehicle maker; zero when not told
	Before  []DepthsBefore   // found at earlier visits whose odometer is known, the latest first
	Changed []*unit.Distance // how long ago tires were moved or exchanged, by the record; nil: not known
}

// Turning is what decides which way round a tire may run.
type Turning struct {
	ID          string // of the tire, "" when not told
	Directional finding.Answer
	Studded     finding.Answer
	OutsideMark finding.Answer
}

// DepthsBefore are the depths found at an earlier visit.
type DepthsBefore struct {
	Ago    unit.Distance // on the odometer
	Gauge  measure.Gauge[unit.Depth]
	Wheels []DepthsAt
}

// DepthsAt are the depths of one wheel at an earlier visit.
type DepthsAt struct {
	Position layout.Position
	Tire     string // its id, "" when not told
	Readings []tread.Reading
}

// Rotation is what is said of the tires' places.
type Rotation struct {
	Result     rotation.Result
	Unrecorded *finding.Finding // a rotation that the depths show and nobody recorded
}

// Lines of work that follow a rotation.
const (
	setNewPlace finding.Code = "rotation.set-pressures"
	checkArrows finding.Code = "rotation.check-arrows"
)

// rotate compares the maps, and looks for a rotation that nobody recorded.
func (j *judging) rotate() {
	lost := j.unrecorded()
	in := rotation.Vehicle{
		Layout: j.v.Vehicle, Spare: j.v.Rotating.Spare, Alike: j.v.Rotating.Alike, Rates: rotation.Rates(j.stays(lost)),
		Out: rulebook.Must("advice").Limit("wear-bars").Depth(),
	}
	for _, w := range j.v.Wheels {
		in.Tires = append(in.Tires, j.rotatingTire(w))
		if r, ok := j.tread[w.Position]; ok && r.BarLimit.ID != "" {
			in.Out = r.BarLimit.Depth()
		}
	}
	for _, f := range j.out.Findings {
		if uncured(f) {
			in.Causes = append(in.Causes, rotation.Cause{Code: f.Code, At: f.Positions})
		}
	}
	j.out.Rotation.Result = rotation.For(in)
}

var builds = regexp.MustCompile(`\dZ?([RBD])F?\d{2}`)

// sizeOf is a tire's size and service description, however it was spaced.
func sizeOf(w Wheel) string { return strings.ToUpper(strings.Join(strings.Fields(w.Tire.Size), "")) }

func (j *judging) rotatingTire(w Wheel) rotation.Tire {
	told := j.v.Rotating.Tires[w.Position]
	t := rotation.Tire{
		At: w.Position, Size: sizeOf(w), Made: w.Tire.Age.Number,
		Directional: told.Directional, Studded: told.Studded, OutsideMark: told.OutsideMark,
		Noisy:    w.has("scalloped", "edge-worn-smooth", "edge-rounded", "feathered", "feathered-sharp-toward-vehicle", "feathered-sharp-away", "heel-and-toe", "diagonal-dips"),
		Finished: j.finished[w.Position],
	}
	if m := builds.FindStringSubmatch(t.Size); m != nil {
		t.Construction = m[1]
	}
	if r, ok := j.tread[w.Position]; ok && len(r.Summary.Cells) > 0 {
		t.Depth, t.Mean = &r.Summary.Reading, r.Summary.Mean.Of
		t.Finished = t.Finished || r.WornOut || r.BelowLaw
	}
	return t
}

// uncured tells that a finding is a cause of wear that a rotation would hide or
// carry to another place.
func uncured(f finding.Finding) bool {
	switch f.Code {
	case wear.ToeIn, wear.ToeOut, wear.CamberNegative, wear.CamberPositive, wear.AxleNotSquare, wear.OneCorner:
		return f.Rank == 1
	case wear.EdgeBeyondGrooves, wear.DiagonalDips, wear.Scalloped, wear.NotRound, wear.FlatSpot, wear.FlatSpotLocked,
		wear.DifferentTire, wear.OneTireFaster:
		return true
	}
	return false
}

// After is what has to follow a map on the vehicle of a visit, in order: the label's
// pressure of each new place, torque, sensors, arrows, and the torque re-check that
// is owed.
func After(v Visit, m rotation.Map) []Work {
	if len(m.Moves) == 0 {
		return nil
	}
	j := &judging{v: v}
	var all []layout.Position
	for _, move := range m.Moves {
		all = append(all, move.To)
	}
	slices.SortFunc(all, layout.Position.Compare)
	var lines workList
	for _, p := range all {
		label, u := j.label(p)
		w := Work{Code: setNewPlace, Positions: []layout.Position{p}, Caution: inflation.CautionAddingAir}
		if label > 0 {
			w.Target = label.Amount(u).Rounded()
		}
		lines.add(w)
	}
	road := slices.DeleteFunc(slices.Clone(all), func(p layout.Position) bool { return p.Spare })
	lines = append(lines, Work{Code: torqueWheel, Positions: road, Target: j.v.Torque, Caution: cautionWheel})
	switch j.v.Monitoring {
	case sensor.None:
	case sensor.Indirect:
		lines = append(lines, Work{Code: resetSystem})
	default:
		lines = append(lines, Work{Code: relearnSensors})
	}
	lines = append(lines, Work{Code: checkArrows, Positions: all})
	advice := rulebook.Must("advice")
	lines = append(lines, Work{Code: recheckTorque, Positions: road, Target: j.v.Torque, Caution: cautionWheel,
		DueFrom: advice.Limit("torque-recheck-from").Value, DueBy: advice.Limit("torque-recheck-by").Value})
	for i := range lines {
		k := slices.IndexFunc(steps, func(s struct {
			code finding.Code
			step int
		}) bool {
			return s.code == lines[i].Code
		})
		lines[i].Step, lines[i].Urgency = steps[k].step, finding.Plan
	}
	return lines
}

// offerRotation: where one is overdue, the recommended map is offered.
func (j *judging) offerRotation() {
	for _, f := range j.out.Findings {
		if f.Code != wear.RotationMissed {
			continue
		}
		m := j.out.Rotation.Result.Recommended().Map
		if len(m.Moves) == 0 {
			return
		}
		every := rulebook.Must("advice").Limit("rotation-every").Value
		if !j.v.Rotating.Every.IsZero() {
			every = j.v.Rotating.Every
		}
		at := slices.Clone(f.Positions)
		for _, move := range m.Moves {
			if !slices.Contains(at, move.From) {
				at = append(at, move.From)
			}
		}
		j.work.add(Work{Code: rotateTires, Urgency: finding.Plan, Positions: at, Target: every, Map: m, Condition: "when.cause-understood-and-agreed"})
	}
}

// unrecorded asks, where the depths of the last visit and of this one are told
// best by tires that changed places, whether somebody moved them. What is on
// record since is not asked again. It tells whether the tires' places between the
// two visits are in doubt.
func (j *judging) unrecorded() bool {
	if len(j.v.Rotating.Before) == 0 || j.changedWithin(0, j.v.Rotating.Before[0].Ago) {
		return false
	}
	last := j.v.Rotating.Before[0]
	two := rotation.Two{Run: last.Ago, Recorded: map[layout.Position]layout.Position{}}
	for _, w := range j.v.Wheels {
		r, ok := j.tread[w.Position]
		from, known := last.placeOf(j.v.Rotating.Tires[w.Position].ID, w.Position)
		if !ok || len(r.Summary.Cells) == 0 || !known {
			continue
		}
		was, read := tread.Summarize(tread.Wheel{Position: from, Readings: last.at(from).Readings, Gauge: last.Gauge})
		if !read {
			continue
		}
		two.Recorded[w.Position] = from
		two.Now = append(two.Now, rotation.Seen{At: w.Position, Size: sizeOf(w), Across: across(r.Summary)})
		two.Before = append(two.Before, rotation.Seen{At: from, Across: across(was)})
	}
	for i := range two.Before { // what is written on a tire does not change
		k := slices.IndexFunc(two.Now, func(s rotation.Seen) bool { return two.Recorded[s.At] == two.Before[i].At })
		two.Before[i].Size = two.Now[k].Size
	}
	found, ok := rotation.Find(two)
	if !ok || !found.Asked() {
		return false
	}
	var at []layout.Position
	for _, m := range found.Moves {
		at = append(at, m.To)
	}
	slices.SortFunc(at, layout.Position.Compare)
	f := finding.Finding{Code: rotation.Moved, Urgency: finding.Note, Positions: at, ToSettle: rotation.AskMoved, Evidence: []finding.Evidence{
		{Code: rotation.OddsOf, Amount: unit.Amount{Number: found.OddsToOne(), Unit: unit.Count}},
	}}
	if m, named := found.MapOf(); named && found.Unique {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.Code("map." + m.ID)})
	} else if !found.Unique {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: rotation.OtherMapToo})
	}
	j.out.Rotation.Unrecorded = &f
	j.find(f)
	j.ask(rotation.AskMoved, at...)
	return true
}

// across is a tread as far as two visits can be compared: inboard, center and
// outboard where they are told, else the mean.
func across(s tread.Summary) []measure.Value[unit.Depth] {
	if in, mid, out, ok := s.Edges(); ok {
		return []measure.Value[unit.Depth]{in, mid, out}
	}
	return []measure.Value[unit.Depth]{s.Mean}
}

// changedWithin tells that tires were moved or exchanged, by the record, at or after
// the one distance ago and not after the other; a change of which the time is not
// known may have been then.
func (j *judging) changedWithin(until, from unit.Distance) bool {
	return slices.ContainsFunc(j.v.Rotating.Changed, func(ago *unit.Distance) bool { return ago == nil || *ago >= until && *ago <= from })
}

func (d DepthsBefore) at(p layout.Position) DepthsAt {
	i := slices.IndexFunc(d.Wheels, func(w DepthsAt) bool { return w.Position == p })
	if i < 0 {
		return DepthsAt{}
	}
	return d.Wheels[i]
}

// placeOf gives where the tire of a position was, by its id; without an id on either
// side, where it is. known is false for a tire that was not there.
func (d DepthsBefore) placeOf(id string, p layout.Position) (from layout.Position, known bool) {
	if id == "" || !slices.ContainsFunc(d.Wheels, func(w DepthsAt) bool { return w.Tire != "" }) {
		return p, len(d.at(p).Readings) > 0
	}
	i := slices.IndexFunc(d.Wheels, func(w DepthsAt) bool { return w.Tire == id })
	if i < 0 {
		return p, false
	}
	return d.Wheels[i].Position, true
}

// stays are what the tires lost at each place: between visits between which none was
// moved, or, where those do not tell of every place, since they were new. inDoubt
// leaves out what lies after the last visit.
func (j *judging) stays(inDoubt bool) []rotation.Stay {
	now := DepthsBefore{Gauge: j.v.DepthGauge}
	for _, w := range j.v.Wheels {
		now.Wheels = append(now.Wheels, DepthsAt{w.Position, j.v.Rotating.Tires[w.Position].ID, w.Depths})
	}
	visits := slices.Concat([]DepthsBefore{now}, j.v.Rotating.Before)
	var stays []rotation.Stay
	told := map[layout.Position]bool{}
	for i := 1; i < len(visits); i++ {
		later, sooner := visits[i-1], visits[i]
		if i == 1 && inDoubt || j.changedWithin(later.Ago, sooner.Ago) {
			continue
		}
		for _, w := range later.Wheels {
			if from, known := sooner.placeOf(w.Tire, w.Position); !known || from != w.Position || w.Position.Spare {
				continue
			}
			is, okI := tread.Summarize(tread.Wheel{Readings: w.Readings, Gauge: later.Gauge})
			was, okW := tread.Summarize(tread.Wheel{Readings: sooner.at(w.Position).Readings, Gauge: sooner.Gauge})
			if okI && okW {
				stays = append(stays, rotation.Stay{At: w.Position, Run: sooner.Ago - later.Ago, Lost: was.Reading.Minus(is.Reading)})
				told[w.Position] = true
			}
		}
	}
	if slices.ContainsFunc(j.v.Vehicle.Positions(), func(p layout.Position) bool { return !told[p] }) {
		return j.sinceNew()
	}
	return stays
}

// sinceNew are the losses of tires that ran nowhere else, from the new depth of their
// design, which is taken for as sure as a reading.
func (j *judging) sinceNew() []rotation.Stay {
	var stays []rotation.Stay
	for _, w := range j.v.Wheels {
		r, ok := j.tread[w.Position]
		h := w.History
		if !ok || len(r.Summary.Cells) == 0 || w.Position.Spare || h.OnTire == nil || h.Here == nil || *h.Here != *h.OnTire {
			continue
		}
		whenNew, known := tread.Wheel{New: w.Tire.New}.NewAt(r.Summary.Governing.Column)
		if !known {
			continue
		}
		stays = append(stays, rotation.Stay{At: w.Position, Run: *h.OnTire, Lost: j.v.DepthGauge.Read(whenNew).Minus(r.Summary.Reading)})
	}
	return stays
}
