package strictjson

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"
	"testing/iotest"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/emptypb"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// Every kind of problem, with all that is said about it and what is kept of the
// document. Sources: "RFC" is RFC 8259, The JavaScript Object Notation Data
// Interchange Format; "ProtoJSON" is the published ProtoJSON format with the
// class of value it defines; "own rule" marks what this
// package decides beyond both.
func TestProblems(t *testing.T) {
	for _, test := range []struct {
		name   string
		source string
		msg    proto.Message
		doc    string
		want   []Problem
		kept   string // the document that msg then equals
	}{
		{
			"misspelled field", "ProtoJSON, unknown fields rejected", &pb.AssessVisitRequest{},
			`{"inspection": {"wheels": [{"position": "1L", "tread": [
				{"depth": {"millimeters": 5}},
				{"repeat": 2},
				{"depth": {"thirtySecondInch": 4}, "repeat": 3}]}]}}`,
			[]Problem{{"inspection.wheels[0].tread[2].depth.thirtySecondInch", 4, 16, `"thirtySecondInch"`, "unknown field", `did you mean "thirtySecondsInch"?`}},
			`{"inspection": {"wheels": [{"position": "1L", "tread": [{"depth": {"millimeters": 5}}, {"repeat": 2}, {"depth": {}, "repeat": 3}]}]}}`,
		},
		{
			"unknown field near no other, few to choose from", "ProtoJSON, unknown fields rejected", &pb.Depth{},
			`{"mm": 5}`,
			[]Problem{{"mm", 1, 2, `"mm"`, "unknown field", `one of "thirtySecondsInch", "millimeters"`}},
			`{}`,
		},
		{
			"unknown field near no other, many to choose from", "ProtoJSON, unknown fields rejected", &pb.Vehicle{},
			`{"color": "red", "tag": "T1"}`,
			[]Problem{{"color", 1, 2, `"color"`, "unknown field", "a field of Vehicle"}},
			`{"tag": "T1"}`,
		},
		{
			"unknown field where there are none", "ProtoJSON, unknown fields rejected", &emptypb.Empty{},
			`{"tag": "T1"}`,
			[]Problem{{"tag", 1, 2, `"tag"`, "unknown field", "Empty has no fields"}},
			`{}`,
		},
		{
			"a name that could not be a field's", "own rule", &pb.Vehicle{},
			`{"drive belt\u001b[2J": [{"any": "thing"}, null, NaN], "tag": "T1"}`,
			[]Problem{{`["drive belt�[2J"]`, 1, 2, `"drive belt\u001b[2J"`, "unknown field", "a field of Vehicle"}},
			`{"tag": "T1"}`,
		},
		{
			"a name too long to guess at", "own rule", &pb.Depth{},
			`{"` + strings.Repeat("millimeters", 100) + `": 1}`,
			[]Problem{{`["millimetersmillimetersmillimetersmillimetersmillimetersmill…"]`, 1, 2,
				`"millimetersmillimetersmillimetersmillimetersmillimetersmil…`, "unknown field", `one of "thirtySecondsInch", "millimeters"`}},
			`{}`,
		},
		{
			"capitals in a name", "ProtoJSON, lowerCamelCase names", &pb.Vehicle{},
			`{"Tag": "T1"}`,
			[]Problem{{"Tag", 1, 2, `"Tag"`, "unknown field", `did you mean "tag"?`}},
			`{}`,
		},
		{
			"given twice", "RFC 4, names should be unique", &pb.Vehicle{},
			`{"tag": "T1", "tag": "T2"}`,
			[]Problem{{"tag", 1, 15, `"tag"`, "the field is given twice", "give it once"}},
			`{"tag": "T1"}`,
		},
		{
			"given twice, by both names, the second time with a problem inside", "ProtoJSON, both names accepted", &pb.Vehicle{},
			`{"vehicle_class": 1, "vehicleClass": "HEAVY"}`,
			[]Problem{
				{"vehicleClass", 1, 22, `"vehicleClass"`, "the field is given twice", "give it once"},
				{"vehicleClass", 1, 38, `"HEAVY"`, "unknown value", `did you mean "VEHICLE_CLASS_HEAVY"?`},
			},
			`{"vehicleClass": "VEHICLE_CLASS_PASSENGER_CAR"}`,
		},
		{
			"two units", "ProtoJSON, oneof", &pb.TreadReading{},
			`{"depth": {"thirtySecondsInch": 4, "millimeters": 3.2}, "repeat": 1}`,
			[]Problem{{"depth.millimeters", 1, 36, `"millimeters"`, `given beside "thirtySecondsInch"`, `only one of "thirtySecondsInch", "millimeters"`}},
			`{"depth": {"thirtySecondsInch": 4}, "repeat": 1}`,
		},
		{
			"enum name misspelled", "ProtoJSON, enum", &pb.Gauge{},
			`{"kind": "GAUGE_KIND_DAIL"}`,
			[]Problem{{"kind", 1, 10, `"GAUGE_KIND_DAIL"`, "unknown value", `did you mean "GAUGE_KIND_DIAL"?`}},
			`{}`,
		},
		{
			"enum name in everyday spelling", "ProtoJSON, enum", &pb.Gauge{},
			`{"kind": "tpms tool"}`,
			[]Problem{{"kind", 1, 10, `"tpms tool"`, "unknown value", `did you mean "GAUGE_KIND_TPMS_TOOL"?`}},
			`{}`,
		},
		{
			"enum prefix misspelled", "ProtoJSON, enum", &pb.Gauge{},
			`{"kind": "GUAGE_KIND_STICK"}`,
			[]Problem{{"kind", 1, 10, `"GUAGE_KIND_STICK"`, "unknown value", `did you mean "GAUGE_KIND_STICK"?`}},
			`{}`,
		},
		{
			"enum name near no other, few to choose from", "ProtoJSON, enum", &pb.Vehicle{},
			`{"drive": "FOUR_BY_FOUR"}`,
			[]Problem{{"drive", 1, 11, `"FOUR_BY_FOUR"`, "unknown value", `one of "DRIVE_FRONT", "DRIVE_REAR", "DRIVE_ALL", "DRIVE_NONE"`}},
			`{}`,
		},
		{
			"enum name near no other, many to choose from", "ProtoJSON, enum", &pb.Gauge{},
			`{"kind": "GAUGE_KIND_PENNY"}`,
			[]Problem{{"kind", 1, 10, `"GAUGE_KIND_PENNY"`, "unknown value", `a name from the list of GaugeKind, such as "GAUGE_KIND_STICK"`}},
			`{}`,
		},
		{
			"enum number not in the contract", "own rule: a newer contract's numbers lose their meaning here", &pb.Vehicle{},
			`{"drive": 99}`,
			[]Problem{{"drive", 1, 11, `99`, "unknown value", `one of "DRIVE_FRONT", "DRIVE_REAR", "DRIVE_ALL", "DRIVE_NONE"`}},
			`{}`,
		},
		{
			"enum number with a fraction", "ProtoJSON, enum", &pb.Vehicle{},
			`{"drive": 1.5}`,
			[]Problem{{"drive", 1, 11, `1.5`, "not a whole number", `one of "DRIVE_FRONT", "DRIVE_REAR", "DRIVE_ALL", "DRIVE_NONE"`}},
			`{}`,
		},
		{
			"enum name without quotes", "RFC 3", &pb.Vehicle{},
			`{"drive": DRIVE_REAR, "tag": "T1"}`,
			[]Problem{{"drive", 1, 11, `DRIVE_REAR`, "something that is not JSON instead of a name from the list of Drive", `did you mean "DRIVE_REAR"?`}},
			`{"tag": "T1"}`,
		},
		{
			"enum name with a wrong escape", "RFC 7", &pb.Vehicle{},
			`{"drive": "DRIVE\_REAR"}`,
			[]Problem{{"drive", 1, 11, `"DRIVE\_REAR"`, "a wrong escape in the text", `after a backslash one of " \ / b f n r t, or u and four hexadecimal digits`}},
			`{}`,
		},
		{
			"number in quotes", "own rule: ProtoJSON would take it", &pb.Depth{},
			`{"millimeters": "7"}`,
			[]Problem{{"millimeters", 1, 17, `"7"`, "text instead of a number", "a number without quotes: 7"}},
			`{}`,
		},
		{
			"whole number in quotes", "own rule: ProtoJSON would take it", &pb.Place{},
			`{"station": "2", "groove": 1}`,
			[]Problem{{"station", 1, 13, `"2"`, "text instead of a whole number", "a whole number without quotes: 2"}},
			`{"groove": 1}`,
		},
		{
			"words for a number", "ProtoJSON, double", &pb.Depth{},
			`{"millimeters": "seven"}`,
			[]Problem{{"millimeters", 1, 17, `"seven"`, "text instead of a number", "a number without quotes, such as 7.5"}},
			`{}`,
		},
		{
			"fraction without quotes", "RFC 6", &pb.TreadReading{},
			`{"depth": {"thirtySecondsInch": 4/32}, "repeat": 1}`,
			[]Problem{{"depth.thirtySecondsInch", 1, 33, `4/32`, "something that is not JSON instead of a number", "a number without quotes, such as 7.5"}},
			`{"depth": {}, "repeat": 1}`,
		},
		{
			"number with a leading zero", "RFC 6", &pb.Depth{},
			`{"millimeters": 07}`,
			[]Problem{{"millimeters", 1, 17, `07`, "something that is not JSON instead of a number", "a number without quotes, such as 7.5"}},
			`{}`,
		},
		{
			"not a number, in quotes", "own rule: ProtoJSON would take it", &pb.Depth{},
			`{"millimeters": "NaN"}`,
			[]Problem{{"millimeters", 1, 17, `"NaN"`, "not a finite number", "leave the field out when nothing was measured"}},
			`{}`,
		},
		{
			"infinity, in quotes", "own rule: ProtoJSON would take it", &pb.Depth{},
			`{"millimeters": "Infinity"}`,
			[]Problem{{"millimeters", 1, 17, `"Infinity"`, "not a finite number", "leave the field out when nothing was measured"}},
			`{}`,
		},
		{
			"infinity, bare", "RFC 6", &pb.Depth{},
			`{"millimeters": -Infinity}`,
			[]Problem{{"millimeters", 1, 17, `-Infinity`, "not a finite number", "leave the field out when nothing was measured"}},
			`{}`,
		},
		{
			"number beyond a double", "ProtoJSON, double", &pb.Depth{},
			`{"millimeters": 1e999}`,
			[]Problem{{"millimeters", 1, 17, `1e999`, "out of range", "a number between -1.7e308 and 1.7e308"}},
			`{}`,
		},
		{
			"whole number beyond 32 bits", "ProtoJSON, int32", &pb.CalendarDate{},
			`{"year": 2147483648, "month": -2147483649, "day": 1e99999999999}`,
			[]Problem{
				{"year", 1, 10, `2147483648`, "out of range", "a whole number between -2147483648 and 2147483647"},
				{"month", 1, 31, `-2147483649`, "out of range", "a whole number between -2147483648 and 2147483647"},
				{"day", 1, 51, `1e99999999999`, "out of range", "a whole number between -2147483648 and 2147483647"},
			},
			`{}`,
		},
		{
			"whole number with a fraction", "ProtoJSON, int32", &pb.CalendarDate{},
			`{"year": 2026, "month": 3.5, "day": 7.00000000000000000001}`,
			[]Problem{
				{"month", 1, 25, `3.5`, "not a whole number", "a whole number, such as 7"},
				{"day", 1, 37, `7.00000000000000000001`, "not a whole number", "a whole number, such as 7"},
			},
			`{"year": 2026}`,
		},
		{
			"number for text", "ProtoJSON, string", &pb.Vehicle{},
			`{"tag": 1234}`,
			[]Problem{{"tag", 1, 9, `1234`, "a number instead of text", `text in double quotes: "1234"`}},
			`{}`,
		},
		{
			"text in single quotes", "RFC 7", &pb.Vehicle{},
			`{"tag": 'T1', "revision": "3"}`,
			[]Problem{{"tag", 1, 9, `'T1'`, "something that is not JSON instead of text", `text in double quotes: "T1"`}},
			`{"revision": "3"}`,
		},
		{
			"text for true or false", "ProtoJSON, bool", &pb.EstimateLifeRequest{},
			`{"depths": [{"assumed": "true"}, {"assumed": 1}, {"assumed": true}]}`,
			[]Problem{
				{"depths[0].assumed", 1, 25, `"true"`, "text instead of true or false", "true or false without quotes"},
				{"depths[1].assumed", 1, 46, `1`, "a number instead of true or false", "true or false without quotes"},
			},
			`{"depths": [{}, {}, {"assumed": true}]}`,
		},
		{
			"true for an enum", "ProtoJSON, enum", &pb.DrivenLow{},
			`{"driven": true}`,
			[]Problem{{"driven", 1, 12, `true`, "true or false instead of a name from the list of Answer", `one of "ANSWER_YES", "ANSWER_NO", "ANSWER_UNKNOWN"`}},
			`{}`,
		},
		{
			"number for a quantity", "ProtoJSON, message", &pb.TreadReading{},
			`{"depth": 4, "repeat": 1}`,
			[]Problem{{"depth", 1, 11, `4`, "a number instead of an object", `an object with one of "thirtySecondsInch", "millimeters"`}},
			`{"repeat": 1}`,
		},
		{
			"text for a date", "ProtoJSON, message", &pb.ReadSidewallRequest{},
			`{"asOf": "2026-03-14"}`,
			[]Problem{{"asOf", 1, 10, `"2026-03-14"`, "text instead of an object", `an object with "year", "month", "day"`}},
			`{}`,
		},
		{
			"list for a large object", "ProtoJSON, message", &pb.AssessVisitRequest{},
			"{\"vehicle\": [{\"tag\":\n\t\t\"T1\"}]}",
			[]Problem{{"vehicle", 1, 13, `[{"tag": "T1"}]`, "a list instead of an object", "an object: { ... }"}},
			`{}`,
		},
		{
			"object for a list", "ProtoJSON, repeated", &pb.Axles{},
			`{"axles": {"size": "x"}}`,
			[]Problem{{"axles", 1, 11, `{"size": "x"}`, "an object instead of a list", "a list: [ ... ]"}},
			`{}`,
		},
		{
			"object for text", "ProtoJSON, string", &pb.Vehicle{},
			`{"tag": {"words": "T1"}}`,
			[]Problem{{"tag", 1, 9, `{"words": "T1"}`, "an object instead of text", "text in double quotes"}},
			`{}`,
		},
		{
			"null", "own rule: ProtoJSON would take it for absent", &pb.AssessVisitRequest{},
			`{"judgeBy": null, "tires": [{"id": "a"}, null], "repairs": null, "vehicle": null,
			"inspection": {"takenTime": null, "doneBy": null, "odometer": {"miles": null}}}`,
			[]Problem{
				{"judgeBy", 1, 13, `null`, "null is not accepted", "leave the field out"},
				{"tires[1]", 1, 42, `null`, "null is not accepted", "leave the element out"},
				{"repairs", 1, 60, `null`, "null is not accepted", "leave the field out"},
				{"vehicle", 1, 77, `null`, "null is not accepted", "leave the field out"},
				{"inspection.takenTime", 2, 32, `null`, "null is not accepted", "leave the field out"},
				{"inspection.doneBy", 2, 48, `null`, "null is not accepted", "leave the field out"},
				{"inspection.odometer.miles", 2, 76, `null`, "null is not accepted", "leave the field out"},
			},
			`{"tires": [{"id": "a"}, {}], "inspection": {"odometer": {}}}`,
		},
		{
			"elements keep their places", "own rule", &pb.AssessVisitRequest{},
			`{"judgeBy": {"rulebookIds": ["us-light", 7, "uk-light"]}, "tires": ["a", {"id": "b", "revision": 2}]}`,
			[]Problem{
				{"judgeBy.rulebookIds[1]", 1, 42, `7`, "a number instead of text", `text in double quotes: "7"`},
				{"tires[0]", 1, 69, `"a"`, "text instead of an object", "an object: { ... }"},
				{"tires[1].revision", 1, 98, `2`, "a number instead of text", `text in double quotes: "2"`},
			},
			`{"judgeBy": {"rulebookIds": ["us-light", "", "uk-light"]}, "tires": [{}, {"id": "b"}]}`,
		},
		{
			"time", "ProtoJSON, Timestamp (RFC 3339)", &pb.Inspection{},
			`{"takenTime": "2026-03-14 09:30", "id": "v"}`,
			[]Problem{{"takenTime", 1, 15, `"2026-03-14 09:30"`, "not a time with its offset from UTC", `a time such as "2026-03-14T09:30:00Z" or "2026-03-14T10:30:00+01:00"`}},
			`{"id": "v"}`,
		},
		{
			"day that is none", "ProtoJSON, Timestamp (RFC 3339)", &pb.Inspection{},
			`{"takenTime": "2026-02-30T09:30:00Z"}`,
			[]Problem{{"takenTime", 1, 15, `"2026-02-30T09:30:00Z"`, "not a time with its offset from UTC", `a time such as "2026-03-14T09:30:00Z" or "2026-03-14T10:30:00+01:00"`}},
			`{}`,
		},
		{
			"time as a number", "ProtoJSON, Timestamp", &pb.Inspection{},
			`{"takenTime": 1773480600}`,
			[]Problem{{"takenTime", 1, 15, `1773480600`, "a number instead of a time with its offset from UTC", `a time such as "2026-03-14T09:30:00Z" or "2026-03-14T10:30:00+01:00"`}},
			`{}`,
		},
		{
			"duration", "ProtoJSON, Duration", &pb.DrivenBefore{},
			`{"parked": "3 h"}`,
			[]Problem{{"parked", 1, 12, `"3 h"`, "not a number of seconds", `seconds and the letter s in double quotes, such as "5400s"`}},
			`{}`,
		},
		{
			"duration as an object", "ProtoJSON, Duration", &pb.DrivenBefore{},
			`{"parked": {"seconds": 5400}}`,
			[]Problem{{"parked", 1, 12, `{"seconds": 5400}`, "an object instead of a number of seconds", `seconds and the letter s in double quotes, such as "5400s"`}},
			`{}`,
		},
		{
			"text that is not UTF-8", "RFC 8.1", &pb.Vehicle{},
			"{\"tag\": \"T\xff\", \"revision\": \"3\"}",
			[]Problem{{"tag", 1, 9, `"T�"`, "the text is not UTF-8", "save the document as UTF-8"}},
			`{"revision": "3"}`,
		},
		{
			"half a surrogate pair", "RFC 7 and 8.2", &pb.Vehicle{},
			`{"tag": "\ud83d", "revision": "3"}`,
			[]Problem{{"tag", 1, 9, `"\ud83d"`, "a wrong escape in the text", `after a backslash one of " \ / b f n r t, or u and four hexadecimal digits`}},
			`{"revision": "3"}`,
		},
		{
			"tab in a text", "RFC 7", &pb.Vehicle{},
			"{\"tag\": \"T\t1\", \"revision\": \"3\"}",
			[]Problem{{"tag", 1, 9, `"T�1"`, "a control character in the text", `\t for a tab, \u and four hexadecimal digits for another`}},
			`{"revision": "3"}`,
		},
		{
			"wrong escape in a name", "RFC 7", &pb.Vehicle{},
			`{"t\ag": "T1", "revision": "3"}`,
			[]Problem{{"", 1, 2, `"t\ag"`, "a wrong escape in the text", `after a backslash one of " \ / b f n r t, or u and four hexadecimal digits`}},
			`{"revision": "3"}`,
		},
		{
			"long text is cut", "own rule", &pb.Depth{},
			`{"millimeters": "` + strings.Repeat("é", 100) + `"}`,
			[]Problem{{"millimeters", 1, 17, `"` + strings.Repeat("é", 58) + "…", "text instead of a number", "a number without quotes, such as 7.5"}},
			`{}`,
		},
		{
			"column in characters", "own rule", &pb.Vehicle{},
			"{\r\n  \"tag\": \"Tür\", \"x\": 1}",
			[]Problem{{"x", 2, 17, `"x"`, "unknown field", "a field of Vehicle"}},
			`{"tag": "Tür"}`,
		},
		{
			"comma after the last field and element", "RFC 4 and 5", &pb.WheelReport{},
			`{"looked": [{"seen": true,},], "rim": "16",}`,
			[]Problem{
				{"looked[0]", 1, 26, `,`, "not JSON: a comma with nothing after it", "leave the comma out"},
				{"looked", 1, 28, `,`, "not JSON: a comma with nothing after it", "leave the comma out"},
				{"", 1, 43, `,`, "not JSON: a comma with nothing after it", "leave the comma out"},
			},
			`{"looked": [{"seen": true}], "rim": "16"}`,
		},
		{
			"missing comma, after another problem", "RFC 4", &pb.AssessVisitRequest{},
			"{\"vehicle\": {\"tagg\": \"T1\",\n  \"revision\": \"3\"\n  \"id\": \"v\"}}",
			[]Problem{
				{"vehicle.tagg", 1, 14, `"tagg"`, "unknown field", `did you mean "tag"?`},
				{"vehicle", 3, 3, `"id": "v"}}`, "not JSON: a comma is missing", "a comma or '}'"},
			},
			`{"vehicle": {"revision": "3"}}`,
		},
		{
			"decimal comma", "RFC 6", &pb.TreadReading{},
			`{"depth": {"millimeters": 7,5}}`,
			[]Problem{{"depth", 1, 29, `5}}`, "not JSON: a field name is missing", "a field name in double quotes, or a decimal point in place of the comma"}},
			`{"depth": {"millimeters": 7}}`,
		},
		{
			"unit after the number", "RFC 4", &pb.Depth{},
			`{"millimeters": 7 mm}`,
			[]Problem{{"", 1, 19, `mm}`, "not JSON: a comma is missing", "a comma or '}'"}},
			`{"millimeters": 7}`,
		},
		{
			"name without quotes", "RFC 4", &pb.Vehicle{},
			`{tag: "T1"}`,
			[]Problem{{"", 1, 2, `tag: "T1"}`, "not JSON: a field name is missing", "a field name in double quotes"}},
			`{}`,
		},
		{
			"missing colon", "RFC 4", &pb.Vehicle{},
			`{"tag" "T1"}`,
			[]Problem{{"", 1, 8, `"T1"}`, "not JSON: a colon is missing", "a colon between the field name and its value"}},
			`{}`,
		},
		{
			"missing value", "RFC 4", &pb.Vehicle{},
			`{"tag": , "id": "v"}`,
			[]Problem{{"tag", 1, 9, `, "id": "v"}`, "not JSON: a value is missing", "a value, or leave the field out"}},
			`{}`,
		},
		{
			"closing quote forgotten", "RFC 7", &pb.Vehicle{},
			"{\"tag\": \"T1,\n \"id\": \"v\"}",
			[]Problem{{"tag", 1, 9, `"T1,`, "not JSON: the closing quote is missing", "a double quote at the end of the text, on the same line"}},
			`{}`,
		},
		{
			"wrong bracket", "RFC 5", &pb.AssessVisitRequest{},
			`{"tires": [{"id": "a"}}, "earlier": []}`,
			[]Problem{{"tires", 1, 23, `}, "earlier": []}`, "not JSON: a comma is missing", "a comma or ']'"}},
			`{"tires": [{"id": "a"}]}`,
		},
		{
			"cut short", "RFC 4", &pb.AssessVisitRequest{},
			`{"vehicle": {"tag": "T1"`,
			[]Problem{{"vehicle", 1, 25, ``, "not JSON: the document ends too early", "a comma or '}'"}},
			`{"vehicle": {"tag": "T1"}}`,
		},
		{
			"comment", "RFC 2", &pb.Vehicle{},
			"{\n // the old tag\n \"tag\": \"T1\"}",
			[]Problem{{"", 2, 2, `// the old tag`, "not JSON: a field name is missing", "a field name in double quotes"}},
			`{}`,
		},
		{
			"text after the document", "RFC 2", &pb.Vehicle{},
			"{\"tag\": \"T1\"}\n{\"tag\": \"T2\"}",
			[]Problem{{"", 2, 1, `{"tag": "T2"}`, "text after the end of the document", "one object and nothing after it"}},
			`{"tag": "T1"}`,
		},
		{
			"no text", "RFC 2", &pb.Vehicle{}, "",
			[]Problem{{"", 1, 1, ``, "the document is empty", "an object: { ... }"}},
			`{}`,
		},
		{
			"only white space", "RFC 2", &pb.Vehicle{}, " \r\n\t",
			[]Problem{{"", 2, 2, ``, "the document is empty", "an object: { ... }"}},
			`{}`,
		},
		{
			"a list of documents", "ProtoJSON, message", &pb.Vehicle{}, ` [{"tag": "T1"}]`,
			[]Problem{{"", 1, 2, `[{"tag": "T1"}]`, "the document is not an object", "an object: { ... }"}},
			`{}`,
		},
		{
			"byte order mark", "RFC 8.1", &pb.Vehicle{}, "\uFEFF{\"tag\": \"T1\"}",
			[]Problem{{"", 1, 1, ``, "a byte order mark before the document", "save the document as UTF-8 without it"}},
			`{"tag": "T1"}`,
		},
	} {
		t.Run(test.name, func(t *testing.T) {
			got := Read([]byte(test.doc), test.msg)
			if !slices.Equal(got, test.want) {
				t.Errorf("%s\n%s\ngot  %#v\nwant %#v", test.source, test.doc, got, test.want)
			}
			kept := test.msg.ProtoReflect().New().Interface()
			if err := protojson.Unmarshal([]byte(test.kept), kept); err != nil {
				t.Fatal(err)
			}
			if !proto.Equal(test.msg, kept) {
				t.Errorf("%s\nkept %v\nwant %v", test.doc, test.msg, kept)
			}
		})
	}
}

