package wear_test

import (
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/wear"
)

// taken says of how many readings a tire's depths come.
func taken(places, readings int) change {
	return func(t *wear.Tire) {
		t.Places, t.Readings = places, readings
		if t.Across != nil {
			across := *t.Across
			for i := range across {
				across[i].Std = thirtySecond.Scatter(readings)
			}
			t.Across = &across
		}
	}
}

// TestAsksBeforeItTells: what may be the gauge, or what sound tires show, is read further
// before a cause is told of it (common practice; sound tires differ across by 10 to 50
// percent of the wear, 1985 report, abstract).
func TestAsksBeforeItTells(t *testing.T) {
	once, thrice, twice := taken(1, 1), taken(3, 3), taken(3, 6)
	isNew := whenNew(10, 10, 10)
	const three, again, other = finding.SettleThreePlaces, finding.SettleEachPlaceTwice, finding.SettleReadOtherAxle
	for _, c := range []struct {
		name  string
		tires []wear.Tire
		ask   finding.Settle // "": nothing
		of    string
		tells bool
	}{
		{"even, read once", four(flat(7), flat(7), flat(7), flat(7), isNew, once), "", "", false},
		{"one step on one tire, read once", four([3]float64{6, 7, 7}, flat(7), flat(7), flat(7), isNew, once), "", "", false},
		{"two steps on one tire, read once", four([3]float64{5, 6, 7}, flat(7), flat(7), flat(7), isNew, once), three, "1L", false},
		{"one step on both, read once", four([3]float64{6, 7, 7}, [3]float64{6, 7, 7}, flat(7), flat(7), isNew, once), three, "1L 1R", false},
		{"one step on both, at three places", four([3]float64{6, 7, 7}, [3]float64{6, 7, 7}, flat(7), flat(7), isNew, thrice), "", "", false},
		{"two steps on both, read once", four([3]float64{5, 6, 7}, [3]float64{5, 6, 7}, flat(7), flat(7), isNew, once), three, "1L 1R", false},
		{"two steps on both, at three places", four([3]float64{5, 6, 7}, [3]float64{5, 6, 7}, flat(7), flat(7), isNew, thrice), again, "1L 1R", false},
		{"two steps on both, each read twice, the other axle once", append(four([3]float64{5, 6, 7}, [3]float64{5, 6, 7}, flat(7), flat(7), isNew, twice)[:2], four(flat(7), flat(7), flat(7), flat(7), isNew, once)[2:]...), three, "2L 2R", false},
		{"two steps on both, each read twice, the other axle not", four([3]float64{5, 6, 7}, [3]float64{5, 6, 7}, flat(7), flat(7), isNew, twice)[:2], other, "1L 1R", false},
		{"two steps on both, all read twice", four([3]float64{5, 6, 7}, [3]float64{5, 6, 7}, flat(7), flat(7), isNew, twice), "", "", true},
		{"two and a half steps on one, read twice, its mate once", append(four([3]float64{4.5, 6, 7}, flat(7), flat(7), flat(7), isNew, twice)[:1], append(four(flat(7), flat(7), flat(7), flat(7), isNew, once)[1:2], four(flat(7), flat(7), flat(7), flat(7), isNew, twice)[2:]...)...), three, "1R", false},
		{"two and a half steps on one, all read twice", four([3]float64{4.5, 6, 7}, flat(7), flat(7), flat(7), isNew, twice), "", "", true},
		{"four steps on both, read once", four([3]float64{4, 6, 8}, [3]float64{4, 6, 8}, flat(8), flat(8), isNew, once), "", "", true},
		{"no more than the other axle leads to expect", four([3]float64{3, 4, 5}, [3]float64{3, 4, 5}, [3]float64{3, 4, 5}, [3]float64{5, 4, 3}, isNew, twice), "", "", false},
		{"as much, and the other axle is even", four([3]float64{3, 4, 5}, [3]float64{3, 4, 5}, flat(4), flat(4), isNew, twice), "", "", true},
		{"twice what the other axle leads to expect", four([3]float64{2.75, 4, 5.25}, [3]float64{2.75, 4, 5.25}, [3]float64{3.75, 4, 4.25}, [3]float64{3.75, 4, 4.25}, isNew, twice), "", "", true},
		{"as much as it leads to expect", four([3]float64{3, 4, 5}, [3]float64{3, 4, 5}, [3]float64{3.5, 4, 4.5}, [3]float64{4.5, 4, 3.5}, isNew, twice), "", "", false},
		{"more than sound tires show at all", four([3]float64{3, 5, 8}, [3]float64{3, 5, 8}, [3]float64{5, 6, 7}, [3]float64{7, 6, 5}, isNew, twice), "", "", true},
		{"both edges two steps, read once", four([3]float64{5, 7, 5}, [3]float64{5, 7, 5}, flat(7), flat(7), isNew, once), three, "1L 1R", false},
		{"center of all four two steps, read once", four([3]float64{7, 5, 7}, [3]float64{7, 5, 7}, [3]float64{8, 6, 8}, [3]float64{8, 6, 8}, isNew, once), "", "", true},
		{"one tire three steps lower, read once", four(flat(7), flat(4), flat(7), flat(7), isNew, once), "", "", true},
		{"one tire two steps lower in all grooves, read once", four(flat(7), flat(5), flat(7), flat(7), isNew, once), "", "", true},
	} {
		r := judge(front, c.tires...)
		if c.ask == other {
			r = wear.Judge(wear.Vehicle{Layout: front, Tires: c.tires, Gauge: thirtySecond})
		}
		asked := find(r, finding.WearUndecided)
		switch {
		case c.ask == "" && len(asked) > 0:
			t.Errorf("%s: asks: %s", c.name, said(r))
		case c.ask != "" && (len(asked) != 1 || asked[0].ToSettle != c.ask || at(asked[0]) != c.of):
			t.Errorf("%s: want %s of %s: %s", c.name, c.ask, c.of, said(r))
		}
		tells := false
		for _, f := range r.Findings {
			tells = tells || f.Rank == 1
		}
		if tells != c.tells {
			t.Errorf("%s: tells a cause: %v: %s", c.name, tells, said(r))
		}
	}
}

// TestPlacesThatDiffer: round a tire, many pairs of places are looked at: the largest
// difference counts by more than one pair would.
func TestPlacesThatDiffer(t *testing.T) {
	rows := [][]float64{{7, 7, 7}, {5, 5, 7}, {7, 7, 6}}
	for _, c := range []struct {
		readings int
		code     finding.Code
		settle   finding.Settle
	}{
		{3, finding.WearUndecided, finding.SettleEachPlaceTwice},
		{6, finding.WearNotRound, finding.SettleHandOrHighLowPair},
	} {
		r := judge(front, rings("1L", thirtySecond, rows, taken(3, c.readings)))
		if f := only(t, r, c.code); f.ToSettle != c.settle || len(r.Findings) != 1 {
			t.Errorf("%d readings: %s", c.readings, said(r))
		}
	}
}

// Nothing is known of what sound truck tires show: only the gauge stands against a shape.
func TestHeavyTires(t *testing.T) {
	r := wear.Judge(wear.Vehicle{Layout: straight, Gauge: thirtySecond, Tires: []wear.Tire{tire("1L", 9, 10, 11), tire("1R", 9, 10, 11)}})
	only(t, r, finding.WearToeOut)
	if p := layout.MustParse("1L"); r.Findings[0].Positions[0] != p {
		t.Errorf("%s", said(r))
	}
}
