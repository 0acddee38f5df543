package wear_test

import (
	"slices"
	"strings"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/wear"
)

// four makes the tires of a car, each with its depths and with what is true of all.
func four(lf, rf, lr, rr [3]float64, changes ...change) []wear.Tire {
	var ts []wear.Tire
	for i, d := range [][3]float64{lf, rf, lr, rr} {
		ts = append(ts, tire([]string{"1L", "1R", "2L", "2R"}[i], d[0], d[1], d[2], changes...))
	}
	return ts
}

// on changes some of the tires.
func on(ts []wear.Tire, places string, changes ...change) []wear.Tire {
	for i := range ts {
		for _, c := range changes {
			if strings.Contains(places, ts[i].At.String()) {
				c(&ts[i])
			}
		}
	}
	return ts
}

func flat(n float64) [3]float64 { return [3]float64{n, n, n} }

// TestCases: invented vehicles with the answer that a good technician gives
// (common practice). A cause of leads is the likeliest, or the only one, at its
// positions; one of follows does not lead; one of never is not named.
func TestCases(t *testing.T) {
	staggered := car(layout.RearDrive, "225/45R18", "255/40R18")
	done := func(kind wear.WorkKind, ago float64, places ...string) wear.Work {
		w := wear.Work{Kind: kind, Ago: ran(ago)}
		for _, p := range places {
			w.At = append(w.At, layout.MustParse(p))
		}
		return w
	}
	measuredToday := wear.Work{Kind: wear.AlignmentMeasured, InRange: finding.Yes}
	locked := four(flat(7), flat(7), flat(7), flat(7), whenNew(10, 10, 10), run(20000, 5000))
	locked[2] = rings("2L", thirtySecond, [][]float64{{7, 7, 7}, {7, 7, 7}, {3, 3, 3}}, whenNew(10, 10, 10), run(20000, 5000))
	locked[3] = rings("2R", thirtySecond, [][]float64{{7, 7, 7}, {3, 3, 3}, {7, 7, 7}}, whenNew(10, 10, 10), run(20000, 5000))
	moved := four(flat(8), flat(8), [3]float64{5, 8, 5}, [3]float64{5, 8, 5}, whenNew(10, 10, 10), run(22000, 200), felt("smooth"))
	for now, before := range map[string]string{"2L": "1L", "2R": "1R", "1R": "2L", "1L": "2R"} { // the forward cross
		on(moved, now, from(before))
	}
	on(moved, "2L 2R", earlier(76)) // in front
	made := func(s string) change { return func(t *wear.Tire) { t.Made = s } }
	for _, c := range []struct {
		id, title             string
		vehicle               wear.Vehicle
		leads, follows, never map[finding.Code]string
	}{
		{
			id: "CW01", title: "run low for long, all four",
			vehicle: wear.Vehicle{Layout: front, Work: []wear.Work{done(wear.Rotated, 9000)}, Tires: four([3]float64{4, 7, 4}, [3]float64{4, 7, 4}, [3]float64{6, 8, 6}, [3]float64{6, 8, 6},
				whenNew(10, 10, 10), run(28000, 9000), felt("smooth"), earlier(82, 79))},
			leads: map[finding.Code]string{finding.WearUnderinflatedLong: "1L 1R 2L 2R"},
			never: map[finding.Code]string{finding.WearToeIn: "", finding.WearToeOut: "", finding.WearCamberNegative: "", finding.WearCornering: ""},
		},
		{
			id: "CW03", title: "toe-out after a tie rod",
			vehicle: wear.Vehicle{Layout: front, Work: []wear.Work{done(wear.SteeringPart, 7000, "1L"), done(wear.Rotated, 7000)},
				Tires: on(four([3]float64{3, 6, 8}, [3]float64{3, 6, 8}, flat(8), flat(8), whenNew(10, 10, 10), run(14000, 7000)), "1L 1R", felt("away"))},
			leads:   map[finding.Code]string{finding.WearToeOut: "1L 1R"},
			follows: map[finding.Code]string{finding.WearCamberNegative: "1L 1R"},
			never:   map[finding.Code]string{finding.WearRotationMissed: "", finding.WearUnderinflatedLong: ""},
		},
		{
			id: "CW04", title: "negative camber at the rear after lowering, sizes differ",
			vehicle: wear.Vehicle{Layout: staggered, Work: []wear.Work{done(wear.Lowered, 20000)},
				Tires: on(four([3]float64{6, 7, 7}, [3]float64{6, 7, 7}, [3]float64{3, 6, 7}, [3]float64{3, 6, 7}, whenNew(10, 10, 10), run(24000, 24000)), "2L 2R", felt("smooth"))},
			leads:   map[finding.Code]string{finding.WearCamberNegative: "2L 2R"},
			follows: map[finding.Code]string{finding.WearToeOut: "2L 2R"},
			never:   map[finding.Code]string{finding.WearOverloaded: "", finding.WearRotationMissed: ""},
		},
		{
			id: "CW07", title: "center wear on an empty pickup at label pressure",
			vehicle: wear.Vehicle{Layout: pickup(), Loaded: finding.No, Tires: four([3]float64{10, 10, 9}, [3]float64{10, 10, 9}, [3]float64{11, 8, 11}, [3]float64{11, 8, 11},
				whenNew(15, 15, 15), run(30000, 7500), felt("smooth"), earlier(100, 100))},
			leads:   map[finding.Code]string{finding.WearLightLoadAtLabelPressure: "2L 2R"},
			follows: map[finding.Code]string{finding.WearDriveTorque: "2L 2R"},
			never:   map[finding.Code]string{finding.WearOverinflatedLong: "", finding.WearUnderinflatedLong: ""},
		},
		{
			id: "CW08", title: "driven axle wears faster, never rotated",
			vehicle: wear.Vehicle{Layout: rear, Tires: four(flat(8), flat(8), [3]float64{5, 4, 5}, [3]float64{5, 4, 5}, whenNew(9, 9, 9), run(10000, 10000), felt("rough"))},
			leads:   map[finding.Code]string{finding.WearDriveTorque: "2L 2R", finding.WearRotationMissed: "1L 1R 2L 2R"},
			never:   map[finding.Code]string{finding.WearOverinflatedLong: "", finding.WearLightLoadAtLabelPressure: ""},
		},
		{
			id: "CW09", title: "cord at the inboard edge while the grooves are deep",
			vehicle: wear.Vehicle{Layout: all, Tires: on(four(flat(6), flat(6), [3]float64{5, 6, 6}, [3]float64{5, 6, 6}, whenNew(9, 9, 9), run(21000, 5000)), "2L 2R", felt("gone-in"))},
			leads:   map[finding.Code]string{finding.WearEdgeBeyondGrooves: "2L 2R"},
			never:   map[finding.Code]string{finding.WearLookAgain: "", finding.WearDifferentTire: ""},
		},
		{
			id: "CW10", title: "run low once, tread even",
			vehicle: wear.Vehicle{Layout: front, Tires: four(flat(7), flat(7), flat(7), flat(7), whenNew(10, 10, 10), run(15000, 5000))},
			never:   map[finding.Code]string{finding.WearUnderinflatedLong: "", finding.WearCornering: "", finding.WearToeIn: "", finding.WearToeOut: "", finding.WearCamberNegative: ""},
		},
		{
			id: "CW12", title: "freshly rotated, the shape came with the tires",
			vehicle: wear.Vehicle{Layout: front, Work: []wear.Work{done(wear.Rotated, 200)}, Tires: moved},
			leads:   map[finding.Code]string{finding.WearUnderinflatedLong: "2L 2R", finding.WearMadeAtFormerPosition: "2L 2R"},
			follows: map[finding.Code]string{finding.WearOverloaded: "2L 2R"},
			never:   map[finding.Code]string{finding.WearRotationMissed: "", finding.WearDifferentTire: "", finding.WearDriveTorque: ""},
		},
		{
			id: "CW13", title: "new tires, shoulder grooves molded shallower",
			vehicle: wear.Vehicle{Layout: all, Tires: four([3]float64{9, 11, 9}, [3]float64{9, 11, 9}, [3]float64{9, 11, 9}, [3]float64{9, 11, 9}, run(150, 150))},
			leads:   map[finding.Code]string{finding.WearNoPatternNew: "1L 1R 2L 2R"},
			never:   map[finding.Code]string{finding.WearUnderinflatedLong: "", finding.WearCornering: "", finding.WearOverloaded: "", finding.WearMadeAtFormerPosition: ""},
		},
		{
			id: "CW15", title: "locked rear wheels, one flat place each",
			vehicle: wear.Vehicle{Layout: front, Tires: locked},
			leads:   map[finding.Code]string{finding.WearFlatSpotLockedWheel: "2L 2R"},
			never:   map[finding.Code]string{finding.WearScalloped: "", finding.WearNotRound: "", finding.WearFlatSpot: ""},
		},
		{
			id: "CW17", title: "one older tire, not faster wear",
			vehicle: wear.Vehicle{Layout: all, Tires: on(on(four(flat(7), flat(7), flat(7), flat(4), whenNew(10, 10, 10), run(15000, 5000)), "1L 1R 2L", made("3023")), "2R", made("1119"))},
			leads:   map[finding.Code]string{finding.WearDifferentTire: "2R"},
			never:   map[finding.Code]string{finding.WearOneTireFaster: "", finding.WearToeIn: "", finding.WearCamberPositive: ""},
		},
		{
			id: "CW18", title: "mountain roads: cornering",
			vehicle: wear.Vehicle{Layout: rear, Work: []wear.Work{measuredToday},
				Tires: on(four([3]float64{8, 8, 5}, [3]float64{8, 8, 5}, flat(8), flat(8), whenNew(11, 11, 11), run(18000, 18000), earlier(100, 100)), "1L 1R", felt("smooth", "rounded", "scuffs"))},
			leads: map[finding.Code]string{finding.WearCornering: "1L 1R", finding.WearRotationMissed: "1L 1R 2L 2R"},
			never: map[finding.Code]string{finding.WearToeIn: "", finding.WearCamberPositive: "", finding.WearUnderinflatedLong: ""},
		},
	} {
		t.Run(c.id, func(t *testing.T) {
			c.vehicle.Gauge = thirtySecond
			r := wear.Judge(c.vehicle)
			places := func(code finding.Code, rank func(int) bool) string {
				var names []string
				for _, f := range find(r, code) {
					for _, p := range f.Positions {
						if rank(f.Rank) && !slices.Contains(names, p.String()) {
							names = append(names, p.String())
						}
					}
				}
				slices.Sort(names)
				return strings.Join(names, " ")
			}
			for code, want := range c.leads {
				if got := places(code, func(r int) bool { return r <= 1 }); !strings.Contains(got, want) {
					t.Errorf("%s: %s leads at %q, want %q (%s)", c.title, code, got, want, said(r))
				}
			}
			for code := range c.follows {
				if got := places(code, func(r int) bool { return r <= 1 }); got != "" {
					t.Errorf("%s: %s leads at %q", c.title, code, got)
				}
			}
			for code := range c.never {
				if fs := find(r, code); len(fs) > 0 {
					t.Errorf("%s: names %s (%s)", c.title, code, said(r))
				}
			}
		})
	}
}
