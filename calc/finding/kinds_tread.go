package finding

// Findings of tread depth.
const (
	TreadOddReading          Code = "tread.odd-reading"
	TreadWornToBars          Code = "tread.worn-to-bars"
	TreadLegalLimit          Code = "tread.legal-limit"
	TreadModelLimit          Code = "tread.model-limit"
	TreadFittingLimit        Code = "tread.fitting-limit"
	TreadCommonMinimum       Code = "tread.common-minimum"
	TreadShopLimit           Code = "tread.shop-limit"
	TreadRoadsideLimit       Code = "tread.roadside-limit"
	TreadMajorDefect         Code = "tread.major-defect" // so little that a law calls it one with which no vehicle goes on
	TreadWetAdvice           Code = "tread.wet-advice"
	TreadSnowAdvice          Code = "tread.snow-advice"
	TreadWinterAdvice        Code = "tread.winter-advice"
	TreadUnlikelyDepth       Code = "tread.unlikely-depth"
	TreadAxleDifference      Code = "tread.axle-difference"
	TreadAxleDifferenceLimit Code = "tread.axle-difference-limit"
)

// Found good, of tread depth.
const (
	CheckedTreadWornToBars    Checked = "tread.worn-to-bars"
	CheckedTreadLegalLimit    Checked = "tread.legal-limit"
	CheckedTreadModelLimit    Checked = "tread.model-limit"
	CheckedTreadRoadsideLimit Checked = "tread.roadside-limit"
	CheckedTreadMajorDefect   Checked = "tread.major-defect"
	CheckedTreadFittingLimit  Checked = "tread.fitting-limit"
	CheckedTreadCommonMinimum Checked = "tread.common-minimum"
	CheckedTreadShopLimit     Checked = "tread.shop-limit"
)

// Evidence about tread depth.
const (
	FactTreadAsRead               Fact = "tread.as-read"
	FactTreadBarsSeenFlush        Fact = "tread.bars-seen-flush"
	FactTreadBarsSeenClear        Fact = "tread.bars-seen-clear"
	FactTreadCountedAsMainGrooves Fact = "tread.counted-as-main-grooves"
	FactTreadPlaceNotTold         Fact = "tread.place-not-told"
	FactTreadUsableLeft           Fact = "tread.usable-left"
	FactTreadNewDepth             Fact = "tread.new-depth"
	FactTreadUnconfirmed          Fact = "tread.unconfirmed"
	FactTreadLeftIsLower          Fact = "tread.left-is-lower"
	FactTreadRightIsLower         Fact = "tread.right-is-lower"
)

// treadKinds are the findings of tread depth.
var treadKinds = []Kind{
	{Code: TreadOddReading, Urgency: ThisVisit, LeavesOpen: true, Of: OfTire, Measured: TreadDepth, Limit: Nothing, Work: WorkMeasureAgain, Again: AgainDepth, Left: LeftNothing},
	{Code: TreadWornToBars, Urgency: ThisVisit, Condition: true, Of: OfTire, Measured: TreadDepth, Limit: TreadDepth, Again: AgainDepth, Left: LeftDepth},
	{Code: TreadLegalLimit, Urgency: BeforeDriving, Of: OfTire, Measured: TreadDepth, Limit: TreadDepth, Again: AgainDepth, Left: LeftDepth, Met: CheckedTreadLegalLimit},
	{Code: TreadModelLimit, Urgency: ThisVisit, Of: OfTire, Measured: TreadDepth, Limit: TreadDepth, Again: AgainDepth, Left: LeftDepth, Met: CheckedTreadModelLimit},
	{Code: TreadFittingLimit, Urgency: BeforeDriving, Of: OfTire, Measured: TreadDepth, Limit: TreadDepth, Again: AgainDepth, Left: LeftNothing, Met: CheckedTreadFittingLimit},
	{Code: TreadCommonMinimum, Urgency: ThisVisit, Of: OfTire, Measured: TreadDepth, Limit: TreadDepth, Again: AgainDepth, Left: LeftDepth, Met: CheckedTreadCommonMinimum},
	{Code: TreadShopLimit, Urgency: Plan, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainDepth, Left: LeftDepth, Met: CheckedTreadShopLimit},
	{Code: TreadRoadsideLimit, Urgency: Note, Of: OfTire, Measured: TreadDepth, Limit: TreadDepth, Again: AgainDepth, Left: LeftDepth, Met: CheckedTreadRoadsideLimit},
	{Code: TreadMajorDefect, Urgency: BeforeDriving, Of: OfTire, Measured: TreadDepth, Limit: TreadDepth, Again: AgainDepth, Left: LeftDepth, Met: CheckedTreadMajorDefect},
	{Code: TreadWetAdvice, Urgency: Plan, Of: OfTire, Measured: TreadDepth, Limit: TreadDepth, Again: AgainDepth, Left: LeftDepth},
	{Code: TreadSnowAdvice, Urgency: Plan, Of: OfTire, Measured: TreadDepth, Limit: TreadDepth, Again: AgainDepth, Left: LeftDepth},
	{Code: TreadWinterAdvice, Urgency: Plan, Of: OfTire, Measured: TreadDepth, Limit: TreadDepth, Again: AgainDepth, Left: LeftDepth},
	{Code: TreadUnlikelyDepth, Urgency: Note, Of: OfTire, Measured: TreadDepth, Limit: TreadDepth, Work: WorkMeasureAgain, Again: AgainDepth, Left: LeftNothing},
	{Code: TreadAxleDifference, Urgency: Plan, Of: OfTire, Measured: TreadDepth, Limit: TreadDepth, Again: AgainDepth, Left: LeftNothing},
	{Code: TreadAxleDifferenceLimit, Urgency: BeforeDriving, Of: OfTire, Measured: TreadDepth, Limit: TreadDepth, Work: WorkTiresMatchAxle, Again: AgainDepth, Left: LeftAxle},
}

// treadFacts are the evidence about tread depth.
var treadFacts = []FactKind{
	{Code: FactTreadAsRead, Amount: TreadDepth},
	{Code: FactTreadBarsSeenFlush, Amount: Nothing, Leaves: Proved},
	{Code: FactTreadBarsSeenClear, Amount: Nothing},
	{Code: FactTreadCountedAsMainGrooves, Amount: Nothing},
	{Code: FactTreadPlaceNotTold, Amount: Nothing},
	{Code: FactTreadUsableLeft, Amount: Share},
	{Code: FactTreadNewDepth, Amount: TreadDepth},
	{Code: FactTreadUnconfirmed, Amount: Nothing, Leaves: Doubtful},
	{Code: FactTreadLeftIsLower, Amount: Nothing},
	{Code: FactTreadRightIsLower, Amount: Nothing},
}

// treadChecked are what is found good of tread depth.
var treadChecked = []CheckedKind{
	{Code: CheckedTreadWornToBars, Measured: TreadDepth, Limit: TreadDepth},
	{Code: CheckedTreadLegalLimit, Measured: TreadDepth, Limit: TreadDepth},
	{Code: CheckedTreadModelLimit, Measured: TreadDepth, Limit: TreadDepth},
	{Code: CheckedTreadMajorDefect, Measured: TreadDepth, Limit: TreadDepth},
	{Code: CheckedTreadRoadsideLimit, Measured: TreadDepth, Limit: TreadDepth},
	{Code: CheckedTreadFittingLimit, Measured: TreadDepth, Limit: TreadDepth},
	{Code: CheckedTreadCommonMinimum, Measured: TreadDepth, Limit: TreadDepth},
	{Code: CheckedTreadShopLimit, Measured: TreadDepth, Limit: TreadDepth},
}
