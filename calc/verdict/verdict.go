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
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
)

// judging gathers one verdict.
type judging struct {
	v        Visit
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
func Judge(v Visit) Verdict {
	j := &judging{
		v:        v,
		tread:    map[layout.Position]tread.Result{},
		air:      map[layout.Position]inflation.Result{},
		airIn:    map[layout.Position]inflation.Wheel{},
		repair:   map[layout.Position]puncture.Result{},
		finished: map[layout.Position]bool{},
		wore:     map[layout.Position]layout.Position{},
	}
	j.v.Wheels = slices.SortedFunc(slices.Values(v.Wheels), func(a, b Wheel) int { return a.Position.Compare(b.Position) })
	for i := range j.v.Wheels {
		w := &j.v.Wheels[i]
		w.Observations = slices.SortedFunc(slices.Values(w.Observations), Observation.compare)
		w.ObservationsLeft = slices.SortedFunc(slices.Values(w.ObservationsLeft), Observation.compare)
	}
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
	j.out.NotJudged = append(j.out.NotJudged, NotJudged{code, at})
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
	model := slices.ContainsFunc(books, func(b rulebook.Applied) bool { return b.Binds.Model && b.Country == j.v.Use.Country })
	if model && j.v.Use.State == "" {
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

func (j *judging) treadWheel(w Wheel, readings []tread.Reading) tread.Wheel {
	return tread.Wheel{
		Position: w.Position, Readings: readings, Gauge: j.v.DepthGauge, New: w.Tire.New, Breadth: w.Tire.Breadth,
		BarsFlush: w.has(finding.ObservedAtWearBars), BarsClear: w.has(finding.ObservedClearOfWearBars), Damaged: w.treadDamaged(),
		ThreePeaks: w.Tire.ThreePeaks, MudAndSnow: w.Tire.MudAndSnow, Studded: w.Tire.Studded,
		CrossPly: w.Tire.Marking.Construction == sidewall.Bias || w.Tire.Marking.Construction == sidewall.BeltedBias,
	}
}

func (w Wheel) has(kinds ...finding.Observation) bool {
	return slices.ContainsFunc(w.Observations, func(o Observation) bool { return slices.Contains(kinds, o.Kind) })
}

// treadDamaged: damage seen on the tread may make one low reading real.
func (w Wheel) treadDamaged() bool {
	return slices.ContainsFunc(w.Observations, func(o Observation) bool { return finding.ObservationOf(o.Kind).OneLow })
}

func (j *judging) depths() {
	for _, w := range j.v.Wheels {
		r, ok := tread.Judge(j.context(), j.treadWheel(w, w.Depths))
		if !ok {
			if w.has(finding.ObservedAtWearBars) {
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

// label is the cold pressure for the load carried, from the door label.
func (j *judging) label(p layout.Position) (unit.Pressure, unit.Unit) {
	return j.labelAt(p, j.v.Loaded)
}

func (j *judging) labelAt(p layout.Position, loaded finding.Answer) (unit.Pressure, unit.Unit) {
	if p.Spare {
		return j.v.Spare.Label, j.v.Spare.LabelUnit
	}
	a, ok := j.v.Vehicle.AxleOf(p)
	if !ok {
		return 0, unit.None
	}
	if loaded == finding.Yes && a.ColdFull > 0 || a.ColdNormal == 0 {
		return a.ColdFull, a.LabelUnit
	}
	return a.ColdNormal, a.LabelUnit
}

func (j *judging) airWheel(w Wheel, p Pressure) inflation.Wheel {
	label, shown := j.label(w.Position)
	marking := w.Tire.Marking
	in := inflation.Wheel{
		At: w.Position, Class: j.v.Vehicle.Class, Body: bodyOf(w.Tire), Load: loadClass(marking, w.Tire.Sidewall),
		Found: p.Of, Read: p.Read, Gauge: p.Gauge, Label: label, LabelUnit: shown, Sidewall: w.Tire.Sidewall,
		Temperature: p.Temperature, Source: p.Source, Conditions: j.v.Conditions, DrivenLow: w.DrivenLow,
		Seen: inflation.Seen{
			Flat: w.has(finding.ObservedFlat), AudibleLeak: w.has(finding.ObservedAirLeak), ScuffRing: w.has(finding.ObservedRunLowScuffRing),
			RubberDust: w.has(finding.ObservedRunLowDust), WrinkledLiner: w.has(finding.ObservedRunLowLinerRing), BurntSmell: w.has(finding.ObservedRunLowSmell),
		},
	}
	if w.Position.Spare {
		// It hangs in its place and carries nothing: it was not driven on.
		in.DrivenLow.Driven, in.Body, in.Class = finding.No, sidewall.FabricBody, layout.PassengerCar
		in.Conditions.DrivenHere = finding.No
	}
	return in
}

func (j *judging) pressures() {
	in := inflation.Vehicle{Layout: j.v.Vehicle, Lamp: j.v.Lamp}
	for _, w := range j.v.Wheels {
		in.Wheels = append(in.Wheels, j.airWheel(w, w.Pressure))
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
				if w.has(finding.ObservedInjury, finding.ObservedObjectInTread, finding.ObservedObjectRemoved) {
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
			*a = unit.Amount{Number: a.Number * unit.MustDepth(1, unit.ThirtySecondsInch).In(unit.Millimeters), Unit: unit.Millimeters}.OfTread().Rounded()
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
		s.Label, s.Shown = j.label(w.Position)
		if s.Shown == unit.None {
			s.Shown = w.Pressure.Read
		}
		s.Full = w.full()
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
	slices.SortFunc(j.out.NotJudged, func(a, b NotJudged) int { return cmp.Compare(a.Code, b.Code) })
}
