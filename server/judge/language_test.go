package judge_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"
	"pgregory.net/rapid"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/translate"
)

var metricReader = &pb.ReaderUnits{
	Depth: pb.DepthUnit_DEPTH_UNIT_MILLIMETERS, Length: pb.LengthUnit_LENGTH_UNIT_MILLIMETERS, Pressure: pb.PressureUnit_PRESSURE_UNIT_BAR,
	Distance: pb.DistanceUnit_DISTANCE_UNIT_KILOMETERS, Mass: pb.MassUnit_MASS_UNIT_KILOGRAMS, Speed: pb.SpeedUnit_SPEED_UNIT_KILOMETERS_PER_HOUR,
	Torque: pb.TorqueUnit_TORQUE_UNIT_NEWTON_METERS, Temperature: pb.TemperatureUnit_TEMPERATURE_UNIT_CELSIUS,
}

// titles of laws and standards stay in their language.
var titles = regexp.MustCompile(`Road Vehicles \(Construction and Use\) Regulations|California Vehicle Code|Automotive Engineering(: Powertrain, Chassis System and Vehicle Body)?|S\.I\. \d+ of \d+|OUTSIDE`)

// english are words that no Spanish text has.
var english = regexp.MustCompile(`(?i)(^|[^\pL])(the|and|of|with|not|tires?|wheels?|axle|rear|groove|reported|practice|years?|read)($|[^\pL])`)

var neverSaidInSpanish = regexp.MustCompile(`(?i)ilegal|[^\pL]insegur|caducad|vencid|rechazad|propio riesgo`)

// The language and the units of the reader change words alone: the meaning is the
// same, and every text is there and in the language, the technician's and the
// customer's.
func TestTheReaderChangesWordsAlone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		plain := inWords(req, &pb.Reader{CustomerLanguage: "en"})
		there, how := toldTo(req, &pb.Reader{Language: "es-MX", CustomerLanguage: "es", Units: metricReader})
		if how.GetLanguage() != "es-MX" || how.GetCustomerLanguage() != "es" || !proto.Equal(how.GetUnits(), metricReader) {
			t.Fatalf("told %v", how)
		}
		if a, b := translate.Meaning(plain), translate.Meaning(there); !proto.Equal(a, b) {
			t.Fatalf("for another reader:\n%s\n%s", firstDifference(a, b), shownJSON(req))
		}
		if a, b := textsPresent(plain), textsPresent(there); !slices.Equal(a, b) {
			t.Fatalf("texts of %v, in Spanish of %v\n%s", a, b, shownJSON(req))
		}
		for _, text := range sentencesOf(there) {
			text = titles.ReplaceAllString(text, "")
			if w := english.FindString(text) + neverSaidInSpanish.FindString(text); w != "" || strings.ContainsAny(text, "{}[]") {
				t.Fatalf("Spanish says %q: %s\n%s", w, text, shownJSON(req))
			}
		}
	})
}

// Where no customer reads, nothing is said to one.
func TestNoCustomerNoWordsForOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		a := inWords(req, &pb.Reader{})
		said := a.GetHeadline().GetForCustomer()
		for _, f := range a.GetFindings() {
			said += f.GetForCustomer()
		}
		for _, w := range a.GetWork() {
			said += w.GetForCustomer()
		}
		if said != "" {
			t.Fatalf("said to a customer who does not read: %s\n%s", said, shownJSON(req))
		}
	})
}

// textsPresent tells of each text, in order, whether it says anything.
func textsPresent(a *pb.Assessment) (said []bool) {
	for _, s := range sentencesOf(a) {
		said = append(said, s != "")
	}
	return said
}

// sentencesOf lists what an assessment says to people.
func sentencesOf(a *pb.Assessment) (all []string) {
	all = append(all, a.GetHeadline().GetForTechnician(), a.GetHeadline().GetForCustomer())
	for _, c := range a.GetCautions() {
		all = append(all, c.GetWords())
	}
	for _, f := range a.GetFindings() {
		all = append(all, f.GetForTechnician(), f.GetForCustomer(), f.GetToSettle().GetWords(), ruleOf(f).GetCitation().GetWords(), f.GetAsLeft().GetPutRight().GetWords())
		for _, e := range f.GetEvidence() {
			all = append(all, e.GetWords())
		}
	}
	for _, w := range a.GetWork() {
		all = append(all, w.GetForTechnician(), w.GetForCustomer(), w.GetCondition().GetWords(), w.GetToSettle().GetWords())
	}
	for _, q := range a.GetQuestions() {
		all = append(all, q.GetWords(), q.GetWouldAllow())
	}
	for _, n := range a.GetNotLookedAt() {
		all = append(all, n.GetWords())
	}
	for _, n := range a.GetNotJudged() {
		all = append(all, n.GetWords())
	}
	for _, c := range a.GetNothingFound() {
		all = append(all, c.GetWords())
	}
	for _, w := range a.GetWheels() {
		all = append(all, w.GetCoverage().GetWords(), w.GetShownPosition())
	}
	for _, r := range a.GetRepairs() {
		for _, s := range slices.Concat(r.GetLookFor(), r.GetMissing()) {
			all = append(all, s.GetWords())
		}
	}
	return all
}
