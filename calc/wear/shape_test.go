package wear_test

import (
	"slices"
	"strings"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/wear"
)

// TestShapes: what is called on an axle, and what is not (common practice, and
// JCGM 100:2008 for what a gauge can prove). want are the codes that lead.
func TestShapes(t *testing.T) {
	flatFronts := []wear.Tire{tire("1L", 7, 7, 7), tire("1R", 7, 7, 7)}
	with := func(v layout.Vehicle, ts ...wear.Tire) wear.Vehicle {
		return wear.Vehicle{Layout: v, Tires: whole(v, thirtySecond, ts), Gauge: thirtySecond}
	}
	by := func(g measure.Gauge[unit.Depth], v layout.Vehicle, rows map[string][]float64) wear.Vehicle {
		out := wear.Vehicle{Layout: v, Gauge: g}
		for at, row := range rows {
			out.Tires = append(out.Tires, rings(at, g, [][]float64{row}))
		}
		out.Tires = whole(v, g, out.Tires)
		return out
	}
	gone := tire("1L", 6, 7, 7)
	gone.EdgeGone[0] = true
	pairOf := func(high, low float64) change {
		return func(t *wear.Tire) {
			t.HighLow = append(t.HighLow, wear.HighLow{High: thirtySecond.Read(in32(high)), Low: thirtySecond.Read(in32(low))})
		}
	}
	for _, c := range []struct {
		name    string
		vehicle wear.Vehicle
		want    string
	}{
		// One edge. Toe of a steered axle is shared by both ends.
		{"one step the same way on the other tire: both alike", with(front, tire("1L", 5, 6, 7), tire("1R", 6, 6, 7)), "wear.camber-negative wear.toe-out"},
		{"the right one worn more: both alike", with(front, tire("1L", 6, 6, 7), tire("1R", 5, 6, 7)), "wear.camber-negative wear.toe-out"},
		{"three steps against one: alone", with(front, tire("1L", 4, 6, 7), tire("1R", 6, 6, 7)), "wear.one-corner"},
		{"one step the other way: alone", with(front, tire("1L", 5, 6, 7), tire("1R", 7, 6, 6)), "wear.one-corner"},
		{"the other tire not read: not known to be alone", with(front, tire("1L", 4, 6, 7), tire("1R", 7, 7, 7, unread)), "wear.camber-negative wear.one-corner wear.toe-out"},
		{"the other tire not there: not known to be alone", with(front, tire("1L", 4, 6, 7)), "wear.camber-negative wear.one-corner wear.toe-out"},
		{"the same side of both rear tires: that axle is askew", with(front, tire("2L", 4, 6, 7), tire("2R", 7, 6, 4)), "wear.axle-not-square"},
		{"an edge seen to be gone: no look again", with(front, gone, tire("1R", 6, 7, 7)), "wear.edge-beyond-grooves"},
		{"one step on one tire only: nothing", with(front, tire("1L", 6, 6, 7), tire("1R", 7, 7, 7)), ""},
		{"one step each, to the same side: nothing", with(front, tire("1L", 6, 6, 7), tire("1R", 7, 6, 6)), ""},
		// Duals are compared with their like across the axle, tandems each by itself.
		{"outer edges of the outer duals", with(dually, tire("2LO", 7, 6, 5), tire("2LI", 7, 7, 7), tire("2RI", 7, 7, 7), tire("2RO", 7, 6, 5)), "wear.camber-positive wear.toe-in"},
		{"one dual alone", with(dually, tire("2LO", 7, 6, 4), tire("2LI", 7, 7, 7), tire("2RI", 7, 7, 7), tire("2RO", 7, 7, 7)), "wear.camber-positive wear.one-corner wear.toe-in"},
		{"outer and inner dual of one side: two tires, each alone", with(dually, tire("2LO", 7, 6, 4), tire("2LI", 7, 6, 4), tire("2RI", 7, 7, 7), tire("2RO", 7, 7, 7)), "wear.camber-positive wear.one-corner wear.toe-in"},
		{"one end of a trailer axle", with(tandem, tire("1L", 4, 6, 7), tire("1R", 7, 7, 7), tire("2L", 7, 7, 7), tire("2R", 7, 7, 7)), "wear.camber-negative wear.one-corner wear.toe-out"},
		{"opposite edges on one end of a tandem: each axle by itself", with(tandem, tire("1L", 4, 6, 7), tire("1R", 4, 6, 7), tire("2L", 7, 6, 4), tire("2R", 7, 6, 4)), "wear.camber-negative wear.camber-positive wear.toe-in wear.toe-out"},
		{"both edges of both axles of a tandem: one says nothing of the other", with(tandem, tire("1L", 8, 10, 8), tire("1R", 8, 10, 8), tire("2L", 8, 10, 8), tire("2R", 8, 10, 8)), "wear.underinflated-long"},
		{"center of both drive axles, steers even", with(tractor, tire("1L", 9, 9, 9), tire("1R", 9, 9, 9), tire("2LI", 9, 6, 9), tire("2LO", 9, 6, 9), tire("2RI", 9, 6, 9), tire("2RO", 9, 6, 9),
			tire("3LI", 9, 6, 9), tire("3LO", 9, 6, 9), tire("3RI", 9, 6, 9), tire("3RO", 9, 6, 9)), "wear.light-load-at-label-pressure"},
		{"center wear, nobody told which wheels are driven", with(car(layout.DriveNotTold), tire("2L", 7, 5, 7), tire("2R", 7, 5, 7)), "wear.drive-torque wear.light-load-at-label-pressure wear.overinflated-long"},
		// Depth lost counts where new depths are known.
		{"molded so", with(front, tire("1L", 6, 8, 6, whenNew(8, 10, 8)), tire("1R", 6, 8, 6, whenNew(8, 10, 8))), ""},
		{"molded shallower at the edges and worn flat", with(front, tire("2L", 6, 6, 6, whenNew(8, 10, 8)), tire("2R", 6, 6, 6, whenNew(8, 10, 8))), "wear.light-load-at-label-pressure wear.overinflated-long"},
		{"new depths known: a fresh tire too has its shape", with(front, tire("1L", 8, 10, 8, whenNew(11, 11, 11)), tire("1R", 8, 10, 8, whenNew(11, 11, 11))), "wear.underinflated-long"},
		{"a light truck's fresh tires, new depths not known", with(pickup(), tire("1L", 11, 13, 11), tire("1R", 11, 13, 11)), "wear.no-pattern-new"},
		{"a highway truck's, worn", with(straight, tire("1L", 11, 13, 11), tire("1R", 11, 13, 11)), "wear.underinflated-long"},
		{"a highway truck's, fresh", with(straight, tire("1L", 13, 15, 13), tire("1R", 13, 15, 13)), "wear.no-pattern-new"},
		{"fresh tires of one axle say nothing of the other", with(front, tire("1L", 5, 7, 5), tire("1R", 5, 7, 5), tire("2L", 7, 9, 7), tire("2R", 7, 9, 7)), "wear.no-pattern-new wear.underinflated-long"},
		{"few miles, and not all alike", with(front, tire("1L", 5, 7, 5, run(2000, 2000)), tire("1R", 7, 7, 7, run(2000, 2000))), "wear.made-at-former-position"},
		{"few miles, some crowned the other way", with(front, tire("1L", 5, 7, 5, run(2000, 2000)), tire("1R", 7, 5, 7, run(2000, 2000)), tire("2L", 5, 7, 5, run(2000, 2000))), "wear.made-at-former-position"},
		{"few miles, one tire read: alike to none", with(front, tire("1L", 5, 7, 5, run(2000, 2000))), "wear.made-at-former-position"},
		{"few miles, all at the center", with(front, tire("1L", 7, 5, 7, run(2000, 2000)), tire("1R", 7, 5, 7, run(2000, 2000)), tire("2L", 7, 7, 7, unread)), "wear.no-pattern-new"},
		// A pattern needs miles; an event does not.
		{"moved lately, former position known", with(front, tire("2L", 5, 6, 7, run(20000, 200), from("1L")), tire("2R", 5, 6, 7, run(20000, 200), from("1R"))), "wear.camber-negative wear.made-at-former-position wear.toe-out"},
		{"moved lately, former position not known", with(front, tire("2L", 5, 6, 7, run(20000, 200), from("")), tire("2R", 5, 6, 7, run(20000, 200), from(""))), "wear.made-at-former-position"},
		{"came from the spare's place", with(front, tire("2L", 5, 6, 7, run(20000, 200), from("S")), tire("2R", 5, 6, 7, run(20000, 200), from("S"))), "wear.made-at-former-position"},
		{"came from a place that this vehicle has not", with(front, tire("2L", 5, 6, 7, run(20000, 200), from("3LO"))), "wear.made-at-former-position"},
		{"a tire that is said to have worn where it has hardly been", with(front, tire("2L", 5, 6, 7, run(20000, 200)), tire("2R", 5, 6, 7, run(20000, 200))), "wear.made-at-former-position"},
		{"moved lately and even", with(front, tire("2L", 7, 7, 7, run(20000, 200), from("1L")), tire("2R", 7, 7, 7, run(20000, 200), from("1R"))), ""},
		{"exactly three thousand miles here", with(front, tire("1L", 5, 6, 7, run(20000, 3000)), tire("1R", 5, 6, 7, run(20000, 3000))), "wear.camber-negative wear.toe-out"},
		{"dips that came with the tire", with(front, tire("2L", 7, 7, 7, run(20000, 200), from("1L"), felt("scalloped")), tire("2R", 7, 7, 7)), "wear.made-at-former-position wear.scalloped"},
		{"a flat spot of yesterday", with(front, append(slices.Clone(flatFronts), tire("2L", 7, 7, 7, run(20000, 200), from("1L"), felt("flat")))...), "wear.flat-spot"},
		// Round the tire.
		{"a high and a low", with(front, tire("1L", 7, 7, 7, pairOf(7, 6), pairOf(7, 4))), "wear.scalloped"},
		{"a high and a low one step apart", with(front, tire("1L", 7, 7, 7, pairOf(7, 6))), ""},
		{"two stations: not round, and no flat spot", with(front, rings("1L", thirtySecond, [][]float64{{7, 7, 7}, {4, 4, 4}})), "wear.not-round"},
		{"one groove read round the tire", with(front, rings("1L", thirtySecond, [][]float64{{7}, {7}, {3}})), ""},
		{"a flat spot in two grooves read", with(front, rings("1L", thirtySecond, [][]float64{{7, 7}, {7, 7}, {3, 3}})), "wear.flat-spot"},
		{"a flat spot of one step", with(front, rings("1L", thirtySecond, [][]float64{{7, 7, 7}, {7, 7, 7}, {6, 6, 6}})), ""},
		{"a flat spot, and edge wear beside it", with(front, rings("1L", thirtySecond, [][]float64{{5, 6, 7}, {5, 6, 7}, {1, 2, 2}}), tire("1R", 7, 7, 7)), "wear.flat-spot wear.one-corner"},
		{"felt flat on one side, measured on the other", with(front, tire("1L", 7, 7, 7, felt("flat")), rings("1R", thirtySecond, [][]float64{{7, 7, 7}, {3, 3, 3}, {7, 7, 7}})), "wear.flat-spot-locked-wheel"},
		// The hand alone.
		{"feathered, side not told", with(front, tire("1L", 7, 7, 7, felt("feathered")), tire("1R", 7, 7, 7)), "wear.toe-in wear.toe-out"},
		{"sharp both ways on one tire: side not told", with(front, tire("1L", 7, 7, 7, felt("toward", "away")), tire("1R", 7, 7, 7)), "wear.toe-in wear.toe-out"},
		{"sharp on tires not read across", with(front, tire("1L", 7, 7, 7, unread, felt("away")), tire("1R", 7, 7, 7, unread, felt("away"))), "wear.toe-out"},
		{"sharp to one side on the rear axle", with(front, tire("2L", 7, 7, 7, felt("away")), tire("2R", 7, 7, 7, felt("toward"))), "wear.axle-not-square"},
		{"sharp this way and that on duals", with(dually, tire("2LI", 7, 7, 7, felt("away")), tire("2LO", 7, 7, 7, felt("toward")), tire("2RI", 7, 7, 7, felt("away")), tire("2RO", 7, 7, 7)), "wear.toe-in wear.toe-out"},
		{"sharp, and moved lately", with(front, tire("2L", 7, 7, 7, felt("away"), run(20000, 100), from("1L")), tire("2R", 7, 7, 7, felt("away"), run(20000, 100), from("1R"))), "wear.made-at-former-position wear.toe-out"},
		// Gauges: provable is not a fault, and a fault must be provable.
		{"a fine gauge and less than two steps", by(electronic, front, map[string][]float64{"1L": {5.3, 6, 7}, "1R": {5.3, 6, 7}}), "wear.look-again"},
		{"a fine gauge and not provably less than two steps on both", by(electronic, front, map[string][]float64{"1L": {5.1, 6, 7}, "1R": {5.1, 6, 7}}), "wear.camber-negative wear.toe-out"},
		{"a fine gauge and a trace", by(electronic, front, map[string][]float64{"1L": {6.4, 7, 7}, "1R": {6.4, 7, 7}}), ""},
		{"a perfect gauge and exactly two steps", by(perfect, front, map[string][]float64{"1L": {5, 6, 7}, "1R": {5, 6, 7}}), "wear.camber-negative wear.toe-out"},
		{"a coarse gauge cannot prove two steps of one tire", by(coarse, front, map[string][]float64{"1L": {5, 6, 7}, "1R": {7, 7, 7}}), ""},
		{"a coarse gauge proves of the pair what it cannot of one", by(coarse, front, map[string][]float64{"1L": {4, 6, 7}, "1R": {4, 6, 7}}), "wear.camber-negative wear.toe-out"},
		// Nothing is said of the spare.
		{"the spare", with(front, tire("S", 3, 6, 9, felt("flat", "diagonal"))), ""},
	} {
		r := wear.Judge(c.vehicle)
		if got := strings.Join(leads(r), " "); got != c.want {
			t.Errorf("%s: %q lead, want %q (%s)", c.name, got, c.want, said(r))
		}
	}
}

