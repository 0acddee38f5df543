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

	parting  *parting       // tires that left the vehicle in these
	oldCover *pb.Inspection // of the visit that is corrected, as its covering row has it
}

// findPlace finds where the visit comes to stand, and what it tells of tires. old is what it
// corrects, nil: nothing.
func (r *recording) findPlace(s view, old *visit) error {
	settings, _, err := s.shop(r.shop)
	if err != nil {
		return err
	}
	r.visit.time = next(r.book.now(), r.vehicle.state.recorded)
	r.visit.place = r.placeOf(old, settings)
	if r.book.importing {
		if r.visit.counted, err = r.book.standing(r.toldTime(), r.visit.time, "inspection.taken_time"); err != nil {
			return err
		}
	}
	if r.book.importing || old != nil && old.imported() { // what corrects history is history
		r.visit.stood = r.visit.counted
	}
	r.placing = placing{oldCover: r.oldCover, place: r.visit.place, course: course{root: r.visit.root, known: r.visit.time}}
	from := r.visit.key()
	if old != nil {
		from = min(from, old.key())
	}
	if err := r.tellTires(old); err != nil {
		return err
	}
	vehicle, k := r.vehicle.record.GetId(), knowledge{without: r.visit.root}
	if r.steps, err = s.stepsBehind(vehicle, from, k.without); err != nil {
		return err
	}
	before := r.vehicle.state
	if old != nil || len(r.steps) > 0 {
		if before, err = s.stateBefore(vehicle, from, k); err != nil {
			return err
		}
	}
	if r.parting, err = s.parting(r.across.draft, vehicle, from); err != nil {
		return err
	}
	if err := r.insert(r.visit.key(), before); err != nil {
		return err
	}
	earlier, err := s.evidenceBefore(vehicle, r.visit.key(), k)
	if err != nil {
		return err
	}
	r.earlier, r.between, err = s.around(vehicle, r.again(earlier, r.visit.key()), r.visit.key(), nil)
	return err
}

// tellTires goes through the records of other vehicles on which tires were that this visit
// tells to be here, or that the one which it corrects told to be.
func (r *recording) tellTires(old *visit) error {
	a := r.across
	if old != nil {
		for _, id := range append(named(old.inspection), seenFirst(old.root, r.oldCover)...) {
			if err := a.untell(id, spotOf(old.key())); err != nil {
				return err
			}
		}
	}
	last, err := a.isLast(r.visit.vehicle, r.visit.key())
	if err != nil {
		return err
	}
	for _, id := range named(r.visit.inspection) {
		if last && old == nil && among(r.vehicle.state.tires, id) {
			continue // it is where it was
		}
		if err := a.tell(id, r.visit.vehicle, spotOf(r.visit.key())); err != nil {
			return err
		}
	}
	a.draft.lived(&r.visit, nil, onlyNamed(r.visit.inspection))
	return a.settle()
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

// toldTime is when a visit that is imported counts as taken by what is told of it; nil:
// nothing is.
func (r *recording) toldTime() *timestamppb.Timestamp {
	if r.visit.inspection.GetTakenTime() == nil && r.visit.inspection.GetLocalDate() == nil && r.visit.root == r.id() {
		return nil
	}
	return r.visit.counted
}

// insert puts the visit among the steps, and finds what those before it make of the vehicle.
func (r *recording) insert(here history.Key, before state) (err error) {
	r.here = slices.IndexFunc(r.steps, func(s step) bool { return s.key > here })
	if r.here < 0 {
		r.here = len(r.steps)
	}
	for i := range r.steps[:r.here] {
		if before, err = r.pass(&r.steps[i], before); err != nil {
			return err
		}
	}
	r.steps = slices.Insert(r.steps, r.here, step{visit: &r.visit, key: here, before: before, isNew: true})
	r.before = before
	return nil
}

// pass goes through a step, and notes which tires left in it.
func (r *recording) pass(s *step, before state) (after state, err error) {
	if after, err = r.across.take(s, before); err != nil {
		return after, err
	}
	return after, r.across.passes(r.parting, *s, after)
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
		var err error
		if next, err = r.pass(step, next); err != nil {
			return state{}, err
		}
	}
	return next, nil
}

// keptStates is of how many steps behind a visit that comes late states are kept again.
// Of those behind these it is gone through when it is asked for.
const keptStates = 40

// writeSteps puts what is kept of the visits that were gone through: the states after
// them, and their tires where these are others now.
func (r *recording) writeSteps(d *drafting) error {
	d.statesAfter(r.vehicle.record.GetId(), r.steps)
	for i, step := range r.steps {
		if step.visit == nil {
			continue
		}
		if i == r.here {
			d.cover(step.visit, step.bearing())
			if r.visit.root != r.id() || r.visit.imported() {
				if err := r.across.seenFirst(step.visit, nil, step.bearing()); err != nil {
					return err
				}
			}
			continue
		}
		if step.late {
			d.putRight(step.visit)
		}
		if err := r.across.recover(step); err != nil {
			return err
		}
	}
	return nil
}

// recover puts the covering row of a visit again where its tires are others now, and notes
// those that it sees first now, or does no more.
func (a *across) recover(step step) error {
	if step.visit == nil {
		return nil
	}
	row, err := a.s.Get(a.ctx, step.key)
	if err != nil {
		return err
	}
	c, err := a.readCover(row)
	if err != nil {
		return err
	}
	now := step.bearing()
	if sameTires(c.inspection, now) {
		return nil
	}
	a.draft.lived(step.visit, c.inspection, now)
	was := c.inspection
	c.Inspection = a.draft.sent(now)
	a.draft.coverAgain(c)
	return a.seenFirst(step.visit, was, now)
}

// sameTires tells that two covers of one visit name the same tires.
func sameTires(a, b *pb.Inspection) bool {
	return slices.EqualFunc(a.GetWheels(), b.GetWheels(), func(a, b *pb.WheelReport) bool { return a.GetTireId() == b.GetTireId() })
}

// seenFirst notes which tires a visit sees first now, and which no more.
func (a *across) seenFirst(v *visit, was, now *pb.Inspection) error {
	spot := spotOf(v.key())
	before, after := seenFirst(v.root, was), seenFirst(v.root, now)
	for _, id := range before {
		if !slices.Contains(after, id) {
			if err := a.untell(id, spot); err != nil {
				return err
			}
		}
	}
	for _, id := range after {
		if !slices.Contains(before, id) {
			if err := a.tell(id, v.vehicle, spot); err != nil {
				return err
			}
		}
	}
	return nil
}
