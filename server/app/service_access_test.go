package app

import (
	"context"
	"errors"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/metadata"

	"gaugebook.dev/gateway"
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/access"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/memory"
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

// told notes what a call says of its client's address.
type told struct {
	history.Store
	addresses chan []string
}

func (s told) Snapshot(ctx context.Context, shop string) (history.Snapshot, error) {
	s.addresses <- metadata.ValueFromIncomingContext(ctx, gateway.ClientAddressKey)
	return s.Store.Snapshot(ctx, shop)
}

// Only the JSON door says where a call comes from; what others say is dropped.
func TestClientAddress(t *testing.T) {
	store := told{memory.New(), make(chan []string, 10)}
	r := serve(t, store)
	t.Cleanup(r.leave)
	ctx := metadata.AppendToOutgoingContext(t.Context(), gateway.ClientAddressKey, "192.0.2.66")
	if got := r.overGRPC(ctx, pb.ShopService_GetShop_FullMethodName, testBench, &pb.GetShopRequest{ShopId: testShop}, &pb.GetShopResponse{}); got.code != codes.OK {
		t.Fatal(got)
	}
	if got := <-store.addresses; len(got) != 0 {
		t.Errorf("over gRPC %q", got)
	}
	pretended := map[string]string{"Grpc-Metadata-" + gateway.ClientAddressKey: "192.0.2.66", gateway.ClientAddressKey: "192.0.2.66"}
	if got, code, _ := r.overJSON(http.MethodGet, "/v1/shops/"+testShop, testBench, pretended, nil); code != http.StatusOK {
		t.Fatal(got)
	}
	if got := <-store.addresses; !slices.Equal(got, []string{"127.0.0.1"}) {
		t.Errorf("over JSON %q", got)
	}
}
