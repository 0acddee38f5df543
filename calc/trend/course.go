package trend

import (
	"cmp"
	"math"
	"slices"

	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
)

var book = rulebook.Must("trend")

func distance(id string) unit.Distance {
	v := book.Limit(id).Value
	return unit.MustDistance(v.Number, v.Unit)
}

func breakIn() unit.Distance { return distance("break-in") }

// intervals are the least of measurement that linear wear is told from.
func intervals() int { return int(book.Limit("linear-intervals").Value.Number) }

// Due is how near a limit has to be to be planned for.
func Due() unit.Distance { return distance("due") }

// Growth is the rise from which two readings are asked about.
func Growth() unit.Depth { return book.Limit("growth").Depth() }

// NewDepth is a depth when new by design, told for the groove or for the whole
// tire, as sure as the trend book takes it: a rectangular distribution.
func NewDepth(d unit.Depth, ofGroove bool) measure.Value[unit.Depth] {
	within := "new-of-tire"
	if ofGroove {
		within = "new-of-groove"
	}
	return measure.Gauge[unit.Depth]{Accuracy: book.Limit(within).Depth()}.Read(d)
}

// Why is the reason for which a reading does not shape the line. It still counts
// for every limit.
type Why uint8

// Reasons.
const (
	WhyNotTold   Why = iota
	Odd              // no line through the others comes near it
	BeforeGrowth     // of another tire or of a misreading, as far as can be told
	BreakingIn       // within break-in of new, with enough readings after it
)

// Aside is a reading set aside.
type Aside struct {
	Point
	Why Why
}

// Rise is tread that grew between two readings by more than noise.
type Rise struct{ From, To Point }

// By is how much it grew.
func (r Rise) By() unit.Depth { return r.To.Depth.Of - r.From.Depth.Of }

// Linear says whether wear is linear.
type Linear uint8

// Answers on linear wear.
const (
	LinearNotTold Linear = iota // too few intervals, or the gauge's noise hides it
	IsLinear
	NotLinear // the line explains too little, and the gauge's noise does not explain the rest
)

// Trend is what the readings of one place across one tire come to.
type Trend struct {
	Line   Line
	Known  bool    // a line could be drawn
	Used   []Point // by distance
	Aside  []Aside
	Rises  []Rise
	Linear Linear
	Bent   bool    // the newest reading is off the line of the older ones by more than noise, and by less than Turned
	Turned *Turn   // the newest reading contradicts the line of the older ones; nil: it does not
	Latest Point   // the newest reading
	Recent float64 // unit.Depth lost for each unit.Distance since the reading before the newest; 0 or less: nothing lost
}

// Turn is a newest reading that no line through the older ones comes near. It may be
// misread or of another tire, or the tire wears otherwise than it did: the older ones
// tell nothing of what comes.
type Turn struct {
	Newest   Point
	Expected measure.Value[unit.Depth] // by the line of the older ones, as one more reading would be
}

// Off is how far the newest reading lies from where the older ones put it.
func (t Turn) Off() unit.Depth {
	d := t.Newest.Depth.Of - t.Expected.Of
	return max(d, -d)
}

// Foretells tells that the line says how long the tire lasts: one is drawn, its newest
// reading agrees with it, and what it leaves over is the gauge's noise.
func (t Trend) Foretells() bool { return t.Known && t.Turned == nil && t.Linear != NotLinear }

// Unsteady tells that a life is told by a line that is not all that is known of the wear: the
// gauge's noise does not explain what it leaves over.
func (t Trend) Unsteady() bool { return t.Foretells() && (t.Bent || !t.Line.Explained()) }

// Follow draws the line through what can be of one tire wearing steadily. The
// order of the points does not matter. isNew is the distance at which the tire was
// new, nil when not known; an assumed point tells it too.
func Follow(points []Point, isNew *unit.Distance) Trend {
	var t Trend
	t.Used = slices.Clone(points)
	slices.SortFunc(t.Used, func(a, b Point) int {
		return cmp.Or(cmp.Compare(a.Run, b.Run), a.Day.Compare(b.Day), -cmp.Compare(a.Depth.Of, b.Depth.Of), cmp.Compare(a.Depth.Std, b.Depth.Std))
	})
	t.Rises = rises(t.Used)
	t.Latest, t.Recent = recent(t.Used)
	setAsideOdd(&t)
	setAsideBeforeGrowth(&t)
	t.Turned, t.Bent = turned(t.Used)
	setAsideBreakIn(&t, isNew)
	t.Line, t.Known = Fit(t.Used)
	t.Linear = linear(&t)
	return t
}

// recent is the newest reading and the rate since the one before it.
func recent(points []Point) (newest Point, rate float64) {
	if len(points) == 0 {
		return newest, 0
	}
	newest = points[len(points)-1]
	for _, p := range slices.Backward(points) {
		if run := newest.Run - p.Run; run > 0 {
			return newest, float64(p.Depth.Of-newest.Depth.Of) / float64(run)
		}
	}
	return newest, 0
}

