package rulebook

import "gaugebook.dev/calc/finding"

const bulgarianNotice = "ЗДвП чл. 139, as reported"

var euBG = winterOnly("winter-bg", 1, "BG", "Bulgaria (law in use, as reported), winter tires alone",
	Limit{
		ID: "depth", Subject: WinterTire, Value: tread(4), Applies: Scope{Text: "every vehicle on the road"},
		Winter:    &Winter{Trigger: InSeason, From: Day{11, 15}, Until: Day{3, 1}, Required: true, DepthWillDo: true},
		Authority: finding.LawInUse, Citation: bulgarianNotice, Known: finding.Reported,
		Text: Text{By: Agency, Copy: "National Police notice of 2019-11-14", Words: "с гуми, предназначени за зимни условия, или с гуми с дълбочина на протектора не по-малка или равна на 4 mm"},
		Says: "From November 15 to March 1 winter tires, or any tires with at least 4 mm. The press tells of a later split, of winter tires with 1.6 mm on cars and vans; it was not read.",
	},
	Limit{
		ID: "studs", Subject: Studs, Applies: Scope{Text: "every tire"},
		Authority: finding.LawInUse, Citation: "ЗДвП чл. 9(1), as reported", Known: finding.Reported,
		Text: Text{By: Agency, Copy: "National Police notice of 2019-11-14"},
		Says: "No studded tires.",
	},
)
