package sensor

import (
	"cmp"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// practice is the rule of everything that is said here: the trade's habit.
var practice = finding.Rule{Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory}

// Judge judges the sensors of a vehicle. The order of the wheels changes nothing.
func Judge(kind Kind, wheels []Wheel) Result {
	wheels = slices.Clone(wheels)
	slices.SortFunc(wheels, func(a, b Wheel) int { return a.At.Compare(b.At) })
	var r Result
	var off []Wheel
	for _, w := range wheels {
		if w.Sensor == nil {
			continue
		}
		r.answered(kind, w)
		switch {
		case w.Agree():
			r.Agree = append(r.Agree, w.At)
		case w.both():
			off = append(off, w)
		}
	}
	learned := r.places(wheels, off)
	if alike(off) && len(r.Agree) == 0 && learned {
		r.gaugeInDoubt(off)
		return r
	}
	for _, w := range off {
		if !slices.ContainsFunc(r.Findings, func(f finding.Finding) bool {
			return f.Code == finding.SensorNotLearned && slices.Contains(f.Positions, w.At)
		}) {
			r.Findings = append(r.Findings, w.differs())
		}
	}
	return r
}

// answered judges the sensor by itself.
func (r *Result) answered(kind Kind, w Wheel) {
	told := kind == None || kind == Indirect
	if told && w.Sensor.Answers() {
		r.Ask = true
	}
	if w.Sensor.Answering == finding.No && w.Sensor.In == unit.None && !told {
		r.add(finding.Finding{Code: finding.SensorNotAnswering, Urgency: finding.Plan, Positions: []layout.Position{w.At}})
	}
	if w.Sensor.BatteryLow {
		r.add(finding.Finding{Code: finding.SensorBatteryLow, Urgency: finding.Plan, Positions: []layout.Position{w.At}})
	}
}

func (r *Result) add(f finding.Finding) {
	f.Rule = practice
	r.Findings = append(r.Findings, f)
}

// differs files the difference with both readings. Its limit is what both can be
// off together: twice their standard uncertainty.
func (w Wheel) differs() finding.Finding {
	d := w.off()
	size, limit := max(d.Of, -d.Of), unit.Pressure(measure.Coverage*d.Std)
	shown := func(p unit.Pressure) unit.Amount { return p.Amount(w.In).Rounded() }
	return finding.Finding{
		Code: finding.SensorDiffers, Urgency: finding.ThisVisit, Positions: []layout.Position{w.At}, Rule: practice, ToSettle: finding.SettleSecondGauge,
		Outcome: measure.Above, Measured: shown(size), Limit: shown(limit), Margin: shown(size - limit),
		Evidence: []finding.Evidence{
			{Code: finding.FactSensorReports, Amount: shown(w.Sensor.Pressure.Of), Uncertainty: shown(unit.Pressure(w.Sensor.Pressure.Std))},
			{Code: finding.FactSensorGaugeRead, Amount: shown(w.Gauge.Of), Uncertainty: shown(unit.Pressure(w.Gauge.Std))},
		},
	}
}

// alike: three and more sensors differ from one gauge to the same side and by as
// much. Sensors do not fail together: it is the gauge, or how the tool counts the
// air of a high place.
func alike(off []Wheel) bool {
	if len(off) < 3 {
		return false
	}
	least, most := off[0], off[0]
	for _, w := range off {
		if w.off().Of < least.off().Of {
			least = w
		}
		if w.off().Of > most.off().Of {
			most = w
		}
	}
	return (least.off().Of > 0) == (most.off().Of > 0) && !Apart(least.off(), most.off())
}

func (r *Result) gaugeInDoubt(off []Wheel) {
	var by []measure.Value[unit.Pressure]
	for _, w := range off {
		by = append(by, w.off())
	}
	read := slices.MinFunc(off, func(a, b Wheel) int { return cmp.Compare(a.In, b.In) }).In
	mean := measure.Mean(by...).Of.Amount(read).Rounded()
	r.add(finding.Finding{
		Code: finding.SensorAllDifferAlike, Urgency: finding.ThisVisit, Positions: positions(off), ToSettle: finding.SettleSecondGauge,
		Evidence: []finding.Evidence{{Code: finding.FactSensorDifference, Amount: mean}},
	})
}

// places finds sensors that the vehicle takes for being at other wheels: it shows
// them there, or their pressures, dealt to other wheels, agree with the gauge.
// It tells whether none is.
func (r *Result) places(wheels, off []Wheel) bool {
	var at []layout.Position
	var evidence []finding.Evidence
	for _, w := range wheels {
		if w.Sensor != nil && w.Sensor.ShownAt != (layout.Position{}) && w.Sensor.ShownAt != w.At {
			at = append(at, w.At)
		}
	}
	if len(at) > 0 {
		evidence = append(evidence, finding.Evidence{Code: finding.FactSensorShownAtOtherWheels})
	}
	if mixed := dealt(off); len(mixed) > 0 {
		evidence = append(evidence, finding.Evidence{Code: finding.FactSensorPressuresFitOtherWheels})
		at = append(at, mixed...)
	}
	if len(at) == 0 {
		return true
	}
	slices.SortFunc(at, layout.Position.Compare)
	r.add(finding.Finding{Code: finding.SensorNotLearned, Urgency: finding.ThisVisit, Positions: slices.Compact(at), Evidence: evidence, ToSettle: finding.SettleTriggerEachSensor})
	return false
}

// dealt gives the wheels whose sensors, dealt to the others of them, each agree
// with the gauge there: all of them at once, else two by two.
func dealt(off []Wheel) (at []layout.Position) {
	if len(off) < 2 {
		return nil
	}
	if deal(off) {
		return positions(off)
	}
	for _, a := range off {
		if slices.ContainsFunc(off, func(b Wheel) bool { return a.At != b.At && deal([]Wheel{a, b}) }) {
			at = append(at, a.At)
		}
	}
	return at
}

// deal tells whether each gauge reading can be given another wheel's sensor that
// agrees with it, each sensor once (augmenting paths; a vehicle has few wheels).
// Their own do not.
func deal(off []Wheel) bool {
	owner := make([]int, len(off)) // of each sensor: 1 + the gauge it is given to
	var give func(gauge int, tried []bool) bool
	give = func(gauge int, tried []bool) bool {
		for s := range off {
			if tried[s] || Apart(off[s].Sensor.Pressure, off[gauge].Gauge) {
				continue
			}
			tried[s] = true
			if owner[s] == 0 || give(owner[s]-1, tried) {
				owner[s] = gauge + 1
				return true
			}
		}
		return false
	}
	for g := range off {
		if !give(g, make([]bool, len(off))) {
			return false
		}
	}
	return true
}

func positions(ws []Wheel) (ps []layout.Position) {
	for _, w := range ws {
		ps = append(ps, w.At)
	}
	return ps
}
