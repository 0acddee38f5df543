package api

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"slices"
	"strings"
	"testing"
	"time"

	"google.golang.org/grpc/codes"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/types/known/timestamppb"
	"pgregory.net/rapid"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/badger"
	"gaugebook.dev/server/history/memory"
	"gaugebook.dev/server/judge"
)

func item(record proto.Message) *pb.OutboxItem {
	out := &pb.OutboxItem{}
	m := out.ProtoReflect()
	kinds := m.Descriptor().Oneofs().ByName("record").Fields()
	for i := range kinds.Len() {
		if fd := kinds.Get(i); fd.Message() == record.ProtoReflect().Descriptor() {
			m.Set(fd, protoreflect.ValueOfMessage(record.ProtoReflect()))
			return out
		}
	}
	panic(fmt.Sprintf("no item is a %T", record))
}

func (h *house) send(items ...*pb.OutboxItem) []*pb.ItemAnswer {
	h.t.Helper()
	out, err := pb.NewOutboxServiceClient(h.conn).SendBatch(h.bench(), &pb.SendBatchRequest{ShopId: shop, Items: items})
	if err != nil || len(out.GetAnswers()) != len(items) || out.GetEpoch() != h.store.Epoch().String() {
		h.t.Fatalf("%v: %v", out, err)
	}
	return out.GetAnswers()
}

// anAfternoon is what waits on a phone that was out of reach: two cars, a tire that was on
// one and is moved to the other, what was found on both, a repair, and what was decided
// and seen since. Everything refers to something before it.
func anAfternoon() []*pb.OutboxItem {
	one, two, tire := car(), car(), &pb.Tire{Id: newID(), Sidewall: &pb.Sidewall{Marking: "215/60R16 95H"}}
	at := func(minutes int) *timestamppb.Timestamp {
		return timestamppb.New(time.Now().Add(time.Duration(minutes-240) * time.Minute))
	}
	first := visit(one)
	first.TakenTime, first.Wheels[0].TireId = at(0), tire.GetId()
	first.Wheels[0].Tread = depths("1L", 1, 1, 1).GetTread()
	mended := proto.CloneOf(first)
	mended.Id, mended.Corrects = newID(), &pb.Correction{InspectionId: first.GetId(), Reason: "invented"}
	moves := &pb.TireMoves{Id: newID(), DoneTime: at(20), Moves: []*pb.TireMove{{
		TireId: tire.GetId(), To: &pb.TirePlace{Where: &pb.TirePlace_Mounted{Mounted: &pb.MountedPlace{VehicleId: two.GetId(), Position: "1R"}}},
	}}}
	second := visit(two)
	second.TakenTime = at(30)
	found := judge.For(judge.NoneOwn)(shop, &pb.AssessVisitRequest{Vehicle: one, Inspection: mended}).GetFindings()[0].GetId()
	moved := item(moves)
	moved.VehicleId = two.GetId()
	return []*pb.OutboxItem{
		item(one), item(two), item(tire), item(first), item(mended), moved, item(second),
		item(&pb.Repair{Id: newID(), TireId: tire.GetId(), DoneTime: at(40), Method: pb.RepairMethod_REPAIR_METHOD_COMBINATION}),
		item(&pb.VehicleEvent{Id: newID(), VehicleId: two.GetId(), DoneTime: at(50), What: &pb.VehicleEvent_Leaving{Leaving: &pb.Leaving{LeftBy: pb.LeftBy_LEFT_BY_DRIVEN}}}),
		item(&pb.Outcome{Id: newID(), InspectionId: mended.GetId(), FindingId: found, Decision: pb.Decision_DECISION_AUTHORIZED_TODAY}),
	}
}

