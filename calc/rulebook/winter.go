package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

// Trigger is when a rule on winter tires asks for them.
type Trigger uint8

// Triggers.
const (
	InSeason              Trigger = iota + 1 // from one day of the year to another
	InConditions                             // with snow, slush or ice on the road
	InSeasonAndConditions                    // both together
	OnSignedRoads                            // where a sign or an order calls for them, within the season if it has one
	WheneverFitted                           // of a winter tire, whatever the day and the road
	InSeasonOrConditions                     // from one day to another, and at any time with snow, slush or ice on the road
)

// Day is a day of every year.
type Day struct{ Month, Day int }

// Mark is what makes a tire a winter tire to a rule.
type Mark uint8

// Marks.
const (
	EitherMark      Mark = iota // three-peak mountain with snowflake, M+S, or studs
	ThreePeaks                  // three-peak mountain with snowflake, or studs
	ThreePeaksAlone             // three-peak mountain with snowflake; studs make none
	MudAndSnowAlone             // M+S
	BothMarks                   // three-peak mountain with snowflake and M+S, or studs
)

// Winter is when a rule on winter tires asks for them, and by what mark it knows
// one; of a rule on studs, when they are allowed; of one on tires slower than the vehicle,
// of which mark and when, without a trigger. Its limit is the depth under which a tire does not count as one; a limit
// without a number asks for the mark alone.
type Winter struct {
	Trigger     Trigger
	From, Until Day // the season, both days in it; zero for a rule without one
	AfterEaster int // days from Easter Sunday to the last day of the season, in place of Until
	Mark        Mark
	Required    bool // asks for winter tires; else it only says what counts as one

	DepthWillDo     bool      // a tire without the mark will do where it has the depth, and one with the mark whatever depth the law has for every day
	MudAndSnowUntil unit.Date // the last day on which M+S made a winter tire too

	SparesSpare bool `json:"-"` // a spare that runs after a puncture is let off
}

// MarkOn is the mark by which the rule knows a winter tire on a day.
func (w Winter) MarkOn(d unit.Date) Mark {
	if !d.IsZero() && !w.MudAndSnowUntil.IsZero() && d.DaysUntil(w.MudAndSnowUntil) >= 0 {
		return EitherMark
	}
	return w.Mark
}

// On tells whether a tire carries the mark, from what was read of each on it.
func (m Mark) On(threePeaks, mudAndSnow, studded finding.Answer) finding.Answer {
	switch m {
	case ThreePeaks:
		return anyOf(threePeaks, studded)
	case ThreePeaksAlone:
		return anyOf(threePeaks)
	case MudAndSnowAlone:
		return anyOf(mudAndSnow)
	case BothMarks:
		return anyOf(allOf(threePeaks, mudAndSnow), studded)
	}
	return anyOf(threePeaks, studded, mudAndSnow)
}

// anyOf is yes where one answer is, and no where all are.
func anyOf(answers ...finding.Answer) finding.Answer { return most(finding.Yes, finding.No, answers) }

// allOf is no where one answer is, and yes where all are.
func allOf(answers ...finding.Answer) finding.Answer { return most(finding.No, finding.Yes, answers) }

// most is the answer that one decides by itself; the other where all give it; else not known.
func most(decides, other finding.Answer, answers []finding.Answer) finding.Answer {
	told := other
	for _, a := range answers {
		switch a {
		case decides:
			return decides
		case other:
		default:
			told = finding.NotKnown
		}
	}
	return told
}

// HasSeason tells whether the rule has a season of its own.
func (w Winter) HasSeason() bool { return w.From != Day{} }

// Covers tells whether a day is in the season, which may run over the new year.
// Without a season every day is; of a day that is not told nothing is known.
func (w Winter) Covers(d unit.Date) finding.Answer {
	if !w.HasSeason() {
		return finding.Yes
	}
	if d.IsZero() {
		return finding.NotKnown
	}
	day := func(d Day) int { return 100*d.Month + d.Day }
	if w.AfterEaster > 0 {
		last := easter(d.Year).After(w.AfterEaster)
		w.Until = Day{last.Month, last.Day}
	}
	from, until, on := day(w.From), day(w.Until), 100*d.Month+d.Day
	in := from <= on && on <= until
	if from > until {
		in = from <= on || on <= until
	}
	if in {
		return finding.Yes
	}
	return finding.No
}

// easter is Easter Sunday of a year of the Gregorian calendar ("Astronomical
// Algorithms", chapter 8, textbook).
func easter(year int) unit.Date {
	a, b, c := year%19, year/100, year%100
	g := (b - (b+8)/25 + 1) / 3
	h := (19*a + b - b/4 - g + 15) % 30
	l := (32 + 2*(b%4) + 2*(c/4) - h - c%4) % 7
	m := (a + 11*h + 22*l) / 451
	n := h + l - 7*m + 114
	return unit.Date{Year: year, Month: n / 31, Day: n%31 + 1}
}

