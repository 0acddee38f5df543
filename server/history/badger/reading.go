package badger

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	engine "github.com/dgraph-io/badger/v4"
)

// LeftOpenError says that a store was not closed in order, by a kill or a power
// cut. Opened to be written it puts itself in order and loses nothing; to be read
// alone it cannot be opened before.
type LeftOpenError struct {
	Dir string
}

// Error names the directory.
func (e *LeftOpenError) Error() string {
	return fmt.Sprintf("the store in %s was not closed in order and cannot be opened for reading alone until it has been opened for writing and closed", e.Dir)
}

// errOpenedToRead is why a store that was opened to be read takes no drafts.
var errOpenedToRead = errors.New("it was opened for reading alone")

// closedInOrder refuses a directory without a store, and one with logs that the
// engine puts in order when it next opens to write: of memory that was not
// written out, which it removes when it is closed, or of length zero.
//
//nolint:gosec // where a store lies is its operator's to say
func closedInOrder(dir string) error {
	if _, err := os.Stat(filepath.Join(dir, engine.ManifestFilename)); err != nil {
		return fmt.Errorf("there is no store in %s: %w", dir, err)
	}
	logs, err := fs.Glob(os.DirFS(dir), "*.mem")
	if err != nil {
		return err
	}
	names, err := emptyLogs(dir)
	if err == nil && len(logs)+len(names) > 0 {
		err = &LeftOpenError{dir}
	}
	return err
}
