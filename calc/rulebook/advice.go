package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

// advice is always on: what the tire's own marks and the trade's experience
// say about depth, whatever the law of the place. It binds nobody.
var advice = Book{
	ID: "advice", Version: 3, Title: "Advice on tread depth and wear (binds nobody)",
	Limits: []Limit{
		{
			ID: "wear-bars", Subject: TreadDepth, Value: thirtySeconds(2), Where: AnyPointMajorGroove,
			Applies:   Scope{Text: "every tire read in thirty-seconds: the molded wear bars"},
			Authority: finding.ModelStandard, Citation: "49 CFR 571.139 S5.4, 571.119 S6.4", Known: finding.Read,
			Says: "Wear bars show at 1/16 in of tread. At the bars a tire is worn out, whatever the law of the place allows.",
		},
		{
			ID: "wear-bars-metric", Subject: TreadDepth, Value: tread(1.6), Where: AnyPointMajorGroove,
			Applies:   Scope{Text: "every tire under a metric law: the molded wear bars"},
			Authority: finding.PublishedStandard, Citation: "UN Regulation 30, 6.3.3.3, as cited in French law", Known: finding.Read,
			Says: "Wear bars are 1.6 mm high, +0.6/-0 mm: a flush bar means 1.6 to 2.2 mm, worn out, and does not prove less than 1.6 mm.",
		},
		{
			ID: "wet-3mm", Subject: TreadDepth, Value: tread(3),
			Applies:   Scope{Text: "cars and vans, wet roads, under a metric law"},
			Authority: finding.CommonPractice, Citation: "common practice of road-safety bodies; wet braking tests of 2003 and 2005, as reported", Known: finding.Reported,
			Says: "Plan replacement at 3 mm: wet braking takes clearly longer below it.",
		},
		{
			ID: "snow-4mm", Subject: TreadDepth, Value: tread(4),
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
			ID: "torque-recheck-trailer-second", Subject: WheelWork, Value: miles(25),
			Applies:   Scope{Classes: []layout.Class{layout.Trailer}, Text: "any trailer wheel that was off"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "On a trailer check the torque again after 10, 25 and 50 miles.",
		},
		{
			ID: "torque-recheck-trailer-third", Subject: WheelWork, Value: miles(50),
			Applies:   Scope{Classes: []layout.Class{layout.Trailer}, Text: "any trailer wheel that was off"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "On a trailer check the torque again after 10, 25 and 50 miles.",
		},
		{
			ID: "torque-wrench", Subject: WrenchQuality, Value: percent(4),
			Applies:   Scope{Text: "a torque set with a wrench, ± of the value"},
			Authority: finding.PublishedStandard, Citation: "ISO 6789 (hand torque tools)", Known: finding.FromMemory,
			Says: "A hand torque wrench is good for ±4 percent of the value: closer to the vehicle maker's figure it is the same torque.",
		},
		{
			ID: "bead-seat", Subject: WheelWork, Value: psi(40),
			Applies:   Scope{Text: "seating the beads of any tire"},
			Authority: finding.Maker, Citation: "vehicle and tire makers' manuals", Known: finding.Read,
			Says: "Beads are seated at no more than 40 psi (275 kPa). Not seated by then: let down, lubricate, try again.",
		},
		{
			ID: "shape", Subject: WearShape, Value: thirtySeconds(2),
			Applies:   Scope{Text: "any difference across or round a tire, however fine the gauge"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "A wear shape counts from 2/32 in on, two steps of the usual gauge, and only where it is more than sound tires show. One set of readings tells it only where it is larger by twice its uncertainty; else the readings are taken first that decide it.",
		},
		{
			ID: "sound-spread", Subject: WearShape, Value: percent(50),
			Applies:   Scope{Classes: []layout.Class{layout.PassengerCar, layout.LightTruck, layout.Motorhome}, Text: "share of the depth lost, between places across a sound tire of a car or light truck"},
			Authority: finding.CommonPractice, Citation: "groove wear in controlled tests, 1985 report, abstract", Known: finding.Reported,
			Says: "Inner and outer grooves of sound tires differ by 10 to 50 percent in wear: one edge counts as worn beyond half of what is lost, or beyond three times what the edges of the other axles' tires differ by, where that is less. Without new depths a usual one stands for them.",
		},
		{
			ID: "shape-places", Subject: WearShape, Value: count(3),
			Applies:   Scope{Text: "places round the tire that are read before a shape in doubt is called"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "One reading of a groove may be off by more than a step: inboard, center and outboard are read at three places round the tire.",
		},
		{
			ID: "shape-times", Subject: WearShape, Value: count(2),
			Applies:   Scope{Text: "readings of each of these places where they leave it in doubt"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "Still in doubt at three places, each of them is read a second time. That decides it, and shows how steady the hand is.",
		},
		{
			ID: "pattern-needs", Subject: WearShape, Value: miles(3000),
			Applies:   Scope{Text: "miles at one position before a shape belongs to it"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "2/32 in of uneven wear takes thousands of miles: before 3,000 miles at a position the shape belongs to the former one. Events, such as a locked wheel, need no miles.",
		},
		{
			ID: "no-crown-above", Subject: WearShape, Value: percent(80),
			Applies:   Scope{Text: "tires whose new depths are not known"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "Shoulder grooves are often molded 1/32 to 2/32 in shallower: without new depths no crown shape is called above about 80 percent of the usable tread.",
		},
		{
			ID: "usual-new-car", Subject: WearShape, Value: thirtySeconds(10),
			Applies:   Scope{Classes: []layout.Class{layout.PassengerCar}, Text: "passenger cars, usual new depth"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "A usual new depth, used only to tell a fresh tire from a worn one when its own is not known.",
		},
		{
			ID: "usual-new-light-truck", Subject: WearShape, Value: thirtySeconds(15),
			Applies:   Scope{Classes: []layout.Class{layout.LightTruck, layout.Motorhome}, Text: "light trucks, usual new depth"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "A usual new depth, used only to tell a fresh tire from a worn one when its own is not known.",
		},
		{
			ID: "usual-new-heavy", Subject: WearShape, Value: thirtySeconds(18),
			Applies:   Scope{Classes: []layout.Class{layout.Heavy, layout.Bus, layout.Trailer}, Text: "highway trucks, usual new depth"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "A usual new depth, used only to tell a fresh tire from a worn one when its own is not known.",
		},
		{
			ID: "found-low", Subject: WearShape, Value: percent(90),
			Applies:   Scope{Text: "pressures found at earlier visits, cold, of the label"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "An earlier reading at or under 90 percent of the label speaks for long underinflation; today's reading proves nothing.",
		},
		{
			ID: "found-high", Subject: WearShape, Value: percent(110),
			Applies:   Scope{Text: "pressures found at earlier visits, cold, of the label"},
			Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory,
			Says: "An earlier reading at or over 110 percent of the label speaks for long overinflation; today's reading proves nothing.",
		},
		{
			ID: "rotation-every", Subject: WearShape, Value: miles(5000),
			Applies:   Scope{Text: "cars and light trucks whose tires may be rotated, where the vehicle maker gives no figure"},
			Authority: finding.CommonPractice, Citation: "vehicle and tire makers' bulletins: every 5,000 to 8,000 miles", Known: finding.Read,
			Says: "Rotate again every 5,000 miles from a rotation on.",
		},
		{
			ID: "rotation-by", Subject: WearShape, Value: miles(8000),
			Applies:   Scope{Text: "cars and light trucks whose tires may be rotated"},
			Authority: finding.CommonPractice, Citation: "vehicle and tire makers' bulletins: every 5,000 to 8,000 miles", Known: finding.Read,
			Says: "Without a rotation on record for more than 8,000 miles one is overdue.",
		},
	},
}
