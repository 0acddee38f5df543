package app

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/verdict"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/check"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/badger"
	"gaugebook.dev/server/history/memory"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/report"
)

// keepDemo records vehicles and visits of the demo in a shop, all of them or those
// that are named, judged as a judge of the test's own judges them.
func keepDemo(t *testing.T, store history.Store, shop string, by book.Judge, names ...string) (visits []*pb.Inspection) {
	t.Helper()
	scenario, err := readScenario(os.DirFS("../../testdata/demo"))
	if err != nil {
		t.Fatal(err)
	}
	b := book.New(store, by, time.Now)
	for _, m := range scenario {
		if len(names) > 0 && !slices.Contains(names, m.name) {
			continue
		}
		if _, err := b.RecordVehicle(t.Context(), shop, m.request.GetVehicle(), nil); err != nil {
			t.Fatal(err)
		}
		for _, in := range append(m.request.GetEarlier(), m.request.GetInspection()) {
			if _, err := b.RecordInspection(t.Context(), shop, book.Sender{}, checked(t, in)); err != nil {
				t.Fatalf("%s: %v", m.name, err)
			}
			visits = append(visits, in)
		}
	}
	return visits
}

// byLaw judges by the law alone.
var byLaw = judge.For(judge.NoneOwn)

// folder makes the folder of a book.
func folder(t *testing.T, fill func(store history.Store)) (dir string) {
	t.Helper()
	dir = t.TempDir()
	store, err := badger.Open(dir, badger.Options{MinFree: 1})
	if err != nil {
		t.Fatal(err)
	}
	fill(store)
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	return dir
}

