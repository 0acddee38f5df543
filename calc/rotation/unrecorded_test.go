package rotation_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/unit"
)

// visit is what a 1/32 in gauge read: "1L 7 7 7, 1R ...", inboard to outboard.
func visit(text string) []rotation.Seen {
	var out []rotation.Seen
	for wheel := range strings.SplitSeq(text, ",") {
		fields := strings.Fields(wheel)
		s := rotation.Seen{At: at(fields[0])}
		for _, n := range fields[1:] {
			s.Across = append(s.Across, hands[0].gauge.Read(in32(number(n))))
		}
		out = append(out, s)
	}
	return out
}

func number(s string) float64 {
	n, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic(err)
	}
	return n
}

// Invented visits, with what a technician would ask (common practice).
func TestFind(t *testing.T) {
	for _, row := range []struct {
		name        string
		before, now string
		miles       float64
		asked       bool
		moves       string // "" any
	}{
		{"worn alike", "1L 7 7 7,1R 7 7 7,2L 8 8 8,2R 8 8 8", "1L 6 6 6,1R 6 6 6,2L 7 7 7,2R 8 8 8", 4000, false, ""},
		{"front and rear changed", "1L 5 5 5,1R 5 5 5,2L 9 9 9,2R 9 9 9", "1L 8 8 8,1R 8 8 8,2L 5 5 5,2R 5 5 5", 4000, true, ""},
		{"every tire known by its depth: the rearward cross", "1L 4 4 4,1R 6 6 6,2L 8 8 8,2R 10 10 10", "1L 8 8 8,1R 10 10 10,2L 6 6 6,2R 4 4 4", 1500, true, "1L>2R 1R>2L 2L>1L 2R>1R"},
		{"every tire known by its shape: the same side", "1L 8 7 4,1R 8 7 6,2L 4 7 8,2R 6 7 8", "1L 4 7 8,1R 6 7 8,2L 8 7 4,2R 8 7 6", 1000, true, "1L>2L 1R>2R 2L>1L 2R>1R"},
		{"one step of growth is noise", "1L 7 7 7,1R 7 7 7,2L 8 8 8,2R 7 8 8", "1L 7 7 7,1R 6 7 7,2L 8 8 8,2R 8 8 8", 1000, false, ""},
		{"new tires all round", "1L 3 3 3,1R 3 3 3,2L 4 4 4,2R 4 4 4", "1L 10 10 10,1R 10 10 10,2L 10 10 10,2R 10 10 10", 4000, false, ""},
		{"one tire new", "1L 7 7 7,1R 7 7 7,2L 8 8 8,2R 5 5 5", "1L 6 6 6,1R 6 6 6,2L 7 7 7,2R 10 10 10", 4000, false, ""},
		{"turned on its rim where it was", "1L 8 6 3,1R 8 8 8,2L 8 8 8,2R 8 8 8", "1L 3 6 8,1R 8 8 8,2L 8 8 8,2R 8 8 8", 500, true, "1L>1L"},
		{"long ago, too much wear to tell", "1L 7 7 7,1R 7 7 7,2L 8 8 8,2R 8 8 8", "1L 3 3 3,1R 3 3 3,2L 3 3 3,2R 3 3 3", 20000, false, ""},
		{"the spare went on", "1L 5 5 5,1R 5 5 5,2L 6 6 6,2R 6 6 6,S 10 10 10", "1L 5 5 5,1R 5 5 5,2L 6 6 6,2R 10 10 10,S 6 6 6", 500, true, ""},
		{"outer and inner dual changed, both turned", "1L 9 9 9,1R 9 9 9,2LI 8 7 4,2LO 9 9 9,2RI 9 9 9,2RO 9 9 9", "1L 9 9 9,1R 9 9 9,2LI 9 9 9,2LO 4 7 8,2RI 9 9 9,2RO 9 9 9", 500, true, "2LI>2LO 2LO>2LI"},
	} {
		s, ok := rotation.Find(rotation.Two{Before: visit(row.before), Now: visit(row.now), Run: miles(row.miles)})
		var moves []string
		for _, m := range s.Moves {
			moves = append(moves, m.From.String()+">"+m.To.String())
		}
		if !ok || s.Asked() != row.asked || row.moves != "" && strings.Join(moves, " ") != row.moves {
			t.Errorf("%s: looked for %v, odds exp %.1f, %v, want asked %v, %s", row.name, ok, s.Odds, moves, row.asked, row.moves)
		}
	}
}

