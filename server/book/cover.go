package book

import (
	"time"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
)

// cover puts what later visits and lists need of a visit: what bears on later ones, and
// how it is listed.
func (d *drafting) cover(v *visit, bearing *pb.Inspection) {
	texts := rows.NewStrings(nil)
	row := &rows.VisitCover{Inspection: d.sent(bearing), RecordedTime: v.time, RootTime: v.rootTime, FrontRear: v.frontRear, Root: texts.Number(v.root), Imported: v.imported()}
	if v.assessment.GetHeadline() != nil {
		row.Headline = &rows.Headline{}
		texts.Keep(row.GetHeadline(), sentenceOnly(v.assessment.GetHeadline()))
	}
	for _, f := range v.assessment.GetFindings() {
		row.FindingIds = append(row.FindingIds, texts.Number(f.GetId()))
	}
	row.Strings = texts.Texts()
	d.put(v.key(), row)
	d.lived(v, nil, bearing)
	if order := plain(v.inspection.GetOrderReference()); order != "" {
		d.put(orderKey(order, v.vehicle, v.inspection.GetId()), &rows.VehicleRow{})
	}
}

// sentenceOnly is a headline without what its sentence does not tell: what follows from a
// visit is read with the vehicle.
func sentenceOnly(h *pb.Headline) *pb.Headline {
	h = proto.CloneOf(h)
	h.Ask, h.Quote, h.Back = nil, nil, nil
	return h
}

// coverAgain puts a covering row in place of what was, with the number that it had.
func (d *drafting) coverAgain(c covered) {
	row := proto.CloneOf(c.VisitCover)
	if row.GetRoot() == 0 { // of a former program
		texts := rows.NewStrings(row.GetStrings())
		row.Root, row.RootTime = texts.Number(c.root), timestamppb.New(time.Unix(0, c.rootTime))
		row.Strings = texts.Texts()
	}
	if c.number != notYet { // else it is that of the draft
		row.Number = uint64(c.number)
	}
	d.put(c.key, row)
}

// replaced notes in a visit's covering row which one corrects it.
func (d *drafting) replaced(c covered, by string) {
	texts := rows.NewStrings(c.GetStrings())
	c.ReplacedBy = texts.Number(by)
	c.Strings = texts.Texts()
	d.coverAgain(c)
}

// bearing is what of a visit bears on later ones: the readings that are evidence,
// each with the tire they are of, without observations and looks.
func bearing(in *pb.Inspection, tires []string) *pb.Inspection {
	small := &pb.Inspection{
		Id: in.GetId(), VehicleId: in.GetVehicleId(), TakenTime: in.GetTakenTime(), LocalDate: in.GetLocalDate(), Odometer: in.GetOdometer(),
		Conditions: in.GetConditions(), Gauges: in.GetGauges(), WorkDone: in.GetWorkDone(), Corrects: in.GetCorrects(), OrderReference: in.GetOrderReference(),
	}
	for i, w := range in.GetWheels() {
		small.Wheels = append(small.Wheels, &pb.WheelReport{
			Position: w.GetPosition(), TireId: tires[i], Tread: w.GetTread(), Pressures: w.GetPressures(),
			FastenerWork: w.GetFastenerWork(), TorqueRecheck: w.GetTorqueRecheck(),
		})
	}
	return small
}

// coverOf is the visit of a covering row.
func coverOf(row *rows.VisitCover) (*pb.Inspection, error) {
	in := &pb.Inspection{}
	return in, proto.Unmarshal(row.GetInspection(), in)
}
