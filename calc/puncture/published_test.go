package puncture

import (
	"encoding/csv"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// published reads a table of rows with named columns.
func published(t *testing.T, path string) []map[string]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, cells := range all[1:] {
		row := map[string]string{}
		for i, name := range all[0] {
			row[name] = cells[i]
		}
		rows = append(rows, row)
	}
	return rows
}

const repairTable = "../../testdata/published/repair.csv"

var (
	answers = map[string]Answer{"not-repairable": NotRepairable, "repairable": Repairable, "not-as-nail-hole": NotAsNailHole,
		"not-decided": NotDecidedDemountAndInspect, "no-injury": NoInjury}
	methods = map[string]Method{"combination": Combination, "two-piece": TwoPiece, "section": Section, "plug-only": PlugOnly, "patch-only": PatchOnly}
	parts   = map[string]Part{"crown": Crown, "shoulder": Shoulder, "sidewall": Sidewall, "bead": Bead, "": PartNotTold}
	marks   = map[string]Mark{"liner-ring": LinerRing, "rubber-dust": RubberDust, "wrinkled-liner": WrinkledLiner, "scuff-ring": ScuffRing, "separation": Separation, "liner-split": LinerSplit, "impact": ImpactDamage, "cord": CordShowing, "bead": BeadDamage, "joined-cracks": JoinedCracks, "zipper": Zipper, "fine-cracks": FineCracks}
	units   = map[string]unit.Unit{"in": unit.Inches, "mm": unit.Millimeters, "32nds": unit.ThirtySecondsInch}
)

func inch(n float64) *measure.Value[unit.Length] {
	v := measure.Exact(unit.MustLength(n, unit.Inches))
	return &v
}

func mm(n float64) *measure.Value[unit.Length] {
	v := measure.Exact(unit.MustLength(n, unit.Millimeters))
	return &v
}

func prepared(n float64, u unit.Unit) *unit.Length {
	l := unit.MustLength(n, u)
	return &l
}

func tread32(n float64) *measure.Value[unit.Depth] {
	v := measure.Exact(unit.MustDepth(n, unit.ThirtySecondsInch))
	return &v
}

func degrees(n float64) *measure.Value[unit.Angle] {
	v := measure.Exact(unit.Angle(n))
	return &v
}

// good is a tire that every book calls repairable.
func good(marking string, books ...string) Input {
	return Input{
		Tire: Tire{Marking: sidewall.Parse(marking), Tread: tread32(7)},
		Injuries: []Injury{{
			Part: Crown, Size: inch(0.125), Prepared: prepared(0.125, unit.Inches), Angle: degrees(10),
			FromEdge: inch(2.5), FromCenter: mm(10), BetweenOuterGrooves: new(true),
			Through: finding.Yes, ObjectInPlace: finding.No, HoldsAir: finding.Yes,
		}},
		InsideSeen: true,
		Pressure:   Pressure{Flat: finding.No, RunLow: finding.No},
		Books:      books,
	}
}

