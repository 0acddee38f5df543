package finding

// Findings of statements that cannot both be true: they are asked about, not judged.
const (
	DoubtFlatWithAir   Code = "doubt.flat-with-air"
	DoubtBarsWithTread Code = "doubt.bars-with-tread"
	DoubtSameTire      Code = "doubt.same-tire"
	DoubtOdometerFell  Code = "doubt.odometer-fell"
	DoubtOdometerUnit  Code = "doubt.odometer-unit"
)

// Evidence about statements that cannot both be true.
const (
	FactDoubtSeenFlat      Fact = "doubt.seen-flat"
	FactDoubtSeenFlush     Fact = "doubt.seen-flush"
	FactDoubtToldReplaced  Fact = "doubt.told-replaced"
	FactDoubtBefore        Fact = "doubt.before"
	FactDoubtLaterDay      Fact = "doubt.later-day"
	FactDoubtEarlierDay    Fact = "doubt.earlier-day"
	FactDoubtOtherUnitFits Fact = "doubt.other-unit-fits"
)

// doubtKinds are the findings of statements that cannot both be true.
var doubtKinds = []Kind{
	{Code: DoubtFlatWithAir, Urgency: BeforeDriving, Of: OfTire, Measured: Pressure, Limit: Nothing, Work: WorkMeasureAgain, Caution: CautionRunLow, Again: AgainPressure, Left: LeftNothing},
	{Code: DoubtBarsWithTread, Urgency: ThisVisit, Of: OfTire, Measured: TreadDepth, Limit: TreadDepth, Work: WorkMeasureAgain, Again: AgainDepth, Left: LeftNothing},
	{Code: DoubtSameTire, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainMade, Left: LeftNothing},
	{Code: DoubtOdometerFell, Urgency: Note, Of: OfVehicle, Measured: Distance, Limit: Nothing, Again: AgainAlways, Left: LeftNothing},
	{Code: DoubtOdometerUnit, Urgency: Note, Of: OfVehicle, Measured: Distance, Limit: Nothing, Again: AgainAlways, Left: LeftNothing},
}

// doubtFacts are the evidence about them.
var doubtFacts = []FactKind{
	{Code: FactDoubtSeenFlat, Amount: Nothing},
	{Code: FactDoubtSeenFlush, Amount: Nothing},
	{Code: FactDoubtToldReplaced, Amount: Nothing},
	{Code: FactDoubtBefore, Amount: Distance},
	{Code: FactDoubtLaterDay, Amount: Day},
	{Code: FactDoubtEarlierDay, Amount: Day},
	{Code: FactDoubtOtherUnitFits, Amount: Distance},
}
