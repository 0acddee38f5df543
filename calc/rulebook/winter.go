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
)

// Day is a day of every year.
type Day struct{ Month, Day int }

// Mark is what makes a tire a winter tire to a rule.
type Mark uint8

// Marks.
const (
	EitherMark Mark = iota // three-peak mountain with snowflake, or M+S
	ThreePeaks             // three-peak mountain with snowflake, or studs
)

// Winter is when a rule on winter tires asks for them, and by what mark it knows
// one. Its limit is the depth under which a tire does not count as one; a limit
// without a number asks for the mark alone.
type Winter struct {
	Trigger     Trigger
	From, Until Day // the season, both days in it; zero for a rule without one
	Mark        Mark
	Required    bool // asks for winter tires; else it only says what counts as one
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

// winterOnly names in its title a book of which the rules on winter tires alone
// are known: the country's ordinary limit was not read.
func winterOnly(id, country, name string, limits ...Limit) Book {
	return Book{ID: id, Version: 1, Country: country, Title: name + ", winter tires alone", Limits: limits}
}

func upTo3500(text string) Scope {
	return Scope{RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar}, Text: text}
}

var (
	czech = &Winter{Trigger: InSeasonAndConditions, From: Day{11, 1}, Until: Day{3, 31}, Required: true}

	winterCZ = winterOnly("winter-cz", "CZ", "Czech Republic (law in use, as reported)",
		Limit{
			ID: "depth", Subject: WinterTire, Value: tread(4),
			Applies: upTo3500("all wheels, up to 3,500 kg"), Winter: czech,
			Authority: finding.LawInUse, Citation: "Act 361/2000 § 40a, as reported", Known: finding.Reported,
			Says: "Winter tires of at least 4 mm on all wheels from November 1 to March 31; that the road has to be wintry too is as remembered.",
		},
		Limit{
			ID: "heavy-depth", Subject: WinterTire, Value: tread(6),
			Applies: Scope{Wheels: DrivenWheels, RatingOver: thirtyFiveHundredKilograms, Text: "driven wheels, over 3,500 kg"}, Winter: czech,
			Authority: finding.LawInUse, Citation: "Act 361/2000 § 40a, as reported", Known: finding.Reported,
			Says: "Winter tires of at least 6 mm on the driven wheels from November 1 to March 31; that the road has to be wintry too is as remembered.",
		},
	)
	winterSK = winterOnly("winter-sk", "SK", "Slovakia (law in use, as reported)",
		Limit{
			ID: "depth", Subject: WinterTire, Value: tread(3),
			Applies: upTo3500("winter tires, up to 3,500 kg"), Winter: &Winter{Trigger: InConditions},
			Authority: finding.LawInUse, Citation: "Slovak winter tire duty, as reported by the national news agency", Known: finding.Reported,
			Says: "At least 3 mm on winter tires. That the state of the road calls for them, not a date, is as remembered.",
		},
		Limit{
			ID: "heavy-depth", Subject: WinterTire, Value: tread(6),
			Applies: Scope{RatingOver: thirtyFiveHundredKilograms, Text: "winter tires, over 3,500 kg"}, Winter: &Winter{Trigger: InConditions},
			Authority: finding.LawInUse, Citation: "Slovak winter tire duty, as reported by the national news agency", Known: finding.Reported,
			Says: "At least 6 mm on winter tires over 3,500 kg. That the state of the road calls for them, not a date, is as remembered.",
		},
	)
	slovenian = &Winter{Trigger: InSeason, From: Day{11, 15}, Until: Day{3, 15}, Required: true}
	winterSI  = winterOnly("winter-si", "SI", "Slovenia (law in use, as reported)",
		Limit{
			ID: "season", Subject: WinterTire, Applies: upTo3500("cars"), Winter: slovenian,
			Authority: finding.LawInUse, Citation: "Slovenian winter equipment duty, as reported", Known: finding.Reported,
			Says: "Winter tires from November 15 to March 15.",
		},
		Limit{
			ID: "depth", Subject: WinterAdvised, Value: tread(3), Applies: upTo3500("winter tires of cars"),
			Winter:    &Winter{Trigger: InSeason, From: Day{11, 15}, Until: Day{3, 15}},
			Authority: finding.CommonPractice, Citation: "common practice: a national minimum that is remembered", Known: finding.FromMemory,
			Says: "3 mm on winter tires, as remembered and not read: ask what the law asks for.",
		},
	)
	winterEE = winterOnly("winter-ee", "EE", "Estonia (law in use, as reported)", baltic("Estonian winter tire duty, as reported by a magazine"))
	winterFI = winterOnly("winter-fi", "FI", "Finland (law in use, as reported)", baltic("Finnish winter tire duty, as reported by a magazine"))
	winterSE = winterOnly("winter-se", "SE", "Sweden (as remembered)", remembered(3))
	winterNO = winterOnly("winter-no", "NO", "Norway (as remembered)", remembered(3))
	winterLV = winterOnly("winter-lv", "LV", "Latvia (as remembered)", remembered(4))
)

// baltic is 3 mm by the road, of which no date was read.
func baltic(citation string) Limit {
	return Limit{
		ID: "depth", Subject: WinterTire, Value: tread(3), Applies: upTo3500("winter tires of cars"), Winter: &Winter{Trigger: InConditions},
		Authority: finding.LawInUse, Citation: citation, Known: finding.Reported,
		Says: "At least 3 mm on winter tires. When they are called for was not read; it is taken to be by the state of the road.",
	}
}

// remembered is a national minimum that nobody has read for this book: it is
// never called law.
func remembered(mm float64) Limit {
	return Limit{
		ID: "depth", Subject: WinterAdvised, Value: tread(mm), Applies: upTo3500("winter tires of cars"), Winter: &Winter{Trigger: InConditions},
		Authority: finding.CommonPractice, Citation: "common practice: a national minimum that is remembered", Known: finding.FromMemory,
		Says: "A national minimum for winter tires, as remembered and not read: ask what the law asks for.",
	}
}
