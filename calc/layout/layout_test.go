package layout_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gaugebook.dev/calc/layout"
)

// A position is the axle counted from the front, the side seen facing forward
// and, on a dual axle, inner or outer; S is the spare (common practice; the
// spelling is the product's own).
func TestParse(t *testing.T) {
	for _, c := range []struct {
		text string
		want layout.Position
	}{
		{"1L", layout.Position{Axle: 1, Side: layout.Left}},
		{"1R", layout.Position{Axle: 1, Side: layout.Right}},
		{"2LI", layout.Position{Axle: 2, Side: layout.Left, Dual: layout.Inner}},
		{"2RO", layout.Position{Axle: 2, Side: layout.Right, Dual: layout.Outer}},
		{"9RO", layout.Position{Axle: 9, Side: layout.Right, Dual: layout.Outer}},
		{"S", layout.Position{Spare: true}},
	} {
		got, err := layout.Parse(c.text)
		if err != nil || got != c.want {
			t.Errorf("%q: %+v, %v; want %+v", c.text, got, err, c.want)
		}
		if got.String() != c.text || layout.MustParse(c.text) != got {
			t.Errorf("%q is written %q", c.text, got)
		}
	}
	for _, text := range []string{
		"", "1", "L", "L1", "0L", "10L", "1X", "1LX", "1LIO", "1l", "2li", "s", "SS", "1S", " 1L", "1L ", "1 L", "-1L", "１L", "1Ł",
		"LF", "FL", "RR", "LRI", "SP", "NSF", "1LI0", "2L\n",
	} {
		got, err := layout.Parse(text)
		if err == nil {
			t.Errorf("%q is taken as %v", text, got)
			continue
		}
		for _, want := range []string{fmt.Sprintf("%q", text), "1L", "2RO", "S"} {
			if !strings.Contains(err.Error(), want) {
				t.Errorf("%q is refused without naming %s: %v", text, want, err)
			}
		}
	}
	defer func() {
		if recover() == nil {
			t.Error("a wrong constant goes unnoticed")
		}
	}()
	layout.MustParse("LF")
}

func TestNoPlace(t *testing.T) {
	if s := (layout.Position{}).String(); s != "" {
		t.Errorf("no place is written %q", s)
	}
}

// LF, FL and 1L are one place in three notations; LR is the second axle of two
// and ambiguous on three (common practice). Nearside is left, as in Britain.
func TestSuggest(t *testing.T) {
	for _, c := range []struct {
		text  string
		axles int
		want  string
	}{
		{"LF", 2, "1L"}, {"FL", 2, "1L"}, {"RF", 2, "1R"}, {"FR", 2, "1R"},
		{"LR", 2, "2L"}, {"RL", 2, "2L"}, {"RR", 2, "2R"},
		{"lf", 2, "1L"}, {" RR ", 2, "2R"}, {"1l", 2, "1L"}, {"2ro", 2, "2RO"},
		{"LRI", 2, "2LI"}, {"LRO", 2, "2LO"}, {"RRI", 2, "2RI"}, {"RRO", 2, "2RO"},
		{"NSF", 2, "1L"}, {"OSF", 2, "1R"}, {"NSR", 2, "2L"}, {"OSR", 2, "2R"},
		{"SP", 2, "S"}, {"spare", 3, "S"}, {"s", 2, "S"},
		{"LF", 3, "1L"}, {"LR", 3, ""}, {"RR", 3, ""}, {"LRI", 3, ""}, {"OSR", 5, ""},
		{"LF", 1, "1L"}, {"LR", 1, ""},
		{"XX", 2, ""}, {"", 2, ""}, {"LEFT", 2, ""},
	} {
		got := layout.Suggest(c.text, c.axles)
		if got != c.want {
			t.Errorf("%q on %d axles: %q, want %q", c.text, c.axles, got, c.want)
		}
		if got != "" {
			layout.MustParse(got)
		}
	}
}

var (
	car     = layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}
	dually  = layout.Vehicle{Class: layout.LightTruck, Axles: []layout.Axle{{Steered: true}, {Dual: true}}}
	tractor = layout.Vehicle{Class: layout.Heavy, Axles: []layout.Axle{{Steered: true}, {Dual: true}, {Dual: true}}}
	tandem  = layout.Vehicle{Class: layout.Trailer, Axles: make([]layout.Axle, 2)}
)

func TestPositions(t *testing.T) {
	for _, c := range []struct {
		vehicle layout.Vehicle
		want    string
	}{
		{car, "[1L 1R 2L 2R]"},
		{dually, "[1L 1R 2LI 2LO 2RI 2RO]"},
		{tractor, "[1L 1R 2LI 2LO 2RI 2RO 3LI 3LO 3RI 3RO]"},
		{layout.Vehicle{}, "[]"},
	} {
		ps := c.vehicle.Positions()
		if got := fmt.Sprint(ps); got != c.want {
			t.Errorf("%s, want %s", got, c.want)
		}
		if !slices.IsSortedFunc(ps, layout.Position.Compare) {
			t.Errorf("%v are not in order", ps)
		}
		for _, p := range ps {
			if err := c.vehicle.Has(p); err != nil {
				t.Errorf("%v is listed and refused: %v", p, err)
			}
			if _, ok := c.vehicle.AxleOf(p); !ok {
				t.Errorf("%v is on no axle", p)
			}
		}
	}
}

