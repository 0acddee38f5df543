package finding

// Codes are stable names, lower case, dotted and hyphened. Each kind of thing
// has a type of its own, so that a code of one kind is never taken for another.
type (
	// Code names a kind of finding ("tread.worn-to-bars").
	Code string
	// Work names a kind of line of the order of work ("tire.replace").
	Work string
	// Caution names what is said where someone could be hurt.
	Caution string
	// Settle names a measurement, a look or a question that would decide.
	Settle string
	// Fact names a piece of evidence.
	Fact string
	// Question names a question whose answer would allow more.
	Question string
	// Condition names what a line of work depends on ("when.passed-inside").
	Condition string
	// Checked names what was looked at and found good.
	Checked string
	// Closed names what closed a finding where no reading did.
	Closed string
	// Recorded names what was recorded and is not judged.
	Recorded string
	// LookFor names what to look for inside a tire that comes off.
	LookFor string
	// Reason names what stands against changing the tires' places so, or what
	// is to be known of it.
	Reason string
	// Target names what a figure to set rests on, or why there is none.
	Target string
	// Remark names what is said beside the numbers of a calculator.
	Remark string

	// Observation is the contract's kind of observation in lower case
	// ("cord-showing").
	Observation string
	// Done is the contract's kind of work done in lower case ("bearing-work").
	Done string
	// Complaint is the contract's kind of complaint in lower case ("thump").
	Complaint string
	// Looked is the contract's place that is looked at in lower case
	// ("outer-sidewall").
	Looked string
	// NotLooked is the contract's reason why a place was not looked at in lower
	// case ("not-reachable").
	NotLooked string
	// Part is the contract's part of a tire in lower case ("shoulder").
	Part string
	// WheelSide is the contract's side of a wheel in lower case ("outer").
	WheelSide string
)
