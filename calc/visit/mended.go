package visit

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/unit"
)

// Mended is what was done at one wheel by the end, as far as it closes what was found.
type Mended struct {
	Inside    *Inside // nil: not told
	UnderAir  UnderAir
	Repair    Repair
	ObjectOut ObjectOut
	Fitted    bool // another tire is told there as left
	// FittedMarking tells that what stands on its sidewall is told.
	FittedMarking bool
	TakenBack     []TakenBack
}

// Fresh tells that the tire was off its rim, and the air in it is of the bay.
func (m Mended) Fresh() bool {
	return m.Inside != nil || m.Repair.Whole() || m.Fitted || m.UnderAir.Named
}

// Inside is what the inside of a tire was like off its wheel. No: looked for, not there.
type Inside struct{ Ring, Dust, Wrinkles, Liner, BadRepair finding.Answer }

// Clean tells that each was looked for and is not there. Missing input is never good.
func (i *Inside) Clean() bool {
	return i != nil && i.Ring == finding.No && i.Dust == finding.No && i.Wrinkles == finding.No && i.Liner == finding.No && i.BadRepair == finding.No
}

// UnderAir is a look in the restraining device at 20 psi and at working pressure.
type UnderAir struct {
	Twenty, Working, Popped finding.Answer
	Named                   bool
}

// Passed tells that the whole look was made by name and nothing rippled or popped.
func (u UnderAir) Passed() bool {
	return u.Twenty == finding.Yes && u.Working == finding.Yes && u.Popped == finding.No && u.Named
}

// Repair is a repair of this visit.
type Repair struct {
	Cutter     *unit.Length // that prepared the hole, nil when not told
	Method     puncture.Method
	SoapedDry  finding.Answer
	CutterUnit unit.Unit
}

// Whole tells that all of a repair is told, and that it is tight.
func (r Repair) Whole() bool {
	return r.Cutter != nil && (r.Method == puncture.Combination || r.Method == puncture.TwoPiece) && r.SoapedDry == finding.Yes
}

// ObjectOut is an object taken out that had not gone through.
type ObjectOut struct{ Dry, DryFilled finding.Answer }

// Tight tells that it was dry then, and filled.
func (o ObjectOut) Tight() bool { return o.Dry == finding.Yes && o.DryFilled == finding.Yes }

// TakenBack is an observation that was a mistake.
type TakenBack struct {
	Kind, Was finding.Observation
	Felt      bool // felt, probed or measured, not seen alone
	Named     bool
}

// Holds tells that it is taken back by name, by more than a look, and that it is told
// what it was.
func (t TakenBack) Holds() bool { return t.Felt && t.Named && t.Was != "" && t.Was != t.Kind }
