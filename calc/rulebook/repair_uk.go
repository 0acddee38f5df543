package rulebook

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/unit"
)

const (
	auSummary    = "BS AU 159, minor repairs, as summarized by the trade association"
	auFitters    = "BS AU 159, as fitters summarize it"
	carsAndVans  = "cars and light vans"
	ofTheSection = "share of the nominal section width, centered on the tread's center line"
)

// repairUK covers minor repairs of car and light van tires. Its sizes are in
// millimeters, so the millimeter is the limit.
var repairUK = Book{
	ID: "repair-uk", Version: 1, Country: "GB",
	Repairs: &Repairs{Area: true, BySpeed: true},
	Title:   "United Kingdom, minor repairs of car and light van tires (published standard)",
	Limits: append([]Limit{
		{
			ID: "hole", Subject: HoleSize, Value: millimeters(6),
			Applies:   Scope{Text: carsAndVans + ", every section width"},
			Authority: finding.PublishedStandard, Citation: auSummary, Known: finding.Reported,
			Says: "At most 6 mm at the base of the injury after preparing. The summary's introduction says less than 6 mm, its table 6 mm: the table is followed, because the 6 mm cutter makes that hole.",
		},
		{
			ID: "area-narrow", Subject: RepairPlace, Value: percent(60),
			Applies:   Scope{WidthUpTo: unit.MustLength(155, unit.Millimeters), Text: "section width up to 155 mm: " + ofTheSection},
			Authority: finding.PublishedStandard, Citation: auSummary, Known: finding.Reported,
			Says: "The repairable area is 60 percent of the nominal section width, half to each side of the center line.",
		},
		{
			ID: "area-middle", Subject: RepairPlace, Value: percent(65),
			Applies: Scope{WidthOver: unit.MustLength(155, unit.Millimeters), WidthUpTo: unit.MustLength(200, unit.Millimeters),
				Text: "section width over 155 and up to 200 mm: " + ofTheSection},
			Authority: finding.PublishedStandard, Citation: auSummary, Known: finding.Reported,
			Says: "The repairable area is 65 percent of the nominal section width, half to each side of the center line.",
		},
		{
			ID: "area-wide", Subject: RepairPlace, Value: percent(70),
			Applies:   Scope{WidthOver: unit.MustLength(200, unit.Millimeters), Text: "section width over 200 mm: " + ofTheSection},
			Authority: finding.PublishedStandard, Citation: auSummary, Known: finding.Reported,
			Says: "The repairable area is 70 percent of the nominal section width, half to each side of the center line.",
		},
		{
			ID: "area-only", Subject: RepairPlace,
			Applies:   Scope{Text: carsAndVans},
			Authority: finding.PublishedStandard, Citation: auSummary, Known: finding.Reported,
			Says: "A hole through the tire is repaired in the area of the tread only, never in the sidewall. One fitter prints the central three-quarters as the area; the association's shares of the section width are followed, because they are nearer the standard.",
		},
		{
			ID: "inside-seen", Subject: RepairMethod,
			Applies:   Scope{Text: carsAndVans},
			Authority: finding.PublishedStandard, Citation: auFitters, Known: finding.Reported,
			Says: "The tire comes off the wheel and is inspected inside and out before it is accepted.",
		},
		{
			ID: "fill-and-seal", Subject: RepairMethod,
			Applies:   Scope{Text: carsAndVans},
			Authority: finding.PublishedStandard, Citation: auSummary, Known: finding.Reported,
			Says: "A combined plug and patch, or a patch with a filler in the channel.",
		},
		{
			ID: "count-fast", Subject: RepairCount, Value: unit.Amount{Number: 1, Unit: unit.Count},
			Applies:   Scope{Text: "speed symbol V and above"},
			Authority: finding.PublishedStandard, Citation: auFitters, Known: finding.Reported,
			Says: "One repair.",
		},
		{
			ID: "count", Subject: RepairCount, Value: unit.Amount{Number: 2, Unit: unit.Count},
			Applies:   Scope{Text: "speed symbols below V"},
			Authority: finding.PublishedStandard, Citation: "BS AU 159f", Known: finding.FromMemory,
			Says: "Two repairs. A weak memory: the standard in force decides.",
		},
		{
			ID: "worn", Subject: RepairReject, Value: tread(1.6),
			Applies:   Scope{Text: carsAndVans},
			Authority: finding.PublishedStandard, Citation: auFitters, Known: finding.Reported,
			Says: "Not repaired below 1.6 mm in the central three-quarters. Level with it counts as worn.",
		},
		{
			ID: "damage", Subject: RepairReject,
			Applies:   Scope{Text: carsAndVans},
			Authority: finding.PublishedStandard, Citation: auFitters, Known: finding.Reported,
			Says: "Not repaired: damage from running low or flat, secondary damage, aging, bead damage, exposed cord.",
		},
		{
			ID: "earlier-repair", Subject: RepairReject,
			Applies:   Scope{Text: carsAndVans},
			Authority: finding.PublishedStandard, Citation: auFitters, Known: finding.Reported,
			Says: "A tire with a poor earlier repair is not repaired again.",
		},
		{
			ID: "overlap", Subject: RepairReject,
			Applies:   Scope{Text: carsAndVans},
			Authority: finding.CommonPractice, Citation: tradePractice, Known: finding.FromMemory,
			Says: "Repair units must not overlap.",
		},
	}, slices.Clone(repairShared)...),
}
