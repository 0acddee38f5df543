package book

import (
	"context"
	"slices"
	"strings"

	"gaugebook.dev/server/history"
)

// readOnce is a snapshot that reads each row of a vehicle's record once: what begins as its
// prefixes do is read whole when it is first asked for, each other row when it is.
type readOnce struct {
	history.Snapshot
	prefixes []history.Key
	ranges   map[history.Key][]history.Row
	rows     map[history.Key]history.Row
}

func newReadOnce(s history.Snapshot, vehicle string) *readOnce {
	return &readOnce{s, []history.Key{historyOf(vehicle), eventsOf(vehicle), leftOf(vehicle)}, map[history.Key][]history.Row{}, map[history.Key]history.Row{}}
}

// Get gives a row, read before or now.
func (r *readOnce) Get(ctx context.Context, k history.Key) (history.Row, error) {
	if row, read := r.rows[k]; read {
		return row, nil
	}
	row, err := r.Snapshot.Get(ctx, k)
	if err == nil {
		r.rows[k] = row
	}
	return row, err
}

// Scan gives a page of what was read whole, any other from the store.
func (r *readOnce) Scan(ctx context.Context, of history.Range) (history.Page, error) {
	if !slices.Contains(r.prefixes, of.Prefix) {
		return r.Snapshot.Scan(ctx, of)
	}
	all, err := r.whole(ctx, of.Prefix)
	if err != nil {
		return history.Page{}, err
	}
	i, there := slices.BinarySearchFunc(all, of.After, func(row history.Row, k history.Key) int { return strings.Compare(string(row.Key), string(k)) })
	switch {
	case of.Reverse && of.After == "":
		all = slices.Clone(all)
		slices.Reverse(all)
	case of.Reverse:
		all = slices.Clone(all[:i])
		slices.Reverse(all)
	case there:
		all = all[i+1:]
	default:
		all = all[i:]
	}
	n := min(len(all), history.Rows(of.Limit))
	return history.Page{Rows: all[:n:n], More: n < len(all)}, nil
}

func (r *readOnce) whole(ctx context.Context, prefix history.Key) ([]history.Row, error) {
	if all, read := r.ranges[prefix]; read {
		return all, nil
	}
	var all []history.Row
	for after, more := history.Key(""), true; more; {
		page, err := r.Snapshot.Scan(ctx, history.Range{Prefix: prefix, After: after})
		if err != nil {
			return nil, err
		}
		for _, row := range page.Rows {
			all, after = append(all, row), row.Key
			r.rows[row.Key] = row
		}
		more = page.More
	}
	r.ranges[prefix] = all
	return all, nil
}
