// Package memory keeps a record in memory, for tests, trials and as the model
// that other drivers are compared with. Nothing in it is clever: every version
// of every row is kept, and a snapshot of number n sees of each row the newest
// version that is not newer than n.
//
// It forgets everything when it is closed and never gives memory back before.
package memory

import (
	"context"
	"crypto/rand"
	"errors"
	"maps"
	"slices"
	"strings"
	"sync"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/internal/notify"
)

// Store is a history.Store in memory. It is never read-only and its disk is
// never full; Commit never leaves unsure.
type Store struct {
	epoch   history.Epoch
	changed notify.Notifier

	mu     sync.RWMutex
	shops  map[string]*shop
	closed chan struct{} // closed under mu
}

type shop struct {
	feed [][]byte       // draft n's entry at n-1-trimmed.Number
	trim history.Change // what was trimmed last
	rows map[history.Key][]version
	keys []history.Key // of rows, in order
}

// A version is what became of a row in one draft.
type version struct {
	number  history.Number
	deleted bool
	value   []byte
}

var _ history.Store = (*Store)(nil)

// New makes an empty store with an epoch of its own.
func New() *Store {
	s := &Store{shops: map[string]*shop{}, closed: make(chan struct{})}
	_, _ = rand.Read(s.epoch[:]) // documented never to fail
	return s
}

// check answers ErrClosed or the context's error. The caller holds mu.
func (s *Store) check(ctx context.Context) error {
	select {
	case <-s.closed:
		return history.ErrClosed
	default:
		return ctx.Err()
	}
}

