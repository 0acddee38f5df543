package inflation

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// Lamp is what the pressure warning lamp did as found.
type Lamp uint8

// Lamps.
const (
	LampNotTold Lamp = iota
	LampOff
	LampOn
	LampFlashing // flashes, then stays on
	LampDead     // not seen to light when the key is turned on
)

// Lit tells that the lamp is on or flashes.
func (l Lamp) Lit() bool { return l == LampOn || l == LampFlashing }

// Vehicle is all wheels of one visit. The spare may be among them.
type Vehicle struct {
	Layout layout.Vehicle
	Lamp   Lamp
	Wheels []Wheel
}

// VehicleResult is the result of each wheel, in the order given, with what only
// shows on the whole vehicle.
type VehicleResult struct {
	Wheels   []Result
	Findings []finding.Finding // of pairs and of the vehicle; those of wheels stay with the wheels
	AllAlike bool              // down alike: weather and time, no leaks to look for
}

// JudgeVehicle judges every wheel and what only shows between them.
func JudgeVehicle(v Vehicle) VehicleResult {
	r := VehicleResult{Wheels: make([]Result, 0, len(v.Wheels))}
	for _, w := range v.Wheels {
		r.Wheels = append(r.Wheels, Judge(w))
	}
	if !v.Layout.Class.Judged() {
		return r
	}
	r.alike(v)
	r.duals(v)
	r.tandems(v)
	r.twoLoads(v)
	r.mates(v)
	for i := range r.Wheels {
		if t := r.Wheels[i].Target; t.Why == finding.TargetAsItIs || t.Why == finding.TargetWait {
			later(&r.Wheels[i])
		}
	}
	r.lamp(v)
	return r
}

// at gives the index of a position among the wheels, -1 when it is not there.
func (v Vehicle) at(p layout.Position) int {
	return slices.IndexFunc(v.Wheels, func(w Wheel) bool { return w.At == p })
}

// alike: every wheel on the road was read and is short by about as much.
func (r *VehicleResult) alike(v Vehicle) {
	var deficits []unit.Pressure
	var at []layout.Position
	for _, p := range v.Layout.Positions() {
		i := v.at(p)
		if i < 0 || !r.Wheels[i].short() || r.Wheels[i].Demount || r.Wheels[i].NoAir ||
			r.Wheels[i].Has(finding.InflationFlat) || r.Wheels[i].Has(finding.InflationAudibleLeak) {
			return
		}
		deficits = append(deficits, v.Wheels[i].Label-r.Wheels[i].Cold.Value.Of)
		at = append(at, p)
	}
	most := limit("alike")
	if len(deficits) < 2 {
		return
	}
	spread := measure.Exact(slices.Max(deficits) - slices.Min(deficits))
	c := measure.AtMost(spread, most.Pressure())
	if c.Outcome != measure.Below {
		return
	}
	r.AllAlike = true
	var units []unit.Unit
	for _, p := range at {
		units = append(units, v.Wheels[v.at(p)].unit())
	}
	u := slices.Min(units)
	r.Findings = append(r.Findings, finding.Compared(finding.Finding{
		Code: finding.InflationAllAlike, Urgency: finding.Note, Positions: at, Rule: rule("alike"),
	}, spread, most.Pressure(), u, c))
	for i := range r.Wheels {
		if !r.Wheels[i].FindLeak || v.Wheels[i].At.Spare {
			continue
		}
		r.Wheels[i].FindLeak = false
		for k := range r.Wheels[i].Findings {
			if r.Wheels[i].Findings[k].Code == finding.InflationFindLeak {
				r.Wheels[i].Findings[k].Code = finding.InflationLow
			}
		}
	}
}

