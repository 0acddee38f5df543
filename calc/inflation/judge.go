package inflation

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// Findings of one tire.
const (
	Flat                 finding.Code = "inflation.flat"
	AudibleLeak          finding.Code = "inflation.audible-leak"
	RunLow               finding.Code = "inflation.run-low"
	RunLowUndecided      finding.Code = "inflation.run-low-undecided"
	NoAirOnVehicle       finding.Code = "inflation.no-air-on-vehicle"
	FindLeak             finding.Code = "inflation.find-leak"
	Low                  finding.Code = "inflation.low"
	BelowLabel           finding.Code = "inflation.below-label"
	LabelWhileWarm       finding.Code = "inflation.label-while-warm"
	CheckCold            finding.Code = "inflation.check-cold"
	AboveLabel           finding.Code = "inflation.above-label"
	WarmAboveLabel       finding.Code = "inflation.warm-above-label"
	WarmAboveSidewall    finding.Code = "inflation.warm-above-sidewall"
	AboveSidewallMaximum finding.Code = "inflation.above-sidewall-maximum"
	LabelAboveSidewall   finding.Code = "inflation.label-above-sidewall"
	AtLampThreshold      finding.Code = "inflation.at-lamp-threshold"
)

// Measurements that would decide, or would allow an answer that could not be given.
const (
	NeedReading     finding.Code = "inflation.need-reading"
	NeedLabel       finding.Code = "inflation.need-label"
	NeedDriven      finding.Code = "inflation.need-driven"
	NeedOutside     finding.Code = "inflation.need-outside-temperature"
	ReadCold        finding.Code = "inflation.read-cold"
	ReadBetterGauge finding.Code = "inflation.read-better-gauge"
	ReadBodyPly     finding.Code = "inflation.read-body-ply"
	LookInside      finding.Code = "inflation.look-inside"
)

// Cautions.
const (
	CautionRunLow     finding.Code = "inflation.caution-run-low"      // car and fabric body
	CautionDeflate    finding.Code = "inflation.caution-deflate"      // steel body
	CautionAddingAir  finding.Code = "inflation.caution-adding-air"   // any air put in
	CautionNeverBleed finding.Code = "inflation.caution-never-bleed"  // warm tires
	CautionLeak       finding.Code = "inflation.caution-leak-or-flat" // flat or leaking
)

// Why a target is as it is, or why there is none.
const (
	WhyLabel      finding.Code = "inflation.target-label"      // the label, cold
	WhyConverted  finding.Code = "inflation.target-converted"  // the label brought to the tire's temperature
	WhyWarm       finding.Code = "inflation.target-warm"       // the label and the middle of the usual rise
	WhySidewall   finding.Code = "inflation.target-sidewall"   // stops at the sidewall figure
	WhyMates      finding.Code = "inflation.target-mates"      // as its warm mates on the axle read
	WhyLetDown    finding.Code = "inflation.target-let-down"   // cold and too high: down to the label
	WhyNoAir      finding.Code = "inflation.target-no-air"     // none: seen inside first
	WhyNoLabel    finding.Code = "inflation.target-no-label"   // none: the label was not told
	WhyMisfit     finding.Code = "inflation.target-misfit"     // none: the label asks more than the sidewall allows
	WhyWait       finding.Code = "inflation.target-wait"       // none now: the rest when cold
	WhyAsItShould finding.Code = "inflation.target-as-it-is"   // none: leave it
	WhyLowerCold  finding.Code = "inflation.target-lower-cold" // none now: let it down only when cold
	WhyNotJudged  finding.Code = "inflation.target-not-judged" // none: no such class is judged
	WhyNoReading  finding.Code = "inflation.target-no-reading" // none: not read
)

