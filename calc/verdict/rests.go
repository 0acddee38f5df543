package verdict

import (
	"cmp"
	"math"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/order"
	"gaugebook.dev/calc/unit"
)

// Fact is one thing that a headline rests on: findings of a kind, on one wheel or several.
type Fact struct {
	Code            finding.Code
	Positions       []layout.Position // of all of them, in order
	Worst           []layout.Position // that the amounts are of, in order
	Measured, Limit unit.Amount
	Read, Label     unit.Amount // of a pressure: by the gauge, and what the label asks for; zero for others
	Differ          bool        // the others measured otherwise
}

// Plan is what comes of a headline: lines of the order of work.
type Plan struct {
	First order.Work   // the first thing to do; none where nothing is to be done
	Ask   order.Work   // the OK that is needed before it goes on: to look where anything is looked at
	Quote []order.Work // what could follow, and is bought
	Back  []order.Work // what to come back for
}

// most is how many facts a headline has: a row says no more.
const most = 3

// FactsOf are what of open findings a headline rests on: at its wheels those that hold the
// vehicle or leave that open, then what a gauge read, then the rest, and each wheel before
// one is named again; of a vehicle that nothing holds the most urgent.
func FactsOf(open []finding.Finding, h Headline) (all []Fact) {
	about := func(f finding.Finding) bool {
		return h.Hold == NoHoldFound || len(h.Positions) == 0 ||
			slices.ContainsFunc(f.Positions, func(p layout.Position) bool { return slices.Contains(h.Positions, p) })
	}
	open = slices.DeleteFunc(slices.Clone(open), func(f finding.Finding) bool {
		return f.Urgency == finding.Note || f.Rank > 1 || h.Hold != NoHoldFound && f.Urgency == finding.Plan || !about(f)
	})
	var told []layout.Position
	fresh := func(o Fact) bool {
		return slices.ContainsFunc(o.Positions, func(p layout.Position) bool { return !slices.Contains(told, p) })
	}
	kinds := ofKinds(open)
	for _, wanted := range []func(Fact) bool{fresh, func(Fact) bool { return true }} {
		for _, o := range kinds {
			if len(all) < most && wanted(o) && !slices.ContainsFunc(all, func(a Fact) bool { return a.Code == o.Code }) {
				all, told = append(all, o), append(told, o.Positions...)
			}
		}
	}
	return all
}

// ofKinds are findings by their kinds, each of all of its wheels: by rank, then those of
// more wheels first. No side of the vehicle comes before the other.
func ofKinds(open []finding.Finding) (all []Fact) {
	ranks := map[finding.Code]int{}
	for _, f := range open {
		i := slices.IndexFunc(all, func(o Fact) bool { return o.Code == f.Code })
		switch {
		case i < 0:
			all, ranks[f.Code] = append(all, factOf(f)), rank(f)
			continue
		case !slices.ContainsFunc(all[i].Positions, func(p layout.Position) bool { return slices.Contains(f.Positions, p) }):
			all[i].join(f)
		}
		ranks[f.Code] = min(ranks[f.Code], rank(f))
	}
	slices.SortStableFunc(all, func(a, b Fact) int {
		return cmp.Or(ranks[a.Code]-ranks[b.Code], len(b.Positions)-len(a.Positions), cmp.Compare(a.Code, b.Code))
	})
	return all
}

// rank orders findings: what holds the vehicle, what leaves that open, what was measured.
func rank(f finding.Finding) int {
	k := finding.KindOf(f.Code)
	switch doubt := leavesOpen(f, k); {
	case f.Urgency == finding.BeforeDriving && !doubt && k.Still:
		return 0
	case f.Urgency == finding.BeforeDriving && !doubt:
		return 1
	case doubt:
		return 2
	case k.Measured == finding.TreadDepth, !f.Told(finding.FactInflationRead).IsZero():
		return 3
	}
	return 4
}

// leavesOpen tells that with a finding it cannot be told whether the vehicle is held: it
// would hold it and is not proved, or its kind leaves it open.
func leavesOpen(f finding.Finding, k finding.Kind) bool {
	switch {
	case f.Urgency == finding.Note:
		return false
	case f.Urgency == finding.BeforeDriving || k.Urgency == finding.BeforeDriving && f.Candidate:
		return f.Certainty() != finding.Proved
	}
	return k.LeavesOpen
}

func factOf(f finding.Finding) Fact {
	out := Fact{Code: f.Code, Positions: slices.Clone(f.Positions), Measured: f.Measured, Limit: f.Limit, Read: f.Told(finding.FactInflationRead), Label: f.Told(finding.FactInflationLabel)}
	out.Worst = slices.Clone(f.Positions)
	return out
}

