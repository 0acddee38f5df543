package judge_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// casesIn reads the cases of a text as a file of its own.
func casesIn(t *testing.T, text string) ([]*testCase, []string) {
	t.Helper()
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "some.yaml"), []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	fs := &faults{}
	return readCases(dir, fs), fs.list
}

// What is wrong with a case is said with file, line, case, key and, where one
// is near, what was meant.
func TestCaseFaults(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []string // of one fault
	}{
		{"unknown key", "- id: A\n  vehicel: {}\n  expect: {answer: repairable}", []string{"some.yaml:2: A: vehicel: unknown key (did you mean vehicle?)"}},
		{"unknown key below", "- id: A\n  vehicle:\n    label_pis: 33\n  expect: {answer: repairable}", []string{"some.yaml:3: A: vehicle.label_pis", "did you mean label_psi?"}},
		{"key twice", "- id: A\n  depth: 7\n  depth: 8\n  expect: {answer: repairable}", []string{"some.yaml:3: A: depth", "twice"}},
		{"no id", "- title: A\n  expect: {answer: repairable}", []string{"case 1", "needs an id"}},
		{"expects nothing", "- id: A\n  depth: 7", []string{"A", "expects nothing"}},
		{"id twice", "- id: A\n  psi: 33\n  expect: {urgency: note}\n- id: A\n  psi: 33\n  expect: {urgency: note}", []string{"some.yaml:4: A", "another case"}},
		{"unknown answer", "- id: A\n  expect: {answer: repairible}", []string{"A: expect.answer", "did you mean repairable?"}},
		{"unknown kind", "- id: A\n  observed: {RR: cord-shoing}\n  expect: {answer: repairable}", []string{"A: observed.RR", "did you mean cord-showing?"}},
		{"unknown place of a kind", "- id: A\n  observed: {RR: cut@inbord}\n  expect: {answer: repairable}", []string{"A: observed.RR", "did you mean inboard?"}},
		{"no such wheel", "- id: A\n  vehicle: {dual: rear, class: truck}\n  psi: {RR: 33}\n  expect: {answer: repairable}", []string{"A: psi.RR", "no such wheel", "2RO"}},
		{"ambiguous wheel", "- id: A\n  vehicle: {axles: 3, class: truck}\n  depth: {LR: 7}\n  expect: {answer: repairable}", []string{"A: depth.LR", "no such wheel", "3L"}},
		{"length without unit", "- id: A\n  injuries: {size: 4}\n  expect: {answer: repairable}", []string{"A: injuries.size", "units", "mm"}},
		{"wrong unit", "- id: A\n  psi: 33 mm\n  expect: {answer: repairable}", []string{"A: psi", "units", "bar"}},
		{"no number", "- id: A\n  psi: some\n  expect: {answer: repairable}", []string{"A: psi", "no number"}},
		{"two depths", "- id: A\n  depth: [7, 8]\n  expect: {answer: repairable}", []string{"A: depth", "three"}},
		{"no day", "- id: A\n  date: June\n  expect: {answer: repairable}", []string{"A: date", "2026-11-24"}},
		{"move without miles", "- id: A\n  moves: {map: forward-cross}\n  expect: {answer: repairable}", []string{"A: moves", "miles_ago"}},
		{"tire moved to nowhere", "- id: A\n  moves: {miles_ago: 10, map: {LF: LR}}\n  expect: {answer: repairable}", []string{"A: moves", "every place"}},
		{"earlier at no time", "- id: A\n  earlier: {psi: 33}\n  expect: {answer: repairable}", []string{"A: earlier", "miles_ago"}},
		{"not followed", "- id: A\n  earlier: {months_ago: 1, psi: 33}\n  moves: {miles_ago: 10, map: x}\n  expect: {answer: repairable}", []string{"A: earlier", "followed"}},
		{"unknown field of the contract", "- id: A\n  psi: 33\n  visit: {inspection: {odometr: x}}\n  expect: {answer: repairable}", []string{"A: visit.inspection.odometr", "did you mean odometer?"}},
		{"refused by the check", "- id: A\n  psi: -3\n  expect: {answer: repairable}", []string{"A", "cannot be judged", "pressure"}},
		{"no YAML", "- id: [", []string{"some.yaml", "yaml"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, faults := casesIn(t, c.text)
			if !slices.ContainsFunc(faults, func(f string) bool {
				return !slices.ContainsFunc(c.want, func(w string) bool { return !strings.Contains(f, w) })
			}) {
				t.Errorf("no fault says %q: %q", c.want, faults)
			}
		})
	}
}

