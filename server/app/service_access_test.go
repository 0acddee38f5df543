package app

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gaugebook.dev/server/access"
)

// What is wrong with the file of tokens is said, and no token with it.
func TestReadAccess(t *testing.T) {
	const token = "a-token-that-nobody-may-see"
	good := "tokens:\n  - {token: " + token + ", name: bench phone, role: bench, shops: [north, south]}\n"
	for _, row := range []struct {
		name, file string
		want       string // "" when it can be read
	}{
		{"one token", good, ""},
		{"two tokens", good + "  - {token: another-" + token + ", name: front counter, role: counter, shops: [north]}\n", ""},
		{"nothing", "", "EOF"},
		{"no tokens", "tokens: []\n", "no tokens"},
		{"another word", strings.Replace(good, "tokens:", "token:", 1), "field token not found"},
		{"a field misspelled", strings.Replace(good, "shops:", "shop:", 1), "field shop not found"},
		{"no list", "tokens: " + token + "\n", "line 1: cannot unmarshal"},
		{"a list for a token", strings.Replace(good, token, "["+token+"]", 1), "cannot unmarshal"},
		{"short", strings.Replace(good, token, "secret", 1), "tokens[0]: a token has at least 16 characters"},
		{"blanks", strings.Replace(good, token, `" `+token+`"`, 1), "tokens[0]: a token has no blanks around it"},
		{"no such role", strings.Replace(good, "role: bench", "role: anyone", 1), `tokens[0]: no role "anyone"`},
		{"no role", strings.Replace(good, "role: bench, ", "", 1), `tokens[0]: no role ""`},
		{"no name", strings.Replace(good, "name: bench phone, ", "", 1), "tokens[0]: a name and at least one shop"},
		{"no shop", strings.Replace(good, "[north, south]", "[]", 1), "tokens[0]: a name and at least one shop"},
		{"a shop without a name", strings.Replace(good, "south", `""`, 1), "tokens[0]: not well formed: the shop has no name"},
		{"a shop of too long a name", strings.Replace(good, "south", strings.Repeat("s", 65), 1), "tokens[0]: the shop's name is too large"},
		{"twice", good + strings.Replace(good, "tokens:\n", "", 1), "tokens[1]: tokens[0] is the same token"},
	} {
		t.Run(row.name, func(t *testing.T) {
			name := filepath.Join(t.TempDir(), "access.yaml")
			if err := os.WriteFile(name, []byte(row.file), 0o600); err != nil {
				t.Fatal(err)
			}
			keys, err := readAccess(name)
			if row.want == "" {
				if err != nil || keys[0].Name != "bench phone" || keys[0].Role != access.Bench || len(keys[0].Shops) != 2 {
					t.Errorf("%v: %v", keys, err)
				}
				return
			}
			var bad inputError
			if !errors.As(err, &bad) || !strings.Contains(err.Error(), row.want) {
				t.Errorf("%v, want %q", err, row.want)
			}
			if strings.Contains(err.Error(), "a-token") || strings.Contains(err.Error(), "secret") {
				t.Errorf("tells a token: %v", err)
			}
		})
	}
	if _, err := readAccess(filepath.Join(t.TempDir(), "missing")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%v", err)
	}
}
