package verdict

import (
	"gaugebook.dev/calc/fastener"
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

// practice is the rule of what the trade does by habit.
var practice = finding.Rule{Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory}

const (
	renewNeighbors finding.Code = "fasteners.renew-with-neighbors"
	renewAll       finding.Code = "fasteners.renew-all"
	checkTorque    finding.Code = "wheel.torque-check"
)

// fasteners judges the fasteners of wheels that were off, today or before.
func (j *judging) fasteners() {
	v := fastener.Vehicle{Layout: j.v.Vehicle, Each: j.v.EachWheel, Torque: j.v.Torque}
	for _, w := range j.v.Wheels {
		if !w.Position.Spare { // it hangs in its place
			v.Wheels = append(v.Wheels, fastener.Wheel{At: w.Position, Broken: w.count("stud-broken"), Work: w.Fastening, Before: w.OffBefore, Checks: w.TorqueChecks})
		}
	}
	r := fastener.Judge(v)
	j.find(r.Findings...)
	for _, f := range r.Findings {
		switch f.Code {
		case fastener.CountDiffers, fastener.Damaged, fastener.TooFewRenewed, fastener.FastenerMoved:
			j.do(fastenersRight, f.Positions...)
		case fastener.FacesNotCleaned:
			j.do(matingFaces, f.Positions...)
		case fastener.NoRecord, fastener.TorqueDiffers:
			j.work.add(Work{Code: torqueWheel, Positions: f.Positions, Target: j.v.Torque, Caution: cautionWheel})
		case fastener.RecheckOwed, fastener.RecheckIncomplete:
			j.work.add(Work{Code: checkTorque, Positions: f.Positions, Target: j.v.Torque, Caution: cautionWheel})
		}
	}
	for _, n := range r.Renew {
		item := Work{Code: renewNeighbors, Positions: []layout.Position{n.At}, Caution: cautionWheel}
		if n.All {
			item.Code = renewAll
		}
		j.work.add(item)
	}
	for _, d := range r.Due {
		item := Work{Code: recheckTorque, Positions: []layout.Position{d.At}, Target: j.v.Torque, Caution: cautionWheel, DueFrom: d.From, DueBy: d.By}
		if d.Trailer {
			item.Code = recheckTrailer
		}
		j.work.add(item)
	}
	for _, p := range r.Asked {
		j.ask(fastener.AskWork, p)
	}
	for _, p := range r.Recorded {
		j.kept(Checked{Code: fastener.TorqueRecorded, Positions: []layout.Position{p}})
	}
	for _, p := range r.Held {
		j.kept(Checked{Code: fastener.TorqueHeld, Positions: []layout.Position{p}})
	}
	j.fastened = map[layout.Position]bool{}
	for _, p := range r.PutRight {
		j.fastened[p] = true
	}
}

// count is how many of a kind were seen: each observation at least one.
func (w Wheel) count(kind finding.Code) (n int) {
	for _, o := range w.Observations {
		if o.Kind == kind {
			n += max(o.Count, 1)
		}
	}
	return n
}

// fastenedAgain closes what was found of fasteners on a wheel that was off since:
// counted, renewed, clean and with its torque on record. A wrong seat is not
// cured by tightening.
func (j *judging) fastenedAgain() {
	for _, f := range j.out.Findings {
		switch f.Code {
		case "fastener.loose", "fastener.missing", "fastener.broken", "fastener.stretched", "fastener.rust-streaks":
			if j.fastened[f.Positions[0]] && !j.stillThere(f) {
				j.out.Done[f.ID()] = "closed.fasteners-put-right"
			}
		}
	}
}
