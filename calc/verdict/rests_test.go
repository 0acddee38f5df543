package verdict

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/order"
	"gaugebook.dev/calc/unit"
)

func inThirtySeconds(n float64) unit.Amount {
	return unit.Amount{Number: n, Unit: unit.ThirtySecondsInch}
}

// A headline rests on three facts at the most: what holds first, then what leaves that
// open, then what a gauge read, then the rest; of equals those of more wheels, and each
// wheel before one is named again (our own decision).
func TestFactsOf(t *testing.T) {
	is := func(code finding.Code, u finding.Urgency, places ...string) finding.Finding {
		f := finding.Finding{Code: code, Urgency: u}
		for _, p := range places {
			f.Positions = append(f.Positions, layout.MustParse(p))
		}
		return f
	}
	read := func(f finding.Finding, depth float64) finding.Finding {
		f.Measured, f.Limit = inThirtySeconds(depth), inThirtySeconds(2)
		return f
	}
	likely := func(f finding.Finding, rank int) finding.Finding { f.Rank = rank; return f }
	doubtful := func(f finding.Finding) finding.Finding { f.Outcome = measure.CannotTell; return f }
	const drive, soon, plan, note = finding.BeforeDriving, finding.ThisVisit, finding.Plan, finding.Note
	bars, ripple, cut, toe, scallop := finding.TreadWornToBars, finding.DamageRadialRipple, finding.DamageCut, finding.WearToeIn, finding.WearScalloped
	held := Headline{Hold: OffTheRoad, Positions: []layout.Position{layout.MustParse("1L")}}
	free := Headline{Hold: NoHoldFound}
	for _, c := range []struct {
		name string
		open []finding.Finding
		of   Headline
		want string
	}{
		{"nothing", nil, free, ""},
		{"by rank: what holds, what leaves it open, what was read, the rest", []finding.Finding{is(scallop, soon, "1L"), read(is(bars, soon, "1L"), 2), is(cut, soon, "1L"), is(ripple, drive, "1L")}, held,
			"damage.radial-ripple 1L, damage.cut 1L, tread.worn-to-bars 1L"},
		{"before driving, but still no danger where it stands, after what is", []finding.Finding{read(is(finding.TreadLegalLimit, drive, "1L"), 1), is(ripple, drive, "1L")}, held,
			"damage.radial-ripple 1L, tread.legal-limit 1L"},
		{"in doubt after what is proved", []finding.Finding{doubtful(read(is(finding.TreadLegalLimit, drive, "1L"), 2)), is(scallop, soon, "1L"), is(finding.TreadFittingLimit, drive, "1L")}, held,
			"tread.fitting-limit 1L, tread.legal-limit 1L, wear.scalloped 1L"},
		{"what was read before what was not", []finding.Finding{is(finding.SensorNotLearned, soon, "1L", "1R"), read(is(bars, soon, "1L"), 2)}, free, "tread.worn-to-bars 1L, sensor.not-learned 1L 1R"},
		{"more wheels first", []finding.Finding{is(scallop, soon, "1L"), is(toe, soon, "2L", "2R")}, free, "wear.toe-in 2L 2R, wear.scalloped 1L"},
		{"each wheel before one is named again", []finding.Finding{read(is(bars, soon, "1L"), 2), read(is(finding.TreadModelLimit, soon, "1L"), 2), is(toe, soon, "1L"), is(scallop, soon, "2R")}, free,
			"tread.model-limit 1L, wear.scalloped 2R, tread.worn-to-bars 1L"},
		{"three and no more", []finding.Finding{is(toe, soon, "1L"), is(scallop, soon, "1R"), read(is(bars, soon, "2L"), 2), is(cut, soon, "2R")}, free, "damage.cut 2R, tread.worn-to-bars 2L, wear.scalloped 1R"},
		{"no notes, no other causes", []finding.Finding{is(toe, note, "1L"), likely(is(scallop, soon, "1L"), 2), likely(is(finding.WearToeOut, soon, "1L"), 1)}, free, "wear.toe-out 1L"},
		{"held: nothing to plan, nothing of another wheel", []finding.Finding{is(ripple, drive, "1L"), is(toe, plan, "1L"), is(scallop, soon, "2R"), is(cut, soon)}, held, "damage.radial-ripple 1L"},
		{"held as a whole: of every wheel", []finding.Finding{is(ripple, drive, "1L"), is(scallop, soon, "2R")}, Headline{Hold: OffTheRoad}, "damage.radial-ripple 1L, wear.scalloped 2R"},
		{"free: also to plan, at any wheel", []finding.Finding{is(toe, plan, "1L")}, free, "wear.toe-in 1L"},
		{"one kind on two wheels, read alike", []finding.Finding{read(is(bars, soon, "1R"), 2), read(is(bars, soon, "1L"), 2)}, free, "tread.worn-to-bars 1L 1R"},
		{"read otherwise: by the lower", []finding.Finding{read(is(bars, soon, "1L"), 2), read(is(bars, soon, "1R"), 1)}, free, "tread.worn-to-bars 1L 1R: 1 at 1R, others differ"},
		{"the lower one first", []finding.Finding{read(is(bars, soon, "1L"), 1), read(is(bars, soon, "1R"), 2)}, free, "tread.worn-to-bars 1L 1R: 1 at 1L, others differ"},
		{"one kind twice on a wheel is told once", []finding.Finding{read(is(bars, soon, "1L"), 2), read(is(bars, soon, "1L"), 1)}, free, "tread.worn-to-bars 1L"},
	} {
		before := fmt.Sprint(c.open)
		if got := factsTold(FactsOf(c.open, c.of)); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
		if fmt.Sprint(c.open) != before {
			t.Errorf("%s: what was given has changed", c.name)
		}
		slices.Reverse(c.open)
		if got := factsTold(FactsOf(c.open, c.of)); got != c.want && c.name != "one kind twice on a wheel is told once" {
			t.Errorf("%s, the other way round: %q, want %q", c.name, got, c.want)
		}
	}
}

