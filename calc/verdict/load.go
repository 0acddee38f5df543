package verdict

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// loads judges every axle that was put on a scale. Without a scale nothing is
// said of loads: what a vehicle weighs today is not on its label.
func (j *judging) loads() {
	for _, p := range j.v.Vehicle.Positions() {
		if c, weighed := j.v.Scale().Carried(p); weighed {
			j.loaded(p, c)
		}
	}
}

// loaded judges one tire of an axle on a scale.
func (j *judging) loaded(p layout.Position, c visit.Carried) {
	i := slices.IndexFunc(j.v.Wheels, func(w visit.Wheel) bool { return w.Position == p })
	if i < 0 {
		j.ask(finding.AskLoadRating, p)
		j.ask(finding.AskReading, p)
		return
	}
	w := j.v.Wheels[i]
	rating, known := w.Tire.Rating()
	dual := p.Dual != layout.Single
	rated, told := rating.Rated(dual)
	switch {
	case !known:
		j.ask(finding.AskLoadRating, p)
	case !told:
		j.ask(finding.AskLoadDual, p)
	case measure.AtMost(measure.Exact(c.Share), rated).Outcome == measure.Above:
		j.aboveRating(w, c, rated)
	case w.Pressure.Read == unit.None:
		j.ask(finding.AskReading, p)
	case !j.air[p].Has(finding.InflationFlat): // what is flat has its finding
		j.atPressure(w, c, rating)
	}
}

func (j *judging) aboveRating(w visit.Wheel, c visit.Carried, rated unit.Mass) {
	f := j.loadFinding(finding.LoadAboveRating, w, c, loadRule("rated"))
	j.withLaw(&f, w)
	share := measure.Exact(c.Share)
	j.find(finding.Compared(f, share, rated, c.Unit, measure.AtMost(share, rated)))
	j.do(finding.WorkLoadReduce, w.Position)
}

// atPressure compares what the cold equivalent supports with the tire's share.
func (j *judging) atPressure(w visit.Wheel, c visit.Carried, rating sidewall.Rating) {
	cold, law := j.air[w.Position].Cold, rating.Law
	f := j.loadFinding(finding.LoadPressureTooLow, w, c, loadRule(law.ID))
	j.withLaw(&f, w)
	v, figure := supported(rating, cold.Value, w.Position)
	least, _ := supported(rating.Least(), cold.Value, w.Position)
	compared := measure.AtLeast(v, c.Share)
	switch {
	case compared.Outcome == measure.Above && measure.AtLeast(least, c.Share).Outcome != measure.Above:
		// Standard load, as no mark says otherwise, would carry it: the mark decides.
		f.Urgency, f.ToSettle = finding.ThisVisit, finding.SettleLoadReadMark
		v, compared = least, measure.AtLeast(least, c.Share)
		compared.Outcome = measure.CannotTell
	case compared.Outcome == measure.Above && !figure:
		j.notJudged(finding.RecordedLoadNoFigure, w.Position)
		return
	case compared.Outcome == measure.Above:
		j.enough(w, c, least, loadRule(law.ID))
		return
	case law.Exponent == 0 && !figure:
		f.Code, f.ToSettle, compared.Outcome = finding.LoadUnderRatedPressure, finding.SettleLoadReadTable, measure.CannotTell
	case compared.Outcome == measure.CannotTell:
		f.ToSettle = finding.SettleReadBetterGauge
		if cold.About {
			f.ToSettle = finding.SettleReadCold
		}
	}
	if law.Exponent > 0 && !figure {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactLoadFloor, Amount: j.airIn[w.Position].Shown(law.Floor)})
	}
	j.find(finding.Compared(j.needing(f, w, c, rating), v, c.Share, c.Unit, compared))
	j.tooLittleAir(w, c, rating)
}

// supported is what a cold pressure supports. Where there is no figure it is what
// bounds it: under the class's floor the load at the floor, which is more; without
// a table the rated load in proportion to the pressure, which is less.
func supported(r sidewall.Rating, cold measure.Value[unit.Pressure], p layout.Position) (v measure.Value[unit.Mass], figure bool) {
	dual := p.Dual != layout.Single
	if v, figure = inflation.Supports(r, cold, dual); figure {
		return v, true
	}
	if r.Law.Exponent > 0 {
		v, _ = inflation.Supports(r, measure.Value[unit.Pressure]{Of: r.Law.Floor, Std: cold.Std}, dual)
		return v, false
	}
	rated, _ := r.Rated(dual)
	perPressure := float64(rated) / float64(r.Law.Reference)
	return measure.Value[unit.Mass]{Of: unit.Mass(perPressure * float64(max(0, cold.Of))), Std: perPressure * cold.Std}, false
}

