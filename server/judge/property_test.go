package judge_test

import (
	"bytes"
	"cmp"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"pgregory.net/rapid"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
)

// By themselves the tests try equal visits. `make test` gives a seed of the commit and
// prints it; -rapid.seed and -rapid.checks try others and more of them, as `make soak`
// does.
func init() {
	for name, value := range map[string]string{"rapid.seed": "27", "rapid.checks": "50", "rapid.nofailfile": "true"} {
		if err := flag.Set(name, value); err != nil {
			panic(err)
		}
	}
}

const (
	beforeDriving = pb.Urgency_URGENCY_BEFORE_DRIVING
	thisVisit     = pb.Urgency_URGENCY_THIS_VISIT
	planned       = pb.Urgency_URGENCY_PLAN
	noted         = pb.Urgency_URGENCY_NOTE
	unsaid        = noted + 1
)

// judged judges a visit that has to pass check.
func judged(t *rapid.T, req *pb.AssessVisitRequest) *pb.Assessment {
	t.Helper()
	for _, p := range check.AssessVisit(req) {
		t.Fatalf("cannot be judged: %v\n%s", p, shownJSON(req))
	}
	return judge.Visit(req)
}

// changes is a source of changes that shrinks with the visit.
func changes(t *rapid.T) *rand.Rand {
	return rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "change"), 1))
}

func TestEqualInEqualOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		before, first := proto.Clone(req), wire(judged(t, req))
		var others [4][]byte
		var wait sync.WaitGroup
		for i := range others {
			wait.Go(func() { others[i] = wire(judge.Visit(req)) })
		}
		wait.Wait()
		for _, o := range others {
			if !bytes.Equal(first, o) {
				t.Fatalf("judged twice, two answers\n%s", shownJSON(req))
			}
		}
		if !proto.Equal(before, req) {
			t.Fatalf("judging changed the visit\n%s", shownJSON(before))
		}
	})
}

// Nor does it in any visit that is kept here, whose answers hold what chance hardly draws.
func TestOrderChangesNothingKept(t *testing.T) {
	kinds := map[pb.Hold]int{}
	for _, req := range everyVisit(t) {
		a := judge.Visit(req)
		kinds[a.GetHeadline().GetHold()]++
		for i := range uint64(3) {
			if b := judge.Visit(shuffled(req, rand.New(rand.NewPCG(i, 1)))); !proto.Equal(a, b) {
				t.Errorf("told in another order:\n%s\n%s", firstDifference(a, b), shownJSON(req))
				break
			}
		}
	}
	for _, h := range []pb.Hold{pb.Hold_HOLD_DO_NOT_MOVE, pb.Hold_HOLD_OFF_THE_ROAD, pb.Hold_HOLD_CANNOT_TELL, pb.Hold_HOLD_NONE_FOUND} {
		if kinds[h] == 0 {
			t.Errorf("no visit is %v", h)
		}
	}
}

func TestOrderChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		other := shuffled(req, changes(t))
		if a, b := judged(t, req), judged(t, other); !proto.Equal(a, b) {
			t.Fatalf("told in another order:\n%s\n%s", firstDifference(a, b), shownJSON(req))
		}
	})
}

// firstDifference shows the first lines in which two messages differ.
func firstDifference(a, b proto.Message) string {
	as, bs := strings.Split(shownJSON(a), "\n"), strings.Split(shownJSON(b), "\n")
	for i := range as {
		if i >= len(bs) || as[i] != bs[i] {
			from := max(i-25, 0)
			return strings.Join(as[from:min(i+6, len(as))], "\n") + "\n--- not\n" + strings.Join(bs[min(i, len(bs)):min(i+6, len(bs))], "\n")
		}
	}
	return "the second says more"
}

// slip tells that an answer asks about a unit, or about how round a number is in it.
func slip(a *pb.Assessment) bool {
	return slices.ContainsFunc(a.GetFindings(), func(f *pb.Finding) bool {
		return slices.Contains([]string{"doubt.depth-unit", "doubt.pressure-unit", "doubt.label-unit", "doubt.read-or-thumped"}, f.GetCode())
	})
}

// Units change no finding, urgency, comparison or work; numbers agree within
// their rounding. A visit within 1e-9 of a limit may fall to either side of it.
func TestUnitsChangeNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		other := inOtherUnits(req, changes(t))
		a, b := judged(t, req), judged(t, other)
		if slip(a) || slip(b) {
			return // a number that is none in its own unit alone
		}
		if x, y := workOf(a), workOf(b); !slices.Equal(x, y) || !slices.Equal(codesInOrder(a), codesInOrder(b)) {
			t.Fatalf("in other units the work differs:\n%s\n%s\n%s", strings.Join(onlyIn(x, y), "\n"), shownJSON(req), shownJSON(other))
		}
		a.Work, b.Work, a.Totals.Work, b.Totals.Work = nil, nil, 0, 0
		worstUntold(a)
		worstUntold(b)
		firstUntold(a) // a target rounds as those of the lines of work
		firstUntold(b)
		bareA, numbersA := withoutNumbers(a)
		bareB, numbersB := withoutNumbers(b)
		if !proto.Equal(bareA, bareB) {
			t.Fatalf("in other units:\n%s\n%s\n%s", firstDifference(bareA, bareB), shownJSON(req), shownJSON(other))
		}
		if path, ok := alike(numbersA, numbersB); !ok {
			t.Fatalf("in other units another number at %s\n%s\n%s", path, shownJSON(req), shownJSON(other))
		}
	})
}

