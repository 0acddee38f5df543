package app_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"google.golang.org/protobuf/encoding/protojson"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/app"
	"gaugebook.dev/server/words"
)

// update rewrites the reports that the demo visits are compared with:
//
//	go test ./server/app -run Demo -update
var update = flag.Bool("update", false, "rewrite testdata/demo/reports and the table of laws")

const demo = root + "/testdata/demo"

// demoFiles are the visits of the demo scenario, by name.
func demoFiles(t *testing.T) map[string]string {
	t.Helper()
	paths, err := filepath.Glob(demo + "/*.json")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no demo visits in %s: %v", demo, err)
	}
	files := map[string]string{}
	for _, path := range paths {
		files[strings.TrimSuffix(filepath.Base(path), ".json")] = path
	}
	return files
}

// assess runs the command as a person would.
func assess(t *testing.T, args ...string) []byte {
	t.Helper()
	var out, errs bytes.Buffer
	if code := app.Main(t.Context(), append([]string{"assess"}, args...), nil, strings.NewReader(""), &out, &errs); code != 0 || errs.Len() > 0 {
		t.Fatalf("assess %v: exit %d, said %q", args, code, errs.String())
	}
	return out.Bytes()
}

func demoRequest(t *testing.T, path string) *pb.AssessVisitRequest {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	req := &pb.AssessVisitRequest{}
	if err := protojson.Unmarshal(data, req); err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	return req
}

// readers are those that the demo reports are written for, each in a folder of its
// own: in every language as read, and in the other system of units.
var readers = func() map[string][]string {
	all := map[string][]string{
		"en-metric":  {"--language", "en", "--units", "metric"},
		"es-MX-inch": {"--language", "es-MX", "--units", "inch"},
		"en-full":    {"--language", "en", "--full"},
		"es-full":    {"--language", "es", "--full"},
	}
	for _, l := range words.Tongues() {
		all[l] = []string{"--language", l}
	}
	return all
}()

// A short report is short: in every tongue so many rows on average and at most, and no
// row is wider than a terminal. Where each amount stands with the one that was read beside
// it, it may be a little longer (our own decision).
func TestShortReportsAreShort(t *testing.T) {
	const most = 60
	for reader, flags := range readers {
		mean := 40
		switch {
		case slices.Contains(flags, "--full"):
			continue
		case slices.Contains(flags, "--units"):
			mean = 42
		}
		rows, reports := 0, 0
		for name, path := range demoFiles(t) {
			lines := strings.Split(strings.TrimSpace(string(assess(t, append(flags, path)...))), "\n")
			if len(lines) > most {
				t.Errorf("%s/%s: %d rows, at most %d", reader, name, len(lines), most)
			}
			for _, l := range lines {
				if utf8.RuneCountInString(l) > 80 {
					t.Errorf("%s/%s: wider than 80 columns: %q", reader, name, l)
				}
			}
			rows, reports = rows+len(lines), reports+1
		}
		if rows > mean*reports {
			t.Errorf("%s: %.1f rows on average, at most %d", reader, float64(rows)/float64(reports), mean)
		}
	}
}

// Every demo visit reads as written beside it, byte for byte; nothing is written
// there that no visit gives.
func TestDemoReports(t *testing.T) {
	files := demoFiles(t)
	for reader, flags := range readers {
		for name, path := range files {
			t.Run(reader+"/"+name, func(t *testing.T) {
				got := assess(t, append(flags, path)...)
				golden := filepath.Join(demo, "reports", reader, name+".txt")
				if *update {
					if err := errors.Join(os.MkdirAll(filepath.Dir(golden), 0o755), os.WriteFile(golden, got, 0o644)); err != nil {
						t.Fatal(err)
					}
				}
				want, err := os.ReadFile(golden)
				if err != nil {
					t.Fatal(err)
				}
				if !bytes.Equal(got, want) {
					t.Errorf("the report differs from %s from this line on:\n%s", golden, firstDifference(string(got), string(want)))
				}
			})
		}
	}
	reports, err := filepath.Glob(demo + "/reports/*/*")
	if err != nil {
		t.Fatal(err)
	}
	if len(reports) != len(readers)*len(files) {
		t.Errorf("%d reports, %d wanted", len(reports), len(readers)*len(files))
	}
	for _, r := range reports {
		if files[strings.TrimSuffix(filepath.Base(r), ".txt")] == "" || readers[filepath.Base(filepath.Dir(r))] == nil {
			t.Errorf("%s is the report of no demo visit", r)
		}
	}
}

