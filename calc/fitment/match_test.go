package fitment

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

func allWheels(gauge measure.Gauge[unit.Depth], design Tire, depths [4]float64) Vehicle {
	return Vehicle{Layout: car(layout.AllDrive), Wheels: four(func(w *Wheel, i int) {
		w.Tire, w.Depth = design, read(gauge, depths[i])
	})}
}

// Tread of an all-wheel drive: within 2/32 in side to side and front to back
// (workshop page on all-wheel drive, as reported); other pages say less than
// 3/32 in. Depth is compared within one design only (common practice).
func TestAllWheelDriveByTread(t *testing.T) {
	for _, c := range []struct {
		name   string
		depths [4]float64
		fine   bool
		design Tire
		at     string
		want   measure.Outcome // NotCompared: nothing found
		met    bool
	}{
		{"equal", [4]float64{8, 8, 8, 8}, false, oneDesign, "", measure.NotCompared, true},
		{"one step is noise", [4]float64{8, 7, 8, 8}, false, oneDesign, "", measure.NotCompared, false},
		{"one step by a fine gauge is within 2/32", [4]float64{8, 7, 8, 8}, true, oneDesign, "", measure.NotCompared, true},
		{"3/32 is over, by this gauge not provably", [4]float64{7, 7, 7, 4}, false, oneDesign, "2R ", measure.CannotTell, false},
		{"3/32 by a fine gauge", [4]float64{7, 7, 7, 4}, true, oneDesign, "2R ", measure.Above, false},
		{"4/32", [4]float64{8, 8, 8, 4}, false, oneDesign, "2R ", measure.Above, false},
		{"the rear pair", [4]float64{9, 9, 5, 5}, false, oneDesign, "2L 2R ", measure.Above, false},
		{"one deeper than the rest", [4]float64{10, 6, 6, 6}, false, oneDesign, "1R 2L 2R ", measure.Above, false},
		{"design not known", [4]float64{8, 8, 8, 2}, false, Tire{}, "2R ", measure.CannotTell, false},
		{"equal, design not known", [4]float64{8, 8, 8, 8}, false, Tire{}, "", measure.NotCompared, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			gauge := graduated
			if c.fine {
				gauge = fineGauge
			}
			r := Judge(allWheels(gauge, c.design, c.depths))
			fs := found(r, finding.MatchAllWheelDrive)
			if len(fs) == 0 {
				if c.want != measure.NotCompared || met(r, finding.CheckedMatchAllWheelDrive) != c.met {
					t.Fatalf("nothing found, met %v; want %v, met %v", met(r, finding.CheckedMatchAllWheelDrive), c.want, c.met)
				}
				return
			}
			if fs[0].Outcome != c.want || at(fs[0]) != c.at || fs[0].Urgency != finding.ThisVisit || met(r, finding.CheckedMatchAllWheelDrive) {
				t.Errorf("%v at %s, %v", fs[0].Outcome, at(fs[0]), fs[0].Urgency)
			}
			if settle := map[measure.Outcome]finding.Settle{measure.CannotTell: finding.SettleTapeCircumference}[c.want]; fs[0].ToSettle != settle {
				t.Errorf("settled by %q, want %q", fs[0].ToSettle, settle)
			}
			if (c.design.Codes == "") != asked(r, finding.AskSameDesign) {
				t.Errorf("asked for the design: %v", asked(r, finding.AskSameDesign))
			}
		})
	}
}

// 3/32 in of tread is 0.59 in of circumference, 2/32 in is 0.393 in, and 1/4 in
// is 1.27/32 in: 2 pi by definition. The two rules that workshop pages name
// contradict each other, so each is judged by its own measurement.
func TestTreadAsCircumference(t *testing.T) {
	r := Judge(allWheels(graduated, oneDesign, [4]float64{7, 7, 7, 4}))
	got, ok := evidence(found(r, finding.MatchAllWheelDrive)[0], finding.FactMatchAsCircumference)
	if !ok || math.Abs(got.Number-0.59) > 0.005 || got.Unit != unit.Inches {
		t.Errorf("3/32 in of tread is %v of circumference, want 0.59 in", got)
	}
	for _, code := range []finding.Fact{finding.FactMatchOtherPractice, finding.FactMatchWidestPractice} {
		if _, ok := evidence(found(r, finding.MatchAllWheelDrive)[0], code); !ok {
			t.Errorf("%s is not named", code)
		}
	}
	l := book.Limit("awd-circumference").Length()
	if tread := l.In(unit.ThirtySecondsInch) / (2 * math.Pi); math.Abs(tread-1.27) > 0.005 {
		t.Errorf("1/4 in of circumference is %.3f/32 in, want 1.27", tread)
	}
}

