package api

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/durationpb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/tell"
)

func (h *house) tread(req *pb.AssessTreadRequest) *pb.AssessTreadResponse {
	h.t.Helper()
	if req.Reader == nil {
		req.Reader = whole
	}
	out, err := pb.NewCalculatorServiceClient(h.conn).AssessTread(h.t.Context(), req)
	if err != nil {
		h.t.Fatal(err)
	}
	sound(h.t, out.GetAssessment(), req.GetWheel().GetPosition())
	return out
}

func (h *house) pressure(req *pb.CalculatePressureRequest) *pb.CalculatePressureResponse {
	h.t.Helper()
	if req.Reader == nil {
		req.Reader = whole
	}
	out, err := pb.NewCalculatorServiceClient(h.conn).CalculatePressure(h.t.Context(), req)
	if err != nil {
		h.t.Fatal(err)
	}
	sound(h.t, out.GetAssessment(), "")
	return out
}

func (h *house) repair(req *pb.AssessRepairRequest) *pb.AssessRepairResponse {
	h.t.Helper()
	if req.Reader == nil {
		req.Reader = whole
	}
	out, err := pb.NewCalculatorServiceClient(h.conn).AssessRepair(h.t.Context(), req)
	if err != nil {
		h.t.Fatal(err)
	}
	sound(h.t, out.GetAssessment(), "")
	return out
}

var (
	scaffold = regexp.MustCompile(`\{|\[|^[:,.]|^ |  | $| ,| \.|the tire the tire`)
	notThere = regexp.MustCompile(`\b([12][LR][IO]?|LF|RF|LR|RR)\b|\b(left|right) (front|rear|wheel)\b`)
)

// sound demands of an answer about one tire that its ids belong together, that
// its sentences are whole, and that it speaks of no place but the one told.
func sound(t *testing.T, a *pb.Assessment, told string) {
	t.Helper()
	known := map[string]bool{}
	for _, f := range a.GetFindings() {
		if known[f.GetId()] {
			t.Errorf("two findings have the id %s", f.GetId())
		}
		known[f.GetId()] = true
	}
	for _, w := range a.GetWork() {
		for _, id := range w.GetFindingIds() {
			if !known[id] {
				t.Errorf("%s answers %q, which is no finding", w.GetCode(), id)
			}
		}
	}
	for _, r := range a.GetRepairs() {
		for _, id := range r.GetFindingIds() {
			if !known[id] {
				t.Errorf("the repair rests on %q, which is no finding", id)
			}
		}
	}
	text, err := protojson.Marshal(a)
	if err != nil {
		t.Fatal(err)
	}
	if told == "" && notThere.Match(text) {
		t.Errorf("nobody told a place: %s", notThere.Find(text))
	}
	for _, f := range a.GetFindings() {
		for _, s := range []string{f.GetForTechnician(), f.GetForCustomer()} {
			if s == "" || scaffold.MatchString(s) || strings.ToUpper(s[:1]) != s[:1] && told == "" {
				t.Errorf("%s: %q", f.GetId(), s)
			}
		}
	}
	for _, w := range a.GetWork() {
		if w.GetForTechnician() == "" || scaffold.MatchString(w.GetForTechnician()+w.GetForCustomer()) {
			t.Errorf("%s: %q, %q", w.GetCode(), w.GetForTechnician(), w.GetForCustomer())
		}
	}
	if slices.ContainsFunc(a.GetNotLookedAt(), func(n *pb.NotLookedAt) bool { return n.GetWhat() == pb.LookedAt_LOOKED_AT_UNSPECIFIED }) {
		t.Error("other wheels are said not to be looked at")
	}
}

// ruleOf is the strictest rule that a finding was judged by.
func ruleOf(f *pb.Finding) *pb.Rule {
	if len(f.GetRules()) == 0 {
		return nil
	}
	return f.GetRules()[0]
}

var crownPlace = &pb.Place{Part: pb.TirePart_TIRE_PART_CROWN}

func depths(at string, thirtySecondsInch ...float64) *pb.WheelReport {
	w := &pb.WheelReport{Position: at}
	for i, d := range thirtySecondsInch {
		w.Tread = append(w.Tread, &pb.TreadReading{Place: &pb.Place{Groove: int32(i + 1)}, Depth: thirtySeconds(d)})
	}
	return w
}

// legal gives the findings about law by rule, with what they say.
func legal(a *pb.Assessment) map[string]string {
	said := map[string]string{}
	for _, f := range a.GetFindings() {
		if f.GetCode() == "tread.legal-limit" {
			s := strings.TrimPrefix(f.GetComparison().String(), "COMPARISON_")
			if ruleOf(f).GetCandidate() {
				s += " candidate"
			}
			said[ruleOf(f).GetId()] = s
		}
	}
	return said
}

var interstate = &pb.VehicleUse{DrivenIn: []*pb.Jurisdiction{{Country: "US"}}, BusinessAcrossStateLines: pb.Answer_ANSWER_YES}

