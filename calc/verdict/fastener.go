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
		switch f.Code {
		case finding.FastenerCountDiffers, finding.FastenerDamaged, finding.FastenerTooFewRenewed, finding.TorqueFastenerMoved:
			j.do(finding.WorkFastenersPutRight, f.Positions...)
		case finding.FastenerFacesNotCleaned:
			j.do(finding.WorkWheelMatingFaces, f.Positions...)
		case finding.TorqueNoRecord, finding.TorqueDiffers:
			j.work.add(Work{Code: finding.WorkWheelTorque, Positions: f.Positions, Target: j.v.Torque, Caution: finding.CautionWheelFastening})
		case finding.TorqueRecheckOwed, finding.TorqueRecheckIncomplete:
			j.work.add(Work{Code: finding.WorkWheelTorqueCheck, Positions: f.Positions, Target: j.v.Torque, Caution: finding.CautionWheelFastening})
		}
	}
	for _, n := range r.Renew {
		item := Work{Code: finding.WorkFastenersRenewWithNeighbors, Positions: []layout.Position{n.At}, Caution: finding.CautionWheelFastening}
		if n.All {
			item.Code = finding.WorkFastenersRenewAll
		}
		j.work.add(item)
	}
	for _, d := range r.Due {
		item := Work{Code: finding.WorkOwedTorqueRecheck, Positions: []layout.Position{d.At}, Target: j.v.Torque, Caution: finding.CautionWheelFastening, DueFrom: d.From, DueBy: d.By}
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
		switch f.Code {
		case finding.FastenerLoose, finding.FastenerMissing, finding.FastenerBroken, finding.FastenerStretched, finding.FastenerRustStreaks:
			if j.fastened[f.Positions[0]] && !j.stillThere(f) {
				j.out.Done[f.ID()] = finding.ClosedFastenersPutRight
			}
		}
	}
}
