package verdict

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
	"gaugebook.dev/calc/wear"
)

// felt turns observations into what a hand found.
func felt(w visit.Wheel) wear.Felt {
	f := wear.Felt{
		SharpToward: w.Has(finding.ObservedFeatheredSharpTowardVehicle), SharpAway: w.Has(finding.ObservedFeatheredSharpAway), Feathered: w.Has(finding.ObservedFeathered),
		Smooth: w.Has(finding.ObservedFeltSmooth), EdgeRounded: w.Has(finding.ObservedEdgeRounded), SlantScuffs: w.Has(finding.ObservedSlantScuffs),
		Scalloped: w.Has(finding.ObservedScalloped), HeelAndToe: w.Has(finding.ObservedHeelAndToe), Diagonal: w.Has(finding.ObservedDiagonalDips), FlatSpot: w.Has(finding.ObservedFlatSpot),
	}
	f.Any = f != (wear.Felt{}) || w.Has(finding.ObservedFeltRough)
	return f
}

// wears asks why the tires wear as they do.
func (j *judging) wears() {
	v := wear.Vehicle{Layout: j.v.Vehicle, Work: j.v.Work, Loaded: j.v.Loaded, Gauge: j.v.DepthGauge}
	for _, w := range j.v.Wheels {
		t := j.wearOf(w)
		j.wore[t.At] = t.Wore
		v.Tires = append(v.Tires, t)
	}
	r := wear.Judge(v)
	j.find(r.Findings...)
	for _, p := range r.Even {
		j.kept(Checked{Code: finding.CheckedWearEven, Positions: []layout.Position{p}})
	}
	for _, p := range r.Unread {
		if len(j.tread[p].Summary.Cells) > 0 { // else its depth is asked for as a whole
			j.ask(finding.AskAcross, p)
		}
	}
}

func (j *judging) wearOf(w visit.Wheel) wear.Tire {
	h := w.History
	t := wear.Tire{At: w.Position, Wore: w.Position, Turned: h.Turned, Here: h.Here, OnTire: h.OnTire, Made: h.Made, Fitted: h.Fitted, Size: w.Tire.Size, Felt: felt(w), HighLow: w.HighLow}
	if h.Here != nil && *h.Here < wear.PatternNeeds() {
		t.Wore = h.Former
	}
	for _, o := range w.Observations {
		if o.Kind != finding.ObservedEdgeWornSmooth && o.Kind != finding.ObservedCordShowing {
			continue
		}
		switch o.Across {
		case layout.Inboard:
			t.EdgeGone[0] = true
		case layout.Outboard:
			t.EdgeGone[1] = true
		}
	}
	if r, ok := j.tread[w.Position]; ok && len(r.Summary.Cells) > 0 {
		s := r.Summary
		mean := s.Mean
		t.Mean = &mean
		if in, mid, out, ok := s.Edges(); ok {
			t.Across = &[3]measure.Value[unit.Depth]{in, mid, out}
		}
		t.New = newAcross(w.Tire.New, s.Columns)
		t.Rings = rings(s)
	}
	t.Earlier = j.earlierPressures(w, t.Wore)
	return t
}

// newAcross gives the new depths at the inboard edge, the center and the
// outboard edge; nil unless all are known.
func newAcross(known map[int]unit.Depth, columns []int) *[3]unit.Depth {
	if len(known) == 0 || len(columns) == 0 {
		return nil
	}
	at := func(col int) (unit.Depth, bool) { return tread.Wheel{New: known}.NewAt(col) }
	first, okF := at(columns[0])
	last, okL := at(columns[len(columns)-1])
	middle := columns
	if len(columns) > 2 {
		middle = columns[1 : len(columns)-1]
	}
	var sum unit.Depth
	for _, col := range middle {
		d, ok := at(col)
		if !ok {
			return nil
		}
		sum += d
	}
	if !okF || !okL {
		return nil
	}
	return &[3]unit.Depth{first, sum / unit.Depth(len(middle)), last}
}