// Two notations of one thing make one visit.
func TestCaseNotations(t *testing.T) {
	for _, c := range []struct{ name, a, b string }{
		{"depth of a tire", "depth: {RR: 7}", "depth: {2R: [7, 7, 7]}"},
		{"depth of all", "depth: 7", "depth: {all: 7/32 in}"},
		{"front and rear", "depth: {front: 7, rear: 8}", "depth: {LF: 7, RF: 7, LR: 8, RR: 8}"},
		{"the narrower wins", "psi: {RR: 20, all: 33}", "psi: {front: 33, LR: 33, RR: 20}"},
		{"unit written", "psi: {LF: 2.3 bar}", "bar: {LF: 2.3}"},
		{"fractions", "injuries: {size: 3/16 in, part: crown}", "injuries: {part: crown, size: 0.1875 inches}"},
		{"size when seen inside", "looked: inside\ninjuries: {part: crown, size: 4 mm}", "looked: inside-of-tire\ninjuries: {part: crown, prepared: 4 mm}"},
		{"the one tire", "injuries: {part: crown}", "injuries: {RR: {part: crown}}\npsi: {RR: 33}\ndepth: {RR: 7}\nvehicle: {label_psi: 33}"},
		{"at", "at: LF\npsi: 30\ndepth: 7\nvehicle: {label_psi: 33}", "psi: {LF: 30}\ndepth: {LF: 7}\nvehicle: {label_psi: [33, 33]}"},
		{"class and drive", "vehicle: {class: car, drive: FWD}\npsi: 33", "vehicle: {class: PASSENGER_CAR, drive: front}\npsi: 33"},
		{"country", "vehicle: {country: UK}\npsi: 33", "vehicle: {country: GB}\npsi: 33"},
		{"duals", "vehicle: {class: truck, dual: rear}\npsi: {LRO: 100}", "vehicle: {class: heavy, dual: [no, yes]}\npsi: {2LO: 100}"},
		{"kinds", "observed: {RR: cord-showing @ inboard}", "observed: {RR: [{kind: CORD_SHOWING, across: inboard}]}"},
		{"felt", "felt: {RR: smooth}", "felt: {RR: felt smooth}"},
		{"lamp", "conditions: {lamp: on, driven_mi: 12}\npsi: 33", "conditions: {lamp: on steady, driven: yes, driven_mi: 12 miles}\npsi: 33"},
		{"driven low", "driven_low: {RR: {miles: 5}}", "driven_low: {RR: {driven: yes, miles: 5 mi}}"},
		{"rotation by name", "miles: 9000\npsi: 33\nmoves: {miles_ago: 200, map: forward-cross}", "miles: 9000\npsi: 33\nmoves: [{miles_ago: 200, map: {LF: LR, RF: RR, LR: RF, RR: LF}}]"},
		{"laid over", "psi: {RR: 33}\nvisit: {inspection: {wheels: [{position: 2R, drivenLow: {driven: ANSWER_NO}}]}}", "psi: {RR: 33}\ndriven_low: {RR: no}"},
		{"the looked-at group", "looked: {RR: all-but-inside}", "looked: {RR: [tread-full-turn, outer-sidewall, inner-sidewall, wheel-face, wheel-barrel, fasteners, valve]}"},
		{"defaults", "psi: 33", "psi: 33\ndate: 2026-06-15\ngauge: 1/32 in\nvehicle: {class: car, axles: 2, country: US, interstate: no, tows: no}\nconditions: {driven: no}"},
	} {
		t.Run(c.name, func(t *testing.T) {
			read := func(text string) *pb.AssessVisitRequest {
				indented := "- id: A\n  expect: {urgency: note}\n  " + strings.ReplaceAll(text, "\n", "\n  ")
				cases, faults := casesIn(t, indented)
				if len(faults) > 0 {
					t.Fatal(faults)
				}
				return cases[0].request
			}
			if a, b := read(c.a), read(c.b); !proto.Equal(a, b) {
				t.Errorf("two visits:\n%v\n%v", a, b)
			}
		})
	}
}

// Tires are followed back through moves: a forward cross (49 CFR
// 575.104(e)(2)(viii)) brings the fronts straight back and crosses the rears.
func TestCaseFollowsTires(t *testing.T) {
	cases, faults := casesIn(t, `
- id: A
  miles: 20000
  odometer_mi: 60000
  depth: 7
  earlier: [{miles_ago: 9000, psi: 33}, {miles_ago: 200, psi: 33}]
  moves:
    - {miles_ago: 200, map: forward-cross}
    - {miles_ago: 8000, map: side-to-side}
  expect: {urgency: plan}
`)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	req := cases[0].request
	at := func(ws []*pb.WheelReport, position string) string {
		i := slices.IndexFunc(ws, func(w *pb.WheelReport) bool { return w.Position == position })
		return ws[i].TireId
	}
	tire := at(req.Inspection.Wheels, "2L") // came from the left front, and before that from the right
	if got := at(req.Earlier[1].Wheels, "1L"); got != tire {
		t.Errorf("found at LF when it was moved: %s, want %s", got, tire)
	}
	if got := at(req.Earlier[0].Wheels, "1R"); got != tire {
		t.Errorf("found at RF before both moves: %s, want %s", got, tire)
	}
	var way []string
	for _, m := range req.Moves {
		for _, one := range m.Moves {
			if one.TireId == tire {
				way = append(way, one.GetTo().GetMounted().GetPosition())
			}
		}
	}
	if want := []string{"1R", "1L", "2L"}; !slices.Equal(way, want) {
		t.Errorf("moved by %v, want %v", way, want)
	}
	var odometers []float64
	for _, m := range req.Moves {
		odometers = append(odometers, m.GetOdometer().GetMiles())
	}
	if want := []float64{40000, 52000, 59800}; !slices.Equal(odometers, want) {
		t.Errorf("moved at %v, want %v", odometers, want)
	}
}

