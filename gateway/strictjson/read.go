package strictjson

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strconv"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/types/known/wrapperspb"
)

// reader walks a document and the descriptor of its message side by side.
type reader struct {
	data     []byte
	pos      int    // offset of what is read next
	path     []byte // of the field being read
	nesting  int    // brackets open at pos
	elements int    // of all lists so far
	stopped  bool   // the rest of the text is not read

	found    []found
	unlisted int // problems beyond MaxProblems
}

var byteOrderMark = []byte("\uFEFF")

// document reads the whole text into m.
func (r *reader) document(m protoreflect.Message) {
	const want = "an object: { ... }"
	if bytes.HasPrefix(r.data, byteOrderMark) {
		r.report(0, nil, fault{"a byte order mark before the document", "save the document as UTF-8 without it"})
		r.pos = len(byteOrderMark)
	}
	switch c := r.next(); {
	case r.pos == len(r.data):
		r.report(r.pos, nil, fault{"the document is empty", want})
	case c != '{':
		r.stop("the document is not an object", want)
	default:
		r.message(m)
		if r.next(); r.pos < len(r.data) {
			r.stop("text after the end of the document", "one object and nothing after it")
		}
	}
}

// message reads an object into m.
func (r *reader) message(m protoreflect.Message) {
	given := map[protoreflect.FieldNumber]bool{}
	parent := len(r.path)
	r.object(func(name token) {
		if fd := r.field(m.Descriptor(), name); fd == nil {
			r.skip()
		} else if f := misplaced(fd, given); f != (fault{}) {
			r.report(name.offset, name.raw, f)
			r.fill(m.New(), fd) // what is wrong inside is still worth telling
		} else {
			r.fill(m, fd)
		}
		r.path = r.path[:parent]
	})
}

// field finds the field of a name and enters it. It reports a name that no
// field has.
func (r *reader) field(md protoreflect.MessageDescriptor, name token) protoreflect.FieldDescriptor {
	s, f := unquote(name)
	if f != (fault{}) {
		r.report(name.offset, name.raw, f)
		return nil
	}
	fd := md.Fields().ByJSONName(s)
	if fd == nil {
		fd = md.Fields().ByTextName(s)
	}
	if fd == nil {
		r.enterUnknown(s)
		r.report(name.offset, name.raw, fault{"unknown field", r.wantField(md, s)})
		return nil
	}
	r.enter(fd.JSONName())
	return fd
}

var isIdentifier = regexp.MustCompile(`^[A-Za-z_][A-Za-z0-9_]{0,59}$`).MatchString

// enter adds a field of the contract to the path.
func (r *reader) enter(name string) {
	if len(r.path) > 0 {
		r.path = append(r.path, '.')
	}
	r.path = append(r.path, name...)
}

// enterUnknown adds a name that no field has. One that no field could have is
// quoted.
func (r *reader) enterUnknown(name string) {
	if isIdentifier(name) {
		r.enter(name)
	} else {
		r.path = fmt.Appendf(r.path, "[%q]", shown([]byte(name)))
	}
}

// misplaced tells whether a field may not be given beside those already given,
// and adds it to them.
func misplaced(fd protoreflect.FieldDescriptor, given map[protoreflect.FieldNumber]bool) (f fault) {
	if given[fd.Number()] {
		return fault{"the field is given twice", "give it once"}
	}
	if oneof := fd.ContainingOneof(); oneof != nil {
		for i := range oneof.Fields().Len() {
			if other := oneof.Fields().Get(i); given[other.Number()] {
				f = fault{fmt.Sprintf("given beside %q", other.JSONName()), "only one of " + names(oneof.Fields())}
			}
		}
	}
	given[fd.Number()] = true
	return f
}

// fill reads the value of a field of m.
func (r *reader) fill(m protoreflect.Message, fd protoreflect.FieldDescriptor) {
	switch {
	case fd.IsList() && r.next() == '[':
		r.fillList(m.Mutable(fd).List(), fd)
	case fd.IsList():
		t := r.skip()
		r.refuse(t, fault{t.kind.String() + " instead of a list", "a list: [ ... ]"})
	case fd.IsMap():
		r.refuse(r.skip(), unreadable)
	default:
		if v, ok := r.value(fd, m.NewField(fd)); ok {
			m.Set(fd, v)
		}
	}
}

// fillList reads a list. A refused element leaves an empty one in its place.
func (r *reader) fillList(dst protoreflect.List, fd protoreflect.FieldDescriptor) {
	parent := len(r.path)
	r.list(func() {
		if r.elements++; r.elements > MaxElements {
			r.stop(fmt.Sprintf("more than %d elements in lists", MaxElements), "a smaller document")
			return
		}
		r.path = fmt.Appendf(r.path, "[%d]", dst.Len())
		if v, ok := r.value(fd, dst.NewElement()); ok {
			dst.Append(v)
		} else if !r.stopped {
			dst.Append(dst.NewElement())
		}
		r.path = r.path[:parent]
	})
}

