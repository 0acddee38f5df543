package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

const (
	romanianAct  = "OUG 195/2002 art. 102(1) pt. 28, as reported"
	romanianCopy = "Romanian Police, quoting the act"
)

var (
	romanianWinter = &Winter{Trigger: InConditions, Mark: MudAndSnowAlone, Required: true}

	euRO = winterOnly("winter-ro", 1, "RO", "Romania (law in use, as reported), winter tires alone",
		Limit{
			ID: "winter", Subject: WinterTire, Applies: Scope{Classes: powered, RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar}, Text: "motor vehicles up to 3,500 kg"},
			Winter:    romanianWinter,
			Authority: finding.LawInUse, Citation: romanianAct, Known: finding.Reported,
			Text: Text{By: Agency, Copy: romanianCopy, Words: "conducerea autovehiculului pe drumurile publice acoperite cu zăpadă, gheață sau polei, fără ca acesta să fie dotat cu anvelope de iarnă"},
			Says: "On roads covered with snow, ice or glaze winter tires: marked M+S, M.S. or M&S; no dates and no depth. That all-season tires without the mark are not enough is the register's word, as reported.",
		},
		Limit{
			ID: "heavy-winter", Subject: WinterTire, Applies: Scope{Wheels: DrivenWheels, Classes: powered, RatingOver: thirtyFiveHundredKilograms, Text: "driven axles of goods vehicles over 3,500 kg and of buses of more than 9 seats"},
			Winter:    romanianWinter,
			Authority: finding.LawInUse, Citation: romanianAct, Known: finding.Reported,
			Text: Text{By: Agency, Copy: romanianCopy},
			Says: "On roads covered with snow, ice or glaze winter tires on the driven axles, or chains.",
		},
	)
)