// Target is what the gauge has to show after setting, or why nothing is set now.
type Target struct {
	Show       unit.Pressure // 0: nothing is set now
	Amount     unit.Amount   // the same in the unit of the label; zero when nothing is set
	About      bool          // rests on an estimate
	FinishCold bool          // to be checked, and filled up where short, when cold
	Why        finding.Code
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
	Missing           []finding.Code
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

// short tells that the tire was found wanting air.
func (r Result) short() bool {
	return r.Has(Low) || r.Has(BelowLabel) || r.Has(LabelWhileWarm) || r.Has(FindLeak) ||
		r.Has(NoAirOnVehicle) || r.Has(RunLowUndecided) || r.Has(RunLow) || r.Has(Flat)
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
		j.Target.Why = WhyNotJudged
		return j.Result
	}
	j.missing()
	j.flatOrLeaking()
	if !j.ranLow() && w.Read != unit.None && w.Label != 0 {
		j.againstLabel()
	}
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
	if j.Read != unit.None {
		cold := finding.Evidence{
			Code: "inflation.cold-equivalent", Amount: j.shown(j.Result.Cold.Value.Of),
			Uncertainty: j.shown(unit.Pressure(j.Result.Cold.Value.Std)),
		}
		read := finding.Evidence{Code: "inflation.read", Amount: j.shown(j.Found), Uncertainty: j.shown(unit.Pressure(j.Gauge.Std()))}
		f.Evidence = append(f.Evidence, read)
		if j.Result.Cold.Basis != BasisCold {
			f.Evidence = append(f.Evidence,
				cold,
				finding.Evidence{Code: "inflation.cold-low", Amount: j.shown(j.Result.Cold.Low)},
				finding.Evidence{Code: "inflation.cold-high", Amount: j.shown(j.Result.Cold.High)},
			)
		}
		f.Evidence = append(f.Evidence, j.basis())
	}
	if j.Label != 0 {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: "inflation.label", Amount: j.shown(j.Label)})
	}
	j.Findings = append(j.Findings, f)
}

