package verdict

import (
	"math"
	"regexp"
	"slices"
	"strings"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sensor"
	"gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// Rotation is what is said of the tires' places.
type Rotation struct {
	Result     rotation.Result
	Unrecorded *finding.Finding // a rotation that the depths show and nobody recorded
	Pace       *trend.Pace      // how far the vehicle is driven in a day; nil when not known
}

// Days turns a gain into days: at the mean pace, and its interval with the least and
// the most driven in any month on record. Nil: no day can be told.
func (r Rotation) Days(g rotation.Gain) (at, low, high *int) {
	const lifetime = 30 * 365 // of a tire: nothing is told beyond it
	if r.Pace == nil {
		return nil, nil, nil
	}
	days := func(d *unit.Distance, gaining, losing unit.Distance, round func(float64) float64) *int {
		if d == nil {
			return nil
		}
		pace := gaining
		if *d < 0 {
			pace = losing
		}
		if pace <= 0 {
			return nil
		}
		n := round(float64(*d) / float64(pace))
		if math.Abs(n) > lifetime {
			return nil
		}
		whole := int(n)
		return &whole
	}
	return days(g.At, r.Pace.Mean, r.Pace.Mean, math.Round),
		days(g.Low, r.Pace.Fast, r.Pace.Slow, math.Floor), days(g.High, r.Pace.Slow, r.Pace.Fast, math.Ceil)
}

// rotate looks for a rotation that nobody recorded, and compares the maps where one is
// due or they are asked for.
func (j *judging) rotate() {
	lost := j.unrecorded()
	due := func(f finding.Finding) bool { return f.Code == finding.WearRotationMissed }
	if !j.v.Rotating.Compare && !slices.ContainsFunc(j.out.Findings, due) {
		return
	}
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
	days := []trend.Point{{Day: j.v.Day}}
	for _, b := range j.v.Rotating.Before {
		days = append(days, trend.Point{Run: -b.Ago, Day: b.Day})
	}
	if pace, ok := trend.PaceOf(days); ok {
		j.out.Rotation.Pace = &pace
	}
}

var builds = regexp.MustCompile(`\dZ?([RBD])F?\d{2}`)

// sizeOf is a tire's size and service description, however it was spaced.
func sizeOf(w visit.Wheel) string {
	return strings.ToUpper(strings.Join(strings.Fields(w.Tire.Size), ""))
}

func (j *judging) rotatingTire(w visit.Wheel) rotation.Tire {
	told := j.v.Rotating.Tires[w.Position]
	t := rotation.Tire{
		At: w.Position, Size: sizeOf(w), Made: w.Tire.Age.Number,
		Directional: told.Directional, Studded: told.Studded, OutsideMark: told.OutsideMark,
		Noisy:    w.Has(finding.ObservedScalloped, finding.ObservedEdgeWornSmooth, finding.ObservedEdgeRounded, finding.ObservedFeathered, finding.ObservedFeatheredSharpTowardVehicle, finding.ObservedFeatheredSharpAway, finding.ObservedHeelAndToe, finding.ObservedDiagonalDips),
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
	case finding.WearToeIn, finding.WearToeOut, finding.WearCamberNegative, finding.WearCamberPositive, finding.WearAxleNotSquare, finding.WearOneCorner:
		return f.Rank == 1
	case finding.WearEdgeBeyondGrooves, finding.WearDiagonalDips, finding.WearScalloped, finding.WearNotRound, finding.WearFlatSpot, finding.WearFlatSpotLockedWheel,
		finding.WearDifferentTire, finding.WearOneTireFaster:
		return true
	}
	return false
}

// After is what has to follow a map on the vehicle of a visit, in order: the label's
// pressure of each new place, torque, sensors, arrows, and the torque re-check that
// is owed.
func After(v visit.Visit, m rotation.Map) []Work {
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
		label, u := j.v.Labels().Cold(p)
		w := Work{Code: finding.WorkRotationSetPressures, Positions: []layout.Position{p}}
		if label > 0 {
			w.Target = label.Amount(u).Rounded()
		}
		lines.add(w)
	}
	road := slices.DeleteFunc(slices.Clone(all), func(p layout.Position) bool { return p.Spare })
	lines = append(lines, Work{Code: finding.WorkWheelTorque, Positions: road, Target: j.v.Torque})
	switch j.v.Monitoring {
	case sensor.None:
	case sensor.Indirect:
		lines = append(lines, Work{Code: finding.WorkSensorReset})
	default:
		lines = append(lines, Work{Code: finding.WorkSensorRelearn})
	}
	lines = append(lines, Work{Code: finding.WorkRotationCheckArrows, Positions: all})
	advice := rulebook.Must("advice")
	lines = append(lines, Work{Code: finding.WorkOwedTorqueRecheck, Positions: road, Target: j.v.Torque,
		DueFrom: advice.Limit("torque-recheck-from").Value, DueBy: advice.Limit("torque-recheck-by").Value})
	for i := range lines {
		k := finding.WorkOf(lines[i].Code)
		lines[i].Step, lines[i].Caution, lines[i].Urgency = k.Step, k.Caution, finding.Plan
	}
	return lines
}

// offerRotation: where one is overdue, the recommended map is offered.
func (j *judging) offerRotation() {
	for _, f := range j.out.Findings {
		if f.Code != finding.WearRotationMissed {
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
		j.work.add(Work{Code: finding.WorkTiresRotate, Urgency: finding.Plan, Positions: at, Target: every, Map: m, Condition: finding.WhenCauseUnderstoodAndAgreed})
	}
}
