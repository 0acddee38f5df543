package judge_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/order"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/verdict"
	"gaugebook.dev/calc/visit"

	"gaugebook.dev/server/translate"
)

// From doubt come only a hold, no air, a look, a measurement, a question: what buys,
// moves, scraps, repairs or sets rests, at each of its wheels, on something proved
// (our own decision).
func TestFromDoubtComesNoWork(t *testing.T) {
	everyVerdict(t, func(fail func(string, ...any), v visit.Visit, out verdict.Verdict) {
		for _, f := range out.Findings {
			if f.Certainty() == finding.MayApply && f.Urgency == finding.BeforeDriving {
				fail("%s: a law that may apply holds the vehicle", f)
			}
		}
		for _, w := range out.Work {
			for _, p := range w.Positions {
				switch {
				case finding.WorkOf(w.Code).Needs == finding.NeedsProof && w.Condition == "" && !calledFor(out, w, p):
					fail("%s at %s: nothing proved calls for it", w.Code, p)
				case movesTires(w.Code) && w.Code != finding.WorkWheelsSwapSides && !p.Spare && !depthRead(v, p):
					fail("%s moves %s, of which no depth was read", w.Code, p)
				}
			}
		}
	})
}

// calledFor tells that something proved calls for a line at a wheel, or at the vehicle.
// What moves tires is called for by the new pair that some of them make room for.
func calledFor(out verdict.Verdict, w order.Work, p layout.Position) bool {
	if movesTires(w.Code) {
		return true // where what comes to the place is read: see the caller
	}
	return slices.ContainsFunc(out.Findings, func(f finding.Finding) bool {
		atLimit := f.Certainty() == finding.Undecided && f.Margin.Number <= 0 && w.Code == finding.WorkTiresReplacePair
		return (f.Certainty() == finding.Proved || atLimit) && f.Urgency != finding.Note && (len(f.Positions) == 0 || slices.Contains(f.Positions, p))
	}) || w.Code == finding.WorkTiresReplacePair && winterBinds(out, p.Mirror()) || slices.Contains([]finding.Work{finding.WorkAirSet, finding.WorkAirMatchMates, finding.WorkValveRenew}, w.Code) && follows(out, p)
}

// follows tells that a tire comes off its wheel, is let down, or moves, and is set after it.
func follows(out verdict.Verdict, p layout.Position) bool {
	return slices.ContainsFunc(out.Work, func(w order.Work) bool {
		return (finding.WorkOf(w.Code).Dismounts || w.Code == finding.WorkAirDeflateFirst || movesTires(w.Code)) && slices.Contains(w.Positions, p)
	})
}

func movesTires(code finding.Work) bool {
	switch code {
	case finding.WorkTiresDeeperPairToRear, finding.WorkTiresRotate, finding.WorkWheelsSwapSides:
		return true
	}
	return false
}

func depthRead(v visit.Visit, p layout.Position) bool {
	return slices.ContainsFunc(v.Wheels, func(w visit.Wheel) bool { return w.Position == p && len(w.Depths) > 0 })
}

// A sound tire is never listed as scrap, nor replaced because its mate is worn: whether
// one or two is a choice (our own decision).
func TestSoundMatesStay(t *testing.T) {
	everyVerdict(t, func(fail func(string, ...any), v visit.Visit, out verdict.Verdict) {
		for _, w := range out.Work {
			if !slices.Contains([]finding.Work{finding.WorkTireReplace, finding.WorkTiresReplacePair, finding.WorkRecordScrap}, w.Code) {
				continue
			}
			for _, p := range w.Positions {
				if w.Code == finding.WorkTiresReplacePair && (winterBinds(out, p.Mirror()) || pairLawBinds(v, out, p.Mirror())) {
					continue // a law on winter tires, or on the tires of one axle, asks for both
				}
				if !slices.ContainsFunc(out.Findings, func(f finding.Finding) bool {
					atLimit := f.Certainty() == finding.Undecided && f.Margin.Number <= 0
					return (f.Certainty() == finding.Proved || atLimit) && f.Urgency < finding.Plan && slices.Contains(f.Positions, p)
				}) {
					fail("%s at %s, at which nothing is wrong", w.Code, p)
				}
			}
		}
	})
}

// winterBinds tells that a tire is under the least depth of a law on winter tires.
func winterBinds(out verdict.Verdict, p layout.Position) bool {
	return slices.ContainsFunc(out.Findings, func(f finding.Finding) bool {
		return f.Code == finding.TreadWinterMinimum && f.Certainty() == finding.Proved && slices.Contains(f.Positions, p)
	})
}

// pairLawBinds tells that a law may bind by which the tires of an axle are alike in depth,
// and that it is known how deep a tire is new.
func pairLawBinds(v visit.Visit, out verdict.Verdict, p layout.Position) bool {
	binds := slices.ContainsFunc(out.Books, func(b rulebook.Applied) bool {
		return b.ID != "advice" && slices.ContainsFunc(b.About(rulebook.DepthDifference), func(l rulebook.Limit) bool { return !b.For(l).Candidate })
	})
	return binds && slices.ContainsFunc(v.Wheels, func(w visit.Wheel) bool { return w.Position == p && len(w.Tire.New) > 0 })
}

// everyVerdict judges drawn visits, those of the corpus and of the cases.
func everyVerdict(t *testing.T, holds func(fail func(string, ...any), v visit.Visit, out verdict.Verdict)) {
	t.Helper()
	for _, req := range everyVisit(t) {
		v := translate.Visit(req)
		holds(func(format string, args ...any) {
			t.Helper()
			t.Errorf(format+"\n%s", append(args, shownJSON(req))...)
		}, v, verdict.Judge(v))
	}
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		v := translate.Visit(req)
		holds(func(format string, args ...any) {
			t.Helper()
			t.Fatalf(format+"\n%s", append(args, shownJSON(req))...)
		}, v, verdict.Judge(v))
	})
}
