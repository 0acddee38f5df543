package finding

import (
	"cmp"
	"math"
	"slices"

	"gaugebook.dev/calc/measure"
)

// OneOfSeveral makes one finding of those that several laws say of the same wheels, none
// of which is known to bind: the strictest of them, with the others named beside it.
func OneOfSeveral(fs []Finding) []Finding {
	if !slices.ContainsFunc(fs, mayApply) {
		return fs
	}
	all := make([]Finding, 0, len(fs))
	for _, f := range fs {
		i := slices.IndexFunc(all, func(g Finding) bool { return mayApply(f) && mayApply(g) && SameMatter(f, g) })
		if i < 0 {
			all = append(all, f)
			continue
		}
		strict, other := all[i], f
		if stricter(other, strict) {
			strict, other = other, strict
		}
		strict.Others = slices.Concat(strict.Others, other.Others, []Rule{other.Rule})
		slices.SortFunc(strict.Others, func(a, b Rule) int { return cmp.Compare(a.ID, b.ID) })
		strict.Others = slices.Compact(strict.Others)
		all[i] = strict
	}
	return all
}

// mayApply tells that a finding is by a law that may bind the vehicle. Rules on repair
// stay each by itself: the answer on a repair stands on them.
func mayApply(f Finding) bool {
	return f.Candidate && f.Rule.ID != "" && KindOf(f.Code).Again != AgainHole
}

// SameMatter tells that two findings say of the same wheels the same.
func SameMatter(f, g Finding) bool {
	return f.Code == g.Code && f.Place.Part == g.Place.Part && slices.Equal(f.Positions, g.Positions)
}

// stricter tells that a finding asks for more than another on the same matter: it is more
// urgent, or is decided where the other is open, or its limit is farther from what was
// measured. Equal findings go by their ids.
func stricter(f, g Finding) bool {
	return cmp.Or(cmp.Compare(f.Urgency, g.Urgency), cmp.Compare(certain(f), certain(g)), -cmp.Compare(asks(f), asks(g)), -farther(f, g), cmp.Compare(f.Rule.ID, g.Rule.ID)) < 0
}

// farther compares how far two limits lie from what was measured in one unit: shares of
// limits are all one where nothing was left to measure.
func farther(f, g Finding) int {
	there, ok := f.Margin.To(g.Margin.Unit)
	if !ok {
		return 0
	}
	return cmp.Compare(math.Abs(there.Number), math.Abs(g.Margin.Number))
}

// asks is how far what was measured lies on the wrong side of its limit, as a share of
// the limit: in whatever unit the rule is written.
func asks(f Finding) float64 {
	if f.Limit.Number == 0 {
		return 0
	}
	share := f.Measured.Number / f.Limit.Number
	if f.Outcome == measure.Above {
		return share - 1
	}
	return 1 - share
}

func certain(f Finding) int {
	if f.Outcome == measure.CannotTell {
		return 1
	}
	return 0
}
