package judge_test

import (
	"context"
	"fmt"
	"log/slog"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/api"
	"gaugebook.dev/server/book"
	"gaugebook.dev/server/check"
	"gaugebook.dev/server/history/memory"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/translate"
)

// full reads all of an answer.
var full = &pb.Reader{Language: "en", View: pb.View_VIEW_FULL}

// answered is a call of the calculator whose answer is of the type A.
func answered[R, A proto.Message](of func(context.Context, R) (A, error)) func(proto.Message) (proto.Message, error) {
	return func(m proto.Message) (proto.Message, error) {
		out, err := of(context.Background(), m.(R))
		return out, err
	}
}

// echoes are fields of answers that say again what was sent.
var echoes = map[protoreflect.Name]bool{"told": true, "governing_depth": true}

// means is what counts of an answer: its judgement as meaning tells, and what it works
// out beside.
func means(m proto.Message) string {
	var all []string
	r := m.ProtoReflect()
	for i := range r.Descriptor().Fields().Len() {
		fd := r.Descriptor().Fields().Get(i)
		switch {
		case echoes[fd.Name()] || !r.Has(fd):
		case fd.Name() == "assessment":
			all = append(all, meaning(r.Get(fd).Message().Interface().(*pb.Assessment)))
		default:
			one := r.New()
			one.Set(fd, r.Get(fd))
			all = append(all, fmt.Sprintf("%s %q", fd.Name(), wire(one.Interface())))
		}
	}
	return strings.Join(all, "\n")
}

// door is a call that is judged by, with requests made of visits.
type door struct {
	judging
	of      protoreflect.MessageDescriptor // what is sent, field by field
	names   func(proto.Message) []*pb.NotJudged
	unasked map[protoreflect.FullName]bool // fields that tell of other questions
}

// calculator is a call of the calculator: how it is made, and made of a visit, and what
// no visit tells it.
type calculator struct {
	asks func(proto.Message) (proto.Message, error)
	make func(*pb.AssessVisitRequest) []proto.Message
	made []proto.Message
}

// spread is so many of a list, from its beginning to its end.
func spread[T any](all []T, most int) (some []T) {
	for i := range min(most, len(all)) {
		some = append(some, all[i*len(all)/min(most, len(all))])
	}
	return some
}

// covering are the first few of a list that tell each field, however many tell it.
func covering(all []proto.Message) (some []proto.Message) {
	const few = 6
	told := map[protoreflect.FullName]int{}
	for _, m := range all {
		fields := map[protoreflect.FullName]bool{}
		eachMessage(m.ProtoReflect(), func(in protoreflect.Message) bool {
			in.Range(func(fd protoreflect.FieldDescriptor, _ protoreflect.Value) bool {
				fields[fd.FullName()] = true
				return true
			})
			return true
		})
		rare := false
		for f := range fields {
			told[f]++
			rare = rare || told[f] <= few
		}
		if rare {
			some = append(some, m)
		}
	}
	return some
}

// tried are the doors, made once.
var tried map[string]door

// doors are the calls that are judged by, at once or through the next visit, by name.
func doors(t *testing.T) map[string]door {
	t.Helper()
	if tried != nil {
		return tried
	}
	s := api.New(book.New(memory.New(), judge.For(judge.NoneOwn), time.Now), nil, api.About{}, slog.New(slog.DiscardHandler))
	vehicle := recorded(t)
	vehicle.of = (&pb.Vehicle{}).ProtoReflect().Descriptor()
	inspection := vehicle
	inspection.of = (&pb.Inspection{}).ProtoReflect().Descriptor()
	all := map[string]door{"RecordVehicle": vehicle, "RecordInspection": inspection}
	for name, c := range map[string]calculator{
		"AssessTread":       {answered(s.AssessTread), treadsOf, madeTreads},
		"CalculatePressure": {answered(s.CalculatePressure), pressuresOf, madePressures},
		"AssessRepair":      {answered(s.AssessRepair), repairsOf, madeRepairs},
		"ReadSidewall":      {answered(s.ReadSidewall), sidewallsOf, nil},
		"CheckFitment":      {answered(s.CheckFitment), fitmentsOf, nil},
		"EstimateLife":      {answered(s.EstimateLife), livesOf, madeLives},
		"PlanRotation":      {answered(s.PlanRotation), rotationsOf, nil},
	} {
		all[name] = c.door(t)
	}
	tried = all
	return all
}

