// Package shoprules reads what shops ask for beyond the law: a YAML file of their
// own limits, each stricter than one that stands in a rulebook, and of figures of a
// published standard that a fleet holds an edition of, each told beside a law. A file with
// anything wrong in it is refused whole, with the line of every problem.
package shoprules

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"

	"gaugebook.dev/server/history"
)

// Rules are the shops' own limits by shop.
type Rules map[string]*rulebook.Book

// Problems are what is wrong with a file, by line.
type Problems []string

// Error lists every problem, one a line.
func (p Problems) Error() string { return strings.Join(p, "\n") }

// Parse reads a file of rules:
//
//	shops:
//	  shop-1:
//	    version: 2
//	    limits:
//	      - id: tread
//	        stricter_than: eu-at.depth
//	        value: 3 mm
//	        says: We replace at 3 mm.
//	      - id: roadside-front
//	        beside: us-commercial.front-depth
//	        value: 2/32 in
//	        standard: Roadside criteria
//	        edition: edition of 2026
//
// name is how problems call the file. The error is Problems.
func Parse(name string, data []byte) (Rules, error) {
	r := &reader{file: name, rules: Rules{}}
	var doc yaml.Node
	if err := yaml.Unmarshal(data, &doc); err != nil {
		return nil, Problems{name + ": " + strings.TrimPrefix(err.Error(), "yaml: ")}
	}
	if len(doc.Content) == 0 {
		return nil, Problems{name + ": empty; it begins with shops:"}
	}
	fields := r.fields(doc.Content[0], "the file", "shops")
	for _, shop := range r.entries(fields["shops"], "shops", "a shop's id with its rules under it") {
		r.shop(shop[0], shop[1])
	}
	if fields["shops"] == nil && len(r.problems) == 0 {
		r.problemf(doc.Content[0], "shops is missing")
	}
	if len(r.problems) > 0 {
		return nil, r.problems
	}
	return r.rules, nil
}

type reader struct {
	file     string
	rules    Rules
	problems Problems
}

func (r *reader) problemf(node *yaml.Node, format string, args ...any) {
	r.problems = append(r.problems, fmt.Sprintf("%s:%d: %s", r.file, node.Line, fmt.Sprintf(format, args...)))
}

// entries are the keys of a mapping with their values.
func (r *reader) entries(n *yaml.Node, what, want string) (all [][2]*yaml.Node) {
	if n == nil {
		return nil
	}
	if n.Kind == yaml.AliasNode || n.Kind != yaml.MappingNode {
		r.problemf(n, "%s: want %s", what, want)
		return nil
	}
	seen := map[string]bool{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key := n.Content[i]
		if seen[key.Value] {
			r.problemf(key, "%s is there twice", key.Value)
			continue
		}
		seen[key.Value] = true
		all = append(all, [2]*yaml.Node{key, n.Content[i+1]})
	}
	return all
}

// fields are the values of a mapping that knows these keys and no others.
func (r *reader) fields(n *yaml.Node, what string, known ...string) map[string]*yaml.Node {
	all := map[string]*yaml.Node{}
	for _, e := range r.entries(n, what, "the keys "+strings.Join(known, ", ")) {
		if !slices.Contains(known, e[0].Value) {
			r.problemf(e[0], "unknown key %s; the keys here are %s", e[0].Value, strings.Join(known, ", "))
			continue
		}
		all[e[0].Value] = e[1]
	}
	return all
}

// text is a plain value; the empty text is a problem of its own.
func (r *reader) text(in *yaml.Node, fields map[string]*yaml.Node, key string) string {
	n := fields[key]
	switch {
	case n == nil:
		r.problemf(in, "%s is missing", key)
	case n.Kind != yaml.ScalarNode || strings.TrimSpace(n.Value) == "":
		r.problemf(n, "%s: want a text", key)
	default:
		return n.Value
	}
	return ""
}

func (r *reader) shop(key, value *yaml.Node) {
	if err := history.CheckShop(key.Value); err != nil {
		r.problemf(key, "%v", err)
	}
	before := len(r.problems)
	fields := r.fields(value, key.Value, "version", "limits")
	if len(r.problems) > before {
		return
	}
	version := 0
	if n := fields["version"]; n == nil {
		r.problemf(key, "%s: version is missing", key.Value)
	} else if v, err := strconv.Atoi(n.Value); err != nil || v < 1 {
		r.problemf(n, "version: %q; want a whole number from 1 on, raised with every change", n.Value)
	} else {
		version = v
	}
	book := rulebook.OwnBook(version)
	switch n := fields["limits"]; {
	case n == nil:
		r.problemf(key, "%s: limits is missing", key.Value)
	case n.Kind != yaml.SequenceNode || len(n.Content) == 0:
		r.problemf(n, "limits: want a list of limits")
	default:
		for _, entry := range n.Content {
			r.limit(book, entry)
		}
	}
	if len(r.problems) == before {
		book.Digest = digest(book)
		r.rules[key.Value] = book
	}
}

var (
	kebab  = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)
	amount = regexp.MustCompile(`^([0-9]+(?:\.[0-9]+)?)\s*(mm|/32 in)$`)
	units  = map[string]unit.Unit{"mm": unit.Millimeters, "/32 in": unit.ThirtySecondsInch}
)

func (r *reader) limit(book *rulebook.Book, n *yaml.Node) {
	before := len(r.problems)
	known := []string{"id", "stricter_than", "value", "says"}
	if n.Kind == yaml.MappingNode && slices.ContainsFunc(n.Content, func(k *yaml.Node) bool { return k.Value == "beside" }) {
		known = []string{"id", "beside", "value", "standard", "edition"}
	}
	fields := r.fields(n, "a limit", known...)
	if len(r.problems) > before {
		return
	}
	told := map[string]string{}
	for _, key := range known {
		told[key] = r.text(n, fields, key)
	}
	if len(r.problems) > before {
		return
	}
	id, value := told["id"], told["value"]
	if !kebab.MatchString(id) {
		r.problemf(fields["id"], "id: %q; want small letters, digits and hyphens", id)
		return
	}
	if slices.ContainsFunc(book.Limits, func(l rulebook.Limit) bool { return l.ID == id }) {
		r.problemf(fields["id"], "limit %s is there twice", id)
		return
	}
	parts := amount.FindStringSubmatch(value)
	if parts == nil {
		r.problemf(fields["value"], "value: %q; want a depth such as 3 mm or 4/32 in", value)
		return
	}
	number, err := strconv.ParseFloat(parts[1], 64)
	if err != nil {
		r.problemf(fields["value"], "value: %v", err)
		return
	}
	depth := unit.Amount{Number: number, Unit: units[parts[2]]}
	l, err := rulebook.Stricter(id, told["stricter_than"], depth, told["says"])
	if told["beside"] != "" {
		l, err = rulebook.Beside(id, told["beside"], depth, told["standard"], told["edition"])
	}
	if err != nil {
		r.problemf(n, "limit %s: %v", id, err)
		return
	}
	book.Limits = append(book.Limits, l)
}

// digest is the beginning of the SHA-256 of what the book says: equal content,
// however the file is laid out, has an equal digest.
func digest(b *rulebook.Book) string {
	content, err := json.Marshal(b) //nolint:musttag // to be compared, never read back
	if err != nil {
		panic(err) // a book is plain data
	}
	sum := sha256.Sum256(content)
	return hex.EncodeToString(sum[:6])
}
