package badger

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"gaugebook.dev/server/history"
)

// freeVariable names a file with the number of free bytes, where no small disk could be
// mounted.
const freeVariable = "GAUGEBOOK_HISTORY_FREE"

// smallOptions are those of a store on a small disk. What others leave free is told by
// the system, or by a file.
func smallOptions() Options {
	opts := Options{tune: smallFiles, MinFree: 24 << 20}
	if name := os.Getenv(freeVariable); name != "" {
		opts.FreeSpace = func(string) (uint64, error) {
			text, err := os.ReadFile(name)
			if err != nil {
				return 0, err
			}
			return strconv.ParseUint(string(text), 10, 64)
		}
	}
	return opts
}

// writeWhenAsked writes as writeUntilKilled does and prints "full" each time it is
// refused for want of room, and reads on then. It ends when its input ends.
func writeWhenAsked(dir string) error {
	store, err := Open(dir, smallOptions())
	if err != nil {
		return err
	}
	ending, cancel := context.WithCancel(context.Background())
	failed := make(chan error)
	for w := range 8 {
		go func() { failed <- writeOn(ending, store, w) }()
	}
	_, _ = bufio.NewReader(os.Stdin).ReadString('\n')
	cancel()
	for range 8 {
		err = errors.Join(err, <-failed)
	}
	return errors.Join(err, store.Close())
}

func writeOn(ending context.Context, store *Store, writer int) error {
	random := rand.New(rand.NewPCG(uint64(os.Getpid()), uint64(writer)))
	for i := 0; ending.Err() == nil; i++ {
		id := fmt.Sprintf("%d-%d-%d", os.Getpid(), writer, i)
		filler := make([]byte, 20_000)
		for n := range filler {
			filler[n] = byte(random.Uint32())
		}
		number, err := store.Commit(context.Background(), crashDraft(id, filler))
		full := (*history.DiskNearlyFullError)(nil)
		switch {
		case errors.As(err, &full):
			if err := readsOn(store); err != nil {
				return err
			}
			if _, err := fmt.Fprintln(os.Stdout, "full"); err != nil {
				return err
			}
			time.Sleep(20 * time.Millisecond)
		case err != nil:
			return err
		default:
			if _, err := fmt.Fprintln(os.Stdout, id, number); err != nil {
				return err
			}
		}
	}
	return nil
}

func readsOn(store *Store) error {
	snap, err := store.Snapshot(context.Background(), crashShop)
	if err != nil {
		return err
	}
	defer snap.Close()
	_, err = snap.Changes(context.Background(), 0, 10)
	return err
}

// smallDisk is a disk that others fill.
type smallDisk struct {
	t    *testing.T
	dir  string
	free string // file that tells it, where it is not a disk of its own
	told map[string]history.Number
}

const smallSize = 96 << 20

// atRest is how often eight writers are refused until the engine has written what it had
// in memory: for a second.
const atRest = 400

// newSmallDisk mounts one in memory, where that may be done; else what is free is said.
func newSmallDisk(t *testing.T) *smallDisk {
	t.Helper()
	d := &smallDisk{t: t, dir: t.TempDir(), told: map[string]history.Number{}}
	mount := exec.CommandContext(t.Context(), "mount", "-t", "tmpfs", "-o", fmt.Sprintf("size=%d", smallSize), "none", d.dir)
	if os.Geteuid() == 0 && mount.Run() == nil {
		t.Cleanup(func() { _ = exec.CommandContext(context.Background(), "umount", "-l", d.dir).Run() })
		return d
	}
	d.free = filepath.Join(t.TempDir(), "free")
	d.leave(smallSize)
	return d
}

func (d *smallDisk) store() string { return filepath.Join(d.dir, "store") }

