package finding

// Findings of the tire on this vehicle: label, matching, marks, age.
const (
	AgeCheckYearly            Code = "age.check-yearly"
	AgeReplaceAdvised         Code = "age.replace-advised"
	AgeApartOnAxle            Code = "age.apart-on-axle"
	AgeAsOldAsCracked         Code = "age.as-old-as-cracked"
	MatchDualDesign           Code = "match.dual-design"
	MatchDual                 Code = "match.dual" // by diameter
	MatchDualModelLimit       Code = "match.dual-model-limit"
	MatchDualLegalLimit       Code = "match.dual-legal-limit"
	MatchAxleLegalLimit       Code = "match.axle-legal-limit" // by the diameters of the axle's two tires
	MatchDualTread            Code = "match.dual-tread"
	MatchDualLargerInside     Code = "match.dual-larger-inside"
	FitmentBuildNotLabel      Code = "fitment.build-not-label"   // bias for radial, or radial for bias
	FitmentLoadBelowLabel     Code = "fitment.load-below-label"  // rated for less than the label's tire
	FitmentSpeedBelowLabel    Code = "fitment.speed-below-label" // not a winter tire
	FitmentWinterSpeed        Code = "fitment.winter-speed"      // a lower symbol on a winter tire
	FitmentSpeedByLaw         Code = "fitment.speed-by-law"      // made for less than a law asks for
	FitmentSpeedNotShown      Code = "fitment.speed-not-shown"   // slower than the vehicle, and the driver does not see how fast
	FitmentSizeNotLabel       Code = "fitment.size-not-label"    // and not proved to carry what the label's size does
	FitmentClassNotLabel      Code = "fitment.class-not-label"   // a passenger tire for a truck class, or other classes of one size
	FitmentSubstituteSize     Code = "fitment.substitute-size"   // another size that carries as much
	FitmentPressureForSize    Code = "fitment.pressure-for-size" // the label's figure is too low for this tire
	MountArrowOpposes         Code = "mount.arrow-opposes"
	MountOutsideIn            Code = "mount.outside-in"
	MountDateInboard          Code = "mount.date-inboard"
	MatchAllWheelDriveDesign  Code = "match.all-wheel-drive-design" // different designs, not taped
	MatchAllWheelDriveTape    Code = "match.all-wheel-drive-tape"   // by circumference
	MatchAllWheelDrive        Code = "match.all-wheel-drive"        // by depth
	FitmentSizesMixed         Code = "fitment.sizes-mixed"
	FitmentLoadMixed          Code = "fitment.load-mixed"
	FitmentDesignsMixed       Code = "fitment.designs-mixed"
	FitmentConstructionMixed  Code = "fitment.construction-mixed"
	FitmentConstructionByAxle Code = "fitment.construction-by-axle" // one on each axle, and not on the whole vehicle
	FitmentRadialAhead        Code = "fitment.radial-ahead"
	FitmentSeasonMixed        Code = "fitment.season-mixed"
	FitmentSeasonOneAxle      Code = "fitment.season-one-axle"
	AgeLegalLimit             Code = "age.legal-limit"
	FitmentLoadBelowAxle      Code = "fitment.load-below-axle"    // the tires together, for less than the axle is rated for
	FitmentNotForHighway      Code = "fitment.not-for-highway"    // so marked by its maker
	FitmentRetreadOnFront     Code = "fitment.retread-on-front"   // or regrooved, where a law bars it
	FitmentRegroovedOnFront   Code = "fitment.regrooved-on-front" // and made for a load from which a law bars it there
	FitmentRegroovedBarred    Code = "fitment.regrooved-barred"   // wherever it is on the vehicle
)

// Found good, of the tire on this vehicle: label, matching, marks, age.
const (
	CheckedMatchDual              Checked = "match.dual" // by diameter
	CheckedMatchDualTread         Checked = "match.dual-tread"
	CheckedMatchAxle              Checked = "match.axle-legal-limit"
	CheckedFitmentAsLabel         Checked = "fitment.as-label"           // met
	CheckedMatchAllWheelDrive     Checked = "match.all-wheel-drive"      // by depth
	CheckedMatchAllWheelDriveTape Checked = "match.all-wheel-drive-tape" // by circumference
	CheckedAgeLegalLimit          Checked = "age.legal-limit"
	CheckedFitmentSpeedByLaw      Checked = "fitment.speed-by-law"
	CheckedFitmentSpeedShown      Checked = "fitment.speed-shown"
)

