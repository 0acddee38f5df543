package questions

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// TreadIn is what was read of the treads.
type TreadIn struct {
	Context tread.Context
	Gauge   measure.Gauge[unit.Depth]
	Wheels  []visit.Wheel
}

// Treads are the depths of the tires that were read, or whose wear bars were seen.
type Treads map[layout.Position]tread.Result

// read gives what was read of a tire; false where no depth was.
func (t Treads) read(p layout.Position) (tread.Result, bool) {
	r, ok := t[p]
	return r, ok && len(r.Summary.Cells) > 0
}

// TreadAnswer is whether each tread is deep enough.
type TreadAnswer struct {
	Answer
	Treads Treads
}

// Tread holds each tire's depths against what binds it.
func Tread(in TreadIn) TreadAnswer {
	out := TreadAnswer{Treads: Treads{}}
	for _, w := range in.Wheels {
		r, ok := tread.Judge(in.Context, w.Tread(w.Depths, in.Gauge))
		if !ok {
			if w.Has(finding.ObservedAtWearBars) {
				r = tread.BarsOnly(in.Context, w.Position)
				out.find(r.Findings...)
				out.Treads[w.Position] = r
			}
			out.ask(finding.AskDepth, w.Position)
			continue
		}
		out.Treads[w.Position] = r
		out.find(r.Findings...)
		for _, q := range r.Missing {
			out.ask(q, w.Position)
		}
		for _, k := range r.Met {
			if k.Code == finding.CheckedTreadWornToBars && r.BelowLaw {
				continue // above the bars is no comfort below the law
			}
			out.keepDepth(k)
		}
	}
	return out
}

func (a *Answer) keepDepth(k tread.Checked) {
	a.addMet(Checked{k.Code, []layout.Position{k.Position}, k.Measured, k.Limit, k.Rule, k.Candidate})
}

// Winter holds every tire against the rules on winter tires.
func Winter(in TreadIn) (out Answer) {
	for _, w := range in.Wheels {
		r := tread.Winter(in.Context, w.Tread(w.Depths, in.Gauge))
		out.find(r.Findings...)
		for _, k := range r.Met {
			out.keepDepth(k)
		}
		for _, q := range r.Missing {
			out.ask(q, w.Position)
		}
	}
	return out
}

// Fitted holds the tires that were put on at this visit, as their treads were left, against
// what a law asks of them. Where it asks for more than of a tire in use their depth is
// asked for.
func Fitted(in TreadIn) (out Answer) {
	for _, w := range in.Wheels {
		left := w.Tread(w.DepthsLeft, in.Gauge)
		left.BarsFlush, left.BarsClear, left.Damaged, left.New = false, false, false, nil // of the tire that came off
		r, asks := tread.Fitted(in.Context, left)
		out.find(r.Findings...)
		for _, k := range r.Met {
			out.keepDepth(k)
		}
		if asks && len(w.DepthsLeft) == 0 {
			out.ask(finding.AskFittedDepth, w.Position)
		}
	}
	return out
}

// AxlesIn are the depths of the tires of a vehicle.
type AxlesIn struct {
	Context tread.Context
	Treads  Treads
}

// Axles compares the two ends of each axle.
func Axles(in AxlesIn) (out Answer) {
	for _, p := range in.Context.Vehicle.Positions() {
		if p.Side != layout.Left || p.Dual != layout.Single {
			continue
		}
		left, okL := in.Treads.read(p)
		right, okR := in.Treads.read(p.Mirror())
		if okL && okR {
			out.find(tread.Pair(in.Context, left, right, [2]layout.Position{p, p.Mirror()})...)
		}
	}
	return out
}
