package photos

import (
	"bytes"
	"encoding/binary"
)

// told is what EXIF data tell that matters here.
type told struct {
	orientation uint16 // 1 to 8, 0: not told
	location    bool   // a position is among them
}

// Tags of the first directory (CIPA DC-008, Exif 2.32: 4.6.4, table 4, and 4.6.3).
const (
	tagOrientation = 0x0112
	tagGPS         = 0x8825
)

// readEXIF reads the first directory of EXIF data, which are a TIFF file (TIFF 6.0,
// section 2). What cannot be read tells nothing: it is left out of the copy all the same.
func readEXIF(tiff []byte) (out told) {
	order := binary.ByteOrder(binary.BigEndian)
	switch {
	case len(tiff) < 8:
		return out
	case string(tiff[:4]) == "II*\x00":
		order = binary.LittleEndian
	case string(tiff[:4]) != "MM\x00*":
		return out
	}
	at := uint64(order.Uint32(tiff[4:]))
	if at+2 > uint64(len(tiff)) {
		return out
	}
	entries := tiff[at+2:]
	for range order.Uint16(tiff[at:]) {
		if len(entries) < 12 {
			return out
		}
		kind, count := order.Uint16(entries[2:]), order.Uint32(entries[4:])
		switch order.Uint16(entries) {
		case tagGPS:
			out.location = true
		case tagOrientation:
			if v := order.Uint16(entries[8:]); kind == 3 && count == 1 && v >= 1 && v <= 8 {
				out.orientation = v
			}
		}
		entries = entries[12:]
	}
	return out
}

// onlyOrientation are EXIF data that tell which side is up and nothing else; nil where
// the picture lies as it is shown.
func onlyOrientation(orientation uint16) []byte {
	if orientation < 2 {
		return nil
	}
	b := append([]byte("MM\x00*"), 0, 0, 0, 8, 0, 1) // one entry, at byte 8
	b = binary.BigEndian.AppendUint16(b, tagOrientation)
	b = append(b, 0, 3, 0, 0, 0, 1) // one SHORT
	b = binary.BigEndian.AppendUint16(b, orientation)
	return append(b, 0, 0, 0, 0, 0, 0) // the rest of the value, and no further directory
}

// locationWords are how XMP and other texts tell a position (Exif in XMP: ISO 16684-1 and
// CIPA DC-010; IPTC Core: where it was created).
var locationWords = [][]byte{[]byte("GPSLatitude"), []byte("GPSLongitude"), []byte("GPSPosition"), []byte("LocationCreated"), []byte("LocationShown")}

// tellsLocation tells whether a text names a position.
func tellsLocation(text []byte) bool {
	for _, w := range locationWords {
		if bytes.Contains(text, w) {
			return true
		}
	}
	return false
}

// removed notes what is left out of a copy.
func (a *About) removed(content []byte) {
	a.MetadataRemoved = true
	if tellsLocation(content) {
		a.LocationRemoved = true
	}
}

// removedEXIF notes EXIF data that are left out, and gives which side is up.
func (a *About) removedEXIF(tiff []byte) (orientation uint16) {
	a.MetadataRemoved = true
	exif := readEXIF(tiff)
	if exif.location {
		a.LocationRemoved = true
	}
	return exif.orientation
}
