package api

import (
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

func (h *house) sidewall(s *pb.Sidewall, asOf *pb.CalendarDate) *pb.ReadSidewallResponse {
	h.t.Helper()
	out, err := pb.NewCalculatorServiceClient(h.conn).ReadSidewall(h.t.Context(), &pb.ReadSidewallRequest{Sidewall: s, AsOf: asOf})
	if err != nil {
		h.t.Fatal(err)
	}
	return out
}

var readOn = &pb.CalendarDate{Year: 2025, Month: 6, Day: 15}

// Numbers of the sizes: testdata/published/size.csv and size_geometry.csv; loads:
// load_index.csv.
func TestSidewallsAreRead(t *testing.T) {
	h := inMemory(t)
	for name, row := range map[string]struct {
		sidewall *pb.Sidewall
		want     string // as JSON, without notes
		notes    []string
	}{
		"passenger": {
			&pb.Sidewall{Marking: "p225/60 r16 97t", LoadRange: "SL", Identification: "DOT A1B 2C3D4E 1816"},
			`{"canonical": "P225/60R16 97T SL", "sectionWidth": {"millimeters": 225}, "aspectPercent": 60, "rimDiameter": {"inches": 16},
			"sectionHeight": {"millimeters": 135}, "overallDiameter": {"millimeters": 676.4}, "circumference": {"millimeters": 2124.973},
			"revolutionsPerMile": 780, "revolutionsPerKilometer": 485, "rollingPercent": 97.1, "construction": "CONSTRUCTION_RADIAL",
			"loadIndexSingle": 97, "loadSingle": {"kilograms": 730}, "ratedPressure": {"kilopascals": 240}, "loadRange": "SL", "service": "P",
			"speedSymbol": "T", "maximumSpeed": {"kilometersPerHour": 190},
			"identification": {"form": "IDENTIFICATION_FORM_THIRTEEN", "plant": "A1B", "between": "2C3D4E", "date": "1816"},
			"made": [{"week": 18, "year": 2016, "ageYears": 9}]}`,
			[]string{"as designed", "Made week 18 of 2016 (9 years). No age limit applies here. Makers commonly advise yearly checks after 5-6 years and replacement by 10."},
		},
		"light truck, dual": {
			&pb.Sidewall{Marking: "LT245/75R16 120/116S E"},
			`{"canonical": "LT245/75R16 120/116S LRE", "sectionWidth": {"millimeters": 245}, "aspectPercent": 75, "rimDiameter": {"inches": 16},
			"sectionHeight": {"millimeters": 183.75}, "overallDiameter": {"millimeters": 773.9}, "circumference": {"millimeters": 2431.279},
			"revolutionsPerMile": 682, "revolutionsPerKilometer": 424, "rollingPercent": 97.1, "construction": "CONSTRUCTION_RADIAL",
			"loadIndexSingle": 120, "loadIndexDual": 116, "loadSingle": {"kilograms": 1400}, "loadDual": {"kilograms": 1250},
			"ratedPressure": {"kilopascals": 551.6}, "loadRange": "E", "service": "LT", "speedSymbol": "S", "maximumSpeed": {"kilometersPerHour": 180}}`,
			[]string{"as designed"},
		},
		"flotation": {
			&pb.Sidewall{Marking: "31x10.50R15LT"},
			`{"canonical": "31x10.50R15LT", "sectionWidth": {"inches": 10.5}, "rimDiameter": {"inches": 15}, "sectionHeight": {"inches": 8}, "overallDiameter": {"inches": 31},
			"circumference": {"inches": 97.3894}, "revolutionsPerMile": 670, "revolutionsPerKilometer": 416, "rollingPercent": 97.1, "construction": "CONSTRUCTION_RADIAL", "service": "LT"}`,
			[]string{"as designed", "may carry is not told"},
		},
		"no aspect": {
			&pb.Sidewall{Marking: "11r22.5", Identification: "AB C1 D23 031"},
			`{"canonical": "11R22.5", "rimDiameter": {"inches": 22.5}, "construction": "CONSTRUCTION_RADIAL",
			"identification": {"form": "IDENTIFICATION_FORM_THREE_DIGIT_DATE", "plant": "AB", "between": "C1D23", "date": "031"},
			"made": [{"week": 3, "year": 1991, "ageYears": 34}, {"week": 3, "year": 1981, "ageYears": 44}, {"week": 3, "year": 1971, "ageYears": 54}]}`,
			[]string{"does not tell the diameter", "may carry is not told", "made in 1991, 1981, 1971"},
		},
		"bias spare, above ZR": {
			&pb.Sidewall{Marking: "T125/70D15 95M", Identification: "ABC 1816"},
			`{"canonical": "T125/70D15 95M", "sectionWidth": {"millimeters": 125}, "aspectPercent": 70, "rimDiameter": {"inches": 15}, "sectionHeight": {"millimeters": 87.5},
			"overallDiameter": {"millimeters": 556}, "circumference": {"millimeters": 1746.726}, "construction": "CONSTRUCTION_BIAS", "service": "T",
			"loadIndexSingle": 95, "loadSingle": {"kilograms": 690}, "speedSymbol": "M", "maximumSpeed": {"kilometersPerHour": 130},
			"identification": {"form": "IDENTIFICATION_FORM_RETREAD", "date": "1816"}, "made": [{"week": 18, "year": 2016, "ageYears": 9}]}`,
			[]string{"as designed", "pressure at which it carries that load is not told", "retread, or the end", "Made week 18 of 2016", "before tread"},
		},
		"speed without an end": {
			&pb.Sidewall{Marking: "225/45ZR17"},
			`{"canonical": "225/45ZR17", "sectionWidth": {"millimeters": 225}, "aspectPercent": 45, "rimDiameter": {"inches": 17}, "sectionHeight": {"millimeters": 101.25},
			"overallDiameter": {"millimeters": 634.3}, "circumference": {"millimeters": 1992.712}, "revolutionsPerMile": 832, "revolutionsPerKilometer": 517, "rollingPercent": 97.1,
			"construction": "CONSTRUCTION_RADIAL", "speedSymbol": "ZR"}`,
			[]string{"more than 240 km/h", "as designed", "may carry is not told"},
		},
		"truck": {
			&pb.Sidewall{Marking: "295/75R22.5 144/141L", Identification: "2524", LoadRange: "G"},
			`{"canonical": "295/75R22.5 144/141L LRG", "sectionWidth": {"millimeters": 295}, "aspectPercent": 75, "rimDiameter": {"inches": 22.5}, "sectionHeight": {"millimeters": 221.25},
			"overallDiameter": {"millimeters": 1014}, "circumference": {"millimeters": 3185.575}, "revolutionsPerMile": 520, "revolutionsPerKilometer": 323, "rollingPercent": 97.1,
			"construction": "CONSTRUCTION_RADIAL", "loadIndexSingle": 144, "loadIndexDual": 141, "loadSingle": {"kilograms": 2800}, "loadDual": {"kilograms": 2575}, "loadRange": "G",
			"speedSymbol": "L", "maximumSpeed": {"kilometersPerHour": 120},
			"identification": {"form": "IDENTIFICATION_FORM_DATE_ONLY", "date": "2524"}, "made": [{"week": 25, "year": 2024, "ageYears": 0}]}`,
			[]string{"as designed", "pressure at which it carries that load is not told", "Made week 25 of 2024 (0 years). Local code may limit the age on steered axles"},
		},
		"misread": {
			&pb.Sidewall{Marking: "223/60R17", Identification: "A8B QC3D4E 5418"},
			`{"identification": {"form": "IDENTIFICATION_FORM_THIRTEEN", "plant": "A8B", "between": "QC3D4E", "date": "5418"}, "identificationSuggestions": ["A8B 0C3D4E 5418"]}`,
			[]string{"names no tire that is known", "Symbol 4 of the identification number reads Q", "Symbol 2 of the identification number reads 8. Is it B?", "Symbol 3 of the identification number reads B. Is it 8?", "No year has a week 54: weeks run from 01 to 53"},
		},
		"in the future": {
			&pb.Sidewall{Identification: "2530"},
			`{"identification": {"form": "IDENTIFICATION_FORM_DATE_ONLY", "date": "2530"}}`,
			[]string{"Week 25 of 2030 lies after 2025-06-15"},
		},
		"unreadable": {
			&pb.Sidewall{Identification: "A1?2C3D4E18B6"},
			`{"identification": {}}`,
			[]string{"Symbol 3 of the identification number is neither", "Symbol 12 of the identification number reads B, and the date has digits only: 8", "does not end in the digits"},
		},
		"nothing printed": {&pb.Sidewall{}, `{}`, nil},
	} {
		got := h.sidewall(row.sidewall, readOn)
		notes := got.GetNotes()
		got.Notes, got.Told = nil, nil
		want := &pb.ReadSidewallResponse{}
		if err := protojson.Unmarshal([]byte(row.want), want); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if !proto.Equal(got, want) {
			t.Errorf("%s:\n%s\nwant\n%s", name, protojson.Format(got), protojson.Format(want))
		}
		if !slices.EqualFunc(notes, row.notes, func(n *pb.Said, want string) bool { return strings.Contains(n.GetWords(), want) && n.GetCode() != "" }) {
			t.Errorf("%s: notes %v, want %q", name, notes, row.notes)
		}
	}
}

// One note of each kind that the sidewalls above have not.
func TestNotesOfSidewalls(t *testing.T) {
	h := inMemory(t)
	for _, row := range []struct {
		sidewall *pb.Sidewall
		want     string
	}{
		{&pb.Sidewall{Marking: "225/45ZR17 (94Y) XL"}, "Made for more than 300 km/h"},
		{&pb.Sidewall{Marking: "P225/60R16 97T"}, "No load mark was read"},
		{&pb.Sidewall{Marking: "P225/60R16 97T", Identification: "2024"}, "(1 year)"},
		{&pb.Sidewall{Identification: "A1B2C3D4E5F61816"}, "16 symbols: an identification number has 13 at most"},
	} {
		if notes := h.sidewall(row.sidewall, readOn).GetNotes(); !strings.Contains(inOne(notes), row.want) {
			t.Errorf("%v: %v", row.sidewall, notes)
		}
	}
	if out := h.sidewall(&pb.Sidewall{Marking: "225/45ZR17 (94Y) XL"}, readOn); out.GetMaximumSpeed() != nil || out.GetSpeedSymbol() != "(Y)" {
		t.Errorf("%v", out)
	}
}

// Without a day no age is told, and no week is in the future.
func TestSidewallWithoutADay(t *testing.T) {
	out := inMemory(t).sidewall(&pb.Sidewall{Identification: "2530"}, nil)
	if len(out.GetMade()) != 1 || out.GetMade()[0].AgeYears != nil || len(out.GetNotes()) != 0 {
		t.Errorf("%v", out)
	}
}

// What is refused is named by its path in the request.
func TestImpossibleSidewallsAreRefused(t *testing.T) {
	h := inMemory(t)
	ask := func(s *pb.Sidewall, asOf *pb.CalendarDate) error {
		_, err := pb.NewCalculatorServiceClient(h.conn).ReadSidewall(t.Context(), &pb.ReadSidewallRequest{Sidewall: s, AsOf: asOf})
		return err
	}
	refused(t, ask(nil, nil), "sidewall")
	refused(t, ask(&pb.Sidewall{MaximumPressure: psi(0)}, nil), "sidewall.maximumPressure")
	refused(t, ask(&pb.Sidewall{Marking: strings.Repeat("1", 5000)}, nil), "sidewall.marking")
	refused(t, ask(&pb.Sidewall{MaximumLoad: &pb.Mass{AsRead: &pb.Mass_Pounds{Pounds: -1}}}, nil), "sidewall.maximumLoad")
	refused(t, ask(&pb.Sidewall{}, &pb.CalendarDate{Year: 2026, Month: 2, Day: 30}), "asOf")
}
