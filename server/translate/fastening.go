package translate

import (
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/fastener"
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
func fastening(m *pb.FastenerWork, off bool) *fastener.Work {
	switch {
	case m == nil && off:
		return &fastener.Work{}
	case m == nil:
		return nil
	}
	return &fastener.Work{
		Counted: number(m.Counted), Damaged: number(m.Damaged), Replaced: number(m.Replaced),
		FacesCleaned: answers[m.GetFacesCleaned()], Torque: torque(m.GetTorque()), Tool: torqueTools[m.GetTool()],
		Round: m.GetPattern() == pb.TorquePattern_TORQUE_PATTERN_CIRCLE, Staged: answers[m.GetStaged()], Named: m.GetDoneBy() != "",
	}
}