// A heavy truck in interstate commerce: 4/32 in on front wheels (49 CFR
// 393.75(b)), 2/32 in on all others and on trailers (49 CFR 393.75(c)).
func TestTreadIsJudgedWhereItMayBe(t *testing.T) {
	const front, other = "us-commercial.front-depth", "us-commercial.other-depth"
	yes, no, unknown := pb.Answer_ANSWER_YES, pb.Answer_ANSWER_NO, pb.Answer_ANSWER_UNKNOWN
	h := inMemory(t)
	for _, row := range []struct {
		name  string
		at    string
		class pb.VehicleClass
		steer pb.Answer
		depth float64
		want  map[string]string
	}{
		{"front, below", "1L", 3, 0, 3, map[string]string{front: "BELOW"}},
		{"front, above", "1L", 3, 0, 5, map[string]string{}},
		{"front that is not steered", "1R", 3, no, 3, map[string]string{}},
		{"second axle", "2RO", 3, 0, 3, map[string]string{}},
		{"second axle, below", "2RO", 3, 0, 1, map[string]string{other: "BELOW"}},
		{"second axle that is steered", "2L", 3, yes, 3, map[string]string{front: "BELOW"}},
		{"no position told", "", 3, 0, 3, map[string]string{front: "BELOW candidate"}},
		{"no position told, asked and not known", "", 3, unknown, 3, map[string]string{front: "BELOW candidate"}},
		{"front, asked and not known", "1L", 3, unknown, 3, map[string]string{front: "BELOW candidate"}},
		{"no position told, below both", "", 3, 0, 1, map[string]string{front: "BELOW candidate", other: "BELOW"}},
		{"no position told, above both", "", 3, 0, 6, map[string]string{}},
		{"no position told on a steered axle", "", 3, yes, 3, map[string]string{front: "BELOW"}},
		{"no position told on no steered axle", "", 3, no, 3, map[string]string{}},
		{"front of a trailer", "1L", 5, 0, 3, map[string]string{}},
		{"front of a trailer, below", "1L", 5, 0, 1, map[string]string{other: "BELOW"}},
		{"no position told on a trailer", "", 5, 0, 3, map[string]string{}},
		{"the spare", "S", 3, 0, 1, map[string]string{}},
	} {
		t.Run(row.name, func(t *testing.T) {
			out := h.tread(&pb.AssessTreadRequest{
				Wheel: depths(row.at, row.depth, row.depth), VehicleClass: row.class, SteerAxle: row.steer, Use: interstate,
				GrossRating: &pb.Mass{AsRead: &pb.Mass_Pounds{Pounds: 26_000}},
			})
			if got := legal(out.GetAssessment()); fmt.Sprint(got) != fmt.Sprint(row.want) {
				t.Errorf("got %v, want %v", got, row.want)
			}
			for _, f := range out.GetAssessment().GetFindings() {
				if want := []string{row.at}; row.at != "" && !slices.Equal(f.GetPositions(), want) || row.at == "" && len(f.GetPositions()) > 0 {
					t.Errorf("%s is at %v", f.GetId(), f.GetPositions())
				}
				if ruleOf(f).GetCandidate() && f.GetUrgency() == pb.Urgency_URGENCY_BEFORE_DRIVING {
					t.Errorf("%s: a candidate law stops the vehicle", f.GetId())
				}
			}
			if w := out.GetAssessment().GetWheels(); len(w) != 1 || w[0].GetPosition() != row.at {
				t.Errorf("%v", w)
			}
		})
	}
}

// Usable tread left is (depth - limit) / (depth when new - limit), as the contract
// defines it, to the wear bars at 2/32 in.
func TestGoverningDepthAndUsableTread(t *testing.T) {
	h := inMemory(t)
	for _, row := range []struct {
		read    []float64
		whenNew *pb.Depth
		lowest  float64
		left    float64 // negative: not known
	}{
		{[]float64{7, 6, 8}, thirtySeconds(10), 6, 50},
		{[]float64{10, 10}, thirtySeconds(10), 10, 100},
		{[]float64{2, 5}, thirtySeconds(10), 2, 0},
		{[]float64{1, 5}, thirtySeconds(10), 1, 0},
		{[]float64{4}, nil, 4, -1},
	} {
		out := h.tread(&pb.AssessTreadRequest{Wheel: depths("", row.read...), VehicleClass: 1, DepthWhenNew: row.whenNew})
		if got := out.GetGoverningDepth().GetThirtySecondsInch(); got != row.lowest {
			t.Errorf("%v: governing %v", row.read, got)
		}
		if known := out.GetUsableTread() != nil; known != (row.left >= 0) || known && out.GetUsableTread().GetPercent() != row.left {
			t.Errorf("%v: usable %v", row.read, out.GetUsableTread())
		}
	}
	out := h.tread(&pb.AssessTreadRequest{Wheel: &pb.WheelReport{Observations: []*pb.Observation{{Kind: pb.ObservationKind_OBSERVATION_KIND_BULGE}}}})
	if out.GetGoverningDepth() != nil || out.GetUsableTread() != nil {
		t.Errorf("no depth was read: %v", out)
	}
	if !slices.ContainsFunc(out.GetAssessment().GetFindings(), func(f *pb.Finding) bool { return f.GetCode() == "damage.bulge" }) {
		t.Errorf("%v", out.GetAssessment().GetFindings())
	}
}

