package questions

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// Whether tires changed places without a record is asked where their depths say so, and
// not where the record has it, or somebody answered; told that they did, it is in doubt
// where they were.
func TestMovedWithoutARecord(t *testing.T) {
	gauge := measure.Gauge[unit.Depth]{Resolution: unit.MustDepth(1, unit.ThirtySecondsInch), Repeatability: unit.MustDepth(0.4, unit.ThirtySecondsInch)}
	across := func(n float64) (rs []tread.Reading) {
		for _, a := range []layout.Across{layout.Inboard, layout.Center, layout.Outboard} {
			rs = append(rs, tread.Reading{Across: a, Depth: unit.MustDepth(n, unit.ThirtySecondsInch), AsRead: unit.Amount{Number: n, Unit: unit.ThirtySecondsInch}})
		}
		return rs
	}
	four := []string{"1L", "1R", "2L", "2R"}
	ago := unit.MustDistance(1500, unit.Miles)
	near, long := unit.MustDistance(1000, unit.Miles), unit.MustDistance(2000, unit.Miles)
	stayed, crossed := [2][]float64{{4, 6, 8, 10}, {4, 6, 8, 10}}, [2][]float64{{4, 6, 8, 10}, {8, 10, 6, 4}}
	yes, no, open := finding.Yes, finding.No, finding.NotAsked
	for _, c := range []struct {
		name    string
		depths  [2][]float64 // then and now
		changed []*unit.Distance
		moved   finding.Answer
		found   bool
		doubt   bool
		asked   bool
	}{
		{"as they were", stayed, nil, open, false, false, false},
		{"crossed", crossed, nil, open, true, true, true},
		{"asked, and nobody knows", crossed, nil, finding.NotKnown, true, true, false},
		{"told that they were moved", crossed, nil, yes, false, true, false},
		{"told that they were not", crossed, nil, no, false, false, false},
		{"on record since", crossed, []*unit.Distance{&near}, open, false, false, false},
		{"on record from before", crossed, []*unit.Distance{&long}, open, true, true, true},
		{"as they were, and told that they were moved", stayed, nil, yes, false, true, false},
	} {
		in := MovedIn{Rotating: visit.Rotating{Changed: c.changed, Moved: c.moved, Before: []visit.DepthsBefore{{Ago: ago, Gauge: gauge}}}, Treads: Treads{}}
		for i, name := range four {
			p := layout.MustParse(name)
			in.Rotating.Before[0].Wheels = append(in.Rotating.Before[0].Wheels, visit.DepthsAt{Position: p, Readings: across(c.depths[0][i])})
			in.Wheels = append(in.Wheels, visit.Wheel{Position: p, Depths: across(c.depths[1][i])})
			s, _ := tread.Summarize(tread.Wheel{Position: p, Readings: across(c.depths[1][i]), Gauge: gauge})
			in.Treads[p] = tread.Result{Summary: s}
		}
		out := Moved(in)
		if found := out.Unrecorded != nil; found != c.found || len(out.Findings) > 0 != c.found || out.InDoubt != c.doubt || (len(out.Asked) > 0) != c.asked {
			t.Errorf("%s: found %v, in doubt %v, asked %v", c.name, out.Findings, out.InDoubt, out.Asked)
			continue
		}
		if !c.found {
			continue
		}
		f := out.Unrecorded
		if f.Code != finding.RotationUnrecorded || f.Urgency != finding.Note || f.ToSettle != finding.SettleAskMovedUnrecorded || len(f.Positions) != 4 || !slices.IsSortedFunc(f.Positions, layout.Position.Compare) {
			t.Errorf("%s: %+v", c.name, f)
		}
		if odds := f.Told(finding.FactRotationOdds); odds.Number < 1 || len(f.Evidence) != 2 || f.Evidence[1].Code == finding.FactRotationOtherMapExplainsToo {
			t.Errorf("%s: %+v", c.name, f.Evidence)
		}
	}
	if out := Moved(MovedIn{}); out.InDoubt || len(out.Findings) > 0 {
		t.Errorf("no visit before: %+v", out)
	}
}

