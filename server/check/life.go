package check

import (
	"cmp"
	"fmt"
	"slices"

	"google.golang.org/protobuf/proto"

	gaugebookv1 "gaugebook.dev/proto/gaugebook/v1"
)

// Most of a thing that one estimate may hold.
const (
	maxDepths = 1000
	maxLimits = 10
)

// EstimateLife gives every problem of the request at once.
func EstimateLife(req *gaugebookv1.EstimateLifeRequest) []Problem { return run("", req, nil) }

func (w walker) life(m proto.Message) {
	switch m := m.(type) {
	case *gaugebookv1.EstimateLifeRequest:
		w.estimate(m)
	case *gaugebookv1.MeasuredDepth:
		w.required(m.GetDistance() != nil, "distance", "a distance")
		w.required(m.GetDepth() != nil, "depth", "a depth")
	}
}

// estimate: at least two depths at two distances, of which at most one is a depth
// when new that nobody measured.
func (w walker) estimate(req *gaugebookv1.EstimateLifeRequest) {
	depths := req.GetDepths()
	switch n := len(depths); {
	case n < 2:
		w.to("depths").add(fmt.Sprint(n), "too few to tell wear by", "two depths at two distances, or one and the depth when new")
	case n > maxDepths:
		w.to("depths").add(fmt.Sprint(n), fmt.Sprintf("at most %d depths", maxDepths), "the latest of them")
	default:
		w.compareDepths(depths)
	}
	switch n := len(req.GetLimits()); {
	case n == 0:
		w.to("limits").add("", "missing", "the depths to estimate for")
	case n > maxLimits:
		w.to("limits").add(fmt.Sprint(n), fmt.Sprintf("at most %d limits", maxLimits), "")
	}
	w.gauges(req.GetGauges())
	if ofDepth := func(g *gaugebookv1.Gauge) bool { return g.GetDepth() != nil }; len(req.GetGauges()) > 0 && !slices.ContainsFunc(req.GetGauges(), ofDepth) {
		w.to("gauges").add("", "none of them measures depth", "the step of a depth gauge")
	}
}

// compareDepths checks the depths against each other.
func (w walker) compareDepths(depths []*gaugebookv1.MeasuredDepth) {
	type entry struct {
		index    int
		distance float64
	}
	var known []entry
	measured, isNew, newAt := 0, -1, 0.0
	for i, d := range depths {
		v, ok := size(d.GetDistance())
		if ok = ok && d.GetDistance() != nil; ok {
			known = append(known, entry{i, v})
		}
		switch {
		case !d.GetAssumed():
			measured++
		case isNew >= 0:
			w.entry("depths", i).to("assumed").add("true", fmt.Sprintf("a tire has one depth when new: depths[%d] is that", isNew), "")
		default:
			isNew, newAt = i, v
		}
	}
	if measured == 0 {
		w.to("depths").add("", "none of them was measured", "at least one depth that was")
	}
	if len(known) < len(depths) {
		return
	}
	slices.SortStableFunc(known, func(a, b entry) int { return cmp.Compare(a.distance, b.distance) })
	if known[0].distance == known[len(known)-1].distance {
		w.to("depths").add("", "all at one distance", "depths at two distances")
	}
	last := -1
	for _, e := range known {
		day, ok := date(depths[e.index].GetDate())
		if !ok {
			continue
		}
		if last >= 0 {
			if before, _ := date(depths[last].GetDate()); before.DaysUntil(day) < 0 {
				w.entry("depths", e.index).to("date").add(day.String(), fmt.Sprintf("earlier than depths[%d], at more distance", last), "not before "+before.String())
			}
		}
		last = e.index
	}
	if isNew >= 0 && newAt > known[0].distance {
		w.entry("depths", isNew).to("distance").add(shown(depths[isNew].GetDistance()), "the depth when new is at the least distance", "")
	}
}
