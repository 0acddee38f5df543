package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

const (
	westernRules = "Road Traffic (Vehicles) Regulations 2014 (WA), reg. 270(2)"
	westernCopy  = "consolidated regulations, undated"
)

var (
	westernText      = Text{Copy: westernCopy, Words: "must have a tread pattern at least 1.5 mm deep in all principal grooves on the tyre in a band that runs continuously"}
	fortyFiveHundred = unit.MustMass(4500, unit.Kilograms)
)

var auWA = Book{
	ID: "au-wa", Version: 3, Country: "AU",
	Binds: Binds{State: "WA", AnyRating: []layout.Class{layout.PassengerCar}},
	Title: "Western Australia (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.5), Where: AnyPointMajorGroove,
			Applies:   Scope{RatingUpTo: fortyFiveHundred, AnyRating: []layout.Class{layout.PassengerCar}, Text: "light vehicles and trailers (up to 4,500 kg, from memory)"},
			Authority: finding.LawInUse, Citation: westernRules, Known: finding.Read, Text: westernText,
			Says: "At least 1.5 mm in all principal grooves, those that have wear indicators, over the whole breadth that touches the road and all round, away from the indicators.",
		},
		{
			ID: "heavy-depth", Subject: TreadDepth, Value: tread(1.5), Where: AnyThreeQuarters,
			Applies:   Scope{RatingOver: fortyFiveHundred, Text: "heavy vehicles and trailers (over 4,500 kg, from memory)"},
			Authority: finding.LawInUse, Citation: westernRules, Known: finding.Read, Text: westernText,
			Says: "At least 1.5 mm in all principal grooves, those that have wear indicators, over at least 75 percent of the breadth that touches the road and all round, away from the indicators.",
		},
		{
			ID: "regrooved", Subject: Regrooved,
			Applies:   Scope{Text: "every tire that was not made for it"},
			Authority: finding.LawInUse, Citation: "Road Traffic (Vehicles) Regulations 2014 (WA), reg. 270(3)", Known: finding.Read,
			Text: Text{Copy: westernCopy},
			Says: "Regrooved only tires that were made for it.",
		},
		westernSpeed("off-road-speed", 140, false, Scope{Classes: []layout.Class{layout.PassengerCar}, RatingUpTo: fortyFiveHundred, Text: "cars, off-road ones among them, up to 4,500 kg"}),
		westernSpeed("car-speed", 180, true, Scope{Classes: []layout.Class{layout.PassengerCar}, RatingUpTo: fortyFiveHundred, Text: "cars, but off-road ones, up to 4,500 kg"}),
		westernSpeed("other-speed", 120, false, Scope{Classes: []layout.Class{layout.LightTruck, layout.Bus, layout.Motorhome}, RatingUpTo: fortyFiveHundred, Text: "other motor vehicles up to 4,500 kg"}),
	},
}

// westernSpeed is the least speed that every tire of a class is made for. Which cars are
// off-road ones no class tells: what is asked of the others may bind.
func westernSpeed(id string, least float64, mayBe bool, of Scope) Limit {
	return Limit{
		ID: id, Subject: SlowerTire, Value: kmh(least), Applies: of, MayBe: mayBe,
		Authority: finding.LawInUse, Citation: "Vehicle Standards Rules 2002 (WA), r. 46", Known: finding.Read,
		Text: Text{Copy: westernCopy, Words: "being used in an emergency as a temporary replacement"},
		Says: "Tires of vehicles built after 1972, up to 4,500 kg, are rated for at least 180 km/h on a car, 140 on an off-road car, 120 on others, or for the vehicle's top speed where that is less. Not a temporary spare in an emergency.",
	}
}
