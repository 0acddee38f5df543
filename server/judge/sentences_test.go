package judge_test

import (
	"context"
	"fmt"
	"log/slog"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/api"
	"gaugebook.dev/server/words"
)

// The sentences are all that the program says to people about the visits of the
// corpus, the cases, the demo and the calculators asked about the same: one line
// for each different one. A change of a word, or of how words are carried, shows
// there line by line.
const (
	sentencesFolder = root + "/testdata/sentences"
	shownLines      = 40
)

var usReader = &pb.ReaderUnits{
	Depth: pb.DepthUnit_DEPTH_UNIT_THIRTY_SECONDS_INCH, Length: pb.LengthUnit_LENGTH_UNIT_INCHES, Pressure: pb.PressureUnit_PRESSURE_UNIT_PSI,
	Distance: pb.DistanceUnit_DISTANCE_UNIT_MILES, Mass: pb.MassUnit_MASS_UNIT_POUNDS, Speed: pb.SpeedUnit_SPEED_UNIT_MILES_PER_HOUR,
	Torque: pb.TorqueUnit_TORQUE_UNIT_POUND_FEET, Temperature: pb.TemperatureUnit_TEMPERATURE_UNIT_FAHRENHEIT,
}

// spoken is one sentence with what it is about and whom it is for.
type spoken struct{ code, wheels, audience, text string }

// sentencesIn gives what an answer of any call says, as one list of sentences. It
// alone knows where messages carry their words.
func sentencesIn(answer proto.Message) (all []spoken) {
	cautions := map[string]string{}
	eachMessage(answer.ProtoReflect(), func(r protoreflect.Message) bool {
		if a, ok := r.Interface().(*pb.Assessment); ok {
			for _, c := range a.GetCautions() {
				cautions[c.GetCode()] = c.GetWords()
			}
		}
		return true
	})
	say := func(code string, wheels []string, audience, text string) {
		if text != "" {
			all = append(all, spoken{code, strings.Join(wheels, " "), audience, text})
		}
	}
	eachMessage(answer.ProtoReflect(), func(r protoreflect.Message) bool {
		switch m := r.Interface().(type) {
		case *pb.Finding:
			say(m.GetCode(), m.GetPositions(), "technician", m.GetForTechnician())
			say(m.GetCode(), m.GetPositions(), "customer", m.GetForCustomer())
			say(m.GetCode(), m.GetPositions(), "settle", m.GetToSettle().GetWords())
			say(m.GetCode(), m.GetPositions(), "caution", cautions[m.GetCaution()])
			say(m.GetCode(), m.GetPositions(), "as-left", m.GetAsLeft().GetPutRight().GetWords())
			for _, rule := range m.GetRules() {
				say(rule.GetId(), nil, "citation", rule.GetCitation().GetWords())
			}
		case *pb.Headline:
			say(m.GetHold().String(), m.GetPositions(), "technician", m.GetForTechnician())
			say(m.GetHold().String(), m.GetPositions(), "customer", m.GetForCustomer())
		case *pb.Evidence:
			say(m.GetCode(), nil, "evidence", m.GetWords())
		case *pb.WorkItem:
			say(m.GetCode(), m.GetPositions(), "technician", m.GetForTechnician())
			say(m.GetCode(), m.GetPositions(), "customer", m.GetForCustomer())
			say(m.GetCode(), m.GetPositions(), "caution", cautions[m.GetCaution()])
			say(m.GetCode(), m.GetPositions(), "condition", m.GetCondition().GetWords())
		case *pb.Question:
			say(m.GetCode(), m.GetPositions(), "question", m.GetWords())
			say(m.GetCode(), m.GetPositions(), "would-allow", m.GetWouldAllow())
		case *pb.NotLookedAt:
			say(m.GetWhat().String(), m.GetPositions(), "not-looked", m.GetWords())
		case *pb.Checked:
			say(m.GetCode(), m.GetPositions(), "checked", m.GetWords())
		case *pb.NotJudged:
			say(m.GetCode(), m.GetPositions(), "not-judged", m.GetWords())
		case *pb.WheelSummary:
			say("", []string{m.GetPosition()}, "coverage", m.GetCoverage().GetWords())
			say("", []string{m.GetPosition()}, "place", m.GetShownPosition())
		case *pb.RepairAnswer:
			say(m.GetRepairability().String(), []string{m.GetPosition()}, "repair", inOne(m.GetMissing()))
			for _, look := range m.GetLookFor() {
				say(m.GetRepairability().String(), []string{m.GetPosition()}, "look-for", look.GetWords())
			}
		case *pb.RotationPlan:
			say(m.GetMapId(), nil, "plan", strings.TrimSpace(m.GetWords()+" "+inOne(m.GetWarnings())))
			say(m.GetMapId(), nil, "why-not", inOne(m.GetWhyNot()))
		case *pb.ReadSidewallResponse:
			for _, note := range m.GetNotes() {
				say("", nil, "note", note.GetWords())
			}
		}
		return true
	})
	return all
}

