package finding

// What is said beside the numbers of a calculator.
const (
	RemarkMarkingNotUnderstood Remark = "sidewall.marking-not-understood"
	RemarkGeometryNotTold      Remark = "sidewall.geometry-not-told"
	RemarkGeometryNominal      Remark = "sidewall.geometry-nominal"
	RemarkLoadNotTold          Remark = "sidewall.load-not-told"
	RemarkRatedPressureNotTold Remark = "sidewall.rated-pressure-not-told"
	RemarkMarkAssumed          Remark = "sidewall.mark-assumed"
	RemarkSpeedAbove           Remark = "sidewall.speed-above"
	RemarkMade                 Remark = "sidewall.made"
	RemarkMadeHeavy            Remark = "sidewall.made-heavy"
	RemarkAgeFirst             Remark = "sidewall.age-first"
	RemarkDecadeOpen           Remark = "sidewall.decade-open"
	RemarkNoDate               Remark = "sidewall.no-date"
	RemarkNoSuchWeek           Remark = "sidewall.no-such-week"
	RemarkInFuture             Remark = "sidewall.in-future"
	RemarkNotUsed              Remark = "sidewall.not-used"
	RemarkNotASymbol           Remark = "sidewall.not-a-symbol"
	RemarkNotInDate            Remark = "sidewall.not-in-date"
	RemarkEightOrB             Remark = "sidewall.eight-or-b"
	RemarkTooLong              Remark = "sidewall.too-long"
	RemarkRetreadOrEnd         Remark = "sidewall.retread-or-end"
)