// duals compares the two tires of each pair.
func (r *VehicleResult) duals(v Vehicle) {
	for _, p := range v.Layout.Positions() {
		if p.Dual != layout.Inner {
			continue
		}
		i, k := v.at(p), v.at(p.Mate())
		inner, outer := r.carried(i, k), r.carried(k, i)
		if outer {
			r.carry(v, i, p.Mate(), finding.InflationDualMateCarriedLoad)
		}
		if inner {
			r.carry(v, k, p, finding.InflationDualMateCarriedLoad)
		}
		if !inner && !outer && i >= 0 && k >= 0 && v.Wheels[i].Read != unit.None && v.Wheels[k].Read != unit.None &&
			!r.Wheels[i].gaveWay() && !r.Wheels[k].gaveWay() {
			r.spread(v.Wheels[i], v.Wheels[k])
		}
	}
}

// gaveWay tells that the tire's neighbor carried its load.
func (r Result) gaveWay() bool {
	return r.ranFlat() || r.Has(finding.InflationNoAirOnVehicle) && r.FindLeak
}

func (r Result) ranFlat() bool { return r.Has(finding.InflationFlat) || r.Has(finding.InflationRunLow) }

// carried tells whether the tire at k carried the load of the one at i; -1 is a
// tire that nobody reported. One that was flat or ran low itself has that finding;
// two that only lost air while parked stood side by side.
func (r *VehicleResult) carried(k, i int) bool {
	switch {
	case i < 0 || !r.Wheels[i].gaveWay(), k >= 0 && r.Wheels[k].ranFlat():
		return false
	}
	return r.Wheels[i].ranFlat() || k < 0 || !r.Wheels[k].gaveWay()
}

// carry finds that the tire at mate carried the load of the one at i. The
// mate comes off with it and is inspected inside.
func (r *VehicleResult) carry(v Vehicle, i int, mate layout.Position, code finding.Code) {
	low := v.Wheels[i]
	f := finding.Finding{
		Code: code, Urgency: finding.BeforeDriving, Positions: []layout.Position{mate},
		Rule: rule("run-low-steel"), Evidence: low.carriedBy(), Caution: finding.CautionDeflate,
	}
	if low.DrivenLow.Driven == finding.No {
		f.Urgency = finding.ThisVisit
	}
	r.Findings = append(r.Findings, f)
	if k := v.at(mate); k >= 0 {
		w := &r.Wheels[k]
		w.Demount, w.NoAir, w.Deflate, w.RestrainingDevice = true, true, true, true
		w.Target = Target{Why: finding.TargetNoAir}
	}
}

func (w Wheel) carriedBy() []finding.Evidence {
	es := (&judge{Wheel: w}).drivenLow()
	if w.Read != unit.None {
		es = append(es, finding.Evidence{Code: finding.FactInflationMateRead, Amount: w.Shown(w.Found)})
	}
	return es
}

// DualsApart tells that two tires side by side are provably further apart than they may be.
func DualsApart(low, high measure.Value[unit.Pressure]) bool {
	return measure.AtMost(high.Minus(low), limit("dual-spread").Pressure()).Outcome == measure.Above
}

// ComesUpTo tells that a tire may come up to what the one beside it shows: its sidewall
// allows it, or where that was not read, the other holds no more than warmth explains.
func (w Wheel) ComesUpTo(mate Wheel) bool {
	if w.Sidewall != 0 {
		return !above(mate.Found, w.Sidewall)
	}
	return mate.Label == 0 || !above(mate.Cold().Low, mate.hereAndToday().aim()+limit("dual-spread").Pressure())
}

// spread: two tires side by side that are too far apart. What the gauge cannot tell, or
// only a tire that has cooled down can set right, is not due at this visit.
func (r *VehicleResult) spread(a, b Wheel) {
	most := limit("dual-spread")
	diff := a.found().Minus(b.found())
	diff.Of = max(diff.Of, -diff.Of)
	c := measure.AtMost(diff, most.Pressure())
	if c.Margin <= 0 {
		return
	}
	low, high := a, b
	if low.Found > high.Found {
		low, high = high, low
	}
	urgency, warm := finding.ThisVisit, high.Cold().Basis != finding.FactInflationBasisCold
	if c.Outcome == measure.CannotTell || warm && !low.ComesUpTo(high) {
		urgency = finding.Plan
	}
	r.Findings = append(r.Findings, finding.Compared(finding.Finding{
		Code: finding.InflationDualSpread, Urgency: urgency, Positions: []layout.Position{a.At, b.At}, Rule: rule("dual-spread"),
		Caution: finding.CautionAddingAir, ToSettle: ifCannotTell(c, finding.SettleReadBetterGauge),
	}, diff, most.Pressure(), a.unit(), c))
}

