package verdict

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/fitment"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// fitmentOf puts the vehicle together as package fitment judges it: what was
// read on the tires, the mean depths, and the label.
func (j *judging) fitmentOf() fitment.Vehicle {
	in := fitment.Vehicle{Layout: j.v.Vehicle, Books: j.books, AsOf: j.v.AsOf, Maker: j.v.Maker}
	if r := j.v.SpareReport; r != nil {
		in.Spare = fitment.Spare{Matching: j.v.Spare.Matching, InService: r.InService}
	}
	for _, w := range j.v.Wheels {
		f := w.Fitment
		f.At = w.Position
		if w.Tire.Size != "" { // else it is the label's, which tells nothing of the tire
			f.Tire.Marking = w.Tire.Marking
		}
		f.Tire.Made, f.Tire.ThreePeaks, f.Tire.MudAndSnow, f.Tire.Studded = w.Tire.Made, w.Tire.ThreePeaks, w.Tire.MudAndSnow, w.Tire.Studded
		f.Tire.Printed = sidewall.Printed{Maximum: w.Tire.Sidewall, Single: w.Tire.LoadSingle, Dual: w.Tire.LoadDual}
		f.Tire.Cracked = w.Has(finding.ObservedCracksJoined, finding.ObservedCracksToCord)
		if r, ok := j.tread[w.Position]; ok && len(r.Summary.Cells) > 0 {
			f.Depth = &r.Summary.Mean
		}
		normal, shown := j.v.Labels().ColdWhen(w.Position, finding.No)
		full, _ := j.v.Labels().ColdWhen(w.Position, finding.Yes)
		f.Label, f.LabelUnit = max(normal, full), shown
		if w.Has(finding.ObservedValveUnderRated) {
			f.Valve.RubberSnapIn, f.Valve.Rating = false, 0 // seen and said already
		}
		in.Wheels = append(in.Wheels, f)
	}
	return in
}

// fitted judges whether the tires are right for the vehicle and for each other.
func (j *judging) fitted() {
	r := fitment.Judge(j.fitmentOf())
	j.supports(r.Fits)
	asLabel := map[layout.Position]bool{}
	for _, k := range r.Kept {
		for _, p := range k.Positions {
			asLabel[p] = asLabel[p] || k.Code == finding.CheckedFitmentAsLabel
		}
	}
	for _, f := range r.Findings {
		j.find(f)
		j.fitWork(f, asLabel)
		if finding.KindOf(f.Code).Scrap {
			j.finished[f.Positions[0]] = true
		}
	}
	for _, k := range r.Kept {
		j.kept(Checked{k.Code, k.Positions, k.Measured, k.Limit, k.Rule})
	}
	for _, a := range r.Asked {
		j.ask(a.Code, a.Positions...)
	}
}

// fitWork is what sets one finding of fitment right. asLabel tells which tires
// are what the label asks for: of two sizes on an axle the other one goes.
func (j *judging) fitWork(f finding.Finding, asLabel map[layout.Position]bool) {
	k := finding.KindOf(f.Code)
	switch k.Work {
	case finding.WorkTireRemount:
		if slices.ContainsFunc(f.Evidence, func(e finding.Evidence) bool { return e.Code == finding.FactMountSwapCures }) {
			j.do(finding.WorkWheelsSwapSides, f.Positions...)
			return
		}
		j.do(finding.WorkTireDemountInspect, f.Positions...)
		j.do(k.Work, f.Positions...)
	case finding.WorkTiresFitRight:
		wrong := f.Positions
		if f.Code == finding.FitmentSizesMixed {
			others := slices.DeleteFunc(slices.Clone(f.Positions), func(p layout.Position) bool { return asLabel[p] })
			if len(others) > 0 {
				wrong = others
			}
		}
		j.do(k.Work, wrong...)
	case finding.WorkAirSetForSize:
		j.work.add(Work{Code: k.Work, Positions: f.Positions, Target: f.Measured, FinishCold: true})
	case finding.WorkTiresMatchSet, finding.WorkDualMatch:
		j.matchWork(f, k.Work)
	default:
		j.do(k.Work, f.Positions...)
	}
}

// matchWork measures first where that decides, and matches after it.
func (j *judging) matchWork(f finding.Finding, code finding.Work) {
	if f.Urgency == finding.Note {
		return
	}
	w := Work{Code: code, Positions: f.Positions}
	if f.Outcome == measure.CannotTell {
		j.work.add(Work{Code: finding.WorkMeasureToSettle, Positions: f.Positions, Settle: f.ToSettle})
		w.Condition = finding.WhenTapeShowsIt
	}
	j.work.add(w)
}

// matchRest: on an all-wheel drive, tires that are replaced have to match those
// that stay.
func (j *judging) matchRest() {
	replaced := j.work.at(finding.WorkTireReplace, finding.WorkTiresReplacePair)
	delete(replaced, layout.Position{Spare: true})
	if all := len(j.v.Vehicle.Positions()); j.v.Vehicle.Drive == layout.AllDrive && len(replaced) > 0 && len(replaced) < all {
		j.work.add(Work{Code: finding.WorkTiresMatchSet, Positions: sorted(replaced), Condition: finding.WhenRestDiffer})
	}
}

