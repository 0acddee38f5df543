package translate

import (
	"cmp"
	"slices"
	"strings"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/fastener"
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/past"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
	"gaugebook.dev/calc/wear"
)

// record is what a request tells of the vehicle's earlier days, with the visits as they
// came, to look up what they measured.
type record struct {
	past.Record
	today *pb.Inspection
	early []*pb.Inspection
}

func recordOf(req *pb.AssessVisitRequest) record {
	r := record{today: req.GetInspection(), early: req.GetEarlier()}
	var earlier []past.Visit
	for _, e := range r.early {
		earlier = append(earlier, pastVisit(e))
	}
	var moves []past.Moves
	for _, m := range req.GetMoves() {
		moves = append(moves, pastMoves(m))
	}
	r.Record = past.Of(pastVisit(r.today), earlier, moves, pastWork(req.GetWorkDone()))
	return r
}

func pastVisit(m *pb.Inspection) past.Visit {
	v := past.Visit{
		ID: m.GetId(), Corrects: m.GetCorrects().GetInspectionId(), Odometer: meters(m.GetOdometer()), Day: Date(m.GetLocalDate()),
		Taken: m.GetTakenTime().AsTime(), Moved: m.GetConditions().GetTiresMoved() == pb.Answer_ANSWER_YES, Work: pastWork(m.GetWorkDone()),
	}
	for _, w := range m.GetWheels() {
		wheel := past.Wheel{
			At: Position(w.GetPosition()), Tire: w.GetTireId(), Made: past.DateCode(w.GetSidewall().GetIdentification()), Fasteners: w.GetFastenerWork() != nil || tookOff(w),
			Marked: identification(w.GetSidewall().GetIdentification()),
		}
		if c := w.GetTorqueRecheck(); c != nil {
			wheel.Recheck = &past.Recheck{Odometer: meters(c.GetOdometer()), Towed: meters(c.GetTowed())}
		}
		v.Wheels = append(v.Wheels, wheel)
	}
	return v
}

// identification is that of a tire as far as two can be compared by it: plant and date
// at the least, however it was spaced.
func identification(s string) string {
	const shortest = 8 // plant, size and date
	s = strings.ToUpper(strings.Join(strings.Fields(strings.TrimPrefix(strings.TrimSpace(s), "DOT")), ""))
	if len(s) < shortest {
		return ""
	}
	return s
}

// odometers are what this visit and those before it that count read of the odometer.
func (r record) odometers() []visit.Odometer {
	var out []visit.Odometer
	add := func(m *pb.Inspection, today bool) {
		if d, _, ok := of(unit.DistanceOf, m.GetOdometer()); ok {
			out = append(out, visit.Odometer{Of: d, Read: mustAmount(m.GetOdometer()), Day: Date(m.GetLocalDate()), Today: today})
		}
	}
	add(r.today, true)
	for _, i := range r.Counting() {
		add(r.early[i], false)
	}
	return out
}

func pastMoves(m *pb.TireMoves) past.Moves {
	out := past.Moves{Odometer: meters(m.GetOdometer())}
	for _, t := range m.GetMoves() {
		out.Tires = append(out.Tires, past.Move{Tire: t.GetTireId(), To: Position(t.GetTo().GetMounted().GetPosition()), Turned: seen(t.GetTurned())})
	}
	return out
}

func pastWork(ms []*pb.WorkDone) []past.Work {
	var out []past.Work
	for _, m := range ms {
		w := past.Work{Kind: workKinds.code(m.GetKind()), Odometer: meters(m.GetOdometer()), Day: Date(m.GetDate()), InRange: answers[m.GetInRange()]}
		for _, at := range m.GetPositions() {
			w.At = append(w.At, Position(at))
		}
		out = append(out, w)
	}
	return out
}

// Position is a position that check has accepted; zero where none is told.
func Position(position string) layout.Position {
	if position == "" {
		return layout.Position{}
	}
	p, _ := layout.Parse(position)
	return p
}

// Positions gives positions as check has accepted them.
func Positions(positions []string) []layout.Position {
	var all []layout.Position
	for _, p := range positions {
		all = append(all, Position(p))
	}
	return all
}

func meters(d *pb.Distance) *unit.Distance {
	m, _, ok := of(unit.DistanceOf, d)
	if !ok {
		return nil
	}
	return &m
}

func pastTire(t *pb.Tire) past.Tire {
	return past.Tire{ID: t.GetId(), Fitted: meters(t.GetFittedOdometer())}
}

// history is where the tire on a wheel has been, and how old it is.
func (r record) history(wheel int, t *pb.Tire) visit.History {
	h := r.History(wheel, pastTire(t))
	return visit.History{
		Here: h.Here, OnTire: h.OnTire, Former: h.Former, Turned: h.Turned, Fitted: Date(t.GetFittedDate()),
		Made: past.DateCode(cmp.Or(r.today.GetWheels()[wheel].GetSidewall().GetIdentification(), t.GetSidewall().GetIdentification())),
	}
}

// before is what earlier visits read of the tire on a wheel.
func (r record) before(wheel int, t *pb.Tire) []visit.Before {
	var out []visit.Before
	for _, was := range r.Before(wheel, pastTire(t)) {
		b := r.readAt(was.Visit, was.Wheel)
		b.Ago, b.At, b.Turned, b.Stayed = was.Ago, was.At, was.Turned, was.Stayed
		b.DepthGauge, _ = depthGauge(r.early[was.Visit].GetGauges())
		b.Depths, _ = treadReadings(r.early[was.Visit].GetWheels()[was.Wheel])
		out = append(out, b)
	}
	return out
}

