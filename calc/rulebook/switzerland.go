package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

const (
	swissOrdinance = "VTS Art. 58 Abs. "
	swissCopy      = "SR 741.41, versions of 2022 and 2024"
)

var ch = Book{
	ID: "ch", Version: 3, Country: "CH",
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
		{
			ID: "whole-construction", Subject: WholeVehicle,
			Applies:   Scope{Text: "every vehicle, but small ones of three or four wheels"},
			Authority: finding.LawInUse, Citation: swissOrdinance + "3", Known: finding.Read,
			Text: Text{By: Reprint, Copy: swissCopy, Words: "Alle Reifen eines Fahrzeuges müssen dieselbe Bauart (Radial- oder Diagonalreifen) aufweisen."},
			Says: "All tires of a vehicle are radial, or all are bias, on one axle and from axle to axle. Small vehicles of three or four wheels may mix by axle (Art. 138 Abs. 1).",
		},
		{
			ID: "regrooved", Subject: Regrooved,
			Applies:   Scope{Classes: []layout.Class{layout.PassengerCar, layout.Motorhome, layout.Trailer}, RatingUpTo: thirtyFiveHundredKilograms, Text: "category M1 up to 3,500 kg, O1 and O2 (cars and trailers up to 3,500 kg)"},
			Authority: finding.LawInUse, Citation: "VTS Art. 60 Abs. 3", Known: finding.Read,
			Text: Text{By: Reprint, Copy: "SR 741.41, version of 2019", Words: "Das Nachrillen von Reifen ... ist unzulässig."},
			Says: "No regrooved tires on cars and trailers up to 3,500 kg; on heavier vehicles only tires marked as regroovable (Abs. 4).",
		},
	},
}