// Each kind of line fails when it should: an assessment made by hand is held
// against lines that it meets and lines that it does not.
func TestCaseLines(t *testing.T) {
	rank := func(n int32) *int32 { return &n }
	says := saidBy(&pb.Assessment{
		Findings: []*pb.Finding{
			{Code: "tread.worn-to-bars", Urgency: pb.Urgency_URGENCY_THIS_VISIT, Positions: []string{"1L"}, Comparison: pb.Comparison_COMPARISON_BELOW,
				Rules: []*pb.Rule{{Id: "advice.wear-bars"}}, Evidence: []*pb.Evidence{{Code: "tread.as-read"}}},
			{Code: "damage.cut", Urgency: pb.Urgency_URGENCY_PLAN, Positions: []string{"2L", "2R"}, CauseRank: rank(1)},
			{Code: "damage.chunking", Urgency: pb.Urgency_URGENCY_NOTE, Positions: []string{"2L", "2R"}, CauseRank: rank(2)},
		},
		Work: []*pb.WorkItem{
			{Code: "air.none", Positions: []string{"2R"}},
			{Code: "air.set", Positions: []string{"1L", "1R"}, Target: &pb.Quantity{Amount: &pb.Quantity_Pressure{Pressure: &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: 33}}}}},
			{Code: "owed.torque-recheck", Condition: &pb.Said{Code: "when.tire-comes-off"}, DueFromDistance: miles(50), DueByDistance: miles(100)},
		},
		NothingFound: []*pb.Checked{{Code: "inflation.at-label", Positions: []string{"2L"}}},
		NotLookedAt:  []*pb.NotLookedAt{{Positions: []string{"S"}}},
		Repairs: []*pb.RepairAnswer{{Position: "2R", Repairability: pb.Repairability_REPAIRABILITY_REPAIRABLE,
			Method: pb.RepairMethod_REPAIR_METHOD_COMBINATION}},
	})
	for _, c := range []struct {
		expect, lines string
		wrong         int
	}{
		{"answer: repairable", "", 0},
		{"answer: not-repairable", "", 1},
		{"{answer: repairable, method: two-piece}", "", 1},
		{"{answer: repairable, at: RF}", "", 1},
		{"urgency: this-visit", "", 0},
		{"urgency: before-driving", "", 1},
		{"{urgency: plan, at: RR}", "", 0},
		{"why: a", "a: {finding: tread.worn-to-bars}", 0},
		{"why: a", "a: {finding: tread.worn-to-bars, at: LF, urgency: this-visit, limit: advice.wear-bars, outcome: below, evidence: tread.as-read}", 0},
		{"why: a", "a: {finding: tread.worn-to-bars, at: RF}", 1},
		{"why: a", "a: {finding: tread.worn-to-bars, at: front}", 1},
		{"why: a", "a: {finding: tread.worn-to-bars, urgency: plan}", 1},
		{"why: a", "a: {finding: tread.worn-to-bars, limit: advice.wet}", 1},
		{"why: a", "a: {finding: tread.worn-to-bars, outcome: above}", 1},
		{"why: a", "a: {finding: tread.worn-to-bars, evidence: tread.new-depth}", 1},
		{"why: a", "a: {finding: damage.cut, rank: 2}", 1},
		{"why: a", "a: [{finding: tread.worn-to-bars}, {work: air.lower-cold}]", 1},
		{"why: a", "a: {absent: {work: air.lower-cold}}", 0},
		{"why: a", "a: {absent: {work: air.set, at: rear}}", 0},
		{"why: a", "a: {absent: {work: air.set, at: [RF, RR]}}", 1},
		{"why: a", "a: {work: air.set, target: 33 psi}", 0},
		{"why: a", "a: {work: air.set, target: 35 psi}", 1},
		{"why: a", "a: {work: air.set, target: 33 bar}", 1},
		{"why: a", "a: {work: owed.torque-recheck, due: [50 mi, 100 mi], only_if: yes}", 0},
		{"why: a", "a: {work: owed.torque-recheck, due: [50 mi, 90 mi]}", 1},
		{"why: a", "a: {work: owed.torque-recheck, only_if: no}", 1},
		{"why: a", "a: [{checked: inflation.at-label, at: LR}, {not_looked: wheel, at: S}]", 0},
		{"why: a", "a: {finding: tread.worn-to-bars, at: LRO}", 1}, // no such wheel
		{"not: a", "a: {finding: tread.worn-to-bars}", 1},
		{"not: a", "a: {finding: tread.worn-to-bars, at: RF}", 0},
		{"not: a", "a: {work: air.set, at: [RF, RR]}", 1},
		{"never_say: a", "a: [{work: air.lower-cold}, {answer: repairable}]", 1},
		{"not: a", "a: {absent: {work: air.set, at: front}}", 0},
		{"not: a", "a: {absent: {work: air.set, at: all}}", 1},
		{"order: [a, b]", "a: {work: air.none}\nb: {work: air.set}", 0},
		{"order: [b, a]", "a: {work: air.none}\nb: {work: air.set}", 1},
		{"order: [b, a]", "a: [{work: air.none}, {work: owed.torque-recheck}]\nb: {work: air.set}", 0},
		{"right: a", "a: {finding: damage.cut}", 0},
		{"right: a", "a: {finding: damage.chunking}", 1}, // another leads
		{"{right: a, tempting: b}", "a: {finding: damage.cut}\nb: {finding: damage.chunking}", 0},
		{"{right: b, tempting: a}", "a: {finding: damage.cut}\nb: {finding: damage.chunking}", 2},
		{"tempting: a", "a: {finding: tread.worn-to-bars}", 1}, // no cause: it stands
		{"tempting: a", "a: {work: air.set}", 1},
	} {
		t.Run(c.expect+" "+c.lines, func(t *testing.T) {
			cases, wrong := casesIn(t, "- id: A\n  psi: 33\n  expect:\n    "+strings.Trim(c.expect, "{}"))
			if strings.HasPrefix(c.expect, "{") {
				cases, wrong = casesIn(t, "- id: A\n  psi: 33\n  expect: "+c.expect)
			}
			dir := t.TempDir()
			if err := os.WriteFile(filepath.Join(dir, "lines.yaml"), []byte(c.lines), 0o600); err != nil {
				t.Fatal(err)
			}
			fs := &faults{}
			lines := readLines(dir, fs)
			if len(wrong)+len(fs.list) > 0 {
				t.Fatal(wrong, fs.list)
			}
			if got := verdictOn(cases[0], says, lines); len(got) != c.wrong {
				t.Errorf("%d differences, want %d: %q", len(got), c.wrong, got)
			}
		})
	}
}

