package app

import (
	"io"
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"

	"gaugebook.dev/server/history"
)

// progress shows how far a run through the books of shops has come, where a person
// looks: nothing is written to what is no terminal.
type progress struct {
	bar  *progressbar.ProgressBar
	done history.Number // entries of the shops before this one
}

func newProgress(w io.Writer, lengths []history.Number) *progress {
	file, isFile := w.(*os.File)
	return showProgress(w, lengths, isFile && term.IsTerminal(int(file.Fd())))
}

func showProgress(w io.Writer, lengths []history.Number, visible bool) *progress {
	all := int64(0)
	for _, n := range lengths {
		all += int64(n)
	}
	return &progress{bar: progressbar.NewOptions64(max(all, 1),
		progressbar.OptionSetWriter(w), progressbar.OptionSetVisibility(visible), progressbar.OptionSetWidth(40),
		progressbar.OptionThrottle(100*time.Millisecond), progressbar.OptionClearOnFinish(),
	)}
}

// at says that the book of a shop was gone through up to an entry. What a terminal
// does not take is nobody's loss.
func (p *progress) at(n history.Number) { _ = p.bar.Set64(int64(p.done + n)) }

// say writes beside the bar what it does not count.
func (p *progress) say(text string) { p.bar.Describe(text) }

// past says that the whole book of a shop was gone through.
func (p *progress) past(length history.Number) {
	p.at(length)
	p.done += length
}

// clear makes room for a line of text.
func (p *progress) clear() { _ = p.bar.Clear() }

// end takes the bar away.
func (p *progress) end() { p.clear() }
