package wear_test

import (
	"gaugebook.dev/calc/finding"

	"encoding/csv"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/wear"
)

// TestPublished: patterns and their likely causes as manuals and the trade give
// them, each with its source in testdata/published/wear.csv. Only the codes of
// want lead, and those of never are not named at any rank.
func TestPublished(t *testing.T) {
	f, err := os.Open("../../testdata/published/wear.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) < 35 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	for _, row := range rows[1:] {
		t.Run(row[0], func(t *testing.T) {
			vehicle, right := strings.CutSuffix(row[2], " right")
			v := wear.Vehicle{Layout: map[string]layout.Vehicle{"front drive": front, "rear drive": rear}[vehicle], Gauge: thirtySecond, Tires: tiresOf(t, row[4])}
			for i := range v.Tires {
				if row[3] != "" {
					n := number(t, row[3])
					run(n, n)(&v.Tires[i])
				}
				if right {
					earlier(100, 97)(&v.Tires[i])
				}
				for _, told := range split(row[5], "|") {
					if place, what, _ := strings.Cut(told, "="); place == v.Tires[i].At.String() {
						felt(what)(&v.Tires[i])
					}
				}
			}
			r := wear.Judge(v)
			want := split(row[6], ";")
			if slices.Contains(want, "even") {
				want = slices.DeleteFunc(want, func(w string) bool { return w == "even" })
				if len(r.Even) != len(v.Tires) {
					t.Errorf("even are %v", r.Even)
				}
			}
			slices.Sort(want)
			if got := leads(r); !slices.Equal(got, want) {
				t.Errorf("%s: %v lead, want %v (%s)", row[1], got, want, said(r))
			}
			for _, never := range split(row[7], ";") {
				for _, f := range r.Findings {
					if string(f.Code) == never || never == "wear" && f.Code != finding.WearRotationMissed {
						t.Errorf("%s: names %s", row[1], f.Code)
					}
				}
			}
			if row[8] == "" || !slices.Contains([]string{"read", "reported", "from memory", "computed"}, row[9]) {
				t.Errorf("source %q, known %q", row[8], row[9])
			}
		})
	}
}

// tiresOf reads "1L=7 6 7|1R=7 7 7/7 7 7/4 4 4": stations parted by slashes.
func tiresOf(t *testing.T, text string) (ts []wear.Tire) {
	for one := range strings.SplitSeq(text, "|") {
		place, depths, _ := strings.Cut(one, "=")
		var stations [][]float64
		for station := range strings.SplitSeq(depths, "/") {
			var row []float64
			for d := range strings.FieldsSeq(station) {
				row = append(row, number(t, d))
			}
			stations = append(stations, row)
		}
		ts = append(ts, rings(place, thirtySecond, stations))
	}
	return ts
}

func number(t *testing.T, s string) float64 {
	n, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func split(s, by string) []string {
	if s == "" {
		return nil
	}
	return strings.Split(s, by)
}
