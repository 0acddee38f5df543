package badger

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	engine "github.com/dgraph-io/badger/v4"

	"gaugebook.dev/server/history"
)

// smallFiles makes the engine change its files often: a log holds 1 MB, and the
// largest transaction 150 kB.
func smallFiles(opts engine.Options) engine.Options {
	return opts.WithMemTableSize(1 << 20).WithValueThreshold(100 << 10).WithValueLogFileSize(1 << 20)
}

const crashShop = "north"

// crashDraft puts two rows and a feed entry that name one another.
func crashDraft(id string, filler []byte) history.Draft {
	value := append([]byte(id+" "), filler...)
	return history.Draft{
		Shop:   crashShop,
		Expect: []history.Expectation{{Key: history.Key("a").Text(id), Version: history.Absent}},
		Put: []history.Put{
			{Key: history.Key("a").Text(id), Value: value},
			{Key: history.Key("z").Text(id), Value: value},
		},
		Feed: []byte(id),
	}
}

// crashOptions note what was acknowledged: no kill may look like a loss.
func crashOptions(dir string) Options {
	return Options{tune: smallFiles, MinFree: 1, StateDir: dir + ".state"}
}

// writeUntilKilled commits from 16 goroutines and prints a line for every
// draft that was stored.
func writeUntilKilled(dir string) error {
	store, err := Open(dir, crashOptions(dir))
	if err != nil {
		return err
	}
	failed := make(chan error)
	for w := range 16 {
		go func() {
			random := rand.New(rand.NewPCG(uint64(os.Getpid()), uint64(w)))
			for i := 0; ; i++ {
				id := fmt.Sprintf("%d-%d-%d", os.Getpid(), w, i)
				number, err := store.Commit(context.Background(), crashDraft(id, make([]byte, random.IntN(10_000))))
				if err == nil {
					_, err = fmt.Fprintf(os.Stdout, "%s %d\n", id, number)
				}
				if err != nil {
					failed <- err
					return
				}
			}
		}()
	}
	return <-failed
}

// killsVariable is how often the process is killed, where it is set.
const killsVariable = "GAUGEBOOK_KILLS"

// drawn is how often something is tried: so often, or as a variable of the environment says.
func drawn(t *testing.T, variable string, times int) int {
	t.Helper()
	if asked := os.Getenv(variable); asked != "" {
		var err error
		if times, err = strconv.Atoi(asked); err != nil {
			t.Fatal(err)
		}
	}
	return times
}

