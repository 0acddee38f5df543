package app_test

import (
	"context"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// The folder of a book goes away under the program: it reads on, refuses to write, is not
// ready, and ends within seconds when it is asked to; back in its place the folder holds
// all that was answered.
func TestAFolderThatGoesAway(t *testing.T) {
	dir, accessFile := filepath.Join(t.TempDir(), "book"), writeAccess(t)
	s := startBook(t, dir, accessFile)
	v := newVehicle()
	record := func(v *pb.Vehicle) error {
		ctx, cancel := context.WithTimeout(as(t.Context(), benchToken), 10*time.Second)
		defer cancel()
		_, err := s.vehicles.RecordVehicle(ctx, &pb.RecordVehicleRequest{ShopId: crashShop, Vehicle: v})
		return err
	}
	read := func() error {
		_, err := s.vehicles.GetVehicle(as(t.Context(), benchToken), &pb.GetVehicleRequest{ShopId: crashShop, VehicleId: v.GetId()})
		return err
	}
	if err := record(v); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(dir, dir+" elsewhere"); err != nil {
		t.Fatal(err)
	}
	for range 50 {
		if err := record(newVehicle()); status.Code(err) != codes.Unavailable {
			t.Fatalf("recorded with %v", err)
		}
		if err := read(); err != nil {
			t.Fatal(err)
		}
	}
	if !s.becomes(t, http.StatusServiceUnavailable) {
		t.Error("it says that it is ready")
	}
	began := time.Now()
	if err := s.terminate(); err == nil || !strings.Contains(s.said.String(), "as a kill leaves it") {
		t.Errorf("ended with %v: %s", err, s.said)
	}
	if took := time.Since(began); took > 10*time.Second {
		t.Errorf("ended after %v", took)
	}
	if n := strings.Count(s.complaints(), "\n"); n != 2 { // of the log one, and how it ended
		t.Errorf("%d lines: %s", n, s.complaints())
	}

	if err := os.Rename(dir+" elsewhere", dir); err != nil {
		t.Fatal(err)
	}
	s = startBook(t, dir, accessFile)
	if err := read(); err != nil {
		t.Errorf("back in its place: %v", err)
	}
	if err := record(newVehicle()); err != nil {
		t.Error(err)
	}
	if err := s.terminate(); err != nil || s.complaints() != "" {
		t.Errorf("%v: %s", err, s.complaints())
	}
}

// becomes waits until readiness is told with a code.
func (s *server) becomes(t *testing.T, code int) bool {
	t.Helper()
	for range 100 {
		answer, err := s.json.Get(s.web + "/readyz")
		if err != nil {
			t.Fatal(err)
		}
		_ = answer.Body.Close()
		if answer.StatusCode == code {
			return true
		}
		time.Sleep(50 * time.Millisecond)
	}
	return false
}