// Circumferences within 1/4 in (two workshop pages, as reported). The tape
// decides where both tires were taped, whatever the treads say.
func TestAllWheelDriveByTape(t *testing.T) {
	for _, c := range []struct {
		name      string
		inches    [4]float64
		same, day finding.Answer
		want      measure.Outcome
		met       bool
	}{
		{"equal", [4]float64{82, 82, 82, 82}, finding.Yes, finding.Yes, measure.NotCompared, true},
		{"1/2 in", [4]float64{82, 82, 82, 81.5}, finding.Yes, finding.Yes, measure.Above, false},
		{"5/16 in is over, not provably", [4]float64{82, 82, 82, 81.6875}, finding.Yes, finding.Yes, measure.CannotTell, false},
		{"3/16 in is within, not provably", [4]float64{82, 82, 82, 81.8125}, finding.Yes, finding.Yes, measure.NotCompared, false},
		{"at unequal pressure", [4]float64{82, 82, 82, 81.5}, finding.No, finding.Yes, measure.CannotTell, false},
		{"just inflated", [4]float64{82, 82, 82, 82}, finding.Yes, finding.No, measure.NotCompared, false},
		{"nobody said how", [4]float64{82, 82, 82, 82}, finding.NotAsked, finding.NotAsked, measure.NotCompared, false},
		{"nobody said how, 1/2 in", [4]float64{82, 82, 82, 81.5}, finding.NotAsked, finding.Yes, measure.Above, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			v := allWheels(graduated, oneDesign, [4]float64{9, 9, 9, 3}) // the treads say otherwise
			for i := range v.Wheels {
				v.Wheels[i].Taped = taped(c.inches[i])
				v.Wheels[i].Taped.SamePressure, v.Wheels[i].Taped.DayBefore = c.same, c.day
			}
			r := Judge(v)
			if n := len(found(r, finding.MatchAllWheelDrive)); n != 0 {
				t.Errorf("%d findings by depth beside the tape", n)
			}
			fs := found(r, finding.MatchAllWheelDriveTape)
			got := measure.NotCompared
			if len(fs) == 1 {
				got = fs[0].Outcome
				if at(fs[0]) != "2R " {
					t.Errorf("at %s", at(fs[0]))
				}
			}
			if got != c.want || met(r, finding.CheckedMatchAllWheelDriveTape) != c.met || len(fs) > 1 {
				t.Errorf("%v, met %v; want %v, %v", got, met(r, finding.CheckedMatchAllWheelDriveTape), c.want, c.met)
			}
			if notTold := c.same == finding.NotAsked || c.day == finding.NotAsked; notTold != asked(r, finding.AskTapedHow) {
				t.Errorf("asked how it was taped: %v", asked(r, finding.AskTapedHow))
			}
		})
	}
}

// A set of which one tire was not read does not match, whatever the others read.
func TestASetOfWhichOneWasNotRead(t *testing.T) {
	for i := range 4 {
		v := allWheels(graduated, oneDesign, [4]float64{8, 8, 8, 8})
		v.Wheels[i].Depth = nil
		if r := Judge(v); met(r, finding.CheckedMatchAllWheelDrive) || len(found(r, finding.MatchAllWheelDrive)) != 0 {
			t.Errorf("without %v: met %v, %v", v.Wheels[i].At, met(r, finding.CheckedMatchAllWheelDrive), r.Findings)
		}
	}
}

