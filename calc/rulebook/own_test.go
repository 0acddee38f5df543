package rulebook_test

import (
	"strings"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
)

func millimeters(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.Millimeters} }

func thirtySecondsOf(n float64) unit.Amount {
	return unit.Amount{Number: n, Unit: unit.ThirtySecondsInch}
}

// A shop's own limit is stricter than the one it names, speaks of the same wheels and
// places, and says whose it is (our own decision).
func TestStricter(t *testing.T) {
	for _, c := range []struct {
		than  string
		depth unit.Amount
		want  string // the beginning of the error, "": made
	}{
		{"eu-at.depth", millimeters(3), ""},
		{"eu-at.depth", millimeters(1.7), ""},
		{"eu-at.depth", thirtySecondsOf(4), ""}, // 3.2 mm
		{"eu-at.winter-depth", millimeters(5), ""},
		{"us-commercial.front-depth", thirtySecondsOf(5), ""},
		{"us-commercial.front-depth", millimeters(3.2), ""}, // 4.03/32 in
		{"eu-at.depth", millimeters(1.6), "1.6 mm is not stricter than eu-at.depth, law in use, which asks for 1.6 mm"},
		{"eu-at.depth", millimeters(1.5), "1.5 mm is looser than eu-at.depth, law in use"},
		{"us-commercial.front-depth", millimeters(3.1), "3.1 mm is looser than us-commercial.front-depth, law in use"},
		{"eu-at.cord", millimeters(3), "rulebook eu-at has no limit"},
		{"us-commercial.cord", millimeters(3), "us-commercial.cord is no least depth"},
		{"advice.wear-bars", millimeters(3), "advice.wear-bars is no least depth"},
		{"nowhere.depth", millimeters(3), "there is no rulebook"},
		{"eu-at", millimeters(3), "rulebook eu-at has no limit"},
		{"eu-at.depth", unit.Amount{Number: 3, Unit: unit.PSI}, ""},
	} {
		l, err := rulebook.Stricter("ours", c.than, c.depth, "We ask for more.")
		if c.depth.Unit == unit.PSI {
			if err == nil {
				t.Errorf("a depth in psi: %+v", l)
			}
			continue
		}
		if c.want != "" {
			if err == nil || !strings.HasPrefix(err.Error(), c.want) {
				t.Errorf("%s to %v: %v", c.than, c.depth, err)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s to %v: %v", c.than, c.depth, err)
			continue
		}
		of, name, _ := strings.Cut(c.than, ".")
		law := rulebook.Must(of).Limit(name)
		if l.ID != "ours" || l.Value != c.depth.OfTread() || l.Subject != law.Subject || l.Where != law.Where || l.Applies.Text != law.Applies.Text || l.Than != c.than ||
			l.Says != "We ask for more." || l.Authority != finding.Shop || l.Known != finding.Read || !strings.HasSuffix(l.Citation, law.Citation) {
			t.Errorf("%s: %+v", c.than, l)
		}
		if (l.Winter == nil) != (law.Winter == nil) || l.Winter != nil && (l.Winter.Required || l.Winter.From != law.Winter.From || !law.Winter.Required) {
			t.Errorf("%s: its winter %+v, the law's %+v", c.than, l.Winter, law.Winter)
		}
	}
}

// A figure that a fleet loads stands beside a least depth of a law, and lower (our own
// decision).
func TestBeside(t *testing.T) {
	for _, c := range []struct {
		law   string
		depth unit.Amount
		want  string
	}{
		{"us-commercial.front-depth", thirtySecondsOf(2), ""},
		{"us-commercial.front-depth", millimeters(3.1), ""},
		{"us-commercial.front-depth", thirtySecondsOf(4), "4 /32 in is not lower than us-commercial.front-depth, law in use"},
		{"us-commercial.front-depth", thirtySecondsOf(5), "5 /32 in is not lower"},
		{"us-commercial.cord", thirtySecondsOf(1), "us-commercial.cord is no least depth of a law in use"},
		{"eu-at.winter-depth", millimeters(3), "eu-at.winter-depth is no least depth of a law in use"},
		{"us-heavy-model.front-depth", thirtySecondsOf(1), "us-heavy-model.front-depth is no least depth of a law in use"},
		{"us-commercial.depth", thirtySecondsOf(1), "rulebook us-commercial has no limit"},
		{"nowhere.depth", thirtySecondsOf(1), "there is no rulebook"},
	} {
		l, err := rulebook.Beside("edition", c.law, c.depth, "A standard", "2026")
		if c.want != "" {
			if err == nil || !strings.HasPrefix(err.Error(), c.want) {
				t.Errorf("%s to %v: %v", c.law, c.depth, err)
			}
			continue
		}
		of, name, _ := strings.Cut(c.law, ".")
		law := rulebook.Must(of).Limit(name)
		if err != nil || l.ID != "edition" || l.Subject != rulebook.EditionDepth || l.Value != c.depth.OfTread() || l.Where != law.Where || l.Applies.Wheels != law.Applies.Wheels || l.Than != c.law ||
			l.Authority != finding.PublishedStandard || l.Known != finding.Reported || l.Citation != "A standard, 2026" || !strings.Contains(l.Says, law.Citation) {
			t.Errorf("%s: %+v, %v", c.law, l, err)
		}
	}
	if _, err := rulebook.Beside("edition", "us-commercial.front-depth", unit.Amount{Number: 3, Unit: unit.PSI}, "A standard", "2026"); err == nil {
		t.Error("a depth in psi")
	}
}

// What is the shop's own goes with the book that it is stricter than, as sure as that.
func TestWithOwn(t *testing.T) {
	of := func(than string) rulebook.Limit { return rulebook.Limit{ID: than, Than: than} }
	own := rulebook.OwnBook(7)
	own.Limits = []rulebook.Limit{of("eu-at.depth"), of("us-commercial.front-depth"), of("eu-at.winter-depth")}
	law := []rulebook.Applied{{Book: rulebook.Must("eu-at"), Candidate: true, ByWeight: true}, {Book: rulebook.Must("eu-de")}, {Book: rulebook.Must("us-commercial")}}
	got := rulebook.WithOwn(law, own)
	if len(got) != 5 || len(law) != 3 {
		t.Fatalf("%d books of %d", len(got), len(law))
	}
	first, second := got[3], got[4]
	if first.ID != rulebook.Own || first.Version != 7 || len(first.Limits) != 2 || first.Limits[1].ID != "eu-at.winter-depth" || !first.Candidate || !first.ByWeight {
		t.Errorf("beside the first: %+v", first)
	}
	if second.ID != rulebook.Own || len(second.Limits) != 1 || second.Limits[0].ID != "us-commercial.front-depth" || second.Candidate || second.ByWeight {
		t.Errorf("beside the last: %+v", second)
	}
	if len(own.Limits) != 3 {
		t.Errorf("the shop's book lost %d limits", 3-len(own.Limits))
	}
	if got := rulebook.WithOwn(law, nil); len(got) != 3 {
		t.Errorf("without a book of the shop: %d", len(got))
	}
}
