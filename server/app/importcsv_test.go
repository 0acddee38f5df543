package app

import (
	"encoding/json"
	"errors"
	"io"
	"log/slog"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/api"
	"gaugebook.dev/server/book"
	"gaugebook.dev/server/book/rows"
)

// records are those of a file that is exported.
func records(t *testing.T, dir string) (all []*rows.Exported) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "all.jsonl")
	says(t, exitDone, "", "export", "--store", dir, "--shop", "shop-1", "--with-customers", file)
	for line := range strings.Lines(read(t, file)) {
		r, wrong := readRecord(line)
		if len(wrong) > 0 {
			t.Fatal(wrong)
		}
		all = append(all, r)
	}
	return all
}

// CSV of vehicles, tires and visits is imported with its readings as they were read, in the
// units in which they were read, and exported so that it is the same when it is imported again.
func TestCSVIsImportedAsRead(t *testing.T) {
	base := t.TempDir()
	in := func(name string) string { return filepath.Join(base, name) }
	files := []string{
		write(t, "vehicles.csv", "vehicle,tag,class,axles,dual_axles,pressure_1,pressure_2,pressure_unit,plate\nold-1,\"truck, white (invented)\",Heavy,2,2,7.5,8,bar,XYZ 1\n"),
		write(t, "tires.csv", "tire,marking\nT-9,315/80R22.5\n"),
		// Semicolons, and a byte order mark, as a spreadsheet may write it.
		write(t, "visits.csv", "\ufeffvisit;vehicle;date;odometer;odometer_unit;position;tire;inboard;center;outboard;depth_unit;pressure;pressure_unit\n"+
			"v-1;old-1;2022-03-04;310400;km;1L;T-9;11.2;11.4;;mm;7.3;bar\n"+
			"v-1;old-1;2022-03-04;;;2ro;;;14;;1/32 in;790;kPa\n"+
			"v-1;old-1;2022-03-04;;;2ro;;;14.5;;1/32 in;;\n"+
			"v-2;old-1;2023-03-04;;;1L;;;9.0;;mm;;\n"),
	}
	for i, file := range files {
		args := []string{"import", "--store", in("book"), "--shop", "shop-1", file}
		if i == 0 {
			args = append(args, "--new")
		}
		says(t, exitDone, " taken, 0 there already, 0 rejected", args...)
	}
	all := records(t, in("book"))
	if len(all) != 4 {
		t.Fatalf("records %v", all)
	}
	v := all[0].GetVehicle()
	want := &pb.Vehicle{
		Id: v.GetId(), Tag: "truck, white (invented)", VehicleClass: pb.VehicleClass_VEHICLE_CLASS_HEAVY, CustomerData: &pb.CustomerData{Plate: "XYZ 1"},
		Axles: &pb.Axles{Axles: []*pb.Axle{
			{ColdNormalLoad: &pb.Pressure{AsRead: &pb.Pressure_Bar{Bar: 7.5}}},
			{ColdNormalLoad: &pb.Pressure{AsRead: &pb.Pressure_Bar{Bar: 8}}, Wheels: pb.AxleWheels_AXLE_WHEELS_DUAL},
		}},
	}
	if !proto.Equal(v, want) {
		t.Errorf("vehicle %v", v)
	}
	mm := func(across pb.Across, n float64) *pb.TreadReading {
		return &pb.TreadReading{Place: &pb.Place{Across: across}, Depth: &pb.Depth{AsRead: &pb.Depth_Millimeters{Millimeters: n}}}
	}
	inch := func(n float64) *pb.TreadReading {
		return &pb.TreadReading{Place: &pb.Place{Across: pb.Across_ACROSS_CENTER}, Depth: &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: n}}}
	}
	second := inch(14.5)
	second.Repeat = 1
	visit := all[2].GetInspection()
	if want := (&pb.Inspection{
		Id: visit.GetId(), VehicleId: v.GetId(), LocalDate: &pb.CalendarDate{Year: 2022, Month: 3, Day: 4},
		Odometer: &pb.Distance{AsRead: &pb.Distance_Kilometers{Kilometers: 310400}},
		Wheels: []*pb.WheelReport{
			{
				Position: "1L", TireId: all[1].GetTire().GetId(), Tread: []*pb.TreadReading{mm(pb.Across_ACROSS_INBOARD, 11.2), mm(pb.Across_ACROSS_CENTER, 11.4)},
				Pressures: []*pb.PressureReading{{Pressure: &pb.Pressure{AsRead: &pb.Pressure_Bar{Bar: 7.3}}}},
			},
			{
				Position: "2RO", Tread: []*pb.TreadReading{inch(14), second},
				Pressures: []*pb.PressureReading{{Pressure: &pb.Pressure{AsRead: &pb.Pressure_Kilopascals{Kilopascals: 790}}}},
			},
		},
	}); !proto.Equal(visit, want) {
		t.Errorf("visit %v", visit)
	}
	nothingOpen(t, in("book"))
	for _, table := range []string{"vehicles", "tires", "visits"} {
		out := in(table + "-out.csv")
		says(t, exitDone, "of shop-1", "export", "--store", in("book"), "--shop", "shop-1", "--with-customers", "--table", table, out)
		says(t, exitDone, "0 records taken", "import", "--store", in("book"), "--shop", "shop-1", out)
	}
	says(t, exitBadInput, "there are vehicles, tires and visits", "export", "--store", in("book"), "--shop", "shop-1", "--table", "bills", in("x.csv"))
}

