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
	r := &rejudging{judge: judge.For(judge.NoneOwn), tally: report.NewTally()}
	cmd := &cobra.Command{
		Use:   "rejudge",
		Short: "Judge the kept visits of a book anew, and print what differs",
		Long: `Judge every kept visit of a book anew, by the engine and the rulebooks of this
program or by a rulebook of your choice, in the order in which they were
recorded, and print which answers differ, in what, and a summary. What was
answered then stays as it is: the folder is only read. No server may have it
open meanwhile.

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
			if rulesFile != "" {
				own, err := shoprules.Open(rulesFile, slog.New(slog.DiscardHandler))
				if err != nil {
					return rulesError(err)
				}
				r.judge = judge.For(own.Of)
			}
			r.out, r.errs = cmd.OutOrStdout(), cmd.ErrOrStderr()
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
	cobra.CheckErr(cmd.MarkFlagRequired("store"))
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
	store, err := badger.Open(dir, badger.Options{Logger: slog.New(slog.DiscardHandler), ReadOnly: true})
	if _, inUse := errors.AsType[*badger.InUseError](err); inUse {
		return fmt.Errorf("%w. End the server that keeps it, or ask it with ReassessInspection", err)
	}
	if _, left := errors.AsType[*badger.LeftOpenError](err); left {
		return fmt.Errorf("%w. Start the server on it once and end it", err)
	}
	if err != nil {
		return err
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

// shop judges the visits of one shop, one at a time.
func (r *rejudging) shop(ctx context.Context, shop string) error {
	settings, err := r.book.GetShop(ctx, shop)
	if err != nil {
		return err
	}
	reads := tell.Shop{Language: settings.GetLanguage(), Units: settings.GetUnits()}
	r.teller = tell.For(ofReport(r.reader, reads), reads)
	for visit, err := range r.book.Visits(ctx, shop) {
		if err != nil {
			return err
		}
		reassessed, err := r.visit(ctx, shop, visit.ID)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err := r.tell(shop, visit, reassessed, err); err != nil {
			return err
		}
		r.bar.at(visit.Number)
	}
	return nil
}

// visit reassesses one visit. A judgement that panics is a problem of that visit.
func (r *rejudging) visit(ctx context.Context, shop, visit string) (reassessed *book.Reassessed, err error) {
	defer func() {
		if p := recover(); p != nil {
			reassessed, err = nil, fmt.Errorf("the judgement panicked: %v", p)
		}
	}()
	return r.book.Reassess(ctx, shop, visit, r.since, r.by)
}

// tell counts one visit and prints it where there is something to say.
func (r *rejudging) tell(shop string, visit book.Visit, reassessed *book.Reassessed, problem error) error {
	switch {
	case problem != nil:
		r.tally.Fail()
		r.bar.clear()
		if r.asJSON {
			return r.line(visitLine{Shop: shop, Inspection: visit.ID, Vehicle: visit.Vehicle, Problem: problem.Error()})
		}
		sayf(r.errs, "shop %s, visit %s of vehicle %s cannot be judged anew: %v", shop, visit.ID, visit.Vehicle, problem)
		return nil
	case reassessed == nil:
		return nil // of an earlier day
	}
	then := reassessed.Kept.GetAssessment()
	reassessed.Now.Told = r.teller.Told()
	r.tally.Add(then, reassessed.Now, reassessed.Differs())
	if !reassessed.Differs() {
		return nil
	}
	r.bar.clear()
	r.teller.Assessment(then, reassessed.Kept.FrontRear)
	r.teller.Assessment(reassessed.Now.GetAssessment(), reassessed.FrontRear)
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
