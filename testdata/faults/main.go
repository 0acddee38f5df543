// Faults draws random single faults in the code that judges, and asks of each whether a
// test would notice: `make faults SEED=n`.
//
// A fault is one small change of the kind a tired hand makes: a comparison that takes its
// boundary in or leaves it out, a condition turned round, a constant off by one, two
// operands or arguments of one type in each other's place, a statement or an append left
// out, "and" for "or", plus for minus, the constant of another row of a table. It is laid
// over the tree by `go test -overlay`, so that no file of the tree is touched.
//
// Of each fault the tests of its package run, then those of the packages that import it: of
// these the ones that run the place of the fault, the cheapest first. What compares with an
// earlier answer (the corpus, goldens) does not: it would notice any change and says of none
// whether it is right.
package main

import (
	"flag"
	"fmt"
	"log"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"time"
)

// over are the folders that faults are drawn from.
var over = []string{"./calc/...", "./server/judge", "./server/translate", "./server/check", "./server/book"}

func main() {
	log.SetFlags(0)
	seed := flag.Uint64("seed", 1, "seed of the draw")
	count := flag.Int("n", 67, "how many faults that compile to draw")
	limit := flag.Duration("time", time.Hour, "no fault is begun after this long")
	only := flag.String("only", "", "draw from the faults that are told so, a regular expression: 'sidewall/date.go:5'")
	near := flag.Bool("near", false, "of faults in calc run only tests in calc: quick, and tells more as survived")
	list := flag.Bool("list", false, "list the faults, run nothing")
	flag.Parse()
	if err := run(*seed, *count, *limit, regexp.MustCompile(*only), *near, *list); err != nil {
		log.Fatal(err)
	}
}

func run(seed uint64, count int, limit time.Duration, only *regexp.Regexp, near, list bool) error {
	tree, err := load(over)
	if err != nil {
		return err
	}
	sites := tree.sites(only)
	work, err := os.MkdirTemp("", "faults")
	if err != nil {
		return err
	}
	defer func() { _ = os.RemoveAll(work) }()
	tests := tester{tree: tree, folder: work, near: near}
	if !list {
		if tests.coverage, err = newCoverage(); err != nil {
			return err
		}
	}
	fmt.Fprintf(os.Stdout, "seed %d: %d places for faults in %d packages\n", seed, total(sites), len(tree.packages))
	told := tally{}
	began := time.Now()
	draw := rand.New(rand.NewPCG(seed, seed)) //nolint:gosec // a draw that repeats by its seed is no secret
	for told.compiled() < count && total(sites) > 0 && time.Since(began) < limit {
		f := sites.draw(draw)
		outcome := notCompiled
		by := ""
		if tree.compiles(f) {
			outcome = drawn
			if !list {
				if outcome, by, err = tests.of(f); err != nil {
					return err
				}
			}
		}
		told.add(f, outcome, by)
	}
	told.sum()
	return nil
}

// Outcomes of a fault.
const (
	notCompiled = "not compiled"
	drawn       = "drawn"
	caught      = "caught"
	hung        = "caught, hung"
	survived    = "SURVIVED"
)

// tally tells each fault as it is decided, and all of them together.
type tally struct {
	counts map[string]int
	left   []fault
}

func (t *tally) add(f fault, outcome, by string) {
	if t.counts == nil {
		t.counts = map[string]int{}
	}
	t.counts[outcome]++
	if outcome == notCompiled {
		return
	}
	if outcome == survived {
		t.left = append(t.left, f)
	}
	fmt.Fprintf(os.Stdout, "%-12s %v%s\n", outcome, f, by)
}

func (t *tally) compiled() int {
	n := 0
	for outcome, of := range t.counts {
		if outcome != notCompiled {
			n += of
		}
	}
	return n
}

func (t *tally) sum() {
	fmt.Fprintf(os.Stdout, "\n%d faults: %d caught, of them %d by a test that hung; %d survived; %d more did not compile\n", t.compiled(),
		t.counts[caught]+t.counts[hung], t.counts[hung], t.counts[survived], t.counts[notCompiled])
	for _, f := range t.left {
		fmt.Fprintln(os.Stdout, "survived:", f)
	}
}

// short is a path as seen from the folder that the tool was started in.
func short(path string) string {
	here, err := os.Getwd()
	if err != nil {
		return path
	}
	if rel, err := filepath.Rel(here, path); err == nil {
		return rel
	}
	return path
}
