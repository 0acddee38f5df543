package book

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
)

// writers record visits of so many vehicles from 64 goroutines and give what
// they were answered.
func (d *desk) writers(vehicles, each int) map[string]string {
	d.t.Helper()
	var cars []*pb.Vehicle
	for range vehicles {
		cars = append(cars, d.keepVehicle(car()))
	}
	var mu sync.Mutex
	answered := map[string]string{} // number by visit
	var all sync.WaitGroup
	for i := range 64 {
		all.Go(func() {
			for k := range each {
				in := newVisit(cars[(i*each+k)%len(cars)])
				kept, err := d.record(in)
				if err != nil || kept.GetRecorded().GetRepeatedCall() {
					d.t.Errorf("%v: %v", kept.GetRecorded(), err)
					return
				}
				mu.Lock()
				answered[in.GetId()] = kept.GetRecorded().GetNumber()
				mu.Unlock()
			}
		})
	}
	all.Wait()
	return answered
}

func TestSixtyFourWritersLoseNothing(t *testing.T) {
	for _, row := range []struct{ vehicles, each int }{{1, 2}, {200, 6}} {
		t.Run(fmt.Sprintf("%d vehicles", row.vehicles), func(t *testing.T) {
			onEach(t, func(t *testing.T, d *desk) {
				answered := d.writers(row.vehicles, row.each)
				if len(answered) != 64*row.each {
					t.Fatalf("%d visits", len(answered))
				}
				feed := d.pull("")
				if len(feed) != row.vehicles+len(answered) {
					t.Errorf("%d changes", len(feed))
				}
				last := map[string]string{}
				for i, c := range feed {
					if c.GetNumber() != fmt.Sprint(i+1) {
						t.Fatalf("change %s stands at %d", c.GetNumber(), i+1)
					}
					in := c.GetInspection()
					if in == nil {
						continue
					}
					if answered[in.GetInspectionId()] != c.GetNumber() {
						t.Errorf("a visit was answered with %s and is change %s", answered[in.GetInspectionId()], c.GetNumber())
					}
					last[in.GetVehicleId()] = in.GetInspectionId()
				}
				list, _, err := d.ListVehicles(t.Context(), shop, pb.VehicleOrder_VEHICLE_ORDER_LAST_SEEN, 200, "")
				if err != nil || len(list.Rows) != row.vehicles {
					t.Errorf("%d rows: %v", len(list.Rows), err)
				}
				visits := 0
				for vehicle, in := range last {
					now, _, err := d.GetVehicle(t.Context(), shop, vehicle)
					if last := now.GetState().GetLastInspectionId(); err != nil || last != in {
						t.Errorf("last is %s, should be %s: %v", last, in, err)
					}
					list, err := d.ListInspections(t.Context(), shop, vehicle, 200, "")
					if err != nil {
						t.Fatal(err)
					}
					visits += len(list.Rows)
				}
				if visits != len(answered) {
					t.Errorf("%d visits are listed", visits)
				}
				d.locks.mu.Lock()
				defer d.locks.mu.Unlock()
				if len(d.locks.held) != 0 {
					t.Errorf("%d locks are left", len(d.locks.held))
				}
			})
		})
	}
}

// Tires that move between two vehicles are written by visits of both.
func TestTiresMovedBackAndForthAtOnceAreOnOneVehicle(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		a, b := d.keepVehicle(car()), d.keepVehicle(car())
		id := newID()
		var all sync.WaitGroup
		for i := range 16 {
			all.Go(func() {
				in := newVisit([]*pb.Vehicle{a, b}[i%2], wheel("1L", tire(id)))
				for {
					_, err := d.record(in)
					var r *Refusal
					if errors.As(err, &r) && r.Reason == pb.ErrorReason_ERROR_REASON_CONTENDED {
						continue // as RetryInfo tells callers to
					}
					if err != nil {
						t.Error(err)
					}
					return
				}
			})
		}
		all.Wait()
		if on, there := d.tiresOn(a)["1L"].GetId() == id, d.tiresOn(b)["1L"].GetId() == id; on == there {
			t.Errorf("on the first %v, on the second %v", on, there)
		}
		if d.last() != 18 {
			t.Errorf("%d drafts", d.last())
		}
	})
}

