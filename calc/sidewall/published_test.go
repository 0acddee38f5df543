package sidewall

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"gaugebook.dev/calc/unit"
)

// published reads a table of testdata/published by its column names.
func published(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("../../testdata/published/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, row := range rows[1:] {
		c := map[string]string{}
		for i, column := range rows[0] {
			c[column] = row[i]
		}
		out = append(out, c)
	}
	return out
}

func number64(t *testing.T, s string) float64 {
	t.Helper()
	n, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// quantities are what sources print of a size.
var quantities = map[string]func(Geometry) float64{
	"section_height_mm": func(g Geometry) float64 { return g.SectionHeight.In(unit.Millimeters) },
	"diameter_mm":       func(g Geometry) float64 { return g.Diameter.In(unit.Millimeters) },
	"diameter_in":       func(g Geometry) float64 { return g.Diameter.In(unit.Inches) },
	"radius_m":          func(g Geometry) float64 { return g.Diameter.In(unit.Millimeters) / 2000 },
	"circumference_mm":  func(g Geometry) float64 { return g.Circumference.In(unit.Millimeters) },
	"unloaded_rev_per_mile": func(g Geometry) float64 {
		n, _ := g.Revolutions(unit.MustDistance(1, unit.Miles), Unloaded)
		return n.Number
	},
	"rolling_rev_per_mile": func(g Geometry) float64 {
		n, _ := g.Revolutions(unit.MustDistance(1, unit.Miles), RollingFactor)
		return n.Number
	},
}

// TestPublishedSizes: what the sources print of sizes, with the misprints, which
// must not come out, and the sizes whose designation does not tell.
func TestPublishedSizes(t *testing.T) {
	for _, c := range published(t, "size.csv") {
		m := Parse(c["marking"])
		if s := m.String(); s != c["canonical"] || Parse(s) != m {
			t.Errorf("%s %q is printed %q, want %q", c["id"], c["marking"], s, c["canonical"])
		}
		if c["quantity"] == "" {
			continue
		}
		g, ok := m.Geometry()
		got, printed := quantities[c["quantity"]](g), number64(t, c["printed"])
		switch c["within"] {
		case "unknown":
			if ok || g != (Geometry{}) {
				t.Errorf("%s: %s is told of %q, and its designation does not tell it", c["id"], c["quantity"], c["marking"])
			}
		case "not":
			if !ok || math.Abs(got/printed-1) < 0.1 {
				t.Errorf("%s: %s of %q is %g, the misprint is %g", c["id"], c["quantity"], c["marking"], got, printed)
			}
		default:
			if !ok || math.Abs(got-printed) > number64(t, c["within"])*1.000001 {
				t.Errorf("%s: %s of %q is %g, printed is %g", c["id"], c["quantity"], c["marking"], got, printed)
			}
		}
	}
}

// TestGeometry compares with a table computed apart from this program, to the
// last digit it has.
func TestGeometry(t *testing.T) {
	for _, c := range published(t, "size_geometry.csv") {
		g, ok := Parse(c["marking"]).Geometry()
		for quantity, q := range map[string]struct {
			column string
			within float64
		}{
			"section_height_mm": {"section_height_mm", 0.0005}, "diameter_mm": {"diameter_mm", 0.0005}, "diameter_in": {"diameter_in", 0.00006},
			"circumference_mm": {"circumference_mm", 0.006}, "unloaded_rev_per_mile": {"rev_per_mile_unloaded", 0.06}, "rolling_rev_per_mile": {"rev_per_mile_rolling", 0.06},
		} {
			if got, want := quantities[quantity](g), number64(t, c[q.column]); !ok || math.Abs(got-want) > q.within {
				t.Errorf("%s: %s of %q is %g, want %g", c["id"], quantity, c["marking"], got, want)
			}
		}
	}
}

// TestGeometryNotTold: no aspect, no geometry; no distance, no revolutions.
func TestGeometryNotTold(t *testing.T) {
	for _, text := range []string{"", "11R22.5", "10.00-20", "155R13", "9.50R16.5LT", "7.50R16C"} {
		if g, ok := Parse(text).Geometry(); ok || g != (Geometry{}) {
			t.Errorf("%q: %v", text, g)
		}
	}
	g, _ := Parse("225/60R16").Geometry()
	mile := unit.MustDistance(1, unit.Miles)
	for _, c := range []struct {
		g       Geometry
		in      unit.Distance
		rolling unit.Ratio
	}{{Geometry{}, mile, Unloaded}, {g, 0, Unloaded}, {g, mile, 0}, {g, -mile, Unloaded}} {
		if n, ok := c.g.Revolutions(c.in, c.rolling); ok || !n.IsZero() {
			t.Errorf("%v: %v revolutions", c, n)
		}
	}
}
