package api

import (
	"strings"
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
)

// Every kind of finding and of work is listed once, with a short title in the reader's
// language and no hole in it.
func TestListKinds(t *testing.T) {
	h := inMemory(t)
	titles := map[string]map[string]bool{}
	for _, language := range []string{"en", "es", "es-MX"} {
		list, err := pb.NewShopServiceClient(h.conn).ListKinds(h.counter(), &pb.ListKindsRequest{ShopId: shop, Reader: &pb.Reader{Language: language}})
		if err != nil || list.GetTold() == nil {
			t.Fatalf("%v: %v", list, err)
		}
		seen, all := map[string]bool{}, map[string]bool{}
		for i, r := range append(list.GetFindings(), list.GetWork()...) {
			if all[r.GetTitle()] = true; r.GetTitle() == "" || r.GetTitle() == r.GetCode() || len([]rune(r.GetTitle())) > 60 || strings.ContainsAny(r.GetTitle(), "{}[]|.") {
				t.Errorf("%s: %s has the title %q", language, r.GetCode(), r.GetTitle())
			}
			if seen[r.GetCode()] || r.GetSince() != "8" {
				t.Errorf("%s: %v", language, r)
			}
			seen[r.GetCode()] = true
			of := i < len(list.GetFindings())
			if of != (r.GetFamily() != "") || of != (r.GetUrgency() != 0) || of != (r.GetStep() == 0) {
				t.Errorf("%s: %v", language, r)
			}
		}
		n := 0
		for k := range finding.Kinds() {
			if n++; !seen[string(k.Code)] {
				t.Errorf("%s: %s is not listed", language, k.Code)
			}
		}
		if n != len(list.GetFindings()) || len(list.GetWork()) < 80 {
			t.Errorf("%s: %d findings, %d work", language, len(list.GetFindings()), len(list.GetWork()))
		}
		titles[language] = all
	}
	if titles["en"]["Presión baja"] || !titles["es"]["Presión baja"] || !titles["en"]["Low pressure"] {
		t.Error("told in another language than asked for")
	}
}
