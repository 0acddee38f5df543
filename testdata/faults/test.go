package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"log"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// compared are tests against an answer that the program itself once gave.
const compared = "Corpus|Sentences|Golden|Demo|Readme|TestShort|Verbatim|Witness"

// slow are tests that take ten seconds or more of a fault that changes nothing: most walk
// every field or row for each visit. Their packages have others that ask the same of less.
const slow = "EveryCondition|EveryField|EveryRule|EveryCall|WhatACall|WhatIsOnlyRecorded|UnknownEnum|" +
	"NoOtherTireTold|LeaveOutOnePiece|TestReassessedByTheSame|TestNoRowHoldsWords|TestRefusedAfterRestore|Killed|" +
	"SixtyFour|FullDisk|Load|Soak|Allocat|WhoMayMake|BoundedInBytes|CostDoesNot"

// far are packages whose tests are of the whole program, which is nobody's direct user.
var far = regexp.MustCompile(`/server/app$|/server/access$|/gateway`)

// tester runs tests with a fault laid over the tree.
type tester struct {
	tree   *tree
	folder string
	seed   uint64
}

// sound fails where tests fail without any fault: then they would catch everything.
func (t tester) sound() error {
	seen := map[string]bool{}
	for _, p := range t.tree.packages {
		for _, group := range t.groups(p.path) {
			for _, path := range group {
				if seen[path] {
					continue
				}
				seen[path] = true
				if outcome, by := t.run("", path); outcome != survived {
					return fmt.Errorf("without a fault, %s fails: %s", path, by)
				}
			}
		}
	}
	return nil
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
		default:
			server = append(server, user)
		}
	}
	return [][]string{{path}, calc, server}
}

// of tells what came of a fault, and which test failed.
func (t tester) of(f fault) (outcome, by string) {
	overlay, err := t.overlay(f)
	if err != nil {
		log.Fatal(err)
	}
	for _, group := range t.groups(f.pack.path) {
		for _, path := range group {
			if outcome, by := t.run(overlay, path); outcome != survived {
				return outcome, by
			}
		}
	}
	return survived, ""
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

// run tests one package.
func (t tester) run(overlay, path string) (outcome, by string) {
	arguments := []string{"test", "-vet=off", "-failfast", "-timeout", "240s", "-skip", compared + "|" + slow}
	if overlay != "" {
		arguments = append(arguments, "-overlay", overlay)
	}
	arguments = append(arguments, path)
	if t.draws(path) {
		arguments = append(arguments, "-rapid.checks=20", "-rapid.nofailfile", "-rapid.seed="+strconv.FormatUint(t.seed, 10))
	}
	said, err := exec.Command("go", arguments...).CombinedOutput()
	if err == nil {
		return survived, ""
	}
	outcome = caught
	if bytes.Contains(said, []byte("[build failed]")) || bytes.Contains(said, []byte("[setup failed]")) {
		return notCompiled, ""
	}
	if bytes.Contains(said, []byte("panic: test timed out")) {
		outcome = hung
	}
	by = "  [" + path[strings.Index(path, "/")+1:]
	if found := failed.FindSubmatch(said); found != nil {
		by += " " + string(slices.Concat(found[1:]...))
	}
	return outcome, by + "]"
}

// draws reports whether the tests of a package draw visits.
func (t tester) draws(path string) bool {
	return slices.Contains(t.tree.users["pgregory.net/rapid"], path)
}
