package app

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/verdict"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/badger"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/report"
)

// keep records the demo's vehicles and visits in a shop, as a judge of its own
// judges them, and gives the visits in the order of recording.
func keep(t *testing.T, store history.Store, shop string, judge book.Judge, names ...string) (visits []*pb.Inspection) {
	t.Helper()
	scenario, err := readScenario(os.DirFS("../../testdata/demo"))
	if err != nil {
		t.Fatal(err)
	}
	b := book.New(store, judge, time.Now)
	for _, m := range scenario {
		if len(names) > 0 && !slices.Contains(names, m.name) {
			continue
		}
		if _, _, err := b.RecordVehicle(t.Context(), shop, m.request.GetVehicle()); err != nil {
			t.Fatal(err)
		}
		for _, in := range append(m.request.GetEarlier(), m.request.GetInspection()) {
			if _, _, err := b.RecordInspection(t.Context(), shop, "", "", in); err != nil {
				t.Fatalf("%s: %v", m.name, err)
			}
			visits = append(visits, in)
		}
	}
	return visits
}

// folder makes the folder of a book.
func folder(t *testing.T, fill func(store history.Store)) (dir string) {
	t.Helper()
	dir = t.TempDir()
	store, err := badger.Open(dir, badger.Options{MinFree: 1})
	if err != nil {
		t.Fatal(err)
	}
	fill(store)
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	return dir
}

// command runs the program.
func command(ctx context.Context, args ...string) (code int, out, errs string) {
	var o, e bytes.Buffer
	code = Main(ctx, args, nil, strings.NewReader(""), &o, &e)
	return code, o.String(), e.String()
}

func TestDump(t *testing.T) {
	dir := folder(t, func(s history.Store) {
		keep(t, s, "one", func(r *pb.AssessVisitRequest) *pb.Assessment {
			a := judge.Visit(r)
			a.Basis.Engine = "3"
			for _, f := range a.Findings {
				if f.Urgency == pb.Urgency_URGENCY_THIS_VISIT {
					f.Urgency = pb.Urgency_URGENCY_PLAN
				}
			}
			return a
		})
		keep(t, s, "two", judge.Visit)
	})
	for _, args := range [][]string{{}, {"--shop", "two", "--rulebook", "us-light@1"}, {"--shop", "two", "--rulebook", "uk-light@1", "--language", "es", "--units", "metric"}} {
		code, out, errs := command(t.Context(), append([]string{"rejudge", "--store", dir}, args...)...)
		t.Log(code, errs, "\n"+out)
	}
	code, out, errs := command(t.Context(), "rejudge", "--store", dir, "--json", "--shop", "one")
	t.Log(code, errs)
	for l := range strings.Lines(out) {
		t.Log(l[:100], len(l))
	}
	t.Log(out[strings.LastIndex(out[:len(out)-1], "\n"):])
	_, _, _, _, _, _ = bufio.NewReader, json.Marshal, errors.New, protojson.Marshal, proto.Equal, verdict.Engine
	_ = report.Width
}
