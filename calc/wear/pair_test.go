package wear_test

import (
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/wear"
)

// TestOddTire: one tire lower than the one across the axle and both even. A
// different tire comes before a dragging brake (common practice).
func TestOddTire(t *testing.T) {
	day := func(month, d int) unit.Date { return unit.Date{Year: 2024, Month: month, Day: d} }
	fitted := func(d unit.Date) change { return func(t *wear.Tire) { t.Fitted = d } }
	made := func(s string) change { return func(t *wear.Tire) { t.Made = s } }
	size := func(s string) change { return func(t *wear.Tire) { t.Size = s } }
	none := func(*wear.Tire) {}
	const other, brake, both = "different", "faster", "both, the different tire first"
	for _, c := range []struct {
		name  string
		left  change
		right change // of the lower one
		want  string
	}{
		{"nothing told", none, none, both},
		{"told of one only", made("1119"), none, both},
		{"week and year alike", made("3023"), made("3023"), brake},
		{"a set made some weeks apart", made("3023"), made("3523"), brake},
		{"over the turn of the year", made("5122"), made("0223"), brake},
		{"four years apart", made("3023"), made("1119"), other},
		{"within a whole identification number", made("AB12 CD34 3023"), made("3023"), brake},
		{"not a week", made("7723"), made("3023"), both},
		{"fitted the same day", fitted(day(3, 1)), fitted(day(3, 1)), brake},
		{"written down some days apart", fitted(day(3, 1)), fitted(day(3, 9)), brake},
		{"fitted 59 days apart", fitted(day(3, 1)), fitted(day(4, 29)), brake},
		{"fitted 60 days apart", fitted(day(3, 1)), fitted(day(4, 30)), other},
		{"fitted months apart", fitted(day(9, 1)), fitted(day(3, 1)), other},
		{"fitted the same day, of old stock", func(t *wear.Tire) { t.Fitted, t.Made = day(3, 1), "0824" }, func(t *wear.Tire) { t.Fitted, t.Made = day(3, 1), "1119" }, other},
		{"the same miles", run(20000, 4000), run(20000, 4000), brake},
		{"more miles", run(20000, 4000), run(31000, 4000), other},
		{"2,999 miles more", run(20000, 4000), run(22999, 4000), brake},
		{"3,000 miles more", run(20000, 4000), run(23000, 4000), other},
		{"another size", size("205/55R16"), size("205/60R16"), other},
		{"the same size says nothing of age", size("205/55R16"), size("205/55R16"), both},
		{"another depth when new", whenNew(11, 11, 11), whenNew(8, 8, 8), other},
		{"the same depth when new says nothing of age", whenNew(10, 10, 10), whenNew(10, 10, 10), both},
	} {
		r := judge(front, tire("1L", 7, 7, 7, c.left), tire("1R", 4, 4, 4, c.right))
		different, faster := find(r, finding.WearDifferentTire), find(r, finding.WearOneTireFaster)
		got := ""
		switch {
		case len(different) == 1 && len(faster) == 1 && different[0].Rank == 1 && faster[0].Rank == 2:
			got = both
		case len(different) == 1 && len(faster) == 0:
			got = other
		case len(different) == 0 && len(faster) == 1:
			got = brake
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q (%s)", c.name, got, c.want, said(r))
		}
		for _, f := range append(different, faster...) {
			if at(f) != "1R" || f.Measured != (unit.Amount{Number: 3, Unit: unit.ThirtySecondsInch}) {
				t.Errorf("%s: %v lower at %s", c.name, f.Measured, at(f))
			}
		}
	}
	// One of them not even, spotted or not read: nothing is said.
	for name, ts := range map[string][]wear.Tire{
		"uneven":          {tire("1L", 7, 7, 7), tire("1R", 2, 4, 6)},
		"its mate uneven": {tire("1L", 9, 7, 5), tire("1R", 3, 3, 3)},
		"a flat spot":     {tire("1L", 7, 7, 7), tire("1R", 4, 4, 4, felt("flat"))},
		"on its mate":     {tire("1L", 7, 7, 7, felt("flat")), tire("1R", 4, 4, 4)},
		"not read":        {tire("1L", 7, 7, 7), tire("1R", 4, 4, 4, unread)},
		"another axle":    {tire("1L", 7, 7, 7), tire("2R", 4, 4, 4)},
		"one step":        {tire("1L", 7, 7, 7), tire("1R", 6, 6, 6)},
	} {
		r := judge(front, ts...)
		if len(find(r, finding.WearDifferentTire))+len(find(r, finding.WearOneTireFaster)) > 0 {
			t.Errorf("%s: %s", name, said(r))
		}
	}
	// A mean dragged down by a flat spot is not the tire's.
	r := judge(front, tire("1L", 7, 7, 7), rings("1R", thirtySecond, [][]float64{{7, 7, 7}, {0, 0, 0}, {7, 7, 7}}))
	if len(find(r, finding.WearDifferentTire)) > 0 {
		t.Error(said(r))
	}
}

