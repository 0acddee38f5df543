package badger

import (
	"errors"
	"fmt"
	"time"

	"gaugebook.dev/server/history"
)

// closeWithin is how long a store may take to put itself in order at its end. The
// engine would try for ever to write what it has in memory.
const closeWithin = 8 * time.Second

// NotInOrderError says that a store was left as a kill leaves it, since it could not
// be put in order. What was answered is kept; the store puts itself in order when it
// is next opened.
type NotInOrderError struct {
	Dir   string
	Cause error
}

// Error names the directory and gives the cause.
func (e *NotInOrderError) Error() string {
	return fmt.Sprintf("the store in %s was left as a kill leaves it, with all that was answered, and puts itself in order when it is next opened: %v", e.Dir, e.Cause)
}

// Unwrap is the cause.
func (e *NotInOrderError) Unwrap() error { return e.Cause }

var errTooLong = fmt.Errorf("it took longer than %v to put it in order", closeWithin)

// Close ends the store, see history.Store. It answers what the engine could not
// put in order at the end, and *NotInOrderError where that was not even tried or took
// too long; drafts that were answered are safe all the same.
func (s *Store) Close() (err error) {
	s.ended.Do(func() { err = s.close() })
	return err
}

func (s *Store) close() error {
	close(s.closing) // who waits for the writer with the gate in hand lets go of it
	left := make(chan error, 1)
	go func() {
		s.gate.Lock()
		s.closed = true
		s.gate.Unlock()
		close(s.drafts)
		<-s.written
		<-s.cleaned
		left <- s.leave()
	}()
	select {
	case err := <-left:
		return err
	case <-time.After(s.closeWithin):
		return &NotInOrderError{s.dir, errTooLong}
	}
}

// leave has the engine write what it has in memory, where it can.
func (s *Store) leave() error {
	if !s.readOnly {
		if err := s.unfit(); err != nil {
			return errors.Join(&NotInOrderError{s.dir, err}, s.names.Close(), s.state.close())
		}
	}
	err := s.closeEngine()
	if !s.readOnly {
		err = errors.Join(err, s.reserve.give())
	}
	return err
}

// unfit is why the engine would not come to its end, or nil. It writes a table of what
// is in its log, and may put tables together, which takes memory that is mapped to files:
// where there is too little room for them the process would fall over. The log has all.
func (s *Store) unfit() error {
	if err := inPlace(s.dir, s.names.dir); err != nil {
		return err
	}
	return s.short(s.minFree / 2)
}

// makeReady makes a directory ready for the engine, which would fall over there: by
// a log without length, or when it wrote out what it finds in logs to a full disk. Where
// there is no other room it gets what is held in reserve.
func (s *Store) makeReady(dir string) error {
	if err := removeEmptyLogs(dir); err != nil {
		return err
	}
	if s.short(s.reserve.size) == nil {
		return nil
	}
	if err := errors.Join(s.reserve.give(), s.short(s.reserve.size/4*3)); err != nil {
		return fmt.Errorf("the store in %s cannot be opened: %w", dir, err)
	}
	return nil
}

// short is noRoom where that can be told.
func (s *Store) short(needed uint64) error {
	err := s.noRoom(needed)
	if full := (*history.DiskNearlyFullError)(nil); errors.As(err, &full) {
		return err
	}
	return nil
}

func (s *Store) closeEngine() error {
	s.watching.Wait()
	return errors.Join(s.db.Close(), s.names.Close(), s.state.close())
}
