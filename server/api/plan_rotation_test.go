package api

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

func (h *house) rotation(req *pb.PlanRotationRequest) *pb.PlanRotationResponse {
	h.t.Helper()
	if req.Reader == nil {
		req.Reader = whole
	}
	out, err := pb.NewCalculatorServiceClient(h.conn).PlanRotation(h.t.Context(), req)
	if err != nil {
		h.t.Fatal(err)
	}
	return out
}

// firstOf is the first day of a month.
func firstOf(month int32) *pb.CalendarDate { return &pb.CalendarDate{Year: 2026, Month: month, Day: 1} }

// rearDriven is an invented car of 10,000 miles, new at 9/32 in, its rear tires worn
// by the drive: [8 8 8] in front, [5 4 5] behind (common practice).
func rearDriven() *pb.PlanRotationRequest {
	req := &pb.PlanRotationRequest{
		Vehicle: &pb.Vehicle{
			VehicleClass: pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR, Drive: pb.Drive_DRIVE_REAR, Tpms: pb.TpmsKind_TPMS_KIND_DIRECT,
			Axles: &pb.Axles{Axles: []*pb.Axle{{Size: "235/45R18 98V", ColdNormalLoad: psi(40)}, {Size: "235/45R18 98V", ColdNormalLoad: psi(42)}}},
		},
		Visits: []*pb.Inspection{{Odometer: inMiles(10_000), LocalDate: firstOf(6)}},
	}
	for i, position := range []string{"1L", "1R", "2L", "2R"} {
		read := []float64{8, 8, 8}
		if i > 1 {
			read = []float64{5, 4, 5}
		}
		w := depths(position, read...)
		w.TireId = newID()
		w.Sidewall = &pb.Sidewall{Marking: "235/45R18 98V", Directional: pb.Answer_ANSWER_NO, Studded: pb.Answer_ANSWER_NO}
		req.Visits[0].Wheels = append(req.Visits[0].Wheels, w)
		req.Tires = append(req.Tires, &pb.Tire{Id: w.TireId, NewDepths: &pb.NewDepths{Grooves: []*pb.GrooveDepth{{Depth: thirtySeconds(9)}}}, FittedOdometer: inMiles(0)})
	}
	return req
}

func planned(t *testing.T, out *pb.PlanRotationResponse, id string) *pb.RotationPlan {
	t.Helper()
	for _, p := range out.GetPlans() {
		if p.GetMapId() == id {
			return p
		}
	}
	t.Fatalf("%s is not among the plans", id)
	return nil
}

// Depth left over rate, worked by hand: (4-2)/5 and (8-2)/1 in 10,000 miles where
// they are; (8-2)/5 and (4-2)/1 crossed.
func TestPlanRotation(t *testing.T) {
	out := inMemory(t).rotation(rearDriven())
	var ids []string
	for _, p := range out.GetPlans() {
		ids = append(ids, p.GetMapId())
	}
	if want := []string{"rearward-cross", "front-rear-same-side", "side-to-side", "leave", "forward-cross", "x-pattern"}; !slices.Equal(ids, want) {
		t.Errorf("%v, want %v", ids, want)
	}
	best, leave := out.GetPlans()[0], planned(t, out, "leave")
	for what, d := range map[string][2]float64{
		"left, first": {leave.GetUntilFirstOut().GetMiles(), 4000}, "left, pair": {leave.GetUntilPairOut().GetMiles(), 4000}, "left, set": {leave.GetUntilSetOut().GetMiles(), 60000},
		"crossed, first": {best.GetUntilFirstOut().GetMiles(), 12000}, "crossed, set": {best.GetUntilSetOut().GetMiles(), 20000}, "gain": {best.GetGain().GetMiles(), 8000},
	} {
		if d[0] != d[1] {
			t.Errorf("%s: %v, want %v", what, d[0], d[1])
		}
	}
	if low, high := best.GetGainLow().GetMiles(), best.GetGainHigh().GetMiles(); low <= 0 || low >= 8000 || best.GetGainHigh() != nil && high <= 8000 {
		t.Errorf("gain from %v to %v", low, high)
	}
	if want := "Rearward cross: LF→RR, RF→LR, LR→LF, RR→RF."; best.GetWords() != want {
		t.Errorf("%q", best.GetWords())
	}
	var changes []string
	for _, c := range best.GetChanges() {
		changes = append(changes, c.GetFromPosition()+">"+c.GetToPosition())
	}
	if got := strings.Join(changes, " "); got != "1L>2R 1R>2L 2L>1L 2R>1R" || len(leave.GetChanges()) > 0 || leave.GetWords()+" "+inOne(leave.GetWarnings()) != "Leave them where they are. As they stand, the shallower pair runs on the rear." {
		t.Errorf("%s; %v", got, leave)
	}
	if p := planned(t, out, "forward-cross"); why(p) != "The map is for another drive." || why(best) != "" {
		t.Errorf("%q, %q", why(p), why(best))
	}
	if len(out.GetAssessment().GetWheels()) != 4 || out.GetUnrecordedRotation() != nil || len(out.GetAssessment().GetQuestions()) > 0 && strings.Contains(fmt.Sprint(out.GetAssessment().GetQuestions()), "rotation") {
		t.Errorf("%v", out.GetAssessment().GetQuestions())
	}
}

