package book

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/memory"
)

// A book and a plain model of it agree after every step, whatever is recorded in whatever
// order.
func TestTheBookIsAsItsModel(t *testing.T) {
	t.Run("memory", func(t *testing.T) {
		rapid.Check(t, func(rt *rapid.T) {
			w := newWalk(newDesk(t, memory.New(), nil), func(n int) int { return rapid.IntRange(0, n-1).Draw(rt, "") }, func(s string) { rt.Fatal(s) })
			for range rapid.IntRange(1, 50).Draw(rt, "steps") {
				w.step()
			}
			w.compare(true)
		})
	})
	t.Run("badger", func(t *testing.T) {
		seed := rand.Uint64()
		dir, dice := t.TempDir(), rand.New(rand.NewPCG(seed, 1))
		d := newDesk(t, openBadger(t, dir), func() history.Store { return openBadger(t, dir) })
		w := newWalk(d, dice.IntN, func(s string) { t.Fatalf("seed %d: %s", seed, s) })
		for range 150 {
			w.step()
		}
	})
}

// faulty is a store in which something is forgotten of each draft.
type faulty struct {
	history.Store
	forget func(*history.Draft)
}

func (f faulty) Commit(ctx context.Context, d history.Draft) (history.Number, error) {
	f.forget(&d)
	return f.Store.Commit(ctx, d)
}

func dropPuts(d *history.Draft, mark byte, drop func(history.Put) bool) {
	d.Put = slices.DeleteFunc(slices.Clone(d.Put), func(p history.Put) bool { return p.Key[0] == mark && drop(p) })
}

func always(history.Put) bool { return true }

// late tells that a draft goes through states again.
func late(d *history.Draft) bool {
	return slices.ContainsFunc(d.Delete, func(k history.Key) bool { return k[0] == afterMark })
}

// What a careless change would do to the book is found within some hundred steps.
func TestTheModelFindsFaults(t *testing.T) {
	changed := func(d *history.Draft, change func(*rows.Change)) {
		c := &rows.Change{}
		if err := decode(d.Feed, c); err != nil {
			t.Fatal(err)
		}
		change(c)
		d.Feed, _ = encode(c)
	}
	for name, forget := range map[string]func(*history.Draft){
		"no row goes from the list of what is open": func(d *history.Draft) {
			d.Delete = slices.DeleteFunc(slices.Clone(d.Delete), func(k history.Key) bool { return k[0] == openMark })
		},
		"tires are not told where they are":         func(d *history.Draft) { dropPuts(d, tireMark, always) },
		"what happened between visits is forgotten": func(d *history.Draft) { dropPuts(d, eventMark, always) },
		"what is open of a tire stays behind":       func(d *history.Draft) { dropPuts(d, tireOpenMark, always) },
		"what changed is open where the tire was": func(d *history.Draft) {
			dropPuts(d, tireOpenMark, func(p history.Put) bool { return len(p.Value) > 1 && late(d) })
		},
		"the feed tells of no closing": func(d *history.Draft) {
			changed(d, func(c *rows.Change) {
				if in := c.GetInspection(); in != nil {
					in.Closed = nil
				}
			})
		},
		"a visit that was corrected stands": func(d *history.Draft) {
			for i, p := range d.Put {
				row := &rows.VisitCover{}
				if p.Key[0] == historyMark && decode(p.Value, row) == nil && row.GetReplacedBy() != 0 {
					row.ReplacedBy = 0
					d.Put[i].Value, _ = encode(row)
				}
			}
		},
		"the feed leaves out the last that is open": func(d *history.Draft) {
			changed(d, func(c *rows.Change) {
				for _, v := range c.GetVehicles() {
					v.Open = v.GetOpen()[:max(0, len(v.GetOpen())-1)]
				}
			})
		},
		"the state after late visits is an old one": func(d *history.Draft) {
			old := func(k history.Key) bool { return k[0] == afterMark }
			if late := slices.ContainsFunc(d.Delete, old); late {
				d.Delete = slices.DeleteFunc(d.Delete, old)
				dropPuts(d, afterMark, func(history.Put) bool { return true })
			}
		},
	} {
		t.Run(name, func(t *testing.T) {
			found, dice := "", rand.New(rand.NewPCG(1, 1))
			w := newWalk(newDesk(t, faulty{memory.New(), forget}, nil), dice.IntN, func(s string) { found = s })
			for range 400 {
				if w.step(); found != "" {
					break
				}
			}
			t.Logf("after %d steps", w.steps)
			if found == "" {
				t.Error("not found")
			}
		})
	}
}
