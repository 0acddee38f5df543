package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/sidewall"
)

// Subjects of the load book.
const (
	LoadLaw          Subject = "load carried at a cold pressure"
	RatedLoad        Subject = "load against the tire's rating"
	PassengerOnTruck Subject = "passenger tire on a truck or trailer"
	AxleCapacity     Subject = "tires of an axle against its rating"
	NormalLoad       Subject = "load in normal use"
	LabelCapacity    Subject = "load carried at the label pressure"
)

const vehicleStandard = "49 CFR 571.110 "

var trucksAndTrailers = []layout.Class{layout.LightTruck, layout.Heavy, layout.Bus, layout.Trailer, layout.Motorhome}

// load is always on: how load goes with pressure, by class of tire, and the
// federal rules for new vehicles that the trade borrows. They bind no driver or
// shop by themselves.
var load = Book{
	ID: "load", Version: 1, Title: "Load: rated load, load at a pressure, tires against the axle",
	Limits: append(loadLaws(),
		Limit{
			ID: "rated", Subject: RatedLoad,
			Applies:   Scope{Text: "every tire with a load index or a load on its sidewall"},
			Authority: finding.Maker, Citation: "tire maker's sidewall marking, 49 CFR 571.139 S5.5, as reported", Known: finding.Reported,
			Says: "No pressure makes a tire carry more than the load on its sidewall.",
		},
		Limit{
			ID: "passenger-on-truck", Subject: PassengerOnTruck, Value: percent(110),
			Applies:   Scope{Classes: trucksAndTrailers, Text: "passenger tires on trucks, multipurpose vehicles, buses and trailers, new"},
			Authority: finding.ModelStandard, Citation: vehicleStandard + "S4.2.2.2", Known: finding.Read,
			Says: "The load rating of a passenger tire on such a vehicle is divided by 1.10.",
		},
		Limit{
			ID: "axle-rating", Subject: AxleCapacity,
			Applies:   Scope{Text: "new vehicles of 10,000 lb or less"},
			Authority: finding.ModelStandard, Citation: vehicleStandard + "S4.2.2.1", Known: finding.Read,
			Says: "The load ratings of an axle's tires, passenger tires on trucks after division by 1.10, add up to at least the axle rating.",
		},
		Limit{
			ID: "normal-load", Subject: NormalLoad, Value: percent(94),
			Applies:   Scope{Text: "new vehicles of 10,000 lb or less, share of the load rating at the label pressure"},
			Authority: finding.ModelStandard, Citation: vehicleStandard + "S4.2.1.2, S4.2.2.3", Known: finding.Read,
			Says:    "In normal use a tire carries at most 94 percent of its load rating at the label pressure.",
			Informs: "what a vehicle carries in normal use is not recorded",
		},
		Limit{
			ID: "label-load", Subject: LabelCapacity,
			Applies:   Scope{Text: "new vehicles of 10,000 lb or less"},
			Authority: finding.ModelStandard, Citation: vehicleStandard + "S4.3.4(c)", Known: finding.Read,
			Says: "At the label pressure the tire's load rating is at least what the loaded vehicle puts on it.",
		},
	),
}

// loadSources tells where each law of load and pressure was read.
var loadSources = map[string]Limit{
	"p-metric": {
		Applies:   Scope{Text: "P-metric tires, from 26 psi on"},
		Authority: finding.PublishedStandard, Citation: "49 CFR 575.104, Tables 1 and 2: shares of the maximum load at the test pressures; the lowest pressure is common practice", Known: finding.Read,
		Says: "The load goes with the square root of the cold pressure, up to the rated load at 240 kPa, extra load at 280 kPa, whatever higher maximum is printed.",
	},
	"metric": {
		Applies:   Scope{Text: "passenger tires in metric sizes without P, from 26 psi on"},
		Authority: finding.PublishedStandard, Citation: "Automotive Engineering: Powertrain, Chassis System and Vehicle Body (textbook), p. 290, load table; the lowest pressure is common practice", Known: finding.Read,
		Says: "The load goes with the power 0.8 of the cold pressure, up to the rated load at 250 kPa, extra load and HL at 290 kPa.",
	},
	"light-truck": {
		Applies:   Scope{Text: "light truck tires, from 35 psi on, where the table starts"},
		Authority: finding.CommonPractice, Citation: "load table of LT235/85R16 in a motorhome specification; load ranges C, D and E at 50, 65 and 80 psi, as reported", Known: finding.Reported,
		Says: "The load goes with the power 0.7 of the cold pressure, up to the rated load at the pressure on the sidewall, else at that of the load range: within 2 percent of the table and of the load index.",
	},
	"heavy": {
		Applies:   Scope{Text: "medium and heavy truck tires, from 70 psi on (from memory)"},
		Authority: finding.CommonPractice, Citation: "trade press on pressure in truck tires, as reported", Known: finding.Reported,
		Says: "The load goes with the power 0.7 of the cold pressure, up to the rated load at the pressure on the sidewall.",
	},
	"rated-only": {
		Applies:   Scope{Text: "trailer (ST), van (C) and temporary spare tires"},
		Authority: finding.CommonPractice, Citation: practice, Known: finding.FromMemory,
		Says: "No table of these tires was read: they carry their rated load at the pressure on the sidewall, and at less it cannot be told.",
	},
}

// loadLaws gives each law of sidewall with its source. The numbers belong together
// and stand there.
func loadLaws() []Limit {
	var ls []Limit
	for _, law := range sidewall.Laws() {
		l := loadSources[law.ID]
		l.ID, l.Subject = law.ID, LoadLaw
		ls = append(ls, l)
	}
	return ls
}
