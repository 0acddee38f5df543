// Package check says everything that is wrong with a request before anything
// is judged or kept: what no gauge can show, what no vehicle can have, and what
// the request says in two ways. All limits of the contract are here.
//
// What is merely unlikely is no problem here, nor is what a newer client may
// know and this server does not: enum numbers and languages pass.
//
// A walk over the message finds quantities, dates, texts, ids and positions
// wherever they stand; what concerns several fields is checked beside it, in one
// file for each family of messages.
package check

import (
	"fmt"
	"strings"
	"time"

	"gaugebook.dev/calc/rulebook"
	gaugebookv1 "gaugebook.dev/proto/gaugebook/v1"
	"github.com/agnivade/levenshtein"
)

// MaxProblems is how many problems are listed. When there are more, the first
// found are listed and one last Problem without a path says so.
const MaxProblems = 1000

// Most of a thing that one request may hold.
const (
	maxText     = 2000 // characters of one text
	maxWheels   = 40   // wheel reports of a visit
	maxReadings = 2000 // tread and pressure readings of a visit
	maxEarlier  = 100  // earlier visits
	maxAxles    = 9    // a position has one digit for the axle
	maxPlaces   = 100  // places where a vehicle is driven
)

// Problem is one thing wrong with a request.
type Problem struct {
	// Path leads to the field by JSON names: "inspection.wheels[0].tread[2].depth".
	Path string
	// Given is what stands there, with its unit. Empty: nothing does.
	Given string
	// Problem says what is wrong: the rule that is broken.
	Problem string
	// Want says what would be right. Empty: the problem has said it.
	Want string
}

// String gives the problem on one line:
//
//	inspection.wheels[0].tread[2].depth: -3/32 in: a depth is zero or more
func (p Problem) String() string {
	var parts []string
	for _, s := range []string{p.Path, p.Given, p.Problem} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	s := strings.Join(parts, ": ")
	if p.Want != "" {
		s += "; " + p.Want
	}
	return s
}

// AssessVisit gives every problem of the request at once, in the order of its
// fields. None means that the visit can be judged.
func AssessVisit(req *gaugebookv1.AssessVisitRequest) []Problem {
	return run("", req, req.GetVehicle())
}

// Vehicle gives the problems of a vehicle that stands at path in its request.
func Vehicle(path string, v *gaugebookv1.Vehicle) []Problem {
	return run(path, v, v)
}

// Inspection gives the problems of a visit that stands at path in its request.
// Its positions and its vehicle's id are compared with the vehicle. With nil, or
// a vehicle whose axles are not told, any position of the right form will do.
func Inspection(path string, v *gaugebookv1.Inspection, vehicle *gaugebookv1.Vehicle) []Problem {
	return run(path, v, vehicle)
}

func (w walker) visitRequest(req *gaugebookv1.AssessVisitRequest) {
	visit := req.GetInspection()
	if visit == nil {
		w.to("inspection").add("", "there is no visit to judge", "an inspection")
	}
	if n := len(req.GetEarlier()); n > maxEarlier {
		w.to("earlier").add(fmt.Sprintf("%d visits", n), fmt.Sprintf("at most %d earlier visits", maxEarlier), "the latest of them")
	}
	w.onceByID("tires", ids(req.GetTires()))
	w.onceByID("earlier", ids(req.GetEarlier()))
	w.onceByID("repairs", ids(req.GetRepairs()))
	w.onceByID("moves", ids(req.GetMoves()))
	for i, e := range req.GetEarlier() {
		if e.GetId() != "" && e.GetId() == visit.GetId() {
			w.entry("earlier", i).to("id").add(quote(e.GetId()), "the visit to be judged has this id too", "")
		}
	}
	w.days(req)
}

// days compares the days of the request by the calendar at the shop, never by
// the client's clock, which may be wrong.
func (w walker) days(req *gaugebookv1.AssessVisitRequest) {
	asOf, judged := date(req.GetJudgeBy().GetAsOf())
	day, known := date(req.GetInspection().GetLocalDate())
	if judged && known && asOf.DaysUntil(day) > 0 {
		w.to("judge_by").to("as_of").add(asOf.String(), "a visit is judged for its own day or a later one", "not before "+day.String())
	}
	if !known {
		day, known = asOf, judged
	}
	for i, e := range req.GetEarlier() {
		if d, ok := date(e.GetLocalDate()); ok && known && day.DaysUntil(d) > 0 {
			w.entry("earlier", i).to("local_date").add(d.String(), fmt.Sprintf("earlier[%d] is not earlier", i), "not after "+day.String())
		}
	}
}

func (w walker) judgeBy(by *gaugebookv1.JudgeBy) {
	repeated(by.GetRulebookIds(), text, func(i, _ int) {
		w.entry("rulebook_ids", i).add(quote(by.GetRulebookIds()[i]), "named twice", "")
	})
}

func (w walker) rulebookID(id string) {
	if _, ok := rulebook.Get(id); ok {
		return
	}
	var all []string
	for _, b := range rulebook.All() {
		all = append(all, b.ID)
	}
	w.unknown(id, "no such rulebook", all)
}

// unknown reports a name that is none of those there are, and the nearest of them.
func (w walker) unknown(name, problem string, all []string) {
	nearest, least := "", len(name)/2+1 // with more than half of it wrong, it is another word
	for _, known := range all {
		if len(name) > maxShown || w.found.full() {
			break
		}
		if d := levenshtein.ComputeDistance(name, known); d < least {
			nearest, least = known, d
		}
	}
	want := "there are " + strings.Join(all, ", ")
	if nearest != "" {
		want = "did you mean " + nearest + "? " + want
	}
	w.add(quote(name), problem, want)
}

// Day gives the problems of a day that a request cannot do without.
func Day(path string, d *gaugebookv1.CalendarDate) []Problem {
	if d == nil {
		return []Problem{{Path: path, Problem: "missing", Want: "a day, with year, month and day"}}
	}
	return run(path, d, nil)
}

// Shop gives the problems of a shop's settings that stand at path in their
// request. They are held to the limits of what they stand in for: the use of a
// vehicle and the gauges of a visit.
func Shop(path string, s *gaugebookv1.Shop) []Problem {
	if s == nil {
		return []Problem{{Path: path, Problem: "missing", Want: "what changes, with the revision that was read"}}
	}
	return run(path, s, nil)
}

func (w walker) shop(s *gaugebookv1.Shop) {
	// Local is whatever the machine is set to.
	if _, err := time.LoadLocation(s.GetTimeZone()); err != nil || s.GetTimeZone() == "Local" {
		w.to("time_zone").add(s.GetTimeZone(), "no such time zone", "an IANA name such as America/Denver")
	}
	if keep := s.GetKeepChanges(); keep != nil && keep.AsDuration() < leastKept {
		w.to("keep_changes").add(keep.AsDuration().String(), "too short a time", "30 days at least, 2592000s: a counter may be off for a while")
	}
}

// leastKept is the shortest time that a shop may keep changes.
const leastKept = 30 * 24 * time.Hour
