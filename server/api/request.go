package api

import (
	"strconv"

	"github.com/google/uuid"

	"gaugebook.dev/server/check"
)

// required finds an id that a call cannot do without.
func required(path, value string) []check.Problem {
	if value != "" {
		return nil
	}
	return []check.Problem{{Path: jsonPath(path), Problem: "missing", Want: "a UUID made once by the client"}}
}

// checkID finds an id that is missing or no canonical UUID.
func checkID(path, value string) []check.Problem {
	if value == "" {
		return required(path, value)
	}
	if u, err := uuid.Parse(value); err != nil || u.String() != value {
		return []check.Problem{{Path: jsonPath(path), Given: value, Problem: "no canonical UUID", Want: "36 lower-case characters, 8-4-4-4-12"}}
	}
	return nil
}

// checkPageSize refuses a negative size; pageSize brings the others into bounds.
func checkPageSize(size int32) []check.Problem {
	if size < 0 {
		return []check.Problem{{Path: "pageSize", Given: strconv.Itoa(int(size)), Problem: "no size of a page", Want: "0 for the usual 50, up to 200"}}
	}
	return nil
}

// jsonPath writes a path of proto names in JSON names, as every path of the
// contract's errors is written.
func jsonPath(path string) string {
	out := make([]byte, 0, len(path))
	upper := false
	for _, c := range []byte(path) {
		switch {
		case c == '_':
			upper = true
			continue
		case upper && c >= 'a' && c <= 'z':
			c -= 'a' - 'A'
		}
		upper = false
		out = append(out, c)
	}
	return string(out)
}
