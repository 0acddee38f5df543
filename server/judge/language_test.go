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
var titles = regexp.MustCompile(`Road Vehicles \(Construction and Use\) Regulations|California Vehicle Code|Automotive Engineering(: Powertrain, Chassis System and Vehicle Body)?|OUTSIDE`)

// english are words that no Spanish text has.
var english = regexp.MustCompile(`(?i)(^|[^\pL])(the|and|of|with|not|tires?|wheels?|axle|rear|groove|reported|practice|years?|read)($|[^\pL])`)

var neverSaidInSpanish = regexp.MustCompile(`(?i)ilegal|[^\pL]insegur|caducad|vencid|rechazad|propio riesgo`)

// The language and the units of the reader change words alone: every finding, line
// of work and number is the same, and every text is there and in the language.
func TestTheReaderChangesWordsAlone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		plain := judged(t, req)
		other := proto.CloneOf(req)
		other.Language, other.Units = "es-MX", metricReader
		told := judged(t, other)
		if b := told.GetBasis(); b.GetLanguage() != "es-MX" || !proto.Equal(b.GetUnits(), metricReader) {
			t.Fatalf("told in %q, %v", b.GetLanguage(), b.GetUnits())
		}
		a, b := withoutLanguage(plain), withoutLanguage(told)
		if !proto.Equal(a, b) {
			t.Fatalf("for another reader:\n%s\n%s", firstDifference(a, b), shownJSON(req))
		}
		if a, b := translate.Wordless(plain), translate.Wordless(told); !proto.Equal(a, b) {
			t.Fatalf("without words:\n%s\n%s", firstDifference(a, b), shownJSON(req))
		}
		if here, there := textsPresent(plain), textsPresent(told); !slices.Equal(here, there) {
			t.Fatalf("texts of %v, in Spanish of %v\n%s", here, there, shownJSON(req))
		}
		for _, text := range sentencesOf(told) {
			text = titles.ReplaceAllString(text, "")
			if w := english.FindString(text) + neverSaidInSpanish.FindString(text); w != "" || strings.ContainsAny(text, "{}[]") {
				t.Fatalf("Spanish says %q: %s\n%s", w, text, shownJSON(req))
			}
		}
	})
}

// withoutLanguage is an assessment without anything that its reader chose.
func withoutLanguage(a *pb.Assessment) *pb.Assessment {
	out := withoutWords(a)
	out.Basis.Language, out.Basis.Units = "", nil
	for _, f := range out.GetFindings() {
		if f.GetRule() != nil {
			f.Rule.Citation = ""
		}
	}
	for _, w := range out.GetWheels() {
		w.ShownPosition, w.Coverage = "", ""
	}
	for _, r := range out.GetRepairs() {
		r.LookFor = nil
	}
	return out
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
	for _, f := range a.GetFindings() {
		all = append(all, f.GetForTechnician(), f.GetForCustomer(), f.GetToSettle(), f.GetCaution(), f.GetRule().GetCitation(), f.GetAsLeft().GetWords())
		for _, e := range f.GetEvidence() {
			all = append(all, e.GetWords())
		}
	}
	for _, w := range a.GetWork() {
		all = append(all, w.GetForTechnician(), w.GetForCustomer(), w.GetCaution(), w.GetOnCondition())
	}
	for _, u := range a.GetUnanswered() {
		all = append(all, u.GetQuestion(), u.GetWouldAllow())
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
		all = append(all, w.GetCoverage(), w.GetShownPosition())
	}
	for _, r := range a.GetRepairs() {
		all = append(append(all, r.GetWords()), r.GetLookFor()...)
	}
	return all
}
