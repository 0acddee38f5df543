package judge_test

import (
	"regexp"
	"slices"
	"testing"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/translate"
)

// ofInch and ofMetric find an amount of the other system where none of the reader's own stands
// before it.
var (
	ofInch   = regexp.MustCompile(`\d(?:/32 in| (?:psi|mi|mph|lb|lb·ft|ft|°F)\b)`)
	ofMetric = regexp.MustCompile(`\d (?:mm|kPa|bar|km|km/h|kg|N·m|°C)\b`)
	inParens = regexp.MustCompile(`\([^()]*\)`)
)

// A visit that was read in one system of units is told in it where its reader chose none, in
// every sentence of its answer and in its row of a list, as far as answer and row show the
// system: what a law or practice says in the other stands beside it in parentheses. That is our
// own decision, held for every visit.
func TestAmountsAreInTheVisitsUnits(t *testing.T) {
	inMetric, inInch, rows := 0, 0, 0
	seen := map[string]int{}
	for _, req := range everyVisit(t) {
		m, i := amountsIn(req)
		other := ofInch
		switch {
		case m > 0 && i == 0:
			inMetric++
		case i > 0 && m == 0 && runsInOnly(req, "US"): // elsewhere depths are told as its law measures
			other = ofMetric
			inInch++
		default:
			continue
		}
		said := judge.Visit(req)
		if m, i := amountsIn(&pb.Assessment{Wheels: said.GetWheels()}); m+i == 0 {
			continue
		}
		for _, view := range []pb.View{pb.View_VIEW_FULL, pb.View_VIEW_WORK} {
			a := proto.CloneOf(said)
			by := tell.For(&pb.Reader{Language: "en", CustomerLanguage: "en", View: view}, tell.Shop{})
			by.Assessment(a, translate.FrontRear(req.GetVehicle()))
			row := proto.CloneOf(said.GetHeadline())
			by.Headline(row, translate.FrontRear(req.GetVehicle()))
			each(a.ProtoReflect(), func(code, text string) {
				if found := other.FindString(inParens.ReplaceAllString(text, "")); found != "" {
					if seen[code]++; seen[code] == 1 {
						t.Errorf("%s: %q in %q", code, found, text)
					}
				}
			})
			if m, i := amountsIn(&pb.Headline{Facts: said.GetHeadline().GetFacts()}); m+i == 0 {
				continue
			}
			rows++
			if text := row.GetLine(); other.MatchString(inParens.ReplaceAllString(text, "")) {
				if seen["row"]++; seen["row"] == 1 {
					t.Errorf("a row: %q", text)
				}
			}
		}
	}
	if inMetric < 100 || inInch < 100 || rows < 100 {
		t.Errorf("%d visits in metric units, %d in inch units, %d rows that show it", inMetric, inInch, rows)
	}
}

// runsInOnly tells that a vehicle runs in one country and no other place was told.
func runsInOnly(req *pb.AssessVisitRequest, country string) bool {
	in := req.GetVehicle().GetUse().GetDrivenIn()
	return len(in) == 1 && in[0].GetCountry() == country && (req.GetVehicle().GetUse().GetRegisteredIn().GetCountry() == "" || req.GetVehicle().GetUse().GetRegisteredIn().GetCountry() == country)
}

// amountsIn counts the amounts of a message in metric and in inch units. A speed is none: a
// tire's symbol stands for kilometers per hour wherever it is read.
func amountsIn(of proto.Message) (metric, inch int) {
	var walk func(m protoreflect.Message)
	walk = func(m protoreflect.Message) {
		m.Range(func(f protoreflect.FieldDescriptor, v protoreflect.Value) bool {
			switch f.Name() {
			case "millimeters", "kilopascals", "bar", "kilometers", "kilograms", "newton_meters", "celsius", "hectopascals", "meters":
				metric++
			case "thirty_seconds_inch", "psi", "miles", "pounds", "pound_feet", "fahrenheit", "inches_mercury", "inches", "feet":
				inch++
			}
			switch {
			case f.IsList() && f.Message() != nil:
				for i := range v.List().Len() {
					walk(v.List().Get(i).Message())
				}
			case f.Message() != nil && !f.IsMap():
				walk(v.Message())
			}
			return true
		})
	}
	walk(of.ProtoReflect())
	return metric, inch
}

// each gives every sentence of an answer, with the code of what it is said of.
func each(m protoreflect.Message, do func(code, text string)) {
	code := ""
	if f := m.Descriptor().Fields().ByName("code"); f != nil && f.Kind() == protoreflect.StringKind {
		code = m.Get(f).String()
	}
	m.Range(func(f protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		switch {
		case f.IsList() && f.Message() != nil:
			for i := range v.List().Len() {
				each(v.List().Get(i).Message(), do)
			}
		case f.Message() != nil && !f.IsMap():
			each(v.Message(), do)
		case f.Kind() == protoreflect.StringKind && !f.IsList() && slices.Contains([]protoreflect.Name{"words", "for_technician", "for_customer", "line", "would_allow"}, f.Name()):
			do(string(m.Descriptor().Name())+" "+code, v.String())
		}
		return true
	})
}