// TestDriven: an axle that the engine turns loses more, evenly, on tires that
// have run alike (common practice).
func TestDriven(t *testing.T) {
	fresh := whenNew(10, 10, 10)
	set := func(frontDepth, rearDepth float64, changes ...change) []wear.Tire {
		return four(flat(frontDepth), flat(frontDepth), flat(rearDepth), flat(rearDepth), changes...)
	}
	few := whenNew(10, 12, 10)
	for _, c := range []struct {
		name    string
		vehicle layout.Vehicle
		tires   []wear.Tire
		want    string
	}{
		{"rear drive", rear, set(9, 5, fresh, run(9000, 7000)), "2L 2R"},
		{"front drive", front, set(5, 9, fresh, run(9000, 7000)), "1L 1R"},
		{"the axle that is not driven lost more", rear, set(5, 9, fresh, run(9000, 7000)), ""},
		{"all wheels driven", all, set(9, 5, fresh, run(9000, 7000)), ""},
		{"one step", rear, set(9, 8, fresh, run(9000, 7000)), ""},
		{"new depths not known", rear, set(9, 5, run(9000, 7000)), ""},
		{"miles not known", rear, set(9, 5, fresh), ""},
		{"run far more behind", rear, on(set(9, 5, fresh, run(9000, 7000)), "2L 2R", run(20000, 7000)), ""},
		{"rotated lately", rear, set(9, 5, fresh, run(9000, 500)), ""},
		{"rotated lately, the former position on record", rear, on(on(set(5, 9, fresh, run(9000, 500)), "1L 1R", from("2L")), "2L 2R", from("1L")), ""},
		{"one not read", rear, on(set(9, 5, fresh, run(9000, 7000)), "2L", unread), ""},
		{"one uneven", rear, append(set(9, 5, fresh, run(9000, 7000))[:3], tire("2R", 3, 5, 7, fresh, run(9000, 7000))), ""},
		{"one with a flat spot", rear, on(set(9, 5, fresh, run(9000, 7000)), "1L", felt("flat")), ""},
		{"deeper when new at the center", rear, []wear.Tire{tire("1L", 9, 11, 9, few, run(9000, 7000)), tire("1R", 9, 11, 9, few, run(9000, 7000)), tire("2L", 5, 7, 5, few, run(9000, 7000)), tire("2R", 5, 7, 5, few, run(9000, 7000))}, "2L 2R"},
		{"no drive told", car(layout.DriveNotTold), set(9, 5, fresh, run(9000, 7000)), ""},
		{"three axles", tractor, nil, ""},
	} {
		r := judge(c.vehicle, c.tires...)
		got := ""
		if fs := find(r, finding.WearDriveTorque); len(fs) == 1 {
			got = at(fs[0])
			if fs[0].Measured != (unit.Amount{Number: 4, Unit: unit.ThirtySecondsInch}) || fs[0].Rank != 1 || fs[0].Outcome != measure.Above {
				t.Errorf("%s: %+v", c.name, fs[0])
			}
		}
		if got != c.want {
			t.Errorf("%s: torque at %q, want %q (%s)", c.name, got, c.want, said(r))
		}
	}
}

