package finding

// Findings of the rules on winter tires.
const (
	TreadWinterMark       Code = "tread.winter-mark"
	TreadWinterMinimum    Code = "tread.winter-minimum"
	TreadWinterTireAdvice Code = "tread.winter-tire-advice"
)

// Found good, of the rules on winter tires.
const (
	CheckedTreadWinterMark    Checked = "tread.winter-mark"
	CheckedTreadWinterMinimum Checked = "tread.winter-minimum"
)

// Evidence about the rules on winter tires.
const (
	FactTreadWinterWheneverFitted Fact = "tread.winter-whenever-fitted"
	FactTreadWinterSignedRoads    Fact = "tread.winter-signed-roads"
	FactTreadWinterDayNotTold     Fact = "tread.winter-day-not-told"
	FactTreadWinterInSeason       Fact = "tread.winter-in-season"
	FactTreadWinterRoadWintry     Fact = "tread.winter-road-wintry"
	FactTreadWinterRoadClear      Fact = "tread.winter-road-clear"
	FactTreadWinterRoadNotAsked   Fact = "tread.winter-road-not-asked"
	FactTreadWinterMarkNotRead    Fact = "tread.winter-mark-not-read"
)
