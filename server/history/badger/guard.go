package badger

import (
	"bytes"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"slices"

	engine "github.com/dgraph-io/badger/v4"

	"gaugebook.dev/server/history"
)

// ForeignError says that a directory holds something that is no store.
type ForeignError struct {
	Dir  string
	File string // one that is none of a store's
}

// Error names the directory and a file in it.
func (e *ForeignError) Error() string {
	return fmt.Sprintf("the directory %s holds no store, but something else: %s", e.Dir, e.File)
}

// guard looks at a directory before the engine opens it, and refuses one that is
// damaged, of a format that is not known, or no store's. What a kill or a power cut
// leaves it puts in order, unless the store is only to be read.
func guard(dir string, asked Options, log *slog.Logger) error {
	if err := asked.formats().check(dir); err != nil {
		return err
	}
	in, err := inspect(dir)
	if errors.Is(err, errNoStore) {
		return guardEmpty(dir, asked)
	}
	if err != nil {
		return err
	}
	defer func() { _ = in.close() }() // only read
	known, said := in.acknowledged(asked.StateDir)
	in.compare(known)
	if asked.accepting {
		in.damages = slices.DeleteFunc(in.damages, func(d Damage) bool { return d.File == acceptMark })
	}
	if err := in.refusal(); err != nil {
		return err
	}
	if asked.ReadOnly {
		return in.readable()
	}
	if said != nil {
		log.Warn("what was acknowledged last is not known: a loss at the end of the store's log could not be told from a write that was cut short",
			"state", stateName(asked.StateDir, in.epoch), "error", said)
	}
	return in.tidy(log)
}

// acknowledged reads what was acknowledged in this store, nil where nothing is known, and
// why it cannot be told where it should be.
func (in *inspection) acknowledged(stateDir string) (known *acknowledged, why error) {
	if stateDir == "" || in.accepting() {
		return nil, nil //nolint:nilnil // nothing is known, and nothing is wrong with that
	}
	if in.epoch == (history.Epoch{}) {
		if known = stateOfPath(stateDir, in.dir); known == nil && in.reached > 0 {
			why = errors.New("the epoch cannot be read")
		}
		return known, why
	}
	return readState(stateDir, in.epoch)
}

// refusal is the damage that was found, or nil.
func (in *inspection) refusal() error {
	if len(in.damages) == 0 {
		return nil
	}
	code, err := damageCode(in.dir, in.damages)
	if err != nil {
		return err
	}
	return &DamageError{in.dir, in.damages, code}
}

// guardEmpty lets a store be made in a directory that is empty but for what the engine
// leaves when it is killed before it has made anything, and where none was before.
func guardEmpty(dir string, asked Options) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if !slices.Contains([]string{"LOCK", "MANIFEST-REWRITE", reserveName}, e.Name()) {
			return &ForeignError{dir, e.Name()}
		}
	}
	if asked.StateDir == "" || asked.New {
		return nil
	}
	known := stateOfPath(asked.StateDir, dir)
	if known == nil {
		return nil
	}
	in := &inspection{dir: dir}
	in.found("", "the whole store is gone", known.missing(in.last))
	return in.refusal()
}

// readable refuses a store to be read that a kill left: nothing may change then.
func (in *inspection) readable() error {
	if in.manifest.broken != "" {
		return &LeftOpenError{in.dir}
	}
	return nil
}

// tidy puts in order what a kill or a power cut leaves and no write is missing by: the
// end of a log or of the list of tables that was on its way, and statistics that the
// engine makes again.
func (in *inspection) tidy(log *slog.Logger) error {
	for _, l := range in.logs {
		if !l.rest {
			continue
		}
		log.Debug("a write that was cut short, and that nobody was answered, is removed from the end of a log", "log", l.name)
		if err := truncate(filepath.Join(in.dir, l.name), int64(in.keep(l))); err != nil {
			return err
		}
	}
	if why := in.manifest.broken; why != "" {
		log.Debug("the end of the list of tables was cut short, and nothing is missing by that", "problem", why)
		if err := truncate(filepath.Join(in.dir, engine.ManifestFilename), in.manifest.end); err != nil {
			return err
		}
	}
	return in.dropStatistics()
}

// dropStatistics removes the engine's statistics of its value log, which stay zeros, where
// they are not: it would fall over them.
//
//nolint:gosec // where a store lies is its operator's to say
func (in *inspection) dropStatistics() error {
	name := filepath.Join(in.dir, discardName)
	data, err := os.ReadFile(name)
	if os.IsNotExist(err) {
		return nil
	}
	const size = 1 << 20
	if err == nil && len(data) == size && len(bytes.TrimLeft(data, "\x00")) == 0 {
		return nil
	}
	return os.Remove(name)
}

// truncate cuts a file for good.
//
//nolint:gosec // where a store lies is its operator's to say
func truncate(name string, size int64) error {
	file, err := os.OpenFile(name, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	return errors.Join(file.Truncate(size), file.Sync(), file.Close())
}

// Exists tells whether a directory holds a store, be it damaged.
func Exists(dir string) (bool, error) {
	entries, err := os.ReadDir(dir)
	if os.IsNotExist(err) {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	for _, e := range entries {
		switch {
		case e.Name() == engine.ManifestFilename,
			filepath.Ext(e.Name()) == tableSuffix,
			filepath.Ext(e.Name()) == logSuffix:
			return true, nil
		}
	}
	return false, nil
}
