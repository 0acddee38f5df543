package finding

import (
	"reflect"
	"slices"
	"testing"

	"gaugebook.dev/calc/finding/findingtest"
)

// rowsOf gives the codes of a table's rows, in order.
func rowsOf[C ~string, R any](t table[C, R], code func(R) C) (all []string) {
	for _, r := range t.rows {
		all = append(all, string(code(r)))
	}
	return all
}

// rows are the codes that have rows, by their type.
func rows() map[string][]string {
	return map[string][]string{
		"Code":        rowsOf(kinds, func(k Kind) Code { return k.Code }),
		"Fact":        rowsOf(facts, func(k FactKind) Fact { return k.Code }),
		"Checked":     rowsOf(checks, func(k CheckedKind) Checked { return k.Code }),
		"Work":        rowsOf(works, func(k WorkKind) Work { return k.Code }),
		"Caution":     rowsOf(cautions, func(k CautionKind) Caution { return k.Code }),
		"Observation": rowsOf(observations, func(k ObservationKind) Observation { return k.Kind }),
		"Done":        rowsOf(dones, func(k DoneKind) Done { return k.Kind }),
		"Complaint":   rowsOf(complaints, func(k ComplaintKind) Complaint { return k.Kind }),
		"Looked":      rowsOf(places, func(k LookedKind) Looked { return k.Kind }),
		"Question":    rowsOf(questions, func(k QuestionKind) Question { return k.Code }),
		"Recorded":    rowsOf(recorded, func(k RecordedKind) Recorded { return k.Code }),
	}
}

// plain are the types of codes that have no column: nothing is known of one but its
// words.
var plain = []string{"Settle", "Condition", "Closed", "LookFor", "Reason", "Target", "Remark", "NotLooked", "Unknown", "Part", "WheelSide"}

// Every code is written once, and has one row.
func TestEveryCodeHasARow(t *testing.T) {
	have := rows()
	for kind, codes := range findingtest.Constants(t, ".") {
		for i, c := range codes {
			if slices.Contains(codes[:i], c) {
				t.Errorf("%s %q is written twice", kind, c)
			}
			if n := count(have[kind], c); n != 1 && !slices.Contains(plain, kind) {
				t.Errorf("%s %q has %d rows", kind, c, n)
			}
		}
		for _, c := range have[kind] {
			if !slices.Contains(codes, c) {
				t.Errorf("%s %q has a row and no constant", kind, c)
			}
		}
	}
}

func count(all []string, c string) (n int) {
	for _, a := range all {
		if a == c {
			n++
		}
	}
	return n
}

// mayBeEmpty are the columns whose zero value says something: see the row types.
var mayBeEmpty = []string{
	"CautionKind.Gravity", "CautionKind.OfAct", "CheckedKind.Place", "DoneKind.Closed", "DoneKind.Whole", "FactKind.Leaves", "Kind.Beside", "Kind.Calms", "Kind.Caution", "Kind.Condition", "Kind.Cured", "Kind.Fact", "Kind.Felt", "Kind.Good", "Kind.Law", "Kind.LeaveAlone", "Kind.LeavesOpen", "Kind.LetDown", "Kind.Met", "Kind.Pair", "Kind.SaidBy", "Kind.Scrap", "Kind.Still", "Kind.Work", "ObservationKind.Means", "ObservationKind.OneLow", "WorkKind.Caution", "WorkKind.Craft", "WorkKind.Dismounts", "WorkKind.Dropped", "WorkKind.Fits", "WorkKind.ForThem", "WorkKind.InHouse", "WorkKind.Moves", "WorkKind.Opening", "WorkKind.Routine", "WorkKind.Settles", "WorkKind.WheelOff", "WorkKind.order",
	"ComplaintKind.Code", "ComplaintKind.Settle", "ComplaintKind.Causes", "ComplaintKind.Front", "ComplaintKind.UnlessLit", "ComplaintKind.Seen", "ComplaintKind.SeenAs",
	"ComplaintKind.Clears", "ComplaintKind.Lit", "ComplaintKind.Looks", "ComplaintKind.Look", "ComplaintKind.Told", "LookedKind.Good", "LookedKind.Whole", "LookedKind.OuterOnly", "LookedKind.Side", "RecordedKind.LawNotKnown",
}

// No column is left out, but for those whose zero value says something.
func TestNoColumnIsLeftOut(t *testing.T) {
	filled := func(row any) {
		v := reflect.ValueOf(row)
		for i := range v.NumField() {
			name := v.Type().Name() + "." + v.Type().Field(i).Name
			if v.Type().Field(i).Name != "Retired" && v.Field(i).IsZero() && !slices.Contains(mayBeEmpty, name) {
				t.Errorf("%v: %s is left out", v.Field(0), name)
			}
		}
	}
	each(kinds, filled)
	each(facts, filled)
	each(checks, filled)
	each(works, filled)
	each(cautions, filled)
	each(observations, filled)
	each(dones, filled)
	each(complaints, filled)
	each(places, filled)
	each(questions, filled)
	each(recorded, filled)
}

func each[C ~string, R any](t table[C, R], do func(any)) {
	for _, r := range t.rows {
		do(r)
	}
}

// What a row names has a row of its own, and what goes together is told together.
func TestRowsFitTogether(t *testing.T) {
	for _, k := range kinds.rows {
		if (k.Again == AgainGood) != (len(k.Good) > 0) {
			t.Errorf("%s: judged again by comparisons, and which are not told", k.Code)
		}
		for _, d := range k.Cured {
			if DoneOf(d).Closed == "" {
				t.Errorf("%s cures %s, and is not told as closing anything", d, k.Code)
			}
		}
	}
	for _, k := range complaints.rows {
		if k.Code != "" && k.Settle == "" || (len(k.Looks) > 0) != (k.Look != "") || (len(k.Seen) > 0) != (k.SeenAs != "") {
			t.Errorf("%s: half told: %+v", k.Kind, k)
		}
	}
	for _, k := range works.rows {
		if k.Dismounts && !k.WheelOff {
			t.Errorf("%s takes the tire off its wheel, and leaves the wheel on", k.Code)
		}
	}
}

// Whatever asks for something can be closed: by the vehicle as left, by work that
// sets it right, or by a later visit that judges it again.
func TestEveryFindingCanBeClosed(t *testing.T) {
	for _, k := range kinds.rows {
		if k.Urgency != Note && k.Left == LeftNothing && len(k.Cured) == 0 && k.Again == AgainNever {
			t.Errorf("%s stays open for ever", k.Code)
		}
	}
}

// A code that no row has gives the zero row.
func TestUnknownCode(t *testing.T) {
	if k := KindOf("later.invented"); k.Code != "" || k.Of != OfNotTold || k.Again != AgainNotTold {
		t.Errorf("%+v", k)
	}
}

// Looking up is no allocation.
func TestLookingUpAllocatesNothing(t *testing.T) {
	if n := testing.AllocsPerRun(100, func() { _ = KindOf(TreadWornToBars) }); n > 0 {
		t.Errorf("%v allocations", n)
	}
}