func firstDifference(got, want string) string {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range g {
		if i >= len(w) || g[i] != w[i] {
			return "got  " + g[i] + "\nwant " + strings.Join(w[min(i, len(w)):min(i+1, len(w))], "")
		}
	}
	return "want " + w[len(g)]
}

// Marks of a text that was put together wrongly: a placeholder left over, a code
// in place of its sentence, words or a number missing between two marks.
var broken = regexp.MustCompile(`[{}\[\]]|%!|\b[a-z]+\.[a-z]+-[a-z-]+\b|\.\.|: \.|,,| ,|\(\)|;\.|<nil>|NaN`)

func TestDemoReportsAreClean(t *testing.T) {
	for reader, flags := range readers {
		for name, path := range demoFiles(t) {
			clean(t, reader+"/"+name, string(assess(t, append(flags, path)...)))
		}
	}
}

func clean(t *testing.T, name, report string) {
	t.Helper()
	if !strings.HasSuffix(report, "\n") || strings.HasSuffix(report, "\n\n") || strings.Contains(report, "\n\n\n") {
		t.Errorf("%s: ends or breaks wrongly", name)
	}
	for i, line := range strings.Split(report, "\n") {
		if n := utf8.RuneCountInString(line); n > 80 {
			t.Errorf("%s:%d: %d columns: %s", name, i+1, n, line)
		}
		if strings.TrimRight(line, " \t") != line || strings.ContainsAny(line, "\t\u00a0") {
			t.Errorf("%s:%d: blanks at the end or within: %q", name, i+1, line)
		}
		if m := broken.FindString(line); m != "" {
			t.Errorf("%s:%d: %q in %q", name, i+1, m, line)
		}
	}
}

// The answer as JSON is the contract's message, the same each time, with a
// sentence wherever one is promised.
func TestDemoAnswers(t *testing.T) {
	for reader, flags := range readers {
		for name, path := range demoFiles(t) {
			answers(t, reader+"/"+name, append(flags, "--json", path))
		}
	}
}

func answers(t *testing.T, name string, args []string) {
	t.Helper()
	first, again := assess(t, args...), assess(t, args...)
	if !json.Valid(first) || !bytes.Equal(first, again) {
		t.Errorf("%s: no JSON, or another one the second time", name)
	}
	response := &pb.AssessVisitResponse{}
	if err := protojson.Unmarshal(first, response); err != nil {
		t.Errorf("%s: %v", name, err)
		return
	}
	said := func(what, code, words string) {
		if strings.TrimSpace(words) == "" || strings.ContainsAny(words, "{}[]") {
			t.Errorf("%s: %s %s says %q", name, what, code, words)
		}
	}
	a := response.GetAssessment()
	for _, f := range a.GetFindings() {
		said("finding", f.GetCode(), f.GetForTechnician())
		said("finding", f.GetCode(), f.GetForCustomer())
		for _, e := range f.GetEvidence() {
			said("evidence", e.GetCode(), e.GetWords())
		}
	}
	for _, w := range a.GetWork() {
		said("work", w.GetCode(), w.GetForTechnician())
		said("work", w.GetCode(), w.GetForCustomer())
		if w.GetCondition() != nil {
			said("condition of", w.GetCode(), w.GetCondition().GetWords())
		}
	}
	for _, u := range a.GetQuestions() {
		said("question", u.GetCode(), u.GetWords())
		said("question", u.GetCode(), u.GetWouldAllow())
	}
	for _, c := range a.GetNothingFound() {
		said("checked", c.GetCode(), c.GetWords())
	}
	for _, n := range a.GetNotJudged() {
		said("not judged", n.GetCode(), n.GetWords())
	}
	for _, n := range a.GetNotLookedAt() {
		said("not looked at", n.GetWhat().String(), n.GetWords())
	}
}

