package app

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"
	"google.golang.org/grpc/metadata"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book"
)

// remote is a running server that keeps the book.
type remote struct{ addr, tokenFile string }

// onServer lets a running server judge the book of one shop anew, and prints what differs.
func (r *rejudging) onServer(ctx context.Context, at remote, shops []string) error {
	if len(shops) != 1 {
		return inputError{errors.New("--server judges one shop: name it with --shop")}
	}
	token, err := os.ReadFile(at.tokenFile)
	if err != nil {
		return err
	}
	conn, err := grpc.NewClient(at.addr, grpc.WithTransportCredentials(insecure.NewCredentials()))
	if err != nil {
		return inputError{err}
	}
	defer func() { _ = conn.Close() }()
	ctx = metadata.AppendToOutgoingContext(ctx, "authorization", "Bearer "+strings.TrimSpace(string(token)))
	r.bar = newProgress(r.errs, nil)
	err = r.follow(ctx, pb.NewInspectionServiceClient(conn), shops[0])
	if s, ok := status.FromError(err); ok && err != nil {
		err = fmt.Errorf("the server at %s: %s", at.addr, s.Message())
	}
	if ctx.Err() != nil {
		err = errors.New("interrupted before every visit was judged")
	}
	return errors.Join(err, r.sum(err == nil))
}

// follow takes what the server judges until it is done.
func (r *rejudging) follow(ctx context.Context, server pb.InspectionServiceClient, shop string) error {
	answers, err := server.ReassessBook(ctx, &pb.ReassessBookRequest{ShopId: shop, SinceDate: r.since, JudgeBy: r.by})
	if err != nil {
		return err
	}
	told := 0
	for {
		a, err := answers.Recv()
		switch {
		case errors.Is(err, io.EOF):
			return errors.New("the server ended before it was done")
		case err != nil:
			return err
		case a.GetDone():
			r.tally.Same(int(a.GetJudged()) - told)
			return nil
		case a.GetInspectionId() == "": // how far it is
			continue
		}
		told++
		visit := book.Again{ID: a.GetInspectionId(), Vehicle: a.GetVehicleId()}
		if a.GetDoesNotFit() {
			visit.Problem = errors.New("it does not fit what was recorded of its vehicle since")
		} else if visit.Reassessed, err = r.asked(ctx, server, shop, a); err != nil {
			return err
		}
		if err := r.tell(shop, visit, func(*book.Reassessed) {}); err != nil {
			return err
		}
	}
}

// asked is a visit that differs, as the server tells it whole.
func (r *rejudging) asked(ctx context.Context, server pb.InspectionServiceClient, shop string, of *pb.ReassessBookResponse) (*book.Reassessed, error) {
	reader := proto.CloneOf(r.reader)
	reader.View = pb.View_VIEW_FULL
	kept, err := server.GetInspection(ctx, &pb.GetInspectionRequest{ShopId: shop, InspectionId: of.GetInspectionId(), Reader: reader})
	if err != nil {
		return nil, err
	}
	now, err := server.ReassessInspection(ctx, &pb.ReassessInspectionRequest{ShopId: shop, InspectionId: of.GetInspectionId(), JudgeBy: r.by, Reader: reader})
	if err != nil {
		return nil, err
	}
	return &book.Reassessed{Tag: of.GetTag(), Day: of.GetLocalDate(), Kept: book.Kept{KeptInspection: kept.GetKept()}, Now: now, OtherParts: of.GetOtherParts()}, nil
}
