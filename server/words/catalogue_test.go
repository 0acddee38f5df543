package words

import (
	"bytes"
	"io/fs"
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

// texts reads every catalogue file by itself, as strictly as can be.
func texts(t *testing.T) (all []text) {
	t.Helper()
	paths, err := fs.Glob(files, "*/*.yaml")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no catalogue files: %v", err)
	}
	for _, path := range paths {
		language := filepath.Dir(path)
		data, err := files.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		var c Catalogue
		d := yaml.NewDecoder(bytes.NewReader(data))
		d.KnownFields(true)
		if err := d.Decode(&c); err != nil {
			t.Errorf("%s: %v", path, err)
			continue
		}
		for section, pairs := range map[string]map[string]Pair{"findings": c.Findings, "work": c.Work, "questions": c.Questions} {
			for code, p := range pairs {
				all = append(all, text{language, path, section, code, "technician", p.Technician}, text{language, path, section, code, "customer", p.Customer})
			}
		}
		for section, lines := range map[string]map[string]string{
			"checked": c.Checked, "cautions": c.Cautions, "settle": c.Settle, "evidence": c.Evidence,
			"look_for": c.LookFor, "not_judged": c.NotJudged, "notes": c.Notes, "labels": c.Labels,
		} {
			for code, words := range lines {
				all = append(all, text{language, path, section, code, "", words})
			}
		}
	}
	return all
}

func TestFilesParseStrictly(t *testing.T) {
	for _, s := range texts(t) {
		if s.words == "" || s.words != strings.TrimSpace(s.words) {
			t.Errorf("%v: empty or padded: %q", s, s.words)
		}
	}
}

func TestNoCodeTwice(t *testing.T) {
	first := map[[4]string]string{}
	for _, s := range texts(t) {
		key := [4]string{s.language, s.section, s.code, s.reader}
		if f, twice := first[key]; twice {
			t.Errorf("%v: stands in %s too", s, f)
		}
		first[key] = s.file
	}
}

var codeForm = regexp.MustCompile(`^[a-z]+(-[a-z]+)*(\.[a-z]+(-[a-z]+)*)+$`)

func TestCodesAreDottedKebab(t *testing.T) {
	for _, s := range texts(t) {
		if !codeForm.MatchString(s.code) {
			t.Errorf("%v: not a code", s)
		}
	}
}

// Words that a report never says: it states what was measured and by which rule,
// and leaves verdicts on legality and blame to others. The door label is never
// called by its legal name; sides are left and right, seen facing forward.
// English: US spelling. Spanish: neumático, as llanta is the tire in some countries
// and the rim in others.
var forbidden = map[string]*regexp.Regexp{
	"en": whole(`illegal\pL*|unlawful\pL*|refus\pL*|(un)?safe\pL*|expire\pL*|expiry|own risk|liab\pL+|guarantee\pL*|warrant\pL*`,
		`placard\pL*|tyre\pL*|colour\pL*|centre\pL*|(near|off) ?-?side|(driver|passenger)('s)? side`),
	"es": whole(`(i|a)legal(es|mente)?|ilegalidad|ilícit\pL*|rechaz\pL*|se neg(ó|aron)|negarse`,
		`(in)?segur(o|a|os|as|idad|amente)|a salvo|peligros\pL*|caduc\pL*|venc(e|en|ió|id\pL*|imiento)|expir\pL*`,
		`(propio|su) riesgo|responsab\pL*|garant\pL*|lado del (conductor|pasajero|acompañante|copiloto)`,
		`llantas?|rin|rines|gomas?|cubiertas?|placa del fabricante`),
}

// whole makes a pattern of whole words, with or without accents.
func whole(words ...string) *regexp.Regexp {
	return regexp.MustCompile(`(?i)(?:^|[^\pL])(` + strings.Join(words, "|") + `)(?:$|[^\pL])`)
}

var host = regexp.MustCompile(`(?i)://|www\.|@|\b[a-z0-9-]+\.(com|org|net|dev|io|gov|edu)\b`)

func TestForbiddenWords(t *testing.T) {
	for _, s := range texts(t) {
		for _, re := range []*regexp.Regexp{forbidden[s.language], host} {
			if w := re.FindString(placeholder.ReplaceAllString(s.words, "")); w != "" {
				t.Errorf("%v: says %q: %q", s, w, s.words)
			}
		}
	}
}

