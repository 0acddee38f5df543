package rulebook

import "gaugebook.dev/calc/finding"

var nz = Book{
	ID: "nz", Version: 1, Country: "NZ",
	Title: "New Zealand (law in use, as reported)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.5), Where: AnyThreeQuarters,
			Applies:   Scope{Text: "road vehicles"},
			Authority: finding.LawInUse, Citation: "New Zealand inspection rule on tires, as reported", Known: finding.Reported,
			Says: "At least 1.5 mm over at least three-quarters of the width of the tread, round the whole circumference.",
		},
		{
			ID: "pair-diameter", Subject: PairDiameter, Value: millimeters(25),
			Applies:   Scope{Text: "dual pairs"},
			Authority: finding.LawInUse, Citation: "New Zealand inspection rule on tires, as reported", Known: finding.Reported,
			Says: "Diameters of a dual pair within 25 mm.",
		},
		{
			ID: "winter-depth", Subject: WinterTire, Value: tread(4),
			Applies:   upTo3500("winter tires of cars"),
			Winter:    &Winter{Trigger: WheneverFitted},
			Authority: finding.LawInUse, Citation: "New Zealand transport agency sheet on tires, as reported", Known: finding.Reported,
			Says: "A winter tire has at least 4 mm in the grooves that hold wear bars.",
		},
	},
}
