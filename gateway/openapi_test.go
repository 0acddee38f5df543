package gateway_test

import (
	"encoding/json"
	"maps"
	"net/http"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"go.yaml.in/yaml/v3"
	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/reflect/protoregistry"

	"gaugebook.dev/gateway"
	pb "gaugebook.dev/proto/gaugebook/v1"
)

// grpcOnly lists the calls that HTTP does not have, each with why.
var grpcOnly = map[string]string{
	"gaugebook.v1.CounterService.FollowChanges":   "a stream: over HTTP, PullChanges is held until something comes",
	"gaugebook.v1.InspectionService.ReassessBook": "a stream: over HTTP, ReassessInspection judges one visit",
	"gaugebook.v1.PhotoService.PutPhoto":          "bytes, which JSON would carry as base64",
}

// rule is one entry of gateway.yaml.
type rule struct {
	Selector, Get, Put, Post, Patch, Delete, Body string
}

func (r rule) methodAndPath() (method, path string) {
	for method, path := range map[string]string{"GET": r.Get, "PUT": r.Put, "POST": r.Post, "PATCH": r.Patch, "DELETE": r.Delete} {
		if path != "" {
			return method, path
		}
	}
	return "", ""
}

func rules(t *testing.T) []rule {
	t.Helper()
	text, err := os.ReadFile("gateway.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ HTTP struct{ Rules []rule } }
	if err := yaml.Unmarshal(text, &file); err != nil {
		t.Fatal(err)
	}
	return file.HTTP.Rules
}

// contractMethods gives every call of the contract by its full name.
func contractMethods() map[string]protoreflect.MethodDescriptor {
	all := map[string]protoreflect.MethodDescriptor{}
	protoregistry.GlobalFiles.RangeFilesByPackage("gaugebook.v1", func(file protoreflect.FileDescriptor) bool {
		for i := range file.Services().Len() {
			methods := file.Services().Get(i).Methods()
			for j := range methods.Len() {
				all[string(methods.Get(j).FullName())] = methods.Get(j)
			}
		}
		return true
	})
	return all
}

func TestEveryCallIsRouted(t *testing.T) {
	calls := contractMethods()
	routed := map[string]bool{}
	for _, r := range rules(t) {
		if calls[r.Selector] == nil {
			t.Errorf("gateway.yaml routes %s, which the contract does not have", r.Selector)
		}
		if routed[r.Selector] {
			t.Errorf("gateway.yaml routes %s twice", r.Selector)
		}
		routed[r.Selector] = true
	}
	for name, method := range calls {
		why, only := grpcOnly[name]
		switch {
		case only && why == "":
			t.Errorf("%s is not on HTTP, and nobody says why", name)
		case only == routed[name]:
			t.Errorf("%s: routed %v, on the list of gRPC-only calls %v", name, routed[name], only)
		case routed[name] && (method.IsStreamingClient() || method.IsStreamingServer()):
			t.Errorf("%s is a stream", name)
		}
	}
	for name := range grpcOnly {
		if calls[name] == nil {
			t.Errorf("%s is on the list of gRPC-only calls and not in the contract", name)
		}
	}

	published := map[string]bool{}
	swagger := servedDocument(t, "/swagger.json")
	for _, item := range swagger["paths"].(map[string]any) {
		for _, operation := range item.(map[string]any) {
			id := operation.(map[string]any)["operationId"].(string)
			published["gaugebook.v1."+strings.ReplaceAll(id, "_", ".")] = true
		}
	}
	if !maps.Equal(published, routed) {
		t.Errorf("gateway.yaml routes %v, the document has %v", routed, published)
	}
}

var variable = regexp.MustCompile(`\{([a-z0-9_]+)\}`)

// TestEveryRouteReachesItsCall makes each call once, with an id for each variable
// part of its path.
func TestEveryRouteReachesItsCall(t *testing.T) {
	server, h := start(t, gateway.Options{})
	calls := contractMethods()
	for _, r := range rules(t) {
		t.Run(r.Selector, func(t *testing.T) {
			method, template := r.methodAndPath()
			path := variable.ReplaceAllString(template, "my-$1")
			body := ""
			if r.Body != "" {
				body = "{}"
			}
			if w := ask(t, h, method, path, body); w.Code != http.StatusOK {
				t.Fatalf("HTTP %d: %s", w.Code, w.Body)
			}
			call, _ := server.last()
			dot := strings.LastIndex(r.Selector, ".")
			if want := "/" + r.Selector[:dot] + "/" + r.Selector[dot+1:]; call.method != want {
				t.Errorf("reached %s", call.method)
			}
			for _, found := range variable.FindAllStringSubmatch(template, -1) {
				field := calls[r.Selector].Input().Fields().ByName(protoreflect.Name(found[1]))
				if got := call.request.ProtoReflect().Get(field).String(); got != "my-"+found[1] {
					t.Errorf("%s is %q", found[1], got)
				}
			}
		})
	}
}

// TestQueryKinds holds that every query parameter that the document offers is of
// a kind that is read from a query.
func TestQueryKinds(t *testing.T) {
	_, h := start(t, gateway.Options{})
	samples := map[string]string{
		"string": "x", "int32": "7", "bool": "true", "double": "0.5", "google.protobuf.Duration": "2s",
	}
	calls := contractMethods()
	count := 0
	for path, item := range servedDocument(t, "/swagger.json")["paths"].(map[string]any) {
		for method, operation := range item.(map[string]any) {
			operation := operation.(map[string]any)
			call := calls["gaugebook.v1."+strings.ReplaceAll(operation["operationId"].(string), "_", ".")]
			parameters, _ := operation["parameters"].([]any)
			for _, parameter := range parameters {
				parameter := parameter.(map[string]any)
				if parameter["in"] != "query" {
					continue
				}
				count++
				name := parameter["name"].(string)
				message, field := call.Input(), protoreflect.FieldDescriptor(nil)
				for part := range strings.SplitSeq(name, ".") {
					if field != nil {
						message = field.Message()
					}
					field = message.Fields().ByJSONName(part)
				}
				if field == nil || field.IsList() {
					t.Errorf("%s %s: %s is no single field of the request", method, path, name)
					continue
				}
				kind := field.Kind().String()
				sample := samples[kind]
				switch {
				case field.Enum() != nil:
					sample = string(field.Enum().Values().Get(1).Name())
				case field.Message() != nil:
					sample = samples[string(field.Message().FullName())]
				}
				if sample == "" {
					t.Errorf("%s %s: no sample for %s of kind %s", method, path, name, kind)
					continue
				}
				target := regexp.MustCompile(`\{\w+\}`).ReplaceAllString(path, "id") + "?" + name + "=" + sample
				// Of a photo without a byte there is nothing from the seventh on.
				beyond := name == "offsetBytes"
				if w := ask(t, h, strings.ToUpper(method), target, ""); w.Code != http.StatusOK && (!beyond || w.Code != http.StatusRequestedRangeNotSatisfiable) {
					t.Errorf("%s %s: HTTP %d: %s", method, target, w.Code, w.Body)
				}
			}
		}
	}
	if count == 0 {
		t.Error("no query parameter found: looked in the wrong place?")
	}
}

func servedDocument(t *testing.T, path string) map[string]any {
	t.Helper()
	_, h := start(t, gateway.Options{})
	w := ask(t, h, http.MethodGet, path, "")
	if w.Code != http.StatusOK || w.Header().Get("Content-Type") != "application/json" {
		t.Fatalf("%s: HTTP %d, %v", path, w.Code, w.Header())
	}
	return plain(t, w.Body.Bytes())
}

// openAPI3Of loads the served document with a library that validates it.
func openAPI3Of(t *testing.T) *openapi3.T {
	t.Helper()
	_, h := start(t, gateway.Options{})
	loader := openapi3.NewLoader()
	doc, err := loader.LoadFromData(ask(t, h, http.MethodGet, "/openapi.json", "").Body.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

func TestOpenAPI3IsValid(t *testing.T) {
	doc := openAPI3Of(t)
	if err := doc.Validate(t.Context()); err != nil {
		t.Error(err)
	}
	if !strings.HasPrefix(doc.OpenAPI, "3.") || doc.Info.Title != "Gaugebook" {
		t.Errorf("%s of %s", doc.OpenAPI, doc.Info.Title)
	}
	// RFC 6750 in the words of the OpenAPI Specification 3.0.3, section 4.7.23.
	if scheme := doc.Components.SecuritySchemes["bearer"]; scheme == nil || scheme.Value.Type != "http" || scheme.Value.Scheme != "bearer" {
		t.Errorf("security scheme %v", scheme)
	}
	if len(doc.Security) != 1 || doc.Security[0]["bearer"] == nil {
		t.Errorf("security %v", doc.Security)
	}
	for path, item := range doc.Paths.Map() {
		for method, operation := range item.Operations() {
			open := operation.Security != nil && len(*operation.Security) == 0
			if open != (path == "/v1/server") {
				t.Errorf("%s %s without token: %v", method, path, open)
			}
		}
	}
	// Nothing of the first document is lost in the second.
	first := servedDocument(t, "/swagger.json")
	if got, want := doc.Paths.Len(), len(first["paths"].(map[string]any)); got != want {
		t.Errorf("%d paths, want %d", got, want)
	}
	if got, want := len(doc.Components.Schemas), len(first["definitions"].(map[string]any)); got != want {
		t.Errorf("%d schemas, want %d", got, want)
	}
}

// TestOnlyServedCallsAreTold leaves calls out, with what only they have: the only
// call of a service, one of several at a path, and messages of their own.
func TestOnlyServedCallsAreTold(t *testing.T) {
	var served []string
	for name := range contractMethods() {
		if name != "gaugebook.v1.OutboxService.SendBatch" && name != "gaugebook.v1.PhotoService.GetPhoto" && name != "gaugebook.v1.ShopService.UpdateShop" {
			served = append(served, name)
		}
	}
	_, all := start(t, gateway.Options{})
	_, some := start(t, gateway.Options{Served: served})
	for _, path := range []string{"/swagger.json", "/openapi.json"} {
		before, after := ask(t, all, http.MethodGet, path, "").Body.String(), ask(t, some, http.MethodGet, path, "").Body.String()
		for text, stays := range map[string]bool{
			"OutboxService": false, "SendBatch": false, "PhotoService_GetPhoto": false, "ShopService_UpdateShop": false, "OutboxItem": false,
			"PhotoService_PutPhoto": true, "ShopService_GetShop": true, "RecordInspectionRequest": true,
		} {
			if told := strings.Contains(after, text); told != stays && strings.Contains(before, text) {
				t.Errorf("%s: %s is told: %v", path, text, told)
			}
		}
	}
	loader := openapi3.NewLoader()
	doc, err := loader.LoadFromData(ask(t, some, http.MethodGet, "/openapi.json", "").Body.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if err := doc.Validate(t.Context()); err != nil {
		t.Error(err)
	}
}

// TestReferences follows every $ref of both documents (RFC 6901).
func TestReferences(t *testing.T) {
	for _, path := range []string{"/swagger.json", "/openapi.json"} {
		t.Run(path, func(t *testing.T) {
			doc := servedDocument(t, path)
			used := map[string]bool{}
			var walk func(v any)
			walk = func(v any) {
				switch v := v.(type) {
				case []any:
					for _, element := range v {
						walk(element)
					}
				case map[string]any:
					if ref, ok := v["$ref"].(string); ok && !used[ref] {
						used[ref] = true
						if at(doc, strings.Split(strings.TrimPrefix(ref, "#/"), "/")) == nil {
							t.Errorf("%s leads nowhere", ref)
						}
					}
					for _, value := range v {
						walk(value)
					}
				}
			}
			walk(doc)
			if len(used) < 50 {
				t.Errorf("%d references: looked in the wrong place?", len(used))
			}
		})
	}
}

// at follows names into a document.
func at(doc any, names []string) any {
	for _, name := range names {
		object, _ := doc.(map[string]any)
		doc = object[name]
	}
	return doc
}

// TestAnswersFitTheDocument fills every answer of the contract and holds its JSON
// against the schema that the document gives for it.
func TestAnswersFitTheDocument(t *testing.T) {
	doc := openAPI3Of(t)
	no := false
	for _, schema := range doc.Components.Schemas {
		schema.Value.AdditionalProperties = openapi3.BoolSchema{Has: &no} // a name not in the document is an error
	}
	for name, call := range contractMethods() {
		if _, only := grpcOnly[name]; only {
			continue
		}
		t.Run(name, func(t *testing.T) {
			found, err := protoregistry.GlobalTypes.FindMessageByName(call.Output().FullName())
			if err != nil {
				t.Fatal(err)
			}
			schema := doc.Components.Schemas[string(call.Output().Name())]
			for _, m := range []proto.Message{found.New().Interface(), filled(found, 12)} {
				text, err := protojson.MarshalOptions{EmitDefaultValues: true}.Marshal(m)
				if err != nil {
					t.Fatal(err)
				}
				var v any
				if err := json.Unmarshal(text, &v); err != nil {
					t.Fatal(err)
				}
				if err := schema.Value.VisitJSON(v); err != nil {
					t.Errorf("%v in %.300s", err, text)
				}
			}
		})
	}
}

// filled makes a message with something in every field, one element in every
// list, to the depth given. Of fields that exclude one another the last is set.
func filled(of protoreflect.MessageType, depth int) proto.Message {
	m := of.New()
	fill(m, depth)
	return m.Interface()
}

func fill(m protoreflect.Message, depth int) {
	fields := m.Descriptor().Fields()
	for i := range fields.Len() {
		field := fields.Get(i)
		switch {
		case field.IsMap():
			m.Mutable(field).Map().Set(protoreflect.ValueOfString("key").MapKey(), protoreflect.ValueOfString("value"))
		case field.Message() != nil && depth == 0:
		case field.IsList() && field.Message() != nil:
			fill(m.Mutable(field).List().AppendMutable().Message(), depth-1)
		case field.IsList():
			m.Mutable(field).List().Append(something(field))
		case field.Message() != nil:
			fill(m.Mutable(field).Message(), depth-1)
		default:
			m.Set(field, something(field))
		}
	}
}

// something is a value of a single field that is not zero.
func something(field protoreflect.FieldDescriptor) protoreflect.Value {
	switch field.Kind() {
	case protoreflect.BoolKind:
		return protoreflect.ValueOfBool(true)
	case protoreflect.EnumKind:
		return protoreflect.ValueOfEnum(field.Enum().Values().Get(field.Enum().Values().Len() - 1).Number())
	case protoreflect.Int32Kind:
		return protoreflect.ValueOfInt32(7)
	case protoreflect.Int64Kind:
		return protoreflect.ValueOfInt64(7)
	case protoreflect.DoubleKind:
		return protoreflect.ValueOfFloat64(0.5)
	case protoreflect.StringKind:
		return protoreflect.ValueOfString("something")
	case protoreflect.BytesKind:
		return protoreflect.ValueOfBytes([]byte("something"))
	}
	panic("no sample of kind " + field.Kind().String())
}

// TestServesWhatIsGenerated holds that the document served is the file that the
// generator wrote.
func TestServesWhatIsGenerated(t *testing.T) {
	_, h := start(t, gateway.Options{})
	file, err := os.ReadFile("gaugebook.swagger.json")
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(ask(t, h, http.MethodGet, "/swagger.json", "").Body.Bytes(), file) {
		t.Error("they differ")
	}
}

// TestContractHasNoHTTP holds that the contract can be compiled without HTTP.
func TestContractHasNoHTTP(t *testing.T) {
	protoregistry.GlobalFiles.RangeFilesByPackage(pb.File_gaugebook_v1_shop_service_proto.Package(), func(file protoreflect.FileDescriptor) bool {
		for i := range file.Imports().Len() {
			if path := file.Imports().Get(i).Path(); strings.HasPrefix(path, "google/api/") || strings.Contains(path, "openapi") {
				t.Errorf("%s imports %s", file.Path(), path)
			}
		}
		return true
	})
}
