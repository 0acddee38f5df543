package app

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"path/filepath"

	"github.com/spf13/cobra"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/badger"
	"gaugebook.dev/server/history/memory"
	"gaugebook.dev/server/photos"
)

// place is where a book lies, and where it is noted what was acknowledged last.
type place struct {
	dir   string // "": in memory
	state string // "": beside dir
	photo string // folder of the photos, "": beside dir
	new   bool   // the book is to be made
}

func (p *place) stateFlag(cmd *cobra.Command) {
	cmd.Flags().StringVar(&p.state, "state-dir", "", "folder where it is noted what was acknowledged last, best on another disk;\nwithout it FOLDER.state beside the book")
}

func (p *place) photosFlag(cmd *cobra.Command) {
	cmd.Flags().StringVar(&p.photo, "photos", "", "folder of the photos; without it FOLDER.photos beside the book")
}

func (p *place) flags(cmd *cobra.Command) {
	p.bookFlags(cmd)
	p.photosFlag(cmd)
}

// bookFlags are those of the book alone.
func (p *place) bookFlags(cmd *cobra.Command) {
	cmd.Flags().StringVar(&p.dir, "store", "", "folder of the book; empty keeps it in memory and loses it at the end")
	cmd.Flags().BoolVar(&p.new, "new", false, "make a new book in the folder, which is empty or is not there")
	p.stateFlag(cmd)
}

// photosDir is where the photos lie.
func (p *place) photosDir() string {
	if p.photo != "" {
		return p.photo
	}
	return filepath.Clean(p.dir) + ".photos"
}

// openPhotos opens the folder of the photos: of a book in memory one that goes with it.
func (p *place) openPhotos() (*photos.Folder, error) {
	if p.dir == "" {
		return photos.OpenTemporary()
	}
	return photos.Open(p.photosDir())
}

// stateDir is where it is noted what was acknowledged.
func (p *place) stateDir() string {
	if p.state != "" {
		return p.state
	}
	return filepath.Clean(p.dir) + ".state"
}

// check refuses a folder where the book is to be made and is, or is to be and is not:
// a folder that was mistyped, or a disk that is not there, is no reason to begin anew.
func (p *place) check() error {
	if p.dir == "" {
		if p.new || p.state != "" || p.photo != "" {
			return inputError{errors.New("--new, --state-dir and --photos go with --store")}
		}
		return nil
	}
	there, err := badger.Exists(p.dir)
	switch {
	case err != nil:
		return err
	case p.new && there:
		return inputError{fmt.Errorf("there is a book in %s already: leave --new out", p.dir)}
	case !p.new && !there:
		return inputError{fmt.Errorf("there is no book in %s: with --new one is made there", p.dir)}
	}
	return nil
}

// open opens the book.
func (p *place) open(log *slog.Logger) (history.Store, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	if p.dir == "" {
		return memory.New(), nil
	}
	store, err := badger.Open(p.dir, badger.Options{Logger: log, StateDir: p.stateDir(), New: p.new})
	if err != nil {
		return nil, p.told(err)
	}
	if err := book.CheckFormat(context.Background(), store); err != nil {
		return nil, errors.Join(fmt.Errorf("%s: %w", p.dir, err), store.Close())
	}
	return store, nil
}

// told adds to a damage the command that goes on without what is missing.
func (p *place) told(err error) error {
	if foreign, ok := errors.AsType[*badger.ForeignError](err); ok {
		return inputError{foreign}
	}
	damage, ok := errors.AsType[*badger.DamageError](err)
	if !ok {
		return err
	}
	state := ""
	if p.state != "" {
		state = " --state-dir " + p.state
	}
	return fmt.Errorf("%w\nTo go on without it:\n  gaugebook accept-loss --store %s%s %s", err, p.dir, state, damage.Code)
}
