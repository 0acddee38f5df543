package book

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/memory"
)

// everyToken is one of each kind of token for one shop, with a call that takes it.
func everyToken(t *testing.T, d *desk) map[string]string {
	t.Helper()
	a, b := d.keepVehicle(car()), d.keepVehicle(car())
	for _, v := range []*pb.Vehicle{a, a, b, b} {
		d.keep(d.find(newVisit(v), comesDue("1L", "2027-01-05"), comesDue("1L", "2027-02-05")))
	}
	ctx := t.Context()
	due, err := d.ListComingDue(ctx, shop, theDay("2020-01-01"), theDay("2027-12-31"), 1, "")
	if err != nil {
		t.Fatal(err)
	}
	list := func(order pb.VehicleOrder) (next, resume string) {
		out, resume, err := d.ListVehicles(ctx, shop, order, 1, "")
		if err != nil {
			t.Fatal(err)
		}
		return out.Next, resume
	}
	visits := func(v *pb.Vehicle) string {
		out, err := d.ListInspections(ctx, shop, v.GetId(), 1, "")
		if err != nil {
			t.Fatal(err)
		}
		return out.Next
	}
	seen, feed := list(pb.VehicleOrder_VEHICLE_ORDER_LAST_SEEN)
	urgency, _ := list(pb.VehicleOrder_VEHICLE_ORDER_URGENCY)
	return map[string]string{
		"due": due.GetNextPageToken(), "feed": feed, "seen": seen, "urgency": urgency,
		"visits of " + a.GetId(): visits(a), "visits of " + b.GetId(): visits(b),
	}
}

// take makes the call that takes a kind of token.
func (d *desk) take(in, kind, token string) error {
	var err error
	switch kind {
	case "feed":
		_, err = d.PullChanges(context.Background(), in, token, 1, 0)
	case "due":
		_, err = d.ListComingDue(context.Background(), in, theDay("2020-01-01"), theDay("2027-12-31"), 1, token)
	case "seen":
		_, _, err = d.ListVehicles(context.Background(), in, pb.VehicleOrder_VEHICLE_ORDER_LAST_SEEN, 1, token)
	case "urgency":
		_, _, err = d.ListVehicles(context.Background(), in, pb.VehicleOrder_VEHICLE_ORDER_URGENCY, 1, token)
	default:
		_, err = d.ListInspections(context.Background(), in, strings.TrimPrefix(kind, "visits of "), 1, token)
	}
	return err
}

func TestTokens(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		field := func(kind string) string {
			if kind == "feed" {
				return "resume_token"
			}
			return "page_token"
		}
		tokens := everyToken(t, d)
		before := d.last()
		for kind, token := range tokens {
			if err := d.take(shop, kind, token); err != nil || token == "" {
				t.Errorf("%s: token %q: %v", kind, token, err)
			}
			for other := range tokens {
				if other != kind {
					d.refused(before, d.take(shop, other, token), pb.ErrorReason_ERROR_REASON_TOKEN_INVALID, field(other))
				}
			}
			if !strings.HasPrefix(kind, "visits") { // of a vehicle that the other shop does not have
				d.refused(before, d.take("south", kind, token), pb.ErrorReason_ERROR_REASON_TOKEN_INVALID, field(kind))
			}
			for i := range token {
				damaged := []byte(token)
				if damaged[i]++; damaged[i] == '[' || damaged[i] == '{' || damaged[i] == ':' || damaged[i] == '.' || damaged[i] == '`' {
					damaged[i] = 'A'
				}
				d.refused(before, d.take(shop, kind, string(damaged)), pb.ErrorReason_ERROR_REASON_TOKEN_INVALID, field(kind))
			}
			for _, bad := range []string{" ", "x", "not a token", token + "A", token[1:], strings.Repeat("A", 10_000), token + "="} {
				d.refused(before, d.take(shop, kind, bad), pb.ErrorReason_ERROR_REASON_TOKEN_INVALID, field(kind))
			}
			// The same bytes in another store, with the same rows or without them.
			other := newDesk(t, memory.New(), nil)
			var r *Refusal
			if err := other.take(shop, kind, token); !errors.As(err, &r) || r.Reason != pb.ErrorReason_ERROR_REASON_TOKEN_OTHER_EPOCH || r.Field != field(kind) {
				t.Errorf("%s: in another store: %v", kind, err)
			}
		}
		d.refused(before, d.take(shop, "feed", d.feedToken(shop, point{before + 1, "any mark"})), pb.ErrorReason_ERROR_REASON_TOKEN_OTHER_EPOCH, "resume_token")
		d.refused(before, d.take(shop, "feed", d.token(feedOf(shop), []byte("short"))), pb.ErrorReason_ERROR_REASON_TOKEN_INVALID, "resume_token")
		if d.reopen != nil {
			d.again()
			for kind, token := range tokens {
				if err := d.take(shop, kind, token); err != nil {
					t.Errorf("%s: after reopening: %v", kind, err)
				}
			}
		}
	})
}

