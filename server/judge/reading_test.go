package judge_test

import (
	"math"
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

var (
	sentenceEnds = regexp.MustCompile(`[.?!:;](\s|$)`)
	aWord        = regexp.MustCompile(`[\pL\pN][\pL\pN'.,/·%-]*`)
	vowels       = regexp.MustCompile(`[aeiouy]+`)
)

// syllables of an English word by a rule: groups of vowels, but for an e at the end that
// stands after a consonant and is no -le, and for -es and -ed that are not spoken. A number
// or a unit counts as one.
func syllables(word string) int {
	word = strings.ToLower(strings.Trim(word, "'.,"))
	if !regexp.MustCompile(`^[a-z'-]+$`).MatchString(word) {
		return 1
	}
	n := 0
	for part := range strings.SplitSeq(word, "-") {
		n += max(1, groups(part))
	}
	return n
}

var (
	silentE  = regexp.MustCompile(`[^aeiouyl]e$|[aeiouy]le$`)
	silentES = regexp.MustCompile(`[^aeiouyszxg]es$`)
	spokenES = regexp.MustCompile(`(ch|sh|[szxcg])es$`)
	silentED = regexp.MustCompile(`[^aeiouytd]ed$`)
)

func groups(word string) int {
	n := len(vowels.FindAllString(word, -1))
	switch {
	case silentE.MatchString(word), silentED.MatchString(word), silentES.MatchString(word) && !spokenES.MatchString(word):
		n--
	}
	return n
}

// grade is the Flesch-Kincaid grade of a text: J. P. Kincaid, R. P. Fishburne, R. L. Rogers,
// B. S. Chissom, Derivation of new readability formulas for Navy enlisted personnel, Naval
// Technical Training Command, Research Branch Report 8-75, 1975: 0.39 words a sentence + 11.8
// syllables a word - 15.59.
func grade(text string) float64 {
	words, count := aWord.FindAllString(text, -1), 0
	for _, w := range words {
		count += syllables(w)
	}
	sentences := max(1, len(sentenceEnds.FindAllString(text, -1)))
	return 0.39*float64(len(words))/float64(sentences) + 11.8*float64(count)/float64(len(words)) - 15.59
}

// eachTold gives every visit as it is told to a customer in English, in the words of work.
func eachTold(t *testing.T, do func(*pb.Assessment)) {
	t.Helper()
	for _, req := range everyVisit(t) {
		a := proto.CloneOf(judge.Visit(req))
		tell.For(&pb.Reader{Language: "en", CustomerLanguage: "en", View: pb.View_VIEW_WORK}, tell.Shop{}).Assessment(a, translate.FrontRear(req.GetVehicle()))
		do(a)
	}
}

// A customer reads what six years of school teach (our own decision): of all that is told of
// the visits the grade is 4 on average, and none is above 8.
func TestCustomersReadPlainWords(t *testing.T) {
	grades := map[string]float64{}
	read := func(s string) {
		if s != "" {
			grades[s] = grade(s)
		}
	}
	eachTold(t, func(a *pb.Assessment) {
		read(a.GetHeadline().GetForCustomer())
		for _, f := range a.GetFindings() {
			read(f.GetForCustomer())
		}
		for _, w := range a.GetWork() {
			read(w.GetForCustomer())
		}
	})
	sum := 0.0
	for s, g := range grades {
		if sum += g; g > 8 {
			t.Errorf("grade %.1f: %q", g, s)
		}
	}
	t.Logf("%d texts, grade %.2f on average", len(grades), sum/float64(len(grades)))
	if sum > 4*float64(len(grades)) {
		t.Errorf("grade %.2f on average", sum/float64(len(grades)))
	}
}

// Syllables and grades of sentences that were counted by hand, by the rule and the formula
// above.
func TestGrade(t *testing.T) {
	for word, want := range map[string]int{"tire": 1, "wheels": 1, "little": 2, "looked": 1, "inspected": 3, "pressure": 2, "repaired": 2, "edges": 2, "axle": 2, "the": 1, "48,210": 1, "all-wheel": 2} {
		if n := syllables(word); n != want {
			t.Errorf("%s: %d syllables, %d counted", word, n, want)
		}
	}
	// 11 words in 2 sentences, 11 syllables.
	if g := grade("The left tire is flat. Please do not drive on it."); math.Abs(g-(0.39*11/2+11.8*11/11-15.59)) > 1e-9 {
		t.Errorf("grade %v", g)
	}
}

var (
	notToDrive = regexp.MustCompile(`(?i)\b(please do not (drive|move|tow)|not be driven|must not be driven|advise not to drive (before|until))\b`)
	toReplace  = regexp.MustCompile(`(?i)\b(needs? replacing|needs? to be replaced|ha(s|ve) to be replaced|must be replaced)\b`)
)

// No sentence for a customer is graver than its finding: only what comes before driving asks
// not to drive; and none calls for a new tire or wheel that the order of work does not hold.
func TestNoSentenceIsGraver(t *testing.T) {
	asked := 0
	eachTold(t, func(a *pb.Assessment) {
		for _, f := range a.GetFindings() {
			said := f.GetForCustomer()
			if notToDrive.MatchString(said) {
				if asked++; f.GetUrgency() != pb.Urgency_URGENCY_BEFORE_DRIVING {
					t.Errorf("%s, %v: %q", f.GetCode(), f.GetUrgency(), said)
				}
			}
			if toReplace.MatchString(said) {
				if asked++; f.GetAsLeft() == nil && !replaced(a, f) {
					t.Errorf("%s: no work replaces it: %q", f.GetCode(), said)
				}
			}
		}
	})
	if asked == 0 {
		t.Error("no sentence asks for anything")
	}
}

// replaced tells that the order of work holds something new where a finding is.
func replaced(a *pb.Assessment, f *pb.Finding) bool {
	return slices.ContainsFunc(a.GetWork(), func(w *pb.WorkItem) bool {
		k := finding.WorkOf(finding.Work(w.GetCode()))
		here := len(f.GetPositions()) == 0 || slices.ContainsFunc(f.GetPositions(), func(p string) bool { return slices.Contains(w.GetPositions(), p) })
		return here && (k.Fits || k.Stage == finding.StageMend || k.Stage == finding.StageParts || k.Stage == finding.StageWheelEnd || k.Stage == finding.StagePlace)
	})
}
