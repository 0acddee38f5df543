package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

const (
	argentineDecree = "Decreto 779/95, art. "
	argentineCopy   = "as replaced by Decreto 32/2018, as kept on 2026-06-23"
)

var ar = Book{
	ID: "ar", Version: 1, Country: "AR",
	Title: "Argentina (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: CentralThreeQuarters,
			Applies:   Scope{Text: "motor vehicles, but motorcycles and mopeds"},
			Authority: finding.LawInUse, Citation: argentineDecree + "48 inc. l", Known: finding.Read,
			Text: Text{Copy: argentineCopy, Words: "La profundidad mínima de los canales de la banda de rodamiento es de UNO CON SEIS DÉCIMAS DE MILIMETRO (1,6 mm)."},
			Says: "At least 1.6 mm in the grooves of the central zone of the tread (art. 29, 4.3). How wide that is was not read: three-quarters is taken.",
		},
		{
			ID: "cord", Subject: finding.LawCordExposed,
			Applies:   Scope{Text: "motor vehicles"},
			Authority: finding.LawInUse, Citation: argentineDecree + "48 inc. l", Known: finding.Read,
			Text: Text{Copy: argentineCopy, Words: "cortaduras que lleguen al casco, desprendimientos o separaciones del caucho"},
			Says: "No cut to the casing, no wear that bares plies.",
		},
		{
			ID: "separation", Subject: finding.LawSeparation,
			Applies:   Scope{Text: "motor vehicles"},
			Authority: finding.LawInUse, Citation: argentineDecree + "48 inc. l", Known: finding.Read,
			Text: Text{Copy: argentineCopy, Words: "cortaduras que lleguen al casco, desprendimientos o separaciones del caucho"},
			Says: "No rubber that comes off or parts.",
		},
		{
			ID: "construction", Subject: ConstructionMix,
			Applies:   Scope{Text: "every axle or tandem"},
			Authority: finding.LawInUse, Citation: argentineDecree + "48 inc. l", Known: finding.Read,
			Text: Text{Copy: argentineCopy, Words: "Los neumáticos de un mismo eje o conjunto (tándem), deben ser de igual tamaño, tipo, construcción"},
			Says: "Tires of one axle or tandem are alike in size, type and construction. Not with a spare in use.",
		},
		{
			ID: "radial-ahead", Subject: RadialAhead,
			Applies:   Scope{Classes: []layout.Class{layout.PassengerCar}, Text: "cars"},
			Authority: finding.LawInUse, Citation: argentineDecree + "48 inc. l", Known: finding.Read,
			Text: Text{Copy: argentineCopy},
			Says: "On a car with bias and radial tires the radials are on the rear axle.",
		},
		{
			ID: "front-retread", Subject: RetreadOnFront,
			Applies:   Scope{Wheels: FrontWheels, Classes: []layout.Class{layout.Heavy, layout.Bus}, Text: "front axles of trucks and of buses of medium and long distance"},
			Authority: finding.LawInUse, Citation: argentineDecree + "48 inc. l", Known: finding.Read,
			Text: Text{Copy: argentineCopy},
			Says: "No retreads on front axles of trucks, or of buses of medium and long distance.",
		},
		{
			ID: "regrooved", Subject: Regrooved,
			Applies:   Scope{Text: "motor vehicles"},
			Authority: finding.LawInUse, Citation: argentineDecree + "48 inc. l", Known: finding.Read,
			Text: Text{Copy: argentineCopy, Words: "Se prohíbe la utilización de neumáticos redibujados"},
			Says: "No regrooved tires, but those made for it by the national standard.",
		},
	},
}