// The vehicle maker's figure comes before common practice; what the gauge cannot
// decide against it is said, not passed over.
func TestMakersFigureComesFirst(t *testing.T) {
	figure := func(n float64) *unit.Depth { d := unit.MustDepth(n, unit.ThirtySecondsInch); return &d }
	for _, c := range []struct {
		name    string
		maker   float64
		depths  [4]float64
		urgency finding.Urgency
		want    measure.Outcome
	}{
		{"4/32 allowed, 3/32 found", 4, [4]float64{9, 9, 9, 6}, finding.Note, measure.CannotTell},
		{"4/32 allowed, 1/32 found", 4, [4]float64{9, 9, 9, 8}, 0, measure.NotCompared},
		{"4/32 allowed, 6/32 found", 4, [4]float64{9, 9, 9, 3}, finding.ThisVisit, measure.Above},
		{"1/32 allowed, 3/32 found", 1, [4]float64{9, 9, 9, 6}, finding.ThisVisit, measure.Above},
		{"1/32 allowed, equal: this gauge cannot tell", 1, [4]float64{9, 9, 9, 9}, finding.Note, measure.CannotTell},
	} {
		t.Run(c.name, func(t *testing.T) {
			v := allWheels(graduated, oneDesign, c.depths)
			v.Maker = MakerFigures{Depth: figure(c.maker), DepthUnit: unit.ThirtySecondsInch, Source: "owner's handbook"}
			fs := found(Judge(v), finding.MatchAllWheelDrive)
			if c.want == measure.NotCompared {
				if len(fs) != 0 {
					t.Errorf("found %+v", fs[0])
				}
				return
			}
			if len(fs) != 1 || fs[0].Urgency != c.urgency || fs[0].Outcome != c.want || fs[0].Rule.Authority != finding.Maker {
				t.Errorf("%+v", fs)
			}
		})
	}
}

// Tires of different designs may differ by half an inch in diameter at equal
// tread (common practice): only the tape tells.
func TestDifferentDesignsAreTaped(t *testing.T) {
	v := allWheels(graduated, oneDesign, [4]float64{8, 8, 8, 8})
	v.Wheels[3].Tire = Tire{Marking: oneDesign.Marking, Directional: finding.Yes}
	v.Wheels[2].Tire.Directional, v.Wheels[1].Tire.Directional, v.Wheels[0].Tire.Directional = finding.No, finding.No, finding.No
	r := Judge(v)
	fs := found(r, finding.MatchAllWheelDriveDesign)
	if len(fs) != 1 || fs[0].Outcome != measure.CannotTell || fs[0].ToSettle != finding.SettleTapeCircumference || met(r, finding.CheckedMatchAllWheelDrive) {
		t.Errorf("%+v, met %v", fs, met(r, finding.CheckedMatchAllWheelDrive))
	}
	if r := Judge(Vehicle{Layout: car(layout.FrontDrive), Wheels: v.Wheels}); len(found(r, finding.MatchAllWheelDriveDesign)) != 0 {
		t.Error("a front-wheel drive is judged as all-wheel drive")
	}
}

// Of two designs side by side the depths say nothing: the tape decides, and is asked for once.
func TestTwoDesignsOfAPairAreTaped(t *testing.T) {
	other := Tire{Marking: oneDesign.Marking, Directional: finding.Yes}
	one := oneDesign
	one.Directional = finding.No
	for _, c := range []struct {
		name          string
		inner, outer  Tire
		design, tread int
		asked         bool
	}{
		{"one design", one, one, 0, 1, false},
		{"two", one, other, 1, 0, false},
		{"not known", one, Tire{}, 0, 1, true},
	} {
		r := Judge(pairOf(Wheel{Tire: c.inner, Depth: read(graduated, 20)}, Wheel{Tire: c.outer, Depth: read(graduated, 8)}))
		asked := slices.ContainsFunc(r.Asked, func(a Asked) bool { return a.Code == finding.AskSameDesign })
		if len(found(r, finding.MatchDualDesign)) != c.design || len(found(r, finding.MatchDualTread)) != c.tread || asked != c.asked {
			t.Errorf("%s: %+v, asked %v", c.name, r.Findings, r.Asked)
		}
	}
}

func pairOf(inner, outer Wheel) Vehicle {
	inner.At, outer.At = layout.MustParse("2LI"), layout.MustParse("2LO")
	return Vehicle{Layout: truck(), Wheels: []Wheel{inner, outer}}
}

