package verdict

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// OneTire is a tire that is asked about by itself.
type OneTire struct {
	Visit  visit.Visit       // of its one wheel; without axles no label is known
	Said   layout.Position   // where the wheel was said to be; the zero position: nowhere
	Places []layout.Position // where it may be; more than one stand for not known
}

// JudgeTire judges the tire at each of its places. What the answer says of it, it says of
// where it was said to be, also where that is nowhere. What is found only at a later place
// is a candidate. The vehicle's other wheels are not asked about.
func JudgeTire(t OneTire) Verdict {
	var out Verdict
	for i, place := range t.Places {
		judged := Judge(t.at(place))
		relabel{t.Said, place}.rename(&judged)
		if i == 0 {
			out = judged
		} else {
			addCandidates(&out, judged.Findings)
		}
	}
	return out
}

// at gives the visit with the wheel at a place.
func (t OneTire) at(place layout.Position) visit.Visit {
	v := t.Visit
	v.Wheels = slices.Clone(v.Wheels)
	v.Wheels[0].Position = place
	return v
}

// addCandidates adds what asks for something at another place that the wheel may have.
// What laws of several places say of one matter is one entry, as of several laws.
func addCandidates(v *Verdict, other []finding.Finding) {
	before := v.Findings
	all := slices.Clone(before)
	for _, f := range other {
		if f.Urgency == finding.Note || slices.ContainsFunc(all, func(o finding.Finding) bool { return o.ID() == f.ID() }) {
			continue
		}
		f.Candidate, f.Urgency = true, max(f.Urgency, finding.ThisVisit)
		all = append(all, f)
	}
	v.Findings = finding.OneOfSeveral(all)
	for _, f := range before {
		for _, o := range v.Findings {
			if o.Names(f.Rule) && finding.SameMatter(o, f) && o.Candidate == f.Candidate {
				renamed(v, f.ID(), o.ID())
			}
		}
	}
	finding.Sort(v.Findings)
}

// renamed puts a finding's new id in the place of its old one.
func renamed(v *Verdict, was, now string) {
	if was == now {
		return
	}
	if left, closed := v.Closed[was]; closed {
		v.Closed[now] = left
	}
	if done, cured := v.Done[was]; cured {
		v.Done[now] = done
	}
	for i := range v.Work {
		if k := slices.Index(v.Work[i].Findings, was); k >= 0 {
			v.Work[i].Findings[k] = now
		}
	}
}

// relabel renames the place that a wheel was judged at to what was said of it.
type relabel struct{ said, place layout.Position }

// at gives positions as they were said. Where nothing was said, the wheel has
// none, nor has the one across from it; its mate is the one beside it.
func (s relabel) at(ps []layout.Position) []layout.Position {
	var out []layout.Position
	for _, p := range ps {
		switch {
		case s.said != layout.Position{}:
			if p.Axle == s.place.Axle {
				p.Axle = s.said.Axle
			}
		case p.Dual == s.place.Dual:
			continue
		default:
			p = layout.Beside
		}
		if !slices.Contains(out, p) {
			out = append(out, p)
		}
	}
	return out
}

func (s relabel) rename(v *Verdict) {
	ids := map[string]string{}
	for i, f := range v.Findings {
		v.Findings[i].Positions = s.at(f.Positions)
		ids[f.ID()] = v.Findings[i].ID()
	}
	closed := map[string]unit.Amount{}
	for was, left := range v.Closed {
		closed[ids[was]] = left
	}
	v.Closed = closed
	for i, w := range v.Work {
		v.Work[i].Positions = s.at(w.Positions)
		for k, id := range w.Findings {
			v.Work[i].Findings[k] = ids[id]
		}
	}
	for i := range v.Wheels {
		v.Wheels[i].Position = s.said
	}
	for i := range v.Repairs {
		v.Repairs[i].Position = s.said
	}
	for i, c := range v.Checked {
		v.Checked[i].Positions = s.at(c.Positions)
	}
	v.NotLooked = slices.DeleteFunc(v.NotLooked, func(n questions.NotLooked) bool { return n.What == finding.LookedWheel })
	for i, n := range v.NotLooked {
		v.NotLooked[i].Positions = s.at(n.Positions)
	}
	for i, n := range v.NotJudged {
		v.NotJudged[i].Positions = s.at(n.Positions)
	}
	for i, u := range v.Unanswered {
		v.Unanswered[i].Positions = s.at(u.Positions)
	}
}
