package photos

import (
	"bytes"
	"encoding/binary"
)

// Markers of JPEG (ITU-T T.81, table B.1).
const (
	mSOF0  = 0xc0 // baseline
	mSOF2  = 0xc2 // progressive
	mDHT   = 0xc4
	mRST0  = 0xd0
	mRST7  = 0xd7
	mSOI   = 0xd8
	mEOI   = 0xd9
	mSOS   = 0xda
	mDQT   = 0xdb
	mDRI   = 0xdd
	mAPP0  = 0xe0
	mAPP1  = 0xe1
	mAPP2  = 0xe2
	mAPP14 = 0xee
)

// jpegCopy is a JPEG file that is copied.
type jpegCopy struct {
	rest        []byte // of what was sent
	body        []byte // of the copy, behind what begins it
	jfif        []byte // segment of APP0
	about       About
	orientation uint16
	scans       int
}

// cleanJPEG copies of a JPEG file (ITU-T T.81, annex B) tables, frame and scans, the
// color profile, and which side is up.
func cleanJPEG(sent []byte) ([]byte, About, error) {
	c := &jpegCopy{rest: sent[2:], body: make([]byte, 0, len(sent)+64)}
	for {
		marker, err := c.marker()
		if err != nil {
			return nil, c.about, err
		}
		if marker == mEOI {
			break
		}
		if err := c.segment(marker); err != nil {
			return nil, c.about, err
		}
	}
	if c.scans == 0 {
		return nil, c.about, bad("a JPEG file without a picture")
	}
	if len(c.rest) > 0 { // further pictures, a film, or another file altogether
		c.about.removed(c.rest)
	}
	out := append([]byte{0xff, mSOI}, c.jfif...)
	if tiff := onlyOrientation(c.orientation); tiff != nil {
		out = appendSegment(out, mAPP1, append([]byte(exifBegin), tiff...))
	}
	return append(append(out, c.body...), 0xff, mEOI), c.about, nil
}

// marker reads the next marker; any number of fill bytes may stand before it (B.1.1.2).
func (c *jpegCopy) marker() (byte, error) {
	if len(c.rest) < 2 {
		return 0, bad("the JPEG file ends before its picture does")
	}
	if c.rest[0] != 0xff {
		return 0, bad("the JPEG file holds bytes between its segments")
	}
	for len(c.rest) > 0 && c.rest[0] == 0xff {
		c.rest = c.rest[1:]
	}
	if len(c.rest) == 0 {
		return 0, bad("the JPEG file ends before its picture does")
	}
	marker := c.rest[0]
	c.rest = c.rest[1:]
	return marker, nil
}

// segment takes one marker segment, and behind that of a scan its data.
func (c *jpegCopy) segment(marker byte) error {
	if len(c.rest) < 2 {
		return bad("the JPEG file ends before its picture does")
	}
	n := int(binary.BigEndian.Uint16(c.rest))
	if n < 2 || n > len(c.rest) {
		return bad("the JPEG file ends before its picture does")
	}
	content := c.rest[2:n]
	c.rest = c.rest[n:]
	switch {
	case marker >= mSOF0 && marker <= mSOF2:
		return c.frame(marker, content)
	case marker == mSOS:
		return c.scan(content)
	case marker == mDHT && wholeHuffman(content), marker == mDQT && wholeQuantization(content), marker == mDRI && len(content) == 2:
		c.body = appendSegment(c.body, marker, content)
		return nil
	case marker >= mAPP0 && marker <= 0xef, marker == 0xfe:
		c.application(marker, content)
		return nil
	}
	return bad("the JPEG file holds a segment %#x that no photo has, or one that is not whole", marker)
}

// frame takes the frame header (B.2.2): one, and before any scan.
func (c *jpegCopy) frame(marker byte, content []byte) error {
	if c.about.Width != 0 || len(content) < 6 || len(content) != 6+3*int(content[5]) || content[5] == 0 || content[5] > 4 {
		return bad("the JPEG file has no frame header that can be read")
	}
	height, width := int(binary.BigEndian.Uint16(content[1:])), int(binary.BigEndian.Uint16(content[3:]))
	if err := badSize(width, height); err != nil {
		return err
	}
	c.about.Width, c.about.Height = width, height
	c.body = appendSegment(c.body, marker, content)
	return nil
}

// scan takes a scan header (B.2.3) and the data behind it, to the next marker that is
// no restart (B.1.1.5).
func (c *jpegCopy) scan(content []byte) error {
	if c.about.Width == 0 || len(content) < 1 || len(content) != 4+2*int(content[0]) {
		return bad("the JPEG file has no scan header that can be read")
	}
	c.scans++
	c.body = appendSegment(c.body, mSOS, content)
	for n := 0; ; n++ {
		k := bytes.IndexByte(c.rest[n:], 0xff)
		if k < 0 || n+k+1 == len(c.rest) {
			return bad("the JPEG file ends before its picture does")
		}
		n += k
		if next := c.rest[n+1]; next == 0 || next >= mRST0 && next <= mRST7 {
			n++
			continue
		} else if next == 0xff {
			continue // a fill byte
		}
		c.body, c.rest = append(c.body, c.rest[:n]...), c.rest[n:]
		return nil
	}
}

// How segments of applications begin: JFIF (ITU-T T.871, 10.1), Exif (CIPA DC-008,
// 4.7.2), a color profile (ICC.1:2022, B.4), and what tells how colors are meant (T.872, 6.5.3).
const (
	jfifBegin  = "JFIF\x00"
	exifBegin  = "Exif\x00\x00"
	iccBegin   = "ICC_PROFILE\x00"
	adobeBegin = "Adobe"
)

// application takes what programs have written: what shows the picture is copied.
func (c *jpegCopy) application(marker byte, content []byte) {
	switch {
	case marker == mAPP0 && len(content) >= 14 && bytes.HasPrefix(content, []byte(jfifBegin)) && c.jfif == nil:
		// A preview may lie behind it: the picture as it was before somebody cut it.
		if len(content) > 14 {
			c.about.removed(nil)
		}
		c.jfif = appendSegment(nil, mAPP0, append(bytes.Clone(content[:12]), 0, 0))
	case marker == mAPP2 && bytes.HasPrefix(content, []byte(iccBegin)),
		marker == mAPP14 && len(content) == 12 && bytes.HasPrefix(content, []byte(adobeBegin)):
		c.body = appendSegment(c.body, marker, content)
	case marker == mAPP1 && bytes.HasPrefix(content, []byte(exifBegin)):
		if o := c.about.removedEXIF(content[len(exifBegin):]); c.orientation == 0 {
			c.orientation = o
		}
	default:
		c.about.removed(content)
	}
}

// wholeHuffman holds tables of codes to their lengths (B.2.4.2).
func wholeHuffman(b []byte) bool {
	for len(b) > 0 {
		if len(b) < 17 {
			return false
		}
		n := 17
		for _, k := range b[1:17] {
			n += int(k)
		}
		if n > len(b) {
			return false
		}
		b = b[n:]
	}
	return true
}

// wholeQuantization holds tables of 64 values, of 8 or 16 bits, to their lengths
// (B.2.4.1).
func wholeQuantization(b []byte) bool {
	for len(b) > 0 {
		n := 1 + 64
		if b[0]>>4 == 1 {
			n += 64
		}
		if n > len(b) {
			return false
		}
		b = b[n:]
	}
	return true
}

func appendSegment(to []byte, marker byte, content []byte) []byte {
	to = append(to, 0xff, marker)
	to = binary.BigEndian.AppendUint16(to, uint16(len(content)+2))
	return append(to, content...)
}