// Dual pairs: the trade press uses 1/4 in of diameter, tire makers' tables 1/2 in
// above the 8.25-20 class (from memory), the army 3/8 in from 30 to 40 in (TM
// 9-2610-200-14, Table 2-1). The stricter decides.
func TestDualPairsByDiameter(t *testing.T) {
	for _, c := range []struct {
		inner, outer float64 // diameters
		limit        float64
		want         measure.Outcome
		met          bool
	}{
		{31.7, 31.7, 0.25, measure.NotCompared, true},
		{31.7, 32.2, 0.25, measure.Above, false},
		{38, 38.5, 0.25, measure.Above, false},
		{39.5, 39.5, 0.375, measure.NotCompared, true},
		{39.2, 39.9, 0.375, measure.Above, false},
		{41.3, 41.7, 0.5, measure.NotCompared, false},
		{41.3, 42, 0.5, measure.Above, false},
		{52, 52.7, 0.5, measure.Above, false}, // the army allows 3/4 in
	} {
		r := Judge(pairOf(Wheel{Taped: across(c.inner)}, Wheel{Taped: across(c.outer)}))
		fs := found(r, finding.MatchDual)
		got := measure.NotCompared
		if len(fs) == 1 {
			got = fs[0].Outcome
			if fs[0].Limit != (unit.Amount{Number: c.limit, Unit: unit.Inches}) || at(fs[0]) != "2LI 2LO " {
				t.Errorf("%v, %v: limit %v at %s", c.inner, c.outer, fs[0].Limit, at(fs[0]))
			}
		}
		if got != c.want || met(r, finding.CheckedMatchDual) != c.met {
			t.Errorf("%v against %v: %v, met %v; want %v, %v", c.inner, c.outer, got, met(r, finding.CheckedMatchDual), c.want, c.met)
		}
	}
}

// The army's table as a second published check: what it does not allow we do not
// either. Its circumferences are its diameters by pi, but for the row over 50
// in, which is inconsistent as printed (pi x 3/4 is 2.36, not 1 3/4).
func TestArmyTable(t *testing.T) {
	for _, row := range []struct {
		diameter, across, round float64
		misprint                bool
	}{
		{29, 0.25, 0.75, false}, {35, 0.375, 1.125, false}, {45, 0.5, 1.5, false}, {52, 0.75, 1.75, true},
	} {
		if off := math.Abs(math.Pi*row.across - row.round); (off > 0.08) != row.misprint {
			t.Errorf("%v in: pi x %v is off by %.3f", row.diameter, row.across, off)
		}
		if l := pairLimit(unit.MustLength(row.diameter, unit.Inches)); l.Value.Number > row.across {
			t.Errorf("%v in: %v allowed, the army allows %v", row.diameter, l.Value, row.across)
		}
		first := math.Pi * row.diameter
		r := Judge(pairOf(Wheel{Taped: taped(round16(first))}, Wheel{Taped: taped(round16(first + row.round + 0.125))}))
		if len(found(r, finding.MatchDual)) != 1 || met(r, finding.CheckedMatchDual) {
			t.Errorf("%v in: a pair past the army's %v in of circumference passes", row.diameter, row.round)
		}
	}
}

func round16(inches float64) float64 { return math.Round(inches*16) / 16 }

// The legal figure, 1/2 in (49 CFR 570.62(b), a model standard), is cited beside
// the trade's own.
func TestDualPairsByModelStandard(t *testing.T) {
	v := pairOf(Wheel{Taped: across(38)}, Wheel{Taped: across(38.75)})
	v.Layout.GrossRating = unit.MustMass(26_000, unit.Pounds)
	v.Books = []rulebook.Applied{{Book: rulebook.Must("us-heavy-model")}}
	r := Judge(v)
	fs := found(r, finding.MatchDualModelLimit)
	if len(fs) != 1 || fs[0].Rule.ID != "us-heavy-model.pair-diameter" || fs[0].Outcome != measure.Above || len(found(r, finding.MatchDual)) != 1 {
		t.Errorf("%+v", r.Findings)
	}
	v = pairOf(Wheel{Taped: across(38)}, Wheel{Taped: across(38.375)})
	v.Books, v.Layout.GrossRating = []rulebook.Applied{{Book: rulebook.Must("us-heavy-model")}}, unit.MustMass(26_000, unit.Pounds)
	if r := Judge(v); len(found(r, finding.MatchDualModelLimit)) != 0 || len(found(r, finding.MatchDual)) != 1 {
		t.Errorf("3/8 in is within 1/2 in and over 1/4 in: %+v", r.Findings)
	}
}

