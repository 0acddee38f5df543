package book

import (
	"bytes"
	"maps"
	"slices"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// What is open of a tire goes with it. When it leaves a vehicle, what was open of it is put
// into a row of the tire, at the place of what took it off; what brings it onto a vehicle,
// the same or another, reads the last of these rows before it.

// endOfSpot is behind all keys that begin with a place.
const endOfSpot = "\xff"

// openAt is what was open of a tire when it left a vehicle last, at a place or before it.
func (v view) openAt(tire string, spot history.Key) ([]openFinding, error) {
	found, err := v.s.Scan(v.ctx, history.Range{Prefix: openOf(tire), After: openOf(tire) + spot + endOfSpot, Limit: 1, Reverse: true})
	if err != nil || len(found.Rows) == 0 || found.Rows[0].Key == openOf(tire) {
		return nil, err
	}
	row := &rows.TireOpen{}
	if err := decode(found.Rows[0].Value, row); err != nil {
		return nil, err
	}
	var open []openFinding
	for _, f := range row.GetOpen() {
		open = append(open, openFindingOf(f, rows.NewStrings(row.GetStrings())))
	}
	return open, nil
}

// tireOpen is what was open of a tire as a row has it.
func tireOpen(open []openFinding) *rows.TireOpen {
	texts, row := rows.NewStrings(nil), &rows.TireOpen{}
	for _, f := range open {
		row.Open = append(row.Open, f.row(texts))
	}
	row.Strings = texts.Texts()
	return row
}

// parting are the tires that left a vehicle behind a place of its record: as they did before,
// and as they do now that it is gone through again.
type parting struct {
	vehicle string
	was     map[history.Key]partedTire // by the row of the tire
	now     map[history.Key]partedTire
}

// partedTire is a tire that left a vehicle.
type partedTire struct {
	tire string
	spot history.Key
	open []byte // what was open of it, as its row has it
}

// openKeyOf is the row of what was open of a tire when it left a vehicle at a place.
func openKeyOf(tire string, spot history.Key, vehicle string) history.Key {
	return (openOf(tire) + spot).Text(vehicle)
}

// parting takes out of the draft's rows which tires left a vehicle behind a place: going
// through its record again puts them there again.
func (v view) parting(d *drafting, vehicle string, behind history.Key) (*parting, error) {
	p := &parting{vehicle, map[history.Key]partedTire{}, map[history.Key]partedTire{}}
	after := history.Key("")
	if behind != "" {
		after = leftOf(vehicle) + spotOf(behind)
	}
	for more := true; more; {
		page, err := v.s.Scan(v.ctx, history.Range{Prefix: leftOf(vehicle), After: after})
		if err != nil {
			return nil, err
		}
		for _, r := range page.Rows {
			after = r.Key
			row := &rows.Event{}
			if err := decode(r.Value, row); err != nil {
				return nil, err
			}
			tire := row.GetDeparted()
			spot := spotOf(r.Key)[:len(spotOf(r.Key))-len(history.Key("").Text(tire))]
			k := openKeyOf(tire, spot, vehicle)
			open, err := v.s.Get(v.ctx, k)
			if err != nil {
				return nil, err
			}
			p.was[k] = partedTire{tire, spot, open.Value}
			d.delete(r.Key, k)
		}
		more = page.More
	}
	return p, nil
}

// leave puts the tires that left in a step.
func (p *parting) leave(d *drafting, s step, after state) {
	for _, tire := range slices.Sorted(maps.Keys(after.went)) {
		k := openKeyOf(tire, spotOf(s.key), p.vehicle)
		value := d.must(encode(tireOpen(after.went[tire])))
		p.now[k] = partedTire{tire, spotOf(s.key), value}
		d.write(k, &history.Put{Key: k, Value: value})
		d.put(leftOf(p.vehicle)+spotOf(s.key).Text(tire), &rows.Event{What: &rows.Event_Departed{Departed: tire}})
	}
}

// changed are the tires that left otherwise than before.
func (p *parting) changed() (all []partedTire) {
	for k, l := range p.was {
		if now, leaves := p.now[k]; !leaves || !bytes.Equal(l.open, now.open) {
			all = append(all, l)
		}
	}
	for k, l := range p.now {
		if _, left := p.was[k]; !left {
			all = append(all, l)
		}
	}
	slices.SortFunc(all, func(a, b partedTire) int {
		return bytes.Compare([]byte(openOf(a.tire)+a.spot), []byte(openOf(b.tire)+b.spot))
	})
	return all
}
