// Package book says what a shop's record means: how visits, vehicles and tires
// are kept in the history's rows, which row guards which promise, and what the
// feed tells. It judges nothing itself; the judgement is handed to it.
package book

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/history"
)

// Judge judges one visit of a shop, by the law and by the shop's own rules: it is
// what package judge's For gives.
type Judge func(shop string, visit *pb.AssessVisitRequest) *pb.Assessment

// Book keeps the records of all shops in one store.
type Book struct {
	store history.Store
	judge Judge
	now   func() time.Time
	locks keyed

	ending  chan struct{} // closed when nobody is to wait any more
	endOnce sync.Once
}

// New makes a book over a store. now is the server's clock.
func New(store history.Store, judge Judge, now func() time.Time) *Book {
	return &Book{store: store, judge: judge, now: now, ending: make(chan struct{})}
}

// EndWaits lets every call that waits for a change answer now, and those to come
// at once: at shutdown nobody is kept for something that cannot come any more.
func (b *Book) EndWaits() { b.endOnce.Do(func() { close(b.ending) }) }

// Reason is why a command was refused, as the contract's ErrorReason names it.
type Reason = pb.ErrorReason

// Refusal is a command that the book does not carry out, for a reason that the
// caller can understand.
type Refusal struct {
	Reason   Reason
	Field    string            // path of the field at fault, "" when none is
	Message  string            // for a person
	Metadata map[string]string // for a program
}

// Error is the message.
func (r *Refusal) Error() string { return r.Message }

// Unfit is a visit that does not fit its vehicle.
type Unfit struct{ Problems []check.Problem }

// Error names the first problem.
func (u *Unfit) Error() string { return u.Problems[0].String() }

func refuse(reason Reason, field, format string, args ...any) *Refusal {
	return &Refusal{Reason: reason, Field: field, Message: fmt.Sprintf(format, args...)}
}

func (r *Refusal) with(key, value string) *Refusal {
	if r.Metadata == nil {
		r.Metadata = map[string]string{}
	}
	r.Metadata[key] = value
	return r
}

// tries is how often a command reads and decides anew when somebody else was
// faster. Commands on one vehicle queue for its lock, so it takes other servers
// or two vehicles of one command to need more than the first.
const tries = 5

// commit runs one command: decide reads a snapshot and gives the draft to store,
// or an answer without one. It is run anew when the draft's expectations have
// become stale.
func (b *Book) commit(ctx context.Context, shop string, decide func(view) (*history.Draft, error)) (history.Number, error) {
	for range tries {
		draft, err := b.decide(ctx, shop, decide)
		if err != nil || draft == nil {
			return 0, err
		}
		draft.Shop = shop
		n, err := b.store.Commit(ctx, *draft)
		if _, ok := errors.AsType[*history.StaleError](err); ok {
			continue
		}
		return n, err
	}
	return 0, refuse(pb.ErrorReason_ERROR_REASON_CONTENDED, "", "many changed this record at once; send it again")
}

func (b *Book) decide(ctx context.Context, shop string, decide func(view) (*history.Draft, error)) (*history.Draft, error) {
	var draft *history.Draft
	err := b.read(ctx, shop, func(v view) (err error) {
		draft, err = decide(v)
		return err
	})
	return draft, err
}

// read runs f on one snapshot of the shop.
func (b *Book) read(ctx context.Context, shop string, f func(view) error) error {
	s, err := b.store.Snapshot(ctx, shop)
	if err != nil {
		return err
	}
	defer s.Close()
	return f(view{ctx, s})
}

// view reads messages from a snapshot.
type view struct {
	ctx context.Context
	s   history.Snapshot
}

// get reads a row into m; found is false when there is none.
func (v view) get(k history.Key, m proto.Message) (version history.Number, found bool, err error) {
	row, err := v.s.Get(v.ctx, k)
	if err != nil || row.Version == history.Absent {
		return history.Absent, false, err
	}
	return row.Version, true, decode(row.Value, m)
}

// format is the first byte of every value: the message follows as protobuf.
const format = 1

func encode(m proto.Message) ([]byte, error) {
	return proto.MarshalOptions{Deterministic: true}.MarshalAppend([]byte{format}, m)
}

func decode(value []byte, m proto.Message) error {
	if len(value) == 0 || value[0] != format {
		return errors.New("a row is of a format that this program does not know")
	}
	return proto.Unmarshal(value[1:], m)
}

// drafting builds a draft and remembers the first error of encoding.
type drafting struct {
	history.Draft
	err error
}

func (d *drafting) expect(k history.Key, version history.Number) {
	d.Expect = append(d.Expect, history.Expectation{Key: k, Version: version})
}

func (d *drafting) put(k history.Key, m proto.Message) {
	value, err := encode(m)
	if err != nil && d.err == nil {
		d.err = err
	}
	d.Put = append(d.Put, history.Put{Key: k, Value: value})
}

func (d *drafting) feed(c *pb.Change) {
	value, err := encode(c)
	if err != nil && d.err == nil {
		d.err = err
	}
	d.Feed = value
}

func (d *drafting) done() (*history.Draft, error) { return &d.Draft, d.err }

// lock makes the commands on one vehicle queue for each other: they would only
// find their drafts stale. It ends with the context.
func (b *Book) lock(ctx context.Context, shop, vehicle string) (unlock func(), err error) {
	return b.locks.lock(ctx, shop+"\x00"+vehicle)
}

// keyed is a lock for every key in use.
type keyed struct {
	mu   sync.Mutex
	held map[string]*holding
}

type holding struct {
	token chan struct{} // in it while nobody holds the lock
	users int           // who hold it or wait for it
}

// lock takes the lock of a key and gives the function that lets it go.
func (k *keyed) lock(ctx context.Context, name string) (unlock func(), err error) {
	k.mu.Lock()
	if k.held == nil {
		k.held = map[string]*holding{}
	}
	h := k.held[name]
	if h == nil {
		h = &holding{token: make(chan struct{}, 1)}
		h.token <- struct{}{}
		k.held[name] = h
	}
	h.users++
	k.mu.Unlock()

	leave := func() {
		k.mu.Lock()
		defer k.mu.Unlock()
		if h.users--; h.users == 0 {
			delete(k.held, name)
		}
	}
	select {
	case <-h.token:
		return func() { h.token <- struct{}{}; leave() }, nil
	case <-ctx.Done():
		leave()
		return nil, ctx.Err()
	}
}