// TestKilledProcessLosesNothing kills a writing process at a random moment, 20
// times over on one store, and reads what it left. What was answered must be
// there, and nothing half. The system survives, and with it what was written but
// not synced: this is about recovery, TestEveryTransactionIsSynced about syncs.
func TestKilledProcessLosesNothing(t *testing.T) {
	const seed = 42
	kills := drawn(t, killsVariable, 20)
	random := rand.New(rand.NewPCG(seed, 0))
	dir := filepath.Join(t.TempDir(), "store")
	told := map[string]history.Number{}
	var epoch history.Epoch
	for kill := range kills {
		untilKilled(t, dir, 20+random.IntN(100), time.Duration(random.IntN(3000))*time.Microsecond, told)

		store := open(t, dir, crashOptions(dir))
		if kill == 0 {
			epoch = store.Epoch()
		}
		if got := store.Epoch(); got != epoch {
			t.Errorf("the epoch %v became %v", epoch, got)
		}
		stored := readCrashed(t, store)
		for id, number := range told {
			if stored[id] != number {
				t.Fatalf("seed %d, kill %d: %s was told %d and has %d", seed, kill, id, number, stored[id])
			}
		}
		if err := store.Close(); err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("%d drafts were answered before %d kills", len(told), kills)
}

// untilKilled runs a writing process, notes what it says, and kills it some time
// after it has said so many lines.
func untilKilled(t *testing.T, dir string, lines int, delay time.Duration, told map[string]history.Number) {
	t.Helper()
	child := exec.CommandContext(t.Context(), os.Args[0], dir)
	child.Env = childOf("until killed")
	var complaint bytes.Buffer
	child.Stderr = &complaint
	output, err := child.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	said := 0
	reader := bufio.NewReader(output)
	for {
		line, err := reader.ReadString('\n')
		if err != nil {
			break // half a line is no answer
		}
		var id string
		var number history.Number
		if _, err := fmt.Sscanf(line, "%s %d\n", &id, &number); err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		told[id] = number
		if said++; said == lines {
			time.AfterFunc(delay, func() { _ = child.Process.Kill() }) // Wait tells
		}
	}
	err = child.Wait()
	if said < lines || complaint.Len() > 0 {
		t.Fatalf("the process ended after %d lines with %v: %s", said, err, complaint.String())
	}
}

// readCrashed reads a store of crashDrafts and fails the test where one is half
// or the feed is not dense. It gives every draft's number.
func readCrashed(t *testing.T, store *Store) map[string]history.Number {
	t.Helper()
	snap, err := store.Snapshot(t.Context(), crashShop)
	if err != nil {
		t.Fatal(err)
	}
	defer snap.Close()
	last, err := snap.Last(t.Context())
	if err != nil {
		t.Fatal(err)
	}

	stored := map[string]history.Number{}
	for number := history.Number(0); number < last; {
		changes, err := snap.Changes(t.Context(), number, 0)
		if err != nil || len(changes) == 0 {
			t.Fatalf("the feed ends after %d with %v, the last number is %d", number, err, last)
		}
		for _, change := range changes {
			number++
			if change.Number != number || stored[string(change.Feed)] != 0 {
				t.Fatalf("entry %d of the feed has the number %d; its draft came already: %d",
					number, change.Number, stored[string(change.Feed)])
			}
			stored[string(change.Feed)] = number
		}
	}

	rows := map[string]int{}
	for more, after := true, history.Key(""); more; {
		page, err := snap.Scan(t.Context(), history.Range{After: after})
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range page.Rows {
			id, _, _ := strings.Cut(string(row.Value), " ")
			rows[id]++
			if row.Version != stored[id] {
				t.Fatalf("row %q has version %d, the feed has its draft as %d", row.Key, row.Version, stored[id])
			}
			after = row.Key
		}
		more = page.More
	}
	for id := range stored {
		if rows[id] != 2 {
			t.Fatalf("draft %d, %s, has %d rows of 2", stored[id], id, rows[id])
		}
	}
	if len(rows) != len(stored) {
		t.Fatalf("there are rows of %d drafts, the feed has %d", len(rows), len(stored))
	}
	return stored
}

// TestTornLogGivesWholeDrafts copies a store as a power cut may leave it, the
// end of its log never written or the last draft in pieces, and reads the copy: the
// first drafts up to some number are there, whole, and none behind them.
func TestTornLogGivesWholeDrafts(t *testing.T) {
	const drafts = 40
	dir := t.TempDir()
	store := open(t, dir, Options{tune: smallFiles, MinFree: 3 << 20})
	for i := range drafts {
		if _, err := store.Commit(t.Context(), crashDraft(fmt.Sprint(i), make([]byte, 1000))); err != nil {
			t.Fatal(err)
		}
	}
	log, err := os.ReadFile(filepath.Join(dir, "00001.mem"))
	if err != nil {
		t.Fatal(err)
	}
	used := len(bytes.TrimRight(log, "\x00"))
	read, err := readLog(filepath.Join(dir, "00001.mem"), "")
	if err != nil {
		t.Fatal(err)
	}
	last := read.whole[len(read.whole)-1]

	random := rand.New(rand.NewPCG(7, 0))
	seen := map[int]bool{}
	for round := range 10 {
		torn := bytes.Clone(log[:used])
		// The epoch is safe since the store was made, far before a cut.
		offset := 200 + random.IntN(used-200)
		if round%2 == 0 {
			clear(torn[offset:])
		} else {
			offset = last.start + random.IntN(last.end-last.start)
			torn[offset] ^= 0x55
		}
		copied := t.TempDir()
		if err := os.CopyFS(copied, os.DirFS(dir)); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(copied, "00001.mem")
		if err := os.WriteFile(path, torn, 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Truncate(path, int64(len(log))); err != nil {
			t.Fatal(err)
		}

		after := open(t, copied, Options{tune: smallFiles})
		stored := readCrashed(t, after)
		for i := range stored {
			if int(stored[i]) > len(stored) {
				t.Errorf("cut at %d of %d: draft %d is there, but only %d are", offset, used, stored[i], len(stored))
			}
		}
		seen[len(stored)] = true
		if number, err := after.Commit(t.Context(), history.Draft{Shop: crashShop}); err != nil || int(number) != len(stored)+1 {
			t.Errorf("the next draft after %d was given %d, %v", len(stored), number, err)
		}
		if err := after.Close(); err != nil {
			t.Error(err)
		}
	}
	if len(seen) < 3 || seen[drafts] {
		t.Errorf("numbers of drafts left: %v: the cuts are no test", seen)
	}
}
