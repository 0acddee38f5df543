package rulebook

import "gaugebook.dev/calc/finding"

const (
	swissOrdinance = "VTS Art. 58 Abs. "
	swissCopy      = "SR 741.41, versions of 2022 and 2024"
)

var ch = Book{
	ID: "ch", Version: 1, Country: "CH",
	Title: "Switzerland (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: WholeTread,
			Applies:   Scope{Text: "road vehicles, but small and light ones up to 45 km/h"},
			Authority: finding.LawInUse, Citation: swissOrdinance + "4", Known: finding.Read,
			Text: Text{By: Reprint, Copy: swissCopy, Words: "Die Reifen müssen auf der ganzen Lauffläche mindestens 1,6 mm tiefe Profilrillen aufweisen."},
			Says: "At least 1.6 mm over the whole tread, not the central three-quarters alone.",
		},
		{
			ID: "cord", Subject: finding.LawCordExposed,
			Applies:   Scope{Text: "road vehicles"},
			Authority: finding.LawInUse, Citation: swissOrdinance + "4", Known: finding.Read,
			Text: Text{By: Reprint, Copy: swissCopy},
			Says: "No ply damaged or bare.",
		},
		{
			ID: "construction", Subject: ConstructionMix,
			Applies:   Scope{Text: "every vehicle"},
			Authority: finding.LawInUse, Citation: swissOrdinance + "3", Known: finding.Read,
			Text: Text{By: Reprint, Copy: swissCopy, Words: "Alle Reifen eines Fahrzeuges müssen dieselbe Bauart (Radial- oder Diagonalreifen) aufweisen."},
			Says: "All tires of a vehicle are radial, or all are bias.",
		},
	},
}
