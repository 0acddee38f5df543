package tell

import (
	"cmp"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"

	"gaugebook.dev/server/words"
)

// said tells a code with its own arguments.
func (g *rendering) said(section words.Section, s *pb.Said) {
	if s == nil {
		return
	}
	if len(s.GetValues()) == 0 {
		s.Words = g.text(section, s.GetCode())
		return
	}
	g.arguments = g.arguments[:0]
	for _, a := range s.GetValues() {
		g.argue(a.GetName(), g.value(a))
	}
	s.Words = cmp.Or(g.say(g.technician, words.Said{Section: section, Code: s.GetCode()}), s.GetCode())
}

// value is what an argument of the contract is told as.
func (g *rendering) value(a *pb.Argument) words.Value {
	switch v := a.GetValue().(type) {
	case *pb.Argument_Quantity:
		return amountValue(v.Quantity)
	case *pb.Argument_Text:
		return words.Plain(v.Text)
	case *pb.Argument_Code:
		return words.Text(words.Labels, v.Code)
	case *pb.Argument_Place:
		return words.OnTire(place(v.Place))
	case *pb.Argument_Position:
		if p, err := layout.Parse(v.Position); err == nil {
			return words.At(g.vehicle, p)
		}
	}
	return words.Value{}
}

// amountValue is a day as such, an age in its words, any other amount in the reader's
// units.
func amountValue(q *pb.Quantity) words.Value {
	if d := q.GetDate(); d != nil {
		return words.Day(dayOf(d))
	}
	a := Amount(q)
	switch a.Unit {
	case unit.Years:
		return words.Counted("age.years", a)
	case unit.Count:
		return words.Number(a)
	}
	return words.Shown(a)
}

// cite tells a citation or a title.
func (g *rendering) cite(s *pb.Said) {
	if s != nil {
		s.Words = g.technician.Value(citation(s))
	}
}

// citation is what a rule is cited from, and whose law it is where several places' are
// told together.
func citation(s *pb.Said) words.Value { return words.OfPlace(source(s), titleOf(s)) }

// titleOf is the title of the book of the place whose law is cited, "" for the only one.
func titleOf(s *pb.Said) string {
	if values := s.GetValues(); len(values) > 1 {
		return rulebook.TitleOf(values[1].GetText())
	}
	return ""
}

// source is what is cited, in the language it was written in.
func source(s *pb.Said) string {
	if values := s.GetValues(); len(values) > 0 {
		return values[0].GetText()
	}
	return s.GetCode()
}