// Evidence about the tire on this vehicle: label, matching, marks, age.
const (
	FactAgeMadeWeek                 Fact = "age.made-week"
	FactAgeMadeYear                 Fact = "age.made-year"
	FactAgeCommonlyReplacedBy       Fact = "age.commonly-replaced-by"
	FactAgeYearsSinceFitted         Fact = "age.years-since-fitted"
	FactAgeGovernsBeforeTread       Fact = "age.governs-before-tread"
	FactFitmentLabelDivided         Fact = "fitment.label-divided"
	FactFitmentPassengerDivided     Fact = "fitment.passenger-divided" //nolint:gosec // a passenger tire is no password
	FactFitmentDiameterChange       Fact = "fitment.diameter-change"
	FactFitmentShownSpeed           Fact = "fitment.shown-speed"
	FactFitmentTrueSpeed            Fact = "fitment.true-speed"
	FactFitmentCarriesLabelLoadFrom Fact = "fitment.carries-label-load-from"
	FactFitmentNoPressureEnough     Fact = "fitment.no-pressure-enough" // evidence: no pressure it is made for carries the label's load
	FactFitmentLoadNotKnown         Fact = "fitment.load-not-known"
	FactMountSwapCures              Fact = "mount.swap-cures"
	FactMatchTapeConditionsNotTold  Fact = "match.tape-conditions-not-told"
	FactMatchDesignNotKnown         Fact = "match.design-not-known"
	FactMatchAsCircumference        Fact = "match.as-circumference"
	FactMatchOtherPractice          Fact = "match.other-practice"
	FactMatchWidestPractice         Fact = "match.widest-practice"
)

