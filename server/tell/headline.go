package tell

import (
	"slices"
	"strings"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/unit"

	"gaugebook.dev/server/words"
)

// headline tells what comes before all else; in the past, where its day is over: which
// wheels, whether they hold the vehicle, what was measured, what is not known, and what
// comes first.
func (g *rendering) headline(h *pb.Headline, past bool) {
	if h == nil {
		return
	}
	code := g.state(h, past)
	g.rests(h, few, words.Sentence)
	h.ForTechnician, h.ForCustomer = g.pair(words.Said{Section: words.Headlines, Code: code}, true)
	if past {
		h.ForTechnician = g.seen(g.technician, h.GetAsOf(), h.GetForTechnician())
		if g.customer != nil {
			h.ForCustomer = g.seen(g.customer, h.GetAsOf(), h.GetForCustomer())
		}
	}
}

// line tells a row of a list.
func (g *rendering) line(h *pb.Headline, past bool) {
	if h == nil {
		return
	}
	code := g.state(h, past)
	most := several
	if len(h.GetPositions()) > manyWheels {
		most = few
	}
	g.rests(h, most, func(facts string) string { return facts })
	if h.Line = g.say(g.technician, words.Said{Section: words.Labels, Code: "row." + code}); past {
		h.Line = g.seen(g.technician, h.GetAsOf(), h.GetLine())
	}
	g.behindHeadline(h)
}

// behindHeadline leaves out what the sentences tell, but where everything is told.
func (g *rendering) behindHeadline(h *pb.Headline) {
	if h != nil && !g.full() {
		h.Facts, h.Unknown, h.First, h.Ask, h.Quote, h.Back = nil, nil, nil, nil, nil, nil
	}
}

// state is by which text a headline is told: of a day that is over, that nothing was found
// does not hold.
func (g *rendering) state(h *pb.Headline, past bool) string {
	code := words.Kebab(strings.TrimPrefix(h.GetHold().String(), "HOLD_"))
	switch {
	case past && h.GetHold() == pb.Hold_HOLD_NONE_FOUND:
		h.Hold, h.Positions, code = pb.Hold_HOLD_CANNOT_TELL, nil, "cannot-tell.lapsed"
	case past && h.GetHold() == pb.Hold_HOLD_CANNOT_TELL && len(h.GetPositions())+len(h.GetUnknown()) == 0:
		code = "cannot-tell.lapsed"
	case h.GetHold() == pb.Hold_HOLD_CANNOT_TELL && h.GetUrgency() == pb.Urgency_URGENCY_BEFORE_DRIVING:
		code += ".before-driving"
	}
	return code
}

// How much of each kind a sentence names.
const (
	few     = 2
	several = 3

	manyWheels = 8 // whose names fill half a row
)

// rests gathers what a headline is told with.
func (g *rendering) rests(h *pb.Headline, most int, begin func(string) string) {
	around := h.GetPositions()
	if around == nil || h.GetHold() == pb.Hold_HOLD_NONE_FOUND {
		around = []string{}
	}
	facts := g.glances(h.GetFacts(), around, most)
	if h.GetHold() != pb.Hold_HOLD_NONE_FOUND {
		facts = begin(facts)
	}
	unknown, quote, back := g.glances(h.GetUnknown(), nil, few), g.glances(h.GetQuote(), nil, few), g.glances(h.GetBack(), nil, few)
	var first, ask string
	if next := h.GetFirst(); next != nil {
		if told := g.fact(next); !g.short || next.GetCode() != string(finding.WorkConsentLook) { // in short it stands by itself
			first = told
		}
	}
	if h.GetAsk() != nil {
		ask = g.fact(h.GetAsk())
	}
	g.places(h.GetPositions(), false)
	if h.GetHold() == pb.Hold_HOLD_NONE_FOUND && len(h.GetPositions()) == 0 {
		g.arguments = g.arguments[:0] // no wheel is named
	}
	for name, told := range map[string]string{"facts": facts, "unknown": unknown, "first": first, "ask": ask, "quote": quote, "back": back} {
		g.argue(name, words.Plain(told))
	}
	switch h.GetUrgency() {
	case pb.Urgency_URGENCY_THIS_VISIT:
		g.argue("by", words.Text(words.Labels, "headline.this-visit"))
	case pb.Urgency_URGENCY_PLAN:
		g.argue("by", words.Text(words.Labels, "headline.plan"))
	}
}

