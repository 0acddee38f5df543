package book

import (
	"maps"
	"slices"
	"testing"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// tiresOn gives the tires of a vehicle by position.
func (d *desk) tiresOn(v *pb.Vehicle) map[string]*pb.Tire {
	d.t.Helper()
	on := map[string]*pb.Tire{}
	for _, t := range d.vehicle(v).GetTires() {
		if t.GetPlace().GetMounted().GetVehicleId() != v.GetId() {
			d.t.Errorf("%v is on another vehicle", t)
		}
		on[position(t)] = t
	}
	return on
}

func judgedTires(req *pb.AssessVisitRequest) map[string]string {
	ids := map[string]string{}
	for _, w := range req.GetInspection().GetWheels() {
		ids[w.GetPosition()] = w.GetTireId()
	}
	return ids
}

func TestTiresThatNobodyNamesStayTheSame(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v, other := d.keepVehicle(car()), d.keepVehicle(car())
		in := newVisit(v, wheel("1L", depth), wheel("1R", depth))
		first := d.keep(in)
		was := judgedTires(d.lastJudged())
		if was["1L"] == "" || was["1L"] == was["1R"] {
			t.Fatalf("%v", was)
		}
		for _, w := range first.GetInspection().GetWheels() {
			if w.GetTireId() != "" {
				t.Error("the visit is not kept as it came")
			}
		}
		if _, err := d.record(in); err != nil || len(d.tiresOn(v)) != 2 {
			t.Errorf("repeated: %v, %v", d.tiresOn(v), err)
		}
		d.keep(newVisit(v, wheel("1R", depth), wheel("1L", depth), wheel("2L", depth)))
		now := judgedTires(d.lastJudged())
		if now["1L"] != was["1L"] || now["1R"] != was["1R"] || now["2L"] == "" {
			t.Errorf("first %v, then %v", was, now)
		}
		d.keep(newVisit(other, wheel("1L", depth)))
		if judgedTires(d.lastJudged())["1L"] == was["1L"] {
			t.Error("two vehicles share a tire")
		}
		on := d.tiresOn(v)
		if got := slices.Sorted(maps.Keys(on)); !slices.Equal(got, []string{"1L", "1R", "2L"}) || on["1L"].GetId() != was["1L"] {
			t.Errorf("%v", on)
		}
	})
}

func TestNamedTiresMove(t *testing.T) {
	a, b := newID(), newID()
	marked := func(marking string) option {
		return func(w *pb.WheelReport) { w.Sidewall = &pb.Sidewall{Marking: marking} }
	}
	onEach(t, func(t *testing.T, d *desk) {
		v, other := d.keepVehicle(car()), d.keepVehicle(car())
		d.keep(newVisit(v, wheel("1L", tire(a), marked("P215/60R16 94T")), wheel("1R", tire(b))))
		d.keep(newVisit(v, wheel("2L", tire(a)))) // to the rear, and nobody said what is at the front now
		on := d.tiresOn(v)
		if on["1L"] != nil || on["2L"].GetId() != a || on["2L"].GetSidewall().GetMarking() != "P215/60R16 94T" || on["1R"].GetId() != b {
			t.Fatalf("%v", on)
		}
		// Named at one wheel, it is not taken to be at its old one too.
		d.keep(newVisit(v, wheel("2L"), wheel("1L", tire(a))))
		if ids := judgedTires(d.lastJudged()); ids["1L"] != a || ids["2L"] == a || ids["2L"] == "" {
			t.Errorf("judged with %v", ids)
		}
		if on := d.tiresOn(v); on["1L"].GetId() != a || on["2L"].GetId() != judgedTires(d.lastJudged())["2L"] {
			t.Errorf("%v", on)
		}

		// To another vehicle, with all that is known of it.
		d.keep(newVisit(other, wheel("2R", tire(a), func(w *pb.WheelReport) { w.Sidewall = &pb.Sidewall{LoadRange: "XL"} })))
		req := d.lastJudged()
		if i := slices.IndexFunc(req.GetTires(), func(t *pb.Tire) bool { return t.GetId() == a }); i < 0 || req.GetTires()[i].GetSidewall().GetMarking() == "" {
			t.Errorf("judged without what is known of the tire: %v", req.GetTires())
		}
		if on := d.tiresOn(other); on["2R"].GetId() != a || on["2R"].GetSidewall().GetMarking() == "" || on["2R"].GetSidewall().GetLoadRange() != "XL" {
			t.Errorf("%v", on)
		}
		if on := d.tiresOn(v); on["1L"] != nil {
			t.Errorf("still on the first vehicle: %v", on["1L"])
		}

		// What took its place was another tire; the one it drove out is on none.
		d.keep(newVisit(v, wheel("1R", tire(newID()))))
		for _, r := range d.rows() {
			if r.Key != tireKey(b) {
				continue
			}
			out := &pb.Tire{}
			if readRecord(t, r, out); out.GetPlace() != nil {
				t.Errorf("%v", out)
			}
		}
	})
}

