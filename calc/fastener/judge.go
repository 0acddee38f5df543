package fastener

import (
	"math"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
)

var (
	advice   = rulebook.Must("advice")
	practice = finding.Rule{Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory}
	// figure is the rule of a torque: what the maker of the vehicle says, as told.
	figure = finding.Rule{Authority: finding.Maker, Citation: "vehicle maker's torque for these wheels, as told", Known: finding.Reported}
)

// judge gathers the result.
type judge struct {
	Vehicle
	Result
}

// Judge judges the fasteners of a vehicle. The order of wheels and of checks
// changes nothing.
func Judge(v Vehicle) Result {
	j := &judge{Vehicle: v}
	j.Wheels = slices.Clone(v.Wheels)
	slices.SortFunc(j.Wheels, func(a, b Wheel) int { return a.At.Compare(b.At) })
	for _, w := range j.Wheels {
		j.renewals(w)
		if w.Work != nil {
			j.done(w)
		}
		for _, c := range w.Checks {
			if c.Today {
				j.checked(w.At, c)
			}
		}
		if w.Work == nil && w.Before != nil {
			j.owed(w)
		}
	}
	return j.Result
}

func (j *judge) add(f finding.Finding, at layout.Position) {
	f.Positions = []layout.Position{at}
	if f.Rule == (finding.Rule{}) {
		f.Rule = practice
	}
	if f.Urgency != finding.Note {
		f.Caution = finding.CautionWheelFastening
	}
	j.Findings = append(j.Findings, f)
}

func count(n int) unit.Amount { return unit.Amount{Number: float64(n), Unit: unit.Count} }

// wanted is how many studs a wheel gets renewed for those that broke: for one
// also its neighbors, which carried its load; for more all of them. 0 when it is
// all and nobody told how many a wheel has.
func (j *judge) wanted(w Wheel) (n int, all bool) {
	each := j.Each
	if each == 0 && w.Work != nil && w.Work.Counted != nil {
		each = *w.Work.Counted
	}
	const withNeighbors = 3
	switch {
	case w.Broken == 0:
		return 0, false
	case w.Broken > 1:
		return each, true
	case each > 0:
		return min(withNeighbors, each), false
	}
	return withNeighbors, false
}

func (j *judge) renewals(w Wheel) {
	if n, all := j.wanted(w); w.Broken > 0 && !j.renewed(w) {
		j.Renew = append(j.Renew, Renewal{At: w.At, All: all, Count: n})
	}
}

// renewed tells that, as told, every stud was renewed that has to be.
func (j *judge) renewed(w Wheel) bool {
	if w.Work == nil || w.Work.Replaced == nil {
		return false
	}
	n, all := j.wanted(w)
	return *w.Work.Replaced >= n && (!all || n > 0)
}

// done judges the work on a wheel that was off.
func (j *judge) done(w Wheel) {
	k, sound := w.Work, true
	if j.Each > 0 && k.Counted != nil && *k.Counted != j.Each {
		f := finding.Finding{Code: finding.FastenerCountDiffers, Urgency: finding.ThisVisit, Measured: count(*k.Counted), Limit: count(j.Each), Outcome: measure.Above}
		if *k.Counted < j.Each {
			f.Urgency, f.Outcome = finding.BeforeDriving, measure.Below
		}
		j.add(f, w.At)
		sound = false
	}
	if k.Damaged != nil && k.Replaced != nil && *k.Replaced < *k.Damaged {
		j.add(finding.Finding{Code: finding.FastenerDamaged, Urgency: finding.BeforeDriving, Measured: count(*k.Replaced), Limit: count(*k.Damaged), Outcome: measure.Below}, w.At)
		sound = false
	} else if n, _ := j.wanted(w); k.Replaced != nil && *k.Replaced < n {
		j.add(finding.Finding{Code: finding.FastenerTooFewRenewed, Urgency: finding.ThisVisit, Measured: count(*k.Replaced), Limit: count(n), Outcome: measure.Below}, w.At)
		sound = false
	}
	if k.FacesCleaned == finding.No {
		j.add(finding.Finding{Code: finding.FastenerFacesNotCleaned, Urgency: finding.ThisVisit}, w.At)
	}
	if k.Staged == finding.No || k.Round {
		j.add(finding.Finding{Code: finding.FastenerNotStaged, Urgency: finding.Note}, w.At)
	}
	told := k.Counted != nil && k.Damaged != nil && k.Replaced != nil
	if !told || open(k.FacesCleaned) || open(k.Staged) || !k.Named {
		j.Asked = append(j.Asked, w.At)
	}
	recorded := j.torqueSet(w.At, *k)
	moved := slices.ContainsFunc(w.Checks, func(c Recheck) bool { return c.Today && c.Moved == finding.Yes })
	if sound && told && recorded && !moved && k.FacesCleaned == finding.Yes && (w.Broken == 0 || j.renewed(w)) {
		j.PutRight = append(j.PutRight, w.At)
	}
}

