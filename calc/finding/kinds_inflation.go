package finding

// Findings of pressure, and of the lamp that watches it.
const (
	InflationLow                   Code = "inflation.low"
	InflationBelowLabel            Code = "inflation.below-label"
	InflationLabelWhileWarm        Code = "inflation.label-while-warm"
	InflationShortWhereUsed        Code = "inflation.short-where-used" // on the coldest morning expected, or under more air than here
	InflationHeatAllowance         Code = "inflation.heat-allowance"   // less what driving warms, by the law's own test
	InflationTowing                Code = "inflation.towing"           // less than a law asks for with a trailer
	InflationFindLeak              Code = "inflation.find-leak"
	InflationNoAirOnVehicle        Code = "inflation.no-air-on-vehicle"
	InflationRunLowUndecided       Code = "inflation.run-low-undecided"
	InflationRunLow                Code = "inflation.run-low"
	InflationFlat                  Code = "inflation.flat"
	InflationAudibleLeak           Code = "inflation.audible-leak"
	InflationAboveLabel            Code = "inflation.above-label"
	InflationWarmAboveLabel        Code = "inflation.warm-above-label"
	InflationCheckCold             Code = "inflation.check-cold"
	InflationLabelAboveSidewall    Code = "inflation.label-above-sidewall"
	InflationAboveSidewallMaximum  Code = "inflation.above-sidewall-maximum"
	InflationWarmAboveSidewall     Code = "inflation.warm-above-sidewall"
	InflationAtLampThreshold       Code = "inflation.at-lamp-threshold"
	InflationAllAlike              Code = "inflation.all-alike"
	InflationDualMateCarriedLoad   Code = "inflation.dual-mate-carried-load"
	InflationDualSpread            Code = "inflation.dual-spread"
	InflationTandemMateCarriedLoad Code = "inflation.tandem-mate-carried-load"
	InflationLampOnLowTire         Code = "inflation.lamp-on-low-tire"
	InflationLampOnPressuresRight  Code = "inflation.lamp-on-pressures-right"
	InflationLampOnNotAllRead      Code = "inflation.lamp-on-not-all-read"
	InflationLampFlashing          Code = "inflation.lamp-flashing"
	InflationLampBulbNotSeen       Code = "inflation.lamp-bulb-not-seen"
)

// Found good, of pressure, and of the lamp that watches it.
const (
	CheckedInflationAtLabel Checked = "inflation.at-label"
	CheckedInflationTowing  Checked = "inflation.towing"
)

