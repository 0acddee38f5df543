package book

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/encoding/prototext"
	"google.golang.org/protobuf/proto"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/memory"
)

// verified reads a shop and gives what fails, as sentences.
func verified(t *testing.T, b *Book, rebuild bool) (failures []string, out Verified) {
	t.Helper()
	out, err := b.Verify(t.Context(), shop, rebuild, nil, func(f Failure) {
		failures = append(failures, fmt.Sprintf("vehicle %q, record %q: %s (rebuilt: %v)", f.Vehicle, f.Record, f.What, f.Rebuilt))
	})
	if err != nil {
		t.Fatal(err)
	}
	return failures, out
}

// walked is a book in which much was recorded at random.
func walked(t *testing.T, seed uint64, steps int) *desk {
	t.Helper()
	dice := rand.New(rand.NewPCG(seed, 14))
	d := newDesk(t, memory.New(), nil)
	w := newWalk(d, dice.IntN, func(s string) { t.Fatal(s) })
	for range steps {
		w.step()
	}
	return d
}

// Nothing fails in a book that is as it was written, whatever was recorded in whatever
// order.
func TestASoundBookIsVerified(t *testing.T) {
	for seed := range uint64(3) {
		d := walked(t, seed, 100)
		failures, out := verified(t, d.Book, false)
		if len(failures) > 0 || out.Failures > 0 {
			t.Errorf("seed %d: %d fail, first %s", seed, len(failures), failures[:min(3, len(failures))])
		}
		if out.Changes < 3 || out.Rows < 300 || out.Vehicles < 2 {
			t.Errorf("seed %d: read %+v", seed, out)
		}
	}
}

// otherRows loads a store without, or with other, rows than another.
type otherRows struct {
	*memory.Loader
	change func(history.Row) (history.Row, bool)
}

func (c otherRows) Rows(rows []history.Row) error {
	var out []history.Row
	for _, r := range rows {
		if r, keep := c.change(r); keep {
			out = append(out, r)
		}
	}
	return c.Loader.Rows(out)
}

// withRows is the book of a desk with other rows.
func withRows(t *testing.T, d *desk, change func(history.Row) (history.Row, bool)) *Book {
	t.Helper()
	to := otherRows{memory.Load(), change}
	if err := history.Copy(t.Context(), d.store, to, nil); err != nil {
		t.Fatal(err)
	}
	return New(to.Store(), d.judge, d.now)
}