// inOne are several things said, as they are read: one after the other.
func inOne(said []*pb.Said) string {
	var all []string
	for _, s := range said {
		all = append(all, s.GetWords())
	}
	return strings.Join(all, " ")
}

// reader is whom a call is answered for.
type reader struct {
	language string
	units    *pb.ReaderUnits
}

// whole reads everything, for the customer too, in units where they are told.
func (r reader) whole(units *pb.ReaderUnits) *pb.Reader {
	return &pb.Reader{Language: r.language, CustomerLanguage: r.language, Units: units, View: pb.View_VIEW_FULL}
}

// call asks one thing for a reader. Its answer is empty where the request is refused.
type call func(reader) proto.Message

// asked is a call that api answers, as a call for any reader.
func asked[Q, A proto.Message](answer func(context.Context, Q) (A, error), ask func(reader) Q) call {
	return func(r reader) proto.Message {
		a, err := answer(context.Background(), ask(r))
		if err != nil {
			return &pb.Assessment{}
		}
		return a
	}
}

// callsAbout are the visit, and the calculators asked about the same vehicle and
// each of its wheels.
func callsAbout(v *pb.AssessVisitRequest) []call {
	s := api.New(nil, nil, api.About{}, slog.New(slog.DiscardHandler))
	in, vehicle := v.GetInspection(), v.GetVehicle()
	calls := []call{
		asked(s.AssessVisit, func(r reader) *pb.AssessVisitRequest {
			req := proto.CloneOf(v)
			req.Reader = r.whole(r.units)
			return req
		}),
		asked(s.CheckFitment, func(r reader) *pb.CheckFitmentRequest {
			return &pb.CheckFitmentRequest{
				Vehicle: vehicle, Wheels: in.GetWheels(), JudgeBy: v.GetJudgeBy(), Reader: r.whole(nil),
				AxleWeights: in.GetAxleWeights(), Gauges: in.GetGauges(), SnowSlushOrIce: in.GetConditions().GetSnowSlushOrIce(),
			}
		}),
		asked(s.PlanRotation, func(r reader) *pb.PlanRotationRequest {
			return &pb.PlanRotationRequest{
				Vehicle: vehicle, Visits: append(slices.Clone(v.GetEarlier()), in), JudgeBy: v.GetJudgeBy(), Reader: r.whole(nil),
				Moves: v.GetMoves(), Tires: v.GetTires(), WorkDone: v.GetWorkDone(),
			}
		}),
	}
	for _, w := range in.GetWheels() {
		calls = append(calls, callsAboutTire(s, v, w)...)
	}
	return calls
}