// What is accepted although it is not the documented way of writing it.
func TestAccepted(t *testing.T) {
	for _, test := range []struct {
		source string
		msg    proto.Message
		doc    string
		same   string
	}{
		{"ProtoJSON: proto names", &pb.Depth{}, `{"thirty_seconds_inch": 4}`, `{"thirtySecondsInch": 4}`},
		{"ProtoJSON: enum numbers", &pb.Vehicle{}, `{"drive": 2, "tpms": 1.0, "vehicleClass": 30e-1}`, `{"drive": "DRIVE_REAR", "tpms": "TPMS_KIND_NONE", "vehicleClass": "VEHICLE_CLASS_HEAVY"}`},
		{"ProtoJSON: whole numbers with exponent or zero fraction", &pb.CalendarDate{}, `{"year": 2.026e3, "month": 3.0, "day": -0}`, `{"year": 2026, "month": 3}`},
		{"RFC 8259, 7: any character may be escaped", &pb.Vehicle{}, `{"t\u0061g": "\ud83d\ude97 \u0031\/2"}`, `{"tag": "🚗 1/2"}`},
		{"RFC 3339: offset from UTC", &pb.Inspection{}, `{"takenTime": "2026-03-14T10:30:00+01:00"}`, `{"takenTime": "2026-03-14T09:30:00Z"}`},
		{"RFC 8259, 2: white space", &pb.Axles{}, " {\t\"axles\"\r\n: [ { } , { } ] } \n", `{"axles":[{},{}]}`},
		{"ProtoJSON: a quantity without a unit is for the caller to judge", &pb.TreadReading{}, `{"depth": {}}`, `{"depth": {}}`},
	} {
		same := test.msg.ProtoReflect().New().Interface()
		if got := append(Read([]byte(test.doc), test.msg), Read([]byte(test.same), same)...); len(got) > 0 {
			t.Errorf("%s: %s: %v", test.source, test.doc, got)
		}
		if !proto.Equal(test.msg, same) {
			t.Errorf("%s: %s: got %v, want %v", test.source, test.doc, test.msg, same)
		}
	}
}

