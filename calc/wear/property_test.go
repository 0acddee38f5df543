package wear_test

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/wear"
)

const rounds = 2000

func pick[T any](d *rand.Rand, from ...T) T { return from[d.IntN(len(from))] }

// anyTire is a tire with this and that known of it, worn any way.
func anyTire(d *rand.Rand, p layout.Position, v layout.Vehicle, g measure.Gauge[unit.Depth]) wear.Tire {
	about := float64(4 + d.IntN(6))
	row := func() (r []float64) {
		for range 3 {
			r = append(r, about+float64(d.IntN(9))/2-2)
		}
		return r
	}
	stations := [][]float64{row()}
	switch d.IntN(4) {
	case 0: // round the tire, with a drop now and then
		for range 2 + d.IntN(2) {
			stations = append(stations, slices.Clone(stations[0]))
		}
		for i := range stations[1] {
			stations[1][i] -= pick(d, 0.0, 0, 3)
		}
	case 1:
		stations = append(stations, row(), row())
	}
	t := rings(p.String(), g, stations)
	half := func() bool { return d.IntN(2) == 0 }
	if d.IntN(5) == 0 {
		t.Across = nil
	}
	if half() {
		t.New = &[3]unit.Depth{in32(pick(d, 9.0, 10)), in32(10), in32(pick(d, 9.0, 10))}
	}
	if half() {
		t.OnTire, t.Here = ran(pick(d, 1500.0, 9000, 30000)), ran(pick(d, 0.0, 200, 2999, 3000, 9000))
	}
	if d.IntN(4) == 0 {
		t.Wore, t.Turned = pick(d, append(v.Positions(), layout.Position{}, layout.MustParse("S"), layout.MustParse("9LO"))...), half()
	}
	for _, mark := range []string{"toward", "away", "feathered", "smooth", "rounded", "scuffs", "scalloped", "heel", "diagonal", "flat", "gone-in", "gone-out"} {
		if d.IntN(12) == 0 {
			felt(mark)(&t)
		}
	}
	for range d.IntN(3) {
		earlier(float64(70 + d.IntN(60)))(&t)
	}
	if d.IntN(8) == 0 {
		t.HighLow = append(t.HighLow, wear.HighLow{High: g.Read(in32(about)), Low: g.Read(in32(about - float64(d.IntN(4))))})
	}
	t.Made = pick(d, "", "", "3023", "3323", "1119")
	t.Size = pick(d, "", "205/55R16", "205/55R16", "225/45R18")
	return t
}

func anyVehicle(d *rand.Rand) wear.Vehicle {
	v := wear.Vehicle{
		Layout: pick(d, front, rear, all, pickup(), dually, tractor, tandem, straight), Gauge: pick(d, thirtySecond, electronic, perfect),
		Loaded: pick(d, finding.NotAsked, finding.Yes, finding.No, finding.NotKnown),
	}
	ps := v.Layout.Positions()
	for _, p := range ps {
		if d.IntN(10) > 0 {
			v.Tires = append(v.Tires, anyTire(d, p, v.Layout, v.Gauge))
		}
	}
	for range d.IntN(4) {
		w := wear.Work{Kind: wear.WorkKind(1 + d.IntN(int(wear.Rotated))), InRange: pick(d, finding.NotAsked, finding.Yes, finding.No)}
		if d.IntN(3) > 0 {
			w.Ago = ran(pick(d, 0.0, 500, 3000, 9000, 40000))
		}
		if d.IntN(2) == 0 {
			w.At = []layout.Position{pick(d, ps...)}
		}
		v.Work = append(v.Work, w)
	}
	return v
}

func copied(v wear.Vehicle) wear.Vehicle {
	v.Tires, v.Work = slices.Clone(v.Tires), slices.Clone(v.Work)
	for i := range v.Work {
		v.Work[i].At = slices.Clone(v.Work[i].At)
	}
	return v
}

