package main

import (
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"
	"slices"
	"strings"
)

// seeker finds the faults that a file could have.
type seeker struct {
	tree  *tree
	pack  *pack
	file  string
	found sites
}

// add notes a fault in the place of a node.
func (s seeker) add(kind string, n ast.Node, text string) {
	from, to := s.offsets(n)
	s.found[kind] = append(s.found[kind], fault{kind: kind, pack: s.pack, file: s.file, from: from, to: to, text: text})
}

func (s seeker) offsets(n ast.Node) (from, to int) {
	return s.tree.positions.Position(n.Pos()).Offset, s.tree.positions.Position(n.End()).Offset
}

func (s seeker) text(n ast.Node) string {
	from, to := s.offsets(n)
	return string(s.pack.text[s.file][from:to])
}

func (s seeker) typeOf(e ast.Expr) types.Type { return s.pack.info.Types[e].Type }

func (s seeker) is(e ast.Expr, kind types.BasicInfo) bool {
	t := s.typeOf(e)
	if t == nil {
		return false
	}
	b, ok := t.Underlying().(*types.Basic)
	return ok && b.Info()&kind != 0
}

// node is called with each node of a file.
func (s seeker) node(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.ImportSpec:
		return false
	case *ast.BinaryExpr:
		s.binary(n)
	case *ast.IfStmt:
		s.negated(n.Cond)
	case *ast.ForStmt:
		s.negated(n.Cond)
	case *ast.CaseClause:
		for _, e := range n.List {
			s.negated(e)
		}
		s.statements(n.Body)
	case *ast.ReturnStmt:
		for _, e := range n.Results {
			s.negated(e)
		}
	case *ast.BlockStmt:
		s.statements(n.List)
	case *ast.BasicLit:
		s.offByOne(n)
	case *ast.CallExpr:
		s.call(n)
	case *ast.CompositeLit:
		s.table(n)
	}
	return true
}

// others are the operators that one is mistaken for.
var others = map[token.Token]struct {
	kind string
	by   token.Token
}{
	token.LSS: {"boundary", token.LEQ}, token.LEQ: {"boundary", token.LSS},
	token.GTR: {"boundary", token.GEQ}, token.GEQ: {"boundary", token.GTR},
	token.EQL: {"negated", token.NEQ}, token.NEQ: {"negated", token.EQL},
	token.LAND: {"and/or", token.LOR}, token.LOR: {"and/or", token.LAND},
	token.ADD: {"plus/minus", token.SUB}, token.SUB: {"plus/minus", token.ADD},
	token.MUL: {"plus/minus", token.QUO}, token.QUO: {"plus/minus", token.MUL},
}

func (s seeker) binary(e *ast.BinaryExpr) {
	if other, ok := others[e.Op]; ok && (other.kind != "plus/minus" || s.is(e, types.IsNumeric)) {
		s.add(other.kind, e, s.text(e.X)+" "+other.by.String()+" "+s.text(e.Y))
	}
	switch e.Op {
	case token.SUB, token.QUO, token.LSS, token.GTR, token.LEQ, token.GEQ:
		if s.alike(e.X, e.Y) {
			s.add("swapped", e, "("+s.text(e.Y)+") "+e.Op.String()+" ("+s.text(e.X)+")")
		}
	default:
	}
}

// alike reports whether the two are of one type and not the same.
func (s seeker) alike(a, b ast.Expr) bool {
	x, y := s.typeOf(a), s.typeOf(b)
	return x != nil && y != nil && types.Identical(types.Default(x), types.Default(y)) && s.text(a) != s.text(b)
}

func (s seeker) negated(e ast.Expr) {
	if e == nil || !s.is(e, types.IsBoolean) || s.pack.info.Types[e].Value != nil {
		return
	}
	if b, ok := e.(*ast.BinaryExpr); ok && others[b.Op].kind == "negated" { // by its own operator
		return
	}
	s.add("negated", e, "!("+s.text(e)+")")
}

func (s seeker) offByOne(l *ast.BasicLit) {
	if l.Kind == token.INT || l.Kind == token.FLOAT {
		s.add("off by one", l, "("+l.Value+" + 1)")
		s.add("off by one", l, "("+l.Value+" - 1)")
	}
}