// Exactly 2/32 in that comes of thirds, by the means of three stations, is two steps.
func TestTwoStepsOfThirds(t *testing.T) {
	third := func(n float64) float64 { return n / 3 }
	var ds [3]unit.Depth
	for i, n := range []float64{23, 18, 25} {
		ds[i] = unit.Depth(third(n) * float64(in32(1))) // cut to a whole number, as means are
	}
	a := wear.Tire{At: layout.MustParse("2L"), Wore: layout.MustParse("2L"),
		Places: 3, Readings: 6, Across: &[3]depth{}}
	for i, d := range ds {
		a.Across[i] = depth{Of: d, Std: thirtySecond.Scatter(6)}
	}
	f := only(t, judge(rear, a), finding.WearOverinflatedLong)
	if f.Measured != (unit.Amount{Number: 2, Unit: unit.ThirtySecondsInch}) || f.Margin.Number != 0 {
		t.Errorf("measured %v, margin %v", f.Measured, f.Margin)
	}
}

// A called shape carries what was measured, its limit, margin and uncertainty,
// the rule, and where on the tire it lies now.
func TestMeasured(t *testing.T) {
	amount := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.ThirtySecondsInch} }
	f := find(judge(front, tire("1L", 3, 6, 8), tire("1R", 4, 6, 8)), finding.WearToeOut)[0]
	if f.Measured != amount(5) || f.Limit != amount(2) || f.Margin != amount(3) || f.Uncertainty != amount(0.28) ||
		f.Outcome != measure.Above || f.Rule.ID != "advice.shape" || f.Place.Across != layout.Inboard || f.Urgency != finding.Plan || at(f) != "1L 1R" {
		t.Errorf("%+v", f)
	}
	if f := find(judge(front, tire("1L", 8, 6, 3), tire("1R", 8, 6, 4)), finding.WearToeIn)[0]; f.Place.Across != layout.Outboard || f.Measured != amount(5) {
		t.Errorf("%+v", f)
	}
	if f := find(judge(rear, tire("2L", 7, 4, 7), tire("2R", 7, 5, 7)), finding.WearLightLoadAtLabelPressure)[0]; f.Place.Across != layout.Center || f.Measured != amount(3) {
		t.Errorf("%+v", f)
	}
	if f := only(t, judge(front, tire("1L", 7, 7, 6), tire("1R", 7, 7, 6)), finding.WearLookAgain); f.Outcome != measure.Below || f.Urgency != finding.Note || f.Measured != amount(1) || f.Margin != amount(-1) {
		t.Errorf("%+v", f)
	}
	spots := judge(front, rings("1L", thirtySecond, [][]float64{{7, 7, 7}, {4, 4, 4}, {7, 7, 7}}), rings("1R", thirtySecond, [][]float64{{7, 7, 7}, {2, 2, 2}, {7, 7, 7}}))
	if f := only(t, spots, finding.WearFlatSpotLockedWheel); f.Measured != amount(5) || at(f) != "1L 1R" || f.ToSettle != finding.SettleBrakes || f.Rank != 0 {
		t.Errorf("%+v", f)
	}
	if f := only(t, judge(front, tire("1L", 7, 7, 7, felt("flat"))), finding.WearFlatSpot); !f.Measured.IsZero() || f.Rule.Authority != finding.CommonPractice {
		t.Errorf("%+v", f)
	}
	dips := func(t *wear.Tire) {
		t.HighLow = []wear.HighLow{{thirtySecond.Read(in32(8)), thirtySecond.Read(in32(4))}, {thirtySecond.Read(in32(8)), thirtySecond.Read(in32(6))}}
	}
	if f := only(t, judge(front, tire("1L", 7, 7, 7, dips)), finding.WearScalloped); f.Measured != amount(4) {
		t.Errorf("the larger of two pairs is 4, got %+v", f)
	}
	if f := only(t, judge(front, tire("1L", 7, 7, 7, felt("gone-out"))), finding.WearEdgeBeyondGrooves); f.Place.Across != layout.Outboard {
		t.Errorf("%+v", f)
	}
}

