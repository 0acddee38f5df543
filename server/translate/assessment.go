package translate

import (
	"slices"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/order"
	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/verdict"
	"gaugebook.dev/calc/visit"
)

// Assessment gives a verdict as the contract carries it: whole, and without a word.
func Assessment(req *pb.AssessVisitRequest, v visit.Visit, out verdict.Verdict) *pb.Assessment {
	tires := tiresAt(req)
	a := &pb.Assessment{
		Headline: headline(verdict.HeadlineOf(v, out), v, req.GetVehicle()), Basis: basis(v, out),
		Findings: messages(out.Findings, func(f finding.Finding) *pb.Finding {
			m := findingMessage(f, tires)
			m.AsLeft = asLeft(m.GetId(), out)
			return m
		}),
		Work: messages(out.Work, func(w order.Work) *pb.WorkItem { return bought(workMessage(w), w, req.GetVehicle()) }), Wheels: messages(out.Wheels, summary), Repairs: messages(out.Repairs, repair),
	}
	for i, s := range out.Wheels {
		a.Wheels[i].NothingWrong = verdict.NothingWrong(v, out, s.Position)
	}
	lists(a, out)
	a.Cautions = cautions(nil, a.GetFindings(), a.GetWork())
	Count(a)
	return a
}

func basis(v visit.Visit, out verdict.Verdict) *pb.Basis {
	b := &pb.Basis{Engine: verdict.Engine, AsOf: dateMessage(v.AsOf)}
	named := slices.DeleteFunc(slices.Clone(out.Books), func(book rulebook.Applied) bool { return book.ID == "" })
	b.Rulebooks = messages(named, func(book rulebook.Applied) string { return book.Name() })
	slices.Sort(b.GetRulebooks())
	b.Rulebooks = slices.Compact(b.GetRulebooks())
	return b
}

// tiresAt gives the tire of each wheel that names one.
func tiresAt(req *pb.AssessVisitRequest) map[layout.Position]string {
	ids := map[layout.Position]string{}
	for _, w := range req.GetInspection().GetWheels() {
		if p := Position(w.GetPosition()); p != (layout.Position{}) {
			ids[p] = w.GetTireId()
		}
	}
	return ids
}

func positionStrings(ps []layout.Position) []string {
	var out []string
	for _, p := range ps {
		if p == layout.Beside {
			continue
		}
		if out == nil {
			out = make([]string, 0, len(ps))
		}
		out = append(out, p.String())
	}
	return out
}

// said is a code without arguments; nil without a code.
func said[C ~string](code C) *pb.Said {
	if code == "" {
		return nil
	}
	return &pb.Said{Code: string(code)}
}

// Source is the code of what is cited, in the language it was written in.
const Source = "source"

// cited is a citation or a title.
func cited(source string) *pb.Said {
	if source == "" {
		return nil
	}
	argument, text := inOne[pb.Argument, pb.Argument_Text]()
	argument.Name, argument.Value, text.Text = "source", text, source
	m, values := inOne[pb.Said, [1]*pb.Argument]()
	m.Code, m.Values, values[0] = Source, values[:], argument
	return m
}

// cautions are those there are and those of findings and work, each once, as they come.
func cautions(all []*pb.Said, findings []*pb.Finding, work []*pb.WorkItem) []*pb.Said {
	note := func(code string) {
		if code != "" && !slices.ContainsFunc(all, func(c *pb.Said) bool { return c.GetCode() == code }) {
			all = append(all, &pb.Said{Code: code})
		}
	}
	for _, f := range findings {
		note(f.GetCaution())
	}
	for _, w := range work {
		note(w.GetCaution())
	}
	return all
}

// Count counts what an assessment holds.
func Count(a *pb.Assessment) {
	t := &pb.Totals{
		Work: int32(len(a.GetWork())), Questions: int32(len(a.GetQuestions())), Repairs: int32(len(a.GetRepairs())), Wheels: int32(len(a.GetWheels())),
		NotLookedAt: int32(len(a.GetNotLookedAt())), NothingFound: int32(len(a.GetNothingFound())), NotJudged: int32(len(a.GetNotJudged())),
	}
	for _, f := range a.GetFindings() {
		switch {
		case f.GetAsLeft() != nil:
			t.PutRight++
		case f.GetUrgency() == pb.Urgency_URGENCY_BEFORE_DRIVING:
			t.BeforeDriving++
		case f.GetUrgency() == pb.Urgency_URGENCY_THIS_VISIT:
			t.ThisVisit++
		case f.GetUrgency() == pb.Urgency_URGENCY_PLAN:
			t.Plan++
		default:
			t.Notes++
		}
	}
	a.Totals = t
}

// lists fills the lists of what was looked at, what was not, and what is open.
func lists(a *pb.Assessment, out verdict.Verdict) {
	a.NothingFound = messages(out.Checked, func(c questions.Checked) *pb.Checked {
		return &pb.Checked{
			Code: string(c.Code), Positions: positionStrings(c.Positions), Measured: quantity(c.Measured), Limit: quantity(c.Limit), Rule: rule(c.Rule, false),
		}
	})
	a.NotLookedAt = messages(out.NotLooked, func(n questions.NotLooked) *pb.NotLookedAt {
		return &pb.NotLookedAt{Positions: positionStrings(n.Positions), What: lookedAt.value(n.What), Reason: notLookedReasons.value(n.Reason)}
	})
	a.NotJudged = messages(out.NotJudged, func(n visit.NotJudged) *pb.NotJudged {
		m := &pb.NotJudged{Code: string(n.Code), Positions: positionStrings(n.Positions)}
		if n.Of != "" {
			m.Fields = []string{n.Of}
		}
		return m
	})
	a.Questions = messages(out.Unanswered, func(u questions.Asked) *pb.Question {
		return &pb.Question{Code: string(u.Code), Positions: positionStrings(u.Positions)}
	})
}

// messages are those of a list as the contract carries them; nil for none.
func messages[T, M any](all []T, message func(T) M) []M {
	if len(all) == 0 {
		return nil
	}
	ms := make([]M, len(all))
	for i, one := range all {
		ms[i] = message(one)
	}
	return ms
}
