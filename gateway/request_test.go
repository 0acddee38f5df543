package gateway_test

import (
	"bytes"
	"context"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"
	"time"

	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc/codes"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/durationpb"

	spb "google.golang.org/genproto/googleapis/rpc/status"

	"gaugebook.dev/gateway"
	pb "gaugebook.dev/proto/gaugebook/v1"
)

const (
	tread       = "/v1/calculate/tread"
	inspections = "/v1/shops/north/inspections"
)

// violations gives path and description of every problem of a refusal, and
// checks what all refusals of a request have in common.
func violations(t *testing.T, st *spb.Status) (fields, descriptions []string) {
	t.Helper()
	if codes.Code(st.GetCode()) != codes.InvalidArgument {
		t.Errorf("code %v", codes.Code(st.GetCode()))
	}
	var reason string
	for _, detail := range st.GetDetails() {
		m, err := detail.UnmarshalNew()
		if err != nil {
			t.Fatal(err)
		}
		switch m := m.(type) {
		case *errdetails.ErrorInfo:
			reason = m.GetDomain() + " " + m.GetReason()
		case *errdetails.BadRequest:
			for _, v := range m.GetFieldViolations() {
				fields = append(fields, v.GetField())
				descriptions = append(descriptions, v.GetDescription())
			}
		}
	}
	if reason != "gaugebook FIELD_INVALID" {
		t.Errorf("ErrorInfo %q", reason)
	}
	return fields, descriptions
}

