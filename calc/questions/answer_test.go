package questions

import (
	"fmt"
	"maps"
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// Answers put together ask each question once and tell each limit that is met once, with the
// lowest that was measured; evidence that one question has goes beside the finding of another,
// once; and what a law that only may apply forbids holds no vehicle.
func TestAnswersTogether(t *testing.T) {
	left, right := layout.MustParse("1L"), layout.MustParse("1R")
	mm := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.Millimeters} }
	met := func(code finding.Checked, p layout.Position, measured, limit float64) Checked {
		return Checked{Code: code, Positions: []layout.Position{p}, Measured: mm(measured), Limit: mm(limit)}
	}
	bulge := finding.Finding{Code: finding.DamageBulge, Urgency: finding.BeforeDriving, Positions: []layout.Position{left}}
	may := finding.Finding{Code: finding.AgeLegalLimit, Urgency: finding.BeforeDriving, Positions: []layout.Position{left}, Candidate: true, Rule: finding.Rule{ID: "a"}}
	told := func(f finding.Fact) finding.Evidence { return finding.Evidence{Code: f} }
	all := Together(
		Answer{
			Findings: []finding.Finding{bulge}, Asked: []Asked{{finding.AskDepth, []layout.Position{left}}},
			Checked:   []Checked{met(finding.CheckedTreadLegalLimit, left, 5, 1.6), met(finding.CheckedTreadShopLimit, left, 5, 3)},
			NotJudged: []visit.NotJudged{{Code: finding.RecordedRim}},
		},
		Answer{
			Findings: []finding.Finding{may}, Asked: []Asked{{finding.AskLabel, nil}, {finding.AskDepth, []layout.Position{right}}},
			Checked:   []Checked{met(finding.CheckedTreadLegalLimit, right, 4, 1.6), met(finding.CheckedTreadLegalLimit, right, 4, 3)},
			Beside:    []Beside{{bulge.ID(), told(finding.FactToldThump)}, {bulge.ID(), told(finding.FactToldThump)}, {bulge.ID(), told(finding.FactToldVibration)}, {"another", told(finding.FactToldLamp)}},
			NotJudged: []visit.NotJudged{{Code: finding.RecordedWords}},
		},
	)
	if len(all.Findings) != 2 || all.Findings[0].Urgency != finding.BeforeDriving || all.Findings[1].Urgency != finding.ThisVisit {
		t.Errorf("found %+v", all.Findings)
	}
	if got := all.Findings[0].Evidence; !slices.Equal(got, []finding.Evidence{told(finding.FactToldThump), told(finding.FactToldVibration)}) || len(all.Findings[1].Evidence) != 0 {
		t.Errorf("beside it: %+v", got)
	}
	if got := fmt.Sprint(all.Asked); got != fmt.Sprint([]Asked{{finding.AskDepth, []layout.Position{left, right}}, {finding.AskLabel, nil}}) {
		t.Errorf("asked %v", got)
	}
	if len(all.Checked) != 3 || len(all.Checked[0].Positions) != 2 || all.Checked[0].Measured != mm(4) || len(all.NotJudged) != 2 {
		t.Errorf("met %+v, not judged %v", all.Checked, all.NotJudged)
	}
	var a Answer
	a.addMet(met(finding.CheckedTreadLegalLimit, left, 4, 1.6))
	a.addMet(met(finding.CheckedTreadLegalLimit, right, 5, 1.6))
	if len(a.Checked) != 1 || a.Checked[0].Measured != mm(4) {
		t.Errorf("the lowest first: %+v", a.Checked)
	}
}