// TestSettle: what would decide is asked for: the tire across from it, then the
// hand, then the rack (common practice).
func TestSettle(t *testing.T) {
	pair := func(what ...string) []wear.Tire {
		return []wear.Tire{tire("1L", 7, 6, 5, felt(what...)), tire("1R", 7, 6, 5)}
	}
	good := wear.Work{Kind: wear.AlignmentMeasured, InRange: finding.Yes}
	for _, c := range []struct {
		name  string
		tires []wear.Tire
		work  []wear.Work
		cause finding.Code
		want  finding.Settle
	}{
		{"nobody felt", pair(), nil, finding.WearToeIn, finding.SettleFeelRibs},
		{"felt rough is not felt for ribs", pair("rough"), nil, finding.WearToeIn, finding.SettleFeelRibs},
		{"feathered, side not told", pair("feathered"), nil, finding.WearToeIn, finding.SettleFeelRibs},
		{"felt sharp", pair("toward"), nil, finding.WearToeIn, finding.SettleAlignmentRack},
		{"felt smooth", pair("smooth"), nil, finding.WearCamberPositive, finding.SettleAlignmentRack},
		{"rounded", pair("rounded"), nil, finding.WearCornering, finding.SettleAlignmentRack},
		{"rounded, and the rack has spoken", pair("rounded"), []wear.Work{good}, finding.WearCornering, finding.SettleAskHowDriven},
		{"the rack has spoken, nobody felt", pair(), []wear.Work{good}, finding.WearCornering, finding.SettleFeelRibs},
		{"the other tire not read", pair("toward")[:1], nil, finding.WearToeIn, finding.SettleReadMateAcross},
		{"one front tire", []wear.Tire{tire("1L", 4, 6, 7), tire("1R", 7, 7, 7)}, nil, finding.WearOneCorner, finding.SettleLookForBend},
		{"the same side of both front tires", []wear.Tire{tire("1L", 4, 6, 7), tire("1R", 7, 6, 4)}, nil, finding.WearAxleNotSquare, finding.SettleLookBehindSteerAxle},
		{"the same side of both rear tires", []wear.Tire{tire("2L", 4, 6, 7), tire("2R", 7, 6, 4)}, nil, finding.WearAxleNotSquare, finding.SettleAlignmentRack},
		{"both edges, nobody felt", []wear.Tire{tire("1L", 5, 7, 5)}, nil, finding.WearCornering, finding.SettleFeelRibs},
		{"both edges, felt", []wear.Tire{tire("1L", 5, 7, 5, felt("rounded"))}, nil, finding.WearCornering, finding.SettlePressuresAtVisits},
		{"one tire lower, age not known", []wear.Tire{tire("1L", 7, 7, 7), tire("1R", 4, 4, 4)}, nil, finding.WearOneTireFaster, finding.SettleDateCodesAndFitDates},
		{"one tire lower, the same age", []wear.Tire{tire("1L", 7, 7, 7, run(9000, 5000)), tire("1R", 4, 4, 4, run(9000, 5000))}, nil, finding.WearOneTireFaster, finding.SettleBrakes},
	} {
		r := wear.Judge(wear.Vehicle{Layout: front, Tires: whole(front, thirtySecond, c.tires), Work: c.work, Gauge: thirtySecond})
		if f := only(t, r, c.cause); f.ToSettle != c.want {
			t.Errorf("%s: %q settles %s, want %q", c.name, f.ToSettle, c.cause, c.want)
		}
	}
}

