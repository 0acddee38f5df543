package app_test

import (
	"fmt"
	"log/slog"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/history/badger"
	"gaugebook.dev/server/judge"
)

// What it costs to keep a book of many visits: a backup, a restore, a verification, an export
// and its import into an empty book, each by the real program, with its anonymous memory at the highest. GAUGEBOOK_KEEPING names the
// number of visits:
//
//	GAUGEBOOK_KEEPING=100000 go test ./server/app -run '^$' -bench Keeping -benchtime 1x -timeout 60m
func BenchmarkKeeping(b *testing.B) {
	size := 10_000
	if text := os.Getenv("GAUGEBOOK_KEEPING"); text != "" {
		var err error
		if size, err = strconv.Atoi(text); err != nil {
			b.Fatal(err)
		}
	}
	for b.Loop() {
		base := b.TempDir()
		dir, file := filepath.Join(base, "book"), filepath.Join(base, "kept.backup")
		lines := filepath.Join(base, "shop.jsonl")
		fillFolder(b, dir, size)
		b.ReportMetric(float64(bytesOf(b, dir))/float64(size), "B/visit")
		for _, c := range []struct {
			name string
			args []string
		}{
			{"backup", []string{"backup", "--store", dir, file}},
			{"restore", []string{"restore", file, "--store", dir + "-again"}},
			{"verify", []string{"verify", "--store", dir + "-again"}},
			{"export", []string{"export", "--store", dir, "--shop", crashShop, lines}},
			{"import", []string{"import", "--store", dir + "-imported", "--new", "--shop", crashShop, lines}},
		} {
			took, peak := runMeasured(b, c.args)
			b.ReportMetric(took.Seconds(), "s/"+c.name)
			b.ReportMetric(float64(peak)/1e6, "MB/"+c.name)
		}
		info, err := os.Stat(file)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(info.Size())/float64(size), "B-backup/visit")
	}
}

// fillFolder fills a folder with the book of so many visits.
func fillFolder(b *testing.B, dir string, visits int) {
	b.Helper()
	store, err := badger.Open(dir, badger.Options{Logger: slog.New(slog.DiscardHandler)})
	if err != nil {
		b.Fatal(err)
	}
	fill := book.New(store, judge.For(judge.NoneOwn), time.Now)
	var next atomic.Int64
	var all sync.WaitGroup
	for writer := range 64 {
		random := rand.New(rand.NewPCG(uint64(writer), 1))
		all.Go(func() {
			for next.Add(visitsEach) <= int64(visits) && !b.Failed() {
				id := ""
				if _, err := keepVisits(b.Context(), fill, random, &id); err != nil {
					b.Error(err)
				}
			}
		})
	}
	all.Wait()
	if err := store.Close(); err != nil || b.Failed() {
		b.Fatal(err)
	}
}

// runMeasured runs the program, and gives how long it took and the most anonymous memory that
// it had.
func runMeasured(b *testing.B, args []string) (took time.Duration, peak int64) {
	b.Helper()
	cmd := exec.Command(os.Args[0], args...)
	cmd.Env = append(os.Environ(), childVariable+"=gaugebook")
	stdin, err := cmd.StdinPipe() // the child ends with it
	if err != nil {
		b.Fatal(err)
	}
	defer func() { _ = stdin.Close() }()
	var said strings.Builder
	cmd.Stdout, cmd.Stderr = &said, &said
	began := time.Now()
	if err := cmd.Start(); err != nil {
		b.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	for {
		select {
		case err := <-ended:
			if err != nil {
				b.Fatal(fmt.Errorf("%q: %w: %s", args, err, said.String()))
			}
			return time.Since(began), peak
		case <-time.After(20 * time.Millisecond):
			if now, err := anonymous(cmd.Process.Pid); err == nil {
				peak = max(peak, now)
			}
		}
	}
}
