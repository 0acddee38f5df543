package words

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
)

// text is one text of a catalogue with the place where it stands.
type text struct {
	language            string
	file, section, code string
	reader              string // "technician", "customer", or "" for either
	words               string
}

func (s text) String() string {
	return strings.TrimSuffix(s.file+": "+s.section+": "+s.code+": "+s.reader, ": ")
}

// written gives every text of every tongue where it stands: a region's own, or told in
// its terms from the wider language.
func written(t *testing.T) (all []text) {
	t.Helper()
	all = writtenInFiles(t)
	regional := func(tag string) bool { _, is := parentOf(embedded().texts, tag); return is }
	files := slices.DeleteFunc(slices.Clone(all), func(s text) bool { return regional(s.language) })
	all = slices.Clone(files)
	for _, tag := range Tongues() {
		if !regional(tag) {
			continue
		}
		base, _, _ := strings.Cut(tag, "-")
		for _, s := range files {
			if s.language != base {
				continue
			}
			s.file, s.language = tag+"/"+filepath.Base(s.file), tag
			s.words = s.in(In(tag))
			all = append(all, s)
		}
	}
	return all
}

// in gives what a catalogue has for the text.
func (s text) in(c *Catalogue) string {
	if pairs, ok := map[string]map[string]Pair{"findings": c.Findings, "work": c.Work, "questions": c.Questions}[s.section]; ok {
		return map[string]string{"technician": pairs[s.code].Technician, "customer": pairs[s.code].Customer}[s.reader]
	}
	return map[string]map[string]string{
		"glances": c.Glances, "checked": c.Checked, "cautions": c.Cautions, "settle": c.Settle, "evidence": c.Evidence,
		"look_for": c.LookFor, "not_judged": c.NotJudged, "notes": c.Notes, "labels": c.Labels,
	}[s.section][s.code]
}

// writtenInFiles reads every file of texts by itself.
func writtenInFiles(t *testing.T) (all []text) {
	t.Helper()
	paths, err := fs.Glob(files, "*/*.yaml")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no files of texts: %v", err)
	}
	for _, path := range paths {
		data, err := files.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		var c Catalogue
		if err := c.add(data); err != nil {
			t.Errorf("%s: %v", path, err)
			continue
		}
		language := filepath.Dir(path)
		for section, pairs := range map[string]map[string]Pair{"findings": c.Findings, "work": c.Work, "questions": c.Questions} {
			for code, p := range pairs {
				all = append(all, text{language, path, section, code, "technician", p.Technician}, text{language, path, section, code, "customer", p.Customer})
			}
		}
		for section, lines := range map[string]map[string]string{
			"glances": c.Glances, "checked": c.Checked, "cautions": c.Cautions, "settle": c.Settle, "evidence": c.Evidence,
			"look_for": c.LookFor, "not_judged": c.NotJudged, "notes": c.Notes, "labels": c.Labels,
		} {
			for code, words := range lines {
				all = append(all, text{language, path, section, code, "", words})
			}
		}
	}
	return all
}

// program is the text compiled.
func (s text) program(t *testing.T) program {
	t.Helper()
	made, err := compile(s.words)
	if err != nil {
		t.Fatalf("%v: %v", s, err)
	}
	return made
}

// own are the words of the text without its placeholders.
func (s text) own(t *testing.T) string {
	t.Helper()
	var own strings.Builder
	s.program(t).each(func(p *piece) {
		if p.kind == literal {
			own.WriteString(p.text)
			return
		}
		own.WriteByte(' ')
	})
	return own.String()
}

func TestFilesParseStrictly(t *testing.T) {
	for _, s := range written(t) {
		if s.words == "" || s.words != strings.TrimSpace(s.words) {
			t.Errorf("%v: empty or padded: %q", s, s.words)
		}
	}
}

var codeForm = regexp.MustCompile(`^[a-z]+(-[a-z]+)*(\.[a-z]+(-[a-z]+)*)+$`)

