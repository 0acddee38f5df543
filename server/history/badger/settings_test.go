package badger

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gaugebook.dev/server/history"
)

// alike is a value as the book writes them: mostly what stands in its neighbors too,
// and ids of its own.
func alike(n int) []byte {
	var ids [48]byte
	r := rand.New(rand.NewPCG(uint64(n), 7))
	for i := 0; i < len(ids); i += 8 {
		binary.BigEndian.PutUint64(ids[i:], r.Uint64())
	}
	var text strings.Builder
	for i := range 60 {
		fmt.Fprintf(&text, "tread.below-limit position %d of %d measured against us-light in 1/32 ", i, n%7)
	}
	return append(ids[:], text.String()...)
}

// fill writes values that are alike and puts all of it in tables.
func fill(t *testing.T, dir string, rows int) (written int) {
	t.Helper()
	store, err := Open(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for n := 0; n < rows; {
		draft := history.Draft{Shop: "north"}
		for ; n < rows && len(draft.Put) < 100; n++ {
			value := alike(n)
			written += len(value)
			draft.Put = append(draft.Put, history.Put{Key: history.Key("row").Uint64(uint64(n)), Value: value})
		}
		mustCommit(t, store, draft)
	}
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	return written
}

func tables(t *testing.T, dir string) (names []string, size int64) {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(dir, "*.sst"))
	if err != nil || len(names) == 0 {
		t.Fatalf("no tables: %v", err)
	}
	for _, name := range names {
		info, err := os.Stat(name)
		if err != nil {
			t.Fatal(err)
		}
		size += info.Size()
	}
	return names, size
}

// What the book writes is mostly said before: tables take a quarter of it at most, and
// give back what was written.
func TestTablesAreCompressed(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "store")
	const rows = 5000
	written := fill(t, dir, rows)
	if _, size := tables(t, dir); size > int64(written)/4 {
		t.Errorf("%d bytes take %d on disk", written, size)
	}
	store, err := Open(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = store.Close() }()
	for n := range rows {
		if r := get(t, store, history.Key("row").Uint64(uint64(n))); !bytes.Equal(r.Value, alike(n)) {
			t.Fatalf("row %d is not what was written", n)
		}
	}
}

// What is read and written at a time stays in memory only within bounds that do not
// grow with the store.
func TestEngineMemoryIsBounded(t *testing.T) {
	o := engineOptions("")
	if o.TableSizeMultiplier != 1 {
		t.Errorf("tables grow %d times from level to level, and with them what is built in memory", o.TableSizeMultiplier)
	}
	if o.MemTableSize > 9<<20 || o.MemTableSize*15/100 < history.MaxDraft {
		t.Errorf("logs of %d bytes", o.MemTableSize)
	}
	if o.BaseTableSize > 512<<10 {
		t.Errorf("tables of %d bytes, a dozen of which are built at a time", o.BaseTableSize)
	}
	if o.BlockSize != 32<<10 {
		t.Errorf("blocks of %d bytes", o.BlockSize)
	}
	if held := o.BlockCacheSize + o.IndexCacheSize + int64(o.NumMemtables+1)*o.MemTableSize; o.BlockCacheSize == 0 || held > 64<<20 {
		t.Errorf("caches and tables in the making hold %d bytes", held)
	}
}

// One flipped bit anywhere in a table is noticed before anything is answered: the engine
// passes over what it cannot read later, in silence.
func TestTablesAreCheckedWholeAtOpening(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "store")
	fill(t, dir, 2000)
	names, _ := tables(t, dir)
	data, err := os.ReadFile(names[0])
	if err != nil {
		t.Fatal(err)
	}
	data[len(data)/3] ^= 1
	if err := os.WriteFile(names[0], data, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, readOnly := range []bool{false, true} {
		damage := (*DamageError)(nil)
		if _, err := Open(dir, Options{ReadOnly: readOnly}); !errors.As(err, &damage) || damage.Damages[0].File != filepath.Base(names[0]) {
			t.Errorf("a flipped bit in a table, opened to be read alone %v: %v", readOnly, err)
		}
	}
}
