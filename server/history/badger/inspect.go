package badger

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"

	engine "github.com/dgraph-io/badger/v4"
	"github.com/dgraph-io/badger/v4/options"
	"github.com/dgraph-io/badger/v4/table"
	"github.com/dgraph-io/badger/v4/y"

	"gaugebook.dev/server/history"
)

// inspection is what a pass over all files of a store has found, before the engine
// opens them: what is wrong there the engine tells by ending the process, or not at all.
// It changes nothing.
type inspection struct {
	dir      string
	files    []string
	manifest *manifest
	tables   map[uint64]*tableCheck // of the list
	orphans  map[uint64]*tableCheck // that the list lacks
	logs     []*logFile             // in their order

	// reached is the engine's timestamp up to which every transaction is there; beyond,
	// the highest one that was ever begun, as far as the logs tell.
	reached, beyond uint64

	// recovered are tables that the list lacks and that hold what nothing else does.
	recovered []uint64

	epoch   history.Epoch // zero where it cannot be read
	damages []Damage
}

// tableCheck is what was found of one table.
type tableCheck struct {
	file       *os.File
	table      *tableFile // nil where it cannot be read at all
	problem    error
	bad, rows  int // blocks that cannot be read; rows of the others
	maxVersion uint64
}

func (c *tableCheck) sound() bool { return c.problem == nil && c.bad == 0 }

// errNoStore says that a directory holds no store.
var errNoStore = errors.New("there is no store")

// inspect looks at all files of a directory that nobody writes to. It answers errNoStore
// for one that holds nothing of the engine's, and other errors for what it could not look
// at. The caller closes the inspection.
func inspect(dir string) (*inspection, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	in := &inspection{dir: dir, tables: map[uint64]*tableCheck{}, orphans: map[uint64]*tableCheck{}}
	for _, e := range entries {
		in.files = append(in.files, e.Name())
	}
	if err := in.readManifest(); err != nil {
		return nil, err
	}
	if in.accepting() {
		in.found(acceptMark, "tells that the acceptance of a loss did not come to its end", "nothing beside what was said then")
	}
	in.checkTables()
	if err := errors.Join(in.readMark(), in.readLogs()); err != nil {
		return nil, errors.Join(err, in.close())
	}
	in.follow()
	if err := in.findLost(); err != nil {
		return nil, errors.Join(err, in.close())
	}
	in.checkRegistry()
	in.readEpoch()
	return in, nil
}

func (in *inspection) close() error {
	var err error
	for _, checks := range []map[uint64]*tableCheck{in.tables, in.orphans} {
		for _, c := range checks {
			if c.file != nil {
				err = errors.Join(err, c.file.Close())
			}
		}
	}
	return err
}

func (in *inspection) found(file, problem, missing string) {
	in.damages = append(in.damages, Damage{file, problem, missing})
}

// named lists the numbered files with a suffix.
func (in *inspection) named(suffix string) map[uint64]string {
	names := map[uint64]string{}
	for _, name := range in.files {
		number, is := strings.CutSuffix(name, suffix)
		if id, err := strconv.ParseUint(number, 10, 63); is && err == nil {
			names[id] = name
		}
	}
	return names
}

// readManifest reads the list of tables. Where there is none, files of tables and logs tell
// that there was one.
func (in *inspection) readManifest() error {
	m, err := readManifest(in.dir)
	switch {
	case err == nil:
		in.manifest = m
		return nil
	case !errors.Is(err, os.ErrNotExist) && !errors.Is(err, errNoManifest):
		return err
	case len(in.named(tableSuffix))+len(in.named(logSuffix)) == 0:
		return errNoStore
	}
	in.manifest = &manifest{format: Format, engine: engineVersion, tables: map[uint64]tableEntry{}, broken: "all of it"}
	problem := "is no longer a list of tables"
	if errors.Is(err, os.ErrNotExist) {
		problem = "is gone"
	}
	in.found(engine.ManifestFilename, problem, "which tables count can only be told from what they hold")
	return nil
}

