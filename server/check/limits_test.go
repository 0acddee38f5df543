package check

import (
	"maps"
	"strconv"
	"strings"
	"testing"

	"google.golang.org/protobuf/reflect/protoreflect"
)

// inMeters are scales whose sentence says their limit in a larger unit than they are held in.
var inMeters = map[protoreflect.FullName]string{"gaugebook.v1.Length": "10 m", "gaugebook.v1.TapedSize.circumference": "10 m", "gaugebook.v1.TapedSize.diameter": "10 m"}

// A quantity is refused above and below what its sentence says, and by no other number.
func TestALimitIsWhatItsSentenceSays(t *testing.T) {
	all := maps.Clone(scales)
	maps.Copy(all, narrower)
	for name, s := range spreads {
		all[name+" of an uncertainty"] = s
	}
	says := func(sentence string, n float64) bool {
		for _, word := range strings.FieldsFunc(sentence, func(r rune) bool { return !strings.ContainsRune("-.0123456789", r) }) {
			if word == strconv.FormatFloat(n, 'f', -1, 64) {
				return true
			}
		}
		return false
	}
	for name, s := range all {
		if told, meters := inMeters[name]; meters && (s.high != 10_000 || !strings.Contains(s.tooHigh, told)) || !meters && !says(s.tooHigh, s.high) {
			t.Errorf("%s: refused above %v as %q", name, s.high, s.tooHigh)
		}
		switch {
		case s.low != 0 && !says(s.tooLow, s.low):
			t.Errorf("%s: refused below %v as %q", name, s.low, s.tooLow)
		case s.low == 0 && s.open && !strings.Contains(s.tooLow, "above zero") && !strings.Contains(s.tooLow, "more than zero"):
			t.Errorf("%s: nothing is refused as %q", name, s.tooLow)
		case s.low == 0 && !s.open && s.tooLow != "" && !strings.Contains(s.tooLow, "zero or more") && !strings.Contains(s.tooLow, "0 or more"):
			t.Errorf("%s: less than nothing is refused as %q", name, s.tooLow)
		}
	}
}
