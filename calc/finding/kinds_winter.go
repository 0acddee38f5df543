package finding

// Findings of the rules on winter tires.
const (
	TreadWinterMark       Code = "tread.winter-mark"
	TreadWinterMinimum    Code = "tread.winter-minimum"
	TreadWinterTireAdvice Code = "tread.winter-tire-advice"
	TreadStudsBarred      Code = "tread.studs-barred" // on this day, or on any
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

// winterKinds are the findings of the rules on winter tires.
var winterKinds = []Kind{
	{Code: TreadWinterMark, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainDepth, Left: LeftNothing},
	{Code: TreadWinterMinimum, Urgency: ThisVisit, Of: OfTire, Measured: TreadDepth, Limit: TreadDepth, Again: AgainDepth, Left: LeftDepth},
	{Code: TreadStudsBarred, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTiresFitRight, Again: AgainMarking, Left: LeftNothing},
	{Code: TreadWinterTireAdvice, Urgency: Plan, Of: OfTire, Measured: TreadDepth, Limit: TreadDepth, Again: AgainDepth, Left: LeftDepth},
}

// winterFacts are the evidence about the rules on winter tires.
var winterFacts = []FactKind{
	{Code: FactTreadWinterWheneverFitted, Amount: Nothing},
	{Code: FactTreadWinterSignedRoads, Amount: Nothing},
	{Code: FactTreadWinterDayNotTold, Amount: Nothing},
	{Code: FactTreadWinterInSeason, Amount: Nothing},
	{Code: FactTreadWinterRoadWintry, Amount: Nothing},
	{Code: FactTreadWinterRoadClear, Amount: Nothing},
	{Code: FactTreadWinterRoadNotAsked, Amount: Nothing},
	{Code: FactTreadWinterMarkNotRead, Amount: Nothing},
}

// winterChecked are what is found good of the rules on winter tires.
var winterChecked = []CheckedKind{
	{Code: CheckedTreadWinterMark, Measured: Nothing, Limit: Nothing},
	{Code: CheckedTreadWinterMinimum, Measured: TreadDepth, Limit: TreadDepth},
}
