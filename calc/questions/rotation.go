package questions

import (
	"regexp"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// RotationIn is what decides how the tires may change places.
type RotationIn struct {
	Vehicle  layout.Vehicle
	Rotating visit.Rotating
	Gauge    measure.Gauge[unit.Depth]
	Day      unit.Date // of the visit
	Wheels   []visit.Wheel
	Treads   Treads
	Causes   []rotation.Cause         // of wear, uncured
	Due      bool                     // a rotation is overdue
	Scrapped map[layout.Position]bool // the tire is done for, whatever its depth
	InDoubt  bool                     // the tires' places since the last visit
}

// RotationAnswer compares the maps. Nothing is found by it.
type RotationAnswer struct {
	Answer
	Result rotation.Result
	Map    rotation.Map // the one recommended; the zero map: none
	Pace   *trend.Pace  // how far the vehicle is driven in a day; nil when not known
}

// Rotation compares the maps where a rotation is due or they are asked for.
func Rotation(in RotationIn) (out RotationAnswer) {
	if !in.Rotating.Compare && !in.Due {
		return out
	}
	v := rotation.Vehicle{
		Layout: in.Vehicle, Spare: in.Rotating.Spare, Alike: in.Rotating.Alike, Rates: rotation.Rates(in.stays()),
		Out: rulebook.Must("advice").Limit("wear-bars").Depth(), Causes: in.Causes,
	}
	for _, w := range in.Wheels {
		v.Tires = append(v.Tires, in.tire(w))
		if r, ok := in.Treads[w.Position]; ok && r.BarLimit.ID != "" {
			v.Out = r.BarLimit.Depth()
		}
	}
	out.Result = rotation.For(v)
	out.Map = out.Result.Recommended().Map
	days := []trend.Point{{Day: in.Day}}
	for _, b := range in.Rotating.Before {
		days = append(days, trend.Point{Run: -b.Ago, Day: b.Day})
	}
	if pace, ok := trend.PaceOf(days); ok {
		out.Pace = &pace
	}
	return out
}

var builds = regexp.MustCompile(`\dZ?([RBD])F?\d{2}`)

// tire gives a tire as package rotation judges it.
func (in RotationIn) tire(w visit.Wheel) rotation.Tire {
	told := in.Rotating.Tires[w.Position]
	t := rotation.Tire{
		At: w.Position, Size: sizeOf(w), Made: w.Tire.Age.Number,
		Directional: told.Directional, Studded: told.Studded, OutsideMark: told.OutsideMark,
		Noisy:    w.Has(finding.ObservedScalloped, finding.ObservedEdgeWornSmooth, finding.ObservedEdgeRounded, finding.ObservedFeathered, finding.ObservedFeatheredSharpTowardVehicle, finding.ObservedFeatheredSharpAway, finding.ObservedHeelAndToe, finding.ObservedDiagonalDips),
		Finished: in.Scrapped[w.Position],
	}
	if m := builds.FindStringSubmatch(t.Size); m != nil {
		t.Construction = m[1]
	}
	if r, ok := in.Treads.read(w.Position); ok {
		t.Depth, t.Mean = &r.Summary.Reading, r.Summary.Mean.Of
		t.Finished = t.Finished || r.WornOut || r.BelowLaw
	}
	return t
}

// stays are what the tires lost at each place: between visits between which none was
// moved, or, where those do not tell of every place, since they were new. What
// lies after the last visit is left out where it is in doubt.
func (in RotationIn) stays() []rotation.Stay {
	now := visit.DepthsBefore{Gauge: in.Gauge}
	for _, w := range in.Wheels {
		now.Wheels = append(now.Wheels, visit.DepthsAt{Position: w.Position, Tire: in.Rotating.Tires[w.Position].ID, Readings: w.Depths})
	}
	visits := slices.Concat([]visit.DepthsBefore{now}, in.Rotating.Before)
	var stays []rotation.Stay
	told := map[layout.Position]bool{}
	for i := 1; i < len(visits); i++ {
		later, sooner := visits[i-1], visits[i]
		if i == 1 && in.InDoubt || in.Rotating.ChangedWithin(later.Ago, sooner.Ago) {
			continue
		}
		for _, w := range later.Wheels {
			if from, known := sooner.PlaceOf(w.Tire, w.Position); !known || from != w.Position || w.Position.Spare {
				continue
			}
			today, okI := tread.Summarize(tread.Wheel{Readings: w.Readings, Gauge: later.Gauge})
			was, okW := tread.Summarize(tread.Wheel{Readings: sooner.At(w.Position).Readings, Gauge: sooner.Gauge})
			if okI && okW {
				stays = append(stays, rotation.Stay{At: w.Position, Run: sooner.Ago - later.Ago, Lost: was.Reading.Minus(today.Reading)})
				told[w.Position] = true
			}
		}
	}
	if slices.ContainsFunc(in.Vehicle.Positions(), func(p layout.Position) bool { return !told[p] }) {
		return in.sinceNew()
	}
	return stays
}

// sinceNew are the losses of tires that ran nowhere else, from the new depth of their
// design, which is taken for as sure as a reading.
func (in RotationIn) sinceNew() []rotation.Stay {
	var stays []rotation.Stay
	for _, w := range in.Wheels {
		r, ok := in.Treads.read(w.Position)
		h := w.History
		if !ok || w.Position.Spare || h.OnTire == nil || h.Here == nil || *h.Here != *h.OnTire {
			continue
		}
		whenNew, known := tread.Wheel{New: w.Tire.New}.NewAt(r.Summary.Governing.Column)
		if !known {
			continue
		}
		stays = append(stays, rotation.Stay{At: w.Position, Run: *h.OnTire, Lost: in.Gauge.Read(whenNew).Minus(r.Summary.Reading)})
	}
	return stays
}