func TestProblemString(t *testing.T) {
	for _, test := range []struct {
		Problem
		want string
	}{
		{Problem{"odometer.mile", 7, 22, `"mile"`, "unknown field", `did you mean "miles"?`}, `line 7, column 22: odometer.mile: unknown field; given "mile"; did you mean "miles"?`},
		{Problem{"", 1, 1, "", "the document is empty", "an object: { ... }"}, `line 1, column 1: the document is empty; an object: { ... }`},
		{Problem{Problem: "and 3 more"}, "and 3 more"},
	} {
		if got := test.String(); got != test.want {
			t.Errorf("got %q, want %q", got, test.want)
		}
	}
}

func TestProblemsBeyondTheListAreCounted(t *testing.T) {
	for _, test := range []struct {
		problems int
		last     Problem
	}{
		{MaxProblems, Problem{"rulebookIds[99]", 1, 216, `7`, "a number instead of text", `text in double quotes: "7"`}},
		{MaxProblems + 1, Problem{Problem: "and 1 more"}},
		{60_000, Problem{Problem: "and 59900 more"}},
	} {
		doc := `{"rulebookIds": [` + strings.Repeat("7,", test.problems-1) + `7]}`
		got := Read([]byte(doc), &pb.JudgeBy{})
		if last := got[len(got)-1]; len(got) != min(test.problems, MaxProblems+1) || last != test.last {
			t.Errorf("%d problems: %d listed, the last %v", test.problems, len(got), last)
		}
	}
}

