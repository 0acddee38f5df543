package judge_test

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	"github.com/agnivade/levenshtein"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// faults gathers what is wrong with case files: each fault names file, line,
// case and key.
type faults struct{ list []string }

// node is one value of a case file with the way that led to it.
type node struct {
	y      *yaml.Node
	faults *faults
	file   string
	id     string // of the case
	key    string // "vehicle.label_psi"
}

func (n node) there() bool { return n.y != nil }

// faultf reports something wrong at the node.
func (n node) faultf(format string, args ...any) {
	where := n.file
	if n.y != nil {
		where += ":" + strconv.Itoa(n.y.Line)
	}
	for _, s := range []string{n.id, n.key} {
		if s != "" {
			where += ": " + s
		}
	}
	n.faults.list = append(n.faults.list, where+": "+fmt.Sprintf(format, args...))
}

// under is the node below this one at a key; index -1 for a key of an object.
func (n node) under(y *yaml.Node, key string, index int) node {
	for y != nil && y.Kind == yaml.AliasNode {
		y = y.Alias
	}
	switch {
	case index >= 0:
		n.key += "[" + strconv.Itoa(index) + "]"
	case n.key == "":
		n.key = key
	default:
		n.key += "." + key
	}
	n.y = y
	return n
}

func (n node) isKind(k yaml.Kind) bool { return n.y != nil && n.y.Kind == k }

// items is a list's content; one thing alone is a list of one.
func (n node) items() []node {
	if !n.there() {
		return nil
	}
	if n.y.Kind != yaml.SequenceNode {
		return []node{n}
	}
	var ns []node
	for i, y := range n.y.Content {
		ns = append(ns, n.under(y, "", i))
	}
	return ns
}

// entry is one key of an object with its value.
type entry struct {
	key   string
	value node
}

// entries are the keys of an object in their order; a key given twice is a fault.
func (n node) entries() []entry {
	if !n.there() {
		return nil
	}
	if n.y.Kind != yaml.MappingNode {
		n.faultf("keys with values are wanted here, not %s", n.shown())
		return nil
	}
	var es []entry
	for i := 0; i+1 < len(n.y.Content); i += 2 {
		key := n.y.Content[i].Value
		e := entry{key, n.under(n.y.Content[i+1], key, -1)}
		if slices.ContainsFunc(es, func(o entry) bool { return o.key == key }) {
			e.value.faultf("the key is given twice")
			continue
		}
		es = append(es, e)
	}
	return es
}

// keys is an object of known keys: any other is a fault that names the nearest.
func (n node) keys(known ...string) map[string]node {
	m := map[string]node{}
	for _, e := range n.entries() {
		if !slices.Contains(known, e.key) {
			e.value.faultf("unknown key%s; the keys here are %s", meant(e.key, known), strings.Join(known, ", "))
			continue
		}
		m[e.key] = e.value
	}
	return m
}

// meant is the nearest of the known words as a question, "" when none is near.
func meant(word string, known []string) string {
	nearest, least := "", len(word)/2+1
	for _, k := range known {
		if d := levenshtein.ComputeDistance(word, k); d < least {
			nearest, least = k, d
		}
	}
	if nearest == "" {
		return ""
	}
	return " (did you mean " + nearest + "?)"
}

func (n node) shown() string {
	if n.isKind(yaml.ScalarNode) {
		return strconv.Quote(n.y.Value)
	}
	return "a list or keys"
}

// text is a scalar as written, space trimmed and runs of it made one.
func (n node) text() string {
	if !n.there() {
		return ""
	}
	if !n.isKind(yaml.ScalarNode) {
		n.faultf("one value is wanted here, not %s", n.shown())
		return ""
	}
	return strings.Join(strings.Fields(n.y.Value), " ")
}

// texts are the texts of a list.
func (n node) texts() []string {
	var ts []string
	for _, i := range n.items() {
		if t := i.text(); t != "" {
			ts = append(ts, t)
		}
	}
	return ts
}

// one gives the word that a text stands for among known words. Case, spaces,
// underscores and hyphens do not count.
func (n node) one(known ...string) string {
	t := kebab(n.text())
	for _, k := range known {
		if kebab(k) == t {
			return k
		}
	}
	n.faultf("%q is not known here%s; known are %s", n.text(), meant(t, known), strings.Join(known, ", "))
	return ""
}

func kebab(s string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return r == ' ' || r == '_' || r == '-' }), "-")
}

// yes reads yes and no.
func (n node) yes() bool { return n.answer() == pb.Answer_ANSWER_YES }

