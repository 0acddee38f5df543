package questions

import (
	"slices"
	"strings"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// MovedIn is what was read of the treads today and at the visits before.
type MovedIn struct {
	Rotating visit.Rotating
	Wheels   []visit.Wheel
	Treads   Treads
}

// MovedAnswer is whether tires changed places without a record.
type MovedAnswer struct {
	Answer
	Unrecorded *finding.Finding // a rotation that the depths show and nobody recorded
	InDoubt    bool             // the tires' places between the last visit and this one
}

// Moved asks, where the depths of the last visit and of this one are told
// best by tires that changed places, whether somebody moved them. What is on
// record since, and what was answered, is not asked again.
func Moved(in MovedIn) (out MovedAnswer) {
	if len(in.Rotating.Before) == 0 || in.Rotating.ChangedWithin(0, in.Rotating.Before[0].Ago) {
		return out
	}
	if answer := in.Rotating.Moved; answer == finding.Yes || answer == finding.No {
		out.InDoubt = answer == finding.Yes
		return out
	}
	found, ok := rotation.Find(in.two())
	if !ok || !found.Asked() {
		return out
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
	out.Unrecorded, out.InDoubt = &f, true
	out.find(f)
	if in.Rotating.Moved == finding.NotAsked {
		out.ask(finding.AskMovedUnrecorded, at...)
	}
	return out
}

// two are the depths of the last visit and of this one.
func (in MovedIn) two() rotation.Two {
	last := in.Rotating.Before[0]
	two := rotation.Two{Run: last.Ago, Recorded: map[layout.Position]layout.Position{}}
	for _, w := range in.Wheels {
		r, ok := in.Treads.read(w.Position)
		from, known := last.PlaceOf(in.Rotating.Tires[w.Position].ID, w.Position)
		if !ok || !known {
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
	return two
}

// across is a tread as far as two visits can be compared: inboard, center and
// outboard where they are told, else the mean.
func across(s tread.Summary) []measure.Value[unit.Depth] {
	if in, mid, out, ok := s.Edges(); ok {
		return []measure.Value[unit.Depth]{in, mid, out}
	}
	return []measure.Value[unit.Depth]{s.Mean}
}

// sizeOf is a tire's size and service description, however it was spaced.
func sizeOf(w visit.Wheel) string {
	return strings.ToUpper(strings.Join(strings.Fields(w.Tire.Size), ""))
}
