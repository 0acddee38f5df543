package verdict

import (
	"cmp"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// judging gathers one verdict.
type judging struct {
	v        visit.Visit
	books    []rulebook.Applied
	out      Verdict
	tread    map[layout.Position]tread.Result
	air      map[layout.Position]inflation.Result
	airIn    map[layout.Position]inflation.Wheel
	repair   map[layout.Position]puncture.Result
	finished map[layout.Position]bool            // the tire is done for, whatever its depth
	allAlike bool                                // all tires are down alike: weather and time, no leaks
	wore     map[layout.Position]layout.Position // where a tire's shape was made
	fastened map[layout.Position]bool            // the wheel was off, and its fasteners were put right
	work     workList
}

// classNames say which class is not judged here.
var classNames = map[layout.Class]finding.Recorded{
	layout.Motorcycle: finding.RecordedClassMotorcycle, layout.Farm: finding.RecordedClassFarm, layout.Earthmover: finding.RecordedClassEarthmover,
	layout.Military: finding.RecordedClassMilitary, layout.Race: finding.RecordedClassRace, layout.UnknownClass: finding.RecordedClassNotJudgedHere,
}

// Judge says what is to be said of a visit. The order in which wheels, readings
// and observations are given changes nothing.
func Judge(v visit.Visit) Verdict {
	j := &judging{
		tread:    map[layout.Position]tread.Result{},
		air:      map[layout.Position]inflation.Result{},
		airIn:    map[layout.Position]inflation.Wheel{},
		repair:   map[layout.Position]puncture.Result{},
		finished: map[layout.Position]bool{},
		wore:     map[layout.Position]layout.Position{},
	}
	j.v = v.InOrder()
	for _, n := range v.Recorded {
		j.notJudged(n.Code, n.Positions...)
	}
	if !v.Vehicle.Class.Judged() {
		j.notJudged(classNames[v.Vehicle.Class])
		j.out.Rotation.Result = rotation.For(rotation.Vehicle{Layout: v.Vehicle})
		j.sortNotJudged()
		return j.out
	}
	j.chooseLaw()
	for _, w := range j.v.Wheels {
		j.damaged(w)
	}
	j.depths()
	j.winter()
	j.ages()
	j.axles()
	j.pressures()
	j.loads()
	for _, w := range j.v.Wheels {
		j.holes(w)
	}
	j.wears()
	j.fitted()
	j.rotate()
	j.trends()
	j.sensors()
	j.fasteners()
	j.spare()
	j.complaints()
	j.looked()
	j.asLeft()
	j.order()
	j.finish()
	return j.out
}

func (j *judging) find(fs ...finding.Finding) { j.out.Findings = append(j.out.Findings, fs...) }

func (j *judging) notJudged(code finding.Recorded, at ...layout.Position) {
	j.out.NotJudged = append(j.out.NotJudged, visit.NotJudged{Code: code, Positions: at})
}

func (j *judging) ask(code finding.Question, at ...layout.Position) {
	for i := range j.out.Unanswered {
		if u := &j.out.Unanswered[i]; u.Code == code {
			u.Positions = append(u.Positions, at...)
			return
		}
	}
	j.out.Unanswered = append(j.out.Unanswered, Unanswered{code, at})
}

// chooseLaw picks the rulebooks. A class that contradicts the rating (a car of
// 26,000 lb) is taken as neither: both laws are judged and named.
func (j *judging) chooseLaw() {
	if rulebook.Contradicts(j.v.Vehicle) {
		j.ask(finding.AskClassOrRating)
		j.v.Vehicle.GrossRating, j.v.Vehicle.Class = 0, layout.ClassNotTold
	}
	books, open := rulebook.Choose(j.v.Vehicle, j.v.Use, j.v.Books)
	books = rulebook.WithOwn(books, j.v.Own)
	j.books, j.out.Books = books, books
	for _, q := range open {
		j.ask(q)
	}
	model := slices.ContainsFunc(books, func(b rulebook.Applied) bool { return b.ID == "us-light" || b.ID == "us-heavy-model" })
	if model && j.v.Use.Country == "US" && j.v.Use.State == "" {
		j.ask(finding.AskState) // the models bind nobody: the State's own code does
	}
	if j.v.Use.Country != "" && len(books) == 0 {
		j.notJudged(finding.RecordedLawCountryNotKnown)
	} else if !slices.ContainsFunc(books, func(b rulebook.Applied) bool { return len(b.About(rulebook.TreadDepth)) > 0 || b.Country == "" }) {
		j.notJudged(finding.RecordedLawDepthNotRead) // of this place the rules on winter tires alone are known
	}
	if j.v.AsOf.IsZero() {
		j.ask(finding.AskDate)
	}
}

func (j *judging) context() tread.Context {
	return tread.Context{Vehicle: j.v.Vehicle, Books: j.books, AsOf: j.v.AsOf, Wintry: j.v.Wintry}
}

func (j *judging) depths() {
	for _, w := range j.v.Wheels {
		r, ok := tread.Judge(j.context(), w.Tread(w.Depths, j.v.DepthGauge))
		if !ok {
			if w.Has(finding.ObservedAtWearBars) {
				r = tread.BarsOnly(j.context(), w.Position)
				j.find(r.Findings...)
				j.tread[w.Position] = r
			}
			j.ask(finding.AskDepth, w.Position)
			continue
		}
		j.tread[w.Position] = r
		j.find(r.Findings...)
		for _, k := range r.Kept {
			if k.Code == finding.CheckedTreadWornToBars && r.BelowLaw {
				continue // above the bars is no comfort below the law
			}
			j.kept(Checked{k.Code, []layout.Position{k.Position}, k.Measured, k.Limit, k.Rule})
		}
	}
}

// kept gathers what is kept by rule, with the lowest measured value.
func (j *judging) kept(c Checked) {
	for i := range j.out.Checked {
		if o := &j.out.Checked[i]; o.Code == c.Code && o.Rule == c.Rule && o.Limit == c.Limit {
			o.Positions = append(o.Positions, c.Positions...)
			if c.Measured.Number < o.Measured.Number {
				o.Measured = c.Measured
			}
			return
		}
	}
	j.out.Checked = append(j.out.Checked, c)
}

// axles compares the two ends of each axle.
func (j *judging) axles() {
	for _, p := range j.v.Vehicle.Positions() {
		if p.Side != layout.Left || p.Dual != layout.Single {
			continue
		}
		left, okL := j.tread[p]
		right, okR := j.tread[p.Mirror()]
		if !okL || !okR || len(left.Summary.Cells) == 0 || len(right.Summary.Cells) == 0 {
			continue
		}
		j.find(tread.Pair(j.context(), left, right, [2]layout.Position{p, p.Mirror()})...)
	}
}

func (j *judging) pressures() {
	in := inflation.Vehicle{Layout: j.v.Vehicle, Lamp: j.v.Lamp}
	for _, w := range j.v.Wheels {
		in.Wheels = append(in.Wheels, j.v.Labels().Air(w, w.Pressure, j.v.Conditions))
	}
	r := inflation.JudgeVehicle(in)
	j.allAlike = r.AllAlike
	for i, w := range j.v.Wheels {
		p := w.Position
		j.air[p], j.airIn[p] = r.Wheels[i], in.Wheels[i]
		for _, f := range r.Wheels[i].Findings {
			switch f.Code {
			case finding.InflationFlat, finding.InflationAudibleLeak:
				j.withLaw(&f, w)
			case finding.InflationRunLowUndecided:
				if w.Has(finding.ObservedInjury, finding.ObservedObjectInTread, finding.ObservedObjectRemoved) {
					f.ToSettle = finding.SettleLookInside // it comes off for its hole
				}
			case finding.InflationAtLampThreshold:
				if w.Position.Spare || j.v.Lamp == inflation.LampOn {
					continue // it watches no spare, and says so itself when it is on
				}
			}
			j.find(f)
		}
		for _, need := range r.Wheels[i].Missing {
			j.ask(need, p)
		}
		if in.Wheels[i].Read != unit.None && in.Wheels[i].Label != 0 && !r.Wheels[i].Cold.About && !slices.ContainsFunc(r.Wheels[i].Findings, wantsSomething) {
			j.kept(Checked{Code: finding.CheckedInflationAtLabel, Positions: []layout.Position{p}})
		}
	}
	j.find(r.Findings...)
}

func wantsSomething(f finding.Finding) bool {
	return f.Urgency != finding.Note || f.Code == finding.InflationAtLampThreshold
}

// inMillimeters shows the depths of a practice that is told in thirty-seconds
// in the unit of the country. The comparison itself is done.
func inMillimeters(f *finding.Finding) {
	if f.Limit.Unit != unit.ThirtySecondsInch {
		return
	}
	for _, a := range []*unit.Amount{&f.Measured, &f.Limit, &f.Margin, &f.Uncertainty} {
		if a.Unit == unit.ThirtySecondsInch {
			*a = unit.Amount{Number: a.Number * unit.MustDepth(1, unit.ThirtySecondsInch).In(unit.Millimeters), Unit: unit.Millimeters}.Rounded()
		}
	}
}

// finish sorts every list by its stated key.
func (j *judging) finish() {
	if rulebook.Metric(j.books) {
		for i := range j.out.Findings {
			inMillimeters(&j.out.Findings[i])
		}
	}
	finding.Sort(j.out.Findings)
	for _, w := range j.v.Wheels {
		s := Summary{Position: w.Position, Pressure: w.Pressure}
		if r, ok := j.tread[w.Position]; ok && len(r.Summary.Cells) > 0 {
			s.Tread, s.ReadIn = &r, r.Summary.Governing.At.AsRead.Unit
			s.New, s.NewKnown = tread.Wheel{New: w.Tire.New}.NewAt(r.Summary.Governing.Column)
		}
		if a, ok := j.air[w.Position]; ok {
			s.Cold = a.Cold
		}
		s.Label, s.Shown = j.v.Labels().Cold(w.Position)
		if s.Shown == unit.None {
			s.Shown = w.Pressure.Read
		}
		s.Full = w.SeenWhole()
		j.out.Wheels = append(j.out.Wheels, s)
	}
	sortPositions := func(ps []layout.Position) { slices.SortFunc(ps, layout.Position.Compare) }
	for i := range j.out.Checked {
		sortPositions(j.out.Checked[i].Positions)
	}
	for i := range j.out.Unanswered {
		sortPositions(j.out.Unanswered[i].Positions)
		j.out.Unanswered[i].Positions = slices.Compact(j.out.Unanswered[i].Positions)
	}
	slices.SortFunc(j.out.Checked, func(a, b Checked) int {
		return cmp.Or(cmp.Compare(a.Code, b.Code), cmp.Compare(a.Rule.ID, b.Rule.ID))
	})
	slices.SortFunc(j.out.Unanswered, func(a, b Unanswered) int { return cmp.Compare(a.Code, b.Code) })
	j.sortNotJudged()
	slices.SortFunc(j.out.Repairs, func(a, b Repair) int { return a.Position.Compare(b.Position) })
}

func (j *judging) sortNotJudged() {
	for i := range j.out.NotJudged {
		n := &j.out.NotJudged[i]
		slices.SortFunc(n.Positions, layout.Position.Compare)
		n.Positions = slices.Compact(n.Positions)
	}
	slices.SortFunc(j.out.NotJudged, func(a, b visit.NotJudged) int { return cmp.Compare(a.Code, b.Code) })
}