// What follows a map, in order: label pressures of the new places, torque, sensors,
// arrows, torque re-check (common practice).
func TestPlanRotationWork(t *testing.T) {
	out := inMemory(t).rotation(rearDriven())
	var got []string
	for i, w := range out.GetPlans()[0].GetWork() {
		got = append(got, fmt.Sprintf("%s %v %v", w.GetCode(), w.GetPositions(), w.GetTarget().GetPressure().GetPsi()))
		if scaffold.MatchString(w.GetForTechnician()+w.GetForCustomer()) || w.GetForTechnician() == "" {
			t.Errorf("%s: %q, %q", w.GetCode(), w.GetForTechnician(), w.GetForCustomer())
		}
		if i > 0 && w.GetStep() < out.GetPlans()[0].GetWork()[i-1].GetStep() {
			t.Errorf("%s is of an earlier step than the line before", w.GetCode())
		}
		if strings.Contains(w.GetCode(), "pressures") && w.GetCaution() == "" || strings.Contains(w.GetCode(), "torque") && w.GetCaution() == "" {
			t.Errorf("%s: no caution", w.GetCode())
		}
	}
	want := []string{
		"rotation.set-pressures [1L 1R] 40", "rotation.set-pressures [2L 2R] 42", "wheel.torque [1L 1R 2L 2R] 0", "sensor.relearn [] 0",
		"rotation.check-arrows [1L 1R 2L 2R] 0", "owed.torque-recheck [1L 1R 2L 2R] 0",
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	indirect := rearDriven()
	indirect.Vehicle.Tpms = pb.TpmsKind_TPMS_KIND_INDIRECT
	if w := inMemory(t).rotation(indirect).GetPlans()[0].GetWork()[3]; w.GetCode() != "sensor.reset" {
		t.Errorf("a system without sensors: %v", w)
	}
	if w := planned(t, out, "leave").GetWork(); len(w) > 0 {
		t.Errorf("leaving them is followed by %v", w)
	}
	req := rearDriven()
	req.Vehicle.Tpms, req.Vehicle.Axles.Axles[1].ColdNormalLoad = pb.TpmsKind_TPMS_KIND_NONE, psi(40)
	out = inMemory(t).rotation(req)
	if w := out.GetPlans()[0].GetWork(); len(w) != 4 || len(w[0].GetPositions()) != 4 || w[1].GetCode() != "wheel.torque" {
		t.Errorf("%v", w)
	}
}

// What is told of the tires decides which maps are allowed, wherever it is told.
func TestPlanRotationTires(t *testing.T) {
	each := func(change func(*pb.WheelReport)) *pb.PlanRotationRequest {
		req := rearDriven()
		for _, w := range req.GetVisits()[0].GetWheels() {
			change(w)
		}
		return req
	}
	for name, row := range map[string]struct {
		req  *pb.PlanRotationRequest
		best string
		ask  string
	}{
		"an arrow": {each(func(w *pb.WheelReport) { w.Sidewall.Directional = pb.Answer_ANSWER_YES }), "front-rear-same-side", ""},
		"an arrow seen": {each(func(w *pb.WheelReport) {
			w.Marks = []*pb.MountingMarks{{Arrow: pb.DirectionArrow_DIRECTION_ARROW_AGREES}}
		}), "front-rear-same-side", ""},
		"no arrow seen": {each(func(w *pb.WheelReport) {
			w.Sidewall.Directional = 0
			w.Marks = []*pb.MountingMarks{{Arrow: pb.DirectionArrow_DIRECTION_ARROW_NONE}}
		}), "rearward-cross", ""},
		"arrow not told": {each(func(w *pb.WheelReport) { w.Sidewall.Directional = 0 }), "rearward-cross", "ask.rotation-arrow"},
		"studded":        {each(func(w *pb.WheelReport) { w.Sidewall.Studded = pb.Answer_ANSWER_YES }), "front-rear-same-side", ""},
		"two sizes": {each(func(w *pb.WheelReport) {
			w.Sidewall.Marking = strings.Replace(w.Sidewall.Marking, "235", "2"+w.Position[:1]+"5", 1)
		}), "side-to-side", ""},
		"spaced differently": {each(func(w *pb.WheelReport) {
			w.Sidewall.Marking = strings.Replace(w.Sidewall.Marking, "/", strings.Repeat(" ", int(w.Position[0]-'0'))+"/", 1)
		}), "rearward-cross", ""},
		"a bulge": {each(func(w *pb.WheelReport) {
			w.Observations = []*pb.Observation{{Kind: pb.ObservationKind_OBSERVATION_KIND_BULGE}}
		}), "leave", ""},
		"no depths":      {each(func(w *pb.WheelReport) { w.Tread = nil }), "leave", ""},
		"drive not told": {func() *pb.PlanRotationRequest { r := rearDriven(); r.Vehicle.Drive = 0; return r }(), "front-rear-same-side", "ask.rotation-drive"},
	} {
		out := inMemory(t).rotation(row.req)
		var asked []string
		for _, u := range out.GetAssessment().GetQuestions() {
			if strings.HasPrefix(u.GetCode(), "ask.rotation") {
				asked = append(asked, u.GetCode())
				if u.GetWords() == "" || u.GetWouldAllow() == "" {
					t.Errorf("%s: %v", name, u)
				}
			}
		}
		if got := out.GetPlans()[0].GetMapId(); got != row.best || strings.Join(asked, " ") != row.ask {
			t.Errorf("%s: %s, asked %v, want %s, %s", name, got, asked, row.best, row.ask)
		}
		for _, p := range out.GetPlans() {
			if scaffold.MatchString(p.GetWords()+why(p)) || p.GetWords() == "" {
				t.Errorf("%s: %s: %q, %q", name, p.GetMapId(), p.GetWords(), why(p))
			}
		}
	}
}

// why says all that speaks against a plan.
func why(p *pb.RotationPlan) string { return inOne(p.GetWhyNot()) }

// inOne are several things said, as they are read.
func inOne(said []*pb.Said) string {
	var all []string
	for _, s := range said {
		all = append(all, s.GetWords())
	}
	return strings.Join(all, " ")
}

// twoOf is the car at two visits 4,000 miles apart.
func twoOf(before, now [4]float64) *pb.PlanRotationRequest {
	req := rearDriven()
	req.Tires = nil
	visit := func(odometer float64, on *pb.CalendarDate, at [4]float64) *pb.Inspection {
		v := proto.CloneOf(req.GetVisits()[0])
		v.Odometer, v.LocalDate = inMiles(odometer), on
		for i, w := range v.GetWheels() {
			w.TireId, w.Tread = "", depths("", at[i], at[i], at[i]).Tread
		}
		return v
	}
	req.Visits = []*pb.Inspection{visit(14_000, firstOf(9), now), visit(10_000, firstOf(6), before)}
	return req
}

// Two visits give rates; between them only what nobody recorded is asked about, and
// an answer that was written down is not asked again.
func TestPlanRotationOfTwoVisits(t *testing.T) {
	h := inMemory(t)
	out := h.rotation(twoOf([4]float64{8, 8, 8, 8}, [4]float64{7, 7, 6, 6}))
	// Behind 2/32 in 4,000 miles, 4/32 left: 8,000; in front 1/32, 5/32 left: 20,000.
	if leave := planned(t, out, "leave"); leave.GetUntilFirstOut().GetMiles() != 8000 || leave.GetUntilSetOut().GetMiles() != 20000 || out.GetUnrecordedRotation() != nil {
		t.Errorf("%v, %v", leave, out.GetUnrecordedRotation())
	}
	swapped := twoOf([4]float64{5, 5, 9, 9}, [4]float64{8, 8, 5, 5})
	out = h.rotation(swapped)
	f := out.GetUnrecordedRotation()
	if f.GetCode() != "rotation.unrecorded" || !slices.Equal(f.GetPositions(), []string{"1L", "1R", "2L", "2R"}) || len(f.GetEvidence()) != 2 || scaffold.MatchString(f.GetForTechnician()) || f.GetToSettle().GetWords() == "" {
		t.Errorf("%v", f)
	}
	if p := planned(t, out, "leave"); p.GetUntilFirstOut() != nil || p.GetGain() != nil {
		t.Errorf("rates of tires in doubt: %v", p)
	}
	if !slices.ContainsFunc(out.GetAssessment().GetQuestions(), func(u *pb.Question) bool { return u.GetCode() == "ask.moved-unrecorded" }) {
		t.Error("not asked")
	}
	for name, answer := range map[string]func(*pb.PlanRotationRequest){
		"work at the visit": func(r *pb.PlanRotationRequest) {
			r.Visits[0].WorkDone = []*pb.WorkDone{{Kind: pb.WorkKind_WORK_KIND_TIRES_ROTATED}}
		},
		"work in between": func(r *pb.PlanRotationRequest) {
			r.WorkDone = []*pb.WorkDone{{Kind: pb.WorkKind_WORK_KIND_TIRES_ROTATED, Odometer: inMiles(12_000)}}
		},
		"work, not known when": func(r *pb.PlanRotationRequest) {
			r.WorkDone = []*pb.WorkDone{{Kind: pb.WorkKind_WORK_KIND_TIRES_ROTATED}}
		},
		"sets exchanged": func(r *pb.PlanRotationRequest) {
			r.WorkDone = []*pb.WorkDone{{Kind: pb.WorkKind_WORK_KIND_SEASON_CHANGED, Odometer: inMiles(10_000)}}
		},
		"moves": func(r *pb.PlanRotationRequest) {
			to := &pb.TirePlace{Where: &pb.TirePlace_Mounted{Mounted: &pb.MountedPlace{Position: "2L"}}}
			r.Moves = []*pb.TireMoves{{Id: newID(), Odometer: inMiles(11_000), Moves: []*pb.TireMove{{TireId: newID(), To: to}}}}
		},
	} {
		req := proto.CloneOf(swapped)
		answer(req)
		if out := h.rotation(req); out.GetUnrecordedRotation() != nil {
			t.Errorf("%s: asked again: %v", name, out.GetUnrecordedRotation())
		}
	}
	// Asked at the counter: nobody moved them, so that the losses count; somebody
	// did, or nobody knows, and they do not.
	for answer, want := range map[pb.Answer]struct{ found, rates bool }{
		pb.Answer_ANSWER_NO: {false, true}, pb.Answer_ANSWER_YES: {false, false}, pb.Answer_ANSWER_UNKNOWN: {true, false},
	} {
		req := proto.CloneOf(swapped)
		req.Visits[0].Conditions = &pb.Conditions{TiresMoved: answer}
		out := h.rotation(req)
		asked := slices.ContainsFunc(out.GetAssessment().GetQuestions(), func(u *pb.Question) bool { return u.GetCode() == "ask.moved-unrecorded" })
		if found, rates := out.GetUnrecordedRotation() != nil, planned(t, out, "leave").GetUntilFirstOut() != nil; asked || found != want.found || rates != want.rates {
			t.Errorf("%v: asked %v, found %v, with rates %v", answer, asked, found, rates)
		}
	}
	// An answer at an earlier visit is of the time before that one.
	later := proto.CloneOf(swapped)
	now := proto.CloneOf(later.GetVisits()[0])
	now.Odometer, now.LocalDate = inMiles(18_000), firstOf(12)
	later.Visits[0].Conditions = &pb.Conditions{TiresMoved: pb.Answer_ANSWER_YES}
	later.Visits = append(later.GetVisits(), now)
	if p := planned(t, h.rotation(later), "leave"); p.GetUntilFirstOut() != nil {
		t.Errorf("rates over tires that were moved: %v", p)
	}
	// An older rotation is no answer.
	req := proto.CloneOf(swapped)
	req.WorkDone = []*pb.WorkDone{{Kind: pb.WorkKind_WORK_KIND_TIRES_ROTATED, Odometer: inMiles(5_000)}}
	if h.rotation(req).GetUnrecordedRotation() == nil {
		t.Error("a rotation before both visits explains nothing")
	}
	// The tires' ids say that they moved: that is a record.
	req = proto.CloneOf(swapped)
	for i, w := range req.GetVisits()[1].GetWheels() {
		w.TireId = newID()
		req.GetVisits()[0].GetWheels()[(i+2)%4].TireId = w.GetTireId()
	}
	if out := h.rotation(req); out.GetUnrecordedRotation() != nil {
		t.Errorf("the ids tell it: %v", out.GetUnrecordedRotation())
	}
}

// Gains over each other plan, in miles and in days. Worked by hand: 4,000 miles in 92
// days; behind 2/32 in 4,000 miles, in front 1/32. Left, the rear is out at 2/32 in
// in 8,000 miles; by the rearward cross what is behind then has 5/32 to lose, in
// 10,000 miles: 2,000 miles or 46 days more.
func TestPlanRotationGains(t *testing.T) {
	h := inMemory(t)
	out := h.rotation(twoOf([4]float64{8, 8, 8, 8}, [4]float64{7, 7, 6, 6}))
	cross := planned(t, out, "rearward-cross")
	var over []string
	for _, g := range cross.GetGains() {
		over = append(over, g.GetOverMapId())
		back := gain(planned(t, out, g.GetOverMapId()), "rearward-cross")
		if back.GetDistance().GetMiles() != -g.GetDistance().GetMiles() || back.GetDays() != -g.GetDays() {
			t.Errorf("over %s: %v, the other way round %v", g.GetOverMapId(), g, back)
		}
	}
	var others []string
	for _, p := range out.GetPlans() {
		if p.GetMapId() != "rearward-cross" {
			others = append(others, p.GetMapId())
		}
	}
	if !slices.Equal(over, others) {
		t.Errorf("over %v, want %v", over, others)
	}
	g := gain(cross, "leave")
	if g.GetDistance().GetMiles() != 2000 || g.GetDays() != 46 || !proto.Equal(g.GetDistance(), cross.GetGain()) || !proto.Equal(g.GetLow(), cross.GetGainLow()) || !proto.Equal(g.GetHigh(), cross.GetGainHigh()) {
		t.Errorf("over leaving them: %v", g)
	}
	if g.GetLow() == nil || g.DaysLow == nil || g.GetDaysLow() > 46 || g.DaysHigh != nil && g.GetDaysHigh() < 46 {
		t.Errorf("the interval: %v", g)
	}
	undated := twoOf([4]float64{8, 8, 8, 8}, [4]float64{7, 7, 6, 6})
	for _, v := range undated.GetVisits() {
		v.LocalDate = nil
	}
	if g := gain(planned(t, h.rotation(undated), "rearward-cross"), "leave"); g.GetDistance().GetMiles() != 2000 || g.Days != nil || g.DaysLow != nil || g.DaysHigh != nil {
		t.Errorf("without days: %v", g)
	}
	if p := planned(t, h.rotation(twoOf([4]float64{5, 5, 9, 9}, [4]float64{8, 8, 5, 5})), "rearward-cross"); len(p.GetGains()) > 0 {
		t.Errorf("gains of tires in doubt: %v", p)
	}
}

func gain(p *pb.RotationPlan, over string) *pb.RotationGain {
	for _, g := range p.GetGains() {
		if g.GetOverMapId() == over {
			return g
		}
	}
	return nil
}

// The visit before this one is what today is compared with, not an older one.
func TestPlanRotationOfThreeVisits(t *testing.T) {
	req := twoOf([4]float64{8, 8, 5, 5}, [4]float64{8, 8, 4, 4})
	older := twoOf([4]float64{5, 5, 9, 9}, [4]float64{5, 5, 9, 9}).GetVisits()[1]
	older.Odometer, older.LocalDate = inMiles(7_000), firstOf(3)
	req.Visits = append(req.GetVisits(), older)
	for range 2 {
		if f := inMemory(t).rotation(req).GetUnrecordedRotation(); f != nil {
			t.Errorf("%v", f)
		}
		slices.Reverse(req.GetVisits())
	}
}

// A tire that ran elsewhere tells no rate of the place where it is now.
func TestPlanRotationOfMovedTires(t *testing.T) {
	req := rearDriven()
	moves := &pb.TireMoves{Id: newID(), Odometer: inMiles(6_000)}
	for i, w := range req.GetVisits()[0].GetWheels() {
		was := req.GetVisits()[0].GetWheels()[(i+2)%4].GetPosition()
		moves.Moves = append(moves.Moves, &pb.TireMove{TireId: w.GetTireId(), To: &pb.TirePlace{Where: &pb.TirePlace_Mounted{Mounted: &pb.MountedPlace{Position: w.GetPosition()}}}})
		req.GetTires()[i].Place = &pb.TirePlace{Where: &pb.TirePlace_Mounted{Mounted: &pb.MountedPlace{Position: was}}}
	}
	req.Moves = []*pb.TireMoves{moves}
	if p := planned(t, inMemory(t).rotation(req), "leave"); p.GetUntilFirstOut() != nil {
		t.Errorf("%v", p)
	}
}

// Visits may come in any order; without days the odometer tells the latest.
func TestPlanRotationOrder(t *testing.T) {
	h := inMemory(t)
	req := twoOf([4]float64{8, 8, 8, 8}, [4]float64{7, 7, 6, 6})
	want := h.rotation(req)
	slices.Reverse(req.GetVisits())
	if got := h.rotation(req); !proto.Equal(got, want) {
		t.Error("the order of the visits changes the answer")
	}
	for _, v := range req.GetVisits() {
		v.LocalDate = nil
	}
	if got := planned(t, h.rotation(req), "leave").GetUntilFirstOut().GetMiles(); got != 8000 {
		t.Errorf("without days: %v", got)
	}
}

// Distances are answered in the unit of the odometer.
func TestPlanRotationInKilometers(t *testing.T) {
	req := rearDriven()
	km := func(miles float64) *pb.Distance {
		return &pb.Distance{AsRead: &pb.Distance_Kilometers{Kilometers: miles * 1.609344}}
	}
	req.Visits[0].Odometer = km(10_000)
	out := inMemory(t).rotation(req)
	if got := planned(t, out, "leave").GetUntilFirstOut().GetKilometers(); got != 6437 || out.GetPlans()[0].GetMapId() != "rearward-cross" {
		t.Errorf("%v", out.GetPlans()[0])
	}
}

// A vehicle of another class leaves its tires, and the answer says what is not compared.
func TestPlanRotationOtherVehicles(t *testing.T) {
	for _, class := range []pb.VehicleClass{pb.VehicleClass_VEHICLE_CLASS_MOTORCYCLE, pb.VehicleClass_VEHICLE_CLASS_HEAVY, 99} {
		req := rearDriven()
		req.Vehicle.VehicleClass = class
		out := inMemory(t).rotation(req)
		said := slices.ContainsFunc(out.GetAssessment().GetNotJudged(), func(n *pb.NotJudged) bool { return n.GetCode() == "rotation.other-vehicle" && n.GetWords() != "" })
		if len(out.GetPlans()) != 1 || out.GetPlans()[0].GetMapId() != "leave" || !said {
			t.Errorf("%v: %v, %v", class, out.GetPlans(), out.GetAssessment().GetNotJudged())
		}
	}
}

// A dual rear has no map unless all six tires and wheels are told alike, the
// identification but its date among that (49 CFR 574.5).
func TestPlanRotationDuals(t *testing.T) {
	van := func() *pb.PlanRotationRequest {
		req := rearDriven()
		req.Vehicle.VehicleClass, req.Vehicle.Axles.Axles[1].Wheels = pb.VehicleClass_VEHICLE_CLASS_LIGHT_TRUCK, pb.AxleWheels_AXLE_WHEELS_DUAL
		req.Visits[0].Wheels, req.Tires = nil, nil
		for i, position := range []string{"1L", "1R", "2LI", "2LO", "2RI", "2RO"} {
			w := depths(position, 9, 9, 9)
			w.Sidewall = &pb.Sidewall{Marking: "LT235/80R17 E", Directional: pb.Answer_ANSWER_NO, Studded: pb.Answer_ANSWER_NO, Asymmetric: pb.Answer_ANSWER_NO,
				Identification: fmt.Sprintf("1AB C2DE FGH %02d25", 10+i)}
			w.Rim, w.WheelKind = "17x6.5J", pb.WheelKind_WHEEL_KIND_STEEL
			req.Visits[0].Wheels = append(req.Visits[0].Wheels, w)
		}
		return req
	}
	for name, row := range map[string]struct {
		change func(*pb.WheelReport)
		want   string
	}{
		"alike":              {func(*pb.WheelReport) {}, ""},
		"drive design":       {func(w *pb.WheelReport) { w.Sidewall.Identification = "1AB C2DE XYZ 1025" }, "told here"},
		"another size":       {func(w *pb.WheelReport) { w.Sidewall.Marking = "LT225/75R17 E" }, "Not all six"},
		"alloy":              {func(w *pb.WheelReport) { w.WheelKind = pb.WheelKind_WHEEL_KIND_ALLOY }, "Not all six"},
		"rim not read":       {func(w *pb.WheelReport) { w.Rim = "" }, "told here"},
		"another rim":        {func(w *pb.WheelReport) { w.Rim = "17x7J" }, "Not all six"},
		"identification not": {func(w *pb.WheelReport) { w.Sidewall.Identification = "" }, "told here"},
		"OUTSIDE":            {func(w *pb.WheelReport) { w.Sidewall.Asymmetric = pb.Answer_ANSWER_YES }, "OUTSIDE"},
	} {
		req := van()
		row.change(req.GetVisits()[0].GetWheels()[3])
		p := planned(t, inMemory(t).rotation(req), "six-tire-same-side")
		if (why(p) == "") != (row.want == "") || !strings.Contains(why(p), row.want) {
			t.Errorf("%s: %q, want %q", name, why(p), row.want)
		}
	}
	p := planned(t, inMemory(t).rotation(van()), "six-tire-same-side")
	if want := "Round on each side: LF→LRO (turned), RF→RRO (turned), LRI→LF, LRO→LRI (turned), RRI→RF, RRO→RRI (turned)."; p.GetWords() != want {
		t.Errorf("%q", p.GetWords())
	}
}

// A matching spare of the others' age takes part; its place is the label's own.
func TestPlanRotationSpare(t *testing.T) {
	req := rearDriven()
	req.JudgeBy = &pb.JudgeBy{AsOf: firstOf(6)}
	req.Vehicle.Spare = &pb.Spare{Kind: pb.SpareKind_SPARE_KIND_FULL_SIZE_MATCHING, ColdPressure: psi(44)}
	spare := depths("S", 5, 5, 5)
	spare.Sidewall = proto.CloneOf(req.GetVisits()[0].GetWheels()[0].GetSidewall())
	req.Visits[0].Wheels = append(req.Visits[0].Wheels, spare)
	for _, w := range req.GetVisits()[0].GetWheels() {
		w.Sidewall.Identification = "1025"
	}
	for i, read := range []float64{6, 6, 5, 5} {
		req.Visits[0].Wheels[i].Tread = depths("", read, read, read).Tread
	}
	p := planned(t, inMemory(t).rotation(req), "five-tire-rearward-cross")
	if why(p) != "" || len(p.GetChanges()) != 5 || !strings.Contains(p.GetWords(), "SP→RR") || len(p.GetWork()[len(p.GetWork())-1].GetPositions()) != 4 {
		t.Errorf("%v", p)
	}
	spare.Sidewall.Identification = "1020"
	if p := planned(t, inMemory(t).rotation(req), "five-tire-rearward-cross"); !strings.Contains(why(p), "older") {
		t.Errorf("%q", why(p))
	}
	req.Vehicle.Spare.Kind = pb.SpareKind_SPARE_KIND_COMPACT
	if p := planned(t, inMemory(t).rotation(req), "five-tire-rearward-cross"); !strings.Contains(why(p), "does not match") {
		t.Errorf("%q", why(p))
	}
}

// A request that cannot be judged says why, by the names of its own fields.
func TestPlanRotationProblems(t *testing.T) {
	for name, row := range map[string]struct {
		change func(*pb.PlanRotationRequest)
		paths  []string
	}{
		"nothing":             {func(r *pb.PlanRotationRequest) { proto.Reset(r) }, []string{"vehicle", "visits"}},
		"no visit":            {func(r *pb.PlanRotationRequest) { r.Visits = nil }, []string{"visits"}},
		"an empty visit":      {func(r *pb.PlanRotationRequest) { r.Visits = []*pb.Inspection{{}} }, []string{"visits[0]"}},
		"which is the latest": {func(r *pb.PlanRotationRequest) { r.Visits[0].LocalDate, r.Visits[1].Odometer = nil, nil }, []string{"visits[0].localDate"}},
		"a negative depth":    {func(r *pb.PlanRotationRequest) { r.Visits[0].Wheels[1].Tread[2].Depth = thirtySeconds(-3) }, []string{"visits[0].wheels[1].tread[2].depth"}},
		"no such wheel":       {func(r *pb.PlanRotationRequest) { r.Visits[0].Wheels[0].Position = "3L" }, []string{"visits[0].wheels[0].position"}},
		"an old wheel":        {func(r *pb.PlanRotationRequest) { r.Visits[1].Wheels[0].Position = "2LO" }, nil},
		"no such rulebook":    {func(r *pb.PlanRotationRequest) { r.JudgeBy = &pb.JudgeBy{RulebookIds: []string{"us-light", "us-lite"}} }, []string{"judgeBy.rulebookIds[1]"}},
		"a rulebook twice": {func(r *pb.PlanRotationRequest) {
			r.JudgeBy = &pb.JudgeBy{RulebookIds: []string{"us-light", "us-light"}}
		}, []string{"judgeBy.rulebookIds[1]"}},
		"judged before": {func(r *pb.PlanRotationRequest) { r.JudgeBy = &pb.JudgeBy{AsOf: firstOf(7)} }, []string{"visits[0].localDate"}},
		"one id":        {func(r *pb.PlanRotationRequest) { r.Visits[0].Id = newID(); r.Visits[1].Id = r.Visits[0].Id }, []string{"visits[1].id"}},
		"a tire twice": {func(r *pb.PlanRotationRequest) {
			r.Tires = []*pb.Tire{{Id: r.Vehicle.Id}, {Id: newID()}}
			r.Tires[0].Id = r.Tires[1].Id
		}, []string{"tires[1].id"}},
		"too many": {func(r *pb.PlanRotationRequest) { r.Visits = slices.Repeat(r.Visits[:1], 102) }, []string{"visits"}},
	} {
		req := twoOf([4]float64{8, 8, 8, 8}, [4]float64{7, 7, 6, 6})
		row.change(req)
		_, err := pb.NewCalculatorServiceClient(inMemory(t).conn).PlanRotation(t.Context(), req)
		if row.paths == nil {
			if err != nil {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		if r := read(t, err); r.reason != "FIELD_INVALID" || !slices.Equal(r.paths, row.paths) {
			t.Errorf("%s: %s, %v, want %v", name, r.reason, r.paths, row.paths)
		}
	}
}