// leave has others fill the disk until so much is free, or give it back.
func (d *smallDisk) leave(bytes uint64) {
	d.t.Helper()
	if d.free != "" {
		whole := d.free + " whole" // never read half
		if err := errors.Join(os.WriteFile(whole, fmt.Append(nil, bytes), 0o600), os.Rename(whole, d.free)); err != nil {
			d.t.Fatal(err)
		}
		return
	}
	name := filepath.Join(d.dir, "of others")
	if bytes > 0 {
		_ = os.Remove(name)
	}
	free, err := freeSpace(d.dir)
	if err != nil || free <= bytes {
		return
	}
	f, err := os.OpenFile(name, os.O_CREATE|os.O_WRONLY|os.O_APPEND, 0o600)
	if err != nil {
		d.t.Fatal(err)
	}
	chunk := make([]byte, 64<<10)
	for ; free > bytes; free, _ = freeSpace(d.dir) {
		if _, err := f.Write(chunk[:min(uint64(len(chunk)), free-bytes)]); err != nil {
			break
		}
	}
	if err := f.Close(); err != nil {
		d.t.Fatal(err)
	}
}

// writer is a process that writes to it.
type writer struct {
	*exec.Cmd
	disk      *smallDisk
	in        *os.File
	lines     *bufio.Reader
	complaint bytes.Buffer
}

func (d *smallDisk) start() *writer {
	d.t.Helper()
	w := &writer{Cmd: exec.CommandContext(d.t.Context(), os.Args[0], d.store()), disk: d}
	w.Env = childOf("asked")
	if d.free != "" {
		w.Env = append(w.Env, freeVariable+"="+d.free)
	}
	w.Stderr = &w.complaint
	in, end, err := os.Pipe()
	if err != nil {
		d.t.Fatal(err)
	}
	w.Stdin, w.in = in, end
	out, err := w.StdoutPipe()
	if err == nil {
		err = w.Start()
	}
	if err != nil {
		d.t.Fatal(err)
	}
	_ = in.Close() // it is the child's
	w.lines = bufio.NewReader(out)
	return w
}

// until reads what it says until it has stored, or was refused, so often.
func (w *writer) until(stored, full int) bool {
	for stored > 0 || full > 0 {
		line, err := w.lines.ReadString('\n')
		if err != nil {
			return false
		}
		if line == "full\n" {
			full--
			continue
		}
		w.note(line)
		stored--
	}
	return true
}

func (w *writer) note(line string) {
	var id string
	var number history.Number
	if _, err := fmt.Sscanf(line, "%s %d\n", &id, &number); err != nil {
		w.disk.t.Fatalf("%q: %v", line, err)
	}
	w.disk.told[id] = number
}

// end lets it end and gives how it did.
func (w *writer) end() error {
	w.disk.t.Helper()
	_ = w.in.Close()
	began := time.Now()
	for {
		line, err := w.lines.ReadString('\n')
		if err != nil {
			break
		}
		if line != "full\n" {
			w.note(line)
		}
	}
	err := w.Wait()
	if took := time.Since(began); took > 2*closeWithin {
		w.disk.t.Errorf("it ended after %v", took)
	}
	return err
}

// endsAsAKill lets it end on a full disk: it says that the store was not put in order.
func (w *writer) endsAsAKill() {
	w.disk.t.Helper()
	if err := w.end(); err == nil || !strings.Contains(w.complaint.String(), "as a kill leaves it") {
		w.disk.t.Fatalf("at the end on a full disk: %v: %s", err, w.complaint.String())
	}
}

// holds reads the store, and fails the test where something that was answered is missing.
func (d *smallDisk) holds() {
	d.t.Helper()
	if d.free != "" {
		d.t.Setenv(freeVariable, d.free)
	}
	store := open(d.t, d.store(), smallOptions())
	stored := readCrashed(d.t, store)
	for id, number := range d.told {
		if stored[id] != number {
			d.t.Fatalf("%s was told %d and has %d", id, number, stored[id])
		}
	}
	if err := store.Close(); err != nil {
		d.t.Fatal(err)
	}
}

