package translate

import (
	"cmp"
	"slices"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/verdict"
	"gaugebook.dev/calc/wear"
)

// past is what the request tells of the vehicle's earlier days.
type past struct {
	now   *unit.Distance // odometer today, nil when not read
	moves []*pb.TireMoves
	work  []*pb.WorkDone // before this visit
	today []*pb.WorkDone // at this visit, after its readings as found
	early []*pb.Inspection
	visit *pb.Inspection // this one
}

func pastOf(req *pb.AssessVisitRequest) past {
	h := past{now: meters(req.GetInspection().GetOdometer()), moves: slices.Clone(req.GetMoves()), early: req.GetEarlier(), visit: req.GetInspection()}
	h.work = slices.Clone(req.GetWorkDone())
	for _, e := range req.GetEarlier() {
		h.work = append(h.work, doneAt(e)...)
	}
	h.today = doneAt(req.GetInspection())
	slices.SortStableFunc(h.moves, func(a, b *pb.TireMoves) int { return cmp.Compare(odometer(a.GetOdometer()), odometer(b.GetOdometer())) })
	return h
}

// doneAt gives the work of a visit, done at its odometer unless it says another.
func doneAt(visit *pb.Inspection) []*pb.WorkDone {
	var out []*pb.WorkDone
	for _, w := range visit.GetWorkDone() {
		if w.GetOdometer() == nil {
			w = &pb.WorkDone{Kind: w.GetKind(), Positions: w.GetPositions(), Odometer: visit.GetOdometer(), Date: w.GetDate(), InRange: w.GetInRange()}
		}
		out = append(out, w)
	}
	return out
}

func meters(d *pb.Distance) *unit.Distance {
	m, _, ok := of(unit.DistanceOf, d)
	if !ok {
		return nil
	}
	return &m
}

func odometer(d *pb.Distance) float64 {
	if m := meters(d); m != nil {
		return float64(*m)
	}
	return 0
}

// ago is the distance run since an odometer reading. A falling odometer tells
// nothing of it.
func (h past) ago(then *pb.Distance) *unit.Distance {
	at := meters(then)
	if at == nil || h.now == nil || *at > *h.now {
		return nil
	}
	d := *h.now - *at
	return &d
}

// history follows one tire back: how far it has run here, and where it was
// before. Moves on record count; so does a rotation that was written down as
// work only, of which the former position is not known.
func (h past) history(w *pb.WheelReport, t *pb.Tire) verdict.History {
	out := verdict.History{Fitted: Date(t.GetFittedDate()), Made: w.GetSidewall().GetIdentification()}
	if out.Made == "" {
		out.Made = t.GetSidewall().GetIdentification()
	}
	out.Made = lastFour(out.Made)
	h.follow(h.tireOn(w, t), meters(t.GetFittedOdometer()), w.GetPosition(), &out)
	for _, done := range h.work {
		rotated := done.GetKind() == pb.WorkKind_WORK_KIND_TIRES_ROTATED && (len(done.GetPositions()) == 0 || slices.Contains(done.GetPositions(), w.GetPosition()))
		if ago := h.ago(done.GetOdometer()); rotated && ago != nil && (out.Here == nil || *ago < *out.Here) {
			out.Here, out.Former, out.Turned = ago, layout.Position{}, false
		}
	}
	return out
}

// tireOn is the id of the tire on a wheel: as the visit names it, else of the last
// moved there, else of the one whose record says that it is there; "" for none.
func (h past) tireOn(w *pb.WheelReport, t *pb.Tire) string {
	return cmp.Or(w.GetTireId(), h.movedTo(w.GetPosition()), t.GetId())
}

// stay is a time that a tire ran at one place, by the odometer.
type stay struct {
	at     layout.Position
	from   *unit.Distance
	until  *unit.Distance
	turned bool // the other sidewall faces out than in the stay before
}

func (s stay) length() *unit.Distance {
	if s.from == nil || s.until == nil || *s.until < *s.from {
		return nil
	}
	d := *s.until - *s.from
	return &d
}

// follow adds up where a tire ran. Time in storage does not count, and a tire
// that came back to its place from storage is still at that place.
func (h past) follow(id string, fitted *unit.Distance, now string, out *verdict.History) {
	here, err := layout.Parse(now)
	if err != nil {
		return
	}
	stays := h.stays(id, fitted, here)
	last := &stays[len(stays)-1]
	if last.at != here {
		return // moved since without a record
	}
	out.OnTire, out.Here = total(stays), last.length()
	for i := len(stays) - 2; i >= 0; i-- {
		if stays[i].at != here || stays[i+1].turned {
			out.Former, out.Turned = stays[i].at, stays[i+1].turned
			return
		}
		out.Here = total(stays[i:])
	}
}

