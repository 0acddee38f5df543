package book

import (
	"cmp"
	"context"
	"fmt"
	"iter"
	"runtime"
	"slices"
	"sync"
	"time"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/check"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/translate"
)

// Reassessed is a kept visit beside what it would be judged to mean now, without words.
type Reassessed struct {
	Tag  string           // of the vehicle
	Day  *pb.CalendarDate // of the visit at the shop, or else that on which it was recorded
	Kept Kept
	Now  *pb.ReassessInspectionResponse

	FrontRear bool // how positions of the vehicle are told now

	// OtherParts names the parts of the assessment beside its findings that differ,
	// by the contract's names: "work".
	OtherParts []string
}

// Differs tells whether the visit means anything else now.
func (r *Reassessed) Differs() bool {
	return len(r.Now.GetAppeared())+len(r.Now.GetDisappeared())+len(r.Now.GetChanged())+len(r.OtherParts) > 0
}

// Reassess judges a kept visit as it would be judged now, with the visits before
// it and what was known of its tires, beside what it was judged to mean then, and
// says which findings differ. The vehicle and the shop's settings are as they stand
// now. by is what to judge by, nil: what the vehicle's use and the visit say. Nothing
// is stored. It gives nil for a visit of a day before since; nil: any day.
//
// Errors: *Refusal for a visit that there is not; *Mismatch for one that does not fit
// what has been recorded of its vehicle since; the store's.
func (b *Book) Reassess(ctx context.Context, shop, id string, since *pb.CalendarDate, by *pb.JudgeBy) (*Reassessed, error) {
	var out *Reassessed
	err := b.read(ctx, shop, func(s view) error {
		settings, _, err := s.shop(shop)
		if err != nil {
			return err
		}
		out, err = s.again(b.judge, settings, id, since, by)
		return err
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

// again judges a visit anew; nil for one of a day before since.
func (v view) again(judge Judge, settings *pb.Shop, id string, since *pb.CalendarDate, by *pb.JudgeBy) (*Reassessed, error) {
	of, err := v.visit(id)
	if err != nil {
		return nil, err
	}
	if of == nil {
		return nil, noVisit(id)
	}
	on := dayOf(of, settings)
	if after(since, on) {
		return nil, nil //nolint:nilnil // of a day before
	}
	out := &Reassessed{Day: on, Kept: of.message(false)}
	return out, v.reassess(judge, settings, by, of, out)
}

// dayOf is the day of a visit at the shop, or else that on which it was recorded.
func dayOf(v *visit, settings *pb.Shop) *pb.CalendarDate {
	if on := day(v.inspection, settings); on != nil {
		return on
	}
	if on := localDate(v.time, settings.GetTimeZone()); on != nil {
		return on
	}
	return localDate(v.time, time.UTC.String())
}

func (v view) reassess(judge Judge, settings *pb.Shop, by *pb.JudgeBy, of *visit, out *Reassessed) error {
	in := out.Kept.GetInspection()
	vehicle, err := v.vehicle(in.GetVehicleId())
	if err != nil {
		return err
	}
	if problems := check.Inspection("inspection", in, vehicle.nameless()); len(problems) > 0 {
		return &Mismatch{problems}
	}
	place, err := v.course(of)
	if err != nil {
		return err
	}
	arrivals, err := v.arrivalsThen(in, place.before.tires)
	if err != nil {
		return err
	}
	req, err := v.request(settings.GetId(), vehicle.record, in, place, arrivals)
	if err != nil {
		return err
	}
	req.JudgeBy = by
	now, err := v.judged(judge, settings.GetId(), vehicle.record, req)
	if err != nil {
		return err
	}
	out.Tag, out.FrontRear = vehicle.record.GetTag(), vehicle.frontRear()
	out.Now, out.OtherParts = difference(out.Kept.GetAssessment(), now)
	return nil
}

// difference names the findings that appeared, disappeared or say another thing,
// and the other parts that do.
func difference(old, now *pb.Assessment) (out *pb.ReassessInspectionResponse, otherParts []string) {
	out = &pb.ReassessInspectionResponse{Assessment: now}
	was, means := translate.Meaning(old), translate.Meaning(now)
	before := map[string]*pb.Finding{}
	for _, f := range was.GetFindings() {
		before[f.GetId()] = f
	}
	for _, f := range means.GetFindings() {
		o, there := before[f.GetId()]
		switch {
		case !there:
			out.Appeared = append(out.Appeared, f.GetId())
		case !proto.Equal(o, f):
			out.Changed = append(out.Changed, f.GetId())
		}
		delete(before, f.GetId())
	}
	for _, f := range was.GetFindings() {
		if before[f.GetId()] != nil {
			out.Disappeared = append(out.Disappeared, f.GetId())
		}
	}
	was.Findings, means.Findings = nil, nil
	return out, differing(was, means)
}

// differing names the fields in which two messages of one kind differ.
func differing(a, b proto.Message) (names []string) {
	x, y := a.ProtoReflect(), b.ProtoReflect()
	for i := range x.Descriptor().Fields().Len() {
		if field := x.Descriptor().Fields().Get(i); !sameIn(field, x, y) {
			names = append(names, string(field.Name()))
		}
	}
	return names
}

func sameIn(field protoreflect.FieldDescriptor, x, y protoreflect.Message) bool {
	return x.Has(field) == y.Has(field) && x.Get(field).Equal(y.Get(field))
}

// Again is a visit of a book that was judged anew.
type Again struct {
	*Reassessed        // nil where it could not be judged
	ID, Vehicle string // of the visit
	Problem     error  // why it could not: *Mismatch where it does not fit its vehicle any more
}

// ReassessBook judges all visits of a shop of a day and later ones anew, nil: of any, as
// Reassess does: vehicles side by side on all cores, each read once, in no order; the visits
// of one in the order of their places. each is called by one at a time; its error ends all.
func (b *Book) ReassessBook(ctx context.Context, shop string, since *pb.CalendarDate, by *pb.JudgeBy, each func(Again) error) error {
	ctx, end := context.WithCancelCause(ctx)
	defer end(nil)
	vehicles, judged := make(chan string), make(chan Again)
	go func() {
		defer close(vehicles)
		if err := b.eachVehicle(ctx, shop, vehicles); err != nil {
			end(err)
		}
	}()
	var judges sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		judges.Go(func() {
			for id := range vehicles {
				if err := b.reassessVehicle(ctx, shop, id, since, by, judged); err != nil {
					end(err)
					return
				}
			}
		})
	}
	go func() {
		judges.Wait()
		close(judged)
	}()
	for a := range judged {
		if ctx.Err() != nil {
			continue
		}
		if err := each(a); err != nil {
			end(err)
		}
	}
	return context.Cause(ctx)
}

// eachVehicle names the vehicles of a shop, but for those that were found to be others.
func (b *Book) eachVehicle(ctx context.Context, shop string, to chan<- string) error {
	for behind, more := history.Key(""), true; more; {
		var ids []string
		err := b.read(ctx, shop, func(s view) error {
			page, err := s.s.Scan(ctx, history.Range{Prefix: key(vehicleMark), After: behind, Limit: pageOfVisits})
			if err != nil {
				return err
			}
			for _, r := range page.Rows {
				behind = r.Key
				id := r.Key.Texts(1)[0]
				if now, err := s.resolved(id); err != nil {
					return err
				} else if now == id {
					ids = append(ids, id)
				}
			}
			more = page.More
			return nil
		})
		if err != nil {
			return err
		}
		for _, id := range ids {
			select {
			case to <- id:
			case <-ctx.Done():
				return ctx.Err()
			}
		}
	}
	return nil
}

// reassessVehicle judges the visits of one vehicle anew, those that were corrected too.
func (b *Book) reassessVehicle(ctx context.Context, shop, vehicle string, since *pb.CalendarDate, by *pb.JudgeBy, to chan<- Again) error {
	return b.read(ctx, shop, func(s view) error {
		s.s = newReadOnce(s.s, vehicle)
		settings, _, err := s.shop(shop)
		if err != nil {
			return err
		}
		page, err := s.s.Scan(ctx, history.Range{Prefix: historyOf(vehicle)})
		for ; err == nil && len(page.Rows) > 0; page, err = s.s.Scan(ctx, history.Range{Prefix: historyOf(vehicle), After: page.Rows[len(page.Rows)-1].Key}) {
			for _, r := range page.Rows {
				c, err := s.readCover(r)
				if err != nil {
					return err
				}
				again, problem := s.tryAgain(b.judge, settings, c.inspection.GetId(), since, by)
				if again == nil && problem == nil { // of a day before
					continue
				}
				select {
				case to <- Again{again, c.inspection.GetId(), vehicle, problem}:
				case <-ctx.Done():
					return ctx.Err()
				}
			}
		}
		return err
	})
}

// tryAgain judges a visit anew. A judgement that panics is a problem of that visit.
func (v view) tryAgain(judge Judge, settings *pb.Shop, id string, since *pb.CalendarDate, by *pb.JudgeBy) (r *Reassessed, err error) {
	defer func() {
		if p := recover(); p != nil {
			r, err = nil, fmt.Errorf("the judgement panicked: %v", p)
		}
	}()
	if r, err = v.again(judge, settings, id, since, by); err != nil {
		return nil, err
	}
	return r, nil
}

// Visit is a kept visit by its place in the shop's book.
type Visit struct {
	Number      history.Number
	ID, Vehicle string
}

// pageOfVisits is how many of them are read at a time.
const pageOfVisits = 100

// Visits goes through the visits that a shop has, in the order in which they were
// recorded, those that were corrected too. An error of reading, or the context's, is
// the last that it gives.
func (b *Book) Visits(ctx context.Context, shop string) iter.Seq2[Visit, error] {
	return func(yield func(Visit, error) bool) {
		all, err := b.visits(ctx, shop)
		for _, v := range all {
			if !yield(v, nil) {
				return
			}
		}
		if err != nil {
			yield(Visit{}, err)
		}
	}
}

// visits reads them from their rows: the feed does not keep them for ever.
func (b *Book) visits(ctx context.Context, shop string) (all []Visit, err error) {
	err = b.read(ctx, shop, func(v view) error {
		for behind, more := history.Key(""), true; more; {
			page, err := v.s.Scan(ctx, history.Range{Prefix: key(visitMark), After: behind, Limit: pageOfVisits})
			if err != nil {
				return err
			}
			for _, r := range page.Rows {
				row, in := &rows.Visit{}, &pb.Inspection{}
				if err := decode(r.Value, row); err != nil {
					return err
				}
				if err := proto.Unmarshal(row.GetInspection(), in); err != nil {
					return err
				}
				all, behind = append(all, Visit{r.Version, in.GetId(), in.GetVehicleId()}), r.Key
			}
			more = page.More
		}
		return nil
	})
	slices.SortFunc(all, func(a, b Visit) int { return cmp.Compare(a.Number, b.Number) })
	return all, err
}
