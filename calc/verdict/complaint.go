package verdict

import (
	"cmp"
	"slices"
	"time"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/sensor"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// aMonth: a sound tire is aired no more often (common practice, from memory).
const aMonth = 30 * 24 * time.Hour

// AiredOften tells that a tire takes air more often than a sound one.
func AiredOften(every time.Duration) bool { return every < aMonth }

// complaints puts what the customer notices beside what this visit found: each
// has a line of its own, with what speaks for it and what to look at next.
func (j *judging) complaints() {
	all := slices.SortedFunc(slices.Values(j.v.Complaints), func(a, b visit.Complaint) int {
		return cmp.Or(cmp.Compare(a.Kind, b.Kind), a.At.Compare(b.At))
	})
	found := slices.Clone(j.out.Findings)
	for len(all) > 0 {
		c := all[0]
		n := 1
		for ; n < len(all) && all[n].Kind == c.Kind && all[n].At == c.At; n++ {
			c = and(c, all[n])
		}
		all = all[n:]
		if kind := finding.ComplaintOf(c.Kind); kind.Code != "" {
			j.complained(c, kind, found)
		}
	}
}

// and joins what was said of one thing twice.
func and(c, d visit.Complaint) visit.Complaint {
	c.Front, c.Rear, c.AiredOften = c.Front || d.Front, c.Rear || d.Rear, c.AiredOften || d.AiredOften
	if !slow(c) && slow(d) {
		c.From = d.From
	}
	return c
}

// slowVibration is the speed under which a vibration is that of a tire out of
// round or coming apart, or of a bent wheel, more than of a balance weight
// (common practice, from memory).
const slowVibration = 30 // mph

func slow(c visit.Complaint) bool {
	switch c.From.Unit {
	case unit.MilesPerHour:
		return c.From.Number < slowVibration
	case unit.KilometersPerHour:
		return c.From.Number < slowVibration*unit.MustDistance(1, unit.Miles).In(unit.Kilometers)
	}
	return false
}

func about(c visit.Complaint, p layout.Position) bool {
	return c.At == (layout.Position{}) || c.At == p
}

func (j *judging) complained(c visit.Complaint, kind finding.ComplaintKind, found []finding.Finding) {
	if kind.UnlessLit && j.v.Lamp.Lit() {
		return // it is on now, and judged so
	}
	row := finding.KindOf(kind.Code)
	f := finding.Finding{Code: row.Code, Urgency: row.Urgency, Rule: practice, ToSettle: kind.Settle, Caution: row.Caution}
	if c.At != (layout.Position{}) {
		f.Positions = []layout.Position{c.At}
	}
	say := func(code finding.Fact, against bool) {
		e := finding.Evidence{Code: code, Against: against}
		if !slices.Contains(f.Evidence, e) {
			f.Evidence = append(f.Evidence, e)
		}
	}
	for _, g := range found {
		code, speaks := kind.SpeaksFor(g.Code)
		if !speaks || g.Rank > 1 || !slices.ContainsFunc(g.Positions, func(p layout.Position) bool { return about(c, p) }) || kind.Front && !slices.ContainsFunc(g.Positions, j.v.Vehicle.Front) {
			continue
		}
		say(code, false)
		j.tellBack(g, kind.Told)
	}
	for _, w := range j.v.Wheels {
		if about(c, w.Position) && w.Has(kind.Seen...) {
			say(kind.SeenAs, false)
		}
	}
	switch c.Kind {
	case finding.NoticedPullsLeft, finding.NoticedPullsRight:
		f.Evidence = append(f.Evidence, j.softer(c.Kind == finding.NoticedPullsLeft)...)
	case finding.NoticedVibration:
		f.ToSettle = vibration(c)
	case finding.NoticedSlowLeak:
		if c.AiredOften {
			say(finding.FactComplaintAiredOften, false)
		}
		j.leaks(c)
	case finding.NoticedSealantUsed:
		j.work.add(Work{Code: row.Work, Positions: f.Positions})
		if j.v.Watched() && !c.At.Spare {
			j.do(finding.WorkSensorCheck, f.Positions...)
		}
	}
	if open := j.lookNext(c, kind); len(kind.Looks) > 0 && len(open) == 0 && len(f.Evidence) == 0 {
		say(finding.FactComplaintLookedAtNothingFound, true)
	}
	slices.SortStableFunc(f.Evidence, func(a, b finding.Evidence) int { return cmp.Compare(a.Code, b.Code) })
	j.find(f)
}

// tellBack puts the complaint beside the cause of wear that it speaks for.
func (j *judging) tellBack(g finding.Finding, code finding.Fact) {
	if code == "" || finding.KindOf(g.Code).Again != finding.AgainAcross {
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
func (j *judging) lookNext(c visit.Complaint, kind finding.ComplaintKind) (open []layout.Position) {
	if len(kind.Looks) == 0 {
		return nil
	}
	all := j.v.Vehicle.Positions()
	if c.At != (layout.Position{}) {
		all = []layout.Position{c.At}
	}
	for _, p := range all {
		i := slices.IndexFunc(j.v.Wheels, func(w visit.Wheel) bool { return w.Position == p })
		if i >= 0 && !slices.ContainsFunc(kind.Looks, func(place finding.Looked) bool { return !j.v.Wheels[i].LookedAt(place) }) {
			continue
		}
		if kind.Look == finding.WorkFastenersLook && (p.Dual == layout.Inner || p.Spare) {
			continue // they are those of the outer wheel
		}
		open = append(open, p)
	}
	if len(open) > 0 {
		j.work.add(Work{Code: kind.Look, Urgency: finding.ThisVisit, Positions: open})
	}
	return open
}

func vibration(c visit.Complaint) finding.Settle {
	switch {
	case slow(c):
		return finding.SettleVibrationSlow
	case c.Front && !c.Rear:
		return finding.SettleVibrationFront
	case c.Rear && !c.Front:
		return finding.SettleVibrationRear
	}
	return finding.SettleVibration
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
		Code: finding.FactComplaintSofterSide, Amount: l.Shown(max(diff, -diff)), Against: (diff < 0) != left,
	}}
}

// leaks looks for the leak at the wheel that is told.
func (j *judging) leaks(c visit.Complaint) {
	p := c.At
	_, hurt := j.repair[p]
	if p != (layout.Position{}) && !hurt && !j.finished[p] && !j.air[p].Deflate && !j.air[p].NoAir {
		j.do(finding.WorkAirFindLeak, p)
	}
}