// worstUntold takes out the amounts of a headline, and which wheels they are of: of two
// that read nearly alike, rounding decides, and that depends on the unit. The findings have
// them, too.
func worstUntold(a *pb.Assessment) {
	for _, f := range a.GetHeadline().GetFacts() {
		f.Values = slices.DeleteFunc(f.Values, func(v *pb.Argument) bool { return v.GetName() != finding.ValueAt })
	}
}

// firstUntold leaves of the first thing to do what it is.
func firstUntold(a *pb.Assessment) {
	if first := a.GetHeadline().GetFirst(); first != nil {
		first.Values = nil
	}
}

// workOf lists the order of work, each line once for each wheel. Wheels whose
// targets are equal share a line and its urgency; so do those whose targets round
// alike, which depends on the unit.
func workOf(a *pb.Assessment) []string {
	var all []string
	for _, w := range a.GetWork() {
		urgency := w.Urgency
		if w.Target.GetPressure() != nil {
			urgency = 0
		}
		for _, at := range append(slices.Clone(w.Positions), "") {
			all = append(all, fmt.Sprintf("%02d %s %s %t %s", w.Step, w.Code, at, w.Condition != nil, urgency))
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// onlyIn lists what only one of two lists has, with the one it is in.
func onlyIn(x, y []string) (differences []string) {
	for i, pair := range [2][2][]string{{x, y}, {y, x}} {
		for _, s := range pair[0] {
			if !slices.Contains(pair[1], s) {
				differences = append(differences, fmt.Sprintf("only in the %s: %s", [2]string{"first", "second"}[i], s))
			}
		}
	}
	return differences
}

// codesInOrder is the order of work without its wheels.
func codesInOrder(a *pb.Assessment) []string {
	var all []string
	for _, w := range a.GetWork() {
		all = append(all, w.Code)
	}
	return slices.Compact(all)
}

// Nothing depends yet on the side of the road that traffic keeps to.
func TestMirroredVehicleMirrorsTheAnswer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		a, b := mirrored(readable(judged(t, req))), readable(judged(t, mirrored(req)))
		if x, y := codesInOrder(a), codesInOrder(b); !slices.Equal(x, y) {
			t.Fatalf("mirrored, the work is in another order:\n%v\n%v\n%s", x, y, shownJSON(req))
		}
		firstUntold(a) // of lines alike that of the first wheel comes first
		firstUntold(b)
		if a, b = withoutOrder(a), withoutOrder(b); !proto.Equal(a, b) {
			t.Fatalf("mirrored:\n%s\n%s", firstDifference(a, b), shownJSON(req))
		}
	})
}

// findingsAt lists the findings about one wheel alone.
func findingsAt(a *pb.Assessment, at string, codes ...string) (fs []*pb.Finding) {
	for _, f := range a.GetFindings() {
		if slices.Equal(f.Positions, []string{at}) && (len(codes) == 0 || slices.Contains(codes, f.Code)) {
			fs = append(fs, f)
		}
	}
	return fs
}

func byID(a *pb.Assessment, id string) *pb.Finding {
	for _, f := range a.GetFindings() {
		if f.Id == id {
			return f
		}
	}
	return nil
}

// byItsRules is the finding on the same matter by all the rules of another; nil without
// one. Which of several rules that may bind stands first depends on what was measured.
func byItsRules(a *pb.Assessment, f *pb.Finding) *pb.Finding {
	for _, g := range a.GetFindings() {
		if g.Code == f.Code && slices.Equal(g.Positions, f.Positions) && !slices.ContainsFunc(byRule(f), func(by string) bool { return !slices.Contains(byRule(g), by) }) {
			return g
		}
	}
	return nil
}

// wheelWhere draws a wheel of the visit; nil when none will do.
func wheelWhere(t *rapid.T, req *pb.AssessVisitRequest, will func(*pb.WheelReport) bool) *pb.WheelReport {
	var fit []*pb.WheelReport
	for _, w := range req.GetInspection().GetWheels() {
		if will(w) {
			fit = append(fit, w)
		}
	}
	if len(fit) == 0 {
		return nil
	}
	return rapid.SampledFrom(fit).Draw(t, "wheel")
}

// changed is a visit with one wheel of its own to be changed.
func changed(req *pb.AssessVisitRequest, at string) (*pb.AssessVisitRequest, *pb.WheelReport) {
	out := proto.Clone(req).(*pb.AssessVisitRequest)
	for _, w := range out.GetInspection().GetWheels() {
		if w.Position == at {
			return out, w
		}
	}
	panic("no wheel " + at)
}

