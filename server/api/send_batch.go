package api

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/check"
)

// maxBatch is how many items one batch has at most.
const maxBatch = 100

// SendBatch takes what waited on a phone.
func (s *Server) SendBatch(ctx context.Context, req *pb.SendBatchRequest) (*pb.SendBatchResponse, error) {
	if n := len(req.GetItems()); n == 0 || n > maxBatch {
		return nil, &invalid{[]check.Problem{{
			Path: "items", Given: strconv.Itoa(n) + " items", Problem: "no batch", Want: "1 to " + strconv.Itoa(maxBatch) + " items",
		}}}
	}
	b := &batch{server: s, req: req, answers: make([]*pb.ItemAnswer, len(req.GetItems()))}
	var places []int
	for place, item := range req.GetItems() {
		b.answers[place] = &pb.ItemAnswer{Id: idOf(item)}
		places = append(places, place)
	}
	for len(places) > 0 {
		if err := b.take(ctx, places); err != nil {
			return nil, err
		}
		// What refers to a record by an id that its chain does not tell, as to a tire that a
		// visit saw first, may find it now.
		before := len(places)
		if places = slices.DeleteFunc(places, func(place int) bool { return !b.notYet(place) }); len(places) == before {
			break
		}
	}
	return &pb.SendBatchResponse{Answers: b.answers, Epoch: s.about.Epoch}, nil
}

// batch is one call of SendBatch.
type batch struct {
	server  *Server
	req     *pb.SendBatchRequest
	answers []*pb.ItemAnswer
}

func (b *batch) notYet(place int) bool {
	return b.answers[place].GetRefused().GetReason() == pb.ErrorReason_ERROR_REASON_NOT_YET
}

// take takes items, of one record one after another.
func (b *batch) take(ctx context.Context, places []int) error {
	take := func(on *book.Book, place int) { b.one(ctx, on, place) }
	return b.server.inTurns(ctx, chains(b.req.GetItems(), places), take, ctx.Err)
}

// one takes one item and answers it.
func (b *batch) one(ctx context.Context, on *book.Book, place int) {
	answer := b.answers[place]
	const call = pb.OutboxService_SendBatch_FullMethodName
	defer func() {
		if p := recover(); p != nil {
			answer.Result = plainly(status.Convert(panicked(ctx, b.server.log, call, p)))
		}
	}()
	server := &Server{book: on, about: b.server.about, log: b.server.log}
	recorded, err := server.takeItem(ctx, b.req, b.req.GetItems()[place], answer)
	if err == nil {
		answer.Result = &pb.ItemAnswer_Recorded{Recorded: recorded}
		return
	}
	st := statusOf(err)
	if st.Code() == codes.Internal {
		b.server.log.ErrorContext(ctx, "item failed", "call", call, "error", err)
	}
	answer.Result = plainly(st)
}

// takeItem makes the single call of an item.
func (s *Server) takeItem(ctx context.Context, of *pb.SendBatchRequest, item *pb.OutboxItem, answer *pb.ItemAnswer) (*pb.Recorded, error) {
	if problems := checkItem(item); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	shop := of.GetShopId()
	switch r := item.GetRecord().(type) {
	case *pb.OutboxItem_Vehicle:
		out, err := s.RecordVehicle(ctx, &pb.RecordVehicleRequest{ShopId: shop, Vehicle: r.Vehicle, Clear: item.GetClear()})
		answer.MaybeSameVehicleIds = out.GetMaybeSameVehicleIds()
		return out.GetRecorded(), err
	case *pb.OutboxItem_Tire:
		out, err := s.RecordTire(ctx, &pb.RecordTireRequest{ShopId: shop, Tire: r.Tire, Clear: item.GetClear()})
		return out.GetRecorded(), err
	case *pb.OutboxItem_Inspection:
		out, err := s.recordInspection(ctx, &pb.RecordInspectionRequest{ShopId: shop, Inspection: r.Inspection, SentTime: of.GetSentTime()})
		return out.GetRecorded(), err
	case *pb.OutboxItem_Moves:
		out, err := s.MoveTires(ctx, &pb.MoveTiresRequest{ShopId: shop, VehicleId: item.GetVehicleId(), Moves: r.Moves, Rotation: item.GetRotation()})
		return out.GetRecorded(), err
	case *pb.OutboxItem_Repair:
		out, err := s.RecordRepair(ctx, &pb.RecordRepairRequest{ShopId: shop, Repair: r.Repair})
		return out.GetRecorded(), err
	case *pb.OutboxItem_Event:
		out, err := s.RecordEvent(ctx, &pb.RecordEventRequest{ShopId: shop, Event: r.Event})
		return out.GetRecorded(), err
	case *pb.OutboxItem_Outcome:
		out, err := s.recordOutcome(ctx, &pb.RecordOutcomeRequest{ShopId: shop, Outcome: r.Outcome})
		return out.Recorded, err
	}
	return nil, fmt.Errorf("an item of %T", item.GetRecord())
}

// checkItem finds what does not go with an item's record.
func checkItem(item *pb.OutboxItem) (problems []check.Problem) {
	_, vehicle := item.GetRecord().(*pb.OutboxItem_Vehicle)
	_, tire := item.GetRecord().(*pb.OutboxItem_Tire)
	_, moves := item.GetRecord().(*pb.OutboxItem_Moves)
	no := func(path, given, want string) {
		problems = append(problems, check.Problem{Path: path, Given: given, Problem: "not of this record", Want: want})
	}
	if item.GetRecord() == nil {
		return []check.Problem{{Path: "record", Problem: "missing", Want: "one of vehicle, tire, inspection, moves, repair, outcome, event"}}
	}
	if item.GetVehicleId() != "" && !moves {
		no("vehicleId", item.GetVehicleId(), "moves, or left out")
	}
	if item.GetRotation() != nil && !moves {
		no("rotation", "", "moves, or left out")
	}
	if len(item.GetClear()) > 0 && !vehicle && !tire {
		no("clear", strings.Join(item.GetClear(), ", "), "a vehicle or a tire, or left out")
	}
	return problems
}

// plainly is a status in plain fields.
func plainly(st *status.Status) *pb.ItemAnswer_Refused {
	out := &pb.Refused{Message: st.Message(), Remedy: remedyOf(st)}
	for _, detail := range st.Details() {
		switch d := detail.(type) {
		case *errdetails.ErrorInfo:
			out.Reason = pb.ErrorReason(pb.ErrorReason_value["ERROR_REASON_"+d.GetReason()])
			if out.GetReason() == pb.ErrorReason_ERROR_REASON_NOT_YET {
				out.MissingId = d.GetMetadata()["id"]
			}
		case *errdetails.BadRequest:
			for _, f := range d.GetFieldViolations() {
				out.Fields = append(out.Fields, &pb.FieldProblem{Path: f.GetField(), Problem: f.GetDescription()})
			}
		case *errdetails.RetryInfo:
			out.RetryDelay = d.GetRetryDelay()
		}
	}
	return &pb.ItemAnswer_Refused{Refused: out}
}