// Evidence about pressure, and of the lamp that watches it.
const (
	FactInflationBasisSensor       Fact = "inflation.basis-sensor"   // the contained air was measured
	FactInflationBasisCold         Fact = "inflation.basis-cold"     // read cold
	FactInflationBasisBay          Fact = "inflation.basis-bay"      // read in a warm bay, converted to outside
	FactInflationBasisInfrared     Fact = "inflation.basis-infrared" // the surface was measured
	FactInflationBasisDrive        Fact = "inflation.basis-drive"    // temperature estimated from the drive
	FactInflationBasisWarm         Fact = "inflation.basis-warm"     // driven, temperature not told: the usual rise
	FactInflationBasisSun          Fact = "inflation.basis-sun"      // not driven, but in the sun: up to the usual rise
	FactInflationBasisNotTold      Fact = "inflation.basis-not-told" // nobody said whether it was driven: up to the usual rise
	FactInflationColdEquivalent    Fact = "inflation.cold-equivalent"
	FactInflationRead              Fact = "inflation.read"
	FactInflationColdLow           Fact = "inflation.cold-low"
	FactInflationColdHigh          Fact = "inflation.cold-high"
	FactInflationLabel             Fact = "inflation.label"
	FactInflationLeastLabel        Fact = "inflation.least-label"       // that the label of such a vehicle asks for, where none was read
	FactInflationTwinRead          Fact = "inflation.twin-read"         // across the axle, less: it is warm from two loads
	FactInflationBindsEmployers    Fact = "inflation.binds-employers"   // a law on work, and no driver or owner
	FactInflationShortForCertain   Fact = "inflation.short-for-certain" // of the label, if not by how much
	FactInflationSeenFlat          Fact = "inflation.seen-flat"
	FactInflationLeakHeard         Fact = "inflation.leak-heard"
	FactInflationDrivenLow         Fact = "inflation.driven-low"
	FactInflationNotDrivenLow      Fact = "inflation.not-driven-low"
	FactInflationDrivenLowNotKnown Fact = "inflation.driven-low-not-known"
	FactInflationDrivenLowDistance Fact = "inflation.driven-low-distance"
	FactInflationDrivenLowLoaded   Fact = "inflation.driven-low-loaded"
	FactInflationMateRead          Fact = "inflation.mate-read"
	FactInflationColdestMorning    Fact = "inflation.coldest-morning"
	FactInflationDrivenLower       Fact = "inflation.driven-lower" // driven at a lower place than here
	FactInflationAllowance         Fact = "inflation.allowance"
	FactInflationTowingAdded       Fact = "inflation.towing-added" // over the label, by a law
	FactInflationLampDark          Fact = "inflation.lamp-dark"
	FactInflationScuffRing         Fact = "inflation.scuff-ring"
	FactInflationRubberDust        Fact = "inflation.rubber-dust"
	FactInflationWrinkledLiner     Fact = "inflation.wrinkled-liner"
	FactInflationBurntSmell        Fact = "inflation.burnt-smell"
)

// What a pressure to set rests on, or why there is none.
const (
	TargetNotJudged Target = "inflation.target-not-judged" // none: no such class is judged
	TargetNoAir     Target = "inflation.target-no-air"     // none: seen inside first
	TargetMisfit    Target = "inflation.target-misfit"     // none: the label asks more than the sidewall allows
	TargetNoLabel   Target = "inflation.target-no-label"   // none: the label was not told
	TargetNoReading Target = "inflation.target-no-reading" // none: not read
	TargetAsItIs    Target = "inflation.target-as-it-is"   // none: leave it
	TargetWait      Target = "inflation.target-wait"       // none now: the rest when cold
	TargetLowerCold Target = "inflation.target-lower-cold" // none now: let it down only when cold
	TargetLetDown   Target = "inflation.target-let-down"   // cold and too high: down to the label
	TargetLabel     Target = "inflation.target-label"      // the label, cold
	TargetConverted Target = "inflation.target-converted"  // the label brought to the tire's temperature
	TargetWarm      Target = "inflation.target-warm"       // the label and the middle of the usual rise
	TargetSidewall  Target = "inflation.target-sidewall"   // stops at the sidewall figure
	TargetMates     Target = "inflation.target-mates"      // as its warm mates on the axle read
)

