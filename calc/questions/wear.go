package questions

import (
	"maps"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
	"gaugebook.dev/calc/wear"
)

// WearIn is what is known of the shapes of the treads, and of what made them.
type WearIn struct {
	Labels  visit.Labels
	Work    []wear.Work // done before
	Gauge   measure.Gauge[unit.Depth]
	Earlier []visit.Earlier
	Wheels  []visit.Wheel
	Treads  Treads
}

// WearAnswer is why the tires wear as they do.
type WearAnswer struct {
	Answer
	Wore    map[layout.Position]layout.Position // where the shape of the tire on a wheel was made
	Uncured []rotation.Cause                    // causes that a rotation would hide, or carry to another place
	Missed  bool                                // a rotation is overdue
}

// Wear asks why the tires wear as they do.
func Wear(in WearIn) WearAnswer {
	in.Gauge = in.asShown()
	out := WearAnswer{Wore: make(map[layout.Position]layout.Position, len(in.Wheels))}
	v := wear.Vehicle{
		Layout: in.Labels.Vehicle, Work: in.Work, Loaded: in.Labels.Loaded, Gauge: in.Gauge, Tires: make([]wear.Tire, 0, len(in.Wheels)),
	}
	for _, w := range in.Wheels {
		t := in.tire(w)
		out.Wore[t.At] = t.Wore
		v.Tires = append(v.Tires, t)
	}
	r := wear.Judge(v)
	out.find(r.Findings...)
	for _, f := range r.Findings {
		out.Missed = out.Missed || f.Code == finding.WearRotationMissed
		if uncured(f) {
			out.Uncured = append(out.Uncured, rotation.Cause{Code: f.Code, At: f.Positions})
		}
	}
	for _, p := range r.Even {
		out.good(finding.CheckedWearEven, p)
	}
	for _, p := range r.Unread {
		if _, read := in.Treads.read(p); read { // else its depth is asked for as a whole
			out.ask(finding.AskAcross, p)
		}
	}
	return out
}

// asShown is the gauge in the hand that read the treads.
func (in WearIn) asShown() measure.Gauge[unit.Depth] {
	read := make([]tread.Summary, 0, len(in.Wheels))
	for _, w := range in.Wheels {
		if r, ok := in.Treads.read(w.Position); ok {
			read = append(read, r.Summary)
		}
	}
	return tread.AsShown(in.Gauge, read...)
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

// tire gives a tire as package wear judges it.
func (in WearIn) tire(w visit.Wheel) wear.Tire {
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
	if r, ok := in.Treads.read(w.Position); ok {
		s := r.Summary
		across, mean := s.Beside(in.Gauge)
		t.Across, t.Mean = across, &mean
		t.Places, t.Readings = s.Read()
		t.New = newAcross(w.Tire.New, s.Columns)
		t.Rings = rings(s)
	}
	t.Earlier = in.pressures(w, t.Wore)
	return t
}

// newAcross gives the new depths at the inboard edge, the center and the
// outboard edge; nil unless all are known.
func newAcross(known map[int]unit.Depth, columns []int) *[3]unit.Depth {
	if len(known) == 0 || len(columns) == 0 {
		return nil
	}
	newAt := func(col int) (unit.Depth, bool) { return tread.Wheel{New: known}.NewAt(col) }
	first, okF := newAt(columns[0])
	last, okL := newAt(columns[len(columns)-1])
	middle := columns
	if len(columns) > 2 {
		middle = columns[1 : len(columns)-1]
	}
	var sum unit.Depth
	for _, col := range middle {
		d, ok := newAt(col)
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
	for _, st := range slices.Sorted(maps.Keys(byStation)) {
		if len(byStation[st]) == len(s.Columns) {
			out = append(out, byStation[st])
		}
	}
	return out
}

// pressures are the readings of earlier visits at which the tire ran where its shape
// was made: each a share of the label, cold.
func (in WearIn) pressures(w visit.Wheel, wore layout.Position) []wear.Pressure {
	if wore == (layout.Position{}) {
		return nil
	}
	var out []wear.Pressure
	for _, e := range in.Earlier {
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
			then := in.Labels.Air(visit.Wheel{Position: at, Tire: w.Tire}, ew.Pressure, e.Conditions)
			then.Conditions = e.Conditions
			if then.Label, _ = in.Labels.ColdWhen(at, e.Loaded); then.Label == 0 {
				continue
			}
			cold := then.Cold().Value
			out = append(out, wear.Pressure{Share: measure.Value[unit.Ratio]{
				Of: unit.Ratio(float64(cold.Of) / float64(then.Label)), Std: cold.Std / float64(then.Label)}})
		}
	}
	return out
}
