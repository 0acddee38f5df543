package gateway_test

import (
	"net/http"
	"regexp"
	"strings"
	"testing"

	"google.golang.org/grpc/codes"
	healthpb "google.golang.org/grpc/health/grpc_health_v1"

	"gaugebook.dev/gateway"
)

func TestMethods(t *testing.T) {
	server, h := start(t, gateway.Options{})
	tests := []struct {
		name, method, target string
		header               []string
		code                 int
		allow                string
	}{
		{"unknown path", "GET", "/v1/tires", nil, 404, ""},
		{"post to the root", "POST", "/", nil, 405, "GET, HEAD, OPTIONS"},
		{"nothing at all", "GET", "//", nil, 404, ""},
		{"slash at the end", "GET", "/v1/server/", nil, 404, ""},
		{"two slashes in front", "GET", "//v1/server", nil, 404, ""},
		{"another case", "GET", "/V1/server", nil, 404, ""},
		{"a step up", "GET", "/v1/x/../server", nil, 404, ""},
		{"a verb that is none", "GET", "/v1/server:stop", nil, 404, ""},
		{"unknown path, OPTIONS", "OPTIONS", "/v1/tires", nil, 404, ""},
		{"post to what is read", "POST", "/v1/server", nil, 405, "GET, HEAD, OPTIONS"},
		{"delete", "DELETE", "/v1/shops/north", nil, 405, "GET, HEAD, OPTIONS, PATCH"},
		{"patch", "PATCH", "/v1/shops/north/vehicles", nil, 405, "GET, HEAD, OPTIONS, POST"},
		{"get what is sent", "GET", tread, nil, 405, "OPTIONS, POST"},
		{"head what is sent", "HEAD", tread, nil, 405, "OPTIONS, POST"},
		{"get with a verb", "GET", inspections + "/v-1:reassess", nil, 405, "OPTIONS, POST"},
		{"a method of our own", "PULL", "/v1/shops/north/changes", nil, 405, "GET, HEAD, OPTIONS"},
		{"post to a page", "POST", "/healthz", nil, 405, "GET, HEAD, OPTIONS"},
		{"another method in a header", "POST", "/v1/shops/north",
			[]string{"X-Http-Method-Override", "PATCH"}, 405, "GET, HEAD, OPTIONS, PATCH"},
		{"form in place of a get", "POST", "/v1/server",
			[]string{"Content-Type", "application/x-www-form-urlencoded"}, 405, "GET, HEAD, OPTIONS"},
		{"form with another method", "POST", "/v1/shops/north",
			[]string{"Content-Type", "application/x-www-form-urlencoded", "X-Http-Method-Override", "GET"}, 405, "GET, HEAD, OPTIONS, PATCH"},
		{"options", "OPTIONS", "/v1/shops/north", nil, 204, "GET, HEAD, OPTIONS, PATCH"},
		{"options of a page", "OPTIONS", "/openapi.json", nil, 204, "GET, HEAD, OPTIONS"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			w := ask(t, h, test.method, test.target, "", test.header...)
			if w.Code != test.code {
				t.Errorf("HTTP %d, want %d", w.Code, test.code)
			}
			if got := w.Header().Get("Allow"); got != test.allow {
				t.Errorf("Allow %q, want %q", got, test.allow)
			}
			wantCode := map[int]codes.Code{404: codes.NotFound, 405: codes.Unimplemented}
			if want, refused := wantCode[test.code]; refused {
				if got := statusOf(t, w); codes.Code(got.GetCode()) != want {
					t.Errorf("got %v", got)
				}
			}
			if w.Header().Get("X-Content-Type-Options") != "nosniff" || w.Header().Get("Cache-Control") != "no-store" {
				t.Errorf("header %v", w.Header())
			}
			if _, made := server.last(); made {
				t.Error("a call was made")
			}
		})
	}
}

// TestHead asks over a connection: it is the server that leaves the body out.
func TestHead(t *testing.T) {
	_, h := start(t, gateway.Options{})
	address := overNetwork(t, h)
	for _, target := range []string{"/v1/shops/north", "/openapi.json", "/healthz", "/v1/shops/a:b", "/v1/tires"} {
		t.Run(target, func(t *testing.T) {
			codes, types := map[string]int{}, map[string]string{}
			for _, method := range []string{http.MethodGet, http.MethodHead} {
				r, err := http.NewRequestWithContext(t.Context(), method, address+target, nil)
				if err != nil {
					t.Fatal(err)
				}
				code, header, body := send(t, r)
				if (len(body) == 0) != (method == http.MethodHead) {
					t.Errorf("%s gives %d bytes", method, len(body))
				}
				codes[method], types[method] = code, header.Get("Content-Type")
			}
			if codes["GET"] != codes["HEAD"] || types["GET"] != types["HEAD"] {
				t.Errorf("%v %v", codes, types)
			}
		})
	}
}

