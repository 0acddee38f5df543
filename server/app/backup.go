package app

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
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

func backupCommand() *cobra.Command {
	var at place
	cmd := &cobra.Command{
		Use:   "backup FILE",
		Short: "Make a backup of a book in one file, also while it is served",
		Long: `Make a backup of the book in a folder: every shop as it is when the backup
begins, in one file with checksums, with its photos. The server may go on
serving meanwhile; it is asked on this machine, by whoever may read the folder.

What was erased from the book before is not in the file. What was erased later
is still in it: remove backups that are older than you may keep.

FILE must not be there yet; it has its name only once it is whole.`,
		Example: "  gaugebook backup --store book book-monday.backup",
		Args:    one("FILE to write"),
		RunE: func(cmd *cobra.Command, args []string) error {
			ctx, stop := signal.NotifyContext(cmd.Context(), os.Interrupt, syscall.SIGTERM)
			defer stop()
			if _, err := os.Lstat(args[0]); err == nil {
				return inputError{fmt.Errorf("%s is there already: a backup is not written over anything", args[0])}
			}
			from, err := backupOf(ctx, at)
			if err != nil {
				return err
			}
			defer func() { _ = from.Close() }()
			defer context.AfterFunc(ctx, func() { _ = from.Close() })()
			head, end, err := keepBackup(from, args[0], cmd.ErrOrStderr())
			if ctx.Err() != nil && err != nil {
				err = errors.New("interrupted before the backup was whole; nothing is left of it")
			}
			if err != nil {
				return err
			}
			sayf(cmd.OutOrStdout(), "%s holds %s, as they were on %s.", args[0], held(end), head.Made.Format("2006-01-02 15:04:05 UTC"))
			return nil
		},
	}
	cmd.Flags().StringVar(&at.dir, "store", "", "folder of the book")
	at.photosFlag(cmd)
	cobra.CheckErr(cmd.MarkFlagRequired("store"))
	return cmd
}

// held says what a backup holds.
func held(end backup.End) string {
	if end.Photos > 0 {
		return fmt.Sprintf("%s with %s, %s and %s", count(end.Shops, "shop"), count(int(end.Changes), "change"), count(int(end.Rows), "row"), count(int(end.Photos), "photo"))
	}
	return fmt.Sprintf("%s with %s and %s", count(end.Shops, "shop"), count(int(end.Changes), "change"), count(int(end.Rows), "row"))
}

// backupOf gives a backup of the book in a folder as it is made: by the server that has
// it open, or else here.
func backupOf(ctx context.Context, at place) (io.ReadCloser, error) {
	store, err := openToRead(at.dir)
	if _, inUse := errors.AsType[*badger.InUseError](err); inUse {
		return askOperator(at.dir)
	}
	if err != nil {
		return nil, err
	}
	ctx, end := context.WithCancel(ctx)
	out, in := io.Pipe()
	made := make(chan struct{})
	go func() {
		defer close(made)
		_, err := backup.Write(ctx, in, store, backup.About{
			Program: Version, Made: time.Now(), Photos: allPhotos(ctx, photos.At(at.photosDir()), book.New(store, nil, time.Now)),
		})
		_ = in.CloseWithError(errors.Join(err, store.Close())) // nil: the end of the file
	}()
	return &making{out, func() { end(); _ = out.Close(); <-made }}, nil
}

// making is a backup that is made here.
type making struct {
	io.Reader
	end func()
}

func (m *making) Close() error {
	m.end()
	return nil
}

// openToRead opens the book of a folder that nobody has open, to be read alone.
func openToRead(dir string) (*badger.Store, error) {
	store, err := badger.Open(dir, badger.Options{Logger: slog.New(slog.DiscardHandler), ReadOnly: true})
	if _, left := errors.AsType[*badger.LeftOpenError](err); left {
		return nil, fmt.Errorf("%w. Start the server on it once and end it", err)
	}
	if err != nil {
		return nil, err
	}
	return store, nil
}

// keepBackup writes a backup into a file, which has its name only when it is whole and
// safe on disk.
func keepBackup(from io.Reader, name string, errs io.Writer) (head backup.Head, end backup.End, err error) {
	part, err := os.OpenFile(name+".part", os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if errors.Is(err, fs.ErrExist) {
		return head, end, fmt.Errorf("%w: another backup is writing it, or was broken off: then remove it", err)
	}
	if err != nil {
		return head, end, err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.Remove(part.Name()))
		}
	}()
	if head, end, err = receive(io.TeeReader(from, part), errs); err == nil {
		err = part.Sync()
	}
	if err = errors.Join(err, part.Close()); err != nil {
		return head, end, err
	}
	if err := os.Rename(part.Name(), name); err != nil {
		return head, end, err
	}
	return head, end, syncFolder(filepath.Dir(name))
}

