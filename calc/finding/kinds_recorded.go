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
	RecordedLawNotInspection     Recorded = "law.not-an-inspection"
	RecordedLawCommonMinimum     Recorded = "law.common-minimum"
	RecordedValveWork            Recorded = "recorded.valve-work"
	RecordedRotationOtherVehicle Recorded = "rotation.other-vehicle"
	RecordedComplaints           Recorded = "recorded.complaints"
	RecordedChangeover           Recorded = "recorded.changeover"
	RecordedUnknownObservation   Recorded = "recorded.unknown-observation"
	RecordedAxleKind             Recorded = "recorded.axle-kind"
	RecordedRim                  Recorded = "recorded.rim"
	RecordedSparePrinted         Recorded = "recorded.spare-printed"
	RecordedFastenerKind         Recorded = "recorded.fastener-kind"
	RecordedKeyKept              Recorded = "recorded.key-kept"
	RecordedRegistration         Recorded = "recorded.registration"
	RecordedScrap                Recorded = "recorded.scrap"
	RecordedStored               Recorded = "recorded.stored"
	RecordedPressuresSet         Recorded = "recorded.pressures-set"
	RecordedComplaintDetails     Recorded = "recorded.complaint-details"
	RecordedLengthGauge          Recorded = "recorded.length-gauge"
	RecordedReadingGauge         Recorded = "recorded.reading-gauge"
	RecordedHowKnown             Recorded = "recorded.how-known"
	RecordedDamageDepth          Recorded = "recorded.damage-depth"
	RecordedDrivenLow            Recorded = "recorded.driven-low"
	RecordedSecondCheck          Recorded = "recorded.second-check"
	RecordedRecheckWhen          Recorded = "recorded.recheck-when"
	RecordedMendedBy             Recorded = "recorded.mended-by"
	RecordedRepairDetails        Recorded = "recorded.repair-details"
	RecordedPhotos               Recorded = "recorded.photos"
	RecordedWords                Recorded = "recorded.words"
	RecordedMove                 Recorded = "recorded.move"
	RecordedNotAsked             Recorded = "recorded.not-asked" // told to a call that asks something else
)

var recordedKinds = []RecordedKind{
	{Code: RecordedLoadNoFigure},
	{Code: RecordedClassMotorcycle},
	{Code: RecordedClassFarm},
	{Code: RecordedClassEarthmover},
	{Code: RecordedClassMilitary},
	{Code: RecordedClassRace},
	{Code: RecordedClassNotJudgedHere},
	{Code: RecordedLawCountryNotKnown, LawNotKnown: true},
	{Code: RecordedLawDepthNotRead, LawNotKnown: true},
	{Code: RecordedLawNotInspection},
	{Code: RecordedLawCommonMinimum, LawNotKnown: true},
	{Code: RecordedValveWork},
	{Code: RecordedRotationOtherVehicle},
	{Code: RecordedComplaints},
	{Code: RecordedChangeover},
	{Code: RecordedUnknownObservation},
	{Code: RecordedAxleKind},
	{Code: RecordedRim},
	{Code: RecordedSparePrinted},
	{Code: RecordedFastenerKind},
	{Code: RecordedKeyKept},
	{Code: RecordedRegistration},
	{Code: RecordedScrap},
	{Code: RecordedStored},
	{Code: RecordedPressuresSet},
	{Code: RecordedComplaintDetails},
	{Code: RecordedLengthGauge},
	{Code: RecordedReadingGauge},
	{Code: RecordedHowKnown},
	{Code: RecordedDamageDepth},
	{Code: RecordedDrivenLow},
	{Code: RecordedSecondCheck},
	{Code: RecordedRecheckWhen},
	{Code: RecordedMendedBy},
	{Code: RecordedRepairDetails},
	{Code: RecordedPhotos},
	{Code: RecordedWords},
	{Code: RecordedMove},
	{Code: RecordedNotAsked},
}
