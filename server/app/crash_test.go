package app_test

import (
	"bufio"
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"maps"
	"math/rand/v2"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/google/uuid"
	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"
	"google.golang.org/grpc/metadata"
	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/durationpb"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/app"
	"gaugebook.dev/server/history/badger"
)

// childVariable makes this test program another one, whose arguments are then
// its own: its value names one of the children.
const childVariable = "GAUGEBOOK_APP_CHILD"

var children = map[string]func() (exit int){
	"gaugebook": func() int {
		return app.Main(context.Background(), os.Args[1:], nil, os.Stdin, os.Stdout, os.Stderr)
	},
	"floor": floorServer,
}

func init() {
	play, ok := children[os.Getenv(childVariable)]
	if !ok {
		return
	}
	go func() {
		_, _ = io.Copy(io.Discard, os.Stdin)
		os.Exit(1) // whoever started it has gone
	}()
	os.Exit(play())
}

// The shop of these tests, and its tokens.
const (
	crashShop    = "invented-shop"
	benchToken   = "bench-token-for-tests"
	counterToken = "counter-token-for-tests"
	accessFile   = `tokens:
  - {token: ` + benchToken + `, name: bench phone, role: bench, shops: [` + crashShop + `]}
  - {token: ` + counterToken + `, name: front counter, role: counter, shops: [` + crashShop + `]}
`
)

// server is a child with two doors, and a client of each.
type server struct {
	process *exec.Cmd
	stdin   io.Closer
	said    *bytes.Buffer // on standard error, complete once it has ended

	conn        *grpc.ClientConn
	inspections pb.InspectionServiceClient
	vehicles    pb.VehicleServiceClient
	counter     pb.CounterServiceClient

	json *http.Client
	web  string // "http://127.0.0.1:40123"
}

// launch starts a child without waiting for it to say anything.
func launch(tb testing.TB, child string, args ...string) (s *server, output io.Reader) {
	tb.Helper()
	s = &server{process: exec.CommandContext(context.WithoutCancel(tb.Context()), os.Args[0], args...), said: &bytes.Buffer{}}
	s.process.Env = append(os.Environ(), childVariable+"="+child)
	s.process.Stderr = s.said
	stdin, err := s.process.StdinPipe()
	if err != nil {
		tb.Fatal(err)
	}
	s.stdin = stdin
	if output, err = s.process.StdoutPipe(); err != nil {
		tb.Fatal(err)
	}
	if err := s.process.Start(); err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(s.kill)
	return s, output
}

// startServer starts a child and waits until both doors are open.
func startServer(tb testing.TB, child string, args ...string) *server {
	tb.Helper()
	s, output := launch(tb, child, args...)
	line, err := bufio.NewReader(output).ReadString('\n')
	var rpc, web string
	if _, scanned := fmt.Sscanf(line, "gRPC on %s JSON on %s\n", &rpc, &web); err != nil || scanned != nil {
		s.kill()
		tb.Fatalf("the server said %q, %v: %s", line, err, s.said)
	}
	s.conn, err = grpc.NewClient(strings.TrimSuffix(rpc, ","), grpc.WithTransportCredentials(insecure.NewCredentials()))
	if err != nil {
		tb.Fatal(err)
	}
	s.inspections, s.vehicles, s.counter = pb.NewInspectionServiceClient(s.conn), pb.NewVehicleServiceClient(s.conn), pb.NewCounterServiceClient(s.conn)
	s.json, s.web = &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: 64}}, web
	return s
}

// startBook starts the real program on a folder that holds a book or nothing.
func startBook(tb testing.TB, dir, accessFile string) *server {
	tb.Helper()
	return startServer(tb, "gaugebook", serveArgs(tb, dir, accessFile)...)
}

// serveArgs serve the book of a folder, or a new one where it holds none.
func serveArgs(tb testing.TB, dir, accessFile string) []string {
	tb.Helper()
	args := []string{"serve", "--store", dir, "--access", accessFile, "--grpc", "127.0.0.1:0", "--http", "127.0.0.1:0"}
	there, err := badger.Exists(dir)
	if err != nil {
		tb.Fatal(err)
	}
	if !there {
		args = append(args, "--new")
	}
	return args
}

// writeAccess writes the access file.
func writeAccess(tb testing.TB) (name string) {
	tb.Helper()
	name = filepath.Join(tb.TempDir(), "access.yaml")
	if err := os.WriteFile(name, []byte(accessFile), 0o600); err != nil {
		tb.Fatal(err)
	}
	return name
}

