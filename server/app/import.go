package app

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"os/signal"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"gaugebook.dev/gateway/strictjson"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/api"
	"gaugebook.dev/server/book"
	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/badger"
	"gaugebook.dev/server/judge"
)

func importCommand() *cobra.Command {
	var at place
	var shop, rulesFile string
	cmd := &cobra.Command{
		Use:   "import FILE",
		Short: "Take a shop's history into a book, from JSON lines or CSV",
		Long: `Take records of earlier years, or of another program, into a shop's book: from
JSON lines, as export writes them, or from a .csv file of vehicles, tires or
visits. server/app/operate/import.md says what a line and a column hold.

What is imported is history: it is read, and later visits are judged with it,
but nothing of it is open, due or listed as to be done, and no counter is told
of it as of something that happened. What the book holds stays as it is.

A line that cannot be taken is written to FILE.rejects with its number and what
is wrong; all others are taken. Interrupted or killed, the same command goes on
where it was; until it is done, that stands in FILE.progress. A file that is
imported again doubles nothing. No server may have the book open meanwhile.

Exit status: 0 all is taken; 2 lines were rejected, or the call is wrong; 1 it
could not be carried through.`,
		Example: "  gaugebook import --store new-history --new --shop shop-1 testdata/demo/history.jsonl\n  gaugebook import --store new-history --shop shop-1 testdata/demo/history.jsonl",
		Args:    one("FILE to read"),
		RunE: func(cmd *cobra.Command, args []string) error {
			ctx, stop := signal.NotifyContext(cmd.Context(), os.Interrupt, syscall.SIGTERM)
			defer stop()
			if err := history.CheckShop(shop); err != nil {
				return inputError{err}
			}
			limitMemory()
			log := slog.New(slog.DiscardHandler)
			own, err := openRules(ctx, rulesFile, log)
			if err != nil {
				return err
			}
			from, err := openSource(args[0], shop)
			if err != nil {
				return err
			}
			defer func() { _ = from.Close() }()
			store, err := at.open(log)
			if _, inUse := errors.AsType[*badger.InUseError](err); inUse {
				err = fmt.Errorf("%w. End the server that keeps it, and start it again afterwards", err)
			}
			if err != nil {
				return err
			}
			server := api.New(book.New(store, judge.For(own), time.Now), nil, api.About{Version: Version, Epoch: store.Epoch().String()}, log)
			im := &importing{server: server, shop: shop, file: args[0], from: from}
			return errors.Join(im.run(ctx, store.Epoch().String(), cmd.OutOrStdout(), cmd.ErrOrStderr()), store.Close())
		},
	}
	at.bookFlags(cmd)
	cmd.Flags().StringVar(&shop, "shop", "", "the shop")
	cmd.Flags().StringVar(&rulesFile, "rules", "", "file of shops' own rules, as of serve")
	cobra.CheckErr(cmd.MarkFlagRequired("store"))
	cobra.CheckErr(cmd.MarkFlagRequired("shop"))
	return cmd
}

// row is one record of a file, or what keeps it from being one.
type row struct {
	line    int    // where it begins, from 1
	text    string // as it stands there
	record  *rows.Exported
	reasons []string // why it is none
}

// source is a file of records that is read piece by piece.
type source interface {
	io.Closer
	// size is that of the file in bytes.
	size() int64
	// from goes on behind what was read up to a mark.
	from(mark) error
	// next gives the next record and the mark behind it; io.EOF at the end.
	next() (row, mark, error)
}

// mark is how far a file was read.
type mark struct {
	Offset int64 `json:"offset"` // bytes
	Lines  int   `json:"lines"`
}

// Of what is taken together at most: records, and bytes of them.
const (
	importTogether = 100
	importBytes    = strictjson.MaxBytes
)

// importing is one run.
type importing struct {
	server *api.Server
	shop   string
	file   string
	from   source

	done    progressFile
	rejects *os.File
}

// run takes the file into the book, from where an earlier run ended.
func (im *importing) run(ctx context.Context, epoch string, out, errs io.Writer) (err error) {
	if err := im.begin(epoch); err != nil {
		return err
	}
	defer func() { err = errors.Join(err, im.rejects.Close()) }()
	if im.done.Lines > 0 {
		sayf(out, "%s was imported up to line %d; it goes on from there.", im.file, im.done.Lines)
	}
	bar := newProgress(errs, []history.Number{history.Number(im.from.size())})
	defer bar.end()
	for more := true; more; {
		bar.at(history.Number(im.done.Offset))
		if more, err = im.some(ctx); err != nil {
			if ctx.Err() != nil {
				err = fmt.Errorf("interrupted behind line %d of %s: the same command goes on from there", im.done.Lines, im.file)
			}
			return err
		}
	}
	bar.end()
	return im.end(out)
}

// some takes the next records together, and notes how far the file is imported.
func (im *importing) some(ctx context.Context) (more bool, err error) {
	var all []row
	end := im.done.mark
	for size := 0; len(all) < importTogether && size < importBytes; {
		r, behind, err := im.from.next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return false, err
		}
		all, end, more = append(all, r), behind, true
		size += len(r.text)
	}
	if err := im.take(ctx, all); err != nil {
		return false, err
	}
	im.done.mark = end
	return more, im.done.save(im.rejects)
}

// take takes records, and writes those that cannot be taken to the rejects.
func (im *importing) take(ctx context.Context, all []row) error {
	var records []*rows.Exported
	for _, r := range all {
		if len(r.reasons) == 0 {
			records = append(records, r.record)
		}
	}
	answers, err := im.server.Import(ctx, im.shop, records)
	if err != nil {
		return err
	}
	for _, r := range all {
		if len(r.reasons) == 0 {
			a := answers[0]
			answers = answers[1:]
			switch r.reasons = reasonsOf(a.Refused); {
			case a.Refused != nil:
			case a.Repeated:
				im.done.Repeated++
			default:
				im.done.Taken++
			}
		}
		if len(r.reasons) > 0 {
			im.done.Rejected++
			if err := reject(im.rejects, r); err != nil {
				return err
			}
		}
	}
	return nil
}

// reasonsOf is why a record was not taken, a line for each; none where it was.
func reasonsOf(r *pb.Refused) (all []string) {
	for _, f := range r.GetFields() {
		all = append(all, f.GetPath()+": "+f.GetProblem())
	}
	if len(all) == 0 && r != nil {
		all = []string{r.GetMessage()}
	}
	return all
}
