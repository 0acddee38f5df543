package translate

import (
	"cmp"
	"slices"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/fastener"
	"gaugebook.dev/calc/unit"
)

func number(n *int32) *int {
	if n == nil {
		return nil
	}
	return new(int(*n))
}

var torqueTools = map[pb.TorqueTool]fastener.Tool{
	pb.TorqueTool_TORQUE_TOOL_HAND_TORQUE_WRENCH: fastener.HandWrench, pb.TorqueTool_TORQUE_TOOL_LIMITING_STICK: fastener.LimitingStick,
	pb.TorqueTool_TORQUE_TOOL_IMPACT_ONLY: fastener.ImpactOnly, pb.TorqueTool_TORQUE_TOOL_CONTROLLED_POWER_TOOL: fastener.ControlledTool,
}

// fastening is what was done about the fasteners of a wheel that was off: nothing
// is told of it where only other work says that it was.
func fastening(w *pb.WheelReport, visit *pb.Inspection) *fastener.Work {
	m := w.GetFastenerWork()
	if m == nil && !wheelsOff(visit, w.GetPosition()) {
		return nil
	}
	if m == nil {
		return &fastener.Work{}
	}
	return &fastener.Work{
		Counted: number(m.Counted), Damaged: number(m.Damaged), Replaced: number(m.Replaced),
		FacesCleaned: answers[m.GetFacesCleaned()], Torque: torque(m.GetTorque()), Tool: torqueTools[m.GetTool()],
		Round: m.GetPattern() == pb.TorquePattern_TORQUE_PATTERN_CIRCLE, Staged: answers[m.GetStaged()], Named: m.GetDoneBy() != "",
	}
}

// wheelEvent is what an earlier visit did about the fasteners of one wheel.
type wheelEvent struct {
	visit *pb.Inspection
	wheel *pb.WheelReport // nil: its work only
	off   bool            // the wheel was off
}

// compare orders visits as far as odometer and date tell.
func (e wheelEvent) compare(f wheelEvent) int {
	day := func(v *pb.Inspection) []int32 {
		d := v.GetLocalDate()
		return []int32{d.GetYear(), d.GetMonth(), d.GetDay()}
	}
	return cmp.Or(cmp.Compare(odometer(e.visit.GetOdometer()), odometer(f.visit.GetOdometer())),
		slices.Compare(day(e.visit), day(f.visit)), cmp.Compare(e.visit.GetId(), f.visit.GetId()))
}

// torques gives the last earlier time that a wheel was off, and the checks of its
// torque since, today's among them.
func (h past) torques(now *pb.WheelReport) (off *fastener.Off, checks []fastener.Recheck) {
	var events []wheelEvent
	for _, e := range h.early {
		ev := wheelEvent{visit: e, off: wheelsOff(e, now.GetPosition())}
		for _, w := range e.GetWheels() {
			if w.GetPosition() == now.GetPosition() {
				ev.wheel, ev.off = w, ev.off || w.GetFastenerWork() != nil
			}
		}
		events = append(events, ev)
	}
	slices.SortFunc(events, wheelEvent.compare)
	var then *pb.Distance
	for _, e := range events {
		switch {
		case e.off: // a check at the same visit was of the torque before
			off, checks, then = &fastener.Off{Ago: h.ago(e.visit.GetOdometer())}, nil, e.visit.GetOdometer()
		case e.wheel.GetTorqueRecheck() != nil:
			checks = append(checks, recheck(e.wheel.GetTorqueRecheck(), e.visit, then))
		}
	}
	if now.GetTorqueRecheck() != nil {
		c := recheck(now.GetTorqueRecheck(), h.visit, then)
		c.Today = true
		checks = append(checks, c)
	}
	return off, checks
}

// takesWheelsOff are the kinds of work for which wheels come off the vehicle.
var takesWheelsOff = []pb.WorkKind{
	pb.WorkKind_WORK_KIND_WHEELS_OFF, pb.WorkKind_WORK_KIND_TIRES_ROTATED, pb.WorkKind_WORK_KIND_SEASON_CHANGED,
	pb.WorkKind_WORK_KIND_BEARING_WORK, pb.WorkKind_WORK_KIND_BRAKE_WORK,
}

// wheelsOff tells whether work done at a visit took a wheel off.
func wheelsOff(visit *pb.Inspection, position string) bool {
	return slices.ContainsFunc(visit.GetWorkDone(), func(d *pb.WorkDone) bool {
		return slices.Contains(takesWheelsOff, d.GetKind()) && ofThisVisit(d, visit) && (len(d.GetPositions()) == 0 || slices.Contains(d.GetPositions(), position))
	})
}

// recheck is a check of torque at a visit, which knows the odometer where the
// check does not say it; off is the odometer when the wheel was off.
func recheck(m *pb.TorqueRecheck, visit *pb.Inspection, off *pb.Distance) fastener.Recheck {
	read := m.GetOdometer()
	if read == nil {
		read = visit.GetOdometer()
	}
	c := fastener.Recheck{Torque: torque(m.GetTorque()), Odo: read != nil, Named: m.GetDoneBy() != "", Cool: answers[m.GetWheelCool()], Moved: answers[m.GetAnyMoved()]}
	at, from := meters(read), meters(off)
	if at != nil && from != nil && *at >= *from {
		c.After = new(unit.Distance(*at - *from))
	}
	return c
}
