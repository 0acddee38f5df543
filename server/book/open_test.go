package book

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history/memory"
)

// Two visits of one car: what the first found, and what is still open after the
// second, which found nothing.
func TestWhatStaysOpen(t *testing.T) {
	tireA, tireB := newID(), newID()
	cracked := found("damage.cracks-open", "1L")
	asLeft := found("inflation.low", "1L")
	asLeft.AsLeft = &pb.AsLeft{}
	note := found("tread.unlikely-depth", "1L")
	note.Urgency = pb.Urgency_URGENCY_NOTE
	lamp := found("inflation.lamp-flashing")
	seenLamp := func(v *pb.Inspection) { v.Conditions = &pb.Conditions{LampAsFound: pb.Lamp_LAMP_OFF} }

	for _, row := range []struct {
		name  string
		found *pb.Finding
		next  []*pb.WheelReport
		shape func(*pb.Inspection)
		open  bool
	}{
		{"another wheel is read", found("tread.model-limit", "1L"), []*pb.WheelReport{wheel("1R", depth, pressure, whole)}, nil, true},
		{"the pressure says nothing of the tread", found("tread.model-limit", "1L"), []*pb.WheelReport{wheel("1L", pressure, whole)}, nil, true},
		{"the depth is read and kept", found("tread.model-limit", "1L"), []*pb.WheelReport{wheel("1L", depth)}, nil, false},
		{"the depth says nothing of the pressure", found("inflation.low", "1L"), []*pb.WheelReport{wheel("1L", depth)}, nil, true},
		{"the pressure is read and right", found("inflation.low", "1L"), []*pb.WheelReport{wheel("1L", pressure)}, nil, false},
		{"one of two wheels is read", found("tread.axle-difference", "1L", "1R"), []*pb.WheelReport{wheel("1L", depth)}, nil, true},
		{"both wheels are read", found("tread.axle-difference", "1L", "1R"), []*pb.WheelReport{wheel("1L", depth), wheel("1R", depth)}, nil, false},
		{"numbers say nothing of cracks", cracked, []*pb.WheelReport{wheel("1L", depth, pressure)}, nil, true},
		{"looked at all over", cracked, []*pb.WheelReport{wheel("1L", whole)}, nil, false},
		{"a hole is not looked for", found("puncture.inspect-inside", "1L"), []*pb.WheelReport{wheel("1L", depth, pressure)}, nil, true},
		{"no hole any more", found("puncture.inspect-inside", "1L"), []*pb.WheelReport{wheel("1L", whole)}, nil, false},
		{"the valve was not looked at", found("valve.cracked", "1L"), []*pb.WheelReport{wheel("1L", whole)}, nil, true},
		{"the valve was looked at", found("valve.cracked", "1L"), []*pb.WheelReport{wheel("1L", look(pb.LookedAt_LOOKED_AT_VALVE))}, nil, false},
		{"half of the wheel was looked at", found("wheel.bent", "1L"), []*pb.WheelReport{wheel("1L", look(pb.LookedAt_LOOKED_AT_WHEEL_FACE))}, nil, true},
		{"the wheel was looked at", grave(found("wheel.crack", "1L")), []*pb.WheelReport{wheel("1L", look(pb.LookedAt_LOOKED_AT_WHEEL_FACE, pb.LookedAt_LOOKED_AT_WHEEL_BARREL))}, nil, false},
		{"play is not looked for", found("chassis.suspension-play", "1L"), []*pb.WheelReport{wheel("1L", depth, pressure, whole)}, nil, true},
		{"play is cured by the part renewed there", grave(found("chassis.bearing-play", "1L")), nil, done(pb.WorkKind_WORK_KIND_BEARING_WORK, "1L"), false},
		{"not by a part renewed at another wheel", grave(found("chassis.bearing-play", "1L")), nil, done(pb.WorkKind_WORK_KIND_BEARING_WORK, "1R"), true},
		{"nor by work that names no wheel", grave(found("chassis.bearing-play", "1L")), nil, done(pb.WorkKind_WORK_KIND_BEARING_WORK), true},
		{"nor by an alignment", found("chassis.steering-play", "1L"), nil, done(pb.WorkKind_WORK_KIND_ALIGNMENT_SET, "1L"), true},
		{"a valve is renewed", found("valve.cracked", "1L"), nil, done(pb.WorkKind_WORK_KIND_VALVE_RENEWED, "1L"), false},
		{"the sensor is asked again", found("sensor.battery-low", "1L"), []*pb.WheelReport{wheel("1L", sensorAnswers)}, nil, false},
		{"the sensor is not asked", found("sensor.battery-low", "1L"), []*pb.WheelReport{wheel("1L", depth, pressure, whole)}, nil, true},
		{"sensors are learned", found("sensor.relearn-owed"), nil, done(pb.WorkKind_WORK_KIND_SENSOR_RELEARNED), false},
		{"a lamp that is off learns no places", found("sensor.relearn-owed"), []*pb.WheelReport{wheel("1R")}, seenLamp, true},
		{"the torque is not checked", found("torque.recheck-owed", "1L"), []*pb.WheelReport{wheel("1L", depth, pressure, whole, look(pb.LookedAt_LOOKED_AT_FASTENERS))}, nil, true},
		{"the torque is checked", found("torque.recheck-owed", "1L"), []*pb.WheelReport{wheel("1L", torqueChecked)}, nil, false},
		{"the customer says no more of it", found("complaint.pulls-left"), []*pb.WheelReport{wheel("1R")}, seenLamp, false},
		{"a thump is not let go unseen", found("complaint.thump"), []*pb.WheelReport{wheel("1L", whole), wheel("1R")}, seenLamp, true},
		{"the depth says nothing of lost air", found("trend.loses-faster", "1L"), []*pb.WheelReport{wheel("1L", depth)}, nil, true},
		{"the air is read again", found("trend.loses-faster", "1L"), []*pb.WheelReport{wheel("1L", pressure)}, nil, false},
		{"the pressure says nothing of the life", found("trend.reaches-limit", "1L"), []*pb.WheelReport{wheel("1L", pressure)}, nil, true},
		{"the depth tells the life again", found("trend.reaches-limit", "1L"), []*pb.WheelReport{wheel("1L", depth)}, nil, false},
		{"a road tire is where the spare ran", found("spare.in-service", "1L"), []*pb.WheelReport{wheel("1L", tire(tireB))}, nil, false},
		{"the spare is still there", found("spare.in-service", "1L"), []*pb.WheelReport{wheel("1L", tire(tireA), depth, whole)}, nil, true},
		{"a tire grows no younger", found("age.replace-advised", "1L"), []*pb.WheelReport{wheel("1L", depth, pressure, whole, marking)}, nil, true},
		{"another tire is not as old", found("age.replace-advised", "1L"), []*pb.WheelReport{wheel("1L", tire(tireB))}, nil, false},
		{"the arrow was not looked at", found("mount.arrow-opposes", "1L"), []*pb.WheelReport{wheel("1L", whole, outside)}, nil, true},
		{"the arrow agrees", found("mount.arrow-opposes", "1L"), []*pb.WheelReport{wheel("1L", arrow)}, nil, false},
		{"as left it tells nothing of what it is found like", found("mount.arrow-opposes", "1L"), []*pb.WheelReport{wheel("1L", arrowLeft)}, nil, true},
		{"the arrow says nothing of OUTSIDE", found("mount.outside-in", "1L"), []*pb.WheelReport{wheel("1L", arrow)}, nil, true},
		{"OUTSIDE faces out", found("mount.outside-in", "1L"), []*pb.WheelReport{wheel("1L", outside)}, nil, false},
		{"OUTSIDE could not be seen", found("mount.outside-in", "1L"), []*pb.WheelReport{wheel("1L", outsideNotSeen)}, nil, true},
		{"one of two sizes is read again", found("fitment.sizes-mixed", "1L", "1R"), []*pb.WheelReport{wheel("1L", marking), wheel("1R", depth)}, nil, true},
		{"both sizes are read again", found("fitment.sizes-mixed", "1L", "1R"), []*pb.WheelReport{wheel("1L", marking), wheel("1R", marking)}, nil, false},
		{"one of two sizes is changed", found("fitment.sizes-mixed", "1L", "1R"), []*pb.WheelReport{wheel("1R", tire(tireB))}, nil, false},
		{"a size is not held against the label", found("fitment.size-not-label", "1L"), []*pb.WheelReport{wheel("1L", marking)}, nil, true},
		{"depths read and not compared match nothing", found("match.all-wheel-drive", "1L"), []*pb.WheelReport{wheel("1L", depth), wheel("1R", depth)}, nil, true},
		{"another tire is compared again", found("match.dual", "1L", "1R"), []*pb.WheelReport{wheel("1L", tire(tireB))}, nil, false},
		{"the axle is not weighed again", grave(found("load.above-rating", "1L")), []*pb.WheelReport{wheel("1L", tire(tireB), pressure)}, nil, true},
		{"another axle is weighed", grave(found("load.above-rating", "1L")), []*pb.WheelReport{wheel("1L", pressure)}, weighed(2), true},
		{"weighed without a pressure", grave(found("load.pressure-too-low", "1L")), []*pb.WheelReport{wheel("1L", depth)}, weighed(1), true},
		{"weighed again at a pressure", grave(found("load.pressure-too-low", "1L")), []*pb.WheelReport{wheel("1L", pressure)}, weighed(1), false},
		{"the lamp was not looked at", lamp, []*pb.WheelReport{wheel("1L", depth, pressure, whole)}, nil, true},
		{"the lamp is off", lamp, []*pb.WheelReport{wheel("1R")}, seenLamp, false},

		{"grave: a tire does not heal", grave(found("tread.legal-limit", "1L")), []*pb.WheelReport{wheel("1L", depth, pressure, whole)}, nil, true},
		{"grave: nor when it is named", grave(found("damage.bulge", "1L")), []*pb.WheelReport{wheel("1L", tire(tireA), whole)}, nil, true},
		{"grave: another tire is there", grave(found("damage.bulge", "1L")), []*pb.WheelReport{wheel("1L", tire(tireB))}, nil, false},
		{"another tire is no cure for the wheel", grave(found("wheel.crack", "1L")), []*pb.WheelReport{wheel("1L", tire(tireB), whole)}, nil, true},
		{"another tire is no cure for what wears it", found("wear.toe-in", "1L"), []*pb.WheelReport{wheel("1L", tire(tireB))}, nil, true},
		{"what was found of a tire goes with it", found("tread.model-limit", "1L"), []*pb.WheelReport{wheel("1L", tire(tireB))}, nil, false},
		{"right as left", asLeft, []*pb.WheelReport{wheel("1R")}, nil, false},
		{"a note asks for nothing", note, []*pb.WheelReport{wheel("1R")}, nil, false},
	} {
		onMemory(t, row.name, func(t *testing.T, d *desk) {
			v := d.keepVehicle(car())
			d.keep(d.find(newVisit(v, wheel("1L", tire(tireA), depth, pressure), wheel("1R", depth, pressure)), row.found))
			was := ids(d.open(v))
			next := newVisit(v, row.next...)
			if row.shape != nil {
				row.shape(next)
			}
			d.keep(next)
			now := d.open(v)
			if open := len(now) == 1; open != row.open {
				t.Errorf("open after the first visit %v, after the second %v", was, ids(now))
			}
			if row.open && !proto.Equal(unnamed(now[0]), row.found) {
				t.Errorf("changed: %v", now[0])
			}
			closed := d.pull("")[2].GetInspection().GetClosed()
			if want := len(was) == 1 && !row.open; (len(closed) == 1) != want || want && closed[0].GetClosedBy().GetCode() == "" {
				t.Errorf("the feed says closed: %v", closed)
			}
		})
	}
}

