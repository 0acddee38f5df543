package app

import (
	"context"
	"errors"
	"log/slog"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/badger"
	"gaugebook.dev/server/history/memory"
)

// refusedOf is what a refusal tells a program.
func refusedOf(err error) (code codes.Code, reason, why string, wait time.Duration) {
	st := status.Convert(err)
	for _, detail := range st.Details() {
		switch d := detail.(type) {
		case *errdetails.ErrorInfo:
			reason, why = d.GetReason(), d.GetMetadata()["why"]
		case *errdetails.RetryInfo:
			wait = d.GetRetryDelay().AsDuration()
		}
	}
	return st.Code(), reason, why, wait
}

// ready waits until the server is ready, or is not, at both doors.
func (r *running) ready(want bool) {
	r.t.Helper()
	code := map[bool]int{true: http.StatusOK, false: http.StatusServiceUnavailable}[want]
	for range 100 {
		if _, got, _ := r.overJSON(http.MethodGet, "/readyz", "", nil, nil); got == code {
			return
		}
		time.Sleep(lookAtStore / 20)
	}
	r.t.Errorf("/readyz does not answer %d", code)
}

// What stands in the way of writing is told by both doors, in one way: who reads is
// answered, who writes is told why and when to come again, readiness is off, the log has a
// line; when it is gone all goes on.
func TestWhatStandsInTheWayOfWriting(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "book")
	var free atomic.Uint64
	free.Store(1 << 40)
	begin := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	moved := dir + " elsewhere"
	tests := []struct {
		name       string
		begin, end func()
		code       codes.Code
		http       int
		reason     string
		why        string
		wait       time.Duration // at least
		says       string        // in the log
	}{
		{
			"disk nearly full", func() { free.Store(100 << 20) }, func() { free.Store(1 << 40) },
			codes.ResourceExhausted, http.StatusInsufficientStorage, "DISK_NEARLY_FULL", "", 2 * time.Minute, "nearly full",
		},
		{
			"disk full", func() { free.Store(0) }, func() { free.Store(1 << 40) },
			codes.ResourceExhausted, http.StatusInsufficientStorage, "DISK_NEARLY_FULL", "", 2 * time.Minute, "nearly full",
		},
		{
			"folder gone", func() { begin(os.Rename(dir, moved)) }, func() { begin(os.Rename(moved, dir)) },
			codes.Unavailable, http.StatusServiceUnavailable, "STORE_READ_ONLY", "FOLDER", time.Second, "no such file",
		},
		{
			"another folder", func() { begin(errors.Join(os.Rename(dir, moved), os.Mkdir(dir, 0o700))) },
			func() { begin(errors.Join(os.Remove(dir), os.Rename(moved, dir))) },
			codes.Unavailable, http.StatusServiceUnavailable, "STORE_READ_ONLY", "FOLDER", time.Second, "another folder",
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			logged := &lockedBuffer{}
			store, err := badger.Open(dir, badger.Options{
				Logger: slog.New(slog.NewTextHandler(logged, nil)), FreeSpace: func(string) (uint64, error) { return free.Load(), nil },
			})
			if err != nil {
				t.Fatal(err)
			}
			r := serve(t, store)
			v := testCar()
			r.keep(v)
			r.ready(true)

			test.begin()
			vehicles := pb.NewVehicleServiceClient(r.conn)
			for range 10 {
				_, err = vehicles.RecordVehicle(bearing(t.Context(), testBench), &pb.RecordVehicleRequest{ShopId: testShop, Vehicle: testCar()})
				if code, reason, why, wait := refusedOf(err); code != test.code || reason != test.reason || why != test.why || wait < test.wait {
					t.Errorf("gRPC: %v %s %s, wait %v", code, reason, why, wait)
				}
				said, code, _ := r.overJSON(http.MethodPost, "/v1/shops/"+testShop+"/vehicles", testBench, nil, jsonOf(t, &pb.RecordVehicleRequest{Vehicle: testCar()}))
				if code != test.http || said.reason != test.reason {
					t.Errorf("HTTP %d: %v", code, said)
				}
			}
			if _, err := vehicles.GetVehicle(bearing(t.Context(), testBench), &pb.GetVehicleRequest{ShopId: testShop, VehicleId: v.GetId()}); err != nil {
				t.Errorf("reading: %v", err)
			}
			r.ready(false)
			if all := logged.String() + r.said.String(); strings.Count(all, "\n") != 1 || !strings.Contains(all, test.says) {
				t.Errorf("logged %q", all)
			}

			test.end()
			r.ready(true)
			r.keep(testCar())
			r.leave()
		})
	}
}

// unwritable is a store that takes no drafts.
type unwritable struct {
	history.Store
	err error
}

func (u *unwritable) Writable() error { return u.err }

func (u *unwritable) Commit(context.Context, history.Draft) (history.Number, error) { return 0, u.err }

// After a failed sync, and where its book was found damaged, a server reads on and is not ready.
func TestAFailedSyncIsNotReady(t *testing.T) {
	for want, cause := range map[string]error{
		"WRITE_FAILED": errors.New("sync"),
		"DAMAGED":      &badger.DamageError{Damages: []badger.Damage{{File: "000001.sst", Problem: "is gone"}}},
	} {
		r := serve(t, &unwritable{memory.New(), &history.ReadOnlyError{Cause: cause}})
		r.ready(false)
		_, err := pb.NewVehicleServiceClient(r.conn).RecordVehicle(bearing(t.Context(), testBench), &pb.RecordVehicleRequest{ShopId: testShop, Vehicle: testCar()})
		if code, reason, why, wait := refusedOf(err); code != codes.Unavailable || reason != "STORE_READ_ONLY" || why != want || wait == 0 {
			t.Errorf("%v %s %s, wait %v; want %s", code, reason, why, wait, want)
		}
		r.leave()
	}
}
