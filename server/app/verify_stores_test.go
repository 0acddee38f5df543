package app_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gaugebook.dev/server/app"
)

// Books of former programs lack rows that came later, such as those of searches: rebuilt
// they have them, and all that was recorded is as it was.
func TestFormerBooksAreVerified(t *testing.T) {
	folders, err := os.ReadDir(stores)
	if err != nil {
		t.Fatal(err)
	}
	for _, folder := range folders {
		if !folder.IsDir() {
			continue
		}
		dir := filepath.Join(t.TempDir(), "book")
		unpack(t, filepath.Join(stores, folder.Name()), dir)
		for _, flags := range [][]string{{"--rebuild"}, nil} {
			var said bytes.Buffer
			code := app.Main(t.Context(), append([]string{"verify", "--store", dir}, flags...), nil, strings.NewReader(""), &said, &said)
			if code != 0 {
				t.Errorf("%s %q: %s", folder.Name(), flags, said.String())
			}
		}
	}
}
