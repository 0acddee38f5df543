package verdict

import (
	"cmp"
	"math"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/order"
	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// Engine is the version of the arithmetic and the judgement: it changes
// whenever any answer changes.
const Engine = "8"

// FirstEngine is the first version that is released: what was made before it is told as
// made since it.
const FirstEngine = "8"

// Verdict is all that is said of a visit.
type Verdict struct {
	Findings   []finding.Finding
	Closed     map[string]unit.Amount    // by finding id: the as-left reading that closes it
	Done       map[string]finding.Closed // by finding id: what was done that closes it, without a number
	Work       []order.Work
	Wheels     []Summary
	Repairs    []questions.Repair
	Checked    []questions.Checked
	NotLooked  []questions.NotLooked
	NotJudged  []visit.NotJudged
	Unanswered []questions.Asked
	Books      []rulebook.Applied
	Fits       []questions.Fit      // each tire that was read against the label, in order of position
	Axles      []questions.AxleLoad // each axle of which enough is known, from the front
	Rotation   Rotation
	Airs       questions.Airs // the pressures as they were judged, by the places that wheels were judged at
}

// Summary is one wheel's readings and what they come to.
type Summary struct {
	Position layout.Position
	Tread    *tread.Result
	ReadIn   unit.Unit // of the depths
	Pressure visit.Pressure
	Cold     inflation.Cold
	Label    unit.Pressure
	Shown    unit.Unit // of the pressures
	Full     bool      // a full turn of the tread and both sidewalls were seen
	New      unit.Depth
	NewKnown bool
}

// Rotation is what is said of the tires' places.
type Rotation struct {
	Result     rotation.Result
	Unrecorded *finding.Finding // a rotation that the depths show and nobody recorded
	Pace       *trend.Pace      // how far the vehicle is driven in a day; nil when not known
}

// Days turns a gain into days: at the mean pace, and its interval with the least and
// the most driven in any month on record. Nil: no day can be told.
func (r Rotation) Days(g rotation.Gain) (likely, low, high *int) {
	const lifetime = 30 * 365 // of a tire: nothing is told beyond it
	if r.Pace == nil {
		return nil, nil, nil
	}
	days := func(d *unit.Distance, gaining, losing unit.Distance, round func(float64) float64) *int {
		if d == nil {
			return nil
		}
		pace := gaining
		if *d < 0 {
			pace = losing
		}
		if pace <= 0 {
			return nil
		}
		n := round(float64(*d) / float64(pace))
		if math.Abs(n) > lifetime {
			return nil
		}
		whole := int(n)
		return &whole
	}
	return days(g.At, r.Pace.Mean, r.Pace.Mean, math.Round),
		days(g.Low, r.Pace.Fast, r.Pace.Slow, math.Floor), days(g.High, r.Pace.Slow, r.Pace.Fast, math.Ceil)
}

// summaries gives each wheel's readings and what they come to.
func summaries(v visit.Visit, treads questions.Treads, airs questions.Airs) []Summary {
	all := make([]Summary, 0, len(v.Wheels))
	for _, w := range v.Wheels {
		s := Summary{Position: w.Position, Pressure: w.Pressure, Cold: airs.Results[w.Position].Cold, Full: w.SeenWhole()}
		if r := treads[w.Position]; len(r.Summary.Cells) > 0 {
			s.Tread, s.ReadIn = &r, r.Summary.Governing.At.AsRead.Unit
			s.New, s.NewKnown = tread.Wheel{New: w.Tire.New}.NewAt(r.Summary.Governing.Column)
		}
		if s.Label, s.Shown = v.Labels().Cold(w.Position); w.Temporary {
			s.Label, s.Shown = v.Labels().Own(w), airs.Wheels[w.Position].ShownIn()
		}
		if s.Shown == unit.None {
			s.Shown = w.Pressure.Read
		}
		all = append(all, s)
	}
	return all
}

// inOrder sorts every list by its stated key, and shows depths in the unit of the
// country.
func (v Verdict) inOrder() Verdict {
	if rulebook.Metric(v.Books) {
		for i := range v.Findings {
			inMillimeters(&v.Findings[i])
		}
	}
	for i, f := range v.Findings {
		v.Findings[i] = f.Rounded()
	}
	finding.Sort(v.Findings)
	v.orderAnswered()
	for i := range v.Checked {
		v.Checked[i].Measured = v.Checked[i].Measured.Rounded()
		slices.SortFunc(v.Checked[i].Positions, layout.Position.Compare)
	}
	slices.SortFunc(v.Checked, func(a, b questions.Checked) int {
		return cmp.Or(cmp.Compare(a.Code, b.Code), cmp.Compare(a.Rule.ID, b.Rule.ID))
	})
	for i := range v.Unanswered {
		v.Unanswered[i].Positions = once(v.Unanswered[i].Positions)
	}
	slices.SortFunc(v.Unanswered, func(a, b questions.Asked) int { return finding.CompareQuestions(a.Code, b.Code) })
	for i := range v.NotJudged {
		v.NotJudged[i].Positions = once(v.NotJudged[i].Positions)
	}
	slices.SortFunc(v.NotJudged, func(a, b visit.NotJudged) int { return cmp.Compare(a.Code, b.Code) })
	slices.SortFunc(v.Repairs, func(a, b questions.Repair) int { return a.Position.Compare(b.Position) })
	return v
}

// once gives positions in order, each once.
func once(ps []layout.Position) []layout.Position {
	if len(ps) < 2 {
		return ps
	}
	ps = slices.Clone(ps)
	slices.SortFunc(ps, layout.Position.Compare)
	return slices.Compact(ps)
}

// inMillimeters shows the depths of a practice that is told in thirty-seconds
// in the unit of the country. The comparison itself is done.
func inMillimeters(f *finding.Finding) {
	if f.Limit.Unit != unit.ThirtySecondsInch {
		return
	}
	for _, a := range []*unit.Amount{&f.Measured, &f.Limit, &f.Margin, &f.Uncertainty} {
		if a.Unit == unit.ThirtySecondsInch {
			*a = unit.Amount{Number: a.Number * unit.MustDepth(1, unit.ThirtySecondsInch).In(unit.Millimeters), Unit: unit.Millimeters}.OfTread()
		}
	}
	f.Limit = f.Limit.Rounded()
}

// orderAnswered puts the findings of each line of work in the order of the findings.
func (v Verdict) orderAnswered() {
	place := map[string]int{}
	for i, f := range v.Findings {
		place[f.ID()] = i
	}
	for _, w := range v.Work {
		slices.SortFunc(w.Findings, func(a, b string) int { return cmp.Compare(place[a], place[b]) })
	}
}
