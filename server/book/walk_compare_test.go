package book

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/booktest"
)

// compare holds every vehicle, what counters made of the feed and, where told to, the lists
// against the model.
func (w *walk) compare(lists bool) {
	now := w.model.Vehicles()
	w.unreadable("the feed", func() error { _, err := w.PullChanges(context.Background(), shop, w.token, 5, 0); return err })
	w.followFeed()
	for _, c := range w.cars {
		w.unreadable("a vehicle", func() error { _, _, err := w.GetVehicle(context.Background(), shop, c.GetId()); return err })
		want := now[c.GetId()]
		if want == nil {
			want = &booktest.Vehicle{}
		}
		got := w.vehicle(c)
		w.sameTires(got, want)
		w.sameOpen(got.GetState(), want)
		if got.GetState().GetLastInspectionId() != want.Last {
			w.failf("last visit %s, should be %s", got.GetState().GetLastInspectionId(), want.Last)
		}
		if got.GetState().GetLeft() != want.Left {
			w.failf("left: %v, should be %v", got.GetState().GetLeft(), want.Left)
		}
		w.sameFeed(got.GetState())
		w.sameVisits(c)
	}
	if lists {
		w.sameLists(now)
	}
}

func (w *walk) sameTires(got *pb.GetVehicleResponse, want *booktest.Vehicle) {
	if len(got.GetTires()) != len(want.Tires) {
		w.failf("tires %v, should be %v", got.GetTires(), want.Tires)
	}
	for _, t := range got.GetTires() {
		if model := want.Tires[position(t)]; model == "" || !w.tires.pair(model, t.GetId()) {
			w.failf("at %s is %s, should be %v", position(t), t.GetId(), want.Tires)
		}
		now, err := w.GetTire(context.Background(), shop, t.GetId())
		if now := now.GetTire().GetPlace().GetMounted(); err != nil || now.GetVehicleId() != got.GetVehicle().GetId() || now.GetPosition() != position(t) {
			w.failf("the tire says it is at %v, its vehicle %v", now, t.GetPlace())
		}
	}
}

func (w *walk) sameOpen(got *pb.VehicleState, want *booktest.Vehicle) {
	if len(got.GetOpen()) != len(want.Open) {
		w.failf("open %s\nshould be %+v", w.lines(got), want.Open)
		return
	}
	for _, o := range want.Open {
		i := slices.IndexFunc(got.GetOpen(), func(f *pb.OpenFinding) bool {
			return f.GetFinding().GetCode() == o.Code && f.GetInspectionId() == o.Visit && f.GetFinding().GetPositions()[0] == o.FoundAt
		})
		if i < 0 {
			w.failf("open %s\nshould be %+v", w.lines(got), o)
			return
		}
		f := got.GetOpen()[i]
		var outcomes []string
		for _, a := range f.GetOutcomes() {
			outcomes = append(outcomes, a.GetId())
		}
		if !w.names.pair(o.Name, f.GetOpenId()) || !slices.Equal(outcomes, o.Outcomes) || f.GetSinceInspectionId() != o.Since || int(f.GetVisitsOpen()) != o.Visits {
			w.failf("open %s\nof them %s, should be %+v", w.lines(got), f.GetOpenId(), o)
		}
	}
	if !slices.IsSortedFunc(got.GetOpen(), func(a, b *pb.OpenFinding) int {
		return int(a.GetFinding().GetUrgency()) - int(b.GetFinding().GetUrgency())
	}) {
		w.failf("out of order: %v", got.GetOpen())
	}
}

// lines is what is open, a line each.
func (w *walk) lines(s *pb.VehicleState) string {
	var out strings.Builder
	for _, f := range s.GetOpen() {
		fmt.Fprintf(&out, "\n  %q (%s) %s at %v, found by %s, since %s, %d visits", w.names.model[f.GetOpenId()], f.GetOpenId(), f.GetFinding().GetCode(), f.GetFinding().GetPositions(), f.GetInspectionId(), f.GetSinceInspectionId(), f.GetVisitsOpen())
	}
	return out.String()
}