// With its place told, a tire is judged as in a visit of that one wheel.
func TestOneTireIsJudgedAsInAVisit(t *testing.T) {
	h := inMemory(t)
	wheel := depths("1L", 3, 4, 2)
	wheel.TireId = newID()
	req := &pb.AssessTreadRequest{
		Wheel: wheel, VehicleClass: 1, Use: &pb.VehicleUse{DrivenIn: []*pb.Jurisdiction{{Country: "DE"}}}, JudgeBy: &pb.JudgeBy{AsOf: &pb.CalendarDate{Year: 2026, Month: 12, Day: 1}},
		Gauges: []*pb.Gauge{{Resolution: &pb.Gauge_Depth{Depth: thirtySeconds(0.5)}}}, SnowSlushOrIce: pb.Answer_ANSWER_YES,
	}
	got := h.tread(req).GetAssessment()
	want := judge.Visit(&pb.AssessVisitRequest{
		Vehicle:    &pb.Vehicle{VehicleClass: 1, Use: req.GetUse()},
		Inspection: &pb.Inspection{Wheels: []*pb.WheelReport{wheel}, Gauges: req.GetGauges(), Conditions: &pb.Conditions{SnowSlushOrIce: pb.Answer_ANSWER_YES}},
		JudgeBy:    req.GetJudgeBy(),
	})
	leaveOut(want, ofPressure)
	named(want, req) // of the call, what it does not judge
	tell.For(whole, tell.Shop{}).Assessment(want, false)
	if !proto.Equal(got, want) {
		t.Errorf("got\n%v\nwant\n%v", got, want)
	}
	if got.GetFindings()[0].GetSubject().GetTireId() != wheel.GetTireId() {
		t.Errorf("%v", got.GetFindings()[0])
	}
}

// single and paired are answers whether a tire is one of a dual pair.
const (
	single = pb.Answer_ANSWER_NO
	paired = pb.Answer_ANSWER_YES
)

func near(got, want, within float64) bool { return got > want-within && got < want+within }

// The tire's temperature is measured inside by a sensor, and cold is told: the
// readings and answers are published examples of the gas law, or its computation.
func TestPressureBroughtToCold(t *testing.T) {
	h := inMemory(t)
	sensor := pb.TemperatureSource_TEMPERATURE_SOURCE_TPMS_SENSOR
	for _, row := range []struct {
		source     string
		measured   *pb.Pressure
		tire, cold *pb.Temperature
		want       float64
		within     float64
	}{
		// 35 °C to 18 °C: absolute pressure and kelvin at constant volume.
		{"University Physics vol. 2, open textbook, ideal gas law, worked example, backwards: 741 kPa absolute at 35 °C was 700 kPa at 18 °C", kPa(741 - 101.325), celsius(35), celsius(18), 700 - 101.325, 1},
		{"university course question bank: 210 kPa at 25 °C is 183.895 kPa at 0 °C", kPa(210), celsius(25), celsius(0), 183.895, 0.06},
		{"ideal gas law, computed: 35 psi at 70 °F is 31.247 psi at 30 °F", psi(35), fahrenheit(70), fahrenheit(30), 31.247, 0.06},
		{"ideal gas law, computed: 80 psi at 70 °F is 69.273 psi at 10 °F", psi(80), fahrenheit(70), fahrenheit(10), 69.273, 0.06},
	} {
		out := h.pressure(&pb.CalculatePressureRequest{
			Measured: row.measured, TireTemperature: row.tire, TemperatureSource: sensor, ColdTemperature: row.cold, VehicleClass: 1,
		})
		number := func(p *pb.Pressure) float64 { return p.GetPsi() + p.GetKilopascals() }
		if got := number(out.GetColdEquivalent()); !near(got, row.want, row.within) {
			t.Errorf("%s: %v", row.source, got)
		}
		if low, high := number(out.GetColdLow()), number(out.GetColdHigh()); low >= row.want || high <= row.want {
			t.Errorf("%s: between %v and %v", row.source, low, high)
		}
		if out.GetSetToNow() != nil || out.GetWarningThreshold() != nil || out.GetLoadSupported() != nil {
			t.Errorf("no label was told: %v", out)
		}
	}
}