// files gives the content of every file of a folder.
func files(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		data, err := os.ReadFile(filepath.Join(dir, name))
		all[name] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// rejudge runs the command on a folder and demands that the folder stays as it is.
func rejudge(t *testing.T, dir string, args ...string) (code int, out, errs string) {
	t.Helper()
	before := files(t, dir)
	var o, e bytes.Buffer
	code = Main(t.Context(), append([]string{"rejudge", "--store", dir}, args...), nil, strings.NewReader(""), &o, &e)
	if !maps.Equal(files(t, dir), before) {
		t.Error("the folder was changed")
	}
	return code, o.String(), e.String()
}

// An engine that was one version older and milder: what it found to be done at the
// visit it left to plan, it saw no nail and heard a rattle.
func olderJudge(_ string, req *pb.AssessVisitRequest) *pb.Assessment {
	a := judge.Visit(req)
	a.Basis.Engine, a.Basis.Rulebooks = "older", []string{"us-light@0", "us-old@7"}
	a.Findings = slices.DeleteFunc(a.Findings, func(f *pb.Finding) bool { return strings.HasPrefix(f.GetCode(), "puncture.") })
	a.Findings = append(a.Findings, &pb.Finding{
		Id: "rattling", Code: "complaint.rattle", Urgency: pb.Urgency_URGENCY_NOTE,
	})
	for _, f := range a.GetFindings() {
		if f.GetUrgency() == pb.Urgency_URGENCY_THIS_VISIT {
			f.Urgency, f.Comparison = pb.Urgency_URGENCY_PLAN, pb.Comparison_COMPARISON_ABOVE
		}
	}
	a.Work = nil
	return a
}

func TestRejudgedByTheSameNothingDiffers(t *testing.T) {
	kept := 0
	dir := folder(t, func(store history.Store) {
		_, err := book.New(store, byLaw, time.Now).UpdateShop(t.Context(), "south", &pb.Shop{Language: "es-MX", Units: &pb.ReaderUnits{Pressure: pb.PressureUnit_PRESSURE_UNIT_BAR}}, nil)
		if err != nil {
			t.Fatal(err)
		}
		kept = len(keepDemo(t, store, "south", byLaw)) + len(keepDemo(t, store, "north", byLaw))
	})
	for _, args := range [][]string{nil, {"--language", "en", "--units", "metric"}} {
		code, out, errs := rejudge(t, dir, args...)
		if code != 0 || errs != "" || strings.Contains(out, "→") {
			t.Errorf("%v: exit %d, %s%s", args, code, out, errs)
		}
	}
	code, out, errs := rejudge(t, dir, "--json", "--shop", "north", "--shop", "south", "--shop", "north")
	summary := lastSummary(t, out)
	if code != 0 || errs != "" || strings.Count(out, "\n") != 1 || summary.Judged != kept || summary.Differ != 0 || kept < 40 {
		t.Errorf("exit %d, %d kept, %s%s", code, kept, out, errs)
	}
	if want := []report.StepCount{{Step: report.Step{From: verdict.Engine, To: verdict.Engine}, Visits: kept}}; !slices.Equal(summary.Engines, want) {
		t.Errorf("engines %v, want %v", summary.Engines, want)
	}
}

func lastSummary(t *testing.T, out string) report.Summary {
	t.Helper()
	lines := slices.Collect(strings.Lines(out))
	var last struct {
		Summary report.Summary `json:"summary"`
	}
	if err := json.Unmarshal([]byte(lines[len(lines)-1]), &last); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	return last.Summary
}

func TestRejudgeTellsWhatDiffers(t *testing.T) {
	var visit *pb.Inspection
	dir := folder(t, func(store history.Store) {
		visit = keepDemo(t, store, "north", olderJudge, "sedan-nail")[0]
	})
	const english = `2026-04-14, silver sedan, stall 4 (invented), north, visit
85b3acde-188e-5dae-9ca8-4da57f24ec49
  judged by     engine older → ENGINE, us-light@0 → us-light@1, us-old@7 → -
  appeared      RR: puncture.inspect-inside, repair-us.inside-seen. Before
                driving. Repair not decided: inside not seen, hole not measured.
                Nothing can be promised before.
  appeared      RR: puncture.do-not-pull, repair-us.inside-seen. Good to know.
                Leave the object in until the tire is ready to come off.
  disappeared   Vehicle: complaint.rattle. Good to know.
  changed       RR: inflation.lamp-on-low-tire, pressure.lamp-share: to plan →
                this visit; outcome above → not compared
  changed       RR: inflation.run-low-undecided, pressure.run-low-fabric: to
                plan → this visit; outcome above → cannot tell yet
  differs too   order of work

Judged anew: 1. Differ: 1. Could not be judged: 0.
  Found                        appeared  disappeared  changed
  complaint.rattle             0         1            0
  inflation.lamp-on-low-tire   0         0            1
  inflation.run-low-undecided  0         0            1
  puncture.do-not-pull         1         0            0
  puncture.inspect-inside      1         0            0
  Judged by                visits
  COUNTED
  us-light@0 → us-light@1  1
  us-old@7 → -             1
`
	code, out, errs := rejudge(t, dir)
	counted := fmt.Sprintf("%-23s  1", "engine older → "+verdict.Engine)
	if want := strings.NewReplacer("ENGINE", verdict.Engine, "COUNTED", counted).Replace(english); code != 0 || errs != "" || out != want {
		t.Errorf("exit %d, %s\n%s", code, errs, firstDifferentLine(out, want))
	}
	code, out, errs = rejudge(t, dir, "--language", "es", "--rulebook", "us-light@1", "--since", "2026-04-14")
	for _, part := range []string{"  según ", "  aparece ", "desaparece    Vehículo: complaint.rattle. Conviene saber.\n", "→ esta visita; resultado por encima → no comparado\n", "Juzgadas de nuevo: 1. "} {
		if !strings.Contains(out, part) {
			t.Errorf("no %q in\n%s", part, out)
		}
	}
	if code != 0 || errs != "" {
		t.Errorf("exit %d, %s", code, errs)
	}
	if code, out, _ = rejudge(t, dir, "--since", "2026-04-15"); code != 0 || !strings.HasPrefix(out, "Judged anew: 0.") {
		t.Errorf("exit %d, %s", code, out)
	}

	code, out, errs = rejudge(t, dir, "--json")
	first, _, _ := strings.Cut(out, "\n")
	var line visitLine
	kept, reassessed := &pb.KeptInspection{}, &pb.ReassessInspectionResponse{}
	if err := json.Unmarshal([]byte(first), &line); err != nil {
		t.Fatal(err)
	}
	if protojson.Unmarshal(line.Kept, kept) != nil || protojson.Unmarshal(line.Now, reassessed) != nil {
		t.Fatal(first)
	}
	if !proto.Equal(kept.GetInspection(), visit) || line.Inspection != visit.GetId() || line.Vehicle != visit.GetVehicleId() || line.Shop != "north" || !slices.Equal(line.OtherParts, []string{"work"}) {
		t.Errorf("%+v", line)
	}
	if kept.GetAssessment().GetBasis().GetEngine() != "older" || reassessed.GetAssessment().GetBasis().GetEngine() != verdict.Engine ||
		!slices.Equal(reassessed.GetDisappeared(), []string{"rattling"}) || len(reassessed.GetAppeared()) != 2 || len(reassessed.GetChanged()) != 2 {
		t.Errorf("%v", reassessed)
	}
	summary := lastSummary(t, out)
	if code != 0 || errs != "" || summary.Judged != 1 || summary.Differ != 1 || len(summary.Codes) != 5 || summary.Rulebooks[1] != (report.StepCount{Step: report.Step{From: "us-old@7"}, Visits: 1}) {
		t.Errorf("exit %d, %s, %+v", code, errs, summary)
	}
}

func firstDifferentLine(got, want string) string {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] {
			return "got  " + g[i] + "\nwant " + w[i] + "\n\n" + got
		}
	}
	return got
}

