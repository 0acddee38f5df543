package inflation

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/plausible"
	"gaugebook.dev/calc/unit"
)

// Target is what the gauge has to show after setting, or why nothing is set now.
type Target struct {
	Show       unit.Pressure // 0: nothing is set now
	Amount     unit.Amount   // the same in the unit of the label; zero when nothing is set
	About      bool          // rests on an estimate
	FinishCold bool          // to be checked, and filled up where short, when cold
	Why        finding.Target
}

// Result is what was found of one tire, and what the work on it needs to know.
type Result struct {
	At       layout.Position
	Cold     Cold
	Findings []finding.Finding

	Target     Target
	MatchMates unit.Pressure // set by JudgeVehicle: the reading of its warm mates, for a refill at this visit; 0 when there is none

	Demount           bool // off the rim and inspected inside before it is used again
	NoAir             bool // no air while on the vehicle, until seen inside
	Deflate           bool // core out and fully down before the wheel comes off the axle
	RestrainingDevice bool // inflated again only in it
	FindLeak          bool // look at both sidewalls and find the leak before filling
	CheckCold         bool // a cold reading is owed
	Missing           []finding.Question
}

// Has tells whether the result holds a finding.
func (r Result) Has(code finding.Code) bool {
	for _, f := range r.Findings {
		if f.Code == code {
			return true
		}
	}
	return false
}

// Wanting tells that something is said of too little air here and today.
func (r Result) Wanting() bool { return r.short() }

// short tells that the tire was found wanting air.
func (r Result) short() bool {
	return r.Has(finding.InflationLow) || r.Has(finding.InflationBelowLabel) || r.Has(finding.InflationLabelWhileWarm) || r.Has(finding.InflationFindLeak) ||
		r.Has(finding.InflationNoAirOnVehicle) || r.Has(finding.InflationRunLowUndecided) || r.Has(finding.InflationRunLow) || r.Has(finding.InflationFlat)
}

// judge gathers the result of one wheel.
type judge struct {
	Wheel
	Result
}

// Judge says what is wrong with the pressure of one tire. A class that is not
// judged at all gives no findings. Positions are set when the wheel has one.
func Judge(w Wheel) Result {
	j := &judge{Wheel: w, Result: Result{At: w.At, Cold: w.Cold()}}
	if !w.Class.Judged() {
		j.Target.Why = finding.TargetNotJudged
		return j.Result
	}
	j.missing()
	j.flatOrLeaking()
	if !j.ranLow() && w.Read != unit.None && w.Label != 0 {
		j.againstLabel()
	}
	j.whereUsed()
	j.againstSidewall()
	j.lamp()
	j.target()
	return j.Result
}

// add files a finding with what every finding of the wheel carries.
func (j *judge) add(f finding.Finding) {
	if j.Wheel.At != (layout.Position{}) {
		f.Positions = []layout.Position{j.Wheel.At}
	}
	const facts = 6 // beside those it came with
	f.Evidence = slices.Grow(f.Evidence, facts)
	if j.Read != unit.None {
		cold := finding.Evidence{
			Code: finding.FactInflationColdEquivalent, Amount: j.Shown(j.Result.Cold.Value.Of),
			Uncertainty: j.Shown(unit.Pressure(j.Result.Cold.Value.Std)),
		}
		read := finding.Evidence{Code: finding.FactInflationRead, Amount: j.Shown(j.Found), Uncertainty: j.Shown(unit.Pressure(j.Gauge.Std()))}
		f.Evidence = append(f.Evidence, read)
		if j.Result.Cold.Basis != finding.FactInflationBasisCold {
			f.Evidence = append(f.Evidence,
				cold,
				finding.Evidence{Code: finding.FactInflationColdLow, Amount: j.Shown(j.Result.Cold.Low)},
				finding.Evidence{Code: finding.FactInflationColdHigh, Amount: j.Shown(j.Result.Cold.High)},
			)
		}
		f.Evidence = append(f.Evidence, j.basis())
	}
	if j.Label != 0 {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactInflationLabel, Amount: j.Shown(j.Label)})
	}
	if setsRight(f.Code) && f.Outcome == measure.CannotTell && j.provablyShort() {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactInflationShortForCertain})
	}
	j.Findings = append(j.Findings, f)
}