func TestRefusesRequest(t *testing.T) {
	server, h := start(t, gateway.Options{})
	tests := []struct {
		name, method, target, body string
		fields                     []string // paths of the problems, in order
		says                       string   // part of the first description
	}{
		// A lenient reader answers 200 to the first and the reading is lost.
		{"misspelled field", "POST", tread, `{"wheel":{"tread":[{"depth":{"thirtySecondInch":4}}]}}`,
			[]string{"wheel.tread[0].depth.thirtySecondInch"}, `did you mean "thirtySecondsInch"?`},
		{"misspelled value", "POST", tread, `{"vehicleClass":"VEHICLE_CLASS_BUSS"}`,
			[]string{"vehicleClass"}, `did you mean "VEHICLE_CLASS_BUS"?`},
		{"all problems at once", "POST", tread, `{"redaer":{},"use":{"seats":"4"},"judgeBy":null}`,
			[]string{"redaer", "use.seats", "judgeBy"}, `did you mean "reader"?`},
		{"text after the end", "POST", tread, `{} {}`, []string{""}, "text after the end"},
		{"empty body", "POST", tread, "", []string{""}, "the document is empty"},
		{"blank body", "POST", tread, " \n", []string{""}, "the document is empty"},
		{"no object", "POST", tread, `[]`, []string{""}, "not an object"},
		{"broken JSON says where", "POST", tread, "{\n\"reader\": {},,}", []string{""}, "line 2, column 14: not JSON"},
		{"not a number", "POST", tread, `{"depthWhenNew":{"millimeters":"NaN"}}`,
			[]string{"depthWhenNew.millimeters"}, "not a finite number"},
		{"null", "POST", tread, `{"depthWhenNew":{"millimeters":null}}`,
			[]string{"depthWhenNew.millimeters"}, "null is not accepted"},
		{"given twice", "POST", tread, `{"steerAxle":"ANSWER_NO","steerAxle":"ANSWER_NO"}`, []string{"steerAxle"}, "given twice"},
		{"two of a choice", "POST", tread, `{"depthWhenNew":{"millimeters":8,"thirtySecondsInch":10}}`,
			[]string{"depthWhenNew.thirtySecondsInch"}, "only one of"},

		{"odd name", "PATCH", "/v1/shops/north", `{"shop":{"time zone":"UTC"}}`,
			[]string{`shop["time zone"]`}, `did you mean "timeZone"?`},
		{"what a change is, without its field", "PATCH", "/v1/shops/north", `{"timeZone":"UTC"}`, []string{"timeZone"}, "unknown field"},
		{"a list that is none", "PATCH", "/v1/shops/north", `{"clear":"units"}`, []string{"clear"}, "list"},

		{"another shop in the body", "POST", inspections, `{"shopId":"south"}`,
			[]string{"shopId"}, "not the one in the path"},
		{"body where none belongs", "GET", "/v1/server", `{}`, []string{""}, "takes no body"},

		{"unknown parameter", "GET", "/v1/shops/north/vehicles?page_sise=3", "", []string{"page_sise"}, `did you mean "pageSize"?`},
		{"parameter of the path", "GET", "/v1/shops/north/vehicles?shopId=south", "", []string{"shopId"}, "not a query parameter"},
		{"parameter of the path, proto name", "GET", "/v1/shops/north/vehicles?shop_id=north", "", []string{"shop_id"}, "not a query parameter"},
		{"parameter of a call without any", "GET", "/v1/server?reader.language=en", "", []string{`["reader.language"]`}, "not a query parameter"},
		{"parameter beside a body", "POST", tread + "?steerAxle=ANSWER_NO", "{}", []string{"steerAxle"}, "not a query parameter"},
		{"parameter twice", "GET", "/v1/shops/north/vehicles?pageSize=3&pageSize=4", "", []string{"pageSize"}, "given twice"},
		{"parameter twice, by both names", "GET", "/v1/shops/north/vehicles?pageSize=3&page_size=3", "", []string{"pageSize"}, "given twice"},
		{"parameter without value", "GET", "/v1/shops/north/vehicles?pageSize=", "", []string{"pageSize"}, "whole number"},
		{"parameter no number", "GET", "/v1/shops/north/vehicles?pageSize=1e3x", "", []string{"pageSize"}, "whole number"},
		{"parameter fraction", "GET", "/v1/shops/north/vehicles?pageSize=1.5", "", []string{"pageSize"}, "not a whole number"},
		{"parameter too large", "GET", "/v1/shops/north/vehicles?pageSize=3000000000", "", []string{"pageSize"}, "out of range"},
		{"parameter that would smuggle", "GET", `/v1/shops/north/vehicles?pageSize=1,"pageToken":"x"`, "", []string{"pageSize"}, "whole number"},
		{"parameter misspelled value", "GET", "/v1/shops/north/vehicles?order=URGENCY", "", []string{"order"}, `did you mean "VEHICLE_ORDER_URGENCY"?`},
		{"parameter duration without s", "GET", "/v1/shops/north/changes?wait=30", "", []string{"wait"}, "seconds and the letter s"},
		{"parameter duration of another language", "GET", "/v1/shops/north/changes?wait=1m", "", []string{"wait"}, "seconds and the letter s"},
		{"parameter not UTF-8", "GET", "/v1/shops/north/changes?resumeToken=%FF", "", []string{"resumeToken"}, "not UTF-8"},
		{"parameter name not UTF-8", "GET", "/v1/shops/north/changes?%FF=1", "", []string{`["\xff"]`}, "not UTF-8"},
		{"parameter name empty", "GET", "/v1/shops/north/changes?=1", "", []string{`[""]`}, "unknown field"},
		{"parameter within a day misspelled", "GET", "/v1/shops/north/coming-due?untilDate.yaer=2026", "", []string{"untilDate.yaer"}, `did you mean "year"?`},
		{"parameter within a day twice", "GET", "/v1/shops/north/coming-due?untilDate.year=2026&untilDate.year=2027", "", []string{"untilDate.year"}, "given twice"},
		{"parameter that is a day at once", "GET", "/v1/shops/north/coming-due?untilDate=2026-12-24", "", []string{"untilDate"}, "not a query parameter"},
		{"parameter within a number", "GET", "/v1/shops/north/coming-due?pageSize.x=1", "", []string{"pageSize"}, "whole number"},
		{"parameter with a dot at the end", "GET", "/v1/shops/north/coming-due?untilDate.=1", "", []string{`untilDate[""]`}, "unknown field"},
		{"parameters of which only one may be", "GET", "/v1/shops/north/vehicles?text=blue&size=11R22.5", "", []string{"text"}, "one of"},
		{"query badly escaped", "GET", "/v1/shops/north/changes?wait=%zz", "", []string{""}, "not well escaped"},

		{"id with another call's verb", "GET", "/v1/shops/1:pull", "", []string{"shopId"}, "not an id"},
		{"id of dots", "GET", "/v1/shops/../changes", "", []string{"shopId"}, "not an id"},
		{"id of escaped dots", "GET", "/v1/shops/%2e%2e/changes", "", []string{"shopId"}, "not an id"},
		{"id of one dot", "GET", "/v1/shops/north/vehicles/.", "", []string{"vehicleId"}, "not an id"},
		{"id empty", "GET", "/v1/shops//changes", "", []string{"shopId"}, "not an id"},
		{"id empty at the end", "GET", "/v1/shops/", "", []string{"shopId"}, "not an id"},
		{"id with a slash", "GET", "/v1/shops/north%2Fvehicles", "", []string{"shopId"}, "not an id"},
		{"id with a line break", "GET", "/v1/shops/north%0A", "", []string{"shopId"}, "not an id"},
		{"id with a zero", "GET", "/v1/shops/north%00", "", []string{"shopId"}, "not an id"},
		{"id not UTF-8", "GET", "/v1/shops/%FF", "", []string{"shopId"}, `given "\xff"`},
		{"id empty before a verb", "POST", inspections + "/:reassess", "{}", []string{"inspectionId"}, "not an id"},
		{"id too long", "GET", "/v1/shops/" + strings.Repeat("n", 129), "", []string{"shopId"}, "not an id"},
		{"path, query and body at once", "POST", "/v1/shops/a:b/inspections?x=1", `{"inspection":{"odometer":{"mile":1}}}`,
			[]string{"shopId", "x", "inspection.odometer.mile"}, "not an id"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			w := ask(t, h, test.method, test.target, test.body, "Content-Type", "application/json")
			if w.Code != http.StatusBadRequest {
				t.Errorf("HTTP %d", w.Code)
			}
			st := statusOf(t, w)
			fields, descriptions := violations(t, st)
			if !slices.Equal(fields, test.fields) {
				t.Fatalf("fields %q, want %q (%q)", fields, test.fields, descriptions)
			}
			if !strings.Contains(descriptions[0], test.says) {
				t.Errorf("says %q, want %q", descriptions[0], test.says)
			}
			if test.body == "" && test.method == http.MethodGet && strings.Contains(descriptions[0], "line ") {
				t.Errorf("says %q of a text that nobody sent", descriptions[0])
			}
			if st.GetMessage() == "" {
				t.Error("no message")
			}
			if call, made := server.last(); made {
				t.Errorf("the call was made: %v", call)
			}
		})
	}
}

