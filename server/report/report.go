// Package report writes an assessment for a person at a terminal: plain text of
// 80 columns that needs no color and can be pasted into a message.
package report

import (
	"cmp"
	"fmt"
	"io"
	"log/slog"
	"regexp"
	"strings"
	"unicode"

	"github.com/mitchellh/go-wordwrap"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/translate"
	"gaugebook.dev/server/words"
)

// Width is the columns a line may take.
const Width = 80

// Write writes the report of one visit. req gives the heading, a the answer, which
// was told whole (FULL), as told says, to technician and customer.
func Write(w io.Writer, req *pb.AssessVisitRequest, a *pb.Assessment, told *pb.Told) error {
	req, a = harmless(req), harmless(a)
	p := newPrinter(a, told)
	p.every, p.frontRear = everyWheel(req, a), translate.FrontRear(req.GetVehicle())
	p.heading(req, a)
	p.readings(a.GetWheels())
	p.findings(a.GetFindings())
	p.cautions(a)
	p.order(a)
	p.checked(a.GetNothingFound())
	p.notLooked(a)
	p.customer(a)
	p.end(2, a)
	_, err := io.WriteString(w, p.out.String())
	return err
}

type printer struct {
	out                 strings.Builder
	technician, counter *words.Teller // the counter tells the customer
	chosen              *words.Teller // tells the technician in no units but those chosen
	shown               map[string]string
	every               int  // wheels of the vehicle, the spare with them; 0 when not all of them were reported
	frontRear           bool // places are written by the vehicle's ends

	nameNumber *regexp.Regexp // a name and the number that goes with it
}

// newPrinter writes in the languages and units in which an answer was told.
func newPrinter(a *pb.Assessment, told *pb.Told) *printer {
	p := &printer{shown: shownPositions(a), nameNumber: nameNumber(told.GetLanguage(), told.GetCustomerLanguage())}
	p.technician, p.counter = words.Reader{Language: told.GetLanguage(), CustomerLanguage: told.GetCustomerLanguage(), Units: tell.Units(told.GetUnits())}.Tellers()
	p.chosen = p.technician
	read := tell.ReadIn(a)
	p.technician, p.counter = p.technician.Reading(read), p.counter.Reading(read)
	return p
}

// everyWheel counts the wheels when each of them was reported, 0 otherwise.
func everyWheel(req *pb.AssessVisitRequest, a *pb.Assessment) int {
	wanted, spare := 0, 0
	for _, axle := range req.GetVehicle().GetAxles().GetAxles() {
		wanted += 2
		if axle.GetWheels() == pb.AxleWheels_AXLE_WHEELS_DUAL {
			wanted += 2
		}
	}
	for _, s := range a.GetWheels() {
		if s.GetPosition() == "S" {
			spare = 1
		}
	}
	if wanted == 0 || len(a.GetWheels()) != wanted+spare {
		return 0
	}
	return wanted + spare
}

func shownPositions(a *pb.Assessment) map[string]string {
	m := map[string]string{}
	for _, s := range a.GetWheels() {
		m[s.GetPosition()] = s.GetShownPosition()
	}
	return m
}

// label gives a heading or a name; its code where there is none.
func (p *printer) label(code string) string {
	return cmp.Or(p.technician.Text(words.Labels, code), code)
}

// tellLabel tells a label with its arguments. What it could not tell is seen in it.
func tellLabel(teller *words.Teller, label string, arguments ...words.Argument) string {
	told, err := teller.Tell(words.Said{Section: words.Labels, Code: label, Arguments: arguments})
	if err != nil {
		slog.Error("untold", "fault", err)
	}
	return told
}

func (p *printer) section(code string) {
	fmt.Fprintf(&p.out, "\n%s\n", p.label("report."+code))
}

// hang writes a text after a lead, wrapped so that every further line starts
// under the text.
func (p *printer) hang(lead string, from int, text string) {
	if strings.TrimSpace(text) == "" {
		return
	}
	lines := strings.Split(wordwrap.WrapString(p.bound(text), uint(Width-from)), "\n")
	if len([]rune(lead)) > from || strings.TrimSpace(lead) != "" && len([]rune(strings.TrimRight(lead, " "))) == from {
		fmt.Fprintln(&p.out, strings.TrimRight(lead, " "))
		lead = ""
	}
	for i, l := range lines {
		if i > 0 {
			lead = ""
		}
		fmt.Fprintln(&p.out, strings.TrimRight(pad(lead, from)+unbind.Replace(l), " "))
	}
}

// bound keeps together at the end of a line what is read together: a number
// with its unit, a name with its number.
func (p *printer) bound(text string) string {
	text = numberUnit.ReplaceAllString(text, "${1}\u00a0${2}")
	return p.nameNumber.ReplaceAllString(text, "${1}${2}\u00a0${3}")
}

// nameNumber finds numbered places in languages, and numbered parts of laws.
func nameNumber(languages ...string) *regexp.Regexp {
	names := []string{`reg\.`, "CFR", `Abs\.`, "§"}
	for _, language := range languages {
		labels := words.In(language).Labels
		for _, code := range []string{"place.on-axle", "place.groove", "place.station"} {
			before, _, _ := strings.Cut(labels[code], " {n}")
			names = append(names, regexp.QuoteMeta(before[strings.LastIndex(before, " ")+1:]))
		}
	}
	return regexp.MustCompile(`(^|[^\pL])(` + strings.Join(names, "|") + `) ([0-9])`)
}

var (
	numberUnit = regexp.MustCompile(`([0-9]) (%|(?:in|mm|m|ft|psi|kPa|bar|hPa|inHg|mi|km|lb|kg|lb·ft|N·m|CFR|\(k)\b)`)
	unbind     = strings.NewReplacer("\u00a0", " ")
)

// lower begins a text with a small letter.
func lower(s string) string {
	r := []rune(s)
	if len(r) > 0 {
		r[0] = unicode.ToLower(r[0])
	}
	return string(r)
}

func pad(s string, n int) string {
	if k := len([]rune(s)); k < n {
		return s + strings.Repeat(" ", n-k)
	}
	return s
}

// places writes positions as the trade does, and all of them in one word.
func (p *printer) places(positions []string) string {
	switch len(positions) {
	case 0:
		return p.label("report.vehicle")
	case p.every:
		return p.label("report.all")
	}
	names := make([]string, len(positions))
	for i, pos := range positions {
		names[i] = p.name(pos)
	}
	return strings.Join(names, " ")
}

func (p *printer) name(position string) string {
	if s := p.shown[position]; s != "" {
		return s
	}
	return position
}

func (p *printer) unplaced(positions []string, text string) string {
	names := make([]string, len(positions))
	for i, pos := range positions {
		names[i] = p.name(pos)
	}
	return words.Sentence(strings.TrimPrefix(text, strings.Join(names, " ")+": "))
}

// indent is the column where texts start, after the positions.
const indent = 12

// place writes a text beside its positions, which the text then need not repeat.
func (p *printer) place(positions []string, text string) {
	p.hang("  "+p.places(positions), indent, p.unplaced(positions, text))
}