// basis is what the cold equivalent rests on, with the temperature used.
func (j *judge) basis() finding.Evidence {
	e := finding.Evidence{Code: j.Result.Cold.Basis}
	switch e.Code {
	case finding.FactInflationBasisSensor, finding.FactInflationBasisInfrared, finding.FactInflationBasisDrive:
		e.Amount = j.Temperature.Amount(unit.Fahrenheit).Rounded()
		if j.unit() != unit.PSI {
			e.Amount = j.Temperature.Amount(unit.Celsius).Rounded()
		}
	}
	return e
}

// compared is finding.Compared in the wheel's unit.
func (j *judge) compared(f finding.Finding, v measure.Value[unit.Pressure], limit unit.Pressure, c measure.Comparison) finding.Finding {
	return finding.Compared(f, v, limit, j.unit(), c)
}

func (j *judge) missing() {
	need := func(missing bool, code finding.Question) {
		if missing {
			j.Missing = append(j.Missing, code)
		}
	}
	need(j.Read == unit.None, finding.AskReading)
	need(j.Label == 0, finding.AskLabel)
	if j.Read == unit.None {
		return
	}
	need(j.Result.Cold.Basis == finding.FactInflationBasisNotTold, finding.AskDriven)
	need(j.Source != NoTemperature && j.Source != AirAround && j.Conditions.cold() == 0, finding.AskOutsideTemperature)
	j.Result.CheckCold = j.Result.Cold.About
}

func (j *judge) flatOrLeaking() {
	if j.isFlat() {
		f := finding.Finding{Code: finding.InflationFlat, Urgency: finding.BeforeDriving, Caution: finding.CautionLeakOrFlat}
		if j.Seen.Flat {
			f.Evidence = []finding.Evidence{{Code: finding.FactInflationSeenFlat}}
		}
		if j.Read != unit.None {
			f.Measured = j.Shown(j.Found)
		}
		j.add(f)
		j.Result.FindLeak = true
	}
	if j.Seen.AudibleLeak {
		j.add(finding.Finding{
			Code: finding.InflationAudibleLeak, Urgency: finding.BeforeDriving, Caution: finding.CautionLeakOrFlat,
			Evidence: []finding.Evidence{{Code: finding.FactInflationLeakHeard}},
		})
		j.Result.FindLeak = true
	}
}

// isFlat: seen flat, or a reading that the gauge cannot tell from nothing.
func (j *judge) isFlat() bool {
	return j.Seen.Flat || j.Read != unit.None && measure.AtMost(j.found(), 0).Outcome != measure.Above
}

// leastLabel is the label, else the least that the label of such a vehicle asks for: what
// is run low against that is so against any.
func (j *judge) leastLabel() unit.Pressure {
	if j.Label != 0 {
		return j.Label
	}
	likely := plausible.Of(plausible.TirePressure, j.Class)
	return unit.MustPressure(likely.Low, likely.Unit)
}

// underLabel compares with a share of the label, or of the least that one may ask for.
func (j *judge) underLabel(f finding.Finding, v measure.Value[unit.Pressure], limit unit.Pressure, c measure.Comparison) finding.Finding {
	if j.Label == 0 {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactInflationLeastLabel, Amount: j.Shown(j.leastLabel())})
	}
	return j.compared(f, v, limit, c)
}

