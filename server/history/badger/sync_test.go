package badger

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"gaugebook.dev/server/history"
)

// writeCounted commits 640 drafts from 64 goroutines and prints the counts.
func writeCounted(dir string) error {
	store, err := Open(dir, Options{})
	if err != nil {
		return err
	}
	var group sync.WaitGroup
	failed := make(chan error, 64)
	for range 64 {
		group.Go(func() {
			for range 10 {
				if _, err := store.Commit(context.Background(), history.Draft{Shop: "north", Feed: make([]byte, 400)}); err != nil {
					failed <- err
					return
				}
			}
		})
	}
	group.Wait()
	close(failed)
	return errors.Join(<-failed, printStats(store), store.Close())
}

func printStats(store *Store) error {
	stats := store.Stats()
	_, err := fmt.Fprintln(os.Stdout, stats.Drafts, stats.Syncs)
	return err
}

// writeNothing does what writeCounted does, but for the drafts.
func writeNothing(dir string) error {
	store, err := Open(dir, Options{})
	if err != nil {
		return err
	}
	return errors.Join(printStats(store), store.Close())
}

// TestEveryTransactionIsSynced counts the syncs that the system was asked for:
// at least one for every transaction, and fewer than there were drafts. The
// engine asks twice a transaction, once for its empty value log.
//
// Where system calls cannot be traced the count of transactions must do, which
// TestGroupsShareOneTransaction holds to what was committed.
func TestEveryTransactionIsSynced(t *testing.T) {
	none, _, traced := countSyncs(t, "idle")
	if !traced {
		t.Log("strace cannot be used here: only transactions are counted, not syncs")
	}
	synced, stats, _ := countSyncs(t, "counted")
	if stats.Drafts != 640 {
		t.Fatalf("%d drafts were stored, want 640", stats.Drafts)
	}
	if stats.Syncs*2 > stats.Drafts {
		t.Errorf("%d transactions for %d drafts of 64 writers: they do not share", stats.Syncs, stats.Drafts)
	}
	if !traced {
		return
	}
	t.Logf("%d drafts in %d transactions, %d syncs", stats.Drafts, stats.Syncs, synced-none)
	// Closing a store that holds something writes a table, which takes a few more.
	if few := 16; synced-none < int(stats.Syncs) || synced-none > 2*int(stats.Syncs)+few {
		t.Errorf("%d syncs for %d transactions, want between once and twice as many", synced-none, stats.Syncs)
	}
}

// countSyncs runs a child and gives the number of its calls of msync, if they
// can be traced, and what it printed.
func countSyncs(t *testing.T, child string) (syncs int, stats Stats, traced bool) {
	t.Helper()
	trace := filepath.Join(t.TempDir(), "trace")
	store := filepath.Join(t.TempDir(), "store")
	arguments := []string{os.Args[0], store}
	if exec.CommandContext(t.Context(), "strace", "-o", os.DevNull, "true").Run() == nil {
		arguments = append([]string{"strace", "-f", "-e", "trace=msync", "-o", trace}, arguments...)
		traced = true
	}
	command := exec.CommandContext(t.Context(), arguments[0], arguments[1:]...)
	command.Env = childOf(child)
	command.Stderr = os.Stderr
	output, err := command.Output()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := fmt.Sscan(string(output), &stats.Drafts, &stats.Syncs); err != nil {
		t.Fatal(fmt.Errorf("%q: %w", output, err))
	}
	if !traced {
		return 0, stats, false
	}
	text, err := os.ReadFile(trace)
	if err != nil {
		t.Fatal(err)
	}
	// A call that another thread interrupts stands in two lines, once with its
	// arguments.
	return strings.Count(string(text), "msync("), stats, true
}

// TestSyncsThatFailBelow has the system fail every sync from some moment on, below the
// engine, where that can be done: the store is read-only from then on, and what was answered
// is there when it is opened again, nothing half.
func TestSyncsThatFailBelow(t *testing.T) {
	if exec.CommandContext(t.Context(), "strace", "-o", os.DevNull, "true").Run() != nil {
		t.Log("nothing can be made to fail below the engine here: TestFailedSyncMakesReadOnly fails it above")
		return
	}
	for _, when := range []int{30, 77} {
		dir := filepath.Join(t.TempDir(), "store")
		child := exec.CommandContext(t.Context(), "strace", "-f", "-qq", "-o", os.DevNull, "-e", "trace=msync",
			"-e", fmt.Sprintf("inject=msync:error=EIO:when=%d+", when), os.Args[0], dir)
		child.Env = childOf("until killed")
		var complaint strings.Builder
		child.Stderr = &complaint
		output, err := child.Output()
		if err == nil || !strings.Contains(complaint.String(), "reopened: input/output error") {
			t.Fatalf("it ended with %v: %s", err, complaint.String())
		}
		store := open(t, dir, Options{tune: smallFiles})
		stored := readCrashed(t, store)
		told := 0
		for line := range strings.Lines(string(output)) {
			var id string
			var number history.Number
			if _, err := fmt.Sscanf(line, "%s %d\n", &id, &number); err != nil || stored[id] != number {
				t.Fatalf("%q was answered, %d is stored: %v", line, stored[id], err)
			}
			told++
		}
		if told == 0 {
			t.Error("none was answered: the failure is no test")
		}
		if err := store.Close(); err != nil {
			t.Error(err)
		}
	}
}
