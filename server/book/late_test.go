package book

import (
	"context"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/memory"
)

// taken says when a visit was taken: so many days after the first of February, before
// the clock of a desk begins.
func taken(day int, v *pb.Inspection) *pb.Inspection {
	v.TakenTime = timestamppb.New(time.Date(2026, 2, 1+day, 9, 0, 0, 0, time.UTC))
	return v
}

// A phone that was out of reach sends the visit of the 20th after that of the 25th: the
// present stays that of the 25th, and the change says when it was taken.
func TestAVisitThatComesLateTakesItsPlaceInThePast(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		good := taken(24, newVisit(v, wheel("1L", depth, pressure, whole)))
		low := taken(19, d.find(newVisit(v, wheel("1L", depth, pressure, whole)), found("inflation.low", "1L")))
		d.keep(good)
		d.keep(low)
		now := d.vehicle(v).GetState()
		if now.GetLastInspectionId() != good.GetId() || len(now.GetOpen()) != 0 {
			t.Errorf("the present is that of %s with %v open", now.GetLastInspectionId(), now.GetOpen())
		}
		changes := d.pull("")
		last := changes[len(changes)-1]
		if in := last.GetInspection(); !proto.Equal(in.GetTakenTime(), low.GetTakenTime()) || len(in.GetOpened()) != 0 || len(last.GetVehicles()[0].GetOpen()) != 0 {
			t.Errorf("the feed: %v", last)
		}
		list, err := d.ListInspections(t.Context(), shop, v.GetId(), 10, "")
		if err != nil || list.Rows[0].GetInspectionId() != good.GetId() || list.Rows[1].GetInspectionId() != low.GetId() {
			t.Errorf("the list: %v: %v", list.Rows, err)
		}
		if list.Rows[0].GetNumber() != "2" || list.Rows[1].GetNumber() != "3" {
			t.Errorf("numbers: %v", list.Rows)
		}
		if judged := d.firstJudged(low); len(judged.GetEarlier()) != 0 {
			t.Errorf("what was not yet seen is evidence: %v", judged.GetEarlier())
		}
		d.keep(taken(25, newVisit(v)))
		if judged := d.lastJudged(); len(judged.GetEarlier()) != 2 || judged.GetEarlier()[0].GetId() != low.GetId() {
			t.Errorf("evidence: %v", judged.GetEarlier())
		}
	})
}

// The phone's clock counts as far as it was right when it sent, nothing is taken after it
// was recorded, and a server's clock that is set back reorders nothing.
func TestClocksThatAreWrong(t *testing.T) {
	d := newDesk(t, memory.New(), nil)
	v := d.keepVehicle(car())
	lastIs := func(what string, want *pb.Inspection) {
		t.Helper()
		if got := d.vehicle(v).GetState().GetLastInspectionId(); got != want.GetId() {
			t.Errorf("%s: the last visit is %s, want %s", what, got, want.GetId())
		}
	}
	ahead, second := newVisit(v), newVisit(v)
	ahead.TakenTime = timestamppb.New(d.clock.AddDate(1, 0, 0))
	d.keep(ahead)
	d.keep(second)
	lastIs("taken in a year", second)
	// A phone a day behind: taken an hour before it was sent.
	slow, sent := newVisit(v), d.clock.AddDate(0, 0, -1)
	slow.TakenTime = timestamppb.New(sent.Add(-time.Millisecond))
	if _, err := d.RecordInspection(context.Background(), shop, Sender{Sent: timestamppb.New(sent)}, checked(t, slow)); err != nil {
		t.Fatal(err)
	}
	lastIs("a phone a day behind", slow)
	before := d.vehicle(v).GetState().GetLastSeenTime().AsTime()
	d.clock = d.clock.AddDate(0, 0, -3)
	after := newVisit(v)
	kept := d.keep(after)
	lastIs("a server's clock set back", after)
	if at := kept.GetRecorded().GetRecordedTime().AsTime(); !at.After(before) {
		t.Errorf("recorded at %v after %v", at, before)
	}
}