// A visit that leaves open what it takes to judge has not judged it again.
func TestWhatAQuestionLeavesOpenStaysOpen(t *testing.T) {
	for code, of := range map[string]string{"fitment.ask-marking": "fitment.sizes-mixed", "ask.across": "wear.toe-in", "ask.load-rating": "load.above-rating", "ask.load-dual": "load.pressure-too-low"} {
		for at, open := range map[string]int{"1L": 1, "1R": 0} {
			onMemory(t, code+" "+at, func(t *testing.T, d *desk) {
				v := d.keepVehicle(car())
				d.keep(d.find(newVisit(v), found(of, "1L")))
				next := newVisit(v, wheel("1L", depth, pressure, marking), wheel("1R", depth, pressure))
				weighed(1)(next)
				d.asks[next.GetId()] = &pb.Question{Code: code, Positions: []string{at}}
				d.keep(next)
				if now := ids(d.open(v)); len(now) != open {
					t.Errorf("open: %v", now)
				}
			})
		}
	}
}

// A tire is right for its label, and a pair matched, where a later visit made the
// comparison that tells it and found it good, at that wheel.
func TestWhatIsFoundGoodIsOpenNoMore(t *testing.T) {
	for _, row := range []struct {
		found, good, at string
		open            bool
	}{
		{"fitment.load-below-label", "fitment.as-label", "1L", false},
		{"fitment.load-below-label", "fitment.as-label", "1R", true},
		{"match.all-wheel-drive", "match.all-wheel-drive", "1L", false},
		{"match.all-wheel-drive", "match.all-wheel-drive-tape", "1L", false},
		{"match.all-wheel-drive-tape", "match.all-wheel-drive", "1L", true}, // depth is no match for the tape
		{"match.all-wheel-drive-design", "match.all-wheel-drive", "1L", false},
		{"match.dual", "match.dual", "1L", false},
		{"match.dual", "match.dual-tread", "1L", true},
		{"match.dual-model-limit", "match.dual", "1L", false},
	} {
		onMemory(t, row.found+" "+row.good+" "+row.at, func(t *testing.T, d *desk) {
			v := d.keepVehicle(car())
			d.keep(d.find(newVisit(v, wheel("1L"), wheel("1R")), found(row.found, "1L")))
			next := newVisit(v, wheel("1L"), wheel("1R"))
			d.good[next.GetId()] = &pb.Checked{Code: row.good, Positions: []string{row.at}}
			d.keep(next)
			if now := ids(d.open(v)); (len(now) == 1) != row.open {
				t.Errorf("open: %v", now)
			}
		})
	}
}

