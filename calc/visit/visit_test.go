package visit

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/fastener"
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sensor"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

func psi(n float64) unit.Pressure { return unit.MustPressure(n, unit.PSI) }

func miles(n float64) unit.Distance { return unit.MustDistance(n, unit.Miles) }

func read(n float64) Pressure { return Pressure{Of: psi(n), Read: unit.PSI} }

var (
	left, right = layout.MustParse("1L"), layout.MustParse("1R")
	car         = layout.Vehicle{Class: layout.PassengerCar, Axles: []layout.Axle{{ColdNormal: psi(33), LabelUnit: unit.PSI}, {ColdNormal: psi(35), ColdFull: psi(41), LabelUnit: unit.Bar}}}
)

// The rule on servicing large wheels, 29 CFR 1910.177, is law in the United States alone:
// whether it is, is open where nobody said where the vehicle is driven, or what it is.
func TestWhereTheRuleOnLargeWheelsBinds(t *testing.T) {
	us, mx := rulebook.Place{Country: "US", State: "TX"}, rulebook.Place{Country: "MX"}
	for _, c := range []struct {
		name   string
		class  layout.Class
		places []rulebook.Place
		want   finding.Answer
	}{
		{"in the United States", layout.Heavy, []rulebook.Place{us}, finding.Yes},
		{"there too", layout.Heavy, []rulebook.Place{mx, us}, finding.Yes},
		{"elsewhere", layout.Heavy, []rulebook.Place{mx}, finding.No},
		{"nobody knows where", layout.Heavy, nil, finding.NotAsked},
		{"nobody knows what", layout.ClassNotTold, []rulebook.Place{us}, finding.NotAsked},
		{"nobody knows what, elsewhere", layout.ClassNotTold, []rulebook.Place{mx}, finding.No},
	} {
		v := Visit{Vehicle: layout.Vehicle{Class: c.class}, Loaded: finding.Yes, Spare: Spare{Label: psi(60)}}
		v.Use.Places = c.places
		if l := v.Labels(); l.Bound != c.want || l.Loaded != finding.Yes || l.Spare.Label != psi(60) || l.Vehicle.Class != c.class {
			t.Errorf("%s: %+v", c.name, l)
		}
	}
}

// The label by place and load: for the full load where it is loaded and the label has one,
// or where it has no other.
func TestLabelByPlaceAndLoad(t *testing.T) {
	fullOnly := layout.Vehicle{Axles: []layout.Axle{{ColdFull: psi(80), LabelUnit: unit.PSI}}}
	for _, c := range []struct {
		v      layout.Vehicle
		at     string
		loaded finding.Answer
		want   float64
		u      unit.Unit
		most   float64
	}{
		{car, "1L", finding.No, 33, unit.PSI, 33},
		{car, "1L", finding.Yes, 33, unit.PSI, 33},
		{car, "2R", finding.No, 35, unit.Bar, 41},
		{car, "2R", finding.NotAsked, 35, unit.Bar, 41},
		{car, "2R", finding.Yes, 41, unit.Bar, 41},
		{car, "S", finding.Yes, 60, unit.Kilopascals, 60},
		{car, "3L", finding.No, 0, unit.None, 0},
		{fullOnly, "1L", finding.No, 80, unit.PSI, 80},
	} {
		l := Labels{Vehicle: c.v, Loaded: c.loaded, Spare: Spare{Label: psi(60), LabelUnit: unit.Kilopascals}}
		p := layout.MustParse(c.at)
		if got, u := l.Cold(p); got.In(unit.PSI) != psi(c.want).In(unit.PSI) || u != c.u || l.Most(p) != psi(c.most) {
			t.Errorf("%s, loaded %d: %v psi in %v, most %v", c.at, c.loaded, got.In(unit.PSI), u, l.Most(p).In(unit.PSI))
		}
	}
}

