package judge_test

import (
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"
	"pgregory.net/rapid"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/judge"
)

// seenAsLeft tells that the visit itself says that something is still there as it left.
func seenAsLeft(req *pb.AssessVisitRequest) bool {
	return slices.ContainsFunc(req.GetInspection().GetWheels(), func(w *pb.WheelReport) bool {
		return slices.ContainsFunc(w.GetObservations(), func(o *pb.Observation) bool { return o.GetPhase() == pb.Phase_PHASE_AS_LEFT })
	})
}

// judgedHere are the visits of classes that are judged.
func judgedHere(t *testing.T) (all []*pb.AssessVisitRequest) {
	for _, req := range everyVisit(t) {
		if c := req.GetVehicle().GetVehicleClass(); c <= pb.VehicleClass_VEHICLE_CLASS_MOTORHOME && !seenAsLeft(req) {
			all = append(all, req)
		}
	}
	return all
}

// Whoever does all that the order of work says, answers what it asks, and writes down what
// it asks for, leaves nothing open before driving or at this visit.
func TestDoItAll(t *testing.T) {
	left := map[string]int{}
	for _, req := range judgedHere(t) {
		open, _, m := doItAll(req, "")
		for _, f := range open {
			if left[f.GetCode()]++; left[f.GetCode()] == 1 {
				t.Errorf("%s %v\n%s", f.GetCode(), f.GetPositions(), shownWork(m.req))
			}
		}
	}
	t.Logf("left %v", left)
}

// pieces are the facts each of which, left out, leaves something open or asked for.
var pieces = []string{"inside:", "under air:", "repair:", "object out:", "tire fitted:", "marks as left:", "torque:", "pressure as left:",
	"seen:", "weighed:", "sealant:", "depth as left:", "SPARE_CARRIER_MENDED:", "SPEED_LABEL_PLACED:"}

// waits tells of a line that it is done only if something proves so.
func waits(w *pb.WorkItem) bool {
	c := w.GetCondition().GetCode()
	return c != "" && c != "when.inside-clean" && c != "when.passed-inside" && c != "when.label-is-read" && c != "when.wheels-changed-place"
}

// toldLeft tells that a visit says by itself what pressure a wheel left with, or that it was off.
func toldLeft(req *pb.AssessVisitRequest, at string) bool {
	return slices.ContainsFunc(req.GetInspection().GetWheels(), func(w *pb.WheelReport) bool {
		return w.GetPosition() == at && (w.GetFastenerWork() != nil || slices.ContainsFunc(w.GetPressures(), func(r *pb.PressureReading) bool { return r.GetPhase() == pb.Phase_PHASE_AS_LEFT }))
	})
}

// A tire that is finished stays found until another is told in its place.
func TestNoOtherTireToldKeepsOpen(t *testing.T) {
	gone := []string{"damage.bulge", "damage.cord-showing", "damage.cut-to-cord", "damage.separation", "damage.cracks-joined", "puncture.not-repairable"}
	tried := 0
	for _, req := range judgedHere(t) {
		asked := &mechanic{req: proto.CloneOf(req)}
		asked.answer()
		for _, f := range judge.Visit(asked.req).GetFindings() {
			if !slices.Contains(gone, f.GetCode()) || f.GetAsLeft() != nil {
				continue
			}
			tried++
			_, after, _ := doItAll(req, "tire fitted:"+f.GetPositions()[0])
			if slices.ContainsFunc(after.GetFindings(), func(g *pb.Finding) bool { return g.GetId() == f.GetId() && g.GetAsLeft() != nil }) {
				t.Errorf("%s %v is closed, and no other tire is told", f.GetCode(), f.GetPositions())
			}
		}
	}
	t.Logf("%d finished tires", tried)
}

// Whoever leaves out one fact that the order asks for leaves something open, or is asked
// for it again.
func TestLeaveOutOnePiece(t *testing.T) {
	lost := map[string]int{}
	tried := 0
	for i, req := range judgedHere(t) {
		if i%3 != 0 {
			continue
		}
		open, done, m := doItAll(req, "")
		if len(open) > 0 || len(m.did) == 0 || slices.ContainsFunc(judge.Visit(req).GetWork(), waits) {
			continue
		}
		asks := func(a *pb.Assessment) (all []string) {
			for _, w := range a.GetWork() {
				for _, p := range append(w.GetPositions(), "") {
					all = append(all, w.GetCode()+" "+p)
				}
			}
			return all
		}
		hurt := func(at string) bool {
			return slices.ContainsFunc(judge.Visit(m.before).GetFindings(), func(f *pb.Finding) bool {
				return f.GetUrgency() <= thisVisit && f.GetAsLeft() == nil && isAbout(f, at)
			})
		}
		for piece := range m.did {
			what, at, _ := strings.Cut(piece, ":")
			if !slices.Contains(pieces, what+":") || !hurt(at) || m.did["tire fitted:"+at] && what != "torque" || m.did["marks as left:"+at] && what == "inside" || toldLeft(req, at) {
				continue // a tire that goes is not cleared; what the visit told before is not left out
			}
			if what == "weighed" && !slices.ContainsFunc(judge.Visit(m.before).GetWork(), func(w *pb.WorkItem) bool { return w.GetCode() == "load.reduce" }) {
				continue // more air carries it as it was weighed
			}
			tried++
			if open, after, _ := doItAll(req, piece); len(open) == 0 && !slices.ContainsFunc(asks(after), func(l string) bool { return !slices.Contains(asks(done), l) }) {
				if lost[what]++; lost[what] == 1 {
					t.Errorf("without %s nothing is open\n%s", piece, shownWork(req))
				}
			}
		}
	}
	t.Logf("%d pieces left out, lost %v", tried, lost)
}

