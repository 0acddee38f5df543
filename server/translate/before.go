package translate

import (
	"slices"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/verdict"
)

// visits gives what earlier visits read of the tire on a wheel, wherever it stood
// then, the latest first. A visit that a later one replaces does not count, nor one
// without an odometer or with a higher one than today's.
func (h past) visits(w *pb.WheelReport, t *pb.Tire) []verdict.Before {
	here, err := layout.Parse(w.GetPosition())
	if err != nil || here.Spare || h.now == nil {
		return nil
	}
	id := h.tireOn(w, t)
	course := h.stays(id, meters(t.GetFittedOdometer()), here)
	known := course[len(course)-1].at == here // else moved since without a record
	var out []verdict.Before
	for _, e := range h.early {
		at := meters(e.GetOdometer())
		if at == nil || *at > *h.now || h.replaced(e) || h.mixedSince(e) {
			continue
		}
		m := named(e, id)
		if m != nil && m.GetPosition() == here.String() && h.changedSince(*at, here) && !h.movedSince(e, h.visit) {
			continue // changed by a note alone, and named as if it had stayed
		}
		if m == nil && known {
			m = h.unnamed(e, *at, course)
		}
		if m == nil || otherTire(w, m) {
			continue
		}
		b := verdict.Before{Ago: *h.now - *at, Day: Date(e.GetLocalDate()), Conditions: conditions(e.GetConditions())}
		b.At, _ = layout.Parse(m.GetPosition())
		b.Stayed = b.At == here
		if known {
			b.Ago, b.Turned, b.Stayed = since(course, *at, b)
		}
		b.DepthGauge, _ = depthGauge(e.GetGauges())
		b.Depths, _ = treadReadings(m)
		b.Found, b.Left = pressures(m.GetPressures(), e.GetGauges())
		out = append(out, b)
	}
	slices.SortStableFunc(out, verdict.Before.Compare)
	return out
}

// mixedSince tells that somebody said at a later visit that tires had changed places,
// and no move is on record: nobody knows any more which of today's tires a visit before
// it read.
func (h past) mixedSince(e *pb.Inspection) bool {
	moved := func(v *pb.Inspection) bool {
		return v.GetConditions().GetTiresMoved() == pb.Answer_ANSWER_YES && odometer(v.GetOdometer()) > odometer(e.GetOdometer()) && !h.movedSince(e, v)
	}
	return moved(h.visit) || slices.ContainsFunc(h.early, moved)
}

// movedSince tells that a move is on record between two visits.
func (h past) movedSince(e, until *pb.Inspection) bool {
	from, to := odometer(e.GetOdometer()), odometer(until.GetOdometer())
	return slices.ContainsFunc(h.moves, func(m *pb.TireMoves) bool { at := odometer(m.GetOdometer()); return at >= from && at <= to })
}

// replaced tells that a later visit, today's among them, replaces this one.
func (h past) replaced(e *pb.Inspection) bool {
	is := func(v *pb.Inspection) bool {
		return e.GetId() != "" && v.GetCorrects().GetInspectionId() == e.GetId()
	}
	return is(h.visit) || slices.ContainsFunc(h.early, is)
}

// named is the wheel of a visit that names the tire.
func named(e *pb.Inspection, id string) *pb.WheelReport {
	for _, m := range e.GetWheels() {
		if id != "" && m.GetTireId() == id {
			return m
		}
	}
	return nil
}

// unnamed is the wheel of a visit at the place where the tire was then, when it
// names no tire. At the visit that fitted it another was found. A change of tires
// since then that was written down as work only leaves open which one it was.
func (h past) unnamed(e *pb.Inspection, at unit.Distance, course []stay) *pb.WheelReport {
	if course[0].from != nil && at <= *course[0].from {
		return nil
	}
	for _, s := range course {
		if s.from != nil && at < *s.from || s.until == nil || at > *s.until {
			continue
		}
		if h.changedSince(at, s.at) {
			return nil
		}
		for _, m := range e.GetWheels() {
			if p, err := layout.Parse(m.GetPosition()); err == nil && p == s.at && m.GetTireId() == "" {
				return m
			}
		}
		return nil
	}
	return nil
}

// changedSince tells that tires were rotated or exchanged at a place by a note alone,
// after a visit's readings. A visit that exchanges a tire may have read the new one.
func (h past) changedSince(at unit.Distance, place layout.Position) bool {
	return slices.ContainsFunc(h.work, func(w *pb.WorkDone) bool {
		if len(w.GetPositions()) > 0 && !slices.Contains(w.GetPositions(), place.String()) {
			return false
		}
		done := meters(w.GetOdometer())
		switch w.GetKind() {
		case pb.WorkKind_WORK_KIND_TIRES_ROTATED:
			return done == nil || *done >= at
		case pb.WorkKind_WORK_KIND_TIRES_REPLACED, pb.WorkKind_WORK_KIND_SEASON_CHANGED:
			return done == nil || *done > at
		}
		return false
	})
}

// otherTire: the dates on the sidewalls are not the same.
func otherTire(a, b *pb.WheelReport) bool {
	x, y := lastFour(a.GetSidewall().GetIdentification()), lastFour(b.GetSidewall().GetIdentification())
	return x != "" && y != "" && x != y
}

// since is what a tire ran after a visit without its time in storage, whether its
// other sidewall faces out now, and whether it stayed on its wheel position. What
// is not known of its stays leaves all that the odometer ran.
func since(course []stay, at unit.Distance, b verdict.Before) (ran unit.Distance, turned, stayed bool) {
	stayed = b.Stayed
	for i, s := range course {
		if i > 0 && s.from != nil && *s.from >= at {
			turned, stayed = turned != s.turned, false
		}
		from := at
		if s.from != nil {
			from = max(at, *s.from)
		}
		if s.until == nil {
			return b.Ago, turned, stayed
		}
		ran += max(0, *s.until-from)
	}
	return ran, turned, stayed
}
