package rulebook

import (
	"slices"
	"sync"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

// Use is what was answered when it was asked which law binds the vehicle. It is
// asked, never guessed from the door label.
type Use struct {
	Country        string         // ISO 3166-1 alpha-2, "" when not told
	State          string         // of the country, "" when not told
	Interstate     finding.Answer // used in business across state lines
	CombinedRating unit.Mass      // vehicle plus trailer, 0 when not told
	Tows           finding.Answer // pulls a trailer
	ForHire        finding.Answer // carries passengers or goods for hire
	Hazardous      finding.Answer // carries hazardous materials that need placards
}

// Applied is a book that binds the vehicle, or one of several that may.
type Applied struct {
	*Book
	Candidate bool
	ByWeight  bool // only the vehicle's weight is open: a limit that does not go by it binds
}

// For is the book as it stands to one of its limits.
func (a Applied) For(l Limit) Applied {
	if a.ByWeight && l.Applies.RatingOver == 0 && l.Applies.RatingUpTo == 0 {
		a.Candidate = false
	}
	return a
}

// Choose gives the law books that apply to a vehicle and the questions that are
// open. With a question open, every book that an answer could lead to is given
// as a candidate. A country without a book here gives one without id and limits. asked, when not
// empty, names books in place of the choice; it panics on an id that Get does
// not know. Which book binds whom is told by the books: see Binds.
func Choose(v layout.Vehicle, u Use, asked []string) (books []Applied, open []finding.Question) {
	if len(asked) > 0 {
		for _, id := range asked {
			books = append(books, Applied{Book: Must(id)})
		}
		return books, nil
	}
	const usual = 8
	c := chooser{v: v, u: u, books: make([]Applied, 0, usual)}
	if u.Country != "" {
		c.country(u.Country)
		c.floor(u.Country)
		if len(c.books) == 0 {
			c.add(&Book{Country: u.Country}) // it says nothing, but tells how the place measures
		}
		return c.books, c.open
	}
	// Any country's law may bind it: all that hold a limit for every day are
	// named, none is called certain.
	c.ask(finding.AskCountry)
	for _, code := range codes() {
		c.country(code)
	}
	for i := range c.books {
		c.books[i].Candidate, c.books[i].ByWeight = true, false
	}
	return c.books, c.open
}

type chooser struct {
	v     layout.Vehicle
	u     Use
	books []Applied
	open  []finding.Question
}

func (c *chooser) add(bs ...*Book) {
	for _, b := range bs {
		c.books = append(c.books, Applied{Book: b})
	}
}

func (c *chooser) ask(q finding.Question) {
	if !slices.Contains(c.open, q) {
		c.open = append(c.open, q)
	}
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
	for _, b := range laws()[code] {
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
	if c.u.State == "" && len(rules) == 0 && len(states) > 0 {
		if q := countryOf(code).AskState; q != "" && c.u.Country != "" {
			c.ask(q)
		}
		c.candidates(states...)
		return
	}
	for _, b := range states {
		switch {
		case !b.Binds.state(c.u.State):
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
	if !slices.Contains(members, code) || slices.ContainsFunc(laws()[code], everyDay) {
		return
	}
	for _, b := range laws()[union] {
		c.books = append(c.books, Applied{Book: b, Candidate: len(c.open) > 0, ByWeight: true})
	}
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

// among tells that a book is chosen among. Where no country was told, only those are
// that hold a limit for every day.
func (c *chooser) among(b *Book) bool {
	return c.u.Country != "" || everyDay(b)
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

// Metric tells whether the law books, of which there is at least one, all speak
// in millimeters. Books of advice and practice do not count.
func Metric(books []Applied) bool {
	metric := false
	for _, b := range books {
		if b.Country != "" && countryOf(b.Country).Inches {
			return false
		}
		metric = metric || b.Country != ""
	}
	return metric
}

// ByKilometers tells whether all the books, of which there is at least one, are of
// countries where speed is shown in kilometers per hour.
func ByKilometers(books []Applied) bool {
	return len(books) > 0 && !slices.ContainsFunc(books, func(b Applied) bool { return countryOf(b.Country).Miles })
}

// Southern tells whether the law books, of which there is at least one, are all
// of countries whose winter is in the middle of the year.
func Southern(books []Applied) bool {
	return len(books) > 0 && !slices.ContainsFunc(books, func(b Applied) bool { return !countryOf(b.Country).Southern })
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
