// Package rulebook holds limits as data: each number with its unit, what it
// applies to, where on the tread it is measured, whose rule it is, where it is
// written and how we know it. No number of a law stands anywhere else.
package rulebook

import (
	"slices"
	"strconv"
	"sync"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// Subject is what a limit limits.
type Subject = finding.Subject

// Subjects of limits; those that a finding is of stand in package finding. A rule without a number forbids a condition outright.
const (
	TreadDepth      Subject = "tread depth"
	DepthDifference Subject = "depth difference"
	WheelWork       Subject = "work on wheels"
	WrenchQuality   Subject = "accuracy of a torque wrench"
	WearShape       Subject = "wear shape"
	WinterTire      Subject = "winter tire"
	WinterAdvised   Subject = "winter tire, advised"
	TireAge         Subject = "age of a tire"
	LikelyDepth     Subject = "likely depth when new"
	RetreadOnFront  Subject = "retread or regrooved on the front"
	Regrooved       Subject = "regrooved"
	NotForHighway   Subject = "not for highway use"
	HeatAllowance   Subject = "allowance for the heat of driving"
	PairDiameter    Subject = "dual pair diameter"
	AxleDiameter    Subject = "diameters of one axle"
	SlowerTire      Subject = "tire slower than the vehicle"
	WholeVehicle    Subject = "construction on one vehicle"
	MajorDefect     Subject = "tread depth, major defect"
	TowingPressure  Subject = "added pressure when towing"
	SpareOnRoad     Subject = "temporary spare on the road"
	Studs           Subject = "studded tire"
	ToFit           Subject = "tire to be sold or fitted"
	RoadsideDepth   Subject = "roadside out-of-service depth" // of former versions; not judged
	EditionDepth    Subject = "depth of an edition that a fleet loaded"
	Fitness         Subject = "fitness for use"
)

// Where is the part of the tread a depth rule speaks of, and how many readings
// prove that it is not met.
type Where uint8

// Where on the tread.
const (
	NoPlace                Where = iota
	AnyPointMajorGroove          // one point on a major groove is enough
	TwoAdjacentGrooves           // two adjacent grooves
	TwoAdjacentThreePlaces       // two adjacent major grooves, at three places round the tire
	CentralThreeQuarters         // the central three-quarters of the breadth, all round: one point is enough
	AnyThreeQuarters             // some continuous band of three-quarters of the breadth, all round
	FourPointsOneMayFail         // four points equally spaced round the tire, of which one may fail
	WholeTread                   // the whole breadth, all round: one point anywhere is enough
	TwoAdjacentTwoPlaces         // two adjacent major grooves, at two places round the tire
	AnyTwoThreePlaces            // any two major grooves, side by side or not, at three places round the tire
	CenterThreePlaces            // the groove nearest the center, at three places round the tire
)

// Wheels is which wheels of a vehicle a limit speaks of.
type Wheels uint8

// Wheels.
const (
	AllWheels          Wheels = iota
	FrontWheels               // of a powered vehicle; a trailer has none
	OtherWheels               // all but those
	DrivenWheels              // those the drive turns; all, where it is not told which
	SteeredWheels             // of the steered axles in front of all others of a powered vehicle
	SingleWheels              // all that are not one of a dual pair
	DrivenOrFront             // those the drive turns, and those of the steered axles in front
	DrivenNotSteered          // those the drive turns, of axles that are not steered
	NotDrivenOrSteered        // all others
)

// Scope is what a limit applies to. A zero field does not narrow it.
type Scope struct {
	Wheels     Wheels
	Classes    []layout.Class
	RatingOver unit.Mass        // gross rating above this
	RatingUpTo unit.Mass        // gross rating at most this
	AnyRating  []layout.Class   // classes that the limit holds for at any rating
	SeatsOver  int              // seats above this, the driver's included
	SeatsUpTo  int              // seats at most this, the driver's included
	BySeats    int              // of more seats than this, or a bus: as if over the rating; a bus of so many: as if under it
	Body       sidewall.BodyPly // of the tire
	CrossPly   bool             // cross-ply tires alone, in place of the limit for all
	WidthOver  unit.Length      // section width above this
	WidthUpTo  unit.Length      // section width at most this
	Text       string           // the same in words, for people
}

// Limit is one rule.
type Limit struct {
	ID        string // unique in its book: "front-depth"
	Subject   Subject
	Value     unit.Amount // as the rule prints it; zero when the rule has no number
	Applies   Scope
	Where     Where
	Winter    *Winter // of a rule on winter tires, nil for all others
	Authority finding.Authority
	Citation  string
	Known     finding.Known
	Than      string // of a shop's own limit: the one it is stricter than, "eu-at.depth"
	Shown     bool   // of a tire slower than the vehicle: its highest speed is to be shown in the driver's view
	MayBe     bool   // of a kind of vehicle that no class tells from the others of its class: a law that may bind
	Says      string // the rule in plain words; where sources differ, which is followed and why

	Binds   finding.Binds `json:"-"` // whom the law binds, where it says whom; 0 where its book says it
	Text    Text          `json:"-"` // what the number rests on, where the text was read
	Informs string        `json:"-"` // why nothing is judged by it: it only informs, and says so; "" for all others
}

// Text is what a rule that was read rests on.
type Text struct {
	Words string // of the law, in its own language
	Copy  string // which copy was read, and of what day: "consolidated to 2026-01-01"
	By    Copyist
}

// Copyist is whose copy of a law was read.
type Copyist uint8

// Copyists.
const (
	OfState Copyist = iota // the State's own publication, or a copy of it kept whole
	Reprint                // the words of the law, in a copy that is not the State's own
	Agency                 // a public agency's own words about the law, which was not read itself
)

// Book is a set of limits with one version. Several versions of a book live side
// by side.
type Book struct {
	ID      string
	Version int
	Digest  string // of the file it was read from, "" for those of the program
	Title   string
	Country string // ISO 3166-1 alpha-2, "" for advice and practice
	Repair  string // the book of repair rules that goes with it, "" when none was read
	Limits  []Limit

	// How a book is chosen and read: no part of what a version of it says.
	InForce unit.Date     `json:"-"` // first day of this version of the law; zero where its text was but told anew, and counts for every day
	Binds   Binds         `json:"-"`
	Whom    finding.Binds `json:"-"` // whom its laws bind, 0 for who drives
	Floor   bool          `json:"-"` // the least that States have agreed on: it binds them, and stands in where a State's own limit was not read
	Repairs *Repairs      `json:"-"` // of a book of repair rules, nil for all others
	Reuse   string        `json:"-"` // the limit of other wheels that a tire taken off a front axle may still meet, "" for none
}

// Name is the book with its version, "us-light@1", and with the digest of the
// file it was read from, "shop@3+1f0a9c27d4be".
func (b *Book) Name() string {
	if b.Digest != "" {
		return b.ID + "@" + strconv.Itoa(b.Version) + "+" + b.Digest
	}
	return b.ID + "@" + strconv.Itoa(b.Version)
}

// RuleOf gives the rule of a limit as findings carry it.
func (b *Book) RuleOf(l Limit) finding.Rule {
	return finding.Rule{ID: b.ID + "." + l.ID, Authority: l.Authority, Citation: l.Citation, Known: l.Known, Binds: b.Bound(l)}
}

// Bound is whom a limit of the book binds: a law on tires in use at least who drives on
// them; nobody where it is no law.
func (b *Book) Bound(l Limit) finding.Binds {
	switch {
	case l.Binds != 0 || l.Authority != finding.LawInUse:
		return l.Binds
	case b.Whom != 0:
		return b.Whom
	}
	return finding.BindsDriver
}

// About lists the limits on a subject, in the book's order.
func (b *Book) About(s Subject) []Limit {
	about := 0
	for i := range b.Limits {
		if b.Limits[i].Subject == s {
			about++
		}
	}
	if about == 0 {
		return nil
	}
	ls := make([]Limit, 0, about)
	for i := range b.Limits {
		if b.Limits[i].Subject == s {
			ls = append(ls, b.Limits[i])
		}
	}
	return ls
}

// Limit gives the limit by its id. It panics on an unknown one: the ids that
// code asks for are constants, and a test asks for each.
func (b *Book) Limit(id string) Limit {
	for i := range b.Limits {
		if b.Limits[i].ID == id {
			return b.Limits[i]
		}
	}
	panic("rulebook " + b.ID + " has no limit " + id)
}

// Depth is the value as a depth; it panics when the limit is of another kind.
func (l Limit) Depth() unit.Depth { return unit.MustDepth(l.Value.Number, l.Value.Unit) }

// Speed is the value of a limit of speed; 0 where it has none.
func (l Limit) Speed() unit.Speed {
	if l.Value.IsZero() {
		return 0
	}
	return unit.MustSpeed(l.Value.Number, l.Value.Unit)
}

// Length is the value as a length; it panics when the limit is of another kind.
func (l Limit) Length() unit.Length { return unit.MustLength(l.Value.Number, l.Value.Unit) }

// Pressure is the value as a pressure; it panics when the limit is of another kind.
func (l Limit) Pressure() unit.Pressure { return unit.MustPressure(l.Value.Number, l.Value.Unit) }

// Mass is the value of a limit of load.
func (l Limit) Mass() unit.Mass { return unit.MustMass(l.Value.Number, l.Value.Unit) }

// Apart is how far the diameters of two tires may lie apart: the value as a length, or as
// a share of the larger of them.
func (l Limit) Apart(larger unit.Length) unit.Length {
	if l.Value.Unit == unit.Percent {
		return unit.Length(float64(l.Ratio()) * float64(larger))
	}
	return l.Length()
}

// Ratio is the value in percent as a share of one.
func (l Limit) Ratio() unit.Ratio { return unit.Ratio(l.Value.Number / 100) }

// AppliesTo tells whether the limit speaks of this wheel of this vehicle. What
// is not told of the vehicle does not narrow the answer.
func (l Limit) AppliesTo(v layout.Vehicle, p layout.Position) bool {
	s := l.Applies
	byRating := !slices.Contains(s.AnyRating, v.Class)
	switch {
	case !s.Wheels.has(v, p):
		return false
	case s.SeatsOver > 0 && v.Seats > 0 && v.Seats <= s.SeatsOver, s.SeatsUpTo > 0 && v.Seats > s.SeatsUpTo:
		return false
	case len(s.Classes) > 0 && v.Class != layout.ClassNotTold && !slices.Contains(s.Classes, v.Class):
		return false
	case byRating && s.RatingOver > 0 && counted(v, s.RatingOver, s.BySeats) == finding.No:
		return false
	case byRating && s.RatingUpTo > 0 && counted(v, s.RatingUpTo, s.BySeats) == finding.Yes:
		return false
	}
	return true
}

// has tells whether the position is one of these wheels.
func (w Wheels) has(v layout.Vehicle, p layout.Position) bool {
	switch w {
	case FrontWheels:
		return v.Front(p)
	case OtherWheels:
		return !v.Front(p)
	case DrivenWheels:
		a, _ := v.AxleOf(p)
		return a.Driven || !slices.ContainsFunc(v.Axles, func(a layout.Axle) bool { return a.Driven })
	case SteeredWheels:
		return !p.Spare && v.Class != layout.Trailer &&
			!slices.ContainsFunc(v.Axles[:min(p.Axle, len(v.Axles))], func(a layout.Axle) bool { return !a.Steered })
	case SingleWheels:
		return !p.Spare && p.Dual == layout.Single
	case DrivenOrFront:
		return DrivenWheels.has(v, p) || SteeredWheels.has(v, p)
	case DrivenNotSteered, NotDrivenOrSteered:
		a, _ := v.AxleOf(p)
		return (w == DrivenNotSteered) == (v.Class != layout.Trailer && DrivenWheels.has(v, p) && !a.Steered)
	}
	return true
}

// counted tells whether a vehicle counts as over a rating where a law goes by seats too.
// A bus of which they were not told has more than a car.
func counted(v layout.Vehicle, weight unit.Mass, bySeats int) finding.Answer {
	switch {
	case bySeats > 0 && v.Seats > bySeats, bySeats > 0 && v.Class == layout.Bus && v.Seats == 0:
		return finding.Yes
	case bySeats > 0 && v.Class == layout.Bus:
		return finding.No
	}
	return over(v, weight)
}

// over tells whether the gross rating is above a weight at which a law changes.
// It is not known without a rating, unless the vehicle is a car, and when class
// and rating contradict each other, so that one of them must be wrong.
func over(v layout.Vehicle, weight unit.Mass) finding.Answer {
	switch {
	case contradicts(v, weight):
		return finding.NotKnown
	case v.GrossRating > weight:
		return finding.Yes
	case v.GrossRating > 0 || v.Class == layout.PassengerCar:
		return finding.No
	}
	return finding.NotKnown
}

// contradicts: no car is rated above 10,000 lb, and no medium or heavy truck
// below the weight where the law of the place begins to call it heavy.
func contradicts(v layout.Vehicle, weight unit.Mass) bool {
	switch v.Class {
	case layout.PassengerCar:
		return v.GrossRating > tenThousandPounds
	case layout.Heavy:
		return v.GrossRating > 0 && v.GrossRating <= weight
	}
	return false
}

// books lists the newest version of every rulebook, in the order they are shown.
var books = slices.Concat(places, []*Book{&advice, &pressure, &load, &fitment, &gauges, &trend, &repairUS, &repairUK})

// All lists the newest version of every rulebook.
func All() []*Book { return slices.Clone(books) }

// Versions lists every version of every rulebook, of each the newest first.
func Versions() []*Book {
	var all []*Book
	for _, b := range books {
		all = append(all, b)
		for _, o := range former {
			if o.ID == b.ID {
				all = append(all, o)
			}
		}
	}
	return append(all, retired...)
}

// Get finds a rulebook: the newest by its id, "us-light", or any version by its
// name, "us-light@1".
func Get(name string) (*Book, bool) {
	b, ok := named()[name]
	return b, ok
}

// named are all versions by name, the newest by the id alone too.
var named = sync.OnceValue(func() map[string]*Book {
	all := map[string]*Book{}
	for _, b := range slices.Backward(Versions()) { // the newest comes first, what is no more last
		all[b.ID], all[b.Name()] = b, b
	}
	return all
})

// TitleOf is the title of a book, or its id where this program has none by it.
func TitleOf(id string) string {
	if b, ok := Get(id); ok {
		return b.Title
	}
	return id
}

// Must is Get for the ids that code names.
func Must(id string) *Book {
	b, ok := Get(id)
	if !ok {
		panic("no rulebook " + id)
	}
	return b
}

func thirtySeconds(n float64) unit.Amount {
	return unit.Amount{Number: n, Unit: unit.ThirtySecondsInch}
}
func millimeters(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.Millimeters} }

// tread is a depth in millimeters, which are else those of a length.
func tread(mm float64) unit.Amount { return millimeters(mm).OfTread() }

func inches(n float64) unit.Amount  { return unit.Amount{Number: n, Unit: unit.Inches} }
func miles(n float64) unit.Amount   { return unit.Amount{Number: n, Unit: unit.Miles} }
func percent(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.Percent} }
func kmh(n float64) unit.Amount {
	return unit.Amount{Number: n, Unit: unit.KilometersPerHour}
}
func psi(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.PSI} }
func kPa(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.Kilopascals} }
