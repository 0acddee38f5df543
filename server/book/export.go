package book

import (
	"cmp"
	"context"
	"slices"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// Export gives what is recorded of a shop, as it is at one moment, in an order in which it can
// be imported: vehicles, then tires, then what happened in the order in which it stands in the
// book. Vehicles that were found to be one are one. What identifies a person is left out
// unless persons says so. What follows from records is not in it, nor numbers and revisions.
//
// Errors: that of each, which ends it; the store's.
func (b *Book) Export(ctx context.Context, shop string, persons bool, each func(*rows.Exported) error) error {
	return b.read(ctx, shop, func(s view) error {
		x := exporting{s, persons, each}
		for _, part := range []func() error{x.vehicles, x.tires, x.happened} {
			if err := part(); err != nil {
				return err
			}
		}
		return nil
	})
}

// exporting is one export.
type exporting struct {
	view
	persons bool
	each    func(*rows.Exported) error
}

func (x exporting) vehicles() error {
	return x.eachRow(key(vehicleMark), func(r history.Row) error {
		id := r.Key.Texts(1)[0]
		if now, err := x.resolved(id); err != nil || now != id {
			return err
		}
		of, err := x.vehicle(id)
		if err != nil {
			return err
		}
		out := bare(of.record)
		if x.persons {
			out.CustomerData = of.person
		}
		return x.each(&rows.Exported{Kind: "vehicle", Record: &rows.Exported_Vehicle{Vehicle: out}})
	})
}

// tires are those that were recorded, and those that a visit saw and that moves or repairs
// name: a visit may see another there when it is imported. The rest come with the visits that
// saw them.
func (x exporting) tires() error {
	named := map[string]bool{}
	err := x.eachRow(key(movesMark), func(r history.Row) error {
		m, err := x.view.moves(r.Key.Texts(1)[0])
		for _, t := range m.tiresMoved() {
			named[t.GetId()] = true
		}
		return err
	})
	if err != nil {
		return err
	}
	err = x.eachRow(key(repairsMark), func(r history.Row) error {
		named[r.Key.Texts(1)[0]] = true
		return nil
	})
	if err != nil {
		return err
	}
	return x.eachRow(key(tireMark), func(r history.Row) error {
		id := r.Key.Texts(1)[0]
		t, _, err := x.tire(id)
		if err != nil {
			return err
		}
		born, err := x.s.Get(x.ctx, tireBornKey(id))
		if err != nil || born.Version == history.Absent && !named[id] {
			return err
		}
		return x.each(&rows.Exported{Kind: "tire", Record: &rows.Exported_Tire{Tire: bareTire(t)}})
	})
}

// tiresMoved are the tires of moves; of none, none.
func (m *moves) tiresMoved() []*pb.Tire {
	if m == nil {
		return nil
	}
	return m.tires
}

// spot is where a record stands among all that happened.
type spot struct {
	at    int64 // when, in nanoseconds
	after int   // how many records it corrects
	kind  int   // its place among happenedKinds
	id    string
}

func (a spot) compare(b spot) int {
	return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.after, b.after), cmp.Compare(a.kind, b.kind), cmp.Compare(a.id, b.id))
}

// happenedKind is a kind of record of what happened.
type happenedKind struct {
	mark byte
	// read gives a record, and where it stands.
	read func(x exporting, id string) (*rows.Exported, spot, error)
}

// happenedKinds are all, those first on which others of the same moment may rest.
var happenedKinds = []happenedKind{
	{visitMark, exporting.inspection}, {repairMark, exporting.repair}, {movesMark, exporting.moved}, {happenedMark, exporting.event}, {outcomeMark, exporting.decision},
}

// happened gives what happened, in order. A correction stands behind what it corrects, also
// where it tells an earlier time.
func (x exporting) happened() error {
	var spots []spot
	for kind, of := range happenedKinds {
		err := x.eachRow(key(of.mark), func(r history.Row) error {
			id := r.Key.Texts(1)[0]
			out, at, err := of.read(x, id)
			if out != nil {
				at.id, at.kind = id, kind
				spots = append(spots, at)
			}
			return err
		})
		if err != nil {
			return err
		}
	}
	slices.SortFunc(spots, spot.compare)
	for _, s := range spots {
		out, _, err := happenedKinds[s.kind].read(x, s.id)
		if err != nil {
			return err
		}
		if err := x.resolveIn(out.ProtoReflect()); err != nil {
			return err
		}
		if err := x.each(out); err != nil {
			return err
		}
	}
	return nil
}

func (x exporting) inspection(id string) (*rows.Exported, spot, error) {
	v, err := x.visit(id)
	if err != nil || v == nil {
		return nil, spot{}, err
	}
	s := spot{at: nanos(v.counted)}
	for old := v; old != nil && err == nil && old.inspection.GetCorrects() != nil; s.after++ {
		if old, err = x.visit(old.inspection.GetCorrects().GetInspectionId()); old != nil {
			s.at = max(s.at, nanos(old.counted))
		}
	}
	return &rows.Exported{Kind: "visit", CountedTime: v.counted, Record: &rows.Exported_Inspection{Inspection: v.inspection}}, s, err
}

func (x exporting) repair(id string) (*rows.Exported, spot, error) {
	out := &pb.Repair{}
	e, err := x.record(repairKey(id), out)
	if err != nil || !e.there() {
		return nil, spot{}, err
	}
	return &rows.Exported{Kind: "repair", CountedTime: e.at(), Record: &rows.Exported_Repair{Repair: out}}, spot{at: nanos(e.at())}, nil
}

func (x exporting) moved(id string) (*rows.Exported, spot, error) {
	m, err := x.view.moves(id)
	if err != nil || m == nil {
		return nil, spot{}, err
	}
	return &rows.Exported{Kind: "moves", CountedTime: m.at(), VehicleId: m.vehicle, Record: &rows.Exported_Moves{Moves: m.moves}}, spot{at: nanos(m.at())}, nil
}

func (x exporting) event(id string) (*rows.Exported, spot, error) {
	h, err := x.happening(id)
	if err != nil || h == nil {
		return nil, spot{}, err
	}
	return &rows.Exported{Kind: "event", CountedTime: h.at(), Record: &rows.Exported_Event{Event: h.said}}, spot{at: nanos(h.at())}, nil
}

func (x exporting) decision(id string) (*rows.Exported, spot, error) {
	o, err := x.outcome(id)
	if err != nil || o == nil {
		return nil, spot{}, err
	}
	out := proto.CloneOf(o.said)
	if x.persons {
		err = x.view.persons(out)
	}
	return &rows.Exported{Kind: "outcome", CountedTime: o.at(), Record: &rows.Exported_Outcome{Outcome: out}}, spot{at: nanos(o.at())}, err
}