func marking(w *pb.WheelReport) { w.Sidewall = &pb.Sidewall{Marking: "215/60R16 95H"} }

func arrow(w *pb.WheelReport) {
	w.Marks = []*pb.MountingMarks{{Phase: pb.Phase_PHASE_AS_FOUND, Arrow: pb.DirectionArrow_DIRECTION_ARROW_AGREES}}
}

func arrowLeft(w *pb.WheelReport) {
	w.Marks = []*pb.MountingMarks{{Phase: pb.Phase_PHASE_AS_LEFT, Arrow: pb.DirectionArrow_DIRECTION_ARROW_AGREES}}
}

func outside(w *pb.WheelReport) {
	w.Marks = []*pb.MountingMarks{{OutsideMark: pb.MarkFaces_MARK_FACES_OUT}}
}

func outsideNotSeen(w *pb.WheelReport) {
	w.Marks = []*pb.MountingMarks{{OutsideMark: pb.MarkFaces_MARK_FACES_NOT_SEEN}}
}

// weighed puts an axle on a scale.
func weighed(axle int32) func(*pb.Inspection) {
	return func(v *pb.Inspection) {
		v.AxleWeights = []*pb.AxleWeight{{Axle: axle, Weight: &pb.Mass{AsRead: &pb.Mass_Pounds{Pounds: 2000}}}}
	}
}

