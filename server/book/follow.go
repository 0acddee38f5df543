package book

import (
	"cmp"
	"slices"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/translate"
)

// ofTire tells that a finding goes with the tire at its wheel.
func (f openFinding) ofTire() bool {
	return len(f.positions) == 1 && finding.KindOf(finding.Code(f.code)).Of == finding.OfTire
}

// nowID is the id by which a later visit finds it again.
func (f openFinding) nowID() string { return cmp.Or(f.laterID, f.findingID) }

// follow gives what was open before, each that is of a tire where that tire is now. What is
// of a tire that is no longer on the vehicle is closed.
func (s state) follow(before state) (open []openFinding) {
	for _, f := range before.open {
		was := tireAt(before.tires, first(f.positions))
		if !f.ofTire() || was == nil {
			open = append(open, f)
			continue
		}
		i := slices.IndexFunc(s.tires, func(t *pb.Tire) bool { return t.GetId() == was.GetId() })
		if i < 0 {
			by := finding.ClosedTireOff
			if tireAt(s.tires, f.positions[0]) != nil {
				by = finding.ClosedOtherTire
			}
			s.closedBy[f.openID] = &pb.Said{Code: string(by)}
			continue
		}
		if now := position(s.tires[i]); now != f.positions[0] {
			f.positions = []string{now}
			f.laterID = finding.ID(translate.Positions(f.positions), f.code, f.rule)
		}
		open = append(open, f)
	}
	return open
}

// remounted is what another set of tires on the vehicle makes of it.
func (s state) remounted(tires []*pb.Tire) state {
	next := s.clone()
	next.tires = tires
	next.open = next.follow(s)
	last := s.headline
	if len(next.open) < len(s.open) {
		last = unheld(last)
	}
	if s.headline != nil {
		next.headline = headline(next.open, last, s.headline.GetFacts())
	}
	return next
}

// departed is that a tire was found on another vehicle.
type departed struct{ tire string }

func (d departed) on(s state) state {
	return s.remounted(slices.DeleteFunc(slices.Clone(s.tires), func(t *pb.Tire) bool { return t.GetId() == d.tire }))
}

func first(positions []string) string {
	if len(positions) == 0 {
		return ""
	}
	return positions[0]
}