func TestPagesWalkEveryRowOnce(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		var cars []*pb.Vehicle
		for i := range 11 {
			v := d.keepVehicle(car())
			cars = append(cars, v)
			if i%3 == 0 {
				continue // never seen
			}
			f := found("tread.model-limit", "1L")
			f.Urgency = pb.Urgency(1 + i%4)
			d.keep(d.find(newVisit(v), f))
		}
		for range 10 {
			d.keep(newVisit(cars[0]))
		}
		for _, size := range []int{1, 2, 3, 5, 10, 11, 12, 200} {
			for _, order := range []pb.VehicleOrder{pb.VehicleOrder_VEHICLE_ORDER_URGENCY, pb.VehicleOrder_VEHICLE_ORDER_LAST_SEEN} {
				var all []*pb.VehicleRow
				for token, more := "", true; more; {
					out, resume, err := d.ListVehicles(t.Context(), shop, order, size, token)
					if err != nil {
						t.Fatal(err)
					}
					if (resume != "") != (token == "") {
						t.Errorf("page after %q has the resume token %q", token, resume)
					}
					all, token = append(all, out.Rows...), out.Next
					more = token != ""
				}
				if len(all) != len(cars) {
					t.Errorf("order %v by %d: %d rows of %d vehicles", order, size, len(all), len(cars))
				}
				if !slices.IsSortedFunc(all, before(order)) {
					t.Errorf("order %v by %d: %v", order, size, all)
				}
			}
			var numbers []string
			for token, more := "", true; more; {
				out, err := d.ListInspections(t.Context(), shop, cars[0].GetId(), size, token)
				if err != nil {
					t.Fatal(err)
				}
				for _, in := range out.Rows {
					numbers = append(numbers, in.GetNumber())
				}
				token = out.Next
				more = token != ""
			}
			want := []string{}
			for n := d.last(); n > d.last()-10; n-- {
				want = append(want, fmt.Sprint(n))
			}
			if !slices.Equal(numbers, want) {
				t.Errorf("by %d: visits %v", size, numbers)
			}
			var changes []string
			for token, more := "", true; more; {
				out, err := d.PullChanges(t.Context(), shop, token, size, 0)
				if err != nil {
					t.Fatal(err)
				}
				for _, c := range out.Changes {
					changes = append(changes, c.GetNumber())
				}
				token, more = out.Token, out.More
			}
			if len(changes) != int(d.last()) || changes[0] != "1" || changes[len(changes)-1] != fmt.Sprint(d.last()) {
				t.Errorf("by %d: changes %v", size, changes)
			}
		}
	})
}

// before compares rows as the order wants them.
func before(order pb.VehicleOrder) func(a, b *pb.VehicleRow) int {
	return func(a, b *pb.VehicleRow) int {
		if order == pb.VehicleOrder_VEHICLE_ORDER_URGENCY {
			urgency := func(r *pb.VehicleRow) int { return (int(r.GetHeadline().GetUrgency()) + 255) % 256 } // nothing open last
			if d := urgency(a) - urgency(b); d != 0 {
				return d
			}
		}
		return b.GetLastSeenTime().AsTime().Compare(a.GetLastSeenTime().AsTime())
	}
}