// door tries the calculator with what was made for it, then with what visits tell, as
// they are and with room for more.
func (c calculator) door(t *testing.T) (d door) {
	d.says = func(m proto.Message) (string, bool) {
		out, err := c.asks(m)
		if err != nil {
			return "", false
		}
		return means(out), true
	}
	d.names = func(m proto.Message) []*pb.NotJudged {
		out, err := c.asks(m)
		if err != nil {
			return nil
		}
		switch out := out.(type) {
		case interface{ GetNotJudged() []*pb.NotJudged }:
			return out.GetNotJudged()
		case interface{ GetAssessment() *pb.Assessment }:
			return out.GetAssessment().GetNotJudged()
		}
		return nil
	}
	var asked []proto.Message
	for _, v := range toldVisits(t) {
		asked = append(asked, c.make(v)...)
	}
	d.bases = slices.Concat(c.made, covering(asked), spread(asked, 3000))
	d.of = d.bases[0].ProtoReflect().Descriptor()
	d.unasked, d.most = translate.Unasked(d.of.FullName()), 4*mostTried // one tire is quickly judged
	return d
}

// madeTreads are a worn tire with a valve of which all is told, and one with two holes.
var madeTreads = []proto.Message{&pb.AssessTreadRequest{
	Wheel: &pb.WheelReport{
		Position: "1L", Tread: []*pb.TreadReading{{Depth: depthOf(8)}}, Sidewall: &pb.Sidewall{Marking: "P215/60R16 94T"},
		Observations: []*pb.Observation{{Kind: pb.ObservationKind_OBSERVATION_KIND_INJURY, Injury: &pb.Injury{
			Place: &pb.Place{Part: pb.TirePart_TIRE_PART_CROWN}, Size: millimetersOf(3), SizeAfterPreparing: millimetersOf(4), AngleDegrees: new(0.0),
			BetweenOuterGrooves: pb.Answer_ANSWER_YES, ReachesThrough: pb.Answer_ANSWER_YES, OverlapsEarlierRepair: pb.Answer_ANSWER_NO, HoldsAir: pb.Answer_ANSWER_YES,
			UnitWidth: millimetersOf(60), NearestOther: millimetersOf(500),
		}}},
	},
	VehicleClass: pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR, Reader: full,
}, &pb.AssessTreadRequest{
	Wheel: &pb.WheelReport{
		Position: "1L", Tread: []*pb.TreadReading{{Depth: depthOf(0.5)}}, Sidewall: &pb.Sidewall{Marking: "P215/60R16 94T"},
		Valve: &pb.Valve{Kind: pb.ValveKind_VALVE_KIND_SENSOR_CLAMP_IN, Stem: pb.ValveMetal_VALVE_METAL_ALUMINUM, Core: pb.ValveMetal_VALVE_METAL_BRASS},
	},
	VehicleClass: pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR, Reader: full,
}}