func TestFoundAgainIsOpenAsFoundNow(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		d.keep(d.find(newVisit(v), grave(found("tread.legal-limit", "1L"))))
		worse := grave(found("tread.legal-limit", "1L"))
		worse.Measured = &pb.Quantity{Amount: &pb.Quantity_Depth{Depth: thirtySeconds(1)}}
		d.keep(d.find(newVisit(v), worse, found("inflation.low", "1L")))
		if now := d.open(v); len(now) != 2 || now[0].GetMeasured() == nil {
			t.Errorf("%v", now)
		}
		closes := grave(found("tread.legal-limit", "1L"))
		closes.AsLeft = &pb.AsLeft{PutRight: &pb.Said{Code: "as-left.put-right"}}
		d.keep(d.find(newVisit(v), closes))
		if open := ids(d.open(v)); len(open) != 0 {
			t.Errorf("closed as left, and open: %v", open)
		}
	})
}

// done is work of a visit.
func done(kind pb.WorkKind, at ...string) func(*pb.Inspection) {
	return func(v *pb.Inspection) { v.WorkDone = []*pb.WorkDone{{Kind: kind, Positions: at}} }
}

func sensorAnswers(w *pb.WheelReport) {
	w.SensorReadings = []*pb.SensorReading{{Answering: pb.Answer_ANSWER_YES}}
}

