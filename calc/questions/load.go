package questions

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

// LoadIn is what the axles weighed and what is known of the tires under them.
type LoadIn struct {
	Laws   Laws
	Scale  visit.Scale
	Wheels []visit.Wheel
	Airs   Airs
}

// LoadAnswer is whether each tire carries its share.
type LoadAnswer struct {
	Answer
	Reduce []layout.Position // load has to come off: the label asks for too little air, or is not told
}

// Load judges every axle that was put on a scale. Without a scale nothing is
// said of loads: what a vehicle weighs today is not on its label.
func Load(in LoadIn) LoadAnswer {
	out := loading{LoadIn: in}
	for _, p := range in.Laws.Vehicle.Positions() {
		if c, weighed := in.Scale.Carried(p); weighed {
			out.tire(p, c)
		}
	}
	return out.LoadAnswer
}

type loading struct {
	LoadIn
	LoadAnswer
}

// tire judges one tire of an axle on a scale.
func (l *loading) tire(p layout.Position, c visit.Carried) {
	i := slices.IndexFunc(l.Wheels, func(w visit.Wheel) bool { return w.Position == p })
	if i < 0 {
		l.ask(finding.AskLoadRating, p)
		l.ask(finding.AskReading, p)
		return
	}
	w := l.Wheels[i]
	rating, known := w.Tire.Rating()
	rated, told := rating.Rated(p.Dual != layout.Single)
	switch {
	case !known:
		l.ask(finding.AskLoadRating, p)
	case !told:
		l.ask(finding.AskLoadDual, p)
	case measure.AtMost(measure.Exact(c.Share), rated).Outcome == measure.Above:
		l.aboveRating(w, c, rated)
	case w.Pressure.Read == unit.None:
		l.ask(finding.AskReading, p)
	case !l.Airs.Results[p].Has(finding.InflationFlat): // what is flat has its finding
		l.atPressure(w, c, rating)
	}
}

func (l *loading) aboveRating(w visit.Wheel, c visit.Carried, rated unit.Mass) {
	f := l.about(finding.LoadAboveRating, w, c, loadRule("rated"))
	l.Laws.cite(&f, w.Position)
	share := measure.Exact(c.Share)
	l.find(finding.Compared(f, share, rated, c.Unit, measure.AtMost(share, rated)))
	l.Reduce = append(l.Reduce, w.Position)
}

// atPressure compares what the cold equivalent supports with the tire's share.
func (l *loading) atPressure(w visit.Wheel, c visit.Carried, rating sidewall.Rating) {
	air, cold, law := l.Airs.Wheels[w.Position], l.Airs.Results[w.Position].Cold, rating.Law
	f := l.about(finding.LoadPressureTooLow, w, c, loadRule(law.ID))
	l.Laws.cite(&f, w.Position)
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
		l.notJudged(finding.RecordedLoadNoFigure, w.Position)
		return
	case compared.Outcome == measure.Above:
		l.enough(w, c, least, loadRule(law.ID))
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
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactLoadFloor, Amount: air.Shown(law.Floor)})
	}
	// The pressure that the load asks for, where the label does not ask for as much.
	// Setting the label is the work where the label is enough; where it is not, or is not
	// told, load comes off.
	needed, ok := rating.PressureFor(c.Share, w.Position.Dual != layout.Single)
	if ok && air.Label > 0 && needed > air.Label {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactLoadNeeds, Amount: air.Shown(needed)})
	}
	if !ok || air.Label < needed {
		l.Reduce = append(l.Reduce, w.Position)
	}
	l.find(finding.Compared(f, v, c.Share, c.Unit, compared))
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
	v, _ = inflation.InProportion(r, cold, dual)
	return v, false
}

// enough: the pressure supports the share. A passenger tire on a truck is also
// held to the reserve that its maker must leave.
func (l *loading) enough(w visit.Wheel, c visit.Carried, v measure.Value[unit.Mass], by finding.Rule) {
	book := rulebook.Must("load")
	reserve := book.Limit("passenger-on-truck")
	if told := l.Laws.Vehicle.Class != layout.ClassNotTold; told && w.Tire.Marking.Class.Passenger() && reserve.AppliesTo(l.Laws.Vehicle, w.Position) {
		n := reserve.Ratio()
		divided := measure.Value[unit.Mass]{Of: v.Of / unit.Mass(n), Std: v.Std / float64(n)}
		if compared := measure.AtLeast(divided, c.Share); compared.Outcome == measure.Below {
			f := l.about(finding.LoadPassengerOnTruck, w, c, book.RuleOf(reserve))
			f.Urgency = finding.Plan
			l.find(finding.Compared(f, divided, c.Share, c.Unit, compared))
			return
		}
	}
	l.addMet(Checked{
		Code: finding.CheckedLoadCarried, Positions: []layout.Position{w.Position}, Rule: by,
		Measured: v.Of.Amount(c.Unit).Rounded(), Limit: c.Share.Amount(c.Unit).Rounded(),
	})
}

// about is what every finding about load carries.
func (l *loading) about(code finding.Code, w visit.Wheel, c visit.Carried, by finding.Rule) finding.Finding {
	f := finding.Finding{
		Code: code, Urgency: finding.BeforeDriving, Positions: []layout.Position{w.Position}, Rule: by, Caution: finding.CautionOverload,
		Evidence: []finding.Evidence{{Code: finding.FactLoadAxleWeight, Amount: c.Weight}},
	}
	if w.Pressure.Read != unit.None && code != finding.LoadAboveRating {
		air, cold := l.Airs.Wheels[w.Position], l.Airs.Results[w.Position].Cold.Value
		f.Evidence = append(f.Evidence, finding.Evidence{
			Code: finding.FactInflationColdEquivalent, Amount: air.Shown(cold.Of), Uncertainty: air.Shown(unit.Pressure(cold.Std)),
		})
	}
	return f
}

func loadRule(id string) finding.Rule {
	b := rulebook.Must("load")
	return b.RuleOf(b.Limit(id))
}
