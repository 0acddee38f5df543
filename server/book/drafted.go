package book

import (
	"context"
	"math"
	"slices"
	"strings"

	"gaugebook.dev/server/history"
)

// notYet is the version of a row that is not stored yet.
const notYet = history.Number(math.MaxUint64)

// drafted is a snapshot as it will be with what a draft writes.
type drafted struct {
	history.Snapshot
	draft *drafting
}

// with is the view as it will be with what a draft writes.
func (v view) with(d *drafting) view {
	v.s = drafted{v.s, d}
	return v
}

// Get gives a row as the draft leaves it.
func (d drafted) Get(ctx context.Context, k history.Key) (history.Row, error) {
	if put, written := d.draft.writes[k]; written {
		return rowOf(k, put), nil
	}
	return d.Snapshot.Get(ctx, k)
}

func rowOf(k history.Key, put *history.Put) history.Row {
	if put == nil {
		return history.Row{Key: k, Version: history.Absent}
	}
	return history.Row{Key: k, Value: put.Value, Version: notYet}
}

// Scan gives a page as the draft leaves it; it is empty only at the end.
func (d drafted) Scan(ctx context.Context, of history.Range) (history.Page, error) {
	for {
		page, err := d.Snapshot.Scan(ctx, of)
		if err != nil {
			return history.Page{}, err
		}
		out := d.joined(of, page)
		if len(out.Rows) > 0 || !page.More {
			return out, nil
		}
		of.After = page.Rows[len(page.Rows)-1].Key
	}
}

// joined is a page with the draft's rows in place of what was, as far as the page goes.
func (d drafted) joined(of history.Range, page history.Page) history.Page {
	compare := func(a, b history.Key) int {
		if of.Reverse {
			a, b = b, a
		}
		return strings.Compare(string(a), string(b))
	}
	all := slices.DeleteFunc(slices.Clone(page.Rows), func(r history.Row) bool {
		_, written := d.draft.writes[r.Key]
		return written
	})
	for k, put := range d.draft.writes {
		switch {
		case put == nil, !strings.HasPrefix(string(k), string(of.Prefix)), of.After != "" && compare(k, of.After) <= 0:
		case page.More && compare(k, page.Rows[len(page.Rows)-1].Key) > 0:
		default:
			all = append(all, rowOf(k, put))
		}
	}
	slices.SortFunc(all, func(a, b history.Row) int { return compare(a.Key, b.Key) })
	n := min(len(all), history.Rows(of.Limit))
	return history.Page{Rows: all[:n:n], More: page.More || n < len(all)}
}
