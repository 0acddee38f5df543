package order

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
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
