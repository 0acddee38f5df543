package finding

import (
	"cmp"
	"iter"
	"slices"
)

// table finds the rows of one kind of code.
type table[C ~string, R any] struct {
	rows []R
	by   map[C]int
}

func newTable[C ~string, R any](code func(R) C, families ...[]R) table[C, R] {
	t := table[C, R]{rows: slices.Concat(families...), by: map[C]int{}}
	for i, r := range t.rows {
		t.by[code(r)] = i
	}
	return t
}

// of gives the row of a code, the zero row for a code that has none.
func (t table[C, R]) of(c C) (row R) {
	if i, known := t.by[c]; known {
		return t.rows[i]
	}
	return row
}

var (
	kinds = newTable(func(k Kind) Code { return k.Code }, kindFamilies()...)
	facts = newTable(func(k FactKind) Fact { return k.Code }, treadFacts, winterFacts, wearFacts, inflationFacts, loadFacts, repairFacts,
		damageFacts, wheelFacts, fitmentFacts, trendFacts, rotationFacts, complaintFacts, spareFacts, doubtFacts)
	checks = newTable(func(k CheckedKind) Checked { return k.Code }, treadChecked, winterChecked, wearChecked, inflationChecked, loadChecked,
		wheelChecked, fitmentChecked, spareChecked, lookedChecked)
	works = newTable(func(k WorkKind) Work { return k.Code }, func() []WorkKind {
		rows := slices.Clone(workKinds)
		for i := range rows {
			rows[i].order = stageRanks[rows[i].Stage]*len(rows) + i
		}
		return rows
	}())
	cautions     = newTable(func(k CautionKind) Caution { return k.Code }, cautionKinds)
	observations = newTable(func(k ObservationKind) Observation { return k.Kind }, observationKinds)
	dones        = newTable(func(k DoneKind) Done { return k.Kind }, doneKinds)
	complaints   = newTable(func(k ComplaintKind) Complaint { return k.Kind }, complaintKinds)
	places       = newTable(func(k LookedKind) Looked { return k.Kind }, lookedKinds)
	questions    = newTable(func(k QuestionKind) Question { return k.Code }, questionKinds)
	recorded     = newTable(func(k RecordedKind) Recorded { return k.Code }, recordedKinds)
)

// family is the findings of one subject.
type family struct {
	name string
	rows []Kind
}

var families = []family{
	{"tread", treadKinds}, {"winter", winterKinds}, {"wear", wearKinds}, {"inflation", inflationKinds}, {"load", loadKinds}, {"repair", repairKinds},
	{"damage", damageKinds}, {"wheel", wheelKinds}, {"fitment", fitmentKinds}, {"trend", trendKinds}, {"rotation", rotationKinds},
	{"complaint", complaintFindings}, {"spare", spareKinds}, {"doubt", doubtKinds},
}

func kindFamilies() (all [][]Kind) {
	for _, f := range families {
		all = append(all, f.rows)
	}
	return all
}

// FamilyOf names the subject that a kind of finding belongs to; "" of a code that none has.
func FamilyOf(c Code) string {
	for _, f := range families {
		if slices.ContainsFunc(f.rows, func(k Kind) bool { return k.Code == c }) {
			return f.name
		}
	}
	return ""
}

// observed are the findings that an observation means by itself.
var observed = func() map[Code]bool {
	all := map[Code]bool{}
	for _, o := range observationKinds {
		all[o.Means] = true
	}
	delete(all, "")
	return all
}()

// KindOf gives the row of a kind of finding, the zero row for a code that none has.
func KindOf(c Code) Kind { return kinds.of(c) }

// FactOf gives the row of a kind of evidence, the zero row for a code that none has.
func FactOf(c Fact) FactKind { return facts.of(c) }

// CheckedOf gives the row of what was found good, the zero row for a code that none has.
func CheckedOf(c Checked) CheckedKind { return checks.of(c) }

// WorkOf gives the row of a kind of line of work, the zero row for a code that none has.
func WorkOf(c Work) WorkKind { return works.of(c) }

// CautionOf gives the row of a caution, the zero row for a code that none has.
func CautionOf(c Caution) CautionKind { return cautions.of(c) }

// ObservationOf gives the row of a kind of observation, the zero row for a code that none has.
func ObservationOf(c Observation) ObservationKind { return observations.of(c) }

// DoneOf gives the row of a kind of work done, the zero row for a code that none has.
func DoneOf(c Done) DoneKind { return dones.of(c) }

// ComplaintOf gives the row of a complaint, the zero row for a code that none has.
func ComplaintOf(c Complaint) ComplaintKind { return complaints.of(c) }

// LookedOf gives the row of a place that is looked at, the zero row for a code that none has.
func LookedOf(c Looked) LookedKind { return places.of(c) }

// RecordedOf gives the row of what is recorded and not judged, the zero row for a code that
// none has.
func RecordedOf(c Recorded) RecordedKind { return recorded.of(c) }

// QuestionOf gives the row of a question, the zero row for a code that none has.
func QuestionOf(c Question) QuestionKind { return questions.of(c) }

// CompareQuestions orders questions: what keeps people from harm first of all, then on
// which law binds, then by code.
func CompareQuestions(a, b Question) int {
	turn := func(q Question) int {
		switch QuestionOf(q).About {
		case AboutHarm:
			return 0
		case AboutPlace:
			return 1
		}
		return 2
	}
	return cmp.Or(cmp.Compare(turn(a), turn(b)), cmp.Compare(a, b))
}

// Kinds are all kinds of findings.
func Kinds() iter.Seq[Kind] { return slices.Values(kinds.rows) }

// WorkKinds are all kinds of lines of work, in the order of work.
func WorkKinds() iter.Seq[WorkKind] {
	rows := slices.Clone(works.rows)
	slices.SortFunc(rows, func(a, b WorkKind) int { return cmp.Compare(a.order, b.order) })
	return slices.Values(rows)
}

// ComplaintKinds are all kinds of complaints.
func ComplaintKinds() iter.Seq[ComplaintKind] { return slices.Values(complaints.rows) }

// LookedKinds are all places that are looked at; those of a whole look first.
func LookedKinds() iter.Seq[LookedKind] { return slices.Values(places.rows) }

// Observed tells that an observation means the finding by itself.
func (k Kind) Observed() bool { return observed[k.Code] }

// Compare orders lines by the order of work.
func (k WorkKind) Compare(o WorkKind) int { return k.order - o.order }
