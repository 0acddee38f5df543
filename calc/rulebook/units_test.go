package rulebook_test

import (
	"testing"

	"gaugebook.dev/calc/rulebook"
)

// Depths are told in the millimeters and speeds in the kilometers of the place that counts most:
// the United Kingdom measures tread in millimeters and drives by miles (common knowledge); where
// no law is known nothing is told.
func TestUnitsOfAPlace(t *testing.T) {
	of := func(ids ...string) (all []rulebook.Applied) {
		for _, id := range ids {
			all = append(all, rulebook.Applied{Book: rulebook.Must(id)})
		}
		return all
	}
	for _, c := range []struct {
		name               string
		books              []rulebook.Applied
		metric, kilometers bool
	}{
		{"nowhere", nil, false, false},
		{"advice alone", of("advice"), false, false},
		{"United Kingdom", of("uk-light"), true, false},
		{"Spain", of("eu-es"), true, true},
		{"United States", of("us-commercial"), false, false},
		{"advice, then Spain", of("advice", "eu-es"), true, true},
	} {
		if m, k := rulebook.Metric(c.books), rulebook.ByKilometers(c.books); m != c.metric || k != c.kilometers {
			t.Errorf("%s: metric %v, by kilometers %v", c.name, m, k)
		}
	}
}