// TestRotation: vehicle and tire makers' bulletins give 5,000 to 8,000 miles;
// nobody is told to rotate what may not be, or what may have been.
func TestRotation(t *testing.T) {
	set := func(onTire, here float64, changes ...change) []wear.Tire {
		return four(flat(7), flat(7), flat(7), flat(7), append(changes, run(onTire, here))...)
	}
	other := func(t *wear.Tire) { t.Size = "255/40R18" }
	same := func(t *wear.Tire) { t.Size = "225/45R18" }
	rotated := func(ago *unit.Distance) []wear.Work { return []wear.Work{{Kind: wear.Rotated, Ago: ago}} }
	motorhome := rear
	motorhome.Class = layout.Motorhome
	dualCar := car(layout.FrontDrive)
	dualCar.Axles[1].Dual = true
	for _, c := range []struct {
		name    string
		vehicle layout.Vehicle
		tires   []wear.Tire
		work    []wear.Work
		want    float64 // miles, 0 for nothing said
	}{
		{"just over", front, set(20000, 8001), nil, 8001},
		{"exactly", front, set(20000, 8000), nil, 0},
		{"a light truck", pickup(), set(20000, 12000), nil, 12000},
		{"the one moved last counts", front, on(set(20000, 12000), "2R", run(20000, 9000)), nil, 9000},
		{"rotated, written down as work", front, set(20000, 12000), rotated(ran(7000)), 0},
		{"rotated long ago", front, set(20000, 12000), rotated(ran(9500)), 9500},
		{"rotated on a day not known", front, set(20000, 12000), rotated(nil), 0},
		{"rotated twice, once on a day not known", front, set(20000, 12000), append(rotated(nil), rotated(ran(9500))...), 0},
		{"other work", front, set(20000, 12000), []wear.Work{{Kind: wear.AlignmentSet, Ago: ran(100)}}, 12000},
		{"how long here not known, run since new", front, on(set(20000, 20000), "1L 1R 2L 2R", func(t *wear.Tire) { t.Here = nil }), nil, 20000},
		{"nothing known", front, four(flat(7), flat(7), flat(7), flat(7)), rotated(ran(9000)), 0},
		{"sizes differ by the door label", car(layout.RearDrive, "225/45R18", "255/40R18"), set(20000, 12000), nil, 0},
		{"sizes differ as mounted", front, on(set(20000, 12000, same), "2L 2R", other), nil, 0},
		{"the size of one not told", front, on(set(20000, 12000, same), "1L", func(t *wear.Tire) { t.Size = "" }), nil, 12000},
		{"a motorhome", motorhome, set(20000, 12000), nil, 0},
		{"duals", dualCar, set(20000, 12000), nil, 0},
		{"a tandem trailer", tandem, set(20000, 12000), nil, 0},
		{"three axles", tractor, set(20000, 12000), nil, 0},
	} {
		r := wear.Judge(wear.Vehicle{Layout: c.vehicle, Tires: c.tires, Work: c.work, Gauge: thirtySecond})
		fs := find(r, finding.WearRotationMissed)
		if c.want == 0 {
			if len(fs) > 0 {
				t.Errorf("%s: %s", c.name, said(r))
			}
			continue
		}
		f := only(t, r, finding.WearRotationMissed)
		miles := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.Miles} }
		if f.Measured != miles(c.want) || f.Limit != miles(8000) || f.Margin != miles(c.want-8000) || f.Urgency != finding.Plan || f.Rule.ID != "advice.rotation-by" || at(f) != "1L 1R 2L 2R" {
			t.Errorf("%s: %+v", c.name, f)
		}
	}
}
