package app_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/uuid"
	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// stores are folders of books that former versions of the program wrote, one for
// each format. What was written once is read for ever.
const (
	stores      = root + "/testdata/store"
	newestStore = "format-2"
	filesFile   = "files.txt" // name and size of each file of the book
	toldFile    = "told.txt"  // what the book told when it was written
)

// Every program opens the books of those before it, and tells all of what is in
// them: each visit as it was judged then, in every language. A book of a new format
// is written with -update where there is none yet; one that is there stays.
func TestEveryFormerBookIsToldWhole(t *testing.T) {
	newest := filepath.Join(stores, newestStore)
	if _, err := os.Stat(newest); *update && errors.Is(err, fs.ErrNotExist) {
		writeStore(t, newest)
	}
	folders, err := os.ReadDir(stores)
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, folder := range folders {
		if !folder.IsDir() {
			continue
		}
		seen++
		t.Run(folder.Name(), func(t *testing.T) {
			from, dir := filepath.Join(stores, folder.Name()), filepath.Join(t.TempDir(), "book")
			unpack(t, from, dir)
			s := startBook(t, dir, writeAccess(t))
			told := tellAll(t, s)
			// A book that comes from elsewhere comes without its state file, which is said.
			err := s.terminate()
			if said := s.complaints(); err != nil || strings.Count(said, "\n") != 1 || !strings.Contains(said, "what was acknowledged last is not known") {
				t.Errorf("%v: %s", err, said)
			}
			want, err := os.ReadFile(filepath.Join(from, toldFile))
			if err != nil {
				t.Fatal(err)
			}
			if told != string(want) {
				t.Errorf("tells\n%s\nwant\n%s", told, want)
			}
		})
	}
	if seen == 0 {
		t.Error("no book")
	}
}

// writeStore plays invented visits against the program and keeps its folder, and
// what it tells.
func writeStore(t *testing.T, to string) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "book")
	s := startBook(t, dir, writeAccess(t))
	playVisits(t, s)
	told := tellAll(t, s)
	if err := s.terminate(); err != nil {
		t.Fatal(err)
	}
	pack(t, dir, to)
	if err := os.WriteFile(filepath.Join(to, toldFile), []byte(told), 0o644); err != nil {
		t.Fatal(err)
	}
}

// playVisits records what the rows of a book are made by: visits of several
// vehicles, one that is corrected, a tire that moves to another vehicle, a vehicle
// and settings that change.
func playVisits(t *testing.T, s *server) {
	t.Helper()
	bench, counter := as(t.Context(), benchToken), as(t.Context(), counterToken)
	shops := pb.NewShopServiceClient(s.conn)
	settings := &pb.Shop{TimeZone: "America/Denver", Place: &pb.Jurisdiction{Country: "US", State: "CO"}, Language: "es"}
	if _, err := shops.UpdateShop(counter, &pb.UpdateShopRequest{ShopId: crashShop, Shop: settings}); err != nil {
		t.Fatal(err)
	}
	record := func(in *pb.Inspection) {
		t.Helper()
		if _, err := s.inspections.RecordInspection(bench, &pb.RecordInspectionRequest{ShopId: crashShop, Inspection: in}); err != nil {
			t.Fatal(err)
		}
	}
	var vehicles []*pb.Vehicle
	var last []*pb.Inspection
	for _, name := range []string{"sedan-nail", "dual-rear-truck", "uk-car"} {
		text, err := os.ReadFile(filepath.Join(demo, name+".json"))
		if err != nil {
			t.Fatal(err)
		}
		req := &pb.AssessVisitRequest{}
		if err := protojson.Unmarshal(text, req); err != nil {
			t.Fatal(err)
		}
		v := req.GetVehicle()
		v.Id, v.CustomerData = uuid.NewString(), &pb.CustomerData{Customer: "invented"}
		if _, err := s.vehicles.RecordVehicle(bench, &pb.RecordVehicleRequest{ShopId: crashShop, Vehicle: v}); err != nil {
			t.Fatal(err)
		}
		for _, in := range append(req.GetEarlier(), req.GetInspection()) {
			in.Id, in.VehicleId = uuid.NewString(), v.GetId()
			record(in)
		}
		vehicles, last = append(vehicles, v), append(last, req.GetInspection())
	}
	again := func(in *pb.Inspection, change func(*pb.Inspection)) {
		in = proto.CloneOf(in)
		in.Id = uuid.NewString()
		change(in)
		record(in)
	}
	again(last[0], func(in *pb.Inspection) { in.Wheels = in.GetWheels()[:1] })
	again(last[0], func(in *pb.Inspection) {
		in.Corrects = &pb.Correction{InspectionId: last[0].GetId(), Reason: "invented"}
		in.Wheels[3].Observations = nil
	})
	there, err := s.vehicles.GetVehicle(bench, &pb.GetVehicleRequest{ShopId: crashShop, VehicleId: vehicles[0].GetId()})
	if err != nil {
		t.Fatal(err)
	}
	again(last[2], func(in *pb.Inspection) { in.Wheels[0].TireId = there.GetTires()[0].GetId() })
	change := &pb.Vehicle{Id: vehicles[0].GetId(), Revision: there.GetVehicle().GetRevision(), Tag: "green sedan (invented)"}
	if _, err := s.vehicles.RecordVehicle(counter, &pb.RecordVehicleRequest{ShopId: crashShop, Vehicle: change, Clear: []string{"customerData"}}); err != nil {
		t.Fatal(err)
	}
}

