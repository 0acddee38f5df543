package fitment

import (
	"math"
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// fitted judges four equal tires against one label.
func fitted(class layout.Class, label string, psi float64, tire Tire) Result {
	v := Vehicle{Layout: withLabel(car(layout.RearDrive), label), Wheels: four(func(w *Wheel, _ int) {
		w.Tire, w.Label, w.LabelUnit = tire, unit.MustPressure(psi, unit.PSI), unit.PSI
	})}
	v.Layout.Class = class
	return Judge(v)
}

func marked(text string) Tire { return Tire{Marking: sidewall.Parse(text)} }

// What a tire must be: size, load and speed of the label, or equal and higher
// (tire makers' association paper on replacing car tires, as reported). A lower
// speed symbol on a winter tire is commonly allowed (common practice).
func TestAgainstLabel(t *testing.T) {
	winter := marked("P215/60R16 94Q")
	winter.ThreePeaks = finding.Yes
	mudAndSnow := marked("P215/60R16 94Q")
	mudAndSnow.MudAndSnow = finding.Yes
	for _, c := range []struct {
		name  string
		class layout.Class
		label string
		tire  Tire
		want  map[finding.Code]finding.Urgency
		met   bool
	}{
		{"as labelled", layout.PassengerCar, "P215/60R16 94T", marked("P215/60R16 94T"), nil, true},
		{"higher index and symbol", layout.PassengerCar, "P215/60R16 94T", marked("P215/60R16 95H"), nil, true},
		{"P-metric for metric of one size", layout.PassengerCar, "215/60R16 94T", marked("P215/60R16 95T"), nil, true},
		{"lower load index", layout.PassengerCar, "P215/60R16 95T", marked("P215/60R16 94T"), map[finding.Code]finding.Urgency{finding.FitmentLoadBelowLabel: finding.ThisVisit}, false},
		{"lower symbol", layout.PassengerCar, "P215/60R16 94V", marked("P215/60R16 94T"), map[finding.Code]finding.Urgency{finding.FitmentSpeedBelowLabel: finding.ThisVisit}, false},
		{"lower symbol, winter tire", layout.PassengerCar, "P215/60R16 94T", winter, map[finding.Code]finding.Urgency{finding.FitmentWinterSpeed: finding.Note}, true},
		{"lower symbol, M+S alone", layout.PassengerCar, "P215/60R16 94T", mudAndSnow, map[finding.Code]finding.Urgency{finding.FitmentSpeedBelowLabel: finding.ThisVisit}, false},
		{"bias for radial", layout.PassengerCar, "P215/60R16 94T", Tire{Marking: sidewall.Marking{Class: sidewall.PMetric, SectionWidth: unit.MustLength(215, unit.Millimeters),
			Aspect: sidewall.Parse("P215/60R16").Aspect, Rim: unit.MustLength(16, unit.Inches), Construction: sidewall.Bias, LoadIndex: 94, Speed: "T"}},
			map[finding.Code]finding.Urgency{finding.FitmentBuildNotLabel: finding.ThisVisit}, false},
		{"a larger size that carries as much", layout.PassengerCar, "P215/60R16 94T", marked("P225/60R16 97T"), map[finding.Code]finding.Urgency{finding.FitmentSubstituteSize: finding.Note}, false},
		{"a smaller size that does not", layout.PassengerCar, "P215/60R16 94T", marked("P205/60R16 91T"),
			map[finding.Code]finding.Urgency{finding.FitmentSizeNotLabel: finding.ThisVisit, finding.FitmentLoadBelowLabel: finding.ThisVisit}, false},
		{"a size without its index", layout.PassengerCar, "P215/60R16 94T", marked("P225/60R16"), map[finding.Code]finding.Urgency{finding.FitmentSizeNotLabel: finding.ThisVisit}, false},
		{"passenger tire where the label asks for LT", layout.LightTruck, "LT245/75R16 120/116S E", marked("P245/75R16 109S"),
			map[finding.Code]finding.Urgency{finding.FitmentClassNotLabel: finding.ThisVisit, finding.FitmentLoadBelowLabel: finding.ThisVisit}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := fitted(c.class, c.label, 33, c.tire)
			got := map[finding.Code]int{}
			for _, f := range r.Findings {
				got[f.Code]++
				if want, ok := c.want[f.Code]; !ok || f.Urgency != want {
					t.Errorf("%s, %v: want %v", f.Code, f.Urgency, c.want)
				}
			}
			for code := range c.want {
				if got[code] != 4 {
					t.Errorf("%s at %d wheels", code, got[code])
				}
			}
			if met(r, finding.CheckedFitmentAsLabel) != c.met {
				t.Errorf("good as labelled: %v", met(r, finding.CheckedFitmentAsLabel))
			}
		})
	}
}

