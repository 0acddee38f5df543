package badger

import (
	"os"
	"time"
)

// names sees to it that files the engine makes keep their names through a power
// cut. A synced file may yet be lost with its name, which stands in the
// directory and is synced by itself (fsync(2)); the engine does not do that for
// a new log.
type names struct {
	dir     *os.File
	seen    time.Time            // the directory's time of change when it was last synced
	syncDir func(*os.File) error // in tests: counted
}

// tick is more than the step in which file systems tell time.
const tick = 20 * time.Millisecond

func openNames(path string) (*names, error) {
	dir, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	return &names{dir: dir, syncDir: syncDir}, nil
}

// sync syncs the directory if a name may have come or gone since it was last
// synced. Within a tick of a change another one would not show.
func (n *names) sync() error {
	info, err := n.dir.Stat()
	if err != nil {
		return err
	}
	changed := info.ModTime()
	if changed.Equal(n.seen) && time.Since(changed) > tick {
		return nil
	}
	n.seen = changed
	return n.syncDir(n.dir)
}

// Close lets go of the directory.
func (n *names) Close() error { return n.dir.Close() }