// join adds another finding of the kind: the amounts stay those of the one farthest below
// its limit.
func (o *Fact) join(f finding.Finding) {
	at := once(slices.Concat(o.Positions, f.Positions))
	other := factOf(f)
	differ := o.Differ || other.Measured != o.Measured || other.Read != o.Read
	switch c := o.compare(other); {
	case c > 0:
		*o = other
	case c == 0:
		o.Worst = once(slices.Concat(o.Worst, other.Worst))
	}
	o.Positions, o.Differ = at, differ
}

// compare orders facts of a kind, the one that tells of less first: by what was measured,
// what the gauge read, and what is asked for.
func (o *Fact) compare(p Fact) int {
	return cmp.Or(compare(o.Measured, p.Measured), compare(o.Read, p.Read), compare(p.Limit, o.Limit), compare(p.Label, o.Label))
}

// compare orders amounts; those that are equal, or of different quantities, by their units,
// so that it is not the first that counts.
func compare(a, b unit.Amount) int {
	as, alike := b.To(a.Unit)
	if !alike || math.Abs(a.Number-as.Number) <= 1e-9*math.Abs(a.Number) {
		return cmp.Compare(a.Unit, b.Unit)
	}
	return cmp.Compare(a.Number, as.Number)
}

// unknown is what the doubts of a headline would be settled by, and its gaps, each once.
func unknown(open []finding.Finding, h Headline, gaps []finding.Unknown) (all []finding.Unknown) {
	for _, f := range open {
		at := slices.ContainsFunc(f.Positions, func(p layout.Position) bool { return slices.Contains(h.Positions, p) })
		if at && f.ToSettle != "" && f.Urgency <= finding.ThisVisit && (f.Outcome == measure.CannotTell || finding.KindOf(f.Code).LeavesOpen || f.Urgency == finding.BeforeDriving) {
			all = append(all, finding.Unknown(f.ToSettle))
		}
	}
	all = append(all, gaps...)
	slices.Sort(all)
	return slices.Compact(all)
}

// unquoted tells that a line fits a tire where none is quoted yet.
func (p *Plan) unquoted(w order.Work) bool {
	return slices.ContainsFunc(w.Positions, func(at layout.Position) bool {
		return !slices.ContainsFunc(p.Quote, func(q order.Work) bool {
			return finding.WorkOf(q.Code).Fits && slices.Contains(q.Positions, at)
		})
	})
}

// quote adds what is fitted, what is for more wheels before what is for fewer of them: no
// side of the vehicle comes before the other.
func (p *Plan) quote(work []order.Work) {
	fits := slices.DeleteFunc(slices.Clone(work), func(w order.Work) bool {
		k := finding.WorkOf(w.Code)
		return !k.Fits || k.Moves
	})
	slices.SortStableFunc(fits, func(a, b order.Work) int { return len(b.Positions) - len(a.Positions) })
	for _, w := range fits {
		if p.unquoted(w) {
			p.Quote = append(p.Quote, w)
		}
	}
}

// planOf is what comes of a headline. The first thing is never what is sold: before a tire
// is fitted there is an OK to ask for.
func planOf(work []order.Work, h Headline) (p Plan) {
	for _, w := range work {
		k := finding.WorkOf(w.Code)
		switch {
		case k.Stage == finding.StageLater:
			p.Back = append(p.Back, w)
		case k.Stage == finding.StageOKToLook, k.Stage == finding.StageOKToMend:
			if p.Ask.Code == "" || p.Ask.Condition != "" && w.Condition == "" {
				p.Ask = w
			}
		case k.Code == finding.WorkRepairAfterInspection:
			p.Quote = append(p.Quote, w)
		}
	}
	p.quote(work)
	begins := func(w order.Work) bool {
		k := finding.WorkOf(w.Code)
		return !k.Opening && !k.Routine && !k.Fits && k.Needs != finding.NeedsWork && w.Condition == "" && k.Stage != finding.StageLater
	}
	here := func(w order.Work) bool {
		return begins(w) && slices.ContainsFunc(w.Positions, func(p layout.Position) bool { return slices.Contains(h.Positions, p) })
	}
	i := slices.IndexFunc(work, here)
	if i < 0 || h.Hold == NoHoldFound {
		i = slices.IndexFunc(work, begins)
	}
	if i >= 0 {
		p.First = work[i]
	}
	return p
}
