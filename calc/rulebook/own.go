package rulebook

import (
	"fmt"
	"slices"
	"strings"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/unit"
)

// Own is the id of a book of a shop's own limits.
const Own = "shop"

// OwnBook is a shop's book of this version, without limits yet.
func OwnBook(version int) *Book {
	return &Book{ID: Own, Version: version, Title: "The shop's own rules"}
}

// Stricter makes a shop's own limit from the one it is stricter than, by that
// limit's name, "eu-at.depth": it speaks of the same wheels and places, and is
// judged beside it. The error says what of it is wrong.
func Stricter(id, than string, depth unit.Amount, says string) (Limit, error) {
	book, limit, _ := strings.Cut(than, ".")
	b, ok := current(book)
	if !ok {
		return Limit{}, fmt.Errorf("there is no rulebook %q", book)
	}
	i := slices.IndexFunc(b.Limits, func(l Limit) bool { return l.ID == limit })
	if i < 0 {
		return Limit{}, fmt.Errorf("rulebook %s has no limit %q", book, limit)
	}
	l := b.Limits[i]
	if b.Country == "" || l.Value.IsZero() || !slices.Contains([]Subject{TreadDepth, WinterTire, WinterAdvised}, l.Subject) {
		return Limit{}, fmt.Errorf("%s is no least depth of a law, of a model or of winter tires, and no other limit can be made stricter here", than)
	}
	asked, err := unit.DepthOf(depth.Number, depth.Unit)
	if err != nil {
		return Limit{}, err
	}
	if asked <= l.Depth() {
		how := "is not stricter than"
		if asked < l.Depth() {
			how = "is looser than"
		}
		standing := ""
		if l.Authority == finding.LawInUse {
			standing = ", law in use"
		}
		return Limit{}, fmt.Errorf("%v %v %s %s%s, which asks for %v %v (%s)", depth.Number, depth.Unit, how, than, standing, l.Value.Number, l.Value.Unit, l.Citation)
	}
	own := Limit{
		ID: id, Subject: l.Subject, Value: depth.OfTread(), Where: l.Where, Applies: l.Applies, Winter: l.Winter, Than: than, Says: says,
		Authority: finding.Shop, Known: finding.Read, Citation: "the shop's own rule, stricter than " + l.Citation,
	}
	if l.Winter != nil {
		w := *l.Winter
		w.Required = false // the law asks for winter tires; the shop for more tread on them
		own.Winter = &w
	}
	return own, nil
}

// Beside makes the figure of a published standard that a fleet loads from its own edition,
// to be told beside a least depth of a law and never in its place. It is lower than the
// law's, which stays the limit in use. The error says what of it is wrong.
func Beside(id, law string, depth unit.Amount, standard, edition string) (Limit, error) {
	book, limit, _ := strings.Cut(law, ".")
	b, ok := current(book)
	if !ok {
		return Limit{}, fmt.Errorf("there is no rulebook %q", book)
	}
	i := slices.IndexFunc(b.Limits, func(l Limit) bool { return l.ID == limit })
	if i < 0 {
		return Limit{}, fmt.Errorf("rulebook %s has no limit %q", book, limit)
	}
	l := b.Limits[i]
	if l.Subject != TreadDepth || l.Authority != finding.LawInUse || l.Winter != nil {
		return Limit{}, fmt.Errorf("%s is no least depth of a law in use", law)
	}
	asked, err := unit.DepthOf(depth.Number, depth.Unit)
	if err != nil {
		return Limit{}, err
	}
	if asked >= l.Depth() {
		return Limit{}, fmt.Errorf("%v %v is not lower than %s, law in use, which asks for %v %v (%s); a stricter figure is the shop's own rule", depth.Number, depth.Unit, law, l.Value.Number, l.Value.Unit, l.Citation)
	}
	return Limit{
		ID: id, Subject: EditionDepth, Value: depth.OfTread(), Where: l.Where, Applies: l.Applies, Than: law,
		Authority: finding.PublishedStandard, Known: finding.Reported, Citation: standard + ", " + edition,
		Says: "A figure that the fleet loaded, told beside " + l.Citation + ".",
	}, nil
}

// current finds the newest version of a book that is chosen among.
func current(id string) (*Book, bool) {
	b, ok := Get(id)
	return b, ok && b.ID == id && slices.Contains(books, b)
}

// WithOwn adds a shop's own limits to the law that was chosen: of each law book
// those that are stricter than one of its limits. Where a book is a candidate,
// so are they.
func WithOwn(books []Applied, own *Book) []Applied {
	if own == nil {
		return books
	}
	all := slices.Clone(books)
	for _, b := range books {
		mine := *own
		mine.Limits = nil
		for _, l := range own.Limits {
			if of, _, _ := strings.Cut(l.Than, "."); of == b.ID {
				mine.Limits = append(mine.Limits, l)
			}
		}
		if len(mine.Limits) > 0 {
			all = append(all, Applied{Book: &mine, Candidate: b.Candidate, ByWeight: b.ByWeight})
		}
	}
	return all
}
