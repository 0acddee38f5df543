package book

import (
	"cmp"
	"maps"
	"slices"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// course is a vehicle's record up to the place of one visit, and what followed.
type course struct {
	before  state            // what the visits before it have made of the vehicle
	earlier []*pb.Inspection // these visits as evidence, oldest first
	root    string           // the visit itself, or the first that it corrects
	later   []followed       // the visits after that place that stand
}

// followed is a visit that stands after the place of another.
type followed struct {
	*visit
	root     string
	arrivals map[string]*pb.Tire // that it named and that were not on the vehicle, as known when it was recorded
}

// onward gives what the visits after the place make of a vehicle as it was there.
// arrivals are those of the visit at the place.
func (c course) onward(next state, arrivals map[string]*pb.Tire) state {
	for _, f := range c.later {
		known := maps.Clone(f.arrivals)
		maps.Copy(known, arrivals)
		next = next.after(f.root, f.visit, known)
	}
	return next
}

// lastVisits reads a vehicle's last visits as evidence, oldest first, without
// those that were corrected.
func (v view) lastVisits(vehicle string) ([]*pb.Inspection, error) {
	var out []*pb.Inspection
	for behind, more := history.Key(""), true; more; {
		page, err := v.s.Scan(v.ctx, history.Range{Prefix: historyOf(vehicle), After: behind, Limit: earlierVisits, Reverse: true})
		if err != nil {
			return nil, err
		}
		for _, r := range page.Rows {
			in, err := readCover(r)
			if err != nil {
				return nil, err
			}
			by, err := v.replacedBy(in.GetId())
			if err != nil {
				return nil, err
			}
			if by == "" {
				out = append(out, in)
			}
			behind = r.Key
		}
		more = page.More && len(out) < earlierVisits
	}
	slices.Reverse(out)
	return out[max(0, len(out)-earlierVisits):], nil
}

func readCover(r history.Row) (*pb.Inspection, error) {
	row := &rows.VisitCover{}
	if err := decode(r.Value, row); err != nil {
		return nil, err
	}
	return covered(row)
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

// slot is the place of one visit in a vehicle's record, where a correction has the
// place of what it corrects.
type slot struct {
	id     string
	root   string         // the first visit that it corrects, itself where it corrects none
	number history.Number // of the root in the book
}

// course goes through a vehicle's record from its beginning, as if a visit were not in it, and
// gives what was before its place and what followed. That visit may have been
// corrected: then its correction is left out.
func (v view) course(vehicle, of string) (course, error) {
	all, err := v.slots(vehicle)
	if err != nil {
		return course{}, err
	}
	here := all[slices.IndexFunc(all, func(s slot) bool { return s.id == of })]
	c := course{root: here.root}
	standing, err := v.standing(all)
	if err != nil {
		return course{}, err
	}
	for _, f := range standing {
		on := c.before.tires
		if f.number > here.number {
			on = nil
		}
		arrivals, err := v.arrivalsThen(f.inspection, on)
		switch {
		case err != nil:
			return course{}, err
		case f.root == here.root:
		case f.number > here.number:
			c.later = append(c.later, followed{f.visit, f.root, arrivals})
		default:
			c = c.past(f, arrivals)
		}
	}
	return c, nil
}

// past is the course behind a visit that stands before the place.
func (c course) past(s standing, arrivals map[string]*pb.Tire) course {
	tires := tiresOf(c.before.tires, s.root, s.inspection.GetWheels())
	c.earlier = append(slices.Clip(c.earlier), bearing(s.inspection, tires))
	c.before = c.before.after(s.root, s.visit, arrivals)
	return c
}

// standing is a visit that stands, at its place in the vehicle's record.
type standing struct {
	*visit
	slot
}

// standing reads the visits of a record that were not corrected, whole.
func (v view) standing(all []slot) ([]standing, error) {
	var out []standing
	for i, s := range all {
		if i < len(all)-1 && all[i+1].root == s.root {
			continue
		}
		read, err := v.visit(s.id)
		if err != nil {
			return nil, err
		}
		out = append(out, standing{read, s})
	}
	return out, nil
}

// slots lists all visits of a vehicle by place, those that correct each other
// side by side, the one that stands last.
func (v view) slots(vehicle string) ([]slot, error) {
	var all []slot
	numbers, corrects := map[string]history.Number{}, map[string]string{}
	for behind, more := history.Key(""), true; more; {
		page, err := v.s.Scan(v.ctx, history.Range{Prefix: historyOf(vehicle), After: behind})
		if err != nil {
			return nil, err
		}
		for _, r := range page.Rows {
			in, err := readCover(r)
			if err != nil {
				return nil, err
			}
			numbers[in.GetId()], corrects[in.GetId()] = r.Version, in.GetCorrects().GetInspectionId()
			all, behind = append(all, slot{id: in.GetId()}), r.Key
		}
		more = page.More
	}
	for i, s := range all {
		all[i].root = s.id
		for corrects[all[i].root] != "" {
			all[i].root = corrects[all[i].root]
		}
		all[i].number = numbers[all[i].root]
	}
	slices.SortFunc(all, func(a, b slot) int {
		return cmp.Or(cmp.Compare(a.number, b.number), cmp.Compare(numbers[a.id], numbers[b.id]))
	})
	return all, nil
}