// Whatever the order of the items, a batch takes all that it brings: nothing that it
// brings itself has not arrived yet. Sent again, all is there already, and nothing is
// kept twice.
func TestABatchIsTakenInAnyOrder(t *testing.T) {
	rapid.Check(t, func(draw *rapid.T) {
		h := inMemory(t)
		items := rapid.Permutation(anAfternoon()).Draw(draw, "order")
		for i, a := range h.send(items...) {
			if a.GetRecorded().GetNumber() == "" || a.GetRecorded().GetRepeatedCall() || a.GetId() != idOf(items[i]) {
				draw.Errorf("%v is answered %v", items[i], a)
			}
		}
		if n := h.drafts(); n != history.Number(len(items)) {
			draw.Errorf("%d items are %d drafts", len(items), n)
		}
		again := slices.DeleteFunc(items, func(i *pb.OutboxItem) bool { return i.GetVehicle() != nil || i.GetTire() != nil })
		before := h.drafts()
		for i, a := range h.send(again...) {
			if !a.GetRecorded().GetRepeatedCall() {
				draw.Errorf("%v again is answered %v", again[i], a)
			}
		}
		if h.drafts() != before {
			draw.Error("kept twice")
		}
	})
}

// The pieces of an afternoon in any order, each a batch of its own, cut off and sent again:
// once all has been sent, and sent until nothing is told that has not arrived, it is all
// there once.
func TestBatchesArriveInAnyOrder(t *testing.T) {
	rapid.Check(t, func(draw *rapid.T) {
		h := inMemory(t)
		waiting := rapid.Permutation(anAfternoon()).Draw(draw, "order")
		all := len(waiting)
		for turn := 0; len(waiting) > 0; turn++ {
			if turn > 3*all {
				draw.Fatalf("still waiting: %v", waiting)
			}
			n := rapid.IntRange(1, len(waiting)).Draw(draw, "in one")
			batch := waiting[:n]
			answers := h.send(batch...)
			if rapid.Bool().Draw(draw, "answer lost") && turn <= all {
				continue
			}
			var left []*pb.OutboxItem
			for i, a := range answers {
				switch r := a.GetRefused(); {
				case r == nil:
				case r.GetReason() == pb.ErrorReason_ERROR_REASON_NOT_YET && r.GetRemedy() == pb.Remedy_REMEDY_SEND_AGAIN && r.GetMissingId() != "":
					left = append(left, batch[i])
				case r.GetReason() == pb.ErrorReason_ERROR_REASON_REVISION_STALE: // a vehicle or tire that was taken, and whose answer was lost
				default:
					draw.Fatalf("%v is answered %v", batch[i], a)
				}
			}
			waiting = append(slices.Clone(waiting[n:]), left...)
		}
		if n := h.drafts(); n != history.Number(all) {
			draw.Errorf("%d items are %d drafts", all, n)
		}
	})
}

