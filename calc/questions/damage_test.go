package questions

import (
	"testing"

	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
)

// The cut that reg. 27(1)(c) allows: 25 mm or 10 percent of the section width,
// whichever is greater (read).
func TestCutLimit(t *testing.T) {
	book := rulebook.Must("uk-light")
	fixed, share := book.Limit("cut").Length(), book.Limit("cut-share").Ratio()
	for _, c := range []struct{ width, longest float64 }{
		{0, 25}, // width not told
		{195, 25},
		{250, 25},
		{255, 25.5},
		{315, 31.5},
	} {
		got := cutLimit(fixed, share, unit.MustLength(c.width, unit.Millimeters)).In(unit.Millimeters)
		if got != c.longest {
			t.Errorf("section width %v mm: %v mm, want %v", c.width, got, c.longest)
		}
	}
}