// tandems: on a trailer with single wheels the next axle's tire on that side
// carried the load. Of two neighbors that gave way one that was driven is named.
func (r *VehicleResult) tandems(v Vehicle) {
	if v.Layout.Class != layout.Trailer {
		return
	}
	for _, driven := range []bool{true, false} {
		for i, w := range v.Wheels {
			if w.At.Spare || w.At.Dual != layout.Single || driven != (w.DrivenLow.Driven != finding.No) {
				continue
			}
			for _, step := range []int{-1, 1} {
				mate := w.At
				mate.Axle += step
				told := slices.ContainsFunc(r.Findings, func(f finding.Finding) bool {
					return f.Code == finding.InflationTandemMateCarriedLoad && slices.Contains(f.Positions, mate)
				})
				if mate.Axle > 0 && v.Layout.Has(mate) == nil && r.carried(v.at(mate), i) && !told {
					r.carry(v, i, mate, finding.InflationTandemMateCarriedLoad)
				}
			}
		}
	}
}

// twoLoads: a tire beside one that gave way, or that is provably lower, carried more than
// its own load and is warm from it. Where it reads above its twin across the axle that is
// evidence for it; that it is over its label is not on purpose.
func (r *VehicleResult) twoLoads(v Vehicle) {
	for i, f := range r.Findings {
		k := -1
		switch f.Code {
		case finding.InflationDualMateCarriedLoad, finding.InflationTandemMateCarriedLoad:
			k = v.at(f.Positions[0])
		case finding.InflationDualSpread:
			k = v.at(f.Positions[0])
			if o := v.at(f.Positions[1]); v.Wheels[o].Found > v.Wheels[k].Found {
				k = o
			}
		}
		if k < 0 || v.Wheels[k].Read == unit.None {
			continue
		}
		w, readCold := &r.Wheels[k], r.Wheels[k].Cold.Basis == finding.FactInflationBasisCold
		if !readCold || f.Code != finding.InflationDualSpread {
			w.Findings = slices.DeleteFunc(w.Findings, func(f finding.Finding) bool { return f.Code == finding.InflationAboveLabel })
		}
		t := v.at(v.Wheels[k].At.Mirror())
		if t < 0 || v.Wheels[t].Read == unit.None || r.Wheels[t].Has(finding.InflationLow) || r.Wheels[t].NoAir || readCold {
			continue
		}
		if more := v.Wheels[k].found().Minus(v.Wheels[t].found()); measure.AtMost(more, 0).Outcome == measure.Above {
			r.Findings[i].Evidence = append(slices.Clone(f.Evidence), finding.Evidence{Code: finding.FactInflationTwinRead, Amount: v.Wheels[k].Shown(v.Wheels[t].Found)})
		}
	}
}

