package app

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/backup"
	"gaugebook.dev/server/history/badger"
	"gaugebook.dev/server/photos"
)

func salvageCommand() *cobra.Command {
	var at place
	cmd := &cobra.Command{
		Use:   "salvage FILE",
		Short: "Read what is sound of a damaged book into a backup",
		Long: `Read all that is sound of the book in a folder, which may be damaged and which
no server may have open, into a backup. Nothing in the folder is changed. What
is damaged is told first. In place of changes that are lost the backup has
empty ones, so that numbers stay as they were.

Restore the backup into a new folder, then verify it with --rebuild: what is
left to be told then is lost, and stands in an earlier backup only.`,
		Example: "  gaugebook salvage --store book salvaged.backup",
		Args:    one("FILE to write"),
		RunE: func(cmd *cobra.Command, args []string) error {
			ctx, stop := signal.NotifyContext(cmd.Context(), os.Interrupt, syscall.SIGTERM)
			defer stop()
			if _, err := os.Lstat(args[0]); err == nil {
				return inputError{fmt.Errorf("%s is there already: a backup is not written over anything", args[0])}
			}
			err := salvage(ctx, at, args[0], cmd.OutOrStdout(), cmd.ErrOrStderr())
			if ctx.Err() != nil && err != nil {
				err = errors.New("interrupted before all was read; nothing is left of the backup")
			}
			return err
		},
	}
	cmd.Flags().StringVar(&at.dir, "store", "", "folder of the book")
	at.photosFlag(cmd)
	cobra.CheckErr(cmd.MarkFlagRequired("store"))
	return cmd
}

// salvage writes what is sound of the book in a folder into a file, by way of a folder
// beside that.
func salvage(ctx context.Context, at place, file string, out, errs io.Writer) (err error) {
	gathered, err := os.MkdirTemp(filepath.Dir(file), filepath.Base(file)+".salvaged-")
	if err != nil {
		return err
	}
	found, err := badger.Salvage(at.dir, gathered)
	if err != nil {
		return errors.Join(err, os.RemoveAll(gathered))
	}
	defer func() { err = errors.Join(err, found.Close()) }()
	for _, d := range found.Damages {
		sayf(out, "%s", d)
	}
	erased := &book.Erasures{}
	if _, err := found.Copy(ctx, erased, nil, book.LostEntry); err != nil {
		return err
	}
	lost := uint64(0)
	pipe, in := io.Pipe()
	made := make(chan struct{})
	go func() {
		defer close(made)
		about := backup.About{Program: Version, Made: time.Now(), Photos: allPhotos(ctx, photos.At(at.photosDir()), nil)}
		_, err := backup.Make(in, found.Epoch, about, func(to history.Loader, observe func(history.Loaded)) (err error) {
			lost, err = found.Copy(ctx, erased.Without(to), observe, book.LostEntry)
			return err
		})
		_ = in.CloseWithError(err) // nil: the end of the file
	}()
	defer func() { _ = pipe.Close(); <-made }()
	_, end, err := keepBackup(pipe, file, errs)
	if err != nil {
		return err
	}
	sayf(out, "%s holds what is sound: %s. %s lost.", file, held(end), areIs(lost, "change"))
	return nil
}

// areIs counts what is, or are.
func areIs(n uint64, what string) string {
	if n == 1 {
		return "1 " + what + " is"
	}
	return fmt.Sprintf("%d %ss are", n, what)
}
