package finding

// Findings of wheel, fasteners, torque, valve, sensor, dual pair and the chassis around them.
const (
	FastenerCountDiffers     Code = "fastener.count-differs" // from how many hold a wheel of this vehicle
	FastenerDamaged          Code = "fastener.damaged"       // and not all of them renewed
	FastenerTooFewRenewed    Code = "fastener.too-few-renewed"
	FastenerFacesNotCleaned  Code = "fastener.faces-not-cleaned"
	FastenerNotStaged        Code = "fastener.not-staged"
	TorqueNoRecord           Code = "torque.no-record"
	TorqueDiffers            Code = "torque.differs"
	TorqueFastenerMoved      Code = "torque.fastener-moved"
	TorqueRecheckIncomplete  Code = "torque.recheck-incomplete"
	TorqueRecheckLate        Code = "torque.recheck-late"
	TorqueRecheckOwed        Code = "torque.recheck-owed"
	ValveCoreSeizes          Code = "valve.core-seizes"
	ValveUnderRated          Code = "valve.under-rated"
	SensorNotLearned         Code = "sensor.not-learned" // the vehicle takes sensors for being at other wheels
	SensorNotAnswering       Code = "sensor.not-answering"
	SensorBatteryLow         Code = "sensor.battery-low"
	SensorDiffers            Code = "sensor.differs"          // from the gauge, by more than both can be off
	SensorAllDifferAlike     Code = "sensor.all-differ-alike" // the one gauge is in doubt, not every sensor
	ChassisPartBent          Code = "chassis.part-bent"
	ChassisSteeringPlay      Code = "chassis.steering-play"
	ChassisSuspensionPlay    Code = "chassis.suspension-play"
	WheelBent                Code = "wheel.bent"
	WheelCrack               Code = "wheel.crack"
	ChassisBearingPlay       Code = "chassis.bearing-play"
	ChassisDamperWeak        Code = "chassis.damper-weak"
	FastenerLoose            Code = "fastener.loose"
	FastenerMissing          Code = "fastener.missing"
	FastenerBroken           Code = "fastener.broken"
	FastenerStretched        Code = "fastener.stretched"
	ChassisBrakeDragging     Code = "chassis.brake-dragging"
	ValveLeaking             Code = "valve.leaking"
	WheelLeaking             Code = "wheel.leaking"
	WheelBeadSeatCorroded    Code = "wheel.bead-seat-corroded"
	WheelGreaseInside        Code = "wheel.grease-inside"
	ValveCracked             Code = "valve.cracked"
	ValveBent                Code = "valve.bent"
	ValveCorroded            Code = "valve.corroded"
	WheelHolesElongated      Code = "wheel.holes-elongated"
	WheelWelded              Code = "wheel.welded"
	WheelWrongWidth          Code = "wheel.wrong-width"
	FastenerRustStreaks      Code = "fastener.rust-streaks"
	FastenerWrongSeat        Code = "fastener.wrong-seat"
	FastenerCappedNutSwollen Code = "fastener.capped-nut-swollen"
	WheelSpacer              Code = "wheel.spacer"
	DualTouching             Code = "dual.touching"
	DualTooClose             Code = "dual.too-close"
	DualObjectBetween        Code = "dual.object-between"
	DualValveBlocked         Code = "dual.valve-blocked"
	ValveCapMissing          Code = "valve.cap-missing"
	ValveExtension           Code = "valve.extension"
	SensorRelearnOwed        Code = "sensor.relearn-owed"
	SensorLampAsLeft         Code = "sensor.lamp-as-left"
	WheelMultiPiece          Code = "wheel.multi-piece" // what a law says of how it is handled
	WheelOnePiece            Code = "wheel.one-piece"
)

// Found good, of wheel, fasteners, torque, valve, sensor, dual pair and the chassis around them.
const (
	CheckedValveUnderRated Checked = "valve.under-rated"
	CheckedTorqueRecorded  Checked = "torque.recorded"
	CheckedTorqueRechecked Checked = "torque.rechecked"
	CheckedSensorAgrees    Checked = "sensor.agrees"
)

