package finding

// Findings of holes and their repair.
const (
	PunctureRunLowDamage    Code = "puncture.run-low-damage"
	PunctureStructure       Code = "puncture.structure"
	PunctureCord            Code = "puncture.cord"
	PunctureBead            Code = "puncture.bead"
	PunctureCracks          Code = "puncture.cracks"
	PunctureZipper          Code = "puncture.zipper"
	PunctureScuffRing       Code = "puncture.scuff-ring" // open only: seen from outside
	PunctureEarlierRepair   Code = "puncture.earlier-repair"
	PunctureWorn            Code = "puncture.worn"
	PunctureMakerPolicy     Code = "puncture.maker-policy"
	PunctureTooMany         Code = "puncture.too-many"
	PunctureTooManyForMaker Code = "puncture.too-many-for-maker"
	PunctureSpeedSymbolLost Code = "puncture.speed-symbol-lost" // by its maker's word
	PunctureOverlap         Code = "puncture.overlap"
	PunctureSize            Code = "puncture.size"
	PuncturePlace           Code = "puncture.place"
	PunctureRepairersRule   Code = "puncture.repairers-rule" // open only: truck, between crown and shoulder
	PunctureNoInjury        Code = "puncture.no-injury"
	PunctureRepairable      Code = "puncture.repairable"
	PunctureInspectInside   Code = "puncture.inspect-inside"
	PunctureNotDecided      Code = "puncture.not-decided" // for want of more than a look inside
	PunctureRanSpecial      Code = "puncture.ran-special" // self-supporting, foam- or seal-lined, and driven without air
	PunctureNotAsNailHole   Code = "puncture.not-as-nail-hole"
	PunctureNotRepairable   Code = "puncture.not-repairable"
	PunctureAngle           Code = "puncture.angle"            // over the limit: two-piece
	PunctureAskSealant      Code = "puncture.ask-sealant"      // which, before demounting
	PunctureAge             Code = "puncture.age"              // advice, bars nothing
	PunctureSeveralInjuries Code = "puncture.several-injuries" // spacing is the maker's word
	PunctureSpeedSymbol     Code = "puncture.speed-symbol"     // whether it still holds is the maker's word
	PunctureSelfSupporting  Code = "puncture.self-supporting"  // was not told: look for the mark
	PunctureSteerNailHole   Code = "puncture.steer-nail-hole"  // allowed in the crown
	PunctureSectionOnSteer  Code = "puncture.section-on-steer" // an earlier one is there now
	PunctureNotOnSteer      Code = "puncture.not-on-steer"     // after a section repair
	PunctureAngleNotTold    Code = "puncture.angle-not-told"   // the method depends on it
	PunctureDoNotPull       Code = "puncture.do-not-pull"      // the object stays until ready to demount
	RepairImproperEarlier   Code = "repair.improper-earlier"
)

// Evidence about holes and their repair.
const (
	FactPunctureStopsShort         Fact = "puncture.stops-short" // of the inside, as the probe says
	FactPunctureSizeAfterPreparing Fact = "puncture.size-after-preparing"
	FactPunctureSizeAsFound        Fact = "puncture.size-as-found"
	FactPunctureLeaking            Fact = "puncture.leaking"
	FactPunctureTreadLeft          Fact = "puncture.tread-left"
	FactPunctureFoundRunLow        Fact = "puncture.found-run-low"
	FactPunctureBead               Fact = "puncture.bead"
	FactPunctureCord               Fact = "puncture.cord"
	FactPunctureCracks             Fact = "puncture.cracks"
	FactPunctureEarlierRepair      Fact = "puncture.earlier-repair"
	FactPunctureMakerPolicy        Fact = "puncture.maker-policy"
	FactPunctureOverlap            Fact = "puncture.overlap"
	FactPuncturePlace              Fact = "puncture.place"
	FactPunctureRunLowDamage       Fact = "puncture.run-low-damage"
	FactPunctureSize               Fact = "puncture.size"
	FactPunctureStructure          Fact = "puncture.structure"
	FactPunctureTooMany            Fact = "puncture.too-many"
	FactPunctureWorn               Fact = "puncture.worn"
	FactPunctureZipper             Fact = "puncture.zipper"
)