// madePressures are one of a dual pair, a tire that is no winter tire in an Austrian winter,
// and flat tires of vehicles whose use decides which law binds.
var madePressures = []proto.Message{
	&pb.CalculatePressureRequest{
		Measured: inPsi(33), LabelCold: inPsi(33), VehicleClass: pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR, Use: &pb.VehicleUse{DrivenIn: []*pb.Jurisdiction{{Country: "AT"}}},
		Sidewall: &pb.Sidewall{Marking: "P215/60R16 94T", ThreePeakSnowflake: pb.Answer_ANSWER_NO, MudAndSnow: pb.Answer_ANSWER_NO, Studded: pb.Answer_ANSWER_NO},
		JudgeBy:  &pb.JudgeBy{AsOf: &pb.CalendarDate{Year: 2026, Month: 1, Day: 10}}, Reader: full,
	},
	&pb.CalculatePressureRequest{
		Measured: inPsi(98), LabelCold: inPsi(100), Gauges: []*pb.Gauge{{Resolution: &pb.Gauge_Pressure{Pressure: inPsi(1)}}, {Resolution: &pb.Gauge_Length{Length: millimetersOf(1)}}}, VehicleClass: pb.VehicleClass_VEHICLE_CLASS_HEAVY, Dual: pb.Answer_ANSWER_YES, Reader: full,
		Sidewall: &pb.Sidewall{Marking: "11R22.5", LoadRange: "G", MaximumLoadDual: poundsOf(5840), MaximumLoad: poundsOf(6175), MaximumPressure: inPsi(105)},
	},
	&pb.CalculatePressureRequest{
		Measured: inPsi(0), LabelCold: inPsi(100), VehicleClass: pb.VehicleClass_VEHICLE_CLASS_BUS, GrossRating: poundsOf(9900), Reader: full,
		Use: inStates(&pb.VehicleUse{Seats: new(int32(12)), ForHire: pb.Answer_ANSWER_YES}),
	},
	&pb.CalculatePressureRequest{
		Measured: inPsi(0), LabelCold: inPsi(80), VehicleClass: pb.VehicleClass_VEHICLE_CLASS_LIGHT_TRUCK, GrossRating: poundsOf(9900), Reader: full,
		Use: inStates(&pb.VehicleUse{Tows: pb.Answer_ANSWER_YES}),
	},
}

// madeRepairs are a nail hole of which all is told but the inside, the same in a tire of a
// known age, and a small bus for hire.
var madeRepairs = []proto.Message{
	&pb.AssessRepairRequest{
		Injuries: []*pb.Injury{{
			Place: &pb.Place{Part: pb.TirePart_TIRE_PART_CROWN}, Size: millimetersOf(3), SizeAfterPreparing: millimetersOf(4), AngleDegrees: new(0.0),
			BetweenOuterGrooves: pb.Answer_ANSWER_YES, ReachesThrough: pb.Answer_ANSWER_YES, OverlapsEarlierRepair: pb.Answer_ANSWER_NO, HoldsAir: pb.Answer_ANSWER_YES,
		}},
		Sidewall: &pb.Sidewall{Marking: "P215/60R16 94T"}, LowestDepth: depthOf(8), VehicleClass: pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR,
		Looked: []*pb.Looked{{What: pb.LookedAt_LOOKED_AT_INSIDE_OF_TIRE, Looked: &pb.Looked_NotBecause{NotBecause: pb.NotLookedReason_NOT_LOOKED_REASON_NOT_REMOVED}}}, Found: []*pb.PressureReading{{Pressure: inPsi(33)}}, LabelCold: inPsi(33),
		DrivenLow: &pb.DrivenLow{Driven: pb.Answer_ANSWER_NO}, MakerPolicy: &pb.TireMakerPolicy{RepairPermitted: pb.Answer_ANSWER_YES}, Reader: full,
	},
	&pb.AssessRepairRequest{
		Injuries: []*pb.Injury{{}}, Sidewall: &pb.Sidewall{Marking: "P215/60R16 94T", Identification: "3B9X 4C2A1 2518"},
		MakerPolicy: &pb.TireMakerPolicy{ReplaceAfterYears: new(int32(10))}, JudgeBy: &pb.JudgeBy{AsOf: &pb.CalendarDate{Year: 2026, Month: 3, Day: 2}}, Reader: full,
	},
	&pb.AssessRepairRequest{
		Injuries: []*pb.Injury{{}}, LowestDepth: depthOf(1), VehicleClass: pb.VehicleClass_VEHICLE_CLASS_BUS, GrossRating: poundsOf(9900), Reader: full,
		Use: inStates(&pb.VehicleUse{Seats: new(int32(12)), ForHire: pb.Answer_ANSWER_YES}),
	},
}

// madeLives is a life by two gauges, one of which the estimate has no use for.
var madeLives = []proto.Message{&pb.EstimateLifeRequest{
	Depths: []*pb.MeasuredDepth{{Distance: milesOf(10_000), Depth: depthOf(10)}, {Distance: milesOf(20_000), Depth: depthOf(8)}},
	Limits: []*pb.Depth{depthOf(2)}, Gauges: []*pb.Gauge{{Resolution: &pb.Gauge_Depth{Depth: depthOf(0.5)}}, {Resolution: &pb.Gauge_Length{Length: millimetersOf(1)}}}, Reader: full,
}}

