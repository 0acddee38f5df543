package api

import (
	"context"
	"errors"
	"fmt"
	"strconv"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/photos"
)

// PutPhoto takes one piece of a photo.
func (s *Server) PutPhoto(ctx context.Context, req *pb.PutPhotoRequest) (*pb.PutPhotoResponse, error) {
	if problems := append(checkPhotoName(req.GetSha256()), checkPiece(req)...); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	shop, name := req.GetShopId(), req.GetSha256()
	is, err := s.book.Photo(ctx, shop, name)
	if err != nil {
		return nil, err
	}
	if is.Erased || is.Kept != nil && s.photos.Has(shop, name, int(is.Kept.GetTotalBytes())) {
		return &pb.PutPhotoResponse{ReceivedBytes: req.GetTotalBytes(), Complete: true, Kept: is.Kept}, nil
	}
	if err := s.book.Writable(); err != nil {
		return nil, err
	}
	piece := photos.Piece{Shop: shop, Name: name, Total: int(req.GetTotalBytes()), Offset: int(req.GetOffsetBytes()), Data: req.GetData()}
	erased := false // meanwhile
	received, kept, err := s.photos.Put(piece, func(k photos.Kept) (err error) {
		erased, err = s.book.RecordPhoto(ctx, shop, name, k.SentBytes, keptPhoto(k))
		return err
	})
	if err != nil {
		return nil, badPhoto(err)
	}
	out := &pb.PutPhotoResponse{ReceivedBytes: int32(received), Complete: kept != nil}
	if kept != nil && !erased {
		out.Kept = keptPhoto(*kept)
	}
	return out, nil
}

func keptPhoto(k photos.Kept) *pb.KeptPhoto {
	return &pb.KeptPhoto{
		Sha256: k.SHA256, TotalBytes: int32(k.Bytes), MediaType: k.MediaType,
		MetadataRemoved: k.MetadataRemoved, LocationRemoved: k.LocationRemoved,
	}
}

// checkPhotoName finds what names no photo.
func checkPhotoName(name string) []check.Problem {
	if photos.IsName(name) {
		return nil
	}
	return []check.Problem{{Path: "sha256", Given: name, Problem: "no SHA-256", Want: "64 lower-case hex digits"}}
}

// checkPiece finds what no piece of a photo can be.
func checkPiece(req *pb.PutPhotoRequest) (problems []check.Problem) {
	total, offset, size := req.GetTotalBytes(), req.GetOffsetBytes(), len(req.GetData())
	add := func(path string, given int, problem, want string, args ...any) {
		problems = append(problems, check.Problem{Path: path, Given: strconv.Itoa(given), Problem: problem, Want: fmt.Sprintf(want, args...)})
	}
	if total < 1 || total > photos.MaxBytes {
		add("totalBytes", int(total), "no size of a photo", "1 to %d", photos.MaxBytes)
		return problems
	}
	if offset < 0 || offset > total {
		add("offsetBytes", int(offset), "not within the photo", "0 to totalBytes")
	} else if size > int(total-offset) {
		add("data", size, "bytes, and the photo ends before", "at most totalBytes less offsetBytes")
	}
	if size > photos.MaxPiece {
		add("data", size, "bytes are no piece", "at most %d", photos.MaxPiece)
	}
	return problems
}

// badPhoto says which field is at fault when a whole photo is refused.
func badPhoto(err error) error {
	if wrong, ok := errors.AsType[*photos.WrongHashError](err); ok {
		return &invalid{[]check.Problem{{Path: "sha256", Given: wrong.SHA256, Problem: "is the SHA-256 of the bytes that came, and not the name", Want: "send it again from 0"}}}
	}
	if bad, ok := errors.AsType[*photos.BadError](err); ok {
		return &invalid{[]check.Problem{{Path: "data", Problem: bad.Problem, Want: bad.Want}}}
	}
	return err
}