// What to look for inside a tire that comes off.
const (
	LookForRunLow         LookFor = "puncture.look.run-low"
	LookForLiner          LookFor = "puncture.look.liner"
	LookForCord           LookFor = "puncture.look.cord"
	LookForBead           LookFor = "puncture.look.bead"
	LookForEarlierRepairs LookFor = "puncture.look.earlier-repairs"
	LookForHole           LookFor = "puncture.look.hole"
	LookForZipper         LookFor = "puncture.look.zipper"
)

// repairKinds are the findings of holes and their repair.
var repairKinds = []Kind{
	{Code: PunctureRunLowDamage, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Caution: CautionPunctureNoAir, Again: AgainHole, Left: LeftRepaired, Fact: FactPunctureRunLowDamage},
	{Code: PunctureStructure, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Caution: CautionPunctureNoAir, Again: AgainHole, Left: LeftRepaired, Fact: FactPunctureStructure},
	{Code: PunctureCord, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainHole, Left: LeftRepaired, Fact: FactPunctureCord},
	{Code: PunctureBead, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Caution: CautionPunctureNoAir, Again: AgainHole, Left: LeftRepaired, Fact: FactPunctureBead},
	{Code: PunctureCracks, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainHole, Left: LeftRepaired, Fact: FactPunctureCracks},
	{Code: PunctureZipper, Urgency: BeforeDriving, Still: true, Of: OfTire, Measured: Nothing, Limit: Nothing, Caution: CautionPunctureZipper, Again: AgainHole, Left: LeftRepaired, Fact: FactPunctureZipper},
	{Code: PunctureScuffRing, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Caution: CautionPunctureNoAir, Again: AgainHole, Left: LeftRepaired},
	{Code: PunctureEarlierRepair, Urgency: ThisVisit, LeavesOpen: true, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainHole, Left: LeftRepaired, Fact: FactPunctureEarlierRepair},
	{Code: PunctureWorn, Urgency: ThisVisit, Condition: true, Of: OfTire, Measured: TreadDepth, Limit: TreadDepth, Again: AgainHole, Left: LeftRepaired, Fact: FactPunctureWorn},
	{Code: PunctureMakerPolicy, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainHole, Left: LeftRepaired, Fact: FactPunctureMakerPolicy},
	{Code: PunctureTooMany, Urgency: ThisVisit, Of: OfTire, Measured: Number, Limit: Number, Again: AgainHole, Left: LeftRepaired, Fact: FactPunctureTooMany},
	{Code: PunctureTooManyForMaker, Urgency: ThisVisit, Of: OfTire, Measured: Number, Limit: Number, Again: AgainHole, Left: LeftNothing, Fact: FactPunctureTooMany},
	{Code: PunctureSpeedSymbolLost, Urgency: Note, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainHole, Left: LeftNothing},
	{Code: PunctureOverlap, Urgency: BeforeDriving, Of: OfTire, Measured: Length, Limit: Length, Again: AgainHole, Left: LeftRepaired, Fact: FactPunctureOverlap},
	{Code: PunctureSize, Urgency: ThisVisit, Of: OfTire, Measured: Length, Limit: Length, Again: AgainHole, Left: LeftRepaired, Fact: FactPunctureSize},
	{Code: PuncturePlace, Urgency: ThisVisit, Of: OfTire, Measured: Length, Limit: Length, Again: AgainHole, Left: LeftRepaired, Fact: FactPuncturePlace},
	{Code: PunctureRepairersRule, Urgency: BeforeDriving, Of: OfTire, Measured: Length, Limit: Length, Again: AgainHole, Left: LeftRepaired},
	{Code: PunctureNoInjury, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainHole, Left: LeftObjectOut},
	{Code: PunctureRepairable, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Caution: CautionPunctureTrainedRepairer, Again: AgainHole, Left: LeftRepaired},
	{Code: PunctureInspectInside, Urgency: ThisVisit, LeavesOpen: true, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainHole, Left: LeftRepaired},
	{Code: PunctureNotDecided, Urgency: ThisVisit, LeavesOpen: true, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainHole, Left: LeftRepaired},
	{Code: PunctureRanSpecial, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Caution: CautionPunctureNoAir, Again: AgainHole, Left: LeftNothing, Fact: FactPunctureMakerPolicy},
	{Code: PunctureNotAsNailHole, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Caution: CautionPunctureTrainedRepairer, Again: AgainHole, Left: LeftNothing},
	{Code: PunctureNotRepairable, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainHole, Left: LeftNothing},
	{Code: PunctureAngle, Urgency: Note, Of: OfTire, Measured: Angle, Limit: Angle, Again: AgainHole, Left: LeftRepaired},
	{Code: PunctureAskSealant, Urgency: Note, Of: OfTire, Measured: Nothing, Limit: Nothing, Caution: CautionPunctureSealantFlammable, Again: AgainHole, Left: LeftRepaired},
	{Code: PunctureAge, Urgency: Note, Of: OfTire, Measured: Age, Limit: Age, Again: AgainHole, Left: LeftRepaired},
	{Code: PunctureSeveralInjuries, Urgency: Note, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainHole, Left: LeftRepaired},
	{Code: PunctureSpeedSymbol, Urgency: Note, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainHole, Left: LeftRepaired},
	{Code: PunctureSelfSupporting, Urgency: Note, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainHole, Left: LeftRepaired},
	{Code: PunctureSteerNailHole, Urgency: Note, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainHole, Left: LeftRepaired},
	{Code: PunctureSectionOnSteer, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainHole, Left: LeftRepaired},
	{Code: PunctureNotOnSteer, Urgency: Note, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainHole, Left: LeftRepaired},
	{Code: PunctureAngleNotTold, Urgency: Note, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainHole, Left: LeftRepaired},
	{Code: PunctureDoNotPull, Urgency: Note, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainHole, Left: LeftRepaired, SaidBy: WorkObjectLeaveIn},
	{Code: RepairImproperEarlier, Urgency: ThisVisit, LeavesOpen: true, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTireReplace, Again: AgainHole, Left: LeftNothing},
}

