package past_test

import (
	"slices"
	"testing"
	"time"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/past"
	"gaugebook.dev/calc/unit"
)

const a, b = "tire-a", "tire-b"

func at(place string) layout.Position { return layout.MustParse(place) }

func miles(n float64) *unit.Distance { return new(unit.MustDistance(n, unit.Miles)) }

// isMiles tells that a distance is so many miles, -1 for one that is not known.
func isMiles(d *unit.Distance, want float64) bool {
	if d == nil || want < 0 {
		return d == nil && want < 0
	}
	got := d.In(unit.Miles) - want
	return got > -0.01 && got < 0.01
}

// visit is one that reports one wheel.
func visit(odometer float64, place, tire string) past.Visit {
	return past.Visit{Odometer: miles(odometer), Wheels: []past.Wheel{{At: at(place), Tire: tire}}}
}

func toldMoved(v past.Visit) past.Visit {
	v.Moved = true
	return v
}

func moved(odometer float64, tires ...past.Move) past.Moves {
	return past.Moves{Odometer: miles(odometer), Tires: tires}
}

func to(place string) past.Move { return past.Move{Tire: a, To: at(place)} }

func turned(m past.Move, answer finding.Answer) past.Move {
	m.Turned = answer
	return m
}

var stored = past.Move{Tire: a}

func noted(kind finding.Done, odometer float64, places ...string) past.Work {
	w := past.Work{Kind: kind}
	if odometer > 0 {
		w.Odometer = miles(odometer)
	}
	for _, p := range places {
		w.At = append(w.At, at(p))
	}
	return w
}

