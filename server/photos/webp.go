package photos

import (
	"encoding/binary"
)

// Flags of the chunk VP8X (RFC 9649, section 2.7, figure 7).
const (
	webpICC       = 0x20
	webpAlpha     = 0x10
	webpEXIF      = 0x08
	webpAnimation = 0x02
)

// webpCopy is a WebP file that is copied.
type webpCopy struct {
	extended                  []byte // content of VP8X
	profile, alpha, picture   []byte // chunks
	about                     About
	orientation               uint16
	canvasWidth, canvasHeight int
	pictureWidth, pictureHigh int
}

// cleanWebP copies of a WebP file (RFC 9649, section 2) the picture, its transparency and
// color profile, and which side is up.
func cleanWebP(sent []byte) ([]byte, About, error) {
	c := &webpCopy{}
	size := uint64(binary.LittleEndian.Uint32(sent[4:]))
	if size < 4 || size+8 > uint64(len(sent)) {
		return nil, c.about, bad("the WebP file ends before its picture does")
	}
	if behind := sent[size+8:]; len(behind) > 0 {
		c.about.removed(behind)
	}
	for rest := sent[sniffed : size+8]; len(rest) > 0; {
		if len(rest) < 8 {
			return nil, c.about, bad("the WebP file ends before its picture does")
		}
		n := uint64(binary.LittleEndian.Uint32(rest[4:]))
		if n > uint64(len(rest)-8) {
			return nil, c.about, bad("the WebP file ends before its picture does")
		}
		if err := c.chunk(string(rest[:4]), rest[8:n+8]); err != nil {
			return nil, c.about, err
		}
		rest = rest[min(n+n%2+8, uint64(len(rest))):]
	}
	if c.picture == nil {
		return nil, c.about, bad("a WebP file without a picture")
	}
	if c.extended != nil && (c.canvasWidth != c.pictureWidth || c.canvasHeight != c.pictureHigh) {
		return nil, c.about, bad("the WebP file tells two sizes of its picture")
	}
	return c.whole(), c.about, nil
}

// chunk takes one chunk.
func (c *webpCopy) chunk(name string, content []byte) error {
	switch name {
	case "VP8X":
		return c.header(content)
	case "VP8 ", "VP8L":
		if c.picture != nil {
			return bad("the WebP file holds two pictures")
		}
		if err := c.bitstream(name, content); err != nil {
			return err
		}
		c.picture = appendChunk(nil, name, content)
	case "ALPH":
		c.alpha = appendChunk(nil, name, content)
	case "ICCP":
		c.profile = appendChunk(nil, name, content)
	case "EXIF":
		if len(content) > len(exifBegin) && string(content[:len(exifBegin)]) == exifBegin { // some write it as in JPEG
			content = content[len(exifBegin):]
		}
		c.orientation = c.about.removedEXIF(content)
	default:
		c.about.removed(content)
	}
	return nil
}

// header takes what extends the file (2.7).
func (c *webpCopy) header(b []byte) error {
	if len(b) != 10 || c.extended != nil || c.picture != nil {
		return bad("the WebP file has no header that can be read")
	}
	if b[0]&webpAnimation != 0 {
		return bad("a WebP file that moves")
	}
	uint24 := func(b []byte) int { return int(b[0]) | int(b[1])<<8 | int(b[2])<<16 }
	c.extended, c.canvasWidth, c.canvasHeight = b, 1+uint24(b[4:]), 1+uint24(b[7:])
	return badSize(c.canvasWidth, c.canvasHeight)
}

// bitstream reads the size of a picture: that of a key frame (RFC 6386, section 9.1), or
// without loss (RFC 9649, section 3.4).
func (c *webpCopy) bitstream(name string, b []byte) error {
	switch {
	case name == "VP8 " && len(b) > 10 && b[0]&1 == 0 && string(b[3:6]) == "\x9d\x01\x2a":
		const bits = 1<<14 - 1 // above them stands how it is to be scaled
		c.pictureWidth = int(binary.LittleEndian.Uint16(b[6:]) & bits)
		c.pictureHigh = int(binary.LittleEndian.Uint16(b[8:]) & bits)
	case name == "VP8L" && len(b) > 5 && b[0] == 0x2f && b[4]>>5 == 0:
		v := binary.LittleEndian.Uint32(b[1:])
		c.pictureWidth, c.pictureHigh = 1+int(v&0x3fff), 1+int(v>>14&0x3fff)
	default:
		return bad("the WebP file has no picture that can be read")
	}
	c.about.Width, c.about.Height = c.pictureWidth, c.pictureHigh
	return badSize(c.pictureWidth, c.pictureHigh)
}

// whole is the copy.
func (c *webpCopy) whole() []byte {
	tiff := onlyOrientation(c.orientation)
	body := []byte("WEBP")
	if c.extended != nil {
		flags := c.extended[0] & webpAlpha
		if c.profile != nil {
			flags |= webpICC
		}
		if tiff != nil {
			flags |= webpEXIF
		}
		body = appendChunk(body, "VP8X", append([]byte{flags, 0, 0, 0}, c.extended[4:]...))
		body = append(append(body, c.profile...), c.alpha...)
	}
	body = append(body, c.picture...)
	if c.extended != nil && tiff != nil {
		body = appendChunk(body, "EXIF", tiff)
	}
	out := binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(body)))
	return append(out, body...)
}

func appendChunk(to []byte, name string, content []byte) []byte {
	to = binary.LittleEndian.AppendUint32(append(to, name...), uint32(len(content)))
	to = append(to, content...)
	if len(content)%2 == 1 {
		to = append(to, 0)
	}
	return to
}
