package judge_test

import (
	"bufio"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"
)

// hints remember by which request each of the searches of a test was answered. What is
// remembered is tried first, and decides nothing: where it answers no more, all others are
// tried. `-update` writes them again.
type hints struct {
	told, found map[string]string
}

const hintFolder = "../../testdata/corpus/hints/"

// hintsOf are those of one test.
func hintsOf(t *testing.T) *hints {
	t.Helper()
	h := &hints{told: map[string]string{}, found: map[string]string{}}
	path := hintFolder + t.Name() + ".tsv"
	if f, err := os.Open(path); err == nil {
		defer func() { _ = f.Close() }()
		for lines := bufio.NewScanner(f); lines.Scan(); {
			of, request, _ := strings.Cut(lines.Text(), "\t")
			h.told[of] = request
		}
	}
	t.Cleanup(func() {
		if !*update {
			return
		}
		var out strings.Builder
		for _, of := range slices.Sorted(maps.Keys(h.found)) {
			fmt.Fprintf(&out, "%s\t%s\n", of, h.found[of])
		}
		if err := os.WriteFile(path, []byte(out.String()), 0o600); err != nil {
			t.Error(err)
		}
	})
	return h
}

// first is which of some requests is remembered for a search, -1 for none.
func (h *hints) first(of string, prints []string) int {
	return slices.IndexFunc(prints, func(p string) bool { return p == h.told[of] })
}

// fingerprint tells a request from others.
func fingerprint(m proto.Message) string {
	sum := sha256.Sum256(wire(m))
	return hex.EncodeToString(sum[:6])
}

func fingerprints[M proto.Message](all []M) (prints []string) {
	for _, m := range all {
		prints = append(prints, fingerprint(m))
	}
	return prints
}
