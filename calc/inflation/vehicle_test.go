package inflation_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gaugebook.dev/calc/finding"
	. "gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

func carOf(lamp Lamp, c Conditions, lf, rf, lr, rr float64) Vehicle {
	v := Vehicle{Layout: layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}, Lamp: lamp}
	for i, n := range []float64{lf, rf, lr, rr} {
		w := carAt(n, c)
		w.At = v.Layout.Positions()[i]
		v.Wheels = append(v.Wheels, w)
	}
	return v
}

func truckOf(c Conditions, lo, li float64) Vehicle {
	v := Vehicle{Layout: layout.Vehicle{Class: layout.Heavy, Axles: []layout.Axle{{}, {Dual: true}}}}
	for at, n := range map[string]float64{"1L": 100, "1R": 100, "2LO": lo, "2LI": li, "2RI": 100, "2RO": 100} {
		w := truckAt(n, c)
		w.At = layout.MustParse(at)
		v.Wheels = append(v.Wheels, w)
	}
	slices.SortFunc(v.Wheels, func(a, b Wheel) int { return a.At.Compare(b.At) })
	return v
}

func (v shown) String() string {
	var all []string
	for _, w := range v.Wheels {
		for _, f := range w.Findings {
			all = append(all, strings.TrimPrefix(string(f.Code), "inflation.")+":"+w.At.String())
		}
	}
	for _, f := range v.Findings {
		s := strings.TrimPrefix(string(f.Code), "inflation.")
		for i, p := range f.Positions {
			s += [...]string{":", ","}[min(i, 1)] + p.String()
		}
		all = append(all, s)
	}
	slices.Sort(all)
	return strings.Join(all, " ")
}

type shown VehicleResult

// TestVehicle: what shows only between wheels. The dual spread, the mates of a
// low tire and "all alike" are common practice; the lamp is 49 CFR 571.138 S4.2.
func TestVehicle(t *testing.T) {
	trailer := func(a, b, c, d float64) Vehicle {
		v := Vehicle{Layout: layout.Vehicle{Class: layout.Trailer, Axles: make([]layout.Axle, 2)}}
		for i, n := range []float64{a, b, c, d} {
			v.Wheels = append(v.Wheels, Wheel{
				At: v.Layout.Positions()[i], Class: layout.Trailer, Found: psi(n), Read: unit.PSI, Gauge: digital,
				Label: psi(80), Sidewall: psi(80), Conditions: Conditions{DrivenHere: finding.Yes, Distance: miles(30)},
			})
		}
		return v
	}
	motorcycle := carOf(LampFlashing, cold, 0, 0, 0, 0)
	motorcycle.Layout.Class = layout.Motorcycle
	for i := range motorcycle.Wheels {
		motorcycle.Wheels[i].Class = layout.Motorcycle
	}
	unread := carOf(LampOn, cold, 33, 33, 33, 33)
	unread.Wheels[3].Read = unit.None
	parkedPair := truckOf(cold, 70, 100)
	for i := range parkedPair.Wheels {
		parkedPair.Wheels[i].DrivenLow = parked
	}
	for _, c := range []struct {
		name string
		v    Vehicle
		want string
	}{
		{"all right", carOf(LampOff, cold, 33, 33, 32, 33), ""},
		{"driven in, one low tire with a nail", carOf(LampOn, drove, 35, 36, 35, 20),
			"at-lamp-threshold:2R lamp-on-low-tire:2R run-low-undecided:2R warm-above-label:1L warm-above-label:1R warm-above-label:2L"},
		{"all four down alike: weather, no four leaks", carOf(LampOff, cold, 28, 28, 29, 28),
			"all-alike:1L,1R,2L,2R low:1L low:1R low:2L low:2R"},
		{"all four far down alike", carOf(LampOn, cold, 25, 25, 26, 25),
			"all-alike:1L,1R,2L,2R lamp-on-low-tire:1L,1R,2L,2R low:1L low:1R low:2L low:2R"},
		{"one further down than the others is a leak", carOf(LampOff, cold, 29, 29, 29, 25),
			"find-leak:2R low:1L low:1R low:2L"},
		{"one that leaks audibly is a leak", func() Vehicle {
			v := carOf(LampOff, cold, 28, 28, 28, 28)
			v.Wheels[0].Seen.AudibleLeak = true
			return v
		}(), "audible-leak:1L low:1L low:1R low:2L low:2R"},
		{"lamp on, all right", carOf(LampOn, cold, 33, 33, 33, 33), "lamp-on-pressures-right"},
		{"lamp on, one not read", unread, "lamp-on-not-all-read"},
		{"lamp flashes", carOf(LampFlashing, cold, 33, 33, 33, 33), "lamp-flashing"},
		{"lamp not seen to light", carOf(LampDead, cold, 33, 33, 33, 33), "lamp-bulb-not-seen"},
		{"dual pair right", truckOf(cold, 100, 101), ""},
		{"dual pair 5 psi apart", truckOf(cold, 104, 99), "above-label:2LO"},
		{"dual pair 6 psi apart: cannot tell, and put right", truckOf(cold, 105, 99), "above-label:2LO dual-spread:2LI,2LO"},
		{"dual pair 8 psi apart", truckOf(cold, 105, 97), "above-label:2LO below-label:2LI dual-spread:2LI,2LO"},
		{"inner flat after 40 miles: both off", truckOf(drove, 101, 0),
			"dual-mate-carried-load:2LO flat:2LI label-while-warm:1L label-while-warm:1R label-while-warm:2RI label-while-warm:2RO low:2LO run-low:2LI"},
		{"outer below 80 %: both off", truckOf(cold, 70, 100), "dual-mate-carried-load:2LI run-low:2LO"},
		{"both below 80 %", truckOf(cold, 70, 60), "run-low:2LI run-low:2LO"},
		{"outer leaked down while parked", parkedPair, "dual-mate-carried-load:2LI find-leak:2LO no-air-on-vehicle:2LO"},
		{"trailer towed at 59 to 63 % of its label", trailer(48, 50, 49, 47), "run-low:1L run-low:1R run-low:2L run-low:2R"},
		{"trailer, one of a tandem run low", trailer(88, 88, 88, 40),
			"run-low:2R tandem-mate-carried-load:1R warm-above-label:1L warm-above-label:1R warm-above-label:2L warm-above-sidewall:1L warm-above-sidewall:1R warm-above-sidewall:2L"},
		{"motorcycle: not judged", motorcycle, ""},
	} {
		want := strings.Fields(c.want)
		slices.Sort(want)
		if got := shown(JudgeVehicle(c.v)).String(); got != strings.Join(want, " ") {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, strings.Join(want, " "))
		}
	}
}

