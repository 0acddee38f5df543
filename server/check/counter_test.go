package check

import (
	"fmt"
	"strings"
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// What is searched for has as many letters as a search takes, at the bounds and beside
// them, whichever way it is asked.
func TestWhatIsSearchedForHasItsLength(t *testing.T) {
	for name, by := range map[string]struct {
		least   int
		plainly bool // signs and blanks do not count
		req     func(string) *pb.ListVehiclesRequest
	}{
		"text": {2, false, func(s string) *pb.ListVehiclesRequest {
			return &pb.ListVehiclesRequest{By: &pb.ListVehiclesRequest_Text{Text: s}}
		}},
		"size": {2, false, func(s string) *pb.ListVehiclesRequest {
			return &pb.ListVehiclesRequest{By: &pb.ListVehiclesRequest_Size{Size: s}}
		}},
		"plate": {2, true, func(s string) *pb.ListVehiclesRequest {
			return &pb.ListVehiclesRequest{By: &pb.ListVehiclesRequest_Plate{Plate: s}}
		}},
		"tag": {2, true, func(s string) *pb.ListVehiclesRequest {
			return &pb.ListVehiclesRequest{By: &pb.ListVehiclesRequest_Tag{Tag: s}}
		}},
		"orderReference": {1, true, func(s string) *pb.ListVehiclesRequest {
			return &pb.ListVehiclesRequest{By: &pb.ListVehiclesRequest_OrderReference{OrderReference: s}}
		}},
	} {
		for n, fits := range map[int]bool{0: false, by.least - 1: false, by.least: true, 39: true, 40: true, 41: false} {
			for _, letter := range []string{"a", "7", "é"} {
				s := strings.Repeat(letter, n)
				if by.plainly {
					s = "- " + s
				} else {
					s = " " + s + " "
				}
				if problems := ListVehicles(by.req(s)); (len(problems) == 0) != fits {
					t.Errorf("%s by %d of %q: %v", name, n, letter, problems)
				}
			}
		}
	}
}

// What an outcome has to tell by what was decided.
func TestOutcomeTellsWhatItDecided(t *testing.T) {
	const id, of = "7d1d1f0a-4a52-4bd5-9a0e-1f6b6f6b2a11", "7d1d1f0a-4a52-4bd5-9a0e-1f6b6f6b2a12"
	until := &pb.Outcome_UntilDate{UntilDate: &pb.CalendarDate{Year: 2026, Month: 4, Day: 1}}
	with := func(d pb.Decision, change func(*pb.Outcome)) *pb.Outcome {
		o := &pb.Outcome{Id: id, InspectionId: of, FindingId: "yilfpntz", Decision: d}
		if change != nil {
			change(o)
		}
		return o
	}
	shown := func(n int) func(*pb.Outcome) {
		return func(o *pb.Outcome) {
			for i := range n {
				o.Shown = append(o.Shown, fmt.Sprint("invented ", i))
			}
		}
	}
	told := func(o *pb.Outcome) { o.Until = until }
	worded := func(o *pb.Outcome) { o.Words = "invented" }
	for _, row := range []struct {
		name    string
		outcome *pb.Outcome
		want    []string
	}{
		{"done", with(pb.Decision_DECISION_DONE, nil), nil},
		{"nothing decided", with(pb.Decision_DECISION_UNSPECIFIED, nil), []string{"outcome.decision: missing; what was decided"}},
		{"as many sentences as it may show", with(pb.Decision_DECISION_DONE, shown(20)), nil},
		{"one more", with(pb.Decision_DECISION_DONE, shown(21)), []string{"outcome.shown: at most 20 sentences; those of this finding"}},
		{"set for later", with(pb.Decision_DECISION_SET_FOR_LATER, told), nil},
		{"set for later, and not until when", with(pb.Decision_DECISION_SET_FOR_LATER, nil), []string{"outcome.untilDate: missing; until when it was set for later: untilDate or untilOdometer"}},
		{"done, until a day", with(pb.Decision_DECISION_DONE, told), []string{"outcome.untilDate: told of what was not set for later"}},
		{"of a newer client, until a day", with(99, told), nil},
		{"referred, until a day", with(pb.Decision_DECISION_REFERRED, func(o *pb.Outcome) { told(o); worded(o) }), []string{"outcome.untilDate: told of what was not set for later"}},
		{"referred", with(pb.Decision_DECISION_REFERRED, worded), nil},
		{"referred without a word", with(pb.Decision_DECISION_REFERRED, nil), []string{"outcome.words: missing; to whom it was referred, and what came of it"}},
		{"withdrawn", with(pb.Decision_DECISION_WITHDRAWN, func(o *pb.Outcome) { o.Words, o.DecidedBy = "misread", "invented" }), nil},
		{"withdrawn by nobody, and not why", with(pb.Decision_DECISION_WITHDRAWN, nil), []string{"outcome.words: missing; why the finding was withdrawn", "outcome.decidedBy: missing; who withdrew it"}},
		{"withdrawn by nobody", with(pb.Decision_DECISION_WITHDRAWN, worded), []string{"outcome.decidedBy: missing; who withdrew it"}},
	} {
		t.Run(row.name, func(t *testing.T) { same(t, Outcome("outcome", row.outcome), row.want) })
	}
}

// No two tires are moved to one place; to one of two vehicles, or to a rack, they may.
func TestNoTwoTiresMoveToOnePlace(t *testing.T) {
	const a, b, v, u = "7d1d1f0a-4a52-4bd5-9a0e-1f6b6f6b2a11", "7d1d1f0a-4a52-4bd5-9a0e-1f6b6f6b2a12", "7d1d1f0a-4a52-4bd5-9a0e-1f6b6f6b2a13", "7d1d1f0a-4a52-4bd5-9a0e-1f6b6f6b2a14"
	to := func(tire, vehicle, position string) *pb.TireMove {
		return &pb.TireMove{TireId: tire, To: &pb.TirePlace{Where: &pb.TirePlace_Mounted{Mounted: &pb.MountedPlace{VehicleId: vehicle, Position: position}}}}
	}
	rack := func(tire string) *pb.TireMove {
		return &pb.TireMove{TireId: tire, To: &pb.TirePlace{Where: &pb.TirePlace_Stored{Stored: &pb.StoredPlace{Words: "rack"}}}}
	}
	for _, row := range []struct {
		name  string
		moves []*pb.TireMove
		want  []string
	}{
		{"to two places", []*pb.TireMove{to(a, v, "1L"), to(b, v, "1R")}, nil},
		{"to one", []*pb.TireMove{to(a, v, "1L"), to(b, v, "1L")}, []string{"moves.moves[1].to: 1L: two tires in one place"}},
		{"to one of two vehicles", []*pb.TireMove{to(a, v, "1L"), to(b, u, "1L")}, nil},
		{"to a rack", []*pb.TireMove{rack(a), rack(b)}, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			same(t, Moves("moves", &pb.TireMoves{Id: a, Moves: row.moves}), row.want)
		})
	}
}