// The scenario shows every kind of vehicle that comes in on an ordinary morning.
func TestDemoScenario(t *testing.T) {
	kinds := map[string]func(*pb.AssessVisitRequest) bool{
		"car, front drive": func(r *pb.AssessVisitRequest) bool {
			return r.GetVehicle().GetDrive() == pb.Drive_DRIVE_FRONT
		},
		"car, all-wheel drive": func(r *pb.AssessVisitRequest) bool {
			return r.GetVehicle().GetDrive() == pb.Drive_DRIVE_ALL
		},
		"rear drive on two sizes": func(r *pb.AssessVisitRequest) bool {
			a := r.GetVehicle().GetAxles().GetAxles()
			return r.GetVehicle().GetDrive() == pb.Drive_DRIVE_REAR && len(a) == 2 && a[0].GetSize() != a[1].GetSize()
		},
		"light truck whose use was not asked": func(r *pb.AssessVisitRequest) bool {
			u := r.GetVehicle().GetUse()
			return r.GetVehicle().GetVehicleClass() == pb.VehicleClass_VEHICLE_CLASS_LIGHT_TRUCK && u.GetBusinessAcrossStateLines()+u.GetTows() == 0
		},
		"straight truck on duals": func(r *pb.AssessVisitRequest) bool { return heavy(r, 2) },
		"tractor of three axles":  func(r *pb.AssessVisitRequest) bool { return heavy(r, 3) },
		"van on duals, metric": func(r *pb.AssessVisitRequest) bool {
			v := r.GetVehicle()
			return v.GetVehicleClass() == pb.VehicleClass_VEHICLE_CLASS_LIGHT_TRUCK && v.GetAxles().GetAxles()[1].GetWheels() == pb.AxleWheels_AXLE_WHEELS_DUAL && v.GetGrossRating().GetKilograms() > 0
		},
		"trailer of two axles": func(r *pb.AssessVisitRequest) bool {
			return r.GetVehicle().GetVehicleClass() == pb.VehicleClass_VEHICLE_CLASS_TRAILER && len(r.GetVehicle().GetAxles().GetAxles()) == 2
		},
		"car in the United Kingdom": func(r *pb.AssessVisitRequest) bool { return carIn(r, "GB") },
		"car in Austria, in winter, on snow": func(r *pb.AssessVisitRequest) bool {
			return carIn(r, "AT") && r.GetInspection().GetLocalDate().GetMonth() == 12 && r.GetInspection().GetConditions().GetSnowSlushOrIce() == pb.Answer_ANSWER_YES
		},
	}
	shown := map[string]bool{}
	vehicles, known := map[string]bool{}, 0
	for name, path := range demoFiles(t) {
		r := demoRequest(t, path)
		vehicles[r.GetVehicle().GetTag()] = true
		if !strings.Contains(r.GetVehicle().GetTag(), "(invented)") || r.GetVehicle().GetCustomerData() != nil {
			t.Errorf("%s: not marked as invented, or tells of a person", name)
		}
		for kind, shows := range kinds {
			shown[kind] = shown[kind] || shows(r)
		}
		if twoYearsKnown(r) {
			known++
		}
	}
	for kind := range kinds {
		if !shown[kind] {
			t.Errorf("no %s", kind)
		}
	}
	if len(vehicles) < 8 || known < 3 {
		t.Errorf("%d vehicles, %d with two years of visits, moves and work: 8 and 3 wanted", len(vehicles), known)
	}
}

func heavy(r *pb.AssessVisitRequest, axles int) bool {
	v := r.GetVehicle()
	return v.GetVehicleClass() == pb.VehicleClass_VEHICLE_CLASS_HEAVY && len(v.GetAxles().GetAxles()) == axles && v.GetAxles().GetAxles()[axles-1].GetWheels() == pb.AxleWheels_AXLE_WHEELS_DUAL
}

func carIn(r *pb.AssessVisitRequest, country string) bool {
	return r.GetVehicle().GetVehicleClass() == pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR && len(r.GetVehicle().GetUse().GetDrivenIn()) > 0 && r.GetVehicle().GetUse().GetDrivenIn()[0].GetCountry() == country
}

// twoYearsKnown: earlier visits, moves of its tires and work done are told, and
// they reach two years back.
func twoYearsKnown(r *pb.AssessVisitRequest) bool {
	day := func(d *pb.CalendarDate) time.Time {
		return time.Date(int(d.GetYear()), time.Month(d.GetMonth()), int(d.GetDay()), 0, 0, 0, 0, time.UTC)
	}
	work := slices.Clone(r.GetWorkDone())
	days := []time.Time{day(r.GetInspection().GetLocalDate())}
	for _, e := range r.GetEarlier() {
		work = append(work, e.GetWorkDone()...)
		days = append(days, day(e.GetLocalDate()))
	}
	for _, m := range r.GetMoves() {
		days = append(days, day(m.GetLocalDate()))
	}
	oldest := slices.MinFunc(days, time.Time.Compare)
	return len(r.GetTires()) >= 4 && len(r.GetEarlier()) >= 2 && len(r.GetMoves()) > 0 && len(work) > 0 &&
		!oldest.After(days[0].AddDate(-2, 0, 0))
}
