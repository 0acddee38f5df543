package app

import (
	"bytes"
	"log/slog"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history/memory"
)

// ourRules is the invented test shop's file, stricter than UK regulation 27's
// 1.6 mm.
func ourRules(version, depth string) string {
	return "shops:\n  " + testShop + ":\n    version: " + version + "\n    limits:\n      - {id: tread, stricter_than: uk-light.depth, value: " + depth + ", says: Our own.}\n"
}

func writeRules(t *testing.T, content string) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "rules.yaml")
	if err := os.WriteFile(name, []byte(content), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

// Visits of a shop are judged by its own limits as its file stands when they are
// recorded; what was answered stays as answered.
func TestServedByTheShopsOwnRules(t *testing.T) {
	name := writeRules(t, ourRules("1", "6 mm"))
	own, err := openRules(t.Context(), name, slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatal(err)
	}
	r := serveBy(t, memory.New(), own)
	t.Cleanup(r.leave)
	v := testCar()
	v.Use = &pb.VehicleUse{DrivenIn: []*pb.Jurisdiction{{Country: "GB"}}}
	visit := func() *pb.Inspection {
		return &pb.Inspection{Id: uuid.NewString(), VehicleId: v.GetId(), Wheels: []*pb.WheelReport{{Position: "1L", Tread: []*pb.TreadReading{
			{Place: &pb.Place{Across: pb.Across_ACROSS_CENTER}, Depth: &pb.Depth{AsRead: &pb.Depth_Millimeters{Millimeters: 4}}},
		}}}}
	}
	answered := func(in *pb.Inspection) (found []string, books []string) {
		t.Helper()
		got, err := pb.NewInspectionServiceClient(r.conn).GetInspection(bearing(t.Context(), testBench), &pb.GetInspectionRequest{ShopId: testShop, InspectionId: in.GetId(), Reader: &pb.Reader{View: pb.View_VIEW_FULL}})
		if err != nil {
			t.Fatal(err)
		}
		a := got.GetKept().GetAssessment()
		for _, f := range a.GetFindings() {
			found = append(found, f.GetCode())
		}
		return found, a.GetBasis().GetRulebooks()
	}
	byName := func(begin string) func(string) bool {
		return func(s string) bool { return strings.HasPrefix(s, begin) }
	}
	first, second := visit(), visit()
	r.keep(v, first)
	found, books := answered(first)
	if !slices.Contains(found, "tread.shop-limit") || slices.Contains(found, "tread.legal-limit") || !slices.ContainsFunc(books, byName("shop@1+")) {
		t.Fatalf("%v by %v", found, books)
	}

	if err := os.WriteFile(name, []byte(ourRules("2", "1.8 mm")), 0o600); err != nil {
		t.Fatal(err)
	}
	for own(testShop).Version != 2 { // the test's own time limit ends it
		time.Sleep(10 * time.Millisecond)
	}
	r.keep(v, second)
	if found, books = answered(second); slices.Contains(found, "tread.shop-limit") || !slices.ContainsFunc(books, byName("shop@2+")) {
		t.Errorf("%v by %v", found, books)
	}
	if found, books = answered(first); !slices.Contains(found, "tread.shop-limit") || !slices.ContainsFunc(books, byName("shop@1+")) {
		t.Errorf("the first is now %v by %v", found, books)
	}
}

// A file of rules is looked at before anything is served by it.
func TestRulesFileIsChecked(t *testing.T) {
	access := writeRules(t, "tokens: [{token: bench-0123456789abcdef, name: bench, role: bench, shops: [shop-1]}]")
	good, loose := writeRules(t, ourRules("7", "3 mm")), writeRules(t, ourRules("1", "1 mm"))
	for _, c := range []struct {
		name string
		args []string
		code int
		said []string
	}{
		{"printed", []string{"rulebook", "check", good}, exitDone, []string{testShop + ":", "shop@7+", "3 mm", "Our own.", "the shop's own rule, stricter than Road Vehicles"}},
		{"looser than the law", []string{"rulebook", "check", loose}, exitBadInput, []string{loose + ":5: limit tread: 1 mm is looser than uk-light.depth, law in use"}},
		{"no file", []string{"rulebook", "check", good + "x"}, exitFailed, []string{"no such file"}},
		{"not served", []string{"serve", "--access", access, "--rules", loose, "--grpc", "127.0.0.1:0", "--http", "127.0.0.1:0"}, exitBadInput, []string{loose + ":5:"}},
	} {
		var out, errs bytes.Buffer
		code := Main(t.Context(), c.args, nil, strings.NewReader(""), &out, &errs)
		if code != c.code {
			t.Errorf("%s: exit code %d, want %d", c.name, code, c.code)
		}
		for _, s := range c.said {
			if !strings.Contains(out.String()+errs.String(), s) {
				t.Errorf("%s: does not say %q:\n%s%s", c.name, s, out.String(), errs.String())
			}
		}
	}
}
