package gateway

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"maps"
	"mime"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/grpc-ecosystem/grpc-gateway/v2/runtime"
	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	"gaugebook.dev/gateway/strictjson"
)

// serve makes the handler of a call: it reads the whole request, makes the call
// with it and answers.
func (g *gateway) serve(c *call) handler {
	return func(w http.ResponseWriter, r *http.Request, params map[string]string) {
		ctx, cancel := context.WithTimeout(r.Context(), CallTimeout)
		defer cancel()
		request, err := c.read(w, r, params)
		if err != nil {
			refuse(w, err)
			return
		}
		g.forward(ctx, w, r, c, request)
	}
}

// forward makes the call and answers with what comes back. The gRPC side is told
// nothing of where the request came from but what innerHeader lets in.
func (g *gateway) forward(ctx context.Context, w http.ResponseWriter, r *http.Request, c *call, request proto.Message) {
	inner := &http.Request{Header: innerHeader(r)}
	out, err := runtime.AnnotateContext(ctx, g.mux, inner, c.method)
	if err != nil {
		runtime.HTTPError(ctx, g.mux, answers, w, inner, err)
		return
	}
	var sent runtime.ServerMetadata
	answer := c.answer.New().Interface()
	err = g.conn.Invoke(out, c.method, request, answer, grpc.StaticMethod(), grpc.Header(&sent.HeaderMD))
	ctx = runtime.NewServerMetadataContext(ctx, sent)
	if err != nil {
		runtime.HTTPError(ctx, g.mux, answers, w, inner, err)
		return
	}
	runtime.ForwardResponseMessage(ctx, g.mux, answers, w, inner, answer)
}

// read makes the message of a request from its path, query and body, or tells
// everything that is wrong with it.
func (c *call) read(w http.ResponseWriter, r *http.Request, params map[string]string) (proto.Message, error) {
	body, err := c.takeBody(w, r)
	if err != nil {
		return nil, err
	}
	request := c.request.New()
	problems := checkPath(params)
	problems = append(problems, c.readQuery(r.URL.RawQuery, request)...)
	if c.takesBody {
		problems = append(problems, c.readBody(body, request, params)...)
	}
	if len(problems) > 0 {
		return nil, invalid(problems)
	}
	for name, value := range params {
		request.Set(c.inPath[name], protoreflect.ValueOfString(value))
	}
	return request.Interface(), nil
}

// isID matches what may stand in a path: characters that RFC 3986, section 2.3,
// leaves unescaped, without a dot in front.
var isID = regexp.MustCompile(`^[A-Za-z0-9_~-][A-Za-z0-9._~-]{0,127}$`).MatchString

// checkPath refuses a variable part that is no id. "1:pull" would be taken for
// the id of another call's record, ".." by a proxy for another path.
func checkPath(params map[string]string) (problems []strictjson.Problem) {
	for _, name := range slices.Sorted(maps.Keys(params)) {
		if !isID(params[name]) {
			problems = append(problems, strictjson.Problem{
				Path: name, Problem: "not an id", Given: strconv.QuoteToASCII(params[name]),
				Want: "1 to 128 letters, digits and . _ ~ -, no dot in front",
			})
		}
	}
	return problems
}

// readQuery reads the query into the request as the JSON object that it stands
// for, as strictly as a body. No field of the body may stand in it.
func (c *call) readQuery(raw string, request protoreflect.Message) (problems []strictjson.Problem) {
	values, err := url.ParseQuery(raw)
	if err != nil {
		return []strictjson.Problem{{Problem: "the query is not well escaped", Want: "name=value&name=value, the values percent-encoded"}}
	}
	members := object{}
	for _, name := range slices.Sorted(maps.Keys(values)) {
		field := fieldAt(c.request.Descriptor(), name)
		if len(c.inQuery) == 0 || field != nil && !c.takes(field) {
			problems = append(problems, strictjson.Problem{Path: queryPath(name), Problem: "not a query parameter of this call"})
			continue
		}
		for _, value := range values[name] {
			if utf8.ValidString(name + value) {
				members.add(name, memberValue(field, value))
			} else {
				problems = append(problems, strictjson.Problem{Path: queryPath(name), Problem: "not UTF-8"})
			}
		}
	}

	found := strictjson.Read([]byte(members.text()), request.Interface())
	for i := range found {
		found[i].Line, found[i].Column = 0, 0 // of a text that nobody sent
	}
	return append(problems, found...)
}