// callsAboutTire are the calculators of one tire, asked without its place.
func callsAboutTire(s *api.Server, v *pb.AssessVisitRequest, w *pb.WheelReport) (calls []call) {
	in, vehicle := v.GetInspection(), v.GetVehicle()
	if w.GetSidewall() != nil {
		calls = append(calls, asked(s.ReadSidewall, func(r reader) *pb.ReadSidewallRequest {
			return &pb.ReadSidewallRequest{Sidewall: w.GetSidewall(), AsOf: v.GetJudgeBy().GetAsOf(), Reader: r.whole(nil)}
		}))
	}
	if len(w.GetTread()) > 0 {
		calls = append(calls, asked(s.AssessTread, func(r reader) *pb.AssessTreadRequest {
			wheel := proto.CloneOf(w)
			wheel.Position = ""
			return &pb.AssessTreadRequest{
				Wheel: wheel, VehicleClass: vehicle.GetVehicleClass(), JudgeBy: v.GetJudgeBy(), Reader: r.whole(r.units),
				Use: vehicle.GetUse(), GrossRating: vehicle.GetGrossRating(), SnowSlushOrIce: in.GetConditions().GetSnowSlushOrIce(),
			}
		}))
	}
	if depths := depthsOf(v, w.GetPosition()); len(depths) > 0 {
		calls = append(calls, asked(s.EstimateLife, func(r reader) *pb.EstimateLifeRequest {
			return &pb.EstimateLifeRequest{
				Depths: depths, Limits: []*pb.Depth{{AsRead: &pb.Depth_Millimeters{Millimeters: 1.6}}, thirtySeconds(4)}, Reader: r.whole(nil),
			}
		}))
	}
	for _, p := range w.GetPressures() {
		calls = append(calls, asked(s.CalculatePressure, func(r reader) *pb.CalculatePressureRequest {
			return &pb.CalculatePressureRequest{
				Measured: p.GetPressure(), TireTemperature: p.GetTireTemperature(), TemperatureSource: p.GetSource(), Conditions: in.GetConditions(),
				LabelCold: labelCold(vehicle, w.GetPosition()), Sidewall: w.GetSidewall(), VehicleClass: vehicle.GetVehicleClass(), Reader: r.whole(r.units),
			}
		}))
	}
	var injuries []*pb.Injury
	for _, o := range w.GetObservations() {
		if o.GetInjury() != nil {
			injuries = append(injuries, o.GetInjury())
		}
	}
	if len(injuries) > 0 {
		calls = append(calls, asked(s.AssessRepair, func(r reader) *pb.AssessRepairRequest {
			return &pb.AssessRepairRequest{
				Injuries: injuries, Sidewall: w.GetSidewall(), VehicleClass: vehicle.GetVehicleClass(), JudgeBy: v.GetJudgeBy(), Reader: r.whole(r.units),
				Looked: w.GetLooked(), Found: w.GetPressures(), DrivenLow: w.GetDrivenLow(),
				LabelCold: labelCold(vehicle, w.GetPosition()), Use: vehicle.GetUse(),
			}
		}))
	}
	return calls
}

// depthsOf are the first depths read at a position, visit by visit.
func depthsOf(v *pb.AssessVisitRequest, position string) (all []*pb.MeasuredDepth) {
	for _, in := range append(slices.Clone(v.GetEarlier()), v.GetInspection()) {
		for _, w := range in.GetWheels() {
			if w.GetPosition() == position && len(w.GetTread()) > 0 && in.GetOdometer() != nil {
				all = append(all, &pb.MeasuredDepth{Distance: in.GetOdometer(), Depth: w.GetTread()[0].GetDepth(), Date: in.GetLocalDate()})
			}
		}
	}
	return all
}

func labelCold(v *pb.Vehicle, position string) *pb.Pressure {
	for i, a := range v.GetAxles().GetAxles() {
		if strings.HasPrefix(position, fmt.Sprint(i+1)) {
			return a.GetColdNormalLoad()
		}
	}
	return nil
}

// oddSidewalls have notes that the sidewalls of no visit have: the sizes of
// testdata/published/size.csv, numbers in the forms of 49 CFR 574.5, and misreadings.
func oddSidewalls() (calls []call) {
	s := api.New(nil, nil, api.About{}, slog.New(slog.DiscardHandler))
	for _, printed := range []*pb.Sidewall{
		{Marking: "p225/60 r16 97t", LoadRange: "SL", Identification: "DOT A1B 2C3D4E 1816"}, {Marking: "P225/60R16 97T", Identification: "2024"},
		{Marking: "11r22.5", Identification: "AB C1 D23 031"}, {Marking: "T125/70D15 95M", Identification: "ABC 1816"},
		{Marking: "225/45ZR17"}, {Marking: "225/45ZR17 (94Y) XL"}, {Marking: "295/75R22.5 144/141L", Identification: "2524", LoadRange: "G"},
		{Marking: "223/60R17", Identification: "A8B QC3D4E 5418"}, {Identification: "2530"}, {Identification: "A1?2C3D4E18B6"}, {Identification: "A1B2C3D4E5F61816"},
	} {
		calls = append(calls, asked(s.ReadSidewall, func(r reader) *pb.ReadSidewallRequest {
			return &pb.ReadSidewallRequest{Sidewall: printed, AsOf: &pb.CalendarDate{Year: 2025, Month: 6, Day: 15}, Reader: r.whole(nil)}
		}))
	}
	return calls
}

// visitsToJudge are the visits of the corpus, the demo and the cases, each once.
func visitsToJudge(t *testing.T) (all []*pb.AssessVisitRequest) {
	known := map[string]bool{}
	add := func(v *pb.AssessVisitRequest) {
		if key := string(wire(v)); !known[key] {
			known[key] = true
			all = append(all, v)
		}
	}
	for _, f := range corpus(t) {
		add(f.visit)
	}
	for _, l := range readJSONL(t, corpusFolder+"/made.jsonl") {
		add(visitOf(t, l))
	}
	for _, c := range suites(t)[0].cases {
		add(c.request)
	}
	files, err := filepath.Glob(root + "/testdata/demo/*.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		add(visitOf(t, line{Name: file, Visit: data}))
	}
	return all
}

