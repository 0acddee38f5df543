package app_test

import (
	"bufio"
	"bytes"
	"context"
	"encoding/gob"
	"errors"
	"fmt"
	"io"
	"math"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"text/tabwriter"
	"time"

	engine "github.com/dgraph-io/badger/v4"
	"github.com/google/uuid"
	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history/badger"
)

// repeats is how often each way of a row is timed at least, and turn how long it
// is timed each time.
const (
	repeats = 7
	turn    = 200 * time.Millisecond
)

// BenchmarkBesideFloors times the service's calls beside their floors: programs
// of the same libraries that take and give the same messages, and write the same
// bytes under keys of the same lengths, and judge, check and guard nothing. Each
// is a process of its own. They are timed turn by turn in one run, so that what
// else the machine does meets all of them; the table gives medians.
//
// The callers share the processors with whom they call, which flatters: what both
// ways spend on the caller's side is in both times. So the processor time of each
// server's process is told beside the elapsed time, over all turns.
//
// Whatever was written was synced when it was answered, on either side.
func BenchmarkBesideFloors(b *testing.B) {
	w := newBenchWork(b)
	book := startBook(b, filepath.Join(b.TempDir(), "book"), writeAccess(b))
	w.recordFleet(b, book)
	group := startServer(b, "floor", w.sample, filepath.Join(b.TempDir(), "group"), "shared")
	single := startServer(b, "floor", w.sample, filepath.Join(b.TempDir(), "single"), "each")

	var t table
	for _, callers := range []int{1, 64} {
		t.row(b, "AssessVisit, gRPC", callers,
			way{"", book, w.assess(book)},
			way{"echo", group, w.assess(group)})
		t.row(b, "RecordInspection, gRPC", callers,
			way{"", book, w.record(book)},
			way{"echo, one raw sync for all that wait", group, w.record(group)},
			way{"echo, one raw transaction each", single, w.record(single)})
		t.row(b, "AssessVisit, JSON", callers,
			way{"", book, w.assessJSON(book, "")},
			way{"gateway as it comes, echo", group, w.assessJSON(group, "")},
			way{"HTTP echo", group, w.assessJSON(group, "/echo")})
		t.row(b, "RecordInspection, JSON", callers,
			way{"", book, w.recordJSON(book)},
			way{"gateway as it comes, one raw sync for all", group, w.recordJSON(group)},
			way{"gateway as it comes, one transaction each", single, w.recordJSON(single)})
	}
	binary := buildProgram(b)
	scratch := b.TempDir()
	t.row(b, "demo, from start to first report", 1,
		way{"", nil, func(ctx context.Context) error { return untilFirstReport(ctx, binary, scratch) }},
		way{"start, print version, end", nil, func(ctx context.Context) error { return exec.CommandContext(ctx, binary, "version").Run() }})
	t.print(w)
}

// way is one way to do what a row is about.
type way struct {
	floor  string  // what it is; empty: ours
	server *server // whose processor time counts; nil: no one's
	once   func(context.Context) error
}

// table holds all rows.
type table struct{ rows []row }

type row struct {
	what    string
	callers int
	ways    []way
	medians []time.Duration // a call's elapsed time, of each way
	cpu     []time.Duration // a call's processor time in its server; 0: not known
}

// row times ways turn by turn. Another way goes first each time.
func (t *table) row(b *testing.B, what string, callers int, ways ...way) {
	b.Helper()
	b.Run(fmt.Sprintf("%s/callers=%d", what, callers), func(b *testing.B) {
		calls := make([]int, len(ways))
		for i, w := range ways {
			for calls[i] = callers; ; calls[i] *= 2 { // warm, and many enough to fill a turn
				if took := spend(b, w, callers, calls[i]); took >= turn/2 {
					break
				}
			}
		}
		took := make([][]time.Duration, len(ways))
		r := row{what: what, callers: callers, ways: ways, cpu: make([]time.Duration, len(ways))}
		turns := max(repeats, b.N)
		for n := range turns {
			for i := range ways {
				i = (i + n) % len(ways)
				before := ways[i].server.cpu()
				took[i] = append(took[i], spend(b, ways[i], callers, calls[i])/time.Duration(calls[i]))
				r.cpu[i] += ways[i].server.cpu() - before
			}
		}
		for i := range r.cpu {
			r.cpu[i] /= time.Duration(turns * calls[i])
		}
		for _, of := range took {
			slices.Sort(of)
			r.medians = append(r.medians, of[len(of)/2])
		}
		t.rows = slices.DeleteFunc(t.rows, func(old row) bool { return old.what == what && old.callers == callers })
		t.rows = append(t.rows, r)
		b.ReportMetric(0, "ns/op") // of all ways together: says nothing
		b.ReportMetric(float64(r.medians[0].Nanoseconds()), "ns/call")
		b.ReportMetric(float64(r.medians[0])/float64(r.medians[1]), "times-floor")
		if r.cpu[0] > 0 && r.cpu[1] > 0 {
			b.ReportMetric(float64(r.cpu[0].Microseconds()), "cpu-us/call")
			b.ReportMetric(float64(r.cpu[1].Microseconds()), "floor-cpu-us/call")
			b.ReportMetric(float64(r.cpu[0])/float64(r.cpu[1]), "cpu-times-floor")
		}
	})
}

