package judge_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"
	"pgregory.net/rapid"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/judge"
)

// chain is what comes after what on one wheel (common practice): a line of a later
// row never stands before one of an earlier row. Within a row the order is free.
var chain = [][]string{
	{"vehicle.hold", "vehicle.chock", "air.none", "object.leave-in", "load.reduce", "sealant.ask-first"},
	{"measure.again", "measure.to-settle", "air.read-cold"},
	{"consent.look"},
	{"fasteners.find-key", "fasteners.look"},
	{"axle.stand"},
	{"air.deflate-first"},
	{"wheel.take-off"},
	{"wheel.look-while-off", "fasteners.put-right", "fasteners.renew-with-neighbors", "fasteners.renew-all", "wheel.clear-space"},
	{"tire.look-all-round", "tire.look-closely", "air.find-leak"},
	{"tire.demount-inspect", "object.remove-and-soap"},
	{"repair.find-out", "tire.replace-if-below", "tires.one-or-two", "tires.one-or-two-to-rear"},
	{"refer.steering-suspension", "refer.brakes-hub"},
	{"consent.mend"},
	{"repair.after-inspection", "repair.combination", "repair.two-piece", "repair.refer-section", "tire.replace", "tires.replace-pair",
		"tires.fit-winter", "tires.fit-right", "tires.match-set", "tires.match-axle", "wheel.replace", "wheel.clean-bead-seat", "tire.remount"},
	{"valve.renew", "sensor.renew"},
	{"tire.steer-axle-rules", "tire.check-new"},
	{"tires.deeper-pair-to-rear", "wheels.swap-sides", "spare.mend-carrier", "spare.set", "spare.renew", "spare.put-back", "tire.reuse-elsewhere", "tires.rotate"},
	{"tire.mount"},
	{"tire.restraining-device", "tire.fill-in-device", "tire.fill-guarded", "tire.fill-by-shop"},
	{"air.set", "air.set-for-size", "rotation.set-pressures", "air.match-mates", "air.lower-cold", "dual.match"},
	{"tire.soap"},
	{"wheel.balance"},
	{"wheel.mating-faces"},
	{"wheel.hang"},
	{"wheel.torque", "wheel.torque-check"},
	{"air.compare-mate"},
	{"sensor.relearn", "sensor.reset", "sensor.check"},
	{"lamp.check"},
	{"alignment.check"},
	{"road.test"},
	{"rotation.check-arrows", "speed.label", "record.as-left", "record.registration", "record.scrap"},
	{"customer.tell"},
	{"owed.torque-recheck", "owed.torque-recheck-trailer", "owed.cold-pressure"},
}

func linkOf(code string) int {
	return slices.IndexFunc(chain, func(codes []string) bool { return slices.Contains(codes, code) })
}

// Lines that take a wheel off its hub, lines that take a tire off its wheel, and lines
// that bring a tire to another place (common practice).
var (
	takesTireOff = []string{"tire.demount-inspect", "repair.combination", "repair.two-piece", "repair.refer-section", "tire.replace", "tires.replace-pair",
		"tires.fit-winter", "tires.fit-right", "tires.match-set", "tires.match-axle", "dual.match", "tire.replace-if-below", "tire.remount", "valve.renew", "wheel.replace", "wheel.clean-bead-seat"}
	takesWheelOff = append([]string{"fasteners.put-right", "fasteners.renew-with-neighbors", "fasteners.renew-all", "wheel.clear-space",
		"tires.deeper-pair-to-rear", "wheels.swap-sides", "spare.put-back", "tires.rotate", "refer.brakes-hub"}, takesTireOff...)
	changesPlaces = []string{"tires.deeper-pair-to-rear", "wheels.swap-sides", "spare.put-back", "tires.rotate"}
	fitsNew       = []string{"tire.replace", "tires.replace-pair", "tire.replace-if-below", "tires.fit-winter", "tires.fit-right", "tires.match-set", "dual.match"}
	bringsAir     = []string{"air.set", "air.set-for-size", "rotation.set-pressures", "air.match-mates", "air.lower-cold"}
)

