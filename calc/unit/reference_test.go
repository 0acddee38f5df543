package unit_test

import (
	"encoding/csv"
	"math"
	"os"
	"testing"

	. "gaugebook.dev/calc/unit"
)

// TestReferenceConversions: conversions by a general-purpose library of units,
// to its nine figures (testdata/reference/make_reference.py).
func TestReferenceConversions(t *testing.T) {
	f, err := os.Open("../../testdata/reference/units.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) < 100 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	for _, row := range rows[1:] {
		n, from, want, to := number(t, row[1]), symbols[row[2]], number(t, row[3]), symbols[row[4]]
		var got float64
		var err error
		switch row[0] {
		case "pressure":
			var p Pressure
			p, err = PressureOf(n, from)
			got = p.In(to)
		case "air":
			var p AirPressure
			p, err = AirPressureOf(n, from)
			got = p.In(to)
		case "temperature":
			var k Temperature
			k, err = TemperatureOf(n, from)
			got = k.In(to)
		case "distance":
			var d Distance
			d, err = DistanceOf(n, from)
			got = d.In(to)
		case "mass":
			var m Mass
			m, err = MassOf(n, from)
			got = m.In(to)
		case "length":
			var l Length
			l, err = LengthOf(n, from)
			got = l.In(to)
		default:
			t.Fatalf("what is %s?", row[0])
		}
		if err != nil || math.Abs(got-want) > 1e-8*max(1, math.Abs(want)) {
			t.Errorf("%s %s is %.10g %s, %v; the library has %s", row[1], row[2], got, row[4], err, row[3])
		}
	}
}
