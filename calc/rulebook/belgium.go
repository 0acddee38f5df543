package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

var euBE = Book{
	ID: "eu-be", Version: 2, Country: "BE",
	Title: "Belgium (law in use, as reported)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: AnyPointMajorGroove,
			Applies:   Scope{Classes: []layout.Class{layout.PassengerCar}, Text: "cars"},
			Authority: finding.LawInUse, Citation: "KB 15.3.1968 art. 34, as reported", Known: finding.Reported,
			Says: "At least 1.6 mm in the main grooves, by a trade page; of the article's own words those on depth were not read. No duty to have winter tires.",
		},
		{
			ID: "winter-speed", Subject: SlowerTire, Shown: true,
			Applies:   Scope{Classes: []layout.Class{layout.PassengerCar}, Text: "cars on M+S tires slower than they are"},
			Winter:    &Winter{From: Day{10, 1}, Until: Day{4, 30}, Mark: MudAndSnowAlone},
			Authority: finding.LawInUse, Citation: "KB 15.3.1968 art. 34, as reported", Known: finding.Reported,
			Says: "From October 1 to April 30 M+S tires may be slower than the vehicle, with a label that tells their speed. By a trade page.",
		},
	},
}
