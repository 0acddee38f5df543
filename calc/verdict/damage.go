package verdict

import (
	"slices"
	"strings"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// damage is what an observation means by itself, whatever the readings say:
// cord, a bulge or a separation outranks every depth. Observations that are not
// listed are evidence for other questions (wear causes, run low, repair).
type damage struct {
	code    finding.Code
	urgency finding.Urgency
	subject rulebook.Subject // the conditions that a law forbids outright, "" for practice only
	work    finding.Work     // what sets it right
	caution finding.Caution
	scrap   bool // the tire is finished by it
}

// damages are the urgencies of common practice, by kind of observation.
var damages = map[finding.Observation]damage{
	finding.ObservedCordShowing:          {finding.DamageCordShowing, finding.BeforeDriving, rulebook.CordExposed, finding.WorkTireReplace, finding.CautionDamagedTire, true},
	finding.ObservedSeparation:           {finding.DamageSeparation, finding.BeforeDriving, rulebook.Separation, finding.WorkTireReplace, finding.CautionBulge, true},
	finding.ObservedBulge:                {finding.DamageBulge, finding.BeforeDriving, rulebook.Separation, finding.WorkTireReplace, finding.CautionBulge, true},
	finding.ObservedCutToCord:            {finding.DamageCutToCord, finding.BeforeDriving, rulebook.Cut, finding.WorkTireReplace, finding.CautionDamagedTire, true},
	finding.ObservedCut:                  {finding.DamageCut, finding.ThisVisit, "", finding.WorkTireLookClosely, "", false},
	finding.ObservedChunking:             {finding.DamageChunking, finding.ThisVisit, "", finding.WorkTireLookClosely, "", false},
	finding.ObservedTornLug:              {finding.DamageTornLug, finding.ThisVisit, "", finding.WorkTireLookClosely, "", false},
	finding.ObservedEdgeWornSmooth:       {finding.DamageEdgeWornSmooth, finding.ThisVisit, "", finding.WorkTireLookClosely, "", false},
	finding.ObservedRetreadEdgeLifting:   {finding.DamageRetreadEdgeLifting, finding.BeforeDriving, rulebook.Separation, finding.WorkTireReplace, finding.CautionDamagedTire, true},
	finding.ObservedStoneDrilling:        {finding.DamageStoneDrilling, finding.Note, "", "", "", false},
	finding.ObservedInwardDent:           {finding.DamageInwardDent, finding.Note, "", "", "", false},
	finding.ObservedCurbScuff:            {finding.DamageCurbScuff, finding.Note, "", "", "", false},
	finding.ObservedCracksFine:           {finding.DamageCracksFine, finding.Note, "", "", "", false},
	finding.ObservedCracksOpen:           {finding.DamageCracksOpen, finding.ThisVisit, "", finding.WorkTireLookClosely, "", false},
	finding.ObservedCracksJoined:         {finding.DamageCracksJoined, finding.ThisVisit, "", finding.WorkTireReplace, finding.CautionDamagedTire, true},
	finding.ObservedCracksToCord:         {finding.DamageCracksToCord, finding.BeforeDriving, rulebook.CordExposed, finding.WorkTireReplace, finding.CautionDamagedTire, true},
	finding.ObservedRubbingOnVehicle:     {finding.DamageRubbing, finding.BeforeDriving, "", finding.WorkReferSteeringSuspension, finding.CautionLifting, false},
	finding.ObservedRubbingOnMate:        {finding.DamageDualsRubbing, finding.BeforeDriving, "", finding.WorkWheelClearSpace, finding.CautionLifting, false},
	finding.ObservedRadialRipple:         {finding.DamageRadialRipple, finding.BeforeDriving, rulebook.Separation, finding.WorkTireReplace, finding.CautionZipper, true},
	finding.ObservedBlisteringOrSwelling: {finding.DamageBlistering, finding.BeforeDriving, rulebook.Separation, finding.WorkTireReplace, finding.CautionDamagedTire, true},
	finding.ObservedBeadTornOrKinked:     {finding.DamageBead, finding.BeforeDriving, "", finding.WorkTireReplace, finding.CautionDamagedTire, true},
	finding.ObservedLinerSplit:           {finding.DamageLinerSplit, finding.BeforeDriving, "", finding.WorkTireReplace, finding.CautionDamagedTire, true},

	finding.ObservedWheelCrack:             {finding.WheelCrack, finding.BeforeDriving, rulebook.WheelCondition, finding.WorkWheelReplace, finding.CautionWheelFastening, false},
	finding.ObservedWheelHolesElongated:    {finding.WheelHolesElongated, finding.BeforeDriving, rulebook.WheelCondition, finding.WorkWheelReplace, finding.CautionWheelFastening, false},
	finding.ObservedWheelWelded:            {finding.WheelWelded, finding.BeforeDriving, rulebook.WheelCondition, finding.WorkWheelReplace, finding.CautionWheelFastening, false},
	finding.ObservedWheelBentOuterLip:      {finding.WheelBent, finding.ThisVisit, "", finding.WorkWheelReplace, "", false},
	finding.ObservedWheelBentInnerLip:      {finding.WheelBent, finding.ThisVisit, "", finding.WorkWheelReplace, "", false},
	finding.ObservedWheelBeadSeatCorrosion: {finding.WheelBeadSeatCorroded, finding.ThisVisit, "", finding.WorkWheelCleanBeadSeat, "", false},
	finding.ObservedWheelLeaking:           {finding.WheelLeaking, finding.ThisVisit, "", finding.WorkWheelReplace, "", false},
	finding.ObservedWheelWrongWidth:        {finding.WheelWrongWidth, finding.ThisVisit, "", finding.WorkWheelReplace, "", false},
	finding.ObservedFastenerMissing:        {finding.FastenerMissing, finding.BeforeDriving, rulebook.FastenersRule, finding.WorkFastenersPutRight, finding.CautionWheelFastening, false},
	finding.ObservedFastenerLoose:          {finding.FastenerLoose, finding.BeforeDriving, rulebook.FastenersRule, finding.WorkFastenersPutRight, finding.CautionWheelFastening, false},
	finding.ObservedStudBroken:             {finding.FastenerBroken, finding.BeforeDriving, rulebook.FastenersRule, finding.WorkFastenersPutRight, finding.CautionWheelFastening, false},
	finding.ObservedStudStretched:          {finding.FastenerStretched, finding.BeforeDriving, rulebook.FastenersRule, finding.WorkFastenersPutRight, finding.CautionWheelFastening, false},
	finding.ObservedFastenerRustStreaks:    {finding.FastenerRustStreaks, finding.ThisVisit, "", finding.WorkFastenersPutRight, finding.CautionWheelFastening, false},
	finding.ObservedFastenerWrongSeat:      {finding.FastenerWrongSeat, finding.BeforeDriving, "", finding.WorkFastenersPutRight, finding.CautionWheelFastening, false},
	finding.ObservedCappedNutSwollen:       {finding.FastenerCappedNutSwollen, finding.Note, "", "", "", false},
	finding.ObservedSpacerOrAdapter:        {finding.WheelSpacer, finding.Note, "", "", "", false},
	finding.ObservedGreaseOnInnerSide:      {finding.WheelGreaseInside, finding.ThisVisit, "", finding.WorkReferBrakesHub, "", false},
	finding.ObservedDualsTouching:          {finding.DualTouching, finding.BeforeDriving, "", finding.WorkWheelClearSpace, finding.CautionLifting, false},
	finding.ObservedDualsTooClose:          {finding.DualTooClose, finding.ThisVisit, "", finding.WorkWheelClearSpace, "", false},
	finding.ObservedObjectBetweenDuals:     {finding.DualObjectBetween, finding.BeforeDriving, "", finding.WorkWheelClearSpace, finding.CautionLifting, false},
	finding.ObservedDualValveBlocked:       {finding.DualValveBlocked, finding.ThisVisit, "", finding.WorkWheelClearSpace, "", false},

	finding.ObservedValveCracked:       {finding.ValveCracked, finding.ThisVisit, "", finding.WorkValveRenew, "", false},
	finding.ObservedValveBent:          {finding.ValveBent, finding.ThisVisit, "", finding.WorkValveRenew, "", false},
	finding.ObservedValveCoreLeaking:   {finding.ValveLeaking, finding.ThisVisit, "", finding.WorkValveRenew, "", false},
	finding.ObservedValveSeatLeaking:   {finding.ValveLeaking, finding.ThisVisit, "", finding.WorkValveRenew, "", false},
	finding.ObservedValveCorroded:      {finding.ValveCorroded, finding.ThisVisit, "", finding.WorkValveRenew, "", false},
	finding.ObservedValveUnderRated:    {finding.ValveUnderRated, finding.ThisVisit, "", finding.WorkValveRenew, "", false},
	finding.ObservedValveCapMissing:    {finding.ValveCapMissing, finding.Note, "", "", "", false},
	finding.ObservedValveExtension:     {finding.ValveExtension, finding.Note, "", "", "", false},
	finding.ObservedSensorNotAnswering: {finding.SensorNotAnswering, finding.Plan, "", finding.WorkSensorCheck, "", false},

	finding.ObservedBearingPlay:    {finding.ChassisBearingPlay, finding.BeforeDriving, "", finding.WorkReferBrakesHub, finding.CautionLifting, false},
	finding.ObservedSteeringPlay:   {finding.ChassisSteeringPlay, finding.BeforeDriving, "", finding.WorkReferSteeringSuspension, finding.CautionLifting, false},
	finding.ObservedSuspensionPlay: {finding.ChassisSuspensionPlay, finding.ThisVisit, "", finding.WorkReferSteeringSuspension, finding.CautionLifting, false},
	finding.ObservedPartBent:       {finding.ChassisPartBent, finding.BeforeDriving, "", finding.WorkReferSteeringSuspension, finding.CautionLifting, false},
	finding.ObservedDamperWeak:     {finding.ChassisDamperWeak, finding.Plan, "", finding.WorkReferSteeringSuspension, "", false},
	finding.ObservedBrakeDragging:  {finding.ChassisBrakeDragging, finding.ThisVisit, "", finding.WorkReferBrakesHub, "", false},
}

// at is where the damage lies: what is between two duals is of both.
func (d damage) at(p layout.Position) []layout.Position {
	if p.Dual != layout.Single && strings.HasPrefix(string(d.code), "dual.") || d.code == finding.DamageDualsRubbing && p.Dual != layout.Single {
		both := []layout.Position{p, p.Mate()}
		slices.SortFunc(both, layout.Position.Compare)
		return both
	}
	return []layout.Position{p}
}

// damaged judges the observations of one wheel.
func (j *judging) damaged(w visit.Wheel) {
	seen := map[finding.Code]bool{}
	// What is seen as the vehicle leaves is there, too.
	for _, o := range slices.Concat(w.Observations, w.ObservationsLeft) {
		d, known := damages[o.Kind]
		if !known || seen[d.code] {
			continue
		}
		seen[d.code] = true
		f := finding.Finding{
			Code: d.code, Urgency: d.urgency, Positions: d.at(w.Position), Caution: d.caution,
			Rule:  finding.Rule{Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory},
			Place: finding.Place{Across: o.Across, Part: o.Part, Side: o.Side},
		}
		if o.Size != nil {
			f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactDamageSize, Amount: o.Size.Amount(o.SizeUnit).Rounded()})
		}
		j.withLaw(&f, d.subject, w)
		if slices.ContainsFunc(j.out.Findings, func(g finding.Finding) bool { return g.ID() == f.ID() }) {
			continue // seen on the other tire of the pair too
		}
		j.find(f)
		j.do(d.work, d.at(w.Position)...)
		if d.scrap {
			j.finished[w.Position] = true
		}
		if o.Kind == finding.ObservedCut || o.Kind == finding.ObservedCutToCord {
			j.cutLimit(w, o)
		}
	}
}