// inputOf is the good tire with what the row says in its place.
func inputOf(t *testing.T, row map[string]string) Input {
	t.Helper()
	number := func(s string) float64 {
		n, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	marking := row["marking"]
	if marking == "" {
		marking = "225/60R17 99H"
	}
	in := good(marking, row["book"])
	if in.Tire.Marking.Class == sidewall.UnknownClass {
		t.Fatalf("%s: marking %q not read", row["id"], marking)
	}
	i := &in.Injuries[0]
	if row["hole"] != "" {
		i.Prepared = prepared(number(row["hole"]), units[row["hole_unit"]])
		i.Size = nil
	}
	if row["part"] != "" || row["between"] == "yes" {
		i.Part = parts[row["part"]]
		i.BetweenOuterGrooves = nil
	}
	switch row["between"] {
	case "yes":
		i.BetweenOuterGrooves = new(true)
	case "no":
		i.BetweenOuterGrooves = new(false)
	}
	if row["edge_in"] != "" {
		i.FromEdge = inch(number(row["edge_in"]))
	}
	if row["center_mm"] != "" {
		i.FromCenter = mm(number(row["center_mm"]))
	}
	if row["angle"] != "" {
		i.Angle = degrees(number(row["angle"]))
	}
	for m := range strings.FieldsSeq(row["earlier"]) {
		in.Earlier = append(in.Earlier, methods[m])
		i.Overlaps = finding.No
	}
	if row["tread"] != "" {
		d := measure.Exact(unit.MustDepth(number(row["tread"]), units[row["tread_unit"]]))
		in.Tire.Tread = &d
	}
	switch s := row["seen"]; {
	case s == "overlap":
		i.Overlaps = finding.Yes
	case s != "":
		m, ok := marks[s]
		if !ok {
			t.Fatalf("%s: no mark %q", row["id"], s)
		}
		in.Seen = []Mark{m}
	}
	in.InsideSeen = row["inside"] != "no"
	in.Steer = row["steer"] == "yes"
	return in
}

// TestPublishedRepairRules runs every row of the published repair rules that
// accepts or rejects; the source stands in the row.
func TestPublishedRepairRules(t *testing.T) {
	judged := 0
	for n, row := range published(t, repairTable) {
		if row["want"] == "" {
			continue
		}
		judged++
		t.Run(row["id"]+"-"+strconv.Itoa(n+2), func(t *testing.T) {
			r := Judge(inputOf(t, row))
			if r.Answer != answers[row["want"]] {
				t.Fatalf("answer %v (%s), want %s; failing %v, missing %v", r.Answer, r.Main.Code, row["want"], codes(r.Failing), r.Missing)
			}
			if m := row["method"]; m != "" && r.Method != methods[m] {
				t.Errorf("method %v, want %s", r.Method, m)
			}
			all := slices.Concat(r.Failing, r.Open, r.Notes)
			if row["code"] != "" && !slices.ContainsFunc(all, func(f finding.Finding) bool {
				return string(f.Code) == row["code"] && f.Rule.ID == row["book"]+"."+row["rule"]
			}) {
				t.Errorf("no %s by %s among %v", row["code"], row["rule"], codes(all))
			}
		})
	}
	if judged < 80 {
		t.Errorf("only %d rows judged", judged)
	}
}

// TestPublishedAreaWidths compares the width of the repairable area with the
// printed and computed widths. The table prints whole millimeters and rounds
// halves either way, so it agrees within half a millimeter.
func TestPublishedAreaWidths(t *testing.T) {
	book := rulebook.Must("repair-uk")
	checked := 0
	for _, row := range published(t, repairTable) {
		if row["width_mm"] == "" {
			continue
		}
		checked++
		width, _ := strconv.ParseFloat(row["width_mm"], 64)
		want, _ := strconv.ParseFloat(row["area_mm"], 64)
		l := areaRule(book, unit.MustLength(width, unit.Millimeters))
		within := 0.5
		if row["known"] == "computed" {
			within = 1e-9
		}
		if got := width * float64(l.Ratio()); math.Abs(got-want) > within || l.ID != row["rule"] {
			t.Errorf("%s: width %g: area %g mm by %s, want %g by %s", row["id"], width, got, l.ID, want, row["rule"])
		}
	}
	if checked != 18 {
		t.Errorf("%d widths checked", checked)
	}
}

// TestEveryPublishedRowHasItsRule: the rule a row names exists, every rule of
// both books that quotes a source has a row, and where sources disagree the
// rule says which is followed and why.
func TestEveryPublishedRowHasItsRule(t *testing.T) {
	seen := map[string]bool{}
	for _, row := range published(t, repairTable) {
		l := rulebook.Must(row["book"]).Limit(row["rule"]) // panics on an unknown one
		seen[row["book"]+"."+l.ID] = true
		if row["source"] == "" || !slices.Contains([]string{"read", "reported", "from memory", "computed"}, row["known"]) {
			t.Errorf("%s: source %q, known %q", row["id"], row["source"], row["known"])
		}
		switch row["use"] {
		case "tested":
			if row["want"] == "" && row["area_mm"] == "" {
				t.Errorf("%s: tested, but there is nothing to test", row["id"])
			}
		case "context":
		case "disagrees":
			if !strings.Contains(l.Says, "followed") || !strings.Contains(l.Says, "because") {
				t.Errorf("%s: %s.%s does not say which source is followed and why: %s", row["id"], row["book"], l.ID, l.Says)
			}
		default:
			t.Errorf("%s: use %q", row["id"], row["use"])
		}
	}
	// Rules of our own, of the tire maker, or common to both books without a row of their own.
	ours := []string{"found-size-uncertainty", "distance-uncertainty", "angle-uncertainty", "maker-policy", "fast", "age-advice",
		"repair-uk.angle", "repair-uk.inside-seen", "repair-uk.overlap"}
	for _, id := range []string{"repair-us", "repair-uk"} {
		for _, l := range rulebook.Must(id).Limits {
			if !seen[id+"."+l.ID] && !slices.Contains(ours, l.ID) && !slices.Contains(ours, id+"."+l.ID) {
				t.Errorf("%s.%s has no published row", id, l.ID)
			}
			if l.Citation == "" || l.Says == "" || l.Known == finding.KnownNotTold || l.Authority == finding.AuthorityNotTold {
				t.Errorf("%s.%s is not fully told: %+v", id, l.ID, l)
			}
		}
	}
}

func codes(fs []finding.Finding) []finding.Code {
	var cs []finding.Code
	for _, f := range fs {
		cs = append(cs, f.Code)
	}
	return cs
}
