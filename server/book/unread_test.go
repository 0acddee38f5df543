package book

import (
	"context"
	"errors"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"google.golang.org/protobuf/encoding/protowire"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/memory"
)

var errUnread, errUntaken = errors.New("cannot be read"), errors.New("takes no draft")

// unread is a store of which one read fails, the one after so many; or gives a row that is
// broken at its end.
type unread struct {
	history.Store
	broken bool
	part   int // of a row, that is broken
	left   atomic.Int64
	failed atomic.Bool
	any    atomic.Bool // a row that was broken had a value
	dry    atomic.Bool // it takes no draft
}

// Commit of a store that takes no draft says so.
func (u *unread) Commit(ctx context.Context, d history.Draft) (history.Number, error) {
	if u.dry.Load() {
		return 0, errUntaken
	}
	return u.Store.Commit(ctx, d)
}

// inItsFormat is where a row says how it is written.
const inItsFormat = -1

// broken breaks the part of so many that a row holds, from the last: no message begins so,
// and no text. False where it has not so many.
func broken(r *history.Row, part int) bool {
	if len(r.Value) < 2 {
		return false
	}
	if part == inItsFormat {
		r.Value = slices.Clone(r.Value)
		r.Value[0] = format + 1
		return true
	}
	var begins []int
	for at := 1; at < len(r.Value); { // the first byte tells how the rest is written
		_, wire, n := protowire.ConsumeTag(r.Value[at:])
		if n < 0 {
			return false
		}
		at += n
		if wire == protowire.BytesType {
			held, n := protowire.ConsumeBytes(r.Value[at:])
			if n > 0 && len(held) > 0 {
				begins = append(begins, at+n-len(held))
			}
		}
		if n = protowire.ConsumeFieldValue(1, wire, r.Value[at:]); n < 0 {
			return false
		}
		at += n
	}
	if part >= len(begins) {
		return false
	}
	r.Value = slices.Clone(r.Value)
	r.Value[begins[len(begins)-1-part]] = 0xff
	return true
}

func (u *unread) read() error {
	if u.left.Add(-1) != 0 {
		return nil
	}
	u.failed.Store(true)
	return errUnread
}

func (u *unread) Snapshot(ctx context.Context, shop string) (history.Snapshot, error) {
	if err := u.read(); err != nil {
		return nil, err
	}
	s, err := u.Store.Snapshot(ctx, shop)
	return unreadSnapshot{s, u}, err
}

type unreadSnapshot struct {
	history.Snapshot
	of *unread
}

func (s unreadSnapshot) Get(ctx context.Context, k history.Key) (history.Row, error) {
	row, err := s.Snapshot.Get(ctx, k)
	if failed := s.of.read(); failed != nil && s.of.broken {
		s.of.any.Store(broken(&row, s.of.part))
	} else if failed != nil {
		return history.Row{}, failed
	}
	return row, err
}

func (s unreadSnapshot) Scan(ctx context.Context, r history.Range) (history.Page, error) {
	page, err := s.Snapshot.Scan(ctx, r)
	if failed := s.of.read(); failed != nil && s.of.broken {
		for i := range page.Rows {
			if broken(&page.Rows[i], s.of.part) {
				s.of.any.Store(true)
			}
		}
	} else if failed != nil {
		return history.Page{}, failed
	}
	return page, err
}

func (s unreadSnapshot) Changes(ctx context.Context, after history.Number, limit int) ([]history.Change, error) {
	if err := s.of.read(); err != nil {
		return nil, err
	}
	return s.Snapshot.Changes(ctx, after, limit)
}

func (s unreadSnapshot) Last(ctx context.Context) (history.Number, error) {
	if err := s.of.read(); err != nil {
		return 0, err
	}
	return s.Snapshot.Last(ctx)
}

func (s unreadSnapshot) Trimmed(ctx context.Context) (history.Change, error) {
	if err := s.of.read(); err != nil {
		return history.Change{}, err
	}
	return s.Snapshot.Trimmed(ctx)
}

