package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

// advice is always on: what the tire's own marks and the trade's experience
// say about depth, whatever the law of the place. It binds nobody.
var advice = Book{
	ID: "advice", Version: 1, Title: "Advice on tread depth and wear (binds nobody)",
	Limits: []Limit{
		{
			ID: "wear-bars", Subject: TreadDepth, Value: thirtySeconds(2), Where: AnyPointMajorGroove,
			Applies:   Scope{Text: "every tire read in thirty-seconds: the moulded wear bars"},
			Authority: finding.ModelStandard, Citation: "49 CFR 571.139 S5.4, 571.119 S6.4", Known: finding.Read,
			Says: "Wear bars show at 1/16 in of tread. At the bars a tire is worn out, whatever the law of the place allows.",
		},
		{
			ID: "wear-bars-metric", Subject: TreadDepth, Value: millimeters(1.6), Where: AnyPointMajorGroove,
			Applies:   Scope{Text: "every tire under a metric law: the moulded wear bars"},
			Authority: finding.PublishedStandard, Citation: "UN Regulation 30, wear indicators, as the French order cites it", Known: finding.Read,
			Says: "Wear bars are 1.6 mm high, +0.6/-0 mm: a flush bar means 1.6 to 2.2 mm, worn out, and does not prove less than 1.6 mm.",
		},
		{
			ID: "wet-3mm", Subject: TreadDepth, Value: millimeters(3),
			Applies:   Scope{Text: "cars and vans, wet roads, under a metric law"},
			Authority: finding.CommonPractice, Citation: "common practice of road-safety bodies; wet braking tests of 2003 and 2005, as reported", Known: finding.Reported,
			Says: "Plan replacement at 3 mm: wet braking takes clearly longer below it.",
		},
		{
			ID: "snow-4mm", Subject: TreadDepth, Value: millimeters(4),
			Applies:   Scope{Text: "cars and vans, snow, under a metric law"},
			Authority: finding.CommonPractice, Citation: "national regulator's winter driving advice and German police advice, as reported", Known: finding.Reported,
			Says: "Tires worn close to 4 mm are not for snow.",
		},
		{
			ID: "wet", Subject: TreadDepth, Value: thirtySeconds(4),
			Applies:   Scope{Text: "cars and light trucks, wet roads"},
			Authority: finding.CommonPractice, Citation: "journal study of wet friction against tread depth, 2006, doi 10.1080/15389580500500640 (abstract)", Known: finding.Read,
			Says: "Under 4/32 in about half the friction at highway speed may be lost on a barely wet road.",
		},
		{
			ID: "snow", Subject: TreadDepth, Value: thirtySeconds(5),
			Applies:   Scope{Text: "cars and light trucks, snow"},
			Authority: finding.CommonPractice, Citation: "national regulator's winter driving advice, as reported", Known: finding.Reported,
			Says: "Tires worn close to 4 mm (5/32 in) are not for snow.",
		},
		{
			ID: "winter", Subject: TreadDepth, Value: thirtySeconds(6),
			Applies:   Scope{Text: "cars and light trucks, before winter"},
			Authority: finding.CommonPractice, Citation: "common practice of motoring clubs", Known: finding.Reported,
			Says: "Replace winter tires at about 6/32 in.",
		},
		{
			ID: "axle-pair", Subject: DepthDifference, Value: thirtySeconds(2),
			Applies:   Scope{Text: "the two tires of one axle"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "More than 2/32 in between the two tires of an axle: look for the cause, plan the pair.",
		},
		{
			ID: "front-rear", Subject: DepthDifference, Value: thirtySeconds(2),
			Applies:   Scope{Text: "front against rear, one size all round"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "2/32 in or more between the axles: rotation is due, once the cause of any uneven wear is understood.",
		},
		{
			ID: "likely-car", Subject: LikelyDepth, Value: thirtySeconds(14),
			Applies:   Scope{Classes: []layout.Class{layout.PassengerCar}, Text: "passenger cars"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "Deeper is unlikely on a car: is that right?",
		},
		{
			ID: "likely-light-truck", Subject: LikelyDepth, Value: thirtySeconds(21),
			Applies:   Scope{Classes: []layout.Class{layout.LightTruck, layout.Motorhome}, Text: "light trucks"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "Deeper is unlikely on a light truck: is that right?",
		},
		{
			ID: "likely-heavy", Subject: LikelyDepth, Value: thirtySeconds(32),
			Applies:   Scope{Classes: []layout.Class{layout.Heavy, layout.Bus, layout.Trailer}, Text: "highway trucks, buses and trailers"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "Deeper is unlikely on a highway truck: is that right?",
		},
		{
			ID: "rear-at-most-below", Subject: DepthDifference, Value: thirtySeconds(3),
			Applies:   Scope{Text: "rear pair under the front pair after a rotation"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "No rotation that leaves the shallower pair on the rear at or under 4/32 in, or more than 3/32 in under the front pair.",
		},
		{
			ID: "torque-recheck-from", Subject: WheelWork, Value: miles(50),
			Applies:   Scope{Text: "any wheel that was off"},
			Authority: finding.CommonPractice, Citation: "common practice of the trade press", Known: finding.Reported,
			Says: "Check the torque again after 50 to 100 miles, with the wheel cool: a check at the specified torque, not a further tightening.",
		},
		{
			ID: "torque-recheck-by", Subject: WheelWork, Value: miles(100),
			Applies:   Scope{Text: "any wheel that was off"},
			Authority: finding.CommonPractice, Citation: "common practice of the trade press", Known: finding.Reported,
			Says: "Check the torque again after 50 to 100 miles, with the wheel cool: a check at the specified torque, not a further tightening.",
		},
		{
			ID: "torque-recheck-trailer-first", Subject: WheelWork, Value: miles(10),
			Applies:   Scope{Classes: []layout.Class{layout.Trailer}, Text: "any trailer wheel that was off"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "On a trailer check the torque again after 10, 25 and 50 miles.",
		},
		{
			ID: "bead-seat", Subject: WheelWork, Value: psi(40),
			Applies:   Scope{Text: "seating the beads of any tire"},
			Authority: finding.Maker, Citation: "vehicle and tire makers' manuals", Known: finding.Read,
			Says: "Beads are seated at no more than 40 psi (275 kPa). Not seated by then: let down, lubricate, try again.",
		},
	},
}