// Each item is answered as its single call is, and one that is refused keeps no other from
// being taken.
func TestItemsAreAnsweredAsTheirCallsAre(t *testing.T) {
	h := inMemory(t)
	v, lost := car(), car()
	wrong, early, bare := visit(v), visit(lost), &pb.OutboxItem{}
	wrong.Wheels[0].Position = "9L"
	wrong.Wheels[0].Pressures[0].Pressure = psi(-3)
	taken := visit(v)
	other := proto.CloneOf(taken)
	other.Wheels[0].Pressures[0].Pressure = psi(29)
	stray := item(visit(v))
	stray.VehicleId, stray.Rotation, stray.Clear = v.GetId(), &pb.ProposedRotation{}, []string{"tag"}
	answers := h.send(item(wrong), item(early), item(taken), bare, item(other), stray, item(v))
	for i, want := range []struct {
		reason pb.ErrorReason
		remedy pb.Remedy
		paths  []string
		about  string
	}{
		{pb.ErrorReason_ERROR_REASON_FIELD_INVALID, pb.Remedy_REMEDY_MEND_FIRST, []string{"inspection.wheels[0].pressures[0].pressure"}, ""},
		{pb.ErrorReason_ERROR_REASON_NOT_YET, pb.Remedy_REMEDY_SEND_AGAIN, []string{"inspection.vehicleId"}, lost.GetId()},
		{},
		{pb.ErrorReason_ERROR_REASON_FIELD_INVALID, pb.Remedy_REMEDY_MEND_FIRST, []string{"record"}, ""},
		{pb.ErrorReason_ERROR_REASON_ID_TAKEN, pb.Remedy_REMEDY_MEND_FIRST, []string{"inspection.id"}, ""},
		{pb.ErrorReason_ERROR_REASON_FIELD_INVALID, pb.Remedy_REMEDY_MEND_FIRST, []string{"vehicleId", "rotation", "clear"}, ""},
		{},
	} {
		got := answers[i].GetRefused()
		var paths []string
		for _, f := range got.GetFields() {
			paths = append(paths, f.GetPath())
			if f.GetProblem() == "" {
				t.Errorf("%d: nothing is said of %s", i, f.GetPath())
			}
		}
		if got.GetReason() != want.reason || got.GetRemedy() != want.remedy || !slices.Equal(paths, want.paths) || got.GetMissingId() != want.about || (got != nil) != (got.GetMessage() != "") {
			t.Errorf("%d: %v, want %v", i, answers[i], want)
		}
	}
	if h.drafts() != 2 {
		t.Errorf("%d drafts", h.drafts())
	}
	for _, single := range []*pb.Inspection{wrong, early, other} {
		i := slices.Index([]*pb.Inspection{wrong, early, nil, nil, other}, single)
		if r := read(t, h.record(single)); r.Message() != answers[i].GetRefused().GetMessage() || "ERROR_REASON_"+r.reason != answers[i].GetRefused().GetReason().String() {
			t.Errorf("the single call says %v, the batch %v", r, answers[i])
		}
	}
}

// What no batch is.
func TestBatchesHaveOneToAHundredItems(t *testing.T) {
	h := inMemory(t)
	many := make([]*pb.OutboxItem, 101)
	for i := range many {
		many[i] = item(car())
	}
	for _, items := range [][]*pb.OutboxItem{nil, many} {
		_, err := pb.NewOutboxServiceClient(h.conn).SendBatch(h.bench(), &pb.SendBatchRequest{ShopId: shop, Items: items})
		refused(t, err, "items")
	}
	if h.drafts() != 0 {
		t.Errorf("%d drafts", h.drafts())
	}
	h.send(many[:100]...)
	if h.drafts() != 100 {
		t.Errorf("%d drafts", h.drafts())
	}
}

// Every kind of record that a phone may record by a single call fits an item.
func TestEveryRecordFitsABatch(t *testing.T) {
	kinds := (&pb.OutboxItem{}).ProtoReflect().Descriptor().Oneofs().ByName("record").Fields()
	var have []string
	for i := range kinds.Len() {
		have = append(have, string(kinds.Get(i).Message().Name()))
	}
	for name, m := range contract(t) {
		if verb := string(m.Name()); !strings.Contains(may[name], "b") || !strings.HasPrefix(verb, "Record") && verb != "MoveTires" {
			continue
		}
		if carries := m.Input().Fields().ByNumber(2); carries.Kind() == protoreflect.MessageKind && !slices.Contains(have, string(carries.Message().Name())) {
			t.Errorf("%s: no item is a %s", name, carries.Message().Name())
		}
	}
}

