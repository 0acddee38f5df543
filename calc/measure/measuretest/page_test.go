package measuretest

import (
	"math"
	"testing"
)

// TestInterval: the exact interval of Clopper and Pearson. For none of n it ends at
// 1 - 0.025^(1/n); for 4 of 20 textbooks print 5.73 and 43.66 percent (from memory).
func TestInterval(t *testing.T) {
	for _, c := range []struct {
		of, all   int
		low, high float64
	}{
		{0, 100, 0, 100 * (1 - math.Pow(0.025, 0.01))},
		{100, 100, 100 * math.Pow(0.025, 0.01), 100},
		{4, 20, 5.73, 43.66},
	} {
		low, high := Share{c.of, c.all}.Interval(0.95)
		if math.Abs(low-c.low) > 0.005 || math.Abs(high-c.high) > 0.005 {
			t.Errorf("%d of %d: %.3f to %.3f, want %.3f to %.3f", c.of, c.all, low, high, c.low, c.high)
		}
	}
}

func TestShares(t *testing.T) {
	s := Share{3, 200}
	page := "| a | b | " + s.String() + " | " + Share{200, 200}.String() + " |\n"
	if got := Shares(page, "a", "b"); len(got) != 2 || got[0] != s || got[1] != (Share{200, 200}) {
		t.Errorf("%v of %s", got, page)
	}
	if got := Shares(page, "a"); len(got) != 2 {
		t.Errorf("%v", got)
	}
	whole := "a\n<!-- begin x -->\n1\n<!-- end x -->\nb\n"
	if got, ok := Part(whole, "x"); !ok || got != "1\n" {
		t.Errorf("part %q", got)
	}
	if got, ok := Part(WithPart(whole, "x", "2\n"), "x"); !ok || got != "2\n" || WithPart(whole, "y", "2") != whole {
		t.Errorf("part written anew %q", got)
	}
	if s = (Share{}).And(true).And(false); s != (Share{1, 2}) {
		t.Errorf("counted %v", s)
	}
	s = Share{3, 200}
	if !s.Agrees(Share{30, 2000}) || s.Agrees(Share{1000, 2000}) {
		t.Error("agreement of shares")
	}
}
