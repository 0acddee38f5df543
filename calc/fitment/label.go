package fitment

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// Fit is one tire that was read, against what the label asks for. A zero field
// cannot be told.
type Fit struct {
	At        layout.Position
	Tire      sidewall.Marking
	Label     sidewall.Marking
	Diameter  measure.Value[unit.Ratio] // by design, of the label's; 0 when not known
	Shown     unit.Amount               // speed on the speedometer, as example
	True      unit.Amount               // the speed then, if it was right with the label's size
	Rated     unit.Mass                 // load the tire is rated for in its place, a passenger tire on a truck after division
	ForLabel  unit.Pressure             // cold, at which it carries what the label's size carries at the label's pressure
	LabelUnit unit.Unit
}

func (j *fitting) labelOf(p layout.Position) sidewall.Marking {
	a, _ := j.Layout.AxleOf(p)
	return sidewall.Parse(a.Size)
}

// againstLabel compares each tire on the road with the label of its axle. What
// the label or a tire does not tell is asked once.
func (j *fitting) againstLabel() {
	anyLabel, anyTire := false, false
	for _, w := range j.road {
		anyLabel = anyLabel || j.labelOf(w.At).Class != sidewall.UnknownClass
		anyTire = anyTire || w.Tire.Marking.Class != sidewall.UnknownClass
	}
	for _, w := range j.road {
		if j.temporary(w) {
			continue
		}
		label := j.labelOf(w.At)
		switch {
		case w.Tire.Marking.Class == sidewall.UnknownClass:
			if anyLabel || anyTire {
				j.ask(finding.AskMarking, w.At)
			}
		case label.Class == sidewall.UnknownClass:
			j.ask(finding.AskLabelSize)
			a := &against{fitting: j, w: w, Fit: Fit{At: w.At, Tire: w.Tire.Marking, LabelUnit: w.LabelUnit}}
			a.loads()
			j.Fits = append(j.Fits, a.Fit)
		default:
			j.fit(w, label)
		}
	}
}

// against judges one tire against one label.
type against struct {
	*fitting
	w Wheel
	Fit
	label     sidewall.Rating
	tire      sidewall.Rating
	labelRate unit.Mass // rated load of the label's tire in this place, 0 when not known
	divided   bool      // the tire is a passenger tire on a truck and the label's is not
	good      bool

	labelDivided bool // the label's is, and the tire is not
}

func (j *fitting) fit(w Wheel, label sidewall.Marking) {
	a := &against{fitting: j, w: w, good: true}
	a.Fit = Fit{At: w.At, Tire: w.Tire.Marking, Label: label, LabelUnit: w.LabelUnit}
	a.loads()
	a.speedometer()
	a.load()
	a.size()
	a.speed()
	if !sameBuild(a.Fit.Tire, label) {
		a.bad(practice(finding.FitmentBuildNotLabel, finding.ThisVisit, w.At))
	}
	j.Fits = append(j.Fits, a.Fit)
	if a.good {
		j.Met = append(j.Met, Met{Code: finding.CheckedFitmentAsLabel, Positions: []layout.Position{w.At}})
	}
}

func (a *against) bad(f finding.Finding) {
	a.good = false
	a.find(f)
}

func (a *against) dual() bool { return a.w.At.Dual != layout.Single }