// Tread in a dual pair: at most 4/32 in within one size and design (trade press,
// as reported). 1/4 in of diameter is 4/32 in on each side.
func TestDualPairsByTread(t *testing.T) {
	if d := book.Limit("dual-small").Length(); float64(d) != 2*float64(book.Limit("dual-tread").Depth()) {
		t.Error("1/4 in of diameter is not 4/32 in of tread on each side")
	}
	for _, c := range []struct {
		inner, outer float64
		design       Tire
		want         measure.Outcome
		met, larger  bool
	}{
		{10, 10, oneDesign, measure.NotCompared, true, false},
		{12, 10, oneDesign, measure.NotCompared, true, true},
		{10, 12, oneDesign, measure.NotCompared, true, false},
		{14, 8, oneDesign, measure.Above, false, false},
		{14, 8, Tire{}, measure.CannotTell, false, false},
		{10, 10, Tire{}, measure.NotCompared, false, false},
	} {
		r := Judge(pairOf(Wheel{Tire: c.design, Depth: read(graduated, c.inner)}, Wheel{Tire: c.design, Depth: read(graduated, c.outer)}))
		got := measure.NotCompared
		if fs := found(r, finding.MatchDualTread); len(fs) == 1 {
			got = fs[0].Outcome
		}
		larger := len(found(r, finding.MatchDualLargerInside)) == 1
		if got != c.want || met(r, finding.CheckedMatchDualTread) != c.met || larger != c.larger {
			t.Errorf("%v inside, %v outside: %v, met %v, larger inside %v", c.inner, c.outer, got, met(r, finding.CheckedMatchDualTread), larger)
		}
	}
}

// anyDepth and the rest draw vehicles for what must hold whatever the numbers.
func anyVehicle(t *rapid.T) Vehicle {
	answers := rapid.SampledFrom([]finding.Answer{finding.NotAsked, finding.Yes, finding.No, finding.NotKnown})
	sizes := rapid.SampledFrom([]string{"", "P215/60R16 94T", "225/60R16 98H", "LT245/75R16 120/116S E", "P215/60-16 93S", "T125/70D15 95M", "10.00-20 G", "11R22.5 144/142L"})
	v := Vehicle{Layout: rapid.SampledFrom([]layout.Vehicle{car(layout.AllDrive), car(layout.FrontDrive), truck(),
		{Class: layout.Trailer, Axles: make([]layout.Axle, 2)}}).Draw(t, "layout"), AsOf: unit.Date{Year: 2026, Month: 6, Day: 15}}
	v.Layout = withLabel(v.Layout, sizes.Draw(t, "front label"), sizes.Draw(t, "rear label"))
	if rapid.Bool().Draw(t, "maker's figure") {
		d := unit.MustDepth(float64(rapid.IntRange(1, 5).Draw(t, "maker")), unit.ThirtySecondsInch)
		v.Maker = MakerFigures{Depth: &d, DepthUnit: unit.ThirtySecondsInch}
	}
	if rapid.Bool().Draw(t, "law") {
		v.Books = []rulebook.Applied{{Book: rulebook.Must(rapid.SampledFrom([]string{"us-commercial", "uk-light", "us-heavy-model"}).Draw(t, "book"))}}
	}
	for _, p := range v.Layout.Positions() {
		w := Wheel{At: p, Label: unit.MustPressure(float64(rapid.IntRange(0, 100).Draw(t, "label")), unit.PSI), LabelUnit: unit.PSI}
		if rapid.Bool().Draw(t, "depth read") {
			w.Depth = read(graduated, float64(rapid.IntRange(1, 14).Draw(t, "depth")))
		}
		if rapid.Bool().Draw(t, "taped") {
			w.Taped = taped(80 + float64(rapid.IntRange(0, 32).Draw(t, "tape"))/16)
			w.Taped.SamePressure, w.Taped.DayBefore = answers.Draw(t, "same pressure"), answers.Draw(t, "day before")
		}
		size, codes := sizes.Draw(t, "size"), rapid.SampledFrom([]string{"", "A", "B"}).Draw(t, "codes")
		if codes != "" {
			codes += " " + size // a number has its size in it (49 CFR 574.5): equal ones are of one size
		}
		if rapid.Bool().Draw(t, "marking not read") {
			size = ""
		}
		w.Tire = Tire{Marking: sidewall.Parse(size), Codes: codes,
			Made:        sidewall.Made{Year: rapid.IntRange(2008, 2025).Draw(t, "year"), Week: rapid.IntRange(0, 52).Draw(t, "week")},
			Directional: answers.Draw(t, "directional"), ThreePeaks: answers.Draw(t, "three-peak"), Cracked: rapid.Bool().Draw(t, "cracked")}
		w.Marks = Marks{Arrow: Arrow(rapid.IntRange(0, 3).Draw(t, "arrow")), Outside: Faces(rapid.IntRange(0, 3).Draw(t, "outside")), Date: Faces(rapid.IntRange(0, 3).Draw(t, "date"))}
		w.Valve = Valve{RubberSnapIn: rapid.Bool().Draw(t, "valve"), AluminumStem: rapid.Bool().Draw(t, "stem"), BrassCoreBare: rapid.Bool().Draw(t, "core")}
		v.Wheels = append(v.Wheels, w)
	}
	return v
}

