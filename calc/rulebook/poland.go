package rulebook

import "gaugebook.dev/calc/finding"

const (
	polishRules = "Dz.U. 2003 nr 32 poz. 262, § 11"
	polishCopy  = "forum post that prints § 11, undated"
)

var euPL = Book{
	ID: "eu-pl", Version: 2, Country: "PL",
	Title: "Poland (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: AnyPointMajorGroove,
			Applies:   Scope{Text: "vehicles"},
			Authority: finding.LawInUse, Citation: polishRules + ", as reported", Known: finding.Reported,
			Says: "At least 1.6 mm, by the press; the paragraph on depth was not read. No duty to have winter tires.",
		},
		{
			ID: "construction", Subject: ConstructionMix,
			Applies:   Scope{Text: "every axle"},
			Authority: finding.LawInUse, Citation: polishRules + " ust. 5-7", Known: finding.Read,
			Text: Text{By: Reprint, Copy: polishCopy, Words: "w opony różnej konstrukcji, w tym o różnej rzeźbie bieżnika, na kołach jednej osi"},
			Says: "No different construction, nor different tread pattern, on one axle. Not with a factory spare of another kind that is used for a short time as the maker says.",
		},
		{
			ID: "radial-ahead", Subject: RadialAhead,
			Applies:   Scope{Text: "vehicles of two axles with single wheels"},
			Authority: finding.LawInUse, Citation: polishRules + " ust. 5-7", Known: finding.Read,
			Text: Text{By: Reprint, Copy: polishCopy},
			Says: "No bias or bias-belted tires behind radial ones. The copy ends within these words.",
		},
		{
			ID: "winter-speed", Subject: SlowerTire, Value: kmh(160), Shown: true,
			Applies:   Scope{Classes: powered, Text: "snow tires slower than the vehicle"},
			Winter:    &Winter{},
			Authority: finding.LawInUse, Citation: polishRules + " ust. 5a, as reported", Known: finding.Reported,
			Text: Text{By: Reprint, Copy: polishCopy},
			Says: "Snow tires may be slower than the vehicle, but made for at least 160 km/h, with a label that tells their speed.",
		},
	},
}
