package finding

import (
	"testing"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// Of laws that may bind the one that asks for most is said, in whatever order they come:
// by when, then whether it is decided, then by how far. Laws and limits are invented.
func TestTheStrictestOfSeveralStandsFirst(t *testing.T) {
	law := func(id string, u Urgency, o measure.Outcome, measured, limit unit.Amount) Finding {
		there, ok := measured.To(limit.Unit)
		if !ok {
			t.Fatalf("%v is not measured in %v", measured, limit.Unit)
		}
		return Finding{Code: TreadLegalLimit, Urgency: u, Candidate: true, Rule: Rule{ID: id}, Outcome: o,
			Positions: []layout.Position{layout.MustParse("1R")}, Measured: there, Limit: limit, Margin: unit.Amount{Number: there.Number - limit.Number, Unit: limit.Unit}}
	}
	mm := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.Millimeters} }
	inch32 := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.ThirtySecondsInch} }
	const visit, plan, below, open = ThisVisit, Plan, measure.Below, measure.CannotTell
	for _, row := range []struct {
		what          string
		first, second Finding
	}{
		{"the higher limit", law("b", visit, below, mm(0.5), mm(1.6)), law("a", visit, below, mm(0.5), mm(1))},
		{"the higher limit, and no tread left", law("b", visit, below, mm(0), mm(1.6)), law("a", visit, below, mm(0), mm(1))},
		{"no tread left, and limits in two units", law("b", visit, below, inch32(0), inch32(4)), law("a", visit, below, mm(0), mm(1.6))},
		{"the lower place, where each law looks at its own", law("b", visit, below, mm(0), mm(1)), law("a", visit, below, mm(1), mm(1.6))},
		{"decided before open, however far", law("b", visit, below, mm(1), mm(1.6)), law("a", visit, open, mm(0), mm(1))},
		{"sooner before later, however far", law("b", visit, open, mm(3.9), mm(4)), law("a", plan, below, mm(0), mm(3))},
		{"equal limits by their ids", law("a", visit, below, mm(0), mm(1)), law("b", visit, below, mm(0), mm(1))},
	} {
		for _, fs := range [][]Finding{{row.first, row.second}, {row.second, row.first}} {
			got := OneOfSeveral(fs)
			if len(got) != 1 || got[0].Rule.ID != row.first.Rule.ID || len(got[0].Others) != 1 || got[0].Others[0].ID != row.second.Rule.ID {
				t.Errorf("%s: %+v", row.what, got)
			}
		}
	}
}

// Laws that say the same beside the strictest are named by their ids, each once, in
// whatever order they come.
func TestOfSeveralTheOthersAreNamedInOrder(t *testing.T) {
	law := func(id string, u Urgency) Finding {
		return Finding{Code: TreadLegalLimit, Urgency: u, Candidate: true, Rule: Rule{ID: id}, Positions: []layout.Position{layout.MustParse("1R")}}
	}
	a, b, c, d := law("a", Plan), law("b", Plan), law("c", ThisVisit), law("d", Plan)
	for _, fs := range [][]Finding{{a, b, c, d}, {d, c, b, a}, {b, d, a, c}, {d, a, c, b, a}} {
		got := OneOfSeveral(fs)
		if len(got) != 1 || got[0].Rule.ID != "c" || len(got[0].Others) != 3 || got[0].Others[0].ID != "a" || got[0].Others[1].ID != "b" || got[0].Others[2].ID != "d" {
			t.Errorf("%+v", got)
		}
	}
}

// A finding names laws of further places beside its own, in order and each once; a rule of
// no place is no further one.
func TestLawsOfFurtherPlacesAreNamed(t *testing.T) {
	own, b, c := Rule{ID: "a", Of: "a"}, Rule{ID: "b", Of: "b"}, Rule{ID: "c", Of: "c"}
	f := Finding{Rule: own}
	for _, r := range []Rule{c, own, b, c, {ID: "practice"}} {
		f = f.Also(r)
	}
	if len(f.Others) != 2 || f.Others[0] != b || f.Others[1] != c || !f.Names(own) || !f.Names(c) || f.Names(Rule{ID: "practice"}) {
		t.Errorf("%+v", f.Others)
	}
}