// What two visits can be compared by: inboard, center and outboard where they were told,
// else the mean; a size however it was spaced.
func TestWhatTwoVisitsAreComparedBy(t *testing.T) {
	p := layout.MustParse("1L")
	depth := func(a layout.Across, n float64) tread.Reading {
		return tread.Reading{Across: a, Depth: unit.MustDepth(n, unit.ThirtySecondsInch)}
	}
	whole, _ := tread.Summarize(tread.Wheel{Position: p, Readings: []tread.Reading{depth(layout.Inboard, 4), depth(layout.Center, 6), depth(layout.Outboard, 8)}})
	if got := across(whole); len(got) != 3 || got[0].Of != unit.MustDepth(4, unit.ThirtySecondsInch) || got[1].Of != unit.MustDepth(6, unit.ThirtySecondsInch) || got[2].Of != unit.MustDepth(8, unit.ThirtySecondsInch) {
		t.Errorf("%v", got)
	}
	two, _ := tread.Summarize(tread.Wheel{Position: p, Readings: []tread.Reading{depth(layout.Inboard, 4), depth(layout.Outboard, 8)}})
	if got := across(two); len(got) != 1 || got[0].Of != unit.MustDepth(6, unit.ThirtySecondsInch) {
		t.Errorf("of two: %v", got)
	}
	if got := sizeOf(visit.Wheel{Tire: visit.Tire{Size: " p215/60r16  94t "}}); got != "P215/60R1694T" {
		t.Errorf("%q", got)
	}
}

// The depths of a new tire at its edges and its center: of one that was told as a whole, or
// by its grooves; not known unless all are that are asked for.
func TestNewDepthsAcross(t *testing.T) {
	in32 := func(n float64) unit.Depth { return unit.MustDepth(n, unit.ThirtySecondsInch) }
	whole := map[int]unit.Depth{0: in32(10)}
	grooves := map[int]unit.Depth{1: in32(8), 2: in32(10), 3: in32(9), 4: in32(7)}
	for _, c := range []struct {
		name    string
		known   map[int]unit.Depth
		columns []int
		want    []float64
	}{
		{"nothing told", nil, []int{1, 2, 3}, nil},
		{"nothing read", whole, nil, nil},
		{"as a whole", whole, []int{1, 2, 3}, []float64{10, 10, 10}},
		{"one groove", whole, []int{2}, []float64{10, 10, 10}},
		{"by its grooves", grooves, []int{1, 2, 3, 4}, []float64{8, 9.5, 7}},
		{"of three", grooves, []int{1, 2, 3}, []float64{8, 10, 9}},
		{"of two", grooves, []int{1, 4}, []float64{8, 7.5, 7}},
		{"an edge not told", grooves, []int{1, 2, 5}, nil},
		{"the other edge", grooves, []int{5, 1, 2}, nil},
		{"a groove between", grooves, []int{1, 5, 2}, nil},
	} {
		got := newAcross(c.known, c.columns)
		if (got != nil) != (c.want != nil) {
			t.Errorf("%s: %v", c.name, got)
			continue
		}
		for i, n := range c.want {
			if got[i] != in32(n) {
				t.Errorf("%s: %v at %d, want %v", c.name, got[i].In(unit.ThirtySecondsInch), i, n)
			}
		}
	}
}

// The depths round a tire: of each station at which every column was read, in their order;
// what was read at no station is of none.
func TestDepthsRoundATire(t *testing.T) {
	at := func(station int, a layout.Across, n float64) tread.Reading {
		return tread.Reading{Station: station, Across: a, Depth: unit.MustDepth(n, unit.ThirtySecondsInch)}
	}
	s, _ := tread.Summarize(tread.Wheel{Position: layout.MustParse("1L"), Readings: []tread.Reading{
		at(2, layout.Outboard, 4), at(2, layout.Inboard, 6), at(1, layout.Inboard, 8), at(1, layout.Outboard, 7), at(3, layout.Inboard, 5), at(0, layout.Inboard, 3), at(0, layout.Outboard, 3),
	}})
	want := [][]unit.Depth{{unit.MustDepth(8, unit.ThirtySecondsInch), unit.MustDepth(7, unit.ThirtySecondsInch)}, {unit.MustDepth(6, unit.ThirtySecondsInch), unit.MustDepth(4, unit.ThirtySecondsInch)}}
	if got := rings(s); !slices.EqualFunc(got, want, slices.Equal) {
		t.Errorf("%v, want %v", got, want)
	}
}
