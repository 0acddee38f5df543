package rotation

import (
	"slices"
	"strings"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

// Leave is the id of the map that moves nothing.
const Leave = "leave"

const sideToSide = "side-to-side"

// Move takes the tire of one position, on its wheel, to another.
type Move struct {
	From, To layout.Position
	Turned   bool // the other sidewall faces out afterwards
}

// reverses tells that the tire rolls the other way round afterwards. A spare hangs on
// neither side: what comes from there, or goes there, may do so.
func (m Move) reverses() bool { return (m.From.Side != m.To.Side) != m.Turned }

// Map is one way to place the tires.
type Map struct {
	ID     string
	Told   finding.Fact // as evidence of a rotation that nobody recorded; "": of the map that moves nothing
	Moves  []Move       // every tire that changes place, by the position it comes from
	Rule   finding.Rule
	drives []layout.Drive // it is made for; none: for any
	duals  bool           // for a dual rear axle
	spare  bool           // the spare takes part
}

// The federal treadwear test rotates the tires of its convoy by the forward cross.
var (
	federal  = finding.Rule{ID: "rotation.forward-cross", Authority: finding.ModelStandard, Citation: "49 CFR 575.104(e)(2)(v)", Known: finding.Read}
	reported = finding.Rule{ID: "rotation.maps", Authority: finding.CommonPractice, Citation: "common practice of tire services", Known: finding.Reported}
	recalled = finding.Rule{ID: "rotation.maps", Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory}
)

// maps in the order of preference where none is provably better: the usual one
// of the drive first, leaving them last. A map that brings the spare in comes in
// two hands, one the mirror of the other.
var maps = []Map{
	{ID: "forward-cross", Told: finding.FactMapForwardCross, Moves: moves("1L>2L 1R>2R 2L>1R 2R>1L"), Rule: federal, drives: []layout.Drive{layout.FrontDrive}},
	{ID: "rearward-cross", Told: finding.FactMapRearwardCross, Moves: moves("1L>2R 1R>2L 2L>1L 2R>1R"), Rule: reported, drives: []layout.Drive{layout.RearDrive, layout.AllDrive}},
	{ID: "x-pattern", Told: finding.FactMapXPattern, Moves: moves("1L>2R 1R>2L 2L>1R 2R>1L"), Rule: reported, drives: []layout.Drive{layout.FrontDrive, layout.AllDrive}},
	{ID: "front-rear-same-side", Told: finding.FactMapFrontRearSameSide, Moves: moves("1L>2L 1R>2R 2L>1L 2R>1R"), Rule: reported},
	{ID: sideToSide, Told: finding.FactMapSideToSide, Moves: moves("1L>1R 1R>1L 2L>2R 2R>2L"), Rule: reported},
	{ID: "five-tire-forward-cross", Told: finding.FactMapFiveTireForwardCross, Moves: moves("1L>2L 1R>S 2L>1R 2R>1L S>2R"), Rule: recalled, drives: []layout.Drive{layout.FrontDrive}, spare: true},
	{ID: "five-tire-forward-cross-left", Told: finding.FactMapFiveTireForwardCrossLeft, Moves: moves("1L>S 1R>2R 2L>1R 2R>1L S>2L"), Rule: recalled, drives: []layout.Drive{layout.FrontDrive}, spare: true},
	{ID: "five-tire-rearward-cross", Told: finding.FactMapFiveTireRearwardCross, Moves: moves("1L>S 1R>2L 2L>1L 2R>1R S>2R"), Rule: recalled, drives: []layout.Drive{layout.RearDrive, layout.AllDrive}, spare: true},
	{ID: "five-tire-rearward-cross-left", Told: finding.FactMapFiveTireRearwardCrossLeft, Moves: moves("1L>2R 1R>S 2L>1L 2R>1R S>2L"), Rule: recalled, drives: []layout.Drive{layout.RearDrive, layout.AllDrive}, spare: true},
	{ID: "six-tire-same-side", Told: finding.FactMapSixTireSameSide, Moves: moves("1L>2LO 1R>2RO 2LI>1L 2LO>2LI 2RI>1R 2RO>2RI"), Rule: recalled, duals: true},
	{ID: Leave, Rule: recalled},
}

// moves reads a map written with arrows. A disc wheel is turned between an outer
// dual and any other position (common practice).
func moves(text string) []Move {
	var out []Move
	for arrow := range strings.FieldsSeq(text) {
		from, to, _ := strings.Cut(arrow, ">")
		m := Move{From: layout.MustParse(from), To: layout.MustParse(to)}
		m.Turned = (m.From.Dual == layout.Outer) != (m.To.Dual == layout.Outer)
		out = append(out, m)
	}
	return out
}

// mapsFor lists the maps for a vehicle's places, in the order of preference. A
// vehicle that is no car or light truck, or has other than two axles with single
// wheels in front, has only one: to leave them.
func mapsFor(v layout.Vehicle, spare bool) []Map {
	light := v.Class == layout.PassengerCar || v.Class == layout.LightTruck || v.Class == layout.ClassNotTold
	two := light && len(v.Axles) == 2 && !v.Axles[0].Dual
	return slices.DeleteFunc(slices.Clone(maps), func(m Map) bool {
		return m.ID != Leave && (!two || m.duals != v.Axles[1].Dual || m.spare && !spare)
	})
}

// to gives where the tire of a position goes.
func (m Map) to(p layout.Position) layout.Position {
	for _, move := range m.Moves {
		if move.From == p {
			return move.To
		}
	}
	return p
}

// changesAxle tells that tires go from the front to the rear and back.
func (m Map) changesAxle() bool {
	return slices.ContainsFunc(m.Moves, func(m Move) bool { return !m.From.Spare && !m.To.Spare && m.From.Axle != m.To.Axle })
}