// A visit kept under another law than is asked for: the car is of the UK.
func TestRejudgeByAnotherRulebook(t *testing.T) {
	dir := folder(t, func(store history.Store) { keepDemo(t, store, "north", byLaw, "uk-car") })
	code, out, errs := rejudge(t, dir, "--rulebook", "us-light")
	if code != 0 || errs != "" || !strings.Contains(out, "uk-light@4 → -, - → us-light@1") {
		t.Errorf("exit %d, %s%s", code, out, errs)
	}
	code, out, _ = rejudge(t, dir, "--rulebook", "uk-light@1")
	if code != 0 || !strings.Contains(out, "uk-light@4 → uk-light@1") {
		t.Errorf("exit %d, %s", code, out)
	}
}

// A shop's own rules count when they are named.
func TestRejudgeByTheShopsOwnRules(t *testing.T) {
	rules := writeRules(t, strings.Replace(ourRules("1", "7 mm"), testShop, "north", 1))
	own, err := openRules(t.Context(), rules, slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatal(err)
	}
	dir := folder(t, func(store history.Store) { keepDemo(t, store, "north", judge.For(own), "uk-car") })
	if code, out, errs := rejudge(t, dir, "--rules", rules); code != 0 || errs != "" || !strings.Contains(out, "Judged anew: 3. Differ: 0.") {
		t.Errorf("by the same rules: exit %d, %s%s", code, out, errs)
	}
	if code, out, errs := rejudge(t, dir); code != 0 || errs != "" || !strings.Contains(out, "disappeared") || !strings.Contains(out, "tread.shop-limit, shop.tread") {
		t.Errorf("by the law alone: exit %d, %s%s", code, out, errs)
	}
	if code, _, errs := rejudge(t, dir, "--rules", writeRules(t, "shops: 3")); code != exitBadInput || !strings.Contains(errs, "rules.yaml:1:") {
		t.Errorf("by a bad file: exit %d, %s", code, errs)
	}
}

// The visits come in the order in which they were recorded, those that were
// corrected too; one that cannot be judged is named and stops none.
func TestRejudgeGoesOn(t *testing.T) {
	var visits []*pb.Inspection
	var correction *pb.Inspection
	dir := folder(t, func(store history.Store) {
		visits = keepDemo(t, store, "north", olderJudge, "box-truck", "sedan-nail", "uk-car")
		b := book.New(store, olderJudge, time.Now)
		correction = proto.CloneOf(visits[len(visits)-1])
		correction.Corrects = &pb.Correction{InspectionId: correction.GetId(), Reason: "invented"}
		correction.Id = "0f0a1c52-6f1e-4a57-9d0c-3a5a7e1b0009"
		if _, err := b.RecordInspection(t.Context(), "north", book.Sender{}, checked(t, correction)); err != nil {
			t.Fatal(err)
		}
		truck, _, err := b.GetVehicle(t.Context(), "north", visits[0].GetVehicleId())
		if err != nil {
			t.Fatal(err)
		}
		truck.Vehicle.Axles.Axles = truck.GetVehicle().GetAxles().GetAxles()[:1] // its visit read the second too
		if _, err := b.RecordVehicle(t.Context(), "north", truck.GetVehicle(), nil); err != nil {
			t.Fatal(err)
		}
	})
	code, out, errs := rejudge(t, dir)
	named := "visit " + visits[0].GetId() + " of vehicle " + visits[0].GetVehicleId() + " cannot be judged anew: inspection.wheels[2].position"
	if code != 1 || !strings.Contains(errs, named) || !strings.Contains(errs, "1 visit could not be judged anew") || strings.Count(out, "corrected since") != 1 {
		t.Errorf("exit %d, %s\n%s", code, errs, out)
	}
	code, out, errs = rejudge(t, dir, "--json")
	var ids, problems []string
	for l := range strings.Lines(out) {
		var line visitLine
		if err := json.Unmarshal([]byte(l), &line); err != nil {
			t.Fatal(err)
		}
		ids, problems = append(ids, line.Inspection), append(problems, line.Problem)
	}
	want := []string{""} // the summary
	for _, v := range append(visits, correction) {
		want = append(want, v.GetId())
	}
	problem := problems[slices.Index(ids, visits[0].GetId())]
	slices.Sort(ids)
	slices.Sort(want)
	if code != 1 || errs != "gaugebook: 1 visit could not be judged anew\n" || !slices.Equal(ids, want) || problem == "" {
		t.Errorf("exit %d, %s%v, want %v, %v", code, errs, ids, want, problems)
	}
	if s := lastSummary(t, out); s.Failed != 1 || s.Judged != len(visits) {
		t.Errorf("%+v", s)
	}
}