func TestNestingIsLimited(t *testing.T) {
	tooDeep := fmt.Sprintf("nested deeper than %d levels", MaxNesting)
	for _, test := range []struct {
		name string
		doc  string
		want string // the last problem
	}{
		{"as deep as allowed", `{"x": ` + strings.Repeat("[", MaxNesting-1) + strings.Repeat("]", MaxNesting-1) + `}`, "unknown field"},
		{"one level more", `{"x": ` + strings.Repeat("[", MaxNesting) + strings.Repeat("]", MaxNesting) + `}`, tooDeep},
		{"lists without end", `{"x": ` + strings.Repeat("[", MaxBytes-10), tooDeep},
		{"objects without end", strings.Repeat(`{"x":`, MaxBytes/5), tooDeep},
	} {
		got := Read([]byte(test.doc), &pb.AssessVisitRequest{})
		if last := got[len(got)-1].Problem; last != test.want {
			t.Errorf("%s: %q, want %q", test.name, last, test.want)
		}
	}
}

// endless is a reader of nonsense that counts what is taken from it.
type endless struct{ left, taken int }

func (e *endless) Read(p []byte) (int, error) {
	n := min(len(p), e.left)
	for i := range p[:n] {
		p[i] = '{'
	}
	e.left -= n
	e.taken += n
	if n == 0 {
		return 0, io.EOF
	}
	return n, nil
}