// A shape stays named when everything speaks against every cause of it.
func TestShapeKeepsACause(t *testing.T) {
	v := wear.Vehicle{Layout: front, Tires: []wear.Tire{tire("1L", 5, 6, 7, felt("rounded", "toward")), tire("1R", 5, 6, 7, felt("smooth"))},
		Work: []wear.Work{{Kind: wear.AlignmentMeasured, InRange: finding.Yes}}, Gauge: thirtySecond}
	if got := leads(wear.Judge(v)); len(got) == 0 {
		t.Error("the shape is there and no cause is named")
	}
}

// TestWorkInTime: work done lately neither explains a shape nor clears it, and
// work without a day counts as done before (common practice).
func TestWorkInTime(t *testing.T) {
	work := func(kind wear.WorkKind, inRange finding.Answer, ago float64, places ...string) wear.Work {
		w := wear.Work{Kind: kind, InRange: inRange}
		if ago >= 0 {
			w.Ago = ran(ago)
		}
		for _, p := range places {
			w.At = append(w.At, layout.MustParse(p))
		}
		return w
	}
	const unknown = -1
	yes, no, none := finding.Yes, finding.No, finding.NotAsked
	for _, c := range []struct {
		name string
		work []wear.Work
		says finding.Fact // of toe-out or camber
		want bool
	}{
		{"in range today", []wear.Work{work(wear.AlignmentMeasured, yes, 0)}, "wear.alignment-in-range", true},
		{"in range today, of another axle", []wear.Work{work(wear.AlignmentMeasured, yes, 0, "2L", "2R")}, "wear.alignment-in-range", false},
		{"in range today, of this axle", []wear.Work{work(wear.AlignmentMeasured, yes, 0, "1R")}, "wear.alignment-in-range", true},
		{"in range after it was set last month", []wear.Work{work(wear.AlignmentMeasured, yes, 900), work(wear.AlignmentSet, none, 1000)}, "wear.alignment-in-range", false},
		{"in range after it was set long ago", []wear.Work{work(wear.AlignmentMeasured, yes, 10), work(wear.AlignmentSet, none, 9000)}, "wear.alignment-in-range", true},
		{"in range after a tie rod last week", []wear.Work{work(wear.AlignmentMeasured, yes, 10), work(wear.SteeringPart, none, 100)}, "wear.alignment-in-range", false},
		{"in range after a control arm last week", []wear.Work{work(wear.AlignmentMeasured, yes, 10), work(wear.SuspensionPart, none, 100)}, "wear.alignment-in-range", false},
		{"in range after springs last week", []wear.Work{work(wear.AlignmentMeasured, yes, 10), work(wear.Lowered, none, 100)}, "wear.alignment-in-range", false},
		{"in range long ago", []wear.Work{work(wear.AlignmentMeasured, yes, 9000)}, "wear.alignment-in-range", false},
		{"in range long ago", []wear.Work{work(wear.AlignmentMeasured, yes, 9000)}, "wear.alignment-in-range-long-ago", true},
		{"whether in range not told", []wear.Work{work(wear.AlignmentMeasured, none, 0)}, "wear.alignment-in-range", false},
		{"out of range, then set last month", []wear.Work{work(wear.AlignmentMeasured, no, 1000), work(wear.AlignmentSet, none, 1000)}, "wear.alignment-out-of-range", true},
		{"out of range, set last month and found right then", []wear.Work{work(wear.AlignmentMeasured, no, 1000), work(wear.AlignmentSet, none, 1000), work(wear.AlignmentMeasured, yes, 1000)}, "wear.alignment-out-of-range", true},
		{"out of range, then set long ago", []wear.Work{work(wear.AlignmentMeasured, no, 9000), work(wear.AlignmentSet, none, 8000)}, "wear.alignment-out-of-range", false},
		{"set long ago, out of range today", []wear.Work{work(wear.AlignmentSet, none, 8000), work(wear.AlignmentMeasured, no, 0)}, "wear.alignment-out-of-range", true},
		{"tie rod last week", []wear.Work{work(wear.SteeringPart, none, 100)}, "wear.steering-part-no-alignment", false},
		{"tie rod, day not known", []wear.Work{work(wear.SteeringPart, none, unknown)}, "wear.steering-part-no-alignment", true},
		{"tie rod before these tires", []wear.Work{work(wear.SteeringPart, none, 90000)}, "wear.steering-part-no-alignment", true},
		{"tie rod, then set", []wear.Work{work(wear.SteeringPart, none, 9000), work(wear.AlignmentSet, none, 8900)}, "wear.steering-part-no-alignment", false},
		{"tie rod, then set only last week", []wear.Work{work(wear.SteeringPart, none, 9000), work(wear.AlignmentSet, none, 100)}, "wear.steering-part-no-alignment", true},
		{"tie rod, then measured right", []wear.Work{work(wear.SteeringPart, none, 9000), work(wear.AlignmentMeasured, yes, 100)}, "wear.steering-part-no-alignment", false},
		{"tie rod, set before it", []wear.Work{work(wear.SteeringPart, none, 9000), work(wear.AlignmentSet, none, 9500)}, "wear.steering-part-no-alignment", true},
		{"tie rod, set on a day not known", []wear.Work{work(wear.SteeringPart, none, 9000), work(wear.AlignmentSet, none, unknown)}, "wear.steering-part-no-alignment", false},
		{"springs last week", []wear.Work{work(wear.Lowered, none, 100)}, "wear.ride-height-changed", false},
		{"springs long ago", []wear.Work{work(wear.Lowered, none, 9000)}, "wear.ride-height-changed", true},
	} {
		for range 2 { // in either order
			v := wear.Vehicle{Layout: front, Tires: whole(front, thirtySecond, []wear.Tire{tire("1L", 5, 6, 7, run(20000, 9000)), tire("1R", 5, 6, 7, run(20000, 9000))}), Work: c.work, Gauge: thirtySecond}
			said := false
			for _, f := range wear.Judge(v).Findings {
				_, ok := evidence(f, c.says)
				said = said || ok
			}
			if said != c.want {
				t.Errorf("%s: %s is said: %v", c.name, c.says, said)
			}
			slices.Reverse(c.work)
		}
	}
}

