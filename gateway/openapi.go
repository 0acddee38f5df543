package gateway

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"strings"
	"sync"

	"github.com/getkin/kin-openapi/openapi2"
	"github.com/getkin/kin-openapi/openapi2conv"
	"github.com/getkin/kin-openapi/openapi3"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/reflect/protoregistry"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// swagger is the generated document of all calls, Swagger 2. The generator
// writes no later form of it from routes that are kept outside the contract.
//
//go:embed gaugebook.swagger.json
var swagger []byte

// calls are those of the contract, by path template and HTTP method.
type calls map[string]map[string]*call

// call is one call of the contract as the document tells it.
type call struct {
	method          string // as gRPC names it: "/gaugebook.v1.ShopService/GetShop"
	request, answer protoreflect.MessageType
	// inPath are the fields that stand in the path, all of them texts, inQuery those
	// that may stand in the query, by JSON name.
	inPath, inQuery map[string]protoreflect.FieldDescriptor
	takesBody       bool // the body is the request
}

// published reads the document once. It panics where the document cannot be
// read or does not fit the contract: both are part of the program.
var published = sync.OnceValue(func() calls {
	all, err := publish(swagger)
	if err != nil {
		panic(fmt.Sprintf("gaugebook.swagger.json: %v", err))
	}
	return all
})

func publish(document []byte) (calls, error) {
	var v2 openapi2.T
	if err := json.Unmarshal(document, &v2); err != nil {
		return nil, err
	}
	all := calls{}
	for path, item := range v2.Paths {
		all[path] = map[string]*call{}
		for method, operation := range item.Operations() {
			c, err := newCall(operation)
			if err != nil {
				return nil, fmt.Errorf("%s %s: %w", method, path, err)
			}
			all[path][method] = c
		}
	}
	return all, nil
}

// documents are what is told of the calls.
type documents struct{ swagger, openAPI3 []byte }

// documentsOf tells of the calls that are served. It panics like published.
func documentsOf(served []string) documents {
	v2, err := onlyServed(swagger, served)
	if err != nil {
		panic(fmt.Sprintf("gaugebook.swagger.json: %v", err))
	}
	v3, err := toOpenAPI3(v2)
	if err != nil {
		panic(fmt.Sprintf("gaugebook.swagger.json: %v", err))
	}
	return documents{v2, v3}
}

func toOpenAPI3(document []byte) ([]byte, error) {
	var v2 openapi2.T
	if err := json.Unmarshal(document, &v2); err != nil {
		return nil, err
	}
	v3, err := openapi2conv.ToV3(&v2)
	if err != nil {
		return nil, err
	}
	// Swagger 2 has no word for a bearer token and calls it a key in a header.
	v3.Components.SecuritySchemes["bearer"] = &openapi3.SecuritySchemeRef{
		Value: openapi3.NewSecurityScheme().WithType("http").WithScheme("bearer"),
	}
	return json.MarshalIndent(v3, "", "  ")
}

// fieldAt finds a field by its name in JSON or in the contract, or one within a
// message by names with dots between: "untilDate.year". Nil: there is none.
func fieldAt(message protoreflect.MessageDescriptor, name string) protoreflect.FieldDescriptor {
	first, rest, within := strings.Cut(name, ".")
	field := message.Fields().ByJSONName(first)
	if field == nil {
		field = message.Fields().ByTextName(first)
	}
	switch {
	case field == nil || !within:
		return field
	case field.Kind() != protoreflect.MessageKind || field.IsList():
		return nil
	}
	return fieldAt(field.Message(), rest)
}

// newCall finds the call of the contract that an operation stands for.
func newCall(operation *openapi2.Operation) (*call, error) {
	method, err := methodOf(operation.OperationID)
	if err != nil {
		return nil, err
	}
	request, err := protoregistry.GlobalTypes.FindMessageByName(method.Input().FullName())
	if err != nil {
		return nil, err
	}
	answer, err := protoregistry.GlobalTypes.FindMessageByName(method.Output().FullName())
	if err != nil {
		return nil, err
	}
	c := &call{
		method:  fmt.Sprintf("/%s/%s", method.Parent().FullName(), method.Name()),
		request: request,
		answer:  answer,
		inPath:  map[string]protoreflect.FieldDescriptor{},
		inQuery: map[string]protoreflect.FieldDescriptor{},
	}
	for _, parameter := range operation.Parameters {
		field := fieldAt(method.Input(), parameter.Name)
		switch {
		case parameter.In == "body":
			if field != nil { // no field is called body: that is the whole request
				return nil, fmt.Errorf("%q alone is the body", parameter.Name)
			}
			c.takesBody = true
		case field == nil:
			return nil, fmt.Errorf("%s has no field %q", method.Input().Name(), parameter.Name)
		case parameter.In == "path" && (field.Kind() != protoreflect.StringKind || field.Parent() != method.Input()):
			return nil, fmt.Errorf("%q stands in the path and is no text of the request", parameter.Name)
		case parameter.In == "path":
			c.inPath[parameter.Name] = field
		case parameter.In == "query":
			c.inQuery[parameter.Name] = field
		default:
			return nil, fmt.Errorf("%q stands in the %s", parameter.Name, parameter.In)
		}
	}
	return c, nil
}

// methodOf finds "ShopService_GetShop" in the contract.
func methodOf(operationID string) (protoreflect.MethodDescriptor, error) {
	service, name, _ := strings.Cut(operationID, "_")
	full := pb.File_gaugebook_v1_error_reason_proto.Package().Append(protoreflect.Name(service)).Append(protoreflect.Name(name))
	found, err := protoregistry.GlobalFiles.FindDescriptorByName(full)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", full, err)
	}
	method, ok := found.(protoreflect.MethodDescriptor)
	if !ok {
		return nil, fmt.Errorf("%s is not a call", full)
	}
	return method, nil
}