// tellAll asks everything of a book, in both languages, and gives what it told but
// for its words, a line for each thing.
func tellAll(t *testing.T, s *server) string {
	t.Helper()
	var out strings.Builder
	for i, language := range []string{"en", "es"} {
		a := &asking{T: t, server: s, reader: &pb.Reader{Language: language, CustomerLanguage: language, View: pb.View_VIEW_FULL}}
		a.all()
		if i > 0 && a.out.String() != out.String() {
			t.Errorf("%s is told otherwise than in the first language:\n%s", language, a.out.String())
		}
		out = a.out
	}
	return out.String()
}

// asking asks one book for one reader.
type asking struct {
	*testing.T
	server *server
	reader *pb.Reader
	out    strings.Builder
}

func (a *asking) linef(format string, args ...any) { fmt.Fprintf(&a.out, format+"\n", args...) }

func (a *asking) must(err error) {
	a.Helper()
	if err != nil {
		a.Fatal(err)
	}
}

func (a *asking) all() {
	ctx := as(a.Context(), counterToken)
	feed, err := a.server.counter.PullChanges(ctx, &pb.PullChangesRequest{ShopId: crashShop, PageSize: 200, Reader: a.reader})
	a.must(err)
	for _, c := range feed.GetChanges() {
		a.change(ctx, c)
	}
	for _, order := range []pb.VehicleOrder{pb.VehicleOrder_VEHICLE_ORDER_LAST_SEEN, pb.VehicleOrder_VEHICLE_ORDER_URGENCY} {
		list, err := a.server.vehicles.ListVehicles(ctx, &pb.ListVehiclesRequest{ShopId: crashShop, By: &pb.ListVehiclesRequest_Order{Order: order}, Reader: a.reader})
		a.must(err)
		for _, row := range list.GetRows() {
			a.linef("%v: %s %q %s %v due %s", order, row.GetVehicleId(), row.GetTag(), a.headline(row.GetHeadline()), row.GetFindingCodes(), a.plain(row.GetNextDueDate()))
			a.vehicle(ctx, row.GetVehicleId())
		}
	}
	shops := pb.NewShopServiceClient(a.server.conn)
	due, err := shops.ListComingDue(ctx, &pb.ListComingDueRequest{ShopId: crashShop, UntilDate: &pb.CalendarDate{Year: 2200, Month: 1, Day: 1}})
	a.must(err)
	for _, row := range due.GetRows() {
		a.linef("due: %s", a.plain(row))
	}
	settings, err := shops.GetShop(ctx, &pb.GetShopRequest{ShopId: crashShop})
	a.must(err)
	a.linef("shop: %s %s %s", settings.GetShop().GetRevision(), settings.GetShop().GetLanguage(), settings.GetShop().GetTimeZone())
}