// A follower lists the vehicles and then pulls, while eight phones record: it
// misses no vehicle and no visit.
func TestListAndFeedHaveNoGap(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		done := make(chan struct{})
		var phones sync.WaitGroup
		for range 8 {
			phones.Go(func() {
				for range 12 {
					v := car()
					if _, err := d.recordVehicle(v); err != nil {
						t.Error(err)
					}
					if _, err := d.record(newVisit(v)); err != nil {
						t.Error(err)
					}
				}
			})
		}
		go func() { phones.Wait(); close(done) }()

		for running := true; running; {
			select {
			case <-done:
				running = false
			default:
			}
			known := map[string]bool{}
			resume := ""
			for token, more := "", true; more; {
				out, first, err := d.ListVehicles(t.Context(), shop, pb.VehicleOrder_VEHICLE_ORDER_LAST_SEEN, 5, token)
				if err != nil {
					t.Fatal(err)
				}
				if token == "" {
					resume = first
				}
				for _, r := range out.Rows {
					known[r.GetVehicleId()] = true
				}
				token = out.Next
				more = token != ""
			}
			there := d.vehicles()
			changes := d.pull(resume)
			numbers := map[string]bool{}
			for _, c := range changes {
				numbers[c.GetNumber()] = true
				if v := c.GetVehicle().GetVehicleId(); v != "" {
					known[v] = true
				}
				if in := c.GetInspection(); in != nil {
					known[in.GetVehicleId()] = true // its row may have moved to a page that was read before
				}
			}
			if len(numbers) != len(changes) {
				t.Error("a change came twice")
			}
			for _, v := range there {
				if !known[v] {
					t.Errorf("neither list nor feed told of %s", v)
				}
			}
			if !running && len(there) != 96 {
				t.Errorf("%d vehicles", len(there))
			}
		}
	})
}

// endToken is a token behind all that is in the feed.
func (d *desk) endToken() (token string) {
	d.t.Helper()
	err := d.read(context.Background(), shop, func(v view) error {
		end, err := v.end()
		token = d.feedToken(shop, end)
		return err
	})
	if err != nil {
		d.t.Fatal(err)
	}
	return token
}

// vehicles are the ids of all vehicles.
func (d *desk) vehicles() (ids []string) {
	d.t.Helper()
	for _, r := range d.rows() {
		if r.Key[0] != vehicleMark {
			continue
		}
		v := &pb.Vehicle{}
		readRecord(d.t, r, v)
		ids = append(ids, v.GetId())
	}
	return ids
}

// readRecord reads the record of a row.
func readRecord(t *testing.T, r history.Row, m proto.Message) {
	t.Helper()
	row := &rows.Record{}
	if err := errors.Join(decode(r.Value, row), proto.Unmarshal(row.GetMessage(), m)); err != nil {
		t.Fatal(err)
	}
}

func TestFeedTellsWhatHappenedTogether(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		low, worn, above := found("inflation.low", "1L"), found("tread.model-limit", "1L"), found("inflation.above-label", "1L")
		first, second := d.find(newVisit(v), low, worn), d.find(newVisit(v, wheel("1L", pressure)), above)
		first.OrderReference, first.TakenTime = "order 7", at(2026, 3, 2, 14, 0)
		d.keep(first)
		d.keep(second)
		feed := d.pull("")
		if len(feed) != 3 {
			t.Fatalf("%v", feed)
		}
		sameMessage(t, "vehicle", feed[0], &pb.Change{
			Number: "1", RecordedTime: feed[0].GetRecordedTime(), What: &pb.Change_Vehicle{Vehicle: &pb.VehicleChange{VehicleId: v.GetId(), Revision: "1"}},
			Vehicles: []*pb.VehicleState{{VehicleId: v.GetId(), Tag: v.GetTag()}},
		})
		lowID, wornID, aboveID := openID(first.GetId(), low), openID(first.GetId(), worn), openID(second.GetId(), above)
		for i, want := range []*pb.InspectionChange{
			{InspectionId: first.GetId(), OrderReference: "order 7", TakenTime: first.GetTakenTime(), Opened: []string{lowID, wornID}},
			{InspectionId: second.GetId(), Opened: []string{aboveID}, Closed: []*pb.ClosedFinding{{OpenId: lowID, Code: "inflation.low", ClosedBy: &pb.Said{Code: "closed.found-good"}}}},
		} {
			in, err := d.GetInspection(t.Context(), shop, want.GetInspectionId())
			if err != nil {
				t.Fatal(err)
			}
			want.VehicleId, want.Tag, want.Assessment = v.GetId(), v.GetTag(), in.GetAssessment()
			sameMessage(t, "visit", feed[i+1].GetInspection(), want)
			if c := feed[i+1]; c.GetNumber() != in.GetRecorded().GetNumber() || !proto.Equal(c.GetRecordedTime(), in.GetRecorded().GetRecordedTime()) {
				t.Errorf("recorded as %v, change %v", in.GetRecorded(), c)
			}
		}
		sameMessage(t, "what is open", feed[2].GetVehicles()[0], d.vehicle(v).GetState())
		open := feed[2].GetVehicles()[0].GetOpen()
		if len(open) != 2 || open[1].GetOpenId() != wornID || open[1].GetVisitsOpen() != 2 || open[1].GetSinceInspectionId() != first.GetId() || open[1].GetFinding().GetCode() != worn.GetCode() {
			t.Errorf("%v", open)
		}
	})
}

