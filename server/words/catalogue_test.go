package words

import (
	"bytes"
	"io/fs"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// text is one text of a catalogue with the place where it stands.
type text struct {
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
				all = append(all, text{path, section, code, "technician", p.Technician}, text{path, section, code, "customer", p.Customer})
			}
		}
		for section, lines := range map[string]map[string]string{
			"checked": c.Checked, "cautions": c.Cautions, "settle": c.Settle, "evidence": c.Evidence,
			"look_for": c.LookFor, "not_judged": c.NotJudged, "notes": c.Notes, "labels": c.Labels,
		} {
			for code, words := range lines {
				all = append(all, text{path, section, code, "", words})
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
	first := map[[3]string]string{}
	for _, s := range texts(t) {
		key := [3]string{s.section, s.code, s.reader}
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
var forbidden = regexp.MustCompile(`(?i)\b(illegal\w*|unlawful\w*|refus\w*|(un)?safe\w*|expire\w*|expiry|own risk|liab\w+|guarantee\w*|warrant\w*` +
	`|placard\w*|tyre\w*|colour\w*|centre\w*|(near|off) ?-?side|(driver|passenger)('s)? side)\b`)

var host = regexp.MustCompile(`(?i)://|www\.|@|\b[a-z0-9-]+\.(com|org|net|dev|io|gov|edu)\b`)

func TestForbiddenWords(t *testing.T) {
	for _, s := range texts(t) {
		for _, re := range []*regexp.Regexp{forbidden, host} {
			if w := re.FindString(placeholder.ReplaceAllString(s.words, "")); w != "" {
				t.Errorf("%v: says %q: %q", s, w, s.words)
			}
		}
	}
}

func TestForbiddenWordsAreCaught(t *testing.T) {
	for _, w := range []string{"It is illegal.", "They refused it.", "unsafe", "Safe to drive", "expired", "at your own risk", "no liability", "the placard", "tyre", "off-side"} {
		if !forbidden.MatchString(w) {
			t.Errorf("%q is let through", w)
		}
	}
	for _, w := range []string{"see www.example", "a@b", "example.com"} {
		if !host.MatchString(w) {
			t.Errorf("%q is let through", w)
		}
	}
}

// jargon that the one who pays need not know.
var jargon = regexp.MustCompile(`(?i)\b(demount\w*|liner|beads?|ply|plies|duals?|torque\w*|crown|retread\w*|regroov\w*|cold equivalent|tin|tpms|gvwr|cfr)\b`)

func TestCustomerTextsArePlain(t *testing.T) {
	for _, s := range texts(t) {
		if s.reader != "customer" || s.section == "questions" {
			continue
		}
		if w := jargon.FindString(placeholder.ReplaceAllString(s.words, "")); w != "" {
			t.Errorf("%v: says %q: %q", s, w, s.words)
		}
	}
}

// known are the placeholders that each section is given values for; evidence is
// checked by its code.
var known = map[string][]string{
	"findings": {"at", "measured", "limit", "margin", "uncertainty", "rule", "place"},
	"work":     {"at", "target", "due_from", "due_by", "settle"},
	"checked":  {"at", "measured", "limit", "rule"},
	"labels":   {"n"},
	"notes":    {"age", "at", "by", "day", "from", "instead", "most", "number", "symbol", "to", "week", "year", "years"},
}

func TestPlaceholdersAreKnown(t *testing.T) {
	evidence := In(Default).Evidence
	for _, s := range texts(t) {
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

// Only a numbered place is given a number, and only these labels are formats.
func TestLabelsThatTakeValues(t *testing.T) {
	for _, s := range texts(t) {
		if s.section == "labels" {
			if takes := strings.Contains(s.words, "{n}"); takes != slices.Contains([]string{"place.groove", "place.station", "place.axle"}, s.code) {
				t.Errorf("%v: %q", s, s.words)
			}
		}
		want := 0
		if s.section == "labels" {
			want = map[string]int{"report.left-of": 2, "report.same-goes": 1, "report.law-open-customer": 1}[s.code]
		}
		if strings.Count(s.words, "%s") != want || strings.Count(s.words, "%") != want {
			t.Errorf("%v: %d times %%s wanted: %q", s, want, s.words)
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
// that these texts use holds a digit, so none is let through.
func TestNoNumberTypedByHand(t *testing.T) {
	for _, s := range texts(t) {
		if digit.MatchString(placeholder.ReplaceAllString(s.words, "")) {
			t.Errorf("%v: a number typed by hand: %q", s, s.words)
		}
	}
}

// Endings under which another text of the same code is asked for.
var variants = []string{".no-target", ".finish-cold", ".cannot-tell", ".candidate"}

func TestVariantsHaveTheirPlainText(t *testing.T) {
	c := In(Default)
	for _, pairs := range []map[string]Pair{c.Findings, c.Work} {
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
	for _, s := range texts(t) {
		if s.section == "cautions" && strings.HasPrefix(s.code, "caution.") && (!strings.Contains(strings.ToLower(s.words), "local code") || !strings.Contains(s.words, "maker")) {
			t.Errorf("%v: names neither local code nor the maker: %q", s, s.words)
		}
	}
}

// Every value of the contract's enums that a report shows has its label.
func TestEnumsHaveLabels(t *testing.T) {
	c := In(Default)
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
				t.Errorf("%s has no label %s", name, code)
			}
			if e.code == "looked." && c.Checked[code] == "" {
				t.Errorf("%s has no text %s for nothing found", name, code)
			}
		}
	}
}

// The report indents what a lead stands before: longer ones would break the line.
func TestLeadsAreShort(t *testing.T) {
	for code, most := range map[string]int{"report.vehicle": 9, "report.all": 9, "report.judged-by": 11, "report.as-of": 11} {
		if w := In(Default).Labels[code]; utf8.RuneCountInString(w) > most {
			t.Errorf("%s: %q is longer than %d columns", code, w, most)
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