// accepted are requests that are let through, each with what reaches the call.
func accepted() []example {
	longest := strings.Repeat("n", 128)
	return []example{
		{"body", "POST", tread, `{"depthWhenNew":{"thirtySecondsInch":10},"reader":{"language":"en","view":"VIEW_FULL"}}`,
			&pb.AssessTreadRequest{DepthWhenNew: &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: 10}}, Reader: &pb.Reader{Language: "en", View: pb.View_VIEW_FULL}}},
		{"empty object", "POST", tread, `{}`, &pb.AssessTreadRequest{}},
		{"path and body", "POST", inspections, `{"reader":{"language":"en"}}`, &pb.RecordInspectionRequest{ShopId: "north", Reader: &pb.Reader{Language: "en"}}},
		{"the same shop in the body", "POST", inspections, `{"shopId":"north"}`, &pb.RecordInspectionRequest{ShopId: "north"}},
		{"verb", "POST", inspections + "/v-1:reassess", `{"judgeBy":{"rulebookIds":["us-light"]}}`,
			&pb.ReassessInspectionRequest{ShopId: "north", InspectionId: "v-1", JudgeBy: &pb.JudgeBy{RulebookIds: []string{"us-light"}}}},
		{"a change", "PATCH", "/v1/shops/north", `{"shop":{"timeZone":"UTC"},"clear":["units"]}`,
			&pb.UpdateShopRequest{ShopId: "north", Shop: &pb.Shop{TimeZone: "UTC"}, Clear: []string{"units"}}},
		{"a reader in the query", "GET", "/v1/shops/north/vehicles/v-1?reader.language=es-MX&reader.view=VIEW_GLANCE&reader.units.pressure=PRESSURE_UNIT_BAR", "",
			&pb.GetVehicleRequest{ShopId: "north", VehicleId: "v-1", Reader: &pb.Reader{
				Language: "es-MX", View: pb.View_VIEW_GLANCE, Units: &pb.ReaderUnits{Pressure: pb.PressureUnit_PRESSURE_UNIT_BAR}}}},
		{"no parameters", "GET", "/v1/shops/north/vehicles", "", &pb.ListVehiclesRequest{ShopId: "north"}},
		{"parameters", "GET", "/v1/shops/north/vehicles?pageSize=7&order=VEHICLE_ORDER_URGENCY&pageToken=a%26b%3D%22c%22", "",
			&pb.ListVehiclesRequest{ShopId: "north", PageSize: 7, By: &pb.ListVehiclesRequest_Order{Order: pb.VehicleOrder_VEHICLE_ORDER_URGENCY}, PageToken: `a&b="c"`}},
		{"a day", "GET", "/v1/shops/north/coming-due?untilDate.year=2026&untilDate.month=12&untilDate.day=24&pageSize=7", "",
			&pb.ListComingDueRequest{ShopId: "north", UntilDate: &pb.CalendarDate{Year: 2026, Month: 12, Day: 24}, PageSize: 7}},
		{"a day by proto name", "GET", "/v1/shops/north/findings?due_before_date.year=2026&due_before_date.month=12&due_before_date.day=24", "",
			&pb.ListOpenFindingsRequest{ShopId: "north", DueBeforeDate: &pb.CalendarDate{Year: 2026, Month: 12, Day: 24}}},
		{"parameters by proto name", "GET", "/v1/shops/north/vehicles?page_size=7", "", &pb.ListVehiclesRequest{ShopId: "north", PageSize: 7}},
		{"whole number written otherwise", "GET", "/v1/shops/north/vehicles?pageSize=70e-1", "", &pb.ListVehiclesRequest{ShopId: "north", PageSize: 7}},
		{"value by number", "GET", "/v1/shops/north/vehicles?order=2", "",
			&pb.ListVehiclesRequest{ShopId: "north", By: &pb.ListVehiclesRequest_Order{Order: pb.VehicleOrder_VEHICLE_ORDER_LAST_SEEN}}},
		{"text that looks like a number", "GET", "/v1/shops/north/vehicles?pageToken=7", "", &pb.ListVehiclesRequest{ShopId: "north", PageToken: "7"}},
		{"duration", "GET", "/v1/shops/north/changes?wait=1.5s", "",
			&pb.PullChangesRequest{ShopId: "north", Wait: durationpb.New(1500 * time.Millisecond)}},
		{"longest duration", "GET", "/v1/shops/north/changes?wait=315576000000s", "",
			&pb.PullChangesRequest{ShopId: "north", Wait: &durationpb.Duration{Seconds: 315_576_000_000}}},
		{"id escaped without need", "GET", "/v1/shops/%6Eorth", "", &pb.GetShopRequest{ShopId: "north"}},
		{"path escaped without need", "GET", "/v1/%73hops/north", "", &pb.GetShopRequest{ShopId: "north"}},
		{"id of all that is allowed", "GET", "/v1/shops/aZ0_-.~", "", &pb.GetShopRequest{ShopId: "aZ0_-.~"}},
		{"longest id", "GET", "/v1/shops/" + longest, "", &pb.GetShopRequest{ShopId: longest}},
		{"head", "HEAD", "/v1/shops/north", "", &pb.GetShopRequest{ShopId: "north"}},
	}
}

