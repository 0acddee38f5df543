package order

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/visit"
)

// hold keeps the vehicle where it is: for what is proved until it is put right, for what
// is in doubt until the look or the reading that ends it.
func (in In) hold() (all []Work) {
	held := map[layout.Position]bool{}
	var doubted []finding.Finding
	for _, f := range in.Findings {
		switch {
		case f.Urgency != finding.BeforeDriving || in.Left.Closed(f):
		case f.Certainty() != finding.Proved && f.ToSettle != "":
			doubted = append(doubted, f)
		default:
			for _, p := range f.Positions {
				held[p] = true
			}
		}
	}
	if len(held) > 0 {
		all = append(all, Work{Code: finding.WorkVehicleHold, Urgency: finding.BeforeDriving, Positions: sorted(held)})
	}
	for _, f := range doubted {
		if !slices.ContainsFunc(f.Positions, func(p layout.Position) bool { return held[p] }) {
			all = append(all, Work{Code: finding.WorkVehicleHold, Urgency: finding.BeforeDriving, Positions: f.Positions, Settle: f.ToSettle})
		}
	}
	return all
}

// makeSafe is what comes before anything else.
func (in In) makeSafe() (all []Work) {
	all = in.hold()
	for _, w := range in.Visit.Wheels {
		r := in.Facts.Air.Airs.Results[w.Position]
		if r.NoAir {
			line := Work{Code: finding.WorkAirNone, Positions: []layout.Position{w.Position}, Caution: finding.CautionRunLow}
			if r.Deflate {
				line.Caution = finding.CautionDeflate
				all = append(all, do(finding.WorkVehicleChock)...)
			}
			all = append(all, line)
		}
		if w.Has(finding.ObservedObjectInTread) && !w.Mended.ObjectOut.Tight() {
			all = append(all, do(finding.WorkObjectLeaveIn, w.Position)...)
		}
	}
	return all
}

// measureFirst: a reading that decides something is made before work starts.
func (in In) measureFirst() (all []Work) {
	hole := func(p layout.Position) bool { _, hurt := in.Facts.Holes.Of(p); return hurt }
	for _, f := range in.Findings {
		switch {
		case decides(f) && !in.Facts.Treads[f.Positions[0]].WornOut, f.Code == finding.DamageCutLimit && f.Outcome == measure.CannotTell:
			all = append(all, Work{Code: finding.WorkMeasureToSettle, Positions: f.Positions, Settle: f.ToSettle})
		case f.Code == finding.TreadModelLimit && f.Certainty() == finding.Undecided && f.ToSettle != "" && !in.Facts.Treads[f.Positions[0]].WornOut:
			all = append(all, Work{Code: finding.WorkMeasureToSettle, Positions: f.Positions, Settle: f.ToSettle})
		case f.ToSettle == finding.SettleReadBodyPly && f.Urgency <= finding.ThisVisit:
			all = append(all, Work{Code: finding.WorkMeasureToSettle, Positions: f.Positions, Settle: f.ToSettle})
		case in.decidedCold(f) && !slices.ContainsFunc(f.Positions, hole):
			all = append(all, do(finding.WorkAirReadCold, f.Positions...)...)
		}
	}
	return all
}

// decidedCold tells of a finding of pressure that nothing can be done about before the
// tire is read cold: it may have run low, it is not proved to be short, or it is too full.
func (in In) decidedCold(f finding.Finding) bool {
	if len(f.Positions) != 1 || f.Urgency > finding.ThisVisit {
		return false
	}
	why := in.Facts.Air.Airs.Results[f.Positions[0]].Target.Why
	switch f.Code {
	case finding.InflationRunLowUndecided:
		return f.ToSettle == finding.SettleReadCold
	case finding.InflationFindLeak:
		return f.ToSettle == finding.SettleReadCold && why == finding.TargetWait
	case finding.InflationAboveSidewallMaximum:
		return why == finding.TargetLowerCold
	}
	return false
}

// decides tells whether a reading that is still open decides about replacing.
func decides(f finding.Finding) bool {
	return f.Certainty() == finding.Undecided && (f.Code == finding.TreadLegalLimit || f.Code == finding.TreadMajorDefect || f.Code == finding.TreadFittingLimit || f.Code == finding.TreadWinterMinimum && f.Urgency == finding.ThisVisit)
}

