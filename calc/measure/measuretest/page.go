// Package measuretest helps tests that publish how often answers are right: shares with
// their intervals, and a page of them that a quick run holds and a full run writes.
package measuretest

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"
)

// Share is how many of so many were so.
type Share struct{ Of, All int }

// And is the share with one more counted.
func (s Share) And(so bool) Share {
	if s.All++; so {
		s.Of++
	}
	return s
}

// Percent is the share in percent.
func (s Share) Percent() float64 { return 100 * float64(s.Of) / float64(s.All) }

// Interval is the interval of Clopper and Pearson for the true share, in percent, that
// holds it with at least the confidence.
func (s Share) Interval(confidence float64) (low, high float64) {
	k, n, tail := float64(s.Of), float64(s.All), (1-confidence)/2
	high = 1
	if s.Of > 0 {
		low = distuv.Beta{Alpha: k, Beta: n - k + 1}.Quantile(tail)
	}
	if s.Of < s.All {
		high = distuv.Beta{Alpha: k + 1, Beta: n - k}.Quantile(1 - tail)
	}
	return 100 * low, 100 * high
}

// String is the share with its count and its interval of 95 percent, as a page has it.
func (s Share) String() string {
	low, high := s.Interval(0.95)
	return fmt.Sprintf("%.1f (%d of %d; %.1f to %.1f)", s.Percent(), s.Of, s.All, low, high)
}

var printed = regexp.MustCompile(`\((\d+) of (\d+);`)

// Shares reads the shares of the row of a page that begins with these cells, in their
// order.
func Shares(page string, cells ...string) (all []Share) {
	head := "| " + strings.Join(cells, " | ") + " |"
	for line := range strings.Lines(page) {
		if !strings.HasPrefix(line, head) {
			continue
		}
		for _, m := range printed.FindAllStringSubmatch(line, -1) {
			of, _ := strconv.Atoi(m[1])
			n, _ := strconv.Atoi(m[2])
			all = append(all, Share{of, n})
		}
	}
	return all
}

// Agrees tells that a share of fewer draws may be of the same truth as a published one.
func (s Share) Agrees(published Share) bool {
	low, high := s.Interval(0.99999)
	return low <= published.Percent() && published.Percent() <= high
}

// Part is what stands between the marks of a part of a page; ok is false where it has none.
func Part(page, part string) (stands string, ok bool) {
	_, rest, found := strings.Cut(page, begin(part))
	stands, _, closed := strings.Cut(rest, end(part))
	return stands, found && closed
}

// WithPart is the page with a part written anew, unchanged where it has none.
func WithPart(page, part, anew string) string {
	stands, ok := Part(page, part)
	if !ok {
		return page
	}
	return strings.Replace(page, begin(part)+stands+end(part), begin(part)+anew+end(part), 1)
}

func begin(part string) string { return "<!-- begin " + part + " -->\n" }

func end(part string) string { return "<!-- end " + part + " -->" }
