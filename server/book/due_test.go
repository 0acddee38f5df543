package book

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history/memory"
)

// theDay reads a day; "" is none.
func theDay(s string) *pb.CalendarDate {
	if s == "" {
		return nil
	}
	d, err := time.Parse(time.DateOnly, s)
	if err != nil {
		panic(err)
	}
	return &pb.CalendarDate{Year: int32(d.Year()), Month: int32(d.Month()), Day: int32(d.Day())}
}

// comesDue is what a judgement says of a tire that comes to a limit: the day, the
// earliest and the latest.
func comesDue(at string, days ...string) *pb.Finding {
	f := &pb.Finding{Id: fmt.Sprint(reachesLimit, at, days), Code: reachesLimit, Urgency: pb.Urgency_URGENCY_NOTE, Positions: []string{at}, Rules: []*pb.Rule{{Id: "advice.wear-bars"}}}
	for i, code := range []string{expectedDay, earliestDay, latestDay} {
		if i < len(days) && days[i] != "" {
			f.Evidence = append(f.Evidence, &pb.Evidence{Code: code, Amount: &pb.Quantity{Amount: &pb.Quantity_Date{Date: theDay(days[i])}}})
		}
	}
	return f
}

func on(day string, v *pb.Inspection) *pb.Inspection {
	v.LocalDate = theDay(day)
	return v
}

func written(d *pb.CalendarDate) string {
	if d == nil {
		return "?"
	}
	return fmt.Sprintf("%04d-%02d-%02d", d.GetYear(), d.GetMonth(), d.GetDay())
}

// due is the list until a day, a line for each row.
func (d *desk) due(until string) (out []string) {
	d.t.Helper()
	for token, more := "", true; more; more = token != "" {
		page, err := d.ListComingDue(d.t.Context(), shop, theDay("1900-01-01"), theDay(until), 2, token)
		if err != nil {
			d.t.Fatal(err)
		}
		for _, r := range page.GetRows() {
			line := fmt.Sprintf("%s %s %s (%s to %s)", r.GetTag(), strings.Join(r.GetPositions(), "+"), written(r.GetExpectedDate()), written(r.GetEarliestDate()), written(r.GetLatestDate()))
			if r.GetSize() != "" {
				line += " " + r.GetSize()
			}
			out = append(out, line)
		}
		token = page.GetNextPageToken()
	}
	return out
}

