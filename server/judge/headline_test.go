package judge_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/translate"
)

// listed is a visit's headline as a list has it, with its facts.
func listed(req *pb.AssessVisitRequest, language string) *pb.Headline {
	h := proto.CloneOf(judge.Visit(req).GetHeadline())
	tell.For(&pb.Reader{Language: language, View: pb.View_VIEW_FULL}, tell.Shop{}).Headline(h, translate.FrontRear(req.GetVehicle()))
	return h
}

// What a headline never says (our own decision): a law, a price, a person, a cause that
// nobody proved, or how many tires are sold before anybody has looked.
var neverInHeadline = map[string]*regexp.Regexp{
	"en": regexp.MustCompile(`(?i)\b(law|legal\w*|CFR|minimum|limit|likely|probab\w+|driver|customer|owner|inspector|[0-9]+ (new |winter )?tires?)\b|§|[$€£]`),
	"es": regexp.MustCompile(`(?i)\b(ley|legal\w*|CFR|artículo|mínimo|límite|probable\w*|conductor\w*|cliente|propietari\w+|inspector\w*|[0-9]+ (neumáticos?|llantas?))\b|§|[$€£]`),
}

// Of what a headline says the order: the state, what was measured, what is not known, what
// comes first.
var headlineOrder = map[string][]string{"en": {"Not known: ", "First: "}, "es": {"No se sabe: ", "Primero: "}}

// A headline says facts in their order and nothing that it never says; a row of a list is
// one line of 350 bytes on average, 500 at most. Both are our own decision, held for every
// visit in each language.
func TestHeadlinesAndRows(t *testing.T) {
	for language, never := range neverInHeadline {
		rows, bytes := 0, 0
		for _, req := range everyVisit(t) {
			h := listed(req, language)
			if said := never.FindString(h.GetForTechnician()); said != "" {
				t.Errorf("%q in %q", said, h.GetForTechnician())
			}
			last := 0
			for _, mark := range headlineOrder[language] {
				i := strings.Index(h.GetForTechnician(), mark)
				if i >= 0 && i < last || strings.Count(h.GetForTechnician(), mark) > 1 {
					t.Errorf("out of order: %q", h.GetForTechnician())
				}
				last = max(last, i)
			}
			if len(h.GetLine()) > 500 || strings.ContainsAny(h.GetLine()+h.GetForTechnician(), "{}[]") || !strings.HasSuffix(h.GetLine(), ".") {
				t.Errorf("%d bytes: %q", len(h.GetLine()), h.GetLine())
			}
			rows, bytes = rows+1, bytes+len(h.GetLine())
			toldWhole(t, h)
		}
		t.Logf("%s: rows of %d bytes on average", language, bytes/rows)
		if bytes > 350*rows {
			t.Errorf("%s: rows of %d bytes on average", language, bytes/rows)
		}
	}
}

// toldWhole demands that each thing that a headline rests on, and that comes of it, has words,
// and that what is said to be known of the vehicle is not said to be sold first.
func toldWhole(t *testing.T, h *pb.Headline) {
	t.Helper()
	if f := h.GetFirst(); finding.WorkOf(finding.Work(f.GetCode())).Fits {
		t.Errorf("first of all sells: %v", f)
	}
	for _, s := range slices.Concat([]*pb.Said{h.GetFirst(), h.GetAsk()}, h.GetFacts(), h.GetUnknown(), h.GetQuote(), h.GetBack()) {
		if s == nil {
			continue
		}
		if s.GetWords() == "" || s.GetWords() == s.GetCode() || strings.ContainsAny(s.GetWords(), "{}[]") {
			t.Errorf("not told: %v", s)
		}
	}
}