// stays are the times that a tire ran, by its moves on record, until now.
func (h past) stays(id string, fitted *unit.Distance, here layout.Position) []stay {
	stays := []stay{{from: fitted}}
	running := true
	for i, event := range h.moves {
		for _, m := range event.GetMoves() {
			if m.GetTireId() != id || id == "" {
				continue
			}
			at := meters(event.GetOdometer())
			last := &stays[len(stays)-1]
			if running {
				last.until = at
			}
			if last.at == (layout.Position{}) {
				last.at = h.positionBefore(id, i)
			}
			to, err := layout.Parse(m.GetTo().GetMounted().GetPosition())
			if running = err == nil; running {
				stays = append(stays, stay{at: to, from: at, turned: turned(m, last.at)})
			}
		}
	}
	last := &stays[len(stays)-1]
	if running {
		last.until = h.now
	}
	if len(stays) == 1 {
		last.at = here
	}
	return stays
}

// total is the distance of all stays, nil when one is not known.
func total(stays []stay) *unit.Distance {
	var sum unit.Distance
	for _, s := range stays {
		d := s.length()
		if d == nil {
			return nil
		}
		sum += *d
	}
	return &sum
}

// turned tells whether the other sidewall faces out after a move: as told, else
// a disc wheel is turned between an outer dual and any other position.
func turned(m *pb.TireMove, from layout.Position) bool {
	to, err := layout.Parse(m.GetTo().GetMounted().GetPosition())
	known := err == nil && from != layout.Position{}
	return told(m.GetTurned(), known && (from.Dual == layout.Outer) != (to.Dual == layout.Outer))
}

func lastFour(tin string) string {
	if len(tin) < 4 {
		return tin
	}
	return tin[len(tin)-4:]
}

// movedTo gives the tire that a move brought to a position last, when no later
// move took it away again.
func (h past) movedTo(position string) string {
	id := ""
	for _, event := range h.moves {
		for _, m := range event.GetMoves() {
			at := m.GetTo().GetMounted().GetPosition()
			switch {
			case at == position:
				id = m.GetTireId()
			case m.GetTireId() == id:
				id = ""
			}
		}
	}
	return id
}

// positionBefore is where a tire was before the i-th move: by an earlier move,
// else by an earlier visit that names it.
func (h past) positionBefore(id string, i int) layout.Position {
	for k := i - 1; k >= 0; k-- {
		for _, m := range h.moves[k].GetMoves() {
			if m.GetTireId() == id {
				p, _ := layout.Parse(m.GetTo().GetMounted().GetPosition())
				return p
			}
		}
	}
	var found layout.Position
	for _, e := range h.early {
		if odometer(e.GetOdometer()) > odometer(h.moves[i].GetOdometer()) {
			continue
		}
		for _, w := range e.GetWheels() {
			if w.GetTireId() == id {
				found, _ = layout.Parse(w.GetPosition())
			}
		}
	}
	return found
}

// earlier gives the pressures found at earlier visits, oldest first.
func (h past) earlier() []verdict.Earlier {
	var out []verdict.Earlier
	for _, e := range h.early {
		v := verdict.Earlier{
			Ago: h.ago(e.GetOdometer()), Conditions: conditions(e.GetConditions()),
			Loaded: answers[e.GetConditions().GetDriven().GetLoadedOrTowing()],
		}
		for _, w := range e.GetWheels() {
			p, err := layout.Parse(w.GetPosition())
			if err != nil {
				continue
			}
			found, _ := pressures(w.GetPressures(), e.GetGauges())
			v.Wheels = append(v.Wheels, verdict.EarlierWheel{Position: p, Pressure: found})
		}
		out = append(out, v)
	}
	slices.SortStableFunc(out, func(a, b verdict.Earlier) int {
		return cmp.Compare(-far(a.Ago), -far(b.Ago))
	})
	return out
}

func far(d *unit.Distance) float64 {
	if d == nil {
		return 0
	}
	return float64(*d)
}

var wearWork = map[pb.WorkKind]wear.WorkKind{
	pb.WorkKind_WORK_KIND_ALIGNMENT_MEASURED:      wear.AlignmentMeasured,
	pb.WorkKind_WORK_KIND_ALIGNMENT_SET:           wear.AlignmentSet,
	pb.WorkKind_WORK_KIND_STEERING_PART_RENEWED:   wear.SteeringPart,
	pb.WorkKind_WORK_KIND_SUSPENSION_PART_RENEWED: wear.SuspensionPart,
	pb.WorkKind_WORK_KIND_LOWERED_OR_RAISED:       wear.Lowered,
	pb.WorkKind_WORK_KIND_TIRES_ROTATED:           wear.Rotated,
}

func (h past) workDone() []wear.Work {
	var out []wear.Work
	for _, d := range slices.Concat(h.work, h.today) {
		kind, bears := wearWork[d.GetKind()]
		if !bears {
			continue
		}
		w := wear.Work{Kind: kind, InRange: answers[d.GetInRange()], Ago: h.ago(d.GetOdometer())}
		for _, at := range d.GetPositions() {
			if p, err := layout.Parse(at); err == nil {
				w.At = append(w.At, p)
			}
		}
		out = append(out, w)
	}
	for _, m := range h.moves {
		if len(m.GetMoves()) > 1 {
			out = append(out, wear.Work{Kind: wear.Rotated, Ago: h.ago(m.GetOdometer())})
		}
	}
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