// The same of visits as they may be drawn: what is found can end at its visit. What even a
// gauge good to a hundredth of a millimeter cannot tell, no look ends.
func TestDoItAllDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		if c := req.GetVehicle().GetVehicleClass(); c > pb.VehicleClass_VEHICLE_CLASS_MOTORHOME || seenAsLeft(req) {
			return // not judged here, or told to be so still as it left
		}
		open, _, m := doItAll(req, "")
		for _, f := range open {
			if !m.fine || f.GetToSettle().GetCode() != "settle.finer-gauge" {
				t.Fatalf("%s %v stays open, to settle by %q\n%s%s", f.GetCode(), f.GetPositions(), f.GetToSettle().GetCode(), shownWork(m.req), shownJSON(m.req))
			}
		}
	})
}

// needs are the facts without each of which nothing is closed in that way, at a wheel that
// the finding is about (what closes a finding, and what does not: common practice).
var needs = map[string][]string{
	"closed.repaired":             {"inside", "repair", "pressure as left", "torque"},
	"closed.cleared":              {"inside", "under air", "pressure as left"},
	"closed.leak-mended":          {"pressure as left"},
	"closed.object-out":           {"object out"},
	"closed.other-tire":           {"tire fitted"},
	"closed.fasteners-put-right":  {"torque"},
	"as-left.measured inflation":  {"pressure as left"},
	"as-left.measured tread":      {"depth as left"},
	"as-left.put-right":           {"marks as left"},
	"closed.seen":                 {"seen"},
	"closed.weighed":              {"weighed"},
	"closed.sealant-known":        {"sealant"},
	"closed.spare-carrier-mended": {"SPARE_CARRIER_MENDED"},
	"closed.speed-label-placed":   {"SPEED_LABEL_PLACED"},
}

// isAbout tells that a finding is about a wheel, or one of an axle; "" is the vehicle.
func isAbout(f *pb.Finding, at string) bool {
	return at == "" || slices.ContainsFunc(f.GetPositions(), func(p string) bool { return strings.HasPrefix(p, at) })
}

// A fact that is missing keeps open what it would have closed, of visits as they may be
// drawn, and of facts as they may be forgotten.
func TestAFactMissingKeepsOpen(t *testing.T) {
	tried := 0
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		if c := req.GetVehicle().GetVehicleClass(); c > pb.VehicleClass_VEHICLE_CLASS_MOTORHOME || seenAsLeft(req) {
			return // not judged here, or told to be so still as it left
		}
		_, full, m := doItAll(req, "")
		var facts []string
		for fact := range m.did {
			if what, at, _ := strings.Cut(fact, ":"); slices.Contains(pieces, what+":") && !toldLeft(req, at) {
				facts = append(facts, fact)
			}
		}
		if len(facts) == 0 {
			return
		}
		slices.Sort(facts)
		fact := rapid.SampledFrom(facts).Draw(t, "forgotten")
		what, at, _ := strings.Cut(fact, ":")
		_, after, _ := doItAll(req, fact)
		for _, f := range full.GetFindings() {
			by := f.GetAsLeft().GetPutRight().GetCode()
			family, _, _ := strings.Cut(f.GetCode(), ".")
			if !slices.Contains(append(needs[by], needs[by+" "+family]...), what) || !isAbout(f, at) {
				continue
			}
			if by == "closed.other-tire" && len(f.GetPositions()) > 1 {
				continue // of several only some may have to go: package closing
			}
			if f.GetCode() == "inflation.no-air-on-vehicle" && what != "pressure as left" {
				continue // looked at under air, or cleared: one is enough
			}
			if f.GetCode() == "inflation.dual-spread" {
				continue // one of the two set to the other is enough
			}
			tried++
			for _, g := range after.GetFindings() {
				if g.GetId() == f.GetId() && g.GetAsLeft().GetPutRight().GetCode() == by {
					t.Fatalf("%s %v is closed by %s without %s\n%s", f.GetCode(), f.GetPositions(), by, fact, shownWork(m.before))
				}
			}
		}
	})
	t.Logf("%d findings that a fact was missing of", tried)
}
