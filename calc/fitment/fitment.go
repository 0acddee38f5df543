// Package fitment answers whether tires are right for their vehicle and whether
// they match each other: size, load, speed and construction against the door
// label; marks, valves and age; left and right, front and rear, all-wheel drive
// and dual pairs. What was not told never makes a tire right or a pair matched.
package fitment

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// Tire is what is known of one tire. A zero field was not read or not told.
type Tire struct {
	Marking sidewall.Marking // as read on the tire itself, never from the label
	Codes   string           // plant and maker's code of its identification number, where it was read whole
	Made    sidewall.Made    // zero when its date was not read
	Fitted  unit.Date        // first put on a vehicle
	Printed sidewall.Printed // what else the sidewall prints

	Directional finding.Answer
	Asymmetric  finding.Answer
	ThreePeaks  finding.Answer // three-peak mountain with snowflake
	MudAndSnow  finding.Answer
	Studded     finding.Answer
	Retread     finding.Answer
	Regrooved   finding.Answer

	NotForHighway finding.Answer // so marked

	ReplaceAfter int  // years, the tire maker's figure; 0 when not told
	Cracked      bool // weather cracks joined in a line, or to the cord
}

// Winter tells that it is marked as a winter tire, or studded.
func (t Tire) Winter() bool { return t.ThreePeaks == finding.Yes || t.Studded == finding.Yes }

// Faces says where a mark on a tire looks.
type Faces uint8

// Where a mark looks.
const (
	FacesNotTold Faces = iota
	FacesOut
	FacesIn
	NoMark
)

// Arrow is the direction arrow against the direction of roll.
type Arrow uint8

// Arrows.
const (
	ArrowNotTold Arrow = iota
	ArrowAgrees
	ArrowOpposes
	NoArrow
)

// Marks is how a tire sits on its wheel and the wheel on the vehicle.
type Marks struct {
	Arrow   Arrow
	Outside Faces // the side marked OUTSIDE
	Date    Faces // the side with the full identification number and its date
}

// Taped is a tire's size by a tape, as a circumference.
type Taped struct {
	Circumference measure.Value[unit.Length]
	SamePressure  finding.Answer // as the tires it is compared with
	DayBefore     finding.Answer // inflated at least 24 hours before
}

// Wheel is one wheel with all that judging its fitment can use.
type Wheel struct {
	At    layout.Position
	Tire  Tire
	Depth *measure.Value[unit.Depth] // mean over the tread; nil when not read
	Taped *Taped
	Marks Marks
	Valve Valve

	Label     unit.Pressure // cold, the highest that the label asks for here; 0 when not told
	LabelUnit unit.Unit
}

// MakerFigures are the vehicle maker's own limits. nil: none was given.
type MakerFigures struct {
	Depth         *unit.Depth  // largest difference of tread between any two tires
	DepthUnit     unit.Unit    // as given
	Circumference *unit.Length // largest difference of circumference
	LengthUnit    unit.Unit    // as given
	Source        string       // where they were read, "" when not told
}

// Vehicle is a vehicle with the tires on it.
type Vehicle struct {
	Layout layout.Vehicle
	Books  []rulebook.Applied
	AsOf   unit.Date // zero: nothing is judged by date
	Maker  MakerFigures
	Spare  Spare
	Shown  finding.Answer // the highest speed of its tires is shown to the driver
	Wheels []Wheel        // each position once
}

// Met is one comparison whose limit is met.
type Met struct {
	Code      finding.Checked
	Positions []layout.Position
	Measured  unit.Amount
	Limit     unit.Amount
	Rule      finding.Rule
}

// Asked is a question whose answer would allow more. Without positions it is of
// the vehicle.
type Asked struct {
	Code      finding.Question
	Positions []layout.Position
}

// Result is what the fitment of a vehicle comes to.
type Result struct {
	Findings []finding.Finding
	Met      []Met
	Asked    []Asked
	Fits     []Fit // of each tire that was read, in order of position
}

// fitting gathers one result.
type fitting struct {
	Vehicle
	Result
	road []Wheel // on the road, without the spare in its place, spares in service included
}

// Judge answers for a vehicle. The order of its wheels changes nothing.
func Judge(v Vehicle) Result {
	j := &fitting{Vehicle: v}
	j.Wheels = slices.Clone(v.Wheels)
	slices.SortFunc(j.Wheels, func(a, b Wheel) int { return a.At.Compare(b.At) })
	j.road = make([]Wheel, 0, len(j.Wheels))
	for _, w := range j.Wheels {
		if !w.At.Spare {
			j.road = append(j.road, w)
		}
	}
	j.slower()
	j.againstLabel()
	j.mixes()
	j.allWheelDrive()
	j.duals()
	j.axles()
	j.barred()
	j.belowAxle()
	j.marks()
	j.valves()
	j.ages()
	finding.Sort(j.Findings)
	return j.Result
}

var book = rulebook.Must("fitment")

func (j *fitting) find(fs ...finding.Finding) { j.Findings = append(j.Findings, fs...) }

// ask asks once; the same question of more wheels names them too.
func (j *fitting) ask(code finding.Question, at ...layout.Position) {
	for i := range j.Asked {
		if a := &j.Asked[i]; a.Code == code {
			for _, p := range at {
				if !slices.Contains(a.Positions, p) {
					a.Positions = append(a.Positions, p)
				}
			}
			return
		}
	}
	j.Asked = append(j.Asked, Asked{code, at})
}

// practice is a finding of common practice about wheels, without a number.
func practice(code finding.Code, u finding.Urgency, at ...layout.Position) finding.Finding {
	return finding.Finding{Code: code, Urgency: u, Positions: at,
		Rule: finding.Rule{Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory}}
}

// ends are the wheels of an axle, from left to right.
func (j *fitting) ends(axle int) (ws []Wheel) {
	for i := range j.road {
		if j.road[i].At.Axle != axle {
			continue
		}
		if ws == nil {
			ws = make([]Wheel, 0, len(j.road)-i)
		}
		ws = append(ws, j.road[i])
	}
	return ws
}

func places(ws []Wheel) (ps []layout.Position) {
	for _, w := range ws {
		ps = append(ps, w.At)
	}
	return ps
}