// TestHistory: where the tire on a wheel today, at 50,000 miles, has been.
func TestHistory(t *testing.T) {
	for _, c := range []struct {
		name         string
		today        past.Visit
		earlier      []past.Visit
		moves        []past.Moves
		notes        []past.Work
		tire         past.Tire
		here, onTire float64 // mi, -1 where not known
		former       string
		turned       bool
	}{
		{name: "nothing on record", today: visit(50_000, "1L", ""), here: -1, onTire: -1},
		{name: "fitted new", today: visit(50_000, "1L", a), tire: past.Tire{Fitted: miles(20_000)}, here: 30_000, onTire: 30_000},
		{name: "an odometer lower than when it was fitted", today: visit(50_000, "1L", a), tire: past.Tire{Fitted: miles(60_000)}, here: -1, onTire: -1},
		{name: "moved once, where from by a visit that names it", today: visit(50_000, "2R", a), tire: past.Tire{Fitted: miles(20_000)},
			earlier: []past.Visit{visit(30_000, "1L", a)}, moves: []past.Moves{moved(40_000, to("2R"))}, here: 10_000, onTire: 30_000, former: "1L"},
		{name: "a later visit does not tell where from", today: visit(50_000, "2R", a),
			earlier: []past.Visit{visit(45_000, "1L", a)}, moves: []past.Moves{moved(40_000, to("2R"))}, here: 10_000, onTire: -1},
		{name: "moves told in any order", today: visit(50_000, "2R", a), tire: past.Tire{Fitted: miles(20_000)},
			moves: []past.Moves{moved(40_000, to("2R")), moved(25_000, to("1R"))}, here: 10_000, onTire: 30_000, former: "1R"},
		{name: "not named, but moved there last", today: visit(50_000, "2R", ""), moves: []past.Moves{moved(40_000, to("2R"))}, here: 10_000, onTire: -1},
		{name: "not named, but on record there", today: visit(50_000, "2R", ""), tire: past.Tire{ID: a}, moves: []past.Moves{moved(40_000, to("2R"))}, here: 10_000, onTire: -1},
		{name: "moved elsewhere since without a record", today: visit(50_000, "1L", a), tire: past.Tire{Fitted: miles(20_000)},
			moves: []past.Moves{moved(40_000, to("2R"))}, here: -1, onTire: -1},
		{name: "a winter on the shelf does not count, and its place is still its place", today: visit(50_000, "2R", a), tire: past.Tire{Fitted: miles(20_000)},
			moves: []past.Moves{moved(25_000, to("2R")), moved(42_000, stored), moved(48_000, to("2R"))}, here: 19_000, onTire: 24_000},
		{name: "on the shelf until today", today: visit(50_000, "2R", a), moves: []past.Moves{moved(42_000, stored)}, here: -1, onTire: -1},
		{name: "turned on its rim at its place", today: visit(50_000, "2R", a), tire: past.Tire{Fitted: miles(20_000)},
			moves: []past.Moves{moved(25_000, to("2R")), moved(40_000, turned(to("2R"), finding.Yes))}, here: 10_000, onTire: 30_000, former: "2R", turned: true},
		// A disc wheel moved between an outer dual and any other place is turned (common practice).
		{name: "from an outer dual to a steer axle it is turned", today: visit(50_000, "1R", a),
			moves: []past.Moves{moved(30_000, to("2RO")), moved(45_000, to("1R"))}, here: 5000, onTire: -1, former: "2RO", turned: true},
		{name: "unless it is told", today: visit(50_000, "1R", a),
			moves: []past.Moves{moved(30_000, to("2RO")), moved(45_000, turned(to("1R"), finding.No))}, here: 5000, onTire: -1, former: "2RO"},
		{name: "from an inner dual it is not", today: visit(50_000, "1R", a),
			moves: []past.Moves{moved(30_000, to("2RI")), moved(45_000, to("1R"))}, here: 5000, onTire: -1, former: "2RI"},
		{name: "a rotation written down as work only", today: visit(50_000, "2R", a), tire: past.Tire{Fitted: miles(20_000)},
			notes: []past.Work{noted(finding.DoneTiresRotated, 44_000)}, here: 6000, onTire: 30_000},
		{name: "at other wheels", today: visit(50_000, "2R", a), tire: past.Tire{Fitted: miles(20_000)},
			notes: []past.Work{noted(finding.DoneTiresRotated, 44_000, "1L", "1R")}, here: 30_000, onTire: 30_000},
		{name: "before the last move", today: visit(50_000, "2R", a), moves: []past.Moves{moved(30_000, to("1L")), moved(45_000, to("2R"))},
			notes: []past.Work{noted(finding.DoneTiresRotated, 44_000)}, here: 5000, onTire: -1, former: "1L"},
		{name: "done at an earlier visit, at its odometer", today: visit(50_000, "2R", a), earlier: []past.Visit{{Odometer: miles(43_000), Work: []past.Work{{Kind: finding.DoneTiresRotated}}}},
			here: 7000, onTire: -1},
	} {
		h := past.Of(c.today, c.earlier, c.moves, c.notes).History(0, c.tire)
		if !isMiles(h.Here, c.here) || !isMiles(h.OnTire, c.onTire) || h.Former.String() != c.former || h.Turned != c.turned {
			t.Errorf("%s: here %v, on the tire %v, former %q, turned %v", c.name, h.Here, h.OnTire, h.Former, h.Turned)
		}
	}
}

