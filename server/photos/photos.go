// Package photos keeps the photos of shops as files: it takes them in pieces that may
// be repeated, looks at what they are, and keeps of each a clean copy.
//
// What a sender says of a photo is not believed. Its type is read from its bytes, and its
// structure is gone through whole; pixels are never decoded. The copy that is kept is
// written anew of those parts alone that show the picture: what tells where, when or by
// whom it was taken, comments, previews and whatever lies behind its end are not in it.
// So a file that is a photo and something else as well is kept as a photo alone.
package photos

import (
	"bytes"
	"fmt"
)

// Limits of a photo.
const (
	// MaxBytes is the size in bytes of the largest photo that is taken.
	MaxBytes = 16 << 20

	// MaxSide is the most pixels that one side has: those of the largest WebP picture
	// (RFC 9649, section 2.7).
	MaxSide = 16_383

	// MaxPixels is the most pixels in all, 67 million. Four bytes each are what it takes
	// to show a picture: a small file that claims more is made to exhaust who opens it.
	MaxPixels = 1 << 26
)

// About says what a photo is that was looked at.
type About struct {
	MediaType       string // "image/jpeg", "image/png" or "image/webp" (RFC 2046; W3C PNG, 3rd edition; RFC 9649)
	Width, Height   int    // in pixels, as they lie in the file
	MetadataRemoved bool   // it held something else than the picture
	LocationRemoved bool   // a position on Earth was among that
}

// BadError says why bytes are no photo that is kept.
type BadError struct {
	Problem string // what is wrong
	Want    string // what would be right
}

// Error gives both.
func (e *BadError) Error() string { return e.Problem + "; " + e.Want }

func bad(format string, args ...any) error {
	return &BadError{fmt.Sprintf(format, args...), "a whole JPEG, PNG or WebP picture"}
}

// badSize refuses dimensions; it is asked before anything of a picture's content is read.
func badSize(width, height int) error {
	if width < 1 || height < 1 {
		return bad("a picture of %d by %d pixels", width, height)
	}
	if width > MaxSide || height > MaxSide || width*height > MaxPixels {
		return &BadError{
			fmt.Sprintf("a picture of %d by %d pixels is too large", width, height),
			fmt.Sprintf("at most %d pixels a side and %d in all", MaxSide, MaxPixels),
		}
	}
	return nil
}

// sniffed is how many bytes tell the type of a file.
const sniffed = 12

// cleaners clean each type, by how its files begin.
var cleaners = []struct {
	mediaType string
	begins    func([]byte) bool
	clean     func([]byte) ([]byte, About, error)
}{
	{"image/jpeg", func(b []byte) bool { return bytes.HasPrefix(b, []byte("\xff\xd8\xff")) }, cleanJPEG},
	{"image/png", func(b []byte) bool { return bytes.HasPrefix(b, []byte(pngSignature)) }, cleanPNG},
	{"image/webp", func(b []byte) bool {
		return len(b) >= sniffed && string(b[:4]) == "RIFF" && string(b[8:sniffed]) == "WEBP"
	}, cleanWebP},
}

// TypeOf is the media type that the first bytes of a file tell, or "" for none that is
// kept. 12 bytes are enough.
func TypeOf(begin []byte) string {
	for _, c := range cleaners {
		if c.begins(begin) {
			return c.mediaType
		}
	}
	return ""
}

// Clean gives the copy of a photo that is kept. Errors: *BadError.
func Clean(sent []byte) (kept []byte, about About, err error) {
	for _, c := range cleaners {
		if c.begins(sent) {
			kept, about, err = c.clean(sent)
			about.MediaType = c.mediaType
			return kept, about, err
		}
	}
	return nil, About{}, bad("neither JPEG nor PNG nor WebP")
}
