package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

// Subjects of the book on fitment, and of the laws on constructions.
const (
	AllWheelDrive   Subject = "tires of an all-wheel drive"
	PairTread       Subject = "tread difference in a dual pair"
	PairClass       Subject = "size class of dual pairs"
	ValveRating     Subject = "pressure a valve is made for"
	TireAgeAdvised  Subject = "age of a tire, advised"
	ConstructionMix Subject = "radial and bias tires on one axle"
	RadialAhead     Subject = "radial tires ahead of bias tires"
	SpeedShown      Subject = "speed shown on the speedometer"
	TapeQuality     Subject = "accuracy of a tape"
)

const armyManual = "US Army TM 9-2610-200-14, Table 2-1"

func years(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.Years} }

// fitment is always on: which tires match, what a valve is made for, and how
// old a tire may become. It binds nobody; the vehicle and tire makers' own
// figures come first.
var fitment = Book{
	ID: "fitment", Version: 1, Title: "Fitment: matched tires, valves, age (binds nobody)",
	Limits: []Limit{
		{
			ID: "awd-depth", Subject: AllWheelDrive, Value: thirtySeconds(2),
			Applies:   Scope{Text: "all-wheel drive, any two tires of one design and size"},
			Authority: finding.CommonPractice, Citation: "common practice of the trade", Known: finding.Reported,
			Says: "Tread within 2/32 in side to side and front to back. Others say less than 3/32 in, or 4/32 in for some makers: the vehicle maker's own figure comes first.",
		},
		{
			ID: "awd-depth-other", Subject: AllWheelDrive, Value: thirtySeconds(3),
			Applies:   Scope{Text: "all-wheel drive, another practice"},
			Authority: finding.CommonPractice, Citation: "common practice of the trade", Known: finding.Reported,
			Says: "Another practice: less than 3/32 in. Named as evidence only.",
		},
		{
			ID: "awd-depth-most", Subject: AllWheelDrive, Value: thirtySeconds(4),
			Applies:   Scope{Text: "all-wheel drive, the widest practice"},
			Authority: finding.CommonPractice, Citation: "vehicle makers' handbooks", Known: finding.FromMemory,
			Says: "Up to 4/32 in for some makers. Named as evidence only.",
		},
		{
			ID: "awd-circumference", Subject: AllWheelDrive, Value: inches(0.25),
			Applies:   Scope{Text: "all-wheel drive, any two tires, by a tape"},
			Authority: finding.CommonPractice, Citation: "common practice of the trade, several vehicle makers' rule", Known: finding.Reported,
			Says: "Circumferences within 1/4 in (6 mm). That is 1.27/32 in of tread: no gauge of 1/32 in can judge it, a tape can.",
		},
		{
			ID: "dual-small", Subject: PairDiameter, Value: inches(0.25),
			Applies:   Scope{Text: "dual pairs to the 8.25-20 size class"},
			Authority: finding.CommonPractice, Citation: "common practice of the trade press", Known: finding.Reported,
			Says: "Overall diameters within 1/4 in, circumferences within 3/4 in. That the figure ends with the 8.25-20 class is as remembered.",
		},
		{
			ID: "dual-army-middle", Subject: PairDiameter, Value: inches(0.375),
			Applies:   Scope{Text: "dual pairs from 30 to 40 in overall diameter"},
			Authority: finding.PublishedStandard, Citation: armyManual + " (military standard)", Known: finding.Read,
			Says: "Overall diameters within 3/8 in, circumferences within 1 1/8 in. The stricter of this and the trade's figure is used.",
		},
		{
			ID: "dual-large", Subject: PairDiameter, Value: inches(0.5),
			Applies:   Scope{Text: "dual pairs above the 8.25-20 size class"},
			Authority: finding.CommonPractice, Citation: "common practice, tire makers' tables", Known: finding.FromMemory,
			Says: "Overall diameters within 1/2 in, circumferences within 1 1/2 in.",
		},
		{
			ID: "dual-class-up-to", Subject: PairClass, Value: inches(39),
			Applies:   Scope{Text: "overall diameter up to which a tire is of the 8.25-20 size class or smaller"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "8.25-20 stands about 38 in tall, 9.00-20 about 40 in.",
		},
		{
			ID: "dual-army-up-to", Subject: PairClass, Value: inches(40),
			Applies:   Scope{Text: "overall diameter up to which 3/8 in is the army's figure"},
			Authority: finding.PublishedStandard, Citation: armyManual + " (military standard)", Known: finding.Read,
			Says: "From 30 to 40 in: 3/8 in; from 40 to 50 in: 1/2 in.",
		},
		{
			ID: "dual-tread", Subject: PairTread, Value: thirtySeconds(4),
			Applies:   Scope{Text: "dual pairs of one design and size"},
			Authority: finding.CommonPractice, Citation: "common practice of the trade press", Known: finding.Reported,
			Says: "Tread within 4/32 in, which is 1/4 in of diameter. Only within one design and size: else measure the diameter.",
		},
		{
			ID: "valve-snap-in", Subject: ValveRating, Value: psi(65),
			Applies:   Scope{Text: "ordinary rubber snap-in valves without a marking of their own"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "An ordinary rubber snap-in valve is made for 65 psi cold; above that a high-pressure or clamp-in stem.",
		},
		{
			ID: "age-check", Subject: TireAgeAdvised, Value: years(5),
			Applies:   Scope{Text: "every tire, by its date of making"},
			Authority: finding.CommonPractice, Citation: "common practice, advice of tire and vehicle makers", Known: finding.FromMemory,
			Says: "Makers commonly advise yearly checks after five or six years.",
		},
		{
			ID: "age-replace", Subject: TireAgeAdvised, Value: years(10),
			Applies:   Scope{Text: "every tire, by its date of making, where its maker gives no figure"},
			Authority: finding.CommonPractice, Citation: "common practice, advice of tire and vehicle makers", Known: finding.FromMemory,
			Says: "Makers commonly advise replacement by ten years. No age limit of law is known here.",
		},
		{
			ID: "age-apart", Subject: TireAgeAdvised, Value: years(2),
			Applies:   Scope{Text: "the tires of one axle"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "Tires made so far apart were not bought as a pair: look whether they are of one design.",
		},
		{
			ID: "age-together", Subject: TireAgeAdvised, Value: years(1),
			Applies:   Scope{Classes: []layout.Class{layout.Trailer}, Text: "tires of a trailer and its spare"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "On a trailer age governs before tread: where joined cracks finish one tire, those as old are replaced with it.",
		},
		{
			ID: "shown-mph", Subject: SpeedShown, Value: unit.Amount{Number: 60, Unit: unit.MilesPerHour},
			Applies:   Scope{Text: "example, where speed is shown in miles per hour"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "The speed at which the effect of another diameter is told.",
		},
		{
			ID: "shown-kmh", Subject: SpeedShown, Value: unit.Amount{Number: 100, Unit: unit.KilometersPerHour},
			Applies:   Scope{Text: "example, where speed is shown in kilometers per hour"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "The speed at which the effect of another diameter is told.",
		},
		{
			ID: "tape-graduation", Subject: TapeQuality, Value: inches(0.0625),
			Applies:   Scope{Text: "a tape or caliper, when nothing finer was told"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "One graduation of 1/16 in.",
		},
		{
			ID: "tape-repeatability", Subject: TapeQuality, Value: inches(0.03125),
			Applies:   Scope{Text: "a tape or caliper, when nothing finer was told"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "Read with a standard deviation of 1/32 in.",
		},
	},
}