const (
	tableSuffix  = ".sst"
	logSuffix    = ".mem"
	valuesSuffix = ".vlog"
	registryName = "KEYREGISTRY"
	discardName  = "DISCARD"
)

// checkTables checks every table whole, on all cores.
func (in *inspection) checkTables() {
	files := in.named(tableSuffix)
	for _, id := range in.manifest.ids() {
		in.tables[id] = &tableCheck{}
	}
	for id := range files {
		if in.tables[id] == nil {
			in.orphans[id] = &tableCheck{}
		}
	}
	var group sync.WaitGroup
	slots := make(chan struct{}, runtime.GOMAXPROCS(0))
	for _, checks := range []map[uint64]*tableCheck{in.tables, in.orphans} {
		for id, c := range checks {
			entry, listed := in.manifest.tables[id]
			if !listed {
				entry.compression = options.ZSTD // as every table of this format
			}
			slots <- struct{}{}
			group.Go(func() {
				c.check(filepath.Join(in.dir, table.IDToFilename(id)), entry.compression, func(int64) error { return nil })
				<-slots
			})
		}
	}
	group.Wait()
	for _, id := range slices.Sorted(maps.Keys(in.tables)) {
		in.tellTable(table.IDToFilename(id), in.tables[id])
	}
}

// check opens a table and reads all of it, block by block, until pause answers an error.
func (c *tableCheck) check(name string, compression options.CompressionType, pause func(bytes int64) error) {
	file, err := os.Open(name)
	if err != nil {
		c.problem = err
		return
	}
	c.file = file
	info, err := file.Stat()
	if err == nil {
		c.table, err = openTableFile(file, info.Size(), compression)
	}
	if errors.Is(err, errTableIndex) {
		c.problem = err
		c.table, err = findBlocks(file, info.Size(), compression)
	}
	if err != nil {
		c.problem = err
		return
	}
	c.maxVersion = c.table.maxVersion
	c.bad, c.rows, err = c.table.check(pause)
	if err == nil && c.bad == 0 && c.rows != c.table.keys {
		c.problem = errTableIndex
	}
}

func (in *inspection) tellTable(name string, c *tableCheck) {
	switch {
	case errors.Is(c.problem, os.ErrNotExist):
		in.found(name, "is gone", "all its rows are missing, and how many they were nobody can tell")
	case c.problem != nil && c.table != nil:
		in.found(name, "is damaged: "+c.problem.Error(), fmt.Sprintf("%d of its rows can be read, and how many are missing nobody can tell", c.rows))
	case c.problem != nil:
		in.found(name, "cannot be read: "+c.problem.Error(), "all its rows are missing, and how many they were nobody can tell")
	case c.bad > 0:
		in.found(name, fmt.Sprintf("is damaged in %d of %d blocks", c.bad, len(c.table.places)),
			fmt.Sprintf("up to %d of its %d rows are missing", c.table.keys-c.rows, c.table.keys))
	}
}

// readLogs reads the logs of memory that was not written out.
func (in *inspection) readLogs() error {
	names := in.named(logSuffix)
	for _, id := range slices.Sorted(maps.Keys(names)) {
		l, err := readLog(filepath.Join(in.dir, names[id]), names[id])
		if err != nil {
			return err
		}
		if !l.head {
			in.found(l.name, "is damaged at its head", "no write is missing by that")
		}
		in.logs = append(in.logs, l)
	}
	// The store keeps no value in the engine's log of values: of a file there only the head
	// counts.
	values := in.named(valuesSuffix)
	for _, id := range slices.Sorted(maps.Keys(values)) {
		l, err := readLog(filepath.Join(in.dir, values[id]), values[id])
		if err != nil {
			return err
		}
		if !l.head {
			in.found(l.name, "is damaged at its head", "no write is missing by that")
		}
	}
	return nil
}