// Of what a request may hold at the most, as much passes and one more does not.
func TestAsMuchAsARequestMayHold(t *testing.T) {
	reading := &pb.PressureReading{}
	for name, c := range map[string]struct {
		most int
		of   func(n int) *pb.AssessVisitRequest
		says string
	}{
		"wheels": {maxWheels, func(n int) *pb.AssessVisitRequest {
			return &pb.AssessVisitRequest{Inspection: &pb.Inspection{Wheels: make([]*pb.WheelReport, n)}}
		}, "at most 40 wheels"},
		"readings of two wheels": {maxReadings, func(n int) *pb.AssessVisitRequest {
			in := &pb.Inspection{Wheels: []*pb.WheelReport{{}, {}}}
			for i := range n {
				in.Wheels[i%2].Pressures = append(in.Wheels[i%2].Pressures, reading)
			}
			return &pb.AssessVisitRequest{Inspection: in}
		}, "at most 2000 readings"},
		"earlier visits": {maxEarlier, func(n int) *pb.AssessVisitRequest {
			return &pb.AssessVisitRequest{Earlier: make([]*pb.Inspection, n)}
		}, "at most 100 earlier visits"},
		"axles": {maxAxles, func(n int) *pb.AssessVisitRequest {
			return &pb.AssessVisitRequest{Vehicle: &pb.Vehicle{Axles: &pb.Axles{Axles: make([]*pb.Axle, n)}}}
		}, "at most 9"},
		"places": {maxPlaces, func(n int) *pb.AssessVisitRequest {
			return &pb.AssessVisitRequest{Vehicle: &pb.Vehicle{Use: &pb.VehicleUse{DrivenIn: make([]*pb.Jurisdiction, n)}}}
		}, "at most 100"},
	} {
		for n, want := range map[int]bool{c.most - 1: false, c.most: false, c.most + 1: true} {
			said := false
			for _, p := range AssessVisit(c.of(n)) {
				said = said || strings.Contains(p.Problem, c.says)
			}
			if said != want {
				t.Errorf("%d %s: refused %v", n, name, said)
			}
		}
	}
}