func TestLengthIsLimited(t *testing.T) {
	tooLong := []Problem{{Problem: "the document is longer than 4194304 bytes", Want: "a shorter document"}}

	src := &endless{left: 50 << 20}
	msg := &pb.Vehicle{Tag: "before"}
	got, err := ReadFrom(src, msg)
	if err != nil || !slices.Equal(got, tooLong) || msg.Tag != "" {
		t.Errorf("50 MB: %v, %v, %v", got, err, msg)
	}
	if src.taken > MaxBytes+1 {
		t.Errorf("50 MB: %d bytes were read", src.taken)
	}

	const start, end = `{"tag": "T1"`, `}`
	longest := start + strings.Repeat(" ", MaxBytes-len(start)-len(end)) + end
	if got := Read([]byte(longest), msg); len(got) > 0 || msg.Tag != "T1" {
		t.Errorf("longest document: %v, %v", got, msg)
	}
	if got := Read([]byte(longest+" "), msg); !slices.Equal(got, tooLong) || msg.Tag != "" {
		t.Errorf("one byte more: %v, %v", got, msg)
	}
}

func TestElementsAreLimited(t *testing.T) {
	doc := func(tires, moves int) []byte {
		return []byte(`{"tires": [` + strings.Repeat("{},", tires-1) + `{}], "moves": [` + strings.Repeat("{},", moves-1) + `{}]}`)
	}
	var msg pb.AssessVisitRequest
	if got := Read(doc(MaxElements/2, MaxElements/2), &msg); len(got) > 0 || len(msg.Tires)+len(msg.Moves) != MaxElements {
		t.Errorf("as many as allowed: %v", got)
	}
	got := Read(doc(MaxElements/2, MaxElements), &msg)
	want := []Problem{{"moves", 1, 300024, strings.Repeat("{},", 19) + "{}…", "more than 100000 elements in lists", "a smaller document"}}
	if !slices.Equal(got, want) || len(msg.Tires)+len(msg.Moves) != MaxElements {
		t.Errorf("more: %v", got)
	}
}

