// Package finding holds what a judgement says: a code, how urgent by when, the
// measured value beside its limit, the rule with its authority and source, and
// the evidence. It holds no sentences; those are made from it elsewhere.
package finding

import (
	"cmp"
	"slices"
	"strings"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// Urgency says by when something has to be done.
type Urgency uint8

// Urgencies, the most urgent first.
const (
	UrgencyNotTold Urgency = iota
	BeforeDriving
	ThisVisit
	Plan
	Note
)

// Authority is what stands behind a rule.
type Authority uint8

// Authorities.
const (
	AuthorityNotTold  Authority = iota
	LawInUse                    // binds this vehicle, in use, here
	ModelStandard               // written for States to adopt or for makers of new equipment: binds no driver or shop by itself
	PublishedStandard           // a standards body's
	CommonPractice              // the trade's habit
	Maker                       // the vehicle or tire maker's own figure
	Shop                        // the shop's own, stricter rule
)

// Known is how the number of a rule is known.
type Known uint8

// Ways of knowing.
const (
	KnownNotTold Known = iota
	Read               // the text was read
	Reported           // read where others report it
	FromMemory         // remembered, not read
)

// Binds is whom a rule binds: several together, none for a rule that binds nobody by
// itself.
type Binds uint8

// Who is bound.
const (
	BindsDriver            Binds = 1 << iota // who drives the vehicle
	BindsOwner                               // who owns it
	BindsEmployer                            // who employs the people who do the work
	BindsCarrier                             // who carries goods or people for pay, or in its own business
	BindsInstallerOrSeller                   // who sells or fits the tire
)

// Rule is what a finding is judged by.
type Rule struct {
	ID        string // "us-commercial.front-depth"
	Authority Authority
	Citation  string // law, standard or journal with its section
	Known     Known
	Binds     Binds
	Of        string // the book of its place, by its id, where laws of several places are judged together; else ""
}

// Evidence is one fact that speaks for or, when Against is set, against a finding.
type Evidence struct {
	Code        Fact
	Amount      unit.Amount // zero when the fact has no number
	Day         unit.Date   // zero when the fact is no day
	Uncertainty unit.Amount // standard uncertainty, zero when not stated
	Against     bool
}

// Place is where on the tire or wheel a finding lies.
type Place struct {
	Part    Part      // "crown", "shoulder", "sidewall", "bead", "inside", "" when not told
	Side    WheelSide // of the wheel: "outer", "inner", "" when not told
	Across  layout.Across
	Groove  int // counted from the vehicle's side, 0 when not told
	Station int // counted round the tire from the valve, 0 when not told
}

// Finding is one thing found.
type Finding struct {
	Code        Code
	Urgency     Urgency
	Positions   []layout.Position
	Outcome     measure.Outcome
	Measured    unit.Amount
	Limit       unit.Amount
	Margin      unit.Amount // measured minus limit
	Uncertainty unit.Amount // standard; the comparison used twice this
	Rule        Rule
	Candidate   bool   // the rule is one of several that may apply
	Others      []Rule // beside it, in the order of their ids: where it may apply, those that may, too, and are no stricter; else those of further places that say the same
	Evidence    []Evidence
	ToSettle    Settle  // for CannotTell: the measurement that decides
	Caution     Caution // where someone could be hurt
	Place       Place
	Rank        int // among the causes of one wear shape, 1 the likeliest, equal for equal evidence; 0 for what is no cause
}

// ID names the finding within its visit: the same for the same code, rule and
// positions however often it is judged, and telling nothing by itself.
func (f Finding) ID() string { return ID(f.Positions, string(f.Code), f.Rule.ID) }

// Told is the amount of a piece of evidence for it; zero where there is none.
func (f Finding) Told(fact Fact) unit.Amount {
	for _, e := range f.Evidence {
		if e.Code == fact {
			return e.Amount
		}
	}
	return unit.Amount{}
}

// Names tells whether a rule is among those that the finding is by.
func (f Finding) Names(r Rule) bool { return f.Rule == r || slices.Contains(f.Others, r) }

// Also names beside its own rule one of a further place that says the same.
func (f Finding) Also(r Rule) Finding {
	if r.Of == "" || f.Names(r) {
		return f
	}
	f.Others = append(slices.Clone(f.Others), r)
	slices.SortFunc(f.Others, func(a, b Rule) int { return cmp.Compare(a.ID, b.ID) })
	return f
}

// String names the finding for a person who looks for a fault: code/rule:positions.
func (f Finding) String() string {
	said := string(f.Code)
	if f.Rule.ID != "" {
		said += "/" + f.Rule.ID
	}
	if len(f.Positions) == 0 {
		return said
	}
	names := make([]string, len(f.Positions))
	for i, p := range f.Positions {
		names[i] = p.String()
	}
	return said + ":" + strings.Join(names, ",")
}

// Shown is a quantity that can be shown in a unit.
type Shown interface {
	measure.Quantity
	Amount(unit.Unit) unit.Amount
}

// Compared writes a comparison of v with limit into f: measured value, limit,
// margin and uncertainty in the unit u of the rule. They are rounded by Rounded, once,
// after the last change of their unit.
func Compared[Q Shown](f Finding, v measure.Value[Q], limit Q, u unit.Unit, c measure.Comparison) Finding {
	shown := func(q Q) unit.Amount { return q.Amount(u) }
	f.Outcome = c.Outcome
	f.Measured, f.Limit = shown(v.Of), shown(limit).Rounded()
	f.Margin, f.Uncertainty = shown(Q(c.Margin)), shown(Q(v.Std))
	return f
}

// Rounded gives the finding with its numbers at the resolution of their units.
func (f Finding) Rounded() Finding {
	f.Measured, f.Margin, f.Uncertainty = f.Measured.Rounded(), f.Margin.Rounded(), f.Uncertainty.Rounded()
	return f
}

// Sort orders findings by urgency, then position, then rank, code and rule.
func Sort(fs []Finding) {
	for i := range fs {
		slices.SortFunc(fs[i].Positions, layout.Position.Compare)
	}
	slices.SortStableFunc(fs, func(a, b Finding) int {
		return cmp.Or(
			cmp.Compare(a.Urgency, b.Urgency),
			slices.CompareFunc(a.Positions, b.Positions, layout.Position.Compare),
			cmp.Compare(a.Rank, b.Rank),
			cmp.Compare(a.Code, b.Code),
			cmp.Compare(a.Rule.ID, b.Rule.ID),
		)
	})
}