// For one tire, less tread never improves its condition or its legal status.
// Between tires it may: wearing the deeper one removes a mismatch.
func TestLessTreadIsNeverBetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		w := wheelWhere(t, req, func(w *pb.WheelReport) bool { return len(w.Tread) > 0 })
		if w == nil {
			return
		}
		worn, own := changed(req, w.Position)
		for _, r := range own.Tread {
			less := rapid.IntRange(0, 4).Draw(t, "less")
			if r.Phase == pb.Phase_PHASE_AS_LEFT {
				continue
			}
			switch n := r.Depth.AsRead.(type) {
			case *pb.Depth_ThirtySecondsInch:
				n.ThirtySecondsInch = decimal(max(n.ThirtySecondsInch-float64(less)/2, 0))
			case *pb.Depth_Millimeters:
				n.Millimeters = decimal(max(n.Millimeters-float64(less)/2, 0))
			}
		}
		before, after := judged(t, req), judged(t, worn)
		for _, f := range findingsAt(before, w.Position, "tread.worn-to-bars", "tread.legal-limit", "tread.model-limit") {
			doubts := len(findingsAt(before, w.Position, "doubt.depth-unit")) - len(findingsAt(after, w.Position, "doubt.depth-unit"))
			switch g := byItsRules(after, f); {
			case g == nil && doubts > 0 && (f.Comparison != pb.Comparison_COMPARISON_BELOW || len(findingsAt(after, w.Position, f.Code)) > 0):
				// what a depth unlike the rest left open is decided now that it is like them, as by a
				// law that counts the places; of several laws that law leaves the entry
			case g == nil:
				t.Fatalf("with less tread %s is gone\n%s\n%s", idOf(f), shownJSON(req), shownJSON(own))
			case g.Urgency > f.Urgency:
				t.Fatalf("with less tread %s is less urgent\n%s\n%s", idOf(f), shownJSON(req), shownJSON(own))
			case doubts < 0:
				// a depth that is unlike the rest only now proves nothing until it is read again
			case f.Comparison == pb.Comparison_COMPARISON_BELOW && g.Comparison != f.Comparison:
				t.Fatalf("with less tread %s is no longer below\n%s\n%s", idOf(f), shownJSON(req), shownJSON(own))
			}
		}
	})
}

// lowness orders what may be said of one tire's pressure, at its label or below:
// the worst of it counts. Whether many tires are down alike decides between a
// leak to find and a tire to fill, so those two are equal.
var lowness = map[string]int{
	"inflation.below-label":         1,
	"inflation.low":                 2,
	"inflation.label-while-warm":    2,
	"inflation.find-leak":           2,
	"inflation.no-air-on-vehicle":   2,
	"inflation.run-low-undecided":   3,
	"inflation.run-low":             4,
	"inflation.flat":                5,
	"inflation.at-lamp-threshold":   0,
	"inflation.check-cold":          0,
	"inflation.audible-leak":        0,
	"inflation.warm-above-sidewall": 0,
}

func lownessOf(a *pb.Assessment, at string) (worst int, urgency pb.Urgency) {
	urgency = unsaid
	for _, f := range findingsAt(a, at) {
		if strings.HasPrefix(f.Code, "inflation.") && !strings.Contains(f.Code, "above") {
			worst, urgency = max(worst, lowness[f.Code]), min(urgency, f.Urgency)
		}
	}
	return worst, urgency
}

// unitDoubted tells that a pressure was probably typed in another unit: it is judged by
// nothing else.
func unitDoubted(a *pb.Assessment, at string) bool {
	return slices.ContainsFunc(findingsAt(a, at), func(f *pb.Finding) bool {
		return f.GetCode() == "doubt.pressure-unit" && f.GetUrgency() == beforeDriving
	})
}

// For one tire, a pressure further below its label is never better. Above the
// label it may be: less is then nearer to it.
func TestLessPressureIsNeverBetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		w := wheelWhere(t, req, func(w *pb.WheelReport) bool { return len(w.Pressures) > 0 })
		if w == nil {
			return
		}
		label := 0.0
		for _, s := range judged(t, req).GetWheels() {
			if s.Position == w.Position && s.LabelCold != nil {
				label = inBase(s.LabelCold.ProtoReflect())
			}
		}
		if label == 0 {
			return
		}
		at := func(share float64) *pb.Assessment {
			v, own := changed(req, w.Position)
			for _, r := range own.Pressures {
				if r.Phase != pb.Phase_PHASE_AS_LEFT {
					r.Pressure = &pb.Pressure{AsRead: &pb.Pressure_Kilopascals{Kilopascals: label * share}}
				}
			}
			return judged(t, v)
		}
		high := float64(rapid.IntRange(0, 1000).Draw(t, "high")) / 1000
		low := high * float64(rapid.IntRange(0, 1000).Draw(t, "low")) / 1000
		upper, lower := at(high), at(low)
		worst, urgency := lownessOf(upper, w.Position)
		worse, sooner := lownessOf(lower, w.Position)
		if unitDoubted(lower, w.Position) { // not judged, and held until it is read again
			if lower.GetHeadline().GetHold() == pb.Hold_HOLD_NONE_FOUND {
				t.Fatalf("%s: a pressure in doubt holds nothing\n%s", w.Position, shownJSON(req))
			}
			return
		}
		if unitDoubted(upper, w.Position) {
			return
		}
		if worse < worst || sooner > urgency {
			t.Fatalf("%s: at %v of the label %d, %v; at %v %d, %v\n%s", w.Position, high, worst, urgency, low, worse, sooner, shownJSON(req))
		}
	})
}

