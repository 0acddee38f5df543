package questions

import (
	"cmp"
	"regexp"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
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
	Airs     Airs
	Repairs  []Repair
}

// RotationAnswer compares the maps. Found by it is only why none of them is offered.
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
		Out: rulebook.Must("advice").Limit("wear-bars").Depth(), Causes: in.Causes, NoKey: in.Rotating.NoKey, Last: in.Rotating.LastChange(),
	}
	for _, w := range in.Wheels {
		v.Tires = append(v.Tires, in.tire(w))
		if r, ok := in.Treads[w.Position]; ok && r.BarLimit.ID != "" {
			v.Out = r.BarLimit.Depth()
		}
	}
	out.Result = rotation.For(v)
	out.Map = out.Result.Recommended().Map
	if in.Due && len(out.Map.Moves) == 0 {
		out.refuse(in.Vehicle)
	}
	days := []trend.Point{{Day: in.Day}}
	for _, b := range in.Rotating.Before {
		days = append(days, trend.Point{Run: -b.Ago, Day: b.Day})
	}
	if pace, ok := trend.PaceOf(days); ok {
		out.Pace = &pace
	}
	return out
}

// refuse says why no map is offered though a rotation is due.
func (a *RotationAnswer) refuse(v layout.Vehicle) {
	var why []finding.Evidence
	for _, p := range a.Result.Plans {
		if slices.Contains(p.WhyNot, finding.ReasonOtherDrive) {
			continue
		}
		for _, r := range p.WhyNot {
			if e := (finding.Evidence{Code: finding.Refused[r]}); e.Code != "" && !slices.Contains(why, e) {
				why = append(why, e)
			}
		}
	}
	if len(why) == 0 {
		return
	}
	slices.SortFunc(why, func(x, y finding.Evidence) int { return cmp.Compare(x.Code, y.Code) })
	a.find(finding.Finding{Code: finding.RotationRefused, Urgency: finding.Note, Positions: v.Positions(), Rule: practice, Evidence: why})
}

// against is why neither a tire nor its wheel goes to another place now.
func (in RotationIn) against(w visit.Wheel) (why []finding.Reason) {
	say := func(r finding.Reason, holds bool) {
		if holds && !slices.Contains(why, r) {
			why = append(why, r)
		}
	}
	for _, o := range w.Observations {
		k := finding.KindOf(finding.ObservationOf(o.Kind).Means)
		say(finding.ReasonTireHurt, k.Of == finding.OfTire && k.Urgency != finding.UrgencyNotTold && k.Urgency <= finding.ThisVisit && k.Code != finding.TreadWornToBars)
		say(finding.ReasonWheelFirst, k.Of == finding.OfPlace && k.Urgency == finding.BeforeDriving)
	}
	air := in.Airs.Results[w.Position]
	say(finding.ReasonMayHaveRunLow, air.Has(finding.InflationFlat) || air.Has(finding.InflationRunLow) || air.Has(finding.InflationRunLowUndecided))
	say(finding.ReasonRepairOpen, slices.ContainsFunc(in.Repairs, func(r Repair) bool { return r.Position == w.Position && r.Result.Answer != puncture.NoInjury }))
	say(finding.ReasonTemporarySpare, !w.Position.Spare && w.Tire.Marking.Class == sidewall.TemporarySpare)
	return why
}

var builds = regexp.MustCompile(`\dZ?([RBD])F?\d{2}`)

// tire gives a tire as package rotation judges it.
func (in RotationIn) tire(w visit.Wheel) rotation.Tire {
	told := in.Rotating.Tires[w.Position]
	t := rotation.Tire{
		At: w.Position, Size: sizeOf(w), Made: w.Tire.Age.Number,
		Directional: told.Directional, Studded: told.Studded, OutsideMark: told.OutsideMark,
		Noisy:    w.Has(finding.ObservedScalloped, finding.ObservedEdgeWornSmooth, finding.ObservedEdgeRounded, finding.ObservedFeathered, finding.ObservedFeatheredSharpTowardVehicle, finding.ObservedFeatheredSharpAway, finding.ObservedHeelAndToe, finding.ObservedDiagonalDips),
		Finished: in.Scrapped[w.Position], Against: in.against(w),
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