// inspect is what one tire needs to be seen or repaired.
func (in In) inspect(w visit.Wheel) (all []Work) {
	p := w.Position
	air := in.Facts.Air.Airs.Results[p]
	if air.Deflate {
		all = append(all, do(finding.WorkAirDeflateFirst, p)...)
	}
	if w.Has(finding.ObservedSealantInside) && in.Visit.Watched() {
		all = append(all, do(finding.WorkSensorCheck, p)...) // sealant may have closed its port
	}
	if in.Facts.Scrapped[p] {
		return all // it is replaced, not inspected and inflated again
	}
	r, hurt := in.Facts.Holes.Of(p)
	leak := air.FindLeak && !air.Demount || air.Has(finding.InflationRunLow) || air.Has(finding.InflationLow) && !in.Facts.Air.AllAlike
	if leak && !hurt && !air.Deflate {
		all = append(all, do(finding.WorkAirFindLeak, p)...) // where a hole is known, it is the leak; without air it is found inside
	}
	undecided := slices.ContainsFunc(in.Findings, func(f finding.Finding) bool {
		return f.Code == finding.InflationRunLowUndecided && f.ToSettle == finding.SettleLookInside && slices.Contains(f.Positions, p)
	})
	if air.Demount || undecided || air.FindLeak && air.Deflate && !hurt {
		all = append(all, do(finding.WorkTireDemountInspect, p)...)
	}
	if air.RestrainingDevice {
		all = append(all, underAir(finding.WhenPassedInside, p))
	}
	if p.Dual != layout.Single && (air.Demount || air.Deflate) {
		all = append(all, Work{Code: finding.WorkDualMatch, Positions: []layout.Position{p, p.Mate()}, Condition: finding.WhenOneIsReplaced})
	}
	if hurt {
		all = append(all, repair(w, r)...)
	}
	return all
}

// repair is what the answer about a hole asks for.
func repair(w visit.Wheel, r puncture.Result) []Work {
	at := []layout.Position{w.Position}
	switch decided := r.Least >= puncture.NotAsNailHole; {
	case r.Answer == puncture.NotRepairable && decided:
		return proved(do(finding.WorkTireReplace, at...))
	case r.Answer == puncture.NotAsNailHole && decided:
		return proved(do(finding.WorkRepairReferSection, at...))
	case r.Answer == puncture.Repairable:
		code := finding.WorkRepairCombination
		if r.Method == puncture.TwoPiece {
			code = finding.WorkRepairTwoPiece
		}
		return proved([]Work{{Code: code, Positions: at, Caution: r.Main.Caution}})
	case r.Answer == puncture.NoInjury:
		return proved(do(finding.WorkObjectRemoveAndSoap, at...))
	}
	if w.LookedAt(finding.LookedInsideOfTire) {
		return do(finding.WorkRepairFindOut, at...)
	}
	var all []Work
	for _, s := range r.First {
		all = append(all, Work{Code: finding.WorkMeasureToSettle, Positions: at, Settle: s})
	}
	if len(r.First) > 0 && len(r.First) == len(r.Missing) {
		return all // nothing speaks for a look inside yet
	}
	return append(all,
		Work{Code: finding.WorkTireDemountInspect, Positions: at, Caution: r.Main.Caution},
		Work{Code: finding.WorkRepairAfterInspection, Positions: at, Condition: finding.WhenInsideClean},
	)
}

// underAir is the look in the device that is part of clearing steel cord.
func underAir(on finding.Condition, at ...layout.Position) Work {
	return Work{Code: finding.WorkTireRestrainingDevice, Positions: at, Condition: on, Target: rulebook.Must("pressure").Limit("under-air-first").Value}
}

// inspectMates: the tire that carried the load of its low neighbor comes off
// too, also when nobody reported anything of it.
func (in In) inspectMates() (all []Work) {
	for _, f := range in.Findings {
		if f.Code == finding.InflationDualMateCarriedLoad || f.Code == finding.InflationTandemMateCarriedLoad {
			all = append(all, Work{Code: finding.WorkAirNone, Positions: f.Positions, Caution: finding.CautionDeflate})
			all = append(all, do(finding.WorkAirDeflateFirst, f.Positions...)...)
			all = append(all, do(finding.WorkTireDemountInspect, f.Positions...)...)
			all = append(all, underAir(finding.WhenPassedInside, f.Positions...))
		}
	}
	return all
}

// wheelAt is the report of a wheel; of one that was not reported, no more than its place.
func (in In) wheelAt(p layout.Position) visit.Wheel {
	i := slices.IndexFunc(in.Visit.Wheels, func(w visit.Wheel) bool { return w.Position == p })
	if i < 0 {
		return visit.Wheel{Position: p}
	}
	return in.Visit.Wheels[i]
}
