package rulebook

import "gaugebook.dev/calc/finding"

const (
	newZealandManual = "New Zealand vehicle inspection manual 10-1, as reported"
	newZealandCopy   = "transport agency's manual under Rule 32013, undated"
)

var nz = Book{
	ID: "nz", Version: 3, Country: "NZ",
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
		{
			ID: "cut", Subject: finding.LawCut, Value: millimeters(25),
			Applies:   Scope{Text: "every tire"},
			Authority: finding.LawInUse, Citation: newZealandManual, Known: finding.Reported,
			Text: Text{By: Agency, Copy: newZealandCopy, Words: "a cut in a sidewall or tread more than 25mm long that reaches the cords"},
			Says: "No cut in a sidewall or in the tread longer than 25 mm that reaches the cords. The page is that of motorcycles, in words that it shares with cars.",
		},
		{
			ID: "cord", Subject: finding.LawCordExposed,
			Applies:   Scope{Text: "every tire"},
			Authority: finding.LawInUse, Citation: newZealandManual, Known: finding.Reported,
			Text: Text{By: Agency, Copy: newZealandCopy},
			Says: "No cord bared or cut.",
		},
		{
			ID: "separation", Subject: finding.LawSeparation,
			Applies:   Scope{Text: "every tire"},
			Authority: finding.LawInUse, Citation: newZealandManual, Known: finding.Reported,
			Text: Text{By: Agency, Copy: newZealandCopy},
			Says: "No lump, no retread that separates.",
		},
		{
			ID: "construction", Subject: ConstructionMix,
			Applies:   Scope{Text: "every axle"},
			Authority: finding.LawInUse, Citation: newZealandManual, Known: finding.Reported,
			Text: Text{By: Agency, Copy: newZealandCopy},
			Says: "Tires of one axle are alike in size, carcass and kind of pattern; the spare is exempt.",
		},
		{
			ID: "space-saver", Subject: SpareOnRoad,
			Applies:   Scope{Text: "every wheel, at inspection"},
			Authority: finding.LawInUse, Citation: newZealandManual, Known: finding.Reported,
			Text: Text{By: Agency, Copy: newZealandCopy},
			Says: "A vehicle with a space-saver or a non-pneumatic tire fitted is rejected. The page is that of motorcycles, in words that it shares with cars.",
		},
	},
}
