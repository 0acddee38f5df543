package app

import (
	"bytes"
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/badger"
)

// serveOnce serves until both doors are open, and gives the exit status and all that was said.
func serveOnce(t *testing.T, args ...string) (code int, said string) {
	t.Helper()
	access := filepath.Join(t.TempDir(), "access.yaml")
	if err := os.WriteFile(access, []byte("tokens: [{token: 0123456789abcdef, name: a, role: bench, shops: [b]}]"), 0o600); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	var out bytes.Buffer
	errs := &bytes.Buffer{}
	code = Main(ctx, append([]string{"serve", "--access", access, "--grpc", "127.0.0.1:0", "--http", "127.0.0.1:0"}, args...), nil, strings.NewReader(""),
		writerFunc(func(p []byte) (int, error) { stop(); return out.Write(p) }), errs)
	return code, out.String() + errs.String()
}

type writerFunc func(p []byte) (int, error)

func (f writerFunc) Write(p []byte) (int, error) { return f(p) }

// A book is made where it is asked for, once, and nowhere else.
func TestABookIsMadeOnlyWhereAsked(t *testing.T) {
	root := t.TempDir()
	foreign, empty, book := filepath.Join(root, "foreign"), filepath.Join(root, "empty"), filepath.Join(root, "book")
	for _, dir := range []string{foreign, empty} {
		if err := os.Mkdir(dir, 0o700); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(foreign, "letter.txt"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args string
		code int
		says string
	}{
		{"--store " + book, exitBadInput, "there is no book in " + book + ": with --new one is made there"},
		{"--store " + empty, exitBadInput, "there is no book in "},
		{"--store " + foreign, exitBadInput, "there is no book in "},
		{"--store " + foreign + " --new", exitBadInput, "holds no store, but something else: letter.txt"},
		{"--store " + empty + " --new", exitDone, "gRPC on"},
		{"--store " + book + " --new", exitDone, "gRPC on"},
		{"--store " + book, exitDone, "gRPC on"},
		{"--store " + book + " --new", exitBadInput, "there is a book in " + book + " already: leave --new out"},
	} {
		code, said := serveOnce(t, strings.Fields(c.args)...)
		if code != c.code || !strings.Contains(said, c.says) {
			t.Errorf("serve %s: %d, %q; want %d, %q", c.args, code, said, c.code, c.says)
		}
		if code != exitDone && strings.Contains(said, "Usage") {
			t.Errorf("serve %s: how it is called is no help: %s", c.args, said)
		}
	}
	if names, err := os.ReadDir(foreign); err != nil || len(names) != 1 {
		t.Errorf("a folder of something else was changed: %v, %v", names, err)
	}
}

// What the program makes nobody else can read: folders 0700, files 0600.
func TestWhatIsMadeIsPrivate(t *testing.T) {
	root := filepath.Join(t.TempDir(), "above")
	if code, said := serveOnce(t, "--store", filepath.Join(root, "book"), "--new"); code != exitDone {
		t.Fatal(said)
	}
	seen := 0
	err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := entry.Info()
		if err != nil {
			return err
		}
		want := fs.FileMode(0o600)
		if entry.IsDir() {
			want = 0o700
		}
		if info.Mode().Perm() != want {
			t.Errorf("%s has the mode %v", path, info.Mode())
		}
		seen++
		return nil
	})
	if err != nil || seen < 8 {
		t.Errorf("%d files, %v", seen, err)
	}
}

var acceptWith = regexp.MustCompile(`gaugebook (accept-loss --store .*)`)

// A damaged book is not served; what the server then says is a command that makes it one that
// is, without what is missing.
func TestADamagedBookIsToldAndAccepted(t *testing.T) {
	root := t.TempDir()
	dir := filepath.Join(root, "book")
	for _, state := range []string{"", filepath.Join(root, "state")} {
		at := &place{dir: dir, state: state}
		store, err := badger.Open(dir, badger.Options{MinFree: 1, StateDir: at.stateDir()})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := store.Commit(t.Context(), history.Draft{Shop: testShop}); err != nil {
			t.Fatal(err)
		}
		if err := store.Close(); err != nil {
			t.Fatal(err)
		}
		tables, err := filepath.Glob(filepath.Join(dir, "*.sst"))
		if err != nil || len(tables) == 0 {
			t.Fatal(tables, err)
		}
		if err := os.Truncate(tables[0], 100); err != nil {
			t.Fatal(err)
		}
		flags := []string{"--store", dir}
		if state != "" {
			flags = append(flags, "--state-dir", state)
		}
		code, said := serveOnce(t, flags...)
		command := acceptWith.FindStringSubmatch(said)
		if code != exitFailed || command == nil || !strings.Contains(said, filepath.Base(tables[0])+" ") {
			t.Fatalf("%d: %s", code, said)
		}
		args := strings.Fields(command[1])
		wrong := slices.Clone(args)
		wrong[len(wrong)-1] = "aaaaa-aaaaa"
		for _, c := range []struct {
			args []string
			code int
			says string
		}{
			{wrong, exitBadInput, "is not of this damage"},
			{args, exitDone, "What was cut is kept in " + dir + ".lost-" + args[len(args)-1]},
			{args, exitDone, "Nothing is damaged"},
		} {
			var out bytes.Buffer
			if code := Main(t.Context(), c.args, nil, strings.NewReader(""), &out, &out); code != c.code || !strings.Contains(out.String(), c.says) {
				t.Errorf("%v: %d, %s", c.args, code, &out)
			}
		}
		if _, err := os.Stat(filepath.Join(dir+".lost-"+args[len(args)-1], filepath.Base(tables[0]))); err != nil {
			t.Error(err)
		}
	}
	store, err := badger.Open(dir, badger.Options{StateDir: filepath.Join(root, "state")})
	if err != nil {
		t.Fatal(err)
	}
	if err := store.Close(); err != nil {
		t.Error(err)
	}
}
