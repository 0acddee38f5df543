package questions

import (
	"cmp"
	"slices"
	"time"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/sensor"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// aMonth: a sound tire is aired no more often (common practice, from memory).
const aMonth = 30 * 24 * time.Hour

// AiredOften tells that a tire takes air more often than a sound one.
func AiredOften(every time.Duration) bool { return every < aMonth }

// ComplaintIn is what the customer notices, and what of the visit may speak for it.
type ComplaintIn struct {
	Complaints []visit.Complaint
	Vehicle    layout.Vehicle
	Lamp       inflation.Lamp // as found
	Wheels     []visit.Wheel
	Airs       Airs
	Causes     []Cause
}

// ComplaintAnswer is what to think of what the customer notices.
type ComplaintAnswer struct {
	Answer
	Unseen []Unseen
}

// Unseen are the wheels at which nobody looked where a complaint wants it.
type Unseen struct {
	Complaint finding.Complaint
	At        []layout.Position
}

// Complaints puts what the customer notices beside what this visit found: each
// has a line of its own, with what speaks for it and what to look at next.
func Complaints(in ComplaintIn) (out ComplaintAnswer) {
	all := slices.Clone(in.Complaints)
	slices.SortFunc(all, func(a, b visit.Complaint) int {
		return cmp.Or(cmp.Compare(a.Kind, b.Kind), a.At.Compare(b.At))
	})
	for len(all) > 0 {
		c := complaint{all[0], finding.ComplaintOf(all[0].Kind)}
		n := 1
		for ; n < len(all) && all[n].Kind == c.Kind && all[n].At == c.At; n++ {
			c.Complaint = and(c.Complaint, all[n])
		}
		all = all[n:]
		if c.kind.Code != "" && (!c.kind.UnlessLit || !in.Lamp.Lit()) { // a lamp that is on now is judged so
			out.one(c, in)
		}
	}
	return out
}

// and joins what was said of one thing twice.
func and(c, d visit.Complaint) visit.Complaint {
	c.Front, c.Rear, c.AiredOften = c.Front || d.Front, c.Rear || d.Rear, c.AiredOften || d.AiredOften
	if !slow(c.From) && slow(d.From) {
		c.From = d.From
	}
	if c.Sealant == visit.SealantNotAsked || d.Sealant == visit.SealantMayBurn {
		c.Sealant = d.Sealant
	}
	return c
}

// slowVibration is the speed under which a vibration is that of a tire out of
// round or coming apart, or of a bent wheel, more than of a balance weight
// (common practice, from memory).
const slowVibration = 30 // mph

func slow(from unit.Amount) bool {
	switch from.Unit {
	case unit.MilesPerHour:
		return from.Number < slowVibration
	case unit.KilometersPerHour:
		return from.Number < slowVibration*unit.MustDistance(1, unit.Miles).In(unit.Kilometers)
	}
	return false
}

// complaint is one thing the customer notices with what it means.
type complaint struct {
	visit.Complaint
	kind finding.ComplaintKind
}

func (c complaint) about(p layout.Position) bool { return c.At == (layout.Position{}) || c.At == p }

func (a *ComplaintAnswer) one(c complaint, in ComplaintIn) {
	k := finding.KindOf(c.kind.Code)
	f := finding.Finding{Code: k.Code, Urgency: k.Urgency, Rule: practice, ToSettle: c.kind.Settle, Caution: k.Caution}
	f.Positions = c.About()
	if c.Kind == finding.NoticedVibration {
		f.ToSettle = c.vibration()
	}
	f.Evidence = c.evidence(in)
	for _, cause := range in.Causes {
		if _, speaks := c.spokenFor(cause, in.Vehicle); speaks && c.kind.Told != "" && finding.KindOf(cause.Code).Again == finding.AgainAcross {
			a.Beside = append(a.Beside, Beside{cause.Finding, finding.Evidence{Code: c.kind.Told}})
		}
	}
	unseen := visit.Unseen(in.Vehicle, in.Wheels, c.kind, c.At)
	if len(unseen) > 0 {
		a.Unseen = append(a.Unseen, Unseen{c.Kind, unseen})
	} else if len(c.kind.Looks) > 0 && len(f.Evidence) == 0 {
		f.Evidence = []finding.Evidence{{Code: finding.FactComplaintLookedAtNothingFound, Against: true}}
	}
	slices.SortStableFunc(f.Evidence, func(a, b finding.Evidence) int { return cmp.Compare(a.Code, b.Code) })
	a.find(f)
}

// spokenFor gives the evidence that a cause is for the complaint.
func (c complaint) spokenFor(by Cause, v layout.Vehicle) (as finding.Fact, speaks bool) {
	as, speaks = c.kind.SpeaksFor(by.Code)
	return as, speaks && by.Rank <= 1 && slices.ContainsFunc(by.At, c.about) && (!c.kind.Front || slices.ContainsFunc(by.At, v.Front))
}

// evidence is what of the visit speaks for the complaint, or against it.
func (c complaint) evidence(in ComplaintIn) (es []finding.Evidence) {
	say := func(code finding.Fact) {
		e := finding.Evidence{Code: code}
		if !slices.Contains(es, e) {
			es = append(es, e)
		}
	}
	for _, cause := range in.Causes {
		if as, speaks := c.spokenFor(cause, in.Vehicle); speaks {
			say(as)
		}
	}
	for _, w := range in.Wheels {
		if c.about(w.Position) && w.Has(c.kind.Seen...) {
			say(c.kind.SeenAs)
		}
	}
	switch c.Kind {
	case finding.NoticedPullsLeft, finding.NoticedPullsRight:
		es = append(es, in.softer(c.Kind == finding.NoticedPullsLeft)...)
	case finding.NoticedSlowLeak:
		if c.AiredOften {
			say(finding.FactComplaintAiredOften)
		}
	}
	return es
}

func (c complaint) vibration() finding.Settle {
	switch {
	case slow(c.From):
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
func (in ComplaintIn) softer(left bool) []finding.Evidence {
	side := layout.Position{Axle: 1, Side: layout.Left}
	l, r := in.Airs.Wheels[side], in.Airs.Wheels[side.Mirror()]
	if in.Vehicle.Class == layout.Trailer || l.Read == unit.None || r.Read == unit.None {
		return nil
	}
	if !sensor.Apart(l.Gauge.Read(l.Found), r.Gauge.Read(r.Found)) {
		return nil
	}
	diff, soft := l.Found-r.Found, l
	if diff > 0 {
		soft = r
	}
	return []finding.Evidence{{
		Code: finding.FactComplaintSofterSide, Amount: soft.Shown(max(diff, -diff)), Against: (diff < 0) != left,
	}}
}
