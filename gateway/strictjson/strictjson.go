// Package strictjson reads a JSON document into a message of the contract and
// reports everything that is wrong with it at once, each problem with its
// field path, so that nobody loses a reading to a misspelled name or mends a
// file one error at a time.
//
// What it accepts, protojson accepts with the same meaning. It accepts less:
//
//   - null is refused everywhere: a field that was not measured is left out;
//   - a number is written as a number, not as text, and is finite;
//   - an enum number is one the contract knows.
//
// Field names are the JSON names (thirtySecondsInch); the names of the proto
// files (thirty_seconds_inch) are read as well, though a field counts as given
// twice when both are used. Problems always show the JSON name.
//
// The kinds of field the contract is made of are read: bool, int32, double,
// string, bytes, enum, message, lists of these, Timestamp and Duration. A
// field of any other kind is reported, never skipped.
package strictjson

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"google.golang.org/protobuf/proto"
)

const (
	// MaxBytes is the length in bytes beyond which a document is refused unread.
	MaxBytes = 4 << 20

	// MaxNesting is how many objects and lists may lie inside one another.
	// The contract's deepest message needs fewer than twenty.
	MaxNesting = 64

	// MaxElements is how many elements the lists of a document may have together.
	// "{}" takes two bytes as text and some hundred as a message: without this
	// limit a short document could fill the memory. A wheel measured in six
	// grooves at six stations takes 36.
	MaxElements = 100_000

	// MaxProblems is how many problems are listed. When there are more, one
	// last Problem without a path says how many.
	MaxProblems = 100

	// maxShown is the length in characters of the longest quotation.
	maxShown = 60
)

// Problem is one thing wrong with a document.
type Problem struct {
	// Path leads to the field by JSON names, such as
	// "inspection.wheels[0].tread[2].depth". It is empty for the document as a
	// whole.
	Path string
	// Line and Column say where in the text it stands, both counted from 1, the
	// column in characters. Both are 0 when there is no such place.
	Line, Column int
	// Given is what stands there, as written, cut to 60 characters; a line break
	// with its indentation is shown as a space, what cannot be printed as "�".
	Given string
	// Problem says what is wrong with it, such as "unknown field".
	Problem string
	// Want says what would be right, such as `did you mean "thirtySecondsInch"?`.
	// It is empty when there is nothing to say.
	Want string
}

// String gives the problem on one line:
//
//	line 7, column 22: inspection.odometer.mile: unknown field; given "mile"; did you mean "miles"?
func (p Problem) String() string {
	var s strings.Builder
	if p.Line > 0 {
		fmt.Fprintf(&s, "line %d, column %d: ", p.Line, p.Column)
	}
	if p.Path != "" {
		s.WriteString(p.Path + ": ")
	}
	s.WriteString(p.Problem)
	if p.Given != "" {
		s.WriteString("; given " + p.Given)
	}
	if p.Want != "" {
		s.WriteString("; " + p.Want)
	}
	return s.String()
}

// Read empties msg and fills it from the JSON object in data. It returns every
// problem found, in the order of the document; none means that msg equals what
// protojson would have made of it.
//
// With problems, msg holds everything that was right. A refused value is left
// out; in a list an empty one (an empty message, "", 0) keeps its place, so that
// an index means the same element in the document and in msg. Of a field given
// twice, and of two fields of which only one may be given, the first counts.
// Where the text is no longer JSON, or goes beyond a limit, reading ends, and
// msg holds what came before.
func Read(data []byte, msg proto.Message) []Problem {
	proto.Reset(msg)
	if len(data) > MaxBytes {
		return []Problem{{
			Problem: fmt.Sprintf("the document is longer than %d bytes", MaxBytes),
			Want:    "a shorter document",
		}}
	}
	r := reader{data: data}
	r.document(msg.ProtoReflect())
	return r.problems()
}

// ReadFrom is Read for a document that is still to be fetched. It takes at most
// MaxBytes+1 bytes from src, however many there are. The error is src's own;
// msg is then empty.
func ReadFrom(src io.Reader, msg proto.Message) ([]Problem, error) {
	data, err := io.ReadAll(io.LimitReader(src, MaxBytes+1))
	if err != nil {
		proto.Reset(msg)
		return nil, err
	}
	return Read(data, msg), nil
}

// found is a problem whose line and column are still to be counted.
type found struct {
	Problem
	offset int // in the document
}

// fault is what is wrong with a value and what would be right. The zero fault
// means that nothing is wrong.
type fault struct{ problem, want string }

// report notes a fault at the given offset, under the path the reader is at.
// After the reader has stopped, what it sees is no longer the document.
func (r *reader) report(offset int, given []byte, f fault) {
	switch {
	case r.stopped:
	case r.full():
		r.unlisted++
	default:
		r.found = append(r.found, found{offset: offset, Problem: Problem{
			Path: string(r.path), Given: shown(given), Problem: f.problem, Want: f.want,
		}})
	}
}

// full reports whether a further problem would only be counted, so that working
// out a suggestion for it would be wasted.
func (r *reader) full() bool { return len(r.found) == MaxProblems }

// problems puts what was found in the order of the document and adds lines and
// columns in one pass over the text.
func (r *reader) problems() []Problem {
	slices.SortStableFunc(r.found, func(a, b found) int { return a.offset - b.offset })
	var list []Problem
	line, column, from := 1, 1, 0
	for _, f := range r.found {
		passed := r.data[from:f.offset]
		if n := bytes.Count(passed, []byte("\n")); n > 0 {
			line, column = line+n, 1
			passed = passed[bytes.LastIndexByte(passed, '\n')+1:]
		}
		column += utf8.RuneCount(passed)
		from = f.offset
		f.Line, f.Column = line, column
		list = append(list, f.Problem)
	}
	if r.unlisted > 0 {
		list = append(list, Problem{Problem: fmt.Sprintf("and %d more", r.unlisted)})
	}
	return list
}

// shown makes a quotation fit to print: one line, at most maxShown characters,
// nothing that could steer a terminal.
func shown(text []byte) string {
	var s strings.Builder
	n, last := 0, 0 // characters written, where the last of them begins
	for rest := bytes.TrimSpace(text); len(rest) > 0; n++ {
		if n == maxShown {
			return s.String()[:last] + "…"
		}
		c, size := utf8.DecodeRune(rest)
		rest = rest[size:]
		switch {
		case c == '\n' || c == '\r':
			c, rest = ' ', bytes.TrimLeft(rest, " \t\r\n")
		case !unicode.IsPrint(c):
			c = utf8.RuneError
		}
		last = s.Len()
		s.WriteRune(c)
	}
	return s.String()
}
