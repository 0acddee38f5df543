package history

import (
	"context"
	"fmt"
)

// Loader takes what a store holds, shop by shop: to make another store of it, or a
// file. What it is given comes in one order, and anything else is an
// *InvalidError: for each shop, in the order of the names' bytes, Shop; then its
// changes by number; then its rows in the order of their keys; in the end Done.
// What is given is the caller's again when the method returns.
//
// A driver's Loader makes a store with an epoch of its own: rows keep their
// versions and changes their numbers, and the next draft is numbered behind them.
// Until Done has returned there is no such store.
type Loader interface {
	// Shop begins a shop.
	Shop(shop Loaded) error

	// Changes adds entries of the shop's feed, with no number left out.
	Changes(changes []Change) error

	// Rows adds rows of the shop.
	Rows(rows []Row) error

	// Done says that this was all. What was loaded is safe when it returns.
	Done() error
}

// Loaded is what is known of a shop before its changes and rows.
type Loaded struct {
	Name    string
	Last    Number // of its last draft
	Trimmed Change // the last entry of its feed that was trimmed: its changes go on behind it
}

// Copy gives a loader all that a store holds, each shop as it is at one moment:
// that of the call. Others may write meanwhile. observe, where it is not nil, is
// told each shop before anything is loaded.
//
// Errors: the store's, the loader's, the context's.
func Copy(ctx context.Context, from Store, to Loader, observe func(Loaded)) error {
	shops, err := from.Shops(ctx)
	if err != nil {
		return err
	}
	snaps, heads := make([]Snapshot, len(shops)), make([]Loaded, len(shops))
	for i, shop := range shops {
		if snaps[i], err = from.Snapshot(ctx, shop); err != nil {
			return err
		}
		defer snaps[i].Close()
		heads[i].Name = shop
		if heads[i].Last, err = snaps[i].Last(ctx); err != nil {
			return err
		}
		if heads[i].Trimmed, err = snaps[i].Trimmed(ctx); err != nil {
			return err
		}
		if observe != nil {
			observe(heads[i])
		}
	}
	for i, head := range heads {
		if err := to.Shop(head); err != nil {
			return err
		}
		if err := copyShop(ctx, snaps[i], head.Trimmed.Number, to); err != nil {
			return err
		}
		snaps[i].Close()
	}
	return to.Done()
}

func copyShop(ctx context.Context, from Snapshot, after Number, to Loader) error {
	for {
		changes, err := from.Changes(ctx, after, 0)
		if err != nil {
			return err
		}
		if len(changes) == 0 {
			break
		}
		if err := to.Changes(changes); err != nil {
			return err
		}
		after = changes[len(changes)-1].Number
	}
	for after, more := Key(""), true; more; {
		page, err := from.Scan(ctx, Range{After: after})
		if err != nil {
			return err
		}
		if more = page.More; more {
			after = page.Rows[len(page.Rows)-1].Key
		}
		if err := to.Rows(page.Rows); err != nil {
			return err
		}
	}
	return nil
}

// Order holds what is loaded to the order that a [Loader] demands: each of its
// methods is to be called before what it is given is used.
type Order struct {
	shop      Loaded
	number    Number // of the latest change
	key       Key    // of the latest row
	rows, end bool   // whether rows, or the end, have come
}

// Shop ends the shop before and begins another.
func (o *Order) Shop(shop Loaded) error {
	if err := CheckShop(shop.Name); err != nil {
		return err
	}
	if err := o.endShop(); err != nil {
		return err
	}
	if shop.Name <= o.shop.Name {
		return &InvalidError{fmt.Sprintf("the shop %q comes behind %q", shop.Name, o.shop.Name)}
	}
	if shop.Last == 0 {
		return &InvalidError{fmt.Sprintf("the shop %q has no draft", shop.Name)}
	}
	if shop.Trimmed.Number > shop.Last {
		return &InvalidError{fmt.Sprintf("the feed of the shop %q was trimmed up to %d of %d", shop.Name, shop.Trimmed.Number, shop.Last)}
	}
	if err := CheckLeft(shop.Trimmed.Feed); err != nil {
		return err
	}
	*o = Order{shop: shop, number: shop.Trimmed.Number}
	return nil
}

// Changes goes on with the shop's feed.
func (o *Order) Changes(changes []Change) error {
	for _, c := range changes {
		switch {
		case o.shop.Name == "" || o.rows || o.end:
			return &InvalidError{fmt.Sprintf("the change %d comes where none may", c.Number)}
		case c.Number != o.number+1 || c.Number > o.shop.Last:
			return &InvalidError{fmt.Sprintf("in the shop %q with changes up to %d number %d comes behind %d", o.shop.Name, o.shop.Last, c.Number, o.number)}
		case len(c.Feed) > MaxValue:
			return &TooLargeError{"feed entry", len(c.Feed), MaxValue}
		}
		o.number = c.Number
	}
	return nil
}

// Rows goes on with the shop's rows.
func (o *Order) Rows(rows []Row) error {
	for _, r := range rows {
		switch {
		case o.shop.Name == "" || o.end || o.number != o.shop.Last:
			return &InvalidError{fmt.Sprintf("the row %q comes where none may", r.Key)}
		case r.Key <= o.key:
			return &InvalidError{fmt.Sprintf("the row %q comes behind %q", r.Key, o.key)}
		case r.Version == Absent || r.Version > o.shop.Last:
			return &InvalidError{fmt.Sprintf("the row %q has version %d of %d", r.Key, r.Version, o.shop.Last)}
		case len(r.Key) > MaxKey:
			return &TooLargeError{"key", len(r.Key), MaxKey}
		case len(r.Value) > MaxValue:
			return &TooLargeError{"value", len(r.Value), MaxValue}
		}
		o.key, o.rows = r.Key, true
	}
	return nil
}

// Done ends the last shop.
func (o *Order) Done() error {
	if o.end {
		return &InvalidError{"the end comes twice"}
	}
	if err := o.endShop(); err != nil {
		return err
	}
	o.end = true
	return nil
}

func (o *Order) endShop() error {
	switch {
	case o.end:
		return &InvalidError{"a shop comes behind the end"}
	case o.number != o.shop.Last:
		return &InvalidError{fmt.Sprintf("the shop %q has changes up to %d and they came up to %d", o.shop.Name, o.shop.Last, o.number)}
	}
	return nil
}