// loads works out what tire and label are rated for. Where a passenger tire stands in
// place of one of a truck class on a truck, bus or trailer, or one of a truck class in
// place of it, the passenger tire counts for its load divided by 1.10: that is what the
// vehicle's maker may load it with (49 CFR 571.110 S4.2.2.2, S4.2.2.3).
func (a *against) loads() {
	a.label, _ = sidewall.RatingOf(a.Fit.Label, sidewall.Printed{})
	a.tire, _ = sidewall.RatingOf(a.Fit.Tire, a.w.Tire.Printed)
	derate := rulebook.Must("load").Limit("passenger-on-truck")
	tire, label := a.Fit.Tire.Class, a.Fit.Label.Class
	known := label != sidewall.UnknownClass && tire != sidewall.UnknownClass && a.Layout.Class != layout.ClassNotTold
	switch {
	case tire.Passenger() && !label.Passenger() && a.Layout.Class != layout.ClassNotTold && derate.AppliesTo(a.Layout, a.w.At):
		a.tire, a.divided = a.tire.DividedBy(derate.Ratio()), true
	case known && label.Passenger() && !tire.Passenger() && derate.AppliesTo(a.Layout, a.w.At):
		a.label, a.labelDivided = a.label.DividedBy(derate.Ratio()), true
	}
	a.labelRate, _ = a.label.Rated(a.dual())
	a.Rated, _ = a.tire.Rated(a.dual())
	if a.w.Label == 0 || a.aboveSidewall() {
		return
	}
	need, told := a.label.Load(a.w.Label, a.dual())
	if !told {
		return
	}
	if p, ok := a.tire.PressureFor(need, a.dual()); ok && a.tire.Law.ID != "" && a.tire.Law.Reference > 0 {
		a.ForLabel = p
	}
}

// aboveSidewall: the label asks for more than the sidewall allows cold. Then no
// pressure is right: less than the label is never asked for.
func (a *against) aboveSidewall() bool {
	most := a.w.Tire.Printed.Maximum
	return most > 0 && a.w.Label > most
}

// load: rated for at least what the label's tire is rated for.
func (a *against) load() {
	if a.labelRate == 0 {
		a.good = false
		a.ask(finding.AskLabelLoad)
		return
	}
	if a.Rated == 0 {
		a.good = false
		a.ask(finding.AskMarking, a.w.At)
		return
	}
	shown := unit.Kilograms
	if a.LabelUnit == unit.PSI {
		shown = unit.Pounds
	}
	c := measure.AtLeast(measure.Exact(a.Rated), a.labelRate)
	if c.Outcome == measure.Above {
		return
	}
	f := finding.Compared(finding.Finding{Code: finding.FitmentLoadBelowLabel, Urgency: finding.ThisVisit, Positions: []layout.Position{a.w.At}, Rule: labelRule("load")},
		measure.Exact(a.Rated), a.labelRate, shown, c)
	if a.divided {
		l := rulebook.Must("load").Limit("passenger-on-truck")
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactFitmentPassengerDivided, Amount: l.Value})
	}
	a.bad(f)
}

func labelRule(what string) finding.Rule {
	return finding.Rule{ID: "maker.label-" + what, Authority: finding.Maker, Citation: "the vehicle's door label", Known: finding.Read}
}

// speed: a lower symbol on a winter tire is commonly allowed and worth its
// speed, and so it is where the place's law lets a tire of its mark be slower; on
// any other tire it is the wrong tire. What is above a symbol without an end is
// not known.
func (a *against) speed() {
	if !a.belowLabel(a.w) {
		return
	}
	winter := a.w.Tire.Winter() || a.mayBeSlower(a.w)
	if winter && a.has(finding.FitmentSpeedByLaw, a.w.At) {
		return // not allowed as it is: what is commonly allowed is no comfort
	}
	have, _ := a.Fit.Tire.Speed.Speed()
	want, _ := a.Fit.Label.Speed.Speed()
	f := finding.Finding{Code: finding.FitmentSpeedBelowLabel, Urgency: finding.ThisVisit, Positions: []layout.Position{a.w.At}, Outcome: measure.Below,
		Measured: have, Limit: want, Rule: labelRule("speed")}
	if winter {
		f.Code, f.Urgency = finding.FitmentWinterSpeed, finding.Note
		f.Rule = finding.Rule{Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory}
		a.find(f)
		return
	}
	a.bad(f)
}

func sameBuild(tire, label sidewall.Marking) bool {
	return sameConstruction(Wheel{Tire: Tire{Marking: tire}}, Wheel{Tire: Tire{Marking: label}}) != finding.No
}

