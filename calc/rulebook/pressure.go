package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

// Subjects of the pressure book.
const (
	ColdPressure  Subject = "cold pressure against the label"
	SidewallLimit Subject = "cold pressure against the sidewall"
	RunLow        Subject = "run low"
	AirOnVehicle  Subject = "adding air on the vehicle"
	RimWheels     Subject = "servicing of rim wheels"
	DualSpread    Subject = "pressure difference of a dual pair"
	Alike         Subject = "pressures down alike"
	LampShare     Subject = "warning lamp, share of the label"
	LampFloor     Subject = "warning lamp, floor"
	LampRated     Subject = "warning lamp, rated pressure of the tire class"
	ColdMeaning   Subject = "what cold means"
	WarmAllowance Subject = "rise of pressure by driving"
	GaugeQuality  Subject = "accuracy of a pressure gauge"
	SourceQuality Subject = "accuracy of a tire temperature"
)

const (
	ownerInformation = "vehicle owner's information on cold pressure, as reported"
	practice         = "common practice"
	lampTable        = "49 CFR 571.138 S4.2(a), Table 1"
)

var largeVehicles = []layout.Class{layout.Heavy, layout.Bus, layout.Trailer, layout.Motorhome}

// pressure is always on: what a pressure reading means, when a tire counts as
// run low, and how good gauges and temperatures are when nobody says.
var pressure = Book{
	ID: "pressure", Version: 2, Title: "Pressure: label, sidewall, run low, gauges",
	Limits: []Limit{
		{
			ID: "label", Subject: ColdPressure,
			Applies:   Scope{Text: "every tire of a vehicle with a label"},
			Authority: finding.Maker, Citation: "vehicle maker's door label", Known: finding.Read,
			Says: "The cold pressure on the vehicle's label is the figure to set, for the load carried.",
		},
		{
			ID: "low", Subject: ColdPressure, Value: percent(90),
			Applies:   Scope{Text: "every tire, share of the label pressure, cold"},
			Authority: finding.CommonPractice, Citation: practice, Known: finding.FromMemory,
			Says: "10 percent or more below the label, cold, is put right at this visit.",
		},
		{
			ID: "sidewall", Subject: SidewallLimit,
			Applies:   Scope{Text: "every tire with a pressure on its sidewall"},
			Authority: finding.Maker, Citation: "tire maker's sidewall marking, 49 CFR 571.139 S5.5, as reported", Known: finding.Reported,
			Says: "The sidewall figure is a maximum for the cold tire. A warm tire may read more.",
		},
		{
			ID: "run-low-steel", Subject: RunLow, Value: percent(80),
			Applies:   Scope{Text: "steel-cord truck, bus, light truck and trailer tires, share of the pressure for the load"},
			Authority: finding.CommonPractice, Citation: "industry guideline on steel-cord radial tires, as reported by the trade press", Known: finding.Reported,
			Says: "Run at less than 80 percent of the recommended pressure counts as run flat: off the rim and inspected inside before it returns to service.",
		},
		{
			ID: "run-low-fabric", Subject: RunLow, Value: percent(50),
			Applies:   Scope{Text: "car tires and light truck tires with a fabric body, share of the label pressure"},
			Authority: finding.CommonPractice, Citation: practice, Known: finding.FromMemory,
			Says: "Driven flat or at less than half of the label pressure: no air, off the rim and inspected inside.",
		},
		{
			ID: "run-low-marks", Subject: RunLow,
			Applies:   Scope{Text: "every tire"},
			Authority: finding.CommonPractice, Citation: practice, Known: finding.FromMemory,
			Says: "A scuff ring all round the sidewall, rubber dust inside, a wrinkled liner or a burnt smell says that the tire ran low, whatever it reads now.",
		},
		{
			ID: "find-leak", Subject: ColdPressure, Value: percent(80),
			Applies:   Scope{Text: "car tires and light truck tires with a fabric body, share of the label pressure"},
			Authority: finding.CommonPractice, Citation: practice, Known: finding.FromMemory,
			Says: "Between half and 80 percent of the label: look at both sidewalls, find the leak, and look inside whenever the tire is off its rim anyway.",
		},
		{
			ID: "air-on-vehicle", Subject: AirOnVehicle, Value: percent(80),
			Applies:   Scope{Classes: largeVehicles, Text: "multi-piece rim wheels of large vehicles; binds employers; not cars, nor pickups and vans on car tires or tires marked LT"},
			Authority: finding.LawInUse, Citation: "29 CFR 1910.177(f)(4)", Known: finding.Read, Binds: finding.BindsEmployer,
			Says: "A tire may be inflated on the vehicle only when it has more than 80 percent of the recommended pressure, with remote equipment and nobody in the trajectory.",
		},
		{
			ID: "air-on-vehicle-steel", Subject: AirOnVehicle, Value: percent(80),
			Applies:   Scope{Classes: largeVehicles, Text: "steel-cord tires of large vehicles on wheels of one piece, and where nobody told the kind of wheel"},
			Authority: finding.CommonPractice, Citation: "industry guideline on steel-cord radial tires, as reported by the trade press", Known: finding.Reported,
			Says: "At 80 percent of the recommended pressure or less a steel-cord tire gets no air on the vehicle.",
		},
		{
			ID: "air-on-vehicle-light", Subject: AirOnVehicle, Value: percent(80),
			Applies:   Scope{Classes: []layout.Class{layout.LightTruck}, Text: "steel-cord tires of light trucks, by the same habit"},
			Authority: finding.CommonPractice, Citation: practice, Known: finding.FromMemory,
			Says: "At 80 percent of the label or less a steel-cord tire gets no air on the vehicle.",
		},
		{
			ID: "deflate-first", Subject: AirOnVehicle, Value: percent(80),
			Applies:   Scope{Classes: largeVehicles, Text: "multi-piece rim wheels of large vehicles; binds employers"},
			Authority: finding.LawInUse, Citation: "29 CFR 1910.177(f)(2)(i)", Known: finding.FromMemory, Binds: finding.BindsEmployer,
			Says:    "At 80 percent of the recommended pressure or less the core comes out and the tire is let down fully before the wheel comes off the axle.",
			Informs: "air-on-vehicle judges the same share, and the order of work lets the tire down",
		},
		{
			ID: "deflate-damaged", Subject: RimWheels,
			Applies:   Scope{Classes: largeVehicles, Text: "multi-piece rim wheels of large vehicles; binds employers"},
			Authority: finding.LawInUse, Citation: "29 CFR 1910.177(f)(2)(ii)", Known: finding.Reported, Binds: finding.BindsEmployer,
			Says: "With obvious or suspected damage to tire or wheel the core comes out and the tire is let down fully before it is demounted.",
		},
		{
			ID: "one-piece", Subject: RimWheels,
			Applies:   Scope{Classes: largeVehicles, Text: "single-piece rim wheels of large vehicles; binds employers"},
			Authority: finding.LawInUse, Citation: "29 CFR 1910.177(g)", Known: finding.Reported, Binds: finding.BindsEmployer,
			Says: "Let down fully before it is demounted; filled in a device, behind a barrier or bolted on the vehicle with every nut tight; nobody in the trajectory.",
		},
		{
			ID: "restrained", Subject: RimWheels,
			Applies:   Scope{Classes: largeVehicles, Text: "rim wheels of large vehicles; binds employers"},
			Authority: finding.LawInUse, Citation: "29 CFR 1910.177(d)(1)-(3)", Known: finding.Reported, Binds: finding.BindsEmployer,
			Says:    "Multi-piece wheels are filled in a restraining device; those of one piece in a device or behind a barrier, unless bolted on a vehicle.",
			Informs: "the order of work says where each tire is filled",
		},
		{
			ID: "under-air-first", Subject: RimWheels, Value: psi(20),
			Applies:   Scope{Text: "steel-cord tires that ran low, in the restraining device"},
			Authority: finding.CommonPractice, Citation: "industry guideline on steel-cord radial tires, as reported by the trade press", Known: finding.Reported,
			Says: "First to 20 psi, looked at and listened to; then to the pressure it works at.",
		},
		{
			ID: "dual-spread", Subject: DualSpread, Value: psi(5),
			Applies:   Scope{Text: "the two tires of a dual pair"},
			Authority: finding.CommonPractice, Citation: practice, Known: finding.FromMemory,
			Says: "More than 5 psi between the two tires of a pair: the fuller one carries the other's load.",
		},
		{
			ID: "alike", Subject: Alike, Value: psi(3),
			Applies:   Scope{Text: "all tires of a vehicle, how far each is below its label"},
			Authority: finding.CommonPractice, Citation: practice, Known: finding.FromMemory,
			Says: "All down alike, within 3 psi of one another, is weather and time and not as many leaks.",
		},
		{
			ID: "lamp-share", Subject: LampShare, Value: percent(75),
			Applies:   Scope{RatingUpTo: tenThousandPounds, Text: "cars, vans, light trucks and buses of 10,000 lb or less without dual wheels"},
			Authority: finding.ModelStandard, Citation: "49 CFR 571.138 S4.2(a)", Known: finding.Read,
			Says: "The lamp has to come on at or below the higher of 75 percent of the label pressure and the floor of the tire's class. A dark lamp proves nothing above that.",
		},
		lampFloor("standard", 140, "P-metric, standard load"),
		lampFloor("extra", 160, "P-metric, extra load"),
		lampFloor("range-c", 200, "load range C"),
		lampFloor("range-d", 240, "load range D"),
		lampFloor("range-e", 240, "load range E"),
		lampRated("standard-240", 240, "P-metric, standard load"),
		lampRated("standard-300", 300, "P-metric, standard load"),
		lampRated("standard-350", 350, "P-metric, standard load"),
		lampRated("extra-280", 280, "P-metric, extra load"),
		lampRated("extra-340", 340, "P-metric, extra load"),
		lampRated("range-c-350", 350, "load range C"),
		lampRated("range-d-450", 450, "load range D"),
		lampRated("range-e-550", 550, "load range E"),
		{
			ID: "cold-parked", Subject: ColdMeaning, Value: unit.Amount{Number: 3, Unit: unit.Hours},
			Applies:   Scope{Text: "every tire"},
			Authority: finding.CommonPractice, Citation: ownerInformation, Known: finding.Reported,
			Says: "Cold: not driven for at least 3 hours.",
		},
		{
			ID: "cold-distance", Subject: ColdMeaning, Value: unit.Amount{Number: 1, Unit: unit.Miles},
			Applies:   Scope{Text: "every tire"},
			Authority: finding.CommonPractice, Citation: ownerInformation, Known: finding.Reported,
			Says: "Still cold: driven less than 1 mile since, at moderate speed.",
		},
		allowance("warm-light-from", 2, "cars and light trucks at 33 psi, the least"),
		allowance("warm-light-to", 6, "cars and light trucks at 33 psi, the most"),
		allowance("warm-light-at", 33, "the pressure at which the light figures hold; above it they grow with the absolute pressure, as the gas law lets any rise grow (this book's own decision)"),
		allowance("warm-heavy-from", 10, "heavy truck and bus tires, the least"),
		allowance("warm-heavy-to", 15, "heavy truck and bus tires, the most"),
		gauge("gauge-digital", 1, "digital gauge, ± of the reading"),
		gauge("gauge-dial", 1, "dial gauge, ± of the reading"),
		gauge("gauge-stick", 2, "stick gauge, ± of the reading"),
		gauge("gauge-inflator", 3, "gauge of an inflator, ± of the reading"),
		gauge("gauge-tpms", 1.5, "pressure sensor in the wheel, ± of the reading"),
		gauge("gauge-not-told", 2, "gauge not told, ± of the reading"),
		gauge("gauge-resolution", 1, "one step of any gauge whose steps are not told"),
		temperatureSource("temperature-sensor", 3, "sensor in the wheel: the contained air"),
		temperatureSource("temperature-infrared", 10, "infrared on the sidewall: the surface"),
		temperatureSource("temperature-drive", 15, "estimated from the drive"),
		temperatureSource("temperature-bay", 3, "air of the bay in which the tire stood until it had the same temperature"),
	},
}