// In whatever order visits and their corrections arrive, the vehicle is as if all had come
// in the order in which they were taken, and who follows the feed knows what is open.
func TestInWhateverOrderVisitsArrive(t *testing.T) {
	tires := []string{newID(), newID(), newID()}
	for seed := range uint64(60) {
		random := rand.New(rand.NewPCG(seed, 13))
		onMemory(t, fmt.Sprint(seed), func(t *testing.T, d *desk) {
			v := d.keepVehicle(car())
			follows := follower{map[string]map[string]bool{}, map[string][]string{}}
			days := map[string]int{}
			var stands []*pb.Inspection
			for i := range 14 {
				in := newVisit(v, randomWheels(random, tires)...)
				var all []*pb.Finding
				for _, code := range []string{"tread.model-limit", "inflation.low", "damage.bulge", "wear.toe-in"} {
					if random.IntN(3) == 0 {
						all = append(all, found(code, []string{"1L", "1R"}[random.IntN(2)]))
					}
				}
				d.find(in, all...)
				day := random.IntN(20)
				days[in.GetId()] = day*100 + i
				if c := random.IntN(4 * max(1, len(stands))); c < len(stands) {
					correcting(stands[c], in)
					// A correction of the day moves the visit, among those of one day by the first.
					days[in.GetId()] = day*100 + days[stands[c].GetId()]%100
					stands = slices.Delete(stands, c, c+1)
				}
				stands = append(stands, in)
				d.keep(taken(day, in))
				for _, c := range d.pull("")[int(d.last())-1:] {
					follows.follow(t, c)
				}
				slices.SortFunc(stands, func(a, b *pb.Inspection) int { return days[a.GetId()] - days[b.GetId()] })
				sameAsIfNeverCorrected(t, d, v, stands)
				open := d.openIDs(v)
				if known := slices.Sorted(maps.Keys(follows.byChanges[v.GetId()])); !slices.Equal(known, open) {
					t.Fatalf("the follower knows %v, open are %v", known, open)
				}
				if whole := follows.whole[v.GetId()]; !slices.Equal(whole, open) {
					t.Fatalf("the feed says that %v are open, open are %v", whole, open)
				}
			}
		})
	}
}

// counting is a store that counts rows that are read and bytes that are written.
type counting struct {
	*memory.Store
	read, written int
}

func (c *counting) Snapshot(ctx context.Context, shop string) (history.Snapshot, error) {
	s, err := c.Store.Snapshot(ctx, shop)
	return countingSnapshot{s, c}, err
}

func (c *counting) Commit(ctx context.Context, d history.Draft) (history.Number, error) {
	c.written += d.Size()
	return c.Store.Commit(ctx, d)
}

type countingSnapshot struct {
	history.Snapshot
	c *counting
}

func (s countingSnapshot) Get(ctx context.Context, k history.Key) (history.Row, error) {
	s.c.read++
	return s.Snapshot.Get(ctx, k)
}

func (s countingSnapshot) Scan(ctx context.Context, r history.Range) (history.Page, error) {
	p, err := s.Snapshot.Scan(ctx, r)
	s.c.read += 1 + len(p.Rows)
	return p, err
}

// What a visit that comes a day late, a correction of the last visit and one in order cost
// does not grow with the vehicle's history: rows read and bytes written after 200 visits
// are at most three times those after 20, and no more is judged.
func TestCostDoesNotGrowWithHistory(t *testing.T) {
	type cost struct{ read, written, judged int }
	measure := func(visits int, last func(d *desk, v *pb.Vehicle, newest *pb.Inspection) *pb.Inspection) cost {
		store := &counting{Store: memory.New()}
		d := newDesk(t, store.Store, nil)
		d.clock = time.Date(2028, 1, 1, 0, 0, 0, 0, time.UTC)
		d.Book = New(store, d.judge, d.now)
		v := d.keepVehicle(car())
		wheels := func() []*pb.WheelReport {
			return []*pb.WheelReport{wheel("1L", depth, pressure), wheel("1R", depth), wheel("2L", depth), wheel("2R", depth)}
		}
		var newest *pb.Inspection
		for i := range visits {
			newest = taken(2*i, newVisit(v, wheels()...))
			d.keep(d.find(newest, found("inflation.low", "1L")))
		}
		in := last(d, v, newest)
		in.Wheels = wheels()
		judged := len(d.judged)
		store.read, store.written = 0, 0
		d.keep(in)
		return cost{store.read, store.written, len(d.judged) - judged}
	}
	for name, last := range map[string]func(d *desk, v *pb.Vehicle, newest *pb.Inspection) *pb.Inspection{
		"in order": func(_ *desk, v *pb.Vehicle, _ *pb.Inspection) *pb.Inspection { return newVisit(v) },
		"a day late": func(_ *desk, v *pb.Vehicle, newest *pb.Inspection) *pb.Inspection {
			in := newVisit(v)
			in.TakenTime = timestamppb.New(newest.GetTakenTime().AsTime().Add(-24 * time.Hour))
			return in
		},
		"a correction": func(_ *desk, v *pb.Vehicle, newest *pb.Inspection) *pb.Inspection {
			in := correcting(newest, newVisit(v))
			in.TakenTime = newest.GetTakenTime()
			return in
		},
	} {
		few, many := measure(20, last), measure(200, last)
		t.Logf("%s: %+v after 20 visits, %+v after 200", name, few, many)
		if many.read > 3*few.read || many.written > 3*few.written || many.judged > few.judged {
			t.Errorf("%s: %+v after 20 visits, %+v after 200", name, few, many)
		}
	}
}

