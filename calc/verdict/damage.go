package verdict

import (
	"slices"
	"strings"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
)

// damage is what an observation means by itself, whatever the readings say:
// cord, a bulge or a separation outranks every depth. Observations that are not
// listed are evidence for other questions (wear causes, run low, repair).
type damage struct {
	code    finding.Code
	urgency finding.Urgency
	subject rulebook.Subject // the conditions that a law forbids outright, "" for practice only
	work    finding.Code     // what sets it right
	caution finding.Code
	scrap   bool // the tire is finished by it
}

// Work that damage calls for.
const (
	replaceTire    finding.Code = "tire.replace"
	demountInspect finding.Code = "tire.demount-inspect"
	lookClosely    finding.Code = "tire.look-closely"
	replaceWheel   finding.Code = "wheel.replace"
	fastenersRight finding.Code = "fasteners.put-right"
	renewValve     finding.Code = "valve.renew"
	referSteering  finding.Code = "refer.steering-suspension"
	referBrakes    finding.Code = "refer.brakes-hub"
	clearObstacle  finding.Code = "wheel.clear-space"
	cleanBeadSeat  finding.Code = "wheel.clean-bead-seat"
	answerSensor   finding.Code = "sensor.check"
	cautionNoAir   finding.Code = "caution.damaged-tire"
	cautionWheel   finding.Code = "caution.wheel-fastening"
	cautionZipper  finding.Code = "caution.zipper"
	cautionLifting finding.Code = "caution.lifting"
	cautionBulge   finding.Code = "caution.bulge"
)

// damages are the urgencies of common practice, by kind of observation.
var damages = map[finding.Code]damage{
	"cord-showing":           {"damage.cord-showing", finding.BeforeDriving, rulebook.CordExposed, replaceTire, cautionNoAir, true},
	"separation":             {"damage.separation", finding.BeforeDriving, rulebook.Separation, replaceTire, cautionBulge, true},
	"bulge":                  {"damage.bulge", finding.BeforeDriving, rulebook.Separation, replaceTire, cautionBulge, true},
	"cut-to-cord":            {"damage.cut-to-cord", finding.BeforeDriving, rulebook.Cut, replaceTire, cautionNoAir, true},
	"cut":                    {"damage.cut", finding.ThisVisit, "", lookClosely, "", false},
	"chunking":               {"damage.chunking", finding.ThisVisit, "", lookClosely, "", false},
	"torn-lug":               {"damage.torn-lug", finding.ThisVisit, "", lookClosely, "", false},
	"edge-worn-smooth":       {"damage.edge-worn-smooth", finding.ThisVisit, "", lookClosely, "", false},
	"retread-edge-lifting":   {"damage.retread-edge-lifting", finding.BeforeDriving, rulebook.Separation, replaceTire, cautionNoAir, true},
	"stone-drilling":         {"damage.stone-drilling", finding.Note, "", "", "", false},
	"inward-dent":            {"damage.inward-dent", finding.Note, "", "", "", false},
	"curb-scuff":             {"damage.curb-scuff", finding.Note, "", "", "", false},
	"cracks-fine":            {"damage.cracks-fine", finding.Note, "", "", "", false},
	"cracks-open":            {"damage.cracks-open", finding.ThisVisit, "", lookClosely, "", false},
	"cracks-joined":          {"damage.cracks-joined", finding.ThisVisit, "", replaceTire, cautionNoAir, true},
	"cracks-to-cord":         {"damage.cracks-to-cord", finding.BeforeDriving, rulebook.CordExposed, replaceTire, cautionNoAir, true},
	"rubbing-on-vehicle":     {"damage.rubbing", finding.BeforeDriving, "", referSteering, cautionLifting, false},
	"rubbing-on-mate":        {"damage.duals-rubbing", finding.BeforeDriving, "", clearObstacle, cautionLifting, false},
	"radial-ripple":          {"damage.radial-ripple", finding.BeforeDriving, rulebook.Separation, replaceTire, cautionZipper, true},
	"blistering-or-swelling": {"damage.blistering", finding.BeforeDriving, rulebook.Separation, replaceTire, cautionNoAir, true},
	"bead-torn-or-kinked":    {"damage.bead", finding.BeforeDriving, "", replaceTire, cautionNoAir, true},
	"liner-split":            {"damage.liner-split", finding.BeforeDriving, "", replaceTire, cautionNoAir, true},

	"wheel-crack":               {"wheel.crack", finding.BeforeDriving, rulebook.WheelCondition, replaceWheel, cautionWheel, false},
	"wheel-holes-elongated":     {"wheel.holes-elongated", finding.BeforeDriving, rulebook.WheelCondition, replaceWheel, cautionWheel, false},
	"wheel-welded":              {"wheel.welded", finding.BeforeDriving, rulebook.WheelCondition, replaceWheel, cautionWheel, false},
	"wheel-bent-outer-lip":      {"wheel.bent", finding.ThisVisit, "", replaceWheel, "", false},
	"wheel-bent-inner-lip":      {"wheel.bent", finding.ThisVisit, "", replaceWheel, "", false},
	"wheel-bead-seat-corrosion": {"wheel.bead-seat-corroded", finding.ThisVisit, "", cleanBeadSeat, "", false},
	"wheel-leaking":             {"wheel.leaking", finding.ThisVisit, "", replaceWheel, "", false},
	"wheel-wrong-width":         {"wheel.wrong-width", finding.ThisVisit, "", replaceWheel, "", false},
	"fastener-missing":          {"fastener.missing", finding.BeforeDriving, rulebook.FastenersRule, fastenersRight, cautionWheel, false},
	"fastener-loose":            {"fastener.loose", finding.BeforeDriving, rulebook.FastenersRule, fastenersRight, cautionWheel, false},
	"stud-broken":               {"fastener.broken", finding.BeforeDriving, rulebook.FastenersRule, fastenersRight, cautionWheel, false},
	"stud-stretched":            {"fastener.stretched", finding.BeforeDriving, rulebook.FastenersRule, fastenersRight, cautionWheel, false},
	"fastener-rust-streaks":     {"fastener.rust-streaks", finding.ThisVisit, "", fastenersRight, cautionWheel, false},
	"fastener-wrong-seat":       {"fastener.wrong-seat", finding.BeforeDriving, "", fastenersRight, cautionWheel, false},
	"capped-nut-swollen":        {"fastener.capped-nut-swollen", finding.Note, "", "", "", false},
	"spacer-or-adapter":         {"wheel.spacer", finding.Note, "", "", "", false},
	"grease-on-inner-side":      {"wheel.grease-inside", finding.ThisVisit, "", referBrakes, "", false},
	"duals-touching":            {"dual.touching", finding.BeforeDriving, "", clearObstacle, cautionLifting, false},
	"duals-too-close":           {"dual.too-close", finding.ThisVisit, "", clearObstacle, "", false},
	"object-between-duals":      {"dual.object-between", finding.BeforeDriving, "", clearObstacle, cautionLifting, false},
	"dual-valve-blocked":        {"dual.valve-blocked", finding.ThisVisit, "", clearObstacle, "", false},

	"valve-cracked":        {"valve.cracked", finding.ThisVisit, "", renewValve, "", false},
	"valve-bent":           {"valve.bent", finding.ThisVisit, "", renewValve, "", false},
	"valve-core-leaking":   {"valve.leaking", finding.ThisVisit, "", renewValve, "", false},
	"valve-seat-leaking":   {"valve.leaking", finding.ThisVisit, "", renewValve, "", false},
	"valve-corroded":       {"valve.corroded", finding.ThisVisit, "", renewValve, "", false},
	"valve-under-rated":    {"valve.under-rated", finding.ThisVisit, "", renewValve, "", false},
	"valve-cap-missing":    {"valve.cap-missing", finding.Note, "", "", "", false},
	"valve-extension":      {"valve.extension", finding.Note, "", "", "", false},
	"sensor-not-answering": {"sensor.not-answering", finding.Plan, "", answerSensor, "", false},

	"bearing-play":    {"chassis.bearing-play", finding.BeforeDriving, "", referBrakes, cautionLifting, false},
	"steering-play":   {"chassis.steering-play", finding.BeforeDriving, "", referSteering, cautionLifting, false},
	"suspension-play": {"chassis.suspension-play", finding.ThisVisit, "", referSteering, cautionLifting, false},
	"part-bent":       {"chassis.part-bent", finding.BeforeDriving, "", referSteering, cautionLifting, false},
	"damper-weak":     {"chassis.damper-weak", finding.Plan, "", referSteering, "", false},
	"brake-dragging":  {"chassis.brake-dragging", finding.ThisVisit, "", referBrakes, "", false},
}

