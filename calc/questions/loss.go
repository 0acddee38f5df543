package questions

import (
	"cmp"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// LossIn are the pressures as left before and as found now.
type LossIn struct {
	Labels     visit.Labels
	Conditions inflation.Conditions
	Day        unit.Date // of the visit; zero when not told
	Wheels     []visit.Wheel
	Airs       Airs
}

// losing is how fast one tire lost pressure since it was last set.
type losing struct {
	at       layout.Position
	rate     measure.Value[unit.LossRate]
	days     int
	oneHeat  bool // both readings are brought to one temperature
	pressure visit.Pressure
}

// Loss compares how fast the tires lose pressure: one faster than its mates has a
// leak, all alike is weather and time.
func Loss(in LossIn) (out Answer) {
	var all []losing
	for _, w := range in.Wheels {
		if l, ok := in.lost(w); ok {
			all = append(all, l)
		}
	}
	alike := len(all) > 1
	for i, l := range all {
		var others []measure.Value[unit.LossRate]
		for k, o := range all {
			if k != i {
				others = append(others, o.rate)
			}
		}
		faster, c, ok := trend.Leak(l.rate, others)
		if !ok {
			continue
		}
		alike = alike && c.Outcome == measure.Below && l.oneHeat
		if c.Margin > 0 && c.Outcome != measure.Below {
			out.losesFaster(l, faster, c)
		}
	}
	if alike {
		out.loseAlike(all)
	}
	return out
}

// lost is the pressure between the last visit that read it and this one: only where
// that one says how the tire was left.
func (in LossIn) lost(w visit.Wheel) (losing, bool) {
	if w.Position.Spare || w.Pressure.Read == unit.None || in.Day.IsZero() {
		return losing{}, false
	}
	before := w.Before
	if w.Rested != nil && (len(before) == 0 || before[0].Day.DaysUntil(w.Rested.Day) > 0) {
		before = append([]visit.Before{*w.Rested}, before...)
	}
	for _, b := range before {
		if b.Left.Read == unit.None && b.Found.Read == unit.None {
			continue
		}
		if b.Left.Read == unit.None || b.Day.IsZero() || !b.Stayed {
			return losing{}, false
		}
		then := in.Labels.Air(w, b.Left, b.Conditions)
		left, oneHeat := then.ColdOn(in.Conditions)
		found := in.Airs.Wheels[w.Position].Cold().Value
		days := b.Day.DaysUntil(in.Day)
		rate, ok := trend.Held{Left: left, Found: found, Days: days}.Loss()
		return losing{w.Position, rate, days, oneHeat, w.Pressure}, ok
	}
	return losing{}, false
}

func (a *Answer) losesFaster(l losing, faster measure.Value[unit.LossRate], c measure.Comparison) {
	book := rulebook.Must("trend")
	u := lossUnit(l.pressure)
	f := finding.Compared(finding.Finding{
		Code: finding.TrendLosesFaster, Urgency: finding.Note, Positions: []layout.Position{l.at}, Rule: book.RuleOf(book.Limit("loss-leak")),
		Evidence: lossEvidence(l, u),
	}, faster, trend.LeakLimit(), u, c)
	if c.Outcome == measure.Above {
		f.Urgency = finding.Plan
	} else {
		f.ToSettle = finding.SettleReadAgainLater
	}
	a.find(f)
}

func (a *Answer) loseAlike(all []losing) {
	var rates []measure.Value[unit.LossRate]
	var at []layout.Position
	for _, l := range all {
		rates, at = append(rates, l.rate), append(at, l.at)
	}
	middle := trend.Middle(rates)
	c := measure.AtMost(middle, trend.UsualLoss())
	if c.Outcome != measure.Above {
		return
	}
	book := rulebook.Must("trend")
	u := lossUnit(slices.MinFunc(all, func(a, b losing) int { return cmp.Compare(a.pressure.Read, b.pressure.Read) }).pressure)
	a.find(finding.Compared(finding.Finding{
		Code: finding.TrendLosesAlike, Urgency: finding.Note, Positions: at, Rule: book.RuleOf(book.Limit("loss-usual")),
		Evidence: []finding.Evidence{{Code: finding.FactTrendDays, Amount: unit.Amount{Number: float64(all[0].days), Unit: unit.Count}}},
	}, middle, trend.UsualLoss(), u, c))
}

func lossEvidence(l losing, u unit.Unit) []finding.Evidence {
	es := []finding.Evidence{
		{Code: finding.FactTrendLoss, Amount: l.rate.Of.Amount(u).Rounded(), Uncertainty: unit.LossRate(l.rate.Std).Amount(u).Rounded()},
		{Code: finding.FactTrendDays, Amount: unit.Amount{Number: float64(l.days), Unit: unit.Count}},
	}
	if !l.oneHeat {
		es = append(es, finding.Evidence{Code: finding.FactTrendTemperatureNotTold, Against: true})
	}
	return es
}

func lossUnit(p visit.Pressure) unit.Unit {
	switch p.Read {
	case unit.Kilopascals:
		return unit.KilopascalsPerMonth
	case unit.Bar:
		return unit.BarPerMonth
	}
	return unit.PSIPerMonth
}