// stays tells that what was to be done before driving is still said: by the same
// code at the same wheels, by a worse answer to the same question, or, of a tire
// that carried its mate's load, by what it is found to be itself.
func stays(f *pb.Finding, after *pb.Assessment) bool {
	return slices.ContainsFunc(after.GetFindings(), func(g *pb.Finding) bool {
		if g.Urgency != beforeDriving {
			return false
		}
		if g.Code == "doubt.pressure-unit" && strings.HasSuffix(f.Code, "mate-carried-load") {
			return true // what its mate carried is not known until that is read again
		}
		if !slices.Equal(f.Positions, g.Positions) {
			return false
		}
		switch {
		case f.Code == g.Code:
			return ruleOf(f).GetId() == ruleOf(g).GetId() || !strings.HasPrefix(f.Code, "tread.")
		case strings.HasSuffix(f.Code, "mate-carried-load"), f.Code == "load.pressure-too-low": // of no air at all nothing is supported
			return g.Code == "inflation.flat" || g.Code == "inflation.run-low"
		case f.Code == "doubt.flat-with-air": // read again, and lower: it is flat
			return family(g) == "inflation"
		case f.Code == "doubt.pressure-unit": // held by what makes the low reading likely
			return family(g) == "inflation" || family(g) == "puncture"
		case g.Code == "doubt.pressure-unit": // held until it is read again
			return family(f) == "inflation"
		}
		return family(f) == "puncture" && family(g) == "puncture"
	})
}

func family(f *pb.Finding) string {
	of, _, _ := strings.Cut(f.Code, ".")
	return of
}

func safetyStays(t *rapid.T, what string, req *pb.AssessVisitRequest, before, after *pb.Assessment, added proto.Message) {
	t.Helper()
	for _, f := range before.GetFindings() {
		if f.Urgency == beforeDriving && !stays(f, after) {
			var now []string
			for _, g := range after.GetFindings() {
				now = append(now, idOf(g))
			}
			t.Fatalf("%s removes %s, leaves %v\n%s\n%s", what, idOf(f), now, shownJSON(added), shownJSON(req))
		}
	}
}

func TestOneMoreObservationRemovesNoSafetyFinding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		w := wheelWhere(t, req, func(*pb.WheelReport) bool { return true })
		more, own := changed(req, w.Position)
		o := (&drawn{T: t, metric: true}).observation()
		own.Observations = slices.Insert(own.Observations, rapid.IntRange(0, len(own.Observations)).Draw(t, "place"), o)
		safetyStays(t, "one more observation", req, judged(t, req), judged(t, more), own)
	})
}

// A repeat with the same gauge or a coarser one removes nothing; only an amendment
// does. A finer one may show that a tire taken for flat holds a little air.
func TestARepeatReadingRemovesNoSafetyFinding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		w := wheelWhere(t, req, func(w *pb.WheelReport) bool { return len(w.Tread)+len(w.Pressures) > 0 })
		if w == nil {
			return
		}
		more, own := changed(req, w.Position)
		if len(own.Tread) > 0 {
			r := proto.Clone(rapid.SampledFrom(own.Tread).Draw(t, "reading")).(*pb.TreadReading)
			r.Repeat = 2
			r.Depth = &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: float64(rapid.IntRange(0, 40).Draw(t, "depth")) / 2}}
			own.Tread = append(own.Tread, r)
		}
		if len(own.Pressures) > 0 {
			r := proto.Clone(own.Pressures[0]).(*pb.PressureReading)
			r.Repeat = 2
			if rapid.Bool().Draw(t, "coarser") {
				r.Gauge = pb.GaugeKind_GAUGE_KIND_INFLATOR
			}
			r.Pressure = &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: float64(rapid.IntRange(0, 120).Draw(t, "pressure"))}}
			own.Pressures = append(own.Pressures, r)
		}
		safetyStays(t, "a repeat reading", req, judged(t, req), judged(t, more), own)
	})
}

// tightened is what makes a limit on a subject tighter: a minimum is raised, a
// maximum lowered. Subjects that only describe a gauge, a way of measuring or a
// method have none.
var tightened = map[rulebook.Subject]float64{
	rulebook.WinterTire: +1, rulebook.WinterAdvised: +1, rulebook.TireAge: -1,
	rulebook.TreadDepth: +1, rulebook.MajorDefect: +1, rulebook.TowingPressure: +1, rulebook.DepthDifference: -1, finding.LawCut: -1,
	rulebook.RunLow: +1, rulebook.AirOnVehicle: +1, rulebook.DualSpread: -1, rulebook.HoleSize: -1, rulebook.LampShare: +1,
}

