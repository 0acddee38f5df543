package finding

// The table of kinds is the spine of what is judged: a row for each kind of
// finding, line of work, observation ... with its code and every fact about it.
// Nothing else knows a property of a code, and nobody takes a code apart. Rows
// stand in the files kinds_*.go, one file a family.
//
// Nothing once released is removed: what is not made any more is Retired, and a
// code that no row has, met in a stored record, gives the zero row.

// Kind is what is known of one kind of finding, whatever the visit.
type Kind struct {
	Code     Code
	Urgency  Urgency  // unless the visit makes it more urgent or less
	Still    bool     // before it is driven means that it is not even moved: a wheel may come off or break, or a cord pop
	Of       Of       // what it stays open on
	Measured Quantity // of the value measured, its margin and its uncertainty
	Limit    Quantity
	Pair     bool    // what lies between two duals is of both
	Law      Subject // of a law that forbids it; "": practice only, or its own rule is the law
	Work     Work    // what sets it right, or decides it; "": nothing by itself
	Caution  Caution // "": none by itself
	Scrap    bool    // the tire is finished by it
	LetDown  LetDown // before the first nut of its wheel is loosened
	// Condition: what a look finds within the uncertainty of the limit is so all the
	// same, as a tire at its wear bars is worn out. Only its legal status is open.
	Condition bool
	// LeavesOpen: while it is open nobody can tell whether something holds the vehicle,
	// whatever its own urgency: a hole not seen inside, a reading in doubt.
	LeavesOpen bool
	Again      Again // what of a later visit judges it again
	Good       []Checked
	Left       Left   // what of the vehicle as left closes it
	Cured      []Done // work that sets it right, at the same wheel
	Fact       Fact   // as evidence of another finding
	Met        Checked
	Felt       bool // by who drives: a drive shows that it is gone
	SaidBy     Work // the line of work that says all that a note of it says of what to do; "": none does
	Beside     bool // a figure beside another finding, for who reads everything
	LeaveAlone bool // a note of what is to be left as it is
	Calms      bool // a note that the customer hears, too: it tells what is no fault
	Retired    bool
}

// LetDown is on which vehicles a tire with a finding is let down before the first nut of
// its wheel is loosened.
type LetDown uint8

// Vehicles on which it is.
const (
	LetDownNever  LetDown = iota
	LetDownLarge          // on large ones: damage to tire or wheel is seen or suspected
	LetDownAlways         // on any: it may burst
)

// Of is what a finding stays open on.
type Of uint8

// What findings are of.
const (
	OfNotTold Of = iota
	OfTire       // the tire itself: another tire has none of it
	OfPlace      // the place on the vehicle
	OfVehicle
)

// Quantity is what an amount is of; its unit alone does not tell it.
type Quantity uint8

// Quantities.
const (
	QuantityNotTold Quantity = iota
	Nothing                  // no amount
	TreadDepth
	Length
	Pressure
	PressureLoss
	Load
	Share
	Number
	Age
	Distance
	Speed
	Torque
	Angle
	Temperature
	WearRate
	Day
)

// Subject is what a rule of a law speaks of.
type Subject string

// Subjects of the laws that forbid what a finding says.
const (
	LawCordExposed     Subject = "cord exposed"
	LawSeparation      Subject = "bulge or separation"
	LawFlatOrLeaking   Subject = "flat or leaking"
	LawCut             Subject = "cut"
	LawWheelCondition  Subject = "wheel condition"
	LawFasteners       Subject = "wheel fasteners"
	LawLoad            Subject = "load"
	LawPressureForLoad Subject = "pressure for the load"
)

// Again is what of a later visit judges a finding again: silence never reads as
// good.
type Again uint8

