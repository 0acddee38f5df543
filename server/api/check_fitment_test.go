package api

import (
	"math"
	"slices"
	"testing"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/judge"
)

func (h *house) fitment(req *pb.CheckFitmentRequest) *pb.CheckFitmentResponse {
	h.t.Helper()
	if req.Reader == nil {
		req.Reader = whole
	}
	out, err := pb.NewCalculatorServiceClient(h.conn).CheckFitment(h.t.Context(), req)
	if err != nil {
		h.t.Fatal(err)
	}
	return out
}

// pickup asks for LT245/75R16 at 80 psi on the rear axle, rated 6,084 lb.
func pickup() *pb.Vehicle {
	psi := func(n float64) *pb.Pressure { return &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: n}} }
	return &pb.Vehicle{VehicleClass: pb.VehicleClass_VEHICLE_CLASS_LIGHT_TRUCK, Drive: pb.Drive_DRIVE_REAR, Use: &pb.VehicleUse{DrivenIn: []*pb.Jurisdiction{{Country: "US"}}}, Axles: &pb.Axles{Axles: []*pb.Axle{
		{Size: "LT245/75R16 120/116S E", ColdNormalLoad: psi(60)},
		{Size: "LT245/75R16 120/116S E", ColdNormalLoad: psi(80), Rating: &pb.Mass{AsRead: &pb.Mass_Pounds{Pounds: 6084}}},
	}}}
}

func wheelWith(position, marking string, psi float64) *pb.WheelReport {
	w := &pb.WheelReport{Position: position}
	if marking != "" {
		w.Sidewall = &pb.Sidewall{Marking: marking}
	}
	if psi > 0 {
		w.Pressures = []*pb.PressureReading{{Pressure: &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: psi}}}}
	}
	return w
}

// Two LT245/75R16 of load range E carry 3,042 lb each at 80 psi and, as
// LT235/85R16 of the same load, 2,205 lb at 50 psi (table in a motorhome
// specification; the law of load lies within 2 percent, which at 80 psi is within
// 2.3 psi of the pressure for a load).
func TestFitmentOfAPickup(t *testing.T) {
	h := inMemory(t)
	req := &pb.CheckFitmentRequest{Vehicle: pickup(), Wheels: []*pb.WheelReport{
		wheelWith("2L", "LT 245/75 r16 120/116s e", 80), wheelWith("2R", "LT245/75R16 120/116S E", 50),
	}}
	out := h.fitment(req)
	cold := fitmentVisit(req)
	cold.Inspection.Conditions.Driven = &pb.DrivenBefore{DrivenHere: pb.Answer_ANSWER_NO}
	known := judge.Fitment(cold)
	for i, w := range out.GetWheels() { // nobody said that the readings are cold
		if w.GetSupportedLoad().GetPounds() >= known.GetWheels()[i].GetSupportedLoad().GetPounds() {
			t.Errorf("a reading that may be warm supports %v, a cold one %v", w, known.GetWheels()[i])
		}
	}
	out.Wheels, out.Axles = known.GetWheels(), known.GetAxles()
	if len(out.GetWheels()) != 2 || len(out.GetAxles()) != 1 {
		t.Fatalf("%v", out)
	}
	left, right := out.GetWheels()[0], out.GetWheels()[1]
	if left.GetPosition() != "2L" || left.GetCanonical() != right.GetCanonical() || left.GetCanonical() != left.GetLabelCanonical() || left.GetCanonical() == "" {
		t.Errorf("%v, %v", left, right)
	}
	near := func(m *pb.Mass, want float64) bool { return math.Abs(m.GetPounds()/want-1) < 0.02 }
	if !near(left.GetSupportedLoad(), 3042) || !near(left.GetRatedLoad(), 3042) || !near(right.GetSupportedLoad(), 2205) {
		t.Errorf("%v, %v", left, right)
	}
	axle := out.GetAxles()[0]
	if axle.GetAxle() != 2 || !near(axle.GetSupported(), 3042+2205) || math.Abs(axle.GetPressureNeeded().GetPsi()-80) > 2.3 {
		t.Errorf("%v", axle)
	}
	if !slices.ContainsFunc(out.GetAssessment().GetNothingFound(), func(c *pb.Checked) bool { return c.GetCode() == "fitment.as-label" }) {
		t.Errorf("%v", out.GetAssessment().GetNothingFound())
	}
	for _, u := range out.GetAssessment().GetQuestions() {
		if about := finding.QuestionOf(finding.Question(u.GetCode())).About; ofPressure(about) || about == finding.AboutDepth {
			t.Errorf("nobody asked about %s", u.GetCode())
		}
	}
	// With the axle on a scale its weight counts, not its rating.
	light := h.fitment(&pb.CheckFitmentRequest{Vehicle: pickup(), Wheels: []*pb.WheelReport{
		wheelWith("2L", "LT245/75R16 120/116S E", 80), wheelWith("2R", "LT245/75R16 120/116S E", 80),
	}, AxleWeights: []*pb.AxleWeight{{Axle: 2, Weight: &pb.Mass{AsRead: &pb.Mass_Pounds{Pounds: 4400}}}}})
	if p := light.GetAxles()[0].GetPressureNeeded().GetPsi(); p < 45 || p > 52 {
		t.Errorf("%v psi for 2,200 lb on a tire", p)
	}
}

