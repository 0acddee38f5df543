package rulebook

import "gaugebook.dev/calc/finding"

const italianLaw = "Legge 142/1992, art. 66"

var euIT = Book{
	ID: "eu-it", Version: 2, Country: "IT",
	Title: "Italy (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: CentralThreeQuarters,
			Applies:   Scope{Text: "motor vehicles, trolley buses and trailers"},
			Authority: finding.LawInUse, Citation: italianLaw, Known: finding.Read,
			Text: Text{Copy: "Gazzetta Ufficiale", Words: "di almeno 1,60 millimetri per gli autoveicoli, i filoveicoli e rimorchi, di almeno 1,00 millimetri per i motoveicoli"},
			Says: "At least 1.60 mm in the main grooves: the wide ones of the central zone, about three-quarters of the tread. The pattern is to be seen over the full width and all round.",
		},
		{
			ID: "winter", Subject: WinterTire,
			Applies:   upTo3500("cars, on roads where an order asks for it"),
			Winter:    &Winter{Trigger: OnSignedRoads, From: Day{11, 15}, Until: Day{4, 15}, Required: true},
			Authority: finding.LawInUse, Citation: "Italian winter tire duty, as reported", Known: finding.Reported,
			Says: "From November 15 to April 15, on roads where an order asks for it, winter tires at least on the driven axle, or chains on board. By trade pages; the ministry's circular was not read.",
		},
		{
			ID: "winter-speed", Subject: SlowerTire, Value: kmh(160),
			Applies:   upTo3500("winter tires of cars"),
			Winter:    &Winter{From: Day{10, 15}, Until: Day{5, 15}, Mark: MudAndSnowAlone},
			Authority: finding.LawInUse, Citation: "Italian winter tire duty, as reported", Known: finding.Reported,
			Says: "From October 15 to May 15 tires marked M+S may be slower than the vehicle, but at least of the symbol Q (160 km/h). By trade pages; the ministry's circular was not read.",
		},
	},
}
