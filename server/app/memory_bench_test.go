package app_test

import (
	"context"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// What the program takes of memory and disk while 64 phones fill a book: the highest
// anonymous memory (RssAnon of proc(5), sampled), of the whole and of its last tenth, the
// disk a visit, and the time to open it again. GAUGEBOOK_GROWTH names the size, and
// GAUGEBOOK_GROWN a folder that is kept, or that has a book already which grows on:
//
//	GAUGEBOOK_GROWTH=100000 GAUGEBOOK_GROWN=/var/tmp/grown go test ./server/app -run '^$' -bench Memory -benchtime 1x
func BenchmarkMemory(b *testing.B) {
	size, err := strconv.Atoi(os.Getenv("GAUGEBOOK_GROWTH"))
	if err != nil {
		size = 2000
	}
	dir := os.Getenv("GAUGEBOOK_GROWN")
	for b.Loop() {
		if dir == "" {
			dir = filepath.Join(b.TempDir(), "book")
		}
		access := writeAccess(b)
		s := startBook(b, dir, access)
		m := watchMemory(b, s.process.Process.Pid)
		sendVisits(b, s, size-size/10)
		whole := m.peak.Swap(0)
		sendVisits(b, s, size/10)
		last := m.peak.Load()
		m.end()
		if err := s.terminate(); err != nil {
			b.Fatal(err, s.said)
		}
		began := time.Now()
		s = startBook(b, dir, access)
		b.ReportMetric(float64(time.Since(began).Milliseconds()), "ms/open")
		b.ReportMetric(float64(max(whole, last))/1e6, "MB/peak")
		b.ReportMetric(float64(last)/1e6, "MB/peak-of-last-tenth")
		if err := s.terminate(); err != nil {
			b.Fatal(err, s.said)
		}
		b.ReportMetric(float64(bytesOf(b, dir))/float64(size), "B/visit")
	}
}

// sendVisits has 64 phones record vehicles with 20 visits each.
func sendVisits(b *testing.B, s *server, visits int) {
	b.Helper()
	var next atomic.Int64
	var all sync.WaitGroup
	for writer := range 64 {
		random := rand.New(rand.NewPCG(uint64(writer), uint64(visits)))
		all.Go(func() {
			for next.Add(visitsEach) <= int64(visits) && !b.Failed() {
				if err := sendVehicle(as(b.Context(), benchToken), s, random); err != nil {
					b.Error(err)
				}
			}
		})
	}
	all.Wait()
	if b.Failed() {
		b.FailNow()
	}
}

func sendVehicle(ctx context.Context, s *server, random *rand.Rand) error {
	v := newVehicle()
	if _, err := s.vehicles.RecordVehicle(ctx, &pb.RecordVehicleRequest{ShopId: crashShop, Vehicle: v}); err != nil {
		return err
	}
	for range visitsEach {
		in := newVisit(random, v.GetId())
		in.TakenTime = nil
		if _, err := s.inspections.RecordInspection(ctx, &pb.RecordInspectionRequest{ShopId: crashShop, Inspection: in}); err != nil {
			return err
		}
	}
	return nil
}

// memory is what a process takes, sampled.
type memory struct {
	peak atomic.Int64 // bytes
	end  func()
}

func watchMemory(b *testing.B, pid int) *memory {
	b.Helper()
	ctx, end := context.WithCancel(context.Background())
	m := &memory{}
	var done sync.WaitGroup
	m.end = func() { end(); done.Wait() }
	done.Go(func() {
		for ctx.Err() == nil {
			now, err := anonymous(pid)
			if err != nil {
				b.Error(err)
				return
			}
			if now > m.peak.Load() {
				m.peak.Store(now)
			}
			time.Sleep(50 * time.Millisecond)
		}
	})
	return m
}

// anonymous is RssAnon of a process in bytes.
func anonymous(pid int) (int64, error) {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		return 0, err
	}
	for line := range strings.Lines(string(text)) {
		var kilobytes int64
		if _, err := fmt.Sscanf(line, "RssAnon: %d kB", &kilobytes); err == nil {
			return kilobytes << 10, nil
		}
	}
	return 0, fmt.Errorf("no RssAnon of process %d", pid)
}

func bytesOf(b *testing.B, dir string) (bytes int64) {
	b.Helper()
	err := filepath.WalkDir(dir, func(_ string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		info, err := entry.Info()
		if err == nil {
			bytes += info.Size()
		}
		return err
	})
	if err != nil {
		b.Fatal(err)
	}
	return bytes
}
