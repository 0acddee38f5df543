package badger

import (
	"context"
	"errors"

	engine "github.com/dgraph-io/badger/v4"

	"gaugebook.dev/server/history"
)

// pending is a draft on its way to the writer. Handing it over is the moment
// from which it is carried to its end.
type pending struct {
	draft  history.Draft // of a trim, the shop alone
	trim   *history.Change
	answer chan answer // holds one
}

type answer struct {
	number history.Number
	err    error
}

// Commit stores a draft, see history.Store.
func (s *Store) Commit(ctx context.Context, draft history.Draft) (history.Number, error) {
	if err := draft.Check(); err != nil {
		return 0, err
	}
	return s.hand(ctx, &pending{draft: draft, answer: make(chan answer, 1)})
}

// hand gives a draft to the writer and waits for its answer.
func (s *Store) hand(ctx context.Context, w *pending) (history.Number, error) {
	if err := s.enqueue(ctx, w); err != nil {
		return 0, err
	}
	a := <-w.answer
	return a.number, a.err
}

// enqueue gives a draft to the writer. While it holds the gate the channel of
// drafts stays open and the writer takes from it.
func (s *Store) enqueue(ctx context.Context, w *pending) error {
	s.gate.RLock()
	defer s.gate.RUnlock()
	if s.closed {
		return history.ErrClosed
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	select {
	case s.drafts <- w:
		return nil
	case <-s.closing:
		return history.ErrClosed
	case <-ctx.Done():
		return ctx.Err()
	}
}

// write is the one writer. It goes when the channel of drafts is closed and
// empty.
func (s *Store) write() {
	defer close(s.written)
	for first := range s.drafts {
		s.store(s.gather(first))
	}
}

// gather takes what waits behind the first draft, up to a group's size.
func (s *Store) gather(first *pending) []*pending {
	group := []*pending{first}
	size := first.draft.Size()
	for len(group) < s.groupSize && size < s.groupBytes {
		select {
		case w, open := <-s.drafts:
			if !open {
				return group
			}
			group = append(group, w)
			size += w.draft.Size()
		default:
			return group
		}
	}
	return group
}

// store answers a group: every draft of it is stored or refused by itself.
func (s *Store) store(group []*pending) {
	s.stats.groups.Add(1)
	if err := s.refusal(); err != nil {
		for _, w := range group {
			w.answer <- answer{err: err}
		}
		return
	}

	view := s.db.NewTransactionAt(s.timestamps.latest(), false)
	defer view.Discard()
	over := overlay{
		view: view, rows: map[string]history.Number{}, last: map[string]history.Number{}, trimmed: map[string]history.Number{},
	}
	var held []*accepted
	for _, w := range group {
		d, err := over.add(w)
		if err != nil {
			w.answer <- answer{err: err}
			continue
		}
		if len(d.puts)+len(d.deletes) == 0 {
			// A transaction that writes nothing would leave its timestamp out of the log.
			w.answer <- answer{number: d.number}
			continue
		}
		held = append(held, d)
	}
	for len(held) > 0 {
		held = s.storeSome(held)
	}
}

// overlay is the state that a group's drafts are checked against: what is on disk,
// and above it what the drafts before have changed.
type overlay struct {
	view *engine.Txn
	rows map[string]history.Number // inner key → version
	last map[string]history.Number // shop → number

	trimmed map[string]history.Number // shop → number
}

// accepted is a draft that holds, as the rows it comes to.
type accepted struct {
	*pending
	number  history.Number // 0 of a trim
	puts    []pair
	deletes [][]byte
}

type pair struct{ key, value []byte }

// add numbers a draft and notes its changes, or answers why it does not hold
// and changes nothing.
func (o *overlay) add(w *pending) (*accepted, error) {
	if w.trim != nil {
		return o.addTrim(w)
	}
	shop := w.draft.Shop
	for _, e := range w.draft.Expect {
		found, err := o.version(rowKey(shop, e.Key))
		if err != nil {
			return nil, err
		}
		if found != e.Version {
			return nil, &history.StaleError{Key: e.Key, Expected: e.Version, Found: found}
		}
	}
	last, err := o.lastOf(shop)
	if err != nil {
		return nil, err
	}

	d := &accepted{pending: w, number: last + 1}
	o.last[shop] = d.number
	for _, p := range w.draft.Put {
		key := rowKey(shop, p.Key)
		o.rows[string(key)] = d.number
		d.puts = append(d.puts, pair{key, rowValue(d.number, p.Value)})
	}
	for _, k := range w.draft.Delete {
		key := rowKey(shop, k)
		o.rows[string(key)] = history.Absent
		d.deletes = append(d.deletes, key)
	}
	d.puts = append(d.puts,
		pair{feedKey(shop, d.number), plainValue(w.draft.Feed)},
		pair{lastKey(shop), numberValue(d.number)})
	return d, nil
}

func (o *overlay) lastOf(shop string) (history.Number, error) {
	if last, known := o.last[shop]; known {
		return last, nil
	}
	return readNumber(o.view, lastKey(shop))
}

func (o *overlay) version(key []byte) (history.Number, error) {
	if version, ok := o.rows[string(key)]; ok {
		return version, nil
	}
	return readNumber(o.view, key)
}

// storeSome commits as many drafts as one transaction takes, from the first on,
// answers them, and gives back those that remain. After a failure none remain.
func (s *Store) storeSome(drafts []*accepted) (rest []*accepted) {
	txn, n, err := s.fill(drafts)
	defer txn.Discard()
	if err == nil {
		err = s.sync(txn)
	}
	if err != nil {
		s.fail(err)
		for i, d := range drafts {
			d.answer <- answer{err: &history.ReadOnlyError{Cause: err, Unsure: i < n}}
		}
		return nil
	}

	s.noteAcknowledged(drafts[:n])
	for _, d := range drafts[:n] {
		if d.trim == nil {
			s.stats.drafts.Add(1)
			s.changed.Notify(d.draft.Shop)
		}
		d.answer <- answer{number: d.number}
	}
	return drafts[n:]
}

// fill makes a transaction of the first n drafts, as many as it takes whole.
func (s *Store) fill(drafts []*accepted) (txn *engine.Txn, n int, err error) {
	txn = s.db.NewTransactionAt(s.timestamps.latest(), true)
	for n, d := range drafts {
		err := d.write(txn)
		if errors.Is(err, engine.ErrTxnTooBig) && n > 0 {
			// A transaction cannot be taken back by one draft: a new one is begun.
			txn.Discard()
			return s.fill(drafts[:n])
		}
		if err != nil {
			return txn, 0, err
		}
	}
	return txn, len(drafts), nil
}

func (d *accepted) write(txn *engine.Txn) error {
	for _, p := range d.puts {
		if err := txn.Set(p.key, p.value); err != nil {
			return err
		}
	}
	for _, key := range d.deletes {
		if err := txn.Delete(key); err != nil {
			return err
		}
	}
	return nil
}

// sync commits a transaction and, once it is safely on disk, shows it to
// readers.
func (s *Store) sync(txn *engine.Txn) error {
	timestamp := s.timestamps.latest() + 1
	if err := s.commit(txn, timestamp); err != nil {
		return err
	}
	s.stats.syncs.Add(1)
	if err := s.names.sync(); err != nil {
		return err
	}
	s.db.SetDiscardTs(s.timestamps.advance(timestamp))
	return nil
}
