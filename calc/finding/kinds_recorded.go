package finding

// Recorded and not judged.
const (
	RecordedLoadNoFigure         Recorded = "load.no-figure" // not judged: no table goes so low
	RecordedClassMotorcycle      Recorded = "class.motorcycle"
	RecordedClassFarm            Recorded = "class.farm"
	RecordedClassEarthmover      Recorded = "class.earthmover"
	RecordedClassMilitary        Recorded = "class.military"
	RecordedClassRace            Recorded = "class.race"
	RecordedClassNotJudgedHere   Recorded = "class.not-judged-here"
	RecordedLawCountryNotKnown   Recorded = "law.country-not-known"
	RecordedLawDepthNotRead      Recorded = "law.depth-not-read"
	RecordedValveWork            Recorded = "recorded.valve-work"
	RecordedRotationOtherVehicle Recorded = "rotation.other-vehicle"
	RecordedComplaints           Recorded = "recorded.complaints"
	RecordedChangeover           Recorded = "recorded.changeover"
	RecordedUnknownObservation   Recorded = "recorded.unknown-observation"
	RecordedLawFurtherPlace      Recorded = "law.further-place"
)