// Evidence about wheel, fasteners, torque, valve, sensor, dual pair and the chassis around them.
const (
	FactTorqueValueNotTold            Fact = "torque.value-not-told"
	FactTorqueLimitingStick           Fact = "torque.limiting-stick"
	FactTorqueImpactOnly              Fact = "torque.impact-only"
	FactTorqueToolNotTold             Fact = "torque.tool-not-told"
	FactTorqueOdometerNotTold         Fact = "torque.odometer-not-told"
	FactTorqueNameNotTold             Fact = "torque.name-not-told"
	FactTorqueWheelWarm               Fact = "torque.wheel-warm"
	FactTorqueDistanceNotKnown        Fact = "torque.distance-not-known"
	FactSensorReports                 Fact = "sensor.reports"
	FactSensorGaugeRead               Fact = "sensor.gauge-read"
	FactSensorDifference              Fact = "sensor.difference"
	FactSensorShownAtOtherWheels      Fact = "sensor.shown-at-other-wheels"
	FactSensorPressuresFitOtherWheels Fact = "sensor.pressures-fit-other-wheels"
	FactSensorSpareShort              Fact = "sensor.spare-short"
	FactSensorSpareNotRead            Fact = "sensor.spare-not-read"
	FactSensorReportsLow              Fact = "sensor.reports-low"
	FactSensorOneSilent               Fact = "sensor.one-silent"
	FactSensorOneBatteryLow           Fact = "sensor.one-battery-low"
	FactSensorPlacesMixed             Fact = "sensor.places-mixed"
)