// How the air of a wheel is judged: a temporary spare by its own figure, a spare in its
// place as a tire that was not driven on, and each by what its sidewall and size tell.
func TestAirIsJudgedAsTheTireIs(t *testing.T) {
	driven := inflation.Conditions{DrivenHere: finding.Yes}
	low := inflation.DrivenLow{Driven: finding.Yes}
	for _, c := range []struct {
		name  string
		v     layout.Vehicle
		wheel Wheel
		want  inflation.Wheel // some of it
	}{
		{"a car's", car, Wheel{Position: left}, inflation.Wheel{Class: layout.PassengerCar, On: layout.PassengerCar, Label: psi(33), LabelUnit: unit.PSI}},
		{"driven low", car, Wheel{Position: left, DrivenLow: low}, inflation.Wheel{Class: layout.PassengerCar, On: layout.PassengerCar, Label: psi(33), LabelUnit: unit.PSI, DrivenLow: low}},
		{"a spare", car, Wheel{Position: layout.MustParse("S"), DrivenLow: low}, inflation.Wheel{Class: layout.PassengerCar, On: layout.PassengerCar, Body: sidewall.FabricBody, Label: psi(60), DrivenLow: inflation.DrivenLow{Driven: finding.No}}},
		{"a temporary spare, its figure not read", car, Wheel{Position: left, Temporary: true}, inflation.Wheel{Class: layout.PassengerCar, On: layout.PassengerCar, Body: sidewall.FabricBody, Label: psi(60)}},
		{"a temporary spare, by its figure", car, Wheel{Position: left, Temporary: true, Tire: Tire{Sidewall: psi(58)}}, inflation.Wheel{Class: layout.PassengerCar, On: layout.PassengerCar, Body: sidewall.FabricBody, Label: psi(58)}},
		{"the highest on its sidewall", car, Wheel{Position: left, Tire: Tire{Sidewall: psi(44)}}, inflation.Wheel{Class: layout.PassengerCar, On: layout.PassengerCar, Label: psi(33), LabelUnit: unit.PSI, Sidewall: psi(44)}},
	} {
		l := Labels{Vehicle: c.v, Spare: Spare{Label: psi(60)}, Bound: finding.Yes}
		got := l.Air(c.wheel, read(30), driven)
		was := inflation.Wheel{Class: got.Class, On: got.On, Body: got.Body, Label: got.Label, LabelUnit: got.LabelUnit, Sidewall: got.Sidewall, DrivenLow: got.DrivenLow}
		if was != c.want || got.Found != psi(30) || got.Read != unit.PSI || got.At != c.wheel.Position || got.Bound != finding.Yes {
			t.Errorf("%s: %+v", c.name, was)
		}
		if spare := c.wheel.Position.Spare; (got.Conditions.DrivenHere == finding.No) != spare {
			t.Errorf("%s: driven here %v", c.name, got.Conditions.DrivenHere)
		}
	}
	for kind, seen := range map[finding.Observation]func(inflation.Seen) bool{
		finding.ObservedFlat:            func(s inflation.Seen) bool { return s.Flat },
		finding.ObservedAirLeak:         func(s inflation.Seen) bool { return s.AudibleLeak },
		finding.ObservedRunLowScuffRing: func(s inflation.Seen) bool { return s.ScuffRing },
		finding.ObservedRunLowDust:      func(s inflation.Seen) bool { return s.RubberDust },
		finding.ObservedRunLowLinerRing: func(s inflation.Seen) bool { return s.WrinkledLiner },
		finding.ObservedRunLowSmell:     func(s inflation.Seen) bool { return s.BurntSmell },
	} {
		l := Labels{Vehicle: car}
		if with := l.Air(Wheel{Position: left, Observations: []Observation{{Kind: kind}}}, Pressure{}, driven).Seen; !seen(with) || seen(l.Air(Wheel{Position: left}, Pressure{}, driven).Seen) {
			t.Errorf("%s is seen as %+v", kind, with)
		}
	}
}

