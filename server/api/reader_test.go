package api

import (
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// Each calculator tells its answer in the language and units of its reader.
func TestCalculatorsHeedTheReader(t *testing.T) {
	h := inMemory(t)
	units := &pb.ReaderUnits{Depth: pb.DepthUnit_DEPTH_UNIT_MILLIMETERS, Pressure: pb.PressureUnit_PRESSURE_UNIT_BAR, Length: pb.LengthUnit_LENGTH_UNIT_MILLIMETERS}
	reader := &pb.Reader{Language: "es-MX", CustomerLanguage: "en", Units: units, View: pb.View_VIEW_FULL}
	tread := h.tread(&pb.AssessTreadRequest{Wheel: depths("1L", 3, 3, 3), VehicleClass: 1, Reader: reader})
	pressure := h.pressure(&pb.CalculatePressureRequest{Measured: psi(20), LabelCold: psi(33), VehicleClass: 1, Reader: reader})
	repair := h.repair(&pb.AssessRepairRequest{
		VehicleClass: 1, Reader: reader, LowestDepth: thirtySeconds(8), Sidewall: &pb.Sidewall{Marking: "225/60R17"}, Injuries: injured(5. / 16),
	})
	for name, c := range map[string]struct {
		got interface {
			GetAssessment() *pb.Assessment
			GetTold() *pb.Told
		}
		said string
	}{
		"tread": {tread, "2.4 mm (3/32 in)"}, "pressure": {pressure, "1.4 bar (20 psi)"}, "repair": {repair, "7.9 mm (5/16 in)"},
	} {
		if b := c.got.GetTold(); b.GetLanguage() != "es-MX" || !proto.Equal(b.GetUnits(), units) {
			t.Errorf("%s: told %v", name, b)
		}
		all := ""
		for _, f := range c.got.GetAssessment().GetFindings() {
			all += f.GetForTechnician() + "\n"
		}
		if !strings.Contains(all, c.said) {
			t.Errorf("%s: %q is not said in %q", name, c.said, all)
		}
	}
}

// calculators are calls that say something, for any reader.
func (h *house) calculators() map[string]func(*pb.Reader) (proto.Message, error) {
	c, ctx := pb.NewCalculatorServiceClient(h.conn), h.t.Context()
	v := car()
	in := visit(v)
	return map[string]func(*pb.Reader) (proto.Message, error){
		"visit": func(r *pb.Reader) (proto.Message, error) {
			return c.AssessVisit(ctx, &pb.AssessVisitRequest{Vehicle: v, Inspection: in, Reader: r})
		},
		"tread": func(r *pb.Reader) (proto.Message, error) {
			return c.AssessTread(ctx, &pb.AssessTreadRequest{Wheel: depths("1L", 3, 2, 3), VehicleClass: 1, Reader: r})
		},
		"pressure": func(r *pb.Reader) (proto.Message, error) {
			return c.CalculatePressure(ctx, &pb.CalculatePressureRequest{Measured: psi(20), LabelCold: psi(33), VehicleClass: 3, Dual: paired, Reader: r})
		},
		"repair": func(r *pb.Reader) (proto.Message, error) {
			return c.AssessRepair(ctx, &pb.AssessRepairRequest{VehicleClass: 1, Injuries: injured(5. / 16), Reader: r})
		},
		"fitment": func(r *pb.Reader) (proto.Message, error) {
			return c.CheckFitment(ctx, &pb.CheckFitmentRequest{Vehicle: pickup(), Wheels: []*pb.WheelReport{wheelWith("2L", "P255/65R16 109S", 35)}, Reader: r})
		},
		"rotation": func(r *pb.Reader) (proto.Message, error) {
			req := twoOf([4]float64{8, 8, 8, 8}, [4]float64{7, 7, 6, 6})
			req.Reader = r
			return c.PlanRotation(ctx, req)
		},
		"life": func(r *pb.Reader) (proto.Message, error) {
			return c.EstimateLife(ctx, &pb.EstimateLifeRequest{
				Depths: []*pb.MeasuredDepth{depthAt(0, 5, nil), depthAt(5000, 9, nil)}, Limits: []*pb.Depth{thirtySeconds(2)}, Reader: r,
			})
		},
		"sidewall": func(r *pb.Reader) (proto.Message, error) {
			return c.ReadSidewall(ctx, &pb.ReadSidewallRequest{Sidewall: &pb.Sidewall{Marking: "225/45ZR17", Identification: "A1?2C3D4E18B6"}, Reader: r})
		},
	}
}

// heard is what an answer says to the customer, and to the technician.
func heard(answer proto.Message) (customer, technician []string) {
	var walk func(protoreflect.Message)
	each := func(fd protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		switch {
		case fd.Name() == "for_customer":
			customer = append(customer, v.String())
		case slices.Contains([]protoreflect.Name{"for_technician", "words", "would_allow", "shown_position"}, fd.Name()):
			technician = append(technician, v.String())
		case fd.Message() == nil:
		case fd.IsList():
			for i := range v.List().Len() {
				walk(v.List().Get(i).Message())
			}
		default:
			walk(v.Message())
		}
		return true
	}
	walk = func(m protoreflect.Message) { m.Range(each) }
	walk(answer.ProtoReflect())
	slices.Sort(customer) // fields come in any order
	slices.Sort(technician)
	return customer, technician
}

// Technician and customer read each in a language of their own, and where no
// customer's language is asked for the customer is told nothing.
func TestCalculatorsTellTwoLanguages(t *testing.T) {
	h := inMemory(t)
	for name, ask := range h.calculators() {
		said := func(technician, customer string) ([]string, []string) {
			t.Helper()
			answer, err := ask(&pb.Reader{Language: technician, CustomerLanguage: customer, View: pb.View_VIEW_FULL})
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			told := answer.(interface{ GetTold() *pb.Told }).GetTold()
			if told.GetLanguage() != technician || told.GetCustomerLanguage() != customer || told.GetView() != pb.View_VIEW_FULL || told.GetTexts() == "" {
				t.Errorf("%s: %s and %q are told as %v", name, technician, customer, told)
			}
			return heard(answer)
		}
		inEnglish, english := said("en", "en")
		inSpanish, spanish := said("es", "es")
		for _, c := range []struct {
			technician, customer string
			hears, reads         []string
		}{{"es", "en", inEnglish, spanish}, {"en", "es", inSpanish, english}, {"es", "", nil, spanish}, {"en", "", nil, english}} {
			if hears, reads := said(c.technician, c.customer); !slices.Equal(hears, c.hears) || !slices.Equal(reads, c.reads) {
				t.Errorf("%s, %s for the technician, %q for the customer:\n%q\n%q", name, c.technician, c.customer, hears, reads)
			}
		}
		if slices.Equal(english, spanish) || name != "sidewall" && len(inEnglish) == 0 {
			t.Errorf("%s says %q and %q", name, english, inEnglish)
		}
	}
}

// A language without texts is told in English, and the answer says so.
func TestCalculatorsTellALanguageThatThereIsNot(t *testing.T) {
	h := inMemory(t)
	for name, ask := range h.calculators() {
		answer, err := ask(&pb.Reader{Language: "tlh", CustomerLanguage: "tlh"})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if told := answer.(interface{ GetTold() *pb.Told }).GetTold(); told.GetLanguage() != "en" || told.GetCustomerLanguage() != "en" || told.GetView() != pb.View_VIEW_WORK {
			t.Errorf("%s: told as %v", name, told)
		}
	}
}

// Of a tire of which nobody said where it is, no text says where.
func TestATireWithoutAPlace(t *testing.T) {
	h := inMemory(t)
	for language, want := range map[string]string{
		"en": "Whether the tire can be repaired is not decided yet. It has to come off the wheel and be looked at inside first.",
		"es": "Todavía no sabemos si el neumático se puede reparar. Primero hay que desmontarlo y mirarlo por dentro.",
	} {
		said := ""
		for _, f := range h.repair(&pb.AssessRepairRequest{VehicleClass: 1, Reader: &pb.Reader{CustomerLanguage: language}, Injuries: injured(3. / 16)}).GetAssessment().GetFindings() {
			said += f.GetForCustomer() + "\n"
		}
		if !strings.Contains(said, want) {
			t.Errorf("%s: %q is not said in %q", language, want, said)
		}
	}
}

// injured is a hole in the crown, of a size in inches as found.
func injured(size float64) []*pb.Injury {
	return []*pb.Injury{{Place: crownPlace, BetweenOuterGrooves: pb.Answer_ANSWER_YES, Size: inches(size), ReachesThrough: pb.Answer_ANSWER_YES}}
}
