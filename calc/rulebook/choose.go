package rulebook

import (
	"slices"

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
}

// Applied is a book that binds the vehicle, or one of several that may.
type Applied struct {
	*Book
	Candidate bool
}

// Choose gives the law books that apply to a vehicle and the questions that are
// open. With a question open, every book that an answer could lead to is given
// as a candidate. A country without a book here gives none. asked, when not
// empty, names books in place of the choice; it panics on an id that Get does
// not know.
func Choose(v layout.Vehicle, u Use, asked []string) (books []Applied, open []finding.Question) {
	if len(asked) > 0 {
		for _, id := range asked {
			books = append(books, Applied{Book: Must(id)})
		}
		return books, nil
	}
	c := chooser{v: v, u: u}
	switch u.Country {
	case "US":
		c.unitedStates()
	case "GB":
		c.unitedKingdom()
	case "AT":
		c.byRating(&euAT)
	case "FR":
		c.byRating(&euFR, layout.PassengerCar, layout.Bus)
	case "CA":
		c.canada()
	case "":
		// Any country's law may bind it: all that hold a limit for every day are
		// named, none is called certain.
		c.ask(finding.AskCountry)
		c.unitedStates()
		c.unitedKingdom()
		c.add(&euDE, &euAT, &euFR, &caQC, &nz)
	default:
		c.ofCountry()
	}
	for i := range c.books {
		c.books[i].Candidate = c.books[i].Candidate || u.Country == ""
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

func (c *chooser) either(q finding.Question, bs ...*Book) {
	c.ask(q)
	c.candidates(bs...)
}

// byRating is for a book that holds the limits of both weights: where the
// weight is not known and decides, both are candidates.
func (c *chooser) byRating(b *Book, atAnyRating ...layout.Class) {
	if !slices.Contains(atAnyRating, c.v.Class) && over(c.v, thirtyFiveHundredKilograms) == finding.NotKnown {
		c.either(finding.AskGrossRating, b)
		return
	}
	c.add(b)
}

// ofCountry is for a country of one book, or of none.
func (c *chooser) ofCountry() {
	for _, b := range books {
		switch {
		case b.Country != c.u.Country:
		case slices.ContainsFunc(b.Limits, func(l Limit) bool { return l.Applies.RatingOver > 0 }):
			c.byRating(b)
		default:
			c.add(b)
		}
	}
}

// canada: each province has a law of its own, of which two were read.
func (c *chooser) canada() {
	switch c.u.State {
	case "BC":
		c.add(&caBC)
	case "QC":
		c.add(&caQC)
	case "":
		c.either(finding.AskProvince, &caBC, &caQC)
	}
}

// unitedStates: the commercial rules bind by use, the models of Part 570 by
// gross rating; the door label alone does not tell which of them.
func (c *chooser) unitedStates() {
	var models []*Book
	switch over(c.v, tenThousandPounds) {
	case finding.Yes:
		models = []*Book{&usHeavyModel}
	case finding.No:
		models = []*Book{&usLight}
	default:
		models = []*Book{&usLight, &usHeavyModel}
	}
	weightOpen := len(models) > 1
	if c.u.Country == "US" && c.u.State == "CA" {
		// A State's own code stands in place of the models; it holds both weights.
		models = []*Book{&usCA}
	}
	switch c.u.State { // what was read of these holds no depth and stands beside the models
	case "IL":
		c.add(&usIL)
	case "MD":
		c.add(&usMD)
	}
	commercial := c.commercial()
	switch {
	case commercial == finding.Yes:
		c.add(&usCommercial)
		return
	case commercial == finding.No && !weightOpen:
		c.add(models...)
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
		c.candidates(&usCommercial)
	}
	c.candidates(models...)
}

// commercial: 49 CFR 390.5 makes a commercial motor vehicle of interstate
// commerce and a vehicle or combination of 10,001 lb or more, whichever is
// greater.
func (c *chooser) commercial() finding.Answer {
	if c.u.Interstate == finding.No {
		return finding.No
	}
	ratingOpen := over(c.v, tenThousandPounds) == finding.NotKnown
	heaviest := c.u.CombinedRating
	if !ratingOpen {
		heaviest = max(heaviest, c.v.GrossRating)
	}
	switch {
	case heaviest >= tenThousandOnePounds:
		if c.u.Interstate == finding.Yes {
			return finding.Yes
		}
		return finding.NotKnown
	case ratingOpen || c.combinationOpen():
		return finding.NotKnown
	}
	return finding.No
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

// unitedKingdom: a car is judged as one at any rating, by its seats.
func (c *chooser) unitedKingdom() {
	heavy := over(c.v, thirtyFiveHundredKilograms)
	switch {
	case heavy == finding.NotKnown:
		c.either(finding.AskGrossRating, &ukLight, &ukHeavy)
	case heavy == finding.Yes && c.v.Class != layout.PassengerCar:
		c.add(&ukHeavy)
	default:
		c.add(&ukLight)
	}
}

// Metric tells whether the law books, of which there is at least one, all speak
// in millimeters. Books of advice and practice do not count.
func Metric(books []Applied) bool {
	metric := false
	for _, b := range books {
		switch b.Country {
		case "US":
			return false
		case "":
		default:
			metric = true
		}
	}
	return metric
}

// Southern tells whether the law books, of which there is at least one, are all
// of countries whose winter is in the middle of the year.
func Southern(books []Applied) bool {
	return len(books) > 0 && !slices.ContainsFunc(books, func(b Applied) bool { return b.Country != "NZ" })
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
