package book

import (
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
)

// cover puts what later visits and lists need of a visit. tires are those of its wheels.
func (d *drafting) cover(v *visit, tires []string) {
	texts := rows.NewStrings(nil)
	row := &rows.VisitCover{Inspection: d.sent(bearing(v.inspection, tires)), RecordedTime: v.time, FrontRear: v.frontRear}
	if v.assessment.GetHeadline() != nil {
		row.Headline = &rows.Headline{}
		texts.Keep(row.GetHeadline(), v.assessment.GetHeadline())
	}
	for _, f := range v.assessment.GetFindings() {
		row.FindingIds = append(row.FindingIds, texts.Number(f.GetId()))
	}
	row.Strings = texts.Texts()
	d.put(historyKey(v.inspection.GetVehicleId(), v.time.AsTime().UnixNano(), v.inspection.GetId()), row)
}

// bearing is what of a visit bears on later ones: the readings that are evidence,
// each with the tire they are of, without observations and looks.
func bearing(in *pb.Inspection, tires []string) *pb.Inspection {
	small := &pb.Inspection{
		Id: in.GetId(), VehicleId: in.GetVehicleId(), TakenTime: in.GetTakenTime(), LocalDate: in.GetLocalDate(), Odometer: in.GetOdometer(),
		Conditions: in.GetConditions(), Gauges: in.GetGauges(), WorkDone: in.GetWorkDone(), Corrects: in.GetCorrects(),
	}
	for i, w := range in.GetWheels() {
		small.Wheels = append(small.Wheels, &pb.WheelReport{
			Position: w.GetPosition(), TireId: tires[i], Tread: w.GetTread(), Pressures: w.GetPressures(),
			FastenerWork: w.GetFastenerWork(), TorqueRecheck: w.GetTorqueRecheck(),
		})
	}
	return small
}

// covered is the visit of a covering row.
func covered(row *rows.VisitCover) (*pb.Inspection, error) {
	in := &pb.Inspection{}
	return in, proto.Unmarshal(row.GetInspection(), in)
}
