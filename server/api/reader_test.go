package api

import (
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// Each calculator tells its answer in the language and units of its reader.
func TestCalculatorsHeedTheReader(t *testing.T) {
	h := inMemory(t)
	units := &pb.ReaderUnits{Depth: pb.DepthUnit_DEPTH_UNIT_MILLIMETERS, Pressure: pb.PressureUnit_PRESSURE_UNIT_BAR, Length: pb.LengthUnit_LENGTH_UNIT_MILLIMETERS}
	tread := h.tread(&pb.AssessTreadRequest{Wheel: depths("1L", 3, 3, 3), VehicleClass: 1, Language: "es-MX", Units: units}).GetAssessment()
	pressure := h.pressure(&pb.CalculatePressureRequest{Measured: psi(20), LabelCold: psi(33), VehicleClass: 1, Language: "es-MX", Units: units}).GetAssessment()
	repair := h.repair(&pb.AssessRepairRequest{
		VehicleClass: 1, Language: "es-MX", Units: units, LowestDepth: thirtySeconds(8), Sidewall: &pb.Sidewall{Marking: "225/60R17"}, Injuries: injured(5. / 16),
	}).GetAssessment()
	for name, c := range map[string]struct {
		got  *pb.Assessment
		said string
	}{
		"tread": {tread, "2.4 mm (3/32 in)"}, "pressure": {pressure, "1.38 bar (20 psi)"}, "repair": {repair, "7.9 mm (5/16 in)"},
	} {
		if b := c.got.GetBasis(); b.GetLanguage() != "es-MX" || !proto.Equal(b.GetUnits(), units) {
			t.Errorf("%s: told in %q, %v", name, b.GetLanguage(), b.GetUnits())
		}
		all := ""
		for _, f := range c.got.GetFindings() {
			all += f.GetForTechnician() + "\n"
		}
		if !strings.Contains(all, c.said) {
			t.Errorf("%s: %q is not said in %q", name, c.said, all)
		}
	}
}

// Of a tire of which nobody said where it is, no text says where.
func TestATireWithoutAPlace(t *testing.T) {
	h := inMemory(t)
	for language, want := range map[string]string{
		"en": "Whether the tire can be repaired is not decided yet. It has to come off the wheel and be looked at inside first.",
		"es": "Todavía no está decidido si el neumático se puede reparar. Primero hay que desmontarlo de la rueda y mirarlo por dentro.",
	} {
		said := ""
		for _, f := range h.repair(&pb.AssessRepairRequest{VehicleClass: 1, Language: language, Injuries: injured(3. / 16)}).GetAssessment().GetFindings() {
			said += f.GetForCustomer() + "\n"
		}
		if !strings.Contains(said, want) {
			t.Errorf("%s: %q is not said in %q", language, want, said)
		}
	}
}

// injured is a hole in the crown, of a size in inches as found.
func injured(size float64) []*pb.Injury {
	return []*pb.Injury{{Part: pb.TirePart_TIRE_PART_CROWN, BetweenOuterGrooves: new(true), Size: inches(size), ReachesThrough: pb.Answer_ANSWER_YES}}
}