// A reader sees a visit in all places or in none.
func TestReadersNeverSeeHalfAVisit(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		done := make(chan struct{})
		go func() {
			defer close(done)
			for range 40 {
				d.keep(d.find(newVisit(v), found("tread.model-limit", "1L")))
			}
		}()
		for running := true; running; {
			select {
			case <-done:
				running = false
			default:
			}
			err := d.read(t.Context(), shop, func(s view) error {
				now, err := s.vehicle(v.GetId())
				if err != nil || now.state.lastID == "" {
					return err
				}
				kept, err := s.visit(now.state.lastID)
				if err != nil {
					return err
				}
				last, err := s.s.Last(s.ctx)
				if kept == nil || kept.number != last {
					t.Errorf("the vehicle tells of %v, the last draft is %d", kept, last)
				}
				feed, err2 := s.s.Changes(s.ctx, last-1, 1)
				rows, err3 := s.s.Scan(s.ctx, history.Range{Prefix: historyOf(v.GetId())})
				seen, err4 := s.s.Scan(s.ctx, history.Range{Prefix: key(seenMark)})
				urgent, err5 := s.s.Scan(s.ctx, history.Range{Prefix: key(urgentMark)})
				if len(feed) != 1 || len(rows.Rows) != int(last)-1 || len(seen.Rows) != 1 || len(urgent.Rows) != 1 {
					t.Errorf("%d drafts: %d changes, %d visits, %d and %d rows", last, len(feed), len(rows.Rows), len(seen.Rows), len(urgent.Rows))
				}
				return errors.Join(err, err2, err3, err4, err5)
			})
			if err != nil {
				t.Fatal(err)
			}
		}
	})
}

// A call that is canceled at any moment has stored its visit whole or not at all.
func TestACanceledCallIsWhollyStoredOrNotAtAll(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		stored, not := 0, 0
		for i := range 60 {
			ctx, cancel := context.WithTimeout(t.Context(), time.Duration(i)*50*time.Microsecond)
			in := newVisit(v)
			before := d.last()
			_, err := d.RecordInspection(ctx, shop, Sender{}, checked(t, in))
			cancel()
			if err != nil && !errors.Is(err, context.DeadlineExceeded) {
				t.Fatal(err)
			}
			kept, missing := d.GetInspection(t.Context(), shop, in.GetId())
			list, err2 := d.ListInspections(t.Context(), shop, v.GetId(), 1, "")
			if err2 != nil {
				t.Fatal(err2)
			}
			listed := len(list.Rows) > 0 && list.Rows[0].GetInspectionId() == in.GetId()
			latest := d.vehicle(v).GetState().GetLastInspectionId() == in.GetId()
			feed := d.last() == before+1
			if there := missing == nil && kept.KeptInspection != nil; there != listed || there != latest || there != feed {
				t.Fatalf("kept %v, listed %v, last %v, in the feed %v", there, listed, latest, feed)
			}
			if err != nil && feed {
				t.Error("an error of the context, and stored all the same")
			}
			if feed {
				stored++
			} else {
				not++
			}
		}
		t.Logf("%d stored, %d not", stored, not)
		if not == 0 {
			t.Error("no call was canceled in time")
		}
	})
}

// between does something else just before the next commit, as another server
// on the same store may.
type between struct {
	history.Store
	happens func()
}

func (b *between) Commit(ctx context.Context, draft history.Draft) (history.Number, error) {
	if happens := b.happens; happens != nil {
		b.happens = nil
		happens()
	}
	return b.Store.Commit(ctx, draft)
}

