package book_test

import (
	"slices"
	"testing"
	"time"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/history/memory"
	"gaugebook.dev/server/judge"
)

// A law that is read later never changes the kept answer of an earlier visit. Judged anew
// the visit is judged by the new version only from that one's first day on, and then what
// it would change is told. Every book of a law that has a former version is taken: first
// as it was before its newest, then with it.
func TestALawReadLater(t *testing.T) {
	visited := unit.Date{Year: 2026, Month: 3, Day: 2}
	for _, law := range rulebook.All() {
		if law.Country == "" || law.Version == 1 || law.Repairs != nil || law.ID == "us-commercial" {
			continue
		}
		t.Run(law.ID, func(t *testing.T) {
			defer func() { law.InForce = unit.Date{} }()
			law.InForce = visited.After(1)
			b := book.New(memory.New(), judge.For(judge.NoneOwn), time.Now)
			v, visit := threeAxles()
			v.VehicleClass, v.GrossRating = pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR, &pb.Mass{AsRead: &pb.Mass_Kilograms{Kilograms: 1900}}
			if law.Binds.RatingOver > 0 {
				v.VehicleClass, v.GrossRating = pb.VehicleClass_VEHICLE_CLASS_HEAVY, &pb.Mass{AsRead: &pb.Mass_Kilograms{Kilograms: 18_000}}
			}
			v.Axles.Axles = v.GetAxles().GetAxles()[:2]
			v.Use = &pb.VehicleUse{RegisteredIn: &pb.Jurisdiction{Country: law.Country, State: law.Binds.State}, BusinessAcrossStateLines: pb.Answer_ANSWER_NO, Tows: pb.Answer_ANSWER_NO}
			visit.Wheels[0].Position = "2L"
			if _, err := b.RecordVehicle(t.Context(), "north", v, nil); err != nil {
				t.Fatal(err)
			}
			if _, err := b.RecordInspection(t.Context(), "north", book.Sender{}, checked(t, visit)); err != nil {
				t.Fatal(err)
			}
			again := func() *book.Reassessed {
				a, err := b.Reassess(t.Context(), "north", visit.GetId(), nil, nil)
				if err != nil {
					t.Fatal(err)
				}
				return a
			}
			before := again()
			if old := before.Kept.GetAssessment().GetBasis().GetRulebooks(); slices.Contains(old, law.Name()) || before.Differs() {
				t.Fatalf("before the first day of %s: judged by %v; judged anew it differs: %v", law.Name(), old, before.Differs())
			}
			law.InForce = visited
			after := again()
			if !proto.Equal(before.Kept, after.Kept) {
				t.Error("the kept answer changed")
			}
			if now := after.Now.GetAssessment().GetBasis().GetRulebooks(); !slices.Contains(now, law.Name()) {
				t.Errorf("from its first day on: judged by %v, want %s", now, law.Name())
			}
		})
	}
}
