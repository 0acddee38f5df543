// Package tell fills in the words of an answer for the reader of a call: sentences
// for the technician in one language, for the customer in another or not at all,
// amounts in the reader's units, and so much of it as the reader's view holds. It is
// the last that happens to an answer, at the edge: what is judged, kept and passed
// around has no words.
//
// An answer comes whole, with codes, amounts and places, and is changed in place:
// whoever passes it on owns it. What the view leaves out is absent afterwards, never
// empty. A code without a text is told by itself: an answer of another version of the
// program can be read too.
package tell

import (
	"cmp"
	"log/slog"
	"slices"
	"sync"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"

	"gaugebook.dev/server/words"
)

// Shop is what a shop has set for those who read there. The zero value is none.
type Shop struct {
	Language string // BCP 47 tag
	Units    *pb.ReaderUnits
}

// Teller tells answers to one reader. It may be used by many at once.
type Teller struct {
	technician *words.Teller
	customer   *words.Teller // nil: no customer reads
	told       *pb.Told
	today      unit.Date // zero: nothing is told in the past
	short      bool
}

// Short tells findings, work and cautions in brief, whatever the view holds beside.
func (t *Teller) Short() *Teller {
	t.short = true
	return t
}

// On tells as of a day: the headline of a visit of an earlier day is told in the past.
// That nothing was found does not hold after its day; what holds a vehicle does.
func (t *Teller) On(today unit.Date) *Teller {
	t.today = today
	return t
}

// For gives the one who tells a reader, who may be absent. What the reader leaves
// open the shop says.
func For(reader *pb.Reader, shop Shop) *Teller {
	units := reader.GetUnits()
	if units == nil {
		units = shop.Units
	}
	by := words.Reader{Language: cmp.Or(reader.GetLanguage(), shop.Language), CustomerLanguage: reader.GetCustomerLanguage(), Units: Units(units)}
	technician, customer := by.Tellers()
	t := &Teller{technician: technician, told: &pb.Told{Language: technician.Tag(), Units: units, View: viewOf(reader), Texts: words.Version()}}
	if by.CustomerLanguage != "" {
		t.customer, t.told.CustomerLanguage = customer, customer.Tag()
	}
	for _, asked := range []string{by.Language, by.CustomerLanguage} {
		if !words.Spoken(asked) && !slices.Contains(t.told.GetLanguagesWithoutTexts(), asked) {
			t.told.LanguagesWithoutTexts = append(t.told.LanguagesWithoutTexts, asked)
		}
	}
	return t
}

// viewOf is how much is told: an unknown view is taken as WORK.
func viewOf(reader *pb.Reader) pb.View {
	switch v := reader.GetView(); v {
	case pb.View_VIEW_GLANCE, pb.View_VIEW_FULL:
		return v
	}
	return pb.View_VIEW_WORK
}

// Told says how answers are told.
func (t *Teller) Told() *pb.Told { return proto.CloneOf(t.told) }

// glance, and full: whether the view is the least, or the most there is.
func (t *Teller) glance() bool { return t.told.GetView() == pb.View_VIEW_GLANCE }
func (t *Teller) full() bool   { return t.told.GetView() == pb.View_VIEW_FULL }

// How the trade writes places depends on the vehicle's axles alone.
var (
	byEnds  = layout.Vehicle{Axles: make([]layout.Axle, 2)}
	byAxles = layout.Vehicle{}
)

// rendering is what one answer is told with: the room of each text serves the next.
type rendering struct {
	*Teller
	vehicle   *layout.Vehicle
	at        []layout.Position
	arguments []words.Argument
	room      []byte
	held      bool // the headline has told the customer not to drive
}

// on begins to tell of a vehicle, on which places are written by its ends (LF) or by
// its axles (1L). Whoever begins ends it.
func (t *Teller) on(frontRear bool) *rendering {
	g, _ := renderings.Get().(*rendering)
	g.Teller, g.vehicle = t, axles(frontRear)
	return g
}

// reading tells in these units what the reader left open.
func (t *Teller) reading(units words.Units) *Teller {
	if units == (words.Units{}) {
		return t
	}
	read := *t
	if read.technician = t.technician.Reading(units); t.customer != nil {
		read.customer = t.customer.Reading(units)
	}
	return &read
}

// renderings are those that ended: what one was told with serves the next.
var renderings = sync.Pool{New: func() any { return &rendering{} }}

// end ends the rendering; nothing of what was told stays with it.
func (g *rendering) end() {
	clear(g.arguments[:cap(g.arguments)])
	*g = rendering{at: g.at[:0], arguments: g.arguments[:0], room: g.room[:0]}
	renderings.Put(g)
}

func axles(frontRear bool) *layout.Vehicle {
	if frontRear {
		return &byEnds
	}
	return &byAxles
}

// say tells one audience what is said with the arguments that were gathered. What
// cannot be told as it was meant is seen in the text, and in the log.
func (g *rendering) say(to *words.Teller, s words.Said) string {
	s.Arguments = g.arguments
	told, err := to.Append(g.room[:0], s)
	if err != nil {
		slog.Warn("untold", "fault", err)
	}
	g.room = told
	return string(told)
}

// pair tells a text to the technician and, where one reads and it concerns the
// customer, to the customer, who hears nothing of what has no text.
func (g *rendering) pair(s words.Said, concerns bool) (technician, customer string) {
	technician = cmp.Or(g.say(g.technician, s), s.Code)
	if g.customer != nil && concerns {
		customer = g.say(g.customer, s)
	}
	return technician, customer
}

// text is one that is told without arguments; the code where there is none, so that
// nothing is passed over.
func (t *Teller) text(s words.Section, code string) string {
	return cmp.Or(t.technician.Text(s, code), code)
}

func (t *Teller) label(code string) string { return t.text(words.Labels, code) }

// argue gathers an argument for the texts to come.
func (g *rendering) argue(name string, v words.Value) {
	g.arguments = append(g.arguments, words.Argument{Name: name, Value: v})
}

// places begins to gather: where what is told is.
func (g *rendering) places(positions []string, mate bool) {
	g.arguments, g.at = g.arguments[:0], g.at[:0]
	if mate {
		g.at = append(g.at, layout.Beside)
	}
	g.at = appendPositions(g.at, positions)
	g.argue("at", words.At(g.vehicle, g.at...))
}

func appendPositions(at []layout.Position, positions []string) []layout.Position {
	for _, s := range positions {
		if p, err := layout.Parse(s); err == nil {
			at = append(at, p)
		}
	}
	return at
}

// At is where tires are on a vehicle on which places are written by its ends
// (frontRear) or by its axles. Positions are as the contract writes them.
func At(frontRear bool, positions ...string) words.Value {
	return words.At(axles(frontRear), appendPositions(nil, positions)...)
}