// What the gauge has to show now, by the gas law from the label's pressure cold.
func TestPressureToSetNow(t *testing.T) {
	h := inMemory(t)
	sensor := pb.TemperatureSource_TEMPERATURE_SOURCE_TPMS_SENSOR
	stood := &pb.DrivenBefore{DrivenHere: pb.Answer_ANSWER_NO, Parked: durationpb.New(5 * 3600e9)}
	bay := &pb.Conditions{Air: fahrenheit(70), Outside: fahrenheit(30), Driven: stood}
	cold := &pb.Conditions{Air: fahrenheit(30), Driven: stood}
	for _, row := range []struct {
		name string
		req  *pb.CalculatePressureRequest
		want float64 // psi; 0: nothing is set
	}{
		// Ideal gas law, computed: 31.247 psi at 30 °F is 35 psi at 70 °F.
		{"a bay of 70 °F for a morning of 30 °F", &pb.CalculatePressureRequest{LabelCold: psi(31.247), Conditions: bay, Measured: psi(30)}, 35},
		{"only what to set is asked", &pb.CalculatePressureRequest{LabelCold: psi(31.247), Conditions: bay}, 35},
		{"by a sensor, for a colder day than outside", &pb.CalculatePressureRequest{
			LabelCold: psi(31.247), Conditions: &pb.Conditions{Air: fahrenheit(70)}, ColdTemperature: fahrenheit(30), TireTemperature: fahrenheit(70), TemperatureSource: sensor, Measured: psi(33),
		}, 35},
		{"by a sensor, only what to set is asked", &pb.CalculatePressureRequest{
			LabelCold: psi(31.247), Conditions: &pb.Conditions{Air: fahrenheit(70)}, ColdTemperature: fahrenheit(30), TireTemperature: fahrenheit(70), TemperatureSource: sensor,
		}, 35},
		{"cold: the label", &pb.CalculatePressureRequest{LabelCold: psi(33), Conditions: cold, Measured: psi(30)}, 33},
		{"nothing told: the label", &pb.CalculatePressureRequest{LabelCold: psi(33), Measured: psi(30)}, 33},
		{"a hotter day is no reason for less", &pb.CalculatePressureRequest{LabelCold: psi(33), Conditions: cold, ColdTemperature: fahrenheit(90), Measured: psi(30)}, 33},
		{"full: air is never let out", &pb.CalculatePressureRequest{LabelCold: psi(33), Conditions: bay, Measured: psi(40)}, 0},
		{"run low: seen inside first", &pb.CalculatePressureRequest{LabelCold: psi(33), Conditions: cold, Measured: psi(10)}, 0},
		{"flat", &pb.CalculatePressureRequest{LabelCold: psi(33), Measured: psi(0)}, 0},
		{"the label asks more than the sidewall allows", &pb.CalculatePressureRequest{LabelCold: psi(50), Sidewall: &pb.Sidewall{MaximumPressure: psi(44)}, Measured: psi(43)}, 0},
		{"no label", &pb.CalculatePressureRequest{Measured: psi(30)}, 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			row.req.VehicleClass = 1
			out := h.pressure(row.req)
			if got := out.GetSetToNow().GetPsi(); row.want == 0 && out.GetSetToNow() != nil || !near(got, row.want, 0.06) {
				t.Errorf("%v, want %v psi: %v", got, row.want, out)
			}
			if row.want > 0 && out.GetSetToNow().GetPsi() < row.req.GetLabelCold().GetPsi() {
				t.Errorf("below the label: %v", out.GetSetToNow())
			}
		})
	}
}

// A forecast is no reading: it takes no finding away and adds none but that of the coldest
// morning, which is planned for. A tire that holds its label today is not low today.
func TestAForecastIsNoReading(t *testing.T) {
	h := inMemory(t)
	stood := &pb.DrivenBefore{DrivenHere: pb.Answer_ANSWER_NO, Parked: durationpb.New(5 * 3600e9)}
	sensor := pb.TemperatureSource_TEMPERATURE_SOURCE_TPMS_SENSOR
	said := func(read float64, warm, cold *pb.Temperature, conditions *pb.Conditions) (codes []string, out *pb.CalculatePressureResponse) {
		req := &pb.CalculatePressureRequest{VehicleClass: 1, LabelCold: psi(33), Measured: psi(read), Conditions: conditions, ColdTemperature: cold}
		if warm != nil {
			req.TireTemperature, req.TemperatureSource = warm, sensor
		}
		out = h.pressure(req)
		for _, f := range out.GetAssessment().GetFindings() {
			if f.GetCode() != "inflation.short-where-used" {
				codes = append(codes, fmt.Sprint(f.GetCode(), " ", f.GetUrgency()))
			} else if f.GetUrgency() != pb.Urgency_URGENCY_PLAN {
				t.Errorf("%v psi: short where used is %v", read, f.GetUrgency())
			}
		}
		return codes, out
	}
	for name, conditions := range map[string]*pb.Conditions{
		"nothing told": nil, "cold outside": {Air: fahrenheit(70), Driven: stood}, "in a bay": {Air: fahrenheit(70), Outside: fahrenheit(50), Driven: stood},
		"driven": {Air: fahrenheit(70), Driven: &pb.DrivenBefore{DrivenHere: pb.Answer_ANSWER_YES}},
	} {
		for _, warm := range []*pb.Temperature{nil, fahrenheit(90)} {
			for _, read := range []float64{0, 10, 20, 24, 26, 28, 31, 33, 36, 40, 50} {
				today, _ := said(read, warm, nil, conditions)
				for _, cold := range []*pb.Temperature{fahrenheit(-40), fahrenheit(20), fahrenheit(69), fahrenheit(100)} {
					if then, _ := said(read, warm, cold, conditions); !slices.Equal(then, today) {
						t.Errorf("%s, tire %v, %v psi, forecast %v: found %v, without it %v", name, warm, read, cold, then, today)
					}
				}
			}
		}
	}
	// 33 psi at 70 °F is 27.7 psi at 10 °F (ideal gas law): at the label today, and set higher for that morning.
	_, out := said(33, nil, fahrenheit(10), &pb.Conditions{Air: fahrenheit(70), Driven: stood})
	if !near(out.GetColdEquivalent().GetPsi(), 27.7, 0.15) || !near(out.GetSetToNow().GetPsi(), 39.1, 0.2) {
		t.Errorf("at the forecast %v, to set now %v", out.GetColdEquivalent(), out.GetSetToNow())
	}
}

