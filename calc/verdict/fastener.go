package verdict

import (
	"gaugebook.dev/calc/fastener"
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

// practice is the rule of what the trade does by habit.
var practice = finding.Rule{Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory}

// fasteners judges the fasteners of wheels that were off, today or before.
func (j *judging) fasteners() {
	v := fastener.Vehicle{Layout: j.v.Vehicle, Each: j.v.EachWheel, Torque: j.v.Torque}
	for _, w := range j.v.Wheels {
		if !w.Position.Spare { // it hangs in its place
			v.Wheels = append(v.Wheels, fastener.Wheel{At: w.Position, Broken: w.Count(finding.ObservedStudBroken), Work: w.Fastening, Before: w.OffBefore, Checks: w.TorqueChecks})
		}
	}
	r := fastener.Judge(v)
	j.find(r.Findings...)
	for _, f := range r.Findings {
		switch k := finding.KindOf(f.Code); k.Work {
		case finding.WorkWheelTorque, finding.WorkWheelTorqueCheck:
			j.work.add(Work{Code: k.Work, Positions: f.Positions, Target: j.v.Torque})
		default:
			j.do(k.Work, f.Positions...)
		}
	}
	for _, n := range r.Renew {
		item := Work{Code: finding.WorkFastenersRenewWithNeighbors, Positions: []layout.Position{n.At}}
		if n.All {
			item.Code = finding.WorkFastenersRenewAll
		}
		j.work.add(item)
	}
	for _, d := range r.Due {
		item := Work{Code: finding.WorkOwedTorqueRecheck, Positions: []layout.Position{d.At}, Target: j.v.Torque, DueFrom: d.From, DueBy: d.By}
		if d.Trailer {
			item.Code = finding.WorkOwedTorqueRecheckTrailer
		}
		j.work.add(item)
	}
	for _, p := range r.Asked {
		j.ask(finding.AskFastenerWork, p)
	}
	for _, p := range r.Recorded {
		j.kept(Checked{Code: finding.CheckedTorqueRecorded, Positions: []layout.Position{p}})
	}
	for _, p := range r.Held {
		j.kept(Checked{Code: finding.CheckedTorqueRechecked, Positions: []layout.Position{p}})
	}
	j.fastened = map[layout.Position]bool{}
	for _, p := range r.PutRight {
		j.fastened[p] = true
	}
}

// fastenedAgain closes what was found of fasteners on a wheel that was off since:
// counted, renewed, clean and with its torque on record. A wrong seat is not
// cured by tightening.
func (j *judging) fastenedAgain() {
	for _, f := range j.out.Findings {
		if finding.KindOf(f.Code).Left == finding.LeftFastened && j.fastened[f.Positions[0]] && !j.stillThere(f) {
			j.out.Done[f.ID()] = finding.ClosedFastenersPutRight
		}
	}
}