// families of findings that answer one question about one tire: the worst of
// them is the answer, and takes the place of milder ones.
func familiesOf(f *pb.Finding) []string {
	switch f.Code {
	case "tread.worn-to-bars", "tread.wet-advice", "tread.snow-advice", "tread.winter-advice":
		return []string{"condition of the tread"}
	case "tread.winter-minimum", "tread.winter-tire-advice", "tread.legal-limit", "tread.major-defect", "tread.model-limit", "tread.roadside-limit", "tread.axle-difference-limit":
		return byRule(f)
	case "damage.cut-limit":
		return byRule(f)
	}
	if of := family(f); of == "inflation" || of == "puncture" {
		return []string{of}
	}
	return []string{f.Code}
}

// byRule is what each of the rules says that a finding was judged by: which of several
// that may bind is the strictest, and stands first, depends on their limits.
func byRule(f *pb.Finding) []string {
	all := []string{}
	for _, r := range f.GetRules() {
		all = append(all, f.GetCode()+" by "+r.GetId())
	}
	return all
}

// A tighter rulebook never finds less: what was found of a wheel stays found, by
// the same rule where a limit is compared, and is never less urgent.
func TestATighterRulebookNeverFindsLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		before := judged(t, req)
		var limits []*rulebook.Limit
		for _, b := range rulebook.All() {
			for i := range b.Limits {
				if l := &b.Limits[i]; tightened[l.Subject] != 0 && !l.Value.IsZero() {
					limits = append(limits, l)
				}
			}
		}
		l := rapid.SampledFrom(limits).Draw(t, "limit")
		was := l.Value
		defer func() { l.Value = was }()
		by := float64(rapid.IntRange(1, 6).Draw(t, "tenths")) / 10
		l.Value.Number = decimal(was.Number * (1 + tightened[l.Subject]*by))
		if l.Value.Unit == unit.Percent {
			l.Value.Number = min(l.Value.Number, 100)
		}
		after := judge.Visit(req)
		said := map[string]pb.Urgency{}
		for _, f := range after.GetFindings() {
			for _, at := range append(slices.Clone(f.Positions), "") {
				for _, family := range familiesOf(f) {
					key := family + " at " + at
					if u, ok := said[key]; !ok || f.Urgency < u {
						said[key] = f.Urgency
					}
				}
			}
		}
		for _, f := range before.GetFindings() {
			for _, at := range f.Positions {
				for _, family := range familiesOf(f) {
					if u, ok := said[family+" at "+at]; !ok || u > f.Urgency {
						t.Fatalf("%s, tightened from %v to %v, finds less: %s at %s\n%s", l.ID, was, l.Value, family, at, shownJSON(req))
					}
				}
			}
		}
	})
}

func TestNotLookedAtRemovesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		w := wheelWhere(t, req, func(*pb.WheelReport) bool { return true })
		more, own := changed(req, w.Position)
		var silent []pb.LookedAt
		for what := pb.LookedAt_LOOKED_AT_TREAD_FULL_TURN; what <= pb.LookedAt_LOOKED_AT_VALVE; what++ {
			if !slices.ContainsFunc(w.Looked, func(l *pb.Looked) bool { return l.What == what }) {
				silent = append(silent, what)
			}
		}
		if len(silent) == 0 {
			return
		}
		l := &pb.Looked{What: rapid.SampledFrom(silent).Draw(t, "what"), Looked: &pb.Looked_NotBecause{NotBecause: pb.NotLookedReason(rapid.IntRange(1, 6).Draw(t, "why"))}}
		own.Looked = append(own.Looked, l)
		before, after := judged(t, req), judged(t, more)
		for _, f := range before.GetFindings() {
			if g := byID(after, f.Id); !proto.Equal(f, g) {
				t.Fatalf("%v changes %s\n%s", l, f.Id, shownJSON(req))
			}
		}
		for _, c := range after.GetNothingFound() {
			if !slices.ContainsFunc(before.GetNothingFound(), func(o *pb.Checked) bool { return proto.Equal(o, c) }) {
				t.Fatalf("%v adds that nothing was found: %v\n%s", l, c, shownJSON(req))
			}
		}
		for _, s := range after.GetWheels() {
			i := slices.IndexFunc(before.GetWheels(), func(o *pb.WheelSummary) bool { return o.Position == s.Position })
			if s.Coverage == nil && before.Wheels[i].Coverage != nil {
				t.Fatalf("%v makes %s fully looked at\n%s", l, s.Position, shownJSON(req))
			}
		}
	})
}

