package book

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// openKeys are the keys of what is open in the lists of what is open.
func openKeys(vehicle string, f openFinding) []history.Key {
	keys := []history.Key{openKey(int(f.urgency), nanos(f.sinceTime), vehicle, f.openID)}
	if f.until != nil {
		keys = append(keys, untilKey(f.until, vehicle, f.openID))
	}
	return keys
}

// listOpen replaces a vehicle's rows in the lists of what is open.
func (d *drafting) listOpen(v vehicle, before, after state) {
	id, now := v.record.GetId(), map[history.Key]bool{}
	for _, f := range after.open {
		row := f.listed(v.frontRear())
		for _, k := range openKeys(id, f) {
			now[k] = true
			d.put(k, row)
		}
	}
	for _, f := range before.open {
		for _, k := range openKeys(id, f) {
			if !now[k] {
				now[k] = true
				d.delete(k)
			}
		}
	}
}

// listed is what is open as a row of a list has it: what its key says is not in it, nor what
// the visit that found it last says.
func (f openFinding) listed(frontRear bool) *rows.OpenRow {
	texts := rows.NewStrings(nil)
	out := openFinding{
		visitID: f.visitID, findingID: f.findingID, sinceID: f.sinceID, sinceTime: f.sinceTime, visits: f.visits, outcomes: f.outcomes, until: f.until, laterID: f.laterID,
	}
	if f.laterID != "" {
		out.positions = f.positions
	}
	row := &rows.OpenRow{Open: out.row(texts), FrontRear: frontRear}
	row.Strings = texts.Texts()
	return row
}

// ListOpenFindings gives a page of what is open in the shop, the most urgent first and of
// these what is open for longest, without words. vehicle "" is all; due, where it is told,
// chooses what was set for a day before it, the earliest first.
func (b *Book) ListOpenFindings(ctx context.Context, shop, vehicle string, due *pb.CalendarDate, size int, token string) (page Page[*pb.OpenFinding], err error) {
	if vehicle != "" {
		return b.openOn(ctx, shop, vehicle, due, token)
	}
	of := list{shop, key(openMark)}
	if due != nil {
		of.rows = key(untilMark)
	}
	behind, err := b.pageAfter(of, token)
	if err != nil {
		return page, err
	}
	err = b.read(ctx, shop, func(s view) error {
		found, err := s.s.Scan(s.ctx, history.Range{Prefix: of.rows, After: behind, Limit: size})
		if err != nil {
			return err
		}
		read := &visits{view: s}
		for _, r := range found.Rows {
			if due != nil && r.Key > untilDay(due) {
				return nil
			}
			if err := read.listed(r, &page); err != nil {
				return err
			}
		}
		page.Next = b.pageToken(of, found)
		return nil
	})
	return page, err
}

// listed adds a row of what is open to a page.
func (r *visits) listed(row history.Row, to *Page[*pb.OpenFinding]) error {
	kept := &rows.OpenRow{}
	if err := decode(row.Value, kept); err != nil {
		return err
	}
	id, openID := openNamed(row.Key)
	f := openFindingOf(kept.GetOpen(), rows.NewStrings(kept.GetStrings()))
	f.openID = openID
	v, err := r.get(f.visitID)
	if err != nil {
		return err
	}
	open, err := r.openFinding(f, id, v)
	to.Rows, to.FrontRear = append(to.Rows, open), append(to.FrontRear, kept.GetFrontRear())
	return err
}

// openOn is what is open on one vehicle: one page.
func (b *Book) openOn(ctx context.Context, shop, vehicle string, due *pb.CalendarDate, token string) (page Page[*pb.OpenFinding], err error) {
	if token != "" {
		return page, badToken("page_token")
	}
	err = b.read(ctx, shop, func(s view) error {
		v, err := s.vehicle(vehicle)
		if err != nil {
			return err
		}
		if !v.there() {
			return noVehicle(vehicle)
		}
		read := &visits{view: s}
		for _, f := range v.state.open {
			if due != nil && (f.until == nil || !after(due, f.until)) {
				continue
			}
			found, err := read.get(f.visitID)
			if err != nil {
				return err
			}
			open, err := read.openFinding(f, v.record.GetId(), found)
			if err != nil {
				return err
			}
			page.Rows, page.FrontRear = append(page.Rows, open), append(page.FrontRear, v.frontRear())
		}
		return nil
	})
	return page, err
}