// Two servers on one store share no locks: what one has read and the other has
// changed meanwhile is decided again.
func TestTwoServersOnOneStore(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		one := &between{Store: d.store}
		here, there := New(one, d.judge, d.now), d.Book
		record := func(b *Book, in *pb.Inspection) error {
			_, err := b.RecordInspection(t.Context(), shop, Sender{}, checked(t, in))
			return err
		}
		v, w := d.keepVehicle(car()), d.keepVehicle(car())

		// One id for visits of two vehicles, which have no other row in common.
		in, taken := newVisit(v), newVisit(w)
		taken.Id = in.GetId()
		for _, in := range []*pb.Inspection{in, taken} {
			in.Wheels, in.WorkDone = nil, []*pb.WorkDone{{Kind: pb.WorkKind_WORK_KIND_BALANCED}}
		}
		one.happens = func() { d.keep(taken) }
		err := record(here, in)
		d.refused(d.last(), err, pb.ErrorReason_ERROR_REASON_ID_TAKEN, "inspection.id")

		// Two corrections of one visit.
		first, second := correcting(taken, newVisit(w)), correcting(taken, newVisit(w))
		one.happens = func() { d.keep(second) }
		err = record(here, first)
		if r := d.refused(d.last(), err, pb.ErrorReason_ERROR_REASON_ALREADY_CORRECTED, "inspection.corrects.inspection_id"); r.Metadata["by"] != second.GetId() {
			t.Error(r.Metadata)
		}

		// A visit while the vehicle is changed, and the other way round: either way
		// the lists have one row, with the new tag and the new visit.
		renamed := func(tag string) *pb.Vehicle {
			c := d.vehicle(v).GetVehicle()
			c.Tag = tag
			return c
		}
		now := renamed("once")
		one.happens = func() { d.keep(d.find(newVisit(v), found("tread.model-limit", "1L"))) }
		if _, err := here.RecordVehicle(t.Context(), shop, now, nil); err != nil {
			t.Fatal(err)
		}
		oneRow(t, there, v, "once", pb.Urgency_URGENCY_THIS_VISIT)
		now = renamed("twice")
		one.happens = func() {
			if _, err := there.RecordVehicle(t.Context(), shop, now, nil); err != nil {
				t.Error(err)
			}
		}
		if err := record(here, d.find(newVisit(v), grave(found("damage.bulge", "1L")))); err != nil {
			t.Fatal(err)
		}
		oneRow(t, there, v, "twice", pb.Urgency_URGENCY_BEFORE_DRIVING)

		// The axles are not those that the visit was checked against.
		now = renamed("thrice")
		now.Axles = axles(&pb.Axle{}, &pb.Axle{Wheels: pb.AxleWheels_AXLE_WHEELS_DUAL})
		one.happens = func() {
			if _, err := there.RecordVehicle(t.Context(), shop, now, nil); err != nil {
				t.Error(err)
			}
		}
		var mismatch *Mismatch
		if err := record(here, newVisit(v, wheel("2L"))); !errors.As(err, &mismatch) {
			t.Errorf("%v", err)
		}

		// The settings.
		one.happens = func() {
			if _, err := there.UpdateShop(t.Context(), shop, &pb.Shop{Language: "de"}, nil); err != nil {
				t.Error(err)
			}
		}
		_, err = here.UpdateShop(t.Context(), shop, &pb.Shop{Language: "en"}, nil)
		d.refused(d.last(), err, pb.ErrorReason_ERROR_REASON_REVISION_STALE, "shop.revision")
	})
}