// Rows that cannot be taken are written with the line at which they begin and what is wrong by
// column; columns that are not known end the command.
func TestRowsThatCannotBeTakenAreRejected(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "book")
	says(t, exitDone, "1 record taken", "import", "--store", dir, "--new", "--shop", "shop-1", write(t, "v.csv", "vehicle,axles\ncar,2\n"))
	const header = "visit,vehicle,date,position,center,depth_unit,pressure,pressure_unit\n"
	lines := []struct{ text, reason string }{
		{"a,car,2024-01-02,1L,\"5,5\",mm,,\n", "center: 5,5: no number as 31200 or 5.5"},
		{"b,car,2024-01-02,1L,5.5,,,\n", "depth_unit: missing; 1/32 in or mm"},
		{"c,car,2024-01-02,1L,,,30,atm\n", "pressure_unit: atm: no unit of this column"},
		{"d,car,2024-01-02,1L,5,mm,,\nd,car,2024-01-03,1R,5,mm,,\n", "date: 2024-01-03 in line "},
		{"e,car,02/01/2024,1L,5,mm,,\n", "date: 02/01/2024: no day as 2024-02-29"},
		{"f,car,2024-01-02,,5,mm,,\n", "position: missing"},
		{"g,car,2024-01-02,7L,5,mm,,\n", "inspection.wheels[0].position: "},
		{"h,other,2024-01-02,1L,5,mm,,\n", "inspection.vehicleId: "},
		{"i,car,2024-01-02,1L,5,mm,,,,\n", "10 values, and 8 columns are named"},
		{"j,car,2024-01-02,1\"L,5,mm,,\n", "bare \""},
		{"k,car,,1L,5,mm,,\n", "when it was is not told"},
		{",car,2024-01-02,1L,5,mm,,\n", "visit: missing"},
		{"l,car,2024-01-02,1L,NaN,mm,,\n", "center: NaN: no number"},
		{"m,car,2024-01-02,1L,\"5\n\",mm,,\n", ""},
	}
	text, at := header, 2
	want := map[int]string{}
	for _, l := range lines {
		if l.reason != "" {
			want[at] = l.reason
		}
		text += l.text
		at += strings.Count(l.text, "\n")
	}
	file := write(t, "visits.csv", text)
	says(t, exitBadInput, "1 record taken, 0 there already, 13 rejected", "import", "--store", dir, "--shop", "shop-1", file)
	for line := range strings.Lines(read(t, file+".rejects")) {
		var r rejected
		if err := json.Unmarshal([]byte(line), &r); err != nil {
			t.Fatal(err)
		}
		if reason, is := want[r.Line]; !is || !slices.ContainsFunc(r.Reasons, func(s string) bool { return strings.Contains(s, reason) }) {
			t.Errorf("%s want %q", line, reason)
		}
		delete(want, r.Line)
	}
	if len(want) > 0 {
		t.Errorf("not rejected: %v", want)
	}
	for header, says2 := range map[string]string{
		"mileage,car\n1,2\n":       "none of the columns visit, vehicle and tire is there",
		"vehicle,mileage\na,2\n":   `there is no column "mileage"; of a vehicle there are vehicle, tag`,
		"vehicle,tag,tag\na,b,c\n": `two columns are "tag"`,
		"":                         "line 1 has to name the columns",
	} {
		says(t, exitBadInput, says2, "import", "--store", dir, "--shop", "shop-1", write(t, "odd.csv", header))
	}
	says(t, exitBadInput, "a quote is opened and not closed", "import", "--store", dir, "--shop", "shop-1",
		write(t, "quote.csv", header+"a,car,2024-01-02,1L,\"5"+strings.Repeat("\n", 5<<20)))
}

// An import of CSV that was broken off goes on at the row where it was, with the lines counted on.
func TestAnImportOfCSVGoesOn(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "book")
	says(t, exitDone, "1 record taken", "import", "--store", dir, "--new", "--shop", "shop-1", write(t, "v.csv", "vehicle,axles\ncar,2\n"))
	text := "visit,vehicle,date,position,center,depth_unit\n"
	for i := range 250 {
		id, depth := string(rune('a'+i%26))+decimalNumber(float64(i)), "5"
		if i == 230 {
			depth = "five"
		}
		text += id + ",car,2024-01-02,1L," + depth + ",mm\n" + id + ",car,2024-01-02,\"1R\n\",5,mm\n"
	}
	file := write(t, "visits.csv", text)
	from, err := openSource(file, "shop-1")
	if err != nil {
		t.Fatal(err)
	}
	store := openBook(t, dir)
	im := &importing{server: api.New(book.New(store, byLaw, time.Now), nil, api.About{}, slog.New(slog.DiscardHandler)), shop: "shop-1", file: file, from: &breaking{from, 150}}
	if err := im.run(t.Context(), store.Epoch().String(), io.Discard, io.Discard); !errors.Is(err, errBroken) {
		t.Fatal(err)
	}
	if err := errors.Join(store.Close(), from.Close()); err != nil {
		t.Fatal(err)
	}
	says(t, exitBadInput, "249 records taken, 0 there already, 1 rejected", "import", "--store", dir, "--shop", "shop-1", file)
	if want := 2 + 230*3; !strings.Contains(read(t, file+".rejects"), `{"line":`+decimalNumber(float64(want))+`,`) {
		t.Errorf("want line %d: %s", want, read(t, file+".rejects"))
	}
}

// The operator's page names every column.
func TestThePageNamesEveryColumn(t *testing.T) {
	page := read(t, "operate/import.md")
	for _, k := range csvKinds {
		_, table, there := strings.Cut(page, "| "+k.columns[0]+"s | what it holds |")
		table, _, _ = strings.Cut(table, "\n\n")
		if !there {
			t.Errorf("no table of %ss", k.columns[0])
		}
		for _, column := range k.columns {
			if !strings.Contains(table, "`"+column+"`") {
				t.Errorf("%ss have the column %s, and the page does not", k.columns[0], column)
			}
		}
	}
}