// The load that the cold pressure supports: loads as published, see
// testdata/published/load_inflation.csv, and nothing where nothing is published.
func TestLoadSupported(t *testing.T) {
	h := inMemory(t)
	cold := &pb.Conditions{Driven: &pb.DrivenBefore{DrivenHere: pb.Answer_ANSWER_NO, Parked: durationpb.New(5 * 3600e9)}}
	warm := &pb.Conditions{Driven: &pb.DrivenBefore{DrivenHere: pb.Answer_ANSWER_YES}}
	lb := func(n float64) *pb.Mass { return &pb.Mass{AsRead: &pb.Mass_Pounds{Pounds: n}} }
	kg := func(n float64) *pb.Mass { return &pb.Mass{AsRead: &pb.Mass_Kilograms{Kilograms: n}} }
	for _, row := range []struct {
		name       string
		class      pb.VehicleClass
		dual       pb.Answer
		measured   *pb.Pressure
		conditions *pb.Conditions
		sidewall   *pb.Sidewall
		want       *pb.Mass
	}{
		{"P225/60R16 97 at 35 psi: 1609 lb", 1, single, psi(35), cold, &pb.Sidewall{Marking: "P225/60R16 97T", LoadRange: "SL"}, lb(1609)},
		{"and not more at 44 psi", 1, single, psi(44), cold, &pb.Sidewall{Marking: "P225/60R16 97T", MaximumPressure: psi(44)}, lb(1609)},
		{"of extra load if it were: 1609 lb x sqrt(35 psi / 280 kPa)", 1, single, psi(35), cold, &pb.Sidewall{Marking: "P225/60R16 97T"}, lb(1494)},
		{"index 80 at 2.0 bar: 375 kg printed in steps of 5", 1, single, &pb.Pressure{AsRead: &pb.Pressure_Bar{Bar: 2}}, cold, &pb.Sidewall{Marking: "175/65R14 80T SL"}, kg(376)},
		{"LT235/85R16 E at 55 psi: 2335 lb printed, 2340 by the law", 2, single, psi(55), cold, &pb.Sidewall{Marking: "LT235/85R16 E", MaximumPressure: psi(80), MaximumLoad: lb(3042)}, lb(2340)},
		{"one of a pair: 4250 lb a pair printed, 4274 by the law", 2, paired, psi(55), cold, &pb.Sidewall{Marking: "LT235/85R16 E", MaximumPressure: psi(80), MaximumLoad: lb(3042), MaximumLoadDual: lb(2778)}, lb(2137)},
		{"warm: the lowest cold pressure, 34 psi of 41", 1, single, psi(41), warm, &pb.Sidewall{Marking: "P225/60R16 97T SL"}, lb(1590)},

		{"a pair of unknown load", 2, paired, psi(55), cold, &pb.Sidewall{Marking: "LT235/85R16 E", MaximumPressure: psi(80), MaximumLoad: lb(3042)}, nil},
		{"below the floor", 1, single, psi(25), cold, &pb.Sidewall{Marking: "P225/60R16 97T SL"}, nil},
		{"a trailer tire below its sidewall pressure", 5, single, psi(60), cold, &pb.Sidewall{Marking: "ST205/75R15 107M D", MaximumPressure: psi(65)}, nil},
		{"a load, but no marking that tells the class", 1, single, psi(35), cold, &pb.Sidewall{MaximumLoad: lb(1609)}, nil},
		{"a motorcycle is not judged here", 7, single, psi(35), cold, &pb.Sidewall{Marking: "P225/60R16 97T SL"}, nil},
		{"no reading", 1, single, nil, cold, &pb.Sidewall{Marking: "P225/60R16 97T SL"}, nil},
	} {
		out := h.pressure(&pb.CalculatePressureRequest{
			Measured: row.measured, LabelCold: psi(35), VehicleClass: row.class, Dual: row.dual, Sidewall: row.sidewall, Conditions: row.conditions,
		})
		if !proto.Equal(out.GetLoadSupported(), row.want) {
			t.Errorf("%s: %v, want %v (cold %v to %v)", row.name, out.GetLoadSupported(), row.want, out.GetColdLow(), out.GetColdHigh())
		}
	}
}

// 49 CFR 571.138 S4.2(a): 25 percent below the label or the floor of Table 1 for
// the tire, whichever is higher; a light vehicle's, and no dual wheel's.
func TestWarningThreshold(t *testing.T) {
	h := inMemory(t)
	for _, row := range []struct {
		name     string
		class    pb.VehicleClass
		dual     pb.Answer
		label    *pb.Pressure
		sidewall *pb.Sidewall
		want     *pb.Pressure
	}{
		{"25 percent below 240 kPa", 1, single, kPa(240), &pb.Sidewall{LoadRange: "SL"}, kPa(180)},
		{"the floor of 140 kPa, standard load", 1, single, kPa(180), &pb.Sidewall{Marking: "P195/65R15 SL"}, kPa(140)},
		{"the floor of 240 kPa, load range E", 2, single, kPa(300), &pb.Sidewall{Marking: "LT245/75R16 120/116S E"}, kPa(240)},
		{"25 percent below 552 kPa, load range E", 2, single, kPa(552), &pb.Sidewall{Marking: "LT245/75R16 120/116S E"}, kPa(414)},
		{"kind of tire not told: the share alone", 1, single, psi(32), nil, psi(24)},
		{"a dual wheel", 2, paired, psi(60), nil, nil},
		{"a heavy truck", 3, single, psi(100), nil, nil},
		{"class not told", 0, single, psi(33), nil, nil},
		{"label not told", 1, single, nil, nil, nil},
	} {
		out := h.pressure(&pb.CalculatePressureRequest{Measured: psi(50), LabelCold: row.label, VehicleClass: row.class, Dual: row.dual, Sidewall: row.sidewall})
		if !proto.Equal(out.GetWarningThreshold(), row.want) {
			t.Errorf("%s: %v", row.name, out.GetWarningThreshold())
		}
	}
}

