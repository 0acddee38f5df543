// Package questions asks what a technician asks of a vehicle: one pure function a
// question. What a question needs of another is a named part of that one's answer, so
// that nothing is asked before what it rests on. No question adds work.
package questions

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// Answer is what one question says.
type Answer struct {
	Findings  []finding.Finding
	Beside    []Beside // the findings of other questions
	Asked     []Asked
	Checked   []Checked
	NotJudged []visit.NotJudged
}

// Asked is a question whose answer, or a reading, would allow more.
type Asked struct {
	Code      finding.Question
	Positions []layout.Position
}

// Checked is something looked at in which nothing was found.
type Checked struct {
	Code      finding.Checked
	Positions []layout.Position
	Measured  unit.Amount // the lowest, zero when nothing was measured
	Limit     unit.Amount
	Rule      finding.Rule
	Candidate bool // the rule is one of several that may apply
}

// Beside is evidence that one question has for the finding of another.
type Beside struct {
	Finding  string // its id
	Evidence finding.Evidence
}

func (a *Answer) find(fs ...finding.Finding) { a.Findings = append(a.Findings, fs...) }

func (a *Answer) notJudged(code finding.Recorded, at ...layout.Position) {
	a.NotJudged = append(a.NotJudged, visit.NotJudged{Code: code, Positions: at})
}

func (a *Answer) ask(code finding.Question, at ...layout.Position) {
	for i := range a.Asked {
		if q := &a.Asked[i]; q.Code == code {
			q.Positions = append(q.Positions, at...)
			return
		}
	}
	a.Asked = append(a.Asked, Asked{code, at})
}

// addMet gathers the limits that are met, by rule, with the lowest measured value.
func (a *Answer) addMet(c Checked) {
	for i := range a.Checked {
		if o := &a.Checked[i]; o.Code == c.Code && o.Rule == c.Rule && o.Limit == c.Limit {
			o.Positions = append(o.Positions, c.Positions...)
			if c.Measured.Number < o.Measured.Number {
				o.Measured = c.Measured
			}
			return
		}
	}
	a.Checked = append(a.Checked, c)
}

// good keeps what was found good at a wheel, without a number.
func (a *Answer) good(code finding.Checked, at ...layout.Position) {
	a.addMet(Checked{Code: code, Positions: at})
}

// Together puts answers together in the order given. What rests on a law that only may
// apply is never more urgent than this visit, in whatever family.
func Together(answers ...Answer) Answer {
	found, asked, checked := 0, 0, 0
	for _, a := range answers {
		found, asked, checked = found+len(a.Findings), asked+len(a.Asked), checked+len(a.Checked)
	}
	all := Answer{Findings: make([]finding.Finding, 0, found), Asked: make([]Asked, 0, asked), Checked: make([]Checked, 0, checked)}
	var beside []Beside
	for _, a := range answers {
		beside = append(beside, a.Beside...)
		all.Findings = append(all.Findings, a.Findings...)
		all.NotJudged = append(all.NotJudged, a.NotJudged...)
		for _, q := range a.Asked {
			all.ask(q.Code, slices.Clone(q.Positions)...)
		}
		for _, c := range a.Checked {
			c.Positions = slices.Clone(c.Positions)
			all.addMet(c)
		}
	}
	for i := range all.Findings {
		if f := &all.Findings[i]; f.Candidate {
			f.Urgency = max(f.Urgency, finding.ThisVisit)
		}
	}
	all.Findings, all.Checked = finding.OneOfSeveral(all.Findings), strictestKept(all.Checked)
	if len(beside) > 0 {
		all.tell(beside)
	}
	return all
}

// tell puts evidence beside the findings that it is for, each once.
func (a *Answer) tell(beside []Beside) {
	for i := range a.Findings {
		f := &a.Findings[i]
		id := f.ID()
		for _, b := range beside {
			if b.Finding == id && !slices.ContainsFunc(f.Evidence, func(e finding.Evidence) bool { return e.Code == b.Evidence.Code }) {
				f.Evidence = slices.Concat(f.Evidence, []finding.Evidence{b.Evidence})
			}
		}
	}
}

// Cause is a finding as far as a complaint may stand on it.
type Cause struct {
	Finding string // its id
	Code    finding.Code
	At      []layout.Position
	Rank    int
}

// Causes are the findings that a complaint may stand on.
func (a *Answer) Causes() []Cause {
	var all []Cause
	for _, f := range a.Findings {
		all = append(all, Cause{f.ID(), f.Code, f.Positions, f.Rank})
	}
	return all
}

// practice is the rule of what the trade does by habit.
var practice = finding.Rule{Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory}

// Laws are the rulebooks that bind a vehicle, or may.
type Laws struct {
	Vehicle layout.Vehicle
	Books   []rulebook.Applied
}

// cite cites in a finding the first applying rule that forbids it: a law in use before a
// model standard. The condition itself is seen, so nothing is compared. What holds the
// vehicle by itself does so by its own rule: a law that only may apply holds nothing.
func (s Laws) cite(f *finding.Finding, at layout.Position) {
	subject := finding.KindOf(f.Code).Law
	if subject == "" {
		return
	}
	best := -1
	var certain []finding.Rule
	for _, b := range s.Books {
		for _, l := range b.About(subject) {
			b := b.For(l)
			if !l.AppliesTo(s.Vehicle, at) || !l.Value.IsZero() || b.Candidate && f.Urgency == finding.BeforeDriving {
				continue
			}
			if !b.Candidate {
				certain = append(certain, b.RuleOf(l))
			}
			rank := rankOf(l.Authority, b.Candidate)
			if rank > best {
				best = rank
				f.Rule, f.Candidate, f.Outcome = b.RuleOf(l), b.Candidate, measure.NotCompared
			}
		}
	}
	for _, r := range certain {
		*f = f.Also(r)
	}
}

func rankOf(a finding.Authority, candidate bool) int {
	switch {
	case a == finding.LawInUse && !candidate:
		return 3
	case a == finding.LawInUse:
		return 2
	}
	return 1
}
