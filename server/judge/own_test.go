package judge_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/encoding/protojson"
	"pgregory.net/rapid"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"

	"gaugebook.dev/server/judge"
)

// own is a shop's book of one limit.
func own(t testing.TB, than string, depth unit.Amount) *rulebook.Book {
	t.Helper()
	l, err := rulebook.Stricter("tread", than, depth, "Our own.")
	if err != nil {
		t.Fatal(err)
	}
	b := rulebook.OwnBook(3)
	b.Limits = append(b.Limits, l)
	return b
}

func millimeters(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.Millimeters} }

// Tread between the law's figure and the shop's: allowed, and planned for. The
// law's figure is KDV § 4 Abs. 4, 1.6 mm, 4 mm for winter tires.
func TestShopsOwnLimit(t *testing.T) {
	for _, c := range []struct {
		name, country, marks string
		than                 string
		shop                 unit.Amount
		millimeters          float64
		gauge                string // millimeters between its marks
		want                 string // code, outcome, urgency
	}{
		{"below", "AT", "", "eu-at.depth", millimeters(3), 2.4, "0.1", "tread.shop-limit COMPARISON_BELOW URGENCY_PLAN"},
		{"kept", "AT", "", "eu-at.depth", millimeters(3), 5, "0.1", "checked tread.shop-limit"},
		{"not decided", "AT", "", "eu-at.depth", millimeters(3), 3, "1", "tread.shop-limit COMPARISON_CANNOT_TELL URGENCY_PLAN"},
		{"another country's", "AT", "", "eu-de.depth", millimeters(3), 2.4, "0.1", ""},
		{"winter", "AT", `"threePeakSnowflake": "ANSWER_YES"`, "eu-at.winter-depth", millimeters(5.5), 5, "0.1", "tread.winter-tire-advice COMPARISON_BELOW URGENCY_PLAN"},
		{"summer tires", "AT", `"threePeakSnowflake": "ANSWER_NO", "mudAndSnow": "ANSWER_NO", "studded": "ANSWER_NO"`, "eu-at.winter-depth", millimeters(5.5), 5, "0.1", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			req := &pb.AssessVisitRequest{}
			err := protojson.Unmarshal(fmt.Appendf(nil, `{
				"vehicle": {"vehicleClass": "VEHICLE_CLASS_PASSENGER_CAR", "axles": {"axles": [{}, {}]}, "use": {"drivenIn": [{"country": %q}]}, "grossRating": {"kilograms": 1850}},
				"inspection": {
					"localDate": {"year": 2026, "month": 1, "day": 10},
					"gauges": [{"depth": {"millimeters": %s}, "kind": "GAUGE_KIND_DEPTH_ELECTRONIC"}],
					"wheels": [{"position": "1L", "sidewall": {%s}, "tread": [
						{"place": {"across": "ACROSS_INBOARD"}, "depth": {"millimeters": %v}}, {"place": {"across": "ACROSS_CENTER"}, "depth": {"millimeters": %[4]v}},
						{"place": {"across": "ACROSS_OUTBOARD"}, "depth": {"millimeters": %[4]v}}]}]}}`,
				c.country, c.gauge, c.marks, c.millimeters), req)
			if err != nil {
				t.Fatal(err)
			}
			book := own(t, c.than, c.shop)
			a := judge.For(func(string) *rulebook.Book { return book })("alpine", req)
			got := ""
			for _, f := range a.GetFindings() {
				if r := ruleOf(f); r.GetId() == "shop.tread" {
					got = fmt.Sprintf("%s %v %v", f.GetCode(), f.GetComparison(), f.GetUrgency())
					if r.GetAuthority() != pb.Authority_AUTHORITY_SHOP || !strings.HasPrefix(citationOf(r), "the shop's own rule, stricter than KDV") {
						t.Errorf("%v", r)
					}
				}
			}
			for _, k := range a.GetNothingFound() {
				if k.GetCode() == "tread.shop-limit" {
					got = "checked " + k.GetCode()
				}
			}
			if got != c.want {
				t.Errorf("%q, want %q: %v", got, c.want, a.GetFindings())
			}
			if named := slices.ContainsFunc(a.GetBasis().GetRulebooks(), func(s string) bool { return strings.HasPrefix(s, "shop@3") }); named != strings.HasPrefix(c.than, "eu-at.") {
				t.Errorf("basis %v", a.GetBasis().GetRulebooks())
			}
		})
	}
}