// What a customer notices is answered by what speaks for it, by what was not seen, or by
// that nothing was found where all was.
func TestAComplaintIsAnswered(t *testing.T) {
	car := layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}
	p := layout.MustParse
	four := []string{"1L", "1R", "2L", "2R"}
	seven := unit.Amount{Number: 7, Unit: unit.ThirtySecondsInch}
	wheels := func(do func(*visit.Wheel), names ...string) (all []visit.Wheel) {
		for _, n := range names {
			w := reading(n, 33, unit.PSI, seven)
			do(&w)
			all = append(all, w)
		}
		return all
	}
	as := func(w *visit.Wheel) {}
	looked := func(places ...finding.Looked) func(*visit.Wheel) {
		return func(w *visit.Wheel) {
			for _, l := range places {
				w.Looked = append(w.Looked, visit.Looked{What: l})
			}
		}
	}
	feathered := func(w *visit.Wheel) {
		if w.Position == p("1R") {
			w.Observations = []visit.Observation{{Kind: finding.ObservedFeathered}}
		}
	}
	nothing := "complaint.looked-at-nothing-found against "
	cause := func(code finding.Code, rank int, at ...string) Cause {
		c := Cause{Finding: string(code), Code: code, Rank: rank}
		for _, n := range at {
			c.At = append(c.At, p(n))
		}
		return c
	}
	for _, c := range []struct {
		name   string
		said   visit.Complaint
		wheels []visit.Wheel
		causes []Cause
		want   string
		unseen bool
		beside string
	}{
		{"a pull, and all was read", visit.Complaint{Kind: finding.NoticedPullsLeft}, wheels(as, four...), nil, nothing, false, ""},
		{"a pull, and one was not", visit.Complaint{Kind: finding.NoticedPullsLeft}, wheels(as, four[1:]...), nil, "", false, ""},
		{"a pull, and toe wear in front", visit.Complaint{Kind: finding.NoticedPullsLeft}, wheels(as, four...), []Cause{cause(finding.WearToeIn, 1, "1L", "1R")}, "complaint.one-edge-worn ", false, "wear.toe-in told.pulls-left "},
		{"as the second cause", visit.Complaint{Kind: finding.NoticedPullsLeft}, wheels(as, four...), []Cause{cause(finding.WearToeIn, 2, "1L", "1R")}, nothing, false, ""},
		{"in the rear", visit.Complaint{Kind: finding.NoticedPullsLeft}, wheels(as, four...), []Cause{cause(finding.WearToeIn, 1, "2L", "2R")}, nothing, false, ""},
		{"two causes of one kind", visit.Complaint{Kind: finding.NoticedPullsLeft}, wheels(as, four...), []Cause{cause(finding.WearToeIn, 1, "1L"), cause(finding.WearCamberNegative, 0, "1L")}, "complaint.one-edge-worn ", false, "wear.toe-in told.pulls-left wear.camber-negative told.pulls-left "},
		{"play is no wear", visit.Complaint{Kind: finding.NoticedPullsRight}, wheels(as, four...), []Cause{cause(finding.ChassisSteeringPlay, 0, "1L")}, "complaint.loose-part ", false, ""},
		{"a hum, all treads looked at", visit.Complaint{Kind: finding.NoticedHumRisingWithSpeed}, wheels(looked(finding.LookedTreadFullTurn), four...), nil, nothing, false, ""},
		{"a hum, none looked at", visit.Complaint{Kind: finding.NoticedHumRisingWithSpeed}, wheels(as, four...), nil, "", false, ""},
		{"a hum, and feathered", visit.Complaint{Kind: finding.NoticedHumRisingWithSpeed}, wheels(feathered, four...), nil, "complaint.feathered ", false, ""},
		{"a hum about another wheel", visit.Complaint{Kind: finding.NoticedHumRisingWithSpeed, At: p("1L")}, wheels(feathered, four...), nil, "", false, ""},
		{"a thump, nobody looked", visit.Complaint{Kind: finding.NoticedThump}, wheels(as, four...), nil, "", true, ""},
		{"a thump, and all looked at", visit.Complaint{Kind: finding.NoticedThump}, wheels(looked(finding.LookedTreadFullTurn, finding.LookedOuterSidewall, finding.LookedInnerSidewall), four...), nil, nothing, false, ""},
		{"a thump, and a bulge", visit.Complaint{Kind: finding.NoticedThump}, wheels(as, four...), []Cause{cause(finding.DamageBulge, 0, "2L")}, "complaint.coming-apart ", true, ""},
		{"a slow leak, aired often", visit.Complaint{Kind: finding.NoticedSlowLeak, AiredOften: true}, wheels(as, four...), nil, "complaint.aired-often ", false, ""},
		{"a slow leak", visit.Complaint{Kind: finding.NoticedSlowLeak}, wheels(as, four...), nil, "", false, ""},
	} {
		out := Complaints(ComplaintIn{Complaints: []visit.Complaint{c.said}, Vehicle: car, Wheels: c.wheels, Causes: c.causes})
		if len(out.Findings) != 1 {
			t.Errorf("%s: %+v", c.name, out.Findings)
			continue
		}
		got, beside := "", ""
		for _, e := range out.Findings[0].Evidence {
			got += string(e.Code) + " "
			if e.Against {
				got += "against "
			}
		}
		for _, b := range out.Beside {
			beside += b.Finding + " " + string(b.Evidence.Code) + " "
		}
		if got != c.want || beside != c.beside || (len(out.Unseen) > 0) != c.unseen || c.unseen && (out.Unseen[0].Complaint != c.said.Kind || len(out.Unseen[0].At) != 4) {
			t.Errorf("%s: %q beside %q, unseen %v", c.name, got, beside, out.Unseen)
		}
	}
}