func (a *asking) change(ctx context.Context, c *pb.Change) {
	in := c.GetInspection()
	a.linef("%s at %s: visit %s, vehicle %s, shop %s", c.GetNumber(), c.GetRecordedTime().AsTime(), in.GetInspectionId(), c.GetVehicle().GetVehicleId(), c.GetShop().GetRevision())
	a.linef("  opened %v", in.GetOpened())
	for _, closed := range in.GetClosed() {
		a.told(closed.GetClosedBy().GetWords())
		a.linef("  closed %s %s by %s", closed.GetOpenId(), closed.GetCode(), closed.GetClosedBy().GetCode())
	}
	for _, v := range c.GetVehicles() {
		a.state(v)
	}
	if in == nil {
		return
	}
	got, err := a.server.inspections.GetInspection(ctx, &pb.GetInspectionRequest{ShopId: crashShop, InspectionId: in.GetInspectionId(), Reader: a.reader})
	a.must(err)
	kept := got.GetKept()
	if !proto.Equal(kept.GetAssessment(), in.GetAssessment()) {
		a.Errorf("%s: the feed tells another assessment than the visit", in.GetInspectionId())
	}
	basis := kept.GetAssessment().GetBasis()
	a.linef("  by %s, replaced by %q, engine %s, %v", kept.GetRecordedBy(), kept.GetReplacedBy(), basis.GetEngine(), basis.GetRulebooks())
	a.linef("  sent %s, means %s", a.sum(kept.GetInspection()), a.sum(kept.GetAssessment()))
	a.linef("  %s %s", a.headline(kept.GetAssessment().GetHeadline()), a.plain(kept.GetAssessment().GetTotals()))
	for _, f := range kept.GetAssessment().GetFindings() {
		a.finding(f)
	}
	for _, w := range kept.GetAssessment().GetWork() {
		a.told(w.GetForTechnician())
		a.linef("  work %s %s %v %v for %v", w.GetId(), w.GetCode(), w.GetUrgency(), w.GetPositions(), w.GetFindingIds())
	}
	_, err = a.server.inspections.ReassessInspection(ctx, &pb.ReassessInspectionRequest{ShopId: crashShop, InspectionId: in.GetInspectionId(), Reader: a.reader})
	a.must(err)
}

func (a *asking) vehicle(ctx context.Context, id string) {
	got, err := a.server.vehicles.GetVehicle(ctx, &pb.GetVehicleRequest{ShopId: crashShop, VehicleId: id, Reader: a.reader})
	a.must(err)
	a.linef("  revision %s, %d axles, customer %q", got.GetVehicle().GetRevision(), len(got.GetVehicle().GetAxles().GetAxles()), got.GetVehicle().GetCustomerData().GetCustomer())
	for _, tire := range got.GetTires() {
		a.linef("  tire %s at %s, %q", tire.GetId(), tire.GetPlace().GetMounted().GetPosition(), tire.GetSidewall().GetMarking())
	}
	a.state(got.GetState())
	list, err := a.server.inspections.ListInspections(ctx, &pb.ListInspectionsRequest{ShopId: crashShop, VehicleId: id, Reader: a.reader})
	a.must(err)
	for _, v := range list.GetInspections() {
		a.linef("  visit %s %s %v %s", v.GetNumber(), a.headline(v.GetHeadline()), v.GetFindingIds(), v.GetReplacedBy())
	}
}

