package badger

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/dgraph-io/badger/v4/table"
)

// How the tables of an open store are checked: a disk forgets, and a store may be open for
// months.
const (
	checkEvery = 20 * time.Hour // so that every table is checked once a day
	checkPace  = 8 << 20        // bytes a second
)

// damagedMark is a file of a store of which a damage was found while it was open. The engine
// may put a damaged table together with others, and then no file tells of it any more.
const damagedMark = "DAMAGED"

// watch checks all tables from time to time, until the store closes or one is damaged. Then
// no further drafts are taken.
func (s *Store) watch(every time.Duration, pace int64) {
	timer := time.NewTimer(every)
	defer timer.Stop()
	for {
		select {
		case <-s.closing:
			return
		case <-timer.C:
		}
		err := s.checkTables(pace)
		if damage := (*DamageError)(nil); errors.As(err, &damage) {
			s.stopFor(damage)
			return
		}
		timer.Reset(every)
	}
}

// checkTables checks every table that the engine has. Those that come meanwhile are checked
// the next time.
func (s *Store) checkTables(pace int64) error {
	tables, err := s.openTables()
	if err != nil {
		return err
	}
	for _, id := range tables {
		if c := s.checkTable(id, pace); c == nil || c.sound() {
			continue
		}
		// Once more: the engine may have removed it meanwhile, or the disk have failed for a
		// moment.
		c := s.checkTable(id, pace)
		still, err := s.openTables()
		if err != nil {
			return err
		}
		if c == nil || c.sound() || !slices.Contains(still, id) {
			continue
		}
		in := &inspection{dir: s.dir}
		in.tellTable(table.IDToFilename(id), c)
		return &DamageError{Dir: s.dir, Damages: in.damages}
	}
	return nil
}

// openTables are the tables that the engine has.
func (s *Store) openTables() (ids []uint64, err error) {
	err = s.use(context.Background(), func() error {
		for _, t := range s.db.Tables() {
			ids = append(ids, t.ID)
		}
		return nil
	})
	return ids, err
}

// checkTable checks a table at a limited pace. It gives nil where the store closes meanwhile.
func (s *Store) checkTable(id uint64, pace int64) *tableCheck {
	c := &tableCheck{}
	closing := false
	c.check(filepath.Join(s.dir, table.IDToFilename(id)), s.db.Opts().Compression, func(bytes int64) error {
		select {
		case <-s.closing:
			closing = true
			return errors.New("the store is closing")
		case <-time.After(time.Duration(bytes) * time.Second / time.Duration(pace)):
			return nil
		}
	})
	if c.file != nil {
		_ = c.file.Close() // only read
	}
	if closing {
		return nil
	}
	return c
}

// stopFor takes no further drafts because of a damage, and leaves a mark of it.
func (s *Store) stopFor(damage *DamageError) {
	if !s.failure.CompareAndSwap(nil, &failure{damage}) {
		return
	}
	s.log.Error("the store is read-only: it was found damaged while it was open", "error", damage)
	var text strings.Builder
	for _, d := range damage.Damages {
		text.WriteString(d.String() + "\n")
	}
	if err := replaceFile(filepath.Join(s.dir, damagedMark), []byte(text.String())); err != nil {
		s.log.Error("that could not be noted", "error", err)
	}
}

// readMark tells of a damage that was found when the store was open.
func (in *inspection) readMark() error {
	text, err := os.ReadFile(filepath.Join(in.dir, damagedMark))
	if os.IsNotExist(err) {
		return nil
	}
	if err != nil {
		return err
	}
	for line := range strings.Lines(string(text)) {
		in.found(damagedMark, "tells what was found while the store was open", strings.TrimSpace(line))
	}
	return nil
}

// mendMark takes the mark away, once its damage is accepted.
func (in *inspection) mendMark(kept string) error {
	if !slices.Contains(in.files, damagedMark) {
		return nil
	}
	return moveAside(filepath.Join(in.dir, damagedMark), kept)
}
