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
	work  []*pb.WorkDone
	early []*pb.Inspection
}

func pastOf(req *pb.AssessVisitRequest) past {
	h := past{now: meters(req.GetInspection().GetOdometer()), moves: slices.Clone(req.GetMoves()), early: req.GetEarlier()}
	h.work = append(slices.Clone(req.GetWorkDone()), req.GetInspection().GetWorkDone()...)
	for _, e := range req.GetEarlier() {
		for _, w := range e.GetWorkDone() {
			if w.GetOdometer() == nil {
				w = &pb.WorkDone{Kind: w.GetKind(), Positions: w.GetPositions(), Odometer: e.GetOdometer(), Date: w.GetDate(), InRange: w.GetInRange()}
			}
			h.work = append(h.work, w)
		}
	}
	slices.SortStableFunc(h.moves, func(a, b *pb.TireMoves) int { return cmp.Compare(odometer(a.GetOdometer()), odometer(b.GetOdometer())) })
	return h
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
	out := verdict.History{Fitted: Date(t.GetFitted()), OnTire: h.ago(t.GetFittedAt()), Made: w.GetSidewall().GetIdentification()}
	if out.Made == "" {
		out.Made = t.GetSidewall().GetIdentification()
	}
	out.Made = lastFour(out.Made)
	id := w.GetTireId()
	if id == "" {
		id = cmp.Or(h.movedTo(w.GetPosition()), t.GetId())
	}
	stay := false
	for i := len(h.moves) - 1; i >= 0 && !stay; i-- {
		for _, m := range h.moves[i].GetMoves() {
			if m.GetTireId() != id || id == "" {
				continue
			}
			stay = true
			if m.GetTo().GetMounted().GetPosition() == w.GetPosition() {
				out.Here, out.Turned = h.ago(h.moves[i].GetOdometer()), m.GetTurned()
				out.Former = h.positionBefore(id, i)
			}
		}
	}
	for _, done := range h.work {
		rotated := done.GetKind() == pb.WorkKind_WORK_KIND_TIRES_ROTATED && (len(done.GetPositions()) == 0 || slices.Contains(done.GetPositions(), w.GetPosition()))
		if ago := h.ago(done.GetOdometer()); rotated && ago != nil && (out.Here == nil || *ago < *out.Here) {
			out.Here, out.Former, out.Turned = ago, layout.Position{}, false
		}
	}
	if out.Here == nil && !stay {
		out.Here = out.OnTire
	}
	return out
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
	for _, d := range h.work {
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