// TestFullDisk fills the disk under a store that is written: then nothing is written, and
// reading goes on; it ends at once, and begins again, on the full disk; when there is room
// again writing goes on. Nothing that was answered is lost.
func TestFullDisk(t *testing.T) {
	d := newSmallDisk(t)
	w := d.start()
	rounds := 3
	for range rounds {
		if !w.until(30, 0) { // so many that logs are full meanwhile
			t.Fatal(w.complaint.String())
		}
		d.leave(23 << 20)
		if !w.until(0, atRest) {
			t.Fatal(w.complaint.String())
		}
		d.leave(0)
		if !w.until(0, 80) {
			t.Fatal(w.complaint.String())
		}
		d.leave(40 << 20)
	}
	if !w.until(10, 0) {
		t.Fatal(w.complaint.String())
	}
	d.leave(23 << 20)
	w.until(0, atRest)
	d.leave(0)
	w.endsAsAKill()
	if d.free != "" {
		d.leave(8 << 20) // what the reserve gives back
	}
	w = d.start()
	if !w.until(0, 20) {
		t.Fatalf("begun on a full disk: %s", w.complaint.String())
	}
	w.endsAsAKill()
	d.leave(60 << 20)
	d.holds()
	w = d.start()
	if !w.until(10, 0) {
		t.Fatal(w.complaint.String())
	}
	if err := w.end(); err != nil {
		t.Fatal(err, w.complaint.String())
	}
	d.holds()
}

// TestKilledOnAFullDisk: the room in reserve lets a store that was killed begin again where
// nothing at all is free.
func TestKilledOnAFullDisk(t *testing.T) {
	d := newSmallDisk(t)
	w := d.start()
	if !w.until(30, 0) {
		t.Fatal(w.complaint.String())
	}
	d.leave(23 << 20)
	w.until(0, atRest)
	d.leave(0)
	if err := w.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = w.end() // it was killed
	if d.free != "" {
		d.leave(8 << 20) // what the reserve gives back
	}
	w = d.start()
	if !w.until(0, 20) {
		t.Fatalf("begun on a full disk: %s", w.complaint.String())
	}
	w.endsAsAKill()
	d.leave(60 << 20)
	d.holds()
}

// TestDiskFilledAtOnce fills the disk faster than the engine comes to rest, which may end
// the process: it writes by way of mapped memory. Nothing that was answered is lost.
func TestDiskFilledAtOnce(t *testing.T) {
	for range 3 {
		d := newSmallDisk(t)
		w := d.start()
		if !w.until(40, 0) {
			t.Fatal(w.complaint.String())
		}
		d.leave(0)
		w.until(0, 20)
		err := w.end()
		fault, left := strings.Contains(w.complaint.String(), "SIGBUS"), strings.Contains(w.complaint.String(), "as a kill leaves it")
		if err == nil || fault == left {
			t.Errorf("%v: %s", err, w.complaint.String())
		}
		t.Logf("fell over: %v", fault)
		d.leave(60 << 20)
		d.holds()
	}
}

// TestFolderGoneAtTheEnd: the folder goes away and does not come back; the process ends
// within seconds all the same, says that it could not put the store in order, and loses
// nothing.
func TestFolderGoneAtTheEnd(t *testing.T) {
	d := &smallDisk{t: t, dir: t.TempDir(), free: filepath.Join(t.TempDir(), "free"), told: map[string]history.Number{}}
	d.leave(1 << 40)
	w := d.start()
	if !w.until(30, 0) {
		t.Fatal(w.complaint.String())
	}
	elsewhere := d.store() + " elsewhere"
	if err := os.Rename(d.store(), elsewhere); err != nil {
		t.Fatal(err)
	}
	began := time.Now()
	if err := w.end(); err == nil || !strings.Contains(w.complaint.String(), "as a kill leaves it") {
		t.Errorf("it ended with %v: %s", err, w.complaint.String())
	}
	if took := time.Since(began); took > closeWithin {
		t.Errorf("it ended after %v", took)
	}
	if err := os.Rename(elsewhere, d.store()); err != nil {
		t.Fatal(err)
	}
	d.holds()
}
