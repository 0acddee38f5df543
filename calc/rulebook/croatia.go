package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

const croatianRules = "Croatian winter equipment duty, technical ordinance art. 104, as reported"

var (
	croatianWinter = &Winter{Trigger: OnSignedRoads, From: Day{11, 15}, Until: Day{4, 15}, Required: true, DepthWillDo: true}

	euHR = winterOnly("winter-hr", 1, "HR", "Croatia (law in use, as reported), winter tires alone",
		Limit{
			ID: "depth", Subject: WinterTire, Value: tread(4),
			Applies:   Scope{RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar}, Text: "all wheels, up to 3,500 kg"},
			Winter:    croatianWinter,
			Authority: finding.LawInUse, Citation: croatianRules, Known: finding.Reported,
			Says: "From November 15 to April 15 on winter sections M+S tires on all wheels, or summer tires with at least 4 mm and chains on board; elsewhere on snow or ice. Most of the coast of Dalmatia is outside.",
		},
		Limit{
			ID: "heavy-depth", Subject: WinterTire, Value: tread(4), Applies: over3500(DrivenWheels, "driven wheels, over 3,500 kg"), Winter: croatianWinter,
			Authority: finding.LawInUse, Citation: croatianRules, Known: finding.Reported,
			Says: "From November 15 to April 15 on winter sections M+S tires on the driven wheels, or summer tires with at least 4 mm and chains on board.",
		},
	)
)