// Passenger tires in place of LT: the load is past their rating, and no pressure
// is given for it.
func TestFitmentOfTheWrongTire(t *testing.T) {
	out := inMemory(t).fitment(&pb.CheckFitmentRequest{Vehicle: pickup(), Wheels: []*pb.WheelReport{
		wheelWith("2L", "P255/65R16 109S", 35), wheelWith("2R", "P255/65R16 109S", 35),
	}})
	codes := codesOf(out.GetAssessment())
	for _, want := range []string{"fitment.load-below-label", "fitment.size-not-label"} {
		if !slices.Contains(codes, want) {
			t.Errorf("%s is not found: %v", want, codes)
		}
	}
	w := out.GetWheels()[0]
	if w.GetPressureForLabelLoad() != nil || out.GetAxles()[0].GetPressureNeeded() != nil {
		t.Errorf("a pressure is given for a load past the rating: %v", out)
	}
	// 255/65R16 stands 737.9 mm, 245/75R16 773.9 mm: rim and two section heights.
	if d := w.GetDiameterDifferencePercent(); math.Abs(d+4.7) > 0.05 || w.GetShownSpeed().GetMilesPerHour() != 60 || w.GetTrueSpeed().GetMilesPerHour() != 57 {
		t.Errorf("%v", w)
	}
	// 1,030 kg divided by 1.10 (49 CFR 571.110 S4.2.2.2).
	if got := w.GetRatedLoad().GetPounds(); math.Abs(got-1030/0.45359237/1.1) > 1 {
		t.Errorf("rated for %v lb", got)
	}
}

// LT275/70R18 of load range E in place of P285/60R18 at 33 psi takes 46 psi for the
// whole of what that carries (an owner's worked example by load tables; the law of load
// lies within 2 percent of each table, which together is within 2.6 psi). On a truck a
// passenger tire carries that divided by 1.10 (49 CFR 571.110 S4.2.2.2), for which the
// law of load of LT tires, pressure to the power of 0.7 (a published table of one, followed
// within 0.8 percent), asks for so much less.
func TestFitmentOfALargerSize(t *testing.T) {
	label := &pb.Axle{Size: "P285/60R18 114V", ColdNormalLoad: &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: 33}}}
	out := inMemory(t).fitment(&pb.CheckFitmentRequest{
		Vehicle: &pb.Vehicle{VehicleClass: pb.VehicleClass_VEHICLE_CLASS_LIGHT_TRUCK, Use: &pb.VehicleUse{DrivenIn: []*pb.Jurisdiction{{Country: "US"}}}, Axles: &pb.Axles{Axles: []*pb.Axle{label, label}}},
		Wheels:  []*pb.WheelReport{wheelWith("1L", "LT275/70R18 125/122V E", 33)},
	})
	if p := out.GetWheels()[0].GetPressureForLabelLoad().GetPsi(); math.Abs(p-46*math.Pow(1.10, -1/0.7)) > 2.6 {
		t.Errorf("%v psi", p)
	}
	if codes := codesOf(out.GetAssessment()); !slices.Contains(codes, "fitment.pressure-for-size") {
		t.Errorf("%v", codes)
	}
}

