package fastener

import (
	"math/rand/v2"
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

func ftLb(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.PoundFeet} }

func mi(n float64) *unit.Distance { return new(unit.MustDistance(n, unit.Miles)) }

// done is the whole record of a wheel put back as it should be.
func done(change func(*Work)) *Work {
	w := &Work{Counted: new(5), Damaged: new(0), Replaced: new(0), FacesCleaned: finding.Yes, Torque: ftLb(100), Tool: HandWrench, Staged: finding.Yes, Named: true}
	if change != nil {
		change(w)
	}
	return w
}

func checked(change func(*Recheck)) Recheck {
	c := Recheck{Today: true, Torque: ftLb(100), Odo: true, Named: true, Cool: finding.Yes, Moved: finding.No}
	if change != nil {
		change(&c)
	}
	return c
}

func says(r Result) (all []string) {
	for _, f := range r.Findings {
		all = append(all, string(f.Code))
	}
	slices.Sort(all)
	return all
}

var at = layout.MustParse("1L")

func one(w Wheel) Result {
	w.At = at
	return Judge(Vehicle{Each: 5, Torque: ftLb(100), Wheels: []Wheel{w}})
}

// What was done about one wheel that was off (common practice; the torque
// wrench's ±4 percent is that of ISO 6789, from memory).
func TestWork(t *testing.T) {
	for _, c := range []struct {
		name   string
		broken int
		work   *Work
		want   []string
		right  bool // all put right
		ask    bool
	}{
		{"as it should be", 0, done(nil), nil, true, false},
		{"nothing told", 0, &Work{}, []string{"torque.no-record"}, false, true},
		{"one stud fewer than the vehicle has", 0, done(func(w *Work) { w.Counted = new(4) }), []string{"fastener.count-differs"}, false, false},
		{"one more", 0, done(func(w *Work) { w.Counted = new(6) }), []string{"fastener.count-differs"}, false, false},
		{"not counted", 0, done(func(w *Work) { w.Counted = nil }), nil, false, true},
		{"two damaged, one renewed", 0, done(func(w *Work) { w.Damaged, w.Replaced = new(2), new(1) }), []string{"fastener.damaged"}, false, false},
		{"two damaged, two renewed", 0, done(func(w *Work) { w.Damaged, w.Replaced = new(2), new(2) }), nil, true, false},
		{"one broken, only it renewed", 1, done(func(w *Work) { w.Damaged, w.Replaced = new(1), new(1) }), []string{"fastener.too-few-renewed"}, false, false},
		{"one broken, its neighbors too", 1, done(func(w *Work) { w.Damaged, w.Replaced = new(1), new(3) }), nil, true, false},
		{"two broken, four renewed", 2, done(func(w *Work) { w.Damaged, w.Replaced = new(2), new(4) }), []string{"fastener.too-few-renewed"}, false, false},
		{"two broken, all renewed", 2, done(func(w *Work) { w.Damaged, w.Replaced = new(2), new(5) }), nil, true, false},
		{"faces not cleaned", 0, done(func(w *Work) { w.FacesCleaned = finding.No }), []string{"fastener.faces-not-cleaned"}, false, false},
		{"faces not told", 0, done(func(w *Work) { w.FacesCleaned = finding.NotAsked }), nil, false, true},
		{"not in stages", 0, done(func(w *Work) { w.Staged = finding.No }), []string{"fastener.not-staged"}, true, false},
		{"round the circle", 0, done(func(w *Work) { w.Round = true }), []string{"fastener.not-staged"}, true, false},
		{"torque-limiting stick", 0, done(func(w *Work) { w.Tool = LimitingStick }), []string{"torque.no-record"}, false, false},
		{"impact wrench alone", 0, done(func(w *Work) { w.Tool = ImpactOnly }), []string{"torque.no-record"}, false, false},
		{"tool not told", 0, done(func(w *Work) { w.Tool = ToolNotTold }), []string{"torque.no-record"}, false, false},
		{"tool of a newer client", 0, done(func(w *Work) { w.Tool = 99 }), []string{"torque.no-record"}, false, false},
		{"tool that controls the torque", 0, done(func(w *Work) { w.Tool = ControlledTool }), nil, true, false},
		{"no value", 0, done(func(w *Work) { w.Torque = unit.Amount{} }), []string{"torque.no-record"}, false, false},
		{"90 where 100 is asked", 0, done(func(w *Work) { w.Torque = ftLb(90) }), []string{"torque.differs"}, false, false},
		{"110 where 100 is asked", 0, done(func(w *Work) { w.Torque = ftLb(110) }), []string{"torque.differs"}, false, false},
		{"136 N·m where 100 lb·ft is asked", 0, done(func(w *Work) { w.Torque = unit.Amount{Number: 136, Unit: unit.NewtonMeters} }), nil, true, false},
		{"100 N·m where 100 lb·ft is asked", 0, done(func(w *Work) { w.Torque = unit.Amount{Number: 100, Unit: unit.NewtonMeters} }), []string{"torque.differs"}, false, false},
		{"nobody's name", 0, done(func(w *Work) { w.Named = false }), nil, true, true},
	} {
		r := one(Wheel{Broken: c.broken, Work: c.work})
		if got := says(r); !slices.Equal(got, c.want) || (len(r.PutRight) == 1) != c.right || (len(r.Asked) == 1) != c.ask {
			t.Errorf("%s: %v, put right %v, asked %v", c.name, got, r.PutRight, r.Asked)
		}
		for _, f := range r.Findings {
			grave := f.Code == finding.FastenerDamaged || f.Code == finding.TorqueNoRecord && c.work.Torque.IsZero() || f.Code == finding.FastenerCountDiffers && *c.work.Counted < 5
			if (f.Urgency == finding.BeforeDriving) != grave || f.Urgency != finding.Note && f.Caution == "" {
				t.Errorf("%s: %s has urgency %d, caution %q", c.name, f.Code, f.Urgency, f.Caution)
			}
		}
	}
}