// kill ends the process as a power switch would. It may be called more than once.
func (s *server) kill() {
	_ = s.process.Process.Kill()
	_ = s.process.Wait()
	s.hangUp()
}

// terminate asks the process to end and waits until it has.
func (s *server) terminate() error {
	if err := s.process.Process.Signal(syscall.SIGTERM); err != nil {
		return err
	}
	err := s.process.Wait()
	s.hangUp()
	return err
}

func (s *server) hangUp() {
	if s.conn != nil {
		_ = s.conn.Close()
		s.json.CloseIdleConnections()
	}
	_ = s.stdin.Close()
}

// complaints are what an ended process said and should not have said.
func (s *server) complaints() string {
	var lines []string
	for line := range strings.Lines(s.said.String()) {
		if !strings.Contains(line, "level=INFO") {
			lines = append(lines, line)
		}
	}
	return strings.Join(lines, "")
}

// post makes a call over JSON.
func (s *server) post(ctx context.Context, path string, request, answer proto.Message) error {
	body, err := protojson.Marshal(request)
	if err != nil {
		return err
	}
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
	if err != nil {
		return err
	}
	if w.StatusCode != http.StatusOK {
		return fmt.Errorf("HTTP %d: %s", w.StatusCode, text)
	}
	return protojson.Unmarshal(text, answer)
}

func as(ctx context.Context, token string) context.Context {
	return metadata.AppendToOutgoingContext(ctx, "authorization", "Bearer "+token)
}

// sent is one create, of a vehicle or of a visit, with what was answered: nothing
// where the server was killed meanwhile.
type sent struct {
	vehicle *pb.Vehicle
	visit   *pb.Inspection
	byJSON  bool

	answered bool
	recorded *pb.Recorded
	means    *pb.Assessment // of a visit
}

func (s *sent) id() string { return s.vehicle.GetId() + s.visit.GetId() }

// send makes the call over the door that the create names.
func (s *sent) send(ctx context.Context, to *server) error {
	ctx, cancel := context.WithTimeout(ctx, time.Minute)
	defer cancel()
	if s.vehicle != nil {
		request, answer := &pb.RecordVehicleRequest{ShopId: crashShop, Vehicle: s.vehicle}, &pb.RecordVehicleResponse{}
		var err error
		if s.byJSON {
			err = to.post(ctx, "/v1/shops/"+crashShop+"/vehicles", request, answer)
		} else {
			answer, err = to.vehicles.RecordVehicle(as(ctx, benchToken), request)
		}
		s.answered, s.recorded = err == nil, answer.GetRecorded()
		return err
	}
	request, answer := &pb.RecordInspectionRequest{ShopId: crashShop, Inspection: s.visit}, &pb.RecordInspectionResponse{}
	var err error
	if s.byJSON {
		err = to.post(ctx, "/v1/shops/"+crashShop+"/inspections", request, answer)
	} else {
		answer, err = to.inspections.RecordInspection(as(ctx, benchToken), request)
	}
	s.answered, s.recorded, s.means = err == nil, answer.GetRecorded(), answer.GetAssessment()
	return err
}

// again is the same create with no answer yet, over the other door.
func (s *sent) again() *sent { return &sent{vehicle: s.vehicle, visit: s.visit, byJSON: !s.byJSON} }

// newVehicle is a front-wheel-drive car.
func newVehicle() *pb.Vehicle {
	axle := func() *pb.Axle {
		return &pb.Axle{Size: "P215/60R16 94T", ColdNormalLoad: &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: 33}}}
	}
	return &pb.Vehicle{
		Id: uuid.NewString(), Tag: "car of a test (invented)", VehicleClass: pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR, Drive: pb.Drive_DRIVE_FRONT,
		Axles: &pb.Axles{Axles: []*pb.Axle{axle(), axle()}}, Use: &pb.VehicleUse{DrivenIn: []*pb.Jurisdiction{{Country: "US", State: "OH"}}},
	}
}

