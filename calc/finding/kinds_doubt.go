package finding

// Findings of statements that cannot both be true: they are asked about, not judged.
const (
	DoubtFlatWithAir   Code = "doubt.flat-with-air"
	DoubtBarsWithTread Code = "doubt.bars-with-tread"
	DoubtSameTire      Code = "doubt.same-tire"
	DoubtOdometerFell  Code = "doubt.odometer-fell"
	DoubtOdometerUnit  Code = "doubt.odometer-unit"
	DoubtOdometerFar   Code = "doubt.odometer-far"
	DoubtPressureUnit  Code = "doubt.pressure-unit"
	DoubtLabelUnit     Code = "doubt.label-unit"
	DoubtDepthUnit     Code = "doubt.depth-unit"
	DoubtThumped       Code = "doubt.read-or-thumped"
	DoubtAsBefore      Code = "doubt.readings-as-before"
	DoubtMadeLater     Code = "doubt.made-later"
	DoubtNoSuchWeek    Code = "doubt.no-such-week"
	DoubtSymbol        Code = "doubt.symbol"
	DoubtRim           Code = "doubt.rim"
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
	FactDoubtMeantPressure Fact = "doubt.meant-pressure"
	FactDoubtMeantDepth    Fact = "doubt.meant-depth"
	FactDoubtRun           Fact = "doubt.run"
	FactDoubtWeek          Fact = "doubt.week"
	FactDoubtYear          Fact = "doubt.year"
	FactDoubtSymbolAt      Fact = "doubt.symbol-at"
	FactDoubtRim           Fact = "doubt.rim"
	FactDoubtMeantRim      Fact = "doubt.meant-rim"
)

// doubtKinds are the findings of statements that cannot both be true.
var doubtKinds = []Kind{
	{Code: DoubtFlatWithAir, Urgency: BeforeDriving, Of: OfTire, Measured: Pressure, Limit: Nothing, Work: WorkMeasureAgain, Caution: CautionRunLow, Again: AgainPressure, Left: LeftNothing},
	{Code: DoubtBarsWithTread, Urgency: ThisVisit, Of: OfTire, Measured: TreadDepth, Limit: TreadDepth, Work: WorkMeasureAgain, Again: AgainDepth, Left: LeftNothing},
	{Code: DoubtSameTire, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainMade, Left: LeftNothing},
	{Code: DoubtOdometerFell, Urgency: Note, Of: OfVehicle, Measured: Distance, Limit: Nothing, Again: AgainAlways, Left: LeftNothing},
	{Code: DoubtOdometerUnit, Urgency: Note, Of: OfVehicle, Measured: Distance, Limit: Nothing, Again: AgainAlways, Left: LeftNothing},
	{Code: DoubtOdometerFar, Urgency: Note, Of: OfVehicle, Measured: Distance, Limit: Nothing, Again: AgainAlways, Left: LeftNothing},
	{Code: DoubtPressureUnit, Urgency: BeforeDriving, Of: OfPlace, Measured: Pressure, Limit: Nothing, Work: WorkMeasureToSettle, Caution: CautionRunLow, Again: AgainPressure, Left: LeftNothing},
	{Code: DoubtLabelUnit, Urgency: ThisVisit, LeavesOpen: true, Of: OfPlace, Measured: Pressure, Limit: Nothing, Work: WorkMeasureToSettle, Again: AgainPressure, Left: LeftNothing},
	{Code: DoubtDepthUnit, Urgency: ThisVisit, LeavesOpen: true, Of: OfPlace, Measured: TreadDepth, Limit: Nothing, Work: WorkMeasureAgain, Again: AgainDepth, Left: LeftNothing},
	{Code: DoubtThumped, Urgency: ThisVisit, LeavesOpen: true, Of: OfPlace, Measured: Pressure, Limit: Nothing, Work: WorkMeasureToSettle, Again: AgainPressure, Left: LeftNothing},
	{Code: DoubtAsBefore, Urgency: ThisVisit, LeavesOpen: true, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkMeasureAgain, Again: AgainDepth, Left: LeftNothing},
	{Code: DoubtMadeLater, Urgency: Note, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainMade, Left: LeftNothing},
	{Code: DoubtNoSuchWeek, Urgency: Note, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainMade, Left: LeftNothing},
	{Code: DoubtSymbol, Urgency: Note, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainMade, Left: LeftNothing},
	{Code: DoubtRim, Urgency: Note, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainMarking, Left: LeftNothing},
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
	{Code: FactDoubtMeantPressure, Amount: Pressure},
	{Code: FactDoubtMeantDepth, Amount: TreadDepth},
	{Code: FactDoubtRun, Amount: Distance},
	{Code: FactDoubtWeek, Amount: Number},
	{Code: FactDoubtYear, Amount: Number},
	{Code: FactDoubtSymbolAt, Amount: Number},
	{Code: FactDoubtRim, Amount: Length},
	{Code: FactDoubtMeantRim, Amount: Length},
}