// contradicting are lines of which one wheel never has both.
var contradicting = [][2]string{
	{"object.leave-in", "object.remove-and-soap"},
	{"tires.fit-right", "air.set-for-size"},
	{"tires.fit-right", "tire.remount"},
	{"tires.fit-right", "wheels.swap-sides"},
	{"air.set", "air.set-for-size"},
	{"air.set", "air.match-mates"},
	{"air.set", "air.lower-cold"},
	{"air.lower-cold", "air.match-mates"},
	{"air.none", "air.lower-cold"},
	{"tire.replace", "tires.replace-pair"},
	{"tire.replace", "tire.replace-if-below"},
	{"tires.replace-pair", "tire.replace-if-below"},
	{"tires.match-axle", "tire.replace"},
	{"tires.match-axle", "tires.replace-pair"},
	{"tires.match-axle", "tires.fit-right"},
	{"tire.remount", "wheels.swap-sides"},
	{"tires.rotate", "wheels.swap-sides"},
	{"tires.rotate", "tires.deeper-pair-to-rear"},
	{"sensor.relearn", "sensor.reset"},
}

// goes are the lines by which the tire that is on a wheel goes for good, and what is then
// not done to it.
var (
	goes       = []string{"tire.replace", "tires.replace-pair"}
	notToScrap = []string{"repair.after-inspection", "repair.combination", "repair.two-piece", "repair.refer-section", "repair.find-out", "tires.rotate", "tire.remount", "object.remove-and-soap"}
)

// anOrder is an order of work under test, with what is wrong with it.
type anOrder struct {
	work   []*pb.WorkItem
	faults []string
}

// orderFaults tells what is wrong with an order of work.
func orderFaults(a *pb.Assessment) []string {
	o := &anOrder{work: a.GetWork()}
	wheels := map[string][]*pb.WorkItem{}
	for i, w := range o.work {
		if linkOf(w.GetCode()) < 0 {
			o.faultf("%s has no place in the chain", w.GetCode())
		}
		if i > 0 && w.GetStep() < o.work[i-1].GetStep() {
			o.faultf("%s stands after a later step", w.GetCode())
		}
		if w.GetStep() == pb.WorkStep_WORK_STEP_OWED && w.GetUrgency() < planned {
			o.faultf("%s is due later, and %s", w.GetCode(), w.GetUrgency())
		}
		for _, p := range w.GetPositions() {
			wheels[p] = append(wheels[p], w)
		}
	}
	for p, lines := range wheels {
		for i, w := range lines {
			if i > 0 && linkOf(w.GetCode()) < linkOf(lines[i-1].GetCode()) {
				o.faultf("%s: %s comes after %s", p, w.GetCode(), lines[i-1].GetCode())
			}
			o.putBack(p, w)
		}
		o.contradicted(p)
	}
	slices.Sort(o.faults)
	return slices.Compact(o.faults)
}

func (o *anOrder) faultf(format string, args ...any) {
	o.faults = append(o.faults, fmt.Sprintf(format, args...))
}

// at are the lines of some codes that are done at a wheel.
func (o *anOrder) at(p string, codes ...string) (all []*pb.WorkItem) {
	for _, w := range o.work {
		if slices.Contains(codes, w.GetCode()) && (slices.Contains(w.GetPositions(), p) || len(w.GetPositions()) == 0) {
			all = append(all, w)
		}
	}
	return all
}

// follows tells that one of some codes is done wherever a line is done.
func (o *anOrder) follows(w *pb.WorkItem, p string, codes ...string) bool {
	return slices.ContainsFunc(o.at(p, codes...), func(f *pb.WorkItem) bool {
		return f.GetCondition() == nil || f.GetCondition().GetCode() == w.GetCondition().GetCode() || f.GetCondition().GetCode() == "when.wheel-comes-off" || f.GetCondition().GetCode() == "when.label-is-read"
	})
}

