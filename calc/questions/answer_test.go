package questions

import (
	"fmt"
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
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
