package book

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/badger"
	"gaugebook.dev/server/history/memory"
)

const shop = "north"

// onEach runs a test over every store that keeps a book.
func onEach(t *testing.T, test func(t *testing.T, d *desk)) {
	t.Helper()
	t.Run("memory", func(t *testing.T) { test(t, newDesk(t, memory.New(), nil)) })
	t.Run("badger", func(t *testing.T) {
		dir := t.TempDir()
		test(t, newDesk(t, openBadger(t, dir), func() history.Store { return openBadger(t, dir) }))
	})
}

func openBadger(t *testing.T, dir string) history.Store {
	t.Helper()
	store, err := badger.Open(dir, badger.Options{MinFree: 1})
	if err != nil {
		t.Fatal(err)
	}
	return store
}

// desk is a book with a judge who finds what the test has told him to, and a
// clock of its own.
type desk struct {
	*Book
	t      *testing.T
	reopen func() history.Store // nil: the store forgets

	mu     sync.Mutex
	finds  map[string][]*pb.Finding // by visit
	asks   map[string]*pb.Question  // by visit
	good   map[string]*pb.Checked   // by visit
	judged []*pb.AssessVisitRequest // in order

	proposes *pb.WorkItem // at every visit; nil: nothing

	clock time.Time
}

func newDesk(t *testing.T, store history.Store, reopen func() history.Store) *desk {
	t.Helper()
	d := &desk{t: t, reopen: reopen, finds: map[string][]*pb.Finding{}, asks: map[string]*pb.Question{}, good: map[string]*pb.Checked{}, clock: time.Date(2026, 3, 2, 15, 0, 0, 0, time.UTC)}
	d.Book = New(store, d.judge, d.now)
	t.Cleanup(func() { _ = d.store.Close() })
	return d
}

// again closes the store and opens it.
func (d *desk) again() {
	d.t.Helper()
	if err := d.store.Close(); err != nil {
		d.t.Fatal(err)
	}
	d.Book = New(d.reopen(), d.judge, d.now)
}

func (d *desk) now() time.Time {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.clock = d.clock.Add(time.Second)
	return d.clock
}

// judge finds what he was told for the visit, and sums up what was read.
func (d *desk) judge(_ string, req *pb.AssessVisitRequest) *pb.Assessment {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.judged = append(d.judged, req)
	a := &pb.Assessment{Basis: &pb.Basis{Engine: "test"}}
	for _, w := range req.GetInspection().GetWheels() {
		s := &pb.WheelSummary{Position: w.GetPosition()}
		if len(w.GetTread()) > 0 {
			s.GoverningDepth = w.GetTread()[0].GetDepth()
		}
		if len(w.GetPressures()) > 0 {
			s.Found = w.GetPressures()[0].GetPressure()
		}
		if !slices.ContainsFunc(w.GetLooked(), func(l *pb.Looked) bool { return l.GetWhat() == pb.LookedAt_LOOKED_AT_TREAD_FULL_TURN }) {
			s.Coverage = &pb.Said{Code: "report.depth-only"}
		}
		a.Wheels = append(a.Wheels, s)
	}
	for _, f := range d.finds[req.GetInspection().GetId()] {
		a.Findings = append(a.Findings, proto.CloneOf(f))
	}
	if d.proposes != nil {
		a.Work = append(a.Work, proto.CloneOf(d.proposes))
	}
	if q := d.asks[req.GetInspection().GetId()]; q != nil {
		a.Questions = append(a.Questions, q)
	}
	if c := d.good[req.GetInspection().GetId()]; c != nil {
		a.NothingFound = append(a.NothingFound, c)
	}
	return a
}

// find tells the judge what to find in a visit.
func (d *desk) find(v *pb.Inspection, fs ...*pb.Finding) *pb.Inspection {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.finds[v.GetId()] = fs
	return v
}

// lastJudged is the request that was judged last.
func (d *desk) lastJudged() *pb.AssessVisitRequest {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.judged[len(d.judged)-1]
}

// firstJudged is the request by which a visit was judged when it was kept: what comes
// due may be judged again when another is.
func (d *desk) firstJudged(v *pb.Inspection) *pb.AssessVisitRequest {
	d.mu.Lock()
	defer d.mu.Unlock()
	i := slices.IndexFunc(d.judged, func(req *pb.AssessVisitRequest) bool { return req.GetInspection().GetId() == v.GetId() })
	return d.judged[i]
}

func newID() string { return uuid.NewString() }

// car is an invented vehicle.
func car() *pb.Vehicle {
	return &pb.Vehicle{
		Id: newID(), Tag: "invented", VehicleClass: pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR,
		Axles: axles(&pb.Axle{ColdNormalLoad: psi(33)}, &pb.Axle{ColdNormalLoad: psi(33)}),
	}
}

func axles(each ...*pb.Axle) *pb.Axles { return &pb.Axles{Axles: each} }

func psi(n float64) *pb.Pressure { return &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: n}} }

func thirtySeconds(n float64) *pb.Depth {
	return &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: n}}
}

// option shapes a wheel of a visit.
type option func(*pb.WheelReport)

func depth(w *pb.WheelReport) {
	w.Tread = []*pb.TreadReading{{Place: &pb.Place{Across: pb.Across_ACROSS_CENTER}, Depth: thirtySeconds(5)}}
}
func pressure(w *pb.WheelReport) { w.Pressures = []*pb.PressureReading{{Pressure: psi(30)}} }
func whole(w *pb.WheelReport) {
	look(pb.LookedAt_LOOKED_AT_TREAD_FULL_TURN)(w)
}

func look(places ...pb.LookedAt) option {
	return func(w *pb.WheelReport) {
		for _, p := range places {
			w.Looked = append(w.Looked, &pb.Looked{What: p, Looked: &pb.Looked_Seen{Seen: true}})
		}
	}
}