// unlike tells two tires of one history apart: a tire that another one is
// recorded to have been at too would make it a matter of order whose mate it is.
func unlike(ts []wear.Tire) bool {
	seen := map[layout.Position]bool{}
	for _, t := range ts {
		if t.Wore != (layout.Position{}) && seen[t.Wore] {
			return false
		}
		seen[t.Wore] = true
	}
	return true
}

// everyVehicle runs a check on vehicles whose tires were never two at one place.
func everyVehicle(t *testing.T, check func(d *rand.Rand, v wear.Vehicle)) {
	t.Helper()
	d := dice()
	for n := 0; n < rounds && !t.Failed(); {
		if v := anyVehicle(d); unlike(v.Tires) {
			check(d, v)
			n++
		}
	}
}

func TestOrderChangesNothing(t *testing.T) {
	everyVehicle(t, func(d *rand.Rand, v wear.Vehicle) {
		w := copied(v)
		d.Shuffle(len(w.Tires), func(i, j int) { w.Tires[i], w.Tires[j] = w.Tires[j], w.Tires[i] })
		d.Shuffle(len(w.Work), func(i, j int) { w.Work[i], w.Work[j] = w.Work[j], w.Work[i] })
		before := copied(w)
		a, b := wear.Judge(v), wear.Judge(w)
		if !reflect.DeepEqual(a, b) {
			t.Errorf("in another order:\n%s\n%s", said(a), said(b))
		}
		if !reflect.DeepEqual(w, before) {
			t.Error("judging changed the vehicle")
		}
	})
}

// TestEachFindingOnce: a finding is known by its id, also where two shapes have one cause,
// and names its wheels in their order.
func TestEachFindingOnce(t *testing.T) {
	everyVehicle(t, func(_ *rand.Rand, v wear.Vehicle) {
		ids := map[string]bool{}
		for _, f := range wear.Judge(v).Findings {
			if ids[f.ID()] {
				t.Errorf("%s twice at %v", f.Code, f.Positions)
			}
			ids[f.ID()] = true
			if !slices.IsSortedFunc(f.Positions, layout.Position.Compare) {
				t.Errorf("%s at %v", f.Code, f.Positions)
			}
		}
	})
}

func TestMirrorMirrors(t *testing.T) {
	mirror := func(ps []layout.Position) {
		for i := range ps {
			ps[i] = ps[i].Mirror()
		}
		slices.SortFunc(ps, layout.Position.Compare)
	}
	everyVehicle(t, func(_ *rand.Rand, v wear.Vehicle) {
		w := copied(v)
		for i := range w.Tires {
			w.Tires[i].At, w.Tires[i].Wore = w.Tires[i].At.Mirror(), w.Tires[i].Wore.Mirror()
		}
		for i := range w.Work {
			mirror(w.Work[i].At)
		}
		a, b := wear.Judge(v), wear.Judge(w)
		for i := range b.Findings {
			mirror(b.Findings[i].Positions)
		}
		mirror(b.Even)
		mirror(b.Unread)
		a.Findings, b.Findings = sorted(a.Findings), sorted(b.Findings)
		if !reflect.DeepEqual(a, b) {
			t.Errorf("mirrored:\n%+v\n%+v", a, b)
		}
	})
}

func TestUnitsChangeNothing(t *testing.T) {
	metric := func(d *unit.Depth) { *d = unit.MustDepth(d.In(unit.Millimeters), unit.Millimeters) }
	far := func(d *unit.Distance) *unit.Distance {
		if d == nil {
			return nil
		}
		km := unit.MustDistance(d.In(unit.Kilometers), unit.Kilometers)
		return &km
	}
	everyVehicle(t, func(_ *rand.Rand, v wear.Vehicle) {
		w := copied(v)
		for i := range w.Tires {
			x := &w.Tires[i]
			if x.Across != nil {
				across := *x.Across
				for k := range across {
					metric(&across[k].Of)
				}
				x.Across = &across
			}
			if x.New != nil {
				fresh := *x.New
				for k := range fresh {
					metric(&fresh[k])
				}
				x.New = &fresh
			}
			var rs [][]unit.Depth
			for _, ring := range x.Rings {
				ring = slices.Clone(ring)
				for k := range ring {
					metric(&ring[k])
				}
				rs = append(rs, ring)
			}
			x.Rings = rs
			x.Here, x.OnTire = far(x.Here), far(x.OnTire)
		}
		for i := range w.Work {
			w.Work[i].Ago = far(w.Work[i].Ago)
		}
		if a, b := wear.Judge(v), wear.Judge(w); !reflect.DeepEqual(a, b) {
			t.Errorf("typed in millimeters and kilometers:\n%+v\n%+v", a, b)
		}
	})
}

