package check

import (
	gaugebookv1 "gaugebook.dev/proto/gaugebook/v1"
)

// Visit is an inspection to be recorded, checked by itself: it has its own id and
// its vehicle's, and nothing in it is wrong whatever that vehicle is. NewVisit makes
// it; a zero one holds no inspection.
type Visit struct {
	inspection *gaugebookv1.Inspection
	onVehicle  []vehicleCheck
}

// vehicleCheck is one place of a visit that has to fit the vehicle.
type vehicleCheck struct {
	where walker
	check func(walker)
}

// NewVisit checks an inspection that stands at path in its request. With problems
// the Visit is zero. What is checked must not be changed any more.
func NewVisit(path string, v *gaugebookv1.Inspection) (Visit, []Problem) {
	visit := Visit{inspection: v}
	w := root(path, v, nil)
	w.onVehicle = &visit.onVehicle
	w.required(v.GetId() != "", "id", clientID)
	w.required(v.GetVehicleId() != "", "vehicle_id", clientID)
	w.message(v.ProtoReflect())
	if problems := w.found.inOrder(); len(problems) > 0 {
		return Visit{}, problems
	}
	return visit, nil
}

// clientID is what a record cannot do without.
const clientID = "a UUID made once by the client"

// Inspection is what was checked.
func (v Visit) Inspection() *gaugebookv1.Inspection { return v.inspection }

// On gives the problems that the visit has with its vehicle: those that Inspection
// would find, at no cost but that of the places that concern the vehicle.
func (v Visit) On(vehicle *gaugebookv1.Vehicle) []Problem {
	found := &faults{}
	for _, c := range v.onVehicle {
		c.where.found, c.where.vehicle = found, vehicle
		c.check(c.where)
	}
	return found.inOrder()
}

// fits runs a check that depends on the vehicle, and keeps it for a vehicle that
// is known only later.
func (w walker) fits(check func(walker)) {
	check(w)
	if w.onVehicle != nil {
		*w.onVehicle = append(*w.onVehicle, vehicleCheck{w, check})
	}
}
