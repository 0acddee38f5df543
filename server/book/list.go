package book

import (
	"context"
	"slices"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// Page is a page of a list, without words.
type Page[M any] struct {
	Rows      []M
	FrontRear []bool // for each row, how its positions are told
	Next      string // token of the next page; "" at the end
}

// list replaces the vehicle's rows in all lists. was and now are the vehicle with what visits
// made of it, before and after what comes due of it.
func (d *drafting) list(was, now vehicle, before, after []*rows.DueRow) {
	row := now.row(after)
	d.listOpen(now, was.state, now.state)
	d.find(was, now, before, after)
	old, keys := was.listKeys(), now.listKeys()
	for i, as := range []*rows.VehicleRow{row, now.leadTo()} {
		if old[i] != keys[i] {
			d.delete(old[i])
		}
		d.put(keys[i], as)
	}
}

// leadTo is the vehicle's row in the list by last seen: what finds that by urgency, where
// the rest stands, and whether the vehicle is here.
func (v vehicle) leadTo() *rows.VehicleRow {
	return &rows.VehicleRow{
		Strings: []string{v.record.GetId()}, VehicleId: 1, LastSeenTime: v.state.lastSeen, Left: v.state.left,
		Headline: &rows.Headline{Urgency: v.state.headline.GetUrgency()},
	}
}

// whole reads the row that one of the list by last seen leads to.
func (v view) whole(lead *rows.VehicleRow) (*rows.VehicleRow, error) {
	row := &rows.VehicleRow{}
	_, _, err := v.get(urgentKeyOf(lead), row)
	return row, err
}

// listKeys are the keys of the vehicle's rows in the lists by urgency and by last seen.
func (v vehicle) listKeys() []history.Key {
	seen, id := nanos(v.state.lastSeen), v.record.GetId()
	return []history.Key{urgentKey(int(v.state.headline.GetUrgency()), seen, id), seenKey(seen, id)}
}

// row is the vehicle's row in a list; due is what comes due of it.
func (v vehicle) row(due []*rows.DueRow) *rows.VehicleRow {
	texts := rows.NewStrings(nil)
	row := &rows.VehicleRow{
		VehicleId: texts.Number(v.record.GetId()), Tag: texts.Number(v.record.GetTag()), FrontRear: v.frontRear(),
		LastSeenTime: v.state.lastSeen, NextDueDate: nextDue(due), Left: v.state.left,
	}
	if v.state.headline != nil {
		row.Headline = &rows.Headline{}
		texts.Keep(row.GetHeadline(), v.state.headline)
	}
	for _, f := range v.state.open {
		if code := texts.Number(f.code); !slices.Contains(row.GetFindingCodes(), code) {
			row.FindingCodes = append(row.FindingCodes, code)
		}
	}
	row.Strings = texts.Texts()
	return row
}

// nextDue is the next day something falls due; nil where nothing has a day.
func nextDue(due []*rows.DueRow) (day *pb.CalendarDate) {
	for _, row := range due {
		if day == nil || after(day, row.GetExpectedDate()) {
			day = row.GetExpectedDate()
		}
	}
	return day
}

// ListVehicles gives a page of the shop's vehicles in an order, the first with a
// feed token of its moment.
func (b *Book) ListVehicles(ctx context.Context, shop string, order pb.VehicleOrder, size int, token string) (page Page[*pb.VehicleRow], resume string, err error) {
	return b.vehiclesBy(ctx, shop, token, func(s view) (Page[*pb.VehicleRow], error) {
		switch order {
		case pb.VehicleOrder_VEHICLE_ORDER_URGENCY:
			return b.byUrgency(s, shop, size, token)
		case pb.VehicleOrder_VEHICLE_ORDER_DUE:
			return b.byDue(s, shop, size, token)
		}
		return b.bySeen(s, shop, size, token)
	})
}

// vehiclesBy reads a page of vehicles, the first with a feed token of its moment.
func (b *Book) vehiclesBy(ctx context.Context, shop, token string, read func(view) (Page[*pb.VehicleRow], error)) (page Page[*pb.VehicleRow], resume string, err error) {
	err = b.read(ctx, shop, func(s view) (err error) {
		page, err = read(s)
		if err != nil || token != "" {
			return err
		}
		last, err := s.end()
		resume = b.feedToken(shop, last)
		return err
	})
	return page, resume, err
}

// bySeen gives a page of the vehicles, the last seen first.
func (b *Book) bySeen(s view, shop string, size int, token string) (page Page[*pb.VehicleRow], err error) {
	of := list{shop, key(seenMark)}
	behind, err := b.pageAfter(of, token)
	if err != nil {
		return page, err
	}
	found, err := s.s.Scan(s.ctx, history.Range{Prefix: of.rows, After: behind, Limit: size})
	if err != nil {
		return page, err
	}
	for _, r := range found.Rows {
		lead := &rows.VehicleRow{}
		if err := decode(r.Value, lead); err != nil {
			return page, err
		}
		row, err := s.whole(lead)
		if err != nil {
			return page, err
		}
		add(&page, row)
	}
	page.Next = b.pageToken(of, found)
	return page, nil
}

// add adds a row of a list of vehicles to a page.
func add(page *Page[*pb.VehicleRow], row *rows.VehicleRow) {
	out := &pb.VehicleRow{}
	rows.NewStrings(row.GetStrings()).Give(out, row)
	page.Rows, page.FrontRear = append(page.Rows, out), append(page.FrontRear, row.GetFrontRear())
}

// ListInspections gives a page of a vehicle's visits, the newest first.
func (b *Book) ListInspections(ctx context.Context, shop, vehicle string, size int, token string) (page Page[*pb.InspectionSummary], err error) {
	err = b.read(ctx, shop, func(s view) error {
		v, err := s.vehicle(vehicle)
		if err != nil {
			return err
		}
		of := list{shop, historyOf(vehicle)}
		if v.there() {
			of.rows = historyOf(v.record.GetId())
		}
		behind, err := b.pageAfter(of, token)
		if err != nil {
			return err
		}
		if !v.there() {
			return noVehicle(vehicle)
		}
		found, err := s.s.Scan(s.ctx, history.Range{Prefix: of.rows, After: behind, Limit: size, Reverse: true})
		if err != nil {
			return err
		}
		for _, r := range found.Rows {
			row, err := s.readCover(r)
			if err != nil {
				return err
			}
			page.Rows, page.FrontRear = append(page.Rows, row.summary()), append(page.FrontRear, row.GetFrontRear())
		}
		page.Next = b.pageToken(of, found)
		return nil
	})
	return page, err
}

// summary is a visit in a list.
func (c covered) summary() *pb.InspectionSummary {
	texts := rows.NewStrings(c.GetStrings())
	out := &pb.InspectionSummary{
		InspectionId: c.inspection.GetId(), TakenTime: c.inspection.GetTakenTime(), FindingIds: texts.TextsOf(c.GetFindingIds()), Number: decimal(c.number),
		ReplacedBy: c.replacedBy, OrderReference: c.inspection.GetOrderReference(),
	}
	if c.GetHeadline() != nil {
		out.Headline = &pb.Headline{}
		texts.Give(out.GetHeadline(), c.GetHeadline())
	}
	return out
}
