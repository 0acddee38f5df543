package book

import (
	"context"
	"errors"
	"math/rand/v2"
	"sync"
	"testing"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/memory"
)

// A whole book is judged anew as its visits are one by one, late, corrected and merged ones
// too, each once.
func TestAWholeBookIsJudgedAnewAsItsVisitsAre(t *testing.T) {
	dice := rand.New(rand.NewPCG(3, 3))
	w := newWalk(newDesk(t, memory.New(), nil), dice.IntN, func(s string) { t.Fatal(s) })
	for range 120 {
		w.step()
	}
	for _, in := range w.visits[:5] { // found otherwise now
		w.find(in, found("wear.toe-in", "1L"))
	}
	seen, differ := map[string]bool{}, 0
	err := w.ReassessBook(t.Context(), shop, nil, nil, func(a Again) error {
		if seen[a.ID] {
			t.Errorf("%s twice", a.ID)
		}
		seen[a.ID] = true
		one, err := w.Reassess(t.Context(), shop, a.ID, nil, nil)
		if err != nil || a.Reassessed == nil || !proto.Equal(one.Now, a.Now) || one.Differs() != a.Differs() {
			t.Errorf("%s: %v, alone %v: %v", a.ID, a.Reassessed, one, err)
		}
		if a.Differs() {
			differ++
		}
		return err
	})
	if err != nil || len(seen) != len(w.visits) || differ == 0 || differ > 5 {
		t.Errorf("%d of %d visits, %d differ: %v", len(seen), len(w.visits), differ, err)
	}
	stop := errors.New("enough")
	if err := w.ReassessBook(t.Context(), shop, nil, nil, func(Again) error { return stop }); !errors.Is(err, stop) {
		t.Errorf("ended by %v", err)
	}
	none := 0
	if err := w.ReassessBook(t.Context(), shop, theDay("2030-01-01"), nil, func(Again) error { none++; return nil }); err != nil || none != 0 {
		t.Errorf("of a later day: %d: %v", none, err)
	}
}

// A visit that cannot be judged anew is told with why, and the others are judged.
func TestAVisitThatCannotBeJudgedAnewIsTold(t *testing.T) {
	d := newDesk(t, memory.New(), nil)
	v := d.keepVehicle(car())
	first, second := newVisit(v), newVisit(v)
	d.keep(first)
	d.keep(second)
	b := New(d.store, func(shop string, req *pb.AssessVisitRequest) *pb.Assessment {
		if req.GetInspection().GetId() == first.GetId() {
			panic("invented")
		}
		return d.judge(shop, req)
	}, d.now)
	problems := map[string]string{}
	err := b.ReassessBook(t.Context(), shop, nil, nil, func(a Again) error {
		if problems[a.ID] = "none"; a.Problem != nil {
			problems[a.ID] = a.Problem.Error()
		}
		return nil
	})
	if err != nil || len(problems) != 2 || problems[first.GetId()] != "the judgement panicked: invented" || problems[second.GetId()] != "none" {
		t.Errorf("%v: %v", problems, err)
	}
}

// readRows counts how often each row is read.
type readRows struct {
	history.Store
	mu   sync.Mutex
	rows map[history.Key]int
}

func (r *readRows) Snapshot(ctx context.Context, shop string) (history.Snapshot, error) {
	s, err := r.Store.Snapshot(ctx, shop)
	return readSnapshot{s, r}, err
}

type readSnapshot struct {
	history.Snapshot
	of *readRows
}

func (s readSnapshot) Get(ctx context.Context, k history.Key) (history.Row, error) {
	s.of.mu.Lock()
	defer s.of.mu.Unlock()
	s.of.rows[k]++
	return s.Snapshot.Get(ctx, k)
}

func (s readSnapshot) Scan(ctx context.Context, r history.Range) (history.Page, error) {
	s.of.mu.Lock()
	defer s.of.mu.Unlock()
	page, err := s.Snapshot.Scan(ctx, r)
	for _, row := range page.Rows {
		s.of.rows[row.Key]++
	}
	return page, err
}

// A row of a vehicle's record is read once, however many of its visits are judged by it.
func TestAVehicleIsReadOnce(t *testing.T) {
	reads := &readRows{Store: memory.New(), rows: map[history.Key]int{}}
	d := newDesk(t, reads, nil)
	v := d.keepVehicle(car())
	for range 30 {
		d.keep(newVisit(v))
	}
	reads.rows = map[history.Key]int{}
	judged := 0
	if err := d.ReassessBook(t.Context(), shop, nil, nil, func(Again) error { judged++; return nil }); err != nil || judged != 30 {
		t.Fatalf("%d: %v", judged, err)
	}
	for k, n := range reads.rows {
		if n > 1 && k[0] != vehicleMark && k[0] != sameMark {
			t.Errorf("%q was read %d times", k, n)
		}
	}
}
