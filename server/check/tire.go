package check

import (
	gaugebookv1 "gaugebook.dev/proto/gaugebook/v1"
)

func (w walker) tapedSize(t *gaugebookv1.TapedSize) {
	if oneof(t, "taped") == "" {
		w.add("", "nothing was taped", "circumference or diameter")
	}
}

func (w walker) tirePlace(p *gaugebookv1.TirePlace) {
	if oneof(p, "where") == "" {
		w.add("", "no place is named", "mounted, stored or scrapped")
	}
}

// tireMoves happen together, so no tire can be moved twice.
func (w walker) tireMoves(m *gaugebookv1.TireMoves) {
	w.once("moves", "tire_id", tireIDs(m.GetMoves()))
}

func (w walker) tireMove(m *gaugebookv1.TireMove) {
	w.required(m.GetTireId() != "", "tire_id", "the id of the tire")
	w.required(m.GetTo() != nil, "to", "where the tire is afterwards")
}

func (w walker) tireSet(s *gaugebookv1.TireSet) { w.once("tires", "tire_id", tireIDs(s.GetTires())) }

func tireIDs[T interface{ GetTireId() string }](list []T) []string {
	var all []string
	for _, t := range list {
		all = append(all, t.GetTireId())
	}
	return all
}
