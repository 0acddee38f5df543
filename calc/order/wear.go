package order

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sensor"
	"gaugebook.dev/calc/visit"
)

// made gives the positions where the shapes of these tires were made: what is
// wrong there is put right there, not where the tires are now.
func (in In) made(at []layout.Position) (ps []layout.Position) {
	for _, p := range at {
		if former := in.Facts.Wear.Wore[p]; !former.Spare && in.Visit.Vehicle.Has(former) == nil {
			p = former
		}
		if !slices.Contains(ps, p) {
			ps = append(ps, p)
		}
	}
	return ps
}

// wear is what the likeliest causes call for. Alignment comes last of all,
// on the tires that stay.
func (in In) wear() (all []Work) {
	for _, f := range in.Findings {
		asked, leads, made := len(all), f.Rank == 1, func() []layout.Position { return in.made(f.Positions) }
		settle := Work{Code: finding.WorkMeasureToSettle, Positions: f.Positions, Settle: f.ToSettle}
		switch f.Code {
		case finding.WearToeIn, finding.WearToeOut, finding.WearCamberNegative, finding.WearCamberPositive, finding.WearAxleNotSquare:
			if leads {
				all = append(all, do(finding.WorkAlignmentCheck, made()...)...)
			}
			if leads && (f.ToSettle == finding.SettleFeelRibs || f.ToSettle == finding.SettleReadMateAcross) {
				all = append(all, settle)
			}
		case finding.WearEdgeBeyondGrooves, finding.WearDiagonalDips:
			all = append(all, do(finding.WorkAlignmentCheck, made()...)...)
		case finding.WearOneCorner:
			if leads {
				all = append(all, do(finding.WorkReferSteeringSuspension, made()...)...)
				all = append(all, do(finding.WorkAlignmentCheck, made()...)...)
			}
		case finding.WearScalloped:
			all = append(all, do(finding.WorkReferSteeringSuspension, made()...)...)
		case finding.WearNotRound:
			all = append(all, settle)
		case finding.WearFlatSpot, finding.WearFlatSpotLockedWheel:
			all = append(all, do(finding.WorkReferBrakesHub, f.Positions...)...)
		case finding.WearDifferentTire, finding.WearOneTireFaster:
			if leads && f.ToSettle == finding.SettleDateCodesAndFitDates {
				all = append(all, settle)
			}
			if leads && f.Code == finding.WearOneTireFaster {
				all = append(all, do(finding.WorkAlignmentCheck, made()...)...) // a corner that wears fast may stand wrong
			}
		}
		from(f, all[asked:])
	}
	return all
}

// rotate: where a rotation is overdue, the recommended map is offered.
func (in In) rotate() (all []Work) {
	m := in.Facts.Map
	if len(m.Moves) == 0 {
		return nil
	}
	every := rulebook.Must("advice").Limit("rotation-every").Value
	if !in.Visit.Rotating.Every.IsZero() {
		every = in.Visit.Rotating.Every
	}
	for _, f := range in.Findings {
		if f.Code != finding.WearRotationMissed {
			continue
		}
		at := slices.Clone(f.Positions)
		for _, move := range m.Moves {
			if !slices.Contains(at, move.From) {
				at = append(at, move.From)
			}
		}
		all = append(all, Work{Code: finding.WorkTiresRotate, Urgency: finding.Plan, Positions: at, Target: every, Map: m, Condition: finding.WhenCauseUnderstoodAndAgreed})
	}
	return all
}

// After is what has to follow a map on the vehicle of a visit, in order: the label's
// pressure of each new place, torque, sensors, arrows, and the torque re-check that
// is owed.
func After(v visit.Visit, m rotation.Map) []Work {
	if len(m.Moves) == 0 {
		return nil
	}
	var all []layout.Position
	for _, move := range m.Moves {
		all = append(all, move.To)
	}
	slices.SortFunc(all, layout.Position.Compare)
	var l lines
	for _, p := range all {
		label, u := v.Labels().Cold(p)
		w := Work{Code: finding.WorkRotationSetPressures, Positions: []layout.Position{p}}
		if label > 0 {
			w.Target = label.Amount(u).Rounded()
		}
		l.add(w)
	}
	road := slices.DeleteFunc(slices.Clone(all), func(p layout.Position) bool { return p.Spare })
	l = append(l, Work{Code: finding.WorkWheelTorque, Positions: road, Target: v.Torque})
	switch v.Monitoring {
	case sensor.None:
	case sensor.Indirect:
		l = append(l, Work{Code: finding.WorkSensorReset})
	default:
		l = append(l, Work{Code: finding.WorkSensorRelearn})
	}
	advice := rulebook.Must("advice")
	l = append(l, Work{Code: finding.WorkRotationCheckArrows, Positions: all},
		Work{Code: finding.WorkOwedTorqueRecheck, Positions: road, Target: v.Torque,
			DueFrom: advice.Limit("torque-recheck-from").Value, DueBy: advice.Limit("torque-recheck-by").Value})
	for i := range l {
		k := finding.WorkOf(l[i].Code)
		l[i].Step, l[i].Caution, l[i].Urgency = k.Step(), k.Caution, finding.Plan
	}
	return l
}
