package book

import (
	"maps"
	"slices"
	"strings"
	"time"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
)

// placing is where a visit that is recorded comes to stand, and the visits that are gone
// through again for it: those behind its place, and where it corrects one behind the place
// of that.
type placing struct {
	place
	course
	steps []step // this visit among them, oldest first
	here  int    // which of them it is
}

// findPlace finds where the visit comes to stand. old is what it corrects, nil: nothing.
func (r *recording) findPlace(s view, old *visit) error {
	settings, _, err := s.shop(r.shop)
	if err != nil {
		return err
	}
	r.visit.time = next(r.book.now(), r.vehicle.state.recorded)
	r.visit.place = r.placeOf(old, settings)
	r.placing = placing{place: r.visit.place, course: course{root: r.visit.root, known: r.visit.time}}
	vehicle, k := r.vehicle.record.GetId(), knowledge{without: r.visit.root}
	here := r.visit.key()
	from := here
	if old != nil {
		from = min(here, old.key())
	}
	if r.steps, err = s.stepsBehind(vehicle, from, k.without); err != nil {
		return err
	}
	before := r.vehicle.state
	if old != nil || len(r.steps) > 0 {
		if before, err = s.stateBefore(vehicle, from, k); err != nil {
			return err
		}
	}
	r.insert(here, before)
	earlier, err := s.evidenceBefore(vehicle, here, k)
	r.earlier = inspections(r.again(earlier, here))
	return err
}

// placeOf is where the visit stands. A correction without a time is of the moment at which
// the first that it corrects was recorded, one that was taken when that was of its moment.
func (r *recording) placeOf(old *visit, settings *pb.Shop) place {
	p := place{root: r.id(), rootTime: r.visit.time}
	arrived := r.visit.time.AsTime()
	if old != nil {
		p.root, p.rootTime = old.root, old.rootTime
		if r.visit.inspection.GetTakenTime() == nil {
			arrived = old.rootTime.AsTime()
		}
	}
	if old != nil && !old.former && proto.Equal(r.visit.inspection.GetTakenTime(), old.inspection.GetTakenTime()) && r.visit.inspection.GetTakenTime() != nil {
		p.counted = old.counted
		return p
	}
	var sent time.Time
	if r.sent != nil {
		sent = r.sent.AsTime()
	}
	p.counted = timestamppb.New(counted(r.visit.inspection, settings, sent, arrived))
	return p
}

// insert puts the visit among the steps, and finds what those before it make of the vehicle.
func (r *recording) insert(here history.Key, before state) {
	r.here = slices.IndexFunc(r.steps, func(s step) bool { return s.key > here })
	if r.here < 0 {
		r.here = len(r.steps)
	}
	for i := range r.steps[:r.here] {
		r.steps[i].before = before
		before = r.steps[i].take()
	}
	r.steps = slices.Insert(r.steps, r.here, step{visit: &r.visit, key: here, before: before})
	r.before = before
}

// again puts the visits that are gone through again in place of what was read of them,
// the newest first. Only those before a place count.
func (r *recording) again(read []covered, before history.Key) []covered {
	all := slices.DeleteFunc(slices.Clone(read), func(c covered) bool {
		return slices.ContainsFunc(r.steps, func(s step) bool { return s.visit != nil && s.root == c.root })
	})
	for _, s := range r.steps {
		if s.visit != nil && s.key < before {
			all = append(all, covered{key: s.key, inspection: s.bearing(), root: s.root})
		}
	}
	slices.SortFunc(all, func(a, b covered) int { return strings.Compare(string(b.key), string(a.key)) })
	return all[:min(len(all), earlierVisits)]
}

// onward goes through the visits from this one on, and gives what they make of the
// vehicle. Tires that arrived with this one are known to all.
func (r *recording) onward(s view) (state, error) {
	r.steps[r.here].arrivals = r.arrivals
	next := r.before
	for i := r.here; i < len(r.steps); i++ {
		step := &r.steps[i]
		step.before = next
		if i > r.here && step.visit != nil {
			known := maps.Clone(step.arrivals)
			maps.Copy(known, r.arrivals)
			step.arrivals = known
			if err := r.putRightBehind(s, step); err != nil {
				return state{}, err
			}
		}
		next = step.take()
	}
	return next, nil
}

// keptStates is of how many visits behind one that comes late the state is kept again.
// Of those behind these it is gone through when it is asked for.
const keptStates = 40

// writeSteps puts what is kept of the visits that were gone through: the states after
// them, and their tires where these are others now.
func (r *recording) writeSteps(d *drafting, s view) error {
	for i, step := range r.steps {
		if step.visit == nil {
			continue
		}
		id := step.inspection.GetId()
		if i < keptStates {
			d.stateAfter(id, step.take())
		} else {
			d.Delete = append(d.Delete, afterKey(id))
		}
		if i == r.here {
			d.cover(step.visit, step.bearing())
			continue
		}
		if step.late {
			d.putRight(step.visit)
		}
		if err := r.recover(d, s, step); err != nil {
			return err
		}
	}
	return nil
}

// recover puts the covering row of a visit again where its tires are others now.
func (r *recording) recover(d *drafting, s view, step step) error {
	row, err := s.s.Get(s.ctx, step.key)
	if err != nil {
		return err
	}
	c, err := s.readCover(row)
	if err != nil {
		return err
	}
	now := step.bearing()
	same := slices.EqualFunc(c.inspection.GetWheels(), now.GetWheels(), func(a, b *pb.WheelReport) bool { return a.GetTireId() == b.GetTireId() })
	if !same {
		d.lived(step.visit, c.inspection, now)
		c.Inspection = d.sent(now)
		d.coverAgain(c)
	}
	return nil
}