// A visit from before a long history is kept too, and states behind it are gone through
// when they are asked for.
func TestAVisitFromBeforeALongHistory(t *testing.T) {
	d := newDesk(t, memory.New(), nil)
	d.clock = time.Date(2028, 1, 1, 0, 0, 0, 0, time.UTC)
	v := d.keepVehicle(car())
	for i := range 3 * keptStates {
		d.keep(taken(10+i, newVisit(v, wheel("1L", depth))))
	}
	d.keep(taken(0, d.find(newVisit(v, wheel("2L", depth)), found("damage.bulge", "2L"))))
	if got := ids(d.open(v)); !slices.Equal(got, []string{"damage.bulge[2L]"}) {
		t.Fatalf("open: %v", got)
	}
	d.keep(taken(10+2*keptStates, newVisit(v, wheel("1L", depth))))
	if got := ids(d.open(v)); len(got) != 1 || d.vehicle(v).GetState().GetOpen()[0].GetVisitsOpen() != 2+3*keptStates {
		t.Fatalf("open: %v", d.vehicle(v).GetState().GetOpen())
	}
}

// former makes the store what a former program has left: it told no places apart, kept no
// states of the past and did not note in a visit's row which one corrects it.
func (d *desk) former() {
	d.t.Helper()
	draft := history.Draft{Shop: shop, Feed: []byte{format}}
	put := func(k history.Key, m proto.Message) {
		value, err := encode(m)
		if err != nil {
			d.t.Fatal(err)
		}
		draft.Put = append(draft.Put, history.Put{Key: k, Value: value})
	}
	read := func(r history.Row, m proto.Message) {
		if err := decode(r.Value, m); err != nil {
			d.t.Fatal(err)
		}
	}
	for _, r := range d.rows() {
		switch r.Key[0] {
		case afterMark:
			draft.Delete = append(draft.Delete, r.Key)
		case visitMark:
			row := &rows.Visit{}
			read(r, row)
			row.CountedTime, row.Root, row.RootTime = nil, "", nil
			put(r.Key, row)
		case historyMark:
			row := &rows.VisitCover{}
			read(r, row)
			in, err := coverOf(row)
			if err != nil {
				d.t.Fatal(err)
			}
			draft.Delete = append(draft.Delete, r.Key)
			row.Root, row.RootTime, row.ReplacedBy, row.Number = 0, nil, 0, 0
			put(formerKey(in.GetVehicleId(), nanos(row.GetRecordedTime()), in.GetId()), row)
		case stateMark:
			row := &rows.Vehicle{}
			read(r, row)
			row.RootsTime, row.RecordedTime = nil, nil
			put(r.Key, row)
		}
	}
	if _, err := d.store.Commit(d.t.Context(), draft); err != nil {
		d.t.Fatal(err)
	}
}

// A book of a former program goes on: visits in order, corrections of what it recorded,
// visits that come late, and what was judged then is judged the same.
func TestABookOfAFormerProgramGoesOn(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		first := d.find(newVisit(v, wheel("1L", depth, tire(newID()))), found("damage.bulge", "1L"))
		second := d.find(newVisit(v, wheel("1R", depth, pressure)), found("inflation.low", "1R"))
		d.keep(first)
		d.keep(second)
		right := correcting(first, d.find(newVisit(v, wheel("1L", depth), wheel("2L")), found("damage.cut", "2L")))
		d.keep(right)
		before := d.openIDs(v)
		d.former()
		if now := d.openIDs(v); !slices.Equal(now, before) {
			t.Errorf("open are %v, were %v", now, before)
		}
		list, err := d.ListInspections(t.Context(), shop, v.GetId(), 10, "")
		if err != nil || len(list.Rows) != 3 || list.Rows[2].GetReplacedBy() != right.GetId() {
			t.Errorf("%v: %v", list.Rows, err)
		}
		for _, in := range []*pb.Inspection{first, second, right} {
			if now, err := d.Reassess(t.Context(), shop, in.GetId(), nil, nil); err != nil || now.Differs() {
				t.Errorf("%v: %v", now, err)
			}
		}
		again := correcting(right, d.find(newVisit(v, wheel("1L", depth)), found("damage.bulge", "1L")))
		d.keep(again)
		if got := ids(d.open(v)); !slices.Equal(got, []string{"damage.bulge[1L]", "inflation.low[1R]"}) {
			t.Errorf("corrected: open are %v", got)
		}
		d.keep(taken(3, d.find(newVisit(v, wheel("2R")), found("damage.cut", "2R"))))
		if got := d.vehicle(v).GetState(); len(got.GetOpen()) != 3 || got.GetLastInspectionId() != second.GetId() {
			t.Errorf("late: %v", got)
		}
		d.keep(newVisit(v, wheel("1R", depth, pressure, whole)))
		if got := ids(d.open(v)); !slices.Equal(got, []string{"damage.bulge[1L]", "damage.cut[2R]"}) {
			t.Errorf("in order: open are %v", got)
		}
	})
}