func (d *desk) sameDue(what string, want ...string) {
	d.t.Helper()
	if got := d.due("2200-12-31"); !slices.Equal(got, want) {
		d.t.Errorf("%s:\n%s\nwant\n%s", what, strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

func tagged(tag string) *pb.Vehicle {
	v := car()
	v.Tag = tag
	return v
}

func asLeft(w *pb.WheelReport) { w.Tread[0].Phase = pb.Phase_PHASE_AS_LEFT }

func size(marking string) option {
	return func(w *pb.WheelReport) { w.Sidewall = &pb.Sidewall{Marking: marking} }
}

// inTime sets the clock behind the days of the visits of these tests.
func (d *desk) inTime() { d.clock = time.Date(2026, 12, 1, 12, 0, 0, 0, time.UTC) }

// The soonest first, wheels with the same days and size together, and nothing beyond
// the day asked for.
func TestComingDue(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		a, b := d.keepVehicle(tagged("gray sedan")), d.keepVehicle(tagged("white van"))
		law := comesDue("1L", "2026-10-01", "2026-08-01", "2027-01-01")
		law.Rules[0].Id = "us-commercial.steer-depth"
		perhaps := comesDue("1L", "2026-09-01")
		perhaps.Rules[0].Candidate = true
		d.keep(d.find(on("2026-06-01", newVisit(a, wheel("1L", depth, size("215/60R16")), wheel("1R", depth, size("215/60R16")), wheel("2L", depth), wheel("2R", depth))),
			comesDue("1R", "2027-03-01", "2026-12-01", "2027-08-01"), comesDue("1L", "2027-03-01", "2026-12-01", "2027-08-01"), law, perhaps,
			comesDue("2L", "2028-03-01", "", ""), // it may be now, and no end can be told
			comesDue("2R"),                       // no day can be told
			found("tread.model-limit", "2R")))
		d.keep(d.find(on("2026-06-02", newVisit(b, wheel("1L", depth))), comesDue("1L", "2026-12-24", "2026-11-01")))
		all := []string{
			"gray sedan 1L 2026-10-01 (2026-08-01 to 2027-01-01) 215/60R16",
			"white van 1L 2026-12-24 (2026-11-01 to ?)",
			"gray sedan 1L+1R 2027-03-01 (2026-12-01 to 2027-08-01) 215/60R16",
			"gray sedan 2L 2028-03-01 (2026-06-01 to ?)",
		}
		d.sameDue("all", all...)
		for until, n := range map[string]int{"2026-09-30": 0, "2026-10-01": 1, "2026-12-23": 1, "2026-12-24": 2, "2027-03-01": 3, "2028-02-29": 3, "2028-03-01": 4} {
			if got := d.due(until); !slices.Equal(got, all[:n]) {
				t.Errorf("until %s: %q", until, got)
			}
		}
		out, err := d.ListComingDue(t.Context(), shop, theDay("1900-01-01"), theDay("2026-12-24"), 2, "")
		if err != nil || out.GetNextPageToken() == "" || out.GetRows()[0].GetVehicleId() != a.GetId() || out.GetRows()[0].GetLimitId() != "us-commercial.steer-depth" {
			t.Errorf("%v: %v", out, err)
		}
		if out, err := d.ListComingDue(t.Context(), "south", nil, theDay("2200-12-31"), 50, ""); err != nil || len(out.GetRows()) != 0 {
			t.Errorf("another shop: %v: %v", out, err)
		}
		if d.reopen != nil {
			d.again()
			d.sameDue("after opening the book again", all...)
		}
	})
}

// The newest visit that read a tire's tread tells, and while that tire is there.
func TestComingDueByTheNewestVisit(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		d.inTime()
		v := d.keepVehicle(tagged("sedan"))
		first := d.find(on("2026-06-01", newVisit(v, wheel("1L", depth), wheel("1R", depth))), comesDue("1L", "2027-03-01"), comesDue("1R", "2027-04-01"))
		d.keep(first)
		d.keep(on("2026-07-01", newVisit(v, wheel("1L", pressure), wheel("1R", pressure)))) // air only
		d.sameDue("air only", "sedan 1L 2027-03-01 (2026-06-01 to ?)", "sedan 1R 2027-04-01 (2026-06-01 to ?)")
		d.keep(on("2026-07-02", newVisit(v, wheel("1L", depth, asLeft)))) // of what was found nothing was read
		d.sameDue("read as left", "sedan 1L 2027-03-01 (2026-06-01 to ?)", "sedan 1R 2027-04-01 (2026-06-01 to ?)")
		second := d.find(on("2026-09-01", newVisit(v, wheel("1L", depth))), comesDue("1L", "2027-02-01"))
		d.keep(second)
		d.sameDue("one read again", "sedan 1L 2027-02-01 (2026-09-01 to ?)", "sedan 1R 2027-04-01 (2026-06-01 to ?)")
		// A phone was without a network until now.
		d.keep(d.find(on("2026-08-01", newVisit(v, wheel("1L", depth), wheel("1R", depth))), comesDue("1L", "2030-01-01"), comesDue("1R", "2027-05-01")))
		d.sameDue("an older visit came late", "sedan 1L 2027-02-01 (2026-09-01 to ?)", "sedan 1R 2027-05-01 (2026-08-01 to ?)")
		// The first visit is corrected: the newest is judged again with what is right.
		d.find(second, comesDue("1L", "2027-01-15"))
		d.keep(correcting(first, on("2026-06-01", newVisit(v, wheel("1L", depth), wheel("1R", depth)))))
		d.sameDue("an older visit was corrected", "sedan 1L 2027-01-15 (2026-09-01 to ?)", "sedan 1R 2027-05-01 (2026-08-01 to ?)")
		if req := d.lastJudgedOf(second); len(req.GetEarlier()) != 4 || req.GetEarlier()[0].GetCorrects() == nil {
			t.Errorf("judged again after %v", req.GetEarlier())
		}
		d.keep(correcting(second, d.find(on("2026-09-01", newVisit(v, wheel("1L", depth))), comesDue("1L", "2027-06-01"))))
		d.sameDue("the newest was corrected", "sedan 1R 2027-05-01 (2026-08-01 to ?)", "sedan 1L 2027-06-01 (2026-09-01 to ?)")
		d.keep(on("2026-10-01", newVisit(v, wheel("1L", depth), wheel("1R", depth))))
		d.sameDue("read, and no day can be told any more")
		d.keep(on("2026-10-02", newVisit(v, wheel("1L", pressure), wheel("1R", pressure))))
		d.sameDue("nor after air only")
	})
}

