package finding

import (
	"slices"
	"strings"
	"testing"
)

// What a finding measures, what sees it again and what it stays open on hang together:
// a row in which one of them slipped agrees with itself no more (our own decision).

// seenBy are the ways to judge again what was measured.
var seenBy = map[Quantity][]Again{
	TreadDepth:   {AgainDepth, AgainAcross, AgainGood, AgainHole},
	Length:       {AgainWhole, AgainGood, AgainHole},
	Pressure:     {AgainPressure, AgainGood, AgainSensor, AgainValve},
	PressureLoss: {AgainPressure},
	Load:         {AgainWeighed, AgainMarking, AgainGood},
	Share:        {AgainDepth},
	Number:       {AgainFasteners, AgainHole},
	Age:          {AgainMade, AgainHole},
	Distance:     {AgainAlways, AgainAcross, AgainDepth, AgainTorque},
	Speed:        {AgainMarking, AgainGood},
	Torque:       {AgainTorque},
	Angle:        {AgainHole},
}

// whose is what a finding stays open on that is judged again in a way.
var whose = map[Again]Of{
	AgainDepth: OfTire, AgainPressure: OfTire, AgainHole: OfTire, AgainWhole: OfTire, AgainMade: OfTire, AgainArrow: OfTire,
	AgainOutside: OfTire, AgainMarking: OfTire, AgainGood: OfTire,
	AgainAcross: OfPlace, AgainWheel: OfPlace, AgainFasteners: OfPlace, AgainTorque: OfPlace, AgainValve: OfPlace,
	AgainSensor: OfPlace, AgainWeighed: OfPlace, AgainNever: OfPlace,
	AgainAlways: OfVehicle, AgainAllSeen: OfVehicle, AgainRelearned: OfVehicle, AgainLamp: OfVehicle, AgainAsked: OfVehicle,
}

// whoseElse are findings that stay open on something else than those seen so: which tire
// it is may itself be in doubt, and a spare is a tire, its carrier a place and its jack
// the vehicle's.
var whoseElse = map[Code]Of{
	RotationUnrecorded: OfPlace, RotationRefused: OfPlace,
	DoubtDepthUnit: OfPlace, DoubtAsBefore: OfPlace, DoubtPressureUnit: OfPlace, DoubtLabelUnit: OfPlace, DoubtThumped: OfPlace,
	MatchDualLargerInside: OfTire,
}

// leftAs are the ways to judge again what is closed by something left so.
var leftAs = map[Left][]Again{
	LeftPressure:     {AgainPressure},
	LeftWhereUsed:    {AgainPressure},
	LeftDepth:        {AgainDepth},
	LeftLoad:         {AgainWeighed},
	LeftArrow:        {AgainArrow},
	LeftOutside:      {AgainOutside},
	LeftValve:        {AgainValve},
	LeftFastened:     {AgainFasteners},
	LeftSensor:       {AgainSensor},
	LeftAgreeing:     {AgainSensor},
	LeftLearned:      {AgainSensor},
	LeftLamp:         {AgainLamp, AgainPressure, AgainAsked},
	LeftCleared:      {AgainPressure},
	LeftTight:        {AgainPressure},
	LeftRepaired:     {AgainHole},
	LeftObjectOut:    {AgainHole},
	LeftRenewed:      {AgainFasteners},
	LeftAired:        {AgainPressure},
	LeftSpread:       {AgainPressure},
	LeftForSize:      {AgainGood},
	LeftSeen:         {AgainAllSeen},
	LeftAllRead:      {AgainLamp},
	LeftWeighed:      {AgainWeighed},
	LeftSealantKnown: {AgainAsked},
	LeftAxle:         {AgainDepth},
}

// limitElse are findings whose limit is no amount of what they measure: a life runs to a
// depth.
var limitElse = map[Code]Quantity{TrendReachesLimit: TreadDepth, TrendFirstOut: TreadDepth, TrendBrokeIn: Distance}

func TestColumnsAgree(t *testing.T) {
	for k := range Kinds() {
		if ways, told := seenBy[k.Measured]; told != (k.Measured != Nothing) || told && !slices.Contains(ways, k.Again) {
			t.Errorf("%s measures %d and is judged again by %d", k.Code, k.Measured, k.Again)
		}
		limit, other := limitElse[k.Code]
		if !other {
			limit = k.Measured
		}
		if k.Limit != Nothing && k.Limit != limit {
			t.Errorf("%s measures %d and has a limit of %d", k.Code, k.Measured, k.Limit)
		}
		of, listed := whoseElse[k.Code]
		if !listed {
			of, listed = whose[k.Again], k.Again != AgainSpare
		}
		if listed && k.Of != of {
			t.Errorf("%s is judged again by %d and stays open on %d", k.Code, k.Again, k.Of)
		}
		if ways, told := leftAs[k.Left]; told != (k.Left != LeftNothing) || told && !slices.Contains(ways, k.Again) {
			t.Errorf("%s is closed by %d as left, and judged again by %d", k.Code, k.Left, k.Again)
		}
	}
}