// putBack tells what is not put back after a line that takes something off or away.
func (o *anOrder) putBack(p string, w *pb.WorkItem) {
	code := w.GetCode()
	wants := func(why string, after ...[]string) {
		for _, next := range after {
			if !o.follows(w, p, next...) {
				o.faultf("%s: %s %s, and nothing of %v follows", p, code, why, next)
			}
		}
	}
	if p != "S" && slices.Contains(takesWheelOff, code) {
		wants("takes the wheel off", []string{"wheel.hang"}, append(slices.Clone(bringsAir), "air.compare-mate"), []string{"wheel.torque"}, []string{"owed.torque-recheck", "owed.torque-recheck-trailer"})
	}
	if slices.Contains(takesTireOff, code) {
		wants("takes the tire off its wheel", []string{"tire.mount"}, bringsAir)
		if w.GetCondition() == nil {
			wants("takes the tire off its wheel", []string{"tire.soap"})
		}
	}
	if slices.Contains(changesPlaces, code) {
		wants("brings another tire here", bringsAir)
	}
	if p != "S" && code == "wheel.hang" {
		wants("hangs what nobody took off", []string{"vehicle.chock"}, []string{"wheel.take-off"}, []string{"consent.look"})
	}
	if p != "S" && slices.Contains(fitsNew, code) {
		wants("fits a new tire", []string{"record.registration"})
	}
	if slices.Contains(changesPlaces, code) && o.airless(p) {
		o.faultf("%s: no air, and %s", p, code)
	}
}

// airless tells of a wheel that its tire gets no air, and that no line looks inside it,
// airs it in the device or takes it away: for a spare in service a road tire comes back.
func (o *anOrder) airless(p string) bool {
	return len(o.at(p, "air.none")) > 0 && len(o.at(p, "tire.demount-inspect", "tire.replace", "tires.replace-pair", "tires.fit-right", "tires.fit-winter", "spare.put-back", "repair.refer-section", "tire.restraining-device")) == 0
}

// contradicted tells what contradicts itself at a wheel.
func (o *anOrder) contradicted(p string) {
	for _, pair := range contradicting {
		if x, y := o.at(p, pair[0]), o.at(p, pair[1]); len(x) > 0 && len(y) > 0 && slices.Contains(x[0].GetPositions(), p) {
			o.faultf("%s: %s contradicts %s", p, pair[0], pair[1])
		}
	}
	for _, code := range append(slices.Clone(bringsAir), "wheel.torque") {
		if lines := o.at(p, code); len(lines) > 1 {
			o.faultf("%s: %s to %d targets", p, code, len(lines))
		}
	}
	if len(o.at(p, goes...)) > 0 {
		for _, w := range o.at(p, notToScrap...) {
			o.faultf("%s: the tire goes, and %s", p, w.GetCode())
		}
	}
	if !o.airless(p) {
		return
	}
	for _, w := range o.at(p, bringsAir...) {
		if w.GetCondition() == nil {
			o.faultf("%s: no air, and %s", p, w.GetCode())
		}
	}
}

// Each order of work is one order of the chain, puts back what it takes off, brings air
// where it moves tires, contradicts itself on no wheel, and leaves for later what is due
// later.
func TestOrderOfWorkIsWhole(t *testing.T) {
	kinds := map[string]int{}
	for _, req := range everyVisit(t) {
		for _, f := range orderFaults(judge.Visit(req)) {
			_, what, of := strings.Cut(f, ": ")
			if !of {
				what = f
			}
			if kinds[what]++; kinds[what] == 1 {
				t.Errorf("%s\n%s", f, shownWork(req))
			}
		}
	}
	for what, n := range kinds {
		t.Logf("%4d %s", n, what)
	}
}

// Orders that chance hardly draws and that once contradicted themselves.
func TestRareOrdersOfWork(t *testing.T) {
	car := `"vehicle": {"vehicleClass": "VEHICLE_CLASS_PASSENGER_CAR", "axles": {"axles": [{"size": "P215/60R16 94T", "coldNormalLoad": {"psi": 34}}, {"size": "P215/60R16 94T", "coldNormalLoad": {"psi": 39}}]}}`
	truck := `"vehicle": {"vehicleClass": "VEHICLE_CLASS_LIGHT_TRUCK", "axles": {"axles": [{"size": "LT275/70R18 F", "coldNormalLoad": {"psi": 60}}, {"size": "LT275/70R18 F"}]}}`
	at := func(position string, depth, psi float64) string {
		return fmt.Sprintf(`{"position": %q, "tread": [{"depth": {"thirtySecondsInch": %v}}], "pressures": [{"pressure": {"psi": %v}}]}`, position, depth, psi)
	}
	for what, visit := range map[string]string{
		"worn fronts, and rears that may have run low: they do not come forward": car + `, "inspection": {"wheels": [` +
			strings.Join([]string{at("1L", 1, 34), at("1R", 1, 34), at("2L", 6, 20), at("2R", 6, 20)}, ",") + `]}`,
		"the spare in service may have run low, and the tire of the place comes back": truck + `, "inspection": {"wheels": [` + at("1L", 9, 20) + `], "spare": {"inServicePosition": "1L"}}`,
	} {
		req := &pb.AssessVisitRequest{}
		if err := protojson.Unmarshal([]byte("{"+visit+"}"), req); err != nil {
			t.Fatalf("%s: %v", what, err)
		}
		if faults := orderFaults(judge.Visit(req)); len(faults) > 0 || !strings.Contains(shownWork(req), "air.none") {
			t.Errorf("%s: %v\n%s", what, faults, shownWork(req))
		}
	}
}

func TestDrawnOrderOfWorkIsWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		if faults := orderFaults(judged(t, req)); len(faults) > 0 {
			t.Fatalf("%s\n%s", strings.Join(faults, "\n"), shownWork(req)+shownJSON(req))
		}
	})
}

// shownWork is the order of work of a visit as people can read it in a failed test's log.
func shownWork(req *pb.AssessVisitRequest) string {
	var out strings.Builder
	for _, w := range judge.Visit(req).GetWork() {
		fmt.Fprintf(&out, "%s %v %s %s\n", w.GetCode(), w.GetPositions(), w.GetUrgency(), w.GetCondition().GetCode())
	}
	return out.String()
}

// mayBurst is what lets a tire down before its wheel comes off, on any vehicle.
var mayBurst = []pb.ObservationKind{
	pb.ObservationKind_OBSERVATION_KIND_BULGE, pb.ObservationKind_OBSERVATION_KIND_SEPARATION, pb.ObservationKind_OBSERVATION_KIND_RADIAL_RIPPLE,
	pb.ObservationKind_OBSERVATION_KIND_CORD_SHOWING, pb.ObservationKind_OBSERVATION_KIND_CUT_TO_CORD, pb.ObservationKind_OBSERVATION_KIND_CRACKS_TO_CORD,
	pb.ObservationKind_OBSERVATION_KIND_BLISTERING_OR_SWELLING,
}

// airOutFaults tells what is wrong with how an order lets air out before a wheel comes
// off (29 CFR 1910.177(f)(2); spoke rims and cars: common practice). It knows what was
// told, and nothing of the tables of the engine.
func airOutFaults(req *pb.AssessVisitRequest) (faults []string) {
	o := &anOrder{work: judge.Visit(req).GetWork()}
	class := req.GetVehicle().GetVehicleClass()
	large := class == pb.VehicleClass_VEHICLE_CLASS_HEAVY || class == pb.VehicleClass_VEHICLE_CLASS_BUS
	mate := map[byte]byte{'I': 'O', 'O': 'I'}
	for _, off := range o.work {
		for _, p := range off.GetPositions() {
			down := len(o.at(p, "air.deflate-first")) > 0
			w := wheelOf(req, p)
			onePiece := w.GetWheelKind() == pb.WheelKind_WHEEL_KIND_ALLOY || w.GetWheelKind() == pb.WheelKind_WHEEL_KIND_SINGLE_PIECE
			burst := slices.ContainsFunc(w.GetObservations(), func(o *pb.Observation) bool {
				return slices.Contains(mayBurst, o.GetKind())
			})
			steel := slices.ContainsFunc(append(recordsOf(req, w), w.GetSidewall()), func(s *pb.Sidewall) bool { return s.GetBodyPly() == pb.BodyPly_BODY_PLY_STEEL })
			switch {
			case off.GetCode() == "air.deflate-first":
				if other, dual := mate[p[len(p)-1]]; dual && len(o.at(p[:len(p)-1]+string(other), "air.deflate-first")) == 0 {
					o.faultf("%s is let down and its mate is not", p)
				}
				if !o.follows(off, p, bringsAir...) {
					o.faultf("%s is let down and gets no air again", p)
				}
			case off.GetCode() != "wheel.take-off":
			case large && !onePiece && !down:
				o.faultf("%s comes off a large vehicle full of air", p)
			case class == pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR && !burst && !steel && down:
				o.faultf("%s of a car is let down for nothing", p)
			}
		}
	}
	return o.faults
}