// A tire that was turned wore with the other edge inboard; where the edge lies is
// told as the tire stands now.
func TestTurned(t *testing.T) {
	turned := func(t *wear.Tire) { t.Turned = true }
	moved := func(place, before string, in, mid, out float64, changes ...change) wear.Tire {
		return tire(place, in, mid, out, append(changes, run(20000, 200), from(before))...)
	}
	r := judge(dually, moved("2LO", "1L", 5, 6, 7, turned, felt("toward"), whenNew(10, 11, 11)), moved("2RO", "1R", 5, 6, 7, turned, felt("toward"), whenNew(10, 11, 11)))
	f := find(r, finding.WearCamberPositive)
	if f != nil {
		t.Errorf("one step less than new is called: %s", said(r))
	}
	r = judge(dually, moved("2LO", "1L", 5, 6, 7, turned, felt("away"), whenNew(11, 11, 11)), moved("2RO", "1R", 5, 6, 7, turned, felt("away"), whenNew(11, 11, 11)))
	toe := only(t, r, finding.WearToeIn)
	if toe.Rank != 1 || toe.Place.Across != layout.Inboard {
		t.Errorf("rank %d at the %v edge: %s", toe.Rank, toe.Place.Across, said(r))
	}
	if _, ok := evidence(toe, "wear.felt-sharp-toward"); !ok {
		t.Errorf("the hand is not turned: %+v", toe.Evidence)
	}
	if _, ok := evidence(toe, "wear.made-before-it-came-here"); !ok {
		t.Errorf("not told that the shape came along: %+v", toe.Evidence)
	}
	r = judge(dually, moved("2LO", "1L", 5, 6, 7, turned), moved("2RI", "1R", 7, 6, 5))
	if f := only(t, r, finding.WearToeIn); f.Place.Across != layout.AcrossNotTold {
		t.Errorf("one turned and one not: told as %v", f.Place.Across)
	}
	r = judge(front, tire("1L", 5, 6, 7, turned), tire("1R", 5, 6, 7, turned))
	if f := only(t, r, finding.WearToeOut); f.Place.Across != layout.Inboard {
		t.Errorf("turned before it wore here: told as %v", f.Place.Across)
	}
}