// TestBefore: which earlier readings are of the tire that is on the right rear today, at
// 50,000 miles, and how far it ran since.
func TestBefore(t *testing.T) {
	made := func(v past.Visit, week string) past.Visit {
		v.Wheels[0].Made = week
		return v
	}
	for _, c := range []struct {
		name    string
		today   past.Visit
		earlier []past.Visit
		moves   []past.Moves
		notes   []past.Work
		tire    past.Tire
		ago     []float64 // mi, the latest first
		turned  bool
		stayed  bool
	}{
		{name: "no tire is named: the same place", today: visit(50_000, "2R", ""),
			earlier: []past.Visit{visit(40_000, "2R", ""), visit(45_000, "2R", ""), visit(42_000, "2L", "")}, ago: []float64{5000, 10_000}, stayed: true},
		{name: "somebody moved tires between the last two", today: visit(50_000, "2R", a),
			earlier: []past.Visit{visit(40_000, "2R", a), toldMoved(visit(45_000, "2R", a))}, ago: []float64{5000}, stayed: true},
		{name: "somebody moved tires since", today: toldMoved(visit(50_000, "2R", a)), earlier: []past.Visit{visit(40_000, "2R", a)}},
		{name: "and the moves are on record", today: toldMoved(visit(50_000, "2R", a)), earlier: []past.Visit{visit(40_000, "1L", a)},
			moves: []past.Moves{moved(42_000, to("2R"))}, ago: []float64{10_000}},
		{name: "named elsewhere", today: visit(50_000, "2R", a), earlier: []past.Visit{visit(40_000, "1L", a)}, ago: []float64{10_000}},
		{name: "another one named there", today: visit(50_000, "2R", a), earlier: []past.Visit{visit(40_000, "2R", b)}},
		{name: "moved from the front; what was found when it was moved is of the front", today: visit(50_000, "2R", a),
			moves:   []past.Moves{moved(30_000, to("1L")), moved(45_000, to("2R"))},
			earlier: []past.Visit{visit(45_000, "1L", ""), visit(47_000, "2R", ""), visit(46_000, "1L", "")}, ago: []float64{3000, 5000}, stayed: true},
		{name: "moved at the odometer at which it was read in front", today: visit(50_000, "2R", a),
			moves: []past.Moves{moved(30_000, to("1L")), moved(45_000, to("2R"))}, earlier: []past.Visit{visit(45_000, "1L", "")}, ago: []float64{5000}},
		{name: "read when it was fitted", today: visit(50_000, "2R", a), tire: past.Tire{ID: a, Fitted: miles(45_000)}, earlier: []past.Visit{visit(45_000, "2R", a)}, ago: []float64{5000}, stayed: true},
		{name: "turned at the odometer at which it was read outside", today: visit(50_000, "1R", a),
			moves: []past.Moves{moved(30_000, to("2RO")), moved(45_000, to("1R"))}, earlier: []past.Visit{visit(45_000, "2RO", a)}, ago: []float64{5000}, turned: true},
		{name: "a winter on the shelf does not count", today: visit(50_000, "2R", a), moves: []past.Moves{moved(42_000, stored), moved(48_000, to("2R"))},
			earlier: []past.Visit{visit(40_000, "2R", a)}, ago: []float64{4000}},
		{name: "from an outer dual to a steer axle it is turned", today: visit(50_000, "1R", a), moves: []past.Moves{moved(30_000, to("2RO")), moved(45_000, to("1R"))},
			earlier: []past.Visit{visit(40_000, "2RO", a)}, ago: []float64{10_000}, turned: true},
		{name: "a rotation written down as work only", today: visit(50_000, "2R", ""), earlier: []past.Visit{visit(40_000, "2R", ""), visit(47_000, "2R", "")},
			notes: []past.Work{noted(finding.DoneTiresRotated, 45_000)}, ago: []float64{3000}, stayed: true},
		{name: "a rotation at a visit comes after what it found", today: visit(50_000, "2R", ""), earlier: []past.Visit{visit(45_000, "2R", "")},
			notes: []past.Work{noted(finding.DoneTiresRotated, 45_000)}},
		{name: "a rotation of which nobody knows when", today: visit(50_000, "2R", ""), earlier: []past.Visit{visit(45_000, "2R", "")},
			notes: []past.Work{noted(finding.DoneTiresRotated, 0)}},
		{name: "named as if it had stayed", today: visit(50_000, "2R", a), earlier: []past.Visit{visit(45_000, "2R", a)}, notes: []past.Work{noted(finding.DoneTiresRotated, 47_000)}},
		{name: "rotated at other wheels", today: visit(50_000, "2R", ""), earlier: []past.Visit{visit(45_000, "2R", "")},
			notes: []past.Work{noted(finding.DoneTiresRotated, 47_000, "1L", "1R")}, ago: []float64{5000}, stayed: true},
		{name: "a visit that exchanges a tire may have read the new one", today: visit(50_000, "2R", ""), earlier: []past.Visit{visit(45_000, "2R", ""), visit(44_000, "2R", "")},
			notes: []past.Work{noted(finding.DoneTiresReplaced, 45_000, "2R")}, ago: []float64{5000}, stayed: true},
		{name: "found before it was fitted", today: visit(50_000, "2R", a), tire: past.Tire{ID: a, Fitted: miles(45_000)},
			earlier: []past.Visit{visit(45_000, "2R", ""), visit(46_000, "2R", "")}, ago: []float64{4000}, stayed: true},
		{name: "an odometer that fell, and none", today: visit(50_000, "2R", ""), earlier: []past.Visit{visit(60_000, "2R", ""), {Wheels: visit(0, "2R", "").Wheels}}},
		{name: "no odometer today", today: past.Visit{Wheels: visit(0, "2R", "").Wheels}, earlier: []past.Visit{visit(40_000, "2R", "")}},
		{name: "the spare", today: visit(50_000, "S", a), earlier: []past.Visit{visit(40_000, "2R", a)}},
		{name: "a visit that was replaced", today: visit(50_000, "2R", ""), earlier: func() []past.Visit {
			wrong, right := visit(40_000, "2R", ""), visit(41_000, "2R", "")
			wrong.ID, right.Corrects = "wrong", "wrong"
			return []past.Visit{wrong, right}
		}(), ago: []float64{9000}, stayed: true},
		{name: "moved since, and nobody wrote it down", today: visit(50_000, "2R", a), moves: []past.Moves{moved(45_000, to("1L"))},
			earlier: []past.Visit{visit(47_000, "1L", a)}, ago: []float64{3000}},
		{name: "other dates on the sidewalls", today: made(visit(50_000, "2R", ""), "2324"), earlier: []past.Visit{made(visit(40_000, "2R", ""), "1120")}},
		{name: "one of them not read", today: made(visit(50_000, "2R", ""), "2324"), earlier: []past.Visit{visit(40_000, "2R", "")}, ago: []float64{10_000}, stayed: true},
	} {
		got := past.Of(c.today, c.earlier, c.moves, c.notes).Before(0, c.tire)
		if !slices.EqualFunc(got, c.ago, func(b past.Before, ago float64) bool { return isMiles(&b.Ago, ago) }) {
			t.Errorf("%s: %+v, want %v", c.name, got, c.ago)
			continue
		}
		for _, b := range got {
			if w := c.earlier[b.Visit].Wheels[b.Wheel]; w.At != b.At {
				t.Errorf("%s: a reading of %v is said to be of %v", c.name, w.At, b.At)
			}
		}
		if len(got) > 0 && (got[0].Turned != c.turned || got[0].Stayed != c.stayed) {
			t.Errorf("%s: turned %v, stayed %v", c.name, got[0].Turned, got[0].Stayed)
		}
	}
}

