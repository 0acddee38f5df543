package app_test

import (
	"fmt"
	"go/ast"
	"go/types"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// flow is the order in which the data of a judgement flows, file by file. A file calls
// what stands above it, or itself.
var flow = []string{
	"questions/several.go", "questions/answer.go", "questions/doubted.go", "questions/copied.go", "questions/slips.go", "questions/doubts.go",
	"questions/law.go", "questions/damage.go", "questions/tread.go", "questions/age.go", "questions/air.go", "questions/heat.go", "questions/towing.go", "questions/load.go",
	"questions/holes.go", "questions/wear.go", "questions/fitment.go", "questions/carrying.go", "questions/moved.go", "questions/rotation.go",
	"questions/shown.go", "questions/life.go", "questions/course.go", "questions/outlook.go", "questions/trend.go", "questions/loss.go", "questions/sensor.go", "questions/fastener.go",
	"questions/spare.go", "questions/complaint.go", "questions/looked.go", "questions/figures.go", "questions/rim.go",
	"closing/air.go", "closing/whole.go", "closing/mended.go", "closing/left.go", "closing/later.go",
	"order/lines.go", "order/inspect.go", "order/replace.go", "order/wear.go", "order/refit.go", "order/fill.go", "order/finish.go", "order/done.go", "order/order.go",
	"verdict/verdict.go", "verdict/rests.go", "verdict/headline.go", "verdict/judge.go", "verdict/tire.go",
}

// fileOf is the last folder and the name of a file.
func fileOf(file string) string { return filepath.Base(filepath.Dir(file)) + "/" + filepath.Base(file) }

// A judgement is a flow: no call goes back up.
func TestNoCallGoesBack(t *testing.T) {
	fset, all := sources(t)
	seen := map[string]bool{}
	for _, s := range all {
		for _, file := range s.files {
			caller := fileOf(fset.Position(file.Pos()).Filename)
			if !slices.ContainsFunc([]string{"questions", "closing", "order", "verdict"}, func(room string) bool { return s.path == house+"/calc/"+room }) {
				continue
			}
			if seen[caller] = true; !slices.Contains(flow, caller) {
				t.Errorf("%s has no place in the flow", caller)
			}
			ast.Inspect(file, func(n ast.Node) bool {
				id, ok := n.(*ast.Ident)
				if !ok {
					return true
				}
				if called, isFunc := s.info.Uses[id].(*types.Func); isFunc && called.Pkg() != nil && strings.HasPrefix(called.Pkg().Path(), house+"/calc/") {
					if callee := fileOf(fset.Position(called.Pos()).Filename); slices.Index(flow, callee) > slices.Index(flow, caller) {
						t.Errorf("%v: %s calls %s of %s, which comes after it", fset.Position(id.Pos()), caller, called.Name(), callee)
					}
				}
				return true
			})
		}
	}
	for _, file := range flow {
		if !seen[file] {
			t.Errorf("%s is not there", file)
		}
	}
}

// noQuestions are the functions of package questions that are no questions.
var noQuestions = []string{"Together", "AiredOften"}

// A question takes one value that names what it needs, of a dozen parts at most; none is
// another's whole answer, its findings, the visit or the verdict.
func TestQuestionsNameWhatTheyNeed(t *testing.T) {
	_, all := sources(t)
	i := slices.IndexFunc(all, func(s source) bool { return s.path == house+"/calc/questions" })
	scope, asked := all[i].pkg.Scope(), 0
	for _, name := range scope.Names() {
		f, ok := scope.Lookup(name).(*types.Func)
		if !ok || !f.Exported() || slices.Contains(noQuestions, name) {
			continue
		}
		asked++
		sig := f.Signature()
		if sig.Params().Len() != 1 || sig.Results().Len() != 1 || !anAnswer(sig.Results().At(0).Type()) {
			t.Errorf("%s takes %v and gives %v: want one value and one answer", name, sig.Params(), sig.Results())
			continue
		}
		in, ok := sig.Params().At(0).Type().Underlying().(*types.Struct)
		if !ok || in.NumFields() > 12 {
			t.Errorf("%s takes %v: want a struct of at most 12 fields", name, sig.Params())
			continue
		}
		for field := range in.Fields() {
			if bag := tooMuch(field.Type()); bag != "" {
				t.Errorf("%s takes %s: %s", name, field.Name(), bag)
			}
		}
	}
	if asked < 15 {
		t.Errorf("only %d questions were found", asked)
	}
}

// anAnswer tells that a type is an answer or has one in it.
func anAnswer(t types.Type) bool {
	if n, ok := types.Unalias(t).(*types.Named); ok && n.Obj().Name() == "Answer" && strings.HasSuffix(n.Obj().Pkg().Path(), "/questions") {
		return true
	}
	s, ok := t.Underlying().(*types.Struct)
	return ok && slices.ContainsFunc(slices.Collect(s.Fields()), func(f *types.Var) bool { return f.Embedded() && anAnswer(f.Type()) })
}

// tooMuch tells of a part what a question has no need of, "" for a good one.
func tooMuch(t types.Type) string {
	switch name := fmt.Sprint(t); {
	case anAnswer(t):
		return "another question's whole answer"
	case name == "[]"+house+"/calc/finding.Finding":
		return "another question's findings"
	case name == house+"/calc/visit.Visit":
		return "a whole visit"
	case strings.HasSuffix(name, ".Verdict"):
		return "a verdict"
	}
	return ""
}