func TestCodesAreDottedKebab(t *testing.T) {
	for _, s := range written(t) {
		if !codeForm.MatchString(s.code) {
			t.Errorf("%v: not a code", s)
		}
	}
}

// wording is what the texts of a language say and never say.
type wording struct {
	Forbidden  []string `yaml:"forbidden"`
	Jargon     []string `yaml:"jargon"`     // that the one who pays need not know
	LocalCode  string   `yaml:"local_code"` // what a caution defers to
	Maker      string   `yaml:"maker"`
	Caught     []string `yaml:"caught"`
	LetThrough []string `yaml:"let_through"`

	Terms []term `yaml:"terms"`

	Disagree       []string `yaml:"disagree"` // words that do not go together
	DisagreeCaught []string `yaml:"disagree_caught"`

	Verdict           []string `yaml:"verdict"` // that no verdict on a vehicle, a wheel or a tire says
	VerdictCaught     []string `yaml:"verdict_caught"`
	VerdictLetThrough []string `yaml:"verdict_let_through"`
}

// term is what a thing of the trade is called in a tongue, and what it is never called.
type term struct {
	Of    string `yaml:"of"`    // in English
	Say   string `yaml:"say"`   // a pattern
	Never string `yaml:"never"` // another
	Where string `yaml:"where"` // it is called so
	Known string `yaml:"known"` // and how that is known
}