// A passenger tire on a truck is rated for its load divided by 1.10 (49 CFR
// 571.110 S4.2.2.2; NHTSA interpretation nht76-1.47 calls it 91 percent).
func TestPassengerTireOnTruck(t *testing.T) {
	r := fitted(layout.LightTruck, "LT245/75R16 108/104S C", 35, marked("P245/75R16 111S"))
	f := found(r, finding.FitmentLoadBelowLabel)
	if len(f) != 4 {
		t.Fatalf("1,090 kg divided by 1.10 is %v against 1,000 kg of the label: %+v", r.Fits[0].Rated, r.Findings)
	}
	if v, ok := evidence(f[0], finding.FactFitmentPassengerDivided); !ok || v.Number != 110 {
		t.Errorf("named as %v", v)
	}
	if share := float64(r.Fits[0].Rated) / 1090; math.Abs(share-0.91) > 0.001 {
		t.Errorf("%.3f of its rating, want 0.91", share)
	}
	if r := fitted(layout.PassengerCar, "LT245/75R16 108/104S C", 35, marked("P245/75R16 111S")); len(found(r, finding.FitmentLoadBelowLabel)) != 0 {
		t.Error("divided on a car")
	}
}

// One published substitution: P285/60R18 at 33 psi carries 2,513 lb, and
// LT275/70R18 takes 46 psi for all of that, by printed tables (owners' forum). By the
// laws of load it is the same within 2 psi, on the safe side.
func TestPublishedSubstitution(t *testing.T) {
	r := fitted(layout.PassengerCar, "P285/60R18 114V", 33, marked("LT275/70R18 125/122R E"))
	got := r.Fits[0].ForLabel.In(unit.PSI)
	if got < 46 || got > 48 {
		t.Errorf("%.1f psi, published 46 psi", got)
	}
	f := found(r, finding.FitmentPressureForSize)
	if len(f) != 4 || f[0].Outcome != measure.Above || f[0].Limit.Number != 33 {
		t.Errorf("%+v", f)
	}
	if n := len(found(r, finding.FitmentSubstituteSize)); n != 4 {
		t.Errorf("%d substitutes", n)
	}
}