type example struct {
	name, method, target, body string
	want                       proto.Message
}

func TestPassesRequest(t *testing.T) {
	server, h := start(t, gateway.Options{})
	for _, test := range accepted() {
		t.Run(test.name, func(t *testing.T) {
			if w := ask(t, h, test.method, test.target, test.body); w.Code != http.StatusOK {
				t.Fatalf("HTTP %d: %s", w.Code, w.Body)
			}
			call, made := server.last()
			if !made {
				t.Fatal("no call was made")
			}
			if !proto.Equal(call.request, test.want) {
				t.Errorf("got %v, want %v", call.request, test.want)
			}
		})
	}
}

// countedBody is a body of spaces that tells how much of it was taken.
type countedBody struct{ left, taken int64 }

func (b *countedBody) Read(p []byte) (int, error) {
	n := min(int64(len(p)), b.left)
	if n == 0 {
		return 0, io.EOF
	}
	for i := range p[:n] {
		p[i] = ' '
	}
	b.left -= n
	b.taken += n
	return int(n), nil
}

func TestRefusesLargeBody(t *testing.T) {
	_, h := start(t, gateway.Options{})
	const fiftyMB = 50 << 20
	tests := []struct {
		name        string
		length      int64 // that the body has
		told        int64 // that the header tells; -1: nothing
		mostTaken   int64
		code        int
		retryHinted bool
	}{
		{"told", fiftyMB, fiftyMB, 0, http.StatusRequestEntityTooLarge, false},
		{"not told", fiftyMB, -1, gateway.MaxBodyBytes + 1, http.StatusRequestEntityTooLarge, false},
		{"one byte too many", gateway.MaxBodyBytes + 1, gateway.MaxBodyBytes + 1, 0, http.StatusRequestEntityTooLarge, false},
		{"as long as allowed, but blank", gateway.MaxBodyBytes, gateway.MaxBodyBytes, gateway.MaxBodyBytes, http.StatusBadRequest, false},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			body := &countedBody{left: test.length}
			r := httptest.NewRequestWithContext(t.Context(), http.MethodPost, tread, body)
			r.ContentLength = test.told
			r.Header.Set("Content-Type", "application/json")
			w := httptest.NewRecorder()
			h.ServeHTTP(w, r)
			if w.Code != test.code {
				t.Errorf("HTTP %d, want %d", w.Code, test.code)
			}
			if body.taken > test.mostTaken {
				t.Errorf("%d bytes were taken, want at most %d", body.taken, test.mostTaken)
			}
			if got := w.Header().Get("Retry-After"); got != "" {
				t.Errorf("Retry-After %s: sending it again does not help", got)
			}
			if test.code != http.StatusRequestEntityTooLarge {
				return
			}
			st := statusOf(t, w)
			info := &errdetails.ErrorInfo{}
			if err := st.GetDetails()[0].UnmarshalTo(info); err != nil {
				t.Fatal(err)
			}
			want := &errdetails.ErrorInfo{Reason: "TOO_LARGE", Domain: "gaugebook", Metadata: map[string]string{"max_bytes": "4194304", "remedy": "MEND_FIRST"}}
			if !proto.Equal(info, want) || codes.Code(st.GetCode()) != codes.ResourceExhausted {
				t.Errorf("got %v", st)
			}
		})
	}
}