// TestOrigins is about the protocol of the Fetch standard, section 3.3, CORS.
func TestOrigins(t *testing.T) {
	const counter, elsewhere = "http://192.0.2.10:8080", "http://192.0.2.66"
	allowed := gateway.Options{AllowedOrigins: []string{"http://192.0.2.10:8080/"}}
	tests := []struct {
		name           string
		options        gateway.Options
		method, origin string
		preflight      bool
		code           int
		shared         bool
		vary           string
	}{
		{"none allowed, call", gateway.Options{}, "GET", counter, false, 200, false, ""},
		{"none allowed, question", gateway.Options{}, "OPTIONS", counter, true, 204, false, ""},
		{"allowed, call", allowed, "GET", counter, false, 200, true, "Origin"},
		{"allowed, question", allowed, "OPTIONS", counter, true, 204, true, "Origin"},
		{"allowed, OPTIONS without a question", allowed, "OPTIONS", counter, false, 204, true, "Origin"},
		{"allowed, refused call", allowed, "DELETE", counter, false, 405, true, "Origin"},
		{"elsewhere, call", allowed, "GET", elsewhere, false, 200, false, "Origin"},
		{"elsewhere, question", allowed, "OPTIONS", elsewhere, true, 204, false, "Origin"},
		{"no page", allowed, "GET", "", false, 200, false, "Origin"},
		{"nobody", allowed, "GET", "null", false, 200, false, "Origin"},
		{"one that begins alike", allowed, "GET", counter + "0", false, 200, false, "Origin"},
		{"all of them", gateway.Options{AllowedOrigins: []string{"*"}}, "GET", elsewhere, false, 200, false, "Origin"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, h := start(t, test.options)
			header := []string{"Origin", test.origin}
			if test.preflight {
				header = append(header, "Access-Control-Request-Method", "PUT", "Access-Control-Request-Headers", "authorization")
			}
			w := ask(t, h, test.method, "/v1/shops/north", "", header...)
			want := map[string]string{"Vary": test.vary}
			if test.shared {
				want["Access-Control-Allow-Origin"] = test.origin
				want["Access-Control-Expose-Headers"] = "Allow, Retry-After, WWW-Authenticate, X-Request-Id"
			}
			if test.shared && test.preflight {
				want["Access-Control-Allow-Methods"] = "GET, HEAD, OPTIONS, PATCH"
				want["Access-Control-Allow-Headers"] = "Authorization, Content-Type, Grpc-Timeout, X-Request-Id"
				want["Access-Control-Max-Age"] = "600"
			}
			if w.Code != test.code {
				t.Errorf("HTTP %d, want %d", w.Code, test.code)
			}
			for name := range w.Header() {
				if strings.HasPrefix(name, "Access-Control-") && want[name] == "" {
					t.Errorf("%s: %q", name, w.Header().Get(name))
				}
			}
			for name, value := range want {
				if got := w.Header().Get(name); got != value {
					t.Errorf("%s: %q, want %q", name, got, value)
				}
			}
		})
	}
}

// A browser at the root is told what this is, and every path that it is sent to is there.
func TestRoot(t *testing.T) {
	server, h := start(t, gateway.Options{})
	server.health.SetServingStatus("", healthpb.HealthCheckResponse_SERVING)
	w := ask(t, h, http.MethodGet, "/", "")
	if w.Code != http.StatusOK || w.Header().Get("Content-Type") != "text/plain; charset=utf-8" {
		t.Fatalf("HTTP %d, %v", w.Code, w.Header())
	}
	named := regexp.MustCompile(`(POST )?(/[a-z][\w./-]*)`).FindAllStringSubmatch(w.Body.String(), -1)
	if len(named) < 5 {
		t.Fatalf("the page names %q", named)
	}
	for _, path := range named {
		method := http.MethodGet
		if path[1] != "" {
			method = http.MethodPost
		}
		if got := ask(t, h, method, path[2], "").Code; got == http.StatusNotFound || got == http.StatusMethodNotAllowed {
			t.Errorf("%s %s: HTTP %d", method, path[2], got)
		}
	}
	for line := range strings.Lines(w.Body.String()) {
		if len(line) > 81 {
			t.Errorf("wider than a terminal: %q", line)
		}
	}
}

func TestHealth(t *testing.T) {
	server, h := start(t, gateway.Options{})
	tests := []struct {
		status        healthpb.HealthCheckResponse_ServingStatus
		alive, served int
	}{
		{healthpb.HealthCheckResponse_SERVING, 200, 200},
		{healthpb.HealthCheckResponse_NOT_SERVING, 200, 503},
		{healthpb.HealthCheckResponse_SERVING, 200, 200},
	}
	for _, test := range tests {
		server.health.SetServingStatus("", test.status)
		if got := ask(t, h, http.MethodGet, "/healthz", "").Code; got != test.alive {
			t.Errorf("%v: /healthz %d", test.status, got)
		}
		w := ask(t, h, http.MethodGet, "/readyz", "")
		if w.Code != test.served {
			t.Errorf("%v: /readyz %d", test.status, w.Code)
		}
		if test.served == 200 {
			if got := plain(t, w.Body.Bytes())["status"]; got != "SERVING" {
				t.Errorf("/readyz says %v", got)
			}
		} else if got := statusOf(t, w); codes.Code(got.GetCode()) != codes.Unavailable || got.GetMessage() != "not ready" {
			t.Errorf("/readyz says %v", got)
		}
	}
}

// TestServerLimits sends a header longer than the server reads.
func TestServerLimits(t *testing.T) {
	_, h := start(t, gateway.Options{})
	r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, overNetwork(t, h)+"/v1/server", nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Authorization", "Bearer "+strings.Repeat("t", 64<<10))
	if code, _, _ := send(t, r); code != http.StatusRequestHeaderFieldsTooLarge {
		t.Errorf("HTTP %d", code)
	}

	limits := gateway.HTTPServer(h)
	if limits.ReadHeaderTimeout <= 0 || limits.IdleTimeout <= 0 {
		t.Error("a client may hold a connection for ever")
	}
	if limits.ReadTimeout <= gateway.CallTimeout {
		t.Error("a call under way would be canceled")
	}
	if limits.WriteTimeout < limits.ReadTimeout+gateway.CallTimeout {
		t.Error("a call would have no time left to be answered")
	}
}
