package book

import (
	"context"
	"fmt"
	"maps"
	"slices"

	"google.golang.org/protobuf/proto"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// format is the first byte of every value: a message of package rows follows, as
// protobuf. Values of format 1 held messages of the contract with their words.
const format = 2

// FormatError is a store whose rows this program does not know.
type FormatError struct{ Format byte }

// Error says what to do about it.
func (e *FormatError) Error() string {
	return fmt.Sprintf("the store was written in format %d and this program reads format %d alone: open it with the version that wrote it", e.Format, format)
}

// CheckFormat finds out whether a store is of the format that this program reads,
// by the first entry of each shop that was not trimmed, or what was kept of those. Errors: *FormatError; the store's.
func CheckFormat(ctx context.Context, store history.Store) error {
	shops, err := store.Shops(ctx)
	if err != nil {
		return err
	}
	for _, shop := range shops {
		if err := checkShop(ctx, store, shop); err != nil {
			return err
		}
	}
	return nil
}

func checkShop(ctx context.Context, store history.Store, shop string) error {
	s, err := store.Snapshot(ctx, shop)
	if err != nil {
		return err
	}
	defer s.Close()
	first := make([]history.Change, 1)
	if first[0], err = s.Trimmed(ctx); err == nil && first[0].Number == 0 {
		first, err = s.Changes(ctx, 0, 1)
	}
	if err != nil || len(first) == 0 {
		return err
	}
	if f := first[0].Feed; len(f) == 0 || f[0] != format {
		return &FormatError{append(f, 0)[0]}
	}
	return nil
}

func encode(m proto.Message) ([]byte, error) {
	return proto.MarshalOptions{Deterministic: true}.MarshalAppend([]byte{format}, m)
}

func decode(value []byte, m proto.Message) error {
	if len(value) == 0 || value[0] != format {
		return &FormatError{append(value, 0)[0]}
	}
	return proto.Unmarshal(value[1:], m)
}

// view reads rows from a snapshot.
type view struct {
	ctx    context.Context
	s      history.Snapshot
	merged map[string]string // by vehicle, the one that it was found to be, as far as it was looked up
}

// get reads a row into m; found is false when there is none.
func (v view) get(k history.Key, m proto.Message) (version history.Number, found bool, err error) {
	row, err := v.s.Get(v.ctx, k)
	if err != nil || row.Version == history.Absent {
		return history.Absent, false, err
	}
	return row.Version, true, decode(row.Value, m)
}

// record reads a record that callers sent into m, a message of the contract.
func (v view) record(k history.Key, m proto.Message) (entry, error) {
	r := &rows.Record{}
	version, found, err := v.get(k, r)
	if err != nil || !found {
		return entry{}, err
	}
	return entry{version, r.GetRecordedTime(), r.GetCountedTime()}, proto.Unmarshal(r.GetMessage(), m)
}

// drafting builds a draft and remembers the first error of encoding. Of what is written to
// one row the last counts.
type drafting struct {
	Feed    []byte
	expects []history.Expectation
	known   map[history.Key]bool         // that are expected
	writes  map[history.Key]*history.Put // nil: deleted
	err     error
}

// expect demands a version; of what was read twice in one snapshot, once.
func (d *drafting) expect(k history.Key, version history.Number) {
	if d.known[k] {
		return
	}
	if d.known == nil {
		d.known = map[history.Key]bool{}
	}
	d.known[k] = true
	d.expects = append(d.expects, history.Expectation{Key: k, Version: version})
}

func (d *drafting) put(k history.Key, row proto.Message) {
	d.write(k, &history.Put{Key: k, Value: d.must(encode(row))})
}

func (d *drafting) delete(keys ...history.Key) {
	for _, k := range keys {
		d.write(k, nil)
	}
}

func (d *drafting) write(k history.Key, as *history.Put) {
	if d.writes == nil {
		d.writes = map[history.Key]*history.Put{}
	}
	d.writes[k] = as
}

// record puts a record that callers sent.
func (d *drafting) record(k history.Key, m proto.Message, e entry) {
	d.put(k, &rows.Record{Message: d.sent(m), RecordedTime: e.time})
}

// sent are the bytes of a message of the contract, fields that this program does
// not know among them.
func (d *drafting) sent(m proto.Message) []byte {
	return d.must(proto.MarshalOptions{Deterministic: true}.Marshal(m))
}

func (d *drafting) must(data []byte, err error) []byte {
	if err != nil && d.err == nil {
		d.err = err
	}
	return data
}

func (d *drafting) done() (*history.Draft, error) {
	out := &history.Draft{Expect: d.expects, Feed: d.Feed}
	for _, k := range slices.Sorted(maps.Keys(d.writes)) {
		if put := d.writes[k]; put != nil {
			out.Put = append(out.Put, *put)
		} else {
			out.Delete = append(out.Delete, k)
		}
	}
	return out, d.err
}
