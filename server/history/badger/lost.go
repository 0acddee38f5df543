package badger

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	engine "github.com/dgraph-io/badger/v4"
	"github.com/dgraph-io/badger/v4/table"
	"github.com/dgraph-io/badger/v4/y"
)

// newestRow is the newest version of a row, and whether it is a deletion.
type newestRow struct {
	version uint64
	deleted bool
}

// findLost finds rows of tables that the list of tables lacks and that nothing else
// holds. A kill leaves such tables, of which all was written once more: of memory
// whose log is still there, or of tables that were put together. A list that lost its
// end leaves them too, and the engine would remove them. Of a table that the list has taken
// out nothing is missing: its rows may have been deleted since.
func (in *inspection) findLost() error {
	rows := map[string]newestRow{}
	for id, c := range in.orphans {
		if c.table == nil || in.manifest.gone[id] {
			continue // begun and never finished, or about to be removed
		}
		if err := c.table.each(func(key []byte, value y.ValueStruct) error {
			note(rows, key, value)
			return nil
		}); err != nil {
			return err
		}
	}
	if len(rows) > 0 {
		older, err := in.findElsewhere(rows)
		if err != nil {
			return err
		}
		for key, row := range rows {
			// A deletion goes with what it deletes.
			if row.deleted && !older[key] {
				delete(rows, key)
			}
		}
	}
	if len(rows) > 0 {
		in.tellLost(rows)
	}
	return nil
}

func note(rows map[string]newestRow, key []byte, value y.ValueStruct) {
	plain, version := string(y.ParseKey(key)), y.ParseTs(key)
	if row, known := rows[plain]; !known || version > row.version {
		rows[plain] = newestRow{version, value.Meta&markDeleted != 0}
	}
}

// findElsewhere drops those rows of which the tables of the list or the logs hold as new a
// version, and tells of which they hold an older one.
func (in *inspection) findElsewhere(rows map[string]newestRow) (older map[string]bool, err error) {
	older = map[string]bool{}
	look := func(key []byte, value y.ValueStruct) error {
		row, asked := rows[string(y.ParseKey(key))]
		switch {
		case !asked:
		case y.ParseTs(key) >= row.version:
			delete(rows, string(y.ParseKey(key)))
		case value.Meta&markDeleted == 0:
			older[string(y.ParseKey(key))] = true
		}
		return nil
	}
	for _, c := range in.tables {
		if c.table != nil {
			if err := c.table.each(look); err != nil {
				return nil, err
			}
		}
	}
	for _, l := range in.logs {
		for _, t := range l.whole {
			if err := l.each(t, look); err != nil {
				return nil, err
			}
		}
	}
	return older, nil
}

// tellLost says which tables hold the rows.
func (in *inspection) tellLost(rows map[string]newestRow) {
	var names []string
	for _, id := range in.lostTables(rows) {
		names = append(names, table.IDToFilename(id))
	}
	missing := fmt.Sprintf("%d rows are missing that %s holds", len(rows), strings.Join(names, ", "))
	for i, d := range in.damages {
		if d.File == engine.ManifestFilename {
			in.damages[i].Missing = missing
			return
		}
	}
	in.found(engine.ManifestFilename, "lacks a table", missing)
}

// lostTables are the tables beside the list that hold one of the rows.
func (in *inspection) lostTables(rows map[string]newestRow) (ids []uint64) {
	errFound := errors.New("found")
	for _, id := range slices.Sorted(maps.Keys(in.orphans)) {
		c := in.orphans[id]
		if c.table == nil || in.manifest.gone[id] {
			continue
		}
		err := c.table.each(func(key []byte, _ y.ValueStruct) error {
			if row, lost := rows[string(y.ParseKey(key))]; lost && row.version == y.ParseTs(key) {
				return errFound
			}
			return nil
		})
		if errors.Is(err, errFound) {
			in.recovered = append(in.recovered, id)
			ids = append(ids, id)
		}
	}
	return ids
}