// TestMateComesOff: the mate of a low dual is let down, taken off and looked
// into as well (common practice; the trade's rule on pairs).
func TestMateComesOff(t *testing.T) {
	r := JudgeVehicle(truckOf(cold, 100, 0))
	for i, w := range r.Wheels {
		want := map[string]string{"2LI": "NDFRL", "2LO": "NDFR"}[w.At.String()]
		if got := flags(w); got != want {
			t.Errorf("wheel %d, %v: %q, want %q", i, w.At, got, want)
		}
		if want != "" && w.Target != (Target{Why: finding.TargetNoAir}) {
			t.Errorf("%v: %+v", w.At, w.Target)
		}
	}
	f := find(r.Findings, finding.InflationDualMateCarriedLoad)
	if f.Urgency != finding.BeforeDriving || f.Caution != finding.CautionDeflate {
		t.Errorf("%+v", f)
	}
	parkedPair := truckOf(cold, 70, 100)
	for i := range parkedPair.Wheels {
		parkedPair.Wheels[i].DrivenLow = parked
	}
	if f := find(JudgeVehicle(parkedPair).Findings, finding.InflationDualMateCarriedLoad); f.Urgency != finding.ThisVisit {
		t.Errorf("leaked down while parked: %+v", f)
	}
	// Where the mate was not recorded it is named all the same.
	alone := truckOf(cold, 70, 100)
	alone.Wheels = slices.DeleteFunc(alone.Wheels, func(w Wheel) bool { return w.At == layout.MustParse("2LI") })
	if f := find(JudgeVehicle(alone).Findings, finding.InflationDualMateCarriedLoad); len(f.Positions) != 1 || f.Positions[0] != layout.MustParse("2LI") {
		t.Errorf("mate not recorded: %+v", f)
	}
}

