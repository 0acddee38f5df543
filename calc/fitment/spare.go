package fitment

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// Findings about a spare in service.
const (
	SpareInService finding.Code = "spare.in-service"
	SpareOnDriven  finding.Code = "spare.on-driven-axle"
	SpareFullSize  finding.Code = "spare.full-size-in-service"
)

// Evidence about a spare in service.
const (
	SpareSpeed    finding.Code = "spare.speed-limit"
	SpareDistance finding.Code = "spare.distance-limit"
	LimitNotTold  finding.Code = "spare.limits-not-told"
)

// SpareKind is what the vehicle carries against a flat.
type SpareKind uint8

// Kinds of spares.
const (
	SpareNotTold SpareKind = iota
	SpareMatching
	SpareOther   // full size, another size, design or wheel
	SpareCompact // temporary; collapsible ones too
)

// Spare is the vehicle's spare tire.
type Spare struct {
	Kind      SpareKind
	InService layout.Position // where it is on the road; the zero position: it is not
	Speed     unit.Amount     // highest, as printed on it or in the handbook; zero when not told
	Distance  unit.Amount     // longest, likewise
}

// inService tells that the wheel is the spare, mounted on the road.
func (j *fitting) inService(w Wheel) bool {
	return !w.At.Spare && (w.At == j.Spare.InService || w.Tire.Marking.Class == sidewall.TemporarySpare)
}

// temporary tells a spare in service that is no full match for the others: it is
// to come off again, and is not compared with them.
func (j *fitting) temporary(w Wheel) bool {
	return j.inService(w) && (j.Spare.Kind != SpareMatching || w.Tire.Marking.Class == sidewall.TemporarySpare)
}

// spares: the tire that was replaced by the spare has to be put right at this
// visit; until then the maker's limits hold, as told.
func (j *fitting) spares() {
	at := map[layout.Position]bool{j.Spare.InService: true}
	for _, w := range j.road {
		at[w.At] = at[w.At] || j.inService(w)
	}
	for _, p := range j.Layout.Positions() {
		if !at[p] {
			continue
		}
		w, ok := j.wheel(p)
		if !ok {
			w.At = p // nobody reported the wheel it is on
		}
		if !j.temporary(w) {
			j.find(practice(SpareFullSize, finding.Note, p))
			continue
		}
		f := practice(SpareInService, finding.ThisVisit, p)
		for _, e := range []finding.Evidence{{Code: SpareSpeed, Amount: j.Spare.Speed}, {Code: SpareDistance, Amount: j.Spare.Distance}} {
			if !e.Amount.IsZero() {
				f.Evidence = append(f.Evidence, e)
			}
		}
		if len(f.Evidence) == 0 {
			f.Evidence = append(f.Evidence, finding.Evidence{Code: LimitNotTold})
		}
		j.find(f)
		compact := j.Spare.Kind == SpareCompact || w.Tire.Marking.Class == sidewall.TemporarySpare
		if a, ok := j.Layout.AxleOf(p); ok && compact && (a.Driven || j.Layout.Drive == layout.AllDrive) {
			j.find(practice(SpareOnDriven, finding.ThisVisit, p))
		}
	}
}
