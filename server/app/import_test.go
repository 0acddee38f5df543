package app

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/gateway/strictjson"
	"gaugebook.dev/server/api"
	"gaugebook.dev/server/book"
)

// history is the invented history of the demo.
const demoHistory = "../../testdata/demo/history.jsonl"

// write writes a file into a folder of the test's own.
func write(t *testing.T, name, text string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

func read(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// nothingOpen holds the lists of a shop to being empty.
func nothingOpen(t *testing.T, dir string) {
	t.Helper()
	store := openBook(t, dir)
	defer func() { _ = store.Close() }()
	b := book.New(store, byLaw, time.Now)
	open, err := b.ListOpenFindings(t.Context(), "shop-1", "", nil, 10, "")
	if err != nil || len(open.Rows) > 0 {
		t.Errorf("open: %v, %v", open.Rows, err)
	}
	due, err := b.ListComingDue(t.Context(), "shop-1", &pb.CalendarDate{Year: 1900, Month: 1, Day: 1}, nil, 10, "")
	if err != nil || len(due.GetRows()) > 0 {
		t.Errorf("due: %v, %v", due, err)
	}
	changes, err := b.PullChanges(t.Context(), "shop-1", "", 500, 0)
	if err != nil || len(changes.Changes) == 0 {
		t.Errorf("changes: %v, %v", changes, err)
	}
	for _, c := range changes.Changes {
		if c.GetWhat() != nil || len(c.GetOpened())+len(c.GetClosed()) > 0 {
			t.Errorf("the feed tells %v", c.Change)
		}
	}
}

// History is imported once, whatever is done again, opens nothing and is exported from the
// one book as from another into which that is imported, also while the book is served.
func TestExportAndImport(t *testing.T) {
	base := t.TempDir()
	in := func(name string) string { return filepath.Join(base, name) }
	file := write(t, "history.jsonl", read(t, demoHistory))
	n := strings.Count(read(t, file), "\n")
	says(t, exitBadInput, "with --new one is made", "import", "--store", in("book"), "--shop", "shop-1", file)
	says(t, exitDone, fmt.Sprintf("%d records taken, 0 there already, 0 rejected", n), "import", "--store", in("book"), "--new", "--shop", "shop-1", file)
	says(t, exitDone, fmt.Sprintf("0 records taken, %d there already, 0 rejected", n), "import", "--store", in("book"), "--shop", "shop-1", file)
	nothingOpen(t, in("book"))
	says(t, exitDone, "all is as it should be", "verify", "--store", in("book"))
	says(t, exitDone, fmt.Sprintf("holds %d records of shop-1", n), "export", "--store", in("book"), "--shop", "shop-1", in("one.jsonl"))
	says(t, exitBadInput, "is there already", "export", "--store", in("book"), "--shop", "shop-1", in("one.jsonl"))
	says(t, exitBadInput, "there are shop-1", "export", "--store", in("book"), "--shop", "shop-2", in("two.jsonl"))
	says(t, exitDone, "there already", "import", "--store", in("book"), "--shop", "shop-1", in("one.jsonl"))
	says(t, exitDone, "0 rejected", "import", "--store", in("other"), "--new", "--shop", "shop-1", in("one.jsonl"))
	store := openBook(t, in("other"))
	op := openOperator(in("other"), store, nil, slog.New(slog.DiscardHandler))
	says(t, exitDone, "records of shop-1", "export", "--store", in("other"), "--shop", "shop-1", in("two.jsonl"))
	says(t, exitFailed, "End the server that keeps it", "import", "--store", in("other"), "--shop", "shop-1", in("one.jsonl"))
	op.close()
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	if one, two := read(t, in("one.jsonl")), read(t, in("two.jsonl")); one != two {
		t.Errorf("exported\n%s\nthen\n%s", one, two)
	}
	for _, name := range []string{file + ".progress", file + ".rejects", in("two.jsonl.part")} {
		if _, err := os.Lstat(name); err == nil {
			t.Errorf("%s is left", name)
		}
	}
	if left, _ := filepath.Glob(in("two.jsonl.read-*")); len(left) > 0 {
		t.Errorf("left: %v", left)
	}
}

// What identifies a customer is exported when asked for alone.
func TestCustomersAreExportedWhenAskedFor(t *testing.T) {
	base := t.TempDir()
	in := func(name string) string { return filepath.Join(base, name) }
	id := uuid.NewString()
	file := write(t, "cars.jsonl", `{"kind":"vehicle","vehicle":{"id":"`+id+`","tag":"invented","customerData":{"plate":"ABC 123","customer":"Invented Person"}}}`+"\n")
	says(t, exitDone, "1 record taken", "import", "--store", in("book"), "--new", "--shop", "shop-1", file)
	says(t, exitDone, "", "export", "--store", in("book"), "--shop", "shop-1", in("less.jsonl"))
	says(t, exitDone, "", "export", "--store", in("book"), "--shop", "shop-1", "--with-customers", in("all.jsonl"))
	if less := read(t, in("less.jsonl")); strings.Contains(less, "Invented") || !strings.Contains(less, id) {
		t.Errorf("without customers: %s", less)
	}
	if all := read(t, in("all.jsonl")); all != read(t, file) {
		t.Errorf("with customers: %s", all)
	}
	for _, again := range []string{"less.jsonl", "all.jsonl"} {
		says(t, exitDone, "1 there already", "import", "--store", in("book"), "--shop", "shop-1", in(again))
	}
}

// Lines that cannot be taken are written with their numbers, what is wrong in the words of the
// server's own errors, and their text; all others are taken.
func TestLinesThatCannotBeTakenAreRejected(t *testing.T) {
	car, visit := uuid.NewString(), uuid.NewString()
	lines := []struct{ text, reason string }{
		{`{"kind":"vehicle","vehicle":{"id":"` + car + `","axles":{"axles":[{},{}]}}}`, ""},
		{``, ""},
		{`no JSON`, "the document is not an object"},
		{`{"kind":"visit","inspection":{"id":"` + uuid.NewString() + `","vehicleId":"` + car + `","localDate":{"year":2024,"month":2,"day":1},"wheels":[{"position":"1L","tread":[{"depth":{"thirtySecondsInch":-4}}]}]}}`, "inspection.wheels[0].tread[0].depth: "},
		{`{"kind":"visit","inspection":{"id":"` + uuid.NewString() + `","vehicleId":"` + car + `","localDate":{"year":2024,"month":2,"day":1},"wheels":[{"position":"3L"}]}}`, "inspection.wheels[0].position: "},
		{`{"kind":"visit","inspection":{"id":"` + uuid.NewString() + `","vehicleId":"` + car + `","wheels":[{"position":"1L"}]}}`, "inspection.takenTime: when it was is not told"},
		{`{"kind":"visit","inspection":{"id":"` + uuid.NewString() + `","vehicleId":"` + uuid.NewString() + `","takenTime":"2024-02-01T10:00:00Z","wheels":[{"position":"1L"}]}}`, "inspection.vehicleId: "},
		{`{"kind":"visit","inspection":{"id":"` + visit + `","vehicleId":"` + car + `","takenTime":"2024-02-01T10:00:00Z","wheels":[{"position":"1L"}]}}`, ""},
		{`{"kind":"visit","inspection":{"id":"` + visit + `","vehicleId":"` + car + `","takenTime":"2024-02-01T10:00:00Z","wheels":[{"position":"1R"}]}}`, "inspection.id: another visit has the id"},
		{`{"kind":"visit","inspection":{"mileage":1}}`, "inspection.mileage: unknown field"},
		{`{"kind":"tire","vehicle":{}}`, "vehicle: not of this kind of record"},
		{`{"kind":"invoice"}`, "kind: invoice: no kind of record"},
		{`{}`, "kind: missing"},
		{`{"vehicle":{"id":"` + strings.Repeat("x", strictjson.MaxBytes) + `"}}`, "the line is longer than"},
	}
	var text strings.Builder
	for _, l := range lines {
		text.WriteString(l.text + "\n")
	}
	file := write(t, "history.jsonl", text.String())
	says(t, exitBadInput, "2 records taken, 0 there already, 11 rejected", "import", "--store", filepath.Join(t.TempDir(), "book"), "--new", "--shop", "shop-1", file)
	rejects := strings.Split(strings.TrimSpace(read(t, file+".rejects")), "\n")
	for i, l := range lines {
		if l.reason == "" {
			continue
		}
		if len(rejects) == 0 {
			t.Fatalf("line %d is not rejected", i+1)
		}
		var r rejected
		if err := json.Unmarshal([]byte(rejects[0]), &r); err != nil {
			t.Fatal(err)
		}
		rejects = rejects[1:]
		whole := r.Text == l.text || len(l.text) > strictjson.MaxBytes
		if r.Line != i+1 || !whole || !slices.ContainsFunc(r.Reasons, func(s string) bool { return strings.Contains(s, l.reason) }) {
			t.Errorf("line %d: want %q, got line %d, %q of %.200s", i+1, l.reason, r.Line, r.Reasons, r.Text)
		}
	}
}

// breaking is a source that cannot be read behind some records.
type breaking struct {
	source
	left int
}

var errBroken = errors.New("broken")

func (b *breaking) next() (row, mark, error) {
	if b.left--; b.left < 0 {
		return row{}, mark{}, errBroken
	}
	return b.source.next()
}

// manyLines are visits of vehicles, with a line now and then that cannot be taken.
func manyLines(vehicles, visits int) string {
	var text strings.Builder
	for range vehicles {
		car := uuid.NewString()
		fmt.Fprintf(&text, `{"kind":"vehicle","vehicle":{"id":"%s","axles":{"axles":[{},{}]}}}`+"\n", car)
		for v := range visits {
			depth := 9 - v
			if v == 3 {
				depth = -1
			}
			fmt.Fprintf(&text, `{"kind":"visit","inspection":{"id":"%s","vehicleId":"%s","localDate":{"year":%d,"month":3,"day":1},"wheels":[{"position":"1L","tread":[{"place":{"across":"ACROSS_CENTER"},"depth":{"thirtySecondsInch":%d}}]}]}}`+"\n", uuid.NewString(), car, 2015+v, depth)
		}
	}
	return text.String()
}

// An import that was broken off anywhere goes on where it was, and tells each rejected line
// once.
func TestAnImportGoesOn(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "book")
	file := write(t, "history.jsonl", manyLines(60, 6))
	says(t, exitDone, "", "import", "--store", dir, "--new", "--shop", "shop-1", write(t, "none.jsonl", ""))
	earlier := []byte(nil)
	for _, at := range []int{130, 130, 150} {
		from, err := openSource(file, "shop-1")
		if err != nil {
			t.Fatal(err)
		}
		store := openBook(t, dir)
		server := api.New(book.New(store, byLaw, time.Now), nil, api.About{}, slog.New(slog.DiscardHandler))
		im := &importing{server: server, shop: "shop-1", file: file, from: &breaking{from, at}}
		if err := im.run(t.Context(), store.Epoch().String(), io.Discard, io.Discard); !errors.Is(err, errBroken) {
			t.Fatal(err)
		}
		if err := errors.Join(store.Close(), from.Close()); err != nil {
			t.Fatal(err)
		}
		if earlier == nil {
			earlier = []byte(read(t, file+".progress"))
		}
	}
	// Killed after records were taken and before that was noted.
	if err := os.WriteFile(file+".progress", earlier, 0o600); err != nil {
		t.Fatal(err)
	}
	says(t, exitBadInput, "was imported up to line 100; it goes on from there", "import", "--store", dir, "--shop", "shop-1", file)
	rejects := read(t, file+".rejects")
	if n := strings.Count(rejects, "\n"); n != 60 || strings.Count(rejects, "tread[0].depth") != 60 {
		t.Errorf("%d rejects", n)
	}
	says(t, exitBadInput, "0 records taken, 360 there already, 60 rejected", "import", "--store", dir, "--shop", "shop-1", file)
	if again := read(t, file+".rejects"); again != rejects {
		t.Error("rejects differ")
	}
	says(t, exitDone, "all is as it should be", "verify", "--store", dir)
	nothingOpen(t, dir)
	if !bytes.Contains(earlier, []byte(`"lines":100`)) {
		t.Errorf("progress %s", earlier)
	}
}