// takes tells whether a field may stand in the query of this call.
func (c *call) takes(field protoreflect.FieldDescriptor) bool {
	for _, f := range c.inQuery {
		if f == field {
			return true
		}
	}
	return false
}

// object is a JSON object as a query tells it: each member with its values, of
// which more than one is for the strict reader to refuse, and the objects within.
type object struct {
	members []string
	within  map[string]*object
}

// add puts a value in by its name, dots leading into the objects within.
func (o *object) add(name, value string) {
	first, rest, within := strings.Cut(name, ".")
	if !within {
		o.members = append(o.members, quoted(name)+":"+value)
		return
	}
	if o.within == nil {
		o.within = map[string]*object{}
	}
	if o.within[first] == nil {
		o.within[first] = &object{}
	}
	o.within[first].add(rest, value)
}

func (o *object) text() string {
	all := slices.Clone(o.members)
	for _, name := range slices.Sorted(maps.Keys(o.within)) {
		all = append(all, quoted(name)+":"+o.within[name].text())
	}
	return "{" + strings.Join(all, ",") + "}"
}

var isIdentifier = regexp.MustCompile(`^[A-Za-z_][A-Za-z0-9_]*$`).MatchString

// queryPath is the path of a query parameter. A name that no field could have is
// quoted, as strictjson does.
func queryPath(name string) string {
	if isIdentifier(name) {
		return name
	}
	return "[" + strconv.QuoteToASCII(name) + "]"
}

// memberValue writes a query value as the JSON value of its field.
func memberValue(field protoreflect.FieldDescriptor, value string) string {
	if field != nil && field.Kind() != protoreflect.StringKind && bareValue(value) {
		return value
	}
	return quoted(value)
}

// bareValue says whether JSON writes a value without quotes.
var bareValue = regexp.MustCompile(`^(-?[0-9][0-9.eE+-]*|true|false)$`).MatchString

func quoted(s string) string {
	text, err := json.Marshal(s)
	if err != nil {
		panic(err) // text always has a form in JSON
	}
	return string(text)
}

// takeBody takes the body off the connection, at most MaxBodyBytes of it. A body
// that says it is longer is not touched.
func (c *call) takeBody(w http.ResponseWriter, r *http.Request) ([]byte, error) {
	if !c.takesBody {
		if r.ContentLength != 0 {
			return nil, invalid([]strictjson.Problem{{Problem: "this call takes no body"}})
		}
		return nil, nil
	}
	if err := checkContentType(w, r); err != nil {
		return nil, err
	}
	if r.ContentLength > MaxBodyBytes {
		return nil, tooLarge()
	}
	body, err := io.ReadAll(http.MaxBytesReader(w, r.Body, MaxBodyBytes))
	var over *http.MaxBytesError
	switch {
	case errors.As(err, &over):
		return nil, tooLarge()
	case err != nil:
		return nil, invalid([]strictjson.Problem{{Problem: "the body ended too early"}})
	}
	return body, nil
}

// checkContentType demands plain JSON. A body of which nothing is said is refused
// too: a page of any origin could send it without asking.
func checkContentType(w http.ResponseWriter, r *http.Request) error {
	unsupported := func(message string) error {
		return &runtime.HTTPStatusError{
			HTTPStatus: http.StatusUnsupportedMediaType,
			Err:        status.Error(codes.InvalidArgument, message),
		}
	}
	kind, more, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if charset, told := more["charset"]; err != nil || kind != "application/json" || told && !strings.EqualFold(charset, "utf-8") {
		return unsupported("the body has to be application/json in UTF-8, and the header Content-Type has to say so")
	}
	if packed := r.Header.Get("Content-Encoding"); packed != "" && packed != "identity" {
		w.Header().Set("Accept-Encoding", "identity") // RFC 9110, section 15.5.16
		return unsupported("the body has to be sent as it is, not compressed")
	}
	return nil
}

// readBody reads the body, which is the request.
func (c *call) readBody(body []byte, request protoreflect.Message, params map[string]string) []strictjson.Problem {
	problems := strictjson.Read(body, request.Interface())
	for _, name := range slices.Sorted(maps.Keys(params)) {
		if given := request.Get(c.inPath[name]).String(); given != "" && given != params[name] {
			problems = append(problems, strictjson.Problem{
				Path: name, Problem: "not the one in the path of the call", Want: "leave the field out",
			})
		}
	}
	return problems
}