func inStates(use *pb.VehicleUse) *pb.VehicleUse {
	use.DrivenIn, use.BusinessAcrossStateLines = []*pb.Jurisdiction{{Country: "US", State: "CA"}}, pb.Answer_ANSWER_YES
	return use
}

func inPsi(n float64) *pb.Pressure { return &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: n}} }
func poundsOf(n float64) *pb.Mass  { return &pb.Mass{AsRead: &pb.Mass_Pounds{Pounds: n}} }
func milesOf(n float64) *pb.Distance {
	return &pb.Distance{AsRead: &pb.Distance_Miles{Miles: n}}
}
func millimetersOf(n float64) *pb.Length {
	return &pb.Length{AsRead: &pb.Length_Millimeters{Millimeters: n}}
}
func depthOf(n float64) *pb.Depth {
	return &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: n}}
}

func treadsOf(v *pb.AssessVisitRequest) (all []proto.Message) {
	in := v.GetInspection()
	for i, w := range in.GetWheels() {
		req := &pb.AssessTreadRequest{
			Wheel: w, Gauges: in.GetGauges(), VehicleClass: v.GetVehicle().GetVehicleClass(), Use: v.GetVehicle().GetUse(), GrossRating: v.GetVehicle().GetGrossRating(),
			SnowSlushOrIce: in.GetConditions().GetSnowSlushOrIce(), JudgeBy: v.GetJudgeBy(), Reader: full,
		}
		if i%2 == 0 {
			req.DepthWhenNew = &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: 12}}
		}
		all = append(all, proto.CloneOf(req))
	}
	return all
}

func pressuresOf(v *pb.AssessVisitRequest) (all []proto.Message) {
	in := v.GetInspection()
	for _, w := range in.GetWheels() {
		for _, p := range w.GetPressures() {
			all = append(all, proto.CloneOf(&pb.CalculatePressureRequest{
				Measured: p.GetPressure(), TireTemperature: p.GetTireTemperature(), TemperatureSource: p.GetSource(), Conditions: in.GetConditions(), Gauges: in.GetGauges(),
				LabelCold: labelOf(v), Sidewall: w.GetSidewall(), VehicleClass: v.GetVehicle().GetVehicleClass(), Use: v.GetVehicle().GetUse(),
				GrossRating: v.GetVehicle().GetGrossRating(), JudgeBy: v.GetJudgeBy(), Reader: full,
			}))
		}
	}
	return all
}

func labelOf(v *pb.AssessVisitRequest) *pb.Pressure {
	for _, a := range v.GetVehicle().GetAxles().GetAxles() {
		return a.GetColdNormalLoad()
	}
	return nil
}

func repairsOf(v *pb.AssessVisitRequest) (all []proto.Message) {
	in := v.GetInspection()
	for _, w := range in.GetWheels() {
		req := &pb.AssessRepairRequest{
			Sidewall: w.GetSidewall(), Looked: w.GetLooked(), Found: w.GetPressures(), DrivenLow: w.GetDrivenLow(), Gauges: in.GetGauges(),
			VehicleClass: v.GetVehicle().GetVehicleClass(), Use: v.GetVehicle().GetUse(), GrossRating: v.GetVehicle().GetGrossRating(),
			LabelCold: labelOf(v), JudgeBy: v.GetJudgeBy(), Reader: full,
		}
		for _, o := range w.GetObservations() {
			if o.GetInjury() != nil && o.GetKind() == pb.ObservationKind_OBSERVATION_KIND_INJURY {
				req.Injuries = append(req.Injuries, o.GetInjury())
			} else {
				req.Observations = append(req.Observations, o)
			}
		}
		if len(w.GetTread()) > 0 {
			req.LowestDepth = w.GetTread()[0].GetDepth()
		}
		for _, tire := range v.GetTires() {
			if tire.GetId() == w.GetTireId() {
				req.MakerPolicy = tire.GetMakerPolicy()
			}
		}
		for _, r := range v.GetRepairs() {
			if r.GetTireId() == w.GetTireId() {
				req.Earlier = append(req.Earlier, r)
			}
		}
		if len(w.GetObservations())+len(w.GetLooked()) > 0 {
			all = append(all, proto.CloneOf(req))
		}
	}
	return all
}

