package gaugebookv1_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
)

// In JSON an enum's value is its name, which no other test spells: golden messages have
// the last value of each enum, and code names those alone that it treats apart.
const enumNames = contract + "/enums.txt"

// A name of an enum's value that was there once is there with its number. What is new is
// added by
//
//	go test ./proto/... -run Enum -update
//
// and a name that is to change is changed in the file by hand.
func TestEnumNamesStay(t *testing.T) {
	var all []string
	for _, f := range files() {
		for i := range f.Enums().Len() {
			e := f.Enums().Get(i)
			for j := range e.Values().Len() {
				v := e.Values().Get(j)
				all = append(all, fmt.Sprintf("%s %d %s", e.Name(), v.Number(), v.Name()))
			}
		}
	}
	data, err := os.ReadFile(enumNames)
	if err != nil {
		t.Fatal(err)
	}
	known := strings.Split(strings.TrimSpace(string(data)), "\n")
	for _, name := range known {
		if !slices.Contains(all, name) {
			t.Errorf("%s was there", name)
		}
	}
	for _, name := range all {
		if !slices.Contains(known, name) && !*update {
			t.Errorf("%s is new: run this test with -update", name)
		}
	}
	if *update && !t.Failed() {
		slices.Sort(all)
		if err := os.WriteFile(enumNames, []byte(strings.Join(all, "\n")+"\n"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
}