// The row of the warning lamp's table that a tire is under: 49 CFR 571.138, Table 1.
func TestLoadClassOfATire(t *testing.T) {
	for _, c := range []struct {
		marking string
		maximum float64
		want    inflation.LoadClass
	}{
		{"LT245/75R16 120/116S C", 0, inflation.LoadRangeC},
		{"LT245/75R16 120/116S D", 0, inflation.LoadRangeD},
		{"LT245/75R16 120/116S E", 0, inflation.LoadRangeE},
		{"P215/60R16 94T XL", 0, inflation.ExtraLoad},
		{"P215/60R16 94T SL", 0, inflation.StandardLoad},
		{"P215/60R16 94T", 35, inflation.StandardLoad},
		{"P215/60R16 94T", 0, inflation.LoadClassNotTold},
		{"", 0, inflation.LoadClassNotTold},
	} {
		if got := loadClass(sidewall.Parse(c.marking), psi(c.maximum)); got != c.want {
			t.Errorf("%q of %v psi: %d, want %d", c.marking, c.maximum, got, c.want)
		}
	}
}

// A tire that was off its rim has the air of the bay; so has one of a large vehicle whose
// wheel came off (common practice).
func TestAirOfWhatWasOffItsRim(t *testing.T) {
	truck := layout.Vehicle{Class: layout.Heavy, Axles: []layout.Axle{{Steered: true, ColdNormal: psi(100)}}}
	warm := inflation.Conditions{DrivenHere: finding.Yes}
	for _, c := range []struct {
		name  string
		v     layout.Vehicle
		wheel Wheel
		fresh bool
	}{
		{"on its rim", car, Wheel{Position: left}, false},
		{"fitted", car, Wheel{Position: left, Mended: Mended{Fitted: true}}, true},
		{"a car's wheel that was off", car, Wheel{Position: left, Fastening: &fastener.Work{}}, false},
		{"a truck's wheel that was off", truck, Wheel{Position: left, Fastening: &fastener.Work{}}, true},
		{"a truck's that was not", truck, Wheel{Position: left}, false},
	} {
		v := Visit{Vehicle: c.v, Conditions: warm, Wheels: []Wheel{c.wheel}}
		if got := v.AirLeft(c.wheel, read(33)); (got.Conditions.DrivenHere != finding.Yes) != c.fresh {
			t.Errorf("%s: %+v", c.name, got.Conditions)
		}
	}
	inside, cutter := &Inside{}, unit.MustLength(6, unit.Millimeters)
	whole := Repair{Cutter: &cutter, Method: puncture.Combination, SoapedDry: finding.Yes}
	twoPiece, noCutter, wet, plug := whole, whole, whole, whole
	twoPiece.Method, noCutter.Cutter, wet.SoapedDry, plug.Method = puncture.TwoPiece, nil, finding.No, puncture.PlugOnly
	for name, c := range map[string]struct {
		m    Mended
		want bool
	}{
		"nothing": {Mended{}, false}, "inside": {Mended{Inside: inside}, true}, "fitted": {Mended{Fitted: true}, true}, "under air": {Mended{UnderAir: UnderAir{Named: true}}, true},
		"repaired": {Mended{Repair: whole}, true}, "in two pieces": {Mended{Repair: twoPiece}, true}, "without a cutter": {Mended{Repair: noCutter}, false},
		"not dry": {Mended{Repair: wet}, false}, "plugged": {Mended{Repair: plug}, false},
	} {
		if got := c.m.Fresh(); got != c.want {
			t.Errorf("%s: %v", name, got)
		}
	}
}

