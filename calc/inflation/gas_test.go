package inflation_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	. "gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
)

var symbols = func() map[string]unit.Unit {
	m := map[string]unit.Unit{}
	for u := unit.ThirtySecondsInch; u.String() != "" || u == unit.Count; u++ {
		m[u.String()] = u
	}
	return m
}()

func psi(n float64) unit.Pressure { return unit.MustPressure(n, unit.PSI) }
func kPa(n float64) unit.Pressure { return unit.MustPressure(n, unit.Kilopascals) }
func fahrenheit(n float64) unit.Temperature {
	return unit.MustTemperature(n, unit.Fahrenheit)
}

type row map[string]string

// table reads check rows; lines that start with # are remarks.
func table(t *testing.T, path string) []row {
	t.Helper()
	f, err := os.Open("../../testdata/" + path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%s: %d rows, %v", path, len(rows), err)
	}
	var out []row
	for _, cells := range rows[1:] {
		m := row{}
		for i, column := range rows[0] {
			m[column] = cells[i]
		}
		if m["source"] == "" {
			t.Errorf("%s %s names no source", path, cells[0])
		}
		out = append(out, m)
	}
	return out
}

func (r row) number(t *testing.T, column string) float64 {
	t.Helper()
	f, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("%s, %s: %v", r["id"], column, err)
	}
	return f
}

func (r row) temperature(t *testing.T, column, u string) unit.Temperature {
	t.Helper()
	k, err := unit.TemperatureOf(r.number(t, column), symbols[u])
	if err != nil {
		t.Fatalf("%s: %v", r["id"], err)
	}
	return k
}

func first(s string) string { return strings.Fields(strings.ReplaceAll(s, ",", " "))[0] }

// TestGasLaw: textbook problems and their printed answers, and answers known to
// be wrong (gauge pressure times the ratio of temperatures), which must not come out.
func TestGasLaw(t *testing.T) {
	for _, r := range table(t, "published/gas_law.csv") {
		var air unit.AirPressure
		if r["air"] != "" {
			a, err := unit.AirPressureOf(r.number(t, "air"), symbols[r["air_unit"]])
			if err != nil {
				t.Fatal(err)
			}
			air = a
		}
		p, err := unit.PressureOf(r.number(t, "p1"), symbols[first(r["p1_unit"])])
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasSuffix(r["p1_unit"], "absolute") {
			p -= unit.Pressure(air)
		}
		tu := first(r["t_unit"] + " -")
		to := symbols[first(r["published_unit"])]
		var got float64
		switch r["asks"] {
		case "convert":
			got = p.In(to)
		case "absolute":
			got = (unit.AirPressure(p) + air).In(to)
		case "temperature":
			q, err := unit.PressureOf(r.number(t, "t2"), symbols[first(r["p1_unit"])])
			if err != nil {
				t.Fatal(err)
			}
			// As warm as published, less and more the tolerance, it reads less and more.
			reads := func(off float64) unit.Pressure {
				return AtTemperature(p, r.temperature(t, "t1", tu), unit.MustTemperature(r.number(t, "published")+off, to), air)
			}
			if by := r.number(t, "tolerance"); reads(-by) > q || reads(by) < q {
				t.Errorf("%s: at %s %s between %v and %v, want %v (%s; %s)", r["id"], r["published"], r["published_unit"], reads(-by), reads(by), q, r["source"], r["note"])
			}
			continue
		case "pressure", "trap":
			q := AtTemperature(p, r.temperature(t, "t1", tu), r.temperature(t, "t2", tu), air)
			got = q.In(to)
			if strings.HasSuffix(r["published_unit"], "absolute") {
				got = (unit.AirPressure(q) + air).In(to)
			}
		default:
			t.Fatalf("%s asks %s", r["id"], r["asks"])
		}
		near := math.Abs(got-r.number(t, "published")) <= r.number(t, "tolerance")
		if near == (r["asks"] == "trap") {
			t.Errorf("%s: got %.6g, published %s %s (%s; %s)", r["id"], got, r["published"], r["published_unit"], r["source"], r["note"])
		}
	}
}

// TestTradeRules holds the trade's rules of thumb against the law: 1 psi per
// 10 °F, 2 percent per 10 °F, 0.1 bar per 10 °C.
func TestTradeRules(t *testing.T) {
	for _, r := range table(t, "published/gas_rules.csv") {
		u, tu := symbols[r["unit"]], symbols[r["t_unit"]]
		p, err := unit.PressureOf(r.number(t, "pressure"), u)
		if err != nil {
			t.Fatal(err)
		}
		from, to := r.number(t, "temperature"), r.number(t, "temperature")+r.number(t, "step")
		rise := (AtTemperature(p, unit.MustTemperature(from, tu), unit.MustTemperature(to, tu), 0) - p).In(u)
		if math.Abs(rise-r.number(t, "rise")) > r.number(t, "tolerance") {
			t.Errorf("%s: %s %s rises by %.5f, want %s (%s)", r["id"], r["pressure"], r["unit"], rise, r["rise"], r["source"])
		}
	}
}

// TestAtmosphere: US Standard Atmosphere 1976, within 0.1 percent.
func TestAtmosphere(t *testing.T) {
	for _, r := range table(t, "published/atmosphere.csv") {
		h, err := unit.HeightOf(r.number(t, "altitude"), symbols[r["unit"]])
		if err != nil {
			t.Fatal(err)
		}
		if r["kind"] == "geopotential" {
			h = geometric(h)
		}
		got, err := Air(h)
		if want := r.number(t, "pressure_pa") / 1000; err != nil || math.Abs(float64(got)/want-1) > 0.001 {
			t.Errorf("%s: %s %s %s: %.4f kPa, %v; want %.4f (%s)", r["id"], r["altitude"], r["unit"], r["kind"], float64(got), err, want, r["source"])
		}
	}
	for _, h := range []float64{-502, 11_020, 20_000, math.NaN(), math.Inf(1), math.Inf(-1)} {
		if a, err := Air(unit.Height(h)); err == nil {
			t.Errorf("%v m gives %v kPa", h, a)
		}
	}
	for _, h := range []float64{-500, 11_019} {
		if _, err := Air(unit.Height(h)); err != nil {
			t.Errorf("%v m: %v", h, err)
		}
	}
}

