package gateway_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/proto"

	"gaugebook.dev/gateway"
	pb "gaugebook.dev/proto/gaugebook/v1"
)

// photo is a photo that a server gives in pieces, and how often it was asked.
type photo struct {
	content []byte
	total   int
	asked   int
	replace bool // by another copy, after the first piece
}

const pieceBytes = 1 << 20

func (p *photo) answer(_ context.Context, req proto.Message) (proto.Message, error) {
	p.asked++
	from := int(req.(*pb.GetPhotoRequest).GetOffsetBytes())
	kept := fmt.Sprintf("%x", sha256.Sum256(p.content))
	if p.replace && p.asked > 1 {
		kept = strings.Repeat("0", 64)
	}
	from = min(from, len(p.content))
	return &pb.GetPhotoResponse{
		Data: p.content[from:min(len(p.content), from+pieceBytes)], TotalBytes: int32(p.total), MediaType: "image/jpeg", KeptSha256: kept,
	}, nil
}

// photoAt gives a gateway to a server that has one photo, and the path of that.
func photoAt(t *testing.T, p *photo) (h http.Handler, path string) {
	t.Helper()
	server, h := start(t, gateway.Options{})
	server.answer = p.answer
	return h, "/v1/shops/shop-1/photos/" + strings.Repeat("0a", 32)
}

func someBytes(n int) []byte {
	b := make([]byte, n)
	for i := range b {
		b[i] = byte(i ^ i>>8 ^ i>>16)
	}
	return b
}

// A photo whole, in ranges, and asked for again (RFC 9110, sections 13 and 14).
func TestPhoto(t *testing.T) {
	p := &photo{content: someBytes(3*pieceBytes + 1000), total: 3*pieceBytes + 1000}
	h, path := photoAt(t, p)
	tag := fmt.Sprintf("%q", fmt.Sprintf("%x", sha256.Sum256(p.content)))
	n := len(p.content)
	for _, row := range []struct {
		name, method, query string
		header              []string
		code, from, to      int
		ranged              string
	}{
		{"whole", "GET", "", nil, 200, 0, n, ""},
		{"its head", "HEAD", "", nil, 200, 0, 0, ""},
		{"its beginning", "GET", "", []string{"Range", "bytes=0-9"}, 206, 0, 10, fmt.Sprintf("bytes 0-9/%d", n)},
		{"over two pieces", "GET", "", []string{"Range", fmt.Sprintf("bytes=%d-%d", pieceBytes-5, pieceBytes+4)}, 206, pieceBytes - 5, pieceBytes + 5, fmt.Sprintf("bytes %d-%d/%d", pieceBytes-5, pieceBytes+4, n)},
		{"its end", "GET", "", []string{"Range", "bytes=-100"}, 206, n - 100, n, fmt.Sprintf("bytes %d-%d/%d", n-100, n-1, n)},
		{"from a place on", "GET", "", []string{"Range", "bytes=3145728-"}, 206, 3 * pieceBytes, n, fmt.Sprintf("bytes %d-%d/%d", 3*pieceBytes, n-1, n)},
		{"from a place on, as the contract says it", "GET", "?offsetBytes=3145728", nil, 206, 3 * pieceBytes, n, fmt.Sprintf("bytes %d-%d/%d", 3*pieceBytes, n-1, n)},
		{"the range of the one that it is", "GET", "", []string{"Range", "bytes=0-9", "If-Range", tag}, 206, 0, 10, fmt.Sprintf("bytes 0-9/%d", n)},
		{"the range of another", "GET", "", []string{"Range", "bytes=0-9", "If-Range", `"other"`}, 200, 0, n, ""},
		{"behind its end", "GET", "", []string{"Range", fmt.Sprintf("bytes=%d-", n)}, 416, -1, 0, fmt.Sprintf("bytes */%d", n)},
		{"the one that is known", "GET", "", []string{"If-None-Match", tag}, 304, 0, 0, ""},
		{"other than is known", "GET", "", []string{"If-None-Match", `"other"`}, 200, 0, n, ""},
	} {
		w := ask(t, h, row.method, path+row.query, "", row.header...)
		if w.Code != row.code || w.Header().Get("Content-Range") != row.ranged {
			t.Errorf("%s: HTTP %d, %q", row.name, w.Code, w.Header().Get("Content-Range"))
		}
		if row.from >= 0 && !bytes.Equal(w.Body.Bytes(), p.content[row.from:row.to]) {
			t.Errorf("%s: %d bytes, want %d", row.name, w.Body.Len(), row.to-row.from)
		}
		if row.code == 416 {
			continue
		}
		for name, want := range map[string]string{
			"ETag": tag, "Cache-Control": "private, no-cache", "Vary": "Authorization", "X-Content-Type-Options": "nosniff",
			"Content-Security-Policy": "default-src 'none'; sandbox", "Content-Disposition": `inline; filename="0a0a0a0a0a0a.jpg"`,
		} {
			if got := w.Header().Get(name); got != want {
				t.Errorf("%s: %s: %q", row.name, name, got)
			}
		}
		if got := w.Header().Get("Content-Type"); row.code != 304 && got != "image/jpeg" {
			t.Errorf("%s: %q", row.name, got)
		}
	}
}