// cpu is the processor time that the process has had so far, user and system, to
// the hundredth of a second; 0 where the machine does not tell it (proc(5)).
func (s *server) cpu() time.Duration {
	if s == nil {
		return 0
	}
	stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", s.process.Process.Pid))
	if err != nil {
		return 0
	}
	const utime, stime, perTick = 14, 15, time.Second / 100 // USER_HZ is 100
	// The name in field 2 stands in parentheses and may hold anything.
	fields := strings.Fields(string(stat[bytes.LastIndexByte(stat, ')')+1:]))
	total := 0
	for _, field := range []int{utime, stime} {
		n, err := strconv.Atoi(fields[field-3])
		if err != nil {
			return 0
		}
		total += n
	}
	return time.Duration(total) * perTick
}

// spend makes so many calls from so many goroutines and gives the time it took.
func spend(b *testing.B, w way, callers, calls int) time.Duration {
	b.Helper()
	var next atomic.Int64
	var group sync.WaitGroup
	failed := make(chan error, callers)
	begin := time.Now()
	for range callers {
		group.Go(func() {
			for next.Add(1) <= int64(calls) {
				if err := w.once(b.Context()); err != nil {
					failed <- err
					return
				}
			}
		})
	}
	group.Wait()
	took := time.Since(begin)
	select {
	case err := <-failed:
		b.Fatal(err)
	default:
	}
	return took
}

func (t *table) print(w *benchWork) {
	out := tabwriter.NewWriter(os.Stdout, 0, 0, 2, ' ', 0)
	_, _ = fmt.Fprintf(out, "\nMedians of at least %d turns. Time a call: elapsed time by calls made, all callers together; CPU: what a call took in the server's process.\n%s\n\ncall\tcallers\tours\tfloor\tratio\tCPU ours\tfloor\tratio\tfloor is\n", repeats, w.sizes)
	for _, r := range t.rows {
		for i, floor := range r.ways[1:] {
			_, _ = fmt.Fprintf(out, "%s\t%d\t%s\t%s\t%s\n", r.what, r.callers, beside(r.medians[0], r.medians[i+1]), beside(r.cpu[0], r.cpu[i+1]), floor.floor)
		}
	}
	_ = out.Flush()
}

// beside are a time, its floor's, and how many times that it is; dashes for what is
// not known.
func beside(ours, floor time.Duration) string {
	if ours <= 0 || floor <= 0 {
		return "-\t-\t-"
	}
	return fmt.Sprintf("%s\t%s\t%.2f", digits(ours), digits(floor), float64(ours)/float64(floor))
}

// digits rounds to three digits.
func digits(d time.Duration) time.Duration {
	unit := time.Duration(math.Pow10(max(0, int(math.Log10(float64(d)))-2)))
	return d.Round(unit)
}

// benchWork is what the calls are made of: the demo's sedan with its nail.
type benchWork struct {
	visit    *pb.AssessVisitRequest // with the ids that the sample was made with
	visitRaw []byte                 // as JSON
	insRaw   []byte                 // of the visit alone, as a request to record it
	fleet    []string
	next     atomic.Int64
	sample   string // file of the sample
	sizes    string
}

// sample is what the real server answered and wrote, for floors to do the same.
type sample struct {
	Shop           string
	Vehicle, Visit string // ids in the keys
	Assessed, Kept []byte // its answers
	Rows           []rawRow
}

// rawRow is one row of a transaction of the engine.
type rawRow struct {
	Key, Value []byte
	Gone       bool // deleted
}

