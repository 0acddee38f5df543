package order

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rotation"
)

// What a cause of wear calls for where it is the likeliest, and what where it is not
// (common practice: the alignment is checked last, what is loose or out of balance first).
func TestWearCallsFor(t *testing.T) {
	check, steering, brakes, measure := finding.WorkAlignmentCheck, finding.WorkReferSteeringSuspension, finding.WorkReferBrakesHub, finding.WorkMeasureToSettle
	type works = []finding.Work
	for _, c := range []struct {
		code         finding.Code
		settle       finding.Settle
		leads, other works
	}{
		{finding.WearToeIn, "", works{check}, nil},
		{finding.WearToeOut, finding.SettleFeelRibs, works{check, measure}, nil},
		{finding.WearCamberNegative, finding.SettleReadMateAcross, works{check, measure}, nil},
		{finding.WearCamberPositive, finding.SettleReadCold, works{check}, nil},
		{finding.WearAxleNotSquare, "", works{check}, nil},
		{finding.WearEdgeBeyondGrooves, "", works{check}, works{check}},
		{finding.WearDiagonalDips, "", works{check}, works{check}},
		{finding.WearOneCorner, "", works{steering, check}, nil},
		{finding.WearScalloped, "", works{steering}, works{steering}},
		{finding.WearNotRound, finding.SettleFeelRibs, works{measure}, works{measure}},
		{finding.WearFlatSpot, "", works{brakes}, works{brakes}},
		{finding.WearFlatSpotLockedWheel, "", works{brakes}, works{brakes}},
		{finding.WearDifferentTire, finding.SettleDateCodesAndFitDates, works{measure}, nil},
		{finding.WearDifferentTire, "", nil, nil},
		{finding.WearOneTireFaster, finding.SettleDateCodesAndFitDates, works{measure, check}, nil},
		{finding.WearOneTireFaster, "", works{check}, nil},
		{finding.WearRotationMissed, "", nil, nil},
	} {
		for rank, want := range map[int]works{1: c.leads, 2: c.other} {
			in := In{Findings: []finding.Finding{{Code: c.code, Rank: rank, ToSettle: c.settle, Positions: []layout.Position{layout.MustParse("1L")}}}}
			var got works
			for _, w := range in.wear() {
				got = append(got, w.Code)
			}
			if !slices.Equal(got, want) {
				t.Errorf("%s, rank %d, settled by %q: %v, want %v", c.code, rank, c.settle, got, want)
			}
		}
	}
}

// A rotation that is overdue is of every wheel that moves, and of those that it was found on.
func TestRotationIsOfEveryWheelThatMoves(t *testing.T) {
	p := layout.MustParse
	in := In{
		Findings: []finding.Finding{{Code: finding.WearToeIn, Positions: []layout.Position{p("1R")}}, {Code: finding.WearRotationMissed, Positions: []layout.Position{p("1L")}}},
		Facts:    Facts{Map: rotation.Map{Moves: []rotation.Move{{From: p("1L"), To: p("2L")}, {From: p("2L"), To: p("1L")}, {From: p("2R"), To: p("1R")}}}},
	}
	got := in.rotate()
	if len(got) != 1 || got[0].Code != finding.WorkTiresRotate || !slices.Equal(got[0].Positions, []layout.Position{p("1L"), p("2L"), p("2R")}) {
		t.Errorf("%+v", got)
	}
	if in.Facts.Map = (rotation.Map{}); len(in.rotate()) != 0 {
		t.Error("without a map there is no rotation")
	}
}
