package words

import "testing"

// Controls of ECMA-48 (escape, C1) steer a terminal, those of the Unicode Bidirectional
// Algorithm (UAX #9) turn what is read; both are categories Cc and Cf of the Unicode
// Character Database.
func TestHarmless(t *testing.T) {
	for given, want := range map[string]string{
		"silver sedan, stall 4":            "silver sedan, stall 4",
		"año 2026, 48\u00a0210 km, 李":      "año 2026, 48\u00a0210 km, 李",
		"a\nBefore driving\r\nRR  b":       "a Before driving  RR  b",
		"a\tb\vc\fd\u0085e\u2028f\u2029g":  "a b c d e f g",
		"\x1b[2J\x1b]0;title\x07":          "�[2J�]0;title�",
		"\u009b31mred\x00\x7f":             "�31mred��",
		"\u202elaugeR\u202c \u2066x\u2069": "�laugeR� �x�",
		"می\u200cخواهم \u200f":             "می\u200cخواهم \u200f",
		"\ufeffx\u00ad":                    "�x�",
		"cut \xff off":                     "cut � off",
	} {
		if got := Harmless(given); got != want {
			t.Errorf("%q is shown as %q, want %q", given, got, want)
		}
		if again := Harmless(Harmless(given)); again != Harmless(given) {
			t.Errorf("%q: shown twice it is %q", given, again)
		}
	}
	if got := string(appendPlain(nil, " a\n \x1b[2J\u202eb ")); got != "a �[2J�b" {
		t.Errorf("a caller's words are told as %q", got)
	}
}