// Whichever of its reads fails, a call says so and stores nothing; and so it does where what
// was stored is broken: it never answers or decides by what it could not read.
func TestWhatCannotBeReadIsSaid(t *testing.T) {
	d := newDesk(t, memory.New(), nil)
	store := &unread{Store: d.store}
	d.store = store
	ctx := t.Context()
	a, b, other := tagged("sedan"), tagged("van"), tagged("sedan")
	one, two := newID(), newID()
	f, due := found("tread.wet-advice", "1L"), comesDue("1R", "2026-05-01")
	wheels := []*pb.WheelReport{wheel("1L", depth, pressure, tire(one), size("215/60R16 95H")), wheel("1R", depth, pressure, tire(two))}
	first := d.find(taken(2, newVisit(a, wheels...)), f, due)
	first.OrderReference = "R-17"
	second := d.find(taken(4, newVisit(a, wheels...)), f)
	late := d.find(taken(3, newVisit(a, wheel("1L", depth, whole))), f)
	mended := d.find(correcting(second, taken(4, newVisit(a, wheels...))), f)
	here := d.find(newVisit(b), found("wear.toe-in", "1L"))
	later := decided(mended, f, pb.Decision_DECISION_SET_FOR_LATER)
	moves := moved(&pb.TireMove{TireId: one, To: mountedAt(b, "2L")}, &pb.TireMove{TireId: two, To: stored("rack")})
	record := func(in *pb.Inspection) func() error {
		return func() error { _, err := d.record(in); return err }
	}
	vehicle := func(v *pb.Vehicle, empty ...string) func() error {
		return func() error { _, err := d.recordVehicle(v, empty...); return err }
	}
	type named struct {
		name string
		call func() error
	}
	for _, call := range []named{
		{"the shop's settings", func() error { _, err := d.UpdateShop(ctx, shop, &pb.Shop{}, nil); return err }},
		{"a vehicle", vehicle(a)},
		{"another", vehicle(b)},
		{"a third", vehicle(other)},
		{"a visit", record(first)},
		{"a second visit", record(second)},
		{"a visit that comes late", record(late)},
		{"a correction", record(mended)},
		{"a visit of the other vehicle", record(here)},
		{"a tire", func() error {
			_, err := d.RecordTire(ctx, shop, &pb.Tire{Id: newID(), Sidewall: &pb.Sidewall{Marking: "215/60R16 95H"}}, nil)
			return err
		}},
		{"a repair", func() error {
			_, err := d.RecordRepair(ctx, shop, &pb.Repair{Id: newID(), TireId: one})
			return err
		}},
		{"an outcome", func() error { _, err := d.decide(later); return err }},
		{"moves", func() error { _, err := d.MoveTires(ctx, shop, a.GetId(), moves, nil); return err }},
		{"an event", func() error { _, err := d.RecordEvent(ctx, shop, takenOff(b, "by hand", "1L")); return err }},
		{"a visit that leaves it right", record(d.find(taken(6, mends(newVisit(a, wheel("1L", depth, whole), wheel("2L", depth))))))},
		{"one that comes late, and was put right since", record(d.find(taken(5, newVisit(a, wheel("1L", depth, whole))), found("wear.toe-in", "1L")))},
		{"a correction of a correction", record(d.find(correcting(mended, taken(4, newVisit(a, wheels...))), f))},
		{"a correction of the first", record(d.find(correcting(first, taken(2, newVisit(a, wheels...))), f, due))},
		{"a rotation", func() error {
			turn := moved(&pb.TireMove{TireId: one, To: mountedAt(b, "1R")})
			_, err := d.MoveTires(ctx, shop, b.GetId(), turn, nil)
			return err
		}},
		{"a visit after it", record(d.find(newVisit(b, wheel("1R", depth)), f))},
		{"it left", func() error { _, err := d.RecordEvent(ctx, shop, leaving(b, pb.LeftBy_LEFT_BY_TOWED)); return err }},
		{"two that are one", func() error { _, err := d.MergeVehicles(ctx, shop, merge(a, other)); return err }},
	} {
		t.Run(call.name, func(t *testing.T) { readsSaid(t, d, store, call.name == "an outcome", call.call) })
	}
	for _, call := range []named{
		{"which may be one", func() error { _, err := d.MaybeSame(ctx, shop, a.GetId()); return err }},
		{"the same vehicle again", vehicle(b)},
		{"the same visit again", record(here)},
		{"the same moves again", func() error { _, err := d.MoveTires(ctx, shop, a.GetId(), moves, nil); return err }},
		{"the same outcome again", func() error { _, err := d.decide(later); return err }},
		{"find by what comes due", func() error {
			_, _, err := d.ListVehicles(ctx, shop, pb.VehicleOrder_VEHICLE_ORDER_DUE, 1, "")
			return err
		}},
		{"find by code", func() error { _, _, err := d.FindByCode(ctx, shop, f.GetCode(), 2, ""); return err }},
		{"list vehicles by when they were seen", func() error {
			_, _, err := d.ListVehicles(ctx, shop, pb.VehicleOrder_VEHICLE_ORDER_LAST_SEEN, 2, "")
			return err
		}},
		{"get the shop", func() error { _, err := d.GetShop(ctx, shop); return err }},
		{"get the vehicle", func() error { _, _, err := d.GetVehicle(ctx, shop, other.GetId()); return err }},
		{"get the visit", func() error { _, err := d.GetInspection(ctx, shop, first.GetId()); return err }},
		{"get the tire", func() error { _, err := d.GetTire(ctx, shop, one); return err }},
		{"list the tire's life", func() error { _, err := d.ListTireHistory(ctx, shop, one, 1, ""); return err }},
		{"list vehicles", func() error {
			_, _, err := d.ListVehicles(ctx, shop, pb.VehicleOrder_VEHICLE_ORDER_URGENCY, 2, "")
			return err
		}},
		{"list visits", func() error { _, err := d.ListInspections(ctx, shop, a.GetId(), 2, ""); return err }},
		{"list what is open", func() error { _, err := d.ListOpenFindings(ctx, shop, a.GetId(), nil, 1, ""); return err }},
		{"list what is open anywhere", func() error { _, err := d.ListOpenFindings(ctx, shop, "", nil, 1, ""); return err }},
		{"list wheels off", func() error { _, err := d.ListWheelsOff(ctx, shop, 1, ""); return err }},
		{"list what comes due", func() error {
			_, err := d.ListComingDue(ctx, shop, nil, theDay("2026-06-01"), 1, "")
			return err
		}},
		{"find by text", func() error { _, _, err := d.FindByText(ctx, shop, "sed", 1, ""); return err }},
		{"find by order", func() error { _, _, err := d.FindByOrder(ctx, shop, "R-17", 1, ""); return err }},
		{"find by size", func() error { _, _, err := d.FindBySize(ctx, shop, "215/60R16", 1, ""); return err }},
		{"pull changes", func() error { _, err := d.PullChanges(ctx, shop, "", 5, 0); return err }},
		{"reassess", func() error { _, err := d.Reassess(ctx, shop, mended.GetId(), nil, nil); return err }},
		{"reassess the book", func() error {
			return d.ReassessBook(ctx, shop, nil, nil, func(a Again) error { return a.Problem })
		}},
		{"trim changes", func() error { _, err := d.TrimChanges(ctx); return err }},
		{"go through the visits", func() error {
			for _, err := range d.Visits(ctx, shop) {
				if err != nil {
					return err
				}
			}
			return nil
		}},
	} {
		t.Run(call.name, func(t *testing.T) {
			store.broken = false
			readsSaid(t, d, store, false, call.call)
			if strings.HasPrefix(call.name, "reassess") || strings.HasPrefix(call.name, "the same") || strings.HasSuffix(call.name, "were seen") {
				return // it reads parts of rows that it has no need of
			}
			store.broken = true
			if unsaid := brokenUnsaid(store, call.call); unsaid > 0 {
				t.Errorf("of what was broken %d parts are not said", unsaid)
			}
		})
	}
	store.broken = false
	t.Run("erase the customer", func(t *testing.T) {
		readsSaid(t, d, store, false, func() error {
			_, err := d.EraseCustomer(ctx, shop, &pb.EraseCustomerRequest{Id: newID(), VehicleId: b.GetId()})
			return err
		})
	})
}

