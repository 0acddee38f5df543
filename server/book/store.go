package book

import (
	"context"
	"fmt"

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
// by the first entry of each shop. Errors: *FormatError; the store's.
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
	first, err := s.Changes(ctx, 0, 1)
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
	return entry{version, r.GetRecordedTime()}, proto.Unmarshal(r.GetMessage(), m)
}

// drafting builds a draft and remembers the first error of encoding.
type drafting struct {
	history.Draft
	err error
}

func (d *drafting) expect(k history.Key, version history.Number) {
	d.Expect = append(d.Expect, history.Expectation{Key: k, Version: version})
}

func (d *drafting) put(k history.Key, row proto.Message) {
	d.Put = append(d.Put, history.Put{Key: k, Value: d.must(encode(row))})
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

func (d *drafting) done() (*history.Draft, error) { return &d.Draft, d.err }