// speedometer: how far the diameter differs by design, and what that does to the
// speed that is shown.
func (a *against) speedometer() {
	tire, ok := a.Fit.Tire.Geometry()
	label, known := a.Fit.Label.Geometry()
	if !ok || !known {
		return
	}
	ratio := float64(tire.Diameter) / float64(label.Diameter)
	a.Diameter = measure.Exact(unit.Ratio(ratio))
	a.Shown = book.Limit("shown-mph").Value
	if rulebook.ByKilometers(a.Books) {
		a.Shown = book.Limit("shown-kmh").Value
	}
	a.True = unit.Amount{Number: a.Shown.Number * ratio, Unit: a.Shown.Unit}
}

// size: another size than the label's is a substitute when it is rated for as
// much and a pressure is known at which it carries what the label's size does.
func (a *against) size() {
	same := sameSize(a.Fit.Tire, a.Fit.Label) == finding.Yes
	otherClass := a.Fit.Tire.Class.Passenger() != a.Fit.Label.Class.Passenger() || a.Fit.Tire.Class != a.Fit.Label.Class && !a.Fit.Tire.Class.Passenger()
	if same && !otherClass {
		a.ForLabel = 0 // the label's own figure
		return
	}
	f := practice(finding.FitmentSizeNotLabel, finding.ThisVisit, a.w.At)
	switch {
	case same:
		f.Code = finding.FitmentClassNotLabel
	case a.ForLabel > 0 && a.Rated > 0 && a.labelRate > 0 && measure.AtLeast(measure.Exact(a.Rated), a.labelRate).Outcome == measure.Above:
		f.Code, f.Urgency = finding.FitmentSubstituteSize, finding.Note
	}
	if a.Diameter.Of != 0 && !same {
		f.Evidence = append(f.Evidence,
			finding.Evidence{Code: finding.FactFitmentDiameterChange, Amount: (a.Diameter.Of - 1).Amount().Rounded()},
			finding.Evidence{Code: finding.FactFitmentShownSpeed, Amount: a.Shown}, finding.Evidence{Code: finding.FactFitmentTrueSpeed, Amount: a.True.Rounded()})
	}
	need, known := a.label.Load(a.w.Label, a.dual())
	switch {
	case a.ForLabel > 0:
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactFitmentCarriesLabelLoadFrom, Amount: a.ForLabel.Amount(a.LabelUnit).Rounded()})
		if a.labelDivided {
			f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactFitmentLabelDivided, Amount: rulebook.Must("load").Limit("passenger-on-truck").Value})
		}
	case a.aboveSidewall(): // told by itself, with both figures
	case known && need > 0 && a.Rated > 0:
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactFitmentNoPressureEnough, Against: true})
	default:
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactFitmentLoadNotKnown, Against: true})
	}
	a.bad(f)
	a.pressure()
}

// pressure: where this tire needs more than the label says, the label's figure
// is not enough, beyond how far tables lie from their law. Less than the label
// is never asked for.
func (a *against) pressure() {
	if a.ForLabel == 0 {
		return
	}
	need := measure.Exact(a.ForLabel)
	if n := a.tire.Law.Exponent; n > 0 {
		need.Std = float64(a.tire.Law.Within) / n * float64(a.ForLabel) / measure.Coverage
	}
	c := measure.AtMost(need, a.w.Label)
	if c.Outcome != measure.Above {
		a.ForLabel = max(a.ForLabel, a.w.Label)
		return
	}
	f := finding.Finding{Code: finding.FitmentPressureForSize, Urgency: finding.ThisVisit, Positions: []layout.Position{a.w.At}, Rule: labelLoadRule()}
	a.find(finding.Compared(f, need, a.w.Label, a.LabelUnit, c))
}

func labelLoadRule() finding.Rule {
	b := rulebook.Must("load")
	return b.RuleOf(b.Limit("label-load"))
}