// What judges a finding again.
const (
	AgainNotTold   Again = iota
	AgainNever           // no look and no reading: work cures it
	AgainAlways          // every visit: it is found again as long as it is so
	AgainDepth           // a depth read
	AgainAcross          // depths that tell the shape across the tread
	AgainPressure        // a pressure read
	AgainHole            // the tire seen whole, or a hole judged
	AgainWhole           // the tire seen whole
	AgainAllSeen         // the tire seen whole; of the vehicle, every tire
	AgainWheel           // wheel face and barrel looked at
	AgainFasteners       // fasteners looked at, or counted with the wheel off
	AgainTorque          // the wheel off again, or its torque checked
	AgainValve           // the valve looked at
	AgainSensor          // the sensor asked
	AgainRelearned       // sensors learned to their places, or the system reset
	AgainLamp            // the warning lamp looked at
	AgainWeighed         // the axle on a scale, and what its tires carry known
	AgainMade            // the identification read
	AgainArrow           // the arrow looked for
	AgainOutside         // the mark of the outside looked for
	AgainMarking         // the marking read
	AgainGood            // one of the comparisons in Good made and found good
	AgainSpare           // the spare's surroundings looked at
	AgainAsked           // the customer asked what he notices
)

// Left is what of the vehicle as left closes a finding at the same visit.
type Left uint8

// What closes a finding as left.
const (
	LeftNotTold      Left = iota
	LeftNothing           // nothing: it stays open
	LeftPressure          // at the label, cold
	LeftWhereUsed         // at the label, cold, and where and when it is used
	LeftDepth             // every limit met
	LeftLoad              // a pressure that supports the load
	LeftArrow             // the arrow agrees
	LeftOutside           // the marked side faces out
	LeftValve             // a valve rated for the label
	LeftFastened          // fasteners counted, renewed, clean and with their torque on record
	LeftSensor            // the sensor answers, its battery good
	LeftAgreeing          // sensor and gauge agree
	LeftLearned           // each sensor is shown where it is
	LeftLamp              // the lamp seen to go out
	LeftCleared           // inside and both sidewalls told clean, of steel cord looked at under air too, and aired
	LeftTight             // the leak mended, aired, and cleared where it may have run low
	LeftRepaired          // a repair told whole, the inside told clean, aired, torque on record
	LeftObjectOut         // an object that did not go through is out, and it is dry
	LeftRenewed           // all fasteners renewed, clean and with their torque on record
	LeftAired             // aired in the device and looked at there, or cleared
	LeftSpread            // the two as near each other as they should be
	LeftForSize           // at the pressure for the size fitted
	LeftSeen              // every tire that it is about seen wherever the complaint wants it
	LeftAllRead           // the pressure of every tire on the road read, and the lamp seen to go out
	LeftWeighed           // weighed again as left: rated for it, and the pressure supports it
	LeftSealantKnown      // which sealant it is told, and one that may burn is out of the tire
	LeftAxle              // the two tires of the axle as near each other in depth as they should be
)

// FactKind is what is known of one kind of evidence.
type FactKind struct {
	Code    Fact
	Amount  Quantity
	Leaves  Certainty // of what rests on it: Doubtful or Assumed, no surer; Proved, whatever was read; CertaintyNotTold, as it is
	Retired bool
}

// CheckedKind is what is known of one kind of what was found good.
type CheckedKind struct {
	Code            Checked
	Measured, Limit Quantity
	Place           Looked // that was looked at; "": it is a comparison
	Retired         bool
}

// Step is a stage of the order of work.
type Step uint8

// Steps of the order of work (common practice).
const (
	StepMakeSafe  Step = iota
	StepRecord         // and measure as found
	StepFasteners      // and wheels
	StepDemount        // and inspect
	StepDecide
	StepChassis // steering, suspension, hubs, brakes
	StepMount
	StepPlace
	StepSetPressure
	StepTorque
	StepSensors
	StepAlignment
	StepAsLeft
	StepOwed // after the visit
)

// WorkKind is what is known of one kind of line of the order of work. Within a
// stage the lines keep the order of the table.
type WorkKind struct {
	Code      Work
	Stage     Stage
	Of        Of    // a place, the vehicle as a whole, or a tire, which may not be told
	Needs     Needs // how sure what calls for it has to be
	WheelOff  bool  // the wheel comes off the vehicle
	Dismounts bool  // the tire comes off its wheel
	Fits      bool  // a tire that was not there is fitted
	Moves     bool  // a tire of another place comes here
	Dropped   bool  // where all that was observed and calls for it was put right
	Caution   Caution
	Settles   []Settle // looks and readings that its own words ask for
	InHouse   bool     // for the shop's own safety or records, or a step of other work: it asks the customer nothing that findings and other lines do not
	Routine   bool     // all work ends with it, whatever the work was
	Opening   bool     // work begins with it, whatever the work is
	Craft     bool     // a step of other work that everybody who does it knows, and that forbids nothing: in short its name is enough
	ForThem   bool     // asked of the customer, or for the customer to choose or to come back for
	Retired   bool
	order     int
}

