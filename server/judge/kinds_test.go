package judge_test

import (
	"slices"
	"strings"
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/finding/findingtest"
	"gaugebook.dev/calc/order"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/verdict"
	"gaugebook.dev/calc/visit"

	"gaugebook.dev/server/translate"
)

// witnessed are the codes that visits bring out, by the name of their type.
type witnessed map[string]map[string]bool

func (w witnessed) see(kind, code string) {
	if w[kind] == nil {
		w[kind] = map[string]bool{}
	}
	w[kind][code] = true
}

func (w witnessed) finding(f finding.Finding) {
	w.see("Code", string(f.Code))
	w.see("Settle", string(f.ToSettle))
	w.see("Caution", string(f.Caution))
	for _, e := range f.Evidence {
		w.see("Fact", string(e.Code))
	}
}

// verdict sees all that was said of one visit.
func (w witnessed) verdict(v visit.Visit, out verdict.Verdict) {
	for _, f := range out.Findings {
		w.finding(f)
	}
	for _, u := range verdict.HeadlineOf(v, out).Unknown {
		w.see("Unknown", string(u))
	}
	for _, l := range slices.Concat(out.Work, rotationWork(v, out)) {
		w.see("Work", string(l.Code))
		w.see("Condition", string(l.Condition))
		w.see("Caution", string(l.Caution))
	}
	for _, c := range out.Checked {
		w.see("Checked", string(c.Code))
	}
	for _, n := range out.NotLooked {
		w.see("Looked", string(n.What))
		w.see("NotLooked", string(n.Reason))
	}
	for _, n := range out.NotJudged {
		w.see("Recorded", string(n.Code))
	}
	for _, u := range out.Unanswered {
		w.see("Question", string(u.Code))
	}
	for _, c := range out.Done {
		w.see("Closed", string(c))
	}
	for _, f := range translate.Assessment(&pb.AssessVisitRequest{}, v, out).GetFindings() {
		w.see("Closed", f.GetAsLeft().GetPutRight().GetCode())
	}
	for _, r := range out.Repairs {
		for _, l := range r.Result.LookFor {
			w.see("LookFor", string(l))
		}
		for _, m := range r.Result.Missing {
			w.see("Settle", string(m))
		}
	}
	for _, p := range out.Rotation.Result.Plans {
		for _, r := range p.WhyNot {
			w.see("Reason", string(r))
		}
		for _, r := range p.Warnings {
			w.see("Reason", string(r.Code))
		}
	}
	for _, q := range out.Rotation.Result.Open {
		w.see("Question", string(q))
	}
	w.visit(v)
}

func rotationWork(v visit.Visit, out verdict.Verdict) (work []order.Work) {
	for _, p := range out.Rotation.Result.Plans {
		work = append(work, order.After(v, p.Map)...)
	}
	return work
}

// visit sees what was observed, done and told.
func (w witnessed) visit(v visit.Visit) {
	for _, wheel := range v.Wheels {
		for _, o := range slices.Concat(wheel.Observations, wheel.ObservationsLeft) {
			w.see("Observation", string(o.Kind))
			w.see("Part", string(o.Part))
			w.see("WheelSide", string(o.Side))
		}
		for _, l := range wheel.Looked {
			w.see("Looked", string(l.What))
		}
	}
	for _, d := range v.Done {
		w.see("Done", string(d.Kind))
	}
	for _, c := range v.Complaints {
		w.see("Complaint", string(c.Kind))
	}
}

// everyVisit is the corpus with the visits of the cases.
func everyVisit(t *testing.T) []*pb.AssessVisitRequest {
	t.Helper()
	var all []*pb.AssessVisitRequest
	for _, f := range corpus(t) {
		all = append(all, f.visit)
	}
	for _, s := range suites(t) {
		for _, c := range s.cases {
			all = append(all, c.request)
		}
	}
	return all
}

