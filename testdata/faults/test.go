package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"
)

// compared are tests against an answer that the program itself once gave.
const compared = "Corpus|Sentences|Golden|Demo|Readme|TestShort|Verbatim|Witness"

// slow are tests that take ten seconds or more of a fault that changes nothing: most walk
// every field or row for each visit. Their packages have others that ask the same of less.
const slow = "EveryConditionDecides|EveryFieldCounts|EveryFieldOfEveryCall|EveryRuleDecides|EveryCallThatJudges|WhatACall|WhatIsOnlyRecorded|UnknownEnum|" +
	"NoOtherTireTold|LeaveOutOnePiece|TestReassessedByTheSame|TestNoRowHoldsWords|TestRefusedAfterRestore|Killed|" +
	"SixtyFour|FullDisk|Soak|Allocat|WhoMayMake|BoundedInBytes|CostDoesNot"

// far are packages whose tests are of the whole program, which is nobody's direct user.
var far = regexp.MustCompile(`/server/app$|/server/access$|/gateway`)

const leftOut = compared + "|" + slow

// drawing are the flags of tests that draw visits.
const drawing = "-rapid.checks=20 -rapid.nofailfile -rapid.seed=1"

// tester runs tests with a fault laid over the tree.
type tester struct {
	tree     *tree
	coverage *coverage
	folder   string
	near     bool // no tests of the server for a fault in calc
}

// groups are the packages to test for a fault in one: itself, then its users, those that
// are quick first.
func (t tester) groups(path string) [][]string {
	var calc, server []string
	for _, user := range t.tree.users[path] {
		switch {
		case far.MatchString(user):
		case strings.Contains(user, "/calc/"):
			calc = append(calc, user)
		case !t.near || !strings.Contains(path, "/calc/"):
			server = append(server, user)
		}
	}
	return [][]string{{path}, calc, server}
}

// of tells what came of a fault, and which test failed. Only tests that run the place of
// the fault can tell.
func (t tester) of(f fault) (outcome, by string, err error) {
	overlay, err := t.overlay(f)
	if err != nil {
		return "", "", err
	}
	for _, group := range t.groups(f.pack.path) {
		for _, path := range group {
			m, err := t.coverage.of(t, path)
			if err != nil {
				return "", "", err
			}
			tests := m.running(t.tree, f)
			if len(tests) == 0 {
				continue
			}
			if outcome, by := t.run(overlay, path, tests); outcome != survived {
				return outcome, by, nil
			}
		}
	}
	return survived, "", nil
}

// overlay writes the changed file beside the tree, and what says so to the compiler.
func (t tester) overlay(f fault) (string, error) {
	changed := filepath.Join(t.folder, "changed.go")
	if err := os.WriteFile(changed, f.applied(), 0o600); err != nil {
		return "", err
	}
	text, err := json.Marshal(map[string]map[string]string{"Replace": {f.file: changed}})
	if err != nil {
		return "", err
	}
	name := filepath.Join(t.folder, "overlay.json")
	return name, os.WriteFile(name, text, 0o600)
}

var failed = regexp.MustCompile(`(?m)^\s*--- FAIL: (\S+)|^panic: (.*)|^(\S+\.go:\d+:\d+: .*)`)

// run tests one package with a fault, the cheapest tests first.
func (t tester) run(overlay, path string, tests []timed) (outcome, by string) {
	if _, err := t.build(path, "-overlay", overlay); err != nil {
		return notCompiled, ""
	}
	for _, batch := range batches(tests) {
		said, err := t.test(path, batch.names, 30*time.Second+10*batch.take)
		if err == nil {
			continue
		}
		outcome = caught
		if bytes.Contains(said, []byte("panic: test timed out")) {
			outcome = hung
		}
		by = "  [" + path[strings.Index(path, "/")+1:]
		if found := failed.FindSubmatch(said); found != nil {
			by += " " + string(slices.Concat(found[1:]...))
		}
		return outcome, by + "]"
	}
	return survived, ""
}

// batch is tests that run together, and what they take without a fault.
type batch struct {
	names []string
	take  time.Duration
}

// batches put the cheapest tests first, each batch about as long as all before it.
func batches(tests []timed) []batch {
	slices.SortStableFunc(tests, func(a, b timed) int { return cmp.Compare(a.Took, b.Took) })
	var all []batch
	spent, limit := time.Duration(0), time.Duration(0)
	for _, test := range tests {
		spent += test.Took
		if len(all) == 0 || spent > limit {
			all, limit = append(all, batch{}), max(time.Second, 2*spent)
		}
		last := &all[len(all)-1]
		last.names, last.take = append(last.names, test.Name), last.take+test.Took
	}
	return all
}

// build makes the test binary of a package.
func (t tester) build(path string, flags ...string) (said []byte, err error) {
	arguments := slices.Concat([]string{"test", "-c", "-vet=off", "-ldflags=-w", "-o", t.binary()}, flags, []string{path})
	return exec.Command("go", arguments...).CombinedOutput() //nolint:gosec // go itself, with packages of this tree
}

func (t tester) binary() string { return filepath.Join(t.folder, "tests") }

// test runs tests of the binary as `go test` does.
func (t tester) test(path string, names []string, limit time.Duration, flags ...string) (said []byte, err error) {
	only := "^(" + strings.Join(names, "|") + ")$"
	arguments := append([]string{"-test.paniconexit0", "-test.failfast", "-test.timeout", limit.String(), "-test.run", only}, flags...)
	if t.draws(path) {
		arguments = append(arguments, strings.Fields(drawing)...)
	}
	command := exec.Command(t.binary(), arguments...) //nolint:gosec // made from this tree
	command.Dir = t.tree.folders[path]
	return command.CombinedOutput()
}

var notRun = regexp.MustCompile(leftOut)

// names are the tests of the binary that are run: also examples, and fuzz targets with
// their seeds.
func (t tester) names(path string) ([]string, error) {
	command := exec.Command(t.binary(), "-test.list", "^(Test|Example|Fuzz)") //nolint:gosec // made from this tree
	command.Dir = t.tree.folders[path]
	said, err := command.Output()
	return slices.DeleteFunc(strings.Fields(string(said)), notRun.MatchString), err
}

// draws reports whether the tests of a package draw visits.
func (t tester) draws(path string) bool {
	return slices.Contains(t.tree.users["pgregory.net/rapid"], path)
}
