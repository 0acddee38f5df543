package book

import (
	"slices"
	"strings"
	"time"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// course is a vehicle's record around the place of one visit.
type course struct {
	before  state                  // what the visits before it have made of the vehicle
	earlier []*pb.Inspection       // the last of these as evidence, oldest first
	between happenings             // what happened between them
	root    string                 // the visit itself, or the first that it corrects
	known   *timestamppb.Timestamp // when the visit was recorded: what was recorded later was not known
}

// step is a visit that stands in a vehicle's record, or what happened between visits.
type step struct {
	*visit   // nil where it is an event
	event    event
	key      history.Key // of its covering row
	arrivals map[string]*pb.Tire
	before   state
	came     map[string][]openFinding // by tire that it brings, what was open of it
	late     bool                     // it put right more than it was known to have
	isNew    bool                     // nothing is kept of it yet
}

// take is what it makes of the vehicle.
func (s step) take() state {
	s.before.came = s.came
	if s.visit == nil {
		return s.event.on(s.before)
	}
	return s.before.after(s.root, s.visit, s.arrivals)
}

// brings are the tires that it tells to be on the vehicle. One that a new visit sees first,
// nobody else has seen, unless it is imported: then it may be known from elsewhere.
func (s step) brings() (ids []string) {
	switch {
	case s.visit != nil && s.isNew && s.root == s.inspection.GetId() && !s.imported():
		return named(s.inspection)
	case s.visit != nil:
		return tiresOf(s.before.tires, s.root, s.inspection.GetWheels())
	}
	if m, are := s.event.(*moves); are {
		for _, t := range m.tires {
			if t.GetPlace().GetMounted().GetVehicleId() == m.of {
				ids = append(ids, t.GetId())
			}
		}
	}
	return ids
}

// named are the tires that a visit tells by their ids.
func named(in *pb.Inspection) (ids []string) {
	for _, w := range in.GetWheels() {
		if w.GetTireId() != "" {
			ids = append(ids, w.GetTireId())
		}
	}
	return ids
}

// onlyNamed is a visit of the wheels alone of which it names the tires.
func onlyNamed(in *pb.Inspection) *pb.Inspection {
	out := &pb.Inspection{}
	for _, w := range in.GetWheels() {
		if w.GetTireId() != "" {
			out.Wheels = append(out.Wheels, &pb.WheelReport{Position: w.GetPosition(), TireId: w.GetTireId()})
		}
	}
	return out
}

// bearing is what of it bears on later visits.
func (s step) bearing() *pb.Inspection {
	return bearing(s.inspection, tiresOf(s.before.tires, s.root, s.inspection.GetWheels()))
}

// covered is a covering row.
type covered struct {
	*rows.VisitCover
	key        history.Key
	number     history.Number // of the visit in the book
	inspection *pb.Inspection // cut to what bears on later ones
	replacedBy string         // the visit that corrects it; "": it stands
	root       string
	rootTime   int64 // when that was recorded
}

// readCover reads a covering row. What one of a former program does not say is looked up.
func (v view) readCover(r history.Row) (covered, error) {
	out := covered{VisitCover: &rows.VisitCover{}, key: r.Key, number: r.Version}
	if err := decode(r.Value, out.VisitCover); err != nil {
		return out, err
	}
	if out.GetNumber() != 0 {
		out.number = history.Number(out.GetNumber())
	}
	texts := rows.NewStrings(out.GetStrings())
	out.root = texts.Text(out.GetRoot())
	out.rootTime = nanos(out.GetRootTime())
	out.replacedBy = texts.Text(out.GetReplacedBy())
	var err error
	if out.inspection, err = coverOf(out.VisitCover); err != nil || out.root != "" {
		return out, err
	}
	if out.replacedBy, err = v.replacedBy(out.inspection.GetId()); err != nil {
		return out, err
	}
	place, err := v.formerPlace(out.inspection, out.GetRecordedTime())
	out.root, out.rootTime = place.root, nanos(place.rootTime)
	return out, err
}

// formerPlace is the place of a visit that a former program recorded: it stands where it
// was recorded.
func (v view) formerPlace(in *pb.Inspection, recorded *timestamppb.Timestamp) (place, error) {
	p := place{counted: recorded, root: in.GetId(), rootTime: recorded, former: true}
	for before := in.GetCorrects().GetInspectionId(); before != ""; {
		row, first := &rows.Visit{}, &pb.Inspection{}
		if _, _, err := v.get(visitKey(before), row); err != nil {
			return p, err
		}
		if err := proto.Unmarshal(row.GetInspection(), first); err != nil {
			return p, err
		}
		p.root, p.rootTime, before = before, row.GetRecordedTime(), first.GetCorrects().GetInspectionId()
	}
	return p, nil
}

// covers goes through the covering rows of a vehicle's visits that stand, from behind a
// key on, until each answers that it needs no more.
func (v view) covers(vehicle string, behind history.Key, reverse bool, each func(covered) (more bool, err error)) error {
	for more := true; more; {
		page, err := v.s.Scan(v.ctx, history.Range{Prefix: historyOf(vehicle), After: behind, Limit: earlierVisits + 2, Reverse: reverse})
		if err != nil {
			return err
		}
		for _, r := range page.Rows {
			behind = r.Key
			c, err := v.readCover(r)
			if err != nil {
				return err
			}
			if c.replacedBy != "" {
				continue
			}
			if goOn, err := each(c); err != nil || !goOn {
				return err
			}
		}
		more = page.More
	}
	return nil
}

// knowledge is what may be used of a record: not a visit, nor what corrects it, and
// nothing that was recorded after a moment.
type knowledge struct {
	without string      // the visit, or the first that it corrects
	from    history.Key // states behind this key may have it in them; "" none has
	until   *timestamppb.Timestamp
}

func (k knowledge) has(c covered) bool {
	return c.root != k.without && (k.until == nil || c.rootTime <= nanos(k.until))
}

// evidenceBefore reads the last visits before a place, the newest first.
func (v view) evidenceBefore(vehicle string, before history.Key, k knowledge) (all []covered, err error) {
	err = v.covers(vehicle, before, true, func(c covered) (bool, error) {
		if k.has(c) {
			all = append(all, c)
		}
		return len(all) < earlierVisits, nil
	})
	return all, err
}

// stateBefore is what the visits before a place have made of the vehicle: as it was kept
// after one of them, and what those behind that one made of it.
func (v view) stateBefore(vehicle string, before history.Key, k knowledge) (state, error) {
	var s state
	var behind []step
	from := history.Key("")
	err := v.covers(vehicle, before, true, func(c covered) (bool, error) {
		if k.from == "" || c.key < k.from {
			kept, found, err := v.stateAfter(vehicle, c.inspection.GetId())
			if err != nil {
				return false, err
			}
			if found && (k.until == nil || nanos(kept.roots) <= nanos(k.until)) {
				s, from = kept, c.key
				return false, nil
			}
		}
		if !k.has(c) {
			return true, nil
		}
		visit, err := v.step(c)
		behind = append(behind, visit)
		return true, err
	})
	if err != nil {
		return state{}, err
	}
	events, err := v.events(vehicle, from, before)
	if err != nil {
		return state{}, err
	}
	for _, step := range inOrder(append(behind, events...)) {
		if k.until != nil && nanos(step.rootTime()) > nanos(k.until) {
			continue
		}
		if s, err = v.take(&step, s); err != nil {
			return state{}, err
		}
	}
	return s, nil
}

// rootTime is when it was known first.
func (s step) rootTime() *timestamppb.Timestamp {
	if s.visit != nil {
		return s.visit.rootTime
	}
	return timestamppb.New(time.Unix(0, spotOf(s.key)[8:].FirstInt64()))
}

// take takes a step, with what comes with the tires that it brings.
func (v view) take(s *step, before state) (after state, err error) {
	s.before, s.came = before, map[string][]openFinding{}
	for _, id := range s.brings() {
		if among(before.tires, id) {
			continue
		}
		if s.came[id], err = v.openAt(id, spotOf(s.key)); err != nil {
			return after, err
		}
	}
	return s.take(), nil
}

// inOrder sorts steps by their places.
func inOrder(steps []step) []step {
	slices.SortFunc(steps, func(a, b step) int { return strings.Compare(string(a.key), string(b.key)) })
	return steps
}

// step reads a visit whole.
func (v view) step(c covered) (step, error) {
	read, err := v.visit(c.inspection.GetId())
	if err != nil {
		return step{}, err
	}
	more := &rows.PutRights{}
	if _, _, err := v.get(mendedKey(c.inspection.GetId()), more); err != nil {
		return step{}, err
	}
	read.putRight = append(read.putRight, settledRead(rows.NewStrings(more.GetStrings()), more.GetPutRight())...)
	arrivals, err := v.arrivalsThen(read.inspection, nil)
	return step{visit: read, key: c.key, arrivals: arrivals}, err
}

// stepsBehind reads the visits behind a place whole but for one, and what happened between
// them, oldest first.
func (v view) stepsBehind(vehicle string, place history.Key, root string) (all []step, err error) {
	err = v.covers(vehicle, place, false, func(c covered) (bool, error) {
		if c.root == root {
			return true, nil
		}
		s, err := v.step(c)
		all = append(all, s)
		return true, err
	})
	if err != nil {
		return nil, err
	}
	events, err := v.events(vehicle, place, "")
	return inOrder(append(all, events...)), err
}

// course gives what a kept visit was judged by, as far as it was known when it was
// recorded: the visits before its place. That visit may have been corrected: then its
// correction is left out.
func (v view) course(of *visit) (course, error) {
	vehicle := of.vehicle
	k := knowledge{without: of.root, until: of.rootTime}
	stands := of
	for stands.replacedBy != "" {
		var err error
		if stands, err = v.visit(stands.replacedBy); err != nil {
			return course{}, err
		}
	}
	if stands != of {
		k.from = stands.key()
	}
	here := of.key()
	if of.former { // it was judged where the first visit that it corrects stands
		here = formerKey(vehicle, nanos(of.rootTime), of.root)
	}
	before, err := v.stateBefore(vehicle, here, k)
	if err != nil {
		return course{}, err
	}
	earlier, err := v.evidenceBefore(vehicle, here, k)
	if err != nil {
		return course{}, err
	}
	out := course{before: before, root: of.root, known: of.time}
	out.earlier, out.between, err = v.around(vehicle, earlier, here, k.until)
	return out, err
}

// arrivalsThen gives what arrivals gave when a kept visit was recorded.
func (v view) arrivalsThen(visit *pb.Inspection, on []*pb.Tire) (map[string]*pb.Tire, error) {
	row := &rows.Tires{}
	if _, _, err := v.get(arrivalsKey(visit.GetId()), row); err != nil {
		return nil, err
	}
	known, err := tiresRead(row.GetTires())
	if err != nil {
		return nil, err
	}
	tires := map[string]*pb.Tire{}
	for _, w := range visit.GetWheels() {
		if id := w.GetTireId(); id != "" && !among(on, id) {
			tires[id] = &pb.Tire{Id: id}
		}
	}
	for _, t := range known {
		if tires[t.GetId()] != nil {
			tires[t.GetId()] = t
		}
	}
	return tires, nil
}