func torqueChecked(w *pb.WheelReport) {
	w.TorqueRecheck = &pb.TorqueRecheck{DoneBy: "invented"}
}

// A wheel that was off is the vehicle's, whatever tire is on it now: what is owed
// of it reaches the next visit, and its readings do not.
func TestWhatWasDoneAtAWheelReachesTheNextVisit(t *testing.T) {
	tireA, tireB := newID(), newID()
	onMemory(t, "", func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		first := newVisit(v, wheel("1L", tire(tireA), depth, pressure))
		first.Wheels[0].FastenerWork = &pb.FastenerWork{DoneBy: "invented"}
		d.keep(first)
		for _, row := range []struct {
			tire     string
			readings int
		}{{tireA, 1}, {tireB, 0}} {
			d.keep(newVisit(v, wheel("1L", tire(row.tire))))
			w := d.lastJudged().GetEarlier()[0].GetWheels()[0]
			if w.GetFastenerWork().GetDoneBy() != "invented" || len(w.GetPressures()) != row.readings {
				t.Errorf("the next visit knows %v", w)
			}
		}
	})
}

// openIDs are what is open on a vehicle, by open_id.
func (d *desk) openIDs(v *pb.Vehicle) (ids []string) {
	d.t.Helper()
	for _, f := range d.vehicle(v).GetState().GetOpen() {
		if f.GetFinding().GetOpenId() != f.GetOpenId() {
			d.t.Errorf("%v is named otherwise", f)
		}
		ids = append(ids, f.GetOpenId())
	}
	slices.Sort(ids)
	return slices.Compact(ids)
}

// unnamed is a finding without what the book calls it.
func unnamed(f *pb.Finding) *pb.Finding {
	f = proto.CloneOf(f)
	f.OpenId = ""
	return f
}

// follower knows of the book what the feed tells: by what is opened and closed, and
// by what is put in place of all that was known.
type follower struct {
	byChanges map[string]map[string]bool // open_ids by vehicle
	whole     map[string][]string
}

func (f follower) follow(t *testing.T, c *pb.Change) {
	for _, v := range c.GetVehicles() {
		f.whole[v.GetVehicleId()] = nil
		for _, o := range v.GetOpen() {
			f.whole[v.GetVehicleId()] = append(f.whole[v.GetVehicleId()], o.GetOpenId())
		}
		slices.Sort(f.whole[v.GetVehicleId()])
	}
	in := c.GetInspection()
	if in == nil {
		return
	}
	open := f.byChanges[in.GetVehicleId()]
	if open == nil {
		open = map[string]bool{}
		f.byChanges[in.GetVehicleId()] = open
	}
	for _, id := range in.GetOpened() {
		if open[id] {
			t.Errorf("%s is opened and was open", id)
		}
		open[id] = true
	}
	for _, closed := range in.GetClosed() {
		if !open[closed.GetOpenId()] || closed.GetCode() == "" || closed.GetClosedBy().GetCode() == "" {
			t.Errorf("closed: %v", closed)
		}
		delete(open, closed.GetOpenId())
	}
}