// value reads a single value of a field, or one element of its list. A message
// is read into empty. It returns false for a value that it has refused.
func (r *reader) value(fd protoreflect.FieldDescriptor, empty protoreflect.Value) (protoreflect.Value, bool) {
	if formOf(fd).kind == object && r.next() == '{' {
		r.message(empty.Message())
		return empty, true
	}
	t := r.skip()
	v, f := r.scalar(t, fd, empty)
	if f != (fault{}) {
		r.refuse(t, f)
		return v, false
	}
	return v, true
}

// refuse reports a value that is left out of the message.
func (r *reader) refuse(t token, f fault) {
	if t.kind == null {
		f = fault{"null is not accepted", "leave the field out"}
		if bytes.HasSuffix(r.path, []byte("]")) {
			f.want = "leave the element out"
		}
	}
	r.report(t.offset, t.raw, f)
}

// scalar makes a value of a token. A Timestamp or Duration is read into empty.
func (r *reader) scalar(t token, fd protoreflect.FieldDescriptor, empty protoreflect.Value) (v protoreflect.Value, f fault) {
	form := formOf(fd)
	if form.kind == nothing {
		return v, unreadable
	}
	if ed := fd.Enum(); ed != nil && (t.kind == text || t.kind == number) {
		n, f := r.enum(t, ed)
		return protoreflect.ValueOfEnum(n), f
	}
	if t.kind != form.kind {
		return v, r.mismatch(t, fd, form)
	}
	switch fd.Kind() {
	case protoreflect.BoolKind:
		return protoreflect.ValueOfBool(string(t.raw) == "true"), f
	case protoreflect.DoubleKind:
		x, err := strconv.ParseFloat(string(t.raw), 64)
		if err != nil {
			f = fault{"out of range", "a number between -1.7e308 and 1.7e308"}
		}
		return protoreflect.ValueOfFloat64(x), f
	case protoreflect.Int32Kind:
		n, f := whole(t.raw)
		return protoreflect.ValueOfInt32(n), f
	case protoreflect.StringKind:
		s, f := unquote(t)
		return protoreflect.ValueOfString(s), f
	case protoreflect.BytesKind:
		var b wrapperspb.BytesValue
		if protojson.Unmarshal(t.raw, &b) != nil {
			f = fault{"not " + form.noun, form.want}
		}
		return protoreflect.ValueOfBytes(b.GetValue()), f
	default:
		if protojson.Unmarshal(t.raw, empty.Message().Interface()) != nil {
			f = fault{"not " + form.noun, form.want}
		}
		return empty, f
	}
}

// mismatch says that a value is of the wrong kind and, where it is plain what
// was meant, how that is written.
func (r *reader) mismatch(t token, fd protoreflect.FieldDescriptor, form form) fault {
	noun := form.noun
	if ed := fd.Enum(); ed != nil {
		noun = "a name from the list of " + string(ed.Name())
	}
	f := fault{t.kind.String() + " instead of " + noun, form.want}
	bare := string(bytes.Trim(t.raw, `"' `))
	switch {
	case fd.Enum() != nil:
		f.want = r.wantEnum(fd.Enum(), bare)
	case form.kind == object:
		f.want = wantMessage(fd.Message())
	case form.kind == number && (bare == "NaN" || bare == "Infinity" || bare == "-Infinity"):
		return fault{"not a finite number", "leave the field out when nothing was measured"}
	case form.kind == number && t.kind == text && isNumber([]byte(bare)):
		f.want = form.noun + " without quotes: " + shown([]byte(bare))
	case form.kind == text && (t.kind == number || t.kind == word) && fd.Kind() == protoreflect.StringKind:
		f.want = `text in double quotes: "` + shown([]byte(bare)) + `"`
	}
	return f
}

// whole gives the int32 that a number is, be it written 7, 7.0 or 70e-1.
func whole(raw []byte) (int32, fault) {
	if n, err := strconv.ParseInt(string(raw), 10, 32); err == nil {
		return int32(n), fault{}
	}
	var n wrapperspb.Int32Value
	if protojson.Unmarshal(raw, &n) == nil {
		return n.GetValue(), fault{}
	}
	// The nearest double is near enough to tell the two ways of failing apart.
	if x, err := strconv.ParseFloat(string(raw), 64); err != nil || x < math.MinInt32 || x > math.MaxInt32 {
		return 0, fault{"out of range", fmt.Sprintf("a whole number between %d and %d", math.MinInt32, math.MaxInt32)}
	}
	return 0, fault{"not a whole number", "a whole number, such as 7"}
}

// enum gives the number of a value that the contract knows by the name or the
// number given.
func (r *reader) enum(t token, ed protoreflect.EnumDescriptor) (protoreflect.EnumNumber, fault) {
	var known protoreflect.EnumValueDescriptor
	var name string
	if t.kind == number {
		n, f := whole(t.raw)
		if f != (fault{}) {
			return 0, fault{f.problem, r.wantEnum(ed, "")}
		}
		known = ed.Values().ByNumber(protoreflect.EnumNumber(n))
	} else {
		s, f := unquote(t)
		if f != (fault{}) {
			return 0, f
		}
		name, known = s, ed.Values().ByName(protoreflect.Name(s))
	}
	if known == nil {
		return 0, fault{"unknown value", r.wantEnum(ed, name)}
	}
	return known.Number(), fault{}
}