// No figure told: no torque of our own, and nothing to hold a value against.
func TestNoFigureOfOurOwn(t *testing.T) {
	r := Judge(Vehicle{Wheels: []Wheel{{At: at, Work: done(func(w *Work) { w.Torque = ftLb(10) })}}})
	if len(r.Findings) != 0 || len(r.Recorded) != 1 {
		t.Errorf("%v", r)
	}
}

// One broken stud: it and its neighbors; more: all of that wheel (common practice).
func TestRenewals(t *testing.T) {
	for _, c := range []struct {
		each, broken int
		work         *Work
		want         []Renewal
	}{
		{5, 0, nil, nil},
		{5, 1, nil, []Renewal{{at, false, 3}}},
		{0, 1, nil, []Renewal{{at, false, 3}}},
		{5, 2, nil, []Renewal{{at, true, 5}}},
		{0, 2, nil, []Renewal{{at, true, 0}}},
		{0, 2, done(func(w *Work) { w.Counted, w.Replaced = new(8), new(8) }), nil},
		{0, 2, done(func(w *Work) { w.Counted, w.Replaced = nil, new(8) }), []Renewal{{at, true, 0}}},
		{5, 1, done(func(w *Work) { w.Replaced = new(3) }), nil},
		{5, 1, done(func(w *Work) { w.Replaced = new(2) }), []Renewal{{at, false, 3}}},
	} {
		if got := Judge(Vehicle{Each: c.each, Wheels: []Wheel{{At: at, Broken: c.broken, Work: c.work}}}).Renew; !slices.Equal(got, c.want) {
			t.Errorf("%d broken of %d: %v, want %v", c.broken, c.each, got, c.want)
		}
	}
}