// keepForSize takes out of the lines that set pressures every wheel whose tire
// needs more than they set it to.
func (j *judging) keepForSize() {
	for p := range j.work.at(finding.WorkAirSetForSize) {
		for i, w := range j.work {
			if w.Code == finding.WorkAirSet || w.Code == finding.WorkAirMatchMates || w.Code == finding.WorkAirLowerCold {
				j.work[i].Positions = slices.DeleteFunc(w.Positions, func(q layout.Position) bool { return p == q })
			}
		}
	}
	j.work = slices.DeleteFunc(j.work, func(w Work) bool {
		return len(w.Positions) == 0 && (w.Code == finding.WorkAirSet || w.Code == finding.WorkAirMatchMates || w.Code == finding.WorkAirLowerCold)
	})
}

// fitmentLeft closes what the wheel as left shows to be put right.
func (j *judging) fitmentLeft(w visit.Wheel) {
	right := map[finding.Left]bool{
		finding.LeftArrow:   w.FitmentLeft.Marks.Arrow == fitment.ArrowAgrees,
		finding.LeftOutside: w.FitmentLeft.Marks.Outside == fitment.FacesOut,
	}
	if v := w.FitmentLeft.Valve; v != nil {
		normal, _ := j.v.Labels().ColdWhen(w.Position, finding.No)
		full, _ := j.v.Labels().ColdWhen(w.Position, finding.Yes)
		under, ok := v.UnderRated(max(normal, full))
		right[finding.LeftValve] = ok && !under && max(normal, full) > 0
	}
	for _, f := range j.out.Findings {
		if len(f.Positions) == 1 && f.Positions[0] == w.Position && right[finding.KindOf(f.Code).Left] {
			j.out.Closed[f.ID()] = unit.Amount{}
		}
	}
}

// valveWrong tells that something was found wrong with the valve of a wheel.
func (j *judging) valveWrong(p layout.Position) bool {
	return slices.ContainsFunc(j.out.Findings, func(f finding.Finding) bool {
		return finding.KindOf(f.Code).Again == finding.AgainValve && slices.Contains(f.Positions, p)
	})
}

// Fit is one tire against the label, with what it supports at the pressure found.
type Fit struct {
	fitment.Fit
	Supported unit.Mass // at the lowest cold pressure that the one found leaves open; 0 when not known
}

// AxleLoad is what the tires of one axle support. It does not make them fit to run.
type AxleLoad struct {
	Axle      int
	Supported unit.Mass     // all its tires together, at the pressures found; 0 when not known
	Needed    unit.Pressure // cold, for the axle as weighed, else for its rating; 0 when not known or when these tires cannot carry it
	Unit      unit.Unit
}

// supports works out what tires and axles support.
func (j *judging) supports(fits []fitment.Fit) {
	for _, f := range fits {
		out := Fit{Fit: f}
		if r, ok := j.ratingAt(f.At); ok {
			out.Supported = j.supported(f.At, r)
		}
		j.out.Fits = append(j.out.Fits, out)
	}
	for i, a := range j.v.Vehicle.Axles {
		l := AxleLoad{Axle: i + 1, Unit: a.LabelUnit}
		l.Supported, l.Needed = j.axleLoad(i+1, a.Rating)
		if l.Supported > 0 || l.Needed > 0 {
			j.out.Axles = append(j.out.Axles, l)
		}
	}
}

func (j *judging) ratingAt(p layout.Position) (sidewall.Rating, bool) {
	i := slices.IndexFunc(j.v.Wheels, func(w visit.Wheel) bool { return w.Position == p })
	if i < 0 {
		return sidewall.Rating{}, false
	}
	r, ok := j.v.Wheels[i].Tire.Rating()
	return r.Least(), ok
}

func (j *judging) supported(p layout.Position, r sidewall.Rating) unit.Mass {
	if j.airIn[p].Read == unit.None {
		return 0
	}
	load, _ := r.Load(j.air[p].Cold.Low, p.Dual != layout.Single)
	return load
}

// axleLoad sums what the tires of an axle support, and finds the pressure at
// which each carries its share of the axle as weighed, else of its rating.
func (j *judging) axleLoad(axle int, rating unit.Mass) (supported unit.Mass, needed unit.Pressure) {
	var ps []layout.Position
	for _, p := range j.v.Vehicle.Positions() {
		if p.Axle == axle {
			ps = append(ps, p)
		}
	}
	carries, knows := true, true
	for _, p := range ps {
		r, ok := j.ratingAt(p)
		share := rating / unit.Mass(len(ps))
		if c, weighed := j.v.Scale().Carried(p); weighed {
			share = c.Share
		}
		s := j.supported(p, r)
		supported, knows = supported+s, knows && ok && s > 0
		at, can := r.PressureFor(share, p.Dual != layout.Single)
		needed, carries = max(needed, at), carries && ok && can && share > 0
	}
	if !knows {
		supported = 0
	}
	if !carries {
		needed = 0
	}
	return supported, needed
}
