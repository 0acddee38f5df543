package badger

import (
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	engine "github.com/dgraph-io/badger/v4"
	"github.com/dgraph-io/badger/v4/options"
	"github.com/dgraph-io/badger/v4/table"
	"github.com/dgraph-io/badger/v4/y"
)

// acceptMark is a file of a store whose loss is being accepted.
const acceptMark = "LOSS-ACCEPTED"

// CodeError says that a code is not the one of a store's damage.
type CodeError struct {
	Given  string
	Damage *DamageError // nil where the store is not damaged
}

// Error says what the code would have to be of.
func (e *CodeError) Error() string {
	if e.Damage == nil {
		return "nothing is damaged, so there is no loss to accept"
	}
	return fmt.Sprintf("the code %q is not of this damage: %v", e.Given, e.Damage)
}

// Unwrap is the damage.
func (e *CodeError) Unwrap() error {
	if e.Damage == nil {
		return nil
	}
	return e.Damage
}

// AcceptLoss makes a damaged store one that can be written to again, without what it has
// lost, for whoever knows the code of its damage. The numbering gets a new epoch. Files
// that are cut, mended or taken out are kept as they were in a directory beside the
// store, which is answered.
//
// Errors: *CodeError; *InUseError; *FormatError; those of the file system.
func AcceptLoss(dir, code string, opts Options) (kept string, err error) {
	opts.ReadOnly, opts.NewEpoch, opts.accepting = false, true, true
	kept = strings.TrimRight(dir, string(filepath.Separator)) + ".lost-" + code
	err = withLock(dir, true, func(dir string) error { return accept(dir, code, kept, opts) })
	if err != nil {
		return "", err
	}
	store, err := Open(dir, opts)
	if err != nil {
		return "", err
	}
	// Closed in order it is in tables alone, which need not follow one another.
	if err := errors.Join(store.settle(), store.Close(), os.Remove(filepath.Join(dir, acceptMark)), syncPath(dir)); err != nil {
		return "", err
	}
	return kept, nil
}

func accept(dir, code, kept string, opts Options) error {
	if err := opts.formats().check(dir); err != nil {
		return err
	}
	in, err := inspect(dir)
	if err != nil {
		return err
	}
	defer func() { _ = in.close() }() // only read
	state, _ := in.acknowledged(opts.StateDir)
	in.compare(state)
	refused := in.refusal()
	if damage := (*DamageError)(nil); errors.As(refused, &damage) {
		if damage.Code != code {
			return &CodeError{code, damage}
		}
		return in.mend(kept)
	}
	if refused != nil {
		return refused
	}
	return &CodeError{Given: code}
}

// mend keeps the files that it will change aside, and makes the others fit one another.
func (in *inspection) mend(kept string) error {
	if err := makeDir(kept); err != nil {
		return err
	}
	// Whatever happens meanwhile, the numbering is not that of before.
	if err := replaceFile(filepath.Join(in.dir, acceptMark), nil); err != nil {
		return err
	}
	for _, step := range []func(kept string) error{in.mendLogs, in.mendTables, in.mendManifest, in.mendRegistry, in.mendMark} {
		if err := step(kept); err != nil {
			return err
		}
	}
	return syncPath(in.dir)
}

// mendLogs cuts logs where transactions no longer follow one another.
func (in *inspection) mendLogs(kept string) error {
	for _, l := range in.logs {
		end := in.keep(l)
		if end == l.end() && !l.rest && l.head {
			continue
		}
		name := filepath.Join(in.dir, l.name)
		if err := keepAside(name, kept); err != nil {
			return err
		}
		head := append(make([]byte, 8), l.data[min(8, end):end]...)
		if err := replaceFile(name, head[:max(end, 8)]); err != nil {
			return err
		}
	}
	for _, d := range in.damages {
		if strings.HasSuffix(d.File, valuesSuffix) {
			if err := moveAside(filepath.Join(in.dir, d.File), kept); err != nil {
				return err
			}
		}
	}
	return nil
}

// mendTables writes damaged tables anew with the rows that can be read, and takes out those
// of which none can.
func (in *inspection) mendTables(kept string) error {
	for id, c := range in.tables {
		if c.sound() {
			continue
		}
		name := filepath.Join(in.dir, table.IDToFilename(id))
		if c.table == nil || c.rows == 0 {
			delete(in.manifest.tables, id)
			if err := moveAside(name, kept); err != nil && !os.IsNotExist(err) {
				return err
			}
			continue
		}
		if err := keepAside(name, kept); err != nil {
			return err
		}
		if err := c.rewrite(name); err != nil {
			return err
		}
	}
	return nil
}

// rewrite puts a table of the rows that can be read in the place of another.
func (c *tableCheck) rewrite(name string) error {
	opts := engineOptions("")
	builder := table.NewTableBuilder(table.Options{
		TableSize:            uint64(opts.BaseTableSize),
		BlockSize:            opts.BlockSize,
		Compression:          c.table.compression,
		ZSTDCompressionLevel: opts.ZSTDCompressionLevel,
	})
	defer builder.Close()
	if err := c.table.each(func(key []byte, value y.ValueStruct) error {
		builder.Add(key, value, 0)
		return nil
	}); err != nil {
		return err
	}
	return replaceFile(name, builder.Finish())
}

// mendManifest writes the list of tables anew: without those that are gone, and with those
// that hold what no other does.
func (in *inspection) mendManifest(kept string) error {
	if slices.Equal(in.manifest.ids(), slices.Sorted(maps.Keys(in.tables))) && in.manifest.broken == "" && len(in.recovered) == 0 {
		return nil
	}
	if err := keepAside(filepath.Join(in.dir, engine.ManifestFilename), kept); err != nil && !os.IsNotExist(err) {
		return err
	}
	for _, id := range in.recovered {
		// On the first level tables may overlap.
		in.manifest.tables[id] = tableEntry{0, options.ZSTD}
		c := in.orphans[id]
		if c.sound() {
			continue
		}
		name := filepath.Join(in.dir, table.IDToFilename(id))
		if err := errors.Join(keepAside(name, kept), c.rewrite(name)); err != nil {
			return err
		}
	}
	return in.manifest.write(in.dir)
}

// mendRegistry lets the engine make its registry anew.
func (in *inspection) mendRegistry(kept string) error {
	if !slices.ContainsFunc(in.damages, func(d Damage) bool { return d.File == registryName }) {
		return nil
	}
	return moveAside(filepath.Join(in.dir, registryName), kept)
}

// keepAside copies a file into a directory, for good.
//
//nolint:gosec // where a store lies is its operator's to say
func keepAside(name, dir string) error {
	from, err := os.Open(name)
	if err != nil {
		return err
	}
	defer func() { _ = from.Close() }() // only read
	to, err := os.OpenFile(filepath.Join(dir, filepath.Base(name)), os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	// What cannot be read of a bad disk cannot be kept either.
	_, _ = io.Copy(to, from)
	return errors.Join(to.Sync(), to.Close(), syncPath(dir))
}

func moveAside(name, dir string) error {
	if err := keepAside(name, dir); err != nil {
		return err
	}
	return os.Remove(name)
}

// accepting tells whether a loss is being accepted in a directory.
func (in *inspection) accepting() bool { return slices.Contains(in.files, acceptMark) }