// follow finds up to where transactions follow one another without one left out. What
// memory held was written to tables in its order: all up to the highest timestamp of a
// table is in tables.
func (in *inspection) follow() {
	unsure := in.manifest.broken != "" || in.accepting() // then a table was there that told more
	for _, c := range in.tables {
		in.reached = max(in.reached, c.maxVersion)
		unsure = unsure || c.problem != nil
	}
	if unsure {
		for _, l := range in.logs {
			if len(l.whole) > 0 {
				in.reached = max(in.reached, l.whole[0].timestamp-1)
				break
			}
		}
	}
	for _, l := range in.logs {
		for _, t := range l.whole {
			if t.timestamp == in.reached+1 {
				in.reached++
			}
			in.beyond = max(in.beyond, t.timestamp)
		}
		in.beyond = max(in.beyond, l.beyond)
	}
	if in.beyond <= in.reached+1 {
		return // one may be on its way, and whether it was acknowledged the logs do not tell
	}
	for _, l := range in.logs {
		if at := in.keep(l); at < l.end() || l.rest {
			in.found(l.name, fmt.Sprintf("cannot be read from byte %d on", at),
				fmt.Sprintf("at least %d writes are missing", in.beyond-in.reached))
			return
		}
	}
}

// keep is the end of what is good of a log.
func (in *inspection) keep(l *logFile) int {
	end := min(logHead, len(l.data))
	for _, t := range l.whole {
		if t.timestamp > in.reached {
			break
		}
		end = t.end
	}
	return end
}

// checkRegistry checks the file that names keys of encryption, of which there are none.
func (in *inspection) checkRegistry() {
	const sanity = "Hello Badger" // as the engine writes it, behind 16 random bytes
	data, err := os.ReadFile(filepath.Join(in.dir, registryName))
	if os.IsNotExist(err) {
		return // the engine makes it
	}
	if err != nil || len(data) != 16+len(sanity) || string(data[16:]) != sanity {
		in.found(registryName, "is damaged", "no write is missing by that")
	}
}

// newest finds the newest value of a key up to where all is there.
func (in *inspection) newest(key []byte) (value []byte, ok bool) {
	version := uint64(0)
	for _, c := range in.tables {
		if c.table == nil {
			continue
		}
		if v, found, is := c.table.newest(key, in.reached); is && v >= version {
			version, value, ok = v, found.Value, true
		}
	}
	for _, l := range in.logs {
		for _, t := range l.whole {
			if t.timestamp > in.reached || t.timestamp < version {
				continue
			}
			_ = l.each(t, func(found []byte, v y.ValueStruct) error {
				if bytes.Equal(y.ParseKey(found), key) {
					version, value, ok = t.timestamp, bytes.Clone(v.Value), true
				}
				return nil
			})
		}
	}
	return value, ok
}

// readEpoch reads the identity of the numbering.
func (in *inspection) readEpoch() {
	if value, ok := in.newest(epochKey); ok {
		if content, err := readPlain(epochKey, value); err == nil && len(content) == len(in.epoch) {
			copy(in.epoch[:], content)
		}
	}
}

// last is the last number of a shop up to where all is there.
func (in *inspection) last(shop string) history.Number {
	key := lastKey(shop)
	if value, ok := in.newest(key); ok {
		number, _, _ := readRow(key, value) // 0 where it cannot be read: then all are missing
		return number
	}
	return 0
}

// compare holds what is there against what was acknowledged.
func (in *inspection) compare(known *acknowledged) {
	if known == nil || known.timestamp <= in.reached {
		return
	}
	missing := known.missing(in.last)
	if missing == "" {
		missing = fmt.Sprintf("at least %d writes that were acknowledged are missing", known.timestamp-in.reached)
	}
	for i, d := range in.damages {
		if strings.HasSuffix(d.File, logSuffix) && strings.HasPrefix(d.Problem, "cannot be read") {
			in.damages[i].Missing = missing
			return
		}
	}
	for _, l := range in.logs {
		if l.rest {
			in.found(l.name, fmt.Sprintf("cannot be read from byte %d on", in.keep(l)), missing)
			return
		}
	}
	in.found("", "the newest writes are gone", missing)
}

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
