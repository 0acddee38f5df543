package wear

import (
	"cmp"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// oddTires: one tire lower than the one across the axle, and both even across.
// First ask whether it is the same age: a different tire comes before a dragging
// brake.
func (j *judge) oddTires() {
	for _, t := range j.Tires {
		m := j.across(t)
		if m == nil || t.Mean == nil || m.Mean == nil || !t.even() || !m.even() || j.spotted(t) || j.spotted(*m) {
			continue
		}
		diff := m.Mean.Minus(*t.Mean)
		if diff.Of <= 0 || !called(diff) {
			continue
		}
		other := &suspect{code: finding.WearDifferentTire, settle: finding.SettleDateCodesAndFitDates, score: 1}
		faster := &suspect{code: finding.WearOneTireFaster, settle: finding.SettleBrakes}
		same := sameTire(t, *m)
		moved := t.Wore != t.At || m.Wore != m.At
		other.say(3, finding.FactWearMadeOrFittedApart, same == finding.No)
		faster.say(-3, finding.FactWearMadeOrFittedApart, same == finding.No)
		other.say(-4, finding.FactWearMadeAndFittedTogether, same == finding.Yes)
		faster.say(1, finding.FactWearMadeAndFittedTogether, same == finding.Yes)
		faster.say(-2, finding.FactWearTooFewMilesHere, moved)
		switch same {
		case finding.NotKnown:
			faster.settle = finding.SettleDateCodesAndFitDates
		case finding.No:
			other.settle = "" // they are told already
		}
		j.add(ranked(shapeOf(diff, t), other, faster)...)
	}
}

// across is the tire now at the other end of the axle.
func (j *judge) across(t Tire) *Tire {
	for i := range j.Tires {
		if j.Tires[i].At == t.At.Mirror() {
			return &j.Tires[i]
		}
	}
	return nil
}

// A set bought together may have been made some weeks apart, and its days of
// fitting may be written down some days apart (common practice).
const (
	apartMade   = 1.0 // years
	apartFitted = 60  // days
)

// sameTire compares what is told of both: dates, miles, size and new depths. One
// difference makes them different; what is alike makes them the same only when a
// date or the miles are.
func sameTire(a, b Tire) finding.Answer {
	alike := false
	compare := func(told, same bool) (different bool) {
		alike = alike || told && same
		return told && !same
	}
	madeA, errA := sidewall.DateCode(a.Made, unit.Date{})
	madeB, errB := sidewall.DateCode(b.Made, unit.Date{})
	years := madeA.Age(unit.Date{Year: 2000, Month: 1, Day: 1}).Number - madeB.Age(unit.Date{Year: 2000, Month: 1, Day: 1}).Number
	days := 0
	fitted := !a.Fitted.IsZero() && !b.Fitted.IsZero()
	if fitted {
		days = a.Fitted.DaysUntil(b.Fitted)
	}
	ran := a.OnTire != nil && b.OnTire != nil
	different := compare(errA == nil && errB == nil, max(years, -years) < apartMade)
	different = compare(fitted, max(days, -days) < apartFitted) || different
	different = compare(ran, ran && max(*a.OnTire-*b.OnTire, *b.OnTire-*a.OnTire) < PatternNeeds()) || different
	different = different || a.Size != "" && b.Size != "" && a.Size != b.Size || a.New != nil && b.New != nil && *a.New != *b.New
	switch {
	case different:
		return finding.No
	case alike:
		return finding.Yes
	}
	return finding.NotKnown
}

// driven: an axle that the engine turns loses evenly more than the other, on
// tires that have run alike.
func (j *judge) driven() {
	axles := j.Layout.Axles
	if len(axles) != 2 || axles[0].Driven == axles[1].Driven {
		return
	}
	var lost [2][]depth
	var tires [2][]Tire
	var ran []unit.Distance
	for _, t := range j.Tires {
		v, ok := t.wornBy()
		if !ok || t.OnTire == nil {
			continue
		}
		if !t.even() || j.spotted(t) {
			return
		}
		ran = append(ran, *t.OnTire)
		if n := t.Wore.Axle; n == t.At.Axle {
			lost[n-1], tires[n-1] = append(lost[n-1], v), append(tires[n-1], t)
		}
	}
	turned := slices.IndexFunc(axles, func(a layout.Axle) bool { return a.Driven })
	if len(lost[turned]) < 2 || len(lost[1-turned]) < 2 || slices.Max(ran)-slices.Min(ran) >= PatternNeeds() {
		return
	}
	v := measure.Mean(lost[turned]...).Minus(measure.Mean(lost[1-turned]...))
	if v.Of <= 0 || !called(v) {
		return
	}
	f := shapeOf(v, tires[turned]...)
	f.Code, f.Rank, f.ToSettle = finding.WearDriveTorque, 1, finding.SettleAskHowDriven
	f.Evidence = []finding.Evidence{{Code: finding.FactWearOnlyTheDrivenAxle}, {Code: finding.FactWearEvenAcross}}
	j.add(f)
}

// rotation: none on record for longer than the usual interval, on tires that
// may be rotated. Those whose run is not known say nothing.
func (j *judge) rotation() {
	a := j.Layout.Axles
	if len(a) != 2 || a[0].Dual || a[1].Dual || a[0].Size != a[1].Size || j.Layout.Class != layout.PassengerCar && j.Layout.Class != layout.LightTruck {
		return
	}
	var ran []unit.Distance
	var at []layout.Position
	size := ""
	for _, t := range j.Tires {
		if size = cmp.Or(size, t.Size); t.Size != "" && t.Size != size {
			return
		}
		if d := cmp.Or(t.Here, t.OnTire); d != nil {
			ran, at = append(ran, *d), append(at, t.At)
		}
	}
	for _, w := range j.Work {
		if w.Kind == Rotated && w.Ago == nil {
			return
		}
		if w.Kind == Rotated {
			ran = append(ran, *w.Ago)
		}
	}
	l := advice.Limit("rotation-by")
	by := unit.MustDistance(l.Value.Number, l.Value.Unit)
	if len(at) == 0 || slices.Min(ran) <= by {
		return
	}
	since := slices.Min(ran)
	f := seen(finding.WearRotationMissed, "", finding.Plan, at...)
	f.Rule, f.Outcome, f.Limit = advice.RuleOf(l), measure.Above, l.Value
	f.Measured, f.Margin = since.Amount(l.Value.Unit).Rounded(), (since - by).Amount(l.Value.Unit).Rounded()
	j.add(f)
}
