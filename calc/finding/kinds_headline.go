package finding

// Names of the values that go with the codes of a headline.
const (
	ValueAt       = "at"       // each wheel
	ValueWorst    = "worst"    // the wheel that the amounts are of, where the others measured otherwise
	ValueMeasured = "measured" // as the finding has it
	ValueLimit    = "limit"
	ValueRead     = "read"   // by the gauge
	ValueLabel    = "label"  // what the label asks for
	ValueTires    = "n"      // how many are bought
	ValueSize     = "size"   // as the label asks for it
	ValueWhen     = "when"   // the condition of a line of work
	ValueSettle   = "settle" // what settles it
	ValueTarget   = "target"
	ValueDueFrom  = "due_from"
	ValueDueBy    = "due_by"
)

// Unknown is what is not known that would decide. A finding in doubt says it by what
// settles it.
type Unknown string

// What is not known because it was not read, seen or told.
const (
	UnknownWheels    Unknown = "unknown.wheels"
	UnknownWheel     Unknown = "unknown.wheel"
	UnknownTread     Unknown = "unknown.tread"
	UnknownPressure  Unknown = "unknown.pressure"
	UnknownSidewall  Unknown = "unknown.sidewall"
	UnknownFasteners Unknown = "unknown.fasteners"
	UnknownInside    Unknown = "unknown.inside"
	UnknownSpare     Unknown = "unknown.spare"
	UnknownLoad      Unknown = "unknown.load"
)
