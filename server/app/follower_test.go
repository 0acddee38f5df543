//go:build follower

package app_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// A counter written in another language keeps what is open in a table, by README alone. It
// is killed 20 times while visits come in, and the server is ended, killed and put back to a
// copy of before; in the end its table is what the server says.
func TestAFollowerInAnotherLanguage(t *testing.T) {
	seed := rand.Uint64()
	f := &followed{t: t, random: rand.New(rand.NewPCG(seed, 0)), dir: filepath.Join(t.TempDir(), "book"), access: writeAccess(t), at: freeAddress(t)}
	f.table = filepath.Join(t.TempDir(), "table.json")
	f.start()
	follower := f.follow()
	const kills = 20
	back := 0
	for kill := range kills {
		for range 2 + f.random.IntN(6) {
			f.record()
		}
		switch f.random.IntN(4) {
		case 0:
			f.server.kill()
			f.start()
		case 1:
			f.copyBack()
			back++
		}
		time.Sleep(time.Duration(f.random.IntN(400)) * time.Millisecond)
		if err := follower.Process.Kill(); err != nil {
			t.Fatalf("seed %d, kill %d: %v", seed, kill, err)
		}
		_ = follower.Wait() // killed
		follower = f.follow()
	}
	f.copyBack()
	f.record()
	f.agree(seed)
	if err := follower.Process.Kill(); err != nil {
		t.Errorf("seed %d: it had ended by itself: %v", seed, err)
	}
	_ = follower.Wait()
	t.Logf("seed %d: %d kills, %d copies put back", seed, kills, back+1)
}

// followed is a book that is recorded in, put back, and followed.
type followed struct {
	t           *testing.T
	random      *rand.Rand
	dir, access string
	at, table   string
	server      *server
	copies      int
	vehicles    []string
	tires       []string
}

// freeAddress is one that nothing listens on.
func freeAddress(t *testing.T) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = l.Close() }()
	return l.Addr().String()
}

func (f *followed) start() {
	f.server = startServer(f.t, "gaugebook", append(serveArgs(f.t, f.dir, f.access), "--http", f.at)...)
}

// follow starts the follower on its table.
func (f *followed) follow() *exec.Cmd {
	f.t.Helper()
	c := exec.CommandContext(f.t.Context(), "python3", "../../testdata/follower/follow.py", "http://"+f.at, crashShop, counterToken, f.table)
	c.Stderr = os.Stderr
	if err := c.Start(); err != nil {
		f.t.Fatal(err)
	}
	return c
}

// record records a vehicle or a visit, which may tell of a tire of another vehicle.
func (f *followed) record() {
	f.t.Helper()
	e := &sent{byJSON: f.random.IntN(2) == 0}
	if len(f.vehicles) == 0 || f.random.IntN(5) == 0 {
		e.vehicle = newVehicle()
	} else {
		e.visit = newVisit(f.random, f.vehicles[f.random.IntN(len(f.vehicles))])
		if len(f.tires) == 0 || f.random.IntN(3) == 0 {
			f.tires = append(f.tires, uuid.NewString())
		}
		e.visit.GetWheels()[0].TireId = f.tires[f.random.IntN(len(f.tires))]
	}
	if err := e.send(f.t.Context(), f.server); err != nil {
		f.t.Fatal(err)
	}
	if e.vehicle != nil {
		f.vehicles = append(f.vehicles, e.vehicle.GetId())
	}
}

// copyBack copies the folder of the server, records on, and puts the copy back: what was
// recorded in between is lost. The server may end in order or not.
func (f *followed) copyBack() {
	f.t.Helper()
	known := slices.Clone(f.vehicles)
	if err := f.server.terminate(); err != nil {
		f.t.Fatal(err)
	}
	f.copies++
	before := fmt.Sprintf("%s-%d", f.dir, f.copies)
	if err := os.CopyFS(before, os.DirFS(f.dir)); err != nil {
		f.t.Fatal(err)
	}
	f.start()
	for range 1 + f.random.IntN(5) {
		f.record()
	}
	time.Sleep(time.Duration(f.random.IntN(400)) * time.Millisecond)
	f.server.kill()
	f.dir, f.vehicles = before, known
	f.start()
	for range f.random.IntN(6) { // as many as before, or fewer, or more
		f.record()
	}
}

// agree waits until the table is what the server says.
func (f *followed) agree(seed uint64) {
	f.t.Helper()
	want := f.open()
	for range 100 {
		if maps.Equal(f.kept(), want) {
			return
		}
		time.Sleep(100 * time.Millisecond)
	}
	f.t.Errorf("seed %d: the table has %v, should have %v", seed, f.kept(), want)
}

// open is what the server says is open, each with its code.
func (f *followed) open() map[string]string {
	f.t.Helper()
	all := map[string]string{}
	for _, id := range f.vehicles {
		v, err := f.server.vehicles.GetVehicle(as(f.t.Context(), counterToken), &pb.GetVehicleRequest{ShopId: crashShop, VehicleId: id})
		if err != nil {
			f.t.Fatal(err)
		}
		for _, o := range v.GetState().GetOpen() {
			all[id+" "+o.GetOpenId()] = o.GetFinding().GetCode()
		}
	}
	if len(all) == 0 {
		f.t.Fatal("nothing is open")
	}
	return all
}

// kept is the table as the follower has it.
func (f *followed) kept() map[string]string {
	f.t.Helper()
	data, err := os.ReadFile(f.table)
	if err != nil {
		return nil // not listed yet
	}
	var table struct {
		Open map[string]map[string]string `json:"open"`
	}
	if err := json.Unmarshal(data, &table); err != nil {
		f.t.Fatal(err)
	}
	all := map[string]string{}
	for vehicle, open := range table.Open {
		for id, code := range open {
			all[vehicle+" "+id] = code
		}
	}
	return all
}