// ranLow judges whether the tire ran low, first by its marks, then by the
// reading as found (it is what the tire ran at), then by the cold equivalent.
// It tells whether nothing more is to be said about the label.
func (j *judge) ranLow() bool {
	built := j.construction()
	id, caution := "run-low-steel", finding.CautionDeflate
	if built == fabric {
		id, caution = "run-low-fabric", finding.CautionRunLow
	}
	label := j.leastLabel()
	known := j.Read != unit.None
	least := share(id, label)
	read := measure.AtLeast(j.found(), least)
	below := known && read.Outcome == measure.Below
	mayBeBelow := known && (under(j.Found, least) || under(j.Result.Cold.Value.Of, least))
	noAir := built != fabric && (known || j.isFlat()) && j.noAirOnVehicle()

	marks := j.Seen.ranLow()
	ran := finding.Finding{
		Code: finding.InflationRunLow, Urgency: finding.BeforeDriving, Rule: rule(id), Caution: caution,
		Evidence: append(marks, j.drivenLow()...),
	}
	driven := j.DrivenLow.Driven != finding.No
	half := known && measure.AtLeast(j.found(), share("run-low-fabric", label)).Outcome == measure.Below
	switch {
	case len(marks) > 0:
		ran.Rule = rule("run-low-marks")
		j.ran(ran, built)
	case driven && (j.isFlat() || below && (built != bodyNotTold || half)):
		if known {
			ran = j.underLabel(ran, j.found(), least, read)
		}
		j.ran(ran, built)
	case driven && (below || mayBeBelow):
		j.undecided(ran, built, below, least)
	case below || mayBeBelow: // not driven while low: that cannot be proved from outside
		if j.Label != 0 || !j.isFlat() { // that it is flat says it
			j.findLeak(built)
		}
		if noAir {
			j.airFinding()
		}
	default:
		if noAir {
			j.airFinding()
		}
		return false
	}
	return true
}

// ran files that the tire ran low and what has to be done first.
func (j *judge) ran(f finding.Finding, built construction) {
	j.add(f)
	j.NoAir, j.Demount = true, true
	if built != fabric {
		j.Deflate, j.RestrainingDevice = true, true
	}
}

// undecided files that the tire may have run low: the reading as found does not
// prove it, its cold equivalent speaks for it, or nobody told what its body is.
func (j *judge) undecided(f finding.Finding, built construction, below bool, least unit.Pressure) {
	cold := j.Result.Cold
	f.Code, f.Urgency = finding.InflationRunLowUndecided, finding.ThisVisit
	switch {
	case built == bodyNotTold:
		f.Candidate, f.ToSettle = true, finding.SettleReadBodyPly
	case cold.About && j.Source != AirAround:
		f.ToSettle = finding.SettleReadCold
	default:
		f.ToSettle = finding.SettleLookInside
	}
	judged := j.found()
	if !below {
		judged = cold.Value
	}
	f = j.underLabel(f, judged, least, measure.AtLeast(judged, least))
	f.Outcome = measure.CannotTell
	j.add(f)
	j.NoAir = true
}

// drivenLow is what was said about driving on the low tire.
func (j *judge) drivenLow() []finding.Evidence {
	d := j.DrivenLow
	var es []finding.Evidence
	switch d.Driven {
	case finding.Yes:
		es = append(es, finding.Evidence{Code: finding.FactInflationDrivenLow})
	case finding.No:
		return []finding.Evidence{{Code: finding.FactInflationNotDrivenLow, Against: true}}
	default:
		es = append(es, finding.Evidence{Code: finding.FactInflationDrivenLowNotKnown})
	}
	if d.Distance > 0 {
		u := unit.Miles
		if j.unit() != unit.PSI {
			u = unit.Kilometers
		}
		es = append(es, finding.Evidence{Code: finding.FactInflationDrivenLowDistance, Amount: d.Distance.Amount(u).Rounded()})
	}
	if d.Loaded == finding.Yes {
		es = append(es, finding.Evidence{Code: finding.FactInflationDrivenLowLoaded})
	}
	return es
}

// airRule is the rule on adding air on the vehicle: of large vehicles a law where a wheel
// with rings is told, else the trade's guideline on steel cord, and a habit for the
// steel-cord tires of light ones.
func (j *judge) airRule() (id string, kept bool) {
	switch service := j.Servicing(); {
	case service == ShopsRule && j.Rim != MultiPiece:
		return "air-on-vehicle-steel", false // a trailer that was not towed so
	case service == OutsideRule:
		return "air-on-vehicle-light", true
	case j.Rim == MultiPiece && j.Bound != finding.No:
		return "air-on-vehicle", true
	}
	return "air-on-vehicle-steel", true
}