// newVisit reads some of the wheels, good ones and bad ones.
func newVisit(random *rand.Rand, vehicle string) *pb.Inspection {
	visit := &pb.Inspection{Id: uuid.NewString(), VehicleId: vehicle, TakenTime: timestamppb.Now()}
	for i, position := range []string{"1L", "1R", "2L", "2R"} {
		if i > 0 && random.IntN(2) == 0 {
			continue
		}
		wheel := &pb.WheelReport{
			Position:  position,
			Pressures: []*pb.PressureReading{{Pressure: &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: float64(20 + random.IntN(16))}}}},
		}
		depth := 1 + random.IntN(9)
		for _, across := range []pb.Across{pb.Across_ACROSS_INBOARD, pb.Across_ACROSS_CENTER, pb.Across_ACROSS_OUTBOARD} {
			wheel.Tread = append(wheel.Tread, &pb.TreadReading{
				Place: &pb.Place{Across: across},
				Depth: &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: float64(depth + random.IntN(2))}},
			})
		}
		visit.Wheels = append(visit.Wheels, wheel)
	}
	return visit
}

// follower follows the shop's feed by its token alone, as a counter does.
type follower struct {
	token   string
	changes []*pb.Change
}

// pull takes one page. What is not the next change of a dense feed is an error.
func (f *follower) pull(ctx context.Context, from *server, wait time.Duration) (more bool, err error) {
	answer, err := from.counter.PullChanges(as(ctx, counterToken), &pb.PullChangesRequest{ShopId: crashShop, ResumeToken: f.token, PageSize: 64, Wait: durationpb.New(wait)})
	if err != nil {
		return false, err
	}
	for _, c := range answer.GetChanges() {
		f.changes = append(f.changes, c)
		if c.GetNumber() != strconv.Itoa(len(f.changes)) {
			return false, outOfOrderError{c.GetNumber(), len(f.changes)}
		}
	}
	f.token = answer.GetResumeToken()
	return answer.GetMore(), nil
}

type outOfOrderError struct {
	got  string
	want int
}

func (e outOfOrderError) Error() string {
	return fmt.Sprintf("the feed gave number %s where %d is next", e.got, e.want)
}

// catchUp pulls all there is.
func (f *follower) catchUp(t *testing.T, from *server) {
	t.Helper()
	for more := true; more; {
		var err error
		if more, err = f.pull(t.Context(), from, 0); err != nil {
			t.Fatal(err)
		}
	}
}

// changeID is the id of what a change is about.
func changeID(c *pb.Change) string {
	return c.GetInspection().GetInspectionId() + c.GetVehicle().GetVehicleId()
}

// crash is one book through all its kills.
type crash struct {
	dir, access string
	random      *rand.Rand
	all         []*sent // every create, in the order of their beginnings
	checked     int     // how many of all have been verified
	follower    follower

	unanswered, stored int // of the creates without an answer, how many were in the book all the same
}

// killsVariable is how often the server is killed, where it is set.
const killsVariable = "GAUGEBOOK_KILLS"

// TestKilledServerLosesNothing kills the real server under load, 20 times over
// on one folder, and each time starts it again and holds the book against what
// was answered, the feed against the book, and lists and vehicles against the
// feed.
//
// The system survives, and with it what was written but not synced: this is about
// recovery. That each group of drafts is synced is counted where they are written.
func TestKilledServerLosesNothing(t *testing.T) {
	const seed = 7
	kills := 20
	if asked := os.Getenv(killsVariable); asked != "" {
		var err error
		if kills, err = strconv.Atoi(asked); err != nil {
			t.Fatal(err)
		}
	}
	c := &crash{dir: filepath.Join(t.TempDir(), "book"), access: writeAccess(t), random: rand.New(rand.NewPCG(seed, 0))}
	for kill := range kills {
		s := startBook(t, c.dir, c.access)
		c.verify(t, s)
		c.load(t, s, 16+c.random.IntN(24), time.Duration(c.random.IntN(3000))*time.Microsecond)
		if t.Failed() {
			t.Fatalf("seed %d, kill %d", seed, kill)
		}
		if kill%4 == 0 { // and once more while it opens what the kill has left
			opening, _ := launch(t, "gaugebook", serveArgs(t, c.dir, c.access)...)
			time.Sleep(time.Duration(c.random.IntN(80)) * time.Millisecond)
			opening.kill()
			if opening.complaints() != "" {
				t.Fatalf("seed %d, kill %d: while it opened, the server said: %s", seed, kill, opening.complaints())
			}
		}
	}
	for range 2 { // what the last kill has left, and what an orderly end has
		s := startBook(t, c.dir, c.access)
		c.verify(t, s)
		c.verifyVehicles(t, s, slices.Collect(maps.Keys(c.toldVehicles())))
		var fresh follower
		fresh.catchUp(t, s)
		if !slices.EqualFunc(fresh.changes, c.follower.changes, func(a, b *pb.Change) bool { return proto.Equal(a, b) }) {
			t.Error("the feed from the beginning is not what was followed through all kills")
		}
		if err := s.terminate(); err != nil || s.complaints() != "" {
			t.Errorf("asked to end, the server ended with %v and said: %s", err, s.complaints())
		}
	}
	t.Logf("%d creates were answered before %d kills; of %d that were not, %d were in the book", len(c.all)-c.unanswered, kills, c.unanswered, c.stored)
}