// Tires that went have nothing ahead here.
func TestComingDueOfTiresThatWent(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		d.inTime()
		a, b := d.keepVehicle(tagged("sedan")), d.keepVehicle(tagged("van"))
		id := newID()
		set := func(day string) *pb.Inspection {
			return d.find(on(day, newVisit(a, wheel("1L", depth, tire(id)), wheel("1R", depth))), comesDue("1L", "2027-03-01", day), comesDue("1R", "2027-04-01", day))
		}
		d.keep(set("2026-06-01"))
		d.keep(on("2026-06-02", newVisit(b, wheel("2L", tire(id)))))
		d.sameDue("one came to another vehicle", "sedan 1R 2027-04-01 (2026-06-01 to ?)")
		d.keep(on("2026-06-03", newVisit(a, wheel("1R", tire(newID())))))
		d.sameDue("another tire at 1R")

		d.keep(set("2026-06-04"))
		d.keep(on("2026-05-01", newVisit(a, wheel("1R", depth, tire(newID()))))) // came late, and says what was there then
		d.sameDue("what the newest read is there", "sedan 1L 2027-03-01 (2026-06-04 to ?)", "sedan 1R 2027-04-01 (2026-06-04 to ?)")
		d.keep(set("2026-06-04"))
		replaced := on("2026-06-05", newVisit(a, wheel("1L", pressure)))
		replaced.WorkDone = []*pb.WorkDone{{Kind: pb.WorkKind_WORK_KIND_TIRES_REPLACED, Positions: []string{"1R"}}}
		d.keep(replaced)
		d.sameDue("1R was replaced", "sedan 1L 2027-03-01 (2026-06-04 to ?)")
		last := set("2026-06-06")
		last.WorkDone = []*pb.WorkDone{{Kind: pb.WorkKind_WORK_KIND_SEASON_CHANGED}}
		d.keep(last)
		d.sameDue("another set after it was read")
		next := set("2026-06-07")
		next.WorkDone = []*pb.WorkDone{{Kind: pb.WorkKind_WORK_KIND_TIRES_REPLACED, Date: theDay("2026-06-06")}}
		d.keep(next)
		d.sameDue("replaced the day before", "sedan 1L 2027-03-01 (2026-06-07 to ?)", "sedan 1R 2027-04-01 (2026-06-07 to ?)")
		d.keepVehicle(&pb.Vehicle{Id: a.GetId(), Revision: a.GetRevision(), Tag: "red sedan"})
		d.sameDue("another name", "red sedan 1L 2027-03-01 (2026-06-07 to ?)", "red sedan 1R 2027-04-01 (2026-06-07 to ?)")
	})
}

// lastJudgedOf is the request by which a visit was judged last.
func (d *desk) lastJudgedOf(v *pb.Inspection) *pb.AssessVisitRequest {
	d.mu.Lock()
	defer d.mu.Unlock()
	for _, req := range slices.Backward(d.judged) {
		if req.GetInspection().GetId() == v.GetId() {
			return req
		}
	}
	return nil
}

