package strictjson

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"
	"google.golang.org/protobuf/proto"
)

// ReadYAML is Read for a document that is written as YAML: the same fields under the
// same names, and as strict. A value is what it would be as JSON: 4 is a number, "4" and
// 4/32 are text, a key without a value is null. Anchors repeated by an alias, tags, a
// second document and numbers that JSON does not write so are refused. Lines and columns
// are the document's own.
func ReadYAML(data []byte, msg proto.Message) []Problem {
	proto.Reset(msg)
	if len(data) > MaxBytes {
		return Read(data, msg)
	}
	root, problem := parseYAML(data)
	if problem != nil {
		return []Problem{*problem}
	}
	var t rewriting
	t.value(root)
	problems := Read(t.json.Bytes(), msg)
	for i := range problems {
		t.place(&problems[i])
	}
	return problems
}

// parseYAML gives the one value that a document is.
func parseYAML(data []byte) (*yaml.Node, *Problem) {
	const want = "an object: vehicle: ..., inspection: ..."
	decoder := yaml.NewDecoder(bytes.NewReader(data))
	var document, second yaml.Node
	err := decoder.Decode(&document)
	if errors.Is(err, io.EOF) {
		return nil, &Problem{Line: 1, Column: 1, Problem: "the document is empty", Want: want}
	}
	if err == nil {
		err = decoder.Decode(&second)
		if errors.Is(err, io.EOF) {
			return document.Content[0], nil
		}
	}
	if err != nil {
		return nil, yamlProblem(err)
	}
	return nil, &Problem{Line: second.Line, Column: second.Column, Problem: "text after the end of the document", Want: "one object and nothing after it"}
}

var yamlLine = regexp.MustCompile(`^yaml: (?:line (\d+): )?`)

// yamlProblem says what the parser says.
func yamlProblem(err error) *Problem {
	p := &Problem{Problem: "not YAML: " + shown([]byte(yamlLine.ReplaceAllString(err.Error(), "")))}
	if at := yamlLine.FindStringSubmatch(err.Error()); at != nil && at[1] != "" {
		p.Line, _ = strconv.Atoi(at[1])
		p.Column = 1
	}
	return p
}

// rewriting is a document of YAML as JSON that Read can take, each key and value on a
// line of its own.
type rewriting struct {
	json  bytes.Buffer
	marks []*yaml.Node // what stands on each line
}

// unwritten stands in the JSON for what has no place there: no value of a field is
// written so.
const unwritten = "-"

func (t *rewriting) token(n *yaml.Node, text string) {
	if t.marks = append(t.marks, n); len(t.marks) > 1 {
		t.json.WriteByte('\n')
	}
	t.json.WriteString(text)
}

// value writes a value. What is nested deeper than Read reads ends there.
func (t *rewriting) value(n *yaml.Node) {
	switch {
	case n.Kind == yaml.AliasNode || n.Style&yaml.TaggedStyle != 0:
		t.token(n, unwritten)
	case n.Kind == yaml.MappingNode:
		t.token(n, "{")
		for i := 0; i+1 < len(n.Content); i += 2 {
			t.comma(i)
			t.key(n.Content[i])
			t.value(n.Content[i+1])
		}
		t.json.WriteByte('}')
	case n.Kind == yaml.SequenceNode:
		t.token(n, "[")
		for i, element := range n.Content {
			t.comma(i)
			t.value(element)
		}
		t.json.WriteByte(']')
	default:
		t.token(n, scalarJSON(n))
	}
}

func (t *rewriting) comma(i int) {
	if i > 0 {
		t.json.WriteByte(',')
	}
}

func (t *rewriting) key(n *yaml.Node) {
	t.token(n, quotedJSON(n.Value)) // a key that is no text has no name of a field
	t.json.WriteByte(':')
}

// scalarJSON is a scalar as JSON writes it, or as Read refuses it.
func scalarJSON(n *yaml.Node) string {
	switch n.ShortTag() {
	case "!!null":
		return "null"
	case "!!bool":
		return strings.ToLower(n.Value)
	case "!!int", "!!float":
		switch strings.ToLower(strings.TrimLeft(n.Value, "+-")) {
		case ".inf", ".nan":
			return "NaN"
		}
		return n.Value
	}
	return quotedJSON(n.Value)
}

func quotedJSON(s string) string {
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	_ = e.Encode(s) //nolint:errchkjson // a string is always written
	return strings.TrimSpace(out.String())
}

// place tells a problem of the rewriting as one of the document.
func (t *rewriting) place(p *Problem) {
	if p.Line == 0 {
		return
	}
	n := t.marks[p.Line-1]
	p.Line, p.Column = n.Line, n.Column
	switch {
	case n.Kind == yaml.AliasNode:
		p.Given, p.Problem, p.Want = shown([]byte("*"+n.Value)), "an alias", "write it out"
	case n.Style&yaml.TaggedStyle != 0:
		p.Given, p.Problem, p.Want = shown([]byte(n.Tag)), "a tag", "leave the tag out"
	case n.Kind == yaml.ScalarNode && n.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle) == 0:
		p.Given = shown([]byte(n.Value))
		p.Problem = strings.Replace(p.Problem, word.String(), fmt.Sprintf("a number written as %s", p.Given), 1)
	}
}