func ids(r Result, change func(layout.Position) layout.Position) map[string]finding.Finding {
	all := map[string]finding.Finding{}
	for _, f := range r.Findings {
		f.Positions = append([]layout.Position(nil), f.Positions...)
		for i := range f.Positions {
			f.Positions[i] = change(f.Positions[i])
		}
		one := []finding.Finding{f}
		finding.Sort(one)
		all[one[0].ID()] = one[0]
	}
	return all
}

func same(p layout.Position) layout.Position { return p }

// Mirroring a vehicle mirrors its findings.
func TestMirrored(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := anyVehicle(t)
		m := v
		m.Wheels = append([]Wheel(nil), v.Wheels...)
		for i := range m.Wheels {
			m.Wheels[i].At = m.Wheels[i].At.Mirror()
		}
		a, b := ids(Judge(v), layout.Position.Mirror), ids(Judge(m), same)
		if len(a) != len(b) {
			t.Fatalf("%d findings, mirrored %d\n%v\n%v", len(a), len(b), a, b)
		}
		for id, f := range a {
			g, ok := b[id]
			if !ok || f.Outcome != g.Outcome || f.Urgency != g.Urgency || f.Measured != g.Measured || len(f.Evidence) != len(g.Evidence) {
				t.Fatalf("%s: %+v, mirrored %+v", id, f, g)
			}
		}
	})
}

// gravity ranks what is said of a match: nothing, a note, a finding.
func gravity(r Result, codes ...finding.Code) int {
	worst := 0
	for _, c := range codes {
		for _, f := range found(r, c) {
			worst = max(worst, 10-int(f.Urgency))
			if f.Outcome == measure.Above {
				worst = max(worst, 20)
			}
		}
	}
	return worst
}

// Of two sets alike but for their spread, the one that differs less is never the
// worse match.
func TestLessDifferenceIsNeverWorse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 8).Draw(t, "difference")
		deeper := rapid.Bool().Draw(t, "the odd one is deeper")
		wheel := rapid.IntRange(0, 3).Draw(t, "wheel")
		design := rapid.SampledFrom([]Tire{oneDesign, {}}).Draw(t, "design")
		of := func(n int) int {
			depths := [4]float64{9, 9, 9, 9}
			if depths[wheel] = 9 - float64(n); deeper {
				depths[wheel] = 9 + float64(n)
			}
			return gravity(Judge(allWheels(graduated, design, depths)), finding.MatchAllWheelDrive)
		}
		if of(n) > of(n+1) {
			t.Fatalf("%d/32 apart is worse than %d/32", n, n+1)
		}
	})
}

// What is not told never makes a match good: taking a fact away keeps nothing
// that was not kept before.
func TestNotToldIsNeverGood(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := anyVehicle(t)
		before := Judge(v)
		w := &v.Wheels[rapid.IntRange(0, len(v.Wheels)-1).Draw(t, "wheel")]
		switch rapid.IntRange(0, 4).Draw(t, "what") {
		case 0:
			w.Tire.Codes = ""
		case 1:
			w.Depth = nil
		case 2:
			if w.Taped == nil {
				return
			}
			w.Taped = &Taped{Circumference: w.Taped.Circumference}
		case 3:
			w.Tire.Marking = sidewall.Marking{}
		case 4:
			w.Valve, w.Label = Valve{}, 0
		}
		after := Judge(v)
		for _, code := range []finding.Checked{finding.CheckedMatchAllWheelDrive, finding.CheckedMatchAllWheelDriveTape, finding.CheckedMatchDual, finding.CheckedMatchDualTread, finding.CheckedFitmentAsLabel, finding.CheckedValveUnderRated} {
			for _, p := range metAt(after, code) {
				if !slices.Contains(metAt(before, code), p) && w.At == p {
					t.Fatalf("%s is good at %v, where less was told", code, p)
				}
			}
		}
	})
}

func metAt(r Result, code finding.Checked) (ps []layout.Position) {
	for _, k := range r.Met {
		if k.Code == code {
			ps = append(ps, k.Positions...)
		}
	}
	return ps
}