func sidewallsOf(v *pb.AssessVisitRequest) (all []proto.Message) {
	for _, w := range v.GetInspection().GetWheels() {
		if w.GetSidewall() != nil {
			all = append(all, proto.CloneOf(&pb.ReadSidewallRequest{Sidewall: w.GetSidewall(), AsOf: v.GetInspection().GetLocalDate(), Reader: full}))
		}
	}
	return all
}

func fitmentsOf(v *pb.AssessVisitRequest) []proto.Message {
	in := v.GetInspection()
	return []proto.Message{proto.CloneOf(&pb.CheckFitmentRequest{
		Vehicle: v.GetVehicle(), Wheels: in.GetWheels(), AxleWeights: in.GetAxleWeights(), Gauges: in.GetGauges(),
		SnowSlushOrIce: in.GetConditions().GetSnowSlushOrIce(), TireSpeedShown: in.GetConditions().GetTireSpeedShown(), JudgeBy: v.GetJudgeBy(), Reader: full,
	})}
}

func livesOf(v *pb.AssessVisitRequest) (all []proto.Message) {
	in := v.GetInspection()
	for i, w := range in.GetWheels() {
		req := &pb.EstimateLifeRequest{Gauges: in.GetGauges(), Reader: full, Limits: []*pb.Depth{{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: 2}}}}
		add := func(in *pb.Inspection, w *pb.WheelReport) {
			if len(w.GetTread()) > 0 && in.GetOdometer() != nil {
				req.Depths = append(req.Depths, &pb.MeasuredDepth{Distance: in.GetOdometer(), Depth: w.GetTread()[0].GetDepth(), Date: in.GetLocalDate()})
			}
		}
		add(in, w)
		for _, e := range v.GetEarlier() {
			for _, then := range e.GetWheels() {
				if then.GetPosition() == w.GetPosition() {
					add(e, then)
				}
			}
		}
		if i%2 == 0 {
			req.PerDay = &pb.Distance{AsRead: &pb.Distance_Miles{Miles: 30}}
		}
		all = append(all, proto.CloneOf(req))
	}
	return all
}

func rotationsOf(v *pb.AssessVisitRequest) []proto.Message {
	req := &pb.PlanRotationRequest{
		Vehicle: v.GetVehicle(), Visits: append([]*pb.Inspection{v.GetInspection()}, v.GetEarlier()...), Moves: v.GetMoves(), Tires: v.GetTires(),
		WorkDone: v.GetWorkDone(), JudgeBy: v.GetJudgeBy(), Reader: full,
	}
	return []proto.Message{proto.CloneOf(req)}
}

// recorded are vehicles that are recorded, and then their visits, one after the other,
// of which the last one's answer counts.
func recorded(t *testing.T) (d door) {
	t.Helper()
	ask := func(m proto.Message) (*pb.Assessment, error) {
		req := m.(*pb.AssessVisitRequest)
		ctx, s := context.Background(), api.New(book.New(memory.New(), judge.For(judge.NoneOwn), time.Now), nil, api.About{}, slog.New(slog.DiscardHandler))
		if _, err := s.RecordVehicle(ctx, &pb.RecordVehicleRequest{ShopId: "north", Vehicle: req.GetVehicle()}); err != nil {
			return nil, err
		}
		var out *pb.RecordInspectionResponse
		for _, in := range slices.Concat(req.GetEarlier(), []*pb.Inspection{req.GetInspection()}) {
			var err error
			if out, err = s.RecordInspection(ctx, &pb.RecordInspectionRequest{ShopId: "north", Inspection: in, Reader: full}); err != nil {
				return nil, err
			}
		}
		return out.GetAssessment(), nil
	}
	d.says = func(m proto.Message) (string, bool) {
		a, err := ask(m)
		if err != nil {
			return "", false
		}
		return meaning(a), true
	}
	d.names = func(m proto.Message) []*pb.NotJudged {
		a, err := ask(m)
		if err != nil {
			return nil
		}
		return a.GetNotJudged()
	}
	asked := []*pb.AssessVisitRequest{overdue()}
	for _, v := range toldVisits(t) {
		if v.GetVehicle() != nil {
			asked = append(asked, v)
		}
	}
	for _, v := range asked {
		if req := forTheBook(v); len(check.AssessVisit(req)) == 0 {
			d.bases = append(d.bases, req)
		}
	}
	d.bases = append(d.bases, corrected())
	return d
}

