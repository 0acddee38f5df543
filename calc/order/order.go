package order

import (
	"slices"

	"gaugebook.dev/calc/closing"
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// In is what an order of work is made from.
type In struct {
	Visit    visit.Visit
	Books    []rulebook.Applied
	Findings []finding.Finding
	Left     closing.Left // what of it the vehicle left with put right
	Facts    Facts

	found []finding.Finding // all findings, those that were put right with them
}

// Facts are what the questions say beside their findings.
type Facts struct {
	Treads    questions.Treads
	Air       questions.AirAnswer
	Load      questions.LoadAnswer
	Holes     questions.HolesAnswer
	Wear      questions.WearAnswer
	Fitment   questions.FitmentAnswer
	Map       rotation.Map // recommended; the zero map: none
	Fasteners questions.FastenerAnswer
	Unseen    []questions.Unseen       // by the complaints that want a look
	Scrapped  map[layout.Position]bool // the tire is done for, whatever its depth
}

// Of makes the order of work. Each rule adds to what those before it asked for.
func Of(in In) []Work {
	in = in.undone()
	l := make(lines, 0, 4*len(in.Findings)) // about as many as there are
	l.add(in.asked()...)
	l.without(dropped, in.putRight())
	l.add(in.makeSafe()...)
	l.add(in.measureFirst()...)
	for _, w := range in.Visit.Wheels {
		l.add(in.inspect(w)...)
	}
	l.add(in.inspectMates()...)
	in.replaceWorn(&l)
	l.add(in.wear()...)
	l.add(in.rotate()...)
	l.add(in.matchRest(l)...)
	l.add(in.place(l)...)
	l.giveWay()
	in.spareGoes(&l)
	l.add(in.letDown(l)...)
	l.add(in.seenInside(l)...)
	l.stayPut()
	l.inDevice()
	l.add(in.fill(l)...)
	l.add(in.refit(l)...)
	l.add(in.setPressures(l)...)
	l.without(setsAir, setForSize(l))
	l.without(rechecks, l.startAnew())
	l.add(in.torque(l)...)
	l.giveWay()
	l.add(in.roadTest()...)
	l.add(in.sensors(l)...)
	l.add(in.records(l)...)
	return l.inOrder(in.Findings)
}

// asked is what the findings ask for by themselves, and what was said with them.
func (in In) asked() (all []Work) {
	for _, f := range in.Findings {
		for _, w := range from(f, in.by(f)) {
			all = append(all, w.by(f.Certainty()))
		}
	}
	for _, p := range in.Facts.Load.Reduce {
		all = append(all, do(finding.WorkLoadReduce, p)...)
		if in.wheelAt(p).Last().Read == unit.None { // what it carries then is known by its pressure
			all = append(all, Work{Code: finding.WorkMeasureToSettle, Positions: []layout.Position{p}, Settle: finding.SettleReadAllWheels})
		}
	}
	for _, n := range in.Facts.Fasteners.Renew {
		code := finding.WorkFastenersRenewWithNeighbors
		if n.All {
			code = finding.WorkFastenersRenewAll
		}
		all = append(all, proved(do(code, n.At))...)
	}
	for _, d := range in.Facts.Fasteners.Due {
		w := Work{Code: finding.WorkOwedTorqueRecheck, Positions: []layout.Position{d.At}, Target: in.Visit.Torque, DueFrom: d.From, DueBy: d.By}
		if d.Trailer {
			w.Code = finding.WorkOwedTorqueRecheckTrailer
		}
		all = append(all, w)
	}
	for _, u := range in.Facts.Unseen {
		all = append(all, Work{Code: finding.ComplaintOf(u.Complaint).Look, Urgency: finding.ThisVisit, Positions: u.At})
	}
	return all
}

// by is what one finding asks for: the line of its kind, where nothing of the finding
// makes it another one.
func (in In) by(f finding.Finding) []Work {
	k := finding.KindOf(f.Code)
	line := Work{Code: k.Work, Positions: f.Positions}
	switch k.Work {
	case finding.WorkTireRemount:
		if slices.ContainsFunc(f.Evidence, func(e finding.Evidence) bool { return e.Code == finding.FactMountSwapCures }) {
			return do(finding.WorkWheelsSwapSides, f.Positions...)
		}
		return append(do(finding.WorkTireDemountInspect, f.Positions...), line)
	case finding.WorkTiresFitRight:
		line.Positions = closing.Misfits(f, in.Facts.Fitment.AsLabel, in.Visit.Wheels)
	case finding.WorkAirSetForSize:
		line.Target, line.FinishCold = f.Measured.Rounded(), true
	case finding.WorkSpareSet:
		line.Target = f.Limit.ToSet()
	case finding.WorkTiresMatchSet, finding.WorkDualMatch:
		return match(f, line)
	case finding.WorkSensorRenew:
		line.Condition = finding.WhenTireComesOff
	case finding.WorkMeasureToSettle:
		return in.toSettle(f, line)
	case finding.WorkTiresMatchAxle:
		line.Positions = in.lower(f)
	case finding.WorkWheelTorque, finding.WorkWheelTorqueCheck:
		line.Target = in.Visit.Torque
	case finding.WorkSealantAskFirst:
		if in.Visit.Watched() && !slices.ContainsFunc(f.Positions, func(p layout.Position) bool { return p.Spare }) {
			return append(do(finding.WorkSensorCheck, f.Positions...), line)
		}
	case "":
		return in.leak(f)
	}
	return []Work{line}
}

// toSettle is the reading or the look that ends a finding, none where it is proved by
// itself.
func (in In) toSettle(f finding.Finding, line Work) []Work {
	line.Settle = f.ToSettle
	switch {
	case f.ToSettle == "":
		return nil
	case f.Code == finding.InflationLampOnNotAllRead:
		line.Positions = slices.DeleteFunc(in.Visit.Vehicle.Positions(), func(p layout.Position) bool {
			return in.wheelAt(p).Pressure.Read != unit.None
		})
		if len(line.Positions) == 0 { // it is a label that is asked for
			return nil
		}
	}
	return []Work{line}
}

// lower is the tire of an axle that has less tread than the other by more than a law
// allows: one that matches comes in its place.
func (in In) lower(f finding.Finding) []layout.Position {
	for _, p := range f.Positions {
		if slices.ContainsFunc(f.Evidence, func(e finding.Evidence) bool { return e.Code == tread.LowerTire(p) }) {
			return []layout.Position{p}
		}
	}
	return f.Positions
}

// match measures first where that decides, and matches after it.
func match(f finding.Finding, line Work) []Work {
	switch {
	case f.Urgency == finding.Note:
		return nil
	case f.Outcome == measure.CannotTell:
		line.Condition = finding.WhenTapeShowsIt
		return []Work{{Code: finding.WorkMeasureToSettle, Positions: f.Positions, Settle: f.ToSettle}, line}
	}
	return []Work{line}
}

// leak is what a tire that loses air, or is said to, asks for: where a hole is known, it
// is the leak, and no air goes into what has to be seen inside first.
func (in In) leak(f finding.Finding) []Work {
	told := f.Code == finding.ComplaintSlowLeak && len(f.Positions) > 0
	switch {
	case f.Code == finding.TrendGrew && f.Urgency == finding.ThisVisit && f.ToSettle == finding.SettleMovedOrMisread: // today's reading is one of the two
		return do(finding.WorkMeasureAgain, f.Positions...)
	case !told && (f.Code != finding.TrendLosesFaster || f.Urgency != finding.Plan):
		return nil
	}
	p := f.Positions[0]
	air := in.Facts.Air.Airs.Results[p]
	if _, hurt := in.Facts.Holes.Of(p); hurt || in.Facts.Scrapped[p] || air.Deflate || told && air.NoAir {
		return nil
	}
	return do(finding.WorkAirFindLeak, p)
}

func dropped(k finding.WorkKind) bool { return k.Dropped }

// putRight tells of a line and a wheel of it that all which was observed there and calls
// for it was put right.
func (in In) putRight() func(finding.Work, layout.Position) bool {
	type called struct {
		work finding.Work
		at   layout.Position
	}
	var open, done map[called]bool
	for _, f := range in.found {
		k := finding.KindOf(f.Code)
		if !k.Observed() {
			continue
		}
		mark := &open
		if in.Left.Closed(f) {
			mark = &done
		}
		if *mark == nil {
			*mark = map[called]bool{}
		}
		for _, p := range f.Positions {
			(*mark)[called{k.Work, p}] = true
		}
	}
	return func(code finding.Work, at layout.Position) bool {
		c := called{code, at}
		return done[c] && !open[c]
	}
}
