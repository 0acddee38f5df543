package puncture

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
)

var mainCodes = map[Answer]finding.Code{
	NoInjury: finding.PunctureNoInjury, Repairable: finding.PunctureRepairable, NotDecidedDemountAndInspect: finding.PunctureInspectInside,
	NotAsNailHole: finding.PunctureNotAsNailHole, NotRepairable: finding.PunctureNotRepairable,
}

// beforeDemounting is what is found out while the tire is on its wheel: its maker may
// forbid a repair, and what did not go through needs none.
var beforeDemounting = []finding.Settle{finding.SettlePunctureMakerPolicy, finding.SettlePunctureHoldsAir}

// result makes the answer of the verdict: what is still to be found out is
// told only where it could change the answer.
func (v *verdict) result(in Input, kinds []kind, book *rulebook.Book) Result {
	r := Result{Answer: v.answer, Least: v.least, Failing: v.failing}
	if r.Answer != NotRepairable {
		// A rule that one injury fails is not open for another.
		r.Open, r.Missing = slices.DeleteFunc(v.open, func(f finding.Finding) bool {
			return slices.ContainsFunc(r.Failing, func(g finding.Finding) bool { return g.ID() == f.ID() })
		}), v.missing
	}
	truck := slices.ContainsFunc(kinds, func(k kind) bool { return k.truck || k.steel })
	r.Main = finding.Finding{Code: mainCodes[r.Answer], Urgency: leakUrgency(in), Evidence: evidence(in, r.Failing, book)}
	for _, f := range r.Failing {
		r.Main.Urgency = min(r.Main.Urgency, f.Urgency)
	}
	for _, f := range r.Open {
		if f.Code == finding.PunctureScuffRing {
			r.Main.Urgency = min(r.Main.Urgency, f.Urgency)
		}
	}
	limit := func(id string) finding.Rule { return book.RuleOf(book.Limit(id)) }
	switch r.Answer {
	case NoInjury:
		r.Main.Urgency = finding.Note
		r.Main.Evidence = append(r.Main.Evidence, finding.Evidence{Code: finding.FactPunctureStopsShort})
		if slices.ContainsFunc(in.Injuries, func(i Injury) bool { return i.ObjectInPlace == finding.Yes }) {
			r.Main.Urgency = finding.ThisVisit
		}
	case Repairable:
		r.Main.Rule, r.Main.Caution = limit("fill-and-seal"), finding.CautionPunctureTrainedRepairer
		for _, i := range in.Injuries {
			m := methodOf(i, book)
			r.Methods = append(r.Methods, m)
			r.Method = max(r.Method, m)
		}
	case NotDecidedDemountAndInspect:
		r.Main.Rule = limit("inside-seen")
		r.First = slices.DeleteFunc(slices.Clone(r.Missing), func(s finding.Settle) bool { return in.InsideSeen || !slices.Contains(beforeDemounting, s) })
		r.Main.ToSettle = append(slices.Clone(r.First), v.missing...)[0]
		if in.InsideSeen || len(r.First) > 0 {
			r.Main.Code = finding.PunctureNotDecided // it waits for more than a look inside
		}
		if !in.InsideSeen {
			r.Main.Caution = finding.CautionPunctureDemount
			if truck {
				r.Main.Caution = finding.CautionPunctureDemountTruck
			}
			r.LookFor = lookFor(truck)
		}
	case NotAsNailHole:
		r.Method, r.Main.Caution = Section, finding.CautionPunctureTrainedRepairer
	}
	r.notes(in, kinds, book)
	r.cautions(in)
	return r
}

// methodOf chooses the method by the angle; MethodNotTold for an object that
// did not go through.
func methodOf(i Injury, book *rulebook.Book) Method {
	if i.Through == finding.No {
		return MethodNotTold
	}
	if f, told := angle(i, book); told && f.Outcome != measure.Below {
		return TwoPiece // fits every angle
	}
	return Combination
}

// angle compares the angle of an injury with the limit of the one-piece unit.
func angle(i Injury, book *rulebook.Book) (f finding.Finding, told bool) {
	if i.Angle == nil {
		return f, false
	}
	l, v := book.Limit("angle"), *i.Angle
	if v.Std == 0 {
		v.Std = book.Limit("angle-uncertainty").Value.Number / measure.Coverage
	}
	most := unit.Angle(l.Value.Number)
	f = finding.Finding{Code: finding.PunctureAngle, Urgency: finding.Note, Rule: book.RuleOf(l)}
	f = finding.Compared(f, v, most, l.Value.Unit, measure.AtMost(v, most))
	if f.Outcome == measure.CannotTell {
		f.ToSettle = finding.SettlePunctureAngle
	}
	return f, true
}

// lookFor lists what to look for with the tire off, the signs of running low first.
func lookFor(truck bool) []finding.LookFor {
	ask := []finding.LookFor{finding.LookForRunLow, finding.LookForLiner, finding.LookForCord, finding.LookForBead, finding.LookForEarlierRepairs, finding.LookForHole}
	if truck {
		ask = slices.Insert(ask, 1, finding.LookForZipper)
	}
	return ask
}