// Work of earlier times comes with its own day or odometer and is none of the visit.
func TestWorkOfAVisit(t *testing.T) {
	today, before := unit.Date{Year: 2026, Month: 6, Day: 15}, unit.Date{Year: 2026, Month: 6, Day: 14}
	v := past.Visit{Day: today, Odometer: miles(1000)}
	for i, c := range []struct {
		done past.Work
		want bool
	}{
		{past.Work{}, true},
		{past.Work{Day: today, Odometer: miles(1000)}, true},
		{past.Work{Day: before}, false},
		{past.Work{Odometer: miles(900)}, false},
	} {
		if got := v.Did(c.done); got != c.want {
			t.Errorf("%d: of this visit %v", i, got)
		}
		v.Work = []past.Work{c.done}
		if got := len(past.Of(v, nil, nil, nil).Done()) == 1; got != c.want {
			t.Errorf("%d: done today %v", i, got)
		}
	}
	if v.Odometer = nil; v.Did(past.Work{Odometer: miles(900)}) {
		t.Error("at an odometer that this visit does not know")
	}
}

// The last time that a wheel was off counts, whatever the order of the visits, and the
// checks since then.
func TestLastTimeOff(t *testing.T) {
	wheel := func(odometer float64, off, check bool) past.Visit {
		v := visit(odometer, "1L", "")
		if v.Wheels[0].Fasteners = off; check {
			v.Wheels[0].Recheck = &past.Recheck{}
		}
		return v
	}
	off, checked := wheel(1000, true, true), wheel(1070, false, true)
	again := past.Visit{Odometer: miles(1500), Work: []past.Work{noted(finding.DoneWheelsOff, 0, "1L")}}
	other := past.Visit{Odometer: miles(1600), Work: []past.Work{noted(finding.DoneWheelsOff, 0, "1R")}}
	told := past.Visit{Odometer: miles(1700), Work: []past.Work{noted(finding.DoneTiresRotated, 900)}}
	rotated := past.Visit{Odometer: miles(1800), Work: []past.Work{noted(finding.DoneTiresRotated, 0)}}
	for _, c := range []struct {
		name   string
		early  []past.Visit
		today  past.Visit
		ago    float64 // mi, -1: never off
		checks []int   // by visit
		after  float64 // of the first of them
	}{
		{"never off", []past.Visit{checked}, wheel(2000, false, false), -1, []int{0}, -1},
		{"off and checked", []past.Visit{off, checked}, wheel(2000, false, false), 1000, []int{1}, 70},
		{"told the other way round", []past.Visit{checked, off}, wheel(2000, false, false), 1000, []int{0}, 70},
		{"off again", []past.Visit{off, checked, again}, wheel(2000, false, false), 500, nil, 0},
		{"off again, told first", []past.Visit{again, other, off, checked}, wheel(2000, false, false), 500, nil, 0},
		{"a check at the visit itself was of the torque before", []past.Visit{off}, wheel(2000, false, false), 1000, nil, 0},
		{"checked today", []past.Visit{off}, wheel(1080, false, true), 80, []int{past.Today}, 80},
		{"a rotation told of earlier times", []past.Visit{off, told}, wheel(2000, false, false), 1000, nil, 0},
		{"a rotation of the visit takes all wheels off", []past.Visit{off, rotated}, wheel(2000, false, false), 200, nil, 0},
	} {
		off, checks := past.Of(c.today, c.early, nil, nil).Fastened(0)
		if c.ago < 0 != (off == nil) || off != nil && !isMiles(off.Ago, c.ago) {
			t.Errorf("%s: off %+v", c.name, off)
		}
		if !slices.EqualFunc(checks, c.checks, func(k past.Check, visit int) bool { return k.Visit == visit && k.Wheel == 0 && k.Odo }) {
			t.Errorf("%s: checks %+v", c.name, checks)
		} else if len(checks) > 0 && !isMiles(checks[0].After, c.after) {
			t.Errorf("%s: checked after %v", c.name, checks[0].After)
		}
	}
}