// fitmentKinds are the findings of the tire on this vehicle: label, matching, marks and age.
var fitmentKinds = []Kind{
	{Code: AgeCheckYearly, Urgency: Note, Of: OfTire, Measured: Age, Limit: Age, Again: AgainMade, Left: LeftNothing},
	{Code: AgeReplaceAdvised, Urgency: Plan, Of: OfTire, Measured: Age, Limit: Age, Again: AgainMade, Left: LeftNothing},
	{Code: AgeApartOnAxle, Urgency: Note, Of: OfTire, Measured: Age, Limit: Age, Again: AgainMade, Left: LeftNothing},
	{Code: AgeAsOldAsCracked, Urgency: ThisVisit, Of: OfTire, Measured: Age, Limit: Nothing, Work: WorkTireReplace, Scrap: true, Again: AgainMade, Left: LeftNothing},
	{Code: AgeLegalLimit, Urgency: BeforeDriving, Of: OfTire, Measured: Age, Limit: Age, Again: AgainMade, Left: LeftNothing},
	{Code: MatchDualDesign, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkDualMatch, Again: AgainGood, Good: []Checked{CheckedMatchDual, CheckedMatchDualTread}, Left: LeftNothing},
	{Code: MatchDual, Urgency: ThisVisit, Of: OfTire, Measured: Length, Limit: Length, Work: WorkDualMatch, Again: AgainGood, Good: []Checked{CheckedMatchDual}, Left: LeftNothing},
	{Code: MatchDualModelLimit, Urgency: ThisVisit, Of: OfTire, Measured: Length, Limit: Length, Work: WorkDualMatch, Again: AgainGood, Good: []Checked{CheckedMatchDual}, Left: LeftNothing},
	{Code: MatchDualLegalLimit, Urgency: BeforeDriving, Of: OfTire, Measured: Length, Limit: Length, Work: WorkDualMatch, Again: AgainGood, Good: []Checked{CheckedMatchDual}, Left: LeftNothing},
	{Code: MatchAxleLegalLimit, Urgency: BeforeDriving, Of: OfTire, Measured: Length, Limit: Length, Work: WorkTiresMatchAxle, Again: AgainGood, Good: []Checked{CheckedMatchAxle}, Left: LeftNothing},
	{Code: MatchDualTread, Urgency: ThisVisit, Of: OfTire, Measured: TreadDepth, Limit: TreadDepth, Work: WorkDualMatch, Again: AgainGood, Good: []Checked{CheckedMatchDual, CheckedMatchDualTread}, Left: LeftNothing},
	{Code: MatchDualLargerInside, Urgency: Note, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainNever, Left: LeftNothing},
	{Code: MatchAllWheelDriveDesign, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTiresMatchSet, Again: AgainGood, Good: []Checked{CheckedMatchAllWheelDrive, CheckedMatchAllWheelDriveTape}, Left: LeftNothing},
	{Code: MatchAllWheelDriveTape, Urgency: ThisVisit, Of: OfTire, Measured: Length, Limit: Length, Work: WorkTiresMatchSet, Again: AgainGood, Good: []Checked{CheckedMatchAllWheelDriveTape}, Left: LeftNothing},
	{Code: MatchAllWheelDrive, Urgency: ThisVisit, Of: OfTire, Measured: TreadDepth, Limit: TreadDepth, Work: WorkTiresMatchSet, Again: AgainGood, Good: []Checked{CheckedMatchAllWheelDrive, CheckedMatchAllWheelDriveTape}, Left: LeftNothing},
	{Code: FitmentBuildNotLabel, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTiresFitRight, Again: AgainGood, Good: []Checked{CheckedFitmentAsLabel}, Left: LeftNothing},
	{Code: FitmentLoadBelowLabel, Urgency: ThisVisit, Of: OfTire, Measured: Load, Limit: Load, Work: WorkTiresFitRight, Again: AgainGood, Good: []Checked{CheckedFitmentAsLabel}, Left: LeftNothing},
	{Code: FitmentSpeedBelowLabel, Urgency: ThisVisit, Of: OfTire, Measured: Speed, Limit: Speed, Work: WorkTiresFitRight, Again: AgainGood, Good: []Checked{CheckedFitmentAsLabel}, Left: LeftNothing},
	{Code: FitmentWinterSpeed, Urgency: Note, Of: OfTire, Measured: Speed, Limit: Speed, Again: AgainMarking, Left: LeftNothing},
	{Code: FitmentSpeedByLaw, Urgency: ThisVisit, Of: OfTire, Measured: Speed, Limit: Speed, Work: WorkTiresFitRight, Again: AgainMarking, Left: LeftNothing},
	{Code: FitmentSpeedNotShown, Urgency: ThisVisit, Of: OfTire, Measured: Speed, Limit: Nothing, Work: WorkSpeedLabel, Again: AgainGood, Good: []Checked{CheckedFitmentSpeedShown}, Left: LeftNothing, Cured: []Done{DoneSpeedLabelPlaced}},
	{Code: FitmentSizeNotLabel, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTiresFitRight, Again: AgainGood, Good: []Checked{CheckedFitmentAsLabel}, Left: LeftNothing},
	{Code: FitmentClassNotLabel, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTiresFitRight, Again: AgainGood, Good: []Checked{CheckedFitmentAsLabel}, Left: LeftNothing},
	{Code: FitmentSubstituteSize, Urgency: Note, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainMarking, Left: LeftNothing},
	{Code: FitmentPressureForSize, Urgency: ThisVisit, Of: OfTire, Measured: Pressure, Limit: Pressure, Work: WorkAirSetForSize, Again: AgainGood, Good: []Checked{CheckedFitmentAsLabel}, Left: LeftForSize},
	{Code: FitmentSizesMixed, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTiresFitRight, Again: AgainMarking, Left: LeftNothing},
	{Code: FitmentLoadMixed, Urgency: Plan, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainMarking, Left: LeftNothing},
	{Code: FitmentDesignsMixed, Urgency: Plan, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainMarking, Left: LeftNothing},
	{Code: FitmentConstructionMixed, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTiresFitRight, Again: AgainMarking, Left: LeftNothing},
	{Code: FitmentConstructionByAxle, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTiresFitRight, Again: AgainMarking, Left: LeftNothing},
	{Code: FitmentRadialAhead, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTiresFitRight, Again: AgainMarking, Left: LeftNothing},
	{Code: FitmentSeasonMixed, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTiresFitRight, Again: AgainMarking, Left: LeftNothing},
	{Code: FitmentSeasonOneAxle, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTiresFitRight, Again: AgainMarking, Left: LeftNothing},
	{Code: FitmentLoadBelowAxle, Urgency: ThisVisit, Of: OfTire, Measured: Load, Limit: Load, Work: WorkTiresFitRight, Again: AgainMarking, Left: LeftNothing},
	{Code: FitmentNotForHighway, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTiresFitRight, Again: AgainMarking, Left: LeftNothing},
	{Code: FitmentRetreadOnFront, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTiresFitRight, Again: AgainMarking, Left: LeftNothing},
	{Code: FitmentRegroovedOnFront, Urgency: BeforeDriving, Of: OfTire, Measured: Load, Limit: Load, Work: WorkTiresFitRight, Again: AgainMarking, Left: LeftNothing},
	{Code: FitmentRegroovedBarred, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTiresFitRight, Again: AgainMarking, Left: LeftNothing},
	{Code: MountArrowOpposes, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTireRemount, Again: AgainArrow, Left: LeftArrow},
	{Code: MountOutsideIn, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTireRemount, Again: AgainOutside, Left: LeftOutside},
	{Code: MountDateInboard, Urgency: Note, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainArrow, Left: LeftNothing},
}