// followFeed takes in what came: once by replacing, once by adding up.
func (w *walk) followFeed() {
	for more := true; more; {
		out, err := w.PullChanges(context.Background(), shop, w.token, 1+w.draw(5), 0)
		if err != nil {
			w.failf("pull: %v", err)
			return
		}
		for _, c := range out.Changes {
			w.tokens[c.number] = c.Token
			closed := append(c.GetClosed(), c.GetInspection().GetClosed()...)
			for _, s := range c.GetVehicles() {
				var open []string
				for _, f := range s.GetOpen() {
					open = append(open, f.GetOpenId())
				}
				w.replaced[s.GetVehicleId()] = open
			}
			for _, f := range closed {
				if w.added["all"][f.GetOpenId()] {
					delete(w.added["all"], f.GetOpenId())
				} else {
					w.failf("closed and not open: %v", f)
				}
				if f.GetClosedBy().GetCode() == "" || f.GetCode() == "" {
					w.failf("closed by nothing: %v", f)
				}
			}
			for _, id := range append(c.GetOpened(), c.GetInspection().GetOpened()...) {
				if w.added["all"] == nil {
					w.added["all"] = map[string]bool{}
				}
				w.added["all"][id] = true
			}
		}
		w.token, more = out.Token, out.More
	}
}

func (w *walk) sameFeed(now *pb.VehicleState) {
	var open []string
	for _, f := range now.GetOpen() {
		open = append(open, f.GetOpenId())
		if !w.added["all"][f.GetOpenId()] {
			w.failf("who adds up does not know %v", f)
		}
	}
	if !slices.Equal(w.replaced[now.GetVehicleId()], open) {
		w.failf("who replaces has %v, should be %v", w.replaced[now.GetVehicleId()], open)
	}
}

func (w *walk) sameVisits(c *pb.Vehicle) {
	var got []string
	for token, more := "", true; more; more = token != "" {
		w.unreadable("visits", func() error {
			_, err := w.ListInspections(context.Background(), shop, c.GetId(), 2, token)
			return err
		})
		page, err := w.ListInspections(context.Background(), shop, c.GetId(), 1+w.draw(4), token)
		if err != nil {
			w.failf("%v", err)
			return
		}
		for _, r := range page.Rows {
			got = append(got, r.GetInspectionId())
		}
		token = page.Next
	}
	if want := w.model.Visits(c.GetId()); !slices.Equal(got, want) {
		w.failf("visits %v, should be %v", got, want)
	}
}

// sameLists holds what is open in the shop, and where it is found, against the model.
func (w *walk) sameLists(now map[string]*booktest.Vehicle) {
	want, codes := map[string]bool{}, map[string]map[string]bool{}
	for id, v := range now {
		for _, o := range v.Open {
			want[id+" "+w.names.book[o.Name]] = true
			if codes[o.Code] == nil {
				codes[o.Code] = map[string]bool{}
			}
			codes[o.Code][id] = true
		}
	}
	if len(w.added["all"]) != len(want) {
		w.failf("who adds up has %d, should be %d", len(w.added["all"]), len(want))
	}
	got := map[string]bool{}
	for token, more := "", true; more; more = token != "" {
		w.unreadable("what is open", func() error {
			_, err := w.ListOpenFindings(context.Background(), shop, "", nil, 2, token)
			return err
		})
		page, err := w.ListOpenFindings(context.Background(), shop, "", nil, 1+w.draw(4), token)
		if err != nil {
			w.failf("%v", err)
			return
		}
		for _, f := range page.Rows {
			got[f.GetVehicleId()+" "+f.GetOpenId()] = true
		}
		token = page.Next
	}
	if !maps.Equal(got, want) {
		w.failf("listed as open %v, should be %v", got, want)
	}
	for code := range kindsWalked {
		w.unreadable("found by code", func() error { _, _, err := w.FindByCode(context.Background(), shop, code, 50, ""); return err })
		page, _, err := w.FindByCode(context.Background(), shop, code, 50, "")
		found := map[string]bool{}
		for _, r := range page.Rows {
			found[r.GetVehicleId()] = true
		}
		if err != nil || !maps.Equal(found, codes[code]) && len(found)+len(codes[code]) > 0 {
			w.failf("found by %s: %v, should be %v", code, found, codes[code])
		}
	}
}