// A wheel was off today when its fasteners were worked on or the work says so.
func TestOffToday(t *testing.T) {
	for _, c := range []struct {
		name string
		v    past.Visit
		want bool
	}{
		{"nothing told", past.Visit{}, false},
		{"fasteners", past.Visit{Wheels: []past.Wheel{{At: at("1L"), Fasteners: true}}}, true},
		{"brakes of this wheel", past.Visit{Work: []past.Work{noted(finding.DoneBrakeWork, 0, "1L")}}, true},
		{"brakes of another", past.Visit{Work: []past.Work{noted(finding.DoneBrakeWork, 0, "1R")}}, false},
		{"an alignment takes none off", past.Visit{Work: []past.Work{noted(finding.DoneAlignmentSet, 0)}}, false},
	} {
		if len(c.v.Wheels) == 0 {
			c.v.Wheels = []past.Wheel{{At: at("1L")}}
		}
		if got := past.Of(c.v, nil, nil, nil).Off(0); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

// When tires changed places or were exchanged, by all that is on record.
func TestChanged(t *testing.T) {
	today := visit(50_000, "1L", "")
	today.Work = []past.Work{{Kind: finding.DoneTireMounted}, {Kind: finding.DoneAlignmentSet}}
	r := past.Of(today, []past.Visit{toldMoved(visit(45_000, "1L", "")), visit(46_000, "1L", "")},
		[]past.Moves{moved(40_000, to("1L"), past.Move{Tire: b, To: at("2L")}), moved(41_000, stored)},
		[]past.Work{noted(finding.DoneSeasonChanged, 0), noted(finding.DoneTiresReplaced, 30_000)})
	want := []float64{-1, 20_000, 0, 10_000, 9000, 5000}
	if got := r.Changed(); !slices.EqualFunc(got, want, isMiles) {
		t.Errorf("%v, want %v", got, want)
	}
	rotations := 0
	for _, w := range r.Work() {
		if w.Kind == finding.DoneTiresRotated {
			rotations++
		}
	}
	if rotations != 1 {
		t.Errorf("%d rotations: moves of two tires at a time are one, of one tire none", rotations)
	}
}

// The tire that a move brought to a place is there until a later one takes it away.
func TestMovedTo(t *testing.T) {
	for _, c := range []struct {
		name  string
		moves []past.Moves
		want  string
	}{
		{"no move", nil, ""},
		{"moved there", []past.Moves{moved(1, to("1L"))}, a},
		{"and away", []past.Moves{moved(1, to("1L")), moved(2, to("2R"))}, ""},
		{"and away, told first", []past.Moves{moved(2, to("2R")), moved(1, to("1L"))}, ""},
		{"and onto the shelf", []past.Moves{moved(1, to("1L")), moved(2, stored)}, ""},
		{"another in its place", []past.Moves{moved(1, to("1L")), moved(2, past.Move{Tire: b, To: at("1L")})}, b},
	} {
		if got := past.Of(past.Visit{}, nil, c.moves, nil).MovedTo(at("1L")); got != c.want {
			t.Errorf("%s: %q", c.name, got)
		}
	}
}

// A falling odometer tells nothing of how far the vehicle has run.
func TestAgo(t *testing.T) {
	for _, c := range []struct {
		now, then *unit.Distance
		want      float64
	}{
		{miles(1000), miles(900), 100}, {miles(1000), miles(1000), 0}, {miles(1000), miles(1001), -1}, {nil, miles(900), -1}, {miles(1000), nil, -1},
	} {
		if got := past.Of(past.Visit{Odometer: c.now}, nil, nil, nil).Ago(c.then); !isMiles(got, c.want) {
			t.Errorf("now %v, then %v: %v", c.now, c.then, got)
		}
	}
}

// The latest visit is so by day where all days are told, else by odometer, last by the
// clock of who took it.
func TestLatest(t *testing.T) {
	day := func(d int) unit.Date { return unit.Date{Year: 2026, Month: 6, Day: d} }
	hour := func(h int) time.Time { return time.Date(2026, 6, 15, h, 0, 0, 0, time.UTC) }
	for _, c := range []struct {
		name   string
		visits []past.Visit
		want   int
	}{
		{"none", nil, -1},
		{"by day, whatever the odometer", []past.Visit{{Day: day(15), Odometer: miles(1)}, {Day: day(14), Odometer: miles(2)}}, 0},
		{"on one day by the odometer", []past.Visit{{Day: day(15), Odometer: miles(1)}, {Day: day(15), Odometer: miles(2)}}, 1},
		{"one day not told", []past.Visit{{Day: day(15), Odometer: miles(1)}, {Odometer: miles(2)}}, 1},
		{"by the clock", []past.Visit{{Taken: hour(9)}, {Taken: hour(11)}, {Taken: hour(10)}}, 1},
	} {
		if got := past.Latest(c.visits); got != c.want {
			t.Errorf("%s: %d", c.name, got)
		}
	}
}

// The date is the last four characters (49 CFR 574.5).
func TestDateCode(t *testing.T) {
	for id, want := range map[string]string{"": "", "23": "23", "2324": "2324", "DOT 1AB CD EF 2324": "2324"} {
		if got := past.DateCode(id); got != want {
			t.Errorf("%q: %q", id, got)
		}
	}
}

// A wheel that names no tire has the one last mounted there, unless the visit found that
// one elsewhere.
func TestSeat(t *testing.T) {
	mounted := map[layout.Position]string{at("1L"): a, at("1R"): b}
	for _, c := range []struct {
		name   string
		wheels []past.Wheel
		want   []string
	}{
		{"named", []past.Wheel{{At: at("1L"), Tire: "c"}}, []string{"c"}},
		{"not named", []past.Wheel{{At: at("1L")}, {At: at("1R")}}, []string{a, b}},
		{"found elsewhere", []past.Wheel{{At: at("1L")}, {At: at("2R"), Tire: a}}, []string{"", a}},
		{"nothing was mounted there", []past.Wheel{{At: at("2R")}}, []string{""}},
	} {
		if got := past.Seat(mounted, c.wheels); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