// 100 records of 100 vehicles share at most 8 syncs, and what a chain of four records of
// each of 25 needs is no more.
func TestABatchSharesSyncs(t *testing.T) {
	store, err := badger.Open(t.TempDir(), badger.Options{})
	if err != nil {
		t.Fatal(err)
	}
	h := newHouse(t, store)
	var cars, visits, mixed []*pb.OutboxItem
	for range 100 {
		v := car()
		cars, visits = append(cars, item(v)), append(visits, item(visit(v)))
	}
	for range 25 {
		v := car()
		in := visit(v)
		tire := &pb.Tire{Id: newID(), Sidewall: &pb.Sidewall{Marking: "215/60R16 95H"}}
		in.Wheels[0].TireId = tire.GetId()
		mixed = append(mixed, item(in), item(tire), item(v), item(&pb.Repair{Id: newID(), TireId: tire.GetId(), Method: pb.RepairMethod_REPAIR_METHOD_COMBINATION}))
	}
	for name, items := range map[string][][]*pb.OutboxItem{"vehicles, then their visits": {cars, visits}, "four of each": {mixed}} {
		for _, batch := range items {
			before := store.Stats().Syncs
			for _, a := range h.send(batch...) {
				if a.GetRecorded() == nil {
					t.Fatalf("%s: %v", name, a)
				}
			}
			if n := store.Stats().Syncs - before; n > 8 {
				t.Errorf("%s: %d items took %d syncs", name, len(batch), n)
			}
		}
	}
}

// A store that fails under a batch refuses each item that it did not keep, to be sent
// again, and one whose program falls over is told so without its cause.
func TestABatchOverABrokenStore(t *testing.T) {
	store := &breaking{Store: memory.New()}
	h := newHouse(t, store)
	store.err = &history.DiskNearlyFullError{Free: 12345, Needed: 67890}
	for _, a := range h.send(item(car()), item(car())) {
		if r := a.GetRefused(); r.GetReason() != pb.ErrorReason_ERROR_REASON_DISK_NEARLY_FULL || r.GetRemedy() != pb.Remedy_REMEDY_SEND_AGAIN {
			t.Errorf("%v", a)
		}
	}
	store.err = errors.New("secret")
	for _, a := range h.send(item(car()), item(car())) {
		if r := a.GetRefused(); r.GetReason() != pb.ErrorReason_ERROR_REASON_UNSPECIFIED || r.GetRemedy() != pb.Remedy_REMEDY_ASK_A_PERSON || strings.Contains(r.GetMessage(), "secret") {
			t.Errorf("%v", a)
		}
	}
	if !strings.Contains(h.said.String(), "secret") {
		t.Error("the log does not say why")
	}
	ended, cancel := context.WithCancel(h.bench())
	cancel()
	if _, err := pb.NewOutboxServiceClient(h.conn).SendBatch(ended, &pb.SendBatchRequest{ShopId: shop, Items: []*pb.OutboxItem{item(car())}}); read(t, err).Code() != codes.Canceled {
		t.Error(err)
	}
}

// What a batch of 100 visits of 100 vehicles takes beside single calls, on disk, turn by turn:
// how many of them take as long.
func BenchmarkBatch(b *testing.B) {
	store, err := badger.Open(b.TempDir(), badger.Options{})
	if err != nil {
		b.Fatal(err)
	}
	defer func() { _ = store.Close() }()
	s := New(book.New(store, judge.For(judge.NoneOwn), time.Now), nil, About{}, slog.New(slog.DiscardHandler))
	var cars []*pb.Vehicle
	for range 100 {
		v := car()
		cars = append(cars, v)
		if _, err := s.RecordVehicle(b.Context(), &pb.RecordVehicleRequest{ShopId: shop, Vehicle: v}); err != nil {
			b.Fatal(err)
		}
	}
	var ratios []float64
	for b.Loop() {
		batch := &pb.SendBatchRequest{ShopId: shop}
		for _, v := range cars {
			batch.Items = append(batch.Items, item(visit(v)))
		}
		begin := time.Now()
		for _, v := range cars {
			if _, err := s.RecordInspection(b.Context(), &pb.RecordInspectionRequest{ShopId: shop, Inspection: visit(v)}); err != nil {
				b.Fatal(err)
			}
		}
		single := time.Since(begin) / 100
		begin = time.Now()
		if _, err := s.SendBatch(b.Context(), batch); err != nil {
			b.Fatal(err)
		}
		took := time.Since(begin)
		ratios = append(ratios, float64(took)/float64(single))
	}
	slices.Sort(ratios)
	b.ReportMetric(ratios[len(ratios)/2], "singles")
}
