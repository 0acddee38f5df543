package finding

// Questions whose answers would allow more.
const (
	AskSameDesign               Question = "fitment.ask-same-design"
	AskTapedHow                 Question = "fitment.ask-taped-how"
	AskMarking                  Question = "fitment.ask-marking"
	AskLabelSize                Question = "fitment.ask-label-size"
	AskLabelLoad                Question = "fitment.ask-label-load"
	AskSeasonMarks              Question = "fitment.ask-season-marks"
	AskReading                  Question = "inflation.need-reading"
	AskLabel                    Question = "inflation.need-label"
	AskDriven                   Question = "inflation.need-driven"
	AskOutsideTemperature       Question = "inflation.need-outside-temperature"
	AskRotationDrive            Question = "ask.rotation-drive"
	AskRotationArrow            Question = "ask.rotation-arrow"
	AskRotationStudded          Question = "ask.rotation-studded"
	AskSnowSlushOrIce           Question = "ask.snow-slush-or-ice"
	AskWinterMark               Question = "ask.winter-mark"
	AskFastenerWork             Question = "ask.fastener-work"
	AskSeats                    Question = "ask.seats"
	AskWeekOfMaking             Question = "ask.week-of-making"
	AskLoadRating               Question = "ask.load-rating"
	AskLoadDual                 Question = "ask.load-dual"
	AskMovedUnrecorded          Question = "ask.moved-unrecorded"
	AskTpmsKind                 Question = "ask.tpms-kind"
	AskSpareEquipment           Question = "ask.spare-equipment"
	AskClassOrRating            Question = "ask.class-or-rating"
	AskDate                     Question = "ask.date"
	AskDepth                    Question = "ask.depth"
	AskFittedDepth              Question = "ask.fitted-depth"
	AskAcross                   Question = "ask.across"
	AskBusinessAcrossStateLines Question = "ask.business-across-state-lines"
	AskCombinedRating           Question = "ask.combined-rating"
	AskCountry                  Question = "ask.country"
	AskGrossRating              Question = "ask.gross-rating"
	AskState                    Question = "ask.state"
	AskProvince                 Question = "ask.province"
	AskOdometer                 Question = "ask.odometer"
	AskRim                      Question = "ask.rim"
	AskSpareInUse               Question = "ask.spare-in-use"
	AskRoadTire                 Question = "ask.road-tire"
	AskSpareHandbook            Question = "ask.spare-handbook"
)

// questionKinds are the questions.
var questionKinds = []QuestionKind{
	{Code: AskSameDesign, About: AboutOther},
	{Code: AskTapedHow, About: AboutOther},
	{Code: AskMarking, About: AboutOther},
	{Code: AskLabelSize, About: AboutOther},
	{Code: AskLabelLoad, About: AboutOther},
	{Code: AskSeasonMarks, About: AboutOther},
	{Code: AskReading, About: AboutPressure},
	{Code: AskLabel, About: AboutPressure},
	{Code: AskDriven, About: AboutPressure},
	{Code: AskOutsideTemperature, About: AboutPressure},
	{Code: AskRotationDrive, About: AboutOther},
	{Code: AskRotationArrow, About: AboutOther},
	{Code: AskRotationStudded, About: AboutOther},
	{Code: AskSnowSlushOrIce, About: AboutOther},
	{Code: AskWinterMark, About: AboutOther},
	{Code: AskFastenerWork, About: AboutOther},
	{Code: AskSeats, About: AboutOther},
	{Code: AskWeekOfMaking, About: AboutOther},
	{Code: AskLoadRating, About: AboutOther},
	{Code: AskLoadDual, About: AboutOther},
	{Code: AskMovedUnrecorded, About: AboutOther},
	{Code: AskTpmsKind, About: AboutOther},
	{Code: AskSpareEquipment, About: AboutOther},
	{Code: AskClassOrRating, About: AboutOther},
	{Code: AskDate, About: AboutOther},
	{Code: AskDepth, About: AboutDepth},
	{Code: AskFittedDepth, About: AboutDepth},
	{Code: AskAcross, About: AboutShape},
	{Code: AskBusinessAcrossStateLines, About: AboutOther},
	{Code: AskCombinedRating, About: AboutOther},
	{Code: AskCountry, About: AboutPlace},
	{Code: AskGrossRating, About: AboutOther},
	{Code: AskState, About: AboutPlace},
	{Code: AskProvince, About: AboutPlace},
	{Code: AskOdometer, About: AboutOther},
	{Code: AskRim, About: AboutHarm},
	{Code: AskSpareInUse, About: AboutHarm},
	{Code: AskRoadTire, About: AboutOther},
	{Code: AskSpareHandbook, About: AboutOther},
}