// inflationKinds are the findings of pressure and the lamp that watches it.
var inflationKinds = []Kind{
	{Code: InflationLow, Urgency: ThisVisit, Of: OfTire, Measured: Pressure, Limit: Pressure, Caution: CautionAddingAir, Again: AgainPressure, Left: LeftPressure},
	{Code: InflationBelowLabel, Urgency: Plan, Of: OfTire, Measured: Pressure, Limit: Pressure, Caution: CautionAddingAir, Again: AgainPressure, Left: LeftPressure},
	{Code: InflationLabelWhileWarm, Urgency: ThisVisit, Of: OfTire, Measured: Pressure, Limit: Pressure, Caution: CautionAddingAir, Again: AgainPressure, Left: LeftPressure},
	{Code: InflationShortWhereUsed, Urgency: Plan, Of: OfTire, Measured: Pressure, Limit: Pressure, Caution: CautionAddingAir, Again: AgainPressure, Left: LeftWhereUsed},
	{Code: InflationHeatAllowance, Urgency: Note, Of: OfTire, Measured: Pressure, Limit: Pressure, Again: AgainPressure, Left: LeftNothing},
	{Code: InflationTowing, Urgency: Plan, Of: OfTire, Measured: Pressure, Limit: Pressure, Caution: CautionAddingAir, Again: AgainGood, Good: []Checked{CheckedInflationTowing}, Left: LeftNothing},
	{Code: InflationFindLeak, Urgency: ThisVisit, LeavesOpen: true, Of: OfTire, Measured: Pressure, Limit: Pressure, Again: AgainPressure, Left: LeftTight},
	{Code: InflationNoAirOnVehicle, Urgency: ThisVisit, LeavesOpen: true, Of: OfTire, Measured: Pressure, Limit: Pressure, Caution: CautionDeflate, Again: AgainPressure, Left: LeftAired},
	{Code: InflationRunLowUndecided, Urgency: ThisVisit, LeavesOpen: true, Of: OfTire, Measured: Pressure, Limit: Pressure, LetDown: LetDownLarge, Again: AgainPressure, Left: LeftCleared},
	{Code: InflationRunLow, Urgency: BeforeDriving, Of: OfTire, Measured: Pressure, Limit: Pressure, LetDown: LetDownLarge, Again: AgainPressure, Left: LeftCleared},
	{Code: InflationFlat, Urgency: BeforeDriving, Of: OfTire, Measured: Pressure, Limit: Nothing, Law: LawFlatOrLeaking, Caution: CautionLeakOrFlat, LetDown: LetDownLarge, Again: AgainPressure, Left: LeftTight},
	{Code: InflationAudibleLeak, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Law: LawFlatOrLeaking, Caution: CautionLeakOrFlat, LetDown: LetDownLarge, Again: AgainPressure, Left: LeftTight},
	{Code: InflationAboveLabel, Urgency: Note, Of: OfTire, Measured: Pressure, Limit: Pressure, Caution: CautionNeverBleed, Again: AgainPressure, Left: LeftNothing, LeaveAlone: true},
	{Code: InflationWarmAboveLabel, Urgency: Note, Of: OfTire, Measured: Pressure, Limit: Pressure, Caution: CautionNeverBleed, Again: AgainPressure, Left: LeftNothing, SaidBy: WorkOwedColdPressure, LeaveAlone: true},
	{Code: InflationCheckCold, Urgency: Note, Of: OfTire, Measured: Pressure, Limit: Pressure, Caution: CautionNeverBleed, Again: AgainPressure, Left: LeftNothing, LeaveAlone: true},
	{Code: InflationLabelAboveSidewall, Urgency: ThisVisit, Of: OfTire, Measured: Pressure, Limit: Pressure, Work: WorkMeasureToSettle, Again: AgainPressure, Left: LeftNothing},
	{Code: InflationAboveSidewallMaximum, Urgency: ThisVisit, Of: OfTire, Measured: Pressure, Limit: Pressure, Caution: CautionNeverBleed, Again: AgainPressure, Left: LeftPressure},
	{Code: InflationWarmAboveSidewall, Urgency: Note, Of: OfTire, Measured: Pressure, Limit: Pressure, Caution: CautionNeverBleed, Again: AgainPressure, Left: LeftNothing},
	{Code: InflationAtLampThreshold, Urgency: Note, Of: OfTire, Measured: Pressure, Limit: Pressure, Again: AgainPressure, Left: LeftNothing},
	{Code: InflationAllAlike, Urgency: Note, Calms: true, Of: OfTire, Measured: Pressure, Limit: Pressure, Again: AgainPressure, Left: LeftNothing},
	{Code: InflationDualMateCarriedLoad, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Caution: CautionDeflate, LetDown: LetDownLarge, Again: AgainPressure, Left: LeftCleared},
	{Code: InflationDualSpread, Urgency: ThisVisit, Of: OfTire, Measured: Pressure, Limit: Pressure, Work: WorkMeasureToSettle, Caution: CautionAddingAir, Again: AgainPressure, Left: LeftSpread},
	{Code: InflationTandemMateCarriedLoad, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Caution: CautionDeflate, LetDown: LetDownLarge, Again: AgainPressure, Left: LeftCleared},
	{Code: InflationLampOnLowTire, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainPressure, Left: LeftLamp},
	{Code: InflationLampOnPressuresRight, Urgency: ThisVisit, Of: OfVehicle, Measured: Nothing, Limit: Nothing, Again: AgainLamp, Left: LeftLamp},
	{Code: InflationLampOnNotAllRead, Urgency: ThisVisit, Of: OfVehicle, Measured: Nothing, Limit: Nothing, Work: WorkMeasureToSettle, Again: AgainLamp, Left: LeftAllRead},
	{Code: InflationLampFlashing, Urgency: ThisVisit, Of: OfVehicle, Measured: Nothing, Limit: Nothing, Again: AgainLamp, Left: LeftLamp},
	{Code: InflationLampBulbNotSeen, Urgency: Note, Of: OfVehicle, Measured: Nothing, Limit: Nothing, Again: AgainLamp, Left: LeftNothing},
}