// A vehicle pulls to the side of the softer front tire: that speaks for a pull to that side,
// and against one to the other; not where the two may be alike, nor of a trailer.
func TestAPullToTheSofterSide(t *testing.T) {
	for _, c := range []struct {
		name        string
		class       layout.Class
		left, right float64
		told        bool
		softLeft    bool
	}{
		{"the left is softer", layout.PassengerCar, 25, 33, true, true},
		{"the right is", layout.PassengerCar, 33, 25, true, false},
		{"alike", layout.PassengerCar, 33, 33, false, false},
		{"nearly", layout.PassengerCar, 33, 32.8, false, false},
		{"the left not read", layout.PassengerCar, 0, 33, false, false},
		{"the right not read", layout.PassengerCar, 33, 0, false, false},
		{"a trailer", layout.Trailer, 25, 33, false, false},
	} {
		in := ComplaintIn{Vehicle: layout.Vehicle{Class: c.class}, Airs: Airs{Wheels: map[layout.Position]inflation.Wheel{}}}
		for at, n := range map[string]float64{"1L": c.left, "1R": c.right} {
			if n > 0 {
				in.Airs.Wheels[layout.MustParse(at)] = inflation.Wheel{Found: psi(n), Read: unit.PSI, LabelUnit: unit.PSI, Gauge: measure.Gauge[unit.Pressure]{Accuracy: psi(1)}}
			}
		}
		for _, left := range []bool{true, false} {
			es := in.softer(left)
			if len(es) > 0 != c.told {
				t.Errorf("%s: %+v", c.name, es)
			}
			if c.told && (es[0].Code != finding.FactComplaintSofterSide || es[0].Against != (left != c.softLeft) || es[0].Amount.Number != 8) {
				t.Errorf("%s, pulls left %v: %+v", c.name, left, es)
			}
		}
	}
}

// Which end of a vehicle shakes, and how slowly, says what is looked for (common practice).
func TestWhatAVibrationIsSettledBy(t *testing.T) {
	mph := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.MilesPerHour} }
	kmh := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.KilometersPerHour} }
	for _, c := range []struct {
		said visit.Complaint
		want finding.Settle
	}{
		{visit.Complaint{}, finding.SettleVibration},
		{visit.Complaint{From: mph(29)}, finding.SettleVibrationSlow},
		{visit.Complaint{From: mph(30)}, finding.SettleVibration},
		{visit.Complaint{From: kmh(48)}, finding.SettleVibrationSlow},
		{visit.Complaint{From: kmh(49)}, finding.SettleVibration},
		{visit.Complaint{Front: true}, finding.SettleVibrationFront},
		{visit.Complaint{Rear: true}, finding.SettleVibrationRear},
		{visit.Complaint{Front: true, Rear: true}, finding.SettleVibration},
		{visit.Complaint{Front: true, From: mph(20)}, finding.SettleVibrationSlow},
	} {
		if got := (complaint{c.said, finding.ComplaintKind{}}).vibration(); got != c.want {
			t.Errorf("%+v: %q, want %q", c.said, got, c.want)
		}
	}
	both := and(visit.Complaint{Front: true, From: mph(50)}, visit.Complaint{Rear: true, From: mph(20), AiredOften: true, Sealant: visit.SealantMayBurn})
	if !both.Front || !both.Rear || !both.AiredOften || both.From != mph(20) || both.Sealant != visit.SealantMayBurn {
		t.Errorf("said twice: %+v", both)
	}
	if got := and(visit.Complaint{From: mph(20)}, visit.Complaint{From: mph(50)}); got.From != mph(20) {
		t.Errorf("the slower one first: %+v", got)
	}
}