// rings lists, for each station round the tire at which every column was read,
// its depths across.
func rings(s tread.Summary) [][]unit.Depth {
	byStation := map[int][]unit.Depth{}
	for _, c := range s.Cells { // by column
		if c.Station > 0 {
			byStation[c.Station] = append(byStation[c.Station], c.Median)
		}
	}
	var out [][]unit.Depth
	for _, st := range slices.Sorted(keys(byStation)) {
		if len(byStation[st]) == len(s.Columns) {
			out = append(out, byStation[st])
		}
	}
	return out
}

// earlierPressures are the readings of earlier visits at which the tire ran
// where its shape was made: each a share of the label, cold.
func (j *judging) earlierPressures(w visit.Wheel, wore layout.Position) []wear.Pressure {
	if wore == (layout.Position{}) {
		return nil
	}
	var out []wear.Pressure
	for _, e := range j.v.Earlier {
		// A visit at or before its fitting found another tire, and one at or
		// before its move found it at its former position.
		h, at := w.History, w.Position
		if h.OnTire != nil && e.Ago != nil && *e.Ago >= *h.OnTire {
			continue
		}
		if h.Here != nil && e.Ago != nil && *e.Ago >= *h.Here {
			at = h.Former
		}
		if at != wore {
			continue
		}
		for _, ew := range e.Wheels {
			if ew.Position != at || ew.Pressure.Read == unit.None {
				continue
			}
			in := j.v.Labels().Air(visit.Wheel{Position: at, Tire: w.Tire}, ew.Pressure, j.v.Conditions)
			in.Conditions = e.Conditions
			if in.Label, _ = j.v.Labels().ColdWhen(at, e.Loaded); in.Label == 0 {
				continue
			}
			cold := in.Cold().Value
			out = append(out, wear.Pressure{Share: measure.Value[unit.Ratio]{
				Of: unit.Ratio(float64(cold.Of) / float64(in.Label)), Std: cold.Std / float64(in.Label)}})
		}
	}
	return out
}

// worn gives the positions where the shapes of these tires were made: what is
// wrong there is put right there, not where the tires are now.
func (j *judging) worn(at []layout.Position) (ps []layout.Position) {
	for _, p := range at {
		if former := j.wore[p]; !former.Spare && j.v.Vehicle.Has(former) == nil {
			p = former
		}
		if !slices.Contains(ps, p) {
			ps = append(ps, p)
		}
	}
	return ps
}

// wearWork is what the likeliest causes call for. Alignment comes last of all,
// on the tires that stay.
func (j *judging) wearWork() {
	for _, f := range j.out.Findings {
		leads := f.Rank == 1
		switch f.Code {
		case finding.WearToeIn, finding.WearToeOut, finding.WearCamberNegative, finding.WearCamberPositive, finding.WearAxleNotSquare:
			if leads {
				j.do(finding.WorkAlignmentCheck, j.worn(f.Positions)...)
			}
			if leads && (f.ToSettle == finding.SettleFeelRibs || f.ToSettle == finding.SettleReadMateAcross) {
				j.work.add(Work{Code: finding.WorkMeasureToSettle, Positions: f.Positions, Settle: f.ToSettle})
			}
		case finding.WearEdgeBeyondGrooves, finding.WearDiagonalDips:
			j.do(finding.WorkAlignmentCheck, j.worn(f.Positions)...)
		case finding.WearOneCorner:
			if leads {
				j.do(finding.WorkReferSteeringSuspension, j.worn(f.Positions)...)
				j.do(finding.WorkAlignmentCheck, j.worn(f.Positions)...)
			}
		case finding.WearScalloped:
			j.do(finding.WorkReferSteeringSuspension, j.worn(f.Positions)...)
		case finding.WearNotRound:
			j.work.add(Work{Code: finding.WorkMeasureToSettle, Positions: f.Positions, Settle: f.ToSettle})
		case finding.WearFlatSpot, finding.WearFlatSpotLockedWheel:
			j.do(finding.WorkReferBrakesHub, f.Positions...)
		case finding.WearDifferentTire, finding.WearOneTireFaster:
			if leads && f.ToSettle == finding.SettleDateCodesAndFitDates {
				j.work.add(Work{Code: finding.WorkMeasureToSettle, Positions: f.Positions, Settle: f.ToSettle})
			}
		}
	}
	j.offerRotation()
}
