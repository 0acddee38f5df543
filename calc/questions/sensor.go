package questions

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/sensor"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// SensorIn is what the sensors say, and what was done about them by the end.
type SensorIn struct {
	Monitoring  sensor.Kind
	Reset       visit.Reset
	Lamp        inflation.Lamp // as found
	LampLeft    inflation.Lamp // as left
	Labels      visit.Labels
	Wheels      []visit.Wheel
	Airs        Airs
	Silent      []layout.Position // seen not to answer
	Unexplained []string          // ids of the findings of a lamp that no pressure explains
}

// Sensors judges what the sensors say, and what was done about them by the end.
func Sensors(in SensorIn) (out Answer) {
	var read []sensor.Wheel
	for _, w := range in.Wheels {
		read = append(read, w.Sensed.At(w.Position))
	}
	r := sensor.Judge(in.Monitoring, read)
	for _, f := range r.Findings {
		if f.Code == finding.SensorNotAnswering && slices.Contains(in.Silent, f.Positions[0]) {
			continue // observed too
		}
		out.find(f)
	}
	for _, p := range r.Agree {
		out.good(finding.CheckedSensorAgrees, p)
	}
	if r.Ask {
		out.ask(finding.AskTpmsKind)
	}
	if in.Reset == visit.ResetNotDone {
		out.find(finding.Finding{Code: finding.SensorRelearnOwed, Urgency: finding.ThisVisit, Rule: practice})
	}
	if in.LampLeft.Lit() && in.LampLeft != in.Lamp {
		out.find(finding.Finding{Code: finding.SensorLampAsLeft, Urgency: finding.ThisVisit, Rule: practice})
	}
	for _, fact := range in.lamp(r.Findings) {
		for _, id := range in.Unexplained {
			out.Beside = append(out.Beside, Beside{id, finding.Evidence{Code: fact}})
		}
	}
	return out
}

// lamp is what of this visit may explain a lamp that no pressure explains: a full-size
// spare may carry a sensor of its own, and a sensor may be wrong.
func (in SensorIn) lamp(found []finding.Finding) (facts []finding.Fact) {
	say := func(code finding.Fact, holds bool) {
		if holds {
			facts = append(facts, code)
		}
	}
	has := func(code finding.Code) bool {
		return slices.ContainsFunc(found, func(f finding.Finding) bool { return f.Code == code })
	}
	spare := layout.Position{Spare: true}
	air := in.Airs.Results[spare]
	short := air.Has(finding.InflationLow) || air.Has(finding.InflationBelowLabel) || air.Has(finding.InflationFlat) || air.Has(finding.InflationFindLeak)
	say(finding.FactSensorSpareShort, in.Labels.Spare.FullSize && short)
	say(finding.FactSensorSpareNotRead, in.Labels.Spare.FullSize && in.Airs.Wheels[spare].Read == unit.None)
	say(finding.FactSensorReportsLow, slices.ContainsFunc(in.Wheels, in.sensedLow))
	say(finding.FactSensorOneSilent, len(in.Silent) > 0 || has(finding.SensorNotAnswering))
	say(finding.FactSensorOneBatteryLow, has(finding.SensorBatteryLow))
	say(finding.FactSensorPlacesMixed, has(finding.SensorNotLearned))
	return facts
}

// sensedLow: the sensor reports, provably, less than the label.
func (in SensorIn) sensedLow(w visit.Wheel) bool {
	label, _ := in.Labels.Cold(w.Position)
	s := w.Sensed.Sensor
	return s != nil && s.In != unit.None && label != 0 && measure.AtLeast(s.Pressure, label).Outcome == measure.Below
}