// oneRow demands one row of a vehicle in each list.
func oneRow(t *testing.T, b *Book, v *pb.Vehicle, tag string, worst pb.Urgency) {
	t.Helper()
	for _, order := range []pb.VehicleOrder{pb.VehicleOrder_VEHICLE_ORDER_URGENCY, pb.VehicleOrder_VEHICLE_ORDER_LAST_SEEN} {
		list, _, err := b.ListVehicles(t.Context(), shop, order, 50, "")
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, r := range list.Rows {
			if r.GetVehicleId() == v.GetId() {
				n++
				if r.GetTag() != tag || r.GetHeadline().GetUrgency() != worst || r.GetLastSeenTime() == nil {
					t.Errorf("%v", r)
				}
			}
		}
		if n != 1 {
			t.Errorf("%v: %d rows", order, n)
		}
	}
}

func TestALockIsLeftWhenTheCallEnds(t *testing.T) {
	var k keyed
	unlock, err := k.lock(t.Context(), "a")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	waits := make(chan error)
	go func() {
		_, err := k.lock(ctx, "a")
		waits <- err
	}()
	if other, err := k.lock(t.Context(), "b"); err != nil {
		t.Error(err)
	} else {
		other()
	}
	cancel()
	if err := <-waits; !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
	unlock()
	if again, err := k.lock(t.Context(), "a"); err != nil {
		t.Error(err)
	} else {
		again()
	}
	if len(k.held) != 0 {
		t.Errorf("%d locks are left", len(k.held))
	}
}

func TestOneLockAtATime(t *testing.T) {
	var k keyed
	var holders, most atomic.Int32
	var all sync.WaitGroup
	for range 32 {
		all.Go(func() {
			for range 50 {
				unlock, err := k.lock(context.Background(), "a")
				if err != nil {
					t.Error(err)
				}
				most.Store(max(most.Load(), holders.Add(1)))
				holders.Add(-1)
				unlock()
			}
		})
	}
	all.Wait()
	if most.Load() != 1 || len(k.held) != 0 {
		t.Errorf("%d at once, %d locks are left", most.Load(), len(k.held))
	}
}

// What cannot be read is an error of the server, never an empty answer.
func TestRowsOfAnotherFormatAreErrors(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		in := newVisit(v)
		d.keep(in)
		for _, k := range []history.Key{vehicleKey(v.GetId()), visitKey(in.GetId()), shopKey()} {
			if _, err := d.store.Commit(t.Context(), history.Draft{Shop: shop, Put: []history.Put{{Key: k, Value: []byte{9}}}, Feed: []byte{}}); err != nil {
				t.Fatal(err)
			}
		}
		_, _, err1 := d.GetVehicle(t.Context(), shop, v.GetId())
		_, err2 := d.GetInspection(t.Context(), shop, in.GetId())
		_, err3 := d.GetShop(t.Context(), shop)
		_, err4 := d.PullChanges(t.Context(), shop, "", 10, 0)
		_, err5 := d.record(newVisit(v))
		for i, err := range []error{err1, err2, err3, err4, err5} {
			var r *Refusal
			if err == nil || errors.As(err, &r) {
				t.Errorf("%d: %v", i+1, err)
			}
		}
	})
}

// A store of the format that held words is told apart before anything is read.
func TestAStoreOfTheFormerFormatIsRefused(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		if err := CheckFormat(t.Context(), d.store); err != nil {
			t.Errorf("an empty store: %v", err)
		}
		d.keep(newVisit(d.keepVehicle(car())))
		if err := CheckFormat(t.Context(), d.store); err != nil {
			t.Errorf("of this program: %v", err)
		}
		if _, err := d.store.Commit(t.Context(), history.Draft{Shop: "south", Feed: []byte{1, 8, 1}}); err != nil {
			t.Fatal(err)
		}
		const want = "the store was written in format 1 and this program reads format 2 alone: open it with the version that wrote it"
		if err := CheckFormat(t.Context(), d.store); err == nil || err.Error() != want {
			t.Errorf("%v", err)
		}
		if _, err := d.PullChanges(t.Context(), "south", "", 10, 0); err == nil || err.Error() != want {
			t.Errorf("read all the same: %v", err)
		}
	})
}
