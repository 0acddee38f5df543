package rulebook

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// Subjects of repair rules.
const (
	HoleSize      Subject = "size of the hole"
	RepairPlace   Subject = "place of the injury"
	RepairMethod  Subject = "method of repair"
	RepairReject  Subject = "not repaired"
	RepairCount   Subject = "number of repairs"
	ReadingDoubt  Subject = "uncertainty of a reading"
	RepairAdvice  Subject = "advice beside a repair"
	repairLight           = "passenger and light truck tires"
	repairTruck           = "medium and heavy truck tires"
	usProcedure           = "US tire industry's puncture repair procedure, passenger and light truck"
	materialMaker         = "repair-material maker's bulletin"
	tradePress            = "trade press"
	tradePractice         = "common practice"
)

// repairShared goes into every repair book: what a reading is good for when the
// gauge is not told, and the angle at which the method changes.
var repairShared = []Limit{
	{
		ID: "found-size-uncertainty", Subject: ReadingDoubt, Value: millimeters(0.5),
		Applies:   Scope{Text: "a hole or object measured from outside, expanded (k = 2)"},
		Authority: finding.CommonPractice, Citation: tradePractice, Known: finding.FromMemory,
		Says: "A size read on a worn nail or a closed hole is good to about half a millimeter.",
	},
	{
		ID: "distance-uncertainty", Subject: ReadingDoubt, Value: millimeters(1),
		Applies:   Scope{Text: "a distance across the tread read on a rule, expanded (k = 2)"},
		Authority: finding.CommonPractice, Citation: tradePractice, Known: finding.FromMemory,
		Says: "A rule laid over the tread is good to about a millimeter.",
	},
	{
		ID: "angle-uncertainty", Subject: ReadingDoubt, Value: unit.Amount{Number: 5, Unit: unit.Degrees},
		Applies:   Scope{Text: "the angle of a probe in the injury, expanded (k = 2)"},
		Authority: finding.CommonPractice, Citation: tradePractice, Known: finding.FromMemory,
		Says: "The slant of a probe is judged to about five degrees.",
	},
	{
		ID: "angle", Subject: RepairMethod, Value: unit.Amount{Number: 25, Unit: unit.Degrees},
		Applies:   Scope{Text: "all tires"},
		Authority: finding.CommonPractice, Citation: materialMaker + "; " + tradePress, Known: finding.Read,
		Says: "A one-piece combination unit fits a straight channel or one slanted up to 25 degrees. Over that the repair is two-piece, stem and patch, still within the limit of size. It chooses the method; by itself it rejects nothing.",
	},
	{
		ID: "maker-policy", Subject: RepairReject,
		Applies:   Scope{Text: "self-supporting, foam-lined and sealant-lined tires"},
		Authority: finding.Maker, Citation: "the tire maker's own repair policy", Known: finding.FromMemory,
		Says: "Whether such a tire may be repaired, and how, only its maker's procedure says. A policy that was not given is not supposed.",
	},
	{
		ID: "fast", Subject: RepairAdvice, Value: unit.Amount{Number: 240, Unit: unit.KilometersPerHour},
		Applies:   Scope{Text: "what speed symbol V and above means"},
		Authority: finding.PublishedStandard, Citation: "speed symbol table, Automotive Engineering (textbook), p. 291", Known: finding.Reported,
		Says: "V stands for 240 km/h. Whether the symbol still holds after a repair is the tire maker's word.",
	},
	{
		ID: "age-advice", Subject: RepairAdvice, Value: unit.Amount{Number: 10, Unit: unit.Years},
		Applies:   Scope{Text: "all tires"},
		Authority: finding.CommonPractice, Citation: "tire makers' common advice", Known: finding.FromMemory,
		Says: "Makers commonly advise replacement by 10 years from the date code. Age alone bars no repair.",
	},
}