// answer reads what was said to a question.
func (n node) answer() pb.Answer {
	switch n.one("yes", "no", "unknown", "true", "false") {
	case "yes", "true":
		return pb.Answer_ANSWER_YES
	case "no", "false":
		return pb.Answer_ANSWER_NO
	case "unknown":
		return pb.Answer_ANSWER_UNKNOWN
	}
	return pb.Answer_ANSWER_UNSPECIFIED
}

// enum reads a value of an enum by its name without prefix, in any notation;
// also maps other words to such a name.
func (n node) enum(e protoreflect.EnumDescriptor, also map[string]string) protoreflect.EnumNumber {
	known := enumWords(e)
	t := kebab(n.text())
	if w, ok := also[t]; ok {
		t = w
	}
	for i, k := range known {
		if k == t {
			return e.Values().Get(i + 1).Number()
		}
	}
	n.faultf("%q is not known here%s; known are %s", n.text(), meant(t, known), strings.Join(known, ", "))
	return 0
}

// enumWords are the names of an enum without prefix, in kebab case, all but the
// unspecified one.
func enumWords(e protoreflect.EnumDescriptor) []string {
	var ws []string
	prefix := strings.TrimSuffix(string(e.Values().Get(0).Name()), "UNSPECIFIED")
	for i := 1; i < e.Values().Len(); i++ {
		ws = append(ws, kebab(strings.TrimPrefix(string(e.Values().Get(i).Name()), prefix)))
	}
	return ws
}

// A number as "3/16" or "1 1/2", and as "2.5", each with what follows it.
var (
	asFraction = regexp.MustCompile(`^(?:(\d+)[ -])?(\d+)/(\d+) ?(.*)$`)
	asDecimal  = regexp.MustCompile(`^(-?\d+(?:\.\d+)?) ?(.*)$`)
)

// units gives the fields of the contract's quantities by the ways to write them.
var units = map[string]protoreflect.Name{
	"psi": "psi", "bar": "bar", "kpa": "kilopascals",
	"in": "inches", "inch": "inches", "inches": "inches", `"`: "inches", "mm": "millimeters",
	"32nds": "thirty_seconds_inch", "/32": "thirty_seconds_inch", "/32 in": "thirty_seconds_inch", "nds": "inches",
	"f": "fahrenheit", "°f": "fahrenheit", "c": "celsius", "°c": "celsius",
	"mi": "miles", "mile": "miles", "miles": "miles", "km": "kilometers",
	"lb": "pounds", "lbs": "pounds", "kg": "kilograms",
	"mph": "miles_per_hour", "km/h": "kilometers_per_hour", "ft": "feet", "m": "meters",
	"lb-ft": "pound_feet", "ft-lb": "pound_feet", "nm": "newton_meters", "n m": "newton_meters",
}

// measured reads a number with its unit, "" when none is written. A fraction
// without a unit is one of an inch.
func (n node) measured() (value float64, unit string, ok bool) {
	t := n.text()
	if m := asFraction.FindStringSubmatch(t); m != nil {
		over, _ := strconv.ParseFloat(m[2], 64) // digits, as the pattern says
		of, _ := strconv.ParseFloat(m[3], 64)
		whole, _ := strconv.ParseFloat("0"+m[1], 64)
		unit = strings.ToLower(m[4])
		if unit == "" {
			unit = "in"
		}
		return whole + over/of, unit, true
	}
	m := asDecimal.FindStringSubmatch(t)
	if m == nil {
		n.faultf("%s is no number with a unit", n.shown())
		return 0, "", false
	}
	value, _ = strconv.ParseFloat(m[1], 64)
	return value, strings.ToLower(m[2]), true
}

// quantity fills a quantity of the contract; a bare number has the default
// unit, and without one the unit has to be written. Inches of tread become
// thirty-seconds.
func quantity[M proto.Message](n node, into M, unit protoreflect.Name) M {
	value, written, ok := n.measured()
	if !ok {
		return into
	}
	field := unit
	if written != "" {
		field = units[written]
	}
	fields := into.ProtoReflect().Descriptor().Fields()
	if field == "inches" && fields.ByName("thirty_seconds_inch") != nil {
		field, value = "thirty_seconds_inch", value*32
	}
	fd := fields.ByName(field)
	if field == "" || fd == nil {
		var known []string
		for w, f := range units {
			if fields.ByName(f) != nil {
				known = append(known, w)
			}
		}
		slices.Sort(known)
		n.faultf("%s wants one of the units %s", n.shown(), strings.Join(known, ", "))
		return into
	}
	into.ProtoReflect().Set(fd, protoreflect.ValueOfFloat64(value))
	return into
}