// Only questions about pressure are put, after where the tire runs, and a low dual tire tells of the one
// beside it.
func TestPressureOfOneTire(t *testing.T) {
	h := inMemory(t)
	out := h.pressure(&pb.CalculatePressureRequest{Measured: psi(30)})
	for _, u := range out.GetAssessment().GetQuestions()[1:] {
		if !strings.HasPrefix(u.GetCode(), "inflation.") {
			t.Errorf("asks %s", u.GetCode())
		}
	}
	out = h.pressure(&pb.CalculatePressureRequest{Measured: psi(40), LabelCold: psi(100), VehicleClass: 3, Dual: paired})
	i := slices.IndexFunc(out.GetAssessment().GetFindings(), func(f *pb.Finding) bool { return f.GetCode() == "inflation.dual-mate-carried-load" })
	if i < 0 {
		t.Fatalf("%v", out.GetAssessment().GetFindings())
	}
	if f := out.GetAssessment().GetFindings()[i]; !strings.Contains(strings.ToLower(f.GetForTechnician()), "the tire beside it") || f.GetCaution() == "" {
		t.Errorf("%v", f)
	}
	complains := &pb.Conditions{Complaints: []*pb.Complaint{{Kind: pb.ComplaintKind_COMPLAINT_KIND_SLOW_LEAK, Position: "2RO"}}}
	h.pressure(&pb.CalculatePressureRequest{Measured: psi(30), Conditions: complains}) // the one about another axle is no problem
}

// Whether a tire may be repaired: the procedures of the trade as the rulebooks
// repair-us and repair-uk cite them; the situations are common practice.
func TestRepair(t *testing.T) {
	h := inMemory(t)
	car := pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR
	us := &pb.VehicleUse{DrivenIn: []*pb.Jurisdiction{{Country: "US", State: "OH"}}, BusinessAcrossStateLines: pb.Answer_ANSWER_NO, Tows: pb.Answer_ANSWER_NO}
	inside := []*pb.Looked{{What: pb.LookedAt_LOOKED_AT_INSIDE_OF_TIRE, Looked: &pb.Looked_Seen{Seen: true}}}
	crown := func(size, prepared float64) *pb.Injury {
		i := &pb.Injury{Place: crownPlace, BetweenOuterGrooves: pb.Answer_ANSWER_YES, AngleDegrees: new(10.0), ReachesThrough: pb.Answer_ANSWER_YES}
		if size > 0 {
			i.Size = inches(size)
		}
		if prepared > 0 {
			i.SizeAfterPreparing = inches(prepared)
		}
		return i
	}
	found := []*pb.PressureReading{{Pressure: psi(30)}}
	known := func(req *pb.AssessRepairRequest) *pb.AssessRepairRequest {
		req.VehicleClass, req.Use, req.LabelCold = car, us, psi(33)
		if req.Sidewall == nil {
			req.Sidewall = &pb.Sidewall{Marking: "225/60R17"}
		}
		if req.LowestDepth == nil {
			req.LowestDepth = thirtySeconds(8)
		}
		if req.Found == nil {
			req.Found = found
		}
		return req
	}
	for _, row := range []struct {
		name   string
		req    *pb.AssessRepairRequest
		want   pb.Repairability
		method pb.RepairMethod
		fails  string
	}{
		{"not demounted yet", known(&pb.AssessRepairRequest{Injuries: []*pb.Injury{crown(3./16, 0)}}), pb.Repairability_REPAIRABILITY_NOT_DECIDED_DEMOUNT_AND_INSPECT, 0, ""},
		{"inside seen and clean, 3/16 in after preparing", known(&pb.AssessRepairRequest{Injuries: []*pb.Injury{crown(0, 3./16)}, Looked: inside}), pb.Repairability_REPAIRABILITY_REPAIRABLE, pb.RepairMethod_REPAIR_METHOD_COMBINATION, ""},
		{"5/16 in is over 1/4 in", known(&pb.AssessRepairRequest{Injuries: []*pb.Injury{crown(5./16, 0)}}), pb.Repairability_REPAIRABILITY_NOT_REPAIRABLE, 0, "puncture.size"},
		{"the second hole is too large", known(&pb.AssessRepairRequest{Injuries: []*pb.Injury{crown(0, 1./8), crown(5./16, 0)}, Looked: inside}), pb.Repairability_REPAIRABILITY_NOT_REPAIRABLE, 0, "puncture.size"},
		{"in the sidewall", known(&pb.AssessRepairRequest{Injuries: []*pb.Injury{{Place: &pb.Place{Part: pb.TirePart_TIRE_PART_SIDEWALL}, Size: inches(1. / 8)}}}), pb.Repairability_REPAIRABILITY_NOT_REPAIRABLE, 0, "puncture.place"},
		{"worn to 2/32 in", known(&pb.AssessRepairRequest{Injuries: []*pb.Injury{crown(0, 1./8)}, Looked: inside, LowestDepth: thirtySeconds(1)}), pb.Repairability_REPAIRABILITY_NOT_REPAIRABLE, 0, "puncture.worn"},
		{"run low, ring inside", known(&pb.AssessRepairRequest{
			Injuries: []*pb.Injury{crown(0, 1./8)}, Looked: inside, Found: []*pb.PressureReading{{Pressure: psi(6)}},
			DrivenLow:    &pb.DrivenLow{Driven: pb.Answer_ANSWER_YES},
			Observations: []*pb.Observation{{Kind: pb.ObservationKind_OBSERVATION_KIND_RUN_LOW_LINER_RING}},
		}), pb.Repairability_REPAIRABILITY_NOT_REPAIRABLE, 0, "puncture.run-low-damage"},
		{"an earlier string plug", known(&pb.AssessRepairRequest{
			Injuries: []*pb.Injury{crown(0, 1./8)}, Looked: inside, Earlier: []*pb.Repair{{Id: newID(), TireId: newID(), Method: pb.RepairMethod_REPAIR_METHOD_PLUG_ONLY}},
		}), pb.Repairability_REPAIRABILITY_NOT_REPAIRABLE, 0, "puncture.earlier-repair"},
		{"the maker forbids it", known(&pb.AssessRepairRequest{
			Injuries: []*pb.Injury{crown(0, 1./8)}, Looked: inside, Sidewall: &pb.Sidewall{Marking: "225/60R17", SelfSupporting: pb.Answer_ANSWER_YES},
			MakerPolicy: &pb.TireMakerPolicy{RepairPermitted: pb.Answer_ANSWER_NO},
		}), pb.Repairability_REPAIRABILITY_NOT_REPAIRABLE, 0, "puncture.maker-policy"},
		{"did not go through", known(&pb.AssessRepairRequest{Injuries: []*pb.Injury{{Place: crownPlace, ReachesThrough: pb.Answer_ANSWER_NO, HoldsAir: pb.Answer_ANSWER_YES}}}), pb.Repairability_REPAIRABILITY_NO_INJURY, 0, ""},
		{"a bulge outranks the hole", known(&pb.AssessRepairRequest{Injuries: []*pb.Injury{crown(0, 1./8)}, Looked: inside, Observations: []*pb.Observation{{Kind: pb.ObservationKind_OBSERVATION_KIND_BULGE}}}), pb.Repairability_REPAIRABILITY_NOT_REPAIRABLE, 0, "puncture.structure"},
		{"nothing told at all", &pb.AssessRepairRequest{}, pb.Repairability_REPAIRABILITY_NOT_DECIDED_DEMOUNT_AND_INSPECT, 0, ""},
		{"nothing told of the hole", known(&pb.AssessRepairRequest{Looked: inside}), pb.Repairability_REPAIRABILITY_NOT_DECIDED_DEMOUNT_AND_INSPECT, 0, ""},
		{"a class that is not judged here", &pb.AssessRepairRequest{VehicleClass: pb.VehicleClass_VEHICLE_CLASS_MOTORCYCLE, Injuries: []*pb.Injury{crown(0, 1./8)}, Looked: inside}, pb.Repairability_REPAIRABILITY_UNSPECIFIED, 0, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			out := h.repair(row.req)
			a := out.GetAnswer()
			if a.GetRepairability() != row.want || a.GetMethod() != row.method || a.GetPosition() != "" {
				t.Errorf("%v, want %v by %v", a, row.want, row.method)
			}
			names := slices.ContainsFunc(out.GetAssessment().GetFindings(), func(f *pb.Finding) bool {
				return f.GetCode() == row.fails && slices.Contains(a.GetFindingIds(), f.GetId())
			})
			if names != (row.fails != "") {
				t.Errorf("rests on %v, want %q", a.GetFindingIds(), row.fails)
			}
			if row.want == pb.Repairability_REPAIRABILITY_NOT_DECIDED_DEMOUNT_AND_INSPECT && len(row.req.GetLooked()) == 0 && len(a.GetLookFor()) == 0 {
				t.Error("nothing to look for")
			}
		})
	}
}

