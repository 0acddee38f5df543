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

// list replaces the vehicle's rows in both lists. before and after are what visits
// made of it, due what comes due of it then.
func (d *drafting) list(v vehicle, before, after state, due []*rows.DueRow) {
	keys := func(s state) []history.Key {
		seen := int64(0)
		if s.lastSeen != nil {
			seen = s.lastSeen.AsTime().UnixNano()
		}
		return []history.Key{urgentKey(int(s.headline.GetUrgency()), seen, v.record.GetId()), seenKey(seen, v.record.GetId())}
	}
	texts := rows.NewStrings(nil)
	row := &rows.VehicleRow{
		VehicleId: texts.Number(v.record.GetId()), Tag: texts.Number(v.record.GetTag()), FrontRear: v.frontRear(),
		LastSeenTime: after.lastSeen, NextDueDate: nextDue(due),
	}
	if after.headline != nil {
		row.Headline = &rows.Headline{}
		texts.Keep(row.GetHeadline(), after.headline)
	}
	for _, f := range after.open {
		if code := texts.Number(f.code); !slices.Contains(row.GetFindingCodes(), code) {
			row.FindingCodes = append(row.FindingCodes, code)
		}
	}
	row.Strings = texts.Texts()
	old, now := keys(before), keys(after)
	for i := range now {
		if old[i] != now[i] {
			d.Delete = append(d.Delete, old[i])
		}
		d.put(now[i], row)
	}
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
	of := list{shop, key(seenMark)}
	if order == pb.VehicleOrder_VEHICLE_ORDER_URGENCY {
		of.rows = key(urgentMark)
	}
	behind, err := b.pageAfter(of, token)
	if err != nil {
		return page, "", err
	}
	err = b.read(ctx, shop, func(s view) error {
		found, err := s.s.Scan(s.ctx, history.Range{Prefix: of.rows, After: behind, Limit: size})
		if err != nil {
			return err
		}
		for _, r := range found.Rows {
			row := &rows.VehicleRow{}
			if err := decode(r.Value, row); err != nil {
				return err
			}
			out := &pb.VehicleRow{}
			rows.NewStrings(row.GetStrings()).Give(out, row)
			page.Rows, page.FrontRear = append(page.Rows, out), append(page.FrontRear, row.GetFrontRear())
		}
		page.Next = b.pageToken(of, found)
		if token != "" {
			return nil
		}
		last, err := s.end()
		resume = b.feedToken(shop, last)
		return err
	})
	return page, resume, err
}

// ListInspections gives a page of a vehicle's visits, the newest first.
func (b *Book) ListInspections(ctx context.Context, shop, vehicle string, size int, token string) (page Page[*pb.InspectionSummary], err error) {
	of := list{shop, historyOf(vehicle)}
	behind, err := b.pageAfter(of, token)
	if err != nil {
		return page, err
	}
	err = b.read(ctx, shop, func(s view) error {
		if v, err := s.vehicle(vehicle); err != nil || !v.there() {
			if err == nil {
				err = noVehicle(vehicle)
			}
			return err
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
		ReplacedBy: c.replacedBy,
	}
	if c.GetHeadline() != nil {
		out.Headline = &pb.Headline{}
		texts.Give(out.GetHeadline(), c.GetHeadline())
	}
	return out
}