// wheelKinds are the findings of the wheel and what holds it, its valve and sensor, and the chassis around it.
var wheelKinds = []Kind{
	{Code: FastenerCountDiffers, Urgency: BeforeDriving, Still: true, Of: OfPlace, Measured: Number, Limit: Number, Work: WorkFastenersPutRight, Caution: CautionWheelFastening, Again: AgainFasteners, Left: LeftNothing},
	{Code: FastenerDamaged, Urgency: BeforeDriving, Still: true, Of: OfPlace, Measured: Number, Limit: Number, Work: WorkFastenersPutRight, Caution: CautionWheelFastening, Again: AgainFasteners, Left: LeftNothing},
	{Code: FastenerTooFewRenewed, Urgency: ThisVisit, Still: true, Of: OfPlace, Measured: Number, Limit: Number, Work: WorkFastenersPutRight, Caution: CautionWheelFastening, Again: AgainFasteners, Left: LeftNothing},
	{Code: FastenerFacesNotCleaned, Urgency: ThisVisit, Still: true, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkWheelMatingFaces, Caution: CautionWheelFastening, Again: AgainFasteners, Left: LeftNothing},
	{Code: FastenerNotStaged, Urgency: Note, Of: OfPlace, Measured: Nothing, Limit: Nothing, Again: AgainFasteners, Left: LeftNothing},
	{Code: FastenerLoose, Urgency: BeforeDriving, Still: true, Of: OfPlace, Measured: Nothing, Limit: Nothing, Law: LawFasteners, Work: WorkFastenersPutRight, Caution: CautionWheelFastening, Again: AgainFasteners, Left: LeftFastened},
	{Code: FastenerMissing, Urgency: BeforeDriving, Still: true, Of: OfPlace, Measured: Nothing, Limit: Nothing, Law: LawFasteners, Work: WorkFastenersPutRight, Caution: CautionWheelFastening, Again: AgainFasteners, Left: LeftFastened},
	{Code: FastenerBroken, Urgency: BeforeDriving, Still: true, Of: OfPlace, Measured: Nothing, Limit: Nothing, Law: LawFasteners, Work: WorkFastenersPutRight, Caution: CautionWheelFastening, Again: AgainFasteners, Left: LeftFastened},
	{Code: FastenerStretched, Urgency: BeforeDriving, Still: true, Of: OfPlace, Measured: Nothing, Limit: Nothing, Law: LawFasteners, Work: WorkFastenersPutRight, Caution: CautionWheelFastening, Again: AgainFasteners, Left: LeftFastened},
	{Code: FastenerRustStreaks, Urgency: ThisVisit, Still: true, LeavesOpen: true, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkFastenersPutRight, Caution: CautionWheelFastening, Again: AgainFasteners, Left: LeftFastened},
	{Code: FastenerWrongSeat, Urgency: BeforeDriving, Still: true, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkFastenersPutRight, Caution: CautionWheelFastening, Again: AgainFasteners, Left: LeftRenewed},
	{Code: FastenerCappedNutSwollen, Urgency: Note, Of: OfPlace, Measured: Nothing, Limit: Nothing, Again: AgainFasteners, Left: LeftNothing},
	{Code: TorqueNoRecord, Urgency: ThisVisit, LeavesOpen: true, Still: true, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkWheelTorque, Caution: CautionWheelFastening, Again: AgainTorque, Left: LeftNothing},
	{Code: TorqueDiffers, Urgency: ThisVisit, Still: true, Of: OfPlace, Measured: Torque, Limit: Torque, Work: WorkWheelTorque, Caution: CautionWheelFastening, Again: AgainTorque, Left: LeftNothing},
	{Code: TorqueFastenerMoved, Urgency: ThisVisit, LeavesOpen: true, Still: true, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkFastenersPutRight, Caution: CautionWheelFastening, Again: AgainTorque, Left: LeftNothing},
	{Code: TorqueRecheckIncomplete, Urgency: ThisVisit, LeavesOpen: true, Still: true, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkWheelTorqueCheck, Caution: CautionWheelFastening, Again: AgainTorque, Left: LeftNothing},
	{Code: TorqueRecheckLate, Urgency: Note, Of: OfPlace, Measured: Distance, Limit: Distance, Again: AgainTorque, Left: LeftNothing},
	{Code: TorqueRecheckOwed, Urgency: ThisVisit, Still: true, Of: OfPlace, Measured: Distance, Limit: Distance, Work: WorkWheelTorqueCheck, Caution: CautionWheelFastening, Again: AgainTorque, Left: LeftNothing},
	{Code: ValveCoreSeizes, Urgency: Note, Of: OfPlace, Measured: Nothing, Limit: Nothing, Again: AgainValve, Left: LeftNothing},
	{Code: ValveUnderRated, Urgency: ThisVisit, Of: OfPlace, Measured: Pressure, Limit: Pressure, Work: WorkValveRenew, Again: AgainValve, Left: LeftValve},
	{Code: ValveLeaking, Urgency: ThisVisit, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkValveRenew, Again: AgainValve, Left: LeftNothing, Cured: []Done{DoneValveRenewed}},
	{Code: ValveCracked, Urgency: ThisVisit, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkValveRenew, Again: AgainValve, Left: LeftNothing, Cured: []Done{DoneValveRenewed}},
	{Code: ValveBent, Urgency: ThisVisit, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkValveRenew, Again: AgainValve, Left: LeftNothing, Cured: []Done{DoneValveRenewed}},
	{Code: ValveCorroded, Urgency: ThisVisit, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkValveRenew, Again: AgainValve, Left: LeftNothing, Cured: []Done{DoneValveRenewed}},
	{Code: ValveCapMissing, Urgency: Note, Of: OfPlace, Measured: Nothing, Limit: Nothing, Again: AgainValve, Left: LeftNothing},
	{Code: ValveExtension, Urgency: Note, Of: OfPlace, Measured: Nothing, Limit: Nothing, Again: AgainValve, Left: LeftNothing},
	{Code: SensorNotLearned, Urgency: ThisVisit, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkMeasureToSettle, Again: AgainSensor, Left: LeftLearned},
	{Code: SensorNotAnswering, Urgency: Plan, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkSensorCheck, Again: AgainSensor, Left: LeftSensor},
	{Code: SensorBatteryLow, Urgency: Plan, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkSensorRenew, Again: AgainSensor, Left: LeftSensor},
	{Code: SensorDiffers, Urgency: ThisVisit, LeavesOpen: true, Of: OfPlace, Measured: Pressure, Limit: Pressure, Work: WorkMeasureToSettle, Again: AgainSensor, Left: LeftAgreeing},
	{Code: SensorAllDifferAlike, Urgency: ThisVisit, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkMeasureToSettle, Again: AgainSensor, Left: LeftAgreeing},
	{Code: SensorRelearnOwed, Urgency: ThisVisit, Of: OfVehicle, Measured: Nothing, Limit: Nothing, Again: AgainRelearned, Left: LeftNothing},
	{Code: SensorLampAsLeft, Urgency: ThisVisit, Of: OfVehicle, Measured: Nothing, Limit: Nothing, Again: AgainLamp, Left: LeftNothing},
	{Code: ChassisPartBent, Urgency: BeforeDriving, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkReferSteeringSuspension, Caution: CautionLifting, Again: AgainNever, Left: LeftNothing, Cured: []Done{DoneSteeringPartRenewed, DoneSuspensionPartRenewed}},
	{Code: ChassisSteeringPlay, Urgency: BeforeDriving, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkReferSteeringSuspension, Caution: CautionLifting, Again: AgainNever, Left: LeftNothing, Cured: []Done{DoneSteeringPartRenewed}},
	{Code: ChassisSuspensionPlay, Urgency: ThisVisit, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkReferSteeringSuspension, Caution: CautionLifting, Again: AgainNever, Left: LeftNothing, Cured: []Done{DoneSuspensionPartRenewed}},
	{Code: ChassisBearingPlay, Urgency: BeforeDriving, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkReferBrakesHub, Caution: CautionLifting, Again: AgainNever, Left: LeftNothing, Cured: []Done{DoneBearingWork}},
	{Code: ChassisDamperWeak, Urgency: Plan, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkReferSteeringSuspension, Again: AgainNever, Left: LeftNothing, Cured: []Done{DoneSuspensionPartRenewed}},
	{Code: ChassisBrakeDragging, Urgency: ThisVisit, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkReferBrakesHub, Again: AgainNever, Left: LeftNothing, Cured: []Done{DoneBrakeWork}},
	{Code: WheelBent, Urgency: ThisVisit, Still: true, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkWheelReplace, LetDown: LetDownLarge, Again: AgainWheel, Left: LeftNothing, Cured: []Done{DoneWheelReplaced}},
	{Code: WheelCrack, Urgency: BeforeDriving, Still: true, Of: OfPlace, Measured: Nothing, Limit: Nothing, Law: LawWheelCondition, Work: WorkWheelReplace, Caution: CautionWheelFastening, LetDown: LetDownLarge, Again: AgainWheel, Left: LeftNothing, Cured: []Done{DoneWheelReplaced}},
	{Code: WheelLeaking, Urgency: ThisVisit, Still: true, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkWheelReplace, LetDown: LetDownLarge, Again: AgainWheel, Left: LeftNothing, Cured: []Done{DoneWheelReplaced}},
	{Code: WheelBeadSeatCorroded, Urgency: ThisVisit, Still: true, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkWheelCleanBeadSeat, Again: AgainWheel, Left: LeftNothing, Cured: []Done{DoneBeadSeatCleaned, DoneWheelReplaced}},
	{Code: WheelGreaseInside, Urgency: ThisVisit, Still: true, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkReferBrakesHub, Again: AgainWheel, Left: LeftNothing, Cured: []Done{DoneBearingWork}},
	{Code: WheelHolesElongated, Urgency: BeforeDriving, Still: true, Of: OfPlace, Measured: Nothing, Limit: Nothing, Law: LawWheelCondition, Work: WorkWheelReplace, Caution: CautionWheelFastening, LetDown: LetDownLarge, Again: AgainWheel, Left: LeftNothing, Cured: []Done{DoneWheelReplaced}},
	{Code: WheelWelded, Urgency: BeforeDriving, Still: true, Of: OfPlace, Measured: Nothing, Limit: Nothing, Law: LawWheelCondition, Work: WorkWheelReplace, Caution: CautionWheelFastening, LetDown: LetDownLarge, Again: AgainWheel, Left: LeftNothing, Cured: []Done{DoneWheelReplaced}},
	{Code: WheelWrongWidth, Urgency: ThisVisit, Still: true, Of: OfPlace, Measured: Nothing, Limit: Nothing, Work: WorkWheelReplace, LetDown: LetDownLarge, Again: AgainWheel, Left: LeftNothing, Cured: []Done{DoneWheelReplaced}},
	{Code: WheelSpacer, Urgency: Note, Of: OfPlace, Measured: Nothing, Limit: Nothing, Again: AgainWheel, Left: LeftNothing},
	{Code: WheelMultiPiece, Urgency: Note, Of: OfPlace, Measured: Nothing, Limit: Nothing, Caution: CautionDeflate, Again: AgainNever, Left: LeftNothing},
	{Code: WheelOnePiece, Urgency: Note, Of: OfPlace, Measured: Nothing, Limit: Nothing, Again: AgainNever, Left: LeftNothing},
	{Code: DualTouching, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Pair: true, Work: WorkWheelClearSpace, Caution: CautionLifting, LetDown: LetDownLarge, Again: AgainWhole, Left: LeftNothing, Cured: []Done{DoneDualsCleared}},
	{Code: DualTooClose, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Pair: true, Work: WorkWheelClearSpace, LetDown: LetDownLarge, Again: AgainWhole, Left: LeftNothing, Cured: []Done{DoneDualsCleared}},
	{Code: DualObjectBetween, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Pair: true, Work: WorkWheelClearSpace, Caution: CautionLifting, LetDown: LetDownLarge, Again: AgainWhole, Left: LeftNothing, Cured: []Done{DoneDualsCleared}},
	{Code: DualValveBlocked, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Pair: true, Work: WorkWheelClearSpace, Again: AgainWhole, Left: LeftNothing, Cured: []Done{DoneDualsCleared}},
}