// otherReader is one who reads other units than a visit was written in.
func otherReader(v *pb.AssessVisitRequest) *pb.ReaderUnits {
	us, metric := 0, 0
	eachMessage(v.ProtoReflect(), func(m protoreflect.Message) bool {
		m.Range(func(fd protoreflect.FieldDescriptor, _ protoreflect.Value) bool {
			switch fd.Name() {
			case "psi", "thirty_seconds_inch", "miles", "pounds":
				us++
			case "bar", "kilopascals", "millimeters", "kilometers", "kilograms":
				metric++
			}
			return true
		})
		return true
	})
	if metric > us {
		return usReader
	}
	return metricReader
}

// allSentences are the lines of each file: what is said in a language as read, and
// what is said otherwise in other units, with how many answers say it.
func allSentences(t *testing.T) map[string][]string {
	files := map[string][]string{}
	for _, language := range words.Languages() {
		read, other := map[spoken]int{}, map[spoken]int{}
		listen := func(to map[spoken]int, answer proto.Message) {
			once := map[spoken]bool{}
			for _, s := range sentencesIn(answer) {
				if strings.ContainsAny(s.text, "\t\n") {
					t.Errorf("a sentence of two lines or with a tab: %q", s.text)
				}
				if !once[s] {
					once[s] = true
					to[s]++
				}
			}
		}
		for _, v := range visitsToJudge(t) {
			for _, c := range callsAbout(v) {
				listen(read, c(reader{language, nil}))
				listen(other, c(reader{language, otherReader(v)}))
			}
		}
		for _, c := range oddSidewalls() {
			listen(read, c(reader{language, nil}))
		}
		maps.DeleteFunc(other, func(s spoken, _ int) bool { return read[s] > 0 })
		for units, said := range map[string]map[spoken]int{"as-read": read, "other": other} {
			var lines []string
			for s, n := range said {
				lines = append(lines, fmt.Sprint(strings.Join([]string{s.code, s.wheels, s.audience, language, units, s.text}, "\t"), "\t", n))
			}
			files[language+"-"+units+".tsv"] = slices.Sorted(slices.Values(lines))
		}
	}
	return files
}

// severalDoNot are verbs of one after the names of several wheels.
var severalDoNot = regexp.MustCompile(`(^|[\t:.;] ?)(?i:the)( (left|right|front|rear|inner|outer|on|axle|\d+))+(, the( (left|right|front|rear|inner|outer|on|axle|\d+))+)* and the( (left|right|front|rear|inner|outer|on|axle|\d+))+ (has|is|was|holds|measures|loses|shows|carries|stays|needs)\b|` +
	`(^|[\t:.;] ?)(?i:la) rueda [^:.;]* y la rueda( (delantera|trasera|izquierda|derecha|interior|exterior|del|eje|\d+))+ (tiene|está|es|era|lleva|mide|pierde|muestra|queda|necesita)\b`)

// TestSentences fails when the program says anything else than it said. Where a
// text is meant to change, -update writes the files, and their change is read. Whatever
// is said, nothing that a text needs is missing.
func TestSentences(t *testing.T) {
	noFaults(t)
	for name, lines := range allSentences(t) {
		file := filepath.Join(sentencesFolder, name)
		for _, l := range lines {
			if strings.ContainsAny(l, "{}") {
				t.Errorf("%s: a value is missing: %s", name, l)
			}
			if severalDoNot.MatchString(l) {
				t.Errorf("%s: several wheels, and a verb of one: %s", name, l)
			}
		}
		if *update {
			if err := os.WriteFile(file, []byte(strings.Join(lines, "\n")+"\n"), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		was := strings.Split(strings.TrimSuffix(string(data), "\n"), "\n")
		if differing := differingLines(was, lines); len(differing) > 0 {
			t.Errorf("%s: %d lines differ\n%s", name, len(differing), strings.Join(differing[:min(len(differing), shownLines)], "\n"))
		}
	}
}

// differingLines are those of one of two sorted lists alone, in their order.
func differingLines(was, now []string) (all []string) {
	for len(was) > 0 || len(now) > 0 {
		switch {
		case len(now) == 0 || len(was) > 0 && was[0] < now[0]:
			all, was = append(all, "- "+was[0]), was[1:]
		case len(was) == 0 || now[0] < was[0]:
			all, now = append(all, "+ "+now[0]), now[1:]
		default:
			was, now = was[1:], now[1:]
		}
	}
	return all
}