func TestForbiddenWordsAreCaught(t *testing.T) {
	for language, words := range map[string][]string{
		"en": {"It is illegal.", "They refused it.", "unsafe", "Safe to drive", "expired", "at your own risk", "no liability", "the placard", "tyre", "off-side"},
		"es": {"Es ilegal.", "Está rechazado.", "Usted se negó.", "No es seguro.", "inseguras", "Con seguridad", "neumático caducado", "El kit venció.", "vencida", "Expirado", "bajo su propio riesgo", "sin garantía", "la llanta", "lado del conductor"},
	} {
		for _, w := range words {
			if !forbidden[language].MatchString(w) {
				t.Errorf("%s: %q is let through", language, w)
			}
		}
	}
	for _, w := range []string{"mínimo legal", "Se asegura la tuerca.", "convencido"} {
		if forbidden["es"].MatchString(w) {
			t.Errorf("%q is caught", w)
		}
	}
	for _, w := range []string{"see www.example", "a@b", "example.com"} {
		if !host.MatchString(w) {
			t.Errorf("%q is let through", w)
		}
	}
}

// jargon that the one who pays need not know.
var jargon = map[string]*regexp.Regexp{
	"en": whole(`demount\pL*|liner|beads?|ply|plies|duals?|torque\pL*|crown|retread\pL*|regroov\pL*|cold equivalent|tin|tpms|gvwr|cfr`),
	"es": whole(`revestimiento|talón|talones|lonas?|gemelas?|par de apriete|el par|torque|corona|recauchutad\pL*|reesculturad\pL*|flancos?|tin|tpms|cfr`),
}

func TestCustomerTextsArePlain(t *testing.T) {
	for _, s := range texts(t) {
		if s.reader != "customer" || s.section == "questions" {
			continue
		}
		if w := jargon[s.language].FindString(placeholder.ReplaceAllString(s.words, "")); w != "" {
			t.Errorf("%v: says %q: %q", s, w, s.words)
		}
	}
}

// known are the placeholders that each section is given values for; evidence is
// checked by its code.
var known = map[string][]string{
	"findings": {"at", "measured", "limit", "margin", "uncertainty", "rule", "place"},
	"work":     {"at", "target", "due_from", "due_by", "settle", "map", "changes"},
	"checked":  {"at", "measured", "limit", "rule"},
	"labels":   {"at", "dual", "end", "limit", "n", "new", "others", "side"},
	"notes":    {"age", "at", "by", "day", "from", "instead", "most", "number", "symbol", "to", "week", "year", "years"},
}

func TestPlaceholdersAreKnown(t *testing.T) {
	for _, s := range texts(t) {
		evidence := In(s.language).Evidence
		for _, p := range placeholder.FindAllString(s.words, -1) {
			name := p[1 : len(p)-1]
			code, isEvidence := strings.CutPrefix(name, "evidence.")
			_, told := evidence[code]
			switch {
			case isEvidence && s.section == "findings" && told:
			case slices.Contains(known[s.section], name):
			default:
				t.Errorf("%v: nothing fills %s: %q", s, p, s.words)
			}
		}
	}
}

// Only these labels take values.
func TestLabelsThatTakeValues(t *testing.T) {
	takes := []string{
		"age.year", "age.years", "place.front-rear", "place.groove", "place.on-axle", "place.station",
		"report.law-open-customer", "report.left-of", "report.same-goes", "short.front-rear", "short.on-axle",
	}
	for _, s := range texts(t) {
		if s.section == "labels" && placeholder.MatchString(s.words) != slices.Contains(takes, s.code) {
			t.Errorf("%v: %q", s, s.words)
		}
		if strings.Contains(s.words, "%") {
			t.Errorf("%v: a percent sign: its place differs from language to language: %q", s, s.words)
		}
	}
}

// filled gives every placeholder of a text the same value.
func filled(words, value string) string {
	values := map[string]string{}
	for _, p := range placeholder.FindAllString(words, -1) {
		values[p[1:len(p)-1]] = value
	}
	return Fill(words, values)
}

// Filled, with everything or with nothing, no text shows its scaffold.
func TestFilledTextsAreClean(t *testing.T) {
	for _, s := range texts(t) {
		for _, value := range []string{"x", ""} {
			if got := filled(s.words, value); strings.ContainsAny(got, "[]{}") {
				t.Errorf("%v: %q", s, got)
			}
		}
	}
}

var digit = regexp.MustCompile(`[0-9½¼¾⅛⅜⅝⅞]`)

