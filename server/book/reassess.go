package book

import (
	"context"
	"iter"
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
		v, err := s.visit(id)
		if err != nil {
			return err
		}
		if v == nil {
			return noVisit(id)
		}
		settings, _, err := s.shop(shop)
		if err != nil {
			return err
		}
		on := dayOf(v, settings)
		if after(since, on) {
			return nil
		}
		out = &Reassessed{Day: on, Kept: v.message(false)}
		return s.reassess(b.judge, settings, by, out)
	})
	if err != nil {
		return nil, err
	}
	return out, nil
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

func (v view) reassess(judge Judge, settings *pb.Shop, by *pb.JudgeBy, out *Reassessed) error {
	in := out.Kept.GetInspection()
	vehicle, err := v.vehicle(in.GetVehicleId())
	if err != nil {
		return err
	}
	if problems := check.Inspection("inspection", in, vehicle.nameless()); len(problems) > 0 {
		return &Mismatch{problems}
	}
	of, err := v.visit(in.GetId())
	if err != nil {
		return err
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

// Visit is a kept visit by its place in the shop's book.
type Visit struct {
	Number      history.Number
	ID, Vehicle string
}

// pageOfVisits is how many entries of the feed are read at a time.
const pageOfVisits = 100

// Visits goes through a shop's visits in the order in which they were recorded,
// those that were corrected too. What is recorded meanwhile comes last. An error
// of reading, or the context's, is the last that it gives.
func (b *Book) Visits(ctx context.Context, shop string) iter.Seq2[Visit, error] {
	return func(yield func(Visit, error) bool) {
		for after := history.Number(0); ; {
			var page []history.Change
			err := b.read(ctx, shop, func(v view) (err error) {
				page, err = v.s.Changes(ctx, after, pageOfVisits)
				return err
			})
			for _, entry := range page {
				change := &rows.Change{}
				if err = decode(entry.Feed, change); err != nil {
					break
				}
				after = entry.Number
				texts, what := rows.NewStrings(change.GetStrings()), change.GetInspection()
				if what != nil && !yield(Visit{after, texts.Text(what.GetInspectionId()), texts.Text(what.GetVehicleId())}, nil) {
					return
				}
			}
			if err != nil {
				yield(Visit{}, err)
			}
			if err != nil || len(page) == 0 {
				return
			}
		}
	}
}