// repairFacts are the evidence about holes and their repair.
var repairFacts = []FactKind{
	{Code: FactPunctureStopsShort, Amount: Nothing},
	{Code: FactPunctureSizeAfterPreparing, Amount: Length},
	{Code: FactPunctureSizeAsFound, Amount: Length},
	{Code: FactPunctureLeaking, Amount: Nothing},
	{Code: FactPunctureTreadLeft, Amount: TreadDepth},
	{Code: FactPunctureFoundRunLow, Amount: Nothing},
	{Code: FactPunctureBead, Amount: Nothing},
	{Code: FactPunctureCord, Amount: Nothing},
	{Code: FactPunctureCracks, Amount: Nothing},
	{Code: FactPunctureEarlierRepair, Amount: Nothing},
	{Code: FactPunctureMakerPolicy, Amount: Nothing},
	{Code: FactPunctureOverlap, Amount: Length},
	{Code: FactPuncturePlace, Amount: Length},
	{Code: FactPunctureRunLowDamage, Amount: Nothing},
	{Code: FactPunctureSize, Amount: Length},
	{Code: FactPunctureStructure, Amount: Nothing},
	{Code: FactPunctureTooMany, Amount: Number},
	{Code: FactPunctureWorn, Amount: TreadDepth},
	{Code: FactPunctureZipper, Amount: Nothing},
}
