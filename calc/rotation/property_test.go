package rotation_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/unit"
)

// anyVehicle draws a light vehicle whose tires are this and that, half of them with
// rates.
func anyVehicle(t *rapid.T) rotation.Vehicle {
	v := rotation.Vehicle{Layout: car, Out: in32(2)}
	if rapid.IntRange(0, 4).Draw(t, "dual") == 0 {
		v.Layout = dually
		v.Alike = rapid.SampledFrom([]finding.Answer{finding.Yes, finding.Yes, finding.No, finding.NotAsked}).Draw(t, "alike")
	}
	v.Layout.Drive = rapid.SampledFrom([]layout.Drive{layout.DriveNotTold, layout.FrontDrive, layout.RearDrive, layout.AllDrive}).Draw(t, "drive")
	h := rapid.SampledFrom(hands).Draw(t, "gauge")
	answer := rapid.SampledFrom([]finding.Answer{finding.NotAsked, finding.No, finding.No, finding.No, finding.Yes})
	places := v.Layout.Positions()
	if v.Spare = rapid.SampledFrom([]finding.Answer{finding.NotAsked, finding.Yes, finding.No}).Draw(t, "spare"); v.Spare != finding.NotAsked {
		places = append(places, at("S"))
	}
	one := rapid.Bool().Draw(t, "one size")
	for _, p := range places {
		x := tire(p.String(), 0)
		d := h.gauge.Read(unit.Depth(rapid.IntRange(0, 100).Draw(t, "depth")) * in32(0.1))
		x.Depth, x.Mean = &d, d.Of+unit.Depth(rapid.IntRange(0, 10).Draw(t, "mean"))*in32(0.1)
		if rapid.IntRange(0, 15).Draw(t, "unread") == 0 {
			x.Depth = nil
		}
		x.Directional, x.Studded, x.OutsideMark = answer.Draw(t, "arrow"), answer.Draw(t, "studs"), answer.Draw(t, "outside")
		if !one {
			x.Size = rapid.SampledFrom([]string{"", "215/60R16", "225/60R16"}).Draw(t, "size")
		}
		x.Made = float64(rapid.IntRange(0, 8).Draw(t, "age")) / 2
		x.Noisy, x.Finished = rapid.IntRange(0, 9).Draw(t, "noisy") == 0, rapid.IntRange(0, 15).Draw(t, "finished") == 0
		v.Tires = append(v.Tires, x)
	}
	if rapid.Bool().Draw(t, "rates") {
		v.Rates = map[layout.Position]measure.Value[rotation.Rate]{}
		for _, p := range v.Layout.Positions() {
			r := rotation.RateOf(in32(1), miles(float64(rapid.IntRange(1000, 20000).Draw(t, "rate"))))
			v.Rates[p] = measure.Value[rotation.Rate]{Of: r, Std: float64(r) * float64(rapid.IntRange(0, 12).Draw(t, "unsure")) / 10}
		}
	}
	return v
}

func mirrored(v rotation.Vehicle) rotation.Vehicle {
	m := v
	m.Tires, m.Rates = nil, map[layout.Position]measure.Value[rotation.Rate]{}
	for _, t := range v.Tires {
		t.At = t.At.Mirror()
		m.Tires = append(m.Tires, t)
	}
	for p, r := range v.Rates {
		m.Rates[p.Mirror()] = r
	}
	return m
}

func byID(r rotation.Result) map[string]rotation.Plan {
	all := map[string]rotation.Plan{}
	for _, p := range r.Plans {
		all[p.Map.ID] = p
	}
	return all
}

// isMirror tells that a map moves across the vehicle what another moves.
func isMirror(a, b rotation.Map) bool {
	if len(a.Moves) != len(b.Moves) {
		return false
	}
	for _, m := range a.Moves {
		if !slices.Contains(b.Moves, rotation.Move{From: m.From.Mirror(), To: m.To.Mirror(), Turned: m.Turned}) {
			return false
		}
	}
	return true
}

func near(a, b *unit.Distance) bool {
	if a == nil || b == nil {
		return a == b
	}
	return math.Abs(float64(*a-*b)) <= 1e-6*max(1, math.Abs(float64(*a)))
}

// What must hold of the maps of any vehicle.
func TestPlansHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := anyVehicle(t)
		r := rotation.For(v)
		leave, listed := byID(r)[rotation.Leave]
		if !listed || !leave.Allowed() {
			t.Fatal("leaving them is not among the maps")
		}
		best := r.Recommended()
		if !best.Allowed() || best.Gain.At != nil && *best.Gain.At < -5 {
			t.Fatalf("%s is recommended: %v, %v", best.Map.ID, best.WhyNot, best.Gain)
		}
		for _, p := range r.Plans {
			if c := cycles(p.Map); p.Map.ID != rotation.Leave && (c == "" || c[0] < '2' || c[0] > '6') {
				t.Fatalf("%s is no permutation: %s", p.Map.ID, c)
			}
			if !p.Allowed() {
				continue
			}
			if over := r.Over(p.Map.ID, best.Map.ID); over.Low != nil && *over.Low > 5 {
				t.Fatalf("%s is provably better than %s", p.Map.ID, best.Map.ID)
			}
			held(t, v, p)
		}
		if g := best.Gain; g.Low != nil && g.High != nil && (*g.Low > *g.At || *g.High < *g.At) {
			t.Fatalf("the gain %v is outside its interval", g)
		}
	})
}