// noWitness are the codes that no visit of the corpus or of the cases brings out,
// with why.
var noWitness = func() map[string]string {
	all := map[string]string{}
	for why, codes := range map[string][]string{
		"said by calls about one question: TestWhatACallDoesNotJudgeIsNamed": {"Recorded recorded.not-asked"},
		"a part of the tread is told as not looked at all round": {
			"Checked looked.tread-part",
		},
		"calc/fitment has tests of it": {
			"Checked match.all-wheel-drive",
		},
		"by a repair or an outcome of its own record: server/book has tests of it": {
			"Closed closed.done-here", "Closed closed.done-elsewhere",
		},
		"rare: no visit has it yet": {
			"Fact inflation.burnt-smell", "Fact match.tape-conditions-not-told", "Fact sensor.spare-not-read",
			"Fact torque.distance-not-known", "Fact trend.odd-at", "Fact trend.temperature-not-told", "Fact trend.was-new",
			"Fact wear.felt-sharp-to-one-side", "Observation run-low-smell", "Settle settle.day-of-making",
			"Settle settle.read-again-later",
		},
		"by a shop's own file alone (TestShopsOwnLimit, TestEditionBesideTheLaw)": {
			"Checked tread.shop-limit", "Code tread.shop-limit", "Checked tread.roadside-limit", "Code tread.roadside-limit",
		},
		"calc/verdict has tests of it": {
			"Fact spare.all-axles-driven", "Unknown unknown.inside", "Unknown unknown.spare", "Unknown unknown.wheels",
		},
		"told in the customer's words alone": {
			"Complaint other",
		},
		"recorded: it bears on later visits (server/translate)": {
			"Done lowered-or-raised", "Done pressures-set", "Done sensor-reset", "Done tire-mounted", "Done tire-repaired",
			"Done tires-rotated",
		},
		"calc/verdict tries every cause of every complaint": {
			"Fact complaint.axle-not-square", "Fact complaint.bent-part", "Fact complaint.brake-drags", "Fact complaint.coming-apart",
			"Fact complaint.flat-spot", "Fact complaint.leak-found", "Fact complaint.loose-fastener", "Fact complaint.loose-part", "Fact complaint.not-round",
			"Fact complaint.scalloped", "Fact complaint.sensor-silent", "Fact complaint.struck", "Fact complaint.tires-differ", "Fact told.hit-something",
			"Fact told.thump", "Fact told.vibration",
		},
		"calc/rotation tries every map": {
			"Fact map.five-tire-forward-cross", "Fact map.five-tire-forward-cross-left", "Fact map.five-tire-rearward-cross",
			"Fact map.five-tire-rearward-cross-left", "Fact map.forward-cross", "Fact map.front-rear-same-side", "Fact map.rearward-cross",
			"Fact map.side-to-side", "Fact map.six-tire-same-side", "Fact map.x-pattern",
		},
		"calc/wear has tests of it": {
			"Settle settle.read-other-axle",
			"Fact wear.alignment-in-range-long-ago", "Fact wear.not-a-driven-axle", "Fact wear.too-few-miles-here",
		},
		"calc/puncture has tests of it": {
			"Observation earlier-repair", "Observation earlier-repair-failing", "Observation earlier-repair-section",
			"Settle puncture.need.earlier-repair-kind", "Settle puncture.need.injury",
		},
		"told of what an earlier visit left open (calc/closing, server/book)":  {"Closed closed.found-good", "Closed closed.corrected"},
		"by moves that take a tire off: server/book/follow_test.go":            {"Closed closed.tire-off"},
		"by a merge of two vehicles: server/book/same_test.go":                 {"Closed closed.merged"},
		"by a tire that moves to another vehicle: server/book/carried_test.go": {"Closed closed.moved-on"},
		"told beside cautions that are told in brief: server/tell":             {"Caution caution.defer"},
		"tells places apart, and nothing by itself": {
			"Part bead", "Part crown", "Part inside", "Part shoulder", "WheelSide inner",
		},
		"told where maps are compared (calc/rotation, server/api)": {
			"Reason rotation.against-the-arrow", "Reason rotation.constructions-differ",
			"Reason rotation.duals-differ", "Reason rotation.duals-not-told-alike", "Reason rotation.makes-pair-uneven", "Reason rotation.outside-mark-in",
			"Reason rotation.sizes-differ", "Reason rotation.spare-age-not-told", "Reason rotation.spare-does-not-match", "Reason rotation.spare-older",
			"Reason rotation.studded-changes-side", "Reason rotation.temporary-spare", "Reason rotation.no-key", "Reason rotation.too-soon", "Recorded rotation.other-vehicle",
		},
		"told by no call: it decides lines of work (calc/inflation)": {
			"Target inflation.target-as-it-is", "Target inflation.target-converted", "Target inflation.target-label", "Target inflation.target-let-down",
			"Target inflation.target-lower-cold", "Target inflation.target-mates", "Target inflation.target-misfit", "Target inflation.target-no-air",
			"Target inflation.target-no-label", "Target inflation.target-no-reading", "Target inflation.target-not-judged",
			"Target inflation.target-sidewall", "Target inflation.target-wait", "Target inflation.target-warm",
		},
	} {
		for _, c := range codes {
			all[c] = why
		}
	}
	return all
}()

// Every code of the table has a witness: a visit of the corpus or of the cases.
func TestEveryKindHasAWitness(t *testing.T) {
	seen := witnessed{}
	for _, req := range everyVisit(t) {
		v := translate.Visit(req)
		seen.verdict(v, verdict.Judge(v))
	}
	for _, req := range judgedHere(t) { // and what closes it, once all is done
		_, _, m := doItAll(req, "")
		v := translate.Visit(m.req)
		seen.verdict(v, verdict.Judge(v))
	}
	for kind, codes := range findingtest.Constants(t, root+"/calc/finding") {
		if kind == "Remark" {
			continue // said beside what is printed on a tire: no visit has them (server/api)
		}
		for _, code := range codes {
			why := noWitness[kind+" "+code]
			switch {
			case retired(kind, code):
			case !seen[kind][code] && why == "":
				t.Errorf("%s %s: no visit of the corpus or of the cases brings it out", kind, code)
			case seen[kind][code] && why != "":
				t.Errorf("%s %s has a witness now", kind, code)
			}
		}
	}
}

