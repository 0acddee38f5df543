package tell_test

import (
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/tell"
)

// Practice is told in the units that a visit was read in, where its reader chose none:
// beads at 40 psi (29 CFR 1910.177) are 2.75 bar, 50 to 100 miles are 80 to 160 km. Who
// chose is told so; a visit that was read in psi and miles is told as practice is.
func TestPracticeInTheVisitsUnits(t *testing.T) {
	psi, bar, kilopascals := &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: 33}}, &pb.Pressure{AsRead: &pb.Pressure_Bar{Bar: 2.3}}, &pb.Pressure{AsRead: &pb.Pressure_Kilopascals{Kilopascals: 230}}
	inch, millimeters := &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: 7}}, &pb.Depth{AsRead: &pb.Depth_Millimeters{Millimeters: 5}}
	mile := &pb.Quantity{Amount: &pb.Quantity_Distance{Distance: &pb.Distance{AsRead: &pb.Distance_Miles{Miles: 5000}}}}
	kilometer := &pb.Quantity{Amount: &pb.Quantity_Distance{Distance: &pb.Distance{AsRead: &pb.Distance_Kilometers{Kilometers: 9000}}}}
	miles := func(n float64) *pb.Distance { return &pb.Distance{AsRead: &pb.Distance_Miles{Miles: n}} }
	metric := &pb.ReaderUnits{Pressure: pb.PressureUnit_PRESSURE_UNIT_KILOPASCALS, Distance: pb.DistanceUnit_DISTANCE_UNIT_KILOMETERS}
	us := &pb.ReaderUnits{Pressure: pb.PressureUnit_PRESSURE_UNIT_PSI, Distance: pb.DistanceUnit_DISTANCE_UNIT_MILES}
	for _, c := range []struct {
		name        string
		pressure    *pb.Pressure
		depth       *pb.Depth
		told        *pb.Quantity
		units       *pb.ReaderUnits
		bead, drive string
	}{
		{"psi and miles", psi, inch, mile, nil, "40 psi", "50-100 mi"},
		{"bar and millimeters", bar, millimeters, nil, nil, "2.75 bar (40 psi)", "80-160 km (50-100 mi)"},
		{"kilopascals and kilometers", kilopascals, inch, kilometer, nil, "275 kPa (40 psi)", "80-160 km (50-100 mi)"},
		{"bar and miles, in the United Kingdom", bar, millimeters, mile, nil, "2.75 bar (40 psi)", "50-100 mi"},
		{"psi and millimeters", psi, millimeters, nil, nil, "40 psi", "50-100 mi"},
		{"metric, and psi was chosen", bar, millimeters, kilometer, us, "40 psi", "50-100 mi"},
		{"US, and metric was chosen", psi, inch, mile, metric, "275 kPa (40 psi)", "80-160 km (50-100 mi)"},
	} {
		a := &pb.Assessment{
			Wheels:   []*pb.WheelSummary{{Position: "1L", LabelCold: c.pressure, GoverningDepth: c.depth}},
			Findings: []*pb.Finding{{Code: "wear.rotation-missed", Measured: c.told, Limit: mile}},
			Work: []*pb.WorkItem{
				{Code: "tire.mount", Positions: []string{"1L"}, Target: &pb.Quantity{Amount: &pb.Quantity_Pressure{Pressure: &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: 40}}}}},
				{Code: "owed.torque-recheck", DueFromDistance: miles(50), DueByDistance: miles(100)},
			},
		}
		for _, view := range []pb.View{pb.View_VIEW_FULL, pb.View_VIEW_WORK} {
			told := proto.CloneOf(a)
			tell.For(&pb.Reader{Units: c.units, View: view, CustomerLanguage: "en"}, tell.Shop{}).Assessment(told, true)
			bead, drive := told.GetWork()[0].GetForTechnician(), told.GetWork()[1]
			from, by, _ := strings.Cut(c.drive, "-")
			if !strings.Contains(bead, " "+c.bead) {
				t.Errorf("%s, %v: %q, want %q", c.name, view, bead, c.bead)
			}
			for _, text := range []string{drive.GetForTechnician(), drive.GetForCustomer()} {
				if !strings.Contains(text, from+" to "+by) && !strings.Contains(text, from+" and "+by) {
					t.Errorf("%s, %v: %q, want %q", c.name, view, text, c.drive)
				}
			}
		}
	}
}
