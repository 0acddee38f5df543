package app_test

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gaugebook.dev/server/app"
)

// The real server gives backups while it serves, also after it was killed and started
// again, and takes its socket away when it ends.
func TestTheServerGivesBackups(t *testing.T) {
	base := t.TempDir()
	dir, access := filepath.Join(base, "book"), writeAccess(t)
	backup := func(name string) {
		t.Helper()
		var said bytes.Buffer
		code := app.Main(t.Context(), []string{"backup", "--store", dir, filepath.Join(base, name)}, nil, strings.NewReader(""), &said, &said)
		if code != 0 || !strings.Contains(said.String(), "holds 1 shop") {
			t.Errorf("%s ends with %d: %s", name, code, said.String())
		}
	}
	s := startBook(t, dir, access)
	playVisits(t, s)
	backup("served.backup")
	s.kill()
	s = startBook(t, dir, access)
	backup("killed.backup")
	want := tellAll(t, s)
	if err := s.terminate(); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Lstat(filepath.Join(dir, "operator.sock")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the socket is left behind: %v", err)
	}
	backup("ended.backup")

	again := filepath.Join(base, "again")
	var said bytes.Buffer
	if code := app.Main(t.Context(), []string{"restore", filepath.Join(base, "killed.backup"), "--store", again}, nil, strings.NewReader(""), &said, &said); code != 0 {
		t.Fatal(said.String())
	}
	s = startBook(t, again, access)
	if got := tellAll(t, s); got != want {
		t.Errorf("restored it tells\n%s\nwant\n%s", got, want)
	}
	if err := s.terminate(); err != nil {
		t.Fatal(err)
	}
}