// A number of a rule or a reading comes by a placeholder. No name of the trade
// that these texts use holds a digit, so none is let through but in a unit.
func TestNoNumberTypedByHand(t *testing.T) {
	for _, s := range texts(t) {
		unit := s.section == "labels" && strings.HasPrefix(s.code, "unit.")
		if !unit && digit.MatchString(placeholder.ReplaceAllString(s.words, "")) {
			t.Errorf("%v: a number typed by hand: %q", s, s.words)
		}
	}
}

// Endings under which another text of the same code is asked for.
var variants = []string{".no-target", ".finish-cold", ".cannot-tell", ".candidate"}

func pairsOfAll() (all []map[string]Pair) {
	for _, l := range Languages() {
		all = append(all, In(l).Findings, In(l).Work)
	}
	return all
}

func TestVariantsHaveTheirPlainText(t *testing.T) {
	for _, pairs := range pairsOfAll() {
		for code, p := range pairs {
			plain := code
			for trimmed := true; trimmed; {
				trimmed = false
				for _, v := range variants {
					if s, ok := strings.CutSuffix(plain, v); ok {
						plain, trimmed = s, true
					}
				}
			}
			base, ok := pairs[plain]
			if !ok {
				t.Errorf("%s has no %s", code, plain)
			}
			if strings.HasSuffix(code, ".no-target") {
				if strings.Contains(p.Technician+p.Customer, "{target}") || !strings.Contains(base.Technician, "{target}") {
					t.Errorf("%s: {target} belongs into %s alone", code, plain)
				}
			}
		}
	}
}

func TestSentencesEnd(t *testing.T) {
	for _, s := range texts(t) {
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
		if last, _ := utf8.DecodeLastRuneInString(filled(s.words, "x.")); !strings.ContainsRune(end, last) {
			t.Errorf("%v: does not end with one of %q: %q", s, end, s.words)
		}
	}
}

// The cautions about damage and work on wheels defer to those who decide.
func TestCautionsDefer(t *testing.T) {
	code, maker := map[string]string{"en": "local code", "es": "normativa local"}, map[string]string{"en": "maker", "es": "fabricante"}
	for _, s := range texts(t) {
		if s.section == "cautions" && strings.HasPrefix(s.code, "caution.") && (!strings.Contains(strings.ToLower(s.words), code[s.language]) || !strings.Contains(s.words, maker[s.language])) {
			t.Errorf("%v: names neither local code nor the maker: %q", s, s.words)
		}
	}
}

// Every value of the contract's enums that a report shows has its label.
func TestEnumsHaveLabels(t *testing.T) {
	for _, l := range Languages() {
		enumsHaveLabels(t, In(l))
	}
}

func enumsHaveLabels(t *testing.T, c *Catalogue) {
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
		{pb.Comparison(0), "COMPARISON_", "anew.outcome.", true},
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
				t.Errorf("%s: %s has no label %s", c.Tag(), name, code)
			}
			if e.code == "looked." && c.Checked[code] == "" {
				t.Errorf("%s has no text %s for nothing found", name, code)
			}
		}
	}
}

// Whatever of an answer may differ when it is judged anew has its label: each part
// of it, and each field of a finding but for its sentences and the
// urgency, which says by itself what it is.
func TestDifferencesHaveLabels(t *testing.T) {
	for _, l := range Languages() {
		for _, c := range []struct {
			of     proto.Message
			code   string
			except []string
		}{
			{&pb.Assessment{}, "anew.part.", []string{"findings", "basis"}},
			{&pb.Finding{}, "anew.of.", []string{"id", "to_settle", "for_technician", "for_customer", "caution", "urgency"}},
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
		"anew.appeared": 13, "anew.disappeared": 13, "anew.changed": 13, "anew.besides": 13,
	} {
		for _, l := range Languages() {
			if w := In(l).Labels[code]; utf8.RuneCountInString(w) > most {
				t.Errorf("%s: %s: %q is longer than %d columns", l, code, w, most)
			}
		}
	}
}

// An amount may bring parentheses of its own, with what was read: it stands in none.
func TestNoAmountInParentheses(t *testing.T) {
	amount := regexp.MustCompile(`\([^()]*\{(measured|limit|margin|target|due_by|evidence[^}]*)\}[^()]*\)`)
	for _, s := range texts(t) {
		if s.code != "fastener.damaged" && amount.MatchString(s.words) { // which counts
			t.Errorf("%v: %q", s, s.words)
		}
	}
}

func TestTechnicianTextsAreShort(t *testing.T) {
	const most = 250 // characters: some four lines of a report
	for _, s := range texts(t) {
		if n := utf8.RuneCountInString(s.words); s.reader == "technician" && n > most {
			t.Errorf("%v: %d characters, more than %d", s, n, most)
		}
	}
}