// mates: a tire refilled at this visit is set as its warm mates on the axle
// read, so that all are right together when cold.
func (r *VehicleResult) mates(v Vehicle) {
	for i, w := range v.Wheels {
		if !r.Wheels[i].short() || w.At.Spare || w.Label == 0 {
			continue
		}
		var sum unit.Pressure
		var n int
		about, measured := false, true
		for k, m := range v.Wheels {
			if k == i || m.At.Spare || m.At.Axle != w.At.Axle || m.Label != w.Label ||
				!r.Wheels[k].Cold.Warm || r.Wheels[k].short() || r.Wheels[k].Demount || r.Wheels[k].Has(finding.InflationAboveSidewallMaximum) {
				continue
			}
			sum += m.Found
			n++
			about = about || r.Wheels[k].Cold.About
			measured = measured && m.Source == Sensor
		}
		if n == 0 {
			continue
		}
		as := func(w Wheel) (to unit.Pressure, finish bool) {
			to, finish = max(sum/unit.Pressure(n), w.aim()), about
			if w.Sidewall != 0 && above(to, w.Sidewall) && !measured {
				to, finish = max(w.Sidewall, w.Label), true
			}
			return to, finish
		}
		to, finish := as(w)
		r.Wheels[i].MatchMates = to
		if today, _ := as(w.hereAndToday()); measure.AtLeast(w.found(), today).Outcome != measure.Below {
			checkCold(&r.Wheels[i]) // as its warm mates, as far as the gauge can tell
			continue
		}
		if t := &r.Wheels[i].Target; t.Show != 0 && above(to, w.Found) {
			*t = Target{Show: to, Amount: w.Shown(to), About: finish, FinishCold: finish, Why: finding.TargetMates}
		}
	}
}

// checkCold: what is below the label by an estimate alone, and reads like its warm
// mates, is read cold, and no air is added before.
func checkCold(r *Result) {
	if r.Target.Show == 0 {
		return
	}
	r.Target = Target{Why: finding.TargetWait, About: r.Cold.About, FinishCold: true}
	r.CheckCold = true
	later(r)
	for i := range r.Findings {
		if f := &r.Findings[i]; f.Code == finding.InflationBelowLabel {
			f.Code, f.Urgency, f.ToSettle, f.Caution = finding.InflationCheckCold, finding.Note, finding.SettleReadCold, finding.CautionNeverBleed
		}
	}
}

// lamp reads the warning lamp together with the pressures.
func (r *VehicleResult) lamp(v Vehicle) {
	var short []layout.Position
	all := len(v.Layout.Positions()) > 0
	for _, p := range v.Layout.Positions() {
		i := v.at(p)
		if i < 0 || v.Wheels[i].Read == unit.None || v.Wheels[i].Label == 0 {
			all = false
		}
		if i >= 0 && r.Wheels[i].short() {
			short = append(short, p)
		}
	}
	add := func(code finding.Code, u finding.Urgency, at []layout.Position, settle finding.Settle) {
		r.Findings = append(r.Findings, finding.Finding{Code: code, Urgency: u, Positions: at, Rule: rule("lamp-share"), ToSettle: settle})
	}
	switch v.Lamp {
	case LampOn:
		switch {
		case len(short) > 0:
			add(finding.InflationLampOnLowTire, finding.ThisVisit, short, "")
		case all:
			add(finding.InflationLampOnPressuresRight, finding.ThisVisit, nil, "")
		default:
			add(finding.InflationLampOnNotAllRead, finding.ThisVisit, nil, finding.SettleReadAllWheels)
		}
	case LampFlashing:
		add(finding.InflationLampFlashing, finding.ThisVisit, nil, "")
	case LampDead:
		add(finding.InflationLampBulbNotSeen, finding.Note, nil, "")
	case LampOff:
		r.dark()
	}
}

// dark puts the dark lamp beside every finding of too little air: the lamp
// comes on only far below the label, so it speaks against nothing.
func (r *VehicleResult) dark() {
	for i := range r.Wheels {
		if !r.Wheels[i].short() {
			continue
		}
		for k, f := range r.Wheels[i].Findings {
			switch f.Code {
			case finding.InflationLow, finding.InflationBelowLabel, finding.InflationLabelWhileWarm, finding.InflationFindLeak, finding.InflationRunLow, finding.InflationRunLowUndecided, finding.InflationFlat, finding.InflationAtLampThreshold:
				dark := &r.Wheels[i].Findings[k]
				dark.Evidence = append(dark.Evidence, finding.Evidence{Code: finding.FactInflationLampDark})
			}
		}
	}
}