// A range costs the pieces that it lies in, and a photo that is known one.
func TestPiecesThatARangeCosts(t *testing.T) {
	p := &photo{content: someBytes(3 * pieceBytes), total: 3 * pieceBytes}
	h, path := photoAt(t, p)
	for header, want := range map[string]int{"": 3, "bytes=0-99": 1, "bytes=-1": 2, fmt.Sprintf("bytes=%d-%d", pieceBytes, pieceBytes+10): 2} {
		p.asked = 0
		if ask(t, h, http.MethodGet, path, "", "Range", header); p.asked != want {
			t.Errorf("%q: asked %d times, want %d", header, p.asked, want)
		}
	}
}

// What is refused is refused as any call is, and a photo that changes or ends under the
// reader is never taken for whole.
func TestPhotoRefused(t *testing.T) {
	server, h := start(t, gateway.Options{})
	path := "/v1/shops/shop-1/photos/" + strings.Repeat("0a", 32)
	server.answers(nil, status.Error(codes.NotFound, "no photo of this name is kept here"))
	for _, row := range []struct {
		method, path, body string
		code               int
	}{
		{"GET", path, "", 404},
		{"GET", path + "?size=small", "", 400},
		{"GET", path + "?offsetBytes=x", "", 400},
		{"GET", "/v1/shops/shop-1/photos/..", "", 400},
		{"GET", path, "{}", 400},
		{"PUT", path, "{}", 405},
		{"GET", "/v1/shops/shop-1/photos", "", 404},
	} {
		w := ask(t, h, row.method, row.path, row.body)
		if w.Code != row.code || !strings.HasPrefix(w.Header().Get("Content-Type"), "application/json") || w.Header().Get("Cache-Control") != "no-store" {
			t.Errorf("%s %s: HTTP %d, %v", row.method, row.path, w.Code, w.Header())
		}
	}
	for name, p := range map[string]*photo{
		"another copy":           {content: someBytes(2 * pieceBytes), total: 2 * pieceBytes, replace: true},
		"a file that ends early": {content: someBytes(1000), total: 2000},
	} {
		h, path := photoAt(t, p)
		web := httptest.NewServer(h)
		answer, err := http.Get(web.URL + path)
		if err != nil {
			t.Fatal(err)
		}
		var got bytes.Buffer
		if _, err := got.ReadFrom(answer.Body); err == nil {
			t.Errorf("%s: %d bytes are taken for whole", name, got.Len())
		}
		_ = answer.Body.Close()
		web.Close()
	}
}