// newBenchWork makes the sample with a real server and a store of its own.
func newBenchWork(b *testing.B) *benchWork {
	b.Helper()
	text, err := os.ReadFile(filepath.Join(demo, "sedan-nail.json"))
	if err != nil {
		b.Fatal(err)
	}
	w := &benchWork{visit: &pb.AssessVisitRequest{}, sample: filepath.Join(b.TempDir(), "sample.gob")}
	if err := protojson.Unmarshal(text, w.visit); err != nil {
		b.Fatal(err)
	}
	w.visit.Vehicle.Id, w.visit.Inspection.Id = uuid.NewString(), uuid.NewString()
	w.visit.Inspection.VehicleId = w.visit.GetVehicle().GetId()
	w.visitRaw = asJSON(b, w.visit)
	w.insRaw = asJSON(b, &pb.RecordInspectionRequest{ShopId: crashShop, Inspection: w.visit.GetInspection()})

	dir := filepath.Join(b.TempDir(), "sample")
	s, ctx := startBook(b, dir, writeAccess(b)), as(b.Context(), benchToken)
	assessed, err := pb.NewCalculatorServiceClient(s.conn).AssessVisit(ctx, w.visit)
	if err != nil {
		b.Fatal(err)
	}
	if _, err := s.vehicles.RecordVehicle(ctx, &pb.RecordVehicleRequest{ShopId: crashShop, Vehicle: w.visit.GetVehicle()}); err != nil {
		b.Fatal(err)
	}
	earlier := proto.CloneOf(w.visit.GetInspection())
	earlier.Id = uuid.NewString()
	var kept *pb.RecordInspectionResponse
	for _, visit := range []*pb.Inspection{earlier, w.visit.GetInspection()} {
		if kept, err = s.inspections.RecordInspection(ctx, &pb.RecordInspectionRequest{ShopId: crashShop, Inspection: visit}); err != nil {
			b.Fatal(err)
		}
	}
	if err := s.terminate(); err != nil {
		b.Fatal(err)
	}

	rows := lastTransaction(b, dir)
	var out bytes.Buffer
	if err := gob.NewEncoder(&out).Encode(sample{
		Shop: crashShop, Vehicle: w.visit.GetVehicle().GetId(), Visit: w.visit.GetInspection().GetId(),
		Assessed: asBytes(b, assessed), Kept: asBytes(b, kept), Rows: rows,
	}); err != nil {
		b.Fatal(err)
	}
	if err := os.WriteFile(w.sample, out.Bytes(), 0o600); err != nil {
		b.Fatal(err)
	}
	written := 0
	for _, r := range rows {
		written += len(r.Key) + len(r.Value)
	}
	w.sizes = fmt.Sprintf("Bytes of a visit: %d as protobuf, %d as JSON; its judgement %d as protobuf; kept in %d rows of %d bytes.",
		proto.Size(w.visit), len(w.visitRaw), proto.Size(assessed), len(rows), written)
	return w
}

func asJSON(b *testing.B, m proto.Message) []byte {
	b.Helper()
	text, err := protojson.Marshal(m)
	if err != nil {
		b.Fatal(err)
	}
	return text
}

func asBytes(b *testing.B, m proto.Message) []byte {
	b.Helper()
	text, err := proto.Marshal(m)
	if err != nil {
		b.Fatal(err)
	}
	return text
}