func (s seeker) call(c *ast.CallExpr) {
	switch name := s.text(c.Fun); {
	case name == "append" && len(c.Args) > 1:
		s.add("dropped append", c, s.text(c.Args[0]))
		return
	case name == "min", name == "max":
		return // of two in either order the same
	}
	for i := range len(c.Args) - 1 {
		a, b := c.Args[i], c.Args[i+1]
		if s.alike(a, b) && !s.pack.info.Types[c.Fun].IsType() {
			both := &pair{a, b}
			between := s.between(a, b)
			s.add("swapped", both, s.text(b)+between+s.text(a))
		}
	}
}

// pair is two nodes and what stands between them.
type pair struct{ first, last ast.Node }

func (p *pair) Pos() token.Pos { return p.first.Pos() }
func (p *pair) End() token.Pos { return p.last.End() }

func (s seeker) between(a, b ast.Node) string {
	_, from := s.offsets(a)
	to, _ := s.offsets(b)
	return string(s.pack.text[s.file][from:to])
}

func (s seeker) statements(list []ast.Stmt) {
	for _, statement := range list {
		switch n := statement.(type) {
		case *ast.AssignStmt:
			if n.Tok != token.DEFINE {
				s.add("dropped", n, "")
			}
		case *ast.ExprStmt, *ast.IncDecStmt, *ast.ReturnStmt, *ast.BranchStmt, *ast.IfStmt, *ast.ForStmt, *ast.RangeStmt:
			s.add("dropped", n, "")
		}
	}
}

// table finds the constants of a row: of each, the same column of the next row that has
// another there, or else the next constant of its type.
func (s seeker) table(rows *ast.CompositeLit) {
	for i, row := range rows.Elts {
		if pair, ok := row.(*ast.KeyValueExpr); ok {
			s.column(pair, nil)
			row = pair.Value
		}
		fields, ok := row.(*ast.CompositeLit)
		if !ok {
			continue
		}
		for _, field := range fields.Elts {
			if pair, ok := field.(*ast.KeyValueExpr); ok {
				s.column(pair, rows.Elts[i+1:])
			}
		}
	}
}

func (s seeker) column(field *ast.KeyValueExpr, below []ast.Expr) {
	key, ok := field.Key.(*ast.Ident)
	if !ok || s.pack.info.Types[field.Value].Value == nil {
		return
	}
	was := s.text(field.Value)
	for _, row := range below {
		if pair, ok := row.(*ast.KeyValueExpr); ok {
			row = pair.Value
		}
		fields, ok := row.(*ast.CompositeLit)
		if !ok {
			continue
		}
		for _, f := range fields.Elts {
			other, ok := f.(*ast.KeyValueExpr)
			if !ok || s.pack.info.Types[other.Value].Value == nil {
				continue
			}
			if name, ok := other.Key.(*ast.Ident); ok && name.Name == key.Name && s.text(other.Value) != was {
				s.add("table", field.Value, s.text(other.Value))
				return
			}
		}
	}
	if other := s.another(field.Value, was); other != "" {
		s.add("table", field.Value, other)
	}
}

// another constant of the type of one, as its file would write it.
func (s seeker) another(e ast.Expr, was string) string {
	if s.is(e, types.IsBoolean) {
		return map[string]string{"true": "false", "false": "true"}[was]
	}
	named, ok := s.typeOf(e).(*types.Named)
	if !ok {
		return ""
	}
	home, prefix := named.Obj().Pkg(), ""
	if home == nil {
		return ""
	}
	if home != s.pack.types {
		from, _, ok := strings.Cut(was, ".")
		if !ok {
			return ""
		}
		prefix = from + "."
	}
	value := s.pack.info.Types[e].Value
	names := home.Scope().Names()
	at, _ := slices.BinarySearch(names, strings.TrimPrefix(was, prefix))
	for i := range names {
		name := names[(at+1+i)%len(names)]
		c, ok := home.Scope().Lookup(name).(*types.Const)
		if ok && types.Identical(c.Type(), named) && !constant.Compare(c.Val(), token.EQL, value) && (prefix == "" || c.Exported()) {
			return prefix + name
		}
	}
	return ""
}