// TestMatchMates: a tire refilled while its mates on the axle are warm is set as
// they read, 35, not to the label of 33 (common practice).
func TestMatchMates(t *testing.T) {
	expect := func(what string, got unit.Pressure, want float64) {
		t.Helper()
		if math.Abs(got.In(unit.PSI)-want) > 1e-9 {
			t.Errorf("%s: %.2f psi, want %v", what, got.In(unit.PSI), want)
		}
	}
	r := JudgeVehicle(carOf(LampOn, drove, 35, 36, 35, 20))
	expect("nail, seen inside first", r.Wheels[3].MatchMates, 35)
	expect("nothing is set before that", r.Wheels[3].Target.Show, 0)
	expect("the mate itself is left alone", r.Wheels[2].MatchMates, 0)
	expect("and not set", r.Wheels[2].Target.Show, 0)

	r = JudgeVehicle(carOf(LampOff, drove, 35, 36, 36, 30))
	expect("low: as its mate", r.Wheels[3].Target.Show, 36)
	if why := r.Wheels[3].Target; why.Why != finding.TargetMates || !why.FinishCold {
		t.Errorf("%+v", why)
	}
	r = JudgeVehicle(carOf(LampOff, cold, 33, 33, 33, 30))
	expect("mates read cold: the label", r.Wheels[3].Target.Show, 33)
	expect("no mate to match", r.Wheels[3].MatchMates, 0)

	v := carOf(LampOff, drove, 35, 36, 36, 30)
	v.Wheels[3].Label = psi(36)
	expect("another label: not as its mate", JudgeVehicle(v).Wheels[3].MatchMates, 0)

	v = carOf(LampOff, drove, 35, 36, 36, 30)
	v.Wheels[3].Sidewall = psi(35)
	expect("stops at the sidewall figure", JudgeVehicle(v).Wheels[3].MatchMates, 35)

	duals := truckOf(drove, 112, 90)
	for i := range duals.Wheels {
		if duals.Wheels[i].At.Axle == 2 && duals.Wheels[i].At.Side == layout.Right {
			duals.Wheels[i].Found = psi(114)
		}
	}
	r = JudgeVehicle(duals)
	i := slices.IndexFunc(duals.Wheels, func(w Wheel) bool { return w.At == layout.MustParse("2LI") })
	expect("the mean of the others on the axle", r.Wheels[i].MatchMates, (112+114+114)/3.0)
}

// TestDarkLamp: a lamp that is off speaks against nothing; it is only noted
// beside a low tire.
func TestDarkLamp(t *testing.T) {
	dark := func(e finding.Evidence) bool { return e.Code == "inflation.lamp-dark" && !e.Against }
	for lamp, want := range map[Lamp]bool{LampOff: true, LampOn: false, LampNotTold: false} {
		r := JudgeVehicle(carOf(lamp, cold, 33, 33, 33, 28))
		f := find(r.Wheels[3].Findings, finding.InflationLow)
		if f.Code != finding.InflationLow || slices.ContainsFunc(f.Evidence, dark) != want {
			t.Errorf("lamp %d: %+v", lamp, f)
		}
	}
}

// TestMirror: mirrored, the vehicle gets the mirrored answer.
func TestMirror(t *testing.T) {
	for _, v := range []Vehicle{carOf(LampOn, drove, 35, 36, 35, 20), truckOf(cold, 100, 0), truckOf(cold, 105, 97), carOf(LampOff, cold, 28, 27, 28, 14)} {
		m := Vehicle{Layout: v.Layout, Lamp: v.Lamp}
		for _, w := range v.Wheels {
			w.At = w.At.Mirror()
			m.Wheels = append(m.Wheels, w)
		}
		back := shown(JudgeVehicle(m))
		for i := range back.Wheels {
			back.Wheels[i].At = back.Wheels[i].At.Mirror()
		}
		for i := range back.Findings {
			for k, p := range back.Findings[i].Positions {
				back.Findings[i].Positions[k] = p.Mirror()
			}
			slices.SortFunc(back.Findings[i].Positions, layout.Position.Compare)
		}
		if got, want := back.String(), shown(JudgeVehicle(v)).String(); got != want {
			t.Errorf("mirrored %s\nas it was %s", got, want)
		}
	}
}

// TestSpareIsNoPartOfIt: a spare is judged alone; it is no mate and no leak more.
func TestSpareIsNoPartOfIt(t *testing.T) {
	v := carOf(LampOff, cold, 28, 28, 28, 28)
	spare := carAt(40, cold)
	spare.At, spare.Label, spare.Sidewall = layout.MustParse("S"), psi(60), psi(60) // compact spare: 60 psi, maker's bulletin
	spare.DrivenLow = parked
	v.Wheels = append(v.Wheels, spare)
	r := JudgeVehicle(v)
	if !r.AllAlike || !r.Wheels[4].FindLeak {
		t.Errorf("alike %v; spare %v", r.AllAlike, codes(r.Wheels[4].Findings))
	}
	v = truckOf(cold, 100, 100)
	v.Wheels = v.Wheels[:3]
	if got := shown(JudgeVehicle(v)).String(); got != "" {
		t.Errorf("half a truck: %s", got)
	}
}
