package app

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"os/signal"
	"slices"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"
	"google.golang.org/protobuf/encoding/protojson"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/rulebook"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/badger"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/report"
	"gaugebook.dev/server/shoprules"
	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/words"
)

func rejudgeCommand() *cobra.Command {
	var dir, since, rulesFile string
	var shops []string
	var by reader
	var server remote
	r := &rejudging{judge: judge.For(judge.NoneOwn), tally: report.NewTally()}
	cmd := &cobra.Command{
		Use:   "rejudge",
		Short: "Judge the kept visits of a book anew, and print what differs",
		Long: `Judge every kept visit of a book anew, by the engine and the rulebooks of this
program or by a rulebook of your choice, vehicle by vehicle on all cores, and
print which answers differ, in what, and a summary. What was answered then stays
as it is. With --store the folder is read, which no server may have open
meanwhile. With --server the running server does it, by its own engine, for
one shop and a token of its counter.

With --json one object a line: for each visit that differs shopId,
inspectionId, vehicleId, kept (KeptInspection, with the answer of then), now
(ReassessInspectionResponse) and otherParts (what differs beside the findings);
for one that cannot be judged problem instead; in the end summary.

Exit status: 0 all were judged, whether or not they differ; 2 there is no such
shop or rulebook; 1 a visit could not be judged, the book could not be read or
the answer not be written, or it was interrupted.`,
		Example: "  gaugebook rejudge --store book\n  gaugebook rejudge --store book --shop shop-1 --rulebook us-light@1 --since 2026-01-01",
		Args:    none,
		RunE: func(cmd *cobra.Command, _ []string) error {
			ctx, stop := signal.NotifyContext(cmd.Context(), os.Interrupt, syscall.SIGTERM)
			defer stop()
			defer context.AfterFunc(ctx, stop)() // a second signal ends the process at once
			if err := r.ask(by, since); err != nil {
				return inputError{err}
			}
			r.out, r.errs = cmd.OutOrStdout(), cmd.ErrOrStderr()
			if server.addr != "" {
				return r.onServer(ctx, server, shops)
			}
			if rulesFile != "" {
				own, err := shoprules.Open(rulesFile, slog.New(slog.DiscardHandler))
				if err != nil {
					return rulesError(err)
				}
				r.judge = judge.For(own.Of)
			}
			return r.inFolder(ctx, dir, shops)
		},
	}
	cmd.Flags().StringVar(&dir, "store", "", "folder of the book")
	cmd.Flags().StringArrayVar(&shops, "shop", nil, "judge the visits of this shop (repeatable); of all shops where none is named")
	cmd.Flags().StringVar(&r.rulebook, "rulebook", "", "judge by this rulebook, us-light or us-light@1, instead of choosing by the vehicle's use")
	cmd.Flags().StringVar(&rulesFile, "rules", "", "file of shops' own rules, as serve takes it; without it the law alone is judged by")
	cmd.Flags().StringVar(&since, "since", "", "leave out the visits of days before this one (2026-11-24)")
	cmd.Flags().BoolVar(&r.asJSON, "json", false, "print one JSON object a line")
	by.flags(cmd)
	cmd.Flags().StringVar(&server.addr, "server", "", "address of the gRPC door of the server that keeps the book, instead of --store")
	cmd.Flags().StringVar(&server.tokenFile, "token", "", "file that holds a counter's token, for --server")
	cmd.MarkFlagsOneRequired("store", "server")
	cmd.MarkFlagsMutuallyExclusive("store", "server")
	cmd.MarkFlagsMutuallyExclusive("rules", "server")
	cmd.MarkFlagsRequiredTogether("server", "token")
	return cmd
}

// rejudging is one run over a book.
type rejudging struct {
	rulebook string // to judge by; "": chosen by the vehicle's use
	by       *pb.JudgeBy
	since    *pb.CalendarDate
	reader   *pb.Reader
	asJSON   bool
	judge    book.Judge

	out, errs io.Writer
	book      *book.Book
	teller    *tell.Teller // to who reads the shop's visits
	bar       *progress
	tally     *report.Tally
}

// ask takes what the command line asks for.
func (r *rejudging) ask(by reader, since string) error {
	if name := r.rulebook; name != "" {
		if _, ok := rulebook.Get(name); !ok {
			return noRulebook(name)
		}
		r.by = &pb.JudgeBy{RulebookIds: []string{name}}
	}
	if since != "" {
		var err error
		if r.since, err = parseDay(since); err != nil {
			return fmt.Errorf("--since %w", err)
		}
	}
	r.reader = &pb.Reader{}
	return by.apply(r.reader)
}

// inFolder opens the book of a folder to be read alone and judges its shops.
func (r *rejudging) inFolder(ctx context.Context, dir string, shops []string) (err error) {
	at := place{dir: dir}
	store, err := badger.Open(dir, badger.Options{Logger: slog.New(slog.DiscardHandler), StateDir: at.stateDir(), ReadOnly: true})
	if _, inUse := errors.AsType[*badger.InUseError](err); inUse {
		return fmt.Errorf("%w. End the server that keeps it, or ask it with --server", err)
	}
	if _, left := errors.AsType[*badger.LeftOpenError](err); left {
		return fmt.Errorf("%w. Start the server on it once and end it", err)
	}
	if err != nil {
		return at.told(err)
	}
	defer func() { err = errors.Join(err, store.Close()) }()
	return r.all(ctx, store, shops)
}

