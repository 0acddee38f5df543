package verdict

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// unrecorded asks, where the depths of the last visit and of this one are told
// best by tires that changed places, whether somebody moved them. What is on
// record since, and what was answered, is not asked again. It tells whether the
// tires' places between the two visits are in doubt.
func (j *judging) unrecorded() bool {
	if len(j.v.Rotating.Before) == 0 || j.v.Rotating.ChangedWithin(0, j.v.Rotating.Before[0].Ago) {
		return false
	}
	if answer := j.v.Rotating.Moved; answer == finding.Yes || answer == finding.No {
		return answer == finding.Yes
	}
	last := j.v.Rotating.Before[0]
	two := rotation.Two{Run: last.Ago, Recorded: map[layout.Position]layout.Position{}}
	for _, w := range j.v.Wheels {
		r, ok := j.tread[w.Position]
		from, known := last.PlaceOf(j.v.Rotating.Tires[w.Position].ID, w.Position)
		if !ok || len(r.Summary.Cells) == 0 || !known {
			continue
		}
		was, read := tread.Summarize(tread.Wheel{Position: from, Readings: last.At(from).Readings, Gauge: last.Gauge})
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
	f := finding.Finding{Code: finding.RotationUnrecorded, Urgency: finding.Note, Positions: at, ToSettle: finding.SettleAskMovedUnrecorded, Evidence: []finding.Evidence{
		{Code: finding.FactRotationOdds, Amount: unit.Amount{Number: found.OddsToOne(), Unit: unit.Count}},
	}}
	if m, named := found.MapOf(); named && found.Unique {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: m.Told})
	} else if !found.Unique {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactRotationOtherMapExplainsToo})
	}
	j.out.Rotation.Unrecorded = &f
	j.find(f)
	if j.v.Rotating.Moved == finding.NotAsked {
		j.ask(finding.AskMovedUnrecorded, at...)
	}
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

// stays are what the tires lost at each place: between visits between which none was
// moved, or, where those do not tell of every place, since they were new. inDoubt
// leaves out what lies after the last visit.
func (j *judging) stays(inDoubt bool) []rotation.Stay {
	now := visit.DepthsBefore{Gauge: j.v.DepthGauge}
	for _, w := range j.v.Wheels {
		now.Wheels = append(now.Wheels, visit.DepthsAt{Position: w.Position, Tire: j.v.Rotating.Tires[w.Position].ID, Readings: w.Depths})
	}
	visits := slices.Concat([]visit.DepthsBefore{now}, j.v.Rotating.Before)
	var stays []rotation.Stay
	told := map[layout.Position]bool{}
	for i := 1; i < len(visits); i++ {
		later, sooner := visits[i-1], visits[i]
		if i == 1 && inDoubt || j.v.Rotating.ChangedWithin(later.Ago, sooner.Ago) {
			continue
		}
		for _, w := range later.Wheels {
			if from, known := sooner.PlaceOf(w.Tire, w.Position); !known || from != w.Position || w.Position.Spare {
				continue
			}
			is, okI := tread.Summarize(tread.Wheel{Readings: w.Readings, Gauge: later.Gauge})
			was, okW := tread.Summarize(tread.Wheel{Readings: sooner.At(w.Position).Readings, Gauge: sooner.Gauge})
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