// load lets 16 callers record and one follow, and kills the server some time
// after it has answered so many creates.
func (c *crash) load(t *testing.T, s *server, answers int, delay time.Duration) {
	t.Helper()
	var (
		mu       sync.Mutex // over c.all, known and answered
		known    []string   // vehicles that were answered
		killed   atomic.Bool
		answered int
		group    sync.WaitGroup
		enough   = make(chan struct{})
	)
	for _, e := range c.all {
		if e.vehicle != nil {
			known = append(known, e.vehicle.GetId())
		}
	}
	for range 16 {
		random := rand.New(rand.NewPCG(c.random.Uint64(), 0))
		group.Go(func() {
			for {
				mu.Lock()
				e := &sent{byJSON: random.IntN(3) == 0}
				if len(known) == 0 || random.IntN(10) == 0 {
					e.vehicle = newVehicle()
				} else {
					e.visit = newVisit(random, known[random.IntN(len(known))])
				}
				c.all = append(c.all, e)
				mu.Unlock()

				if err := e.send(t.Context(), s); err != nil {
					if !killed.Load() {
						t.Errorf("before it was killed: %v", err)
					}
					return
				}
				mu.Lock()
				if e.vehicle != nil {
					known = append(known, e.vehicle.GetId())
				}
				if answered++; answered == answers {
					close(enough)
				}
				mu.Unlock()
			}
		})
	}
	group.Go(func() {
		for {
			_, err := c.follower.pull(t.Context(), s, time.Second)
			if disorder := (outOfOrderError{}); errors.As(err, &disorder) || err != nil && !killed.Load() {
				t.Errorf("before it was killed: %v", err)
			}
			if err != nil {
				return
			}
		}
	})
	failed := make(chan struct{})
	go func() {
		group.Wait()
		close(failed)
	}()
	select {
	case <-enough:
		time.Sleep(delay)
	case <-failed:
	}
	killed.Store(true)
	s.kill()
	<-failed
	if s.complaints() != "" {
		t.Errorf("before it was killed, the server said: %s", s.complaints())
	}
}

// verify holds the book against everything that was sent, and sends again what
// had no answer.
func (c *crash) verify(t *testing.T, s *server) {
	t.Helper()
	c.follower.catchUp(t, s)
	numbers := c.numbers(t)
	fresh := c.all[c.checked:]
	for _, e := range c.all {
		number, there := numbers[e.id()]
		if e.answered && (!there || number != e.recorded.GetNumber()) {
			t.Fatalf("%s was answered as number %q and stands at %q", e.id(), e.recorded.GetNumber(), number)
		}
	}
	for i, e := range fresh {
		if e.answered && i%8 != 0 { // a repeat reads what GetInspection reads below
			continue
		}
		again := e.again()
		if err := again.send(t.Context(), s); err != nil {
			t.Fatalf("%s sent again: %v", e.id(), err)
		}
		number, there := numbers[e.id()]
		switch {
		case again.recorded.GetRepeatedCall() != there:
			t.Fatalf("%s is in the book: %v; sent again it was answered %v", e.id(), there, again.recorded)
		case e.answered && (!sameEntry(again.recorded, e.recorded) || !proto.Equal(again.means, e.means)):
			t.Fatalf("%s was answered %v, %v and then %v, %v", e.id(), e.recorded, e.means, again.recorded, again.means)
		case there && again.recorded.GetNumber() != number:
			t.Fatalf("%s stands at %s and was answered as %s", e.id(), number, again.recorded.GetNumber())
		case !e.answered:
			c.unanswered++
			if there {
				c.stored++
			}
			e.answered, e.recorded, e.means = true, again.recorded, again.means
		}
	}
	c.follower.catchUp(t, s)
	if numbers = c.numbers(t); len(numbers) != len(c.all) {
		t.Fatalf("%d creates are in the feed, %d were sent", len(numbers), len(c.all))
	}

	touched := map[string]bool{}
	for _, e := range fresh {
		touched[cmp.Or(e.visit.GetVehicleId(), e.vehicle.GetId())] = true
		if e.visit == nil {
			continue
		}
		got, err := s.inspections.GetInspection(as(t.Context(), benchToken), &pb.GetInspectionRequest{ShopId: crashShop, InspectionId: e.visit.GetId()})
		kept := got.GetKept()
		if err != nil || !proto.Equal(kept.GetAssessment(), e.means) || !proto.Equal(kept.GetInspection(), e.visit) || !sameEntry(kept.GetRecorded(), e.recorded) || e.recorded.GetNumber() != numbers[e.id()] {
			t.Fatalf("%s was answered %v, %v and is kept as %v, %v", e.id(), e.recorded, e.means, got, err)
		}
	}
	c.checked = len(c.all)
	c.verifyLists(t, s)
	c.verifyVehicles(t, s, slices.Collect(maps.Keys(touched)))
}

