package api

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"sync"

	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/check"
)

// ImportAnswer is what became of a record that was to be imported.
type ImportAnswer struct {
	Repeated bool        // it was in the book already
	Refused  *pb.Refused // why it was not taken; nil: it is in the book
}

// importedKinds are the kinds of records, with the field that each stands in.
var importedKinds = map[string]string{
	"vehicle": "vehicle", "tire": "tire", "visit": "inspection", "moves": "moves", "repair": "repair", "event": "event", "outcome": "outcome",
}

// Import takes records of another book as history, see book.Importing: each as its single
// call would, in their order where one refers to another. A record that is refused keeps no
// other from being taken. Errors: what keeps any from being taken, such as a full disk; some
// may have been.
func (s *Server) Import(ctx context.Context, shop string, records []*rows.Exported) ([]ImportAnswer, error) {
	answers, items := make([]ImportAnswer, len(records)), make([]*pb.OutboxItem, len(records))
	var places []int
	for i, r := range records {
		if problems := checkKind(r); len(problems) > 0 {
			answers[i].Refused = plainly(statusOf(&invalid{problems})).Refused
			continue
		}
		items[i], places = itemOf(r), append(places, i)
	}
	all := chains(items, places)
	for _, chain := range all {
		slices.Sort(chain) // in their own order
	}
	im := &importing{server: s, shop: shop, records: records, items: items, answers: answers}
	take := func(on *book.Book, place int) { im.one(ctx, on, place) }
	return answers, s.inTurns(ctx, all, take, func() error {
		im.alone(ctx)
		return cmp.Or(ctx.Err(), im.failed)
	})
}

// importing is one call of Import.
type importing struct {
	server  *Server
	shop    string
	records []*rows.Exported
	items   []*pb.OutboxItem
	answers []ImportAnswer

	mu        sync.Mutex
	failed    error
	contended []int // records that were in each other's way
}

// alone takes one after the other what was in each other's way: outcomes of several visits of a
// vehicle name it by none of their ids.
func (im *importing) alone(ctx context.Context) {
	all := im.contended
	for _, place := range all {
		im.one(ctx, im.server.book, place)
	}
	if len(im.contended) > len(all) {
		im.failed = cmp.Or(im.failed, errContended)
	}
	im.contended = nil
}

var errContended = errors.New("another program changes the same records")

// one takes one record and answers it.
func (im *importing) one(ctx context.Context, on *book.Book, place int) {
	defer func() {
		if p := recover(); p != nil {
			im.answers[place].Refused = plainly(status.Convert(panicked(ctx, im.server.log, "import", p))).Refused
		}
	}()
	server := &Server{book: on.Importing(im.records[place].GetCountedTime()), about: im.server.about, log: im.server.log}
	recorded, err := server.takeItem(ctx, &pb.SendBatchRequest{ShopId: im.shop}, im.items[place], &pb.ItemAnswer{})
	if err == nil {
		im.answers[place].Repeated = recorded.GetRepeatedCall()
		return
	}
	st := statusOf(err)
	refused := plainly(st).Refused
	switch {
	case refused.GetReason() == pb.ErrorReason_ERROR_REASON_CONTENDED:
		im.mu.Lock()
		defer im.mu.Unlock()
		im.contended = append(im.contended, place)
	case refused.GetReason() == pb.ErrorReason_ERROR_REASON_TOO_LARGE, slices.Contains(ofTheRecord, st.Code()):
		im.answers[place].Refused = refused
	default:
		im.mu.Lock()
		defer im.mu.Unlock()
		im.failed = cmp.Or(im.failed, err)
	}
}

// ofTheRecord are the codes of what is wrong with a record itself.
var ofTheRecord = []codes.Code{codes.InvalidArgument, codes.NotFound, codes.AlreadyExists, codes.FailedPrecondition}

// checkKind finds what is wrong with a record beside its message.
func checkKind(r *rows.Exported) []check.Problem {
	const kinds = "vehicle, tire, visit, moves, repair, event or outcome"
	m := r.ProtoReflect()
	field := m.WhichOneof(m.Descriptor().Oneofs().ByName("record"))
	want, known := importedKinds[r.GetKind()]
	switch {
	case r.GetKind() != "" && !known:
		return []check.Problem{{Path: "kind", Given: r.GetKind(), Problem: "no kind of record", Want: kinds}}
	case field == nil && known:
		return []check.Problem{{Path: want, Problem: "missing"}}
	case field == nil:
		return []check.Problem{{Path: "kind", Problem: "missing", Want: kinds}}
	case known && string(field.Name()) != want:
		return []check.Problem{{Path: field.JSONName(), Problem: "not of this kind of record", Want: want}}
	}
	return nil
}

// itemOf is a record as a phone sends it.
func itemOf(r *rows.Exported) *pb.OutboxItem {
	out := &pb.OutboxItem{VehicleId: r.GetVehicleId()}
	switch of := r.GetRecord().(type) {
	case *rows.Exported_Vehicle:
		out.Record = &pb.OutboxItem_Vehicle{Vehicle: of.Vehicle}
	case *rows.Exported_Tire:
		out.Record = &pb.OutboxItem_Tire{Tire: of.Tire}
	case *rows.Exported_Inspection:
		out.Record = &pb.OutboxItem_Inspection{Inspection: of.Inspection}
	case *rows.Exported_Moves:
		out.Record = &pb.OutboxItem_Moves{Moves: of.Moves}
	case *rows.Exported_Repair:
		out.Record = &pb.OutboxItem_Repair{Repair: of.Repair}
	case *rows.Exported_Event:
		out.Record = &pb.OutboxItem_Event{Event: of.Event}
	case *rows.Exported_Outcome:
		out.Record = &pb.OutboxItem_Outcome{Outcome: of.Outcome}
	}
	return out
}