// inflationFacts are the evidence about pressure and the lamp that watches it.
var inflationFacts = []FactKind{
	{Code: FactInflationBasisSensor, Amount: Temperature},
	{Code: FactInflationBasisCold, Amount: Nothing},
	{Code: FactInflationBasisBay, Amount: Nothing},
	{Code: FactInflationBasisInfrared, Amount: Temperature},
	{Code: FactInflationBasisDrive, Amount: Temperature},
	{Code: FactInflationBasisWarm, Amount: Nothing},
	{Code: FactInflationBasisSun, Amount: Nothing},
	{Code: FactInflationBasisNotTold, Amount: Nothing},
	{Code: FactInflationColdEquivalent, Amount: Pressure},
	{Code: FactInflationRead, Amount: Pressure},
	{Code: FactInflationColdLow, Amount: Pressure},
	{Code: FactInflationColdHigh, Amount: Pressure},
	{Code: FactInflationLabel, Amount: Pressure},
	{Code: FactInflationLeastLabel, Amount: Pressure},
	{Code: FactInflationTwinRead, Amount: Pressure},
	{Code: FactInflationBindsEmployers, Amount: Nothing},
	{Code: FactInflationShortForCertain, Amount: Nothing, Leaves: Proved},
	{Code: FactInflationSeenFlat, Amount: Nothing},
	{Code: FactInflationLeakHeard, Amount: Nothing},
	{Code: FactInflationDrivenLow, Amount: Nothing},
	{Code: FactInflationNotDrivenLow, Amount: Nothing},
	{Code: FactInflationDrivenLowNotKnown, Amount: Nothing},
	{Code: FactInflationDrivenLowDistance, Amount: Distance},
	{Code: FactInflationDrivenLowLoaded, Amount: Nothing},
	{Code: FactInflationMateRead, Amount: Pressure},
	{Code: FactInflationColdestMorning, Amount: Temperature},
	{Code: FactInflationDrivenLower, Amount: Nothing},
	{Code: FactInflationAllowance, Amount: Pressure},
	{Code: FactInflationTowingAdded, Amount: Pressure},
	{Code: FactInflationLampDark, Amount: Nothing},
	{Code: FactInflationScuffRing, Amount: Nothing},
	{Code: FactInflationRubberDust, Amount: Nothing},
	{Code: FactInflationWrinkledLiner, Amount: Nothing},
	{Code: FactInflationBurntSmell, Amount: Nothing},
}

// inflationChecked are what is found good of pressure and the lamp that watches it.
var inflationChecked = []CheckedKind{
	{Code: CheckedInflationAtLabel, Measured: Nothing, Limit: Nothing},
	{Code: CheckedInflationTowing, Measured: Pressure, Limit: Pressure},
}
