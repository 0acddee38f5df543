package order

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/visit"
)

// A spare that is finished, worn, may have run low, leaks or has a hole is not filled and put
// away; one that is only low is (common practice).
func TestWhatASpareIsNotPutAwayWith(t *testing.T) {
	for code, want := range map[finding.Code]bool{
		finding.DamageBulge: true, finding.TreadWornToBars: true, finding.InflationRunLow: true, finding.InflationFindLeak: true, finding.PunctureRepairable: true, finding.DamageCut: true,
		finding.SpareLow: false, finding.InflationLow: false, finding.DamageCurbScuff: false, finding.WearToeIn: false, finding.FastenerLoose: false,
	} {
		if got := spoils(of(code, finding.ThisVisit, "1L")); got != want {
			t.Errorf("%s: %v", code, got)
		}
		if spoils(of(code, finding.Plan, "1L")) {
			t.Errorf("%s, as a plan", code)
		}
		if got := spoils(of(code, finding.BeforeDriving, "1L")); got != want {
			t.Errorf("%s, before driving: %v", code, got)
		}
	}
}

// A temporary spare on the road is not worked on where it runs: it is put away filled, or
// renewed where something spoils it; what is found at another wheel or closed spoils nothing.
func TestASpareComesOffAsItIs(t *testing.T) {
	spare := visit.Wheel{Position: layout.MustParse("1L"), Temporary: true}
	set, mend := Work{Code: finding.WorkSpareSet, Positions: places("1L")}, Work{Code: finding.WorkTireReplace, Positions: places("1L", "2L")}
	for _, c := range []struct {
		name  string
		found []finding.Finding
		want  []string
	}{
		{"low alone", []finding.Finding{of(finding.SpareLow, finding.ThisVisit, "1L")}, []string{"spare.set 1L", "tire.replace 2L"}},
		{"bulged", []finding.Finding{of(finding.DamageBulge, finding.BeforeDriving, "1L")}, []string{"spare.renew 1L", "tire.replace 2L"}},
		{"another is bulged", []finding.Finding{of(finding.DamageBulge, finding.BeforeDriving, "2L")}, []string{"spare.set 1L", "tire.replace 2L"}},
	} {
		in := In{Visit: visit.Visit{Vehicle: layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}, Wheels: []visit.Wheel{spare, {Position: layout.MustParse("2L")}}}, Findings: c.found}
		l := lines{}
		l.add(append(proved([]Work{mend}), set)...)
		in.spareGoes(&l)
		var all []Work
		for _, w := range l {
			all = append(all, w)
		}
		if got := linesOf(all); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
