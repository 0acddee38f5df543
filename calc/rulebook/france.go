package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

const (
	frenchOrder = "French order on tires in use, applying Directive 89/459/EEC"
	frenchCopy  = "Code de la route as kept on 2026-04-04"
)

var euFR = Book{
	ID: "eu-fr", Version: 3, Country: "FR",
	Binds: Binds{AnyRating: []layout.Class{layout.PassengerCar, layout.Bus}}, // their class alone leads to a limit
	Title: "France (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: CentralThreeQuarters,
			Applies:   smallVehicles,
			Authority: finding.LawInUse, Citation: frenchOrder, Known: finding.Read,
			Says: "At least 1.6 mm in the main grooves. That these lie in about the central three-quarters is from the directive, as its other members carry it over.",
		},
		{
			ID: "heavy-depth", Subject: TreadDepth, Value: tread(1), Where: FourPointsOneMayFail,
			Applies: Scope{
				Classes:    []layout.Class{layout.LightTruck, layout.Heavy, layout.Bus, layout.Trailer, layout.Motorhome},
				RatingOver: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.Bus},
				Text: "other categories (buses; goods vehicles and trailers over 3,500 kg)"},
			Authority: finding.LawInUse, Citation: frenchOrder, Known: finding.Read,
			Says: "Of four points equally spaced round the tire, no more than one may show less than 1 mm.",
		},
		{
			ID: "axle-difference", Subject: DepthDifference, Value: tread(5),
			Applies:   Scope{Text: "the two tires of one axle"},
			Authority: finding.LawInUse, Citation: frenchOrder, Known: finding.Read,
			Says: "Main-groove depths of the two tires of one axle differ by no more than 5 mm.",
		},
		{
			ID: "cord", Subject: finding.LawCordExposed,
			Applies:   Scope{Text: "motor vehicles and trailers"},
			Authority: finding.LawInUse, Citation: "Code de la route R314-1", Known: finding.Read,
			Text: Text{Copy: frenchCopy, Words: "Aucune toile ne doit apparaître ni en surface ni à fond de sculpture des pneumatiques."},
			Says: "No ply is seen on the surface or in the grooves; no deep tear in a sidewall; tread to be seen over the whole rolling surface.",
		},
		{
			ID: "sale", Subject: ToFit,
			Applies:   Scope{Text: "tires that are offered or sold, but for scrap"},
			Authority: finding.LawInUse, Citation: "Code de la route R314-2", Known: finding.Read, Binds: finding.BindsInstallerOrSeller,
			Text: Text{Copy: frenchCopy, Words: "Le fait de mettre en vente ou de vendre, sauf pour être mis au rebut"},
			Says: "No tire is offered or sold, but for scrap, that is not in line with the rules on tires in use or is regrooved too deep.",
		},
		{
			ID: "winter", Subject: WinterTire,
			Applies:   Scope{Classes: powered, Text: "motor vehicles, in the mountain communes that are listed"},
			Winter:    &Winter{Trigger: OnSignedRoads, From: Day{11, 1}, Until: Day{3, 31}, Mark: BothMarks, Required: true},
			Authority: finding.LawInUse, Citation: "Code de la route D314-8", Known: finding.Read,
			Text: Text{Copy: frenchCopy, Words: "la présence conjointe du marquage du « symbole alpin » et de l'un des marquages « M + S »"},
			Says: "From November 1 to March 31 in listed communes winter tires, which carry the mountain with the snowflake and M+S together, on at least two wheels of each axle; heavy vehicles on two steered and two driven wheels. Or chains or socks on board; studded tires count. No depth is named.",
		},
	},
}
