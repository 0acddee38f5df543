package check

import (
	"fmt"

	gaugebookv1 "gaugebook.dev/proto/gaugebook/v1"
)

// maxSentences is how many sentences an outcome says were shown at most.
const maxSentences = 20

// Outcome gives the problems of an outcome that stands at path in its request.
func Outcome(path string, o *gaugebookv1.Outcome) []Problem {
	problems := run(path, o, nil)
	add := func(field, problem, want string) {
		problems = append(problems, Problem{Path: path + "." + field, Problem: problem, Want: want})
	}
	if o.GetDecision() == gaugebookv1.Decision_DECISION_UNSPECIFIED {
		add("decision", "missing", "what was decided")
	}
	if n := len(o.GetShown()); n > maxSentences {
		add("shown", fmt.Sprintf("at most %d sentences", maxSentences), "those of this finding")
	}
	later := o.GetDecision() == gaugebookv1.Decision_DECISION_SET_FOR_LATER
	switch {
	case later && o.GetUntil() == nil:
		add("untilDate", "missing", "until when it was set for later: untilDate or untilOdometer")
	case !later && o.GetUntil() != nil && o.GetDecision() <= gaugebookv1.Decision_DECISION_REFERRED:
		add("untilDate", "told of what was not set for later", "")
	}
	if o.GetDecision() == gaugebookv1.Decision_DECISION_WITHDRAWN {
		if o.GetWords() == "" {
			add("words", "missing", "why the finding was withdrawn")
		}
		if o.GetDecidedBy() == "" {
			add("decidedBy", "missing", "who withdrew it")
		}
	}
	if o.GetDecision() == gaugebookv1.Decision_DECISION_REFERRED && o.GetWords() == "" {
		add("words", "missing", "to whom it was referred, and what came of it")
	}
	return problems
}

// Erasure gives the problems of a request to erase a customer.
func Erasure(req *gaugebookv1.EraseCustomerRequest) []Problem { return run("", req, nil) }

// ReassessBook gives the problems of a request to judge a whole book anew.
func ReassessBook(req *gaugebookv1.ReassessBookRequest) []Problem { return run("", req, nil) }

// Merge gives the problems of a request to merge two vehicles.
func Merge(req *gaugebookv1.MergeVehiclesRequest) []Problem { return run("", req, nil) }

// Tire gives the problems of a tire that stands at path in its request.
func Tire(path string, t *gaugebookv1.Tire) []Problem { return run(path, t, nil) }

// Repair gives the problems of a repair that stands at path in its request.
func Repair(path string, r *gaugebookv1.Repair) []Problem { return run(path, r, nil) }

// Moves gives the problems of moves that stand at path in their request: no tire twice, and
// no two tires in one place.
func Moves(path string, m *gaugebookv1.TireMoves) []Problem {
	w := root(path, m, nil)
	taken := map[string]bool{}
	for i, move := range m.GetMoves() {
		to := move.GetTo().GetMounted()
		if to == nil {
			continue
		}
		place := to.GetVehicleId() + " " + to.GetPosition()
		if taken[place] {
			w.entry("moves", i).to("to").add(to.GetPosition(), "two tires in one place", "")
		}
		taken[place] = true
	}
	return append(run(path, m, nil), w.found.inOrder()...)
}

// At gives the problems of a position, at path, on a vehicle.
func At(path, position string, v *gaugebookv1.Vehicle) []Problem {
	w := root(path, v, v)
	w.position(position)
	return w.found.inOrder()
}

// MoveTires gives the problems of a request to move tires: the moves are told, or the
// rotation that stands for them.
func MoveTires(req *gaugebookv1.MoveTiresRequest) []Problem {
	w := root("", req, nil)
	of, moves := req.GetRotation(), w.to("moves")
	switch {
	case of == nil:
		moves.required(len(req.GetMoves().GetMoves()) > 0, "moves", "one move or more, or the rotation that was proposed")
	case len(req.GetMoves().GetMoves()) > 0:
		w.to("rotation").add("", "told beside the moves", "one of the two")
	default:
		w.to("rotation").required(of.GetInspectionId() != "", "inspection_id", "the visit that proposed it")
		w.to("rotation").required(of.GetWork() != "", "work", "the line of work, by its id in that visit")
	}
	if of != nil {
		w.to("rotation").message(of.ProtoReflect())
	}
	return append(w.found.inOrder(), Moves("moves", req.GetMoves())...)
}