// lastTransaction reads from a store, as the engine holds it, what was written
// last.
func lastTransaction(b *testing.B, dir string) (rows []rawRow) {
	b.Helper()
	db, err := engine.OpenManaged(engine.DefaultOptions(dir).WithLogger(nil).WithExternalMagic(badger.Format))
	if err != nil {
		b.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	txn := db.NewTransactionAt(math.MaxUint64, false)
	defer txn.Discard()
	all := txn.NewIterator(engine.IteratorOptions{AllVersions: true})
	defer all.Close()
	for all.Rewind(); all.Valid(); all.Next() {
		item := all.Item()
		if item.Version() != db.MaxVersion() {
			continue
		}
		value, err := item.ValueCopy(nil)
		if err != nil {
			b.Fatal(err)
		}
		rows = append(rows, rawRow{Key: item.KeyCopy(nil), Value: value, Gone: item.IsDeletedOrExpired()})
	}
	if len(rows) < 3 {
		b.Fatalf("the last transaction has %d rows: a visit has more", len(rows))
	}
	return rows
}

// recordFleet records vehicles enough that none has many visits, however many
// are timed.
func (w *benchWork) recordFleet(b *testing.B, s *server) {
	b.Helper()
	const vehicles = 1024
	for range vehicles {
		w.fleet = append(w.fleet, uuid.NewString())
	}
	var next atomic.Int64
	spend(b, way{"", nil, func(ctx context.Context) error {
		v := proto.CloneOf(w.visit.GetVehicle())
		v.Id = w.fleet[next.Add(1)-1]
		_, err := s.vehicles.RecordVehicle(as(ctx, benchToken), &pb.RecordVehicleRequest{ShopId: crashShop, Vehicle: v})
		return err
	}}, 64, vehicles)
}

// vehicle is the next of the fleet, round and round.
func (w *benchWork) vehicle() string { return w.fleet[int(w.next.Add(1))%len(w.fleet)] }

func (w *benchWork) assess(s *server) func(context.Context) error {
	client := pb.NewCalculatorServiceClient(s.conn)
	return func(ctx context.Context) error {
		_, err := client.AssessVisit(as(ctx, benchToken), w.visit)
		return err
	}
}

func (w *benchWork) record(s *server) func(context.Context) error {
	return func(ctx context.Context) error {
		visit := proto.CloneOf(w.visit.GetInspection())
		visit.Id, visit.VehicleId = uuid.NewString(), w.vehicle()
		_, err := s.inspections.RecordInspection(as(ctx, benchToken), &pb.RecordInspectionRequest{ShopId: crashShop, Inspection: visit})
		return err
	}
}

func (w *benchWork) assessJSON(s *server, prefix string) func(context.Context) error {
	return func(ctx context.Context) error { return s.postRaw(ctx, prefix+"/v1/calculate/visit", w.visitRaw) }
}

func (w *benchWork) recordJSON(s *server) func(context.Context) error {
	return func(ctx context.Context) error {
		body := bytes.Replace(w.insRaw, []byte(w.visit.GetInspection().GetId()), []byte(uuid.NewString()), 1)
		body = bytes.Replace(body, []byte(w.visit.GetVehicle().GetId()), []byte(w.vehicle()), 1)
		return s.postRaw(ctx, "/v1/shops/"+crashShop+"/inspections", body)
	}
}

// postRaw makes a call over JSON and reads the answer without understanding it.
func (s *server) postRaw(ctx context.Context, path string, body []byte) error {
	r, err := http.NewRequestWithContext(ctx, http.MethodPost, s.web+path, bytes.NewReader(body))
	if err != nil {
		return err
	}
	r.Header.Set("Authorization", "Bearer "+benchToken)
	r.Header.Set("Content-Type", "application/json")
	w, err := s.json.Do(r)
	if err != nil {
		return err
	}
	defer func() { _ = w.Body.Close() }()
	text, err := io.ReadAll(w.Body)
	if err == nil && w.StatusCode != http.StatusOK {
		err = fmt.Errorf("HTTP %d: %s", w.StatusCode, text)
	}
	return err
}

// buildProgram builds the program as a person would.
func buildProgram(b *testing.B) (binary string) {
	b.Helper()
	binary = filepath.Join(b.TempDir(), "gaugebook")
	if said, err := exec.CommandContext(b.Context(), "go", "build", "-o", binary, house).CombinedOutput(); err != nil {
		b.Fatalf("%v: %s", err, said)
	}
	return binary
}

// untilFirstReport starts the demo, reads its first report to the end, and kills
// it, which takes no time to speak of but leaves its book in the scratch folder.
func untilFirstReport(ctx context.Context, binary, scratch string) error {
	cmd := exec.CommandContext(ctx, binary, "demo", "--grpc", "127.0.0.1:0", "--http", "127.0.0.1:0")
	cmd.Env = append(os.Environ(), "TMPDIR="+scratch)
	out, err := cmd.StdoutPipe()
	if err != nil {
		return err
	}
	if err := cmd.Start(); err != nil {
		return err
	}
	seen := false
	for lines := bufio.NewScanner(out); !seen && lines.Scan(); {
		seen = strings.Contains(lines.Text(), "licensed practice come first")
	}
	if err := cmd.Process.Kill(); err != nil {
		return err
	}
	_ = cmd.Wait() // it was killed
	if !seen {
		return errors.New("the demo printed no report")
	}
	return nil
}
