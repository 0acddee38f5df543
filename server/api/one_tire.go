package api

import (
	"cmp"
	"slices"
	"strings"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/translate"
)

// The calls about one tire are checked and read as a visit of one wheel, which is
// their own to change. Their problems are told by the names of their own requests.

// unknownPosition stands for the place of a wheel of which nobody said where it is,
// while it is checked.
const unknownPosition = "1L"

// checkTire gives the problems of a visit of one wheel under other names: each
// path of the visit with what its request calls it.
func checkTire(visit *pb.AssessVisitRequest, names map[string]string) []check.Problem {
	problems := check.Vehicle("vehicle", visit.GetVehicle())
	vehicle, wheel := visit.GetVehicle(), visit.GetInspection().GetWheels()[0]
	said := wheel.GetPosition()
	visit.Vehicle = nil // its axles are made up: a position of a complaint is not held to them
	wheel.Position = cmp.Or(said, unknownPosition)
	problems = append(problems, check.AssessVisit(visit)...)
	visit.Vehicle, wheel.Position = vehicle, said
	for i := range problems {
		rename(&problems[i], names)
	}
	return problems
}

// rename says a problem by the longest of the names that leads to it.
func rename(p *check.Problem, names map[string]string) {
	paths := make([]string, 0, len(names))
	for path := range names {
		paths = append(paths, path)
	}
	slices.SortFunc(paths, func(a, b string) int { return cmp.Compare(len(b), len(a)) })
	for _, path := range paths {
		rest, under := strings.CutPrefix(p.Path, path)
		if !under || rest != "" && rest[0] != '.' && rest[0] != '[' {
			continue
		}
		p.Path = strings.TrimPrefix(names[path]+rest, ".")
		if strings.HasPrefix(rest, "[") { // a problem may name another entry of its list
			p.Problem = strings.ReplaceAll(p.Problem, path[strings.LastIndexByte(path, '.')+1:]+"[", names[path]+"[")
		}
		return
	}
}

// leaveOut drops the questions that a call about one tire did not ask. Where the tire
// runs is asked by every call that judges.
func leaveOut(a *pb.Assessment, unasked func(finding.About) bool) {
	a.Questions = slices.DeleteFunc(a.GetQuestions(), func(q *pb.Question) bool {
		about := finding.QuestionOf(finding.Question(q.GetCode())).About
		return about != finding.AboutPlace && unasked(about)
	})
	translate.Count(a)
}

// named names in an assessment what its request tells of other questions.
func named(a *pb.Assessment, req proto.Message) {
	a.NotJudged = translate.NameUnasked(a.GetNotJudged(), req)
	translate.Count(a)
}

func ofPressure(a finding.About) bool { return a == finding.AboutPressure }

// first is the only entry of a list. A class of vehicle that is not judged here
// leaves none.
func first[M any](list []*M) *M {
	if len(list) == 0 {
		return nil
	}
	return list[0]
}
