package inflation

import (
	"time"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// used tells that the tire will be used in colder air than it is read cold in, or
// under more air than here: there and then it reads less. A warmer morning or a
// higher place is not credited: nobody is told to go below the label.
func (c Conditions) used() bool {
	return c.colder() || c.There > orStandard(c.Air)
}

func (c Conditions) colder() bool {
	return c.Coldest != 0 && c.cold() != 0 && c.Coldest < c.cold()
}

// hereAndToday is the tire without what is expected of its use: a forecast is no reading.
func (w Wheel) hereAndToday() Wheel {
	w.Conditions.Coldest, w.Conditions.There = 0, 0
	return w
}

// whereUsed is what a cold pressure read here comes to where and when it is used.
func (c Conditions) whereUsed(p unit.Pressure) unit.Pressure {
	if c.colder() {
		p = AtTemperature(p, c.cold(), c.Coldest, c.Air)
	}
	if c.There > orStandard(c.Air) {
		p = Elsewhere(p, orStandard(c.Air), c.There)
	}
	return p
}

// aim is the cold pressure that the tire has to have here and today to have the
// label's where and when it is used; the label, where that is here and now. It
// stops at the sidewall figure, which the label does not pass.
func (w Wheel) aim() unit.Pressure {
	to, c := w.Label, w.Conditions
	if c.There > orStandard(c.Air) {
		to = Elsewhere(to, c.There, orStandard(c.Air))
	}
	if c.colder() {
		to = AtTemperature(to, c.Coldest, c.cold(), c.Air)
	}
	if w.Sidewall != 0 && w.Sidewall >= w.Label {
		to = min(to, w.Sidewall)
	}
	return max(to, w.Label)
}

// whereUsed finds that a tire that wants no air today has too little where and when
// it will be used.
func (j *judge) whereUsed() {
	c := j.Conditions
	if j.Read == unit.None || j.Label == 0 || !c.used() || j.NoAir || j.short() {
		return
	}
	v := j.Result.Cold.Value
	v.Of = c.whereUsed(v.Of)
	label := measure.AtLeast(v, j.Label)
	if label.Outcome != measure.Below {
		return
	}
	f := finding.Finding{Code: finding.InflationShortWhereUsed, Urgency: finding.Plan, Rule: rule("label"), Caution: finding.CautionAddingAir}
	if c.colder() {
		u := unit.Fahrenheit
		if j.unit() != unit.PSI {
			u = unit.Celsius
		}
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactInflationColdestMorning, Amount: c.Coldest.Amount(u).Rounded()})
	}
	if c.There > orStandard(c.Air) {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactInflationDrivenLower})
	}
	j.add(j.compared(f, v, j.Label, label))
}

// Warmed tells that the vehicle was driven here and has not stood since for as long as
// a rule looks back; a drive of which nobody told when it ended counts.
func (w Wheel) Warmed(within time.Duration) bool {
	return w.Conditions.state() == driven && w.Conditions.Parked <= within
}