func factsTold(all []Fact) string {
	var told []string
	for _, f := range all {
		s := string(f.Code)
		for _, p := range f.Positions {
			s += " " + p.String()
		}
		if f.Differ || !slices.Equal(f.Worst, f.Positions) {
			s += fmt.Sprintf(": %v at", f.Measured.Number)
			for _, p := range f.Worst {
				s += " " + p.String()
			}
		}
		if f.Differ {
			s += ", others differ"
		}
		told = append(told, s)
	}
	return strings.Join(told, ", ")
}

// What comes of a headline: the first thing to do at its wheels, the OK to ask for, what
// is bought, and what to come back for (our own decision). The first thing is never what
// is sold, what opens or ends all work, or what waits for something.
func TestPlanOf(t *testing.T) {
	line := func(code finding.Work, at ...string) order.Work {
		return order.Work{Code: code, Positions: placesOf(at...)}
	}
	waits := func(w order.Work) order.Work { w.Condition = finding.WhenWheelComesOff; return w }
	hold, ask, look, mend := line(finding.WorkVehicleHold, "1L"), line(finding.WorkConsentLook, "1L"), line(finding.WorkTireLookClosely, "1L"), line(finding.WorkConsentMend, "1L")
	air, other, back := line(finding.WorkAirSet, "1L"), line(finding.WorkAirSet, "2R"), line(finding.WorkOwedTorqueRecheck, "1L")
	one, pair, winter := line(finding.WorkTireReplace, "1L"), line(finding.WorkTiresReplacePair, "1L", "1R"), line(finding.WorkTiresFitWinter, "1L", "1R", "2L", "2R")
	at1L, free := Headline{Hold: OffTheRoad, Positions: placesOf("1L")}, Headline{Hold: NoHoldFound, Positions: placesOf("1L", "2R")}
	for _, c := range []struct {
		name  string
		work  []order.Work
		of    Headline
		first order.Work
		ask   order.Work
		quote []order.Work
		back  []order.Work
	}{
		{"nothing", nil, free, order.Work{}, order.Work{}, nil, nil},
		{"the only line", []order.Work{air}, at1L, air, order.Work{}, nil, nil},
		{"at the wheels that hold it, before another", []order.Work{other, air}, at1L, air, order.Work{}, nil, nil},
		{"nothing there: the first anywhere", []order.Work{other}, at1L, other, order.Work{}, nil, nil},
		{"not held: the first in order", []order.Work{other, air}, free, other, order.Work{}, nil, nil},
		{"not what opens all work", []order.Work{hold, look}, at1L, look, order.Work{}, nil, nil},
		{"not what is sold", []order.Work{hold, one}, at1L, order.Work{}, order.Work{}, []order.Work{one}, nil},
		{"not what waits", []order.Work{waits(look), air}, at1L, air, order.Work{}, nil, nil},
		{"nor what follows from work", []order.Work{line(finding.WorkWheelTakeOff, "1L"), air}, at1L, air, order.Work{}, nil, nil},
		{"nor what is due later", []order.Work{back}, at1L, order.Work{}, order.Work{}, nil, []order.Work{back}},
		{"an OK to look, before one to mend", []order.Work{ask, look, mend, one}, at1L, ask, ask, []order.Work{one}, nil},
		{"an OK that waits gives way", []order.Work{waits(ask), mend}, at1L, order.Work{}, mend, nil, nil},
		{"and stands where there is no other", []order.Work{waits(ask)}, at1L, order.Work{}, waits(ask), nil, nil},
		{"the first of two that wait", []order.Work{waits(ask), waits(mend)}, at1L, order.Work{}, waits(ask), nil, nil},
		{"for more wheels first, and each wheel once", []order.Work{one, pair}, free, order.Work{}, order.Work{}, []order.Work{pair}, nil},
		{"more on some wheels that are new", []order.Work{pair, winter}, free, order.Work{}, order.Work{}, []order.Work{winter}, nil},
		{"a repair is quoted too", []order.Work{line(finding.WorkRepairAfterInspection, "2R"), one}, free, line(finding.WorkRepairAfterInspection, "2R"), order.Work{}, []order.Work{line(finding.WorkRepairAfterInspection, "2R"), one}, nil},
		{"what is moved is not bought", []order.Work{line(finding.WorkSparePutBack, "1L")}, free, order.Work{}, order.Work{}, nil, nil},
	} {
		got := planOf(c.work, c.of)
		if got.First.ID() != c.first.ID() || got.Ask.ID() != c.ask.ID() {
			t.Errorf("%s: first %s, asked by %s", c.name, got.First.ID(), got.Ask.ID())
		}
		same := func(a, b order.Work) bool { return a.ID() == b.ID() }
		if !slices.EqualFunc(got.Quote, c.quote, same) || !slices.EqualFunc(got.Back, c.back, same) {
			t.Errorf("%s: quoted %v, back for %v", c.name, got.Quote, got.Back)
		}
	}
}

// Amounts are ordered whatever they are told in; those that are equal, or of different
// quantities, by their units: none too.
func TestAmountsInOrder(t *testing.T) {
	of := func(n float64, u unit.Unit) unit.Amount { return unit.Amount{Number: n, Unit: u} }
	mm, in32, psi := unit.Millimeters, unit.ThirtySecondsInch, unit.PSI
	for _, c := range []struct {
		a, b unit.Amount
		want int
	}{
		{of(3, mm), of(4, mm), -1}, {of(4, mm), of(3, mm), 1}, {of(3, mm), of(3, mm), 0}, {of(2, in32), of(1.5, mm), 1}, {of(2, in32), of(1.6, mm), -1},
		{of(4, in32), of(3.175, mm), cmp.Compare(in32, mm)}, {of(0, in32), of(0, mm), cmp.Compare(in32, mm)}, {of(0, mm), of(0, in32), cmp.Compare(mm, in32)}, {of(3, mm), of(30, psi), cmp.Compare(mm, psi)},
	} {
		if got := compare(c.a, c.b); got != c.want {
			t.Errorf("%v and %v: %d, want %d", c.a, c.b, got, c.want)
		}
	}
}
