package rotation_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/unit"
)

// paced gives the positions rates in thirty-seconds for each 10,000 miles, LF RF LR
// RR, each known to a tenth.
func paced(v rotation.Vehicle, per10000 ...float64) rotation.Vehicle {
	v.Rates = map[layout.Position]measure.Value[rotation.Rate]{}
	for i, p := range v.Layout.Positions() {
		r := rotation.RateOf(in32(per10000[i]), miles(10000))
		v.Rates[p] = measure.Value[rotation.Rate]{Of: r, Std: float64(r) / 10}
	}
	return v
}

func shown(d *unit.Distance) string {
	if d == nil {
		return "-"
	}
	return fmt.Sprintf("%.0f", d.In(unit.Miles))
}

func plan(t *testing.T, r rotation.Result, id string) rotation.Plan {
	t.Helper()
	for _, p := range r.Plans {
		if p.Map.ID == id {
			return p
		}
	}
	t.Fatalf("%s is not among the plans", id)
	return rotation.Plan{}
}

// Distances until tires are out at 2/32 in, worked by hand: depth left over rate.
func TestUntil(t *testing.T) {
	for _, row := range []struct {
		name             string
		v                rotation.Vehicle
		id               string
		first, pair, set string
		gain             string
	}{
		// Rear-wheel drive, 8/32 in front losing 1/32 in 10,000 miles, 4/32 behind
		// losing 5/32: (4-2)/5 and (8-2)/1; crossed (8-2)/5 and (4-2)/1.
		{"left", paced(sedan(layout.RearDrive, 8, 8, 4, 4), 1, 1, 5, 5), rotation.Leave, "4000", "4000", "60000", "0"},
		{"rearward cross", paced(sedan(layout.RearDrive, 8, 8, 4, 4), 1, 1, 5, 5), "rearward-cross", "12000", "12000", "20000", "8000"},
		// One front tire lower: (5-2)/2, (7-2)/2, (8-2)/1; the pair is out with its better one.
		{"one lower, left", paced(sedan(layout.FrontDrive, 5, 7, 8, 8), 2, 2, 1, 1), rotation.Leave, "15000", "25000", "60000", "0"},
		{"one lower, crossed", paced(sedan(layout.FrontDrive, 5, 7, 8, 8), 2, 2, 1, 1), "forward-cross", "30000", "30000", "50000", "15000"},
		// A tire that is out already has nothing left.
		{"worn out", paced(sedan(layout.FrontDrive, 1, 7, 8, 8), 2, 2, 1, 1), rotation.Leave, "0", "25000", "60000", "0"},
		// A position that wears nothing has no end in sight; nor has its pair.
		{"rear does not wear", paced(sedan(layout.FrontDrive, 6, 6, 6, 6), 2, 2, 0, 0), rotation.Leave, "20000", "20000", "-", "0"},
		// Nor is one told that no tire of a light vehicle sees: 4/0.1 are 400,000 miles.
		{"rear hardly wears", paced(sedan(layout.FrontDrive, 6, 6, 6, 6), 2, 2, 0.1, 0.1), rotation.Leave, "20000", "20000", "-", "0"},
		// The spare has the last word only on the road: 2/2 against (8-2)/2.
		{"five", paced(withSpare(sedan(layout.FrontDrive, 7, 7, 7, 7), 8, 2), 2, 2, 1, 1), "five-tire-forward-cross", "25000", "25000", "60000", "0"},
		{"no rates", sedan(layout.FrontDrive, 7, 7, 7, 7), "forward-cross", "-", "-", "-", "-"},
	} {
		p := plan(t, rotation.For(row.v), row.id)
		if got := [4]string{shown(p.Until.First), shown(p.Until.Pair), shown(p.Until.Set), shown(p.Gain.At)}; got != [4]string{row.first, row.pair, row.set, row.gain} {
			t.Errorf("%s: %v, want %v", row.name, got, []string{row.first, row.pair, row.set, row.gain})
		}
	}
}

