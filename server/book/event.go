package book

import (
	"strings"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// event is what happened to a vehicle between its visits. It stands in the vehicle's record
// where it was recorded, or where it stood in the record it was imported from.
type event interface {
	// on is what it makes of a vehicle.
	on(state) state
}

// event puts what happened to a vehicle.
func (d *drafting) event(vehicle string, e entry, id string, row *rows.Event) {
	d.put(eventsOf(vehicle).Int64(nanos(e.at())).Int64(nanos(e.time)).Int64(nanos(e.time)).Text(id), row)
}

// asVisit is an event's key as if it were that of a visit: so that they can be compared.
func asVisit(vehicle string, k history.Key) history.Key { return historyOf(vehicle) + spotOf(k) }

// spotOf is a place in the record of a vehicle, without the vehicle, from a key that begins
// with a kind of row and the vehicle.
func spotOf(k history.Key) history.Key {
	_, spot, _ := strings.Cut(string(k), string(history.Key("").Text("")))
	return history.Key(spot)
}

// events reads what happened to a vehicle between two places, oldest first; "" is from its
// beginning, or to its end.
func (v view) events(vehicle string, from, to history.Key) (all []step, err error) {
	err = v.eventRows(vehicle, from, to, func(k history.Key, row *rows.Event) error {
		s := step{key: k}
		var err error
		if s.event, err = v.eventOf(vehicle, k, row); err == nil && s.event != nil {
			all = append(all, s)
		}
		return err
	})
	return all, err
}

// eventRows reads the rows of what happened to a vehicle between two places, each with its
// key as if it were that of a visit.
func (v view) eventRows(vehicle string, from, to history.Key, each func(history.Key, *rows.Event) error) error {
	behind := history.Key("")
	if from != "" {
		behind = eventsOf(vehicle) + spotOf(from)
	}
	for more := true; more; {
		page, err := v.s.Scan(v.ctx, history.Range{Prefix: eventsOf(vehicle), After: behind})
		if err != nil {
			return err
		}
		for _, r := range page.Rows {
			behind = r.Key
			k, row := asVisit(vehicle, r.Key), &rows.Event{}
			if to != "" && k > to {
				return nil
			}
			if err := decode(r.Value, row); err != nil {
				return err
			}
			if err := each(k, row); err != nil {
				return err
			}
		}
		more = page.More
	}
	return nil
}

// eventOf reads an event; nil for one that this program does not know.
func (v view) eventOf(vehicle string, k history.Key, row *rows.Event) (event, error) {
	of, err := v.resolved(vehicle)
	if err != nil {
		return nil, err
	}
	if id := row.GetOutcome(); id != "" {
		o, err := v.outcome(id)
		if err != nil || o == nil {
			return nil, err
		}
		return o, nil
	}
	if id := row.GetMoves(); id != "" {
		m, err := v.moves(id)
		if err != nil || m == nil {
			return nil, err
		}
		m.of = of
		return m, nil
	}
	if data := row.GetTire(); data != nil {
		t := &pb.Tire{}
		return recordedTire{t}, proto.Unmarshal(data, t)
	}
	if id := row.GetEvent(); id != "" {
		h, err := v.happening(id)
		if err != nil || h == nil {
			return nil, err
		}
		return h, nil
	}
	if row.GetDeparted() != "" {
		return v.departed(of, k, row)
	}
	return nil, nil //nolint:nilnil // of a newer program
}