// What is found is told as unique only where no other placing comes near.
func TestUnique(t *testing.T) {
	alike, _ := rotation.Find(rotation.Two{Before: visit("1L 5 5 5,1R 5 5 5,2L 9 9 9,2R 9 9 9"), Now: visit("1L 8 8 8,1R 8 8 8,2L 5 5 5,2R 5 5 5"), Run: miles(4000)})
	apart, _ := rotation.Find(rotation.Two{Before: visit("1L 2 2 2,1R 5 5 5,2L 8 8 8,2R 11 11 11"), Now: visit("1L 8 8 8,1R 11 11 11,2L 5 5 5,2R 2 2 2"), Run: miles(500)})
	if alike.Unique || !alike.Asked() || !apart.Unique || !apart.Asked() {
		t.Errorf("alike left and right: %+v; all apart: %+v", alike, apart)
	}
	if m, ok := apart.MapOf(); !ok || m.ID != "rearward-cross" {
		t.Errorf("%v", m)
	}
	if m, ok := (rotation.Search{}).MapOf(); ok {
		t.Errorf("no moves, and it is %s", m.ID)
	}
}

// A recorded move is no news, and a move of the record that did not happen is.
func TestRecordedMoves(t *testing.T) {
	two := rotation.Two{Before: visit("1L 5 5 5,1R 5 5 5,2L 9 9 9,2R 9 9 9"), Now: visit("1L 8 8 8,1R 8 8 8,2L 5 5 5,2R 5 5 5"), Run: miles(4000)}
	two.Recorded = map[layout.Position]layout.Position{}
	for _, m := range mapOf("forward-cross").Moves {
		two.Recorded[m.To] = m.From
	}
	if s, ok := rotation.Find(two); !ok || s.Asked() {
		t.Errorf("recorded, and asked: %+v", s)
	}
	two.Now = visit("1L 5 5 5,1R 5 5 5,2L 8 8 8,2R 8 8 8")
	if s, ok := rotation.Find(two); !ok || !s.Asked() {
		t.Errorf("recorded and not done: %+v", s)
	}
}

// A size that was told at one visit only stands in nobody's way.
func TestSizeToldOnce(t *testing.T) {
	two := rotation.Two{Before: visit("1L 5 5 5,1R 5 5 5,2L 9 9 9,2R 9 9 9"), Now: visit("1L 8 8 8,1R 8 8 8,2L 5 5 5,2R 5 5 5"), Run: miles(4000)}
	for i := range two.Now {
		two.Now[i].Size = "215/60R16"
	}
	if s, ok := rotation.Find(two); !ok || !s.Asked() {
		t.Errorf("%v: %+v", ok, s)
	}
}

func TestNotLookedFor(t *testing.T) {
	before, now := visit("1L 5 5 5,1R 5 5 5"), visit("1L 5 5 5,1R 5 5 5")
	exact := []rotation.Seen{{At: at("1L"), Across: []measure.Value[unit.Depth]{measure.Exact(in32(5))}}, now[1]}
	sized := func(front, rear string) []rotation.Seen {
		s := visit("1L 5 5 5,2L 5 5 5")
		s[0].Size, s[1].Size = front, rear
		return s
	}
	many := visit("1L 5,1R 5,2LI 5,2LO 5,2RI 5,2RO 5,3LI 5,3RI 5")
	for name, two := range map[string]rotation.Two{
		"no distance":       {Before: before, Now: now},
		"other positions":   {Before: before, Now: visit("1L 5 5 5,2R 5 5 5"), Run: miles(100)},
		"one wheel":         {Before: before[:1], Now: now[:1], Run: miles(100)},
		"nothing":           {Run: miles(100)},
		"not read":          {Before: before, Now: []rotation.Seen{{At: at("1L")}, now[1]}, Run: miles(100)},
		"without noise":     {Before: before, Now: exact, Run: miles(100)},
		"too many":          {Before: many, Now: many, Run: miles(100)},
		"unknown place":     {Before: before, Now: now, Run: miles(100), Recorded: map[layout.Position]layout.Position{at("1L"): at("2L")}},
		"another size came": {Before: sized("205", "225"), Now: sized("225", "205"), Run: miles(100)},
	} {
		if s, ok := rotation.Find(two); ok || s.Asked() {
			t.Errorf("%s: %+v", name, s)
		}
	}
	// Tires of two sizes change places only among themselves.
	two := rotation.Two{Before: sized("205", "225"), Now: sized("205", "225"), Run: miles(100)}
	two.Before[0].Across[0].Of = in32(9)
	two.Now[1].Across[0].Of = in32(9)
	if s, ok := rotation.Find(two); !ok || slices.ContainsFunc(s.Moves, func(m rotation.Move) bool { return m.From != m.To }) {
		t.Errorf("%+v", s)
	}
}