func TestUnlistedProblemsAreCountedOnly(t *testing.T) {
	const listed = 150
	doc := `{"vehicle": {` + strings.Repeat(`"tagg": 1, "drive": "REER", `, listed) + `"tag": "T1"}}`
	var msg pb.AssessVisitRequest
	got := Read([]byte(doc), &msg)
	// Of each round: the unknown field, the unknown value and, from the second
	// round on, the repetition of the known field.
	if last := got[len(got)-1].Problem; last != fmt.Sprintf("and %d more", 3*listed-1-MaxProblems) || msg.Vehicle.GetTag() != "T1" {
		t.Errorf("%s, %v", last, &msg)
	}
}

func TestReadFrom(t *testing.T) {
	msg := &pb.Vehicle{}
	got, err := ReadFrom(iotest.OneByteReader(strings.NewReader(`{"tag": "T1", "x": 1}`)), msg)
	want := []Problem{{"x", 1, 15, `"x"`, "unknown field", "a field of Vehicle"}}
	if err != nil || !slices.Equal(got, want) || msg.Tag != "T1" {
		t.Errorf("%v, %v, %v", got, err, msg)
	}

	broken := errors.New("connection lost")
	src := io.MultiReader(strings.NewReader(`{"tag": "T1"}`), iotest.ErrReader(broken))
	if got, err := ReadFrom(src, msg); got != nil || !errors.Is(err, broken) || msg.Tag != "" {
		t.Errorf("broken source: %v, %v, %v", got, err, msg)
	}
}
