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

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history/memory"
)

// everyToken is one of each kind of token for one shop, with a call that takes it.
func everyToken(t *testing.T, d *desk) map[string]string {
	t.Helper()
	a, b := d.keepVehicle(car()), d.keepVehicle(car())
	for _, v := range []*pb.Vehicle{a, a, b, b} {
		d.keep(d.find(visit(v), comesDue("1L", "2027-01-05"), comesDue("1L", "2027-02-05")))
	}
	ctx := t.Context()
	due, err := d.ListComingDue(ctx, shop, theDay("2027-12-31"), 1, "")
	if err != nil {
		t.Fatal(err)
	}
	list := func(order pb.HereNowOrder) *pb.ListVehiclesResponse {
		out, err := d.ListVehicles(ctx, shop, order, 1, "")
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	visits := func(v *pb.Vehicle) string {
		out, err := d.ListInspections(ctx, shop, v.GetId(), 1, "")
		if err != nil {
			t.Fatal(err)
		}
		return out.GetNextPageToken()
	}
	return map[string]string{
		"due": due.GetNextPageToken(), "feed": list(0).GetResumeToken(), "seen": list(0).GetNextPageToken(), "urgency": list(pb.HereNowOrder_HERE_NOW_ORDER_URGENCY).GetNextPageToken(),
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
		_, err = d.ListComingDue(context.Background(), in, theDay("2027-12-31"), 1, token)
	case "seen":
		_, err = d.ListVehicles(context.Background(), in, 0, 1, token)
	case "urgency":
		_, err = d.ListVehicles(context.Background(), in, pb.HereNowOrder_HERE_NOW_ORDER_URGENCY, 1, token)
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
		d.refused(before, d.take(shop, "feed", d.feedToken(shop, before+1)), pb.ErrorReason_ERROR_REASON_TOKEN_INVALID, "resume_token")
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
			f := asking("tread.model-limit", "1L")
			f.Urgency = pb.Urgency(1 + i%4)
			d.keep(d.find(visit(v), f))
		}
		for range 10 {
			d.keep(visit(cars[0]))
		}
		for _, size := range []int{1, 2, 3, 5, 10, 11, 12, 200} {
			for _, order := range []pb.HereNowOrder{0, pb.HereNowOrder_HERE_NOW_ORDER_URGENCY, pb.HereNowOrder_HERE_NOW_ORDER_LAST_SEEN} {
				var rows []*pb.VehicleRow
				for token, more := "", true; more; {
					out, err := d.ListVehicles(t.Context(), shop, order, size, token)
					if err != nil {
						t.Fatal(err)
					}
					if (out.GetResumeToken() != "") != (token == "") {
						t.Errorf("page after %q has the resume token %q", token, out.GetResumeToken())
					}
					rows, token = append(rows, out.GetRows()...), out.GetNextPageToken()
					more = token != ""
				}
				if len(rows) != len(cars) {
					t.Errorf("order %v by %d: %d rows of %d vehicles", order, size, len(rows), len(cars))
				}
				if !slices.IsSortedFunc(rows, before(order)) {
					t.Errorf("order %v by %d: %v", order, size, rows)
				}
			}
			var numbers []string
			for token, more := "", true; more; {
				out, err := d.ListInspections(t.Context(), shop, cars[0].GetId(), size, token)
				if err != nil {
					t.Fatal(err)
				}
				for _, in := range out.GetInspections() {
					numbers = append(numbers, in.GetNumber())
				}
				token = out.GetNextPageToken()
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
				for _, c := range out.GetChanges() {
					changes = append(changes, c.GetNumber())
				}
				token, more = out.GetResumeToken(), out.GetMore()
			}
			if len(changes) != int(d.last()) || changes[0] != "1" || changes[len(changes)-1] != fmt.Sprint(d.last()) {
				t.Errorf("by %d: changes %v", size, changes)
			}
		}
	})
}

