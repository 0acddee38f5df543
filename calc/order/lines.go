// Package order makes the order of work from what was found: what a finding asks for by
// itself stands in the table of kinds, and a few rules say what follows from that.
package order

import (
	"cmp"
	"maps"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/unit"
)

// Work is one line of the order of work.
type Work struct {
	Code       finding.Work
	Step       finding.Step
	Urgency    finding.Urgency
	Positions  []layout.Position
	Findings   []string    // ids of the findings it answers
	Target     unit.Amount // what to set, zero when nothing or not told
	Condition  finding.Condition
	Settle     finding.Settle // the measurement to make, for WorkMeasureToSettle
	Caution    finding.Caution
	DueFrom    unit.Amount
	DueBy      unit.Amount
	About      bool         // the target rests on an estimate
	FinishCold bool         // the target is finished when cold
	Map        rotation.Map // of a rotation
}

// ID names the line within its visit, as finding.Finding.ID names a finding: by what
// tells it from every other line.
func (w Work) ID() string {
	return finding.ID(w.Positions, string(w.Code), string(w.Condition), string(w.Settle), w.DueBy.String(), w.Map.ID)
}

// do is a plain line; none without a code.
func do(code finding.Work, at ...layout.Position) []Work {
	if code == "" {
		return nil
	}
	return []Work{{Code: code, Positions: at}}
}

// lines are those of an order; the same line for several wheels is one.
type lines []Work

func (l *lines) add(more ...Work) {
	for _, w := range more {
		l.line(w)
	}
}

func (l *lines) line(w Work) {
	w.Caution = cmp.Or(w.Caution, finding.WorkOf(w.Code).Caution)
	for i, o := range *l {
		if o.Code == w.Code && o.Target == w.Target && o.Condition == w.Condition && o.Settle == w.Settle && o.DueBy == w.DueBy && o.FinishCold == w.FinishCold {
			for _, p := range w.Positions {
				if !slices.Contains(o.Positions, p) {
					(*l)[i].Positions = append((*l)[i].Positions, p)
				}
			}
			if w.Urgency != 0 && (o.Urgency == 0 || w.Urgency < o.Urgency) {
				(*l)[i].Urgency = w.Urgency
			}
			(*l)[i].Caution = graver(o.Caution, w.Caution)
			return
		}
	}
	w.Positions = slices.Clone(w.Positions)
	*l = append(*l, w)
}

// graver is the caution of a line for several wheels: a graver one says all that a
// milder one says.
func graver(a, b finding.Caution) finding.Caution {
	if finding.CautionOf(b).Gravity > finding.CautionOf(a).Gravity {
		return b
	}
	return cmp.Or(a, b)
}

// at are the wheels of the lines of some codes.
func (l *lines) at(codes ...finding.Work) map[layout.Position]bool {
	return l.where(func(k finding.WorkKind) bool { return slices.Contains(codes, k.Code) })
}

// where are the wheels of the lines of some kinds.
func (l *lines) where(of func(finding.WorkKind) bool) map[layout.Position]bool {
	m := map[layout.Position]bool{}
	for _, w := range *l {
		if of(finding.WorkOf(w.Code)) {
			for _, p := range w.Positions {
				m[p] = true
			}
		}
	}
	return m
}

// without takes wheels out of the lines of some kinds, and the lines that none is left
// of.
func (l *lines) without(of func(finding.WorkKind) bool, gone func(finding.Work, layout.Position) bool) {
	for i, w := range *l {
		if of(finding.WorkOf(w.Code)) {
			(*l)[i].Positions = slices.DeleteFunc(w.Positions, func(p layout.Position) bool { return gone(w.Code, p) })
		}
	}
	*l = slices.DeleteFunc(*l, func(w Work) bool { return len(w.Positions) == 0 && of(finding.WorkOf(w.Code)) })
}

// off are the wheels that come off the vehicle for the work.
func (l *lines) off() []layout.Position {
	off := l.where(func(k finding.WorkKind) bool { return k.WheelOff })
	delete(off, layout.Position{Spare: true})
	return sorted(off)
}

// replaced are the wheels whose tires are replaced.
func (l *lines) replaced() map[layout.Position]bool {
	return l.at(finding.WorkTireReplace, finding.WorkTiresReplacePair)
}

func sorted(m map[layout.Position]bool) []layout.Position {
	return slices.SortedFunc(maps.Keys(m), layout.Position.Compare)
}

// inOrder gives the lines in the fixed order, each tied to its findings.
func (l *lines) inOrder(found []finding.Finding) []Work {
	all := *l
	for i := range all {
		w := &all[i]
		w.Step = finding.WorkOf(w.Code).Step
		slices.SortFunc(w.Positions, layout.Position.Compare)
		w.Positions = slices.Compact(w.Positions)
		ids, urgency := answeredBy(*w, found)
		if w.Findings = ids; w.Urgency == finding.UrgencyNotTold {
			w.Urgency = urgency
		}
	}
	slices.SortStableFunc(all, func(a, b Work) int {
		return cmp.Or(
			finding.WorkOf(a.Code).Compare(finding.WorkOf(b.Code)),
			slices.CompareFunc(a.Positions, b.Positions, layout.Position.Compare),
			cmp.Compare(a.Settle, b.Settle),
			cmp.Compare(a.DueBy.Number, b.DueBy.Number),
			cmp.Compare(a.Target.Number, b.Target.Number),
		)
	})
	return all
}

// answeredBy lists the findings, other than notes, at the places of a line, and gives
// the urgency of the gravest; a line without places answers those of the vehicle.
func answeredBy(w Work, found []finding.Finding) (ids []string, gravest finding.Urgency) {
	gravest = finding.Plan
	for _, f := range found {
		if f.Urgency == finding.Note {
			continue
		}
		if len(w.Positions) == 0 && len(f.Positions) == 0 ||
			slices.ContainsFunc(f.Positions, func(p layout.Position) bool { return slices.Contains(w.Positions, p) }) {
			ids, gravest = append(ids, f.ID()), min(gravest, f.Urgency)
		}
	}
	return ids, gravest
}