// What is told of a tire that moved, and that its own work is not looked for
// where it is now.
func TestFormerPosition(t *testing.T) {
	moved := wear.Work{Kind: wear.SteeringPart, At: []layout.Position{layout.MustParse("2L")}}
	v := wear.Vehicle{Layout: front, Gauge: thirtySecond, Work: []wear.Work{moved}, Tires: whole(front, thirtySecond, []wear.Tire{
		tire("2L", 5, 6, 7, run(20000, 200), from("1L")), tire("2R", 5, 6, 7, run(20000, 200), from("1R"))})}
	r := wear.Judge(v)
	if _, ok := evidence(only(t, r, finding.WearToeOut), "wear.steering-part-no-alignment"); ok {
		t.Error("work on the present axle explains a shape of the former one")
	}
	f := find(r, finding.WearMadeAtFormerPosition)[0]
	if e, ok := evidence(f, "wear.miles-here"); !ok || e.Amount != (unit.Amount{Number: 200, Unit: unit.Miles}) {
		t.Errorf("%+v", f.Evidence)
	}
	if _, ok := evidence(f, "wear.former-position-not-recorded"); ok {
		t.Errorf("recorded, and said not to be: %+v", f.Evidence)
	}
	for _, nowhere := range []string{"", "S", "3LO"} {
		f = only(t, judge(front, tire("2L", 5, 6, 7, from(nowhere))), finding.WearMadeAtFormerPosition)
		if _, ok := evidence(f, "wear.former-position-not-recorded"); !ok || len(f.Evidence) != 1 {
			t.Errorf("from %q: %+v", nowhere, f.Evidence)
		}
	}
}

func TestEvenAndUnread(t *testing.T) {
	r := judge(front, tire("1L", 7, 7, 7), tire("1R", 5, 6, 7), tire("2L", 8, 8, 8, unread), rings("2R", thirtySecond, [][]float64{{7, 7}}), tire("S", 9, 9, 9))
	if len(r.Even) != 1 || r.Even[0].String() != "1L" || len(r.Unread) != 2 || r.Unread[0].String() != "2L" || r.Unread[1].String() != "2R" {
		t.Errorf("even %v, unread %v", r.Even, r.Unread)
	}
	r = judge(front, tire("1L", 7, 7, 7, felt("flat")), tire("1R", 7, 7, 7, felt("scalloped")), tire("2L", 7, 7, 7, felt("heel")), tire("2R", 7, 7, 7, run(20000, 20000)))
	if len(r.Even) != 2 || r.Even[0].String() != "2L" || r.Even[1].String() != "2R" {
		t.Errorf("even across and nothing else to plan: %v", r.Even)
	}
}
