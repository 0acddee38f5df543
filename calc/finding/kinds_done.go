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
	ClosedMeasured              Closed = "as-left.measured" // by a reading as left
	ClosedAsLeft                Closed = "as-left.put-right"
	ClosedFoundGood             Closed = "closed.found-good" // judged again and not found
	ClosedOtherTire             Closed = "closed.other-tire" // what was found of a tire goes with it
	ClosedCorrected             Closed = "closed.corrected"  // the visit that found it was corrected
	ClosedFastenersPutRight     Closed = "closed.fasteners-put-right"
	ClosedSensorAnswers         Closed = "closed.sensor-answers"
	ClosedSensorRelearned       Closed = "closed.sensor-relearned"
	ClosedLampOut               Closed = "closed.lamp-out"
	ClosedBearingWork           Closed = "closed.bearing-work"
	ClosedBrakeWork             Closed = "closed.brake-work"
	ClosedSteeringPartRenewed   Closed = "closed.steering-part-renewed"
	ClosedSuspensionPartRenewed Closed = "closed.suspension-part-renewed"
	ClosedValveRenewed          Closed = "closed.valve-renewed"
)

// doneKinds are the kinds of work done.
var doneKinds = []DoneKind{
	{Kind: DoneBearingWork, Closed: ClosedBearingWork},
	{Kind: DoneSteeringPartRenewed, Closed: ClosedSteeringPartRenewed},
	{Kind: DoneSuspensionPartRenewed, Closed: ClosedSuspensionPartRenewed},
	{Kind: DoneBrakeWork, Closed: ClosedBrakeWork},
	{Kind: DoneValveRenewed, Closed: ClosedValveRenewed},
	{Kind: DoneSensorRelearned},
	{Kind: DoneTiresRotated},
	{Kind: DonePressuresSet},
	{Kind: DoneAlignmentMeasured},
	{Kind: DoneAlignmentSet},
	{Kind: DoneBalanced},
	{Kind: DoneSensorReset},
	{Kind: DoneTireMounted},
	{Kind: DoneTiresReplaced},
	{Kind: DoneLoweredOrRaised},
	{Kind: DoneTorqueChecked},
	{Kind: DoneTireRepaired},
	{Kind: DoneWheelsOff},
	{Kind: DoneSeasonChanged},
}