// A section repair does not run on a steer axle of a truck (common practice as
// repair-us cites it); where nobody said whether it does, that is named.
func TestRepairOnASteerAxle(t *testing.T) {
	h := inMemory(t)
	for steer, want := range map[pb.Answer]pb.Urgency{
		pb.Answer_ANSWER_YES: pb.Urgency_URGENCY_BEFORE_DRIVING, pb.Answer_ANSWER_NO: 0,
		pb.Answer_ANSWER_UNKNOWN: pb.Urgency_URGENCY_THIS_VISIT, pb.Answer_ANSWER_UNSPECIFIED: pb.Urgency_URGENCY_THIS_VISIT,
	} {
		out := h.repair(&pb.AssessRepairRequest{
			VehicleClass: pb.VehicleClass_VEHICLE_CLASS_HEAVY, Sidewall: &pb.Sidewall{Marking: "11R22.5"}, SteerAxle: steer,
			Injuries: []*pb.Injury{{Place: crownPlace, Size: inches(0.125)}},
			Earlier:  []*pb.Repair{{Method: pb.RepairMethod_REPAIR_METHOD_SECTION}},
		})
		var got pb.Urgency
		for _, f := range out.GetAssessment().GetFindings() {
			if f.GetCode() != "puncture.section-on-steer" {
				continue
			}
			got = f.GetUrgency()
			if open := steer != pb.Answer_ANSWER_YES; ruleOf(f).GetCandidate() != open || open != strings.Contains(f.GetForTechnician(), "If it runs on a steer axle") {
				t.Errorf("%v: %v", steer, f)
			}
		}
		if got != want {
			t.Errorf("%v: %v, want %v", steer, got, want)
		}
	}
}

