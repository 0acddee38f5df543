package finding

// Findings of what the customer notices.
const (
	ComplaintHitSomething           Code = "complaint.hit-something"
	ComplaintHumRisingWithSpeed     Code = "complaint.hum-rising-with-speed"
	ComplaintLampColdMorningsOnly   Code = "complaint.lamp-cold-mornings-only"
	ComplaintLampFlashing           Code = "complaint.lamp-flashing"
	ComplaintLampSteady             Code = "complaint.lamp-steady"
	ComplaintPullsLeft              Code = "complaint.pulls-left"
	ComplaintPullsRight             Code = "complaint.pulls-right"
	ComplaintSealantUsed            Code = "complaint.sealant-used"
	ComplaintSlowLeak               Code = "complaint.slow-leak"
	ComplaintSteeringWheelOffCenter Code = "complaint.steering-wheel-off-center"
	ComplaintThump                  Code = "complaint.thump"
	ComplaintVibration              Code = "complaint.vibration"
)

// What the customer notices: the contract's kinds.
const (
	NoticedPullsLeft              Complaint = "pulls-left"
	NoticedPullsRight             Complaint = "pulls-right"
	NoticedSteeringWheelOffCenter Complaint = "steering-wheel-off-center"
	NoticedVibration              Complaint = "vibration"
	NoticedHumRisingWithSpeed     Complaint = "hum-rising-with-speed"
	NoticedThump                  Complaint = "thump"
	NoticedSlowLeak               Complaint = "slow-leak"
	NoticedHitSomething           Complaint = "hit-something"
	NoticedLampSteady             Complaint = "lamp-steady"
	NoticedLampFlashing           Complaint = "lamp-flashing"
	NoticedLampColdMorningsOnly   Complaint = "lamp-cold-mornings-only"
	NoticedSealantUsed            Complaint = "sealant-used"
	NoticedOther                  Complaint = "other"
)

// Evidence about what the customer notices.
const (
	FactComplaintOneEdgeWorn          Fact = "complaint.one-edge-worn"
	FactComplaintAxleNotSquare        Fact = "complaint.axle-not-square"
	FactComplaintBentPart             Fact = "complaint.bent-part"
	FactComplaintLoosePart            Fact = "complaint.loose-part"
	FactComplaintComingApart          Fact = "complaint.coming-apart"
	FactComplaintFlatSpot             Fact = "complaint.flat-spot"
	FactComplaintNotRound             Fact = "complaint.not-round"
	FactComplaintScalloped            Fact = "complaint.scalloped"
	FactComplaintBentWheel            Fact = "complaint.bent-wheel"
	FactComplaintLooseFastener        Fact = "complaint.loose-fastener"
	FactComplaintAirShort             Fact = "complaint.air-short"
	FactComplaintBrakeDrags           Fact = "complaint.brake-drags"
	FactComplaintTiresDiffer          Fact = "complaint.tires-differ"
	FactComplaintHeelAndToe           Fact = "complaint.heel-and-toe"
	FactComplaintLeakFound            Fact = "complaint.leak-found"
	FactComplaintStruck               Fact = "complaint.struck"
	FactComplaintSensorSilent         Fact = "complaint.sensor-silent"
	FactComplaintFeathered            Fact = "complaint.feathered"
	FactComplaintAiredOften           Fact = "complaint.aired-often"
	FactComplaintLookedAtNothingFound Fact = "complaint.looked-at-nothing-found"
	FactComplaintSofterSide           Fact = "complaint.softer-side"
	FactToldHitSomething              Fact = "told.hit-something"
	FactToldHumRisingWithSpeed        Fact = "told.hum-rising-with-speed"
	FactToldPullsLeft                 Fact = "told.pulls-left"
	FactToldPullsRight                Fact = "told.pulls-right"
	FactToldSteeringWheelOffCenter    Fact = "told.steering-wheel-off-center"
	FactToldThump                     Fact = "told.thump"
	FactToldVibration                 Fact = "told.vibration"
)