// Nobody is told to let air out of a warm tire, or to set one below its label.
func TestAir(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		a := judged(t, req)
		wheels := map[string]*pb.WheelSummary{}
		for _, s := range a.GetWheels() {
			wheels[s.Position] = s
		}
		o := &anOrder{work: a.GetWork()}
		for _, w := range a.GetWork() {
			for _, at := range w.Positions {
				s := wheels[at]
				if w.Code == "air.set" && len(o.at(at, "spare.put-back")) > 0 {
					continue // the road tire that comes back has another label than the spare on it
				}
				if w.Code == "air.lower-cold" && !readCold(a, at) && !readCold(a, mateOf(at)) { // a pair was driven alike and is set alike
					t.Fatalf("%s is let down, and was not read cold\n%s", at, shownJSON(req))
				}
				if !strings.HasPrefix(w.Code, "air.") || w.Target.GetPressure() == nil || s.GetLabelCold() == nil {
					continue
				}
				target, label := inBase(w.Target.GetPressure().ProtoReflect()), inBase(s.LabelCold.ProtoReflect())
				if label-target > 0.2 { // kPa: what rounding to a tenth of a psi can do
					t.Fatalf("%s: %s to %v, below the label, %v\n%s", at, w.Code, w.Target, s.LabelCold, shownJSON(req))
				}
			}
		}
	})
}

// mateOf is the other position of a dual pair, of any other none.
func mateOf(at string) string {
	if p, err := layout.Parse(at); err == nil && p.Dual != layout.Single {
		return p.Mate().String()
	}
	return ""
}

// readCold tells that what is said of a wheel's pressure rests on a cold reading.
func readCold(a *pb.Assessment, at string) bool {
	cold := false
	for _, f := range findingsAt(a, at) {
		for _, e := range f.Evidence {
			switch {
			case e.Code == "inflation.basis-cold":
				cold = true
			case strings.HasPrefix(e.Code, "inflation.basis-"):
				return false
			}
		}
	}
	return cold
}

// textsOf lists every text of an assessment.
func textsOf(a *pb.Assessment) (all []string) {
	eachMessage(a.ProtoReflect(), func(m protoreflect.Message) bool {
		m.Range(func(fd protoreflect.FieldDescriptor, v protoreflect.Value) bool {
			switch {
			case fd.Kind() != protoreflect.StringKind:
			case fd.IsList():
				for i := range v.List().Len() {
					all = append(all, v.List().Get(i).String())
				}
			default:
				all = append(all, v.String())
			}
			return true
		})
		return true
	})
	return all
}

var neverSaid = regexp.MustCompile(`(?i)illegal|unsafe|expired|refused|at your own risk`)

// dangerous are the findings that, before driving, need a caution.
var dangerous = regexp.MustCompile(`^(damage|wheel|fastener|dual|chassis)\.|^inflation\.(run-low|flat|audible-leak|dual-mate|tandem-mate)|^puncture\.(run-low|structure|bead|zipper)`)

// seen are the findings that stand on what was seen, whatever rule is cited: one
// that only may apply makes them no milder.
var seen = regexp.MustCompile(`^(damage|wheel|fastener|dual|chassis|puncture)\.|^inflation\.(flat|audible-leak)$`)

// TestEveryAnswerIsWhole holds each part of every answer to what its message
// promises.
func TestEveryAnswerIsWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		a := inWords(req, &pb.Reader{CustomerLanguage: "en"})
		fail := func(format string, args ...any) {
			t.Helper()
			t.Fatalf(format+"\n%s", append(args, shownJSON(req))...)
		}
		for _, text := range textsOf(a) {
			if said := neverSaid.FindString(text); said != "" && strings.Contains(text, " ") { // a code is not said
				fail("an answer says %q: %s", said, text)
			}
			if strings.ContainsAny(text, "{}") {
				fail("an answer has a hole: %s", text)
			}
		}
		ids := map[string]bool{}
		for _, f := range a.GetFindings() {
			findingIsWhole(f, fail)
			if f.GetAsLeft().GetPutRight().GetCode() == string(finding.ClosedMeasured) && f.GetAsLeft().GetMeasured() == nil {
				fail("%s is closed by a reading that is not told", f.Id)
			}
			if ids[f.Id] {
				fail("two findings %s", f.Id)
			}
			ids[f.Id] = true
		}
		for _, w := range a.GetWork() {
			if w.ForTechnician == "" || w.ForCustomer == "" {
				fail("nothing is said of the work %s", w.Code)
			}
			if w.Id == "" || w.Step == 0 || w.Urgency == 0 {
				fail("work without an id, a step or an urgency: %v", w)
			}
			saidIsWhole("the condition of "+w.Code, w.Condition, fail)
			saidIsWhole("what settles "+w.Code, w.ToSettle, fail)
			for _, id := range w.FindingIds {
				if !ids[id] {
					fail("%s answers %s, which was not found", w.Code, id)
				}
			}
		}
		for _, r := range a.GetRepairs() {
			repairIsWhole(req, r, ids, fail)
		}
		for _, c := range a.GetCautions() {
			saidIsWhole("a caution", c, fail)
		}
		cautionsAreTold(a, fail)
		for _, u := range a.GetQuestions() {
			if u.Words == "" || u.WouldAllow == "" {
				fail("the question %s has no words", u.Code)
			}
		}
		for _, n := range a.GetNotLookedAt() {
			if n.Words == "" {
				fail("not looked at: %v", n)
			}
		}
		for _, n := range a.GetNotJudged() {
			if n.Words == "" {
				fail("not judged, without words: %v", n)
			}
		}
		for _, c := range a.GetNothingFound() {
			if c.Words == "" {
				fail("nothing found, without words: %v", c)
			}
		}
		inOrderStated(a, fail)
	})
}