// evidence gathers what speaks for the answer, in the units of the book.
func evidence(in Input, failing []finding.Finding, book *rulebook.Book) []finding.Evidence {
	holeUnit := book.About(rulebook.HoleSize)[0].Value.Unit
	var es []finding.Evidence
	add := func(e finding.Evidence) {
		if !slices.ContainsFunc(es, func(o finding.Evidence) bool { return o.Code == e.Code }) {
			es = append(es, e)
		}
	}
	for _, f := range failing {
		add(finding.Evidence{Code: finding.KindOf(f.Code).Fact, Amount: f.Measured})
	}
	for _, i := range in.Injuries {
		if i.Prepared != nil {
			add(finding.Evidence{Code: finding.FactPunctureSizeAfterPreparing, Amount: i.Prepared.Amount(holeUnit).Rounded()})
		}
		if i.Size != nil {
			add(finding.Evidence{Code: finding.FactPunctureSizeAsFound, Amount: i.Size.Of.Amount(holeUnit).Rounded()})
		}
		if i.HoldsAir == finding.No {
			add(finding.Evidence{Code: finding.FactPunctureLeaking})
		}
	}
	if t := in.Tire.Tread; t != nil {
		add(finding.Evidence{Code: finding.FactPunctureTreadLeft, Amount: t.Of.Amount(book.Limit("worn").Value.Unit).Rounded()})
	}
	if in.Pressure.RunLow == finding.Yes {
		add(finding.Evidence{Code: finding.FactPunctureFoundRunLow})
	}
	return es
}

// notes says what has to be said beside the answer.
func (r *Result) notes(in Input, kinds []kind, book *rulebook.Book) {
	us := rulebook.Must("repair-us") // what steer axles need stands there alone
	note := func(code finding.Code, from *rulebook.Book, id string) *finding.Finding {
		f := finding.Finding{Code: code, Urgency: finding.Note}
		if id != "" {
			f.Rule = from.RuleOf(from.Limit(id))
		}
		r.Notes = append(r.Notes, f)
		return &r.Notes[len(r.Notes)-1]
	}
	may := r.Answer == Repairable || r.Answer == NotDecidedDemountAndInspect
	truck := slices.ContainsFunc(kinds, func(k kind) bool { return k.truck })
	through := r.injuryNotes(in, book, may)
	if slices.Contains(in.Seen, SealantInside) && r.Answer != NoInjury {
		f := note(finding.PunctureAskSealant, nil, "")
		f.Caution, f.Rule = finding.CautionPunctureSealantFlammable, finding.Rule{Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory}
	}
	if years := book.Limit("age-advice"); in.Tire.Age.Unit == unit.Years && in.Tire.Age.Number >= years.Value.Number {
		f := note(finding.PunctureAge, book, "age-advice")
		f.Measured, f.Limit = in.Tire.Age.Rounded(), years.Value
	}
	if through > 1 && may {
		note(finding.PunctureSeveralInjuries, us, "count")
	}
	speed, ok := in.Tire.Marking.Speed.Speed()
	switch {
	case may && in.Tire.KeepsSpeed == finding.No:
		note(finding.PunctureSpeedSymbolLost, book, "maker-policy")
	case ok && r.Answer == Repairable && in.Tire.KeepsSpeed != finding.Yes && speed.Number >= book.Limit("fast").Value.Number:
		note(finding.PunctureSpeedSymbol, book, "maker-policy")
	}
	if r.Answer == Repairable && in.Tire.SelfSupporting == finding.NotAsked && !in.Tire.Marking.SelfSupporting && in.Tire.Policy == PolicyNotKnown && !truck {
		note(finding.PunctureSelfSupporting, book, "maker-policy")
	}
	if in.Steer && truck {
		if may {
			note(finding.PunctureSteerNailHole, us, "steer-nail-hole")
		}
		if slices.Contains(in.Earlier, Section) || slices.Contains(in.Earlier, Boot) {
			note(finding.PunctureSectionOnSteer, us, "section-not-on-steer").Urgency = finding.BeforeDriving
		}
	}
	if r.Answer == NotAsNailHole {
		note(finding.PunctureNotOnSteer, us, "section-not-on-steer")
	}
	r.Notes = once(r.Notes)
}

// once keeps of notes that say the same of several injuries the one that is the
// farthest over its limit.
func once(notes []finding.Finding) (kept []finding.Finding) {
	for _, f := range notes {
		i := slices.IndexFunc(kept, func(k finding.Finding) bool { return k.ID() == f.ID() })
		switch {
		case i < 0:
			kept = append(kept, f)
		case f.Margin.Number > kept[i].Margin.Number:
			kept[i] = f
		}
	}
	return kept
}

// injuryNotes says what has to be said of single injuries, and counts those that
// may have gone through.
func (r *Result) injuryNotes(in Input, book *rulebook.Book, may bool) (through int) {
	note := func(code finding.Code, id string) {
		r.Notes = append(r.Notes, finding.Finding{Code: code, Urgency: finding.Note, Rule: book.RuleOf(book.Limit(id))})
	}
	for _, i := range in.Injuries {
		if i.Through == finding.No {
			continue
		}
		through++
		if f, told := angle(i, book); may && told && f.Outcome != measure.Below {
			r.Notes = append(r.Notes, f)
		} else if r.Answer == Repairable && !told {
			note(finding.PunctureAngleNotTold, "angle")
		}
		if i.ObjectInPlace == finding.Yes && !in.InsideSeen {
			note(finding.PunctureDoNotPull, "inside-seen")
		}
	}
	return through
}

// cautions gathers the cautions of all findings, the main one's first.
func (r *Result) cautions(in Input) {
	add := func(c finding.Caution) {
		if c != "" && !slices.Contains(r.Cautions, c) {
			r.Cautions = append(r.Cautions, c)
		}
	}
	add(r.Main.Caution)
	for _, fs := range [][]finding.Finding{r.Failing, r.Open, r.Notes} {
		for _, f := range fs {
			add(f.Caution)
		}
	}
	if !in.InsideSeen && (in.Pressure.RunLow == finding.Yes || in.Pressure.Flat == finding.Yes) {
		add(finding.CautionPunctureNoAir)
	}
}
