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
}

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
	t.setAsideOdd()
	t.setAsideBeforeGrowth()
	t.setAsideBreakIn(isNew)
	t.Line, t.Known = Fit(t.Used)
	t.Linear = t.linear()
	return t
}

func rises(points []Point) (out []Rise) {
	for i := 1; i < len(points); i++ {
		if points[i].Depth.Of-points[i-1].Depth.Of >= Growth() {
			out = append(out, Rise{points[i-1], points[i]})
		}
	}
	return out
}

func (t *Trend) set(aside int, why Why) {
	t.Aside = append(t.Aside, Aside{t.Used[aside], why})
	t.Used = slices.Delete(t.Used, aside, aside+1)
}

// setAsideOdd sets aside single readings that stand alone, at most one in four: the
// largest residual against a line through the others, by the externally studentized
// residual with Bonferroni's correction for having looked at all of them.
func (t *Trend) setAsideOdd() {
	for most := len(t.Used) / 4; most > 0; most-- {
		i, ok := odd(t.Used)
		if !ok {
			return
		}
		t.set(i, Odd)
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
			worst, most, off = i, z2, math.Abs(e/alone)
		}
	}
	others := max(0, l.squares-most) // of a line without it
	level := 1 - (1-confidence)/float64(len(points))
	explained, quantile := judgeScatter(others, free, level)
	wider := math.Sqrt(others / float64(free))
	if explained {
		wider = max(1, wider)
	}
	return worst, off >= float64(Growth()) && math.Sqrt(most) > quantile*wider
}

func (t *Trend) setAsideBeforeGrowth() {
	for i := len(t.Used) - 1; i > 0; i-- {
		if t.Used[i].Depth.Of-t.Used[i-1].Depth.Of < Growth() {
			continue
		}
		for range i {
			t.set(0, BeforeGrowth)
		}
		return
	}
}

// setAsideBreakIn leaves the faster wear of a new tire out where enough readings
// come after it.
func (t *Trend) setAsideBreakIn(isNew *unit.Distance) {
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
		t.set(0, BreakingIn)
	}
}

func (t *Trend) linear() Linear {
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