// saidIsWhole: what is said has a code and words.
func saidIsWhole(what string, s *pb.Said, fail func(string, ...any)) {
	if s != nil && (s.Code == "" || s.Words == "") {
		fail("%s is not told: %v", what, s)
	}
}

// cautionsAreTold: each caution that something names is told once, and no other.
func cautionsAreTold(a *pb.Assessment, fail func(string, ...any)) {
	named := map[string]bool{}
	for _, f := range a.GetFindings() {
		named[f.Caution] = true
	}
	for _, w := range a.GetWork() {
		named[w.Caution] = true
	}
	delete(named, "")
	for _, c := range a.GetCautions() {
		if !named[c.Code] {
			fail("the caution %s is told twice, or of nothing", c.Code)
		}
		delete(named, c.Code)
	}
	if len(named) > 0 {
		fail("cautions that are not told: %v", named)
	}
}

func findingIsWhole(f *pb.Finding, fail func(string, ...any)) {
	rule := ruleOf(f)
	saidIsWhole("what settles "+f.Id, f.ToSettle, fail)
	saidIsWhole("what put right "+f.Id, f.GetAsLeft().GetPutRight(), fail)
	switch {
	case f.Urgency < beforeDriving || f.Urgency > noted:
		fail("%s has no urgency", f.Id)
	case f.ForTechnician == "" || f.ForCustomer == "":
		fail("nothing is said of %s", f.Id)
	case rule == nil && len(f.Evidence) == 0:
		fail("%s has neither rule nor evidence", f.Id)
	case rule != nil && (rule.GetCitation().GetWords() == "" || rule.Authority == 0 || rule.HowKnown == 0):
		fail("%s: a rule that does not say whose it is: %v", f.Id, rule)
	case f.Urgency == beforeDriving && dangerous.MatchString(f.Code) && f.Caution == "":
		fail("%s has no caution", f.Id)
	case f.Comparison == pb.Comparison_COMPARISON_CANNOT_TELL && rule.GetAuthority() == pb.Authority_AUTHORITY_LAW_IN_USE && f.ToSettle == nil:
		fail("%s does not say what would settle it", f.Id)
	case rule.GetCandidate() && f.Urgency == beforeDriving && !seen.MatchString(f.Code):
		fail("%s holds the vehicle by a rule that only may apply", f.Id)
	}
	for _, e := range f.Evidence {
		if e.Words == "" {
			fail("%s: the evidence %s has no words", f.Id, e.Code)
		}
	}
}

// Nobody says repairable before the inside was seen.
func repairIsWhole(req *pb.AssessVisitRequest, r *pb.RepairAnswer, ids map[string]bool, fail func(string, ...any)) {
	for _, id := range r.FindingIds {
		if !ids[id] {
			fail("the answer for %s stands on %s, which was not found", r.Position, id)
		}
	}
	if r.Repairability == 0 {
		fail("%s: no answer whether it may be repaired", r.Position)
	}
	if r.Repairability != pb.Repairability_REPAIRABILITY_REPAIRABLE {
		return
	}
	_, w := changed(req, r.Position)
	if !slices.ContainsFunc(w.Looked, func(l *pb.Looked) bool {
		return l.What == pb.LookedAt_LOOKED_AT_INSIDE_OF_TIRE && l.GetSeen()
	}) {
		fail("%s is called repairable, and its inside was not seen", r.Position)
	}
	if r.Method == 0 {
		fail("%s is called repairable by no method", r.Position)
	}
}

