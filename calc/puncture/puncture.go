// Package puncture answers whether a tire with a hole in it may be repaired.
//
// From outside there are two honest answers, "no" and "not decided": nobody
// calls a tire repairable before its inside was seen and the hole measured
// after preparing. What was not told never counts as good. Every rule that
// fails is named, and where the tire or the country is not known every rule
// that may apply is tried. The numbers are in the rulebooks repair-us and
// repair-uk; the answers follow the practice of the trade and bind nobody: the
// law of the place, the makers of tire and vehicle, and a trained repairer's
// own judgement with the tire in hand come first.
package puncture

import (
	"cmp"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// Part is where an injury lies.
type Part uint8

// Parts of a tire.
const (
	PartNotTold Part = iota
	Crown            // between the outermost grooves
	Shoulder         // from the outermost groove to the edge of the tread
	Sidewall
	Bead
)

// Method is a way of repairing.
type Method uint8

// Methods. PlugOnly, PatchOnly and Boot occur as earlier repairs only.
const (
	MethodNotTold Method = iota
	Combination          // stem and patch in one
	TwoPiece             // stem and patch apart
	Section              // section repair by a full-service repairer
	PlugOnly             // string or plug pushed in from outside
	PatchOnly            // patch without a stem
	Boot                 // boot or blowout patch
)

// Policy is what the tire maker's own procedure says about repairing this tire.
type Policy uint8

// Policies.
const (
	PolicyNotKnown Policy = iota
	PolicyAllows
	PolicyForbids
)

// Mark is something seen on or in the tire.
type Mark uint8

// Marks.
const (
	LinerRing     Mark = iota + 1 // discolored or worn ring round the liner
	RubberDust                    // inside
	WrinkledLiner                 // creases inside
	ScuffRing                     // scuffed all round the sidewall, seen from outside
	Separation                    // or bulge
	CordShowing                   // cord, belt or ply seen
	BeadDamage                    // torn, kinked or deformed
	LinerSplit                    // liner open or loose
	ImpactDamage                  // break from a blow
	FineCracks                    // not joined: nothing against a repair
	JoinedCracks                  // open or joined
	CracksToCord                  // cord seen in them
	Zipper                        // ripple or line of bulges along the cords of a steel body
	SealantInside                 // liquid sealant: by itself nothing against a repair
)

// Tire is what is known of the tire.
type Tire struct {
	Marking        sidewall.Marking
	Body           sidewall.BodyPly           // as told; else it follows from the marking
	Tread          *measure.Value[unit.Depth] // the least depth left, nil when not measured
	Age            unit.Amount                // in years, zero when not told
	SelfSupporting finding.Answer             // NotKnown asks for the maker's policy, NotAsked does not
	FoamLined      finding.Answer
	SealantLined   finding.Answer // by its maker
	Policy         Policy         // of its maker
	MostRepairs    *int           // that its maker allows; nil when not told
	KeepsSpeed     finding.Answer // its speed symbol after a repair, by its maker
}

// Injury is one hole, or an object that may have made one.
//
// A reading with a zero Std is given the rulebook's default uncertainty.
type Injury struct {
	Part                Part
	Size                *measure.Value[unit.Length] // as found; nil when not measured
	Prepared            *unit.Length                // size of the cutter that made the final hole, exact
	Angle               *measure.Value[unit.Angle]  // from square to the tread
	FromEdge            *measure.Value[unit.Length] // center of the injury from the shoulder edge of the tread
	FromCenter          *measure.Value[unit.Length] // center of the injury from the tread's center line
	BetweenOuterGrooves *bool                       // nil when not told
	Through             finding.Answer              // what the probe says; any answer but No is taken as through
	ObjectInPlace       finding.Answer
	Overlaps            finding.Answer              // its repair unit would overlap another's
	HoldsAir            finding.Answer              // soaped or watched
	Nearest             *measure.Value[unit.Length] // from its middle to that of the nearest other injury or repair; nil when not measured
	UnitWidth           *unit.Length                // of the repair unit meant for it, nil when not told
}

// Compare orders injuries, the largest hole first, and those of which a thing
// is told before those of which it is not. Only equal injuries compare as 0.
func (i Injury) Compare(k Injury) int {
	return cmp.Or(
		told(k.Prepared, i.Prepared, cmp.Compare[unit.Length]),
		told(k.Size, i.Size, values[unit.Length]),
		cmp.Compare(i.Part, k.Part),
		told(k.Angle, i.Angle, values[unit.Angle]),
		told(k.FromEdge, i.FromEdge, least),
		told(k.FromCenter, i.FromCenter, values[unit.Length]),
		told(k.BetweenOuterGrooves, i.BetweenOuterGrooves, func(a, b bool) int { return cmp.Compare(number(b), number(a)) }),
		cmp.Compare(i.Through, k.Through),
		cmp.Compare(i.ObjectInPlace, k.ObjectInPlace),
		cmp.Compare(i.Overlaps, k.Overlaps),
		cmp.Compare(i.HoldsAir, k.HoldsAir),
		told(k.Nearest, i.Nearest, least),
		told(k.UnitWidth, i.UnitWidth, cmp.Compare[unit.Length]),
	)
}

// told compares what was told of a thing; nothing told comes before all else.
func told[V any](a, b *V, compare func(a, b V) int) int {
	switch {
	case a != nil && b != nil:
		return compare(*a, *b)
	case a != nil:
		return 1
	case b != nil:
		return -1
	}
	return 0
}

func values[Q measure.Quantity](a, b measure.Value[Q]) int {
	return cmp.Or(cmp.Compare(a.Of, b.Of), cmp.Compare(a.Std, b.Std))
}

// least puts the shorter way first.
func least(a, b measure.Value[unit.Length]) int { return values(b, a) }

func number(b bool) int {
	if b {
		return 1
	}
	return 0
}

// Pressure is what was found about the air.
type Pressure struct {
	Flat   finding.Answer // flat as found
	RunLow finding.Answer // driven too low for its kind; NotKnown when the readings do not decide
}

// Input is all that the judgement looks at.
type Input struct {
	Tire     Tire
	Vehicle  layout.Class // used for the kind of tire when the marking does not tell it
	Steer    bool         // on a steering axle
	Injuries []Injury
	// InsideSeen: the tire is off and its inside was looked at all round. Then a
	// mark or an earlier repair that is not listed was not there.
	InsideSeen bool
	Seen       []Mark
	Earlier    []Method // one for each earlier repair, MethodNotTold when its kind is not known
	Pressure   Pressure
	// Books are the ids of the repair rulebooks, several when the country is not
	// told: the strictest governs. None: no rules were read for this place, so
	// every book is tried and the answer is never Repairable.
	Books []string
}

// Answer says whether the tire may be repaired. A greater one is worse.
type Answer uint8

// Answers.
const (
	AnswerNotTold               Answer = iota
	NoInjury                           // the object did not go through
	Repairable                         // inside seen and clean, hole measured after preparing
	NotDecidedDemountAndInspect        // nothing against it so far, or something not known
	NotAsNailHole                      // a section repair by a full-service repairer may be possible
	NotRepairable
)

// Result is the answer with its reasons. Findings carry no positions: the
// caller knows where the tire is.
type Result struct {
	Answer   Answer
	Least    Answer            // by the mildest of the rules that may apply; Answer where the country is told
	Method   Method            // for Repairable and NotAsNailHole
	Methods  []Method          // of each injury, for Repairable
	Main     finding.Finding   // the answer as a finding
	Failing  []finding.Finding // every rule that fails
	Open     []finding.Finding // rules that the readings, or the kind of tire, do not decide
	Missing  []finding.Settle  // what is not known yet, the first to find out first
	First    []finding.Settle  // of that, what is found out before the tire comes off its wheel: it may then be needless
	LookFor  []finding.LookFor // with the tire off
	Notes    []finding.Finding // what else has to be said
	Cautions []finding.Caution // the Main finding's first
}
