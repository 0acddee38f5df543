package finding

// Findings of what several visits tell.
const (
	TrendOddReading   Code = "trend.odd-reading"
	TrendBrokeIn      Code = "trend.broke-in"
	TrendUneven       Code = "trend.uneven"
	TrendLosesFaster  Code = "trend.loses-faster"
	TrendLosesAlike   Code = "trend.loses-alike"
	TrendReachesLimit Code = "trend.reaches-limit"
	TrendGrew         Code = "trend.grew"
	TrendSetOut       Code = "trend.set-out"
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
)