// repairUS is a trade's procedure, not a law. Its sizes are names of cutters in
// inches, so the inch is the limit: 1/4 in is 6.35 mm, 3/8 in is 9.525 mm.
var repairUS = Book{
	ID: "repair-us", Version: 1, Country: "US",
	Repairs: &Repairs{Trucks: true},
	Title:   "United States, nail-hole repair (practice of the trade)",
	Limits: append([]Limit{
		{
			ID: "hole-fabric", Subject: HoleSize, Value: inches(0.25),
			Applies:   Scope{Body: sidewall.FabricBody, Text: "fabric body: passenger, and light truck through load range E"},
			Authority: finding.CommonPractice, Citation: usProcedure, Known: finding.Reported,
			Says: "At most 1/4 in, measured at the widest after preparing. The inch is the limit because the cutters are named by it; the 6 mm printed beside it is its rounding. Some shops stop at 3/16 in: that is not followed, because it is a shop's own rule.",
		},
		{
			ID: "hole-steel", Subject: HoleSize, Value: inches(0.375),
			Applies:   Scope{Body: sidewall.SteelBody, Text: "steel body: light truck from load range F, medium and heavy truck"},
			Authority: finding.CommonPractice, Citation: materialMaker + "; " + tradePress, Known: finding.Read,
			Says: "At most 3/8 in, measured at the widest after preparing. The inch is the limit; the 10 mm printed beside it is its rounding. Over that it is a section repair by a full-service repairer.",
		},
		{
			ID: "crown-only", Subject: RepairPlace,
			Applies:   Scope{Text: repairLight},
			Authority: finding.CommonPractice, Citation: usProcedure, Known: finding.Reported,
			Says: "In the crown only: no hole in the shoulder, the sidewall or the bead is repaired, at any size.",
		},
		{
			ID: "crown-grooves", Subject: RepairPlace,
			Applies:   Scope{Text: repairLight},
			Authority: finding.CommonPractice, Citation: materialMaker, Known: finding.Read,
			Says: "Between the outermost grooves. A web article's middle three-quarters of the tread is not followed, because it is wider on most patterns and the weaker source. Where the distance from the shoulder edge is known too, the stricter of both governs.",
		},
		{
			ID: "crown-edge", Subject: RepairPlace, Value: inches(1),
			Applies:   Scope{Text: repairLight},
			Authority: finding.CommonPractice, Citation: tradePress + ", a tire maker as quoted", Known: finding.Reported,
			Says: "At least 1 in from the shoulder edge of the tread.",
		},
		{
			ID: "truck-crown", Subject: RepairPlace, Value: inches(1.5),
			Applies:   Scope{Text: repairTruck},
			Authority: finding.CommonPractice, Citation: tradePress, Known: finding.Reported,
			Says: "Sources put the edge of the crown at 1 in and at 1 to 1.5 in from the shoulder. At 1.5 in and more all agree; between 1 and 1.5 in the repairer's own rule decides, and nothing is decided here.",
		},
		{
			ID: "truck-shoulder", Subject: RepairPlace, Value: inches(1),
			Applies:   Scope{Text: repairTruck},
			Authority: finding.CommonPractice, Citation: "trade column on section repairs", Known: finding.Reported,
			Says: "Nearer than 1 in is the shoulder: a section repair, not a nail-hole repair. A repair-material maker allows a two-piece unit there up to 3/8 in; the trade column is followed because it is the stricter.",
		},
		{
			ID: "inside-seen", Subject: RepairMethod,
			Applies:   Scope{Text: "all tires"},
			Authority: finding.CommonPractice, Citation: usProcedure + "; voluntary practices of the repair and retread trade, 2020", Known: finding.Reported,
			Says: "The tire comes off the wheel and is inspected inside. Nothing is repaired on the wheel or from outside.",
		},
		{
			ID: "fill-and-seal", Subject: RepairMethod,
			Applies:   Scope{Text: "all tires"},
			Authority: finding.CommonPractice, Citation: usProcedure + "; " + materialMaker, Known: finding.Read,
			Says: "The channel is filled by a rubber stem and the liner is sealed by a patch. A plug alone or a patch alone is no repair; neither is a tube.",
		},
		{
			ID: "earlier-repair", Subject: RepairReject,
			Applies:   Scope{Text: "all tires"},
			Authority: finding.CommonPractice, Citation: usProcedure, Known: finding.Reported,
			Says: "A tire with an improper earlier repair is taken out of service.",
		},
		{
			ID: "worn", Subject: RepairReject, Value: thirtySeconds(2),
			Applies:   Scope{Text: "all tires"},
			Authority: finding.CommonPractice, Citation: usProcedure, Known: finding.Reported,
			Says: "At or below 2/32 in a tire is worn out and not repaired. Reports differ on whether exactly 2/32 in passes: the stricter is followed, because it is level with the wear bars.",
		},
		{
			ID: "overlap", Subject: RepairReject,
			Applies:   Scope{Text: "all tires"},
			Authority: finding.CommonPractice, Citation: usProcedure, Known: finding.FromMemory,
			Says: "Repair units must not overlap.",
		},
		{
			ID: "count", Subject: RepairCount,
			Applies:   Scope{Text: "all tires"},
			Authority: finding.CommonPractice, Citation: "tire makers' policies", Known: finding.FromMemory,
			Says: "The trade sets no number of repairs. Makers do; injuries close together or opposite each other need their word.",
		},
		{
			ID: "damage", Subject: RepairReject,
			Applies:   Scope{Text: "all tires"},
			Authority: finding.CommonPractice, Citation: materialMaker, Known: finding.Read,
			Says: "Not repaired: marks of running low or flat, separation of liner or body, cord or ply seen, deformed or torn bead, open cracks, impact damage, a ripple along the cords of a steel body. A scuff ring seen from outside alone is looked into first: only with the tire off is it told from a scraped curb.",
		},
		{
			ID: "section-not-on-steer", Subject: RepairPlace,
			Applies:   Scope{Text: "steering axle of a commercial motor vehicle"},
			Authority: finding.LawInUse, Citation: "49 CFR Part 396, Appendix A, item 10", Known: finding.Reported,
			Says: "No boot, blowout patch or other ply repair on the steering axle.",
		},
		{
			ID: "steer-nail-hole", Subject: RepairPlace,
			Applies:   Scope{Text: "steering axle of a commercial motor vehicle"},
			Authority: finding.CommonPractice, Citation: tradePress + ", quoting the department of transportation", Known: finding.Reported,
			Says: "A nail-hole repair in the crown of a steer tire is allowed: it is no ply repair. One dealer page says that repaired steer tires are barred by law; it is not followed, because the text of the appendix bars ply repairs only.",
		},
	}, slices.Clone(repairShared)...),
}
