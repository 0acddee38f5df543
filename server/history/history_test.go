package history_test

import (
	"cmp"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"gaugebook.dev/server/history"
)

// TestKeysKeepOrder builds keys of all pairs of parts and sorts both.
func TestKeysKeepOrder(t *testing.T) {
	texts := []string{"", "\x00", "\x00\x00", "\x00\x01", "\x00\xff", "\x01", "a", "a\x00", "a\x00\x01", "a\x00b", "a\x01", "aa", "b", "\xfe", "\xff", "\xff\x00", "\xff\xff"}
	signed := []int64{math.MinInt64, -1 << 32, -256, -1, 0, 1, 255, 1 << 32, math.MaxInt64}
	unsigned := []uint64{0, 1, 255, 256, 1 << 32, math.MaxInt64, math.MaxUint64}

	type entry struct {
		text string
		i    int64
		u    uint64
		key  history.Key
	}
	var entries []entry
	for _, text := range texts {
		for _, i := range signed {
			for _, u := range unsigned {
				entries = append(entries, entry{text, i, u, history.Key("x").Text(text).Int64(i).Uint64(u)})
			}
		}
	}
	byParts := func(a, b entry) int {
		return cmp.Or(strings.Compare(a.text, b.text), cmp.Compare(a.i, b.i), cmp.Compare(a.u, b.u))
	}
	for i, a := range entries {
		for _, b := range entries[i+1:] {
			if got, want := cmp.Compare(a.key, b.key), byParts(a, b); got != want {
				t.Fatalf("%q against %q compares as %d, their parts as %d", a.key, b.key, got, want)
			}
		}
	}
}

func TestPrefixesTakeWhatTheyShould(t *testing.T) {
	texts := []string{"", "a", "a\x00", "a\x00\x01", "ab", "abc", "b", "a\xff"}
	for _, start := range texts {
		for _, text := range texts {
			row := string(history.Key("k").Text(text).Int64(-7))
			if got, want := strings.HasPrefix(row, string(history.Key("k").Text(start))), start == text; got != want {
				t.Errorf("the prefix of %q takes %q: %v", start, text, got)
			}
			if got, want := strings.HasPrefix(row, string(history.Key("k").TextStart(start))), strings.HasPrefix(text, start); got != want {
				t.Errorf("the prefix of texts that begin with %q takes %q: %v", start, text, got)
			}
		}
	}
}

// TestKeyBytes holds what is written for ever.
func TestKeyBytes(t *testing.T) {
	tests := []struct{ got, want history.Key }{
		{history.Key("").Byte(7), "\x07"},
		{history.Key("a").Byte(0xff).Byte(0), "a\xff\x00"},
		{history.Key("").Uint64(0x0102030405060708), "\x01\x02\x03\x04\x05\x06\x07\x08"},
		{history.Key("").Int64(1), "\x80\x00\x00\x00\x00\x00\x00\x01"},
		{history.Key("").Int64(-1), "\x7f\xff\xff\xff\xff\xff\xff\xff"},
		{history.Key("").Text("a\x00b"), "a\x00\xffb\x00\x01"},
		{history.Key("").TextStart("a\x00b"), "a\x00\xffb"},
	}
	for _, test := range tests {
		if test.got != test.want {
			t.Errorf("%x, want %x", string(test.got), string(test.want))
		}
	}
}

func TestRows(t *testing.T) {
	tests := map[int]int{
		math.MinInt: history.MaxPageRows, -1: history.MaxPageRows, 0: history.MaxPageRows, 1: 1,
		history.MaxPageRows: history.MaxPageRows, history.MaxPageRows + 1: history.MaxPageRows,
	}
	for limit, want := range tests {
		if got := history.Rows(limit); got != want {
			t.Errorf("Rows(%d) = %d, want %d", limit, got, want)
		}
	}
}

func TestErrorsSayWhatHappened(t *testing.T) {
	cause := errors.New("the disk is gone")
	tests := []struct {
		err  error
		says []string
	}{
		{&history.StaleError{Key: "visit", Expected: 3, Found: 5}, []string{"visit", "3", "5"}},
		{&history.InvalidError{Reason: "a key is empty"}, []string{"a key is empty"}},
		{&history.TooLargeError{What: "value", Size: 12, Limit: 10}, []string{"value", "12", "10"}},
		{&history.ReadOnlyError{Cause: cause}, []string{"takes no drafts", "the disk is gone"}},
		{&history.ReadOnlyError{Cause: cause, Unsure: true}, []string{"not known", "the disk is gone"}},
		{&history.DiskNearlyFullError{Free: 7, Needed: 9}, []string{"7", "9"}},
		{&history.UnwritableError{Cause: cause}, []string{"at this time", "the disk is gone"}},
		{&history.TrimmedError{After: 3, Trimmed: 8}, []string{"3", "8"}},
	}
	for _, test := range tests {
		for _, part := range test.says {
			if !strings.Contains(test.err.Error(), part) {
				t.Errorf("%T says %q, without %q", test.err, test.err, part)
			}
		}
	}
	for _, err := range []error{&history.ReadOnlyError{Cause: cause}, &history.UnwritableError{Cause: cause}} {
		if !errors.Is(err, cause) {
			t.Errorf("the cause of %T is lost", err)
		}
	}
}

func TestEpochIsWrittenInHexadecimal(t *testing.T) {
	epoch := history.Epoch{0x01, 0xab, 15: 0xff}
	if got, want := epoch.String(), "01ab"+strings.Repeat("00", 13)+"ff"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

func TestTextsOfAKey(t *testing.T) {
	texts := []string{"tread", "", "a\x00b", "\x00\xff", "ab"}
	k := history.Key("").Byte('W')
	for _, s := range texts {
		k = k.Text(s)
	}
	if got := k.Texts(1); !slices.Equal(got, texts) {
		t.Errorf("%q", got)
	}
}
