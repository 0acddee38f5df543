package book_test

import (
	"bufio"
	"encoding/json"
	"errors"
	"os"
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"
	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/check"
	"gaugebook.dev/server/history/memory"
	"gaugebook.dev/server/judge"
)

// corpus gives the vehicles of the corpus with their visits, the earlier ones
// first, under ids of their own.
func corpus(t *testing.T, each func(name string, v *pb.Vehicle, visits []*pb.Inspection)) {
	t.Helper()
	f, err := os.Open("../../testdata/corpus/visits.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	lines := bufio.NewScanner(f)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		var line struct {
			Name  string          `json:"name"`
			Visit json.RawMessage `json:"visit"`
		}
		req := &pb.AssessVisitRequest{}
		if err := errors.Join(json.Unmarshal(lines.Bytes(), &line), protojson.Unmarshal(line.Visit, req)); err != nil {
			t.Fatal(err)
		}
		v, visits := req.GetVehicle(), append(req.GetEarlier(), req.GetInspection())
		if v == nil {
			v = &pb.Vehicle{}
		}
		v.Id = uuid.NewString()
		for _, in := range visits {
			in.Id, in.VehicleId, in.Corrects = uuid.NewString(), v.GetId(), nil
			for _, w := range in.GetWheels() { // each vehicle has tires of its own
				if w.GetTireId() != "" {
					w.TireId = uuid.NewSHA1(uuid.NameSpaceOID, []byte(v.GetId()+w.GetTireId())).String()
				}
			}
		}
		each(line.Name, v, visits)
	}
	if err := lines.Err(); err != nil {
		t.Fatal(err)
	}
}

// every is which of the corpus's visits are gone through.
var every = 1

