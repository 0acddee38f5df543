package main

import (
	"bytes"
	"fmt"
	"go/ast"
	"maps"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
)

// fault is one change of one file: the text between two places becomes another.
type fault struct {
	kind     string
	pack     *pack
	file     string
	from, to int
	text     string
}

// applied is the file with the fault in it.
func (f fault) applied() []byte {
	was := f.pack.text[f.file]
	return slices.Concat(was[:f.from], []byte(f.text), was[f.to:])
}

// place of an offset in the file of a fault.
func (f fault) place(offset int) place {
	before := f.pack.text[f.file][:offset]
	return place{line: 1 + bytes.Count(before, []byte("\n")), column: offset - bytes.LastIndexByte(before, '\n')}
}

func (f fault) String() string {
	was := f.pack.text[f.file]
	return fmt.Sprintf("%s:%d %s: %s => %s", short(f.file), f.place(f.from).line, f.kind, oneLine(string(was[f.from:f.to])), oneLine(f.text))
}

func oneLine(text string) string {
	if text == "" {
		return "(nothing)"
	}
	return strings.Join(strings.Fields(text), " ")
}

// sites are the faults that could be made, by kind.
type sites map[string][]fault

func total(s sites) int {
	n := 0
	for _, of := range s {
		n += len(of)
	}
	return n
}

// draw takes one out: of a kind drawn first, so that no kind drowns the others.
func (s sites) draw(r *rand.Rand) fault {
	kinds := slices.Sorted(maps.Keys(s))
	kind := kinds[r.IntN(len(kinds))]
	at := r.IntN(len(s[kind]))
	f := s[kind][at]
	s[kind] = slices.Delete(s[kind], at, at+1)
	if len(s[kind]) == 0 {
		delete(s, kind)
	}
	return f
}

// sites are all faults that are told as asked, in the order of the tree.
func (t *tree) sites(only *regexp.Regexp) sites {
	found := sites{}
	for _, p := range t.packages {
		for i, file := range p.files {
			s := seeker{tree: t, pack: p, file: p.names[i], found: found}
			ast.Inspect(file, s.node)
		}
	}
	for kind, of := range found {
		found[kind] = slices.DeleteFunc(of, func(f fault) bool { return !only.MatchString(f.String()) })
		if len(found[kind]) == 0 {
			delete(found, kind)
		}
	}
	return found
}

// function is the function that a fault stands in, if any.
func (t *tree) function(f fault) (block, bool) {
	file := f.pack.files[slices.Index(f.pack.names, f.file)]
	for _, d := range file.Decls {
		from, to := t.positions.Position(d.Pos()).Offset, t.positions.Position(d.End()).Offset
		if _, ok := d.(*ast.FuncDecl); ok && from <= f.from && f.from < to {
			return block{from: f.place(from), to: f.place(to)}, true
		}
	}
	return block{}, false
}