// wheelFacts are the evidence about the wheel and what holds it, its valve and sensor, and the chassis around it.
var wheelFacts = []FactKind{
	{Code: FactTorqueValueNotTold, Amount: Nothing},
	{Code: FactTorqueLimitingStick, Amount: Nothing},
	{Code: FactTorqueImpactOnly, Amount: Nothing},
	{Code: FactTorqueToolNotTold, Amount: Nothing},
	{Code: FactTorqueOdometerNotTold, Amount: Nothing},
	{Code: FactTorqueNameNotTold, Amount: Nothing},
	{Code: FactTorqueWheelWarm, Amount: Nothing},
	{Code: FactTorqueDistanceNotKnown, Amount: Nothing},
	{Code: FactSensorReports, Amount: Pressure},
	{Code: FactSensorGaugeRead, Amount: Pressure},
	{Code: FactSensorDifference, Amount: Pressure},
	{Code: FactSensorShownAtOtherWheels, Amount: Nothing},
	{Code: FactSensorPressuresFitOtherWheels, Amount: Nothing},
	{Code: FactSensorSpareShort, Amount: Nothing},
	{Code: FactSensorSpareNotRead, Amount: Nothing},
	{Code: FactSensorReportsLow, Amount: Nothing},
	{Code: FactSensorOneSilent, Amount: Nothing},
	{Code: FactSensorOneBatteryLow, Amount: Nothing},
	{Code: FactSensorPlacesMixed, Amount: Nothing},
}

// wheelChecked are what is found good of the wheel and what holds it, its valve and sensor, and the chassis around it.
var wheelChecked = []CheckedKind{
	{Code: CheckedValveUnderRated, Measured: Pressure, Limit: Pressure},
	{Code: CheckedTorqueRecorded, Measured: Nothing, Limit: Nothing},
	{Code: CheckedTorqueRechecked, Measured: Nothing, Limit: Nothing},
	{Code: CheckedSensorAgrees, Measured: Nothing, Limit: Nothing},
}
