package rulebook

import (
	"slices"
	"strings"
	"sync"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

// Binds is which vehicles of its country a law book binds. It leads to a book and is
// no part of what a version of it says.
type Binds struct {
	State          string         // of the country, as the second part of ISO 3166-2; "" for all of it
	Model          bool           // written for States, binds nobody by itself
	InPlace        bool           // of a State's code: it stands in place of the models, else beside them
	RatingOver     unit.Mass      // gross rating above this
	RatingUpTo     unit.Mass      // gross rating at most this
	AnyRating      []layout.Class // classes that count as light at any rating
	BySeats        int            // of more seats than this, or a bus: as if over the rating; a bus of so many: as if under it
	Also           []string       // further States, by the same code
	CommercialFrom unit.Mass      // vehicles or combinations of at least this rating, in business across state lines

	CommercialSeatsOver   int // and those of more seats, the driver's included, at any weight
	CommercialForHireOver int // the same, for hire
}

// Country is what the laws of a country have in common. One without a row measures in
// millimeters and kilometers and has its winter at the turn of the year.
type Country struct {
	Code     string           // ISO 3166-1 alpha-2
	Inches   bool             // its laws give tread in inches
	Miles    bool             // speed is shown in miles per hour
	Southern bool             // its winter is in the middle of the year
	AskState finding.Question // where only its states have books, "" where the country has one
}

var countries = []Country{
	{Code: "US", Inches: true, Miles: true},
	{Code: "PR", Inches: true},
	{Code: "GB", Miles: true},
	{Code: "CA", AskState: finding.AskProvince},
	{Code: "AU", Southern: true, AskState: finding.AskProvince},
	{Code: "NZ", Southern: true}, {Code: "ZA", Southern: true},
	{Code: "AR", Southern: true}, {Code: "CL", Southern: true}, {Code: "UY", Southern: true}, {Code: "PY", Southern: true},
	{Code: "BO", Southern: true}, {Code: "PE", Southern: true}, {Code: "BR", Southern: true},
}

// union is the European Union, by the code that ISO 3166-1 keeps for it.
const union = "EU"

// members are the States that a directive of the union binds.
var members = []string{
	"AT", "BE", "BG", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GR", "HR", "HU",
	"IE", "IT", "LT", "LU", "LV", "MT", "NL", "PL", "PT", "RO", "SE", "SI", "SK",
}

// state tells whether the books that name States name this one.
func (b Binds) state(code string) bool {
	return b.State == code || slices.Contains(b.Also, code)
}

// Repairs is how a book of repair rules tells tires and places apart.
type Repairs struct {
	Trucks  bool // it has rules for truck tires
	Area    bool // the place is judged by the area of tread, a share of the section width; else by grooves and the distance from the edge
	BySpeed bool // it limits the number of repairs, by the speed symbol
}

func countryOf(code string) Country {
	if i := slices.IndexFunc(countries, func(c Country) bool { return c.Code == code }); i >= 0 {
		return countries[i]
	}
	return Country{Code: code}
}

// codes are the countries of the law books, in their order.
var codes = sync.OnceValue(func() (all []string) {
	for _, b := range books {
		if b.Country != "" && b.Country != union && !slices.Contains(all, b.Country) {
			all = append(all, b.Country)
		}
	}
	return all
})

// Places are the codes of the places whose law a book is: of its country, or of its States
// as ISO 3166-2 writes them, "US-NC". None for advice and practice.
func (b *Book) Places() []string {
	switch {
	case b.Country == "" || b.Repairs != nil:
		return nil
	case b.Binds.State == "":
		return []string{b.Country}
	}
	all := []string{b.Country + "-" + b.Binds.State}
	for _, s := range b.Binds.Also {
		all = append(all, b.Country+"-"+s)
	}
	return all
}

// In lists the law books that may bind in a place: of a country all of its own; of a State
// its own and those of the whole country; and what stands in for a least depth.
func In(place string) (all []*Book) {
	country, state, _ := strings.Cut(place, "-")
	for _, b := range laws()[country] {
		if state == "" || b.Binds.State == "" || b.Binds.state(state) {
			all = append(all, b)
		}
	}
	c := chooser{}
	c.floor(country)
	for _, b := range c.books {
		all = append(all, b.Book)
	}
	return all
}

// Metric tells whether the law books, of which there is at least one, speak in
// millimeters: those of the place that counts most, which stand first. Books of advice
// and practice do not count.
func Metric(books []Applied) bool {
	c, ok := first(books)
	return ok && !c.Inches
}

// ByKilometers tells whether speed is shown in kilometers per hour in the place that
// counts most; not where none is known.
func ByKilometers(books []Applied) bool {
	c, ok := first(books)
	return ok && !c.Miles
}

// first is the country of the first law book.
func first(books []Applied) (Country, bool) {
	i := slices.IndexFunc(books, func(b Applied) bool { return b.Country != "" })
	if i < 0 {
		return Country{}, false
	}
	return countryOf(books[i].Country), true
}

// WinterNear tells whether winter is near or there by the calendar: September to February,
// in the south of the globe March to August.
func (b *Book) WinterNear(d unit.Date) bool {
	north := d.Month >= 9 || d.Month <= 2
	return !d.IsZero() && north != countryOf(b.Country).Southern
}
