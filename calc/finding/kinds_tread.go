package finding

// Findings of tread depth.
const (
	TreadOddReading          Code = "tread.odd-reading"
	TreadWornToBars          Code = "tread.worn-to-bars"
	TreadLegalLimit          Code = "tread.legal-limit"
	TreadModelLimit          Code = "tread.model-limit"
	TreadShopLimit           Code = "tread.shop-limit"
	TreadRoadsideLimit       Code = "tread.roadside-limit"
	TreadWetAdvice           Code = "tread.wet-advice"
	TreadSnowAdvice          Code = "tread.snow-advice"
	TreadWinterAdvice        Code = "tread.winter-advice"
	TreadUnlikelyDepth       Code = "tread.unlikely-depth"
	TreadAxleDifference      Code = "tread.axle-difference"
	TreadAxleDifferenceLimit Code = "tread.axle-difference-limit"
)

// Found good, of tread depth.
const (
	CheckedTreadWornToBars Checked = "tread.worn-to-bars"
	CheckedTreadLegalLimit Checked = "tread.legal-limit"
	CheckedTreadModelLimit Checked = "tread.model-limit"
	CheckedTreadShopLimit  Checked = "tread.shop-limit"
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
