package badger

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	engine "github.com/dgraph-io/badger/v4"
)

// FormatError says that a store is of a format that this program does not know.
type FormatError struct {
	Dir   string
	Found uint16
	Known uint16 // the newest format that is known

	older bool // it could be brought up, but may not be changed
}

// Error says which program would know it.
func (e *FormatError) Error() string {
	if e.Found > e.Known {
		return fmt.Sprintf("the store in %s is of format %d, and this program knows formats up to %d: it was written by a newer program, which has to open it",
			e.Dir, e.Found, e.Known)
	}
	if e.older {
		return fmt.Sprintf("the store in %s is of format %d, and cannot be read alone until it has been opened for writing by a program of format %d",
			e.Dir, e.Found, e.Known)
	}
	return fmt.Sprintf("the store in %s is of format %d, which this program no longer knows", e.Dir, e.Found)
}

// A migration makes a store of one format one of the next. It is called with the engine
// open, and again from the beginning where it was interrupted: it must not mind what it
// has done already.
type migration func(db *engine.DB) error

// formats are what a program knows: the format that it writes, and how one that is older
// becomes the next.
type formats struct {
	current uint16
	next    map[uint16]migration // by the format that they begin with
}

// known are the formats of this program. Format 1 is the first.
var known = formats{current: Format, next: map[uint16]migration{}}

// readFormat reads the format of a directory's store; ok is false where it holds none, or
// one whose list of tables does not tell.
//
//nolint:gosec // where a store lies is its operator's to say
func readFormat(dir string) (format uint16, ok bool, err error) {
	file, err := os.Open(filepath.Join(dir, engine.ManifestFilename))
	if os.IsNotExist(err) {
		return 0, false, nil
	}
	if err != nil {
		return 0, false, err
	}
	head := make([]byte, manifestHead)
	_, err = io.ReadFull(file, head)
	_ = file.Close() // only read
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		return 0, false, err
	}
	m, wrong := parseManifest(head)
	if wrong != nil {
		return 0, false, nil //nolint:nilerr // inspect says what is wrong with it
	}
	if m.format == 0 || m.engine != engineVersion {
		return 0, false, &ForeignError{dir, fmt.Sprintf("%s is of another use of the same engine", engine.ManifestFilename)}
	}
	return m.format, true, nil
}

// check refuses a store of a format that cannot be made the current one.
func (f formats) check(dir string) error {
	format, ok, err := readFormat(dir)
	if err != nil || !ok {
		return err
	}
	for ; format < f.current; format++ {
		if f.next[format] == nil {
			return &FormatError{Dir: dir, Found: format, Known: f.current}
		}
	}
	if format > f.current {
		return &FormatError{Dir: dir, Found: format, Known: f.current}
	}
	return nil
}

// bringUp makes a store of an older format one of the current, one format after the
// other. Each holds once the list of tables says so.
func (f formats) bringUp(dir string, asked Options) error {
	format, ok, err := readFormat(dir)
	if err != nil || !ok {
		return err
	}
	if asked.ReadOnly && format < f.current {
		return &FormatError{Dir: dir, Found: format, Known: f.current, older: true}
	}
	for ; format < f.current; format++ {
		opts := asked.engineOptions(dir).WithLogger(nil).WithExternalMagic(format)
		db, err := engine.OpenManaged(opts)
		if err != nil {
			return fmt.Errorf("the store in %s cannot be opened: %w", dir, err)
		}
		if err := errors.Join(f.next[format](db), db.Close()); err != nil {
			return fmt.Errorf("the store in %s could not be made one of format %d and stays of format %d: %w", dir, format+1, format, err)
		}
		m, err := readManifest(dir)
		if err != nil {
			return err
		}
		m.format = format + 1
		if err := m.write(dir); err != nil {
			return err
		}
	}
	return nil
}