// The check is owed 50 to 100 miles after a wheel was off (common practice of the
// trade press); of a trailer after 10, 25 and 50 (common practice). Value,
// odometer and name close it, with the wheel not warm.
func TestRecheck(t *testing.T) {
	later := func(n float64, change func(*Recheck)) []Recheck {
		c := checked(change)
		c.After = mi(n)
		return []Recheck{c}
	}
	for _, c := range []struct {
		name    string
		trailer bool
		ago     *unit.Distance
		checks  []Recheck
		want    []string
		due     []float64 // miles from now, first and last of each
	}{
		{"20 miles: not yet", false, mi(20), nil, nil, []float64{30, 80}},
		{"80 miles: owed", false, mi(80), nil, []string{"torque.recheck-owed"}, nil},
		{"exactly 50 miles", false, mi(50), nil, []string{"torque.recheck-owed"}, nil},
		{"trailer, exactly 10 miles", true, mi(10), nil, []string{"torque.recheck-owed"}, []float64{15, 15, 40, 40}},
		{"5,000 miles: still owed", false, mi(5000), nil, []string{"torque.recheck-owed"}, nil},
		{"distance not known", false, nil, nil, []string{"torque.recheck-owed"}, nil},
		{"checked today", false, mi(80), later(80, nil), nil, nil},
		{"checked late: it counts", false, mi(300), later(300, nil), []string{"torque.recheck-late"}, nil},
		{"101 miles by whole-mile odometers", false, mi(101), later(101, nil), nil, nil},
		{"late, and one moved", false, mi(300), later(300, func(c *Recheck) { c.Moved = finding.Yes }), []string{"torque.fastener-moved"}, nil},
		{"checked before", false, mi(5000), later(60, func(c *Recheck) { c.Today = false }), nil, nil},
		{"checked too early", false, mi(5000), later(20, func(c *Recheck) { c.Today = false }), []string{"torque.recheck-owed"}, nil},
		{"49.6 miles by whole-mile odometers", false, mi(60), later(49.6, nil), nil, nil},
		{"no value", false, mi(80), later(80, func(c *Recheck) { c.Torque = unit.Amount{} }), []string{"torque.recheck-incomplete"}, nil},
		{"no odometer", false, mi(80), later(80, func(c *Recheck) { c.Odo = false }), []string{"torque.recheck-incomplete"}, nil},
		{"no name", false, mi(80), later(80, func(c *Recheck) { c.Named = false }), []string{"torque.recheck-incomplete"}, nil},
		{"wheel warm", false, mi(80), later(80, func(c *Recheck) { c.Cool = finding.No }), []string{"torque.recheck-incomplete"}, nil},
		{"nobody told whether cool", false, mi(80), later(80, func(c *Recheck) { c.Cool = finding.NotAsked }), nil, nil},
		{"one moved", false, mi(80), later(80, func(c *Recheck) { c.Moved = finding.Yes }), []string{"torque.fastener-moved"}, nil},
		{"at another torque", false, mi(80), later(80, func(c *Recheck) { c.Torque = ftLb(80) }), []string{"torque.differs"}, nil},
		{"trailer, 5 miles", true, mi(5), nil, nil, []float64{5, 5, 20, 20, 45, 45}},
		{"trailer, 12 miles", true, mi(12), nil, []string{"torque.recheck-owed"}, []float64{13, 13, 38, 38}},
		{"trailer, 12 miles, checked", true, mi(12), later(12, nil), nil, []float64{13, 13, 38, 38}},
		{"trailer, 60 miles, checked at 12", true, mi(60), later(12, func(c *Recheck) { c.Today = false }), []string{"torque.recheck-owed"}, nil},
		{"trailer, 60 miles, checked at 52", true, mi(60), later(52, nil), nil, nil},
	} {
		v := Vehicle{Each: 5, Torque: ftLb(100), Wheels: []Wheel{{At: at, Before: &Off{c.ago}, Checks: c.checks}}}
		if c.trailer {
			v.Layout.Class = layout.Trailer
		}
		r := Judge(v)
		var due []float64
		for _, d := range r.Due {
			due = append(due, d.From.Number, d.By.Number)
		}
		if !slices.Equal(says(r), c.want) || !slices.Equal(due, c.due) {
			t.Errorf("%s: %v, due %v", c.name, says(r), due)
		}
	}
}