// A label above what the sidewall allows cold: no pressure is given, neither more
// than the sidewall's nor less than the label's, and the size is no substitute.
func TestFitmentNeverAsksForMoreThanTheSidewall(t *testing.T) {
	for _, row := range []struct {
		printed     float64
		given       float64 // psi, 0: none
		code, never string
	}{
		{80, 80, "fitment.substitute-size", "inflation.label-above-sidewall"},
		{65, 0, "inflation.label-above-sidewall", "fitment.substitute-size"},
		{65, 0, "fitment.size-not-label", "fitment.pressure-for-size"},
	} {
		w := wheelWith("2L", "LT265/75R16 123/120S E", 50)
		w.Sidewall.MaximumPressure = &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: row.printed}}
		out := inMemory(t).fitment(&pb.CheckFitmentRequest{Vehicle: pickup(), Wheels: []*pb.WheelReport{w}})
		if got := out.GetWheels()[0].GetPressureForLabelLoad().GetPsi(); got != row.given {
			t.Errorf("printed %v psi: given %v psi", row.printed, got)
		}
		if codes := codesOf(out.GetAssessment()); !slices.Contains(codes, row.code) || slices.Contains(codes, row.never) {
			t.Errorf("printed %v psi: %v", row.printed, codes)
		}
		// Another tire is set to what it takes itself.
		another := slices.ContainsFunc(out.GetAssessment().GetWork(), func(w *pb.WorkItem) bool { return w.GetCode() == "tires.fit-right" })
		for _, line := range out.GetAssessment().GetWork() {
			if line.GetTarget().GetPressure().GetPsi() > row.printed && !another {
				t.Errorf("printed %v psi: %v", row.printed, line)
			}
		}
	}
}

// Without a label there is nothing to compare with: it is asked for once.
func TestFitmentWithoutALabel(t *testing.T) {
	v := pickup()
	v.Axles.Axles[0].Size, v.Axles.Axles[1].Size = "", ""
	out := inMemory(t).fitment(&pb.CheckFitmentRequest{Vehicle: v, Wheels: []*pb.WheelReport{
		wheelWith("2L", "LT245/75R16 120/116S E", 80), wheelWith("2R", "", 80),
	}})
	asked := map[string]*pb.Question{}
	for _, u := range out.GetAssessment().GetQuestions() {
		asked[u.GetCode()] = u
	}
	if u := asked["fitment.ask-label-size"]; u == nil || len(u.GetPositions()) != 0 || u.GetWords() == "" {
		t.Errorf("%v", asked)
	}
	if u := asked["fitment.ask-marking"]; !slices.Equal(u.GetPositions(), []string{"2R"}) {
		t.Errorf("%v", u)
	}
	if len(out.GetWheels()) != 1 || out.GetWheels()[0].GetLabelCanonical() != "" || out.GetWheels()[0].DiameterDifferencePercent != nil || out.GetWheels()[0].GetRatedLoad() == nil {
		t.Errorf("%v", out.GetWheels())
	}
}

// Problems are told by the names of the request.
func TestFitmentRefuses(t *testing.T) {
	h := inMemory(t)
	client := pb.NewCalculatorServiceClient(h.conn)
	_, err := client.CheckFitment(t.Context(), &pb.CheckFitmentRequest{Wheels: []*pb.WheelReport{{Position: "LF"}}, JudgeBy: &pb.JudgeBy{RulebookIds: []string{"us-lite"}}})
	refused(t, err, "wheels[0].position", "judgeBy.rulebookIds[0]", "vehicle")
	v := pickup()
	_, err = client.CheckFitment(t.Context(), &pb.CheckFitmentRequest{Vehicle: v, Wheels: []*pb.WheelReport{wheelWith("3L", "", 0), {Position: "1L", Taped: &pb.TapedSize{}}},
		AxleWeights: []*pb.AxleWeight{{Axle: 0}}})
	refused(t, err, "wheels[0].position", "wheels[1].taped", "axleWeights[0].axle", "axleWeights[0].weight")
	req := &pb.CheckFitmentRequest{Vehicle: v, Wheels: []*pb.WheelReport{wheelWith("1L", "LT245/75R16 120/116S E", 60)}, Reader: whole}
	before := proto.CloneOf(req)
	if a, b := h.fitment(req), h.fitment(req); !proto.Equal(a, b) || !proto.Equal(req, before) {
		t.Error("an equal request has another answer, or was changed")
	}
	if h.drafts() != 0 {
		t.Errorf("%d drafts", h.drafts())
	}
}
