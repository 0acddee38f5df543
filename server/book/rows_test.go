package book_test

import (
	"context"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/google/uuid"
	"google.golang.org/protobuf/encoding/protojson"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/check"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/memory"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/words"
)

// seen is a store that shows what is committed.
type seen struct {
	*memory.Store
	show func(history.Draft)
}

func (s seen) Commit(ctx context.Context, d history.Draft) (history.Number, error) {
	s.show(d)
	return s.Store.Commit(ctx, d)
}

// Written without a word, the rows of one visit are small: the demo's sedan with its
// nail, recorded after an earlier visit.
func TestAVisitTakesLittleRoom(t *testing.T) {
	text, err := os.ReadFile("../../testdata/demo/sedan-nail.json")
	if err != nil {
		t.Fatal(err)
	}
	req := &pb.AssessVisitRequest{}
	if err := protojson.Unmarshal(text, req); err != nil {
		t.Fatal(err)
	}
	var written []history.Draft
	b := book.New(seen{memory.New(), func(d history.Draft) { written = append(written, d) }}, judge.For(judge.NoneOwn), time.Now)
	v := req.GetVehicle()
	v.Id = uuid.NewString()
	if _, err := b.RecordVehicle(t.Context(), "north", v, nil); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		in := req.GetInspection()
		in.Id, in.VehicleId = uuid.NewString(), v.GetId()
		if _, err := b.RecordInspection(t.Context(), "north", book.Sender{Name: "bench phone"}, checked(t, in)); err != nil {
			t.Fatal(err)
		}
	}
	for _, d := range written[1:] {
		size, kinds := 0, map[string]int{}
		for _, p := range d.Put {
			size += len(p.Value)
			kinds[string(p.Key[0])] += len(p.Value)
		}
		t.Logf("%d bytes in %d rows, by kind %v; %d in the feed", size, len(d.Put), kinds, len(d.Feed))
		if size > 11000 || len(d.Feed) > 1500 {
			t.Errorf("%d bytes of rows, %d of the feed; at most 11000 and 1500", size, len(d.Feed))
		}
	}
}

// No row holds a word of what is told: none of the corpus's visits, whoever they are
// recorded for.
func TestNoRowHoldsWords(t *testing.T) {
	texts := told()
	var found []string
	look := func(value []byte) {
		for _, run := range strings.FieldsFunc(string(value), func(r rune) bool { return !unicode.IsPrint(r) }) {
			if strings.Count(run, " ") < 2 {
				continue
			}
			for _, text := range texts {
				if strings.Contains(run, text) {
					found = append(found, text)
				}
			}
		}
	}
	rows := 0
	b := book.New(seen{memory.New(), func(d history.Draft) {
		for _, p := range d.Put {
			look(p.Value)
		}
		look(d.Feed)
		rows += len(d.Put)
	}}, judge.For(judge.NoneOwn), time.Now)
	corpus(t, func(name string, v *pb.Vehicle, visits []*pb.Inspection) {
		if _, err := b.RecordVehicle(t.Context(), "north", v, nil); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for _, in := range visits {
			visit, problems := check.NewVisit("inspection", in)
			if len(problems) > 0 {
				continue
			}
			if _, err := b.RecordInspection(t.Context(), "north", book.Sender{}, visit); err != nil {
				t.Logf("%s: %v", name, err)
			}
		}
	})
	if slices.Sort(found); len(found) > 0 || rows < 1000 || len(texts) < 1000 {
		t.Errorf("%d rows hold words: %q", rows, slices.Compact(found))
	}
}

// told are the parts of all texts, of three words at least, between what is filled in.
func told() (parts []string) {
	filled := regexp.MustCompile(`[\[\]]|\{[^}]*\}`)
	add := func(texts ...string) {
		for _, text := range texts {
			for _, part := range filled.Split(text, -1) {
				if part = strings.TrimSpace(part); strings.Count(part, " ") >= 2 {
					parts = append(parts, part)
				}
			}
		}
	}
	for _, language := range words.Languages() {
		c := words.In(language)
		for _, pairs := range []map[string]words.Pair{c.Findings, c.Work, c.Headlines, c.Questions} {
			for _, p := range pairs {
				add(p.Technician, p.Customer)
			}
		}
		for _, texts := range []map[string]string{c.Checked, c.Cautions, c.Settle, c.Evidence, c.LookFor, c.NotJudged, c.Notes, c.Labels, c.Sources} {
			for _, text := range texts {
				add(text)
			}
		}
	}
	slices.Sort(parts)
	return slices.Compact(parts)
}
