package app

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// FuzzAssess gives documents to assess, in this process: each is refused with its
// problems, or judged and told, as text and as JSON.
func FuzzAssess(f *testing.F) {
	files, err := filepath.Glob("../../testdata/demo/*.json")
	if err != nil || len(files) == 0 {
		f.Fatalf("no demo files: %v", err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add([]byte(`{"inspection": {"wheels": [{"position": "1L", "tread": [{"place": {"across": "ACROSS_CENTER"}, "depth": {"thirtySecondsInch": 3}}]}]}}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, args := range [][]string{{"assess", "-"}, {"assess", "--json", "-"}} {
			var out, errs bytes.Buffer
			code := Main(t.Context(), args, nil, bytes.NewReader(data), &out, &errs)
			judged, refused := code == exitDone, code == exitBadInput && errs.Len() > 0
			if !judged && !refused || judged != (out.Len() > 0) {
				t.Fatalf("%q ends with %d, says %d bytes and complains: %s", args, code, out.Len(), &errs)
			}
			if refused {
				return
			}
		}
	})
}

// FuzzDay: a day is the one that is written, or it is refused.
func FuzzDay(f *testing.F) {
	for _, s := range []string{"2026-11-24", "2024-02-29", "2023-02-29", "1899-12-31", "2026-1-2", "0000-00-00", "2026-11-24T00:00:00Z", ""} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		d, err := parseDay(s)
		if err != nil {
			if d != nil {
				t.Fatalf("%q is refused and still is %v", s, d)
			}
			return
		}
		if back := fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day); back != s {
			t.Fatalf("%q is read as %s", s, back)
		}
	})
}
