package puncture

import (
	"math"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// Judge answers whether the tire may be repaired. It panics on a book id that
// is no repair rulebook.
func Judge(in Input) Result {
	books := in.Books
	if len(books) == 0 {
		books = rulebook.OfRepairs()
	}
	kinds := kindsOf(in)
	total := verdict{answer: NoInjury, least: NotRepairable}
	var each []verdict
	for _, id := range books {
		under := make([]verdict, len(kinds))
		for i, k := range kinds {
			c := &judge{in: in, book: rulebook.Must(id), kind: k}
			under[i] = c.decide()
		}
		each = append(each, anyOf(under, needKind(in)))
	}
	for _, w := range each {
		total.join(w, false)
		total.least = min(total.least, w.answer)
	}
	total.mayApply(each)
	if len(in.Books) == 0 || !in.Vehicle.Judged() {
		total.need(finding.SettlePunctureRules)
	}
	return total.result(in, kinds, rulebook.Must(books[0]))
}

// kind is what the rules tell tires apart by.
type kind struct{ truck, steel bool }

// kindsOf lists the kinds the tire may be.
func kindsOf(in Input) []kind {
	m := in.Tire.Marking
	if m.Class == sidewall.UnknownClass && in.Vehicle == layout.PassengerCar {
		m.Class = sidewall.MetricPassenger // no car is sold on another class
	}
	body := sidewall.BodyOf(in.Tire.Body, m)
	var kinds []kind
	for _, k := range []kind{{false, false}, {false, true}, {true, false}, {true, true}} {
		if m.Class != sidewall.UnknownClass && k.truck != m.Class.Truck() {
			continue
		}
		if m.Class == sidewall.UnknownClass && !mayCarry(in.Vehicle, k) {
			continue
		}
		if body == sidewall.BodyNotTold && k == (kind{true, false}) {
			continue // truck tires count as steel-bodied unless told
		}
		if (body == sidewall.FabricBody && k.steel) || (body == sidewall.SteelBody && !k.steel) {
			continue
		}
		kinds = append(kinds, k)
	}
	return kinds
}

// mayCarry tells whether a vehicle of the class may stand on a tire of the kind.
func mayCarry(v layout.Class, k kind) bool {
	switch v {
	case layout.Heavy, layout.Bus:
		return k.truck
	}
	return true
}

func needKind(in Input) finding.Settle {
	if in.Tire.Marking.Class == sidewall.UnknownClass {
		return finding.SettlePunctureTireSize
	}
	return finding.SettlePunctureBodyPly
}

// verdict is what one book says of one kind of tire, and the sum of them.
type verdict struct {
	answer        Answer
	least         Answer // by the mildest of the books that may apply
	failing, open []finding.Finding
	missing       []finding.Settle
}

// fail adds a rule that fails and what the answer is for it.
func (v *verdict) fail(f finding.Finding, a Answer) {
	v.failing = append(v.failing, f)
	v.answer = max(v.answer, a)
}

// leave adds a rule that is not decided and what would decide it.
func (v *verdict) leave(f finding.Finding, settle finding.Settle) {
	f.ToSettle = settle
	v.open = append(v.open, f)
	v.need(settle)
}

// need adds something that is not known.
func (v *verdict) need(c finding.Settle) {
	if !slices.Contains(v.missing, c) {
		v.missing = append(v.missing, c)
	}
	v.answer = max(v.answer, NotDecidedDemountAndInspect)
}

// join adds another book's verdict: the strictest governs.
func (v *verdict) join(w verdict, candidate bool) {
	v.answer = max(v.answer, w.answer)
	add := func(to *[]finding.Finding, fs []finding.Finding) {
		for _, f := range fs {
			f.Candidate = f.Candidate || candidate
			if !slices.ContainsFunc(*to, func(g finding.Finding) bool { return g.ID() == f.ID() }) {
				*to = append(*to, f)
			}
		}
	}
	add(&v.failing, w.failing)
	add(&v.open, w.open)
	for _, c := range w.missing {
		v.need(c)
	}
}

// mayApply marks the rules that only some of the books have: where the country is not
// told, what fails by each book fails.
func (v *verdict) mayApply(books []verdict) {
	for _, fs := range [][]finding.Finding{v.failing, v.open} {
		for i := range fs {
			f := &fs[i]
			same := func(g finding.Finding) bool { return g.Code == f.Code }
			f.Candidate = f.Candidate || slices.ContainsFunc(books, func(w verdict) bool {
				return !slices.ContainsFunc(w.failing, same) && !slices.ContainsFunc(w.open, same)
			})
			if f.Candidate {
				f.Urgency = max(f.Urgency, finding.ThisVisit)
			}
		}
	}
}

// anyOf is the verdict on a tire that may be of any of the kinds: where they
// disagree it is not decided, unless every kind rules out a nail-hole repair.
// A rule that fails for some kinds only is then open, and what the tire is has
// to be found out.
func anyOf(under []verdict, ask finding.Settle) verdict {
	if len(under) == 1 {
		return under[0]
	}
	least, most := NotRepairable, NoInjury
	for _, u := range under {
		least, most = min(least, u.answer), max(most, u.answer)
	}
	var all verdict
	if least != most || most == NotDecidedDemountAndInspect {
		all.need(ask)
	}
	everywhere := func(same func(finding.Finding) bool) bool {
		return !slices.ContainsFunc(under, func(u verdict) bool { return !slices.ContainsFunc(u.failing, same) })
	}
	for _, u := range under {
		for _, f := range u.failing {
			f.Candidate = !everywhere(func(g finding.Finding) bool { return g.ID() == f.ID() })
			if least >= NotAsNailHole || everywhere(func(g finding.Finding) bool { return g.Code == f.Code }) {
				all.join(verdict{failing: []finding.Finding{f}}, false)
			} else {
				f.ToSettle = ask
				all.join(verdict{open: []finding.Finding{f}}, false)
			}
		}
		all.join(verdict{open: u.open, missing: u.missing}, true)
	}
	all.answer = max(all.answer, least)
	return all
}

// judge holds one kind of tire against one book.
type judge struct {
	in   Input
	book *rulebook.Book
	kind kind
	verdict
}

func (c *judge) decide() verdict {
	c.answer = NoInjury
	if len(c.in.Injuries) == 0 {
		c.need(finding.SettlePunctureInjury)
	}
	c.marks()
	c.earlier()
	c.worn()
	var holes []Injury
	for _, i := range c.in.Injuries {
		if c.through(i) {
			holes = append(holes, i)
		}
	}
	if len(holes) == 0 {
		if !c.in.InsideSeen && mayHaveRunLow(c.in.Pressure) {
			c.need(finding.SettlePunctureInside)
		}
		return c.verdict
	}
	c.answer = max(c.answer, Repairable)
	c.whole(len(holes))
	for _, i := range holes {
		c.injury(i, len(holes))
	}
	return c.verdict
}

func mayHaveRunLow(p Pressure) bool {
	return p.Flat == finding.Yes || p.RunLow == finding.Yes || p.RunLow == finding.NotKnown
}

// through tells whether an injury has to be judged as a hole, and asks for what
// would prove that it is none: a probe that stops short, and a tire that holds
// air or whose inside was seen.
func (c *judge) through(i Injury) bool {
	switch {
	case i.Through != finding.No:
		return true
	case i.HoldsAir == finding.No:
		c.need(finding.SettlePunctureReach) // it leaks, so the probe missed something
		return true
	case i.HoldsAir != finding.Yes && !c.in.InsideSeen:
		c.need(finding.SettlePunctureHoldsAir)
	}
	return false
}

func (c *judge) rule(id string) finding.Rule { return c.book.RuleOf(c.book.Limit(id)) }

func (c *judge) broken(code finding.Code, id string) finding.Finding {
	return finding.Finding{Code: code, Urgency: leakUrgency(c.in), Rule: c.rule(id)}
}

// damages are the marks that rule a repair out in every book.
var damages = map[Mark]struct {
	code    finding.Code
	urgency finding.Urgency
	caution finding.Caution
}{
	LinerRing:     {finding.PunctureRunLowDamage, finding.BeforeDriving, finding.CautionPunctureNoAir},
	RubberDust:    {finding.PunctureRunLowDamage, finding.BeforeDriving, finding.CautionPunctureNoAir},
	WrinkledLiner: {finding.PunctureRunLowDamage, finding.BeforeDriving, finding.CautionPunctureNoAir},
	ScuffRing:     {finding.PunctureRunLowDamage, finding.BeforeDriving, finding.CautionPunctureNoAir},
	Separation:    {finding.PunctureStructure, finding.BeforeDriving, finding.CautionPunctureNoAir},
	LinerSplit:    {finding.PunctureStructure, finding.BeforeDriving, finding.CautionPunctureNoAir},
	ImpactDamage:  {finding.PunctureStructure, finding.BeforeDriving, finding.CautionPunctureNoAir},
	CordShowing:   {finding.PunctureCord, finding.BeforeDriving, ""},
	CracksToCord:  {finding.PunctureCord, finding.BeforeDriving, ""},
	BeadDamage:    {finding.PunctureBead, finding.BeforeDriving, finding.CautionPunctureNoAir},
	JoinedCracks:  {finding.PunctureCracks, finding.ThisVisit, ""},
	Zipper:        {finding.PunctureZipper, finding.BeforeDriving, finding.CautionPunctureZipper},
}

func (c *judge) marks() {
	for _, m := range c.in.Seen {
		d, ok := damages[m]
		if !ok {
			continue
		}
		f := finding.Finding{Code: d.code, Urgency: d.urgency, Caution: d.caution, Rule: c.rule("damage")}
		if m == ScuffRing && !c.in.InsideSeen {
			f.Code = finding.PunctureScuffRing
			c.leave(f, finding.SettlePunctureInside)
			continue
		}
		if !slices.ContainsFunc(c.failing, func(g finding.Finding) bool { return g.Code == f.Code }) {
			c.fail(f, NotRepairable)
		}
	}
}

func (c *judge) earlier() {
	improper := false
	for _, m := range c.in.Earlier {
		switch m {
		case PlugOnly, PatchOnly:
			improper = true
		case Boot, Section:
			improper = improper || !c.kind.truck && !c.kind.steel
		case MethodNotTold:
			c.need(finding.SettlePunctureEarlierRepairKind)
		}
	}
	if improper {
		f := c.broken(finding.PunctureEarlierRepair, "earlier-repair")
		f.Urgency = min(f.Urgency, finding.ThisVisit)
		c.fail(f, NotRepairable)
	}
}

// worn is about condition: level with the limit, or not provably above it, is worn.
func (c *judge) worn() {
	if c.in.Tire.Tread == nil {
		return // asked for when there is a hole
	}
	l := c.book.Limit("worn")
	if compared := measure.AtMost(*c.in.Tire.Tread, l.Depth()); compared.Outcome != measure.Above {
		f := finding.Finding{Code: finding.PunctureWorn, Urgency: finding.ThisVisit, Rule: c.book.RuleOf(l)}
		c.fail(finding.Compared(f, *c.in.Tire.Tread, l.Depth(), l.Value.Unit, compared), NotRepairable)
	}
}

// whole judges what concerns the tire as a whole once it has a hole.
func (c *judge) whole(holes int) {
	t := c.in.Tire
	if c.noRules() {
		c.need(finding.SettlePunctureRules)
	}
	if !c.in.InsideSeen {
		c.need(finding.SettlePunctureInside)
	}
	if t.Tread == nil {
		c.need(finding.SettlePunctureTread)
	}
	switch {
	case t.Policy == PolicyForbids:
		c.fail(c.broken(finding.PunctureMakerPolicy, "maker-policy"), NotRepairable)
	case t.Policy == PolicyNotKnown && c.in.Pressure.RunLow == finding.Yes && t.special(finding.Yes):
		f := c.broken(finding.PunctureRanSpecial, "maker-policy")
		f.Urgency = finding.BeforeDriving
		c.fail(f, NotRepairable)
	case t.Policy == PolicyNotKnown && t.special(finding.Yes, finding.NotKnown):
		c.need(finding.SettlePunctureMakerPolicy)
	}
	if most := t.MostRepairs; most != nil && holes+len(c.in.Earlier) > *most {
		c.fail(tooMany(c.broken(finding.PunctureTooManyForMaker, "maker-policy"), holes+len(c.in.Earlier), unit.Amount{Number: float64(*most), Unit: unit.Count}), NotRepairable)
	}
	if c.book.Repairs.BySpeed && !c.noRules() {
		c.count(holes + len(c.in.Earlier))
	}
}

// special tells that the tire is one of those that are repaired by their maker's word
// alone, by one of the answers. The mark in its size counts where nobody was asked.
func (t Tire) special(answers ...finding.Answer) bool {
	self := t.SelfSupporting
	if self == finding.NotAsked && t.Marking.SelfSupporting {
		self = finding.Yes
	}
	return slices.ContainsFunc([]finding.Answer{self, t.FoamLined, t.SealantLined}, func(a finding.Answer) bool { return slices.Contains(answers, a) })
}

// count judges the number of repairs the tire would then have.
func (c *judge) count(repairs int) {
	fast, usual := c.book.Limit("count-fast"), c.book.Limit("count")
	l := usual
	if speed, ok := c.in.Tire.Marking.Speed.Speed(); !ok {
		if float64(repairs) > fast.Value.Number && float64(repairs) <= usual.Value.Number {
			c.need(finding.SettlePunctureSpeedSymbol)
		}
	} else if speed.Number >= c.book.Limit("fast").Value.Number {
		l = fast
	}
	if float64(repairs) > l.Value.Number {
		c.fail(tooMany(c.broken(finding.PunctureTooMany, l.ID), repairs, l.Value), NotRepairable)
	}
}

// tooMany says how many repairs the tire would have, and how many it may.
func tooMany(f finding.Finding, repairs int, most unit.Amount) finding.Finding {
	f.Outcome = measure.Above
	f.Measured, f.Limit = unit.Amount{Number: float64(repairs), Unit: unit.Count}, most
	f.Margin = unit.Amount{Number: float64(repairs) - most.Number, Unit: unit.Count}
	return f
}

// injury judges one hole.
func (c *judge) injury(i Injury, holes int) {
	c.size(i)
	switch {
	case c.noRules():
	case c.book.Repairs.Area:
		c.areaOfTread(i)
	case c.kind.truck:
		c.truckPlace(i)
	default:
		c.lightPlace(i)
	}
	c.overlap(i, holes > 1 || len(c.in.Earlier) > 0)
}

// overlap: two repair units may not touch. Where nobody laid one over the hole, the
// distance to the other tells, and the width of the unit: each takes half of it.
func (c *judge) overlap(i Injury, others bool) {
	switch {
	case i.Overlaps == finding.Yes:
		c.fail(c.broken(finding.PunctureOverlap, "overlap"), NotRepairable)
		return
	case i.Nearest != nil && i.UnitWidth != nil:
		d := c.orDefault(*i.Nearest, "distance-uncertainty")
		f := finding.Compared(c.broken(finding.PunctureOverlap, "overlap"), d, *i.UnitWidth, c.book.About(rulebook.HoleSize)[0].Value.Unit, measure.AtLeast(d, *i.UnitWidth))
		switch f.Outcome {
		case measure.Below:
			c.fail(f, NotRepairable)
		case measure.CannotTell:
			c.leave(f, finding.SettlePunctureOverlap)
		}
		return
	}
	if i.Overlaps != finding.No && others {
		c.need(finding.SettlePunctureOverlap)
	}
}

// size compares the hole as found, with its uncertainty, and after preparing,
// as an exact number. Only the latter can meet the limit.
func (c *judge) size(i Injury) {
	if c.noRules() {
		return
	}
	l, answer := c.sizeLimit(), NotRepairable
	if c.kind.truck || c.kind.steel {
		answer = NotAsNailHole
	}
	compared := func(v measure.Value[unit.Length]) finding.Finding {
		return finding.Compared(c.broken(finding.PunctureSize, l.ID), v, l.Length(), l.Value.Unit, measure.AtMost(v, l.Length()))
	}
	prepared := i.Prepared != nil && i.ObjectInPlace != finding.Yes
	if prepared {
		if f := compared(measure.Exact(*i.Prepared)); f.Outcome == measure.Above {
			c.fail(f, answer)
			return
		}
	}
	if i.Size != nil {
		f := compared(c.orDefault(*i.Size, "found-size-uncertainty"))
		switch {
		case f.Outcome == measure.Above:
			c.fail(f, answer)
			return
		case f.Outcome == measure.CannotTell && !prepared:
			c.leave(f, finding.SettlePunctureSizeAfterPreparing)
		}
	}
	if !prepared {
		c.need(finding.SettlePunctureSizeAfterPreparing)
	}
}

// sizeLimit is the largest hole in a tire of this kind.
func (c *judge) sizeLimit() rulebook.Limit {
	body := sidewall.FabricBody
	if c.kind.steel {
		body = sidewall.SteelBody
	}
	sizes := c.book.About(rulebook.HoleSize)
	return sizes[slices.IndexFunc(sizes, func(l rulebook.Limit) bool {
		return l.Applies.Body == sidewall.BodyNotTold || l.Applies.Body == body
	})]
}

// noRules tells that the book speaks of no tire of this kind.
func (c *judge) noRules() bool { return c.kind.truck && !c.book.Repairs.Trucks }

// lightPlace: between the outermost grooves, and where the distance is known
// also far enough from the shoulder edge.
func (c *judge) lightPlace(i Injury) {
	switch i.Part {
	case Shoulder, Sidewall, Bead:
		c.fail(c.broken(finding.PuncturePlace, "crown-only"), NotRepairable)
	default:
		switch {
		case i.BetweenOuterGrooves != nil && !*i.BetweenOuterGrooves:
			c.fail(c.broken(finding.PuncturePlace, "crown-grooves"), NotRepairable)
		case i.BetweenOuterGrooves == nil && i.Part == PartNotTold:
			c.need(finding.SettlePuncturePlace)
		}
	}
	if i.FromEdge == nil {
		return
	}
	switch f := c.fromEdge(i, "crown-edge"); f.Outcome {
	case measure.Below:
		c.fail(f, NotRepairable)
	case measure.CannotTell:
		c.leave(f, finding.SettlePunctureEdgeDistance)
	}
}

// truckPlace: crown, shoulder, and between them the repairer's own rule.
func (c *judge) truckPlace(i Injury) {
	switch i.Part {
	case Bead:
		c.fail(c.broken(finding.PuncturePlace, "truck-shoulder"), NotRepairable)
		return
	case Sidewall, Shoulder:
		c.fail(c.broken(finding.PuncturePlace, "truck-shoulder"), NotAsNailHole)
		return
	case PartNotTold:
		if i.BetweenOuterGrooves == nil {
			c.need(finding.SettlePuncturePlace)
		}
	}
	if i.BetweenOuterGrooves != nil && !*i.BetweenOuterGrooves {
		c.leave(c.broken(finding.PunctureRepairersRule, "truck-crown"), finding.SettlePunctureRepairersRule)
	}
	if i.FromEdge == nil {
		c.need(finding.SettlePunctureEdgeDistance)
		return
	}
	switch f := c.fromEdge(i, "truck-shoulder"); f.Outcome {
	case measure.Below:
		c.fail(f, NotAsNailHole)
		return
	case measure.CannotTell:
		c.leave(f, finding.SettlePunctureEdgeDistance)
		return
	}
	f := c.fromEdge(i, "truck-crown")
	f.Code = finding.PunctureRepairersRule
	switch f.Outcome {
	case measure.Below:
		c.leave(f, finding.SettlePunctureRepairersRule)
	case measure.CannotTell:
		c.leave(f, finding.SettlePunctureEdgeDistance)
	}
}

func (c *judge) fromEdge(i Injury, id string) finding.Finding {
	l, d := c.book.Limit(id), c.orDefault(*i.FromEdge, "distance-uncertainty")
	return finding.Compared(c.broken(finding.PuncturePlace, id), d, l.Length(), l.Value.Unit, measure.AtLeast(d, l.Length()))
}

// areaOfTread: a share of the nominal section width, half to each side of the
// center line.
func (c *judge) areaOfTread(i Injury) {
	if i.Part == Sidewall || i.Part == Bead {
		c.fail(c.broken(finding.PuncturePlace, "area-only"), NotRepairable)
		return
	}
	width := c.in.Tire.Marking.SectionWidth
	if width == 0 {
		c.need(finding.SettlePunctureSectionWidth)
	}
	if i.FromCenter == nil {
		c.need(finding.SettlePunctureCenterDistance)
	}
	if width == 0 || i.FromCenter == nil {
		return
	}
	l := areaRule(c.book, width)
	half := unit.Length(math.Round(float64(width) * float64(l.Ratio()) / 2))
	d := c.orDefault(*i.FromCenter, "distance-uncertainty")
	f := finding.Compared(c.broken(finding.PuncturePlace, l.ID), d, half, unit.Millimeters, measure.AtMost(d, half))
	switch f.Outcome {
	case measure.Above:
		c.fail(f, NotRepairable)
	case measure.CannotTell:
		c.leave(f, finding.SettlePunctureCenterDistance)
	}
}

// areaRule finds the share of the section width that governs a width.
func areaRule(b *rulebook.Book, width unit.Length) rulebook.Limit {
	for _, l := range b.About(rulebook.RepairPlace) {
		a := l.Applies
		if l.Value.Unit == unit.Percent && width > a.WidthOver && (a.WidthUpTo == 0 || width <= a.WidthUpTo) {
			return l
		}
	}
	panic("rulebook " + b.ID + " has no area for a section width")
}

// orDefault gives a reading the book's uncertainty when it brings none. The
// book states it expanded.
func (c *judge) orDefault(v measure.Value[unit.Length], id string) measure.Value[unit.Length] {
	if v.Std == 0 {
		v.Std = float64(c.book.Limit(id).Length()) / measure.Coverage
	}
	return v
}

// leakUrgency is how soon an injury has to be seen to: a tire that holds air
// can wait for the visit, any other cannot.
func leakUrgency(in Input) finding.Urgency {
	holds := len(in.Injuries) > 0
	for _, i := range in.Injuries {
		if i.HoldsAir == finding.No {
			return finding.BeforeDriving
		}
		holds = holds && i.HoldsAir == finding.Yes
	}
	if in.Pressure.Flat == finding.Yes || in.Pressure.RunLow == finding.Yes {
		return finding.BeforeDriving
	}
	if holds || in.Pressure.RunLow == finding.No {
		return finding.ThisVisit
	}
	return finding.BeforeDriving
}