// Random visits and corrections of one car: who follows the feed knows what is
// open; and a vehicle is as if what was corrected had never been and the
// correction had been there in its place.
func TestCorrectionsStandInThePlaceOfWhatTheyCorrect(t *testing.T) {
	codes := []string{"tread.model-limit", "tread.legal-limit", "inflation.low", "damage.bulge", "damage.cut", "wheel.crack", "wear.toe-in"}
	tires := []string{newID(), newID(), newID()}
	for seed := range uint64(40) {
		random := rand.New(rand.NewPCG(seed, 7))
		onMemory(t, fmt.Sprint(seed), func(t *testing.T, d *desk) {
			v := d.keepVehicle(car())
			follows := follower{map[string]map[string]bool{}, map[string][]string{}}
			var stands []*pb.Inspection // in place order
			for range 12 {
				in := newVisit(v, randomWheels(random, tires)...)
				var all []*pb.Finding
				for _, code := range codes {
					if random.IntN(4) == 0 {
						f := found(code, []string{"1L", "1R"}[random.IntN(2)])
						f.Urgency = pb.Urgency(1 + random.IntN(4))
						all = append(all, f)
					}
				}
				d.find(in, all...)
				if i := random.IntN(3 * max(1, len(stands))); i < len(stands) {
					correcting(stands[i], in)
					stands[i] = in
				} else {
					stands = append(stands, in)
				}
				d.keep(in)
				for _, c := range d.pull("")[int(d.last())-1:] {
					follows.follow(t, c)
				}
				open := d.openIDs(v)
				if known := slices.Sorted(maps.Keys(follows.byChanges[v.GetId()])); !slices.Equal(known, open) {
					t.Fatalf("the follower knows %v, open are %v", known, open)
				}
				if whole := follows.whole[v.GetId()]; !slices.Equal(whole, open) {
					t.Fatalf("the feed says that %v are open, open are %v", whole, open)
				}
				sameAsIfNeverCorrected(t, d, v, stands)
			}
		})
	}
}

func onMemory(t *testing.T, name string, test func(*testing.T, *desk)) {
	t.Helper()
	t.Run(name, func(t *testing.T) { test(t, newDesk(t, memory.New(), nil)) })
}

func randomWheels(random *rand.Rand, tires []string) (ws []*pb.WheelReport) {
	order := random.Perm(len(tires))
	for i, p := range []string{"1L", "1R"} {
		var options []option
		for _, o := range []option{depth, pressure, whole, tire(tires[order[i]])} {
			if random.IntN(2) == 0 {
				options = append(options, o)
			}
		}
		if random.IntN(4) > 0 {
			ws = append(ws, wheel(p, options...))
		}
	}
	if len(ws) == 0 {
		ws = append(ws, wheel("1L"))
	}
	return ws
}

// sameAsIfNeverCorrected keeps the visits that stand in a book of their own.
func sameAsIfNeverCorrected(t *testing.T, d *desk, v *pb.Vehicle, stands []*pb.Inspection) {
	t.Helper()
	model := newDesk(t, memory.New(), nil)
	model.keepVehicle(bare(v))
	for _, in := range stands {
		plain := proto.CloneOf(in)
		plain.Corrects = nil
		model.keep(model.find(plain, d.finds[in.GetId()]...))
	}
	now, want := d.vehicle(v), model.vehicle(v)
	if got, want := ids(d.open(v)), ids(model.open(v)); !slices.Equal(got, want) {
		t.Fatalf("open are %v, without the corrected visits %v", got, want)
	}
	if got, want := now.GetState().GetLastInspectionId(), want.GetState().GetLastInspectionId(); got != want {
		t.Fatalf("the last visit is %s, without the corrected visits %s", got, want)
	}
	sameMessage(t, "headline", now.GetState().GetHeadline(), want.GetState().GetHeadline())
	for i, f := range now.GetState().GetOpen() {
		if want := want.GetState().GetOpen()[i]; f.GetVisitsOpen() != want.GetVisitsOpen() || f.GetSinceInspectionId() != want.GetSinceInspectionId() || f.GetInspectionId() != want.GetInspectionId() {
			t.Fatalf("open is %v, without the corrected visits %v", f, want)
		}
	}
	named := func(r *pb.GetVehicleResponse) (all []string) {
		for _, tire := range r.GetTires() {
			id := tire.GetId()
			if !slices.ContainsFunc(stands, func(in *pb.Inspection) bool {
				return slices.ContainsFunc(in.GetWheels(), func(w *pb.WheelReport) bool { return w.GetTireId() == id })
			}) {
				id = "nameless" // its id follows from the first visit, which has another id here
			}
			all = append(all, position(tire)+" "+id)
		}
		return all
	}
	if got, want := named(now), named(want); !slices.Equal(got, want) {
		t.Fatalf("tires are %v, without the corrected visits %v", got, want)
	}
}

