package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/unit"
)

// Subjects of the trend book.
const (
	TreadGrowth  Subject = "tread that grew"
	BreakIn      Subject = "break-in"
	LinearWear   Subject = "linear wear"
	NewDepth     Subject = "depth when new"
	PressureLoss Subject = "pressure lost with time"
	Driving      Subject = "distance driven by day"
	ComingDue    Subject = "a limit that comes near"
)

// trend is always on: when readings over time tell how fast a tire wears or
// loses pressure.
var trend = Book{
	ID: "trend", Version: 2, Title: "Wear and pressure over time",
	Limits: []Limit{
		{
			ID: "growth", Subject: TreadGrowth, Value: thirtySeconds(2),
			Applies:   Scope{Text: "two readings of one tire, the later one deeper"},
			Authority: finding.CommonPractice, Citation: practice, Known: finding.FromMemory,
			Says: "Tread does not grow. Up to one step of the gauge is noise; 2/32 in is a move that nobody recorded, another tire, or a misreading: ask.",
		},
		{
			ID: "break-in", Subject: BreakIn, Value: miles(800),
			Applies:   Scope{Text: "new tires"},
			Authority: finding.ModelStandard, Citation: "49 CFR 575.104(e)(2)", Known: finding.Read,
			Says: "The treadwear course runs new tires 800 miles before the first measurement. Early wear can be faster than later wear.",
		},
		{
			ID: "linear-share", Subject: LinearWear, Value: percent(95),
			Applies:   Scope{Text: "share of the variation that a straight line explains, after break-in"},
			Authority: finding.PublishedStandard, Citation: "ASTM F1016, scope", Known: finding.Read,
			Says: "Wear is linear when a straight line explains at least 95 percent over at least three intervals of measurement. Irregular wear is not meant.",
		},
		{
			ID: "linear-intervals", Subject: LinearWear, Value: count(3),
			Applies:   Scope{Text: "intervals of measurement, after break-in"},
			Authority: finding.PublishedStandard, Citation: "ASTM F1016, scope", Known: finding.Read,
			Says: "At least three intervals of measurement tell linear wear.",
		},
		{
			ID: "pace-changes", Subject: LinearWear, Value: percent(140),
			Applies:   Scope{Text: "of the wear rate so far, in what comes"},
			Authority: finding.CommonPractice, Citation: practice, Known: finding.FromMemory,
			Says: "Driver, load, road and season change, and an alignment goes: the ends of a life allow for wear that comes 1.4 times as fast as it was, or as slow. With it they hold where the last stretch wore half as fast again and goes on so, for it is among the readings (error rates as published).",
		},
		{
			ID: "new-of-groove", Subject: NewDepth, Value: thirtySeconds(1),
			Applies:   Scope{Text: "a depth when new that is told for the groove"},
			Authority: finding.CommonPractice, Citation: practice, Known: finding.FromMemory,
			Says: "The depth when new by design is taken as right within 1/32 in either way.",
		},
		{
			ID: "new-of-tire", Subject: NewDepth, Value: thirtySeconds(2),
			Applies:   Scope{Text: "one depth when new for all grooves of a tire"},
			Authority: finding.CommonPractice, Citation: practice, Known: finding.FromMemory,
			Says: "Grooves of one tread are often molded 1/32 to 2/32 in apart: one figure for the tire is taken as right within 2/32 in either way.",
		},
		{
			ID: "loss-usual", Subject: PressureLoss, Value: psiPerMonth(1),
			Applies:   Scope{Text: "any tire, both readings brought to one temperature"},
			Authority: finding.CommonPractice, Citation: "vehicle owner's information on cold pressure, as reported", Known: finding.Reported,
			Says: "About 1 psi a month is what a sound tire loses.",
		},
		{
			ID: "loss-leak", Subject: PressureLoss, Value: psiPerMonth(3),
			Applies:   Scope{Text: "one tire against the others of the vehicle"},
			Authority: finding.CommonPractice, Citation: practice, Known: finding.FromMemory,
			Says: "One tire that loses over 3 psi a month more than the others has a leak to find. All alike is weather and time, not as many leaks.",
		},
		{
			ID: "pace", Subject: Driving, Value: days(30),
			Applies:   Scope{Text: "days between two readings of the odometer"},
			Authority: finding.CommonPractice, Citation: practice, Known: finding.FromMemory,
			Says: "Less than a month between two visits tells nothing of how far a vehicle is driven in a day.",
		},
		{
			ID: "due", Subject: ComingDue, Value: miles(8000),
			Applies:   Scope{Text: "distance to the limit of a tire"},
			Authority: finding.CommonPractice, Citation: practice, Known: finding.FromMemory,
			Says: "A limit that may be reached before the next rotation falls due, 8,000 miles at most, is planned for; a later one is told.",
		},
	},
}

func count(n float64) unit.Amount       { return unit.Amount{Number: n, Unit: unit.Count} }
func days(n float64) unit.Amount        { return unit.Amount{Number: n, Unit: unit.Days} }
func psiPerMonth(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.PSIPerMonth} }
