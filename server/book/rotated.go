package book

import (
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// rotated are the moves of a rotation that a visit proposed, of the tires that were on its
// wheels then: where others are there by now, it is another rotation.
func (r *moving) rotated(s view) (*pb.TireMoves, error) {
	of := r.rotation
	visit, err := s.visit(of.GetInspectionId())
	if err != nil {
		return nil, err
	}
	vehicle, err := s.resolved(r.vehicle)
	switch {
	case err != nil:
		return nil, err
	case visit == nil:
		return nil, refuse(pb.ErrorReason_ERROR_REASON_NOT_YET, "rotation.inspection_id", "the visit %s has not arrived; send it first", of.GetInspectionId()).with("id", of.GetInspectionId())
	case visit.vehicleID() != vehicle:
		return nil, refuse(pb.ErrorReason_ERROR_REASON_FIELD_INVALID, "rotation.inspection_id", "the visit %s is of another vehicle", of.GetInspectionId())
	}
	changes := visit.rotation(of.GetWork())
	if len(changes) == 0 {
		return nil, refuse(pb.ErrorReason_ERROR_REASON_NOT_FOUND, "rotation.work", "the visit proposed no rotation %s", of.GetWork()).with("id", of.GetWork())
	}
	then, err := s.tiresThen(visit)
	if err != nil {
		return nil, err
	}
	out := proto.CloneOf(r.told)
	for _, c := range changes {
		t := tireAt(r.vehicles[vehicle].state.tires, c.GetFromPosition())
		if t == nil || then[c.GetFromPosition()] != t.GetId() {
			return nil, refuse(pb.ErrorReason_ERROR_REASON_FIELD_INVALID, "rotation", "at %s is another tire than when the rotation was proposed; tell the moves", c.GetFromPosition())
		}
		to := &pb.TirePlace{Where: &pb.TirePlace_Mounted{Mounted: &pb.MountedPlace{VehicleId: vehicle, Position: c.GetToPosition()}}}
		turned := pb.Answer_ANSWER_NO
		if c.GetTurned() {
			turned = pb.Answer_ANSWER_YES
		}
		out.Moves = append(out.Moves, &pb.TireMove{TireId: t.GetId(), To: to, Turned: turned})
	}
	return out, nil
}

// rotation is what a line of work of a visit changes about.
func (v *visit) rotation(workID string) []*pb.PositionChange {
	for _, w := range v.assessment.GetWork() {
		if w.GetId() == workID {
			return w.GetChanges()
		}
	}
	return nil
}

// tiresThen are the tires that a visit saw, by position.
func (v view) tiresThen(of *visit) (map[string]string, error) {
	row, err := v.s.Get(v.ctx, of.key())
	if err != nil {
		return nil, err
	}
	c, err := v.readCover(row)
	if err != nil {
		return nil, err
	}
	at := map[string]string{}
	for _, w := range c.inspection.GetWheels() {
		at[w.GetPosition()] = w.GetTireId()
	}
	return at, nil
}