// retired tells that a code is not brought out any more; it stays in the table.
func retired(kind, code string) bool {
	return map[string]bool{
		"Code":        finding.KindOf(finding.Code(code)).Retired,
		"Fact":        finding.FactOf(finding.Fact(code)).Retired,
		"Checked":     finding.CheckedOf(finding.Checked(code)).Retired,
		"Work":        finding.WorkOf(finding.Work(code)).Retired,
		"Caution":     finding.CautionOf(finding.Caution(code)).Retired,
		"Observation": finding.ObservationOf(finding.Observation(code)).Retired,
		"Done":        finding.DoneOf(finding.Done(code)).Retired,
		"Complaint":   finding.ComplaintOf(finding.Complaint(code)).Retired,
		"Looked":      finding.LookedOf(finding.Looked(code)).Retired,
		"Question":    finding.QuestionOf(finding.Question(code)).Retired,
	}[kind]
}

// unitsOf are the units that amounts of a quantity are in.
var unitsOf = map[finding.Quantity][]unit.Unit{
	finding.Nothing:      {unit.None},
	finding.TreadDepth:   {unit.ThirtySecondsInch, unit.Millimeters},
	finding.Length:       {unit.Millimeters, unit.Inches},
	finding.Pressure:     {unit.PSI, unit.Kilopascals, unit.Bar},
	finding.PressureLoss: {unit.PSIPerMonth, unit.KilopascalsPerMonth, unit.BarPerMonth},
	finding.Load:         {unit.Pounds, unit.Kilograms},
	finding.Share:        {unit.Percent},
	finding.Number:       {unit.Count},
	finding.Age:          {unit.Years},
	finding.Distance:     {unit.Miles, unit.Kilometers},
	finding.Speed:        {unit.MilesPerHour, unit.KilometersPerHour},
	finding.Torque:       {unit.PoundFeet, unit.NewtonMeters},
	finding.Angle:        {unit.Degrees},
	finding.Temperature:  {unit.Fahrenheit, unit.Celsius},
	finding.WearRate:     {unit.ThirtySecondsPer1000Miles, unit.MillimetersPer1000Kilometer},
	finding.Day:          {unit.None},
}

// The columns of a finding are true of what is found: its amounts are of the
// quantities that its row tells, its default urgency is met, and it is of a place or
// of the vehicle as its row says.
func TestFindingsAreAsTheirRowsSay(t *testing.T) {
	met := map[finding.Code]bool{}
	wrong := map[string]bool{}
	check := func(code, what string, a unit.Amount, of finding.Quantity) {
		if !a.IsZero() && !slices.Contains(unitsOf[of], a.Unit) {
			wrong[strings.Join([]string{code, what, "is in", a.Unit.String()}, " ")] = true
		}
	}
	for _, req := range everyVisit(t) {
		out := verdict.Judge(translate.Visit(req))
		for _, f := range out.Findings {
			k := finding.KindOf(f.Code)
			check(string(k.Code), "measured", f.Measured, k.Measured)
			check(string(k.Code), "margin", f.Margin, k.Measured)
			check(string(k.Code), "uncertainty", f.Uncertainty, k.Measured)
			check(string(k.Code), "limit", f.Limit, k.Limit)
			for _, e := range f.Evidence {
				check(string(e.Code), "evidence", e.Amount, finding.FactOf(e.Code).Amount)
			}
			met[f.Code] = met[f.Code] || f.Urgency == k.Urgency
			if k.Of != finding.OfVehicle && len(f.Positions) == 0 && k.Again != finding.AgainSpare {
				wrong[string(k.Code)+" is at no place"] = true
			}
		}
		for _, c := range out.Checked {
			k := finding.CheckedOf(c.Code)
			check(string(k.Code), "checked, measured", c.Measured, k.Measured)
			check(string(k.Code), "checked, limit", c.Limit, k.Limit)
		}
		for _, l := range out.Work {
			k := finding.WorkOf(l.Code)
			if k.Of == finding.OfVehicle && len(l.Positions) > 0 || k.Of == finding.OfPlace && len(l.Positions) == 0 {
				wrong[string(k.Code)+" is at another place than its row says"] = true
			}
		}
	}
	for w := range wrong {
		t.Error(w)
	}
	for k := range finding.Kinds() {
		if !met[k.Code] && !k.Retired && noWitness["Code "+string(k.Code)] == "" {
			t.Errorf("%s: never as urgent as its row says", k.Code)
		}
	}
}