// workOf are the lines of work that a finding asks for by how it is judged again: beside
// none, which a finding may always ask for.
var workOf = map[Again][]Work{
	AgainAcross:    {WorkMeasureToSettle},
	AgainArrow:     {WorkTireRemount},
	AgainAsked:     {WorkSealantAskFirst},
	AgainDepth:     {WorkMeasureAgain, WorkTiresMatchAxle},
	AgainFasteners: {WorkFastenersPutRight, WorkWheelMatingFaces},
	AgainGood:      {WorkTiresMatchAxle, WorkDualMatch, WorkTiresMatchSet, WorkTiresFitRight, WorkAirSetForSize, WorkSpeedLabel},
	AgainHole:      {WorkTireReplace},
	AgainLamp:      {WorkMeasureToSettle},
	AgainMade:      {WorkTireReplace},
	AgainMarking:   {WorkTiresFitRight},
	AgainNever:     {WorkReferSteeringSuspension, WorkReferBrakesHub},
	AgainOutside:   {WorkTireRemount},
	AgainPressure:  {WorkMeasureToSettle, WorkMeasureAgain, WorkSpareSet},
	AgainSensor:    {WorkMeasureToSettle, WorkSensorCheck, WorkSensorRenew},
	AgainSpare:     {WorkSpareMendCarrier, WorkSparePutBack},
	AgainTorque:    {WorkWheelTorque, WorkWheelTorqueCheck, WorkFastenersPutRight},
	AgainValve:     {WorkValveRenew},
	AgainWeighed:   {WorkMeasureToSettle},
	AgainWheel:     {WorkWheelReplace, WorkWheelCleanBeadSeat, WorkReferBrakesHub},
	AgainWhole:     {WorkTireReplace, WorkTireLookClosely, WorkReferSteeringSuspension, WorkWheelClearSpace},
}

// warnsOf are the cautions of what a law forbids.
var warnsOf = map[Subject][]Caution{
	LawSeparation:      {CautionBulge, CautionZipper, CautionDamagedTire},
	LawCordExposed:     {CautionDamagedTire},
	LawCut:             {CautionDamagedTire},
	LawFlatOrLeaking:   {CautionLeakOrFlat},
	LawLoad:            {CautionOverload},
	LawPressureForLoad: {CautionOverload},
	LawWheelCondition:  {CautionWheelFastening},
	LawFasteners:       {CautionWheelFastening},
}

// warnsWith are the cautions of what asks for a line of work: exactly these.
var warnsWith = map[Work][]Caution{
	WorkFastenersPutRight: {CautionWheelFastening},
	WorkWheelMatingFaces:  {CautionWheelFastening},
	WorkWheelTorque:       {CautionWheelFastening},
	WorkWheelTorqueCheck:  {CautionWheelFastening},
	WorkWheelReplace:      {CautionWheelFastening, ""},
	WorkTireReplace:       {CautionBulge, CautionZipper, CautionDamagedTire, ""},
	WorkWheelClearSpace:   {CautionLifting, ""},
	WorkSpareSet:          {CautionAddingAir},
	WorkSealantAskFirst:   {CautionPunctureSealantFlammable},
}

// What forbids a finding, what it asks for and what it warns of hang together, too.
func TestWorkAndCautionsAgree(t *testing.T) {
	for k := range Kinds() {
		if k.Work != "" && !slices.Contains(workOf[k.Again], k.Work) {
			t.Errorf("%s is judged again by %d and asks for %s", k.Code, k.Again, k.Work)
		}
		if warns, told := warnsOf[k.Law]; told != (k.Law != "") || told && !slices.Contains(warns, k.Caution) {
			t.Errorf("%s is forbidden as %q and warns of %q", k.Code, k.Law, k.Caution)
		}
		if warns, told := warnsWith[k.Work]; told && !slices.Contains(warns, k.Caution) {
			t.Errorf("%s asks for %s and warns of %q", k.Code, k.Work, k.Caution)
		}
		if k.Law != "" && k.Urgency != BeforeDriving {
			t.Errorf("%s is forbidden as %q and waits", k.Code, k.Law)
		}
	}
}

// checkedElse are what is found good that measures something, where no finding of its name
// does.
var checkedElse = map[Checked]Quantity{CheckedTreadShopLimit: TreadDepth, CheckedLoadCarried: Load}

