package rotation_test

import (
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/rotation"
)

// Two tires and wheels told whole; the identification is invented, in the form of
// 49 CFR 574.5.
func TestMakesAlike(t *testing.T) {
	whole := rotation.Make{Identification: "1AB CDEF 2324", Marking: "225/70R19.5", Rim: "6.75x19.5", Wheel: "steel-disc"}
	with := func(change func(*rotation.Make)) rotation.Make {
		m := whole
		change(&m)
		return m
	}
	for _, c := range []struct {
		name  string
		other rotation.Make
		want  finding.Answer
	}{
		{"the same", whole, finding.Yes},
		{"typed another way", with(func(m *rotation.Make) { m.Identification, m.Marking = "1abcdef2324", "225/70r19.5 " }), finding.Yes},
		{"made in another week", with(func(m *rotation.Make) { m.Identification = "1AB CDEF 1120" }), finding.Yes},
		{"of another plant", with(func(m *rotation.Make) { m.Identification = "1XY CDEF 2324" }), finding.NotKnown},
		{"another size", with(func(m *rotation.Make) { m.Marking = "245/70R19.5" }), finding.No},
		{"another rim", with(func(m *rotation.Make) { m.Rim = "7.50x19.5" }), finding.No},
		{"another kind of wheel", with(func(m *rotation.Make) { m.Wheel = "aluminum-disc" }), finding.No},
		{"size not told", with(func(m *rotation.Make) { m.Marking = "" }), finding.NotKnown},
		{"identification not told", with(func(m *rotation.Make) { m.Identification = "" }), finding.NotKnown},
	} {
		if got := rotation.MakesAlike([]rotation.Make{whole, c.other}); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}
