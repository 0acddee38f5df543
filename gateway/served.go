package gateway

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// onlyServed is the Swagger document without the calls that are not served, and
// without what only these have: their services and messages. served are the full
// names of the calls that are, "gaugebook.v1.ShopService.GetShop"; nil: all.
func onlyServed(document []byte, served []string) ([]byte, error) {
	if served == nil {
		return document, nil
	}
	var whole struct {
		Paths       map[string]map[string]json.RawMessage `json:"paths"`
		Tags        []json.RawMessage                     `json:"tags"`
		Definitions map[string]json.RawMessage            `json:"definitions"`
	}
	rest := map[string]any{}
	if err := json.Unmarshal(document, &whole); err != nil {
		return nil, err
	}
	if err := json.Unmarshal(document, &rest); err != nil {
		return nil, err
	}
	services := map[string]bool{}
	for path, item := range whole.Paths {
		for method, operation := range item {
			service, told, err := servedBy(operation, served)
			switch {
			case err != nil:
				return nil, fmt.Errorf("%s %s: %w", method, path, err)
			case told:
				services[service] = true
			default:
				delete(item, method)
			}
		}
		if len(item) == 0 {
			delete(whole.Paths, path)
		}
	}
	tags := slices.DeleteFunc(whole.Tags, func(tag json.RawMessage) bool {
		var named struct {
			Name string `json:"name"`
		}
		return json.Unmarshal(tag, &named) == nil && !services[named.Name]
	})
	kept, err := reachable(whole.Paths, whole.Definitions)
	if err != nil {
		return nil, err
	}
	rest["paths"], rest["tags"], rest["definitions"] = whole.Paths, tags, kept
	return json.MarshalIndent(rest, "", "  ")
}

// servedBy tells the service of an operation and whether its call is served.
func servedBy(operation json.RawMessage, served []string) (service string, told bool, err error) {
	var named struct {
		OperationID string `json:"operationId"`
	}
	if err := json.Unmarshal(operation, &named); err != nil {
		return "", false, err
	}
	method, err := methodOf(named.OperationID)
	if err != nil {
		return "", false, err
	}
	return string(method.Parent().Name()), slices.Contains(served, string(method.FullName())), nil
}

// definitionRef begins a reference to a definition.
const definitionRef = "#/definitions/"

// reachable are the definitions that paths refer to, and those that these do.
func reachable(paths any, definitions map[string]json.RawMessage) (map[string]json.RawMessage, error) {
	kept := map[string]json.RawMessage{}
	text, err := json.Marshal(paths)
	for pending := []json.RawMessage{text}; len(pending) > 0; pending = pending[1:] {
		for _, name := range slices.Sorted(maps.Keys(referredTo(pending[0]))) {
			definition, there := definitions[name]
			if _, known := kept[name]; there && !known {
				kept[name] = definition
				pending = append(pending, definition)
			}
		}
	}
	return kept, err
}

// referredTo are the names of the definitions that a piece of the document refers to.
func referredTo(text []byte) map[string]bool {
	names := map[string]bool{}
	var walk func(v any)
	walk = func(v any) {
		switch v := v.(type) {
		case []any:
			for _, element := range v {
				walk(element)
			}
		case map[string]any:
			if ref, ok := v["$ref"].(string); ok {
				names[strings.TrimPrefix(ref, definitionRef)] = true
			}
			for _, value := range v {
				walk(value)
			}
		}
	}
	var v any
	if json.Unmarshal(text, &v) == nil {
		walk(v)
	}
	return names
}