func open(a finding.Answer) bool { return a == finding.NotAsked || a == finding.NotKnown }

// torqueSet tells that there is a torque record that nothing speaks against.
func (j *judge) torqueSet(at layout.Position, k Work) bool {
	var lacks []finding.Evidence
	lack := func(code finding.Fact, holds bool) {
		if holds {
			lacks = append(lacks, finding.Evidence{Code: code})
		}
	}
	lack(finding.FactTorqueValueNotTold, k.Torque.IsZero())
	lack(finding.FactTorqueLimitingStick, k.Tool == LimitingStick)
	lack(finding.FactTorqueImpactOnly, k.Tool == ImpactOnly)
	lack(finding.FactTorqueToolNotTold, k.Tool != HandWrench && k.Tool != ControlledTool && k.Tool != LimitingStick && k.Tool != ImpactOnly)
	if len(lacks) > 0 {
		f := finding.Finding{Code: finding.TorqueNoRecord, Urgency: finding.ThisVisit, Evidence: lacks}
		if k.Torque.IsZero() {
			f.Urgency = finding.BeforeDriving // off, and nobody wrote that it was fastened
		}
		j.add(f, at)
	}
	atFigure := k.Torque.IsZero() || j.atFigure(at, k.Torque)
	if len(lacks) > 0 || !atFigure {
		return false
	}
	j.Recorded = append(j.Recorded, at)
	return true
}

// atFigure holds a torque against the vehicle maker's figure: within what a torque
// wrench is good for they are the same.
func (j *judge) atFigure(at layout.Position, set unit.Amount) bool {
	value, err := unit.TorqueOf(set.Number, set.Unit)
	maker, errMaker := unit.TorqueOf(j.Torque.Number, j.Torque.Unit)
	if err != nil || errMaker != nil {
		return true // no figure: nothing to hold it against
	}
	wrench := advice.Limit("torque-wrench").Ratio()
	v := measure.Value[unit.Torque]{Of: value, Std: float64(wrench) * float64(value) / math.Sqrt(3)}
	c := measure.AtMost(v, maker)
	if c.Outcome == measure.CannotTell {
		return true
	}
	j.add(finding.Compared(finding.Finding{Code: finding.TorqueDiffers, Urgency: finding.ThisVisit, Rule: figure}, v, maker, j.Torque.Unit, c), at)
	return false
}