// The usual map of the drive is recommended unless another is provably better, and
// none that loses.
func TestRecommended(t *testing.T) {
	front, rear, all := layout.FrontDrive, layout.RearDrive, layout.AllDrive
	for _, row := range []struct {
		name string
		v    rotation.Vehicle
		want string
	}{
		{"driven rear worn", paced(sedan(rear, 8, 8, 4, 4), 1, 1, 5, 5), "rearward-cross"},
		{"driven front worn", paced(sedan(front, 6, 6, 7, 7), 2, 2, 1, 1), "forward-cross"},
		{"no rates, front-wheel drive", sedan(front, 7, 7, 7, 7), "forward-cross"},
		{"no rates, all-wheel drive", sedan(all, 7, 7, 7, 7), "rearward-cross"},
		{"no rates, drive not told", sedan(layout.DriveNotTold, 7, 7, 7, 7), "front-rear-same-side"},
		{"no rates, an arrow", with(sedan(rear, 7, 7, 7, 7), func(t *rotation.Tire) { t.Directional = finding.Yes }), "front-rear-same-side"},
		{"just rotated: the deeper pair is on the faster axle", paced(sedan(front, 9, 9, 6, 6), 2, 2, 1, 1), rotation.Leave},
		{"just rotated, with arrows", paced(with(sedan(front, 9, 9, 6, 6), func(t *rotation.Tire) { t.Directional = finding.Yes }), 2, 2, 1, 1), rotation.Leave},
		{"one corner lower, all wear alike: the usual one", paced(sedan(all, 8, 8, 8, 6), 1, 1, 1, 1), "rearward-cross"},
		{"another is better by no more than chance", paced(sedan(all, 7, 7, 7, 6), 1.8, 2, 2, 2.2), "rearward-cross"},
		{"any would lose a little", paced(sedan(front, 7, 7, 6.5, 6.5), 2, 2, 1.8, 1.8), rotation.Leave},
		{"worn fronts", paced(sedan(front, 4, 4, 6, 6), 2, 2, 1, 1), rotation.Leave},
		{"two sizes", with(sedan(rear, 7, 7, 7, 7), func(t *rotation.Tire) { t.Size = "245/45R18 100W" }, "2L", "2R"), "side-to-side"},
		{"two sizes with arrows", with(with(sedan(rear, 7, 7, 7, 7), func(t *rotation.Tire) { t.Size = "245/45R18 100W" }, "2L", "2R"), func(t *rotation.Tire) { t.Directional = finding.Yes }), rotation.Leave},
		{"one side wears far faster: provably better", paced(sedan(layout.DriveNotTold, 9, 5, 9, 5), 1, 3, 1, 3), "side-to-side"},
		// Side to side gains some 1,200 miles and may lose as many; front to rear loses.
		{"side to side by no more than chance", paced(sedan(layout.DriveNotTold, 7, 6.6, 6, 5.6), 2, 2.1, 1.7, 1.8), rotation.Leave},
		// The forward cross would carry twice as far, and is for another drive.
		{"what is not allowed beats nothing", paced(sedan(rear, 4.6, 5, 5, 9), 3, 1, 1, 1), "rearward-cross"},
		{"worn fronts, with arrows", paced(with(sedan(front, 4, 4, 6, 6), func(t *rotation.Tire) { t.Directional = finding.Yes }), 2, 2, 1, 1), rotation.Leave},
	} {
		if got := rotation.For(row.v).Recommended().Map.ID; got != row.want {
			t.Errorf("%s: %s, want %s", row.name, got, row.want)
		}
	}
}

// One map against another, and what is not among them.
func TestOver(t *testing.T) {
	r := rotation.For(paced(sedan(layout.RearDrive, 8, 8, 4, 5), 1, 1, 5, 4))
	leave, cross := plan(t, r, rotation.Leave), plan(t, r, "rearward-cross")
	if got := shown(r.Over("rearward-cross", rotation.Leave).At); got != shown(cross.Gain.At) {
		t.Errorf("over leaving: %s, want %s", got, shown(cross.Gain.At))
	}
	if got := shown(r.Over(rotation.Leave, "rearward-cross").At); got != "-"+shown(cross.Gain.At) {
		t.Errorf("leaving over it: %s", got)
	}
	if got := r.Over("rearward-cross", "rearward-cross"); *got.At != 0 || *got.Low != 0 || *got.High != 0 {
		t.Errorf("over itself: %v", got)
	}
	if got := r.Over("rearward-cross", "no-such-map"); got != (rotation.Gain{}) {
		t.Errorf("over none: %v", got)
	}
	if leave.Gain.At == nil || *leave.Gain.At != 0 || *leave.Gain.Low != 0 || *leave.Gain.High != 0 {
		t.Errorf("leaving gains %v", leave.Gain)
	}
}

