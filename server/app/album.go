package app

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/history/backup"
	"gaugebook.dev/server/photos"
)

// allPhotos gives a backup the photos of a folder, nil: none. Of a book, nil: not known, it
// gives those that are kept, and none that was erased and lies there still.
func allPhotos(ctx context.Context, album *photos.Folder, of *book.Book) func(func(backup.Photo) error) error {
	if album == nil {
		return nil
	}
	return func(each func(backup.Photo) error) error {
		return album.Each(ctx, func(shop, name string) error {
			if of != nil {
				if is, err := of.Photo(ctx, shop, name); err != nil || is.Kept == nil {
					return err
				}
			}
			content, err := album.Whole(shop, name)
			if errors.Is(err, fs.ErrNotExist) {
				return nil // it was erased meanwhile
			}
			if err != nil {
				return err
			}
			return each(backup.Photo{Shop: shop, Name: name, Content: content})
		})
	}
}

// newAlbum is a folder into which photos are restored: it is empty, or not there.
func newAlbum(dir string) (*photos.Folder, error) {
	inside, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	if len(inside) > 0 {
		return nil, inputError{fmt.Errorf("the folder %s of the photos is not empty: photos are restored into a folder of their own", dir)}
	}
	return photos.At(dir), nil
}

// photos holds the photos of a shop to what is recorded of them.
func (v *verification) photos(ctx context.Context, b *book.Book, shop string) error {
	return b.EachPhoto(ctx, shop, func(name string, p book.Photo) error {
		v.seen++
		is, err := v.album.Hash(shop, name)
		what := ""
		switch {
		case errors.Is(err, fs.ErrNotExist):
			what = "the copy of the photo is not in its place; it is taken again from a phone that has it"
		case err != nil:
			what = fmt.Sprintf("the copy of the photo cannot be read: %v", err)
		case is != p.Kept.GetSha256():
			what = "the copy of the photo holds other bytes than were kept"
		}
		if what != "" {
			v.left++
			v.bar.clear()
			sayf(v.out, "%s", sentence(shop, book.Failure{Record: name, What: what}))
		}
		return nil
	})
}
