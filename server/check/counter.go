package check

import gaugebookv1 "gaugebook.dev/proto/gaugebook/v1"

// Outcome gives the problems of an outcome that stands at path in its request.
func Outcome(path string, o *gaugebookv1.Outcome) []Problem {
	problems := run(path, o, nil)
	add := func(field, problem, want string) {
		problems = append(problems, Problem{Path: path + "." + field, Problem: problem, Want: want})
	}
	if o.GetDecision() == gaugebookv1.Decision_DECISION_UNSPECIFIED {
		add("decision", "missing", "what was decided")
	}
	later := o.GetDecision() == gaugebookv1.Decision_DECISION_SET_FOR_LATER
	switch {
	case later && o.GetUntil() == nil:
		add("untilDate", "missing", "until when it was set for later: untilDate or untilOdometer")
	case !later && o.GetUntil() != nil && o.GetDecision() <= gaugebookv1.Decision_DECISION_WITHDRAWN:
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
	return problems
}

// Erasure gives the problems of a request to erase a customer.
func Erasure(req *gaugebookv1.EraseCustomerRequest) []Problem { return run("", req, nil) }