// TestRefusesLargeBodyBeforeItIsSent has a client wait for leave to send.
func TestRefusesLargeBodyBeforeItIsSent(t *testing.T) {
	_, h := start(t, gateway.Options{})
	body := &countedBody{left: 50 << 20}
	r, err := http.NewRequestWithContext(t.Context(), http.MethodPost, overNetwork(t, h)+tread, body)
	if err != nil {
		t.Fatal(err)
	}
	r.ContentLength = body.left
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("Expect", "100-continue")
	if code, _, _ := send(t, r); code != http.StatusRequestEntityTooLarge {
		t.Errorf("HTTP %d", code)
	}
	if body.taken != 0 {
		t.Errorf("%d bytes were sent", body.taken)
	}
}

// TestLargestBody sends as much as is allowed, all of it meaningful.
func TestLargestBody(t *testing.T) {
	server, h := start(t, gateway.Options{})
	const head, tail = `{"reader":{"language":"`, `"}}`
	text := strings.Repeat("e", gateway.MaxBodyBytes-len(head)-len(tail))
	// The gRPC side has a limit of its own, which counts fewer bytes than JSON has.
	if w := ask(t, h, http.MethodPost, tread, head+text+tail); w.Code != http.StatusOK {
		t.Fatalf("HTTP %d: %.200s", w.Code, w.Body)
	}
	call, _ := server.last()
	if got := call.request.(*pb.AssessTreadRequest).GetReader().GetLanguage(); got != text {
		t.Errorf("%d characters arrived, want %d", len(got), len(text))
	}
}

func TestBrokenOffBody(t *testing.T) {
	_, h := start(t, gateway.Options{})
	r := httptest.NewRequestWithContext(t.Context(), http.MethodPost, tread, io.MultiReader(
		bytes.NewReader([]byte("{")), errorReader{errors.New("192.0.2.1: connection reset")}))
	r.Header.Set("Content-Type", "application/json")
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	_, descriptions := violations(t, statusOf(t, w))
	if want := []string{"the body ended too early"}; !slices.Equal(descriptions, want) {
		t.Errorf("got %q, want %q", descriptions, want)
	}
}

type errorReader struct{ err error }

func (r errorReader) Read([]byte) (int, error) { return 0, r.err }

