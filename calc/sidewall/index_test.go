package sidewall

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"gaugebook.dev/calc/unit"
)

// row is one row of a table in testdata/published, by its column names.
type row map[string]string

// number gives a cell's number, 0 for an empty one.
func (r row) number(t *testing.T, column string) float64 {
	t.Helper()
	if r[column] == "" {
		return 0
	}
	n, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func table(t *testing.T, name string) []row {
	t.Helper()
	f, err := os.Open("../../testdata/published/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%s: %d rows, %v", name, len(rows), err)
	}
	var out []row
	for _, cells := range rows[1:] {
		r := row{}
		for i, column := range rows[0] {
			r[column] = cells[i]
		}
		if r["source"] == "" || r["known"] == "" {
			t.Errorf("%s %s names no source", name, cells[0])
		}
		out = append(out, r)
	}
	return out
}

// TestLoadIndexTable: every index against published tables. Rows from memory
// (181 to 200) are held only to their own rule, ten times the entry 80 lower.
func TestLoadIndexTable(t *testing.T) {
	rows := table(t, "load_index.csv")
	if len(rows) != 201 {
		t.Fatalf("%d rows", len(rows))
	}
	for i, r := range rows {
		got, ok := IndexLoad(i)
		if !ok || int(r.number(t, "index")) != i || got != kg(r.number(t, "kg")) {
			t.Errorf("index %d: %v kg, %s has %s", i, got, r["source"], r["kg"])
		}
		// A sidewall has the nearest whole pound (49 CFR 571.139 S5.5.4(b)).
		if pounds := math.Round(got.In(unit.Pounds)); pounds != r.number(t, "lb") {
			t.Errorf("index %d: %v lb, want %s", i, pounds, r["lb"])
		}
		if r["known"] == "from memory" {
			tenth, _ := IndexLoad(i - 80)
			if math.Abs(float64(got-10*tenth)) > 1e-9 {
				t.Errorf("index %d is %v kg, %d is %v", i, got, i-80, tenth)
			}
		}
	}
	for _, i := range []int{-1, 201, 279} {
		if m, ok := IndexLoad(i); ok {
			t.Errorf("index %d is %v kg", i, m)
		}
	}
}

// notPreferred are the indexes whose load is not the rounded preferred number of
// ISO 3 but another rounding of it; 195 and 197 are from memory.
var notPreferred = map[int]float64{
	35: 122, 61: 258, 115: 1220, 117: 1280, 141: 2580, 143: 2720, 147: 3070, 155: 3870, 157: 4120, 159: 4370, 161: 4620, 163: 4870,
	195: 12200, 197: 12800,
}

// TestPreferredNumbers checks the table on a second route: from index 0 = 45 kg
// on it is the series R80 of ISO 3, whose theoretical steps are 10^(1/80).
func TestPreferredNumbers(t *testing.T) {
	series := table(t, "preferred_numbers.csv")
	if len(series) != 80 {
		t.Fatalf("R80 has 80 numbers a decade, not %d", len(series))
	}
	first := 0
	for i, r := range series {
		if r.number(t, "r80") == 4.5 {
			first = i
		}
	}
	for i := range 201 {
		place := first + i
		preferred := series[place%80].number(t, "r80") * math.Pow(10, float64(1+place/80))
		got, _ := IndexLoad(i)
		other, listed := notPreferred[i]
		if same := math.Abs(float64(got)-preferred) < 1e-6; same == listed {
			t.Errorf("index %d: %v kg, R80 has %v", i, got, preferred)
		}
		if listed && math.Abs(other-preferred) > 1e-6 {
			t.Errorf("index %d: R80 has %v, not %v", i, preferred, other)
		}
		if off := math.Abs(float64(got)/preferred - 1); off > 0.0083 {
			t.Errorf("index %d: %v kg is %.2f percent off R80", i, got, 100*off)
		}
		if off := math.Abs(float64(got)/(45*math.Pow(10, float64(i)/80)) - 1); off > 0.0201 {
			t.Errorf("index %d: %v kg is %.2f percent off the geometric series", i, got, 100*off)
		}
	}
}

// TestMisprints: what public copies of the table print wrongly is not taken over.
// Each breaks the order of the table or is a step of half a percent and more off it.
func TestMisprints(t *testing.T) {
	for _, r := range table(t, "load_index_misprints.csv") {
		i := int(r.number(t, "index"))
		wrong := kg(r.number(t, "kg"))
		if got, _ := IndexLoad(i); got == wrong {
			t.Errorf("index %d has the misprint %v kg of %s", i, wrong, r["source"])
		}
	}
}