// wordingOf reads what stands in testdata/wording of a language, and of a region over
// its language; terms are each one's own.
func wordingOf(t *testing.T, language string) (w wording) {
	t.Helper()
	if wider, regional := parentOf(embedded().texts, language); regional {
		w = wordingOf(t, wider)
		w.Terms = nil
	}
	data, err := os.ReadFile("testdata/wording/" + language + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	d := yaml.NewDecoder(bytes.NewReader(data))
	d.KnownFields(true)
	if err := d.Decode(&w); err != nil {
		t.Fatalf("%s: %v", language, err)
	}
	if len(w.Terms) == 0 || len(w.Forbidden) == 0 || len(w.Jargon) == 0 || w.LocalCode == "" || w.Maker == "" || len(w.Caught) == 0 {
		t.Fatalf("%s: not all is told of its words", language)
	}
	return w
}

// wordings are those of every tongue.
func wordings(t *testing.T) map[string]wording {
	t.Helper()
	all := map[string]wording{}
	for _, l := range Tongues() {
		all[l] = wordingOf(t, l)
	}
	return all
}

func (w wording) forbidden() *regexp.Regexp { return whole(w.Forbidden...) }

// whole makes a pattern of whole words, with or without accents.
func whole(words ...string) *regexp.Regexp {
	return regexp.MustCompile(`(?i)(?:^|[^\pL])(` + strings.Join(words, "|") + `)(?:$|[^\pL])`)
}

var host = regexp.MustCompile(`(?i)://|www\.|@|\b[a-z0-9-]+\.(com|org|net|dev|io|gov|edu)\b`)

func TestForbiddenWords(t *testing.T) {
	forbidden := map[string]*regexp.Regexp{}
	for language, w := range wordings(t) {
		forbidden[language] = w.forbidden()
	}
	for _, s := range written(t) {
		for _, re := range []*regexp.Regexp{forbidden[s.language], host} {
			if w := re.FindString(s.own(t)); w != "" {
				t.Errorf("%v: says %q: %q", s, w, s.words)
			}
		}
	}
}

// conditional are the texts that say under what condition a line is worked, which is no
// verdict.
var conditional = regexp.MustCompile(`^when\.`)

// No verdict on a vehicle, a wheel or a tire says that it is good: what was seen is told,
// and what was not (our own decision).
func TestNoVerdictSaysGood(t *testing.T) {
	all := wordings(t)
	for language, w := range all {
		if len(w.Verdict) == 0 || len(w.VerdictCaught) == 0 || len(w.VerdictLetThrough) == 0 {
			t.Fatalf("%s: not told what no verdict says", language)
		}
		for _, said := range w.VerdictCaught {
			if !whole(w.Verdict...).MatchString(said) {
				t.Errorf("%s: %q is let through", language, said)
			}
		}
		for _, said := range w.VerdictLetThrough {
			if f := whole(w.Verdict...).FindString(said); f != "" && !strings.HasPrefix(said, "If ") {
				t.Errorf("%s: %q is caught", language, said)
			}
		}
	}
	verdict := map[string]*regexp.Regexp{}
	for language, w := range all {
		verdict[language] = whole(w.Verdict...)
	}
	for _, s := range written(t) {
		if w := verdict[s.language].FindString(s.own(t)); w != "" && !conditional.MatchString(s.code) {
			t.Errorf("%v: says %q: %q", s, w, s.words)
		}
	}
}

func TestForbiddenWordsAreCaught(t *testing.T) {
	for language, words := range wordings(t) {
		for _, w := range words.Caught {
			if !words.forbidden().MatchString(w) {
				t.Errorf("%s: %q is let through", language, w)
			}
		}
		for _, w := range words.LetThrough {
			if words.forbidden().MatchString(w) {
				t.Errorf("%s: %q is caught", language, w)
			}
		}
	}
	for _, w := range []string{"see www.example", "a@b", "example.com"} {
		if !host.MatchString(w) {
			t.Errorf("%q is let through", w)
		}
	}
}

func TestCustomerTextsArePlain(t *testing.T) {
	jargon := map[string]*regexp.Regexp{}
	for language, w := range wordings(t) {
		jargon[language] = whole(w.Jargon...)
	}
	for _, s := range written(t) {
		if s.reader != "customer" || s.section == "questions" {
			continue
		}
		if w := jargon[s.language].FindString(s.own(t)); w != "" {
			t.Errorf("%v: says %q: %q", s, w, s.words)
		}
	}
}

// Where a percent sign stands differs from language to language: the numerals know.
func TestNoPercentSign(t *testing.T) {
	for _, s := range written(t) {
		if strings.Contains(s.words, "%") {
			t.Errorf("%v: a percent sign: %q", s, s.words)
		}
	}
}

// filled is a text with every argument of the same value, the parts that may be
// dropped with them or not.
func filled(t *testing.T, s text, value string, whole bool) string {
	t.Helper()
	made := s.program(t)
	names := made.arguments()
	if !whole {
		made.each(func(p *piece) {
			names = slices.DeleteFunc(names, func(n string) bool { return slices.Contains(p.needs, n) })
		})
	}
	var arguments []Argument
	for _, name := range names {
		arguments = append(arguments, Argument{name, Plain(value)})
	}
	teller, _ := Reader{Language: s.language}.Tellers()
	m := rendering{teller: teller, arguments: arguments}
	return string(m.tell(nil, made))
}

// Filled, with everything or with what it cannot go without, no text shows its scaffold.
func TestFilledTextsAreClean(t *testing.T) {
	scaffold := regexp.MustCompile(`[][}{|]|  |^ | $| [.;:!?)]`)
	for _, s := range written(t) {
		for _, whole := range []bool{true, false} {
			got := filled(t, s, "x", whole)
			if bad := scaffold.FindString(got); bad != "" {
				t.Errorf("%v: %q in %q", s, bad, got)
			}
		}
	}
}

var digit = regexp.MustCompile(`[0-9½¼¾⅛⅜⅝⅞]`)

// A number of a rule or a reading comes by a placeholder. No name of the trade
// that these texts use holds a digit, so none is let through but in a unit.
func TestNoNumberTypedByHand(t *testing.T) {
	for _, s := range written(t) {
		unit := s.section == "labels" && strings.HasPrefix(s.code, "unit.")
		if !unit && digit.MatchString(s.own(t)) {
			t.Errorf("%v: a number typed by hand: %q", s, s.words)
		}
	}
}

// What is told without a value is told for the want of that one alone.
func TestNoValueIsOfTexts(t *testing.T) {
	for _, l := range Tongues() {
		for value, texts := range map[string]map[string]Pair{"target": In(l).Work, "measured": In(l).Findings} {
			tried := 0
			for code, p := range texts {
				plain, ok := strings.CutSuffix(code, ".no-"+value)
				if !ok {
					continue
				}
				tried++
				if want := "{" + value + "}"; strings.Contains(p.Technician+p.Customer, want) || !strings.Contains(texts[plain].Technician, want) {
					t.Errorf("%s: %s: %s belongs into %s alone", l, code, want, plain)
				}
			}
			if tried == 0 {
				t.Errorf("%s: nothing is told without {%s}", l, value)
			}
		}
	}
}

func TestSentencesEnd(t *testing.T) {
	for _, s := range written(t) {
		var end string
		switch {
		case s.section == "labels" && strings.HasPrefix(s.code, "when."):
			end = ":"
		case s.section == "questions" && s.reader == "technician":
			end = "?"
		case slices.Contains([]string{"findings", "work", "cautions", "settle", "look_for", "notes"}, s.section):
			end = ".?"
		default:
			continue
		}
		// A value at the very end, {settle}, is a sentence of its own.
		if last, _ := utf8.DecodeLastRuneInString(filled(t, s, "x.", true)); !strings.ContainsRune(end, last) {
			t.Errorf("%v: does not end with one of %q: %q", s, end, s.words)
		}
		if brief, _, cut := strings.Cut(s.words, " | "); cut && s.section != "findings" && !strings.HasSuffix(brief, ".") && !strings.HasSuffix(brief, "?") && !strings.HasSuffix(brief, "{settle}]") {
			t.Errorf("%v: what stands before the bar does not end: %q", s, s.words)
		}
	}
}

// protects are words by which a text says what must not be done, or only when.
var protects = regexp.MustCompile(`(?i)\b(never|only|stop|stand clear|let down|nunca|solo|parar|desinflar)\b`)

// What keeps people from harm is told in brief too, and a line that a note is left out
// for is told whole.
func TestBriefKeepsWhatProtects(t *testing.T) {
	says := map[string]finding.Code{}
	for k := range finding.Kinds() {
		if k.SaidBy != "" {
			says[string(k.SaidBy)] = k.Code
		}
	}
	cut := 0
	for _, s := range written(t) {
		_, after, found := strings.Cut(s.words, " | ")
		if s.section != "work" || !found {
			continue
		}
		cut++
		if word := protects.FindString(after); word != "" {
			t.Errorf("%v: %q stands after the bar: %q", s, word, s.words)
		}
		if note := says[s.code]; note != "" {
			t.Errorf("%v: says %s, and in brief not all of it: %q", s, note, s.words)
		}
	}
	if cut == 0 || len(says) == 0 {
		t.Errorf("%d lines told in brief, %d notes left to a line", cut, len(says))
	}
}

// A line whose name is enough in short forbids nothing and warns of nothing, and follows from
// other work.
func TestCraftForbidsNothing(t *testing.T) {
	named := 0
	for _, s := range written(t) {
		k := finding.WorkOf(finding.Work(s.code))
		if s.section != "work" || !k.Craft {
			continue
		}
		named++
		if word := protects.FindString(s.words); word != "" || k.Caution != "" || k.Needs != finding.NeedsWork {
			t.Errorf("%v: its name is not enough: %q, %q, %v: %q", s, word, k.Caution, k.Needs, s.words)
		}
	}
	if named == 0 {
		t.Error("no line is told by its name")
	}
}

// The cautions about damage and work on wheels defer to those who decide.
func TestCautionsDefer(t *testing.T) {
	all := wordings(t)
	for _, s := range written(t) {
		w := all[s.language]
		if s.section == "cautions" && strings.HasPrefix(s.code, "caution.") && (!strings.Contains(strings.ToLower(s.words), w.LocalCode) || !strings.Contains(s.words, w.Maker)) {
			t.Errorf("%v: names neither local code nor the maker: %q", s, s.words)
		}
	}
}

// Every value of the contract's enums that a report shows has its label.
func TestEnumsHaveLabels(t *testing.T) {
	for _, l := range Tongues() {
		enumsHaveLabels(t, l, In(l))
	}
}

func enumsHaveLabels(t *testing.T, language string, c *Catalogue) {
	t.Helper()
	label := func(code string) bool { return c.Labels[code] != "" }
	for _, e := range []struct {
		enum      protoreflect.Enum
		prefix    string // of the value's name
		code      string
		withFirst bool // the value not told has a label too
	}{
		{pb.Urgency(0), "URGENCY_", "urgency.", true},
		{pb.Authority(0), "AUTHORITY_", "authority.", true},
		{pb.SourceReading(0), "SOURCE_READING_", "known.", true},
		{pb.Comparison(0), "COMPARISON_", "reassess.outcome.", true},
		{pb.Across(0), "ACROSS_", "place.", false},
		{pb.LookedAt(0), "LOOKED_AT_", "looked.", false},
		{pb.NotLookedReason(0), "NOT_LOOKED_REASON_", "not-looked.", false},
	} {
		values := e.enum.Descriptor().Values()
		for i := range values.Len() {
			if i == 0 && !e.withFirst {
				continue
			}
			name := string(values.Get(i).Name())
			code := e.code + Kebab(strings.TrimPrefix(name, e.prefix))
			if !label(code) {
				t.Errorf("%s: %s has no label %s", language, name, code)
			}
			if e.code == "looked." && c.Checked[code] == "" {
				t.Errorf("%s has no text %s for nothing found", name, code)
			}
		}
	}
}

// Whatever of an answer may differ when it is reassessed has its label: each part
// of it that does not follow from the others, and each field of a finding but for its
// names, its sentences and the urgency, which says by itself what it is.
func TestDifferencesHaveLabels(t *testing.T) {
	for _, l := range Tongues() {
		for _, c := range []struct {
			of     proto.Message
			code   string
			except []string
		}{
			{&pb.Assessment{}, "reassess.part.", []string{"findings", "basis", "totals", "cautions"}},
			{&pb.Finding{}, "reassess.of.", []string{"id", "open_id", "for_technician", "for_customer", "urgency"}},
		} {
			fields := c.of.ProtoReflect().Descriptor().Fields()
			for i := range fields.Len() {
				name := string(fields.Get(i).Name())
				if code := c.code + Kebab(name); (In(l).Labels[code] == "") != slices.Contains(c.except, name) {
					t.Errorf("%s: %s: %q", l, code, In(l).Labels[code])
				}
			}
		}
	}
}

// The report indents what a lead stands before: longer ones would break the line.
func TestLeadsAreShort(t *testing.T) {
	for code, most := range map[string]int{
		"report.vehicle": 9, "report.all": 9, "report.judged-by": 11, "report.as-of": 11,
		"reassess.appeared": 13, "reassess.disappeared": 13, "reassess.changed": 13, "reassess.other-parts": 13,
	} {
		for _, l := range Tongues() {
			if w := In(l).Labels[code]; utf8.RuneCountInString(w) > most {
				t.Errorf("%s: %s: %q is longer than %d columns", l, code, w, most)
			}
		}
	}
}

// An amount may bring parentheses of its own, with what was read: it stands in none.
func TestNoAmountInParentheses(t *testing.T) {
	amount := regexp.MustCompile(`\([^()]*\{(measured|limit|margin|target|due_by|evidence[^}]*)\}[^()]*\)`)
	for _, s := range written(t) {
		if s.code != "fastener.damaged" && amount.MatchString(s.words) { // which counts
			t.Errorf("%v: %q", s, s.words)
		}
	}
}

func TestTechnicianTextsAreShort(t *testing.T) {
	const most = 250 // characters: some four lines of a report
	for _, s := range written(t) {
		if n := utf8.RuneCountInString(s.words); s.reader == "technician" && n > most {
			t.Errorf("%v: %d characters, more than %d", s, n, most)
		}
	}
}
