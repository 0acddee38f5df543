package rulebook

import "gaugebook.dev/calc/finding"

var cl = Book{
	ID: "cl", Version: 1, Country: "CL",
	Title: "Chile (law in use, in part)",
	Limits: []Limit{
		{
			ID: "condition", Subject: Fitness,
			Applies:   Scope{Text: "motor vehicles"},
			Authority: finding.LawInUse, Citation: "Ley de Tránsito, art. 69", Known: finding.Read,
			Text:    Text{Copy: "text of 2009", Words: "No podrán circular aquellos cuyos neumáticos tengan sus bandas de rodadura desgastadas"},
			Says:    "No vehicle goes on with worn treads, lost grip or unsafe repairs. The law has no number; that of the inspection was not found.",
			Informs: "it names no depth",
		},
	},
}
