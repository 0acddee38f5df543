package tread_test

import (
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
)

// Selling and fitting are judged harder than driving, each by the words of its law; who is
// bound is who sells or fits.
func TestFitted(t *testing.T) {
	const seller, driver = finding.BindsInstallerOrSeller, finding.BindsDriver
	for _, c := range []struct {
		name    string
		context tread.Context
		at      string
		read    float64
		in      unit.Unit
		rule    string
		want    measure.Outcome
		binds   finding.Binds
		asks    bool
	}{
		{"a part-worn tire of 1.9 mm in Britain", under(car, "uk-light"), "1L", 1.9, unit.Millimeters, "uk-light.part-worn", measure.Below, seller, true}, // SI 1994/3117 reg. 7: 2 mm
		{"of 2 mm", under(car, "uk-light"), "1L", 2, unit.Millimeters, "uk-light.part-worn", measure.Above, seller, true},
		{"on a truck too, where 1 mm is the limit in use", under(truck, "uk-heavy"), "1L", 1.9, unit.Millimeters, "uk-heavy.part-worn", measure.Below, seller, true},
		{"California: in line with the rules on tires in use", under(car, "us-ca"), "1L", 0.9, unit.ThirtySecondsInch, "us-ca.sale", measure.Below, seller, true}, // Vehicle Code 27501(a), 27465(b): 1/32 in
		{"at them", under(car, "us-ca"), "1L", 1, unit.ThirtySecondsInch, "us-ca.sale", measure.Above, seller, true},
		{"on its steering axle, 4/32 in", under(truck, "us-ca"), "1L", 3.9, unit.ThirtySecondsInch, "us-ca.sale", measure.Below, seller, true},
		{"Maryland at retail", under(car, "us-md"), "1L", 1.9, unit.ThirtySecondsInch, "us-md.sale", measure.Below, seller, true}, // Transp. 22-405.5: 2/32 in
		{"France", under(car, "eu-fr"), "1L", 1.59, unit.Millimeters, "eu-fr.sale", measure.Below, seller, true},                  // R314-2: in line with R314-1
		{"no rule of its own: the law in use", under(car, "eu-de"), "1L", 1.59, unit.Millimeters, "eu-de.depth", measure.Below, driver, false},
		{"a winter depth is of its season", under(car, "no"), "1L", 2, unit.Millimeters, "no.winter-depth", measure.NotCompared, 0, false},
		{"a model binds nobody", under(car, "us-light"), "1L", 1, unit.ThirtySecondsInch, "us-light.depth", measure.NotCompared, 0, false},
		{"a spare", under(car, "uk-light"), "S", 1, unit.Millimeters, "uk-light.part-worn", measure.NotCompared, 0, false},
	} {
		r, asks := tread.Fitted(c.context, at(c.at, exact, all(c.read, c.in)))
		f, found := ofRule(r, c.rule)
		if got := outcome(t, r, c.rule); got != c.want || asks != c.asks {
			t.Errorf("%s: %v, asks %v; want %v, %v", c.name, got, asks, c.want, c.asks)
		}
		if found && (f.Code != finding.TreadFittingLimit || f.Urgency != finding.BeforeDriving || f.Rule.Binds != c.binds) {
			t.Errorf("%s: %+v, want to bind %b", c.name, f, c.binds)
		}
	}
	if r, asks := tread.Fitted(under(car, "uk-light"), at("1L", exact, nil)); len(r.Findings)+len(r.Met) > 0 || !asks {
		t.Errorf("no depth as left: %+v, asks %v", r, asks)
	}
	if r, asks := tread.Fitted(candidate(under(car, "uk-light")), at("1L", exact, all(1, unit.Millimeters))); asks || r.Findings[0].Urgency != finding.ThisVisit {
		t.Errorf("a law that may bind: %+v, asks %v", r.Findings, asks)
	}
}