// A correction of an old visit does not bring back a tire that has gone to
// another vehicle since, nor one that a later visit has replaced.
func TestACorrectionDoesNotBringTiresBack(t *testing.T) {
	a, b := newID(), newID()
	onEach(t, func(t *testing.T, d *desk) {
		v, other := d.keepVehicle(car()), d.keepVehicle(car())
		old := newVisit(v, wheel("1L", tire(a)), wheel("1R"))
		d.keep(old)
		nameless := d.tiresOn(v)["1R"].GetId()
		d.keep(newVisit(other, wheel("1L", tire(a))))
		d.keep(newVisit(v, wheel("2L", tire(b))))
		d.keep(correcting(old, newVisit(v, wheel("1L", tire(b)), wheel("1R"))))
		if on := d.tiresOn(v); on["1L"] != nil || on["2L"].GetId() != b || on["1R"].GetId() != nameless {
			t.Errorf("%v", on)
		}
		if on := d.tiresOn(other); on["1L"].GetId() != a {
			t.Errorf("%v", on)
		}
		again, rest := newVisit(v, wheel("1L", tire(a))), newVisit(v, wheel("1R", pressure))
		d.keep(again)
		d.keep(rest)
		d.keep(newVisit(other, wheel("2R", tire(a))))
		d.keep(correcting(rest, newVisit(v, wheel("1R", depth)))) // the visit that named it stands
		if on := d.tiresOn(v); on["1L"] != nil || on["1R"].GetId() != nameless {
			t.Errorf("%v", on)
		}
		d.keep(correcting(again, newVisit(v, wheel("1L"))))
		if on := d.tiresOn(other); on["2R"].GetId() != a {
			t.Errorf("%v", on)
		}
	})
}

func TestEarlierVisitsAreEvidence(t *testing.T) {
	a, b := newID(), newID()
	on := func(m int32, day int32, v *pb.Inspection) *pb.Inspection {
		v.LocalDate = &pb.CalendarDate{Year: 2026, Month: m, Day: day}
		return v
	}
	onEach(t, func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		first := on(1, 5, newVisit(v, wheel("1L", tire(a), depth, pressure, whole), wheel("1R", pressure)))
		first.DoneBy = "nobody needs to know later"
		d.keep(first)
		wrong := on(1, 6, newVisit(v, wheel("1L", tire(a), pressure)))
		d.keep(wrong)
		right := correcting(wrong, on(1, 6, newVisit(v, wheel("1L", tire(a), pressure))))
		d.keep(right)
		if got := earlierOf(d.firstJudged(right)); !slices.Equal(got, []string{first.GetId()}) {
			t.Errorf("the correction was judged after %v", got)
		}
		late := on(3, 1, newVisit(v, wheel("1R", pressure)))
		d.keep(late)
		if got := earlierOf(d.lastJudged()); !slices.Equal(got, []string{first.GetId(), right.GetId()}) {
			t.Errorf("judged after %v", got)
		}
		// A phone was without a network until now.
		other := on(2, 1, newVisit(v, wheel("1L", tire(b), depth), wheel("1R", depth)))
		d.keep(other)
		req := d.firstJudged(other)
		if got := earlierOf(req); !slices.Equal(got, []string{first.GetId(), right.GetId()}) {
			t.Errorf("the late visit was judged after %v", got)
		}
		// 1L has another tire: what the old one read is no evidence of it.
		for _, e := range req.GetEarlier() {
			for _, w := range e.GetWheels() {
				if w.GetPosition() == "1L" {
					t.Errorf("evidence of another tire: %v", w)
				}
			}
		}
		one := proto.CloneOf(req.GetEarlier()[0])
		if one.GetDoneBy() != "" || len(one.GetWheels()) != 1 || len(one.GetWheels()[0].GetPressures()) != 1 || one.GetWheels()[0].GetLooked() != nil {
			t.Errorf("%v", one)
		}
		for range 25 {
			d.keep(on(4, 1, newVisit(v, wheel("1L", tire(b), pressure))))
		}
		if n := len(d.lastJudged().GetEarlier()); n != earlierVisits {
			t.Errorf("%d earlier visits", n)
		}
	})
}

