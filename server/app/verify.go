package app

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/badger"
	"gaugebook.dev/server/photos"
)

func verifyCommand() *cobra.Command {
	var at place
	var file string
	v := &verification{}
	cmd := &cobra.Command{
		Use:   "verify",
		Short: "Read all of a book, or of a backup, and tell what in it is not as it should be",
		Long: `Read all of the book in a folder, which no server may have open meanwhile, or of
a backup: every change and record, and what was made of each vehicle, which is
worked out again from what was recorded. Each failure is told in a sentence,
with the shop, the vehicle and the record. Each photo is held to its hash. A
backup is held to its checksums and, to be read so, restored into a folder
beside it, which is removed again.

With --rebuild, lists and what was made of vehicles are written anew where they
are not as they should be. What was recorded is never changed.

Exit status: 0 all is as it should be, or is so now; 1 something is not, or
could not be read; 2 the backup is damaged, or the call is wrong.`,
		Example: "  gaugebook verify --store book\n  gaugebook verify --backup book-monday.backup",
		Args:    none,
		RunE: func(cmd *cobra.Command, _ []string) error {
			ctx, stop := signal.NotifyContext(cmd.Context(), os.Interrupt, syscall.SIGTERM)
			defer stop()
			if v.rebuild && file != "" {
				return inputError{errors.New("--rebuild goes with --store: restore the backup first")}
			}
			v.out, v.errs = cmd.OutOrStdout(), cmd.ErrOrStderr()
			err := v.of(ctx, at, file)
			if ctx.Err() != nil && err != nil {
				err = errors.New("interrupted before all was read")
			}
			return err
		},
	}
	cmd.Flags().StringVar(&at.dir, "store", "", "folder of the book")
	at.photosFlag(cmd)
	cmd.Flags().StringVar(&file, "backup", "", "file of the backup, instead of --store")
	cmd.Flags().BoolVar(&v.rebuild, "rebuild", false, "write anew what follows from records and is not as it should be")
	cmd.MarkFlagsOneRequired("store", "backup")
	cmd.MarkFlagsMutuallyExclusive("store", "backup")
	return cmd
}

// verification is one run over a book.
type verification struct {
	rebuild   bool
	out, errs io.Writer
	bar       *progress
	sum       book.Verified
	left      int // failures that were not set right
	album     *photos.Folder
	seen      int // photos
}

// of verifies the book of a folder, or of a backup.
func (v *verification) of(ctx context.Context, at place, file string) (err error) {
	if file != "" {
		beside, err := os.MkdirTemp(filepath.Dir(file), filepath.Base(file)+".verified-")
		if err != nil {
			return err
		}
		defer func() { _ = os.RemoveAll(beside) }()
		at = place{dir: filepath.Join(beside, "book")}
		if _, _, err := restore(ctx, file, at, v.errs); err != nil {
			return err
		}
	}
	v.album = photos.At(at.photosDir())
	store, err := v.open(at.dir)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, store.Close()) }()
	return v.store(ctx, store)
}

func (v *verification) open(dir string) (*badger.Store, error) {
	store, err := openToRead(dir)
	if err == nil && v.rebuild {
		if err := store.Close(); err != nil {
			return nil, err
		}
		store, err = badger.Open(dir, badger.Options{Logger: slog.New(slog.DiscardHandler)})
	}
	if _, inUse := errors.AsType[*badger.InUseError](err); inUse {
		return nil, fmt.Errorf("%w. End the server that keeps it, or verify a backup, which it gives while it serves", err)
	}
	if err != nil {
		return nil, err
	}
	if err := book.CheckFormat(context.Background(), store); err != nil {
		return nil, errors.Join(err, store.Close())
	}
	return store, nil
}

// store verifies a book: shop by shop, and where rows were written anew once more.
func (v *verification) store(ctx context.Context, store history.Store) error {
	shops, err := store.Shops(ctx)
	if err != nil {
		return err
	}
	lengths := make([]history.Number, len(shops))
	for i, shop := range shops {
		if lengths[i], err = length(ctx, store, shop); err != nil {
			return err
		}
		lengths[i] *= 2 // for the feed, and for the vehicles that it tells of
	}
	v.bar = newProgress(v.errs, lengths)
	defer v.bar.end()
	b := book.New(store, nil, time.Now)
	for i, shop := range shops {
		if err := v.shop(ctx, b, shop); err != nil {
			return err
		}
		if err := v.photos(ctx, b, shop); err != nil {
			return err
		}
		v.bar.past(lengths[i])
	}
	v.bar.end()
	return v.told(len(shops))
}

// shop verifies one shop.
func (v *verification) shop(ctx context.Context, b *book.Book, shop string) error {
	n, left := history.Number(0), v.left
	step := func() {
		n++
		v.bar.at(n)
	}
	failed := func(f book.Failure) {
		if !f.Rebuilt {
			v.left++
		}
		v.bar.clear()
		sayf(v.out, "%s", sentence(shop, f))
	}
	sum, err := b.Verify(ctx, shop, v.rebuild, step, failed)
	if err != nil {
		return err
	}
	v.sum.Changes += sum.Changes
	v.sum.Rows += sum.Rows
	v.sum.Vehicles += sum.Vehicles
	v.sum.Rebuilt += sum.Rebuilt
	if sum.Rebuilt == 0 {
		return nil
	}
	v.left = left // what is left is told again
	_, err = b.Verify(ctx, shop, false, nil, failed)
	return err
}

// sentence tells what fails, whose it is first.
func sentence(shop string, f book.Failure) string {
	whose := []string{"shop " + shop}
	if f.Vehicle != "" {
		whose = append(whose, "vehicle "+f.Vehicle)
	}
	if f.Record != "" {
		whose = append(whose, "record "+f.Record)
	}
	text := strings.Join(whose, ", ") + ": " + f.What
	if f.Rebuilt {
		text += "; it was written anew"
	}
	return text + "."
}

// told sums up.
func (v *verification) told(shops int) error {
	read := fmt.Sprintf("%s with %s, %s and %s", count(shops, "shop"), count(v.sum.Vehicles, "vehicle"), count(v.sum.Changes, "change"), count(v.sum.Rows, "row"))
	if v.seen > 0 {
		read += ", and " + count(v.seen, "photo")
	}
	if v.left > 0 {
		return fmt.Errorf("read %s: %s. What follows from records is written anew by verify --rebuild; what was recorded and is lost stands in a backup only", read, count(v.left, "failure"))
	}
	if v.sum.Rebuilt > 0 {
		sayf(v.out, "Read %s: all is as it should be, after %s written anew.", read, count(v.sum.Rebuilt, "row"))
		return nil
	}
	sayf(v.out, "Read %s: all is as it should be.", read)
	return nil
}