// Step is the step of the contract that the line is shown under.
func (k WorkKind) Step() Step { return StageOf(k.Stage).Step }

// CautionKind is what is known of one caution.
type CautionKind struct {
	Code    Caution
	OfAct   bool // of what somebody does, wherever it is done; else of what the wheels are that it is told of
	Gravity int  // of cautions that one line may have to choose from: a graver one says all that a milder one says; 0: it is never one of several
	Retired bool
}

// ObservationKind is what one kind of observation means by itself, whatever the
// readings say. Observations that mean nothing by themselves are evidence for
// other questions (wear causes, run low, repair).
type ObservationKind struct {
	Kind    Observation
	Means   Code     // "": nothing by itself
	Places  []Looked // that it lies in, of those that are looked at
	OneLow  bool     // it may make one low reading of depth real
	Retired bool
}

// DoneKind is what is known of one kind of work done.
type DoneKind struct {
	Kind    Done
	Closed  Closed // what it is told as where it cured a finding; "": it cures none
	Whole   bool   // of the vehicle, wherever the finding is
	Retired bool
}

// Speaks is a finding with the evidence that it is for a complaint.
type Speaks struct {
	Code Code
	As   Fact
}

// Clears is what of every wheel that a complaint may be about has to be read or seen
// before nothing found can be said.
type Clears struct {
	Air, Tread bool // its pressure, its depths
	Looked     []Looked
}

// ComplaintKind is what one complaint means, and what of a visit speaks for it
// (common practice). It is evidence: it ranks no cause and makes nothing milder.
type ComplaintKind struct {
	Kind      Complaint
	Code      Code // "": it is told in the customer's words alone
	Settle    Settle
	Causes    []Speaks
	Front     bool          // only those at the front axle speak for it
	UnlessLit bool          // of a lamp that is judged where it is on now
	Lit       Fact          // beside what is found of a lamp that is on now
	Seen      []Observation // that speak for it, too, as SeenAs
	SeenAs    Fact
	Looks     []Looked // places to be looked at all round before it is let go, by the line Look
	Look      Work
	Clears    Clears // what has to be read or seen where there are no Looks, before it is said that nothing was found
	Told      Fact   // beside the cause of wear that it speaks for; "": none does
	Retired   bool
}

// SpeaksFor is the evidence that a finding is for the complaint.
func (k ComplaintKind) SpeaksFor(c Code) (as Fact, speaks bool) {
	for _, s := range k.Causes {
		if s.Code == c {
			return s.As, true
		}
	}
	return "", false
}

// RecordedKind is what is known of what is recorded and not judged.
type RecordedKind struct {
	Code        Recorded
	LawNotKnown bool // it says what of the law of a place is not known here
	Retired     bool
}

// LookedKind is what is known of a place that is looked at.
type LookedKind struct {
	Kind      Looked
	Good      Checked   // told where nothing was found; "": it is told as something else
	Whole     bool      // part of a whole look at a fitted wheel
	OuterOnly bool      // of a dual pair, the outer wheel's, or behind it
	Side      WheelSide // of a sidewall; "": it is none
	Retired   bool
}

// About is what a question is about, for calls that ask only some.
type About uint8

// What questions are about.
const (
	AboutNotTold About = iota
	AboutPressure
	AboutDepth
	AboutShape // of the wear across a tread
	AboutPlace // where the vehicle runs, on which the law turns: asked before all else
	AboutOther
	AboutHarm // how somebody is kept from harm turns on it: asked before even that
)

// QuestionKind is what is known of one question.
type QuestionKind struct {
	Code    Question
	About   About
	Retired bool
}