// On a truck or trailer a passenger tire counts for its load divided by 1.10, whichever of
// the two stands on the label (49 CFR 571.110 S4.2.2.2, S4.2.2.3; common practice for a
// tire in place of another kind). What LT tires carry is of the printed table of LT235/85R16,
// single, which LT245/75R16 has too: 1,870 lb at 40 psi, 2,030 at 45, 2,205 at 50, 2,335 at
// 55 (a motorhome specification).
func TestATireInPlaceOfAnotherKind(t *testing.T) {
	for _, c := range []struct {
		name        string
		class       layout.Class
		label, tire string
		at          float64 // psi on the label
		from, to    float64 // psi that the tire needs, between rows of the table; 0: none is enough
		divided     bool    // the label's
	}{
		// 109: 1,030 kg, 2,271 lb at 35 psi.
		{"LT for P on a pickup: 2,064 lb", layout.LightTruck, "P245/75R16 109S", "LT245/75R16 120/116S E", 35, 45, 50, true},
		{"LT for P on a trailer", layout.Trailer, "P245/75R16 109S", "LT245/75R16 120/116S E", 35, 45, 50, true},
		{"LT for P on a car: all 2,271 lb", layout.PassengerCar, "P245/75R16 109S", "LT245/75R16 120/116S E", 35, 50, 55, false},
		{"class not told: all of it", layout.ClassNotTold, "P245/75R16 109S", "LT245/75R16 120/116S E", 35, 50, 55, false},
		{"LT for LT on a pickup", layout.LightTruck, "LT235/85R16 120/116S E", "LT245/75R16 120/116S E", 50, 50, 50, false},
		// 775 kg (99) at 35 psi of 36: 1,671 lb by the power 0.8, divided 1,519 lb, which is less than LT tables begin with.
		{"LT for metric on a pickup: where its table begins", layout.LightTruck, "225/75R16 99S", "LT245/75R16 120/116S E", 35, 35, 35, true},
		// LT at 50 psi: 2,205 lb. A P tire of 109 counts for 2,064 lb, one of 116 (1,250 kg) for 2,505 lb.
		{"P for LT on a pickup, rated for less", layout.LightTruck, "LT245/75R16 120/116S E", "P245/75R16 109S", 50, 0, 0, false},
	} {
		r := fitted(c.class, c.label, c.at, marked(c.tire))
		got := r.Fits[0].ForLabel.In(unit.PSI)
		if got < c.from-0.01 || got > c.to+0.01 {
			t.Errorf("%s: %.1f psi, want %v to %v", c.name, got, c.from, c.to)
		}
		divided := false
		for _, f := range r.Findings {
			_, told := evidence(f, finding.FactFitmentLabelDivided)
			divided = divided || told
		}
		if divided != c.divided {
			t.Errorf("%s: the label's load divided: %v", c.name, divided)
		}
	}
}

// A pressure above the sidewall's figure is no answer: the load is refused.
func TestNoPressureAboveTheSidewall(t *testing.T) {
	r := fitted(layout.LightTruck, "LT245/75R16 120/116S E", 80, marked("LT225/75R16 110/107S D"))
	if r.Fits[0].ForLabel != 0 {
		t.Errorf("%v psi for a load past the rating", r.Fits[0].ForLabel.In(unit.PSI))
	}
	fs := found(r, finding.FitmentSizeNotLabel)
	if len(fs) != 4 {
		t.Fatalf("%+v", r.Findings)
	}
	if _, ok := evidence(fs[0], finding.FactFitmentNoPressureEnough); !ok {
		t.Errorf("%+v", fs[0])
	}
}

// The label's own figure is never undercut by a tire that needs less.
func TestNeverBelowTheLabel(t *testing.T) {
	r := fitted(layout.PassengerCar, "P215/60R16 94T", 33, marked("P235/60R16 99T"))
	if p := r.Fits[0].ForLabel; p.In(unit.PSI) != 33 || len(found(r, finding.FitmentPressureForSize)) != 0 {
		t.Errorf("%v psi", p.In(unit.PSI))
	}
}

