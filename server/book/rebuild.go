package book

import (
	"context"
	"maps"
	"slices"

	"gaugebook.dev/server/history"
)

// settledFirst are the rows to be written anew; where a tire is, and what comes due of it,
// comes last, when all else that is made of a vehicle is as it should be.
func settledFirst(d *drafting) *drafting {
	others := &drafting{}
	for k, put := range d.writes {
		if k[0] != tireMark && k[0] != duesMark {
			others.write(k, put)
		}
	}
	if len(others.writes) > 0 {
		return others
	}
	return d
}

// mostAnew is how many bytes of rows one draft writes anew at most.
const mostAnew = history.MaxDraft / 2

// write commits rows that are written anew.
func (c *verifying) write(ctx context.Context, d *drafting, of *vehicle) error {
	keys := slices.Sorted(maps.Keys(d.writes))
	for len(keys) > 0 {
		part, size := &drafting{}, 0
		for len(keys) > 0 && size < mostAnew {
			put := d.writes[keys[0]]
			part.write(keys[0], put)
			size += len(keys[0]) + history.RowOverhead
			if put != nil {
				size += len(put.Value)
			}
			keys = keys[1:]
		}
		change := newChange(next(c.book.now(), nil))
		if of != nil {
			change.touches(*of, of.state)
		}
		part.change(change)
		draft, err := part.done()
		if err != nil {
			return err
		}
		draft.Shop = c.shop
		if _, err := c.book.store.Commit(ctx, *draft); err != nil {
			return err
		}
	}
	return nil
}