// basis is what the cold equivalent rests on, with the temperature used.
func (j *judge) basis() finding.Evidence {
	e := finding.Evidence{Code: j.Result.Cold.Basis}
	switch e.Code {
	case BasisSensor, BasisInfrared, BasisDrive:
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
	need := func(missing bool, code finding.Code) {
		if missing {
			j.Missing = append(j.Missing, code)
		}
	}
	need(j.Read == unit.None, NeedReading)
	need(j.Label == 0, NeedLabel)
	if j.Read == unit.None {
		return
	}
	need(j.Result.Cold.Basis == BasisNotTold, NeedDriven)
	need(j.Source != NoTemperature && j.Conditions.cold() == 0, NeedOutside)
	j.Result.CheckCold = j.Result.Cold.About
}

func (j *judge) flatOrLeaking() {
	if j.isFlat() {
		f := finding.Finding{Code: Flat, Urgency: finding.BeforeDriving, Caution: CautionLeak}
		if j.Seen.Flat {
			f.Evidence = []finding.Evidence{{Code: "inflation.seen-flat"}}
		}
		if j.Read != unit.None {
			f.Measured = j.shown(j.Found)
		}
		j.add(f)
		j.Result.FindLeak = true
	}
	if j.Seen.AudibleLeak {
		j.add(finding.Finding{
			Code: AudibleLeak, Urgency: finding.BeforeDriving, Caution: CautionLeak,
			Evidence: []finding.Evidence{{Code: "inflation.leak-heard"}},
		})
		j.Result.FindLeak = true
	}
}

// isFlat: seen flat, or a reading that the gauge cannot tell from nothing.
func (j *judge) isFlat() bool {
	return j.Seen.Flat || j.Read != unit.None && measure.AtMost(j.found(), 0).Outcome != measure.Above
}

// ranLow judges whether the tire ran low, first by its marks, then by the
// reading as found (it is what the tire ran at), then by the cold equivalent.
// It tells whether nothing more is to be said about the label.
func (j *judge) ranLow() bool {
	built := j.construction()
	id, caution := "run-low-steel", CautionDeflate
	if built == fabric {
		id, caution = "run-low-fabric", CautionRunLow
	}
	known := j.Read != unit.None && j.Label != 0
	least := share(id, j.Label)
	read := measure.AtLeast(j.found(), least)
	below := known && read.Outcome == measure.Below
	maybe := known && (under(j.Found, least) || under(j.Result.Cold.Value.Of, least))
	noAir := built != fabric && (known || j.isFlat()) && j.noAirOnVehicle()

	marks := j.Seen.ranLow()
	ran := finding.Finding{
		Code: RunLow, Urgency: finding.BeforeDriving, Rule: rule(id), Caution: caution,
		Evidence: append(marks, j.drivenLow()...),
	}
	driven := j.DrivenLow.Driven != finding.No
	half := known && measure.AtLeast(j.found(), share("run-low-fabric", j.Label)).Outcome == measure.Below
	switch {
	case len(marks) > 0:
		ran.Rule = rule("run-low-marks")
		j.ran(ran, built)
	case driven && (j.isFlat() || below && (built != bodyNotTold || half)):
		if known {
			ran = j.compared(ran, j.found(), least, read)
		}
		j.ran(ran, built)
	case driven && (below || maybe):
		j.undecided(ran, built, below, least)
	case below || maybe: // not driven while low: that cannot be proved from outside
		j.findLeak(built)
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
	f.Code, f.Urgency = RunLowUndecided, finding.ThisVisit
	switch {
	case built == bodyNotTold:
		f.Candidate, f.ToSettle = true, ReadBodyPly
	case cold.About:
		f.ToSettle = ReadCold
	default:
		f.ToSettle = LookInside
	}
	judged := j.found()
	if !below {
		judged = cold.Value
	}
	f = j.compared(f, judged, least, measure.AtLeast(judged, least))
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
		es = append(es, finding.Evidence{Code: "inflation.driven-low"})
	case finding.No:
		return []finding.Evidence{{Code: "inflation.not-driven-low", Against: true}}
	default:
		es = append(es, finding.Evidence{Code: "inflation.driven-low-not-known"})
	}
	if d.Distance > 0 {
		u := unit.Miles
		if j.unit() != unit.PSI {
			u = unit.Kilometers
		}
		es = append(es, finding.Evidence{Code: "inflation.driven-low-distance", Amount: d.Distance.Amount(u).Rounded()})
	}
	if d.Loaded == finding.Yes {
		es = append(es, finding.Evidence{Code: "inflation.driven-low-loaded"})
	}
	return es
}

// airRule is the rule on adding air on the vehicle: a law for large vehicles,
// the same habit for the steel-cord tires of light ones.
func (j *judge) airRule() string {
	const law = "air-on-vehicle"
	if j.Class != layout.ClassNotTold && limit(law).AppliesTo(layout.Vehicle{Class: j.Class}, j.Wheel.At) {
		return law
	}
	return "air-on-vehicle-light"
}

// noAirOnVehicle: a steel-cord tire gets air on the vehicle only when it
// provably has more than the limit. Exactly at it is not more.
func (j *judge) noAirOnVehicle() bool {
	if !j.isFlat() && measure.AtMost(j.found(), share(j.airRule(), j.Label)).Outcome == measure.Above {
		return false
	}
	j.NoAir, j.Deflate, j.RestrainingDevice = true, true, true
	return true
}

// airFinding says so for a tire that did not run low, or need not have.
func (j *judge) airFinding() {
	id := j.airRule()
	f := finding.Finding{
		Code: NoAirOnVehicle, Urgency: finding.ThisVisit, Rule: rule(id), Caution: CautionDeflate,
		Evidence: j.drivenLow(),
	}
	if j.Read != unit.None && j.Label != 0 {
		most := share(id, j.Label)
		c := measure.AtMost(j.found(), most)
		f = j.compared(f, j.found(), most, c)
		f.ToSettle = settle(c, ReadBetterGauge)
	}
	if j.construction() == bodyNotTold {
		f.Candidate, f.ToSettle = true, ReadBodyPly
	}
	j.add(f)
}

func (j *judge) findLeak(built construction) {
	least := share("find-leak", j.Label)
	c := measure.AtLeast(j.Result.Cold.Value, least)
	caution := CautionAddingAir
	if built != fabric {
		caution = CautionDeflate
	}
	j.Result.FindLeak = true
	j.add(j.compared(finding.Finding{
		Code: FindLeak, Urgency: finding.ThisVisit, Rule: rule("find-leak"), Caution: caution,
		Evidence: j.drivenLow(), ToSettle: settle(c, j.better()),
	}, j.Result.Cold.Value, least, c))
}

// againstLabel judges the cold equivalent of a tire that did not run low.
func (j *judge) againstLabel() {
	cold, built := j.Result.Cold, j.construction()
	found := j.found()
	tenth := share("low", j.Label)
	value := cold.Value
	if cold.Basis == BasisNotTold {
		// Cold it has no more than what was read: only that is held against it,
		// or a reading without any answers would be called low at once.
		value = found
	}
	low := measure.AtMost(value, tenth)
	label := measure.AtLeast(value, j.Label)
	asRead := measure.AtMost(found, j.Label)
	atLabelWarm := asRead.Margin <= 0 && (cold.Basis == BasisWarm || cold.Warm && cold.Basis != BasisBay && label.Outcome == measure.Below)

	f := finding.Finding{Rule: rule("label"), Caution: CautionAddingAir}
	switch {
	case built == fabric && under(cold.Value.Of, share("find-leak", j.Label)):
		j.findLeak(built)
	case low.Outcome == measure.Below, low.Outcome == measure.CannotTell && low.Margin <= 0 && !atLabelWarm:
		f.Code, f.Urgency, f.Rule = Low, finding.ThisVisit, rule("low")
		f.ToSettle = settle(low, j.better())
		j.add(j.compared(f, value, tenth, low))
	case atLabelWarm:
		f.Code, f.Urgency = LabelWhileWarm, finding.ThisVisit
		f.ToSettle = settle(label, ReadCold)
		j.add(j.compared(f, cold.Value, j.Label, label))
	case label.Outcome == measure.Below:
		f.Code, f.Urgency = BelowLabel, finding.Plan
		j.add(j.compared(f, value, j.Label, label))
	case measure.AtLeast(cold.Value, j.Label).Outcome == measure.Above && label.Margin != 0:
		f.Code, f.Urgency, f.Caution = AboveLabel, finding.Note, CautionNeverBleed
		j.add(j.compared(f, cold.Value, j.Label, label))
	case asRead.Outcome == measure.Above && cold.Basis != BasisCold:
		f.Code, f.Urgency, f.Caution = WarmAboveLabel, finding.Note, CautionNeverBleed
		j.add(j.compared(f, cold.Value, j.Label, label))
	case cold.About && label.Outcome == measure.CannotTell:
		f.Code, f.Urgency, f.Caution, f.ToSettle = CheckCold, finding.Note, CautionNeverBleed, ReadCold
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
		j.add(j.compared(finding.Finding{Code: LabelAboveSidewall, Urgency: finding.ThisVisit, Rule: rule("sidewall")}, label, j.Sidewall, c))
	}
	if j.Read == unit.None {
		return
	}
	cold := j.Result.Cold
	c := measure.AtMost(cold.Value, j.Sidewall)
	f := finding.Finding{Rule: rule("sidewall"), Caution: CautionNeverBleed}
	switch {
	case c.Outcome == measure.Above:
		f.Code, f.Urgency = AboveSidewallMaximum, finding.ThisVisit
		j.add(j.compared(f, cold.Value, j.Sidewall, c))
	case cold.Basis != BasisCold && measure.AtMost(j.found(), j.Sidewall).Margin > 0:
		f.Code, f.Urgency = WarmAboveSidewall, finding.Note
		f.ToSettle = settle(c, ReadCold)
		j.add(j.compared(f, cold.Value, j.Sidewall, c))
	}
}

// lamp notes a reading at or below the threshold at which the warning lamp has
// to come on, on the vehicles that the rule speaks of.
func (j *judge) lamp() {
	if j.Read == unit.None || j.Label == 0 || j.Class != layout.PassengerCar && j.Class != layout.LightTruck || j.Wheel.At.Dual != layout.Single {
		return
	}
	at, by := LampThreshold(j.Label, j.Load)
	c := measure.AtMost(j.found(), at)
	if c.Outcome == measure.Below {
		j.add(j.compared(finding.Finding{Code: AtLampThreshold, Urgency: finding.Note, Rule: by}, j.found(), at, c))
	}
}

// better is what would decide a comparison of the cold equivalent.
func (j *judge) better() finding.Code {
	if j.Result.Cold.About {
		return ReadCold
	}
	return ReadBetterGauge
}

// under and above compare two figures as they stand, without their uncertainty.
func under(p, limit unit.Pressure) bool {
	return measure.AtLeast(measure.Exact(p), limit).Outcome == measure.Below
}

func above(p, limit unit.Pressure) bool {
	return measure.AtMost(measure.Exact(p), limit).Outcome == measure.Above
}

func settle(c measure.Comparison, by finding.Code) finding.Code {
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
		j.Target.Why = WhyNoAir
	case j.Has(LabelAboveSidewall):
		j.Target.Why = WhyMisfit
	case j.Read != unit.None && j.Has(AboveSidewallMaximum):
		j.Target = j.letDown()
	case j.Label == 0:
		j.Target.Why = WhyNoLabel
	case j.Read == unit.None && !j.Has(Flat):
		j.Target.Why = WhyNoReading
	case !j.short():
		j.Target = Target{Why: WhyAsItShould, FinishCold: cold.About}
	default:
		j.Target = j.SetNow()
		if j.Read != unit.None && !above(j.Target.Show, j.Found) {
			j.Target = Target{Why: WhyWait, About: cold.About, FinishCold: true}
		}
	}
	j.Result.CheckCold = j.Result.CheckCold || j.Target.FinishCold
}