func upTo3500(text string) Scope {
	return Scope{RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar}, Text: text}
}

func over3500(wheels Wheels, text string) Scope {
	return Scope{Wheels: wheels, RatingOver: thirtyFiveHundredKilograms, Text: text}
}

// powered are the classes of vehicles that move by themselves.
var powered = []layout.Class{layout.PassengerCar, layout.LightTruck, layout.Heavy, layout.Bus, layout.Motorhome}

// winterOnly is a book of which the rules on winter tires alone are known: the country's
// ordinary limit was not read.
func winterOnly(id string, version int, country, title string, limits ...Limit) Book {
	return Book{ID: id, Version: version, Country: country, Title: title, Limits: limits}
}

const slovenianDuty = "Slovenian winter equipment duty, as reported"

var (
	slovenian = &Winter{Trigger: InSeasonOrConditions, From: Day{11, 15}, Until: Day{3, 15}, Required: true}

	winterSI = winterOnly("winter-si", 3, "SI", "Slovenia (law in use, as reported), winter tires alone",
		Limit{
			ID: "season", Subject: WinterTire, Value: tread(3), Applies: upTo3500("all wheels, up to 3,500 kg"), Winter: slovenian,
			Authority: finding.LawInUse, Citation: slovenianDuty, Known: finding.Reported,
			Text: Text{By: Agency, Copy: "traffic safety agency's page, undated; the depth from the press", Words: "zimske pnevmatike na vseh kolesih ali"},
			Says: "From November 15 to March 15, and in winter conditions, winter tires on all wheels, or summer tires and chains; at least 3 mm. On the coast summer tires with 3 mm will do.",
		},
		Limit{
			ID: "heavy-season", Subject: WinterTire, Value: tread(3), Applies: over3500(DrivenWheels, "driven wheels, over 3,500 kg"), Winter: slovenian,
			Authority: finding.LawInUse, Citation: slovenianDuty, Known: finding.Reported,
			Text: Text{By: Agency, Copy: "traffic safety agency's page, undated; the depth from the press"},
			Says: "From November 15 to March 15, and in winter conditions, winter tires of at least 3 mm on the driven wheels.",
		},
	)
	winterEE = winterOnly("winter-ee", 3, "EE", "Estonia (law in use, as reported), winter tires alone",
		Limit{
			ID: "depth", Subject: WinterTire, Value: tread(3), Applies: upTo3500("cars, vans and their trailers"),
			Winter:    &Winter{Trigger: InSeason, From: Day{12, 1}, Until: Day{3, 1}, Mark: ThreePeaks, Required: true, MudAndSnowUntil: unit.Date{Year: 2022, Month: 11, Day: 30}},
			Authority: finding.LawInUse, Citation: "Estonian winter tire duty, as reported", Known: finding.Reported,
			Says: "From December 1 to March 1 winter tires of at least 3 mm: the mountain with the snowflake alone since December 2022, or studs.",
		},
		Limit{
			ID: "studs", Subject: Studs, Applies: Scope{Text: "every tire"},
			Winter:    &Winter{Trigger: InSeason, From: Day{10, 15}, Until: Day{4, 30}},
			Authority: finding.LawInUse, Citation: "Estonian winter tire duty, as reported", Known: finding.Reported,
			Says: "Studded tires from October 15 to March 31, in winter conditions to April 30; the later day is followed.",
		})
	winterLV = winterOnly("winter-lv", 3, "LV", "Latvia (law in use, as reported), winter tires alone",
		Limit{
			ID: "depth", Subject: WinterTire, Value: tread(4), Applies: upTo3500("cars and buses up to 3,500 kg"),
			Winter:    &Winter{Trigger: InSeason, From: Day{12, 1}, Until: Day{3, 1}, Mark: ThreePeaks, Required: true, MudAndSnowUntil: unit.Date{Year: 2025, Month: 11, Day: 30}},
			Authority: finding.LawInUse, Citation: "Latvian winter tire duty, as reported", Known: finding.Reported,
			Says: "From December 1 to March 1 winter tires of at least 4 mm; the mountain with the snowflake is needed since the winter of 2025, M+S alone is no longer enough.",
		},
		Limit{
			ID: "studs", Subject: Studs, Applies: Scope{Text: "every tire"},
			Winter:    &Winter{Trigger: InSeason, From: Day{10, 1}, Until: Day{5, 1}},
			Authority: finding.LawInUse, Citation: "Latvian winter tire duty, as reported", Known: finding.Reported,
			Says: "Studded tires from October 1 to May 1.",
		})
)