// sameEntry tells that two answers name one entry of the book.
func sameEntry(a, b *pb.Recorded) bool {
	return a.GetNumber() == b.GetNumber() && proto.Equal(a.GetRecordedTime(), b.GetRecordedTime()) && a.GetRevision() == b.GetRevision()
}

// numbers are the places of all records in the feed. The same record in two
// places fails the test.
func (c *crash) numbers(t *testing.T) map[string]string {
	t.Helper()
	numbers := map[string]string{}
	for _, change := range c.follower.changes {
		id := changeID(change)
		if at, twice := numbers[id]; twice || id == "" {
			t.Fatalf("%q stands in the feed at %s and at %s", id, at, change.GetNumber())
		}
		numbers[id] = change.GetNumber()
	}
	return numbers
}

// toldVehicle is a vehicle as one knows it who has followed the feed.
type toldVehicle struct {
	revision string
	visits   []*pb.Change
	state    *pb.VehicleState
	open     map[string]bool // by open_id, from what was opened and closed
}

// toldVehicles follows the feed from its beginning.
func (c *crash) toldVehicles() map[string]*toldVehicle {
	told := map[string]*toldVehicle{}
	for _, change := range c.follower.changes {
		if v := change.GetVehicle(); v != nil {
			told[v.GetVehicleId()] = &toldVehicle{revision: v.GetRevision(), state: change.GetVehicles()[0], open: map[string]bool{}}
			continue
		}
		visit := change.GetInspection()
		of := told[visit.GetVehicleId()]
		// In the order in which they were taken, which is mostly that of the feed.
		behind := func(c *pb.Change) bool {
			return c.GetInspection().GetTakenTime().AsTime().After(visit.GetTakenTime().AsTime())
		}
		place := slices.IndexFunc(of.visits, behind)
		if place < 0 {
			place = len(of.visits)
		}
		of.visits, of.state = slices.Insert(of.visits, place, change), change.GetVehicles()[0]
		for _, closed := range visit.GetClosed() {
			delete(of.open, closed.GetOpenId())
		}
		for _, id := range visit.GetOpened() {
			of.open[id] = true
		}
	}
	return told
}

// row is the vehicle's row of a list.
func (v *toldVehicle) row() *pb.VehicleRow {
	row := &pb.VehicleRow{VehicleId: v.state.GetVehicleId(), Tag: v.state.GetTag(), Headline: v.state.GetHeadline()}
	if len(v.visits) > 0 {
		row.LastSeenTime = v.visits[len(v.visits)-1].GetRecordedTime()
	}
	for _, f := range v.state.GetOpen() {
		row.FindingCodes = append(row.FindingCodes, f.GetFinding().GetCode())
	}
	slices.Sort(row.FindingCodes)
	row.FindingCodes = slices.Compact(row.FindingCodes)
	return row
}

