package memory

import (
	"slices"

	"gaugebook.dev/server/history"
)

// Loader is a history.Loader that makes a store in memory.
type Loader struct {
	order history.Order
	store *Store
	shop  *shop
	done  bool
}

var _ history.Loader = (*Loader)(nil)

// Load begins a store that is loaded from another.
func Load() *Loader { return &Loader{store: New()} }

// Store is what was loaded; nil before Done.
func (l *Loader) Store() *Store {
	if !l.done {
		return nil
	}
	return l.store
}

// Shop begins a shop, see history.Loader.
func (l *Loader) Shop(of history.Loaded) error {
	if err := l.order.Shop(of); err != nil {
		return err
	}
	l.shop = &shop{rows: map[history.Key][]version{}, trim: history.Change{Number: of.Trimmed.Number, Feed: slices.Clone(of.Trimmed.Feed)}}
	l.store.shops[of.Name] = l.shop
	return nil
}

// Changes adds to the feed, see history.Loader.
func (l *Loader) Changes(changes []history.Change) error {
	if err := l.order.Changes(changes); err != nil {
		return err
	}
	for _, c := range changes {
		l.shop.feed = append(l.shop.feed, slices.Clone(c.Feed))
	}
	return nil
}

// Rows adds rows, see history.Loader.
func (l *Loader) Rows(rows []history.Row) error {
	if err := l.order.Rows(rows); err != nil {
		return err
	}
	for _, r := range rows {
		l.shop.add(r.Key, version{number: r.Version, value: slices.Clone(r.Value)})
	}
	return nil
}

// Done makes the store, see history.Loader.
func (l *Loader) Done() error {
	err := l.order.Done()
	l.done = err == nil
	return err
}
