package app

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"
	"google.golang.org/protobuf/encoding/protojson"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/backup"
	"gaugebook.dev/server/history/badger"
)

func exportCommand() *cobra.Command {
	var dir, shop, table string
	var persons bool
	cmd := &cobra.Command{
		Use:   "export FILE",
		Short: "Write a shop's records as JSON lines or CSV, also while the book is served",
		Long: `Write what was recorded of a shop into a file, one record a line, as JSON:
vehicles, then tires, then visits, moves, repairs, events and outcomes in the
order in which they stand in the book. What is worked out from records, such as
findings and lists, is not in it, nor are photos. server/app/operate/import.md
says what a line holds.

With --table vehicles, tires or visits it is CSV of these alone, with what its
columns hold: of visits that stand the readings as they were read, in the units
in which they were read.

What identifies a customer (plate, name, contact, vehicle identification number,
who decided and who was told) is left out unless --with-customers is told.

A book that is served is read by way of a backup, which is put into a folder
beside FILE meanwhile. FILE must not be there yet; it has its name only once it
is whole.`,
		Example: "  gaugebook export --store book --shop shop-1 shop-1.jsonl\n  gaugebook export --store book --shop shop-1 --with-customers shop-1-whole.jsonl\n  gaugebook export --store book --shop shop-1 --table visits visits.csv",
		Args:    one("FILE to write"),
		RunE: func(cmd *cobra.Command, args []string) error {
			ctx, stop := signal.NotifyContext(cmd.Context(), os.Interrupt, syscall.SIGTERM)
			defer stop()
			if _, err := os.Lstat(args[0]); err == nil {
				return inputError{fmt.Errorf("%s is there already: an export is not written over anything", args[0])}
			}
			as, err := exportAs(table)
			if err != nil {
				return err
			}
			n, err := export(ctx, dir, shop, args[0], persons, as, cmd.ErrOrStderr())
			if ctx.Err() != nil && err != nil {
				err = errors.New("interrupted before all was written; nothing is left of it")
			}
			if err != nil {
				return err
			}
			sayf(cmd.OutOrStdout(), "%s holds %s of %s.", args[0], count(n, "record"), shop)
			return nil
		},
	}
	cmd.Flags().StringVar(&dir, "store", "", "folder of the book")
	cmd.Flags().StringVar(&shop, "shop", "", "the shop")
	cmd.Flags().StringVar(&table, "table", "", "write CSV of vehicles, tires or visits, instead of JSON lines of all")
	cmd.Flags().BoolVar(&persons, "with-customers", false, "write what identifies a customer, too")
	cobra.CheckErr(cmd.MarkFlagRequired("store"))
	cobra.CheckErr(cmd.MarkFlagRequired("shop"))
	return cmd
}

// export writes the records of a shop into a file.
func export(ctx context.Context, dir, shop, file string, persons bool, as format, errs io.Writer) (n int, err error) {
	store, end, err := openToExport(ctx, dir, file)
	if err != nil {
		return 0, err
	}
	defer func() { err = errors.Join(err, end()) }()
	if err := knownShop(ctx, store, shop); err != nil {
		return 0, err
	}
	all, err := length(ctx, store, shop)
	if err != nil {
		return 0, err
	}
	bar := newProgress(errs, []history.Number{all})
	defer bar.end()
	each := func(f func(*rows.Exported) error) error {
		return book.New(store, nil, time.Now).Export(ctx, shop, persons, func(r *rows.Exported) error {
			return errors.Join(ctx.Err(), f(r))
		})
	}
	err = wholeFile(file, func(to io.Writer) error {
		return as(to, each, func() {
			n++
			bar.at(min(history.Number(n), all))
		})
	})
	return n, err
}

// format writes the records that each gives, and tells written of every one.
type format func(to io.Writer, each func(func(*rows.Exported) error) error, written func()) error

// exportAs is the format of a table; "" is all as JSON lines.
func exportAs(table string) (format, error) {
	if table == "" {
		return asLines, nil
	}
	i := slices.IndexFunc(csvKinds, func(k csvKind) bool { return k.columns[0]+"s" == table })
	if i < 0 {
		return nil, inputError{fmt.Errorf("--table %s: there are vehicles, tires and visits", table)}
	}
	return csvKinds[i].write, nil
}

func asLines(to io.Writer, each func(func(*rows.Exported) error) error, written func()) error {
	return each(func(r *rows.Exported) error {
		written()
		return writeLine(to, r)
	})
}

// knownShop refuses a shop of which nothing is recorded.
func knownShop(ctx context.Context, store history.Store, shop string) error {
	shops, err := store.Shops(ctx)
	if err != nil {
		return err
	}
	if slices.Contains(shops, shop) {
		return nil
	}
	return inputError{fmt.Errorf("nothing is recorded of the shop %q; there are %s", shop, strings.Join(shops, ", "))}
}

// openToExport opens the book of a folder to be read. Where a server has it open, a backup
// that it gives is read, in a folder beside the file that is to be written.
func openToExport(ctx context.Context, dir, file string) (history.Store, func() error, error) {
	store, err := openToRead(dir)
	if _, inUse := errors.AsType[*badger.InUseError](err); !inUse {
		if err != nil {
			return nil, nil, err
		}
		if err := book.CheckFormat(ctx, store); err != nil {
			return nil, nil, errors.Join(err, store.Close())
		}
		return store, store.Close, nil
	}
	from, err := askOperator(dir)
	if err != nil {
		return nil, nil, err
	}
	defer func() { _ = from.Close() }()
	defer context.AfterFunc(ctx, func() { _ = from.Close() })()
	beside, err := os.MkdirTemp(filepath.Dir(file), filepath.Base(file)+".read-")
	if err != nil {
		return nil, nil, err
	}
	gone := func() error { return os.RemoveAll(beside) }
	copied := filepath.Join(beside, "book")
	if err := loadBackup(from, copied); err != nil {
		return nil, nil, errors.Join(err, gone())
	}
	if store, err = openToRead(copied); err != nil {
		return nil, nil, errors.Join(err, gone())
	}
	return store, func() error { return errors.Join(store.Close(), gone()) }, nil
}

// loadBackup makes a book of a backup as it is given.
func loadBackup(from io.Reader, dir string) (err error) {
	r, err := backup.NewReader(from)
	if err != nil {
		return err
	}
	to, err := badger.Load(dir, badger.Options{})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, to.Abandon()) }()
	_, err = r.To(to)
	return err
}

// writeLine writes a record as a line.
func writeLine(to io.Writer, r *rows.Exported) error {
	data, err := protojson.Marshal(r)
	if err != nil {
		return err
	}
	var line bytes.Buffer
	if err := json.Compact(&line, data); err != nil { // it has blanks here and there, as it likes
		return err
	}
	line.WriteByte('\n')
	_, err = to.Write(line.Bytes())
	return err
}

// wholeFile writes a file that has its name only when it is whole and safe on disk.
func wholeFile(name string, write func(io.Writer) error) (err error) {
	part, err := os.OpenFile(name+".part", os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%w: another command is writing it, or was broken off: then remove it", err)
	}
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.Remove(part.Name()))
		}
	}()
	to := bufio.NewWriter(part)
	err = write(to)
	if err == nil {
		err = errors.Join(to.Flush(), part.Sync())
	}
	if err = errors.Join(err, part.Close()); err != nil {
		return err
	}
	if err := os.Rename(part.Name(), name); err != nil {
		return err
	}
	return syncFolder(filepath.Dir(name))
}