// before compares rows as the order wants them.
func before(order pb.HereNowOrder) func(a, b *pb.VehicleRow) int {
	return func(a, b *pb.VehicleRow) int {
		if order == pb.HereNowOrder_HERE_NOW_ORDER_URGENCY {
			urgency := func(r *pb.VehicleRow) int { return (int(r.GetWorst()) + 255) % 256 } // nothing open last
			if d := urgency(a) - urgency(b); d != 0 {
				return d
			}
		}
		return b.GetLastSeen().AsTime().Compare(a.GetLastSeen().AsTime())
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
					if _, _, err := d.RecordVehicle(context.Background(), shop, v); err != nil {
						t.Error(err)
					}
					if _, _, err := d.record(visit(v)); err != nil {
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
				out, err := d.ListVehicles(t.Context(), shop, 0, 5, token)
				if err != nil {
					t.Fatal(err)
				}
				if token == "" {
					resume = out.GetResumeToken()
				}
				for _, r := range out.GetRows() {
					known[r.GetVehicleId()] = true
				}
				token = out.GetNextPageToken()
				more = token != ""
			}
			there := d.vehicles()
			changes := d.pull(resume)
			numbers := map[string]bool{}
			for _, c := range changes {
				numbers[c.GetNumber()] = true
				if v := c.GetVehicle().GetId(); v != "" {
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

// vehicles are the ids of all vehicles.
func (d *desk) vehicles() (ids []string) {
	d.t.Helper()
	for _, r := range d.rows() {
		v := &pb.Vehicle{}
		if r.Key[0] != vehicleMark {
			continue
		}
		if err := decode(r.Value, v); err != nil {
			d.t.Fatal(err)
		}
		ids = append(ids, v.GetId())
	}
	return ids
}

func TestFeedTellsWhatHappenedTogether(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		low, worn := asking("inflation.low", "1L"), asking("tread.model-limit", "1L")
		first := d.keep(d.find(visit(v), low, worn))
		second := d.keep(d.find(visit(v, wheel("1L", pressure)), asking("inflation.above-label", "1L")))
		feed := d.pull("")
		if len(feed) != 3 {
			t.Fatalf("%v", feed)
		}
		sameMessage(t, "vehicle", feed[0], &pb.Change{Number: "1", RecordedAt: feed[0].GetRecordedAt(), What: &pb.Change_Vehicle{Vehicle: withOutput(v, nil, 1)}})
		for i, want := range []*pb.InspectionChange{
			{InspectionId: first.GetInspection().GetId(), Findings: []*pb.Finding{low, worn}},
			{InspectionId: second.GetInspection().GetId(), Findings: second.GetAssessment().GetFindings(), ClosedFindingIds: []string{low.GetId()}},
		} {
			want.VehicleId, want.Tag = v.GetId(), v.GetTag()
			kept := []*pb.KeptInspection{first, second}[i]
			sameMessage(t, "visit", feed[i+1], &pb.Change{Number: kept.GetNumber(), RecordedAt: kept.GetRecordedAt(), What: &pb.Change_Inspection{Inspection: want}})
		}
	})
}

// An answer stays below what clients take, whatever is asked for.
func TestAPullIsBoundedInBytes(t *testing.T) {
	onMemory(t, "memory", func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		large := asking("tread.model-limit", "1L")
		large.ForTechnician = strings.Repeat("x", 400_000)
		for range 12 {
			in := visit(v)
			d.find(in, large)
			d.keep(in)
		}
		token, got := "", 0
		for more := true; more; {
			out, err := d.PullChanges(t.Context(), shop, token, 200, 0)
			if err != nil {
				t.Fatal(err)
			}
			size := 0
			for _, c := range out.GetChanges() {
				size += len(c.String())
			}
			if size > maxPull+1000 || len(out.GetChanges()) == 0 {
				t.Errorf("%d changes of %d bytes", len(out.GetChanges()), size)
			}
			got += len(out.GetChanges())
			token, more = out.GetResumeToken(), out.GetMore()
		}
		if got != 13 {
			t.Errorf("%d changes", got)
		}
	})
}

func TestWaitingForAChange(t *testing.T) {
	type answer struct {
		out *pb.PullChangesResponse
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
		{"a visit comes", 20 * time.Second, func(d *desk, v *pb.Vehicle, _ context.CancelFunc) { d.keep(visit(v)) }, 5 * time.Second, 1, nil},
		{"another shop's visit", 20 * time.Second, func(d *desk, v *pb.Vehicle, _ context.CancelFunc) {
			if _, _, err := d.RecordVehicle(context.Background(), "south", v); err != nil {
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
				token := d.feedToken(shop, d.last())
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
				if took := time.Since(start); took != row.after || !errors.Is(a.err, row.err) || len(a.out.GetChanges()) != row.came {
					t.Errorf("after %v: %v, %v", took, a.out, a.err)
				}
				if a.err == nil && row.came == 0 && a.out.GetResumeToken() != token {
					t.Errorf("the token changed without a change")
				}
			})
		})
	}
	t.Run("after the end of waits", func(t *testing.T) {
		d := newDesk(t, memory.New(), nil)
		d.EndWaits()
		if out, err := d.PullChanges(t.Context(), shop, "", 10, time.Hour); err != nil || len(out.GetChanges()) != 0 {
			t.Errorf("%v, %v", out, err)
		}
	})
}