// How far a distance that lies ahead is told: to 1, 2 or 5 times a power of ten, a hundred
// at the least, no finer than it is known.
func TestStepsOfADistance(t *testing.T) {
	for n, want := range map[float64]float64{0: 100, 99: 100, 100: 100, 199: 100, 200: 200, 499: 200, 500: 500, 999: 500, 1_000: 1_000, 2_000: 2_000, 4_999: 2_000, 5_000: 5_000, 10_000: 10_000, 199.9999999: 200} {
		if got := round125(n); got != want {
			t.Errorf("%v: %v, want %v", n, got, want)
		}
	}
	miles := func(n float64) *unit.Distance { d := unit.MustDistance(n, unit.Miles); return &d }
	for _, c := range []struct {
		c    trend.Crossing
		want float64
	}{
		{trend.Crossing{At: miles(10_000), Earliest: miles(8_000), Latest: miles(14_000)}, 3_000},
		{trend.Crossing{At: miles(2_000), Earliest: miles(1_000), Latest: miles(14_000)}, 2_000},
		{trend.Crossing{At: miles(10_000), Earliest: miles(8_000)}, 2_000},
		{trend.Crossing{At: miles(2_000), Earliest: miles(-8_000)}, 2_000},
		{trend.Crossing{At: miles(10_000), Latest: miles(14_000)}, 10_000},
		{trend.Crossing{At: miles(10_000)}, 10_000},
	} {
		if got := half(c.c); got < unit.MustDistance(c.want-1, unit.Miles) || got > unit.MustDistance(c.want+1, unit.Miles) {
			t.Errorf("%v: %v miles, want %v", c.c, got.In(unit.Miles), c.want)
		}
	}
}

// lifeAt is the life of a tire that is out in so many miles, for a limit.
func lifeAt(miles, earlier, later float64, l lifeLimit) life {
	at, from, to := unit.MustDistance(miles, unit.Miles), unit.MustDistance(miles-earlier, unit.Miles), unit.MustDistance(miles+later, unit.Miles)
	return life{out: trend.Crossing{At: &at, Earliest: &from, Latest: &to}, trend: trend.Follow(worn(9, 8, 7, 6), nil), limit: l}
}

// The tire that is out first is told with those that are out at about the same time by the
// same limit, and asks for a plan where that is soon.
func TestWhichTireIsOutFirst(t *testing.T) {
	bars := lifeLimit{value: unit.Amount{Number: 2, Unit: unit.ThirtySecondsInch}}
	law := lifeLimit{value: unit.Amount{Number: 4, Unit: unit.ThirtySecondsInch}}
	due := trend.Due().In(unit.Miles)
	for _, c := range []struct {
		name  string
		lives map[string]life
		want  []string
		plan  bool
	}{
		{"one", map[string]life{"1L": lifeAt(20_000, 4_000, 4_000, bars)}, []string{"1L"}, false},
		{"the sooner one", map[string]life{"1L": lifeAt(20_000, 4_000, 4_000, bars), "1R": lifeAt(12_000, 4_000, 4_000, bars)}, []string{"1R"}, false},
		{"about the same", map[string]life{"1L": lifeAt(13_000, 4_000, 4_000, bars), "1R": lifeAt(12_000, 4_000, 4_000, bars)}, []string{"1L", "1R"}, false},
		{"a quarter of the interval later", map[string]life{"1L": lifeAt(14_000, 4_000, 4_000, bars), "1R": lifeAt(12_000, 4_000, 4_000, bars)}, []string{"1L", "1R"}, false},
		{"more", map[string]life{"1L": lifeAt(14_100, 4_000, 4_000, bars), "1R": lifeAt(12_000, 4_000, 4_000, bars)}, []string{"1R"}, false},
		{"by another limit", map[string]life{"1L": lifeAt(12_100, 4_000, 4_000, law), "1R": lifeAt(12_000, 4_000, 4_000, bars)}, []string{"1R"}, false},
		{"soon", map[string]life{"1L": lifeAt(due, 400, 400, bars)}, []string{"1L"}, true},
		{"not so soon", map[string]life{"1L": lifeAt(due+1, 400, 400, bars)}, []string{"1L"}, false},
		{"none", nil, nil, false},
	} {
		tr := trending{unit: shownIn{unit.ThirtySecondsInch, unit.Miles}}
		lives := map[layout.Position]life{}
		for _, at := range slices.Sorted(maps.Keys(c.lives)) {
			lives[layout.MustParse(at)] = c.lives[at]
		}
		tr.firstOut(lives)
		if len(tr.Findings) > 0 != (c.want != nil) {
			t.Errorf("%s: %+v", c.name, tr.Findings)
		}
		if c.want == nil {
			continue
		}
		f := tr.Findings[0]
		var at []string
		for _, p := range f.Positions {
			at = append(at, p.String())
		}
		want := finding.Note
		if c.plan {
			want = finding.Plan
		}
		if f.Code != finding.TrendFirstOut || !slices.Equal(at, c.want) || f.Urgency != want || f.Limit != lives[f.Positions[len(f.Positions)-1]].limit.value || len(f.Evidence) == 0 {
			t.Errorf("%s: %+v", c.name, f)
		}
	}
}

