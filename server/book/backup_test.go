package book

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"testing"
	"time"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history/backup"
	"gaugebook.dev/server/history/badger"
)

// In every order of writing, making a backup, restoring it and writing on, a counter that
// follows by its token knows what the book holds: after a restore its token is refused as
// of another epoch, it lists again, and no token of before skips a change.
func TestNoTokenSkipsAChangeAfterARestore(t *testing.T) {
	for _, steps := range []string{"wbwfrf", "wbwfrwf", "wbwfrwwwf", "wbfrf", "wfbrf", "wbfrwfrwf", "wwfbwwfrwwwwf"} {
		t.Run(steps, func(t *testing.T) { restoredFromBackup(t, steps) })
	}
	for seed := range uint64(8) {
		random := rand.New(rand.NewPCG(seed, 14))
		steps := make([]byte, 12)
		for i := range steps {
			steps[i] = "wwbrf"[random.IntN(5)]
		}
		t.Run(fmt.Sprint(seed, " ", string(steps)), func(t *testing.T) { restoredFromBackup(t, string(steps)) })
	}
}

// restoredFromBackup plays steps: w write, b make a backup, r restore it into a folder of
// its own and go on there, f follow.
func restoredFromBackup(t *testing.T, steps string) {
	t.Helper()
	base := t.TempDir()
	d := newDesk(t, openBadger(t, filepath.Join(base, "book")), nil)
	c := &counter{tags: map[string]string{}}
	var saved []byte
	for i, step := range []byte(steps) {
		switch step {
		case 'w':
			d.keepVehicle(tagged(fmt.Sprint("car ", i)))
		case 'b':
			var file bytes.Buffer
			if _, err := backup.Write(t.Context(), &file, d.store, backup.About{Made: time.Now()}); err != nil {
				t.Fatal(err)
			}
			saved = file.Bytes()
		case 'r':
			if saved == nil {
				continue
			}
			dir := filepath.Join(base, fmt.Sprint("restored ", i))
			if err := errors.Join(d.store.Close(), restoreTo(dir, saved)); err != nil {
				t.Fatal(err)
			}
			d.Book = New(openBadger(t, dir), d.judge, d.now)
			refusedByEpoch(t, d, c)
		case 'f':
			if err := c.follow(d); err != nil {
				t.Fatal(err)
			}
			if got, want := c.tags, d.holds(); !sameTags(got, want) {
				t.Fatalf("after %s the counter knows %v, the book holds %v", steps[:i+1], got, want)
			}
		}
	}
}

func restoreTo(dir string, file []byte) error {
	to, err := badger.Load(dir, badger.Options{})
	if err != nil {
		return err
	}
	r, err := backup.NewReader(bytes.NewReader(file))
	if err != nil {
		return err
	}
	_, err = r.To(to)
	return errors.Join(err, to.Abandon())
}

// refusedByEpoch holds that a token of before the restore is refused for its reason.
func refusedByEpoch(t *testing.T, d *desk, c *counter) {
	t.Helper()
	if c.token == "" {
		return
	}
	_, err := d.PullChanges(t.Context(), shop, c.token, 3, 0)
	r, ok := errors.AsType[*Refusal](err)
	if !ok || r.Reason != pb.ErrorReason_ERROR_REASON_TOKEN_OTHER_EPOCH || r.Metadata["why"] != "OTHER_EPOCH" {
		t.Errorf("a token of before the restore is answered %v", err)
	}
}