// What is found good is held against a limit of what it measures: the same that the
// finding of its name measures, where it is not. What was looked at alone measures nothing.
func TestWhatIsFoundGoodMeasuresAsItsFinding(t *testing.T) {
	for _, c := range checks.rows {
		want, listed := checkedElse[c.Code]
		for k := range Kinds() {
			if k.Code == Code(c.Code) && !listed {
				want = k.Measured
			}
		}
		if want == QuantityNotTold {
			want = Nothing
		}
		if c.Measured != want || c.Limit != want {
			t.Errorf("%s measures %d against a limit of %d, want %d", c.Code, c.Measured, c.Limit, want)
		}
	}
}

// warnsBy are the cautions of what no law forbids and no line of work warns of, by how it
// is judged again: of what is read the filling and running low, of a hole how it is
// mended, of a complaint that wants a look that one is taken before air. Of the others
// there is nothing to warn.
var warnsBy = map[Again][]Caution{
	AgainNever:    {CautionLifting, CautionDeflate, ""},
	AgainPressure: {CautionRunLow, CautionNeverBleed, CautionDeflate, CautionAddingAir, ""},
	AgainHole:     {CautionPunctureNoAir, CautionPunctureTrainedRepairer, CautionPunctureZipper, CautionPunctureSealantFlammable, ""},
	AgainWhole:    {CautionDamagedTire, CautionLifting, ""},
	AgainAllSeen:  {CautionLookBeforeAir},
	AgainWeighed:  {CautionOverload},
	AgainGood:     {CautionAddingAir, ""},
}

func TestCautionsAgreeWithWhatIsSeenAgain(t *testing.T) {
	for k := range Kinds() {
		if _, byWork := warnsWith[k.Work]; byWork || k.Law != "" || k.Retired {
			continue
		}
		warns, told := warnsBy[k.Again]
		if told && !slices.Contains(warns, k.Caution) || !told && k.Caution != "" {
			t.Errorf("%s is judged again by %d and warns of %q", k.Code, k.Again, k.Caution)
		}
	}
}

// What a customer notices has one name throughout: of what he tells, of the finding, and of
// what is said of it; what speaks for it is said in words of complaints.
func TestComplaintsAreOneThroughout(t *testing.T) {
	for k := range ComplaintKinds() {
		if k.Code != "" && string(k.Code) != "complaint."+string(k.Kind) {
			t.Errorf("%s is found as %s", k.Kind, k.Code)
		}
		if k.Told != "" && string(k.Told) != "told."+string(k.Kind) {
			t.Errorf("%s is told as %s", k.Kind, k.Told)
		}
		if k.Lit != "" && k.Lit != FactToldLamp {
			t.Errorf("%s of a lamp that is lit is told as %s", k.Kind, k.Lit)
		}
		if k.SeenAs != "" && !strings.HasPrefix(string(k.SeenAs), "complaint.") || (k.SeenAs == "") != (len(k.Seen) == 0) {
			t.Errorf("%s is seen as %q by %v", k.Kind, k.SeenAs, k.Seen)
		}
		if (k.Look == "") != (len(k.Looks) == 0) {
			t.Errorf("%s wants the look %q at %v", k.Kind, k.Look, k.Looks)
		}
		if k.Lit != "" && !k.UnlessLit {
			t.Errorf("%s is told beside a lamp that is lit, and judged too", k.Kind)
		}
		for _, s := range k.Causes {
			if !strings.HasPrefix(string(s.As), "complaint.") {
				t.Errorf("%s speaks for %s as %s", s.Code, k.Kind, s.As)
			}
		}
	}
}

// What refuses a rotation is said in words of rotations.
func TestRefusalsOfARotationAreItsOwn(t *testing.T) {
	for reason, fact := range Refused {
		if !strings.HasPrefix(string(fact), "rotation.") || !strings.HasPrefix(string(reason), "rotation.") {
			t.Errorf("%s is said as %s", reason, fact)
		}
	}
}

// meansElse are observations that mean a finding of another name.
var meansElse = map[Observation]Code{
	"rubbing-on-vehicle": DamageRubbing, "rubbing-on-mate": DamageDualsRubbing, "blistering-or-swelling": DamageBlistering, "bead-torn-or-kinked": DamageBead,
	"wheel-bent-outer-lip": WheelBent, "wheel-bent-inner-lip": WheelBent, "wheel-bead-seat-corrosion": WheelBeadSeatCorroded, "spacer-or-adapter": WheelSpacer,
	"grease-on-inner-side": WheelGreaseInside, "object-between-duals": DualObjectBetween,
}

// What is observed means the finding that has its name, but for those listed.
func TestWhatIsObservedMeansItsFinding(t *testing.T) {
	for _, k := range observations.rows {
		want, listed := meansElse[k.Kind]
		_, name, _ := strings.Cut(string(k.Means), ".")
		switch {
		case listed && k.Means != want, !listed && k.Means != "" && !strings.HasSuffix(string(k.Kind), name):
			t.Errorf("%s means %s", k.Kind, k.Means)
		}
	}
}

