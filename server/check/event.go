package check

import (
	"google.golang.org/protobuf/reflect/protoreflect"

	gaugebookv1 "gaugebook.dev/proto/gaugebook/v1"
)

// Event gives the problems of a vehicle's event that stands at path in its request.
func Event(path string, e *gaugebookv1.VehicleEvent) []Problem { return run(path, e, nil) }

// EventOn gives the problems of an event with its vehicle: wheels that it has not.
func EventOn(path string, e *gaugebookv1.VehicleEvent, v *gaugebookv1.Vehicle) []Problem {
	w := root(path, e, v)
	on := func(what protoreflect.Name, positions []string) {
		at := w.to(what)
		for i, p := range positions {
			at.entry("positions", i).position(p)
		}
	}
	on("wheels_off", e.GetWheelsOff().GetPositions())
	on("wheels_torqued", e.GetWheelsTorqued().GetPositions())
	return w.found.inOrder()
}

func (w walker) vehicleEvent(e *gaugebookv1.VehicleEvent) {
	w.required(e.GetWhat() != nil, "leaving", "what happened: leaving, wheelsOff, wheelsTorqued or odometerReplaced")
	switch what := e.GetWhat().(type) {
	case *gaugebookv1.VehicleEvent_Leaving:
		w.to("leaving").required(what.Leaving.GetLeftBy() != gaugebookv1.LeftBy_LEFT_BY_UNSPECIFIED, "left_by", "how it left")
	case *gaugebookv1.VehicleEvent_WheelsOff:
		w.required(e.GetDoneBy() != "", "done_by", "who took them off")
		w.to("wheels_off").required(len(what.WheelsOff.GetPositions()) > 0, "positions", positionForm)
	case *gaugebookv1.VehicleEvent_WheelsTorqued:
		w.required(e.GetDoneBy() != "", "done_by", "who torqued them")
		on := w.to("wheels_torqued")
		on.required(len(what.WheelsTorqued.GetPositions()) > 0, "positions", positionForm)
		on.required(what.WheelsTorqued.GetTorque() != nil, "torque", "the torque that was set")
	case *gaugebookv1.VehicleEvent_OdometerReplaced:
		o := w.to("odometer_replaced")
		o.required(what.OdometerReplaced.GetOldReading() != nil, "old_reading", "what the old one showed last")
		o.required(what.OdometerReplaced.GetNewReading() != nil, "new_reading", "what the new one showed first, zero too")
	}
}
