package badger

import (
	"errors"
	"fmt"
	"log/slog"
	"runtime/debug"
	"sync"
	"time"

	"gaugebook.dev/server/history"
)

// sayEvery is the least time between two lines of the log about the same.
const sayEvery = time.Minute

// Writable tells whether drafts are taken, see history.Store.
func (s *Store) Writable() error {
	s.gate.RLock()
	defer s.gate.RUnlock()
	if s.closed {
		return history.ErrClosed
	}
	return s.refusal()
}

// refusal is why no draft at all can be taken at this time, or nil.
func (s *Store) refusal() error {
	if f := s.failure.Load(); f != nil {
		return &history.ReadOnlyError{Cause: f.cause}
	}
	err := s.obstacle()
	if err == nil {
		err = s.noRoom(s.minFree)
	}
	s.faults.note(err)
	return err
}

// obstacle is why the engine could not make its next file, but for want of room.
func (s *Store) obstacle() error {
	err := inPlace(s.dir, s.names.dir)
	if err == nil {
		err = s.engineLog.trouble()
	}
	if err != nil {
		return &history.UnwritableError{Cause: err}
	}
	return nil
}

// noRoom is that less is free than is needed.
func (s *Store) noRoom(needed uint64) error {
	free, err := s.freeSpace(s.dir)
	if err != nil {
		return &history.UnwritableError{Cause: fmt.Errorf("how much room is left on the disk cannot be told: %w", err)}
	}
	if free < needed {
		return &history.DiskNearlyFullError{Free: free, Needed: needed}
	}
	return nil
}

// fail makes the store take no further drafts. Readers stay at the last moment
// that is safe.
func (s *Store) fail(cause error) {
	s.failure.Store(&failure{cause})
	s.log.Error("the store is read-only until it is reopened: a write failed", "error", cause)
}

// fellOver is what a reader is told of whom the engine panicked.
func (s *Store) fellOver(panicked any) error {
	s.faults.fell.Do(func() {
		s.log.Error("the store's engine panicked", "panic", panicked, "stack", string(debug.Stack()))
	})
	err := fmt.Errorf("the store cannot be read: its engine panicked: %v", panicked)
	if s.failure.Load() != nil {
		return &history.ReadOnlyError{Cause: err} // it is the write that failed which the engine does not get over
	}
	return err
}

// faults tells the log when drafts are no longer taken and when they are again: a
// line for each, not one for every draft, and at most one a minute where it goes
// to and fro.
type faults struct {
	log   *slog.Logger
	every time.Duration // 0: sayEvery
	fell  sync.Once

	mu   sync.Mutex
	last string // what was said
	at   time.Time
}

func (f *faults) note(err error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	now := ""
	if err != nil {
		now = fmt.Sprintf("%T", err)
	}
	every := f.every
	if every == 0 {
		every = sayEvery
	}
	if now == f.last || !f.at.IsZero() && time.Since(f.at) < every {
		return
	}
	f.last, f.at = now, time.Now()
	if err == nil {
		f.log.Info("the store takes drafts again")
		return
	}
	f.log.Error("the store takes no drafts until this is mended; reading goes on", "error", err)
}

var errNotThere = errors.New("another folder is in its place")
