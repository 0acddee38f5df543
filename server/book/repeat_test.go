package book

import (
	"context"
	"errors"
	"slices"
	"sync"
	"testing"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
)

func TestARepeatedVisitGivesTheFirstAnswer(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		in := d.find(newVisit(v), found("tread.model-limit", "1L"))
		first := d.keep(in)
		d.keep(newVisit(v)) // what follows changes nothing of it
		d.find(in)          // nor does a judgement that has learned
		before := d.last()
		if d.reopen != nil {
			d.again()
		}
		again, err := d.record(proto.CloneOf(in))
		if err != nil || !again.GetRecorded().GetRepeatedCall() {
			t.Fatalf("%v: %v", again.GetRecorded(), err)
		}
		sameMessage(t, "again", asFirst(again), first)
		if d.last() != before {
			t.Error("the repetition was stored")
		}

		correction := d.keep(correcting(in, newVisit(v)))
		again, err = d.record(in)
		if err != nil || again.GetReplacedBy() != correction.GetInspection().GetId() {
			t.Errorf("corrected since by %q: %v", again.GetReplacedBy(), err)
		}
	})
}

func TestSixteenAtOnceKeepOneVisit(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		in := newVisit(v)
		answers := make([]*pb.KeptInspection, 16)
		first := make([]bool, len(answers))
		var all sync.WaitGroup
		for i := range answers {
			all.Go(func() {
				kept, err := d.record(proto.CloneOf(in))
				if err != nil {
					t.Error(err)
				}
				first[i] = !kept.GetRecorded().GetRepeatedCall()
				answers[i] = asFirst(kept)
			})
		}
		all.Wait()
		for _, a := range answers {
			sameMessage(t, "answer", a, answers[0])
		}
		first = slices.DeleteFunc(first, func(f bool) bool { return !f })
		if len(first) != 1 || d.last() != 2 {
			t.Errorf("%d were first, %d drafts are stored", len(first), d.last())
		}
	})
}

// asFirst is an answer without the word that it was given before.
func asFirst(kept *pb.KeptInspection) *pb.KeptInspection {
	kept = proto.CloneOf(kept)
	if kept.GetRecorded() != nil {
		kept.Recorded.RepeatedCall = false
	}
	return kept
}

// A failing store answers its next commit with an error, whether or not it has
// stored the draft.
type failing struct {
	history.Store
	stores bool
	err    error
}

func (f *failing) Commit(ctx context.Context, draft history.Draft) (history.Number, error) {
	if f.err == nil {
		return f.Store.Commit(ctx, draft)
	}
	err := f.err
	f.err = nil
	if f.stores {
		if _, err := f.Store.Commit(ctx, draft); err != nil {
			return 0, err
		}
	}
	return 0, err
}

func TestRepeatedAfterAnyFailureGivesTheFirstAnswer(t *testing.T) {
	lost := []struct {
		name   string
		stores bool
		err    error
	}{
		{"stored, and the answer was lost", true, errors.New("lost")},
		{"stored, and nobody knows", true, &history.ReadOnlyError{Cause: errors.New("sync"), Unsure: true}},
		{"not stored, and nobody knows", false, &history.ReadOnlyError{Cause: errors.New("sync"), Unsure: true}},
		{"not stored", false, &history.DiskNearlyFullError{}},
		{"canceled", false, context.Canceled},
		{"past the deadline", false, context.DeadlineExceeded},
	}
	onEach(t, func(t *testing.T, d *desk) {
		for _, row := range lost {
			t.Run(row.name, func(t *testing.T) {
				sound := d.store
				fault := &failing{Store: sound}
				d.store = fault
				defer func() { d.store = sound }()
				before := d.last()

				v := car()
				fault.stores, fault.err = row.stores, row.err
				if _, err := d.recordVehicle(v); !errors.Is(err, row.err) {
					t.Fatal(err)
				}
				recorded, err := d.recordVehicle(v)
				if err != nil || recorded.GetRepeatedCall() != row.stores {
					t.Fatalf("%v: %v", recorded, err)
				}
				if got := d.vehicle(v).GetVehicle().GetRevision(); got != recorded.GetRevision() || got != recorded.GetNumber() {
					t.Errorf("recorded %v, is at %s", recorded, got)
				}

				in := newVisit(v)
				fault.stores, fault.err = row.stores, row.err
				if _, err := d.record(in); !errors.Is(err, row.err) {
					t.Fatal(err)
				}
				first, err := d.record(in)
				if err != nil || first.GetRecorded().GetRepeatedCall() != row.stores {
					t.Fatalf("%v: %v", first.GetRecorded(), err)
				}
				again, err := d.GetInspection(t.Context(), shop, in.GetId())
				if err != nil {
					t.Fatal(err)
				}
				sameMessage(t, "visit", again.KeptInspection, asFirst(first))
				if n := d.last() - before; n != 2 {
					t.Errorf("%d drafts for one vehicle and one visit", n)
				}
			})
		}
	})
}

// Somebody else may be faster: the command reads and decides again, a few times.
func TestStaleDraftsAreDecidedAgain(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		busy := &stale{Store: d.store, times: tries - 1}
		d.store = busy
		d.keep(newVisit(v))
		before := d.last()
		busy.times = tries
		_, err := d.record(newVisit(v))
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_CONTENDED, "")
	})
}

type stale struct {
	history.Store
	times int
}

func (s *stale) Commit(ctx context.Context, draft history.Draft) (history.Number, error) {
	if s.times > 0 {
		s.times--
		return 0, &history.StaleError{Key: draft.Expect[0].Key}
	}
	return s.Store.Commit(ctx, draft)
}

func TestAnotherRecordUnderAnIdIsRefused(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v, other := d.keepVehicle(car()), d.keepVehicle(car())
		in := newVisit(v)
		d.keep(in)
		before := d.last()
		for name, spoil := range map[string]func(*pb.Inspection){
			"another reading":  func(c *pb.Inspection) { c.Wheels[0].Pressures[0].Pressure = psi(31) },
			"another vehicle":  func(c *pb.Inspection) { c.VehicleId = other.GetId() },
			"a field more":     func(c *pb.Inspection) { c.DoneBy = "night shift" },
			"an unknown field": func(c *pb.Inspection) { c.ProtoReflect().SetUnknown([]byte{0xc8, 0x3e, 1}) }, // field 1001
		} {
			c := proto.CloneOf(in)
			spoil(c)
			_, err := d.record(c)
			if r := d.refused(before, err, pb.ErrorReason_ERROR_REASON_ID_TAKEN, "inspection.id"); r.Metadata["id"] != in.GetId() {
				t.Errorf("%s: %v", name, r.Metadata)
			}
		}
		taken := car()
		taken.Id = v.GetId()
		taken.Tag = "another"
		_, err := d.recordVehicle(taken)
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_ID_TAKEN, "vehicle.id")
		if _, err := d.GetInspection(t.Context(), "south", in.GetId()); err == nil {
			t.Error("another shop sees the visit")
		}
	})
}

func TestUnknownFieldsOfANewerPhoneAreKeptWhole(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		in := newVisit(d.keepVehicle(car()))
		in.Wheels[0].ProtoReflect().SetUnknown([]byte{0xc8, 0x3e, 1}) // field 1001
		d.keep(in)
		kept, err := d.GetInspection(t.Context(), shop, in.GetId())
		if err != nil {
			t.Fatal(err)
		}
		sameMessage(t, "kept", kept.GetInspection(), in)
		if again, err := d.record(in); err != nil || !again.GetRecorded().GetRepeatedCall() {
			t.Errorf("%v: %v", again, err)
		}
	})
}
