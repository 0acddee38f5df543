package rulebook

import (
	"slices"
	"strconv"
	"sync"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

// Use is what was answered when it was asked which law binds the vehicle. It is
// asked, never guessed from the door label.
type Use struct {
	On             unit.Date      // the day that is judged for; zero when not told
	Places         []Place        // whose law may bind it, the one that counts most first; none when not told
	Interstate     finding.Answer // used in business across state lines
	CombinedRating unit.Mass      // vehicle plus trailer, 0 when not told
	Tows           finding.Answer // pulls a trailer
	ForHire        finding.Answer // carries passengers or goods for hire
	Hazardous      finding.Answer // carries hazardous materials that need placards
}

// Place is one whose law binds.
type Place struct {
	Country string // ISO 3166-1 alpha-2
	State   string // of the country, the second part of its ISO 3166-2 code; "" when not told
}

// String is the place as ISO 3166 writes it: "US-NC".
func (p Place) String() string {
	if p.State == "" {
		return p.Country
	}
	return p.Country + "-" + p.State
}

// Applied is a book that binds the vehicle, or one of several that may.
type Applied struct {
	*Book
	Candidate bool
	ByWeight  bool // only the vehicle's weight is open: a limit that does not go by it binds
	Named     bool // laws of several places are judged together: each rule names its own
}

// RuleOf gives the rule of a limit as findings carry it.
func (a Applied) RuleOf(l Limit) finding.Rule {
	r := a.Book.RuleOf(l)
	if a.Named {
		r.Of = a.ID
	}
	return r
}

// For is the book as it stands to one of its limits.
func (a Applied) For(l Limit) Applied {
	if a.ByWeight && l.Applies.RatingOver == 0 && l.Applies.RatingUpTo == 0 {
		a.Candidate = false
	}
	a.Candidate = a.Candidate || l.MayBe
	return a
}

// Choose gives the law books that apply to a vehicle and the questions that are
// open. Of each place that was told those that its law leads to: what binds in one
// binds, whatever is open in another. With a question open, every book that an answer
// could lead to is given as a candidate. A country without a book here gives one without
// id and limits. asked, when not empty, names books in place of the choice; it panics on
// an id that Get does not know. Which book binds whom is told by the books: see Binds.
func Choose(v layout.Vehicle, u Use, asked []string) (books []Applied, open []finding.Question) {
	if len(asked) > 0 {
		for _, id := range asked {
			books = append(books, Applied{Book: Must(id)})
		}
		return books, nil
	}
	if len(u.Places) == 0 {
		return anywhere(v, u)
	}
	for _, p := range u.Places {
		c := chooser{v: v, u: u, at: p, books: make([]Applied, 0, usual)}
		c.country(p.Country)
		c.floor(p.Country)
		if len(c.books) == 0 {
			c.add(&Book{Country: p.Country}) // it says nothing, but tells how the place measures
		}
		books, open = together(books, c.books), once(open, c.open...)
	}
	for i := range books {
		books[i].Named = len(u.Places) > 1
	}
	return books, open
}

const usual = 8 // books of a place, with room

// anywhere: where no place was told any country's law may bind. All that hold a limit for
// every day are named, none is called certain.
func anywhere(v layout.Vehicle, u Use) ([]Applied, []finding.Question) {
	c := chooser{v: v, u: u, open: []finding.Question{finding.AskCountry}}
	for _, code := range codes() {
		c.country(code)
	}
	for i := range c.books {
		c.books[i].Candidate, c.books[i].ByWeight = true, false
	}
	return c.books, c.open
}

// once adds questions, each once.
func once(open []finding.Question, more ...finding.Question) []finding.Question {
	for _, q := range more {
		if !slices.Contains(open, q) {
			open = append(open, q)
		}
	}
	return open
}

// together adds the books of one more place. What is open of a book in one place, and is
// not in another, is not open.
func together(books, more []Applied) []Applied {
	if books == nil {
		return more
	}
	for _, m := range more {
		i := slices.IndexFunc(books, func(b Applied) bool { return b.ID == m.ID && b.Country == m.Country })
		if i < 0 {
			books = append(books, m)
			continue
		}
		books[i].Candidate, books[i].ByWeight = books[i].Candidate && m.Candidate, books[i].ByWeight || m.ByWeight
	}
	return books
}

type chooser struct {
	v     layout.Vehicle
	u     Use
	at    Place // none where none was told
	books []Applied
	open  []finding.Question
}

func (c *chooser) add(bs ...*Book) {
	for _, b := range bs {
		c.books = append(c.books, Applied{Book: b})
	}
}

func (c *chooser) ask(q finding.Question) {
	c.open = once(c.open, q)
}

func (c *chooser) candidates(bs ...*Book) {
	for _, b := range bs {
		c.books = append(c.books, Applied{Book: b, Candidate: true})
	}
}

// country chooses among the books of one country. A State's own code stands in place
// of the models for States, or beside them.
func (c *chooser) country(code string) {
	var business *Book
	var rules, states []*Book
	for _, b := range c.laws(code) {
		switch {
		case !c.among(b):
		case b.Binds.CommercialFrom > 0:
			business = b
		case b.Binds.State == "":
			rules = append(rules, b)
		default:
			states = append(states, b)
		}
	}
	if c.at.State == "" && len(rules) == 0 && len(states) > 0 {
		if q := countryOf(code).AskState; q != "" && c.at.Country != "" {
			c.ask(q)
		}
		c.candidates(states...)
		return
	}
	for _, b := range states {
		switch {
		case !b.Binds.state(c.at.State):
		case b.Binds.InPlace:
			rules = append(slices.DeleteFunc(rules, func(m *Book) bool { return m.Binds.Model }), b)
		default:
			c.add(b)
		}
	}
	c.byUse(business, rules)
}

// floor adds what the members of a union have agreed on, where no least depth of this
// one's own was read.
func (c *chooser) floor(code string) {
	if !slices.Contains(members, code) || slices.ContainsFunc(c.laws(code), c.everyDay) || !slices.ContainsFunc(c.laws(union), c.everyDay) {
		return
	}
	for _, b := range c.laws(union) {
		c.books = append(c.books, Applied{Book: b, Candidate: len(c.open) > 0, ByWeight: true})
	}
}

// everyDay tells of a book that holds a limit for every day that speaks of a wheel of the
// vehicle.
func (c *chooser) everyDay(b *Book) bool {
	return slices.ContainsFunc(b.Limits, func(l Limit) bool {
		return l.Subject == TreadDepth && l.Winter == nil &&
			(l.AppliesTo(c.v, layout.Position{Axle: 1, Side: layout.Left}) || l.AppliesTo(c.v, layout.Position{Axle: 2, Side: layout.Left}))
	})
}

// everyDay tells of a book that holds a limit for every day.
func everyDay(b *Book) bool {
	return slices.ContainsFunc(b.Limits, func(l Limit) bool { return l.Subject == TreadDepth && l.Winter == nil })
}

// laws are the law books of the countries, in their order, each country's together.
var laws = sync.OnceValue(func() map[string][]*Book {
	all := map[string][]*Book{}
	for _, b := range books {
		if b.Country != "" && b.Repairs == nil {
			all[b.Country] = append(all[b.Country], b)
		}
	}
	return all
})

// laws are the books of a country as they are in force on the day that is judged for.
func (c *chooser) laws(code string) []*Book {
	newest := laws()[code]
	if !slices.ContainsFunc(newest, func(b *Book) bool { return b.on(c.u.On) != b }) {
		return newest
	}
	all := slices.Clone(newest)
	for i, b := range all {
		all[i] = b.on(c.u.On)
	}
	return all
}

// on is the version of a book that is in force on a day: the newest that is not of a later
// day. Of a day that is not told it is the newest, and of one before all the oldest.
func (b *Book) on(day unit.Date) *Book {
	for !day.IsZero() && !b.InForce.IsZero() && day.DaysUntil(b.InForce) > 0 {
		before, ok := Get(b.ID + "@" + strconv.Itoa(b.Version-1))
		if !ok {
			break
		}
		b = before
	}
	return b
}

// among tells that a book is chosen among. Where no country was told, only those are
// that hold a limit for every day.
func (c *chooser) among(b *Book) bool {
	return c.at.Country != "" || everyDay(b)
}

// byUse gives the book that binds by use, else the rules that the vehicle's weight
// leads to. The door label alone does not tell which of them.
func (c *chooser) byUse(business *Book, rules []*Book) {
	weightOpen := false
	rules = slices.DeleteFunc(rules, func(b *Book) bool {
		takes, open := c.weighs(b)
		weightOpen = weightOpen || open
		return !takes
	})
	commercial := c.commercial(business)
	switch {
	case commercial == finding.Yes:
		c.add(business)
		return
	case commercial == finding.No && !weightOpen:
		c.add(rules...)
		return
	}
	if weightOpen {
		c.ask(finding.AskGrossRating)
	}
	if commercial == finding.NotKnown {
		if c.u.Interstate != finding.Yes {
			c.ask(finding.AskBusinessAcrossStateLines)
		} else if c.combinationOpen() {
			c.ask(finding.AskCombinedRating)
		}
		c.candidates(business)
	}
	for _, b := range rules {
		one := commercial == finding.No && b.Binds.RatingUpTo == 0 && b.Binds.RatingOver == 0
		c.books = append(c.books, Applied{Book: b, Candidate: true, ByWeight: one})
	}
}

// weighs tells whether a book may take a vehicle of this weight, and whether the
// weight is not known where it decides: between two books, or between two limits of
// one.
func (c *chooser) weighs(b *Book) (takes, open bool) {
	s := b.Binds
	heavy := func(weight unit.Mass) finding.Answer {
		if seats := counted(c.v, weight, s.BySeats); s.BySeats > 0 && (c.v.Class == layout.Bus || c.v.Seats > s.BySeats) {
			return seats
		}
		if !contradicts(c.v, weight) && slices.Contains(s.AnyRating, c.v.Class) {
			return finding.No
		}
		return over(c.v, weight)
	}
	switch {
	case s.RatingUpTo > 0:
		h := heavy(s.RatingUpTo)
		return h != finding.Yes, h == finding.NotKnown
	case s.RatingOver > 0:
		h := heavy(s.RatingOver)
		return h != finding.No, h == finding.NotKnown
	}
	i := slices.IndexFunc(b.Limits, func(l Limit) bool { return l.Applies.RatingOver > 0 })
	return true, i >= 0 && heavy(b.Limits[i].Applies.RatingOver) == finding.NotKnown
}

// commercial: 49 CFR 390.5 makes a commercial motor vehicle of interstate
// commerce and a vehicle or combination of 10,001 lb or more, whichever is
// greater.
func (c *chooser) commercial(business *Book) finding.Answer {
	if business == nil || c.u.Interstate == finding.No {
		return finding.No
	}
	ratingOpen := over(c.v, tenThousandPounds) == finding.NotKnown
	heaviest := c.u.CombinedRating
	if !ratingOpen {
		heaviest = max(heaviest, c.v.GrossRating)
	}
	switch {
	case heaviest >= business.Binds.CommercialFrom, c.commercialAtAnyWeight(business.Binds):
		if c.u.Interstate == finding.Yes {
			return finding.Yes
		}
		return finding.NotKnown
	case ratingOpen || c.combinationOpen():
		return finding.NotKnown
	}
	return finding.No
}

// commercialAtAnyWeight: what a vehicle carries makes it a commercial motor vehicle,
// whatever it weighs: hazardous materials under placards, or so many seats. What was
// not told makes none.
func (c *chooser) commercialAtAnyWeight(b Binds) bool {
	return c.u.Hazardous == finding.Yes || c.v.Seats > b.CommercialSeatsOver ||
		c.u.ForHire == finding.Yes && c.v.Seats > b.CommercialForHireOver
}

// combinationOpen: the rating of vehicle and trailer was not told and may be
// heavy. A trailer is always part of a combination; a car pulls one only when
// that was told; of anything else it has to be asked.
func (c *chooser) combinationOpen() bool {
	switch {
	case c.u.CombinedRating > 0:
		return false
	case c.v.Class == layout.Trailer:
		return true
	case c.v.Class == layout.PassengerCar:
		return c.u.Tows == finding.Yes
	}
	return c.u.Tows != finding.No
}

// OfRepairs lists the books of repair rules, in their order.
func OfRepairs() (ids []string) {
	for _, b := range books {
		if b.Repairs != nil {
			ids = append(ids, b.ID)
		}
	}
	return ids
}

// Contradicts tells that class and rating cannot both be right: no car is rated
// over 10,000 lb, no heavy truck or bus at 3,500 kg or less.
func Contradicts(v layout.Vehicle) bool {
	switch v.Class {
	case layout.PassengerCar:
		return v.GrossRating > tenThousandPounds
	case layout.Heavy, layout.Bus:
		return v.GrossRating > 0 && v.GrossRating <= thirtyFiveHundredKilograms
	}
	return false
}
