package book

import (
	"context"
	"errors"
	"math/rand/v2"
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history/memory"
)

// unreadable makes a call with some of its reads failing, each by itself, before it is made:
// it says so, whatever was recorded before, and nothing is stored.
func (w *walk) unreadable(name string, call func() error) {
	if w.unread == nil {
		return
	}
	const many = 1 << 40
	w.unread.dry.Store(true)
	defer w.unread.dry.Store(false)
	w.unread.left.Store(many)
	_ = call()
	reads := int(many - w.unread.left.Load())
	for range min(reads, 6) {
		n := 1 + w.draw(reads)
		w.unread.failed.Store(false)
		w.unread.left.Store(int64(n))
		if err := call(); w.unread.failed.Load() && !errors.Is(err, errUnread) {
			w.failf("%s: read %d of %d failed, and the answer is %v", name, n, reads, err)
		}
	}
	w.unread.left.Store(0)
}

// Whatever was recorded in whatever order, a call of which a read fails says so.
func TestWhateverWasRecordedWhatCannotBeReadIsSaid(t *testing.T) {
	for seed := range uint64(2) {
		store, dice := &unread{Store: memory.New()}, rand.New(rand.NewPCG(seed, 1))
		w := newWalk(newDesk(t, store, nil), dice.IntN, func(s string) { t.Fatalf("seed %d: %s", seed, s) })
		w.unread = store
		for range 50 {
			w.step()
		}
	}
}

// calls are all that a book may be asked, by name, of a vehicle and what is known of it.
func (d *desk) calls(ctx context.Context, v *pb.Vehicle, in *pb.Inspection, tire string) map[string]func() error {
	return map[string]func() error{
		"a vehicle": func() error { _, err := d.RecordVehicle(ctx, shop, tagged("another"), nil); return err },
		"a visit": func() error {
			_, err := d.RecordInspection(ctx, shop, Sender{}, checked(d.t, newVisit(v)))
			return err
		},
		"a tire": func() error { _, err := d.RecordTire(ctx, shop, &pb.Tire{Id: newID()}, nil); return err },
		"a repair": func() error {
			_, err := d.RecordRepair(ctx, shop, &pb.Repair{Id: newID(), TireId: tire})
			return err
		},
		"an outcome": func() error {
			_, err := d.RecordOutcome(ctx, shop, "counter", decided(in, found("wear.toe-in", "1L"), pb.Decision_DECISION_DONE))
			return err
		},
		"moves": func() error {
			_, err := d.MoveTires(ctx, shop, v.GetId(), moved(&pb.TireMove{TireId: tire, To: stored("rack")}), nil)
			return err
		},
		"an event":    func() error { _, err := d.RecordEvent(ctx, shop, leaving(v, pb.LeftBy_LEFT_BY_TOWED)); return err },
		"two are one": func() error { _, err := d.MergeVehicles(ctx, shop, merge(v, tagged("another"))); return err },
		"the customer": func() error {
			_, err := d.EraseCustomer(ctx, shop, &pb.EraseCustomerRequest{Id: newID(), VehicleId: v.GetId()})
			return err
		},
	}
}

// A call that waits for another on the same vehicle or tire ends with its caller, and so does
// one whose caller has gone before: nothing is stored.
func TestACallEndsWithItsCaller(t *testing.T) {
	d := newDesk(t, memory.New(), nil)
	v, id := d.keepVehicle(tagged("sedan")), newID()
	in := d.find(newVisit(v, wheel("1L", depth, tire(id))), found("wear.toe-in", "1L"))
	d.keep(in)
	before := d.last()
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	for name, call := range d.calls(gone, v, in, id) {
		if err := call(); !errors.Is(err, context.Canceled) {
			t.Errorf("%s, and nobody waits for it: %v", name, err)
		}
	}
	for _, held := range []string{v.GetId(), id} {
		unlock, err := d.lock(t.Context(), shop, held)
		if err != nil {
			t.Fatal(err)
		}
		defer unlock()
	}
	for name, call := range d.calls(gone, v, in, id) {
		if err := call(); !errors.Is(err, context.Canceled) {
			t.Errorf("%s behind another: %v", name, err)
		}
	}
	if now := d.last(); now != before {
		t.Errorf("%d drafts were stored", now-before)
	}
}

// Whoever goes on by a token that no list gave is told so, of each list.
func TestNoListGoesOnByAnothersToken(t *testing.T) {
	d := newDesk(t, memory.New(), nil)
	v, id := d.keepVehicle(tagged("sedan")), newID()
	d.keep(d.find(newVisit(v, wheel("1L", depth, tire(id), size("215/60R16 95H"))), found("wear.toe-in", "1L")))
	ctx, before := t.Context(), d.last()
	order := func(o pb.VehicleOrder) func(string) error {
		return func(token string) error { _, _, err := d.ListVehicles(ctx, shop, o, 1, token); return err }
	}
	other := d.token(list{shop, "another list"}, []byte("row"))
	for name, page := range map[string]func(token string) error{
		"by urgency":     order(pb.VehicleOrder_VEHICLE_ORDER_URGENCY),
		"by when seen":   order(pb.VehicleOrder_VEHICLE_ORDER_LAST_SEEN),
		"by what is due": order(pb.VehicleOrder_VEHICLE_ORDER_DUE),
		"by text":        func(token string) error { _, _, err := d.FindByText(ctx, shop, "sed", 1, token); return err },
		"by plate":       func(token string) error { _, _, err := d.FindByPlate(ctx, shop, "ABC", 1, token); return err },
		"by tag":         func(token string) error { _, _, err := d.FindByTag(ctx, shop, "sedan", 1, token); return err },
		"by order":       func(token string) error { _, _, err := d.FindByOrder(ctx, shop, "R-1", 1, token); return err },
		"by size":        func(token string) error { _, _, err := d.FindBySize(ctx, shop, "215/60R16", 1, token); return err },
		"by code":        func(token string) error { _, _, err := d.FindByCode(ctx, shop, "wear.toe-in", 1, token); return err },
		"visits":         func(token string) error { _, err := d.ListInspections(ctx, shop, v.GetId(), 1, token); return err },
		"what is open":   func(token string) error { _, err := d.ListOpenFindings(ctx, shop, "", nil, 1, token); return err },
		"open of one vehicle": func(token string) error {
			_, err := d.ListOpenFindings(ctx, shop, v.GetId(), nil, 1, token)
			return err
		},
		"open and due": func(token string) error {
			_, err := d.ListOpenFindings(ctx, shop, "", theDay("2026-05-01"), 1, token)
			return err
		},
		"wheels off":    func(token string) error { _, err := d.ListWheelsOff(ctx, shop, 1, token); return err },
		"a tire's life": func(token string) error { _, err := d.ListTireHistory(ctx, shop, id, 1, token); return err },
		"what comes due": func(token string) error {
			_, err := d.ListComingDue(ctx, shop, nil, theDay("2026-05-01"), 1, token)
			return err
		},
	} {
		if err := page(""); err != nil {
			t.Errorf("%s from the start: %v", name, err)
		}
		for _, token := range []string{"x", other} {
			d.refused(before, page(token), pb.ErrorReason_ERROR_REASON_TOKEN_INVALID, "page_token")
		}
	}
	for _, token := range []string{"x", other} {
		_, err := d.PullChanges(ctx, shop, token, 1, 0)
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_TOKEN_INVALID, "resume_token")
	}
}