// inOrderStated checks the order of each list as the contract states it.
func inOrderStated(a *pb.Assessment, fail func(string, ...any)) {
	compare := func(a, b []string) int {
		return slices.CompareFunc(a, b, func(x, y string) int { return parsed(x).Compare(parsed(y)) })
	}
	if !slices.IsSortedFunc(a.GetFindings(), func(f, g *pb.Finding) int {
		return cmp.Or(cmp.Compare(f.Urgency, g.Urgency), compare(f.Positions, g.Positions), cmp.Compare(f.GetCauseRank(), g.GetCauseRank()),
			cmp.Compare(f.Code, g.Code), cmp.Compare(ruleOf(f).GetId(), ruleOf(g).GetId()))
	}) {
		fail("the findings are not in their order")
	}
	if !slices.IsSortedFunc(a.GetWork(), func(v, w *pb.WorkItem) int { return cmp.Compare(v.Step, w.Step) }) {
		fail("the work is not in its order")
	}
	if !slices.IsSortedFunc(a.GetWheels(), func(v, w *pb.WheelSummary) int { return parsed(v.Position).Compare(parsed(w.Position)) }) {
		fail("the wheels are not in their order")
	}
	if !slices.IsSorted(a.GetBasis().GetRulebooks()) {
		fail("the rulebooks are not in their order: %v", a.GetBasis().GetRulebooks())
	}
	all := [][]string{}
	for _, f := range a.GetFindings() {
		all = append(all, f.Positions)
	}
	for _, w := range a.GetWork() {
		all = append(all, w.Positions)
	}
	for _, c := range a.GetNothingFound() {
		all = append(all, c.Positions)
	}
	for _, n := range a.GetNotLookedAt() {
		all = append(all, n.Positions)
	}
	for _, n := range a.GetNotJudged() {
		all = append(all, n.Positions)
	}
	for _, u := range a.GetQuestions() {
		all = append(all, u.Positions)
	}
	for _, at := range all {
		if !slices.IsSortedFunc(at, func(x, y string) int { return parsed(x).Compare(parsed(y)) }) || len(slices.Compact(slices.Clone(at))) != len(at) {
			fail("positions out of order, or twice: %v", at)
		}
	}
}

func parsed(position string) layout.Position { return layout.MustParse(position) }

// TestNumbersAreRounded: a derived number leaves at the resolution of its unit. A
// torque is the vehicle maker's, and evidence may be a reading: both stay as told.
func TestNumbersAreRounded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		_, numbers := withoutNumbers(judged(t, req))
		for _, n := range numbers {
			steps := n.shown / n.step
			switch {
			case math.IsNaN(steps) || math.IsInf(steps, 0):
				t.Fatalf("no number at %s\n%s", n.path, shownJSON(req))
			case strings.HasPrefix(n.path, "findings.evidence.amount"), strings.HasSuffix(n.path, ".torque"):
			case math.Abs(steps-math.Round(steps)) > 1e-6:
				t.Fatalf("%s is %v, finer than %v\n%s", n.path, n.shown, n.step, shownJSON(req))
			}
		}
	})
}

// TestRareVisits are visits that chance hardly draws and that an earlier judgement
// took too lightly.
func TestRareVisits(t *testing.T) {
	truck := `"vehicle": {"vehicleClass": "VEHICLE_CLASS_HEAVY", "grossRating": {"pounds": 30000}, "axles": {"axles": [{"coldNormalLoad": {"psi": 100}}, {"wheels": "AXLE_WHEELS_DUAL", "coldNormalLoad": {"psi": 100}}]}}`
	trailer := `"vehicle": {"vehicleClass": "VEHICLE_CLASS_TRAILER", "axles": {"axles": [{"coldNormalLoad": {"psi": 100}}, {"coldNormalLoad": {"psi": 100}}, {"coldNormalLoad": {"psi": 100}}]}}`
	car := `"vehicle": {"vehicleClass": "VEHICLE_CLASS_PASSENGER_CAR", "axles": {"axles": [{"coldNormalLoad": {"psi": 35}}, {"coldNormalLoad": {"psi": 35}}]}}`
	cold := `"conditions": {"driven": {"drivenHere": "ANSWER_NO"}}`
	for _, row := range []struct{ what, vehicle, wheels, before string }{
		{"the mate of a tire that ran low lost air too, while parked", truck,
			`{"position": "2LI", "pressures": [{"pressure": {"psi": 5}}]}, {"position": "2LO", "pressures": [{"pressure": {"psi": 75}}], "drivenLow": {"driven": "ANSWER_NO"}}`,
			"inflation.dual-mate-carried-load/pressure.run-low-steel:2LO"},
		{"one neighbor of two lost its air while parked, the other ran low", trailer,
			`{"position": "1L", "pressures": [{"pressure": {"psi": 60}}], "drivenLow": {"driven": "ANSWER_NO"}}, {"position": "3L", "pressures": [{"pressure": {"psi": 60}}]}`,
			"inflation.tandem-mate-carried-load/pressure.run-low-steel:2L"},
		{"read again with a coarser gauge", car,
			`{"position": "1L", "pressures": [{"pressure": {"psi": 15}, "gauge": "GAUGE_KIND_DIGITAL"}, {"repeat": 1, "pressure": {"psi": 14.9}, "gauge": "GAUGE_KIND_INFLATOR"}]}`,
			"inflation.run-low/pressure.run-low-fabric:1L"},
	} {
		req := &pb.AssessVisitRequest{}
		if err := protojson.Unmarshal([]byte(`{`+row.vehicle+`, "inspection": {`+cold+`, "wheels": [`+row.wheels+`]}}`), req); err != nil {
			t.Fatalf("%s: %v", row.what, err)
		}
		for _, p := range check.AssessVisit(req) {
			t.Fatalf("%s: %v", row.what, p)
		}
		a := readable(judge.Visit(req))
		if f := byID(a, row.before); f.GetUrgency() != beforeDriving {
			t.Errorf("%s: %s is not to be done before driving: %v", row.what, row.before, a.GetFindings())
		}
	}
}