// A tire of which nothing was read or told adds nothing and takes nothing away.
func TestNotLookedAtChangesNothing(t *testing.T) {
	everyVehicle(t, func(_ *rand.Rand, v wear.Vehicle) {
		w := copied(v)
		for _, p := range v.Layout.Positions() {
			if !slices.ContainsFunc(v.Tires, func(x wear.Tire) bool { return x.At == p || x.Wore == p }) {
				w.Tires = append(w.Tires, wear.Tire{At: p, Wore: p})
			}
		}
		a, b := wear.Judge(v), wear.Judge(w)
		if !reflect.DeepEqual(a.Findings, b.Findings) || !reflect.DeepEqual(a.Even, b.Even) || len(b.Unread)-len(a.Unread) != len(w.Tires)-len(v.Tires) {
			t.Errorf("tires not looked at change the answer:\n%s\n%s", said(a), said(b))
		}
	})
}

// However fine the gauge, nothing is called of tires whose grooves differ by less
// than 2/32 in.
func TestFineGaugeCallsNothing(t *testing.T) {
	d := dice()
	for range rounds {
		v := anyVehicle(d)
		v.Gauge, v.Tires = pick(d, electronic, perfect, measure.Gauge[unit.Depth]{Repeatability: 1}), nil
		for _, p := range v.Layout.Positions() {
			var rows [][]float64
			for range 1 + d.IntN(4) {
				row := make([]float64, 3)
				for i := range row {
					row[i] = 5 + float64(d.IntN(199))/100
				}
				rows = append(rows, row)
			}
			x := rings(p.String(), v.Gauge, rows)
			if d.IntN(2) == 0 {
				run(20000, pick(d, 200.0, 7000))(&x)
			}
			v.Tires = append(v.Tires, x)
		}
		for _, f := range wear.Judge(v).Findings {
			if f.Code != finding.WearLookAgain && f.Code != finding.WearRotationMissed {
				t.Fatalf("%s is called on depths within 1.98/32 in: %v", f.Code, f.Measured)
			}
		}
	}
}

// Every shape has a cause of rank 1; ranks count on by the number of likelier
// ones, and only the likeliest asks for work.
func TestRanks(t *testing.T) {
	everyVehicle(t, func(_ *rand.Rand, v wear.Vehicle) {
		fs := wear.Judge(v).Findings
		for i, f := range fs {
			switch {
			case f.Rank == 0:
			case f.Rank == 1 && f.Urgency == finding.Plan:
			case f.Rank > 1 && i > 0 && f.Urgency == finding.Note && (fs[i-1].Rank == f.Rank || fs[i-f.Rank+1].Rank == 1):
			default:
				t.Errorf("rank %d, urgency %d: %s", f.Rank, f.Urgency, said(wear.Result{Findings: fs}))
			}
			if len(f.Positions) == 0 || f.Code == "" || f.Rule.Citation == "" || !slices.IsSortedFunc(f.Positions, layout.Position.Compare) {
				t.Errorf("%+v", f)
			}
		}
	})
}

// Any vehicle at all is judged, also one whose history says nonsense.
func FuzzJudge(f *testing.F) {
	for seed := range uint64(20) {
		f.Add(seed, seed)
	}
	f.Fuzz(func(t *testing.T, a, b uint64) {
		v := anyVehicle(rand.New(rand.NewPCG(a, b)))
		if r, again := wear.Judge(v), wear.Judge(v); !reflect.DeepEqual(r, again) {
			t.Errorf("judged twice, the answer differs:\n%s\n%s", said(r), said(again))
		}
	})
}