// letDown: only a tire that was read cold is let down, and only to its label,
// or to the sidewall figure where no label was told.
func (j *judge) letDown() Target {
	if j.Result.Cold.Basis != BasisCold {
		return Target{Why: WhyLowerCold, FinishCold: true}
	}
	to := j.Sidewall
	if j.Label != 0 {
		to = j.Label
	}
	return Target{Show: to, Amount: j.shown(to), Why: WhyLetDown}
}

// SetNow gives what the gauge has to show now so that the tire has its label
// pressure cold. On a warm tire, or in a warm bay for a cold morning, that is
// more than the label, never less. Unless a sensor measured the contained air
// it stops at the sidewall figure, and the rest is finished cold. Where nobody
// said whether the tire is warm, it is the label, to be checked cold.
func (w Wheel) SetNow() Target {
	if w.Label == 0 {
		return Target{Why: WhyNoLabel}
	}
	cold, c := w.Cold(), w.Conditions
	t := Target{Show: w.Label, About: cold.About, FinishCold: cold.About, Why: WhyLabel}
	raise := func(to unit.Pressure, why finding.Code) {
		if to > t.Show {
			t.Show, t.Why = to, why
		}
	}
	switch cold.Basis {
	case BasisSensor, BasisInfrared, BasisDrive:
		raise(AtTemperature(w.Label, c.cold(), w.Temperature, c.Air), WhyConverted)
	case BasisBay:
		if c.soaked() {
			raise(AtTemperature(w.Label, c.cold(), c.Here, c.Air), WhyConverted)
		}
	case BasisWarm:
		at := w
		at.Found = w.Label
		from, to := at.rise()
		raise(w.Label+(from+to)/2, WhyWarm)
	}
	if w.Sidewall != 0 && above(t.Show, w.Sidewall) && !above(w.Label, w.Sidewall) && cold.Basis != BasisSensor {
		t.Show, t.Why, t.FinishCold = w.Sidewall, WhySidewall, true
	}
	t.Amount = w.shown(t.Show)
	return t
}