// brokenUnsaid makes a call with a part of what each of its reads gives broken, and counts
// how often nothing was said of it.
func brokenUnsaid(store *unread, call func() error) (unsaid int) {
	for n := int64(1); ; n++ {
		for store.part = inItsFormat; ; store.part++ {
			store.failed.Store(false)
			store.any.Store(false)
			store.left.Store(n)
			err := call()
			store.left.Store(0)
			if !store.failed.Load() {
				return unsaid
			}
			if !store.any.Load() {
				break
			}
			if err == nil {
				unsaid++
			}
		}
	}
}

// readsSaid makes a call with each of its reads failing, until it is through. What tells
// what became of what it stored may have stored it.
func readsSaid(t *testing.T, d *desk, store *unread, told bool, call func() error) {
	t.Helper()
	before := d.last()
	for n := int64(1); ; n++ {
		store.failed.Store(false)
		store.left.Store(n)
		err := call()
		store.left.Store(0)
		if !store.failed.Load() {
			if err != nil {
				t.Fatalf("after %d reads: %v", n-1, err)
			}
			return
		}
		if !errors.Is(err, errUnread) {
			t.Errorf("read %d failed, and the answer is %v", n, err)
		}
		if now := d.last(); now != before && !told {
			t.Fatalf("read %d failed, and %d drafts were stored", n, now-before)
		}
	}
}

// mends tells of a visit what was done and left.
func mends(in *pb.Inspection) *pb.Inspection {
	in.WorkDone = []*pb.WorkDone{{Kind: pb.WorkKind_WORK_KIND_PRESSURES_SET}}
	return in
}
