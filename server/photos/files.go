package photos

import (
	"context"
	"encoding/hex"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"time"

	"gaugebook.dev/server/history"
)

// Each goes through the copies of all shops that are there.
func (f *Folder) Each(ctx context.Context, do func(shop, name string) error) error {
	return f.files(ctx, func(shop, _ string, info fs.FileInfo) error {
		if name := info.Name(); IsName(name) {
			return do(shop, name)
		}
		return nil
	})
}

// isPart tells the name of what has come of a photo, "ABCD....SIZE".
var isPart = regexp.MustCompile(`^[0-9a-f]{64}\.[0-9]+$`).MatchString

// Sweep removes what is of no use: copies that are erased, which erased tells; parts of
// photos of which nothing came for a day; and what a process that was ended was writing. A
// copy that no record names stays: its photo may be sent again, or the book be another's.
// It gives how many files it removed.
func (f *Folder) Sweep(ctx context.Context, now time.Time, erased func(shop, name string) (bool, error)) (removed int, err error) {
	err = f.files(ctx, func(shop, path string, info fs.FileInfo) error {
		name := info.Name()
		var left time.Duration
		switch {
		case IsName(name):
			gone, err := f.Remove(shop, name, func() (bool, error) { return erased(shop, name) })
			if gone {
				removed++
			}
			return err
		case isPart(name):
			name, _, _ = strings.Cut(name, ".")
			left = keepParts
			defer f.turn(shop, name)()
		case strings.HasPrefix(name, newBegin):
			left = settled
		default:
			return nil
		}
		if again, err := os.Stat(path); err != nil || now.Sub(again.ModTime()) < left {
			return nil // it is gone, or was written anew
		}
		removed++
		return written(os.Remove(path))
	})
	return removed, err
}

// files goes through all files of all shops.
func (f *Folder) files(ctx context.Context, do func(shop, path string, info fs.FileInfo) error) error {
	return filepath.WalkDir(f.dir, func(path string, entry fs.DirEntry, err error) error {
		if path == f.dir && errors.Is(err, fs.ErrNotExist) {
			return nil // nothing was kept yet
		}
		if err == nil {
			err = ctx.Err()
		}
		if err != nil || entry.IsDir() {
			return err
		}
		below, err := filepath.Rel(f.dir, path)
		if err != nil {
			return err
		}
		first, _, _ := strings.Cut(filepath.ToSlash(below), "/")
		shop, err := hex.DecodeString(first)
		if err != nil {
			return nil //nolint:nilerr // not a file of ours
		}
		info, err := entry.Info()
		if errors.Is(err, fs.ErrNotExist) {
			return nil // it was removed meanwhile
		}
		if err != nil {
			return err
		}
		return do(string(shop), path, info)
	})
}

// written tells a disk that is full from a folder that cannot be written.
func written(err error) error {
	_, full := errors.AsType[*history.DiskNearlyFullError](err)
	_, cannot := errors.AsType[*history.UnwritableError](err)
	switch {
	case err == nil, full, cannot:
		return err
	case errors.Is(err, syscall.ENOSPC):
		return &history.DiskNearlyFullError{Needed: DefaultMinFree}
	}
	return &history.UnwritableError{Cause: err}
}

// makeFolder makes a folder, and those above it, where they are not there, so that they
// outlive a power cut.
func makeFolder(dir string) error {
	if info, err := os.Stat(dir); err == nil && info.IsDir() {
		return nil
	}
	if above := filepath.Dir(dir); above != dir {
		if err := makeFolder(above); err != nil {
			return err
		}
	}
	if err := os.Mkdir(dir, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	return syncFolder(filepath.Dir(dir))
}