// geometric is the inverse of Geopotential, by the same equation 18.
func geometric(h unit.Height) unit.Height { return 6356766 * h / (6356766 - h) }

func TestGeopotential(t *testing.T) {
	for _, h := range []unit.Height{-500, 0, 1609.344, 5000, 11000} {
		if back := Geopotential(geometric(h)); math.Abs(float64(back-h)) > 1e-6 {
			t.Errorf("%v m comes back as %v", h, back)
		}
	}
}

// TestDriveInTheHeat: 80 psi at 60 °F reads 89 at 110 °F (the gas law).
func TestDriveInTheHeat(t *testing.T) {
	got := AtTemperature(psi(80), fahrenheit(60), fahrenheit(110), 0).In(unit.PSI)
	if math.Round(got) != 89 {
		t.Errorf("%.2f psi", got)
	}
}

var loadClasses = map[string]LoadClass{
	"standard": StandardLoad, "extra": ExtraLoad, "range-c": LoadRangeC, "range-d": LoadRangeD, "range-e": LoadRangeE,
}

// TestLampThreshold: 49 CFR 571.138 S4.2(a) and Table 1.
func TestLampThreshold(t *testing.T) {
	for _, r := range table(t, "published/lamp.csv") {
		class, u := loadClasses[r["class"]], symbols[r["unit"]]
		if r["asks"] == "rated" {
			p := unit.MustPressure(r.number(t, "label"), u)
			lightTruck := strings.HasPrefix(r["class"], "range")
			if got := LoadClassOf(lightTruck, p); got != class {
				t.Errorf("%s: rated %s %s: class %d, want %s", r["id"], r["label"], r["unit"], got, r["class"])
			}
			continue
		}
		want := r.number(t, "want")
		check := func(label, want float64, floor bool) {
			t.Helper()
			threshold, by := LampThreshold(unit.MustPressure(label, u), class)
			if math.Abs(threshold.In(u)-want) > 1e-6*want || strings.Contains(by.ID, "floor") != floor {
				t.Errorf("%s: label %v %s, %s: lamp at %v by %s, want %v (%s)", r["id"], label, r["unit"], r["class"], threshold.In(u), by.ID, want, r["source"])
			}
		}
		switch r["asks"] {
		case "floor":
			check(1, want, true)
			check(4*want, 3*want, false)
		case "threshold":
			check(r.number(t, "label"), want, want != 0.75*r.number(t, "label"))
		case "crossover": // the printed label is rounded to 0.01 kPa
			label := r.number(t, "label")
			check(label-0.01, want, true)
			check(label+0.01, 0.75*(label+0.01), false)
		}
	}
	if got := LoadClassOf(false, kPa(260)); got != LoadClassNotTold {
		t.Errorf("260 kPa is in no row of Table 1, got class %d", got)
	}
	if got := LoadClassOf(true, kPa(240)); got != LoadClassNotTold {
		t.Errorf("no light truck tire of Table 1 is rated at 240 kPa, got class %d", got)
	}
	if threshold, by := LampThreshold(psi(35), LoadRangeE+1); math.Abs(threshold.In(unit.PSI)-26.25) > 1e-9 || by.ID != "pressure.lamp-share" {
		t.Errorf("a class that the table has not: %.4f psi by %s", threshold.In(unit.PSI), by.ID)
	}
	if threshold, by := LampThreshold(psi(35), LoadClassNotTold); math.Abs(threshold.In(unit.PSI)-26.25) > 1e-9 || by.ID != "pressure.lamp-share" {
		t.Errorf("class not told: %v by %s", threshold.In(unit.PSI), by.ID)
	}
}

// TestBook: every limit of the book has its unit, its authority, its source and
// how it is known; ids are used once.
func TestBook(t *testing.T) {
	seen := map[string]bool{}
	for _, l := range rulebook.Must("pressure").Limits {
		if seen[l.ID] || l.Authority == 0 || l.Citation == "" || l.Known == 0 || l.Says == "" || l.Applies.Text == "" || l.Subject == "" {
			t.Errorf("limit %q is told twice or not whole: %+v", l.ID, l)
		}
		if l.Value.Number != 0 && l.Value.Unit == unit.None {
			t.Errorf("limit %q: a number without a unit", l.ID)
		}
		seen[l.ID] = true
	}
}

// TestElsewhere: 33 psi set at 5,280 ft reads 30.4 at sea level at the same
// temperature (US Standard Atmosphere 1976: 12.1008 and 14.6959 psi).
func TestElsewhere(t *testing.T) {
	up, err := Air(unit.MustHeight(5280, unit.Feet))
	if err != nil {
		t.Fatal(err)
	}
	got := Elsewhere(psi(33), up, unit.StandardAtmosphere)
	if math.Abs(got.In(unit.PSI)-30.4) > 0.05 {
		t.Errorf("33 psi up there reads %.3f at sea level", got.In(unit.PSI))
	}
	if back := Elsewhere(got, unit.StandardAtmosphere, up); math.Abs(back.In(unit.PSI)-33) > 1e-9 {
		t.Errorf("and %.3f back up", back.In(unit.PSI))
	}
}
