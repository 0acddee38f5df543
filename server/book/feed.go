package book

import (
	"context"
	"time"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// Pulled is what came after a token.
type Pulled struct {
	Changes []Change // in commit order, none skipped
	Token   string   // everything up to here is in Changes
	More    bool     // there is more to pull at once
}

// Change is one commit, without words.
type Change struct {
	*pb.Change
	FrontRear map[string]bool // by vehicle, how its positions are told
	Token     string          // everything up to this change was given
	point
}

// maxPull is how many bytes of changes one answer holds at most, but for a single
// change that is larger.
const maxPull = 4 << 20

// PullChanges gives the changes after a token in commit order, none skipped.
// When there are none it waits for one, at most so long.
func (b *Book) PullChanges(ctx context.Context, shop, token string, size int, wait time.Duration) (Pulled, error) {
	after, err := b.feedAfter(token, shop)
	if err != nil {
		return Pulled{}, err
	}
	out, err := b.changes(ctx, shop, after, size)
	if err != nil || len(out.Changes) > 0 || wait <= 0 {
		return out, err
	}
	waiting, cancel := context.WithTimeout(ctx, wait)
	defer cancel()
	go func() {
		select {
		case <-b.ending:
			cancel()
		case <-waiting.Done():
		}
	}()
	switch err := b.store.Wait(waiting, shop, after.number); {
	case err == nil:
		return b.changes(ctx, shop, after, size)
	case waiting.Err() != nil && ctx.Err() == nil:
		return out, nil // nothing came in time; the token stands
	default:
		return Pulled{}, err
	}
}

func (b *Book) changes(ctx context.Context, shop string, after point, size int) (out Pulled, err error) {
	err = b.read(ctx, shop, func(s view) error {
		last, err := s.s.Last(s.ctx)
		if err != nil {
			return err
		}
		entries, err := s.after(after, size)
		if err != nil {
			return err
		}
		bytes, read := 0, &visits{view: s, nameless: true}
		for _, e := range entries {
			c, err := read.change(e)
			if err != nil {
				return err
			}
			if bytes += proto.Size(c); bytes > maxPull && len(out.Changes) > 0 {
				break
			}
			after = c.point
			c.Token = b.feedToken(shop, after)
			out.Changes = append(out.Changes, c)
		}
		out.Token, out.More = b.feedToken(shop, after), after.number < last
		return nil
	})
	return out, err
}

// change is an entry of the feed as callers see it. The commit that made the change
// is the revision that it made.
func (r *visits) change(e history.Change) (Change, error) {
	row := &rows.Change{}
	if err := decode(e.Feed, row); err != nil {
		return Change{}, err
	}
	number, texts := decimal(e.Number), rows.NewStrings(row.GetStrings())
	out := Change{Change: &pb.Change{Number: number, RecordedTime: row.GetRecordedTime()}, FrontRear: map[string]bool{}, point: point{e.Number, string(row.GetMark())}}
	switch what := row.GetWhat().(type) {
	case *rows.Change_Inspection:
		in, err := r.inspectionChange(what.Inspection, texts)
		if err != nil {
			return Change{}, err
		}
		out.What = &pb.Change_Inspection{Inspection: in}
	case *rows.Change_Vehicle:
		out.What = &pb.Change_Vehicle{Vehicle: &pb.VehicleChange{VehicleId: texts.Text(what.Vehicle), Revision: number}}
	case *rows.Change_Outcome:
		o, err := r.outcome(texts.Text(what.Outcome))
		if err != nil {
			return Change{}, err
		}
		if o != nil {
			out.What = &pb.Change_Outcome{Outcome: o.said}
		}
	case *rows.Change_Erasure:
		out.What = &pb.Change_Erasure{Erasure: &pb.Erasure{VehicleId: texts.Text(what.Erasure)}}
	case *rows.Change_Tire:
		out.What = &pb.Change_Tire{Tire: &pb.TireChange{TireId: texts.Text(what.Tire), Revision: number}}
	case *rows.Change_Repair:
		repair := &pb.Repair{}
		if err := proto.Unmarshal(what.Repair, repair); err != nil {
			return Change{}, err
		}
		out.What = &pb.Change_Repair{Repair: repair}
	case *rows.Change_Moves:
		m, err := r.moves(texts.Text(what.Moves))
		if err != nil {
			return Change{}, err
		}
		if m != nil {
			out.What = &pb.Change_Moves{Moves: m.moves}
		}
	case *rows.Change_Event:
		h, err := r.happening(texts.Text(what.Event))
		if err != nil {
			return Change{}, err
		}
		if h != nil {
			out.What = &pb.Change_Event{Event: h.said}
		}
	case *rows.Change_Merge:
		m := &pb.MergeVehiclesRequest{}
		if _, err := r.record(mergeKey(texts.Text(what.Merge)), m); err != nil {
			return Change{}, err
		}
		out.What = &pb.Change_Merge{Merge: &pb.VehicleMerge{KeepVehicleId: m.GetKeepVehicleId(), SameVehicleId: m.GetSameVehicleId()}}
	case *rows.Change_Photo:
		out.What = &pb.Change_Photo{Photo: &pb.PhotoChange{Sha256: texts.Text(what.Photo)}}
	case *rows.Change_Shop:
		out.What = &pb.Change_Shop{Shop: &pb.ShopChange{Revision: number}}
	}
	out.Closed, out.Opened = closedOf(row.GetClosed(), texts), texts.TextsOf(row.GetOpened())
	for _, v := range row.GetVehicles() {
		id := texts.Text(v.GetVehicleId())
		s, err := stateOf(v, texts).message(id, texts.Text(v.GetTag()), r)
		if err != nil {
			return Change{}, err
		}
		out.Vehicles, out.FrontRear[id] = append(out.Vehicles, s), v.GetFrontRear()
	}
	return out, nil
}

func (r *visits) inspectionChange(row *rows.VisitChange, texts *rows.Strings) (*pb.InspectionChange, error) {
	out := &pb.InspectionChange{
		InspectionId: texts.Text(row.GetInspectionId()), VehicleId: texts.Text(row.GetVehicleId()), Tag: texts.Text(row.GetTag()),
		Opened: texts.TextsOf(row.GetOpened()),
	}
	out.Closed = closedOf(row.GetClosed(), texts)
	v, err := r.get(out.GetInspectionId())
	if err != nil || v == nil {
		return out, err
	}
	out.CorrectsInspectionId, out.OrderReference = v.inspection.GetCorrects().GetInspectionId(), v.inspection.GetOrderReference()
	out.CountedTime = v.told()
	out.TakenTime, out.Assessment = v.inspection.GetTakenTime(), proto.CloneOf(v.assessment)
	return out, nil
}

func closedOf(kept []*rows.ClosedFinding, texts *rows.Strings) (all []*pb.ClosedFinding) {
	for _, f := range kept {
		closed := &pb.ClosedFinding{}
		texts.Give(closed, f)
		all = append(all, closed)
	}
	return all
}

// closes adds what was closed, and how.
func (c entryOfFeed) closes(all []*pb.ClosedFinding) (kept []*rows.ClosedFinding) {
	for _, f := range all {
		row := &rows.ClosedFinding{}
		c.texts.Keep(row, f)
		kept = append(kept, row)
	}
	return kept
}

// entryOfFeed is a change to be written.
type entryOfFeed struct {
	texts *rows.Strings
	row   *rows.Change
}

func newChange(at *timestamppb.Timestamp) entryOfFeed {
	return entryOfFeed{rows.NewStrings(nil), &rows.Change{RecordedTime: at}}
}

// touches adds a vehicle with all that is open on it.
func (c entryOfFeed) touches(v vehicle, s state) {
	row := s.row(c.texts)
	row.VehicleId, row.Tag, row.FrontRear = c.texts.Number(v.record.GetId()), c.texts.Number(v.record.GetTag()), v.frontRear()
	c.row.Vehicles = append(c.row.Vehicles, row)
}

// change puts a change into the feed.
func (d *drafting) change(c entryOfFeed) {
	c.row.Strings, c.row.Mark = c.texts.Texts(), mark()
	d.Feed = d.must(encode(c.row))
}
