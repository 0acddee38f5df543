package finding

// Findings of the tire on this vehicle: label, matching, marks, age.
const (
	AgeCheckYearly           Code = "age.check-yearly"
	AgeReplaceAdvised        Code = "age.replace-advised"
	AgeApartOnAxle           Code = "age.apart-on-axle"
	AgeAsOldAsCracked        Code = "age.as-old-as-cracked"
	MatchDualDesign          Code = "match.dual-design"
	MatchDual                Code = "match.dual" // by diameter
	MatchDualModelLimit      Code = "match.dual-model-limit"
	MatchDualLegalLimit      Code = "match.dual-legal-limit"
	MatchDualTread           Code = "match.dual-tread"
	MatchDualLargerInside    Code = "match.dual-larger-inside"
	FitmentBuildNotLabel     Code = "fitment.build-not-label"   // bias for radial, or radial for bias
	FitmentLoadBelowLabel    Code = "fitment.load-below-label"  // rated for less than the label's tire
	FitmentSpeedBelowLabel   Code = "fitment.speed-below-label" // not a winter tire
	FitmentWinterSpeed       Code = "fitment.winter-speed"      // a lower symbol on a winter tire
	FitmentSizeNotLabel      Code = "fitment.size-not-label"    // and not proved to carry what the label's size does
	FitmentClassNotLabel     Code = "fitment.class-not-label"   // a passenger tire for a truck class, or other classes of one size
	FitmentSubstituteSize    Code = "fitment.substitute-size"   // another size that carries as much
	FitmentPressureForSize   Code = "fitment.pressure-for-size" // the label's figure is too low for this tire
	MountArrowOpposes        Code = "mount.arrow-opposes"
	MountOutsideIn           Code = "mount.outside-in"
	MountDateInboard         Code = "mount.date-inboard"
	MatchAllWheelDriveDesign Code = "match.all-wheel-drive-design" // different designs, not taped
	MatchAllWheelDriveTape   Code = "match.all-wheel-drive-tape"   // by circumference
	MatchAllWheelDrive       Code = "match.all-wheel-drive"        // by depth
	FitmentSizesMixed        Code = "fitment.sizes-mixed"
	FitmentLoadMixed         Code = "fitment.load-mixed"
	FitmentDesignsMixed      Code = "fitment.designs-mixed"
	FitmentConstructionMixed Code = "fitment.construction-mixed"
	FitmentRadialAhead       Code = "fitment.radial-ahead"
	FitmentSeasonMixed       Code = "fitment.season-mixed"
	FitmentSeasonOneAxle     Code = "fitment.season-one-axle"
	AgeLegalLimit            Code = "age.legal-limit"
)

// Found good, of the tire on this vehicle: label, matching, marks, age.
const (
	CheckedMatchDual              Checked = "match.dual" // by diameter
	CheckedMatchDualTread         Checked = "match.dual-tread"
	CheckedFitmentAsLabel         Checked = "fitment.as-label"           // kept
	CheckedMatchAllWheelDrive     Checked = "match.all-wheel-drive"      // by depth
	CheckedMatchAllWheelDriveTape Checked = "match.all-wheel-drive-tape" // by circumference
	CheckedAgeLegalLimit          Checked = "age.legal-limit"
)

// Evidence about the tire on this vehicle: label, matching, marks, age.
const (
	FactAgeMadeWeek                 Fact = "age.made-week"
	FactAgeMadeYear                 Fact = "age.made-year"
	FactAgeCommonlyReplacedBy       Fact = "age.commonly-replaced-by"
	FactAgeYearsSinceFitted         Fact = "age.years-since-fitted"
	FactAgeGovernsBeforeTread       Fact = "age.governs-before-tread"
	FactFitmentPassengerDivided     Fact = "fitment.passenger-divided"
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
