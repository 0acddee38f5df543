package words

import (
	"maps"
	"strings"

	"gaugebook.dev/calc/finding"
)

// Section is a kind of text.
type Section uint8

// The sections of a language's texts. Findings, work and headlines are said in other
// words to a technician than to a customer; the others have one text.
const (
	Findings   Section = iota // what was found
	Work                      // a line of work
	Headlines                 // what comes before all else
	Glances                   // a part of a headline or a row, by the code of what it tells
	Checked                   // looked at and nothing found
	Cautions                  // where someone could be hurt
	Settle                    // the measurement, or the question, that would decide
	Evidence                  // a fact; its argument is {amount}
	LookFor                   // inside a tire that comes off
	Questions                 // what is asked
	WouldAllow                // what the answer to a question would allow
	NotJudged                 // what is not judged
	Notes                     // beside the numbers of a calculator
	Labels                    // headings, urgencies, authorities, places, reasons
	Titles                    // of findings and work, for a list
	sectionCount
)

func (s Section) String() string {
	return [sectionCount]string{
		"findings", "work", "headlines", "glances", "checked", "cautions", "settle", "evidence", "look_for", "questions", "questions", "not_judged", "notes", "labels", "titles",
	}[s]
}

// Audience is whom a text speaks to.
type Audience uint8

// The two who read.
const (
	Technician Audience = iota
	Customer
	audiences
)

// Condition chooses among the texts of one code.
type Condition uint8

// Conditions. A text whose code ends in their names is told where they all hold: of
// several the one that stands last here. Brief ends no code: it tells any text without
// what follows its bar, of which nothing needs to be known.
const (
	CannotTell Condition = 1 << iota // the comparison does not decide
	Candidate                        // the rule is one of several that may apply
	FinishCold                       // done while the tire is or may be warm
	noTarget                         // there is no argument {target} of work
	noMeasured                       // there is no argument {measured} of a finding
	Brief
)

var conditions = map[string]Condition{
	"cannot-tell": CannotTell, "candidate": Candidate, "finish-cold": FinishCold, "no-target": noTarget, "no-measured": noMeasured,
}

// plainCode is a code without the conditions at its end.
func plainCode(code string) (plain string, when Condition) {
	for {
		dot := strings.LastIndexByte(code, '.')
		condition, ok := conditions[code[dot+1:]]
		if !ok || dot < 0 {
			return code, when
		}
		code, when = code[:dot], when|condition
	}
}

// written gives the texts of a section to one audience, as they are written.
func (c *Catalogue) written(s Section, to Audience) map[string]string {
	switch s {
	case Findings:
		return ofPairs(c.Findings, to)
	case Work:
		return ofPairs(c.Work, to)
	case Headlines:
		return ofPairs(c.Headlines, to)
	case Questions:
		return ofPairs(c.Questions, Technician)
	case WouldAllow:
		return ofPairs(c.Questions, Customer)
	case Settle:
		all := ofPairs(c.Questions, Technician) // a question settles too
		maps.Copy(all, c.Settle)
		return all
	}
	return map[Section]map[string]string{
		Glances: c.Glances, Checked: c.Checked, Cautions: c.Cautions, Evidence: c.Evidence, LookFor: c.LookFor, NotJudged: c.NotJudged, Notes: c.Notes, Labels: c.Labels, Titles: c.Titles,
	}[s]
}

func ofPairs(pairs map[string]Pair, to Audience) map[string]string {
	all := make(map[string]string, len(pairs))
	for code, p := range pairs {
		all[code] = [audiences]string{p.Technician, p.Customer}[to]
	}
	return all
}

// argumentsOf are the names that a text may tell. A finding is told with its evidence
// too: {evidence.CODE}.
func argumentsOf(s Section, code string) []string {
	switch {
	case s == Labels && strings.HasPrefix(code, "unit."):
		return []string{"n"}
	case s == Labels:
		return labelArguments[code]
	}
	return sectionArguments[s]
}

var sectionArguments = map[Section][]string{
	Findings:  {"at", "measured", "limit", "margin", "uncertainty", "rule", "place", "standing"},
	Work:      {"at", "target", "due_from", "due_by", "settle", "map", "changes"},
	Headlines: {"at", "by", "facts", "unknown", "first", "ask", "quote", "back"},
	Glances:   {"at", "measured", "limit", "read", "label", "n", "size", "when", "settle", "target", "due_from", "due_by"},
	Checked:   {"at", "measured", "limit", "rule"},
	Evidence:  {"amount"},
	Notes:     {"age", "at", "by", "day", "from", "instead", "most", "number", "symbol", "to", "week", "year", "years"},
}

var rowArguments = []string{"at", "by", "facts", "unknown", "ask", "quote", "back"}

var labelArguments = map[string][]string{
	"date.day": {"day", "month", "year"}, "date.month": {"month", "year"},
	"age.years": {"n"}, "place.groove": {"n"}, "place.many": {"n"}, "place.station": {"n"},
	"place.on-axle": {"n", "side", "dual"}, "short.on-axle": {"n", "side", "dual"},
	"place.all.front-rear": {"end"}, "place.all.on-axle": {"n"}, "place.both.front-rear": {"end", "side", "dual"}, "place.both.on-axle": {"n", "side", "dual"},
	"place.front-rear": {"end", "side", "dual"}, "short.front-rear": {"end", "side", "dual"},
	string(finding.ClosedMeasured): {"measured"}, "headline.seen": {"day", "said"}, "report.left-of": {"new", "limit"}, "report.same-goes": {"others"},
	"row.do-not-move": rowArguments, "row.off-the-road": rowArguments, "row.cannot-tell": rowArguments, "row.cannot-tell.before-driving": rowArguments,
	"row.cannot-tell.lapsed": rowArguments, "row.none-found": rowArguments, "row.wheels": {"n"}, "row.unspecified": rowArguments,
	"glance.depths": {"unit"}, "glance.if": {"mark"}, "glance.more": {"n"}, "glance.nothing-wrong": {"at"}, "glance.nothing-wrong-others": {"n"}, "glance.same-goes-others": {"n", "amounts"}, "glance.pressures": {"unit"},
	"answer.found": {"noticed", "found"}, "answer.not-found": {"noticed"}, "answer.not-looked-at": {"noticed"},
}