// A life is told by its rate, its readings and its ends: the earliest as "may be now" where
// it is no more than that, the latest as not known where none is, and each day that is to come.
func TestWhatALifeIsToldBy(t *testing.T) {
	u := shownIn{unit.ThirtySecondsInch, unit.Miles}
	points := worn(9, 8, 7, 6)
	for i := range points {
		points[i].Day = unit.Date{Year: 2020 + i, Month: 6, Day: 1}
		points[i].Run -= unit.MustDistance(40_000, unit.Miles)
	}
	tr := trend.Follow(points, nil)
	codes := func(c trend.Crossing, today unit.Date) (all []finding.Fact) {
		for _, e := range u.lifeEvidence(c, tr, today) {
			all = append(all, e.Code)
		}
		return all
	}
	whole := lifeAt(20_000, 4_000, 4_000, lifeLimit{}).out
	may, zero := whole, unit.Distance(0)
	may.Earliest = nil
	now := whole
	now.Earliest = &zero
	open := whole
	open.Latest = nil
	rest := []finding.Fact{finding.FactTrendRate, finding.FactTrendReadings}
	days := []finding.Fact{finding.FactTrendDay, finding.FactTrendEarliestDay, finding.FactTrendLatestDay}
	day := unit.Date{Year: 2023, Month: 7, Day: 1}
	for _, c := range []struct {
		name  string
		c     trend.Crossing
		today unit.Date
		want  []finding.Fact
	}{
		{"whole", whole, day, slices.Concat([]finding.Fact{finding.FactTrendEarliest, finding.FactTrendLatest}, rest, days)},
		{"it may be now", may, day, slices.Concat([]finding.Fact{finding.FactTrendMayBeNow, finding.FactTrendLatest}, rest, []finding.Fact{finding.FactTrendDay, finding.FactTrendLatestDay})},
		{"it is as near as now", now, day, slices.Concat([]finding.Fact{finding.FactTrendMayBeNow, finding.FactTrendLatest}, rest, []finding.Fact{finding.FactTrendDay, finding.FactTrendLatestDay})},
		{"no end", open, day, slices.Concat([]finding.Fact{finding.FactTrendEarliest, finding.FactTrendNoLatest}, rest, days[:2])},
		{"long past", whole, unit.Date{Year: 2090, Month: 1, Day: 1}, slices.Concat([]finding.Fact{finding.FactTrendEarliest, finding.FactTrendLatest}, rest)},
	} {
		if got := codes(c.c, c.today); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	es := u.lifeEvidence(whole, tr, day)
	if es[0].Amount.Number != 16_000 || es[1].Amount.Number != 24_000 || es[3].Amount != (unit.Amount{Number: 4, Unit: unit.Count}) || es[2].Amount.Number != 0.1 {
		t.Errorf("%+v", es)
	}
	if !(es[5].Day.Compare(es[4].Day) < 0 && es[4].Day.Compare(es[6].Day) < 0) {
		t.Errorf("days %v, %v, %v", es[4].Day, es[5].Day, es[6].Day)
	}
}

// What a tire lost since the visit before that read it: only where it stayed, that visit says
// how it was left and on which day; one that read nothing is passed over, and a reading of the
// tire at rest that is later counts instead.
func TestWhatATireLost(t *testing.T) {
	day := func(m, d int) unit.Date { return unit.Date{Year: 2026, Month: m, Day: d} }
	left := func(m int, n float64) visit.Before {
		return visit.Before{Day: day(m, 1), Stayed: true, Left: visit.Pressure{Of: psi(n), Read: unit.PSI}}
	}
	with := func(b visit.Before, do func(*visit.Before)) visit.Before { do(&b); return b }
	labels := visit.Labels{Vehicle: layout.Vehicle{Class: layout.PassengerCar, Axles: []layout.Axle{{ColdNormal: psi(33), LabelUnit: unit.PSI}}}}
	rested := left(5, 35)
	onTheDay := left(3, 35)
	for _, c := range []struct {
		name   string
		at     string
		found  float64
		today  unit.Date
		before []visit.Before
		rested *visit.Before
		days   int // 0: not told
	}{
		{"since March", "1L", 30, day(6, 1), []visit.Before{left(3, 36)}, nil, 92},
		{"the newest of two", "1L", 30, day(6, 1), []visit.Before{left(5, 36), left(3, 36)}, nil, 31},
		{"one that read nothing between", "1L", 30, day(6, 1), []visit.Before{{Day: day(5, 1), Stayed: true}, left(3, 36)}, nil, 92},
		{"found and not left", "1L", 30, day(6, 1), []visit.Before{{Day: day(5, 1), Stayed: true, Found: visit.Pressure{Of: psi(30), Read: unit.PSI}}, left(3, 36)}, nil, 0},
		{"it went elsewhere", "1L", 30, day(6, 1), []visit.Before{with(left(3, 36), func(b *visit.Before) { b.Stayed = false })}, nil, 0},
		{"on no known day", "1L", 30, day(6, 1), []visit.Before{with(left(3, 36), func(b *visit.Before) { b.Day = unit.Date{} })}, nil, 0},
		{"never before", "1L", 30, day(6, 1), nil, nil, 0},
		{"not read today", "1L", 0, day(6, 1), []visit.Before{left(3, 36)}, nil, 0},
		{"today is not told", "1L", 30, unit.Date{}, []visit.Before{left(3, 36)}, nil, 0},
		{"the spare", "S", 30, day(6, 1), []visit.Before{left(3, 36)}, nil, 0},
		{"read at rest since", "1L", 30, day(6, 1), []visit.Before{left(3, 36)}, &rested, 31},
		{"read at rest, and never before", "1L", 30, day(6, 1), nil, &rested, 31},
		{"read at rest a day later", "1L", 30, day(6, 1), []visit.Before{with(left(4, 36), func(b *visit.Before) { b.Day = day(4, 30) })}, &rested, 31},
		{"read at rest on the day", "1L", 30, day(6, 1), []visit.Before{with(left(3, 36), func(b *visit.Before) { b.Stayed = false })}, &onTheDay, 0},
	} {
		w := visit.Wheel{Position: layout.MustParse(c.at), Before: c.before, Rested: c.rested}
		if c.found > 0 {
			w.Pressure = visit.Pressure{Of: psi(c.found), Read: unit.PSI}
		}
		on := inflation.Conditions{DrivenHere: finding.No}
		in := LossIn{Labels: labels, Conditions: on, Day: c.today, Airs: Airs{Wheels: map[layout.Position]inflation.Wheel{w.Position: labels.Air(w, w.Pressure, on)}}}
		got, ok := in.lost(w)
		if ok != (c.days > 0) || ok && (got.days != c.days || got.at != w.Position || got.rate.Of <= 0) {
			t.Errorf("%s: %+v, %v", c.name, got, ok)
		}
	}
}

// Tires that lose alike, and more than is usual, are told together, over their days, in the
// first of their units.
func TestTiresThatLoseAlike(t *testing.T) {
	fast := trend.UsualLoss() * 3
	one := func(at string, u unit.Unit, rate unit.LossRate) losing {
		return losing{at: layout.MustParse(at), rate: measure.Value[unit.LossRate]{Of: rate, Std: float64(rate) / 100}, days: 60, oneHeat: true, pressure: visit.Pressure{Read: u}}
	}
	var a Answer
	a.loseAlike([]losing{one("1L", unit.PSI, fast), one("1R", unit.PSI, fast), one("2L", unit.PSI, fast)})
	if len(a.Findings) != 1 {
		t.Fatalf("%+v", a.Findings)
	}
	f := a.Findings[0]
	if f.Code != finding.TrendLosesAlike || f.Urgency != finding.Note || len(f.Positions) != 3 || f.Positions[2].String() != "2L" || f.Measured.Unit != unit.PSIPerMonth {
		t.Errorf("%+v", f)
	}
	if len(f.Evidence) != 1 || f.Evidence[0].Code != finding.FactTrendDays || f.Evidence[0].Amount != (unit.Amount{Number: 60, Unit: unit.Count}) {
		t.Errorf("%+v", f.Evidence)
	}
	var usual Answer
	usual.loseAlike([]losing{one("1L", unit.PSI, trend.UsualLoss()), one("1R", unit.PSI, trend.UsualLoss())})
	if len(usual.Findings) != 0 {
		t.Errorf("as much as usual: %+v", usual.Findings)
	}
}