// LookAgain is how far from the newest reading a limit is reached at the fastest rate
// known: the line's, or that since the reading before. ok is false where the limit is
// reached already, or nothing was lost.
func (t Trend) LookAgain(limit unit.Depth) (ahead unit.Distance, ok bool) {
	rate := t.Recent
	if t.Known {
		rate = max(rate, -t.Line.rate)
	}
	left := float64(t.Latest.Depth.Of - limit)
	if left <= 0 || rate <= 0 || left/rate > float64(farthest) {
		return 0, false
	}
	return unit.Distance(left / rate), true
}

// turned holds the newest reading against a line through the older ones, from two of
// them on: further from it than their scatter and the gauge's noise explain, and by a
// distance that would be asked about if it were growth. By less than that the wear is bent.
func turned(points []Point) (turn *Turn, bent bool) {
	last := len(points) - 1
	if last < 2 {
		return nil, false
	}
	newest := points[last]
	l, ok := Fit(points[:last])
	if !ok {
		return nil, false
	}
	expected := l.level + float64(l.rate*(float64(newest.Run)-l.center))
	off := float64(newest.Depth.Of) - expected
	scatter := max(newest.Depth.Std, 1)
	if !l.explained {
		scatter = max(scatter, l.scatter*scatter)
	}
	known := math.Hypot(math.Hypot(l.levelStd, float64(l.rateSD*(float64(newest.Run)-l.center))), scatter)
	switch {
	case math.Abs(off) <= float64(l.quantile*known):
		return nil, false
	case !askedAbout(off):
		return nil, true
	}
	return &Turn{Newest: newest, Expected: measure.Value[unit.Depth]{Of: unit.Depth(math.Round(expected)), Std: known}}, false
}

// askedAbout tells that a distance from a line would be asked about if it were growth.
// It counts in whole depths: what sums leave over after that is rounding.
func askedAbout(off float64) bool { return unit.Depth(math.Round(math.Abs(off))) >= Growth() }

func rises(points []Point) (out []Rise) {
	for i := 1; i < len(points); i++ {
		if points[i].Depth.Of-points[i-1].Depth.Of >= Growth() {
			out = append(out, Rise{points[i-1], points[i]})
		}
	}
	return out
}

func set(t *Trend, aside int, why Why) {
	t.Aside = append(t.Aside, Aside{t.Used[aside], why})
	t.Used = slices.Delete(t.Used, aside, aside+1)
}

// setAsideOdd sets aside single readings that stand alone, at most one in four, never
// the newest: the largest residual against a line through the others, by the externally
// studentized residual with Bonferroni's correction for having looked at all of them.
func setAsideOdd(t *Trend) {
	for most := len(t.Used) / 4; most > 0; most-- {
		i, ok := odd(t.Used)
		if !ok || t.Used[i].Run >= t.Used[len(t.Used)-1].Run {
			return
		}
		set(t, i, Odd)
	}
}

// odd gives the one reading that no line through the others comes near. Three
// others are needed to say so, and a distance from their line that would be asked
// about if it were growth: a fine gauge proves that wear is uneven, not a misreading.
func odd(points []Point) (int, bool) {
	free := len(points) - 3
	l, ok := Fit(points)
	if !ok || free < 1 {
		return 0, false
	}
	s := sumsOf(points)
	worst, most, off := 0, 0.0, 0.0
	for i, p := range points {
		x := float64(p.Run) - s.x
		alone := 1 - float64(weight(p)*(1/s.w+float64(x*x)/s.xx)) // share of it that it does not pull to itself
		if alone < 1e-9 {
			continue
		}
		e := l.residual(p)
		if z2 := float64(weight(p)*e*e) / alone; z2 > most {
			worst, most, off = i, z2, e/alone
		}
	}
	others := max(0, l.squares-most) // of a line without it
	level := 1 - (1-confidence)/float64(len(points))
	explained, quantile := judgeScatter(others, free, level)
	wider := math.Sqrt(others / float64(free))
	if explained {
		wider = max(1, wider)
	}
	return worst, askedAbout(off) && math.Sqrt(most) > quantile*wider
}

// sinceGrowth are the readings since tread grew last.
func sinceGrowth(t *Trend) []Point {
	for i := len(t.Used) - 1; i > 0; i-- {
		if t.Used[i].Depth.Of-t.Used[i-1].Depth.Of >= Growth() {
			return t.Used[i:]
		}
	}
	return t.Used
}

func setAsideBeforeGrowth(t *Trend) {
	for range len(t.Used) - len(sinceGrowth(t)) {
		set(t, 0, BeforeGrowth)
	}
}

// setAsideBreakIn leaves the faster wear of a new tire out where enough readings
// come after it.
func setAsideBreakIn(t *Trend, isNew *unit.Distance) {
	if len(t.Used) > 0 && t.Used[0].Assumed {
		isNew = &t.Used[0].Run
	}
	if isNew == nil {
		return
	}
	early := 0
	for early < len(t.Used) && t.Used[early].Run-*isNew < breakIn() {
		early++
	}
	if len(t.Used)-early <= intervals() {
		return
	}
	for range early {
		set(t, 0, BreakingIn)
	}
}

func linear(t *Trend) Linear {
	switch {
	case !t.Known || len(t.Used) <= intervals():
		return LinearNotTold
	case t.Line.RSquared() >= book.Limit("linear-share").Ratio() && t.Line.Wears():
		return IsLinear
	case t.Line.Explained():
		return LinearNotTold
	}
	return NotLinear
}
