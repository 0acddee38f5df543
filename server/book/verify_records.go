package book

import (
	"context"
	"slices"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// recordKind holds the records of a kind: what a draft writes is to be there. It gives the
// vehicle that a record is of, "" where it is of none.
type recordKind struct {
	mark byte
	hold func(v view, d *drafting, id string) (vehicle string, err error)
}

// records goes through all that was recorded, each with what leads to it: to a visit its
// covering row and, where it corrects another, the row of that one; to what happened to
// vehicles and tires the rows of these.
func (c *verifying) records(ctx context.Context) error {
	kinds := []recordKind{{mergeMark, c.merge}, {visitMark, c.visit}, {outcomeMark, c.outcome}, {happenedMark, c.happening}, {movesMark, c.moves}, {repairMark, c.repair}, {tireMark, c.tire}}
	if c.rebuild { // which visits stand is asked of each, and has to be right before
		kinds = slices.Insert(kinds, 1, recordKind{visitMark, c.correction})
	}
	for _, kind := range kinds {
		if err := c.eachRecord(ctx, kind.mark, kind.hold); err != nil {
			return err
		}
	}
	return nil
}

// eachRecord holds the records of a kind, page by page, so that what is written anew is seen.
func (c *verifying) eachRecord(ctx context.Context, mark byte, hold func(view, *drafting, string) (string, error)) error {
	for after, more := history.Key(""), true; more; {
		err := c.book.read(ctx, c.shop, func(v view) error {
			page, err := v.s.Scan(ctx, history.Range{Prefix: key(mark), After: after, Limit: pageOfVisits})
			if err != nil {
				return err
			}
			for _, r := range page.Rows {
				after = r.Key
				if err := c.record(v, r.Key.Texts(1)[0], hold); err != nil {
					return err
				}
			}
			more = page.More
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// record holds one record.
func (c *verifying) record(v view, id string, hold func(view, *drafting, string) (string, error)) error {
	d := &drafting{}
	vehicleID, err := hold(v, d, id)
	if err != nil {
		return c.unread(v.ctx, vehicleID, id, err)
	}
	if vehicleID == "" {
		return c.hold(v, nil, id, d)
	}
	of, err := v.vehicle(vehicleID)
	if err != nil {
		return c.unread(v.ctx, vehicleID, id, err)
	}
	if !of.there() {
		c.failf(vehicleID, id, "it is of a vehicle that is not there")
		return nil
	}
	return c.hold(v, &of, id, d)
}

// asItIs keeps a row as it is, where there is one and keep says so.
func (v view) asItIs(d *drafting, k history.Key, keep func(history.Row) bool) (kept bool, err error) {
	row, err := v.s.Get(v.ctx, k)
	if err != nil || row.Version == history.Absent || !keep(row) {
		return false, err
	}
	d.write(k, &history.Put{Key: k, Value: row.Value})
	return true, nil
}

// correction puts which visit one corrects.
func (c *verifying) correction(v view, d *drafting, id string) (string, error) {
	row, in := &rows.Visit{}, &pb.Inspection{}
	_, found, err := v.get(visitKey(id), row)
	if err == nil && found {
		err = proto.Unmarshal(row.GetInspection(), in)
	}
	if corrects := in.GetCorrects().GetInspectionId(); corrects != "" {
		d.put(replacedKey(corrects), &rows.Replaced{By: id})
	}
	return "", err
}

func (c *verifying) visit(v view, d *drafting, id string) (string, error) {
	of, err := v.visit(id)
	if err != nil || of == nil {
		return "", err
	}
	if corrects := of.inspection.GetCorrects().GetInspectionId(); corrects != "" {
		d.put(replacedKey(corrects), &rows.Replaced{By: id})
	}
	kept, err := v.asItIs(d, of.key(), func(r history.Row) bool {
		cover, err := v.readCover(r)
		return err == nil && cover.inspection.GetId() == id && cover.root == of.root && cover.replacedBy == of.replacedBy && cover.number == of.number
	})
	if err != nil || kept {
		return of.vehicle, err
	}
	return of.vehicle, v.coverLost(d, of)
}

// coverLost puts a covering row that is not there or is wrong: its tires are those that it
// names, until the vehicle's record is gone through.
func (v view) coverLost(d *drafting, of *visit) error {
	cover := &drafting{}
	cover.cover(of, bearing(of.inspection, tiresOf(nil, of.root, of.inspection.GetWheels())))
	put := cover.writes[of.key()]
	c, err := v.readCover(history.Row{Key: put.Key, Value: put.Value, Version: of.number})
	if err != nil {
		return err
	}
	if of.replacedBy != "" {
		d.replaced(c, of.replacedBy)
		return nil
	}
	d.coverAgain(c)
	return nil
}

func (c *verifying) outcome(v view, d *drafting, id string) (string, error) {
	o, err := v.outcome(id)
	if err != nil || o == nil {
		return "", err
	}
	on, err := v.resolved(o.vehicle)
	d.event(on, o.time, id, &rows.Event{What: &rows.Event_Outcome{Outcome: id}})
	return on, err
}

func (c *verifying) happening(v view, d *drafting, id string) (string, error) {
	h, err := v.happening(id)
	if err != nil || h == nil {
		return "", err
	}
	on, err := v.resolved(h.said.GetVehicleId())
	d.event(on, h.time, id, &rows.Event{What: &rows.Event_Event{Event: id}})
	return on, err
}

func (c *verifying) moves(v view, d *drafting, id string) (string, error) {
	m, err := v.moves(id)
	if err != nil || m == nil {
		return "", err
	}
	on, err := v.resolved(m.vehicle)
	if err != nil {
		return on, err
	}
	involved := []string{on}
	for _, t := range m.tires {
		at, err := v.resolved(t.GetPlace().GetMounted().GetVehicleId())
		if err != nil {
			return on, err
		}
		if err := v.movedNoted(d, lifeKey(t.GetId(), m.time, m.time, m.time, id, ""), at); err != nil {
			return on, err
		}
		if at != "" {
			involved = append(involved, at)
		}
	}
	for _, of := range involved {
		d.event(of, m.time, id, &rows.Event{What: &rows.Event_Moves{Moves: id}})
	}
	return on, nil
}

// movedNoted puts what is noted with a tire of moves, unless that names the same vehicle.
func (v view) movedNoted(d *drafting, k history.Key, on string) error {
	kept, err := v.asItIs(d, k, func(r history.Row) bool {
		row := &rows.TireEvent{}
		if decode(r.Value, row) != nil || row.GetMoves() != "" || row.GetTold() {
			return false
		}
		_, moved := row.GetWhat().(*rows.TireEvent_Moves)
		then, err := v.resolved(row.GetVehicleId())
		return err == nil && moved && then == on
	})
	if err == nil && !kept {
		d.put(k, &rows.TireEvent{What: &rows.TireEvent_Moves{}, VehicleId: on})
	}
	return err
}

func (c *verifying) repair(v view, d *drafting, id string) (string, error) {
	said := &pb.Repair{}
	e, err := v.record(repairKey(id), said)
	if err != nil || !e.there() {
		return "", err
	}
	at := e.time
	if done := said.GetDoneTime(); done != nil && nanos(done) < nanos(at) {
		at = done
	}
	d.put(lifeKey(said.GetTireId(), at, e.time, e.time, id, ""), &rows.TireEvent{What: &rows.TireEvent_Repair{}})
	return "", v.repairListed(d, said, e.time)
}

// tire puts that a tire departed from a vehicle, where a record tells it to be elsewhere.
func (c *verifying) tire(v view, d *drafting, id string) (string, error) {
	a := newAcross(v, &drafting{})
	return "", v.eachRow(lifeOf(id), func(r history.Row) error {
		row, at := &rows.TireEvent{}, r.Key[len(lifeOf(id)):]
		if err := decode(r.Value, row); err != nil {
			return err
		}
		_, moved := row.GetWhat().(*rows.TireEvent_Moves)
		if !moved && !row.GetTold() {
			return nil
		}
		record := at.Texts(placeSize)[0]
		spot := at[:placeSize].Text(record)
		to, err := a.vehicleTold(row, !moved, record)
		if err != nil {
			return err
		}
		last, err := a.before(id, spot)
		if err != nil || last.vehicle == "" || last.vehicle == to {
			return err
		}
		k := eventsOf(last.vehicle) + spot.Text(id)
		kept, err := v.asItIs(d, k, func(r history.Row) bool {
			is := &rows.Event{}
			if decode(r.Value, is) != nil || is.GetDeparted() != id {
				return false
			}
			then, err := v.resolved(is.GetDepartedTo())
			return err == nil && then == to
		})
		if err == nil && !kept {
			d.put(k, &rows.Event{What: &rows.Event_Departed{Departed: id}, DepartedTo: to})
		}
		return err
	})
}

// repairListed puts a repair into the list of its tire, where it is not in it.
func (v view) repairListed(d *drafting, said *pb.Repair, at *timestamppb.Timestamp) error {
	row := &rows.Repairs{}
	if _, _, err := v.get(repairsKey(said.GetTireId()), row); err != nil {
		return err
	}
	message := d.sent(said)
	if !slices.ContainsFunc(row.GetRepairs(), func(r *rows.Record) bool { return proto.Equal(r, &rows.Record{Message: message, RecordedTime: at}) }) {
		row.Repairs = append(row.Repairs, &rows.Record{Message: message, RecordedTime: at})
		slices.SortStableFunc(row.GetRepairs(), func(a, b *rows.Record) int { return int(nanos(a.GetRecordedTime()) - nanos(b.GetRecordedTime())) })
	}
	d.put(repairsKey(said.GetTireId()), row)
	return nil
}

func (c *verifying) merge(v view, d *drafting, id string) (string, error) {
	said := &pb.MergeVehiclesRequest{}
	e, err := v.record(mergeKey(id), said)
	if err != nil || !e.there() {
		return "", err
	}
	keep, err := v.resolved(said.GetKeepVehicleId())
	if err != nil {
		return "", err
	}
	same, err := v.resolved(said.GetSameVehicleId())
	if err != nil {
		return "", err
	}
	if same != keep {
		d.put(sameKey(same), &rows.Replaced{By: keep})
	}
	return keep, nil
}
