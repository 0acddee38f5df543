package book

import (
	"cmp"
	"slices"
	"time"

	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/translate"
)

// ofTire tells that a finding goes with the tire at its wheel.
func (f openFinding) ofTire() bool {
	return len(f.positions) == 1 && finding.KindOf(finding.Code(f.code)).Of == finding.OfTire
}

// nowID is the id by which a later visit finds it again.
func (f openFinding) nowID() string { return cmp.Or(f.laterID, f.findingID) }

// follow gives what was open before, each that is of a tire where that tire is now, and what
// came with tires. What is of a tire that is no longer on the vehicle is closed, and goes with
// it. gone says how, where it is known where the tire is instead.
func (s state) follow(before state, gone func(tire string) finding.Closed) (open []openFinding) {
	for _, t := range before.tires {
		if !among(s.tires, t.GetId()) {
			s.went[t.GetId()] = nil
		}
	}
	for _, f := range before.open {
		was := tireAt(before.tires, first(f.positions))
		if !f.ofTire() || was == nil {
			open = append(open, f)
			continue
		}
		i := slices.IndexFunc(s.tires, func(t *pb.Tire) bool { return t.GetId() == was.GetId() })
		if i < 0 {
			s.closedBy[f.openID] = &pb.Said{Code: string(s.goneBy(f, gone(was.GetId())))}
			s.went[was.GetId()] = append(s.went[was.GetId()], f)
			continue
		}
		if now := position(s.tires[i]); now != f.positions[0] {
			f = f.movedTo(now)
		}
		open = append(open, f)
	}
	for _, t := range s.tires {
		if among(before.tires, t.GetId()) {
			continue
		}
		for _, f := range before.came[t.GetId()] {
			open = append(open, f.movedTo(position(t)))
		}
	}
	return open
}

// goneBy is what closes what is of a tire that is gone.
func (s state) goneBy(f openFinding, known finding.Closed) finding.Closed {
	switch {
	case known != "":
		return known
	case tireAt(s.tires, f.positions[0]) != nil:
		return finding.ClosedOtherTire
	}
	return finding.ClosedTireOff
}

// nowhere: nobody said where a tire went.
func nowhere(string) finding.Closed { return "" }

// movedTo is the finding with its tire at another wheel than it was found at.
func (f openFinding) movedTo(position string) openFinding {
	f.positions = []string{position}
	f.laterID = finding.ID(translate.Positions(f.positions), f.code, f.rule)
	return f
}

// remounted is what another set of tires on the vehicle makes of it.
func (s state) remounted(tires []*pb.Tire, gone func(tire string) finding.Closed) state {
	next := s.clone()
	next.tires = tires
	next.open = next.follow(s, gone)
	slices.SortStableFunc(next.open, func(a, b openFinding) int { return cmp.Compare(a.urgency, b.urgency) })
	last := s.headline
	if slices.ContainsFunc(s.open, func(f openFinding) bool { return !next.has(f.openID) }) {
		last = unheld(last)
	}
	if s.headline != nil || len(next.open) > 0 {
		next.headline = headline(next.open, last, s.headline.GetFacts())
	}
	return next
}

// departed is that a record of another vehicle tells a tire to be there.
type departed struct {
	tire, to string
	known    *timestamppb.Timestamp // since when
}

func (d departed) on(s state) state {
	if !among(s.tires, d.tire) {
		return s.clone()
	}
	next := s.remounted(slices.DeleteFunc(slices.Clone(s.tires), func(t *pb.Tire) bool { return t.GetId() == d.tire }), func(string) finding.Closed {
		if d.to == "" {
			return finding.ClosedTireOff
		}
		return finding.ClosedMovedOn
	})
	if nanos(d.known) > nanos(next.roots) {
		next.roots = d.known
	}
	return next
}

// departed reads that a tire departed; nil where the record at its place tells of the tire no
// more, or where the two vehicles were found to be one.
func (v view) departed(of string, k history.Key, row *rows.Event) (event, error) {
	spot := spotOf(k)
	tells, err := v.s.Scan(v.ctx, history.Range{Prefix: lifeOf(row.GetDeparted()) + spot[:placeSize].Text(spot.Texts(placeSize)[0]), Limit: 1})
	if err != nil || len(tells.Rows) == 0 {
		return nil, err
	}
	to, err := v.resolved(row.GetDepartedTo())
	if err != nil || to == of {
		return nil, err
	}
	return departed{row.GetDeparted(), to, timestamppb.New(time.Unix(0, spot[8:].FirstInt64()))}, nil
}

func first(positions []string) string {
	if len(positions) == 0 {
		return ""
	}
	return positions[0]
}