// Commit stores a draft, see history.Store.
func (s *Store) Commit(ctx context.Context, draft history.Draft) (history.Number, error) {
	if err := draft.Check(); err != nil {
		return 0, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.check(ctx); err != nil {
		return 0, err
	}

	record := s.shops[draft.Shop]
	if record == nil {
		record = &shop{rows: map[history.Key][]version{}}
	}
	now := record.last()
	for _, e := range draft.Expect {
		if found := record.get(e.Key, now).Version; found != e.Version {
			return 0, &history.StaleError{Key: e.Key, Expected: e.Version, Found: found}
		}
	}

	s.shops[draft.Shop] = record
	number := now + 1
	for _, p := range draft.Put {
		record.add(p.Key, version{number: number, value: slices.Clone(p.Value)})
	}
	for _, key := range draft.Delete {
		record.add(key, version{number: number, deleted: true})
	}
	record.feed = append(record.feed, slices.Clone(draft.Feed))
	s.changed.Notify(draft.Shop)
	return number, nil
}

// Writable answers ErrClosed once the store is closed, see history.Store.
func (s *Store) Writable() error {
	s.mu.RLock()
	defer s.mu.RUnlock()
	return s.check(context.Background())
}

// Trim removes entries of the feed, see history.Store.
func (s *Store) Trim(ctx context.Context, name string, upTo history.Number, left []byte) error {
	if err := errors.Join(history.CheckShop(name), history.CheckLeft(left)); err != nil {
		return err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.check(ctx); err != nil {
		return err
	}
	record := s.shops[name]
	if record == nil {
		record = &shop{}
	}
	if err := history.CheckTrim(upTo, record.trim.Number, record.last()); err != nil {
		return err
	}
	if upTo > record.trim.Number {
		record.feed = slices.Clone(record.feed[upTo-record.trim.Number:]) // snapshots keep the other
		record.trim = history.Change{Number: upTo, Feed: slices.Clone(left)}
	}
	return nil
}

func (s *shop) last() history.Number { return s.trim.Number + history.Number(len(s.feed)) }

func (s *shop) add(key history.Key, v version) {
	if s.rows[key] == nil {
		i, _ := slices.BinarySearch(s.keys, key)
		s.keys = slices.Insert(s.keys, i, key)
	}
	s.rows[key] = append(s.rows[key], v)
}

// get finds a row as it was when number was the last draft.
func (s *shop) get(key history.Key, number history.Number) history.Row {
	for _, v := range slices.Backward(s.rows[key]) {
		if v.number > number {
			continue
		}
		if v.deleted {
			break
		}
		return history.Row{Key: key, Value: slices.Clone(v.value), Version: v.number}
	}
	return history.Row{Key: key}
}

// Wait sleeps until there is something newer, see history.Store.
func (s *Store) Wait(ctx context.Context, shop string, after history.Number) error {
	for {
		notified, unsubscribe := s.changed.Subscribe(shop)
		last, err := s.last(ctx, shop)
		if err != nil || last > after {
			unsubscribe()
			return err
		}
		select {
		case <-notified:
		case <-ctx.Done():
		case <-s.closed:
		}
		unsubscribe()
	}
}

func (s *Store) last(ctx context.Context, shop string) (history.Number, error) {
	snap, err := s.Snapshot(ctx, shop)
	if err != nil {
		return 0, err
	}
	return snap.Last(ctx)
}

// Shops lists the shops, see history.Store.
func (s *Store) Shops(ctx context.Context) ([]string, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	if err := s.check(ctx); err != nil {
		return nil, err
	}
	return slices.Sorted(maps.Keys(s.shops)), nil
}

// Epoch is random, see history.Store.
func (s *Store) Epoch() history.Epoch { return s.epoch }

// Close forgets everything, see history.Store.
func (s *Store) Close() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.check(context.Background()) == nil {
		close(s.closed)
		s.shops = nil
	}
	return nil
}

// Snapshot opens a shop for reading, see history.Store.
func (s *Store) Snapshot(ctx context.Context, name string) (history.Snapshot, error) {
	if err := history.CheckShop(name); err != nil {
		return nil, err
	}
	s.mu.RLock()
	defer s.mu.RUnlock()
	if err := s.check(ctx); err != nil {
		return nil, err
	}
	record := s.shops[name]
	if record == nil {
		record = &shop{}
	}
	return &snapshot{store: s, shop: record, feed: record.feed, trim: record.trim, last: record.last()}, nil
}

// snapshot sees the shop as it was when last was the last draft.
type snapshot struct {
	store  *Store
	shop   *shop
	feed   [][]byte
	trim   history.Change
	last   history.Number
	closed bool
}

// open locks the store for reading; unlock is to be called where err is nil.
func (sn *snapshot) open(ctx context.Context) (unlock func(), err error) {
	if sn.closed {
		return nil, history.ErrClosed
	}
	sn.store.mu.RLock()
	if err := sn.store.check(ctx); err != nil {
		sn.store.mu.RUnlock()
		return nil, err
	}
	return sn.store.mu.RUnlock, nil
}

func (sn *snapshot) Get(ctx context.Context, key history.Key) (history.Row, error) {
	unlock, err := sn.open(ctx)
	if err != nil {
		return history.Row{}, err
	}
	defer unlock()
	return sn.shop.get(key, sn.last), nil
}

func (sn *snapshot) Scan(ctx context.Context, r history.Range) (history.Page, error) {
	if err := r.Check(); err != nil {
		return history.Page{}, err
	}
	unlock, err := sn.open(ctx)
	if err != nil {
		return history.Page{}, err
	}
	defer unlock()

	keys := slices.Clone(sn.shop.keys)
	if r.Reverse {
		slices.Reverse(keys)
	}
	var page history.Page
	size := 0
	for _, key := range keys {
		behind := key > r.After || r.After == ""
		if r.Reverse {
			behind = key < r.After || r.After == ""
		}
		row := sn.shop.get(key, sn.last)
		if !behind || row.Version == history.Absent || !strings.HasPrefix(string(key), string(r.Prefix)) {
			continue
		}
		size += len(row.Key) + len(row.Value)
		if len(page.Rows) == history.Rows(r.Limit) || len(page.Rows) > 0 && size > history.MaxPageBytes {
			page.More = true
			break
		}
		page.Rows = append(page.Rows, row)
	}
	return page, nil
}

func (sn *snapshot) Changes(ctx context.Context, after history.Number, limit int) ([]history.Change, error) {
	unlock, err := sn.open(ctx)
	if err != nil {
		return nil, err
	}
	defer unlock()

	if after < sn.trim.Number {
		return nil, &history.TrimmedError{After: after, Trimmed: sn.trim.Number}
	}
	var changes []history.Change
	size := 0
	for n := after; n < sn.last && len(changes) < history.Rows(limit); n++ {
		feed := slices.Clone(sn.feed[n-sn.trim.Number])
		size += len(feed)
		if len(changes) > 0 && size > history.MaxPageBytes {
			break
		}
		changes = append(changes, history.Change{Number: n + 1, Feed: feed})
	}
	return changes, nil
}

func (sn *snapshot) Trimmed(ctx context.Context) (history.Change, error) {
	unlock, err := sn.open(ctx)
	if err != nil {
		return history.Change{}, err
	}
	defer unlock()
	return history.Change{Number: sn.trim.Number, Feed: slices.Clone(sn.trim.Feed)}, nil
}

func (sn *snapshot) Last(ctx context.Context) (history.Number, error) {
	unlock, err := sn.open(ctx)
	if err != nil {
		return 0, err
	}
	defer unlock()
	return sn.last, nil
}

func (sn *snapshot) Close() { sn.closed = true }