// held demands of an allowed map what is never allowed.
func held(t *rapid.T, v rotation.Vehicle, p rotation.Plan) {
	at := map[layout.Position]rotation.Tire{}
	for _, tire := range v.Tires {
		at[tire.At] = tire
	}
	for _, m := range p.Map.Moves {
		x, there := at[m.From], at[m.To]
		changes := m.From.Side != m.To.Side
		switch {
		case x.Directional == finding.Yes && changes, x.Studded == finding.Yes && changes && !m.From.Spare && !m.To.Spare:
			t.Fatalf("%s: %v with an arrow or studs goes to %v", p.Map.ID, m.From, m.To)
		case x.Size != there.Size && x.Size != "" && there.Size != "" && m.From.Axle != m.To.Axle && !m.From.Spare && !m.To.Spare:
			t.Fatalf("%s: %s goes where %s was", p.Map.ID, x.Size, there.Size)
		case x.Finished && !m.From.Spare:
			t.Fatalf("%s moves a tire that is to be replaced", p.Map.ID)
		case x.OutsideMark == finding.Yes && m.Turned:
			t.Fatalf("%s turns the OUTSIDE mark in", p.Map.ID)
		}
	}
	if slices.ContainsFunc(p.Map.Moves, func(m rotation.Move) bool { return m.From.Axle == 1 && m.To.Axle == 2 }) {
		front, rear, low := pairs(v, p.Map)
		if rear < front && low <= in32(4) || front-rear > in32(3) {
			t.Fatalf("%s leaves %v in front and %v behind, lowest %v", p.Map.ID, front, rear, low)
		}
	}
}

// pairs gives the mean of each axle after a map, and the lowest of the rear, by hand.
func pairs(v rotation.Vehicle, m rotation.Map) (front, rear, low unit.Depth) {
	var n [2]unit.Depth
	var sum [2]unit.Depth
	low = math.MaxInt64
	for _, t := range v.Tires {
		to := t.At
		for _, move := range m.Moves {
			if move.From == t.At {
				to = move.To
			}
		}
		if to.Spare {
			continue
		}
		n[to.Axle-1]++
		sum[to.Axle-1] += t.Mean
		if to.Axle == 2 {
			low = min(low, t.Depth.Of)
		}
	}
	return sum[0] / n[0], sum[1] / n[1], low
}

// Mirroring the vehicle mirrors every plan: what is said of a map is said of its
// mirror, and of another only where both are equally good.
func TestMirrored(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := anyVehicle(t)
		here, there := rotation.For(v), rotation.For(mirrored(v))
		for _, p := range here.Plans {
			i := slices.IndexFunc(there.Plans, func(q rotation.Plan) bool { return isMirror(p.Map, q.Map) })
			if i < 0 {
				t.Fatalf("%s has no mirror", p.Map.ID)
			}
			q := there.Plans[i]
			if !slices.Equal(p.WhyNot, q.WhyNot) || !near(p.Gain.At, q.Gain.At) || !near(p.Gain.Low, q.Gain.Low) || !near(p.Gain.High, q.Gain.High) ||
				!near(p.Until.Pair, q.Until.Pair) || !near(p.Until.Set, q.Until.Set) {
				t.Fatalf("%s: %+v, mirrored %s: %+v", p.Map.ID, p, q.Map.ID, q)
			}
		}
		a, b := here.Recommended(), there.Recommended()
		if !isMirror(a.Map, b.Map) && (len(a.Map.Moves) != 5 || len(b.Map.Moves) != 5) {
			t.Fatalf("%s, mirrored %s", a.Map.ID, b.Map.ID)
		}
	})
}

// The order in which tires are given changes nothing.
func TestOrderOfTires(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := anyVehicle(t)
		w := v
		w.Tires = rapid.Permutation(v.Tires).Draw(t, "order")
		a, b := rotation.For(v), rotation.For(w)
		for i := range a.Plans {
			if a.Plans[i].Map.ID != b.Plans[i].Map.ID || !near(a.Plans[i].Gain.At, b.Plans[i].Gain.At) {
				t.Fatalf("%s, %s", a.Plans[i].Map.ID, b.Plans[i].Map.ID)
			}
		}
	})
}
