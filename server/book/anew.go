package book

import (
	"context"
	"iter"
	"time"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/translate"
)

// Wishes are how a kept visit is to be judged anew.
type Wishes struct {
	Rulebook string          // its id or name, one that there is; "": chosen by the vehicle's use
	Language string          // BCP 47 tag; "": the shop's
	Units    *pb.ReaderUnits // nil: the shop's
}

// Anew is a kept visit beside what it would be judged to mean now.
type Anew struct {
	Tag  string           // of the vehicle
	Day  *pb.CalendarDate // of the visit at the shop, or else that on which it was recorded
	Kept *pb.KeptInspection
	Now  *pb.ReassessInspectionResponse

	// Besides names the parts of the assessment beside its findings that differ,
	// by the contract's names: "work".
	Besides []string
}

// Differs tells whether the visit means anything else now, whatever the words.
func (a *Anew) Differs() bool {
	return len(a.Now.GetAppeared())+len(a.Now.GetDisappeared())+len(a.Now.GetChanged())+len(a.Besides) > 0
}

// Reassess judges a kept visit anew and says which findings differ. Nothing is
// stored.
func (b *Book) Reassess(ctx context.Context, shop, id string, w Wishes) (*pb.ReassessInspectionResponse, error) {
	a, err := b.JudgeAnew(ctx, shop, id, nil, w)
	if err != nil {
		return nil, err
	}
	return a.Now, nil
}

// JudgeAnew judges a kept visit as it would be judged now, with the visits before
// it and what was known of its tires, beside what it was judged to mean then. The
// vehicle and the shop's settings are as they stand now. Nothing is stored. It gives nil for
// a visit of a day before since; nil: any day.
//
// Errors: *Refusal for a visit that there is not; *Unfit for one that does not fit
// what has been recorded of its vehicle since; the store's.
func (b *Book) JudgeAnew(ctx context.Context, shop, id string, since *pb.CalendarDate, w Wishes) (*Anew, error) {
	var out *Anew
	err := b.read(ctx, shop, func(s view) error {
		kept, err := s.inspection(id)
		if err != nil {
			return err
		}
		if kept == nil {
			return noVisit(id)
		}
		settings, _, err := s.shop(shop)
		if err != nil {
			return err
		}
		on := dayOf(kept, settings)
		if after(since, on) {
			return nil
		}
		out = &Anew{Day: on, Kept: kept}
		return s.judgeAnew(b.judge, settings, w, out)
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

// dayOf is the day of a visit at the shop, or else that on which it was recorded.
func dayOf(kept *pb.KeptInspection, settings *pb.Shop) *pb.CalendarDate {
	if on := day(kept.GetInspection(), settings); on != nil {
		return on
	}
	if on := localDate(kept.GetRecordedAt(), settings.GetTimeZone()); on != nil {
		return on
	}
	return localDate(kept.GetRecordedAt(), time.UTC.String())
}

func (v view) judgeAnew(judge Judge, settings *pb.Shop, w Wishes, out *Anew) error {
	visit := out.Kept.GetInspection()
	is, err := v.vehicle(visit.GetVehicleId())
	if err != nil {
		return err
	}
	if problems := check.Inspection("inspection", visit, is.record); len(problems) > 0 {
		return &Unfit{problems}
	}
	at, err := v.course(visit.GetVehicleId(), visit.GetId())
	if err != nil {
		return err
	}
	brought, err := v.broughtThen(visit, at.before.GetTires())
	if err != nil {
		return err
	}
	req, err := v.request(settings.GetId(), is.record, visit, at, brought)
	if err != nil {
		return err
	}
	if w.Rulebook != "" {
		req.RulebookIds = []string{w.Rulebook}
	}
	if w.Language != "" {
		req.Language = w.Language
	}
	if w.Units != nil {
		req.Units = w.Units
	}
	now, err := v.judged(judge, settings.GetId(), req)
	if err != nil {
		return err
	}
	out.Tag = is.record.GetTag()
	out.Now, out.Besides = difference(out.Kept.GetAssessment(), now)
	return nil
}

// difference names the findings that appeared, disappeared or say another thing,
// and the other parts that do, whatever the words and the language.
func difference(old, now *pb.Assessment) (out *pb.ReassessInspectionResponse, besides []string) {
	out = &pb.ReassessInspectionResponse{Assessment: now}
	was, is := translate.Wordless(old), translate.Wordless(now)
	before := map[string]*pb.Finding{}
	for _, f := range was.GetFindings() {
		before[f.GetId()] = f
	}
	for _, f := range is.GetFindings() {
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
	was.Findings, is.Findings = nil, nil
	return out, differing(was, is)
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
		for at := history.Number(0); ; {
			var page []history.Change
			err := b.read(ctx, shop, func(v view) (err error) {
				page, err = v.s.Changes(ctx, at, pageOfVisits)
				return err
			})
			for _, entry := range page {
				change := &pb.Change{}
				if err = decode(entry.Feed, change); err != nil {
					break
				}
				at = entry.Number
				if is := change.GetInspection(); is != nil && !yield(Visit{at, is.GetInspectionId(), is.GetVehicleId()}, nil) {
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