func earlierOf(req *pb.AssessVisitRequest) (ids []string) {
	for _, e := range req.GetEarlier() {
		ids = append(ids, e.GetId())
	}
	return ids
}

// Reassessed by the same judge, with the same knowledge, a visit means the same
// as then, whatever was recorded since.
func TestReassessedWithTheSameKnowledgeNothingDiffers(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		var visits []*pb.Inspection
		for i := range 6 {
			in := d.find(newVisit(v, wheel("1L", depth, pressure), wheel("1R", pressure)), found("tread.model-limit", "1L"))
			if i%3 == 2 {
				in.Wheels[1].TireId = newID()
				correcting(visits[i-1], in)
			}
			visits = append(visits, in)
			d.keep(in)
		}
		var then []*pb.AssessVisitRequest
		for _, in := range visits {
			then = append(then, d.firstJudged(in))
		}
		before := d.last()
		for i, in := range visits {
			out, err := d.Reassess(t.Context(), shop, in.GetId(), nil, nil)
			if err != nil {
				t.Fatal(err)
			}
			if out.Differs() {
				t.Errorf("visit %d: %v", i, out)
			}
			now := proto.CloneOf(d.lastJudged())
			if corrected := i%3 == 2 || i > 2; !corrected { // later corrections replace evidence
				sameMessage(t, "request", now, then[i])
			}
			if got, want := judgedTires(now), judgedTires(then[i]); !maps.Equal(got, want) {
				t.Errorf("visit %d: tires %v, then %v", i, got, want)
			}
			if basis := out.Now.GetAssessment().GetBasis(); basis.GetBookPosition() != decimal(before) {
				t.Errorf("book position %v", basis)
			}
		}
		// A judge who has learned, another rulebook, another day.
		d.find(visits[0], found("tread.model-limit", "1L"), found("tread.legal-limit", "1L"))
		by := &pb.JudgeBy{RulebookIds: []string{"uk-light"}, AsOf: theDay("2026-12-01")}
		out, err := d.Reassess(t.Context(), shop, visits[0].GetId(), nil, by)
		if err != nil || !slices.Equal(out.Now.GetAppeared(), []string{"tread.legal-limit[1L]"}) || len(out.Now.GetChanged())+len(out.Now.GetDisappeared()) > 0 {
			t.Errorf("%v: %v", out, err)
		}
		sameMessage(t, "judged by", d.lastJudged().GetJudgeBy(), by)
		milder := found("tread.model-limit", "1L")
		milder.Urgency = pb.Urgency_URGENCY_PLAN
		d.find(visits[0], milder)
		if out, err = d.Reassess(t.Context(), shop, visits[0].GetId(), nil, nil); err != nil || !slices.Equal(out.Now.GetChanged(), []string{"tread.model-limit[1L]"}) {
			t.Errorf("%v: %v", out, err)
		}
		d.find(visits[0])
		if out, err = d.Reassess(t.Context(), shop, visits[0].GetId(), nil, nil); err != nil || !slices.Equal(out.Now.GetDisappeared(), []string{"tread.model-limit[1L]"}) {
			t.Errorf("%v: %v", out, err)
		}
		_, err = d.Reassess(t.Context(), shop, newID(), nil, nil)
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_NOT_FOUND, "inspection_id")
	})
}

// Readings of a tire are evidence wherever on the vehicle it stands now, and no
// more once it is on none of its wheels.
func TestReadingsFollowATireToItsNewPlace(t *testing.T) {
	a, b, c := newID(), newID(), newID()
	onEach(t, func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		swapped := newVisit(v, wheel("1L", tire(b), depth), wheel("1R", tire(a), depth))
		another := newVisit(v, wheel("1L", tire(c), depth), wheel("1R", tire(a), depth))
		for _, in := range []*pb.Inspection{newVisit(v, wheel("1L", tire(a), depth), wheel("1R", tire(b), depth)), swapped, another} {
			d.keep(in)
		}
		for _, row := range []struct {
			now  *pb.Inspection
			want []string
		}{
			{swapped, []string{"1L " + a, "1R " + b}},
			{another, []string{"1L " + a, "1R " + a}},
		} {
			var got []string
			for _, e := range d.firstJudged(row.now).GetEarlier() {
				for _, w := range e.GetWheels() {
					got = append(got, w.GetPosition()+" "+w.GetTireId())
				}
			}
			if !slices.Equal(got, row.want) {
				t.Errorf("judged after %v, want %v", got, row.want)
			}
		}
	})
}

