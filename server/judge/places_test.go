package judge_test

import (
	"context"
	"fmt"
	"log/slog"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/rulebook"

	"gaugebook.dev/server/api"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/words"
)

// byLaw are what is found by the law of a place, and what of it is kept, by code, rule and
// wheels; those of rules that only may apply are left out.
func byLaw(a *pb.Assessment) map[string]pb.Urgency {
	all := map[string]pb.Urgency{}
	of := func(code string, r *pb.Rule, at []string) string {
		id := r.GetId()
		for _, b := range rulebook.All() {
			if b.Country != "" && len(id) > len(b.ID) && id[:len(b.ID)+1] == b.ID+"." {
				return fmt.Sprint(code, " ", id, " ", at)
			}
		}
		return ""
	}
	for _, f := range a.GetFindings() {
		for _, r := range f.GetRules() {
			if !r.GetCandidate() {
				all[of(f.GetCode(), r, f.GetPositions())] = f.GetUrgency()
			}
		}
	}
	for _, c := range a.GetNothingFound() {
		all[of("kept "+c.GetCode(), c.GetRule(), c.GetPositions())] = 0
	}
	delete(all, "")
	return all
}

// TestAnotherPlaceTakesNothing: what the law of one place says of a visit stands as surely
// and as urgently where another place is told beside it, before it or as the place of
// registration. The visits are those made for each limit of a law, at its own place.
func TestAnotherPlaceTakesNothing(t *testing.T) {
	others := []*pb.Jurisdiction{{Country: "US", State: "OH"}, {Country: "DE"}, {Country: "AR"}, {Country: "CA"}, {Country: "MX"}, {Country: "GR"}}
	for i, b := range rulebook.All() {
		for k, l := range b.Limits {
			req := lawVisit(b, l)
			if req == nil {
				continue
			}
			alone := byLaw(judge.Visit(req))
			for n, other := range []*pb.Jurisdiction{others[(i+k)%len(others)], others[(i+2*k+1)%len(others)]} {
				for order := range 3 {
					both := proto.CloneOf(req)
					switch use := both.GetVehicle().GetUse(); order {
					case 0:
						use.DrivenIn = append(use.GetDrivenIn(), other)
					case 1:
						use.DrivenIn = append([]*pb.Jurisdiction{other}, use.GetDrivenIn()...)
					default:
						use.RegisteredIn = other
					}
					together := byLaw(judge.Visit(both))
					for said, urgency := range alone {
						if got, stands := together[said]; !stands || got > urgency {
							t.Errorf("%s.%s, order %d, with other %d, %v: %q is told as %v, not as %v", b.ID, l.ID, order, n, other, said, got, urgency)
						}
					}
				}
			}
		}
	}
}

// Of several places each finding by a law names whose it is, and what was not read of one
// is told of that one.
func TestSeveralPlacesAreNamed(t *testing.T) {
	req := lawVisit(rulebook.Must("eu-de"), rulebook.Must("eu-de").Limit("depth"))
	use := req.GetVehicle().GetUse()
	use.DrivenIn, use.RegisteredIn = append(use.GetDrivenIn(), &pb.Jurisdiction{Country: "AT"}, &pb.Jurisdiction{Country: "MX"}), &pb.Jurisdiction{Country: "GR"}
	a := judge.Visit(req)
	var rules, open []string
	for _, f := range a.GetFindings() {
		for _, r := range f.GetRules() {
			if values := r.GetCitation().GetValues(); len(values) > 1 {
				rules = append(rules, r.GetId()+" of "+values[1].GetText())
			}
		}
	}
	for _, n := range a.GetNotJudged() {
		open = append(open, fmt.Sprint(n.GetCode(), n.GetFields()))
	}
	for _, want := range []string{"eu-de.depth of eu-de", "eu-at.depth of eu-at", "eu.depth of eu"} {
		if !slices.Contains(rules, want) {
			t.Errorf("%v lack %q", rules, want)
		}
	}
	for _, want := range []string{"law.country-not-known[MX]", "law.common-minimum[GR]"} {
		if !slices.Contains(open, want) {
			t.Errorf("%v lack %q", open, want)
		}
	}
}

// byThemselves are findings that hold a vehicle or ask for work by what was seen, whatever
// a law says of it: they do not speak of the law.
var byThemselves = []finding.Code{
	finding.DamageBulge, finding.DamageCordShowing, finding.InflationAudibleLeak, finding.FitmentConstructionMixed, finding.FitmentNotForHighway,
}

// TestReportedLawSaysSo: whatever is found by a law that was not read is told as such, to
// the technician and the customer, in every tongue and view, short of the limit and at it,
// where the law binds and where it only may.
func TestReportedLawSaysSo(t *testing.T) {
	s := api.New(nil, nil, api.About{}, slog.New(slog.DiscardHandler))
	told := map[string]bool{}
	for _, b := range rulebook.All() {
		for _, l := range b.Limits {
			if l.Known == finding.Read || l.Authority != finding.LawInUse {
				continue
			}
			for _, share := range []float64{0.8, 1} {
				req := lawVisitAt(b, l, share)
				if req == nil {
					continue
				}
				open := proto.CloneOf(req)
				open.GetVehicle().GetUse().DrivenIn, open.JudgeBy = nil, nil
				for _, req := range []*pb.AssessVisitRequest{req, open} {
					for _, tongue := range words.Tongues() {
						for _, view := range []pb.View{pb.View_VIEW_FULL, pb.View_VIEW_WORK} {
							said := proto.CloneOf(req)
							said.Reader = &pb.Reader{Language: tongue, CustomerLanguage: tongue, View: view}
							a, err := s.AssessVisit(context.Background(), said)
							if err != nil {
								t.Fatal(err)
							}
							saysReported(t, judge.Visit(req), a.GetAssessment(), tongue+" "+view.String(), told)
						}
					}
				}
			}
		}
	}
	for _, code := range []finding.Code{finding.TreadLegalLimit, finding.TreadWinterMinimum, finding.TreadWinterMark, finding.TreadFittingLimit} {
		if !told[string(code)] {
			t.Errorf("no visit finds %s by a law that is reported", code)
		}
	}
}

// saysReported holds what was told of each finding by a reported law.
func saysReported(t *testing.T, judged, a *pb.Assessment, way string, told map[string]bool) {
	t.Helper()
	tongue, _, _ := strings.Cut(way, " ")
	reported := words.In(tongue).Labels["known.reported"]
	for i, f := range judged.GetFindings() {
		rules := f.GetRules()
		if len(rules) == 0 || rules[0].GetAuthority() != pb.Authority_AUTHORITY_LAW_IN_USE || rules[0].GetHowKnown() == pb.SourceReading_SOURCE_READING_READ ||
			slices.Contains(byThemselves, finding.Code(f.GetCode())) {
			continue
		}
		told[f.GetCode()] = true
		for who, text := range map[string]string{"technician": a.GetFindings()[i].GetForTechnician(), "customer": a.GetFindings()[i].GetForCustomer()} {
			if text != "" && !strings.Contains(text, reported) {
				t.Errorf("%s, by %s, to the %s: %q does not say %q", way, rules[0].GetId(), who, text, reported)
			}
		}
	}
}
