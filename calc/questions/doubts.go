package questions

import (
	"cmp"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// Doubts asks about two statements of one wheel, or of one odometer, that cannot both
// be true.
func Doubts(in DoubtsIn) DoubtsAnswer {
	out := DoubtsAnswer{Wheels: in.Wheels}
	unsee := func(i int, kind finding.Observation) {
		out.Wheels = slices.Clone(out.Wheels) // those that came stay as they were
		out.Wheels[i] = unseen(out.Wheels[i], kind)
	}
	for i, w := range in.Wheels {
		if in.flatWithAir(w) {
			out.doubt(finding.Finding{
				Code: finding.DoubtFlatWithAir, Positions: at(w), ToSettle: finding.SettleFlatOrAir,
				Measured: w.Pressure.Of.Amount(w.Pressure.Read).Rounded(), Evidence: []finding.Evidence{{Code: finding.FactDoubtSeenFlat}},
			})
			unsee(i, finding.ObservedFlat)
		}
		if low, ok := in.barsWithTread(w); ok {
			limit := rulebook.Must("advice").Limit("wear-bars")
			out.doubt(finding.Finding{
				Code: finding.DoubtBarsWithTread, Positions: at(w), ToSettle: finding.SettleBarsOrTread, Limit: limit.Value,
				Measured: low.Lowest.Amount(low.At.AsRead.Unit).Rounded(), Evidence: []finding.Evidence{{Code: finding.FactDoubtSeenFlush}},
			})
			unsee(i, finding.ObservedAtWearBars)
		}
		if w.SameTire {
			out.doubt(finding.Finding{
				Code: finding.DoubtSameTire, Positions: at(w), ToSettle: finding.SettleSameTire,
				Evidence: []finding.Evidence{{Code: finding.FactDoubtToldReplaced}},
			})
		}
	}
	out.slips(in)
	out.odometer(in.Odometers)
	return out
}

// unseen is a wheel without what was seen of a kind.
func unseen(w visit.Wheel, kind finding.Observation) visit.Wheel {
	w.Observations = slices.DeleteFunc(slices.Clone(w.Observations), func(o visit.Observation) bool { return o.Kind == kind })
	return w
}

// firm is a pressure under which people call a tire flat, where no label is known
// (common practice).
var firm = unit.MustPressure(20, unit.PSI)

// flatWithAir: seen flat, and read at no less than half of its label, which no flat
// tire shows.
func (in DoubtsIn) flatWithAir(w visit.Wheel) bool {
	if w.Pressure.Read == unit.None || !w.Has(finding.ObservedFlat) {
		return false
	}
	least := firm
	if label, _ := in.Labels.Cold(w.Position); label > 0 {
		least = label / 2
	}
	return measure.AtLeast(w.Pressure.Gauge.Read(w.Pressure.Of), least).Outcome == measure.Above
}

// barsWithTread: bars seen flush where a groove was read deeper by what would be asked
// about if it were growth. Where the bars were seen at a place that was not read, or
// not all of the tread was, both may be true.
func (in DoubtsIn) barsWithTread(w visit.Wheel) (low tread.Cell, contradicts bool) {
	if !w.Has(finding.ObservedAtWearBars) {
		return low, false
	}
	s, ok := tread.Summarize(w.Tread(w.Depths, in.Gauge))
	if !ok {
		return low, false
	}
	limit := rulebook.Must("advice").Limit("wear-bars").Depth() + tread.Shape
	for _, o := range w.Observations {
		if o.Kind != finding.ObservedAtWearBars {
			continue
		}
		found := false
		for _, c := range s.Cells {
			here := o.Across == layout.AcrossNotTold || o.Across == c.At.Across
			if here && (!found || c.Lowest < low.Lowest) {
				low, found = c, true
			}
		}
		whole := o.Across != layout.AcrossNotTold || len(s.Columns) >= 3 || s.Columns[0] == 0
		if !found || !whole || measure.AtLeast(in.Gauge.Read(low.Lowest), limit).Outcome != measure.Above {
			return low, false
		}
	}
	return low, true
}

// odometer asks about an odometer that stood higher on an earlier day, or that fits the
// visits before it only in the other unit.
func (a *DoubtsAnswer) odometer(read []visit.Odometer) {
	read = slices.DeleteFunc(slices.Clone(read), func(o visit.Odometer) bool { return o.Day.IsZero() })
	slices.SortStableFunc(read, func(a, b visit.Odometer) int {
		return cmp.Or(a.Day.Compare(b.Day), cmp.Compare(a.Of, b.Of))
	})
	for i := len(read) - 1; i > 0; i-- {
		was, is := read[i-1], read[i]
		if is.Of < was.Of {
			a.fell(was, is)
			return
		}
	}
	for i := len(read) - 1; i > 1; i-- {
		if other, ok := inOtherUnit(read[:i], read[i]); ok {
			a.otherUnit(read[i], other)
			return
		}
	}
	for i := len(read) - 1; i > 0; i-- {
		if was, is := read[i-1], read[i]; is.Of-was.Of > farthest*unit.Distance(was.Day.DaysUntil(is.Day)+1) {
			a.tooFar(was, is)
			return
		}
	}
}

// farthest is what no vehicle runs each day from one visit to the next: two drivers who
// take turns go half as far (common practice, from memory).
var farthest = unit.MustDistance(2_000, unit.Miles)

func (a *DoubtsAnswer) tooFar(was, is visit.Odometer) {
	a.Distance = true
	a.doubt(finding.Finding{
		Code: finding.DoubtOdometerFar, Measured: is.Read, ToSettle: finding.SettleOdometer,
		Evidence: []finding.Evidence{
			{Code: finding.FactDoubtBefore, Amount: was.Read}, {Code: finding.FactDoubtEarlierDay, Day: was.Day}, {Code: finding.FactDoubtLaterDay, Day: is.Day},
		},
	})
	a.ask(finding.AskOdometer)
}

func (a *DoubtsAnswer) fell(was, is visit.Odometer) {
	a.Distance = true
	a.doubt(finding.Finding{
		Code: finding.DoubtOdometerFell, Measured: is.Read, ToSettle: finding.SettleOdometer,
		Evidence: []finding.Evidence{
			{Code: finding.FactDoubtBefore, Amount: was.Read}, {Code: finding.FactDoubtEarlierDay, Day: was.Day}, {Code: finding.FactDoubtLaterDay, Day: is.Day},
		},
	})
	a.ask(finding.AskOdometer)
}

func (a *DoubtsAnswer) otherUnit(is visit.Odometer, other unit.Distance) {
	a.Distance = true
	a.doubt(finding.Finding{
		Code: finding.DoubtOdometerUnit, Measured: is.Read, ToSettle: finding.SettleOdometer,
		Evidence: []finding.Evidence{{Code: finding.FactDoubtOtherUnitFits, Amount: other.Amount(is.Read.Unit).Rounded()}, {Code: finding.FactDoubtLaterDay, Day: is.Day}},
	})
	a.ask(finding.AskOdometer)
}

// inOtherUnit gives what the newest reading is if miles were taken for kilometers, or
// the reverse, where that alone goes on as the vehicle was driven before: as read it
// was driven far more than that.
func inOtherUnit(before []visit.Odometer, newest visit.Odometer) (other unit.Distance, fits bool) {
	first, last := before[0], before[len(before)-1]
	days, since := first.Day.DaysUntil(last.Day), last.Day.DaysUntil(newest.Day)
	if days <= 0 || since <= 0 || last.Of <= first.Of {
		return 0, false
	}
	usual := float64(last.Of-first.Of) / float64(days)
	pace := func(d unit.Distance) float64 { return float64(d-last.Of) / float64(since) / usual }
	if pace(newest.Of) < 2.5 {
		return 0, false
	}
	other = newest.Of / unit.Distance(unit.MustDistance(1, unit.Miles)/unit.MustDistance(1, unit.Kilometers))
	return other, pace(other) >= 0.6 && pace(other) <= 1.5
}