// all judges the shops that are named, or all there are, and sums up.
func (r *rejudging) all(ctx context.Context, store history.Store, asked []string) error {
	shops, err := store.Shops(ctx)
	if err != nil {
		return err
	}
	for _, shop := range asked {
		if !slices.Contains(shops, shop) {
			return inputError{fmt.Errorf("there is no shop %q in this book; there are %s", shop, strings.Join(shops, ", "))}
		}
	}
	if len(asked) > 0 {
		shops = slices.Compact(slices.Sorted(slices.Values(asked)))
	}
	lengths := make([]history.Number, len(shops))
	for i, shop := range shops {
		if lengths[i], err = length(ctx, store, shop); err != nil {
			return err
		}
	}
	r.book, r.bar = book.New(store, r.judge, time.Now), newProgress(r.errs, lengths)
	for i, shop := range shops {
		if err = r.shop(ctx, shop); err != nil {
			break
		}
		r.bar.past(lengths[i])
	}
	r.bar.end()
	if ctx.Err() != nil {
		err = errors.New("interrupted before every visit was judged")
	}
	return errors.Join(err, r.sum(err == nil))
}

// length is how many entries the book of a shop has.
func length(ctx context.Context, store history.Store, shop string) (history.Number, error) {
	snap, err := store.Snapshot(ctx, shop)
	if err != nil {
		return 0, err
	}
	defer snap.Close()
	return snap.Last(ctx)
}

// shop judges the visits of one shop.
func (r *rejudging) shop(ctx context.Context, shop string) error {
	settings, err := r.book.GetShop(ctx, shop)
	if err != nil {
		return err
	}
	reads := tell.Shop{Language: settings.GetLanguage(), Units: settings.GetUnits()}
	r.teller = tell.For(ofReport(r.reader, reads), reads)
	sayUntold(r.errs, r.teller.Told())
	n := history.Number(0)
	err = r.book.ReassessBook(ctx, shop, r.since, r.by, func(a book.Again) error {
		n++
		r.bar.at(n)
		if a.Reassessed != nil {
			a.Now.Told = r.teller.Told()
		}
		return r.tell(shop, a, r.words)
	})
	if ctx.Err() != nil {
		return ctx.Err()
	}
	return err
}

// words tells what a visit meant and means to who reads the shop's visits.
func (r *rejudging) words(a *book.Reassessed) {
	r.teller.Assessment(a.Kept.GetAssessment(), a.Kept.FrontRear)
	r.teller.Assessment(a.Now.GetAssessment(), a.FrontRear)
}

// tell counts one visit and prints it where there is something to say.
func (r *rejudging) tell(shop string, visit book.Again, words func(*book.Reassessed)) error {
	if problem := visit.Problem; problem != nil {
		r.tally.Fail()
		r.bar.clear()
		if r.asJSON {
			return r.line(visitLine{Shop: shop, Inspection: visit.ID, Vehicle: visit.Vehicle, Problem: problem.Error()})
		}
		sayf(r.errs, "shop %s, visit %s of vehicle %s cannot be judged anew: %v", shop, visit.ID, visit.Vehicle, problem)
		return nil
	}
	reassessed, then := visit.Reassessed, visit.Kept.GetAssessment()
	r.tally.Add(then, reassessed.Now, reassessed.Differs())
	if !reassessed.Differs() {
		return nil
	}
	words(reassessed)
	r.bar.clear()
	if !r.asJSON {
		return report.Difference(r.out, heading(shop, reassessed), then, reassessed.Now, reassessed.OtherParts)
	}
	kept, err := protojson.Marshal(reassessed.Kept.KeptInspection)
	if err != nil {
		return err
	}
	now, err := protojson.Marshal(reassessed.Now)
	if err != nil {
		return err
	}
	return r.line(visitLine{Shop: shop, Inspection: visit.ID, Vehicle: visit.Vehicle, Tag: reassessed.Tag, Kept: kept, Now: now, OtherParts: reassessed.OtherParts})
}

// heading names a visit: its day, its vehicle, its shop and its id.
func heading(shop string, a *book.Reassessed) string {
	teller, _ := words.Reader{Language: a.Now.GetTold().GetLanguage()}.Tellers()
	vehicle := a.Tag
	if vehicle == "" {
		vehicle = a.Kept.GetInspection().GetVehicleId()
	}
	text := fmt.Sprintf("%04d-%02d-%02d, %s, %s, %s %s", a.Day.GetYear(), a.Day.GetMonth(), a.Day.GetDay(), vehicle, shop, teller.Text(words.Labels, "reassess.visit"), a.Kept.GetInspection().GetId())
	if a.Kept.GetReplacedBy() != "" {
		text += ", " + teller.Text(words.Labels, "reassess.corrected")
	}
	return text
}

// visitLine is a visit as a line of JSON.
type visitLine struct {
	Shop       string          `json:"shopId"`
	Inspection string          `json:"inspectionId"`
	Vehicle    string          `json:"vehicleId"`
	Tag        string          `json:"tag,omitempty"`
	Kept       json.RawMessage `json:"kept,omitempty"`
	Now        json.RawMessage `json:"now,omitempty"`
	OtherParts []string        `json:"otherParts,omitempty"`
	Problem    string          `json:"problem,omitempty"`
}

func (r *rejudging) line(v any) error {
	var line bytes.Buffer
	e := json.NewEncoder(&line)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return err
	}
	_, err := r.out.Write(escaped(line.Bytes()))
	return err
}

// sum prints the summary. Where all went to its end, visits that could not be
// judged are the error.
func (r *rejudging) sum(whole bool) error {
	s := r.tally.Summary()
	var err error
	if r.asJSON {
		err = r.line(map[string]report.Summary{"summary": s})
	} else {
		err = r.tally.Write(r.out, r.reader.GetLanguage())
	}
	if err == nil && whole && s.Failed > 0 {
		err = fmt.Errorf("%s could not be judged anew", count(s.Failed, "visit"))
	}
	return err
}