// noAirOnVehicle: a steel-cord tire gets air on the vehicle only when it
// provably has more than the limit. Exactly at it is not more.
func (j *judge) noAirOnVehicle() bool {
	id, kept := j.airRule()
	if !kept || !j.isFlat() && measure.AtMost(j.found(), share(id, j.leastLabel())).Outcome == measure.Above {
		return false
	}
	j.NoAir, j.Deflate, j.RestrainingDevice = true, true, true
	return true
}

// airFinding says so for a tire that did not run low, or need not have.
func (j *judge) airFinding() {
	id, _ := j.airRule()
	f := finding.Finding{
		Code: finding.InflationNoAirOnVehicle, Urgency: finding.ThisVisit, Rule: rule(id), Caution: finding.CautionDeflate,
		Evidence: j.drivenLow(), Candidate: id == "air-on-vehicle" && j.Bound != finding.Yes,
	}
	if f.Rule.Authority == finding.LawInUse {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactInflationBindsEmployers})
	}
	if j.Read != unit.None {
		most := share(id, j.leastLabel())
		c := measure.AtMost(j.found(), most)
		f = j.underLabel(f, j.found(), most, c)
		f.ToSettle = ifCannotTell(c, finding.SettleReadBetterGauge)
	}
	if j.construction() == bodyNotTold {
		f.Candidate, f.ToSettle = true, finding.SettleReadBodyPly
	}
	j.add(f)
}

func (j *judge) findLeak(built construction) {
	least := share("find-leak", j.leastLabel())
	c := measure.AtLeast(j.Result.Cold.Value, least)
	caution := finding.CautionAddingAir
	if built != fabric {
		caution = finding.CautionDeflate
	}
	j.Result.FindLeak = true
	j.add(j.underLabel(finding.Finding{
		Code: finding.InflationFindLeak, Urgency: finding.ThisVisit, Rule: rule("find-leak"), Caution: caution,
		Evidence: j.drivenLow(), ToSettle: ifCannotTell(c, j.better()),
	}, j.Result.Cold.Value, least, c))
}

// againstLabel judges the cold equivalent of a tire that did not run low.
func (j *judge) againstLabel() {
	cold, built := j.Result.Cold, j.construction()
	found := j.found()
	tenth := share("low", j.Label)
	value := cold.Value
	if cold.Basis == finding.FactInflationBasisNotTold {
		// Cold it has no more than what was read: only that is held against it,
		// or a reading without any answers would be called low at once.
		value = found
	}
	low := measure.AtMost(value, tenth)
	label := measure.AtLeast(value, j.Label)
	asRead := measure.AtMost(found, j.Label)
	atLabelWarm := asRead.Margin <= 0 && (cold.Basis == finding.FactInflationBasisWarm || cold.Warm && cold.Basis != finding.FactInflationBasisBay && label.Outcome == measure.Below)

	f := finding.Finding{Rule: rule("label"), Caution: finding.CautionAddingAir}
	switch {
	case built == fabric && under(cold.Value.Of, share("find-leak", j.Label)):
		j.findLeak(built)
	case low.Outcome == measure.Below, low.Outcome == measure.CannotTell && low.Margin <= 0 && !atLabelWarm:
		f.Code, f.Urgency, f.Rule = finding.InflationLow, finding.ThisVisit, rule("low")
		f.ToSettle = ifCannotTell(low, j.better())
		j.add(j.compared(f, value, tenth, low))
	case atLabelWarm:
		f.Code, f.Urgency = finding.InflationLabelWhileWarm, finding.ThisVisit
		f.ToSettle = ifCannotTell(label, finding.SettleReadCold)
		j.add(j.compared(f, cold.Value, j.Label, label))
	case label.Outcome == measure.Below && j.provablyShort():
		f.Code, f.Urgency = finding.InflationBelowLabel, finding.Plan
		j.add(j.compared(f, value, j.Label, label))
	case measure.AtLeast(cold.Value, j.Label).Outcome == measure.Above && label.Margin != 0:
		f.Code, f.Urgency, f.Caution = finding.InflationAboveLabel, finding.Note, finding.CautionNeverBleed
		j.add(j.compared(f, cold.Value, j.Label, label))
	case asRead.Outcome == measure.Above && cold.Basis != finding.FactInflationBasisCold:
		f.Code, f.Urgency, f.Caution = finding.InflationWarmAboveLabel, finding.Note, finding.CautionNeverBleed
		j.add(j.compared(f, cold.Value, j.Label, label))
	case cold.About && label.Outcome != measure.Above:
		f.Code, f.Urgency, f.Caution, f.ToSettle = finding.InflationCheckCold, finding.Note, finding.CautionNeverBleed, finding.SettleReadCold
		j.add(j.compared(f, cold.Value, j.Label, label))
	}
}