// readAt are the pressures that an earlier visit read at a wheel, and when.
func (r record) readAt(visited, wheel int) visit.Before {
	e := r.early[visited]
	b := visit.Before{Day: Date(e.GetLocalDate()), Conditions: conditions(e.GetConditions())}
	b.Found, b.Left = pressures(e.GetWheels()[wheel].GetPressures(), e.GetGauges())
	return b
}

// rested is what the visit before read at a wheel where no odometer tells of it.
func (r record) rested(wheel int, t *pb.Tire) *visit.Before {
	visited, at, ok := r.Rested(wheel, pastTire(t))
	if !ok {
		return nil
	}
	b := r.readAt(visited, at)
	b.At, b.Stayed = Position(r.today.GetWheels()[wheel].GetPosition()), true
	return &b
}

// torques is when a wheel was off last, and the checks of its torque since.
func (r record) torques(wheel int) (*fastener.Off, []fastener.Recheck) {
	off, since := r.Fastened(wheel)
	var checks []fastener.Recheck
	for _, c := range since {
		visit := r.today
		if c.Visit != past.Today {
			visit = r.early[c.Visit]
		}
		m := visit.GetWheels()[c.Wheel].GetTorqueRecheck()
		checks = append(checks, fastener.Recheck{
			Today: c.Visit == past.Today, Torque: torque(m.GetTorque()), Odo: c.Odo, Named: m.GetDoneBy() != "", After: c.After,
			Cool: answers[m.GetWheelCool()], Moved: answers[m.GetAnyMoved()],
		})
	}
	if off == nil {
		return nil, checks
	}
	return &fastener.Off{Ago: off.Ago}, checks
}

// earlier gives the pressures found at earlier visits, oldest first.
func (r record) earlier() []visit.Earlier {
	var out []visit.Earlier
	for _, e := range r.early {
		v := visit.Earlier{
			Ago: r.Ago(meters(e.GetOdometer())), Conditions: conditions(e.GetConditions()),
			Loaded: answers[e.GetConditions().GetDriven().GetLoadedOrTowing()],
		}
		for _, w := range e.GetWheels() {
			found, _ := pressures(w.GetPressures(), e.GetGauges())
			v.Wheels = append(v.Wheels, visit.EarlierWheel{Position: Position(w.GetPosition()), Pressure: found})
		}
		out = append(out, v)
	}
	far := func(v visit.Earlier) unit.Distance {
		if v.Ago == nil {
			return 0
		}
		return *v.Ago
	}
	slices.SortStableFunc(out, func(a, b visit.Earlier) int { return cmp.Compare(far(b), far(a)) })
	return out
}

// depths gives the depths as found at earlier visits whose odometer is known, the
// latest first.
func (r record) depths() []visit.DepthsBefore {
	var out []visit.DepthsBefore
	for _, e := range r.early {
		ago := r.Ago(meters(e.GetOdometer()))
		if ago == nil {
			continue
		}
		d := visit.DepthsBefore{Ago: *ago, Day: Date(e.GetLocalDate())}
		d.Gauge, _ = depthGauge(e.GetGauges())
		for _, w := range e.GetWheels() {
			if found, _ := treadReadings(w); len(found) > 0 {
				d.Wheels = append(d.Wheels, visit.DepthsAt{Position: Position(w.GetPosition()), Tire: w.GetTireId(), Readings: found})
			}
		}
		if len(d.Wheels) > 0 {
			out = append(out, d)
		}
	}
	slices.SortStableFunc(out, func(a, b visit.DepthsBefore) int { return cmp.Compare(a.Ago, b.Ago) })
	return out
}

func highLow(ms []*pb.HighLowPair, g measure.Gauge[unit.Depth]) []wear.HighLow {
	var out []wear.HighLow
	for _, m := range ms {
		high, _, okH := of(unit.DepthOf, m.GetHigh())
		low, _, okL := of(unit.DepthOf, m.GetLow())
		if okH && okL {
			out = append(out, wear.HighLow{High: g.Read(high), Low: g.Read(low)})
		}
	}
	return out
}

var wearWork = map[finding.Done]wear.WorkKind{
	finding.DoneAlignmentMeasured:     wear.AlignmentMeasured,
	finding.DoneAlignmentSet:          wear.AlignmentSet,
	finding.DoneSteeringPartRenewed:   wear.SteeringPart,
	finding.DoneSuspensionPartRenewed: wear.SuspensionPart,
	finding.DoneLoweredOrRaised:       wear.Lowered,
	finding.DoneTiresRotated:          wear.Rotated,
}

// workDone is the work on record that bears on wear.
func (r record) workDone() []wear.Work {
	var out []wear.Work
	for _, w := range r.Work() {
		if kind, bears := wearWork[w.Kind]; bears {
			out = append(out, wear.Work{Kind: kind, At: w.At, InRange: w.InRange, Ago: r.Ago(w.Odometer)})
		}
	}
	return out
}

// LatestVisit gives the index of the latest of some visits. -1: there is none.
func LatestVisit(visits []*pb.Inspection) int {
	var all []past.Visit
	for _, v := range visits {
		all = append(all, pastVisit(v))
	}
	return past.Latest(all)
}