func TestClassesThatAreNotJudged(t *testing.T) {
	h := inMemory(t)
	const motorcycle = pb.VehicleClass_VEHICLE_CLASS_MOTORCYCLE
	for _, a := range []*pb.Assessment{
		h.tread(&pb.AssessTreadRequest{Wheel: depths("", 1), VehicleClass: motorcycle}).GetAssessment(),
		h.pressure(&pb.CalculatePressureRequest{Measured: psi(10), LabelCold: psi(33), VehicleClass: motorcycle}).GetAssessment(),
		h.repair(&pb.AssessRepairRequest{VehicleClass: motorcycle}).GetAssessment(),
	} {
		if len(a.GetFindings()) != 0 || len(a.GetNotJudged()) == 0 {
			t.Errorf("%v", a)
		}
	}
}

// Problems are told by the names of the call's own request.
func TestProblemsOfOneTireHaveTheNamesOfTheirRequest(t *testing.T) {
	h := inMemory(t)
	calculator := pb.NewCalculatorServiceClient(h.conn)
	noDate, hot, deep := &pb.CalendarDate{Year: 2026, Month: 2, Day: 30}, celsius(400), thirtySeconds(-1)
	badGauge, badUse := &pb.Gauge{}, &pb.VehicleUse{DrivenIn: []*pb.Jurisdiction{{Country: "usa"}}}
	badly := &pb.JudgeBy{RulebookIds: []string{"us-lite"}, AsOf: noDate}

	tread := depths("LF", -1, 5)
	tread.Tread[1].Place.Station = 99
	tread.Observations = []*pb.Observation{{Injury: &pb.Injury{AngleDegrees: new(91.0)}}}
	tread.TireId = "17"
	_, err := calculator.AssessTread(t.Context(), &pb.AssessTreadRequest{
		Wheel: tread, Gauges: []*pb.Gauge{badGauge}, JudgeBy: badly, DepthWhenNew: deep, Use: badUse,
		GrossRating: &pb.Mass{AsRead: &pb.Mass_Pounds{Pounds: -1}},
	})
	refused(t, err, "grossRating", "use.drivenIn[0].country", "depthWhenNew", "gauges[0]", "wheel.position", "wheel.tireId",
		"wheel.tread[0].depth", "wheel.tread[1].place.station", "wheel.observations[0].injury.angleDegrees", "judgeBy.rulebookIds[0]", "judgeBy.asOf")
	_, err = calculator.AssessTread(t.Context(), &pb.AssessTreadRequest{})
	refused(t, err, "wheel")

	_, err = calculator.CalculatePressure(t.Context(), &pb.CalculatePressureRequest{
		Measured: psi(-1), TireTemperature: hot, LabelCold: psi(0), ColdTemperature: hot, Gauges: []*pb.Gauge{badGauge}, Dual: paired,
		Conditions: &pb.Conditions{Outside: hot, Driven: &pb.DrivenBefore{Parked: durationpb.New(-1)}, Complaints: []*pb.Complaint{{Position: "LF"}}},
		Sidewall:   &pb.Sidewall{MaximumPressure: psi(0)},
	})
	refused(t, err, "labelCold", "conditions.outside", "conditions.driven.parked", "conditions.complaints[0].position", "gauges[0]",
		"sidewall.maximumPressure", "measured", "tireTemperature", "coldTemperature")
	_, err = calculator.CalculatePressure(t.Context(), &pb.CalculatePressureRequest{})
	refused(t, err, "labelCold")
	_, err = calculator.CalculatePressure(t.Context(), &pb.CalculatePressureRequest{Measured: &pb.Pressure{}})
	refused(t, err, "measured")

	_, err = calculator.AssessRepair(t.Context(), &pb.AssessRepairRequest{
		Injuries:     []*pb.Injury{{}, {Size: inches(-1)}},
		Observations: []*pb.Observation{{Injury: &pb.Injury{Size: inches(-1)}}, {Count: new(int32(0))}},
		Sidewall:     &pb.Sidewall{MaximumPressure: psi(0)}, LowestDepth: deep, Use: badUse, JudgeBy: badly,
		Earlier:   []*pb.Repair{{Id: "17"}, {Injury: &pb.Injury{Size: inches(-1)}}},
		Looked:    []*pb.Looked{{What: 1, Looked: &pb.Looked_Seen{Seen: true}}, {What: 1, Looked: &pb.Looked_NotBecause{NotBecause: 1}}},
		Found:     []*pb.PressureReading{{Pressure: psi(30)}, {Pressure: psi(31)}, {Pressure: psi(-1), Repeat: 1}},
		DrivenLow: &pb.DrivenLow{Distance: &pb.Distance{AsRead: &pb.Distance_Miles{Miles: -1}}}, LabelCold: psi(0),
		MakerPolicy: &pb.TireMakerPolicy{RepairsAtMost: new(int32(-1))}, Gauges: []*pb.Gauge{{Kind: 1}, {Kind: 1}},
	})
	refused(t, err, "labelCold", "use.drivenIn[0].country", "makerPolicy.repairsAtMost", "gauges[1]", "sidewall.maximumPressure", "lowestDepth",
		"found[1]", "found[2].pressure", "observations[0].injury.size", "observations[1].count", "injuries[1].size",
		"looked[1]", "drivenLow.distance", "earlier[0].id", "earlier[1].injury.size", "judgeBy.rulebookIds[0]", "judgeBy.asOf")
	if !strings.Contains(fmt.Sprint(read(t, err).Details()), "read twice: found[0] is the same phase and repeat") {
		t.Errorf("names another list: %v", read(t, err).Details())
	}
}