func tire(id string) option { return func(w *pb.WheelReport) { w.TireId = id } }

func wheel(at string, options ...option) *pb.WheelReport {
	w := &pb.WheelReport{Position: at}
	for _, o := range options {
		o(w)
	}
	return w
}

// visit is an invented visit; without wheels it reports 1L.
func newVisit(v *pb.Vehicle, wheels ...*pb.WheelReport) *pb.Inspection {
	if len(wheels) == 0 {
		wheels = []*pb.WheelReport{wheel("1L", depth, pressure)}
	}
	return &pb.Inspection{Id: newID(), VehicleId: v.GetId(), Wheels: wheels}
}

// correcting makes a visit the correction of another.
func correcting(old, v *pb.Inspection) *pb.Inspection {
	v.Corrects = &pb.Correction{InspectionId: old.GetId(), Reason: "invented"}
	return v
}

// finding is one that asks for something this visit.
func found(code string, at ...string) *pb.Finding {
	return &pb.Finding{Id: fmt.Sprint(code, at), Code: code, Urgency: pb.Urgency_URGENCY_THIS_VISIT, Positions: at}
}

func grave(f *pb.Finding) *pb.Finding {
	f.Urgency = pb.Urgency_URGENCY_BEFORE_DRIVING
	return f
}

func (d *desk) keepVehicle(v *pb.Vehicle) *pb.Vehicle {
	d.t.Helper()
	recorded, err := d.recordVehicle(v)
	if err != nil || recorded.GetRepeatedCall() {
		d.t.Fatalf("%v: %v", recorded, err)
	}
	return d.vehicle(v).GetVehicle()
}

func (d *desk) recordVehicle(v *pb.Vehicle, empty ...string) (*pb.Recorded, error) {
	return d.RecordVehicle(context.Background(), shop, v, empty)
}

func (d *desk) keep(v *pb.Inspection) *pb.KeptInspection {
	d.t.Helper()
	kept, err := d.record(v)
	if err != nil || kept.GetRecorded().GetRepeatedCall() {
		d.t.Fatalf("%v: %v", kept.GetRecorded(), err)
	}
	return kept
}

func (d *desk) record(v *pb.Inspection) (*pb.KeptInspection, error) {
	kept, err := d.RecordInspection(context.Background(), shop, Sender{Name: "bench phone"}, checked(d.t, v))
	return kept.KeptInspection, err
}

// checked is a visit as a call hands it to the book.
func checked(t *testing.T, in *pb.Inspection) check.Visit {
	t.Helper()
	v, problems := check.NewVisit("inspection", in)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return v
}

func (d *desk) vehicle(v *pb.Vehicle) *pb.GetVehicleResponse {
	d.t.Helper()
	out, _, err := d.GetVehicle(context.Background(), shop, v.GetId())
	if err != nil {
		d.t.Fatal(err)
	}
	return out
}

// open are the findings that are open on a vehicle.
func (d *desk) open(v *pb.Vehicle) (all []*pb.Finding) {
	d.t.Helper()
	for _, f := range d.vehicle(v).GetState().GetOpen() {
		all = append(all, f.GetFinding())
	}
	return all
}

// pull gives the whole feed after a token.
func (d *desk) pull(token string) (all []*pb.Change) {
	d.t.Helper()
	for {
		out, err := d.PullChanges(context.Background(), shop, token, 7, 0)
		if err != nil {
			d.t.Fatal(err)
		}
		for _, c := range out.Changes {
			all = append(all, c.Change)
		}
		token = out.Token
		if !out.More {
			return all
		}
	}
}

// last is the number of the last draft of the shop.
func (d *desk) last() history.Number {
	d.t.Helper()
	var n history.Number
	if err := d.read(context.Background(), shop, func(v view) (err error) { n, err = v.s.Last(v.ctx); return err }); err != nil {
		d.t.Fatal(err)
	}
	return n
}

// rows are all rows of the shop.
func (d *desk) rows() (all []history.Row) {
	d.t.Helper()
	err := d.read(context.Background(), shop, func(v view) error {
		for after, more := history.Key(""), true; more; {
			page, err := v.s.Scan(v.ctx, history.Range{After: after})
			if err != nil {
				return err
			}
			for _, r := range page.Rows {
				all, after = append(all, r), r.Key
			}
			more = page.More
		}
		return nil
	})
	if err != nil {
		d.t.Fatal(err)
	}
	return all
}

// refused demands a refusal for a reason, and that nothing was stored since.
func (d *desk) refused(before history.Number, err error, reason pb.ErrorReason, field string) *Refusal {
	d.t.Helper()
	var r *Refusal
	if !errors.As(err, &r) || r.Reason != reason || r.Field != field {
		d.t.Fatalf("want %v of %q, got %v", reason, field, err)
	}
	if strings.Contains(r.Message, "%!") {
		d.t.Errorf("what a verb of the message was meant for is not told: %s", r.Message)
	}
	if now := d.last(); now != before {
		d.t.Errorf("stored all the same: %d drafts were %d", now, before)
	}
	return r
}

func ids(fs []*pb.Finding) []string {
	out := []string{}
	for _, f := range fs {
		out = append(out, f.GetId())
	}
	slices.Sort(out)
	return out
}

func sameMessage(t *testing.T, what string, got, want proto.Message) {
	t.Helper()
	if !proto.Equal(got, want) {
		t.Errorf("%s:\n got %v\nwant %v", what, got, want)
	}
}

func at(y int, m time.Month, d, h, minute int) *timestamppb.Timestamp {
	return timestamppb.New(time.Date(y, m, d, h, minute, 0, 0, time.UTC))
}