// holeWarns are the cautions of what a hole comes to: no air before it is mended where the
// tire may burst or come off its rim, else who mends it.
var holeWarns = map[Code]Caution{
	PunctureRunLowDamage: CautionPunctureNoAir, PunctureStructure: CautionPunctureNoAir, PunctureBead: CautionPunctureNoAir, PunctureScuffRing: CautionPunctureNoAir, PunctureRanSpecial: CautionPunctureNoAir,
	PunctureZipper: CautionPunctureZipper, PunctureRepairable: CautionPunctureTrainedRepairer, PunctureNotAsNailHole: CautionPunctureTrainedRepairer, PunctureAskSealant: CautionPunctureSealantFlammable,
}

func TestCautionsOfAHole(t *testing.T) {
	for k := range Kinds() {
		if k.Again == AgainHole && k.Caution != holeWarns[k.Code] {
			t.Errorf("%s warns of %q", k.Code, k.Caution)
		}
	}
}

// holeLeft are findings of a hole that a repair does not put right: it is not to be
// repaired, or not for all that the tire was made for.
var holeLeft = map[Code]Left{
	PunctureTooManyForMaker: LeftNothing, PunctureSpeedSymbolLost: LeftNothing, PunctureRanSpecial: LeftNothing, PunctureNotAsNailHole: LeftNothing, PunctureNotRepairable: LeftNothing, RepairImproperEarlier: LeftNothing, PunctureNoInjury: LeftObjectOut,
}

func TestARepairPutsAHoleRight(t *testing.T) {
	for k := range Kinds() {
		want, listed := holeLeft[k.Code]
		if !listed {
			want = LeftRepaired
		}
		if k.Again == AgainHole && !k.Retired && k.Left != want {
			t.Errorf("%s is closed by %d as left", k.Code, k.Left)
		}
	}
}

// What is left alone is air that is above the label, or may be.
func TestWhatIsLeftAlone(t *testing.T) {
	for k := range Kinds() {
		if want := slices.Contains([]Code{InflationAboveLabel, InflationWarmAboveLabel, InflationCheckCold}, k.Code); k.LeaveAlone != want {
			t.Errorf("%s is left alone: %v", k.Code, k.LeaveAlone)
		}
	}
}

// What a line does to its wheel: it comes off, the tire comes off it, another is fitted or
// one of another place comes. What is not listed leaves the wheel on.
func TestWhatALineDoesToItsWheel(t *testing.T) {
	off := []Work{WorkFastenersPutRight, WorkFastenersRenewWithNeighbors, WorkFastenersRenewAll, WorkWheelClearSpace, WorkReferBrakesHub, WorkTireRestrainingDevice, WorkTireFillInDevice}
	bare := []Work{WorkTireDemountInspect, WorkRepairCombination, WorkRepairTwoPiece, WorkRepairReferSection, WorkWheelReplace, WorkWheelCleanBeadSeat, WorkTireRemount, WorkValveRenew}
	fitted := []Work{WorkTireReplaceIfBelow, WorkTireReplace, WorkTiresReplacePair, WorkTiresFitWinter, WorkTiresFitRight, WorkTiresMatchAxle, WorkTiresMatchSet, WorkDualMatch}
	moved := []Work{WorkTiresDeeperPairToRear, WorkWheelsSwapSides, WorkSparePutBack, WorkTiresRotate}
	for k := range WorkKinds() {
		fits, moves := slices.Contains(fitted, k.Code), slices.Contains(moved, k.Code)
		dismounts := fits || slices.Contains(bare, k.Code)
		comesOff := dismounts || moves || slices.Contains(off, k.Code)
		if k.WheelOff != comesOff || k.Dismounts != dismounts || k.Fits != (fits || k.Code == WorkSparePutBack) || k.Moves != moves {
			t.Errorf("%s: off %v, dismounted %v, fitted %v, moved %v", k.Code, k.WheelOff, k.Dismounts, k.Fits, k.Moves)
		}
	}
}

// holeMeasures are what findings of a hole measure; the others are seen.
var holeMeasures = map[Code]Quantity{
	PunctureWorn: TreadDepth, PunctureTooMany: Number, PunctureTooManyForMaker: Number, PunctureOverlap: Length, PunctureSize: Length, PuncturePlace: Length, PunctureRepairersRule: Length, PunctureAngle: Angle, PunctureAge: Age,
}

func TestWhatAHoleMeasures(t *testing.T) {
	for k := range Kinds() {
		want, measures := holeMeasures[k.Code]
		if !measures {
			want = Nothing
		}
		if k.Again == AgainHole && (k.Measured != want || k.Limit != want) {
			t.Errorf("%s measures %d against %d", k.Code, k.Measured, k.Limit)
		}
	}
}