func TestContentType(t *testing.T) {
	_, h := start(t, gateway.Options{})
	tests := []struct {
		header []string
		code   int
	}{
		{[]string{"Content-Type", "application/json"}, http.StatusOK},
		{[]string{"Content-Type", "Application/JSON; charset=UTF-8"}, http.StatusOK},
		{[]string{"Content-Type", "application/json", "Content-Encoding", "identity"}, http.StatusOK},
		{[]string{"Content-Type", ""}, http.StatusUnsupportedMediaType},
		{[]string{"Content-Type", "json"}, http.StatusUnsupportedMediaType},
		{[]string{"Content-Type", "text/plain"}, http.StatusUnsupportedMediaType},
		{[]string{"Content-Type", "application/x-www-form-urlencoded"}, http.StatusUnsupportedMediaType},
		{[]string{"Content-Type", "application/json; charset=latin1"}, http.StatusUnsupportedMediaType},
		{[]string{"Content-Type", "application/json; charset"}, http.StatusUnsupportedMediaType},
		{[]string{"Content-Type", "application/json", "Content-Encoding", "gzip"}, http.StatusUnsupportedMediaType},
	}
	for _, test := range tests {
		t.Run(strings.Join(test.header, " "), func(t *testing.T) {
			w := ask(t, h, http.MethodPost, tread, "{}", test.header...)
			if w.Code != test.code {
				t.Fatalf("HTTP %d, want %d", w.Code, test.code)
			}
			if w.Code == http.StatusOK {
				return
			}
			if st := statusOf(t, w); codes.Code(st.GetCode()) != codes.InvalidArgument {
				t.Errorf("got %v", st)
			}
		})
	}
}

// TestAnswerForm holds the form of answers: names in camel case, enums by name,
// zeros there, what is absent and lists without entries not there, and no null.
func TestAnswerForm(t *testing.T) {
	server, h := start(t, gateway.Options{})
	server.answers(&pb.AssessTreadResponse{
		Assessment: &pb.Assessment{Findings: []*pb.Finding{{
			Urgency: pb.Urgency_URGENCY_NOTE,
			Rules:   []*pb.Rule{{Binds: []pb.Binds{}}},
			Limit:   &pb.Quantity{Amount: &pb.Quantity_Depth{Depth: &pb.Depth{AsRead: &pb.Depth_Millimeters{}}}},
		}}},
	}, nil)
	answer := plain(t, ask(t, h, http.MethodPost, tread, "{}").Body.Bytes())
	if _, there := answer["governingDepth"]; there {
		t.Error("a depth that nobody gave is there")
	}
	assessment := answer["assessment"].(map[string]any)
	if list, there := assessment["notLookedAt"]; there {
		t.Errorf("a list that the view may have left out is %v", list)
	}
	finding := assessment["findings"].([]any)[0].(map[string]any)
	want := map[string]any{
		"urgency": "URGENCY_NOTE", "comparison": "COMPARISON_UNSPECIFIED", "forTechnician": "",
	}
	for name, value := range want {
		if finding[name] != value {
			t.Errorf("%s is %v, want %v", name, finding[name], value)
		}
	}
	if rule := finding["rules"].([]any)[0].(map[string]any); rule["candidate"] != false || rule["binds"] != nil {
		t.Errorf("a rule of nothing is %v", rule)
	}
	if _, there := finding["causeRank"]; there {
		t.Error("a rank that nobody gave is there")
	}
	if depth := finding["limit"].(map[string]any)["depth"].(map[string]any); depth["millimeters"] != 0.0 || len(depth) != 1 {
		t.Errorf("a depth of 0 mm is %v", depth)
	}
}

func TestConcurrentCalls(t *testing.T) {
	server, h := start(t, gateway.Options{})
	server.answer = func(_ context.Context, req proto.Message) (proto.Message, error) {
		return &pb.GetVehicleResponse{Vehicle: &pb.Vehicle{Id: req.(*pb.GetVehicleRequest).GetVehicleId()}}, nil
	}
	results := make(chan string)
	const callers = 32
	for i := range callers {
		go func() {
			id := strings.Repeat("v", i+1)
			for range 20 {
				w := ask(t, h, http.MethodGet, "/v1/shops/north/vehicles/"+id, "")
				if !strings.Contains(w.Body.String(), `"`+id+`"`) {
					results <- w.Body.String()
					return
				}
				if w := ask(t, h, http.MethodGet, "/v1/shops/north/vehicles/"+id+"?x=1", ""); w.Code != http.StatusBadRequest {
					results <- w.Body.String()
					return
				}
			}
			results <- ""
		}()
	}
	for range callers {
		if wrong := <-results; wrong != "" {
			t.Errorf("another's answer: %s", wrong)
		}
	}
}
