package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

var euIE = Book{
	ID: "eu-ie", Version: 1, Country: "IE",
	Title: "Ireland (law in use, as reported)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: AnyPointMajorGroove,
			Applies:   Scope{Classes: []layout.Class{layout.PassengerCar}, Text: "cars"},
			Authority: finding.LawInUse, Citation: "S.I. 5 of 2003, as reported", Known: finding.Reported,
			Text: Text{By: Agency, Copy: "Minister's written answer of 2024-05-28, which names the instrument; the figure from a driving school", Words: "sets out requirements for the condition of car tyres and tread in national law"},
			Says: "At least 1.6 mm on cars. The instrument is named by its Minister; its figure is told by a driving school.",
		},
	},
}