// forTheBook is a visit with its vehicle and earlier visits under ids of its own.
func forTheBook(v *pb.AssessVisitRequest) *pb.AssessVisitRequest {
	req := proto.CloneOf(&pb.AssessVisitRequest{Vehicle: v.GetVehicle(), Inspection: v.GetInspection(), Earlier: v.GetEarlier()})
	req.Vehicle.Id, req.Vehicle.Revision = bookID(1), ""
	for i, in := range slices.Concat([]*pb.Inspection{req.GetInspection()}, req.GetEarlier()) {
		in.Id, in.VehicleId, in.Corrects = bookID(9+i), bookID(1), nil
		for _, w := range in.GetWheels() {
			w.TireId = ""
		}
	}
	return req
}

func bookID(n int) string { return fmt.Sprintf("00000000-0000-4000-8000-%012x", n) }

// corrected is a visit that corrects the second of two before it.
func corrected() *pb.AssessVisitRequest {
	v := overdue()
	v.Earlier = append(v.GetEarlier(), proto.CloneOf(v.GetInspection()))
	req := forTheBook(v)
	req.Inspection.Corrects = &pb.Correction{InspectionId: req.GetEarlier()[1].GetId(), Reason: "wrong wheel"}
	return req
}

// overdue is an invented car whose front tires wear faster and stayed where they are
// for 10,000 miles.
func overdue() *pb.AssessVisitRequest {
	visit := func(month int32, at, front, rear float64) *pb.Inspection {
		in := &pb.Inspection{Odometer: milesOf(at), LocalDate: &pb.CalendarDate{Year: 2026, Month: month, Day: 2}}
		for _, p := range []string{"1L", "1R", "2L", "2R"} {
			depth := front
			if p[0] == '2' {
				depth = rear
			}
			w := &pb.WheelReport{Position: p, Sidewall: &pb.Sidewall{Marking: "P215/60R16 94T", Directional: pb.Answer_ANSWER_NO, Studded: pb.Answer_ANSWER_NO}}
			for _, across := range []pb.Across{pb.Across_ACROSS_INBOARD, pb.Across_ACROSS_CENTER, pb.Across_ACROSS_OUTBOARD} {
				w.Tread = append(w.Tread, &pb.TreadReading{Place: &pb.Place{Across: across}, Depth: depthOf(depth)})
			}
			in.Wheels = append(in.Wheels, w)
		}
		return in
	}
	axle := &pb.Axle{Size: "P215/60R16 94T", ColdNormalLoad: inPsi(33)}
	rotated := visit(3, 10_000, 10, 10)
	rotated.WorkDone = []*pb.WorkDone{{Kind: pb.WorkKind_WORK_KIND_TIRES_ROTATED, Positions: []string{"1L", "1R", "2L", "2R"}}}
	return &pb.AssessVisitRequest{
		Vehicle: &pb.Vehicle{
			VehicleClass: pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR, Drive: pb.Drive_DRIVE_FRONT, Axles: &pb.Axles{Axles: []*pb.Axle{axle, axle}},
			MakerFigures: &pb.VehicleMakerFigures{RotationInterval: milesOf(7500)},
		},
		Earlier: []*pb.Inspection{rotated}, Inspection: visit(10, 20_000, 6, 8),
	}
}

// ofTheBook are the calls that record what the book alone makes something of, with where
// that is tried.
var ofTheBook = map[string]string{
	"RecordEvent":   "an odometer that was replaced is told from the new one: server/book/between_test.go",
	"RecordOutcome": "what became of a finding closes it: server/book/outcome_test.go",
	"RecordRepair":  "a repair enters what is judged later: server/book",
	"RecordTire":    "its tire is one of AssessVisit's: TestEveryFieldCounts",
	"MoveTires":     "its moves are of AssessVisit's: TestEveryFieldCounts",
}