func TestRejudgeRefuses(t *testing.T) {
	dir := folder(t, func(store history.Store) { keepDemo(t, store, "north", byLaw, "uk-car") })
	inUse := folder(t, func(history.Store) {})
	store, err := badger.Open(inUse, badger.Options{MinFree: 1})
	if err != nil {
		t.Fatal(err)
	}
	left := t.TempDir()
	if err := os.CopyFS(left, os.DirFS(inUse)); err != nil {
		t.Fatal(err)
	}
	defer func() { _ = store.Close() }()
	for _, c := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"--store", dir, "--shop", "south"}, 2, `no shop "south" in this book; there are north`},
		{[]string{"--store", dir, "--rulebook", "us-light@9"}, 2, `no rulebook "us-light@9"`},
		{[]string{"--store", dir, "--since", "yesterday"}, 2, "--since"},
		{[]string{"--store", dir, "--units", "cubits"}, 2, "--units"},
		{[]string{"--store", dir, "north"}, 2, "north"},
		{[]string{"--store", dir, "--shops"}, 2, "--shops"},
		{[]string{"--store", filepath.Join(dir, "missing")}, 1, "no such file"},
		{[]string{"--store", t.TempDir()}, 1, "no store"},
		{[]string{"--store", inUse}, 1, "is in use"},
		{[]string{"--store", left}, 1, "was not closed in order"},
		{nil, 2, "store"},
		{[]string{"--store", dir, "--server", "127.0.0.1:1", "--token", dir}, 2, "none of the others can be"},
		{[]string{"--server", "127.0.0.1:1", "--shop", "north"}, 2, "token"},
	} {
		var out, errs bytes.Buffer
		code := Main(t.Context(), append([]string{"rejudge"}, c.args...), nil, strings.NewReader(""), &out, &errs)
		if code != c.code || !strings.Contains(errs.String(), c.says) || out.Len() > 0 {
			t.Errorf("%v: exit %d, %q, want %d and %q", c.args, code, errs.String(), c.code, c.says)
		}
	}
	if _, err := os.Stat(filepath.Join(dir, "missing")); !os.IsNotExist(err) {
		t.Errorf("a folder was made: %v", err)
	}
	if code := Main(t.Context(), []string{"rejudge", "--store", dir}, nil, strings.NewReader(""), fullDisk{}, &bytes.Buffer{}); code != 1 {
		t.Errorf("written nowhere: exit %d", code)
	}
}