// needing adds the pressure that the load asks for, where the label does not ask
// for as much.
func (j *judging) needing(f finding.Finding, w visit.Wheel, c visit.Carried, rating sidewall.Rating) finding.Finding {
	needed, ok := rating.PressureFor(c.Share, w.Position.Dual != layout.Single)
	label, _ := j.v.Labels().Cold(w.Position)
	if ok && label > 0 && needed > label {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactLoadNeeds, Amount: j.airIn[w.Position].Shown(needed)})
	}
	return f
}

// tooLittleAir: setting the label is the work where the label is enough; where it
// is not, or not told, load comes off.
func (j *judging) tooLittleAir(w visit.Wheel, c visit.Carried, rating sidewall.Rating) {
	label, _ := j.v.Labels().Cold(w.Position)
	needed, ok := rating.PressureFor(c.Share, w.Position.Dual != layout.Single)
	if !ok || label < needed {
		j.do(finding.WorkLoadReduce, w.Position)
	}
}

// enough: the pressure supports the share. A passenger tire on a truck is also
// held to the reserve that its maker must leave.
func (j *judging) enough(w visit.Wheel, c visit.Carried, v measure.Value[unit.Mass], by finding.Rule) {
	book := rulebook.Must("load")
	reserve := book.Limit("passenger-on-truck")
	if told := j.v.Vehicle.Class != layout.ClassNotTold; told && w.Tire.Marking.Class.Passenger() && reserve.AppliesTo(j.v.Vehicle, w.Position) {
		n := reserve.Ratio()
		divided := measure.Value[unit.Mass]{Of: v.Of / unit.Mass(n), Std: v.Std / float64(n)}
		if compared := measure.AtLeast(divided, c.Share); compared.Outcome == measure.Below {
			f := j.loadFinding(finding.LoadPassengerOnTruck, w, c, book.RuleOf(reserve))
			f.Urgency = finding.Plan
			j.find(finding.Compared(f, divided, c.Share, c.Unit, compared))
			return
		}
	}
	j.kept(Checked{
		Code: finding.CheckedLoadCarried, Positions: []layout.Position{w.Position}, Rule: by,
		Measured: v.Of.Amount(c.Unit).Rounded(), Limit: c.Share.Amount(c.Unit).Rounded(),
	})
}

// loadFinding is what every finding about load carries.
func (j *judging) loadFinding(code finding.Code, w visit.Wheel, c visit.Carried, by finding.Rule) finding.Finding {
	f := finding.Finding{
		Code: code, Urgency: finding.BeforeDriving, Positions: []layout.Position{w.Position}, Rule: by, Caution: finding.CautionOverload,
		Evidence: []finding.Evidence{{Code: finding.FactLoadAxleWeight, Amount: c.Weight}},
	}
	if cold := j.air[w.Position].Cold; w.Pressure.Read != unit.None && code != finding.LoadAboveRating {
		in := j.airIn[w.Position]
		f.Evidence = append(f.Evidence, finding.Evidence{
			Code: finding.FactInflationColdEquivalent, Amount: in.Shown(cold.Value.Of), Uncertainty: in.Shown(unit.Pressure(cold.Value.Std)),
		})
	}
	return f
}

func loadRule(id string) finding.Rule {
	b := rulebook.Must("load")
	return b.RuleOf(b.Limit(id))
}

// loadLeft closes a pressure too low for the load when the pressure as left, cold,
// provably supports it.
func (j *judging) loadLeft(w visit.Wheel) {
	rating, known := w.Tire.Rating()
	c, weighed := j.v.Scale().Carried(w.Position)
	if !known || !weighed || w.PressureLeft.Read == unit.None {
		return
	}
	left := j.v.Labels().Air(w, w.PressureLeft, j.v.Conditions).Cold().Value
	v, ok := inflation.Supports(rating.Least(), left, w.Position.Dual != layout.Single)
	if !ok || measure.AtLeast(v, c.Share).Outcome != measure.Above {
		return
	}
	for _, f := range j.out.Findings {
		if finding.KindOf(f.Code).Left == finding.LeftLoad && f.Positions[0] == w.Position {
			j.out.Closed[f.ID()] = j.airIn[w.Position].Shown(w.PressureLeft.Of)
		}
	}
}
