// Package book says what a shop's record means: how visits, vehicles and tires
// are kept in the history's rows, which row guards which promise, and what the
// feed tells. It judges nothing itself; the judgement is handed to it. What it
// keeps and gives has no words: these are told at the edge, for each reader.
package book

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/unit"
	"gaugebook.dev/server/check"
	"gaugebook.dev/server/history"
)

// Judge judges one visit of a shop, by the law and by the shop's own rules, without
// words: it is what package judge's For gives.
type Judge func(shop string, visit *pb.AssessVisitRequest) *pb.Assessment

// Book keeps the records of all shops in one store.
type Book struct {
	store history.Store
	judge Judge
	now   func() time.Time
	locks keyed

	importing bool                   // what is recorded is history of another record
	stood     *timestamppb.Timestamp // when it stood there; nil: what it tells itself

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

// Ending tells whether nobody is to wait any more.
func (b *Book) Ending() bool {
	select {
	case <-b.ending:
		return true
	default:
		return false
	}
}

// Writable tells whether anything is recorded at this time, see history.Store.
func (b *Book) Writable() error { return b.store.Writable() }

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

// Mismatch is a visit that does not fit its vehicle.
type Mismatch struct{ Problems []check.Problem }

// Error names the first problem.
func (u *Mismatch) Error() string { return u.Problems[0].String() }

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

// tries is how often a command reads and decides again when somebody else was
// faster. Commands on one vehicle queue for its lock, so it takes other servers
// or two vehicles of one command to need more than the first.
const tries = 5

// commit runs one command: decide reads a snapshot and gives the draft to store,
// or an answer without one. It is run again when the draft's expectations have
// become stale.
func (b *Book) commit(ctx context.Context, shop string, decide func(view) (*history.Draft, error)) (history.Number, error) {
	for range tries {
		draft, err := b.decide(ctx, shop, decide)
		if err != nil || draft == nil {
			return 0, err
		}
		draft.Shop = shop
		if b.importing {
			if draft.Feed, err = quiet(draft.Feed); err != nil {
				return 0, err
			}
		}
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
	return f(view{ctx, s, map[string]string{}})
}

// DayOver is the day that it is everywhere on Earth, or that it was last: what was said
// for an earlier one is past wherever the shop is.
func (b *Book) DayOver() unit.Date {
	const west = 12 * time.Hour // of Greenwich, where a day ends last
	year, month, day := b.now().UTC().Add(-west).Date()
	return unit.Date{Year: year, Month: int(month), Day: day}
}