// What a check lacks is told with it, each by itself, and no more.
func TestWhatACheckLacks(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*Recheck)
		want   []finding.Fact
	}{
		{"its value", func(c *Recheck) { c.Torque = unit.Amount{} }, []finding.Fact{finding.FactTorqueValueNotTold}},
		{"the odometer", func(c *Recheck) { c.Odo = false }, []finding.Fact{finding.FactTorqueOdometerNotTold}},
		{"a name", func(c *Recheck) { c.Named = false }, []finding.Fact{finding.FactTorqueNameNotTold}},
		{"a cool wheel", func(c *Recheck) { c.Cool = finding.No }, []finding.Fact{finding.FactTorqueWheelWarm}},
		{"odometer and name", func(c *Recheck) { c.Odo, c.Named = false, false }, []finding.Fact{finding.FactTorqueOdometerNotTold, finding.FactTorqueNameNotTold}},
	} {
		check := checked(c.change)
		check.After = mi(80)
		var got []finding.Fact
		for _, f := range Judge(Vehicle{Each: 5, Torque: ftLb(100), Wheels: []Wheel{{At: at, Before: &Off{mi(80)}, Checks: []Recheck{check}}}}).Findings {
			for _, e := range f.Evidence {
				got = append(got, e.Code)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// A wheel that is off today owes the check of today's torque; one that was never
// off owes none, and a check of it is a check all the same.
func TestWhatIsOwedNoMore(t *testing.T) {
	for name, w := range map[string]Wheel{
		"off again":  {Work: done(nil), Before: &Off{mi(5000)}},
		"never off":  {},
		"only check": {Checks: []Recheck{checked(nil)}},
	} {
		r := one(w)
		if len(r.Findings)+len(r.Due) != 0 || (len(r.Held) == 1) != (name == "only check") {
			t.Errorf("%s: %+v", name, r)
		}
	}
}

// What moved at a check speaks against a wheel put right; the order of wheels and
// checks changes nothing.
func TestOrder(t *testing.T) {
	moved := checked(func(c *Recheck) { c.Moved = finding.Yes })
	if r := one(Wheel{Work: done(nil), Checks: []Recheck{moved}}); len(r.PutRight) != 0 {
		t.Errorf("%+v", r)
	}
	early := checked(func(c *Recheck) { c.Today, c.After = false, mi(10) })
	right := checked(func(c *Recheck) { c.Today, c.After = false, mi(70) })
	ws := []Wheel{
		{At: at, Work: done(func(w *Work) { w.Tool = ImpactOnly })},
		{At: at.Mirror(), Before: &Off{mi(80)}, Checks: []Recheck{early, right}},
		{At: layout.MustParse("2L"), Before: &Off{mi(80)}, Broken: 1},
	}
	want := Judge(Vehicle{Wheels: ws})
	for seed := range uint64(20) {
		r := rand.New(rand.NewPCG(seed, 1))
		r.Shuffle(len(ws), func(i, k int) { ws[i], ws[k] = ws[k], ws[i] })
		for _, w := range ws {
			r.Shuffle(len(w.Checks), func(i, k int) { w.Checks[i], w.Checks[k] = w.Checks[k], w.Checks[i] })
		}
		got := Judge(Vehicle{Wheels: ws})
		same := slices.EqualFunc(got.Findings, want.Findings, func(a, b finding.Finding) bool { return a.ID() == b.ID() })
		if !same || !slices.Equal(got.Renew, want.Renew) || !slices.Equal(got.Due, want.Due) {
			t.Fatalf("%+v\nnot %+v", got, want)
		}
	}
}