// An answer stays below what clients take, whatever is asked for.
func TestAPullIsBoundedInBytes(t *testing.T) {
	onMemory(t, "memory", func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		large := found("tread.model-limit", "1L")
		large.Evidence = slices.Repeat([]*pb.Evidence{{Code: "tread.mean-depth"}}, 20_000)
		for range 12 {
			in := newVisit(v)
			d.find(in, large)
			d.keep(in)
		}
		token, got := "", 0
		for more := true; more; {
			out, err := d.PullChanges(t.Context(), shop, token, 200, 0) // of about 1 MB each, by what they leave open too
			if err != nil {
				t.Fatal(err)
			}
			size := 0
			for _, c := range out.Changes {
				size += proto.Size(c)
			}
			if size > maxPull || len(out.Changes) == 0 {
				t.Errorf("%d changes of %d bytes", len(out.Changes), size)
			}
			got += len(out.Changes)
			token, more = out.Token, out.More
		}
		if got != 13 {
			t.Errorf("%d changes", got)
		}
	})
}

func TestWaitingForAChange(t *testing.T) {
	type answer struct {
		out Pulled
		err error
	}
	for _, row := range []struct {
		name    string
		wait    time.Duration
		happens func(d *desk, v *pb.Vehicle, cancel context.CancelFunc)
		after   time.Duration
		came    int
		err     error
	}{
		{"nothing comes", 20 * time.Second, nil, 20 * time.Second, 0, nil},
		{"not asked to wait", 0, nil, 0, 0, nil},
		{"a visit comes", 20 * time.Second, func(d *desk, v *pb.Vehicle, _ context.CancelFunc) { d.keep(newVisit(v)) }, 5 * time.Second, 1, nil},
		{"another shop's visit", 20 * time.Second, func(d *desk, v *pb.Vehicle, _ context.CancelFunc) {
			if _, err := d.RecordVehicle(context.Background(), "south", v, nil); err != nil {
				d.t.Error(err)
			}
		}, 20 * time.Second, 0, nil},
		{"the caller goes", 20 * time.Second, func(_ *desk, _ *pb.Vehicle, cancel context.CancelFunc) { cancel() }, 5 * time.Second, 0, context.Canceled},
		{"the server goes down", 20 * time.Second, func(d *desk, _ *pb.Vehicle, _ context.CancelFunc) { d.EndWaits(); d.EndWaits() }, 5 * time.Second, 0, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) { // a clock that runs when all wait
				d := newDesk(t, memory.New(), nil)
				v := d.keepVehicle(car())
				token := d.endToken()
				ctx, cancel := context.WithCancel(t.Context())
				defer cancel()
				start := time.Now()
				got := make(chan answer, 1)
				go func() {
					out, err := d.PullChanges(ctx, shop, token, 10, row.wait)
					got <- answer{out, err}
				}()
				if row.happens != nil {
					time.Sleep(5 * time.Second)
					row.happens(d, bare(v), cancel)
				}
				a := <-got
				if took := time.Since(start); took != row.after || !errors.Is(a.err, row.err) || len(a.out.Changes) != row.came {
					t.Errorf("after %v: %v, %v", took, a.out, a.err)
				}
				if a.err == nil && row.came == 0 && a.out.Token != token {
					t.Errorf("the token changed without a change")
				}
			})
		})
	}
	t.Run("after the end of waits", func(t *testing.T) {
		d := newDesk(t, memory.New(), nil)
		d.EndWaits()
		if out, err := d.PullChanges(t.Context(), shop, "", 10, time.Hour); err != nil || len(out.Changes) != 0 {
			t.Errorf("%v, %v", out, err)
		}
	})
}