func lampFloor(class string, floor float64, text string) Limit {
	return Limit{
		ID: "lamp-floor-" + class, Subject: LampFloor, Value: kPa(floor), Applies: Scope{RatingUpTo: tenThousandPounds, Text: text},
		Authority: finding.ModelStandard, Citation: lampTable, Known: finding.Read,
		Says: "The lowest pressure at which the lamp of a vehicle on this class of tire may first come on.",
	}
}

func lampRated(id string, rated float64, text string) Limit {
	return Limit{
		ID: "lamp-rated-" + id, Subject: LampRated, Value: kPa(rated), Applies: Scope{RatingUpTo: tenThousandPounds, Text: text},
		Authority: finding.ModelStandard, Citation: lampTable, Known: finding.Read,
		Says: "A maximum or rated pressure by which the table knows this class of tire.",
	}
}

func allowance(id string, n float64, text string) Limit {
	return Limit{
		ID: id, Subject: WarmAllowance, Value: psi(n), Applies: Scope{Text: text},
		Authority: finding.CommonPractice, Citation: practice, Known: finding.FromMemory,
		Says: "Pressure rises by driving: 2 to 6 psi on a car, 10 to 15 psi on a heavy truck.",
	}
}

func gauge(id string, n float64, text string) Limit {
	return Limit{
		ID: id, Subject: GaugeQuality, Value: psi(n), Applies: Scope{Text: text},
		Authority: finding.CommonPractice, Citation: practice, Known: finding.FromMemory,
		Says: "Taken when the gauge in the hand says nothing better; a finer display is not a better gauge.",
	}
}

func temperatureSource(id string, n float64, text string) Limit {
	return Limit{
		ID: id, Subject: SourceQuality, Value: unit.Amount{Number: n, Unit: unit.Celsius}, Applies: Scope{Text: text},
		Authority: finding.CommonPractice, Citation: practice, Known: finding.FromMemory,
		Says: "How far, up or down in degrees Celsius, the tire's air may be from the temperature given.",
	}
}
