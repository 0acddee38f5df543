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
	DoneWheelReplaced         Done = "wheel-replaced"
	DoneBeadSeatCleaned       Done = "bead-seat-cleaned"
	DoneDualsCleared          Done = "duals-cleared"
	DoneProbed                Done = "probed"
	DoneRoadTest              Done = "road-test"
	DoneSpareCarrierMended    Done = "spare-carrier-mended"
	DoneSpeedLabelPlaced      Done = "speed-label-placed"
)

// What closed a finding where no reading did.
const (
	ClosedMeasured              Closed = "as-left.measured" // by a reading as left
	ClosedAsLeft                Closed = "as-left.put-right"
	ClosedFoundGood             Closed = "closed.found-good" // judged again and not found
	ClosedOtherTire             Closed = "closed.other-tire" // what was found of a tire goes with it
	ClosedTireOff               Closed = "closed.tire-off"   // and no other is known to be there
	ClosedMovedOn               Closed = "closed.moved-on"   // with its tire, to another vehicle
	ClosedMerged                Closed = "closed.merged"     // with what the other record of the vehicle has
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
	ClosedWheelReplaced         Closed = "closed.wheel-replaced"
	ClosedBeadSeatCleaned       Closed = "closed.bead-seat-cleaned"
	ClosedDualsCleared          Closed = "closed.duals-cleared"
	ClosedProbed                Closed = "closed.probed"
	ClosedRoadTest              Closed = "closed.road-test"
	ClosedRepaired              Closed = "closed.repaired"
	ClosedObjectOut             Closed = "closed.object-out"
	ClosedCleared               Closed = "closed.cleared" // ran low, and seen clean
	ClosedLeakMended            Closed = "closed.leak-mended"
	ClosedTakenBack             Closed = "closed.taken-back"
	ClosedSpareCarrierMended    Closed = "closed.spare-carrier-mended"
	ClosedSpeedLabelPlaced      Closed = "closed.speed-label-placed"
	ClosedSeen                  Closed = "closed.seen" // everywhere that was to be looked at
	ClosedWeighed               Closed = "closed.weighed"
	ClosedSealantKnown          Closed = "closed.sealant-known"
	ClosedDoneHere              Closed = "closed.done-here"      // by what the counter tells
	ClosedDoneElsewhere         Closed = "closed.done-elsewhere" // by what the counter tells
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
	{Kind: DoneWheelReplaced, Closed: ClosedWheelReplaced},
	{Kind: DoneBeadSeatCleaned, Closed: ClosedBeadSeatCleaned},
	{Kind: DoneDualsCleared, Closed: ClosedDualsCleared},
	{Kind: DoneProbed, Closed: ClosedProbed},
	{Kind: DoneRoadTest, Closed: ClosedRoadTest, Whole: true},
	{Kind: DoneSpareCarrierMended, Closed: ClosedSpareCarrierMended},
	{Kind: DoneSpeedLabelPlaced, Closed: ClosedSpeedLabelPlaced, Whole: true},
}
