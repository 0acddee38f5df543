package finding

// Work done: the contract's kinds.
const (
	DoneBearingWork           Done = "bearing-work"
	DoneSteeringPartRenewed   Done = "steering-part-renewed"
	DoneSuspensionPartRenewed Done = "suspension-part-renewed"
	DoneBrakeWork             Done = "brake-work"
	DoneValveRenewed          Done = "valve-renewed"
	DoneSensorRelearned       Done = "sensor-relearned"
	DoneTiresRotated          Done = "tires-rotated"
	DonePressuresSet          Done = "pressures-set"
	DoneAlignmentMeasured     Done = "alignment-measured"
	DoneAlignmentSet          Done = "alignment-set"
	DoneBalanced              Done = "balanced"
	DoneSensorReset           Done = "sensor-reset"
	DoneTireMounted           Done = "tire-mounted"
	DoneTiresReplaced         Done = "tires-replaced"
	DoneLoweredOrRaised       Done = "lowered-or-raised"
	DoneTorqueChecked         Done = "torque-checked"
	DoneTireRepaired          Done = "tire-repaired"
	DoneWheelsOff             Done = "wheels-off"
	DoneSeasonChanged         Done = "season-changed"
)

// What closed a finding where no reading did.
const (
	ClosedFastenersPutRight Closed = "closed.fasteners-put-right"
	ClosedSensorAnswers     Closed = "closed.sensor-answers"
	ClosedSensorRelearned   Closed = "closed.sensor-relearned"
	ClosedLampOut           Closed = "closed.lamp-out"
)
