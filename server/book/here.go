package book

import (
	"encoding/binary"
	"slices"
	"strings"
	"time"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// staysHere is how long a vehicle counts as here after its last visit, where nobody tells
// that it has left: over a weekend.
const staysHere = 72 * time.Hour

// cursor is where a page of the list by urgency ends: vehicles that are here come first,
// those of other days behind them.
type cursor struct {
	others bool
	since  int64       // seen after this moment, a vehicle is here
	behind history.Key // key by urgency of the last row; "": before all
}

const (
	hereByte   = 'H'
	othersByte = 'O'
)

func (c cursor) body(of list) []byte {
	body := []byte{hereByte}
	if c.others {
		body[0] = othersByte
	}
	body = binary.BigEndian.AppendUint64(body, uint64(c.since))
	return append(body, strings.TrimPrefix(string(c.behind), string(of.rows))...)
}

// cursorAfter reads a page token; "" is the beginning.
func (b *Book) cursorAfter(of list, token string) (cursor, error) {
	if token == "" {
		return cursor{since: b.now().Add(-staysHere).UnixNano()}, nil
	}
	body, err := b.open(of, token, "page_token")
	if err != nil {
		return cursor{}, err
	}
	const head = 1 + 8
	if len(body) < head || body[0] != hereByte && body[0] != othersByte {
		return cursor{}, badToken("page_token")
	}
	c := cursor{others: body[0] == othersByte, since: int64(binary.BigEndian.Uint64(body[1:]))}
	if len(body) > head {
		c.behind = of.rows + history.Key(body[head:])
	}
	return c, nil
}

// byUrgency gives a page of the vehicles, the most urgent first: of those that are here,
// then of the others.
func (b *Book) byUrgency(s view, shop string, size int, token string) (page Page[*pb.VehicleRow], err error) {
	of := list{shop, key(urgentMark)}
	c, err := b.cursorAfter(of, token)
	if err != nil {
		return page, err
	}
	if !c.others {
		here, err := s.here(c)
		if err != nil {
			return page, err
		}
		for _, lead := range here {
			if len(page.Rows) == size {
				page.Next = b.token(of, c.body(of))
				return page, nil
			}
			row, err := s.whole(lead)
			if err != nil {
				return page, err
			}
			add(&page, row)
			c.behind = urgentKeyOf(lead)
		}
		c.others, c.behind = true, ""
	}
	return page, b.others(s, of, c, size, &page)
}

// here reads what leads to the vehicles that are here behind a cursor, the most urgent
// first.
func (v view) here(c cursor) (all []*rows.VehicleRow, err error) {
	end := seenKey(c.since, "")
	for behind, more := history.Key(""), true; more; {
		found, err := v.s.Scan(v.ctx, history.Range{Prefix: key(seenMark), After: behind})
		if err != nil {
			return nil, err
		}
		for _, r := range found.Rows {
			behind = r.Key
			row := &rows.VehicleRow{}
			if err := decode(r.Value, row); err != nil {
				return nil, err
			}
			if here(row, c.since) && urgentKeyOf(row) > c.behind {
				all = append(all, row)
			}
		}
		more = found.More && behind < end
	}
	slices.SortFunc(all, func(a, b *rows.VehicleRow) int {
		return strings.Compare(string(urgentKeyOf(a)), string(urgentKeyOf(b)))
	})
	return all, nil
}

func here(row *rows.VehicleRow, since int64) bool {
	return nanos(row.GetLastSeenTime()) > since && !row.GetLeft()
}

// urgentKeyOf is the key by urgency of a row.
func urgentKeyOf(row *rows.VehicleRow) history.Key {
	id := rows.NewStrings(row.GetStrings()).Text(row.GetVehicleId())
	return urgentKey(int(row.GetHeadline().GetUrgency()), nanos(row.GetLastSeenTime()), id)
}

// others adds the vehicles that are not here behind a cursor, until a page is full.
func (b *Book) others(s view, of list, c cursor, size int, page *Page[*pb.VehicleRow]) error {
	for more := true; more; {
		found, err := s.s.Scan(s.ctx, history.Range{Prefix: of.rows, After: c.behind, Limit: size})
		if err != nil {
			return err
		}
		for _, r := range found.Rows {
			row := &rows.VehicleRow{}
			if err := decode(r.Value, row); err != nil {
				return err
			}
			if here(row, c.since) {
				c.behind = r.Key
				continue
			}
			if len(page.Rows) == size {
				page.Next = b.token(of, c.body(of))
				return nil
			}
			add(page, row)
			c.behind = r.Key
		}
		more = found.More
	}
	return nil
}