// How sure a finding is: what was seen or is short whatever the gauge before all, then what
// nobody read again, then what is a condition, and only then its law and its limit.
func TestHowSureAFindingIs(t *testing.T) {
	e := func(codes ...Fact) (all []Evidence) {
		for _, c := range codes {
			all = append(all, Evidence{Code: c})
		}
		return all
	}
	for _, c := range []struct {
		name string
		f    Finding
		want Certainty
	}{
		{"past its limit", Finding{Code: TreadLegalLimit, Outcome: measure.Below}, Proved},
		{"within the uncertainty", Finding{Code: TreadLegalLimit, Outcome: measure.CannotTell}, Undecided},
		{"a condition within it", Finding{Code: TreadWornToBars, Outcome: measure.CannotTell}, Proved},
		{"by a law that may apply", Finding{Code: TreadLegalLimit, Candidate: true, Outcome: measure.CannotTell}, MayApply},
		{"a condition by one", Finding{Code: TreadWornToBars, Candidate: true}, Proved},
		{"in doubt", Finding{Code: TreadWornToBars, Evidence: e(FactTreadAsRead, FactTreadUnconfirmed)}, Doubtful},
		{"in doubt, and seen flush", Finding{Code: TreadLegalLimit, Outcome: measure.CannotTell, Evidence: e(FactTreadUnconfirmed, FactTreadBarsSeenFlush)}, Proved},
		{"short for certain", Finding{Code: InflationLow, Outcome: measure.CannotTell, Evidence: e(FactInflationShortForCertain)}, Proved},
		{"with evidence that says nothing of it", Finding{Code: TreadLegalLimit, Outcome: measure.CannotTell, Evidence: e(FactTreadAsRead)}, Undecided},
	} {
		if got := c.f.Certainty(); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}

// What keeps people from harm is asked first, then on which law binds, then the rest by name;
// a finding belongs to the family of its kind.
func TestOrderOfQuestionsAndFamilies(t *testing.T) {
	turns := [][]Question{{AskRim, AskSpareInUse}, {AskCountry, AskProvince, AskState}, {AskDepth, AskLabel}}
	for i, first := range turns {
		for _, second := range turns[i+1:] {
			for _, a := range first {
				for _, b := range second {
					if CompareQuestions(a, b) >= 0 || CompareQuestions(b, a) <= 0 {
						t.Errorf("%s is not asked before %s", a, b)
					}
				}
			}
		}
	}
	if CompareQuestions(AskState, AskCountry) != 1 || CompareQuestions(AskCountry, AskCountry) != 0 {
		t.Error("of one turn they stand by name")
	}
	for code, want := range map[Code]string{TreadLegalLimit: "tread", WearToeIn: "wear", InflationLow: "inflation", LoadAboveRating: "load", PunctureSize: "repair", DamageBulge: "damage", FastenerLoose: "wheel", AgeLegalLimit: "fitment", TrendGrew: "trend", RotationRefused: "rotation", ComplaintThump: "complaint", SpareLow: "spare", DoubtRim: "doubt", "nothing": ""} {
		if got := FamilyOf(code); got != want {
			t.Errorf("%s is of %q", code, got)
		}
	}
}

// Findings stand by how urgent they are, then by their wheels, then the likeliest cause of a
// shape first, then by name.
func TestTheOrderOfFindings(t *testing.T) {
	left, right := layout.MustParse("1L"), layout.MustParse("1R")
	at := func(code Code, u Urgency, rank int, ps ...layout.Position) Finding {
		return Finding{Code: code, Urgency: u, Rank: rank, Positions: ps}
	}
	want := []Finding{
		at(DamageBulge, BeforeDriving, 0, right), at(WearToeIn, Plan, 1, left), at(WearCamberNegative, Plan, 2, left), at(WearCamberNegative, Plan, 0, right), at(WearToeIn, Plan, 0, right),
	}
	for _, order := range [][]int{{4, 3, 2, 1, 0}, {2, 0, 4, 1, 3}} {
		var got []Finding
		for _, i := range order {
			got = append(got, want[i])
		}
		Sort(got)
		for i := range want {
			if got[i].Code != want[i].Code || got[i].Rank != want[i].Rank || got[i].Positions[0] != want[i].Positions[0] {
				t.Errorf("%d: %v, want %v", i, got[i], want[i])
			}
		}
	}
}
