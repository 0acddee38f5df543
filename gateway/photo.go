package gateway

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"time"

	"github.com/grpc-ecosystem/grpc-gateway/v2/runtime"
	"google.golang.org/grpc"
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// extensions are what files of photos are called behind the dot, by media type.
var extensions = map[string]string{"image/jpeg": "jpg", "image/png": "png", "image/webp": "webp"}

// servePhoto makes the handler of GetPhoto, which is answered by the photo itself: whole, or
// the range that is asked for (RFC 9110, section 14), or that it is the one the caller has
// (section 13). A copy may be kept by the caller alone, who asks each time whether it still
// is: it may have been erased.
func (g *gateway) servePhoto(c *call) handler {
	return func(w http.ResponseWriter, r *http.Request, params map[string]string) {
		ctx, cancel := context.WithTimeout(r.Context(), CallTimeout)
		defer cancel()
		read, err := c.read(w, r, params)
		if err != nil {
			refuse(w, err)
			return
		}
		request := read.(*pb.GetPhotoRequest) //nolint:forcetypeassert // the call's own
		from := request.GetOffsetBytes()
		var sent runtime.ServerMetadata
		photo := &photoReader{request: request, get: func(request *pb.GetPhotoRequest) (*pb.GetPhotoResponse, error) {
			return g.getPhoto(ctx, r, c, request, &sent)
		}}
		if err := photo.load(int64(from)); err != nil {
			runtime.HTTPError(runtime.NewServerMetadataContext(ctx, sent), g.mux, answers, w, &http.Request{Header: innerHeader(r)}, err)
			return
		}
		h := w.Header()
		for key, values := range sent.HeaderMD {
			if header, ok := toHeader(key); ok {
				h[header] = values
			}
		}
		h.Set("Content-Type", photo.piece.GetMediaType())
		h.Set("Content-Disposition", fmt.Sprintf("inline; filename=%q", request.GetSha256()[:min(12, len(request.GetSha256()))]+"."+extensions[photo.piece.GetMediaType()]))
		h.Set("Content-Security-Policy", "default-src 'none'; sandbox")
		h.Set("ETag", `"`+photo.piece.GetKeptSha256()+`"`)
		h.Set("Cache-Control", "private, no-cache")
		h.Add("Vary", "Authorization")
		if from > 0 && r.Header.Get("Range") == "" { // where it begins, said as the contract says it
			r = r.Clone(ctx)
			r.Header.Set("Range", fmt.Sprintf("bytes=%d-", from))
		}
		http.ServeContent(w, r, "", time.Time{}, photo)
	}
}

// getPhoto makes the call of one piece.
func (g *gateway) getPhoto(ctx context.Context, r *http.Request, c *call, request *pb.GetPhotoRequest, sent *runtime.ServerMetadata) (*pb.GetPhotoResponse, error) {
	out, err := runtime.AnnotateContext(ctx, g.mux, &http.Request{Header: innerHeader(r)}, c.method)
	if err != nil {
		return nil, err
	}
	answer := &pb.GetPhotoResponse{}
	err = g.conn.Invoke(out, c.method, request, answer, grpc.StaticMethod(), grpc.Header(&sent.HeaderMD))
	return answer, err
}

// photoReader reads a photo piece by piece, from wherever it is asked to.
type photoReader struct {
	request *pb.GetPhotoRequest
	get     func(*pb.GetPhotoRequest) (*pb.GetPhotoResponse, error)
	piece   *pb.GetPhotoResponse // the last that was read
	from    int64                // where that begins
	at      int64                // what is read next
}

// errOtherCopy ends an answer of which another copy took the place meanwhile.
var errOtherCopy = errors.New("the photo is another by now")

// load reads the piece that begins at a place.
func (p *photoReader) load(from int64) error {
	request := proto.CloneOf(p.request)
	request.OffsetBytes = int32(from)
	piece, err := p.get(request)
	if err != nil {
		return err
	}
	if p.piece != nil && p.piece.GetKeptSha256() != piece.GetKeptSha256() {
		return errOtherCopy
	}
	p.piece, p.from = piece, from
	return nil
}

// Read gives what comes next.
func (p *photoReader) Read(to []byte) (int, error) {
	if p.at >= int64(p.piece.GetTotalBytes()) {
		return 0, io.EOF
	}
	if end := p.from + int64(len(p.piece.GetData())); p.at < p.from || p.at >= end {
		if err := p.load(p.at); err != nil {
			return 0, err
		}
	}
	n := copy(to, p.piece.GetData()[p.at-p.from:])
	if n == 0 && len(to) > 0 {
		return 0, io.ErrUnexpectedEOF // the file is shorter than it was
	}
	p.at += int64(n)
	return n, nil
}

// Seek says from where on it is read.
func (p *photoReader) Seek(offset int64, whence int) (int64, error) {
	switch whence {
	case io.SeekCurrent:
		offset += p.at
	case io.SeekEnd:
		offset += int64(p.piece.GetTotalBytes())
	}
	if offset < 0 {
		return 0, errors.New("before the beginning of the photo")
	}
	p.at = offset
	return offset, nil
}
