package check

import (
	"fmt"
	"slices"

	gaugebookv1 "gaugebook.dev/proto/gaugebook/v1"
)

// PlanRotation gives every problem of a request to compare rotations. Its visits are
// those of one vehicle, so that one of them has to be the latest; the others may
// have seen other axles.
func PlanRotation(req *gaugebookv1.PlanRotationRequest, latest int) []Problem {
	w := root("", req, req.GetVehicle())
	w.latest = latest
	w.message(req.ProtoReflect())
	return w.found.inOrder()
}

func (w walker) rotation(req *gaugebookv1.PlanRotationRequest) {
	w.required(req.GetVehicle() != nil, "vehicle", "the vehicle")
	visits := req.GetVisits()
	if len(visits) == 0 {
		w.to("visits").add("", "there is no visit that says where the tires are", "one visit at least")
	}
	if n := len(visits); n > maxEarlier+1 {
		w.to("visits").add(fmt.Sprintf("%d visits", n), fmt.Sprintf("at most %d visits", maxEarlier+1), "the latest of them")
	}
	undated := slices.IndexFunc(visits, func(v *gaugebookv1.Inspection) bool { return v.GetLocalDate() == nil })
	unread := slices.IndexFunc(visits, func(v *gaugebookv1.Inspection) bool { return v.GetOdometer() == nil })
	if len(visits) > 1 && undated >= 0 && unread >= 0 {
		w.entry("visits", undated).to("local_date").add("", "missing, and not all visits tell the odometer: the latest cannot be told", "the day of every visit, or the odometer of every visit")
	}
	w.onceByID("visits", ids(visits))
	w.onceByID("tires", ids(req.GetTires()))
	w.onceByID("moves", ids(req.GetMoves()))
	if asOf, judged := date(req.GetJudgeBy().GetAsOf()); judged {
		for i, v := range visits {
			if day, known := date(v.GetLocalDate()); known && asOf.DaysUntil(day) > 0 {
				w.entry("visits", i).to("local_date").add(day.String(), "a visit is judged for its own day or a later one", "not after "+asOf.String())
			}
		}
	}
}