// What is wrong with a table of lines is said, too.
func TestLineFaults(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"a: {finding: tread.worn-to-bar}", `lines.yaml:1: a.finding: the product has no finding "tread.worn-to-bar" (did you mean tread.worn-to-bars?)`},
		{"a: {work: tread.worn-to-bars}", "the product has no work"},
		{"a: {finding: tread.worn-to-bars, limit: advice.wear}", "the product has no limit"},
		{"a: {finding: tread.worn-to-bars, urgent: plan}", "unknown key (did you mean urgency?)"},
		{"a: {at: RR}", "a thing is one of"},
		{"a: {finding: damage.cut, work: air.set}", "one kind"},
		{"a: {absent: {work: air.set}, at: RR}", "absent stands alone"},
		{"a: {absent: {absent: {work: air.set}}}", "absent of absent"},
		{"a: {work: owed.torque-recheck, due: 50 mi}", "two distances"},
		{"a: {finding: damage.cut, rank: first}", "a rank is"},
		{"a: []", "means nothing"},
		{"a: {work: air.set}\na: {work: air.none}", "twice"},
	} {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, "lines.yaml"), []byte(c.text), 0o600); err != nil {
			t.Fatal(err)
		}
		fs := &faults{}
		readLines(dir, fs)
		if !slices.ContainsFunc(fs.list, func(f string) bool { return strings.Contains(f, c.want) }) {
			t.Errorf("%q: no fault says %q: %q", c.text, c.want, fs.list)
		}
	}
}

// The README documents every key.
func TestCaseReadme(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(root, "testdata/cases/README.md"))
	if err != nil {
		t.Fatal(err)
	}
	for of, keys := range map[string][]string{
		"a case": caseKeys, "vehicle": vehicleKeys, "conditions": conditionKeys, "injuries": injuryKeys, "tire": tireKeys,
		"expect": expectKeys, "a thing": thingKeys, "moves and the like": agoKeys,
	} {
		for _, k := range keys {
			if !strings.Contains(string(data), "`"+k+"`") {
				t.Errorf("the README does not tell of the key %q of %s", k, of)
			}
		}
	}
}
