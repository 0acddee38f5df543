package rulebook

import "gaugebook.dev/calc/finding"

const (
	spanishRules = "Reglamento General de Vehículos, anexo VII."
	spanishCopy  = "version dated 2005-05-17; later amendments are listed and may touch this annex"
)

var euES = Book{
	ID: "eu-es", Version: 2, Country: "ES",
	Title: "Spain (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: CentralThreeQuarters,
			Applies:   smallVehicles,
			Authority: finding.LawInUse, Citation: spanishRules + "2", Known: finding.Read,
			Text: Text{Copy: spanishCopy, Words: "una profundidad en las ranuras principales de la banda de rodamiento que, como mínimo, debe ser de 1,6 mm."},
			Says: "At least 1.6 mm in the main grooves: the wide ones of the central zone, about three-quarters of the tread. Historic vehicles that first had shallower tires are exempt.",
		},
		{
			ID: "cord", Subject: finding.LawCordExposed,
			Applies:   Scope{Text: "every tire, new or retreaded"},
			Authority: finding.LawInUse, Citation: spanishRules + "4", Known: finding.Read,
			Text: Text{Copy: spanishCopy, Words: "no deben presentar cables al descubierto, grietas o síntomas de rotura o dislocación de la carcasa."},
			Says: "No bare cords, cracks or signs of a broken or displaced casing.",
		},
		{
			ID: "separation", Subject: finding.LawSeparation,
			Applies:   Scope{Text: "every tire, new or retreaded"},
			Authority: finding.LawInUse, Citation: spanishRules + "4", Known: finding.Read,
			Text: Text{Copy: spanishCopy},
			Says: "No blisters, abnormal deformation, breaks or layers that part.",
		},
		{
			ID: "regrooved", Subject: Regrooved,
			Applies:   upTo3500("vehicles up to 3,500 kg"),
			Authority: finding.LawInUse, Citation: spanishRules + "4", Known: finding.Read,
			Text: Text{Copy: spanishCopy},
			Says: "Regrooved only over 3,500 kg, and only tires marked as regroovable.",
		},
		{
			ID: "winter-speed", Subject: SlowerTire, Value: kmh(160),
			Applies:   Scope{Classes: powered, Text: "special snow tires"},
			Winter:    &Winter{Mark: MudAndSnowAlone},
			Authority: finding.LawInUse, Citation: spanishRules + "5", Known: finding.Read,
			Text: Text{Copy: spanishCopy, Words: "irán marcados con la inscripción M + S, MS o M & S"},
			Says: "Snow tires, marked M+S, MS or M & S, are made for the vehicle's top speed, or for 160 km/h where it is faster.",
		},
	},
}