// A fleet's edition of a published standard is told beside the law, never in its place:
// 49 CFR 393.75(b) asks for 4/32 in on the front wheels. The edition's 2/32 in is invented.
func TestEditionBesideTheLaw(t *testing.T) {
	l, err := rulebook.Beside("roadside-front", "us-commercial.front-depth", unit.Amount{Number: 2, Unit: unit.ThirtySecondsInch}, "Roadside criteria", "edition of 2026")
	if err != nil {
		t.Fatal(err)
	}
	book := rulebook.OwnBook(1)
	book.Limits = append(book.Limits, l)
	for _, c := range []struct {
		depth float64
		law   string
		want  string
	}{
		{3, "tread.legal-limit COMPARISON_BELOW", "checked"},
		{1, "tread.legal-limit COMPARISON_BELOW", "tread.roadside-limit COMPARISON_BELOW URGENCY_NOTE"},
		{9, "", ""},
	} {
		req := &pb.AssessVisitRequest{}
		err := protojson.Unmarshal(fmt.Appendf(nil, `{
			"vehicle": {"vehicleClass": "VEHICLE_CLASS_HEAVY", "axles": {"axles": [{}, {}]}, "grossRating": {"pounds": 33000},
				"use": {"drivenIn": [{"country": "US"}], "businessAcrossStateLines": "ANSWER_YES"}},
			"inspection": {"localDate": {"year": 2026, "month": 1, "day": 10},
				"gauges": [{"depth": {"millimeters": 0.1}, "kind": "GAUGE_KIND_DEPTH_ELECTRONIC"}],
				"wheels": [{"position": "1L", "tread": [
					{"place": {"across": "ACROSS_INBOARD"}, "depth": {"thirtySecondsInch": %v}}, {"place": {"across": "ACROSS_CENTER"}, "depth": {"thirtySecondsInch": %[1]v}},
					{"place": {"across": "ACROSS_OUTBOARD"}, "depth": {"thirtySecondsInch": %[1]v}}]}]}}`, c.depth), req)
		if err != nil {
			t.Fatal(err)
		}
		a := judge.For(func(string) *rulebook.Book { return book })("fleet", req)
		law, got := "", ""
		for _, f := range a.GetFindings() {
			switch ruleOf(f).GetId() {
			case "us-commercial.front-depth":
				law = fmt.Sprint(f.GetCode(), " ", f.GetComparison())
			case "shop.roadside-front":
				got = fmt.Sprint(f.GetCode(), " ", f.GetComparison(), " ", f.GetUrgency())
				if r := ruleOf(f); r.GetAuthority() != pb.Authority_AUTHORITY_PUBLISHED_STANDARD {
					t.Errorf("%v", r)
				}
			}
		}
		for _, k := range a.GetNothingFound() {
			if k.GetCode() == "tread.roadside-limit" {
				got = "checked"
			}
		}
		if law != c.law || got != c.want {
			t.Errorf("%v/32 in: law %q, edition %q; want %q, %q", c.depth, law, got, c.law, c.want)
		}
	}
}

// A shop's own limit adds and never takes away: what the law and the trade find,
// and by when, stays as it is.
func TestOwnLimitsTakeNothingAway(t *testing.T) {
	visits := corpus(t)
	var depths []string
	for _, b := range rulebook.All() {
		for _, l := range b.Limits {
			if _, err := rulebook.Stricter("a", b.ID+"."+l.ID, millimeters(20), "b"); err == nil {
				depths = append(depths, b.ID+"."+l.ID)
			}
		}
	}
	if len(depths) < 15 {
		t.Fatalf("only %v can be made stricter", depths)
	}
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.SampledFrom(visits).Draw(t, "visit")
		than := rapid.SampledFrom(depths).Draw(t, "stricter than")
		// No rulebook asks for more than 6 mm.
		l, err := rulebook.Stricter("tread", than, millimeters(float64(rapid.IntRange(61, 120).Draw(t, "tenths of a mm"))/10), "Our own.")
		if err != nil {
			t.Fatal(err)
		}
		book := rulebook.OwnBook(1)
		book.Limits = append(book.Limits, l)
		with, without := judge.For(func(string) *rulebook.Book { return book })("any", v.visit), judge.Visit(v.visit)
		found := map[string]*pb.Finding{}
		for _, f := range with.GetFindings() {
			found[f.GetId()] = f
		}
		for _, f := range without.GetFindings() {
			if now := found[f.GetId()]; now == nil || now.GetUrgency() != f.GetUrgency() || now.GetComparison() != f.GetComparison() {
				t.Errorf("%s under %s: %v became %v", v.name, than, f, now)
			}
		}
	})
}