// recordsOf are the sidewalls of the tires on record that a wheel names, or may have.
func recordsOf(req *pb.AssessVisitRequest, w *pb.WheelReport) (all []*pb.Sidewall) {
	for _, t := range req.GetTires() {
		if id := w.GetTireId(); id == "" || id == t.GetId() {
			all = append(all, t.GetSidewall())
		}
	}
	return all
}

func wheelOf(req *pb.AssessVisitRequest, p string) *pb.WheelReport {
	for _, w := range req.GetInspection().GetWheels() {
		if w.GetPosition() == p {
			return w
		}
	}
	return nil
}

// Before the first nut is loosened the air is out where it has to be, and nowhere else.
func TestAirOutBeforeTheFirstNut(t *testing.T) {
	for _, req := range everyVisit(t) {
		if faults := airOutFaults(req); len(faults) > 0 {
			t.Errorf("%v\n%s", faults, shownWork(req))
		}
	}
}

func TestAirOutBeforeTheFirstNutDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		if faults := airOutFaults(req); len(faults) > 0 {
			t.Fatalf("%v\n%s%s", faults, shownWork(req), shownJSON(req))
		}
	})
}

// ofALabel are what a temporary spare on the road is never judged by: the label of the axle,
// advice on depth, its mates, the shape of its wear, its life (common practice).
func ofALabel(code string) bool {
	for _, of := range []string{"wear.", "match.", "trend.", "tread.axle", "tread.wet", "tread.snow", "tread.winter", "tread.legal", "tread.model", "tread.shop",
		"fitment.", "inflation.above", "inflation.warm", "inflation.low", "inflation.below", "inflation.label", "inflation.find-leak", "inflation.check-cold", "inflation.lamp-on-pressures", "inflation.lamp-on-not", "sensor.not-answering"} {
		if strings.HasPrefix(code, of) {
			return true
		}
	}
	return false
}

// Whatever is drawn of a car, a temporary spare put on one of its wheels is judged by what
// stands on it, gives way to a road tire, and is neither mended nor filled where it runs.
func TestTemporarySpareIsJudgedByItself(t *testing.T) {
	mended := []string{"air.none", "air.find-leak", "tire.demount-inspect", "tire.restraining-device", "tire.replace", "tires.replace-pair", "tire.replace-if-below",
		"repair.after-inspection", "repair.combination", "repair.two-piece", "repair.find-out", "repair.refer-section", "object.remove-and-soap", "tires.rotate", "tires.deeper-pair-to-rear"}
	tried := 0
	for _, req := range everyVisit(t) {
		class := req.GetVehicle().GetVehicleClass()
		wheels := req.GetInspection().GetWheels()
		if class != pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR || len(wheels) == 0 || wheels[0].GetPosition() == "S" || wheels[0].GetFitted() != nil || wheels[0].GetTireId() != "" {
			continue
		}
		req = proto.CloneOf(req)
		w, at := req.GetInspection().GetWheels()[0], wheels[0].GetPosition()
		w.Sidewall = &pb.Sidewall{Marking: "T125/70D16 96M", MaximumPressure: &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: 60}}}
		if req.GetInspection().GetSpare() != nil {
			req.Inspection.Spare.InServicePosition = ""
		}
		tried++
		a := judge.Visit(req)
		for _, f := range a.GetFindings() {
			if ofALabel(f.GetCode()) && slices.Contains(f.GetPositions(), at) || f.GetCode() == "inflation.lamp-on-pressures-right" {
				t.Errorf("%s at %v, where a temporary spare runs\n%s", f.GetCode(), f.GetPositions(), shownJSON(req))
			}
		}
		o := &anOrder{work: a.GetWork()}
		for _, line := range o.at(at, mended...) {
			if slices.Contains(line.GetPositions(), at) {
				t.Errorf("%s at %s, where a temporary spare runs\n%s", line.GetCode(), at, shownWork(req))
			}
		}
		if len(o.at(at, "spare.put-back")) == 0 {
			t.Errorf("no road tire comes back to %s\n%s", at, shownWork(req))
		}
	}
	if tried < 20 {
		t.Errorf("only %d visits had a car's wheel", tried)
	}
}
