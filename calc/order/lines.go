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

	to    unit.Pressure     // the target before it is told as it can be set; 0: as it is told
	rests finding.Certainty // how sure what calls for it is; a line that follows from another tells none
	from  []string          // ids of the findings that alone ask for it; nil: those of its wheels do
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

// by is a line with the certainty of what calls for it.
func (w Work) by(c finding.Certainty) Work {
	w.rests = c
	return w
}

// proved are lines that something proved calls for.
func proved(ws []Work) []Work {
	for i := range ws {
		ws[i].rests = finding.Proved
	}
	return ws
}

// founded tells that a line may be made: from doubt comes no line that needs proof,
// unless it waits itself for what decides.
func (w Work) founded() bool {
	return finding.WorkOf(w.Code).Needs != finding.NeedsProof || w.rests == finding.Proved || w.Condition != ""
}

// from ties lines to the finding that asks for them.
func from(f finding.Finding, asked []Work) []Work {
	for i := range asked {
		asked[i].from = []string{f.ID()}
	}
	return asked
}

// lines are those of an order; the same line for several wheels is one.
type lines []Work

func (l *lines) add(more ...Work) {
	for _, w := range more {
		l.line(w)
	}
}

// from adds lines that a finding calls for.
func (l *lines) from(f finding.Finding, more ...Work) {
	for _, w := range more {
		l.line(w.by(f.Certainty()))
	}
}

// line adds a line: none is made but here, and none without what it has to rest on.
func (l *lines) line(w Work) {
	if !w.founded() {
		return
	}
	w.rests = finding.CertaintyNotTold
	w.Caution = cmp.Or(w.Caution, finding.WorkOf(w.Code).Caution)
	for i := range *l {
		o := &(*l)[i]
		if o.Code == w.Code && o.Target == w.Target && o.Condition == w.Condition && o.Settle == w.Settle && o.DueBy == w.DueBy && o.FinishCold == w.FinishCold {
			for _, p := range w.Positions {
				if !slices.Contains(o.Positions, p) {
					o.Positions = append(o.Positions, p)
				}
			}
			if w.Urgency != 0 && (o.Urgency == 0 || w.Urgency < o.Urgency) {
				o.Urgency = w.Urgency
			}
			o.Caution = graver(o.Caution, w.Caution)
			if o.from == nil || w.from == nil {
				o.from = nil
			} else {
				o.from = slices.Concat(o.from, w.from)
			}
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
	return l.places(func(w *Work) bool { return slices.Contains(codes, w.Code) })
}

// where are the wheels of the lines of some kinds.
func (l *lines) where(of func(finding.WorkKind) bool) map[layout.Position]bool {
	return l.places(func(w *Work) bool { return of(finding.WorkOf(w.Code)) })
}

func (l *lines) places(of func(*Work) bool) map[layout.Position]bool {
	var m map[layout.Position]bool
	for i := range *l {
		w := &(*l)[i]
		if !of(w) {
			continue
		}
		if m == nil {
			m = map[layout.Position]bool{}
		}
		for _, p := range w.Positions {
			m[p] = true
		}
	}
	return m
}

// without takes wheels out of the lines of some kinds, and the lines that none is left
// of.
func (l *lines) without(of func(finding.WorkKind) bool, gone func(finding.Work, layout.Position) bool) {
	some := false
	for i := range *l {
		if w := &(*l)[i]; of(finding.WorkOf(w.Code)) {
			some = true
			w.Positions = slices.DeleteFunc(w.Positions, func(p layout.Position) bool { return gone(w.Code, p) })
		}
	}
	if some {
		*l = slices.DeleteFunc(*l, func(w Work) bool { return len(w.Positions) == 0 && of(finding.WorkOf(w.Code)) })
	}
}

// replaced are the wheels whose tires are replaced.
func (l *lines) replaced() map[layout.Position]bool {
	return l.at(finding.WorkTireReplace, finding.WorkTiresReplacePair)
}

func sorted(m map[layout.Position]bool) []layout.Position {
	if len(m) == 0 {
		return nil
	}
	return slices.SortedFunc(maps.Keys(m), layout.Position.Compare)
}

// inOrder gives the lines in the fixed order, each tied to its findings.
func (l *lines) inOrder(found []finding.Finding) []Work {
	all, ids := *l, make([]string, len(found))
	for i, f := range found {
		if f.Urgency != finding.Note {
			ids[i] = f.ID()
		}
	}
	for i := range all {
		w := &all[i]
		w.Step = finding.WorkOf(w.Code).Step()
		slices.SortFunc(w.Positions, layout.Position.Compare)
		w.Positions = slices.Compact(w.Positions)
		answered, urgency := answeredBy(*w, found, ids)
		if finding.WorkOf(w.Code).Stage == finding.StageLater {
			urgency = finding.Plan // due after the visit, whatever it follows from
		}
		if w.Findings = answered; w.Urgency == finding.UrgencyNotTold {
			w.Urgency = urgency
		}
		w.from = nil
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
func answeredBy(w Work, found []finding.Finding, ids []string) (answered []string, gravest finding.Urgency) {
	gravest = finding.Plan
	for i := range found {
		f := &found[i]
		if f.Urgency == finding.Note || w.from != nil && !slices.Contains(w.from, ids[i]) {
			continue
		}
		if w.from != nil || len(w.Positions) == 0 && len(f.Positions) == 0 ||
			slices.ContainsFunc(f.Positions, func(p layout.Position) bool { return slices.Contains(w.Positions, p) }) {
			answered, gravest = append(answered, ids[i]), min(gravest, f.Urgency)
		}
	}
	return answered, gravest
}