// at is where the damage lies: what is between two duals is of both.
func (d damage) at(p layout.Position) []layout.Position {
	if p.Dual != layout.Single && strings.HasPrefix(string(d.code), "dual.") || d.code == "damage.duals-rubbing" && p.Dual != layout.Single {
		both := []layout.Position{p, p.Mate()}
		slices.SortFunc(both, layout.Position.Compare)
		return both
	}
	return []layout.Position{p}
}

// Evidence and measurements about damage.
const (
	sizeSeen      finding.Code = "damage.size"
	probeCut      finding.Code = "settle.probe-cut"
	sectionWidth  finding.Code = "damage.share-of-section-width"
	cutCode       finding.Code = "damage.cut-limit"
	cordReachedBy finding.Code = "cut-to-cord"
)

// damaged judges the observations of one wheel.
func (j *judging) damaged(w Wheel) {
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
			f.Evidence = append(f.Evidence, finding.Evidence{Code: sizeSeen, Amount: o.Size.Amount(o.SizeUnit).Rounded()})
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
		if o.Kind == "cut" || o.Kind == cordReachedBy {
			j.cutLimit(w, o)
		}
	}
}

// withLaw cites the first applying rule on the subject: a law in use before a
// model standard. The condition itself is seen, so nothing is compared.
func (j *judging) withLaw(f *finding.Finding, s rulebook.Subject, w Wheel) {
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
func (j *judging) cutLimit(w Wheel, o Observation) {
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
		f := finding.Finding{Code: cutCode, Urgency: finding.BeforeDriving, Positions: []layout.Position{w.Position},
			Rule: b.RuleOf(limits[i]), Candidate: b.Candidate, Caution: cautionNoAir}
		if b.Candidate {
			f.Urgency = finding.ThisVisit
		}
		f = finding.Compared(f, v, longest, unit.Millimeters, c)
		if o.Kind != cordReachedBy {
			// Long enough, but whether it reaches ply or cord is not told.
			f.Outcome, f.ToSettle = measure.CannotTell, probeCut
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