// Judged again by the same engine and rulebooks, with the same knowledge, nothing
// differs; and nothing is stored.
func TestReassessedByTheSameNothingDiffers(t *testing.T) {
	store := memory.New()
	b := book.New(store, judge.For(judge.NoneOwn), time.Now)
	const shop = "north"
	var kept []string
	n := 0
	corpus(t, func(name string, v *pb.Vehicle, visits []*pb.Inspection) {
		if n++; n%every != 0 {
			return
		}
		if _, err := b.RecordVehicle(t.Context(), shop, v, nil); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for _, in := range visits {
			visit, problems := check.NewVisit("inspection", in)
			if len(problems) > 0 {
				continue // an earlier visit that stands only beside another
			}
			_, err := b.RecordInspection(t.Context(), shop, book.Sender{}, visit)
			if mismatch := (*book.Mismatch)(nil); errors.As(err, &mismatch) {
				continue // the same, of other axles
			}
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			kept = append(kept, in.GetId())
		}
	})
	before := last(t, store, shop)
	var seen []string
	for visit, err := range b.Visits(t.Context(), shop) {
		if err != nil {
			t.Fatal(err)
		}
		seen = append(seen, visit.ID)
		a, err := b.Reassess(t.Context(), shop, visit.ID, nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		if a.Differs() {
			t.Errorf("%s: appeared %v, disappeared %v, changed %v, other parts %v", visit.ID, a.Now.GetAppeared(), a.Now.GetDisappeared(), a.Now.GetChanged(), a.OtherParts)
		}
	}
	if !slices.Equal(seen, kept) || len(kept) < 250/every {
		t.Errorf("%d visits were gone through, %d are kept", len(seen), len(kept))
	}
	if now := last(t, store, shop); now != before {
		t.Errorf("%d entries became %d", before, now)
	}
}

func last(t *testing.T, store *memory.Store, shop string) uint64 {
	t.Helper()
	snap, err := store.Snapshot(t.Context(), shop)
	if err != nil {
		t.Fatal(err)
	}
	defer snap.Close()
	n, err := snap.Last(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return uint64(n)
}

// threeAxles is a vehicle of three axles and a visit that read a tire on the last.
func threeAxles() (*pb.Vehicle, *pb.Inspection) {
	v := &pb.Vehicle{Id: uuid.NewString(), Axles: &pb.Axles{Axles: []*pb.Axle{{}, {}, {}}}}
	return v, &pb.Inspection{
		Id: uuid.NewString(), VehicleId: v.GetId(), LocalDate: &pb.CalendarDate{Year: 2026, Month: 3, Day: 2},
		Wheels: []*pb.WheelReport{{Position: "3L", Tread: []*pb.TreadReading{{
			Place: &pb.Place{Across: pb.Across_ACROSS_CENTER}, Depth: &pb.Depth{AsRead: &pb.Depth_Millimeters{Millimeters: 1.5}},
		}}}},
	}
}

// A visit to a wheel that the vehicle, by what was recorded of it since, does not
// have cannot be judged again, and says so; later ones can.
func TestAVisitThatFitsItsVehicleNoMore(t *testing.T) {
	b := book.New(memory.New(), judge.For(judge.NoneOwn), time.Now)
	v, visit := threeAxles()
	recorded, err := b.RecordVehicle(t.Context(), "north", v, nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.RecordInspection(t.Context(), "north", book.Sender{}, checked(t, visit)); err != nil {
		t.Fatal(err)
	}
	shorter := &pb.Vehicle{Id: v.GetId(), Revision: recorded.GetRevision(), Axles: &pb.Axles{Axles: v.GetAxles().GetAxles()[:2]}}
	if _, err := b.RecordVehicle(t.Context(), "north", shorter, nil); err != nil {
		t.Fatal(err)
	}
	_, err = b.Reassess(t.Context(), "north", visit.GetId(), nil, nil)
	if mismatch := (*book.Mismatch)(nil); !errors.As(err, &mismatch) || mismatch.Problems[0].Path != "inspection.wheels[0].position" {
		t.Errorf("judged again: %v", err)
	}
	later := proto.CloneOf(visit)
	later.Id, later.Wheels[0].Position = uuid.NewString(), "2L"
	if _, err := b.RecordInspection(t.Context(), "north", book.Sender{}, checked(t, later)); err != nil {
		t.Fatal(err)
	}
	if a, err := b.Reassess(t.Context(), "north", later.GetId(), nil, nil); err != nil || a.Differs() {
		t.Errorf("%v, %v", a, err)
	}
}

// Any version of a rulebook may be named: the winter depth of Austria came with its
// second (KDV § 4 Abs. 4).
func TestReassessedByAVersion(t *testing.T) {
	b := book.New(memory.New(), judge.For(judge.NoneOwn), time.Now)
	v, visit := threeAxles()
	v.VehicleClass, v.GrossRating = pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR, &pb.Mass{AsRead: &pb.Mass_Kilograms{Kilograms: 1900}}
	v.Axles.Axles, v.Use = v.GetAxles().GetAxles()[:2], &pb.VehicleUse{RegisteredIn: &pb.Jurisdiction{Country: "AT"}}
	visit.Wheels[0].Position = "2L"
	if _, err := b.RecordVehicle(t.Context(), "north", v, nil); err != nil {
		t.Fatal(err)
	}
	if _, err := b.RecordInspection(t.Context(), "north", book.Sender{}, checked(t, visit)); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		asked                 string
		by                    []string
		appeared, disappeared []string
	}{
		{"", []string{"eu-at@2"}, nil, nil},
		{"eu-at", []string{"eu-at@2"}, nil, nil},
		{"eu-at@1", []string{"eu-at@1"}, nil, nil},
		{"us-light@1", []string{"us-light@1"}, []string{"tread.model-limit us-light.depth"}, []string{"tread.legal-limit eu-at.depth"}},
	} {
		by := &pb.JudgeBy{}
		if c.asked != "" {
			by.RulebookIds = []string{c.asked}
		}
		a, err := b.Reassess(t.Context(), "north", visit.GetId(), nil, by)
		if err != nil {
			t.Fatal(err)
		}
		if by := a.Now.GetAssessment().GetBasis().GetRulebooks(); !slices.Equal(by, c.by) {
			t.Errorf("%q: judged by %v, want %v", c.asked, by, c.by)
		}
		for _, want := range c.appeared {
			if appeared := named(a.Now.GetAssessment(), a.Now.GetAppeared()); !slices.Contains(appeared, want) {
				t.Errorf("%q: appeared %v, want %s", c.asked, appeared, want)
			}
		}
		for _, want := range c.disappeared {
			if disappeared := named(a.Kept.GetAssessment(), a.Now.GetDisappeared()); !slices.Contains(disappeared, want) {
				t.Errorf("%q: disappeared %v, want %s", c.asked, disappeared, want)
			}
		}
		if then := a.Kept.GetAssessment().GetBasis().GetRulebooks(); !slices.Equal(then, []string{"eu-at@2"}) {
			t.Errorf("%q: then judged by %v", c.asked, then)
		}
	}
}

// named are the codes and rules of findings by their ids.
func named(a *pb.Assessment, ids []string) (all []string) {
	for _, f := range a.GetFindings() {
		if slices.Contains(ids, f.GetId()) && len(f.GetRules()) > 0 {
			all = append(all, f.GetCode()+" "+f.GetRules()[0].GetId())
		}
	}
	return all
}

// The day of a visit is its own, or else that at the shop when it was taken, or
// when it was recorded.
func TestVisitsOfEarlierDaysAreLeftOut(t *testing.T) {
	recorded := time.Date(2026, 3, 5, 3, 0, 0, 0, time.UTC) // the evening before in New York
	b := book.New(memory.New(), judge.For(judge.NoneOwn), func() time.Time { return recorded })
	if _, err := b.UpdateShop(t.Context(), "north", &pb.Shop{TimeZone: "America/New_York"}, nil); err != nil {
		t.Fatal(err)
	}
	v, dated := threeAxles()
	undated := proto.CloneOf(dated)
	undated.Id, undated.LocalDate = uuid.NewString(), nil
	if _, err := b.RecordVehicle(t.Context(), "north", v, nil); err != nil {
		t.Fatal(err)
	}
	for _, in := range []*pb.Inspection{dated, undated} {
		if _, err := b.RecordInspection(t.Context(), "north", book.Sender{}, checked(t, in)); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		visit *pb.Inspection
		since int32
		left  bool
	}{{dated, 2, false}, {dated, 3, true}, {undated, 4, false}, {undated, 5, true}} {
		a, err := b.Reassess(t.Context(), "north", c.visit.GetId(), &pb.CalendarDate{Year: 2026, Month: 3, Day: c.since}, nil)
		if err != nil || (a == nil) != c.left {
			t.Errorf("since March %d: %v, %v", c.since, a, err)
		}
	}
}
