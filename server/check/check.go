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

	"github.com/agnivade/levenshtein"
	"google.golang.org/protobuf/proto"

	"gaugebook.dev/calc/rulebook"
	gaugebookv1 "gaugebook.dev/proto/gaugebook/v1"
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
	repeated(req.GetRulebookIds(), text, func(i, _ int) {
		w.entry("rulebook_ids", i).add(quote(req.GetRulebookIds()[i]), "named twice", "")
	})
}

// days compares the days of the request by the calendar at the shop, never by
// the client's clock, which may be wrong.
func (w walker) days(req *gaugebookv1.AssessVisitRequest) {
	asOf, judged := date(req.GetAsOf())
	day, known := date(req.GetInspection().GetLocalDate())
	if judged && known && asOf.DaysUntil(day) > 0 {
		w.to("as_of").add(asOf.String(), "a visit is judged for its own day or a later one", "not before "+day.String())
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

func (w walker) rulebookID(id string) {
	if _, ok := rulebook.Get(id); ok {
		return
	}
	var all []string
	nearest, least := "", len(id)/2+1 // with more than half of it wrong, it is another word
	for _, b := range rulebook.All() {
		all = append(all, b.ID)
		if len(id) > maxShown || w.found.full() {
			continue
		}
		if d := levenshtein.ComputeDistance(id, b.ID); d < least {
			nearest, least = b.ID, d
		}
	}
	want := "there are " + strings.Join(all, ", ")
	if nearest != "" {
		want = "did you mean " + nearest + "? " + want
	}
	w.add(quote(id), "no such rulebook", want)
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
		return []Problem{{Path: path, Problem: "missing", Want: "all settings, with the revision that was read"}}
	}
	var problems []Problem
	// Local is whatever the machine is set to.
	if _, err := time.LoadLocation(s.GetTimeZone()); err != nil || s.GetTimeZone() == "Local" {
		problems = append(problems, Problem{Path: path + ".timeZone", Given: s.GetTimeZone(), Problem: "no such time zone", Want: "an IANA name such as America/Denver"})
	}
	use := Vehicle(path, &gaugebookv1.Vehicle{Use: &gaugebookv1.VehicleUse{Country: s.GetCountry(), State: s.GetState()}})
	for _, p := range use {
		p.Path = strings.Replace(p.Path, path+".use.", path+".", 1)
		problems = append(problems, p)
	}
	visit := &gaugebookv1.Inspection{Gauges: s.GetGauges(), Spare: &gaugebookv1.SpareReport{}} // something to judge
	problems = append(problems, Inspection(path, visit, nil)...)
	rest := proto.CloneOf(s)
	rest.Gauges, rest.Country, rest.State = nil, "", ""
	return append(problems, run(path, rest, nil)...)
}