// Whatever was recorded in whatever order, the list is what the standing visits say:
// of each wheel the newest by its day that read it, the later recorded of one day. One
// without a day is of the moment at which it, or the first that it corrects, was recorded.
func TestComingDueIsWhatTheRecordSays(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := newDesk(t, memory.New(), nil)
		d.inTime()
		v := d.keepVehicle(tagged("sedan"))
		type keptVisit struct {
			visit *pb.Inspection
			reads map[string]string // the day that comes due, by wheel; "" none
			day   string
		}
		var record []*keptVisit
		for i := range rapid.IntRange(1, 8).Draw(rt, "visits") {
			k := &keptVisit{reads: map[string]string{}, day: rapid.SampledFrom([]string{"", "2026-01-05", "2026-02-05", "2026-03-05"}).Draw(rt, "day")}
			k.visit = on(k.day, newVisit(v, wheel("1L", pressure)))
			for _, at := range []string{"1R", "2L", "2R"} {
				switch rapid.IntRange(0, 3).Draw(rt, at) {
				case 0:
					k.visit.Wheels = append(k.visit.Wheels, wheel(at, depth))
					k.reads[at] = ""
				case 1, 2:
					k.visit.Wheels = append(k.visit.Wheels, wheel(at, depth))
					k.reads[at] = fmt.Sprintf("20%d-0%d-11", 30+i, rapid.IntRange(1, 3).Draw(rt, "month"))
					d.finds[k.visit.GetId()] = append(d.finds[k.visit.GetId()], comesDue(at, k.reads[at], "2029-01-01"))
				}
			}
			place := len(record)
			if i > 0 && rapid.IntRange(0, 2).Draw(rt, "corrects") == 0 {
				place = rapid.IntRange(0, len(record)-1).Draw(rt, "which")
				correcting(record[place].visit, k.visit)
			}
			d.keep(k.visit)
			if place == len(record) {
				record = append(record, k)
			} else {
				record[place] = k
			}
			told, days := map[string]string{}, map[string]string{}
			for _, k := range record {
				day := k.day
				if day == "" {
					day = "2026-12-01"
				}
				for at, due := range k.reads {
					if day >= days[at] {
						told[at], days[at] = due, day
					}
				}
			}
			var want []string
			for at, due := range told {
				if due != "" {
					want = append(want, at+" "+due)
				}
			}
			var got []string
			out, err := d.ListComingDue(t.Context(), shop, theDay("1900-01-01"), theDay("2200-12-31"), 200, "")
			if err != nil {
				rt.Fatal(err)
			}
			for _, row := range out.GetRows() {
				for _, at := range row.GetPositions() {
					got = append(got, at+" "+written(row.GetExpectedDate()))
				}
			}
			slices.Sort(want)
			slices.Sort(got)
			if !slices.Equal(got, want) {
				rt.Fatalf("after %d visits: %v, want %v", i+1, got, want)
			}
		}
	})
}

// The list begins today at the shop, or on the day asked for: what was expected years ago
// and never read again stands before it.
func TestComingDueBeginsToday(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		d.clock = time.Date(2026, 12, 2, 3, 0, 0, 0, time.UTC) // the first in Denver
		for i, day := range []string{"2022-05-01", "2026-11-30", "2026-12-01", "2026-12-02", "2027-01-01"} {
			v := d.keepVehicle(tagged(fmt.Sprint(i)))
			d.keep(d.find(on("2021-06-01", newVisit(v, wheel("1L", depth))), comesDue("1L", day)))
		}
		list := func(from string) (tags []string) {
			t.Helper()
			for token, more := "", true; more; more = token != "" {
				out, err := d.ListComingDue(t.Context(), shop, theDay(from), theDay("2030-01-01"), 2, token)
				if err != nil {
					t.Fatal(err)
				}
				for _, row := range out.GetRows() {
					tags = append(tags, row.GetTag())
				}
				token = out.GetNextPageToken()
			}
			return tags
		}
		if got := list(""); !slices.Equal(got, []string{"3", "4"}) {
			t.Errorf("from today in UTC: %v", got)
		}
		if _, err := d.UpdateShop(t.Context(), shop, &pb.Shop{TimeZone: "America/Denver"}, nil); err != nil {
			t.Fatal(err)
		}
		if got := list(""); !slices.Equal(got, []string{"2", "3", "4"}) {
			t.Errorf("from today in Denver: %v", got)
		}
		if got := list("2022-05-01"); len(got) != 5 {
			t.Errorf("from an earlier day: %v", got)
		}
		if got := list("2027-01-02"); len(got) != 0 {
			t.Errorf("from a later day: %v", got)
		}
	})
}