// inBook are fields that count through more visits than these doors record.
var inBook = map[string]string{
	"RecordInspection TorqueRecheck.towed": "a trailer's re-checks, in inbook_test.go",
}

// TestEveryCallThatJudgesIsTried: of what is served, each call that judges what it is
// sent, at once or through the next visit.
func TestEveryCallThatJudgesIsTried(t *testing.T) {
	all := doors(t)
	for _, name := range api.Served() {
		call := name[strings.LastIndexByte(name, '.')+1:]
		judges := strings.Contains(name, ".CalculatorService.") || strings.HasPrefix(call, "Record") || call == "MoveTires"
		if _, tried := all[call]; judges && !tried && ofTheBook[call] == "" && call != "AssessVisit" { // AssessVisit: TestEveryFieldCounts
			t.Errorf("%s: no test asks what of it counts", call)
		}
	}
}

// TestEveryFieldOfEveryCallCounts: what a call that judges is told changes what it
// answers, or the next visit's answer where it is recorded; or it is named, or exempt.
func TestEveryFieldOfEveryCallCounts(t *testing.T) {
	all, h := doors(t), hintsOf(t)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		d := all[name]
		for _, fd := range fieldsOf(d.of, "reader") {
			_, is := exempt[shortName(fd)]
			_, only := translate.Recorded()[fd.FullName()]
			if is && d.unasked[fd.FullName()] {
				t.Errorf("%s: %s is no part of it, and exempt", name, shortName(fd))
			}
			if is || only || d.unasked[fd.FullName()] {
				continue
			}
			how, tried := d.counts(fd, name+" "+shortName(fd), h)
			if testing.Verbose() {
				t.Log(name, shortName(fd), tried, how)
			}
			if how == "" && inBook[name+" "+shortName(fd)] == "" {
				t.Errorf("%s: %s: set or not, the answer is the same (%d tried)", name, shortName(fd), tried)
			}
		}
	}
}

// TestWhatACallDoesNotJudgeIsNamed: a field that a call does not judge is named in its
// answer whenever it is set: by what is recorded only, or as no part of the question.
func TestWhatACallDoesNotJudgeIsNamed(t *testing.T) {
	all := doors(t)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		d := all[name]
		for _, fd := range fieldsOf(d.of, "reader", "earlier") {
			code, only := translate.Recorded()[fd.FullName()]
			if d.unasked[fd.FullName()] {
				code, only = finding.RecordedNotAsked, true
			}
			if !only {
				continue
			}
			if set := d.named(t, name, fd, string(code)); set == 0 {
				t.Errorf("%s: %s is set by no request", name, shortName(fd))
			}
		}
	}
}

// named sets a field in some requests and demands that the answer names it.
func (d door) named(t *testing.T, name string, fd protoreflect.FieldDescriptor, code string) (set int) {
	t.Helper()
	for k, req := range d.bases {
		if set > 4 {
			return set
		}
		req = latest(proto.Clone(req))
		at := spots(req, fd)
		if len(at) == 0 {
			continue
		}
		s := at[(len(at)-1+k)%len(at)]
		if !slices.ContainsFunc(values(s.in, fd), func(v protoreflect.Value) bool {
			undo := put(s, v)
			_, takes := d.says(req)
			if takes = takes && s.in.Has(fd); !takes {
				undo()
			}
			return takes
		}) {
			continue
		}
		set++
		if !slices.ContainsFunc(d.names(req), func(n *pb.NotJudged) bool {
			last := func(path string) bool { return path[strings.LastIndexByte(path, '.')+1:] == fd.JSONName() }
			return n.GetCode() == code && (code != string(finding.RecordedNotAsked) || slices.ContainsFunc(n.GetFields(), last))
		}) {
			t.Errorf("%s: %s is set, and %s is not named", name, shortName(fd), code)
			return set
		}
	}
	return set
}

// latest is a request without visits before the one that is judged: they named theirs.
func latest(req proto.Message) proto.Message {
	switch req := req.(type) {
	case *pb.AssessVisitRequest:
		req.Earlier = nil
	case *pb.PlanRotationRequest:
		req.Visits = req.GetVisits()[:1]
	}
	return req
}