// What was looked for and is not there is good only where all of it was looked for.
func TestGoodOnlyWhereAllWasTold(t *testing.T) {
	no := finding.No
	clean := Inside{no, no, no, no, no}
	if !clean.Clean() || (*Inside)(nil).Clean() {
		t.Error("clean inside")
	}
	for i, change := range []func(*Inside, finding.Answer){
		func(s *Inside, a finding.Answer) { s.Ring = a }, func(s *Inside, a finding.Answer) { s.Dust = a }, func(s *Inside, a finding.Answer) { s.Wrinkles = a },
		func(s *Inside, a finding.Answer) { s.Liner = a }, func(s *Inside, a finding.Answer) { s.BadRepair = a },
	} {
		for _, a := range []finding.Answer{finding.Yes, finding.NotAsked, finding.NotKnown} {
			s := clean
			if change(&s, a); s.Clean() {
				t.Errorf("part %d told as %d is clean", i, a)
			}
		}
	}
	passed := UnderAir{Twenty: finding.Yes, Working: finding.Yes, Popped: finding.No, Named: true}
	for i, u := range []UnderAir{{finding.No, finding.Yes, finding.No, true}, {finding.Yes, finding.No, finding.No, true}, {finding.Yes, finding.Yes, finding.Yes, true}, {finding.Yes, finding.Yes, finding.No, false}} {
		if u.Passed() || !passed.Passed() {
			t.Errorf("%d passed", i)
		}
	}
	for _, c := range []struct {
		dry, filled finding.Answer
		want        bool
	}{{finding.Yes, finding.Yes, true}, {finding.No, finding.Yes, false}, {finding.Yes, finding.No, false}} {
		if got := (ObjectOut{c.dry, c.filled}).Tight(); got != c.want {
			t.Errorf("dry %d, filled %d: %v", c.dry, c.filled, got)
		}
	}
	held := TakenBack{Kind: finding.ObservedFlat, Was: finding.ObservedScalloped, Felt: true, Named: true}
	looked, nobody, nothing, same := held, held, held, held
	looked.Felt, nobody.Named, nothing.Was, same.Was = false, false, "", held.Kind
	for i, b := range []TakenBack{looked, nobody, nothing, same} {
		if b.Holds() || !held.Holds() {
			t.Errorf("%d is taken back", i)
		}
	}
}

// Wheels of one axle share what it weighs; a spare carries nothing.
func TestWhatAWheelCarries(t *testing.T) {
	pickup := layout.Vehicle{Axles: []layout.Axle{{}, {Dual: true}}}
	s := Scale{pickup, []AxleWeight{{Axle: 1, Weight: unit.MustMass(3000, unit.Pounds), ReadIn: unit.Pounds}, {Axle: 2, Weight: unit.MustMass(6000, unit.Pounds), ReadIn: unit.Kilograms}}}
	for at, want := range map[string]float64{"1L": 1500, "1R": 1500, "2LI": 1500, "2RO": 1500} {
		c, ok := s.Carried(layout.MustParse(at))
		if got := c.Share.In(unit.Pounds); !ok || got < want-0.01 || got > want+0.01 {
			t.Errorf("%s carries %v lb", at, got)
		}
	}
	if c, _ := s.Carried(layout.MustParse("2LI")); c.Unit != unit.Kilograms || c.Weight.Unit != unit.Kilograms {
		t.Errorf("read in %v", c)
	}
	for _, at := range []string{"3L", "S"} {
		if c, ok := s.Carried(layout.MustParse(at)); ok {
			t.Errorf("%s carries %v", at, c)
		}
	}
	v := Visit{Vehicle: pickup, AxleWeights: s.Axles[:1], AxleWeightsLeft: s.Axles[1:]}
	if v.Scale().Axles[0].Axle != 1 || v.ScaleLeft().Axles[0].Axle != 2 {
		t.Errorf("as found %v, as left %v", v.Scale(), v.ScaleLeft())
	}
}

// Where the tire of a place was at an earlier visit, and when tires last changed places.
func TestWhereATireWas(t *testing.T) {
	named := DepthsBefore{Wheels: []DepthsAt{{Position: left, Tire: "a"}, {Position: right, Tire: "b"}}}
	for _, c := range []struct {
		id    string
		at    layout.Position
		from  layout.Position
		known bool
	}{{"a", left, left, true}, {"a", right, left, true}, {"c", right, right, false}, {"", left, left, false}} {
		if from, known := named.PlaceOf(c.id, c.at); from != c.from || known != c.known {
			t.Errorf("%q at %v was at %v, %v", c.id, c.at, from, known)
		}
	}
	if got := named.At(right); got.Tire != "b" || named.At(layout.MustParse("2L")).Tire != "" {
		t.Errorf("at %v: %v", right, got)
	}
	ago := func(n float64) *unit.Distance { return new(miles(n)) }
	for _, c := range []struct {
		changed []*unit.Distance
		last    float64 // -1: not known
		within  bool    // from 1,000 miles ago to 500
	}{
		{nil, -1, false}, {[]*unit.Distance{ago(700)}, 700, true}, {[]*unit.Distance{ago(1000)}, 1000, true}, {[]*unit.Distance{ago(500)}, 500, true},
		{[]*unit.Distance{ago(1001)}, 1001, false}, {[]*unit.Distance{ago(499)}, 499, false}, {[]*unit.Distance{ago(2000), ago(400), ago(3000)}, 400, false}, {[]*unit.Distance{nil}, -1, true},
	} {
		r := Rotating{Changed: c.changed}
		last := -1.0
		if d := r.LastChange(); d != nil {
			last = d.In(unit.Miles)
		}
		if last != c.last && (last < c.last-0.01 || last > c.last+0.01) || r.ChangedWithin(miles(500), miles(1000)) != c.within {
			t.Errorf("%v: last %v, within %v", c.changed, last, r.ChangedWithin(miles(500), miles(1000)))
		}
	}
}