func TestCorrectionsAreGuarded(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v, other := d.keepVehicle(car()), d.keepVehicle(car())
		old := newVisit(v)
		early := correcting(old, newVisit(v))
		before := d.last()
		_, err := d.record(early)
		if r := d.refused(before, err, pb.ErrorReason_ERROR_REASON_NOT_YET, "inspection.corrects.inspection_id"); r.Metadata["id"] != old.GetId() {
			t.Error(r.Metadata)
		}
		stray := newVisit(car())
		_, err = d.record(stray)
		if r := d.refused(before, err, pb.ErrorReason_ERROR_REASON_NOT_YET, "inspection.vehicle_id"); r.Metadata["id"] != stray.GetVehicleId() {
			t.Error(r.Metadata)
		}

		first := d.keep(d.find(old, found("tread.model-limit", "1L")))
		before = d.last()
		_, err = d.record(correcting(old, newVisit(other)))
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_FIELD_INVALID, "inspection.corrects.inspection_id")

		d.keep(early) // refused once, and now it can be kept
		before = d.last()
		_, err = d.record(correcting(old, newVisit(v)))
		if r := d.refused(before, err, pb.ErrorReason_ERROR_REASON_ALREADY_CORRECTED, "inspection.corrects.inspection_id"); r.Metadata["by"] != early.GetId() {
			t.Error(r.Metadata)
		}
		latest := d.keep(correcting(early, newVisit(v)))

		kept, err := d.GetInspection(t.Context(), shop, old.GetId())
		if err != nil || kept.GetReplacedBy() != early.GetId() {
			t.Fatalf("%v: %v", kept, err)
		}
		kept.ReplacedBy = ""
		sameMessage(t, "the corrected visit", kept.KeptInspection, first)
		list, err := d.ListInspections(t.Context(), shop, v.GetId(), 10, "")
		if err != nil {
			t.Fatal(err)
		}
		var chain []string
		for _, s := range list.Rows {
			chain = append(chain, s.GetInspectionId()+">"+s.GetReplacedBy())
		}
		want := []string{latest.GetInspection().GetId() + ">", early.GetId() + ">" + latest.GetInspection().GetId(), old.GetId() + ">" + early.GetId()}
		if !slices.Equal(chain, want) {
			t.Errorf("listed %v, want %v", chain, want)
		}
		if c := d.pull("")[3].GetInspection(); c.GetCorrectsInspectionId() != old.GetId() {
			t.Errorf("%v", c)
		}
	})
}

func TestOneOfManyCorrectionsIsKept(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		old := newVisit(v)
		d.keep(old)
		errs := make(chan error, 16)
		for range cap(errs) {
			go func() {
				_, err := d.record(correcting(old, newVisit(v)))
				errs <- err
			}()
		}
		kept := 0
		for range cap(errs) {
			if err := <-errs; err == nil {
				kept++
			}
		}
		if kept != 1 || d.last() != 3 {
			t.Errorf("%d corrections were kept, %d drafts", kept, d.last())
		}
	})
}
