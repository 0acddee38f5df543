package words

import (
	"testing"

	"gaugebook.dev/calc/layout"
)

func TestPlaces(t *testing.T) {
	car := layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}
	dually := layout.Vehicle{Class: layout.LightTruck, Axles: []layout.Axle{{}, {Dual: true}}}
	tractor := layout.Vehicle{Class: layout.Heavy, Axles: []layout.Axle{{}, {Dual: true}, {Dual: true}}}
	trailer := layout.Vehicle{Class: layout.Trailer, Axles: make([]layout.Axle, 2)}
	for _, c := range []struct {
		name    string
		vehicle layout.Vehicle
		at      []string
		want    string
	}{
		{"none", car, nil, ""},
		{"one", car, []string{"1L"}, "the left front"},
		{"two", car, []string{"1L", "2R"}, "the left front and the right rear"},
		{"three and the spare", car, []string{"1L", "1R", "S"}, "the left front, the right front and the spare"},
		{"inner dual", dually, []string{"2RI"}, "the inner right rear"},
		{"outer dual of three axles", tractor, []string{"3LO"}, "the outer left wheel on axle 3"},
		{"front of three axles", tractor, []string{"1R"}, "the right wheel on axle 1"},
		{"a trailer has no front axle", trailer, []string{"1L"}, "the left wheel on axle 1"},
		{"axles not told", layout.Vehicle{}, []string{"2L"}, "the left wheel on axle 2"},
	} {
		var at []layout.Position
		for _, s := range c.at {
			p, err := layout.Parse(s)
			if err != nil {
				t.Fatal(err)
			}
			at = append(at, p)
		}
		if got := In(Default).Places(c.vehicle, at); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// The variant of a text that fits best is given, the plain text else.
func TestVariants(t *testing.T) {
	pair := func(s string) Pair { return Pair{Technician: s} }
	c := &Catalogue{
		Findings: map[string]Pair{
			"cut":                       pair("plain"),
			"cut.cannot-tell":           pair("open"),
			"cut.candidate":             pair("candidate"),
			"cut.candidate.cannot-tell": pair("open candidate"),
			"bulge":                     pair("plain"),
			"bulge.cannot-tell":         pair("open"),
		},
		Work: map[string]Pair{
			"air.set":             pair("plain"),
			"air.set.no-target":   pair("no target"),
			"air.set.finish-cold": pair("finish cold"),
			"tire.replace":        pair("plain"),
		},
	}
	for _, f := range []struct {
		code                  string
		cannotTell, candidate bool
		want                  string
	}{
		{"cut", false, false, "plain"},
		{"cut", true, false, "open"},
		{"cut", false, true, "candidate"},
		{"cut", true, true, "open candidate"},
		{"bulge", false, true, "plain"},
		{"bulge", true, true, "open"},
		{"dent", true, true, ""},
	} {
		if got := c.Finding(f.code, f.cannotTell, f.candidate).Technician; got != f.want {
			t.Errorf("Finding(%s, %v, %v) = %q, want %q", f.code, f.cannotTell, f.candidate, got, f.want)
		}
	}
	for _, w := range []struct {
		code                 string
		noTarget, finishCold bool
		want                 string
	}{
		{"air.set", false, false, "plain"},
		{"air.set", true, false, "no target"},
		{"air.set", false, true, "finish cold"},
		{"air.set", true, true, "no target"},
		{"tire.replace", true, true, "plain"},
	} {
		if got := c.WorkLine(w.code, w.noTarget, w.finishCold).Technician; got != w.want {
			t.Errorf("WorkLine(%s, %v, %v) = %q, want %q", w.code, w.noTarget, w.finishCold, got, w.want)
		}
	}
}