// What was known of a tire when a visit brought it is known when that visit, or one
// after it, is reassessed: neither less nor what a later visit has read.
func TestReassessedByWhatWasKnownOfATire(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		one, other := d.keepVehicle(car()), d.keepVehicle(car())
		known, fresh := newID(), newID()
		marked := func(marking string) option {
			return func(w *pb.WheelReport) { w.Sidewall = &pb.Sidewall{Marking: marking} }
		}
		d.keep(newVisit(one, wheel("1L", tire(known), marked("P225/60R16 97T"))))
		first := newVisit(other, wheel("1R", depth))
		visits := []*pb.Inspection{
			first,
			newVisit(other, wheel("1L", tire(known), depth), wheel("1R", tire(fresh), depth)),
			newVisit(other, wheel("1L", tire(known), pressure), wheel("1R", pressure)),
			newVisit(other, wheel("1R", marked("P215/60R16 94T"))),
			correcting(first, newVisit(other, wheel("1R", pressure))),
			newVisit(other, wheel("1L", depth), wheel("1R", depth)),
		}
		var then []*pb.AssessVisitRequest
		for _, in := range visits {
			d.keep(in)
			then = append(then, d.firstJudged(in))
		}
		for i, in := range visits {
			if _, err := d.Reassess(t.Context(), shop, in.GetId(), nil, nil); err != nil {
				t.Fatal(err)
			}
			if got, want := d.lastJudged().GetTires(), then[i].GetTires(); !slices.EqualFunc(got, want, func(a, b *pb.Tire) bool {
				return proto.Equal(a.GetSidewall(), b.GetSidewall()) && a.GetId() == b.GetId()
			}) {
				t.Errorf("visit %d: tires %v, then %v", i, got, want)
			}
		}
	})
}

// So many visits before are evidence, those that were corrected not counted, when it
// is recorded as when it is reassessed.
func TestCorrectedVisitsTakeNoPlaceOfEvidence(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		var last *pb.Inspection
		for range earlierVisits + 3 {
			last = newVisit(v)
			d.keep(last)
		}
		for range 5 {
			last = correcting(last, newVisit(v))
			d.keep(last)
		}
		now := newVisit(v)
		d.keep(now)
		then := earlierOf(d.lastJudged())
		if _, err := d.Reassess(t.Context(), shop, now.GetId(), nil, nil); err != nil {
			t.Fatal(err)
		}
		if again := earlierOf(d.lastJudged()); len(then) != earlierVisits || !slices.Equal(again, then) {
			t.Errorf("%d earlier visits, again %d", len(then), len(again))
		}
	})
}

// A rule cited otherwise is the same rule.
func TestAnotherCitationIsNoChange(t *testing.T) {
	was, now := found("tread.model-limit", "1L"), found("tread.model-limit", "1L")
	was.Rules, now.Rules = []*pb.Rule{{Id: "advice.wet", Citation: &pb.Said{Code: "source"}}}, []*pb.Rule{{Id: "advice.wet"}}
	was.OpenId = "of the record"
	judged := func(f *pb.Finding) *pb.Assessment { return &pb.Assessment{Findings: []*pb.Finding{f}} }
	if out, _ := difference(judged(was), judged(now)); len(out.GetChanged())+len(out.GetAppeared())+len(out.GetDisappeared()) > 0 {
		t.Errorf("%v", out)
	}
	now.Rules[0].Id = "advice.snow"
	if out, _ := difference(judged(was), judged(now)); len(out.GetChanged()) != 1 {
		t.Errorf("by another rule: %v", out)
	}
}

// A tire that a visit saw first at a wheel is known again as that, of four that one visit
// may have seen there, and of no other visit or wheel.
func TestATireThatAVisitSawFirst(t *testing.T) {
	for n, want := range []bool{true, true, true, true, false} {
		id := unnamedTire("root", "1L", n)
		if got := isSeenFirst("root", wheel("1L", tire(id))); got != want {
			t.Errorf("the one after %d others: %v", n, got)
		}
		if isSeenFirst("other", wheel("1L", tire(id))) || isSeenFirst("root", wheel("1R", tire(id))) {
			t.Errorf("the one after %d others, of another visit or wheel", n)
		}
	}
}