// The server that keeps a book judges it anew as the folder is judged.
func TestRejudgeByTheServer(t *testing.T) {
	var visits []*pb.Inspection
	fill := func(store history.Store) {
		visits = keepDemo(t, store, testShop, olderJudge, "sedan-nail", "uk-car", "box-truck")
	}
	_, want, _ := rejudge(t, folder(t, fill), "--json")
	store := memory.New()
	fill(store)
	r := serve(t, store)
	t.Cleanup(r.leave)
	token := filepath.Join(t.TempDir(), "token")
	if err := os.WriteFile(token, []byte(testCounter+"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	run := func(args ...string) (int, string, string) {
		var out, errs bytes.Buffer
		code := Main(t.Context(), append([]string{"rejudge", "--server", r.grpcAt.Addr().String(), "--token", token}, args...), nil, strings.NewReader(""), &out, &errs)
		return code, out.String(), errs.String()
	}
	code, out, errs := run("--shop", testShop, "--json")
	if code != 0 || errs != "" || strings.Count(out, "\n") != strings.Count(want, "\n") || len(visits) < 3 {
		t.Errorf("exit %d, %s%s", code, errs, out)
	}
	got, told := lastSummary(t, out), lastSummary(t, want)
	if got.Judged != told.Judged || got.Differ != told.Differ || !reflect.DeepEqual(got.Codes, told.Codes) {
		t.Errorf("%+v, by the folder %+v", got, told)
	}
	if code, out, errs := run("--shop", testShop); code != 0 || !strings.Contains(out, "disappeared   Vehicle: complaint.rattle. Good to know.") {
		t.Errorf("exit %d, %s%s", code, errs, out)
	}
	if code, _, errs := run(); code != 2 || !strings.Contains(errs, "--shop") {
		t.Errorf("without a shop: exit %d, %s", code, errs)
	}
	if code, _, errs := run("--shop", "another"); code != 1 || !strings.Contains(errs, "the server at") {
		t.Errorf("of another shop: exit %d, %s", code, errs)
	}
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, os.ErrClosed }

// A run that is interrupted says so, after what it did.
func TestRejudgeInterrupted(t *testing.T) {
	store := memory.New()
	keepDemo(t, store, "north", byLaw)
	ctx, interrupt := context.WithCancel(t.Context())
	var judged atomic.Int32
	var out, errs bytes.Buffer
	r := &rejudging{tally: report.NewTally(), out: &out, errs: &errs, judge: func(_ string, req *pb.AssessVisitRequest) *pb.Assessment {
		if judged.Add(1) == 4 {
			interrupt()
		}
		return judge.Visit(req)
	}}
	if err := r.all(ctx, store, nil); err == nil || !strings.Contains(err.Error(), "interrupted") {
		t.Errorf("ended with %v", err)
	}
	if n := r.tally.Summary().Judged; n > int(judged.Load()) || judged.Load() < 4 || int(judged.Load()) > 4+runtime.GOMAXPROCS(0) || !strings.HasPrefix(out.String(), "Judged anew: ") || errs.Len() > 0 {
		t.Errorf("%d judged, %d told: %s%s", judged.Load(), n, out.String(), errs.String())
	}
}

// A run that is killed leaves the book as it was.
func TestRejudgeKilled(t *testing.T) {
	dir := folder(t, func(store history.Store) { keepDemo(t, store, "north", olderJudge) })
	before := files(t, dir)
	child := exec.CommandContext(t.Context(), os.Args[0], "rejudge", "--store", dir, "--json")
	child.Env = append(os.Environ(), "GAUGEBOOK_APP_CHILD=gaugebook")
	stdin, err := child.StdinPipe() // open as long as the child is to live
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = stdin.Close() }()
	out, err := child.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	if _, err := io.ReadFull(out, make([]byte, 100)); err != nil {
		t.Fatal(err)
	}
	if err := child.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = child.Wait() // killed
	if !maps.Equal(files(t, dir), before) {
		t.Error("the folder was changed")
	}
	if code, out, errs := rejudge(t, dir); code != 0 || errs != "" {
		t.Errorf("reassessed afterwards: exit %d, %s%s", code, out, errs)
	}
}

// A judgement that panics is a problem of its visit alone.
func TestRejudgePanics(t *testing.T) {
	store := memory.New()
	visits := keepDemo(t, store, "north", byLaw, "uk-car")
	var out, errs bytes.Buffer
	r := &rejudging{tally: report.NewTally(), out: &out, errs: &errs, judge: func(_ string, req *pb.AssessVisitRequest) *pb.Assessment {
		if req.GetInspection().GetId() == visits[0].GetId() {
			panic("invented")
		}
		return judge.Visit(req)
	}}
	if err := r.all(t.Context(), store, nil); err == nil || !strings.Contains(err.Error(), "1 visit could not") {
		t.Errorf("ended with %v", err)
	}
	if !strings.Contains(errs.String(), "panicked: invented") || r.tally.Summary().Judged != len(visits)-1 || len(visits) < 2 {
		t.Errorf("%d visits: %s%s", len(visits), out.String(), errs.String())
	}
}

func TestProgressIsForTerminals(t *testing.T) {
	for _, visible := range []bool{true, false} {
		var b bytes.Buffer
		p := showProgress(&b, []history.Number{40, 60}, visible)
		p.at(20)
		p.past(40)
		p.at(30)
		shown := b.String()
		p.clear()
		p.past(60)
		p.end()
		if visible && !strings.Contains(shown, "20%") || !visible && b.Len() > 0 {
			t.Errorf("visible %v: %q", visible, b.String())
		}
	}
	file, err := os.Create(filepath.Join(t.TempDir(), "errors"))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = file.Close() }()
	p := newProgress(file, []history.Number{10})
	p.at(5)
	p.end()
	if info, err := file.Stat(); err != nil || info.Size() > 0 {
		t.Errorf("a file was written: %v, %v", info, err)
	}
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