// The interval of a gain holds the gain of true depths and rates about as often as
// k = 2 promises (JCGM 100:2008, 6.2): drawn about what was measured, in nine of
// ten cars at least, and it is not so wide that it says nothing.
func TestGainInterval(t *testing.T) {
	d := rand.New(rand.NewPCG(7, 11))
	for _, v := range []rotation.Vehicle{
		paced(sedan(layout.RearDrive, 8, 8, 4, 4), 1, 1, 5, 5),
		paced(sedan(layout.FrontDrive, 6, 6, 7, 7), 2, 2, 1, 1),
		paced(sedan(layout.FrontDrive, 7, 7, 7, 7), 2, 2, 1.8, 1.8),
		paced(sedan(layout.AllDrive, 9, 6, 8, 7), 2, 2, 2, 3),
	} {
		id := rotation.For(v).Recommended().Map.ID
		gain := plan(t, rotation.For(v), id).Gain
		held := 0.0
		const n = 2000
		for range n {
			drawn := v
			drawn.Tires = nil
			for _, tire := range v.Tires {
				depth := measure.Exact(tire.Depth.Of + unit.Depth(d.NormFloat64()*tire.Depth.Std))
				tire.Depth = &depth
				drawn.Tires = append(drawn.Tires, tire)
			}
			drawn.Rates = map[layout.Position]measure.Value[rotation.Rate]{}
			for _, p := range v.Layout.Positions() {
				drawn.Rates[p] = measure.Exact(v.Rates[p].Of + rotation.Rate(d.NormFloat64()*v.Rates[p].Std))
			}
			loss := *rotation.For(drawn).Over(id, rotation.Leave).At
			if *gain.Low <= loss && loss <= *gain.High {
				held += 1.0 / n
			}
		}
		wide := float64(*gain.High - *gain.Low)
		if held < 0.90 || math.IsInf(wide, 0) || wide > float64(miles(60000)) {
			t.Errorf("%s: gain %s from %s to %s holds %.3f", id, shown(gain.At), shown(gain.Low), shown(gain.High), held)
		}
	}
}

// A rate that may be zero leaves the gain without an end on that side.
func TestGainWithoutAnEnd(t *testing.T) {
	v := paced(sedan(layout.FrontDrive, 6, 6, 7, 7), 2, 2, 1, 1)
	for _, p := range v.Layout.Positions() {
		v.Rates[p] = measure.Value[rotation.Rate]{Of: v.Rates[p].Of, Std: float64(v.Rates[p].Of)}
	}
	if g := plan(t, rotation.For(v), "forward-cross").Gain; g.At == nil || g.Low != nil || g.High != nil {
		t.Errorf("rates that may be zero, and the gain is %v", g)
	}
	all := rotation.Vehicle{Layout: v.Layout, Tires: v.Tires, Out: v.Out, Rates: map[layout.Position]measure.Value[rotation.Rate]{}}
	for _, p := range v.Layout.Positions() {
		all.Rates[p] = measure.Value[rotation.Rate]{Of: 0, Std: 1}
	}
	if p := plan(t, rotation.For(all), "forward-cross"); p.Gain != (rotation.Gain{}) || p.Until != (rotation.Until{}) {
		t.Errorf("nothing wears, and %v, %v", p.Gain, p.Until)
	}
}

// Least squares through the origin with weights 1/u^2 (textbook): the rate is
// sum(w x y)/sum(w x x), its variance 1/sum(w x x), both times the scatter that
// the uncertainties do not explain.
func TestRates(t *testing.T) {
	lf := at("1L")
	stay := func(run, lost, std float64) rotation.Stay {
		return rotation.Stay{At: lf, Run: miles(run), Lost: measure.Value[unit.Depth]{Of: in32(lost), Std: float64(in32(std))}}
	}
	for _, row := range []struct {
		name      string
		stays     []rotation.Stay
		rate, std float64 // thirty-seconds in 1,000 miles
	}{
		{"one", []rotation.Stay{stay(5000, 2, 0.5)}, 0.4, 0.1},
		{"two alike", []rotation.Stay{stay(5000, 2, 0.5), stay(5000, 2, 0.5)}, 0.4, 0.1 / math.Sqrt2},
		// w 4 and 1: (4*5*2 + 1*10*2)/(4*25 + 1*100) = 60/200; residuals (2-1.5)/0.5 and
		// (2-3)/1 have squares 1 and 1: sqrt(2/1) times 1/sqrt(200).
		{"two apart", []rotation.Stay{stay(5000, 2, 0.5), stay(10000, 2, 1)}, 0.3, 0.1},
		{"growth by noise", []rotation.Stay{stay(1000, -0.5, 0.5)}, -0.5, 0.5},
	} {
		r := rotation.Rates(append(row.stays, rotation.Stay{At: lf}))[lf]
		per := float64(in32(1)) / float64(miles(1000))
		if math.Abs(float64(r.Of)/per-row.rate) > 1e-9 || math.Abs(r.Std/per-row.std) > 1e-9 {
			t.Errorf("%s: %v with %v, want %v with %v", row.name, float64(r.Of)/per, r.Std/per, row.rate, row.std)
		}
	}
	if got := rotation.Rates([]rotation.Stay{{At: lf, Lost: measure.Exact(in32(1))}}); len(got) != 0 {
		t.Errorf("no distance, and %v", got)
	}
}