// checked judges a check of torque that was made today. What is said of the wheel
// by its work is not said again by its check.
func (j *judge) checked(at layout.Position, c Recheck) {
	if c.Moved == finding.Yes {
		j.add(finding.Finding{Code: finding.TorqueFastenerMoved, Urgency: finding.ThisVisit}, at)
	}
	already := slices.ContainsFunc(j.Findings, func(f finding.Finding) bool { return f.Code == finding.TorqueDiffers && f.Positions[0] == at })
	right := already || c.Torque.IsZero() || j.atFigure(at, c.Torque)
	if !c.complete() {
		f := finding.Finding{Code: finding.TorqueRecheckIncomplete, Urgency: finding.ThisVisit}
		for _, l := range []struct {
			code  finding.Fact
			holds bool
		}{
			{finding.FactTorqueValueNotTold, c.Torque.IsZero()}, {finding.FactTorqueOdometerNotTold, !c.Odo},
			{finding.FactTorqueNameNotTold, !c.Named}, {finding.FactTorqueWheelWarm, c.Cool == finding.No},
		} {
			if l.holds {
				f.Evidence = append(f.Evidence, finding.Evidence{Code: l.code})
			}
		}
		j.add(f, at)
		return
	}
	if c.Moved == finding.No && right && !already {
		j.Held = append(j.Held, at)
		j.late(at, c)
	}
}

// late: a check counts however late it is made, and its lateness is told.
func (j *judge) late(at layout.Position, c Recheck) {
	by := advice.Limit("torque-recheck-by")
	if c.After == nil || *c.After <= meters(by.Value)+odometerStep {
		return
	}
	j.add(finding.Finding{
		Code: finding.TorqueRecheckLate, Urgency: finding.Note, Rule: advice.RuleOf(by),
		Measured: c.After.Amount(by.Value.Unit).Rounded(), Limit: by.Value, Outcome: measure.Above,
	}, at)
}

// odometerStep is how well a distance is known from two odometers that show whole
// miles.
var odometerStep = unit.MustDistance(1, unit.Miles)

// due is when a torque is checked after a wheel was off.
type due struct{ from, by unit.Amount }

func (j *judge) dues() []due {
	limit := func(id string) unit.Amount { return advice.Limit(id).Value }
	if j.Layout.Class != layout.Trailer {
		return []due{{limit("torque-recheck-from"), limit("torque-recheck-by")}}
	}
	var all []due
	for _, id := range []string{"first", "second", "third"} {
		d := limit("torque-recheck-trailer-" + id)
		all = append(all, due{d, d})
	}
	return all
}

func meters(a unit.Amount) unit.Distance { return unit.MustDistance(a.Number, a.Unit) }

// owed: a wheel was off at an earlier visit, and its torque is to be checked once
// it has run so far. A check closes it, and every one that was due before it.
func (j *judge) owed(w Wheel) {
	var last *due
	ago := w.Before.Ago
	for _, c := range w.Checks { // without an odometer the distance told with today's check stands in
		if w.Before.Ago == nil && c.Today && c.After != nil && (ago == nil || *c.After > *ago) {
			ago = c.After
		}
	}
	for _, d := range j.dues() {
		if slices.ContainsFunc(w.Checks, func(c Recheck) bool {
			return c.complete() && (c.After == nil || *c.After+odometerStep >= meters(d.from))
		}) {
			continue
		}
		if ago == nil || *ago >= meters(d.from) {
			last = &d
			continue
		}
		left := func(a unit.Amount) unit.Amount { return (meters(a) - *ago).Amount(a.Unit).Rounded() }
		j.Due = append(j.Due, Due{At: w.At, From: left(d.from), By: left(d.by), Trailer: j.Layout.Class == layout.Trailer})
	}
	if last == nil || slices.ContainsFunc(w.Checks, func(c Recheck) bool { return c.Today && !c.complete() }) {
		return // told as an incomplete check
	}
	f := finding.Finding{Code: finding.TorqueRecheckOwed, Urgency: finding.ThisVisit, Limit: last.from, Rule: practice}
	if ago == nil {
		f.Evidence = []finding.Evidence{{Code: finding.FactTorqueDistanceNotKnown}}
	} else {
		f.Measured = ago.Amount(last.from.Unit).Rounded()
	}
	j.add(f, w.At)
}
