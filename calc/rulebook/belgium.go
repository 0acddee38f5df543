package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

var euBE = Book{
	ID: "eu-be", Version: 1, Country: "BE",
	Title: "Belgium (law in use, as reported)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: AnyPointMajorGroove,
			Applies:   Scope{Classes: []layout.Class{layout.PassengerCar}, Text: "cars"},
			Authority: finding.LawInUse, Citation: "KB 15.3.1968 art. 34, as reported", Known: finding.Reported,
			Says: "At least 1.6 mm in the main grooves, by a trade page; of the article's own words those on depth were not read. No duty to have winter tires.",
		},
	},
}
