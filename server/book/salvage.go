package book

import (
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// LostEntry is an entry of the feed in place of one that is lost: it tells of nothing, and
// has a mark of its own, so that no token of before is good for it.
func LostEntry() []byte {
	d := &drafting{}
	d.change(newChange(nil))
	return d.Feed
}

// Erasures finds, of rows that are loaded, whose customers were erased, and when last.
type Erasures struct {
	shop string
	at   map[string]map[string]history.Number // by shop, then by vehicle
}

// Shop begins a shop, see history.Loader.
func (e *Erasures) Shop(shop history.Loaded) error {
	e.shop = shop.Name
	return nil
}

// Changes passes changes over, see history.Loader.
func (e *Erasures) Changes([]history.Change) error { return nil }

// Rows looks at rows, see history.Loader.
func (e *Erasures) Rows(loaded []history.Row) error {
	for _, r := range loaded {
		row, asked := &rows.Erasure{}, &pb.EraseCustomerRequest{}
		if r.Key[0] != erasureMark || decode(r.Value, row) != nil || proto.Unmarshal(row.GetRequest(), asked) != nil {
			continue
		}
		if e.at == nil {
			e.at = map[string]map[string]history.Number{}
		}
		if e.at[e.shop] == nil {
			e.at[e.shop] = map[string]history.Number{}
		}
		e.at[e.shop][asked.GetVehicleId()] = max(e.at[e.shop][asked.GetVehicleId()], r.Version)
	}
	return nil
}

// Done ends it, see history.Loader.
func (e *Erasures) Done() error { return nil }

// Without gives a loader what it is given but for what identifies a person and was written
// before that was erased: of a store that was damaged, what deleted it may be lost. Rows by
// which a customer is found go, too, and are written anew by Verify.
func (e *Erasures) Without(to history.Loader) history.Loader { return &erasing{Loader: to, of: e} }

type erasing struct {
	history.Loader
	of   *Erasures
	shop string
	last history.Number    // of all erasures of the shop
	by   map[string]string // by outcome, the vehicle that it is of
}

func (e *erasing) Shop(shop history.Loaded) error {
	e.shop, e.last, e.by = shop.Name, 0, map[string]string{}
	for _, at := range e.of.at[e.shop] {
		e.last = max(e.last, at)
	}
	return e.Loader.Shop(shop)
}

func (e *erasing) Rows(loaded []history.Row) error {
	var kept []history.Row
	for _, r := range loaded {
		if !e.erased(r) {
			kept = append(kept, r)
		}
	}
	return e.Loader.Rows(kept)
}

// erased tells that a row holds what was erased after it was written.
func (e *erasing) erased(r history.Row) bool {
	at := e.of.at[e.shop]
	switch r.Key[0] {
	case personMark:
		return r.Version < at[r.Key.Texts(1)[0]]
	case plateMark, wordMark:
		return r.Version < at[r.Key.Texts(1)[1]]
	case outcomeMark:
		row := &rows.Outcome{}
		if decode(r.Value, row) == nil {
			e.by[r.Key.Texts(1)[0]] = row.GetVehicleId()
		}
	case deciderMark: // behind all outcomes
		vehicle, known := e.by[r.Key.Texts(1)[0]]
		if !known {
			return r.Version < e.last
		}
		return r.Version < at[vehicle]
	}
	return false
}
