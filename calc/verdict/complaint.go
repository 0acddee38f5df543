package verdict

import (
	"cmp"
	"maps"
	"slices"
	"strings"
	"time"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/sensor"
	"gaugebook.dev/calc/unit"
)

// Complaint is one thing the customer notices. Kind is the contract's kind in
// lower case: "hit-something".
type Complaint struct {
	Kind       finding.Code
	At         layout.Position // the zero position when not told
	From       unit.Amount     // lowest speed at which it is noticed, zero when not told
	Front      bool            // felt in the steering wheel, or heard from the front
	Rear       bool            // felt in the seat, or heard from the rear
	AiredOften bool            // aired more than once a month
}

// aMonth: a sound tire is aired no more often (common practice, from memory).
const aMonth = 30 * 24 * time.Hour

// AiredOften tells that a tire takes air more often than a sound one.
func AiredOften(every time.Duration) bool { return every < aMonth }

// noticed is what a complaint means by itself, and what of a visit speaks for it
// (common practice). It is evidence: it ranks no cause and makes nothing milder.
type noticed struct {
	urgency finding.Urgency
	settle  finding.Code
	caution finding.Code
	causes  map[finding.Code]finding.Code // evidence by finding
	front   bool                          // only those at the front axle speak for it
	looks   []finding.Code                // places to be looked at all round before it is let go
}

// What of a visit a complaint may stand on.
const (
	oneEdge    finding.Code = "complaint.one-edge-worn"
	notSquare  finding.Code = "complaint.axle-not-square"
	looseParts finding.Code = "complaint.loose-part"
	bentPart   finding.Code = "complaint.bent-part"
	brakeDrags finding.Code = "complaint.brake-drags"
	otherTire  finding.Code = "complaint.tires-differ"
	unround    finding.Code = "complaint.not-round"
	scalloped  finding.Code = "complaint.scalloped"
	flatSpot   finding.Code = "complaint.flat-spot"
	apart      finding.Code = "complaint.coming-apart"
	bentWheel  finding.Code = "complaint.bent-wheel"
	looseWheel finding.Code = "complaint.loose-fastener"
	feathered  finding.Code = "complaint.feathered"
	heelAndToe finding.Code = "complaint.heel-and-toe"
	airShort   finding.Code = "complaint.air-short"
	leakFound  finding.Code = "complaint.leak-found"
	struck     finding.Code = "complaint.struck"
)

var (
	alignments = map[finding.Code]finding.Code{
		"wear.toe-in": oneEdge, "wear.toe-out": oneEdge, "wear.camber-negative": oneEdge, "wear.camber-positive": oneEdge, "wear.one-corner": oneEdge,
		"wear.edge-beyond-grooves": oneEdge, "wear.axle-not-square": notSquare, "chassis.part-bent": bentPart,
		"chassis.steering-play": looseParts, "chassis.suspension-play": looseParts,
	}
	separations = map[finding.Code]finding.Code{
		"damage.bulge": apart, "damage.separation": apart, "damage.radial-ripple": apart, "damage.retread-edge-lifting": apart,
		"wear.flat-spot": flatSpot, "wear.flat-spot-locked-wheel": flatSpot, "wear.not-round": unround,
	}
	roughRunning = map[finding.Code]finding.Code{
		"wear.scalloped": scalloped, "wear.diagonal-dips": scalloped, "wheel.bent": bentWheel, "wheel.crack": bentWheel, "chassis.part-bent": bentPart,
		"chassis.bearing-play": looseParts, "chassis.steering-play": looseParts, "chassis.suspension-play": looseParts, "chassis.damper-weak": looseParts,
		"fastener.loose": looseWheel, "fastener.missing": looseWheel, "fastener.broken": looseWheel, "fastener.stretched": looseWheel,
	}
	shortOfAir = map[finding.Code]finding.Code{
		inflation.Low: airShort, inflation.BelowLabel: airShort, inflation.LabelWhileWarm: airShort, inflation.FindLeak: airShort,
		inflation.Flat: airShort, inflation.RunLow: airShort, inflation.RunLowUndecided: airShort, inflation.AtLampThreshold: airShort,
	}
	wholeTire  = []finding.Code{"tread-full-turn", "outer-sidewall", "inner-sidewall"}
	wholeWheel = append(slices.Clone(wholeTire), "wheel-face", "wheel-barrel")
)

func with(ms ...map[finding.Code]finding.Code) map[finding.Code]finding.Code {
	all := map[finding.Code]finding.Code{}
	for _, m := range ms {
		maps.Copy(all, m)
	}
	return all
}

var pulls = with(alignments, map[finding.Code]finding.Code{"chassis.brake-dragging": brakeDrags, "wear.different-tire": otherTire, "tread.axle-difference": otherTire})

