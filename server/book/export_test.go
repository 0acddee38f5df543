package book

import (
	"fmt"
	"slices"
	"testing"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history/memory"
)

// exported is all that is recorded of the shop.
func (d *desk) exported(persons bool) (all []*rows.Exported) {
	d.t.Helper()
	err := d.Export(d.t.Context(), shop, persons, func(r *rows.Exported) error {
		all = append(all, proto.CloneOf(r))
		return nil
	})
	if err != nil {
		d.t.Fatal(err)
	}
	return all
}

// importOne imports a record.
func (d *desk) importOne(r *rows.Exported) (repeated bool, err error) {
	on, ctx := d.Importing(r.GetCountedTime()), d.t.Context()
	recorded, err := func() (interface{ GetRepeatedCall() bool }, error) {
		switch of := r.GetRecord().(type) {
		case *rows.Exported_Vehicle:
			return on.RecordVehicle(ctx, shop, of.Vehicle, nil)
		case *rows.Exported_Tire:
			return on.RecordTire(ctx, shop, of.Tire, nil)
		case *rows.Exported_Inspection:
			kept, err := on.RecordInspection(ctx, shop, Sender{}, checked(d.t, of.Inspection))
			return kept.GetRecorded(), err
		case *rows.Exported_Moves:
			return on.MoveTires(ctx, shop, r.GetVehicleId(), of.Moves, nil)
		case *rows.Exported_Repair:
			return on.RecordRepair(ctx, shop, of.Repair)
		case *rows.Exported_Event:
			return on.RecordEvent(ctx, shop, of.Event)
		case *rows.Exported_Outcome:
			out, err := on.RecordOutcome(ctx, shop, "", of.Outcome)
			return out.Recorded, err
		}
		return nil, fmt.Errorf("a record of %T", r.GetRecord())
	}()
	return err == nil && recorded.GetRepeatedCall(), err
}

// What is exported and imported into an empty book is exported from there as it was, and is
// there when it is imported into the same book again; the other book has nothing open and
// verifies, and each vehicle there has the tires that it has here.
func TestExportedImportedAndExportedAgain(t *testing.T) {
	for seed := range uint64(3) {
		d := walked(t, seed, 120)
		all := d.exported(true)
		other := newDesk(t, memory.New(), nil)
		other.finds, other.clock = d.finds, d.clock
		kinds := map[string]int{}
		for _, r := range all {
			kinds[r.GetKind()]++
			if repeated, err := other.importOne(r); err != nil || repeated {
				t.Fatalf("seed %d: %v of %s", seed, err, protojson.Format(r))
			}
		}
		if len(kinds) < 5 {
			t.Errorf("seed %d: kinds %v", seed, kinds)
		}
		again := other.exported(true)
		if i := slices.IndexFunc(all, func(r *rows.Exported) bool {
			i := slices.Index(all, r)
			return i >= len(again) || !proto.Equal(r, again[i])
		}); i >= 0 || len(all) != len(again) {
			t.Fatalf("seed %d: %d records, then %d; the first that differs:\n%v\n%v", seed, len(all), len(again), all[max(i, 0)], again[min(max(i, 0), len(again)-1)])
		}
		other.nothingToDo("")
		for _, r := range all {
			for name, on := range map[string]*desk{"there": other, "here": d} {
				if repeated, err := on.importOne(r); err != nil || !repeated {
					t.Fatalf("seed %d, again %s: %v of %s", seed, name, err, protojson.Format(r))
				}
			}
			if v := r.GetVehicle(); v != nil {
				was, is := d.vehicle(v).GetTires(), other.vehicle(v).GetTires()
				for i := range max(len(was), len(is)) {
					if i >= len(was) || i >= len(is) || !proto.Equal(was[i], is[i]) {
						t.Errorf("seed %d: tires %v, then %v", seed, was, is)
						break
					}
				}
			}
		}
	}
}