// againstSidewall compares with the sidewall figure, a maximum for the cold tire.
func (j *judge) againstSidewall() {
	if j.Sidewall == 0 {
		return
	}
	label := measure.Exact(j.Label)
	if c := measure.AtMost(label, j.Sidewall); c.Outcome == measure.Above {
		j.add(j.compared(finding.Finding{
			Code: finding.InflationLabelAboveSidewall, Urgency: finding.ThisVisit, Rule: rule("sidewall"), ToSettle: finding.SettleLabelOrSidewall,
		}, label, j.Sidewall, c))
	}
	if j.Read == unit.None {
		return
	}
	cold := j.Result.Cold
	c := measure.AtMost(cold.Value, j.Sidewall)
	f := finding.Finding{Rule: rule("sidewall"), Caution: finding.CautionNeverBleed}
	switch {
	case c.Outcome == measure.Above:
		f.Code, f.Urgency = finding.InflationAboveSidewallMaximum, finding.ThisVisit
		j.add(j.compared(f, cold.Value, j.Sidewall, c))
	case cold.Basis != finding.FactInflationBasisCold && measure.AtMost(j.found(), j.Sidewall).Margin > 0:
		f.Code, f.Urgency = finding.InflationWarmAboveSidewall, finding.Note
		f.ToSettle = ifCannotTell(c, finding.SettleReadCold)
		j.add(j.compared(f, cold.Value, j.Sidewall, c))
	}
}

// lamp notes a reading at or below the threshold at which the warning lamp has
// to come on, on the vehicles that the rule speaks of.
func (j *judge) lamp() {
	if j.Read == unit.None || j.Label == 0 || j.Class != layout.PassengerCar && j.Class != layout.LightTruck || j.Wheel.At.Dual != layout.Single {
		return
	}
	threshold, by := LampThreshold(j.Label, j.Load)
	c := measure.AtMost(j.found(), threshold)
	if c.Outcome == measure.Below {
		j.add(j.compared(finding.Finding{Code: finding.InflationAtLampThreshold, Urgency: finding.Note, Rule: by}, j.found(), threshold, c))
	}
}

// better is what would decide a comparison of the cold equivalent.
func (j *judge) better() finding.Settle {
	if j.Result.Cold.About {
		return finding.SettleReadCold
	}
	return finding.SettleReadBetterGauge
}

// under and above compare two figures as they stand, without their uncertainty.
func under(p, limit unit.Pressure) bool {
	return measure.AtLeast(measure.Exact(p), limit).Outcome == measure.Below
}

func above(p, limit unit.Pressure) bool {
	return measure.AtMost(measure.Exact(p), limit).Outcome == measure.Above
}

func ifCannotTell(c measure.Comparison, by finding.Settle) finding.Settle {
	if c.Outcome == measure.CannotTell {
		return by
	}
	return ""
}

// target decides what to set now.
func (j *judge) target() {
	cold := j.Result.Cold
	switch {
	case j.NoAir:
		j.Target.Why = finding.TargetNoAir
	case j.Has(finding.InflationLabelAboveSidewall):
		j.Target.Why = finding.TargetMisfit
	case j.Read != unit.None && j.Has(finding.InflationAboveSidewallMaximum):
		j.Target = j.letDown()
	case j.Label == 0:
		j.Target.Why = finding.TargetNoLabel
	case j.Read == unit.None && !j.Has(finding.InflationFlat):
		j.Target.Why = finding.TargetNoReading
	case !j.short() && !j.Has(finding.InflationShortWhereUsed):
		j.Target = Target{Why: finding.TargetAsItIs, FinishCold: cold.About}
	default:
		j.Target = j.SetNow()
		if j.Read != unit.None && !j.provablyShort() {
			j.Target = Target{Why: finding.TargetWait, About: cold.About, FinishCold: true}
			later(&j.Result)
		}
	}
	j.Result.CheckCold = j.Result.CheckCold || j.Target.FinishCold
}