// A temporary spare on the road is told by its marking, or by where the spare is said to
// run; it is compared with nothing, and that it has no sensor is as it should be.
func TestTemporarySpareOnTheRoad(t *testing.T) {
	runs := func(at layout.Position) *SpareReport { return &SpareReport{InService: at} }
	compact := "T125/70D15 95M"
	for _, c := range []struct {
		name  string
		size  string
		at    layout.Position
		r     *SpareReport
		spare Spare
		want  bool
	}{
		{"by its marking", compact, left, nil, Spare{}, true},
		{"another marking", "P215/60R16 94T", left, runs(left), Spare{Fitted: true}, false},
		{"by where it runs", "", left, runs(left), Spare{Fitted: true}, true},
		{"it runs elsewhere", "", right, runs(left), Spare{Fitted: true}, false},
		{"a full-size one runs there", "", left, runs(left), Spare{Fitted: true, FullSize: true}, false},
		{"there is none", "", left, runs(left), Spare{}, false},
		{"nobody says so", "", left, nil, Spare{Fitted: true}, false},
		{"in its own place", compact, layout.MustParse("S"), nil, Spare{Fitted: true}, false},
	} {
		w := Wheel{Position: c.at, Tire: Tire{Size: c.size, Marking: sidewall.Parse(c.size)}, Sensed: Sensed{Sensor: &sensor.Reading{}}, Observations: []Observation{{Kind: finding.ObservedSensorNotAnswering}, {Kind: finding.ObservedFlat}}}
		v := Visit{Vehicle: car, SpareReport: c.r, Spare: c.spare, Wheels: []Wheel{w, {Position: layout.MustParse("2R")}}}.InOrder()
		i := slices.IndexFunc(v.Wheels, func(w Wheel) bool { return w.Position == c.at })
		got := v.Wheels[i]
		if got.Temporary != c.want || (got.Sensed.Sensor == nil) != c.want || len(v.OnRoad()) != map[bool]int{true: 1, false: 2}[c.want] || got.Has(finding.ObservedSensorNotAnswering) == c.want || !got.Has(finding.ObservedFlat) {
			t.Errorf("%s: %+v of %d", c.name, got, len(v.OnRoad()))
		}
	}
}

// Wheels and observations come in their order, and a wheel that was off, as the work of
// the visit says, was off; what was given stays as it was.
func TestInOrder(t *testing.T) {
	a, b := Observation{Kind: finding.ObservedFlat}, Observation{Kind: finding.ObservedScalloped}
	spare := layout.MustParse("S")
	v := Visit{Vehicle: car, Wheels: []Wheel{{Position: spare}, {Position: right, Observations: []Observation{b, a}, ObservationsLeft: []Observation{b, a}}, {Position: left}}}
	v.Done = []Done{{Kind: finding.DoneWheelsOff, At: []layout.Position{left}}}
	got := v.InOrder()
	if got.Wheels[0].Position != left || got.Wheels[1].Position != right || got.Wheels[2].Position != spare {
		t.Errorf("%v", got.Wheels)
	}
	first := min(a.Kind, b.Kind)
	if got.Wheels[1].Observations[0].Kind != first || got.Wheels[1].ObservationsLeft[0].Kind != first || v.Wheels[1].Observations[0] != b || v.Wheels[0].Position != spare {
		t.Errorf("observations: %v", got.Wheels[1])
	}
	if got.Wheels[0].Fastening == nil || got.Wheels[1].Fastening != nil || v.Wheels[2].Fastening != nil {
		t.Error("which wheel was off")
	}
	v.Done[0].At = nil
	if got = v.InOrder(); got.Wheels[0].Fastening == nil || got.Wheels[1].Fastening == nil || got.Wheels[2].Fastening != nil {
		t.Error("all but the spare were off")
	}
	v.Done[0].Kind = finding.DoneTiresRotated
	if got = v.InOrder(); got.Wheels[0].Fastening != nil || !v.Did(finding.DoneTiresRotated) || v.Did(finding.DoneWheelsOff) {
		t.Error("rotated, and none was off")
	}
}