// receive reads a backup to its end and holds it to its checksums.
func receive(from io.Reader, errs io.Writer) (backup.Head, backup.End, error) {
	r, err := backup.NewReader(from)
	if err != nil {
		return backup.Head{}, backup.End{}, err
	}
	bar := newProgress(errs, []history.Number{history.Number(r.Head.Changes())})
	defer bar.end()
	end, err := r.To(&watched{Loader: &backup.Nothing{}, bar: bar})
	return r.Head, end, err
}

// watched shows how far loading has come: by changes, then by rows of each shop, of
// which nobody knows before how many there are.
type watched struct {
	history.Loader
	photo   func(backup.Photo) error // nil: photos are kept nowhere
	bar     *progress
	shop    string
	changes history.Number
	rows    int
}

// Shop begins a shop, see history.Loader.
func (w *watched) Shop(shop history.Loaded) error {
	w.shop = shop.Name
	return w.Loader.Shop(shop)
}

// Changes counts changes, see history.Loader.
func (w *watched) Changes(changes []history.Change) error {
	w.changes += history.Number(len(changes))
	w.bar.at(w.changes)
	return w.Loader.Changes(changes)
}

// Rows counts rows, see history.Loader.
func (w *watched) Rows(rows []history.Row) error {
	w.rows += len(rows)
	w.bar.say(fmt.Sprintf("%s, %s", w.shop, count(w.rows, "row")))
	return w.Loader.Rows(rows)
}

// Photo keeps a photo, see backup.PhotoLoader.
func (w *watched) Photo(p backup.Photo) error {
	if w.photo == nil {
		return nil
	}
	return w.photo(p)
}

// syncFolder sees to it that a name in a folder outlives a power cut.
func syncFolder(name string) error {
	folder, err := os.Open(name)
	if err != nil {
		return err
	}
	return errors.Join(folder.Sync(), folder.Close())
}

func restoreCommand() *cobra.Command {
	var at place
	cmd := &cobra.Command{
		Use:   "restore FILE",
		Short: "Make a book of a backup, in a new folder",
		Long: `Make a book of a backup, in a folder that is empty or not there yet. The backup
is read whole and held to its checksums; of one that is damaged or cut short no
book is made.

Records keep their numbers. The book has a new epoch: a counter that followed
the old one is told so (TOKEN_OTHER_EPOCH), lists again and misses nothing. What
was recorded after the backup was made is not in it: phones that still have it
send it again.`,
		Example: "  gaugebook restore book-monday.backup --store book-again",
		Args:    one("FILE of the backup"),
		RunE: func(cmd *cobra.Command, args []string) error {
			head, end, err := restore(cmd.Context(), args[0], at, cmd.ErrOrStderr())
			if err != nil {
				return err
			}
			sayf(cmd.OutOrStdout(), "%s holds %s, as they were on %s. Counters will list again.", at.dir, held(end), head.Made.Format("2006-01-02 15:04:05 UTC"))
			return nil
		},
	}
	cmd.Flags().StringVar(&at.dir, "store", "", "folder that the book is to have, empty or not there yet")
	at.photosFlag(cmd)
	cobra.CheckErr(cmd.MarkFlagRequired("store"))
	return cmd
}

// restore makes a book of a backup in a folder.
func restore(ctx context.Context, file string, at place, errs io.Writer) (head backup.Head, end backup.End, err error) {
	ctx, stop := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM)
	defer stop()
	r, from, err := openBackup(file)
	if err != nil {
		return head, end, err
	}
	defer func() { _ = from.Close() }()
	defer context.AfterFunc(ctx, func() { _ = from.Close() })()
	album, err := newAlbum(at.photosDir())
	if err != nil {
		return head, end, err
	}
	to, err := badger.Load(at.dir, badger.Options{})
	if err != nil {
		if _, held := errors.AsType[*badger.NotEmptyError](err); held {
			err = inputError{err}
		}
		return head, end, err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, album.Empty())
		}
		err = errors.Join(err, to.Abandon())
	}()
	bar := newProgress(errs, []history.Number{history.Number(r.Head.Changes())})
	defer bar.end()
	end, err = r.To(&watched{Loader: to, bar: bar, photo: func(p backup.Photo) error { return album.Restore(p.Shop, p.Name, p.Content) }})
	if ctx.Err() != nil && err != nil {
		err = errors.New("interrupted before the book was whole; nothing is left of it")
	}
	return r.Head, end, badBackup(file, err)
}

// openBackup opens a file that is to be a backup.
func openBackup(name string) (*backup.Reader, *os.File, error) {
	file, err := os.Open(name)
	if err != nil {
		return nil, nil, err
	}
	r, err := backup.NewReader(file)
	if err != nil {
		return nil, nil, errors.Join(badBackup(name, err), file.Close())
	}
	return r, file, nil
}

// badBackup tells a file that is no whole backup from one that cannot be read.
func badBackup(name string, err error) error {
	_, damaged := errors.AsType[*backup.DamagedError](err)
	_, broken := errors.AsType[*backup.BrokenOffError](err)
	_, format := errors.AsType[*backup.FormatError](err)
	if damaged || broken || format {
		return inputError{fmt.Errorf("%s: %w", name, err)}
	}
	return err
}