// A position the vehicle does not have is refused with those it has.
func TestHas(t *testing.T) {
	for _, c := range []struct {
		vehicle  layout.Vehicle
		position string
		names    []string
	}{
		{dually, "2L", []string{"axle 2", "2LI", "2LO", "2RI", "2RO"}},
		{dually, "1LO", []string{"axle 1", "1L", "1R"}},
		{car, "2LI", []string{"axle 2", "2L", "2R"}},
		{car, "3L", []string{"2 axles", "1L", "1R", "2L", "2R"}},
	} {
		p := layout.MustParse(c.position)
		err := c.vehicle.Has(p)
		if err == nil {
			t.Errorf("%s is not refused", c.position)
			continue
		}
		for _, name := range c.names {
			if !strings.Contains(err.Error(), name) {
				t.Errorf("%s is refused without naming %s: %v", c.position, name, err)
			}
		}
		if a, ok := c.vehicle.AxleOf(p); ok {
			t.Errorf("%s is refused and is on axle %+v", c.position, a)
		}
	}
	spare := layout.MustParse("S")
	if err := car.Has(spare); err != nil {
		t.Errorf("the spare is refused: %v", err)
	}
	if _, ok := car.AxleOf(spare); ok {
		t.Error("the spare is on an axle")
	}
	if a, ok := dually.AxleOf(layout.MustParse("2LO")); !ok || !a.Dual {
		t.Errorf("2LO is on %+v", a)
	}
}

func TestFront(t *testing.T) {
	for _, c := range []struct {
		vehicle  layout.Vehicle
		position string
		want     bool
	}{{car, "1L", true}, {car, "2L", false}, {car, "S", false}, {tractor, "1R", true}, {tandem, "1L", false}} {
		if got := c.vehicle.Front(layout.MustParse(c.position)); got != c.want {
			t.Errorf("class %d, %s: front %v", c.vehicle.Class, c.position, got)
		}
	}
}

func TestMirrorAndMate(t *testing.T) {
	for _, c := range []struct{ position, mirror, mate string }{
		{"1L", "1R", "1L"}, {"2LI", "2RI", "2LO"}, {"2RO", "2LO", "2RI"}, {"S", "S", "S"},
	} {
		p := layout.MustParse(c.position)
		if got := p.Mirror().String(); got != c.mirror {
			t.Errorf("%s mirrored is %s, want %s", c.position, got, c.mirror)
		}
		if got := p.Mate().String(); got != c.mate {
			t.Errorf("the mate of %s is %s, want %s", c.position, got, c.mate)
		}
		if p.Mirror().Mirror() != p || p.Mate().Mate() != p {
			t.Errorf("%s does not come back", c.position)
		}
	}
}

func TestOrder(t *testing.T) {
	var want []layout.Position
	for _, s := range []string{"1L", "1R", "2LI", "2LO", "2RI", "2RO", "3L", "3R", "S"} {
		want = append(want, layout.MustParse(s))
	}
	got := slices.Clone(want)
	d := rand.New(rand.NewPCG(1, 2))
	for range 20 {
		d.Shuffle(len(got), func(i, j int) { got[i], got[j] = got[j], got[i] })
		if slices.SortFunc(got, layout.Position.Compare); !slices.Equal(got, want) {
			t.Fatalf("%v, want %v", got, want)
		}
	}
	for _, p := range want {
		if same := p; p.Compare(same) != 0 {
			t.Errorf("%v differs from itself", p)
		}
	}
}

// Classes from motorcycles on are answered "not judged here".
func TestJudged(t *testing.T) {
	for class := layout.ClassNotTold; class <= layout.UnknownClass; class++ {
		if want := class < layout.Motorcycle; class.Judged() != want {
			t.Errorf("class %d: judged %v, want %v", class, class.Judged(), want)
		}
	}
}

func TestAcrossNames(t *testing.T) {
	for a, want := range map[layout.Across]string{layout.AcrossNotTold: "", layout.Inboard: "inboard", layout.Center: "center", layout.Outboard: "outboard"} {
		if a.String() != want {
			t.Errorf("%d is named %q, want %q", a, a, want)
		}
	}
}

// FuzzParse: what is taken is written the same, mirrors and mates within the
// grammar, and is suggested for itself; a suggestion is always a position.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"1L", "2RO", "S", "LF", "LRI", "nsf", "", "10L", "1L\x00", "\xff", "9RI"} {
		f.Add(s, 2)
	}
	f.Fuzz(func(t *testing.T, s string, axles int) {
		if suggested := layout.Suggest(s, axles); suggested != "" {
			if _, err := layout.Parse(suggested); err != nil {
				t.Errorf("%q suggests %q: %v", s, suggested, err)
			}
		}
		p, err := layout.Parse(s)
		if err != nil {
			if p != (layout.Position{}) {
				t.Errorf("%q is refused and is %+v", s, p)
			}
			return
		}
		if p.String() != s || layout.Suggest(s, axles) != s {
			t.Errorf("%q is written %q, suggested %q", s, p, layout.Suggest(s, axles))
		}
		for _, q := range []layout.Position{p.Mirror(), p.Mate()} {
			if back, err := layout.Parse(q.String()); err != nil || back != q {
				t.Errorf("%q leads to %q: %v", s, q, err)
			}
		}
	})
}
