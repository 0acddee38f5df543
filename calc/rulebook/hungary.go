package rulebook

import "gaugebook.dev/calc/finding"

var euHU = winterOnly("winter-hu", 1, "HU", "Hungary (law in use), winter tires alone",
	Limit{
		ID: "depth", Subject: WinterTire, Value: tread(4), Applies: Scope{Text: "tires that are to count as winter tires"},
		Winter:    &Winter{Trigger: WheneverFitted},
		Authority: finding.LawInUse, Citation: "6/1990 KöHÉM 97 § (17a)", Known: finding.Read,
		Text: Text{By: Reprint, Copy: "trade journal that prints the text, undated", Words: "a mintázat magassága (bordázat mélysége) meghaladja a 4 mm-t"},
		Says: "A tire made for winter counts as a winter tire with more than 4 mm; exactly 4 mm is taken as kept here. One that is worn more is judged as any other tire. No general duty to have winter tires was found.",
	},
)