// glances tells so many of what is said, each once: where it is, unless that is where all
// of it is, and at which wheel it was measured where the others measured otherwise. What falls
// due several times is told once. What has no text, or none without a value that is missing,
// is left out.
func (g *rendering) glances(all []*pb.Said, around []string, most int) string {
	var told []string
	last, under := "", strings.Join(around, " ")
	for _, s := range all {
		text := g.fact(s)
		if again := g.due(s); text != "" && again != "" && s.GetCode() == last {
			told[len(told)-1] += ", " + again
			continue
		}
		if text == "" || slices.Contains(told, text) || len(told) == most {
			continue
		}
		last = s.GetCode()
		if at := positionsOf(s, finding.ValueWorst); len(at) > 0 {
			text += " (" + g.shown(at) + ")"
		}
		if at := positionsOf(s, finding.ValueAt); around != nil && len(at) > 0 && strings.Join(at, " ") != under {
			under = strings.Join(at, " ")
			text = g.where(at) + " " + text
		}
		told = append(told, text)
	}
	return strings.Join(told, ", ")
}

// fact tells one thing said, and fills in its words; "" where it cannot be told.
func (g *rendering) fact(s *pb.Said) string {
	g.arguments = g.arguments[:0]
	var from, by unit.Amount
	when := false
	for _, a := range s.GetValues() {
		switch a.GetName() {
		case finding.ValueAt, finding.ValueWorst:
		case finding.ValueDueFrom:
			from = Amount(a.GetQuantity())
		case finding.ValueDueBy:
			by = Amount(a.GetQuantity())
		case finding.ValueWhen:
			when = true
		case finding.ValueSettle:
			g.argue(a.GetName(), words.Text(words.Glances, a.GetCode()))
		default:
			g.argue(a.GetName(), g.value(a))
		}
	}
	g.argue(finding.ValueDueFrom, words.SpanStart(from))
	g.argue(finding.ValueDueBy, words.SpanEnd(from, by))
	told, err := g.technician.Tell(words.Said{Section: words.Glances, Code: s.GetCode(), Arguments: g.arguments})
	if err != nil {
		s.Words = s.GetCode()
		return ""
	}
	if when {
		told += " " + g.label("row.if")
	}
	s.Words = told
	return told
}

// due is by when something falls due; "" where nothing does.
func (g *rendering) due(s *pb.Said) string {
	for _, a := range s.GetValues() {
		if a.GetName() == finding.ValueDueBy {
			return g.technician.Value(words.SpanEnd(unit.Amount{}, Amount(a.GetQuantity())))
		}
	}
	return ""
}

func positionsOf(s *pb.Said, name string) (at []string) {
	for _, a := range s.GetValues() {
		if a.GetName() == name {
			at = append(at, a.GetPosition())
		}
	}
	return at
}

// where are places as the trade writes them; of many, how many.
func (g *rendering) where(positions []string) string {
	if len(positions) <= listed {
		return g.shown(positions)
	}
	return g.technician.Value(words.Counted("row.wheels", unit.Amount{Number: float64(len(positions)), Unit: unit.Count}))
}

// listed is how many wheels are named one by one.
const listed = 6

// shown are places as the trade writes them.
func (g *rendering) shown(positions []string) string {
	g.places(positions, false)
	return g.technician.Value(words.At(g.vehicle, g.at...))
}

// answers tells, with the headline, what the customer came for.
func (g *rendering) answers(a *pb.Assessment) {
	h := a.GetHeadline()
	if h == nil {
		return
	}
	h.ForTechnician = strings.Join(append([]string{h.GetForTechnician()}, Answers(g.technician, a)...), " ")
	if g.customer != nil {
		h.ForCustomer = strings.Join(append([]string{h.GetForCustomer()}, Answers(g.customer, a)...), " ")
	}
}

// seen tells what was so on a day.
func (g *rendering) seen(to *words.Teller, on *pb.CalendarDate, said string) string {
	g.arguments = append(g.arguments[:0], words.Day(dayOf(on)).As("day"), words.Plain(said).As("said"))
	return g.say(to, words.Said{Section: words.Labels, Code: "headline.seen"})
}
