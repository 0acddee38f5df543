package translate

import (
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/verdict"
)

// depthOnly is the coverage of a wheel that was not seen whole.
const depthOnly = "coverage.depth-only"

func summary(s verdict.Summary) *pb.WheelSummary {
	m := &pb.WheelSummary{Position: s.Position.String()}
	if !s.Full {
		m.Coverage = said(depthOnly)
	}
	if s.Tread != nil {
		low := s.Tread.Summary.Governing
		m.GoverningDepth = depthMessage(low.Lowest, s.ReadIn)
		m.GoverningPlace = place(finding.Place{Across: low.At.Across, Groove: low.At.Groove, Station: low.At.Station})
		m.MeanDepths = meanDepths(s)
		if s.Tread.UsableKnow {
			m.UsableTread = &pb.UsableTread{
				Percent: s.Tread.Usable.Amount().Rounded().Number, DepthWhenNew: depthMessage(s.New, s.ReadIn),
				Limit: fill(&pb.Depth{}, s.Tread.UsableTo.Value), RuleId: s.Tread.UsableBy.ID,
			}
		}
	}
	if s.Pressure.Read != unit.None {
		m.Found = pressureMessage(s.Pressure.Of, s.Pressure.Read)
		m.ColdEquivalent = pressureMessage(s.Cold.Value.Of, s.Shown)
		m.ColdLow, m.ColdHigh = pressureMessage(s.Cold.Low, s.Shown), pressureMessage(s.Cold.High, s.Shown)
	}
	if s.Label != 0 {
		m.LabelCold = pressureMessage(s.Label, s.Shown)
	}
	return m
}

// meanDepths are the means round the tire, from the vehicle outward.
func meanDepths(s verdict.Summary) []*pb.MeanDepth {
	var ms []*pb.MeanDepth
	byGroove := s.Tread.Summary.Governing.At.Groove > 0
	for _, col := range s.Tread.Summary.Columns {
		mean, ok := s.Tread.Summary.Means[col]
		if !ok {
			continue
		}
		d := &pb.MeanDepth{Depth: depthMessage(mean.Of, s.ReadIn), Uncertainty: depthMessage(unit.Depth(mean.Std), s.ReadIn)}
		switch {
		case byGroove:
			d.Place = &pb.Place{Groove: int32(col)}
		case col > 0:
			d.Place = &pb.Place{Across: pb.Across(col)}
		}
		ms = append(ms, d)
	}
	return ms
}

var repairabilities = map[puncture.Answer]pb.Repairability{
	puncture.NotRepairable:               pb.Repairability_REPAIRABILITY_NOT_REPAIRABLE,
	puncture.NotDecidedDemountAndInspect: pb.Repairability_REPAIRABILITY_NOT_DECIDED_DEMOUNT_AND_INSPECT,
	puncture.Repairable:                  pb.Repairability_REPAIRABILITY_REPAIRABLE,
	puncture.NotAsNailHole:               pb.Repairability_REPAIRABILITY_NOT_AS_NAIL_HOLE,
	puncture.NoInjury:                    pb.Repairability_REPAIRABILITY_NO_INJURY,
}

var repairMethods = map[puncture.Method]pb.RepairMethod{
	puncture.Combination: pb.RepairMethod_REPAIR_METHOD_COMBINATION, puncture.TwoPiece: pb.RepairMethod_REPAIR_METHOD_TWO_PIECE,
	puncture.Section: pb.RepairMethod_REPAIR_METHOD_SECTION,
}

func repair(r questions.Repair) *pb.RepairAnswer {
	m := &pb.RepairAnswer{
		Position: r.Position.String(), Repairability: repairabilities[r.Result.Answer], Method: repairMethods[r.Result.Method],
	}
	for _, fs := range [][]finding.Finding{{r.Result.Main}, r.Result.Failing, r.Result.Open} {
		for _, f := range fs {
			if r.Position != (layout.Position{}) {
				f.Positions = []layout.Position{r.Position}
			}
			m.FindingIds = append(m.FindingIds, f.ID())
		}
	}
	for _, l := range r.Result.LookFor {
		m.LookFor = append(m.LookFor, said(l))
	}
	for _, c := range r.Result.Missing {
		m.Missing = append(m.Missing, said(c))
	}
	return m
}
