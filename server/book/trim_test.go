package book

import (
	"context"
	"errors"
	"fmt"
	"testing"
	"time"

	"google.golang.org/protobuf/types/known/durationpb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/memory"
)

const aDay = 24 * time.Hour

func (d *desk) later(by time.Duration) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.clock = d.clock.Add(by)
}

func (d *desk) mustTrim(want int) {
	d.t.Helper()
	if n, err := d.TrimChanges(d.t.Context()); err != nil || n != want {
		d.t.Errorf("%d changes were trimmed, %v; want %d", n, err, want)
	}
}

// follows pulls all behind a token and gives how many changes came, and the last token.
func (d *desk) follows(token string) (n int, last string, err error) {
	for {
		out, err := d.PullChanges(d.t.Context(), shop, token, 50, 0)
		if err != nil {
			return n, token, err
		}
		if n, token = n+len(out.Changes), out.Token; !out.More {
			return n, token, nil
		}
	}
}

func reasonOf(err error) pb.ErrorReason {
	if r, ok := errors.AsType[*Refusal](err); ok {
		return r.Reason
	}
	return 0
}

// Changes are kept as long as the shop says, two years where it says nothing, and not a
// day less.
func TestChangesAreKeptAsLongAsTheShopSays(t *testing.T) {
	for _, c := range []struct {
		keep, age time.Duration
		gone      bool
	}{
		{0, 729 * aDay, false},
		{0, 731 * aDay, true},
		{30 * aDay, 29 * aDay, false},
		{30 * aDay, 31 * aDay, true},
		{3650 * aDay, 731 * aDay, false},
		{3650 * aDay, 3651 * aDay, true},
	} {
		t.Run(fmt.Sprint(c.keep, " ", c.age), func(t *testing.T) {
			d := newDesk(t, memory.New(), nil)
			old := 1
			if c.keep > 0 {
				old++
				if _, err := d.UpdateShop(t.Context(), shop, &pb.Shop{KeepChanges: durationpb.New(c.keep)}, nil); err != nil {
					t.Fatal(err)
				}
			}
			d.keepVehicle(car())
			d.later(c.age)
			d.keepVehicle(car())
			d.mustTrim(map[bool]int{true: old}[c.gone])
			_, _, err := d.follows("")
			if gone := reasonOf(err) == pb.ErrorReason_ERROR_REASON_TOKEN_TRIMMED; gone != c.gone || !gone && err != nil {
				t.Errorf("from the beginning: %v", err)
			}
		})
	}
}

// Whoever was told of the last change that is gone goes on without a gap; whoever was not
// is told to list again; and a token with another past is refused as such.
func TestTokensOfATrimmedFeed(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		const old, young = 2*pageOfTrim + 30, 3
		tokens := []string{""}
		v := d.keepVehicle(car())
		for n := 1; n < old; n++ {
			d.keep(newVisit(v))
		}
		for token := ""; len(tokens) <= old; token = tokens[len(tokens)-1] {
			out, err := d.PullChanges(t.Context(), shop, token, 1, 0)
			if err != nil || len(out.Changes) != 1 {
				t.Fatal(len(out.Changes), err)
			}
			tokens = append(tokens, out.Token)
		}
		d.later(3 * 365 * aDay)
		for range young {
			d.keep(newVisit(v))
		}
		visits := d.visitsOf(v)
		d.mustTrim(old)
		d.mustTrim(0)
		for n := range tokens {
			got, _, err := d.follows(tokens[n])
			switch {
			case n < old && reasonOf(err) != pb.ErrorReason_ERROR_REASON_TOKEN_TRIMMED:
				t.Errorf("behind %d: %v", n, err)
			case n == old && (err != nil || got != young):
				t.Errorf("behind the last that is gone: %d changes, %v", got, err)
			}
		}
		if r, ok := errors.AsType[*Refusal](func() error { _, _, err := d.follows(tokens[1]); return err }()); !ok || r.Metadata["trimmed"] != fmt.Sprint(old) {
			t.Errorf("told %v", r)
		}
		if _, _, err := d.follows(d.feedToken(shop, point{old, "12345678"})); reasonOf(err) != pb.ErrorReason_ERROR_REASON_TOKEN_OTHER_EPOCH {
			t.Errorf("of another past: %v", err)
		}
		if got := d.visitsOf(v); got != visits || visits != old-1+young {
			t.Errorf("%d visits of %d", got, visits)
		}
	})
}

func (d *desk) visitsOf(v *pb.Vehicle) (n int) {
	d.t.Helper()
	for visit, err := range d.Visits(context.Background(), shop) {
		if err != nil || visit.Vehicle != v.GetId() {
			d.t.Fatal(visit, err)
		}
		n++
	}
	return n
}

// Where all changes are gone lists are given with a token to go on from, and the book is
// opened.
func TestAFeedThatIsTrimmedWhole(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		d.keep(newVisit(d.keepVehicle(car())))
		_, end, err := d.follows("")
		if err != nil {
			t.Fatal(err)
		}
		d.later(3 * 365 * aDay)
		d.mustTrim(2)
		if d.reopen != nil {
			d.again()
		}
		if err := CheckFormat(t.Context(), d.store); err != nil {
			t.Error(err)
		}
		_, resume, err := d.ListVehicles(t.Context(), shop, pb.VehicleOrder_VEHICLE_ORDER_LAST_SEEN, 1, "")
		if err != nil || resume != end {
			t.Errorf("the list's token is another than the last that was given: %v", err)
		}
		d.keepVehicle(car())
		if n, _, err := d.follows(resume); err != nil || n != 1 {
			t.Errorf("%d changes came, %v", n, err)
		}
	})
}

// A store that takes nothing at the moment, or is closed, is no failure of trimming.
func TestTrimmingIsTriedAgain(t *testing.T) {
	d := newDesk(t, memory.New(), nil)
	d.keepVehicle(car())
	d.later(3 * 365 * aDay)
	for _, c := range []struct {
		err     error
		passing bool
	}{
		{&history.DiskNearlyFullError{}, true},
		{&history.UnwritableError{Cause: errors.New("gone")}, true},
		{&history.ReadOnlyError{Cause: errors.New("gone")}, true},
		{history.ErrClosed, true},
		{context.Canceled, true},
		{errors.New("damaged"), false},
	} {
		b := New(untrimmed{d.store, c.err}, d.judge, d.now)
		if _, err := b.TrimChanges(t.Context()); !errors.Is(err, c.err) || Passing(err) != c.passing {
			t.Errorf("%v: %v, passing %v", c.err, err, Passing(err))
		}
	}
	d.mustTrim(1)
}

type untrimmed struct {
	history.Store
	err error
}

func (u untrimmed) Trim(context.Context, string, history.Number, []byte) error { return u.err }
