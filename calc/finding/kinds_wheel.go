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