var complaintKinds = map[finding.Code]noticed{
	"pulls-left":                {finding.Plan, "settle.pull", "", pulls, true, nil},
	"pulls-right":               {finding.Plan, "settle.pull", "", pulls, true, nil},
	"steering-wheel-off-center": {finding.Plan, "settle.off-center", "", alignments, false, nil},
	"vibration":                 {finding.ThisVisit, "settle.vibration", "", with(separations, roughRunning), false, []finding.Code{"fasteners"}},
	"hum-rising-with-speed": {finding.Plan, "settle.hum", "", with(map[finding.Code]finding.Code{
		"wear.scalloped": scalloped, "wear.diagonal-dips": scalloped, "wear.heel-and-toe": heelAndToe, "chassis.bearing-play": looseParts}), false, nil},
	"thump":     {finding.ThisVisit, "settle.thump", cautionLookFirst, separations, false, wholeTire},
	"slow-leak": {finding.Plan, "settle.leak", "", with(shortOfAir, map[finding.Code]finding.Code{"inflation.audible-leak": leakFound, "valve.leaking": leakFound, "wheel.leaking": leakFound, "wheel.bead-seat-corroded": leakFound}), false, nil},
	"hit-something": {finding.ThisVisit, "settle.hit", cautionLookFirst, with(map[finding.Code]finding.Code{
		"damage.bulge": apart, "damage.separation": apart, "damage.cut": struck, "damage.cut-to-cord": struck, "damage.curb-scuff": struck, "damage.rubbing": struck,
		"wheel.bent": bentWheel, "wheel.crack": bentWheel, "chassis.part-bent": bentPart}), false, wholeWheel},
	"lamp-steady":             {finding.ThisVisit, "settle.lamp-told", "", shortOfAir, false, nil},
	"lamp-flashing":           {finding.ThisVisit, "settle.lamp-told", "", map[finding.Code]finding.Code{"sensor.not-answering": "complaint.sensor-silent", "sensor.battery-low": "complaint.sensor-silent"}, false, nil},
	"lamp-cold-mornings-only": {finding.Plan, "settle.cold-mornings", "", shortOfAir, false, nil},
	"sealant-used":            {finding.ThisVisit, "settle.which-sealant", puncture.CautionSealant, nil, false, nil},
}

const (
	lookAround    finding.Code = "tire.look-all-round"
	lookFasteners finding.Code = "fasteners.look"
	askSealant    finding.Code = "sealant.ask-first"

	cautionLookFirst finding.Code = "caution.look-before-air"
)

// complaints puts what the customer notices beside what this visit found: each
// has a line of its own, with what speaks for it and what to look at next.
func (j *judging) complaints() {
	all := slices.SortedFunc(slices.Values(j.v.Complaints), func(a, b Complaint) int {
		return cmp.Or(cmp.Compare(a.Kind, b.Kind), a.At.Compare(b.At))
	})
	found := slices.Clone(j.out.Findings)
	for len(all) > 0 {
		c := all[0]
		n := 1
		for ; n < len(all) && all[n].Kind == c.Kind && all[n].At == c.At; n++ {
			c = c.and(all[n])
		}
		all = all[n:]
		if kind, known := complaintKinds[c.Kind]; known {
			j.complained(c, kind, found)
		}
	}
}

// and joins what was said of one thing twice.
func (c Complaint) and(d Complaint) Complaint {
	c.Front, c.Rear, c.AiredOften = c.Front || d.Front, c.Rear || d.Rear, c.AiredOften || d.AiredOften
	if !c.slow() && d.slow() {
		c.From = d.From
	}
	return c
}

// slowVibration is the speed under which a vibration is that of a tire out of
// round or coming apart, or of a bent wheel, more than of a balance weight
// (common practice, from memory).
const slowVibration = 30 // mph

func (c Complaint) slow() bool {
	switch c.From.Unit {
	case unit.MilesPerHour:
		return c.From.Number < slowVibration
	case unit.KilometersPerHour:
		return c.From.Number < slowVibration*unit.MustDistance(1, unit.Miles).In(unit.Kilometers)
	}
	return false
}

func (c Complaint) about(p layout.Position) bool { return c.At == (layout.Position{}) || c.At == p }