// rowsOf are the rows of a book.
func rowsOf(t *testing.T, b *Book) (all []history.Row) {
	t.Helper()
	err := b.read(t.Context(), shop, func(v view) error {
		return v.eachRow("", func(r history.Row) error {
			all = append(all, r)
			return nil
		})
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// A row that is lost is missed, of each kind that leads to something or follows from it.
func TestARowThatIsLostIsFound(t *testing.T) {
	d := walked(t, 1, 110)
	dice, byKind := rand.New(rand.NewPCG(3, 14)), map[byte][]history.Row{}
	for _, r := range rowsOf(t, d.Book) {
		if r.Key[0] != tireMark || strings.Contains(string(r.Value), "1L") || strings.Contains(string(r.Value), "2R") { // of others nothing tells
			byKind[r.Key[0]] = append(byKind[r.Key[0]], r)
		}
	}
	trimmed := trimmedOf(t, d.Book)
	for mark, all := range byKind {
		for range min(len(all), 2) {
			lost := all[dice.IntN(len(all))]
			lonely := slices.Contains(lonely, mark) || !rowKinds[mark].anew && lost.Version <= trimmed // the feed no longer names it
			b := withRows(t, d, func(r history.Row) (history.Row, bool) { return r, r.Key != lost.Key })
			if failures, _ := verified(t, b, false); len(failures) == 0 && !lonely {
				t.Errorf("a row of kind %q is lost and nothing fails: %q", mark, lost.Key)
			}
			other := withRows(t, d, func(r history.Row) (history.Row, bool) {
				if r.Key == lost.Key {
					r.Value = append(slices.Clone(r.Value), 0xff)
				}
				return r, true
			})
			if failures, _ := verified(t, other, false); len(failures) == 0 {
				t.Errorf("a row of kind %q is changed and nothing fails: %q", mark, lost.Key)
			}
		}
	}
	if len(byKind) < 18 {
		t.Errorf("only %d kinds of rows", len(byKind))
	}
}

// trimmedOf is the number up to which a book's feed was trimmed.
func trimmedOf(t *testing.T, b *Book) (n history.Number) {
	t.Helper()
	if err := b.read(t.Context(), shop, func(v view) error {
		trimmed, err := v.s.Trimmed(t.Context())
		n = trimmed.Number
		return err
	}); err != nil {
		t.Fatal(err)
	}
	return n
}

// lonely are the kinds of rows to which nothing leads, and from which nothing follows that
// is kept.
var lonely = []byte{afterMark, bornMark, personMark, deciderMark, tireBornMark, arrivalsMark, mendedMark, vehicleMark}

// A row that nothing recorded calls for is found, of each kind that follows from records.
func TestARowTooManyIsFound(t *testing.T) {
	d := walked(t, 2, 40)
	for mark, kind := range rowKinds {
		if !kind.follows {
			continue
		}
		var like *history.Row
		for _, r := range rowsOf(t, d.Book) {
			if r.Key[0] == mark {
				like = &r
			}
		}
		if like == nil {
			continue
		}
		stray := history.Key(strings.ReplaceAll(string(like.Key), like.Key.Texts(1)[0], "another"))
		if stray == like.Key {
			stray = like.Key.Text("more")
		}
		if _, err := d.store.Commit(t.Context(), history.Draft{Shop: shop, Put: []history.Put{{Key: stray, Value: like.Value}}, Feed: nothing(t)}); err != nil {
			t.Fatal(err)
		}
		if failures, _ := verified(t, d.Book, false); len(failures) == 0 {
			t.Errorf("a row too many of kind %q is not found", mark)
		}
		if _, err := d.store.Commit(t.Context(), history.Draft{Shop: shop, Delete: []history.Key{stray}, Feed: nothing(t)}); err != nil {
			t.Fatal(err)
		}
	}
	if failures, _ := verified(t, d.Book, false); len(failures) > 0 {
		t.Errorf("after all, %q", failures)
	}
}

// nothing is an entry of the feed that tells of nothing.
func nothing(t *testing.T) []byte {
	t.Helper()
	d := &drafting{}
	d.change(newChange(nil))
	return d.Feed
}

// rebuiltKinds are written anew from what was recorded.
var rebuiltKinds = []byte{
	historyMark, orderMark, stateMark, openMark, untilMark, urgentMark, seenMark, dueMark, codeMark, sizeMark, wordMark, nextDueMark,
	plateMark, tagMark, offMark, tireOpenMark, tireLeftMark, tireLifeMark, replacedMark, repairsMark,
}

// Rows that follow from others and are lost or wrong are written anew as they were, and
// what was recorded stays as it is.
func TestRowsAreRebuilt(t *testing.T) {
	for seed := range uint64(4) {
		d := walked(t, seed, 60)
		dice := rand.New(rand.NewPCG(seed, 15))
		part := []float64{0.05, 0.3, 0.8, 1}[seed]
		b := withRows(t, d, func(r history.Row) (history.Row, bool) {
			if !slices.Contains(rebuiltKinds, r.Key[0]) || dice.Float64() >= part {
				return r, true
			}
			if dice.IntN(3) == 0 {
				r.Value = append(slices.Clone(r.Value), 0xff)
				return r, true
			}
			return r, false
		})
		first, out := verified(t, b, true)
		if len(first) == 0 || out.Rebuilt == 0 {
			t.Errorf("seed %d: nothing failed: %+v", seed, out)
		}
		if left, _ := verified(t, b, false); len(left) > 0 {
			t.Errorf("seed %d: %d fail after %d were rebuilt, first %q", seed, len(left), out.Rebuilt, left[:min(4, len(left))])
		}
		sameRows(t, rowsOf(t, b), rowsOf(t, d.Book))
	}
}

// sameRows holds rows to what they were, but for when they were written.
func sameRows(t *testing.T, got, want []history.Row) {
	t.Helper()
	is := map[history.Key]string{}
	for _, r := range got {
		if counts(r) {
			is[r.Key] = withoutTimes(t, r)
		}
	}
	for _, r := range slices.DeleteFunc(want, func(r history.Row) bool { return !counts(r) }) {
		if g, w := is[r.Key], withoutTimes(t, r); g != w {
			t.Errorf("the row %q is %q, was %q", r.Key, g, w)
		}
		delete(is, r.Key)
	}
	for k := range is {
		t.Errorf("the row %q was not there", k)
	}
}

// counts tells rows of which the content is told: not what guards a tire, and not that a tire
// departed, which counts only where a record still tells of it.
func counts(r history.Row) bool {
	row := &rows.Event{}
	departed := r.Key[0] == eventMark && decode(r.Value, row) == nil && row.GetDeparted() != ""
	return !departed && (r.Key[0] != tireOpenMark || r.Key != openOf(r.Key.Texts(1)[0]))
}

// withoutTimes is a row without its number, and without when what it follows from was
// recorded last.
func withoutTimes(t *testing.T, r history.Row) string {
	t.Helper()
	var m proto.Message
	switch r.Key[0] {
	case historyMark:
		m = &rows.VisitCover{}
	case stateMark:
		m = &rows.Vehicle{}
	case tireMark:
		m = &rows.Record{}
	case tireLifeMark: // the vehicle may be named as it was before it was found to be another
		m = &rows.TireEvent{}
	default:
		return string(r.Value)
	}
	if err := decode(r.Value, m); err != nil {
		t.Fatal(err)
	}
	switch row := m.(type) {
	case *rows.VisitCover:
		if row.Number = 0; row.GetReplacedBy() != 0 {
			row.Inspection = nil // its tires are no longer known
		}
	case *rows.Vehicle:
		row.RecordedTime = nil
	case *rows.Record:
		row.RecordedTime = nil
	case *rows.TireEvent:
		row.VehicleId = ""
	}
	return prototext.Format(m)
}
