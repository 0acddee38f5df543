package questions

import (
	"cmp"
	"math"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/plausible"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// slips asks about numbers that are none in the unit that they came in, and about what
// was written without being read. What is asked about is judged by nothing.
func (a *DoubtsAnswer) slips(in DoubtsIn) {
	a.labels(in.Labels.Vehicle)
	in.Labels.Vehicle.Axles = a.Axles
	for i, w := range a.Wheels {
		a.misreadTire(w)
		if meant, ok := in.pressureMeant(w, w.Pressure); ok && !in.saidLow(w) && !in.sameUnit(i) {
			a.pressure(i, w.Pressure, meant)
			a.change(i, func(w *visit.Wheel) { w.Pressure = visit.Pressure{} })
		}
		if meant, ok := in.pressureMeant(w, w.PressureLeft); ok {
			a.pressure(i, w.PressureLeft, meant)
			a.change(i, func(w *visit.Wheel) { w.PressureLeft = visit.Pressure{} })
		}
	}
	a.depths(in.Labels.Vehicle)
	a.thumped(in.Labels)
	a.copied(in)
}

// meant is the likeliest of what a number may have been meant as.
func meant(r plausible.Range, q plausible.Quantity, read unit.Amount) (unit.Amount, bool) {
	all := r.Meant(q, read)
	if len(all) == 0 {
		return unit.Amount{}, false
	}
	return all[0], true
}

// labels asks about pressures of the label that no vehicle of the class asks for, and
// leaves them out.
func (a *DoubtsAnswer) labels(v layout.Vehicle) {
	a.Axles = v.Axles
	likely := plausible.Of(plausible.TirePressure, v.Class)
	for i, axle := range v.Axles {
		for _, label := range []unit.Pressure{axle.ColdNormal, axle.ColdFull} {
			read := label.Amount(axle.LabelUnit).Rounded()
			other, ok := meant(likely, plausible.TirePressure, read)
			if label == 0 || !ok {
				continue
			}
			a.Axles = slices.Clone(a.Axles)
			a.Axles[i].ColdNormal, a.Axles[i].ColdFull = 0, 0
			var at []layout.Position
			for _, p := range v.Positions() {
				if p.Axle == i+1 {
					at = append(at, p)
				}
			}
			a.doubt(finding.Finding{
				Code: finding.DoubtLabelUnit, Positions: at, Measured: read, ToSettle: finding.SettleLabelAgain,
				Evidence: []finding.Evidence{{Code: finding.FactDoubtMeantPressure, Amount: other}},
			})
			break
		}
	}
}

// A label is neither halved nor raised by three fifths by weather, drive or purpose: a
// reading farther off is a slip where another unit brings it near (common practice).
const (
	oddFrom, oddTo   = 0.5, 1.6
	nearFrom, nearTo = 0.75, 1.35
)

// pressureMeant gives what a reading was probably meant as; false for one that may be
// as it is, and where nothing else would be near the label.
func (in DoubtsIn) pressureMeant(w visit.Wheel, p visit.Pressure) (unit.Amount, bool) {
	if p.Read == unit.None {
		return unit.Amount{}, false
	}
	read := p.Of.Amount(p.Read).Rounded()
	label, shown := in.Labels.Cold(w.Position)
	if label == 0 {
		return meant(plausible.Of(plausible.TirePressure, in.Labels.Vehicle.Class), plausible.TirePressure, read)
	}
	if plausible.Around(label.Amount(shown), oddFrom, oddTo).Has(read) {
		return unit.Amount{}, false
	}
	return meant(plausible.Around(label.Amount(shown), nearFrom, nearTo), plausible.TirePressure, read)
}

// saidLow tells that something else speaks for a tire that lost its air.
func (in DoubtsIn) saidLow(w visit.Wheel) bool {
	return w.DrivenLow.Driven == finding.Yes || w.Has(finding.ObservedFlat, finding.ObservedAirLeak, finding.ObservedInjury,
		finding.ObservedObjectInTread, finding.ObservedObjectRemoved, finding.ObservedRunLowScuffRing, finding.ObservedRunLowDust,
		finding.ObservedRunLowLinerRing, finding.ObservedRunLowSmell)
}

// sameUnit tells that another wheel was read in the unit of a wheel's reading, and is
// near its label so: the gauge shows that unit.
func (in DoubtsIn) sameUnit(wheel int) bool {
	for i, w := range in.Wheels {
		if i == wheel || w.Position.Spare || w.Pressure.Read != in.Wheels[wheel].Pressure.Read {
			continue
		}
		likely := plausible.Of(plausible.TirePressure, in.Labels.Vehicle.Class)
		if label, shown := in.Labels.Cold(w.Position); label != 0 {
			likely = plausible.Around(label.Amount(shown), oddFrom, oddTo)
		}
		if likely.Has(w.Pressure.Of.Amount(w.Pressure.Read).Rounded()) {
			return true
		}
	}
	return false
}

func (a *DoubtsAnswer) pressure(i int, p visit.Pressure, other unit.Amount) {
	a.doubt(finding.Finding{
		Code: finding.DoubtPressureUnit, Positions: at(a.Wheels[i]), Measured: p.Of.Amount(p.Read).Rounded(), ToSettle: finding.SettlePressureUnit,
		Evidence: []finding.Evidence{{Code: finding.FactDoubtMeantPressure, Amount: other}},
	})
}

// near is how close the depth of a tire comes to that of the others where one was meant
// in their unit.
var near = unit.MustDepth(1, unit.ThirtySecondsInch)

// depths asks about depths that no tire of the class has, and about those of few wheels
// in another unit than the rest, whose numbers are those of the rest.
func (a *DoubtsAnswer) depths(v layout.Vehicle) {
	likely := plausible.Of(plausible.TreadDepth, v.Class)
	most := unitOfMost(a.Wheels)
	for i, w := range a.Wheels {
		lowest := slices.SortedStableFunc(slices.Values(w.Depths), func(a, b tread.Reading) int {
			return cmp.Or(cmp.Compare(a.Depth, b.Depth), cmp.Compare(a.AsRead.Unit, b.AsRead.Unit))
		})
		for _, r := range lowest {
			other, ok := meant(likely, plausible.TreadDepth, r.AsRead)
			if !ok {
				other, ok = a.likeTheRest(i, r, most)
			}
			if !ok {
				continue
			}
			a.doubt(finding.Finding{
				Code: finding.DoubtDepthUnit, Positions: at(w), Measured: r.AsRead.Rounded(), ToSettle: finding.SettleDepthUnit,
				Evidence: []finding.Evidence{{Code: finding.FactDoubtMeantDepth, Amount: other.OfTread()}},
			})
			a.change(i, func(w *visit.Wheel) {
				w.Depths = slices.DeleteFunc(slices.Clone(w.Depths), func(o tread.Reading) bool { return o.AsRead.Unit == r.AsRead.Unit })
			})
			break
		}
	}
}

// unitOfMost is the unit in which more than two thirds of the depths were read; None
// where there is none.
func unitOfMost(wheels []visit.Wheel) unit.Unit {
	count, all := map[unit.Unit]int{}, 0
	for _, w := range wheels {
		for _, r := range w.Depths {
			count[r.AsRead.Unit]++
			all++
		}
	}
	for u, n := range count {
		if 3*n > 2*all && n < all {
			return u
		}
	}
	return unit.None
}

// likeTheRest gives a depth in the unit of most, where it was read in another, its number
// is one that a gauge shows, near the depth of the tire beside it, and it is not near as it was read.
func (a *DoubtsAnswer) likeTheRest(i int, r tread.Reading, most unit.Unit) (unit.Amount, bool) {
	if most == unit.None || r.AsRead.Unit == most {
		return unit.Amount{}, false
	}
	beside, known := a.besides(i, most)
	if readAlike(a.Wheels[i].Depths, r.AsRead.Unit) {
		return unit.Amount{}, false // measured again, and the gauge showed that unit
	}
	other := unit.Amount{Number: r.AsRead.Number, Unit: most}
	as, err := unit.DepthOf(other.Number, most)
	off := func(d unit.Depth) unit.Depth { return max(d-beside, beside-d) }
	return other, known && err == nil && onScale(other) && off(as) < near && off(r.Depth) > near
}

// readAlike tells that every place read in a unit was read there twice alike.
func readAlike(all []tread.Reading, in unit.Unit) bool {
	return !slices.ContainsFunc(all, func(r tread.Reading) bool {
		alike := 0
		for _, o := range all {
			if o.AsRead == r.AsRead && o.Across == r.Across && o.Groove == r.Groove && o.Station == r.Station {
				alike++
			}
		}
		return r.AsRead.Unit == in && alike < 2
	})
}

// onScale tells whether a gauge in the unit shows the number: thirty-seconds come in
// wholes and halves.
func onScale(a unit.Amount) bool {
	return a.Unit != unit.ThirtySecondsInch || math.Remainder(a.Number, 0.5) == 0
}

// besides is the mean depth in a unit of the wheel itself, else of the tire across, else
// of all.
func (a *DoubtsAnswer) besides(i int, in unit.Unit) (unit.Depth, bool) {
	self := a.Wheels[i].Position
	for _, among := range []func(layout.Position) bool{
		func(p layout.Position) bool { return p == self },
		func(p layout.Position) bool { return p == self.Mirror() && !p.Spare },
		func(p layout.Position) bool { return !p.Spare },
	} {
		var sum, n unit.Depth
		for _, w := range a.Wheels {
			for _, r := range w.Depths {
				if among(w.Position) && r.AsRead.Unit == in {
					sum, n = sum+r.Depth, n+1
				}
			}
		}
		if n > 0 {
			return sum / n, true
		}
	}
	return 0, false
}

// roundIn is what a number is a multiple of that people write for a tire which they did
// not read.
var roundIn = map[unit.Unit]float64{unit.PSI: 5, unit.Kilopascals: 50, unit.Bar: 0.5}

// thumped asks about one round pressure on all wheels of a vehicle with duals, where
// nobody says with what it was read: an inner dual is thumped, and its label written.
// One that is low is taken for read.
func (a *DoubtsAnswer) thumped(labels visit.Labels) {
	if !slices.ContainsFunc(labels.Vehicle.Axles, func(x layout.Axle) bool { return x.Dual }) {
		return
	}
	var first visit.Pressure
	var all []int
	for i, w := range a.Wheels {
		if w.Position.Spare {
			continue
		}
		p := w.Pressure
		label, _ := labels.Cold(w.Position)
		if len(all) == 0 {
			first = p
		}
		if p.Read == unit.None || p.GaugeTold || p.Of != first.Of || p.Read != first.Read || w.Has(finding.ObservedFlat) ||
			measure.AtLeast(measure.Exact(p.Of), label*4/5).Outcome == measure.Below {
			return
		}
		all = append(all, i)
	}
	read := first.Of.Amount(first.Read).Rounded()
	if len(all) == 0 || len(all) < len(labels.Vehicle.Positions()) || math.Remainder(read.Number, roundIn[read.Unit]) != 0 {
		return
	}
	a.doubt(finding.Finding{Code: finding.DoubtThumped, Positions: labels.Vehicle.Positions(), Measured: read, ToSettle: finding.SettleWithGauge})
	for _, i := range all {
		a.change(i, func(w *visit.Wheel) { w.Pressure = visit.Pressure{} })
	}
}

// misreadTire asks about what a tire's markings cannot be as they are written.
func (a *DoubtsAnswer) misreadTire(w visit.Wheel) {
	ask := func(code finding.Code, evidence ...finding.Evidence) {
		a.doubt(finding.Finding{Code: code, Positions: at(w), ToSettle: finding.SettleSidewallAgain, Evidence: evidence})
	}
	number := func(code finding.Fact, n int) finding.Evidence {
		return finding.Evidence{Code: code, Amount: unit.Amount{Number: float64(n), Unit: unit.Count}}
	}
	for _, p := range w.Tire.Misread {
		switch p.Code {
		case sidewall.InFuture:
			ask(finding.DoubtMadeLater, number(finding.FactDoubtWeek, p.Made.Week), number(finding.FactDoubtYear, p.Made.Year))
		case sidewall.NoSuchWeek:
			ask(finding.DoubtNoSuchWeek, number(finding.FactDoubtWeek, p.Number))
		default:
			if !slices.ContainsFunc(a.Findings, func(f finding.Finding) bool { return f.Code == finding.DoubtSymbol && f.Positions[0] == w.Position }) {
				ask(finding.DoubtSymbol, number(finding.FactDoubtSymbolAt, p.At))
			}
		}
	}
	if made := w.Tire.Made; made != (sidewall.Made{}) && !made.InItsYear() {
		ask(finding.DoubtNoSuchWeek, number(finding.FactDoubtWeek, made.Week), number(finding.FactDoubtYear, made.Year))
	}
	if written, likely, ok := sidewall.SwappedRim(w.Tire.Size); ok {
		ask(finding.DoubtRim, finding.Evidence{Code: finding.FactDoubtRim, Amount: written.Amount(unit.Inches)},
			finding.Evidence{Code: finding.FactDoubtMeantRim, Amount: likely.Amount(unit.Inches)})
	}
}