func (j *judging) complained(c Complaint, kind noticed, found []finding.Finding) {
	if strings.HasPrefix(string(c.Kind), "lamp-") && c.Kind != "lamp-cold-mornings-only" && lit(j.v.Lamp) {
		return // it is on now, and judged so
	}
	f := finding.Finding{Code: "complaint." + c.Kind, Urgency: kind.urgency, Rule: practice, ToSettle: kind.settle, Caution: kind.caution}
	if c.At != (layout.Position{}) {
		f.Positions = []layout.Position{c.At}
	}
	say := func(code finding.Code, against bool) {
		e := finding.Evidence{Code: code, Against: against}
		if !slices.Contains(f.Evidence, e) {
			f.Evidence = append(f.Evidence, e)
		}
	}
	for _, g := range found {
		code, speaks := kind.causes[g.Code]
		if !speaks || g.Rank > 1 || !slices.ContainsFunc(g.Positions, c.about) || kind.front && !slices.ContainsFunc(g.Positions, j.v.Vehicle.Front) {
			continue
		}
		say(code, false)
		j.tellBack(g, "told."+c.Kind)
	}
	for _, w := range j.v.Wheels {
		if c.Kind == "hum-rising-with-speed" && c.about(w.Position) && w.has("feathered", "feathered-sharp-toward-vehicle", "feathered-sharp-away") {
			say(feathered, false)
		}
		if c.Kind == "slow-leak" && c.about(w.Position) && w.has("object-in-tread", "object-removed", "injury") {
			say(leakFound, false)
		}
	}
	switch c.Kind {
	case "pulls-left", "pulls-right":
		f.Evidence = append(f.Evidence, j.softer(c.Kind == "pulls-left")...)
	case "vibration":
		f.ToSettle = c.vibration()
	case "slow-leak":
		if c.AiredOften {
			say("complaint.aired-often", false)
		}
		j.leaks(c)
	case "sealant-used":
		j.work.add(Work{Code: askSealant, Positions: f.Positions, Caution: kind.caution})
		if j.watched() && !c.At.Spare {
			j.do(answerSensor, f.Positions...)
		}
	}
	if open := j.lookNext(c, kind.looks); len(kind.looks) > 0 && len(open) == 0 && len(f.Evidence) == 0 {
		say("complaint.looked-at-nothing-found", true)
	}
	slices.SortStableFunc(f.Evidence, func(a, b finding.Evidence) int { return cmp.Compare(a.Code, b.Code) })
	j.find(f)
}

// tellBack puts the complaint beside the cause of wear that it speaks for.
func (j *judging) tellBack(g finding.Finding, code finding.Code) {
	if !strings.HasPrefix(string(g.Code), "wear.") {
		return
	}
	for i := range j.out.Findings {
		f := &j.out.Findings[i]
		if f.ID() == g.ID() && !slices.ContainsFunc(f.Evidence, func(e finding.Evidence) bool { return e.Code == code }) {
			f.Evidence = slices.Concat(f.Evidence, []finding.Evidence{{Code: code}})
		}
	}
}

// lookNext asks for the places that a complaint wants looked at and that nobody
// looked at, and gives the wheels where that is so.
func (j *judging) lookNext(c Complaint, places []finding.Code) (open []layout.Position) {
	if len(places) == 0 {
		return nil
	}
	all := j.v.Vehicle.Positions()
	if c.At != (layout.Position{}) {
		all = []layout.Position{c.At}
	}
	code := lookAround
	if slices.Contains(places, "fasteners") {
		code = lookFasteners
	}
	for _, p := range all {
		i := slices.IndexFunc(j.v.Wheels, func(w Wheel) bool { return w.Position == p })
		if i >= 0 && !slices.ContainsFunc(places, func(place finding.Code) bool { return !j.v.Wheels[i].lookedAt(place) }) {
			continue
		}
		if code == lookFasteners && (p.Dual == layout.Inner || p.Spare) {
			continue // they are those of the outer wheel
		}
		open = append(open, p)
	}
	if len(open) > 0 {
		j.work.add(Work{Code: code, Urgency: finding.ThisVisit, Positions: open})
	}
	return open
}

func (c Complaint) vibration() finding.Code {
	switch {
	case c.slow():
		return "settle.vibration-slow"
	case c.Front && !c.Rear:
		return "settle.vibration-front"
	case c.Rear && !c.Front:
		return "settle.vibration-rear"
	}
	return "settle.vibration"
}

// softer is the front axle's difference in pressure, where it is provable: a
// vehicle pulls to the side of the softer tire.
func (j *judging) softer(left bool) []finding.Evidence {
	side := layout.Position{Axle: 1, Side: layout.Left}
	l, r := j.airIn[side], j.airIn[side.Mirror()]
	if j.v.Vehicle.Class == layout.Trailer || l.Read == unit.None || r.Read == unit.None {
		return nil
	}
	if !sensor.Apart(l.Gauge.Read(l.Found), r.Gauge.Read(r.Found)) {
		return nil
	}
	diff := l.Found - r.Found
	return []finding.Evidence{{
		Code: "complaint.softer-side", Amount: max(diff, -diff).Amount(j.unitOf(side)).Rounded(), Against: (diff < 0) != left,
	}}
}

// leaks looks for the leak at the wheel that is told.
func (j *judging) leaks(c Complaint) {
	p := c.At
	_, hurt := j.repair[p]
	if p != (layout.Position{}) && !hurt && !j.finished[p] && !j.air[p].Deflate && !j.air[p].NoAir {
		j.do(findLeak, p)
	}
}