// Another tire was put where one is told as left, or by the work of the visit.
func TestFitted(t *testing.T) {
	v := Visit{Wheels: []Wheel{{Position: left}, {Position: right, Mended: Mended{Fitted: true}}}}
	at := func() (all []layout.Position) {
		for _, w := range v.Fitted() {
			all = append(all, w.Position)
		}
		return all
	}
	if got := at(); !slices.Equal(got, []layout.Position{right}) {
		t.Errorf("%v", got)
	}
	v.Done = []Done{{Kind: finding.DoneTiresReplaced, At: []layout.Position{left}}}
	if got := at(); !slices.Equal(got, []layout.Position{left, right}) {
		t.Errorf("by the work: %v", got)
	}
}

// A vehicle is watched that has a system, or may, or whose lamp is lit.
func TestWatched(t *testing.T) {
	for _, c := range []struct {
		kind sensor.Kind
		lamp inflation.Lamp
		want bool
	}{{sensor.None, inflation.LampOff, false}, {sensor.None, inflation.LampNotTold, false}, {sensor.None, inflation.LampOn, true}, {sensor.Direct, inflation.LampOff, true}, {sensor.KindNotTold, inflation.LampOff, true}} {
		if got := (Visit{Monitoring: c.kind, Lamp: c.lamp}).Watched(); got != c.want {
			t.Errorf("kind %d, lamp %d: %v", c.kind, c.lamp, got)
		}
	}
}

// A complaint wants a look at its wheel, else at all; nuts are those of the outer wheel.
func TestUnseen(t *testing.T) {
	pickup := layout.Vehicle{Axles: []layout.Axle{{}, {Dual: true}}}
	nuts := finding.ComplaintKind{Looks: []finding.Looked{finding.LookedFasteners, finding.LookedOuterSidewall}}
	seen := func(at string, places ...finding.Looked) Wheel {
		w := Wheel{Position: layout.MustParse(at)}
		for _, p := range places {
			w.Looked = append(w.Looked, Looked{What: p})
		}
		return w
	}
	whole := seen("1L", finding.LookedFasteners, finding.LookedOuterSidewall)
	for _, c := range []struct {
		name   string
		kind   finding.ComplaintKind
		wheels []Wheel
		about  layout.Position
		want   string
	}{
		{"none wants a look", finding.ComplaintKind{}, nil, layout.Position{}, ""},
		{"nothing was seen", nuts, nil, layout.Position{}, "1L 1R 2LO 2RO "},
		{"one was", nuts, []Wheel{whole}, layout.Position{}, "1R 2LO 2RO "},
		{"in part", nuts, []Wheel{seen("1L", finding.LookedFasteners)}, layout.Position{}, "1L 1R 2LO 2RO "},
		{"of one wheel", nuts, nil, left, "1L "},
		{"of one wheel, that was seen", nuts, []Wheel{whole}, left, ""},
		{"no nuts: inner duals too", finding.ComplaintKind{Looks: nuts.Looks[1:]}, nil, layout.Position{}, "1L 1R 2LI 2LO 2RI 2RO "},
	} {
		got := ""
		for _, p := range Unseen(pickup, c.wheels, c.kind, c.about) {
			got += p.String() + " "
		}
		if got != c.want {
			t.Errorf("%s: %q", c.name, got)
		}
	}
}
