package book

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// counter follows the shop's vehicles as the contract says: by the feed, and by listing
// again where its token is refused.
type counter struct {
	token string
	tags  map[string]string // by vehicle
	again int               // how often it listed
}

func (c *counter) follow(d *desk) error {
	for {
		out, err := d.PullChanges(d.t.Context(), shop, c.token, 3, 0)
		var r *Refusal
		if errors.As(err, &r) && r.Reason == pb.ErrorReason_ERROR_REASON_TOKEN_OTHER_EPOCH && r.Metadata["why"] != "" {
			if err := c.list(d); err != nil {
				return err
			}
			continue
		}
		if err != nil {
			return err
		}
		for _, change := range out.Changes {
			for _, v := range change.GetVehicles() {
				c.tags[v.GetVehicleId()] = v.GetTag()
			}
		}
		c.token = out.Token
		if !out.More {
			return nil
		}
	}
}

// list puts what the shop holds in place of all that was known.
func (c *counter) list(d *desk) error {
	c.again++
	c.tags = map[string]string{}
	for page, first := "", true; first || page != ""; first = false {
		rows, resume, err := d.ListVehicles(d.t.Context(), shop, pb.VehicleOrder_VEHICLE_ORDER_LAST_SEEN, 2, page)
		if err != nil {
			return err
		}
		if first {
			c.token = resume
		}
		for _, row := range rows.Rows {
			c.tags[row.GetVehicleId()] = row.GetTag()
		}
		page = rows.Next
	}
	return nil
}

// holds is what the shop's book holds.
func (d *desk) holds() map[string]string {
	d.t.Helper()
	c := &counter{}
	if err := c.list(d); err != nil {
		d.t.Fatal(err)
	}
	return c.tags
}

// In every order of writing, copying the folder, putting a copy back and writing on, a
// counter that follows by its token knows what the book holds, and never less: it is
// refused wherever its token is of a past that was lost.
func TestRefusedAfterRestore(t *testing.T) {
	for _, steps := range []string{
		"wcwfrf", "wcwfrwf", "wcwfrwwwf", "wcwwfrwfw", "wfcwfrwwwwf", "wwcwfcwfrwf", "cwfrf", "cwwfrwf", "wfcrwf", "wcfwrfwf", "wcwfrwfcwfrwwf",
	} {
		t.Run(steps, func(t *testing.T) { restored(t, steps) })
	}
	for seed := range uint64(10) {
		random := rand.New(rand.NewPCG(seed, 3))
		steps := make([]byte, 12)
		for i := range steps {
			steps[i] = "wwcrf"[random.IntN(5)]
		}
		t.Run(fmt.Sprint(seed, " ", string(steps)), func(t *testing.T) { restored(t, string(steps)) })
	}
}

// restored plays steps: w write, c copy the folder, r put the copy back, f follow.
func restored(t *testing.T, steps string) {
	t.Helper()
	base := t.TempDir()
	dir, saved := filepath.Join(base, "book"), filepath.Join(base, "copy")
	d := newDesk(t, openBadger(t, dir), nil)
	closed := func(f func() error) {
		t.Helper()
		if err := errors.Join(d.store.Close(), f()); err != nil {
			t.Fatal(err)
		}
		d.Book = New(openBadger(t, dir), d.judge, d.now)
	}
	c := &counter{tags: map[string]string{}}
	copied := false
	for i, step := range []byte(steps) {
		switch step {
		case 'w':
			d.keepVehicle(tagged(fmt.Sprint("car ", i)))
		case 'c':
			closed(func() error { return errors.Join(os.RemoveAll(saved), os.CopyFS(saved, os.DirFS(dir))) })
			copied = true
		case 'r':
			if copied {
				closed(func() error { return errors.Join(os.RemoveAll(dir), os.CopyFS(dir, os.DirFS(saved))) })
			}
		case 'f':
			if err := c.follow(d); err != nil {
				t.Fatal(err)
			}
			if got, want := c.tags, d.holds(); !sameTags(got, want) {
				t.Fatalf("after %s the counter knows %v, the book holds %v", steps[:i+1], got, want)
			}
		}
	}
}

func sameTags(a, b map[string]string) bool {
	keys := func(m map[string]string) (all []string) {
		for id, tag := range m {
			all = append(all, id+tag)
		}
		slices.Sort(all)
		return all
	}
	return slices.Equal(keys(a), keys(b))
}