func (a *asking) state(s *pb.VehicleState) {
	a.linef("  %s %q %s, last %s", s.GetVehicleId(), s.GetTag(), a.headline(s.GetHeadline()), s.GetLastInspectionId())
	for _, f := range s.GetOpen() {
		a.linef("  open %s since %s for %d visits, found by %s", f.GetOpenId(), f.GetSinceInspectionId(), f.GetVisitsOpen(), f.GetInspectionId())
		a.finding(f.GetFinding())
	}
}

func (a *asking) finding(f *pb.Finding) {
	a.told(f.GetForTechnician())
	a.told(f.GetForCustomer())
	a.linef("    %s %s %s %v %v %s", f.GetId(), f.GetOpenId(), f.GetCode(), f.GetUrgency(), f.GetPositions(), a.sum(f))
}

func (a *asking) headline(h *pb.Headline) string {
	if h == nil {
		return "no headline"
	}
	a.told(h.GetForTechnician())
	a.told(h.GetForCustomer())
	return fmt.Sprint(h.GetHold(), " ", h.GetUrgency(), " ", h.GetPositions())
}

// told: where there is something to say, there are words for it.
func (a *asking) told(words string) {
	a.Helper()
	if strings.TrimSpace(words) == "" || strings.ContainsAny(words, "{}") {
		a.Errorf("in %s nothing is said: %q", a.reader.GetLanguage(), words)
	}
}

// wordFields are what a reader is told.
var wordFields = []protoreflect.Name{"for_technician", "for_customer", "words", "would_allow", "shown_position"}

// plain is a message without its words, as JSON on one line.
func (a *asking) plain(m proto.Message) string {
	a.Helper()
	c := proto.Clone(m)
	eachMessage(c.ProtoReflect(), func(r protoreflect.Message) {
		for _, name := range wordFields {
			if field := r.Descriptor().Fields().ByName(name); field != nil {
				r.Clear(field)
			}
		}
	})
	text, err := protojson.Marshal(c)
	a.must(err)
	var line bytes.Buffer
	a.must(json.Compact(&line, text))
	return line.String()
}

// sum stands for a whole message without its words.
func (a *asking) sum(m proto.Message) string {
	a.Helper()
	sum := sha256.Sum256([]byte(a.plain(m)))
	return hex.EncodeToString(sum[:6])
}

// eachMessage visits a message and all within it.
func eachMessage(m protoreflect.Message, visit func(protoreflect.Message)) {
	visit(m)
	m.Range(func(field protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		switch {
		case field.Message() != nil && field.IsList():
			for i := range v.List().Len() {
				eachMessage(v.List().Get(i).Message(), visit)
			}
		case field.Message() != nil:
			eachMessage(v.Message(), visit)
		}
		return true
	})
}

// pack copies the files of a book without the zeros at their ends, which its engine
// sets apart for what is still to come.
func pack(t *testing.T, dir, to string) {
	t.Helper()
	if err := os.MkdirAll(to, 0o755); err != nil {
		t.Fatal(err)
	}
	files, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var sizes strings.Builder
	for _, f := range files {
		content, err := os.ReadFile(filepath.Join(dir, f.Name()))
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintln(&sizes, f.Name(), len(content))
		if err := os.WriteFile(filepath.Join(to, f.Name()), bytes.TrimRight(content, "\x00"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(to, filesFile), []byte(sizes.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

// unpack makes the folder of a book from what pack kept.
func unpack(t *testing.T, from, dir string) {
	t.Helper()
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	sizes, err := os.ReadFile(filepath.Join(from, filesFile))
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(sizes)) {
		var name string
		var size int64
		if _, err := fmt.Sscan(line, &name, &size); err != nil {
			t.Fatal(err)
		}
		content, err := os.ReadFile(filepath.Join(from, name))
		if err == nil {
			err = os.WriteFile(filepath.Join(dir, name), content, 0o600)
		}
		if err := errors.Join(err, os.Truncate(filepath.Join(dir, name), size)); err != nil {
			t.Fatal(err)
		}
	}
}
