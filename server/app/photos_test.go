package app

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"image"
	"image/png"
	"io"
	"net/http"
	"path/filepath"
	"strings"
	"testing"

	"google.golang.org/grpc/metadata"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/memory"
	"gaugebook.dev/server/photos"
)

// testPhoto is an invented photo, and its name.
func testPhoto(t *testing.T, side int) (photo []byte, name string) {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, side, side))); err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(b.Bytes())
	return b.Bytes(), hex.EncodeToString(sum[:])
}

// puts puts a photo in one piece.
func (r *running) puts(photo []byte, name string) *pb.KeptPhoto {
	r.t.Helper()
	ctx := metadata.AppendToOutgoingContext(r.t.Context(), "authorization", "Bearer "+testBench)
	out, err := pb.NewPhotoServiceClient(r.conn).PutPhoto(ctx, &pb.PutPhotoRequest{ShopId: testShop, Sha256: name, TotalBytes: int32(len(photo)), Data: photo})
	if err != nil || !out.GetComplete() {
		r.t.Fatalf("%v, %v", out, err)
	}
	return out.GetKept()
}

// looks asks for a photo over HTTP.
func (r *running) looks(name, token string, header ...string) (code int, body []byte, answered http.Header) {
	r.t.Helper()
	req, err := http.NewRequestWithContext(r.t.Context(), http.MethodGet, "http://"+r.httpAt.Addr().String()+"/v1/shops/"+testShop+"/photos/"+name, nil)
	if err != nil {
		r.t.Fatal(err)
	}
	if token != "" {
		req.Header.Set("Authorization", "Bearer "+token)
	}
	for i := 0; i < len(header); i += 2 {
		req.Header.Set(header[i], header[i+1])
	}
	answer, err := r.web.Do(req)
	if err != nil {
		r.t.Fatal(err)
	}
	defer func() { _ = answer.Body.Close() }()
	body, err = io.ReadAll(answer.Body)
	if err != nil {
		r.t.Fatal(err)
	}
	return answer.StatusCode, body, answer.Header
}

// A photo that a phone put is seen in a browser, whole, in ranges, and once: by who may.
func TestAPhotoAtBothDoors(t *testing.T) {
	r := serve(t, memory.New())
	defer r.leave()
	photo, name := testPhoto(t, 40)
	kept := r.puts(photo, name)
	tag := `"` + kept.GetSha256() + `"`
	for _, row := range []struct {
		name, token string
		header      []string
		code        int
		body        []byte
	}{
		{"whole", testCounter, nil, 200, photo},
		{"a range", testBench, []string{"Range", "bytes=1-3"}, 206, photo[1:4]},
		{"the one that is known", testCounter, []string{"If-None-Match", tag}, 304, nil},
		{"nobody", "", nil, 401, nil},
		{"a wrong token", "a-token-of-nobody-1", nil, 401, nil},
	} {
		code, body, header := r.looks(name, row.token, row.header...)
		if code != row.code || row.body != nil && !bytes.Equal(body, row.body) {
			t.Errorf("%s: HTTP %d, %d bytes", row.name, code, len(body))
		}
		if code < 400 && (header.Get("ETag") != tag || header.Get("Cache-Control") != "private, no-cache") {
			t.Errorf("%s: %v", row.name, header)
		}
	}
	if code, _, _ := r.looks(strings.Repeat("0", 64), testCounter); code != http.StatusNotFound {
		t.Errorf("one that is not there: HTTP %d", code)
	}
}

// Photos outlive the server, in their folder beside the book.
func TestPhotosAreThereAgain(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "book")
	photo, name := testPhoto(t, 50)
	for round := range 2 {
		at := place{dir: dir, new: round == 0}
		var store history.Store
		var err error
		if store, err = at.open(discard()); err != nil {
			t.Fatal(err)
		}
		album, err := at.openPhotos()
		if err != nil {
			t.Fatal(err)
		}
		r := serveIn(t, store, album)
		if round == 0 {
			r.puts(photo, name)
		}
		if code, body, _ := r.looks(name, testBench); code != http.StatusOK || !bytes.Equal(body, photo) {
			t.Errorf("HTTP %d, %d bytes", code, len(body))
		}
		r.leave()
	}
}

// A backup has the photos, made while the book is served or not; restored they are there
// again, and verify holds each to its hash. An erased one is in no later backup.
func TestPhotosInBackups(t *testing.T) {
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	photo, name := testPhoto(t, 60)
	at := place{dir: in("book"), new: true}
	store, err := at.open(discard())
	if err != nil {
		t.Fatal(err)
	}
	album, err := at.openPhotos()
	if err != nil {
		t.Fatal(err)
	}
	r := serveIn(t, store, album)
	r.operator = openOperator(at.dir, store, album, discard())
	r.puts(photo, name)
	says(t, 0, "and 1 photo,", "backup", in("served.backup"), "--store", in("book"))
	r.leave()
	says(t, 0, "and 1 photo,", "backup", in("ended.backup"), "--store", in("book"))
	says(t, 0, "and 1 photo.", "salvage", in("salvaged.backup"), "--store", in("book"))
	for _, file := range []string{"served", "ended", "salvaged"} {
		says(t, 0, ", and 1 photo: all is as it should be", "verify", "--backup", in(file+".backup"))
		says(t, 0, "and 1 photo,", "restore", in(file+".backup"), "--store", in(file))
		says(t, 0, ", and 1 photo: all is as it should be", "verify", "--store", in(file))
	}
	again := photos.At(in("ended.photos"))
	if got, err := again.Whole(testShop, name); err != nil || !bytes.Equal(got, photo) {
		t.Errorf("%d bytes, %v", len(got), err)
	}
	says(t, 2, "is not empty", "restore", in("ended.backup"), "--store", in("other"), "--photos", in("ended.photos"))
	if err := again.Restore(testShop, name, photo[1:]); err != nil {
		t.Fatal(err)
	}
	says(t, 1, "holds other bytes than were kept", "verify", "--store", in("ended"))
	if _, err := again.Remove(testShop, name, func() (bool, error) { return true, nil }); err != nil {
		t.Fatal(err)
	}
	says(t, 1, "is not in its place", "verify", "--store", in("ended"))
	says(t, 0, "and 1 photo: all is as it should be", "verify", "--store", in("ended"), "--photos", in("served.photos"))
	says(t, 0, "1 shop with", "backup", in("without.backup"), "--store", in("ended"))
	says(t, 1, "is not in its place", "verify", "--backup", in("without.backup"))
}