// fitmentFacts are the evidence about the tire on this vehicle: label, matching, marks and age.
var fitmentFacts = []FactKind{
	{Code: FactAgeMadeWeek, Amount: Number},
	{Code: FactAgeMadeYear, Amount: Number},
	{Code: FactAgeCommonlyReplacedBy, Amount: Age},
	{Code: FactAgeYearsSinceFitted, Amount: Age},
	{Code: FactAgeGovernsBeforeTread, Amount: Nothing},
	{Code: FactFitmentLabelDivided, Amount: Share},
	{Code: FactFitmentPassengerDivided, Amount: Share},
	{Code: FactFitmentDiameterChange, Amount: Share},
	{Code: FactFitmentShownSpeed, Amount: Speed},
	{Code: FactFitmentTrueSpeed, Amount: Speed},
	{Code: FactFitmentCarriesLabelLoadFrom, Amount: Pressure},
	{Code: FactFitmentNoPressureEnough, Amount: Nothing},
	{Code: FactFitmentLoadNotKnown, Amount: Nothing},
	{Code: FactMountSwapCures, Amount: Nothing},
	{Code: FactMatchTapeConditionsNotTold, Amount: Nothing},
	{Code: FactMatchDesignNotKnown, Amount: Nothing},
	{Code: FactMatchAsCircumference, Amount: Length},
	{Code: FactMatchOtherPractice, Amount: TreadDepth},
	{Code: FactMatchWidestPractice, Amount: TreadDepth},
}

// fitmentChecked are what is found good of the tire on this vehicle: label, matching, marks and age.
var fitmentChecked = []CheckedKind{
	{Code: CheckedMatchDual, Measured: Length, Limit: Length},
	{Code: CheckedMatchAxle, Measured: Length, Limit: Length},
	{Code: CheckedMatchDualTread, Measured: TreadDepth, Limit: TreadDepth},
	{Code: CheckedMatchAllWheelDrive, Measured: TreadDepth, Limit: TreadDepth},
	{Code: CheckedMatchAllWheelDriveTape, Measured: Length, Limit: Length},
	{Code: CheckedFitmentAsLabel, Measured: Nothing, Limit: Nothing},
	{Code: CheckedFitmentSpeedByLaw, Measured: Speed, Limit: Speed},
	{Code: CheckedFitmentSpeedShown, Measured: Nothing, Limit: Nothing},
	{Code: CheckedAgeLegalLimit, Measured: Age, Limit: Age},
}