// withLaw cites the first applying rule on the subject: a law in use before a
// model standard. The condition itself is seen, so nothing is compared.
func (j *judging) withLaw(f *finding.Finding, s rulebook.Subject, w visit.Wheel) {
	if s == "" {
		return
	}
	best := -1
	for _, b := range j.books {
		for _, l := range b.About(s) {
			if !l.AppliesTo(j.v.Vehicle, w.Position) || !l.Value.IsZero() {
				continue
			}
			rank := rankOf(l.Authority, b.Candidate)
			if rank > best {
				best = rank
				f.Rule, f.Candidate, f.Outcome = b.RuleOf(l), b.Candidate, measure.NotCompared
			}
		}
	}
}

func rankOf(a finding.Authority, candidate bool) int {
	switch {
	case a == finding.LawInUse && !candidate:
		return 3
	case a == finding.LawInUse:
		return 2
	}
	return 1
}

// cutLimit applies a law that allows a cut up to a length: longer than 25 mm or
// 10 percent of the section width, whichever is greater, and deep enough to
// reach ply or cord (reg. 27(1)(c)).
func (j *judging) cutLimit(w visit.Wheel, o visit.Observation) {
	if o.Size == nil {
		return
	}
	for _, b := range j.books {
		limits := b.About(rulebook.Cut)
		i := slices.IndexFunc(limits, func(l rulebook.Limit) bool { return l.Value.Unit == unit.Millimeters })
		share := slices.IndexFunc(limits, func(l rulebook.Limit) bool { return l.Value.Unit == unit.Percent })
		if i < 0 || share < 0 {
			continue
		}
		longest := CutLimit(limits[i].Length(), limits[share].Ratio(), w.Tire.Marking.SectionWidth)
		v := lengthGauge().Read(*o.Size)
		c := measure.AtMost(v, longest)
		if c.Outcome == measure.Below {
			continue
		}
		f := finding.Finding{Code: finding.DamageCutLimit, Urgency: finding.BeforeDriving, Positions: []layout.Position{w.Position},
			Rule: b.RuleOf(limits[i]), Candidate: b.Candidate, Caution: finding.CautionDamagedTire}
		if b.Candidate {
			f.Urgency = finding.ThisVisit
		}
		f = finding.Compared(f, v, longest, unit.Millimeters, c)
		if o.Kind != finding.ObservedCutToCord {
			// Long enough, but whether it reaches ply or cord is not told.
			f.Outcome, f.ToSettle = measure.CannotTell, finding.SettleProbeCut
		}
		j.find(f)
	}
}

// CutLimit is the longest cut that the rule allows: the fixed length or the
// share of the section width, whichever is greater. A width of zero is not known.
func CutLimit(fixed unit.Length, share unit.Ratio, width unit.Length) unit.Length {
	return max(fixed, unit.Length(float64(share)*float64(width)))
}

// lengthGauge is how well a cut or a distance on a tire is measured by hand.
func lengthGauge() measure.Gauge[unit.Length] {
	book := rulebook.Must("gauges")
	return measure.Gauge[unit.Length]{Resolution: book.Limit("length-graduation").Length(), Repeatability: book.Limit("length-repeatability").Length()}
}