// later: what orders nothing but to be checked cold is not due at this visit.
func later(r *Result) {
	for i, f := range r.Findings {
		if f.Code == finding.InflationLow || f.Code == finding.InflationLabelWhileWarm {
			r.Findings[i].Urgency = finding.Plan
		}
	}
}

// setsRight tells that air is what sets a finding right: that the tire is short of its
// label decides that, not by how much.
func setsRight(code finding.Code) bool {
	switch code {
	case finding.InflationLow, finding.InflationLabelWhileWarm, finding.InflationFindLeak:
		return true
	}
	return false
}

// provablyShort tells that the tire lacks air by more than is uncertain: cold, of its
// label, and of what the gauge is to show now, wherever and whenever it will be used. Less
// orders nothing but to check it cold.
func (j *judge) provablyShort() bool {
	cold, show := j.Result.Cold, j.hereAndToday().SetNow().Show
	value, now := cold.Value, measure.Value[unit.Pressure]{Of: j.Found, Std: cold.Value.Std}
	if cold.Basis == finding.FactInflationBasisNotTold {
		value, now = j.found(), j.found() // cold it has no more than what was read
	}
	return measure.AtLeast(value, j.Label).Outcome == measure.Below && measure.AtLeast(now, show).Outcome == measure.Below
}

// letDown: only a tire that was read cold is let down, and only to its label,
// or to the sidewall figure where no label was told.
func (j *judge) letDown() Target {
	if j.Result.Cold.Basis != finding.FactInflationBasisCold {
		return Target{Why: finding.TargetLowerCold, FinishCold: true}
	}
	to := j.Sidewall
	if j.Label != 0 {
		to = j.Label
	}
	return Target{Show: to, Amount: j.Shown(to), Why: finding.TargetLetDown}
}

// SetNow gives what the gauge has to show now so that the tire has its label
// pressure cold. On a warm tire, or in a warm bay for a cold morning, that is
// more than the label, never less. Unless a sensor measured the contained air
// it stops at the sidewall figure, and the rest is finished cold. Where nobody
// said whether the tire is warm, it is the label, to be checked cold. One that was not
// read is as warm as its drive makes it.
func (w Wheel) SetNow() Target {
	if w.Label == 0 {
		return Target{Why: finding.TargetNoLabel}
	}
	if w.Read == unit.None {
		w.Found, w.Read = w.Label, w.unit()
	}
	cold, c, aim := w.Cold(), w.Conditions, w.aim()
	t := Target{Show: aim, About: cold.About, FinishCold: cold.About, Why: finding.TargetLabel}
	raise := func(to unit.Pressure, why finding.Target) {
		if to > t.Show {
			t.Show, t.Why = to, why
		}
	}
	switch cold.Basis {
	case finding.FactInflationBasisSensor, finding.FactInflationBasisInfrared, finding.FactInflationBasisDrive:
		raise(AtTemperature(aim, c.cold(), w.Temperature, c.Air), finding.TargetConverted)
	case finding.FactInflationBasisBay:
		if c.soaked() {
			raise(AtTemperature(aim, c.cold(), c.Here, c.Air), finding.TargetConverted)
		}
	case finding.FactInflationBasisWarm:
		atAim := w
		atAim.Found = aim
		from, to := atAim.rise()
		raise(aim+(from+to)/2, finding.TargetWarm)
	}
	if w.Sidewall != 0 && above(t.Show, w.Sidewall) && !above(w.Label, w.Sidewall) && cold.Basis != finding.FactInflationBasisSensor {
		t.Show, t.Why, t.FinishCold = w.Sidewall, finding.TargetSidewall, true
	}
	t.Amount = w.Shown(t.Show)
	return t
}