// The loss of every tire, one and the same whatever else holds: the closed form of
// the likelihood is the integral that it stands for (textbook: a normal likelihood
// times a normal prior cut at zero), worked out by the midpoint rule.
func TestOddsAreThoseOfTheModel(t *testing.T) {
	per5000 := float64(in32(1))
	noise := hands[0].gauge.Std()
	integral := func(lost [3]float64) float64 { // 5,000 miles
		const steps = 40000
		sum := 0.0
		for i := range steps {
			w := (float64(i) + 0.5) / steps * 8 * per5000
			density := math.Exp(-(w - per5000) * (w - per5000) / (2 * per5000 * per5000))
			for _, l := range lost {
				variance := 2*noise*noise + 0.09*per5000*per5000
				density *= math.Exp(-(l-w)*(l-w)/(2*variance)) / math.Sqrt(variance)
			}
			sum += density
		}
		return math.Log(sum)
	}
	before, now := "1L 7 6 7,1R 9 9 8", "1L 8 9 8,1R 6 6 5"
	s, ok := rotation.Find(rotation.Two{Before: visit(before), Now: visit(now), Run: miles(5000)})
	one := per5000
	moved := integral([3]float64{1 * one, 0, 0}) + integral([3]float64{1 * one, 0, 2 * one})
	stayed := integral([3]float64{-1 * one, -3 * one, -1 * one}) + integral([3]float64{3 * one, 3 * one, 3 * one})
	if want := moved - stayed; !ok || math.Abs(s.Odds-want) > 1e-3 {
		t.Errorf("odds exp %v, want exp %v", s.Odds, want)
	}
}

// Mirroring both visits mirrors what is found, shuffling changes nothing, and no
// rotation is found among tires that all read alike at both.
func TestFindHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64().Draw(t, "seed")
		d := rand.New(rand.NewPCG(seed, 1))
		h := hands[d.IntN(3)]
		m := rotation.Map{}
		if d.IntN(2) == 0 {
			m = cross
		}
		two := twoVisits(d, h, runs[d.IntN(len(runs))], m, lives[d.IntN(len(lives))])
		s, ok := rotation.Find(two)
		mirror, okM := rotation.Find(rotation.Two{Before: across(two.Before), Now: across(two.Now), Run: two.Run})
		if ok != okM || math.Abs(s.Odds-mirror.Odds) > 1e-6 || s.Asked() != mirror.Asked() || s.Unique != mirror.Unique || len(s.Moves) != len(mirror.Moves) && s.Unique {
			t.Fatalf("%+v, mirrored %+v", s, mirror)
		}
		d.Shuffle(4, func(i, j int) { two.Now[i], two.Now[j] = two.Now[j], two.Now[i] })
		if again, _ := rotation.Find(two); again.Odds != s.Odds || !slices.Equal(again.Moves, s.Moves) {
			t.Fatalf("%+v, shuffled %+v", s, again)
		}
		alike := rotation.Two{Before: slices.Clone(two.Before), Now: slices.Clone(two.Now), Run: two.Run}
		for i := range alike.Before {
			alike.Before[i].Across, alike.Now[i].Across = two.Before[0].Across, two.Now[0].Across
		}
		if s, _ := rotation.Find(alike); s.Asked() && slices.ContainsFunc(s.Moves, func(m rotation.Move) bool { return m.From != m.To }) {
			t.Fatalf("all alike, and %+v", s)
		}
	})
}

// across puts what was seen on the other side of the vehicle.
func across(seen []rotation.Seen) []rotation.Seen {
	var out []rotation.Seen
	for _, s := range seen {
		s.At = s.At.Mirror()
		out = append(out, s)
	}
	return out
}
