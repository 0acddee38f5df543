package finding

// Findings of what several visits tell.
const (
	TrendOddReading   Code = "trend.odd-reading"
	TrendBrokeIn      Code = "trend.broke-in"
	TrendUneven       Code = "trend.uneven"
	TrendUnsteady     Code = "trend.unsteady" // and a life is told all the same
	TrendLosesFaster  Code = "trend.loses-faster"
	TrendLosesAlike   Code = "trend.loses-alike"
	TrendReachesLimit Code = "trend.reaches-limit"
	TrendGrew         Code = "trend.grew"
	TrendSetOut       Code = "trend.set-out"
	TrendFirstOut     Code = "trend.first-out"
	// TrendNewestInDoubt: the newest reading contradicts the line of the older ones, and
	// nobody read it twice.
	TrendNewestInDoubt Code = "trend.newest-in-doubt"
	// TrendWearsOtherwise: the same, and reading it again gave the same.
	TrendWearsOtherwise Code = "trend.wears-otherwise"
)

// Evidence about what several visits tell.
const (
	FactTrendSetAside           Fact = "trend.set-aside"
	FactTrendOddAt              Fact = "trend.odd-at"
	FactTrendAgo                Fact = "trend.ago"
	FactTrendDays               Fact = "trend.days"
	FactTrendLoss               Fact = "trend.loss"
	FactTrendTemperatureNotTold Fact = "trend.temperature-not-told"
	FactTrendMayBeNow           Fact = "trend.may-be-now"
	FactTrendEarliest           Fact = "trend.earliest"
	FactTrendNoLatest           Fact = "trend.no-latest"
	FactTrendLatest             Fact = "trend.latest"
	FactTrendRate               Fact = "trend.rate"
	FactTrendReadings           Fact = "trend.readings"
	FactTrendDay                Fact = "trend.day"
	FactTrendEarliestDay        Fact = "trend.earliest-day"
	FactTrendLatestDay          Fact = "trend.latest-day"
	FactTrendNewDepthAssumed    Fact = "trend.new-depth-assumed"
	FactTrendNotLinear          Fact = "trend.not-linear"
	FactTrendWas                Fact = "trend.was"
	FactTrendWasNew             Fact = "trend.was-new"
	FactTrendIs                 Fact = "trend.is"
	FactTrendPairOut            Fact = "trend.pair-out"
	FactTrendWholeSet           Fact = "trend.whole-set"
	FactTrendExpected           Fact = "trend.expected"
	FactTrendLookAgain          Fact = "trend.look-again"
	FactTrendReadTwice          Fact = "trend.read-twice"
)

// trendKinds are the findings of what several visits tell.
var trendKinds = []Kind{
	{Code: TrendOddReading, Urgency: Note, Of: OfTire, Measured: TreadDepth, Limit: Nothing, Again: AgainDepth, Left: LeftNothing},
	{Code: TrendBrokeIn, Urgency: Note, Of: OfTire, Measured: TreadDepth, Limit: Distance, Again: AgainDepth, Left: LeftNothing},
	{Code: TrendUneven, Urgency: Plan, Of: OfTire, Measured: Share, Limit: Share, Again: AgainDepth, Left: LeftNothing},
	{Code: TrendUnsteady, Urgency: Note, Of: OfTire, Measured: Share, Limit: Share, Again: AgainDepth, Left: LeftNothing},
	{Code: TrendLosesFaster, Urgency: Plan, Of: OfTire, Measured: PressureLoss, Limit: PressureLoss, Again: AgainPressure, Left: LeftNothing},
	{Code: TrendLosesAlike, Urgency: Note, Calms: true, Of: OfTire, Measured: PressureLoss, Limit: PressureLoss, Again: AgainPressure, Left: LeftNothing},
	{Code: TrendReachesLimit, Urgency: Note, Of: OfTire, Measured: Distance, Limit: TreadDepth, Again: AgainDepth, Left: LeftNothing, Beside: true},
	{Code: TrendGrew, Urgency: Note, Of: OfTire, Measured: TreadDepth, Limit: TreadDepth, Again: AgainDepth, Left: LeftNothing},
	{Code: TrendSetOut, Urgency: Note, Of: OfTire, Measured: Distance, Limit: Nothing, Again: AgainDepth, Left: LeftNothing, Beside: true},
	{Code: TrendFirstOut, Urgency: Note, Of: OfTire, Measured: Distance, Limit: TreadDepth, Again: AgainDepth, Left: LeftNothing},
	{Code: TrendNewestInDoubt, Urgency: ThisVisit, Of: OfTire, Measured: TreadDepth, Limit: Nothing, Work: WorkMeasureAgain, Again: AgainDepth, Left: LeftNothing},
	{Code: TrendWearsOtherwise, Urgency: Plan, Of: OfTire, Measured: TreadDepth, Limit: Nothing, Again: AgainDepth, Left: LeftNothing},
}

// trendFacts are the evidence about what several visits tell.
var trendFacts = []FactKind{
	{Code: FactTrendSetAside, Amount: TreadDepth},
	{Code: FactTrendOddAt, Amount: Distance},
	{Code: FactTrendAgo, Amount: Distance},
	{Code: FactTrendDays, Amount: Number},
	{Code: FactTrendLoss, Amount: PressureLoss},
	{Code: FactTrendTemperatureNotTold, Amount: Nothing},
	{Code: FactTrendMayBeNow, Amount: Nothing},
	{Code: FactTrendEarliest, Amount: Distance},
	{Code: FactTrendNoLatest, Amount: Nothing},
	{Code: FactTrendLatest, Amount: Distance},
	{Code: FactTrendRate, Amount: WearRate},
	{Code: FactTrendReadings, Amount: Number},
	{Code: FactTrendDay, Amount: Day},
	{Code: FactTrendEarliestDay, Amount: Day},
	{Code: FactTrendLatestDay, Amount: Day},
	{Code: FactTrendNewDepthAssumed, Amount: TreadDepth},
	{Code: FactTrendNotLinear, Amount: Share, Retired: true},
	{Code: FactTrendWas, Amount: TreadDepth},
	{Code: FactTrendWasNew, Amount: TreadDepth},
	{Code: FactTrendIs, Amount: TreadDepth},
	{Code: FactTrendPairOut, Amount: Distance},
	{Code: FactTrendWholeSet, Amount: Distance},
	{Code: FactTrendExpected, Amount: TreadDepth},
	{Code: FactTrendLookAgain, Amount: Distance},
	{Code: FactTrendReadTwice, Amount: Nothing},
}