// The speedometer reads by the label's diameter: rim plus two section heights
// (UN Regulation 30, 6.1.2, from memory). 215/60R16 is 664.4 mm, 225/65R16 698.9 mm.
func TestSpeedometer(t *testing.T) {
	r := fitted(layout.PassengerCar, "215/60R16 95T", 33, marked("225/65R16 100T"))
	f := r.Fits[0]
	if math.Abs(float64(f.Diameter.Of)-698.9/664.4) > 1e-4 || f.Shown != (unit.Amount{Number: 60, Unit: unit.MilesPerHour}) || math.Abs(f.True.Number-63.12) > 0.01 {
		t.Errorf("%+v", f)
	}
	size := found(r, finding.FitmentSubstituteSize)[0]
	change, told := evidence(size, finding.FactFitmentDiameterChange)
	shown, toldShown := evidence(size, finding.FactFitmentShownSpeed)
	runs, toldTrue := evidence(size, finding.FactFitmentTrueSpeed)
	if !told || !toldShown || !toldTrue || math.Abs(change.Number-5.2) > 0.05 || change.Unit != unit.Percent || shown != f.Shown || runs.Number != 63 {
		t.Errorf("the size is told with %v: %v shown is %v", change, shown, runs)
	}
	v := Vehicle{Layout: withLabel(car(layout.FrontDrive), "215/60R16 95T"), Books: []rulebook.Applied{{Book: rulebook.Must("eu-de")}},
		Wheels: four(func(w *Wheel, _ int) { w.Tire = marked("205/60R16 92T") })}
	if f := Judge(v).Fits[0]; f.Shown.Unit != unit.KilometersPerHour || f.True.Number >= 100 {
		t.Errorf("smaller tires run slower than shown: %+v", f)
	}
	if _, ok := sidewall.Parse("11R22.5").Geometry(); ok {
		t.Error("11R22.5 carries no aspect: its diameter cannot be derived")
	}
}

// The label is asked for once, a tire that was not read at its place.
func TestAskedOnce(t *testing.T) {
	v := Vehicle{Layout: car(layout.RearDrive), Wheels: four(func(w *Wheel, i int) {
		if i < 3 {
			w.Tire = oneDesign
		}
	})}
	r := Judge(v)
	for _, a := range r.Asked {
		switch {
		case a.Code == finding.AskLabelSize && len(a.Positions) == 0:
		case a.Code == finding.AskMarking && len(a.Positions) == 1:
		default:
			t.Errorf("asked %+v", a)
		}
	}
	if len(r.Asked) != 2 {
		t.Errorf("%+v", r.Asked)
	}
	v.Wheels = four(func(*Wheel, int) {})
	if r := Judge(v); len(r.Asked)+len(r.Findings)+len(r.Met) != 0 {
		t.Errorf("of a vehicle whose sizes nobody told nothing is said: %+v", r)
	}
}

// What is told beside a size that is not the label's: how the speedometer reads, and from which
// pressure it carries the label's load, that none is enough, or that its load is not known.
func TestWhatIsToldOfAnotherSize(t *testing.T) {
	turns := []finding.Fact{finding.FactFitmentDiameterChange, finding.FactFitmentShownSpeed, finding.FactFitmentTrueSpeed}
	for _, c := range []struct {
		name  string
		label string
		tire  string
		code  finding.Code
		want  finding.Fact
	}{
		{"a larger one", "P215/60R16 94T", "P225/60R16 97T", finding.FitmentSubstituteSize, finding.FactFitmentCarriesLabelLoadFrom},
		{"one without its index", "P215/60R16 94T", "P225/60R16", finding.FitmentSizeNotLabel, finding.FactFitmentLoadNotKnown},
		{"a much smaller one", "P215/60R16 94T", "P175/65R14 81T", finding.FitmentSizeNotLabel, finding.FactFitmentNoPressureEnough},
	} {
		fs := found(fitted(layout.PassengerCar, c.label, 33, marked(c.tire)), c.code)
		if len(fs) != 4 {
			t.Errorf("%s: %d found", c.name, len(fs))
			continue
		}
		var codes []finding.Fact
		for _, e := range fs[0].Evidence {
			codes = append(codes, e.Code)
		}
		if !slices.Equal(codes, append(slices.Clone(turns), c.want)) {
			t.Errorf("%s: %v", c.name, codes)
		}
		if from, told := evidence(fs[0], finding.FactFitmentCarriesLabelLoadFrom); told && (from.Number >= 33 || from.Number < 20) { // less than the label: it carries more
			t.Errorf("%s: from %v", c.name, from)
		}
	}
}
