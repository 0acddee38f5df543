package api

import (
	"context"
	"errors"
	"io/fs"
	"strconv"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/check"
)

// GetPhoto gives one piece of the copy of a photo that is kept.
func (s *Server) GetPhoto(ctx context.Context, req *pb.GetPhotoRequest) (*pb.GetPhotoResponse, error) {
	problems := checkPhotoName(req.GetSha256())
	if req.GetOffsetBytes() < 0 {
		problems = append(problems, check.Problem{Path: "offsetBytes", Given: strconv.Itoa(int(req.GetOffsetBytes())), Problem: "not within the photo", Want: "0 to its size"})
	}
	if len(problems) > 0 {
		return nil, &invalid{problems}
	}
	is, err := s.book.Photo(ctx, req.GetShopId(), req.GetSha256())
	if err != nil {
		return nil, err
	}
	if is.Kept == nil {
		return nil, noPhoto(req.GetSha256(), "no photo of this name is kept here")
	}
	data, err := s.photos.Read(req.GetShopId(), req.GetSha256(), int(req.GetOffsetBytes()))
	if errors.Is(err, fs.ErrNotExist) {
		s.log.ErrorContext(ctx, "the copy of a photo is not in its place", "shop", req.GetShopId(), "photo", req.GetSha256())
		return nil, noPhoto(req.GetSha256(), "the copy of this photo is lost; it is taken again")
	}
	if err != nil {
		return nil, err
	}
	return &pb.GetPhotoResponse{Data: data, TotalBytes: is.Kept.GetTotalBytes(), MediaType: is.Kept.GetMediaType(), KeptSha256: is.Kept.GetSha256()}, nil
}

func noPhoto(name, message string) error {
	return &book.Refusal{Reason: pb.ErrorReason_ERROR_REASON_NOT_FOUND, Field: "sha256", Message: message, Metadata: map[string]string{"id": name}}
}
