package gateway

import "testing"

// TestDropsListsWithoutEntries, wherever they stand, and nothing that a text says.
func TestDropsListsWithoutEntries(t *testing.T) {
	for _, test := range []struct{ text, want string }{
		{`{}`, `{}`},
		{`{"a":[]}`, `{}`},
		{`{"a":[], "b":[], "c":1}`, `{"c":1}`},
		{`{"c":1, "a":[], "b":[]}`, `{"c":1}`},
		{`{"c":1,"a":[],"d":0}`, `{"c":1,"d":0}`},
		{`{"a":[{"b":[]},{"b":[],"c":[1]}],"d":[[]]}`, `{"a":[{},{"c":[1]}],"d":[[]]}`},
		{`{"a":"\"b\":[],","c":"[]","d":"x\\","e":[]}`, `{"a":"\"b\":[],","c":"[]","d":"x\\"}`},
	} {
		if got := string(dropEmptyLists([]byte(test.text))); got != test.want {
			t.Errorf("%s: %s, want %s", test.text, got, test.want)
		}
	}
}