// verifyLists walks both lists of vehicles: each holds every vehicle once, as the
// feed tells it, in order.
func (c *crash) verifyLists(t *testing.T, s *server) {
	t.Helper()
	lastSeen := func(a, b *pb.VehicleRow) int {
		return b.GetLastSeenTime().AsTime().Compare(a.GetLastSeenTime().AsTime()) // none is the epoch
	}
	nothingLast := func(r *pb.VehicleRow) int { return (int(r.GetHeadline().GetUrgency()) + 99) % 100 }
	orders := map[pb.VehicleOrder]func(a, b *pb.VehicleRow) int{
		pb.VehicleOrder_VEHICLE_ORDER_LAST_SEEN: lastSeen,
		pb.VehicleOrder_VEHICLE_ORDER_URGENCY: func(a, b *pb.VehicleRow) int {
			return cmp.Or(cmp.Compare(nothingLast(a), nothingLast(b)), lastSeen(a, b))
		},
	}
	for order, compare := range orders {
		var rows []*pb.VehicleRow
		for token, more := "", true; more; more = token != "" {
			page, err := s.vehicles.ListVehicles(as(t.Context(), counterToken), &pb.ListVehiclesRequest{ShopId: crashShop, By: &pb.ListVehiclesRequest_Order{Order: order}, PageSize: 20, PageToken: token})
			if err != nil {
				t.Fatal(err)
			}
			rows, token = append(rows, page.GetRows()...), page.GetNextPageToken()
		}
		if !slices.IsSortedFunc(rows, compare) {
			t.Errorf("%v: not in order", order)
		}
		told := c.toldVehicles()
		for _, row := range rows {
			want, there := told[row.GetVehicleId()]
			if !there {
				t.Errorf("%v: %s is listed twice, or was never told", order, row.GetVehicleId())
				continue
			}
			delete(told, row.GetVehicleId())
			slices.Sort(row.GetFindingCodes())
			if !proto.Equal(row, want.row()) {
				t.Errorf("%v: listed is %v, told was %v", order, row, want.row())
			}
		}
		for id := range told {
			t.Errorf("%v: %s is not listed", order, id)
		}
	}
}

// verifyVehicles reads vehicles one by one with all their visits.
func (c *crash) verifyVehicles(t *testing.T, s *server, ids []string) {
	t.Helper()
	ctx, told := as(t.Context(), benchToken), c.toldVehicles()
	for _, id := range ids {
		want := told[id]
		got, err := s.vehicles.GetVehicle(ctx, &pb.GetVehicleRequest{ShopId: crashShop, VehicleId: id})
		if err != nil {
			t.Fatal(err)
		}
		open := map[string]bool{}
		for _, f := range got.GetState().GetOpen() {
			open[f.GetOpenId()] = true
		}
		if !maps.Equal(open, want.open) || len(open) != len(got.GetState().GetOpen()) {
			t.Errorf("%s: open are %v, told were %v", id, open, want.open)
		}
		if !proto.Equal(got.GetState(), want.state) {
			t.Errorf("%s: its state is %v, told was %v", id, got.GetState(), want.state)
		}
		was := proto.CloneOf(c.vehicle(id))
		was.Revision = want.revision
		if !proto.Equal(got.GetVehicle(), was) {
			t.Errorf("%s is %v, was recorded as %v", id, got.GetVehicle(), was)
		}

		var visits []*pb.InspectionSummary
		for token, more := "", true; more; more = token != "" {
			page, err := s.inspections.ListInspections(ctx, &pb.ListInspectionsRequest{ShopId: crashShop, VehicleId: id, PageSize: 5, PageToken: token})
			if err != nil {
				t.Fatal(err)
			}
			visits, token = append(visits, page.GetInspections()...), page.GetNextPageToken()
		}
		slices.Reverse(visits) // the newest came first
		if !slices.EqualFunc(visits, want.visits, sameVisit) {
			t.Errorf("%s has the visits %v, told were %v", id, visits, want.visits)
		}
		if last := got.GetState().GetLastInspectionId(); len(visits) > 0 && last != visits[len(visits)-1].GetInspectionId() {
			t.Errorf("%s was last seen at %s", id, last)
		}
	}
}

// vehicle is one as it was sent.
func (c *crash) vehicle(id string) *pb.Vehicle {
	i := slices.IndexFunc(c.all, func(s *sent) bool { return s.vehicle.GetId() == id })
	return c.all[i].vehicle
}

// sameVisit compares a visit's row with what the feed told of it.
func sameVisit(row *pb.InspectionSummary, told *pb.Change) bool {
	var ids []string
	for _, f := range told.GetInspection().GetAssessment().GetFindings() {
		ids = append(ids, f.GetId())
	}
	return row.GetInspectionId() == told.GetInspection().GetInspectionId() && row.GetNumber() == told.GetNumber() && slices.Equal(row.GetFindingIds(), ids)
}
